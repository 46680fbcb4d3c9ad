//! Is the schedule of a day right, is it the latest there is, and is an impossible day given its reason?

mod kitchen;

use kitchen::{Day, brute, instances, made};
use serde_json::{Value, json};
use std::time::{Duration, Instant};
use tranche::timeline::{Answer, Cause, Instance, News, Onlooker, Status, solve};

/// Stops after so many questions: the same on every run.
struct Patience(u64);

impl Onlooker for Patience {
    fn stop(&mut self) -> bool {
        self.0 = self.0.saturating_sub(1);
        self.0 == 0
    }
}

fn answer(text: &str) -> Answer {
    solve(&Instance::from_json(text).unwrap(), &mut ()).unwrap()
}

/// Asks whether an answer's schedule keeps every rule and costs what it says.
#[track_caller]
fn right(name: &str, text: &str, answer: &Answer) {
    let value: Value = serde_json::from_str(text).unwrap();
    let Some(starts) = &answer.starts else {
        assert_eq!((answer.span, answer.sum), (None, None), "{name}");
        return;
    };
    let cost = Day::of(&value).check(starts).unwrap_or_else(|broken| panic!("{name}: {broken}"));
    assert_eq!((answer.span, answer.sum), (Some(cost.0), Some(cost.1)), "{name}");
    assert!(answer.span_bound <= answer.span && answer.sum_bound <= answer.sum, "{name}: {answer:?}");
}

/// Every instance but the one whose sum is open. Reference answers of a general constraint solver stand in the files.
#[test]
fn the_kitchen_days_come_out_as_their_references() {
    for (name, text) in instances("timeline") {
        if name == OPEN {
            continue;
        }
        let value: Value = serde_json::from_str(&text).unwrap();
        let reference = &value["reference"];
        let ours = answer(&text);
        right(&name, &text, &ours);
        assert_eq!(ours.status.word(), reference["status"], "{name}");
        assert_eq!((json!(ours.span), json!(ours.sum)), (reference["span"].clone(), reference["sum"].clone()), "{name}");
        assert_eq!((ours.span, ours.sum), (ours.span_bound, ours.sum_bound), "{name}");
    }
}

/// Nobody has proven the least sum of this one: 53 steps, and no dish may not stand.
const OPEN: &str = "d24-t53-c2-reg";

#[test]
fn the_open_day_has_its_least_span_and_a_bound_near_its_sum() {
    let (name, text) = instances("timeline").into_iter().find(|(name, _)| name == OPEN).unwrap();
    let instance = Instance::from_json(&text).unwrap();
    let ours = solve(&instance, &mut Patience(60)).unwrap();
    right(&name, &text, &ours);
    assert_eq!((ours.status, ours.span), (Status::SpanOptimal, Some(317)));
    // Between the reference's own bound after minutes (4029) and its best sum (5711).
    assert!(ours.sum_bound > Some(4_800) && ours.sum_bound <= Some(5_711), "{:?}", ours.sum_bound);
}

/// PSPLIB set j30 (Kolisch & Sprecher 1997) with its published makespans: those that take no time.
#[test]
fn published_projects_have_their_published_makespans() {
    published(|name| !HARD.contains(&name));
}

/// The two that take thousands of clashes: `cargo test --release --test timeline -- --ignored`.
#[test]
#[ignore = "takes seconds in release and minutes without: cargo test --release --test timeline -- --ignored"]
fn hard_published_projects_have_their_published_makespans() {
    published(|name| HARD.contains(&name));
}

const HARD: [&str; 2] = ["psplib-j3013_6", "psplib-j3029_8"];

/// Stops as soon as the span is proven.
struct SpanOnly(bool);

impl Onlooker for SpanOnly {
    fn stop(&mut self) -> bool {
        self.0
    }

    fn news(&mut self, news: &News) {
        self.0 |= news.span == Some(news.span_bound);
    }
}

fn published(wanted: impl Fn(&str) -> bool) {
    for (name, text) in instances("psplib").into_iter().filter(|(name, _)| wanted(name)) {
        let value: Value = serde_json::from_str(&text).unwrap();
        let ours = solve(&Instance::from_json(&text).unwrap(), &mut SpanOnly(false)).unwrap();
        right(&name, &text, &ours);
        assert_eq!((json!(ours.span), ours.span_bound), (value["reference"]["span"].clone(), ours.span), "{name}");
    }
}

