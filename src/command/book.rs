//! `tranche book`: the catalogue.

use super::{Answer, EXIT_FAILED, EXIT_GOOD, Failure, Manner, json, misused, text::Table, text::heading, text::sentence};
use crate::{
    book::{Book, Dish, FamilyCoverage, Heat, Kind, Texture, check_book, coverage, entries_without_source, family_name},
    judge::{WholeKeeps, whole_keeping},
    quantity::{System, write_grams, write_units},
    rotation::{Condition, capital},
    store::{EntryId, OwnBook},
};
use serde_json::{Map, Value, json};
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
    /// Prove every reference, range and unit of the catalogue, and show what each family's meals cover
    Check,
}

pub(super) fn book(task: &BookTask, manner: Manner<'_>) -> Result<Answer, Failure> {
    let (own, book) = (manner.shelf.own(), manner.shelf.book()?);
    match task {
        BookTask::List => Ok(Answer { text: list(&book, own, manner), code: EXIT_GOOD }),
        BookTask::Show { id } => show(&book, own, id, manner),
        BookTask::Check => Ok(check(&book, own, manner)),
    }
}

fn is_own_kind(own: &OwnBook, kind: &Kind) -> bool {
    own.has(&EntryId::Kind(kind.id.clone()))
}

fn is_own_dish(own: &OwnBook, dish: &Dish) -> bool {
    own.has(&EntryId::Dish(dish.id.clone()))
}

/// The word that marks the cook's own entries.
fn mark(own: bool) -> String {
    if own { "own" } else { "" }.into()
}

fn list(book: &Book, own: &OwnBook, manner: Manner<'_>) -> String {
    if manner.json {
        let kinds = book.kinds().map(|k| json!({ "id": k.id, "name": k.name, "family": k.family, "own": is_own_kind(own, k) }));
        let dishes = book
            .dishes()
            .map(|d| json!({ "id": d.id, "name": d.name, "role": d.role, "families": d.families, "own": is_own_dish(own, d) }));
        return json::text(&json!({
            "kinds": kinds.collect::<Vec<_>>(), "dishes": dishes.collect::<Vec<_>>(), "not_read": manner.shelf.troubles(),
        }));
    }
    let mut out = String::new();
    heading(&mut out, &capital(&write_units(book.kinds().count(), "kind", "kinds")));
    let mut table = Table::new(&[]);
    for k in book.kinds() {
        table.row([k.id.to_string(), k.name.clone(), family_name(&k.family).into(), mark(is_own_kind(own, k))]);
    }
    table.write(&mut out);
    heading(&mut out, &capital(&write_units(book.dishes().count(), "dish", "dishes")));
    let mut table = Table::new(&[]);
    for d in book.dishes() {
        table.row([d.id.to_string(), d.name.clone(), families(d), mark(is_own_dish(own, d))]);
    }
    table.write(&mut out);
    out
}

fn show(book: &Book, own: &OwnBook, id: &str, manner: Manner<'_>) -> Result<Answer, Failure> {
    let kind = book.kinds().find(|k| k.id.as_str() == id);
    let dish = book.dishes().find(|d| d.id.as_str() == id);
    if kind.is_none() && dish.is_none() {
        let shown: String = id.chars().take(60).flat_map(char::escape_debug).collect();
        return Err(misused(format!("the book has no kind and no dish \"{shown}\"; see tranche book list")));
    }
    if manner.json {
        let is_own = kind.is_some_and(|k| is_own_kind(own, k)) || dish.is_some_and(|d| is_own_dish(own, d));
        let mut value = json!({ "kind": kind.map(|k| &**k), "dish": dish.map(|d| &**d), "own": is_own });
        if let Some(fare) = dish.map(|d| d.fare()) {
            let words: Vec<&str> = fare.contents.substances().into_iter().map(|s| s.word()).collect();
            value["holds"] = json!(words);
            value["unknown_companions"] = json!(fare.unknown);
        }
        if let Some(k) = &kind {
            value["unopened"] = whole_json(k);
        }
        return Ok(Answer { text: json::text(&value), code: EXIT_GOOD });
    }
    let mut out = String::new();
    kind.iter().for_each(|k| write_kind(&mut out, k, is_own_kind(own, k), manner.system));
    dish.iter().for_each(|d| write_dish(&mut out, d, is_own_dish(own, d), manner.system));
    Ok(Answer { text: out, code: EXIT_GOOD })
}

fn write_kind(out: &mut String, k: &Kind, own: bool, system: System) {
    heading(out, &format!("{} ({}{})", capital(&k.name), k.id, own_words(own)));
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
    write_whole(out, k);
    k.hazards.iter().for_each(|h| write_line(out, h));
    let _ = writeln!(out, "  Sources: {}", k.sources.join(", "));
}

