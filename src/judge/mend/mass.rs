//! Mends of the mass balance: a home for what is left, less where too much is taken, a fitting part, a fitting plate.

use super::candidate::{Candidate, Sort, days_apart, empty_slots, say};
use crate::{
    book::{Book, Dish, PartId, Role},
    judge::Finding,
    quantity::{DayNo, Portion},
    rotation::{Batch, BatchId, Edit, Rotation, ServeFrom, Serving, Slot, Source},
};
use std::{collections::BTreeSet, sync::Arc};

/// The most empty meals, bank dishes and days that are tried.
const MAX_SLOTS: usize = 8;
const MAX_BANKS: usize = 4;
const MAX_DAYS: usize = 3;

/// Where more of a part may go: a meal's serving with the most it may still take.
struct Room {
    slot: Slot,
    batch: BatchId,
    name: String,
    grams: u32,
}

fn part_portion(rotation: &Rotation, grams: u32) -> Portion {
    Portion::of(rotation.kind.portioned, grams)
}

fn free_parts(rotation: &Rotation) -> Vec<(PartId, u32)> {
    let parts = rotation.piece.parts.iter().map(|p| (p.part.clone(), rotation.free_in_part(&p.part)));
    parts.filter(|(_, free)| *free > 0).map(|(part, free)| (part, free as u32)).collect()
}

/// The least and the most of the dish that a serving may hold for those who eat it.
fn bounds(rotation: &Rotation, slot: Slot, serving: &Serving, dish: &Dish) -> (u32, u32) {
    let units = rotation.household.units(serving.eaten_by(&rotation.eaters_at(slot), dish));
    (units.times(dish.grams.0), units.times(dish.grams.2))
}

/// The servings that may take more of `part`, those with most room first.
fn rooms(rotation: &Rotation, part: &PartId) -> Vec<Room> {
    let mut rooms = Vec::new();
    for slot in rotation.slots() {
        for serving in &rotation.meal(slot).servings {
            let Some(dish) = rotation.dish_of(serving.batch) else { continue };
            let takes = dish.role == Role::Meal && dish.suits_part(part) && serving.portion.state() == rotation.kind.portioned;
            let grams = bounds(rotation, slot, serving, dish).1.saturating_sub(serving.portion.get());
            if takes && grams > 0 {
                rooms.push(Room { slot, batch: serving.batch, name: dish.name.clone(), grams });
            }
        }
    }
    rooms.sort_by_key(|r| std::cmp::Reverse(r.grams));
    rooms
}

/// Mends of grams without a home: folded into a dish, banked, served as a dish of their own.
pub(super) fn homes_for_the_rest(rotation: &Rotation, book: &Book) -> Vec<Candidate> {
    let parts = free_parts(rotation);
    let mut out = Vec::new();
    if let [(part, free)] = parts.as_slice() {
        for room in rooms(rotation, part).into_iter().filter(|r| r.grams >= *free) {
            let edit =
                Edit::TopUp { slot: room.slot, batch: room.batch, part: part.clone(), portion: part_portion(rotation, *free) };
            out.push(Candidate::new(Sort::Grams, edit).saying(format!("Fold {} into {}", say(*free), room.name)));
        }
    }
    out.extend(share_out(rotation, &parts));
    out.extend(more_into_banks(rotation, &parts));
    out.extend(fresh_banks(rotation, book, &parts));
    if let [(part, free)] = parts.as_slice() {
        out.extend(further_dishes(rotation, book, part, *free));
    }
    out
}

/// Everything that is free, shared out among the dishes that may take it.
fn share_out(rotation: &Rotation, parts: &[(PartId, u32)]) -> Option<Candidate> {
    let mut edits = Vec::new();
    let mut names: Vec<String> = Vec::new();
    let mut taken: Vec<((Slot, BatchId), u32)> = Vec::new();
    for (part, free) in parts {
        let mut left = *free;
        for room in rooms(rotation, part) {
            let used: u32 = taken.iter().filter(|(at, _)| *at == (room.slot, room.batch)).map(|(_, g)| *g).sum();
            let grams = room.grams.saturating_sub(used).min(left);
            if grams == 0 {
                continue;
            }
            left -= grams;
            taken.push(((room.slot, room.batch), grams));
            let portion = part_portion(rotation, grams);
            edits.push(Edit::TopUp { slot: room.slot, batch: room.batch, part: part.clone(), portion });
            if !names.contains(&room.name) {
                names.push(room.name);
            }
        }
        if left > 0 {
            return None;
        }
    }
    if edits.len() < 2 {
        return None;
    }
    let all: u32 = parts.iter().map(|(_, free)| free).sum();
    let words = match names.as_slice() {
        [one] => format!("Fold {} into {one}", say(all)),
        _ => format!("Share {} out among {}", say(all), and(&names)),
    };
    let n = edits.len();
    Some(Candidate::new(Sort::Grams, Edit::Together { edits, words: words.clone() }).saying(words).further(n))
}

