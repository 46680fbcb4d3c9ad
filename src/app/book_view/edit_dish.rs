//! The fields of a dish.

use super::{
    cautions, company,
    dish_draft::{DishDraft, lines},
    eating,
    edit::{beside_ui, faults_ui},
    figure::{days, degrees, field, grams, minutes, note_unread, or_nothing, thousandths},
    filter::{ROLES, role_word},
    fold::{Folds, Section, some},
    made_from, making, twins, who,
};
use crate::{
    app::{sheet::parts, view::View, widget::Field},
    book::{About, CheckFault, CutForm, Leftover, PartId, Role, family_name},
    quantity::{State, write_units},
};
use egui::Ui;
use std::collections::BTreeSet;

/// How many of the faults are about this.
pub(super) fn count(faults: &[CheckFault], about: &[About]) -> usize {
    faults.iter().filter(|f| about.contains(&f.about)).count()
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, folds: &mut Folds, draft: &mut DishDraft, faults: &[CheckFault]) {
    let name_fault = draft.name.trim().is_empty().then_some("Give it a name.");
    note_unread(ui, name_fault.is_some());
    Field::new("Name", &mut draft.name).hint("Sharp slaw with pear").width(420.0).error(name_fault).show(ui);
    if !draft.fresh && draft.covers && !draft.own {
        parts::chips_label(ui, "It stands");
        beside_ui(ui, &mut draft.beside);
    }
    folds.all_ui(ui);
    let fresh = draft.fresh;
    let mut section = |ui: &mut Ui, title, summary, open, about: &[About], body: &mut dyn FnMut(&mut Ui)| {
        folds.show(ui, Section { title, summary, open, faults: count(faults, about) }, |ui| body(ui));
    };
    let about = [About::Families, About::Parts, About::MadeFrom];
    section(ui, "What it is made of", made_of_words(draft), fresh, &about, &mut |ui| {
        use_ui(ui, view, draft, faults);
        made_from::from_ui(ui, view, draft, faults);
    });
    section(ui, "How it eats", eats_words(draft), fresh, &[About::Profile], &mut |ui| {
        eating::ui(ui, &mut draft.rest.profile);
        faults_ui(ui, faults, &[About::Profile]);
    });
    let about = [About::Grams, About::Yield, About::Unit];
    section(ui, "For one", grams_words(draft), true, &about, &mut |ui| figures_ui(ui, draft, faults));
    let about = [About::Minutes, About::Keeping, About::Oven];
    section(ui, "Time and keeping", time_words(draft), true, &about, &mut |ui| time_ui(ui, draft, faults));
    let needs = some(draft.companions.iter().map(|c| &c.name), "nothing else");
    section(ui, "What it needs", needs, fresh, &[About::Companions], &mut |ui| company::ui(ui, draft, faults));
    let about = [About::Allergens, About::Diet, About::Forms];
    section(ui, "Who may eat it", who_words(draft), fresh, &about, &mut |ui| who::ui(ui, view, draft, faults));
    let twins = some(draft.twins.iter().map(|t| &t.name), "nobody gets another version");
    section(ui, "For those who eat otherwise", twins, false, &[About::Twins], &mut |ui| twins::ui(ui, draft, faults));
    let steps = write_units(draft.steps.len(), "step", "steps");
    section(ui, "How it is made", steps, fresh, &[About::Steps], &mut |ui| making::ui(ui, draft, faults));
    section(ui, "What is left of it", leftover_words(view, draft), false, &[About::Leftover], &mut |ui| {
        made_from::leftover_ui(ui, view, draft, faults);
    });
    let cautions = some(draft.cautions.iter().map(|c| &c.text), "nothing to beware of");
    section(ui, "What to say of it", cautions, false, &[About::Cautions], &mut |ui| cautions::ui(ui, draft, faults));
    let about = [About::Sources, About::Name, About::Other];
    section(ui, "Sources", some(lines(&draft.sources).iter(), "none named"), false, &about, &mut |ui| {
        Field::new("Where its figures come from, one a line", &mut draft.sources).rows(2).width(f32::INFINITY).show(ui);
        faults_ui(ui, faults, &about);
    });
}

