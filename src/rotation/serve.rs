//! How much to serve: what a dish is good for, what there is, and where it is best taken from.

use super::{BatchId, Eater, EaterId, Rotation, Slot, Source, TwinServing};
use crate::{
    book::{Dish, PartId, contents_of, holds_word, is_named},
    quantity::{DayNo, Portion, State},
};

/// The state in which grams leave `source`.
pub(super) fn state_of(rotation: &Rotation, source: &Source) -> State {
    match source {
        Source::Part(_) => rotation.kind.portioned,
        Source::Batch(_) => State::Cooked,
    }
}

/// The most that `source` has free: raw grams that no batch draws, or cooked grams that no meal and no later batch takes.
pub fn most_for(rotation: &Rotation, source: &Source) -> Portion {
    let free = match source {
        Source::Part(part) => rotation.free_in_part(part).clamp(0, i64::from(u32::MAX)) as u32,
        Source::Batch(id) => rotation.batch(*id).map_or(0, |b| rotation.left_cooked(b)),
    };
    Portion::of(state_of(rotation, source), free)
}

/// The typical portion of `dish` for those who would eat the piece at `slot`, cut to what `source` has free.
pub fn suggested_portion(rotation: &Rotation, dish: &Dish, source: &Source, slot: Slot) -> Portion {
    let typical = typical_at(rotation, dish, slot);
    let most = most_for(rotation, source);
    let wanted = if typical == 0 { most.get() } else { typical };
    most.with(wanted.min(most.get()))
}

/// Typical grams of `dish` for those who would eat the piece in it at `slot`: all who sit down but those with a twin without it
/// and those who cannot eat it.
pub fn typical_at(rotation: &Rotation, dish: &Dish, slot: Slot) -> u32 {
    let present = rotation.eaters_at(slot);
    let twins = fitting_twins(rotation, dish, &present);
    let eating = present.iter().copied().filter(|e| !leaves_piece_out(dish, &twins, *e) && !cannot_eat(rotation, dish, *e));
    dish.typical_for(rotation.household.units(eating))
}

fn leaves_piece_out(dish: &Dish, twins: &[TwinServing], eater: EaterId) -> bool {
    let name = twins.iter().find(|t| t.eater == eater).map(|t| &t.twin);
    name.and_then(|n| dish.twins.iter().find(|t| t.name == *n)).is_some_and(|t| !t.holds_piece)
}

/// The twins that those at the table need who may not eat `dish`, or dislike a form that a twin leaves out.
/// An allergy is never settled by itself: the cook must see the stop first.
pub(crate) fn fitting_twins(rotation: &Rotation, dish: &Dish, present: &[EaterId]) -> Vec<TwinServing> {
    let mut out = Vec::new();
    for eater in present.iter().filter_map(|id| rotation.household.eater(*id)) {
        let may_not =
            !dish.surely_suits(eater.diet) || !eater.diet.may_eat(rotation.kind.diet) || is_barred(rotation, dish, eater);
        let disliked: Vec<&String> = eater.dislikes.iter().filter(|d| dish.forms.contains(d)).collect();
        if !may_not && disliked.is_empty() {
            continue;
        }
        let fitting = dish.twins.iter().find(|t| {
            let piece_is_fine = !t.holds_piece || eater.diet.may_eat(rotation.kind.diet);
            let form_is_fine = may_not || disliked.iter().all(|d| t.without_forms.contains(d));
            let never = eater.never().any(|word| t.holds_word(&word) || t.holds_piece && piece_is(rotation, &word));
            t.surely_suits(eater.diet)
                && !never
                && piece_is_fine
                && form_is_fine
                && !t.allergens.iter().any(|a| eater.allergies.contains(a))
        });
        if let Some(twin) = fitting {
            out.push(TwinServing { eater: eater.id, twin: twin.name.clone() });
        }
    }
    out
}

/// Whether the piece itself is, or holds, what this word names.
pub fn piece_is(rotation: &Rotation, word: &str) -> bool {
    is_named(&rotation.kind.name, word) || contents_of(&rotation.kind.name).is_some_and(|c| holds_word(c, word))
}

/// Whether there is something in a dish of this piece that `eater` never eats.
fn is_barred(rotation: &Rotation, dish: &Dish, eater: &Eater) -> bool {
    eater.never().any(|word| dish.holds_word(&word) || piece_is(rotation, &word))
}

/// Whether `eater` must not eat `dish` of this piece, for an allergy, or may not by diet and has no twin of it.
pub fn cannot_eat(rotation: &Rotation, dish: &Dish, eater: EaterId) -> bool {
    let Some(who) = rotation.household.eater(eater) else { return false };
    let allergic = dish.allergens.iter().chain(&rotation.kind.allergens).any(|a| who.allergies.contains(a));
    let may_not = !dish.surely_suits(who.diet) || !who.diet.may_eat(rotation.kind.diet) || is_barred(rotation, dish, who);
    allergic || (may_not && fitting_twins(rotation, dish, &[eater]).is_empty())
}

/// Where `dish` is best taken from on `day`: a component kept for it, else the first part of its own choice that holds
/// `wanted` grams, else the fullest of those, else the fullest of all. Nothing where nothing is free.
pub fn best_source(rotation: &Rotation, dish: &Dish, day: DayNo, wanted: u32) -> Option<Source> {
    let component = rotation
        .batches
        .iter()
        .filter(|b| b.day <= day && dish.from.contains(&b.dish))
        .map(|b| (b.id, rotation.left_cooked(b)))
        .filter(|(_, left)| *left > 0)
        .max_by_key(|(id, left)| (*left, std::cmp::Reverse(*id)));
    if let Some((id, _)) = component {
        return Some(Source::Batch(id));
    }
    if dish.state != rotation.kind.portioned {
        return None;
    }
    let free = |part: &PartId| rotation.free_in_part(part).max(0) as u32;
    let own: Vec<&PartId> = dish.parts.iter().filter(|p| rotation.piece.part(p).is_some()).collect();
    let all: Vec<&PartId> = rotation.piece.parts.iter().map(|p| &p.part).collect();
    let fullest = |parts: &[&PartId]| {
        let found = parts.iter().rev().copied().max_by_key(|p| free(p)).filter(|p| free(p) > 0);
        found.cloned()
    };
    let enough = own.iter().copied().find(|p| free(p) > 0 && free(p) >= wanted).cloned();
    enough.or_else(|| fullest(&own)).or_else(|| fullest(&all)).map(Source::Part)
}

/// A source in words: "the middle", "the poached tail".
pub(super) fn source_name(rotation: &Rotation, source: &Source) -> String {
    match source {
        Source::Part(id) => rotation.kind.part(id).map_or_else(|| id.to_string(), |p| p.name.clone()),
        Source::Batch(id) => batch_name(rotation, *id),
    }
}

/// A batch by its dish's name.
pub(super) fn batch_name(rotation: &Rotation, id: BatchId) -> String {
    rotation.dish_of(id).map_or_else(|| format!("batch {}", id.0), |d| d.name.clone())
}
