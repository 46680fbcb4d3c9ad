//! What a plan needs beside its piece: every companion, summed over the batches in the order in which they are made.

use super::index::{Index, Made};
use crate::{
    book::{Companion, CompanionMeasure, Dish},
    quantity::{DayNo, Days, Units},
    rotation::{BatchId, EaterId, Rotation, Serving},
};
use std::collections::BTreeMap;

/// One companion over the whole plan, by its name and measure.
#[derive(Clone, Debug, PartialEq)]
pub struct CompanionNeed<'r> {
    /// What it is called; the same name everywhere is the same thing.
    pub name: &'r str,
    /// What its amounts are measured in.
    pub measure: CompanionMeasure,
    /// A pack as sold, in `measure`; finite and over 0. Where two dishes say different things, the first names it.
    pub pack: Option<f64>,
    /// What the pack is called.
    pub pack_word: Option<&'r str>,
    /// Days that an opened pack keeps, the strictest that a dish says; nothing for what keeps as long as the plan.
    pub opened_days: Option<Days>,
    /// What is taken, in the order in which it is needed, one a batch.
    pub uses: Vec<CompanionUse>,
}

/// What one batch takes of a companion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompanionUse {
    /// The batch.
    pub batch: BatchId,
    /// The day of its making.
    pub day: DayNo,
    /// How much; finite and over 0.
    pub amount: f64,
}

/// Every companion that the plan needs, by name and measure.
///
/// What a batch needs is its amount a unit for all who are meant to eat of it, twins included, and its amount a batch; a twin's
/// own companions count for those who get the twin.
pub fn companion_needs(rotation: &Rotation) -> Vec<CompanionNeed<'_>> {
    needs_of(&Index::new(rotation))
}

pub(super) fn needs_of<'a>(index: &Index<'a>) -> Vec<CompanionNeed<'a>> {
    let mut needs: BTreeMap<(&str, u8), CompanionNeed> = BTreeMap::new();
    let mut places: Vec<usize> = (0..index.batches.len()).collect();
    places.sort_by_key(|&i| {
        let made = &index.batches[i];
        (made.batch.day, made.servings.first().map(|s| s.0), made.batch.id)
    });
    for made in places.into_iter().map(|place| &index.batches[place]) {
        let Some(dish) = made.dish else { continue };
        of_batch(index, made, dish, |companion, amount| {
            let need = needs.entry((companion.name.as_str(), companion.measure as u8)).or_insert_with(|| CompanionNeed {
                name: &companion.name,
                measure: companion.measure,
                pack: None,
                pack_word: None,
                opened_days: None,
                uses: Vec::new(),
            });
            need.pack = need.pack.or(companion.pack.filter(|p| p.is_finite() && *p > 0.0));
            need.pack_word = need.pack_word.or(companion.pack_word.as_deref());
            need.opened_days = need.opened_days.into_iter().chain(companion.opened_days).min();
            match need.uses.last_mut() {
                Some(last) if last.batch == made.batch.id => last.amount += amount,
                _ => need.uses.push(CompanionUse { batch: made.batch.id, day: made.batch.day, amount }),
            }
        });
    }
    needs.into_values().collect()
}

/// Tells `need` each companion of a batch with its amount, over nothing.
fn of_batch<'a>(index: &Index, made: &Made, dish: &'a Dish, mut need: impl FnMut(&'a Companion, f64)) {
    let mut tell = |companions: &'a [Companion], units: f64| {
        for companion in companions {
            let amount = companion.per_unit * units + companion.per_batch;
            if amount.is_finite() && amount > 0.0 {
                need(companion, amount);
            }
        }
    };
    let meant: Vec<(Vec<EaterId>, _)> =
        made.servings.iter().map(|(place, s)| (s.meant_for(&index.sittings[*place].present), *s)).collect();
    let units: Units = meant.iter().map(|(eaters, _)| index.units(eaters)).sum();
    tell(&dish.companions, units.as_f64());
    for twin in &dish.twins {
        let gets = |eater: &EaterId, s: &Serving| s.twin_of(*eater, dish).is_some_and(|t| t.name == twin.name);
        let on_twin = meant.iter().map(|(eaters, s)| eaters.iter().copied().filter(|e| gets(e, s)).collect::<Vec<_>>());
        let units: Units = on_twin.map(|eaters| index.units(&eaters)).sum();
        if units != Units::NONE {
            tell(&twin.companions, units.as_f64());
        }
    }
}
