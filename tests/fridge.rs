//! Does a fridge that runs warm, or was without power, shorten what it must, and only that?

mod fixture;

use fixture::{plan, slot};
use jiff::civil::time;
use std::path::Path;
use tranche::{
    judge::{Code, Finding, Severity, judge, keeping, mends_for},
    quantity::{DayNo, Days},
    rotation::{Edit, Fridge, Moment, PowerCut, Rotation, apply},
    store::{rotation_from_text, rotation_to_text},
};

fn read(text: &str) -> Result<Rotation, String> {
    rotation_from_text(Path::new("plan.rotation.ron"), text).map_err(|e| e.to_string())
}

fn at(day: i16, hour: i8) -> Moment {
    Moment { day: DayNo(day), at: time(hour, 0, 0, 0) }
}

fn with(fridge: Fridge) -> Rotation {
    apply(&plan(), &Edit::SetFridge(fridge)).unwrap().rotation
}

fn warm(c: f64) -> Rotation {
    with(Fridge { runs_at: Some(c), cuts: vec![] })
}

fn cut(from: Moment, to: Moment) -> Rotation {
    with(Fridge { runs_at: None, cuts: vec![PowerCut { from, to }] })
}

fn stops(rotation: &Rotation) -> Vec<String> {
    let stops = keeping(rotation).1.into_iter().filter(|f| f.severity == Severity::Stop);
    stops.map(|f| format!("{}: {}", f.code.as_str(), f.text.replace('\u{a0}', " "))).collect()
}

#[test]
fn the_fridge_is_kept_in_the_file_and_older_files_open() {
    let usual = rotation_to_text(&plan());
    assert!(!usual.contains("fridge"), "a usual fridge is not written");
    assert_eq!(read(&usual).unwrap(), plan());
    let fridge = Fridge { runs_at: Some(7.5), cuts: vec![PowerCut { from: at(1, 22), to: at(2, 5) }] };
    let text = rotation_to_text(&with(fridge.clone()));
    assert_eq!(read(&text).unwrap().fridge, fridge);
    for (right, wrong, said) in [
        ("runs_at: Some(7.5)", "runs_at: Some(75.0)", "a fridge that runs at 75 °C is none"),
        ("at: \"05:00:00\"", "at: \"25:00\"", "is not a time of day: write it as 18:30"),
        ("day: 1, at: \"22", "day: 4, at: \"22", "a power cut ends before it begins"),
    ] {
        assert!(text.contains(right), "{text}");
        let error = read(&text.replacen(right, wrong, 1)).unwrap_err();
        assert!(error.contains(said), "{error}");
        assert!(error.contains("plan.rotation.ron"), "{error}");
    }
}

/// Lines of keeping in days, without and with the warm fridge: three days at 8 C are one (Listeria runs 2.2 times as fast).
#[test]
fn a_warm_fridge_shortens_every_limit_but_a_banks() {
    let limits = |r: &Rotation| keeping(r).0.into_iter().map(|l| (l.what, l.limit)).collect::<Vec<_>>();
    let (usual, at_8) = (limits(&plan()), limits(&warm(8.0)));
    for ((what, published), (_, left)) in usual.iter().zip(&at_8) {
        let want = match published.0 {
            _ if what == "Vinegar pickle" => *published,
            3 => Days(1),
            5 => Days(2),
            other => panic!("{what} keeps {other} days"),
        };
        assert_eq!(*left, want, "{what}");
    }
    for c in [5.0, 3.0, 0.0] {
        assert_eq!(limits(&warm(c)), usual, "at {c} °C nothing is gained and nothing lost");
    }
    let said = stops(&warm(8.0));
    // The braise of Tuesday is eaten on Thursday as well.
    let braise = "keeping-cooked: Thursday lunch, Apple braise: cooked Tuesday, 2 days against 1, in a fridge at 8 °C; the last day \
                  is Wednesday";
    assert!(said.contains(&braise.to_string()), "{said:#?}");
    assert_eq!(stops(&plan()), [""; 0]);
}

#[test]
fn a_power_cut_of_over_four_hours_ends_what_lay_in_the_fridge_and_a_shorter_one_does_nothing() {
    // The braise is cooked on Tuesday for supper at 18:30, and eaten again on Thursday at a lunch without a clock.
    let lost = "keeping-power-cut: Thursday lunch, Apple braise: it lay in a fridge without power for over 4 hours, ";
    for (from, to, said) in [
        (at(3, 8), at(3, 12), None),
        (at(3, 8), at(3, 13), Some("Wednesday 08:00 to 13:00; throw it away")),
        (at(2, 22), at(3, 3), Some("Tuesday 22:00 to Wednesday 03:00; throw it away")),
        // It was cooked after the power had come back, or eaten before it went.
        (at(2, 6), at(2, 16), None),
        (at(5, 6), at(5, 16), None),
        // What comes into a fridge that is warm already has two hours.
        (at(2, 14), at(2, 20), None),
        (at(2, 14), at(2, 21), Some("Tuesday 14:00 to 21:00; throw it away")),
    ] {
        let found: Vec<String> = stops(&cut(from, to)).into_iter().filter(|s| s.starts_with("keeping-power-cut")).collect();
        let want: Vec<String> = said.iter().map(|s| format!("{lost}{s}")).collect();
        assert_eq!(found, want, "{from:?} {to:?}");
    }
}

#[test]
fn short_power_cuts_that_follow_on_each_other_are_a_long_one() {
    let is_lost = |cuts: &[(i8, i8)]| {
        let cuts = cuts.iter().map(|(from, to)| PowerCut { from: at(3, *from), to: at(3, *to) }).collect();
        stops(&with(Fridge { runs_at: None, cuts })).iter().any(|s| s.starts_with("keeping-power-cut"))
    };
    assert!(is_lost(&[(8, 12), (12, 16)]), "eight hours, told as two cuts");
    assert!(is_lost(&[(8, 11), (12, 14)]), "five hours with an hour of power between");
    assert!(!is_lost(&[(8, 10), (11, 13)]), "four hours in all");
    assert!(!is_lost(&[(4, 8), (10, 14)]), "cold again in two hours between");
    assert!(!is_lost(&[(1, 2), (3, 4), (5, 6), (8, 9)]), "four hours in all");
}

#[test]
fn a_meal_with_a_clock_before_the_four_hours_are_over_is_still_good() {
    let mut rotation = plan();
    let meal = rotation.meals.remove(&slot(4, 2)).unwrap();
    rotation.meals.insert(slot(4, 1), meal);
    // Supper is at 18:30.
    for (from, to, stop) in [(15, 23, false), (14, 18, false), (14, 23, true)] {
        let fridge = Fridge { runs_at: None, cuts: vec![PowerCut { from: at(4, from), to: at(4, to) }] };
        let judged = apply(&rotation, &Edit::SetFridge(fridge)).unwrap().rotation;
        assert_eq!(stops(&judged).iter().any(|s| s.starts_with("keeping-power-cut")), stop, "{from} to {to}");
    }
}

#[test]
fn the_bench_is_told_and_offers_to_eat_it_before() {
    let rotation = cut(at(3, 8), at(3, 13));
    let findings = judge(&rotation).findings;
    let lost: &Finding = findings.iter().find(|f| f.code == Code::PowerCut).unwrap();
    assert_eq!(findings[0].severity, Severity::Stop);
    for mend in mends_for(&rotation, &fixture::book(), lost) {
        let mended = apply(&rotation, &mend.edit).unwrap().rotation;
        assert!(judge(&mended).findings.iter().all(|f| f.key != lost.key), "{}", mend.words);
    }
}
