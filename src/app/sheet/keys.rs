//! The sheet of the keys.

use super::{
    frame::{self, Head, Keyboard},
    parts,
};
use crate::app::{
    action::Action,
    theme::{self, Lettering, STEP},
    view::spoken,
};
use egui::{Context, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

type Keys = &'static [(&'static str, &'static str)];

const AT_THE_BENCH: Keys = &[
    ("Tab", "to the next thing; Shift + Tab back"),
    ("F6", "straight to the calendar, or to what a page shows"),
    ("← → ↑ ↓", "from meal to meal"),
    ("Enter or Space", "pick up, and put down where you are"),
    ("Ctrl + Enter", "put down as another serving"),
    ("Escape", "put back what is held; close a sheet"),
    ("Delete", "take a dish off its meal"),
    ("+ and −", "more and fewer grams"),
];
const STEPS: Keys = &[("Ctrl + Z", "undo"), ("Ctrl + Shift + Z", "do it again; Ctrl + Y too")];
const FILES: Keys = &[
    ("Ctrl + N", "start with your own piece"),
    ("Ctrl + O", "open"),
    ("Ctrl + S", "save"),
    ("Ctrl + Shift + S", "save under another name"),
    ("Ctrl + L", "open by typing the path"),
    ("Ctrl + P", "print the week and its lists"),
    ("Ctrl + Q", "quit"),
];
const SIZE: Keys = &[("Ctrl + +", "everything larger"), ("Ctrl + −", "everything smaller"), ("Ctrl + 0", "the usual size")];

/// Draws the sheet.
pub(super) fn ui(ctx: &Context, keyboard: &mut Keyboard, actions: &mut Vec<Action>) {
    let under = "All that the pointer can do, the keys can.";
    let head = Head { title: "Keys", under, name: "keys", width: 480.0, edits: false, holds_answers: false, fills_in: false };
    let body = |ui: &mut Ui, (): &mut (), _: &mut Vec<Action>| {
        for (name, keys) in [("At the bench", AT_THE_BENCH), ("Steps", STEPS), ("Files", FILES), ("Size", SIZE)] {
            parts::section(ui, name);
            for (keys, does) in keys {
                key_ui(ui, keys, does);
            }
        }
    };
    frame::show(ctx, &head, keyboard, &mut (), actions, body, None::<fn(&mut Ui, &mut (), &mut Vec<Action>)>);
}

fn key_ui(ui: &mut Ui, keys: &str, does: &str) {
    const LEFT: f32 = 144.0;
    let palette = theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 28.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, spoken(&format!("{keys}: {does}"))));
    let painter = ui.painter();
    let words = painter.layout_no_wrap(keys.to_owned(), Lettering::SmallStrong.font(), palette.ink);
    let cap = egui::Rect::from_min_size(rect.min, vec2(words.size().x + 2.0 * STEP, 26.0));
    painter.rect(cap, 6.0, palette.paper, Stroke::new(palette.edge_width(), palette.line), StrokeKind::Inside);
    painter.galley(pos2(cap.left() + STEP, cap.center().y - words.size().y / 2.0), words, palette.ink);
    let most = rect.width() - LEFT;
    let does = painter.layout(does.to_owned(), Lettering::Body.font(), palette.ink, most);
    painter.galley(pos2(rect.left() + LEFT, cap.center().y - does.size().y / 2.0), does, palette.ink);
}
