//! Where nothing that keeps the meal will do: what comes too late is left out of the plan.

use super::candidate::{Candidate, Loses, Sort, and, say};
use crate::{
    judge::{Code, Finding},
    rotation::{Batch, BatchId, Edit, PieceEdit, Rotation, Source},
};

/// The serving left out; the batch not made, with all that is made of it; and what is raw in it given away. For want of anything else.
pub(super) fn left_out(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some(batch) = finding.batch.and_then(|id| rotation.batch(id)) else { return Vec::new() };
    let name = rotation.dish_of(batch.id).map_or_else(String::new, |d| d.name.clone());
    let mut out = Vec::new();
    let plate = finding.meal.filter(|slot| rotation.meal(*slot).serving(batch.id).is_some());
    if let Some(slot) = plate {
        let words = format!("Leave {name} out at {}", rotation.slot_name(slot));
        out.push(last_resort(Edit::RemoveServing { slot, batch: batch.id }, words));
    }
    let (gone, removed, words) = not_made(rotation, batch);
    out.push(last_resort(Edit::Together { edits: removed.clone(), words: words.clone() }, words.clone()));
    // Raw it would lie there for longer still.
    if matches!(finding.code, Code::RawTooOld | Code::CutTooOld) {
        let raw = rotation.batches.iter().filter(|b| gone.contains(&b.id)).flat_map(|b| &b.draws);
        let mut grams = 0_u32;
        let mut edits = removed;
        for draw in raw {
            if let Source::Part(part) = &draw.from {
                grams = grams.saturating_add(draw.portion.get());
                edits.push(Edit::Piece(PieceEdit::GiveAway(part.clone(), draw.portion)));
            }
        }
        let words = format!("{words}; give the {} away while it is fresh", say(grams));
        out.push(last_resort(Edit::Together { edits, words: words.clone() }, words));
    }
    out
}

/// A batch that is not made, nor anything of it: what is then gone, by which edits, and in which words.
fn not_made(rotation: &Rotation, batch: &Batch) -> (Vec<BatchId>, Vec<Edit>, String) {
    let name = |id: BatchId| rotation.dish_of(id).map_or_else(String::new, |d| d.name.clone());
    let gone = with_all_made_of(rotation, batch);
    let removed = gone.iter().map(|id| Edit::RemoveBatch(*id)).collect();
    let made_of_it: Vec<String> = gone.iter().rev().skip(1).map(|id| name(*id)).collect();
    let too = if made_of_it.is_empty() { String::new() } else { format!(", nor {} of it", and(&made_of_it)) };
    let words = format!("Do not make {} on {}{too}", name(batch.id), rotation.day_name(batch.day));
    (gone, removed, words)
}

fn last_resort(edit: Edit, words: String) -> Candidate {
    Candidate::new(Sort::Away, edit).saying(words).losing(Loses::AMeal).at_the_last()
}

/// A batch and all that is made of it, the latest first: as they can be taken away one after the other.
fn with_all_made_of(rotation: &Rotation, batch: &Batch) -> Vec<BatchId> {
    let mut all = vec![batch.id];
    let mut next = 0;
    while let Some(id) = all.get(next).copied() {
        for user in rotation.batches.iter().filter(|b| b.draws_on(id)) {
            // Made of two of them it goes before both.
            all.retain(|b| *b != user.id || *b == batch.id);
            all.push(user.id);
        }
        next = all.iter().position(|b| *b == id).map_or(next, |at| at + 1);
    }
    all.reverse();
    all
}
