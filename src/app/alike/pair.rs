//! Two meals side by side, axis by axis: the shares add up to the whole, to the last spoon.

use super::figure::bar;
use crate::{
    app::{
        action::Action,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::{View, level_of_verdict, verdict_words},
        widget::{Button, Chip},
    },
    judge::{LINE_CAUTION, LINE_WARN, LikenessTable},
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
    let most = pair.shares.iter().map(|s| s.share).fold(0.01, f64::max);
    for share in &pair.shares {
        let words = if share.words.is_empty() { share.axis.word() } else { share.words.as_str() };
        bar(ui, &format!("{}: {words}", share.axis.word()), &format!("{:.2}", share.share), share.share / most);
    }
    parts::quiet(
        ui,
        format!(
            "The shares add up to the whole. Felt at {LINE_CAUTION:.2} and over it is getting alike, at {LINE_WARN:.2} and over too \
             alike. What is not said of a dish is left out, and the piece itself never counts."
        ),
    );
}
