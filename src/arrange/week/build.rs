//! Laying dishes into a plan: batches, servings, components, what is put by.

use super::choice::Route;
use crate::{
    book::Dish,
    quantity::{DayNo, Grams, Portion, State},
    rotation::{Batch, BatchId, Draw, Rotation, Serving, Slot, Source, fitting_twins},
};
use std::sync::Arc;

/// One dish to be laid at one meal.
#[derive(Clone, Debug)]
pub(super) struct Laid {
    pub slot: Slot,
    pub dish: Arc<Dish>,
    pub route: Route,
    /// Grams of each source, in the state in which they leave it; for what is made of another laid dish, of its sources.
    pub draws: Vec<(Source, u32)>,
    /// The place in the list of the dish that it is made of, for [`Route::Of`] and [`Route::Again`]; it stands before.
    pub of: Option<usize>,
}

impl Laid {
    pub(super) fn of(slot: Slot, dish: &Arc<Dish>, route: &Route, draws: &[(Source, u32)]) -> Laid {
        Laid { slot, dish: dish.clone(), route: route.clone(), draws: draws.to_vec(), of: None }
    }

    /// The same, made of the dish at this place of the list.
    pub(super) fn made_of(mut self, place: usize) -> Laid {
        self.of = Some(place);
        self
    }

    /// A gram of it out of nowhere, to see who would eat.
    pub(super) fn probe(slot: Slot, dish: &Dish) -> Laid {
        Laid { slot, dish: Arc::new(dish.clone()), route: Route::Fresh, draws: Vec::new(), of: None }
    }
}

/// What is put by: of which dish, on which day, how much of which source.
#[derive(Clone, Debug)]
pub(super) struct PutBy {
    pub dish: Arc<Dish>,
    pub day: DayNo,
    pub draws: Vec<(Source, u32)>,
}

fn draw(from: &Source, state: State, grams: u32) -> Draw {
    Draw { from: from.clone(), portion: Portion::of(state, grams), cut_on: None }
}

/// `plan` with all this laid in. Components of one dish made on one day become one batch. Dishes that the plan holds already
/// stay as it holds them.
pub(super) fn lay(plan: &Rotation, laid: &[Laid], put_by: &[PutBy]) -> Rotation {
    let mut r = plan.clone();
    let raw = r.kind.portioned;
    let mut made: Vec<BatchId> = Vec::with_capacity(laid.len());
    let mut components: Vec<(BatchId, DayNo)> = Vec::new();
    for (place, one) in laid.iter().enumerate() {
        let own: u32 = one.draws.iter().map(|d| d.1).sum();
        let (batch, portion) = match &one.route {
            Route::Fresh => {
                let mut draws: Vec<Draw> = one.draws.iter().filter(|d| d.1 > 0).map(|(s, g)| draw(s, raw, *g)).collect();
                // What later dishes are made of goes into the same pot.
                for (source, grams) in laid.iter().filter(|l| l.of == Some(place)).flat_map(|l| &l.draws) {
                    add(&mut draws, source, raw, *grams);
                }
                (push(&mut r, &one.dish, one.slot.day, draws), Portion::of(raw, own))
            }
            Route::Component(component, day) => {
                let known = components.iter().find(|(id, d)| d == day && r.batch(*id).is_some_and(|b| b.dish == component.id));
                let known = known.map(|k| k.0);
                let before = known.and_then(|id| r.batch(id)).map_or(0, |b| b.pool().get());
                let id = known.unwrap_or_else(|| push(&mut r, component, *day, Vec::new()));
                if let Some(batch) = r.batches.iter_mut().find(|b| b.id == id) {
                    one.draws.iter().for_each(|(source, grams)| add(&mut batch.draws, source, raw, *grams));
                }
                if known.is_none() {
                    components.push((id, *day));
                }
                // The broken gram is given to whom it makes whole.
                let cooked = |grams: u32| u64::from(grams) * u64::from(component.yields.get()) / 1_000;
                let cooked = (cooked(before + own) - cooked(before)).min(u64::from(u32::MAX)) as u32;
                let portion = Portion::Cooked(Grams::clamped(cooked));
                let from = Draw { from: Source::Batch(id), portion, cut_on: None };
                (push(&mut r, &one.dish, one.slot.day, vec![from]), portion)
            }
            Route::Of(_) => {
                let source = one.of.and_then(|p| made.get(p).zip(laid.get(p)));
                let Some((id, source)) = source else { continue };
                let portion = match Portion::of(raw, own) {
                    Portion::Prepared(g) => g.yielding(source.dish.yields),
                    Portion::Cooked(g) => g.yielding(source.dish.yields),
                };
                let from = Draw { from: Source::Batch(*id), portion: Portion::Cooked(portion), cut_on: None };
                (push(&mut r, &one.dish, one.slot.day, vec![from]), Portion::Cooked(portion))
            }
            Route::Again(_) => match one.of.and_then(|p| made.get(p)) {
                Some(id) => (*id, Portion::of(raw, own)),
                None => continue,
            },
            Route::Batch(id) => {
                let again = r.batch(*id).is_some_and(|b| b.dish == one.dish.id);
                if again {
                    let state = r.batch(*id).map_or(State::Cooked, Batch::state);
                    (*id, Portion::of(state, own))
                } else {
                    let portion = Portion::Cooked(Grams::clamped(own));
                    let from = Draw { from: Source::Batch(*id), portion, cut_on: None };
                    (push(&mut r, &one.dish, one.slot.day, vec![from]), portion)
                }
            }
        };
        made.push(batch);
        let present = r.eaters_at(one.slot);
        let dish = r.dish_of(batch).cloned().unwrap_or_else(|| one.dish.clone());
        let twins = fitting_twins(&r, &dish, &present);
        r.meals.entry(one.slot).or_default().servings.push(Serving { batch, portion, eaters: Vec::new(), twins });
    }
    for jar in put_by {
        let draws: Vec<Draw> = jar.draws.iter().filter(|d| d.1 > 0).map(|(s, g)| draw(s, raw, *g)).collect();
        if !draws.is_empty() {
            push(&mut r, &jar.dish, jar.day, draws);
        }
    }
    r
}

fn add(draws: &mut Vec<Draw>, source: &Source, state: State, grams: u32) {
    match draws.iter_mut().find(|d| d.from == *source) {
        Some(there) => there.portion = there.portion.with(there.portion.get() + grams),
        None if grams > 0 => draws.push(draw(source, state, grams)),
        None => {}
    }
}

fn push(r: &mut Rotation, dish: &Arc<Dish>, day: DayNo, draws: Vec<Draw>) -> BatchId {
    let id = r.next_batch_id();
    r.dishes.entry(dish.id.clone()).or_insert_with(|| dish.clone());
    r.batches.push(Batch { id, dish: dish.id.clone(), day, draws });
    id
}
