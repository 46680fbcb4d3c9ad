//! What must hold of every rotation, whoever wrote it: references, sums and states.

use super::{Batch, BatchId, MAX_DAYS, MAX_MEALTIMES, Rotation, Serving, Slot, Source, apply_meal::say, serve};
use crate::{book::Role, quantity::State};
use std::collections::{BTreeMap, BTreeSet};

/// The most batches a rotation may have.
const MAX_BATCHES: usize = 2_000;
/// The most eaters a household may have.
const MAX_EATERS: usize = 100;
/// The longest a name may be, in letters.
const MAX_NAME: usize = 200;

/// Why a rotation cannot be one.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{what}")]
pub struct Invalid {
    /// One sentence: what is wrong and what to do.
    pub what: String,
    /// Text to look for in a file to find the line, outermost first: `["batches", "id: 7", "dish: \"x\""]`.
    pub near: Vec<String>,
}

fn invalid<const N: usize>(what: impl Into<String>, near: [String; N]) -> Invalid {
    Invalid { what: what.into(), near: near.into() }
}

/// Checks every reference and sum. A rotation that passes can be judged, drawn and saved without a further question.
pub fn validate(rotation: &Rotation) -> Result<(), Invalid> {
    calendar(rotation)?;
    household(rotation)?;
    if let Some(fault) = rotation.fridge.fault() {
        return Err(invalid(fault, ["fridge:".into()]));
    }
    if let Some(fault) = rotation.kitchen.fault() {
        return Err(invalid(fault, ["kitchen:".into()]));
    }
    if let Some(fault) = rotation.storage.fault(rotation) {
        return Err(invalid(fault, ["storage:".into()]));
    }
    piece(rotation)?;
    for batch in &rotation.batches {
        batch_alone(rotation, batch)?;
    }
    batches_together(rotation)?;
    for (slot, meal) in &rotation.meals {
        let near = [format!("day: {}", slot.day.0), format!("mealtime: {}", slot.mealtime.0)];
        if !rotation.has_slot(*slot) {
            let what = format!("a meal stands at day {}, mealtime {}, outside the calendar", slot.day.0, slot.mealtime.0);
            return Err(Invalid { what, near: near.into() });
        }
        let mut seen = BTreeSet::new();
        if let Some(twice) = meal.servings.iter().find(|s| !seen.insert(s.batch)) {
            let what = format!(
                "{} is served twice at {}; give it once",
                serve::batch_name(rotation, twice.batch),
                rotation.slot_name(*slot)
            );
            return Err(Invalid { what, near: near.into() });
        }
        for id in meal.present.iter().flatten() {
            known_eater(rotation, *id, *slot)?;
        }
        if let Some(present) = &meal.present
            && present.iter().collect::<BTreeSet<_>>().len() != present.len()
        {
            let what = format!("somebody is named twice among those at {}", rotation.slot_name(*slot));
            return Err(Invalid { what, near: near.into() });
        }
        for serving in &meal.servings {
            serving_stands(rotation, *slot, serving)?;
        }
    }
    Ok(())
}

/// A name that a person can read: not blank, not endless, no control characters.
pub(super) fn is_good_name(name: &str) -> bool {
    !name.trim().is_empty() && name.chars().count() <= MAX_NAME && !name.chars().any(char::is_control)
}

fn calendar(r: &Rotation) -> Result<(), Invalid> {
    if !(1..=MAX_DAYS).contains(&r.days) {
        return Err(invalid(format!("{} days are planned; a rotation has 1 to {MAX_DAYS}", r.days), ["days:".into()]));
    }
    if r.first_day.year() < 1 || r.first_day.year() > 9_000 {
        return Err(invalid("the first day lies outside the years 1 to 9000", ["first_day:".into()]));
    }
    if !(1..=MAX_MEALTIMES).contains(&r.mealtimes.len()) {
        let what = format!("{} mealtimes are named; a day has 1 to {MAX_MEALTIMES}", r.mealtimes.len());
        return Err(invalid(what, ["mealtimes:".into()]));
    }
    let mut ids = BTreeSet::new();
    let mut names = BTreeSet::new();
    for m in &r.mealtimes {
        let near = ["mealtimes:".into(), format!("id: {}", m.id.0)];
        if !is_good_name(&m.name) {
            return Err(invalid("a mealtime has no name that can be read", near));
        }
        if !ids.insert(m.id) || !names.insert(m.name.to_lowercase()) {
            return Err(invalid(format!("the mealtime {} is given twice", m.name), near));
        }
    }
    if r.title.chars().count() > MAX_NAME || r.title.chars().any(char::is_control) {
        return Err(invalid(format!("the title is longer than {MAX_NAME} letters or has control characters"), ["title:".into()]));
    }
    Ok(())
}

