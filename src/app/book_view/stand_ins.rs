//! Writing which kinds can take a kind's place, and what that changes in time.

use super::{
    edit::faults_ui,
    figure::{minutes_by, note_unread},
    fold::some,
    kind_draft::KindDraft,
    kind_rows::StandInDraft,
    made_from::chosen_line,
    picker::{line_word, menu, search, with_bin},
};
use crate::{
    app::{
        marks::Icon,
        sheet::parts,
        theme::TALL_TARGET,
        view::View,
        widget::{Card, Field, IconButton},
    },
    book::{About, CheckFault, KindId, Method, minutes_words},
};
use egui::{Margin, Ui};

/// One line of it.
pub(super) fn words(view: &View<'_>, draft: &KindDraft) -> String {
    some(draft.stand_ins.iter().map(|s| name(view, &s.kind)), "nothing yet")
}

fn name<'a>(view: &'a View<'_>, id: &'a KindId) -> &'a str {
    view.book.kind(id).map_or(id.as_str(), |k| k.name.as_str())
}

/// What is to be done with one of them.
enum Wish {
    Up,
    Out,
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, draft: &mut KindDraft, faults: &[CheckFault]) {
    parts::quiet(
        ui,
        "Nearest first. Minutes are said where a way of cooking takes longer, or less (below 0), than it does here.",
    );
    let mut wish = None;
    for (at, stand_in) in draft.stand_ins.iter_mut().enumerate() {
        let name = name(view, &stand_in.kind).to_string();
        parts::steady(ui, ("stand-in", stand_in.kind.as_str().to_string()), |ui| {
            Card::new().room(Margin::symmetric(12, 10)).fill_width().show(ui, |ui| {
                if let Some(what) = stand_in_ui(ui, &name, at, stand_in) {
                    wish = Some((at, what));
                }
            });
        });
    }
    match wish {
        Some((at, Wish::Out)) => drop(draft.stand_ins.remove(at)),
        Some((at, Wish::Up)) if at > 0 => draft.stand_ins.swap(at, at - 1),
        _ => {}
    }
    let own = (!draft.stands_alone()).then_some(&draft.rest.id);
    let there = |id: &KindId| Some(id) == own || draft.stand_ins.iter().any(|s| s.kind == *id);
    let kinds = view.book.kinds().filter(|k| !there(&k.id));
    let offered: Vec<(KindId, &str)> = kinds.map(|k| (k.id.clone(), k.name.as_str())).collect();
    if let Some(id) = search(ui, "Search for a kind that can stand in", &offered) {
        draft.stand_ins.push(StandInDraft::blank(id));
    }
    faults_ui(ui, faults, &[About::StandIns]);
}

fn stand_in_ui(ui: &mut Ui, name: &str, at: usize, stand_in: &mut StandInDraft) -> Option<Wish> {
    let mut wish = None;
    let out = with_bin(ui, &format!("Take {name} out of what can stand in"), false, |ui, width| {
        chosen_line(ui, name, width - TALL_TARGET - ui.spacing().item_spacing.x);
        let words = format!("Move {name} nearer");
        if ui.add_enabled(at > 0, IconButton::new(Icon::ChevronUp, &words).side(TALL_TARGET)).clicked() {
            wish = Some(Wish::Up);
        }
    });
    if out {
        wish = Some(Wish::Out);
    }
    let mut gone = None;
    for (at, (method, by)) in stand_in.minutes.iter_mut().enumerate() {
        let word = method.word();
        let read = minutes_by(by);
        let bin = with_bin(ui, &format!("Take {word} out of {name}"), false, |ui, _| {
            line_word(ui, word);
            let said = format!("{}, {word}, minutes", crate::rotation::capital(name));
            let field = Field::new("Minutes", by).name(&said);
            field.label_hidden().width(90.0).error(read.as_ref().err().map(String::as_str)).show(ui);
            note_unread(ui, minutes_by(by).is_err());
            if let Ok(by) = read {
                line_word(ui, &minutes_words(by));
            }
        });
        if bin {
            gone = Some(at);
        }
    }
    if let Some(at) = gone {
        stand_in.minutes.remove(at);
    }
    let there = |m: Method| stand_in.minutes.iter().any(|n| n.0 == m);
    let free: Vec<(Method, &str)> = Method::ALL.iter().filter(|m| !there(**m)).map(|m| (*m, m.word())).collect();
    if let Some(method) = menu(ui, "What takes longer, or less", &format!("What takes longer, or less, with {name}"), &free) {
        stand_in.minutes.push((method, String::new()));
    }
    wish
}
