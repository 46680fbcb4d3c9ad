//! Do the sheets change the plan as they say, refuse in words, and let the person out again?

use egui::{Key, Modifiers, accesskit::Role};
use egui_kittest::{
    Harness,
    kittest::{NodeT as _, Queryable as _},
};
use tranche::{
    app::{action::Action, files::FileAction, sheet::Sheet, theme},
    quantity::{DayNo, Units},
    rotation::{MealtimeId, Rotation, Slot},
};
use tranche_window_tests::sheet_desk::{SheetDesk, empty_plan, plan};

type Desk = Harness<'static, SheetDesk>;

fn open_sized(which: Sheet, rotation: Rotation, size: [f32; 2]) -> Desk {
    let mut dressed = false;
    Harness::builder().with_size(size).with_max_steps(12).build_ui_state(
        move |ui, desk: &mut SheetDesk| {
            if !dressed {
                theme::install_fonts(ui.ctx());
                theme::apply(ui.ctx(), theme::Look::Light, true);
                dressed = true;
                return;
            }
            let _ = ui.button("Somewhere on the bench");
            desk.frame(ui.ctx());
        },
        SheetDesk::new(rotation, which),
    )
}

fn open(which: Sheet, rotation: Rotation) -> Desk {
    let mut desk = open_sized(which, rotation, [1440.0, 2400.0]);
    desk.run();
    desk
}

fn type_into(desk: &mut Desk, label: &str, text: &str) {
    desk.get_by_role_and_label(Role::TextInput, label).focus();
    desk.run();
    desk.get_by_role_and_label(Role::TextInput, label).type_text(text);
    desk.run();
}

/// Types into a field of the plan and is done with it.
fn fill_in(desk: &mut Desk, label: &str, text: &str) {
    type_into(desk, label, text);
    desk.key_press(Key::Enter);
    desk.run();
}

fn focused(desk: &Desk) -> Option<String> {
    let node = desk.root().children_recursive().find(|n| n.is_focused())?;
    node.accesskit_node().label().or_else(|| node.accesskit_node().labelled_by().next().and_then(|l| l.value()))
}

fn press(desk: &mut Desk, name: &str) {
    desk.get_by_role_and_label(Role::Button, name).click();
    desk.run();
}

fn says(desk: &Desk, words: &str) -> bool {
    desk.query_all_by_label_contains(words).next().is_some()
}

fn steps(desk: &Desk) -> Vec<String> {
    desk.state().history.steps().map(str::to_string).collect()
}

fn weights(desk: &Desk) -> Vec<u32> {
    desk.state().plan().piece.parts.iter().map(|p| p.usable.get()).collect()
}

const MONDAY_LUNCH: Slot = Slot { day: DayNo(1), mealtime: MealtimeId(2) };

#[test]
fn a_typed_mass_balances_anew_and_is_one_step() {
    let mut desk = open(Sheet::Piece, empty_plan());
    let before = desk.state().plan().clone();
    fill_in(&mut desk, "Mass as bought", "2.4 kg");
    assert_eq!(desk.state().plan().piece.mass.get(), 2_400);
    assert!(says(&desk, "2,400\u{a0}g = 401 trim + 1,999 usable: 401 outer leaves, 1,065 middle, 533 heart"));
    assert_eq!(steps(&desk), ["Weigh the piece: 2,400\u{a0}g"], "one visit to a field is one step, however many letters");
    desk.key_press(Key::Tab);
    desk.run();
    press(&mut desk, "Undo the last change");
    assert_eq!(*desk.state().plan(), before);
}

#[test]
fn undo_works_on_a_sheet_while_no_words_are_being_typed() {
    let mut desk = open(Sheet::Piece, empty_plan());
    press(&mut desk, "bruised");
    desk.get_by_role_and_label(Role::Button, "sound").focus();
    desk.run();
    desk.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    desk.run();
    assert!(steps(&desk).is_empty());
    desk.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    desk.run();
    assert_eq!(steps(&desk), ["Note the condition of the piece"]);
}

