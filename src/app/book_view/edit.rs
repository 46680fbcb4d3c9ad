//! Writing: the frame around what is being written, with its way out always in sight.

use super::{BookView, Draft, edit_dish, edit_kind, trail::Trail, words::COLUMN};
use crate::{
    app::{
        action::Action,
        files::FileAction,
        marks::{Icon, Level},
        sheet::parts,
        theme::{self, Lettering, STEP, TALL_TARGET},
        view::View,
        widget::{Button, Card, IconButton},
    },
    book::{About, CheckFault},
    quantity::write_units,
    store::{Entry, OwnChange},
};
use egui::{Frame, Key, KeyboardShortcut, Margin, Modifiers, Panel, ScrollArea, Ui};
use std::sync::Arc;

/// What a draft comes to.
struct Outcome {
    /// The entry, if it can be kept.
    sound: Option<Entry>,
    faults: Vec<CheckFault>,
    /// Whether some field cannot be read.
    unread: bool,
}

const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
const REDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, modal: bool, book_view: &mut BookView, actions: &mut Vec<Action>) {
    let (Some(draft), Some(trail)) = (&mut book_view.draft, &mut book_view.trail) else { return };
    // A dish that was made of a recipe and not touched is made of it again: nothing is lost.
    let changed = trail.is_changed(draft);
    let folds = &mut book_view.folds;
    let mut done = if modal || book_view.keeping { Done::No } else { keys(ui) };
    let outcome = check(draft, view);
    Card::new().room(Margin { left: 24, right: 12, top: 20, bottom: 14 }).show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        let palette = theme::palette(ui);
        ui.add(egui::Label::new(Lettering::Title.text(title(draft)).color(palette.ink)).wrap());
        parts::quiet(
            ui,
            "Checked as you type. What the book brings along is never changed; plans that use a dish keep it as it was.",
        );
        Panel::bottom("writing foot")
            .frame(Frame::new().inner_margin(Margin { left: 0, right: 12, top: 10, bottom: 0 }))
            .resizable(false)
            .show_separator_line(false)
            .show(ui, |ui| {
                foot(ui, &outcome, trail, book_view.keeping, book_view.refused.as_deref(), &mut done);
            });
        let mut scroll = ScrollArea::vertical().id_salt("writing").auto_shrink(false);
        if std::mem::take(&mut book_view.opened) {
            scroll = scroll.vertical_scroll_offset(0.0);
        }
        scroll.show(ui, |ui| {
            ui.set_max_width(COLUMN.min(ui.available_width() - 12.0));
            ui.add_enabled_ui(!book_view.keeping, |ui| match draft {
                Draft::Dish(dish) => edit_dish::ui(ui, view, folds, dish, &outcome.faults),
                Draft::Kind(kind) => edit_kind::ui(ui, view, folds, kind, &outcome.faults),
            });
            keep_in_sight(ui);
            ui.add_space(3.0 * STEP);
        });
    });
    let field = ui.ctx().text_edit_focused().then(|| ui.memory(|m| m.focused())).flatten();
    trail.note(draft, field);
    match (done, outcome.sound) {
        (Done::Keep, Some(entry)) => {
            book_view.keeping = true;
            book_view.refused = None;
            actions.push(Action::Own(OwnChange::Keep(entry)));
        }
        (Done::Cancel, _) if changed => actions.push(Action::File(FileAction::LeaveDraft)),
        (Done::Cancel, _) => book_view.give_up(),
        (Done::Back, _) => {
            let words = trail.back_words();
            trail.back(draft);
            actions.extend(words.map(Action::Say));
        }
        (Done::Forth, _) => trail.forth(draft),
        (Done::Keep, None) | (Done::No, _) => {}
    }
}

/// The keys of taking back and doing again; a text field in focus has its own.
fn keys(ui: &Ui) -> Done {
    if ui.ctx().text_edit_focused() {
        return Done::No;
    }
    ui.input_mut(|i| {
        if i.consume_shortcut(&REDO) || i.consume_shortcut(&REDO_TOO) {
            Done::Forth
        } else if i.consume_shortcut(&UNDO) {
            Done::Back
        } else {
            Done::No
        }
    })
}

fn check(draft: &Draft, view: &View<'_>) -> Outcome {
    match draft {
        Draft::Dish(dish) => {
            let checked = dish.check(view.book);
            let (faults, unread) = (checked.faults.clone(), checked.entry.is_none());
            Outcome { sound: checked.sound().map(|d| Entry::Dish(Arc::new(d))), faults, unread }
        }
        Draft::Kind(kind) => {
            let checked = kind.check(view.book);
            let (faults, unread) = (checked.faults.clone(), checked.entry.is_none());
            Outcome { sound: checked.sound().map(|k| Entry::Kind(Arc::new(k))), faults, unread }
        }
    }
}

