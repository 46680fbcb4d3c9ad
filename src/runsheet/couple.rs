//! From a session to the problem: every step of every batch with its minutes, hands, place and order, and all that a kitchen
//! does around the recipes: washing the board, taking out, boxing, warming, serving up.

mod beside;
mod kept;
mod order;

use super::{
    LineKind, StepRef,
    session::{Making, Session},
    words::{self, Washing},
    work::{Board, Problem, Spot, Why, Work},
};
use crate::{
    book::{Step, StepPlace},
    lists::{BoxLabel, box_labels, how_cut, same_word},
    quantity::Portion,
    rotation::{BatchId, Source},
    timeline::Capacities,
};

/// Minutes of hands for taking a dish out of the oven, and how long it may stay in past its time.
const TAKE_OUT: (i64, i64) = (1, 2);
/// How long what is done on the ring may wait for the next step: in the heat of its pan, or under its lid off the heat.
pub(super) const PAN_WAITS: (i64, i64) = (10, 30);
/// How long a hot dish, a warm one and (in `order`) a crunchy one may stand before they are served. Common practice, no source.
const HOT_STANDS: i64 = 10;
pub(super) const WARM_STANDS: i64 = 20;
/// And kept warm, where there is no other way.
const KEPT_WARM: i64 = 60;
/// How long people sit at table and no hands are to be had.
pub(super) const AT_TABLE: i64 = 25;
/// A wait of so many minutes that nobody need watch may run past the last sit-down.
const LONG_WAIT: i64 = 45;
/// A wait beyond this ends on another day.
const OVER_NIGHT: i64 = 10 * 60;
/// Kept-back food is in the fridge so many minutes after it left the heat: the UK Food Standards Agency's one to two hours,
/// and one hour for rice.
pub(super) const FRIDGE_WITHIN: (i64, i64) = (120, 60);
/// Of a hands step this part goes by the mass, the rest is the same for any. Common practice, no source.
const BY_MASS: f64 = 0.6;
/// So many times the book's four portions go on the shelves that it names; more take one more, with a tenth more time.
const PER_SHELF: f64 = 1.5;

/// What becomes of a step on the way into the problem.
struct Ctx<'s, 'r> {
    session: &'s Session<'r>,
    labels: Vec<BoxLabel>,
    p: Problem,
    /// By sitting: the work of serving up, where it has one.
    serve_up: Vec<Option<usize>>,
    /// By sitting: the minute at which serving up begins.
    ready: Vec<i64>,
    /// By making, by step: its work.
    by_step: Vec<Vec<Option<usize>>>,
    /// By making: works that nothing of the making follows.
    ends: Vec<Vec<usize>>,
    /// Steps that fall on a later day, in words.
    later: Vec<String>,
    units: Vec<super::oven::Unit>,
    /// Whether our habits give way: see [`couple_eased`].
    eased: bool,
}

/// The problem without its oven plan, with the oven's units and what is left for another day.
#[derive(Clone)]
pub(super) struct Coupled {
    pub problem: Problem,
    pub units: Vec<super::oven::Unit>,
    pub later: Vec<String>,
}

impl Coupled {
    /// The same without one batch: what would be if it were not cooked that day.
    pub(super) fn without(&self, batch: BatchId) -> Coupled {
        let mut problem = self.problem.clone();
        let stays: Vec<bool> = problem.works.iter().map(|w| w.batch != Some(batch)).collect();
        let place = |w: usize| stays[..w].iter().filter(|s| **s).count();
        problem.links.retain(|l| stays[l.before] && stays[l.after]);
        for l in &mut problem.links {
            (l.before, l.after) = (place(l.before), place(l.after));
        }
        let mut kept = stays.iter();
        problem.works.retain(|_| kept.next().copied().unwrap_or(true));
        // Heats that nobody asks for any more are no part of the oven's course.
        let used = |u: usize| problem.works.iter().any(|w| w.spot == Spot::Oven { unit: u });
        let heats: Vec<usize> = (0..self.units.len()).filter(|&u| used(u)).collect();
        for work in &mut problem.works {
            if let Spot::Oven { unit } = &mut work.spot {
                *unit = heats.iter().position(|u| u == unit).unwrap_or(0);
            }
        }
        let units = heats.iter().map(|&u| self.units[u].clone()).collect();
        Coupled { problem, units, later: self.later.clone() }
    }

