//! What a cook has settled of a day's cooking by hand, in the form in which it is kept when the window closes.
//!
//! Steps are known by their words and not by their numbers, so that what was settled outlives a plan that changed elsewhere. What
//! comes from a file is not trusted: minutes that no day has, lines that the sheet lacks and seats that the kitchen lacks make
//! the part that holds them count as what no longer fits.

use super::{
    Line, LineKind, Place, Proof, RunSheet, TakenAhead,
    sheet::{Parts, build},
    with_ahead,
};
use crate::{lists::Ticks, quantity::DayNo, rotation::Rotation};
use serde::{Deserialize, Serialize};
use std::{collections::BTreeMap, sync::Arc};

/// The most plans that are remembered, and of each the most days, things done ahead and proposals left (house limits).
const MOST_PLANS: usize = 40;
const MOST_DAYS: usize = 62;
const MOST_CHOSEN: usize = 200;
/// The most steps of a day and sentences said of it, and the longest of these in bytes.
const MOST_STEPS: usize = 500;
const MOST_SAID: usize = 40;
const LONGEST: usize = 1_000;
/// The minutes that a sheet may speak of: the day before, the day and two more; and the longest step.
const FIRST: i64 = -1_440;
const LAST: i64 = 3 * 1_440;

/// What was settled by hand about the cooking of each plan, the plan that was touched last at the end.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptCooking(Vec<(String, KeptPlan)>);

/// What was settled about one plan.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptPlan {
    /// What is done ahead without an edit of the plan, in the order in which it was taken.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ahead: Vec<TakenAhead>,
    /// Proposals that were left, by their words.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub left: Vec<String>,
    /// By day, those alone of which something was settled.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub days: Vec<KeptDay>,
}

/// What was settled about one day.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptDay {
    /// Which day of the plan.
    pub day: DayNo,
    /// Steps that stand where a hand put them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub moves: Vec<KeptMove>,
    /// The session as it was arranged last, once cooking has begun.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub session: Option<KeptSession>,
}

/// One step that was moved by hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptMove {
    /// What the line is known by: see [`RunSheet::key`].
    pub line: String,
    /// The minute of the day from which it stands there.
    pub from: i64,
}

impl KeptMove {
    /// The step in its own words, without what tells it from others.
    pub fn words(&self) -> &str {
        let mut parts = self.line.split('|').skip(4);
        parts.next().unwrap_or(&self.line)
    }
}

/// A session under way: the sheet's times as they were arranged last, and what has taken longer since.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptSession {
    /// Every step with its times and seats.
    pub lines: Vec<KeptLine>,
    /// By when each thing must be done, in the order of the sheet's problem.
    pub serves: Vec<i64>,
    /// When people sit down, in the order of the sheet's meals.
    pub meals: Vec<i64>,
    /// What is proven of it.
    pub proof: Proof,
    /// The minute at which it was arranged last, if it was since it began.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arranged_at: Option<i64>,
    /// What was said of that.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub says: Vec<String>,
}

/// One step of a session.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptLine {
    /// What the line is known by: see [`RunSheet::key`].
    pub line: String,
    /// From this minute of the day
    pub from: i64,
    /// to this one.
    pub to: i64,
    /// Minutes more that it takes, told since.
    #[serde(default, skip_serializing_if = "is_none")]
    pub late: i64,
    /// Which cook does it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cook: Option<u8>,
    /// Its ring, or its shelves.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub seats: Vec<u8>,
    /// Why it is done so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

fn is_none(minutes: &i64) -> bool {
    *minutes == 0
}

/// A change to what is kept of a plan's cooking.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum KeptChange {
    /// These steps of a day stand where a hand put them, and no others.
    Moves(DayNo, Vec<KeptMove>),
    /// A session as it stands now; nothing: it is over.
    Session(DayNo, Option<Box<KeptSession>>),
    /// This is done ahead, and nothing else.
    Ahead(Vec<TakenAhead>),
    /// A proposal is left, by its words.
    Left(String),
}

impl KeptCooking {
    /// Whether nothing was settled anywhere.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What was settled of a plan.
    pub fn of(&self, rotation: &Rotation) -> Option<&KeptPlan> {
        let plan = Ticks::plan(rotation);
        self.0.iter().find(|(p, _)| *p == plan).map(|(_, kept)| kept)
    }

    /// Keeps what was settled of a plan.
    pub fn change(&mut self, rotation: &Rotation, change: KeptChange) {
        let plan = Ticks::plan(rotation);
        let place = self.0.iter().position(|(p, _)| *p == plan);
        let mut kept = place.map(|i| self.0.remove(i).1).unwrap_or_default();
        match change {
            KeptChange::Moves(day, moves) => kept.on(day).moves = moves,
            KeptChange::Session(day, session) => kept.on(day).session = session.map(|s| *s),
            KeptChange::Ahead(ahead) => kept.ahead = ahead,
            KeptChange::Left(words) => kept.left.push(words),
        }
        kept.days.retain(|d| !d.moves.is_empty() || d.session.is_some());
        if kept != KeptPlan::default() {
            self.0.push((plan, kept));
        }
        *self = std::mem::take(self).within_limits();
    }

