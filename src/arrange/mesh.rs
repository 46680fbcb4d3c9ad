//! Few slots that all touch each other: every choice of one slot with every choice of every other.
//!
//! Where the window spans the whole arrangement, a memory of the last few dishes remembers everything or nothing, and the
//! tables of [`super::search`] are no help. Here slots are filled one after another instead, the one with the fewest choices
//! left first, and to every choice of every open slot is added what it costs beside those that stand (forward checking).
//! The cheapest of each open slot together with what stands is a lower bound, first sharpened by moving what every choice
//! must pay to some other slot into the choice itself (soft arc consistency, Schiex 2000, from memory).
//!
//! Two slots may be *twins*: swap what they hold, and nothing costs more or less. Then only one of both ways is grown, and at
//! the end both are shown to the gate, which may tell them apart.
//!
//! That bound is far too low to say how good the best known is where time runs out. So when a search takes long, now and then
//! some of the time goes into a bound from parts of the slots: see [`super::parts`]. It changes nothing in what is found.
//!
//! Sums are whole numbers of 16 bits, rounded down in steps chosen so that everything of interest fits: a bound is never
//! above the truth, and what a whole arrangement really costs is reckoned exactly.

use super::{
    parts::{Costs, Parts},
    relaxation::NEVER,
    table::{DishNo, Table},
    watch::{Twin, Watch},
};
use std::collections::HashMap;

/// The most slots that are searched so: beyond, too many beginnings cost too little (house limit, by trying).
pub(super) const MOST_SLOTS: usize = 9;
/// A step too dear to be of interest; twice it still fits into 16 bits.
const DEAR: i16 = 16_000;
/// The most steps that lie between the first bound and the best known.
const ROOM: i64 = 15_000;
/// So many choices are added at once by the processor: rows are as long as a multiple of it.
const LANES: usize = 8;
/// With fewer slots open it is cheaper to go on than to ask the gate.
const LATE: usize = 3;
/// After so many beginnings it shows whether the gate refuses any.
const WORTH_ASKING: u32 = 2_000;
/// How many arrangements are grown between two looks at the clock.
const BETWEEN_LOOKS: u32 = 2_000;
/// After so many arrangements a search takes long; and again each time twice as many are grown.
const LONG: u64 = 250_000;
/// One of so many goes into the bound from parts then.
const SHARE: u64 = 3;

/// Two slots that may swap what they hold, in the dishes of the table.
pub(super) struct Twins {
    pub slots: (usize, usize),
    /// What becomes of each dish when the two slots swap; itself where it is of another slot and not concerned; none where
    /// the swapped arrangement may be another matter.
    pub image: Vec<Option<DishNo>>,
    /// Whether a dish of the two slots may be swapped whatever stands beside it.
    pub swaps: Vec<bool>,
}

/// Searches until `watch` is closed or over.
pub(super) fn search(table: &Table, twins: &[Twins], watch: &mut Watch) {
    if table.candidates.iter().any(Vec::is_empty) {
        watch.raise(NEVER);
        return;
    }
    Mesh::new(table, twins, watch.below).search(watch);
}

struct Mesh<'t> {
    table: &'t Table,
    twins: &'t [Twins],
    /// Which twins each slot is one of.
    twins_of: Vec<Vec<usize>>,
    /// What every arrangement costs at least.
    base: i64,
    /// The cost of one step.
    step: i64,
    /// Steps of a choice of one slot (row) beside those of another, `slots` times `slots` of them.
    beside: Vec<Vec<i16>>,
    /// For each number of slots filled: steps of every choice of every slot beside those that stand.
    levels: Vec<Vec<Vec<i16>>>,
    /// The place of the choice in each slot that is filled.
    holds: Vec<Option<usize>>,
    /// The most grams that a choice of each slot takes.
    most: Vec<i64>,
    /// For each number of slots filled: how often the gate was asked of a beginning, and how often it refused.
    asked: Vec<(u32, u32)>,
    /// How many may be grown before the next look at the clock.
    looks: u32,
    /// After how many nodes the bound is seen to next.
    long: u64,
    parts: Parts,
    over: bool,
    /// What all that was left out when time was up costs at least.
    open: i64,
}

