//! Can the cook find, read, copy, write, keep, take away and serve dishes and kinds, and is nothing of it lost or wrong?

use egui::{Key, Modifiers, accesskit::Role};
use egui_kittest::{
    Harness,
    kittest::{NodeT as _, Queryable as _},
};
use std::{
    fs,
    path::PathBuf,
    thread::sleep,
    time::{Duration, Instant},
};
use tranche::{
    app::{Desk, Start},
    book::{Allergen, Book, DishId, KindId},
    store::{EntryId, Places, rotation_to_text},
};
use tranche_window_tests::{Hand as _, Window, supper, week, window_of};

const WEDGES: &str = "charred-wedges-cumin-yoghurt";
const WEDGES_NAME: &str = "Charred wedges, cumin yoghurt";

/// The dish book over the red cabbage week, in a window so tall that all of a page is drawn.
fn book() -> Window<'static> {
    let mut w = window_of(week("red-cabbage-open"), [1440.0, 8_000.0]);
    w.press("Dish book");
    w
}

fn type_into(w: &mut Window<'_>, label: &str, text: &str) {
    w.get_by_role_and_label(Role::TextInput, label).focus();
    w.run();
    w.key_press_modifiers(Modifiers::COMMAND, Key::A);
    w.run();
    if text.is_empty() {
        w.key_press(Key::Delete);
    } else {
        w.get_by_role_and_label(Role::TextInput, label).type_text(text);
    }
    w.run();
}

fn says(w: &Window<'_>, words: &str) -> bool {
    w.query_all_by_label_contains(words).next().is_some()
}

fn can_save(w: &Window<'_>) -> bool {
    !w.get_by_role_and_label(Role::Button, "Save").accesskit_node().is_disabled()
}

fn dish_id(id: &str) -> DishId {
    DishId::new(id).expect("a slug")
}

fn own_names(w: &Window<'_>) -> Vec<String> {
    w.state().own().entries().map(|e| e.name().to_string()).collect()
}

fn listed(w: &Window<'_>) -> Vec<String> {
    w.names().into_iter().filter(|n| n.contains(", dish, ") || n.contains(", kind, ")).collect()
}

/// Shows a dish and begins an own one of it.
fn make_own(w: &mut Window<'_>, name: &str) {
    w.press(&format!("{name}, dish"));
    w.press("Make it my own");
    w.press("Unfold all");
}

#[test]
fn the_list_narrows_by_search_chips_and_menus_and_widens_again() {
    let mut w = book();
    let of_cabbage = listed(&w).len();
    type_into(&mut w, "Search the book", "cumin");
    let cumin = listed(&w);
    assert!(!cumin.is_empty() && cumin.len() < of_cabbage, "{cumin:?}");
    assert!(cumin.iter().any(|n| n.starts_with(WEDGES_NAME)));
    type_into(&mut w, "Search the book", "no such thing at all");
    assert!(listed(&w).is_empty() && says(&w, "Nothing answers to \"no such thing at all\""));
    type_into(&mut w, "Search the book", "");
    w.press("Texture: any");
    w.press("charred");
    let charred = listed(&w);
    assert!(!charred.is_empty() && charred.len() < of_cabbage);
    let book = Book::shipped().expect("it reads");
    for name in &charred {
        let dish = book.dishes().find(|d| name.starts_with(&format!("{}, dish", d.name))).expect("a dish of the book");
        assert!(dish.profile.texture.iter().any(|t| t.0.word() == "charred"), "{name}");
        assert!(dish.suits_family("brassica"), "{name}");
    }
    w.press("Only your own");
    assert!(listed(&w).is_empty() && says(&w, "Nothing of your own yet"));
    w.press("Show all");
    assert!(listed(&w).len() > of_cabbage, "also what is not for red cabbage");
    w.press("Kinds");
    assert!(w.sees("Celeriac, kind, hard-root") && says(&w, &format!("{} kinds", book.kinds().count())));
}

#[test]
fn a_dish_is_shown_whole_and_one_turns_from_it_to_what_is_left_of_it() {
    let mut w = book();
    w.press(&format!("{WEDGES_NAME}, dish"));
    let dish = w.state().book().dish(&dish_id(WEDGES)).expect("shipped").clone();
    for step in &dish.steps {
        assert!(says(&w, &step.text), "{}", step.text);
    }
    for words in
        ["charred", "pot of 300\u{a0}g, opened it keeps 5 days", "200\u{a0}g prepared", "220\u{a0}°C", "3 days, eats well for 2"]
    {
        assert!(says(&w, words), "{words}");
    }
    for companion in &dish.companions {
        assert!(says(&w, &companion.name), "{}", companion.name);
    }
    w.press("Show Fried cakes of cold roast");
    assert!(says(&w, "A dish of the book.") && w.sees("Show Charred wedges"), "and back to what it is made from");
}

