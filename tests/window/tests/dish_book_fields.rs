//! Can every field of a dish and of a kind be written in the window, and does it stand in the cook's own file afterwards?

use egui::{Key, Modifiers, Vec2, ViewportCommand, ViewportEvent, ViewportId, accesskit::Role};
use egui_kittest::{
    Harness,
    kittest::{By, NodeT as _, Queryable as _},
};
use std::{
    fs,
    sync::Arc,
    thread::sleep,
    time::{Duration, Instant},
};
use tranche::{
    app::{Desk, Start},
    book::{Book, Care, CompanionMeasure, CutForm, Diet, Dish, DishId, Kind, KindId, Leftover, Method, Protein, StepPlace},
    quantity::{Days, PerMille, Portion, State},
    store::{Entry, EntryId, OwnBook, Places, rotation_to_text},
};
use tranche_window_tests::week;

const WEDGES: &str = "charred-wedges-cumin-yoghurt";
const WEDGES_NAME: &str = "Charred wedges, cumin yoghurt";

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

/// The program over a folder of its own, with the dish book open.
struct Desktop {
    w: Harness<'static, Program>,
    folder: tempfile::TempDir,
}

impl Desktop {
    fn open() -> Desktop {
        let folder = tempfile::tempdir().expect("a folder");
        let plan = folder.path().join("week.rotation.ron");
        fs::write(&plan, rotation_to_text(&week("red-cabbage-open"))).expect("written");
        let start = Start { file: Some(plan), built_in_dialogs: true, places: Some(Places::under(folder.path())) };
        // So tall that all of a page is drawn.
        let mut w = Harness::builder().with_size(Vec2::new(1440.0, 8_000.0)).build_eframe(|cc| {
            let mut desk = Desk::open(start, &cc.egui_ctx);
            desk.dress(&cc.egui_ctx);
            Program { desk }
        });
        w.step();
        let mut this = Desktop { w, folder };
        this.press("Dish book");
        this
    }

    /// The wedges as a copy of one's own, everything open.
    fn wedges() -> Desktop {
        let mut this = Desktop::open();
        this.press_beginning(&format!("{WEDGES_NAME}, dish"));
        this.press("Make it my own");
        this.press("Unfold all");
        this
    }

    /// The red cabbage as a copy of one's own, everything open.
    fn cabbage() -> Desktop {
        let mut this = Desktop::open();
        this.press("Kinds");
        this.press_beginning("Red cabbage, kind");
        this.press("Make it my own");
        this.press("Unfold all");
        this
    }

    fn desk(&self) -> &Desk {
        &self.w.state().desk
    }

    fn steps(&mut self) {
        (0..3).for_each(|_| self.w.step());
    }

