//! Is the run sheet of a day right, and does it begin no earlier than a cook's own sheet?

#[path = "kitchen/session.rs"]
mod session;
#[path = "kitchen/sheet.rs"]
mod sheet;
#[path = "support/weeks.rs"]
mod weeks;

use session::{at, cook, dish, line, plan_of, sheet_of};
use std::{sync::Arc, time::Instant};
use tranche::{
    book::{Book, DishId, Step, StepPlace},
    quantity::DayNo,
    rotation::{Kitchen, MealtimeId, Serving, Slot},
    runsheet::{Line, LineKind, Place, Progress, Proof, Wish, clock, replan, run_sheet},
};
use weeks::{supper, week};

/// Sheets that a cook wrote at the bench for these sessions: day, sit-down, start, some of the lines.
const BY_HAND: &[(&str, i16, i64, i64, &[&str])] = &[
    (
        "red-cabbage-mended",
        3,
        18 * 60 + 50,
        17 * 60,
        &[
            "17:00-17:03 fill the big pan",
            "17:05-17:13 chop onion, garlic, dill",
            "17:14-17:17 mix",
            "17:19-17:23 blanch",
            "17:25-17:42 oven warms to 180",
            "17:28-17:40 fill and roll",
            "17:42-18:37 bake",
            "18:37-18:40 out, probe",
            "18:40-18:47 rest",
            "18:47-18:50 plate",
            "19:10-19:13 box the sixth roll",
        ],
    ),
    (
        "salmon-mended",
        2,
        18 * 60 + 45,
        17 * 60 + 30,
        &[
            "17:30-17:32 liquor on",
            "17:32-17:44 raw fish board",
            "17:45-17:48 wash board",
            "17:45-17:57 poach",
            "18:03-18:11 soften onion",
            "18:13-18:25 rice",
            "18:17-18:21 Gro's pan",
            "18:28-18:30 salmon in",
            "18:30-18:33 box the tail",
            "18:38-18:45 dish up",
        ],
    ),
    (
        "turkey-mended",
        1,
        14 * 60,
        9 * 60,
        &[
            "09:00-09:05 bird out, dry it",
            "09:05-09:15 wash down",
            "09:40-10:00 oven warms",
            "10:00-13:00 bird at 180",
            "11:15-11:35 potatoes",
            "13:00-13:06 oven to 200",
            "13:04-13:44 rest",
            "13:06-13:56 potatoes at 200",
            "13:44-13:56 carve",
            "13:56-14:00 to table",
            "14:35-14:55 strip the bird",
        ],
    ),
    (
        "tomatoes-mended",
        1,
        18 * 60 + 40,
        14 * 60,
        &[
            "14:00-14:25 cut",
            "14:00-14:30 oven warms",
            "14:30-15:30 roast, two shelves",
            "14:30-15:00 halve and salt",
            "15:30-15:52 oven down to 100",
            "15:52-19:52 dry",
            "15:55-16:10 pass the sauce",
            "18:08-18:10 big pan on",
            "18:34-18:40 drain, dress, plate",
            "19:52-19:57 racks out",
            "20:30-20:33 box",
        ],
    ),
    (
        "celeriac-mended",
        2,
        18 * 60 + 30,
        17 * 60 + 15,
        &[
            "17:15-17:34 oven warms",
            "17:17-17:19 barley on",
            "17:19-17:30 cut slices",
            "17:34-18:24 roast (and a crumble below)",
            "17:49-17:59 slice mushrooms",
            "18:03-18:15 fry mushrooms",
            "18:26-18:30 plate",
        ],
    ),
];

#[test]
fn no_worked_session_begins_earlier_than_the_cooks_own_sheet() {
    for &(name, day, sit, start, by_hand) in BY_HAND {
        let plan = week(name);
        let began = Instant::now();
        let sheet = sheet_of(&plan, day);
        let took = began.elapsed();
        let (ours, theirs) = (sit - sheet.summary.start, sit - start);
        println!(
            "\n{name}, {}: {ours} min, by hand {theirs}; proof {:?}, {} nodes, {:.3} s",
            plan.day_name(DayNo(day)),
            sheet.proof,
            sheet.nodes,
            took.as_secs_f64()
        );
        let lines: Vec<String> =
            sheet.lines.iter().map(|l| format!("{}-{} {:.44}", clock(l.from), clock(l.to), l.what)).collect();
        for k in 0..lines.len().max(by_hand.len()) {
            println!("  {:<58} | {}", lines.get(k).map_or("", String::as_str), by_hand.get(k).unwrap_or(&""));
        }
        for said in &sheet.summary.sentences {
            println!("  {said}");
        }
        assert_eq!(sheet.meals.iter().map(|m| m.at).max(), Some(sit), "{name}");
        assert!(ours <= theirs, "{name}: {ours} min, by hand {theirs}");
        assert_eq!(sheet.proof, Proof::Best, "{name}");
        sheet::check(&plan, &sheet, at(6, 0)).unwrap_or_else(|e| panic!("{name}: {e}"));
    }
}