fn household(r: &Rotation) -> Result<(), Invalid> {
    let eaters = &r.household.eaters;
    if eaters.is_empty() || eaters.len() > MAX_EATERS {
        return Err(invalid(
            format!("{} eaters are named; a household has 1 to {MAX_EATERS}", eaters.len()),
            ["household:".into()],
        ));
    }
    let mut ids = BTreeSet::new();
    let mut names = BTreeSet::new();
    for e in eaters {
        let near = ["household:".into(), format!("id: {}", e.id.0)];
        if !is_good_name(&e.name) {
            return Err(invalid(format!("eater {} has no name that can be read", e.id.0), near));
        }
        if !ids.insert(e.id) {
            return Err(invalid(format!("the eater number {} is given twice; numbers must differ", e.id.0), near));
        }
        if !names.insert(e.name.to_lowercase()) {
            return Err(invalid(format!("two eaters are called {}; names must differ", e.name), near));
        }
    }
    Ok(())
}

fn piece(r: &Rotation) -> Result<(), Invalid> {
    let p = &r.piece;
    if p.mass.is_zero() {
        return Err(invalid("the piece weighs nothing", ["piece:".into(), "mass:".into()]));
    }
    if r.kind.portioned == State::AsBought {
        return Err(invalid(
            format!("{} is portioned as bought; write Prepared or Cooked", r.kind.name),
            ["kind:".into(), "portioned:".into()],
        ));
    }
    let named: Vec<_> = p.parts.iter().map(|m| &m.part).collect();
    let known: Vec<_> = r.kind.parts.iter().map(|k| &k.id).collect();
    if named != known {
        let what = format!("the piece's parts are not those of {}: {} in this order", r.kind.name, join(&known));
        return Err(invalid(what, ["piece:".into(), "parts:".into()]));
    }
    if let Some(wrong) = p.parts.iter().find(|m| m.usable.state() != r.kind.portioned) {
        let what = format!(
            "the part {} is given {}; {} is portioned {}",
            wrong.part,
            wrong.usable.state().word(),
            r.kind.name,
            r.kind.portioned.word()
        );
        return Err(invalid(what, ["piece:".into(), format!("part: \"{}\"", wrong.part)]));
    }
    let lines = p.trim.iter().map(|t| u64::from(t.grams.get()));
    let sum: u64 = lines.chain(p.parts.iter().map(|m| u64::from(m.usable.get()))).sum::<u64>() + u64::from(p.rotten.get());
    if sum != u64::from(p.mass.get()) {
        let what = format!(
            "the balance does not close: trim, rotten and parts make {}, but the piece weighs {} as bought",
            say(sum.min(u64::from(u32::MAX)) as u32),
            say(p.mass.get())
        );
        return Err(invalid(what, ["piece:".into(), "mass:".into()]));
    }
    Ok(())
}

fn join<T: ToString>(items: &[T]) -> String {
    items.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}

