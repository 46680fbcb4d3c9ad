//! Is there for every sort of stop, and for every word about keeping, a mend that cures it and makes nothing worse?

mod fixture;

use fixture::{batch, book, cabbage, dish, dishes, eater, prepared, salmon, serving, slot};
use std::{collections::BTreeMap, sync::Arc};
use tranche::{
    book::{Allergen, Book, Care, Companion, CompanionMeasure, Diet, Dish, Heat, Kind, PartId, Twin},
    judge::{Code, Finding, Mend, Severity, judge, mends_for},
    quantity::{AsBought, DayNo, Days, Grams, Portion, State},
    rotation::{
        Batch, BatchId, Draw, EaterId, Fridge, Mealtime, MealtimeId, Moment, PowerCut, Rotation, Source, apply, validate,
    },
};

const SUPPER: u8 = 1;
const LUNCH: u8 = 2;

/// An empty window around a piece, with lunch and supper.
fn window(kind: Kind, days: u16) -> Rotation {
    let mass = Grams::<AsBought>::new(1_800).unwrap();
    let eaters = vec![eater(1, "Ada", 100), eater(2, "Ben", 100)];
    let mut plan = Rotation::start(Arc::new(kind), mass, jiff::civil::date(2026, 3, 9), days, eaters);
    plan.mealtimes = [(LUNCH, "lunch", 12), (SUPPER, "supper", 18)]
        .map(|(id, name, hour)| Mealtime {
            id: MealtimeId(id),
            name: name.into(),
            at: jiff::civil::Time::new(hour, 30, 0, 0).ok(),
        })
        .to_vec();
    plan
}

fn with_dish(plan: &mut Rotation, dish: Dish) {
    plan.dishes.insert(dish.id.clone(), Arc::new(dish));
}

fn of_the_book(id: &str) -> Dish {
    dishes().into_iter().find(|d| d.id.as_str() == id).unwrap()
}

fn serve(plan: &mut Rotation, day: i16, mealtime: u8, batch: u32, grams: u32) {
    plan.meals.entry(slot(day, mealtime)).or_default().servings.push(serving(batch, grams));
}

/// From one batch cooked grams into another.
fn from_batch(id: u32, dish: &str, day: i16, source: u32, grams: u32) -> Batch {
    let draw = Draw { from: Source::Batch(BatchId(source)), portion: Portion::of(State::Cooked, grams), cut_on: None };
    Batch { draws: vec![draw], ..batch(id, dish, day, &[]) }
}

