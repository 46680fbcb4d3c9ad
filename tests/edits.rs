//! Does every edit keep the balance, and does undo bring back exactly what was?

mod support;

use proptest::prelude::*;
use std::sync::Arc;
use tranche::{
    book::Dish,
    quantity::{DayNo, Grams, Portion, State},
    rotation::{
        BatchId, Draw, Eater, EaterId, Edit, Frozen, FrozenStay, GestureId, History, Kitchen, MealtimeId, PieceEdit, Rotation,
        ServeFrom, Slot, Source, Storage, apply, validate,
    },
};

fn slot(day: i16, mealtime: u8) -> Slot {
    Slot { day: DayNo(day), mealtime: MealtimeId(mealtime) }
}

fn grams(g: u32) -> Portion {
    Portion::of(State::Prepared, g)
}

/// Edits as a person makes them, some of them nonsense: the plan must refuse those.
fn any_edit(dishes: Vec<Arc<Dish>>) -> impl Strategy<Value = Edit> {
    let slots = (0i16..6, 1u8..4).prop_map(|(d, m)| slot(d, m));
    let dish = prop::sample::select(dishes);
    let batch = (0u32..7).prop_map(BatchId);
    let mass = prop_oneof![Just(0u32), 1u32..700, 0u32..200_000];
    let any_portion = (mass.clone(), any::<bool>())
        .prop_map(|(g, cooked)| Portion::of(if cooked { State::Cooked } else { State::Prepared }, g));
    let part = prop::sample::select(vec!["outer", "middle", "heart", "nowhere"])
        .prop_map(|p| tranche::book::PartId::new(p).expect("a slug"));
    let source = prop_oneof![part.clone().prop_map(Source::Part), batch.clone().prop_map(Source::Batch)];
    let eater = (0u16..5).prop_map(EaterId);
    prop_oneof![
        6 => (dish.clone(), slots.clone(), prop::option::of(any_portion.clone()))
            .prop_map(|(dish, slot, portion)| Edit::Serve { dish, from: ServeFrom::BestPart, slot, portion }),
        3 => (dish.clone(), slots.clone(), source.clone(), any_portion.clone())
            .prop_map(|(dish, slot, s, p)| Edit::Serve { dish, from: ServeFrom::Source(s), slot, portion: Some(p) }),
        2 => (dish.clone(), 0i16..6, source.clone(), any_portion.clone())
            .prop_map(|(dish, d, source, portion)| Edit::MakeAhead { dish, day: DayNo(d), source, portion }),
        2 => (batch.clone(), slots.clone(), prop::option::of(any_portion.clone()))
            .prop_map(|(batch, slot, portion)| Edit::ServeAgain { batch, slot, portion }),
        3 => (slots.clone(), batch.clone(), slots.clone()).prop_map(|(from, batch, to)| Edit::MoveServing { from, batch, to }),
        3 => (slots.clone(), slots.clone()).prop_map(|(a, b)| Edit::SwapMeals(a, b)),
        1 => (slots.clone(), batch.clone()).prop_map(|(slot, batch)| Edit::RemoveServing { slot, batch }),
        1 => batch.clone().prop_map(Edit::RemoveBatch),
        3 => (slots.clone(), batch.clone(), any_portion.clone()).prop_map(|(slot, batch, portion)| Edit::SetServing { slot, batch, portion }),
        2 => (slots.clone(), batch.clone(), part.clone(), any_portion.clone())
            .prop_map(|(slot, batch, part, portion)| Edit::TopUp { slot, batch, part, portion }),
        2 => (batch.clone(), source, any_portion.clone()).prop_map(|(batch, source, portion)| Edit::SetDraw { batch, source, portion }),
        1 => (batch.clone(), 0i16..6).prop_map(|(batch, d)| Edit::SetBatchDay { batch, day: DayNo(d) }),
        1 => (batch.clone(), prop::option::of(0i16..6)).prop_map(|(batch, d)| Edit::SetCutDay { batch, cut_on: d.map(DayNo) }),
        2 => (batch, dish).prop_map(|(batch, dish)| Edit::ChangeDish { batch, dish }),
        1 => (slots, eater.clone(), any::<bool>()).prop_map(|(slot, eater, present)| Edit::SetPresent { slot, eater, present }),
        1 => eater.prop_map(Edit::RemoveEater),
        1 => "[A-C]{0,2}".prop_map(|name| Edit::AddEater(Eater { name, ..support::eater(0, "x") })),
        1 => mass.clone().prop_map(|g| Edit::Piece(PieceEdit::Mass(Grams::clamped(g)))),
        1 => mass.clone().prop_map(|g| Edit::Piece(PieceEdit::Trim(Grams::clamped(g)))),
        1 => mass.clone().prop_map(|g| Edit::Piece(PieceEdit::Rotten(Grams::clamped(g)))),
        1 => (part.clone(), any_portion.clone()).prop_map(|(p, g)| Edit::Piece(PieceEdit::Part(p, g))),
        1 => (part, any_portion).prop_map(|(p, g)| Edit::Piece(PieceEdit::GiveAway(p, g))),
        1 => (-3i16..6).prop_map(|d| Edit::Piece(PieceEdit::Opened(DayNo(d)))),
        1 => any::<bool>().prop_map(|freezer| Edit::SetStorage(Storage { freezer, ..Storage::default() })),
        2 => (0u32..7, -1i16..6, 0i16..9).prop_map(|(b, from, to)| {
            Edit::Freeze(FrozenStay { what: Frozen::Batch(BatchId(b)), from: DayNo(from), to: DayNo(to) })
        }),
        1 => (0u32..7).prop_map(|b| Edit::KeepOut(Frozen::Batch(BatchId(b)))),
        1 => Just(Edit::AddDay),
        1 => (0i16..6).prop_map(|d| Edit::RemoveDay(DayNo(d))),
        1 => "[a-c]{0,2}".prop_map(|name| Edit::AddMealtime { name, at: None }),
        1 => (0u8..4).prop_map(|id| Edit::RemoveMealtime(MealtimeId(id))),
        1 => (0u8..8, 0u8..10, any::<bool>(), 0u16..500)
            .prop_map(|(cooks, rings, fan, pace)| Edit::SetKitchen(Kitchen { cooks, rings, fan, pace, ..Kitchen::default() })),
    ]
}

