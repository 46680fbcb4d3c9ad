//! Mends of the clocks: cut later, cook earlier or later, eat earlier.

use super::{
    Shelf,
    candidate::{Candidate, Loses, Sort, days_apart, empty_slots, nearest, say, served_slots},
};
use crate::{
    book::Role,
    judge::{Code, Finding},
    quantity::DayNo,
    rotation::{Batch, BatchId, Edit, Frozen, FrozenStay, PieceEdit, Rotation, ServeFrom, Slot, Source},
};

/// The most days, moves and swaps that are tried for one batch.
const MAX_DAYS: usize = 6;
const MAX_MOVES: usize = 10;
const MAX_SWAPS: usize = 10;
/// The most bank dishes, and the most days for each, that are tried in place of a meal that comes too late.
const MAX_BANKS: usize = 3;
const MAX_BANK_DAYS: usize = 3;

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
    // What went off before it was made into this may be made into it sooner.
    if finding.code == Code::CookedTooOld && finding.key.0.ends_with("/making") {
        out.extend(earlier_makings(rotation, finding));
    }
    out.extend(into_the_freezer(rotation, finding));
    out.extend(afresh(rotation, finding));
    if finding.code == Code::BeforeMade {
        out.extend(all_made_by(rotation, finding));
        out.extend(later_meals(rotation, finding));
    }
    out.extend(earlier_meals(rotation, finding));
    out.extend(with_an_earlier_meal(rotation, finding));
    out
}

/// What is eaten before it is made, made by then with all that goes into it.
fn all_made_by(rotation: &Rotation, finding: &Finding) -> Option<Candidate> {
    let by = finding.meal?.day;
    let late: Vec<BatchId> = batches_of(rotation, finding).into_iter().filter(|b| b.day > by).map(|b| b.id).collect();
    // What goes in is made first.
    let edits: Vec<Edit> = late.iter().rev().map(|batch| Edit::SetBatchDay { batch: *batch, day: by }).collect();
    let words = format!("Make all of it on {}", rotation.day_name(by));
    let all = Edit::Together { edits, words: words.clone() };
    (late.len() > 1).then(|| Candidate::new(Sort::Day, all).saying(words).further(30))
}

/// Mends of a batch that was raw too long: banked while it kept, or given away.
pub(super) fn before_it_goes_off(rotation: &Rotation, book: &Shelf<'_>, finding: &Finding) -> Vec<Candidate> {
    let mut out = Vec::new();
    let Some(batch) = finding.batch.and_then(|id| rotation.batch(id)) else { return out };
    let [draw] = batch.draws.as_slice() else { return out };
    let (Source::Part(part), Some(dish)) = (&draw.from, rotation.dish_of(batch.id)) else { return out };
    if dish.role != Role::Meal || rotation.batches.iter().any(|b| b.draws_on(batch.id)) {
        return out;
    }
    // Nothing of it is left when its servings go.
    let gone: Vec<Edit> =
        rotation.servings_of(batch.id).into_iter().map(|(slot, _)| Edit::RemoveServing { slot, batch: batch.id }).collect();
    if gone.is_empty() {
        return out;
    }
    let earliest = rotation.piece.opened.max(DayNo::FIRST).0;
    let keeps = rotation.kind.part(part).map_or(batch.day, |p| rotation.piece.opened.plus(p.raw_days));
    let last = keeps.0.min(batch.day.0.saturating_sub(1));
    let days: Vec<DayNo> = (earliest..=last).rev().map(DayNo).take(MAX_BANK_DAYS).collect();
    let banks = book.dishes_for(&rotation.kind);
    let banks = banks.filter(|d| d.role == Role::Bank && d.state == rotation.kind.portioned && d.suits_part(part));
    for (i, bank) in banks.take(MAX_BANKS).enumerate() {
        for day in &days {
            let make = Edit::MakeAhead { dish: bank.clone(), day: *day, source: draw.from.clone(), portion: draw.portion };
            let words = format!("Bank the {} as {} on {}", say(draw.portion.get()), bank.name, rotation.day_name(*day));
            let edit = Edit::Together { edits: gone.iter().cloned().chain([make]).collect(), words: words.clone() };
            out.push(Candidate::new(Sort::Ahead, edit).saying(words).further(20 + i).losing(Loses::AMeal));
        }
    }
    let give = Edit::Piece(PieceEdit::GiveAway(part.clone(), draw.portion));
    let words = format!("Give the {} away while it is fresh", say(draw.portion.get()));
    let edit = Edit::Together { edits: gone.into_iter().chain([give]).collect(), words: words.clone() };
    out.push(Candidate::new(Sort::Away, edit).saying(words).losing(Loses::AMeal));
    out
}

