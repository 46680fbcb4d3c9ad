//! `tranche template`: the shape of a rotation, and laying it on another piece.

use super::{
    Answer, EXIT_FAILED, EXIT_GOOD, Failure, Manner, json, misused,
    text::{Table, heading},
};
use crate::{
    book::{Book, Kind},
    quantity::{AsBought, Grams, Units, read_date, read_grams, said_in, write_grams, write_units},
    rotation::{Eater, EaterId, Fit, FitOutcome, Household, Rotation, Template, fit},
    store::{Places, StoreError, load_household, read_rotation, read_template, save_rotation, save_template},
};
use jiff::{ZonedDateTime, civil::Date};
use serde_json::{Value, json};
use std::{
    fmt::Write as _,
    path::{Path, PathBuf},
    sync::Arc,
};

#[derive(clap::Subcommand)]
pub(super) enum TemplateTask {
    /// Write down the shape of a rotation
    Make {
        /// The rotation
        file: PathBuf,
        /// Where the shape goes
        #[arg(short, long, value_name = "TEMPLATE")]
        output: PathBuf,
        /// Write over a file that is there
        #[arg(long)]
        force: bool,
    },
    /// Lay a shape on another piece
    Fit {
        /// The shape
        template: PathBuf,
        /// The kind of the piece: its id or name, as `book list` gives it
        #[arg(long)]
        kind: String,
        /// Its mass as bought: 1300, 1.3kg, "2 lb 5 oz"
        #[arg(long, allow_hyphen_values = true)]
        grams: String,
        /// The date of day 1, YYYY-MM-DD; without it today
        #[arg(long, value_name = "DATE", value_parser = read_date)]
        first_day: Option<Date>,
        /// A rotation whose household eats; without it the one that was kept, or else one adult
        #[arg(long, value_name = "ROTATION")]
        household: Option<PathBuf>,
        /// Where the rotation goes; without it none is written
        #[arg(short, long, value_name = "ROTATION")]
        output: Option<PathBuf>,
        /// Write over a file that is there
        #[arg(long)]
        force: bool,
    },
}

pub(super) fn template(task: &TemplateTask, manner: Manner<'_>) -> Result<Answer, Failure> {
    match task {
        TemplateTask::Make { file, output, force } => make(file, output, *force, manner),
        TemplateTask::Fit { template, kind, grams, first_day, household, output, force } => {
            let shape = read_template(template)?;
            let book = manner.shelf.book()?;
            let kind = kind_named(&book, kind)?;
            let mass = mass(grams, &kind, manner)?;
            let eaters = household_of(household.as_deref())?;
            // The one clock that a command looks at, and only where nobody says the day.
            let first_day = first_day.unwrap_or_else(|| ZonedDateTime::now().date());
            if let Some(out) = output {
                may_write(out, *force)?;
            }
            let laid = fit(&shape, &book, kind, mass, eaters, first_day);
            let laid = laid.map_err(|e| Failure { sentence: said_in(&e.what, manner.system).into(), code: EXIT_FAILED })?;
            if let Some(out) = output {
                save_rotation(out, &laid.rotation)?;
            }
            let text = if manner.json { json::text(&fit_json(&laid)) } else { fit_text(&shape, &laid, manner) };
            Ok(Answer { text, code: EXIT_GOOD })
        }
    }
}

/// Refuses to write over a file that nobody said may go.
pub(super) fn may_write(path: &Path, force: bool) -> Result<(), Failure> {
    // A link that leads nowhere is a name that is taken, too.
    if !force && path.symlink_metadata().is_ok() {
        return Err(StoreError::AlreadyThere { path: path.into() }.into());
    }
    Ok(())
}

fn make(file: &Path, output: &Path, force: bool, manner: Manner<'_>) -> Result<Answer, Failure> {
    let shape = Template::of(&read_rotation(file)?.rotation);
    may_write(output, force)?;
    save_template(output, &shape)?;
    let text = if manner.json { json::text(&shape_json(&shape)) } else { shape_text(&shape) };
    Ok(Answer { text, code: EXIT_GOOD })
}

fn kind_named(book: &Book, named: &str) -> Result<Arc<Kind>, Failure> {
    let wanted = named.trim().to_lowercase();
    if let Some(kind) = book.kinds().find(|k| k.id.as_str() == wanted || k.name.to_lowercase() == wanted) {
        return Ok(kind.clone());
    }
    let known: Vec<&str> = book.kinds().map(|k| k.id.as_str()).collect();
    let shown: String = named.chars().take(60).flat_map(char::escape_debug).collect();
    Err(misused(format!("the book has no kind \"{shown}\"; it has {}", known.join(", "))))
}

fn mass(typed: &str, kind: &Kind, manner: Manner<'_>) -> Result<Grams<AsBought>, Failure> {
    let grams = read_grams(typed, manner.system, kind.cup).map_err(|e| misused(format!("--grams: {e}")))?;
    match Grams::new(grams) {
        Ok(mass) if !mass.is_zero() => Ok(mass),
        Ok(_) => Err(misused("--grams: the piece must weigh something".into())),
        Err(e) => Err(misused(format!("--grams: {e}"))),
    }
}

