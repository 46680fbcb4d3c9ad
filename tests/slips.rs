//! Do the worked weeks stand a slip: a guest more, a lost supper, a dish moved a day too late?

#[path = "support/scenarios.rs"]
mod support;
#[path = "support/weeks.rs"]
mod weeks;

use support::eater;
use tranche::{
    book::{Allergen, Book, Dish, PartId},
    judge::{Code, Judgement, KeepingState, Severity, Verdict, judge},
    quantity::{DayNo, Portion, State},
    rotation::{BatchId, EaterId, Edit, Rotation, Source},
};
use weeks::{batch, done, lunch, spoken, supper, text_of, week};

#[test]
fn the_sixth_roll_on_friday_is_a_day_too_late_for_its_rice() {
    let plan = week("red-cabbage-mended");
    let rolls = batch(&plan, "leaf-rolls-beef-rice-tomato");
    let late = done(&plan, &[Edit::AddDay, Edit::MoveServing { from: lunch(4), batch: rolls, to: lunch(5) }]);
    assert_eq!(spoken(&late, Severity::Stop), [(Code::CookedTooOld, Some(lunch(5)))]);
    assert!(text_of(&late, Code::CookedTooOld).contains("2 days against 1"));
}

#[test]
fn salmon_raw_on_sunday_stops_and_poached_on_friday_lasts_to_sunday() {
    let plan = week("salmon-folded");
    let (curry, tail) = (batch(&plan, "coconut-lime-curry"), batch(&plan, "poached-tail"));
    let late = done(&plan, &[Edit::MoveServing { from: supper(2), batch: curry, to: supper(3) }]);
    assert_eq!(spoken(&late, Severity::Stop), [(Code::RawTooOld, Some(supper(3)))]);
    assert!(text_of(&late, Code::RawTooOld).contains("2 days against 1"));
    let early = done(&plan, &[Edit::SetBatchDay { batch: tail, day: DayNo(1) }]);
    assert_eq!(spoken(&early, Severity::Stop), []);
    assert!(text_of(&early, Code::LastDay).contains("age 2 of 2"));
}

#[test]
fn the_turkeys_stops_rise_if_they_are_tried() {
    let plan = week("turkey-mended");
    let with = |dish: &str, allergen: Allergen| {
        let found = plan.dishes.values().find(|d| d.id.as_str() == dish).unwrap();
        let mut changed: Dish = (**found).clone();
        changed.allergens.push(allergen);
        let mut plan = plan.clone();
        plan.dishes.insert(changed.id.clone(), changed.into());
        let j = judge(&plan);
        let stops: Vec<_> =
            j.findings.iter().filter(|f| f.severity == Severity::Stop).map(|f| (f.code, f.meal, f.eater)).collect();
        stops
    };
    let jon = (Code::Allergy, Some(supper(2)), Some(EaterId(3)));
    assert_eq!(with("cold-shredded-lime-mint-noodles", Allergen::Sesame), [jon]);
    let leo = (Code::Allergy, Some(lunch(1)), Some(EaterId(5)));
    assert_eq!(with("plain-roast-gravy", Allergen::Wheat), [leo]);
}

#[test]
fn a_bigger_feast_leaves_a_thin_but_legal_broth() {
    let plan = week("turkey-bigger-feast");
    let served = |plan: &Rotation| plan.meal(supper(4)).servings[0].portion.get();
    assert_eq!((served(&plan), plan.units_at(supper(4)).to_string()), (310, "4.0".into()), "77.5 g a unit, 60 is the least");
    assert_eq!(text_of(&plan, Code::ServingSize), "");

    let broth = batch(&plan, "barley-leek-broth");
    let without_ida = done(
        &plan,
        &[
            Edit::SetPresent { slot: supper(4), eater: EaterId(2), present: false },
            Edit::SetServing { slot: supper(4), batch: broth, portion: Portion::of(State::Cooked, 240) },
        ],
    );
    assert_eq!(judge(&without_ida).balance.unallocated, 70);
    assert!(text_of(&without_ida, Code::Unallocated).starts_with("70 g (3.5 % of what is usable)"));
    assert_eq!(spoken(&without_ida, Severity::Stop), []);
    assert_eq!(spoken(&without_ida, Severity::Warn), []);
}

