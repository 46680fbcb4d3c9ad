//! Adding somebody by name and size: to the household, or to a plan that is about to begin.

use super::{eater, parts, typed::select_all};
use crate::{
    app::{
        marks::Icon,
        widget::{Button, Field},
    },
    quantity::Units,
    rotation::{Eater, EaterId},
};
use egui::{Key, Ui};

/// Somebody about to be added.
pub(super) struct Newcomer {
    name: String,
    size: Units,
    refused: Option<String>,
}

impl Default for Newcomer {
    fn default() -> Self {
        Newcomer { name: String::new(), size: Units::ADULT, refused: None }
    }
}

impl Newcomer {
    /// A name, a size and a button; somebody of that name once it is pressed. Enter in the name does the same.
    pub fn show(&mut self, ui: &mut Ui, label: &str) -> Option<Eater> {
        let mut wanted = false;
        let field = Field::new(label, &mut self.name).hint("Name").width(220.0).error(self.refused.as_deref());
        let field = parts::steady(ui, "name", |ui| field.show(ui));
        if field.gained_focus() {
            select_all(ui, &field, &self.name);
        }
        if field.changed() {
            self.refused = None;
        }
        wanted |= field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter)) && !self.name.trim().is_empty();
        eater::sizes_ui(ui, self.size, |size| self.size = size);
        let name = self.name.trim();
        let words = if name.is_empty() { "Add".to_string() } else { format!("Add {name}") };
        wanted |= ui.add(Button::quiet(&words).icon(Icon::Plus)).clicked();
        if !wanted {
            return None;
        }
        if name.is_empty() {
            self.refused = Some("Type a name first.".into());
            return None;
        }
        Some(Eater {
            // Whoever takes them in gives the number.
            id: EaterId(0),
            name: name.to_string(),
            units: self.size,
            guest: false,
            allergies: Vec::new(),
            diet: Default::default(),
            dislikes: Vec::new(),
            care: Vec::new(),
        })
    }

    /// Says why somebody cannot be added.
    pub fn refuse(&mut self, why: String) {
        self.refused = Some(why);
    }
}
