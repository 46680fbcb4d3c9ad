//! Writing how a dish is made.

use super::{
    company_draft::{StepDraft, change_places, take_out},
    dish_draft::DishDraft,
    edit::faults_ui,
    figure::{break_row, field, minutes, or_nothing, shelves},
};
use crate::{
    app::{
        marks::Icon,
        sheet::parts,
        theme::{self, Lettering},
        widget::{Button, Card, Field, IconButton},
    },
    book::{About, CheckFault, StepPlace},
};
use egui::{Margin, Ui};

/// The most steps of one dish.
const MOST: usize = 40;

/// What is to be done with a step.
#[derive(Clone, Copy)]
enum Wish {
    Up,
    Down,
    Out,
}

pub(super) fn ui(ui: &mut Ui, draft: &mut DishDraft, faults: &[CheckFault]) {
    parts::quiet(ui, "Minutes are for four. A step follows the one before it, unless it says which ones it follows.");
    let count = draft.steps.len();
    let mut wish = None;
    for (at, step) in draft.steps.iter_mut().enumerate() {
        parts::steady(ui, ("step", at), |ui| {
            Card::new().room(Margin::symmetric(12, 10)).fill_width().show(ui, |ui| {
                if let Some(what) = step_ui(ui, at, count, step) {
                    wish = Some((at, what));
                }
            });
        });
    }
    match wish {
        Some((at, Wish::Out)) => take_out(&mut draft.steps, at),
        Some((at, Wish::Up)) if at > 0 => change_places(&mut draft.steps, at, at - 1),
        Some((at, Wish::Down)) if at + 1 < count => change_places(&mut draft.steps, at, at + 1),
        _ => {}
    }
    faults_ui(ui, faults, &[About::Steps]);
    if count < MOST && ui.add(Button::quiet("One more step").icon(Icon::Plus)).clicked() {
        draft.steps.push(StepDraft::blank());
    }
}

fn step_ui(ui: &mut Ui, at: usize, count: usize, step: &mut StepDraft) -> Option<Wish> {
    let nth = at + 1;
    let mut wish = None;
    ui.horizontal(|ui| {
        let palette = theme::palette(ui);
        ui.label(Lettering::SmallStrong.text(format!("Step {nth}")).color(palette.soft));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            let all = [
                (Icon::Bin, format!("Take step {nth} out"), true, Wish::Out),
                (Icon::ChevronDown, format!("Move step {nth} down"), nth < count, Wish::Down),
                (Icon::ChevronUp, format!("Move step {nth} up"), at > 0, Wish::Up),
            ];
            for (icon, name, can, what) in all {
                if ui.add_enabled(can, IconButton::new(icon, &name)).clicked() {
                    wish = Some(what);
                }
            }
        });
    });
    Field::new("What to do", &mut step.text)
        .name(&format!("Step {nth}"))
        .label_hidden()
        .hint("Shred the heart finely.")
        .rows(2)
        .width(f32::INFINITY)
        .show(ui);
    ui.horizontal_wrapped(|ui| {
        field(ui, "Minutes", &format!("Step {nth}, minutes"), &mut step.minutes, 80.0, minutes);
        break_row(ui, 110.0);
        ui.vertical(|ui| {
            parts::quiet(ui, "Hands");
            parts::flow(ui, |ui| {
                for (hands, word) in [(true, "busy"), (false, "free")] {
                    if parts::choice(ui, word, &format!("Step {nth}, hands {word}"), step.hands == hands) {
                        step.hands = hands;
                    }
                }
            });
        });
        break_row(ui, 260.0);
        ui.vertical(|ui| {
            parts::quiet(ui, "Place");
            parts::flow(ui, |ui| {
                for (place, word) in [
                    (StepPlace::Bench, "bench"),
                    (StepPlace::Ring, "ring"),
                    (StepPlace::Oven, "oven"),
                    (StepPlace::Fridge, "fridge"),
                ] {
                    if parts::choice(ui, word, &format!("Step {nth} at the {word}"), step.place == place) {
                        step.place = place;
                    }
                }
            });
        });
    });
    after_ui(ui, at, count, step);
    ui.horizontal_wrapped(|ui| {
        let wait = |t: &str| or_nothing(t, minutes);
        field(ui, "May wait, minutes", &format!("Step {nth}, may wait"), &mut step.may_wait, 130.0, wait);
        if step.place == StepPlace::Oven {
            let read = |t: &str| or_nothing(t, shelves);
            field(ui, "Oven shelves", &format!("Step {nth}, oven shelves"), &mut step.shelves, 110.0, read);
        }
        break_row(ui, 180.0);
        Field::new("Needs an appliance", &mut step.appliance)
            .name(&format!("Step {nth}, appliance"))
            .hint("blender")
            .width(180.0)
            .show(ui);
    });
    wish
}

/// Which steps must be done before; none pressed is the one before it.
fn after_ui(ui: &mut Ui, at: usize, count: usize, step: &mut StepDraft) {
    if count < 2 {
        return;
    }
    let nth = at + 1;
    parts::chips_label(ui, "Comes after");
    parts::flow(ui, |ui| {
        let plain = if at == 0 { "nothing" } else { "the step before it" };
        if parts::choice(ui, plain, &format!("Step {nth} after {plain}"), step.after.is_empty()) {
            step.after.clear();
        }
        // A step that waits for one that is not there can be freed of it.
        let stray = step.after.iter().copied().filter(|a| *a >= count || *a == at);
        let offered: Vec<usize> = (0..count).filter(|other| *other != at).chain(stray).collect();
        for other in offered {
            let words = format!("step {}", other + 1);
            if parts::choice(ui, &words, &format!("Step {nth} after {words}"), step.after.contains(&other)) {
                step.toggle_after(other);
            }
        }
    });
}
