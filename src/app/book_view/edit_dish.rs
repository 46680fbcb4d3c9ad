//! The fields of a dish.

use super::{
    Books, company,
    dish_draft::DishDraft,
    eating,
    edit::{beside_ui, faults_ui},
    figure::{days, degrees, field, grams, minutes, or_nothing, thousandths},
    filter::{ROLES, role_word},
    making,
    words::section,
};
use crate::{
    app::{sheet::parts, view::View, widget::Field},
    book::{About, CheckFault, CutForm, Leftover, PartId, Role},
    quantity::State,
};
use egui::Ui;
use std::collections::BTreeSet;

/// How a piece may be cut.
const CUTS: [CutForm; 11] = [
    CutForm::Whole,
    CutForm::Wedges,
    CutForm::Slices,
    CutForm::Cubes,
    CutForm::Sticks,
    CutForm::Shreds,
    CutForm::Grated,
    CutForm::Leaves,
    CutForm::Florets,
    CutForm::Halves,
    CutForm::Pieces,
];

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, books: Books<'_>, draft: &mut DishDraft, faults: &[CheckFault]) {
    section(ui, "What it is");
    let name_fault = draft.name.trim().is_empty().then_some("Give it a name.");
    Field::new("Name", &mut draft.name).hint("Sharp slaw with pear").width(420.0).error(name_fault).show(ui);
    if !draft.fresh && draft.covers && !draft.own {
        parts::chips_label(ui, "It stands");
        beside_ui(ui, &mut draft.beside);
    }
    use_ui(ui, view, draft, faults);
    section(ui, "How it eats");
    eating::ui(ui, &mut draft.rest.profile);
    faults_ui(ui, faults, &[About::Profile]);
    figures_ui(ui, draft, faults);
    time_ui(ui, draft, faults);
    company::ui(ui, view, draft, faults);
    making::ui(ui, draft, faults);
    leftover_ui(ui, books, draft, faults);
    section(ui, "Sources");
    Field::new("Where its figures come from, one a line", &mut draft.sources).rows(2).width(f32::INFINITY).show(ui);
    faults_ui(ui, faults, &[About::Sources, About::Other, About::MadeFrom]);
}

fn use_ui(ui: &mut Ui, view: &View<'_>, draft: &mut DishDraft, faults: &[CheckFault]) {
    parts::chips_label(ui, "It is for");
    parts::flow(ui, |ui| {
        for role in ROLES {
            if parts::choice(ui, role_word(role), &format!("Use: {}", role_word(role)), draft.rest.role == role) {
                draft.rest.role = role;
            }
        }
    });
    parts::chips_label(ui, "Families of pieces that it suits");
    let families: BTreeSet<&str> = view.book.kinds().map(|k| k.family.as_str()).collect();
    parts::flow(ui, |ui| {
        for family in families {
            let has = draft.rest.suits_family(family);
            if parts::choice(ui, family, &format!("Family: {family}"), has) {
                if has {
                    draft.rest.families.retain(|f| f != family);
                } else {
                    draft.rest.families.push(family.into());
                }
            }
        }
    });
    faults_ui(ui, faults, &[About::Families]);
    parts::chips_label(ui, "Parts that it suits; none pressed is any part");
    let suited = || view.book.kinds().filter(|k| draft.rest.suits_family(&k.family));
    let mut offered: Vec<(PartId, String)> = Vec::new();
    for part in suited().flat_map(|k| &k.parts) {
        if !offered.iter().any(|o| o.0 == part.id) {
            offered.push((part.id.clone(), part.name.clone()));
        }
    }
    // A part of a family that was taken off can still be taken off itself.
    for id in draft.rest.parts.clone() {
        if !offered.iter().any(|o| o.0 == id) {
            offered.push((id.clone(), id.as_str().replace('-', " ")));
        }
    }
    parts::flow(ui, |ui| {
        for (id, name) in offered {
            let has = draft.rest.parts.contains(&id);
            if parts::choice(ui, &name, &format!("Part: {name}"), has) {
                if has {
                    draft.rest.parts.retain(|p| *p != id);
                } else {
                    draft.rest.parts.push(id);
                }
            }
        }
    });
    faults_ui(ui, faults, &[About::Parts]);
    eating::one(ui, "Cut into", &mut draft.rest.cut, &CUTS, CutForm::word);
}

