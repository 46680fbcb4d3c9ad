//! What the cook asks for: which meals, on how many minutes, without what.

use crate::{
    book::DishId,
    quantity::DayNo,
    rotation::{EaterId, Rotation, Slot},
};
use std::collections::{BTreeMap, BTreeSet};

/// What is asked beyond the plan itself. The blank one asks for the [`open_meals`] and sets no limit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wishes {
    /// The meals to fill; nothing: the [`open_meals`]. Meals at which something is served already are passed over.
    pub meals: Option<Vec<Slot>>,
    /// Minutes that the cook has on a day, those of dishes that stand already included; a day not named has as many as it takes.
    pub minutes: BTreeMap<DayNo, u32>,
    /// Days on which the oven stays cold.
    pub no_oven: BTreeSet<DayNo>,
    /// Dishes that are not wanted this time.
    pub without: BTreeSet<DishId>,
    /// Companions on hand that want using up, by name.
    pub use_up: BTreeSet<String>,
    /// Whether meals may be so alike, or run on so long, that the household complains.
    pub may_be_alike: bool,
    /// Whether a dish may come back within fourteen days.
    pub may_come_again: bool,
    /// Whether dishes may be served of which somebody said "not again".
    pub mind_no_verdicts: bool,
}

/// The meals that wait for a dish, in the order of time: people sit down, nothing is served, and the piece is open.
///
/// A meal of which the cook has said who sits down always counts. One of which nothing is said counts if it is the last of its
/// day, something of the piece still keeps, and somebody who sits down to it has nothing of the piece at another meal of that
/// day: a lunch that nobody spoke of is no question.
pub fn open_meals(plan: &Rotation) -> Vec<Slot> {
    let last = plan.mealtimes.last().map(|m| m.id);
    let kind = &plan.kind;
    let raw = kind.parts.iter().map(|p| p.raw_days).max();
    let keeps = if kind.is_cooked_whole() { Some(kind.cooked_days) } else { raw };
    let until = keeps.map_or(plan.piece.opened, |days| plan.piece.opened.plus(days));
    let is_open = |slot: &Slot| {
        let meal = plan.meal(*slot);
        let eaters = plan.eaters_at(*slot);
        if !meal.servings.is_empty() || eaters.is_empty() || slot.day < plan.piece.opened {
            return false;
        }
        let is_last = Some(slot.mealtime) == last && slot.day <= until;
        meal.present.is_some() || (is_last && eaters.iter().any(|e| !has_piece_on(plan, slot.day, *e)))
    };
    plan.slots().filter(is_open).collect()
}

fn has_piece_on(plan: &Rotation, day: DayNo, eater: EaterId) -> bool {
    let meals = plan.meals.iter().filter(|(slot, meal)| slot.day == day && !meal.servings.is_empty());
    meals.into_iter().any(|(slot, _)| plan.eaters_at(*slot).contains(&eater))
}

impl Wishes {
    /// The meals asked for, in the order of time: those of the calendar at which people sit down and nothing is served yet.
    pub(super) fn slots(&self, plan: &Rotation) -> Vec<Slot> {
        let Some(named) = &self.meals else { return open_meals(plan) };
        let wanted: BTreeSet<Slot> = named.iter().copied().collect();
        let fits = |s: &Slot| {
            wanted.contains(s)
                && plan.meal(*s).servings.is_empty()
                && !plan.eaters_at(*s).is_empty()
                && s.day >= plan.piece.opened
        };
        plan.slots().filter(fits).collect()
    }
}
