//! The exact end: arrangements grown slot by slot with all that they have used, cut off by what the rest must cost.
//!
//! Source of the method: label setting for the shortest path under side constraints, with completion bounds out of a relaxed
//! table (Christofides, Mingozzi and Toth 1981; Ibaraki, "Successive sublimation methods for dynamic programming
//! computation", 1987; both from memory).

use super::{
    graph::Graph,
    local::mix,
    prices::Prices,
    relaxation::NEVER,
    table::{DishNo, Table},
    watch::Watch,
};

/// Arrangements of the first slots, all of one length.
#[derive(Default)]
struct Front {
    /// How many slots are filled.
    len: usize,
    /// The dishes, `len` of them an arrangement.
    dishes: Vec<DishNo>,
    rest: Vec<Partial>,
}

/// What an arrangement of the first slots has used.
#[derive(Clone, Copy)]
struct Partial {
    /// Which node of the graph it ends in.
    node: u32,
    minutes: i32,
    least: i32,
    most: i32,
    /// Likeness and dislike.
    cost: i64,
    /// The same with the prices on top.
    priced: i64,
    /// What the whole must cost at least.
    bound: i64,
}

impl Front {
    fn of(&self, i: usize) -> &[DishNo] {
        &self.dishes[i * self.len..(i + 1) * self.len]
    }

    fn pick(&self, order: &[u32]) -> Front {
        Front {
            len: self.len,
            dishes: order.iter().flat_map(|&i| self.of(i as usize).iter().copied()).collect(),
            rest: order.iter().map(|&i| self.rest[i as usize]).collect(),
        }
    }

    fn append(&mut self, mut other: Front) {
        self.len = other.len;
        self.dishes.append(&mut other.dishes);
        self.rest.append(&mut other.rest);
    }

    fn least_bound(&self) -> i64 {
        self.rest.iter().map(|p| p.bound).min().unwrap_or(NEVER)
    }

    /// Takes out the `wide` arrangements of the least bounds, dropping what cannot come below `below`.
    fn take_best(&mut self, wide: usize, below: i64) -> Front {
        let mut order: Vec<u32> = (0..self.rest.len() as u32).filter(|&i| self.rest[i as usize].bound < below).collect();
        if order.len() <= wide {
            let all = std::mem::take(self);
            return if order.len() == all.rest.len() { all } else { all.pick(&order) };
        }
        order.select_nth_unstable_by_key(wide, |&i| (self.rest[i as usize].bound, i));
        let (best, others) = order.split_at_mut(wide);
        best.sort_unstable();
        others.sort_unstable();
        let taken = self.pick(best);
        *self = self.pick(others);
        taken
    }
}

/// How far the growing may go.
#[derive(Clone, Copy)]
pub(super) struct Reach {
    /// How many arrangements are grown at once, those of the least bounds first.
    pub wide: usize,
    /// Whether to go back for those that were left.
    pub again: bool,
    /// The most arrangements that may be grown.
    pub most: u64,
}

/// What came of it.
pub(super) struct Grown {
    /// Whether nothing was left out, so that what is known now is the best of the graph.
    pub whole: bool,
    /// The least bound of what was left out; [`NEVER`] where nothing was.
    pub open: i64,
    /// How many arrangements were grown.
    pub grown: u64,
}

