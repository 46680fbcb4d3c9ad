//! Small kinds, dishes and plans for tests that do not need the catalogue.
#![allow(dead_code)]

use std::sync::Arc;
use tranche::{
    book::{Dish, Kind},
    quantity::{Grams, Units},
    rotation::{Eater, EaterId, Mealtime, MealtimeId, Rotation},
};

/// A cabbage of three parts; invented figures.
pub fn cabbage() -> Arc<Kind> {
    let text = r#"(
        id: "test-cabbage", name: "test cabbage", family: "brassica", colour: "7A4A78", portioned: Prepared,
        mass: (800, 1800, 3000),
        trim: [(name: "ragged leaves", share: 50), (name: "stump and core", share: 117)],
        parts: [
            (id: "outer", name: "outer leaves", share: 167, raw_days: 5, suits: "rolls"),
            (id: "middle", name: "middle", share: 444, raw_days: 5, suits: "wedges"),
            (id: "heart", name: "heart", share: 222, raw_days: 5, suits: "raw"),
        ],
        clock_starts: "cut", cooked_days: 3, cut_forms: [(form: Shreds, days: 2)],
        diet: Vegan, sources: ["practice"],
    )"#;
    Arc::new(ron::from_str(text).expect("the test kind reads"))
}

fn dish(id: &str, name: &str, more: &str) -> Arc<Dish> {
    let text = format!(
        r#"(id: "{id}", name: "{name}", families: ["brassica"], profile: (), state: Prepared, grams: (80, 100, 150),
            yield: 900, cooked: true, keeps: 3, diet: Vegan, minutes: (10, 20),
            steps: [(text: "Make it.", minutes: 20, hands: true)], sources: ["practice"], {more})"#
    );
    // Later fields win nothing in RON: the caller gives only what is not above.
    Arc::new(ron::from_str(&text).unwrap_or_else(|e| panic!("{id}: {e}")))
}

/// Dishes of every role; invented figures.
pub fn dishes() -> Vec<Arc<Dish>> {
    vec![
        dish("slaw", "Slaw", r#"parts: ["heart"], cut: Some(Shreds)"#),
        dish("wedges", "Wedges", r#"parts: ["middle"]"#),
        dish("rolls", "Rolls", r#"parts: ["outer"], unit: Some(("roll", 50))"#),
        dish("pickle", "Pickle", r#"role: Bank"#),
        dish("base", "Roast base", r#"role: Component"#),
        Arc::new(Dish {
            state: tranche::quantity::State::Cooked,
            from: vec![tranche::book::DishId::new("base").expect("a slug")],
            ..(*dish("gratin", "Gratin", "")).clone()
        }),
    ]
}

/// An eater of an adult's size.
pub fn eater(id: u16, name: &str) -> Eater {
    Eater {
        id: EaterId(id),
        name: name.into(),
        units: Units::ADULT,
        guest: false,
        allergies: vec![],
        diet: Default::default(),
        dislikes: vec![],
        care: vec![],
    }
}

/// Two eaters, four days, lunch and supper, a cabbage of 1,800 g.
pub fn plan() -> Rotation {
    let mut r = Rotation::start(
        cabbage(),
        Grams::new(1_800).expect("in range"),
        jiff::civil::date(2026, 12, 7),
        4,
        vec![eater(1, "Ann"), eater(2, "Ben")],
    );
    r.mealtimes.insert(0, Mealtime { id: MealtimeId(2), name: "lunch".into(), at: jiff::civil::Time::new(12, 30, 0, 0).ok() });
    r
}
