//! What keeps how long, on plans made for the question.

use super::super::test_support::{Plan, bank, component, dish, lunch, raw_dish, said, supper};
use super::*;
use crate::book::{Heat, Profile};

fn hot(dish: Dish) -> Dish {
    Dish { profile: Profile { heat: Some(Heat::Hot), ..Profile::default() }, ..dish }
}

fn keeps(days: i16, dish: Dish) -> Dish {
    Dish { keeps: Days(days), ..dish }
}

#[test]
fn the_sixth_roll_is_legal_on_its_last_day_and_no_later() {
    let rolls = |day, at: fn(i16) -> Slot| {
        let mut plan = Plan::cabbage(5);
        plan.cook(supper(1), raw_dish("slaw"), "heart", 400);
        plan.cook(supper(2), dish("wedges"), "middle", 800);
        let rolls = plan.batch(3, hot(keeps(1, dish("rolls"))), &[("outer", 300)]);
        plan.serve(supper(3), rolls, 250);
        plan.serve(at(day), rolls, 50);
        said(&keeping(&plan.rotation).1)
    };
    assert_eq!(rolls(4, lunch), ["Note keeping-last-day: Thursday lunch, Rolls: last day, cooked Wednesday, age 1 of 1"]);
    assert_eq!(
        rolls(5, lunch),
        ["Stop keeping-cooked: Friday lunch, Rolls: cooked Wednesday, 2 days against 1; the last day is Thursday"]
    );
    assert_eq!(rolls(2, lunch), ["Stop keeping-order: Tuesday lunch, Rolls: served before it is made on Wednesday"]);
}

#[test]
fn the_unhappy_salmon_stops_twice() {
    let mut kind = super::super::test_support::kind("salmon", &[("loin", 1), ("belly", 1), ("tail", 1)]);
    kind.animal = true;
    kind.cooked_days = Days(2);
    let mut plan = Plan::around(kind, &[480, 380, 400], 4);
    plan.rotation.first_day = jiff::civil::date(2025, 11, 14);
    plan.eater("Dag", 100);
    let baked = plan.batch(1, keeps(2, dish("baked")), &[("loin", 480)]);
    plan.serve(supper(1), baked, 300);
    plan.cook(supper(2), dish("in-paper"), "belly", 380);
    plan.cook(supper(3), dish("baked-tail"), "tail", 400);
    let flakes = plan.batch_from(4, keeps(2, raw_dish("flakes")), baked, 180);
    plan.serve(supper(4), flakes, 180);
    let want = [
        "Stop keeping-raw: Sunday supper, Baked tail: tail raw 2 days against 1; the last day is Saturday",
        "Stop keeping-cooked: Monday supper, Flakes: Baked cooked Friday, 3 days against 2; the last day is Sunday",
    ];
    assert_eq!(said(&keeping(&plan.rotation).1), want);
}

#[test]
fn grandmother_has_a_day_less_unless_it_is_boiled_through_that_day() {
    let week = |boiled: bool, made: i16| {
        let mut plan = Plan::turkey(4);
        let broth = plan.batch(made, Dish { boiled_through: boiled, ..dish("broth") }, &[("breast", 170), ("pickings", 150)]);
        plan.serve(supper(4), broth, 320);
        said(&keeping(&plan.rotation).1)
    };
    let last = "Note keeping-last-day: Wednesday supper, Broth: last day, cooked Sunday, age 3 of 3";
    let stop = "Stop keeping-cooked: Wednesday supper, Broth: too late for Grandmother (elderly), cooked Sunday, \
                3 days against 2; the last day is Tuesday";
    let caution = "Caution keeping-boiled-through: Wednesday supper, Broth: fit for Grandmother only because it is boiled \
                   through, cooked Sunday, 3 days against 2";
    assert_eq!(week(false, 4), [last, stop]);
    assert_eq!(week(true, 4), [last, caution]);
    assert_eq!(week(true, 3), [last, stop], "boiled the day before, it is cold meat again");
}

#[test]
fn past_everybodys_limit_is_said_once_and_not_again_for_the_elderly() {
    let mut plan = Plan::turkey(5);
    plan.cook(supper(5), dish("curry"), "thigh", 400);
    let want = ["Stop keeping-cooked: Thursday supper, Curry: cooked Sunday, 4 days against 3; the last day is Wednesday"];
    assert_eq!(said(&keeping(&plan.rotation).1), want);
}

