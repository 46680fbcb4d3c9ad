//! A field of a sheet that writes into the plan when typing is done.

use super::asking::sentence;
use crate::{
    app::{action::Action, view::View, widget::Field},
    rotation::{Done, Edit, apply},
};
use egui::{Key, Modifiers, Response, Ui, text_edit::TextEditState};
use std::time::Duration;

/// How long the hand must rest before a half-typed word is called wrong, in seconds: tried by eye, no source.
const REST: f64 = 0.7;

/// What is typed into one field, beside what the plan says.
///
/// The field shows the plan's figure until somebody types. Nothing of it goes into the plan before the person is done: Enter,
/// or going elsewhere, makes one step of it, Escape puts the plan's figure back. What cannot be read, or would be refused, is
/// said in words when the hand rests or leaves, and changes nothing.
#[derive(Default)]
pub(super) struct Typed {
    text: Option<String>,
    wrong: Option<String>,
    typed_at: f64,
    here: bool,
    /// Enter or Escape was pressed: the keyboard stays, with all that stands there selected.
    stays: bool,
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
    /// Shows the field and hands on what was typed once it is done.
    pub fn show(&mut self, ui: &mut Ui, view: &View<'_>, field: TypedField<'_>, actions: &mut Vec<Action>) -> Response {
        let mut text = self.text.clone().unwrap_or_else(|| field.shown.clone());
        let error = self.to_say(ui);
        let shown = Field::new(field.label, &mut text).hint(field.hint).width(field.width).error(error.as_deref());
        let shown = if field.label_hidden { shown.label_hidden() } else { shown };
        let response = shown.show(ui);

        self.here = response.has_focus();
        if std::mem::take(&mut self.stays) {
            select_whole(ui, &response, &text);
        } else if response.gained_focus() {
            select_all(ui, &response, &text);
        }
        if response.changed() {
            self.typed_at = ui.input(|i| i.time);
            self.wrong = read(view, &field, &text, false).err();
            self.text = Some(text);
        }
        if response.lost_focus() {
            let escape = ui.input(|i| i.key_pressed(Key::Escape));
            self.stays = ui.input(|i| i.key_pressed(Key::Enter));
            if escape && self.text.is_some() {
                // The sheet stays: this Escape was about what was typed.
                ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape));
                (self.text, self.wrong) = (None, None);
                self.stays = true;
            } else if let Some(text) = &self.text {
                match read(view, &field, text, true) {
                    Ok((edit, outcome)) => {
                        if outcome.rotation != **view.rotation {
                            actions.push(Action::Edit(edit));
                        }
                        (self.text, self.wrong) = (None, None);
                    }
                    Err(wrong) => self.wrong = Some(wrong),
                }
            }
            self.typed_at = 0.0;
            if self.stays {
                response.request_focus();
                ui.ctx().request_repaint();
            }
        }
        response
    }

    /// What to say beside the field now.
    fn to_say(&self, ui: &Ui) -> Option<String> {
        let wrong = self.wrong.as_ref()?;
        let rested = ui.input(|i| i.time) - self.typed_at;
        if self.here && rested < REST {
            ui.ctx().request_repaint_after(Duration::from_secs_f64(REST - rested));
            return None;
        }
        Some(wrong.clone())
    }
}

/// What typed words ask for and what would come of it, or in one sentence why they ask for nothing.
fn read(view: &View<'_>, field: &TypedField<'_>, text: &str, done: bool) -> Result<(Edit, Done), String> {
    let edit = (field.read)(text, done)?;
    let outcome = apply(view.rotation, &edit).map_err(|refusal| sentence(&refusal))?;
    Ok((edit, outcome))
}

/// Arriving by key selects all, so that typing replaces it; a click sets the caret where it fell.
pub(super) fn select_all(ui: &Ui, response: &Response, text: &str) {
    if !ui.input(|i| i.pointer.any_pressed() || i.pointer.any_released()) {
        select_whole(ui, response, text);
    }
}

fn select_whole(ui: &Ui, response: &Response, text: &str) {
    let mut state = TextEditState::load(ui.ctx(), response.id).unwrap_or_default();
    state.cursor.set_char_range(Some(egui::text::CCursorRange::select_all_str(text)));
    state.store(ui.ctx(), response.id);
}
