//! Batches: one cooking of a dish, drawn on by one or more meals.

use crate::{
    book::{Dish, DishId, PartId},
    quantity::{Cooked, DayNo, Grams, Portion, State},
};
use serde::{Deserialize, Serialize};

/// Stable number of a batch within a rotation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct BatchId(pub u32);

/// Where a batch takes the piece from.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Source {
    /// A part of the piece itself.
    Part(PartId),
    /// Another batch, made on the same day or before: a component kept back, or a leftover turned into something else.
    Batch(BatchId),
}

/// What a batch takes from one source.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Draw {
    /// Where from.
    pub from: Source,
    /// How much, in the state it leaves the source.
    pub portion: Portion,
    /// When it was cut, if before the day of the making.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_on: Option<DayNo>,
}

/// One cooking of a dish on one day. All its draws are in one state.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Batch {
    /// Stable number in the file.
    pub id: BatchId,
    /// What is made.
    pub dish: DishId,
    /// When it is made.
    pub day: DayNo,
    /// What goes in from the piece.
    pub draws: Vec<Draw>,
}

impl Batch {
    /// The state of the grams that go in, and in which servings are counted; prepared for a batch with no draw yet.
    pub fn state(&self) -> State {
        self.draws.first().map_or(State::Prepared, |d| d.portion.state())
    }

    /// All that goes in.
    pub fn pool(&self) -> Portion {
        Portion::of(self.state(), self.draws.iter().map(|d| d.portion.get()).fold(0, u32::saturating_add))
    }

    /// Cooked grams that come of `part_of_pool`, the broken gram left off.
    pub fn cooked(&self, part_of_pool: Portion, dish: &Dish) -> Grams<Cooked> {
        match part_of_pool {
            Portion::Prepared(g) => g.yielding(dish.yields),
            Portion::Cooked(g) => g.yielding(dish.yields),
        }
    }

    /// Whether it draws on the batch `id`.
    pub fn draws_on(&self, id: BatchId) -> bool {
        self.draws.iter().any(|d| d.from == Source::Batch(id))
    }
}
