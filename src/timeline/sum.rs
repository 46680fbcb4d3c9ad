//! The second criterion: the least sum of starts at the least span.

use super::{
    chance::Chance,
    engine::{Lit, Manner, Number, Outcome, lower, upper},
    fluid::Fluid,
    mirror::Mirror,
    model::Model,
    watch::Watch,
};

/// What is known of the sum of mirrored starts when the search ends.
#[derive(Clone, Debug)]
pub(super) struct Sum {
    pub starts: Vec<i32>,
    pub best: i64,
    pub bound: i64,
}

/// Clashes of the first slice of every sort.
const FIRST_SLICE: u64 = 1_500;
/// Clashes of one neighbourhood.
const NEAR: u64 = 150;

pub(super) fn least_sum(model: &mut Model, mirror: &Mirror, watch: &mut Watch<'_>, span: i32, starts: Vec<i32>) -> Sum {
    let best = starts.iter().map(|&s| i64::from(s)).sum::<i64>();
    let mut at = Sum { starts, best, bound: 0 };
    if !model.engine.assert(Lit::at_most(model.end, span)) {
        // The schedule in hand has this span, so the engine cannot refuse it.
        at.bound = at.best;
        return at;
    }
    let lows: Vec<i32> = model.starts.iter().map(|&s| model.engine.low(s)).collect();
    let base: i64 = lows.iter().map(|&l| i64::from(l)).sum();
    at.bound = base;
    let Ok(room) = i32::try_from(at.best - base) else { return at };
    if room > 1 << 30 {
        return at;
    }
    if room == 0 {
        return at;
    }
    let total = model.engine.number(0, room);
    let mut terms: Vec<(u32, i32)> = model.starts.iter().map(|&s| (lower(s), 1)).collect();
    terms.push((upper(total), 1));
    model.engine.add_linear(terms, base);

    let fluid = Fluid::of(mirror);
    let f = |v: Vec<i32>| v.into_iter().map(f64::from).collect::<Vec<f64>>();
    let highs = f(model.starts.iter().map(|&s| model.engine.high(s)).collect());
    let relaxed = fluid.improve(&f(lows), &highs, at.best as f64, 1_000, None);
    if std::env::var("NOFLOW").is_err() { model.engine.set_flow(fluid.flow(model, &relaxed, total, base as f64)); }
    let floor = (relaxed.bound - 1e-3).ceil() as i64;
    at.bound = at.bound.max(floor);

    let mut chance = Chance::new(1);
    let mut slice = FIRST_SLICE;
    let mut free = 8.min(model.starts.len());
    let mut low_step = 1;
    loop {
        let tightest = Lit::at_least(total, (at.bound - base).clamp(0, i64::from(room)) as i32);
        if at.bound >= at.best || !model.engine.assert(tightest) {
            at.bound = at.best;
            watch.sum(span, at.best, at.bound);
            return at;
        }
        at.bound = at.bound.max(base + i64::from(model.engine.low(total)));
        watch.sum(span, at.best, at.bound);
        // Everything better.
        match improve(model, watch, &mut at, total, base, &[], slice) {
            Outcome::Refuted => {
                at.bound = at.best;
                continue;
            }
            Outcome::Found => continue,
            Outcome::Stopped => {}
        }
        // The neighbourhood of the best.
        let until = watch.clashes + slice;
        while watch.clashes < until && !watch.stopped() {
            let kept = neighbourhood(mirror, model, &at.starts, free, &mut chance);
            let before = watch.clashes;
            match improve(model, watch, &mut at, total, base, &kept, NEAR) {
                Outcome::Found => {watch.sum(span, at.best, at.bound)},
                Outcome::Refuted => {
                    if model.engine.core.is_empty() {
                        at.bound = at.best;
                        break;
                    }
                    if watch.clashes - before < NEAR / 4 {
                        free = (free + 1).min(model.starts.len());
                    }
                    watch.clashes += 2;
                }
                Outcome::Stopped => free = (free - 1).max(4),
            }
        }
        // The bound.
        let goal = (at.bound + low_step - base).min(at.best - 1 - base).max(0) as i32;
        match watch.search(model, &[Lit::at_most(total, goal)], slice, Manner::Active) {
            Outcome::Refuted => {
                at.bound = base + i64::from(goal) + 1;
                low_step *= 2;
            }
            Outcome::Found => take(model, &mut at),
            Outcome::Stopped => low_step = (low_step / 2).max(1),
        }
        if watch.stopped() {
            watch.sum(span, at.best, at.bound);
            return at;
        }
        slice += slice / 4;
    }
}

fn improve(model: &mut Model, watch: &mut Watch<'_>, at: &mut Sum, total: Number, base: i64, kept: &[Lit], slice: u64) -> Outcome {
    let better = Lit::at_most(total, (at.best - 1 - base) as i32);
    if !model.engine.assert(better) {
        model.engine.core.clear();
        return Outcome::Refuted;
    }
    let outcome = watch.search(model, kept, slice, Manner::Both);
    if outcome == Outcome::Found {
        take(model, at);
    }
    outcome
}

fn take(model: &Model, at: &mut Sum) {
    at.starts = model.starts.iter().map(|&s| model.engine.values[s.0 as usize]).collect();
    at.best = at.starts.iter().map(|&s| i64::from(s)).sum();
}

/// What stays as it is while `free` tasks are moved.
fn neighbourhood(mirror: &Mirror, model: &Model, starts: &[i32], free: usize, chance: &mut Chance) -> Vec<Lit> {
    let n = starts.len();
    let mut loose = vec![false; n];
    let way = chance.below(3);
    if way == 0 {
        // A stretch of time.
        let mut order: Vec<usize> = (0..n).collect();
        order.sort_by_key(|&j| (starts[j], j));
        let from = chance.below((n + 1 - free.min(n)) as u32) as usize;
        for &j in order.iter().skip(from).take(free) {
            loose[j] = true;
        }
    } else {
        let mut count = 0;
        let mut tries = 0;
        while count < free && tries < 10 * n {
            tries += 1;
            let j = chance.below(n as u32) as usize;
            let mut group = vec![j];
            if way == 1 {
                group.extend(mirror.gaps.iter().filter(|g| g.first == j).map(|g| g.then));
                group.extend(mirror.gaps.iter().filter(|g| g.then == j).map(|g| g.first));
            } else {
                group.extend((0..n).filter(|&k| k != j && (starts[k] - starts[j]).abs() < 20).take(2));
            }
            for k in group {
                count += usize::from(!std::mem::replace(&mut loose[k], true));
            }
        }
    }
    let give = [0, 10, 1_000_000_000][chance.below(3) as usize];
    let mut kept = Vec::new();
    for j in (0..n).filter(|&j| !loose[j]) {
        kept.push(Lit::at_most(model.starts[j], starts[j]));
        if give < 1_000_000_000 {
            kept.push(Lit::at_least(model.starts[j], starts[j] - give));
        }
    }
    kept
}
