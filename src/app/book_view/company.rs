//! Writing what a dish needs, and who may eat it.

use super::{
    company_draft::CompanionDraft,
    dish_draft::DishDraft,
    edit::faults_ui,
    figure::{amount, break_row, days, field, or_nothing},
    words::section,
};
use crate::{
    app::{
        marks::{Icon, Level},
        sheet::parts,
        view::View,
        widget::{Button, Card, Field, IconButton},
    },
    book::{About, Allergen, CheckFault, CompanionMeasure, Diet, allergens_named_in},
};
use egui::{Margin, Ui};

/// The most companions of one dish.
const MOST: usize = 40;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, draft: &mut DishDraft, faults: &[CheckFault]) {
    section(ui, "What it needs");
    let mut gone = None;
    for (at, companion) in draft.companions.iter_mut().enumerate() {
        ui.push_id(("companion", at), |ui| {
            Card::new().room(Margin::symmetric(12, 10)).fill_width().show(ui, |ui| {
                if companion_ui(ui, at, companion) {
                    gone = Some(at);
                }
            });
        });
    }
    if let Some(at) = gone {
        draft.companions.remove(at);
    }
    faults_ui(ui, faults, &[About::Companions]);
    if draft.companions.len() < MOST && ui.add(Button::quiet("One more ingredient").icon(Icon::Plus)).clicked() {
        draft.companions.push(CompanionDraft::blank());
    }
    who_ui(ui, view, draft, faults);
}

/// One companion; whether it is to go.
fn companion_ui(ui: &mut Ui, at: usize, c: &mut CompanionDraft) -> bool {
    let nth = at + 1;
    let mut gone = false;
    ui.horizontal(|ui| {
        ui.with_layout(egui::Layout::right_to_left(egui::Align::BOTTOM), |ui| {
            let said = if c.name.trim().is_empty() { format!("ingredient {nth}") } else { c.name.trim().to_string() };
            gone = ui.add(IconButton::new(Icon::Bin, &format!("Take {said} out")).side(34.0)).clicked();
            ui.with_layout(egui::Layout::left_to_right(egui::Align::TOP), |ui| {
                Field::new("Ingredient", &mut c.name)
                    .name(&format!("Ingredient {nth}"))
                    .hint("smoked mackerel")
                    .width(ui.available_width())
                    .show(ui);
            });
        });
    });
    ui.horizontal_wrapped(|ui| {
        ui.vertical(|ui| {
            parts::quiet(ui, "Measure");
            parts::flow(ui, |ui| {
                for (measure, word) in
                    [(CompanionMeasure::G, "g"), (CompanionMeasure::Ml, "ml"), (CompanionMeasure::Count, "whole")]
                {
                    if parts::choice(ui, word, &format!("Ingredient {nth} in {word}"), c.measure == measure) {
                        c.measure = measure;
                    }
                }
            });
        });
        field(ui, "A head", &format!("Ingredient {nth}, a head"), &mut c.per_unit, 80.0, amount);
        field(ui, "And for all", &format!("Ingredient {nth}, for all"), &mut c.per_batch, 80.0, amount);
        field(ui, "In a pack", &format!("Ingredient {nth}, in a pack"), &mut c.pack, 80.0, |t| or_nothing(t, amount));
        break_row(ui, 80.0);
        Field::new("Pack is a", &mut c.pack_word).name(&format!("Ingredient {nth}, pack is a")).hint("pot").width(80.0).show(ui);
        field(ui, "Opened, days", &format!("Ingredient {nth}, opened days"), &mut c.opened, 80.0, |t| or_nothing(t, days));
    });
    gone
}

fn who_ui(ui: &mut Ui, view: &View<'_>, draft: &mut DishDraft, faults: &[CheckFault]) {
    section(ui, "Who may eat it");
    parts::quiet(ui, "Allergens in it, the piece's own left out");
    parts::flow(ui, |ui| {
        for allergen in Allergen::ALL {
            let has = draft.rest.allergens.contains(allergen);
            if parts::choice(ui, allergen.word(), &format!("Allergen: {}", allergen.word()), has) {
                toggle(&mut draft.rest.allergens, *allergen);
            }
        }
    });
    given_away_ui(ui, draft);
    parts::chips_label(ui, "The strictest diet that may eat it");
    let loosest = draft.loosest_diet(view.book);
    parts::flow(ui, |ui| {
        for diet in Diet::ALL {
            if parts::choice(ui, diet.word(), &format!("Diet: {}", diet.word()), draft.rest.diet == *diet) {
                draft.rest.diet = *diet;
            }
        }
    });
    if loosest != Diet::Vegan {
        parts::quiet(ui, format!("The piece itself is for: {}.", loosest.word()));
    }
    faults_ui(ui, faults, &[About::Diet, About::Twins, About::Cautions]);
}

/// Ticks or unticks an allergen, in the order of the list.
fn toggle(set: &mut Vec<Allergen>, allergen: Allergen) {
    let has = set.contains(&allergen);
    *set = Allergen::ALL.iter().copied().filter(|a| if *a == allergen { !has } else { set.contains(a) }).collect();
}

/// What the names of the ingredients give away and nobody has ticked.
fn given_away_ui(ui: &mut Ui, draft: &mut DishDraft) {
    let mut ticked = Vec::new();
    for companion in &draft.companions {
        for allergen in allergens_named_in(&companion.name) {
            if draft.rest.allergens.contains(&allergen) {
                continue;
            }
            let (name, word) = (companion.name.trim(), allergen.word());
            ui.horizontal(|ui| {
                if ui.add(Button::quiet(&format!("Tick {word}")).icon(Icon::Tick)).clicked() {
                    ticked.push(allergen);
                }
                parts::remark(ui, Level::Stop, &format!("There is {name} in it, which means {word}, and {word} is not ticked."));
            });
        }
    }
    for allergen in ticked {
        if !draft.rest.allergens.contains(&allergen) {
            toggle(&mut draft.rest.allergens, allergen);
        }
    }
}