    /// As a file may hold it: no more than is remembered, the latest of each.
    #[must_use]
    pub fn within_limits(mut self) -> KeptCooking {
        fn latest<T>(list: &mut Vec<T>, most: usize) {
            let over = list.len().saturating_sub(most);
            list.drain(..over);
        }
        latest(&mut self.0, MOST_PLANS);
        for (_, plan) in &mut self.0 {
            latest(&mut plan.ahead, MOST_CHOSEN);
            latest(&mut plan.left, MOST_CHOSEN);
            latest(&mut plan.days, MOST_DAYS);
            for day in &mut plan.days {
                latest(&mut day.moves, MOST_STEPS);
                if day.session.as_ref().is_some_and(|s| !s.is_sane()) {
                    day.session = None;
                }
            }
        }
        self
    }
}

/// What is done ahead of a plan as it is now.
#[derive(Clone, Debug, Default)]
pub struct DoneAhead {
    /// The plan as the kitchen sees it; none: as it is.
    pub plan: Option<Arc<Rotation>>,
    /// What was taken and still can be, in the words for it now.
    pub taken: Vec<TakenAhead>,
    /// What was taken and can no longer be.
    pub lost: Vec<TakenAhead>,
}

impl KeptPlan {
    /// The plan with everything done ahead that was taken, as far as the plan still has it.
    pub fn done_ahead(&self, rotation: &Rotation) -> DoneAhead {
        let mut done = DoneAhead::default();
        for kept in &self.ahead {
            match with_ahead(done.plan.as_deref().unwrap_or(rotation), kept) {
                Some((plan, words)) => {
                    done.plan = Some(plan);
                    done.taken.push(TakenAhead { words, ..kept.clone() });
                }
                None => done.lost.push(kept.clone()),
            }
        }
        done
    }

    /// What was settled of a day.
    pub fn day(&self, day: DayNo) -> Option<&KeptDay> {
        self.days.iter().find(|d| d.day == day)
    }

    /// Steps of a day that stand where a hand put them.
    pub fn moves(&self, day: DayNo) -> &[KeptMove] {
        self.day(day).map_or(&[], |d| &d.moves)
    }

    fn on(&mut self, day: DayNo) -> &mut KeptDay {
        let at = self.days.iter().position(|d| d.day == day).unwrap_or_else(|| {
            self.days.push(KeptDay { day, moves: Vec::new(), session: None });
            self.days.len() - 1
        });
        &mut self.days[at]
    }
}

impl KeptSession {
    /// Whether it has times and lengths that a day of cooking can have.
    fn is_sane(&self) -> bool {
        let minute = |m: &i64| (FIRST..=LAST).contains(m);
        let short = |s: &String| s.len() <= LONGEST;
        let sane = |l: &KeptLine| {
            let seats = l.seats.len() <= usize::from(u8::MAX) && l.note.as_ref().is_none_or(short);
            minute(&l.from) && minute(&l.to) && l.from < l.to && (0..=LAST).contains(&l.late) && short(&l.line) && seats
        };
        self.lines.len() <= MOST_STEPS
            && self.lines.iter().all(sane)
            && self.serves.iter().chain(&self.meals).chain(&self.arranged_at).all(minute)
            && self.says.len() <= MOST_SAID
            && self.says.iter().all(short)
    }
}

/// A session taken up again.
#[derive(Clone, Debug)]
pub struct Resumed {
    /// The sheet as it was arranged last.
    pub sheet: RunSheet,
    /// By line: the minutes more that it takes.
    pub late: BTreeMap<usize, i64>,
}

impl RunSheet {
    /// What a line is known by beyond this sheet: its day and words, and which of those that say the same. Times are no part of
    /// it, so that it stays with its line when the rest is arranged anew.
    pub fn key(&self, line: &Line) -> String {
        let alike = |l: &&Line| (l.kind, &l.dish, &l.what) == (line.kind, &line.dish, &line.what) && l.id < line.id;
        let before = self.lines.iter().filter(alike).count();
        format!("cooking|{}|{}|{}|{}|{before}", self.day.0, line.kind.word(), line.dish, line.what)
    }

    /// The steps with their keys: all lines but the proposals to wash up.
    fn steps(&self) -> impl Iterator<Item = (String, &Line)> {
        self.lines.iter().filter(|l| l.kind != LineKind::WashUp).map(|l| (self.key(l), l))
    }

