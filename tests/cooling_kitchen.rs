//! Will the pot be cold in time, and if not, what is the least that a cook must change?

use proptest::prelude::*;
use std::time::Instant;
use tranche::{
    judge::cooling::{Chill, ChillError, Climate, Food, Place, Round, Rule, Stay, Vessel, Wall, advise, chill},
    quantity::{Cooked, Grams},
};

fn grams(g: u32) -> Grams<Cooked> {
    Grams::new(g).unwrap()
}

/// Stew in a lidded pot, half an hour on the counter, then the fridge.
fn pot(g: u32) -> Chill {
    Chill {
        food: Food::named("stew").unwrap(),
        grams: grams(g),
        start_c: 90.0,
        vessel: Vessel::pot(0.24),
        count: 1,
        lid: true,
        stays: vec![Stay::new(Place::Counter, 30.0), Stay::new(Place::Fridge, 0.0)],
        climate: Climate::default(),
        rule: Rule::two_stage(),
    }
}

fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ")
}

/// The published case of a layer of 25 mm with 10 W/(m2 K) on both faces in 4 C: 102.4 minutes from 57 to 21 C, 357.4 to 5 C
/// (series of Incropera and DeWitt); a metre square, so that the rim hardly counts, and its top and bottom alike.
#[test]
fn a_wide_layer_takes_the_published_time() {
    let food = Food { k: 0.56, rho: 1_030.0, cp: 3_900.0, ..Food::named("vegetable soup").unwrap() };
    let vessel = Vessel { round: Round::Rectangle(1.0, 1.0), wall: Wall::Metal, ..Vessel::tray() };
    let stays = vec![Stay::new(Place::Fridge, 0.0)];
    let layer = Chill { food, vessel, start_c: 60.0, lid: false, stays, grams: grams(25_750), ..pot(1) };
    let cold = chill(&layer).unwrap();
    assert!((cold.depth_cm - 2.5).abs() < 1e-9);
    let took: Vec<f64> = cold.stages.iter().map(|s| s.took.unwrap()).collect();
    assert!((took[0] - 102.4).abs() < 1.5 && (took[1] - 357.4).abs() < 4.0, "{took:?}");
    assert!(cold.passes() && plain(&cold.verdict()).starts_with("Cold in time: 21 °C after 1 h 4"), "{}", cold.verdict());
}

#[test]
fn a_big_pot_is_not_cold_in_time_and_what_is_advised_passes() {
    let started = Instant::now();
    for g in [1_500, 3_000, 5_000] {
        let question = pot(g);
        let cold = chill(&question).unwrap();
        assert!(!cold.passes());
        assert!(plain(&cold.verdict()).starts_with("Not cold in time: still "), "{}", cold.verdict());
        assert!((20..=60).contains(&cold.curve.len()), "{} points", cold.curve.len());
        let ways = advise(&question).unwrap();
        assert!(!ways.is_empty(), "{g} g");
        println!("{g} g: {}", plain(&cold.verdict()));
        for way in &ways {
            println!("  {:.1} {}", way.bother, plain(&way.words));
            assert!(chill(&way.changed).unwrap().passes(), "{}", way.words);
            assert_eq!(chill(&way.changed).unwrap().figures(), way.chilled.figures());
        }
        assert!(ways.windows(2).all(|w| w[0].bother <= w[1].bother));
    }
    println!("{:?}", started.elapsed());
}

