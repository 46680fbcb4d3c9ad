//! Are recipes read out of saved pages as they stand there, and is everything else refused in one clear sentence?

use proptest::prelude::*;
use serde_json::{Value, json};
use std::{
    fs,
    path::{Path, PathBuf},
    process::{Command, Stdio},
    time::{Duration, Instant},
};
use tranche::{
    book::{Allergen, Family, Form, Heat, Method, Protein, Starch, Texture},
    exchange::{MAX_FOREIGN_BYTES, NoRecipe, ReadRecipe, Source, read_recipe},
    quantity::{Amount, Kitchen, Measure},
};

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/pages").join(name)
}

fn bytes(name: &str) -> Vec<u8> {
    fs::read(sample(name)).unwrap()
}

fn read(name: &str) -> ReadRecipe {
    read_recipe(&bytes(name), Kitchen::Metric).unwrap_or_else(|e| panic!("{name} {e}"))
}

fn times(r: &ReadRecipe) -> [Option<u32>; 3] {
    [r.minutes.prep, r.minutes.cook, r.minutes.total]
}

#[test]
fn a_recipe_in_a_graph_is_read_whole() {
    let r = read("graph.html");
    assert_eq!((r.name.as_str(), r.source), ("Braised red cabbage & apple", Source::JsonLd));
    assert_eq!(r.yields.as_deref(), Some("6 servings"));
    assert_eq!(times(&r), [Some(20), Some(90), Some(110)]);
    assert_eq!(r.ingredients.len(), 8);
    let salt = &r.ingredients[5];
    assert_eq!((salt.amount, salt.measure, salt.name.as_str()), (Some(Amount::Exact(1.5)), Some(Measure::Teaspoon), "salt"));
    assert_eq!(r.ingredients[0].also, ["about 900 g"]);
    assert_eq!(r.steps[1], "Add everything else, cover, and braise gently for 1 hour 20 minutes.");
    assert_eq!(r.steps[2], "Serve hot.");
    let noticed: Vec<Allergen> = r.allergens.iter().map(|(a, _)| *a).collect();
    assert_eq!(noticed, [Allergen::Milk, Allergen::Celery, Allergen::Sulphite]);
    assert!(r.unread.is_empty(), "{:?}", r.unread);
    let p = &r.proposed;
    assert_eq!(p.method.as_ref().map(|m| m.value), Some(Method::Braise));
    assert_eq!(p.texture.as_ref().map(|m| m.value), Some(Texture::Stewed));
    assert_eq!(p.heat.as_ref().map(|m| m.value), Some(Heat::Hot));
    assert_eq!(p.family.as_ref().map(|m| m.value), Some(Family::Sharp));
    assert_eq!(p.protein, None, "nothing speaks for a protein, so nothing is said");
    assert!(p.method.as_ref().unwrap().because.contains("brais"), "{p:?}");
}

#[test]
fn a_recipe_in_an_array_with_texts_is_read() {
    let r = read("array.html");
    assert_eq!(r.name, "Celeriac soup");
    assert_eq!((r.yields.as_deref(), times(&r)), (Some("4"), [None, None, Some(45)]));
    assert_eq!(
        r.ingredients.iter().map(|i| i.name.as_str()).collect::<Vec<_>>(),
        ["celeriac", "onion", "vegetable stock", "double cream"]
    );
    assert_eq!(r.steps.len(), 3);
    assert_eq!(r.proposed.form.as_ref().map(|f| f.value), Some(Form::Soup));
    assert_eq!(r.proposed.texture.as_ref().map(|f| f.value), Some(Texture::Smooth));
}

