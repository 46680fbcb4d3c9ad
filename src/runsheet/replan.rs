//! Arranging the rest of a session anew from the middle of it.
//!
//! What is done stays done, what runs goes on to its end, and all else is open. First the earliest sit-down that is still
//! possible is sought for the next meal, then for what comes after it; then everything open is put as late as those allow, as on
//! the first sheet. The oven keeps its course of heats.

use super::{
    LineKind, Refusal,
    page::clock,
    sheet::{Line, Parts, Proof, RunSheet, SheetMeal, build, lines_of},
    solve::{Effort, begin_waits},
    words::brief_within,
    work::{Board, Problem, Spot, Why, Work},
};
use crate::timeline::{Onlooker, Status, solve_without_reason};

/// Something that runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Running {
    /// The line's number.
    pub line: usize,
    /// It ends so many minutes after its time on the sheet; below 0 before it.
    pub late: i64,
}

/// How far the kitchen is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Minute of the day.
    pub now: i64,
    /// Numbers of the lines that are done. What these follow is done as well.
    pub done: Vec<usize>,
    /// Lines that run. What needs no hands runs by the sheet's clock without being named, once what it follows is done.
    pub running: Vec<Running>,
    /// Lines that, against the sheet's clock, have not begun: an oven that nobody turned on.
    pub not_begun: Vec<usize>,
    /// From now on hands work at so many hundredths of the sheet's pace.
    pub pace: Option<u16>,
    /// No hands begin anything before this minute.
    pub not_before: Option<i64>,
}

/// A time that is not kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    /// "Wednesday supper", or the name of what is put away.
    pub what: String,
    /// Minute of the day on the sheet before.
    pub was: i64,
    /// And now.
    pub is: i64,
}

/// The new sheet and what became of the old one's times.
#[derive(Clone, Debug)]
pub struct Replanned {
    /// The sheet: what is done, what runs, and the rest anew.
    pub sheet: RunSheet,
    /// What comes later than it was to.
    pub slips: Vec<Slip>,
    /// In sentences: what slips, what stood too long.
    pub says: Vec<String>,
    /// Proven: the next meal cannot be sooner.
    pub earliest: bool,
}

/// What has waited past its time is begun within so many minutes, even if people sit at table.
const LATE_WITHIN: i64 = 40;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    /// Until this minute.
    Done(i64),
    /// From, until.
    Runs(i64, i64),
    Open,
}

/// Makes the sheet anew from `progress.now`.
///
/// # Errors
/// A [`Refusal`] where a line's number is none of the sheet's, or where what is left cannot be done at all that day.
pub fn replan(sheet: &RunSheet, progress: &Progress, onlooker: &mut dyn Onlooker) -> Result<Replanned, Refusal> {
    let p = &sheet.problem;
    let unknown = progress
        .done
        .iter()
        .chain(progress.running.iter().map(|r| &r.line))
        .chain(&progress.not_begun)
        .find(|id| **id >= p.works.len());
    if let Some(id) = unknown {
        return Err(refuse(format!("line {id} is none of this sheet's steps; name lines by their numbers")));
    }
    if progress.pace.is_some_and(|pace| !(10..=1_000).contains(&pace)) {
        return Err(refuse("a pace is told in hundredths, from 10 to 1000".to_string()));
    }
    let states = states(sheet, progress);
    let mut rest = Rest::of(sheet, progress, &states);
    let said_before = std::mem::take(&mut rest.says);
    // The next meal first.
    let next = sheet.meals_at.iter().filter(|(k, _)| rest.open_sitting(*k)).min_by_key(|(_, at)| *at).map(|(k, _)| *k);
    let mut earliest = true;
    if let Some(k) = next {
        let (late, proven) =
            rest.lateness(Some(k), onlooker).ok_or_else(|| refuse("what is left cannot be done any more today".to_string()))?;
        earliest = proven;
        rest.shift(|t| t == Some(k), late);
    }
    // Then whatever comes after, together; and all of it if even that is not enough.
    let mut solved = rest.solve(onlooker);
    if solved.is_none() {
        solved = rest.by_shifting(|t| t.is_none() || t != next, onlooker).or_else(|| {
            earliest = false;
            rest.by_shifting(|_| true, onlooker)
        });
    }
    let (starts, proof) = solved.ok_or_else(|| refuse("what is left cannot be done any more today".to_string()))?;
    Ok(rest.finish(sheet, progress, &states, starts, proof, earliest, said_before))
}

