//! Does the search find the best arrangement, prove it, and say why where there is none?
//!
//! The largest instances take too long without optimisation; all of them:
//! `cargo test --release -p tranche --no-default-features --test arrange -- --include-ignored`.

mod checker;

use serde_json::{Value, json};
use std::{
    path::PathBuf,
    process::{Command, Output},
    sync::atomic::AtomicBool,
};
use tranche::arrange::{Answer, Instance, Limits, Reason, Status, arrange};

fn data() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data/arrange")
}

/// Every instance on file with its name, in the order of names.
fn on_file() -> Vec<(String, Value)> {
    let mut all: Vec<(String, Value)> = std::fs::read_dir(data())
        .unwrap()
        .map(|entry| {
            let path = entry.unwrap().path();
            let text = std::fs::read_to_string(&path).unwrap();
            (path.file_stem().unwrap().to_str().unwrap().to_string(), serde_json::from_str(&text).unwrap())
        })
        .collect();
    all.sort_by(|a, b| a.0.cmp(&b.0));
    all
}

fn solve_with(instance: &Value, limits: Limits<'_>) -> Answer {
    let read: Instance = serde_json::from_value(instance.clone()).unwrap();
    arrange(&read, limits, &mut |_| {})
}

fn solve(instance: &Value) -> Answer {
    solve_with(instance, Limits::default())
}

/// The answer keeps its own promises, whatever they are.
#[track_caller]
fn assert_sound(name: &str, instance: &Value, answer: &Answer) {
    match answer.status {
        Status::Optimal | Status::Feasible => {
            let cost = checker::cost(instance, answer.assignment.as_ref().unwrap());
            assert_eq!(cost, Ok(answer.objective.unwrap()), "{name}");
            assert!(answer.bound.unwrap() <= answer.objective.unwrap(), "{name}");
            assert_eq!(answer.bound == answer.objective, answer.status == Status::Optimal, "{name}");
            assert!(answer.reason.is_none(), "{name}");
        }
        Status::Infeasible => {
            assert!(answer.assignment.is_none() && answer.objective.is_none() && answer.bound.is_none(), "{name}");
            assert!(answer.reason.is_some(), "{name}");
        }
        Status::Unknown => assert!(answer.assignment.is_none() && answer.objective.is_none(), "{name}"),
    }
}

#[track_caller]
fn assert_as_known(name: &str, instance: &Value) {
    let answer = solve(instance);
    assert_sound(name, instance, &answer);
    let known = &instance["reference"];
    assert_eq!(answer.status.word(), known["status"], "{name}");
    assert_eq!(answer.objective, known["objective"].as_i64(), "{name}");
}

/// Which take over a second or so without optimisation.
fn is_large(name: &str) -> bool {
    ["d18", "d23", "d25", "d27"].iter().any(|large| name.starts_with(large))
}

#[test]
fn the_optimum_of_every_instance_on_file_is_found_and_proven() {
    let all = on_file();
    assert_eq!(all.len(), 24);
    for (name, instance) in all.iter().filter(|(name, _)| !is_large(name)) {
        assert_as_known(name, instance);
    }
}

#[test]
#[ignore = "minutes without optimisation: run in release"]
fn the_optimum_of_the_largest_instances_is_found_and_proven() {
    for (name, instance) in on_file().iter().filter(|(name, _)| is_large(name)) {
        assert_as_known(name, instance);
    }
}

/// Numbers that look random, the same every time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, count: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % count
    }

    fn one_in(&mut self, count: u64) -> bool {
        self.below(count) == 0
    }
}