#[test]
fn typing_letter_by_letter_comes_to_what_stands_there_in_the_end() {
    let mut at_once = open(Sheet::Piece, empty_plan());
    fill_in(&mut at_once, "Trim", "250 g");
    let mut slowly = open(Sheet::Piece, empty_plan());
    slowly.get_by_role_and_label(Role::TextInput, "Trim").focus();
    slowly.run();
    for letter in ["2", "5", "0", " ", "g"] {
        slowly.get_by_role_and_label(Role::TextInput, "Trim").type_text(letter);
        slowly.run();
    }
    assert!(steps(&slowly).is_empty(), "nothing is done while one types");
    slowly.key_press(Key::Enter);
    slowly.run();
    assert_eq!(slowly.state().plan(), at_once.state().plan(), "half-typed figures leave no trace");
    assert_eq!(slowly.state().plan().piece.trim_total().get(), 250);
    assert_eq!(steps(&slowly).len(), 1);
}

#[test]
fn pounds_are_read_as_pounds() {
    let mut desk = open(Sheet::Piece, empty_plan());
    fill_in(&mut desk, "Mass as bought", "4 lb");
    // 4 x 453.59237 g, the international pound of 1959.
    assert_eq!(desk.state().plan().piece.mass.get(), 1_814);
}

#[test]
fn what_is_no_mass_is_said_in_words_and_changes_nothing() {
    let mut desk = open(Sheet::Piece, empty_plan());
    let before = desk.state().plan().clone();
    // "18" was a mass before the o came.
    for letter in ["1", "8", "o", "o"] {
        if letter == "1" {
            type_into(&mut desk, "Mass as bought", letter);
        } else {
            desk.get_by_role_and_label(Role::TextInput, "Mass as bought").type_text(letter);
            desk.run();
        }
    }
    desk.key_press(Key::Tab);
    desk.run();
    assert!(says(&desk, "\"oo\" is not a measure"), "the field says why");
    assert_eq!(*desk.state().plan(), before);
    assert!(steps(&desk).is_empty(), "{:?}", steps(&desk));
}

#[test]
fn a_refused_weighing_is_said_in_words_and_changes_nothing() {
    let mut desk = open(Sheet::Piece, empty_plan());
    let before = desk.state().plan().clone();
    type_into(&mut desk, "Heart", "5 kg");
    desk.key_press(Key::Tab);
    desk.run();
    assert!(says(&desk, "more than the 1,800\u{a0}g of the whole piece"));
    assert_eq!(*desk.state().plan(), before);
    assert!(steps(&desk).is_empty());
}

#[test]
fn a_weighed_part_says_so_and_can_be_guessed_again() {
    let mut desk = open(Sheet::Piece, empty_plan());
    let guessed = weights(&desk);
    assert_eq!(desk.query_all_by_label("weighed").count(), 0);
    fill_in(&mut desk, "Heart", "500");
    assert_eq!(weights(&desk)[2], 500);
    assert_eq!(desk.query_all_by_label("weighed").count(), 1);
    press(&mut desk, "Back to the book's guess");
    assert_eq!(weights(&desk), guessed);
    assert_eq!(steps(&desk).len(), 2);
}

#[test]
fn the_kind_changes_only_while_nothing_is_allotted() {
    let desk = open(Sheet::Piece, plan());
    assert!(says(&desk, "The kind stays as it is while 2 dishes take from the piece"));
    assert!(desk.query_by_label("Another kind").is_none());
    let mut desk = open(Sheet::Piece, empty_plan());
    press(&mut desk, "Another kind");
    press(&mut desk, "Celeriac");
    assert_eq!(desk.state().plan().kind.name, "celeriac");
}

#[test]
fn the_piece_cannot_be_opened_after_it_was_cooked() {
    let mut desk = open(Sheet::Piece, plan());
    press(&mut desk, "Cut a day later");
    assert_eq!(desk.state().plan().piece.opened, DayNo(1));
    assert!(says(&desk, "it was opened by then"));
    press(&mut desk, "Cut a day earlier");
    assert_eq!(desk.state().plan().piece.opened, DayNo(0));
    assert!(!says(&desk, "it was opened by then"), "what was refused is forgotten with the next change");
}

