//! Boundaries of what is made and cooked, in hours: the last minute in which it may be eaten again and the first in which it may
//! not, over midnight, the ends of months and the nights in which clocks change; and never later than by whole days.
//!
//! What is made for a meal of its day counts from the sit-down of that meal, a day being 24 hours. No source gives a limit of
//! days in hours; that a day is no more than 24 of them is the plain reading, and the stricter one.

mod fixture;

use fixture::{batch, cabbage, dishes, eater, salmon, serving, slot};
use jiff::civil::{Date, DateTime, Time};
use std::sync::Arc;
use tranche::{
    book::{Care, CutForm, Dish, Kind},
    judge::{Code, Severity, judge},
    lists::{box_labels, label_sheet},
    quantity::{AsBought, DayNo, Days, Grams, System},
    rotation::{Fridge, Mealtime, MealtimeId, Rotation},
};

#[derive(Clone, Copy, Debug, PartialEq)]
enum Clock {
    /// A braise of cabbage: three days, 72 hours.
    Braise,
    /// A stew of salmon: two days.
    FishStew,
    /// The same for somebody elderly: a day less.
    ForGranny,
    /// Seared salmon: a day.
    Seared,
    /// A slaw of shreds, cut and dressed for its first meal: two days, those of the shreds.
    Slaw,
    /// What is to be eaten on its day: no days.
    OnTheDay,
    /// A stew of salmon for somebody elderly that keeps a day for others: on its day alone.
    OnTheDayForGranny,
    /// A braise in a fridge at 7 °C: a day, by the growth of Listeria.
    WarmFridge,
}
use Clock::*;

#[rustfmt::skip]
const ROWS: [(&str, Clock, &str, &str, &str); 30] = [
    ("a supper of a quarter to seven",     Braise,    "2026-05-11 18:45", "2026-05-14 18:45", "2026-05-14 18:46"),
    ("a lunch, eaten up at a supper",      Braise,    "2026-05-11 12:30", "2026-05-14 12:30", "2026-05-14 18:30"),
    ("one minute to midnight",             Braise,    "2026-05-11 23:59", "2026-05-14 23:59", "2026-05-15 00:00"),
    ("midnight",                           Braise,    "2026-05-12 00:00", "2026-05-15 00:00", "2026-05-15 00:01"),
    ("one minute past midnight",           Braise,    "2026-05-12 00:01", "2026-05-15 00:01", "2026-05-15 00:02"),
    ("fish at noon",                       FishStew,  "2026-05-11 12:00", "2026-05-13 12:00", "2026-05-13 12:01"),
    ("fish for the elderly",               ForGranny, "2026-05-11 18:45", "2026-05-12 18:45", "2026-05-12 18:46"),
    ("fish for a day",                     Seared,    "2026-05-11 18:45", "2026-05-12 18:45", "2026-05-12 18:46"),
    ("shreds of a lunch",                  Slaw,      "2026-05-11 12:30", "2026-05-13 12:30", "2026-05-13 12:31"),
    ("no days are the day itself",         OnTheDay,  "2026-05-11 12:30", "2026-05-11 23:59", "2026-05-12 00:00"),
    ("and for the elderly",        OnTheDayForGranny, "2026-05-11 12:30", "2026-05-11 23:59", "2026-05-12 00:00"),
    ("a fridge at 7 °C",                   WarmFridge,"2026-05-11 18:45", "2026-05-12 18:45", "2026-05-12 18:46"),
    // Ends of months and years.
    ("to the end of a month",              Braise,    "2026-04-27 18:45", "2026-04-30 18:45", "2026-04-30 18:46"),
    ("over the end of a month",            Braise,    "2026-04-28 18:45", "2026-05-01 18:45", "2026-05-01 18:46"),
    ("over a common February",             FishStew,  "2027-02-27 18:45", "2027-03-01 18:45", "2027-03-01 18:46"),
    ("to a leap day",                      FishStew,  "2028-02-27 18:45", "2028-02-29 18:45", "2028-02-29 18:46"),
    ("over a leap day",                    Braise,    "2028-02-27 18:45", "2028-03-01 18:45", "2028-03-01 18:46"),
    ("2100, which has no leap day",        Braise,    "2100-02-26 18:45", "2100-03-01 18:45", "2100-03-01 18:46"),
    ("over the turn of the year",          Braise,    "2026-12-30 18:45", "2027-01-02 18:45", "2027-01-02 18:46"),
    // Clocks go forward: the night is an hour shorter, and by the clock on the wall nothing is gained.
    ("Europe's short night",               Seared,    "2026-03-28 18:45", "2026-03-29 18:45", "2026-03-29 18:46"),
    ("Europe's short night inside",        Braise,    "2026-03-27 18:45", "2026-03-30 18:45", "2026-03-30 18:46"),
    ("America's short night",              FishStew,  "2026-03-07 18:45", "2026-03-09 18:45", "2026-03-09 18:46"),
    ("a night without a midnight",         Slaw,      "2026-04-22 18:45", "2026-04-24 18:45", "2026-04-24 18:46"),
    // Clocks go back: 24 hours by the clock on the wall were 25.
    ("Europe's long night",                Seared,    "2026-10-24 18:45", "2026-10-25 17:45", "2026-10-25 17:46"),
    ("Europe's long night inside",         Braise,    "2026-10-23 18:45", "2026-10-26 17:45", "2026-10-26 17:46"),
    ("for the elderly over it",            ForGranny, "2026-10-24 18:45", "2026-10-25 17:45", "2026-10-25 17:46"),
    ("cooked after the long night",        Braise,    "2026-10-25 18:45", "2026-10-28 18:45", "2026-10-28 18:46"),
    ("America's long night",               FishStew,  "2026-10-31 18:45", "2026-11-02 17:45", "2026-11-02 17:46"),
    ("the south's long night",             FishStew,  "2026-04-04 18:45", "2026-04-06 17:45", "2026-04-06 17:46"),
    ("a long night at a month's turn",     Slaw,      "2026-10-31 12:00", "2026-11-02 11:00", "2026-11-02 11:01"),
];

