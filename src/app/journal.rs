//! The journal: what was really eaten, and what was said of it at the table.
//!
//! At the left the meals of this plan, each with the words that a household says of a meal; at the right what was eaten before
//! and what it has taught. Two presses a meal are enough, since nobody writes essays at the table.

use super::{
    action::Action,
    bench::{self, Frame},
    sheet::{long_date, parts},
    theme::{self, Lettering, STEP},
    widget::Card,
};
use crate::rotation::{EaterId, JournalChange};
use egui::{Frame as Ground, Margin, Panel, ScrollArea, Ui};

mod earlier;
mod meal;

/// Width of what was eaten before.
const SIDE: f32 = 380.0;
/// Under this width it is narrower.
const NARROW: f32 = 1100.0;

/// Wider than this no line of it is.
const WIDEST: f32 = 760.0;

/// What the page remembers between frames.
#[derive(Default)]
pub struct JournalView {
    /// Whose word is written down; nobody named: the whole table's.
    who: Option<EaterId>,
    /// What is typed for what was thrown away, and of which line.
    typed: Option<meal::Typed>,
}

/// Draws the page.
pub fn ui(ui: &mut Ui, frame: Frame<'_>, journal: &mut JournalView, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let margin = bench::MARGIN;
    let paper = Ground::new().fill(palette.paper);
    bench::around(ui, &frame, actions);
    let view = frame.view;
    // One who has left the household says nothing more.
    journal.who = journal.who.filter(|id| view.rotation.household.eater(*id).is_some());
    let side = if ui.available_width() < NARROW { SIDE - 80.0 } else { SIDE };
    Panel::right("before")
        .frame(paper.inner_margin(Margin { left: 0, right: margin, top: 0, bottom: 16 }))
        .resizable(false)
        .show_separator_line(false)
        .exact_size(side + f32::from(margin))
        .show(ui, |ui| {
            ScrollArea::vertical().id_salt("before").auto_shrink(false).show(ui, |ui| {
                ui.spacing_mut().item_spacing.y = 2.0 * STEP;
                Card::new().room(20).fill_width().show(ui, |ui| earlier::taught(ui, &view));
                Card::new().room(20).fill_width().show(ui, |ui| earlier::ui(ui, &view, actions));
            });
        });
    let middle = paper.inner_margin(Margin { left: margin, right: 16, top: 0, bottom: 16 });
    egui::CentralPanel::default().frame(middle).show(ui, |ui| {
        Card::new().room(20).show(ui, |ui| {
            ui.set_min_size(ui.available_size());
            ui.label(Lettering::Head.text("How it went").color(palette.ink));
            let slots: Vec<_> = view.rotation.slots().filter(|s| view.main_serving(*s).is_some()).collect();
            if slots.is_empty() {
                ui.add_space(STEP);
                parts::plain(ui, "No meal is planned yet. Plan some on the bench; once they are eaten, say here how they went.");
                return;
            }
            whose(ui, &frame, journal);
            ui.add_space(STEP);
            ScrollArea::vertical().id_salt("meals").auto_shrink(false).show(ui, |ui| {
                ui.spacing_mut().item_spacing.y = STEP / 2.0;
                // A word and its meal stay within one glance, however wide the window is.
                ui.set_max_width(ui.available_width().min(WIDEST));
                let mut day = None;
                for slot in slots {
                    if day != Some(slot.day) {
                        if day.is_some() {
                            ui.add_space(2.0 * STEP);
                        }
                        let words = long_date(view.rotation.date(slot.day));
                        ui.label(Lettering::SmallStrong.text(words).color(palette.soft));
                        day = Some(slot.day);
                    }
                    meal::ui(ui, &view, slot, journal, actions);
                }
            });
        });
    });
}

/// Whose word it is.
fn whose(ui: &mut Ui, frame: &Frame<'_>, journal: &mut JournalView) {
    let eaters = &frame.view.rotation.household.eaters;
    if eaters.len() < 2 {
        return;
    }
    parts::chips_label(ui, "Whose word?");
    parts::flow(ui, |ui| {
        if parts::choice(ui, "The whole table", "Write down the word of the whole table", journal.who.is_none()) {
            journal.who = None;
        }
        for eater in eaters {
            let name = format!("Write down the word of {}", eater.name);
            if parts::choice(ui, &eater.name, &name, journal.who == Some(eater.id)) {
                journal.who = Some(eater.id);
            }
        }
    });
}

/// One step of the journal.
fn change(actions: &mut Vec<Action>, steps: Vec<JournalChange>) {
    actions.push(Action::Journal(steps));
}
