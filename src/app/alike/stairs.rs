//! The stairs: one row for each meal, one square for each earlier one, the meal's name at the end of its row.

use super::AlikeView;
use crate::{
    app::{
        bench::{hand::named, ink},
        marks::Level,
        sheet::parts,
        theme::{self, Lettering, Palette, STEP, mix},
        view::{View, level_of_verdict, spoken},
        widget::{Edge, edge, focus_ring},
    },
    judge::{LikenessTable, Verdict},
};
use egui::{Color32, EventFilter, Id, Key, Modifiers, Rect, Role, ScrollArea, Sense, Stroke, Ui, pos2, vec2};

/// The least and the most room for a meal's name.
const NAME: (f32, f32) = (210.0, 380.0);
/// The least and the most a square may measure across.
const ACROSS: (f32, f32) = (18.0, 116.0);
/// The same for its height.
const DOWN: (f32, f32) = (18.0, 72.0);
/// Squares smaller than this carry no figure.
const FIGURE: f32 = 30.0;
/// Up to so many meals each square has a name of its own for a screen reader; beyond that the chosen one alone.
const NAMED: usize = 16;
/// Corner of a square.
const CORNER: f32 = 5.0;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, table: &LikenessTable, alike: &mut AlikeView) {
    let palette = theme::palette(ui);
    let whose = match view.who {
        Some(eater) => format!("Every meal of {} beside every other", view.rotation.household.name(eater)),
        None => "Every meal beside every other".to_string(),
    };
    ui.label(Lettering::Head.text(whose).color(palette.ink));
    if table.meals.len() < 2 {
        ui.add_space(STEP);
        parts::plain(ui, "Two meals with the piece are needed to compare. Plan them on the bench.");
        return;
    }
    legend(ui, palette);
    ui.add_space(STEP);
    let n = table.meals.len() as f32;
    let room = ui.available_size();
    let across = ((room.x - NAME.0) / (n - 1.0)).clamp(ACROSS.0, ACROSS.1).floor();
    let name = (room.x - (n - 1.0) * across).clamp(NAME.0, NAME.1);
    let down = (room.y / n).clamp(DOWN.0, DOWN.1).floor();
    let chosen = alike.places(table);
    ScrollArea::both().id_salt("stairs").auto_shrink(false).show(ui, |ui| {
        let (whole, _) = ui.allocate_exact_size(vec2((n - 1.0) * across + name, n * down), Sense::hover());
        let stairs = Stairs { view, table, palette, origin: whole.min, across, down, name, chosen };
        let id = Id::unique("stairs");
        let response = ui.interact(whole, id, Sense::focusable_noninteractive());
        named(ui, &response, Role::Table, &stairs.said(chosen));
        if response.has_focus() {
            ui.memory_mut(|m| {
                let arrows = EventFilter { tab: false, horizontal_arrows: true, vertical_arrows: true, escape: false };
                m.set_focus_lock_filter(id, arrows);
            });
            if let Some(next) = stairs.by_keys(ui) {
                ui.scroll_to_rect(stairs.square(next.0, next.1).expand(16.0), None);
                alike.choose(table, next);
            }
        }
        for row in 0..table.meals.len() {
            stairs.name_ui(ui, row);
            for column in 0..row {
                if stairs.one(ui, column, row) {
                    alike.choose(table, (column, row));
                }
            }
        }
        focus_ring(ui, &response, CORNER as u8);
    });
}

/// What the fill and the edges mean.
fn legend(ui: &mut Ui, palette: &'static Palette) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 4.0);
        let swatch = |ui: &mut Ui, fill: Color32, level: Option<Level>, words: &str| {
            let (rect, _) = ui.allocate_exact_size(vec2(22.0, 14.0), Sense::hover());
            paint(ui, rect, fill, level, palette);
            ui.label(Lettering::Small.text(words).color(palette.soft));
            ui.add_space(STEP);
        };
        swatch(ui, shade(palette, 0.1), None, "little alike");
        swatch(ui, shade(palette, 0.9), None, "much alike");
        swatch(ui, shade(palette, 0.5), Some(Level::Caution), "felt as getting alike");
        swatch(ui, shade(palette, 0.7), Some(Level::Warn), "felt as too alike");
    });
}

/// The fuller the more alike.
fn shade(palette: &Palette, likeness: f64) -> Color32 {
    mix(palette.sunk, palette.accent, (likeness.clamp(0.0, 1.0) as f32) * 0.75)
}

fn paint(ui: &Ui, rect: Rect, fill: Color32, level: Option<Level>, palette: &Palette) {
    ui.painter().rect_filled(rect, CORNER, fill);
    if let Some(level) = level {
        edge(ui.painter(), rect, CORNER, Edge::of(level), Stroke::new(1.5, level.colour(palette)));
    }
}

