//! Can the cook bring in a recipe from a saved page, see what was and was not read, and make it a dish that is on the shelf?

use egui::{Key, Modifiers, accesskit::Role};
use egui_kittest::{
    Harness,
    kittest::{By, NodeT as _, Queryable as _},
};
use std::{
    fs,
    path::{Path, PathBuf},
    sync::Arc,
    thread::sleep,
    time::{Duration, Instant},
};
use tranche::{
    app::{Desk, Start, action::Action, files::FileAction},
    book::{Allergen, Book, Dish},
    store::{Places, rotation_to_text},
};
use tranche_window_tests::week;

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

/// A file that the hand lets go over the window.
#[derive(Debug)]
struct Dropped(PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        fs::read(&self.0).map_err(|e| e.to_string())
    }
}

/// The program over a folder of its own, with pages in it.
struct Kitchen(tempfile::TempDir);

/// A window.
struct Window(Harness<'static, Program>);

fn page(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../data/pages").join(name)
}

impl Kitchen {
    fn new() -> Kitchen {
        Kitchen(tempfile::tempdir().expect("a folder"))
    }

    /// A page of this content.
    fn page(&self, name: &str, content: &str) -> PathBuf {
        let path = self.0.path().join(name);
        fs::write(&path, content).expect("written");
        path
    }

    fn open_in(&self, size: [f32; 2]) -> Window {
        let plan = self.0.path().join("week.rotation.ron");
        fs::write(&plan, rotation_to_text(&week("red-cabbage-open"))).expect("written");
        let start = Start { file: Some(plan), built_in_dialogs: true, places: Some(Places::under(self.0.path())) };
        let mut harness = Harness::builder().with_size(size).build_eframe(|cc| {
            let mut desk = Desk::open(start, &cc.egui_ctx);
            desk.dress(&cc.egui_ctx);
            Program { desk }
        });
        harness.step();
        Window(harness)
    }

    /// A window so tall that all of a page is drawn.
    fn open(&self) -> Window {
        self.open_in([1440.0, 4_600.0])
    }
}

impl Window {
    fn desk(&self) -> &Desk {
        &self.0.state().desk
    }

    fn step(&mut self) {
        (0..3).for_each(|_| self.0.step());
    }

    #[track_caller]
    fn until(&mut self, what: &str, is: impl Fn(&Window) -> bool) {
        let began = Instant::now();
        while !is(self) {
            self.0.step();
            assert!(began.elapsed() < Duration::from_secs(20), "never: {what}; said: {}", self.desk().live());
            sleep(Duration::from_millis(4));
        }
        self.step();
    }

    /// Presses the button that begins with `name`.
    #[track_caller]
    fn press(&mut self, name: &str) {
        let begins = name.to_string();
        let by = By::new().predicate(move |n| n.label().is_some_and(|l| l.starts_with(&begins)) && n.role() == Role::Button);
        let node = self.0.query_all(by).next().unwrap_or_else(|| panic!("no button {name}"));
        node.click();
        self.step();
    }

    fn says(&self, words: &str) -> bool {
        self.0.query_all_by_label_contains(words).next().is_some()
            || self.0.root().children_recursive().any(|n| n.accesskit_node().value().is_some_and(|v| v.contains(words)))
    }

    fn can(&self, button: &str) -> bool {
        !self.0.get_by_role_and_label(Role::Button, button).accesskit_node().is_disabled()
    }

    fn field(&self, name: &str) -> Option<String> {
        self.0.get_by_role_and_label(Role::TextInput, name).value()
    }

    fn type_into(&mut self, name: &str, text: &str) {
        self.0.get_by_role_and_label(Role::TextInput, name).focus();
        self.step();
        self.0.key_press_modifiers(Modifiers::COMMAND, Key::A);
        self.step();
        self.0.get_by_role_and_label(Role::TextInput, name).type_text(text);
        self.step();
    }

    /// Drops a file onto the window.
    fn drop_file(&mut self, path: &Path) {
        self.0.input_mut().dropped_files.push(Arc::new(Dropped(path.to_path_buf())));
        self.step();
    }

    /// Brings in a page by the File menu and the path box.
    fn bring_in(&mut self, path: &Path) {
        self.press("File");
        self.press("Bring in a recipe…");
        self.type_path(path);
    }

    fn type_path(&mut self, path: &Path) {
        self.step();
        self.0.key_press_modifiers(Modifiers::COMMAND, Key::A);
        self.step();
        self.0.event(egui::Event::Text(path.display().to_string()));
        self.step();
        self.0.key_press(Key::Enter);
        self.step();
    }

    fn own(&self) -> Vec<Dish> {
        let own = self.desk().own().entries();
        own.filter_map(|e| self.desk().book().dishes().find(|d| d.name == e.name()).map(|d| (**d).clone())).collect()
    }

    fn is_bringing_in(&self) -> bool {
        self.says("Make it my dish")
    }
}

#[test]
fn a_page_becomes_a_dish_of_ones_own_and_is_on_the_shelf() {
    let kitchen = Kitchen::new();
    let mut w = kitchen.open();
    w.bring_in(&page("graph.html"));
    w.until("read", Window::is_bringing_in);
    assert!(!w.desk().files().asks(), "the path box is gone");
    assert!(w.desk().live().contains("8 ingredients, 3 steps, all of it read"), "{}", w.desk().live());
    for words in [
        "Braised red cabbage & apple",
        "makes: 6 servings",
        "Best guess, not sure: red cabbage stands in the recipe's name",
        "For one: 125\u{a0}g prepared, from 95\u{a0}g to 155\u{a0}g",
        "833 in 1,000 prepared",
        "Line 4: 3 to 4 tbsp, cider vinegar",
        "As it stands: 3-4 tbsp cider vinegar",
        "For one: 8.3\u{a0}g of butter, a block is 250\u{a0}g (its pack as the book has it)",
        "left open, nobody measures a pinch",
        "Proposed: 80\u{a0}min · hands free · ring",
        "proposed: \"braised\" stands in the name",
        "left open: nothing speaks for it",
        "Every line of the recipe was read.",
        "Minutes of step 3: the text states none.",
        "Read every label",
        "Milk: 50 g butter",
    ] {
        assert!(w.says(words), "{words}");
    }
    assert!(w.own().is_empty(), "nothing is kept yet");
    w.press("Make it my dish");
    assert!(w.says("A new dish") && w.says("Brought in from graph.html") && w.says("must be read on the labels"));
    assert_eq!(w.field("Name").as_deref(), Some("Braised red cabbage & apple"));
    assert_eq!(w.field("Typical grams").as_deref(), Some("125"));
    assert!(!w.can("Save") && w.own().is_empty(), "what is open is not made up");
    // The cook fills in what the page does not say.
    w.type_into("Ingredient 6, a head", "0.2");
    w.type_into("Step 3, minutes", "2");
    assert!(w.can("Save"), "it is sound now");
    w.press("Save");
    w.until("kept", |w| w.desk().live().starts_with("Kept in your book"));
    let own = w.own();
    let dish = own.first().expect("one");
    assert_eq!((dish.grams.1, dish.steps.len(), dish.companions.len()), (125, 3, 7));
    assert_eq!(dish.allergens, [Allergen::Milk, Allergen::Celery, Allergen::Sulphite]);
    assert!(dish.sources[0].contains("graph.html"), "{:?}", dish.sources);
    assert!(!w.is_bringing_in() && w.says("Your own dish."));
    w.press("Bench");
    assert!(w.says("Braised red cabbage & apple, dish, "), "it is on the shelf");
}

#[test]
fn a_page_that_is_none_is_refused_in_a_sentence_and_changes_nothing() {
    let kitchen = Kitchen::new();
    let deep = kitchen.page("deep.html", &format!("<html>{}", "<div>".repeat(20_000)));
    let text = kitchen.page("text.html", "One cabbage, and time.");
    let zero = kitchen.page("zero.html", "<html>\0</html>");
    let empty = kitchen.page("empty.json", "");
    let missing = kitchen.0.path().join("nowhere.html");
    let mut w = kitchen.open_in([1024.0, 700.0]);
    let before = w.desk().rotation().clone();
    let all = [
        (page("none.html"), "none.html holds no recipe"),
        (page("broken.html"), "JSON-LD block 1 is broken"),
        (deep, "nested more than 1000 tags deep"),
        (text, "neither an HTML page nor JSON"),
        (zero, "has a zero byte at byte 6"),
        (empty, "is empty: save the page again"),
        (missing, "is not there: check the name"),
    ];
    w.press("File");
    w.press("Bring in a recipe…");
    for (path, words) in &all {
        w.type_path(path);
        w.until(words, |w| w.desk().live().starts_with("Not brought in") && w.desk().live().contains(words));
        assert!(w.desk().files().asks(), "the box stays, for another name");
        let box_says =
            w.0.root().children_recursive().any(|n| n.accesskit_node().description().is_some_and(|d| d.contains(words)));
        assert!(box_says, "beside the field: {words}");
    }
    w.0.key_press(Key::Escape);
    w.step();
    assert!(!w.desk().files().asks());
    // Dropped on the window there is no box: a dialog says it.
    for (path, words) in &all {
        w.drop_file(path);
        w.until(words, |w| w.says("This page was not brought in") && w.says(words));
        w.press("Close");
        w.until("closed", |w| !w.desk().files().asks());
    }
    assert!(!w.is_bringing_in() && w.own().is_empty());
    assert_eq!(*w.desk().rotation(), before);
}

#[test]
fn a_folder_in_the_box_is_entered_and_shows_its_pages_only() {
    let kitchen = Kitchen::new();
    let folder = kitchen.0.path().join("saved");
    fs::create_dir(&folder).expect("made");
    for name in ["Soup.HTML", "salad.json", "notes.txt", "week.rotation.ron"] {
        fs::write(folder.join(name), "x").expect("written");
    }
    let mut w = kitchen.open_in([1024.0, 700.0]);
    w.press("File");
    w.press("Bring in a recipe…");
    w.type_path(&folder);
    w.until("entered", |w| w.says("File Soup.HTML") && w.says("File salad.json"));
    assert!(!w.says("File notes.txt") && !w.says("File week.rotation.ron"));
}

const PAIR: &str = r#"[
    {"@type":"Recipe","name":"Kale crisps","recipeYield":"Serves 2","totalTime":"PT25M","prepTime":"PT10M","recipeIngredient":["400 g kale"],
     "recipeInstructions":["Tear the kale, 10 minutes.","Bake at 160 C for 15 minutes."]},
    {"@type":"Recipe","name":"Bean pot","recipeYield":"2 loaves","recipeIngredient":["500 g dried beans","salt and pepper"],
     "recipeInstructions":["Simmer for 20 minutes."]}]"#;