#[test]
fn a_recipe_that_is_the_main_entity_is_read_and_what_is_unread_is_listed() {
    let r = read("main_entity.html");
    assert_eq!((r.name.as_str(), r.yields.as_deref(), r.steps.len()), ("Salmon fishcakes", Some("8"), 2));
    assert_eq!(times(&r), [Some(0), None, None]);
    assert!(r.unread.iter().any(|u| u == "time to cook: P1M"), "a month has no fixed length: {:?}", r.unread);
    assert!(r.unread.iter().any(|u| u == "no amount: oil for frying"), "{:?}", r.unread);
    assert_eq!(r.proposed.form.as_ref().map(|f| f.value), Some(Form::Patty));
    assert_eq!(r.proposed.starch.as_ref().map(|f| f.value), Some(Starch::Potato));
    assert_eq!(r.proposed.protein.as_ref().map(|f| f.value), Some(Protein::Fish));
}

#[test]
fn sections_keep_their_names_and_their_order() {
    let r = read("sections.html");
    assert_eq!(r.steps.len(), 5, "{:?}", r.steps);
    assert_eq!(r.steps[2], "Leave the skin on.");
    assert_eq!(r.steps[4], "Rest for 10 minutes.");
    assert_eq!(r.sections, [(0, "The squash".to_string()), (3, "To finish".to_string())]);
    assert_eq!(r.proposed.starch.as_ref().map(|f| f.value), Some(Starch::Pasta));
}

#[test]
fn microdata_is_read_where_there_is_no_json() {
    let r = read("microdata.html");
    assert_eq!((r.name.as_str(), r.source), ("Swede & bacon hash", Source::Microdata));
    assert_eq!((r.yields.as_deref(), times(&r)), (Some("2 people"), [Some(15), Some(25), None]));
    assert_eq!(r.ingredients[1].raw, "6 rashers smoked bacon");
    assert_eq!(r.steps, ["Boil the swede until tender.", "Fry the bacon; add the swede and crisp it.", "Top with a fried egg."]);
}

#[test]
fn bare_json_and_json_with_comments_are_read() {
    let r = read("bare.json");
    assert_eq!((r.name.as_str(), r.ingredients.len(), r.steps.len()), ("Tomato salad", 3, 2));
    assert_eq!(r.proposed.heat.as_ref().map(|h| h.value), Some(Heat::Room));
    let r = read("comments.html");
    assert_eq!((r.name.as_str(), r.ingredients.len()), ("Pickled onions", 2));
    assert_eq!(r.proposed.method.as_ref().map(|m| m.value), Some(Method::Pickle));
}

#[test]
fn of_several_recipes_the_first_with_something_in_it_is_taken_and_the_others_are_named() {
    let r = read("two.html");
    assert_eq!(r.name, "Chard frittata");
    assert!(r.unread.iter().any(|u| u.contains("Only a name")), "{:?}", r.unread);
    assert!(r.unread.iter().any(|u| u.contains("block 2 is broken")), "{:?}", r.unread);
}

#[test]
fn old_and_wide_encodings_are_read() {
    let page = "<html><script type=\"application/ld+json\">{\"@type\":\"Recipe\",\"name\":\"Cr\u{e8}me\",\"recipeIngredient\":[\"\u{bd} l lait\"]}</script></html>";
    let latin: Vec<u8> = page.chars().map(|c| c as u8).collect();
    let mut wide = vec![0xFF, 0xFE];
    wide.extend(page.encode_utf16().flat_map(u16::to_le_bytes));
    for bytes in [latin, wide] {
        let r = read_recipe(&bytes, Kitchen::Metric).unwrap();
        assert_eq!((r.name.as_str(), r.ingredients[0].amount), ("Crème", Some(Amount::Exact(0.5))));
    }
}

fn page_of(json: &str) -> Vec<u8> {
    format!("<html><head><script type=\"application/ld+json\">{json}</script></head></html>").into_bytes()
}

