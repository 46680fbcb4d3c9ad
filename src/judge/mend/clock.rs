//! Mends of the clocks: cut later, cook earlier or later, eat earlier.

use super::candidate::{Candidate, Sort, days_apart, empty_slots, nearest, served_slots};
use crate::{
    judge::{Code, Finding},
    quantity::DayNo,
    rotation::{Batch, BatchId, Edit, Rotation, Slot, Source},
};

/// The most days, moves and swaps that are tried for one batch.
const MAX_DAYS: usize = 6;
const MAX_MOVES: usize = 10;
const MAX_SWAPS: usize = 10;

pub(super) fn candidates(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let mut out = Vec::new();
    for batch in batches_of(rotation, finding) {
        if finding.code == Code::CutTooOld {
            let edit = Edit::SetCutDay { batch: batch.id, cut_on: None };
            out.push(Candidate::new(Sort::Day, edit));
        }
        for day in other_days(rotation, finding, batch) {
            let days = usize::from(day.0.abs_diff(batch.day.0));
            out.push(Candidate::new(Sort::Day, Edit::SetBatchDay { batch: batch.id, day }).further(days));
        }
    }
    if finding.code == Code::BeforeMade {
        out.extend(later_meals(rotation, finding));
    }
    out.extend(earlier_meals(rotation, finding));
    out
}

/// The batch that a finding is about, or those that its meal serves; with the batches they are made from.
fn batches_of<'r>(rotation: &'r Rotation, finding: &Finding) -> Vec<&'r Batch> {
    let served = || finding.meal.into_iter().flat_map(|m| rotation.meal(m).servings.iter().map(|s| s.batch)).collect();
    let ids: Vec<BatchId> = finding.batch.map_or_else(served, |b| vec![b]);
    let mut out: Vec<&Batch> = ids.into_iter().filter_map(|id| rotation.batch(id)).collect();
    let mut next = 0;
    while let Some(batch) = out.get(next).copied() {
        for draw in &batch.draws {
            if let Source::Batch(id) = draw.from
                && let Some(source) = rotation.batch(id)
                && out.iter().all(|b| b.id != id)
            {
                out.push(source);
            }
        }
        next += 1;
    }
    out
}

/// Days on which a batch might be made instead: the raw clock is stopped by cooking earlier, the cooked one starts later.
fn other_days(rotation: &Rotation, finding: &Finding, batch: &Batch) -> Vec<DayNo> {
    let days = |range: std::ops::RangeInclusive<i16>| range.map(DayNo);
    match finding.code {
        Code::RawTooOld | Code::CutTooOld => {
            let earliest = rotation.piece.opened.max(DayNo::FIRST).0;
            days(earliest..=batch.day.0.saturating_sub(1)).rev().take(MAX_DAYS).collect()
        }
        _ => days(batch.day.0.saturating_add(1)..=first_use(rotation, batch).0).take(MAX_DAYS).collect(),
    }
}

/// The first day on which anything is made or eaten of a batch; its own day if nothing is.
fn first_use(rotation: &Rotation, batch: &Batch) -> DayNo {
    let eaten = rotation.servings_of(batch.id).into_iter().map(|(slot, _)| slot.day);
    let made = rotation.batches.iter().filter(|b| b.draws_on(batch.id)).map(|b| b.day);
    eaten.chain(made).min().unwrap_or(batch.day)
}

/// The meal that a finding is about; else the last one that its batch feeds.
fn meal_of(rotation: &Rotation, finding: &Finding) -> Option<Slot> {
    let last = || finding.batch.and_then(|b| rotation.servings_of(b).last().map(|(slot, _)| *slot));
    finding.meal.or_else(last)
}

/// What is served at `from` and the finding is about.
fn servings_of(rotation: &Rotation, finding: &Finding, from: Slot) -> Vec<BatchId> {
    let own = finding.batch.filter(|b| rotation.meal(from).serving(*b).is_some());
    own.map_or_else(|| rotation.meal(from).servings.iter().map(|s| s.batch).collect(), |b| vec![b])
}

/// The meal eaten earlier: at an empty cell, or swapped with an earlier meal.
pub(super) fn earlier_meals(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some(from) = meal_of(rotation, finding) else {
        return Vec::new();
    };
    let before = |s: &Slot| rotation.time_rank(*s) < rotation.time_rank(from);
    let mut out = Vec::new();
    for batch in servings_of(rotation, finding, from) {
        let empty: Vec<Slot> = empty_slots(rotation).into_iter().filter(before).collect();
        for to in nearest(empty, from).into_iter().take(MAX_MOVES) {
            out.push(
                Candidate::new(Sort::Move, Edit::MoveServing { from, batch, to }).at(rotation, to).further(days_apart(from, to)),
            );
        }
    }
    let served: Vec<Slot> = served_slots(rotation).into_iter().filter(before).collect();
    for to in nearest(served, from).into_iter().take(MAX_SWAPS) {
        out.push(Candidate::new(Sort::Swap, Edit::SwapMeals(to, from)).further(days_apart(from, to)));
    }
    out
}

/// The meal eaten later, once it is made.
fn later_meals(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some(from) = meal_of(rotation, finding) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for batch in servings_of(rotation, finding, from) {
        let made = rotation.batch(batch).map_or(from.day, |b| b.day);
        let empty: Vec<Slot> = empty_slots(rotation).into_iter().filter(|s| s.day >= made).collect();
        for to in nearest(empty, from).into_iter().take(MAX_MOVES) {
            out.push(
                Candidate::new(Sort::Move, Edit::MoveServing { from, batch, to }).at(rotation, to).further(days_apart(from, to)),
            );
        }
    }
    out
}
