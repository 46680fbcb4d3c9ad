//! The steps of a recipe, with what is proposed for each.

use super::brief;
use crate::{
    app::{
        book_view::words::{number, section},
        sheet::parts,
        theme::{self, Lettering, SMALL_STEP},
    },
    exchange::{DishProposal, ReadRecipe, place_word},
};
use egui::{Label, Ui};

/// The most that is shown of a step.
const MOST: usize = 1_000;
/// For how many the minutes of the book's dishes are.
const FOR_FOUR: f64 = 4.0;

pub(super) fn ui(ui: &mut Ui, recipe: &ReadRecipe, heads: Option<f64>, proposal: Option<&DishProposal>) {
    section(ui, "How it is made");
    if recipe.steps.is_empty() {
        parts::quiet(ui, "The page lists no steps.");
    } else {
        parts::quiet(ui, "Minutes where the text states them; hands and place are proposed from words.");
    }
    if let Some(heads) = heads.filter(|h| *h != FOR_FOUR && !recipe.steps.is_empty()) {
        parts::quiet(ui, format!("They are those of the page, for {}; the book reckons minutes for four.", number(heads)));
    }
    let palette = theme::palette(ui);
    for (at, text) in recipe.steps.iter().enumerate() {
        for (_, name) in recipe.sections.iter().filter(|(first, _)| *first == at) {
            ui.add(Label::new(Lettering::SmallStrong.text(brief(name, 120)).color(palette.soft)).wrap());
        }
        ui.add_space(SMALL_STEP);
        let words = format!("{}. {}", at + 1, brief(text, MOST));
        ui.add(Label::new(Lettering::Body.text(words).color(palette.ink)).wrap());
        if let Some(step) = proposal.and_then(|p| p.steps.get(at)) {
            let minutes = step.minutes.map_or_else(|| "minutes open".into(), |m| format!("{m}\u{a0}min"));
            let hands = if step.hands { "hands busy" } else { "hands free" };
            let said = format!("{minutes} · {hands} · {}", place_word(step.place));
            parts::quiet(ui, format!("Proposed: {said} ({})", step.because.join("; ")));
        }
    }
}
