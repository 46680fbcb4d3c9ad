//! Writing what comes of a piece: cooked grams by method, and what a cup of it weighs.

use super::{
    edit::faults_ui,
    edit_keeping::forms,
    figure::{field, note_unread, or_nothing, some_amount, thousandths},
    fold::some,
    kind_draft::KindDraft,
    kind_rows::{CupDraft, YieldDraft},
    picker::{line_word, menu, with_bin},
};
use crate::{
    app::{sheet::parts, widget::Field},
    book::{About, CheckFault, Method},
};
use egui::Ui;

/// One line of it.
pub(super) fn words(draft: &KindDraft) -> String {
    let yields = draft.yields.iter().map(|y| format!("{} {}", y.method.word(), y.share.trim()));
    let cup = draft.cup.trim();
    let cup = if cup.is_empty() { String::new() } else { format!("; a cup {cup} g") };
    format!("{}{cup}", some(yields, "no yields told"))
}

pub(super) fn ui(ui: &mut Ui, draft: &mut KindDraft, faults: &[CheckFault]) {
    parts::quiet(ui, "Cooked grams from 1,000 prepared, by the way it is cooked, and where that figure comes from");
    let mut gone = None;
    for (at, made) in draft.yields.iter_mut().enumerate() {
        let word = made.method.word();
        if row_ui(ui, word, &format!("{word}, yield"), "yields", &mut made.share, &mut made.source, |t| {
            thousandths(t).map(|_| ())
        }) {
            gone = Some(at);
        }
    }
    if let Some(at) = gone {
        draft.yields.remove(at);
    }
    let free: Vec<(Method, &str)> =
        Method::ALL.iter().filter(|m| !draft.yields.iter().any(|y| y.method == **m)).map(|m| (*m, m.word())).collect();
    if let Some(method) = menu(ui, "One more way of cooking", "One more way of cooking", &free) {
        draft.yields.push(YieldDraft::blank(method));
    }
    faults_ui(ui, faults, &[About::Yields]);
    let cup = |t: &str| or_nothing(t, some_amount);
    parts::chips_label(ui, "A level US cup, so that cups can be typed");
    field(ui, "Grams of the commonest cut form", "Grams in a cup", &mut draft.cup, 140.0, cup);
    let mut gone = None;
    for (at, cup) in draft.cups.iter_mut().enumerate() {
        let word = cup.form.word();
        if row_ui(ui, word, &format!("{word}, grams in a cup"), "cups", &mut cup.grams, &mut cup.source, |t| {
            some_amount(t).map(|_| ())
        }) {
            gone = Some(at);
        }
    }
    if let Some(at) = gone {
        draft.cups.remove(at);
    }
    let free = forms(|form| draft.cups.iter().any(|c| c.form == form));
    if let Some(form) = menu(ui, "A cup of another cut form", "A cup of another cut form", &free) {
        draft.cups.push(CupDraft::blank(form));
    }
    faults_ui(ui, faults, &[About::Cups]);
}

/// A figure with its word and its source; whether it is to go.
fn row_ui(
    ui: &mut Ui,
    word: &str,
    name: &str,
    out_of: &str,
    figure: &mut String,
    source: &mut String,
    read: impl Fn(&str) -> Result<(), String>,
) -> bool {
    let error = read(figure).err();
    let name = crate::rotation::capital(name);
    parts::steady(ui, (out_of, word), |ui| {
        let gone = with_bin(ui, &format!("Take {word} out of the {out_of}"), false, |ui, width| {
            let left = ui.cursor().left();
            line_word(ui, word);
            Field::new("Figure", figure).name(&name).label_hidden().width(90.0).show(ui);
            note_unread(ui, read(figure).is_err());
            let rest = (width - (ui.cursor().left() - left)).max(80.0);
            Field::new("Source", source).name(&format!("{name}, source")).label_hidden().hint("source").width(rest).show(ui);
        });
        if let Some(error) = error {
            parts::remark(ui, crate::app::marks::Level::Stop, &error);
        }
        gone
    })
}
