//! What to mend: findings, worst first, one sentence each, with their mends as buttons.

use super::{Bench, hand::named};
use crate::{
    app::{
        action::Action,
        marks::{self, Level},
        theme::{self, Lettering},
        view::{View, level_of, spoken},
        widget::{Button, Card, Field, level_head, sunk},
    },
    judge::{Finding, Mend, Severity},
    quantity::write_units,
    rotation::Edit,
};
use egui::{Id, Role, ScrollArea, Sense, Ui, UiBuilder};

pub fn ui(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    sunk(ui).show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        let palette = theme::palette(ui);
        ui.spacing_mut().item_spacing.y = 4.0;
        ui.label(Lettering::Head.text("What to mend").color(palette.ink));
        ui.add(egui::Label::new(Lettering::Small.text(count_words(view)).color(palette.soft)).wrap());
        ui.add_space(4.0);
        let findings = &view.judged.findings;
        if findings.iter().all(|f| !f.speaks()) {
            ui.add_space(4.0);
            let words = if view.rotation.batches.is_empty() {
                "Nothing is planned yet. Drag a part of the piece, or a dish, to a meal."
            } else {
                "Nothing to mend: it keeps, it is eaten up, and no two meals are too alike."
            };
            ui.add(egui::Label::new(Lettering::Body.text(words).color(palette.soft)).wrap());
        }
        ScrollArea::vertical().id_salt("findings").auto_shrink([false, false]).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 10.0;
            for (i, finding) in findings.iter().enumerate() {
                // The judges reckon in grams; the household reads its own measures.
                let own = said(view, finding);
                let finding = own.as_ref();
                let mends = view.mends.get(i).map_or(&[][..], Vec::as_slice);
                match finding.severity {
                    _ if !finding.speaks() => left_ui(ui, finding, actions),
                    Severity::Note if mends.is_empty() => note_ui(ui, finding, actions),
                    _ => finding_ui(ui, view, finding, mends, bench, actions),
                }
            }
        });
    });
}

/// A finding in the household's measures.
fn said<'f>(view: &View<'_>, finding: &'f Finding) -> std::borrow::Cow<'f, Finding> {
    match view.said(&finding.text) {
        std::borrow::Cow::Borrowed(_) => std::borrow::Cow::Borrowed(finding),
        std::borrow::Cow::Owned(text) => std::borrow::Cow::Owned(Finding { text, ..finding.clone() }),
    }
}

/// "1 warning, 1 note".
pub fn count_words(view: &View<'_>) -> String {
    let count = |severity| view.judged.findings.iter().filter(|f| f.speaks() && f.severity == severity).count();
    let words: Vec<String> = [
        (Severity::Stop, "stop", "stops"),
        (Severity::Warn, "warning", "warnings"),
        (Severity::Caution, "caution", "cautions"),
        (Severity::Note, "note", "notes"),
    ]
    .into_iter()
    .map(|(severity, one, many)| (count(severity), one, many))
    .filter(|(n, ..)| *n > 0)
    .map(|(n, one, many)| write_units(n, one, many))
    .collect();
    words.join(", ")
}

/// A note speaks quietly: its mark and one small sentence.
fn note_ui(ui: &mut Ui, finding: &Finding, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let colour = Level::Note.colour(palette);
    Card::new().fill_width().colour(palette.hair).room(egui::Margin::symmetric(12, 10)).show(ui, |ui| {
        ui.horizontal_top(|ui| {
            let (mark, _) = ui.allocate_exact_size(egui::vec2(18.0, 18.0), Sense::hover());
            marks::level(ui.painter(), mark, Level::Note, colour);
            let label =
                egui::Label::new(Lettering::Small.text(finding.text.as_str()).color(palette.ink)).wrap().sense(Sense::click());
            let words = ui.add(label);
            named(ui, &words, Role::ListItem, &spoken(&format!("{}: {}", finding.severity.word(), finding.text)));
            if words.clicked()
                && let Some(slot) = finding.meal
            {
                actions.push(Action::Select(Some(slot)));
            }
        });
    });
}

fn finding_ui(ui: &mut Ui, view: &View<'_>, finding: &Finding, mends: &[Mend], bench: &mut Bench, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let level = level_of(finding.severity);
    Card::of(level, palette).fill_width().show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 8.0;
        level_head(ui, level);
        let words =
            ui.add(egui::Label::new(Lettering::Body.text(finding.text.as_str()).color(palette.ink)).wrap().sense(Sense::click()));
        named(ui, &words, Role::ListItem, &spoken(&format!("{}: {}", finding.severity.word(), finding.text)));
        if words.clicked()
            && let Some(slot) = finding.meal
        {
            actions.push(Action::Select(Some(slot)));
        }
        for mend in mends {
            let (words, cost) = (view.said(&mend.words), view.said(&mend.cost));
            let name = spoken(&format!("Mend: {words}, {cost}"));
            let button = Button::mend(&words).detail(&cost).name(&name).fill_width();
            if ui.add(button).clicked() {
                actions.push(Action::Edit(mend.edit.clone()));
            }
        }
        if finding.may_overrule() {
            // Known by its finding alone: a mend that comes in above it must not take the keyboard from the reason.
            let id = Id::unique(("overrule", finding.key.0.clone()));
            ui.scope_builder(UiBuilder::new().scope_id(id), |ui| overrule(ui, finding, bench, actions));
        }
    });
}

/// Leaving a warning be asks for the reason, in one field.
fn overrule(ui: &mut Ui, finding: &Finding, bench: &mut Bench, actions: &mut Vec<Action>) {
    let asked = bench.reason.as_ref().is_some_and(|reason| reason.key == finding.key);
    if !asked {
        if ui.add(Button::plain("Leave it be…").name(&spoken(&format!("Leave it be: {}", finding.text)))).clicked() {
            actions.push(Action::AskReason(finding.key.clone()));
        }
        return;
    }
    let mut close = false;
    if let Some(reason) = &mut bench.reason {
        let field = Field::new("Why? It will not be said again.", &mut reason.text).hint("birthday request").width(f32::INFINITY);
        let response = field.show(ui);
        let entered = response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
        if std::mem::take(&mut reason.fresh) {
            response.request_focus();
        }
        let said = !reason.text.trim().is_empty();
        ui.horizontal(|ui| {
            let leave = ui.add_enabled_ui(said, |ui| ui.add(Button::quiet("Leave it be"))).inner.clicked();
            if (leave || entered) && said {
                actions.push(Action::Edit(Edit::Overrule { finding: reason.key.clone(), reason: reason.text.clone() }));
                close = true;
            }
            close |= ui.add(Button::plain("Cancel").name("Cancel leaving it be")).clicked();
        });
        close |= response.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Escape));
    }
    if close {
        bench.reason = None;
    }
}

/// A warning that was left be: quiet, but it can speak again.
fn left_ui(ui: &mut Ui, finding: &Finding, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    Card::new().fill_width().colour(palette.hair).ground(palette.sunk).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 6.0;
        let reason = finding.overruled.as_deref().unwrap_or("");
        let words = ui.add(egui::Label::new(Lettering::Small.text(finding.text.as_str()).color(palette.soft)).wrap());
        named(ui, &words, Role::ListItem, &spoken(&format!("Left be, {reason}: {}", finding.text)));
        ui.add(egui::Label::new(Lettering::SmallStrong.text(format!("Left be: {reason}")).color(palette.soft)).wrap());
        if ui.add(Button::plain("Let it speak again").name(&format!("Let it speak again: {}", finding.text))).clicked() {
            actions.push(Action::Edit(Edit::TakeBackOverrule(finding.key.clone())));
        }
    });
}
