//! Does the window keep what the cook has made: saved when asked, asked for before it is lost, and back after a crash?

use std::{
    fs,
    path::{Path, PathBuf},
    sync::{Arc, Mutex},
    thread::sleep,
    time::{Duration, Instant},
};

use egui::{Key, Modifiers, ViewportCommand, ViewportEvent, ViewportId, accesskit::Role};
use egui_kittest::{
    Harness,
    kittest::{AccessKitNode, NodeT as _, Queryable as _},
};
use tranche::{
    app::{Desk, SettingChange, Start, action::Action, files::FileAction, theme::Look},
    quantity::DayNo,
    rotation::{Edit, Rotation},
    runsheet::{KeptChange, KeptMove},
    store::{Places, read_rotation, rotation_to_text, save_rotation},
};

/// The program, as the desktop sees it.
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

/// A kitchen: a folder for plans and one for the program's own files, and whatever window is open.
struct Kitchen {
    folder: tempfile::TempDir,
}

struct Window {
    harness: Harness<'static, Program>,
    told: Told,
}

/// Every command that the window gave the desktop, frame by frame.
#[derive(Clone, Default)]
struct Told(Arc<Mutex<Vec<ViewportCommand>>>);

impl egui::Plugin for Told {
    fn debug_name(&self) -> &'static str {
        "what the desktop is told"
    }

    fn output_hook(&mut self, _: &egui::Context, output: &mut egui::FullOutput) {
        let commands = output.viewport_output.get(&ViewportId::ROOT).into_iter().flat_map(|o| o.commands.clone());
        self.0.lock().expect("whole").extend(commands);
    }
}

impl Kitchen {
    fn new() -> Kitchen {
        let kitchen = Kitchen { folder: tempfile::tempdir().expect("a folder") };
        fs::create_dir(kitchen.path("plans")).expect("a folder");
        kitchen
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn places(&self) -> Places {
        Places::under(&self.path("own"))
    }

    /// A plan on disk, with this title.
    fn plan(&self, title: &str) -> PathBuf {
        let path = self.path(&format!("plans/{title}.rotation.ron"));
        save_rotation(&path, &Rotation { title: title.into(), ..demo() }).expect("saved");
        path
    }

    /// Opens the window on `file`.
    fn open(&self, file: Option<&Path>) -> Window {
        let start = Start { file: file.map(Path::to_path_buf), built_in_dialogs: true, places: Some(self.places()) };
        let told = Told::default();
        let hears = told.clone();
        let harness = Harness::builder().with_size([1280.0, 820.0]).build_eframe(|cc| {
            cc.egui_ctx.add_plugin(hears);
            let mut desk = Desk::open(start, &cc.egui_ctx);
            desk.dress(&cc.egui_ctx);
            Program { desk }
        });
        Window { harness, told }
    }

    /// Where it is kept what the kitchen has.
    fn path_of_kitchen(&self) -> PathBuf {
        self.places().data.join("kitchen.ron")
    }

    fn snapshots(&self) -> Vec<PathBuf> {
        let entries = fs::read_dir(self.places().state.join("recovery")).into_iter().flatten().flatten();
        entries.map(|e| e.path()).filter(|p| p.to_string_lossy().ends_with(".recovery.ron")).collect()
    }
}

fn demo() -> Rotation {
    let text = include_str!("../../../assets/demo.rotation.ron");
    tranche::store::rotation_from_text(Path::new("demo"), text).expect("the demo reads")
}

impl Window {
    fn step(&mut self) {
        self.harness.step();
    }

    /// Steps until `is` holds; the worker runs in real time.
    #[track_caller]
    fn until(&mut self, what: &str, is: impl Fn(&Window) -> bool) {
        let began = Instant::now();
        loop {
            self.step();
            if is(self) {
                return;
            }
            assert!(began.elapsed() < Duration::from_secs(20), "never: {what}; the live line says {:?}", self.desk().live());
            sleep(Duration::from_millis(4));
        }
    }

    #[track_caller]
    fn until_said(&mut self, words: &str) {
        self.until(words, |w| w.desk().live().contains(words));
    }

    fn desk(&self) -> &Desk {
        &self.harness.state().desk
    }

    fn title(&self) -> &str {
        &self.desk().rotation().title
    }

