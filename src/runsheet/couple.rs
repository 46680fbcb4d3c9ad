//! From a session to the problem: every step of every batch with its minutes, hands, place and order, and all that a kitchen
//! does around the recipes: washing the board, taking out, boxing, warming, serving up.

use super::{
    LineCaution, LineKind, StepRef,
    session::{Again, Making, Session},
    words::{self, Washing},
    work::{Board, Problem, Spot, Why, Work},
};
use crate::{
    book::{Heat, Role, Step, StepPlace, Texture},
    lists::{BoxLabel, Holds, box_labels, how_cut, same_word, work_on},
    quantity::Portion,
    rotation::{BatchId, Source, capital},
    timeline::Capacities,
};

/// Minutes for washing board, knife, hands and tap after raw food. Common practice, no source.
const WASH: i64 = 3;
/// Minutes of hands for taking a dish out of the oven, and how long it may stay in past its time.
const TAKE_OUT: (i64, i64) = (1, 2);
/// How long what is done on the ring may wait for the next step: in the heat of its pan, or under its lid off the heat.
const PAN_WAITS: (i64, i64) = (10, 30);
/// How long a hot dish, a warm one and a crunchy one may stand before they are served. Common practice, no source.
const HOT_STANDS: i64 = 10;
pub(super) const WARM_STANDS: i64 = 20;
const CRUNCHY_STANDS: i64 = 5;
/// And kept warm, where there is no other way.
const KEPT_WARM: i64 = 60;
/// A rest of a joint may be drawn out by so much.
const REST_WAITS: i64 = 20;
/// How long people sit at table and no hands are to be had.
pub(super) const AT_TABLE: i64 = 25;
/// A wait of so many minutes that nobody need watch may run past the last sit-down.
const LONG_WAIT: i64 = 45;
/// What is put into such a wait may stand so long before.
const BEFORE_LONG_WAIT: i64 = 30;
/// A wait beyond this ends on another day.
const OVER_NIGHT: i64 = 10 * 60;
/// Kept-back food is in the fridge so many minutes after it left the heat: the UK Food Standards Agency's one to two hours,
/// and one hour for rice.
pub(super) const FRIDGE_WITHIN: (i64, i64) = (120, 60);
/// Minutes for boxing and labelling one thing.
const BOX: i64 = 3;
/// Minutes for stripping a bird, a kilogram as bought: 20 for one of 5 kg. Common practice, no source.
const STRIP_PER_KG: f64 = 4.0;
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
}

/// The problem without its oven plan, with the oven's units and what is left for another day.
pub(super) struct Coupled {
    pub problem: Problem,
    pub units: Vec<super::oven::Unit>,
    pub later: Vec<String>,
}