#[test]
fn a_kind_is_shown_with_its_parts_and_stand_ins() {
    let mut w = book();
    w.press("Kinds");
    w.press("Red cabbage, kind");
    assert!(w.sees("As bought: outer leaves 16.7 %, middle 44.4 %, tight heart 22.2 %"), "{:?}", w.names());
    assert!(says(&w, "Mould on the outside"));
    w.press("Show white cabbage");
    assert!(w.sees("As bought: ") && says(&w, "White cabbage"));
}

#[test]
fn arrows_walk_the_list_and_show_what_they_come_to() {
    let mut w = window_of(week("red-cabbage-open"), [1440.0, 900.0]);
    w.press("Dish book");
    let first = listed(&w)[0].clone();
    w.focus(&first);
    w.keys(&[Key::Enter]);
    assert!(says(&w, "A dish of the book."));
    w.keys(&[Key::ArrowDown; 20]);
    let focused = w.root().children_recursive().find(|n| n.is_focused()).expect("something has the keyboard");
    let name = focused.accesskit_node().label().expect("it has a name");
    assert!(name != first && name.contains(", dish, "), "{name}");
    let title = name.split(", dish").next().expect("a name");
    assert!(w.names().iter().any(|n| n == title), "{title} is the title of the page");
}

#[test]
fn an_own_copy_in_place_of_the_shipped_dish_says_so_and_gives_way_again() {
    let mut w = book();
    make_own(&mut w, WEDGES_NAME);
    type_into(&mut w, "Name", "Wedges as we like them");
    type_into(&mut w, "Typical grams", "210");
    assert!(can_save(&w), "{:?}", w.names());
    w.press("Save");
    assert_eq!(own_names(&w), ["Wedges as we like them"]);
    let dish = w.state().book().dish(&dish_id(WEDGES)).expect("in the book").clone();
    assert_eq!((dish.name.as_str(), dish.grams.1), ("Wedges as we like them", 210));
    assert!(says(&w, "in place of the book's; take yours away and the book's comes back"));
    assert!(w.sees("Wedges as we like them, dish, charred · smoky · roast, hot · 41 min, your own, in place of the book's"));
    let shipped = Book::shipped().expect("it reads");
    assert_eq!(shipped.dish(&dish_id(WEDGES)).expect("shipped").name, WEDGES_NAME, "the book itself is unchanged");
    w.press("Take away");
    assert_eq!(w.state().book().dish(&dish_id(WEDGES)).expect("shipped").name, WEDGES_NAME);
    assert!(says(&w, "A dish of the book.") && w.state().live().contains("Taken away: Wedges as we like them"));
    w.press("Undo: take away Wedges as we like them");
    assert_eq!(own_names(&w), ["Wedges as we like them"]);
    w.press("Take away");
    w.press("Dishes");
    w.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    w.run();
    assert_eq!(own_names(&w), ["Wedges as we like them"], "Ctrl+Z brings it back too");
}

#[test]
fn a_copy_beside_the_shipped_dish_leaves_both() {
    let mut w = book();
    make_own(&mut w, WEDGES_NAME);
    w.press("beside it, as one more");
    type_into(&mut w, "Name", "Wedges with tahini");
    w.press("Save");
    let book = w.state().book().clone();
    assert_eq!(book.dish(&dish_id(WEDGES)).expect("shipped").name, WEDGES_NAME);
    assert_eq!(book.dish(&dish_id("wedges-with-tahini")).expect("own").name, "Wedges with tahini");
    assert!(w.state().own().has(&EntryId::Dish(dish_id("wedges-with-tahini"))));
}