#[test]
fn an_eater_who_is_away_or_has_a_twin_without_the_piece_is_not_judged() {
    let mut plan = Plan::turkey(4);
    let twin = crate::book::Twin {
        name: "egg".into(),
        holds_piece: false,
        diet: crate::book::Diet::Vegetarian,
        allergens: Vec::new(),
        protein: None,
        without_forms: Vec::new(),
        companions: Vec::new(),
    };
    let pie = plan.cook(supper(4), Dish { twins: vec![twin], ..dish("pie") }, "thigh", 400);
    let granny = plan.rotation.household.eaters[1].id;
    let stops = |plan: &Plan| keeping(&plan.rotation).1.iter().filter(|f| f.severity == Severity::Stop).count();
    assert_eq!(stops(&plan), 1);
    plan.twin(supper(4), pie, granny, "egg");
    assert_eq!(stops(&plan), 0);
    plan.meal_mut(supper(4)).servings[0].twins.clear();
    plan.present(supper(4), &[crate::rotation::EaterId(1)]);
    assert_eq!(stops(&plan), 0);
}

#[test]
fn food_is_warmed_up_once() {
    // (the dish made of Monday's sauce, the day it is made, the day it is eaten, whether that is once too often)
    for (hot_dish, made, eaten, stop) in
        [(true, 1, 1, false), (true, 1, 2, false), (true, 2, 2, false), (true, 2, 3, true), (false, 2, 3, false)]
    {
        let mut plan = Plan::cabbage(4);
        let sauce = plan.batch(1, hot(component("sauce")), &[("middle", 800)]);
        let eggs = if hot_dish { hot(dish("eggs")) } else { dish("eggs") };
        let eggs = plan.batch_from(made, eggs, sauce, 400);
        plan.serve(supper(eaten), eggs, 400);
        let found = keeping(&plan.rotation).1;
        assert_eq!(found.iter().any(|f| f.code == Code::Reheated), stop, "hot {hot_dish}, made {made}, eaten {eaten}");
    }
    let mut plan = Plan::cabbage(4);
    let pickle = plan.batch(1, bank("pickle"), &[("heart", 400)]);
    let pan = plan.batch_from(2, hot(dish("pan")), pickle, 200);
    plan.serve(supper(3), pan, 200);
    assert!(keeping(&plan.rotation).1.iter().all(|f| f.code != Code::Reheated), "a bank is not warmed up");
}

#[test]
fn every_part_and_batch_has_its_line() {
    let mut plan = Plan::cabbage(4);
    plan.cook(supper(1), raw_dish("slaw"), "heart", 260);
    let rolls = plan.batch(3, keeps(1, dish("rolls")), &[("outer", 300)]);
    plan.serve(supper(3), rolls, 250);
    plan.serve(lunch(4), rolls, 50);
    let lines: Vec<_> = keeping(&plan.rotation)
        .0
        .into_iter()
        .map(|l| (l.what, l.since.0, l.limit.0, l.last_day.0, l.last_use.map(|d| d.0), l.because))
        .collect();
    let line =
        |what: &str, since, limit, last, used, because: &str| (what.to_string(), since, limit, last, used, because.to_string());
    assert_eq!(
        lines,
        [
            line("outer, raw", 1, 5, 6, Some(3), "raw, cut on Monday"),
            line("middle, raw", 1, 5, 6, None, "raw, cut on Monday"),
            line("heart, raw", 1, 5, 6, Some(1), "raw, cut on Monday"),
            line("Slaw", 1, 1, 2, Some(1), "this dish, made on Monday"),
            line("Rolls", 3, 1, 4, Some(4), "this dish, made on Wednesday"),
        ]
    );
    let mut bird = Plan::turkey(4);
    bird.cook(supper(3), dish("hash"), "thigh", 400);
    let (lines, _) = keeping(&bird.rotation);
    assert_eq!(lines[0].state, KeepingState::CookedWhole);
    assert_eq!((lines[0].last_day, lines[0].last_use), (DayNo(4), Some(DayNo(3))));
    assert_eq!((lines[1].last_day, lines[1].because.as_str()), (DayNo(4), "turkey roasted on Sunday"));
}