fn refuse(sentence: String) -> Refusal {
    Refusal { sentence, advice: Vec::new(), causes: Vec::new(), nothing: false, earliest: None }
}

/// What each work is doing at `now`.
fn states(sheet: &RunSheet, progress: &Progress) -> Vec<State> {
    let p = &sheet.problem;
    let now = progress.now;
    let n = p.works.len();
    let end = |w: usize| sheet.starts[w] + p.works[w].minutes;
    let mut states = vec![State::Open; n];
    for &w in &progress.done {
        states[w] = State::Done(end(w).min(now));
    }
    for r in &progress.running {
        let from = sheet.starts[r.line].min(now);
        let until = end(r.line) + r.late;
        states[r.line] = if until > now { State::Runs(from, until) } else { State::Done(now) };
    }
    // What the done and the running follow is done.
    let mut changed = true;
    while changed {
        changed = false;
        for l in &p.links {
            if states[l.after] != State::Open && states[l.before] == State::Open {
                states[l.before] = State::Done(end(l.before).min(now));
                changed = true;
            }
        }
    }
    // What needs no hands goes by itself.
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by_key(|&w| (sheet.starts[w], w));
    for w in order {
        let work = &p.works[w];
        let by_itself = work.hands == 0 || work.kind == LineKind::Sit;
        if states[w] != State::Open || !by_itself || sheet.starts[w] > now || progress.not_begun.contains(&w) {
            continue;
        }
        let ready = |l: &&super::work::Link| l.after == w;
        let free = p.links.iter().filter(ready).all(|l| matches!(states[l.before], State::Done(_)));
        let served = work.kind != LineKind::Sit
            || (0..n).any(|v| {
                p.works[v].kind == LineKind::ServeUp && p.works[v].dish == work.dish && matches!(states[v], State::Done(_))
            });
        if !free || !served {
            continue;
        }
        // Where what it follows ended late, it began late.
        let after = p.links.iter().filter(ready).map(|l| match states[l.before] {
            State::Done(e) => e + l.min,
            _ => now,
        });
        let from = after.max().unwrap_or(sheet.starts[w]).max(sheet.starts[w]).min(now);
        let until = from + work.minutes;
        states[w] = if until > now { State::Runs(from, until) } else { State::Done(until) };
    }
    states
}

/// What is left, as a problem of its own: work 0 marks now.
struct Rest {
    p: Problem,
    /// By work of `p` but the first: its place on the sheet.
    of: Vec<usize>,
    now: i64,
    says: Vec<String>,
}

impl Rest {
    fn of(sheet: &RunSheet, progress: &Progress, states: &[State]) -> Rest {
        let old = &sheet.problem;
        let now = progress.now;
        let mut p = Problem { capacities: old.capacities, begin: now - 1, targets: old.targets.clone(), ..Problem::default() };
        let marker = p.target("now", now, Some(0), None);
        p.add(Work {
            kind: LineKind::Sit,
            batch: None,
            dish: "now".into(),
            what: "Now".into(),
            steps: Vec::new(),
            minutes: 1,
            hands: 0,
            spot: Spot::Bench,
            racks: 0,
            appliance: None,
            board: Board::None,
            target: marker,
            companions: Vec::new(),
            portions: Vec::new(),
            cautions: Vec::new(),
            note: None,
            celsius: None,
        });
        let mut of = Vec::new();
        let mut place = vec![None; old.works.len()];
        for (w, work) in old.works.iter().enumerate() {
            let mut work = work.clone();
            let runs = match states[w] {
                State::Done(_) => continue,
                State::Runs(_, until) => {
                    work.minutes = until - now;
                    true
                }
                State::Open => {
                    if work.hands > 0 && work.kind != LineKind::Sit {
                        let pace = i64::from(progress.pace.unwrap_or(100));
                        work.minutes = ((work.minutes * 100 + pace - 1) / pace).max(1);
                    }
                    false
                }
            };
            let hands = work.hands > 0;
            let at = p.add(work);
            place[w] = Some(at);
            of.push(w);
            let wait = if hands && !runs { progress.not_before.unwrap_or(now) - now } else { 0 };
            p.link(0, at, wait.max(0), runs.then_some(0), Why::Order);
        }
        let mut says = Vec::new();
        for l in &old.links {
            let Some(after) = place[l.after] else { continue };
            match (place[l.before], states[l.before]) {
                (Some(before), _) => p.link(before, after, l.min, l.max, l.why),
                (None, State::Done(end)) if !matches!(states[l.after], State::Runs(..)) => {
                    let least = (end + l.min - now).max(0);
                    let most = l.max.map(|max| end + max - now);
                    // What has waited too long is done at once, and that is said.
                    let most = most.map(|m| if m < least { None } else { Some(m) });
                    if most == Some(None) {
                        let (what, for_) = (brief_within(&old.works[l.after].what), &old.works[l.after].dish);
                        says.push(match l.why {
                            Why::Fridge => format!("Past its time: {what} ({for_}). It should have been in the fridge by {}; if it stood warm much longer, throw it away.", clock(end + l.max.unwrap_or(0) + old.works[l.after].minutes)),
                            _ => format!("Past its time: {what} ({for_}). Do it at once."),
                        });
                    }
                    p.link(0, after, least, most.map(|m| m.unwrap_or(least + LATE_WITHIN)), l.why);
                }
                _ => {}
            }
        }
        p.loosen_pans();
        Rest { p, of, now, says }
    }