/// Grows arrangements through `graph` that may cost less than the best one known to `watch`, and shows it those that do.
pub(super) fn grow(table: &Table, graph: &mut Graph, prices: &Prices, reach: Reach, watch: &mut Watch) -> Grown {
    graph.go_ahead(table, prices);
    graph.go_behind(table, prices);
    let growth = Growth::new(table, graph, prices);
    let m = table.slots;
    let mut pools: Vec<Front> = (0..m).map(|_| Front::default()).collect();
    pools[0] = growth.seeds(watch.below);
    let mut grown = Grown { whole: true, open: NEVER, grown: pools[0].rest.len() as u64 };
    if m == 1 {
        for i in 0..pools[0].rest.len() {
            if let Some(cost) = table.cost(pools[0].of(i)) {
                watch.found(cost, pools[0].of(i));
            }
        }
        return grown;
    }
    while let Some(s) = (0..m).rev().find(|&s| !pools[s].rest.is_empty()) {
        let front = pools[s].take_best(reach.wide, watch.below);
        if !reach.again {
            grown.open = grown.open.min(pools[s].least_bound());
            pools[s] = Front::default();
        }
        let next = growth.step(&front, watch);
        grown.grown += next.rest.len() as u64;
        watch.nodes += next.rest.len() as u64;
        if !next.rest.is_empty() {
            let next = if watch.is_gated() { next } else { next.pick(&growth.undominated(&next)) };
            pools[s + 1].append(next);
        }
        let open = pools.iter().map(Front::least_bound).min().unwrap_or(NEVER);
        if reach.again {
            watch.raise(open);
        }
        if grown.grown > reach.most || watch.is_over() {
            grown.open = grown.open.min(open);
            break;
        }
    }
    grown.whole = grown.open >= watch.below;
    grown
}

struct Growth<'a> {
    table: &'a Table,
    graph: &'a Graph,
    /// What each dish costs in each slot, at the prices.
    own: Vec<Vec<i64>>,
    constant: i64,
    /// The last slot in which a dish of the graph stands.
    last_seen: Vec<usize>,
    /// Least grams that the slots after each must take.
    least_after: Vec<i64>,
}