/// Every plan with the finding that it is about, and how one of the mends must begin.
fn cases() -> Vec<(&'static str, Rotation, Code, Severity, &'static str)> {
    let mut all = Vec::new();

    // Fish raw on the third day: eaten earlier.
    let mut plan = window(salmon(), 4);
    with_dish(&mut plan, of_the_book("seared-loin"));
    plan.batches = vec![batch(1, "seared-loin", 3, &[("loin", 300)])];
    serve(&mut plan, 3, SUPPER, 1, 300);
    all.push(("raw fish", plan, Code::RawTooOld, Severity::Stop, "Move Seared loin"));

    // A cabbage that lies raw past its day: the batch is banked or given away where no meal is free.
    let mut plan = window(cabbage(), 8);
    with_dish(&mut plan, of_the_book("charred-wedges"));
    plan.batches = vec![batch(1, "charred-wedges", 8, &[("middle", 300)])];
    serve(&mut plan, 8, SUPPER, 1, 300);
    all.push(("raw wedges", plan.clone(), Code::RawTooOld, Severity::Stop, "Make Charred wedges on Saturday 14"));

    // Shreds cut three days before.
    let mut plan = window(cabbage(), 4);
    with_dish(&mut plan, Dish { cut: Some(tranche::book::CutForm::Shreds), ..of_the_book("slaw") });
    let mut slaw = batch(1, "slaw", 4, &[("heart", 300)]);
    slaw.draws[0].cut_on = Some(DayNo(1));
    plan.batches = vec![slaw];
    serve(&mut plan, 4, SUPPER, 1, 300);
    all.push(("old shreds", plan, Code::CutTooOld, Severity::Stop, "Cut for Lime slaw on the day itself"));

    // A braise eaten twice, the second time too late: cooked afresh.
    let mut plan = window(cabbage(), 5);
    with_dish(&mut plan, of_the_book("braise"));
    plan.batches = vec![batch(1, "braise", 1, &[("middle", 600)])];
    serve(&mut plan, 1, SUPPER, 1, 300);
    serve(&mut plan, 5, SUPPER, 1, 300);
    all.push(("an old braise", plan.clone(), Code::CookedTooOld, Severity::Stop, "Cook 300 g of Apple braise afresh on Friday"));

    // Served before it is made.
    plan.batches[0].day = DayNo(2);
    plan.meals.remove(&slot(5, SUPPER));
    serve(&mut plan, 3, SUPPER, 1, 300);
    all.push(("before it is made", plan, Code::BeforeMade, Severity::Stop, "Move Apple braise"));

    // A soup of Monday's braise on Tuesday, warmed again on Wednesday.
    let mut plan = window(cabbage(), 4);
    with_dish(&mut plan, of_the_book("braise"));
    with_dish(&mut plan, of_the_book("soup"));
    plan.batches = vec![batch(1, "braise", 1, &[("middle", 600)]), from_batch(2, "soup", 2, 1, 300)];
    plan.meals
        .entry(slot(3, SUPPER))
        .or_default()
        .servings
        .push(tranche::rotation::Serving { portion: Portion::of(State::Cooked, 300), ..serving(2, 300) });
    all.push(("warmed twice", plan, Code::Reheated, Severity::Stop, "Make Caraway soup on Wednesday"));

    // No power for six hours while the braise lay in the fridge.
    let mut plan = window(cabbage(), 4);
    with_dish(&mut plan, of_the_book("braise"));
    plan.batches = vec![batch(1, "braise", 1, &[("middle", 600)])];
    serve(&mut plan, 1, SUPPER, 1, 300);
    serve(&mut plan, 3, SUPPER, 1, 300);
    let at = |hour| Moment { day: DayNo(2), at: jiff::civil::time(hour, 0, 0, 0) };
    plan.fridge = Fridge { cuts: vec![PowerCut { from: at(8), to: at(14) }], ..Fridge::default() };
    all.push(("no power", plan, Code::PowerCut, Severity::Stop, "Cook 300 g of Apple braise afresh on Wednesday"));

    // More than there is.
    let mut plan = window(cabbage(), 4);
    with_dish(&mut plan, of_the_book("charred-wedges"));
    plan.batches = vec![batch(1, "charred-wedges", 1, &[("middle", 560)])];
    serve(&mut plan, 1, SUPPER, 1, 560);
    plan.piece.parts[1].usable = prepared(500);
    plan.piece.parts[0].usable = prepared(plan.piece.parts[0].usable.get() + 189);
    all.push(("too much", plan, Code::OverAllotted, Severity::Stop, "Serve 60 g less"));

    // Milk for one who must not have it: a twin made apart.
    let mut plan = window(cabbage(), 4);
    let twin = Twin {
        name: "wedges with oil".into(),
        holds_piece: false,
        diet: Diet::Vegan,
        allergens: vec![],
        protein: None,
        without_forms: vec![],
        companions: vec![],
    };
    with_dish(&mut plan, Dish { twins: vec![twin], ..of_the_book("charred-wedges") });
    plan.household.eaters[1].allergies = vec![Allergen::Milk];
    plan.batches = vec![batch(1, "charred-wedges", 1, &[("middle", 300)])];
    serve(&mut plan, 1, SUPPER, 1, 300);
    all.push(("milk", plan.clone(), Code::Allergy, Severity::Stop, "Give Ben wedges with oil instead"));
    // Without a twin: another dish.
    with_dish(&mut plan, of_the_book("charred-wedges"));
    all.push(("milk and no twin", plan, Code::Allergy, Severity::Stop, "Make Apple braise instead"));

    // A vegetarian at a table of fish.
    let mut plan = window(salmon(), 2);
    with_dish(&mut plan, of_the_book("fish-stew"));
    plan.household.eaters[1].diet = Diet::Vegetarian;
    plan.batches = vec![batch(1, "fish-stew", 1, &[("belly", 200)])];
    serve(&mut plan, 1, SUPPER, 1, 200);
    all.push(("nothing to eat", plan, Code::NothingToEat, Severity::Stop, "Ben eats elsewhere"));

    // Cream opened on Monday, wanted on Friday.
    let mut plan = window(cabbage(), 5);
    let cream = Companion {
        name: "cream".into(),
        per_unit: 0.0,
        per_batch: 100.0,
        measure: CompanionMeasure::Ml,
        pack: Some(200.0),
        opened_days: Some(Days(3)),
        pack_word: Some("carton".into()),
    };
    with_dish(&mut plan, Dish { companions: vec![cream.clone()], ..of_the_book("braise") });
    with_dish(&mut plan, Dish { companions: vec![cream], ..of_the_book("charred-wedges") });
    plan.batches = vec![batch(1, "braise", 1, &[("outer", 300)]), batch(2, "charred-wedges", 5, &[("middle", 300)])];
    serve(&mut plan, 1, SUPPER, 1, 300);
    serve(&mut plan, 5, SUPPER, 2, 300);
    all.push(("old cream", plan, Code::CompanionTooOld, Severity::Stop, "Move Charred wedges"));

    // The last day for somebody elderly is a day sooner.
    let mut plan = window(salmon(), 4);
    with_dish(&mut plan, Dish { keeps: Days(3), ..of_the_book("fish-stew") });
    plan.household.eaters[1].care = vec![Care::Elderly];
    plan.batches = vec![batch(1, "fish-stew", 1, &[("belly", 300)])];
    serve(&mut plan, 3, SUPPER, 1, 300);
    all.push(("the elderly", plan.clone(), Code::CookedTooOld, Severity::Stop, "Move Salmon stew"));

    // On its last day: a word, and a day earlier.
    plan.household.eaters[1].care = vec![];
    all.push(("the last day", plan, Code::LastDay, Severity::Note, "Move Salmon stew"));
    all
}

