//! The last legal day and the first illegal one of every keeping rule, across month ends, leap days and the turn of the year.

use super::companions::companions;
use super::test_support::{MONDAY, Plan, bank, component, dish, kind, pack, plain, raw_dish, supper};
use super::{Code, Severity, keeping};
use crate::book::{CutForm, CutKeeping, Dish};
use crate::quantity::{DayNo, Days};
use jiff::civil::{Date, date};

struct Rule {
    name: &'static str,
    /// The plan in which the thing in question happens on this day.
    on: fn(i16) -> Plan,
    code: Code,
    /// The last day on which it may.
    last: i16,
}

const fn rule(name: &'static str, code: Code, last: i16, on: fn(i16) -> Plan) -> Rule {
    Rule { name, on, code, last }
}

/// Raw for 1 and for 5 days, cooked 2; in shreds 2.
fn fish() -> Plan {
    let mut kind = kind("fish", &[("tail", 1), ("loin", 5)]);
    kind.animal = true;
    kind.cooked_days = Days(2);
    kind.cut_forms = vec![CutKeeping { form: CutForm::Shreds, days: Days(2) }];
    let mut plan = Plan::around(kind, &[400, 400], 14);
    plan.eater("Dag", 100);
    plan
}

fn keeps(days: i16, dish: Dish) -> Dish {
    Dish { keeps: Days(days), ..dish }
}

fn shredded(dish: Dish) -> Dish {
    Dish { cut: Some(CutForm::Shreds), ..dish }
}

fn made_once(dish: Dish, part: &str, eaten: i16) -> Plan {
    let mut plan = Plan::cabbage(14);
    let batch = plan.batch(1, dish, &[(part, 300)]);
    plan.serve(supper(eaten), batch, 300);
    plan
}

/// Made on day 1, and made into `then` on `day`.
fn made_of(first: Dish, then: Dish, day: i16) -> Plan {
    let mut plan = Plan::cabbage(14);
    let source = plan.batch(1, first, &[("middle", 300)]);
    let batch = plan.batch_from(day, then, source, 200);
    plan.serve(supper(day), batch, 200);
    plan
}

