//! Can the cook say how a cooking is boxed up to cool, and is it then judged as said?

mod fixture;

use fixture::{batch, book, cabbage, dishes, eater, serving, slot};
use std::{path::Path, sync::Arc};
use tranche::{
    judge::{
        Code, Finding, Severity,
        cooling::{Place, advise, boxing_of, chill, question_of},
        coolings, judge, mends_for,
    },
    quantity::{AsBought, Grams},
    rotation::{BatchId, Bath, Boxing, CoolTo, Edit, Fill, FoodBox, KeptBack, Rotation, Storage, apply},
    store::{rotation_from_text, rotation_to_text},
};

const POT: KeptBack = KeptBack::Batch(BatchId(1));

/// A stew of Monday of which this much is kept back for Tuesday (it yields four fifths).
fn stew(kept: u32) -> Rotation {
    let mass = Grams::<AsBought>::new(9_000).unwrap();
    let mut plan = Rotation::start(Arc::new(cabbage()), mass, jiff::civil::date(2026, 5, 11), 3, vec![eater(1, "Ada", 100)]);
    let dish = dishes().into_iter().find(|d| d.id.as_str() == "braise").unwrap();
    plan.dishes.insert(dish.id.clone(), Arc::new(dish));
    let made = kept * 5 / 4 + 200;
    plan.batches = vec![batch(1, "braise", 1, &[("middle", made)])];
    for (day, grams) in [(1, 200), (2, made - 200)] {
        plan.meals.entry(slot(day, plan.mealtimes[0].id.0)).or_default().servings.push(serving(1, grams));
    }
    plan
}

fn with(plan: &Rotation, edit: Edit) -> Rotation {
    apply(plan, &edit).unwrap_or_else(|e| panic!("{edit:?}: {e}")).rotation
}

fn refused(plan: &Rotation, edit: Edit) -> String {
    apply(plan, &edit).map(|d| d.words).expect_err("it is refused").0
}

fn cooling(plan: &Rotation) -> Option<Finding> {
    judge(plan).findings.into_iter().find(|f| f.code == Code::Cooling)
}

fn flat(count: u8) -> Storage {
    let own = FoodBox { name: "flat box".into(), size_mm: (300, 200, 60), metal: true, count };
    Storage { boxes: vec![own], ..Storage::default() }
}

#[test]
fn what_is_said_is_reckoned_with_and_forgotten_again() {
    let plan = stew(3_000);
    assert_eq!(cooling(&plan).unwrap().severity, Severity::Caution);
    let shallow =
        Boxing { vessel: Some("box".into()), fill: Some(Fill::NoDeeper(25)), lid: false, counter: 0, ..Boxing::usual(POT) };
    let boxed = with(&plan, Edit::BoxUp(shallow.clone()));
    let told = cooling(&boxed).unwrap();
    assert_eq!(told.severity, Severity::Note, "{}", told.text);
    let one = &coolings(&boxed)[0];
    assert!(one.passes() && one.question.count == 4 && one.chilled.depth_cm <= 2.5, "{:?}", one.question);
    assert!(!one.question.lid && one.question.stays.len() == 1);
    // A lid on the same boxes, and half an hour on the counter: every word of it tells.
    for worse in [Boxing { fill: Some(Fill::Into(1)), ..shallow.clone() }, Boxing { fill: None, lid: true, ..shallow }] {
        assert!(coolings(&with(&plan, Edit::BoxUp(worse)))[0].chilled.stages[0].took > one.chilled.stages[0].took);
    }
    assert_eq!(with(&boxed, Edit::BoxAsUsual(POT)), plan);
    assert_eq!(with(&plan, Edit::BoxUp(Boxing::usual(POT))), plan, "what says nothing is not written");
    let text = rotation_to_text(&boxed);
    assert_eq!(rotation_from_text(Path::new("plan"), &text).unwrap(), boxed);
}

#[test]
fn a_bath_cools_what_pours_in_its_pot_and_stirring_helps() {
    let plan = stew(3_000);
    let bath = |ice, stirred, vessel: Option<&str>| {
        let boxing = Boxing {
            vessel: vessel.map(str::to_string),
            lid: false,
            bath: Some(Bath { ice, minutes: 40, stirred }),
            ..Boxing::usual(POT)
        };
        with(&plan, Edit::BoxUp(boxing))
    };
    let took = |plan: &Rotation| coolings(plan)[0].chilled.stages[0].took.unwrap_or(f64::MAX);
    let (still, iced, stirred) = (bath(false, false, None), bath(true, false, None), bath(true, true, None));
    assert!(took(&still) < took(&plan) && took(&iced) < took(&still) && took(&stirred) < took(&iced));
    let poured = bath(true, true, Some("box"));
    let question = question_of(&poured, BatchId(1)).unwrap();
    assert_eq!((question.vessel.one.as_str(), question.count), ("pot", 1));
    let (into, count) = question.stays.last().unwrap().into.clone().unwrap();
    assert_eq!((into.one.as_str(), count), ("box", 2));
    assert_eq!(question.stays[1].place, Place::IceWater);
    // The word of the finding and the curve are of one mind about what is poured over, too.
    assert_eq!(cooling(&poured).unwrap().severity == Severity::Note, chill(&question).unwrap().passes());
    assert!(cooling(&poured).unwrap().text.contains("2 boxes"));
}