    #[track_caller]
    fn node(&self, fits: impl Fn(&str) -> bool + 'static, roles: &'static [Role], what: &str) -> egui_kittest::Node<'_> {
        let by = By::new().predicate(move |n| n.label().is_some_and(|l| fits(&l)) && roles.contains(&n.role()));
        let found = self.w.query_all(by).next();
        found.unwrap_or_else(|| panic!("nothing is called {what}; there are:\n{}", self.names().join("\n")))
    }

    fn names(&self) -> Vec<String> {
        let of = |n: egui_kittest::Node<'_>| {
            let n = n.accesskit_node();
            n.label().or_else(|| n.value())
        };
        self.w.root().children_recursive().filter_map(of).collect()
    }

    fn says(&self, words: &str) -> bool {
        let told = |n: egui_kittest::Node<'_>| n.accesskit_node().description().is_some_and(|d| d.contains(words));
        self.names().iter().any(|n| n.contains(words)) || self.w.root().children_recursive().any(told)
    }

    #[track_caller]
    fn press(&mut self, name: &str) {
        let wanted = name.to_string();
        self.node(move |l| l == wanted, &[Role::Button], name).click();
        self.steps();
    }

    #[track_caller]
    fn press_beginning(&mut self, name: &str) {
        let wanted = name.to_string();
        self.node(move |l| l.starts_with(&wanted), &[Role::Button], name).click();
        self.steps();
    }

    #[track_caller]
    fn field(&self, name: &str) -> egui_kittest::Node<'_> {
        let wanted = name.to_string();
        self.node(move |l| l == wanted, &[Role::TextInput, Role::MultilineTextInput], name)
    }

    #[track_caller]
    fn write(&mut self, name: &str, text: &str) {
        self.field(name).focus();
        self.steps();
        self.w.key_press_modifiers(Modifiers::COMMAND, Key::A);
        self.w.step();
        self.w.key_press(Key::Delete);
        self.w.step();
        if !text.is_empty() {
            self.field(name).type_text(text);
        }
        self.steps();
    }

    #[track_caller]
    fn until(&mut self, what: &str, is: impl Fn(&Desktop) -> bool) {
        let began = Instant::now();
        while !is(self) {
            self.w.step();
            assert!(began.elapsed() < Duration::from_secs(20), "never: {what}; said: {}", self.desk().live());
            sleep(Duration::from_millis(4));
        }
        self.steps();
    }

    fn can_save(&self) -> bool {
        !self.node(|l| l == "Save", &[Role::Button], "Save").accesskit_node().is_disabled()
    }

    /// Saves, and reads the entry back from the data folder.
    #[track_caller]
    fn saved(mut self, id: EntryId) -> Entry {
        assert!(self.can_save(), "not sound:\n{}", self.names().join("\n"));
        self.press("Save");
        let wanted = id.clone();
        self.until("kept", move |d| d.desk().own().has(&wanted));
        let own = OwnBook::load(&Places::under(self.folder.path()));
        assert!(own.troubles().is_empty(), "{:?}", own.troubles());
        own.entries().find(|e| e.id() == id).expect("on disk").clone()
    }

    #[track_caller]
    fn saved_dish(self) -> Arc<Dish> {
        match self.saved(EntryId::Dish(dish_id(WEDGES))) {
            Entry::Dish(dish) => dish,
            Entry::Kind(_) => panic!("a kind"),
        }
    }

    #[track_caller]
    fn saved_kind(self) -> Arc<Kind> {
        match self.saved(EntryId::Kind(kind_id("red-cabbage"))) {
            Entry::Kind(kind) => kind,
            Entry::Dish(_) => panic!("a dish"),
        }
    }

    fn close(&mut self) {
        let viewports = &mut self.w.input_mut().viewports;
        viewports.get_mut(&ViewportId::ROOT).expect("a window").events.push(ViewportEvent::Close);
        self.w.step();
    }

    /// Whether the last frame sent the window this command.
    fn was_told(&self, command: &ViewportCommand) -> bool {
        self.w.output().viewport_output[&ViewportId::ROOT].commands.contains(command)
    }
}

fn dish_id(id: &str) -> DishId {
    DishId::new(id).expect("a slug")
}

fn kind_id(id: &str) -> KindId {
    KindId::new(id).expect("a slug")
}

fn shipped_wedges() -> Dish {
    (**Book::shipped().expect("it reads").dish(&dish_id(WEDGES)).expect("shipped")).clone()
}

fn shipped_cabbage() -> Kind {
    (**Book::shipped().expect("it reads").kind(&kind_id("red-cabbage")).expect("shipped")).clone()
}

#[test]
fn an_untouched_copy_with_everything_open_is_the_entry_again() {
    assert_eq!(*Desktop::wedges().saved_dish(), shipped_wedges());
    assert_eq!(*Desktop::cabbage().saved_kind(), shipped_cabbage());
}

