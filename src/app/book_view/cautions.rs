//! Writing what to say when a dish is planned, and for whom.

use super::{dish_draft::DishDraft, edit::faults_ui, picker::with_bin, twin_draft::CautionDraft};
use crate::{
    app::{
        marks::Icon,
        sheet::parts,
        widget::{Button, Card, Field},
    },
    book::{About, Care, CheckFault},
};
use egui::{Margin, Ui};

/// The most cautions of one dish.
const MOST: usize = 12;

pub(super) fn ui(ui: &mut Ui, draft: &mut DishDraft, faults: &[CheckFault]) {
    let mut gone = None;
    for (at, caution) in draft.cautions.iter_mut().enumerate() {
        parts::steady(ui, ("caution", at), |ui| {
            Card::new().room(Margin::symmetric(12, 10)).fill_width().show(ui, |ui| {
                if caution_ui(ui, at + 1, caution) {
                    gone = Some(at);
                }
            });
        });
    }
    if let Some(at) = gone {
        draft.cautions.remove(at);
    }
    faults_ui(ui, faults, &[About::Cautions]);
    if draft.cautions.len() < MOST && ui.add(Button::quiet("One more caution").icon(Icon::Plus)).clicked() {
        draft.cautions.push(CautionDraft::blank());
    }
}

/// One caution; whether it is to go.
fn caution_ui(ui: &mut Ui, nth: usize, caution: &mut CautionDraft) -> bool {
    let gone = with_bin(ui, &format!("Take caution {nth} out"), true, |ui, width| {
        Field::new("What to say, in one sentence", &mut caution.text)
            .name(&format!("Caution {nth}"))
            .hint("The yolk is raw: not for those who need care.")
            .rows(2)
            .width(width)
            .show(ui);
    });
    parts::chips_label(ui, "For whom; none pressed is everybody");
    parts::flow(ui, |ui| {
        for care in Care::ALL {
            let has = caution.for_whom.contains(care);
            if parts::choice(ui, care.word(), &format!("Caution {nth}, for: {}", care.word()), has) {
                let set = &caution.for_whom;
                let next = Care::ALL.iter().copied().filter(|c| if c == care { !has } else { set.contains(c) }).collect();
                caution.for_whom = next;
            }
        }
    });
    Field::new("Where it comes from", &mut caution.source).name(&format!("Caution {nth}, source")).width(f32::INFINITY).show(ui);
    gone
}
