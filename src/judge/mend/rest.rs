//! Mends of grams without a home: folded into a dish, banked, cooked in time, served as a dish of their own.

use super::{
    Shelf,
    candidate::{Candidate, Loses, Sort, and, bounds, empty_slots, part_portion, say},
    taste::felt_beside,
};
use crate::{
    book::{Book, Dish, PartId, Role},
    judge::{Code, Finding, Severity, judge, words::is_much},
    quantity::DayNo,
    rotation::{BatchId, Edit, PieceEdit, Rotation, ServeFrom, Slot, Source, apply, typical_at},
};
use std::{collections::BTreeSet, sync::Arc};

/// The most empty meals, bank dishes and days that are tried.
pub(super) const MAX_SLOTS: usize = 8;
const MAX_BANKS: usize = 4;
const MAX_DAYS: usize = 3;

/// Where more of a part may go: a meal's serving with the most it may still take.
struct Room {
    slot: Slot,
    batch: BatchId,
    name: String,
    grams: u32,
}

fn free_parts(rotation: &Rotation) -> Vec<(PartId, u32)> {
    let parts = rotation.piece.parts.iter().map(|p| (p.part.clone(), rotation.free_in_part(&p.part)));
    parts.filter(|(_, free)| *free > 0).map(|(part, free)| (part, free as u32)).collect()
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

/// Everything that is free, or what is free of one part, given to others while they can still make something of it.
pub(super) fn given_away(rotation: &Rotation, only: Option<&str>) -> Option<Candidate> {
    let mut parts = free_parts(rotation);
    parts.retain(|(part, _)| only.is_none_or(|o| part.as_str() == o));
    let all = parts.iter().map(|(_, free)| *free).fold(0, u32::saturating_add);
    let gives = parts.iter().map(|(part, free)| Edit::Piece(PieceEdit::GiveAway(part.clone(), part_portion(rotation, *free))));
    let words = format!("Give {} away while it is fresh", say(all));
    (all > 0).then(|| Candidate::new(Sort::Away, together(gives.collect(), &words)).saying(words).losing(Loses::AMeal))
}

/// Mends of grams without a home: folded into a dish, banked, served as a dish of their own.
pub(super) fn homes_for_the_rest(rotation: &Rotation, book: &Shelf<'_>) -> Vec<Candidate> {
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
    out.extend(fill_open_meals(rotation, book));
    out
}

/// The most dishes that are judged for one open meal.
const MAX_TASTED: usize = 6;

/// Every open meal filled in turn with the dish that takes most of what is free among those least like their neighbours, and
/// that brings up nothing graver than a caution; what is over then goes into the plates, or into a bank where the book has one.
fn fill_open_meals(rotation: &Rotation, book: &Shelf<'_>) -> Option<Candidate> {
    let usable = rotation.piece.usable_total(rotation.kind.portioned).get();
    let mut plan = rotation.clone();
    let mut edits = Vec::new();
    let mut meals = Vec::new();
    let slots: Vec<Slot> = empty_slots(rotation).into_iter().take(MAX_SLOTS).collect();
    for (i, slot) in slots.iter().copied().enumerate() {
        if free_parts(&plan).is_empty() {
            break;
        }
        let open = (slots.len() - i) as u32;
        if let Some((next, edit)) = best_at(&plan, book, slot, open) {
            plan = next;
            edits.push(edit);
            meals.push(rotation.slot_name(slot));
        }
    }
    if meals.is_empty() {
        return None;
    }
    let mut words = format!("Serve a dish at {}", and(&meals));
    let parts = free_parts(&plan);
    let left = |parts: &[(PartId, u32)]| parts.iter().map(|(_, g)| *g).fold(0, u32::saturating_add);
    if !parts.is_empty() {
        let whole = share_out(&plan, &parts).into_iter().chain(more_into_banks(&plan, &parts));
        let rest = whole.chain(fresh_banks(&plan, book, &parts)).find(|c| apply(&plan, &c.edit).is_ok());
        match rest {
            Some(c) => {
                words.push_str(", and the rest goes in as well");
                edits.push(c.edit);
            }
            // Crumbs may stay; more is no mend.
            None if is_much(left(&parts), usable) => return None,
            None => {}
        }
    }
    let n = edits.len();
    Some(Candidate::new(Sort::Serve, together(edits, &words)).saying(words).further(n * 10))
}

/// The plan with one open meal served, and the edit that does it.
fn best_at(plan: &Rotation, book: &Shelf<'_>, slot: Slot, open: u32) -> Option<(Rotation, Edit)> {
    let graver = |r: &Rotation| {
        let grave = |f: &&Finding| f.speaks() && f.severity <= Severity::Warn && f.code != Code::Unallocated;
        judge(r).findings.iter().filter(grave).count()
    };
    let parts = free_parts(plan);
    let all = parts.iter().map(|(_, g)| *g).fold(0, u32::saturating_add);
    let mut choices: Vec<(f64, u32, Edit)> = Vec::new();
    for (first, free) in &parts {
        let fresh = |d: &&Arc<Dish>| !plan.dishes.contains_key(&d.id);
        for dish in made_of(plan, book, first, Role::Meal).filter(fresh) {
            // What the plates may hold of those who would eat of it.
            let typical = typical_at(plan, dish, slot);
            let of = |g: u32| (u64::from(typical) * u64::from(g)).checked_div(u64::from(dish.grams.1)).unwrap_or(0) as u32;
            let (least, most) = (of(dish.grams.0), of(dish.grams.2));
            // An even share of what is free, so that no meal is left with scraps.
            let wanted = (all / open).saturating_add(1).min(most).max(least);
            let mut grams = wanted.min(*free);
            let portion = part_portion(plan, grams);
            let from = ServeFrom::Source(Source::Part(first.clone()));
            let mut edits = vec![Edit::Serve { dish: dish.clone(), from, slot, portion: Some(portion) }];
            for (part, free) in parts.iter().filter(|(p, _)| p != first && dish.suits_part(p)) {
                let more = (*free).min(wanted - grams);
                if more > 0 {
                    grams += more;
                    let (batch, portion) = (plan.next_batch_id(), part_portion(plan, more));
                    edits.push(Edit::TopUp { slot, batch, part: part.clone(), portion });
                }
            }
            if grams > 0 && grams >= least {
                let words = format!("Serve {} at {}", dish.name, plan.slot_name(slot));
                choices.push((felt_beside(plan, book, slot, None, dish), grams, together(edits, &words)));
            }
        }
    }
    // Unlike first, in steps of a quarter; among those the one that takes most. Stable: in the order of the book.
    let step = |felt: f64| (felt * 4.0) as u32;
    choices.sort_by_key(|c| (step(c.0), std::cmp::Reverse(c.1)));
    let before = graver(plan);
    choices.into_iter().take(MAX_TASTED).find_map(|(_, _, edit)| {
        let next = apply(plan, &edit).ok()?.rotation;
        (graver(&next) <= before).then_some((next, edit))
    })
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
            // Much more of a bank than was wanted is as large a change as a bank of its own.
            let sort = if all * 2 > batch.pool().get() { Sort::Ahead } else { Sort::Grams };
            out.push(Candidate::new(sort, together(edits, &words)).saying(words));
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

/// The days on which the piece is worked on anyway, the last first; else the day it is opened.
fn working_days(rotation: &Rotation) -> Vec<DayNo> {
    let mut days: BTreeSet<DayNo> = rotation.batches.iter().map(|b| b.day).filter(|d| d.0 >= 1).collect();
    if days.is_empty() {
        days.insert(rotation.piece.opened.max(DayNo::FIRST));
    }
    days.into_iter().rev().collect()
}

/// The dishes of one role that can be made of `part`.
fn made_of<'b>(rotation: &'b Rotation, book: &'b Book, part: &'b PartId, role: Role) -> impl Iterator<Item = &'b Arc<Dish>> {
    let fitting = move |d: &&Arc<Dish>| d.role == role && d.state == rotation.kind.portioned && d.suits_part(part);
    book.dishes_for(&rotation.kind).filter(fitting)
}