fn batch_alone(r: &Rotation, batch: &Batch) -> Result<(), Invalid> {
    let near = |more: String| ["batches:".to_string(), format!("id: {}", batch.id.0), more];
    let Some(dish) = r.dishes.get(&batch.dish) else {
        let what = format!("batch {} makes the dish \"{}\", which the file does not hold", batch.id.0, batch.dish);
        return Err(invalid(what, near(format!("dish: \"{}\"", batch.dish))));
    };
    if batch.draws.is_empty() {
        return Err(invalid(format!("nothing goes into {}: it draws on no part", dish.name), near("draws:".into())));
    }
    if batch.day < r.piece.opened {
        let what =
            format!("{} is made on day {}, before the piece is opened on day {}", dish.name, batch.day.0, r.piece.opened.0);
        return Err(invalid(what, near("day:".into())));
    }
    if batch.day > r.last_day() {
        let what = format!("{} is made on day {}, after the last day {}", dish.name, batch.day.0, r.days);
        return Err(invalid(what, near("day:".into())));
    }
    let mut sources = Vec::new();
    for draw in &batch.draws {
        let from = serve::source_name(r, &draw.from);
        if sources.contains(&&draw.from) {
            return Err(invalid(format!("{} draws twice on {from}; give it once", dish.name), near("draws:".into())));
        }
        sources.push(&draw.from);
        match &draw.from {
            Source::Part(part) if r.piece.part(part).is_none() => {
                let what = format!("{} draws on the part \"{part}\", which {} does not have", dish.name, r.kind.name);
                return Err(invalid(what, near(format!("Part(\"{part}\")"))));
            }
            Source::Batch(id) => {
                let Some(source) = r.batch(*id) else {
                    let what = format!("{} draws on batch {}, which is not there", dish.name, id.0);
                    return Err(invalid(what, near(format!("Batch({})", id.0))));
                };
                if *id == batch.id || source.day > batch.day {
                    let what = format!("{} is to be made from {from}, which is not made before it", dish.name);
                    return Err(invalid(what, near(format!("Batch({})", id.0))));
                }
            }
            Source::Part(_) => {}
        }
        let state = serve::state_of(r, &draw.from);
        if draw.portion.state() != state {
            let what =
                format!("{} draws {} grams on {from}, which gives {} ones", dish.name, draw.portion.state().word(), state.word());
            return Err(invalid(what, near("draws:".into())));
        }
        if draw.portion.state() != batch.state() {
            let what = format!("{} mixes raw and cooked grams; make two batches of it", dish.name);
            return Err(invalid(what, near("draws:".into())));
        }
        if draw.portion.is_zero() {
            return Err(invalid(format!("{} draws 0\u{a0}g on {from}; leave that line out", dish.name), near("draws:".into())));
        }
        if let Some(cut) = draw.cut_on
            && (cut > batch.day || cut < r.piece.opened)
        {
            let what = format!("{from} for {} is cut on day {}, which is not between opening and making", dish.name, cut.0);
            return Err(invalid(what, near("cut_on:".into())));
        }
    }
    Ok(())
}

