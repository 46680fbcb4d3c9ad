//! Does an open meal say what fits there best, and does one press put it there as one step?

use std::time::Duration;
use tranche::{
    arrange::{Wishes, what_fits},
    book::Book,
    judge::{Code, Home, Severity, judge},
    rotation::Rotation,
};
use tranche_window_tests::{Hand as _, Window, supper, week, window_of};

const SIZE: [f32; 2] = [1440.0, 1200.0];
const OPEN: &str = "Thursday supper, empty";

/// Frames until the worker has answered.
fn wait_for(w: &mut Window<'_>, words: &str) {
    for _ in 0..600 {
        if w.names().iter().any(|n| n.starts_with(words)) {
            return;
        }
        std::thread::sleep(Duration::from_millis(50));
        w.step();
    }
    panic!("{words} never came: {:?}", w.names());
}

#[test]
fn an_open_meal_offers_the_best_few_and_one_press_serves_the_best_of_them() {
    let before = week("red-cabbage-open");
    let (book, home) = (Book::shipped().expect("the shipped book reads"), Home::default());
    let ranked = what_fits(&before, &book, &home, &Wishes::default(), supper(4));
    let fitting: Vec<_> = ranked.iter().filter(|f| f.cost.is_some()).collect();
    let mut w = window_of(before.clone(), SIZE);
    w.press(OPEN);
    wait_for(&mut w, "Put ");
    for f in &fitting[..3] {
        assert!(w.sees(&format!("Put {} at Thursday supper", f.dish.name)), "{}: {:?}", f.dish.name, w.names());
    }
    let offered = w.names().iter().filter(|n| n.starts_with("Put ") && n.ends_with(" at Thursday supper")).count();
    assert!((3..=5).contains(&offered), "a few: {offered}");
    assert!(w.names().iter().any(|n| n.contains("of another meal is felt in it")), "the cost is said: {:?}", w.names());
    w.press(&format!("Put {} at Thursday supper", fitting[0].dish.name));
    let filled = w.state().rotation().clone();
    let served = filled.meal(supper(4)).servings.clone();
    assert_eq!(filled.dish_of(served[0].batch).map(|d| d.id.clone()), Some(fitting[0].dish.id.clone()));
    // A stop or a warning that stood before is no matter of this meal.
    let grave = |plan: &Rotation| -> Vec<String> {
        let found = judge(plan).findings.into_iter();
        let found = found.filter(|f| matches!(f.severity, Severity::Stop | Severity::Warn) && f.code != Code::Unallocated);
        found.map(|f| f.text).collect()
    };
    let stood = grave(&before);
    assert!(grave(&filled).iter().all(|text| stood.contains(text)), "{:?} beside {stood:?}", grave(&filled));
    w.press(&format!("Undo: Serve {}", fitting[0].dish.name));
    assert_eq!(**w.state().rotation(), before);
}

#[test]
fn the_dishes_below_stay_where_they_are_when_the_answer_comes() {
    const DISH: &str = "Crisp shred pancakes, ginger-soy dip, dish";
    let mut w = window_of(week("red-cabbage-open"), SIZE);
    w.press(OPEN);
    w.search("pancakes");
    wait_for(&mut w, "Put ");
    // Another revision: it is sought anew.
    w.press("Kim sits down at Thursday supper");
    let before = w.place(DISH);
    wait_for(&mut w, "Put ");
    assert_eq!(w.place(DISH), before);
}

#[test]
fn what_is_offered_stays_while_a_share_is_carried_and_goes_once_the_meal_is_served() {
    let offers = |w: &Window<'_>| -> Vec<String> {
        w.names().into_iter().filter(|n| n.starts_with("Put ") && n.ends_with(" at Thursday supper")).collect()
    };
    let mut w = window_of(week("red-cabbage-open"), SIZE);
    w.press(OPEN);
    wait_for(&mut w, "Put ");
    let before = offers(&w);
    let (from, to) = (w.place("middle, free, 280 g"), w.place(OPEN));
    w.drag_at(from);
    w.run();
    w.hover_at(from + (to - from) * 0.1);
    w.run();
    w.hover_at(to);
    w.run();
    assert_eq!(offers(&w), before, "nothing is sought anew meanwhile");
    w.drop_at(to);
    w.run();
    assert!(!w.state().rotation().meal(supper(4)).servings.is_empty(), "it is put down");
    assert_eq!(offers(&w), [""; 0]);
}