#[test]
fn somebody_is_added_changed_and_taken_out() {
    let mut desk = open(Sheet::Household, empty_plan());
    type_into(&mut desk, "Add somebody", "Edda");
    press(&mut desk, "teenager 1.2");
    press(&mut desk, "Add Edda");
    assert_eq!(desk.state().plan().household.eaters.len(), 4);
    press(&mut desk, "Change Edda: teenager, 1.2");
    press(&mut desk, "allergic to mustard");
    press(&mut desk, "allergic to egg");
    press(&mut desk, "vegetarian");
    press(&mut desk, "pregnant");
    fill_in(&mut desk, "Dislikes, with commas between", "raw onion,  soft   egg, raw onion");
    let edda = desk.state().plan().household.eaters[3].clone();
    assert_eq!(edda.units, Units::from_hundredths(120).expect("in range"));
    assert_eq!(edda.allergies.iter().map(|a| a.word()).collect::<Vec<_>>(), ["egg", "mustard"], "in the order of the list");
    assert_eq!((edda.diet.word(), edda.care.len()), ("vegetarian", 1));
    assert_eq!(edda.dislikes, ["raw onion", "soft egg"]);
    press(&mut desk, "Take Edda out");
    assert_eq!(desk.state().plan().household.eaters.len(), 3);
}

#[test]
fn a_name_that_is_taken_is_refused_in_words() {
    let mut desk = open(Sheet::Household, empty_plan());
    type_into(&mut desk, "Add somebody", "asta");
    desk.key_press(Key::Enter);
    desk.run();
    assert!(says(&desk, "There is somebody called asta already"));
    assert_eq!(desk.state().plan().household.eaters.len(), 3);
    press(&mut desk, "Change Bo: adult, 1.0");
    type_into(&mut desk, "Name", "Kim");
    desk.key_press(Key::Tab);
    desk.run();
    assert!(says(&desk, "There is somebody called Kim already"));
    assert_eq!(desk.state().plan().household.eaters[1].name, "Bo");
}

#[test]
fn the_last_eater_cannot_be_taken_out() {
    let mut alone = empty_plan();
    alone.household.eaters.truncate(1);
    let mut desk = open(Sheet::Household, alone);
    press(&mut desk, "Change Asta: adult, 1.0");
    press(&mut desk, "Take Asta out");
    assert!(says(&desk, "Asta is the only one who eats"));
    assert_eq!(desk.state().plan().household.eaters.len(), 1);
}

#[test]
fn a_tick_says_who_sits_down() {
    let mut desk = open(Sheet::Household, empty_plan());
    desk.get_by_role_and_label(Role::CheckBox, "Kim at Monday lunch").click();
    desk.run();
    assert_eq!(desk.state().plan().eaters_at(MONDAY_LUNCH).len(), 2);
    assert_eq!(steps(&desk), ["Kim is away at Monday lunch"]);
    desk.get_by_role_and_label(Role::CheckBox, "Kim at Monday lunch").click();
    desk.run();
    assert!(desk.state().plan().meals.is_empty(), "the usual eaters need no note");
}

#[test]
fn a_guest_sits_only_where_ticked() {
    let mut desk = open(Sheet::Household, empty_plan());
    press(&mut desk, "Change Kim: child, 0.6");
    press(&mut desk, "as a guest, where ticked below");
    assert_eq!(desk.state().plan().eaters_at(MONDAY_LUNCH).len(), 2);
    desk.get_by_role_and_label(Role::CheckBox, "Kim at Monday lunch").click();
    desk.run();
    let r = desk.state().plan();
    assert_eq!(r.slots().filter(|s| r.eaters_at(*s).len() == 3).collect::<Vec<_>>(), [MONDAY_LUNCH]);
}

#[test]
fn the_first_day_is_typed_or_stepped() {
    let mut desk = open(Sheet::Days, plan());
    fill_in(&mut desk, "Begins on", "24 Dec 2026");
    assert_eq!(desk.state().plan().first_day, jiff::civil::date(2026, 12, 24));
    assert!(says(&desk, "Thursday 24 December"));
    press(&mut desk, "Begin a week later");
    press(&mut desk, "Begin a day earlier");
    assert_eq!(desk.state().plan().first_day, jiff::civil::date(2026, 12, 30));
    assert_eq!(steps(&desk).len(), 3);
    type_into(&mut desk, "Begins on", "32 Dec");
    desk.key_press(Key::Tab);
    desk.run();
    assert!(says(&desk, "“32 Dec” is no date: type one such as 7 Dec 2026."));
    assert_eq!(desk.state().plan().first_day, jiff::civil::date(2026, 12, 30));
}

