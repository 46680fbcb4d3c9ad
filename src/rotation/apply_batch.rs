//! Edits of batches: grams, sources, days, dishes.

use super::{
    Batch, BatchId, Draw, Edit, Rotation, Slot, Source,
    apply::{Outcome, Refusal, refuse},
    apply_meal::{check_free, check_state, hold, say, serving_mut, suits_kind},
    serve,
};
use crate::{
    book::{Dish, PartId, Role},
    quantity::{DayNo, Portion},
};
use std::sync::Arc;

pub(super) fn carry_out(r: &mut Rotation, edit: &Edit) -> Outcome {
    match edit {
        Edit::TopUp { slot, batch, part, portion } => top_up(r, *slot, *batch, part, *portion),
        Edit::MakeAhead { dish, day, source, portion } => make_ahead(r, dish, *day, source, *portion),
        Edit::RemoveBatch(id) => remove_batch(r, *id),
        Edit::SetServing { slot, batch, portion } => set_serving(r, *slot, *batch, *portion),
        Edit::SetDraw { batch, source, portion } => set_draw(r, *batch, source, *portion),
        Edit::SetBatchDay { batch, day } => set_day(r, *batch, *day),
        Edit::SetCutDay { batch, cut_on } => set_cut_day(r, *batch, *cut_on),
        Edit::ChangeDish { batch, dish } => change_dish(r, *batch, dish),
        _ => refuse("that change is not known"),
    }
}

fn batch_mut(r: &mut Rotation, id: BatchId) -> Result<&mut Batch, Refusal> {
    match r.batches.iter_mut().find(|b| b.id == id) {
        Some(batch) => Ok(batch),
        None => refuse("that batch is not there any more"),
    }
}

fn role_of(r: &Rotation, id: BatchId) -> Role {
    r.dish_of(id).map_or(Role::Meal, |d| d.role)
}

/// Lets a batch draw up to `grams` more from its own sources, the first first; returns how much it got.
pub(super) fn draw_more(r: &mut Rotation, id: BatchId, grams: u32) -> u32 {
    let sources: Vec<Source> = r.batch(id).map(|b| b.draws.iter().map(|d| d.from.clone()).collect()).unwrap_or_default();
    let mut got = 0;
    for source in sources {
        let more = serve::most_for(r, &source).get().min(grams - got);
        let draw = r.batches.iter_mut().find(|b| b.id == id).and_then(|b| b.draws.iter_mut().find(|d| d.from == source));
        if let Some(draw) = draw {
            draw.portion = draw.portion.with(draw.portion.get() + more);
            got += more;
        }
    }
    got
}

/// Lets a batch draw `grams` less, the last source first.
pub(super) fn draw_less(r: &mut Rotation, id: BatchId, grams: u32) {
    let mut left = grams;
    if let Some(batch) = r.batches.iter_mut().find(|b| b.id == id) {
        for draw in batch.draws.iter_mut().rev() {
            let less = draw.portion.get().min(left);
            draw.portion = draw.portion.with(draw.portion.get() - less);
            left -= less;
        }
    }
}

fn top_up(r: &mut Rotation, slot: Slot, id: BatchId, part: &PartId, portion: Portion) -> Outcome {
    let Some(dish) = r.dish_of(id).cloned() else {
        return refuse("that batch is not there any more");
    };
    let source = Source::Part(part.clone());
    if r.meal(slot).serving(id).is_none() {
        return refuse(format!("{} does not serve {}", r.slot_name(slot), dish.name));
    }
    check_free(r, &source, portion)?;
    let batch = batch_mut(r, id)?;
    if batch.state() != portion.state() {
        return refuse(format!(
            "{} is made of {} grams: raw and cooked do not mix in one batch",
            dish.name,
            batch.state().word()
        ));
    }
    match batch.draws.iter_mut().find(|d| d.from == source) {
        Some(draw) => draw.portion = draw.portion.plus(portion).map_err(|e| Refusal(e.to_string()))?,
        None => batch.draws.push(Draw { from: source, portion, cut_on: None }),
    }
    if let Some(serving) = serving_mut(r, slot, id) {
        serving.portion = serving.portion.plus(portion).map_err(|e| Refusal(e.to_string()))?;
    }
    Ok(format!("Add {} to {} at {}", say(portion.get()), dish.name, r.slot_name(slot)))
}

