//! The clock of each batch: what in it goes off first, and whether it is cooked.
//!
//! A limit of 3 lets food be eaten while its age is 3 or less. The raw clock starts when the piece is opened, the clock of a
//! cut form at the cut; the first full cooking ends both and starts the cooked clock, which nothing starts anew: what is made
//! of cooked food goes off when that would have. A dish takes the shortest life of anything in it.

use super::{
    cold::Cold,
    index::{Index, Made},
};
use crate::{
    book::{CutForm, Dish, Heat},
    quantity::{DayNo, Days},
    rotation::Source,
};

/// What sets a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reason {
    /// A raw part, by its place in the kind.
    Raw(usize),
    /// A raw cut form.
    Cut(CutForm),
    /// The piece cooked whole.
    Whole,
    /// The general rule for this food, cooked in this batch.
    Cooked(usize),
    /// The keeping time of this batch's dish.
    Keeps(usize),
}

/// Something that goes off: from when it counts, and how long.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Clock {
    pub since: DayNo,
    pub limit: Days,
    pub reason: Reason,
    /// Whether the limit is shorter than the published one, for want of a cold fridge.
    pub cut_short: bool,
}

impl Clock {
    /// The last day on which it may be eaten.
    pub fn last(self) -> DayNo {
        self.since.plus(self.limit)
    }

    /// A day less, but never less than the day itself: for the vulnerable.
    pub fn shortened(self) -> Clock {
        Clock { limit: Days(self.limit.0.saturating_sub(1).max(0)), ..self }
    }

    /// The one that ends first; of two that end together the one that runs longer.
    fn tighter(self, other: Clock) -> Clock {
        if (other.last(), other.since) < (self.last(), self.since) { other } else { self }
    }
}

/// The clocks of one batch.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Clocks {
    /// What goes off first in it.
    pub tight: Clock,
    /// The same for the vulnerable, where it is cooked food of an animal.
    pub tender: Option<Clock>,
    /// What must not have run out when it is made: raw parts, cut forms, raw dishes that go in.
    pub making: Vec<Clock>,
    /// Whether what is in it was cooked, here or before.
    pub cooked: bool,
    /// When what is in it was cooked first; the day of its making for what is raw.
    pub cooked_on: DayNo,
    /// How often it had been warmed up again when it was made, that making included.
    pub reheated: u8,
}

/// The clocks of every batch, by its place in the index; nothing where the dish is not there.
pub(super) fn clocks(index: &Index, cold: &Cold) -> Vec<Option<Clocks>> {
    let mut all: Vec<Option<Clocks>> = vec![None; index.batches.len()];
    for &place in &index.order {
        let made = &index.batches[place];
        if let Some(dish) = made.dish {
            all[place] = Some(clocks_of(index, cold, place, made, dish, &all));
        }
    }
    all
}

/// Whether a dish comes warm or hot to the table. Where the book does not say, nobody claims that it does.
pub(super) fn is_hot(dish: &Dish) -> bool {
    dish.profile.heat.is_some_and(|h| h >= Heat::Warm)
}

fn clocks_of(index: &Index, cold: &Cold, place: usize, made: &Made, dish: &Dish, done: &[Option<Clocks>]) -> Clocks {
    let (rotation, batch) = (index.rotation, made.batch);
    let kind = &rotation.kind;
    // What vinegar, sugar or drying preserves does not ask for a cold fridge.
    let own = match made.is_bank() {
        true => Clock { since: batch.day, limit: dish.keeps, reason: Reason::Keeps(place), cut_short: false },
        false => cold.clock(batch.day, dish.keeps, Reason::Keeps(place)),
    };
    let mut limits = vec![own];
    let mut tender = Vec::new();
    let mut making = Vec::new();
    let mut was_cooked = false;
    let mut from_raw = false;
    let mut reheated = 0;
    let mut cooked_on = batch.day;
    // A form that outlives the window is preserved by its making: from then on only its own keeping time counts for what went in raw.
    let raw_runs_on = !dish.cooked && !made.is_bank();
    for draw in &batch.draws {
        match &draw.from {
            Source::Part(_) if kind.is_cooked_whole() => {
                let clock = cold.clock(rotation.piece.opened, kind.cooked_days, Reason::Whole);
                was_cooked = true;
                cooked_on = cooked_on.min(rotation.piece.opened);
                limits.push(clock);
                tender.push(clock.shortened());
                reheated = reheated.max(u8::from(is_hot(dish) && batch.day > rotation.piece.opened));
            }
            Source::Part(part) => {
                let Some(i) = kind.parts.iter().position(|p| p.id == *part) else { continue };
                from_raw = true;
                let raw = cold.clock(rotation.piece.opened, kind.parts[i].raw_days, Reason::Raw(i));
                making.push(raw);
                if let Some((form, days)) = dish.cut.and_then(|form| Some((form, kind.cut_days(form)?))) {
                    making.push(cold.clock(draw.cut_on.unwrap_or(batch.day), days, Reason::Cut(form)));
                }
            }
            Source::Batch(id) => {
                let Some(source) = index.place(*id) else { continue };
                let Some(before) = &done[source] else { continue };
                if before.cooked || index.batches[source].is_bank() {
                    was_cooked |= before.cooked;
                    if before.cooked {
                        cooked_on = cooked_on.min(before.cooked_on);
                    }
                    // What is first cooked out of the vinegar keeps no longer than any cooked food.
                    from_raw |= !before.cooked;
                    limits.push(before.tight);
                    tender.extend(before.tender);
                    if before.cooked && !index.batches[source].is_bank() {
                        let again = is_hot(dish) && batch.day > index.batches[source].batch.day;
                        reheated = reheated.max(before.reheated.saturating_add(u8::from(again)));
                    }
                } else {
                    from_raw = true;
                    making.push(before.tight);
                }
            }
        }
    }
    if raw_runs_on {
        limits.extend(&making);
    } else if dish.cooked && from_raw && !made.is_bank() {
        limits.push(cold.clock(batch.day, kind.cooked_days, Reason::Cooked(place)));
    }
    let cooked = dish.cooked || was_cooked;
    let tightest = |clocks: &[Clock]| clocks.iter().copied().reduce(Clock::tighter);
    tender.extend(limits.iter().filter(|c| c.since == batch.day && is_of(c, place)).map(|c| c.shortened()));
    Clocks {
        tight: tightest(&limits).unwrap_or(own),
        tender: if cooked && kind.animal { tightest(&tender) } else { None },
        making,
        cooked,
        cooked_on,
        reheated,
    }
}

fn is_of(clock: &Clock, place: usize) -> bool {
    matches!(clock.reason, Reason::Keeps(p) | Reason::Cooked(p) if p == place)
}
