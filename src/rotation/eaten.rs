//! Who eats of a serving: not who sits down, but whose plate the piece may come on.

use super::{BatchId, EaterId, Rotation, Serving, Source};
use crate::book::{Allergen, Diet, Dish};
use std::collections::BTreeSet;

/// What is in a pot, of the piece and of all that the dish is made from.
struct Pot<'r> {
    allergens: BTreeSet<&'r Allergen>,
    /// The strictest diet that each thing in it asks for.
    diets: Vec<Diet>,
}

impl Pot<'_> {
    fn suits(&self, diet: Diet) -> bool {
        self.diets.iter().all(|d| diet.may_eat(*d))
    }
}

/// Those of `present` who eat the piece in `serving`: all whom it is meant for, but not those whose twin leaves the piece out,
/// nor those whom an allergy or their diet bars from it. The judges stop the plan for the barred; what they do not eat makes
/// nobody's plate smaller and no week of theirs the same.
pub fn eaten_by(rotation: &Rotation, serving: &Serving, present: &[EaterId]) -> Vec<EaterId> {
    let Some(dish) = rotation.dish_of(serving.batch) else { return Vec::new() };
    let mut eaters = serving.eaten_by(present, dish);
    let careful =
        |id: &EaterId| rotation.household.eater(*id).is_some_and(|e| e.diet != Diet::Everything || !e.allergies.is_empty());
    if eaters.iter().any(careful) {
        let (base, whole) = (pot(rotation, serving.batch, None), pot(rotation, serving.batch, Some(dish)));
        eaters.retain(|id| !careful(id) || may_eat(rotation, serving, dish, *id, (&base, &whole)));
    }
    eaters
}

/// A twin made apart from the dish's own company still comes out of the same pot as far as allergens go.
fn may_eat(r: &Rotation, serving: &Serving, dish: &Dish, id: EaterId, (base, whole): (&Pot, &Pot)) -> bool {
    let Some(eater) = r.household.eater(id) else { return false };
    let twin = serving.twin_of(id, dish);
    let diet = match twin {
        Some(twin) => eater.diet.may_eat(twin.sure_diet()) && base.suits(eater.diet),
        None => whole.suits(eater.diet),
    };
    let own = twin.map_or(&[][..], |t| &t.allergens);
    diet && !eater.allergies.iter().any(|a| whole.allergens.contains(a) || own.contains(a))
}

/// All that is in a batch, with its dish's own company or without.
fn pot<'r>(r: &'r Rotation, batch: BatchId, dish: Option<&'r Dish>) -> Pot<'r> {
    let mut pot = Pot { allergens: r.kind.allergens.iter().collect(), diets: vec![r.kind.diet] };
    let mut dishes: Vec<&Dish> = dish.into_iter().collect();
    let mut seen = BTreeSet::from([batch]);
    let mut open = vec![batch];
    while let Some(id) = open.pop() {
        for draw in r.batch(id).into_iter().flat_map(|b| &b.draws) {
            if let Source::Batch(source) = draw.from
                && seen.insert(source)
            {
                dishes.extend(r.dish_of(source).map(|d| &**d));
                open.push(source);
            }
        }
    }
    for dish in dishes {
        pot.allergens.extend(&dish.allergens);
        pot.diets.push(dish.sure_diet());
    }
    pot
}
