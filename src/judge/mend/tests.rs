//! Does a mend cure what it promises to cure, and do no harm? Asked with small plans and small judges of their own.

use super::*;
use crate::{
    book::{Dish, DishId, Kind, PartId, Twin},
    judge::variety,
    quantity::{DayNo, Grams, Portion, State, Units},
    rotation::{Batch, BatchId, Draw, Eater, EaterId, Mealtime, MealtimeId, ServeFrom, Serving, Slot, Source, apply, validate},
};
use std::sync::Arc;

fn kind() -> Arc<Kind> {
    let text = r#"(id: "test-cabbage", name: "test cabbage", family: "brassica", colour: "7A4A78", portioned: Prepared,
        mass: (800, 1800, 3000), trim: [],
        parts: [(id: "middle", name: "middle", share: 600, raw_days: 5, suits: "wedges"),
                (id: "heart", name: "heart", share: 400, raw_days: 5, suits: "raw")],
        clock_starts: "cut", cooked_days: 3, diet: Vegan, sources: ["practice"])"#;
    Arc::new(ron::from_str(text).expect("the test kind reads"))
}

/// A dish of `part` for 80, 100 or 150 g for an adult.
fn dish(id: &str, part: &str, texture: &str, family: &str, heat: &str) -> Dish {
    let text = format!(
        r#"(id: "{id}", name: "{id}", families: ["brassica"], parts: ["{part}"], state: Prepared, grams: (80, 100, 150),
            profile: (texture: [({texture}, 1.0)], family: [({family}, 1.0)], heat: Some({heat})),
            yield: 900, cooked: true, keeps: 3, diet: Vegan, minutes: (10, 20),
            steps: [(text: "Make it.", minutes: 20, hands: true)], sources: ["practice"])"#
    );
    ron::from_str(&text).unwrap_or_else(|e| panic!("{id}: {e}"))
}