fn household_of(file: Option<&Path>) -> Result<Household, Failure> {
    if let Some(file) = file {
        return Ok(read_rotation(file)?.rotation.household);
    }
    let kept = Places::of_this_machine().ok().and_then(|places| load_household(&places).0);
    Ok(kept.filter(|h| !h.eaters.is_empty()).unwrap_or_else(|| Household {
        eaters: vec![Eater {
            id: EaterId(1),
            name: "Cook".into(),
            units: Units::ADULT,
            guest: false,
            allergies: Vec::new(),
            diet: Default::default(),
            dislikes: Vec::new(),
            care: Vec::new(),
        }],
    }))
}

fn shape_text(shape: &Template) -> String {
    let mut out = format!("The shape of {}, made from {}\n", shape.name, shape.made_from.name);
    heading(&mut out, "Batches");
    let mut table = Table::new(&[0, 3]);
    for b in &shape.batches {
        let times = shape.slots_of(b.number).len();
        let eaten = if times == 0 { "made ahead".into() } else { format!("for {}", write_units(times, "meal", "meals")) };
        let share = format!("{}.{}\u{a0}%", b.share.get() / 10, b.share.get() % 10);
        table.row([b.number.to_string(), b.day.to_string(), b.words(), share, eaten]);
    }
    table.write(&mut out);
    out
}

fn shape_json(shape: &Template) -> Value {
    let batches = shape.batches.iter().map(|b| {
        json!({
            "number": b.number, "day": b.day.0, "role": b.role, "texture": b.texture.map(|t| t.word()),
            "family": b.family.map(|f| f.word()), "method": b.method.map(|m| m.word()), "heat": b.heat.map(|h| h.word()),
            "dish": b.dish, "share": b.share.get(),
            "from": b.from.iter().map(|l| json!({ "batch": l.batch, "share": l.share.get() })).collect::<Vec<_>>(),
        })
    });
    let slots =
        shape.slots.iter().map(|s| json!({ "day": s.day.0, "mealtime": s.mealtime.0, "batch": s.batch, "share": s.share.get() }));
    json!({
        "name": shape.name, "made_from": shape.made_from.kind, "days": shape.days,
        "batches": batches.collect::<Vec<_>>(), "slots": slots.collect::<Vec<_>>(),
    })
}

/// The dish's name of each outcome, its word, and why.
fn outcome<'f>(laid: &'f Fit, outcome: &'f FitOutcome) -> (&'static str, &'f str, &'f str) {
    let name = |id| laid.rotation.dishes.get(id).map_or("", |d| d.name.as_str());
    match outcome {
        FitOutcome::Kept { dish } => ("kept", name(dish), ""),
        FitOutcome::Swapped { dish, why } => ("swapped", name(dish), why),
        FitOutcome::Impossible { why } => ("impossible", "", why),
    }
}

fn grams_of(r: &Rotation, s: &crate::rotation::SlotFit) -> Option<u32> {
    let served = |slot| r.meal(slot).serving(s.batch).map(|s| s.portion.get());
    s.slot.map_or_else(|| r.batch(s.batch).map(|b| b.pool().get()), served)
}

fn fit_text(shape: &Template, laid: &Fit, manner: Manner<'_>) -> String {
    let r = &laid.rotation;
    let mass = write_grams(r.piece.mass.get(), manner.system);
    let mut out = format!("{} laid on {}, {mass} as bought\n", shape.name, r.kind.name);
    heading(&mut out, "Meals");
    let mut table = Table::new(&[3]);
    for s in &laid.slots {
        let place = s.slot.map_or_else(|| format!("{}, ahead", r.day_name(s.day)), |slot| r.slot_name(slot));
        let (word, dish, why) = outcome(laid, &s.outcome);
        let grams = grams_of(r, s).map(|g| write_grams(g, manner.system)).unwrap_or_default();
        table.row([place, word.into(), dish.into(), grams, said_in(why, manner.system).into()]);
    }
    table.write(&mut out);
    let free: i64 = r.piece.parts.iter().map(|p| r.free_in_part(&p.part)).sum();
    let free = u32::try_from(free).unwrap_or(0);
    let _ = writeln!(out, "\n{} of the piece is free", write_grams(free, manner.system));
    out
}

fn fit_json(laid: &Fit) -> Value {
    let r = &laid.rotation;
    let slots = laid.slots.iter().map(|s| {
        let (word, dish, why) = outcome(laid, &s.outcome);
        json!({
            "meal": s.slot.map(|slot| r.slot_name(slot)), "day": s.day.0, "batch": s.batch.0, "outcome": word,
            "dish": (!dish.is_empty()).then_some(dish), "why": (!why.is_empty()).then_some(why), "grams": grams_of(r, s),
        })
    });
    let free: i64 = r.piece.parts.iter().map(|p| r.free_in_part(&p.part)).sum();
    json!({ "kind": r.kind.id, "slots": slots.collect::<Vec<_>>(), "unallocated_g": free })
}