#[test]
fn every_day_of_every_worked_week_has_a_sheet_that_a_second_reader_passes() {
    for name in [
        "red-cabbage-mended",
        "red-cabbage-unhappy",
        "salmon-mended",
        "salmon-unhappy",
        "turkey-mended",
        "turkey-unhappy",
        "tomatoes-mended",
        "celeriac-mended",
    ] {
        let plan = week(name);
        for day in plan.day_numbers() {
            match run_sheet(&plan, day, &Wish::default(), &mut ()) {
                Ok(sheet) => sheet::check(&plan, &sheet, at(6, 0)).unwrap_or_else(|e| panic!("{name}, {day}: {e}")),
                Err(e) => assert!(e.nothing, "{name}, {day}: {e}"),
            }
        }
    }
}

#[test]
fn the_same_plan_gives_the_same_sheet() {
    for (name, day) in [("salmon-mended", 2), ("tomatoes-mended", 1), ("turkey-mended", 1)] {
        let (a, b) = (sheet_of(&week(name), day), sheet_of(&week(name), day));
        assert_eq!(a.lines, b.lines, "{name}");
        assert_eq!(a.summary, b.summary, "{name}");
    }
}

#[test]
fn cautions_stand_on_their_line_and_once() {
    let sheet = sheet_of(&week("celeriac-mended"), 2);
    let on = |words: &str| -> Vec<&str> {
        sheet.lines.iter().filter(|l| l.cautions.iter().any(|c| c.text.contains(words))).map(|l| l.what.as_str()).collect()
    };
    assert_eq!(on("damp cloth").len(), 1);
    assert!(on("damp cloth")[0].starts_with("Square off a face"), "{:?}", on("damp cloth"));
    for (name, day) in [("red-cabbage-mended", 3), ("salmon-mended", 2), ("turkey-mended", 1)] {
        let sheet = sheet_of(&week(name), day);
        let mut all: Vec<&str> = sheet.lines.iter().flat_map(|l| &l.cautions).map(|c| c.text.as_str()).collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count, "{name}: one is said twice");
        assert!(sheet.lines.iter().flat_map(|l| &l.cautions).all(|c| !c.source.is_empty()));
    }
    let rolls = sheet_of(&week("red-cabbage-mended"), 3);
    let boxed = rolls.lines.iter().find(|l| l.kind == LineKind::Box).expect("the sixth roll is boxed");
    assert!(boxed.what.contains("eat by Thursday") && boxed.cautions.iter().any(|c| c.text.contains("Rice")), "{boxed:?}");
}

#[test]
fn raw_fish_is_washed_away_before_anything_clean_and_the_twin_comes_before_the_fish() {
    let sheet = sheet_of(&week("salmon-mended"), 2);
    let (raw, onion) = (line(&sheet, "Cut the fish into cubes"), line(&sheet, "Slice onion"));
    assert!(raw.what.contains("wash board") && onion.from >= raw.to);
    let (twin, fish) = (line(&sheet, "tofu in the same base"), line(&sheet, "Slip the fish"));
    assert!(twin.what.contains("Gro") && twin.to <= fish.from);
    let (apart, pans) = (line(&sheet, "Ladle off"), [&twin.place, &fish.place]);
    assert!(apart.to <= twin.from && pans[0] != pans[1], "a pan of its own: {pans:?}");
}

#[test]
fn what_two_dishes_share_is_done_at_once_and_the_line_says_so() {
    let book = Book::shipped().unwrap();
    let mut plan = plan_of(&book, "celeriac", 4, Kitchen::default());
    let slot = Slot { day: DayNo(1), mealtime: MealtimeId(1) };
    let soup = dish(&book, "root-cream-soup");
    let mut second = (*soup).clone();
    second.id = DishId::new("second-soup").unwrap();
    second.name = "Second soup".into();
    let alone = {
        let mut plan = plan.clone();
        cook(&mut plan, &soup, 1, Some(slot), 800);
        sheet_of(&plan, 1).summary.hands_minutes
    };
    cook(&mut plan, &soup, 1, Some(slot), 800);
    cook(&mut plan, &Arc::new(second), 1, Some(slot), 800);
    let sheet = sheet_of(&plan, 1);
    sheet::check(&plan, &sheet, at(6, 0)).unwrap();
    let shared: Vec<&Line> = sheet.lines.iter().filter(|l| l.steps.len() > 1).collect();
    assert_eq!(shared.len(), 1, "{shared:?}");
    assert!(shared[0].note.as_deref().is_some_and(|n| n.contains("slice all the onion at once")), "{:?}", shared[0].note);
    assert!(shared[0].steps.iter().map(|s| s.batch).collect::<std::collections::BTreeSet<_>>().len() == 2);
    assert!(sheet.summary.hands_minutes < 2 * alone, "{} and {alone}", sheet.summary.hands_minutes);
}

