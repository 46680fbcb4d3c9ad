//! Does the page of likeness show whose meals are alike, and why, by mouse, by keyboard and by name?

use egui::Key;
use tranche::rotation::EaterId;
use tranche_window_tests::{Hand as _, supper, week, window, window_of};

const WEEK: &str = "red-cabbage-mended";

fn eater(name: &str) -> EaterId {
    week(WEEK).household.eaters.iter().find(|e| e.name == name).expect("they eat here").id
}

#[test]
fn the_figure_of_the_bottom_line_opens_its_explanation_and_closes_it() {
    let mut w = window(WEEK);
    let figure = w.names().into_iter().find(|n| n.contains("meals that feel like")).expect("the line has the figure");
    w.press(&figure);
    assert!(w.sees("Every meal beside every other"), "{:?}", w.names());
    assert!(w.sees("What each meal adds"));
    assert!(w.sees("Monday supper and Tuesday supper: 0.20, fine"), "{:?}", w.names());
    w.press(&figure);
    assert!(w.sees("Thursday supper, "), "the bench is back");
}

#[test]
fn the_switch_shows_the_meals_of_one_eater_in_links_and_figure() {
    let mut w = window(WEEK);
    assert!(
        w.names().iter().any(|n| n.starts_with("Wednesday supper to Thursday lunch: too alike")),
        "Bo has the rolls twice: {:?}",
        w.names()
    );
    w.press("for everybody");
    w.press("Kim");
    assert!(!w.names().iter().any(|n| n.starts_with("Wednesday supper to Thursday lunch")), "nobody else minds: {:?}", w.names());
    let of_kim = tranche::judge::judge(w.state().rotation()).variety.distinct_by_eater;
    let (_, kim) = of_kim.iter().find(|(id, _)| *id == eater("Kim")).expect("Kim eats").to_owned();
    assert!(w.sees(&format!("{} meals that feel like {:.1}", kim.meals, kim.feel_like)), "{:?}", w.names());
    w.press("for Kim");
    w.press("Bo");
    let again = "Wednesday supper to Thursday lunch: too alike";
    assert!(w.names().iter().any(|n| n.starts_with(again)), "{:?}", w.names());
}

#[test]
fn two_meals_are_chosen_by_click_and_by_arrows_and_their_shares_shown() {
    let mut w = window(WEEK);
    w.press("Likeness");
    assert!(w.sees("too alike"), "the two most alike are shown first: {:?}", w.names());
    w.press("Monday supper and Tuesday supper: 0.20, fine");
    assert!(w.names().iter().any(|n| n.starts_with("colour: both purple")), "{:?}", w.names());
    w.focus("Monday supper and Tuesday supper: 0.20, fine");
    w.keys(&[Key::ArrowDown, Key::ArrowRight]);
    assert!(w.names().iter().any(|n| n.starts_with("heat: both hot")), "Tuesday beside Wednesday: {:?}", w.names());
}

#[test]
fn from_two_meals_the_way_leads_back_to_the_later_on_the_bench() {
    let mut w = window(WEEK);
    w.press("Likeness");
    w.press("Monday supper and Tuesday supper: 0.20, fine");
    w.press("Look at the later meal on the bench");
    assert!(w.sees("Dishes for Tuesday supper"), "{:?}", w.names());
}

#[test]
fn a_plan_without_meals_says_what_is_needed() {
    let mut bare = week(WEEK);
    for meal in bare.meals.values_mut() {
        meal.servings.clear();
    }
    bare.batches.clear();
    let mut w = window_of(bare, [1024.0, 700.0]);
    w.press("Likeness");
    assert!(w.sees("Two meals with the piece are needed"), "{:?}", w.names());
    assert_eq!(w.state().rotation().meal(supper(1)).servings.len(), 0);
}