#[test]
fn days_and_mealtimes_come_and_go() {
    let mut desk = open(Sheet::Days, plan());
    press(&mut desk, "Add Friday 11 December");
    assert_eq!(desk.state().plan().days, 5);
    press(&mut desk, "Take Tuesday 8 December out");
    assert!(says(&desk, "Tuesday has Charred wedges, cumin yoghurt: move it or take it off first."));
    press(&mut desk, "Take Wednesday 9 December out");
    assert_eq!(desk.state().plan().days, 4);
    press(&mut desk, "Take supper out of every day");
    assert!(says(&desk, "Monday supper is served: move it or take it off first."));
    press(&mut desk, "Take lunch out of every day");
    assert_eq!(desk.state().plan().mealtimes.len(), 1);
    fill_in(&mut desk, "Supper at", "7:15 pm");
    assert_eq!(desk.state().plan().mealtimes[0].at, jiff::civil::Time::new(19, 15, 0, 0).ok());
    press(&mut desk, "add breakfast");
    let names: Vec<_> = desk.state().plan().mealtimes.iter().map(|m| m.name.as_str()).collect();
    assert_eq!(names, ["breakfast", "supper"], "breakfast comes first by the clock");
}

#[test]
fn a_fresh_start_puts_the_piece_on_the_bench() {
    let mut desk = open(Sheet::Start, plan());
    press(&mut desk, "Celeriac");
    type_into(&mut desk, "Mass as bought", "2 kg");
    assert!(says(&desk, "About 1,500\u{a0}g usable for 3 eaters"));
    type_into(&mut desk, "First day", "2026-12-24");
    press(&mut desk, "Days, more");
    press(&mut desk, "lunch and supper");
    press(&mut desk, "Bo 1.0");
    press(&mut desk, "add somebody else");
    type_into(&mut desk, "Add somebody", "Edda");
    desk.key_press(Key::Enter);
    desk.run();
    press(&mut desk, "Put it on the bench");
    let begun: Vec<&Rotation> = desk
        .state()
        .asked
        .iter()
        .filter_map(|a| if let Action::File(FileAction::Begin(r)) = a { Some(&**r) } else { None })
        .collect();
    let [r] = begun[..] else { panic!("one plan is begun: {:?}", desk.state().asked) };
    tranche::rotation::validate(r).expect("a plan that stands");
    assert_eq!((r.kind.name.as_str(), r.piece.mass.get(), r.days), ("celeriac", 2_000, 5));
    assert_eq!(r.first_day, jiff::civil::date(2026, 12, 24));
    assert_eq!(r.household.eaters.iter().map(|e| e.name.as_str()).collect::<Vec<_>>(), ["Asta", "Kim", "Edda"]);
    assert_eq!(r.mealtimes.iter().map(|m| m.name.as_str()).collect::<Vec<_>>(), ["lunch", "supper"]);
    assert!(r.batches.is_empty());
}

#[test]
fn enter_in_the_mass_begins_with_the_usual_answers() {
    let mut desk = open(Sheet::Start, plan());
    type_into(&mut desk, "Mass as bought", "1.2 kg");
    desk.key_press(Key::Enter);
    desk.run();
    let [Action::File(FileAction::Begin(r))] = &desk.state().asked[..] else { panic!("{:?}", desk.state().asked) };
    assert_eq!((r.kind.name.as_str(), r.piece.mass.get(), r.days), ("red cabbage", 1_200, 4));
    assert_eq!(r.first_day, jiff::civil::date(2026, 11, 25), "today, as the sheet was told");
    assert_eq!(r.mealtimes.len(), 1);
}

#[test]
fn a_start_without_an_answer_says_which_is_missing() {
    let mut desk = open(Sheet::Start, plan());
    type_into(&mut desk, "Mass as bought", "heavy");
    for name in ["Asta 1.0", "Bo 1.0", "Kim 0.6"] {
        press(&mut desk, name);
    }
    press(&mut desk, "Put it on the bench");
    assert!(desk.state().asked.is_empty());
    assert!(says(&desk, "has no number in it"));
    assert!(says(&desk, "Nobody eats yet"));
}

#[test]
fn the_demo_can_be_looked_at_first() {
    let mut desk = open(Sheet::Start, plan());
    press(&mut desk, "Look at the demo first");
    assert!(matches!(desk.state().asked[..], [Action::File(FileAction::OpenDemo)]));
}

const ALL: [(Sheet, &str); 7] = [
    (Sheet::Piece, "piece"),
    (Sheet::Household, "household"),
    (Sheet::Days, "days"),
    (Sheet::Start, "start"),
    (Sheet::Shape, "shape"),
    (Sheet::About, "about"),
    (Sheet::Keys, "keys"),
];

