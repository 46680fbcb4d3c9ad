//! Mends of sameness: another order of the meals, another dish, another day.

use super::{
    Shelf,
    candidate::{Candidate, Sort, days_apart, empty_slots, nearest, served_slots},
};
use crate::{
    book::{Dish, Role},
    judge::{Finding, likeness::likeness_whole, refusal},
    quantity::Units,
    rotation::{BatchId, Eater, Edit, Rotation, Serving, Slot, Source},
};
use std::sync::Arc;

/// The most swaps, other dishes and moves that are tried.
const MAX_SWAPS: usize = 20;
const MAX_DISHES: usize = 12;
const MAX_MOVES: usize = 10;

pub(super) fn candidates(rotation: &Rotation, book: &Shelf<'_>, finding: &Finding) -> Vec<Candidate> {
    let Some(later) = finding.meal else {
        return Vec::new();
    };
    let mut out = swaps(rotation, later, finding.other);
    if let Some(batch) = main_batch(rotation, later) {
        out.extend(dishes(rotation, book, later, batch, MAX_DISHES));
        out.extend(moves(rotation, later, batch));
    }
    if let Some(earlier) = finding.other
        && let Some(batch) = main_batch(rotation, earlier)
    {
        out.extend(dishes(rotation, book, earlier, batch, MAX_DISHES / 2));
    }
    out
}

fn main_batch(rotation: &Rotation, slot: Slot) -> Option<BatchId> {
    let meal = rotation.meal(slot).servings.iter();
    let own = meal.filter(|s| rotation.dish_of(s.batch).is_some_and(|d| d.role == Role::Meal));
    own.max_by_key(|s| s.portion.get()).map(|s| s.batch)
}

/// Swaps of the later and of the earlier meal with any third.
fn swaps(rotation: &Rotation, later: Slot, earlier: Option<Slot>) -> Vec<Candidate> {
    let others: Vec<Slot> = served_slots(rotation).into_iter().filter(|s| *s != later && Some(*s) != earlier).collect();
    let mut out: Vec<(usize, Candidate)> = Vec::new();
    for from in std::iter::once(later).chain(earlier) {
        for to in nearest(others.clone(), from) {
            let days = days_apart(from, to);
            let (first, second) = if rotation.time_rank(from) < rotation.time_rank(to) { (from, to) } else { (to, from) };
            out.push((days, Candidate::new(Sort::Swap, Edit::SwapMeals(first, second)).further(days)));
        }
    }
    out.sort_by_key(|(days, _)| *days);
    out.into_iter().map(|(_, c)| c).take(MAX_SWAPS).collect()
}

/// Moves to empty meals, the nearest first.
fn moves(rotation: &Rotation, from: Slot, batch: BatchId) -> Vec<Candidate> {
    let to = nearest(empty_slots(rotation), from).into_iter().take(MAX_MOVES);
    to.map(|to| Candidate::new(Sort::Move, Edit::MoveServing { from, batch, to }).at(rotation, to).further(days_apart(from, to)))
        .collect()
}

/// Other dishes for a batch: those that can be made of what it draws, are fed enough, harm nobody at the table and are not in
/// the plan already; the least like their neighbours first.
pub(super) fn dishes(rotation: &Rotation, book: &Shelf<'_>, slot: Slot, batch: BatchId, most: usize) -> Vec<Candidate> {
    dishes_that(rotation, book, slot, batch, most, &|_| true)
}

/// The same of those dishes alone that will do for some reason.
pub(super) fn dishes_that(
    rotation: &Rotation,
    book: &Shelf<'_>,
    slot: Slot,
    batch: BatchId,
    most: usize,
    will_do: &dyn Fn(&Dish) -> bool,
) -> Vec<Candidate> {
    let Some(serving) = rotation.meal(slot).serving(batch) else {
        return Vec::new();
    };
    let fitting = book.dishes_for(&rotation.kind).filter(|d| will_do(d) && fits(rotation, batch, serving, slot, d));
    let fitting = fitting.filter(|d| !is_unwelcome(rotation, book, serving, slot, d));
    let mut ranked: Vec<(f64, &Arc<Dish>)> = fitting.map(|d| (felt_beside(rotation, book, slot, Some(batch), d), d)).collect();
    ranked.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.id.cmp(&b.1.id)));
    let chosen = ranked.into_iter().take(most).enumerate();
    chosen.map(|(i, (_, d))| Candidate::new(Sort::Dish, Edit::ChangeDish { batch, dish: d.clone() }).further(i)).collect()
}

