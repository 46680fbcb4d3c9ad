//! Mends for one eater: a twin, a plate without them, another dish for all, a meal elsewhere.

use super::{
    Shelf,
    candidate::{Candidate, Sort},
    taste,
};
use crate::{
    judge::{Finding, Severity},
    rotation::{BatchId, EaterId, Edit, Rotation, Slot},
};

/// The most other dishes that are tried for one serving.
const MAX_DISHES: usize = 8;

pub(super) fn candidates(rotation: &Rotation, book: &Shelf<'_>, finding: &Finding) -> Vec<Candidate> {
    let (Some(slot), Some(eater)) = (finding.meal, finding.eater) else {
        return Vec::new();
    };
    let meant = |batch: &BatchId| {
        let serving = rotation.meal(slot).serving(*batch);
        serving.is_some_and(|s| s.meant_for(&rotation.eaters_at(slot)).contains(&eater))
    };
    let all = || rotation.meal(slot).servings.iter().map(|s| s.batch).collect();
    let batches: Vec<BatchId> = finding.batch.map_or_else(all, |b| vec![b]);
    let mut out = Vec::new();
    for batch in batches.iter().copied().filter(meant) {
        out.extend(twins(rotation, slot, batch, eater));
        out.extend(without(rotation, slot, batch, eater));
    }
    for batch in batches {
        out.extend(taste::dishes(rotation, book, slot, batch, MAX_DISHES));
    }
    // Nobody is sent away for a matter of taste.
    if finding.severity != Severity::Stop {
        return out;
    }
    let edit = Edit::SetPresent { slot, eater, present: false };
    let words = format!("{} eats elsewhere at {}", rotation.household.name(eater), rotation.slot_name(slot));
    out.push(Candidate::new(Sort::Eaters, edit).saying(words));
    out
}

fn twins(rotation: &Rotation, slot: Slot, batch: BatchId, eater: EaterId) -> Vec<Candidate> {
    let (Some(dish), Some(serving)) = (rotation.dish_of(batch), rotation.meal(slot).serving(batch)) else {
        return Vec::new();
    };
    let now = serving.twin_of(eater, dish).map(|t| t.name.as_str());
    let others = dish.twins.iter().filter(|t| Some(t.name.as_str()) != now);
    let who = rotation.household.name(eater);
    others
        .map(|t| {
            let edit = Edit::SetTwin { slot, batch, eater, twin: Some(t.name.clone()) };
            Candidate::new(Sort::Twin, edit).saying(format!("Give {who} {} instead", t.name))
        })
        .collect()
}

/// The serving for the others alone, where there is something else for this one.
fn without(rotation: &Rotation, slot: Slot, batch: BatchId, eater: EaterId) -> Option<Candidate> {
    let serving = rotation.meal(slot).serving(batch)?;
    let dish = rotation.dish_of(batch)?;
    let eaters: Vec<EaterId> = serving.meant_for(&rotation.eaters_at(slot)).into_iter().filter(|e| *e != eater).collect();
    let edit = Edit::SetServingEaters { slot, batch, eaters: eaters.clone() };
    let words = format!("{} for the others only, not for {}", dish.name, rotation.household.name(eater));
    (!eaters.is_empty()).then(|| Candidate::new(Sort::Eaters, edit).saying(words))
}
