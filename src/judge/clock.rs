//! The clock of each batch: what in it goes off first, and whether it is cooked.
//!
//! A limit of 3 lets food be eaten while its age is 3 or less. The raw clock starts when the piece is opened, the clock of a
//! cut form at the cut; the first full cooking ends both and starts the cooked clock, which nothing starts anew: what is made
//! of cooked food goes off when that would have. A dish takes the shortest life of anything in it.
//!
//! Where the hour is known from which something counts, it counts in hours: three days are 72 of them. That hour is the one of the
//! opening ([`crate::rotation::Storage::opened_at`]), and for what is made, cooked or cut for a meal of the same day the one at
//! which people sit down to the first meal that eats of it: it was on the heat before, so nothing is gained by counting from
//! there. A clock of hours ends on the same day as by whole days or sooner in it, never later: the published limits are whole
//! days, some of ranges of which the house took the short end, and none says that a day is more than 24 hours. What is made on a
//! day on which nobody eats of it has no hour, and counts by whole days; so does a limit of no days, which is the day itself, and
//! what is put by, where an hour in months is none. A freezer stops a clock; thawed in the fridge, what was left
//! of it runs on ([`super::frost`]).

use super::{
    cold::Cold,
    frost,
    index::{Index, Made},
};
use crate::{
    book::{CutForm, Dish, Heat},
    quantity::{DayNo, Days},
    rotation::{Rotation, Source},
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
    /// The minute at which it starts, where its hour is known: it then counts in hours.
    pub at: Option<i64>,
    /// Days that it stood still, in the freezer.
    pub frozen: Days,
    /// Whether it counts from thawing.
    pub thawed: bool,
}

/// Minutes of a day.
pub(super) const DAY: i64 = 1_440;

impl Clock {
    /// The last day on which it may be eaten.
    pub fn last(self) -> DayNo {
        self.since.plus(self.limit).plus(self.frozen)
    }

    /// Days that have counted by a day.
    pub fn age(self, day: DayNo) -> Days {
        Days(day.since(self.since).0 - self.frozen.0)
    }

    /// The minute from which it counts in hours; nothing where it counts by whole days.
    fn start(self) -> Option<i64> {
        self.at.filter(|_| self.limit.0 > 0)
    }

    /// The last minute at which it may be eaten, where it counts in hours. Where the clock on the wall may have gone back an hour
    /// meanwhile, an hour sooner: the plan knows no country.
    pub fn ends(self, rotation: &Rotation) -> Option<i64> {
        let start = self.start()?;
        let end = start + (i64::from(self.limit.0) + i64::from(self.frozen.0)) * DAY;
        Some(if may_go_back(rotation, start, end) { end - 60 } else { end })
    }

    /// Whether it is out on a day, or at a minute of that day where the hour is known of both.
    pub fn is_out(self, rotation: &Rotation, day: DayNo, minute: Option<i64>) -> bool {
        match (self.ends(rotation), minute) {
            (Some(end), Some(now)) => now > end,
            _ => day > self.last(),
        }
    }

    /// The same clock, from a minute of its first day where that is known.
    pub fn from(self, at: Option<i64>) -> Clock {
        Clock { at, ..self }
    }

    /// The same clock for what lay in the freezer for some days.
    pub fn after_frost(self, days: Days) -> Clock {
        Clock { frozen: Days(self.frozen.0.saturating_add(days.0)), ..self }
    }

    /// A day less, but never less than the day itself: for the vulnerable.
    pub fn shortened(self) -> Clock {
        Clock { limit: Days(self.limit.0.saturating_sub(1).max(0)), ..self }
    }

    /// The one that ends first; of two that end together the one that runs longer.
    fn tighter(self, other: Clock) -> Clock {
        // A clock of hours ends within its last day, one of whole days with it.
        let end = |c: Clock| {
            c.start().map_or((i64::from(c.last().0) + 1) * DAY, |at| at + (i64::from(c.limit.0) + i64::from(c.frozen.0)) * DAY)
        };
        if (end(other), other.since) < (end(self), self.since) { other } else { self }
    }
}

