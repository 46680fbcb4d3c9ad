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
    rotation::{Batch, BatchId, Bath, Boxing, Fill, KeptBack, Rotation, Source},
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
/// into those; where it says how this cooking is boxed up ([`Boxing`]), it is done so. Nothing where nothing is kept back.
pub fn question_of(rotation: &Rotation, batch: BatchId) -> Option<Chill> {
    let grams = kept_back(rotation, batch)?;
    let dish = rotation.dish_of(batch)?;
    Some(question(rotation, KeptBack::Batch(batch), food_of(dish, &rotation.kind), grams))
}

/// The same for a piece cooked whole, taken off its bones.
pub fn question_of_whole(rotation: &Rotation) -> Option<Chill> {
    let grams = kept_whole(rotation)?;
    let fish = rotation.kind.diet == Diet::Pescatarian;
    let food = Food::named(if fish { "cooked fish" } else { "cooked poultry or meat" })?;
    Some(question(rotation, KeptBack::Whole, food, grams))
}

/// How deep food that does not pour is laid in its box, where the box holds as much: 5 cm.
const SHALLOW_M: f64 = 0.05;

fn question(rotation: &Rotation, of: KeptBack, food: Food, grams: Grams<Cooked>) -> Chill {
    let usual = Climate::default();
    let mut rule = Rule::two_stage();
    if let Some(own) = rotation.storage.cooling {
        rule.stages.push(Stage { to_c: own.to_c, within: f64::from(own.within) });
        rule.name = "two-stage cooling and the household's rule".into();
        rule.source.push_str(" and the household's own");
    }
    let own = rotation.storage.boxes.iter().map(Vessel::of_box).max_by(|a, b| a.round.area().total_cmp(&b.round.area()));
    let mut chill = Chill {
        // Off the boil, or out of an oven with its middle done.
        start_c: if food.stirs { 95.0 } else { 80.0 },
        vessel: if food.stirs { Vessel::pot(0.24) } else { own.unwrap_or_else(Vessel::storage_box) },
        count: 1,
        food,
        grams,
        lid: true,
        stays: vec![Stay::new(Place::Counter, 30.0), Stay::new(Place::Fridge, 0.0)],
        climate: Climate { fridge_c: rotation.fridge.runs_at.unwrap_or(usual.fridge_c), ..usual },
        rule,
    };
    match rotation.storage.boxing(of) {
        Some(boxing) => boxed(rotation, boxing, &mut chill),
        None => chill.count = how_many(rotation, &chill, &chill.vessel, None),
    }
    chill
}

/// How many of a vessel it takes: as said, or as there are, but as many at least as it goes into.
fn how_many(rotation: &Rotation, chill: &Chill, vessel: &Vessel, fill: Option<Fill>) -> u32 {
    let volume = f64::from(chill.grams.get()) / 1_000.0 / chill.food.rho;
    // A pot is filled to nine tenths at most.
    let full = 0.9 * vessel.height_m;
    let of_depth = |deep: f64| (volume / (vessel.round.area() * deep)).ceil().clamp(1.0, 100.0) as u32;
    let wanted = match fill {
        None if chill.food.stirs && vessel.one == "pot" => of_depth(full),
        None => of_depth(full.min(SHALLOW_M)),
        Some(Fill::NoDeeper(mm)) => of_depth(full.min(f64::from(mm) / 1_000.0)),
        Some(Fill::Into(n)) => u32::from(n),
    };
    let own = rotation.storage.boxes.iter().find(|b| b.name == vessel.one);
    wanted.min(own.map_or(u32::MAX, |b| u32::from(b.count))).max(of_depth(full))
}

/// Puts the cook's own way of boxing up in the place of the usual one.
fn boxed(rotation: &Rotation, boxing: &Boxing, chill: &mut Chill) {
    let named = boxing.vessel.as_deref().and_then(|name| {
        let own = rotation.storage.boxes.iter().find(|b| b.name == name).map(Vessel::of_box);
        own.or_else(|| Vessel::usual(name))
    });
    let vessel = named.unwrap_or_else(|| chill.vessel.clone());
    let count = how_many(rotation, chill, &vessel, boxing.fill);
    chill.lid = boxing.lid;
    let mut stays = Vec::new();
    if boxing.counter > 0 {
        stays.push(Stay::new(Place::Counter, f64::from(boxing.counter)));
    }
    if let Some(Bath { ice, minutes, stirred }) = boxing.bath {
        let place = if ice { Place::IceWater } else { Place::ColdWater };
        // Lumps cannot be stirred, and nothing can through its lid.
        let stirred = stirred && chill.food.stirs && !chill.lid;
        stays.push(Stay { stirred, ..Stay::new(place, f64::from(minutes)) });
    }
    let mut fridge = Stay::new(Place::Fridge, 0.0);
    // What pours has its bath in the pot, and its boxes after it.
    if boxing.bath.is_some() && chill.food.stirs && vessel != chill.vessel {
        chill.count = how_many(rotation, chill, &chill.vessel, None);
        fridge.into = Some((vessel, count));
    } else {
        (chill.vessel, chill.count) = (vessel, count);
    }
    stays.push(fridge);
    chill.stays = stays;
}

/// A way of cooling as the cook says it ([`crate::rotation::Edit::BoxUp`]), so that `chill`, made of what the plan asks of `of`
/// as it stands, becomes what it asks: how an [`super::Advice`] is taken. Nothing where `of` asks nothing.
pub fn boxing_of(rotation: &Rotation, of: KeptBack, chill: &Chill) -> Option<Boxing> {
    let now = match of {
        KeptBack::Whole => question_of_whole(rotation)?,
        KeptBack::Batch(id) => question_of(rotation, id)?,
    };
    let ends_in = |q: &Chill| q.stays.iter().find_map(|s| s.into.clone()).unwrap_or_else(|| (q.vessel.clone(), q.count));
    let said = rotation.storage.boxing(of).cloned().unwrap_or_else(|| Boxing::usual(of));
    let (vessel, fill) = match ends_in(chill) {
        same if same == ends_in(&now) => (said.vessel, said.fill),
        (vessel, count) => (Some(vessel.one), Some(Fill::Into(u8::try_from(count).unwrap_or(u8::MAX)))),
    };
    let stay = |place: Place| chill.stays.iter().find(|s| s.place == place);
    let bath = |s: &Stay| Bath { ice: s.place == Place::IceWater, minutes: s.minutes.round() as u16, stirred: s.stirred };
    Some(Boxing {
        of,
        vessel,
        fill,
        lid: chill.lid,
        counter: stay(Place::Counter).map_or(0, |s| s.minutes.round() as u16),
        bath: stay(Place::IceWater).or_else(|| stay(Place::ColdWater)).map(bath),
    })
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
