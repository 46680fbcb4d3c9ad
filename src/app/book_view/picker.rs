//! Lists that something can be added to: from a short menu, or by searching the book.

use super::words::COLUMN;
use crate::app::{
    marks::Icon,
    sheet::parts,
    theme::{Lettering, SMALL_STEP, TALL_TARGET},
    widget::{Button, Field, IconButton},
};
use egui::{Key, Popup, PopupCloseBehavior, ScrollArea, Ui};

/// The most entries that a search shows.
const SHOWN: usize = 6;

/// A button that opens a short list; what was chosen from it. Nothing is drawn where there is nothing to choose.
pub(super) fn menu<T: Copy>(ui: &mut Ui, words: &str, name: &str, offered: &[(T, &str)]) -> Option<T> {
    if offered.is_empty() {
        return None;
    }
    let response = ui.add(Button::quiet(words).name(name).icon(Icon::Plus));
    let mut chosen = None;
    Popup::menu(&response).close_behavior(PopupCloseBehavior::CloseOnClick).show(|ui| {
        ui.set_min_width(150.0);
        ScrollArea::vertical().max_height(420.0).show(ui, |ui| {
            for (value, word) in offered {
                if ui.button(Lettering::Body.text(*word)).clicked() {
                    chosen = Some(*value);
                }
            }
        });
    });
    chosen
}

/// A field to search the book in, with what answers under it; what was chosen.
pub(super) fn search<T: Clone>(ui: &mut Ui, label: &str, offered: &[(T, &str)]) -> Option<T> {
    let place = ui.make_persistent_id(("search", label));
    let mut text: String = ui.data(|d| d.get_temp(place)).unwrap_or_default();
    let field = parts::steady(ui, ("search field", label), |ui| {
        Field::new(label, &mut text).icon(Icon::Search).width(COLUMN.min(420.0)).show(ui)
    });
    let wanted = text.trim().to_lowercase();
    let mut chosen = None;
    if !wanted.is_empty() {
        let fits = |o: &&(T, &str)| wanted.split_whitespace().all(|w| o.1.to_lowercase().contains(w));
        let found: Vec<&(T, &str)> = offered.iter().filter(fits).collect();
        if field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter)) {
            chosen = found.first().map(|f| f.0.clone());
        }
        parts::flow(ui, |ui| {
            for (value, name) in found.iter().take(SHOWN) {
                if ui.add(Button::quiet(name).name(&format!("Add {name}")).icon(Icon::Plus)).clicked() {
                    chosen = Some(value.clone());
                }
            }
        });
        match found.len() {
            0 => drop(parts::quiet(ui, "Nothing that can stand here is called so.")),
            n if n > SHOWN => drop(parts::quiet(ui, format!("And {} more: type more of the name.", n - SHOWN))),
            _ => {}
        }
    }
    if chosen.is_some() {
        text.clear();
    }
    ui.data_mut(|d| d.insert_temp(place, text));
    chosen
}

/// A line with a bin at its end; whether the bin was pressed. `add` is given the width that it has.
pub(super) fn with_bin(ui: &mut Ui, bin: &str, labelled: bool, add: impl FnOnce(&mut Ui, f32)) -> bool {
    let label = ui.painter().layout_no_wrap("X".into(), Lettering::Small.font(), egui::Color32::BLACK).size().y + SMALL_STEP;
    ui.horizontal_top(|ui| {
        let width = ui.available_width() - TALL_TARGET - ui.spacing().item_spacing.x;
        add(ui, width);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            ui.add_space(if labelled { label } else { 0.0 });
            ui.add(IconButton::new(Icon::Bin, bin).side(TALL_TARGET)).clicked()
        })
        .inner
    })
    .inner
}

/// A word at the left of a line of fields, as high as they are.
pub(super) fn line_word(ui: &mut Ui, word: &str) {
    const WIDTH: f32 = 132.0;
    let palette = crate::app::theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(egui::vec2(WIDTH, TALL_TARGET), egui::Sense::hover());
    let words = crate::app::bench::ink::lay(ui, word, Lettering::Body, palette.ink, WIDTH, 1);
    let at = egui::pos2(rect.left(), rect.center().y - words.size().y / 2.0);
    crate::app::bench::ink::put(ui.painter(), at, words);
    super::words::named(ui, &response, word);
}
