//! Writing what a dish is made from and what is made of its leftovers.

use super::{
    dish_draft::DishDraft,
    edit::faults_ui,
    picker::{search, with_bin},
};
use crate::{
    app::{sheet::parts, view::View},
    book::{About, Book, CheckFault, DishId, Leftover},
};
use egui::Ui;

/// The dishes that it can be made from instead of raw parts.
pub(super) fn from_ui(ui: &mut Ui, view: &View<'_>, draft: &mut DishDraft, faults: &[CheckFault]) {
    parts::chips_label(ui, "Made from, in place of raw parts: what was cooked before, a component or a leftover");
    chosen_ui(ui, view.book, "what it is made from", &mut draft.rest.from);
    let own = (!draft.stands_alone()).then_some(&draft.rest.id);
    let offered: Vec<(DishId, &str)> = view
        .book
        .dishes()
        .filter(|d| Some(&d.id) != own && !draft.rest.from.contains(&d.id))
        .filter(|d| d.families.iter().any(|f| draft.rest.suits_family(f)))
        .map(|d| (d.id.clone(), d.name.as_str()))
        .collect();
    if let Some(id) = search(ui, "Search for a dish that it is made from", &offered) {
        draft.rest.from.push(id);
    }
    faults_ui(ui, faults, &[About::MadeFrom]);
}

/// What can be done with what is left.
pub(super) fn leftover_ui(ui: &mut Ui, view: &View<'_>, draft: &mut DishDraft, faults: &[CheckFault]) {
    let turned = Leftover::Turned(draft.turned.clone());
    parts::flow(ui, |ui| {
        for (leftover, words) in [
            (Leftover::AsIs, "served again as it is"),
            (turned, "only turned into something else"),
            (Leftover::No, "eaten at once or not at all"),
        ] {
            let chosen = std::mem::discriminant(&draft.rest.leftover) == std::mem::discriminant(&leftover);
            if parts::choice(ui, words, words, chosen) {
                draft.rest.leftover = leftover;
            }
        }
    });
    if matches!(draft.rest.leftover, Leftover::Turned(_)) {
        turned_ui(ui, view, draft);
    }
    faults_ui(ui, faults, &[About::Leftover]);
}

fn turned_ui(ui: &mut Ui, view: &View<'_>, draft: &mut DishDraft) {
    if draft.stands_alone() {
        parts::quiet(
            ui,
            "Save it first. Then a dish that says it is made from this one can be named here as what becomes of it.",
        );
        return;
    }
    let Leftover::Turned(into) = &mut draft.rest.leftover else { return };
    parts::chips_label(ui, "What becomes of it: dishes that say they are made from it");
    chosen_ui(ui, view.book, "what becomes of it", into);
    let made_of_it = view.book.dishes().filter(|d| d.from.contains(&draft.rest.id) && !into.contains(&d.id));
    let offered: Vec<(DishId, &str)> = made_of_it.map(|d| (d.id.clone(), d.name.as_str())).collect();
    if offered.is_empty() && into.is_empty() {
        parts::quiet(ui, "No dish of the book says so yet: add this one to what another is made from.");
    } else if let Some(id) = search(ui, "Search for a dish that it becomes", &offered) {
        into.push(id);
    }
    draft.turned.clone_from(into);
}

/// Dishes that were chosen, each with a bin.
fn chosen_ui(ui: &mut Ui, book: &Book, from: &str, ids: &mut Vec<DishId>) {
    let mut gone = None;
    for (at, id) in ids.iter().enumerate() {
        let name = book.dish(id).map_or(id.as_str(), |d| d.name.as_str());
        if with_bin(ui, &format!("Take {name} out of {from}"), false, |ui, width| chosen_line(ui, name, width)) {
            gone = Some(at);
        }
    }
    if let Some(at) = gone {
        ids.remove(at);
    }
}

/// A name that was chosen, as high as the bin beside it.
pub(super) fn chosen_line(ui: &mut Ui, name: &str, width: f32) {
    use crate::app::{
        bench::ink,
        theme::{self, FIELD_CORNER, Lettering, TALL_TARGET},
    };
    let palette = theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(egui::vec2(width, TALL_TARGET), egui::Sense::hover());
    ui.painter().rect_filled(rect, f32::from(FIELD_CORNER), palette.paper);
    let words = ink::lay(ui, name, Lettering::Body, palette.ink, width - 24.0, 1);
    ink::put(ui.painter(), egui::pos2(rect.left() + 12.0, rect.center().y - words.size().y / 2.0), words);
    super::words::named(ui, &response, name);
}
