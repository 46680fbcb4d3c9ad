//! Does every mend that is offered for the worked weeks cure its finding and do no harm, and are the cook's own mends among them?

use std::{fs, path::Path};
use tranche::{
    book::Book,
    judge::{Code, Finding, Mend, Severity, judge, mends_for, packs_left},
    rotation::{Edit, Rotation, apply},
    store::rotation_from_text,
};

fn read(name: &str) -> Rotation {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(name);
    let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{name}: {e}"));
    rotation_from_text(Path::new(name), &text).unwrap_or_else(|e| panic!("{e}"))
}

fn every_week() -> Vec<(String, Rotation)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
    let names = fs::read_dir(folder).expect("the folder").map(|e| e.expect("a file").file_name().to_string_lossy().into_owned());
    let mut names: Vec<String> = names.filter(|n| n.ends_with(".rotation.ron")).collect();
    names.sort();
    names.into_iter().map(|n| (n.clone(), read(&n))).collect()
}

fn book() -> Book {
    Book::shipped().unwrap_or_else(|e| panic!("{e}"))
}

fn mends(rotation: &Rotation, is_it: impl Fn(&Finding) -> bool) -> Vec<Mend> {
    let findings = judge(rotation).findings;
    let finding = findings.iter().find(|f| is_it(f)).unwrap_or_else(|| panic!("no such finding in {findings:?}"));
    mends_for(rotation, &book(), finding)
}

fn words(mends: &[Mend]) -> Vec<String> {
    mends.iter().map(|m| m.words.replace('\u{a0}', " ")).collect()
}

#[test]
fn every_mend_cures_and_does_no_harm() {
    let book = book();
    let weeks = every_week();
    assert!(weeks.len() >= 10);
    let mut offered = 0;
    for (name, rotation) in weeks {
        let before = judge(&rotation).findings;
        for finding in &before {
            let grave = |all: &[Finding]| all.iter().filter(|f| f.speaks() && f.severity <= finding.severity).count();
            let grave_but_packs = |all: &[Finding]| all.iter().filter(|f| f.speaks() && f.severity < Severity::Note).count();
            let found = mends_for(&rotation, &book, finding);
            assert!(found.len() <= 3);
            for mend in found {
                let said = format!("{name}, {}: {}", finding.text, mend.words);
                let done = apply(&rotation, &mend.edit).unwrap_or_else(|e| panic!("{said}: {e}"));
                let after = judge(&done.rotation).findings;
                if matches!(finding.code, Code::CompanionLeft | Code::CompanionWaste) {
                    // Not every last spoonful: half of the rest at least is used, and no other pack is left in its place.
                    let left = |r: &Rotation| packs_left(r).iter().map(|p| p.share()).sum::<f64>();
                    assert!(left(&done.rotation) < left(&rotation), "more is left: {said}");
                    assert!(grave_but_packs(&after) <= grave_but_packs(&before), "does harm: {said}");
                } else {
                    assert!(after.iter().all(|f| f.key != finding.key || !f.speaks()), "not cured: {said}");
                    assert!(grave(&after) < grave(&before), "does harm: {said}");
                }
                assert!(!mend.words.is_empty() && !mend.cost.is_empty() && mend.words.len() < 140, "{said}");
                offered += 1;
            }
        }
    }
    assert!(offered > 60, "only {offered} mends were offered in all");
}

#[test]
fn the_same_question_gets_the_same_answer() {
    let rotation = read("red-cabbage-unhappy.rotation.ron");
    let findings = judge(&rotation).findings;
    let book = book();
    for finding in findings.iter().take(4) {
        assert_eq!(mends_for(&rotation, &book, finding), mends_for(&rotation, &book, finding));
    }
}

#[test]
fn the_salmon_left_over_is_folded_into_the_curry() {
    let found = mends(&read("salmon-mended.rotation.ron"), |f| f.code == Code::Unallocated);
    assert_eq!(words(&found), ["Fold 28 g into Coconut and lime curry"]);
    // 380 g for 3.2 units is 118.75 g.
    assert_eq!(found[0].cost.replace('\u{a0}', " "), "Coconut and lime curry becomes 119 g for an adult instead of 110 g");
}

#[test]
fn the_raw_tail_is_cooked_a_day_earlier() {
    let found = mends(&read("salmon-unhappy.rotation.ron"), |f| f.code == Code::RawTooOld);
    assert!(words(&found)[0].ends_with("on Saturday"), "{found:?}");
}