    fn perform(&mut self, action: Action) {
        let ctx = self.harness.ctx.clone();
        self.harness.state_mut().desk.perform(action, &ctx);
        self.step();
    }

    fn rename(&mut self, title: &str) {
        self.perform(Action::Edit(Edit::SetTitle(title.into())));
        assert_eq!(self.title(), title);
    }

    fn press(&mut self, modifiers: Modifiers, key: Key) {
        self.harness.key_press_modifiers(modifiers, key);
        self.step();
        self.step();
    }

    /// Presses a button of the dialog with this title.
    #[track_caller]
    fn answer(&mut self, dialog: &str, button: &str) {
        // A dialog measures itself in its first frame.
        self.step();
        self.step();
        let is_dialog = |node: &AccessKitNode<'_>| {
            matches!(node.role(), Role::AlertDialog | Role::Alert) && node.label().as_deref() == Some(dialog)
        };
        self.harness.get_by(is_dialog).get_by_role_and_label(Role::Button, button).click();
        self.step();
        self.step();
    }

    fn shows(&self, words: &str) -> bool {
        let said = |node: &egui_kittest::Node<'_>| {
            let node = node.accesskit_node();
            node.value().is_some_and(|v| v.contains(words)) || node.label().is_some_and(|l| l.contains(words))
        };
        self.harness.root().children_recursive().any(|node| said(&node))
    }

    /// The person presses the window's cross.
    fn close(&mut self) {
        self.told.0.lock().expect("whole").clear();
        let viewports = &mut self.harness.input_mut().viewports;
        viewports.get_mut(&ViewportId::ROOT).expect("a window").events.push(ViewportEvent::Close);
        self.step();
    }

    fn was_told(&self, command: &ViewportCommand) -> bool {
        self.told.0.lock().expect("whole").contains(command)
    }

    /// Types a path in place of what stands in the path box, and presses Enter.
    fn type_path(&mut self, path: &Path) {
        self.step();
        self.step();
        self.press(Modifiers::COMMAND, Key::A);
        self.harness.event(egui::Event::Text(path.display().to_string()));
        self.step();
        self.harness.key_press(Key::Enter);
        self.step();
        self.step();
    }

    /// The program dies: nothing is tidied up.
    fn crash(self) {
        drop(self);
    }
}

#[test]
fn a_saved_plan_closes_without_a_question() {
    let kitchen = Kitchen::new();
    let mut window = kitchen.open(Some(&kitchen.plan("cabbage")));
    window.close();
    assert!(!window.was_told(&ViewportCommand::CancelClose));
    assert!(!window.desk().files().asks());
}

#[test]
fn closing_over_changes_asks_and_cancel_keeps_the_window() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    window.rename("Changed");
    window.close();
    assert!(window.was_told(&ViewportCommand::CancelClose), "in the very frame of the request");
    window.answer("Unsaved changes", "Cancel");
    assert!(!window.desk().files().asks());
    assert!(!window.was_told(&ViewportCommand::Close));
    assert_eq!(window.title(), "Changed");
    assert_eq!(read_rotation(&file).expect("reads").rotation.title, "cabbage");

    // Escape is the same as Cancel.
    window.close();
    window.step();
    window.press(Modifiers::NONE, Key::Escape);
    assert!(!window.desk().files().asks());
    assert!(!window.was_told(&ViewportCommand::Close));
}

#[test]
fn discard_leaves_and_writes_nothing() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let before = fs::read(&file).expect("there");
    let mut window = kitchen.open(Some(&file));
    window.rename("Changed");
    window.close();
    window.answer("Unsaved changes", "Discard");
    assert!(window.was_told(&ViewportCommand::Close));
    // The desktop asks again on the program's own command, and is let through.
    window.close();
    assert!(!window.was_told(&ViewportCommand::CancelClose));
    drop(window);
    assert_eq!(fs::read(&file).expect("there"), before);
    assert!(kitchen.snapshots().is_empty(), "what is given up is not offered again");
}

#[test]
fn enter_saves_and_then_the_window_closes() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    window.rename("Changed");
    window.close();
    window.step();
    window.step();
    window.press(Modifiers::NONE, Key::Enter);
    window.until("closed", |w| w.was_told(&ViewportCommand::Close));
    assert_eq!(read_rotation(&file).expect("reads").rotation.title, "Changed");
    assert!(!window.desk().history().is_changed());
}

