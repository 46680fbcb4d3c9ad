//! Plates: whether a serving suits those who eat it.

use super::{
    Code, Finding, Severity,
    balance::by_mass,
    index::{Index, Sitting},
    words::{grams, slot_key},
};
use crate::{
    book::{Dish, Role},
    quantity::{State, System, Units, write_range},
    rotation::{BatchId, EaterId, Serving, eaten_by},
};

/// A serving with those who eat the piece in it.
struct Plate<'a> {
    batch: BatchId,
    key: String,
    dish: &'a Dish,
    serving: &'a Serving,
    eaters: Vec<EaterId>,
    units: Units,
    /// Grams in the dish's state; nothing where they cannot be compared with the dish's figures.
    grams: Option<u32>,
}

/// Says which main servings lie outside what their dish is good for, and what is served where nobody eats it.
///
/// The main serving of an eater is the one that puts most grams a unit on their plate; sides and spoonfuls from a bank are
/// not measured, nor dishes for which the book gives no amounts.
pub(super) fn portions(index: &Index, findings: &mut Vec<Finding>) {
    let usable = index.rotation.piece.usable_total(index.rotation.kind.portioned).get();
    for sitting in &index.sittings {
        let plates: Vec<Plate> = sitting.meal.servings.iter().filter_map(|s| plate(index, sitting, s)).collect();
        for plate in plates.iter().filter(|p| p.eaters.is_empty()) {
            let served = plate.serving.portion.get();
            let text =
                format!("{}: nobody eats the {} of {}", index.rotation.slot_name(sitting.slot), grams(served), plate.dish.name);
            let about = format!("{}/{}", plate.key, slot_key(sitting.slot));
            let severity = by_mass(served, usable);
            findings.push(Finding::new(severity, Code::Unserved, about, text).at(sitting.slot).of(plate.batch));
        }
        for (i, plate) in plates.iter().enumerate() {
            if plate.eaters.iter().any(|&e| main_of(&plates, e) == Some(i)) {
                findings.extend(size(index, sitting, plate));
            }
        }
    }
}

fn plate<'a>(index: &'a Index, sitting: &Sitting<'a>, serving: &'a Serving) -> Option<Plate<'a>> {
    let made = index.made(serving.batch)?;
    let dish = made.dish?;
    let eaters = eaten_by(index.rotation, serving, &sitting.present);
    let grams = match (dish.state, serving.portion.state()) {
        (State::Cooked, State::Prepared) => Some(made.batch.cooked(serving.portion, dish).get()),
        (of_dish, of_serving) if of_dish == of_serving => Some(serving.portion.get()),
        _ => None,
    };
    let units = index.units(&eaters);
    Some(Plate { batch: made.batch.id, key: made.key(), dish, serving, eaters, units, grams })
}

/// Which of the plates is the main one for `eater`: most grams a unit, the earlier on a tie.
fn main_of(plates: &[Plate], eater: EaterId) -> Option<usize> {
    let mut best: Option<usize> = None;
    for (i, plate) in plates.iter().enumerate().filter(|(_, p)| p.eaters.contains(&eater)) {
        let more = |than: &Plate| {
            let a = u64::from(plate.serving.portion.get()) * u64::from(than.units.hundredths());
            let b = u64::from(than.serving.portion.get()) * u64::from(plate.units.hundredths());
            a > b
        };
        if best.is_none_or(|b| more(&plates[b])) {
            best = Some(i);
        }
    }
    best
}

fn size(index: &Index, sitting: &Sitting, plate: &Plate) -> Option<Finding> {
    let (least, _, most) = plate.dish.grams;
    let served = plate.grams?;
    if plate.dish.role == Role::Bank || plate.dish.grams == (0, 0, 0) || plate.units == Units::NONE {
        return None;
    }
    // Compared for the whole table, where the amounts on offer are rounded to the gram: 106.9 g for an adult of a least 107 is right.
    let low = served < plate.units.times(least);
    if !low && served <= plate.units.times(most) {
        return None;
    }
    let hundred = u64::from(served) * 100;
    let units = u64::from(plate.units.hundredths());
    let for_an_adult = if low { hundred / units } else { hundred.div_ceil(units) }.min(u64::from(u32::MAX)) as u32;
    let text = format!(
        "{}, {}: {} for an adult; {} is right",
        index.rotation.slot_name(sitting.slot),
        plate.dish.name,
        grams(for_an_adult),
        write_range(least, most, System::Metric)
    );
    let about = format!("{}/{}", plate.key, slot_key(sitting.slot));
    Some(Finding::new(Severity::Caution, Code::ServingSize, about, text).at(sitting.slot).of(plate.batch))
}