#[test]
fn a_twin_is_written_with_all_that_it_changes() {
    let mut d = Desktop::wedges();
    d.write("Forms that some dislike, one a line", "raw onion");
    d.press("One more twin");
    assert!(d.says("The name of a twin is empty") && !d.can_save(), "{:?}", d.names());
    d.write("Twin 1", "wedges with tahini");
    d.press("Twin 1, replaces the piece itself");
    d.press("Twin 1, diet: vegan");
    d.press("Twin 1, protein: pulses");
    d.press("Twin 1, without raw onion");
    d.press("Twin 1, one more ingredient");
    d.write("Twin 1, ingredient 1", "tahini");
    d.write("Twin 1, ingredient 1, a head", "30");
    d.press("Twin 1, ingredient 1 in ml");
    d.write("Twin 1, ingredient 1, for all", "2");
    d.write("Twin 1, ingredient 1, in a pack", "250");
    d.write("Twin 1, ingredient 1, pack is a", "jar");
    d.write("Twin 1, ingredient 1, opened days", "60");
    assert!(d.says("There is tahini in it, which means sesame") && !d.can_save());
    d.press("Twin 1, tick sesame");
    let dish = d.saved_dish();
    let [twin] = dish.twins.as_slice() else { panic!("{:?}", dish.twins) };
    assert_eq!((twin.name.as_str(), twin.holds_piece, twin.diet), ("wedges with tahini", false, Diet::Vegan));
    assert_eq!((twin.protein, &*twin.without_forms), (Some(Protein::Pulses), &["raw onion".to_string()][..]));
    assert_eq!(twin.allergens, [tranche::book::Allergen::Sesame]);
    let c = &twin.companions[0];
    assert_eq!((c.name.as_str(), c.per_unit, c.per_batch, c.measure), ("tahini", 30.0, 2.0, CompanionMeasure::Ml));
    assert_eq!((c.pack, c.pack_word.as_deref(), c.opened_days), (Some(250.0), Some("jar"), Some(Days(60))));
}

#[test]
fn cautions_are_written_with_whom_they_concern() {
    let mut d = Desktop::wedges();
    d.press("One more caution");
    assert!(d.says("A caution is empty") && !d.can_save());
    d.write("Caution 1", "Let it cool for small mouths.");
    d.press("Caution 1, for: under five");
    d.press("Caution 1, for: unwell");
    d.write("Caution 1, source", "practice");
    let dish = d.saved_dish();
    let [caution] = dish.cautions.as_slice() else { panic!("{:?}", dish.cautions) };
    assert_eq!(caution.for_whom, [Care::UnderFive, Care::Unwell]);
    assert_eq!((caution.text.as_str(), caution.source.as_str()), ("Let it cool for small mouths.", "practice"));
}

#[test]
fn disliked_forms_a_whole_unit_and_the_nice_limit_are_written() {
    let mut d = Desktop::wedges();
    d.write("Forms that some dislike, one a line", "yoghurt\nwhole cumin");
    d.write("Whole unit", "wedge");
    assert!(!d.can_save(), "a unit has a mass");
    d.write("Whole unit, grams", "120");
    d.write("Days it keeps", "4");
    d.write("Days it eats well", "1");
    let dish = d.saved_dish();
    assert_eq!(dish.forms, ["yoghurt", "whole cumin"]);
    assert_eq!(dish.unit, Some(("wedge".into(), 120)));
    assert_eq!((dish.keeps, dish.nice_days), (Days(4), Some(Days(1))));
}

#[test]
fn what_it_is_made_from_and_what_becomes_of_it_are_chosen_from_the_book() {
    let book = Book::shipped().expect("it reads");
    let other = book.dishes().find(|o| o.suits_family("brassica") && o.id.as_str() != WEDGES).expect("one");
    let becomes = "Fried cakes of cold roast";
    let becomes = book.dishes().find(|o| o.name.starts_with(becomes)).expect("it is made from the wedges").name.clone();
    let mut d = Desktop::wedges();
    d.write("Search for a dish that it is made from", &other.name);
    d.press(&format!("Add {}", other.name));
    // What it became is taken out and chosen again.
    d.press(&format!("Take {becomes} out of what becomes of it"));
    d.write("Search for a dish that it becomes", "cold roast");
    d.press(&format!("Add {becomes}"));
    let dish = d.saved_dish();
    assert_eq!(dish.from, std::slice::from_ref(&other.id));
    assert_eq!(dish.leftover, Leftover::Turned(vec![dish_id("cold-roast-fried-cakes")]));
}

#[test]
fn only_what_says_that_it_is_made_from_the_dish_is_offered_as_what_becomes_of_it() {
    let mut d = Desktop::wedges();
    d.write("Search for a dish that it becomes", "slaw");
    assert!(d.says("Nothing that can stand here is called so."));
}

