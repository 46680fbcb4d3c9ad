//! What may be done on an earlier day: each proposal solved both ways, with what it saves and what it costs.
//!
//! Three sorts. A bank or a component that is made on this day is made on an earlier one, by an edit of the plan. What a dish
//! begins with and may lie over night (a dough, a batter) is done the day before. And where two dishes of different
//! days are roasted at heats that meet, the second half is roasted with the first and kept plain.

use super::{RunSheet, Wish, run_sheet, words};
use crate::{
    book::{Dish, DishId, Method, Role, Step, StepPlace},
    judge::{Severity, judge},
    quantity::{DayNo, Days, Portion},
    rotation::{Batch, BatchId, Edit, Rotation, apply},
    timeline::Onlooker,
};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// Something that may be done ahead.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// What, in a sentence.
    pub words: String,
    /// The day on which it would be done.
    pub on: DayNo,
    /// Minutes of hands that both days save together; below 0 where it costs some.
    pub saves_hands: i64,
    /// Minutes of a hot oven that both days save together.
    pub saves_oven: i64,
    /// Minutes by which the day itself begins later.
    pub later_start: i64,
    /// What it costs, in a sentence.
    pub cost: String,
    /// The edit that does it, where the plan has a word for it.
    pub edit: Option<Edit>,
    /// Where the plan has no word for it: what is kept of it when it is taken.
    pub ahead: Option<TakenAhead>,
    /// The plan as the kitchen of both days sees it where it is done: their run sheets are made of this.
    pub kitchen_plan: Arc<Rotation>,
}

/// What is done ahead without a word in the plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum AheadSort {
    /// A dish is begun, and what lies over night is made.
    Begun,
    /// Its part of the oven's work is done along with another dish.
    Roasted,
}

/// A proposal that was taken without an edit, as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TakenAhead {
    /// What is done.
    pub sort: AheadSort,
    /// For this batch
    pub batch: BatchId,
    /// on this day
    pub day: DayNo,
    /// on this earlier one.
    pub on: DayNo,
    /// In the words of the proposal.
    pub words: String,
}

impl Proposal {
    /// What it saves over both days, in a sentence.
    pub fn figures(&self) -> String {
        let figure = |minutes: i64, saves: &str, costs: &str| match minutes {
            0 => None,
            1.. => Some(format!("{saves} {minutes} min")),
            _ => Some(format!("{costs} {} min more", -minutes)),
        };
        let figures: Vec<String> = [
            figure(self.later_start, "the day begins later by", "the day begins sooner by"),
            figure(self.saves_hands, "saves hands", "costs hands"),
            figure(self.saves_oven, "saves oven", "costs oven"),
        ]
        .into_iter()
        .flatten()
        .collect();
        format!("Over both days: {}.", figures.join(", "))
    }

    /// All of it in one line: what, what it saves, what it costs.
    pub fn says(&self) -> String {
        format!("{} {} {}", self.words, self.figures(), self.cost)
    }
}

/// A proposal must save so many minutes of something.
const WORTH: i64 = 5;
/// A wait this long early in a dish may as well be a night.
const A_NIGHT: u16 = 15;
/// Words of what may lie over night raw. Common practice, no source.
const LIES: &[&str] = &["dough", "batter", "pastry", "crumbs", "dumpling", "soak", "swell", "dressing", "brine"];
/// Minutes of hands and of a ring for warming what was roasted ahead.
const WARM: (u16, u16) = (2, 10);

/// The proposals for a day, what saves most first.
pub fn prep_ahead(rotation: &Rotation, day: DayNo, onlooker: &mut dyn Onlooker) -> Vec<Proposal> {
    let Ok(now) = run_sheet(rotation, day, &Wish::default(), onlooker) else { return Vec::new() };
    let mut found = Vec::new();
    found.extend(made_earlier(rotation, day, &now, onlooker));
    found.extend(candidates(rotation, day).into_iter().filter_map(|c| {
        let (saves_hands, saves_oven, later_start) = compare(rotation, &c.after, c.ahead.on, day, &now, onlooker)?;
        let (words, on) = (c.ahead.words.clone(), c.ahead.on);
        let (ahead, kitchen_plan) = (Some(c.ahead), Arc::new(c.after));
        Some(Proposal { words, on, saves_hands, saves_oven, later_start, cost: c.cost, edit: None, ahead, kitchen_plan })
    }));
    found.retain(|p: &Proposal| p.saves_hands.max(p.saves_oven).max(p.later_start) >= WORTH);
    found.sort_by_key(|p| (std::cmp::Reverse(p.saves_hands + p.saves_oven + p.later_start), p.words.clone()));
    found
}

