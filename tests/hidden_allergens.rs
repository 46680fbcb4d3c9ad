//! Is an allergen seen that goes by another name, and is one who must not have it stopped?
//!
//! What holds what is general knowledge of the kitchen (practice) and of the laws' lists: Regulation (EU) No 1169/2011, Annex II, and
//! the US FALCPA 2004 with the FASTER Act 2021. Where products differ the stricter is taken.

mod fixture;

use Allergen::{
    Celery, Crustacean, Egg, Fish, Lupin, Milk, Mollusc, Mustard, Nuts, OtherGluten, Peanut, Sesame, Soya, Sulphite, Wheat,
};
use fixture::{batch, cabbage, dishes, eater, serving, slot};
use std::sync::Arc;
use tranche::{
    book::{Allergen, Care, Companion, CompanionMeasure, Dish, contents_of},
    judge::{Code, Severity, judge},
    quantity::{AsBought, Grams},
    rotation::{Rotation, apply},
};

/// What a shopper may write, and what is in it by rights.
const NAMES: &[(&str, &[Allergen])] = &[
    ("spelt flour", &[Wheat]),
    ("orzo", &[Wheat]),
    ("bulgur wheat", &[Wheat]),
    ("shoyu", &[Wheat, Soya]),
    ("soba noodles", &[Wheat]),
    ("seitan strips", &[Wheat]),
    ("couscous salad mix", &[Wheat]),
    ("pickled onions", &[OtherGluten, Sulphite]),
    ("oat cream", &[OtherGluten]),
    ("pale ale", &[OtherGluten]),
    ("muesli", &[OtherGluten]),
    ("king prawns", &[Crustacean]),
    ("scampi", &[Crustacean, Wheat]),
    ("langoustines", &[Crustacean]),
    ("crab sticks", &[Crustacean, Fish, Egg, Wheat]),
    ("aioli", &[Egg]),
    ("ice cream", &[Egg, Milk]),
    ("lemon meringue", &[Egg]),
    ("dashi", &[Fish]),
    ("bonito flakes", &[Fish]),
    ("Worcester sauce", &[Fish, Wheat, OtherGluten]),
    ("pilchards in tomato", &[Fish]),
    ("groundnuts", &[Peanut]),
    ("groundnut oil", &[Peanut]),
    ("monkey nuts", &[Peanut]),
    ("satay sauce", &[Peanut]),
    ("mixed nuts", &[Nuts, Peanut]),
    ("edamame beans", &[Soya]),
    ("tamari", &[Soya]),
    ("milk chocolate", &[Milk, Soya]),
    ("whey powder", &[Milk]),
    ("ghee", &[Milk]),
    ("skyr", &[Milk]),
    ("grated gruyère", &[Milk]),
    ("tzatziki", &[Milk]),
    ("marzipan", &[Nuts]),
    ("almond flour", &[Nuts]),
    ("hazelnut spread", &[Nuts, Milk, Soya]),
    ("pesto", &[Nuts, Milk]),
    ("pine nuts", &[Nuts]),
    ("vegetable bouillon", &[Celery]),
    ("celeriac remoulade", &[Celery, Mustard]),
    ("piccalilli", &[Mustard]),
    ("dijon dressing", &[Mustard]),
    ("zaatar", &[Sesame]),
    ("za'atar", &[Sesame]),
    ("dukkah", &[Sesame, Nuts]),
    ("hoisin sauce", &[Sesame, Soya, Wheat]),
    ("houmous", &[Sesame]),
    ("halva", &[Sesame]),
    ("dried apples", &[Sulphite]),
    ("desiccated coconut", &[Sulphite]),
    ("prosecco", &[Sulphite]),
    ("lupin flour", &[Lupin]),
    ("calamari", &[Mollusc]),
    ("king scallops", &[Mollusc]),
    ("oyster sauce", &[Mollusc]),
];