fn made_of_words(draft: &DishDraft) -> String {
    let families = some(draft.rest.families.iter().map(|f| family_name(f)), "no family");
    let cut = draft.rest.cut.map_or(String::new(), |c| format!("; {}", c.word()));
    let from = match draft.rest.from.len() {
        0 => String::new(),
        n => format!("; from {}", write_units(n, "other dish", "other dishes")),
    };
    format!("{}; of {families}{cut}{from}", role_word(draft.rest.role))
}

fn eats_words(draft: &DishDraft) -> String {
    let p = &draft.rest.profile;
    let graded = [p.main_texture().map(|t| t.word()), p.main_family().map(|f| f.word()), p.main_method().map(|m| m.word())];
    let words: Vec<&str> = graded.into_iter().flatten().chain(p.heat.map(|h| h.word())).collect();
    if words.is_empty() { "nothing said yet".into() } else { words.join(", ") }
}

fn grams_words(draft: &DishDraft) -> String {
    if draft.rest.role == Role::Component {
        return "no grams of its own".into();
    }
    let [least, typical, most] = &draft.grams;
    format!("{} g {}, from {} to {}", typical.trim(), draft.rest.state.word(), least.trim(), most.trim())
}

fn time_words(draft: &DishDraft) -> String {
    let [hands, total] = &draft.minutes;
    let oven = if draft.oven[0].trim().is_empty() { String::new() } else { format!("; oven {} °C", draft.oven[0].trim()) };
    format!("{} min of hands, {} in all; keeps {} days{oven}", hands.trim(), total.trim(), draft.keeps.trim())
}

fn who_words(draft: &DishDraft) -> String {
    let allergens = some(draft.rest.allergens.iter().map(|a| a.word()), "no allergens of its own");
    let forms = lines(&draft.forms);
    let forms = if forms.is_empty() { String::new() } else { format!("; some dislike {}", some(forms.iter(), "")) };
    format!("{}; {allergens}{forms}", draft.rest.diet.word())
}

fn leftover_words(view: &View<'_>, draft: &DishDraft) -> String {
    match &draft.rest.leftover {
        Leftover::AsIs => "served again as it is".into(),
        Leftover::No => "eaten at once or not at all".into(),
        Leftover::Turned(into) => {
            let names = into.iter().map(|d| view.book.dish(d).map_or(d.as_str(), |d| d.name.as_str()));
            format!("turned into {}", some(names, "something else"))
        }
    }
}

fn use_ui(ui: &mut Ui, view: &View<'_>, draft: &mut DishDraft, faults: &[CheckFault]) {
    parts::quiet(ui, "It is for");
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
            if parts::choice(ui, family_name(family), &format!("Family: {family}"), has) {
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
    eating::one(ui, "Cut into", &mut draft.rest.cut, CutForm::ALL, CutForm::word);
}

fn figures_ui(ui: &mut Ui, draft: &mut DishDraft, faults: &[CheckFault]) {
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
    unit_ui(ui, "Comes in whole ones, a", "Whole unit", "roll", &mut draft.unit);
    faults_ui(ui, faults, &[About::Unit]);
}

/// What one whole unit is called and what it weighs: both or neither.
pub(super) fn unit_ui(ui: &mut Ui, label: &str, name: &str, hint: &str, unit: &mut [String; 2]) {
    let [word, mass] = unit;
    let none = word.trim().is_empty() && mass.trim().is_empty();
    let read = |t: &str| if none { Ok(0) } else { grams(t) };
    ui.horizontal_wrapped(|ui| {
        Field::new(label, word).name(name).hint(hint).width(180.0).show(ui);
        field(ui, "of so many grams", &format!("{name}, grams"), mass, 110.0, read);
    });
}

fn time_ui(ui: &mut Ui, draft: &mut DishDraft, faults: &[CheckFault]) {
    ui.horizontal_wrapped(|ui| {
        let [hands, total] = &mut draft.minutes;
        field(ui, "Minutes of hands", "Minutes of hands", hands, 110.0, minutes);
        field(ui, "Minutes in all", "Minutes in all", total, 110.0, minutes);
    });
    faults_ui(ui, faults, &[About::Minutes]);
    ui.horizontal_wrapped(|ui| {
        field(ui, "Safe for, in days", "Days it keeps", &mut draft.keeps, 110.0, days);
        let nice = |t: &str| or_nothing(t, days);
        field(ui, "Eats well, in days", "Days it eats well", &mut draft.nice, 110.0, nice);
    });
    faults_ui(ui, faults, &[About::Keeping]);
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
