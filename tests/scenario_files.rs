//! Are the worked weeks under `tests/data`, and the demo, what the bench says they are?
//!
//! `TRANCHE_WRITE_SCENARIOS=1 cargo test --test scenario_files` writes them anew after a change of the book.

#[path = "support/scenarios.rs"]
mod scenarios;

use std::{env, fs, path::Path};
use tranche::{
    rotation::validate,
    store::{rotation_from_text, rotation_to_text},
};

#[test]
fn the_files_of_the_worked_weeks_hold_what_was_built() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    for (name, plan) in scenarios::files() {
        assert_eq!(validate(&plan), Ok(()), "{name}");
        let path = root.join(name);
        if env::var_os("TRANCHE_WRITE_SCENARIOS").is_some() {
            fs::write(&path, rotation_to_text(&plan)).unwrap();
        }
        let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{name}: {e}"));
        let read = rotation_from_text(Path::new(name), &text).unwrap_or_else(|e| panic!("{e}"));
        assert!(read == plan, "{name} is not what the bench built: write it anew");
        assert!(rotation_to_text(&read) == text, "{name} is not written as the program writes it");
    }
}
