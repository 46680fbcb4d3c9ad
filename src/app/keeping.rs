//! How long everything keeps, how what is kept back warm gets cold, and who eats what: what makes the plan safe, to look at.

use super::{
    bench::{self, Frame},
    sheet::parts,
    theme::{self, STEP},
    widget::Card,
};
use crate::app::action::Action;
use egui::{Frame as Ground, Margin, ScrollArea, Ui};

mod boxing;
mod clocks;
mod cooling;
mod curve;
mod eaters;
mod freezer;
mod model;
pub(super) mod phases;
mod seek;
mod unopened;

use cooling::Pots;
use freezer::Freezable;

/// Which of the three.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Which {
    /// Until when everything keeps.
    #[default]
    Clocks,
    /// How pots and boxes get cold.
    Cooling,
    /// Who eats what at each meal.
    Eaters,
}

impl Which {
    const ALL: [(Which, &str); 3] =
        [(Which::Clocks, "How long it keeps"), (Which::Cooling, "Cooling"), (Which::Eaters, "Who eats what")];
}

/// What the page remembers between frames.
#[derive(Default)]
pub struct KeepingView {
    which: Which,
    pots: Pots,
    freezable: Freezable,
}

impl KeepingView {
    /// Another plan: nothing of the old one is looked at any more.
    pub fn plan_replaced(&mut self) {
        *self = KeepingView { which: self.which, ..KeepingView::default() };
    }
}

/// Draws the page.
pub fn ui(ui: &mut Ui, frame: Frame<'_>, keeping: &mut KeepingView, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let margin = bench::MARGIN;
    let paper = Ground::new().fill(palette.paper);
    bench::around(ui, &frame, actions);
    let view = frame.view;
    let middle = paper.inner_margin(Margin { left: margin, right: margin, top: 0, bottom: 16 });
    egui::CentralPanel::default().frame(middle).show(ui, |ui| {
        Card::new().room(20).show(ui, |ui| {
            ui.set_min_size(ui.available_size());
            parts::tabs(ui, "Keeping", &Which::ALL, &mut keeping.which);
            ui.add_space(STEP);
            let salt = ("keeping", keeping.which as u8);
            ScrollArea::vertical().id_salt(salt).auto_shrink(false).show(ui, |ui| match keeping.which {
                Which::Clocks => {
                    clocks::ui(ui, &view);
                    model::ui(ui, &view);
                    freezer::ui(ui, &view, &mut keeping.freezable, actions);
                    unopened::ui(ui, &view);
                }
                Which::Cooling => cooling::ui(ui, &view, &mut keeping.pots, actions),
                Which::Eaters => eaters::ui(ui, &view),
            });
        });
    });
}
