//! The clocks: how long the raw piece and everything made of it keeps, and which meals come too late.

use super::{
    Code, Finding, Severity,
    clock::{Clock, Clocks, DAY, Reason, is_hot},
    cold::{Cold, Lost, minute_of},
    frost,
    index::{Index, Made},
    sight::Sight,
    words::{against, grams, is_much, slot_key},
};
use crate::{
    book::{Dish, PartId},
    quantity::{DayNo, Days},
    rotation::{BatchId, Eater, Frozen, FrozenStay, Moment, Rotation, Serving, Slot, Source},
};

/// One bar under the block: until when something keeps.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepingLine {
    /// What it is, in words: "middle, wrapped", "roast wedges".
    pub what: String,
    /// Raw part, or a batch.
    pub state: KeepingState,
    /// The day its clock started.
    pub since: DayNo,
    /// The limit in whole days.
    pub limit: Days,
    /// The last day on which it may be eaten (raw parts: cooked or eaten).
    pub last_day: DayNo,
    /// The last day on which the plan still uses it; nothing if it never does.
    pub last_use: Option<DayNo>,
    /// What sets the limit, in words: "rice", "cut wedge wrapped".
    pub because: String,
    /// The last day for those who must be taken special care of, where it is another: cooked food of animals.
    pub tender_last: Option<DayNo>,
    /// How often what is in it had been warmed up again by its making, that making included.
    pub reheated: u8,
    /// The last minute of the last day, where it counts in hours.
    pub until: Option<Moment>,
    /// When it lies in the freezer: in on the first day, thawed on the second.
    pub frozen: Option<(DayNo, DayNo)>,
}

/// What a keeping line is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum KeepingState {
    /// A raw part of the piece.
    Raw(PartId),
    /// A raw dish once made.
    Made(BatchId),
    /// Something cooked.
    Cooked(BatchId),
    /// A piece cooked whole.
    CookedWhole,
}

/// Reckons every clock and says which meals come too late.
///
/// All limits are whole days and allow an age up to and with the limit: calendar days, or 24 hours each where the hour is known
/// from which they count ([`super::clock`]). Stops: a raw part or cut form past its limit
/// when it is made (or, in a raw dish, eaten); anything eaten past the last day of what in it goes off first; a serving
/// before its making; a second reheating; over 5 % of what is usable lying raw in one part whose last day comes before the
/// plan's. A note marks a meal on the very last day.
///
/// The vulnerable have one day less on cooked food of animals (common practice, no source): a stop for that eater, or a
/// caution where the dish is boiled through on the day it is eaten.
///
/// Where the hour of the opening is known, what counts from it counts in hours ([`crate::rotation::Storage::opened_at`]). What is frozen ages no
/// more until it has thawed; used before it has, or frozen a second time, it is a stop.
///
/// A fridge that runs warm shortens every limit but a bank's, a long power cut ends what is perishable: see [`super::spoilage`].
///
/// Reheating is counted by days: a hot dish made of what was cooked on an earlier day is one, and so is a hot serving on a
/// later day than the making; the second is a stop. Banks do not count, nor does warming on the day of the cooking.
pub fn keeping(rotation: &Rotation) -> (Vec<KeepingLine>, Vec<Finding>) {
    of(&Sight::of(rotation))
}

/// The same of a rotation that is looked up already.
pub(super) fn of(sight: &Sight) -> (Vec<KeepingLine>, Vec<Finding>) {
    let Sight { index, cold, clocks } = sight;
    let lost = cold.lost(index);
    let mut findings = Vec::new();
    let mut lines = part_lines(index, cold, &mut findings);
    for (place, made) in index.batches.iter().enumerate() {
        let (Some(dish), Some(own)) = (made.dish, &clocks[place]) else { continue };
        let judged = Judged { index, cold, place, made, dish, clocks: own, lost: lost[place] };
        lines.push(judged.line());
        judged.findings(clocks, &mut findings);
    }
    (lines, findings)
}

