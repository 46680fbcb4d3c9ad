//! What fits best at an open meal: the best few dishes, each one press away.
//!
//! Every dish is laid there and judged, too much for a frame; a worker does it, once for each meal at each revision.

use super::ink;
use crate::app::{
    action::Action,
    sheet::parts,
    theme::{self, Lettering, TALL_TARGET},
    view::View,
    widget::Button,
};
use crate::{
    arrange::{Fitting, Wishes, what_fits},
    quantity::Portion,
    rotation::{Edit, Rotation, Slot, capital},
};
use egui::Ui;
use std::{sync::mpsc, thread};

/// The most dishes that are shown; fewer in a low window.
const SHOWN: usize = 3;
/// Height that is left to the shelf below: its search and a dish or two.
const SHELF_ROOM: f32 = 250.0;
/// Rows that the words below a dish may take.
const WORDS_ROWS: usize = 2;
/// Air between a dish and the words below it.
const WORDS_AIR: f32 = 2.0;
/// Air between one dish and the next.
const ROW_AIR: f32 = 6.0;

/// What was found for one meal at one revision, or is being looked for.
#[derive(Default)]
pub(super) struct Fits {
    of: Option<(u64, Slot)>,
    coming: Option<mpsc::Receiver<Vec<Fitting>>>,
    found: Option<Vec<Fitting>>,
}

impl Fits {
    /// Begins to look where that has not been done, and takes what has come. `rest` begins nothing.
    fn poll(&mut self, view: &View<'_>, slot: Slot, rest: bool, ctx: &egui::Context) {
        if self.of != Some((view.revision, slot)) && !rest {
            let (send, coming) = mpsc::channel();
            let (plan, book, home) = (view.rotation.clone(), view.book.clone(), view.hearth.home().clone());
            let ctx = ctx.clone();
            thread::spawn(move || {
                let mut found = what_fits(&plan, &book, &home, &Wishes::default(), slot);
                found.retain(|f| f.cost.is_some());
                found.truncate(SHOWN);
                // Nobody waiting any more is no harm.
                let _ = send.send(found);
                ctx.request_repaint();
            });
            *self = Fits { of: Some((view.revision, slot)), coming: Some(coming), found: None };
        }
        if let Some(found) = self.coming.as_ref().and_then(|c| c.try_recv().ok()) {
            self.found = Some(found);
            self.coming = None;
        }
    }
}

/// Draws it. While something is in the hand nothing new is looked for.
///
/// It takes the same room before and after the worker answers: what lies below would else slip away from under the pointer.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, fits: &mut Fits, slot: Slot, carrying: bool, actions: &mut Vec<Action>) {
    let r = view.rotation;
    if !r.meal(slot).servings.is_empty() || r.eaters_at(slot).is_empty() {
        return;
    }
    fits.poll(view, slot, carrying, ui.ctx());
    let known = fits.found.as_deref().filter(|_| fits.of == Some((view.revision, slot)));
    ui.label(Lettering::SmallStrong.text("What fits here best").color(theme::palette(ui).soft));
    let line = ui.fonts_mut(|f| f.row_height(&Lettering::Small.font()));
    // Names of dishes take two lines at most, but for the longest that a household may have given.
    let dish = TALL_TARGET + line;
    let row = dish + WORDS_AIR + WORDS_ROWS as f32 * line + ROW_AIR;
    let shown = (((ui.available_height() - SHELF_ROOM) / row) as usize).clamp(1, SHOWN);
    let room = shown as f32 * row - ROW_AIR;
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = ROW_AIR;
        ui.set_min_height(room);
        match known {
            None => {
                parts::quiet(ui, "Looking for what fits here\u{2026}");
            }
            Some([]) => {
                parts::quiet(ui, format!("Nothing in the book fits at {}.", r.slot_name(slot)));
            }
            Some(found) => {
                for fitting in found.iter().take(shown) {
                    fitting_ui(ui, view, slot, fitting, actions);
                }
            }
        }
    });
}

/// A dish that fits: one press serves it, and below what that costs, all of it in the hint.
fn fitting_ui(ui: &mut Ui, view: &View<'_>, slot: Slot, fitting: &Fitting, actions: &mut Vec<Action>) {
    let Some(plan) = &fitting.plan else { return };
    let colour = theme::palette(ui).soft;
    let name = format!("Put {} at {}", fitting.dish.name, view.rotation.slot_name(slot));
    let words = capital(&view.said(&costs(view, plan, slot, fitting)));
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = WORDS_AIR;
        if ui.add(Button::mend(&fitting.dish.name).name(&name)).clicked() {
            let words = format!("Serve {} at {}", fitting.dish.name, view.rotation.slot_name(slot));
            actions.push(Action::Edit(Edit::Replace { with: Box::new(plan.clone()), words }));
        }
        let laid = ink::lay(ui, &words, Lettering::Small, colour, ui.available_width(), WORDS_ROWS);
        let cut = laid.elided;
        let said = ui.add(egui::Label::new(laid));
        if cut {
            said.on_hover_text(words);
        }
    });
}

/// What it costs in a cook's words: "520 g, 35 min, at most 19 % of another meal is felt in it, 40 g left without a meal".
fn costs(view: &View<'_>, plan: &Rotation, slot: Slot, fitting: &Fitting) -> String {
    let served: Vec<Portion> = plan.meal(slot).servings.iter().map(|s| s.portion).collect();
    let mut words: Vec<String> = served.first().map(|p| view.portion(*p)).into_iter().collect();
    words.push(format!("{}\u{a0}min", fitting.dish.minutes.1));
    words.push(fitting.why.clone());
    if let Some(lost) = fitting.cost.map(|c| c.lost).filter(|lost| *lost > 0) {
        words.push(format!("{} then still without a meal", view.grams(lost)));
    }
    words.join(", ")
}
