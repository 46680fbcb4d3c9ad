//! Meals: one mealtime of one day, who sits down, and what is served.

use super::{BatchId, EaterId, Household};
use crate::{
    book::Dish,
    quantity::{DayNo, Portion},
};
use serde::{Deserialize, Serialize};

/// Stable number of a mealtime within a rotation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct MealtimeId(pub u8);

/// A mealtime that every day has: lunch, supper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mealtime {
    /// Stable number in the file.
    pub id: MealtimeId,
    /// What it is called, lower case.
    pub name: String,
    /// When people sit down, as HH:MM.
    #[serde(default, skip_serializing_if = "Option::is_none", deserialize_with = "crate::quantity::time_in_file")]
    pub at: Option<jiff::civil::Time>,
}

/// One cell of the calendar. Its order is only by number; [`super::Rotation::slots`] gives the order of the day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slot {
    /// The day.
    pub day: DayNo,
    /// The mealtime.
    pub mealtime: MealtimeId,
}

/// One meal. A meal that nobody has said anything about is not kept: the usual eaters, nothing served.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Meal {
    /// Who sits down; nothing: everybody but the guests.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub present: Option<Vec<EaterId>>,
    /// What is served, the main dish being the one of most grams.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub servings: Vec<Serving>,
}

/// What a meal takes from one batch.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Serving {
    /// The batch it comes from.
    pub batch: BatchId,
    /// How much, in the state the batch's piece went in.
    pub portion: Portion,
    /// Who eats it; empty: everybody present.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub eaters: Vec<EaterId>,
    /// Who gets a twin of it instead.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub twins: Vec<TwinServing>,
}

/// One eater's twin of a dish.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TwinServing {
    /// Who gets it.
    pub eater: EaterId,
    /// The twin's name in the dish.
    pub twin: String,
}

impl Meal {
    /// Whether the meal says nothing beyond the usual.
    pub fn is_blank(&self) -> bool {
        self.present.is_none() && self.servings.is_empty()
    }

    /// Who sits down.
    pub fn eaters(&self, household: &Household) -> Vec<EaterId> {
        match &self.present {
            Some(ids) => ids.clone(),
            None => household.usual().collect(),
        }
    }

    /// The serving from `batch`.
    pub fn serving(&self, batch: BatchId) -> Option<&Serving> {
        self.servings.iter().find(|s| s.batch == batch)
    }
}

impl Serving {
    /// Those of `present` for whom this serving is meant, twins included.
    pub fn meant_for(&self, present: &[EaterId]) -> Vec<EaterId> {
        if self.eaters.is_empty() {
            present.to_vec()
        } else {
            present.iter().copied().filter(|e| self.eaters.contains(e)).collect()
        }
    }

    /// The twin that `eater` gets, if any.
    pub fn twin_of<'d>(&self, eater: EaterId, dish: &'d Dish) -> Option<&'d crate::book::Twin> {
        let name = &self.twins.iter().find(|t| t.eater == eater)?.twin;
        dish.twins.iter().find(|t| t.name == *name)
    }

    /// Those of `present` who eat the piece in this serving: all it is meant for but those whose twin leaves the piece out.
    pub fn eaten_by(&self, present: &[EaterId], dish: &Dish) -> Vec<EaterId> {
        self.meant_for(present).into_iter().filter(|&e| self.twin_of(e, dish).is_none_or(|t| t.holds_piece)).collect()
    }
}