/// Whether somebody who would eat of it did not want the dish again, or not so soon.
fn is_unwelcome(rotation: &Rotation, shelf: &Shelf<'_>, serving: &Serving, slot: Slot, dish: &Dish) -> bool {
    let at = (rotation.date(slot.day), rotation.mealtime_name(slot.mealtime));
    let eaters = serving.meant_for(&rotation.eaters_at(slot));
    let mut names = eaters.into_iter().filter_map(|id| rotation.household.eater(id)).map(|e| e.name.as_str());
    let eaten = &shelf.home.eaten;
    !eaten.is_empty() && names.any(|name| refusal(eaten, name, |m| m.is_dish(&dish.id, &dish.name), at).is_some())
}

fn fits(rotation: &Rotation, batch: BatchId, serving: &Serving, slot: Slot, dish: &Dish) -> bool {
    let (Some(old), Some(batch)) = (rotation.dish_of(batch), rotation.batch(batch)) else {
        return false;
    };
    if dish.role != old.role || dish.state != old.state || rotation.batches.iter().any(|b| b.dish == dish.id) {
        return false;
    }
    let eaters: Vec<&Eater> =
        serving.meant_for(&rotation.eaters_at(slot)).into_iter().filter_map(|id| rotation.household.eater(id)).collect();
    // Who may not eat it gets a twin, and takes nothing of the piece.
    let may_eat = |e: &&&Eater| dish.surely_suits(e.diet) && e.diet.may_eat(rotation.kind.diet);
    let units: Units = eaters.iter().filter(may_eat).map(|e| e.units).sum();
    let mut free = 0;
    for draw in &batch.draws {
        match &draw.from {
            Source::Part(part) if dish.suits_part(part) => free += rotation.free_in_part(part).max(0),
            Source::Part(_) => {
                let better = dish.parts.iter().map(|p| rotation.free_in_part(p)).max();
                if better.is_none_or(|b| b < i64::from(draw.portion.get())) {
                    return false;
                }
            }
            Source::Batch(id) => {
                if !rotation.dish_of(*id).is_some_and(|d| dish.from.contains(&d.id)) {
                    return false;
                }
            }
        }
    }
    let enough = i64::from(units.times(dish.grams.0)) <= i64::from(serving.portion.get()) + free;
    let harmless = eaters.iter().all(|e| {
        let diet = may_eat(&e) || dish.twins.iter().any(|t| t.surely_suits(e.diet));
        diet && !dish.allergens.iter().any(|a| e.allergies.contains(a))
    });
    enough && harmless
}

/// How alike a dish at `slot` would be felt to be to its worst neighbour, either side, whoever eats it.
pub(super) fn felt_beside(rotation: &Rotation, shelf: &Shelf<'_>, slot: Slot, batch: Option<BatchId>, dish: &Dish) -> f64 {
    let (weights, kernel) = (&shelf.home.patience.weights, &shelf.home.patience.kernel);
    let mut worst: f64 = 0.0;
    for other in served_slots(rotation).into_iter().filter(|s| *s != slot && days_apart(*s, slot) <= 3) {
        if let Some(beside) = main_batch(rotation, other).filter(|b| Some(*b) != batch).and_then(|b| rotation.dish_of(b)) {
            let fading = kernel.after(other.day.since(slot.day).0);
            // An undescribed dish is no cure of sameness that one could promise.
            worst = worst.max(likeness_whole(weights, &dish.profile, &beside.profile).unwrap_or(1.0) * fading);
        }
    }
    worst
}
