//! An edit that may cure a finding, before it is tried.

use crate::{
    quantity::{System, write_grams},
    rotation::{Edit, Rotation, Slot},
};

/// Sorts of edits, for offering different ones. The order is of no weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Sort {
    Grams,
    Twin,
    Day,
    Move,
    Swap,
    Ahead,
    Dish,
    Eaters,
}

impl Sort {
    /// How much of the plan such an edit turns over; our own judgement, for ranking alone.
    fn size(self) -> u32 {
        match self {
            Sort::Grams | Sort::Twin => 100,
            Sort::Day | Sort::Move => 200,
            Sort::Swap => 300,
            Sort::Ahead => 350,
            Sort::Dish => 400,
            Sort::Eaters => 500,
        }
    }
}

/// An edit to try.
pub(super) struct Candidate {
    pub edit: Edit,
    /// What a button says; nothing: the edit's own words.
    pub words: Option<String>,
    pub sort: Sort,
    /// How much of the plan it turns over, for ranking.
    pub size: u32,
}

impl Candidate {
    pub fn new(sort: Sort, edit: Edit) -> Candidate {
        Candidate { edit, words: None, sort, size: sort.size() }
    }

    /// The same with words of its own.
    pub fn saying(mut self, words: impl Into<String>) -> Candidate {
        self.words = Some(words.into());
        self
    }

    /// The same, `more` larger a change than others of its sort: days moved, a rank among dishes.
    pub fn further(mut self, more: usize) -> Candidate {
        self.size += more.min(90) as u32;
        self
    }
}

/// "28 g", for words.
pub(super) fn say(grams: u32) -> String {
    write_grams(grams, System::Metric)
}

/// The cells where somebody sits down and nothing is served, in the order of time.
pub(super) fn empty_slots(rotation: &Rotation) -> Vec<Slot> {
    rotation.slots().filter(|s| rotation.meal(*s).servings.is_empty() && !rotation.eaters_at(*s).is_empty()).collect()
}

/// The cells where something is served, in the order of time.
pub(super) fn served_slots(rotation: &Rotation) -> Vec<Slot> {
    rotation.slots().filter(|s| !rotation.meal(*s).servings.is_empty()).collect()
}

/// How many days lie between two meals.
pub(super) fn days_apart(a: Slot, b: Slot) -> usize {
    usize::from(a.day.0.abs_diff(b.day.0))
}

/// The slots nearest to `to` first, the earlier on a tie.
pub(super) fn nearest(mut slots: Vec<Slot>, to: Slot) -> Vec<Slot> {
    slots.sort_by_key(|s| days_apart(*s, to));
    slots
}
