//! The lists that go on the fridge door: what is cut when, what is bought when, what stands on each box, what is prepared ahead.
//!
//! Pure functions from a rotation (and what is in the house) to list values. They judge nothing: what is unsafe or too much is a
//! finding. They read neither clock nor file, and say nothing in print: that is the office of `command`, `exchange` and `app`.

mod amount;
mod block;
mod cupboard;
mod cut;
mod cut_words;
mod errand;
mod labels;
mod offcut;
mod order;
mod packs;
mod prep;
mod prep_words;
mod sheet;
mod shopping;
mod ticks;

pub use amount::CompanionAmount;
pub use block::{Block, Rest};
pub use cupboard::{Cupboard, CupboardItem};
pub use cut::{CutDay, CutLine, CutList, CutShare, Into, PartSum, cut_list};
pub(crate) use cut_words::same_word;
pub use cut_words::{CutSize, how_cut};
pub use labels::{BoxLabel, Holds, KeptFor, Warming, box_labels};
pub use offcut::{Odds, Offcut, OffcutHome};
pub use prep::{MadeAhead, PrepDay, PrepShare, PrepTask, prep_list};
pub(crate) use prep_words::work_on;
pub use sheet::{Card, Section, Sheet, SheetTable, cut_sheet, label_sheet, prep_sheet, shopping_sheet, week_sheet};
pub use shopping::{CompanionFor, Errand, Opened, Packs, PieceLine, ShoppingLine, ShoppingList, Where, shopping_list};
pub use ticks::Ticks;
