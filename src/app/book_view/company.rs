//! Writing what a dish, or a twin of it, needs.

use super::{
    company_draft::CompanionDraft,
    dish_draft::DishDraft,
    edit::faults_ui,
    figure::{amount, break_row, days, field, or_nothing, some_amount},
    picker::with_bin,
};
use crate::{
    app::{
        marks::Icon,
        sheet::parts,
        widget::{Button, Card, Field},
    },
    book::{About, CheckFault, CompanionMeasure},
};
use egui::{Margin, Ui};

/// The most companions of one dish or twin.
const MOST: usize = 40;

pub(super) fn ui(ui: &mut Ui, draft: &mut DishDraft, faults: &[CheckFault]) {
    companions_ui(ui, "", &mut draft.companions);
    faults_ui(ui, faults, &[About::Companions]);
    if draft.companions.len() < MOST && ui.add(Button::quiet("One more ingredient").icon(Icon::Plus)).clicked() {
        draft.companions.push(CompanionDraft::blank());
    }
}

/// The ingredients of a twin; `of` is what it is called on the page: "Twin 1".
pub(super) fn of_twin_ui(ui: &mut Ui, of: &str, companions: &mut Vec<CompanionDraft>) {
    companions_ui(ui, of, companions);
    let name = format!("{of}, one more ingredient");
    if companions.len() < MOST && ui.add(Button::quiet("One more ingredient").name(&name).icon(Icon::Plus)).clicked() {
        companions.push(CompanionDraft::blank());
    }
}

fn companions_ui(ui: &mut Ui, of: &str, companions: &mut Vec<CompanionDraft>) {
    let mut gone = None;
    for (at, companion) in companions.iter_mut().enumerate() {
        parts::steady(ui, ("companion", at), |ui| {
            Card::new().room(Margin::symmetric(12, 10)).fill_width().show(ui, |ui| {
                if companion_ui(ui, of, at, companion) {
                    gone = Some(at);
                }
            });
        });
    }
    if let Some(at) = gone {
        companions.remove(at);
    }
}

/// One companion; whether it is to go.
fn companion_ui(ui: &mut Ui, of: &str, at: usize, c: &mut CompanionDraft) -> bool {
    let nth = if of.is_empty() { format!("Ingredient {}", at + 1) } else { format!("{of}, ingredient {}", at + 1) };
    let said = if c.name.trim().is_empty() { format!("ingredient {}", at + 1) } else { c.name.trim().to_string() };
    let bin = if of.is_empty() { format!("Take {said} out") } else { format!("Take {said} out of {}", of.to_lowercase()) };
    let gone = with_bin(ui, &bin, true, |ui, width| {
        Field::new("Ingredient", &mut c.name).name(&nth).hint("smoked mackerel").width(width).show(ui);
    });
    ui.horizontal_wrapped(|ui| {
        ui.vertical(|ui| {
            parts::quiet(ui, "Measure");
            parts::flow(ui, |ui| {
                for (measure, word) in
                    [(CompanionMeasure::G, "g"), (CompanionMeasure::Ml, "ml"), (CompanionMeasure::Count, "whole")]
                {
                    if parts::choice(ui, word, &format!("{nth} in {word}"), c.measure == measure) {
                        c.measure = measure;
                    }
                }
            });
        });
        field(ui, "A head", &format!("{nth}, a head"), &mut c.per_unit, 80.0, amount);
        field(ui, "And for all", &format!("{nth}, for all"), &mut c.per_batch, 80.0, amount);
        field(ui, "In a pack", &format!("{nth}, in a pack"), &mut c.pack, 80.0, |t| or_nothing(t, some_amount));
        break_row(ui, 80.0);
        Field::new("Pack is a", &mut c.pack_word).name(&format!("{nth}, pack is a")).hint("pot").width(80.0).show(ui);
        field(ui, "Opened, days", &format!("{nth}, opened days"), &mut c.opened, 80.0, |t| or_nothing(t, days));
    });
    gone
}
