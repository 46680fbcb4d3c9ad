//! Do files of earlier Tranches open, and mean what they meant?

use std::path::{Path, PathBuf};
use tranche::{
    book::{Book, family_now},
    judge::{judge, mends_for},
    rotation::Template,
    store::{read_rotation, read_template, rotation_to_text, template_to_text},
};

fn older(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/older").join(name)
}

/// Once the family of roast joints was called poultry.
#[test]
fn a_week_of_the_family_poultry_is_one_of_roasts_and_finds_its_mends_in_the_book() {
    let text = std::fs::read_to_string(older("turkey-before-roast.rotation.ron")).unwrap();
    assert!(text.contains("family: \"poultry\"") && text.contains("families: [\"poultry\"]"));
    let plan = read_rotation(&older("turkey-before-roast.rotation.ron")).unwrap().rotation;
    assert_eq!(plan.kind.family, "roast");
    assert!(plan.dishes.values().all(|d| d.suits_kind(&plan.kind) && d.families == ["roast"]));
    assert!(!rotation_to_text(&plan).contains("\"poultry\""));
    let book = Book::shipped().unwrap();
    assert!(book.dishes_for(&plan.kind).count() >= 15, "the shelf is full");
    let mends: usize = judge(&plan).findings.iter().map(|f| mends_for(&plan, &book, f).len()).sum();
    assert!(mends > 0);
}

#[test]
fn a_shape_of_the_family_poultry_is_one_of_roasts() {
    let plan = read_rotation(&older("turkey-before-roast.rotation.ron")).unwrap().rotation;
    let text = template_to_text(&Template::of(&plan)).replace("\"roast\"", "\"poultry\"");
    assert!(text.contains("family: \"poultry\""), "{text}");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("old.template.ron");
    std::fs::write(&path, text).unwrap();
    assert_eq!(read_template(&path).unwrap().made_from.family, "roast");
}

#[test]
fn no_family_of_the_book_goes_by_an_old_id() {
    let book = Book::shipped().unwrap();
    let kinds = book.kinds().map(|k| k.family.as_str());
    let dishes = book.dishes().flat_map(|d| d.families.iter().map(String::as_str));
    kinds.chain(dishes).for_each(|f| assert_eq!(family_now(f), f));
}