    /// The same where dishes of which the book does not say how long they may stand are kept warm for up to an hour.
    pub(super) fn kept_warm(&self) -> Coupled {
        let mut problem = self.problem.clone();
        for link in problem.links.iter_mut().filter(|l| l.why == Why::Fresh) {
            link.max = link.max.map(|m| m.max(KEPT_WARM));
        }
        Coupled { problem, units: self.units.clone(), later: self.later.clone() }
    }
}

fn blank(kind: LineKind, dish: &str, what: String, minutes: i64, target: usize) -> Work {
    Work {
        kind,
        batch: None,
        dish: dish.to_string(),
        what,
        steps: Vec::new(),
        minutes: minutes.max(1),
        hands: 1,
        spot: Spot::Bench,
        racks: 0,
        appliance: None,
        board: Board::None,
        target,
        companions: Vec::new(),
        portions: Vec::new(),
        cautions: Vec::new(),
        note: None,
        celsius: None,
    }
}

/// The usual way.
pub(super) fn couple(session: &Session<'_>) -> Coupled {
    coupled(session, false)
}

/// Where there is no usual way: what the book does not say and only habit asks gives way. What comes out of the oven before the
/// next step is ready is taken out for its own sake and kept warm; pans and joints wait up to an hour. What the book says, and
/// what keeps food safe, stays as it is.
pub(super) fn couple_eased(session: &Session<'_>) -> Coupled {
    coupled(session, true).kept_warm()
}

fn coupled(session: &Session<'_>, eased: bool) -> Coupled {
    let k = session.kitchen;
    let capacities = Capacities {
        cooks: i64::from(k.cooks),
        racks: i64::from(k.shelves),
        rings: i64::from(k.rings),
        space: i64::from(k.cooks),
    };
    let mut ctx = Ctx {
        session,
        labels: box_labels(session.rotation),
        p: Problem { capacities, begin: session.begin, ..Problem::default() },
        serve_up: Vec::new(),
        ready: Vec::new(),
        by_step: Vec::new(),
        ends: Vec::new(),
        later: Vec::new(),
        units: Vec::new(),
        eased,
    };
    ctx.sit_downs();
    for m in 0..session.makings.len() {
        ctx.steps(m);
    }
    for m in 0..session.makings.len() {
        ctx.components(m);
        ctx.twins(m);
    }
    for again in &session.again {
        ctx.again(again);
    }
    ctx.boards();
    ctx.keep_back();
    Coupled { problem: ctx.p, units: ctx.units, later: ctx.later }
}

/// Minutes of hands at the household's pace.
fn paced(minutes: f64, pace: u16) -> i64 {
    ((minutes * 100.0 / f64::from(pace)).round() as i64).max(1)
}

impl Ctx<'_, '_> {
    /// Serving up and sitting down, each at its minute.
    fn sit_downs(&mut self) {
        let s = self.session;
        for (k, sitting) in s.sittings.iter().enumerate() {
            if !sitting.served {
                self.serve_up.push(None);
                self.ready.push(sitting.at);
                continue;
            }
            let people = sitting.eaters.len() as i64;
            // The last step of a dish is often the first of serving up.
            let last_steps = s.makings.iter().filter(|m| m.sitting == Some(k)).filter_map(|m| m.dish.steps.last());
            let begun: i64 = last_steps.filter(|l| l.hands && l.place == StepPlace::Bench).map(|l| i64::from(l.minutes)).sum();
            let least = (people + 1) / 2;
            let minutes = ((people + 1).clamp(2, 8) - begun).max(least.min(4)).max(1);
            let minutes = paced(minutes as f64, s.kitchen.pace);
            let target = self.p.target(sitting.name.clone(), sitting.at, Some(0), Some(k));
            let meal = s.rotation.mealtime_name(sitting.slot.mealtime);
            let what = format!("Serve up for {people}");
            let mut serving = blank(LineKind::ServeUp, meal, what, minutes, target);
            serving.spot = Spot::Table;
            let serving = self.p.add(serving);
            self.serve_up.push(Some(serving));
            self.ready.push(sitting.at - minutes);
            let target = self.p.target(format!("{}, at table", sitting.name), sitting.at + AT_TABLE, Some(0), Some(k));
            let mut sit = blank(LineKind::Sit, meal, format!("Sit down to {meal}"), AT_TABLE, target);
            (sit.hands, sit.spot) = (i64::from(s.kitchen.cooks), Spot::Table);
            self.p.add(sit);
        }
    }

