//! The plan and its parts; edits, history and templates.
//!
//! A [`Rotation`] is plain data. It changes only by [`Edit`]s through [`apply`], each of which is done whole or refused with
//! a [`Refusal`]; [`History`] keeps labelled snapshots so that every step can be undone.

mod apply;
mod apply_batch;
mod apply_household;
mod apply_meal;
mod apply_piece;
mod batch;
mod boxing;
mod eaten;
mod edit;
mod equipment;
mod fridge;
mod history;
mod household;
mod journal;
mod journal_change;
mod kitchen;
mod meal;
mod piece;
mod plan;
mod serve;
mod settle;
mod storage;
mod template;
mod template_clock;
mod template_fit;
mod validate;

pub use apply::{Done, Refusal, apply};
pub use batch::{Batch, BatchId, Draw, Source};
pub use boxing::{
    BATH_RANGE, Bath, Boxing, DEPTH_RANGE, Fill, KeptBack, MAX_ON_THE_COUNTER, RICE_ON_THE_COUNTER, USUAL_VESSELS, VESSELS_RANGE,
};
pub use eaten::eaten_by;
pub use edit::{Edit, PieceEdit, ServeFrom};
pub use equipment::Equipment;
pub use fridge::{FRIDGE_RANGE, Fridge, MAX_CUTS, Moment, PowerCut};
pub use history::{GestureId, History};
pub use household::{Eater, EaterId, Household};
pub use journal::{EatenMeal, Heard, as_eaten};
pub use journal_change::{AtTable, JournalChange, heard_of, journal_after};
pub use kitchen::{Kitchen, MAX_COOKS, MAX_RINGS, MAX_SHELVES, PACE_RANGE};
pub use meal::{Meal, Mealtime, MealtimeId, Serving, Slot, TwinServing};
pub use piece::{Condition, PartMass, Piece, TrimLine, share_out_whole};
pub(crate) use piece::{GIVEN_AWAY, divide};
pub(crate) use plan::capital;
pub(crate) use plan::month_name;
pub use plan::{FindingKey, MAX_DAYS, MAX_MEALTIMES, Overruled, Rotation};
#[cfg(feature = "window")]
pub(crate) use plan::{MONTHS, weekday_name};
pub(crate) use serve::fitting_twins;
pub use serve::{best_source, cannot_eat, most_for, piece_is, suggested_portion, typical_at};
pub use storage::{
    BOX_RANGE, COOL_TO_RANGE, COOL_WITHIN_RANGE, CoolTo, FoodBox, Frozen, FrozenStay, MAX_BOXES, MAX_FROZEN, Storage,
};
pub use template::{BatchShape, Link, MadeFrom, SlotShape, Template};
pub use template_fit::{Fit, FitOutcome, SlotFit, fit, time_change};
pub use validate::{Invalid, validate};
