//! Bars over the days: how long what is raw and what is made keeps.

use super::{calendar::Grid, hand::named, ink, kind_colour};
use crate::app::{
    keeping::phases::{self, Days, Inks, Inside},
    theme::{self, Lettering},
    view::{View, spoken},
};
use crate::{
    judge::{BarOf, ClockBar, KeptAs},
    quantity::DayNo,
    rotation::Rotation,
};
use egui::{Id, Rect, Role, Sense, Ui, pos2, vec2};

/// Height of a bar with the air under it.
const BAR: f32 = 22.0;
/// No more bars than these: the rest is on the cards.
const MOST: usize = 4;

/// One bar: what has the very same clock shares it.
pub struct Bar {
    words: String,
    clock: ClockBar,
}

/// The bars worth drawing: raw parts that the plan still needs on a later day, and what is made and kept over night.
pub fn bars(view: &View<'_>) -> Vec<Bar> {
    let r = view.rotation;
    // What is used up on its first day needs no bar; nor has what is put by, whose jar says enough.
    let kept = |bar: &&ClockBar| match bar.gone() {
        Some(gone) => gone.day > bar.from.day,
        None => bar.steps.len() > 1 || bar.held(bar.from.day).is_some(),
    };
    let needed = |bar: &&ClockBar| kept(bar) && !matches!(bar.state, KeptAs::Banked | KeptAs::Companion);
    let mut out: Vec<(Vec<&str>, &ClockBar)> = Vec::new();
    for bar in view.clocks.iter().filter(needed) {
        let same = |(_, other): &&mut (Vec<&str>, &ClockBar)| {
            matches!((&bar.of, &other.of), (BarOf::Part(_), BarOf::Part(_)))
                && (other.from, other.nice, other.safe, other.state) == (bar.from, bar.nice, bar.safe, bar.state)
        };
        match out.iter_mut().find(same) {
            Some((names, _)) => names.push(&bar.what),
            None => out.push((vec![&bar.what], bar)),
        }
    }
    out.truncate(MOST);
    out.into_iter().map(|(names, bar)| Bar { words: words(r, &names, bar), clock: bar.clone() }).collect()
}

/// "Core, middle, uncut: eats well to Wednesday, safe to Sunday".
fn words(r: &Rotation, names: &[&str], bar: &ClockBar) -> String {
    let names: Vec<String> = names.iter().enumerate().map(|(i, n)| if i == 0 { (*n).to_string() } else { lower(n) }).collect();
    let uncut = if bar.state == KeptAs::Raw { ", uncut" } else { "" };
    let safe = phases::edge_words(r, bar.safe);
    if bar.nice.ends() < bar.safe.ends() {
        format!("{}{uncut}: eats well to {}, safe to {safe}", names.join(", "), phases::edge_words(r, bar.nice))
    } else {
        format!("{}{uncut}: eat by {safe}", names.join(", "))
    }
}

/// A name within a sentence.
fn lower(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// How high the bars are together.
pub fn height(bars: &[Bar]) -> f32 {
    bars.len() as f32 * BAR
}

/// Draws the bars from `top` on.
pub fn ui(ui: &Ui, view: &View<'_>, grid: &Grid, bars: &[Bar], top: f32) {
    let palette = theme::palette(ui);
    let inks = Inks { palette, piece: kind_colour(view) };
    let (first, last) = (DayNo::FIRST, view.rotation.last_day());
    let left = grid.column(first).0;
    let right = grid.column(last).1 + 6.0;
    for (row, bar) in bars.iter().enumerate() {
        let place = Rect::from_min_max(pos2(left, top + row as f32 * BAR), pos2(right, top + (row as f32 + 1.0) * BAR - 4.0));
        let days = Days { left, step: grid.step(), first };
        phases::paint(ui.painter(), place, &days, &bar.clock, inks, Inside::Nothing);
        let (from, to) = (days.x(bar.clock.from.begins()).max(left), days.x(bar.clock.safe.ends()).min(right));
        let own = Rect::from_x_y_ranges(from..=to.max(from + 4.0), place.y_range());
        let beyond = bar.clock.safe.day > last;
        let words = if beyond { format!("{} →", bar.words) } else { bar.words.clone() };
        let galley = ink::lay(ui, &words, Lettering::Small, palette.ink, own.width() - 20.0, 1);
        let at = pos2(own.left() + 10.0, own.center().y - galley.size().y / 2.0 - 1.0);
        // Hatching and words would fight: the words stand on a ground of their own.
        let ground = Rect::from_min_size(at, galley.size()).expand2(vec2(3.0, -1.0));
        ui.painter().rect_filled(ground, 3.0, palette.card.gamma_multiply(0.72));
        ink::put(ui.painter(), at, galley);
        let response = ui.interact(own.expand2(vec2(0.0, 1.0)), Id::unique(("clock", row)), Sense::hover());
        named(ui, &response, Role::Label, &spoken(&bar.words));
        response.on_hover_text(&bar.words);
    }
}