    /// The steps of one making, in their order.
    fn steps(&mut self, m: usize) {
        let making = &self.session.makings[m];
        let dish = making.dish;
        let ready = making.sitting.map(|k| self.ready[k]);
        let front = self.p.target(dish.name.clone(), ready.unwrap_or_else(|| self.session.last_at()), None, making.sitting);
        let mut tail = None;
        let flesh = words::RawFlesh::of(dish, making.raw_piece);
        let mut named = vec![false; making.companions.len()];
        let (cutting, _) = how_cut(dish, &self.session.rotation.kind);
        let cutting =
            dish.steps.iter().position(|s| Some(s.text.as_str()) == cutting).unwrap_or_else(|| self.meets_piece(making));
        let preds: Vec<Vec<usize>> = (0..dish.steps.len()).map(|k| order::predecessors(&dish.steps, k)).collect();
        let mut late = vec![false; dish.steps.len()];
        let mut gone = vec![false; dish.steps.len()];
        let mut works: Vec<Option<usize>> = Vec::new();
        for (k, step) in dish.steps.iter().enumerate() {
            gone[k] = preds[k].iter().any(|&q| q < k && gone[q]);
            let minutes = self.minutes(making, step);
            if making.sitting.is_none() && !step.hands && minutes > OVER_NIGHT {
                gone[k] = true;
            }
            if gone[k] {
                self.later.push(format!("{}: {}", dish.name, step.text));
                works.push(None);
                continue;
            }
            // What is made for another day may wait alone past the last sit-down, and be put away after it.
            let unwatched = making.sitting.is_none() && !step.hands && step.place != StepPlace::Ring && minutes >= LONG_WAIT;
            late[k] = unwatched
                || preds[k].iter().any(|&q| q < k && late[q])
                || making.sitting.is_none() && order::is_last_wait(dish, k);
            let target = if late[k] {
                *tail.get_or_insert_with(|| self.p.target(format!("{}, put away", dish.name), self.session.close, None, None))
            } else {
                front
            };
            let mut work = blank(LineKind::Step, &dish.name, step.text.clone(), minutes, target);
            work.batch = Some(making.batch.id);
            work.steps = vec![StepRef { batch: making.batch.id, step: k }];
            work.hands = i64::from(step.hands);
            work.appliance = step.appliance.clone();
            work.spot = match step.place {
                StepPlace::Bench => Spot::Bench,
                StepPlace::Ring => Spot::Ring,
                StepPlace::Fridge => Spot::Fridge,
                StepPlace::Oven => {
                    work.racks = shelves(making, step);
                    Spot::Oven {
                        unit: self.unit(m, step, &works_of(&works, &preds[k]), &works_of(&works, &ancestors(&preds, k))),
                    }
                }
            };
            if matches!(work.spot, Spot::Oven { .. })
                && work.racks > self.session.kitchen.shelves.into()
                && self.session.kitchen.shelves > 0
            {
                // Not all at once: one lot after another on what there is.
                let has = i64::from(self.session.kitchen.shelves);
                let lots = (work.racks + has - 1) / has;
                (work.minutes, work.racks) = (work.minutes * lots, has);
                work.note = Some(format!(
                    "in {lots} lots, one after the other: the oven has {has} {}",
                    if has == 1 { "shelf" } else { "shelves" }
                ));
            }
            if step.hands && step.place == StepPlace::Bench {
                work.board = match (words::washing(&step.text), flesh.in_hands(&step.text)) {
                    (Some(Washing::First), _) => Board::Wash,
                    (Some(Washing::Last), _) => Board::Raw { washed: true },
                    (None, true) => Board::Raw { washed: false },
                    (None, false) if words::cuts(&step.text) => Board::Clean,
                    (None, false) => Board::None,
                };
            }
            if k == cutting {
                work.portions = self.portions(making);
            }
            for (c, (name, amount)) in making.companions.iter().enumerate() {
                let last = words::words(name).pop().unwrap_or_default();
                if !named[c] && words::words(&step.text).iter().any(|w| same_word(w, &last)) {
                    named[c] = true;
                    work.companions.push((name.clone(), *amount));
                }
            }
            works.push(Some(self.p.add(work)));
        }
        self.by_step.push(works);
        self.order(m, &preds);
    }