#[test]
fn a_save_that_fails_keeps_the_window_open_and_says_why() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    window.rename("Changed");
    let mut mode = fs::metadata(&file).expect("there").permissions();
    mode.set_readonly(true);
    fs::set_permissions(&file, mode).expect("set");
    window.close();
    window.answer("Unsaved changes", "Save");
    window.until("told", |w| w.shows("The plan was not saved"));
    window.step();
    assert!(window.shows("marked read-only"), "the reason is in the window");
    assert!(!window.was_told(&ViewportCommand::Close));
    assert!(window.desk().history().is_changed());
    assert_eq!(window.title(), "Changed");
    window.answer("The plan was not saved", "Close");
    assert!(!window.desk().files().asks());
    window.harness.run();
}

#[test]
fn a_bad_file_is_told_of_with_its_line_and_left_as_it_is() {
    let kitchen = Kitchen::new();
    let file = kitchen.path("plans/bad.rotation.ron");
    let text = rotation_to_text(&demo()).replacen("days: 4", "days: \"four\"", 1);
    let line = 1 + text[..text.find("days: \"four\"").expect("replaced")].matches('\n').count();
    fs::write(&file, &text).expect("written");
    let mut window = kitchen.open(Some(&file));
    window.step();
    assert!(window.shows("This file was not opened"));
    assert!(window.shows(&format!("bad.rotation.ron, line {line}")), "file and line");
    assert!(!window.desk().rotation().kind.name.is_empty(), "something is on the desk");
    window.answer("This file was not opened", "Close");
    window.until("it goes on", |w| !w.desk().files().asks());
    assert_eq!(fs::read_to_string(&file).expect("there"), text);
    // The same while the window is open.
    let good = kitchen.plan("good");
    window.perform(Action::File(FileAction::OpenPath(file)));
    window.until("told", |w| w.shows("This file was not opened"));
    window.answer("This file was not opened", "Close");
    window.perform(Action::File(FileAction::OpenPath(good)));
    window.until("opened", |w| w.title() == "good");
}

#[test]
fn a_file_that_another_program_changed_is_not_overwritten_unasked() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    window.rename("Mine");
    let theirs = rotation_to_text(&Rotation { title: "Theirs".into(), ..demo() });
    fs::write(&file, &theirs).expect("written");
    window.press(Modifiers::COMMAND, Key::S);
    window.until("asked", |w| w.shows("Changed by another program"));
    assert_eq!(fs::read_to_string(&file).expect("there"), theirs);
    window.answer("Changed by another program", "Cancel");
    assert_eq!(fs::read_to_string(&file).expect("there"), theirs);
    assert!(window.desk().history().is_changed());

    window.press(Modifiers::COMMAND, Key::S);
    window.until("asked", |w| w.shows("Changed by another program"));
    window.answer("Changed by another program", "Overwrite");
    window.until_said("Saved cabbage.rotation.ron");
    assert_eq!(read_rotation(&file).expect("reads").rotation.title, "Mine");
    // Now the program knows the file again.
    window.rename("Mine again");
    window.press(Modifiers::COMMAND, Key::S);
    window.until("saved", |w| !w.desk().history().is_changed());
    assert!(!window.desk().files().asks());
}

#[test]
fn two_saves_at_once_are_no_change_by_another_program() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    let ctx = window.harness.ctx.clone();
    let desk = &mut window.harness.state_mut().desk;
    for title in ["One", "Two", "Three"] {
        desk.perform(Action::Edit(Edit::SetTitle(title.into())), &ctx);
        desk.perform(Action::File(FileAction::Save), &ctx);
    }
    window.until("saved", |w| !w.desk().history().is_changed());
    assert!(!window.desk().files().asks());
    assert_eq!(read_rotation(&file).expect("reads").rotation.title, "Three");
}

#[test]
fn a_window_closed_while_it_saves_waits_for_that() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    let ctx = window.harness.ctx.clone();
    let desk = &mut window.harness.state_mut().desk;
    desk.perform(Action::Edit(Edit::SetTitle("Late".into())), &ctx);
    desk.perform(Action::File(FileAction::Save), &ctx);
    desk.perform(Action::File(FileAction::Quit), &ctx);
    window.until("closed", |w| w.was_told(&ViewportCommand::Close));
    assert!(!window.desk().files().asks(), "there is nothing to ask");
    assert_eq!(read_rotation(&file).expect("reads").rotation.title, "Late");
}