/// Mends of food that is warmed up once too often: eaten where it was warmed first, made later, cooked afresh.
pub(super) fn warmed_once(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let mut out = candidates(rotation, finding);
    // The whole chain on the day of the meal: what is cooked and eaten at once is not warmed up.
    if let Some(slot) = finding.meal {
        let chain: Vec<&Batch> = batches_of(rotation, finding);
        let late = |b: &&&Batch| b.day < slot.day && first_use(rotation, b) >= slot.day;
        let edits: Vec<Edit> = chain.iter().filter(late).map(|b| Edit::SetBatchDay { batch: b.id, day: slot.day }).collect();
        if edits.len() > 1 {
            let words = format!("Make all of it on {}", rotation.day_name(slot.day));
            out.push(Candidate::new(Sort::Day, Edit::Together { edits, words: words.clone() }).saying(words).further(30));
        }
    }
    out
}

/// What is served later than the first time is cooked afresh for that meal, out of the part that it came from.
pub(super) fn afresh(rotation: &Rotation, finding: &Finding) -> Option<Candidate> {
    let (slot, batch) = (finding.meal?, rotation.batch(finding.batch?)?);
    let dish = rotation.dish_of(batch.id).filter(|d| d.role == Role::Meal)?;
    let serving = rotation.meal(slot).serving(batch.id)?;
    let first = rotation.servings_of(batch.id).first().map(|(s, _)| *s)?;
    // What is taken off a serving comes off the last source.
    let Source::Part(_) = &batch.draws.last()?.from else { return None };
    if first == slot || slot.day <= batch.day || batch.draws.last()?.portion.get() < serving.portion.get() {
        return None;
    }
    let from = ServeFrom::Source(batch.draws.last()?.from.clone());
    let words = format!("Cook {} of {} afresh on {}", say(serving.portion.get()), dish.name, rotation.day_name(slot.day));
    let edits = vec![
        Edit::RemoveServing { slot, batch: batch.id },
        Edit::Serve { dish: dish.clone(), from, slot, portion: Some(serving.portion) },
    ];
    Some(Candidate::new(Sort::Afresh, Edit::Together { edits, words: words.clone() }).saying(words))
}