const RULES: &[Rule] = &[
    rule("a wrapped part, cooked", Code::RawTooOld, 6, |d| {
        let mut plan = Plan::cabbage(14);
        plan.cook(supper(d), dish("wedges"), "middle", 300);
        plan
    }),
    rule("raw fish, cooked", Code::RawTooOld, 2, |d| {
        let mut plan = fish();
        plan.cook(supper(d), dish("baked"), "tail", 300);
        plan
    }),
    rule("a part banked", Code::RawTooOld, 6, |d| {
        let mut plan = Plan::cabbage(14);
        plan.batch(d, bank("pickle"), &[("middle", 300)]);
        plan
    }),
    rule("a raw dish eaten on the raw clock", Code::RawTooOld, 6, |d| made_once(keeps(9, raw_dish("slaw")), "middle", d)),
    rule("a raw dish made late on the raw clock", Code::RawTooOld, 6, |d| {
        let mut plan = Plan::cabbage(14);
        plan.cook(supper(d), raw_dish("slaw"), "middle", 300);
        plan
    }),
    rule("shreds cut ahead, dressed on the day", Code::CutTooOld, 3, |d| {
        let mut plan = Plan::cabbage(14);
        let slaw = plan.cook(supper(d), shredded(raw_dish("slaw")), "heart", 260);
        plan.cut_on(slaw, 1);
        plan
    }),
    rule("shreds cut ahead, cooked on the day", Code::CutTooOld, 4, |d| {
        let mut plan = Plan::cabbage(14);
        let cakes = plan.cook(supper(d), shredded(dish("cakes")), "heart", 260);
        plan.cut_on(cakes, 2);
        plan
    }),
    rule("shreds cut ahead, banked", Code::CutTooOld, 3, |d| {
        let mut plan = Plan::cabbage(14);
        let pickle = plan.batch(d, shredded(bank("pickle")), &[("heart", 140)]);
        plan.cut_on(pickle, 1);
        plan
    }),
    rule("raw shreds from the cut to the meal", Code::CutTooOld, 3, |d| {
        made_once(keeps(9, shredded(raw_dish("slaw"))), "heart", d)
    }),
    rule("a dressed salad", Code::CookedTooOld, 2, |d| made_once(raw_dish("slaw"), "heart", d)),
    rule("roast", Code::CookedTooOld, 4, |d| made_once(dish("wedges"), "middle", d)),
    rule("rolls with rice", Code::CookedTooOld, 2, |d| made_once(keeps(1, dish("rolls")), "outer", d)),
    rule("a dish that keeps longer than its food", Code::CookedTooOld, 4, |d| made_once(keeps(9, dish("stew")), "middle", d)),
    rule("cooked fish", Code::CookedTooOld, 3, |d| {
        let mut plan = fish();
        let poached = plan.batch(1, dish("poached"), &[("tail", 400)]);
        plan.serve(supper(d), poached, 400);
        plan
    }),
    rule("a quick pickle", Code::CookedTooOld, 11, |d| made_once(bank("pickle"), "heart", d)),
    rule("a dish of a bank", Code::CookedTooOld, 11, |d| made_of(bank("pickle"), keeps(9, raw_dish("relish")), d)),
    rule("a bank, first cooked out of its vinegar", Code::CookedTooOld, 4, |d| {
        let mut plan = Plan::cabbage(14);
        let pickle = plan.batch(1, bank("pickle"), &[("heart", 300)]);
        let fried = plan.batch_from(1, keeps(9, dish("fried")), pickle, 200);
        plan.serve(supper(d), fried, 200);
        plan
    }),
    rule("a component used", Code::CookedTooOld, 4, |d| made_of(component("sauce"), dish("eggs"), d)),
    rule("a cold dish of a component", Code::CookedTooOld, 4, |d| made_of(component("poached"), keeps(2, raw_dish("flakes")), d)),
    rule("a component of a component", Code::CookedTooOld, 4, |d| {
        let mut plan = Plan::cabbage(14);
        let sauce = plan.batch(1, component("sauce"), &[("middle", 300)]);
        let soup = plan.batch_from(3, dish("soup"), sauce, 200);
        plan.serve(supper(d.max(3)), soup, 200);
        plan
    }),
    rule("a bank of what was cooked before", Code::CookedTooOld, 4, |d| {
        let mut plan = Plan::cabbage(14);
        let sauce = plan.batch(1, component("sauce"), &[("middle", 300)]);
        plan.batch_from(d, bank("chutney"), sauce, 200);
        plan
    }),
    rule("a raw component, cooked", Code::CookedTooOld, 2, |d| {
        let raw = Dish { cooked: false, ..keeps(1, component("salted")) };
        made_of(raw, dish("fried"), d)
    }),
    rule("a raw component's own first cooking buys days", Code::CookedTooOld, 5, |d| {
        let raw = Dish { cooked: false, ..keeps(1, component("salted")) };
        let mut plan = Plan::cabbage(14);
        let salted = plan.batch(1, raw, &[("middle", 300)]);
        let fried = plan.batch_from(2, dish("fried"), salted, 200);
        plan.serve(supper(d), fried, 200);
        plan
    }),
    rule("a bird roasted whole", Code::CookedTooOld, 4, |d| {
        let mut plan = turkey();
        plan.cook(supper(d), dish("curry"), "thigh", 400);
        plan
    }),
    rule("a pie of a bird roasted whole", Code::CookedTooOld, 4, |d| {
        let mut plan = turkey();
        let pie = plan.batch(3, dish("pie"), &[("thigh", 400)]);
        plan.serve(supper(d.max(3)), pie, 400);
        plan
    }),
    rule("cold turkey for the elderly", Code::CookedTooOld, 3, |d| {
        let mut plan = Plan::turkey(14);
        plan.cook(supper(d), raw_dish("salad"), "breast", 320);
        plan
    }),
    rule("fish for the elderly, from its own cooking", Code::CookedTooOld, 2, |d| {
        let mut plan = fish();
        let elder = plan.eater("Eva", 80);
        plan.with_eater(elder, |e| e.care.push(crate::book::Care::Elderly));
        let poached = plan.batch(1, dish("poached"), &[("tail", 400)]);
        plan.serve(supper(d), poached, 400);
        plan
    }),
    rule("opened cream", Code::CompanionTooOld, 4, |d| {
        let mut plan = Plan::cabbage(14);
        let with_cream =
            |id: &str, grams: f64| Dish { companions: vec![pack("cream", 0.0, grams, 300.0, 3, "carton")], ..dish(id) };
        plan.cook(supper(1), with_cream("slices", 100.0), "middle", 300);
        plan.cook(supper(d), with_cream("bake", 200.0), "outer", 300);
        plan
    }),
];