#[test]
fn without_dialogs_a_plan_is_saved_and_opened_by_its_path() {
    let kitchen = Kitchen::new();
    let taken = kitchen.plan("taken");
    let theirs = fs::read(&taken).expect("there");
    let mut window = kitchen.open(None);
    window.rename("Mine");
    window.press(Modifiers::COMMAND, Key::S);
    window.step();
    assert!(window.shows("Save the plan as"), "a plan without a file asks where");
    // A folder that is not there is told of beside the field.
    window.type_path(&kitchen.path("nowhere/mine"));
    window.until("told", |w| w.shows("cannot be saved"));
    assert!(window.shows("Save the plan as"), "the box stays");
    // A name that is taken is asked about.
    window.type_path(&kitchen.path("plans/taken"));
    window.until("asked", |w| w.shows("The name is taken"));
    assert_eq!(fs::read(&taken).expect("there"), theirs);
    window.answer("The name is taken", "Another name");
    assert!(window.shows("Save the plan as"));
    window.type_path(&kitchen.path("plans/mine"));
    window.until("saved", |w| !w.desk().history().is_changed());
    assert!(!window.desk().files().asks());
    assert_eq!(read_rotation(&kitchen.path("plans/mine.rotation.ron")).expect("reads").rotation.title, "Mine");

    // Opened by its path, with what lies in the folder to choose from.
    window.press(Modifiers::COMMAND, Key::L);
    window.until("listed", |w| w.shows("File taken.rotation.ron"));
    window.type_path(&kitchen.path("plans/absent.rotation.ron"));
    window.until("told", |w| w.shows("there is no such file"));
    window.type_path(&kitchen.path("plans/"));
    window.until("listed", |w| w.shows("File taken.rotation.ron"));
    window.harness.get_by_label("File taken.rotation.ron").click();
    window.step();
    window.step();
    window.harness.key_press(Key::Enter);
    window.until("opened", |w| w.title() == "taken");
    assert!(!window.desk().files().asks());
    // Escape leaves the box and changes nothing.
    window.press(Modifiers::COMMAND, Key::L);
    window.step();
    window.press(Modifiers::NONE, Key::Escape);
    window.step();
    assert!(!window.desk().files().asks());
    window.harness.run();
}

#[test]
fn control_s_saves_where_the_plan_belongs_and_the_title_says_so() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    window.rename("Changed");
    window.until("marked", |w| w.was_told(&ViewportCommand::Title("*Changed – Tranche".into())));
    window.press(Modifiers::COMMAND, Key::S);
    window.until_said("Saved cabbage.rotation.ron");
    window.until("unmarked", |w| w.was_told(&ViewportCommand::Title("Changed – Tranche".into())));
    assert_eq!(read_rotation(&file).expect("reads").rotation, **window.desk().rotation());
    let titles = |w: &Window| w.told.0.lock().expect("whole").iter().filter(|c| matches!(c, ViewportCommand::Title(_))).count();
    let before = titles(&window);
    window.harness.run();
    window.step();
    assert_eq!(titles(&window), before, "the title is set only when it changes");
}

#[test]
fn what_is_being_typed_is_saved_too() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    let search = window.harness.get_by(|n| n.role() == Role::TextInput);
    search.focus();
    window.step();
    window.rename("Changed");
    window.harness.event(egui::Event::Text("sl".into()));
    window.step();
    window.press(Modifiers::COMMAND, Key::S);
    window.until("saved", |w| !w.desk().history().is_changed());
    // And the keyboard is where it was.
    window.harness.event(egui::Event::Text("aw".into()));
    window.step();
    let typed = window.harness.get_by(|n| n.role() == Role::TextInput).accesskit_node().value();
    assert_eq!(typed.as_deref(), Some("slaw"));
}