/// The least change: take any one part of it back, and it no longer passes.
#[test]
fn nothing_of_the_best_advice_can_be_left_out() {
    for (food, g) in [("stew", 1_500), ("stew", 3_000), ("broth", 5_000), ("cooked rice", 2_000), ("roast vegetables", 1_800)] {
        for rule in [Rule::two_stage(), Rule::ninety_minutes()] {
            let question = Chill { food: Food::named(food).unwrap(), rule, ..pot(g) };
            let Some(best) = advise(&question).unwrap().into_iter().next() else { continue };
            let new = &best.changed;
            let back = [
                Chill { lid: question.lid, ..new.clone() },
                Chill { stays: question.stays.clone(), ..new.clone() },
                Chill { vessel: question.vessel.clone(), count: question.count, ..new.clone() },
                Chill { stays: new.stays.iter().map(|s| Stay { into: None, ..s.clone() }).collect(), ..new.clone() },
            ];
            // What is stirred cannot be covered.
            let can_be = |b: &Chill| b != new && !(b.lid && b.stays.iter().any(|s| s.stirred));
            for less in back.into_iter().filter(can_be) {
                assert!(!chill(&less).unwrap().passes(), "{g} g of {food}: {}", plain(&best.words));
            }
        }
    }
}

/// Broth is chilled in the sink and then poured into tubs: pouring evens it out, and it cools on from there.
#[test]
fn what_pours_is_poured_over_as_it_is_and_lumps_take_their_middle_along() {
    for (food, stirs) in [("broth", true), ("roast vegetables", false)] {
        let mut q = pot(2_000);
        q.food = Food::named(food).unwrap();
        q.stays = vec![Stay::new(Place::ColdWater, 40.0), Stay::new(Place::Fridge, 0.0)];
        let stays = chill(&q).unwrap();
        q.stays[1].into = Some((Vessel::storage_box(), 3));
        let poured = chill(&q).unwrap();
        let at =
            |c: &tranche::judge::cooling::Chilled, m: f64| *c.curve.iter().min_by_key(|p| (p.minutes - m).abs() as u32).unwrap();
        assert!(poured.stages[1].took < stays.stages[1].took, "{food}");
        let (before, after) = (at(&stays, 40.0), at(&poured, 48.0));
        let top = if stirs { before.mean_c } else { before.warmest_c };
        assert!(after.warmest_c <= top + 0.5 && after.warmest_c > 4.0, "{food}: {after:?} after {before:?}");
        // Too many grams for what they are poured into.
        q.stays[1].into = Some((Vessel::storage_box(), 0));
        assert!(chill(&q).is_err());
        q.stays[1].into = Some((Vessel { height_m: 0.01, ..Vessel::storage_box() }, 1));
        assert!(matches!(chill(&q), Err(ChillError::Overfull { .. })));
    }
}

#[test]
fn what_passes_needs_no_advice() {
    let mut little = pot(250);
    little.vessel = Vessel::storage_box();
    little.lid = false;
    assert!(chill(&little).unwrap().passes(), "{}", chill(&little).unwrap().verdict());
    assert_eq!(advise(&little).unwrap(), []);
}

#[test]
fn food_that_does_not_stir_is_not_advised_to_be_stirred() {
    let mut bake = pot(2_500);
    bake.food = Food::named("custard or cream bake").unwrap();
    let ways = advise(&bake).unwrap();
    assert!(!ways.is_empty());
    for way in ways {
        println!("{}", plain(&way.words));
        assert!(!way.words.contains("stirring"), "{}", way.words);
    }
}

#[test]
fn the_rule_decides_what_is_enough() {
    let mut strict = pot(2_000);
    strict.rule = Rule::ninety_minutes();
    let ways = advise(&strict).unwrap();
    assert!(!ways.is_empty());
    let lax = advise(&pot(2_000)).unwrap();
    println!("{}\n{}", plain(&ways[0].words), plain(&lax[0].words));
    assert!(ways[0].bother >= lax[0].bother);
    assert!(ways[0].chilled.stages[0].took.unwrap() <= 90.0);
}