fn title(draft: &Draft) -> String {
    let (fresh, own, name, sort) = match draft {
        Draft::Dish(d) => (d.fresh, d.own, &d.rest.name, "dish"),
        Draft::Kind(k) => (k.fresh, k.own, &k.rest.name, "kind"),
    };
    match (fresh, own) {
        (true, _) => format!("A new {sort}"),
        (false, true) => format!("Change {name}"),
        (false, false) => format!("Your own {name}"),
    }
}

/// What the person wants done with the draft.
#[derive(Clone, Copy)]
enum Done {
    No,
    Keep,
    Cancel,
    Back,
    Forth,
}

fn foot(ui: &mut Ui, outcome: &Outcome, trail: &Trail, keeping: bool, refused: Option<&str>, done: &mut Done) {
    let palette = theme::palette(ui);
    let line = ui.max_rect();
    ui.painter().hline(line.x_range(), line.top() - 10.0, egui::Stroke::new(palette.edge_width(), palette.hair));
    if let Some(why) = refused {
        parts::remark(ui, Level::Stop, &format!("Not kept: {why}"));
    }
    ui.horizontal(|ui| {
        let sound = outcome.sound.is_some() && !keeping;
        if ui.add_enabled(sound, Button::primary("Save")).clicked() {
            *done = Done::Keep;
        }
        if ui.add_enabled(!keeping, Button::quiet("Cancel")).clicked() {
            *done = Done::Cancel;
        }
        trail_ui(ui, trail, keeping, done);
        ui.add_space(STEP);
        let words = match outcome.faults.len() {
            _ if keeping => "Saving…".to_string(),
            _ if outcome.unread => "Not yet: something above cannot be read; it says what beside it.".into(),
            0 => "Sound: it can be saved.".into(),
            n => format!("Not yet: {} to mend, said above.", write_units(n, "thing", "things")),
        };
        parts::quiet(ui, words);
    });
}

/// Taking the last step back, and doing it again.
fn trail_ui(ui: &mut Ui, trail: &Trail, keeping: bool, done: &mut Done) {
    let back = trail.back_words();
    let words = back.as_deref().unwrap_or("Take back the last change");
    let can = back.is_some() && !keeping;
    if words.starts_with("Put back") {
        if ui.add_enabled(can, Button::quiet(words).icon(Icon::Undo)).clicked() {
            *done = Done::Back;
        }
    } else {
        let button = IconButton::new(Icon::Undo, words).hint("Take back the last change (Ctrl+Z)").side(TALL_TARGET);
        if ui.add_enabled(can, button).clicked() {
            *done = Done::Back;
        }
    }
    let again = IconButton::new(Icon::Redo, "Do it again").hint("Do it again (Ctrl+Shift+Z)").side(TALL_TARGET);
    if ui.add_enabled(trail.has_future() && !keeping, again).clicked() {
        *done = Done::Forth;
    }
}

/// What the book has against one part of the entry.
pub(super) fn faults_ui(ui: &mut Ui, faults: &[CheckFault], about: &[About]) {
    for fault in faults.iter().filter(|f| about.contains(&f.about)) {
        parts::remark(ui, Level::Stop, &sentence(&fault.what));
    }
}

/// A fault as a sentence.
fn sentence(words: &str) -> String {
    let words = crate::rotation::capital(words);
    if words.ends_with(['.', '!', '?']) { words } else { words + "." }
}

/// Which of two lives an entry that was made of a shipped one is to lead.
pub(super) fn beside_ui(ui: &mut Ui, beside: &mut bool) {
    parts::flow(ui, |ui| {
        for (value, words) in [(false, "in place of the book's"), (true, "beside it, as one more")] {
            if parts::choice(ui, words, words, *beside == value) {
                *beside = value;
            }
        }
    });
}

/// Scrolls what the keyboard has come to into sight.
pub(super) fn keep_in_sight(ui: &mut Ui) {
    let now = ui.memory(|m| m.focused());
    let known = egui::Id::unique("writing: keyboard");
    let before: Option<egui::Id> = ui.data(|d| d.get_temp(known)).unwrap_or_default();
    if now == before {
        return;
    }
    ui.data_mut(|d| d.insert_temp(known, now));
    if let Some(response) = now.and_then(|id| ui.ctx().read_response(id))
        && ui.min_rect().contains(response.rect.center())
        && !ui.clip_rect().contains_rect(response.rect)
    {
        ui.scroll_to_rect(response.rect.expand(STEP), None);
    }
}
