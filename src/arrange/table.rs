//! The instance in the form the search works on: only dishes that can stand somewhere, alike ones merged, costs in one unit.

use super::instance::Instance;

/// Stands for "no dish": the slot before the first. It is like nothing.
pub(super) type DishNo = u16;

/// What the search needs to know of a dish. Grams and minutes as in the instance; `cost` in the unit of the objective.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub min_g: i64,
    pub max_g: i64,
    pub minutes: i64,
    pub cost: i64,
    /// At most the number of slots.
    pub uses: u32,
    /// The dishes of the instance that are alike in everything and stand here as one, each with its own uses.
    pub members: Vec<usize>,
}

/// See the module.
#[derive(Clone, Debug)]
pub(super) struct Table {
    pub slots: usize,
    pub dishes: Vec<Entry>,
    /// Likeness, (n+1) x (n+1); the last row and column are the phantom before the first slot, 0 to everything.
    likeness: Vec<u16>,
    /// Weights of gaps 1, 2, ...; no longer than the slots, the last one not 0 (but one at least).
    pub gap: Vec<i64>,
    /// The dishes that may stand in each slot, rising.
    pub candidates: Vec<Vec<DishNo>>,
    pub day: Vec<usize>,
    pub day_minutes: Vec<i64>,
    pub edible_g: i64,
    /// Cost of a gram of waste in the unit of the objective.
    pub waste: i64,
    /// The highest likeness of any two dishes, 1000 at least.
    pub most_like: i64,
}

impl Table {
    /// Takes what can stand somewhere out of `instance`.
    pub(super) fn new(instance: &Instance) -> Table {
        Table::of(instance, true)
    }

    /// The same; `merged` says whether dishes alike in everything become one, which they may not where more is asked of an
    /// arrangement than the instance says.
    pub(super) fn of(instance: &Instance, merged: bool) -> Table {
        let m = instance.slots();
        let usable = |s: usize, d: usize| {
            let dish = &instance.dishes[d];
            dish.max_uses > 0
                && dish.min_g <= instance.edible_g
                && dish.minutes <= instance.day_minutes[instance.slot_days[s]]
                && instance.may_stand(s, d)
        };
        let places: Vec<Vec<bool>> = (0..instance.dishes.len()).map(|d| (0..m).map(|s| usable(s, d)).collect()).collect();
        let mut dishes: Vec<Entry> = Vec::new();
        let mut from: Vec<usize> = Vec::new();
        for (d, dish) in instance.dishes.iter().enumerate() {
            if !places[d].contains(&true) {
                continue;
            }
            let uses = u32::try_from(dish.max_uses).unwrap_or(u32::MAX).min(m as u32);
            let is_twin = |i: &usize| places[from[*i]] == places[d] && are_twins(instance, from[*i], d);
            let twin = if merged { (0..from.len()).find(is_twin) } else { None };
            if let Some(i) = twin {
                dishes[i].uses = (dishes[i].uses + uses).min(m as u32);
                dishes[i].members.push(d);
                continue;
            }
            from.push(d);
            dishes.push(Entry {
                min_g: dish.min_g,
                // More than there is eats no more than there is.
                max_g: dish.max_g.min(instance.edible_g),
                minutes: dish.minutes,
                cost: 1_000 * dish.dislike,
                uses,
                members: vec![d],
            });
        }
        let n = dishes.len();
        let mut likeness = vec![0; (n + 1) * (n + 1)];
        for i in 0..n {
            for j in 0..n {
                likeness[i * (n + 1) + j] = instance.likeness(from[i], from[j]) as u16;
            }
        }
        let mut gap: Vec<i64> = instance.gap_weight.iter().copied().take((m - 1).max(1)).collect();
        while gap.len() > 1 && gap.last() == Some(&0) {
            gap.pop();
        }
        let candidates = (0..m).map(|s| (0..n).filter(|&i| places[from[i]][s]).map(|i| i as DishNo).collect()).collect();
        let most_like = likeness.iter().copied().max().map_or(0, i64::from).max(1_000);
        Table {
            slots: m,
            dishes,
            likeness,
            gap,
            candidates,
            day: instance.slot_days.clone(),
            day_minutes: instance.day_minutes.clone(),
            edible_g: instance.edible_g,
            waste: 1_000 * instance.waste_cost_per_g,
            most_like,
        }
    }

    /// How many dishes there are; also the number of the phantom.
    pub(super) fn n(&self) -> usize {
        self.dishes.len()
    }

    /// What stands before the first slot.
    pub(super) fn phantom(&self) -> DishNo {
        self.dishes.len() as DishNo
    }

    pub(super) fn like(&self, a: DishNo, b: DishNo) -> i64 {
        i64::from(self.likeness[usize::from(a) * (self.dishes.len() + 1) + usize::from(b)])
    }

    /// Weight of slots `k` places apart; 0 past the window.
    pub(super) fn weight(&self, k: usize) -> i64 {
        self.gap.get(k.wrapping_sub(1)).copied().unwrap_or(0)
    }

    pub(super) fn dish(&self, d: DishNo) -> &Entry {
        &self.dishes[usize::from(d)]
    }

    /// The cost of a whole arrangement if it keeps rules 4, 5 and 6, and none if it breaks one.
    pub(super) fn cost(&self, a: &[DishNo]) -> Option<i64> {
        let mut used = vec![0_u32; self.n()];
        let mut minutes = vec![0_i64; self.day_minutes.len()];
        let (mut least, mut most, mut cost) = (0, 0, 0);
        for (s, &d) in a.iter().enumerate() {
            let dish = self.dish(d);
            used[usize::from(d)] += 1;
            minutes[self.day[s]] += dish.minutes;
            if used[usize::from(d)] > dish.uses || minutes[self.day[s]] > self.day_minutes[self.day[s]] {
                return None;
            }
            least += dish.min_g;
            most += dish.max_g;
            cost += dish.cost + (1..=s.min(self.gap.len())).map(|k| self.weight(k) * self.like(a[s - k], d)).sum::<i64>();
        }
        (least <= self.edible_g).then(|| cost + self.waste * (self.edible_g - most).max(0))
    }

    /// The dish of the instance that each dish is, the first where several are merged.
    pub(super) fn numbers(&self) -> Vec<usize> {
        self.dishes.iter().map(|d| d.members[0]).collect()
    }

    /// The arrangement in the dishes of the instance: merged dishes take turns as their own uses allow.
    pub(super) fn in_words_of(&self, instance: &Instance, a: &[DishNo]) -> Vec<usize> {
        let mut left: Vec<i64> = instance.dishes.iter().map(|d| d.max_uses).collect();
        let take = |&d: &DishNo| {
            let members = &self.dish(d).members;
            let one = members.iter().copied().find(|&i| left[i] > 0).unwrap_or(members[0]);
            left[one] -= 1;
            one
        };
        a.iter().map(take).collect()
    }
}

/// Whether two dishes are alike in everything that counts, and wholly like each other.
fn are_twins(instance: &Instance, a: usize, b: usize) -> bool {
    let (x, y) = (&instance.dishes[a], &instance.dishes[b]);
    (x.min_g, x.max_g, x.minutes, x.dislike) == (y.min_g, y.max_g, y.minutes, y.dislike)
        && instance.likeness(a, b) == 1_000
        && (0..instance.dishes.len()).all(|c| c == a || c == b || instance.likeness(a, c) == instance.likeness(b, c))
}
