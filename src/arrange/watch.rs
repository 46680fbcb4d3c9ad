//! What a search knows by now, and whether it may go on.

use super::table::DishNo;
use std::{
    sync::atomic::{AtomicBool, Ordering},
    time::{Duration, Instant},
};

/// When a search has to end, whether it is done or not.
#[derive(Clone, Copy)]
pub(super) struct Patience<'a> {
    pub started: Instant,
    pub limit: Option<Duration>,
    pub cancel: Option<&'a AtomicBool>,
}

impl Patience<'_> {
    fn is_over(&self) -> bool {
        self.limit.is_some_and(|l| self.started.elapsed() >= l) || self.cancel.is_some_and(|c| c.load(Ordering::Relaxed))
    }
}

/// What is asked of an arrangement beyond its instance. All dishes are those of the instance.
pub(super) trait Gate {
    /// Whether the first slots may be filled so, if nothing worse comes; the last dish is the new one. A refusal must hold for
    /// every arrangement that begins so.
    fn may_begin(&self, dishes: &[usize]) -> bool;

    /// Whether these may stand together, whatever else comes. They are in the order of their slots, some slots left out. A
    /// refusal must hold for every arrangement that holds them, and for every one in which twins have swapped theirs.
    fn may_stand(&self, dishes: &[usize]) -> bool;

    /// Pairs of slots that may swap what they hold; see [`Twin`].
    fn twins(&self) -> Vec<Twin> {
        Vec::new()
    }

    /// What a whole arrangement really costs: no less than the instance says. None where it breaks a rule.
    fn cost(&self, dishes: &[usize]) -> Option<i64>;
}

/// Two slots that may swap what they hold without any change of cost by the instance. All dishes are those of the instance.
pub(super) struct Twin {
    pub slots: (usize, usize),
    /// What becomes of each dish when the slots swap: the same dish at the other slot, or itself, or what is made of the
    /// swapped one; none where there is nothing of the sort.
    pub image: Vec<Option<usize>>,
}

/// Who is told of news: the watch as it stands.
pub(super) type Listener<'a> = &'a mut dyn FnMut(&Watch<'_>);

/// See the module.
pub(super) struct Watch<'a> {
    patience: Patience<'a>,
    listener: Option<Listener<'a>>,
    /// Only what costs less than this is of interest: the best cost known, or a limit from outside.
    pub below: i64,
    /// The best arrangement known.
    pub best: Option<Vec<DishNo>>,
    /// No arrangement costs less than this, or less than `below`.
    pub bound: i64,
    /// Arrangements of the first slots grown.
    pub nodes: u64,
    /// Whether the first arrangement found ends the search.
    pub any_will_do: bool,
    /// What else is asked, with the dish of the instance for each dish of the table.
    gate: Option<(&'a dyn Gate, Vec<usize>)>,
    over: bool,
}

impl<'a> Watch<'a> {
    pub(super) fn new(patience: Patience<'a>, below: i64, bound: i64, listener: Option<Listener<'a>>) -> Watch<'a> {
        Watch { patience, listener, below, best: None, bound, nodes: 0, any_will_do: false, gate: None, over: false }
    }

    /// The same watch, with more asked of an arrangement; `numbers` as [`super::table::Table::numbers`].
    pub(super) fn behind(mut self, gate: &'a dyn Gate, numbers: Vec<usize>) -> Watch<'a> {
        self.gate = Some((gate, numbers));
        self
    }

    /// Whether more is asked of an arrangement than the table says, so that of two that seem alike neither is the better.
    pub(super) fn is_gated(&self) -> bool {
        self.gate.is_some()
    }

    /// Whether the first slots may be filled so.
    pub(super) fn may_begin(&self, dishes: &[DishNo]) -> bool {
        self.gate.as_ref().is_none_or(|(gate, numbers)| gate.may_begin(&named(dishes, numbers)))
    }

    /// Whether these may stand together, some slots left out.
    pub(super) fn may_stand(&self, dishes: &[DishNo]) -> bool {
        self.gate.as_ref().is_none_or(|(gate, numbers)| gate.may_stand(&named(dishes, numbers)))
    }

    /// An arrangement that keeps all rules of the table.
    pub(super) fn found(&mut self, cost: i64, dishes: &[DishNo]) {
        if cost >= self.below {
            return;
        }
        let cost = match &self.gate {
            None => Some(cost),
            Some((gate, numbers)) => gate.cost(&named(dishes, numbers)).map(|real| real.max(cost)),
        };
        if let Some(cost) = cost.filter(|c| *c < self.below) {
            self.below = cost;
            self.best = Some(dishes.to_vec());
            self.over |= self.any_will_do;
            self.tell();
        }
    }

    /// No arrangement costs less than `bound`, unless it costs no less than `below`.
    pub(super) fn raise(&mut self, bound: i64) {
        let bound = bound.min(self.below);
        if bound > self.bound {
            self.bound = bound;
            self.tell();
        }
    }

    /// Whether nothing cheaper can be left.
    pub(super) fn is_closed(&self) -> bool {
        self.bound >= self.below
    }

    /// Whether the search has to end.
    pub(super) fn is_over(&mut self) -> bool {
        self.over = self.over || self.patience.is_over();
        self.over
    }

    fn tell(&mut self) {
        // Taken out and put back, since it is handed the watch itself.
        if let Some(listener) = self.listener.take() {
            listener(self);
            self.listener = Some(listener);
        }
    }
}

/// Dishes of the table as dishes of the instance.
fn named(dishes: &[DishNo], numbers: &[usize]) -> Vec<usize> {
    dishes.iter().map(|&d| numbers[usize::from(d)]).collect()
}