/// Bank dishes made of the rest, on the last days of cooking first: what is over is banked at the end, not before.
fn fresh_banks(rotation: &Rotation, book: &Shelf<'_>, parts: &[(PartId, u32)]) -> Vec<Candidate> {
    let mut out = Vec::new();
    for (i, day) in working_days(rotation).into_iter().take(MAX_DAYS).enumerate() {
        for choice in 0..MAX_BANKS {
            let made: Option<Vec<(&PartId, u32, &Arc<Dish>)>> = parts
                .iter()
                .map(|(part, free)| made_of(rotation, book, part, Role::Bank).nth(choice).map(|d| (part, *free, d)))
                .collect();
            let Some(made) = made.filter(|m| !m.is_empty()) else { break };
            let edits = made.iter().map(|(part, free, dish)| Edit::MakeAhead {
                dish: (*dish).clone(),
                day,
                source: Source::Part((*part).clone()),
                portion: part_portion(rotation, *free),
            });
            let mut names: Vec<String> = made.iter().map(|(_, _, d)| d.name.clone()).collect();
            names.dedup();
            let all: u32 = parts.iter().map(|(_, free)| free).sum();
            let words = format!("Make {} of the {} on {}", and(&names), say(all), rotation.day_name(day));
            let edit = together(edits.collect(), &words);
            out.push(Candidate::new(Sort::Ahead, edit).saying(words).further(i));
        }
    }
    out
}

