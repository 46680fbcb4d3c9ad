//! Two meals side by side, axis by axis: the shares add up to the whole, to the last spoon.

use super::figure::bar;
use crate::{
    app::{
        action::Action,
        hearth::HabitChange,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::{View, level_of_verdict, verdict_words},
        widget::{Button, Chip},
    },
    judge::{LikenessTable, Verdict, learning::Said},
};
use egui::Ui;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, table: &LikenessTable, (i, j): (usize, usize), actions: &mut Vec<Action>) {
    let Some(pair) = table.pair(i, j) else { return };
    let palette = theme::palette(ui);
    ui.spacing_mut().item_spacing.y = STEP / 2.0;
    let r = view.rotation;
    for (place, slot) in [(i, pair.first), (j, pair.second)] {
        let when = r.slot_name(slot);
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            ui.label(Lettering::SmallStrong.text(&when).color(palette.soft));
            let dish = &table.meals[place].dish;
            ui.add(egui::Label::new(Lettering::Dish.text(dish).color(palette.ink)).wrap());
        });
    }
    ui.add_space(STEP / 2.0);
    let level = level_of_verdict(pair.verdict);
    ui.horizontal(|ui| {
        ui.add(Chip::new(verdict_words(pair.verdict)).level(level));
        if let Some(whole) = pair.likeness {
            ui.label(Lettering::Strong.text(format!("{whole:.2} alike")).color(palette.ink));
            let days = table.days_between(i, j).unwrap_or(0);
            if let Some(felt) = pair.felt.filter(|felt| (felt - whole).abs() > 0.005) {
                let words = format!("{days} days apart it is felt as {felt:.2}");
                ui.add(egui::Label::new(Lettering::Small.text(words).color(palette.soft)).truncate());
            }
        }
    });
    if ui.add(Button::quiet("Look at the later meal on the bench")).clicked() {
        actions.push(Action::Turn(crate::app::book_view::Page::Bench));
        actions.push(Action::Select(Some(pair.second)));
        actions.push(Action::Say(format!("{} is selected: the shelf shows dishes for it", r.slot_name(pair.second))));
    }
    answers_ui(ui, view, table, (i, j), actions);
    let most = pair.shares.iter().map(|s| s.share).fold(0.01, f64::max);
    for share in &pair.shares {
        let words = if share.words.is_empty() { share.axis.word() } else { share.words.as_str() };
        bar(ui, &format!("{}: {words}", share.axis.word()), &format!("{:.2}", share.share), share.share / most);
    }
    let lines = view.hearth.home().patience.lines;
    parts::quiet(
        ui,
        format!(
            "The shares add up to the whole. Felt at {:.2} and over it is getting alike, at {:.2} and over too \
             alike. What is not said of a dish is left out, and the piece itself never counts.",
            lines.caution, lines.warn
        ),
    );
}

/// What this household says of the two: it teaches the judges, and can be taken back.
fn answers_ui(ui: &mut Ui, view: &View<'_>, table: &LikenessTable, (i, j): (usize, usize), actions: &mut Vec<Action>) {
    let Some(two) = table.two_meals(i, j) else { return };
    if let Some(answer) = view.hearth.answer_on(&two) {
        let verdict = if matches!(answer.said, Said::TooAlike(_)) { Verdict::Warn } else { Verdict::Fine };
        ui.horizontal(|ui| {
            parts::quiet(ui, format!("You said: {}.", verdict_words(verdict)));
            if ui.add(Button::plain("Take it back")).clicked() {
                actions.push(Action::Habit(HabitChange::TakeBack(answer.id)));
            }
        });
        return;
    }
    parts::quiet(ui, "What does your household say of the two?");
    ui.horizontal(|ui| {
        let today = jiff::ZonedDateTime::now().date();
        if ui.add(Button::quiet("Too alike")).clicked() {
            actions.push(Action::Habit(HabitChange::Said(today, Box::new(Said::TooAlike(two.clone())))));
        }
        if ui.add(Button::quiet("Fine")).clicked() {
            actions.push(Action::Habit(HabitChange::Said(today, Box::new(Said::Fine(two)))));
        }
    });
}
