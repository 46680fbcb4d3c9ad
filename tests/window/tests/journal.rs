//! Can a cook write down in two presses what was eaten and what was said of it, and does the plan hear it?

use egui::Key;
use tranche::judge::Code;
use tranche::rotation::Heard;
use tranche_window_tests::{Hand as _, Window, week, window, window_of};

const WEEK: &str = "red-cabbage-mended";

/// What the journal has of a dish: eaters and word, a line each.
fn lines(w: &Window<'_>, dish: &str) -> Vec<(String, Option<Heard>)> {
    let eaten = w.state().hearth().eaten().iter().filter(|m| m.name == dish);
    eaten.map(|m| (m.eaters.join("+"), m.heard)).collect()
}

fn typed(w: &mut Window<'_>, words: &str) {
    for letter in words.chars() {
        w.event(egui::Event::Text(letter.to_string()));
        w.run();
    }
}

fn first_dish(w: &Window<'_>) -> (String, String) {
    let r = w.state().rotation();
    let slot = r.slots().find(|s| !r.meal(*s).servings.is_empty()).expect("a meal");
    let dish = r.dish_of(r.meal(slot).servings[0].batch).expect("a dish").name.clone();
    (dish.clone(), format!("{dish}, {}", r.slot_name(slot)))
}

#[test]
fn a_word_writes_the_meal_down_and_the_second_press_takes_only_the_word_back() {
    let mut w = window(WEEK);
    w.press("Journal");
    let (dish, at) = first_dish(&w);
    w.press(&format!("gladly again: {at}"));
    let written = lines(&w, &dish);
    assert_eq!(written.len(), 1, "{written:?}");
    assert_eq!(written[0].1, Some(Heard::Again));
    assert!(w.sees("✓ written down"), "{:?}", w.names());
    w.press(&format!("gladly again: {at}"));
    assert_eq!(lines(&w, &dish)[0].1, None, "eaten, without a word");
    w.press(&format!("Strike out: {at}"));
    assert!(lines(&w, &dish).is_empty());
}

#[test]
fn one_eater_says_otherwise_and_each_word_stands_beside_its_name() {
    let mut w = window(WEEK);
    w.press("Journal");
    let (dish, at) = first_dish(&w);
    w.press(&format!("fine: {at}"));
    w.press("Write down the word of Kim");
    w.press(&format!("not soon: {at}"));
    let written = lines(&w, &dish);
    assert_eq!(written.len(), 2, "{written:?}");
    assert!(written.contains(&("Kim".into(), Some(Heard::NotSoon))), "{written:?}");
    w.press("Write down the word of the whole table");
    assert!(w.names().iter().any(|n| n.contains("Kim: not soon")), "{:?}", w.names());
}

#[test]
fn steps_in_the_journal_are_undone_there_and_leave_the_plan_alone() {
    let mut w = window(WEEK);
    let revision = w.state().history().revision();
    w.press("Journal");
    let (dish, at) = first_dish(&w);
    w.press(&format!("too alike: {at}"));
    assert_eq!(lines(&w, &dish).len(), 1);
    w.key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    w.run();
    assert!(lines(&w, &dish).is_empty(), "the word and the meal were one step");
    assert_eq!(w.state().history().revision(), revision);
    assert!(w.sees("Undone: Too alike"), "{:?}", w.names());
}

#[test]
fn what_was_thrown_away_is_typed_as_a_mass_and_cannot_be_more_than_was_served() {
    let mut w = window(WEEK);
    w.press("Journal");
    let (dish, at) = first_dish(&w);
    w.press(&format!("Eaten: {at}"));
    let field = format!("Thrown away of {at}");
    let wasted = |w: &Window<'_>| w.state().hearth().eaten().iter().find(|m| m.name == dish).expect("eaten").wasted;
    w.focus(&field);
    typed(&mut w, "40 g");
    w.keys(&[Key::Enter]);
    assert_eq!(wasted(&w).map(|p| p.get()), Some(40));
    w.focus(&field);
    w.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    typed(&mut w, "40 kg");
    w.keys(&[Key::Enter]);
    assert_eq!(wasted(&w).map(|p| p.get()), Some(40), "refused, and nothing changed");
    assert!(w.names().iter().any(|n| n.contains("was on the plates")), "{:?}", w.names());
}

#[test]
fn what_was_said_before_speaks_when_the_dish_is_planned_again() {
    let mut later = week(WEEK);
    let before = later.clone();
    later.first_day = before.first_day.checked_add(jiff::Span::new().days(21)).expect("a date");
    let mut w = window_of(before, [1440.0, 900.0]);
    w.press("Journal");
    let (dish, at) = first_dish(&w);
    w.press(&format!("not again: {at}"));
    let eaten = w.state().hearth().eaten().to_vec();
    let home = tranche::judge::Home { eaten, ..Default::default() };
    let findings = tranche::judge::judge_at_home(&later, &home).findings;
    let said: Vec<&str> = findings.iter().filter(|f| f.code == Code::Unwelcome).map(|f| f.text.as_str()).collect();
    assert_eq!(said.len(), 1, "{findings:?}");
    assert!(said[0].contains(&dish) && said[0].contains("not again"), "{said:?}");
}
