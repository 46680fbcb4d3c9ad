//! A memory of the last few dishes, kept only where it may still be part of a better arrangement.
//!
//! For every slot a layer of nodes; a node is the last `depth` dishes, ending with the one of that slot. Two nodes of
//! neighbouring layers fit together if what they share is the same; what is shared is a group, so that the arcs of a group
//! are all its nodes before with all its nodes after, and need not be stored.

use super::{
    memory::Memory,
    prices::Prices,
    relaxation::{NEVER, Relaxation, far_pairs},
    table::{DishNo, Table},
    watch::Watch,
};

#[derive(Clone, Debug, Default)]
pub(super) struct Layer {
    /// The oldest dish of each node; the phantom where the node reaches past the first slot.
    pub first: Vec<DishNo>,
    /// The dish of this slot.
    pub last: Vec<DishNo>,
    /// What the last dish costs by likeness to the others of the node.
    pub base: Vec<i32>,
    /// The group with the layer before; nodes are sorted by it.
    pub into: Vec<u32>,
    /// The group with the layer after.
    pub out: Vec<u32>,
}

/// How many nodes a longer memory may have.
#[derive(Clone, Copy)]
pub(super) enum Room {
    /// All together; with more there is no graph.
    Whole(usize),
    /// Each layer; the best of it stay, so that bounds of the graph are true no longer.
    Layer(usize),
}

impl Layer {
    /// Some of the nodes, in this order.
    fn pick(&self, order: &[usize]) -> Layer {
        let mut picked = Layer::default();
        for &i in order {
            picked.push(self.first[i], self.last[i], self.base[i], self.into[i], self.out[i]);
        }
        picked
    }

    pub(super) fn len(&self) -> usize {
        self.last.len()
    }

    fn push(&mut self, first: DishNo, last: DishNo, base: i32, into: u32, out: u32) {
        self.first.push(first);
        self.last.push(last);
        self.base.push(base);
        self.into.push(into);
        self.out.push(out);
    }
}

/// The groups between two layers.
#[derive(Clone, Debug, Default)]
pub(super) struct Joint {
    /// Where the nodes before of each group start in `before`, one more at the end.
    pub before_start: Vec<u32>,
    /// Nodes of the layer before, by group.
    pub before: Vec<u32>,
    /// Where the nodes after of each group start in the layer after, one more at the end.
    pub after_start: Vec<u32>,
}

impl Joint {
    /// Lists `0..groups.len()` by group, of `count` groups; nothing after.
    fn sorted_by(groups: &[u32], count: usize) -> Joint {
        let mut before_start = vec![0_u32; count + 1];
        groups.iter().for_each(|&g| before_start[g as usize + 1] += 1);
        for g in 0..count {
            before_start[g + 1] += before_start[g];
        }
        let mut fill = before_start.clone();
        let mut before = vec![0; groups.len()];
        for (i, &g) in groups.iter().enumerate() {
            before[fill[g as usize] as usize] = i as u32;
            fill[g as usize] += 1;
        }
        Joint { before_start, before, after_start: Vec::new() }
    }

    pub(super) fn groups(&self) -> usize {
        self.after_start.len() - 1
    }

    pub(super) fn before(&self, g: usize) -> &[u32] {
        &self.before[self.before_start[g] as usize..self.before_start[g + 1] as usize]
    }

    pub(super) fn after(&self, g: usize) -> std::ops::Range<usize> {
        self.after_start[g] as usize..self.after_start[g + 1] as usize
    }
}

#[derive(Clone)]
pub(super) struct Graph {
    pub depth: usize,
    pub layers: Vec<Layer>,
    /// `joints[s]` stands between layers s-1 and s; `joints[0]` is empty.
    pub joints: Vec<Joint>,
    /// Cost of a dish `depth` slots after another, by likeness; [`NEVER`] where they may not both stand. Row by row.
    pub arcs: Vec<i64>,
    far: Vec<Vec<i64>>,
    pub ahead: Vec<Vec<i64>>,
    pub behind: Vec<Vec<i64>>,
}

