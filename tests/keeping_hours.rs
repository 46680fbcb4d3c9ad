//! Boundaries in hours: where the hour of the opening is known, the last minute in which food may be used and the first in which
//! it may not, over midnight, the ends of months and the nights in which clocks change; and never later than by whole days.

mod fixture;

use fixture::{batch, cabbage, dishes, eater, salmon, serving, slot};
use jiff::civil::{Date, DateTime, Time};
use std::sync::Arc;
use tranche::{
    book::Kind,
    judge::{Code, Severity, judge},
    quantity::{AsBought, DayNo, Grams},
    rotation::{Mealtime, MealtimeId, Rotation},
};

#[derive(Clone, Copy, Debug)]
enum Clock {
    /// A side of salmon, raw: a day, 24 hours.
    Salmon,
    /// A cabbage's wedge, raw: five days, 120 hours.
    Wedge,
}
use Clock::*;

#[rustfmt::skip]
const ROWS: [(&str, Clock, &str, &str, &str); 16] = [
    ("fish bought at noon",                 Salmon, "2026-05-11 12:00", "2026-05-12 12:00", "2026-05-12 12:01"),
    ("fish bought in the evening",          Salmon, "2026-05-11 19:15", "2026-05-12 19:15", "2026-05-12 19:16"),
    ("fish bought at midnight",             Salmon, "2026-05-11 00:00", "2026-05-12 00:00", "2026-05-12 00:01"),
    ("fish of one minute to midnight",      Salmon, "2026-05-11 23:59", "2026-05-12 23:59", "2026-05-13 00:00"),
    ("a wedge",                             Wedge,  "2026-05-11 08:30", "2026-05-16 08:30", "2026-05-16 08:31"),
    ("over the end of a month",             Wedge,  "2026-04-28 08:30", "2026-05-03 08:30", "2026-05-03 08:31"),
    ("to the end of a month",               Salmon, "2026-04-29 12:00", "2026-04-30 12:00", "2026-04-30 12:01"),
    ("over a common February",              Salmon, "2027-02-28 12:00", "2027-03-01 12:00", "2027-03-01 12:01"),
    ("over a leap day",                     Wedge,  "2028-02-26 12:00", "2028-03-02 12:00", "2028-03-02 12:01"),
    ("over the turn of the year",           Wedge,  "2026-12-29 12:00", "2027-01-03 12:00", "2027-01-03 12:01"),
    // Clocks go forward: the night is an hour shorter, and by the clock on the wall nothing is gained.
    ("Europe's short night",                Salmon, "2026-03-28 12:00", "2026-03-29 12:00", "2026-03-29 12:01"),
    ("America's short night",               Salmon, "2026-03-07 12:00", "2026-03-08 12:00", "2026-03-08 12:01"),
    // Clocks go back: 24 hours by the clock on the wall were 25.
    ("Europe's long night",                 Salmon, "2026-10-24 12:00", "2026-10-25 11:00", "2026-10-25 11:01"),
    ("America's long night",                Salmon, "2026-10-31 12:00", "2026-11-01 11:00", "2026-11-01 11:01"),
    ("a long night inside five days",       Wedge,  "2026-10-23 12:00", "2026-10-28 11:00", "2026-10-28 11:01"),
    ("bought after the long night",         Salmon, "2026-10-25 12:00", "2026-10-26 12:00", "2026-10-26 12:01"),
];

fn moment(text: &str) -> DateTime {
    text.replace(' ', "T").parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// Opened at `since`; cooked and eaten at the meal of `at`, whose mealtime has just that clock.
fn plan(clock: Clock, since: DateTime, at: DateTime, hour_known: bool) -> Rotation {
    let (kind, dish, part): (Kind, &str, &str) = match clock {
        Salmon => (salmon(), "seared-loin", "loin"),
        Wedge => (cabbage(), "charred-wedges", "middle"),
    };
    let first: Date = since.date();
    let mass = Grams::<AsBought>::new(1_800).unwrap();
    let mut plan = Rotation::start(Arc::new(kind), mass, first, 9, vec![eater(1, "Ada", 100)]);
    let time = at.time();
    plan.mealtimes =
        vec![Mealtime { id: MealtimeId(1), name: "meal".into(), at: Time::new(time.hour(), time.minute(), 0, 0).ok() }];
    let day = i16::try_from((at.date() - first).get_days() + 1).unwrap();
    let dish = dishes().into_iter().find(|d| d.id.as_str() == dish).unwrap();
    plan.batches = vec![batch(1, dish.id.as_str(), day, &[(part, 300)])];
    plan.dishes.insert(dish.id.clone(), Arc::new(dish));
    plan.meals.entry(slot(day, 1)).or_default().servings.push(serving(1, 300));
    plan.storage.opened_at = hour_known.then(|| Time::new(since.hour(), since.minute(), 0, 0).unwrap());
    plan
}

/// Whether the raw clock of what is made is stopped at, and what it says.
fn stop(plan: &Rotation) -> Option<String> {
    let findings = judge(plan).findings.into_iter();
    let mut stops = findings.filter(|f| f.severity == Severity::Stop && f.code == Code::RawTooOld && f.batch.is_some());
    stops.next().map(|f| f.text.replace('\u{a0}', " "))
}

#[test]
fn the_last_minute_is_legal_and_the_next_is_not() {
    for (name, clock, since, last, first) in ROWS {
        let (since, last, first) = (moment(since), moment(last), moment(first));
        assert_eq!(stop(&plan(clock, since, last, true)), None, "{name}: the last minute");
        let said = stop(&plan(clock, since, first, true));
        assert!(said.is_some(), "{name}: the minute after");
    }
}

#[test]
fn whole_days_hold_where_no_hour_is_given_and_an_hour_never_gains_time() {
    for (name, clock, since, _, first) in ROWS {
        let (since, first) = (moment(since), moment(first));
        let days = (first.date() - since.date()).get_days();
        let limit = if matches!(clock, Salmon) { 1 } else { 5 };
        let by_days = stop(&plan(clock, since, first, false)).is_some();
        assert_eq!(by_days, days > limit, "{name}: by whole days");
    }
    // On the day after the last one both stop, whatever the hour.
    for hour in [0, 12, 23] {
        let at = |d: i8, h: i8| jiff::civil::date(2026, 5, d).at(h, 0, 0, 0);
        assert!(stop(&plan(Salmon, at(11, hour), at(13, 0), false)).is_some());
        assert!(stop(&plan(Salmon, at(11, hour), at(13, 0), true)).is_some());
    }
}

#[test]
fn hours_are_said_in_hours_and_a_meal_without_a_clock_counts_by_days() {
    let (since, at) = (moment("2026-05-11 12:00"), moment("2026-05-12 18:30"));
    let mut late = plan(Salmon, since, at, true);
    let want = "Tuesday 12 meal, Seared loin: loin raw 30 h against 24 h; the last hour is Tuesday 12 12:00";
    assert_eq!(stop(&late).as_deref(), Some(want));
    let line = judge(&late).keeping.into_iter().find(|l| l.what == "loin, raw").unwrap();
    assert_eq!(line.until.map(|u| (u.day, u.at.hour(), u.at.minute())), Some((DayNo(2), 12, 0)));
    late.mealtimes[0].at = None;
    assert_eq!(stop(&late), None);
}
