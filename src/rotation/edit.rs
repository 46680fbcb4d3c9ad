//! Every change that can be made to a rotation, one value each.

use super::{
    BatchId, Boxing, Eater, EaterId, FindingKey, Fridge, Frozen, FrozenStay, KeptBack, Kitchen, MealtimeId, Rotation, Slot,
    Source, Storage,
};
use crate::{
    book::{Dish, PartId},
    quantity::{AsBought, DayNo, Grams, Portion},
};
use jiff::civil::{Date, Time};
use std::sync::Arc;

/// One change, as the cook would say it. It is done whole or refused whole; see [`super::apply`].
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Give the rotation a title.
    SetTitle(String),
    /// Change the piece itself.
    Piece(PieceEdit),
    /// Set the date of day 1; everything moves with it.
    SetFirstDay(Date),
    /// Add a day behind the last.
    AddDay,
    /// Take a day out; refused while something is made or eaten on it.
    RemoveDay(DayNo),
    /// Add a mealtime at the end of the day (or in its place by the clock, where a time is given).
    AddMealtime {
        /// What it is called.
        name: String,
        /// When people sit down.
        at: Option<Time>,
    },
    /// Rename a mealtime or set its clock.
    SetMealtime {
        /// Which.
        id: MealtimeId,
        /// What it is called.
        name: String,
        /// When people sit down.
        at: Option<Time>,
    },
    /// Take a mealtime out of every day; refused while something is served at it.
    RemoveMealtime(MealtimeId),
    /// Serve a dish at a meal: a fresh batch, made on that day.
    Serve {
        /// The dish, brought from the book.
        dish: Arc<Dish>,
        /// Where to take the piece from.
        from: ServeFrom,
        /// At which meal.
        slot: Slot,
        /// How much; nothing: the typical amount for those who sit down, as far as there is enough.
        portion: Option<Portion>,
    },
    /// Add more of a part to a batch that is already served at a meal.
    TopUp {
        /// The meal.
        slot: Slot,
        /// The batch.
        batch: BatchId,
        /// The part it comes from.
        part: PartId,
        /// How much more.
        portion: Portion,
    },
    /// Make a bank or a component on a day, for no meal yet.
    MakeAhead {
        /// What to make.
        dish: Arc<Dish>,
        /// When.
        day: DayNo,
        /// Where from.
        source: Source,
        /// How much.
        portion: Portion,
    },
    /// Serve a batch at one more meal. What is not yet served comes first, then more of its part, then a share of the other servings.
    ServeAgain {
        /// The batch.
        batch: BatchId,
        /// The meal.
        slot: Slot,
        /// How much; nothing: typical for those who sit down.
        portion: Option<Portion>,
    },
    /// Move a serving to another meal. A batch that has no other use moves its making along.
    MoveServing {
        /// From this meal.
        from: Slot,
        /// The batch served there.
        batch: BatchId,
        /// To this meal.
        to: Slot,
    },
    /// Swap what two meals serve.
    SwapMeals(Slot, Slot),
    /// Take a serving off a meal. A batch that nobody eats any more goes with it, and its grams are free again.
    RemoveServing {
        /// The meal.
        slot: Slot,
        /// The batch.
        batch: BatchId,
    },
    /// Take a batch away with all its servings; refused while another batch is made from it.
    RemoveBatch(BatchId),
    /// Set the grams of a serving; its batch draws more or less of the piece to match.
    SetServing {
        /// The meal.
        slot: Slot,
        /// The batch.
        batch: BatchId,
        /// How much.
        portion: Portion,
    },
    /// Set what a batch draws from one source.
    SetDraw {
        /// The batch.
        batch: BatchId,
        /// The source.
        source: Source,
        /// How much; nothing at all takes the draw away.
        portion: Portion,
    },
    /// Say when a batch is made.
    SetBatchDay {
        /// The batch.
        batch: BatchId,
        /// The day.
        day: DayNo,
    },
    /// Say that what a batch draws from a part was cut earlier.
    SetCutDay {
        /// The batch.
        batch: BatchId,
        /// When it was cut; nothing: on the day of the making.
        cut_on: Option<DayNo>,
    },
    /// Make another dish of a batch.
    ChangeDish {
        /// The batch.
        batch: BatchId,
        /// The dish.
        dish: Arc<Dish>,
    },
    /// Say whether somebody sits down at a meal.
    SetPresent {
        /// The meal.
        slot: Slot,
        /// Who.
        eater: EaterId,
        /// Whether they do.
        present: bool,
    },
    /// Say who eats a serving; an empty list: everybody present.
    SetServingEaters {
        /// The meal.
        slot: Slot,
        /// The batch.
        batch: BatchId,
        /// Who.
        eaters: Vec<EaterId>,
    },
    /// Give somebody a twin of a serving, or the serving itself again.
    SetTwin {
        /// The meal.
        slot: Slot,
        /// The batch.
        batch: BatchId,
        /// Who.
        eater: EaterId,
        /// The twin's name in the dish; nothing: the dish itself.
        twin: Option<String>,
    },
    /// Add somebody to the household; their number is given anew.
    AddEater(Eater),
    /// Change somebody, found by number.
    SetEater(Eater),
    /// Take somebody out of the household and of every meal.
    RemoveEater(EaterId),
    /// Say how cold the fridge really is and when it was without power.
    SetFridge(Fridge),
    /// Say what the kitchen has: cooks, rings, shelves, a fan, the cook's pace, its hours.
    SetKitchen(Kitchen),
    /// Say what food is kept and cooled in: boxes, a freezer, a rule for cooling, the hour of the opening.
    SetStorage(Storage),
    /// Freeze what is left of a batch, or what is drawn for one, and have it thawed on a day.
    Freeze(FrozenStay),
    /// Leave in the fridge what was to be frozen.
    KeepOut(Frozen),
    /// Say how what is kept back of one cooking is boxed up to cool: into what and how many, how deep, lid, counter, bath.
    BoxUp(Boxing),
    /// Box it up again as the plan takes for granted.
    BoxAsUsual(KeptBack),
    /// Overrule a warning, with a reason.
    Overrule {
        /// The finding.
        finding: FindingKey,
        /// Why.
        reason: String,
    },
    /// Let a warning speak again.
    TakeBackOverrule(FindingKey),
    /// Put another plan in the place of this one: a shape laid on the piece, an arranged week. One step, with words of its own.
    Replace {
        /// The new plan.
        with: Box<Rotation>,
        /// What was done, in words.
        words: String,
    },
    /// Several edits as one step.
    Together {
        /// The edits, in order.
        edits: Vec<Edit>,
        /// What they do, in words.
        words: String,
    },
}

/// Where a fresh batch takes the piece from.
#[derive(Clone, Debug, PartialEq)]
pub enum ServeFrom {
    /// The part of the dish's own choice that has enough free, best first; or a component it can be made of.
    BestPart,
    /// This source.
    Source(Source),
}

/// A change to the piece. Parts that were not weighed follow the new figures; weighed ones stay.
#[derive(Clone, Debug, PartialEq)]
pub enum PieceEdit {
    /// Weigh the piece as bought.
    Mass(Grams<AsBought>),
    /// Weigh all the trim together.
    Trim(Grams<AsBought>),
    /// Weigh one part.
    Part(PartId, Portion),
    /// Throw away what is rotten.
    Rotten(Grams<AsBought>),
    /// Give so much of a part away, to be eaten elsewhere while it keeps.
    GiveAway(PartId, Portion),
    /// Say when its clock started.
    Opened(DayNo),
    /// Say what condition it is in.
    Condition(super::Condition),
    /// Change the kind: only while nothing is allotted.
    Kind(Arc<crate::book::Kind>),
}
