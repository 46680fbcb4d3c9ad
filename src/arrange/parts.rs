//! What parts of a small arrangement cost at least.
//!
//! Where every slot touches every other, a pair of dishes says little: nearly every dish has some other that it is not like at
//! all. Three or four dishes that are all unlike are rarer. So every part of three slots is filled as well as can be, then
//! every part of four, and so on, each with what is known of the smaller ones (as Russian dolls: Verfaillie, Lemaître and
//! Schiex 1996, from memory). All costs are those of pairs (see [`super::costs`]), and a part of `k` slots holds each of its
//! pairs in `k - 2` of the parts one smaller: it costs at least the sum of theirs divided by `k - 2` (averaging over subsets,
//! as in Katona, Nemetz and Simonovits 1964, from memory). The same holds with one choice given.
//!
//! Choices that another beats beside everything are left out, and of parts with the same costs only one is filled. Grams,
//! minutes and the gate are left out too, which can only make the bounds lower.

use super::{
    costs::{Choice, Costs, DEAR, add, count_under, least_sum, under_limit},
    packing::pack,
    watch::Watch,
};
use std::collections::HashMap;

/// How many fillings are grown between two looks at the clock.
const BETWEEN_LOOKS: u64 = 4_000;
/// How many places a part may reach at the most: of few slots every part is looked at, of more only those that are near.
const FARTHEST: usize = super::mesh::MOST_SLOTS - 1;
/// The most slots of a part of which it is looked up whether another is like it: the ways of naming its slots are tried.
const MOST_NAMED: usize = 6;

/// What is known of the parts. A part is a set of slots, one bit each.
pub(super) struct Parts {
    /// The costs without the choices that are beaten.
    costs: Costs,
    /// For every choice of every slot, the one in `costs` that costs no more beside anything.
    stands_for: Vec<Vec<usize>>,
    /// The same one as it is numbered among all.
    instead: Vec<Vec<usize>>,
    /// The parts that are looked at, the smaller ones first: those without slots far apart.
    near: Vec<usize>,
    /// For each part, the steps that its pairs cost at least.
    least: Vec<i16>,
    /// The same with each choice given: `slots` rows a part, one for each slot in it.
    with: Vec<Vec<i16>>,
    /// As `with`, for every choice that there is.
    with_any: Vec<Vec<i16>>,
    /// The parts that are not filled yet, in the reverse of the order in which they come.
    waiting: Vec<usize>,
    /// What is the same of parts that cost the same, and the part that was filled.
    filled: HashMap<Vec<u16>, usize>,
    /// A number for the costs of every two slots, the same for the same.
    kinds: Vec<u16>,
}

impl Parts {
    /// Nothing but pairs and threes is known at first.
    pub(super) fn new(all: &Costs) -> Parts {
        let m = all.slots;
        let instead = all.better();
        let is_kept = |s: usize, a: usize| instead[s][a] == a;
        let kept: Vec<Vec<usize>> = (0..m).map(|s| (0..all.choices[s]).filter(|&a| is_kept(s, a)).collect()).collect();
        let place = |s: usize, a: usize| kept[s].binary_search(&instead[s][a]).unwrap_or(0);
        let stands_for = (0..m).map(|s| (0..all.choices[s]).map(|a| place(s, a)).collect()).collect();
        let costs = all.only(&kept);
        let is_near = |p: &usize| slots_of(*p).max().unwrap_or(0) <= p.trailing_zeros() as usize + FARTHEST;
        let mut near: Vec<usize> = (1..1_usize << m).filter(is_near).collect();
        near.sort_by_key(|p| (p.count_ones(), *p));
        let waiting = near.iter().rev().copied().filter(|p| p.count_ones() > 3 && *p != (1 << m) - 1).collect();
        let (mut with, mut with_any) = (vec![Vec::new(); m << m], vec![Vec::new(); m << m]);
        for &part in &near {
            for s in slots_of(part) {
                with[part * m + s] = vec![0; costs.wide(s)];
                with_any[part * m + s] = vec![0; all.wide(s)];
            }
        }
        let kinds = kinds(&costs);
        let mut parts = Parts {
            costs,
            stands_for,
            instead,
            near,
            least: vec![0; 1 << m],
            with,
            with_any,
            waiting,
            filled: HashMap::new(),
            kinds,
        };
        parts.see_pairs();
        parts.see_threes();
        parts.carry(4);
        parts
    }