fn find(plan: &Rotation, code: Code, severity: Severity) -> Finding {
    let findings = judge(plan).findings;
    // What lies free and raw beside it is another matter.
    let found = findings.iter().find(|f| f.code == code && f.severity == severity && !f.key.0.contains("/part/"));
    found.unwrap_or_else(|| panic!("no {code:?} in {findings:#?}")).clone()
}

fn words(mends: &[Mend]) -> Vec<String> {
    mends.iter().map(|m| m.words.replace('\u{a0}', " ")).collect()
}

#[test]
fn every_stop_has_a_mend_that_cures_it_and_harms_nothing() {
    let book = book();
    let mut seen: BTreeMap<Code, usize> = BTreeMap::new();
    for (name, plan, code, severity, begins) in cases() {
        validate(&plan).unwrap_or_else(|e| panic!("{name}: {}", e.what));
        let finding = find(&plan, code, severity);
        let mends = mends_for(&plan, &book, &finding);
        let said = words(&mends);
        assert!(said.iter().any(|w| w.starts_with(begins)), "{name}: {} has {said:#?}", finding.text);
        // Where the meal can be kept, nobody is told to leave it out.
        assert!(said.iter().all(|w| !w.starts_with("Do not make") && !w.starts_with("Leave ")), "{name}: {said:?}");
        let grave = |all: &[Finding]| all.iter().filter(|f| f.speaks() && f.severity <= severity).count();
        for mend in mends {
            let after = apply(&plan, &mend.edit).unwrap_or_else(|e| panic!("{name}, {}: {e}", mend.words)).rotation;
            let said = judge(&after).findings;
            assert!(said.iter().all(|f| f.key != finding.key), "{name}: {} cures nothing", mend.words);
            assert!(grave(&said) < grave(&judge(&plan).findings), "{name}: {} does harm", mend.words);
        }
        *seen.entry(code).or_default() += 1;
    }
    let stops = [
        Code::RawTooOld,
        Code::CutTooOld,
        Code::CookedTooOld,
        Code::BeforeMade,
        Code::Reheated,
        Code::PowerCut,
        Code::OverAllotted,
        Code::Allergy,
        Code::NothingToEat,
        Code::CompanionTooOld,
    ];
    assert!(stops.iter().all(|s| seen.contains_key(s)), "{seen:?}");
}

#[test]
fn what_went_off_before_it_was_made_into_something_is_made_into_it_sooner() {
    // Soup of Monday's braise, made on Saturday for nobody yet.
    let mut plan = window(cabbage(), 6);
    with_dish(&mut plan, of_the_book("braise"));
    with_dish(&mut plan, of_the_book("soup"));
    plan.batches = vec![batch(1, "braise", 1, &[("middle", 600)]), from_batch(2, "soup", 6, 1, 200)];
    serve(&mut plan, 1, SUPPER, 1, 300);
    let found = words(&mends_for(&plan, &book(), &find(&plan, Code::CookedTooOld, Severity::Stop)));
    assert_eq!(found.first().map(String::as_str), Some("Make Caraway soup on Thursday"), "{found:?}");
}