#[test]
fn what_cannot_be_read_or_does_not_hold_is_said_in_words_and_not_saved() {
    let mut w = book();
    make_own(&mut w, WEDGES_NAME);
    for (field, wrong, words) in [
        ("Name", "", "Give it a name."),
        ("Typical grams", "a lot", "no number"),
        ("Typical grams", "999", "do not rise from over 0"),
        ("Days it keeps", "many", "\"many\" is not days"),
        ("Days it eats well", "9", "It eats well for 9 days but keeps 3 days only"),
        ("Minutes of hands", "500", "500 minutes of hands do not fit"),
        ("Oven, best", "20", "does not lie between"),
        ("Ingredient 1, a head", "a tin", "is not an amount"),
        ("Step 1", "", "A step is empty"),
        ("Step 1, minutes", "900", "more than the dish in all"),
        ("Where its figures come from, one a line", "", "No source is named"),
    ] {
        type_into_any(&mut w, field, wrong);
        let told = w.names().iter().any(|n| n.contains(words)) || described(&w, words);
        assert!(told, "{field} = {wrong:?}: {words}; there are {:?}", w.names());
        assert!(!can_save(&w), "{field} = {wrong:?} must not be saved");
        w.press("Cancel");
        w.press("Throw away");
        assert!(own_names(&w).is_empty());
        w.press("Make it my own");
        w.press("Unfold all");
    }
    assert!(can_save(&w), "untouched it is sound");
}

/// Types into a field of one line or of several.
fn type_into_any(w: &mut Window<'_>, label: &str, text: &str) {
    let several = w.query_by_role_and_label(Role::MultilineTextInput, label).is_some();
    let role = if several { Role::MultilineTextInput } else { Role::TextInput };
    w.get_by_role_and_label(role, label).focus();
    w.run();
    w.key_press_modifiers(Modifiers::COMMAND, Key::A);
    w.run();
    w.key_press(Key::Delete);
    w.run();
    if !text.is_empty() {
        w.get_by_role_and_label(role, label).type_text(text);
        w.run();
    }
}

/// Whether a field describes its fault so to a screen reader.
fn described(w: &Window<'_>, words: &str) -> bool {
    w.root().children_recursive().any(|n| n.accesskit_node().description().is_some_and(|d| d.contains(words)))
}

#[test]
fn an_allergen_that_a_name_gives_away_is_asked_for_and_ticked() {
    let mut w = book();
    make_own(&mut w, WEDGES_NAME);
    w.press("One more ingredient");
    let nth = w.state().book().dish(&dish_id(WEDGES)).expect("shipped").companions.len() + 1;
    type_into(&mut w, &format!("Ingredient {nth}"), "toasted sesame");
    type_into(&mut w, &format!("Ingredient {nth}, a head"), "5");
    assert!(says(&w, "There is toasted sesame in it, which means sesame, and sesame is not ticked.") && !can_save(&w));
    w.press("Tick sesame");
    assert!(can_save(&w), "{:?}", w.names());
    w.press("Save");
    let dish = w.state().book().dish(&dish_id(WEDGES)).expect("own").clone();
    assert!(dish.allergens.contains(&Allergen::Sesame) && dish.companions.last().expect("one").name == "toasted sesame");
}

#[test]
fn steps_are_added_moved_and_taken_out() {
    let mut w = book();
    let before = w.state().book().dish(&dish_id(WEDGES)).expect("shipped").clone();
    make_own(&mut w, WEDGES_NAME);
    w.press("One more step");
    let nth = before.steps.len() + 1;
    type_into_any(&mut w, &format!("Step {nth}"), "Scatter parsley over it.");
    w.press(&format!("Move step {nth} up"));
    w.press("Take step 1 out");
    w.press("Save");
    let after = w.state().book().dish(&dish_id(WEDGES)).expect("own").clone();
    let texts: Vec<&str> = after.steps.iter().map(|s| s.text.as_str()).collect();
    let mut wanted: Vec<&str> = before.steps.iter().map(|s| s.text.as_str()).collect();
    wanted.insert(nth - 2, "Scatter parsley over it.");
    wanted.remove(0);
    assert_eq!(texts, wanted);
}

#[test]
fn a_new_dish_is_written_saved_and_served_from_the_shelf() {
    let mut w = book();
    w.press("New dish");
    assert!(!can_save(&w) && says(&w, "Not yet"));
    type_into(&mut w, "Name", "Aunt's red salad");
    w.press("Texture: crisp");
    w.press("Flavour: sharp");
    for (field, text) in [
        ("Least grams", "60"),
        ("Typical grams", "90"),
        ("Most grams", "120"),
        ("Minutes of hands", "10"),
        ("Minutes in all", "10"),
    ] {
        type_into(&mut w, field, text);
    }
    type_into_any(&mut w, "Step 1", "Shred it and dress it.");
    assert!(can_save(&w), "{:?}", w.names());
    w.press("Save");
    assert_eq!(own_names(&w), ["Aunt's red salad"]);
    w.press("Bench");
    assert!(w.sees("Aunt's red salad, dish, "), "it is on the shelf");
    w.press("Dish book");
    w.press("Serve it at…");
    assert!(w.state().carry().is_some() && w.state().live().contains("Aunt's red salad is in your hand"));
    w.press("Thursday supper, empty");
    let r = w.state().rotation().clone();
    let serving = r.meal(supper(4)).servings.first().cloned().expect("it is served");
    assert_eq!(r.dish_of(serving.batch).expect("a dish").name, "Aunt's red salad");
    assert!(r.kind.part(&tranche::book::PartId::new("heart").expect("a slug")).is_some());
}

