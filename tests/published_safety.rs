//! Do keeping times, rules for cooling and reheating, allergens and spoilage agree with the published rows?
//!
//! The rows stand in `published/keeping-and-safety.tsv`, each with its source; `memory` marks those for which nobody had the page
//! open. The house may be stricter than a published figure and never looser; where a row is a range the upper end is the line.

use std::collections::{BTreeMap, BTreeSet};
use tranche::{
    book::{Allergen, Book, Dish, Form, Kind, Role, Texture},
    judge::{
        FrozenFood,
        cooling::{Rule, Vessel},
        freezer_quality,
        spoilage::{BRINED_SHRIMP, FRESH_FISH, LISTERIA, Model, PSEUDOMONAS, SAFE_FRIDGE_C, TROPICAL_FISH, Unpowered},
    },
    lists::Warming,
};

const ROWS: &str = include_str!("published/keeping-and-safety.tsv");

/// One published row.
struct Row {
    item: &'static str,
    quantity: &'static str,
    value: &'static str,
    source: &'static str,
}

impl Row {
    /// Its figure, of a range both ends.
    fn range(&self) -> (f64, f64) {
        let (low, high) = self.value.split_once('-').filter(|(low, _)| !low.is_empty()).unwrap_or((self.value, self.value));
        let number = |s: &str| s.parse().unwrap_or_else(|_| panic!("{}: {}", self.item, self.value));
        (number(low), number(high))
    }
}

fn rows() -> BTreeMap<&'static str, Row> {
    let mut lines = ROWS.lines();
    assert_eq!(lines.next(), Some("id\titem\tquantity\tvalue\tunit\tsource\tsection\tconfidence"));
    let mut all = BTreeMap::new();
    for line in lines {
        let cells: Vec<&'static str> = line.split('\t').collect();
        let [id, item, quantity, value, _, source, _, confidence] = cells[..] else { panic!("{line}: not eight cells") };
        assert!(["seen", "memory", "computed"].contains(&confidence) && !source.is_empty(), "{line}");
        assert!(all.insert(id, Row { item, quantity, value, source }).is_none(), "{id} stands twice");
    }
    all
}

fn most(rows: &BTreeMap<&str, Row>, id: &str) -> f64 {
    rows[id].range().1
}

fn book() -> Book {
    Book::shipped().unwrap()
}

/// The kinds that a dish can be made of.
fn kinds_of<'b>(book: &'b Book, dish: &Dish) -> Vec<&'b Kind> {
    book.kinds().map(|k| &**k).filter(|k| dish.suits_kind(k)).collect()
}

#[test]
fn no_dish_keeps_longer_than_the_published_leftovers() {
    let (rows, book) = (rows(), book());
    let mut asked: BTreeMap<&str, usize> = BTreeMap::new();
    for dish in book.dishes().filter(|d| d.role != Role::Bank && d.cooked) {
        let texture = dish.profile.main_texture();
        let kinds = kinds_of(&book, dish);
        let mut ids: Vec<&str> = vec!["K055"];
        if dish.profile.form == Some(Form::Soup) || matches!(texture, Some(Texture::Stewed | Texture::Brothy)) {
            ids.push("K024");
        }
        if dish.profile.form == Some(Form::Bake) {
            ids.push("K034");
        }
        if kinds.iter().any(|k| k.animal && k.diet == tranche::book::Diet::Pescatarian) {
            ids.push("K033");
        }
        if kinds.iter().any(|k| k.animal && k.diet == tranche::book::Diet::Everything) {
            ids.push("K025");
        }
        for id in ids {
            *asked.entry(id).or_default() += 1;
            let line = most(&rows, id);
            let row = &rows[id];
            assert!(
                f64::from(dish.keeps.0) <= line,
                "{}: {} against {line} of {} ({})",
                dish.id,
                dish.keeps,
                row.item,
                row.source
            );
        }
    }
    assert!(asked.len() == 5 && asked.values().all(|n| *n > 10), "{asked:?}");
}

