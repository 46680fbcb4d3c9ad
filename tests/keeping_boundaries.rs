//! Forty boundaries: the last hour in which food may be eaten and the first in which it may not, around midnight, around the
//! nights in which clocks change, and over the ends of months and years.
//!
//! Limits are whole calendar days by the clock on the wall, so the last legal minute is 23:59 of the last day and the first
//! illegal one 00:00 of the next, whatever the night between them was like. A power cut is counted in hours. The rules
//! themselves, one by one, are asked in the judges' own tests.

mod fixture;

use fixture::{batch, cabbage, dish, eater, salmon, serving};
use jiff::civil::{Date, DateTime};
use std::sync::Arc;
use tranche::{
    book::{Care, Companion, CompanionMeasure, Dish, Kind},
    judge::{Severity, judge},
    quantity::{AsBought, DayNo, Days, Grams},
    rotation::{Edit, Fridge, Meal, Mealtime, MealtimeId, Moment, PowerCut, Rotation, Slot, apply},
};

#[derive(Clone, Copy, Debug)]
enum Clock {
    /// A cabbage's wedge, cut on this day, raw until it is cooked: 5 days.
    Wedge,
    /// Its shreds, cut on this day, eaten raw: 2.
    Shreds,
    /// A side of salmon, bought on this day, raw until it is cooked: 1.
    Salmon,
    /// A braise, cooked on this day: 3.
    Braise,
    /// Salmon cooked on this day: 2; for somebody elderly: 1.
    CookedSalmon,
    ForGranny,
    /// Cream opened on this day: 3.
    Cream,
    /// A braise of this day in a fridge at 7 °C: 3 days are 1.7 of them by the growth of Listeria, so 1.
    WarmFridge,
    /// No power from this hour on; the braise of the day before is eaten on the day after. The hours are those of the end.
    Cut,
}
use Clock::*;

/// What, the clock, since when, the last legal hour, the first illegal one.
type Row = (&'static str, Clock, &'static str, &'static str, &'static str);

