//! Can everything on the bench be done by drag, by plain clicks and by keyboard, undone each time, and called off?

use egui::{Key, Modifiers};
use std::time::Duration;
use tranche::{
    app::action::Action,
    rotation::{BatchId, Rotation, Slot},
};
use tranche_window_tests::{Hand as _, Window, lunch, supper, week, window, window_of};

const OPEN: &str = "red-cabbage-open";
const WEEK: &str = "red-cabbage-mended";

/// Grams and dish of the main serving of a meal.
fn served(window: &Window<'_>, slot: Slot) -> Option<(String, u32)> {
    let r = window.state().rotation();
    let serving = r.meal(slot).servings.iter().max_by_key(|s| s.portion.get())?;
    Some((r.dish_of(serving.batch)?.name.clone(), serving.portion.get()))
}

fn dish(window: &Window<'_>, slot: Slot) -> String {
    served(window, slot).map_or("nothing".into(), |(name, _)| name)
}

/// One undo brings back exactly what was.
fn undoes_to(window: &mut Window<'_>, before: &Rotation) {
    assert!(**window.state().rotation() != *before, "something was done");
    window.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    window.run();
    assert_eq!(**window.state().rotation(), *before);
}

#[test]
fn a_free_share_is_dragged_from_the_block_to_a_meal() {
    let mut w = window(OPEN);
    w.drag("middle, free, 280 g", "Thursday supper, empty");
    let (_, grams) = served(&w, supper(4)).expect("it is served");
    assert_eq!(grams, 280);
    assert!(w.sees("Thursday supper, "), "{:?}", w.names());
    assert!(w.sees("middle, Thursday supper, 280 g"));
    undoes_to(&mut w, &week(OPEN));
}

#[test]
fn a_dish_is_dragged_from_the_shelf_to_a_meal() {
    let mut w = window(OPEN);
    w.search("pancakes");
    w.drag("Crisp shred pancakes, ginger-soy dip, dish", "Thursday supper, empty");
    assert_eq!(served(&w, supper(4)), Some(("Crisp shred pancakes, ginger-soy dip".into(), 280)));
    undoes_to(&mut w, &week(OPEN));
}

#[test]
fn a_card_is_dragged_to_an_empty_meal_and_its_making_goes_along() {
    let mut w = window(WEEK);
    w.drag("Charred wedges, cumin yoghurt, 520 g, Tuesday supper", "Monday lunch, empty");
    assert_eq!(dish(&w, lunch(1)), "Charred wedges, cumin yoghurt");
    assert!(w.sees("Tuesday supper, empty"));
    undoes_to(&mut w, &week(WEEK));
}

