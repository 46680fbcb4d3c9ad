//! A good arrangement soon: annealing.

use super::{
    table::{DishNo, Table},
    watch::Watch,
};

/// A small generator of numbers that look random; the same seed gives the same numbers everywhere (splitmix64).
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        mix(self.0)
    }

    /// A number below `count`, which is not 0.
    pub(super) fn below(&mut self, count: usize) -> usize {
        ((u128::from(self.next()) * count as u128) >> 64) as usize
    }

    /// A number from 0 to 1.
    pub(super) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// A number that hangs on every bit of `x`.
pub(super) fn mix(x: u64) -> u64 {
    let mut z = x;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// An arrangement on its way, with what it breaks counted beside what it costs.
pub(super) struct Draft<'t> {
    table: &'t Table,
    pub dishes: Vec<DishNo>,
    used: Vec<u32>,
    minutes: Vec<i64>,
    least: i64,
    most: i64,
    /// Cost without waste.
    cost: i64,
    /// What a gram or a minute too much counts as.
    fine: i64,
}

impl<'t> Draft<'t> {
    /// Starts from `dishes`, which may break rules 5 and 6 but not 4.
    pub(super) fn new(table: &'t Table, dishes: Vec<DishNo>) -> Draft<'t> {
        let mut draft = Draft {
            table,
            used: vec![0; table.n()],
            minutes: vec![0; table.day_minutes.len()],
            least: 0,
            most: 0,
            cost: 0,
            fine: table.waste.max(3_000),
            dishes,
        };
        for s in 0..draft.dishes.len() {
            let d = draft.dishes[s];
            let dish = table.dish(d);
            draft.used[usize::from(d)] += 1;
            draft.minutes[table.day[s]] += dish.minutes;
            draft.least += dish.min_g;
            draft.most += dish.max_g;
            draft.cost += dish.cost;
            draft.cost += (1..=s.min(table.gap.len())).map(|k| table.weight(k) * table.like(draft.dishes[s - k], d)).sum::<i64>();
        }
        draft
    }

    fn broken(&self, least: i64) -> i64 {
        (least - self.table.edible_g).max(0)
    }

    fn wasted(&self, most: i64) -> i64 {
        self.table.waste * (self.table.edible_g - most).max(0)
    }

    fn over(&self, day: usize, more: i64) -> i64 {
        (self.minutes[day] + more - self.table.day_minutes[day]).max(0)
    }

    /// What slot `s` costs by likeness with `d` in it, slot `but` left out.
    fn pairs(&self, s: usize, d: DishNo, but: usize) -> i64 {
        let mut sum = 0;
        for k in 1..=self.table.gap.len() {
            let weight = self.table.gap[k - 1];
            if s >= k && s - k != but {
                sum += weight * self.table.like(self.dishes[s - k], d);
            }
            if s + k < self.dishes.len() && s + k != but {
                sum += weight * self.table.like(self.dishes[s + k], d);
            }
        }
        sum
    }

    /// How much dearer it gets with `d` in slot `s`; none where that is one use too many.
    fn change(&self, s: usize, d: DishNo) -> Option<i64> {
        let (t, old) = (self.table, self.dishes[s]);
        if old == d || self.used[usize::from(d)] >= t.dish(d).uses {
            return None;
        }
        let (new, gone, day) = (t.dish(d), t.dish(old), t.day[s]);
        let mut more = new.cost - gone.cost + self.pairs(s, d, s) - self.pairs(s, old, s);
        more += self.wasted(self.most + new.max_g - gone.max_g) - self.wasted(self.most);
        more += self.fine * (self.broken(self.least + new.min_g - gone.min_g) - self.broken(self.least));
        more += 10_000 * (self.over(day, new.minutes - gone.minutes) - self.over(day, 0));
        Some(more)
    }

    fn put(&mut self, s: usize, d: DishNo) {
        let (t, old) = (self.table, self.dishes[s]);
        let (new, gone) = (t.dish(d), t.dish(old));
        self.cost += new.cost - gone.cost + self.pairs(s, d, s) - self.pairs(s, old, s);
        self.used[usize::from(old)] -= 1;
        self.used[usize::from(d)] += 1;
        self.minutes[t.day[s]] += new.minutes - gone.minutes;
        self.least += new.min_g - gone.min_g;
        self.most += new.max_g - gone.max_g;
        self.dishes[s] = d;
    }

    /// How much dearer it gets if slots `s` and `r` change places.
    fn swap_change(&self, s: usize, r: usize) -> i64 {
        let (t, a, b) = (self.table, self.dishes[s], self.dishes[r]);
        let mut more = self.pairs(s, b, r) + self.pairs(r, a, s) - self.pairs(s, a, r) - self.pairs(r, b, s);
        let shift = t.dish(b).minutes - t.dish(a).minutes;
        if t.day[s] != t.day[r] {
            more += 10_000 * (self.over(t.day[s], shift) - self.over(t.day[s], 0));
            more += 10_000 * (self.over(t.day[r], -shift) - self.over(t.day[r], 0));
        }
        more
    }

    fn swap(&mut self, s: usize, r: usize) {
        let t = self.table;
        let (a, b) = (self.dishes[s], self.dishes[r]);
        self.cost += self.pairs(s, b, r) + self.pairs(r, a, s) - self.pairs(s, a, r) - self.pairs(r, b, s);
        let shift = t.dish(b).minutes - t.dish(a).minutes;
        self.minutes[t.day[s]] += shift;
        self.minutes[t.day[r]] -= shift;
        self.dishes.swap(s, r);
    }

    /// Its cost if it breaks nothing.
    pub(super) fn value(&self) -> Option<i64> {
        let late = (0..self.minutes.len()).any(|d| self.over(d, 0) > 0);
        (!late && self.broken(self.least) == 0).then(|| self.cost + self.wasted(self.most))
    }
}

/// The first and the last temperature, in the unit of cost: a worsening by so much is taken in one of three tries.
const HOT: f64 = 120_000.0;
const COLD: f64 = 300.0;

/// Anneals from `start` for `rounds` tries and gives the best arrangement without a fault that was met.
///
/// Source of the method: Kirkpatrick, Gelatt and Vecchi, "Optimization by simulated annealing" (1983), from memory; the
/// temperatures are ours, by trying.
pub(super) fn anneal(
    table: &Table,
    start: Vec<DishNo>,
    rounds: usize,
    seed: u64,
    watch: &mut Watch,
) -> Option<(i64, Vec<DishNo>)> {
    let m = table.slots;
    let can: Vec<Vec<bool>> = table
        .candidates
        .iter()
        .map(|c| {
            let mut can = vec![false; table.n()];
            c.iter().for_each(|&d| can[usize::from(d)] = true);
            can
        })
        .collect();
    let mut dice = Dice::new(seed);
    let mut draft = Draft::new(table, start);
    let mut best = draft.value().map(|v| (v, draft.dishes.clone()));
    let mut heat = HOT;
    let cooling = (COLD / HOT).powf(1.0 / (rounds as f64 / 256.0).max(1.0));
    for round in 0..rounds {
        if round % 256 == 255 {
            heat *= cooling;
            if watch.is_over() {
                break;
            }
        }
        let s = dice.below(m);
        let taken = if m > 1 && dice.below(4) == 0 {
            let r = dice.below(m);
            let (a, b) = (draft.dishes[s], draft.dishes[r]);
            if a == b || !can[s][usize::from(b)] || !can[r][usize::from(a)] {
                continue;
            }
            let more = draft.swap_change(s, r);
            let taken = more <= 0 || dice.share() < (-(more as f64) / heat).exp();
            if taken {
                draft.swap(s, r);
            }
            taken
        } else {
            let d = table.candidates[s][dice.below(table.candidates[s].len())];
            let Some(more) = draft.change(s, d) else { continue };
            let taken = more <= 0 || dice.share() < (-(more as f64) / heat).exp();
            if taken {
                draft.put(s, d);
            }
            taken
        };
        if taken
            && let Some(value) = draft.value()
            && best.as_ref().is_none_or(|b| value < b.0)
        {
            best = Some((value, draft.dishes.clone()));
        }
    }
    best
}

/// Some dish in every slot so that none is used too often; or, where that is impossible, slots that together have more
/// need than the dishes that may fill them have uses (augmenting ways, and what the last of them could reach).
pub(super) fn any_filling(table: &Table) -> Result<Vec<DishNo>, Vec<usize>> {
    let mut holds: Vec<Vec<usize>> = vec![Vec::new(); table.n()];
    for new in 0..table.slots {
        // Breadth first, so that no chain of slots is too long for the stack.
        let mut from: Vec<Option<(usize, DishNo)>> = vec![None; table.slots];
        let mut seen = vec![false; table.slots];
        seen[new] = true;
        let mut reached = vec![new];
        let mut at = 0;
        let mut free = None;
        while at < reached.len() && free.is_none() {
            let s = reached[at];
            at += 1;
            for &d in &table.candidates[s] {
                if holds[usize::from(d)].len() < table.dish(d).uses as usize {
                    free = Some((s, d));
                    break;
                }
                for &other in &holds[usize::from(d)] {
                    if !seen[other] {
                        seen[other] = true;
                        from[other] = Some((s, d));
                        reached.push(other);
                    }
                }
            }
        }
        let Some((mut s, mut d)) = free else {
            reached.sort_unstable();
            return Err(reached);
        };
        // Each slot on the way back gives up its dish to the one before.
        loop {
            let given = from[s];
            if let Some((_, dish)) = given {
                holds[usize::from(dish)].retain(|&x| x != s);
            }
            holds[usize::from(d)].push(s);
            let Some((before, dish)) = given else { break };
            (s, d) = (before, dish);
        }
    }
    let mut filled = vec![0; table.slots];
    for (d, slots) in holds.iter().enumerate() {
        slots.iter().for_each(|&s| filled[s] = d as DishNo);
    }
    Ok(filled)
}
