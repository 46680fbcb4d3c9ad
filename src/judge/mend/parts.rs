//! Mends of parts: the same grams from a part that the dish suits.

use super::candidate::{Candidate, Sort, part_portion, say};
use crate::{
    book::{Dish, PartId},
    judge::Finding,
    rotation::{Batch, Draw, Edit, Rotation, Source},
};

/// The same grams from a part that the dish suits.
pub(super) fn a_fitting_part(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some((batch, dish)) = finding.batch.and_then(|id| Some((rotation.batch(id)?, rotation.dish_of(id)?))) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for draw in &batch.draws {
        if let Source::Part(part) = &draw.from
            && !dish.suits_part(part)
        {
            out.extend(from_another_part(rotation, batch, dish, part, draw.portion.get()));
            out.extend(exchanges(rotation, batch, dish, part, draw.portion.get()));
        }
    }
    out
}

/// Two batches that trade parts, gram for gram: the one takes what it suits, the other what it does not mind.
fn exchanges(rotation: &Rotation, batch: &Batch, dish: &Dish, part: &PartId, grams: u32) -> Vec<Candidate> {
    let mut out = Vec::new();
    for other in rotation.batches.iter().filter(|b| b.id != batch.id) {
        let Some(other_dish) = rotation.dishes.get(&other.dish).filter(|d| d.suits_part(part)) else { continue };
        for draw in &other.draws {
            let Source::Part(wanted) = &draw.from else { continue };
            if !dish.suits_part(wanted) || draw.portion.get() < grams || wanted == part {
                continue;
            }
            let mut next = rotation.clone();
            for b in &mut next.batches {
                if b.id == batch.id {
                    trade(b, part, wanted, grams);
                } else if b.id == other.id {
                    trade(b, wanted, part, grams);
                }
            }
            let words = format!("Let {} and {} trade {} of their parts", dish.name, other_dish.name, say(grams));
            // No chain of single edits passes through: each part is wholly taken until the other lets go.
            let edit = Edit::Replace { with: Box::new(next), words: words.clone() };
            out.push(Candidate::new(Sort::Grams, edit).saying(words));
        }
    }
    out
}

/// Takes `grams` from another part; what is cut anew is cut on the day.
fn trade(batch: &mut Batch, from: &PartId, to: &PartId, grams: u32) {
    let (from, to) = (Source::Part(from.clone()), Source::Part(to.clone()));
    let Some(portion) = batch.draws.iter().find(|d| d.from == from).map(|d| d.portion) else { return };
    for draw in batch.draws.iter_mut().filter(|d| d.from == from) {
        draw.portion = draw.portion.with(draw.portion.get().saturating_sub(grams));
    }
    match batch.draws.iter_mut().find(|d| d.from == to) {
        Some(draw) => draw.portion = draw.portion.with(draw.portion.get() + grams),
        None => batch.draws.push(Draw { from: to, portion: portion.with(grams), cut_on: None }),
    }
    batch.draws.retain(|d| !d.portion.is_zero());
}

/// `grams` of what a batch draws from `part`, taken from each other part that suits and has so much free.
pub(super) fn from_another_part(rotation: &Rotation, batch: &Batch, dish: &Dish, part: &PartId, grams: u32) -> Vec<Candidate> {
    let old = Source::Part(part.clone());
    let drawn = |source: &Source| batch.draws.iter().find(|d| d.from == *source).map_or(0, |d| d.portion.get());
    let mut out = Vec::new();
    for other in &rotation.piece.parts {
        if other.part == *part || !dish.suits_part(&other.part) || rotation.free_in_part(&other.part) < i64::from(grams) {
            continue;
        }
        let new = Source::Part(other.part.clone());
        let name = |id: &PartId| rotation.kind.part(id).map_or_else(|| id.to_string(), |p| p.name.clone());
        let words = format!("Take {} of the {} for {} instead of the {}", say(grams), name(&other.part), dish.name, name(part));
        let edits = vec![
            Edit::SetDraw { batch: batch.id, source: new.clone(), portion: part_portion(rotation, drawn(&new) + grams) },
            Edit::SetDraw {
                batch: batch.id,
                source: old.clone(),
                portion: part_portion(rotation, drawn(&old).saturating_sub(grams)),
            },
        ];
        out.push(Candidate::new(Sort::Grams, Edit::Together { edits, words: words.clone() }).saying(words));
    }
    out
}
