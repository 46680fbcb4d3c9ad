//! Words for window tests: a bench to look at and a hand to move things with, all by accessible names.
#![cfg(feature = "window")]

pub mod sheet_desk;

use egui::{Modifiers, Pos2, Vec2};
use egui_kittest::{Harness, kittest::NodeT as _};
use std::{path::Path, sync::Arc, time::Duration};
use tranche::{
    app::{Desk, hearth::Hearth},
    book::Book,
    quantity::DayNo,
    rotation::{MealtimeId, Rotation, Slot},
    store,
};

/// The number of supper in the red cabbage week.
pub const SUPPER: MealtimeId = MealtimeId(1);
/// The number of lunch in the red cabbage week.
pub const LUNCH: MealtimeId = MealtimeId(2);

/// The window with a worked week on it.
pub type Window<'a> = Harness<'a, Desk>;

/// One of the worked weeks.
pub fn week(name: &str) -> Rotation {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../data").join(format!("{name}.rotation.ron"));
    store::read_rotation(&path).unwrap_or_else(|e| panic!("{e}")).rotation
}

/// A window of a size with a plan on its bench, drawn until it is still.
pub fn window_of(rotation: Rotation, size: [f32; 2]) -> Window<'static> {
    let book = Arc::new(Book::shipped().expect("the shipped book reads"));
    let desk = Desk::new(rotation, book);
    // Previews of a drag are judged a few a frame, as many as its time allows: on a busy machine that takes more of them.
    let mut window = Harness::builder().with_size(Vec2::from(size)).with_max_steps(60).build_ui_state(
        |ui, desk: &mut Desk| {
            desk.logic(ui.ctx());
            desk.ui(ui);
        },
        desk,
    );
    window.run();
    window
}

/// The same as it opens where another window left ticks and what was settled about the cooking.
pub fn window_after(rotation: Rotation, size: [f32; 2], before: &Hearth) -> Window<'static> {
    let mut window = window_of(rotation, size);
    window.state_mut().remember_ticks(before.ticks().clone(), before.all_cooking().clone());
    window.run();
    window
}

/// A window of the usual size with a worked week.
pub fn window(name: &str) -> Window<'static> {
    window_of(week(name), [1440.0, 900.0])
}

/// A meal of the worked weeks.
pub fn supper(day: i16) -> Slot {
    Slot { day: DayNo(day), mealtime: SUPPER }
}

/// See [`supper`].
pub fn lunch(day: i16) -> Slot {
    Slot { day: DayNo(day), mealtime: LUNCH }
}

/// Draws frames until something's name holds `words`: a worker has answered.
///
/// # Panics
/// Where they have not come after half a minute.
pub fn wait_for(window: &mut Window<'_>, words: &str) {
    for _ in 0..600 {
        if window.names().iter().any(|n| n.contains(words)) {
            return;
        }
        std::thread::sleep(Duration::from_millis(50));
        window.step();
    }
    panic!("{words} never came: {:?}", window.names());
}

/// What a person does, by name.
pub trait Hand {
    /// The middle of what begins with `name`.
    fn place(&self, name: &str) -> Pos2;
    /// Whether something begins with `name`.
    fn sees(&self, name: &str) -> bool;
    /// Takes hold of `from` and lets go over `to`.
    fn drag(&mut self, from: &str, to: &str);
    /// The same with a key held.
    fn drag_with(&mut self, from: &str, to: &str, held: Modifiers);
    /// Clicks what begins with `name`.
    fn press(&mut self, name: &str);
    /// Types into the shelf's search.
    fn search(&mut self, words: &str);
    /// Puts words into a field in the place of what stands there.
    fn fill(&mut self, field: &str, words: &str);
    /// Gives the keyboard to what begins with `name`.
    fn focus(&mut self, name: &str);
    /// Presses keys one after the other.
    fn keys(&mut self, keys: &[egui::Key]);
    /// Every name that a screen reader is told.
    fn names(&self) -> Vec<String>;
}

impl Hand for Window<'_> {
    fn place(&self, name: &str) -> Pos2 {
        find(self, name).rect().center()
    }

    fn sees(&self, name: &str) -> bool {
        self.names().iter().any(|n| n.starts_with(name))
    }

    fn drag(&mut self, from: &str, to: &str) {
        self.drag_with(from, to, Modifiers::NONE);
    }

    fn drag_with(&mut self, from: &str, to: &str, held: Modifiers) {
        let (from, to) = (self.place(from), self.place(to));
        self.drag_at(from);
        self.run();
        // A little way first: what is dragged must know it before it is over the target.
        self.hover_at(from + (to - from) * 0.1);
        self.run();
        self.event(egui::Event::ModifiersChanged(held));
        self.hover_at(to);
        self.run();
        self.drop_at(to);
        self.run();
        self.event(egui::Event::ModifiersChanged(Modifiers::NONE));
        self.run();
    }

    fn press(&mut self, name: &str) {
        let at = self.place(name);
        self.hover_at(at);
        self.run();
        self.drag_at(at);
        self.drop_at(at);
        self.run();
    }

    fn search(&mut self, words: &str) {
        self.focus("Search dishes");
        self.event(egui::Event::Text(words.into()));
        self.run();
    }

    fn fill(&mut self, field: &str, words: &str) {
        let is_it = |n: &egui_kittest::Node<'_>| {
            n.accesskit_node().role() == egui::accesskit::Role::TextInput && name_of(n).is_some_and(|l| l.starts_with(field))
        };
        match self.root().children_recursive().find(is_it) {
            Some(node) => node.focus(),
            None => panic!("no field is called {field}; there are:\n{}", self.names().join("\n")),
        }
        self.run();
        self.key_press_modifiers(Modifiers::COMMAND, egui::Key::A);
        self.run();
        self.event(egui::Event::Text(words.into()));
        self.run();
    }

    fn focus(&mut self, name: &str) {
        find(self, name).focus();
        self.run();
    }

    fn keys(&mut self, keys: &[egui::Key]) {
        for key in keys {
            self.key_press(*key);
            self.run();
        }
    }

    fn names(&self) -> Vec<String> {
        self.root().children_recursive().filter_map(|n| name_of(&n)).collect()
    }
}

/// What a screen reader says of a node: its label, or for bare words the words.
fn name_of(node: &egui_kittest::Node<'_>) -> Option<String> {
    let node = node.accesskit_node();
    node.label().or_else(|| node.value())
}

fn find<'a>(window: &'a Window<'_>, name: &str) -> egui_kittest::Node<'a> {
    let mut found = window.root().children_recursive().filter(|n| name_of(n).is_some_and(|l| l.starts_with(name)));
    match found.next() {
        Some(node) => node,
        None => panic!("nothing is called {name}; there are:\n{}", window.names().join("\n")),
    }
}