#[test]
fn tiny_days_come_out_as_when_every_schedule_is_tried() {
    let (mut possible, mut causes) = (0, Vec::new());
    for seed in 0..1_000 {
        let value = made::tiny(seed);
        let text = value.to_string();
        let ours = answer(&text);
        right(&format!("tiny {seed}"), &text, &ours);
        match brute::best(&Day::of(&value)) {
            Some(best) => {
                possible += 1;
                assert_eq!((ours.status, ours.span, ours.sum), (Status::Optimal, Some(best.0), Some(best.1)), "{text}");
                assert_eq!((ours.span_bound, ours.sum_bound), (ours.span, ours.sum), "{text}");
            }
            None => {
                assert_eq!(ours.status, Status::Infeasible, "{text}");
                let impossible = ours.impossible.unwrap();
                assert!(!impossible.causes.is_empty(), "{text}");
                causes.extend(impossible.causes);
            }
        }
    }
    causes.sort();
    causes.dedup();
    assert!((300..900).contains(&possible), "{possible} of 1000 are possible, too one-sided to ask much");
    assert!(causes.len() >= 9, "only these causes came up: {causes:?}");
}

/// What the cause says is what is the matter: lifting it by hand makes the day possible.
#[test]
fn an_impossible_day_is_given_its_reason() {
    for (name, word, named) in [
        ("d27-t14-c1-inf-hold", Cause::Hold, "may stand at most 2 minutes"),
        ("d28-t12-c1-inf-temp", Cause::Temperature, "one temperature"),
    ] {
        let (_, text) = instances("timeline").into_iter().find(|(n, _)| n == name).unwrap();
        let why = answer(&text).impossible.unwrap();
        assert!(why.causes.contains(&word), "{name}: {why:?}");
        assert!(why.sentence.contains(named), "{name}: {}", why.sentence);
    }
    let step = |minutes: i64, more: Value| {
        let mut step = json!({ "dish": 0, "minutes": minutes });
        step.as_object_mut().unwrap().extend(more.as_object().unwrap().clone());
        step
    };
    let day = |serve: i64, hold: Value, tasks: Vec<Value>, lags: Value, capacities: Value| {
        let dishes = json!([{ "id": "Slaw", "serve": serve, "hold_max": hold }]);
        json!({ "dishes": dishes, "tasks": tasks, "precedence": lags, "capacities": capacities }).to_string()
    };
    let all = json!({ "cooks": 1, "racks": 1, "rings": 1 });
    let none = json!([]);
    let null = Value::Null;
    let hot = json!({ "oven": { "temp_min": 200, "temp_max": 220, "racks": 1 } });
    let cases = [
        (
            "hands",
            day(60, null.clone(), vec![step(9, json!({ "hands": 2 }))], none.clone(), all.clone()),
            Cause::Hands,
            "2 cooks",
        ),
        (
            "no rack",
            day(60, null.clone(), vec![step(9, hot)], none.clone(), json!({ "cooks": 1, "racks": 0, "rings": 1 })),
            Cause::Oven,
            "0 racks",
        ),
        ("rings", day(60, null.clone(), vec![step(9, json!({ "rings": 2 }))], none.clone(), all.clone()), Cause::Ring, "2 rings"),
        ("early", day(8, null.clone(), vec![step(9, json!({}))], none.clone(), all.clone()), Cause::Early, "too early"),
        (
            "all at once",
            day(15, null.clone(), vec![step(9, json!({ "hands": 1 })); 2], none.clone(), all.clone()),
            Cause::Early,
            "so early a sit-down",
        ),
        (
            "circle",
            day(
                60,
                null.clone(),
                vec![step(9, json!({})); 2],
                json!([{ "before": 0, "after": 1, "min_lag": 0, "max_lag": null }, { "before": 1, "after": 0, "min_lag": 0, "max_lag": null }]),
                all.clone(),
            ),
            Cause::Order,
            "circle",
        ),
        (
            "waits",
            day(
                60,
                null.clone(),
                vec![step(9, json!({})); 3],
                json!([{ "before": 0, "after": 2, "min_lag": 0, "max_lag": 5 }, { "before": 0, "after": 1 }, { "before": 1, "after": 2 }]),
                all.clone(),
            ),
            Cause::Wait,
            "contradict",
        ),
        (
            "itself",
            day(60, null.clone(), vec![step(9, json!({}))], json!([{ "before": 0, "after": 0 }]), all),
            Cause::Order,
            "circle",
        ),
    ];
    for (name, text, cause, words) in cases {
        let ours = answer(&text);
        assert_eq!(ours.status, Status::Infeasible, "{name}");
        let why = ours.impossible.unwrap();
        assert!(why.causes.contains(&cause) && why.sentence.contains(words), "{name}: {why:?}");
    }
}

