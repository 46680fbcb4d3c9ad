//! Does `tranche book check` tell what the shelf of each family covers, in stable keys and in a table?

use serde_json::Value;
use std::process::{Command, Output};
use tranche::book::{Book, Heat, Role, Texture, coverage};

fn run(args: &[&str]) -> Output {
    // Nobody's own entries.
    let empty = concat!(env!("CARGO_TARGET_TMPDIR"), "/nobody");
    Command::new(env!("CARGO_BIN_EXE_tranche")).args(args).env("XDG_DATA_HOME", empty).output().unwrap()
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().unwrap().keys().map(String::as_str).collect()
}

#[test]
fn the_keys_of_the_check_are_stable_and_their_figures_those_of_the_book() {
    let out = run(&["book", "check", "--json"]);
    assert_eq!(out.status.code(), Some(0));
    let said: Value = serde_json::from_slice(&out.stdout).unwrap();
    let stable =
        ["dishes", "dishes_per_family", "entries_without_source", "faults", "kinds", "not_read", "texture_classes_per_family"];
    assert_eq!(keys(&said), stable);
    assert_eq!((&said["entries_without_source"], &said["faults"]), (&0.into(), &Value::Array(vec![])));

    let book = Book::shipped().unwrap();
    assert_eq!(said["kinds"], book.kinds().count());
    assert_eq!(said["dishes"], book.dishes().count());
    let mut families: Vec<&str> = book.kinds().map(|k| k.family.as_str()).collect();
    families.sort_unstable();
    families.dedup();
    assert_eq!(keys(&said["dishes_per_family"]), families);
    assert_eq!(keys(&said["texture_classes_per_family"]), families);
    for family in families {
        // Reckoned here anew from the dishes alone.
        let suiting: Vec<_> = book.dishes().filter(|d| d.families.iter().any(|f| f == family)).collect();
        let mut textures: Vec<Texture> =
            suiting.iter().filter(|d| d.role == Role::Meal).filter_map(|d| d.profile.main_texture()).collect();
        textures.sort();
        textures.dedup();
        assert_eq!(said["dishes_per_family"][family], suiting.len(), "{family}");
        assert_eq!(said["texture_classes_per_family"][family], textures.len(), "{family}");
    }
    assert_eq!(run(&["book", "check", "--json"]).stdout, out.stdout, "the same call says the same");
}

#[test]
fn the_table_of_each_family_has_every_texture_and_names_the_holes() {
    let out = run(&["book", "check"]);
    let said = String::from_utf8(out.stdout).unwrap();
    assert_eq!(out.status.code(), Some(0), "{said}");
    let book = Book::shipped().unwrap();
    for c in coverage(&book) {
        let block = said.split("\n\n").find(|b| b.trim_start().to_lowercase().starts_with(&format!("{}: ", c.family)));
        let lines: Vec<&str> = block.unwrap_or_else(|| panic!("no table of {}", c.family)).trim().lines().collect();
        // Heading, heats, a row a texture, holes.
        assert_eq!(lines.len(), Texture::ALL.len() + 3, "{lines:?}");
        let mut meals = 0;
        for (texture, line) in Texture::ALL.iter().zip(&lines[2..]) {
            let cells: Vec<&str> = line.split_whitespace().collect();
            assert_eq!((cells.len(), cells[0]), (Heat::ALL.len() + 1, texture.word()), "{line}");
            let counts: Vec<usize> = cells[1..].iter().map(|c| c.parse().unwrap_or(0)).collect();
            assert_eq!(counts, Heat::ALL.iter().map(|h| c.at(*texture, *h)).collect::<Vec<_>>());
            meals += counts.iter().sum::<usize>();
            let is_hole = counts.iter().all(|n| *n == 0);
            let named = lines.last().unwrap().split([':', ',']).any(|w| w.trim() == texture.word());
            assert_eq!(named, is_hole, "{}: {}", c.family, texture.word());
        }
        assert_eq!(meals, c.meals, "{}: every meal of the shipped book is described", c.family);
    }
    assert!(said.trim_end().ends_with("0 faults"), "{said}");
}
