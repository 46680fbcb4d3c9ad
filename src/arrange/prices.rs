//! Prices for the rules that a short memory cannot keep: Lagrange multipliers.
//!
//! A table of the best arrangement over the last few dishes knows what pairs cost, but neither how often a dish was used
//! before nor how many grams are gone. Those rules are put on sale instead: a use of dish d costs `uses[d]`, a gram of
//! minimum costs `least`, a gram of maximum earns `most`, a minute of a long day costs `minutes[day]`. Whatever the prices
//! are (none below 0, `most` no higher than a gram of waste costs), the cheapest arrangement at those prices, less what the
//! rules allow at those prices, is no dearer than the cheapest that keeps the rules. So every price list gives a true lower
//! bound, and good prices a sharp one.
//!
//! Sources: Held and Karp, "The traveling-salesman problem and minimum spanning trees" (1971) for the bound; Christofides,
//! Mingozzi and Toth, "State-space relaxation procedures for the computation of bounds to routing problems" (1981) for the
//! shortened memory; both from memory.

use super::table::{DishNo, Table};

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Prices {
    pub uses: Vec<i64>,
    pub least: i64,
    pub most: i64,
    pub minutes: Vec<i64>,
}

impl Prices {
    pub(super) fn none(table: &Table) -> Prices {
        Prices { uses: vec![0; table.n()], least: 0, most: 0, minutes: vec![0; table.day_minutes.len()] }
    }

    /// What dish `d` costs in slot `s`, likeness apart.
    pub(super) fn of(&self, table: &Table, s: usize, d: DishNo) -> i64 {
        let dish = table.dish(d);
        dish.cost + self.uses[usize::from(d)] + self.least * dish.min_g - self.most * dish.max_g
            + self.minutes[table.day[s]] * dish.minutes
    }

    /// What is added to the cheapest arrangement at these prices to make a lower bound.
    pub(super) fn constant(&self, table: &Table) -> i64 {
        let uses: i64 = self.uses.iter().zip(&table.dishes).map(|(p, d)| p * i64::from(d.uses)).sum();
        let minutes: i64 = self.minutes.iter().zip(&table.day_minutes).map(|(p, have)| p * have).sum();
        (self.most - self.least) * table.edible_g - uses - minutes
    }
}