#[test]
fn unsaved_work_outlives_a_crash_and_is_offered() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    window.rename("Nearly lost");
    // Five seconds of the window's own clock, a quarter of a second each frame.
    for _ in 0..20 {
        window.step();
    }
    // The window need not be drawn any more: the worker has it.
    let began = Instant::now();
    while kitchen.snapshots().is_empty() {
        assert!(began.elapsed() < Duration::from_secs(20), "nothing was put by in five seconds");
        sleep(Duration::from_millis(4));
    }
    window.crash();
    assert_eq!(read_rotation(&file).expect("reads").rotation.title, "cabbage", "the file itself is untouched");

    let mut window = kitchen.open(None);
    window.until_said("An unsaved plan from");
    window.step();
    assert!(window.shows("Nearly lost"));
    assert!(!window.desk().files().asks(), "the bench stays free");
    assert!(window.harness.get_by_label("Restore").accesskit_node().is_focused(), "the keyboard begins there");
    window.answer("Unsaved plan found", "Restore");
    window.until("back", |w| w.title() == "Nearly lost");
    assert!(window.desk().history().is_changed(), "it is not saved yet");
    assert_eq!(window.desk().files().path(), Some(&*file));
    // A second crash does not lose it either.
    window.crash();
    assert_eq!(kitchen.snapshots().len(), 1);
    let mut window = kitchen.open(None);
    window.until_said("An unsaved plan from");
    window.answer("Unsaved plan found", "Restore");
    window.until("back", |w| w.title() == "Nearly lost");
    window.press(Modifiers::COMMAND, Key::S);
    window.until("saved", |w| !w.desk().history().is_changed());
    assert!(!window.desk().files().asks(), "nobody else has changed the file");
    window.until("tidied", |_| kitchen.snapshots().is_empty());
    assert_eq!(read_rotation(&file).expect("reads").rotation.title, "Nearly lost");
    window.crash();
    let mut window = kitchen.open(None);
    for _ in 0..20 {
        window.step();
        sleep(Duration::from_millis(5));
    }
    assert!(!window.shows("Unsaved plan found"));
}

#[test]
fn what_a_crash_left_can_wait_or_be_thrown_away() {
    let kitchen = Kitchen::new();
    let mut window = kitchen.open(None);
    window.rename("Nearly lost");
    window.until("put by", |_| !kitchen.snapshots().is_empty());
    window.crash();
    let mut window = kitchen.open(None);
    window.until_said("An unsaved plan from");
    window.answer("Unsaved plan found", "Later");
    assert!(!window.shows("Unsaved plan found"));
    window.close();
    drop(window);
    let mut window = kitchen.open(None);
    window.until_said("An unsaved plan from");
    window.answer("Unsaved plan found", "Discard");
    window.until("gone", |_| kitchen.snapshots().is_empty());
    assert!(!window.shows("Unsaved plan found"));
}

#[test]
fn recent_files_are_in_the_menu_and_the_missing_ones_cannot_be_opened() {
    let kitchen = Kitchen::new();
    let (one, two) = (kitchen.plan("one"), kitchen.plan("two"));
    let mut window = kitchen.open(Some(&one));
    window.perform(Action::File(FileAction::OpenPath(two.clone())));
    window.until("opened", |w| w.title() == "two");
    window.close();
    drop(window);

    let mut window = kitchen.open(None);
    assert_eq!(window.title(), "two", "the last plan is on the desk");
    window.until("looked", |w| w.desk().files().recent().len() == 2);
    fs::remove_file(&one).expect("there");
    window.harness.get_by_role_and_label(Role::Button, "File").click();
    window.until("looked again", |w| w.desk().files().recent() == [(two.clone(), true), (one.clone(), false)]);
    window.harness.get_by_label("Open recent").click();
    window.step();
    window.step();
    window.step();
    let missing = window.harness.get_by_label("one.rotation.ron, not there");
    assert!(missing.accesskit_node().is_disabled());
    window.harness.get_by_label("Forget one.rotation.ron").click();
    window.step();
    window.until("forgotten", |w| w.desk().files().recent() == [(two.clone(), true)]);
    window.close();
    drop(window);
    // A last plan that is gone is no reason to stay shut.
    fs::remove_file(&two).expect("there");
    let window = kitchen.open(None);
    assert!(window.desk().live().contains("no longer there"), "{}", window.desk().live());
}