    /// Whether a sitting still has its serving up before it.
    fn open_sitting(&self, k: usize) -> bool {
        // Position of the sitting among those of the day is kept in the targets.
        self.p.works.iter().skip(1).any(|w| w.kind == LineKind::ServeUp && self.p.targets[w.target].sitting == Some(k))
    }

    /// By how much the meal `k` must be later than it was to be, at the least, and whether that is proven. Everything that it does not need is left out.
    fn lateness(&self, k: Option<usize>, onlooker: &mut dyn Onlooker) -> Option<(i64, bool)> {
        let n = self.p.works.len();
        let mut needed: Vec<bool> = (0..n)
            .map(|w| {
                w == 0
                    || self.p.works[w].kind == LineKind::ServeUp && self.p.targets[self.p.works[w].target].sitting == k
                    || self.runs(w)
            })
            .collect();
        let mut changed = true;
        while changed {
            changed = false;
            for l in &self.p.links {
                if needed[l.after] && !needed[l.before] {
                    needed[l.before] = true;
                    changed = true;
                }
            }
        }
        let place: Vec<usize> = (0..n).map(|w| (0..w).filter(|v| needed[*v]).count()).collect();
        let mut p = self.p.clone();
        let mut keep = needed.iter();
        p.works.retain(|_| keep.next().copied().unwrap_or(false));
        p.links.retain(|l| needed[l.before] && needed[l.after]);
        for l in &mut p.links {
            (l.before, l.after) = (place[l.before], place[l.after]);
        }
        // Now is where the table lets it be: the mark moves instead of the table. What runs past the meal is no part of that.
        let far = p.works.iter().map(|w| p.targets[w.target].serve).max().unwrap_or(self.now) + 1_440;
        for t in &mut p.targets {
            if t.sitting != k {
                (t.serve, t.hold) = (far, None);
            }
        }
        p.begin = self.now - 3 * 1_440;
        // The span is from the mark to the far target; the least of it is the latest mark.
        let mut effort = Effort::new(onlooker);
        let answer = solve_without_reason(&p.instance(), &mut effort).ok()?;
        let starts = answer.starts?;
        let mark = starts[0] + p.begin + 1;
        let proven = matches!(answer.status, Status::Optimal | Status::SpanOptimal);
        Some(((self.now - mark).max(0), proven))
    }

    fn runs(&self, w: usize) -> bool {
        self.p.links.iter().any(|l| l.before == 0 && l.after == w && l.max == Some(0) && l.min == 0 && l.why == Why::Order)
    }

    /// Moves the targets that `which` names, by their sitting.
    fn shift(&mut self, which: impl Fn(Option<usize>) -> bool, by: i64) {
        let marker = self.p.works[0].target;
        for (t, target) in self.p.targets.iter_mut().enumerate() {
            if t != marker && which(target.sitting) {
                target.serve += by;
            }
        }
    }

    /// A schedule from now on, all of it as late as may be.
    fn solve(&self, onlooker: &mut dyn Onlooker) -> Option<(Vec<i64>, Proof)> {
        let mut effort = Effort::new(onlooker);
        let answer = solve_without_reason(&self.p.instance(), &mut effort).ok()?;
        let proof = match answer.status {
            Status::Optimal => Proof::Best,
            Status::SpanOptimal => Proof::LatestStart,
            _ => Proof::SoFar,
        };
        answer.starts.map(|s| (s.into_iter().map(|s| s + self.p.begin).collect(), proof))
    }

