//! The fields of a kind.

use super::{
    dish_draft::lines,
    edit::{beside_ui, faults_ui},
    edit_dish::count,
    edit_keeping, edit_parts, edit_yields,
    figure::{field, grams, note_unread},
    fold::{Folds, Section, some},
    kind_draft::KindDraft,
    stand_ins,
    who::{allergens_ui, diets_ui},
    words::swatch,
};
use crate::{
    app::{
        sheet::parts,
        theme::{self, TALL_TARGET},
        view::View,
        widget::Field,
    },
    book::{About, CheckFault, Kind, family_name},
};
use egui::{Color32, Sense, Ui, vec2};
use std::collections::BTreeSet;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, folds: &mut Folds, draft: &mut KindDraft, faults: &[CheckFault]) {
    let name_fault = draft.name.trim().is_empty().then_some("Give it a name.");
    note_unread(ui, name_fault.is_some());
    Field::new("Name", &mut draft.name).hint("savoy cabbage").width(420.0).error(name_fault).show(ui);
    if !draft.fresh && draft.covers && !draft.own {
        parts::chips_label(ui, "It stands");
        beside_ui(ui, &mut draft.beside);
    }
    folds.all_ui(ui);
    let fresh = draft.fresh;
    let mut section = |ui: &mut Ui, title, summary, open, about: &[About], body: &mut dyn FnMut(&mut Ui)| {
        folds.show(ui, Section { title, summary, open, faults: count(faults, about) }, |ui| body(ui));
    };
    let about = [About::Families, About::Colour, About::Mass];
    section(ui, "What it is", what_words(draft), true, &about, &mut |ui| what_ui(ui, view, draft, faults));
    let about = [About::Parts, About::Shares];
    let shares = format!("{} of 1,000 told", draft.sum());
    section(ui, "What is in it", shares, true, &about, &mut |ui| edit_parts::ui(ui, draft, faults));
    let about = [About::Keeping, About::Whole, About::CutForms];
    section(ui, "How long it keeps", edit_keeping::words(draft), fresh, &about, &mut |ui| edit_keeping::ui(ui, draft, faults));
    let about = [About::Yields, About::Cups];
    section(ui, "What comes of it", edit_yields::words(draft), false, &about, &mut |ui| edit_yields::ui(ui, draft, faults));
    section(ui, "Who may eat it", who_words(draft), fresh, &[About::Diet, About::Allergens], &mut |ui| who_ui(ui, draft));
    let words = stand_ins::words(view, draft);
    section(ui, "What can stand in", words, false, &[About::StandIns], &mut |ui| stand_ins::ui(ui, view, draft, faults));
    let hazards = some(lines(&draft.hazards).iter(), "nothing to beware of");
    section(ui, "Beware", hazards, false, &[About::Hazards], &mut |ui| {
        Field::new("What to beware of, one a line", &mut draft.hazards).rows(3).width(f32::INFINITY).show(ui);
        faults_ui(ui, faults, &[About::Hazards]);
    });
    let about = [About::Sources, About::Name, About::Other];
    section(ui, "Sources", some(lines(&draft.sources).iter(), "none named"), false, &about, &mut |ui| {
        Field::new("Where its figures come from, one a line", &mut draft.sources).rows(2).width(f32::INFINITY).show(ui);
        faults_ui(ui, faults, &about);
    });
}

pub(super) fn colour_of(draft: &KindDraft) -> Color32 {
    parts::kind_colour(&Kind { colour: draft.colour.trim().trim_start_matches('#').into(), ..draft.rest.clone() })
}

fn what_words(draft: &KindDraft) -> String {
    let [least, typical, most] = &draft.mass;
    format!("{}; mostly {} g, from {} to {}", family_name(&draft.family), typical.trim(), least.trim(), most.trim())
}

fn what_ui(ui: &mut Ui, view: &View<'_>, draft: &mut KindDraft, faults: &[CheckFault]) {
    parts::quiet(ui, "Family: whose dishes suit it");
    let families: BTreeSet<&str> = view.book.kinds().map(|k| k.family.as_str()).collect();
    parts::flow(ui, |ui| {
        for family in families {
            if parts::choice(ui, family_name(family), &format!("Family: {family}"), draft.family == family) {
                draft.family = family.into();
            }
        }
    });
    faults_ui(ui, faults, &[About::Families]);
    ui.horizontal(|ui| {
        Field::new("Colour, as six hexadecimal digits", &mut draft.colour).name("Colour").width(140.0).show(ui);
        let (rect, response) = ui.allocate_exact_size(vec2(TALL_TARGET, TALL_TARGET), Sense::hover());
        super::words::named(ui, &response, "the colour that it is drawn in");
        swatch(ui.painter(), theme::palette(ui), rect.translate(vec2(0.0, 10.0)), colour_of(draft));
    });
    faults_ui(ui, faults, &[About::Colour]);
    ui.horizontal_wrapped(|ui| {
        let [least, typical, most] = &mut draft.mass;
        field(ui, "Least, as bought", "Least mass", least, 130.0, grams);
        field(ui, "Typical, as bought", "Typical mass", typical, 130.0, grams);
        field(ui, "Most, as bought", "Most mass", most, 130.0, grams);
    });
    faults_ui(ui, faults, &[About::Mass]);
}

fn who_words(draft: &KindDraft) -> String {
    let rest = &draft.rest;
    format!("{}; {}", rest.diet.word(), some(rest.allergens.iter().map(|a| a.word()), "no allergens"))
}

fn who_ui(ui: &mut Ui, draft: &mut KindDraft) {
    parts::quiet(ui, "The strictest diet that may eat it");
    diets_ui(ui, "", &mut draft.rest.diet);
    parts::chips_label(ui, "Allergens that it carries itself");
    allergens_ui(ui, "", &mut draft.rest.allergens);
    parts::chips_label(ui, "Limits for those who need care");
    parts::flow(ui, |ui| {
        if parts::choice(ui, "meat, poultry or fish", "meat, poultry or fish", draft.rest.animal) {
            draft.rest.animal = !draft.rest.animal;
        }
    });
}