/// `out[k] = a[k] + b[k]`, and the least of them.
fn add(out: &mut [i16], a: &[i16], b: &[i16]) -> i16 {
    let n = out.len();
    let (a, b) = (&a[..n], &b[..n]);
    let mut least = i16::MAX;
    for k in 0..n {
        let sum = a[k].saturating_add(b[k]);
        out[k] = sum;
        least = least.min(sum);
    }
    least
}

/// How many are under `limit`.
fn count_under(list: &[i16], limit: i16) -> usize {
    list.chunks(LANES * 256).map(|part| usize::from(part.iter().map(|v| u16::from(*v < limit)).sum::<u16>())).sum()
}

impl<'t> Mesh<'t> {
    fn new(table: &'t Table, twins: &'t [Twins], below: i64) -> Mesh<'t> {
        let m = table.slots;
        let lists = &table.candidates;
        let mut own: Vec<Vec<i64>> = lists.iter().map(|l| l.iter().map(|&d| table.dish(d).cost).collect()).collect();
        let mut base = 0;
        let mut pairs: Vec<Vec<i64>> = vec![Vec::new(); m * m];
        for s in 0..m {
            for r in s + 1..m {
                let weight = table.weight(r - s);
                let mut square: Vec<i64> =
                    lists[s].iter().flat_map(|&a| lists[r].iter().map(move |&b| weight * table.like(a, b))).collect();
                let width = lists[r].len();
                // Half of what a choice of the one slot must pay goes there, then all to the other, then the rest.
                to_rows(&mut square, width, &mut own[s], 2);
                to_columns(&mut square, width, &mut own[r]);
                to_rows(&mut square, width, &mut own[s], 1);
                pairs[s * m + r] = square;
            }
        }
        for list in &mut own {
            let least = list.iter().copied().min().unwrap_or(0);
            base += least;
            list.iter_mut().for_each(|v| *v -= least);
        }
        let step = ((below - base).max(1) / ROOM + 1).max(1);
        let steps = |v: i64| i16::try_from((v / step).min(i64::from(DEAR))).unwrap_or(DEAR);
        let wide = |s: usize| lists[s].len().next_multiple_of(LANES);
        let mut beside = vec![Vec::new(); m * m];
        for s in 0..m {
            for r in s + 1..m {
                let square = &pairs[s * m + r];
                let (height, width) = (lists[s].len(), lists[r].len());
                let (mut rows, mut columns) = (vec![DEAR; height * wide(r)], vec![DEAR; width * wide(s)]);
                for a in 0..height {
                    for b in 0..width {
                        let v = steps(square[a * width + b]);
                        rows[a * wide(r) + b] = v;
                        columns[b * wide(s) + a] = v;
                    }
                }
                beside[s * m + r] = rows;
                beside[r * m + s] = columns;
            }
        }
        let first: Vec<Vec<i16>> = (0..m)
            .map(|s| {
                let mut list: Vec<i16> = own[s].iter().map(|&v| steps(v)).collect();
                list.resize(wide(s), DEAR);
                list
            })
            .collect();
        let most = lists.iter().map(|l| l.iter().map(|&d| table.dish(d).max_g).max().unwrap_or(0)).collect();
        let twins_of =
            (0..m).map(|s| (0..twins.len()).filter(|&t| twins[t].slots.0 == s || twins[t].slots.1 == s).collect()).collect();
        Mesh {
            table,
            twins,
            twins_of,
            base,
            step,
            beside,
            levels: vec![first; m + 1],
            holds: vec![None; m],
            most,
            asked: vec![(0, 0); m + 1],
            looks: BETWEEN_LOOKS,
            long: LONG,
            parts: Parts::new(m),
            over: false,
            open: NEVER,
        }
    }

    fn search(mut self, watch: &mut Watch) {
        watch.raise(self.base);
        if watch.is_closed() {
            return;
        }
        let open: Vec<usize> = (0..self.table.slots).collect();
        self.grow(0, 0, &open, watch);
        watch.raise(if self.over { self.open } else { NEVER });
    }

    /// Raises the bound by what the parts tell, which takes a share of what the search itself took so far.
    fn see_to_the_bound(&mut self, watch: &mut Watch) {
        let lists = &self.table.candidates;
        let choices: Vec<usize> = lists.iter().map(Vec::len).collect();
        let place = |(list, d): (&Vec<DishNo>, &DishNo)| list.binary_search(d).ok();
        let best = watch.best.as_ref().and_then(|b| lists.iter().zip(b).map(place).collect());
        let costs = Costs { own: &self.levels[0], beside: &self.beside, choices: &choices, best };
        let steps = self.parts.learn(&costs, (self.long / SHARE).max(1), watch);
        watch.raise(self.base + self.step * steps);
        self.long *= 2;
    }

    /// Whether the gate lets what stands stand together. Where it hardly ever refuses it is asked no more: it is dear.
    fn may_stand(&mut self, level: usize, watch: &Watch) -> bool {
        let (asked, refused) = self.asked[level];
        let open = self.table.slots - level - 1;
        if level == 0 || open < LATE || (asked > WORTH_ASKING && refused * 20 < asked) {
            return true;
        }
        let chosen: Vec<DishNo> = (0..self.table.slots).filter_map(|s| self.dish(s)).collect();
        let may = watch.may_stand(&chosen);
        self.asked[level] = (asked + 1, refused + u32::from(!may));
        may
    }

    fn dish(&self, s: usize) -> Option<DishNo> {
        self.holds[s].map(|place| self.table.candidates[s][place])
    }

    /// How many steps an arrangement may cost and still be better than the best known.
    fn limit(&self, watch: &Watch) -> i64 {
        (watch.below - self.base).max(0).div_euclid(self.step) + i64::from((watch.below - self.base).rem_euclid(self.step) != 0)
    }

    /// Steps that grams must cost which no open slot can eat up.
    fn waste(&self, open: &[usize]) -> i64 {
        if self.table.waste == 0 {
            return 0;
        }
        let eaten: i64 = (0..self.table.slots).filter_map(|s| self.dish(s)).map(|d| self.table.dish(d).max_g).sum();
        let can: i64 = open.iter().map(|&s| self.most[s]).sum();
        self.table.waste * (self.table.edible_g - eaten - can).max(0) / self.step
    }

    /// Whether the swapped way, which costs the same, stands for this one.
    fn is_mirrored(&self, s: usize) -> bool {
        self.twins_of[s].iter().any(|&t| {
            let twins = &self.twins[t];
            let (first, second) = twins.slots;
            let (Some(a), Some(b)) = (self.dish(first), self.dish(second)) else { return false };
            twins.swaps[usize::from(a)]
                && twins.swaps[usize::from(b)]
                && twins.image[usize::from(b)].is_some_and(|instead| a > instead)
        })
    }

    /// Fills the `open` slots, with those that stand costing `so_far` steps.
    fn grow(&mut self, level: usize, so_far: i64, open: &[usize], watch: &mut Watch) {
        let limit = self.limit(watch) - so_far;
        let under = i16::try_from(limit.min(i64::from(DEAR))).unwrap_or(DEAR);
        let Some(&s) = open.iter().min_by_key(|&&s| count_under(&self.levels[level][s], under)) else { return };
        let rest: Vec<usize> = open.iter().copied().filter(|&r| r != s).collect();
        let mut order: Vec<(i16, u16)> = Vec::new();
        for (place, &steps) in self.levels[level][s].iter().enumerate().take(self.table.candidates[s].len()) {
            if steps < under {
                order.push((steps, place as u16));
            }
        }
        order.sort_unstable();
        for (steps, place) in order {
            let mut cost = so_far + i64::from(steps);
            if cost >= self.limit(watch) {
                break;
            }
            if level == 0 && !self.over {
                // What is not grown yet costs no less.
                watch.raise(self.base + self.step * cost);
            }
            if watch.nodes >= self.long {
                self.see_to_the_bound(watch);
            }
            if watch.is_closed() {
                break;
            }
            self.looks -= 1;
            if self.looks == 0 {
                self.looks = BETWEEN_LOOKS;
                self.over |= watch.is_over();
            }
            if self.over {
                self.open = self.open.min(self.base + self.step * cost);
                break;
            }
            self.holds[s] = Some(usize::from(place));
            if self.is_mirrored(s) {
                continue;
            }
            if rest.is_empty() {
                self.show(watch);
                continue;
            }
            let limit = self.limit(watch);
            cost += self.stand(level, s, usize::from(place), &rest, limit - cost);
            if cost >= limit || cost + self.waste(&rest) >= limit {
                continue;
            }
            watch.nodes += 1;
            if !self.may_stand(level, watch) {
                continue;
            }
            self.grow(level + 1, cost, &rest, watch);
        }
        self.holds[s] = None;
    }

    /// Adds to every choice of the slots `rest` what it costs beside the choice that slot `s` now holds. Gives what the slots
    /// then cost at least, more than `room` once that is sure.
    fn stand(&mut self, level: usize, s: usize, place: usize, rest: &[usize], room: i64) -> i64 {
        let (before, after) = self.levels.split_at_mut(level + 1);
        let (from, to) = (&before[level], &mut after[0]);
        let mut more = 0;
        for &r in rest {
            let row = &self.beside[s * self.table.slots + r];
            let wide = from[r].len();
            let least = add(&mut to[r], &from[r], &row[place * wide..(place + 1) * wide]);
            more += i64::from(least);
            if more >= room {
                break;
            }
            if least > 0 {
                to[r].iter_mut().for_each(|v| *v = v.saturating_sub(least));
            }
        }
        more
    }

    /// Shows a whole arrangement, and all that it stands for, to the watch.
    fn show(&self, watch: &mut Watch) {
        let held: Vec<DishNo> = (0..self.table.slots).filter_map(|s| self.dish(s)).collect();
        // What is refused together is refused however twins swap.
        if !watch.may_stand(&held) {
            return;
        }
        let mut ways = vec![held];
        for twins in self.twins {
            let swapped: Vec<Vec<DishNo>> = ways.iter().filter_map(|way| twins.swapped(way)).collect();
            ways.extend(swapped);
        }
        for way in ways {
            if let Some(cost) = self.table.cost(&way) {
                watch.found(cost, &way);
            }
        }
    }
}