#[test]
fn the_keyboard_serves_a_dish_from_its_page() {
    let mut w = window_of(week("red-cabbage-open"), [1440.0, 900.0]);
    w.press("Dish book");
    type_into(&mut w, "Search the book", "shred pancakes");
    w.focus("Crisp shred pancakes, ginger-soy dip, dish");
    w.keys(&[Key::Enter]);
    w.focus("Serve it at…");
    w.keys(&[Key::Enter]);
    assert!(w.state().carry().is_some());
    w.keys(&[Key::ArrowUp, Key::ArrowDown, Key::Enter]);
    let r = w.state().rotation().clone();
    let serving = r.meal(supper(4)).servings.first().cloned().expect("it is served");
    assert_eq!(r.dish_of(serving.batch).expect("a dish").name, "Crisp shred pancakes, ginger-soy dip");
}

#[test]
fn a_dish_of_another_piece_is_not_offered_for_serving() {
    let mut w = book();
    w.press("Only for red cabbage");
    let turkey = Book::shipped().expect("it reads");
    let other = turkey.dishes().find(|d| d.suits_family("poultry") && !d.suits_family("brassica")).expect("one").name.clone();
    w.press(&format!("{other}, dish"));
    assert!(w.get_by_role_and_label(Role::Button, "Serve it at…").accesskit_node().is_disabled());
    assert!(says(&w, "Not made of red cabbage."));
}

#[test]
fn a_draft_waits_while_something_else_is_looked_at() {
    let mut w = book();
    make_own(&mut w, WEDGES_NAME);
    type_into(&mut w, "Name", "Half written");
    let other = listed(&w).into_iter().find(|n| !n.starts_with("Charred")).expect("another");
    w.press(&other);
    assert!(says(&w, "Not kept yet: Half written") && says(&w, "A dish of the book."));
    assert!(w.get_by_role_and_label(Role::Button, "Make it my own").accesskit_node().is_disabled());
    w.press("Bench");
    w.press("Dish book");
    w.press("Go on editing");
    assert_eq!(w.get_by_role_and_label(Role::TextInput, "Name").value().as_deref(), Some("Half written"));
    w.press(&other);
    w.press("Throw away the changes to Half written");
    assert!(!says(&w, "Not kept yet") && own_names(&w).is_empty());
}

#[test]
fn shares_of_a_kind_are_counted_as_they_are_typed() {
    let mut w = book();
    w.press("Kinds");
    w.press("Red cabbage, kind");
    w.press("Make it my own");
    assert!(says(&w, "All shares together make 1,000 of 1,000."));
    type_into(&mut w, "Part 1, share", "100");
    assert!(says(&w, "67 are missing") && !can_save(&w), "{:?}", w.names());
    type_into(&mut w, "Part 2, share", "511");
    assert!(can_save(&w));
    type_into(&mut w, "Name", "our red cabbage");
    w.press("Save");
    let id = KindId::new("red-cabbage").expect("a slug");
    assert_eq!(w.state().book().kind(&id).expect("own").name, "our red cabbage");
    assert_eq!(w.state().rotation().kind.name, "red cabbage", "the plan keeps the kind that it was made with");
}

#[test]
fn nothing_is_drawn_while_nothing_happens() {
    let mut w = book();
    w.press(&format!("{WEDGES_NAME}, dish"));
    for press in ["Make it my own", "Cancel"] {
        w.run();
        let asked = w.output().viewport_output.values().map(|v| v.repaint_delay).min().expect("a window");
        assert!(asked > Duration::from_secs(3600), "{asked:?}");
        w.press(press);
    }
}

struct Program {
    desk: Desk,
}

impl eframe::App for Program {
    fn logic(&mut self, ctx: &egui::Context, _: &mut eframe::Frame) {
        self.desk.logic(ctx);
    }

    fn ui(&mut self, ui: &mut egui::Ui, _: &mut eframe::Frame) {
        self.desk.ui(ui);
    }
}

/// The program over a folder of its own.
struct Kitchen(tempfile::TempDir);

