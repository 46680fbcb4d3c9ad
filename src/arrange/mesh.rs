//! Few slots that all touch each other: every choice of one slot with every choice of every other.
//!
//! Where the window spans the whole arrangement, a memory of the last few dishes remembers everything or nothing, and the
//! tables of [`super::search`] are no help. Here slots are filled one after another instead, the one with the fewest choices
//! left first, and to every choice of every open slot is added what it costs beside those that stand (forward checking).
//! What stands, the cheapest of each open slot beside it, and what the open slots cost each other at least (see
//! [`super::parts`]) together are a lower bound.
//!
//! Two slots may be *twins*: swap what they hold, and nothing costs more or less. Then only one of both ways is grown, and at
//! the end both are shown to the gate, which may tell them apart.
//!
//! When a search takes long, now and then some of the time goes into what larger parts of the slots cost. That changes nothing
//! in what is found, and says how good the best known is where time runs out.

use super::{
    costs::{Choice, Costs, DEAR, add, count_under, under_limit},
    parts::{Parts, slots_of},
    relaxation::NEVER,
    swap::Twins,
    table::{DishNo, Table},
    watch::Watch,
};

/// The most slots that are searched so: beyond, too many beginnings cost too little (house limit, by trying).
pub(super) const MOST_SLOTS: usize = 9;
/// The most slots that are bounded so (house limit: nearly two thousand parts with a row for each of their slots, some 5 MB).
const MOST_BOUNDED: usize = 14;
/// How many fillings of parts are grown for a bound alone.
const FOR_THE_BOUND: u64 = 3_000_000;
/// With fewer slots open it is cheaper to go on than to ask the gate.
const LATE: usize = 3;
/// After so many beginnings it shows whether the gate refuses any.
const WORTH_ASKING: u32 = 2_000;
/// How many arrangements are grown between two looks at the clock.
const BETWEEN_LOOKS: u32 = 2_000;
/// After so many arrangements a search takes long; and again each time twice as many are grown.
const LONG: u64 = 2_000;
/// So many fillings of parts are grown for each arrangement until then.
const SHARE: u64 = 1;

/// Searches until `watch` is closed or over.
pub(super) fn search(table: &Table, twins: &[Twins], watch: &mut Watch) {
    if table.candidates.iter().any(Vec::is_empty) {
        watch.raise(NEVER);
        return;
    }
    Mesh::new(table, twins, watch.below).search(watch);
}

/// What every arrangement of up to [`MOST_BOUNDED`] slots costs at least, as far as parts of it tell: for those that are too
/// many to be searched so.
pub(super) fn bound(table: &Table, watch: &mut Watch) {
    if table.slots > MOST_BOUNDED || table.candidates.iter().any(Vec::is_empty) {
        return;
    }
    let mut mesh = Mesh::new(table, &[], watch.below);
    mesh.long = FOR_THE_BOUND;
    mesh.see_to_the_bound(watch);
}

struct Mesh<'t> {
    table: &'t Table,
    twins: &'t [Twins],
    /// Which twins each slot is one of.
    twins_of: Vec<Vec<usize>>,
    costs: Costs,
    parts: Parts,
    /// For each number of slots filled: steps of every choice of every slot beside those that stand.
    levels: Vec<Vec<Vec<i16>>>,
    /// Room for the order of the choices at each level: what all costs at least with it, it costs itself, its place.
    orders: Vec<Vec<Choice>>,
    /// For each level, the choices after which nothing was left for what it costs alone.
    too_dear: Vec<Vec<bool>>,
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
    over: bool,
    /// What all that was left out when time was up costs at least.
    open: i64,
}