#[test]
fn what_nothing_else_cures_is_left_out() {
    // Six hours without power while the braise lay in the fridge; of it a soup is made for nobody yet.
    let mut plan = window(cabbage(), 4);
    with_dish(&mut plan, of_the_book("braise"));
    with_dish(&mut plan, of_the_book("soup"));
    plan.batches = vec![batch(1, "braise", 1, &[("middle", 600)]), from_batch(2, "soup", 3, 1, 200)];
    serve(&mut plan, 1, SUPPER, 1, 300);
    let at = |hour| Moment { day: DayNo(2), at: jiff::civil::time(hour, 0, 0, 0) };
    plan.fridge = Fridge { cuts: vec![PowerCut { from: at(8), to: at(14) }], ..Fridge::default() };
    let found = words(&mends_for(&plan, &book(), &find(&plan, Code::PowerCut, Severity::Stop)));
    assert_eq!(found, ["Do not make Caraway soup on Wednesday"]);
}

#[test]
fn what_is_eaten_before_it_is_made_may_be_made_by_then_with_all_that_goes_in() {
    let mut plan = window(cabbage(), 4);
    with_dish(&mut plan, of_the_book("braise"));
    with_dish(&mut plan, of_the_book("soup"));
    plan.batches = vec![batch(1, "braise", 3, &[("middle", 600)]), from_batch(2, "soup", 4, 1, 300)];
    plan.meals
        .entry(slot(2, SUPPER))
        .or_default()
        .servings
        .push(tranche::rotation::Serving { portion: Portion::of(State::Cooked, 300), ..serving(2, 300) });
    let found = words(&mends_for(&plan, &book(), &find(&plan, Code::BeforeMade, Severity::Stop)));
    assert!(found.contains(&"Make all of it on Tuesday".to_string()), "{found:?}");
}

#[test]
fn what_is_warmed_twice_may_be_eaten_cold_instead() {
    let mut plan = window(cabbage(), 4);
    with_dish(&mut plan, of_the_book("braise"));
    with_dish(&mut plan, of_the_book("soup"));
    plan.batches = vec![batch(1, "braise", 1, &[("middle", 600)]), from_batch(2, "soup", 2, 1, 300)];
    plan.meals
        .entry(slot(3, SUPPER))
        .or_default()
        .servings
        .push(tranche::rotation::Serving { portion: Portion::of(State::Cooked, 300), ..serving(2, 300) });
    // No other day will do: both are eaten on the day of their making, too.
    serve(&mut plan, 1, SUPPER, 1, 200);
    plan.batches[0].draws[0].portion = prepared(680);
    plan.batches[1].draws[0].portion = Portion::of(State::Cooked, 384);
    plan.meals
        .entry(slot(2, SUPPER))
        .or_default()
        .servings
        .push(tranche::rotation::Serving { portion: Portion::of(State::Cooked, 84), ..serving(2, 84) });
    let cold = Dish { from: vec![fixture::dish_id("braise")], state: State::Cooked, cooked: false, ..of_the_book("slaw") };
    let cold = Dish { id: fixture::dish_id("cold-plate"), name: "Cold plate".into(), ..cold };
    let cold = Dish { profile: tranche::book::Profile { heat: Some(Heat::Chilled), ..cold.profile.clone() }, ..cold };
    with_dish(&mut plan, Dish { state: State::Cooked, ..of_the_book("soup") });
    let mut all = dishes();
    all.push(cold);
    let book = Book::of([cabbage()], all);
    let found = words(&mends_for(&plan, &book, &find(&plan, Code::Reheated, Severity::Stop)));
    assert!(found.contains(&"Make Cold plate instead of Caraway soup".to_string()), "{found:?}");
}

#[test]
fn what_nobody_can_eat_in_time_is_banked_or_given_away() {
    // One supper and nothing else in a week that is too long for the cabbage.
    let mut plan = window(cabbage(), 10);
    plan.mealtimes.truncate(1);
    plan.mealtimes[0].id = MealtimeId(SUPPER);
    with_dish(&mut plan, of_the_book("charred-wedges"));
    plan.batches = vec![batch(1, "charred-wedges", 10, &[("middle", 300)])];
    serve(&mut plan, 10, SUPPER, 1, 300);
    for day in 1..=9 {
        plan.meals.entry(slot(day, SUPPER)).or_default().present = Some(vec![]);
    }
    // Nothing that is cooked keeps to the tenth day, and nobody sits down before.
    let only: Vec<Dish> = dishes().into_iter().filter(|d| d.id.as_str() == "pickle").collect();
    let book = Book::of([cabbage()], only);
    let finding = judge(&plan).findings.into_iter().find(|f| f.code == Code::RawTooOld && f.batch.is_some()).unwrap();
    let found = mends_for(&plan, &book, &finding);
    let said = words(&found);
    assert!(said.iter().any(|w| w.starts_with("Bank the 300 g as Vinegar pickle")), "{said:?}");
    let gives = found.iter().find(|m| m.words.starts_with("Give the")).unwrap_or_else(|| panic!("{said:?}"));
    let after = apply(&plan, &gives.edit).unwrap().rotation;
    let balance = judge(&after).balance;
    assert_eq!(balance.given_away, 300);
    assert_eq!(balance.as_bought, balance.trim + balance.rotten + balance.usable);
    assert_eq!(after.piece.part(&PartId::new("middle").unwrap()).unwrap().usable.get() + 300, 689);
}

