//! Edits of what meals serve: serve, serve again, move, swap, take off.

use super::{
    Batch, BatchId, Draw, EaterId, Edit, Rotation, ServeFrom, Serving, Slot, Source, TwinServing,
    apply::{Outcome, Refusal, refuse},
    apply_batch,
    piece::divide,
    serve,
};
use crate::{
    book::{Dish, Role},
    quantity::{DayNo, Portion, System, write_grams},
};
use std::sync::Arc;

pub(super) fn carry_out(r: &mut Rotation, edit: &Edit) -> Outcome {
    match edit {
        Edit::Serve { dish, from, slot, portion } => serve_dish(r, dish, from, *slot, *portion),
        Edit::ServeAgain { batch, slot, portion } => serve_again(r, *batch, *slot, *portion),
        Edit::MoveServing { from, batch, to } => move_serving(r, *from, *batch, *to),
        Edit::SwapMeals(a, b) => swap_meals(r, *a, *b),
        Edit::RemoveServing { slot, batch } => remove_serving(r, *slot, *batch),
        Edit::SetServingEaters { slot, batch, eaters } => set_eaters(r, *slot, *batch, eaters),
        Edit::SetTwin { slot, batch, eater, twin } => set_twin(r, *slot, *batch, *eater, twin.as_deref()),
        _ => apply_batch::carry_out(r, edit),
    }
}

/// "520 g", for words and refusals.
pub(super) fn say(grams: u32) -> String {
    write_grams(grams, System::Metric)
}

pub(super) fn in_calendar(r: &Rotation, slot: Slot) -> Result<(), Refusal> {
    if r.has_slot(slot) { Ok(()) } else { refuse("that meal is outside the calendar") }
}

/// Whether `dish` can be made of this kind at all.
pub(super) fn suits_kind(r: &Rotation, dish: &Dish) -> Result<(), Refusal> {
    if dish.suits_kind(&r.kind) { Ok(()) } else { refuse(format!("{} is no dish for {}", dish.name, r.kind.name)) }
}

/// The copy of `dish` that the plan already holds, or `dish` itself, now held.
pub(super) fn hold(r: &mut Rotation, dish: &Arc<Dish>) -> Arc<Dish> {
    r.dishes.entry(dish.id.clone()).or_insert_with(|| dish.clone()).clone()
}

fn serve_dish(r: &mut Rotation, dish: &Arc<Dish>, from: &ServeFrom, slot: Slot, portion: Option<Portion>) -> Outcome {
    in_calendar(r, slot)?;
    suits_kind(r, dish)?;
    if dish.role == Role::Component {
        return refuse(format!("{} is kept for later dishes: make it ahead, then serve a dish of it", dish.name));
    }
    let dish = hold(r, dish);
    let present = r.eaters_at(slot);
    if present.is_empty() {
        return refuse(format!("nobody sits down at {}", r.slot_name(slot)));
    }
    let wanted = portion.map_or_else(|| dish.typical_for(r.units_at(slot)), Portion::get);
    let source = match from {
        ServeFrom::Source(source) => source.clone(),
        ServeFrom::BestPart => match serve::best_source(r, &dish, slot.day, wanted) {
            Some(source) => source,
            None if dish.state != r.kind.portioned => {
                return refuse(format!(
                    "{} is made from something kept back, and nothing of that is free by {}",
                    dish.name,
                    r.day_name(slot.day)
                ));
            }
            None => return refuse(format!("nothing of the {} is free: take some off another meal first", r.kind.name)),
        },
    };
    let portion = portion.unwrap_or_else(|| serve::suggested_portion(r, &dish, &source, slot));
    check_free(r, &source, portion)?;
    check_state(r, &dish, &source)?;
    let id = r.next_batch_id();
    r.batches.push(Batch { id, dish: dish.id.clone(), day: slot.day, draws: vec![Draw { from: source, portion, cut_on: None }] });
    let twins = serve::fitting_twins(r, &dish, &present);
    r.meals.entry(slot).or_default().servings.push(Serving { batch: id, portion, eaters: Vec::new(), twins });
    Ok(format!("Serve {} at {}, {}", dish.name, r.slot_name(slot), say(portion.get())))
}

/// Whether `source` has `portion` free, in its state.
pub(super) fn check_free(r: &Rotation, source: &Source, portion: Portion) -> Result<(), Refusal> {
    let name = serve::source_name(r, source);
    let most = serve::most_for(r, source);
    if portion.state() != most.state() {
        return refuse(format!("{name} is counted {}, not {}", most.state().word(), portion.state().word()));
    }
    if portion.is_zero() && most.is_zero() {
        return refuse(format!("nothing of {name} is free"));
    }
    if portion.is_zero() {
        return refuse("a portion of 0\u{a0}g is none: type how much");
    }
    if portion.get() > most.get() {
        return refuse(format!("only {} of {name} is free, not {}", say(most.get()), say(portion.get())));
    }
    Ok(())
}