#[test]
fn what_holds_no_recipe_is_refused_in_a_sentence() {
    let deep_json = format!("{{\"@type\":\"Recipe\",\"x\":{}1{}}}", "[".repeat(10_000), "]".repeat(10_000));
    for (what, bytes, says) in [
        ("none", bytes("none.html"), "holds no recipe"),
        ("broken", bytes("broken.html"), "JSON-LD block 1 is broken"),
        ("hollow", page_of(r#"{"@type":"Recipe","name":"Air"}"#), "names the recipe \"Air\" but lists neither"),
        ("text", b"One cabbage, and time.".to_vec(), "neither an HTML page nor JSON"),
        ("zero bytes", b"<html>\0\0</html>".to_vec(), "zero byte at byte 6"),
        ("picture", [0x89, b'P', b'N', b'G', 0, 0, 0, 13].to_vec(), "zero byte"),
        ("broken JSON", b"{\"@type\": \"Recipe\", ".to_vec(), "broken JSON"),
        ("deep JSON", deep_json.clone().into_bytes(), "broken JSON"),
        ("deep JSON in a page", page_of(&deep_json), "JSON-LD block 1 is broken"),
        ("another thing", page_of(r#"{"@type":"Person","name":"Recipe"}"#), "holds no recipe"),
        ("deep tags", format!("<html>{}", "<div>".repeat(10_000)).into_bytes(), "nested more than 1000"),
        ("deep bold", format!("<html>{}", "<b>".repeat(10_000)).into_bytes(), "nested more than 1000"),
        ("deep tables", format!("<html>{}", "<table><tr><td>".repeat(10_000)).into_bytes(), "nested more than 1000"),
    ] {
        let refused = read_recipe(&bytes, Kitchen::Metric).map(|r| r.name).unwrap_err().to_string();
        assert!(refused.contains(says), "{what}: {refused}");
        assert!(!refused.contains('\n'), "{what}: one sentence");
    }
}

#[test]
fn endless_pages_end_soon() {
    let began = Instant::now();
    let full = |unit: &str| unit.repeat((MAX_FOREIGN_BYTES - 100) / unit.len());
    let lines: Vec<String> = (0..200_000).map(|i| format!("{i} g salt")).collect();
    let huge =
        page_of(&json!({ "@type": "Recipe", "name": "All", "recipeIngredient": lines, "recipeInstructions": lines }).to_string());
    let r = read_recipe(&huge, Kitchen::Metric).unwrap();
    assert_eq!((r.ingredients.len(), r.steps.len()), (300, 300));
    assert!(r.unread.iter().any(|u| u.starts_with("199700 more ingredients")), "{:?}", r.unread);
    for page in [format!("<html>{}", full("<div>")), format!("<html>{}", full("<p>x")), format!("<html>{}", full("<!-- "))] {
        assert!(read_recipe(page.as_bytes(), Kitchen::Metric).is_err());
    }
    let long = page_of(
        &json!({ "@type": "Recipe", "name": "L".repeat(100_000), "recipeIngredient": ["a".repeat(5_000)],
        "recipeInstructions": ["<b>".repeat(50_000), "s".repeat(9_000)] })
        .to_string(),
    );
    let r = read_recipe(&long, Kitchen::Metric).unwrap();
    assert_eq!((r.ingredients.len(), r.name.len(), r.steps.len()), (0, 4_000, 1));
    assert!(r.unread.iter().any(|u| u.contains("longer than 4000")), "{:?}", r.unread);
    assert!(began.elapsed() < Duration::from_secs(120), "{:?}", began.elapsed());
}

#[test]
fn a_tag_of_endless_attributes_is_refused_by_their_number_and_not_by_a_clock() {
    let many: String = (0..1_000_000).map(|i| format!(" a{i}")).collect();
    let began = Instant::now();
    for page in [format!("<html><p{many}>"), format!("<html><p x='<!--'{many}"), format!("<html><!-- x --></p{many}>")] {
        let refused = read_recipe(page.as_bytes(), Kitchen::Metric).map(|r| r.name).unwrap_err().to_string();
        assert!(refused.contains("more than 256 attributes"), "{refused}");
    }
    assert!(began.elapsed() < Duration::from_secs(3), "{:?}", began.elapsed());
}

#[test]
fn instructions_are_read_four_levels_deep_and_deeper_ones_are_named_as_unread() {
    // A level is a section with its list; the innermost is a step.
    let page = |levels: usize| {
        let mut inner = json!([{ "@type": "HowToStep", "text": "Chop." }]);
        for level in (1..levels).rev() {
            inner = json!([{ "@type": "HowToSection", "name": format!("Level {level}"), "itemListElement": inner }]);
        }
        let recipe = json!({ "@type": "Recipe", "name": "Deep", "recipeIngredient": ["1 onion"], "recipeInstructions": inner });
        read_recipe(&page_of(&recipe.to_string()), Kitchen::Metric).unwrap()
    };
    for levels in 1..=4 {
        let r = page(levels);
        assert_eq!((r.steps.as_slice(), r.sections.len()), (["Chop.".to_string()].as_slice(), levels - 1), "{levels} levels");
        assert!(!r.unread.iter().any(|u| u.contains("nested")), "{levels} levels: {:?}", r.unread);
    }
    for levels in 5..=20 {
        let r = page(levels);
        assert!(r.steps.is_empty(), "{levels} levels: {:?}", r.steps);
        let told = r.unread.iter().filter(|u| u.starts_with("steps nested more than 4 deep"));
        assert_eq!(told.count(), 1, "{levels} levels: {:?}", r.unread);
    }
}

fn command(args: &[&str]) -> (Option<i32>, String, String) {
    let done = Command::new(env!("CARGO_BIN_EXE_tranche")).args(args).stdin(Stdio::null()).output().unwrap();
    let text = |b: Vec<u8>| String::from_utf8(b).unwrap();
    (done.status.code(), text(done.stdout), text(done.stderr))
}

#[test]
fn the_command_prints_stable_keys_and_one_sentence_of_complaint() {
    let (code, out, _) = command(&["read-recipe", sample("graph.html").to_str().unwrap(), "--json"]);
    assert_eq!(code, Some(0));
    let v: Value = serde_json::from_str(&out).unwrap();
    let keys = ["name", "yields", "minutes", "ingredients", "steps", "profile_proposed", "allergens_noticed", "unread"];
    for key in keys {
        assert!(!v[key].is_null(), "{key}");
    }
    assert_eq!(v["minutes"], json!({ "prep": 20, "cook": 90, "total": 110 }));
    assert_eq!(v["ingredients"][3]["quantity"], json!({ "low": 3, "high": 4 }));
    assert_eq!(v["ingredients"][2]["grams"], json!(50));
    assert_eq!(v["profile_proposed"]["method"]["value"], json!("braised"));
    assert!(v["profile_proposed"]["method"]["because"].is_string());
    assert_eq!(v["allergens_noticed"], json!(["milk", "celery", "sulphite"]));
    let (code, out, _) = command(&["read-recipe", sample("microdata.html").to_str().unwrap()]);
    assert_eq!(code, Some(0));
    assert!(out.contains("Swede & bacon hash") && out.contains("25 min"), "{out}");

    let folder = tempfile::tempdir().unwrap();
    let big = folder.path().join("big.html");
    fs::write(&big, vec![b'x'; MAX_FOREIGN_BYTES + 1]).unwrap();
    let empty = folder.path().join("empty.html");
    fs::write(&empty, "").unwrap();
    for (path, says) in [
        (big.to_str().unwrap(), "larger than 8 MiB"),
        (empty.to_str().unwrap(), "is empty"),
        (folder.path().to_str().unwrap(), "no plain file"),
        ("not-there.html", "is not there"),
        (sample("none.html").to_str().unwrap(), "holds no recipe"),
    ] {
        let (code, out, said) = command(&["read-recipe", path, "--json"]);
        assert_eq!((code, out.as_str()), (Some(1), ""), "{path}");
        assert!(said.contains(says) && said.trim_end().lines().count() == 1, "{said}");
    }
}

#[test]
fn the_lab_reads_lines_from_a_file_and_from_standard_input() {
    let folder = tempfile::tempdir().unwrap();
    let lines = folder.path().join("lines.txt");
    fs::write(&lines, "3-4 tbsp olive oil\n\nsalt to taste\n2 x 400 g tins beans\n").unwrap();
    let (code, out, _) = command(&["lab", "quantity", lines.to_str().unwrap(), "--json", "--times", "0.5"]);
    assert_eq!(code, Some(0));
    let v: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(v.as_array().map(Vec::len), Some(3));
    assert_eq!(v[0]["quantity"], json!({ "low": 3, "high": 4 }));
    assert_eq!((&v[0]["unit"], &v[0]["name"], &v[0]["confidence"]), (&json!("tbsp"), &json!("olive oil"), &json!("certain")));
    assert_eq!((&v[1]["quantity"], &v[1]["confidence"]), (&Value::Null, &json!("unread")));
    assert_eq!((&v[2]["grams"], &v[2]["pack"]["count"]), (&json!(800), &json!(2)));
    assert_eq!(v[2]["scaled"]["quantity"], json!(400));
    let (code, _, said) = command(&["lab", "quantity", "-", "--json"]);
    assert_eq!(code, Some(1), "{said}");
}

fn any_page() -> impl Strategy<Value = Vec<u8>> {
    let names = [
        "graph.html",
        "array.html",
        "main_entity.html",
        "sections.html",
        "microdata.html",
        "bare.json",
        "comments.html",
        "two.html",
    ];
    let samples: Vec<Vec<u8>> = names.iter().map(|n| bytes(n)).collect();
    let spot = (any::<prop::sample::Index>(), any::<u8>());
    let changed = (prop::sample::select(samples.clone()), prop::collection::vec(spot, 1..12)).prop_map(|(mut page, spots)| {
        for (at, byte) in spots {
            let at = at.index(page.len());
            page[at] = byte.max(1);
        }
        page
    });
    let cut = (prop::sample::select(samples.clone()), any::<prop::sample::Index>(), any::<prop::sample::Index>()).prop_map(
        |(page, a, b)| {
            let (a, b) = (a.index(page.len()), b.index(page.len()));
            [&page[..a], &page[b..]].concat()
        },
    );
    let random = prop::collection::vec(any::<u8>(), 0..600);
    let tags =
        "(<(script|div|p|table|template|svg|math|/div|!--|b itemprop=name itemscope)[ a-z=\"/]{0,12}>?|\\{|\"@type\"){0,60}";
    prop_oneof![changed, cut, random, tags.prop_map(String::into_bytes)]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_500))]

    /// Whatever a file holds, it is read or refused in one sentence, within the limits.
    #[test]
    fn any_page_is_read_or_refused(page in any_page()) {
        match read_recipe(&page, Kitchen::Us) {
            Ok(r) => prop_assert!(r.ingredients.len() <= 300 && r.steps.len() <= 300),
            Err(NoRecipe::TooSlow) => prop_assert!(false, "a small page is slow"),
            Err(e) => prop_assert!(!e.to_string().contains('\n')),
        }
    }

    /// Whatever the values of a recipe are, they are read or listed.
    #[test]
    fn any_json_under_the_known_keys_is_read(a in any_json(), b in any_json(), c in any_json()) {
        let page = json!({ "@type": "Recipe", "name": "x", "recipeIngredient": a, "recipeInstructions": b, "recipeYield": c, "prepTime": a, "cookTime": b });
        let _ = read_recipe(page.to_string().as_bytes(), Kitchen::Metric);
    }
}

fn any_json() -> impl Strategy<Value = Value> {
    let leaf = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i64>().prop_map(Value::from),
        ".{0,20}".prop_map(Value::from)
    ];
    leaf.prop_recursive(6, 60, 6, |inner| {
        let key = prop::sample::select(vec!["@type", "text", "name", "itemListElement", "@value", "steps"]);
        let map = prop::collection::vec((key, inner.clone()), 0..4)
            .prop_map(|pairs| Value::Object(pairs.into_iter().map(|(k, v)| (k.to_string(), v)).collect()));
        prop_oneof![prop::collection::vec(inner, 0..6).prop_map(Value::from), map]
    })
}
