//! Does `tranche lab cooling` answer every case, in order, and go on past a faulty one?

use serde_json::{Value, json};
use std::{
    io::Write as _,
    process::{Command, Output, Stdio},
};

fn lab(sheet: &str, more: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tranche"));
    let mut child = command
        .args(["lab", "cooling", "-"])
        .args(more)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(sheet.as_bytes()).unwrap();
    child.wait_with_output().unwrap()
}

fn answers(sheet: &Value, more: &[&str]) -> Value {
    let output = lab(&sheet.to_string(), more);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

fn case(id: Value) -> Value {
    json!({ "id": id, "shape": "slab", "half_thickness_m": 0.0125, "k": 0.56, "rho": 1030, "cp": 3900, "h": 10,
            "start_c": 60, "around_c": 4, "to_c": [57, 21, 5, 4, 3, 60], "at_s": [0, 7200] })
}

fn with(mut case: Value, key: &str, value: Value) -> Value {
    case[key] = value;
    case
}

#[test]
fn each_case_is_answered_in_order_and_a_faulty_one_says_why() {
    let good = || case(json!("a"));
    let mut bare = case(json!(7));
    bare.as_object_mut().unwrap().retain(|k, _| k != "to_c" && k != "at_s");
    let sheet = json!({ "cases": [
        good(),
        with(good(), "shape", json!("cube")),
        with(good(), "k", json!(-1)),
        with(good(), "at_s", json!([-5])),
        with(good(), "h", json!("ten")),
        with(good(), "h", Value::Null),
        json!(12),
        bare,
        with(good(), "h", json!(0)),
    ] });
    for more in [&["--json"][..], &["--json", "--volumes"]] {
        let said = answers(&sheet, more);
        let said = said.as_array().unwrap();
        assert_eq!(said.len(), 9);
        assert_eq!(said[0]["id"], "a");
        // 57 to 21 C in 102.4 minutes, 19.270 C after two hours: the series of Incropera and DeWitt.
        let seconds = said[0]["seconds_to"].as_array().unwrap();
        let minutes = (seconds[1].as_f64().unwrap() - seconds[0].as_f64().unwrap()) / 60.0;
        assert!((minutes - 102.4).abs() < 0.1, "{minutes}");
        assert_eq!(seconds[3..], [Value::Null, Value::Null, json!(0.0)]);
        assert!((said[0]["centre_c"][1].as_f64().unwrap() - 19.270).abs() < 0.01);
        let why: Vec<&str> = said[1..7].iter().map(|s| s["error"].as_str().unwrap()).collect();
        assert_eq!(why[0], "the shape \"cube\" is not known: slab, cylinder or sphere");
        assert_eq!(why[1], "the conductivity k is -1; it goes from 0.001 to 10000 W/(m K)");
        assert_eq!(why[2], "a time is -5; it goes from 0 to 1000000000000000 s");
        assert!(why[3..].iter().all(|w| !w.is_empty() && !w.contains('\n')), "{why:?}");
        assert_eq!(said[7], json!({ "id": 7, "seconds_to": [], "centre_c": [] }));
        assert_eq!(said[8]["seconds_to"], json!([null, null, null, null, null, 0.0]));
        assert_eq!(said[8]["centre_c"], json!([60.0, 60.0]));
    }
    let words = lab(&sheet.to_string(), &[]);
    let words = String::from_utf8(words.stdout).unwrap();
    assert!(words.starts_with("  a") && words.contains("never") && words.contains("19.27 °C"), "{words}");
}

#[test]
fn what_is_no_sheet_is_refused_in_one_sentence() {
    for wrong in ["", "[]", "{\"cases\": 3}", "{\"cases\": [", "nonsense"] {
        let output = lab(wrong, &["--json"]);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(1), "{wrong}");
        assert!(said.starts_with("tranche: ") && said.trim_end().lines().count() == 1 && output.stdout.is_empty(), "{said}");
    }
}
