//! What narrows the list: chips that are on or off, and chips that open a short list.

use super::filter::{Filters, ROLES, Sort, role_word};
use crate::{
    app::{sheet::parts, theme::Lettering, view::View, widget::Chip},
    book::{Family, Heat, Method, Texture},
};
use egui::{Popup, PopupCloseBehavior, ScrollArea, Ui};

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, filters: &mut Filters) {
    parts::flow(ui, |ui| {
        let piece = format!("for {}", view.rotation.kind.name);
        if parts::choice(ui, &piece, &format!("Only {piece}"), filters.of_piece) {
            filters.of_piece = !filters.of_piece;
        }
        if parts::choice(ui, "own only", "Only your own", filters.own) {
            filters.own = !filters.own;
        }
        if filters.sort == Sort::Kinds {
            return;
        }
        choose(ui, "Texture", &mut filters.texture, Texture::ALL, Texture::word);
        choose(ui, "Flavour", &mut filters.flavour, Family::ALL, Family::word);
        choose(ui, "Method", &mut filters.method, Method::ALL, Method::word);
        choose(ui, "Warmth", &mut filters.heat, Heat::ALL, Heat::word);
        choose(ui, "Use", &mut filters.role, &ROLES, role_word);
    });
}

/// A chip that opens a list of values, with "any" first.
fn choose<T: Copy + PartialEq>(ui: &mut Ui, title: &str, now: &mut Option<T>, all: &[T], word: fn(T) -> &'static str) {
    let lower = title.to_lowercase();
    let words = now.map_or_else(|| format!("{lower}…"), |v| word(v).to_string());
    let name = format!("{title}: {}", now.map_or("any", word));
    let response = ui.add(Chip::new(&words).name(&name).selected(now.is_some()));
    Popup::menu(&response).close_behavior(PopupCloseBehavior::CloseOnClick).show(|ui| {
        ui.set_min_width(150.0);
        ScrollArea::vertical().max_height(420.0).show(ui, |ui| {
            if ui.radio(now.is_none(), Lettering::Body.text(format!("any {lower}"))).clicked() {
                *now = None;
            }
            for value in all {
                if ui.radio(*now == Some(*value), Lettering::Body.text(word(*value))).clicked() {
                    *now = Some(*value);
                }
            }
        });
    });
}