    /// What the slots of a part cost each other at least.
    pub(super) fn least(&self, part: usize) -> i16 {
        self.least[part]
    }

    /// The same with each choice of slot `s`, which is in it.
    pub(super) fn with(&self, part: usize, s: usize) -> &[i16] {
        &self.with_any[part * self.costs.slots + s]
    }

    /// A choice of slot `s` that costs no more than `choice` beside anything: itself if there is none better.
    pub(super) fn instead(&self, s: usize, choice: usize) -> usize {
        self.instead[s][choice]
    }

    /// Steps that all slots together cost at least.
    pub(super) fn all(&self) -> i64 {
        let each: Vec<(usize, i64)> = self.near.iter().map(|&p| (p, i64::from(self.least[p]))).collect();
        pack(&each, self.costs.slots)
    }

    /// Fills parts until some `most` fillings are grown, or `watch` is over. `best` is the choice of each slot in the best
    /// arrangement known.
    pub(super) fn learn(&mut self, best: Option<&[usize]>, most: u64, watch: &mut Watch) {
        let mut left = most;
        let mut changed = None;
        while left > 0 && !watch.is_over() {
            let Some(&part) = self.waiting.last() else { break };
            let size = part.count_ones();
            if changed.is_some_and(|c| c < size) {
                self.carry(size);
                changed = None;
            }
            let key = self.key(part);
            let known = key.as_ref().and_then(|key| self.filled.get(key)).map(|&other| self.least[other]);
            let least = match known {
                Some(least) => {
                    self.waiting.pop();
                    least
                }
                None => {
                    let mut filling = Filling::new(self, part, best, left);
                    filling.grow(0, 0, part, watch);
                    let (over, least, open, grown) = (filling.over, filling.least, filling.open, filling.grown);
                    left = left.saturating_sub(grown.max(1));
                    if !over {
                        self.waiting.pop();
                        key.into_iter().for_each(|key| _ = self.filled.insert(key, part));
                    }
                    capped(if over { least.min(open) } else { least })
                }
            };
            if least > self.least[part] {
                self.least[part] = least;
                changed = Some(changed.map_or(size, |c: u32| c.min(size)));
            }
        }
        if let Some(size) = changed {
            self.carry(size);
        }
    }

    /// What is the same for parts that cost the same.
    fn key(&self, part: usize) -> Option<Vec<u16>> {
        let m = self.costs.slots;
        let slots: Vec<usize> = slots_of(part).collect();
        if slots.len() > MOST_NAMED {
            return None;
        }
        let mut first: Option<Vec<u16>> = None;
        each_order(&mut slots.clone(), 0, &mut |order| {
            let pairs = (0..order.len()).flat_map(|i| (0..i).map(move |j| (i, j)));
            let key: Vec<u16> = pairs.map(|(i, j)| self.kinds[order[i] * m + order[j]]).collect();
            if first.as_ref().is_none_or(|f| key < *f) {
                first = Some(key);
            }
        });
        first
    }

    fn see_pairs(&mut self) {
        let m = self.costs.slots;
        for s in 0..m {
            for r in (0..m).filter(|&r| r != s && r.abs_diff(s) <= FARTHEST) {
                let part = 1 << s | 1 << r;
                for a in 0..self.costs.choices[s] {
                    let least = self.costs.row(s, a, r).iter().copied().min().unwrap_or(0);
                    self.with[part * m + s][a] = least.min(DEAR);
                }
                self.sum_up(part, s);
            }
        }
    }