impl<'t> Mesh<'t> {
    fn new(table: &'t Table, twins: &'t [Twins], below: i64) -> Mesh<'t> {
        let m = table.slots;
        let costs = Costs::new(table, below);
        let parts = Parts::new(&costs);
        let lists = &table.candidates;
        let most = lists.iter().map(|l| l.iter().map(|&d| table.dish(d).max_g).max().unwrap_or(0)).collect();
        let twins_of =
            (0..m).map(|s| (0..twins.len()).filter(|&t| twins[t].slots.0 == s || twins[t].slots.1 == s).collect()).collect();
        Mesh {
            table,
            twins,
            twins_of,
            levels: vec![costs.own.clone(); m + 1],
            orders: vec![Vec::new(); m + 1],
            too_dear: vec![Vec::new(); m + 1],
            costs,
            parts,
            holds: vec![None; m],
            most,
            asked: vec![(0, 0); m + 1],
            looks: BETWEEN_LOOKS,
            long: LONG,
            over: false,
            open: NEVER,
        }
    }

    fn search(mut self, watch: &mut Watch) {
        watch.raise(self.price(self.parts.all()));
        if watch.is_closed() {
            return;
        }
        self.grow(0, 0, (1 << self.table.slots) - 1, watch);
        watch.raise(if self.over { self.open } else { NEVER });
    }

    /// So many steps in the unit of the table, with what every arrangement costs.
    fn price(&self, steps: i64) -> i64 {
        self.costs.base + self.costs.step * steps
    }

    /// Raises the bound by what the parts tell, which takes as long as the search itself took since the last time.
    fn see_to_the_bound(&mut self, watch: &mut Watch) {
        let lists = &self.table.candidates;
        let place = |(list, d): (&Vec<DishNo>, &DishNo)| list.binary_search(d).ok();
        let best: Option<Vec<usize>> = watch.best.as_ref().and_then(|b| lists.iter().zip(b).map(place).collect());
        self.parts.learn(best.as_deref(), (self.long * SHARE).max(1), watch);
        watch.raise(self.price(self.parts.all()));
        self.long = (self.long * 2).max(1);
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
        let room = (watch.below - self.costs.base).max(0);
        room.div_euclid(self.costs.step) + i64::from(room.rem_euclid(self.costs.step) != 0)
    }

    /// Steps that grams must cost which no open slot can eat up.
    fn waste(&self, open: usize) -> i64 {
        if self.table.waste == 0 {
            return 0;
        }
        let eaten: i64 = (0..self.table.slots).filter_map(|s| self.dish(s)).map(|d| self.table.dish(d).max_g).sum();
        let can: i64 = slots_of(open).map(|s| self.most[s]).sum();
        self.table.waste * (self.table.edible_g - eaten - can).max(0) / self.costs.step
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

    /// Fills the slots of the part `open`, with those that stand costing `so_far` steps. Gives whether all that was left out is
    /// too dear, whatever the gate says and whatever grams it takes.
    fn grow(&mut self, level: usize, so_far: i64, open: usize, watch: &mut Watch) -> bool {
        let m = self.table.slots;
        let limit = self.limit(watch) - so_far;
        let under = i16::try_from(limit.min(i64::from(DEAR))).unwrap_or(DEAR);
        let (mut s, mut fewest) = (m, usize::MAX);
        for r in slots_of(open) {
            let left = count_under(&self.levels[level][r], self.parts.with(open, r), under);
            if left == 0 {
                return true;
            }
            if left < fewest {
                (s, fewest) = (r, left);
            }
        }
        if s == m {
            return false;
        }
        let mut order = std::mem::take(&mut self.orders[level]);
        order.clear();
        under_limit(&mut order, &self.levels[level][s], self.parts.with(open, s), under);
        order.sort_unstable();
        let mut too_dear = std::mem::take(&mut self.too_dear[level]);
        too_dear.clear();
        too_dear.resize(self.costs.choices[s], false);
        let mut all_too_dear = true;
        for &(bound, steps, place) in &order {
            let bound = so_far + i64::from(bound);
            if bound >= self.limit(watch) {
                break;
            }
            if level == 0 && !self.over {
                // What is not grown yet costs no less.
                watch.raise(self.price(bound));
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
                self.open = self.open.min(self.price(bound));
                all_too_dear = false;
                break;
            }
            let place = usize::from(place);
            // Where one that costs no more beside anything was too dear, so is this one.
            if too_dear[self.parts.instead(s, place)] {
                continue;
            }
            self.holds[s] = Some(place);
            too_dear[place] = self.try_out(level, s, so_far + i64::from(steps), open & !(1 << s), watch);
            all_too_dear &= too_dear[place];
        }
        self.orders[level] = order;
        self.too_dear[level] = too_dear;
        self.holds[s] = None;
        all_too_dear
    }

    /// Goes on with what slot `s` now holds, with `rest` still open; gives what [`Mesh::grow`] gives.
    fn try_out(&mut self, level: usize, s: usize, cost: i64, rest: usize, watch: &mut Watch) -> bool {
        if rest == 0 {
            if !self.is_mirrored(s) {
                self.show(watch);
            }
            return false;
        }
        let limit = self.limit(watch) - i64::from(self.parts.least(rest));
        let cost = cost + self.stand(level, s, rest, limit - cost);
        if cost >= limit {
            return true;
        }
        if self.is_mirrored(s) || cost + self.waste(rest) >= limit {
            return false;
        }
        watch.nodes += 1;
        self.may_stand(level, watch) && self.grow(level + 1, cost, rest, watch)
    }

    /// Adds to every choice of the slots `rest` what it costs beside the choice that slot `s` now holds. Gives what the slots
    /// then cost at least beside what stands, more than `room` once that is sure.
    fn stand(&mut self, level: usize, s: usize, rest: usize, room: i64) -> i64 {
        let Some(place) = self.holds[s] else { return 0 };
        let (before, after) = self.levels.split_at_mut(level + 1);
        let (from, to) = (&before[level], &mut after[0]);
        let mut more = 0;
        for r in slots_of(rest) {
            let least = add(&mut to[r], &from[r], self.costs.row(s, place, r));
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

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(8) })]

        #[test]
        fn more_slots_than_are_searched_cost_no_less_than_their_parts_say(
            dislikes in prop::collection::vec(0_i64..400, 1..9),
            alike in prop::collection::vec(prop_oneof![0_u16..1_000, Just(0)], 40..60),
        ) {
            let table = table(MOST_SLOTS + 1, 2, &dislikes, &alike);
            let optimum = least(&table, &mut Vec::new());
            let patience = Patience { started: Instant::now(), limit: None, cancel: None };
            let mut watch = Watch::new(patience, i64::MAX / 8, -1, None);
            let first: Vec<DishNo> = table.candidates.iter().map(|c| c[0]).collect();
            watch.found(table.cost(&first).expect("it keeps the rules"), &first);
            bound(&table, &mut watch);
            prop_assert!(watch.bound <= optimum, "{} over {optimum}", watch.bound);
        }
    }
}
