//! Writing the twins of a dish: the same plate for those who eat otherwise.

use super::{
    company::of_twin_ui,
    dish_draft::DishDraft,
    eating,
    edit::faults_ui,
    picker::with_bin,
    twin_draft::TwinDraft,
    who::{allergens_ui, diets_ui, given_away_ui},
};
use crate::{
    app::{
        marks::Icon,
        sheet::parts,
        widget::{Button, Card, Field},
    },
    book::{About, CheckFault, Protein},
};
use egui::{Margin, Ui};

/// The most twins of one dish.
const MOST: usize = 8;

pub(super) fn ui(ui: &mut Ui, draft: &mut DishDraft, faults: &[CheckFault]) {
    parts::quiet(
        ui,
        "The same plate for one who eats otherwise: made before the meat or fish goes in, with a pan and a spoon of its own.",
    );
    let forms = draft.forms.clone();
    let mut gone = None;
    for (at, twin) in draft.twins.iter_mut().enumerate() {
        parts::steady(ui, ("twin", at), |ui| {
            Card::new().room(Margin::symmetric(12, 10)).fill_width().show(ui, |ui| {
                if twin_ui(ui, at, twin, &forms) {
                    gone = Some(at);
                }
            });
        });
    }
    if let Some(at) = gone {
        draft.twins.remove(at);
    }
    faults_ui(ui, faults, &[About::Twins]);
    if draft.twins.len() < MOST && ui.add(Button::quiet("One more twin").icon(Icon::Plus)).clicked() {
        draft.twins.push(TwinDraft::blank());
    }
}

/// One twin; whether it is to go.
fn twin_ui(ui: &mut Ui, at: usize, twin: &mut TwinDraft, forms: &str) -> bool {
    let nth = format!("Twin {}", at + 1);
    let of = format!("{nth}, ");
    let gone = with_bin(ui, &format!("Take twin {} out", at + 1), true, |ui, width| {
        Field::new("What it is", &mut twin.name).name(&nth).hint("seared halloumi").width(width).show(ui);
    });
    parts::chips_label(ui, "It replaces");
    parts::flow(ui, |ui| {
        for (holds, words) in [(true, "only the company: the piece is in it"), (false, "the piece itself")] {
            if parts::choice(ui, words, &format!("{of}replaces {words}"), twin.holds_piece == holds) {
                twin.holds_piece = holds;
            }
        }
    });
    parts::chips_label(ui, "The strictest diet that may eat it");
    diets_ui(ui, &of, &mut twin.diet);
    eating::one_named(ui, "Its protein", &format!("{of}protein"), &mut twin.protein, Protein::ALL, Protein::word);
    let offered = twin.forms(forms);
    if !offered.is_empty() {
        parts::chips_label(ui, "It goes without");
        parts::flow(ui, |ui| {
            for form in offered {
                let has = twin.without.contains(&form);
                if parts::choice(ui, &form, &format!("{of}without {form}"), has) {
                    if has {
                        twin.without.retain(|f| *f != form);
                    } else {
                        twin.without.push(form);
                    }
                }
            }
        });
    }
    parts::chips_label(ui, "Its allergens, in place of the dish's");
    allergens_ui(ui, &of, &mut twin.allergens);
    given_away_ui(ui, &of, &twin.companions, &mut twin.allergens);
    parts::chips_label(ui, "What it needs");
    of_twin_ui(ui, &nth, &mut twin.companions);
    gone
}