#[test]
fn escape_and_the_cross_close_every_sheet() {
    for (which, name) in ALL {
        let mut desk = open(which, plan());
        desk.key_press(Key::Escape);
        desk.run();
        assert!(desk.state().open.is_none(), "Escape closes {name}");
        let mut desk = open(which, plan());
        press(&mut desk, &format!("Close the {name} sheet"));
        assert!(desk.state().open.is_none(), "the cross closes {name}");
    }
}

#[test]
fn the_keyboard_goes_into_a_sheet_and_stays_there() {
    for (which, name) in ALL {
        let mut desk = open(which, plan());
        assert!(focused(&desk).is_some(), "{name} takes the keyboard");
        for _ in 0..80 {
            desk.key_press(Key::Tab);
            desk.run();
            assert_ne!(focused(&desk).as_deref(), Some("Somewhere on the bench"), "{name} lets the keyboard out");
        }
    }
}

#[test]
fn the_keyboard_goes_back_to_where_it_was() {
    let mut desk = open(Sheet::Piece, plan());
    desk.key_press(Key::Escape);
    desk.run();
    desk.get_by_label("Somewhere on the bench").focus();
    desk.run();
    let sheet = tranche::app::sheet::OpenSheet::new(Sheet::Piece, desk.state().history.now());
    desk.state_mut().open = Some(sheet);
    desk.run();
    assert_eq!(focused(&desk).as_deref(), Some("Mass as bought"));
    desk.key_press(Key::Escape);
    desk.run();
    assert_eq!(focused(&desk).as_deref(), Some("Somewhere on the bench"));
}

#[test]
fn what_the_keyboard_comes_to_is_scrolled_into_sight() {
    let mut desk = open_sized(Sheet::Piece, plan(), [1024.0, 700.0]);
    desk.run();
    for _ in 0..13 {
        desk.key_press(Key::Tab);
        desk.run();
    }
    let title = desk.get_by_role_and_label(Role::TextInput, "What you call this plan");
    assert!(title.is_focused());
    assert!(title.rect().bottom() <= 700.0, "{:?}", title.rect());
}

#[test]
fn everything_to_be_hit_is_large_enough() {
    for (which, name) in ALL {
        let mut desk = open(which, plan());
        if which == Sheet::Household {
            press(&mut desk, "Change Asta: adult, 1.0");
        }
        for node in desk.root().children_recursive() {
            let role = node.accesskit_node().role();
            if matches!(role, Role::Button | Role::CheckBox | Role::TextInput)
                && node.accesskit_node().label().as_deref() != Some("Somewhere on the bench")
            {
                let rect = node.rect();
                let least = rect.width().min(rect.height());
                assert!(least >= 27.9, "{name}: {:?} is {:?}", node.accesskit_node().label(), rect.size());
            }
        }
    }
}

#[test]
fn a_sheet_left_alone_asks_for_no_frame() {
    for (which, name) in ALL {
        let mut desk = open(which, plan());
        desk.run();
        let output = &desk.output().viewport_output[&egui::ViewportId::ROOT];
        assert_eq!(output.repaint_delay, std::time::Duration::MAX, "{name}");
    }
}

#[test]
fn a_kept_shape_is_laid_on_another_piece_in_one_step() {
    let before = plan();
    let mut desk = open(Sheet::Shape, before.clone());
    let shape = std::sync::Arc::new(tranche::rotation::Template::of(&before));
    let sheet = tranche::app::sheet::OpenSheet::new(Sheet::Shape, desk.state().history.now()).with_template(shape);
    desk.state_mut().open = Some(sheet);
    desk.run();
    assert!(says(&desk, "2 kept, 0 swapped, 0 impossible"));
    assert!(says(&desk, "Tuesday supper, kept: Charred wedges, cumin yoghurt"));
    type_into(&mut desk, "Mass as bought", "900 g");
    press(&mut desk, "Lay it on the bench");
    assert!(desk.state().open.is_none());
    assert_eq!(steps(&desk).len(), 1);
    let r = desk.state().plan();
    assert_eq!((r.piece.mass.get(), r.batches.len()), (900, 2));
    // Nothing of the book suits a celeriac here, and the sheet says so before anything is done.
    let shape = std::sync::Arc::new(tranche::rotation::Template::of(&before));
    let sheet = tranche::app::sheet::OpenSheet::new(Sheet::Shape, desk.state().history.now()).with_template(shape);
    desk.state_mut().open = Some(sheet);
    desk.run();
    press(&mut desk, "Another kind");
    press(&mut desk, "Celeriac");
    assert!(says(&desk, "0 kept, 0 swapped, 2 impossible"));
    desk.get_by_role_and_label(Role::Button, "Lay it on the bench").click();
    desk.run();
    assert!(desk.state().open.is_some() && steps(&desk).len() == 1, "what cannot be laid is not laid");
}