#[test]
fn of_a_page_with_two_recipes_the_cook_chooses() {
    let kitchen = Kitchen::new();
    let pair = kitchen.page("pair.json", PAIR);
    let mut w = kitchen.open();
    w.drop_file(&pair);
    w.until("read", |w| w.says("Which recipe of the page?"));
    assert!(w.desk().live().contains("2 recipes are on pair.json"));
    w.press("Bean pot, 2 ingredients, 1 step");
    assert!(w.says("Nothing in the recipe is called as a kind of the book is") && !w.can("Make it my dish"));
    assert!(w.says("Not among what the dish needs: it is seasoning without an amount"));
    w.press("Another of this page");
    w.press("Kale crisps, 1 ingredient, 2 steps");
    assert!(w.says("Best guess, not sure: kale stands in") && w.says("160\u{a0}°C"));
    w.press("Make it my dish");
    assert_eq!(w.field("Oven, best").as_deref(), Some("160"));
    assert_eq!(w.field("Minutes in all").as_deref(), Some("25"));
    // Giving the dish up leads back to the recipe, and leaving that to the book.
    w.press("Cancel");
    assert!(w.is_bringing_in() && w.says("Kale crisps"));
    w.press("Leave it");
    assert!(!w.is_bringing_in() && w.says("Search the book") && w.own().is_empty());
}

