//! The way from nothing to a proof: prices on a choice of dishes, a look at all, a graph of what is left, and its end.

use super::{
    dense::Dense,
    graph::{Graph, Room},
    labels::{Reach, grow},
    memory::Memory,
    prices::Prices,
    relaxation::NEVER,
    table::{DishNo, Table},
    tune::{Walk, tune},
    watch::Watch,
};

/// The most nodes of a graph (house limit: 32 bytes each, and some for the groups).
const MOST_NODES: usize = 22_000_000;
/// A trial that leaves so many nodes is worth some trouble of its own.
const HARD_NODES: usize = 50_000;
/// The most nodes of a graph that is only there to find a good arrangement.
const MOST_TRIAL_NODES: usize = 700_000;
/// How many dishes the first prices are found with.
const FIRST_CHOICE: usize = 40;

/// Searches until `watch` is closed or over.
pub(super) fn search(table: &Table, threads: usize, watch: &mut Watch) {
    if table.slots == 1 {
        for &d in &table.candidates[0] {
            if let Some(cost) = table.cost(&[d]) {
                watch.found(cost, &[d]);
            }
        }
        watch.raise(NEVER);
        return;
    }
    let Some((mut graph, mut prices)) = first_look(table, threads, watch) else { return };
    while graph.depth < table.gap.len() && !watch.is_over() {
        settle(table, &mut graph, &mut prices, true, watch);
        if watch.is_closed() || graph.is_empty() {
            break;
        }
        let mut deeper = graph.deeper(table, &prices, Room::Whole(MOST_TRIAL_NODES), watch);
        let mut far_prices = None;
        if deeper.is_none() {
            // A better arrangement first: it keeps the long memory small.
            far_prices = try_deeper(table, graph.clone(), &prices, MOST_TRIAL_NODES, watch);
            graph.thin(table, &prices, watch.below);
            deeper = graph.deeper(table, &prices, Room::Whole(MOST_NODES), watch);
        }
        let Some(deeper) = deeper else { break };
        graph = deeper;
        if graph.is_empty() {
            break;
        }
        if let Some(far) = &far_prices {
            prices = far.clone();
        }
        let bound = graph.thin(table, &prices, watch.below);
        watch.raise(bound);
    }
    if !graph.is_empty() && !watch.is_over() {
        settle(table, &mut graph, &mut prices, true, watch);
    }
    if graph.is_empty() {
        watch.raise(NEVER);
    }
    if watch.is_closed() || watch.is_over() {
        return;
    }
    close(table, graph, &mut prices, Effort { rounds: 40, first: 40_000, proves: true }, watch);
}

/// How long [`close`] goes on.
#[derive(Clone, Copy)]
struct Effort {
    /// How often the graph may be made to remember more.
    rounds: usize,
    /// How many arrangements are grown the first time.
    first: u64,
    /// Whether the graph holds everything that could be better, so that its bounds are true.
    proves: bool,
}

/// The end: grows arrangements, and where they become too many, makes the graph remember more and tries again.
fn close(table: &Table, mut graph: Graph, prices: &mut Prices, effort: Effort, watch: &mut Watch) {
    let mut memory = Memory::none(table);
    let mut most = effort.first;
    for round in 0.. {
        let last = round >= effort.rounds;
        let reach = Reach { wide: 10_000, again: effort.proves, most: if last && effort.proves { u64::MAX } else { most } };
        let grown = grow(table, &mut graph, prices, reach, watch);
        if effort.proves {
            watch.raise(if grown.whole { NEVER } else { grown.open });
        }
        if last || grown.whole || watch.is_closed() || watch.is_over() {
            return;
        }
        most *= 2;
        let steps = (150_000_000 / graph.arc_count().max(1)).clamp(8, 60);
        let tuned = tune(table, &mut graph, prices, &Walk { steps, stride: 0.3, patience: 4, least_stride: 0.01 }, watch);
        *prices = tuned.prices;
        let learnt = memory.learn(table, &tuned.ways, 12, 60);
        let bound = graph.thin(table, prices, watch.below);
        if effort.proves {
            watch.raise(if graph.is_empty() { NEVER } else { bound });
        }
        if graph.is_empty() {
            return;
        }
        let more = if learnt { graph.mindful(table, prices, &memory, MOST_NODES / 4, watch) } else { None };
        let Some(more) = more else {
            if !effort.proves {
                return;
            }
            most = u64::MAX;
            continue;
        };
        graph = more;
        if !graph.is_empty() {
            settle(table, &mut graph, prices, effort.proves, watch);
        }
        if graph.is_empty() {
            if effort.proves {
                watch.raise(NEVER);
            }
            return;
        }
    }
}