/// A small instance with something of every rule in it.
fn small(dice: &mut Dice) -> Value {
    let m = 1 + dice.below(5);
    let n = 1 + dice.below(if m < 5 { 6 } else { 5 });
    let ties = dice.one_in(3);
    let zeros = dice.one_in(4);
    let mut day = 0;
    let slots: Vec<Value> = (0..m)
        .map(|s| {
            day += u64::from(s > 0) * dice.below(2);
            json!({ "day": day })
        })
        .collect();
    let dishes: Vec<Value> = (0..n)
        .map(|d| {
            let free = dice.one_in(4);
            let min = if free { 0 } else { dice.below(300) };
            let max = if free { 0 } else { min + dice.below(300) };
            let allowed = match dice.below(4) {
                0 => json!((0..m).filter(|_| dice.below(3) > 0).collect::<Vec<_>>()),
                _ => Value::Null,
            };
            json!({
                "id": format!("d{d}"), "min_g": min, "max_g": max, "minutes": 5 * dice.below(12),
                "dislike": if dice.one_in(2) { 0 } else { dice.below(400) },
                "allowed_slots": allowed, "max_uses": dice.below(4),
            })
        })
        .collect();
    let mut alike = || match (ties, zeros) {
        (_, true) => 0,
        (true, _) => [0, 400, 1_000][dice.below(3) as usize],
        _ => dice.below(1_001),
    };
    let upper: Vec<Vec<u64>> = (0..n).map(|i| (i + 1..n).map(|_| alike()).collect()).collect();
    let gaps: Vec<u64> = (0..1 + dice.below(4)).map(|_| if dice.one_in(5) { 0 } else { dice.below(1_001) }).collect();
    let room = 20 + dice.below(120);
    let mut fixed = Vec::new();
    if dice.one_in(4) {
        fixed.push(json!({ "slot": dice.below(m), "dish": dice.below(n) }));
    }
    json!({
        "name": "small", "slots": slots, "dishes": dishes, "similarity_upper": upper, "gap_weight": gaps,
        "edible_g": dice.below(1_500), "waste_cost_per_g": dice.below(6),
        "day_minutes": (0..=day).map(|_| room + dice.below(60)).collect::<Vec<_>>(),
        "last_slot": if dice.one_in(3) { dice.below(m + 1) as i64 - 1 } else { m as i64 - 1 }, "fixed": fixed,
    })
}

#[test]
fn two_thousand_small_instances_come_out_as_trying_everything_says() {
    let mut dice = Dice(0x2545_f491_4f6c_dd1d);
    let (mut some, mut none) = (0, 0);
    for round in 0..2_000 {
        let instance = small(&mut dice);
        let answer = solve(&instance);
        assert_sound(&format!("round {round}: {instance}"), &instance, &answer);
        let best = checker::least_of_all(&instance);
        assert_eq!(answer.objective, best, "round {round}: {instance}");
        assert_eq!(answer.status, if best.is_some() { Status::Optimal } else { Status::Infeasible }, "round {round}");
        if best.is_some() { some += 1 } else { none += 1 }
    }
    assert!(some > 500 && none > 200, "the instances ask both: {some} with an arrangement, {none} without");
}

#[test]
fn the_answer_is_the_same_for_any_number_of_threads_and_on_every_run() {
    for (name, instance) in on_file().iter().filter(|(n, _)| n.starts_with("d12") || n.starts_with("d20")) {
        let one = solve(instance);
        let two = solve_with(instance, Limits { threads: 2, ..Limits::default() });
        assert_eq!((&one.assignment, one.nodes), (&two.assignment, two.nodes), "{name}");
        assert_eq!(one.assignment, solve(instance).assignment, "{name}");
    }
}

#[test]
fn a_search_cut_short_says_only_what_it_knows() {
    let all = on_file();
    let (name, instance) = all.iter().find(|(n, _)| n.starts_with("d27")).unwrap();
    let stopped = AtomicBool::new(true);
    let limits = [
        Limits { seconds: Some(0.0), ..Limits::default() },
        Limits { seconds: Some(0.3), ..Limits::default() },
        Limits { cancel: Some(&stopped), ..Limits::default() },
    ];
    for limit in limits {
        let answer = solve_with(instance, limit);
        assert_sound(name, instance, &answer);
        assert!(matches!(answer.status, Status::Feasible | Status::Unknown), "{:?}", answer.status);
        assert!(answer.bound.unwrap() <= 2_510_000, "{:?}", answer.bound);
        assert!(answer.objective.is_none_or(|o| o >= 2_510_000), "{:?}", answer.objective);
    }
}

#[test]
fn news_only_gets_better_and_is_true() {
    let all = on_file();
    let (_, instance) = all.iter().find(|(n, _)| n.starts_with("d16")).unwrap();
    let read: Instance = serde_json::from_value(instance.clone()).unwrap();
    let mut news: Vec<(Option<i64>, i64)> = Vec::new();
    let answer = arrange(&read, Limits::default(), &mut |p| {
        if let Some((cost, dishes)) = p.best {
            assert_eq!(checker::cost(instance, dishes), Ok(cost));
        }
        news.push((p.best.map(|b| b.0), p.bound));
    });
    assert!(news.len() > 2);
    for pair in news.windows(2) {
        assert!(pair[1].1 >= pair[0].1 && pair[0].0.is_none_or(|before| pair[1].0.is_some_and(|b| b <= before)), "{pair:?}");
    }
    assert!(news.iter().all(|n| n.1 <= answer.objective.unwrap()));
    assert_eq!(news.last().unwrap(), &(answer.objective, answer.bound.unwrap()));
}

