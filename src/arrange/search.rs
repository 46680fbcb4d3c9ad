//! The way from nothing to a proof: prices on a choice of dishes, a look at all, a graph of what is left, and its end.

use super::{
    dense::Dense,
    graph::Graph,
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
/// The most nodes of a graph that is only there to find a good arrangement.
const MOST_TRIAL_NODES: usize = 700_000;
/// How many dishes the first prices are found with.
const FIRST_CHOICE: usize = 40;

macro_rules! lab { ($($a:tt)*) => { if std::env::var("LAB").is_ok() { eprintln!($($a)*) } } }

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
    let t = std::time::Instant::now();
    let Some((mut graph, mut prices, far_prices)) = first_look(table, threads, watch) else { return };
    lab!("first look {:.3}: below {} bound {} nodes {} arcs {}", t.elapsed().as_secs_f64(), watch.below, watch.bound, graph.nodes(), graph.arc_count());
    while graph.depth < table.gap.len() && !watch.is_over() {
        settle(table, &mut graph, &mut prices, watch);
        if watch.is_closed() || graph.is_empty() {
            break;
        }
        let t = std::time::Instant::now();
        let Some(deeper) = graph.deeper(table, &prices, watch.below, MOST_NODES) else { lab!("too deep"); break };
        graph = deeper;
        lab!("deeper {:.3}: nodes {} arcs {}", t.elapsed().as_secs_f64(), graph.nodes(), graph.arc_count());
        if graph.is_empty() {
            break;
        }
        let t = std::time::Instant::now();
        if let Some(far) = &far_prices {
            prices = far.clone();
        }
        let bound = graph.thin(table, &prices, watch.below);
        watch.raise(bound);
        lab!("thin {:.3}: bound {bound} nodes {} arcs {}", t.elapsed().as_secs_f64(), graph.nodes(), graph.arc_count());
    }
    if !graph.is_empty() && !watch.is_over() {
        settle(table, &mut graph, &mut prices, watch);
    }
    if graph.is_empty() {
        watch.raise(NEVER);
    }
    if watch.is_closed() || watch.is_over() {
        return;
    }
    close(table, graph, prices, watch);
}

/// The end: grows arrangements, and where they become too many, makes the graph remember more and tries again.
fn close(table: &Table, mut graph: Graph, mut prices: Prices, watch: &mut Watch) {
    let mut memory = Memory::none(table);
    let mut most = 40_000;
    loop {
        let t = std::time::Instant::now();
        let grown = grow(table, &mut graph, &prices, Reach { wide: 10_000, again: true, most }, watch);
        lab!("end {:.3}: grown {} whole {} open {} below {}", t.elapsed().as_secs_f64(), grown.grown, grown.whole, grown.open, watch.below);
        watch.raise(if grown.whole { NEVER } else { grown.open });
        if watch.is_closed() || watch.is_over() {
            return;
        }
        if most == u64::MAX {
            return;
        }
        most *= 2;
        let t = std::time::Instant::now();
        let steps = (150_000_000 / graph.arc_count().max(1)).clamp(8, 60);
        let tuned = tune(table, &mut graph, &prices, &Walk { steps, stride: 0.3, patience: 4, least_stride: 0.01 }, watch);
        prices = tuned.prices;
        if !memory.learn(table, &tuned.ways, 12, 60) {
            lab!("nothing learnt");
            most = u64::MAX;
            continue;
        }
        watch.raise(graph.thin(table, &prices, watch.below));
        if graph.is_empty() { watch.raise(NEVER); return; }
        match graph.mindful(table, &prices, &memory, watch.below, MOST_NODES / 4) {
            Some(more) => graph = more,
            None => { lab!("too mindful"); most = u64::MAX; continue }
        }
        lab!("mindful {:.3}: nodes {} arcs {} tuned {:?}", t.elapsed().as_secs_f64(), graph.nodes(), graph.arc_count(), tuned.bound);
        if !graph.is_empty() {
            settle(table, &mut graph, &mut prices, watch);
        }
        if graph.is_empty() {
            watch.raise(NEVER);
        }
        if watch.is_closed() || watch.is_over() {
            return;
        }
    }
}