impl Twins {
    /// Two slots of which the gate says that they may swap, with the dishes for which that is true by the table: everything
    /// that may stand beside them costs the same and takes the same. `all` are all that the gate named, `numbers` the dishes
    /// of the instance for those of the table.
    pub(super) fn of(table: &Table, which: usize, all: &[Twin], numbers: &[usize]) -> Twins {
        let place: HashMap<usize, DishNo> = numbers.iter().zip(0..).map(|(&n, d)| (n, d)).collect();
        let twin = &all[which];
        let (first, second) = twin.slots;
        let mut at = vec![0; table.n()];
        table.candidates.iter().enumerate().for_each(|(s, list)| list.iter().for_each(|&d| at[usize::from(d)] = s));
        let other = |s: usize| {
            if s == first {
                second
            } else if s == second {
                first
            } else {
                s
            }
        };
        let takes = |d: DishNo| {
            let dish = table.dish(d);
            (dish.min_g, dish.max_g, dish.minutes, dish.cost)
        };
        let named = |d: usize| twin.image[numbers[d]].and_then(|n| place.get(&n).copied());
        let mut image: Vec<Option<DishNo>> = (0..table.n()).map(named).collect();
        for d in 0..table.phantom() {
            let back = image[usize::from(d)].filter(|&i| {
                image[usize::from(i)] == Some(d) && takes(i) == takes(d) && at[usize::from(i)] == other(at[usize::from(d)])
            });
            image[usize::from(d)] = back;
        }
        let pair = |a: DishNo, b: DishNo| {
            let apart = at[usize::from(a)].abs_diff(at[usize::from(b)]);
            table.weight(apart) * table.like(a, b)
        };
        let is_outside = |d: DishNo| other(at[usize::from(d)]) == at[usize::from(d)];
        let outside: Vec<DishNo> = (0..table.phantom()).filter(|&d| is_outside(d)).collect();
        // What is made of a swapped dish is another choice afterwards: it must fare alike beside all that is not swapped.
        let moved: Vec<DishNo> = outside.iter().copied().filter(|&d| image[usize::from(d)].is_some_and(|i| i != d)).collect();
        for &d in &moved {
            let fares = |i: DishNo| {
                outside
                    .iter()
                    .filter(|&&e| at[usize::from(e)] != at[usize::from(d)])
                    .all(|&e| image[usize::from(e)].is_none_or(|f| pair(d, e) == pair(i, f)))
            };
            if let Some(i) = image[usize::from(d)].filter(|&i| !fares(i)) {
                (image[usize::from(d)], image[usize::from(i)]) = (None, None);
            }
        }
        let is_still = |d: DishNo| {
            all.iter()
                .enumerate()
                .all(|(t, twin)| t == which || twin.image[numbers[usize::from(d)]] == Some(numbers[usize::from(d)]))
        };
        let never = |a: DishNo, b: DishNo| table.like(a, b) > 1_000;
        let mut swaps = vec![false; table.n()];
        for &d in table.candidates[first].iter().chain(&table.candidates[second]) {
            let Some(i) = image[usize::from(d)] else { continue };
            swaps[usize::from(d)] = is_still(d)
                && outside.iter().all(|&e| match image[usize::from(e)] {
                    Some(f) => pair(d, e) == pair(i, f),
                    None => never(d, e),
                });
        }
        // Both ways of a swap, or none.
        let both = |d: usize| swaps[d] && image[d].is_some_and(|i| swaps[usize::from(i)]);
        let mut swaps: Vec<bool> = (0..table.n()).map(both).collect();
        for &a in &table.candidates[first] {
            let Some(i) = image[usize::from(a)].filter(|_| swaps[usize::from(a)]) else { continue };
            let fares = |&b: &DishNo| !swaps[usize::from(b)] || image[usize::from(b)].is_none_or(|c| pair(a, b) == pair(c, i));
            if !table.candidates[second].iter().all(fares) {
                swaps[usize::from(a)] = false;
                swaps[usize::from(i)] = false;
            }
        }
        Twins { slots: twin.slots, image, swaps }
    }

