//! What a plan keeps back, as a question about cooling.

use super::{
    chill::{Chill, Stay},
    food::Food,
    rule::{Rule, Stage},
    vessel::{Climate, Place, Vessel},
};
use crate::{
    book::{Diet, Dish, Form, Kind, Method, Role, Texture},
    quantity::{Cooked, Grams},
    rotation::{Batch, BatchId, Rotation, Source},
};

/// Cooked grams of a batch that are not eaten, nor made into something else, on the day of its making: what must be cooled.
/// Nothing of what is not cooked, and nothing of a bank, which is potted hot or never hot.
pub fn kept_back(rotation: &Rotation, batch: BatchId) -> Option<Grams<Cooked>> {
    let batch = rotation.batch(batch)?;
    let dish = rotation.dishes.get(&batch.dish).filter(|d| d.cooked && d.role != Role::Bank)?;
    let eaten =
        rotation.servings_of(batch.id).iter().filter(|(slot, _)| slot.day == batch.day).map(|(_, s)| s.portion.get()).sum();
    let rest = batch.pool().with(batch.pool().get().saturating_sub(eaten));
    let used = later_today(rotation, batch);
    let kept = batch.cooked(rest, dish).get().saturating_sub(used);
    (kept > 0).then(|| Grams::clamped(kept))
}

/// Cooked grams that other batches of the same day draw.
fn later_today(rotation: &Rotation, batch: &Batch) -> u32 {
    let today = rotation.batches.iter().filter(|b| b.day == batch.day && b.id != batch.id);
    let draws = today.flat_map(|b| &b.draws).filter(|d| d.from == Source::Batch(batch.id));
    draws.map(|d| d.portion.get()).fold(0, u32::saturating_add)
}

/// A first guess at a dish as heat sees it, by how it eats; the cook may take another.
pub fn food_of(dish: &Dish, kind: &Kind) -> Food {
    let texture = dish.profile.texture.first().map(|t| t.0);
    let method = dish.profile.method.first().map(|m| m.0);
    let name = match (dish.profile.form, texture, method) {
        (_, Some(Texture::Brothy), _) => "broth",
        (Some(Form::Soup), ..) => "vegetable soup",
        (Some(Form::Mash | Form::Dip), ..) | (_, Some(Texture::Smooth), _) => "mash",
        (_, Some(Texture::Stewed), _) | (_, _, Some(Method::Stew | Method::Braise)) => "stew",
        (Some(Form::Bake | Form::Pie), ..) | (_, Some(Texture::Set | Texture::Creamy), _) => "custard or cream bake",
        _ if kind.animal && kind.diet == Diet::Pescatarian => "cooked fish",
        _ if kind.animal => "cooked poultry or meat",
        _ => "roast vegetables",
    };
    // Every name stands in the table; what did not would be taken by its water.
    Food::named(name).unwrap_or(Food {
        name: name.into(),
        k: 0.478,
        rho: 1_000.0,
        cp: 3_353.0,
        stirs: false,
        source: "75 % water",
        surety: super::food::Surety::Memory,
    })
}

/// Cooked grams of a piece that was cooked whole which nobody eats, and nothing uses, on that day.
pub fn kept_whole(rotation: &Rotation) -> Option<Grams<Cooked>> {
    let (kind, opened) = (&rotation.kind, rotation.piece.opened);
    if !kind.is_cooked_whole() {
        return None;
    }
    let today = rotation.batches.iter().filter(|b| b.day == opened).flat_map(|b| &b.draws);
    let used = today.filter(|d| matches!(d.from, Source::Part(_))).map(|d| d.portion.get()).fold(0, u32::saturating_add);
    let kept = rotation.piece.usable_total(kind.portioned).get().saturating_sub(used);
    (kept > 0).then(|| Grams::clamped(kept))
}

/// The question that a batch asks as it stands: what is kept back, in a pot of 24 cm if it pours and else in lidded boxes no
/// more than 5 cm deep (USDA FSIS: shallow containers of 2 inches), half an hour on the counter and then in the fridge of this
/// plan; by the two-stage rule, and by the household's own as well. Where the household names its boxes, what does not pour goes
/// into those. Nothing where nothing is kept back.
pub fn question_of(rotation: &Rotation, batch: BatchId) -> Option<Chill> {
    let grams = kept_back(rotation, batch)?;
    let dish = rotation.dish_of(batch)?;
    Some(question(rotation, food_of(dish, &rotation.kind), grams))
}

/// The same for a piece cooked whole, taken off its bones.
pub fn question_of_whole(rotation: &Rotation) -> Option<Chill> {
    let grams = kept_whole(rotation)?;
    let fish = rotation.kind.diet == Diet::Pescatarian;
    let food = Food::named(if fish { "cooked fish" } else { "cooked poultry or meat" })?;
    Some(question(rotation, food, grams))
}

