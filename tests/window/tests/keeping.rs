//! Does the window show how long everything keeps, how what is kept back gets cold, and who eats what?

use tranche::{judge, rotation::FoodBox};
use tranche_window_tests::{Hand as _, Window, wait_for, week, window, window_of};

const TALL: [f32; 2] = [1440.0, 2200.0];

#[test]
fn every_clock_is_told_with_its_state_its_box_its_limits_and_what_is_left_when() {
    let mut w = window_of(week("red-cabbage-mended"), TALL);
    w.press("Keeping");
    let names = w.names();
    let middle = names.iter().find(|n| n.starts_with("Middle, raw, wrapped: since Monday")).expect("the middle has a clock");
    assert!(middle.contains("safe to Saturday"), "{middle}");
    assert!(middle.contains("; 800 g, 280 g from Tuesday 18:50, nothing left from Thursday 18:50"), "{middle}");
    let rolls =
        names.iter().find(|n| n.starts_with("Leaf rolls in tomato, beef and rice, cooked, box")).expect("the rolls have one");
    assert!(rolls.contains("safe to Thursday 18:50; 50 g"), "rice by the next day: {rolls}");
    let bars = judge::clock_bars(w.state().rotation());
    for bar in &bars {
        assert!(names.iter().any(|n| n.starts_with(&format!("{}, ", bar.what))), "{} is missing: {names:?}", bar.what);
    }
}

#[test]
fn the_bench_says_of_what_is_kept_until_when_it_eats_well_and_until_when_it_is_safe() {
    let w = window("red-cabbage-mended");
    assert!(w.names().iter().any(|n| n == "Outer leaves, uncut: eats well to Friday, safe to Saturday"), "{:?}", w.names());
}

#[test]
fn a_warmer_fridge_shortens_the_bars_on_the_same_page() {
    let mut w = window_of(week("turkey-mended"), TALL);
    w.press("Keeping");
    let end = |w: &Window<'_>| {
        let name = w.names().into_iter().find(|n| n.starts_with("Breast, cooked, box")).expect("the breast has a clock");
        name.split("safe to ").nth(1).map(|rest| rest.split([',', ';']).next().unwrap_or("").to_string())
    };
    let before = end(&w);
    w.press("Household");
    w.press("The fridge runs at 10 °C");
    w.press("Close");
    assert_ne!(end(&w), before, "{:?}", w.names());
}

#[test]
fn a_box_that_cools_too_slowly_is_drawn_with_ways_that_do() {
    let mut w = window_of(week("turkey-mended"), TALL);
    w.press("Keeping");
    w.press("Keeping: Cooling");
    wait_for(&mut w, "Curve of roast turkey, off the bone: Not cold in time");
    w.press("Do it so: Divide it between 2 boxes");
    wait_for(&mut w, "Curve of roast turkey, off the bone: Cold in time");
    w.press("Undo");
    wait_for(&mut w, "Curve of roast turkey, off the bone: Not cold in time");
}

#[test]
fn a_cooking_is_boxed_up_another_way_by_presses_and_put_back_as_usual() {
    let mut w = window_of(week("turkey-mended"), TALL);
    w.press("Keeping");
    w.press("Keeping: Cooling");
    wait_for(&mut w, "Curve of roast turkey, off the bone: Not cold in time");
    w.press("Box up roast turkey, off the bone another way");
    w.press("roast turkey, off the bone goes into one more");
    wait_for(&mut w, "Curve of roast turkey, off the bone: Cold in time");
    w.press("roast turkey, off the bone goes into: tray");
    wait_for(&mut w, "in 1 tray");
    w.press("roast turkey, off the bone as usual");
    assert!(w.state().rotation().storage.boxed.is_empty());
    wait_for(&mut w, "Curve of roast turkey, off the bone: Not cold in time");
}

#[test]
fn each_plate_has_its_place_in_the_table() {
    let mut w = window_of(week("turkey-mended"), TALL);
    w.press("Keeping");
    w.press("Keeping: Who eats what");
    let names = w.names();
    for seat in judge::table_of_eaters(w.state().rotation()) {
        let place = format!("{}, {}: ", w.state().rotation().slot_name(seat.slot), seat.name);
        let told = names.iter().find(|n| n.starts_with(&place)).unwrap_or_else(|| panic!("{place} is missing: {names:?}"));
        for helping in &seat.helpings {
            assert!(told.contains(&helping.words()), "{told}");
        }
    }
}

#[test]
fn boxes_and_a_rule_of_one_s_own_go_into_the_plan_and_nonsense_does_not() {
    let mut w = window_of(week("turkey-mended"), TALL);
    w.press("Household");
    w.fill("Box, called", "Flat box");
    for (label, cm) in [("Length, cm", "28"), ("Width, cm", "18"), ("Height, cm", "0.5")] {
        w.fill(label, cm);
    }
    w.press("Add the box");
    assert!(w.state().rotation().storage.boxes.is_empty(), "half a centimetre is no box");
    w.fill("Height, cm", "4.5");
    w.press("Add the box");
    let own = FoodBox { name: "flat box".into(), size_mm: (280, 180, 45), metal: false, count: 1 };
    assert_eq!(w.state().rotation().storage.boxes, [own], "{:?}", w.names());
    w.press("One flat box more");
    assert_eq!(w.state().rotation().storage.boxes[0].count, 2);
    w.fill("As cold as, °C", "8");
    w.fill("Within, minutes", "90");
    w.press("Keep this rule");
    let rule = w.state().rotation().storage.cooling.expect("it is kept");
    assert_eq!((rule.to_c, rule.within), (8.0, 90));
    w.press("No rule for cooling of our own");
    assert_eq!(w.state().rotation().storage.cooling, None);
    w.press("Take away the flat box");
    assert!(w.state().rotation().storage.boxes.is_empty());
}

#[test]
fn the_freezer_is_there_only_where_the_kitchen_has_one_and_a_press_puts_things_in_and_takes_them_out() {
    let mut w = window_of(week("red-cabbage-mended"), TALL);
    w.press("Keeping");
    assert!(!w.names().iter().any(|n| n.starts_with("Freeze ")), "none unless somebody says so");
    w.press("Household");
    w.press("The freezer: at");
    w.press("Close");
    let freeze = w.names().into_iter().find(|n| n.starts_with("Freeze Leaf rolls")).expect("the rolls wait a night");
    w.press(&freeze);
    assert_eq!(w.state().rotation().storage.frozen.len(), 1);
    assert!(w.names().iter().any(|n| n.contains("in the freezer from Wednesday to Thursday")), "{:?}", w.names());
    w.press("Keep out of the freezer: Leaf rolls");
    assert!(w.state().rotation().storage.frozen.is_empty());
}

#[test]
fn the_models_that_shorten_limits_are_shown_with_their_constants_and_sources() {
    let mut w = window_of(week("turkey-mended"), TALL);
    w.press("Keeping");
    w.press("How a warm fridge shortens it");
    let names = w.names();
    assert!(names.iter().any(|n| n.contains("−1.18") && n.contains("FAO/WHO 2004") && n.contains("3 to 35")), "{names:?}");
    assert!(names.iter().any(|n| n == "2.2 ×"), "Listeria at 8 °C against 5 °C: (9.18 / 6.18) squared is 2.2: {names:?}");
}