#[test]
fn the_same_day_gives_the_same_answer() {
    let (_, text) = instances("timeline").into_iter().find(|(name, _)| name == "d16-t30-c2-reg").unwrap();
    assert_eq!(answer(&text), answer(&text));
    let large = made::feast(3, 12, 2, true).to_string();
    let instance = Instance::from_json(&large).unwrap();
    let once = solve(&instance, &mut Patience(60)).unwrap();
    assert_eq!(once, solve(&instance, &mut Patience(60)).unwrap());
    right("feast", &large, &once);
}

/// Hears everything; bounds may only close in.
#[derive(Default)]
struct Ear(Vec<News>);

impl Onlooker for Ear {
    fn news(&mut self, news: &News) {
        self.0.push(*news);
    }
}

#[test]
fn the_onlooker_hears_bounds_that_only_close_in() {
    let (_, text) = instances("timeline").into_iter().find(|(name, _)| name == "d18-t31-c2-reg").unwrap();
    let mut ear = Ear::default();
    let ours = solve(&Instance::from_json(&text).unwrap(), &mut ear).unwrap();
    for pair in ear.0.windows(2) {
        let [a, b] = pair else { unreachable!() };
        assert!(a.span_bound <= b.span_bound && a.sum_bound <= b.sum_bound, "{pair:?}");
        assert!(a.span.is_none() || b.span <= a.span, "{pair:?}");
        assert!(a.sum.is_none() || b.sum <= a.sum, "{pair:?}");
    }
    let last = ear.0.last().unwrap();
    assert_eq!((last.span, last.sum, last.sum_bound), (ours.span, ours.sum, ours.sum_bound));
}

#[test]
fn a_search_that_is_stopped_says_how_far_it_is() {
    for feast in 0..8 {
        let text = made::feast(feast, 4 + feast as i64, 1 + feast as i64 % 2, feast % 3 > 0).to_string();
        let instance = Instance::from_json(&text).unwrap();
        for patience in [1, 2, 3, 5, 12] {
            let ours = solve(&instance, &mut Patience(patience)).unwrap();
            right(&format!("feast {feast}, {patience}"), &text, &ours);
            match ours.status {
                Status::Unknown => assert!(ours.starts.is_none() && ours.span.is_none() && ours.span_bound.is_some()),
                Status::Feasible => assert!(ours.starts.is_some() && ours.span_bound < ours.span && ours.sum_bound.is_none()),
                Status::SpanOptimal => assert!(ours.span_bound == ours.span && ours.sum_bound < ours.sum),
                Status::Optimal => assert!(ours.span_bound == ours.span && ours.sum_bound == ours.sum),
                Status::Infeasible => assert!(ours.impossible.is_some()),
            }
        }
    }
}

/// Stops by the clock: for days that cannot be searched to the end.
struct Soon(Instant);

impl Onlooker for Soon {
    fn stop(&mut self) -> bool {
        self.0.elapsed() > Duration::from_secs(2)
    }
}

