//! The largest plan that the goals speak of: 31 days of four mealtimes for eight eaters, from the shipped book.
//!
//! Nobody eats a hundred kilograms of cabbage in a month. It is built to make every judge work: every meal another dish of
//! whatever family, some dishes served twice, eaters who are not always there and do not eat alike.

use std::sync::Arc;
use tranche::{
    book::{Allergen, Book, Care, Diet, Dish, KindId, Role},
    quantity::{Grams, State, Units},
    rotation::{Eater, EaterId, Edit, Mealtime, MealtimeId, Rotation, ServeFrom, apply},
};

/// Days of the plan.
pub const DAYS: u16 = 31;
/// Its mealtimes: number, name, hour.
const MEALTIMES: [(u8, &str, &str); 4] =
    [(1, "breakfast", "07:00"), (2, "lunch", "12:30"), (3, "tea", "16:00"), (4, "supper", "19:00")];

fn eater(id: u16, name: &str, hundredths: u32) -> Eater {
    Eater {
        id: EaterId(id),
        name: name.into(),
        units: Units::from_hundredths(hundredths).expect("a portion unit"),
        guest: false,
        allergies: vec![],
        diet: Diet::Everything,
        dislikes: vec![],
        care: vec![],
    }
}

fn eaters() -> Vec<Eater> {
    vec![
        eater(1, "Asta", 100),
        eater(2, "Bo", 120),
        Eater { allergies: vec![Allergen::Nuts], dislikes: vec!["raw onion".into()], ..eater(3, "Kim", 60) },
        Eater { diet: Diet::Vegetarian, ..eater(4, "Mo", 100) },
        Eater { diet: Diet::Pescatarian, ..eater(5, "Pia", 100) },
        Eater { care: vec![Care::Pregnant], ..eater(6, "Nils", 100) },
        Eater { care: vec![Care::UnderFive], allergies: vec![Allergen::Egg], ..eater(7, "Tove", 50) },
        eater(8, "Gus", 80),
    ]
}

fn done(plan: &Rotation, edit: &Edit) -> Rotation {
    apply(plan, edit).unwrap_or_else(|e| panic!("{edit:?}: {e}")).rotation
}

/// The plan, and how many servings are in it: between 115 and 124.
pub fn month(book: &Book) -> (Rotation, usize) {
    let kind = book.kind(&KindId::new("red-cabbage").expect("a slug")).expect("a shipped kind").clone();
    let first = "2026-12-01".parse().expect("a date");
    let mut plan = Rotation::start(kind, Grams::clamped(150_000), first, DAYS, eaters());
    let mealtimes = MEALTIMES.map(|(id, name, hour)| Mealtime { id: MealtimeId(id), name: name.into(), at: hour.parse().ok() });
    plan.mealtimes = mealtimes.into();
    // Every raw dish of the book, made to suit the one piece.
    let raw = book.dishes().filter(|d| d.role == Role::Meal && d.state == State::Prepared);
    let dishes: Vec<_> =
        raw.map(|d| Arc::new(Dish { families: vec![plan.kind.family.clone()], parts: Vec::new(), ..(**d).clone() })).collect();
    let slots: Vec<_> = plan.slots().collect();
    for (i, &slot) in slots.iter().enumerate() {
        // A third of the meals is for some of them only, never the same ones twice running.
        for away in (0..i % 3).map(|n| EaterId(1 + ((i * 3 + n * 5) % 8) as u16)) {
            plan = done(&plan, &Edit::SetPresent { slot, eater: away, present: false });
        }
        plan = match i % 31 {
            // Now and then nobody cooks.
            30 => plan,
            // A tenth comes from what was made a day or two before.
            n if n % 10 == 7 => {
                let batch = plan.batches[plan.batches.len() - 5].id;
                done(&plan, &Edit::ServeAgain { batch, slot, portion: None })
            }
            _ => {
                let dish = dishes[i % dishes.len()].clone();
                done(&plan, &Edit::Serve { dish, from: ServeFrom::BestPart, slot, portion: None })
            }
        };
    }
    let servings = plan.meals.values().map(|m| m.servings.len()).sum();
    assert!((115..=124).contains(&servings), "{servings} servings");
    (plan, servings)
}
