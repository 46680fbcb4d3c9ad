//! Writing who may eat a dish: allergens, diet, what some dislike.

use super::{company_draft::CompanionDraft, dish_draft::DishDraft, edit::faults_ui, words::said_field};
use crate::{
    app::{
        marks::{Icon, Level},
        sheet::parts,
        view::View,
        widget::{Button, Field},
    },
    book::{About, Allergen, CheckFault, Diet, allergens_named_in},
};
use egui::Ui;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, draft: &mut DishDraft, faults: &[CheckFault]) {
    parts::quiet(ui, "Allergens in it, the piece's own left out");
    allergens_ui(ui, "", &mut draft.rest.allergens);
    given_away_ui(ui, "", &draft.companions, &mut draft.rest.allergens);
    parts::chips_label(ui, "The strictest diet that may eat it");
    diets_ui(ui, "", &mut draft.rest.diet);
    let loosest = draft.loosest_diet(view.book);
    if loosest != Diet::Vegan {
        parts::quiet(ui, format!("The piece itself is for: {}.", loosest.word()));
    }
    faults_ui(ui, faults, &[About::Diet]);
    said_field(ui, |ui| {
        let field = Field::new("Forms that some dislike, one a line", &mut draft.forms);
        field.hint("raw onion").rows(2).width(f32::INFINITY).show(ui);
    });
    faults_ui(ui, faults, &[About::Forms]);
}

/// A chip for each allergen; `of` is whose they are: "Twin 1, ", or nothing for the entry itself.
pub(super) fn allergens_ui(ui: &mut Ui, of: &str, set: &mut Vec<Allergen>) {
    parts::flow(ui, |ui| {
        for allergen in Allergen::ALL {
            if parts::choice(ui, allergen.word(), &chip_name(of, "allergen", allergen.word()), set.contains(allergen)) {
                toggle(set, *allergen);
            }
        }
    });
}

/// A chip for each diet.
pub(super) fn diets_ui(ui: &mut Ui, of: &str, now: &mut Diet) {
    parts::flow(ui, |ui| {
        for diet in Diet::ALL {
            if parts::choice(ui, diet.word(), &chip_name(of, "diet", diet.word()), now == diet) {
                *now = *diet;
            }
        }
    });
}

/// "Diet: vegan", or "Twin 1, diet: vegan".
fn chip_name(of: &str, what: &str, word: &str) -> String {
    if of.is_empty() { format!("{}: {word}", crate::rotation::capital(what)) } else { format!("{of}{what}: {word}") }
}

/// Ticks or unticks an allergen, in the order of the list.
fn toggle(set: &mut Vec<Allergen>, allergen: Allergen) {
    let has = set.contains(&allergen);
    *set = Allergen::ALL.iter().copied().filter(|a| if *a == allergen { !has } else { set.contains(a) }).collect();
}

/// What the names of the ingredients give away and nobody has ticked.
pub(super) fn given_away_ui(ui: &mut Ui, of: &str, companions: &[CompanionDraft], set: &mut Vec<Allergen>) {
    let mut ticked = Vec::new();
    for companion in companions {
        for allergen in allergens_named_in(&companion.name) {
            if set.contains(&allergen) {
                continue;
            }
            let (name, word) = (companion.name.trim(), allergen.word());
            let words = format!("Tick {word}");
            let button_name = if of.is_empty() { words.clone() } else { format!("{of}tick {word}") };
            ui.horizontal(|ui| {
                if ui.add(Button::quiet(&words).name(&button_name).icon(Icon::Tick)).clicked() {
                    ticked.push(allergen);
                }
                parts::remark(ui, Level::Stop, &format!("There is {name} in it, which means {word}, and {word} is not ticked."));
            });
        }
    }
    for allergen in ticked {
        if !set.contains(&allergen) {
            toggle(set, allergen);
        }
    }
}
