//! Asking for an edit that may be refused, and saying why beside what was pressed.

use super::parts;
use crate::{
    app::{action::Action, marks::Level, view::View},
    rotation::{Edit, Refusal, apply, capital},
};
use egui::Ui;

/// What was refused last, at which of several places. Any change of the plan makes it forgotten.
pub(super) struct Asking<K> {
    refused: Option<(K, String, u64)>,
}

impl<K> Default for Asking<K> {
    fn default() -> Self {
        Asking { refused: None }
    }
}

impl<K: PartialEq> Asking<K> {
    /// Asks for `edit` at `place`; whether it will be done.
    pub fn ask(&mut self, view: &View<'_>, place: K, edit: Edit, actions: &mut Vec<Action>) -> bool {
        match apply(view.rotation, &edit) {
            Ok(_) => {
                self.refused = None;
                actions.push(Action::Edit(edit));
                true
            }
            Err(refusal) => {
                self.refuse(view, place, sentence(&refusal));
                false
            }
        }
    }

    /// Notes that something cannot be done at `place`.
    pub fn refuse(&mut self, view: &View<'_>, place: K, why: String) {
        self.refused = Some((place, why, view.revision));
    }

    /// Says what was refused at `place`, if anything was.
    pub fn say(&self, ui: &mut Ui, view: &View<'_>, place: &K) {
        if let Some((at, why, revision)) = &self.refused
            && at == place
            && *revision == view.revision
        {
            parts::remark(ui, Level::Stop, why);
        }
    }
}

/// A refusal as a sentence of its own.
pub(super) fn sentence(refusal: &Refusal) -> String {
    as_sentence(&refusal.0)
}

/// `words` with a capital and a full stop.
pub(super) fn as_sentence(words: &str) -> String {
    let mut said = capital(words.trim());
    if !said.ends_with(['.', '!', '?']) {
        said.push('.');
    }
    said
}