    /// The arrangement with the two slots swapped; none where that is another matter.
    fn swapped(&self, way: &[DishNo]) -> Option<Vec<DishNo>> {
        let (first, second) = self.slots;
        if !self.swaps[usize::from(way[first])] || !self.swaps[usize::from(way[second])] {
            return None;
        }
        let mut other: Vec<DishNo> = way.iter().map(|&d| self.image[usize::from(d)]).collect::<Option<_>>()?;
        other.swap(first, second);
        Some(other)
    }
}

/// Moves the least of each row, divided, into `own`.
fn to_rows(square: &mut [i64], width: usize, own: &mut [i64], divided: i64) {
    for (row, own) in square.chunks_mut(width).zip(own) {
        let least = row.iter().copied().min().unwrap_or(0) / divided;
        *own += least;
        row.iter_mut().for_each(|v| *v -= least);
    }
}

/// Moves the least of each column into `own`.
fn to_columns(square: &mut [i64], width: usize, own: &mut [i64]) {
    for (column, own) in own.iter_mut().enumerate() {
        let least = square.chunks(width).map(|row| row[column]).min().unwrap_or(0);
        *own += least;
        square.chunks_mut(width).for_each(|row| row[column] -= least);
    }
}

#[cfg(test)]
mod tests {
    use super::{
        super::{
            instance::{Dish, Instance, Supply},
            watch::Patience,
        },
        *,
    };
    use proptest::prelude::*;
    use std::time::{Duration, Instant};