#[test]
fn another_plan_comes_only_when_the_changes_are_saved_or_given_up() {
    let kitchen = Kitchen::new();
    let (one, two) = (kitchen.plan("one"), kitchen.plan("two"));
    let mut window = kitchen.open(Some(&one));
    window.rename("Changed");
    for action in [FileAction::New, FileAction::Open, FileAction::OpenDemo, FileAction::Quit, FileAction::OpenPath(two.clone())] {
        window.perform(Action::File(action));
        window.answer("Unsaved changes", "Cancel");
        assert_eq!(window.title(), "Changed");
    }
    // Given up for a file that is then not chosen: the plan is still there and is asked for again.
    window.perform(Action::File(FileAction::OpenByPath));
    window.answer("Unsaved changes", "Discard");
    window.press(Modifiers::NONE, Key::Escape);
    window.step();
    assert_eq!(window.title(), "Changed");
    window.close();
    assert!(window.was_told(&ViewportCommand::CancelClose));
    window.answer("Unsaved changes", "Cancel");
    // Saved, and then the other one.
    window.perform(Action::File(FileAction::OpenPath(two)));
    window.answer("Unsaved changes", "Save");
    window.until("opened", |w| w.title() == "two");
    assert!(!window.desk().history().is_changed());
    assert_eq!(read_rotation(&one).expect("reads").rotation.title, "Changed");
}

#[test]
fn a_fresh_plan_is_unsaved_from_the_start() {
    let kitchen = Kitchen::new();
    let mut window = kitchen.open(Some(&kitchen.plan("one")));
    let fresh = Rotation { title: "Fresh".into(), ..demo() };
    window.perform(Action::File(FileAction::Begin(Box::new(fresh))));
    assert_eq!(window.title(), "Fresh");
    assert!(window.desk().history().is_changed());
    assert_eq!(window.desk().files().path(), None);
    window.close();
    assert!(window.was_told(&ViewportCommand::CancelClose));
    window.answer("Unsaved changes", "Save");
    assert!(window.shows("Save the plan as"), "it has no place yet");
    window.type_path(&kitchen.path("plans/fresh"));
    window.until("closed", |w| w.was_told(&ViewportCommand::Close));
    assert_eq!(read_rotation(&kitchen.path("plans/fresh.rotation.ron")).expect("reads").rotation.title, "Fresh");
}

#[test]
fn a_shape_is_kept_and_laid() {
    let kitchen = Kitchen::new();
    let mut window = kitchen.open(Some(&kitchen.plan("one")));
    window.perform(Action::File(FileAction::KeepShape));
    window.type_path(&kitchen.path("plans/four days"));
    window.until_said("The shape is kept in four days.template.ron");
    assert!(!window.desk().files().asks());
    window.perform(Action::File(FileAction::LayShape));
    window.type_path(&kitchen.path("plans/four days.template.ron"));
    window.until_said("The shape “");
    assert!(!window.desk().files().asks());
}

#[test]
fn settings_are_the_same_at_the_next_start() {
    let kitchen = Kitchen::new();
    let mut window = kitchen.open(None);
    window.perform(Action::Setting(SettingChange::Look(Look::HighContrastDark)));
    window.perform(Action::Setting(SettingChange::Zoom(1.25)));
    window.perform(Action::Setting(SettingChange::ReduceMotion(true)));
    let set = window.desk().settings();
    window.close();
    drop(window);
    assert_eq!(kitchen.open(None).desk().settings(), set);
}

#[test]
fn what_was_settled_of_the_cooking_outlives_a_crash_and_a_broken_file_of_it_is_told_and_kept() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    let moved = vec![KeptMove { line: "cooking|1|step|Slaw|Shred|0".into(), from: 1_020 }];
    window.perform(Action::Cooking(Box::new(KeptChange::Moves(DayNo(1), moved))));
    let settled = window.desk().hearth().all_cooking().clone();
    let ticks = kitchen.places().state.join("ticks.ron");
    let began = Instant::now();
    while !fs::read_to_string(&ticks).is_ok_and(|text| text.contains("Shred")) {
        assert!(began.elapsed() < Duration::from_secs(20), "it was never written");
        sleep(Duration::from_millis(4));
    }
    window.crash();
    let window = kitchen.open(Some(&file));
    assert_eq!(window.desk().hearth().all_cooking(), &settled);
    window.crash();
    let broken = fs::read_to_string(&ticks).expect("reads").replace("1020", "\"noon\"");
    fs::write(&ticks, &broken).expect("written");
    let mut window = kitchen.open(Some(&file));
    window.until_said("a copy is kept as .broken beside it");
    assert!(window.desk().hearth().all_cooking().is_empty());
    assert_eq!(fs::read_to_string(ticks.with_extension("ron.broken")).expect("reads"), broken);
}

