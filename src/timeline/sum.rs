//! The second criterion: the least sum of starts at the least span.

use super::{
    chance::Chance,
    engine::{Lit, Manner, Number, Outcome, lower, upper},
    fluid::Fluid,
    mirror::Mirror,
    model::Model,
    nearby::Nearby,
    watch::Watch,
};

/// What is known of the sum of mirrored starts when the search ends.
#[derive(Clone, Debug)]
pub(super) struct Sum {
    /// The best schedule, mirrored.
    pub starts: Vec<i32>,
    /// Its sum.
    pub best: i64,
    /// No schedule of that span has a lesser one.
    pub bound: i64,
}

/// Clashes of the first slice of each sort; each round allows a quarter more.
const FIRST_SLICE: u64 = 1_500;

/// Looks for the least sum among the schedules whose makespan is `span`, of which `starts` is one.
///
/// Three searches on one engine take turns: for anything better, which proves the best when it fails; for something better
/// near the best, which finds good schedules of large days; and for anything near the bound, which raises it.
pub(super) fn least_sum(model: &mut Model, mirror: &Mirror, watch: &mut Watch<'_>, span: i32, starts: Vec<i32>) -> Sum {
    let best = starts.iter().map(|&s| i64::from(s)).sum();
    let mut at = Sum { starts, best, bound: best };
    // The schedule in hand has this span, so the engine cannot refuse it.
    if !model.engine.assert(Lit::at_most(model.end, span)) {
        return at;
    }
    let base: i64 = model.starts.iter().map(|&s| i64::from(model.engine.low(s))).sum();
    at.bound = base;
    let Ok(room) = i32::try_from(best - base) else { return at };
    if room == 0 || room > 1 << 30 {
        return at;
    }
    // The sum beyond what every schedule has.
    let total = model.engine.number(0, room);
    let terms = model.starts.iter().map(|&s| (lower(s), 1)).chain([(upper(total), 1)]).collect();
    model.engine.add_linear(terms, base);
    if let Some(fluid) = Fluid::of(mirror, model) {
        let (flow, bound) = fluid.bound(model, total, base, best);
        model.engine.set_flow(flow);
        at.bound = at.bound.max(bound);
    }
    let mut hunt = Hunt { total, base, at };
    hunt.run(model, mirror, watch, span);
    hunt.at
}

struct Hunt {
    total: Number,
    base: i64,
    at: Sum,
}

impl Hunt {
    fn run(&mut self, model: &mut Model, mirror: &Mirror, watch: &mut Watch<'_>, span: i32) {
        let mut near = Nearby::new(mirror.jobs.len(), Chance::new(1));
        let (mut slice, mut step) = (FIRST_SLICE, 1);
        loop {
            let known = (self.at.bound - self.base).min(i64::from(i32::MAX / 2)) as i32;
            if self.at.bound < self.at.best && model.engine.assert(Lit::at_least(self.total, known)) {
                self.at.bound = self.at.bound.max(self.base + i64::from(model.engine.low(self.total)));
            } else {
                self.at.bound = self.at.best;
            }
            watch.sum(span, self.at.best, self.at.bound);
            if self.at.bound >= self.at.best || watch.stopped() || model.engine.swamped {
                return;
            }
            match self.improve(model, watch, &[], slice) {
                Outcome::Refuted => {
                    self.at.bound = self.at.best;
                    continue;
                }
                Outcome::Found => continue,
                Outcome::Stopped => {}
            }
            let until = watch.clashes + slice;
            while watch.clashes < until && !watch.stopped() && !model.engine.swamped && self.at.bound < self.at.best {
                let kept = near.keep(mirror, model, &self.at.starts);
                let before = watch.clashes;
                let outcome = self.improve(model, watch, &kept, near.effort());
                if outcome == Outcome::Refuted && model.engine.core.is_empty() {
                    self.at.bound = self.at.best;
                }
                near.learn(outcome, watch.clashes - before);
                // A neighbourhood that is refuted at once costs time, too.
                watch.clashes += 2;
                watch.sum(span, self.at.best, self.at.bound);
            }
            if self.at.bound < self.at.best {
                step = self.raise(model, watch, slice, step);
            }
            slice += slice / 4;
        }
    }

    /// Looks for a schedule better than the best, keeping what is kept.
    fn improve(&mut self, model: &mut Model, watch: &mut Watch<'_>, kept: &[Lit], slice: u64) -> Outcome {
        if !model.engine.assert(Lit::at_most(self.total, (self.at.best - 1 - self.base) as i32)) {
            model.engine.core.clear();
            return Outcome::Refuted;
        }
        let outcome = watch.search(model, kept, slice, Manner::Both);
        if outcome == Outcome::Found {
            self.take(model);
        }
        outcome
    }

    /// Looks for a schedule less than `step` above the bound; returns the next step.
    fn raise(&mut self, model: &mut Model, watch: &mut Watch<'_>, slice: u64, step: i64) -> i64 {
        let goal = (self.at.bound + step - 1).min(self.at.best - 1);
        match watch.search(model, &[Lit::at_most(self.total, (goal - self.base) as i32)], slice, Manner::Active) {
            Outcome::Refuted => {
                self.at.bound = if model.engine.core.is_empty() { self.at.best } else { goal + 1 };
                step * 2
            }
            Outcome::Found => {
                self.take(model);
                step
            }
            Outcome::Stopped => (step / 2).max(1),
        }
    }

    fn take(&mut self, model: &Model) {
        let starts = model.found();
        let sum = starts.iter().map(|&s| i64::from(s)).sum();
        // The engine was asked for less than the best.
        if sum < self.at.best {
            (self.at.starts, self.at.best) = (starts, sum);
        }
    }
}