/// A dish of its own for the rest, at an empty meal: the least like its neighbours first.
fn further_dishes(rotation: &Rotation, book: &Shelf<'_>, part: &PartId, free: u32) -> Vec<Candidate> {
    let mut out = Vec::new();
    for slot in empty_slots(rotation).into_iter().take(MAX_SLOTS) {
        let units = rotation.units_at(slot);
        let enough = |d: &&Arc<Dish>| (units.times(d.grams.0)..=units.times(d.grams.2)).contains(&free);
        let fresh = |d: &&Arc<Dish>| !rotation.dishes.contains_key(&d.id);
        let mut dishes: Vec<(f64, &Arc<Dish>)> = made_of(rotation, book, part, Role::Meal)
            .filter(|d| enough(d) && fresh(d))
            .map(|d| (felt_beside(rotation, book, slot, None, d), d))
            .collect();
        dishes.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.id.cmp(&b.1.id)));
        for (i, (_, dish)) in dishes.into_iter().take(4).enumerate() {
            let from = ServeFrom::Source(Source::Part(part.clone()));
            let edit = Edit::Serve { dish: dish.clone(), from, slot, portion: Some(part_portion(rotation, free)) };
            out.push(Candidate::new(Sort::Serve, edit).at(rotation, slot).further(i));
        }
    }
    out
}

/// Mends of a part that would lie raw too long: cooked or banked while it keeps, on any working day, the first first.
pub(super) fn cooked_in_time(rotation: &Rotation, book: &Shelf<'_>, finding: &Finding) -> Vec<Candidate> {
    let mut days = working_days(rotation);
    days.reverse();
    let mut out = homes_for_the_rest(rotation, book);
    for (part, free) in free_parts(rotation) {
        for role in [Role::Component, Role::Bank] {
            for dish in made_of(rotation, book, &part, role).take(2) {
                for day in days.iter().take(MAX_DAYS) {
                    let (source, portion) = (Source::Part(part.clone()), part_portion(rotation, free));
                    out.push(Candidate::new(Sort::Ahead, Edit::MakeAhead { dish: dish.clone(), day: *day, source, portion }));
                }
            }
        }
    }
    let part = finding.key.0.rsplit('/').next();
    out.extend(given_away(rotation, part));
    // What is left alone may be too much of what is left.
    out.extend(given_away(rotation, None));
    out
}
