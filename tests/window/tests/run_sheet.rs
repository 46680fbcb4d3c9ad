//! Does the window show a day's run sheet, tick it off while cooking, and set up the kitchen it is for?

use tranche::{
    app::action::Action,
    quantity::{DayNo, Portion, State},
    rotation::{Batch, Draw, Edit, Serving, Source},
    runsheet::{Wish, clock, prep_ahead, run_sheet},
};
use tranche_window_tests::{Hand as _, supper, wait_for, week, window_after, window_of};

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
    // What the file of ticks brings back to a fresh window.
    let mut w = window_after(plan, SIZE, w.state().hearth());
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

/// Opens Wednesday's sheet.
fn wednesday(w: &mut tranche_window_tests::Window<'_>) {
    w.press("Run sheet");
    w.press("Run sheet of Wednesday");
    wait_for(w, "Begin at ");
}

#[test]
fn steps_moved_by_hand_outlive_the_window_and_every_edit_that_leaves_them_room() {
    let plan = week("red-cabbage-mended");
    let sheet = run_sheet(&plan, DayNo(3), &Wish::default(), &mut ()).unwrap();
    let line =
        sheet.lines.iter().find(|l| sheet.can_move(l.id) && l.hands && sheet.slack(l.id).0 <= l.from - 6).expect("one has slack");
    let words: String = line.what.chars().take(20).collect();
    let mut w = window_of(plan.clone(), SIZE);
    wednesday(&mut w);
    let before = block(&w, &words);
    w.focus(&before);
    w.keys(&[egui::Key::ArrowLeft, egui::Key::ArrowLeft]);
    let moved = clock(line.from - 2);
    assert!(block(&w, &words).starts_with(&moved), "{}", block(&w, &words));
    let mut w = window_after(plan.clone(), SIZE, w.state().hearth());
    wednesday(&mut w);
    assert!(block(&w, &words).starts_with(&moved), "{}", block(&w, &words));
    assert!(w.sees("Some steps were moved by hand") && w.sees("As arranged"), "{:?}", w.names());
    // Another day's meal is taken away: this day's cooking is the same.
    let other = plan.batches.iter().find(|b| plan.servings_of(b.id).iter().all(|(s, _)| s.day != DayNo(3)) && b.day != DayNo(3));
    let other = other.expect("another day cooks").id;
    let slot = plan.servings_of(other)[0].0;
    let remove = Action::Edit(Edit::RemoveServing { slot, batch: other });
    let ctx = w.ctx.clone();
    w.state_mut().perform(remove, &ctx);
    w.run();
    wait_for(&mut w, "Begin at ");
    assert!(block(&w, &words).starts_with(&moved), "{}", block(&w, &words));
    // The kitchen opens after that minute: the step cannot stand there, and the page says so.
    let mut late = plan.clone();
    let opens = line.from - 1;
    late.kitchen.opens = jiff::civil::Time::new((opens / 60) as i8, (opens % 60) as i8, 0, 0).unwrap();
    if run_sheet(&late, DayNo(3), &Wish::default(), &mut ()).is_ok_and(|s| s.lines == sheet.lines) {
        let mut w = window_after(late, SIZE, w.state().hearth());
        wednesday(&mut w);
        assert!(w.sees("A step that you moved no longer fits and stands as arranged: "), "{:?}", w.names());
        assert_eq!(block(&w, &words), before);
    }
    // Pushed back to where it was arranged, no hand holds it any more.
    w.focus(&block(&w, &words));
    w.keys(&[egui::Key::ArrowRight, egui::Key::ArrowRight]);
    assert_eq!(block(&w, &words), before);
    assert!(!w.sees("As arranged"), "{:?}", w.names());
    assert!(w.state().hearth().all_cooking().is_empty());
}

#[test]
fn five_minutes_more_and_the_sheet_arranged_from_there_outlive_the_window() {
    let plan = week("red-cabbage-mended");
    let sheet = run_sheet(&plan, DayNo(3), &Wish::default(), &mut ()).unwrap();
    let bake = sheet.lines.iter().find(|l| l.what.starts_with("Bake until")).expect("rolls are baked");
    let mut w = window_of(plan.clone(), SIZE);
    w.state_mut().go_by_minute(bake.from + 10);
    wednesday(&mut w);
    w.press("Start cooking");
    w.step();
    w.press("5 minutes more for Bake until");
    wait_for(&mut w, "slips from 18:50 to ");
    let new = format!("{} to {}", clock(bake.from), clock(bake.to + 5));
    assert!(w.names().iter().any(|n| n.starts_with(&new)), "{new}: {:?}", w.names());
    let (now, says) = (block(&w, "Bake until"), w.names().into_iter().find(|n| n.contains("slips from 18:50")).unwrap());
    // It is closed, and opened again two minutes later.
    let mut w = window_after(plan.clone(), SIZE, w.state().hearth());
    w.state_mut().go_by_minute(bake.from + 12);
    w.press("Run sheet");
    wait_for(&mut w, "Leave cooking");
    (0..3).for_each(|_| w.step());
    assert_eq!(block(&w, "Bake until"), now);
    assert!(w.names().contains(&says), "{:?}", w.names());
    // Five minutes more are five more, and nothing was forgotten when the session is left with nothing ticked.
    w.press("5 minutes more for Bake until");
    wait_for(&mut w, &format!("{} to {}", clock(bake.from), clock(bake.to + 10)));
    w.press("Leave cooking");
    w.step();
    assert!(w.sees("Start cooking"), "{:?}", w.names());
    assert!(w.state().hearth().all_cooking().is_empty(), "it is over");
}