#[test]
fn the_rest_of_a_carton_is_used_up_by_a_dish_of_the_book() {
    let cream = |per_batch: f64| Companion {
        name: "cream".into(),
        per_unit: 0.0,
        per_batch,
        measure: CompanionMeasure::Ml,
        pack: Some(300.0),
        opened_days: Some(Days(3)),
        pack_word: Some("carton".into()),
    };
    let mut plan = window(cabbage(), 4);
    with_dish(&mut plan, Dish { companions: vec![cream(120.0)], ..of_the_book("braise") });
    plan.batches = vec![batch(1, "braise", 1, &[("middle", 300)])];
    serve(&mut plan, 1, SUPPER, 1, 300);
    let bake = dish("cream-bake", "Cream bake", r#""brassica""#, r#""middle""#, "Creamy", "Mild", "Bake", "Hot", "");
    let mut all = dishes();
    all.push(Dish { companions: vec![cream(150.0)], ..bake });
    let book = Book::of([cabbage()], all);
    let left = find(&plan, Code::CompanionLeft, Severity::Note);
    assert!(left.text.replace('\u{a0}', " ").starts_with("Cream: 180 ml of the 300 ml carton"), "{}", left.text);
    let found = mends_for(&plan, &book, &left);
    assert!(words(&found).iter().any(|w| w.contains("Cream bake")), "{found:?}");
    for mend in &found {
        let after = apply(&plan, &mend.edit).unwrap().rotation;
        let rest: Vec<f64> = tranche::judge::packs_left(&after).iter().map(|p| p.left).collect();
        assert!(rest.iter().sum::<f64>() <= 90.0, "{}: {rest:?}", mend.words);
    }
    // On the fifth day the cream is past its time, and no dish is offered for then.
    plan.days = 5;
    for day in 1..=4 {
        for mealtime in [LUNCH, SUPPER] {
            plan.meals.entry(slot(day, mealtime)).or_default().present = Some(vec![EaterId(1)]);
        }
    }
    let late: Vec<_> = mends_for(&plan, &book, &find(&plan, Code::CompanionLeft, Severity::Note));
    assert!(words(&late).iter().all(|w| !w.contains("Friday")), "{late:?}");
}

#[test]
fn three_cartons_thrown_away_are_said_together_with_their_figures() {
    let pack = |name: &str, uses: f64| Companion {
        name: name.into(),
        per_unit: 0.0,
        per_batch: uses,
        measure: CompanionMeasure::G,
        pack: Some(100.0),
        opened_days: Some(Days(3)),
        pack_word: Some("pot".into()),
    };
    let plan = |uses: &[(&str, f64)]| {
        let mut plan = window(cabbage(), 4);
        let companions = uses.iter().map(|(name, g)| pack(name, *g)).collect();
        with_dish(&mut plan, Dish { companions, ..of_the_book("braise") });
        plan.batches = vec![batch(1, "braise", 1, &[("middle", 300)])];
        serve(&mut plan, 1, SUPPER, 1, 300);
        plan
    };
    let three = plan(&[("cream", 40.0), ("yoghurt", 60.0), ("ricotta", 70.0)]);
    let text = find(&three, Code::CompanionWaste, Severity::Caution).text.replace('\u{a0}', " ");
    let want = "1 meal of red cabbage eaten, 3 opened packs not used up: 60 g of the 100 g pot of cream, 30 g of the 100 g pot of \
                ricotta and 40 g of the 100 g pot of yoghurt";
    assert_eq!(text, want);
    for fewer in [&[("cream", 40.0), ("yoghurt", 60.0)][..], &[("cream", 40.0), ("yoghurt", 60.0), ("ricotta", 71.0)]] {
        assert!(judge(&plan(fewer)).findings.iter().all(|f| f.code != Code::CompanionWaste), "{fewer:?}");
    }
}