    /// The sheet with steps where a hand has put them before, and the moves that no longer fit: their step is gone, or something
    /// is in the way now. All are tried together first, since two steps may have changed places.
    pub fn with_moves(&self, moves: &[KeptMove]) -> (RunSheet, Vec<KeptMove>) {
        if moves.is_empty() {
            return (self.clone(), Vec::new());
        }
        let ids: BTreeMap<String, usize> = self.steps().map(|(key, l)| (key, l.id)).collect();
        let place = |m: &KeptMove| ids.get(&m.line).map(|id| (*id, m.from)).filter(|_| (FIRST..=LAST).contains(&m.from));
        let mut open: Vec<(usize, i64)> = moves.iter().filter_map(place).collect();
        if open.len() == moves.len()
            && let Some(all) = self.with_all_moved(&open)
        {
            return (all, Vec::new());
        }
        let mut sheet = self.clone();
        loop {
            let before = open.len();
            open.retain(|&(line, from)| match sheet.with_moved(line, from) {
                Ok(new) => {
                    sheet = new;
                    false
                }
                Err(_) => true,
            });
            if open.len() == before {
                break;
            }
        }
        let lost = |m: &&KeptMove| place(m).is_none_or(|at| open.contains(&at));
        (sheet, moves.iter().filter(lost).cloned().collect())
    }

    /// A session on this sheet in the form in which it is kept: minutes more by line, and what was said of the last arranging.
    pub fn kept(&self, late: &BTreeMap<usize, i64>, says: &[String]) -> KeptSession {
        let line = |(line, l): (String, &Line)| KeptLine {
            line,
            from: l.from,
            to: l.to,
            late: late.get(&l.id).copied().unwrap_or(0),
            cook: l.cook,
            seats: match &l.place {
                Place::Ring(n) => vec![*n],
                Place::Oven { shelves, .. } => shelves.clone(),
                _ => Vec::new(),
            },
            note: l.note.clone(),
        };
        KeptSession {
            lines: self.steps().map(line).collect(),
            serves: self.problem.targets.iter().map(|t| t.serve).collect(),
            meals: self.meals.iter().map(|m| m.at).collect(),
            proof: self.proof,
            arranged_at: self.arranged_at,
            says: says.to_vec(),
        }
    }

    /// What of a session still takes longer, on a sheet that is no longer the same.
    pub fn still_late(&self, kept: &KeptSession) -> BTreeMap<usize, i64> {
        let late: BTreeMap<&str, i64> =
            kept.lines.iter().filter(|l| (1..=LAST).contains(&l.late)).map(|l| (l.line.as_str(), l.late)).collect();
        self.steps().filter_map(|(key, l)| late.get(key.as_str()).map(|late| (l.id, *late))).collect()
    }

    /// A session that was begun on this sheet, as it was arranged last; none where the day's cooking is no longer the same.
    pub fn resumed(&self, kept: &KeptSession) -> Option<Resumed> {
        let by_key: BTreeMap<&str, &KeptLine> = kept.lines.iter().map(|l| (l.line.as_str(), l)).collect();
        let (mut problem, mut starts) = (self.problem.clone(), self.starts.clone());
        let same = by_key.len() == kept.lines.len()
            && self.steps().count() == kept.lines.len()
            && problem.targets.len() == kept.serves.len()
            && self.meals.len() == kept.meals.len()
            && kept.is_sane();
        if !same {
            return None;
        }
        let mut late = BTreeMap::new();
        let mut lines = Vec::new();
        for (key, old) in self.steps() {
            let l = by_key.get(key.as_str())?;
            let (start, work) = (starts.get_mut(old.id)?, problem.works.get_mut(old.id)?);
            (*start, work.minutes) = (l.from, l.to - l.from);
            let place = seated(old, l, self)?;
            lines.push(Line { from: l.from, to: l.to, cook: l.cook, place, note: l.note.clone(), ..old.clone() });
            if l.late > 0 {
                late.insert(old.id, l.late);
            }
        }
        problem.targets.iter_mut().zip(&kept.serves).for_each(|(t, serve)| t.serve = *serve);
        let mut meals = self.meals.clone();
        meals.iter_mut().zip(&kept.meals).for_each(|(meal, at)| meal.at = *at);
        let parts = Parts {
            day: self.day,
            meals,
            lines,
            later: self.later.clone(),
            proof: kept.proof,
            nodes: 0,
            kitchen: self.kitchen,
            now: kept.arranged_at,
            meals_at: self.meals_at.iter().zip(&kept.meals).map(|((k, _), at)| (*k, *at)).collect(),
        };
        Some(Resumed { sheet: build(parts, problem, starts), late })
    }
}

/// Where a kept line stands: cook and seats must be the kitchen's.
fn seated(old: &Line, kept: &KeptLine, sheet: &RunSheet) -> Option<Place> {
    let within = |seats: &[u8], most: u8| seats.iter().all(|n| (1..=most).contains(n));
    let cook = kept.cook.is_none_or(|c| old.hands && (1..=sheet.kitchen.cooks).contains(&c));
    let place = match (&old.place, &kept.seats[..]) {
        (Place::Ring(_), [n]) => within(&[*n], sheet.kitchen.rings.max(1)).then_some(Place::Ring(*n)),
        (Place::Oven { set_to, celsius, fan, .. }, shelves) => {
            let fits = shelves.len() <= usize::from(sheet.kitchen.shelves) && within(shelves, sheet.kitchen.shelves);
            fits.then(|| Place::Oven { set_to: *set_to, celsius: *celsius, fan: *fan, shelves: shelves.to_vec() })
        }
        (Place::Ring(_), _) => None,
        (other, seats) => seats.is_empty().then(|| other.clone()),
    };
    place.filter(|_| cook)
}
