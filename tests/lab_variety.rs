//! Does the workbench reckon every case of variety by itself, whatever is wrong with its neighbours?

use serde_json::{Value, json};
use std::{
    io::Write as _,
    process::{Command, Output, Stdio},
};

fn lab(task: &str, input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_tranche"))
        .args(["lab", task, "-", "--json"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A program that refuses at once closes the pipe; what it says is asked below.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    child.wait_with_output().unwrap()
}

fn list(task: &str, input: &Value) -> Vec<Value> {
    let out = lab(task, &input.to_string());
    assert_eq!(out.status.code(), Some(0), "{}", String::from_utf8_lossy(&out.stderr));
    serde_json::from_slice(&out.stdout).expect("a list")
}

#[test]
fn every_published_case_agrees() {
    let all: Value = serde_json::from_str(include_str!("published/variety-vectors.json")).unwrap();
    let done = list("variety", &all);
    assert_eq!(done.len(), 64);
    for (case, done) in all["cases"].as_array().unwrap().iter().zip(done) {
        assert_eq!((&done["id"], &done["ok"]), (&case["id"], &json!(true)), "{done}");
    }
}

#[test]
fn a_figure_that_is_off_is_told() {
    let mut all: Value = serde_json::from_str(include_str!("published/variety-vectors.json")).unwrap();
    for case in all["cases"].as_array_mut().unwrap() {
        spoil(&mut case["expected"]);
    }
    for done in list("variety", &all) {
        assert_eq!(done["ok"], json!(false), "{done}");
        assert!(!done["got"].is_null());
    }
    let printed = json!({"cases": [{"id": 1, "kind": "hill", "input": {"counts": [1, 1], "orders": [0]},
        "published": {"orders": [1], "diversity": [2.1], "precision": 0.05, "where": "nowhere"}}]});
    assert_eq!(list("variety", &printed)[0]["ok"], json!(false), "what was printed elsewhere counts, too");
}

/// Moves every figure by a thousandth, and puts one where there was none.
fn spoil(value: &mut Value) {
    match value {
        Value::Object(map) => map.values_mut().for_each(spoil),
        Value::Array(list) => list.iter_mut().for_each(spoil),
        Value::Null => *value = json!(0.5),
        other => *other = json!(other.as_f64().unwrap_or(0.0) + 0.001),
    }
}

#[test]
fn a_broken_case_stops_no_other() {
    let cases = json!({"cases": [
        {"id": "a", "kind": "soothsaying", "input": {}},
        {"id": "b", "kind": "jaccard"},
        {"id": "c", "kind": "rao", "input": {"weights": [1, 1], "distance": [[0, 1]]}},
        {"id": "d", "kind": "similarity_diversity", "input": {"weights": [1, -1], "similarity": [[1, 0], [0, 1]], "orders": [1]}},
        {"id": "e", "kind": "map_logit", "input": {"features": [[1]], "complaint": [2], "prior_theta": [1], "prior_bias": 0, "sigma": 1}},
        {"id": "f", "kind": "recovery_kernel", "input": {"gap_days": [2], "half_life_days": 0}},
        {"id": "g", "kind": "hill", "input": {"counts": [1, 1], "orders": ["most"]}},
        {"id": "h", "kind": "gower_matrix", "input": {"columns": [{"type": "odd"}], "rows": [[1], [2]], "weights": [1]}},
        7,
        {"id": "z", "kind": "cosine", "input": {"u": [3, 4], "v": [1, 0]}, "expected": {"similarity": 0.6}, "tolerance": 1e-9},
    ]});
    let done = list("variety", &cases);
    for broken in &done[..9] {
        assert!(broken["ok"] == json!(false) && broken["got"].is_null(), "{broken}");
        assert!(broken["error"].as_str().is_some_and(|e| e.len() > 8 && e.len() < 140), "{broken}");
    }
    assert_eq!(done[9]["ok"], json!(true));
}

#[test]
fn what_is_no_file_of_cases_is_refused_in_a_sentence() {
    for (input, says) in [("{\"cases\": [", "line 1"), ("{}", "no list \"cases\""), ("7", "no list \"cases\""), ("", "empty")] {
        let out = lab("variety", input);
        let said = String::from_utf8_lossy(&out.stderr).into_owned();
        assert_eq!(out.status.code(), Some(1), "{input}: {said}");
        assert!(out.stdout.is_empty() && said.contains(says) && said.lines().count() == 1, "{input}: {said}");
    }
}

fn compared(a: Value, b: Value) -> Value {
    list("likeness", &json!({"pairs": [{"id": 1, "a": a, "b": b}]})).remove(0)
}

#[test]
fn one_dish_written_in_many_ways_is_the_same_dish() {
    let plain = json!({"texture": {"stewed": 1.0}, "family": {"curry": 1.0}, "method": {"stew": 1}, "heat": "hot", "form": "bowl",
        "colour": {"yellow": 1}, "taste": {"sweet": 1, "hot": 2, "rich": 2}, "starch": "rice", "protein": "pulses"});
    for other in [
        json!({"texture": "soft-stewed", "flavour": "curry-warm", "method": "stewed", "temperature": 3, "form": ["bowl"],
            "color": ["yellow"], "taste": [1, 0, 0, 0, 2, 2], "company": {"starch": "rice", "protein": "pulses"}}),
        json!({"tags": {"texture": [["stewed", 1]], "family": [{"value": "curry", "grade": 1}], "method": "Stew", "heat": "Hot",
            "form": {"bowl": 1}, "colour": {"main": "yellow"}, "taste": {"sweet": 0.5, "hot": 1, "rich": 1, "salt": 3},
            "starch": "rice", "protein": "pulses"}, "name": "curry", "id": 9}),
    ] {
        let found = compared(plain.clone(), other);
        assert!((found["likeness"].as_f64().unwrap() - 1.0).abs() < 1e-12, "{found}");
        assert_eq!(found["verdict"], "too alike");
        assert!(found.get("ignored").is_none(), "{found}");
    }
}

#[test]
fn the_shares_add_up_and_blanks_are_no_likeness() {
    let a = json!({"texture": {"crisp": 1, "crunchy": 0.5}, "family": "sharp", "heat": "chilled", "starch": "none", "protein": "egg"});
    let b = json!({"texture": "crunchy", "family": "herbal", "heat": "warm", "starch": "none", "colour": "green"});
    let found = compared(a, b);
    let shares = found["shares"].as_object().unwrap();
    assert_eq!(shares.len(), 9);
    for blank in ["starch", "protein", "colour", "method", "form", "taste"] {
        assert!(shares[blank].is_null(), "{blank}");
    }
    let sum: f64 = shares.values().filter_map(Value::as_f64).sum();
    assert!((sum - found["likeness"].as_f64().unwrap()).abs() < 1e-12);
    // Texture: m = 1/2 (.5 + .25 ... by hand: a's crisp meets crunchy at .5, a's crunchy at .5; b's crunchy meets the better, .5)
    // = .75 of 1.5 + 1 - .75; family .3 of 1 + 1 - .3; heat 1 - 2/3.
    let by_hand = (0.22 * (0.75 / 1.75) + 0.16 * (0.3 / 1.7) + 0.08 / 3.0) / 0.46;
    assert!((sum - by_hand).abs() < 1e-12, "{sum} against {by_hand}");
}

#[test]
fn nothing_known_is_said_so_and_never_a_number() {
    for (a, b) in [(json!({}), json!({"texture": "crisp"})), (json!({"texture": "crisp"}), json!({"family": "curry"}))] {
        let found = compared(a, b);
        assert!(found["likeness"].is_null() && found["verdict"] == "not enough described", "{found}");
    }
}

#[test]
fn a_tag_that_nobody_knows_is_told_and_not_guessed() {
    let pairs = json!({"pairs": [
        {"id": 1, "a": {"texture": "squidgy"}, "b": {"texture": "crisp"}},
        {"id": 2, "a": {"texture": "crisp"}},
        {"id": 3, "a": {"taste": {"sweet": 9}}, "b": {"taste": {"sweet": 1}}},
        {"id": 4, "a": {"heat": 7}, "b": {"heat": "hot"}},
        {"id": 5, "a": {"texture": {"crisp": 2}}, "b": {"texture": "crisp"}},
        {"id": 6, "a": {"texture": "crisp", "textrue": "crisp"}, "b": {"texture": "crisp"}},
    ]});
    let done = list("likeness", &pairs);
    for broken in &done[..5] {
        assert!(broken["likeness"].is_null() && broken["error"].is_string(), "{broken}");
    }
    assert_eq!((&done[5]["likeness"], &done[5]["ignored"]), (&json!(1.0), &json!(["textrue"])));
}
