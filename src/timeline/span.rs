//! The first criterion: the least span, proven.

use super::{
    engine::{Lit, Manner, Outcome},
    model::Model,
    watch::Watch,
};

/// What is known of the makespan when the search ends.
#[derive(Clone, Debug)]
pub(super) enum Span {
    /// No schedule exists.
    Impossible,
    /// `best`, if there is one, is the makespan of `starts`; nothing below `bound` is possible.
    Known { best: Option<i32>, bound: i32, starts: Vec<i32> },
}

/// Clashes of the first probe; each round of two allows half as many more.
const FIRST_PROBE: u64 = 300;

/// A bound this near the best schedule is no longer raised step by step, and further away that gets this part of the effort.
///
/// On the two hardest of the published projects most of the effort went into bounds one and two below the best, each a proof of
/// its own, where refuting anything better than the best says all of it: 71,000 and 53,000 clashes in the mean of six runs with
/// other restarts, where steps with half of the effort took 130,000 and 94,000.
const NEAR: i32 = 30;
const PART: u64 = 8;

/// Looks for the least makespan from both sides; nothing below `floor` is possible.
///
/// One probe supposes the makespan to be hardly above its bound: a schedule then is a good one, a refutation raises the bound
/// (a destructive lower bound: Klein & Scholl 1999), and the step doubles. The other asks for anything better than the best
/// schedule. Both are assumptions to the same engine, so what one learns the other knows. They take turns with growing effort,
/// until the two are near one another: then only the second goes on.
pub(super) fn least_span(model: &mut Model, watch: &mut Watch<'_>, floor: i32) -> Span {
    let end = model.end;
    let mut best: Option<i32> = None;
    let mut starts = Vec::new();
    if !model.engine.assert(Lit::at_least(end, floor)) {
        return Span::Impossible;
    }
    let (mut effort, mut step) = (FIRST_PROBE, 1);
    loop {
        for from_below in [true, false] {
            let bound = model.engine.low(end);
            if let Some(b) = best.filter(|b| *b <= bound) {
                watch.span(best, b);
                return Span::Known { best, bound, starts };
            }
            watch.span(best, bound);
            if from_below && best.is_some_and(|b| b - bound <= NEAR) {
                continue;
            }
            let goal = match (from_below, best) {
                (true, Some(b)) => Some((b - 1).min(bound.saturating_add(step - 1))),
                (true, None) => Some(bound.saturating_add(step - 1)),
                (false, Some(b)) => Some(b - 1),
                (false, None) => None,
            };
            let assumed: Vec<Lit> = goal.map(|g| Lit::at_most(end, g)).into_iter().collect();
            let slice = match (best, from_below) {
                // Nothing can be told before there is a schedule at all.
                (None, false) => effort * 4,
                (Some(_), true) => effort / PART,
                _ => effort,
            };
            match watch.search(model, &assumed, slice, Manner::Both) {
                Outcome::Found => {
                    starts = model.found();
                    best = Some(model.makespan(&starts));
                    step = (step / 2).max(1);
                }
                Outcome::Refuted => {
                    let above = goal.filter(|_| !model.engine.core.is_empty()).map(|g| g + 1);
                    step = step.saturating_mul(2).min(1 << 28);
                    // Refuted without a goal, or past what may be: nothing exists but what was found.
                    if !above.is_some_and(|a| model.engine.assert(Lit::at_least(end, a))) {
                        return match best {
                            Some(b) => {
                                watch.span(best, b);
                                Span::Known { best, bound: b, starts }
                            }
                            None => Span::Impossible,
                        };
                    }
                }
                Outcome::Stopped => step = (step / 2).max(1),
            }
            if watch.stopped() || model.engine.swamped {
                let bound = best.map_or(model.engine.low(end), |b| b.min(model.engine.low(end)));
                return Span::Known { best, bound, starts };
            }
        }
        effort += effort / 2;
    }
}
