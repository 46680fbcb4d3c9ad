//! The mass balance: as bought = trim + rotten + in meals + banked + unallocated, to the gram.

use super::Finding;
use crate::{
    book::PartId,
    quantity::Portion,
    rotation::{BatchId, Rotation, Slot},
};

/// Where every gram of the piece is.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// Mass as bought.
    pub as_bought: u32,
    /// Trimmed away (for a piece cooked whole: bone and cooking loss).
    pub trim: u32,
    /// Thrown away as rotten.
    pub rotten: u32,
    /// What can be divided.
    pub usable: u32,
    /// Drawn by batches that are eaten, components included.
    pub allotted: u32,
    /// Drawn by banks.
    pub banked: u32,
    /// What no batch has drawn; negative where more is drawn than is there.
    pub unallocated: i64,
    /// Each part, in the kind's order.
    pub parts: Vec<PartBalance>,
    /// Each batch: what it made and where that goes.
    pub stocks: Vec<Stock>,
}

/// One part's balance.
#[derive(Clone, Debug, PartialEq)]
pub struct PartBalance {
    /// Which part.
    pub part: PartId,
    /// What a cook calls it.
    pub name: String,
    /// What it holds.
    pub usable: Portion,
    /// What batches draw from it.
    pub drawn: u32,
    /// What is free; negative where more is drawn than is there.
    pub free: i64,
    /// How the drawn grams are shared out, in the order they are eaten.
    pub shares: Vec<Share>,
}

/// A share of a part: what one meal, one bank or one component takes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// The batch.
    pub batch: BatchId,
    /// What it is for.
    pub used: ShareUse,
    /// Grams in the part's state.
    pub grams: u32,
}

/// What a share of a part is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShareUse {
    /// Eaten at a meal.
    Meal(Slot),
    /// Goes into a bank.
    Bank,
    /// Kept for later dishes.
    Component,
    /// In a batch that no meal has taken yet.
    Unserved,
}

/// What a batch made and where that goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// The batch.
    pub batch: BatchId,
    /// What went in.
    pub pool: Portion,
    /// What came out, in thousandths of a gram (yields do not come out whole).
    pub cooked_mg: u64,
    /// What meals take, in the pool's state.
    pub served: u32,
    /// What later batches take, cooked.
    pub passed_on: u32,
    /// What is left, cooked, whole grams.
    pub left: u32,
}

/// Reckons the balance and says what is over or without a home.
pub fn balance(_rotation: &Rotation) -> (Balance, Vec<Finding>) {
    unimplemented!("being written")
}
