//! The run sheet: when each step of a day's cooking is done, by whose hands, on which ring, in the oven at which heat.
//!
//! [`run_sheet`] gathers a day's session from the plan, couples it to the exact problem of [`crate::timeline`] and lays the
//! answer out as lines with clock times. [`replan`] does the same from the middle of a session: what is done and what runs
//! stays, the rest is arranged anew. Both are pure; an [`Onlooker`](crate::timeline::Onlooker) may stop them, and the best sheet so far is then
//! what they give.
//!
//! What the kitchen adds to the recipes stands in `couple` with its figures: warming the oven and changing its heat, washing the
//! board after raw food, taking out, twins in pans of their own, boxing what is kept within its time, serving up.

mod ahead;
mod by_hand;
mod cautions;
mod couple;
mod kept;
mod merge;
mod oven;
mod page;
mod refusal;
mod replan;
mod session;
mod sheet;
mod solve;
mod summary;
mod words;
mod work;

pub use ahead::{AheadSort, Proposal, TakenAhead, prep_ahead, with_ahead};
pub use kept::{DoneAhead, KeptChange, KeptCooking, KeptDay, KeptLine, KeptMove, KeptPlan, KeptSession, Resumed};
pub use page::{clock, place_words, refusal_page, run_sheet_page};
pub use refusal::Refusal;
pub use replan::{Progress, Replanned, Running, Slip, replan};
pub use sheet::{Line, LineCaution, LineKind, Place, Proof, RunSheet, SheetMeal, StepRef};
pub use summary::Summary;

use crate::{quantity::DayNo, rotation::Rotation, timeline::Onlooker};

/// What is wished for a session beside what the plan says.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Wish {
    /// Nothing begins before this minute of the day; nothing: the kitchen's own hour.
    pub not_before: Option<i64>,
    /// So many cooks, in place of the kitchen's.
    pub cooks: Option<u8>,
    /// The cooks' pace in hundredths of the book's, in place of the kitchen's.
    pub pace: Option<u16>,
}

/// The run sheet of a day.
///
/// # Errors
/// A [`Refusal`] where there is nothing to do, or no way to do it in time, with its cause and what would help.
pub fn run_sheet(rotation: &Rotation, day: DayNo, wish: &Wish, onlooker: &mut dyn Onlooker) -> Result<RunSheet, Refusal> {
    let session = session::Session::of(rotation, day, wish)?;
    let mut coupled = couple::couple(&session);
    let mut tried = Vec::new();
    let mut found = solve::best(&session, &coupled, onlooker);
    if matches!(found, solve::Found::Impossible) {
        coupled = coupled.kept_warm();
        found = solve::best(&session, &coupled, onlooker);
    }
    if matches!(found, solve::Found::Impossible) {
        tried.push(std::mem::replace(&mut coupled, couple::couple_eased(&session)));
        found = solve::best(&session, &coupled, onlooker);
    }
    match found {
        solve::Found::Best(best) => Ok(sheet::lay_out(&session, *best, coupled.later)),
        solve::Found::Impossible => Err(refusal::explain(&session, &tried, &coupled, onlooker)),
        solve::Found::Stopped => Err(Refusal::stopped(rotation, day)),
    }
}
