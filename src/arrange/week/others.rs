//! Arrangements that really differ: the gate with more asked.

use super::board::Board;
use crate::arrange::watch::{Gate, Twin};
use std::collections::BTreeSet;

/// Lets only arrangements pass that differ from all that are known.
pub(super) struct Differs<'b, 'h> {
    board: &'b Board<'h>,
    known: Vec<(&'b [usize], BTreeSet<&'b str>)>,
}

impl<'b, 'h> Differs<'b, 'h> {
    pub(super) fn new(board: &'b Board<'h>, known: Vec<&'b [usize]>) -> Differs<'b, 'h> {
        let dishes = |chosen: &[usize]| chosen.iter().map(|&c| board.choices[c].dish.id.as_str()).collect();
        let known = known.into_iter().map(|chosen| (chosen, dishes(chosen))).collect();
        Differs { board, known }
    }

    /// How many of these meals are another matter than in a known arrangement.
    fn differing(&self, chosen: &[usize], (known, dishes): &(&[usize], BTreeSet<&str>)) -> usize {
        let differs = |(a, b): &(&usize, &usize)| {
            let (new, old) = (&self.board.choices[**a].dish, &self.board.choices[**b].dish);
            let (p, q) = (&new.profile, &old.profile);
            !dishes.contains(new.id.as_str()) && (p.main_texture() != q.main_texture() || p.main_family() != q.main_family())
        };
        chosen.iter().zip(known.iter()).filter(differs).count()
    }
}

impl Gate for Differs<'_, '_> {
    fn may_begin(&self, chosen: &[usize]) -> bool {
        let meals = self.board.slots.len();
        let open = meals - chosen.len();
        let can = self.known.iter().all(|k| self.differing(chosen, k) + open >= meals.div_ceil(3));
        can && self.board.may_begin(chosen)
    }

    fn may_stand(&self, chosen: &[usize]) -> bool {
        // Whether a dish is new hangs on no meal, so that this holds whoever swaps.
        let meals = self.board.slots.len();
        let is_new = |dishes: &BTreeSet<&str>, c: usize| !dishes.contains(self.board.choices[c].dish.id.as_str());
        let can = |dishes: &BTreeSet<&str>| chosen.iter().filter(|&&c| is_new(dishes, c)).count() + meals - chosen.len();
        self.known.iter().all(|(_, dishes)| can(dishes) >= meals.div_ceil(3)) && self.board.may_stand(chosen)
    }

    fn twins(&self) -> Vec<Twin> {
        self.board.twins()
    }

    fn cost(&self, chosen: &[usize]) -> Option<i64> {
        let wanted = self.board.slots.len().div_ceil(3);
        let differs = self.known.iter().all(|k| self.differing(chosen, k) >= wanted);
        if differs { self.board.cost(chosen) } else { None }
    }
}