impl<'a> Growth<'a> {
    fn new(table: &'a Table, graph: &'a Graph, prices: &Prices) -> Growth<'a> {
        let m = table.slots;
        let own = (0..m).map(|s| (0..table.phantom()).map(|d| prices.of(table, s, d)).collect()).collect();
        let mut last_seen = vec![0; table.n()];
        for (s, layer) in graph.layers.iter().enumerate() {
            layer.last.iter().for_each(|&d| last_seen[usize::from(d)] = s);
        }
        let mut least_after = vec![0; m];
        for s in (0..m - 1).rev() {
            let least = graph.layers[s + 1].last.iter().map(|&d| table.dish(d).min_g).min().unwrap_or(0);
            least_after[s] = least_after[s + 1] + least;
        }
        Growth { table, graph, own, constant: prices.constant(table), last_seen, least_after }
    }

    fn seeds(&self, below: i64) -> Front {
        let mut front = Front { len: 1, ..Front::default() };
        let layer = &self.graph.layers[0];
        for q in 0..layer.len() {
            let dish = self.table.dish(layer.last[q]);
            let priced = self.own[0][usize::from(layer.last[q])];
            let rest = self.graph.behind[0][q];
            if rest >= NEVER || priced + rest + self.constant >= below {
                continue;
            }
            front.dishes.push(layer.last[q]);
            front.rest.push(Partial {
                node: q as u32,
                minutes: dish.minutes as i32,
                least: dish.min_g as i32,
                most: dish.max_g as i32,
                cost: dish.cost,
                priced,
                bound: priced + rest + self.constant,
            });
        }
        front
    }

    /// Every arrangement of `front` with every dish that may come next. The last slot's go to `found`.
    fn step(&self, front: &Front, watch: &mut Watch) -> Front {
        let (table, graph, s) = (self.table, self.graph, front.len);
        let (layer, joint) = (&graph.layers[s], &graph.joints[s]);
        let same_day = table.day[s] == table.day[s - 1];
        let room = table.day_minutes[table.day[s]];
        let mut next = Front { len: s + 1, ..Front::default() };
        for (i, part) in front.rest.iter().enumerate() {
            if part.bound >= watch.below {
                continue;
            }
            let so_far = front.of(i);
            let g = graph.layers[s - 1].out[part.node as usize] as usize;
            for q in joint.after(g) {
                let (c, rest) = (layer.last[q], graph.behind[s][q]);
                let dish = table.dish(c);
                // Cheap, and often enough: without likeness past the node.
                if rest >= NEVER
                    || part.priced + self.own[s][usize::from(c)] + i64::from(layer.base[q]) + rest + self.constant >= watch.below
                {
                    continue;
                }
                let pairs: i64 = (1..=s.min(table.gap.len())).map(|k| table.gap[k - 1] * table.like(so_far[s - k], c)).sum();
                let priced = part.priced + self.own[s][usize::from(c)] + pairs;
                let bound = priced + rest + self.constant;
                if bound >= watch.below || so_far.iter().filter(|&&d| d == c).count() >= dish.uses as usize {
                    continue;
                }
                let minutes = dish.minutes + if same_day { i64::from(part.minutes) } else { 0 };
                let least = i64::from(part.least) + dish.min_g;
                if minutes > room || least + self.least_after[s] > table.edible_g {
                    continue;
                }
                let cost = part.cost + dish.cost + pairs;
                let most = (i64::from(part.most) + dish.max_g).min(table.edible_g);
                if s + 1 == table.slots {
                    let whole = cost + table.waste * (table.edible_g - most);
                    if whole < watch.below {
                        let mut dishes = so_far.to_vec();
                        dishes.push(c);
                        watch.found(whole, &dishes);
                    }
                    continue;
                }
                next.dishes.extend_from_slice(so_far);
                next.dishes.push(c);
                if !watch.may_begin(&next.dishes[next.dishes.len() - (s + 1)..]) {
                    next.dishes.truncate(next.dishes.len() - (s + 1));
                    continue;
                }
                // Grams and minutes lie below the house limit of a thousand million and fit.
                let (minutes, least, most) = (minutes as i32, least as i32, most as i32);
                next.rest.push(Partial { node: q as u32, minutes, least, most, cost, priced, bound });
            }
        }
        next
    }

    /// Whether dish `d`, standing before, still matters after `len` slots: it may come again.
    fn matters(&self, d: DishNo, len: usize) -> bool {
        self.last_seen[usize::from(d)] >= len
    }

    /// The dishes of the window and, sorted, those before that may come again.
    fn state(&self, dishes: &[DishNo]) -> (Vec<DishNo>, Vec<DishNo>) {
        let mut used: Vec<DishNo> = dishes.iter().copied().filter(|&d| self.matters(d, dishes.len())).collect();
        used.sort_unstable();
        (self.window(dishes).to_vec(), used)
    }

    /// The last dishes, those that the cost of what follows hangs on.
    fn window<'d>(&self, dishes: &'d [DishNo]) -> &'d [DishNo] {
        let deep = if self.table.gap == [0] { 0 } else { self.table.gap.len() };
        &dishes[dishes.len() - deep.min(dishes.len())..]
    }

    /// A number that is the same for the same [`Growth::state`].
    fn key(&self, dishes: &[DishNo]) -> u64 {
        let used =
            dishes.iter().filter(|&&d| self.matters(d, dishes.len())).fold(0_u64, |h, &d| h.wrapping_add(mix(u64::from(d) + 1)));
        self.window(dishes).iter().fold(used, |h, &d| mix(h ^ (u64::from(d) << 20)))
    }

    /// Drops an arrangement where another ends alike, has used alike what may come again, costs no more, and leaves grams
    /// and minutes no worse off.
    fn undominated(&self, front: &Front) -> Vec<u32> {
        let mut order: Vec<(u64, u32)> = (0..front.rest.len()).map(|i| (self.key(front.of(i)), i as u32)).collect();
        order.sort_unstable_by_key(|&(key, i)| {
            let p = &front.rest[i as usize];
            (key, p.cost, p.least, -p.most, p.minutes, i)
        });
        let mut kept: Vec<u32> = Vec::with_capacity(order.len());
        for run in order.chunk_by(|a, b| a.0 == b.0) {
            let from = kept.len();
            for &(_, i) in run {
                let p = &front.rest[i as usize];
                let beaten = kept[from..].iter().any(|&j| {
                    let q = &front.rest[j as usize];
                    (q.cost <= p.cost && q.least <= p.least && q.most >= p.most && q.minutes <= p.minutes)
                        && self.state(front.of(i as usize)) == self.state(front.of(j as usize))
                });
                if !beaten {
                    kept.push(i);
                }
            }
        }
        kept.sort_unstable();
        kept
    }
}
