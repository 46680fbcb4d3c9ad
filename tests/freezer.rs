//! Does a freezer stop the clocks and only that, and is a kitchen without one judged as it always was?

mod fixture;

use fixture::{batch, book, cabbage, dishes, eater, plan, salmon, serving, slot};
use std::{fs, path::Path, sync::Arc};
use tranche::{
    book::{Dish, Kind, PartId},
    judge::{Code, Finding, Severity, judge, mends_for},
    quantity::{AsBought, DayNo, Days, Grams, Portion, State},
    rotation::{
        Batch, BatchId, CoolTo, Draw, Edit, FoodBox, Fridge, Frozen, FrozenStay, Meal, Mealtime, MealtimeId, Moment, PowerCut,
        Rotation, Serving, Source, Storage, apply,
    },
    store::{rotation_from_text, rotation_to_text},
};

fn window(kind: Kind, days: u16, opened: i16) -> Rotation {
    let mass = Grams::<AsBought>::new(1_800).unwrap();
    let mut plan = Rotation::start(Arc::new(kind), mass, jiff::civil::date(2026, 5, 11), days, vec![eater(1, "Ada", 100)]);
    plan.mealtimes = vec![Mealtime { id: MealtimeId(1), name: "supper".into(), at: jiff::civil::Time::new(18, 30, 0, 0).ok() }];
    plan.piece.opened = DayNo(opened);
    plan.storage.freezer = true;
    plan
}

fn with_dish(plan: &mut Rotation, dish: Dish) {
    plan.dishes.insert(dish.id.clone(), Arc::new(dish));
}

fn of_the_book(id: &str) -> Dish {
    dishes().into_iter().find(|d| d.id.as_str() == id).unwrap()
}

fn serve(plan: &mut Rotation, day: i16, batch: u32, grams: u32) {
    plan.meals.entry(slot(day, 1)).or_default().servings.push(serving(batch, grams));
}

/// A braise of Monday, 600 g, eaten on Monday and on this day.
fn braise(again: i16) -> Rotation {
    let mut plan = window(cabbage(), 14, 1);
    with_dish(&mut plan, of_the_book("braise"));
    plan.batches = vec![batch(1, "braise", 1, &[("middle", 600)])];
    serve(&mut plan, 1, 1, 300);
    serve(&mut plan, again, 1, 300);
    plan
}

fn frozen(plan: &Rotation, what: Frozen, from: i16, to: i16) -> Rotation {
    let edit = Edit::Freeze(FrozenStay { what, from: DayNo(from), to: DayNo(to) });
    apply(plan, &edit).unwrap_or_else(|e| panic!("{e}")).rotation
}

fn stops(plan: &Rotation) -> Vec<(Code, String)> {
    let findings = judge(plan).findings.into_iter().filter(|f| f.severity == Severity::Stop && !f.key.0.contains("/part/"));
    findings.map(|f| (f.code, f.text.replace('\u{a0}', " "))).collect()
}

fn codes(plan: &Rotation) -> Vec<Code> {
    stops(plan).into_iter().map(|s| s.0).collect()
}

const BRAISE: Frozen = Frozen::Batch(BatchId(1));

#[test]
fn a_kitchen_that_says_nothing_is_judged_and_written_as_before() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
    let mut weeks = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if !path.to_string_lossy().ends_with(".rotation.ron") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let plan = rotation_from_text(&path, &text).unwrap();
        assert_eq!(rotation_to_text(&plan), text, "not a byte more in {}", path.display());
        let with = apply(&plan, &Edit::SetStorage(Storage { freezer: true, ..Storage::default() })).unwrap().rotation;
        assert_eq!(judge(&with).findings, judge(&plan).findings, "a freezer with nothing in it changes nothing");
        weeks += 1;
    }
    assert!(weeks >= 10);
}

#[test]
fn frozen_days_do_not_count_and_what_was_left_runs_on() {
    // Made on day 1, keeps 3: frozen on its day and thawed on day 9 it is good to day 12, since nothing of it had run.
    for (day, good) in [(9, true), (12, true), (13, false)] {
        let plan = frozen(&braise(day), BRAISE, 1, 9);
        assert_eq!(codes(&plan), if good { vec![] } else { vec![Code::CookedTooOld] }, "eaten on day {day}");
    }
    // Frozen on its last day it is eaten on the day it has thawed.
    for (day, good) in [(9, true), (10, false)] {
        assert_eq!(codes(&frozen(&braise(day), BRAISE, 4, 9)).is_empty(), good, "eaten on day {day}");
    }
    // Frozen when it was past its day already it gains nothing.
    assert_eq!(codes(&frozen(&braise(9), BRAISE, 5, 9)), [Code::CookedTooOld]);
    let late = stops(&frozen(&braise(13), BRAISE, 1, 9));
    let want = "Saturday 23 supper, Apple braise: cooked Monday 11, 4 days against 3, 8 days in the freezer left out; the last day is \
                Friday 22";
    assert_eq!(late[0].1, want);
}

