//! Do the lists in the window say what the command line says, tick off, and mind what is in the house?

use tranche::lists::{Cupboard, shopping_list};
use tranche_window_tests::{Hand as _, week, window, window_of};

const WEEK: &str = "red-cabbage-mended";

#[test]
fn every_list_opens_and_shows_its_own_lines() {
    let mut w = window(WEEK);
    w.press("Lists");
    assert!(w.names().iter().any(|n| n.starts_with("Smoked mackerel")), "{:?}", w.names());
    w.press("List: Cut list");
    assert!(w.names().iter().any(|n| n.contains("heart")), "{:?}", w.names());
    w.press("List: Box labels");
    assert!(w.names().iter().any(|n| n.contains("eat by") || n.contains("Eat by")), "{:?}", w.names());
    w.press("List: Prep");
    assert!(!w.sees("Smoked mackerel"), "{:?}", w.names());
}

#[test]
fn a_line_is_ticked_off_by_a_press_anywhere_on_it_and_stays_ticked_on_coming_back() {
    let mut w = window_of(week(WEEK), [1440.0, 2600.0]);
    w.press("Lists");
    let line = w.names().into_iter().find(|n| n.starts_with("Smoked mackerel")).expect("it is bought");
    w.press(&line);
    assert!(w.sees(&format!("Done: {line}")), "{:?}", w.names());
    w.press("Bench");
    w.press("Lists");
    let key = |w: &tranche_window_tests::Window<'_>| {
        let desk = w.state();
        *desk.hearth().ticks() != tranche::lists::Ticks::default()
    };
    assert!(key(&w));
    w.press(&line);
    assert!(w.sees(&format!("Still to do: {line}")), "{:?}", w.names());
    assert!(!key(&w), "nothing is left of it");
}

#[test]
fn what_is_in_the_house_is_not_bought_until_it_is_said_otherwise() {
    let mut w = window_of(week(WEEK), [1440.0, 1600.0]);
    w.press("Lists");
    let line = |w: &tranche_window_tests::Window<'_>| w.names().into_iter().any(|n| n.starts_with("Rice, "));
    assert!(line(&w), "{:?}", w.names());
    w.press("There is always enough rice in the house");
    let list = shopping_list(w.state().rotation(), w.state().hearth().cupboard(), w.state().book());
    let rice = list.lines.iter().find(|l| l.name.eq_ignore_ascii_case("rice")).expect("it is needed");
    assert!(rice.bought.is_zero(), "{rice:?}");
    assert!(w.sees("Rice comes from the house"), "{:?}", w.names());
    w.press("There is always enough rice in the house");
    assert_eq!(*w.state().hearth().cupboard(), Cupboard::default());
}

#[test]
fn what_goes_on_paper_is_chosen_list_by_list_and_day_by_day() {
    let mut w = window_of(week(WEEK), [1440.0, 1600.0]);
    w.press("File");
    w.press("Print");
    assert!(w.sees("Print: The week") && w.sees("Print: Prep list"), "{:?}", w.names());
    assert!(w.sees("Print the run sheet of Wednesday"), "{:?}", w.names());
    w.press("Print the run sheet of Wednesday");
    for list in ["The week", "Run sheets", "Cut list", "Shopping list", "Box labels"] {
        w.press(&format!("Print: {list}"));
    }
    assert!(w.sees("Choose at least one list."), "nothing is left: {:?}", w.names());
    assert!(!w.sees("Print the run sheet of Wednesday"), "and no day of nothing: {:?}", w.names());
    w.press("Print: Cut list");
    assert!(w.sees("The end of the name says how"), "{:?}", w.names());
    w.press("Cancel");
    assert!(!w.sees("Print: The week"), "{:?}", w.names());
}

#[test]
fn a_plan_without_meals_says_where_lists_come_from() {
    let mut bare = week(WEEK);
    for meal in bare.meals.values_mut() {
        meal.servings.clear();
    }
    bare.batches.clear();
    let mut w = window_of(bare, [1024.0, 700.0]);
    w.press("Lists");
    w.press("List: Prep");
    assert!(w.names().iter().any(|n| n.starts_with("Nothing is planned yet")), "{:?}", w.names());
}