/// Whether the clock on the wall may go back an hour between two minutes: in the small hours of the first Sunday of April, the
/// last of October and the first of November, when clocks go back somewhere.
pub(super) fn may_go_back(rotation: &Rotation, from: i64, to: i64) -> bool {
    use jiff::civil::Weekday::Sunday;
    let days = from.div_euclid(DAY)..=to.div_euclid(DAY);
    days.filter_map(|d| i16::try_from(d).ok()).any(|day| {
        let date = rotation.date(DayNo(day));
        let back = matches!((date.month(), date.day()), (4, 1..=7) | (10, 25..=31) | (11, 1..=7));
        let night = (i64::from(day) * DAY, i64::from(day) * DAY + 3 * 60);
        back && date.weekday() == Sunday && from < night.1 && to > night.0
    })
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
    /// Whether something went into it that had been frozen and was not cooked first in it since.
    pub thawed: bool,
    /// The first day on which a source was still frozen when it was to be used, with the day on which it has thawed.
    pub still_frozen: Option<DayNo>,
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
        true => Clock {
            since: batch.day,
            limit: dish.keeps,
            reason: Reason::Keeps(place),
            cut_short: false,
            at: None,
            frozen: Days(0),
            thawed: false,
        },
        false => cold.clock(batch.day, dish.keeps_safely(), Reason::Keeps(place)).from(made.minute),
    };
    let mut limits = vec![own];
    let mut tender = Vec::new();
    let mut making = Vec::new();
    let mut was_cooked = false;
    let mut from_raw = false;
    let mut reheated = 0;
    let mut cooked_on = batch.day;
    let (mut thawed, mut thawed_raw) = (false, false);
    let mut still_frozen = None;
    // A form that outlives the window is preserved by its making: from then on only its own keeping time counts for what went in raw.
    let raw_runs_on = !dish.cooked && !made.is_bank();
    for draw in &batch.draws {
        match &draw.from {
            Source::Part(_) if kind.is_cooked_whole() => {
                let clock = cold.since_opening(kind.cooked_days, Reason::Whole);
                was_cooked = true;
                cooked_on = cooked_on.min(rotation.piece.opened);
                limits.push(clock);
                tender.push(clock.shortened());
                reheated = reheated.max(u8::from(is_hot(dish) && batch.day > rotation.piece.opened));
            }
            Source::Part(part) => {
                let Some(i) = kind.parts.iter().position(|p| p.id == *part) else { continue };
                from_raw = true;
                let raw = cold.since_opening(kind.parts[i].raw_days, Reason::Raw(i));
                let stay = frost::of_draw(rotation, batch, part);
                thawed_raw |= stay.is_some();
                making.push(frost::thawed_raw(cold, raw, stay));
                if let Some((form, days)) = dish.cut.and_then(|form| Some((form, kind.cut_days(form)?))) {
                    let cut_on = draw.cut_on.unwrap_or(batch.day);
                    let cut = cold.clock(cut_on, days, Reason::Cut(form));
                    let cut = cut.from(made.minute.filter(|_| cut_on == batch.day));
                    // What is cut after thawing was frozen whole.
                    let stay = stay.filter(|s| cut.since <= s.from);
                    making.push(frost::thawed_raw(cold, cut, stay));
                }
            }
            Source::Batch(id) => {
                let Some(source) = index.place(*id) else { continue };
                let Some(before) = &done[source] else { continue };
                let stay = frost::of_batch(rotation, *id);
                if let Some(stay) = stay.filter(|s| s.from < batch.day && batch.day < s.to) {
                    still_frozen = still_frozen.max(Some(stay.to));
                }
                let before_tight = frost::at(before.tight, stay, batch.day);
                let had_frost = before.thawed || stay.is_some_and(|s| batch.day >= s.to);
                thawed |= had_frost && before.cooked;
                thawed_raw |= had_frost && !before.cooked;
                if before.cooked || index.batches[source].is_bank() {
                    was_cooked |= before.cooked;
                    if before.cooked {
                        cooked_on = cooked_on.min(before.cooked_on);
                    }
                    // What is first cooked out of the vinegar keeps no longer than any cooked food.
                    from_raw |= !before.cooked;
                    limits.push(before_tight);
                    tender.extend(before.tender.map(|t| frost::at(t, stay, batch.day)));
                    if before.cooked && !index.batches[source].is_bank() {
                        let again = is_hot(dish) && batch.day > index.batches[source].batch.day;
                        reheated = reheated.max(before.reheated.saturating_add(u8::from(again)));
                    }
                } else {
                    from_raw = true;
                    making.push(before_tight);
                }
            }
        }
    }
    if raw_runs_on {
        limits.extend(&making);
    } else if dish.cooked && from_raw && !made.is_bank() {
        limits.push(cold.clock(batch.day, kind.cooked_days, Reason::Cooked(place)).from(made.minute));
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
        thawed: thawed || thawed_raw && !dish.cooked,
        still_frozen,
    }
}

fn is_of(clock: &Clock, place: usize) -> bool {
    matches!(clock.reason, Reason::Keeps(p) | Reason::Cooked(p) if p == place)
}