/// How deep food that does not pour is laid in its box, where the box holds as much: 5 cm.
const SHALLOW_M: f64 = 0.05;

fn question(rotation: &Rotation, food: Food, grams: Grams<Cooked>) -> Chill {
    let volume = f64::from(grams.get()) / 1_000.0 / food.rho;
    let own = rotation.storage.boxes.iter().map(Vessel::of_box).max_by(|a, b| a.round.area().total_cmp(&b.round.area()));
    let vessel = if food.stirs { Vessel::pot(0.24) } else { own.unwrap_or_else(Vessel::storage_box) };
    // A pot is filled to nine tenths at most.
    let full = 0.9 * vessel.height_m;
    let deep = if food.stirs { full } else { full.min(SHALLOW_M) };
    let count = (volume / (vessel.round.area() * deep)).ceil().clamp(1.0, 100.0) as u32;
    let usual = Climate::default();
    let mut rule = Rule::two_stage();
    if let Some(own) = rotation.storage.cooling {
        rule.stages.push(Stage { to_c: own.to_c, within: f64::from(own.within) });
        rule.name = "two-stage cooling and the household's rule".into();
        rule.source.push_str(" and the household's own");
    }
    Chill {
        // Off the boil, or out of an oven with its middle done.
        start_c: if food.stirs { 95.0 } else { 80.0 },
        food,
        grams,
        vessel,
        count,
        lid: true,
        stays: vec![Stay::new(Place::Counter, 30.0), Stay::new(Place::Fridge, 0.0)],
        climate: Climate { fridge_c: rotation.fridge.runs_at.unwrap_or(usual.fridge_c), ..usual },
        rule,
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::test_support::{Plan, bank, component, dish, lunch, raw_dish, supper};
    use super::super::{advise, chill};
    use super::*;
    use crate::book::{Graded, Profile};

    fn stewed(dish: Dish) -> Dish {
        Dish { profile: Profile { texture: vec![Graded(Texture::Stewed, 1.0)], ..Profile::default() }, ..dish }
    }

    #[test]
    fn what_is_kept_back_is_what_is_not_eaten_on_the_day() {
        let mut plan = Plan::cabbage(4);
        let braise = plan.batch(1, stewed(dish("braise")), &[("middle", 800)]);
        plan.serve(supper(1), braise, 300);
        plan.serve(lunch(3), braise, 300);
        assert_eq!(kept_back(&plan.rotation, braise).unwrap().get(), 500);
        let today = plan.batch_from(1, dish("pie"), braise, 150);
        plan.serve(supper(1), today, 150);
        plan.batch_from(2, dish("soup"), braise, 50);
        assert_eq!(kept_back(&plan.rotation, braise).unwrap().get(), 350);
        assert_eq!(kept_back(&plan.rotation, today), None, "all of it is eaten");
        let slaw = plan.batch(1, raw_dish("slaw"), &[("heart", 100)]);
        let pickle = plan.batch(1, bank("pickle"), &[("heart", 100)]);
        assert_eq!((kept_back(&plan.rotation, slaw), kept_back(&plan.rotation, pickle)), (None, None));
        let base = plan.batch(2, component("base"), &[("outer", 300)]);
        assert_eq!(kept_back(&plan.rotation, base).unwrap().get(), 300);
    }

    #[test]
    fn a_batch_asks_a_question_that_can_be_answered() {
        for (grams, food) in [(700, stewed(dish("stew"))), (700, dish("roast"))] {
            let mut plan = Plan::cabbage(4);
            let batch = plan.batch(1, food, &[("middle", grams)]);
            let question = question_of(&plan.rotation, batch).unwrap();
            assert!(!chill(&question).unwrap().curve.is_empty());
            for way in advise(&question).unwrap() {
                assert!(way.chilled.passes());
            }
        }
        // The largest that a plan can hold still fits into its vessels.
        let mut plan = Plan::of("tomato", &[("all", 49_000, 3)], 3);
        let batch = plan.batch(1, stewed(component("sauce")), &[("all", 49_000)]);
        assert!(chill(&question_of(&plan.rotation, batch).unwrap()).is_ok());
    }

    #[test]
    fn the_plans_own_fridge_is_asked() {
        let mut plan = Plan::cabbage(4);
        let batch = plan.batch(1, stewed(dish("stew")), &[("middle", 700)]);
        plan.rotation.fridge.runs_at = Some(8.0);
        assert!(!chill(&question_of(&plan.rotation, batch).unwrap()).unwrap().passes());
    }
}