/// Prices for the short memory, found on a choice of dishes and tried on all, and the pairs that are left. None if that was
/// all.
fn first_look(table: &Table, threads: usize, watch: &mut Watch) -> Option<(Graph, Prices)> {
    let mut chosen = first_choice(table, watch);
    let mut prices = Prices::none(table);
    let mut best: Option<(i64, Prices)> = None;
    let mut left: Option<Vec<Vec<(DishNo, DishNo)>>> = None;
    for round in 0..6 {
        let mut part = Dense::new(table, choice(table, &chosen), threads);
        let steps = if round == 0 { 120 } else { 40 };
        let walk = Walk { steps, stride: if round == 0 { 1.0 } else { 0.5 }, patience: 6, least_stride: 0.01 };
        let tuned = tune(table, &mut part, &prices, &walk, watch);
        prices = tuned.prices;
        if round == 0 {
            try_out(table, &part, &prices, watch);
        }
        if watch.is_over() {
            return None;
        }
        let whole = Dense::new(table, table.candidates.clone(), threads).survivors(table, &prices, watch)?;
        watch.raise(whole.bound);
        left = Some(match left {
            None => whole.pairs,
            Some(before) => before.iter().zip(&whole.pairs).map(|(a, b)| both(a, b)).collect(),
        });
        if best.as_ref().is_none_or(|b| whole.bound > b.0) {
            best = Some((whole.bound, prices.clone()));
        }
        if watch.is_closed() || left.as_ref().is_some_and(|l| l.iter().skip(1).any(Vec::is_empty)) {
            watch.raise(NEVER);
            return None;
        }
        let part_bound = tuned.bound.unwrap_or(watch.below);
        let mut wanted: Vec<(i64, usize)> =
            (0..table.n()).filter(|&d| !chosen[d] && whole.through[d] < part_bound).map(|d| (whole.through[d], d)).collect();
        if wanted.is_empty() || part_bound - whole.bound < (watch.below - part_bound) / 30 {
            break;
        }
        wanted.sort_unstable();
        wanted.iter().take(FIRST_CHOICE / 2).for_each(|&(_, d)| chosen[d] = true);
    }
    let graph = Graph::of_pairs(table, &left?);
    Some((graph, best?.1))
}

/// What stands in both of two rising lists.
fn both<T: Ord + Copy>(a: &[T], b: &[T]) -> Vec<T> {
    a.iter().copied().filter(|x| b.binary_search(x).is_ok()).collect()
}

/// The dishes that look best at first sight, and those of the best arrangement known.
fn first_choice(table: &Table, watch: &Watch) -> Vec<bool> {
    let n = table.n();
    let mut chosen = vec![false; n];
    watch.best.iter().flatten().for_each(|&d| chosen[usize::from(d)] = true);
    let mut score: Vec<(i64, DishNo)> = (0..table.phantom())
        .map(|d| {
            let mut near: Vec<i64> = (0..table.phantom()).filter(|&e| e != d).map(|e| table.like(d, e)).collect();
            near.sort_unstable();
            near.truncate(8);
            let count = near.len().max(1) as i64;
            (table.dish(d).cost + table.gap.iter().sum::<i64>() * near.iter().sum::<i64>() / count, d)
        })
        .collect();
    score.sort_unstable();
    let mut count = chosen.iter().filter(|c| **c).count();
    for &(_, d) in &score {
        if count < FIRST_CHOICE && !chosen[usize::from(d)] {
            chosen[usize::from(d)] = true;
            count += 1;
        }
    }
    // A few for every slot.
    for list in &table.candidates {
        let mut have = list.iter().filter(|d| chosen[usize::from(**d)]).count();
        for &(_, d) in &score {
            if have < 8 && !chosen[usize::from(d)] && list.binary_search(&d).is_ok() {
                chosen[usize::from(d)] = true;
                have += 1;
            }
        }
    }
    chosen
}