/// Two slots, two dishes, nothing in the way.
fn plain() -> Value {
    let dish =
        json!({ "id": "a", "min_g": 100, "max_g": 200, "minutes": 10, "dislike": 0, "allowed_slots": null, "max_uses": 1 });
    json!({
        "name": "plain", "slots": [{ "day": 0 }, { "day": 0 }], "dishes": [dish, dish], "similarity_upper": [[300], []],
        "gap_weight": [1000], "edible_g": 400, "waste_cost_per_g": 1, "day_minutes": [60], "last_slot": 1, "fixed": [],
    })
}

#[test]
fn odd_instances_are_answered() {
    let with = |path: &str, value: Value| {
        let mut instance = plain();
        *instance.pointer_mut(path).unwrap() = value;
        instance
    };
    let cases: [(Value, Option<i64>); 12] = [
        (plain(), Some(300_000)),
        (with("/gap_weight", json!([0])), Some(0)),
        (with("/gap_weight", json!(vec![1000; 50])), Some(300_000)),
        (with("/dishes/0/max_uses", json!(0)), None),
        (with("/dishes/0/max_uses", json!(i64::MAX)), Some(300_000)),
        (with("/dishes/0/allowed_slots", json!([])), None),
        (with("/dishes/0/min_g", json!(200)), Some(300_000)),
        (with("/edible_g", json!(0)), None),
        (with("/last_slot", json!(-1)), None),
        (with("/fixed", json!([{ "slot": 0, "dish": 0 }, { "slot": 1, "dish": 0 }])), None),
        (with("/fixed", json!([{ "slot": 0, "dish": 0 }, { "slot": 0, "dish": 1 }])), None),
        (with("/waste_cost_per_g", json!(2_000_000_000)), Some(300_000)),
    ];
    for (instance, cost) in cases {
        let answer = solve(&instance);
        assert_sound("odd", &instance, &answer);
        assert_eq!(answer.objective, cost, "{instance}");
        assert_eq!(cost, checker::least_of_all(&instance), "{instance}");
    }
    let mut dear = with("/waste_cost_per_g", json!(2_000_000_000));
    dear["edible_g"] = json!(450);
    assert_eq!(solve(&dear).objective, Some(300_000 + 50 * 2_000_000_000_000));
    let mut none = plain();
    (none["dishes"], none["similarity_upper"]) = (json!([]), json!([]));
    assert_eq!(solve(&none).status, Status::Infeasible);
}

#[test]
fn twins_take_turns_and_keep_their_own_uses() {
    let mut instance = plain();
    instance["similarity_upper"] = json!([[1000], []]);
    let answer = solve(&instance);
    assert_eq!(answer.objective, Some(1_000_000));
    let mut dishes = answer.assignment.unwrap();
    dishes.sort_unstable();
    assert_eq!(dishes, [0, 1]);
}

#[test]
fn what_is_no_instance_is_refused_by_naming_what() {
    let with = |path: &str, value: Value| {
        let mut instance = plain();
        *instance.pointer_mut(path).unwrap() = value;
        instance
    };
    let cases = [
        (with("/slots", json!([])), "slots is empty"),
        (with("/slots/1/day", json!(7)), "the day of slot 1 is 7"),
        (with("/slots/0/day", json!(-1)), "the day of slot 0 is -1"),
        (with("/day_minutes", json!([60, -5])), "day_minutes of day 1 is -5"),
        (with("/dishes/1/min_g", json!(201)), "dish 1 has min_g 201 above max_g 200"),
        (with("/dishes/1/dislike", json!(1001)), "dislike of dish 1 is 1001"),
        (with("/dishes/1/max_uses", json!(-1)), "max_uses of dish 1 is -1"),
        (with("/dishes/1/allowed_slots", json!([2])), "an allowed slot of dish 1 is 2"),
        (with("/similarity_upper/0", json!([1001])), "the similarity of dishes 0 and 1 is 1001"),
        (with("/similarity_upper/0", json!([1, 2])), "row 0 has 2 entries; it must have 1"),
        (with("/similarity_upper", json!([[1]])), "itself has 1 entries; it must have 2"),
        (with("/gap_weight", json!([])), "gap_weight is empty"),
        (with("/gap_weight", json!([5000])), "gap_weight 1 is 5000"),
        (with("/last_slot", json!(2)), "last_slot is 2"),
        (with("/fixed", json!([{ "slot": 0, "dish": 9 }])), "the dish of fixed 0 is 9"),
        (with("/fixed", json!([{ "slot": 9, "dish": 0 }])), "the slot of fixed 0 is 9"),
        (with("/edible_g", json!(-1)), "edible_g is -1"),
        (with("/waste_cost_per_g", json!(1_000_000_000_000_i64)), "waste_cost_per_g 1000000000000 times edible_g 400"),
        (with("/edible_g", json!("much")), "invalid type"),
    ];
    for (instance, words) in cases {
        let said = serde_json::from_value::<Instance>(instance).unwrap_err().to_string();
        assert!(said.contains(words), "{said}\nshould say\n{words}");
    }
}

