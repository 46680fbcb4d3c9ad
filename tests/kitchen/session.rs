//! Plans for run sheets: batches of dishes of the book on one day, in any kitchen, and words to ask for their sheets.
#![allow(dead_code, reason = "each test file uses some of it")]

use jiff::civil::{Time, date};
use std::sync::Arc;
use tranche::{
    book::{Book, Dish, DishId, KindId, PartId},
    quantity::{DayNo, Grams, Portion, Units},
    rotation::{Batch, BatchId, Draw, Eater, EaterId, Kitchen, Mealtime, MealtimeId, Rotation, Serving, Slot, Source},
    runsheet::{Line, Refusal, RunSheet, Wish, run_sheet},
};

pub fn sheet_of(plan: &Rotation, day: i16) -> RunSheet {
    run_sheet(plan, DayNo(day), &Wish::default(), &mut ()).unwrap_or_else(|e| panic!("{e}; {:?}", e.advice))
}

pub fn refused(plan: &Rotation, day: i16, wish: &Wish) -> Refusal {
    run_sheet(plan, DayNo(day), wish, &mut ()).expect_err("this day is impossible")
}

pub fn line<'s>(sheet: &'s RunSheet, words: &str) -> &'s Line {
    sheet.lines.iter().find(|l| l.what.contains(words)).unwrap_or_else(|| panic!("no line says {words}"))
}

pub fn at(hour: i64, minute: i64) -> i64 {
    hour * 60 + minute
}

/// Eaters, and a plan around a piece of this kind with lunch at half past twelve and supper at half past six.
pub fn plan_of(book: &Book, kind: &str, eaters: i64, kitchen: Kitchen) -> Rotation {
    let kind = book.kind(&KindId::new(kind).unwrap()).unwrap().clone();
    let eater = |id: i64| Eater {
        id: EaterId(id as u16),
        name: format!("Eater {id}"),
        units: Units::from_hundredths(100).unwrap(),
        guest: false,
        allergies: vec![],
        diet: Default::default(),
        dislikes: vec![],
        care: vec![],
    };
    let mass = Grams::clamped(kind.mass.1);
    let mut plan = Rotation::start(kind, mass, date(2026, 11, 30), 3, (1..=eaters).map(eater).collect());
    plan.mealtimes = vec![
        Mealtime { id: MealtimeId(2), name: "lunch".into(), at: Time::new(12, 30, 0, 0).ok() },
        Mealtime { id: MealtimeId(1), name: "supper".into(), at: Time::new(18, 30, 0, 0).ok() },
    ];
    plan.kitchen = kitchen;
    plan
}

/// Makes a dish on a day and serves it there; `slot`: nothing where it is made for another day.
pub fn cook(plan: &mut Rotation, dish: &Arc<Dish>, day: i16, slot: Option<Slot>, grams: u32) -> BatchId {
    let id = plan.next_batch_id();
    let part = dish.parts.iter().find(|p| plan.kind.part(p).is_some()).cloned();
    let part: PartId = part.unwrap_or_else(|| plan.kind.parts[0].id.clone());
    let portion = Portion::of(dish.state, grams);
    plan.dishes.insert(dish.id.clone(), dish.clone());
    plan.batches.push(Batch {
        id,
        dish: dish.id.clone(),
        day: DayNo(day),
        draws: vec![Draw { from: Source::Part(part), portion, cut_on: None }],
    });
    if let Some(slot) = slot {
        let serving = Serving { batch: id, portion, eaters: vec![], twins: vec![] };
        plan.meals.entry(slot).or_default().servings.push(serving);
    }
    id
}

pub fn dish(book: &Book, id: &str) -> Arc<Dish> {
    book.dish(&DishId::new(id).unwrap()).unwrap_or_else(|| panic!("{id}")).clone()
}