#[test]
fn a_fridge_that_is_too_warm_is_named() {
    let mut warm = pot(500);
    warm.climate.fridge_c = 8.0;
    let cold = chill(&warm).unwrap();
    assert_eq!(cold.stages[1].took, None);
    let mut shallow = warm.clone();
    (shallow.vessel, shallow.lid) = (Vessel::tray(), false);
    let said = plain(&chill(&shallow).unwrap().verdict());
    assert!(said.ends_with("where 5 °C is allowed; it never gets there, with 8 °C around it."), "{said}");
    assert_eq!(advise(&warm).unwrap(), []);
    // Iced water makes it cold, and the fridge makes it warm again.
    warm.stays.insert(1, Stay::new(Place::IceWater, 60.0));
    let iced = chill(&warm).unwrap();
    assert!(!iced.passes() && plain(&iced.verdict()).contains("not for long: it stands at 8 °C"), "{}", iced.verdict());
}

#[test]
fn what_cannot_be_is_refused_in_one_sentence() {
    let wrong = |change: fn(&mut Chill)| {
        let mut q = pot(3_000);
        change(&mut q);
        assert_eq!(advise(&q).unwrap_err().to_string(), chill(&q).unwrap_err().to_string());
        chill(&q).unwrap_err().to_string()
    };
    assert_eq!(wrong(|q| q.grams = grams(0)), "the amount is 0; it goes from 1 to 50000 g");
    assert_eq!(wrong(|q| q.start_c = f64::NAN), "the temperature at the start is NaN; it goes from -10 to 130 °C");
    assert_eq!(wrong(|q| q.stays.clear()), "say where it stands: on the counter, in cold water, in the fridge");
    assert_eq!(
        wrong(|q| (q.vessel, q.grams) = (Vessel::storage_box(), grams(3_600))),
        "it would stand 11 cm deep in a box of 10 cm: take more of them or larger ones"
    );
    assert!(wrong(|q| q.food.k = 0.0).starts_with("the conductivity k is 0"));
    assert!(wrong(|q| q.count = 0).starts_with("the number of vessels is 0"));
    assert!(matches!(chill(&Chill { vessel: Vessel::tray(), ..pot(10_000) }), Err(ChillError::Overfull { .. })));
}

#[test]
fn the_freezer_is_told_to_freeze() {
    let mut q = pot(400);
    (q.vessel, q.lid) = (Vessel::tray(), false);
    q.stays = vec![Stay::new(Place::Freezer, 240.0), Stay::new(Place::Fridge, 0.0)];
    assert!(chill(&q).unwrap().freezes);
    q.stays = vec![Stay::new(Place::Fridge, 0.0)];
    assert!(!chill(&q).unwrap().freezes);
}

/// Minutes until the warmest is at 21 C.
fn to_21(q: &Chill) -> f64 {
    let cold = chill(q).unwrap();
    cold.clock_starts + cold.stages[0].took.unwrap_or(10_000.0)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn more_food_a_lid_and_a_warmer_place_are_slower(g in 300_u32..4_000, more in 1.1..1.5_f64) {
        let q = pot(g);
        let here = to_21(&q);
        let slack = 1.0;
        let fuller = Chill { grams: grams((f64::from(g) * more) as u32), ..q.clone() };
        prop_assert!(to_21(&fuller) >= here - slack, "fuller");
        let open = Chill { lid: false, ..q.clone() };
        prop_assert!(to_21(&open) <= here + slack, "open");
        let two = Chill { count: 2, ..q.clone() };
        prop_assert!(to_21(&two) <= here + slack, "two");
        let warm = Chill { climate: Climate { fridge_c: 8.0, ..q.climate }, ..q.clone() };
        prop_assert!(to_21(&warm) >= here - slack, "warm");
        let mut fan = q.clone();
        fan.stays[1].place = Place::FanFridge;
        prop_assert!(to_21(&fan) <= here + slack, "fan");
        let mut bath = q.clone();
        bath.stays.insert(1, Stay::new(Place::IceWater, 30.0));
        prop_assert!(to_21(&bath) <= here + slack, "bath");
        let mut stirred = bath.clone();
        stirred.stays[1].stirred = true;
        prop_assert!(to_21(&stirred) <= to_21(&bath) + slack, "stirred");
    }
}