#[test]
fn what_lies_frozen_is_not_eaten_and_its_line_says_until_when() {
    let plan = frozen(&braise(6), BRAISE, 1, 9);
    assert_eq!(stops(&plan), [(Code::Frozen, "Saturday 16 supper, Apple braise: it lies frozen until Tuesday 19".to_string())]);
    let line = judge(&plan).keeping.into_iter().find(|l| l.what == "Apple braise").unwrap();
    assert_eq!((line.last_day, line.frozen), (DayNo(12), Some((DayNo(1), DayNo(9)))));
    let mends = mends_for(&plan, &book(), &finding(&plan, Code::Frozen));
    let words: Vec<&str> = mends.iter().map(|m| m.words.as_str()).collect();
    assert!(words.contains(&"Have Apple braise thawed by Saturday 16"), "{words:?}");
}

fn finding(plan: &Rotation, code: Code) -> Finding {
    judge(plan).findings.into_iter().find(|f| f.code == code && f.severity == Severity::Stop).unwrap()
}

#[test]
fn what_thaws_raw_is_cooked_within_a_day() {
    // Salmon, bought on day 1, keeps 1 raw. Frozen at once and thawed on day 6.
    let week = |made: i16, from: i16| {
        let mut plan = window(salmon(), 12, 1);
        with_dish(&mut plan, of_the_book("seared-loin"));
        plan.batches = vec![batch(1, "seared-loin", made, &[("loin", 300)])];
        serve(&mut plan, made, 1, 300);
        frozen(&plan, Frozen::Draw(BatchId(1), PartId::new("loin").unwrap()), from, 6)
    };
    for (made, from, good) in [(6, 1, true), (7, 1, true), (8, 1, false), (6, 2, true), (7, 2, false), (6, 3, false)] {
        let said = stops(&week(made, from));
        let want = if good { vec![] } else { vec![Code::RawTooOld] };
        assert_eq!(said.iter().map(|s| s.0).collect::<Vec<_>>(), want, "frozen on {from}, made on {made}: {said:?}");
    }
    let said = stops(&week(8, 1));
    assert!(said[0].1.contains("loin thawed 2 days against 1; the last day is Sunday 17"), "{said:?}");
    // A wrapped wedge that had five days has one from its thawing, and no more.
    let mut plan = window(cabbage(), 14, 1);
    with_dish(&mut plan, of_the_book("charred-wedges"));
    plan.batches = vec![batch(1, "charred-wedges", 10, &[("middle", 300)])];
    serve(&mut plan, 10, 1, 300);
    let draw = || Frozen::Draw(BatchId(1), PartId::new("middle").unwrap());
    assert_eq!(codes(&frozen(&plan, draw(), 1, 9)), []);
    assert_eq!(codes(&frozen(&plan, draw(), 1, 8)), [Code::RawTooOld]);
}

#[test]
fn food_is_not_frozen_twice_but_what_thawed_raw_and_was_cooked_may_be() {
    // Soup of a braise that had been frozen, frozen itself.
    let mut plan = braise(1);
    plan.meals.remove(&slot(1, 1));
    with_dish(&mut plan, of_the_book("soup"));
    let draw = Draw { from: Source::Batch(BatchId(1)), portion: Portion::of(State::Cooked, 400), cut_on: None };
    plan.batches.push(Batch { id: BatchId(2), dish: fixture::dish_id("soup"), day: DayNo(6), draws: vec![draw] });
    let portion = Portion::of(State::Cooked, 400);
    let soup = Serving { batch: BatchId(2), portion, eaters: vec![], twins: vec![] };
    plan.meals.insert(slot(8, 1), Meal { present: None, servings: vec![soup] });
    let once = frozen(&plan, BRAISE, 1, 6);
    assert!(!codes(&once).contains(&Code::Frozen));
    let twice = frozen(&once, Frozen::Batch(BatchId(2)), 6, 8);
    assert!(codes(&twice).contains(&Code::Frozen), "{:?}", stops(&twice));
    // The soup made while the braise is frozen.
    assert!(codes(&frozen(&plan, BRAISE, 1, 7)).contains(&Code::Frozen));
    // Raw, thawed, cooked, frozen.
    let mut plan = window(salmon(), 12, 1);
    with_dish(&mut plan, of_the_book("fish-stew"));
    plan.batches = vec![batch(1, "fish-stew", 6, &[("belly", 300)])];
    serve(&mut plan, 10, 1, 300);
    let raw = frozen(&plan, Frozen::Draw(BatchId(1), PartId::new("belly").unwrap()), 1, 6);
    assert_eq!(codes(&frozen(&raw, Frozen::Batch(BatchId(1)), 6, 10)), []);
}

