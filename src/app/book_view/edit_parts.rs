//! Writing what is in a piece: its parts and what is trimmed away.

use super::{
    edit::faults_ui,
    edit_dish::unit_ui,
    edit_kind::colour_of,
    figure::{days, field, note_unread, or_nothing, thousandths},
    kind::block,
    kind_draft::KindDraft,
    kind_rows::{PartDraft, TrimDraft},
    picker::with_bin,
};
use crate::{
    app::{
        marks::{Icon, Level},
        sheet::parts,
        widget::{Button, Card, Field},
    },
    book::{About, CheckFault},
};
use egui::{Margin, Ui};

/// The most trim shares, and the most parts, of one kind.
const MOST: usize = 12;

pub(super) fn ui(ui: &mut Ui, draft: &mut KindDraft, faults: &[CheckFault]) {
    block(ui, &draft.lots(), colour_of(draft));
    sum_ui(ui, draft.sum());
    let mut gone = None;
    for (at, part) in draft.parts.iter_mut().enumerate() {
        parts::steady(ui, ("part", at), |ui| {
            Card::new().room(Margin::symmetric(12, 10)).fill_width().show(ui, |ui| {
                if part_ui(ui, at + 1, part) {
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
    trim_ui(ui, draft);
    faults_ui(ui, faults, &[About::Shares]);
}

fn sum_ui(ui: &mut Ui, sum: u32) {
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
}

/// One part; whether it is to go.
fn part_ui(ui: &mut Ui, nth: usize, part: &mut PartDraft) -> bool {
    let gone = with_bin(ui, &format!("Take part {nth} out"), true, |ui, width| {
        Field::new("Part", &mut part.name).name(&format!("Part {nth}")).hint("heart").width(width).show(ui);
    });
    ui.horizontal_wrapped(|ui| {
        field(ui, "Share of 1,000", &format!("Part {nth}, share"), &mut part.share, 110.0, thousandths);
        field(ui, "Raw, safe for days", &format!("Part {nth}, raw days"), &mut part.raw_days, 120.0, days);
        let nice = |t: &str| or_nothing(t, days);
        field(ui, "Eats well, days", &format!("Part {nth}, days it eats well"), &mut part.nice, 120.0, nice);
    });
    Field::new("Good for", &mut part.suits).name(&format!("Part {nth}, good for")).width(f32::INFINITY).show(ui);
    unit_ui(ui, "Comes in whole ones, a", &format!("Part {nth}, whole unit"), "leaf", &mut part.unit);
    gone
}

fn trim_ui(ui: &mut Ui, draft: &mut KindDraft) {
    parts::chips_label(ui, "Trimmed away, in thousandths of what was bought");
    let mut gone = None;
    for (at, trim) in draft.trim.iter_mut().enumerate() {
        let nth = at + 1;
        parts::steady(ui, ("trim", at), |ui| {
            let bin = with_bin(ui, &format!("Take trim {nth} out"), false, |ui, width| {
                let (name, share_name) = (format!("Trim {nth}"), format!("Trim {nth}, share"));
                let what = Field::new("What", &mut trim.name).name(&name).label_hidden().hint("peel");
                what.width((width - 98.0).min(360.0)).show(ui);
                let error = thousandths(&trim.share).err();
                let share = Field::new("Share", &mut trim.share).name(&share_name).label_hidden();
                share.hint("share").width(90.0).error(error.as_deref()).show(ui);
                note_unread(ui, thousandths(&trim.share).is_err());
            });
            if bin {
                gone = Some(at);
            }
        });
    }
    if let Some(at) = gone {
        draft.trim.remove(at);
    }
    if draft.trim.len() < MOST && ui.add(Button::quiet("One more loss").icon(Icon::Plus)).clicked() {
        draft.trim.push(TrimDraft::blank());
    }
    ui.horizontal_wrapped(|ui| {
        let [least, most] = &mut draft.trim_range;
        let none = least.trim().is_empty() && most.trim().is_empty();
        let read = |t: &str| if none { Ok(None) } else { thousandths(t).map(Some) };
        field(ui, "Where pieces differ, least", "All trim, least", least, 170.0, read);
        field(ui, "and most of all trim", "All trim, most", most, 170.0, read);
    });
}