fn moment(text: &str) -> DateTime {
    text.replace(' ', "T").parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

fn of_the_book(id: &str) -> Dish {
    dishes().into_iter().find(|d| d.id.as_str() == id).unwrap()
}

/// Made and eaten at `since`, or made on its day and eaten at none of its meals; eaten again at `at`.
fn plan(clock: Clock, since: DateTime, at: DateTime, eaten_at_once: bool) -> Rotation {
    let (kind, dish, part): (Kind, Dish, &str) = match clock {
        Braise | WarmFridge => (cabbage(), of_the_book("braise"), "middle"),
        FishStew | ForGranny => (salmon(), of_the_book("fish-stew"), "belly"),
        Seared => (salmon(), of_the_book("seared-loin"), "loin"),
        Slaw => (cabbage(), Dish { cut: Some(CutForm::Shreds), ..of_the_book("slaw") }, "heart"),
        OnTheDay => (cabbage(), Dish { keeps: Days(0), ..of_the_book("braise") }, "middle"),
        OnTheDayForGranny => (salmon(), Dish { keeps: Days(1), ..of_the_book("fish-stew") }, "belly"),
    };
    let first: Date = since.date();
    let mut old = eater(1, "Ada", 100);
    old.care = if matches!(clock, ForGranny | OnTheDayForGranny) { vec![Care::Elderly] } else { vec![] };
    let mut plan = Rotation::start(Arc::new(kind), Grams::<AsBought>::new(1_800).unwrap(), first, 9, vec![old]);
    let clock_of = |t: DateTime| Time::new(t.hour(), t.minute(), 0, 0).ok();
    plan.mealtimes = vec![Mealtime { id: MealtimeId(1), name: "one".into(), at: clock_of(since) }];
    let again = if clock_of(at) == clock_of(since) { 1 } else { 2 };
    if again == 2 {
        let two = Mealtime { id: MealtimeId(2), name: "two".into(), at: clock_of(at) };
        plan.mealtimes.insert(usize::from(at.time() > since.time()), two);
    }
    let day = i16::try_from((at.date() - first).get_days() + 1).unwrap();
    plan.batches = vec![batch(1, dish.id.as_str(), 1, &[(part, 300)])];
    plan.dishes.insert(dish.id.clone(), Arc::new(dish));
    if eaten_at_once {
        plan.meals.entry(slot(1, 1)).or_default().servings.push(serving(1, 150));
    }
    plan.meals.entry(slot(day, again)).or_default().servings.push(serving(1, 150));
    if clock == WarmFridge {
        plan.fridge = Fridge { runs_at: Some(7.0), cuts: vec![] };
    }
    plan
}

fn stop(plan: &Rotation) -> Option<String> {
    let late = [Code::CookedTooOld, Code::CutTooOld];
    let mut stops = judge(plan).findings.into_iter().filter(|f| f.severity == Severity::Stop && late.contains(&f.code));
    stops.next().map(|f| f.text.replace('\u{a0}', " "))
}

#[test]
fn the_last_minute_is_legal_and_the_next_is_not() {
    for (name, clock, since, last, first) in ROWS {
        let (since, last, first) = (moment(since), moment(last), moment(first));
        assert_eq!(stop(&plan(clock, since, last, true)), None, "{name}: at {last}");
        assert!(stop(&plan(clock, since, first, true)).is_some(), "{name}: at {first}");
    }
}

#[test]
fn an_hour_never_gains_time_over_whole_days() {
    for (name, clock, since, last, first) in ROWS {
        for at in [last, first] {
            let (since, at) = (moment(since), moment(at));
            let (hours, days) = (stop(&plan(clock, since, at, true)), stop(&plan(clock, since, at, false)));
            assert!(days.is_none() || hours.is_some(), "{name}: {at} is legal by the hour and not by the day: {days:?}");
        }
    }
}

#[test]
fn what_is_past_by_the_hour_is_told_in_hours() {
    let late = plan(Braise, moment("2026-05-11 12:30"), moment("2026-05-14 18:30"), true);
    let want = "Thursday 14 two, Apple braise: cooked Monday 11, 78 h against 72 h; the last hour is Thursday 14 12:30";
    assert_eq!(stop(&late).as_deref(), Some(want));
    let late = plan(Braise, moment("2026-05-11 12:30"), moment("2026-05-14 12:45"), true);
    let want = "Thursday 14 two, Apple braise: cooked Monday 11, 72 h 15 min against 72 h; the last hour is Thursday 14 12:30";
    assert_eq!(stop(&late).as_deref(), Some(want));
    let line = judge(&late).keeping.into_iter().find(|l| l.what == "Apple braise").unwrap();
    assert_eq!(line.until.map(|u| (u.day, u.at.hour(), u.at.minute())), Some((DayNo(4), 12, 30)));
    // By whole days it is the day after that is too late.
    let by_day = plan(Braise, moment("2026-05-11 12:30"), moment("2026-05-14 18:30"), false);
    assert_eq!(stop(&by_day), None);
}

#[test]
fn what_is_made_of_it_keeps_no_longer_and_a_meal_without_a_clock_counts_by_days() {
    let mut late = plan(Braise, moment("2026-05-11 12:30"), moment("2026-05-14 18:30"), true);
    assert!(stop(&late).is_some());
    late.mealtimes[1].at = None;
    assert_eq!(stop(&late), None, "some time on the last day");
    late.mealtimes[1].at = Time::new(18, 30, 0, 0).ok();
    // A cold salad made of it for its last supper goes off when it would have.
    let salad = Dish { keeps: Days(3), cooked: false, ..of_the_book("slaw") };
    let mut of_it = batch(2, "slaw", 4, &[]);
    of_it.draws = vec![tranche::rotation::Draw {
        from: tranche::rotation::Source::Batch(tranche::rotation::BatchId(1)),
        portion: tranche::quantity::Portion::of(tranche::quantity::State::Cooked, 60),
        cut_on: None,
    }];
    late.meals.remove(&slot(4, 2));
    late.batches.push(of_it);
    late.dishes.insert(salad.id.clone(), Arc::new(salad));
    let mut eaten = serving(2, 60);
    eaten.portion = tranche::quantity::Portion::of(tranche::quantity::State::Cooked, 60);
    late.meals.entry(slot(4, 2)).or_default().servings.push(eaten);
    let said = stop(&late).unwrap();
    assert!(said.contains("78 h against 72 h"), "{said}");
}

#[test]
fn a_box_says_the_hour_at_which_its_last_day_ends() {
    let labels = |clock, since, at| {
        let plan = plan(clock, moment(since), moment(at), true);
        let labels = box_labels(&plan);
        let words: Vec<String> = label_sheet(&plan, &labels, System::Metric)
            .sections
            .into_iter()
            .flat_map(|s| s.cards)
            .flat_map(|c| c.lines)
            .collect();
        (labels, words)
    };
    let (boxed, words) = labels(Braise, "2026-05-11 18:45", "2026-05-14 18:45");
    assert!(boxed.iter().any(|l| l.until == Time::new(18, 45, 0, 0).ok()), "{boxed:?}");
    assert!(words.iter().any(|w| w.contains("2026-05-14, 18:45")), "{words:?}");
    // A whole day has no hour.
    let (boxed, words) = labels(Braise, "2026-05-11 23:59", "2026-05-14 23:59");
    assert!(!boxed.is_empty() && boxed.iter().all(|l| l.until.is_none()), "{boxed:?}");
    assert!(words.iter().any(|w| w.ends_with("2026-05-14")), "{words:?}");
}
