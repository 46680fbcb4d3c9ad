//! One pass over a rotation, so that no judge looks the same thing up twice.
//!
//! A rotation is lists and maps as they stand in the file; a judge asks "which meals eat of this batch, in order?" for every
//! batch. Asked of the rotation itself each such question walks all meals, which over a month of meals is the square of them.

use crate::{
    book::{Dish, Role},
    quantity::{DayNo, Units},
    rotation::{Batch, BatchId, EaterId, Meal, Rotation, Serving, Slot, Source},
};
use std::collections::HashMap;

/// Where a moment of the plan stands in time: the day, then the place of its mealtime in the day.
pub(super) type Rank = (DayNo, usize);

/// A meal with something on the table.
pub(super) struct Sitting<'a> {
    pub slot: Slot,
    pub rank: Rank,
    pub meal: &'a Meal,
    pub present: Vec<EaterId>,
}

/// A batch with all that hangs on it. Other batches are named by their place in [`Index::batches`].
pub(super) struct Made<'a> {
    pub batch: &'a Batch,
    /// Nothing where the rotation does not carry the dish: such a batch is weighed but not judged.
    pub dish: Option<&'a Dish>,
    /// Its servings in the order of time, each with its place in [`Index::sittings`].
    pub servings: Vec<(usize, &'a Serving)>,
    /// The batches it is made from.
    pub sources: Vec<usize>,
    /// The batches that are made from it.
    pub users: Vec<usize>,
    /// The minute of the plan at which people sit down to the first meal on the day of its making that eats of it, where that meal
    /// has a clock.
    pub minute: Option<i64>,
    /// What meals take, in the state of what went in.
    pub served: u32,
    /// What later batches take, cooked.
    pub passed_on: u32,
}

impl Made<'_> {
    /// Whether it is a form that outlives the window.
    pub fn is_bank(&self) -> bool {
        self.dish.is_some_and(|d| d.role == Role::Bank)
    }

    /// What a cook calls it.
    pub fn name(&self) -> &str {
        self.dish.map_or_else(|| self.batch.dish.as_str(), |d| d.name.as_str())
    }

    /// Its part of the name of a finding: the dish and the number of the batch.
    pub fn key(&self) -> String {
        format!("{}/{}", self.batch.dish, self.batch.id.0)
    }
}

/// A rotation, looked up once.
pub(super) struct Index<'a> {
    pub rotation: &'a Rotation,
    /// In the order of the file.
    pub batches: Vec<Made<'a>>,
    /// In the order of time.
    pub sittings: Vec<Sitting<'a>>,
    /// Places of the batches, each behind all that it is made from. Batches made from one another in a circle come last.
    pub order: Vec<usize>,
    places: HashMap<BatchId, usize>,
}

impl<'a> Index<'a> {
    /// Looks everything up. Numbers that name nothing are passed over: refusing them is the reader's office, not the judges'.
    pub fn new(rotation: &'a Rotation) -> Index<'a> {
        let mut places = HashMap::with_capacity(rotation.batches.len());
        let mut batches: Vec<Made<'a>> = Vec::with_capacity(rotation.batches.len());
        for batch in &rotation.batches {
            places.entry(batch.id).or_insert(batches.len());
            let dish = rotation.dishes.get(&batch.dish).map(|d| &**d);
            batches.push(Made {
                batch,
                dish,
                servings: Vec::new(),
                sources: Vec::new(),
                users: Vec::new(),
                minute: None,
                served: 0,
                passed_on: 0,
            });
        }
        for (user, batch) in rotation.batches.iter().enumerate() {
            for draw in &batch.draws {
                let Source::Batch(id) = draw.from else { continue };
                let Some(&source) = places.get(&id) else { continue };
                batches[source].passed_on = batches[source].passed_on.saturating_add(draw.portion.get());
                if !batches[user].sources.contains(&source) {
                    batches[user].sources.push(source);
                    batches[source].users.push(user);
                }
            }
        }
        let served = rotation.meals.iter().filter(|(_, meal)| !meal.servings.is_empty());
        let mut sittings: Vec<Sitting<'a>> = served
            .map(|(&slot, meal)| Sitting {
                slot,
                rank: rotation.time_rank(slot),
                meal,
                present: meal.eaters(&rotation.household),
            })
            .collect();
        sittings.sort_by_key(|s| (s.rank, s.slot));
        for (place, sitting) in sittings.iter().enumerate() {
            for serving in &sitting.meal.servings {
                let Some(&made) = places.get(&serving.batch) else { continue };
                batches[made].servings.push((place, serving));
                batches[made].served = batches[made].served.saturating_add(serving.portion.get());
                if sitting.slot.day == batches[made].batch.day {
                    let at = super::cold::minute_of(rotation, sitting.slot);
                    batches[made].minute = batches[made].minute.into_iter().chain(at).min();
                }
            }
        }
        let order = sources_first(&batches);
        Index { rotation, batches, sittings, order, places }
    }

    /// The place of a batch.
    pub fn place(&self, id: BatchId) -> Option<usize> {
        self.places.get(&id).copied()
    }

    /// The batch with this number.
    pub fn made(&self, id: BatchId) -> Option<&Made<'a>> {
        self.place(id).map(|place| &self.batches[place])
    }

