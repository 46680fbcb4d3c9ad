//! Does `tranche arrange` answer as its page says: exit codes, stable keys, nothing written over unasked?

use serde_json::Value;
use std::{
    fs,
    path::{Path, PathBuf},
    process::{Command, Output},
};
use tranche::{
    judge::{Severity, judge},
    store::read_rotation,
};

struct Kitchen(tempfile::TempDir);

impl Kitchen {
    fn new() -> Kitchen {
        Kitchen(tempfile::tempdir().unwrap())
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn run(&self, args: &[&str]) -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tranche"));
        command.current_dir(self.0.path()).env_clear().env("HOME", self.path("home")).arg("arrange");
        command.args(args).output().unwrap()
    }
}

fn week(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(format!("{name}.rotation.ron"));
    path.to_str().unwrap().to_string()
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|e| panic!("{e}: {}", String::from_utf8_lossy(&output.stderr)))
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().unwrap().keys().map(String::as_str).collect()
}

fn said(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).replace('\u{a0}', " ")
}

#[test]
fn the_open_supper_is_filled_written_and_judged_good() {
    let kitchen = Kitchen::new();
    let open = week("red-cabbage-open");
    let out = kitchen.run(&[&open, "-o", "filled.rotation.ron", "--top", "3"]);
    assert_eq!(out.status.code(), Some(0), "{}", said(&out.stderr));
    let text = said(&out.stdout);
    assert!(text.starts_with("The best there is: none is better, proven.\nFeels like "), "{text}");
    assert!(text.contains("Thursday supper") && text.contains("Instead (2)"), "{text}");
    let filled = read_rotation(&kitchen.path("filled.rotation.ron")).unwrap().rotation;
    assert!(judge(&filled).findings.iter().all(|f| !f.speaks() || f.severity > Severity::Warn));
    // Filled, there is nothing more to ask; and the file is not written over.
    let bytes = fs::read(kitchen.path("filled.rotation.ron")).unwrap();
    let again = kitchen.run(&[&open, "-o", "filled.rotation.ron"]);
    assert_eq!(again.status.code(), Some(1));
    assert!(said(&again.stderr).contains("filled.rotation.ron") && again.stdout.is_empty());
    assert_eq!(fs::read(kitchen.path("filled.rotation.ron")).unwrap(), bytes);
    assert_eq!(kitchen.run(&[&open, "-o", "filled.rotation.ron", "--force", "--no-why"]).status.code(), Some(0));
    let nothing = kitchen.run(&["filled.rotation.ron"]);
    assert_eq!((nothing.status.code(), said(&nothing.stdout).as_str()), (Some(0), "No meal waits for a dish.\n"));
}

#[test]
fn the_keys_are_stable_and_the_bytes_the_same_each_time() {
    let kitchen = Kitchen::new();
    let open = week("red-cabbage-open");
    let call = [open.as_str(), "--json", "--top", "2"];
    let out = kitchen.run(&call);
    let answer = json(&out);
    assert_eq!(keys(&answer), ["arrangements", "binds", "bound", "objective", "says", "status", "wasteful"]);
    assert_eq!((&answer["status"], &answer["bound"]), (&"optimal".into(), &answer["objective"]));
    let all = answer["arrangements"].as_array().unwrap();
    assert_eq!(all.len(), 2);
    assert_eq!(keys(&all[0]), ["cost", "feels_like", "findings", "left_g", "meals", "proven", "put_by", "taste", "words"]);
    assert_eq!(keys(&all[0]["meals"][0]), ["day", "dish", "from", "grams", "id", "meal", "most_alike", "state"]);
    assert!(all[0]["cost"].as_i64() <= all[1]["cost"].as_i64());
    assert_eq!(out.stdout, kitchen.run(&call).stdout);
}

#[test]
fn what_cannot_be_ends_with_five_and_says_what_to_loosen() {
    let kitchen = Kitchen::new();
    let open = week("red-cabbage-open");
    let out = kitchen.run(&[&open, "--minutes", "Thursday=5", "-o", "no.rotation.ron"]);
    assert_eq!(out.status.code(), Some(5));
    let text = said(&out.stdout);
    assert!(text.contains("5 min on Thursday") && text.contains("find more minutes on Thursday"), "{text}");
    assert!(!kitchen.path("no.rotation.ron").exists());
    let answer = json(&kitchen.run(&[&open, "--minutes", "Thursday=5", "--json"]));
    assert_eq!(keys(&answer), ["arrangements", "reason", "smallest", "status", "wishes"]);
    assert_eq!((&answer["status"], &answer["smallest"]), (&"impossible".into(), &true.into()));
    assert_eq!(keys(&answer["wishes"][0]), ["loosen", "wish"]);
}

#[test]
fn every_dish_is_ranked_for_one_meal() {
    let kitchen = Kitchen::new();
    let open = week("red-cabbage-open");
    let answer = json(&kitchen.run(&[&open, "--fits", "thursday supper", "--json"]));
    assert_eq!(keys(&answer), ["dishes", "meal"]);
    let dishes = answer["dishes"].as_array().unwrap();
    assert_eq!(keys(&dishes[0]), ["cost", "dish", "fits", "id", "most_alike", "why"]);
    let best = json(&kitchen.run(&[&open, "--json", "--no-why"]));
    assert_eq!(dishes[0]["id"], best["arrangements"][0]["meals"][0]["id"]);
    assert!(dishes.iter().any(|d| d["fits"] == Value::Bool(false)), "the charred wedges are served on Tuesday");
}

#[test]
fn wishes_that_name_nothing_are_refused_in_one_sentence() {
    let kitchen = Kitchen::new();
    let open = week("red-cabbage-open");
    for (args, want) in [
        (["--meal", "Sunday brunch"], "no meal \"Sunday brunch\""),
        (["--meal", "Monday supper"], "Monday supper has a dish already"),
        (["--minutes", "Thursday"], "write a day and its minutes"),
        (["--minutes", "Someday=20"], "no day \"Someday\""),
        (["--no-oven", "32"], "no day \"32\""),
        (["--without", "unicorn stew"], "no dish \"unicorn stew\""),
        (["--limit", "NaN"], "name a number of seconds"),
    ] {
        let out = kitchen.run(&[&open, args[0], args[1]]);
        assert_eq!(out.status.code(), Some(2), "{args:?}: {}", said(&out.stderr));
        assert!(out.stdout.is_empty() && said(&out.stderr).contains(want), "{args:?}: {}", said(&out.stderr));
        assert_eq!(said(&out.stderr).trim_end().lines().count(), 1);
    }
    assert_eq!(kitchen.run(&["nowhere.rotation.ron"]).status.code(), Some(1));
}

#[test]
fn a_wish_changes_the_answer_and_is_kept() {
    let kitchen = Kitchen::new();
    let open = week("red-cabbage-open");
    let first = json(&kitchen.run(&[&open, "--json", "--no-why"]));
    let dish = |answer: &Value| answer["arrangements"][0]["meals"][0]["id"].as_str().unwrap().to_string();
    let second = json(&kitchen.run(&[&open, "--json", "--no-why", "--without", &dish(&first)]));
    assert_ne!(dish(&first), dish(&second));
    assert!(first["objective"].as_i64() <= second["objective"].as_i64());
}
