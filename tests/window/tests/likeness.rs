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

#[test]
fn what_the_household_says_of_two_meals_is_kept_taught_and_taken_back() {
    let mut w = window(WEEK);
    w.press("Likeness");
    w.press("Monday supper and Tuesday supper: 0.20, fine");
    assert!(w.sees("What does your household say of the two?"), "{:?}", w.names());
    w.press("Too alike");
    assert!(w.sees("You said: too alike."), "{:?}", w.names());
    assert_eq!(w.state().hearth().habits().answers.len(), 1);
    let usual = tranche::judge::Weights::default();
    let learned = w.state().hearth().learned().weights_untrusted();
    assert_ne!(learned.0, usual.0, "an answer moves the weights, trusted or not");
    w.press("Take it back");
    assert!(w.state().hearth().habits().answers.is_empty());
    assert_eq!(w.state().hearth().learned().weights().0, usual.0, "to the last bit");
}

#[test]
fn how_long_likeness_lingers_is_set_on_the_household_s_sheet_and_the_judges_go_by_it() {
    let mut w = window_of(week(WEEK), [1440.0, 3_000.0]);
    let before = w.state().hearth().home().patience.kernel.after(3);
    w.press("Household");
    w.press("Likeness fades in three days");
    assert_eq!(w.state().hearth().habits().half_life, Some(3.0));
    let home = w.state().hearth().home().clone();
    assert!(home.patience.kernel.after(3) > before, "what lies days apart is felt longer");
    w.press("Put colour first");
    assert!(w.sees("The usual order"), "{:?}", w.names());
    w.press("The usual order");
    assert!(w.state().hearth().habits().chosen.is_none());
    w.press("Seasons: north of the equator");
    assert!(w.state().hearth().habits().hemisphere.is_some());
}

#[test]
fn answers_are_there_after_a_restart() {
    let folder = tempfile::tempdir().expect("a folder");
    let plan = folder.path().join("week.rotation.ron");
    std::fs::write(&plan, tranche::store::rotation_to_text(&week(WEEK))).expect("written");
    let open = || {
        let places = Some(tranche::store::Places::under(folder.path()));
        tranche::app::Start { file: Some(plan.clone()), built_in_dialogs: true, places }
    };
    let change = tranche::app::hearth::HabitChange::HalfLife(Some(2.0));
    {
        let ctx = egui::Context::default();
        let mut desk = tranche::app::Desk::open(open(), &ctx);
        desk.perform(tranche::app::action::Action::Habit(change), &ctx);
    }
    let desk = tranche::app::Desk::open(open(), &egui::Context::default());
    assert_eq!(desk.hearth().habits().half_life, Some(2.0), "the desk that closed has written it");
}