#[rustfmt::skip]
const ROWS: [Row; 40] = [
    // Around midnight.
    ("in the middle of a month",            Wedge,        "2026-05-11 12:00", "2026-05-16 23:59", "2026-05-17 00:00"),
    ("shreds in the middle of a month",     Shreds,       "2026-05-11 12:00", "2026-05-13 23:59", "2026-05-14 00:00"),
    ("fish over one night",                 Salmon,       "2026-05-11 12:00", "2026-05-12 23:59", "2026-05-13 00:00"),
    ("a braise",                            Braise,       "2026-05-11 12:00", "2026-05-14 23:59", "2026-05-15 00:00"),
    ("a braise of one minute to midnight",  Braise,       "2026-05-11 23:59", "2026-05-14 23:59", "2026-05-15 00:00"),
    ("a braise of midnight",                Braise,       "2026-05-12 00:00", "2026-05-15 23:59", "2026-05-16 00:00"),
    ("cooked fish",                         CookedSalmon, "2026-05-11 12:00", "2026-05-13 23:59", "2026-05-14 00:00"),
    ("cooked fish for the elderly",         ForGranny,    "2026-05-11 12:00", "2026-05-12 23:59", "2026-05-13 00:00"),
    ("opened cream",                        Cream,        "2026-05-11 12:00", "2026-05-14 23:59", "2026-05-15 00:00"),
    ("a fridge at 7 °C",                    WarmFridge,   "2026-05-11 12:00", "2026-05-12 23:59", "2026-05-13 00:00"),
    // Europe, clocks go forward on 29 March 2026 at 02:00.
    ("the short night at the end",          Braise,       "2026-03-26 12:00", "2026-03-29 23:59", "2026-03-30 00:00"),
    ("the short night inside",              Wedge,        "2026-03-27 12:00", "2026-04-01 23:59", "2026-04-02 00:00"),
    ("the short night at the beginning",    Salmon,       "2026-03-28 12:00", "2026-03-29 23:59", "2026-03-30 00:00"),
    ("cooked on the short day",             Braise,       "2026-03-29 12:00", "2026-04-01 23:59", "2026-04-02 00:00"),
    ("shreds over the short night",         Shreds,       "2026-03-28 12:00", "2026-03-30 23:59", "2026-03-31 00:00"),
    // Europe, clocks go back on 25 October 2026 at 03:00.
    ("the long night at the end",           Braise,       "2026-10-22 12:00", "2026-10-25 23:59", "2026-10-26 00:00"),
    ("the long night inside",               Wedge,        "2026-10-23 12:00", "2026-10-28 23:59", "2026-10-29 00:00"),
    ("cooked on the long day",              CookedSalmon, "2026-10-25 12:00", "2026-10-27 23:59", "2026-10-28 00:00"),
    ("for the elderly over the long night", ForGranny,    "2026-10-24 12:00", "2026-10-25 23:59", "2026-10-26 00:00"),
    ("cream over the long night",           Cream,        "2026-10-24 12:00", "2026-10-27 23:59", "2026-10-28 00:00"),
    // North America, 8 March and 1 November 2026.
    ("America, short night",                Salmon,       "2026-03-07 12:00", "2026-03-08 23:59", "2026-03-09 00:00"),
    ("America, long night, month's turn",   Braise,       "2026-10-30 12:00", "2026-11-02 23:59", "2026-11-03 00:00"),
    // Egypt, 24 April 2026: the clock goes from 23:59 to 01:00, and there is no 00:00.
    ("a night without a midnight",          Shreds,       "2026-04-22 12:00", "2026-04-24 23:59", "2026-04-25 00:00"),
    ("the day before it",                   Shreds,       "2026-04-21 12:00", "2026-04-23 23:59", "2026-04-24 01:00"),
    // Ends of months and years.
    ("over the end of April",               Braise,       "2026-04-28 12:00", "2026-05-01 23:59", "2026-05-02 00:00"),
    ("to the end of April",                 Braise,       "2026-04-27 12:00", "2026-04-30 23:59", "2026-05-01 00:00"),
    ("over the end of January",             Wedge,        "2026-01-29 12:00", "2026-02-03 23:59", "2026-02-04 00:00"),
    ("to the end of a common February",     CookedSalmon, "2027-02-26 12:00", "2027-02-28 23:59", "2027-03-01 00:00"),
    ("over a leap day",                     Braise,       "2028-02-27 12:00", "2028-03-01 23:59", "2028-03-02 00:00"),
    ("to a leap day",                       CookedSalmon, "2028-02-27 12:00", "2028-02-29 23:59", "2028-03-01 00:00"),
    ("from a leap day",                     Shreds,       "2028-02-29 12:00", "2028-03-02 23:59", "2028-03-03 00:00"),
    ("2100, which has no leap day",         Braise,       "2100-02-26 12:00", "2100-03-01 23:59", "2100-03-02 00:00"),
    ("over the turn of the year",           Cream,        "2026-12-30 12:00", "2027-01-02 23:59", "2027-01-03 00:00"),
    ("to the last minute of the year",      Salmon,       "2026-12-30 12:00", "2026-12-31 23:59", "2027-01-01 00:00"),
    // Power cuts, by the hour: four are safe.
    ("a cut by day",                        Cut,          "2026-05-12 08:00", "2026-05-12 12:00", "2026-05-12 12:01"),
    ("a cut over midnight",                 Cut,          "2026-05-12 22:30", "2026-05-13 02:30", "2026-05-13 02:31"),
    ("a cut from midnight",                 Cut,          "2026-05-12 00:00", "2026-05-12 04:00", "2026-05-12 04:01"),
    ("a cut over the turn of the year",     Cut,          "2026-12-31 21:00", "2027-01-01 01:00", "2027-01-01 01:01"),
    // In the night in which clocks go back three hours on the wall may be four.
    ("a cut in Europe's long night",        Cut,          "2026-10-25 01:00", "2026-10-25 04:00", "2026-10-25 04:01"),
    ("a cut in America's long night",       Cut,          "2026-10-31 23:30", "2026-11-01 02:30", "2026-11-01 02:31"),
];

const MIDNIGHT: MealtimeId = MealtimeId(1);
const ONE: MealtimeId = MealtimeId(2);
const NOON: MealtimeId = MealtimeId(3);
const LATE: MealtimeId = MealtimeId(4);