fn choice(table: &Table, chosen: &[bool]) -> Vec<Vec<DishNo>> {
    table.candidates.iter().map(|c| c.iter().copied().filter(|&d| chosen[usize::from(d)]).collect()).collect()
}

/// Looks for a good arrangement among the dishes of `part`.
fn try_out(table: &Table, part: &Dense, prices: &Prices, watch: &mut Watch) {
    let Some(left) = part.survivors(table, prices, watch) else { return };
    if left.pairs.iter().skip(1).any(Vec::is_empty) {
        return;
    }
    let mut graph = Graph::of_pairs(table, &left.pairs);
    if !graph.is_empty() {
        grow(table, &mut graph, prices, Reach { wide: 300, again: false, most: u64::MAX }, watch);
    }
}

/// Lengthens the memory of `graph` up to the window, but only of its cheaper part, no more than `most` nodes; looks there
/// for a good arrangement and for prices, which it gives.
fn try_deeper(table: &Table, mut graph: Graph, prices: &Prices, most: usize, watch: &mut Watch) -> Option<Prices> {
    let mut far = None;
    let mut prices = prices.clone();
    while graph.depth < table.gap.len() && !watch.is_over() {
        graph = graph.deeper(table, &prices, Room::Layer(most / table.slots), watch)?;
        if graph.is_empty() {
            break;
        }
        let steps = (600_000_000 / graph.arc_count().max(1)).clamp(6, 40);
        let walk = Walk { steps, stride: 0.7, patience: 4, least_stride: 0.05 };
        prices = tune(table, &mut graph, &prices, &walk, watch).prices;
        far = Some(prices.clone());
        graph.thin(table, &prices, watch.below);
        if graph.is_empty() {
            break;
        }
        grow(table, &mut graph, &prices, Reach { wide: 300, again: false, most: u64::MAX }, watch);
    }
    if !graph.is_empty() && graph.nodes() > HARD_NODES {
        close(table, graph, &mut prices, Effort { rounds: 4, first: 20_000, proves: false }, watch);
    }
    far
}

/// Better prices, a better arrangement, a thinner graph, as long as that pays.
fn settle(table: &Table, graph: &mut Graph, prices: &mut Prices, proves: bool, watch: &mut Watch) {
    for _ in 0..6 {
        let arcs = graph.arc_count().max(1);
        let (nodes, below) = (graph.nodes(), watch.below);
        let steps = (150_000_000 / arcs).clamp(4, 60);
        let walk = Walk { steps, stride: 0.3, patience: 3, least_stride: 0.03 };
        *prices = tune(table, graph, prices, &walk, watch).prices;
        if watch.is_over() {
            return;
        }
        let bound = graph.thin(table, prices, watch.below);
        if proves {
            watch.raise(bound);
        }
        if graph.is_empty() || watch.is_closed() {
            return;
        }
        grow(table, graph, prices, Reach { wide: 500, again: false, most: u64::MAX }, watch);
        if watch.below < below {
            let bound = graph.thin(table, prices, watch.below);
            if proves {
                watch.raise(bound);
            }
            if graph.is_empty() || watch.is_closed() {
                return;
            }
        }
        if graph.nodes() * 5 > nodes * 4 || graph.arc_count() < 5_000 {
            return;
        }
    }
}