fn and(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

fn more_into_banks(rotation: &Rotation, parts: &[(PartId, u32)]) -> Vec<Candidate> {
    let mut out = Vec::new();
    for batch in &rotation.batches {
        let Some(dish) = rotation.dishes.get(&batch.dish) else { continue };
        let takes = dish.role == Role::Bank
            && batch.state() == rotation.kind.portioned
            && !parts.is_empty()
            && parts.iter().all(|(part, _)| dish.suits_part(part));
        if takes {
            let edits: Vec<Edit> = parts
                .iter()
                .map(|(part, free)| {
                    let source = Source::Part(part.clone());
                    let now = batch.draws.iter().find(|d| d.from == source).map_or(0, |d| d.portion.get());
                    Edit::SetDraw { batch: batch.id, source, portion: part_portion(rotation, now + free) }
                })
                .collect();
            let all: u32 = parts.iter().map(|(_, free)| free).sum();
            let words = format!("Put {} more into {}", say(all), dish.name);
            out.push(Candidate::new(Sort::Grams, together(edits, &words)).saying(words));
        }
    }
    out
}

fn together(mut edits: Vec<Edit>, words: &str) -> Edit {
    match edits.len() {
        1 => edits.swap_remove(0),
        _ => Edit::Together { edits, words: words.into() },
    }
}

/// Bank dishes made of the rest, on the last days of cooking first: what is over is banked at the end, not before.
fn fresh_banks(rotation: &Rotation, book: &Book, parts: &[(PartId, u32)]) -> Vec<Candidate> {
    let mut days: BTreeSet<DayNo> = rotation.batches.iter().map(|b| b.day).filter(|d| d.0 >= 1).collect();
    if days.is_empty() {
        days.insert(rotation.piece.opened.max(DayNo::FIRST));
    }
    let suits = |d: &Arc<Dish>| {
        d.role == Role::Bank && d.state == rotation.kind.portioned && parts.iter().all(|(part, _)| d.suits_part(part))
    };
    let banks: Vec<&Arc<Dish>> = book.dishes_for(&rotation.kind).filter(|d| suits(d)).take(MAX_BANKS).collect();
    let mut out = Vec::new();
    let [(part, free), ..] = parts else {
        return out;
    };
    for (i, day) in days.into_iter().rev().take(MAX_DAYS).enumerate() {
        for dish in &banks {
            let source = Source::Part(part.clone());
            let mut edits = vec![Edit::MakeAhead { dish: (*dish).clone(), day, source, portion: part_portion(rotation, *free) }];
            for (part, free) in &parts[1..] {
                let portion = part_portion(rotation, *free);
                edits.push(Edit::SetDraw { batch: rotation.next_batch_id(), source: Source::Part(part.clone()), portion });
            }
            let all: u32 = parts.iter().map(|(_, free)| free).sum();
            let words = format!("Make {} of the {} on {}", dish.name, say(all), rotation.day_name(day));
            out.push(Candidate::new(Sort::Ahead, together(edits, &words)).saying(words).further(i));
        }
    }
    out
}

/// A dish of its own for the rest, at an empty meal.
fn further_dishes(rotation: &Rotation, book: &Book, part: &PartId, free: u32) -> Vec<Candidate> {
    let mut out = Vec::new();
    for slot in empty_slots(rotation).into_iter().take(MAX_SLOTS) {
        let units = rotation.units_at(slot);
        let suits = |d: &Arc<Dish>| {
            d.role == Role::Meal
                && d.state == rotation.kind.portioned
                && d.suits_part(part)
                && !rotation.dishes.contains_key(&d.id)
                && (units.times(d.grams.0)..=units.times(d.grams.2)).contains(&free)
        };
        for dish in book.dishes_for(&rotation.kind).filter(|d| suits(d)).take(3) {
            let from = ServeFrom::Source(Source::Part(part.clone()));
            let edit = Edit::Serve { dish: dish.clone(), from, slot, portion: Some(part_portion(rotation, free)) };
            out.push(Candidate::new(Sort::Dish, edit));
        }
    }
    out
}

/// Mends of what a batch made and no meal takes: another serving, bigger servings, a smaller batch.
pub(super) fn uses_of_a_batch(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some((batch, dish)) = finding.batch.and_then(|id| Some((rotation.batch(id)?, rotation.dish_of(id)?))) else {
        return Vec::new();
    };
    let rest = rotation.unserved(batch).get();
    let mut out = Vec::new();
    for (slot, serving) in rotation.servings_of(batch.id) {
        if rest > 0 && serving.portion.get() + rest <= bounds(rotation, slot, serving, dish).1 {
            let portion = serving.portion.with(serving.portion.get() + rest);
            let edit = Edit::SetServing { slot, batch: batch.id, portion };
            out.push(Candidate::new(Sort::Grams, edit).saying(format!("Eat the {} at {}", say(rest), rotation.slot_name(slot))));
        }
    }
    if dish.role != Role::Component {
        let later = empty_slots(rotation).into_iter().filter(|s| s.day >= batch.day).take(MAX_SLOTS);
        for slot in later {
            let days = usize::from(slot.day.0.abs_diff(batch.day.0));
            for portion in [None, Some(batch.pool().with(rest)).filter(|p| !p.is_zero())] {
                let edit = Edit::ServeAgain { batch: batch.id, slot, portion };
                out.push(Candidate::new(Sort::Move, edit).further(days));
            }
        }
    }
    out.extend(smaller(rotation, batch, dish));
    out
}

/// The batch without what is left of it.
fn smaller(rotation: &Rotation, batch: &Batch, dish: &Dish) -> Option<Candidate> {
    let left = match dish.role {
        // Whole grams that may stay out and still leave enough, cooked, for the dishes made of it.
        Role::Component => u64::from(rotation.left_cooked(batch)) * 1_000 / u64::from(dish.yields.get().max(1)),
        _ => u64::from(rotation.unserved(batch).get()),
    };
    let draw = batch.draws.iter().rev().find(|d| u64::from(d.portion.get()) > left)?;
    let portion = draw.portion.with(draw.portion.get() - left as u32);
    let edit = Edit::SetDraw { batch: batch.id, source: draw.from.clone(), portion };
    (left > 0).then(|| Candidate::new(Sort::Grams, edit).saying(format!("Make {} less of {}", say(left as u32), dish.name)))
}

/// Mends of a part of which more is drawn than is there: smaller servings, none below what its dish is good for; or from
/// another part.
pub(super) fn less_of_a_part(rotation: &Rotation) -> Vec<Candidate> {
    let mut out = Vec::new();
    for part in &rotation.piece.parts {
        let over = rotation.free_in_part(&part.part).min(0).unsigned_abs().min(u64::from(u32::MAX)) as u32;
        if over == 0 {
            continue;
        }
        let source = Source::Part(part.part.clone());
        let drawing = rotation.batches.iter().filter(|b| b.draws.iter().any(|d| d.from == source));
        let mut spare: Vec<(Slot, &Serving, String, u32)> = Vec::new();
        for batch in drawing {
            let Some(dish) = rotation.dishes.get(&batch.dish) else { continue };
            let drawn: u32 = batch.draws.iter().filter(|d| d.from == source).map(|d| d.portion.get()).sum();
            if dish.role == Role::Meal {
                for (slot, serving) in rotation.servings_of(batch.id) {
                    let least = bounds(rotation, slot, serving, dish).0;
                    spare.push((slot, serving, dish.name.clone(), serving.portion.get().saturating_sub(least).min(drawn)));
                }
            } else if drawn > over {
                let portion = part_portion(rotation, drawn - over);
                let edit = Edit::SetDraw { batch: batch.id, source: source.clone(), portion };
                out.push(Candidate::new(Sort::Grams, edit).saying(format!("Make {} less of {}", say(over), dish.name)));
            }
            out.extend(from_another_part(rotation, batch, dish, &part.part, over.min(drawn)));
        }
        spare.sort_by_key(|s| std::cmp::Reverse(s.3));
        for (slot, serving, name, room) in &spare {
            if *room >= over {
                let portion = serving.portion.with(serving.portion.get() - over);
                let edit = Edit::SetServing { slot: *slot, batch: serving.batch, portion };
                let words = format!("Serve {} less of {name} at {}", say(over), rotation.slot_name(*slot));
                out.push(Candidate::new(Sort::Grams, edit).saying(words));
            }
        }
        out.extend(a_little_less_of_all(rotation, &spare, over));
    }
    out
}

fn a_little_less_of_all(rotation: &Rotation, spare: &[(Slot, &Serving, String, u32)], over: u32) -> Option<Candidate> {
    let room: u32 = spare.iter().map(|s| s.3).fold(0, u32::saturating_add);
    if spare.len() < 2 || room < over {
        return None;
    }
    let rooms: Vec<u32> = spare.iter().map(|s| s.3).collect();
    let shares = crate::rotation::divide(over, &rooms);
    let less = spare.iter().zip(&shares).filter(|(_, share)| **share > 0);
    let edits: Vec<Edit> = less
        .map(|((slot, serving, _, _), share)| Edit::SetServing {
            slot: *slot,
            batch: serving.batch,
            portion: serving.portion.with(serving.portion.get() - share),
        })
        .collect();
    let n = edits.len();
    let names: Vec<String> = spare.iter().zip(&shares).filter(|(_, s)| **s > 0).map(|(s, _)| rotation.slot_name(s.0)).collect();
    let words = format!("Serve a little less at {}", and(&names));
    Some(Candidate::new(Sort::Grams, Edit::Together { edits, words: words.clone() }).saying(words).further(n))
}

/// The serving at its typical size, or at the nearer end of what its dish is good for.
pub(super) fn a_fitting_serving(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some((slot, batch)) = finding.meal.zip(finding.batch) else {
        return Vec::new();
    };
    let (Some(serving), Some(dish)) = (rotation.meal(slot).serving(batch), rotation.dish_of(batch)) else {
        return Vec::new();
    };
    let units = rotation.household.units(serving.eaten_by(&rotation.eaters_at(slot), dish));
    let (least, most) = bounds(rotation, slot, serving, dish);
    let now = serving.portion.get();
    let end = if now < least { least } else { most };
    let mut sizes = vec![dish.typical_for(units), end];
    // As far as there is enough, between the two.
    let free: i64 = rotation.batch(batch).map_or(0, |b| {
        let parts = b.draws.iter().filter_map(|d| match &d.from {
            Source::Part(part) => Some(rotation.free_in_part(part).max(0)),
            Source::Batch(_) => None,
        });
        parts.sum::<i64>() + i64::from(rotation.unserved(b).get())
    });
    let reach = (i64::from(now) + free).clamp(0, i64::from(dish.typical_for(units))) as u32;
    if (least..=most).contains(&reach) {
        sizes.push(reach);
    }
    sizes.retain(|g| *g > 0 && *g != now);
    sizes.dedup();
    let at = rotation.slot_name(slot);
    let mut out = Vec::new();
    for (i, grams) in sizes.into_iter().enumerate() {
        let edit = Edit::SetServing { slot, batch, portion: serving.portion.with(grams) };
        let words = format!("Serve {} of {} at {at}", say(grams), dish.name);
        out.push(Candidate::new(Sort::Grams, edit).saying(words).further(i));
    }
    // The same dish for fewer meals or more is a matter of the cook's; a leftover serving may move to a meal of its size.
    for to in empty_slots(rotation).into_iter().take(MAX_SLOTS) {
        out.push(Candidate::new(Sort::Move, Edit::MoveServing { from: slot, batch, to }).further(days_apart(slot, to)));
    }
    out
}

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
        }
    }
    out
}

/// `grams` of what a batch draws from `part`, taken from each other part that suits and has so much free.
fn from_another_part(rotation: &Rotation, batch: &Batch, dish: &Dish, part: &PartId, grams: u32) -> Vec<Candidate> {
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
