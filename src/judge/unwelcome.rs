//! Dishes that somebody did not want again, or not soon: what was said at the table is remembered.

use super::{
    Code, Finding, Severity,
    plates::{PlateKind, Plates},
    variety::Whom,
    words::listed,
};
use crate::rotation::{EatenMeal, EaterId, Heard, Rotation, Slot};
use jiff::{Unit, civil::Date};
use std::collections::BTreeMap;

/// "Not soon" holds for so many days: six weeks (common practice, no source).
pub const NOT_SOON_DAYS: i32 = 42;

/// What an eater said of a dish that keeps it off the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Refusal {
    /// The day on which it was said.
    pub on: Date,
    /// Whether it holds for good; else for [`NOT_SOON_DAYS`].
    pub for_good: bool,
}

/// What one eater last said of a dish before a day, where that still keeps it off the table. A later kind word lifts it;
/// eaten without a word lifts nothing.
///
/// `slot` in the journal is told apart by day and mealtime: what was said of this very meal does not count against it.
pub fn refusal(eaten: &[EatenMeal], eater: &str, is_dish: impl Fn(&EatenMeal) -> bool, at: (Date, &str)) -> Option<Refusal> {
    let before = |m: &&EatenMeal| m.on < at.0 || (m.on == at.0 && m.mealtime != at.1);
    let said = eaten.iter().filter(before).filter(|m| m.heard.is_some() && is_dish(m) && m.eaten_by(eater));
    // The last of one day counts: `max_by_key` gives the last of equals.
    let last = said.max_by_key(|m| m.on)?;
    match last.heard {
        Some(Heard::NotAgain) => Some(Refusal { on: last.on, for_good: true }),
        Some(Heard::NotSoon) => {
            let days = last.on.until((Unit::Day, at.0)).map_or(i32::MAX, |s| s.get_days());
            (days <= NOT_SOON_DAYS).then_some(Refusal { on: last.on, for_good: false })
        }
        _ => None,
    }
}

/// A warning for each dish that somebody never wanted again, a caution where it is only too soon.
pub(super) fn unwelcome(rotation: &Rotation, plates: &Plates<'_>, eaten: &[EatenMeal]) -> Vec<Finding> {
    if !eaten.iter().any(|m| matches!(m.heard, Some(Heard::NotSoon | Heard::NotAgain))) {
        return Vec::new();
    }
    // By meal and dish: everybody who refused it, with when.
    let mut refused: BTreeMap<(Slot, usize, usize), Vec<(EaterId, Refusal)>> = BTreeMap::new();
    for (who, list) in &plates.lists {
        for plate in list.iter().filter(|p| !p.is_past()) {
            let kind = &plates.kinds[plate.kind];
            let at = (rotation.date(plate.slot.day), rotation.mealtime_name(plate.slot.mealtime));
            for id in who {
                let Some(eater) = rotation.household.eater(*id) else { continue };
                if let Some(refusal) = refusal(eaten, &eater.name, |m| is_kind(m, kind), at) {
                    refused.entry((plate.slot, plate.order, plate.kind)).or_default().push((*id, refusal));
                }
            }
        }
    }
    let findings = refused.into_iter().map(|((slot, order, kind), who)| {
        let kind = &plates.kinds[kind];
        let said: Vec<String> = who
            .iter()
            .map(|(id, r)| {
                let words = if r.for_good { Heard::NotAgain.words() } else { Heard::NotSoon.words() };
                format!("{} said \u{201c}{words}\u{201d} on {}", rotation.household.name(*id), r.on)
            })
            .collect();
        let said: Vec<&str> = said.iter().map(String::as_str).collect();
        let text = format!("{} is {}: {}", rotation.slot_name(slot), kind.name, listed(&said));
        let eaters: Vec<EaterId> = who.iter().map(|(id, _)| *id).collect();
        let whom = Whom::of(plates, order, &eaters);
        let severity = if who.iter().any(|(_, r)| r.for_good) { Severity::Warn } else { Severity::Caution };
        let finding = Finding::new(severity, Code::Unwelcome, format!("{}{}", kind.key(), whom.key()), text);
        whom.mark(finding.at(slot).felt(&eaters))
    });
    findings.collect()
}

fn is_kind(meal: &EatenMeal, kind: &PlateKind<'_>) -> bool {
    match (kind.id, &meal.dish) {
        (Some(a), Some(b)) => a == b,
        _ => meal.name.trim().to_lowercase() == kind.name.trim().to_lowercase(),
    }
}