#[test]
fn the_cook_says_what_the_piece_is_how_much_and_for_how_many() {
    let kitchen = Kitchen::new();
    let pair = kitchen.page("pair.json", PAIR);
    let mut w = kitchen.open();
    w.drop_file(&pair);
    w.until("read", |w| w.says("Which recipe of the page?"));
    w.press("Bean pot");
    w.press("Piece: another kind");
    let radio = By::new().predicate(|n| n.role() == Role::RadioButton && n.label().is_some_and(|l| l == "runner beans"));
    w.0.query_all(radio).next().expect("offered").click_accesskit();
    w.step();
    assert!(w.says("Chosen by you."));
    assert!(w.says("The page says \"2 loaves\", and not for how many that is."), "loaves are no heads");
    assert!(w.says("No line is the piece"));
    w.press("Line 1 is the piece");
    assert_eq!(w.field("All of the piece, in grams").as_deref(), Some("500"));
    assert!(w.says("Grams for one are left open. For how many it is is not known."));
    w.type_into("For how many", "a few");
    assert!(w.says("Grams for one are left open."));
    w.type_into("For how many", "4");
    w.press("Grams prepared");
    assert!(w.says("For one: 125\u{a0}g prepared"));
    w.press("Line 2 goes beside it");
    assert!(w.says("For one: left open, no amount stands in its line"));
    let book = Book::shipped().expect("it reads");
    w.press("Make it my dish");
    assert_eq!(w.field("Typical grams").as_deref(), Some("125"));
    assert_eq!(w.field("Ingredient 1, a head").as_deref().unwrap_or_default(), "", "open, not made up");
    assert!(book.dishes().all(|d| d.name != "Bean pot") && w.own().is_empty());
}

#[test]
fn what_is_being_written_is_not_lost_to_a_recipe() {
    let kitchen = Kitchen::new();
    let mut w = kitchen.open();
    w.press("Dish book");
    w.press("New dish");
    w.type_into("Name", "Half written");
    w.drop_file(&page("graph.html"));
    w.until("read", Window::is_bringing_in);
    assert!(!w.can("Make it my dish") && w.says("First keep, or give up, what you are writing (Half written)"));
    w.press("Leave it");
    assert_eq!(w.field("Name").as_deref(), Some("Half written"));
}