fn make_ahead(r: &mut Rotation, dish: &Arc<Dish>, day: DayNo, source: &Source, portion: Portion) -> Outcome {
    suits_kind(r, dish)?;
    if dish.role == Role::Meal {
        return refuse(format!("{} is eaten when it is made: serve it at a meal", dish.name));
    }
    if !(1..=r.days as i16).contains(&day.0) {
        return refuse("that day is outside the calendar");
    }
    let dish = hold(r, dish);
    check_free(r, source, portion)?;
    check_state(r, &dish, source)?;
    let id = r.next_batch_id();
    r.batches.push(Batch { id, dish: dish.id.clone(), day, draws: vec![Draw { from: source.clone(), portion, cut_on: None }] });
    Ok(format!("Make {} on {}, {}", dish.name, r.day_name(day), say(portion.get())))
}

fn remove_batch(r: &mut Rotation, id: BatchId) -> Outcome {
    let name = serve::batch_name(r, id);
    if r.batch(id).is_none() {
        return refuse("that batch is not there any more");
    }
    if let Some(later) = r.batches.iter().find(|b| b.draws_on(id)) {
        return refuse(format!("{} is made from {name}: take that off first", serve::batch_name(r, later.id)));
    }
    for meal in r.meals.values_mut() {
        meal.servings.retain(|s| s.batch != id);
    }
    r.batches.retain(|b| b.id != id);
    Ok(format!("Take {name} away"))
}

fn set_serving(r: &mut Rotation, slot: Slot, id: BatchId, portion: Portion) -> Outcome {
    let name = serve::batch_name(r, id);
    let at = r.slot_name(slot);
    let Some(old) = r.meal(slot).serving(id).map(|s| s.portion) else {
        return refuse(format!("{at} does not serve that"));
    };
    if portion.state() != old.state() {
        return refuse(format!("{name} is counted {}", old.state().word()));
    }
    if portion.is_zero() {
        return refuse(format!("0\u{a0}g is no serving: take {name} off {at} instead"));
    }
    if portion.get() > old.get() {
        let wanted = portion.get() - old.get();
        let unserved = r.batch(id).map_or(0, |b| r.unserved(b).get()).min(wanted);
        let got = unserved + draw_more(r, id, wanted - unserved);
        if got < wanted {
            return refuse(format!("only {} can be had for {name} at {at}, not {}", say(old.get() + got), say(portion.get())));
        }
    } else if role_of(r, id) == Role::Meal {
        draw_less(r, id, old.get() - portion.get());
    }
    if let Some(serving) = serving_mut(r, slot, id) {
        serving.portion = portion;
    }
    Ok(format!("Set {name} at {at} to {}", say(portion.get())))
}

fn set_draw(r: &mut Rotation, id: BatchId, source: &Source, portion: Portion) -> Outcome {
    let name = serve::batch_name(r, id);
    let from = serve::source_name(r, source);
    let Some(batch) = r.batch(id).cloned() else {
        return refuse("that batch is not there any more");
    };
    let old = batch.draws.iter().find(|d| d.from == *source).map_or(0, |d| d.portion.get());
    if portion.get() > old {
        let most = serve::most_for(r, source);
        if portion.state() != most.state() {
            return refuse(format!("{from} is counted {}, not {}", most.state().word(), portion.state().word()));
        }
        if portion.get() - old > most.get() {
            return refuse(format!("only {} of {from} can be had, not {}", say(old + most.get()), say(portion.get())));
        }
    }
    if old == 0
        && let Some(dish) = r.dish_of(id).cloned()
    {
        check_state(r, &dish, source)?;
    }
    let follows = role_of(r, id) == Role::Meal && r.unserved(&batch).is_zero();
    let batch = batch_mut(r, id)?;
    match batch.draws.iter_mut().find(|d| d.from == *source) {
        Some(draw) => draw.portion = portion,
        None => batch.draws.push(Draw { from: source.clone(), portion, cut_on: None }),
    }
    batch.draws.retain(|d| !d.portion.is_zero());
    if batch.draws.is_empty() {
        return refuse(format!("{name} would be made of nothing: take it off instead"));
    }
    let pool = batch.pool();
    // A batch that one meal eats up keeps being eaten up.
    let meals: Vec<Slot> = r.servings_of(id).into_iter().map(|(slot, _)| slot).collect();
    if let (true, [only]) = (follows, meals.as_slice())
        && let Some(serving) = serving_mut(r, *only, id)
    {
        serving.portion = pool;
    }
    Ok(format!("Take {} of {from} for {name}", say(portion.get())))
}