fn with(name: &str) -> Dish {
    let company = Companion {
        name: name.into(),
        per_unit: 10.0,
        per_batch: 0.0,
        measure: CompanionMeasure::G,
        pack: None,
        opened_days: None,
        pack_word: None,
    };
    let plain = dishes().into_iter().find(|d| d.id.as_str() == "charred-wedges").unwrap();
    Dish { companions: vec![company], allergens: vec![], twins: vec![], ..plain }
}

/// Two eat charred wedges with something beside; the second is as `change` makes them.
fn plan(name: &str, change: impl Fn(&mut tranche::rotation::Eater)) -> Rotation {
    let eaters = vec![eater(1, "Ada", 100), eater(2, "Ben", 100)];
    let mass = Grams::<AsBought>::new(1_800).unwrap();
    let mut plan = Rotation::start(Arc::new(cabbage()), mass, jiff::civil::date(2026, 3, 9), 4, eaters);
    let dish = with(name);
    plan.batches = vec![batch(1, "charred-wedges", 1, &[("middle", 300)])];
    plan.dishes.insert(dish.id.clone(), Arc::new(dish));
    plan.meals.entry(slot(1, 1)).or_default().servings.push(serving(1, 300));
    change(&mut plan.household.eaters[1]);
    plan
}

fn is_stopped(plan: &Rotation) -> bool {
    judge(plan)
        .findings
        .iter()
        .any(|f| f.code == Code::Allergy && f.severity == Severity::Stop && f.eater.is_some_and(|e| e.0 == 2))
}