#[test]
fn the_keyboard_alone_brings_a_recipe_in() {
    let kitchen = Kitchen::new();
    let mut w = kitchen.open_in([1024.0, 700.0]);
    w.press("Dish book");
    w.0.get_by_role_and_label(Role::Button, "Bring in a recipe…").focus();
    w.step();
    w.0.key_press(Key::Enter);
    w.step();
    w.type_path(&page("graph.html"));
    w.until("read", Window::is_bringing_in);
    let focused = w.0.root().children_recursive().find(|n| n.is_focused()).and_then(|n| n.accesskit_node().label());
    assert_eq!(focused.as_deref(), Some("Make it my dish"));
    w.0.key_press(Key::Enter);
    w.step();
    assert!(w.says("A new dish"));
}

#[test]
fn nothing_is_drawn_while_a_recipe_is_only_looked_at() {
    let kitchen = Kitchen::new();
    let mut w = kitchen.open_in([1024.0, 700.0]);
    w.drop_file(&page("main_entity.html"));
    w.until("read", Window::is_bringing_in);
    assert!(w.says("time to cook: P1M"), "what was not read stands beside it");
    w.0.run();
    let asked = w.0.output().viewport_output.values().map(|v| v.repaint_delay).min().expect("a window");
    assert!(asked > Duration::from_secs(1), "{asked:?}");
}

#[test]
fn a_page_is_not_taken_for_a_plan_nor_a_plan_for_a_page() {
    let kitchen = Kitchen::new();
    let mut w = kitchen.open_in([800.0, 600.0]);
    let ctx = w.0.ctx.clone();
    w.0.state_mut().desk.perform(Action::File(FileAction::BringInPath(kitchen.0.path().join("week.rotation.ron"))), &ctx);
    w.until("refused", |w| w.says("neither an HTML page nor JSON"));
    w.press("Close");
    w.drop_file(&page("sections.html"));
    w.until("read", Window::is_bringing_in);
    assert!(w.says("Squash lasagne") && w.says("Not read"), "in a narrow window too");
}

#[test]
fn a_page_of_endless_texts_is_shown_cut_and_makes_a_bounded_dish() {
    let kitchen = Kitchen::new();
    let long = "W".repeat(5_000);
    let line = format!("1 kg red cabbage <script>alert(1)</script> {}", "x".repeat(900));
    let lines = vec![format!("\"{line}\""); 400].join(",");
    let steps = vec![format!("\"Fry for 5 minutes. {}\"", "and stir ".repeat(400)); 400].join(",");
    let page = format!(
        r#"{{"@type":"Recipe","name":"{long}","recipeYield":"{long}","totalTime":"{long}","recipeIngredient":[{lines}],
        "recipeInstructions":[{steps}]}}"#
    );
    let page = kitchen.page("endless.json", &page);
    let mut w = kitchen.open_in([1024.0, 700.0]);
    w.drop_file(&page);
    w.until("read", Window::is_bringing_in);
    assert!(w.says("100 more ingredients: 300 are the most that are kept"), "what is over the limits is said");
    assert!(!w.says(&long) && w.says("The end of its name"), "nothing endless is shown");
    let began = Instant::now();
    w.0.step();
    // Unoptimised and drawn whole.
    assert!(began.elapsed() < Duration::from_secs(5), "a frame took {:?}", began.elapsed());
    w.press("Make it my dish");
    assert_eq!(w.field("Name").map(|n| n.len()), Some(120));
}

#[test]
fn what_is_proposed_beside_the_fields_is_kept_with_the_dish() {
    let kitchen = Kitchen::new();
    let mut w = kitchen.open();
    w.drop_file(&page("main_entity.html"));
    w.until("read", Window::is_bringing_in);
    assert!(w.says("Cook the eggs firm for these eaters."));
    w.press("Make it my dish");
    for (field, text) in [
        ("Minutes of hands", "20"),
        ("Minutes in all", "30"),
        ("Ingredient 4, a head", "5"),
        ("Step 1, minutes", "5"),
        ("Step 2, minutes", "10"),
    ] {
        w.type_into(field, text);
    }
    w.press("Save");
    w.until("kept", |w| w.desk().live().starts_with("Kept in your book"));
    let own = w.own();
    let dish = own.first().expect("one");
    assert!(dish.cautions.iter().any(|c| c.text.contains("eggs firm")), "{:?}", dish.cautions);
    assert_eq!(dish.allergens, [Allergen::Wheat, Allergen::Egg]);
    assert!(dish.profile.method.iter().any(|m| m.0.word() == "fried") && dish.cooked && dish.families == ["fish"]);
}
