//! Does the window show a day's run sheet, tick it off while cooking, and set up the kitchen it is for?

use tranche::{
    quantity::DayNo,
    runsheet::{Wish, clock, prep_ahead, run_sheet},
};
use tranche_window_tests::{Hand as _, wait_for, week, window_of, window_with_ticks};

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

/// The block of a line on the lanes: the first thing of this name; its line in the table comes after it.
fn block(w: &tranche_window_tests::Window<'_>, words: &str) -> String {
    w.names()
        .into_iter()
        .find(|n| n.starts_with(|c: char| c.is_ascii_digit()) && n.contains(" to ") && n.contains(words))
        .unwrap_or_else(|| panic!("{words}: {:?}", w.names()))
}

#[test]
fn a_step_is_pushed_within_its_slack_by_the_keys_and_set_back_as_arranged() {
    let plan = week("red-cabbage-mended");
    let sheet = run_sheet(&plan, DayNo(3), &Wish::default(), &mut ()).unwrap();
    let line =
        sheet.lines.iter().find(|l| sheet.can_move(l.id) && l.hands && sheet.slack(l.id).0 <= l.from - 6).expect("one has slack");
    let words: String = line.what.chars().take(20).collect();
    let mut w = window_of(plan, SIZE);
    w.press("Run sheet");
    w.press("Run sheet of Wednesday");
    wait_for(&mut w, "Begin at 17:00");
    let before = block(&w, &words);
    assert!(before.starts_with(&clock(line.from)), "{before}");
    w.focus(&before);
    w.keys(&[egui::Key::ArrowLeft]);
    let after = block(&w, &words);
    assert!(after.starts_with(&clock(line.from - 1)), "{after}");
    assert!(w.names().iter().any(|n| n.starts_with("Moved, ")), "{:?}", w.names());
    // The keyboard stays on it, and five minutes go with Shift.
    w.key_press_modifiers(egui::Modifiers::SHIFT, egui::Key::ArrowLeft);
    w.run();
    assert!(block(&w, &words).starts_with(&clock(line.from - 6)), "{}", block(&w, &words));
    assert!(w.sees("Some steps were moved by hand"), "{:?}", w.names());
    w.press("As arranged");
    assert_eq!(block(&w, &words), before);
    assert!(!w.sees("Some steps were moved by hand"));
}

#[test]
fn a_step_drawn_beyond_its_slack_stays_and_the_reason_is_said() {
    let plan = week("red-cabbage-mended");
    let mut w = window_of(plan, SIZE);
    w.press("Run sheet");
    w.press("Run sheet of Wednesday");
    wait_for(&mut w, "Begin at 17:00");
    let bake = block(&w, "Bake until");
    let from = w.place(&bake);
    w.drag_at(from);
    w.run();
    for far in [20.0, 60.0, 120.0] {
        w.hover_at(from + egui::vec2(far, 0.0));
        w.run();
    }
    w.drop_at(from + egui::vec2(120.0, 0.0));
    w.run();
    assert!(w.names().iter().any(|n| n.starts_with("Not moved. ") && n.contains("stays at")), "{:?}", w.names());
    assert_eq!(block(&w, "Bake until"), bake);
}

#[test]
fn ticks_of_cooking_outlive_the_window() {
    let plan = week("red-cabbage-mended");
    let mut w = window_of(plan.clone(), SIZE);
    w.press("Run sheet");
    w.press("Run sheet of Wednesday");
    wait_for(&mut w, "Begin at 17:00");
    w.press("Start cooking");
    w.step();
    let line = w.names().into_iter().rfind(|n| n.starts_with("17:00 to 17:03, ring 1")).expect("the first line");
    w.press(&line);
    let ticks = w.state().hearth().ticks().clone();
    drop(w);
    // What the file of ticks brings back to a fresh window.
    let mut w = window_with_ticks(plan, SIZE, ticks);
    w.press("Run sheet");
    wait_for(&mut w, "Leave cooking");
    // The page finds its height.
    (0..3).for_each(|_| w.step());
    w.press(&line);
    assert!(w.sees("Still to do: "), "it was ticked: {:?}", w.names());
    w.press("Leave cooking");
    assert!(w.sees("Begin at 17:00") && w.sees("Start cooking"), "{:?}", w.names());
}

#[test]
fn what_may_be_done_ahead_is_shown_with_its_figures_and_taken_or_left() {
    let weeks = ["red-cabbage-mended", "salmon-mended", "turkey-mended", "tomatoes-mended", "celeriac-mended"].map(week);
    let ahead = |plan: &tranche::rotation::Rotation| {
        plan.day_numbers().map(|d| (d, prep_ahead(plan, d, &mut ()))).find(|(_, found)| !found.is_empty())
    };
    let (plan, (day, found)) = weeks.into_iter().find_map(|p| ahead(&p).map(|found| (p, found))).expect("there is one");
    let name = plan.day_name(day);
    let mut w = window_of(plan, SIZE);
    w.press("Run sheet");
    w.press(&format!("Run sheet of {name}"));
    wait_for(&mut w, "Begin at ");
    w.press("What may be done ahead?");
    wait_for(&mut w, "Over both days: ");
    assert!(w.names().contains(&found[0].figures()), "{:?}", w.names());
    // Names speak of plain blanks.
    let said: String = found[0].words.replace('\u{a0}', " ").chars().take(24).collect();
    w.press(&format!("Leave: {said}"));
    assert!(!w.sees(&format!("Take: {said}")), "{:?}", w.names());
}
