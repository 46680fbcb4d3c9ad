//! The lists that go on the fridge door: what is cut when, what is bought when, what stands on each box, what is prepared ahead.
//!
//! Pure functions from a rotation (and what is in the house) to list values. They judge nothing: what is unsafe or too much is a
//! finding. They read neither clock nor file, and say nothing in print: that is the office of `command`, `exchange` and `app`.

mod block;
mod cut;
mod cut_words;
mod offcut;
mod order;

pub use block::{Block, Rest};
pub use cut::{CutDay, CutLine, CutList, CutShare, Into, PartSum, cut_list};
pub use cut_words::{CutSize, how_cut};
pub use offcut::{Odds, Offcut, OffcutHome};