/// Files that mean harm: an answer or one sentence, and soon.
#[test]
fn hostile_days_neither_hang_nor_break() {
    let huge = i64::MAX;
    let sentences = [
        ("", "is no timeline instance"),
        ("[]", "is no timeline instance"),
        (r#"{"dishes":[],"tasks":[]}"#, "capacities"),
        (
            r#"{"dishes":[{"serve":5}],"tasks":[{"dish":7,"minutes":1}],"capacities":{"cooks":1,"racks":1,"rings":1}}"#,
            "the dish of task 0 is 7",
        ),
        (
            r#"{"dishes":[{"serve":5}],"tasks":[{"dish":0,"minutes":0}],"capacities":{"cooks":1,"racks":1,"rings":1}}"#,
            "the minutes of task 0 is 0",
        ),
        (r#"{"dishes":[{"serve":5}],"tasks":[],"capacities":{"cooks":1,"racks":1,"rings":1}}"#, "has no task"),
        (
            r#"{"dishes":[{"serve":5}],"tasks":[{"dish":0,"minutes":1}],"precedence":[{"before":0,"after":9}],"capacities":{"cooks":1,"racks":1,"rings":1}}"#,
            "\"after\" of precedence 0 is 9",
        ),
        (
            r#"{"dishes":[{"serve":9000000000}],"tasks":[{"dish":0,"minutes":1}],"capacities":{"cooks":1,"racks":1,"rings":1}}"#,
            "is 9000000000",
        ),
        (
            r#"{"dishes":[{"serve":5}],"tasks":[{"dish":0,"minutes":1}],"capacities":{"cooks":-1,"racks":1,"rings":1}}"#,
            "\"cooks\" is -1",
        ),
    ];
    for (text, words) in sentences {
        let said = Instance::from_json(text).unwrap_err().to_string();
        assert!(said.contains(words) && !said.contains('\n'), "{said}");
    }
    let nothing = answer(r#"{"dishes":[],"tasks":[],"capacities":{"cooks":0,"racks":0,"rings":0}}"#);
    assert_eq!((nothing.status, nothing.span, nothing.starts), (Status::Optimal, Some(0), Some(vec![])));
    for serve in [-5, 0, 3, 499_999_999, -huge] {
        for minutes in [1, 2, 100_000, 249_000_000, huge] {
            for lag in [0, 1, 1_000_000, huge] {
                for hold in [Value::Null, json!(0), json!(huge)] {
                    let task = json!({ "dish": 0, "minutes": minutes, "hands": 1, "rings": 1, "appliance": "mixer" });
                    let small = json!({ "dish": 1, "minutes": 1, "hands": 1, "oven": { "temp_min": -huge, "temp_max": huge, "racks": 1 } });
                    let day = json!({
                        "dishes": [{ "serve": serve, "hold_max": hold }, { "serve": 499_999_999 }],
                        "tasks": [task, task, small, small],
                        "precedence": [{ "before": 0, "after": 2, "min_lag": lag, "max_lag": huge }, { "before": 2, "after": 3, "min_lag": 0, "max_lag": lag }],
                        "capacities": { "cooks": huge, "racks": 1, "rings": 1 },
                    });
                    let text = day.to_string();
                    let instance = Instance::from_json(&text).unwrap();
                    let began = Instant::now();
                    let ours = solve(&instance, &mut Soon(began)).unwrap();
                    assert!(began.elapsed() < Duration::from_secs(10), "{text}");
                    right("huge", &text, &ours);
                }
            }
        }
    }
}

/// Bounds that push each other a minute at a time over a very long day: steps of one appliance that would have to go round in
/// a circle of windows.
#[test]
fn a_long_day_of_narrow_windows_does_not_hang() {
    let task = json!({ "dish": 0, "minutes": 1, "hands": 1 });
    let lags: Vec<Value> = (0..3).map(|k| json!({ "before": k, "after": k + 1, "min_lag": 0, "max_lag": 1 })).collect();
    let mut day = json!({
        "dishes": [{ "serve": 400_000_000, "hold_max": 100_000_000 }],
        "tasks": vec![task; 9],
        "precedence": lags,
        "capacities": { "cooks": 1, "racks": 1, "rings": 1 },
    });
    day["tasks"][4]["minutes"] = json!(300_000_000);
    day["tasks"][5]["minutes"] = json!(50_000_000);
    let text = day.to_string();
    let began = Instant::now();
    let ours = solve(&Instance::from_json(&text).unwrap(), &mut Soon(began)).unwrap();
    assert!(began.elapsed() < Duration::from_secs(10));
    right("long", &text, &ours);
}