#[test]
fn a_step_says_what_it_follows_how_long_it_waits_and_what_it_needs() {
    let mut d = Desktop::wedges();
    d.press("Step 6 after step 4");
    d.press("Step 6 after step 2");
    d.press("Step 6 after step 1");
    d.write("Step 6, may wait", "20");
    d.write("Step 6, appliance", "blender");
    d.write("Step 3, oven shelves", "2");
    let dish = d.saved_dish();
    assert_eq!(dish.steps[5].after, [0, 1]);
    assert_eq!((dish.steps[5].may_wait, dish.steps[5].appliance.as_deref()), (Some(20), Some("blender")));
    assert_eq!((dish.steps[2].place, dish.steps[2].shelves), (StepPlace::Oven, Some(2)));
}

#[test]
fn a_step_may_follow_the_one_before_it_again_and_circles_are_refused() {
    let mut d = Desktop::wedges();
    d.press("Step 1 after step 7");
    assert!(d.says("wait for each other in a circle") && !d.can_save());
    d.press("Step 1 after nothing");
    d.press("Step 7 after the step before it");
    d.write("Step 3, oven shelves", "0");
    assert!(d.says("at least one shelf") && !d.can_save());
    d.write("Step 3, oven shelves", "");
    let dish = d.saved_dish();
    assert!(dish.steps[0].after.is_empty() && dish.steps[6].after.is_empty());
}

#[test]
fn yields_and_cups_of_a_kind_are_written_with_their_sources() {
    let mut d = Desktop::cabbage();
    d.press("One more way of cooking");
    d.press("steamed");
    assert!(d.says("Type thousandths") && !d.can_save());
    d.write("Steamed, yield", "920");
    d.write("Steamed, yield, source", "weighed at home");
    d.press("Take fried out of the yields");
    d.write("Grams in a cup", "90.5");
    d.press("A cup of another cut form");
    d.press("grated");
    d.write("Grated, grams in a cup", "110");
    d.write("Grated, grams in a cup, source", "weighed at home");
    let kind = d.saved_kind();
    let steamed = kind.yields.last().expect("one");
    assert_eq!(
        (steamed.method, steamed.share, &*steamed.source),
        (Method::Steam, PerMille::new(920).unwrap(), "weighed at home")
    );
    assert!(kind.yields.iter().all(|y| y.method != Method::Fry));
    assert_eq!(kind.cup.expect("a cup").0.to_bits(), 90.5f64.to_bits());
    let grated = kind.cups.last().expect("one");
    assert_eq!((grated.form, grated.grams.0 as u32, &*grated.source), (CutForm::Grated, 110, "weighed at home"));
}

#[test]
fn keeping_of_a_kind_is_written_unopened_cut_and_cooked() {
    let mut d = Desktop::cabbage();
    d.press("One more cut form");
    d.press("wedges");
    d.write("Cut in wedges, raw days", "4");
    d.press("One more place");
    assert!(!d.can_save());
    d.write("Place 3", "cellar");
    d.write("Place 3, least days", "20");
    d.write("Place 3, most days", "10");
    d.write("Place 3, source", "practice");
    assert!(d.says("fall from 20 to 10") && !d.can_save());
    d.write("Place 3, most days", "40");
    d.write("Days cooked", "4");
    d.write("Days cooked it eats well", "3");
    d.write("Part 2, raw days", "6");
    d.write("Part 2, days it eats well", "3");
    let kind = d.saved_kind();
    assert_eq!(kind.cut_days(CutForm::Wedges), Some(Days(4)));
    let cellar = kind.whole.last().expect("one");
    assert_eq!((&*cellar.place, cellar.days, &*cellar.source), ("cellar", (20, 40), "practice"));
    assert_eq!((kind.cooked_days, kind.cooked_nice_days), (Days(4), Some(Days(3))));
    assert_eq!((kind.parts[1].raw_days, kind.parts[1].nice_days), (Days(6), Some(Days(3))));
}

