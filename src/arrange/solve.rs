//! The whole of it: from an instance to an answer.

use super::{
    answer::{Answer, Limits, Progress, Status},
    impossible::{Filling, by_counting, by_deleting, fill},
    instance::Instance,
    local::{anneal, any_filling},
    mesh,
    reason::Reason,
    search::search,
    swap::Twins,
    table::{DishNo, Table},
    watch::{Gate, Patience, Watch},
};
use std::time::{Duration, Instant};

/// How often annealing starts anew, and how many tries a slot each time has.
const STARTS: u64 = 4;
const TRIES: usize = 3_000;

/// The best arrangement of `instance`, with proof, as far as `limits` let it come. News goes to `progress`: each better
/// arrangement and each higher bound.
pub fn arrange(instance: &Instance, limits: Limits<'_>, progress: &mut dyn FnMut(&Progress<'_>)) -> Answer {
    let limit = limits.seconds.filter(|s| s.is_finite()).map(|s| Duration::from_secs_f64(s.clamp(0.0, 1e9)));
    let patience = Patience { started: Instant::now(), limit, cancel: limits.cancel };
    let threads = limits.threads.max(1);
    let table = Table::new(instance);
    if table.candidates.iter().any(Vec::is_empty) {
        return none(by_counting(instance, &table), 0);
    }
    let mut tell = |watch: &Watch<'_>| {
        let best = watch.best.as_ref().map(|b| table.in_words_of(instance, b));
        progress(&Progress { best: best.as_deref().map(|b| (watch.below, b)), bound: watch.bound });
    };
    let mut watch = Watch::new(patience, i64::MAX / 8, -1, Some(&mut tell));
    watch.raise(first_bound(&table));
    let Ok(start) = any_filling(&table) else { return none(by_counting(instance, &table), 0) };
    start_well(&table, start, &mut watch);
    if watch.best.is_none() {
        if let Some(reason) = by_counting(instance, &table) {
            return none(Some(reason), 0);
        }
        match fill(&table, threads, patience) {
            Filling::None => return none(Some(by_deleting(instance, threads, patience)), watch.nodes),
            Filling::Unknown => {
                let bound = Some(watch.bound);
                let nodes = watch.nodes;
                return Answer { status: Status::Unknown, objective: None, bound, assignment: None, reason: None, nodes };
            }
            Filling::Found(dishes) => {
                if let Some(cost) = table.cost(&dishes) {
                    watch.found(cost, &dishes);
                }
                start_well(&table, dishes, &mut watch);
            }
        }
    }
    if !watch.is_closed() {
        search(&table, threads, &mut watch);
    }
    let status = if watch.is_closed() { Status::Optimal } else { Status::Feasible };
    Answer {
        status,
        objective: watch.best.is_some().then_some(watch.below),
        bound: Some(watch.bound),
        assignment: watch.best.as_ref().map(|b| table.in_words_of(instance, b)),
        reason: None,
        nodes: watch.nodes,
    }
}

/// The best arrangement of `instance` that passes `gate`, with proof, as far as `limits` let it come. `start` passes the gate
/// and is a first one. No more than `start` is looked for first: the gate is dear to ask.
pub(super) fn arrange_gated(
    instance: &Instance,
    gate: &dyn Gate,
    start: &[usize],
    limits: Limits<'_>,
    progress: &mut dyn FnMut(&Progress<'_>),
) -> Answer {
    let limit = limits.seconds.filter(|s| s.is_finite()).map(|s| Duration::from_secs_f64(s.clamp(0.0, 1e9)));
    let patience = Patience { started: Instant::now(), limit, cancel: limits.cancel };
    let table = Table::of(instance, false);
    let numbers = table.numbers();
    let mut tell = |watch: &Watch<'_>| {
        let best = watch.best.as_ref().map(|b| table.in_words_of(instance, b));
        progress(&Progress { best: best.as_deref().map(|b| (watch.below, b)), bound: watch.bound });
    };
    let place = |d: &usize| numbers.iter().position(|n| n == d).and_then(|d| DishNo::try_from(d).ok());
    let first: Option<Vec<DishNo>> = start.iter().map(place).collect();
    let mut watch = Watch::new(patience, i64::MAX / 8, -1, Some(&mut tell)).behind(gate, numbers.clone());
    if let Some((cost, first)) = first.and_then(|f| Some((table.cost(&f)?, f))) {
        watch.found(cost, &first);
    }
    watch.raise(first_bound(&table));
    if watch.best.is_none() || table.candidates.iter().any(Vec::is_empty) {
        let bound = Some(watch.bound);
        return Answer { status: Status::Unknown, objective: None, bound, assignment: None, reason: None, nodes: 0 };
    }
    if !watch.is_closed() && table.slots <= mesh::MOST_SLOTS {
        let named = gate.twins();
        let twins: Vec<Twins> = (0..named.len()).map(|t| Twins::of(&table, t, &named, &numbers)).collect();
        mesh::search(&table, &twins, &mut watch);
    } else if !watch.is_closed() {
        mesh::bound(&table, &mut watch);
        search(&table, limits.threads.max(1), &mut watch);
    }
    Answer {
        status: if watch.is_closed() { Status::Optimal } else { Status::Feasible },
        objective: Some(watch.below),
        bound: Some(watch.bound),
        assignment: watch.best.as_ref().map(|b| table.in_words_of(instance, b)),
        reason: None,
        nodes: watch.nodes,
    }
}

fn none(reason: Option<Reason>, nodes: u64) -> Answer {
    Answer { status: Status::Infeasible, objective: None, bound: None, assignment: None, reason, nodes }
}

fn start_well(table: &Table, start: Vec<DishNo>, watch: &mut Watch<'_>) {
    for seed in 0..STARTS {
        if watch.is_closed() || watch.is_over() {
            return;
        }
        if let Some((cost, dishes)) = anneal(table, start.clone(), table.slots * TRIES, seed, watch) {
            watch.found(cost, &dishes);
        }
    }
}

/// A bound at first sight: dislike and waste that nothing avoids.
fn first_bound(table: &Table) -> i64 {
    let each =
        |f: &dyn Fn(DishNo) -> i64| -> i64 { table.candidates.iter().map(|c| c.iter().map(|&d| f(d)).min().unwrap_or(0)).sum() };
    let most = -each(&|d| -table.dish(d).max_g);
    each(&|d| table.dish(d).cost) + table.waste * (table.edible_g - most).max(0)
}
