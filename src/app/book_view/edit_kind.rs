//! The fields of a kind.

use super::{
    edit::{beside_ui, faults_ui},
    figure::{days, field, grams, or_nothing, thousandths},
    kind::block,
    kind_draft::{KindDraft, PartDraft, TrimDraft},
    words::{section, swatch},
};
use crate::{
    app::{
        marks::{Icon, Level},
        sheet::parts,
        theme::{self, TALL_TARGET},
        view::View,
        widget::{Button, Card, Field, IconButton},
    },
    book::{About, Allergen, CheckFault, Diet, Kind},
    quantity::State,
};
use egui::{Align, Color32, Layout, Margin, Sense, Ui, vec2};
use std::collections::BTreeSet;

/// The most trim shares, and the most parts, of one kind.
const MOST: usize = 12;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, draft: &mut KindDraft, faults: &[CheckFault]) {
    section(ui, "What it is");
    let name_fault = draft.name.trim().is_empty().then_some("Give it a name.");
    Field::new("Name", &mut draft.name).hint("savoy cabbage").width(420.0).error(name_fault).show(ui);
    if !draft.fresh && draft.covers && !draft.own {
        parts::chips_label(ui, "It stands");
        beside_ui(ui, &mut draft.beside);
    }
    parts::chips_label(ui, "Family: whose dishes suit it");
    let families: BTreeSet<&str> = view.book.kinds().map(|k| k.family.as_str()).collect();
    parts::flow(ui, |ui| {
        for family in families {
            if parts::choice(ui, family, &format!("Family: {family}"), draft.family == family) {
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
    shares_ui(ui, draft, faults);
    keeping_ui(ui, draft, faults);
    who_ui(ui, draft);
    section(ui, "Beware");
    Field::new("What to beware of, one a line", &mut draft.hazards).rows(3).width(f32::INFINITY).show(ui);
    section(ui, "Sources");
    Field::new("Where its figures come from, one a line", &mut draft.sources).rows(2).width(f32::INFINITY).show(ui);
    faults_ui(ui, faults, &[About::Sources, About::Other]);
}

fn colour_of(draft: &KindDraft) -> Color32 {
    parts::kind_colour(&Kind { colour: draft.colour.trim().trim_start_matches('#').into(), ..draft.rest.clone() })
}

fn shares_ui(ui: &mut Ui, draft: &mut KindDraft, faults: &[CheckFault]) {
    section(ui, "What is in it");
    block(ui, &draft.lots(), colour_of(draft));
    let sum = draft.sum();
    match sum {
        1_000 => parts::quiet(ui, "All shares together make 1,000 of 1,000.")
            .widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, "All shares together make 1,000 of 1,000.")),
        less if less < 1_000 => {
            parts::remark(ui, Level::Stop, &format!("All shares together make {less} of 1,000: {} are missing.", 1_000 - less));
        }
        more => {
            parts::remark(ui, Level::Stop, &format!("All shares together make {more} of 1,000: {} too many.", more - 1_000));
        }
    }
    let mut gone = None;
    for (at, part) in draft.parts.iter_mut().enumerate() {
        ui.push_id(("part", at), |ui| {
            Card::new().room(Margin::symmetric(12, 10)).fill_width().show(ui, |ui| {
                if part_ui(ui, at, part) {
                    gone = Some(at);
                }
            });
        });
    }
    if let Some(at) = gone {
        draft.parts.remove(at);
    }
    faults_ui(ui, faults, &[About::Parts]);
    if draft.parts.len() < MOST && ui.add(Button::quiet("One more part").icon(Icon::Plus)).clicked() {
        draft.parts.push(PartDraft::blank());
    }
    parts::chips_label(ui, "Trimmed away, in thousandths of what was bought");
    let mut gone = None;
    for (at, trim) in draft.trim.iter_mut().enumerate() {
        ui.push_id(("trim", at), |ui| {
            ui.horizontal_top(|ui| {
                Field::new("What", &mut trim.name)
                    .name(&format!("Trim {}", at + 1))
                    .label_hidden()
                    .hint("peel")
                    .width(260.0)
                    .show(ui);
                let error = thousandths(&trim.share).err();
                Field::new("Share", &mut trim.share)
                    .name(&format!("Trim {}, share", at + 1))
                    .label_hidden()
                    .hint("share")
                    .width(90.0)
                    .error(error.as_deref())
                    .show(ui);
                if ui.add(IconButton::new(Icon::Bin, &format!("Take trim {} out", at + 1)).side(TALL_TARGET)).clicked() {
                    gone = Some(at);
                }
            });
        });
    }
    if let Some(at) = gone {
        draft.trim.remove(at);
    }
    faults_ui(ui, faults, &[About::Shares]);
    if draft.trim.len() < MOST && ui.add(Button::quiet("One more loss").icon(Icon::Plus)).clicked() {
        draft.trim.push(TrimDraft::blank());
    }
}

/// One part; whether it is to go.
fn part_ui(ui: &mut Ui, at: usize, part: &mut PartDraft) -> bool {
    let nth = at + 1;
    let mut gone = false;
    ui.with_layout(Layout::right_to_left(Align::BOTTOM), |ui| {
        gone = ui.add(IconButton::new(Icon::Bin, &format!("Take part {nth} out")).side(TALL_TARGET)).clicked();
        ui.with_layout(Layout::left_to_right(Align::TOP), |ui| {
            let width = ui.available_width();
            Field::new("Part", &mut part.name).name(&format!("Part {nth}")).hint("heart").width(width).show(ui);
        });
    });
    ui.horizontal_wrapped(|ui| {
        field(ui, "Share of 1,000", &format!("Part {nth}, share"), &mut part.share, 110.0, thousandths);
        field(ui, "Keeps raw, days", &format!("Part {nth}, raw days"), &mut part.raw_days, 110.0, days);
        let nice = |t: &str| or_nothing(t, days);
        field(ui, "Eats well, days", &format!("Part {nth}, days it eats well"), &mut part.nice, 110.0, nice);
    });
    Field::new("Good for", &mut part.suits).name(&format!("Part {nth}, good for")).width(f32::INFINITY).show(ui);
    gone
}

fn keeping_ui(ui: &mut Ui, draft: &mut KindDraft, faults: &[CheckFault]) {
    section(ui, "How long it keeps");
    ui.horizontal_wrapped(|ui| {
        Field::new("The clock starts when it is", &mut draft.clock_starts).hint("cut").width(180.0).show(ui);
        field(ui, "Cooked it keeps, days", "Days cooked", &mut draft.cooked_days, 130.0, days);
        let nice = |t: &str| or_nothing(t, days);
        field(ui, "And eats well, days", "Days cooked it eats well", &mut draft.nice, 130.0, nice);
    });
    faults_ui(ui, faults, &[About::Keeping]);
    parts::chips_label(ui, "It is divided");
    parts::flow(ui, |ui| {
        for (state, words) in [(State::Prepared, "raw, once it is trimmed"), (State::Cooked, "after it was cooked whole")] {
            if parts::choice(ui, words, words, draft.rest.portioned == state) {
                draft.rest.portioned = state;
            }
        }
    });
}

fn who_ui(ui: &mut Ui, draft: &mut KindDraft) {
    section(ui, "Who may eat it");
    parts::flow(ui, |ui| {
        for diet in Diet::ALL {
            if parts::choice(ui, diet.word(), &format!("Diet: {}", diet.word()), draft.rest.diet == *diet) {
                draft.rest.diet = *diet;
            }
        }
    });
    parts::chips_label(ui, "Allergens that it carries itself");
    parts::flow(ui, |ui| {
        for allergen in Allergen::ALL {
            let has = draft.rest.allergens.contains(allergen);
            if parts::choice(ui, allergen.word(), &format!("Allergen: {}", allergen.word()), has) {
                let set = &draft.rest.allergens;
                let next = Allergen::ALL.iter().copied().filter(|a| if a == allergen { !has } else { set.contains(a) }).collect();
                draft.rest.allergens = next;
            }
        }
    });
    parts::chips_label(ui, "Limits for those who need care");
    parts::flow(ui, |ui| {
        if parts::choice(ui, "meat, poultry or fish", "meat, poultry or fish", draft.rest.animal) {
            draft.rest.animal = !draft.rest.animal;
        }
    });
}
