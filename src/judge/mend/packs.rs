//! Mends of opened packs: a dish that uses up what is left of them.

use super::{
    Shelf,
    candidate::{Candidate, Sort, empty_slots, served_slots},
    taste,
};
use crate::{
    book::{Dish, Role},
    judge::{Finding, PackLeft, packs_left},
    quantity::DayNo,
    rotation::{Edit, Rotation, ServeFrom},
};

/// The most meals, and the most dishes for each, that are tried.
const MAX_MEALS: usize = 6;
const MAX_DISHES: usize = 5;

/// Dishes that take of what is left while it keeps: at an open meal, or in another dish's place.
pub(super) fn uses_of_the_rest(rotation: &Rotation, book: &Shelf<'_>, finding: &Finding) -> Vec<Candidate> {
    let told: Vec<PackLeft> = packs_left(rotation).into_iter().filter(|p| p.is_told_in(finding)).collect();
    let mut out = Vec::new();
    for slot in empty_slots(rotation).into_iter().take(MAX_MEALS) {
        let fresh = |d: &&std::sync::Arc<Dish>| {
            d.role == Role::Meal && takes_of(&told, d, slot.day) && !rotation.dishes.contains_key(&d.id)
        };
        for (i, dish) in book.dishes_for(&rotation.kind).filter(fresh).take(MAX_DISHES).enumerate() {
            let edit = Edit::Serve { dish: dish.clone(), from: ServeFrom::BestPart, slot, portion: None };
            out.push(Candidate::new(Sort::Serve, edit).at(rotation, slot).further(i));
        }
    }
    for slot in served_slots(rotation).into_iter().rev().take(MAX_MEALS) {
        for serving in &rotation.meal(slot).servings {
            let Some(day) = rotation.batch(serving.batch).map(|b| b.day) else { continue };
            let will_do = |d: &Dish| takes_of(&told, d, day);
            out.extend(taste::dishes_that(rotation, book, slot, serving.batch, MAX_DISHES, &will_do));
        }
    }
    out
}

/// Whether a dish made on a day would take of one of these rests.
fn takes_of(told: &[PackLeft], dish: &Dish, day: DayNo) -> bool {
    told.iter().any(|p| {
        (p.opened..=p.use_by).contains(&day) && dish.companions.iter().any(|c| c.name == p.name && c.measure == p.measure)
    })
}

/// Whether a plan leaves at most half of the rests that a finding speaks of, and of all opened packs together no more than
/// before.
pub(super) fn uses_up(before: &Rotation, after: &Rotation, finding: &Finding) -> bool {
    let (old, new) = (packs_left(before), packs_left(after));
    let told: Vec<&PackLeft> = old.iter().filter(|p| p.is_told_in(finding)).collect();
    let share = |packs: &[PackLeft], one: &PackLeft| -> f64 {
        packs.iter().filter(|p| p.name == one.name && p.measure == one.measure).map(PackLeft::share).sum()
    };
    let was: f64 = told.iter().map(|p| p.share()).sum();
    let is: f64 = told.iter().map(|p| share(&new, p)).sum();
    let all = |packs: &[PackLeft]| packs.iter().map(PackLeft::share).sum::<f64>();
    !told.is_empty() && is <= 0.5 * was && all(&new) < all(&old)
}