/// The serving eaten up at an earlier meal that serves of the same batch.
fn with_an_earlier_meal(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let (Some(from), Some(batch)) = (finding.meal, finding.batch) else { return Vec::new() };
    if rotation.meal(from).serving(batch).is_none() {
        return Vec::new();
    }
    let name = rotation.dish_of(batch).map_or_else(String::new, |d| d.name.clone());
    let before = |s: &Slot| rotation.time_rank(*s) < rotation.time_rank(from);
    let meals: Vec<Slot> = rotation.servings_of(batch).into_iter().map(|(s, _)| s).filter(before).collect();
    let to = |to: Slot| {
        let words = format!("Eat all of {name} at {}", rotation.slot_name(to));
        Candidate::new(Sort::Move, Edit::MoveServing { from, batch, to }).saying(words).further(30 + days_apart(from, to))
    };
    nearest(meals, from).into_iter().take(2).map(to).collect()
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
        // By the meal that eats it.
        Code::BeforeMade => {
            let latest = finding.meal.map_or(batch.day, |m| m.day).0.min(batch.day.0.saturating_sub(1));
            days(DayNo::FIRST.0..=latest).rev().take(MAX_DAYS).collect()
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

/// The batch made on an earlier day, while what goes into it still keeps.
pub(super) fn earlier_makings(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some(batch) = finding.batch.and_then(|id| rotation.batch(id)) else { return Vec::new() };
    let earliest = rotation.piece.opened.max(DayNo::FIRST).0;
    let days = (earliest..batch.day.0).rev().map(DayNo).take(MAX_DAYS);
    let at = |day: DayNo| {
        let days = usize::from(day.0.abs_diff(batch.day.0));
        Candidate::new(Sort::Day, Edit::SetBatchDay { batch: batch.id, day }).further(days)
    };
    days.map(at).collect()
}

/// What lay in the fridge through a power cut, made after it: what is raw and wrapped may have come through.
pub(super) fn after_the_cut(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some(batch) = finding.batch.and_then(|id| rotation.batch(id)) else { return Vec::new() };
    let days = (batch.day.0.saturating_add(1)..=first_use(rotation, batch).0).map(DayNo).take(MAX_DAYS);
    days.map(|day| Candidate::new(Sort::Day, Edit::SetBatchDay { batch: batch.id, day })).collect()
}

/// What is frozen left out of the freezer, or thawed by the day on which it is wanted.
pub(super) fn out_of_the_freezer(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let mut out = Vec::new();
    // What is made of it wants it on its own day, a plate on the day of the meal.
    let making = finding.batch.and_then(|id| rotation.batch(id)).filter(|_| finding.key.0.ends_with("/making"));
    let wanted = making.map(|b| b.day).or_else(|| finding.meal.map(|m| m.day));
    if let Some(batch) = making {
        let thawed = |s: &FrozenStay| batch.draws_on(s.what.batch()) && s.to <= first_use(rotation, batch);
        let days = rotation.storage.frozen.iter().filter(|s| thawed(s)).map(|s| s.to).max();
        out.extend(days.map(|day| Candidate::new(Sort::Day, Edit::SetBatchDay { batch: batch.id, day })));
    }
    for batch in batches_of(rotation, finding) {
        for stay in rotation.storage.frozen.iter().filter(|s| s.what.batch() == batch.id) {
            if let Some(to) = wanted.filter(|day| *day > stay.from && *day < stay.to) {
                let name = rotation.dish_of(batch.id).map_or_else(String::new, |d| d.name.clone());
                let words = format!("Have {name} thawed by {}", rotation.day_name(to));
                let sooner = FrozenStay { to, ..stay.clone() };
                let edits = vec![Edit::KeepOut(stay.what.clone()), Edit::Freeze(sooner)];
                out.push(Candidate::new(Sort::Day, Edit::Together { edits, words: words.clone() }).saying(words));
            }
            out.push(Candidate::new(Sort::Day, Edit::KeepOut(stay.what.clone())).further(10));
        }
    }
    out
}

/// What lies too long in the freezer for its own good, put in later: while it still kept in the fridge.
pub(super) fn shorter_in_the_freezer(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some(id) = finding.batch else { return Vec::new() };
    let mut out = Vec::new();
    for stay in rotation.storage.frozen.iter().filter(|s| s.what.batch() == id) {
        let nice = crate::judge::frost::nice_for(rotation, stay);
        let from = stay.to.plus(crate::quantity::Days(-nice.0)).max(stay.from);
        let edits = vec![Edit::KeepOut(stay.what.clone()), Edit::Freeze(FrozenStay { from, ..stay.clone() })];
        let words = format!("Put it into the freezer on {}", rotation.day_name(from));
        out.push(Candidate::new(Sort::Day, Edit::Together { edits, words: words.clone() }).saying(words));
        out.push(Candidate::new(Sort::Day, Edit::KeepOut(stay.what.clone())).further(10));
    }
    out
}

/// Where there is a freezer: what comes too late is frozen while it is fresh, and thawed for its day.
fn into_the_freezer(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let mut out = Vec::new();
    if !rotation.storage.freezer {
        return out;
    }
    for batch in batches_of(rotation, finding) {
        let wanted = finding.meal.map_or_else(|| first_use(rotation, batch), |m| m.day);
        let stay = |what: Frozen, from: DayNo, to: DayNo| Candidate::new(Sort::Day, Edit::Freeze(FrozenStay { what, from, to }));
        if matches!(finding.code, Code::CookedTooOld | Code::LastDay) && wanted > batch.day {
            out.push(stay(Frozen::Batch(batch.id), batch.day, wanted).further(40));
        }
        for draw in &batch.draws {
            if let (Source::Part(part), Code::RawTooOld) = (&draw.from, finding.code)
                && batch.day > rotation.piece.opened
            {
                out.push(stay(Frozen::Draw(batch.id, part.clone()), rotation.piece.opened, batch.day).further(40));
            }
        }
    }
    out
}

/// The meal eaten later, once it is made.
pub(super) fn later_meals(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
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
