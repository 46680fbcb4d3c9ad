//! The mealtimes of every day: their names and clocks.

use super::{
    asking::Asking,
    dates::{read_clock, write_clock},
    parts,
    typed::{Typed, TypedField},
};
use crate::{
    app::{
        action::Action,
        marks::Icon,
        theme,
        view::View,
        widget::{Button, Field, IconButton},
    },
    rotation::{Edit, Mealtime, MealtimeId, capital},
};
use egui::{Key, Ui};
use jiff::civil::Time;
use std::collections::BTreeMap;

/// Mealtimes that are offered where they are missing, with a usual clock (common practice, no source).
const USUAL: [(&str, i8, i8); 3] = [("breakfast", 8, 0), ("lunch", 12, 30), ("supper", 18, 30)];

/// What is typed about mealtimes.
#[derive(Default)]
pub(super) struct Mealtimes {
    names: BTreeMap<MealtimeId, Typed>,
    clocks: BTreeMap<MealtimeId, Typed>,
    asking: Asking<Option<MealtimeId>>,
    new_name: String,
}

impl Mealtimes {
    /// Shows them with their fields, and a way to add one.
    pub fn show(&mut self, ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
        for mealtime in &view.rotation.mealtimes {
            parts::steady(ui, mealtime.id.0, |ui| self.row_ui(ui, view, mealtime, actions));
        }
        self.add_ui(ui, view, actions);
    }

    fn row_ui(&mut self, ui: &mut Ui, view: &View<'_>, mealtime: &Mealtime, actions: &mut Vec<Action>) {
        let Mealtime { id, name, at } = mealtime;
        let row = capital(name);
        ui.horizontal_top(|ui| {
            let read = |text: &str, _: bool| Ok(Edit::SetMealtime { id: *id, name: text.to_string(), at: *at });
            let (label, shown) = (format!("Name of {name}"), name.clone());
            let spec = TypedField { label: &label, hint: "lunch", width: 190.0, label_hidden: true, shown, read: &read };
            ui.vertical(|ui| {
                ui.set_width(190.0);
                self.names.entry(*id).or_default().show(ui, view, spec, actions)
            });
            let read = |text: &str, done: bool| {
                let at = read_clock(text, done)?;
                Ok(Edit::SetMealtime { id: *id, name: name.clone(), at })
            };
            let (label, shown) = (format!("{row} at"), write_clock(*at));
            let spec = TypedField { label: &label, hint: "18:30", width: 96.0, label_hidden: true, shown, read: &read };
            ui.vertical(|ui| {
                ui.set_width(ui.available_width() - 44.0);
                self.clocks.entry(*id).or_default().show(ui, view, spec, actions)
            });
            let out = format!("Take {name} out of every day");
            if ui.add(IconButton::new(Icon::Bin, &out).side(theme::TALL_TARGET)).clicked() {
                self.asking.ask(view, Some(*id), Edit::RemoveMealtime(*id), actions);
            }
        });
        self.asking.say(ui, view, &Some(*id));
    }

    fn add_ui(&mut self, ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
        let mut wanted: Option<(String, Option<Time>)> = None;
        parts::steady(ui, "another", |ui| {
            ui.horizontal_top(|ui| {
                let field = Field::new("Another mealtime", &mut self.new_name).hint("Another, such as tea").width(190.0);
                let field = ui.vertical(|ui| field.label_hidden().show(ui)).inner;
                let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
                if ui.add(Button::quiet("Add").name("Add the mealtime").icon(Icon::Plus)).clicked()
                    || (entered && !self.new_name.trim().is_empty())
                {
                    let usual = USUAL.iter().find(|(name, ..)| *name == self.new_name.trim().to_lowercase());
                    let at = usual.and_then(|(_, hour, minute)| Time::new(*hour, *minute, 0, 0).ok());
                    wanted = Some((self.new_name.clone(), at));
                }
            });
        });
        let missing: Vec<_> = USUAL
            .iter()
            .filter(|(name, ..)| !view.rotation.mealtimes.iter().any(|m| m.name.eq_ignore_ascii_case(name)))
            .collect();
        if !missing.is_empty() {
            parts::flow(ui, |ui| {
                for (name, hour, minute) in missing {
                    let at = Time::new(*hour, *minute, 0, 0).ok();
                    if parts::choice(ui, &format!("+ {name} {}", write_clock(at)), &format!("add {name}"), false) {
                        wanted = Some(((*name).to_string(), at));
                    }
                }
            });
        }
        if let Some((name, at)) = wanted
            && self.asking.ask(view, None, Edit::AddMealtime { name, at }, actions)
        {
            self.new_name.clear();
        }
        self.asking.say(ui, view, &None);
    }
}