/// One line a part that holds anything, or one for a piece cooked whole; and a stop for each part that goes off untouched.
fn part_lines(index: &Index, cold: &Cold, findings: &mut Vec<Finding>) -> Vec<KeepingLine> {
    let rotation = index.rotation;
    let kind = &rotation.kind;
    let usable = rotation.piece.usable_total(kind.portioned).get();
    // What each part has drawn, and the last day on which it is still used as it is.
    let mut drawn = vec![(0u32, None::<DayNo>); kind.parts.len()];
    for made in &index.batches {
        let stays_raw = made.dish.is_some_and(|d| !d.cooked) && !made.is_bank();
        let served = made.servings.last().filter(|_| stays_raw || kind.is_cooked_whole());
        let used = served.map_or(made.batch.day, |s| index.sittings[s.0].slot.day.max(made.batch.day));
        for draw in &made.batch.draws {
            let Source::Part(part) = &draw.from else { continue };
            let Some(i) = kind.parts.iter().position(|p| p.id == *part) else { continue };
            drawn[i].0 = drawn[i].0.saturating_add(draw.portion.get());
            drawn[i].1 = drawn[i].1.max(Some(used));
        }
    }
    if kind.is_cooked_whole() {
        let clock = cold.since_opening(kind.cooked_days, Reason::Whole);
        return vec![KeepingLine {
            what: format!("{}, cooked whole", kind.name),
            state: KeepingState::CookedWhole,
            since: clock.since,
            limit: clock.limit,
            last_day: clock.last(),
            last_use: drawn.iter().filter_map(|d| d.1).max(),
            because: format!("{} on {}{}", kind.clock_starts, rotation.day_name(clock.since), shorter(cold, clock)),
            tender_last: kind.animal.then(|| clock.shortened().last()).filter(|last| *last != clock.last()),
            reheated: 0,
            until: until(rotation, clock),
            frozen: None,
        }];
    }
    let mut lines = Vec::new();
    for (i, part) in kind.parts.iter().enumerate() {
        let held = rotation.piece.part(&part.id).map_or(0, |p| p.usable.get());
        if held == 0 && drawn[i].0 == 0 {
            continue;
        }
        let clock = cold.since_opening(part.raw_days, Reason::Raw(i));
        lines.push(KeepingLine {
            what: format!("{}, raw", part.name),
            state: KeepingState::Raw(part.id.clone()),
            since: clock.since,
            limit: clock.limit,
            last_day: clock.last(),
            last_use: drawn[i].1,
            because: format!("raw, {} on {}{}", kind.clock_starts, rotation.day_name(clock.since), shorter(cold, clock)),
            tender_last: None,
            reheated: 0,
            until: until(rotation, clock),
            frozen: None,
        });
        let free = held.saturating_sub(drawn[i].0);
        if is_much(free, usable) && clock.last() < rotation.last_day() {
            let text =
                format!("{}: {} still raw after {}, its last day", part.name, grams(free), rotation.day_name(clock.last()));
            findings.push(Finding::new(Severity::Stop, Code::RawTooOld, format!("part/{}", part.id), text));
        }
    }
    lines
}

/// The last minute of a clock that counts in hours.
pub(super) fn until(rotation: &Rotation, clock: Clock) -> Option<Moment> {
    clock.ends(rotation).and_then(moment)
}

/// The time on a day of a minute of the plan.
pub(super) fn moment(minute: i64) -> Option<Moment> {
    let day = DayNo(i16::try_from(minute.div_euclid(DAY)).ok()?);
    let of_day = minute.rem_euclid(DAY);
    let at = jiff::civil::Time::new((of_day / 60) as i8, (of_day % 60) as i8, 0, 0).ok()?;
    Some(Moment { day, at })
}

/// Why a limit is shorter than the published one, as the end of a clause; nothing where it is not.
fn shorter(cold: &Cold, clock: Clock) -> String {
    if clock.cut_short { format!(", {}", cold.because()) } else { String::new() }
}

/// A batch under judgement.
struct Judged<'a> {
    index: &'a Index<'a>,
    cold: &'a Cold<'a>,
    place: usize,
    made: &'a Made<'a>,
    dish: &'a Dish,
    clocks: &'a Clocks,
    /// From when on a power cut has ended it.
    lost: Option<Lost>,
}