#[test]
fn an_allergen_under_another_name_is_a_stop_for_whoever_must_not_have_it() {
    let mut missed = Vec::new();
    for (name, held) in NAMES {
        for &allergen in *held {
            if !is_stopped(&plan(name, |e| e.allergies = vec![allergen])) {
                missed.push(format!("{name} holds {}", allergen.word()));
            }
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
}

/// By faith, by vow, in recovery: as people write it.
#[test]
fn a_vow_is_kept_under_whatever_name_it_is_written() {
    let is_barred = |name: &str, vow: &str| {
        let told = plan(name, |e| e.dislikes = vec![vow.into()]);
        judge(&told).findings.iter().any(|f| f.code == Code::Barred && f.severity == Severity::Stop)
    };
    for (name, vow) in [
        ("egg noodles", "never eggs"),
        ("soured cream", "no dairy"),
        ("king prawns", "no shellfish"),
        ("red wine", "no wine"),
        ("cured ham", "Never ham"),
        ("chicken stock", "never chicken"),
        ("flatbreads", "no gluten"),
        ("walnuts", "never nuts"),
        ("red onions", "no onion"),
        ("leaf gelatine", "no gelatin"),
    ] {
        assert!(is_barred(name, vow), "{name}: {vow}");
    }
    for (name, vow) in [
        ("coconut milk", "no dairy"),
        ("coconut milk", "never milk"),
        ("red wine vinegar", "no wine"),
        ("peanut butter", "no butter"),
        ("chestnuts", "never nuts"),
    ] {
        assert!(!is_barred(name, vow), "{name}: {vow}");
    }
    // Of the piece itself.
    let mut told = plan("salt", |e| e.dislikes = vec!["never turkey".into()]);
    told.kind = Arc::new(tranche::book::Kind { name: "roast turkey".into(), ..cabbage() });
    assert!(judge(&told).findings.iter().any(|f| f.code == Code::Barred), "the piece");
}

#[test]
fn what_only_sounds_like_an_allergen_stops_nobody() {
    for (name, allergen) in [
        ("coconut milk", Milk),
        ("butter beans", Milk),
        ("cocoa butter", Milk),
        ("cream of tartar", Milk),
        ("buckwheat flour", Wheat),
        ("chickpea flour", Wheat),
        ("rice noodles", Wheat),
        ("oyster mushrooms", Mollusc),
        ("nutmeg", Nuts),
        ("chestnuts", Nuts),
        ("water chestnuts", Nuts),
        ("coconut", Nuts),
        ("aubergine", Egg),
        ("cider vinegar", OtherGluten),
    ] {
        assert!(contents_of(name).is_some(), "{name} is known");
        assert!(!is_stopped(&plan(name, |e| e.allergies = vec![allergen])), "{name} against {}", allergen.word());
    }
}

#[test]
fn a_name_that_nobody_knows_is_said_to_whoever_has_an_allergy() {
    let told = plan("auntie's relish", |e| e.allergies = vec![Sesame]);
    let findings = judge(&told).findings;
    let found = findings.iter().find(|f| f.code == Code::Allergy).unwrap_or_else(|| panic!("{findings:#?}"));
    assert!(found.text.contains("nobody knows") && found.severity == Severity::Caution, "{}", found.text);
    assert!(judge(&plan("auntie's relish", |_| ())).findings.iter().all(|f| f.code != Code::Allergy));
}

/// A kind of the cook's own that says nothing of its allergens, under a name that the book knows.
#[test]
fn a_piece_whose_name_says_what_it_is_stops_whoever_must_not_have_it() {
    for (name, allergen) in [("celeriac", Celery), ("side of salmon", Fish), ("big loaf", Wheat), ("fresh curd", Milk)] {
        let mut told = plan("salt", |e| e.allergies = vec![allergen]);
        let kind = tranche::book::Kind { name: name.into(), allergens: vec![], ..cabbage() };
        told.kind = Arc::new(kind);
        assert!(is_stopped(&told), "{name} against {}", allergen.word());
    }
}

/// UK Food Standards Agency, rice: in the fridge within an hour, eaten by the next day.
#[test]
fn a_cooks_own_dish_with_rice_keeps_no_longer_than_rice_does() {
    use tranche::rotation::{Boxing, Edit, KeptBack};
    let eaten_on = |name: &str, day: i16| {
        let mut told = plan(name, |_| ());
        let dish = Dish { keeps: tranche::quantity::Days(3), ..with(name) };
        told.dishes.insert(dish.id.clone(), Arc::new(dish));
        told.meals.entry(slot(day, 1)).or_default().servings.push(serving(1, 100));
        told.batches[0].draws[0].portion = fixture::prepared(400);
        told
    };
    for (name, day, late) in
        [("rice", 2, false), ("rice", 3, true), ("Basmati Rice", 3, true), ("rice noodles", 3, false), ("rice vinegar", 3, false)]
    {
        let found = judge(&eaten_on(name, day)).findings.iter().any(|f| f.code == Code::CookedTooOld);
        assert_eq!(found, late, "{name} on day {day}");
    }
    let told = eaten_on("rice", 2);
    let of = KeptBack::Batch(told.batches[0].id);
    let left = |counter| apply(&told, &Edit::BoxUp(Boxing { counter, ..Boxing::usual(of) }));
    assert!(left(60).is_ok());
    assert!(left(61).is_err_and(|e| e.to_string().contains("rice")));
    // A file may say so all the same.
    let mut said = told.clone();
    said.storage.boxed = vec![Boxing { counter: 90, ..Boxing::usual(of) }];
    let finding = judge(&said).findings.into_iter().find(|f| f.key.0.ends_with("/rice") && f.code == Code::Cooling).unwrap();
    assert_eq!(finding.severity, Severity::Caution);
    let mends = tranche::judge::mends_for(&said, &fixture::book(), &finding);
    assert_eq!(mends.len(), 1, "{mends:?}");
}

#[test]
fn liver_and_cured_ham_are_minded_for_the_pregnant() {
    for name in ["chicken livers", "cured ham", "gravlax", "oysters"] {
        let mut told = plan(name, |e| e.care = vec![Care::Pregnant]);
        let cold = Dish { cooked: false, profile: Default::default(), ..with(name) };
        told.dishes.insert(cold.id.clone(), Arc::new(cold));
        assert!(judge(&told).findings.iter().any(|f| f.code == Code::Care), "{name}");
    }
}