impl Coupled {
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

pub(super) fn couple(session: &Session<'_>) -> Coupled {
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
        let preds: Vec<Vec<usize>> = (0..dish.steps.len()).map(|k| predecessors(&dish.steps, k)).collect();
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
            late[k] =
                unwatched || preds[k].iter().any(|&q| q < k && late[q]) || making.sitting.is_none() && is_last_wait(dish, k);
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
                    Spot::Oven { unit: self.unit(m, step) }
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

    /// The unit of the oven plan for a step: one for each heat that a making asks for.
    fn unit(&mut self, m: usize, step: &Step) -> usize {
        let dish = self.session.makings[m].dish;
        let band = match (words::heat_of(step), dish.oven) {
            (Some(own), Some(usual)) if own == usual.0 => usual,
            (Some(own), _) => (own, own.saturating_sub(10), own + 10),
            (None, Some(usual)) => usual,
            (None, None) => (180, 170, 190),
        };
        let unit = super::oven::Unit { making: m, name: dish.name.clone(), band };
        match self.units.iter().position(|u| u.making == m && u.band == band) {
            Some(known) => known,
            None => {
                self.units.push(unit);
                self.units.len() - 1
            }
        }
    }

    /// Ties the steps of a making to one another and to its meal.
    fn order(&mut self, m: usize, preds: &[Vec<usize>]) {
        let making = &self.session.makings[m];
        let steps = &making.dish.steps;
        let works = self.by_step[m].clone();
        let followers = |q: usize| {
            let works = &works;
            (0..steps.len()).filter(move |&k| preds[k].contains(&q) && works_at(works, k).is_some())
        };
        let mut taken_out: Vec<Option<usize>> = vec![None; steps.len()];
        for q in 0..steps.len() {
            let Some(before) = works[q] else { continue };
            let baked = steps[q].place == StepPlace::Oven && !steps[q].hands;
            let by_hand = followers(q).any(|k| steps[k].hands);
            let alone =
                followers(q).any(|k| !steps[k].hands && steps[k].place != StepPlace::Oven) || followers(q).next().is_none();
            if baked && (alone || !by_hand) && !followers(q).any(|k| !steps[k].hands && steps[k].place == StepPlace::Oven) {
                let what = format!("Take it out of the oven: {}", words::brief(&making.dish.name).to_lowercase());
                let mut out = blank(
                    LineKind::TakeOut,
                    &making.dish.name,
                    what,
                    paced(TAKE_OUT.0 as f64, self.session.kitchen.pace),
                    self.p.works[before].target,
                );
                out.batch = Some(making.batch.id);
                let out = self.p.add(out);
                self.p.link(before, out, 0, Some(TAKE_OUT.1), Why::Heat);
                taken_out[q] = Some(out);
            }
        }
        let mut ends = Vec::new();
        for q in 0..steps.len() {
            let Some(before) = works[q] else { continue };
            for k in followers(q) {
                let Some(after) = works[k] else { continue };
                // A wait begins the moment that what it follows is done.
                let waits = !steps[k].hands && matches!(steps[k].place, StepPlace::Bench | StepPlace::Fridge);
                let at_once = (waits && preds[k].len() == 1).then_some(0);
                match taken_out[q] {
                    Some(out) => {
                        let wait = steps[q].may_wait.map(i64::from);
                        self.p.link(out, after, 0, at_once.or(wait), Why::Order);
                    }
                    None => {
                        let target_changes = self.p.works[before].target != self.p.works[after].target;
                        let by_rule = wait_after(steps, q, k);
                        let max = at_once.or(by_rule).or(target_changes.then_some(BEFORE_LONG_WAIT).filter(|_| steps[q].hands));
                        // What the book says holds; what is only our habit may give way.
                        let ours = at_once.is_none()
                            && by_rule.is_some()
                            && steps[q].may_wait.is_none()
                            && steps[q].place == StepPlace::Ring;
                        self.p.link(before, after, 0, max, if ours { Why::Pan } else { Why::Order });
                    }
                }
            }
            if followers(q).next().is_none() {
                ends.push((taken_out[q].unwrap_or(before), q));
            }
            if steps[q].text.to_lowercase().contains("within the hour")
                && let Some(k) = (q + 1..steps.len()).find(|&k| steps[k].place == StepPlace::Oven)
                && let Some(after) = works[k]
            {
                self.p.link(before, after, 0, Some(60), Why::Fridge);
            }
        }
        if let Some(serve) = making.sitting.and_then(|k| self.serve_up[k]) {
            for &(end, q) in &ends {
                let why = if steps[q].may_wait.is_some() { Why::Hold } else { Why::Fresh };
                self.p.link(end, serve, 0, stands_before_serving(making, &steps[q]), why);
            }
        }
        self.ends.push(ends.into_iter().map(|e| e.0).collect());
    }

    /// What a making gives to others of the day comes before the step that takes it.
    fn components(&mut self, m: usize) {
        let making = &self.session.makings[m];
        let name = words::words(&making.dish.name);
        for &user in &making.feeds {
            let steps = &self.session.makings[user].dish.steps;
            let takes = |s: &Step| {
                let said = words::words(&s.text);
                said.iter().any(|w| {
                    w.len() > 3 && name.iter().any(|n| same_word(n, w)) || ["piece", "fish", "meat", "curd"].contains(&w.as_str())
                })
            };
            let at = steps.iter().position(takes).unwrap_or(0);
            let Some(after) = self.by_step[user].get(at).copied().flatten() else { continue };
            for end in self.ends[m].clone() {
                self.p.link(end, after, 0, None, Why::Order);
            }
        }
    }

    /// Twins, in a pan of their own, begun before meat or fish goes in.
    fn twins(&mut self, m: usize) {
        let s = self.session;
        let making = &s.makings[m];
        let Some(sitting) = making.sitting else { return };
        let Some(serve) = self.serve_up[sitting] else { return };
        let steps = &making.dish.steps;
        let flesh = words::RawFlesh::of(making.dish, making.raw_piece);
        let works = self.by_step[m].clone();
        let goes_in =
            (0..steps.len()).find(|&k| steps[k].hands && steps[k].place != StepPlace::Bench && flesh.in_hands(&steps[k].text));
        let apart = (0..steps.len()).find(|&k| words::sets_apart(&steps[k].text));
        let hot = matches!(making.dish.profile.heat, Some(Heat::Hot | Heat::Warm));
        for (twin, eaters) in &making.twins {
            let names: Vec<&str> = eaters.iter().map(|e| s.rotation.household.name(*e)).collect();
            let target = self.p.target(twin.name.clone(), self.ready[sitting], None, Some(sitting));
            let more = eaters.len().saturating_sub(1) as f64;
            let what = if hot {
                format!(
                    "For {}: {}, in a pan of its own with a spoon of its own, before meat or fish goes in",
                    names.join(", "),
                    twin.name
                )
            } else {
                format!("For {}: {}, with a board and spoon of its own", names.join(", "), twin.name)
            };
            let mut begin =
                blank(LineKind::Twin, &making.dish.name, what, paced(if hot { 3.0 } else { 4.0 } + more, s.kitchen.pace), target);
            begin.batch = Some(making.batch.id);
            begin.companions =
                twin.companions.iter().filter_map(|c| making.companions.iter().find(|m| m.0 == c.name).cloned()).collect();
            if hot {
                begin.spot = Spot::Ring;
            }
            let begin = self.p.add(begin);
            if let Some(at) = apart.and_then(|k| works[k]) {
                self.p.link(at, begin, 0, None, Why::Order);
            }
            if let Some(at) = goes_in.and_then(|k| works[k]) {
                self.p.link(begin, at, 0, None, Why::Order);
            }
            let end = if hot {
                let mut cook =
                    blank(LineKind::Twin, &making.dish.name, format!("{} cooks gently", capital(&twin.name)), 8, target);
                (cook.batch, cook.hands, cook.spot) = (Some(making.batch.id), 0, Spot::Ring);
                let cook = self.p.add(cook);
                self.p.link(begin, cook, 0, Some(0), Why::Heat);
                cook
            } else {
                begin
            };
            // Where the meat goes in an hour before the table, the twin waits in its pan.
            self.p.link(end, serve, 0, hot.then_some(HOT_STANDS), Why::Pan);
        }
    }

    /// What was made before and is eaten today.
    fn again(&mut self, again: &Again<'_>) {
        let Some(serve) = self.serve_up[again.sitting] else { return };
        let s = self.session;
        let target = self.p.target(again.dish.name.clone(), self.ready[again.sitting], None, Some(again.sitting));
        let name = again.dish.name.to_lowercase();
        let what = if again.warmed {
            format!("Into a pan with a splash of water: {name}")
        } else {
            format!("Out of the fridge: {name}")
        };
        let mut work =
            blank(LineKind::Warm, &again.dish.name, what, paced(if again.warmed { 2.0 } else { 1.0 }, s.kitchen.pace), target);
        work.batch = Some(again.batch.id);
        work.portions = vec![("kept".into(), again.portion)];
        if again.warmed {
            work.spot = Spot::Ring;
        }
        let first = self.p.add(work);
        let today = s.makings.iter().position(|m| m.batch.id == again.batch.id);
        for end in today.map(|m| self.ends[m].clone()).unwrap_or_default() {
            self.p.link(end, first, 0, None, Why::Order);
        }
        if !again.warmed {
            self.p.link(first, serve, 0, Some(30), Why::Fresh);
            return;
        }
        let mut heat = blank(LineKind::Warm, &again.dish.name, format!("Heat it right through: {name}"), 10, target);
        (heat.batch, heat.hands, heat.spot) = (Some(again.batch.id), 0, Spot::Ring);
        heat.cautions = vec![LineCaution::reheat()];
        let heat = self.p.add(heat);
        self.p.link(first, heat, 0, Some(0), Why::Heat);
        self.p.link(heat, serve, 0, Some(HOT_STANDS), Why::Fresh);
    }

    /// Raw food on the board is followed by washing at once, so that nothing clean meets it.
    fn boards(&mut self) {
        for w in 0..self.p.works.len() {
            if self.p.works[w].board != (Board::Raw { washed: false }) {
                continue;
            }
            let washes = |l: &&super::work::Link| l.before == w && self.p.works[l.after].board == Board::Wash;
            if let Some(wash) = self.p.links.iter().find(washes).map(|l| l.after) {
                self.p.link(w, wash, 0, Some(0), Why::Board);
                continue;
            }
            let of = &self.p.works[w];
            let what = "Wash board, knife, hands and tap after the raw food".to_string();
            let mut wash = blank(LineKind::Wash, &of.dish, what, paced(WASH as f64, self.session.kitchen.pace), of.target);
            (wash.batch, wash.board) = (of.batch, Board::Wash);
            let wash = self.p.add(wash);
            self.p.link(w, wash, 0, Some(0), Why::Board);
        }
    }

    /// What is kept of a hot dish is in the fridge within its time.
    fn keep_back(&mut self) {
        let s = self.session;
        let mut boxes: Vec<(usize, Work, i64)> = Vec::new();
        for (m, making) in s.makings.iter().enumerate() {
            let limit = if words::has_rice(making.dish) { FRIDGE_WITHIN.1 } else { FRIDGE_WITHIN.0 };
            let hot = |w: &usize| matches!(self.p.works[*w].spot, Spot::Ring | Spot::Oven { .. });
            let all: Vec<usize> = self.by_step[m].iter().flatten().copied().collect();
            let last_hot = all.iter().filter(|w| hot(w)).max_by_key(|w| (self.p.reach(**w).iter().filter(|r| !**r).count(), **w));
            // What was never hot is put away in the same time.
            let Some(&leaves) = last_hot.or(self.ends[m].first()) else { continue };
            // Its own step of putting away.
            let away = all.iter().copied().find(|&w| {
                w > leaves
                    && self.p.works[w].steps.iter().any(|r| words::puts_away(&making.dish.steps[r.step]))
                    && self.p.reach(leaves)[w]
            });
            if let Some(away) = away.filter(|_| making.dish.role != Role::Meal) {
                let max = limit - self.p.works[away].minutes;
                self.p.link(leaves, away, 0, Some(max.max(0)), Why::Fridge);
                continue;
            }
            let Some(kept) = &making.kept else { continue };
            let label = self.label(making.batch.id);
            let what = format!("Box what is kept for {}; {label}into the fridge", kept.purpose);
            let mut work = blank(LineKind::Box, &making.dish.name, what, paced(BOX as f64, s.kitchen.pace), 0);
            work.batch = Some(making.batch.id);
            work.portions = vec![("kept".into(), kept.portion)];
            boxes.push((leaves, work, limit));
        }
        if let Some((leaves, work)) = self.stripping() {
            boxes.push((leaves, work, FRIDGE_WITHIN.0));
        }
        let after_meal = s.last_at() + if self.serve_up.iter().any(Option::is_some) { AT_TABLE } else { 0 };
        let all: i64 = boxes.iter().map(|b| b.1.minutes).sum();
        for (leaves, mut work, limit) in boxes {
            let sat = s.makings.iter().find(|m| Some(m.batch.id) == work.batch).and_then(|m| m.sitting);
            let by = sat.map_or(after_meal, |k| s.sittings[k].at + AT_TABLE) + all + 8;
            work.target = self.p.target(format!("{}, put away", work.dish), by, None, sat);
            let minutes = work.minutes;
            let boxed = self.p.add(work);
            self.p.link(leaves, boxed, 0, Some((limit - minutes).max(0)), Why::Fridge);
            let of_dish = s.makings.iter().position(|m| Some(m.batch.id) == self.p.works[boxed].batch);
            for end in of_dish.map(|m| self.ends[m].clone()).unwrap_or_default() {
                self.p.link(end, boxed, 0, None, Why::Order);
            }
        }
    }

    /// A whole piece that was cooked today is taken off the bone and boxed for later days.
    fn stripping(&self) -> Option<(usize, Work)> {
        let (s, r) = (self.session, self.session.rotation);
        if !r.kind.is_cooked_whole() || r.piece.opened != s.day {
            return None;
        }
        let roast = |w: &&usize| self.p.works[**w].hands == 0 && matches!(self.p.works[**w].spot, Spot::Ring | Spot::Oven { .. });
        let hot =
            s.makings.iter().zip(&self.by_step).filter(|(m, _)| m.batch.draws.iter().any(|d| matches!(d.from, Source::Part(_))));
        let (making, leaves) = hot
            .filter_map(|(m, works)| {
                works.iter().flatten().filter(roast).max_by_key(|w| self.p.works[**w].minutes).map(|w| (m, *w))
            })
            .filter(|(_, w)| self.p.works[*w].minutes >= LONG_WAIT)
            .max_by_key(|(_, w)| self.p.works[*w].minutes)?;
        let later = |part: &crate::book::PartId| {
            let draws = r.batches.iter().filter(|b| b.day > s.day).flat_map(|b| &b.draws);
            draws.filter(|d| d.from == Source::Part(part.clone())).map(|d| d.portion.get()).fold(0, u32::saturating_add)
        };
        let portions: Vec<(String, Portion)> = r
            .kind
            .parts
            .iter()
            .map(|p| (p.name.clone(), Portion::of(r.kind.portioned, later(&p.id))))
            .filter(|p| !p.1.is_zero())
            .collect();
        if portions.is_empty() {
            return None;
        }
        let kilograms = f64::from(r.piece.mass.get()) / 1_000.0;
        let what = format!("Strip the {} into shallow boxes of 5 cm or less, label them; into the fridge", r.kind.name);
        let mut work =
            blank(LineKind::Box, &making.dish.name, what, paced((STRIP_PER_KG * kilograms).max(5.0), s.kitchen.pace), 0);
        work.batch = Some(making.batch.id);
        work.portions = portions;
        Some((leaves, work))
    }

    /// "label \"Leaf rolls, eat by Thursday\", ".
    fn label(&self, batch: BatchId) -> String {
        let s = self.session;
        let found = self.labels.iter().find(|l| l.batch == Some(batch) && l.since == s.day && l.holds != Holds::Cut);
        found.map_or_else(String::new, |l| {
            format!("label it \"{}, {}, eat by {}\"; ", l.what, s.rotation.day_name(s.day), s.rotation.day_name(l.eat_by))
        })
    }
}

fn works_at(works: &[Option<usize>], k: usize) -> Option<usize> {
    works.get(k).copied().flatten()
}

/// The steps that come right before one. Numbers that name no step are passed over.
fn predecessors(steps: &[Step], k: usize) -> Vec<usize> {
    if steps[k].after.is_empty() {
        return k.checked_sub(1).into_iter().collect();
    }
    let mut all: Vec<usize> = steps[k].after.iter().copied().filter(|&q| q < steps.len()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// Whether nothing follows but waits that take neither hands nor heat: it cools in its jar, it chills.
fn is_last_wait(dish: &crate::book::Dish, k: usize) -> bool {
    dish.steps[k..].iter().all(|s| !s.hands && matches!(s.place, StepPlace::Bench | StepPlace::Fridge))
}

/// The longest wait between two steps of a dish, where there is one.
fn wait_after(steps: &[Step], q: usize, k: usize) -> Option<i64> {
    use StepPlace::{Bench, Oven, Ring};
    let (before, after) = (&steps[q], &steps[k]);
    if let Some(wait) = before.may_wait {
        return Some(i64::from(wait));
    }
    let next = k == q + 1 && after.after.is_empty();
    match (before.hands, before.place, after.hands, after.place) {
        // The pan stays on its ring, the tray in its oven.
        (true, Ring, false, Ring) | (true, Oven, false, Oven) if next => Some(0),
        (true, Ring, true, Bench) if after.text.to_lowercase().contains("boiling hot") => Some(1),
        (true, Ring, true, _) if next => Some(PAN_WAITS.1),
        (false, Oven, _, _) => Some(TAKE_OUT.1),
        (false, Ring, _, _) if words::stands(&before.text) => Some(PAN_WAITS.1),
        (false, Ring, _, _) => Some(PAN_WAITS.0),
        (false, Bench, true, _) if words::words(&before.text).iter().any(|w| w == "rest") => Some(REST_WAITS),
        _ => None,
    }
}

/// How long a dish may stand after its last step.
fn stands_before_serving(making: &Making<'_>, last: &Step) -> Option<i64> {
    if let Some(wait) = last.may_wait {
        return Some(i64::from(wait));
    }
    let crunchy = making.dish.profile.texture.first().is_some_and(|t| t.0 == Texture::Crunchy);
    match making.dish.profile.heat {
        Some(Heat::Hot) if crunchy => Some(CRUNCHY_STANDS),
        Some(Heat::Hot) => Some(HOT_STANDS),
        Some(Heat::Warm) => Some(WARM_STANDS),
        _ => None,
    }
}

/// Shelves that a step takes with so much in it.
fn shelves(making: &Making<'_>, step: &Step) -> i64 {
    let usual = i64::from(step.shelves.unwrap_or(1).max(1));
    let more = (making.factor / PER_SHELF).ceil().max(1.0) as i64 - 1;
    usual + more.min(3)
}

/// Shared work: the same done to the same companion for two dishes, as positions of works.
pub(super) fn shared(session: &Session<'_>, p: &Problem) -> Vec<(usize, usize, String)> {
    let mut found: Vec<(usize, usize, String)> = Vec::new();
    let mut taken = vec![false; p.works.len()];
    let of = |w: &Work| w.batch.and_then(|b| session.makings.iter().find(|m| m.batch.id == b));
    for a in 0..p.works.len() {
        for b in a + 1..p.works.len() {
            let (x, y) = (&p.works[a], &p.works[b]);
            let both = [x, y]
                .iter()
                .all(|w| w.kind == LineKind::Step && w.hands == 1 && w.spot == Spot::Bench && w.board == Board::Clean);
            if !both || x.batch == y.batch || taken[a] || taken[b] || x.appliance.is_some() || y.appliance.is_some() {
                continue;
            }
            let (Some(m), Some(n)) = (of(x), of(y)) else { continue };
            let same = x.companions.iter().find(|(name, amount)| {
                let work = work_on(m.dish, name);
                work.is_some()
                    && work == work_on(n.dish, name)
                    && y.companions.iter().any(|c| c.0 == *name && c.1.measure == amount.measure)
            });
            // Done at once, neither may have to wait for what the other makes.
            if let Some((name, _)) = same
                && !p.reach(a)[b]
                && !p.reach(b)[a]
            {
                (taken[a], taken[b]) = (true, true);
                found.push((a, b, name.clone()));
            }
        }
    }
    found
}