    /// Shifts what `which` names by as little as makes a schedule possible: doubling, then halving.
    fn by_shifting(
        &mut self,
        which: impl Fn(Option<usize>) -> bool + Copy,
        onlooker: &mut dyn Onlooker,
    ) -> Option<(Vec<i64>, Proof)> {
        let before = self.p.targets.clone();
        let mut at = |rest: &mut Rest, by: i64| {
            rest.p.targets.clone_from(&before);
            rest.shift(which, by);
            rest.solve(onlooker)
        };
        let mut high = 1;
        while at(self, high).is_none() {
            high *= 2;
            if high > 512 {
                self.p.targets.clone_from(&before);
                return None;
            }
        }
        let mut low = high / 2;
        while high - low > 1 {
            let middle = i64::midpoint(low, high);
            if at(self, middle).is_some() { high = middle } else { low = middle }
        }
        at(self, high)
    }

    /// The new sheet.
    #[allow(clippy::too_many_arguments, reason = "called once, with what the one caller has at hand")]
    fn finish(
        self,
        sheet: &RunSheet,
        progress: &Progress,
        states: &[State],
        mut starts: Vec<i64>,
        proof: Proof,
        earliest: bool,
        mut says: Vec<String>,
    ) -> Replanned {
        begin_waits(&self.p, &mut starts, self.now);
        let mut problem = sheet.problem.clone();
        let mut all = sheet.starts.clone();
        problem.targets = self.p.targets[..problem.targets.len()].to_vec();
        let old_line = |w: usize| sheet.lines.iter().find(|l| l.id == w && l.kind != LineKind::WashUp);
        let mut known: Vec<Line> = Vec::new();
        for (w, state) in states.iter().enumerate() {
            let (from, to) = match *state {
                State::Done(end) => ((end - problem.works[w].minutes).min(all[w]), end),
                State::Runs(from, until) => (from, until),
                State::Open => continue,
            };
            all[w] = from;
            problem.works[w].minutes = (to - from).max(1);
            known.extend(old_line(w).map(|l| Line { from, to: to.max(from + 1), ..l.clone() }));
        }
        for (k, &w) in self.of.iter().enumerate() {
            if states[w] == State::Open {
                all[w] = starts[k + 1];
                problem.works[w].minutes = self.p.works[k + 1].minutes;
            }
        }
        let mut lines = lines_of(&problem, &all, &sheet.kitchen, &known);
        for line in &mut lines {
            if let Some(old) = old_line(line.id) {
                line.cautions.clone_from(&old.cautions);
            }
        }
        let mut slips = Vec::new();
        let mut meals: Vec<SheetMeal> = Vec::new();
        let mut meals_at = Vec::new();
        for (meal, (k, was)) in sheet.meals.iter().zip(&sheet.meals_at) {
            let is = problem
                .works
                .iter()
                .zip(&all)
                .filter(|(w, _)| w.kind == LineKind::ServeUp && problem.targets[w.target].sitting == Some(*k));
            let is = is.map(|(w, s)| s + w.minutes).max().filter(|_| self.open_sitting(*k)).unwrap_or(*was);
            if is > *was {
                slips.push(Slip { what: meal.name.clone(), was: *was, is });
            }
            meals.push(SheetMeal { at: is, ..meal.clone() });
            meals_at.push((*k, is));
        }
        for (w, work) in problem.works.iter().enumerate() {
            let (was, is) = (sheet.problem.targets[work.target].serve, problem.targets[work.target].serve);
            let end = all[w] + work.minutes;
            if work.kind == LineKind::Box && problem.targets[work.target].sitting.is_none() && is > was && end > was {
                slips.push(Slip { what: format!("{}, put away", work.dish), was, is: end });
            }
        }
        says.extend(
            slips.iter().map(|s| format!("{} slips from {} to {} ({} min).", s.what, clock(s.was), clock(s.is), s.is - s.was)),
        );
        if slips.is_empty() {
            says.push("Every time on the sheet is kept.".into());
        } else if earliest {
            says.push("Proven: it cannot be sooner.".into());
        }
        let parts = Parts {
            day: sheet.day,
            meals,
            lines,
            later: sheet.later.clone(),
            proof,
            nodes: 0,
            kitchen: sheet.kitchen,
            now: Some(progress.now),
            meals_at,
        };
        Replanned { sheet: build(parts, problem, all), slips, says, earliest }
    }
}
