//! Slots that may swap what they hold, as far as the table lets them.

use super::{
    table::{DishNo, Table},
    watch::Twin,
};
use std::collections::HashMap;

/// Two slots that may swap what they hold, in the dishes of the table.
pub(super) struct Twins {
    pub slots: (usize, usize),
    /// What becomes of each dish when the two slots swap; itself where it is of another slot and not concerned; none where
    /// the swapped arrangement may be another matter.
    pub image: Vec<Option<DishNo>>,
    /// Whether a dish of the two slots may be swapped whatever stands beside it.
    pub swaps: Vec<bool>,
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
    pub(super) fn swapped(&self, way: &[DishNo]) -> Option<Vec<DishNo>> {
        let (first, second) = self.slots;
        if !self.swaps[usize::from(way[first])] || !self.swaps[usize::from(way[second])] {
            return None;
        }
        let mut other: Vec<DishNo> = way.iter().map(|&d| self.image[usize::from(d)]).collect::<Option<_>>()?;
        other.swap(first, second);
        Some(other)
    }
}