/// The balance as a person would add it up, independent of the judges.
fn assert_closes(r: &Rotation) {
    let trim: u32 = r.piece.trim.iter().map(|t| t.grams.get()).sum();
    let parts: u32 = r.piece.parts.iter().map(|p| p.usable.get()).sum();
    assert_eq!(r.piece.mass.get(), trim + r.piece.rotten.get() + parts);
    let drawn: u32 =
        r.batches.iter().flat_map(|b| &b.draws).filter(|d| matches!(d.from, Source::Part(_))).map(|d| d.portion.get()).sum();
    let free: i64 = r.piece.parts.iter().map(|p| r.free_in_part(&p.part)).sum();
    assert_eq!(i64::from(parts), i64::from(drawn) + free);
    for b in &r.batches {
        let served: u32 = r.meals.values().flat_map(|m| &m.servings).filter(|s| s.batch == b.id).map(|s| s.portion.get()).sum();
        assert!(served <= b.pool().get(), "{b:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, ..ProptestConfig::default() })]

    #[test]
    fn any_sequence_of_edits_keeps_the_balance_and_can_be_undone(edits in prop::collection::vec(any_edit(support::dishes()), 1..40)) {
        let first = support::plan();
        let mut history = History::new(first.clone());
        let mut states = vec![first.clone()];
        for edit in &edits {
            let before = history.now().clone();
            match apply(&before, edit) {
                Ok(done) => {
                    prop_assert_eq!(validate(&done.rotation), Ok(()), "{:?}", edit);
                    assert_closes(&done.rotation);
                    prop_assert!(!done.words.is_empty());
                    if done.rotation != *before {
                        states.push(done.rotation.clone());
                    }
                    history.push(done.rotation, done.words, None);
                }
                Err(refusal) => {
                    prop_assert!(refusal.0.len() > 10, "a refusal says why: {:?} {:?}", refusal, edit);
                    prop_assert_eq!(&*before, &**history.now());
                }
            }
        }
        let last = history.now().clone();
        for state in states.iter().rev().skip(1) {
            prop_assert!(history.undo().is_some());
            prop_assert_eq!(&**history.now(), state);
        }
        prop_assert!(history.undo().is_none());
        while history.redo().is_some() {}
        prop_assert_eq!(&**history.now(), &*last);
    }
}

fn done(r: &Rotation, edit: Edit) -> Rotation {
    apply(r, &edit).unwrap_or_else(|e| panic!("{edit:?}: {e}")).rotation
}

fn refused(r: &Rotation, edit: Edit) -> String {
    match apply(r, &edit) {
        Err(refusal) => refusal.0,
        Ok(done) => panic!("{edit:?} was done: {}", done.words),
    }
}

fn by_id(id: &str) -> Arc<Dish> {
    support::dishes().into_iter().find(|d| d.id.as_str() == id).expect("a test dish")
}

fn serve(id: &str, slot: Slot) -> Edit {
    Edit::Serve { dish: by_id(id), from: ServeFrom::BestPart, slot, portion: None }
}

#[test]
fn a_dish_takes_its_own_part_and_typical_grams() {
    let r = done(&support::plan(), serve("wedges", slot(2, 1)));
    assert_eq!(
        r.batches[0].draws,
        vec![Draw { from: Source::Part(tranche::book::PartId::new("middle").unwrap()), portion: grams(200), cut_on: None }]
    );
    assert_eq!(r.batches[0].day, DayNo(2));
    assert_eq!(r.meal(slot(2, 1)).servings[0].portion, grams(200));
}

#[test]
fn moving_a_meal_moves_its_making_and_taking_it_off_frees_its_grams() {
    let r = done(&support::plan(), serve("wedges", slot(2, 1)));
    let moved = done(&r, Edit::MoveServing { from: slot(2, 1), batch: BatchId(1), to: slot(4, 1) });
    assert_eq!(moved.batches[0].day, DayNo(4));
    let off = done(&moved, Edit::RemoveServing { slot: slot(4, 1), batch: BatchId(1) });
    assert_eq!(off, support::plan());
}

#[test]
fn a_second_serving_draws_more_and_stays_one_batch() {
    let r = done(&support::plan(), serve("rolls", slot(2, 1)));
    let again = done(&r, Edit::ServeAgain { batch: BatchId(1), slot: slot(3, 2), portion: Some(grams(50)) });
    assert_eq!(again.batches[0].pool(), grams(250));
    let said = refused(&again, Edit::ServeAgain { batch: BatchId(1), slot: slot(4, 1), portion: Some(grams(500)) });
    assert!(said.starts_with("only 51"), "{said}");
    assert!(refused(&again, Edit::ServeAgain { batch: BatchId(1), slot: slot(1, 1), portion: None }).contains("made on Tuesday"));
}

#[test]
fn a_component_feeds_a_later_dish_and_cannot_be_taken_from_under_it() {
    let base = Edit::MakeAhead {
        dish: by_id("base"),
        day: DayNo(1),
        source: Source::Part(tranche::book::PartId::new("middle").unwrap()),
        portion: grams(400),
    };
    let r = done(&done(&support::plan(), base), serve("gratin", slot(3, 1)));
    assert_eq!(r.batches[1].draws[0].from, Source::Batch(BatchId(1)));
    assert_eq!(r.left_cooked(&r.batches[0]), 160);
    assert!(refused(&r, Edit::RemoveBatch(BatchId(1))).contains("Gratin is made from Roast base"));
    let early = Edit::MoveServing { from: slot(3, 1), batch: BatchId(2), to: slot(1, 2) };
    assert_eq!(done(&r, early).batches[1].day, DayNo(1));
    assert!(refused(&r, Edit::SetBatchDay { batch: BatchId(1), day: DayNo(4) }).contains("made from it"));
}

#[test]
fn swapping_two_meals_twice_changes_nothing() {
    let r = done(&done(&support::plan(), serve("wedges", slot(1, 1))), serve("slaw", slot(3, 1)));
    let there = done(&r, Edit::SwapMeals(slot(1, 1), slot(3, 1)));
    assert_ne!(there, r);
    assert_eq!(done(&there, Edit::SwapMeals(slot(1, 1), slot(3, 1))), r);
}

#[test]
fn weighing_one_part_lets_the_guessed_ones_follow() {
    let r = done(&support::plan(), Edit::Piece(PieceEdit::Trim(Grams::clamped(400))));
    assert_eq!(r.piece.trim_total().get(), 400);
    assert_eq!(r.piece.usable_total(State::Prepared), grams(1_400));
    let heart = Edit::Piece(PieceEdit::Part(tranche::book::PartId::new("heart").unwrap(), grams(500)));
    let r = done(&r, heart);
    assert_eq!(r.piece.parts.iter().map(|p| p.usable.get()).sum::<u32>(), 1_400);
    assert!(refused(&r, Edit::Piece(PieceEdit::Mass(Grams::clamped(600)))).contains("900"));
}

#[test]
fn a_piece_weighed_smaller_than_planned_keeps_the_plan_and_shows_the_gap() {
    let r = done(&support::plan(), serve("slaw", slot(1, 1)));
    let r = done(&r, Edit::Piece(PieceEdit::Part(tranche::book::PartId::new("heart").unwrap(), grams(150))));
    assert_eq!(r.free_in_part(&tranche::book::PartId::new("heart").unwrap()), -50);
}

#[test]
fn a_busy_day_stays_and_an_empty_one_goes() {
    let r = done(&support::plan(), serve("wedges", slot(3, 1)));
    assert!(refused(&r, Edit::RemoveDay(DayNo(3))).contains("Wednesday has Wedges"));
    let r = done(&r, Edit::RemoveDay(DayNo(1)));
    assert_eq!(r.date(r.batches[0].day), jiff::civil::date(2026, 12, 9), "the meal keeps its date");
    assert!(refused(&r, Edit::RemoveMealtime(MealtimeId(1))).contains("supper is served"));
}

#[test]
fn one_gesture_is_one_step() {
    let r = done(&support::plan(), serve("wedges", slot(2, 1)));
    let mut history = History::new(r.clone());
    for g in [210, 220, 230] {
        let next = done(history.now(), Edit::SetServing { slot: slot(2, 1), batch: BatchId(1), portion: grams(g) });
        history.push(next, format!("Set it to {g} g"), Some(GestureId(7)));
    }
    assert_eq!(history.undo_words(), Some("Set it to 230 g"));
    history.undo();
    assert_eq!(**history.now(), r);
    assert!(!history.is_changed());
}