#[test]
fn a_session_whose_day_was_changed_meanwhile_says_so_and_keeps_what_still_fits() {
    let plan = week("red-cabbage-mended");
    let mut w = window_of(plan.clone(), SIZE);
    w.state_mut().go_by_minute(17 * 60);
    wednesday(&mut w);
    w.press("Start cooking");
    w.step();
    let line = w.names().into_iter().rfind(|n| n.starts_with("17:00 to 17:03, ring 1")).expect("the first line");
    w.press(&line);
    // Somebody else made a dish out of the plan with fewer steps of the same words.
    let mut other = plan.clone();
    let batch = other.batches.iter().find(|b| b.day == DayNo(3)).expect("something is cooked").clone();
    let mut dish = (*other.dishes[&batch.dish]).clone();
    let last = dish.steps.len() - 1;
    dish.steps[last].text = "Bring it to the table.".into();
    other.dishes.insert(batch.dish.clone(), std::sync::Arc::new(dish));
    let mut w = window_after(other, SIZE, w.state().hearth());
    w.state_mut().go_by_minute(17 * 60 + 5);
    w.press("Run sheet");
    wait_for(&mut w, "The day's cooking has been changed since you began");
    (0..3).for_each(|_| w.step());
    let line = w.names().into_iter().rfind(|n| n.starts_with("17:00 to 17:03, ring 1")).expect("the first line");
    w.press(&line);
    assert!(w.sees("Still to do: "), "it was ticked: {:?}", w.names());
}

#[test]
fn what_was_taken_and_left_of_what_may_be_done_ahead_outlives_the_window() {
    let book = tranche::book::Book::shipped().unwrap();
    let mut plan = week("red-cabbage-mended");
    // Two dishes of the oven, two days apart.
    let by_id = |id: &str| book.dishes().find(|d| d.id.as_str() == id).expect("in the book").clone();
    let (first, second) = (by_id("charred-wedges-cumin-yoghurt"), by_id("cabbage-slabs-sesame-lemon"));
    plan.batches.clear();
    plan.meals.clear();
    for (dish, day) in [(first, 1), (second, 3)] {
        let id = plan.next_batch_id();
        let part = dish.parts.iter().find(|p| plan.kind.part(p).is_some()).expect("its part").clone();
        let portion = Portion::of(State::Prepared, 600);
        plan.dishes.insert(dish.id.clone(), dish.clone());
        plan.batches.push(Batch {
            id,
            dish: dish.id.clone(),
            day: DayNo(day),
            draws: vec![Draw { from: Source::Part(part), portion, cut_on: None }],
        });
        let serving = Serving { batch: id, portion: Portion::of(dish.state, 400), eaters: vec![], twins: vec![] };
        plan.meals.entry(supper(day)).or_default().servings.push(serving);
    }
    let found = prep_ahead(&plan, DayNo(3), &mut ());
    let proposal = found.iter().find(|p| p.ahead.is_some()).expect("the slabs are roasted with the wedges");
    let said: String = proposal.words.chars().take_while(|c| !c.is_ascii_digit()).collect();
    let mut w = window_of(plan.clone(), SIZE);
    wednesday(&mut w);
    w.press("What may be done ahead?");
    wait_for(&mut w, "Over both days: ");
    w.press(&format!("Take: {said}"));
    wait_for(&mut w, "Begin at ");
    assert!(w.sees("Done ahead, for Wednesday: "), "{:?}", w.names());
    let mut w = window_after(plan.clone(), SIZE, w.state().hearth());
    wednesday(&mut w);
    assert!(w.sees("Done ahead, for Wednesday: "), "{:?}", w.names());
    let begin = w.names().into_iter().find(|n| n.starts_with("Begin at ")).expect("a start");
    let of_kitchen = run_sheet(&proposal.kitchen_plan, DayNo(3), &Wish::default(), &mut ()).unwrap();
    assert!(begin.starts_with(&format!("Begin at {}", clock(of_kitchen.summary.start))), "{begin}");
    // Without the first dish nothing is roasted along with it.
    let gone = plan.batches.iter().find(|b| b.day == DayNo(1)).unwrap().id;
    let mut without = plan.clone();
    without.batches.retain(|b| b.id != gone);
    without.meals.values_mut().for_each(|m| m.servings.retain(|s| s.batch != gone));
    let mut other = window_after(without, SIZE, w.state().hearth());
    wednesday(&mut other);
    assert!(other.sees("No longer done ahead, since the plan has changed: "), "{:?}", other.names());
    w.press("As planned, nothing ahead");
    wait_for(&mut w, "Begin at ");
    w.press("What may be done ahead?");
    wait_for(&mut w, "Over both days: ");
    w.press(&format!("Leave: {said}"));
    let mut w = window_after(plan, SIZE, w.state().hearth());
    wednesday(&mut w);
    w.press("What may be done ahead?");
    (0..40).for_each(|_| {
        std::thread::sleep(std::time::Duration::from_millis(50));
        w.step();
    });
    assert!(!w.sees(&format!("Take: {said}")), "{:?}", w.names());
}