fn set_day(r: &mut Rotation, id: BatchId, day: DayNo) -> Outcome {
    let name = serve::batch_name(r, id);
    if let Some((slot, _)) = r.servings_of(id).first()
        && slot.day < day
    {
        return refuse(format!("{name} is eaten at {} already: it cannot be made on {}", r.slot_name(*slot), r.day_name(day)));
    }
    if let Some(later) = r.batches.iter().find(|b| b.draws_on(id) && b.day < day) {
        return refuse(format!("{} is made from it on {}", serve::batch_name(r, later.id), r.day_name(later.day)));
    }
    let words = format!("Make {name} on {}", r.day_name(day));
    let batch = batch_mut(r, id)?;
    batch.day = day;
    for draw in &mut batch.draws {
        draw.cut_on = draw.cut_on.filter(|cut| *cut < day);
    }
    Ok(words)
}

fn set_cut_day(r: &mut Rotation, id: BatchId, cut_on: Option<DayNo>) -> Outcome {
    let name = serve::batch_name(r, id);
    let words = match cut_on {
        Some(day) => format!("Cut for {name} on {}", r.day_name(day)),
        None => format!("Cut for {name} on the day itself"),
    };
    let batch = batch_mut(r, id)?;
    let day = batch.day;
    for draw in batch.draws.iter_mut().filter(|d| matches!(d.from, Source::Part(_))) {
        draw.cut_on = cut_on.filter(|cut| *cut != day);
    }
    Ok(words)
}

fn change_dish(r: &mut Rotation, id: BatchId, dish: &Arc<Dish>) -> Outcome {
    let old_name = serve::batch_name(r, id);
    let old_role = role_of(r, id);
    suits_kind(r, dish)?;
    let dish = hold(r, dish);
    let Some(batch) = r.batch(id).cloned() else {
        return refuse("that batch is not there any more");
    };
    if dish.role != old_role {
        return refuse(format!("{} and {old_name} are not of one sort: take the one off and serve the other", dish.name));
    }
    if batch.dish == dish.id {
        return refuse(format!("it is {} already", dish.name));
    }
    if r.batches.iter().any(|b| b.draws_on(id) && !r.dishes.get(&b.dish).is_some_and(|d| d.from.contains(&dish.id))) {
        return refuse(format!("something else is made from {old_name}: change that first"));
    }
    for draw in &batch.draws {
        check_state(r, &dish, &draw.from)?;
    }
    batch_mut(r, id)?.dish = dish.id.clone();
    move_to_fitting_part(r, id, &dish);
    let slots: Vec<Slot> = r.servings_of(id).into_iter().map(|(slot, _)| slot).collect();
    for slot in &slots {
        let present = r.eaters_at(*slot);
        let twins = serve::fitting_twins(r, &dish, &present);
        if let Some(serving) = serving_mut(r, *slot, id) {
            serving.twins = twins;
        }
    }
    if let [only] = slots.as_slice() {
        bring_into_range(r, *only, id, &dish);
    }
    Ok(format!("Make {} instead of {old_name}", dish.name))
}

/// Takes the grams of a batch from a part that the dish suits, where the old one does not and another has enough free.
fn move_to_fitting_part(r: &mut Rotation, id: BatchId, dish: &Dish) {
    let Some(batch) = r.batch(id).cloned() else { return };
    for draw in batch.draws {
        let Source::Part(part) = &draw.from else { continue };
        if dish.suits_part(part) {
            continue;
        }
        let better = dish.parts.iter().find(|p| r.piece.part(p).is_some() && r.free_in_part(p) >= i64::from(draw.portion.get()));
        let already = r.batch(id).into_iter().flat_map(|b| &b.draws).map(|d| d.from.clone()).collect::<Vec<_>>();
        if let Some(better) = better.filter(|p| !already.contains(&Source::Part((*p).clone())))
            && let Some(own) =
                r.batches.iter_mut().find(|b| b.id == id).and_then(|b| b.draws.iter_mut().find(|d| d.from == draw.from))
        {
            own.from = Source::Part(better.clone());
            own.cut_on = None;
        }
    }
}

/// Brings the only serving of a batch to what the dish is good for, as far as there is enough.
fn bring_into_range(r: &mut Rotation, slot: Slot, id: BatchId, dish: &Dish) {
    let Some(serving) = r.meal(slot).serving(id).cloned() else { return };
    let units = r.household.units(super::eaten_by(r, &serving, &r.eaters_at(slot)));
    let (least, most) = (units.times(dish.grams.0), units.times(dish.grams.2));
    let now = serving.portion.get();
    if most == 0 || (least..=most).contains(&now) {
        return;
    }
    let typical = dish.typical_for(units).max(1);
    let reachable = if typical > now {
        let unserved = r.batch(id).map_or(0, |b| r.unserved(b).get()).min(typical - now);
        now + unserved + draw_more(r, id, typical - now - unserved)
    } else {
        draw_less(r, id, now - typical);
        typical
    };
    if let Some(serving) = serving_mut(r, slot, id) {
        serving.portion = serving.portion.with(reachable);
    }
}
