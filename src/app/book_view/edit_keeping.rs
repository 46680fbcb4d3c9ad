//! Writing how long a piece keeps: unopened, cut and raw, cooked; safe and nice apart.

use super::{
    edit::faults_ui,
    figure::{days, field, note_unread, or_nothing, store_days},
    kind_draft::KindDraft,
    kind_rows::{CutDraft, WholeDraft},
    picker::{line_word, menu, with_bin},
};
use crate::{
    app::{
        marks::Icon,
        sheet::parts,
        widget::{Button, Card, Field},
    },
    book::{About, CheckFault, CutForm},
    quantity::State,
};
use egui::{Margin, Ui};

/// The most places of one kind.
const MOST: usize = 8;

/// One line of it.
pub(super) fn words(draft: &KindDraft) -> String {
    let nice = draft.nice.trim();
    let nice = if nice.is_empty() { String::new() } else { format!(", nice for {nice}") };
    format!("from when it is {}; cooked {} days{nice}", draft.clock_starts.trim(), draft.cooked_days.trim())
}

pub(super) fn ui(ui: &mut Ui, draft: &mut KindDraft, faults: &[CheckFault]) {
    parts::quiet(ui, "It is divided");
    parts::flow(ui, |ui| {
        for (state, words) in [(State::Prepared, "raw, once it is trimmed"), (State::Cooked, "after it was cooked whole")] {
            if parts::choice(ui, words, words, draft.rest.portioned == state) {
                draft.rest.portioned = state;
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        Field::new("The clock starts when it is", &mut draft.clock_starts).hint("cut").width(180.0).show(ui);
        field(ui, "Cooked, safe for days", "Days cooked", &mut draft.cooked_days, 140.0, days);
        let nice = |t: &str| or_nothing(t, days);
        field(ui, "Cooked, eats well days", "Days cooked it eats well", &mut draft.nice, 150.0, nice);
    });
    faults_ui(ui, faults, &[About::Keeping]);
    cuts_ui(ui, draft);
    faults_ui(ui, faults, &[About::CutForms]);
    whole_ui(ui, draft);
    faults_ui(ui, faults, &[About::Whole]);
}

/// Raw cut forms that keep shorter than the wrapped part.
fn cuts_ui(ui: &mut Ui, draft: &mut KindDraft) {
    parts::chips_label(ui, "Cut and raw, where that keeps shorter than the wrapped part: safe days from the cut to the meal");
    let mut gone = None;
    for (at, cut) in draft.cut_forms.iter_mut().enumerate() {
        let word = cut.form.word();
        let bin = with_bin(ui, &format!("Take {word} out of what keeps cut"), false, |ui, _| {
            line_word(ui, word);
            let error = days(&cut.days).err();
            let name = format!("Cut in {word}, raw days");
            let field = Field::new("Days", &mut cut.days).name(&name).label_hidden();
            field.width(90.0).error(error.as_deref()).show(ui);
            note_unread(ui, days(&cut.days).is_err());
        });
        if bin {
            gone = Some(at);
        }
    }
    if let Some(at) = gone {
        draft.cut_forms.remove(at);
    }
    let free = forms(|form| draft.cut_forms.iter().any(|c| c.form == form));
    if let Some(form) = menu(ui, "One more cut form", "One more cut form", &free) {
        draft.cut_forms.push(CutDraft::blank(form));
    }
}

/// Cut forms that are not yet there, with their words.
pub(super) fn forms(is_there: impl Fn(CutForm) -> bool) -> Vec<(CutForm, &'static str)> {
    CutForm::ALL.iter().copied().filter(|f| !is_there(*f)).map(|f| (f, f.word())).collect()
}

/// The unopened piece, place by place.
fn whole_ui(ui: &mut Ui, draft: &mut KindDraft) {
    parts::chips_label(ui, "Unopened, by the place where it lies");
    let mut gone = None;
    for (at, whole) in draft.whole.iter_mut().enumerate() {
        let nth = at + 1;
        parts::steady(ui, ("whole", at), |ui| {
            Card::new().room(Margin::symmetric(12, 10)).fill_width().show(ui, |ui| {
                let bin = with_bin(ui, &format!("Take place {nth} out"), true, |ui, width| {
                    let name = format!("Place {nth}");
                    let place = Field::new("Place", &mut whole.place).name(&name);
                    place.hint("cool store 0-5 C").width(width).show(ui);
                });
                if bin {
                    gone = Some(at);
                }
                ui.horizontal_wrapped(|ui| {
                    let [least, most] = &mut whole.days;
                    field(ui, "From, days", &format!("Place {nth}, least days"), least, 90.0, store_days);
                    field(ui, "To, days", &format!("Place {nth}, most days"), most, 90.0, store_days);
                    super::figure::break_row(ui, 220.0);
                    let width = ui.available_width().max(160.0);
                    let name = format!("Place {nth}, source");
                    let source = Field::new("Source", &mut whole.source).name(&name);
                    source.width(width).show(ui);
                });
            });
        });
    }
    if let Some(at) = gone {
        draft.whole.remove(at);
    }
    if draft.whole.len() < MOST && ui.add(Button::quiet("One more place").icon(Icon::Plus)).clicked() {
        draft.whole.push(WholeDraft::blank());
    }
}