impl Kitchen {
    fn open(&self) -> Harness<'static, Program> {
        let plan = self.0.path().join("week.rotation.ron");
        fs::write(&plan, rotation_to_text(&week("red-cabbage-open"))).expect("written");
        let places = Some(Places::under(self.0.path()));
        let start = Start { file: Some(plan), built_in_dialogs: true, places };
        let mut harness = Harness::builder().with_size([1440.0, 8_000.0]).build_eframe(|cc| {
            let mut desk = Desk::open(start, &cc.egui_ctx);
            desk.dress(&cc.egui_ctx);
            Program { desk }
        });
        harness.step();
        harness
    }

    fn own(&self, name: &str) -> PathBuf {
        self.0.path().join("data/book").join(name)
    }
}

fn press(w: &mut Harness<'static, Program>, name: &str) {
    let found = w.query_all(egui_kittest::kittest::By::new().predicate({
        let name = name.to_string();
        move |n| n.label().is_some_and(|l| l.starts_with(&name)) && n.role() == Role::Button
    }));
    let node = found.into_iter().next().unwrap_or_else(|| panic!("no button {name}"));
    node.click();
    (0..3).for_each(|_| w.step());
}

#[track_caller]
fn until(w: &mut Harness<'static, Program>, what: &str, is: impl Fn(&Desk) -> bool) {
    let began = Instant::now();
    while !is(&w.state().desk) {
        w.step();
        assert!(began.elapsed() < Duration::from_secs(20), "never: {what}; said: {}", w.state().desk.live());
        sleep(Duration::from_millis(4));
    }
    (0..3).for_each(|_| w.step());
}

fn wedges(desk: &Desk) -> (String, bool) {
    let id = dish_id(WEDGES);
    let name = desk.book().dish(&id).expect("in the book").name.clone();
    (name, desk.own().has(&EntryId::Dish(id)))
}

#[test]
fn an_own_dish_is_back_after_a_restart_and_gone_after_it_was_taken_away() {
    let kitchen = Kitchen(tempfile::tempdir().expect("a folder"));
    let file = format!("dishes/{WEDGES}.ron");
    {
        let mut w = kitchen.open();
        press(&mut w, "Dish book");
        press(&mut w, &format!("{WEDGES_NAME}, dish"));
        press(&mut w, "Make it my own");
        press(&mut w, "Save");
        until(&mut w, "kept", |d| wedges(d).1);
        assert!(kitchen.own(&file).is_file());
    }
    {
        let mut w = kitchen.open();
        assert_eq!(wedges(&w.state().desk), (WEDGES_NAME.to_string(), true), "it is read at the start");
        press(&mut w, "Dish book");
        press(&mut w, &format!("{WEDGES_NAME}, dish"));
        press(&mut w, "Take away");
        until(&mut w, "taken away", |d| !wedges(d).1);
        assert!(!kitchen.own(&file).exists());
    }
    assert!(!wedges(&kitchen.open().state().desk).1);
}

#[test]
fn a_broken_own_file_is_told_at_the_start_and_in_the_book_and_left_alone() {
    let kitchen = Kitchen(tempfile::tempdir().expect("a folder"));
    fs::create_dir_all(kitchen.own("dishes")).expect("made");
    let spoilt = "(version: 1,\n dish: (\n id: \"mine\",\n naem: \"x\"))";
    fs::write(kitchen.own("dishes/mine.ron"), spoilt).expect("written");
    let mut w = kitchen.open();
    assert!(w.state().desk.live().contains("mine.ron, line 4"), "{}", w.state().desk.live());
    press(&mut w, "Dish book");
    assert!(w.query_all_by_label_contains("mine.ron, line 4").count() > 1, "the live line, and the page");
    assert_eq!(fs::read_to_string(kitchen.own("dishes/mine.ron")).expect("there"), spoilt);
}

#[test]
fn a_save_that_fails_is_said_and_the_draft_stays() {
    let kitchen = Kitchen(tempfile::tempdir().expect("a folder"));
    let mut w = kitchen.open();
    // A file where the folder should be.
    fs::create_dir_all(kitchen.own("")).expect("made");
    fs::write(kitchen.own("dishes"), "in the way").expect("written");
    press(&mut w, "Dish book");
    press(&mut w, &format!("{WEDGES_NAME}, dish"));
    press(&mut w, "Make it my own");
    press(&mut w, "Save");
    until(&mut w, "refused", |d| d.live().starts_with("Not done"));
    assert!(w.query_all_by_label_contains("Not kept: ").next().is_some());
    fs::remove_file(kitchen.own("dishes")).expect("gone");
    press(&mut w, "Save");
    until(&mut w, "kept", |d| wedges(d).1);
}