/// Prices for the short memory, found on a choice of dishes and tried on all, and the pairs that are left; besides prices
/// for the whole window, if it is longer. None if that was all.
fn first_look(table: &Table, threads: usize, watch: &mut Watch) -> Option<(Graph, Prices, Option<Prices>)> {
    let mut chosen = first_choice(table, watch);
    let mut prices = Prices::none(table);
    let mut far_prices = None;
    let mut best: Option<(i64, Prices)> = None;
    let mut left: Option<Vec<Vec<(DishNo, DishNo)>>> = None;
    for round in 0..6 {
        let t = std::time::Instant::now();
        let mut part = Dense::new(table, choice(table, &chosen), threads);
        let steps = if round == 0 { 120 } else { 40 };
        let walk = Walk { steps, stride: if round == 0 { 1.0 } else { 0.5 }, patience: 6, least_stride: 0.01 };
        let tuned = tune(table, &mut part, &prices, &walk, watch);
        prices = tuned.prices;
        lab!("round {round} {:.3}: part bound {:?} below {} steps {}", t.elapsed().as_secs_f64(), tuned.bound, watch.below, tuned.steps);
        if round == 0 {
            far_prices = try_out(table, &part, &prices, watch);
        }
        if watch.is_over() {
            return None;
        }
        let t = std::time::Instant::now();
        let whole = Dense::new(table, table.candidates.clone(), threads).survivors(table, &prices, watch.below);
        watch.raise(whole.bound);
        left = Some(match left {
            None => whole.pairs,
            Some(before) => before.iter().zip(&whole.pairs).map(|(a, b)| both(a, b)).collect(),
        });
        if best.as_ref().is_none_or(|b| whole.bound > b.0) {
            best = Some((whole.bound, prices.clone()));
        }
        lab!("  whole {:.3}: bound {} pairs {}", t.elapsed().as_secs_f64(), whole.bound, left.as_ref().map_or(0, |l| l.iter().map(Vec::len).sum::<usize>()));
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
    Some((graph, best?.1, far_prices))
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

/// Looks for a good arrangement among the dishes of `part`; gives prices for the whole window where it is longer than two.
fn try_out(table: &Table, part: &Dense, prices: &Prices, watch: &mut Watch) -> Option<Prices> {
    let t = std::time::Instant::now();
    let left = part.survivors(table, prices, watch.below);
    if left.pairs.iter().skip(1).any(Vec::is_empty) {
        return None;
    }
    let mut graph = Graph::of_pairs(table, &left.pairs);
    if graph.is_empty() {
        return None;
    }
    grow(table, &mut graph, prices, Reach { wide: 300, again: false, most: u64::MAX }, watch);
    lab!("  try {:.3}: below {} nodes {}", t.elapsed().as_secs_f64(), watch.below, graph.nodes());
    let mut far = None;
    let mut prices = prices.clone();
    while graph.depth < table.gap.len() && !watch.is_over() {
        let Some(deeper) = graph.deeper(table, &prices, watch.below, MOST_TRIAL_NODES) else { break };
        graph = deeper;
        if graph.is_empty() {
            break;
        }
        let walk = Walk { steps: 40, stride: 0.7, patience: 4, least_stride: 0.05 };
        prices = tune(table, &mut graph, &prices, &walk, watch).prices;
        far = Some(prices.clone());
        lab!("  try deeper {:.3}: nodes {} arcs {}", t.elapsed().as_secs_f64(), graph.nodes(), graph.arc_count());
        graph.thin(table, &prices, watch.below);
        if graph.is_empty() {
            break;
        }
        grow(table, &mut graph, &prices, Reach { wide: 300, again: false, most: u64::MAX }, watch);
        lab!("  try deeper {:.3}: below {} nodes {}", t.elapsed().as_secs_f64(), watch.below, graph.nodes());
    }
    far
}

/// Better prices, a better arrangement, a thinner graph, as long as that pays.
fn settle(table: &Table, graph: &mut Graph, prices: &mut Prices, watch: &mut Watch) {
    for _ in 0..6 {
        let t = std::time::Instant::now();
        let arcs = graph.arc_count().max(1);
        let (nodes, below) = (graph.nodes(), watch.below);
        let steps = (150_000_000 / arcs).clamp(4, 60);
        let walk = Walk { steps, stride: 0.3, patience: 3, least_stride: 0.03 };
        *prices = tune(table, graph, prices, &walk, watch).prices;
        if watch.is_over() {
            return;
        }
        watch.raise(graph.thin(table, prices, watch.below));
        if graph.is_empty() || watch.is_closed() {
            return;
        }
        grow(table, graph, prices, Reach { wide: 500, again: false, most: u64::MAX }, watch);
        lab!("settle {:.3}: depth {} below {} bound {} nodes {} arcs {}", t.elapsed().as_secs_f64(), graph.depth, watch.below, watch.bound, graph.nodes(), graph.arc_count());
        if watch.below < below {
            watch.raise(graph.thin(table, prices, watch.below));
            if graph.is_empty() || watch.is_closed() {
                return;
            }
        }
        if graph.nodes() * 5 > nodes * 4 || graph.arc_count() < 5_000 {
            return;
        }
    }
}
