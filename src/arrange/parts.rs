//! What the slots of a small arrangement cost at least, learnt from parts of them.
//!
//! Where every slot touches every other, a pair of dishes says little: nearly every dish has some other that it is not like at
//! all. Three or four dishes that are all unlike are rarer. So every part of three slots is filled as well as can be, then
//! every part of four, and so on. The least costs of the parts one slot smaller add up to a bound for each larger one: a part
//! of `k` slots holds each of its pairs in `k - 2` of the parts one smaller, and each of its slots in `k - 1`. What a slot
//! costs by itself therefore counts `k - 1` times in a part of `k`, and what a pair costs always the same, `slots - 1` times;
//! then the bound of a part of `k` is the sum over those one smaller divided by `k - 2` (averaging over subsets, as in
//! Katona, Nemetz and Simonovits 1964, from memory).
//!
//! Grams, minutes and the gate are left out, which can only make the bound lower.

use super::watch::Watch;

/// Stands for a best cost that is not known.
const UNKNOWN: i32 = i32::MAX / 4;
/// How many fillings are grown between two looks at the clock.
const BETWEEN_LOOKS: u64 = 4_000;

/// What is known of the parts. A part is a set of slots, one bit each.
pub(super) struct Parts {
    slots: usize,
    /// For each part, what its slots and pairs cost at least, counted as the module says.
    least: Vec<i64>,
    /// The parts that are not filled yet, in the order in which they come.
    waiting: Vec<usize>,
}

/// The costs in steps: of each choice of each slot by itself, and beside those of each other slot, in rows as wide as the
/// slot is by itself.
pub(super) struct Costs<'a> {
    pub own: &'a [Vec<i16>],
    pub beside: &'a [Vec<i16>],
    /// How many choices each slot really has; its rows may be longer.
    pub choices: &'a [usize],
    /// The place in each slot of the best choice known.
    pub best: Option<Vec<usize>>,
}

impl Parts {
    pub(super) fn new(slots: usize) -> Parts {
        let mut waiting: Vec<usize> = (0..1_usize << slots).filter(|p| p.count_ones() > 2).collect();
        waiting.sort_by_key(|p| (std::cmp::Reverse(p.count_ones()), std::cmp::Reverse(*p)));
        Parts { slots, least: vec![0; 1 << slots], waiting }
    }

    /// Fills parts until some `most` fillings are grown, or `watch` is over. Gives the steps that all slots together cost at
    /// least.
    pub(super) fn learn(&mut self, costs: &Costs<'_>, most: u64, watch: &mut Watch) -> i64 {
        let mut left = most;
        while left > 0 && !watch.is_over() {
            let Some(&part) = self.waiting.last() else { break };
            let mut filling = Filling::new(costs, self.slots, part, left, self.least[part]);
            let slots: Vec<usize> = (0..self.slots).filter(|s| part >> s & 1 == 1).collect();
            filling.grow(0, 0, &slots, watch);
            let known = i64::from(if filling.over { filling.least.min(filling.open) } else { filling.least });
            self.least[part] = self.least[part].max(known);
            left = left.saturating_sub(filling.grown);
            if !filling.over {
                self.waiting.pop();
            }
            self.carry(part.count_ones() + 1);
        }
        let all = self.least[(1 << self.slots) - 1];
        if self.slots > 2 { all / (self.slots as i64 - 1) } else { 0 }
    }

    /// Carries what is known of the parts on to all of `size` slots and more.
    fn carry(&mut self, size: u32) {
        for k in size..=self.slots as u32 {
            for part in (0..1_usize << self.slots).filter(|p| p.count_ones() == k) {
                let smaller = (0..self.slots).filter(|s| part >> s & 1 == 1).map(|s| self.least[part & !(1 << s)]);
                let sum: i64 = smaller.sum();
                let times = i64::from(k) - 2;
                self.least[part] = self.least[part].max((sum + times - 1).div_euclid(times));
            }
        }
    }
}

/// One part as it is filled: see [`super::mesh`], which does the same for all slots with all rules.
struct Filling<'a> {
    costs: &'a Costs<'a>,
    slots: usize,
    /// How often a pair counts.
    pair: i32,
    levels: Vec<Vec<Vec<i32>>>,
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

