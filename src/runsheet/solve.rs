//! From a coupled session to its best schedule: every course of the oven is tried, with and without shared work.

use super::{
    couple::Coupled,
    merge::merged,
    oven::{MOST_PLANS, plans, warm_again},
    session::Session,
    work::{Problem, Spot},
};
use crate::timeline::{News, Onlooker, Status, solve_without_reason};

/// The best schedule with what is proven of it.
pub(super) struct Best {
    pub problem: Problem,
    /// By work: the minute of the day at which it starts.
    pub starts: Vec<i64>,
    /// Proven: no later start is possible.
    pub latest_start: bool,
    /// Proven as well: nothing in it can be done later.
    pub all_late: bool,
    /// Clashes that the search learned from.
    pub nodes: u64,
}

impl Best {
    /// The minute at which work begins.
    pub(super) fn start(&self) -> i64 {
        self.starts.iter().copied().min().unwrap_or(0)
    }
}

/// What came of it.
pub(super) enum Found {
    Best(Box<Best>),
    /// Proven: there is no schedule.
    Impossible,
    /// Stopped before one was found.
    Stopped,
}

/// How often one search may ask its onlooker, if nobody else stops it: an effort that every machine makes alike, some seconds
/// long. What is found by then is nearly always the best.
const EFFORT: u64 = 6_000;
/// The same for the question whether a schedule exists at all.
const EFFORT_FOR_ANY: u64 = 1_500;

/// Stops after so many asks, or when the person says so.
pub(super) struct Effort<'o> {
    inner: &'o mut dyn Onlooker,
    left: u64,
    stopped: bool,
}

impl<'o> Effort<'o> {
    pub(super) fn new(inner: &'o mut dyn Onlooker) -> Effort<'o> {
        Effort { inner, left: EFFORT, stopped: false }
    }
}

impl Onlooker for Effort<'_> {
    fn stop(&mut self) -> bool {
        self.left = self.left.saturating_sub(1);
        self.stopped |= self.left == 0 || self.inner.stop();
        self.stopped
    }

    fn news(&mut self, news: &News) {
        self.inner.news(news);
    }
}

/// The best schedule of a session.
pub(super) fn best(session: &Session<'_>, coupled: &Coupled, onlooker: &mut dyn Onlooker) -> Found {
    let plain = best_of(coupled, None, onlooker);
    let Some(together) = merged(session, coupled) else { return plain };
    // Shared work saves hands; it is left alone where it would cost the start.
    let floor = match &plain {
        Found::Best(b) => Some(b.start()),
        Found::Impossible => None,
        Found::Stopped => return plain,
    };
    match best_of(&together, floor, onlooker) {
        Found::Best(shared) => {
            let whole = match &plain {
                Found::Best(b) => b.latest_start || shared.start() > b.start(),
                _ => true,
            };
            Found::Best(Box::new(Best { latest_start: shared.latest_start && whole, ..*shared }))
        }
        _ => plain,
    }
}

/// The best over all courses of the oven; nothing that begins before `floor`.
fn best_of(coupled: &Coupled, floor: Option<i64>, onlooker: &mut dyn Onlooker) -> Found {
    let all = plans(coupled);
    // None: more heats than can be put in order.
    let mut whole = (1..MOST_PLANS).contains(&all.len());
    let mut best: Option<Best> = None;
    let mut stopped = false;
    let mut nodes = 0;
    for plan in all {
        let mut problem = plan.laid_on(coupled);
        let begin = problem.begin;
        // Only what begins later than the best so far is of any use.
        problem.begin = match &best {
            Some(b) => b.start() + 1,
            None => begin.max(floor.unwrap_or(begin)),
        };
        let mut effort = Effort::new(onlooker);
        let Ok(answer) = solve_without_reason(&problem.instance(), &mut effort) else {
            // More steps than the search takes on.
            whole = false;
            continue;
        };
        stopped |= effort.stopped;
        nodes += answer.nodes;
        let Some(starts) = answer.starts else {
            whole &= answer.status == Status::Infeasible;
            continue;
        };
        let starts: Vec<i64> = starts.iter().map(|s| s + problem.begin).collect();
        problem.begin = begin;
        let proven = matches!(answer.status, Status::Optimal | Status::SpanOptimal);
        whole &= proven || best.is_some();
        best = Some(Best { problem, starts, latest_start: proven, all_late: answer.status == Status::Optimal, nodes: 0 });
    }
    match best {
        Some(mut b) => {
            begin_waits(&b.problem, &mut b.starts, i64::MIN);
            warm_again(&mut b.problem, &mut b.starts);
            Found::Best(Box::new(Best { latest_start: b.latest_start && whole, nodes, ..b }))
        }
        None if stopped || !whole => Found::Stopped,
        None => Found::Impossible,
    }
}

/// Whether any schedule exists, starting when it will; what was not decided counts as no.
pub(super) fn is_possible(problem: &Problem, onlooker: &mut dyn Onlooker) -> Option<i64> {
    let mut problem = problem.clone();
    problem.begin -= 2 * 1_440;
    let mut effort = Effort { inner: onlooker, left: EFFORT_FOR_ANY, stopped: false };
    let answer = solve_without_reason(&problem.instance(), &mut effort).ok()?;
    answer.starts.and_then(|s| s.into_iter().min()).map(|s| s + problem.begin)
}

/// Whether no schedule exists, proven, starting when it will.
pub(super) fn is_impossible(problem: &Problem, onlooker: &mut dyn Onlooker) -> bool {
    let mut problem = problem.clone();
    problem.begin -= 2 * 1_440;
    let mut effort = Effort { inner: onlooker, left: EFFORT_FOR_ANY, stopped: false };
    solve_without_reason(&problem.instance(), &mut effort).is_ok_and(|answer| answer.status == Status::Infeasible)
}

/// Lets every wait that takes nothing begin as soon as what it follows is done: dough rests from the moment it lies, whatever
/// comes next. Nothing begins before `since`.
pub(super) fn begin_waits(p: &Problem, starts: &mut [i64], since: i64) {
    let mut order: Vec<usize> = (0..p.works.len()).collect();
    order.sort_by_key(|&w| (starts[w], w));
    for w in order {
        let work = &p.works[w];
        let takes =
            work.hands > 0 || work.appliance.is_some() || matches!(work.spot, Spot::Ring | Spot::Oven { .. } | Spot::Table);
        if takes || starts[w] < since {
            continue;
        }
        let Some(soonest) =
            p.links.iter().filter(|l| l.after == w).map(|l| starts[l.before] + p.works[l.before].minutes + l.min).max()
        else {
            continue;
        };
        // Where something may not wait long after it, it begins as late as that asks.
        let held =
            p.links.iter().filter(|l| l.before == w).filter_map(|l| l.max.map(|max| starts[l.after] - max - work.minutes)).max();
        starts[w] = soonest.max(held.unwrap_or(i64::MIN)).max(since).min(starts[w]);
    }
}