/// The turkey with nobody elderly at the table.
fn turkey() -> Plan {
    let mut plan = Plan::turkey(14);
    plan.rotation.household.eaters.truncate(1);
    plan
}

/// Within a month, over the end of January, over a leap day, over the 28th of a common February, over the turn of the year.
const STARTS: [Date; 5] = [MONDAY, date(2026, 1, 28), date(2024, 2, 27), date(2025, 2, 26), date(2025, 12, 29)];

fn stops(plan: &Plan, code: Code) -> Vec<String> {
    let mut findings = keeping(&plan.rotation).1;
    findings.extend(companions(&plan.rotation));
    // What lies raw to the end of these long windows is another question, asked apart.
    let findings = findings.into_iter().filter(|f| f.batch.is_some());
    findings.filter(|f| f.severity == Severity::Stop && f.code == code).map(|f| plain(&f.text)).collect()
}

#[test]
fn the_last_day_is_legal_and_the_next_one_stops_once_wherever_the_month_ends() {
    for Rule { name, on, code, last } in RULES {
        for start in STARTS {
            let mut legal = on(*last);
            legal.rotation.first_day = start;
            assert_eq!(stops(&legal, *code), [""; 0], "{name} on its last day, from {start}");
            let mut late = on(last + 1);
            late.rotation.first_day = start;
            let said = stops(&late, *code);
            assert_eq!(said.len(), 1, "{name} a day late, from {start}: {said:?}");
            let last_day = late.rotation.day_name(DayNo(*last));
            assert!(said[0].contains(&last_day), "{name}: \"{}\" does not name {last_day}", said[0]);
        }
    }
}

#[test]
fn a_window_over_the_turn_of_the_year_names_its_days_right() {
    let mut plan = made_once(dish("wedges"), "middle", 5);
    plan.rotation.first_day = date(2025, 12, 29);
    let said = stops(&plan, Code::CookedTooOld);
    assert_eq!(said, ["Friday 2 supper, Wedges: cooked Monday 29, 4 days against 3; the last day is Thursday 1"]);
}

#[test]
fn a_piece_opened_before_the_window_is_as_old_as_it_is() {
    for (opened, stop) in [(-1, false), (-2, true)] {
        let mut plan = Plan::cabbage(7);
        plan.rotation.piece.opened = DayNo(opened);
        plan.cook(supper(4), dish("wedges"), "middle", 300);
        assert_eq!(!stops(&plan, Code::RawTooOld).is_empty(), stop, "opened on day {opened}, cooked on day 4 of 5 raw days");
    }
}

#[test]
fn what_lies_raw_past_its_last_day_stops_where_it_is_much() {
    // 1,530 g of 5,520 g that keep a day: legal in a window of two days, not in one of three.
    for (days, cooked, want) in [
        (2, 0, vec![]),
        (3, 0, vec!["split: 1,530 g still raw after Tuesday, its last day"]),
        (3, 1_254, vec![]),
        (3, 1_253, vec!["split: 277 g still raw after Tuesday, its last day"]),
        (3, 1_530, vec![]),
    ] {
        let mut plan = Plan::of("tomato", &[("split", 1_530, 1), ("ripe", 2_280, 3), ("turning", 1_710, 6)], days);
        plan.eater("Mia", 100);
        if cooked > 0 {
            plan.batch(1, component("sauce"), &[("split", cooked)]);
        }
        let found = keeping(&plan.rotation).1;
        let raw: Vec<_> = found.iter().filter(|f| f.code == Code::RawTooOld).map(|f| plain(&f.text)).collect();
        assert_eq!(raw, want, "{days} days, {cooked} g cooked");
    }
}
