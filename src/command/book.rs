//! `tranche book`: the catalogue.

use super::{Answer, EXIT_FAILED, EXIT_GOOD, Failure, Manner, json, misused, text::Table, text::heading, text::sentence};
use crate::{
    book::{Book, Dish, Kind, check_book, family_name},
    quantity::{System, write_grams, write_units},
    rotation::capital,
};
use serde_json::json;
use std::fmt::Write as _;

#[derive(clap::Subcommand)]
pub(super) enum BookTask {
    /// List every kind and dish
    List,
    /// Show a kind or a dish whole
    Show {
        /// Its id, as `book list` gives it
        id: String,
    },
    /// Prove every reference, range and unit of the catalogue
    Check,
}

pub(super) fn book(task: &BookTask, manner: Manner) -> Result<Answer, Failure> {
    let book = Book::shipped()?;
    match task {
        BookTask::List => Ok(Answer { text: list(&book, manner), code: EXIT_GOOD }),
        BookTask::Show { id } => show(&book, id, manner),
        BookTask::Check => Ok(check(&book, manner)),
    }
}

fn list(book: &Book, manner: Manner) -> String {
    if manner.json {
        let kinds = book.kinds().map(|k| json!({ "id": k.id, "name": k.name, "family": k.family }));
        let dishes = book.dishes().map(|d| json!({ "id": d.id, "name": d.name, "role": d.role, "families": d.families }));
        return json::text(&json!({ "kinds": kinds.collect::<Vec<_>>(), "dishes": dishes.collect::<Vec<_>>() }));
    }
    let mut out = String::new();
    heading(&mut out, &capital(&write_units(book.kinds().count(), "kind", "kinds")));
    let mut table = Table::new(&[]);
    for k in book.kinds() {
        table.row([k.id.to_string(), k.name.clone(), family_name(&k.family).into()]);
    }
    table.write(&mut out);
    heading(&mut out, &capital(&write_units(book.dishes().count(), "dish", "dishes")));
    let mut table = Table::new(&[]);
    for d in book.dishes() {
        table.row([d.id.to_string(), d.name.clone(), families(d)]);
    }
    table.write(&mut out);
    out
}

fn show(book: &Book, id: &str, manner: Manner) -> Result<Answer, Failure> {
    let kind = book.kinds().find(|k| k.id.as_str() == id);
    let dish = book.dishes().find(|d| d.id.as_str() == id);
    if kind.is_none() && dish.is_none() {
        let shown: String = id.chars().take(60).flat_map(char::escape_debug).collect();
        return Err(misused(format!("the book has no kind and no dish \"{shown}\"; see tranche book list")));
    }
    if manner.json {
        let value = json!({ "kind": kind.map(|k| &**k), "dish": dish.map(|d| &**d) });
        return Ok(Answer { text: json::text(&value), code: EXIT_GOOD });
    }
    let mut out = String::new();
    kind.iter().for_each(|k| write_kind(&mut out, k, manner.system));
    dish.iter().for_each(|d| write_dish(&mut out, d, manner.system));
    Ok(Answer { text: out, code: EXIT_GOOD })
}

fn write_kind(out: &mut String, k: &Kind, system: System) {
    heading(out, &format!("{} ({})", capital(&k.name), k.id));
    let (least, typical, most) = k.mass;
    let grams = |g| write_grams(g, system);
    let _ = writeln!(out, "  family {}; {} to {}, mostly {}", family_name(&k.family), grams(least), grams(most), grams(typical));
    let _ = writeln!(out, "  the clock starts when it is {}; cooked it keeps {}", k.clock_starts, k.cooked_days);
    let mut table = Table::new(&[1]);
    for t in &k.trim {
        table.row([t.name.clone(), share(t.share.get()), "trim".into(), String::new()]);
    }
    for p in &k.parts {
        let raw = if k.is_cooked_whole() { String::new() } else { format!("keeps {} raw", p.raw_days) };
        table.row([p.name.clone(), share(p.share.get()), raw, p.suits.clone()]);
    }
    table.write(out);
    k.hazards.iter().for_each(|h| write_line(out, h));
    let _ = writeln!(out, "  Sources: {}", k.sources.join(", "));
}

fn write_dish(out: &mut String, d: &Dish, system: System) {
    heading(out, &format!("{} ({})", d.name, d.id));
    let _ = writeln!(out, "  for {}; keeps {}", families(d), d.keeps);
    let words = [
        d.profile.main_texture().map(|t| t.word()),
        d.profile.main_family().map(|f| f.word()),
        d.profile.main_method().map(|m| m.word()),
        d.profile.heat.map(|h| h.word()),
        d.profile.form.map(|f| f.word()),
        d.profile.protein.map(|p| p.word()),
        d.profile.starch.map(|s| s.word()),
    ];
    let words: Vec<&str> = words.into_iter().flatten().collect();
    if !words.is_empty() {
        let _ = writeln!(out, "  {}", words.join(", "));
    }
    let (least, typical, most) = d.grams;
    if most > 0 {
        let grams = |g| write_grams(g, system);
        let _ = writeln!(
            out,
            "  {} {} for an adult, from {} to {}; yield {}",
            grams(typical),
            d.state.word(),
            grams(least),
            grams(most),
            share(d.yields.get())
        );
    }
    if !d.allergens.is_empty() {
        let words: Vec<&str> = d.allergens.iter().map(|a| a.word()).collect();
        let _ = writeln!(out, "  Allergens: {}", words.join(", "));
    }
    for c in &d.companions {
        let _ = writeln!(out, "  {}{} {} for an adult", c.per_unit, c.measure.sign(), c.name);
    }
    for (i, step) in d.steps.iter().enumerate() {
        let _ = writeln!(out, "  {}. {} ({} min)", i + 1, step.text, step.minutes);
    }
    d.cautions.iter().for_each(|c| write_line(out, &c.text));
    let _ = writeln!(out, "  Sources: {}", d.sources.join(", "));
}

/// The families of a dish, by the names that a cook gives them.
fn families(d: &Dish) -> String {
    d.families.iter().map(|f| family_name(f)).collect::<Vec<_>>().join(", ")
}

fn write_line(out: &mut String, text: &str) {
    let _ = writeln!(out, "  {}", sentence(text));
}

/// "11.7 %".
fn share(per_mille: u16) -> String {
    format!("{}.{}\u{a0}%", per_mille / 10, per_mille % 10)
}

fn check(book: &Book, manner: Manner) -> Answer {
    let faults = check_book(book);
    let code = if faults.is_empty() { EXIT_GOOD } else { EXIT_FAILED };
    if manner.json {
        let faults: Vec<_> = faults.iter().map(|f| json!({ "entry": f.entry, "what": f.what })).collect();
        return Answer { text: json::text(&json!({ "faults": faults })), code };
    }
    let mut text = String::new();
    for f in &faults {
        let _ = writeln!(text, "{f}");
    }
    let kinds = write_units(book.kinds().count(), "kind", "kinds");
    let dishes = write_units(book.dishes().count(), "dish", "dishes");
    let said = write_units(faults.len(), "fault", "faults");
    let _ = writeln!(text, "{kinds}, {dishes}, {said}");
    Answer { text, code }
}