#[test]
fn a_shape_must_be_chosen_first() {
    let mut desk = open(Sheet::Shape, plan());
    press(&mut desk, "Choose a kept shape…");
    assert!(matches!(desk.state().asked[..], [Action::File(FileAction::LayShape)]));
}

/// The whole window, with the real judges and the real book.
#[test]
fn the_piece_is_weighed_over_the_real_bench() {
    let mut window = tranche_window_tests::window("red-cabbage-mended");
    let ctx = window.ctx.clone();
    window.state_mut().perform(Action::Open(Sheet::Piece), &ctx);
    window.run();
    window.get_by_role_and_label(Role::TextInput, "Rotten, thrown away").focus();
    window.run();
    window.get_by_role_and_label(Role::TextInput, "Rotten, thrown away").type_text("100");
    window.run();
    window.key_press(Key::Tab);
    window.run();
    // Everything of this week was weighed: a rotten part must come off a weighing first.
    assert!(window.state().history().steps().next().is_none());
    window.get_by_role_and_label(Role::TextInput, "Mass as bought").focus();
    window.run();
    window.get_by_role_and_label(Role::TextInput, "Mass as bought").type_text("1900 g");
    window.run();
    window.key_press(Key::Enter);
    window.run();
    assert_eq!(window.state().live(), "Weigh the piece: 1,900\u{a0}g");
    assert_eq!(window.state().rotation().piece.mass.get(), 1_900);
    window.key_press(Key::Escape);
    window.run();
    assert!(window.query_by_label("Close the piece sheet").is_none());
    assert_eq!(window.state().history().steps().count(), 1);
}

fn key_in(desk: &mut Desk, text: &str) {
    for letter in text.chars() {
        desk.event(egui::Event::Text(letter.into()));
        desk.run();
    }
}

#[test]
fn no_field_of_a_sheet_loses_the_keyboard_or_moves_while_one_types() {
    // The eater's card is opened first; every text field of every sheet is then typed into, letter by letter.
    for which in [Sheet::Piece, Sheet::Household, Sheet::Days, Sheet::Start, Sheet::Shape] {
        let mut desk = open(which, plan());
        if which == Sheet::Household {
            press(&mut desk, "Change Asta: adult, 1.0");
        }
        let before = desk.state().plan().clone();
        let fields: Vec<String> = desk
            .root()
            .children_recursive()
            .filter(|n| n.accesskit_node().role() == Role::TextInput)
            .filter_map(|n| {
                let node = n.accesskit_node();
                node.label().or_else(|| node.labelled_by().next().and_then(|l| l.value()))
            })
            .collect();
        assert!(which == Sheet::Shape || !fields.is_empty());
        for label in &fields {
            desk.get_by_role_and_label(Role::TextInput, label).focus();
            desk.run();
            let place = desk.get_by_role_and_label(Role::TextInput, label).rect().min;
            for letter in ["7", "0", "0", "0"] {
                desk.event(egui::Event::Text(letter.into()));
                desk.run();
                let field = desk.get_by_role_and_label(Role::TextInput, label);
                assert!(field.is_focused(), "{label} keeps the keyboard");
                assert_eq!(field.rect().min, place, "{label} stays where it is");
            }
            let typed = desk.get_by_role_and_label(Role::TextInput, label).value();
            assert_eq!(typed.as_deref(), Some("7000"), "{label}");
            assert!(*desk.state().plan() == before, "{label}: nothing is applied while one types");
            // What begins something new is no field of the plan: there Escape closes the sheet.
            let new_box = ["Box, called", "Length, cm", "Width, cm", "Height, cm", "As cold as, °C", "Within, minutes"];
            let of_the_plan = !["Add somebody", "Another mealtime"].iter().chain(&new_box).any(|l| *l == label.as_str());
            if which != Sheet::Start && of_the_plan {
                desk.key_press(Key::Escape);
                desk.run();
                assert!(desk.state().open.is_some(), "{label}: the first Escape is about what was typed");
            }
        }
        assert!(*desk.state().plan() == before && steps(&desk).is_empty());
    }
}

