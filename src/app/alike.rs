//! How alike the meals are, as a picture: every meal beside every other, and what the one figure is made of.
//!
//! At the left the stairs: a square for each two meals, the fuller the more alike, with an edge where the household would say
//! so. At the right the figure with what each meal adds to it, and the two meals that were chosen, axis by axis.

use super::{
    action::Action,
    bench::{self, Frame},
    theme::{self, STEP},
    widget::Card,
};
use crate::{judge::LikenessTable, rotation::Slot};
use egui::{Frame as Ground, Margin, Panel, ScrollArea, Ui};

mod figure;
mod pair;
mod stairs;
pub(super) mod who;

/// Width of the explanations at the right.
const SIDE: f32 = 380.0;
/// Under this width they are narrower.
const NARROW: f32 = 1100.0;

/// What the page remembers between frames.
#[derive(Default)]
pub struct AlikeView {
    /// The two meals that are looked at, the earlier first; the two most alike until others are chosen.
    chosen: Option<(Slot, Slot)>,
}

impl AlikeView {
    /// The places in the table of the two meals looked at.
    fn places(&self, table: &LikenessTable) -> Option<(usize, usize)> {
        let at = |slot: Slot| table.meals.iter().position(|m| m.slot == slot);
        let chosen = self.chosen.and_then(|(a, b)| Some((at(a)?, at(b)?)));
        chosen.or_else(|| table.most_alike())
    }

    /// Looks at these two.
    fn choose(&mut self, table: &LikenessTable, (i, j): (usize, usize)) {
        if let (Some(a), Some(b)) = (table.meals.get(i.min(j)), table.meals.get(i.max(j))) {
            self.chosen = Some((a.slot, b.slot));
        }
    }
}

/// Draws the page.
pub fn ui(ui: &mut Ui, frame: Frame<'_>, alike: &mut AlikeView, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let margin = bench::MARGIN;
    let paper = Ground::new().fill(palette.paper);
    bench::around(ui, &frame, actions);
    let Some(table) = frame.view.table else { return };
    let side = if ui.available_width() < NARROW { SIDE - 60.0 } else { SIDE };
    Panel::right("why")
        .frame(paper.inner_margin(Margin { left: 0, right: margin, top: 0, bottom: 16 }))
        .resizable(false)
        .show_separator_line(false)
        .exact_size(side + f32::from(margin))
        .show(ui, |ui| {
            ScrollArea::vertical().id_salt("why").auto_shrink(false).show(ui, |ui| {
                ui.spacing_mut().item_spacing.y = 2.0 * STEP;
                Card::new().room(20).fill_width().show(ui, |ui| figure::ui(ui, &frame.view, table, actions));
                if let Some(places) = alike.places(table) {
                    Card::new().room(20).fill_width().show(ui, |ui| pair::ui(ui, &frame.view, table, places, actions));
                }
                figure::how(ui);
            });
        });
    let middle = paper.inner_margin(Margin { left: margin, right: 16, top: 0, bottom: 16 });
    egui::CentralPanel::default().frame(middle).show(ui, |ui| {
        Card::new().room(20).show(ui, |ui| {
            ui.set_min_size(ui.available_size());
            stairs::ui(ui, &frame.view, table, alike);
        });
    });
}
