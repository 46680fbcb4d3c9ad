//! Does the window show a day's run sheet, tick it off while cooking, and set up the kitchen it is for?

use tranche_window_tests::{Hand as _, wait_for, week, window_of};

const SIZE: [f32; 2] = [1440.0, 2600.0];

#[test]
fn a_day_has_its_sheet_with_times_places_and_cautions() {
    let mut w = window_of(week("red-cabbage-mended"), SIZE);
    w.press("Run sheet");
    w.press("Run sheet of Wednesday");
    wait_for(&mut w, "Begin at 17:00, Wednesday supper at 18:50");
    assert!(w.names().iter().any(|n| n.starts_with("17:00 to 17:03, ring 1")), "{:?}", w.names());
    assert!(w.sees("Raw: nothing else comes on this board"), "{:?}", w.names());
    assert!(w.sees("Proven: nothing can be begun or done later."), "{:?}", w.names());
}

#[test]
fn lines_tick_off_while_cooking_and_the_next_one_stands_in_large_letters() {
    let mut w = window_of(week("red-cabbage-mended"), SIZE);
    w.press("Run sheet");
    w.press("Run sheet of Wednesday");
    wait_for(&mut w, "Begin at 17:00");
    w.press("Start cooking");
    w.step();
    let line = w.names().into_iter().rfind(|n| n.starts_with("17:00 to 17:03, ring 1")).expect("the first line");
    let rows = || "Fill the biggest pan";
    assert!(w.sees(rows()), "{:?}", w.names());
    w.press(&line);
    w.step();
    assert!(w.names().iter().any(|n| n.starts_with("Done: ")), "{:?}", w.names());
    w.press("Leave cooking");
    w.step();
    assert!(w.sees("Begin at 17:00"), "{:?}", w.names());
}

#[test]
fn kitchen_fridge_and_freezer_are_set_on_the_household_s_sheet_and_part_of_the_plan() {
    let mut w = window_of(week("red-cabbage-mended"), [1440.0, 4000.0]);
    w.press("Household");
    w.press("The kitchen has 2 cooks");
    assert_eq!(w.state().rotation().kitchen.cooks, 2);
    w.press("The fridge runs at 8 °C");
    assert_eq!(w.state().rotation().fridge.runs_at, Some(8.0));
    w.press("The freezer: at −18 °C or colder");
    assert!(w.state().rotation().storage.freezer);
    w.press("Without power on Tuesday");
    assert!(w.sees("Note the power cut"), "{:?}", w.names());
}