/// Hands, oven and start of a day; nothing done where nothing is to do.
fn figures(r: &Rotation, day: DayNo, onlooker: &mut dyn Onlooker) -> Option<(i64, i64, Option<i64>)> {
    match run_sheet(r, day, &Wish::default(), onlooker) {
        Ok(s) => Some((s.summary.hands_minutes, s.summary.oven_minutes, Some(s.summary.start))),
        Err(e) if e.nothing => Some((0, 0, None)),
        Err(_) => None,
    }
}

/// Both days before and after.
fn compare(
    before: &Rotation,
    after: &Rotation,
    on: DayNo,
    day: DayNo,
    now: &RunSheet,
    onlooker: &mut dyn Onlooker,
) -> Option<(i64, i64, i64)> {
    let earlier = figures(before, on, onlooker)?;
    let (there, here) = (figures(after, on, onlooker)?, figures(after, day, onlooker)?);
    let s = &now.summary;
    let later = here.2.map_or(0, |start| start - s.start);
    Some((earlier.0 + s.hands_minutes - there.0 - here.0, earlier.1 + s.oven_minutes - there.1 - here.1, later))
}

/// Banks and components on the day before.
fn made_earlier(r: &Rotation, day: DayNo, now: &RunSheet, onlooker: &mut dyn Onlooker) -> Vec<Proposal> {
    let on = day.plus(Days(-1));
    if on < DayNo::FIRST || on < r.piece.opened {
        return Vec::new();
    }
    let worst = |r: &Rotation| {
        let mut speaking: Vec<_> =
            judge(r).findings.into_iter().filter(|f| f.speaks() && f.severity <= Severity::Warn).map(|f| f.severity).collect();
        speaking.sort();
        speaking
    };
    let before = worst(r);
    let made = r.batches.iter().filter(|b| b.day == day);
    let ahead = made.filter_map(|b| r.dishes.get(&b.dish).filter(|d| d.role != Role::Meal).map(|d| (b.id, d.clone())));
    ahead
        .filter_map(|(batch, dish)| {
            let edit = Edit::SetBatchDay { batch, day: on };
            let after = apply(r, &edit).ok()?.rotation;
            if worst(&after) > before || worst(&after).len() > before.len() {
                return None;
            }
            let (saves_hands, saves_oven, later_start) = compare(r, &after, on, day, now, onlooker)?;
            Some(Proposal {
                words: format!("Make {} on {} already.", dish.name, r.day_name(on)),
                on,
                saves_hands,
                saves_oven,
                later_start,
                cost: format!("It must be eaten a day sooner: it keeps {} from its making.", dish.keeps),
                edit: Some(edit),
                ahead: None,
                kitchen_plan: Arc::new(after),
            })
        })
        .collect()
}

/// A plan in which `first` steps of a batch are done on `on` as a dish of their own.
fn split(r: &Rotation, batch: &Batch, dish: &Dish, first: usize, on: DayNo, then: Vec<Step>) -> Option<Rotation> {
    let mut after = r.clone();
    let id = DishId::new(&format!("{}-ahead", dish.id))?;
    let ahead = Dish {
        id: id.clone(),
        name: format!("{}, begun", dish.name),
        role: Role::Component,
        steps: dish.steps[..first].to_vec(),
        twins: Vec::new(),
        ..dish.clone()
    };
    let mut rest: Vec<Step> = then;
    let shift = rest.len();
    for step in &dish.steps[first..] {
        let mut step = step.clone();
        // What followed a step that is done follows what is put in its place.
        step.after = step.after.iter().filter(|q| **q >= first).map(|q| q - first + shift).collect();
        rest.push(step);
    }
    if rest.is_empty() {
        return None;
    }
    let remaining = Dish { steps: rest, ..dish.clone() };
    after.dishes.insert(dish.id.clone(), Arc::new(remaining));
    after.dishes.insert(id.clone(), Arc::new(ahead));
    // The same mass, so that the same minutes come of it.
    let number = BatchId(after.batches.iter().map(|b| b.id.0).max().unwrap_or(0) + 1);
    after.batches.push(Batch { id: number, dish: id, day: on, draws: batch.draws.clone() });
    Some(after)
}

/// Something that may be done ahead, before anybody has reckoned what it saves.
struct Candidate {
    ahead: TakenAhead,
    cost: String,
    after: Rotation,
}

/// All of them of a day, at most one of each sort for a batch.
fn candidates(r: &Rotation, day: DayNo) -> Vec<Candidate> {
    begun_the_day_before(r, day).into_iter().chain(roasted_once(r, day)).collect()
}

