//! What every relaxation answers: the cheapest arrangement at given prices.

use super::{
    prices::Prices,
    table::{DishNo, Table},
};

/// Larger than any sum, small enough that two of them can be added.
pub(super) const NEVER: i64 = i64::MAX / 4;

pub(super) trait Relaxation {
    /// The least cost at `prices` over all arrangements that this relaxation knows, [`Prices::constant`] left out, and one
    /// arrangement of that cost. None where there is no arrangement at all.
    fn cheapest(&mut self, table: &Table, prices: &Prices) -> Option<(i64, Vec<DishNo>)>;
}

/// For slot `s` and dish `d`: the least that pairs further apart than `depth` can cost, which a memory of `depth` dishes
/// does not see.
pub(super) fn far_pairs(table: &Table, depth: usize, lists: &[Vec<DishNo>]) -> Vec<Vec<i64>> {
    let mut least = vec![vec![0; table.n()]; table.slots];
    for s in 0..table.slots {
        for k in depth + 1..=table.gap.len().min(s) {
            let weight = table.weight(k);
            if weight == 0 {
                continue;
            }
            for &d in &lists[s] {
                let near = lists[s - k].iter().filter(|&&a| a != d || table.dish(d).uses > 1).map(|&a| table.like(a, d)).min();
                least[s][usize::from(d)] += weight * near.unwrap_or(0);
            }
        }
    }
    least
}

/// Whether dishes that stand next to each other (`slots` of them, the last in slot `s`) fit into their days, if the other
/// meals of those days take as little as they can.
pub(super) struct DayRoom {
    /// Least minutes of each slot.
    least: Vec<i64>,
    first_of_day: Vec<usize>,
    last_of_day: Vec<usize>,
}

impl DayRoom {
    pub(super) fn new(table: &Table) -> DayRoom {
        let m = table.slots;
        let least = table.candidates.iter().map(|c| c.iter().map(|&d| table.dish(d).minutes).min().unwrap_or(0)).collect();
        let first_of_day = (0..m).map(|s| table.day.partition_point(|&d| d < table.day[s])).collect();
        let last_of_day = (0..m).map(|s| table.day.partition_point(|&d| d <= table.day[s]) - 1).collect();
        DayRoom { least, first_of_day, last_of_day }
    }

    /// `dishes` end at slot `s`; only the day of `s` is asked.
    pub(super) fn fits(&self, table: &Table, s: usize, dishes: &[DishNo]) -> bool {
        let (from, to) = (self.first_of_day[s], self.last_of_day[s]);
        let known = (s + 1).saturating_sub(dishes.len());
        let mut sum: i64 = 0;
        for slot in from..=to {
            sum += if slot >= known && slot <= s { table.dish(dishes[slot - known]).minutes } else { self.least[slot] };
        }
        sum <= table.day_minutes[table.day[s]]
    }

    /// The most meals that one day has.
    pub(super) fn longest(&self) -> usize {
        (0..self.least.len()).map(|s| self.last_of_day[s] + 1 - self.first_of_day[s]).max().unwrap_or(0)
    }
}