#[test]
fn a_freezer_stands_a_day_without_power() {
    let cut = |plan: Rotation, (from, hour): (i16, i8), (to, until): (i16, i8)| {
        let at = |day, hour| Moment { day: DayNo(day), at: jiff::civil::time(hour, 0, 0, 0) };
        let fridge = Fridge { runs_at: None, cuts: vec![PowerCut { from: at(from, hour), to: at(to, until) }] };
        codes(&apply(&plan, &Edit::SetFridge(fridge)).unwrap().rotation)
    };
    let week = || frozen(&braise(9), BRAISE, 1, 9);
    assert_eq!(cut(week(), (4, 8), (5, 8)), [], "24 hours");
    assert_eq!(cut(week(), (4, 8), (5, 9)), [Code::PowerCut], "25 hours");
    assert_eq!(cut(week(), (8, 8), (8, 13)), [Code::PowerCut], "it thaws in the fridge on the day before");
    assert_eq!(cut(braise(4), (3, 8), (3, 13)), [Code::PowerCut], "in the fridge four hours are safe");
}

#[test]
fn the_freezer_is_offered_where_there_is_one_and_only_there() {
    let offered = |freezer: bool| {
        let mut plan = braise(9);
        plan.storage.freezer = freezer;
        let late = finding(&plan, Code::CookedTooOld);
        mends_for(&plan, &book(), &late).iter().any(|m| m.words.starts_with("Freeze Apple braise on Monday 11"))
    };
    assert!(offered(true) && !offered(false));
}

#[test]
fn what_cannot_be_frozen_is_refused_in_a_sentence() {
    let refused = |plan: &Rotation, edit: Edit| apply(plan, &edit).unwrap_err().0;
    let stay = |what, from, to| Edit::Freeze(FrozenStay { what, from: DayNo(from), to: DayNo(to) });
    let plan = braise(4);
    let mut without = plan.clone();
    without.storage.freezer = false;
    assert!(refused(&without, stay(BRAISE, 1, 4)).contains("no freezer"));
    assert!(refused(&plan, stay(BRAISE, 4, 4)).contains("thawed on a later day"));
    assert!(refused(&plan, stay(Frozen::Batch(BatchId(9)), 1, 4)).contains("not there"));
    let late = frozen(&plan, BRAISE, 1, 4);
    assert!(refused(&late, stay(BRAISE, 5, 8)).contains("not frozen again"));
    let heart = Frozen::Draw(BatchId(1), PartId::new("heart").unwrap());
    assert!(refused(&plan, stay(heart, 1, 2)).contains("takes nothing of heart"));
    let middle = Frozen::Draw(BatchId(1), PartId::new("middle").unwrap());
    assert!(refused(&plan, stay(middle, 1, 2)).contains("thawed by"));
    assert!(refused(&plan, Edit::KeepOut(BRAISE)).contains("not in the freezer"));
    let size = FoodBox { name: "flat box".into(), size_mm: (300, 200, 2), metal: false, count: 1 };
    let storage = |s: Storage| Edit::SetStorage(s);
    assert!(refused(&plan, storage(Storage { boxes: vec![size], ..Storage::default() })).contains("300 by 200 by 2 mm is none"));
    let rule = CoolTo { to_c: f64::NAN, within: 60 };
    assert!(refused(&plan, storage(Storage { cooling: Some(rule), ..Storage::default() })).contains("is none"));
}

#[test]
fn a_stay_follows_its_batch_and_goes_with_it_and_the_file_reads_back() {
    let plan = frozen(&braise(9), BRAISE, 1, 9);
    let text = rotation_to_text(&plan);
    assert_eq!(rotation_from_text(Path::new("a"), &text).unwrap(), plan);
    let shorter = apply(&plan, &Edit::RemoveDay(DayNo(5))).unwrap().rotation;
    assert_eq!(shorter.storage.frozen, [FrozenStay { what: BRAISE, from: DayNo(1), to: DayNo(8) }]);
    let gone = apply(&plan, &Edit::RemoveBatch(BatchId(1))).unwrap().rotation;
    assert_eq!(gone.storage.frozen, []);
    let out = apply(&plan, &Edit::KeepOut(BRAISE)).unwrap();
    assert_eq!((out.words.as_str(), out.rotation.storage.frozen.len()), ("Do not freeze Apple braise", 0));
    let sold = Edit::SetStorage(Storage { freezer: false, ..plan.storage.clone() });
    assert_eq!(apply(&plan, &sold).unwrap().rotation.storage, Storage::default());
    // A file that freezes what it does not hold is refused with its line.
    let broken = text.replace("Batch(1)", "Batch(7)");
    let said = rotation_from_text(Path::new("a"), &broken).unwrap_err().to_string();
    assert!(said.contains("frozen of a batch that is not there"), "{said}");
    assert_eq!(plan.storage.frozen[0].days(), Days(8));
}

#[test]
fn the_plan_of_the_fixture_has_no_freezer() {
    assert!(plan().storage.is_usual());
}
