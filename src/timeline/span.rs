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

/// Clashes of the first probe; each round of two allows a half more.
const FIRST_PROBE: u64 = 300;

/// Looks for the least makespan from both sides.
///
/// One probe supposes the makespan to be as low as its bound: a schedule then is the best, a refutation raises the bound
/// (a destructive lower bound: Klein & Scholl 1999). The other asks for anything better than the best schedule. Both are
/// assumptions to the same engine, so what one learns the other knows. They take turns with growing effort.
pub(super) fn least_span(model: &mut Model, watch: &mut Watch<'_>, floor: i32) -> Span {
    let end = model.end;
    let mut best: Option<i32> = None;
    let mut starts = Vec::new();
    if !model.engine.assert(Lit::at_least(end, floor)) {
        return Span::Impossible;
    }
    let mut effort = FIRST_PROBE;
    loop {
        let bound = model.engine.low(end);
        if best.is_some_and(|b| b <= bound) {
            return Span::Known { best, bound, starts };
        }
        watch.span(best, bound);
        for low_side in [true, false] {
            let bound = model.engine.low(end);
            let goal = match (low_side, best) {
                (true, _) => Some(bound),
                (false, Some(b)) => Some(b - 1),
                (false, None) => None,
            };
            let assumed: Vec<Lit> = goal.map(|g| Lit::at_most(end, g)).into_iter().collect();
            let (slice, manner) = if best.is_none() && !low_side { (effort * 4, Manner::Both) } else { (effort, Manner::Both) };
            match watch.search(model, &assumed, slice, manner) {
                Outcome::Found => {
                    let value = |x: super::engine::Number| model.engine.values[x.0 as usize];
                    starts = model.starts.iter().map(|&s| value(s)).collect();
                    best = Some(value(end));
                }
                Outcome::Refuted => {
                    let above = match goal {
                        Some(g) if !model.engine.core.is_empty() => g + 1,
                        _ => i32::MAX,
                    };
                    // Refuted without a goal, or with nothing of it in the proof: then only what was found exists.
                    if above == i32::MAX || !model.engine.assert(Lit::at_least(end, above)) {
                        return match best {
                            Some(b) => Span::Known { best, bound: b, starts },
                            None => Span::Impossible,
                        };
                    }
                }
                Outcome::Stopped => {}
            }
            if watch.stopped() {
                return Span::Known { best, bound: model.engine.low(end), starts };
            }
            if best.is_some_and(|b| b <= model.engine.low(end)) {
                break;
            }
        }
        effort += effort / 2;
    }
}