#[test]
fn a_card_dragged_onto_another_swaps_the_two() {
    let mut w = window(WEEK);
    w.drag("Sharp slaw with pear and mustard, 260 g, Monday supper", "Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    assert_eq!(dish(&w, supper(2)), "Sharp slaw with pear and mustard");
    assert_eq!(dish(&w, supper(1)), "Charred wedges, cumin yoghurt");
    undoes_to(&mut w, &week(WEEK));
}

#[test]
fn with_the_command_key_a_card_is_served_a_second_time_from_its_batch() {
    let mut w = window(WEEK);
    w.drag_with("Charred wedges, cumin yoghurt, 520 g, Tuesday supper", "Wednesday lunch, empty", Modifiers::COMMAND);
    let r = w.state().rotation().clone();
    let (there, here) = (r.meal(lunch(3)), r.meal(supper(2)));
    assert_eq!(there.servings[0].batch, here.servings[0].batch, "one batch, two meals");
    assert_eq!(there.servings[0].portion.get() + here.servings[0].portion.get(), 520, "nothing else was free");
    undoes_to(&mut w, &week(WEEK));
}

#[test]
fn a_card_dragged_onto_the_block_is_taken_off() {
    let mut w = window(WEEK);
    w.drag("Charred wedges, cumin yoghurt, 520 g, Tuesday supper", "middle, Thursday supper");
    assert!(w.sees("Tuesday supper, empty"));
    assert!(w.sees("middle, free, 520 g"));
    undoes_to(&mut w, &week(WEEK));
}

#[test]
fn the_edge_of_a_share_is_pulled_in_one_step() {
    let mut w = window(WEEK);
    let edge = w.place("edge of middle, Tuesday supper");
    w.drag_at(edge);
    w.run();
    for by in [10.0, 40.0, 80.0] {
        w.hover_at(edge - egui::vec2(by, 0.0));
        w.run();
    }
    w.drop_at(edge - egui::vec2(80.0, 0.0));
    w.run();
    let (_, grams) = served(&w, supper(2)).expect("still served");
    assert!((400..520).contains(&grams) && grams % 10 == 0, "{grams}");
    undoes_to(&mut w, &week(WEEK));
}

#[test]
fn escape_in_mid_drag_and_a_drop_outside_change_nothing() {
    let mut w = window(OPEN);
    let (from, to) = (w.place("middle, free, 280 g"), w.place("Thursday supper, empty"));
    w.drag_at(from);
    w.run();
    w.hover_at(to);
    w.run();
    assert!(w.state().carry().is_some(), "it is in the hand");
    w.keys(&[Key::Escape]);
    assert!(w.state().carry().is_none(), "Escape lets it go");
    w.drop_at(to);
    w.run();
    assert_eq!(**w.state().rotation(), week(OPEN));
    let outside = egui::pos2(to.x, 880.0);
    w.drag_at(from);
    w.run();
    w.hover_at(outside);
    w.run();
    w.drop_at(outside);
    w.run();
    assert!(w.state().carry().is_none());
    assert_eq!(**w.state().rotation(), week(OPEN));
}

#[test]
fn a_drop_that_cannot_be_says_why_and_changes_nothing() {
    let mut w = window(WEEK);
    // The roll is baked on Wednesday evening: it cannot be eaten again on Monday.
    w.drag_with("Leaf rolls in tomato, beef and rice, 250 g, Wednesday supper", "Monday lunch, empty", Modifiers::COMMAND);
    assert_eq!(**w.state().rotation(), week(WEEK));
    assert!(w.state().live().contains("is made on Wednesday"), "{}", w.state().live());
}

#[test]
fn the_keyboard_picks_up_walks_and_puts_down_a_dish_a_share_and_a_card() {
    let mut w = window(OPEN);
    w.focus("middle, free, 280 g");
    w.keys(&[Key::Enter]);
    assert!(w.state().live().contains("is in your hand"), "{}", w.state().live());
    // It is held over the meal that the shelf is about: the open one.
    w.keys(&[Key::ArrowLeft]);
    assert!(w.state().live().starts_with("Wednesday supper: "), "{}", w.state().live());
    w.keys(&[Key::ArrowRight, Key::Enter]);
    assert_eq!(served(&w, supper(4)).map(|s| s.1), Some(280));
    undoes_to(&mut w, &week(OPEN));

    w.search("pancakes");
    w.focus("Crisp shred pancakes, ginger-soy dip, dish");
    w.keys(&[Key::Space, Key::Enter]);
    assert_eq!(dish(&w, supper(4)), "Crisp shred pancakes, ginger-soy dip");
    undoes_to(&mut w, &week(OPEN));

    let mut w = window(WEEK);
    w.focus("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.keys(&[Key::Enter, Key::ArrowLeft, Key::ArrowUp, Key::Enter]);
    assert_eq!(dish(&w, lunch(1)), "Charred wedges, cumin yoghurt");
    undoes_to(&mut w, &week(WEEK));

    w.focus("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.keys(&[Key::Enter, Key::ArrowLeft, Key::Enter]);
    assert_eq!(dish(&w, supper(1)), "Charred wedges, cumin yoghurt", "onto a card: swapped");
    undoes_to(&mut w, &week(WEEK));
}

#[test]
fn escape_by_keyboard_lets_go_and_delete_takes_off() {
    let mut w = window(WEEK);
    w.focus("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.keys(&[Key::Enter, Key::ArrowLeft, Key::Escape]);
    assert!(w.state().carry().is_none());
    assert_eq!(**w.state().rotation(), week(WEEK));
    w.focus("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.keys(&[Key::Delete]);
    assert!(w.sees("Tuesday supper, empty"));
    undoes_to(&mut w, &week(WEEK));
}

#[test]
fn the_keyboard_goes_on_from_where_it_put_down() {
    let mut w = window(WEEK);
    w.focus("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.keys(&[Key::Enter, Key::ArrowLeft, Key::ArrowUp, Key::Enter]);
    w.keys(&[Key::Enter, Key::ArrowRight, Key::Enter]);
    assert_eq!(dish(&w, lunch(2)), "Charred wedges, cumin yoghurt", "the card that was put down had the keyboard");
}

#[test]
fn plain_clicks_pick_up_and_put_down() {
    let mut w = window(OPEN);
    w.press("middle, free, 280 g");
    assert!(w.state().carry().is_some());
    w.press("Thursday supper, empty");
    assert_eq!(served(&w, supper(4)).map(|s| s.1), Some(280));
    undoes_to(&mut w, &week(OPEN));

    w.search("pancakes");
    w.press("Crisp shred pancakes, ginger-soy dip, dish");
    w.press("Thursday supper, empty");
    assert_eq!(dish(&w, supper(4)), "Crisp shred pancakes, ginger-soy dip");
    undoes_to(&mut w, &week(OPEN));

    let mut w = window(WEEK);
    w.press("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.press("Pick it up to move it");
    w.press("Monday lunch, empty");
    assert_eq!(dish(&w, lunch(1)), "Charred wedges, cumin yoghurt");
    undoes_to(&mut w, &week(WEEK));
}

#[test]
fn grams_are_typed_as_people_write_them_in_one_step() {
    let mut w = window(WEEK);
    w.press("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.focus("Grams of Charred wedges, cumin yoghurt");
    w.key_press_modifiers(Modifiers::COMMAND, Key::A);
    w.run();
    for letter in "12 oz".chars() {
        w.event(egui::Event::Text(letter.to_string()));
        w.run();
    }
    assert_eq!(served(&w, supper(2)).map(|s| s.1), Some(520), "half a figure is nobody's wish");
    w.keys(&[Key::Enter]);
    assert_eq!(served(&w, supper(2)).map(|s| s.1), Some(340));
    undoes_by_button(&mut w, &week(WEEK));
}

/// Undo by its button: a text field has an undo of its own on the keys.
fn undoes_by_button(w: &mut Window<'_>, before: &Rotation) {
    w.press("Undo: ");
    assert_eq!(**w.state().rotation(), *before, "one typing is one step");
}

#[test]
fn a_mass_that_cannot_be_had_is_refused_beside_the_field() {
    let mut w = window(WEEK);
    w.press("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.focus("Grams of Charred wedges, cumin yoghurt");
    w.key_press_modifiers(Modifiers::COMMAND, Key::A);
    w.run();
    for letter in "900 g".chars() {
        w.event(egui::Event::Text(letter.to_string()));
        w.run();
    }
    assert!(w.names().iter().any(|n| n.contains("only 520")), "{:?}", w.names());
    w.keys(&[Key::Enter]);
    assert_eq!(**w.state().rotation(), week(WEEK), "no prefix of it stays behind");
    assert!(w.state().live().contains("only 520"), "it is spoken, too: {}", w.state().live());
    assert!(w.names().iter().any(|n| n.contains("only 520")), "and stays beside the field");
}

#[test]
fn escape_in_the_grams_field_puts_back_what_was() {
    let mut w = window(WEEK);
    w.press("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.focus("Grams of Charred wedges, cumin yoghurt");
    w.key_press_modifiers(Modifiers::COMMAND, Key::A);
    w.run();
    w.event(egui::Event::Text("300 g".into()));
    w.run();
    w.keys(&[Key::Escape]);
    assert_eq!(**w.state().rotation(), week(WEEK));
}

#[test]
fn a_clicked_card_hears_the_keys() {
    let mut w = window(WEEK);
    w.press("Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    w.keys(&[Key::Minus]);
    assert_eq!(served(&w, supper(2)).map(|s| s.1), Some(510));
    w.keys(&[Key::Delete]);
    assert!(w.sees("Tuesday supper, empty"));
}

#[test]
fn every_cell_says_what_a_drop_would_come_to() {
    let mut w = window(OPEN);
    let ctx = w.ctx.clone();
    w.state_mut()
        .perform(Action::PickUp(tranche::app::carry::Carried::Part(tranche::book::PartId::new("middle").unwrap())), &ctx);
    w.state_mut().perform(Action::HoldByKeys(supper(4)), &ctx);
    w.run();
    w.keys(&[Key::ArrowLeft]);
    assert!(w.state().live().starts_with("Wednesday supper: "), "{}", w.state().live());
    w.keys(&[Key::ArrowRight]);
    let said = tranche::app::view::spoken(w.state().live());
    assert!(said.starts_with("Thursday supper: fits: 280 g of 280 g free; ") && said.contains("feels like"), "{said}");
}

#[test]
fn what_a_screen_reader_is_told_has_the_pinned_form() {
    let w = window(WEEK);
    for begins in [
        "Monday lunch, empty",
        "Tuesday supper, Charred wedges, cumin yoghurt, 520 g",
        "Charred wedges, cumin yoghurt, 520 g, Tuesday supper, ",
        "middle, Tuesday supper, 520 g",
        "tight heart, Quick vinegar pickle, banked, 140 g",
        "Left be, Bo asked for the sixth roll: Thursday lunch is too like Wednesday supper for Bo",
        "Note: Yoghurt: 50 g of the 300 g pot is left after Thursday; eat by Saturday",
        "Monday supper to Tuesday supper: fine: both purple",
        "usable 1,500 g, in meals 1,360 g, banked 140 g",
        "Plain sharp slaw with ham and bread, dish, crisp",
    ] {
        assert!(w.sees(begins), "{begins}\n{}", w.names().join("\n"));
    }
}

#[test]
fn a_warning_can_be_left_with_a_reason_and_speak_again() {
    let mut w = window("red-cabbage-unhappy");
    w.focus("Leave it be: Tuesday supper is too like");
    w.keys(&[Key::Enter]);
    w.event(egui::Event::Text("birthday request".into()));
    w.keys(&[Key::Enter]);
    assert!(!w.sees("Warning: Tuesday supper is too like"), "{:?}", w.names());
    let said = w.state().rotation().overruled.clone();
    assert_eq!(said.last().map(|o| o.reason.as_str()), Some("birthday request"));
    undoes_to(&mut w, &week("red-cabbage-unhappy"));
    assert!(w.sees("Warning: Tuesday supper is too like"));
}

#[test]
fn a_mend_is_one_press_and_one_step() {
    let mut w = window(OPEN);
    // Mends are tried on a worker; the window is told when they are found.
    for _ in 0..200 {
        if w.sees("Mend: ") {
            break;
        }
        std::thread::sleep(Duration::from_millis(20));
        w.run();
    }
    let before = w.names().iter().filter(|n| n.starts_with("Warning: ")).count();
    w.press("Mend: ");
    let after = w.names().iter().filter(|n| n.starts_with("Warning: ")).count();
    assert!(after < before, "{before} warnings, then {after}");
    undoes_to(&mut w, &week(OPEN));
}

#[test]
fn a_settled_bench_asks_for_no_repaint() {
    for name in [WEEK, OPEN, "tomatoes-unhappy"] {
        let mut w = window(name);
        // Until the worker with the mends has reported.
        for _ in 0..100 {
            std::thread::sleep(Duration::from_millis(10));
            w.run();
        }
        let wait = w.output().viewport_output[&egui::ViewportId::ROOT].repaint_delay;
        assert_eq!(wait, Duration::MAX, "{name}");
    }
}

#[test]
fn every_worked_week_is_drawn_at_every_size_with_a_name_for_everything() {
    for name in ["red-cabbage-unhappy", "salmon-mended", "salmon-unhappy", "turkey-mended", "tomatoes-mended", "celeriac-mended"]
    {
        for size in [[720.0, 520.0], [1024.0, 700.0], [1440.0, 900.0], [1920.0, 1080.0]] {
            let w = window_of(week(name), size);
            assert!(w.sees("usable "), "{name} at {size:?}");
        }
    }
}

#[test]
fn in_a_narrow_window_shelf_and_findings_are_drawers() {
    let mut w = window_of(week(OPEN), [1024.0, 700.0]);
    assert!(!w.sees("Crisp shred pancakes, ginger-soy dip, dish"));
    w.press("Dishes");
    w.search("pancakes");
    w.drag("Crisp shred pancakes, ginger-soy dip, dish", "Thursday supper, empty");
    assert_eq!(dish(&w, supper(4)), "Crisp shred pancakes, ginger-soy dip");
    w.press("What to mend");
    assert!(w.sees("Note: "));
}

#[test]
fn a_batch_of_the_bank_is_served_beside_a_meal() {
    let mut w = window(OPEN);
    w.drag("Quick vinegar pickle, made ahead on Monday", "Charred wedges, cumin yoghurt, 520 g, Tuesday supper");
    let r = w.state().rotation().clone();
    assert!(r.meal(supper(2)).servings.len() == 2, "{:?}", r.meal(supper(2)));
    assert!(r.batch(BatchId(r.meal(supper(2)).servings[1].batch.0)).is_some());
    undoes_to(&mut w, &week(OPEN));
}

#[test]
fn a_share_pressed_and_pulled_away_within_one_frame_is_still_carried() {
    let mut w = window("red-cabbage-open");
    let (from, to) = (w.place("middle, free, 280 g"), w.place("Thursday supper, empty"));
    w.event(egui::Event::PointerMoved(from));
    w.run();
    // Both in one frame; `event` would give each a frame of its own.
    let (button, modifiers) = (egui::PointerButton::Primary, Modifiers::NONE);
    let pressed = egui::Event::PointerButton { pos: from, button, pressed: true, modifiers };
    w.input_mut().events.extend([pressed, egui::Event::PointerMoved(to)]);
    w.step();
    w.event(egui::Event::PointerButton {
        pos: to,
        button: egui::PointerButton::Primary,
        pressed: false,
        modifiers: Modifiers::NONE,
    });
    w.run();
    assert_eq!(served(&w, supper(4)).map(|s| s.1), Some(280));
}