fn moment(text: &str) -> DateTime {
    text.replace(' ', "T").parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// A window of twelve days that begins two days before `since`, with meals at 00:00, 01:00, 12:00 and 23:59.
fn window(kind: Kind, since: Date) -> Rotation {
    let first = since.yesterday().and_then(Date::yesterday).unwrap();
    let mut plan = Rotation::start(Arc::new(kind), Grams::<AsBought>::new(1_800).unwrap(), first, 12, vec![eater(1, "Ada", 100)]);
    plan.mealtimes = [(MIDNIGHT, "midnight", 0, 0), (ONE, "one", 1, 0), (NOON, "noon", 12, 0), (LATE, "late", 23, 59)]
        .map(|(id, name, hour, minute)| Mealtime { id, name: name.into(), at: jiff::civil::Time::new(hour, minute, 0, 0).ok() })
        .to_vec();
    plan.piece.opened = DayNo(3);
    plan
}

fn day_of(plan: &Rotation, date: Date) -> i16 {
    let day = (date - plan.first_day).get_days() + 1;
    i16::try_from(day).unwrap()
}

fn slot_of(plan: &Rotation, at: DateTime) -> Slot {
    let mealtime = plan.mealtimes.iter().find(|m| m.at == Some(at.time())).unwrap_or_else(|| panic!("no meal at {at}")).id;
    Slot { day: DayNo(day_of(plan, at.date())), mealtime }
}

fn put(plan: &mut Rotation, dish: &Dish, part: &str, made: DateTime, eaten: DateTime) {
    plan.dishes.insert(dish.id.clone(), Arc::new(dish.clone()));
    let (made, slot) = (day_of(plan, made.date()), slot_of(plan, eaten));
    let id = plan.batches.len() as u32 + 1;
    plan.batches.push(batch(id, dish.id.as_str(), made, &[(part, 200)]));
    let meal = plan.meals.entry(slot).or_insert_with(|| Meal { present: None, servings: vec![] });
    meal.servings.push(serving(id, 200));
}

fn cooked(id: &str, keeps: i16) -> Dish {
    let mut made = dish(id, id, "", "", "Stewed", "Sweet", "Braise", "Room", "");
    made.keeps = Days(keeps);
    made
}

/// The plan in which it happens at `at`.
fn plan(clock: Clock, since: DateTime, at: DateTime) -> Rotation {
    let animal = matches!(clock, Salmon | CookedSalmon | ForGranny);
    let mut plan = window(if animal { salmon() } else { cabbage() }, since.date());
    match clock {
        Wedge => put(&mut plan, &cooked("wedges", 3), "middle", at, at),
        Shreds => {
            let mut slaw = dish("slaw", "slaw", "", "", "Crunchy", "Sharp", "Raw", "Chilled", "cut: Some(Shreds)");
            slaw.keeps = Days(1);
            put(&mut plan, &slaw, "heart", at, at);
            let since = DayNo(day_of(&plan, since.date()));
            let made = plan.batches[0].day;
            plan.batches[0].draws[0].cut_on = (since < made).then_some(since);
        }
        Salmon => put(&mut plan, &cooked("baked", 2), "tail", at, at),
        Braise | WarmFridge => put(&mut plan, &cooked("braise", 3), "middle", since, at),
        CookedSalmon | ForGranny => put(&mut plan, &cooked("poached", 2), "tail", since, at),
        Cream => {
            let mut creamy = cooked("creamy", 3);
            let cream = |grams| Companion {
                name: "cream".into(),
                per_unit: 0.0,
                per_batch: grams,
                measure: CompanionMeasure::Ml,
                pack: Some(300.0),
                opened_days: Some(Days(3)),
                pack_word: Some("carton".into()),
            };
            creamy.companions = vec![cream(100.0)];
            put(&mut plan, &creamy, "outer", since, since.date().at(12, 0, 0, 0));
            let mut second = creamy.clone();
            second.id = tranche::book::DishId::new("bake").unwrap();
            put(&mut plan, &second, "middle", at, at);
        }
        Cut => {
            let noon = |d: Date| d.at(12, 0, 0, 0);
            let before = since.date().yesterday().unwrap();
            let after = at.date().tomorrow().unwrap();
            plan.piece.opened = DayNo(2);
            put(&mut plan, &cooked("braise", 9), "middle", noon(before), noon(after));
        }
    }
    if matches!(clock, ForGranny) {
        plan.household.eaters[0].care = vec![Care::Elderly];
    }
    let moment = |t: DateTime| Moment { day: DayNo(day_of(&plan, t.date())), at: t.time() };
    let fridge = match clock {
        WarmFridge => Fridge { runs_at: Some(7.0), cuts: vec![] },
        Cut => Fridge { runs_at: None, cuts: vec![PowerCut { from: moment(since), to: moment(at) }] },
        _ => Fridge::default(),
    };
    apply(&plan, &Edit::SetFridge(fridge)).unwrap_or_else(|e| panic!("{clock:?} {since} {at}: {e}")).rotation
}

fn stops(plan: &Rotation) -> Vec<String> {
    let findings = judge(plan).findings.into_iter().filter(|f| f.severity == Severity::Stop);
    // What lies raw at the end of these windows is another question.
    findings.filter(|f| f.batch.is_some()).map(|f| f.text).collect()
}

#[test]
fn the_last_legal_hour_is_legal_and_the_first_illegal_one_stops() {
    for (name, clock, since, last, first_not) in ROWS {
        let (since, last, first_not) = (moment(since), moment(last), moment(first_not));
        assert!(last < first_not, "{name}");
        let legal = plan(clock, since, last);
        assert_eq!(stops(&legal), [""; 0], "{name}: legal at {last}");
        let late = plan(clock, since, first_not);
        let said = stops(&late);
        assert_eq!(said.len(), 1, "{name}: not legal at {first_not}: {said:?}");
        if !matches!(clock, Cut) {
            let last_day = late.day_name(DayNo(day_of(&late, last.date())));
            assert!(said[0].contains(&last_day), "{name}: \"{}\" does not name {last_day}", said[0]);
        }
    }
}

/// The same window begun on another date has its boundaries on the same days: no date is special to a clock of whole days.
#[test]
fn no_row_depends_on_its_date() {
    for (name, clock, since, last, first_not) in ROWS.iter().filter(|r| !matches!(r.1, Cut)) {
        for (at, legal) in [(last, true), (first_not, false)] {
            let mut moved = plan(*clock, moment(since), moment(at));
            for first_day in ["2026-06-01", "2026-02-27", "2026-03-28", "2026-10-24", "2027-12-30"] {
                moved.first_day = first_day.parse().unwrap();
                assert_eq!(stops(&moved).is_empty(), legal, "{name} from {first_day}");
            }
        }
    }
}
