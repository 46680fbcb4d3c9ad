//! One meal of the plan in the journal: whether it was eaten, what was said of it, what was thrown away.

use super::{JournalView, change};
use crate::{
    app::{
        action::Action,
        marks::Icon,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::{View, spoken},
        widget::{Button, Field, IconButton},
    },
    quantity::read_grams,
    rotation::{AtTable, EatenMeal, Heard, JournalChange, Slot, as_eaten, heard_of},
};
use egui::{Align, Layout, Ui};

/// A mass as it is typed, and for which line.
pub struct Typed {
    of: AtTable,
    text: String,
    error: Option<String>,
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, slot: Slot, journal: &mut JournalView, actions: &mut Vec<Action>) {
    let planned = as_eaten(view.rotation, slot);
    if planned.is_empty() {
        let (words, dish) = (view.rotation.slot_name(slot), view.main_serving(slot).map(|(_, d)| d.name.as_str()));
        parts::quiet(ui, format!("{words}: nobody eats of {}", dish.unwrap_or("it")));
        return;
    }
    for line in &planned {
        dish(ui, view, slot, line, journal, actions);
    }
}

fn dish(ui: &mut Ui, view: &View<'_>, slot: Slot, line: &EatenMeal, journal: &mut JournalView, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let of = AtTable::of(line);
    let eaten = view.hearth.eaten();
    let written = eaten.iter().any(|m| of.is(m));
    let at = format!("{}, {}", line.name, view.rotation.slot_name(slot));
    ui.add_space(STEP / 2.0);
    ui.horizontal(|ui| {
        let width = (ui.available_width() - 150.0).max(120.0);
        ui.allocate_ui_with_layout(egui::vec2(width, 24.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(width);
            ui.add(egui::Label::new(Lettering::Dish.text(line.name.as_str()).color(palette.ink)).truncate());
            let grams = line.eaten.map(|p| view.portion(p)).unwrap_or_default();
            let words = format!("{} · {grams} · {}", line.mealtime, line.eaters.join(", "));
            ui.add(egui::Label::new(Lettering::Small.text(words).color(palette.soft)).truncate());
        });
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            if written {
                let name = format!("Strike out: {at}");
                if ui.add(IconButton::new(Icon::Close, &name).hint("It was not eaten: strike it out")).clicked() {
                    change(actions, vec![JournalChange::Strike(of.clone())]);
                }
                ui.label(Lettering::Small.text("✓ written down").color(palette.soft));
            } else if ui.add(Button::quiet("Eaten").name(&format!("Eaten: {at}"))).clicked() {
                change(actions, vec![JournalChange::Eaten(vec![line.clone()])]);
            }
        });
    });
    let who = journal.who.and_then(|id| view.rotation.household.eater(id)).map(|e| e.name.clone());
    if who.as_ref().is_some_and(|w| !line.eaten_by(w)) {
        parts::quiet(ui, format!("{} did not eat of it.", who.unwrap_or_default()));
        return;
    }
    let heard = heard_of(eaten, &of, who.as_deref());
    parts::flow(ui, |ui| {
        for word in Heard::ALL {
            let chosen = heard == Some(Some(word));
            let name = format!("{}: {at}", word.words());
            if parts::choice(ui, word.words(), &name, chosen) {
                let said = JournalChange::Said { of: of.clone(), who: who.clone(), heard: (!chosen).then_some(word) };
                let first = (!written).then(|| JournalChange::Eaten(vec![line.clone()]));
                change(actions, first.into_iter().chain([said]).collect());
            }
        }
    });
    if heard.is_none() && written {
        let each: Vec<String> = eaten
            .iter()
            .filter(|m| of.is(m))
            .map(|m| format!("{}: {}", m.eaters.join(", "), m.heard.map_or("no word", Heard::words)))
            .collect();
        parts::quiet(ui, each.join(" · "));
    }
    if written {
        wasted(ui, view, &of, &at, journal, actions);
    }
}

/// What was thrown away of it, typed as people write a mass.
fn wasted(ui: &mut Ui, view: &View<'_>, of: &AtTable, at: &str, journal: &mut JournalView, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let lines = view.hearth.eaten();
    let eaten = lines.iter().filter(|m| of.is(m)).find_map(|m| m.eaten);
    let Some(eaten) = eaten else { return };
    let now = lines.iter().filter(|m| of.is(m)).find_map(|m| m.wasted);
    let shown = now.map(|w| spoken(&view.portion(w))).unwrap_or_default();
    let own = journal.typed.as_ref().is_some_and(|t| t.of == *of);
    let mut text = if own { journal.typed.as_ref().map(|t| t.text.clone()).unwrap_or_default() } else { shown.clone() };
    let mut left = None;
    ui.horizontal(|ui| {
        ui.label(Lettering::Small.text("thrown away").color(palette.soft));
        let label = format!("Thrown away of {at}");
        let response = parts::steady(ui, ("wasted", at), |ui| {
            Field::new(&label, &mut text).label_hidden().hint("nothing").width(96.0).show(ui)
        });
        if response.gained_focus() || response.changed() {
            journal.typed = Some(Typed { of: of.clone(), text: text.clone(), error: None });
        }
        if response.lost_focus() {
            left = Some(ui.input(|i| i.key_pressed(egui::Key::Escape)));
        }
    });
    if let Some(error) = journal.typed.as_ref().filter(|t| t.of == *of).and_then(|t| t.error.as_deref()) {
        ui.add(egui::Label::new(Lettering::Small.text(error).color(palette.stop)).wrap());
    }
    let Some(given_up) = left else { return };
    if given_up || text.trim() == shown {
        journal.typed = None;
        return;
    }
    let grams = match text.trim() {
        "" => Ok(0),
        typed => read_grams(typed, view.system, view.rotation.kind.cup).map_err(|why| why.to_string()),
    };
    let grams = grams.and_then(|g| {
        if g <= eaten.get() { Ok(g) } else { Err(format!("no more than {} was on the plates", view.portion(eaten))) }
    });
    match grams {
        Ok(g) => {
            journal.typed = None;
            let wasted = (g > 0).then(|| eaten.with(g));
            if wasted != now {
                change(actions, vec![JournalChange::Wasted { of: of.clone(), wasted }]);
            }
        }
        Err(why) => {
            actions.push(Action::Say(format!("Not done: {why}")));
            journal.typed = Some(Typed { of: of.clone(), text, error: Some(why) });
        }
    }
}