impl Graph {
    /// The memory of two dishes, of the pairs in `pairs` (entry s: dishes of slots s-1 and s; entry 0 is empty).
    pub(super) fn of_pairs(table: &Table, pairs: &[Vec<(DishNo, DishNo)>]) -> Graph {
        let mut layers = vec![Layer::default(); table.slots];
        let mut starts: Vec<DishNo> = pairs[1].iter().map(|p| p.0).collect();
        starts.sort_unstable();
        starts.dedup();
        for b in starts {
            layers[0].push(table.phantom(), b, 0, 0, u32::from(b));
        }
        for s in 1..table.slots {
            for &(b, c) in &pairs[s] {
                layers[s].push(b, c, (table.weight(1) * table.like(b, c)) as i32, u32::from(b), u32::from(c));
            }
        }
        let mut graph = Graph::unlinked(table, 2, layers);
        graph.link();
        graph.look_far(table);
        graph
    }

    fn unlinked(table: &Table, depth: usize, layers: Vec<Layer>) -> Graph {
        Graph {
            depth,
            joints: vec![Joint::default(); layers.len()],
            far: Vec::new(),
            layers,
            arcs: arcs(table, depth),
            ahead: Vec::new(),
            behind: Vec::new(),
        }
    }

    /// Reckons anew what lies beyond the memory, from the dishes that are left.
    fn look_far(&mut self, table: &Table) {
        if self.far.is_empty() || self.depth < table.gap.len() {
            self.far = far_pairs(table, self.depth, &self.lists());
        }
    }

    /// How many nodes there are.
    pub(super) fn nodes(&self) -> usize {
        self.layers.iter().map(Layer::len).sum()
    }

    /// How many arcs there are.
    pub(super) fn arc_count(&self) -> usize {
        self.joints.iter().skip(1).map(|j| (0..j.groups()).map(|g| j.before(g).len() * j.after(g).len()).sum::<usize>()).sum()
    }

    /// Whether some layer has no node: nothing cheaper is left.
    pub(super) fn is_empty(&self) -> bool {
        self.layers.iter().any(|l| l.len() == 0)
    }

    /// Drops what leads nowhere, sorts the nodes, numbers the groups and lists what belongs to them.
    fn link(&mut self) {
        let m = self.layers.len();
        let mut keep: Vec<Vec<bool>> = self.layers.iter().map(|l| vec![true; l.len()]).collect();
        let width = |l: &[u32], r: &[u32]| l.iter().chain(r).max().map_or(0, |&g| g as usize + 1);
        for s in 1..m {
            let (before, after) = (&self.layers[s - 1], &self.layers[s]);
            let mut alive = vec![false; width(&before.out, &after.into)];
            for (i, &g) in before.out.iter().enumerate() {
                alive[g as usize] |= keep[s - 1][i];
            }
            for (i, &g) in after.into.iter().enumerate() {
                keep[s][i] &= alive[g as usize];
            }
        }
        for s in (1..m).rev() {
            let (before, after) = (&self.layers[s - 1], &self.layers[s]);
            let mut alive = vec![false; width(&before.out, &after.into)];
            for (i, &g) in after.into.iter().enumerate() {
                alive[g as usize] |= keep[s][i];
            }
            for (i, &g) in before.out.iter().enumerate() {
                keep[s - 1][i] &= alive[g as usize];
            }
        }
        for (layer, keep) in self.layers.iter_mut().zip(&keep) {
            let mut order: Vec<usize> = (0..layer.len()).filter(|&i| keep[i]).collect();
            order.sort_by_key(|&i| layer.into[i]);
            *layer = layer.pick(&order);
        }
        for s in 1..m {
            let (left, right) = self.layers.split_at_mut(s);
            let (before, after) = (&mut left[s - 1], &mut right[0]);
            let mut number = vec![u32::MAX; width(&before.out, &after.into)];
            let mut groups = 0;
            let mut after_start = Vec::new();
            for (i, g) in after.into.iter_mut().enumerate() {
                if number[*g as usize] == u32::MAX {
                    number[*g as usize] = groups;
                    groups += 1;
                    after_start.push(i as u32);
                }
                *g = number[*g as usize];
            }
            after_start.push(after.into.len() as u32);
            for g in &mut before.out {
                *g = number[*g as usize];
            }
            self.joints[s] = Joint { after_start, ..Joint::sorted_by(&before.out, groups as usize) };
        }
        self.ahead.clear();
        self.behind.clear();
    }