/// The plan as the kitchen sees it where something is done ahead, and the words for it now; nothing where that can no longer be.
///
/// Nothing is solved: that it saves something was found when it was taken.
pub fn with_ahead(r: &Rotation, taken: &TakenAhead) -> Option<(Arc<Rotation>, String)> {
    let same = |c: &Candidate| {
        let a = &c.ahead;
        (a.sort, a.batch, a.day, a.on) == (taken.sort, taken.batch, taken.day, taken.on)
    };
    candidates(r, taken.day).into_iter().find(same).map(|c| (Arc::new(c.after), c.ahead.words))
}

/// Doughs, batters and the like the day before.
fn begun_the_day_before(r: &Rotation, day: DayNo) -> Vec<Candidate> {
    let on = day.plus(Days(-1));
    let made = r.batches.iter().filter(|b| b.day == day);
    made.filter_map(|batch| {
        let dish = r.dishes.get(&batch.dish)?;
        // The dish begins by hand at the bench and then waits.
        let wait = dish
            .steps
            .iter()
            .take(3)
            .position(|s| !s.hands && s.minutes >= A_NIGHT && matches!(s.place, StepPlace::Bench | StepPlace::Fridge))?;
        let by_hand = dish.steps[..wait].iter().all(|s| s.hands && s.place == StepPlace::Bench);
        let lies = dish.steps[..wait].iter().any(|s| words::words(&s.text).iter().any(|w| LIES.contains(&w.as_str())));
        if wait == 0 || !by_hand || !lies || on < DayNo::FIRST {
            return None;
        }
        let after = split(r, batch, dish, wait + 1, on, Vec::new())?;
        let words = format!("For {}: \"{}\" on {} already.", dish.name, dish.steps[0].text.trim_end_matches('.'), r.day_name(on));
        Some(Candidate {
            ahead: TakenAhead { sort: AheadSort::Begun, batch: batch.id, day, on, words },
            cost: "It lies covered in the fridge over night; take it out half an hour before it is used.".into(),
            after,
        })
    })
    .collect()
}

/// Roast once, keep half plain.
fn roasted_once(r: &Rotation, day: DayNo) -> Vec<Candidate> {
    let roasts = |b: &&Batch| {
        let dish = r.dishes.get(&b.dish);
        dish.is_some_and(|d| {
            d.role == Role::Meal && d.oven.is_some() && d.profile.method.first().is_some_and(|m| m.0 == Method::Roast)
        })
    };
    let here: Vec<&Batch> = r.batches.iter().filter(|b| b.day == day).filter(roasts).collect();
    let mut found = Vec::new();
    for batch in here {
        let Some(dish) = r.dishes.get(&batch.dish) else { continue };
        let keeps = dish.keeps.0.min(r.kind.cooked_days.0);
        let other = |b: &&Batch| {
            let gap = day.0 - b.day.0;
            let meets =
                r.dishes.get(&b.dish).and_then(|d| d.oven).zip(dish.oven).is_some_and(|(a, c)| a.1.max(c.1) <= a.2.min(c.2));
            (1..=keeps).contains(&gap) && meets && b.draws.iter().any(|d| matches!(d.from, crate::rotation::Source::Part(_)))
        };
        let Some(with) = r.batches.iter().filter(other).filter(roasts).max_by_key(|b| (b.day, b.id)) else { continue };
        let Some(last) = dish.steps.iter().rposition(|s| s.place == StepPlace::Oven) else { continue };
        let warm = |text: &str, minutes: u16, hands: bool| Step {
            text: text.into(),
            minutes,
            hands,
            place: StepPlace::Ring,
            after: Vec::new(),
            shelves: None,
            appliance: None,
            may_wait: None,
        };
        let then = vec![
            warm("Into a hot pan with what was roasted ahead.", WARM.0, true),
            warm("Warm it right through, 75\u{a0}°C in the middle.", WARM.1, false),
        ];
        let Some(after) = split(r, batch, dish, last + 1, with.day, then) else { continue };
        let first = r.dishes.get(&with.dish).map_or("", |d| d.name.as_str());
        let grams: u32 = batch.draws.iter().map(|d| Portion::get(d.portion)).sum();
        let words = format!(
            "Roast the {grams}\u{a0}g for {} on {} along with {first}, and keep them plain: oil and salt only.",
            dish.name,
            r.day_name(with.day)
        );
        found.push(Candidate {
            ahead: TakenAhead { sort: AheadSort::Roasted, batch: batch.id, day, on: with.day, words },
            cost: format!(
                "The cooked clock runs from {}: {keeps} days; warmed once and not again, and less crisp.",
                r.day_name(with.day)
            ),
            after,
        });
    }
    found
}
