//! The clocks: how long the raw piece and everything made of it keeps, and which meals come too late.

use super::Finding;
use crate::{
    book::PartId,
    quantity::{DayNo, Days},
    rotation::{BatchId, Rotation},
};

/// One bar under the block: until when something keeps.
#[derive(Clone, Debug, PartialEq)]
pub struct KeepingLine {
    /// What it is, in words: "middle, wrapped", "roast wedges".
    pub what: String,
    /// Raw part, or a batch.
    pub state: KeepingState,
    /// The day its clock started.
    pub since: DayNo,
    /// The limit in whole days.
    pub limit: Days,
    /// The last day on which it may be eaten (raw parts: cooked or eaten).
    pub last_day: DayNo,
    /// The last day on which the plan still uses it; nothing if it never does.
    pub last_use: Option<DayNo>,
    /// What sets the limit, in words: "rice", "cut wedge wrapped".
    pub because: String,
}

/// What a keeping line is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum KeepingState {
    /// A raw part of the piece.
    Raw(PartId),
    /// A raw dish once made.
    Made(BatchId),
    /// Something cooked.
    Cooked(BatchId),
    /// A piece cooked whole.
    CookedWhole,
}

/// Reckons every clock and says which meals come too late.
pub fn keeping(_rotation: &Rotation) -> (Vec<KeepingLine>, Vec<Finding>) {
    unimplemented!("being written")
}