#[test]
fn boxes_are_those_that_there_are() {
    let plan = with(&stew(3_000), Edit::SetStorage(flat(2)));
    let into = |n, vessel: &str| Boxing { vessel: Some(vessel.into()), fill: Some(Fill::Into(n)), ..Boxing::usual(POT) };
    assert!(refused(&plan, Edit::BoxUp(into(3, "flat box"))).contains("there are 2 of the flat box"));
    assert!(refused(&plan, Edit::BoxUp(into(2, "amphora"))).contains("no amphora"));
    assert!(refused(&plan, Edit::BoxUp(into(0, "box"))).contains("say 1 to 20"));
    for wrong in [
        Boxing { fill: Some(Fill::NoDeeper(2)), ..Boxing::usual(POT) },
        Boxing { counter: 121, ..Boxing::usual(POT) },
        Boxing { bath: Some(Bath { ice: true, minutes: 0, stirred: false }), ..Boxing::usual(POT) },
        Boxing::usual(KeptBack::Whole),
        Boxing::usual(KeptBack::Batch(BatchId(9))),
    ] {
        assert!(apply(&plan, &Edit::BoxUp(wrong.clone())).is_err(), "{wrong:?}");
    }
    let boxed = with(&plan, Edit::BoxUp(into(2, "flat box")));
    assert_eq!(coolings(&boxed)[0].question.count, 2);
    // The boxes are gone, and with them what was to go into them; so is what was said of a batch that is gone.
    assert_eq!(with(&boxed, Edit::SetStorage(Storage { boxes: vec![], ..boxed.storage.clone() })).storage.boxed, []);
    assert_eq!(with(&boxed, Edit::RemoveBatch(BatchId(1))).storage.boxed, []);
    // One flat box holds 3.2 litres: two litres more do not go in, and are not cold because nobody says where they are.
    let one = with(&stew(5_000), Edit::SetStorage(flat(1)));
    let told = cooling(&with(&one, Edit::BoxUp(Boxing { vessel: Some("flat box".into()), ..Boxing::usual(POT) }))).unwrap();
    assert_eq!(told.severity, Severity::Caution);
    assert!(told.text.contains("of which there is 1"), "{}", told.text);
}

#[test]
fn a_way_that_is_advised_can_be_taken_and_then_passes() {
    for storage in [Storage::default(), flat(4)] {
        for kept in [1_500, 2_500, 4_000] {
            let plan = with(&stew(kept), Edit::SetStorage(storage.clone()));
            for way in &coolings(&plan)[0].ways {
                let taken = with(&plan, Edit::BoxUp(boxing_of(&plan, POT, &way.changed).unwrap()));
                let question = question_of(&taken, BatchId(1)).unwrap();
                assert_eq!(question, way.changed, "{kept} g: {}", way.words);
                assert_eq!(cooling(&taken).unwrap().severity, Severity::Note, "{kept} g: {}", way.words);
                assert_eq!(advise(&question).unwrap(), []);
            }
        }
    }
}

#[test]
fn what_is_not_cold_in_time_has_a_way_to_box_it_as_its_first_mend() {
    let plan = stew(3_000);
    let finding = cooling(&plan).unwrap();
    let mends = mends_for(&plan, &book(), &finding);
    assert!(mends.iter().any(|m| matches!(m.edit, Edit::BoxUp(_))), "{mends:?}");
    assert!(matches!(mends[0].edit, Edit::BoxUp(_)), "{mends:?}");
    let mended = with(&plan, mends[0].edit.clone());
    assert_eq!(cooling(&mended).unwrap().severity, Severity::Note);
}

#[test]
fn the_households_stricter_rule_is_asked_of_the_boxes_too() {
    let shallow =
        Boxing { vessel: Some("tray".into()), fill: Some(Fill::NoDeeper(20)), lid: false, counter: 0, ..Boxing::usual(POT) };
    let plan = with(&stew(2_000), Edit::BoxUp(shallow));
    assert!(coolings(&plan)[0].passes());
    let strict = Storage { cooling: Some(CoolTo { to_c: 5.0, within: 60 }), ..plan.storage.clone() };
    let asked = with(&plan, Edit::SetStorage(strict));
    assert!(!coolings(&asked)[0].passes());
    assert_eq!(cooling(&asked).unwrap().severity, Severity::Caution);
    assert_eq!(asked.storage.boxed.len(), 1, "what is said of the boxes stays");
}

#[test]
fn a_roast_is_held_to_the_boxes_that_the_cook_has_named_for_it_and_mended_out_of_them() {
    let file = std::path::Path::new("tests/data/turkey-mended.rotation.ron");
    let plan = rotation_from_text(file, &std::fs::read_to_string(file).unwrap()).unwrap();
    assert_eq!(cooling(&plan).unwrap().severity, Severity::Note, "nobody has said anything of boxes yet");
    let deep = Boxing { vessel: Some("box".into()), fill: Some(Fill::Into(1)), ..Boxing::usual(KeptBack::Whole) };
    let boxed = with(&plan, Edit::BoxUp(deep));
    let told = cooling(&boxed).unwrap();
    assert_eq!(told.severity, Severity::Caution, "{}", told.text);
    let shelf = tranche::book::Book::shipped().unwrap();
    let mends = mends_for(&boxed, &shelf, &told);
    let way =
        mends.iter().find(|m| matches!(&m.edit, Edit::BoxUp(b) if b.of == KeptBack::Whole)).expect("another way is offered");
    assert_eq!(cooling(&with(&boxed, way.edit.clone())).unwrap().severity, Severity::Note, "{}", way.words);
}