impl<'a> Filling<'a> {
    fn new(costs: &'a Costs<'a>, slots: usize, part: usize, most: u64, floor: i64) -> Filling<'a> {
        let count = part.count_ones() as usize;
        let (own, pair) = (count as i32 - 1, slots as i32 - 1);
        let first: Vec<Vec<i32>> = (0..slots)
            .map(|s| if part >> s & 1 == 1 { costs.own[s].iter().map(|&v| own * i32::from(v)).collect() } else { Vec::new() })
            .collect();
        let mut least = UNKNOWN;
        if let Some(best) = &costs.best {
            let held: Vec<usize> = (0..slots).filter(|s| part >> s & 1 == 1).collect();
            least = held.iter().map(|&s| first[s][best[s]]).sum();
            for (i, &s) in held.iter().enumerate() {
                for &r in &held[i + 1..] {
                    let wide = costs.own[r].len();
                    least += pair * i32::from(costs.beside[s * slots + r][best[s] * wide + best[r]]);
                }
            }
        }
        let floor = i32::try_from(floor).unwrap_or(UNKNOWN);
        let levels = vec![first; count];
        Filling { costs, slots, pair, levels, least, floor, open: UNKNOWN, grown: 0, most, over: false }
    }

    fn grow(&mut self, level: usize, so_far: i32, open: &[usize], watch: &mut Watch) {
        let room = self.least - so_far;
        let count = |s: usize| self.levels[level][s].iter().map(|v| u32::from(*v < room)).sum::<u32>();
        let Some(&s) = open.iter().min_by_key(|&&s| count(s)) else { return };
        let rest: Vec<usize> = open.iter().copied().filter(|&r| r != s).collect();
        let mut order: Vec<(i32, usize)> = Vec::new();
        for (place, &steps) in self.levels[level][s].iter().enumerate().take(self.costs.choices[s]) {
            if steps < room {
                order.push((steps, place));
            }
        }
        order.sort_unstable();
        for (steps, place) in order {
            let cost = so_far + steps;
            if cost >= self.least || self.least <= self.floor {
                return;
            }
            self.grown += 1;
            self.over |= self.grown > self.most || (self.grown.is_multiple_of(BETWEEN_LOOKS) && watch.is_over());
            if self.over {
                self.open = self.open.min(cost);
                return;
            }
            let cost = match rest[..] {
                [] => cost,
                [r] => cost + self.beside(level, s, place, r),
                _ => {
                    let cost = self.stand(level, s, place, &rest, cost);
                    if cost < self.least {
                        self.grow(level + 1, cost, &rest, watch);
                    }
                    continue;
                }
            };
            self.least = self.least.min(cost);
        }
    }

    /// The least that the last open slot costs.
    fn beside(&self, level: usize, s: usize, place: usize, r: usize) -> i32 {
        let from = &self.levels[level][r];
        let row = &self.costs.beside[s * self.slots + r][place * from.len()..(place + 1) * from.len()];
        from.iter().zip(row).map(|(&a, &b)| a + self.pair * i32::from(b)).min().unwrap_or(0)
    }

    /// Adds to every choice of the slots `rest` what it costs beside this choice of slot `s`. Gives what all then costs at
    /// least, if it is less than the best.
    fn stand(&mut self, level: usize, s: usize, place: usize, rest: &[usize], so_far: i32) -> i32 {
        let (before, after) = self.levels.split_at_mut(level + 1);
        let (from, to) = (&before[level], &mut after[0]);
        let mut cost = so_far;
        for &r in rest {
            let wide = from[r].len();
            let row = &self.costs.beside[s * self.slots + r][place * wide..(place + 1) * wide];
            let mut least = i32::MAX;
            for ((out, &a), &b) in to[r].iter_mut().zip(&from[r]).zip(row) {
                *out = a + self.pair * i32::from(b);
                least = least.min(*out);
            }
            cost += least;
            if cost >= self.least {
                return cost;
            }
            to[r].iter_mut().for_each(|v| *v -= least);
        }
        cost
    }
}
