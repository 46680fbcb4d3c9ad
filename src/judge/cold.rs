//! What a fridge that is not as it should be does to the clocks.
//!
//! Two things: a fridge that runs warm shortens every limit of whole days by [`shorten`]; a power cut of over four hours ends
//! what is perishable and lay in the fridge through it, four hours after it began (US FoodSafety.gov, Food Safety During Power
//! Outage; from memory). Cut raw vegetables and the rest that the rule does not name are shortened by the warmth of the cut.
//! Neither ever lengthens anything.

use super::{
    clock::{Clock, DAY, Reason, may_go_back},
    frost,
    index::{Index, Made},
    spoilage::{SAFE_FRIDGE_C, Spell, Unpowered, safe_rate, shorten, unpowered_fridge},
};
use crate::{
    quantity::{DayNo, Days},
    rotation::{Fridge, FrozenStay, Moment, PowerCut, Rotation, Source},
};

/// How warm the kitchen is while the power is off (common practice, no source).
const ROOM_C: f64 = 22.0;
/// When something counts as made on its day where no meal of that day eats of it: early, so that a power cut later on that
/// day counts against it.
const MADE_EARLY: i64 = 6 * 60;
/// The middle of a day: when a clock of whole days starts, for want of its hour.
const NOON: i64 = 12 * 60;
/// How long perishable food may be out of the cold: two hours in all (USDA FSIS, the 2-hour rule).
const OUT_OF_THE_COLD: i64 = 2 * 60;
/// How long a fridge needs until it is cold again after a power cut (house rule, no source).
const COLD_AGAIN: i64 = 2 * 60;

/// The fridge of a rotation, asked by the clocks.
pub(super) struct Cold<'a> {
    rotation: &'a Rotation,
    fridge: &'a Fridge,
    /// The power cuts over four hours, in order. Shorter ones do nothing, by the published rule.
    long: Vec<PowerCut>,
    warm: bool,
}