#[test]
fn trim_with_its_range_and_parts_with_what_they_suit_and_their_units_are_written() {
    let mut d = Desktop::cabbage();
    d.write("All trim, least", "170");
    assert!(d.says("All trim together is 167 thousandths, which does not lie from 170 to 200") && !d.can_save());
    d.write("All trim, least", "160");
    d.write("All trim, most", "190");
    d.write("Part 2, good for", "everything hot");
    d.write("Part 2, whole unit", "layer");
    d.write("Part 2, whole unit, grams", "35");
    let kind = d.saved_kind();
    let share = |n| PerMille::new(n).expect("in range");
    assert_eq!(kind.trim_range, Some((share(160), share(190))));
    assert_eq!(kind.parts[1].suits, "everything hot");
    assert_eq!(kind.parts[1].unit, Some(("layer".into(), Portion::of(State::Prepared, 35))));
}

#[test]
fn stand_ins_are_chosen_ordered_and_say_what_changes_in_time() {
    let mut d = Desktop::cabbage();
    d.write("Search for a kind that can stand in", "beetroot");
    let first = d.names().into_iter().find(|n| n.starts_with("Add ")).expect("one answers");
    let name = first.trim_start_matches("Add ").to_string();
    d.press(&first);
    d.press(&format!("What takes longer, or less, with {name}"));
    d.press("grilled");
    let field = format!("{}{}, grilled, minutes", name[..1].to_uppercase(), &name[1..]);
    d.write(&field, "-7");
    assert!(d.says("7 min less"));
    d.press(&format!("Move {name} nearer"));
    d.press("Take white cabbage out of what can stand in");
    d.write("Swede, roast, minutes", "a while");
    assert!(d.says("is not minutes") && !d.can_save());
    d.write("Swede, roast, minutes", "20");
    let kind = d.saved_kind();
    let ids: Vec<&str> = kind.stand_ins.iter().map(|s| s.kind.as_str()).collect();
    assert_eq!(ids.len(), 5);
    assert_eq!((ids[4], ids.contains(&"white-cabbage")), ("swede", false), "the new one came before the swede: {ids:?}");
    assert_eq!(kind.stand_ins[3].minutes, [(Method::Grill, -7)]);
    assert_eq!(kind.stand_ins[4].minutes, [(Method::Roast, 20)]);
}

#[test]
fn hazards_and_sources_are_written_line_by_line() {
    let mut d = Desktop::cabbage();
    d.write("What to beware of, one a line", "It stains.\n\nIt rolls.");
    d.write("Where its figures come from, one a line", "practice\nweighed at home");
    let kind = d.saved_kind();
    assert_eq!(kind.hazards, ["It stains.", "It rolls."]);
    assert_eq!(kind.sources, ["practice", "weighed at home"]);
}

#[test]
fn the_page_of_a_kind_says_what_a_stand_in_changes_in_time() {
    let mut d = Desktop::open();
    d.press("Kinds");
    d.press_beginning("Red cabbage, kind");
    assert!(d.says("baked") || d.says("braised 15\u{a0}min less"), "{:?}", d.names());
    assert!(d.says("roast 10\u{a0}min longer") && d.says("roast 5\u{a0}min less"));
}

#[test]
fn sections_fold_to_a_line_that_says_what_is_in_them_and_open_for_what_is_wrong() {
    let mut d = Desktop::open();
    d.press_beginning(&format!("{WEDGES_NAME}, dish"));
    d.press("Make it my own");
    assert!(d.names().iter().any(|n| n == "What it needs: chickpeas, flatbreads, yoghurt and 3 more"), "{:?}", d.names());
    assert!(d.names().iter().any(|n| n == "How it is made: 7 steps"));
    d.press_beginning("How it is made: ");
    assert!(d.says("Step 7") && !d.names().iter().any(|n| n == "How it is made: 7 steps"));
    d.write("Step 2, minutes", "500");
    d.press("How it is made: 1 thing to mend");
    assert!(d.says("more than the dish in all"), "what is wrong stays in sight");
    d.write("Step 2, minutes", "soon");
    d.press("Fold all");
    assert!(d.says("\"soon\" is not minutes"), "what cannot be read, too");
    d.write("Step 2, minutes", "3");
    assert!(d.says("Step 7"), "it does not shut under the hand that mends it");
    d.press("Fold all");
    assert!(d.names().iter().any(|n| n == "How it is made: 7 steps"));
}