#[test]
fn no_raw_piece_of_meat_or_fish_keeps_longer_than_published() {
    let (rows, book) = (rows(), book());
    let whole = |kind: &str| {
        let kind = book.kinds().find(|k| k.id.as_str() == kind).unwrap();
        kind.whole.iter().map(|w| f64::from(w.days.1)).fold(0.0, f64::max)
    };
    for (kind, id) in [
        ("roast-turkey", "K019"),
        ("roast-chicken", "K019"),
        ("roast-goose", "K019"),
        ("roast-beef-joint", "K010"),
        ("roast-lamb-leg", "K010"),
        ("roast-pork-shoulder", "K010"),
        ("boiled-ham", "K013"),
        ("salmon-side", "K021"),
        ("whole-trout", "K021"),
        ("whole-hake", "K022"),
    ] {
        let line = most(&rows, id);
        assert!(
            whole(kind) <= line,
            "{kind}: {} days unopened against {line} of {} ({})",
            whole(kind),
            rows[id].item,
            rows[id].source
        );
    }
}

#[test]
fn opened_packs_keep_no_longer_than_published() {
    let (rows, book) = (rows(), book());
    let lines =
        [("milk", "K035"), ("yoghurt", "K064"), ("bacon", "K004"), ("parmesan", "K036"), ("cheddar", "K036"), ("eggs", "K032")];
    let mut seen = BTreeSet::new();
    for dish in book.dishes() {
        for c in &dish.companions {
            let Some((_, id)) = lines.iter().find(|(name, _)| c.name == *name) else { continue };
            if let Some(days) = c.opened_days {
                seen.insert(c.name.as_str());
                assert!(f64::from(days.0) <= most(&rows, id), "{}: {} {days} against {}", dish.id, c.name, rows[id].value);
            }
        }
    }
    assert!(seen.len() >= 3, "{seen:?}");
}

#[test]
fn rules_of_cooling_reheating_and_cold_are_those_published() {
    let rows = rows();
    let figure = |id: &str| rows[id].range().0;
    let rule = Rule::two_stage();
    assert_eq!(rule.from_c, figure("S015"));
    let stages: Vec<(f64, f64)> = rule.stages.iter().map(|s| (s.to_c, s.within / 60.0)).collect();
    assert_eq!(stages, [(figure("S016"), figure("S017")), (figure("S018"), figure("S019"))]);
    assert_eq!(figure("S017") + figure("S020"), figure("S019"), "two hours and four");
    assert_eq!(Rule::ninety_minutes().from_c, figure("S012"));
    assert_eq!(SAFE_FRIDGE_C, figure("S003"));
    // Shallow is 5 cm for us, two inches there.
    assert!(Vessel::tray().height_m * 1_000.0 <= figure("S031"));
    // Warmed up to 75 °C: no less than either published figure.
    let words = Warming::Once.words();
    assert!(words.contains("75\u{a0}°C") && 75.0 >= figure("S034") && 75.0 >= figure("S040"), "{words}");
    assert_eq!(Unpowered::Fridge.safe_hours(), 4.0);
    assert!(Unpowered::HalfFreezer.safe_hours() <= Unpowered::FullFreezer.safe_hours());
}

#[test]
fn frozen_food_keeps_its_quality_as_long_as_published() {
    let rows = rows();
    for (what, id) in [
        (FrozenFood::CookedMeat, "K038"),
        (FrozenFood::SoupOrStew, "K039"),
        (FrozenFood::RawPoultryPieces, "K041"),
        (FrozenFood::RawFattyFish, "K042"),
        (FrozenFood::RawRoast, "K043"),
        (FrozenFood::CookedHam, "K044"),
    ] {
        let (least, most) = freezer_quality(what);
        assert_eq!((f64::from(least.0), f64::from(most.0)), rows[id].range(), "{what:?}: {}", rows[id].source);
    }
}