fn batches_together(r: &Rotation) -> Result<(), Invalid> {
    if r.batches.len() > MAX_BATCHES {
        return Err(invalid(format!("more than {MAX_BATCHES} batches are planned"), ["batches:".into()]));
    }
    // Summed once: asked batch by batch, every meal would be walked for every batch.
    let mut served_of: BTreeMap<BatchId, u32> = BTreeMap::new();
    for meal in r.meals.values() {
        for (i, serving) in meal.servings.iter().enumerate() {
            if meal.servings[..i].iter().all(|s| s.batch != serving.batch) {
                let sum = served_of.entry(serving.batch).or_default();
                *sum = sum.saturating_add(serving.portion.get());
            }
        }
    }
    let mut passed_of: BTreeMap<BatchId, u32> = BTreeMap::new();
    for draw in r.batches.iter().flat_map(|b| &b.draws) {
        if let Source::Batch(id) = draw.from {
            let sum = passed_of.entry(id).or_default();
            *sum = sum.saturating_add(draw.portion.get());
        }
    }
    let mut ids = BTreeSet::new();
    for batch in &r.batches {
        let near = || ["batches:".to_string(), format!("id: {}", batch.id.0)];
        if !ids.insert(batch.id) {
            return Err(invalid(format!("the batch number {} is given twice; numbers must differ", batch.id.0), near()));
        }
        let of = |sums: &BTreeMap<BatchId, u32>| sums.get(&batch.id).copied().unwrap_or(0);
        let (pool, served, passed) = (batch.pool(), of(&served_of), of(&passed_of));
        if served > pool.get() {
            let name = serve::batch_name(r, batch.id);
            let what = format!("{} of {name} is served, but only {} goes into it", say(served), say(pool.get()));
            return Err(invalid(what, near()));
        }
        let unserved = pool.with(pool.get().saturating_sub(served));
        let rest = r.dishes.get(&batch.dish).map_or(0, |d| batch.cooked(unserved, d).get());
        if passed > rest {
            let name = serve::batch_name(r, batch.id);
            let what = format!("{} of {name} goes into later dishes, but only {} of it is left for them", say(passed), say(rest));
            return Err(invalid(what, near()));
        }
    }
    // A batch is made no earlier than its sources; among those of one day a circle is still possible.
    for batch in &r.batches {
        let mut open: Vec<_> = vec![batch.id];
        let mut seen = BTreeSet::new();
        while let Some(id) = open.pop() {
            for source in r.batch(id).into_iter().flat_map(|b| &b.draws) {
                if let Source::Batch(next) = source.from {
                    if next == batch.id {
                        let what = format!("{} is made from itself by way of other dishes", serve::batch_name(r, batch.id));
                        return Err(invalid(what, ["batches:".to_string(), format!("id: {}", batch.id.0)]));
                    }
                    if seen.insert(next) {
                        open.push(next);
                    }
                }
            }
        }
    }
    Ok(())
}

fn known_eater(r: &Rotation, id: super::EaterId, slot: Slot) -> Result<(), Invalid> {
    if r.household.eater(id).is_some() {
        return Ok(());
    }
    let what = format!("eater {} sits down at {}, but the household has nobody of that number", id.0, r.slot_name(slot));
    Err(invalid(what, ["meals:".into(), format!("day: {}", slot.day.0), id.0.to_string()]))
}

fn serving_stands(r: &Rotation, slot: Slot, serving: &Serving) -> Result<(), Invalid> {
    let near = |more: String| ["meals:".to_string(), format!("day: {}", slot.day.0), more];
    // Written out only where there is something to say: every edit comes by here for every serving.
    let at = || r.slot_name(slot);
    let Some(batch) = r.batch(serving.batch) else {
        let what = format!("{} serves batch {}, which is not there", at(), serving.batch.0);
        return Err(invalid(what, near(format!("batch: {}", serving.batch.0))));
    };
    let near_batch = || near(format!("batch: {}", batch.id.0));
    let Some(dish) = r.dishes.get(&batch.dish) else {
        return Err(invalid(format!("{} serves an unknown dish", at()), near_batch()));
    };
    if dish.role == Role::Component {
        let what = format!("{} is kept for later dishes and cannot be served at {} as it is", dish.name, at());
        return Err(invalid(what, near_batch()));
    }
    if serving.portion.state() != batch.state() {
        let what = format!(
            "{} serves {} grams of {}, which is counted {}",
            at(),
            serving.portion.state().word(),
            dish.name,
            batch.state().word()
        );
        return Err(invalid(what, near_batch()));
    }
    if serving.portion.is_zero() {
        return Err(invalid(format!("{} serves 0\u{a0}g of {}; leave that line out", at(), dish.name), near_batch()));
    }
    for id in serving.eaters.iter().chain(serving.twins.iter().map(|t| &t.eater)) {
        known_eater(r, *id, slot)?;
    }
    let mut with_twin = BTreeSet::new();
    for twin in &serving.twins {
        if !dish.twins.iter().any(|t| t.name == twin.twin) {
            let what = format!("{} has no twin called \"{}\"", dish.name, twin.twin.escape_debug());
            return Err(invalid(what, near(format!("twin: \"{}\"", twin.twin))));
        }
        if !with_twin.insert(twin.eater) {
            return Err(invalid(format!("{} gets two twins at {}; give one", r.household.name(twin.eater), at()), near_batch()));
        }
    }
    Ok(())
}