#[test]
fn a_part_that_meals_take_from_is_weighed_digit_by_digit() {
    let mut desk = open(Sheet::Piece, plan());
    desk.get_by_role_and_label(Role::TextInput, "Middle").focus();
    desk.run();
    desk.key_press_modifiers(Modifiers::COMMAND, Key::A);
    desk.run();
    key_in(&mut desk, "700");
    assert!(!says(&desk, "more than there is"));
    desk.key_press(Key::Enter);
    desk.run();
    assert_eq!(weights(&desk)[1], 700);
    assert_eq!(steps(&desk).len(), 1);
    // Enough no longer: said under the fields, and the keyboard stays.
    key_in(&mut desk, "7");
    desk.key_press(Key::Enter);
    desk.run();
    assert!(says(&desk, "more than there is"));
    assert!(desk.get_by_role_and_label(Role::TextInput, "Middle").is_focused());
    key_in(&mut desk, "9");
    desk.key_press(Key::Escape);
    desk.run();
    assert_eq!(desk.get_by_role_and_label(Role::TextInput, "Middle").value().as_deref(), Some("7\u{a0}g"));
    assert_eq!(weights(&desk)[1], 7);
}

#[test]
fn what_was_typed_is_kept_when_the_sheet_is_closed_over_it() {
    let mut desk = open(Sheet::Piece, empty_plan());
    type_into(&mut desk, "Heart", "500");
    press(&mut desk, "Close the piece sheet");
    assert!(desk.state().open.is_none());
    assert_eq!(weights(&desk)[2], 500);
}

#[test]
fn a_kind_is_searched_for_and_folds_to_a_line() {
    let mut desk = open_sized(Sheet::Start, plan(), [1440.0, 900.0]);
    desk.run();
    desk.get_by_role_and_label(Role::TextInput, "Search kinds").focus();
    desk.run();
    key_in(&mut desk, "salm");
    desk.key_press(Key::Enter);
    desk.run();
    assert!(desk.query_by_role_and_label(Role::TextInput, "Search kinds").is_none());
    assert!(desk.query_by_role_and_label(Role::Button, "Side of salmon").is_some());
    assert!(desk.query_by_role_and_label(Role::Button, "Celeriac").is_none());
    for question in ["Which piece is it?", "How heavy is it?", "How many days, from when?", "Who eats?"] {
        assert!(desk.get_by_label(question).rect().bottom() < 820.0, "{question} is in sight");
    }
}

#[test]
fn the_kinds_are_one_stop_and_arrows_and_letters_walk_in_them() {
    let mut desk = open(Sheet::Start, plan());
    desk.get_by_role_and_label(Role::TextInput, "Search kinds").focus();
    desk.run();
    desk.key_press(Key::ArrowDown);
    desk.run();
    assert_eq!(focused(&desk).as_deref(), Some("Red cabbage"));
    key_in(&mut desk, "c");
    assert_eq!(focused(&desk).as_deref(), Some("Celeriac"));
    desk.key_press(Key::ArrowUp);
    desk.run();
    assert_eq!(focused(&desk).as_deref(), Some("Side of salmon"));
    desk.key_press(Key::Tab);
    desk.run();
    assert_eq!(focused(&desk).as_deref(), Some("Mass as bought"));
}

#[test]
fn a_first_household_is_not_that_of_the_demo() {
    let text = include_str!("../../../assets/demo.rotation.ron");
    let demo = tranche::store::rotation_from_text(std::path::Path::new("demo"), text).expect("reads");
    let mut desk = open(Sheet::Start, demo);
    press(&mut desk, "add one adult");
    press(&mut desk, "add one child");
    press(&mut desk, "Put it on the bench");
    let [Action::File(FileAction::Begin(r))] = &desk.state().asked[..] else { panic!("{:?}", desk.state().asked) };
    assert_eq!(r.household.eaters.iter().map(|e| e.name.as_str()).collect::<Vec<_>>(), ["Me", "Adult 2", "Child 1"]);
}
