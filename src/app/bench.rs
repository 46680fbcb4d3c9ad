//! The bench: the piece above, the calendar in the middle, dishes on one side, findings on the other, one line below.

use super::{
    action::Action,
    carry::{Carry, Previews},
    desk::Settings,
    files::Files,
    view::View,
};
use crate::{
    book::DishId,
    rotation::{FindingKey, History, Rotation, Slot},
};
use egui::Ui;

/// What the bench remembers between frames that is neither plan nor drawing: selection, hand, drawers.
#[derive(Default)]
pub struct Bench {
    /// The selected meal.
    pub selected: Option<Slot>,
    /// The dish chosen on the shelf.
    pub chosen: Option<DishId>,
    /// What is in the hand.
    pub carry: Option<Carry>,
    /// What is typed in the shelf's search.
    pub search: String,
    pub(super) previews: Previews,
    pub(super) reason: Option<(FindingKey, String)>,
}

impl Bench {
    /// Selects a meal, or none.
    pub fn select(&mut self, slot: Option<Slot>) {
        self.selected = slot;
    }

    /// Opens the field for the reason to overrule a finding.
    pub fn ask_reason(&mut self, key: FindingKey) {
        self.reason = Some((key, String::new()));
    }

    /// Forgets what no longer is in the plan.
    pub fn plan_changed(&mut self, rotation: &Rotation) {
        self.selected = self.selected.filter(|s| rotation.has_slot(*s));
    }
}

/// What one frame of the bench is drawn from.
#[derive(Clone, Copy)]
pub struct Frame<'a> {
    /// The plan and all that is known of it.
    pub view: View<'a>,
    /// Its history, for undo's words.
    pub history: &'a History,
    /// The settings.
    pub settings: Settings,
    /// Files, for the recent ones.
    pub files: &'a Files,
    /// What happened last.
    pub live: &'a str,
    /// Whether a sheet or a question lies over the bench.
    pub modal: bool,
}

/// Draws the bench.
pub fn ui(_ui: &mut Ui, _frame: Frame<'_>, _bench: &mut Bench, _actions: &mut Vec<Action>) {}
