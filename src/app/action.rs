//! What views hand back: intents, performed in one place by the [`Desk`](super::Desk) after drawing.

use super::{
    book_view::Page,
    carry::Carried,
    files::{Chosen, FileAction},
    hearth::{HabitChange, HouseChange, TickChange},
    sheet::Sheet,
};
use crate::{
    rotation::{EaterId, Edit, FindingKey, GestureId, JournalChange, Slot},
    runsheet::KeptChange,
    store::OwnChange,
};

/// One intent of the person. Views collect these while they draw; nothing has changed until the desk performs them.
#[derive(Clone, Debug)]
pub enum Action {
    /// Change the plan: one step of the history.
    Edit(Edit),
    /// Change the plan within a gesture: all edits of one gesture make one step.
    Pull(Edit, GestureId),
    /// Take the last step back.
    Undo,
    /// Do it again.
    Redo,
    /// Files: new, open, save, recent, quit.
    File(FileAction),
    /// Put these lists on paper.
    Print(Chosen),
    /// Turn to the bench or to the dish book.
    Turn(Page),
    /// Do something to the cook's own entries of the book.
    Own(OwnChange),
    /// Open a sheet over the bench.
    Open(Sheet),
    /// Close the sheet.
    CloseSheet,
    /// Change what is kept of the household's habits.
    Habit(HabitChange),
    /// Change what is in the house.
    House(HouseChange),
    /// Tick a line of a list off, or not.
    Tick(TickChange),
    /// Keep what was settled by hand about the cooking.
    Cooking(Box<KeptChange>),
    /// Write in the journal: one step.
    Journal(Vec<JournalChange>),
    /// Take the last step in the journal back.
    JournalBack,
    /// Show the links and the figure of one eater, or of everybody.
    Eater(Option<EaterId>),
    /// Select a meal, so that the shelf and the keyboard are about it.
    Select(Option<Slot>),
    /// Take something in hand without dragging: by click or key.
    PickUp(Carried),
    /// Take something in hand for a further serving: it stays where it is served, too.
    PickUpAgain(Carried),
    /// Hold what is in hand by the keyboard, over this meal.
    HoldByKeys(Slot),
    /// Put what is in hand down at a meal; `again` for a further serving (Ctrl).
    PutDown {
        /// The meal.
        slot: Slot,
        /// A second serving from the same batch, or a dish beside the one that is there.
        again: bool,
    },
    /// Put what is in hand back where it came from.
    LetGo,
    /// Take what is in hand off its meal.
    TakeOff,
    /// Ask for the reason to overrule a finding.
    AskReason(FindingKey),
    /// Say something in the live line.
    Say(String),
    /// Change a setting.
    Setting(crate::app::SettingChange),
}
