//! Are the open meals filled in the window by the best there is, as one step that can be undone?

use egui::{Key, Modifiers};
use tranche::judge::{Severity, judge};
use tranche::rotation::{Edit, apply};
use tranche_window_tests::{Hand as _, supper, wait_for, week, window_of};

const SIZE: [f32; 2] = [1440.0, 1200.0];

#[test]
fn one_open_supper_is_filled_by_the_best_and_undone_in_one_step() {
    let before = week("red-cabbage-open");
    let mut w = window_of(before.clone(), SIZE);
    w.press("Fill the open meals");
    assert!(w.sees("Fill Thursday supper"), "{:?}", w.names());
    wait_for(&mut w, "none is better, proven");
    w.press("Take this: ");
    let filled = w.state().rotation().clone();
    assert_eq!(filled.meal(supper(4)).servings.len(), 1, "it is served");
    let stops = judge(&filled).findings.into_iter().filter(|f| f.severity == Severity::Stop).count();
    assert_eq!(stops, 0);
    assert!(w.sees("Dishes for "), "the bench is back: {:?}", w.names());
    w.press("Undo: ");
    assert_eq!(**w.state().rotation(), before);
}

#[test]
fn what_cannot_be_filled_is_proven_so_with_what_to_loosen() {
    // Tuesday takes all of the middle: nothing is left for Thursday.
    let before = week("red-cabbage-open");
    let serving = before.meal(supper(2)).servings[0].clone();
    let edit = Edit::SetServing { slot: supper(2), batch: serving.batch, portion: serving.portion.with(800) };
    let full = apply(&before, &edit).expect("the middle has it").rotation;
    let mut w = window_of(full, SIZE);
    w.press("Fill the open meals");
    wait_for(&mut w, "cannot be filled, proven");
}

#[test]
fn what_is_asked_otherwise_is_looked_for_at_once() {
    let mut w = window_of(week("red-cabbage-open"), SIZE);
    w.press("Fill the open meals");
    wait_for(&mut w, "none is better, proven");
    w.press("Fill Thursday supper");
    assert!(w.sees("No meal is chosen"), "{:?}", w.names());
    assert!(!w.sees("Take this: "), "nothing is offered for no meal");
    w.press("Fill Thursday supper");
    wait_for(&mut w, "none is better, proven");
    w.press("Neighbours may be too alike");
    wait_for(&mut w, "none is better, proven");
    assert!(!w.sees("Find the best"), "more than proven there is not");
}

#[test]
fn the_keyboard_fills_the_meals_and_is_on_the_calendar_afterwards() {
    let before = week("red-cabbage-open");
    let mut w = window_of(before.clone(), SIZE);
    w.focus("Fill the open meals");
    w.keys(&[Key::Enter]);
    wait_for(&mut w, "none is better, proven");
    // Back to the bench, the meal, the wish, the best.
    w.keys(&[Key::Tab, Key::Tab, Key::Tab, Key::Enter]);
    assert_eq!(w.state().rotation().meal(supper(4)).servings.len(), 1, "it is taken");
    w.keys(&[Key::F6, Key::ArrowRight]);
    w.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    w.run();
    assert_eq!(**w.state().rotation(), before);
}