fn eater(id: u16, name: &str) -> Eater {
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

fn slot(day: i16) -> Slot {
    Slot { day: DayNo(day), mealtime: MealtimeId(1) }
}

fn prepared(grams: u32) -> Portion {
    Portion::of(State::Prepared, grams)
}

/// Two eaters, `days` suppers, a cabbage of 1,000 g: 600 of middle, 400 of heart.
fn plan(days: u16) -> Rotation {
    let eaters = vec![eater(1, "Ann"), eater(2, "Ben")];
    let mut r = Rotation::start(kind(), Grams::clamped(1_000), jiff::civil::date(2026, 12, 7), days, eaters);
    r.mealtimes = vec![Mealtime { id: MealtimeId(1), name: "supper".into(), at: None }];
    r
}

fn serve(r: &Rotation, dish: &Dish, part: &str, day: i16, grams: u32) -> Rotation {
    let from = ServeFrom::Source(Source::Part(PartId::new(part).expect("a slug")));
    let edit = Edit::Serve { dish: Arc::new(dish.clone()), from, slot: slot(day), portion: Some(prepared(grams)) };
    apply(r, &edit).unwrap_or_else(|e| panic!("{e}")).rotation
}

/// Likeness and nothing else.
fn by_taste(r: &Rotation) -> Judged {
    let (v, findings) = variety(r);
    Judged { findings, feel_like: v.distinct.feel_like }
}

/// Any one rule beside likeness.
fn with_rule(rule: impl Fn(&Rotation) -> Vec<Finding>) -> impl Fn(&Rotation) -> Judged {
    move |r| {
        let mut judged = by_taste(r);
        judged.findings.extend(rule(r));
        judged
    }
}

fn left_over(r: &Rotation) -> Vec<Finding> {
    let free: i64 = r.piece.parts.iter().map(|p| r.free_in_part(&p.part).max(0)).sum();
    if free == 0 { vec![] } else { vec![Finding::new(Severity::Note, Code::Unallocated, "rest", format!("{free} g left"))] }
}

/// The mends found, each proved: it applies, the plan stays valid, the cause is gone and nothing as grave has come.
/// What is tried at a home that nothing is known of.
fn tried(r: &Rotation, book: &Book, finding: &Finding) -> Vec<Candidate> {
    candidates(r, &Shelf { book, home: &Home::default() }, finding)
}

fn chosen(r: &Rotation, all: Vec<Candidate>, finding: &Finding, judges: &dyn Fn(&Rotation) -> Judged) -> Vec<Mend> {
    choose(r, all, finding, &Judges { whole: judges, alone: &|r| judges(r).findings })
}

fn mends(r: &Rotation, book: &Book, code: Code, judges: &dyn Fn(&Rotation) -> Judged) -> Vec<Mend> {
    let before = judges(r);
    let finding = before.findings.iter().find(|f| f.code == code).unwrap_or_else(|| panic!("nothing to mend: {before:?}"));
    let found = chosen(r, tried(r, book, finding), finding, judges);
    for mend in &found {
        let done = apply(r, &mend.edit).unwrap_or_else(|e| panic!("{}: {e}", mend.words));
        validate(&done.rotation).expect("a valid plan");
        let after = judges(&done.rotation);
        assert!(after.findings.iter().all(|f| f.key != finding.key), "{}: {:?}", mend.words, after.findings);
        let grave = |all: &[Finding]| all.iter().filter(|f| f.severity <= finding.severity).count();
        assert!(grave(&after.findings) < grave(&before.findings), "{}", mend.words);
        assert!(!mend.cost.is_empty());
    }
    assert!(found.len() <= MAX_MENDS);
    found
}

fn words(mends: &[Mend]) -> Vec<&str> {
    mends.iter().map(|m| m.words.as_str()).collect()
}

#[test]
fn two_stews_running_are_parted_by_a_swap_or_a_move_or_another_dish() {
    let stew = dish("stew", "middle", "Stewed", "Mild", "Hot");
    let braise = dish("braise", "middle", "Stewed", "Mild", "Hot");
    let slaw = dish("slaw", "heart", "Crisp", "Sharp", "Chilled");
    let fritters = dish("fritters", "middle", "Crunchy", "Smoky", "Hot");
    let book = Book::of([(*kind()).clone()], [stew.clone(), braise.clone(), slaw.clone(), fritters]);
    let mut r = serve(&plan(4), &stew, "middle", 1, 200);
    r = serve(&r, &braise, "middle", 2, 200);
    r = serve(&r, &slaw, "heart", 3, 200);
    let found = mends(&r, &book, Code::TooAlike, &by_taste);
    let said = words(&found);
    assert_eq!(found.len(), 3, "{said:?}");
    assert!(said.contains(&"Make fritters instead of braise"), "{said:?}");
    let dish = found.iter().find(|m| m.words.starts_with("Make fritters")).expect("just seen");
    assert!(dish.cost.contains("the meals feel like 3.0 instead of 1.9"), "{}", dish.cost);
}

#[test]
fn a_mend_that_only_moves_the_trouble_is_not_offered() {
    let stew = dish("stew", "middle", "Stewed", "Mild", "Hot");
    let braise = dish("braise", "middle", "Stewed", "Mild", "Hot");
    let book = Book::of([(*kind()).clone()], [stew.clone(), braise.clone()]);
    let r = serve(&serve(&plan(2), &stew, "middle", 1, 200), &braise, "middle", 2, 200);
    assert!(mends(&r, &book, Code::TooAlike, &by_taste).is_empty(), "a swap makes the same pair the other way round");
}

#[test]
fn an_overruled_finding_needs_no_mend() {
    let stew = dish("stew", "middle", "Stewed", "Mild", "Hot");
    let mut r = serve(&plan(6), &stew, "middle", 1, 200);
    r = serve(&r, &dish("braise", "middle", "Stewed", "Mild", "Hot"), "middle", 2, 200);
    let mut finding = by_taste(&r).findings[0].clone();
    assert!(!chosen(&r, tried(&r, &Book::default(), &finding), &finding, &by_taste).is_empty());
    finding.overruled = Some("birthday request".into());
    assert!(chosen(&r, tried(&r, &Book::default(), &finding), &finding, &by_taste).is_empty());
}

#[test]
fn of_two_weeks_with_one_cause_a_mend_cures_one() {
    // The second pair bears a number behind its key and takes the plain key once the first is cured.
    let stew = dish("stew", "middle", "Stewed", "Mild", "Hot");
    let slaw = dish("slaw", "heart", "Crisp", "Sharp", "Chilled");
    let mut r = plan(30);
    for day in [1, 2, 20, 21] {
        r = serve(&r, &stew, "middle", day, 100);
    }
    r = serve(&r, &slaw, "heart", 10, 200);
    let before = by_taste(&r);
    let first = before.findings.iter().find(|f| f.code == Code::TooAlike).expect("two pairs");
    let found = chosen(&r, tried(&r, &Book::default(), first), first, &by_taste);
    assert!(!found.is_empty());
}

#[test]
fn a_few_grams_are_folded_into_a_dish_that_may_take_them() {
    let stew = dish("stew", "middle", "Stewed", "Mild", "Hot");
    let slaw = dish("slaw", "heart", "Crisp", "Sharp", "Chilled");
    let mut r = serve(&plan(4), &stew, "middle", 1, 290);
    r = serve(&r, &dish("wedges", "middle", "Charred", "Smoky", "Hot"), "middle", 2, 282);
    r = serve(&r, &slaw, "heart", 4, 200);
    r = serve(&r, &dish("salad", "heart", "Chewy", "Herbal", "Chilled"), "heart", 3, 200);
    let found = mends(&r, &Book::default(), Code::Unallocated, &with_rule(left_over));
    // The stew may take 10 more, the wedges 18: together just the 28.
    assert_eq!(words(&found), ["Share 28\u{a0}g out among wedges and stew"]);
    let r = {
        let mut smaller = r.clone();
        let at = |day: i16| slot(day);
        let batch = smaller.meal(at(1)).servings[0].batch;
        smaller = apply(&smaller, &Edit::SetServing { slot: at(1), batch, portion: prepared(240) }).expect("less").rotation;
        apply(&smaller, &Edit::Piece(crate::rotation::PieceEdit::Mass(Grams::clamped(1_000)))).expect("the same").rotation
    };
    let found = mends(&r, &Book::default(), Code::Unallocated, &with_rule(left_over));
    assert!(found.is_empty() || words(&found)[0].starts_with("Share"), "{:?}", words(&found));
}

#[test]
fn one_dish_with_room_takes_the_rest_with_the_plate_it_comes_to() {
    let mut r = serve(&plan(2), &dish("curry", "middle", "Stewed", "Curry", "Hot"), "middle", 1, 220);
    r.piece.parts[0].usable = prepared(248);
    r.piece.parts[1].usable = prepared(0);
    r.piece.mass = Grams::clamped(248);
    let found = mends(&r, &Book::default(), Code::Unallocated, &with_rule(left_over));
    assert_eq!(words(&found), ["Fold 28\u{a0}g into curry"]);
    assert_eq!(found[0].cost, "curry becomes 124\u{a0}g for an adult instead of 110\u{a0}g");
}

#[test]
fn the_rest_may_be_banked_or_served_on_its_own() {
    let mut bank = dish("pickle", "heart", "Crisp", "Sharp", "Chilled");
    bank.role = crate::book::Role::Bank;
    let salad = dish("salad", "heart", "Crisp", "Herbal", "Chilled");
    let book = Book::of([(*kind()).clone()], [bank, salad]);
    let mut r = serve(&plan(2), &dish("curry", "middle", "Stewed", "Curry", "Hot"), "middle", 1, 300);
    r = serve(&r, &dish("wedges", "middle", "Charred", "Smoky", "Hot"), "middle", 1, 300);
    r.piece.parts[1].usable = prepared(250);
    r.piece.mass = Grams::clamped(850);
    let found = mends(&r, &book, Code::Unallocated, &with_rule(left_over));
    assert_eq!(
        words(&found),
        ["Serve salad at Tuesday supper, 250\u{a0}g", "Make pickle of the 250\u{a0}g on Monday"],
        "a meal comes before the jar"
    );
}

#[test]
fn too_much_of_a_part_is_served_smaller_but_never_too_small() {
    let over = |r: &Rotation| -> Vec<Finding> {
        let over: Vec<_> = r.piece.parts.iter().filter(|p| r.free_in_part(&p.part) < 0).collect();
        over.iter().map(|p| Finding::new(Severity::Stop, Code::OverAllotted, p.part.as_str(), "too much")).collect()
    };
    let mut r = serve(&plan(3), &dish("curry", "middle", "Stewed", "Curry", "Hot"), "middle", 1, 300);
    r = serve(&r, &dish("wedges", "middle", "Charred", "Smoky", "Hot"), "middle", 2, 200);
    r.piece.parts[0].usable = prepared(400);
    r.piece.parts[1].usable = prepared(600);
    let found = mends(&r, &Book::default(), Code::OverAllotted, &with_rule(over));
    assert_eq!(
        words(&found),
        ["Serve 100\u{a0}g less of curry at Monday supper", "Serve a little less at Monday supper and Tuesday supper"]
    );
    // 160 g is the least for two; 320 cannot be cut to 300.
    r.piece.parts[0].usable = prepared(300);
    r.piece.parts[1].usable = prepared(700);
    assert!(mends(&r, &Book::default(), Code::OverAllotted, &with_rule(over)).is_empty());
}

#[test]
fn a_wrong_part_is_changed_for_a_fitting_one() {
    let wrong = |r: &Rotation| -> Vec<Finding> {
        let fed = r.batches.iter().filter(|b| {
            let dish = &r.dishes[&b.dish];
            b.draws.iter().any(|d| matches!(&d.from, Source::Part(p) if !dish.suits_part(p)))
        });
        fed.map(|b| Finding::new(Severity::Warn, Code::WrongPart, b.dish.as_str(), "wrong part").of(b.id)).collect()
    };
    let r = serve(&plan(3), &dish("slaw", "heart", "Crisp", "Sharp", "Chilled"), "middle", 1, 200);
    let found = mends(&r, &Book::default(), Code::WrongPart, &with_rule(wrong));
    assert_eq!(words(&found), ["Take 200\u{a0}g of the heart for slaw instead of the middle"]);
    let after = apply(&r, &found[0].edit).expect("tried before").rotation;
    assert_eq!(after.meal(slot(1)).servings[0].portion, prepared(200));
}

#[test]
fn two_dishes_trade_parts_where_nothing_is_free() {
    let wrong = |r: &Rotation| -> Vec<Finding> {
        let fed = r.batches.iter().filter(|b| {
            let dish = &r.dishes[&b.dish];
            b.draws.iter().any(|d| matches!(&d.from, Source::Part(p) if !dish.suits_part(p)))
        });
        fed.map(|b| Finding::new(Severity::Warn, Code::WrongPart, b.dish.as_str(), "wrong part").of(b.id)).collect()
    };
    let braise = Dish { parts: vec![], ..dish("braise", "heart", "Stewed", "Spiced", "Hot") };
    let mut r = serve(&plan(3), &braise, "heart", 1, 300);
    r = serve(&r, &dish("slaw", "heart", "Crisp", "Sharp", "Chilled"), "middle", 2, 200);
    r.piece.parts[0].usable = prepared(700);
    r.piece.parts[1].usable = prepared(300);
    let found = mends(&r, &Book::default(), Code::WrongPart, &with_rule(wrong));
    assert_eq!(words(&found), ["Let slaw and braise trade 200\u{a0}g of their parts"]);
    let after = apply(&r, &found[0].edit).expect("tried before").rotation;
    assert_eq!(after.served_from(after.batches[0].id), 300, "plates stay as they are");
}

#[test]
fn what_would_lie_raw_too_long_is_cooked_while_it_keeps() {
    let raw = |r: &Rotation| -> Vec<Finding> {
        let late = r.piece.parts.iter().filter(|p| r.free_in_part(&p.part) > 0);
        late.map(|p| Finding::new(Severity::Stop, Code::RawTooOld, format!("part/{}", p.part), "still raw")).collect()
    };
    let mut base = dish("base", "middle", "Stewed", "Tomato", "Hot");
    base.role = crate::book::Role::Component;
    let book = Book::of([(*kind()).clone()], [base]);
    let mut r = serve(&plan(3), &dish("slaw", "heart", "Crisp", "Sharp", "Chilled"), "heart", 1, 300);
    r.piece.parts[1].usable = prepared(300);
    r.piece.mass = Grams::clamped(900);
    let found = mends(&r, &book, Code::RawTooOld, &with_rule(raw));
    assert_eq!(words(&found), ["Make base on Monday, 600\u{a0}g", "Give 600\u{a0}g away while it is fresh"]);
}

#[test]
fn nobody_is_sent_away_for_a_matter_of_taste() {
    let dislike = |r: &Rotation| -> Vec<Finding> {
        let sits = r.eaters_at(slot(1)).contains(&EaterId(2)) && r.meals.contains_key(&slot(1));
        let finding = || Finding::new(Severity::Caution, Code::Dislike, "ben", "dislikes it").at(slot(1)).for_eater(EaterId(2));
        if sits { vec![finding()] } else { vec![] }
    };
    let r = serve(&plan(2), &dish("slaw", "heart", "Crisp", "Sharp", "Chilled"), "heart", 1, 200);
    let found = mends(&r, &Book::default(), Code::Dislike, &with_rule(dislike));
    assert!(found.is_empty(), "{:?}", words(&found));
}

#[test]
fn what_is_eaten_too_late_is_eaten_earlier_or_made_later() {
    let old = |r: &Rotation| -> Vec<Finding> {
        let mut out = Vec::new();
        for (at, meal) in &r.meals {
            for s in &meal.servings {
                let made = r.batch(s.batch).expect("a batch").day;
                if at.day.since(made).0 > 3 {
                    let about = s.batch.0.to_string();
                    out.push(Finding::new(Severity::Stop, Code::CookedTooOld, about, "too old").at(*at).of(s.batch));
                }
            }
        }
        out
    };
    let mut r = serve(&plan(7), &dish("stew", "middle", "Stewed", "Mild", "Hot"), "middle", 6, 200);
    r = serve(&r, &dish("slaw", "heart", "Crisp", "Sharp", "Chilled"), "heart", 3, 200);
    r.batches[0].day = DayNo(1);
    let found = mends(&r, &Book::default(), Code::CookedTooOld, &with_rule(old));
    let said = words(&found);
    assert_eq!(said.len(), 3, "{said:?}");
    assert!(said.iter().any(|w| w.starts_with("Make stew on")), "{said:?}");
    assert!(said.iter().any(|w| w.starts_with("Move stew from Saturday supper to") || w.starts_with("Swap")), "{said:?}");
}

#[test]
fn what_stays_raw_too_long_is_cooked_or_eaten_earlier() {
    let raw = |r: &Rotation| -> Vec<Finding> {
        let late = r.batches.iter().filter(|b| b.day.since(r.piece.opened).0 > 1);
        late.map(|b| Finding::new(Severity::Stop, Code::RawTooOld, b.dish.as_str(), "raw too long").of(b.id)).collect()
    };
    let r = serve(&plan(3), &dish("fillet", "middle", "Flaky", "Herbal", "Hot"), "middle", 3, 200);
    let found = mends(&r, &Book::default(), Code::RawTooOld, &with_rule(raw));
    let said = words(&found);
    assert!(
        said.contains(&"Make fillet on Tuesday") && said.contains(&"Move fillet from Wednesday supper to Tuesday supper"),
        "{said:?}"
    );
}

#[test]
fn one_who_may_not_eat_it_gets_the_twin_that_cures() {
    let stop = |r: &Rotation| -> Vec<Finding> {
        let mut out = Vec::new();
        for (at, meal) in &r.meals {
            for s in &meal.servings {
                let dish = &r.dishes[&r.batch(s.batch).expect("a batch").dish];
                let eats = s.eaten_by(&meal.eaters(&r.household), dish).contains(&EaterId(2));
                if eats {
                    out.push(
                        Finding::new(Severity::Stop, Code::Allergy, "ben", "allergy").at(*at).of(s.batch).for_eater(EaterId(2)),
                    );
                }
            }
        }
        out
    };
    let twin = |name: &str, holds_piece: bool| Twin {
        name: name.into(),
        holds_piece,
        diet: Default::default(),
        allergens: vec![],
        protein: None,
        without_forms: vec![],
        companions: vec![],
    };
    let mut curry = dish("curry", "middle", "Stewed", "Curry", "Hot");
    curry.twins = vec![twin("softened half", true), twin("tofu", false)];
    let r = serve(&plan(2), &curry, "middle", 1, 200);
    let found = mends(&r, &Book::default(), Code::Allergy, &with_rule(stop));
    assert_eq!(
        words(&found),
        ["Give Ben tofu instead", "curry for the others only, not for Ben", "Ben eats elsewhere at Monday supper"],
        "the twin that still holds it is no cure"
    );
}

#[test]
fn what_no_meal_takes_is_eaten_or_not_made() {
    let rest = |r: &Rotation| -> Vec<Finding> {
        let over = r.batches.iter().filter(|b| !r.unserved(b).is_zero());
        over.map(|b| Finding::new(Severity::Caution, Code::Unserved, b.dish.as_str(), "left").of(b.id)).collect()
    };
    let mut r = serve(&plan(1), &dish("stew", "middle", "Stewed", "Mild", "Hot"), "middle", 1, 200);
    r.batches[0].draws[0].portion = prepared(250);
    let found = mends(&r, &Book::default(), Code::Unserved, &with_rule(rest));
    assert_eq!(words(&found), ["Eat the 50\u{a0}g at Monday supper", "Make 50\u{a0}g less of stew"]);
    assert_eq!(found[1].cost, "50\u{a0}g more without a home");
}

#[test]
fn a_serving_of_the_wrong_size_becomes_typical_or_as_near_as_there_is_enough() {
    let size = |r: &Rotation| -> Vec<Finding> {
        let mut out = Vec::new();
        for (at, meal) in &r.meals {
            let small = meal.servings.iter().filter(|s| !(160..=300).contains(&s.portion.get()));
            out.extend(small.map(|s| Finding::new(Severity::Caution, Code::ServingSize, "size", "size").at(*at).of(s.batch)));
        }
        out
    };
    let stew = dish("stew", "middle", "Stewed", "Mild", "Hot");
    let mut r = serve(&plan(1), &stew, "middle", 1, 100);
    let found = mends(&r, &Book::default(), Code::ServingSize, &with_rule(size));
    assert_eq!(words(&found)[0], "Serve 200\u{a0}g of stew at Monday supper");
    r.piece.parts[0].usable = prepared(180);
    r.piece.parts[1].usable = prepared(820);
    let found = mends(&r, &Book::default(), Code::ServingSize, &with_rule(size));
    assert_eq!(words(&found), ["Serve 160\u{a0}g of stew at Monday supper", "Serve 180\u{a0}g of stew at Monday supper"]);
}

#[test]
fn no_more_edits_are_tried_than_promised() {
    let stew = dish("stew", "middle", "Stewed", "Mild", "Hot");
    let mut r = plan(62);
    for day in 1..=40 {
        let id = BatchId(day as u32);
        let name = format!("dish-{day}");
        let dish = Dish { id: DishId::new(&name).expect("a slug"), ..stew.clone() };
        r.dishes.insert(dish.id.clone(), Arc::new(dish.clone()));
        let draws =
            vec![Draw { from: Source::Part(PartId::new("middle").expect("a slug")), portion: prepared(10), cut_on: None }];
        r.batches.push(Batch { id, dish: dish.id, day: DayNo(day), draws });
        let serving = Serving { batch: id, portion: prepared(10), eaters: vec![], twins: vec![] };
        r.meals.entry(slot(day)).or_default().servings.push(serving);
    }
    let trials = std::cell::Cell::new(0);
    let counting = |r: &Rotation| {
        trials.set(trials.get() + 1);
        by_taste(r)
    };
    let book = Book::of([], (0..100).map(|i| Dish { id: DishId::new(&format!("new-{i}")).expect("a slug"), ..stew.clone() }));
    let finding = by_taste(&r).findings[5].clone();
    let all = tried(&r, &book, &finding);
    let alone = |r: &Rotation| counting(r).findings;
    choose(&r, all, &finding, &Judges { whole: &by_taste, alone: &alone });
    assert!((1..=MAX_TRIALS).contains(&trials.get()), "{}", trials.get());
}
