//! What was eaten before this plan, and what the words said of it have taught.

use super::change;
use crate::{
    app::{
        action::Action,
        marks::Icon,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::View,
        widget::IconButton,
    },
    quantity::write_units,
    rotation::{AtTable, EatenMeal, Heard, JournalChange, capital},
};
use egui::{Align, Layout, Ui};
use std::collections::BTreeMap;

/// The most lines that are drawn; older ones are counted.
const MOST: usize = 120;

/// What was learned of all that was said.
pub(super) fn taught(ui: &mut Ui, view: &View<'_>) {
    let palette = theme::palette(ui);
    ui.spacing_mut().item_spacing.y = STEP / 2.0;
    ui.label(Lettering::Head.text("What it has taught").color(palette.ink));
    let learned = view.hearth.learned();
    parts::plain(ui, learned.standing_words());
    for says in learned.says() {
        parts::plain(ui, format!("{}.", capital(&says)));
    }
    parts::quiet(
        ui,
        "\u{201c}Too alike\u{201d}, \u{201c}fine\u{201d} and \u{201c}gladly again\u{201d} are heard beside the meal before; a meal eaten \
         without a word counts a quarter of a \u{201c}fine\u{201d}, once anything was said. \u{201c}Not soon\u{201d} keeps a dish off \
         that eater's plate for six weeks, \u{201c}not again\u{201d} until a kinder word; both are said when you plan it.",
    );
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    ui.spacing_mut().item_spacing.y = STEP / 2.0;
    ui.label(Lettering::Head.text("Eaten before").color(palette.ink));
    let first = view.rotation.first_day;
    let last = view.rotation.date(view.rotation.last_day());
    let mut before: Vec<&EatenMeal> = view.hearth.eaten().iter().filter(|m| m.on < first || m.on > last).collect();
    if before.is_empty() {
        parts::quiet(ui, "Nothing yet. What you write down at the left stays here for the plans to come.");
        return;
    }
    before.sort_by_key(|m| std::cmp::Reverse(m.on));
    let wasted: u32 = before.iter().filter_map(|m| m.wasted).map(|w| w.get()).sum();
    if wasted > 0 {
        parts::quiet(ui, format!("In all {} thrown away.", view.grams(wasted)));
    }
    // Lines of one dish at one meal are one entry, with each word beside whose it is.
    let mut entries: Vec<(AtTable, Vec<&EatenMeal>)> = Vec::new();
    let mut places: BTreeMap<(jiff::civil::Date, &str, &str), usize> = BTreeMap::new();
    for meal in before {
        let place = *places.entry((meal.on, &meal.mealtime, &meal.name)).or_insert_with(|| {
            entries.push((AtTable::of(meal), Vec::new()));
            entries.len() - 1
        });
        entries[place].1.push(meal);
    }
    for (of, lines) in entries.iter().take(MOST) {
        ui.horizontal(|ui| {
            let width = (ui.available_width() - 40.0).max(80.0);
            ui.vertical(|ui| {
                ui.set_width(width);
                ui.spacing_mut().item_spacing.y = 0.0;
                ui.add(egui::Label::new(Lettering::Dish.text(of.dish.as_str()).color(palette.ink)).truncate());
                let words: Vec<String> = lines.iter().map(|l| said(l, lines.len() > 1)).collect();
                parts::quiet(ui, format!("{}, {}: {}", of.on, of.mealtime, words.join("; ")));
            });
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let name = format!("Strike out: {}", of.words());
                if ui.add(IconButton::new(Icon::Close, &name).hint("Strike it out")).clicked() {
                    change(actions, vec![JournalChange::Strike(of.clone())]);
                }
            });
        });
    }
    if entries.len() > MOST {
        parts::quiet(ui, format!("and {} before them", write_units(entries.len() - MOST, "meal", "meals")));
    }
}

/// "Asta, Kim: fine", or the bare word where there is one line alone.
fn said(line: &EatenMeal, whose: bool) -> String {
    let word = line.heard.map_or("no word", Heard::words);
    let wasted = line.wasted.map(|w| format!(", {} g thrown away", w.get())).unwrap_or_default();
    match whose && !line.eaters.is_empty() {
        true => format!("{}: {word}{wasted}", line.eaters.join(", ")),
        false => format!("{word}{wasted}"),
    }
}