#[test]
fn a_window_at_rest_asks_for_no_frame_and_a_changed_one_for_one() {
    let kitchen = Kitchen::new();
    let mut window = kitchen.open(Some(&kitchen.plan("one")));
    window.until("looked", |w| !w.desk().files().recent().is_empty());
    // Mends are looked for on a worker of their own.
    sleep(Duration::from_millis(300));
    window.harness.run();
    let delay = |w: &Window| w.harness.output().viewport_output[&ViewportId::ROOT].repaint_delay;
    assert_eq!(delay(&window), Duration::MAX, "at rest");
    window.rename("Changed");
    window.until("put by", |_| !kitchen.snapshots().is_empty());
    sleep(Duration::from_millis(300));
    window.harness.run();
    assert_eq!(delay(&window), Duration::MAX, "put by, and at rest again");
}

#[test]
fn a_save_without_changes_over_a_file_changed_outside_says_so_and_offers_to_open_it() {
    let kitchen = Kitchen::new();
    let file = kitchen.plan("cabbage");
    let mut window = kitchen.open(Some(&file));
    window.press(Modifiers::COMMAND, Key::S);
    window.until_said("is saved already");
    let theirs = rotation_to_text(&Rotation { title: "Theirs".into(), ..demo() });
    fs::write(&file, &theirs).expect("written");
    window.press(Modifiers::COMMAND, Key::S);
    window.until("told", |w| w.shows("Nothing was changed here"));
    window.answer("Changed by another program", "Open it again");
    window.until("opened", |w| w.title() == "Theirs");
    fs::write(&file, rotation_to_text(&demo())).expect("written");
    window.press(Modifiers::COMMAND, Key::S);
    window.until("told", |w| w.shows("Nothing was changed here"));
    window.answer("Changed by another program", "Save over it");
    window.until_said("Saved cabbage");
    assert_eq!(fs::read_to_string(&file).expect("there"), theirs);
}

#[test]
fn who_eats_of_a_plan_that_was_begun_is_offered_over_the_demo_the_next_time() {
    let kitchen = Kitchen::new();
    let mut window = kitchen.open(None);
    let mut fresh = demo();
    fresh.household.eaters.truncate(1);
    fresh.household.eaters[0].name = "Wilma".into();
    fresh.batches.clear();
    fresh.meals.clear();
    window.perform(Action::File(FileAction::Begin(Box::new(fresh))));
    window.until("kept", |_| kitchen.places().data.join("household.ron").is_file());
    drop(window);
    let mut window = kitchen.open(None);
    window.perform(Action::Open(tranche::app::sheet::Sheet::Start));
    window.until("offered", |w| w.shows("Wilma"));
}

#[test]
fn what_the_kitchen_has_is_said_once_and_holds_for_the_next_piece() {
    let kitchen = Kitchen::new();
    let file = kitchen.path_of_kitchen();
    let mut window = kitchen.open(None);
    let has = tranche::rotation::Kitchen { cooks: 2, rings: 5, fan: true, ..demo().kitchen };
    window.perform(Action::Edit(Edit::SetKitchen(has)));
    window.until("kept", |_| fs::read_to_string(&file).is_ok_and(|text| text.contains("rings: 5")));
    window.perform(Action::Undo);
    window.until("as before", |_| fs::read_to_string(&file).is_ok_and(|text| !text.contains("rings: 5")));
    window.perform(Action::Redo);
    window.until("kept again", |_| fs::read_to_string(&file).is_ok_and(|text| text.contains("rings: 5")));
    drop(window);
    // The window closes without saving the demo; the next one begins a piece of its own.
    let mut window = kitchen.open(None);
    let mut fresh = demo();
    fresh.household.eaters[0].name = "Wilma".into();
    fresh.batches.clear();
    fresh.meals.clear();
    window.perform(Action::File(FileAction::Begin(Box::new(fresh))));
    window.until("begun", |w| w.desk().rotation().household.eaters[0].name == "Wilma");
    assert_eq!(window.desk().rotation().kitchen, has);
}
