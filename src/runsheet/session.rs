//! One day's cooking and eating, gathered from the plan.

use super::{Refusal, Wish};
use crate::{
    book::{Dish, Heat, Role, Twin},
    judge::companion_needs,
    lists::CompanionAmount,
    quantity::{DayNo, Portion, State, Units},
    rotation::{Batch, EaterId, Kitchen, Rotation, Slot, Source},
};
use jiff::civil::Time;

/// Where a mealtime has no clock: by its name. Common practice, no source.
const USUAL_TIMES: &[(&str, i64)] = &[("breakfast", 8 * 60), ("lunch", 12 * 60 + 30), ("dinner", 18 * 60 + 30)];
/// Where its name says nothing either.
const USUAL_TIME: i64 = 18 * 60 + 30;
/// What is made for another day is put away so long after the last sit-down at the latest, unless the kitchen closes later.
const AFTER_THE_LAST: i64 = 90;

/// One day of the plan as its kitchen sees it.
pub(super) struct Session<'r> {
    pub rotation: &'r Rotation,
    pub day: DayNo,
    pub kitchen: Kitchen,
    /// Nothing begins before this minute of the day.
    pub begin: i64,
    /// Everything is put away by this one.
    pub close: i64,
    /// In the order of the clock.
    pub sittings: Vec<Sitting>,
    /// What is made that day.
    pub makings: Vec<Making<'r>>,
    /// What was made before and is eaten that day.
    pub again: Vec<Again<'r>>,
}

/// People sit down.
pub(super) struct Sitting {
    pub slot: Slot,
    /// "Wednesday supper".
    pub name: String,
    /// Minute of the day.
    pub at: i64,
    pub eaters: Vec<EaterId>,
    /// Whether the plan's clock is missing and this one is ours.
    pub guessed: bool,
    /// Whether something is served at it at all.
    pub served: bool,
}

/// One batch that is made.
pub(super) struct Making<'r> {
    pub batch: &'r Batch,
    pub dish: &'r Dish,
    /// The first sitting of the day at which it is eaten.
    pub sitting: Option<usize>,
    /// Makings of the day that take some of it.
    pub feeds: Vec<usize>,
    /// Twins of the day: for whom, in all sittings together.
    pub twins: Vec<(&'r Twin, Vec<EaterId>)>,
    /// How much against the four portions that the book's minutes are for.
    pub factor: f64,
    /// Whether the piece itself comes raw to it, of meat, poultry or fish.
    pub raw_piece: bool,
    /// What is kept of it for later.
    pub kept: Option<Kept>,
    /// Companions with their amounts.
    pub companions: Vec<(String, CompanionAmount)>,
}

/// What of a batch is for another day.
#[derive(Clone, Debug)]
pub(super) struct Kept {
    /// How much, in the state of the batch.
    pub portion: Portion,
    /// The meal or the dish that it is kept for, in words.
    pub purpose: String,
}

/// Something made before that is served.
pub(super) struct Again<'r> {
    pub batch: &'r Batch,
    pub dish: &'r Dish,
    pub sitting: usize,
    pub portion: Portion,
    pub warmed: bool,
}

/// Minutes since midnight.
pub(super) fn minute_of(time: Time) -> i64 {
    i64::from(time.hour()) * 60 + i64::from(time.minute())
}

fn usual_time(name: &str) -> i64 {
    let lower = name.to_lowercase();
    USUAL_TIMES.iter().find(|t| lower.contains(t.0)).map_or(USUAL_TIME, |t| t.1)
}

