//! Box labels as cards.

use super::{Card, Section, Sheet, listed};
use crate::{
    lists::{BoxLabel, KeptFor, Warming},
    quantity::{System, write_grams},
    rotation::{Rotation, capital},
};

/// The labels as cards, in the order in which the boxes are put away.
pub fn label_sheet(rotation: &Rotation, labels: &[BoxLabel], system: System) -> Sheet {
    let mut sheet = Sheet::of(rotation, "Box labels");
    let cards = labels.iter().map(|l| card(rotation, l, system)).collect();
    let mut section = Section { cards, ..Section::default() };
    if labels.is_empty() {
        section.lead.push("Nothing is put away: all is eaten on the day of its making.".into());
    }
    sheet.sections.push(section);
    sheet
}

fn card(rotation: &Rotation, label: &BoxLabel, system: System) -> Card {
    let day = |d| rotation.day_name(d);
    let mut lines = vec![
        format!("{}, {} {}", write_grams(label.grams.get(), system), label.holds.since_word(), day(label.since)),
        eat_by(rotation, label),
    ];
    if let Some((last, names)) = &label.tender {
        lines.push(format!("{}: by {}", listed(names), day(*last)));
    }
    match &label.kept_for {
        KeptFor::Meal { slot, eaters } if eaters.is_empty() => lines.push(format!("For {}", rotation.slot_name(*slot))),
        KeptFor::Meal { slot, eaters } => lines.push(format!("For {}, {}", listed(eaters), rotation.slot_name(*slot))),
        KeptFor::Dish { day: on, name } => lines.push(format!("For {name}, {}", day(*on))),
        KeptFor::Open => {}
    }
    let allergens: Vec<String> = label.allergens.iter().map(|a| a.word().to_string()).collect();
    if !allergens.is_empty() {
        lines.push(format!("Contains {}", allergens.join(", ")));
    }
    if label.warming != Warming::Raw {
        lines.push(capital(label.warming.words()));
    }
    Card { title: capital(&label.what), lines }
}

/// "Eat by Thursday 2026-12-03, 14:00; best by Wednesday", the hour where that day is not a whole one.
pub(super) fn eat_by(rotation: &Rotation, label: &BoxLabel) -> String {
    let verb = if matches!(label.holds, crate::lists::Holds::Rest | crate::lists::Holds::Cut) { "Use" } else { "Eat" };
    let date = rotation.date(label.eat_by);
    let mut said = format!("{verb} by {} {date}{}", rotation.weekday(label.eat_by), label.until_words());
    if let Some(nice) = label.nice_by {
        said = format!("{said}; best by {}", rotation.day_name(nice));
    }
    said
}