    /// Where the first serving of a batch is eaten.
    pub fn first_meal(&self, made: &Made) -> Option<Slot> {
        made.servings.first().map(|(place, _)| self.sittings[*place].slot)
    }

    /// Where a batch first meets the table, in words: its first meal, or the day of its making.
    pub fn where_made(&self, made: &Made) -> String {
        match self.first_meal(made) {
            Some(slot) => self.rotation.slot_name(slot),
            None => self.rotation.day_name(made.batch.day),
        }
    }

    /// Portion units of these eaters together.
    pub fn units(&self, eaters: &[EaterId]) -> Units {
        self.rotation.household.units(eaters.iter().copied())
    }
}

/// Every batch behind all that it is made from, otherwise in the order of the file.
fn sources_first(batches: &[Made]) -> Vec<usize> {
    let mut waiting: Vec<usize> = batches.iter().map(|m| m.sources.len()).collect();
    let mut order: Vec<usize> = (0..batches.len()).filter(|&i| waiting[i] == 0).collect();
    let mut done = 0;
    while let Some(&ready) = order.get(done) {
        done += 1;
        for &user in &batches[ready].users {
            waiting[user] -= 1;
            if waiting[user] == 0 {
                order.push(user);
            }
        }
    }
    order.extend((0..batches.len()).filter(|&i| waiting[i] > 0));
    order
}

/// The places of these batches and of all that they are made from.
pub(super) fn made_from(index: &Index, sources: Vec<usize>) -> Vec<usize> {
    let mut all = sources;
    let mut next = 0;
    while let Some(&source) = all.get(next) {
        let more: Vec<usize> = index.batches[source].sources.iter().copied().filter(|s| !all.contains(s)).collect();
        all.extend(more);
        next += 1;
    }
    all
}

#[cfg(test)]
mod tests {
    use super::super::test_support::{Plan, component, dish};
    use super::Index;

    #[test]
    fn sources_stand_before_what_is_made_of_them_whatever_the_file_says() {
        let mut plan = Plan::cabbage(4);
        let sauce = plan.batch(1, component("sauce"), &[("middle", 300)]);
        let soup = plan.batch_from(2, dish("soup"), sauce, 100);
        let pie = plan.batch_from(3, dish("pie"), soup, 50);
        plan.rotation.batches.reverse();
        let index = Index::new(&plan.rotation);
        let order: Vec<_> = index.order.iter().map(|&i| index.batches[i].batch.id).collect();
        assert_eq!(order, [sauce, soup, pie]);
    }

    #[test]
    fn a_circle_of_batches_hangs_nobody() {
        let mut plan = Plan::cabbage(4);
        let a = plan.batch(1, dish("a"), &[]);
        let b = plan.batch_from(1, dish("b"), a, 10);
        plan.draw_batch(a, b, 10);
        assert_eq!(Index::new(&plan.rotation).order.len(), 2);
    }
}