impl<'r> Session<'r> {
    /// The day with what is wished for it.
    pub(super) fn of(rotation: &'r Rotation, day: DayNo, wish: &Wish) -> Result<Session<'r>, Refusal> {
        let mut kitchen = rotation.kitchen;
        kitchen.cooks = wish.cooks.unwrap_or(kitchen.cooks);
        if let Some(pace) = wish.pace {
            kitchen.pace = pace;
        }
        let mut sittings: Vec<Sitting> = rotation
            .mealtimes
            .iter()
            .map(|m| {
                let slot = Slot { day, mealtime: m.id };
                Sitting {
                    slot,
                    name: rotation.slot_name(slot),
                    at: m.at.map_or_else(|| usual_time(&m.name), minute_of),
                    eaters: rotation.eaters_at(slot),
                    guessed: m.at.is_none(),
                    served: !rotation.meal(slot).servings.is_empty(),
                }
            })
            .collect();
        sittings.sort_by_key(|s| s.at);
        let made: Vec<&Batch> = rotation.batches.iter().filter(|b| b.day == day).collect();
        if made.is_empty() && sittings.iter().all(|s| !s.served) {
            return Err(Refusal::nothing(rotation, day));
        }
        let last = sittings.last().map_or(USUAL_TIME, |s| s.at);
        let begin = wish.not_before.unwrap_or_else(|| minute_of(kitchen.opens));
        let close = minute_of(kitchen.closes).max(last + AFTER_THE_LAST);
        let needs = companion_needs(rotation);
        let makings = made.iter().filter_map(|batch| {
            let dish: &Dish = rotation.dishes.get(&batch.dish)?;
            let at = |slot: Slot| sittings.iter().position(|s| s.slot == slot);
            let today: Vec<_> = rotation.servings_of(batch.id).into_iter().filter(|(slot, _)| slot.day == day).collect();
            let companions = needs.iter().flat_map(|n| {
                let of_batch = n.uses.iter().filter(|u| u.batch == batch.id);
                of_batch.map(|u| (n.name.to_string(), CompanionAmount::of(u.amount, n.measure)))
            });
            let from_part = batch.draws.iter().any(|d| matches!(d.from, Source::Part(_)));
            Some(Making {
                batch,
                dish,
                sitting: today.iter().filter_map(|(slot, _)| at(*slot)).min(),
                feeds: (0..made.len()).filter(|&k| made[k].draws_on(batch.id)).collect(),
                twins: twins(dish, &today, rotation),
                factor: factor(batch, dish),
                raw_piece: rotation.kind.animal && rotation.kind.portioned == State::Prepared && from_part,
                kept: kept(rotation, batch, dish, day),
                companions: companions.collect(),
            })
        });
        let makings: Vec<Making> = makings.collect();
        let again = sittings.iter().enumerate().flat_map(|(k, s)| {
            let servings = &rotation.meal(s.slot).servings;
            let makings = &makings;
            servings.iter().filter_map(move |serving| {
                // Of today's making only what is served once more, after its first meal.
                let fresh = |b: &&Batch| makings.iter().any(|m| m.batch.id == b.id && m.sitting.is_none_or(|first| first >= k));
                let batch = rotation.batch(serving.batch).filter(|b| b.day != day || !fresh(b))?;
                let dish: &Dish = rotation.dishes.get(&batch.dish)?;
                let warmed = dish.cooked && matches!(dish.profile.heat, Some(Heat::Hot | Heat::Warm));
                Some(Again { batch, dish, sitting: k, portion: serving.portion, warmed })
            })
        });
        let again: Vec<Again> = again.collect();
        Ok(Session { rotation, day, kitchen, begin, close, sittings, makings, again })
    }

    /// The last sitting of the day, by which the hands are done.
    pub(super) fn last_at(&self) -> i64 {
        let served = self.sittings.iter().filter(|s| s.served).map(|s| s.at).max();
        served.or(self.sittings.last().map(|s| s.at)).unwrap_or(USUAL_TIME)
    }
}

/// Grams against four typical portions. Components and banks have no portion: their minutes are for what the book makes.
fn factor(batch: &Batch, dish: &Dish) -> f64 {
    if dish.role != Role::Meal || dish.grams.1 == 0 {
        return 1.0;
    }
    let four = Units::from_hundredths(400).map_or(0, |u| dish.typical_for(u));
    (f64::from(batch.pool().get()) / f64::from(four.max(1))).clamp(0.1, 20.0)
}

fn twins<'r>(dish: &'r Dish, today: &[(Slot, &crate::rotation::Serving)], rotation: &Rotation) -> Vec<(&'r Twin, Vec<EaterId>)> {
    let gets = |twin: &Twin| {
        let at_meal = |(slot, serving): &(Slot, &crate::rotation::Serving)| {
            let meant = serving.meant_for(&rotation.eaters_at(*slot));
            meant.into_iter().filter(|e| serving.twin_of(*e, dish).is_some_and(|t| t.name == twin.name)).collect::<Vec<_>>()
        };
        let mut eaters: Vec<EaterId> = today.iter().flat_map(at_meal).collect();
        eaters.sort_unstable();
        eaters.dedup();
        eaters
    };
    dish.twins.iter().map(|t| (t, gets(t))).filter(|(_, e)| !e.is_empty()).collect()
}

fn kept(rotation: &Rotation, batch: &Batch, dish: &Dish, day: DayNo) -> Option<Kept> {
    if dish.role != Role::Meal {
        return None;
    }
    let all = rotation.servings_of(batch.id);
    let first = all.iter().find(|(slot, _)| slot.day == day).map(|(slot, _)| *slot);
    let later: Vec<_> = all.into_iter().filter(|(slot, _)| slot.day >= day && Some(*slot) != first).collect();
    let drawn: Vec<&Batch> = rotation.batches.iter().filter(|b| b.day > day && b.draws_on(batch.id)).collect();
    let portion = |grams: u32| batch.pool().with(grams);
    if let Some((slot, _)) = later.first() {
        let eaters = later.iter().flat_map(|(slot, s)| s.meant_for(&rotation.eaters_at(*slot)));
        let mut names: Vec<&str> = eaters.map(|e| rotation.household.name(e)).collect();
        names.dedup();
        let grams = later.iter().map(|(_, s)| s.portion.get()).fold(0, u32::saturating_add);
        return Some(Kept { portion: portion(grams), purpose: format!("{}, {}", names.join(", "), rotation.slot_name(*slot)) });
    }
    if let Some(next) = drawn.first() {
        let name = rotation.dishes.get(&next.dish).map_or("a later dish", |d| d.name.as_str());
        let grams = rotation.drawn_from_batch(batch.id);
        let purpose = format!("{name}, {}", rotation.day_name(next.day));
        return Some(Kept { portion: Portion::Cooked(crate::quantity::Grams::clamped(grams)), purpose });
    }
    let over = rotation.unserved(batch).get();
    (over > 0).then(|| Kept { portion: portion(over), purpose: "no meal yet".into() })
}