#[test]
fn what_is_served_at_lunch_and_again_at_supper_is_boxed_and_warmed_once() {
    let book = Book::shipped().unwrap();
    let mut plan = plan_of(&book, "celeriac", 2, Kitchen::default());
    let (lunch, evening) = (Slot { day: DayNo(1), mealtime: MealtimeId(2) }, Slot { day: DayNo(1), mealtime: MealtimeId(1) });
    let soup = cook(&mut plan, &dish(&book, "root-cream-soup"), 1, Some(lunch), 600);
    let half = plan.meals[&lunch].servings[0].portion.with(300);
    plan.meals.get_mut(&lunch).unwrap().servings[0].portion = half;
    plan.meals.entry(evening).or_default().servings.push(Serving { batch: soup, portion: half, eaters: vec![], twins: vec![] });
    let sheet = sheet_of(&plan, 1);
    let boxed = sheet.lines.iter().find(|l| l.kind == LineKind::Box).expect("it is put away between");
    let warmed: Vec<&Line> = sheet.lines.iter().filter(|l| l.kind == LineKind::Warm).collect();
    assert_eq!(warmed.len(), 2);
    assert!(boxed.to <= warmed[0].from && warmed[1].cautions.iter().any(|c| c.text.contains("75")), "{warmed:?}");
}

// ---- the oven -------------------------------------------------------------------------------------------------------------

#[test]
fn two_dishes_share_the_heat_that_both_can_bear_and_the_line_says_so() {
    let book = Book::shipped().unwrap();
    // Thick slices best at 200 (190 to 210) and a crumble best at 180 (170 to 190) meet at 190 alone.
    let mut plan = week("celeriac-mended");
    cook(&mut plan, &dish(&book, "fruit-crumble"), 2, Some(supper(2)), 500);
    let sheet = sheet_of(&plan, 2);
    sheet::check(&plan, &sheet, at(6, 0)).unwrap();
    let baked: Vec<&Line> =
        sheet.lines.iter().filter(|l| matches!(&l.place, Place::Oven { shelves, .. } if !shelves.is_empty())).collect();
    assert!(baked.iter().all(|l| matches!(l.place, Place::Oven { celsius: 190, .. })), "{baked:?}");
    assert!(baked.iter().any(|l| l.note.as_deref().is_some_and(|n| n.contains("shares the heat with"))));
    println!("slices and crumble together: {} min; the cook's own sheet 75", sheet.meals[0].at - sheet.summary.start);
    assert!(sheet.meals[0].at - sheet.summary.start <= 95, "slices and crumble side by side: {:?}", sheet.summary.sentences);
    // Where the slices bear no less than 200 they are baked one after the other, half an hour and more longer.
    let mut apart = plan.clone();
    for d in apart.dishes.values_mut().filter(|d| d.id.as_str() == "miso-roast-slices-mushrooms") {
        Arc::make_mut(d).oven = Some((210, 200, 220));
    }
    let apart_sheet = sheet_of(&apart, 2);
    sheet::check(&apart, &apart_sheet, at(6, 0)).unwrap();
    let warm = apart_sheet.lines.iter().find(|l| l.note.as_deref().is_some_and(|n| n.contains("keep it warm")));
    assert!(warm.is_some_and(|l| l.cautions.iter().any(|c| c.text.contains("63"))), "one of them waits for the other, and hot");
    assert!(
        apart_sheet.summary.start <= sheet.summary.start - 25,
        "{} and {}",
        clock(sheet.summary.start),
        clock(apart_sheet.summary.start)
    );
}

#[test]
fn a_fan_is_set_twenty_lower_and_a_faster_cook_begins_later() {
    let mut plan = week("celeriac-mended");
    plan.kitchen.fan = true;
    let fan = sheet_of(&plan, 2);
    assert!(fan.lines.iter().any(|l| matches!(l.place, Place::Oven { set_to: 180, celsius: 200, fan: true, .. })));
    let plan = week("red-cabbage-mended");
    let start =
        |pace: u16| run_sheet(&plan, DayNo(3), &Wish { pace: Some(pace), ..Wish::default() }, &mut ()).unwrap().summary.start;
    assert!(start(60) < start(100) && start(100) < start(200));
}