#[test]
fn the_reason_names_what_stands_in_the_way() {
    let all = on_file();
    let reason = |start: &str| {
        let (_, instance) = all.iter().find(|(n, _)| n.starts_with(start)).unwrap();
        solve(instance).reason.unwrap()
    };
    assert_eq!(reason("d36"), Reason::TooFewGrams { least_g: 232, edible_g: 231 });
    assert_eq!(reason("d38"), Reason::TooFewUses { slots: vec![7, 8, 9, 10, 11], uses: 4 });
    assert_eq!(reason("d39").to_string(), "even the dishes that take least need 3220 g, and there are 3185 g");
    // No rule alone is in the way: the quick dish is heavy, the light one slow.
    let mut instance = plain();
    for (d, grams, minutes) in [(0, 300, 10), (1, 100, 55)] {
        instance["dishes"][d]["min_g"] = json!(grams);
        instance["dishes"][d]["max_g"] = json!(grams);
        instance["dishes"][d]["minutes"] = json!(minutes);
        instance["dishes"][d]["max_uses"] = json!(2);
    }
    assert_eq!(
        solve(&instance).reason.unwrap().to_string(),
        "these cannot all hold: the grams on hand and the minutes of day 0; give up any one of them and the slots can be filled"
    );
}

fn lab(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_tranche")).args(["lab", "arrange"]).args(args).output().unwrap()
}

#[test]
fn the_command_answers_in_stable_keys_and_by_its_exit_code() {
    let file = |name: &str| data().join(name).to_str().unwrap().to_string();
    let out = lab(&[&file("d05-s06-n012-w3-reg.json"), "--json", "--threads", "2", "--limit", "60"]);
    assert_eq!(out.status.code(), Some(0));
    let said: Value = serde_json::from_slice(&out.stdout).unwrap();
    let keys: Vec<&str> = said.as_object().unwrap().keys().map(String::as_str).collect();
    assert_eq!(keys, ["assignment", "bound", "nodes", "objective", "reason", "seconds", "status"]);
    assert_eq!((&said["status"], &said["objective"], &said["bound"]), (&"optimal".into(), &1_359_000.into(), &1_359_000.into()));

    let out = lab(&[&file("d36-s06-n040-w2-inf-mass.json"), "--json"]);
    assert_eq!(out.status.code(), Some(5));
    let said: Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!((&said["status"], &said["objective"], &said["assignment"]), (&"infeasible".into(), &Value::Null, &Value::Null));

    let out = lab(&[&file("d01-s04-n012-w2-reg.json")]);
    let words = String::from_utf8(out.stdout).unwrap();
    assert!(words.starts_with("The best arrangement, proven.") && words.contains("Cost 362000"), "{words}");
}

#[test]
fn the_command_refuses_in_one_sentence() {
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("broken.json");
    let mut instance = plain();
    instance["dishes"][1]["dislike"] = json!(-3);
    for (text, words) in [
        ("{".to_string(), "(line 1, column 1)"),
        (instance.to_string(), "dislike of dish 1 is -3; it must lie between 0 and 1000"),
        (String::new(), "is empty"),
    ] {
        std::fs::write(&broken, text).unwrap();
        let out = lab(&[broken.to_str().unwrap()]);
        let said = String::from_utf8(out.stderr).unwrap();
        assert_eq!(out.status.code(), Some(1), "{said}");
        assert!(said.contains(words) && said.lines().count() == 1, "{said}");
    }
    assert_eq!(lab(&[broken.to_str().unwrap(), "--threads", "0"]).status.code(), Some(2));
}