    fn see_threes(&mut self) {
        let m = self.costs.slots;
        let threes: Vec<usize> = self.near.iter().copied().filter(|p| p.count_ones() == 3).collect();
        for part in threes {
            for s in slots_of(part) {
                let mut others = slots_of(part & !(1 << s));
                let (Some(r), Some(t)) = (others.next(), others.next()) else { continue };
                for a in 0..self.costs.choices[s] {
                    let (to_r, to_t) = (self.costs.row(s, a, r), self.costs.row(s, a, t));
                    let third = |b: usize| to_r[b].saturating_add(least_sum(to_t, self.costs.row(r, b, t)));
                    let least = (0..self.costs.choices[r]).map(third).min().unwrap_or(0);
                    self.with[part * m + s][a] = least.min(DEAR);
                }
                self.sum_up(part, s);
            }
        }
    }

    /// Takes over what is known of a part with each choice of slot `s` given.
    fn sum_up(&mut self, part: usize, s: usize) {
        let m = self.costs.slots;
        let row = &self.with[part * m + s];
        let least = row.iter().take(self.costs.choices[s]).copied().min().unwrap_or(0);
        self.least[part] = self.least[part].max(least);
        for (any, &a) in self.with_any[part * m + s].iter_mut().zip(&self.stands_for[s]) {
            *any = row[a];
        }
    }

    /// Carries what is known of the parts on to those of `size` slots and more.
    fn carry(&mut self, size: u32) {
        let m = self.costs.slots;
        for k in size..=m as u32 {
            let times = i32::try_from(k).unwrap_or(i32::MAX) - 2;
            let near = std::mem::take(&mut self.near);
            for &part in near.iter().filter(|p| p.count_ones() == k) {
                for s in slots_of(part) {
                    let mut sum: Vec<i32> = vec![i32::from(self.least[part & !(1 << s)]); self.costs.wide(s)];
                    for r in slots_of(part & !(1 << s)) {
                        let smaller = &self.with[(part & !(1 << r)) * m + s];
                        sum.iter_mut().zip(smaller).for_each(|(sum, v)| *sum += i32::from(*v));
                    }
                    let least = self.least[part];
                    for (with, sum) in self.with[part * m + s].iter_mut().zip(sum) {
                        *with = (*with).max(capped((sum + times - 1) / times)).max(least);
                    }
                    self.sum_up(part, s);
                }
            }
            self.near = near;
        }
    }
}

/// The slots of a part.
#[inline]
pub(super) fn slots_of(part: usize) -> Slots {
    Slots(part)
}

/// See [`slots_of`].
pub(super) struct Slots(usize);

impl Iterator for Slots {
    type Item = usize;

    #[inline]
    fn next(&mut self) -> Option<usize> {
        let s = self.0.trailing_zeros() as usize;
        let any = self.0 != 0;
        self.0 &= self.0.wrapping_sub(1);
        any.then_some(s)
    }
}

fn capped(steps: i32) -> i16 {
    i16::try_from(steps.min(i32::from(DEAR))).unwrap_or(DEAR)
}

/// A number for the costs of every two slots, the same for the same.
fn kinds(costs: &Costs) -> Vec<u16> {
    let m = costs.slots;
    let mut known: HashMap<(usize, &[i16]), u16> = HashMap::new();
    let mut kinds = vec![0; m * m];
    for s in 0..m {
        for r in (0..m).filter(|&r| r != s) {
            let next = known.len() as u16;
            kinds[s * m + r] = *known.entry((costs.wide(r), costs.square(s, r))).or_insert(next);
        }
    }
    kinds
}

/// Shows every order of the list from `from` on.
fn each_order(list: &mut [usize], from: usize, show: &mut dyn FnMut(&[usize])) {
    if from + 1 >= list.len() {
        show(list);
        return;
    }
    for i in from..list.len() {
        list.swap(from, i);
        each_order(list, from + 1, show);
        list.swap(from, i);
    }
}