/// Whether grams from `source` are what `dish` is reckoned in.
pub(super) fn check_state(r: &Rotation, dish: &Dish, source: &Source) -> Result<(), Refusal> {
    if let Source::Batch(id) = source
        && let Some(batch) = r.batch(*id)
        && !dish.from.contains(&batch.dish)
    {
        return refuse(format!("{} is not made from {}", dish.name, serve::batch_name(r, *id)));
    }
    let given = serve::state_of(r, source);
    if dish.state != given {
        let name = serve::source_name(r, source);
        return refuse(format!("{} is reckoned {}, and {name} is {}", dish.name, dish.state.word(), given.word()));
    }
    Ok(())
}

fn serving_at(r: &Rotation, slot: Slot, batch: BatchId) -> Result<&Serving, Refusal> {
    match r.meal(slot).serving(batch) {
        Some(serving) => Ok(serving),
        None => refuse(format!("{} does not serve that", r.slot_name(slot))),
    }
}

fn serve_again(r: &mut Rotation, id: BatchId, slot: Slot, portion: Option<Portion>) -> Outcome {
    in_calendar(r, slot)?;
    let (Some(batch), Some(dish)) = (r.batch(id).cloned(), r.dish_of(id).cloned()) else {
        return refuse("that batch is not there any more");
    };
    let at = r.slot_name(slot);
    if r.meal(slot).serving(id).is_some() {
        return refuse(format!("{at} serves {} already", dish.name));
    }
    if slot.day < batch.day {
        return refuse(format!("{} is made on {}, after {at}", dish.name, r.day_name(batch.day)));
    }
    let present = r.eaters_at(slot);
    if present.is_empty() {
        return refuse(format!("nobody sits down at {at}"));
    }
    let typical = dish.typical_for(r.units_at(slot));
    let unserved = r.unserved(&batch).get();
    let wanted = portion.map_or(if typical == 0 { unserved } else { typical }, Portion::get);
    if portion.is_some_and(|p| p.state() != batch.state()) {
        return refuse(format!("{} is counted {}", dish.name, batch.state().word()));
    }
    let mut got = wanted.min(unserved);
    if got < wanted && dish.role == Role::Meal {
        got += apply_batch::draw_more(r, id, wanted - got);
    }
    if portion.is_some() && got < wanted {
        return refuse(format!("only {} of {} can be had for {at}, not {}", say(got), dish.name, say(wanted)));
    }
    if got == 0 {
        got = share_out(r, id, slot);
    }
    if got == 0 {
        return refuse(format!("nothing of {} is left for {at}", dish.name));
    }
    let twins = serve::fitting_twins(r, &dish, &present);
    let portion = batch.pool().with(got);
    r.meals.entry(slot).or_default().servings.push(Serving { batch: id, portion, eaters: Vec::new(), twins });
    Ok(format!("Serve {} again at {at}, {}", dish.name, say(got)))
}

/// Shares what the other meals take of a batch with one more meal, by the units that sit down; returns the new meal's grams.
fn share_out(r: &mut Rotation, id: BatchId, slot: Slot) -> u32 {
    let slots: Vec<Slot> = r.servings_of(id).into_iter().map(|(s, _)| s).collect();
    let mut shares: Vec<u32> = slots.iter().map(|s| r.units_at(*s).hundredths()).collect();
    shares.push(r.units_at(slot).hundredths());
    let split = divide(r.served_from(id), &shares);
    for (other, grams) in slots.iter().zip(&split) {
        if let Some(serving) = serving_mut(r, *other, id) {
            serving.portion = serving.portion.with(*grams);
        }
    }
    split.last().copied().unwrap_or(0)
}

pub(super) fn serving_mut(r: &mut Rotation, slot: Slot, batch: BatchId) -> Option<&mut Serving> {
    r.meals.get_mut(&slot)?.servings.iter_mut().find(|s| s.batch == batch)
}

/// Lets the making follow the meals after a serving has gone from `old_day`: a batch made for that very day, and drawn on by
/// nothing else, is made on the day of its first meal; any batch is made at the latest on that day.
fn follow(r: &mut Rotation, id: BatchId, old_day: DayNo) {
    let first = r.servings_of(id).first().map(|(slot, _)| slot.day);
    let fed = r.batches.iter().any(|b| b.draws_on(id));
    if let (Some(first), Some(batch)) = (first, r.batches.iter_mut().find(|b| b.id == id)) {
        if (batch.day == old_day && !fed) || first < batch.day {
            batch.day = first;
        }
        let day = batch.day;
        for draw in &mut batch.draws {
            draw.cut_on = draw.cut_on.filter(|cut| *cut < day);
        }
    }
}