/// How long an unopened piece keeps, place by place, in each condition.
pub(super) fn write_whole(out: &mut String, k: &Kind) {
    if k.whole.is_empty() {
        return;
    }
    let by = [Condition::Sound, Condition::Bruised, Condition::Wounded, Condition::SoftSpot].map(|c| whole_keeping(k, c));
    let span = |days: (u16, u16)| if days.0 == days.1 { days.0.to_string() } else { format!("{} to {}", days.0, days.1) };
    let mut table = Table::new(&[1, 2, 3, 4]);
    table.row(["unopened, days".into(), "sound".into(), "bruised".into(), "wounded".into(), "soft spot".into(), String::new()]);
    for (i, sound) in by[0].iter().enumerate() {
        let days = by.each_ref().map(|lines| span(lines[i].days));
        let [sound_days, bruised, wounded, soft] = days;
        table.row([sound.place.into(), sound_days, bruised, wounded, soft, sound.source.into()]);
    }
    table.write(out);
}

/// The same for JSON, by the words of the conditions.
pub(super) fn whole_json(k: &Kind) -> serde_json::Value {
    let conditions = [
        ("sound", Condition::Sound),
        ("bruised", Condition::Bruised),
        ("wounded", Condition::Wounded),
        ("soft-spot", Condition::SoftSpot),
    ];
    let lines = |c| -> Vec<serde_json::Value> {
        let line =
            |w: &WholeKeeps| json!({ "place": w.place, "days": [w.days.0, w.days.1], "source": w.source, "because": w.because });
        whole_keeping(k, c).iter().map(line).collect()
    };
    conditions.into_iter().map(|(word, c)| (word.to_string(), json!(lines(c)))).collect::<serde_json::Map<_, _>>().into()
}

fn own_words(own: bool) -> &'static str {
    if own { ", your own" } else { "" }
}

fn write_dish(out: &mut String, d: &Dish, own: bool, system: System) {
    heading(out, &format!("{} ({}{})", d.name, d.id, own_words(own)));
    let _ = writeln!(out, "  for {}; keeps {}", families(d), d.keeps_safely());
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
    let fare = d.fare();
    let _ = writeln!(out, "  Diet: {}{}", fare.diet.word(), if fare.unknown.is_empty() { "" } else { " at the most" });
    fare.doubt().iter().for_each(|doubt| write_line(out, doubt));
    let held: Vec<&str> = fare.contents.substances().into_iter().map(|s| s.word()).collect();
    if !held.is_empty() {
        let _ = writeln!(out, "  Beside the piece: {}", held.join(", "));
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

fn check(book: &Book, own: &OwnBook, manner: Manner<'_>) -> Answer {
    let faults = check_book(book);
    let not_read = manner.shelf.troubles();
    let code = if faults.is_empty() && not_read.is_empty() { EXIT_GOOD } else { EXIT_FAILED };
    let families = coverage(book);
    if manner.json {
        let faults: Vec<_> = faults.iter().map(|f| json!({ "entry": f.entry, "what": f.what })).collect();
        let by_family = |count: fn(&FamilyCoverage) -> usize| -> Map<String, Value> {
            families.iter().map(|c| (c.family.clone(), json!(count(c)))).collect()
        };
        let value = json!({
            "kinds": book.kinds().count(),
            "dishes": book.dishes().count(),
            "dishes_per_family": by_family(|c| c.dishes),
            "texture_classes_per_family": by_family(FamilyCoverage::textures),
            "entries_without_source": entries_without_source(book),
            "faults": faults,
            "not_read": not_read,
        });
        return Answer { text: json::text(&value), code };
    }
    let mut text = String::new();
    for f in &faults {
        let _ = writeln!(text, "{f}");
    }
    families.iter().for_each(|c| write_coverage(&mut text, c));
    let kinds = write_units(book.kinds().count(), "kind", "kinds");
    let dishes = write_units(book.dishes().count(), "dish", "dishes");
    let said = write_units(faults.len(), "fault", "faults");
    // Standard error has a sentence for each.
    let lost = match not_read.len() {
        0 => String::new(),
        n => format!(", {} not read", write_units(n, "own file", "own files")),
    };
    let mine = match own.entries().count() {
        0 => String::new(),
        n => format!(" ({n} your own)"),
    };
    let _ = writeln!(text, "\n{kinds}, {dishes}{mine}, {said}{lost}");
    Answer { text, code }
}

/// Meals by main texture and heat, an empty cell as a dash, and below it what is missing altogether.
fn write_coverage(out: &mut String, c: &FamilyCoverage) {
    let meals = write_units(c.meals, "meal", "meals");
    heading(out, &format!("{}: {meals} of {}", capital(&c.family), write_units(c.textures(), "texture", "textures")));
    let mut table = Table::new(&[1, 2, 3, 4]);
    let row = |first: &str, cell: &dyn Fn(Heat) -> String| {
        let [chilled, room, warm, hot] = [Heat::Chilled, Heat::Room, Heat::Warm, Heat::Hot].map(cell);
        [first.to_string(), chilled, room, warm, hot]
    };
    table.row(row("", &|h| h.word().to_string()));
    for texture in Texture::ALL {
        table.row(row(texture.word(), &|h| match c.at(*texture, h) {
            0 => "\u{2013}".to_string(),
            count => count.to_string(),
        }));
    }
    table.write(out);
    let textures = c.bare_textures().into_iter().map(Texture::word);
    let heats = c.bare_heats().into_iter().map(Heat::word);
    let holes: Vec<&str> = textures.chain(heats).collect();
    let _ = match holes[..] {
        [] => writeln!(out, "  No holes"),
        _ => writeln!(out, "  No meal is: {}", holes.join(", ")),
    };
}
