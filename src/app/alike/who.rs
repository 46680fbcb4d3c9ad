//! The eater switch: whose meals the links, the stairs and the figure are about.

use crate::{
    app::{
        action::Action,
        sheet::parts,
        theme::{self, Lettering},
        view::View,
    },
    rotation::EaterId,
};
use egui::Ui;

/// Whether there is anything to switch: a household of one has one mouth.
fn several(view: &View<'_>) -> bool {
    view.rotation.household.eaters.len() > 1
}

fn entries<'v>(view: &'v View<'_>) -> impl Iterator<Item = (Option<EaterId>, &'v str)> {
    let eaters = view.rotation.household.eaters.iter();
    std::iter::once((None, "Everybody")).chain(eaters.map(|e| (Some(e.id), e.name.as_str())))
}

/// The switch as chips that lie open.
pub(super) fn chips(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    if !several(view) {
        return;
    }
    parts::flow(ui, |ui| {
        for (who, name) in entries(view) {
            if parts::choice(ui, name, &format!("Show the meals of {}", name_in_words(name, who)), view.who == who) {
                actions.push(Action::Eater(who));
            }
        }
    });
}

fn name_in_words(name: &str, who: Option<EaterId>) -> String {
    if who.is_some() { name.to_string() } else { "everybody".to_string() }
}

/// The switch as a menu, for the bottom line.
pub(in crate::app) fn menu(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    if !several(view) {
        return;
    }
    let now = view.who.map_or("everybody", |e| view.rotation.household.name(e));
    let short: String = now.chars().take(14).collect();
    let palette = theme::palette(ui);
    let words = Lettering::Small.text(format!("for {short}")).color(palette.ink);
    let shown = ui.menu_button(words, |ui| {
        for (who, name) in entries(view) {
            if ui.radio(view.who == who, name).clicked() {
                actions.push(Action::Eater(who));
                ui.close();
            }
        }
    });
    shown.response.on_hover_text("Whose meals the links and the figure are about");
}
