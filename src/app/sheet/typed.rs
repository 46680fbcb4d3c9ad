//! A field of a sheet that writes into the plan while somebody types.

use super::asking::sentence;
use crate::{
    app::{action::Action, view::View, widget::Field},
    rotation::{Edit, GestureId, Rotation, apply},
};
use egui::{Id, Response, Ui, text_edit::TextEditState};
use std::{sync::Arc, time::Duration};

/// How long the hand must rest before a half-typed word is called wrong, in seconds: tried by eye, no source.
const REST: f64 = 0.7;

/// What is typed into one field, beside what the plan says.
///
/// The field shows the plan's figure until somebody types. From then on every reading that makes sense goes into the plan at
/// once, all of one visit to the field as one gesture; what cannot be read, or is refused, leaves the plan as it was when the
/// visit began, and is said in words when the hand rests or leaves.
#[derive(Default)]
pub(super) struct Typed {
    text: Option<String>,
    wrong: Option<String>,
    typed_at: f64,
    visit: Option<Visit>,
}

/// One stay of the keyboard in the field.
struct Visit {
    gesture: GestureId,
    /// The plan when it began.
    before: Arc<Rotation>,
    /// The plan is no longer the one before.
    pulled: bool,
    /// Something was asked for in the last frame.
    asked: bool,
    revision: u64,
}

/// How a field looks and how its words become an edit.
pub(super) struct TypedField<'a> {
    /// What it is called.
    pub label: &'a str,
    /// Shown while it is empty.
    pub hint: &'a str,
    /// In points.
    pub width: f32,
    /// Whether the label stands elsewhere.
    pub label_hidden: bool,
    /// What the plan says now.
    pub shown: String,
    /// What typed words ask for; the flag says that typing is done. The error is one sentence.
    pub read: &'a dyn Fn(&str, bool) -> Result<Edit, String>,
}

impl Typed {
    /// Shows the field and hands on what is typed.
    pub fn show(&mut self, ui: &mut Ui, view: &View<'_>, field: TypedField<'_>, actions: &mut Vec<Action>) -> Response {
        let mut text = self.text.clone().unwrap_or_else(|| field.shown.clone());
        let error = self.to_say(ui);
        let shown = Field::new(field.label, &mut text).hint(field.hint).width(field.width).error(error.as_deref());
        let shown = if field.label_hidden { shown.label_hidden() } else { shown };
        let response = shown.show(ui);

        if response.has_focus() || response.changed() {
            self.arrive(ui, view, response.id);
        }
        if response.gained_focus() {
            select_all(ui, &response, &text);
        }
        if response.changed() {
            self.typed_at = ui.input(|i| i.time);
            self.take(&field, &text, false, actions);
            self.text = Some(text);
        }
        if response.lost_focus() {
            if let Some(text) = self.text.take() {
                if self.wrong.is_some() {
                    self.take(&field, &text, true, actions);
                }
                if self.wrong.is_some() {
                    self.text = Some(text);
                }
            }
            self.typed_at = 0.0;
            self.visit = None;
        }
        response
    }

    /// What to say beside the field now.
    fn to_say(&self, ui: &Ui) -> Option<String> {
        let wrong = self.wrong.as_ref()?;
        let rested = ui.input(|i| i.time) - self.typed_at;
        if self.visit.is_some() && rested < REST {
            ui.ctx().request_repaint_after(Duration::from_secs_f64(REST - rested));
            return None;
        }
        Some(wrong.clone())
    }

    /// Begins a visit, or begins it anew where something else has changed the plan meanwhile.
    fn arrive(&mut self, ui: &Ui, view: &View<'_>, id: Id) {
        if let Some(visit) = &mut self.visit
            && (visit.revision == view.revision || visit.asked)
        {
            visit.asked = false;
            visit.revision = view.revision;
            return;
        }
        let gesture = GestureId(id.with(("typing", ui.ctx().cumulative_frame_nr())).value());
        let (before, revision) = (view.rotation.clone(), view.revision);
        self.visit = Some(Visit { gesture, before, pulled: false, asked: false, revision });
    }

    /// Reads what is typed and asks for it, or for the plan as it was.
    fn take(&mut self, field: &TypedField<'_>, text: &str, done: bool, actions: &mut Vec<Action>) {
        let Some(visit) = &mut self.visit else { return };
        let read = (field.read)(text, done);
        let asked = read.and_then(|edit| match apply(&visit.before, &edit) {
            Ok(outcome) => Ok((edit, outcome.words)),
            Err(refusal) => Err(sentence(&refusal)),
        });
        let edit = match asked {
            Ok((edit, words)) => {
                self.wrong = None;
                // Every reading starts from the plan before, so that the half-typed ones leave no trace.
                if visit.pulled { Edit::Together { edits: vec![visit.back(field.label), edit], words } } else { edit }
            }
            Err(wrong) => {
                self.wrong = Some(wrong);
                if !visit.pulled {
                    return;
                }
                visit.back(field.label)
            }
        };
        visit.pulled = true;
        visit.asked = true;
        actions.push(Action::Pull(edit, visit.gesture));
    }
}

impl Visit {
    fn back(&self, label: &str) -> Edit {
        Edit::Replace { with: Box::new((*self.before).clone()), words: format!("{label} as before") }
    }
}

/// Arriving by key selects all, so that typing replaces it; a click sets the caret where it fell.
pub(super) fn select_all(ui: &Ui, response: &Response, text: &str) {
    if ui.input(|i| i.pointer.any_pressed() || i.pointer.any_released()) {
        return;
    }
    let mut state = TextEditState::load(ui.ctx(), response.id).unwrap_or_default();
    state.cursor.set_char_range(Some(egui::text::CCursorRange::select_all_str(text)));
    state.store(ui.ctx(), response.id);
}