    fn own(&self, table: &Table, prices: &Prices, s: usize) -> Vec<i64> {
        let mut own = vec![NEVER; table.n() + 1];
        for &d in &table.candidates[s] {
            own[usize::from(d)] = prices.of(table, s, d) + self.far[s][usize::from(d)];
        }
        own
    }

    /// Fills `ahead`: the cheapest way to each node, the node with it.
    pub(super) fn go_ahead(&mut self, table: &Table, prices: &Prices) {
        let n = table.n() + 1;
        let mut ahead: Vec<Vec<i64>> = std::mem::take(&mut self.ahead);
        ahead.resize_with(self.layers.len(), Vec::new);
        let own = self.own(table, prices, 0);
        ahead[0] = self.layers[0].last.iter().map(|&d| own[usize::from(d)]).collect();
        for s in 1..self.layers.len() {
            let own = self.own(table, prices, s);
            let (layer, joint) = (&self.layers[s], &self.joints[s]);
            let (done, rest) = ahead.split_at_mut(s);
            let (from, to) = (&done[s - 1], &mut rest[0]);
            to.clear();
            to.resize(layer.len(), NEVER);
            for g in 0..joint.groups() {
                let range = joint.after(g);
                let into = &mut to[range.clone()];
                let last = &layer.last[range.clone()];
                for &p in joint.before(g) {
                    let so_far = from[p as usize];
                    if so_far >= NEVER {
                        continue;
                    }
                    let row = &self.arcs[usize::from(self.layers[s - 1].first[p as usize]) * n..][..n];
                    for (v, &c) in into.iter_mut().zip(last) {
                        *v = (*v).min(so_far + row[usize::from(c)]);
                    }
                }
                for (v, q) in into.iter_mut().zip(range) {
                    *v = if *v >= NEVER { NEVER } else { *v + i64::from(layer.base[q]) + own[usize::from(layer.last[q])] };
                }
            }
        }
        self.ahead = ahead;
    }

    /// Fills `behind`: the cheapest way on from each node to the end, the node left out.
    pub(super) fn go_behind(&mut self, table: &Table, prices: &Prices) {
        let n = table.n() + 1;
        let m = self.layers.len();
        let mut behind: Vec<Vec<i64>> = std::mem::take(&mut self.behind);
        behind.resize_with(m, Vec::new);
        behind[m - 1] = vec![0; self.layers[m - 1].len()];
        for s in (1..m).rev() {
            let own = self.own(table, prices, s);
            let (layer, joint) = (&self.layers[s], &self.joints[s]);
            let (left, right) = behind.split_at_mut(s);
            let (to, from) = (&mut left[s - 1], &right[0]);
            let on: Vec<i64> =
                (0..layer.len())
                    .map(|q| {
                        if from[q] >= NEVER {
                            NEVER
                        } else {
                            from[q] + i64::from(layer.base[q]) + own[usize::from(layer.last[q])]
                        }
                    })
                    .collect();
            to.clear();
            to.resize(self.layers[s - 1].len(), NEVER);
            for g in 0..joint.groups() {
                let range = joint.after(g);
                for &p in joint.before(g) {
                    let row = &self.arcs[usize::from(self.layers[s - 1].first[p as usize]) * n..][..n];
                    let mut best = NEVER;
                    for (&v, &c) in on[range.clone()].iter().zip(&layer.last[range.clone()]) {
                        best = best.min(v + row[usize::from(c)]);
                    }
                    to[p as usize] = best;
                }
            }
        }
        self.behind = behind;
    }

    /// Goes both ways at `prices` and drops every node that no arrangement cheaper than `below` can pass. Gives the bound.
    pub(super) fn thin(&mut self, table: &Table, prices: &Prices, below: i64) -> i64 {
        self.go_ahead(table, prices);
        self.go_behind(table, prices);
        let constant = prices.constant(table);
        let mut bound = NEVER;
        for (s, layer) in self.layers.iter_mut().enumerate() {
            let mut kept = Layer::default();
            for i in 0..layer.len() {
                let through = self.ahead[s][i].min(NEVER) + self.behind[s][i].min(NEVER);
                if s == 0 {
                    bound = bound.min(through);
                }
                if through < NEVER && through + constant < below {
                    kept.push(layer.first[i], layer.last[i], layer.base[i], layer.into[i], layer.out[i]);
                }
            }
            *layer = kept;
        }
        self.link();
        self.look_far(table);
        if bound >= NEVER { NEVER } else { bound + constant }
    }

