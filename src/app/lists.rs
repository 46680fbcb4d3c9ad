//! The lists of the plan: what to buy, how to cut, what stands on the boxes, what is prepared ahead. Lines tick off.

use super::{
    action::Action,
    bench::{self, Frame},
    sheet::parts,
    theme::{self, Lettering, STEP},
    view::View,
    widget::Card,
};
use crate::{
    lists::{
        Sheet, ShoppingList, box_labels, cut_list, cut_sheet, label_sheet, prep_list, prep_sheet, shopping_list, shopping_sheet,
    },
    quantity::System,
};
use egui::{Frame as Ground, Margin, Panel, ScrollArea, Ui};
use std::sync::Arc;

mod house;
mod table;

pub(super) use table::tick;

/// Width of what is in the house.
const SIDE: f32 = 340.0;
/// Under this width it is narrower.
const NARROW: f32 = 1100.0;

/// Which list.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Which {
    /// What to buy and to pick.
    #[default]
    Shopping,
    /// How the piece is cut.
    Cut,
    /// What stands on the boxes.
    Labels,
    /// What is prepared ahead.
    Prep,
}

impl Which {
    const ALL: [(Which, &str); 4] =
        [(Which::Shopping, "Shopping"), (Which::Cut, "Cut list"), (Which::Labels, "Box labels"), (Which::Prep, "Prep")];
}

/// What the page remembers between frames.
#[derive(Default)]
pub struct ListsView {
    which: Which,
    drawn: Option<Drawn>,
}

/// A list as it was reckoned for one revision of plan and house.
struct Drawn {
    of: (u64, u64, Which, System),
    sheet: Arc<Sheet>,
    shopping: Arc<ShoppingList>,
}

impl ListsView {
    fn drawn(&mut self, view: &View<'_>) -> (Arc<Sheet>, Arc<ShoppingList>) {
        let of = (view.revision, view.hearth.house_revision(), self.which, view.system);
        match &self.drawn {
            Some(drawn) if drawn.of == of => (drawn.sheet.clone(), drawn.shopping.clone()),
            _ => {
                let r = view.rotation;
                let shopping = shopping_list(r, view.hearth.cupboard(), view.book);
                let sheet = match self.which {
                    Which::Shopping => shopping_sheet(r, &shopping, view.system),
                    Which::Cut => cut_sheet(r, &cut_list(r), view.system),
                    Which::Labels => label_sheet(r, &box_labels(r), view.system),
                    Which::Prep => prep_sheet(r, &prep_list(r), view.system),
                };
                let (sheet, shopping) = (Arc::new(sheet), Arc::new(shopping));
                self.drawn = Some(Drawn { of, sheet: sheet.clone(), shopping: shopping.clone() });
                (sheet, shopping)
            }
        }
    }

    /// Another plan: nothing of the old one is drawn on.
    pub fn plan_replaced(&mut self) {
        self.drawn = None;
    }
}

/// Draws the page.
pub fn ui(ui: &mut Ui, frame: Frame<'_>, lists: &mut ListsView, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let margin = bench::MARGIN;
    let paper = Ground::new().fill(palette.paper);
    bench::around(ui, &frame, actions);
    let view = frame.view;
    let (sheet, shopping) = lists.drawn(&view);
    if lists.which == Which::Shopping {
        let side = if ui.available_width() < NARROW { SIDE - 80.0 } else { SIDE };
        Panel::right("in the house")
            .frame(paper.inner_margin(Margin { left: 0, right: margin, top: 0, bottom: 16 }))
            .resizable(false)
            .show_separator_line(false)
            .exact_size(side + f32::from(margin))
            .show(ui, |ui| {
                ScrollArea::vertical().id_salt("in the house").auto_shrink(false).show(ui, |ui| {
                    Card::new().room(20).fill_width().show(ui, |ui| house::ui(ui, &view, &shopping, actions));
                });
            });
    }
    let right = if lists.which == Which::Shopping { 16 } else { margin };
    let middle = paper.inner_margin(Margin { left: margin, right, top: 0, bottom: 16 });
    egui::CentralPanel::default().frame(middle).show(ui, |ui| {
        Card::new().room(20).show(ui, |ui| {
            ui.set_min_size(ui.available_size());
            parts::tabs(ui, "List", &Which::ALL, &mut lists.which);
            ui.add_space(STEP);
            let salt = ("list", lists.which as u8);
            ScrollArea::vertical().id_salt(salt).auto_shrink(false).show(ui, |ui| sheet_ui(ui, &view, &sheet, actions));
        });
    });
}

fn sheet_ui(ui: &mut Ui, view: &View<'_>, sheet: &Sheet, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    if sheet.sections.is_empty() {
        parts::plain(ui, "Nothing yet. Plan some meals on the bench, and it is reckoned from them.");
        return;
    }
    for section in &sheet.sections {
        ui.spacing_mut().item_spacing.y = STEP / 2.0;
        if !section.heading.is_empty() {
            ui.add_space(STEP);
            ui.label(Lettering::Head.text(section.heading.as_str()).color(palette.ink));
        }
        for words in &section.lead {
            parts::plain(ui, words.as_str());
        }
        if let Some(rows) = &section.table {
            table::ui(ui, view, &sheet.title, &section.heading, rows, actions);
        }
        if !section.cards.is_empty() {
            ui.add_space(STEP / 2.0);
            ui.horizontal_wrapped(|ui| {
                ui.spacing_mut().item_spacing = egui::vec2(12.0, 12.0);
                for card in &section.cards {
                    label_ui(ui, card);
                }
            });
        }
        for words in &section.notes {
            parts::quiet(ui, words.as_str());
        }
    }
    ui.add_space(2.0 * STEP);
}

/// A label as it will be on the box.
fn label_ui(ui: &mut Ui, card: &crate::lists::Card) {
    let palette = theme::palette(ui);
    let wide = 264.0_f32.min(ui.available_width());
    let ground = Ground::new().fill(palette.paper).stroke(egui::Stroke::new(1.0, palette.line)).corner_radius(6).inner_margin(12);
    ground.show(ui, |ui| {
        ui.set_width(wide - 24.0);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            ui.add(egui::Label::new(Lettering::Dish.text(card.title.as_str()).color(palette.ink)).wrap());
            for line in &card.lines {
                ui.add(egui::Label::new(Lettering::Small.text(line.as_str()).color(palette.soft)).wrap());
            }
        });
    });
}
