//! Bars over the days: how long what is raw and what is made keeps.

use super::{calendar::Grid, hand::named, ink, kind_colour};
use crate::app::{
    theme::{self, Lettering},
    view::{View, spoken},
};
use crate::{
    judge::{KeepingLine, KeepingState},
    quantity::DayNo,
};
use egui::{Id, Rect, Role, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

/// Height of a bar with the air under it.
const BAR: f32 = 20.0;
/// No more bars than these: the rest is on the cards.
const MOST: usize = 4;

/// One bar.
pub struct Bar {
    words: String,
    since: DayNo,
    last_day: DayNo,
    raw: bool,
}

/// The bars worth drawing: raw parts that the plan still needs on a later day, and what is made and kept over night.
pub fn bars(view: &View<'_>) -> Vec<Bar> {
    let r = view.rotation;
    let mut out: Vec<Bar> = Vec::new();
    let kept = |line: &&KeepingLine| line.last_use.is_some_and(|used| used > line.since);
    let raw = view.judged.keeping.iter().filter(kept).filter(|l| matches!(l.state, KeepingState::Raw(_)));
    let mut by_day: std::collections::BTreeMap<DayNo, Vec<&str>> = Default::default();
    for line in raw {
        by_day.entry(line.last_day).or_default().push(line.what.trim_end_matches(", raw"));
    }
    for (last_day, names) in by_day {
        let words = format!("{}, uncut: good to {}", names.join(", "), r.day_name(last_day));
        out.push(Bar { words, since: r.piece.opened.max(DayNo::FIRST), last_day, raw: true });
    }
    // What is banked outlives the window: its jar says enough.
    let banked = |line: &&KeepingLine| match line.state {
        KeepingState::Made(id) | KeepingState::Cooked(id) => r.dish_of(id).is_some_and(|d| d.role == crate::book::Role::Bank),
        KeepingState::Raw(_) | KeepingState::CookedWhole => false,
    };
    let made = view.judged.keeping.iter().filter(kept).filter(|l| !matches!(l.state, KeepingState::Raw(_)) && !banked(l));
    for line in made {
        let words = format!("{}: eat by {}", line.what, r.day_name(line.last_day));
        out.push(Bar { words, since: line.since, last_day: line.last_day, raw: false });
    }
    out.truncate(MOST);
    out
}

/// How high the bars are together.
pub fn height(bars: &[Bar]) -> f32 {
    bars.len() as f32 * BAR
}

/// Draws the bars from `top` on.
pub fn ui(ui: &Ui, view: &View<'_>, grid: &Grid, bars: &[Bar], top: f32) {
    let palette = theme::palette(ui);
    let last = view.rotation.last_day();
    for (row, bar) in bars.iter().enumerate() {
        let left = grid.column(bar.since.clamp(DayNo::FIRST, last)).0;
        let beyond = bar.last_day > last;
        let right = grid.column(bar.last_day.clamp(DayNo::FIRST, last)).1 + if beyond { 6.0 } else { 0.0 };
        let rect = Rect::from_min_max(
            pos2(left, top + row as f32 * BAR),
            pos2(right.max(left + 40.0), top + (row as f32 + 1.0) * BAR - 4.0),
        );
        let colour = kind_colour(view);
        let (ground, line) =
            if bar.raw { (palette.piece_tint(colour), palette.piece_edge(colour)) } else { (palette.sunk, palette.line) };
        ui.painter().rect(rect, 8.0, ground, Stroke::new(1.0, line), StrokeKind::Inside);
        let words = if beyond { format!("{} →", bar.words) } else { bar.words.clone() };
        let galley = ink::lay(ui, &words, Lettering::Small, palette.ink, rect.width() - 20.0, 1);
        let at = pos2(rect.left() + 10.0, rect.center().y - galley.size().y / 2.0);
        ink::put(ui.painter(), at, galley);
        let response = ui.interact(rect.expand2(vec2(0.0, 1.0)), Id::unique(("clock", row)), Sense::hover());
        named(ui, &response, Role::Label, &spoken(&bar.words));
        response.on_hover_text(&bar.words);
    }
}