impl<'a> Cold<'a> {
    pub fn of(rotation: &'a Rotation) -> Cold<'a> {
        let fridge = &rotation.fridge;
        let is_long = |(cut, minutes): &(PowerCut, i64)| {
            let minutes = minutes + if may_hide_an_hour(rotation, cut) { 60 } else { 0 };
            !Unpowered::Fridge.is_safe(minutes as f64 / 60.0)
        };
        let warm = fridge.runs_at.is_some_and(|c| safe_rate(c) > 1.0);
        Cold { rotation, fridge, long: run_together(&fridge.cuts).into_iter().filter(is_long).map(|(c, _)| c).collect(), warm }
    }

    /// Whether it is as limits take it.
    pub fn is_usual(&self) -> bool {
        !self.warm && self.long.is_empty()
    }

    /// A clock with its limit as this fridge leaves it.
    pub fn clock(&self, since: DayNo, limit: Days, reason: Reason) -> Clock {
        let left = self.limit(since, limit);
        Clock { since, limit: left, reason, cut_short: left < limit, at: None, frozen: Days(0), thawed: false }
    }

    /// The same for what counts from the opening of the piece: in hours where its hour is known.
    pub fn since_opening(&self, limit: Days, reason: Reason) -> Clock {
        let opened = self.rotation.piece.opened;
        let at = self.rotation.storage.opened_at.map(|at| Moment { day: opened, at }.minutes());
        Clock { at, ..self.clock(opened, limit, reason) }
    }

    /// What is left of a published limit that counts from a day.
    pub fn limit(&self, since: DayNo, limit: Days) -> Days {
        if self.is_usual() || limit.0 <= 0 {
            return limit;
        }
        shorten(limit, &self.history(since, limit)).limit
    }

    /// How warm it was from noon of the day `since` until the limit is past.
    fn history(&self, since: DayNo, limit: Days) -> Vec<Spell> {
        let usual = self.fridge.runs_at.unwrap_or(SAFE_FRIDGE_C);
        let hours = |minutes: i64| minutes as f64 / 60.0;
        let mut now = i64::from(since.0) * DAY + NOON;
        let end = now + i64::from(limit.0) * DAY;
        let mut spells = Vec::new();
        for cut in &self.long {
            let (from, to) = (cut.from.minutes(), cut.to.minutes());
            if to <= now || from >= end {
                continue;
            }
            if from > now {
                spells.push(Spell { hours: hours(from - now), c: usual });
            }
            // What came in during the cut meets a fridge that is warm already.
            let mut passed = hours((now - from).max(0));
            for spell in unpowered_fridge(usual, ROOM_C, hours(to - from)) {
                let rest = (spell.hours - passed).max(0.0);
                passed = (passed - spell.hours).max(0.0);
                spells.push(Spell { hours: rest, c: spell.c });
            }
            now = to;
        }
        spells.push(Spell { hours: hours((end - now).max(0)), c: usual });
        spells
    }

    /// Why limits are shorter: "in a fridge at 8 °C".
    pub fn because(&self) -> String {
        match (self.fridge.runs_at.filter(|_| self.warm), self.long.is_empty()) {
            (Some(c), true) => format!("in a fridge at {c}\u{a0}°C"),
            (Some(c), false) => format!("in a fridge at {c}\u{a0}°C, without power for a time"),
            (None, _) => "in a fridge without power for a time".into(),
        }
    }

    /// From when on each batch is no longer to be eaten because it, or what it is made of, lay in the fridge through a long
    /// power cut; by its place in the index.
    pub fn lost(&self, index: &Index) -> Vec<Option<Lost>> {
        let mut all: Vec<Option<Lost>> = vec![None; index.batches.len()];
        if self.long.is_empty() {
            return all;
        }
        for &place in &index.order {
            all[place] = self.lost_of(index, &index.batches[place], &all);
        }
        all
    }

    fn lost_of(&self, index: &Index, made: &Made, done: &[Option<Lost>]) -> Option<Lost> {
        let kind = &self.rotation.kind;
        let made_at = made_at(made);
        let went_in = |cut: PowerCut| Lost { from: made_at, at_once: true, cut };
        for draw in &made.batch.draws {
            let source = match &draw.from {
                Source::Batch(id) => index.place(*id).and_then(|p| done[p]),
                Source::Part(part) if kind.animal || kind.is_cooked_whole() => {
                    let stay = frost::of_draw(self.rotation, made.batch, part);
                    self.lies(i64::from(self.rotation.piece.opened.0) * DAY + MADE_EARLY, stay)
                }
                // A vegetable that was cut ahead is perishable from the cut on; the wrapped rest has its clock.
                Source::Part(part) => {
                    let stay = frost::of_draw(self.rotation, made.batch, part);
                    let cut = draw.cut_on.filter(|d| *d < made.batch.day);
                    cut.and_then(|d| self.lies(i64::from(d.0) * DAY + MADE_EARLY, stay))
                }
            };
            if let Some(lost) = source.filter(|l| l.at_once || l.from < made_at) {
                return Some(went_in(lost.cut));
            }
        }
        // What vinegar, sugar or drying has preserved stays.
        if made.is_bank() { None } else { self.lies(made_at, frost::of_batch(self.rotation, made.batch.id)) }
    }

    /// When perishable food that lies in the fridge from this minute on is lost: four hours into the cut, or two hours after
    /// it came in, where the fridge was warm by then.
    ///
    /// In the freezer it is safe for longer: 24 hours in one that is half full, the shorter of the two published times.
    fn lies(&self, since: i64, stay: Option<&FrozenStay>) -> Option<Lost> {
        self.long.iter().find_map(|&cut| {
            // It goes in by the end of one day and comes out to thaw at the beginning of the day before it is used.
            let frozen = stay.is_some_and(|s| {
                (i64::from(s.from.0) + 1) * DAY <= cut.from.minutes() && cut.to.minutes() <= (i64::from(s.to.0) - 1) * DAY
            });
            let store = if frozen { Unpowered::HalfFreezer } else { Unpowered::Fridge };
            let safe = (60.0 * store.safe_hours()) as i64;
            let from = (cut.from.minutes() + safe).max(since + OUT_OF_THE_COLD);
            // Where the clock on the wall may have gone back, it is lost with the end of the cut at the latest.
            let hides = may_hide_an_hour(self.rotation, &cut) && cut.minutes() + 60 > safe;
            let from = if hides { from.min(cut.to.minutes() - 1) } else { from };
            (from < cut.to.minutes() && since < cut.to.minutes()).then_some(Lost { from, at_once: false, cut })
        })
    }

    /// When an opened pack of something perishable that lies in the fridge from this minute on is lost.
    pub fn pack_lost(&self, since: i64) -> Option<Lost> {
        self.lies(since, None)
    }

    /// Whether a meal comes too late for food that is lost.
    pub fn is_lost_at(&self, lost: Lost, slot: crate::rotation::Slot) -> bool {
        let at = self.rotation.mealtimes.iter().find(|m| m.id == slot.mealtime).and_then(|m| m.at);
        // A meal without a clock may be the last of the day.
        let at = at.map_or(i64::from(slot.day.0) * DAY + DAY - 1, |at| Moment { day: slot.day, at }.minutes());
        lost.at_once || at > lost.from
    }
}

/// The power cuts, in order, with the minutes without power; those that follow on each other before the fridge is cold again are
/// one. It is taken to need two hours (house rule, no source): four hours off, one on and four off are no two short cuts.
fn run_together(cuts: &[PowerCut]) -> Vec<(PowerCut, i64)> {
    let mut all: Vec<(PowerCut, i64)> = Vec::with_capacity(cuts.len());
    for cut in cuts {
        match all.last_mut() {
            Some((last, minutes)) if cut.from.minutes() - last.to.minutes() < COLD_AGAIN => {
                last.to = cut.to;
                *minutes += cut.minutes();
            }
            _ => all.push((*cut, cut.minutes())),
        }
    }
    all
}

/// Whether the clock on the wall may have gone back an hour during a cut, so that it lasted longer than it looks.
fn may_hide_an_hour(rotation: &Rotation, cut: &PowerCut) -> bool {
    may_go_back(rotation, cut.from.minutes(), cut.to.minutes())
}

/// Food that a power cut has ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lost {
    /// From which minute on.
    pub from: i64,
    /// Whether it was made of food that was lost already.
    pub at_once: bool,
    /// By which cut.
    pub cut: PowerCut,
}

/// The minute at which a batch counts as made: with the first meal of that day that eats of it, else early.
pub(super) fn made_at(made: &Made) -> i64 {
    made.minute.unwrap_or(i64::from(made.batch.day.0) * DAY + MADE_EARLY)
}

/// The minute at which people sit down to a meal, where it has a clock.
pub(super) fn minute_of(rotation: &Rotation, slot: crate::rotation::Slot) -> Option<i64> {
    let at = rotation.mealtimes.iter().find(|m| m.id == slot.mealtime).and_then(|m| m.at)?;
    Some(Moment { day: slot.day, at }.minutes())
}