#[test]
fn every_allergen_of_the_two_laws_is_known() {
    let rows = rows();
    let known = |text: &str| -> Vec<Allergen> {
        let words = [
            ("gluten", vec![Allergen::Wheat, Allergen::OtherGluten]),
            ("wheat", vec![Allergen::Wheat]),
            ("crustacean", vec![Allergen::Crustacean]),
            ("egg", vec![Allergen::Egg]),
            ("peanut", vec![Allergen::Peanut]),
            ("soybean", vec![Allergen::Soya]),
            ("milk", vec![Allergen::Milk]),
            ("nuts", vec![Allergen::Nuts]),
            ("celery", vec![Allergen::Celery]),
            ("mustard", vec![Allergen::Mustard]),
            ("sesame", vec![Allergen::Sesame]),
            ("sulphur", vec![Allergen::Sulphite]),
            ("lupin", vec![Allergen::Lupin]),
            ("mollusc", vec![Allergen::Mollusc]),
            ("fish", vec![Allergen::Fish]),
        ];
        words.into_iter().find(|(w, _)| text.contains(w)).map(|(_, a)| a).unwrap_or_else(|| panic!("{text} is not known"))
    };
    let listed = |law: &str| -> BTreeSet<u32> {
        let of = rows.values().filter(|r| r.item.starts_with(law) && r.quantity == "allergen");
        of.flat_map(|r| known(r.value)).map(|a| a as u32).collect()
    };
    // Our fifteen are the fourteen of the European law, gluten told apart by wheat and the others.
    assert_eq!(listed("EU allergen").len(), Allergen::ALL.len());
    assert_eq!(listed("US allergen").len(), 9);
    assert!(listed("US allergen").is_subset(&listed("EU allergen")));
    let eu_only: BTreeSet<u32> = listed("EU allergen").difference(&listed("US allergen")).copied().collect();
    let said: BTreeSet<u32> = rows
        .values()
        .filter(|r| r.quantity == "in_eu_not_us")
        .flat_map(|r| if r.value == "sulphites" { vec![Allergen::Sulphite] } else { known(r.value) })
        .map(|a| a as u32)
        .collect();
    let gluten = Allergen::OtherGluten as u32;
    assert_eq!(eu_only.into_iter().filter(|a| *a != gluten).collect::<BTreeSet<_>>(), said);
}

#[test]
fn spoilage_runs_as_published() {
    let rows = rows();
    let near = |id: &str, got: f64, by: f64| {
        let (low, high) = rows[id].range();
        assert!(got >= low - by && got <= high + by, "{id}, {}: {got} against {}", rows[id].item, rows[id].value);
    };
    let mut asked = 0;
    for (id, row) in &rows {
        let of = |prefix: &str| row.item.strip_prefix(prefix).and_then(|t| t.trim_end_matches(" C").parse::<f64>().ok());
        let fish = of("RRS fresh fish at ").map(|c| FRESH_FISH.relative_rate(c, 0.0));
        let ice = of("shelf life, 14 d on ice, stored at ").map(|c| FRESH_FISH.life_at(14.0, 0.0, c));
        let listeria = of("Listeria growth relative to 5 C at ").map(|c| LISTERIA.relative_rate(c, 5.0));
        let pseudomonas = of("Pseudomonas growth relative to 5 C at ").map(|c| PSEUDOMONAS.relative_rate(c, 5.0));
        if let Some(got) = fish.or(ice).or(listeria).or(pseudomonas) {
            near(id, got, 1e-4);
            asked += 1;
        }
    }
    assert!(asked >= 19, "{asked}");
    near("P020", FRESH_FISH.life_at(21.0, 5.0, 0.0), 0.06);
    let slope = |m: &Model| m.relative_rate(1.0, 0.0).ln();
    near("P025", slope(&BRINED_SHRIMP), 1e-9);
    near("P026", slope(&TROPICAL_FISH), 1e-9);
}