    /// The memory of one dish more, of what may be cheaper than the best known at `prices`; none where that takes more room than
    /// there is. The way to each new node is reckoned with the longer memory, the way on from it with this one.
    pub(super) fn deeper(&mut self, table: &Table, prices: &Prices, room: Room, watch: &mut Watch) -> Option<Graph> {
        let below = watch.below;
        self.go_ahead(table, prices);
        self.go_behind(table, prices);
        let n = table.n() + 1;
        let constant = prices.constant(table);
        let arcs = arcs(table, self.depth + 1);
        let m = self.layers.len();
        let mut layers = vec![Layer::default(); m];
        let mut ahead: Vec<i64> = self.ahead[0].clone();
        for q in 0..self.layers[0].len() {
            layers[0].push(table.phantom(), self.layers[0].last[q], 0, 0, q as u32);
        }
        let mut total = layers[0].len();
        let far = far_pairs(table, self.depth + 1, &self.lists());
        for s in 1..m {
            if watch.is_over() {
                return None;
            }
            let (layer, joint, old) = (&self.layers[s], &self.joints[s], &self.layers[s - 1]);
            let by_out = Joint::sorted_by(&layers[s - 1].out, old.len());
            let (mut next, mut to) = (Layer::default(), Vec::new());
            // What the whole costs at least through each node, where only the best may stay.
            let mut through: Vec<i64> = Vec::new();
            for g in 0..joint.groups() {
                for &p in joint.before(g) {
                    let ways: Vec<(i64, usize)> = by_out
                        .before(p as usize)
                        .iter()
                        .map(|&o| (ahead[o as usize], usize::from(layers[s - 1].first[o as usize]) * n))
                        .collect();
                    if ways.is_empty() {
                        continue;
                    }
                    let p = p as usize;
                    let row = &self.arcs[usize::from(old.first[p]) * n..][..n];
                    for q in joint.after(g) {
                        let (c, rest) = (layer.last[q], self.behind[s][q]);
                        let step = row[usize::from(c)] + i64::from(layer.base[q]);
                        if rest >= NEVER || step >= NEVER {
                            continue;
                        }
                        let own = prices.of(table, s, c) + far[s][usize::from(c)];
                        // The shorter memory first: it costs nothing to ask.
                        if self.ahead[s - 1][p] + step + own + rest + constant >= below {
                            continue;
                        }
                        let way = ways.iter().map(|&(v, row)| v + arcs[row + usize::from(c)]).min().unwrap_or(NEVER);
                        let here = way + step + own;
                        if way < NEVER && here + rest + constant < below {
                            next.push(old.first[p], c, step as i32, p as u32, q as u32);
                            to.push(here);
                            if matches!(room, Room::Layer(_)) {
                                through.push(here + rest);
                            }
                        }
                    }
                }
            }
            match room {
                Room::Layer(most) if next.len() > most => {
                    let mut order: Vec<usize> = (0..next.len()).collect();
                    order.select_nth_unstable_by_key(most, |&i| (through[i], i));
                    order.truncate(most);
                    order.sort_unstable();
                    to = order.iter().map(|&i| to[i]).collect();
                    next = next.pick(&order);
                }
                Room::Whole(most) if total + next.len() > most => return None,
                _ => {}
            }
            total += next.len();
            layers[s] = next;
            ahead = to;
        }
        let mut graph = Graph::unlinked(table, self.depth + 1, layers);
        graph.link();
        graph.look_far(table);
        Some(graph)
    }