/// Monday's supper is lost; 800 g of ripe fruit and a tub of sauce are due on Tuesday.
#[test]
fn the_lost_tomato_supper_has_three_mends_and_one_way_to_waste_it() {
    let plan = week("tomatoes-mended");
    let chilled = batch(&plan, "chilled-blended-tomato-cucumber");
    let chutney = batch(&plan, "turning-tomato-chutney");

    let lunch_on_tuesday = done(&plan, &[Edit::MoveServing { from: supper(3), batch: chilled, to: lunch(4) }]);
    assert_eq!(spoken(&lunch_on_tuesday, Severity::Stop), []);
    assert_eq!(judge(&lunch_on_tuesday).balance.unallocated, 0);
    let pair = |j: &Judgement| j.variety.pairs.iter().find(|p| p.first == lunch(4) && p.second == supper(4)).map(|p| p.verdict);
    assert_eq!(pair(&judge(&lunch_on_tuesday)), Some(Verdict::Fine));
    assert!(
        text_of(&lunch_on_tuesday, Code::LastDay).contains("ripe raw age 3 of 3"),
        "{}",
        text_of(&lunch_on_tuesday, Code::LastDay)
    );

    let lost = done(&plan, &[Edit::RemoveServing { slot: supper(3), batch: chilled }]);
    assert_eq!(judge(&lost).balance.unallocated, 800);
    let ripe = || Source::Part(PartId::new("ripe").unwrap());
    let sauce = Book::shipped().unwrap();
    let sauce = sauce.dishes().find(|d| d.id.as_str() == "simmered-sauce-base").unwrap().clone();
    let simmered = done(
        &lost,
        &[Edit::MakeAhead { dish: sauce, day: DayNo(4), source: ripe(), portion: Portion::of(State::Prepared, 800) }],
    );
    let line = |plan: &Rotation, id: BatchId| {
        let j = judge(plan);
        let stock = j.balance.stocks.iter().find(|s| s.batch == id).unwrap().cooked_mg;
        let state = KeepingState::Cooked(id);
        (stock, j.keeping.into_iter().find(|k| k.state == state).unwrap().last_day)
    };
    let sauce = batch(&simmered, "simmered-sauce-base");
    assert_eq!(line(&simmered, sauce), (480_000, DayNo(7)), "480 g, good to Friday");
    assert_eq!(spoken(&simmered, Severity::Stop), []);

    let into_chutney = done(
        &lost,
        &[
            Edit::SetBatchDay { batch: chutney, day: DayNo(4) },
            Edit::SetDraw { batch: chutney, source: ripe(), portion: Portion::of(State::Prepared, 800) },
        ],
    );
    assert_eq!(line(&into_chutney, chutney).0, 1_237_200);
    assert_eq!(spoken(&into_chutney, Severity::Stop), []);

    let wednesday = done(&plan, &[Edit::MoveServing { from: supper(3), batch: chilled, to: lunch(5) }]);
    assert_eq!(spoken(&wednesday, Severity::Stop), [(Code::RawTooOld, Some(lunch(5)))]);
    assert!(text_of(&wednesday, Code::RawTooOld).contains("4 days against 3"));
    assert_eq!(spoken(&lost, Severity::Stop), [(Code::RawTooOld, None)], "left raw, 800 g go off on Wednesday");
}

#[test]
fn cream_in_the_soup_or_cheese_on_the_bake_stops_nils() {
    for (dish, slot) in [("smooth-tomato-soup", lunch(2)), ("tomato-pasta-bake", supper(3))] {
        let mut plan = week("tomatoes-unhappy");
        let mut changed = (**plan.dishes.values().find(|d| d.id.as_str() == dish).unwrap()).clone();
        changed.allergens.push(Allergen::Milk);
        plan.dishes.insert(changed.id.clone(), changed.into());
        let stops = judge(&plan).findings.into_iter().filter(|f| f.code == Code::Allergy).map(|f| (f.meal, f.eater));
        assert_eq!(stops.collect::<Vec<_>>(), [(Some(slot), Some(EaterId(2)))], "{dish}");
    }
}

#[test]
fn pia_without_her_softened_tomato_draws_a_caution() {
    let plan = week("tomatoes-mended");
    let salad = batch(&plan, "torn-bread-raw-tomato-salad");
    let raw = done(&plan, &[Edit::SetTwin { slot: lunch(2), batch: salad, eater: EaterId(4), twin: None }]);
    assert!(spoken(&raw, Severity::Caution).contains(&(Code::Dislike, Some(lunch(2)))));
}

/// Tor comes on Thursday and must not eat celery, which celeriac is.
#[test]
fn the_cream_bake_gives_way_to_a_guest_and_lasts_to_friday_but_not_to_saturday() {
    let mut tor = eater(9, "Tor", 100);
    tor.guest = true;
    tor.allergies = vec![Allergen::Celery];
    let plan = week("celeriac-mended");
    let plan = done(&plan, &[Edit::AddEater(tor)]);
    let tor = plan.household.eaters.iter().find(|e| e.name == "Tor").unwrap().id;
    let comes = |plan: &Rotation| done(plan, &[Edit::SetPresent { slot: supper(4), eater: tor, present: true }]);
    let bake = batch(&plan, "cream-bake-beans");

    let shared = comes(&plan);
    assert_eq!(spoken(&shared, Severity::Stop), [(Code::Allergy, Some(supper(4)))]);

    let friday = comes(&done(&plan, &[Edit::MoveServing { from: supper(4), batch: bake, to: supper(5) }]));
    assert_eq!(spoken(&friday, Severity::Stop), []);
    assert_eq!(spoken(&friday, Severity::Warn), []);
    assert_eq!(judge(&friday).balance.unallocated, 0);
    let raw = judge(&friday).keeping.into_iter().filter(|k| matches!(k.state, KeepingState::Raw(_)));
    let last: Vec<_> = raw.map(|k| (k.limit.0, k.last_day, k.last_use)).collect();
    assert_eq!(last, [(4, DayNo(5), Some(DayNo(5))); 2], "the root's last day, and it is used");
    let rut = judge(&friday).variety.pairs.into_iter().find(|p| p.second == supper(5) && p.eater != Some(EaterId(2))).unwrap();
    assert_eq!((rut.first, rut.verdict), (supper(3), Verdict::Fine));

    let saturday = done(&plan, &[Edit::AddDay, Edit::MoveServing { from: supper(4), batch: bake, to: supper(6) }]);
    let stops = spoken(&saturday, Severity::Stop);
    assert!(
        stops.contains(&(Code::RawTooOld, Some(supper(6)))) && stops.contains(&(Code::CompanionTooOld, Some(supper(6)))),
        "{stops:?}"
    );
    assert!(text_of(&saturday, Code::RawTooOld).contains("5 days against 4"));
    let cream = text_of(&saturday, Code::CompanionTooOld);
    assert!(cream.contains("cream") && cream.contains("4 days against 3") && cream.lines().count() == 1, "{cream}");
}
