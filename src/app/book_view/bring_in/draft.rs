//! A proposal as a draft in the dish book's editor.

use super::choices::Choices;
use crate::{
    app::book_view::{
        company_draft::{CompanionDraft, StepDraft},
        dish_draft::DishDraft,
        figure::{shown, shown_amount},
    },
    book::{Book, Dish},
    exchange::{DishProposal, ProposedCompanion, ProposedStep, ReadRecipe},
};

/// The dish that a recipe is proposed as, to be written on; nothing without a kind.
pub(super) fn draft_of(recipe: &ReadRecipe, choices: &mut Choices, from: &str, book: &Book) -> Option<DishDraft> {
    let proposal = choices.proposal(recipe, book)?;
    let mut draft = begun(DishDraft::blank(choices.kind()?).rest, &proposal);
    fill(&mut draft, &proposal);
    draft.sources = one_line(&format!("brought in from the saved page {from}: {}", proposal.name));
    Some(draft)
}

/// A draft of a new dish with what is chosen rather than typed, and the cautions.
fn begun(blank: Dish, p: &DishProposal) -> DishDraft {
    let dish = Dish {
        profile: p.profile(),
        state: p.grams.as_ref().map_or(blank.state, |one| one.state),
        cut: p.cut.as_ref().map(|c| c.value),
        cooked: p.cooked.value,
        allergens: p.allergens.iter().map(|(allergen, _)| *allergen).collect(),
        diet: p.diet,
        cautions: p.cautions.clone(),
        ..blank
    };
    DishDraft { fresh: true, ..DishDraft::of(&dish, false, false) }
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn fill(draft: &mut DishDraft, p: &DishProposal) {
    draft.name = p.name.clone();
    draft.grams = match &p.grams {
        Ok(one) => [one.grams.0, one.grams.1, one.grams.2].map(|g| g.to_string()),
        Err(_) => Default::default(),
    };
    draft.yields = shown(p.yields.as_ref().map(|y| y.value.get()));
    draft.keeps = shown(p.keeps.as_ref().map(|k| k.value.0));
    draft.minutes = [shown(p.hands.as_ref().map(|m| m.value)), shown(p.total.as_ref().map(|m| m.value))];
    draft.oven = [shown(p.oven.as_ref().map(|o| o.value)), String::new(), String::new()];
    draft.companions = p.companions.iter().map(companion).collect();
    draft.steps = if p.steps.is_empty() { vec![StepDraft::blank()] } else { p.steps.iter().map(step).collect() };
}

fn companion(c: &ProposedCompanion) -> CompanionDraft {
    CompanionDraft {
        name: c.name.clone(),
        per_unit: c.per_unit.map_or_else(String::new, shown_amount),
        measure: c.measure,
        pack: shown(c.pack),
        pack_word: c.pack_word.clone().unwrap_or_default(),
        opened: shown(c.opened_days.map(|d| d.0)),
        ..CompanionDraft::blank()
    }
}

fn step(s: &ProposedStep) -> StepDraft {
    let mut draft = StepDraft::blank();
    draft.text = s.text.clone();
    draft.minutes = shown(s.minutes);
    draft.hands = s.hands;
    draft.place = s.place;
    draft
}
