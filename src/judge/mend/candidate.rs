//! An edit that may cure a finding, before it is tried.

pub(super) use crate::judge::words::{grams as say, listed as and};
use crate::{
    book::Dish,
    quantity::Portion,
    rotation::{Edit, MealtimeId, Rotation, Serving, Slot, eaten_by},
};
use std::collections::BTreeMap;

/// Sorts of edits, for offering different ones. The order is of no weight.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Sort {
    Boxes,
    Grams,
    Twin,
    Day,
    Move,
    Swap,
    Serve,
    Afresh,
    Ahead,
    Dish,
    Eaters,
    Away,
}

impl Sort {
    /// How much of the plan such an edit turns over; our own judgement, for ranking alone.
    fn size(self) -> u32 {
        match self {
            // Nothing of what is eaten, when and by whom changes.
            Sort::Boxes => 50,
            Sort::Grams | Sort::Twin => 100,
            Sort::Day | Sort::Move => 200,
            Sort::Serve => 250,
            Sort::Swap => 300,
            Sort::Afresh => 330,
            Sort::Ahead => 350,
            Sort::Dish => 400,
            Sort::Eaters => 500,
            // What is given away feeds others, but it is not what anybody planned.
            Sort::Away => 600,
        }
    }

    /// How many of it are offered while there are others.
    pub fn most(self) -> usize {
        if matches!(self, Sort::Ahead | Sort::Afresh | Sort::Away) { 1 } else { 2 }
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
    /// Whether it keeps what was planned, and if not, how much is lost: for ranking before all else.
    pub loses: Loses,
    /// Whether it is tried only where nothing else cures.
    pub last: bool,
}

/// What of the plan a mend gives up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Loses {
    /// Nothing: the same dishes for the same people.
    Nothing,
    /// The dish that was chosen, where its time was the trouble.
    ADish,
    /// A meal of the piece.
    AMeal,
}

impl Candidate {
    pub fn new(sort: Sort, edit: Edit) -> Candidate {
        Candidate { edit, words: None, sort, size: sort.size(), loses: Loses::Nothing, last: false }
    }

    /// The same with words of its own.
    pub fn saying(mut self, words: impl Into<String>) -> Candidate {
        self.words = Some(words.into());
        self
    }

    /// The same, for want of anything better.
    pub fn losing(mut self, loses: Loses) -> Candidate {
        self.loses = loses;
        self
    }

    /// The same, where nothing else cures.
    pub fn at_the_last(mut self) -> Candidate {
        self.last = true;
        self
    }

    /// The same, a larger change if it takes up an unusual meal.
    pub fn at(self, rotation: &Rotation, slot: Slot) -> Candidate {
        if unusual(rotation, slot) { self.further(30) } else { self }
    }

    /// The same, `more` larger a change than others of its sort: days moved, a rank among dishes.
    pub fn further(mut self, more: usize) -> Candidate {
        self.size += more.min(90) as u32;
        self
    }
}

/// The cells where somebody sits down and nothing is served: those of the mealtimes at which the piece is eaten anyway first,
/// then in the order of time.
pub(super) fn empty_slots(rotation: &Rotation) -> Vec<Slot> {
    let empty = rotation.slots().filter(|s| rotation.meal(*s).servings.is_empty() && !rotation.eaters_at(*s).is_empty());
    let mut empty: Vec<Slot> = empty.collect();
    let meals = meals_by_mealtime(rotation);
    empty.sort_by_key(|s| is_unusual(&meals, *s));
    empty
}

/// Whether the piece is seldom eaten at the mealtime of `slot`: a plan of suppers does not want a lunch without need.
fn unusual(rotation: &Rotation, slot: Slot) -> bool {
    is_unusual(&meals_by_mealtime(rotation), slot)
}

fn is_unusual(meals: &BTreeMap<MealtimeId, usize>, slot: Slot) -> bool {
    let most = meals.values().copied().max().unwrap_or(0);
    meals.get(&slot.mealtime).copied().unwrap_or(0) * 2 < most
}

/// How many meals of each mealtime have the piece.
fn meals_by_mealtime(rotation: &Rotation) -> BTreeMap<MealtimeId, usize> {
    let mut meals = BTreeMap::new();
    for slot in rotation.meals.iter().filter(|(_, meal)| !meal.servings.is_empty()).map(|(slot, _)| slot) {
        *meals.entry(slot.mealtime).or_default() += 1;
    }
    meals
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

/// The least and the most of the dish that a serving may hold for those who eat it.
pub(super) fn bounds(rotation: &Rotation, slot: Slot, serving: &Serving, dish: &Dish) -> (u32, u32) {
    let units = rotation.household.units(eaten_by(rotation, serving, &rotation.eaters_at(slot)));
    (units.times(dish.grams.0), units.times(dish.grams.2))
}

/// Grams of a part, in the state the piece is divided in.
pub(super) fn part_portion(rotation: &Rotation, grams: u32) -> Portion {
    Portion::of(rotation.kind.portioned, grams)
}
