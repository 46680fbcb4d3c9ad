//! Mends of sizes: a batch nobody eats up, a part of which too much is taken, a plate too small or too big.

use super::{
    candidate::{Candidate, Sort, and, bounds, days_apart, empty_slots, part_portion, say},
    parts::from_another_part,
    rest::MAX_SLOTS,
};
use crate::{
    book::{Dish, Role},
    judge::Finding,
    rotation::{Batch, Edit, Rotation, Serving, Slot, Source, eaten_by},
};

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

/// Mends of a pot that is not cold in time: less is kept back, for it is made closer to the meal that eats it, or made twice.
pub(super) fn more_on_the_day(rotation: &Rotation, finding: &Finding) -> Vec<Candidate> {
    let Some((batch, dish)) = finding.batch.and_then(|id| Some((rotation.batch(id)?, rotation.dish_of(id)?))) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    let later = rotation.servings_of(batch.id).into_iter().filter(|(slot, _)| slot.day > batch.day).map(|(slot, _)| slot);
    for slot in later {
        let told = Finding { meal: Some(slot), ..finding.clone() };
        out.extend(super::clock::afresh(rotation, &told));
    }
    // A component or a stew that nobody eats on its day may be made on the day when somebody does.
    let used = rotation.servings_of(batch.id).into_iter().map(|(slot, _)| slot.day);
    let used = used.chain(rotation.batches.iter().filter(|b| b.draws_on(batch.id)).map(|b| b.day)).min();
    if let Some(day) = used.filter(|day| *day > batch.day) {
        out.push(Candidate::new(Sort::Day, Edit::SetBatchDay { batch: batch.id, day }));
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
                // What no meal takes of it need not be made.
                if rotation.unserved(batch).get() >= over && drawn > over {
                    let portion = part_portion(rotation, drawn - over);
                    let edit = Edit::SetDraw { batch: batch.id, source: source.clone(), portion };
                    out.push(Candidate::new(Sort::Grams, edit).saying(format!("Make {} less of {}", say(over), dish.name)));
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
    let units = rotation.household.units(eaten_by(rotation, serving, &rotation.eaters_at(slot)));
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