#[test]
fn the_oven_goes_back_to_a_heat_that_it_had_before() {
    let book = Book::shipped().unwrap();
    let mut plan = plan_of(&book, "celeriac", 4, Kitchen { cooks: 2, ..Kitchen::default() });
    let slot = Slot { day: DayNo(1), mealtime: MealtimeId(1) };
    let like = dish(&book, "fruit-crumble");
    let step = |text: &str, minutes, hands, place, may_wait| Step {
        text: text.into(),
        minutes,
        hands,
        place,
        after: vec![],
        shelves: None,
        appliance: None,
        may_wait,
    };
    // Baked, rested for an hour, baked again at the same heat.
    let mut twice = (*like).clone();
    (twice.id, twice.name, twice.oven) = (DishId::new("twice").unwrap(), "Twice baked".into(), Some((200, 195, 205)));
    twice.steps = vec![
        step("Mix it.", 5, true, StepPlace::Bench, None),
        step("Bake until it is set.", 20, false, StepPlace::Oven, None),
        step("Turn it out.", 2, true, StepPlace::Bench, Some(80)),
        step("Leave it alone.", 70, false, StepPlace::Bench, Some(1)),
        step("Lay it on a tray.", 2, true, StepPlace::Bench, None),
        step("Bake until it is crisp.", 15, false, StepPlace::Oven, Some(5)),
    ];
    // Dried gently, and no good on another minute than those between.
    let mut gentle = (*like).clone();
    (gentle.id, gentle.name, gentle.oven) = (DishId::new("gentle").unwrap(), "Gently dried".into(), Some((150, 145, 155)));
    gentle.steps =
        vec![step("Lay it out.", 3, true, StepPlace::Bench, None), step("Dry it gently.", 15, false, StepPlace::Oven, Some(45))];
    cook(&mut plan, &Arc::new(twice), 1, Some(slot), 400);
    let alone = sheet_of(&plan, 1).summary.start;
    cook(&mut plan, &Arc::new(gentle), 1, Some(slot), 400);
    let sheet = sheet_of(&plan, 1);
    sheet::check(&plan, &sheet, at(6, 0)).unwrap();
    let heats: Vec<i64> = sheet
        .lines
        .iter()
        .filter_map(|l| match l.place {
            Place::Oven { celsius, ref shelves, .. } if !shelves.is_empty() => Some(celsius),
            _ => None,
        })
        .collect();
    assert_eq!(heats, [200, 150, 200], "{:?}", sheet.summary.sentences);
    assert!(alone - sheet.summary.start <= 5, "the other dish fits between: {} and {}", clock(alone), clock(sheet.summary.start));
}

#[test]
fn an_oven_that_stood_cold_between_two_meals_is_warmed_again() {
    let book = Book::shipped().unwrap();
    let mut plan = plan_of(&book, "celeriac", 2, Kitchen::default());
    let crumble = dish(&book, "fruit-crumble");
    let mut second = (*crumble).clone();
    second.id = DishId::new("second-crumble").unwrap();
    cook(&mut plan, &crumble, 1, Some(Slot { day: DayNo(1), mealtime: MealtimeId(2) }), 300);
    cook(&mut plan, &Arc::new(second), 1, Some(Slot { day: DayNo(1), mealtime: MealtimeId(1) }), 300);
    let sheet = sheet_of(&plan, 1);
    sheet::check(&plan, &sheet, at(6, 0)).unwrap();
    assert_eq!(sheet.lines.iter().filter(|l| l.kind == LineKind::OvenOn).count(), 2, "once for lunch, once for supper");
    assert!(sheet.summary.oven_minutes < 240, "{}", sheet.summary.oven_minutes);
    let later = replan(
        &sheet,
        &Progress {
            now: at(15, 0),
            done: sheet.lines.iter().filter(|l| l.to <= at(14, 0)).filter(|l| l.kind != LineKind::WashUp).map(|l| l.id).collect(),
            ..Progress::default()
        },
        &mut (),
    )
    .unwrap();
    assert_eq!(later.slips, []);
}

#[test]
fn what_is_cooled_on_purpose_is_not_said_to_be_kept_hot() {
    let plan = week("tomatoes-mended");
    let sheet = sheet_of(&plan, 3);
    let eggs = line(&sheet, "Boil the eggs hard, cool them");
    assert!(eggs.note.is_none() && eggs.cautions.iter().all(|c| !c.text.contains("63")), "{eggs:?}");
}