impl Judged<'_> {
    fn day(&self, day: DayNo) -> String {
        self.index.rotation.day_name(day)
    }

    /// The stay in the freezer of what is left of the batch.
    fn stay(&self) -> Option<&FrozenStay> {
        frost::of_batch(self.index.rotation, self.made.batch.id)
    }

    fn line(&self) -> KeepingLine {
        let Clocks { tight, cooked, .. } = self.clocks;
        let stay = self.stay();
        let tight = &frost::at(*tight, stay, stay.map_or(tight.since, |s| s.to));
        let tender = self.clocks.tender.map(|t| frost::at(t, stay, stay.map_or(t.since, |s| s.to)));
        let id = self.made.batch.id;
        let eaten = self.made.servings.last().map(|s| self.index.sittings[s.0].slot.day);
        let used = self.made.users.iter().map(|&u| self.index.batches[u].batch.day);
        KeepingLine {
            what: self.dish.name.clone(),
            state: if *cooked { KeepingState::Cooked(id) } else { KeepingState::Made(id) },
            since: tight.since,
            limit: tight.limit,
            last_day: tight.last(),
            last_use: used.chain(eaten).max(),
            because: self.because(*tight),
            tender_last: tender.map(|t| t.last()).filter(|last| *last < tight.last()),
            reheated: self.clocks.reheated,
            until: until(self.index.rotation, *tight),
            frozen: stay.map(|s| (s.from, s.to)),
        }
    }

    fn because(&self, clock: Clock) -> String {
        let kind = &self.index.rotation.kind;
        let since = match clock.reason {
            Reason::Raw(part) if clock.thawed => format!("{} thawed on {}", kind.parts[part].name, self.day(clock.since)),
            Reason::Raw(part) => format!("{} raw, {} on {}", kind.parts[part].name, kind.clock_starts, self.day(clock.since)),
            Reason::Cut(form) => format!("{} cut on {}", form.word(), self.day(clock.since)),
            Reason::Whole => format!("{} {} on {}", kind.name, kind.clock_starts, self.day(clock.since)),
            Reason::Cooked(_) => format!("{} cooked on {}", kind.name, self.day(clock.since)),
            Reason::Keeps(p) if p == self.place => format!("this dish, made on {}", self.day(clock.since)),
            Reason::Keeps(p) => format!("{}, made on {}", self.index.batches[p].name(), self.day(clock.since)),
        };
        since + &shorter(self.cold, clock)
    }

    /// "tail raw", "shreds cut Monday", "cooked Friday".
    fn since_when(&self, clock: Clock) -> String {
        let since = self.day(clock.since);
        match clock.reason {
            Reason::Raw(part) if clock.thawed => format!("{} thawed", self.index.rotation.kind.parts[part].name),
            Reason::Raw(part) => format!("{} raw", self.index.rotation.kind.parts[part].name),
            Reason::Cut(form) => format!("{} cut {since},", form.word()),
            Reason::Whole | Reason::Cooked(_) => format!("cooked {since},"),
            Reason::Keeps(p) => {
                let what = &self.index.batches[p];
                let verb = if what.dish.is_some_and(|d| d.cooked) { "cooked" } else { "made" };
                if p == self.place { format!("{verb} {since},") } else { format!("{} {verb} {since},", what.name()) }
            }
        }
    }

    fn too_old(&self, clock: Clock, place: &str, day: DayNo, minute: Option<i64>) -> String {
        let (age, last) = self.against(clock, day, minute);
        format!("{place}, {}: {} {age}{}; {last}", self.dish.name, self.since_when(clock), shorter(self.cold, clock))
    }

    /// "3 days against 2" and "the last day is Monday", in hours where it is the hour that is past.
    fn against(&self, clock: Clock, day: DayNo, minute: Option<i64>) -> (String, String) {
        let rotation = self.index.rotation;
        let hours = minute.zip(clock.at).zip(until(rotation, clock)).filter(|_| day <= clock.last());
        let (age, last) = match hours {
            Some(((now, start), last)) => {
                let counted = (now - start - i64::from(clock.frozen.0) * DAY).max(0);
                let limit = i64::from(clock.limit.0) * 24;
                // So that no figure stands against itself.
                let broken = if counted / 60 == limit { format!("\u{a0}{}\u{a0}min", counted % 60) } else { String::new() };
                let age = format!("{} h{broken} against {limit} h", counted / 60);
                (age, format!("the last hour is {}", last.words(rotation)))
            }
            None => (against(clock.age(day), clock.limit), format!("the last day is {}", self.day(clock.last()))),
        };
        let frozen = match clock.frozen.0 {
            0 => String::new(),
            _ => format!(", {} in the freezer left out", clock.frozen),
        };
        (age + &frozen, last)
    }

    fn stop(&self, clock: Clock, about: &str, text: String) -> Finding {
        let (code, about) = match clock.reason {
            Reason::Raw(part) => (Code::RawTooOld, format!("{}/{about}", self.index.rotation.kind.parts[part].id)),
            Reason::Cut(_) => (Code::CutTooOld, about.to_string()),
            _ => (Code::CookedTooOld, about.to_string()),
        };
        Finding::new(Severity::Stop, code, format!("{}/{about}", self.made.key()), text).of(self.made.batch.id)
    }

    fn findings(&self, all: &[Option<Clocks>], findings: &mut Vec<Finding>) {
        let (made_on, rotation) = (self.made.batch.day, self.index.rotation);
        let minute = self.made.minute;
        let is_late = |c: &Clock| c.is_out(rotation, made_on, minute);
        let late: Vec<Clock> = self.clocks.making.iter().copied().filter(is_late).collect();
        self.frozen(findings);
        self.frozen_long(findings);
        let mut said: Vec<Clock> = Vec::new();
        for &clock in &late {
            if !said.contains(&clock) && !self.said_of_a_source(clock, all) {
                findings.push(self.at_making(clock));
            }
            said.push(clock);
        }
        // Food that was past its day when something was made of it is told at the meals that eat it; here where none does.
        let tight = self.clocks.tight;
        if is_late(&tight) && !said.contains(&tight) && self.made.servings.is_empty() && self.made.users.is_empty() {
            findings.push(self.at_making(tight));
        }
        if let Some(lost) = self.lost.filter(|l| l.at_once && self.made.servings.is_empty() && self.made.users.is_empty()) {
            let about = format!("{}/making", self.made.key());
            let text = self.lost_words(lost, &self.index.where_made(self.made));
            findings.push(Finding::new(Severity::Stop, Code::PowerCut, about, text).of(self.made.batch.id));
        }
        for (place, serving) in &self.made.servings {
            let sitting = &self.index.sittings[*place];
            self.serving(sitting.slot, serving, &sitting.present, &said, findings);
        }
    }

    /// Whether what is raw here had gone off before, in a batch that this one is made from.
    fn said_of_a_source(&self, clock: Clock, all: &[Option<Clocks>]) -> bool {
        self.made.sources.iter().any(|&s| {
            let before = all[s].as_ref().is_some_and(|c| c.making.contains(&clock));
            let source = &self.index.batches[s];
            before && clock.is_out(self.index.rotation, source.batch.day, source.minute)
        })
    }

    /// What is used while it is frozen, and what is frozen again.
    fn frozen(&self, findings: &mut Vec<Finding>) {
        let place = self.index.where_made(self.made);
        let mut say = |about: &str, text: String| {
            let about = format!("{}/{about}", self.made.key());
            let finding = Finding::new(Severity::Stop, Code::Frozen, about, text).of(self.made.batch.id);
            findings.push(match self.index.first_meal(self.made) {
                Some(slot) => finding.at(slot),
                None => finding,
            });
        };
        if let Some(thawed) = self.clocks.still_frozen {
            let text = format!("{place}, {}: what it is made of lies frozen until {}", self.dish.name, self.day(thawed));
            say("making", text);
        }
        if self.clocks.thawed && self.stay().is_some() {
            let text = format!("{}: it holds what has thawed already; food is not frozen twice", self.dish.name);
            say("twice", text);
        }
    }

    fn at_making(&self, clock: Clock) -> Finding {
        let minute = self.made.minute;
        let text = self.too_old(clock, &self.index.where_made(self.made), self.made.batch.day, minute);
        let finding = self.stop(clock, "making", text);
        match self.index.first_meal(self.made) {
            Some(slot) => finding.at(slot),
            None => finding,
        }
    }

    /// What lies in the freezer for longer than it stays as good as fresh: safe, and a note.
    fn frozen_long(&self, findings: &mut Vec<Finding>) {
        let rotation = self.index.rotation;
        for stay in rotation.storage.frozen.iter().filter(|s| s.what.batch() == self.made.batch.id) {
            let nice = frost::nice_for(rotation, stay);
            if stay.days() <= nice {
                continue;
            }
            let (what, about) = match &stay.what {
                Frozen::Batch(_) => (self.dish.name.clone(), self.made.key()),
                Frozen::Draw(_, part) => {
                    let name = rotation.kind.part(part).map_or(part.as_str(), |p| p.name.as_str());
                    (format!("{name} for {}", self.dish.name), format!("{}/{part}", self.made.key()))
                }
            };
            let text = format!(
                "{what}: {} in the freezer, as good as fresh for {}; safe it is for longer (US FoodSafety.gov, Cold Food Storage \
                 Chart)",
                stay.days(),
                nice
            );
            let finding = Finding::new(Severity::Note, Code::FrozenLong, about, text).of(self.made.batch.id);
            findings.push(match self.index.first_meal(self.made) {
                Some(slot) => finding.at(slot),
                None => finding,
            });
        }
    }

    fn serving(
        &self,
        slot: Slot,
        serving: &Serving,
        present: &[crate::rotation::EaterId],
        said: &[Clock],
        findings: &mut Vec<Finding>,
    ) {
        let (rotation, batch, key) = (self.index.rotation, self.made.batch, slot_key(slot));
        let about = format!("{}/{key}", self.made.key());
        let meal = rotation.slot_name(slot);
        let finding = |severity, code, text| Finding::new(severity, code, &about, text).at(slot).of(batch.id);
        if slot.day < batch.day {
            let text = format!("{meal}, {}: served before it is made on {}", self.dish.name, self.day(batch.day));
            findings.push(finding(Severity::Stop, Code::BeforeMade, text));
            return;
        }
        if let Some(lost) = self.lost.filter(|l| self.cold.is_lost_at(*l, slot)) {
            findings.push(finding(Severity::Stop, Code::PowerCut, self.lost_words(lost, &meal)));
            return;
        }
        let stay = self.stay();
        if let Some(stay) = stay.filter(|s| s.from < slot.day && slot.day < s.to) {
            let text = format!("{meal}, {}: it lies frozen until {}", self.dish.name, self.day(stay.to));
            findings.push(finding(Severity::Stop, Code::Frozen, text));
            return;
        }
        let minute = minute_of(rotation, slot);
        let tight = frost::at(self.clocks.tight, stay, slot.day);
        let age = tight.age(slot.day);
        if tight.is_out(rotation, slot.day, minute) {
            if !said.contains(&tight) {
                findings.push(self.stop(tight, &key, self.too_old(tight, &meal, slot.day, minute)).at(slot));
            }
        } else {
            if slot.day == tight.last() && age.0 >= 1 {
                let from = self.since_when(tight);
                let text = format!("{meal}, {}: last day, {} age {} of {}", self.dish.name, from, age.0, tight.limit.0);
                findings.push(finding(Severity::Note, Code::LastDay, text));
            }
            let tender = self.clocks.tender.map(|t| frost::at(t, stay, slot.day));
            if let Some(tender) = tender.filter(|t| t.is_out(rotation, slot.day, minute)) {
                let eaters = serving.eaten_by(present, self.dish);
                let tended = eaters.iter().filter_map(|&e| rotation.household.eater(e)).filter(|e| !e.care.is_empty());
                findings.extend(tended.map(|eater| self.tender(tender, slot, minute, &meal, &about, eater)));
            }
        }
        let again = is_hot(self.dish) && self.clocks.cooked && !self.made.is_bank() && slot.day > batch.day;
        let reheated = self.clocks.reheated.saturating_add(u8::from(again));
        if reheated > 1 {
            let text = format!(
                "{meal}, {}: the {} time that it is warmed up; food is reheated once only",
                self.dish.name,
                nth(reheated)
            );
            findings.push(finding(Severity::Stop, Code::Reheated, text));
        }
    }

    fn lost_words(&self, lost: Lost, place: &str) -> String {
        let what = if lost.at_once { "what it is made of lay" } else { "it lay" };
        let when = lost.cut.words(self.index.rotation);
        format!("{place}, {}: {what} in a fridge without power for over 4 hours, {when}; throw it away", self.dish.name)
    }

    fn tender(&self, clock: Clock, slot: Slot, minute: Option<i64>, meal: &str, about: &str, eater: &Eater) -> Finding {
        let (age, last) = self.against(clock, slot.day, minute);
        let figures = format!("{} {age}{}", self.since_when(clock), shorter(self.cold, clock));
        let about = format!("{about}/{}", eater.id.0);
        let (severity, code, text) = if self.dish.boiled_through && slot.day == self.made.batch.day {
            let text = format!("{meal}, {}: fit for {} only because it is boiled through, {figures}", self.dish.name, eater.name);
            (Severity::Caution, Code::BoiledThrough, text)
        } else {
            let care = eater.care.first().map_or("vulnerable", |c| c.word());
            let text = format!("{meal}, {}: too late for {} ({care}), {figures}; {last}", self.dish.name, eater.name);
            (Severity::Stop, Code::CookedTooOld, text)
        };
        Finding::new(severity, code, about, text).at(slot).of(self.made.batch.id).for_eater(eater.id)
    }
}

/// "second", "third", "4th".
fn nth(n: u8) -> String {
    match n {
        2 => "second".into(),
        3 => "third".into(),
        n => format!("{n}th"),
    }
}

#[cfg(test)]
mod tests;