    /// Slots with choices of their own, as a week has them, all touching each other.
    fn table(slots: usize, choices: usize, dislikes: &[i64], alike: &[u16]) -> Table {
        let n = slots * choices;
        let dish = |d: usize| Dish {
            id: format!("d{d}"),
            min_g: 0,
            max_g: 10,
            minutes: 1,
            dislike: dislikes[d % dislikes.len()],
            allowed_slots: Some(vec![d / choices]),
            max_uses: 1,
        };
        let likeness = (0..n * n).map(|i| alike[((i / n).min(i % n) * 31 + (i / n).max(i % n) * 17) % alike.len()]).collect();
        let supply = Supply { edible_g: 10 * slots as i64 + 5, waste_cost_per_g: 1, day_minutes: vec![100] };
        Table::of(&Instance::of_parts(vec![0; slots], (0..n).map(dish).collect(), likeness, slots - 1, supply), false)
    }

    /// The least cost, by trying everything.
    fn least(table: &Table, held: &mut Vec<DishNo>) -> i64 {
        if held.len() == table.slots {
            return table.cost(held).unwrap_or(NEVER);
        }
        let mut best = NEVER;
        for &d in &table.candidates[held.len()] {
            held.push(d);
            best = best.min(least(table, held));
            held.pop();
        }
        best
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

        #[test]
        fn a_search_cut_short_anywhere_claims_no_more_than_trying_everything_says(
            slots in 3_usize..7,
            choices in 1_usize..5,
            dislikes in prop::collection::vec(0_i64..400, 1..9),
            alike in prop::collection::vec(prop_oneof![0_u16..1_000, Just(0), Just(20_000)], 30..60),
            cuts in prop::collection::vec(1_u32..300, 6),
        ) {
            let table = table(slots, choices, &dislikes, &alike);
            let optimum = least(&table, &mut Vec::new());
            let first: Vec<DishNo> = table.candidates.iter().map(|c| c[0]).collect();
            for (i, cut) in cuts.into_iter().enumerate() {
                let patience = Patience { started: Instant::now(), limit: Some(Duration::ZERO), cancel: None };
                // Parts are asked with and without time left.
                let patient = Patience { limit: None, ..patience };
                let mut watch = Watch::new(patient, i64::MAX / 8, -1, None);
                watch.found(table.cost(&first).expect("it keeps the rules"), &first);
                let mut mesh = Mesh::new(&table, &[], watch.below);
                for _ in 0..i {
                    mesh.long = u64::from(cut);
                    mesh.see_to_the_bound(&mut watch);
                    prop_assert!(watch.bound <= optimum, "parts: {} over {optimum}", watch.bound);
                }
                let (below, bound) = (watch.below, watch.bound);
                let mut watch = Watch::new(patience, below, bound, None);
                mesh.looks = cut;
                mesh.long = u64::from(cut % 5);
                mesh.search(&mut watch);
                prop_assert!(watch.bound <= optimum, "cut after {cut}: {} over {optimum}", watch.bound);
                prop_assert!(watch.below >= optimum);
                if watch.is_closed() {
                    prop_assert_eq!(watch.below, optimum);
                }
            }
        }

        #[test]
        fn a_search_to_the_end_finds_the_least_however_often_the_bound_is_seen_to(
            slots in 3_usize..7,
            choices in 1_usize..5,
            dislikes in prop::collection::vec(0_i64..400, 1..9),
            alike in prop::collection::vec(prop_oneof![0_u16..1_000, Just(0)], 40..60),
            long in 1_u64..20,
        ) {
            let table = table(slots, choices, &dislikes, &alike);
            let optimum = least(&table, &mut Vec::new());
            let patience = Patience { started: Instant::now(), limit: None, cancel: None };
            let mut watch = Watch::new(patience, i64::MAX / 8, -1, None);
            let first: Vec<DishNo> = table.candidates.iter().map(|c| c[0]).collect();
            watch.found(table.cost(&first).expect("it keeps the rules"), &first);
            let mut mesh = Mesh::new(&table, &[], watch.below);
            mesh.long = long;
            mesh.search(&mut watch);
            prop_assert_eq!((watch.below, watch.bound), (optimum, optimum));
        }
    }
}