    /// The same graph with its nodes told apart by `memory`, of what may be cheaper than the best known at `prices`; none where it
    /// would have more than `most` nodes. `memory` must remember all that this graph remembers already.
    pub(super) fn mindful(
        &mut self,
        table: &Table,
        prices: &Prices,
        memory: &Memory,
        most: usize,
        watch: &mut Watch,
    ) -> Option<Graph> {
        let below = watch.below;
        self.go_ahead(table, prices);
        self.go_behind(table, prices);
        let n = table.n() + 1;
        let constant = prices.constant(table);
        let m = self.layers.len();
        let mut layers = vec![Layer::default(); m];
        let mut ahead: Vec<i64> = Vec::new();
        // Of each new node: the group that it leads to here, what it remembers, its number.
        let mut leads: Vec<(u32, u64, u32)> = Vec::new();
        for q in 0..self.layers[0].len() {
            let old = &self.layers[0];
            let Some(state) = memory.after(table, 0, old.last[q]) else { continue };
            leads.push((old.out[q], state, layers[0].len() as u32));
            ahead.push(self.ahead[0][q]);
            layers[0].push(old.first[q], old.last[q], old.base[q], 0, 0);
        }
        let mut total = layers[0].len();
        for s in 1..m {
            if watch.is_over() {
                return None;
            }
            let own = self.own(table, prices, s);
            let (layer, joint) = (&self.layers[s], &self.joints[s]);
            leads.sort_unstable();
            let (mut next, mut to, mut next_leads) = (Layer::default(), Vec::new(), Vec::new());
            for (group, run) in leads.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)).enumerate() {
                let (old_group, state) = (run[0].0 as usize, run[0].1);
                let before = &mut layers[s - 1];
                run.iter().for_each(|&(_, _, p)| before.out[p as usize] = group as u32);
                let ways: Vec<(i64, usize)> =
                    run.iter().map(|&(_, _, p)| (ahead[p as usize], usize::from(before.first[p as usize]) * n)).collect();
                for q in joint.after(old_group) {
                    let (c, rest) = (layer.last[q], self.behind[s][q]);
                    let Some(after) = memory.after(table, state, c).filter(|_| rest < NEVER) else { continue };
                    let way = ways.iter().map(|&(v, row)| v + self.arcs[row + usize::from(c)]).min().unwrap_or(NEVER);
                    let here = way + i64::from(layer.base[q]) + own[usize::from(c)];
                    if way < NEVER && here + rest + constant < below {
                        next_leads.push((layer.out[q], after, next.len() as u32));
                        next.push(layer.first[q], c, layer.base[q], group as u32, 0);
                        to.push(here);
                    }
                }
            }
            total += next.len();
            if total > most {
                return None;
            }
            layers[s] = next;
            (ahead, leads) = (to, next_leads);
        }
        let mut graph = Graph::unlinked(table, self.depth, layers);
        graph.link();
        graph.look_far(table);
        Some(graph)
    }

    /// The dishes that are left in each slot.
    pub(super) fn lists(&self) -> Vec<Vec<DishNo>> {
        let list = |layer: &Layer| {
            let mut list = layer.last.clone();
            list.sort_unstable();
            list.dedup();
            list
        };
        self.layers.iter().map(list).collect()
    }
}

/// Cost of a dish `depth` slots after another, by likeness; [`NEVER`] where they may not both stand. Row by row.
fn arcs(table: &Table, depth: usize) -> Vec<i64> {
    let n = table.n() + 1;
    let mut arcs = vec![0; n * n];
    for a in 0..n {
        for c in 0..n {
            arcs[a * n + c] = if a == c && a < n - 1 && table.dishes[a].uses < 2 {
                NEVER
            } else {
                table.weight(depth) * table.like(a as DishNo, c as DishNo)
            };
        }
    }
    arcs
}

impl Relaxation for Graph {
    fn cheapest(&mut self, table: &Table, prices: &Prices) -> Option<(i64, Vec<DishNo>)> {
        self.go_ahead(table, prices);
        let n = table.n() + 1;
        let m = self.layers.len();
        let (at, &value) = self.ahead[m - 1].iter().enumerate().min_by_key(|(i, v)| (**v, *i))?;
        if value >= NEVER {
            return None;
        }
        let mut at = at;
        let mut path = vec![0; m];
        for s in (1..m).rev() {
            let (layer, old) = (&self.layers[s], &self.layers[s - 1]);
            let c = layer.last[at];
            path[s] = c;
            let own = prices.of(table, s, c) + self.far[s][usize::from(c)];
            let want = self.ahead[s][at] - own - i64::from(layer.base[at]);
            let fits = |&&p: &&u32| {
                self.ahead[s - 1][p as usize] + self.arcs[usize::from(old.first[p as usize]) * n + usize::from(c)] == want
            };
            at = *self.joints[s].before(layer.into[at] as usize).iter().find(fits)? as usize;
        }
        path[0] = self.layers[0].last[at];
        Some((value, path))
    }
}