/// One part as it is filled: see [`super::mesh`], which does the same for all slots with all rules.
struct Filling<'p> {
    parts: &'p Parts,
    /// For each number of slots filled: steps of every choice of every slot beside those that stand.
    levels: Vec<Vec<Vec<i16>>>,
    /// Room for the order of the choices of each level.
    orders: Vec<Vec<Choice>>,
    /// The cheapest filling known.
    least: i32,
    /// It cannot be cheaper than this.
    floor: i32,
    /// What was left out when it was over costs at least.
    open: i32,
    grown: u64,
    most: u64,
    over: bool,
}

impl<'p> Filling<'p> {
    fn new(parts: &'p Parts, part: usize, best: Option<&[usize]>, most: u64) -> Filling<'p> {
        let costs = &parts.costs;
        let count = part.count_ones() as usize;
        let first: Vec<Vec<i16>> =
            (0..costs.slots).map(|s| if part >> s & 1 == 1 { costs.own[s].clone() } else { Vec::new() }).collect();
        let mut least = i32::MAX / 4;
        if let Some(best) = best {
            let held: Vec<(usize, usize)> = slots_of(part).map(|s| (s, parts.stands_for[s][best[s]])).collect();
            let pairs = held.iter().enumerate().flat_map(|(i, x)| held[..i].iter().map(move |y| (x, y)));
            least = pairs.map(|(&(s, a), &(r, b))| i32::from(costs.row(s, a, r)[b])).sum();
        }
        let floor = i32::from(parts.least[part]);
        let (levels, orders) = (vec![first; count], vec![Vec::new(); count]);
        Filling { parts, levels, orders, least, floor, open: i32::MAX / 4, grown: 0, most, over: false }
    }

    fn grow(&mut self, level: usize, so_far: i32, part: usize, watch: &mut Watch) {
        let m = self.parts.costs.slots;
        let under = capped((self.least - so_far).max(0));
        let (mut s, mut fewest) = (m, usize::MAX);
        for r in slots_of(part) {
            let left = count_under(&self.levels[level][r], &self.parts.with[part * m + r], under);
            if left < fewest {
                (s, fewest) = (r, left);
            }
        }
        if fewest == 0 || s == m {
            return;
        }
        let rest = part & !(1 << s);
        let mut order = std::mem::take(&mut self.orders[level]);
        order.clear();
        under_limit(&mut order, &self.levels[level][s], &self.parts.with[part * m + s], under);
        order.sort_unstable();
        for &(bound, steps, place) in &order {
            if so_far + i32::from(bound) >= self.least || self.least <= self.floor {
                break;
            }
            self.grown += 1;
            self.over |= self.grown > self.most || (self.grown.is_multiple_of(BETWEEN_LOOKS) && watch.is_over());
            if self.over {
                self.open = self.open.min(so_far + i32::from(bound));
                break;
            }
            let cost = so_far + i32::from(steps);
            if rest.count_ones() < 2 {
                let last =
                    slots_of(rest).map(|r| least_sum(&self.levels[level][r], self.parts.costs.row(s, usize::from(place), r)));
                self.least = self.least.min(cost + last.map(i32::from).sum::<i32>());
                continue;
            }
            let cost = self.stand(level, (s, usize::from(place)), rest, cost);
            if cost + i32::from(self.parts.least[rest]) < self.least {
                self.grow(level + 1, cost, rest, watch);
            }
        }
        self.orders[level] = order;
    }

    /// Adds to every choice of the slots `rest` what it costs beside this choice. Gives what all then costs at least beside
    /// what stands, no less than the best once that is sure.
    fn stand(&mut self, level: usize, (s, place): (usize, usize), rest: usize, so_far: i32) -> i32 {
        let (before, after) = self.levels.split_at_mut(level + 1);
        let (from, to) = (&before[level], &mut after[0]);
        let mut cost = so_far;
        for r in slots_of(rest) {
            let least = add(&mut to[r], &from[r], self.parts.costs.row(s, place, r));
            cost += i32::from(least);
            if cost >= self.least {
                return cost;
            }
            to[r].iter_mut().for_each(|v| *v = v.saturating_sub(least));
        }
        cost
    }
}