#[test]
fn shreds_cut_too_early_are_cut_on_the_day_or_eaten_sooner() {
    let found = words(&mends(&read("red-cabbage-unhappy.rotation.ron"), |f| f.code == Code::CutTooOld));
    assert!(found.iter().any(|w| w.starts_with("Cut for") && w.ends_with("on the day itself")), "{found:?}");
    assert!(found.contains(&"Swap Wednesday supper and Thursday supper".to_string()), "{found:?}");
}

#[test]
fn the_slaw_gets_the_heart_that_the_braise_had() {
    let found = words(&mends(&read("red-cabbage-unhappy.rotation.ron"), |f| f.code == Code::WrongPart));
    assert!(found[0].starts_with("Let Plain sharp slaw") && found[0].contains("trade 260 g of their parts"), "{found:?}");
}

#[test]
fn an_open_supper_gets_a_dish_before_the_jar_gets_the_rest() {
    let found = words(&mends(&read("red-cabbage-open.rotation.ron"), |f| f.code == Code::Unallocated));
    assert!(found.contains(&"Serve Crisp shred pancakes, ginger-soy dip at Thursday supper, 280 g".to_string()), "{found:?}");
}

#[test]
fn grandmother_gets_her_egg_hard() {
    let found = words(&mends(&read("turkey-mended.rotation.ron"), |f| f.code == Code::DishCaution && f.eater.is_some()));
    assert_eq!(found[0], "Give Grandmother hash with a hard-fried egg instead");
}

#[test]
fn two_cold_sharp_red_meals_are_parted() {
    let found = mends(&read("tomatoes-mended.rotation.ron"), |f| f.code == Code::TooAlike);
    assert_eq!(found.len(), 3, "{found:?}");
}

#[test]
fn no_two_mends_come_to_the_same() {
    let book = book();
    let mut weeks = every_week();
    let mut slaw = read("red-cabbage-mended.rotation.ron");
    let monday = slaw.slots().find(|s| !slaw.meal(*s).servings.is_empty()).expect("a meal");
    let serving = slaw.meal(monday).servings[0].clone();
    let edit = Edit::SetServing { slot: monday, batch: serving.batch, portion: serving.portion.with(99) };
    slaw = apply(&slaw, &edit).unwrap_or_else(|e| panic!("{e}")).rotation;
    let small = mends(&slaw, |f| f.code == Code::ServingSize);
    assert!(words(&small).contains(&"Serve 260 g of Sharp slaw with pear and mustard at Monday supper".to_string()), "{small:?}");
    weeks.push(("slaw of 99 g".into(), slaw));
    for (name, rotation) in weeks {
        for finding in judge(&rotation).findings {
            let found = mends_for(&rotation, &book, &finding);
            let plans: Vec<_> = found.iter().map(|m| apply(&rotation, &m.edit).expect("a mend applies").rotation).collect();
            for (i, a) in found.iter().enumerate() {
                for (j, b) in found.iter().enumerate().skip(i + 1) {
                    let same = (&a.words, &a.cost) == (&b.words, &b.cost) || plans[i] == plans[j];
                    assert!(!same, "{name}, {}: {} and {}", finding.text, a.words, b.words);
                }
            }
        }
    }
}

#[test]
fn a_fresh_piece_with_open_suppers_gets_dishes_for_them() {
    use tranche::rotation::{Eater, EaterId};
    let book = book();
    let eater = |id: u16| Eater {
        id: EaterId(id),
        name: format!("Eater {id}"),
        units: tranche::quantity::Units::ADULT,
        guest: false,
        allergies: vec![],
        diet: Default::default(),
        dislikes: vec![],
        care: vec![],
    };
    for (kind, grams, days, eaters) in [("roast-turkey", 5_000, 4, 6), ("red-cabbage", 900, 2, 4)] {
        let kind = book.kinds().find(|k| k.id.as_str() == kind).expect("a shipped kind").clone();
        let mass = tranche::quantity::Grams::clamped(grams);
        let eaters = (1..=eaters).map(eater).collect();
        let fresh = Rotation::start(kind.clone(), mass, jiff::civil::date(2026, 12, 7), days, eaters);
        let found = mends(&fresh, |f| f.code == Code::Unallocated);
        let said = words(&found);
        assert!(said.iter().any(|w| w.starts_with("Serve ")), "{}: {found:?}", kind.name);
        for mend in &found {
            let after = judge(&apply(&fresh, &mend.edit).expect("a mend applies").rotation).findings;
            let grave = after.iter().filter(|f| f.severity <= tranche::judge::Severity::Warn).count();
            assert_eq!(grave, 0, "{}: {after:?}", mend.words);
        }
    }
}