struct Stairs<'a, 'v> {
    view: &'a View<'v>,
    table: &'a LikenessTable,
    palette: &'static Palette,
    origin: egui::Pos2,
    across: f32,
    down: f32,
    name: f32,
    chosen: Option<(usize, usize)>,
}

impl Stairs<'_, '_> {
    fn square(&self, column: usize, row: usize) -> Rect {
        let at = self.origin + vec2(column as f32 * self.across, row as f32 * self.down);
        Rect::from_min_size(at, vec2(self.across, self.down)).shrink(if self.across < FIGURE { 1.0 } else { 2.0 })
    }

    /// What is said of two meals: "Monday supper and Tuesday supper: 0.31, fine".
    fn said(&self, places: Option<(usize, usize)>) -> String {
        let Some((i, j)) = places else { return "nothing to compare".into() };
        let name = |k: usize| self.view.rotation.slot_name(self.table.meals[k].slot);
        let verdict = self.table.verdict(i, j).words();
        match self.table.likeness(i, j) {
            Some(s) => spoken(&format!("{} and {}: {s:.2}, {verdict}", name(i), name(j))),
            None => spoken(&format!("{} and {}: {verdict}", name(i), name(j))),
        }
    }

    /// The meal's name at the end of its row.
    fn name_ui(&self, ui: &Ui, row: usize) {
        let at = self.origin + vec2(row as f32 * self.across, row as f32 * self.down);
        let rect = Rect::from_min_size(at + vec2(10.0, 0.0), vec2(self.name - 14.0, self.down));
        if !ui.is_rect_visible(rect) {
            return;
        }
        let meal = &self.table.meals[row];
        let lit = self.chosen.is_some_and(|(i, j)| row == i || row == j);
        let ink_of = if lit { self.palette.ink } else { self.palette.soft };
        let when = self.view.rotation.slot_name(meal.slot);
        let two = self.down >= 36.0;
        let dish = ink::lay(ui, &meal.dish, Lettering::Small, ink_of, rect.width(), 1);
        if two {
            let when = ink::lay(ui, &when, Lettering::SmallStrong, self.palette.ink, rect.width(), 1);
            let top = rect.center().y - (when.size().y + dish.size().y) / 2.0;
            let below = ink::put(ui.painter(), pos2(rect.left(), top), when);
            ink::put(ui.painter(), below, dish);
        } else {
            let words = format!("{when}  {}", meal.dish);
            let line = ink::lay(ui, &words, Lettering::Small, ink_of, rect.width(), 1);
            ink::put(ui.painter(), pos2(rect.left(), rect.center().y - line.size().y / 2.0), line);
        }
    }

    /// One square; whether it was clicked.
    fn one(&self, ui: &mut Ui, column: usize, row: usize) -> bool {
        let rect = self.square(column, row);
        let seen = ui.is_rect_visible(rect);
        let told = self.table.meals.len() <= NAMED;
        if !seen && !told {
            return false;
        }
        let chosen = self.chosen == Some((column, row));
        // Not a stop of the Tab key: the stairs are one, and the arrows go about in them.
        let response = ui.interact(rect, Id::unique(("two meals", column, row)), Sense::CLICK);
        if told || chosen {
            named(ui, &response, Role::Cell, &self.said(Some((column, row))));
        }
        let likeness = self.table.likeness(column, row);
        let verdict = self.table.verdict(column, row);
        let level = matches!(verdict, Verdict::Warn | Verdict::Caution).then(|| level_of_verdict(verdict));
        let fill = likeness.map_or(self.palette.card, |s| shade(self.palette, s));
        paint(ui, rect, fill, level, self.palette);
        if self.across >= FIGURE && self.down >= 20.0 {
            let words = likeness.map_or("?".to_string(), |s| format!("{s:.2}"));
            let colour = self.palette.text_on(fill);
            ink::put_centre(ui.painter(), rect, ink::lay(ui, &words, Lettering::SmallStrong, colour, rect.width(), 1));
        }
        if chosen {
            edge(ui.painter(), rect.expand(2.0), CORNER + 2.0, Edge::Thin, Stroke::new(2.0, self.palette.ink));
        }
        let clicked = response.clicked();
        if response.hovered() {
            response.on_hover_text(self.said(Some((column, row))));
        }
        clicked
    }

    /// Where the arrows lead from the square that is chosen.
    fn by_keys(&self, ui: &Ui) -> Option<(usize, usize)> {
        let (i, j) = self.chosen?;
        let last = self.table.meals.len() - 1;
        let pressed = |key: Key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
        if pressed(Key::ArrowLeft) {
            Some((i.saturating_sub(1), j))
        } else if pressed(Key::ArrowRight) {
            Some(((i + 1).min(j - 1), j))
        } else if pressed(Key::ArrowUp) {
            // Up the stairs no further than the square beside the meal's own name.
            Some((i.min(j.saturating_sub(2)), (j - 1).max(1)))
        } else if pressed(Key::ArrowDown) {
            Some((i, (j + 1).min(last)))
        } else {
            None
        }
    }
}