#[test]
fn what_was_taken_out_is_put_back_with_all_that_hung_on_it() {
    let mut d = Desktop::wedges();
    d.press("Take chickpeas out");
    d.press("Put back chickpeas");
    d.press("Take step 4 out");
    d.press("Put back step 4");
    d.w.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    d.steps();
    assert!(d.can_save());
    assert_eq!(*d.saved_dish(), shipped_wedges());
}

#[test]
fn the_keyboard_takes_back_and_does_again_what_was_written() {
    let mut d = Desktop::wedges();
    d.write("Typical grams", "210");
    d.press("Diet: everything");
    for _ in 0..2 {
        d.w.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        d.steps();
    }
    assert_eq!(d.field("Typical grams").value().as_deref(), Some("200"));
    assert!(!d.desk().history().is_changed(), "the plan has no part in it");
    d.w.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    d.steps();
    assert_eq!(d.field("Typical grams").value().as_deref(), Some("210"));
}

#[test]
fn closing_the_window_over_a_draft_asks_and_saves_it_or_lets_it_go() {
    // Going on.
    let mut d = Desktop::wedges();
    d.write("Name", "Half written");
    d.press("Bench");
    d.close();
    assert!(d.was_told(&ViewportCommand::CancelClose), "in the very frame of the request");
    d.steps();
    assert!(d.says("“Half written” has changes that are not saved. Closing the window without saving loses them."));
    d.press("Go on editing");
    assert!(!d.was_told(&ViewportCommand::Close) && !d.desk().files().asks());
    assert_eq!(d.field("Name").value().as_deref(), Some("Half written"), "back in the editor");
    // Saving.
    d.close();
    d.steps();
    d.w.query_all(By::new().predicate(|n| n.label().is_some_and(|l| l == "Save") && n.role() == Role::Button))
        .last()
        .expect("a button of the question")
        .click();
    d.until("closed", |d| d.was_told(&ViewportCommand::Close));
    let own = OwnBook::load(&Places::under(d.folder.path()));
    assert!(own.entries().any(|e| e.name() == "Half written"));
    // Throwing away.
    let mut d = Desktop::wedges();
    d.write("Name", "");
    d.close();
    d.steps();
    assert!(d.says("It cannot be saved as it stands"));
    let throw = d.node(|l| l == "Throw away", &[Role::Button], "Throw away");
    throw.click();
    d.until("closed", |d| d.was_told(&ViewportCommand::Close));
    assert_eq!(OwnBook::load(&Places::under(d.folder.path())).entries().count(), 0);
}

#[test]
fn a_draft_without_a_change_closes_without_a_question() {
    let mut d = Desktop::wedges();
    d.close();
    assert!(!d.was_told(&ViewportCommand::CancelClose) && !d.desk().files().asks());
}

#[test]
fn leaving_the_editor_over_changes_asks() {
    let mut d = Desktop::wedges();
    d.write("Name", "Half written");
    d.press("Cancel");
    assert!(d.says("Leaving it without saving loses them."));
    d.press("Go on editing");
    assert_eq!(d.field("Name").value().as_deref(), Some("Half written"));
    d.press("Cancel");
    d.press("Throw away");
    assert!(d.says("A dish of the book.") && d.desk().own().entries().count() == 0);
}

#[test]
fn another_entry_asks_over_its_page_what_is_to_become_of_the_draft() {
    let mut d = Desktop::wedges();
    d.write("Name", "Half written");
    d.press_beginning("Crisp shred pancakes");
    assert!(d.says("Not kept yet: Half written"));
    d.press("Save Half written");
    d.until("kept", |d| d.desk().own().entries().any(|e| e.name() == "Half written"));
    assert!(!d.says("Not kept yet"));
    // Nothing written, nothing asked.
    d.press_beginning("Crisp shred pancakes");
    d.press("Make it my own");
    d.press_beginning("Half written");
    assert!(!d.says("Not kept yet"));
}