fn figures_ui(ui: &mut Ui, draft: &mut DishDraft, faults: &[CheckFault]) {
    section(ui, "For one");
    if draft.rest.role == Role::Component {
        parts::quiet(ui, "What is made ahead has no grams of its own: the dish that is made from it has.");
    } else {
        ui.horizontal_wrapped(|ui| {
            let [least, typical, most] = &mut draft.grams;
            field(ui, "Least, in grams", "Least grams", least, 110.0, grams);
            field(ui, "Typical, in grams", "Typical grams", typical, 110.0, grams);
            field(ui, "Most, in grams", "Most grams", most, 110.0, grams);
        });
        faults_ui(ui, faults, &[About::Grams]);
        parts::chips_label(ui, "Grams are counted");
        parts::flow(ui, |ui| {
            for state in [State::Prepared, State::Cooked, State::AsBought] {
                if parts::choice(ui, state.word(), &format!("Grams counted {}", state.word()), draft.rest.state == state) {
                    draft.rest.state = state;
                }
            }
        });
    }
    field(ui, "Cooked grams from 1,000 that go in", "Cooked grams from 1,000", &mut draft.yields, 110.0, thousandths);
    faults_ui(ui, faults, &[About::Yield]);
    parts::chips_label(ui, "On the stove");
    parts::flow(ui, |ui| {
        if parts::choice(ui, "cooked through", "cooked through", draft.rest.cooked) {
            draft.rest.cooked = !draft.rest.cooked;
        }
        if parts::choice(ui, "brought to a full boil", "brought to a full boil", draft.rest.boiled_through) {
            draft.rest.boiled_through = !draft.rest.boiled_through;
        }
    });
}

fn time_ui(ui: &mut Ui, draft: &mut DishDraft, faults: &[CheckFault]) {
    section(ui, "Time and keeping");
    ui.horizontal_wrapped(|ui| {
        let [hands, total] = &mut draft.minutes;
        field(ui, "Minutes of hands", "Minutes of hands", hands, 110.0, minutes);
        field(ui, "Minutes in all", "Minutes in all", total, 110.0, minutes);
        field(ui, "Keeps, in days", "Days it keeps", &mut draft.keeps, 110.0, days);
        let nice = |t: &str| or_nothing(t, days);
        field(ui, "Eats well, in days", "Days it eats well", &mut draft.nice, 110.0, nice);
    });
    faults_ui(ui, faults, &[About::Minutes, About::Keeping]);
    ui.horizontal_wrapped(|ui| {
        let heat = |t: &str| or_nothing(t, degrees);
        let [best, low, high] = &mut draft.oven;
        let any = ![&*best, &*low, &*high].iter().all(|t| t.trim().is_empty());
        let best_heat = |t: &str| if any { degrees(t).map(Some) } else { Ok(None) };
        field(ui, "Oven, °C", "Oven, best", best, 110.0, best_heat);
        field(ui, "Bears down to", "Oven, lowest", low, 110.0, heat);
        field(ui, "Bears up to", "Oven, highest", high, 110.0, heat);
    });
    faults_ui(ui, faults, &[About::Oven]);
}

fn leftover_ui(ui: &mut Ui, books: Books<'_>, draft: &mut DishDraft, faults: &[CheckFault]) {
    section(ui, "What is left of it");
    let turned = Leftover::Turned(draft.turned.clone());
    parts::flow(ui, |ui| {
        for (leftover, words) in [
            (Leftover::AsIs, "served again as it is"),
            (turned, "only turned into something else"),
            (Leftover::No, "eaten at once or not at all"),
        ] {
            if parts::choice(ui, words, words, draft.rest.leftover == leftover) {
                draft.rest.leftover = leftover;
            }
        }
    });
    if !draft.stands_alone() && matches!(&draft.rest.leftover, Leftover::Turned(into) if !into.is_empty()) {
        let names: Vec<&str> = draft.turned.iter().map(|d| books.shipped.dish(d).map_or(d.as_str(), |d| &d.name)).collect();
        parts::quiet(ui, format!("Into: {}.", names.join(", ")));
    }
    faults_ui(ui, faults, &[About::Leftover]);
}