fn move_serving(r: &mut Rotation, from: Slot, id: BatchId, to: Slot) -> Outcome {
    in_calendar(r, to)?;
    let serving = serving_at(r, from, id)?.clone();
    let name = serve::batch_name(r, id);
    if from == to {
        return refuse(format!("{name} is at {} already", r.slot_name(to)));
    }
    if r.eaters_at(to).is_empty() {
        return refuse(format!("nobody sits down at {}", r.slot_name(to)));
    }
    if let Some(meal) = r.meals.get_mut(&from) {
        meal.servings.retain(|s| s.batch != id);
    }
    let target = r.meals.entry(to).or_default();
    match target.servings.iter_mut().find(|s| s.batch == id) {
        Some(there) => there.portion = there.portion.plus(serving.portion).map_err(|e| Refusal(e.to_string()))?,
        None => target.servings.push(serving),
    }
    follow(r, id, from.day);
    Ok(format!("Move {name} from {} to {}", r.slot_name(from), r.slot_name(to)))
}

fn swap_meals(r: &mut Rotation, a: Slot, b: Slot) -> Outcome {
    in_calendar(r, a)?;
    in_calendar(r, b)?;
    if a == b {
        return refuse("a meal cannot be swapped with itself");
    }
    let take = |r: &mut Rotation, slot| r.meals.get_mut(&slot).map(|m| std::mem::take(&mut m.servings)).unwrap_or_default();
    let (from_a, from_b) = (take(r, a), take(r, b));
    if from_a.is_empty() && from_b.is_empty() {
        return refuse(format!("neither {} nor {} serves anything", r.slot_name(a), r.slot_name(b)));
    }
    for (slot, servings) in [(a, &from_b), (b, &from_a)] {
        if !servings.is_empty() && r.eaters_at(slot).is_empty() {
            return refuse(format!("nobody sits down at {}", r.slot_name(slot)));
        }
    }
    let moved: Vec<(BatchId, DayNo)> =
        from_a.iter().map(|s| (s.batch, a.day)).chain(from_b.iter().map(|s| (s.batch, b.day))).collect();
    r.meals.entry(a).or_default().servings = from_b;
    r.meals.entry(b).or_default().servings = from_a;
    for (id, old_day) in moved {
        follow(r, id, old_day);
    }
    Ok(format!("Swap {} and {}", r.slot_name(a), r.slot_name(b)))
}

fn remove_serving(r: &mut Rotation, slot: Slot, id: BatchId) -> Outcome {
    let grams = serving_at(r, slot, id)?.portion.get();
    let name = serve::batch_name(r, id);
    let words = format!("Take {name} off {}", r.slot_name(slot));
    if let Some(meal) = r.meals.get_mut(&slot) {
        meal.servings.retain(|s| s.batch != id);
    }
    if r.dish_of(id).is_some_and(|d| d.role != Role::Meal) {
        return Ok(words);
    }
    apply_batch::draw_less(r, id, grams);
    let empty = r.batch(id).is_none_or(|b| b.pool().is_zero());
    let fed = r.batches.iter().any(|b| b.draws_on(id));
    if r.served_from(id) == 0 && !fed {
        r.batches.retain(|b| b.id != id);
    } else if empty {
        return refuse(format!("something is made from {name}: take that off first"));
    }
    Ok(words)
}

fn set_eaters(r: &mut Rotation, slot: Slot, id: BatchId, eaters: &[EaterId]) -> Outcome {
    let name = serve::batch_name(r, id);
    let order: Vec<EaterId> = r.household.eaters.iter().map(|e| e.id).filter(|e| eaters.contains(e)).collect();
    let names: Vec<String> = order.iter().map(|e| r.household.name(*e).to_string()).collect();
    serving_at(r, slot, id)?;
    if let Some(serving) = serving_mut(r, slot, id) {
        serving.eaters = order;
    }
    Ok(if names.is_empty() { format!("{name} is for everybody") } else { format!("{name} is for {}", names.join(", ")) })
}

fn set_twin(r: &mut Rotation, slot: Slot, id: BatchId, eater: EaterId, twin: Option<&str>) -> Outcome {
    let name = serve::batch_name(r, id);
    serving_at(r, slot, id)?;
    let who = r.household.name(eater).to_string();
    if let Some(serving) = serving_mut(r, slot, id) {
        serving.twins.retain(|t| t.eater != eater);
        if let Some(twin) = twin {
            serving.twins.push(TwinServing { eater, twin: twin.to_string() });
            serving.twins.sort_by_key(|t| t.eater);
        }
    }
    Ok(match twin {
        Some(twin) => format!("{who} gets {twin} beside {name}"),
        None => format!("{who} eats {name} like the others"),
    })
}
