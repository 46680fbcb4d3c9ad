//! Are files read and written so that nothing is lost, whatever is in them?

mod fixture;

use fixture::plan;
use std::path::Path;
use tranche::store::{rotation_from_text, rotation_to_text};

#[test]
fn show() {
    let text = rotation_to_text(&plan());
    println!("{text}");
    assert_eq!(rotation_from_text(Path::new("x"), &text).unwrap(), plan());
    for (from, to) in [
        ("mass: 1800", "mass: -5"),
        ("opened:", "opend:"),
        ("days: 4,", ""),
        ("days: 4", "days: 99999999"),
        ("Sound", "Soundy"),
        ("\"2026-03-09\"", "\"2026-13-09\""),
        ("days: 4", "days: four"),
        ("days: 4", "days: \"4\""),
        ("title:", "title: NaN, x:"),
        ("version: 1", "version: 1 title"),
        ("(Crunchy, 1.0)", "(Crunchy, NaN)"),
        ("(Crunchy, 1.0)", "(Crunchy, 1.0, 2)"),
        ("days: 4", "days: 4, days: 4"),
        ("Prepared(300)", "Prepared(-300)"),
        ("servings: [", "servings: ("),
    ] {
        println!("{to}: {}", rotation_from_text(Path::new("x"), &text.replacen(from, to, 1)).unwrap_err());
    }
}
