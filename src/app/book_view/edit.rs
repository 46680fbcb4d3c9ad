//! Writing: the frame around what is being written, with its way out always in sight.

use super::{BookView, Books, Draft, edit_dish, edit_kind, words::COLUMN};
use crate::{
    app::{
        action::Action,
        marks::Level,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::View,
        widget::{Button, Card},
    },
    book::{About, CheckFault},
    quantity::write_units,
    store::{Entry, OwnChange},
};
use egui::{Frame, Margin, Panel, ScrollArea, Ui};
use std::sync::Arc;

/// What a draft comes to.
struct Outcome {
    /// The entry, if it can be kept.
    sound: Option<Entry>,
    faults: Vec<CheckFault>,
    /// Whether some field cannot be read.
    unread: bool,
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, books: Books<'_>, book_view: &mut BookView, actions: &mut Vec<Action>) {
    let Some(draft) = &mut book_view.draft else { return };
    let outcome = check(draft, view);
    let mut done = Done::No;
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
                done = foot(ui, &outcome, book_view.keeping, book_view.refused.as_deref());
            });
        let mut scroll = ScrollArea::vertical().id_salt("writing").auto_shrink(false);
        if std::mem::take(&mut book_view.turned) {
            scroll = scroll.vertical_scroll_offset(0.0);
        }
        scroll.show(ui, |ui| {
            ui.set_max_width(COLUMN.min(ui.available_width() - 12.0));
            ui.add_enabled_ui(!book_view.keeping, |ui| match draft {
                Draft::Dish(dish) => edit_dish::ui(ui, view, books, dish, &outcome.faults),
                Draft::Kind(kind) => edit_kind::ui(ui, view, kind, &outcome.faults),
            });
            keep_in_sight(ui);
            ui.add_space(3.0 * STEP);
        });
    });
    match (done, outcome.sound) {
        (Done::Keep, Some(entry)) => {
            book_view.keeping = true;
            book_view.refused = None;
            actions.push(Action::Own(OwnChange::Keep(entry)));
        }
        (Done::Cancel, _) => book_view.give_up(),
        _ => {}
    }
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

enum Done {
    No,
    Keep,
    Cancel,
}

fn foot(ui: &mut Ui, outcome: &Outcome, keeping: bool, refused: Option<&str>) -> Done {
    let mut done = Done::No;
    let palette = theme::palette(ui);
    let line = ui.max_rect();
    ui.painter().hline(line.x_range(), line.top() - 10.0, egui::Stroke::new(palette.edge_width(), palette.hair));
    if let Some(why) = refused {
        parts::remark(ui, Level::Stop, &format!("Not kept: {why}"));
    }
    ui.horizontal(|ui| {
        let sound = outcome.sound.is_some() && !keeping;
        if ui.add_enabled(sound, Button::primary("Save")).clicked() {
            done = Done::Keep;
        }
        if ui.add_enabled(!keeping, Button::quiet("Cancel")).clicked() {
            done = Done::Cancel;
        }
        ui.add_space(STEP);
        let words = match outcome.faults.len() {
            _ if keeping => "Saving…".to_string(),
            _ if outcome.unread => "Not yet: something above cannot be read; it says what beside it.".into(),
            0 => "Sound: it can be saved.".into(),
            n => format!("Not yet: {} to mend, said above.", write_units(n, "thing", "things")),
        };
        parts::quiet(ui, words);
    });
    done
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