    /// The step at which the piece, or what was made of it, comes in: the first whose words name it, or else the first of all.
    fn meets_piece(&self, making: &Making<'_>) -> usize {
        let names: Vec<String> =
            self.portions(making).iter().flat_map(|(name, _)| words::words(name)).filter(|w| w.len() > 3).collect();
        let kind = words::words(&self.session.rotation.kind.name);
        let named = |s: &Step| {
            words::words(&s.text).iter().any(|w| {
                ["piece", "pieces", "fruit"].contains(&w.as_str())
                    || names.iter().chain(&kind).any(|n| w.len() > 3 && same_word(n, w))
            })
        };
        let steps = &making.dish.steps;
        steps.iter().position(|s| s.hands && named(s)).or_else(|| steps.iter().position(named)).unwrap_or(0)
    }

    /// What the piece gives to a making.
    fn portions(&self, making: &Making<'_>) -> Vec<(String, Portion)> {
        let r = self.session.rotation;
        let name = |from: &Source| match from {
            Source::Part(part) => r.kind.part(part).map_or_else(|| part.to_string(), |p| p.name.clone()),
            Source::Batch(id) => r.dish_of(*id).map_or_else(|| "what was made".into(), |d| d.name.to_lowercase()),
        };
        making.batch.draws.iter().map(|d| (name(&d.from), d.portion)).collect()
    }

    /// A step's minutes: hands by the mass and the pace, waits as the book has them.
    fn minutes(&self, making: &Making<'_>, step: &Step) -> i64 {
        let r = self.session.rotation;
        if let Some(minutes) = words::by_mass(&step.text, step.minutes, r.piece.mass.get()) {
            return minutes;
        }
        let book = f64::from(step.minutes);
        if step.hands {
            return paced(book * (1.0 - BY_MASS + BY_MASS * making.factor), self.session.kitchen.pace);
        }
        let fuller = step.place == StepPlace::Oven && shelves(making, step) > i64::from(step.shelves.unwrap_or(1));
        let minutes = if fuller { book * 1.1 } else { book };
        (minutes.ceil() as i64).max(1)
    }

    /// The unit of the oven plan for a step: one for each heat that a making asks for, and another where it comes back to that
    /// heat after something else, so that the oven may serve another dish meanwhile. `right_before`: works that it follows at once;
    /// `before`: all that are done by then.
    fn unit(&mut self, m: usize, step: &Step, right_before: &[usize], before: &[usize]) -> usize {
        let dish = self.session.makings[m].dish;
        let band = match (words::heat_of(step), dish.oven) {
            (Some(own), Some(usual)) if own == usual.0 => usual,
            (Some(own), _) => (own, own.saturating_sub(10), own + 10),
            (None, Some(usual)) => usual,
            (None, None) => (180, 170, 190),
        };
        let unit = super::oven::Unit { making: m, name: dish.name.clone(), band };
        let in_unit = |w: &usize| match self.p.works[*w].spot {
            Spot::Oven { unit } if self.units[unit].band == band => Some(unit),
            _ => None,
        };
        let goes_on = right_before.iter().find_map(in_unit);
        let comes_back: Vec<usize> = before.iter().filter_map(in_unit).collect();
        let beside = || {
            let same = |u: &usize| self.units[*u].making == m && self.units[*u].band == band && !comes_back.contains(u);
            (0..self.units.len()).find(same)
        };
        match goes_on.or_else(beside) {
            Some(known) => known,
            None => {
                self.units.push(unit);
                self.units.len() - 1
            }
        }
    }
}

/// Shelves that a step takes with so much in it.
fn shelves(making: &Making<'_>, step: &Step) -> i64 {
    let usual = i64::from(step.shelves.unwrap_or(1).max(1));
    let more = (making.factor / PER_SHELF).ceil().max(1.0) as i64 - 1;
    usual + more.min(3)
}

/// The works of some steps, where they have one yet.
fn works_of(works: &[Option<usize>], steps: &[usize]) -> Vec<usize> {
    steps.iter().filter_map(|&q| works.get(q).copied().flatten()).collect()
}

/// All steps that one follows, at once or through others.
fn ancestors(preds: &[Vec<usize>], k: usize) -> Vec<usize> {
    let mut seen = vec![false; preds.len()];
    let mut open = preds[k].clone();
    while let Some(q) = open.pop() {
        if !std::mem::replace(&mut seen[q], true) {
            open.extend(&preds[q]);
        }
    }
    (0..preds.len()).filter(|&q| seen[q]).collect()
}
