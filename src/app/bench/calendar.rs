//! The calendar: days across, mealtimes down; cells that take what is dropped, cards that can be picked up.

use super::{Bench, clocks, hand, hand::OnClick, ink, link, meal_card};
use crate::{
    app::{
        action::Action,
        carry::{Carried, Held, Preview, PreviewBudget},
        marks::Icon,
        theme::{self, CARD_CORNER, FIELD_CORNER, Lettering},
        view::{View, level_of_verdict},
        widget::{Edge, edge, focus_ring, paint_card},
    },
    book::Role as DishRole,
    judge::Verdict,
    quantity::DayNo,
    rotation::{BatchId, Slot},
};
use egui::{Id, Rect, Role, ScrollArea, Sense, Stroke, Ui, pos2, vec2};
use std::collections::BTreeMap;

/// The narrowest a day's column is drawn.
const LEAST_COLUMN: f32 = 138.0;
/// Cards do not stretch past this.
const MOST_COLUMN: f32 = 260.0;
/// Air between columns.
const AIR: f32 = 12.0;
/// A calendar lower than this draws its meals closer.
const LOW: f32 = 520.0;
/// Height of the days' names.
const DAY_HEAD: f32 = 30.0;
/// Height of what is made ahead on a day.
const AHEAD: f32 = 28.0;
/// How near an edge the pointer scrolls the calendar while it carries.
const SCROLL_EDGE: f32 = 36.0;

/// Where everything stands.
pub struct Grid {
    left: f32,
    column: f32,
    rows: BTreeMap<usize, (f32, f32)>,
}

impl Grid {
    /// Left and right of a day's column.
    pub fn column(&self, day: DayNo) -> (f32, f32) {
        let left = self.left + f32::from(day.0 - 1) * (self.column + AIR);
        (left, left + self.column)
    }

    /// From the left of a day to that of the next.
    pub fn step(&self) -> f32 {
        self.column + AIR
    }

    /// The cell of a day in a row.
    pub fn cell(&self, day: DayNo, row: usize) -> Rect {
        let (left, right) = self.column(day);
        let (top, bottom) = self.rows.get(&row).copied().unwrap_or((0.0, 0.0));
        Rect::from_min_max(pos2(left, top), pos2(right, bottom))
    }
}

pub fn ui(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    let whole = ui.available_rect_before_wrap();
    bench.dense = whole.height() < LOW;
    ScrollArea::both().id_salt("calendar").auto_shrink([false, false]).show(ui, |ui| {
        scroll_at_edges(ui, whole, bench);
        inside(ui, view, bench, actions);
    });
}

/// While something is dragged near an edge of the calendar, it scrolls that way.
fn scroll_at_edges(ui: &Ui, whole: Rect, bench: &Bench) {
    let dragging = bench.carry.as_ref().is_some_and(|c| c.held == Held::Drag);
    let Some(at) = ui.input(|i| i.pointer.latest_pos()).filter(|at| dragging && whole.contains(*at)) else { return };
    let pull = |low: f32, high: f32, at: f32| ((low + SCROLL_EDGE - at).max(0.0) - (at - (high - SCROLL_EDGE)).max(0.0)) * 0.4;
    let by = vec2(pull(whole.left(), whole.right(), at.x), pull(whole.top(), whole.bottom(), at.y));
    let content = ui.min_rect().size();
    let can_scroll = content.x > whole.width() || content.y > whole.height();
    if by != egui::Vec2::ZERO && can_scroll {
        ui.scroll_with_delta(by);
        ui.ctx().request_repaint();
    }
}

fn inside(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    let r = view.rotation;
    let days = f32::from(r.days);
    // A little air at the right, for bars that run on past the window.
    let room = ui.available_width() - 10.0;
    let column = ((room - AIR * (days - 1.0)) / days).clamp(LEAST_COLUMN, MOST_COLUMN);
    let width = column * days + AIR * (days - 1.0);
    let origin = ui.cursor().min;
    let bars = clocks::bars(view);
    let ahead = ahead_rows(view);
    let mut y = origin.y + DAY_HEAD + clocks::height(&bars);
    let ahead_top = y;
    y += ahead as f32 * AHEAD + if ahead > 0 { 8.0 } else { 4.0 };
    let mut rows = BTreeMap::new();
    let mut lanes = Vec::new();
    for (row, mealtime) in r.mealtimes.iter().enumerate() {
        let slots: Vec<Slot> = r.day_numbers().map(|day| Slot { day, mealtime: mealtime.id }).collect();
        let height = slots.iter().map(|s| meal_card::height(view, *s, bench.dense)).fold(0.0, f32::max);
        rows.insert(row, (y, y + height));
        let lane = link::lane_height(view, mealtime.id);
        lanes.push((row, y + height));
        y += height + lane;
    }
    let (area, _) = ui.allocate_exact_size(vec2(width.max(1.0), y - origin.y), Sense::hover());
    let grid = Grid { left: area.left(), column, rows };
    day_heads(ui, view, &grid, area.top());
    clocks::ui(ui, view, &grid, &bars, area.top() + DAY_HEAD);
    ahead_ui(ui, view, &grid, bench, ahead_top, actions);

    let carry = bench.carry.clone();
    let again_key = ui.input(|i| i.modifiers.command);
    let mut budget = carry.as_ref().map(|c| bench.previews.begin(view, &c.what, c.again || again_key, bench.chosen.as_ref()));
    for (row, mealtime) in r.mealtimes.iter().enumerate() {
        for day in r.day_numbers() {
            let slot = Slot { day, mealtime: mealtime.id };
            cell_ui(ui, view, &grid, row, slot, bench, &mut budget, actions);
        }
    }
    for (row, top) in lanes {
        link::ui(ui, view, &grid, row, top);
    }
    if budget.is_some_and(|b| b.short) {
        ui.ctx().request_repaint();
    }
}

fn day_heads(ui: &Ui, view: &View<'_>, grid: &Grid, top: f32) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    for day in r.day_numbers() {
        let (left, right) = grid.column(day);
        let words = format!("{}\u{a0}{}", r.weekday(day), r.date(day).day());
        let galley = ink::lay(ui, &words, Lettering::Head, palette.ink, right - left, 1);
        ink::put(ui.painter(), pos2(left, top + 2.0), galley);
    }
}

/// Batches that are made ahead on a day, for no meal of that day: banks, components, what is not served yet.
fn ahead_of(view: &View<'_>, day: DayNo) -> Vec<BatchId> {
    let r = view.rotation;
    let own = r.batches.iter().filter(|b| b.day == day);
    let ahead = own.filter(|b| {
        let role = r.dishes.get(&b.dish).map_or(DishRole::Meal, |d| d.role);
        role != DishRole::Meal || r.servings_of(b.id).first().is_none_or(|(slot, _)| slot.day != day)
    });
    ahead.map(|b| b.id).collect()
}

fn ahead_rows(view: &View<'_>) -> usize {
    view.rotation.day_numbers().map(|day| ahead_of(view, day).len()).max().unwrap_or(0)
}

fn ahead_ui(ui: &mut Ui, view: &View<'_>, grid: &Grid, bench: &mut Bench, top: f32, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    for day in r.day_numbers() {
        let (left, right) = grid.column(day);
        for (row, id) in ahead_of(view, day).into_iter().enumerate() {
            let (Some(batch), Some(dish)) = (r.batch(id), r.dish_of(id)) else { continue };
            let rect =
                Rect::from_min_max(pos2(left, top + row as f32 * AHEAD), pos2(right, top + (row as f32 + 1.0) * AHEAD - 4.0));
            let response = ui.interact(rect, Id::unique(("ahead", id.0)), Sense::click_and_drag());
            let grams = view.portion(batch.pool());
            let name = format!("{}, made ahead on {}, {grams}", dish.name, r.day_name(day));
            hand::named(ui, &response, Role::Button, &name);
            let start = bench.shelf_slot(view).unwrap_or(Slot { day, mealtime: r.mealtimes[0].id });
            hand::source(ui, &response, &Carried::Batch(id), start, OnClick::PicksUp, bench, actions);
            if response.has_focus()
                && bench.carry.is_none()
                && ui.input_mut(|i| i.consume_key(egui::Modifiers::NONE, egui::Key::Delete))
            {
                actions.push(Action::Edit(crate::rotation::Edit::RemoveBatch(id)));
            }
            let line = if response.hovered() { palette.ink } else { palette.line };
            ui.painter().rect_filled(rect, f32::from(FIELD_CORNER), palette.sunk);
            edge(ui.painter(), rect, f32::from(FIELD_CORNER), Edge::Thin, Stroke::new(palette.edge_width(), line));
            let icon = if dish.role == DishRole::Bank { Icon::Jar } else { Icon::Pan };
            let mark = Rect::from_center_size(pos2(rect.left() + 14.0, rect.center().y), vec2(15.0, 15.0));
            crate::app::marks::icon(ui.painter(), mark, icon, palette.soft);
            let number = ink::lay(ui, &grams, Lettering::SmallStrong, palette.ink, 90.0, 1);
            let taken = ink::put_right(ui.painter(), rect.shrink2(vec2(10.0, 0.0)), number);
            let words = ink::lay(ui, &dish.name, Lettering::Small, palette.ink, rect.width() - 40.0 - taken, 1);
            let at = pos2(rect.left() + 26.0, rect.center().y - words.size().y / 2.0);
            ink::put(ui.painter(), at, words);
            focus_ring(ui, &response, FIELD_CORNER);
            response.on_hover_text(format!("{name}\nDrag to a meal to serve it."));
        }
    }
}

#[allow(clippy::too_many_arguments)] // One cell is drawn from all that a frame knows.
fn cell_ui(
    ui: &mut Ui,
    view: &View<'_>,
    grid: &Grid,
    row: usize,
    slot: Slot,
    bench: &mut Bench,
    budget: &mut Option<PreviewBudget>,
    actions: &mut Vec<Action>,
) {
    let rect = grid.cell(slot.day, row);
    let id = Id::unique(("cell", slot.day.0, slot.mealtime.0));
    let wanted = bench.scroll_to == Some(slot) || bench.focus_next == Some(slot);
    if wanted {
        ui.scroll_to_rect(rect.expand(12.0), None);
        bench.scroll_to = None;
    }
    // What is far out of sight costs nothing, but still has its name for a screen reader.
    let response = ui.interact(rect, id, Sense::click());
    hand::named(ui, &response, Role::Cell, &meal_card::cell_name(view, slot));
    let carrying = bench.carry.clone();
    let pointer = ui.input(|i| i.pointer.latest_pos());
    let under = carrying.as_ref().is_some_and(|c| !matches!(c.held, Held::Keys(_)))
        && pointer.is_some_and(|p| rect.contains(p) && ui.clip_rect().contains(p));
    if under {
        bench.under_pointer = Some((slot, rect));
    }
    let by_keys = carrying.as_ref().is_some_and(|c| c.held == Held::Keys(slot));
    let target = under || by_keys;
    let empty = view.rotation.meal(slot).servings.is_empty();
    if empty {
        paint_empty(ui, view, rect, slot, bench, target || response.hovered());
    }
    let card_clicked = !empty && meal_card::ui(ui, view, rect, slot, bench, actions);
    let clicked = response.clicked() || card_clicked;
    if clicked && let Some(carry) = carrying.as_ref().filter(|c| c.held == Held::Click) {
        let again = carry.again || ui.input(|i| i.modifiers.command);
        actions.push(Action::PutDown { slot, again });
    } else if response.clicked() && carrying.is_none() {
        actions.push(Action::Select(Some(slot)));
        actions.push(Action::Say(format!("{} is selected: the shelf shows dishes for it", view.rotation.slot_name(slot))));
    }
    if bench.focus_next == Some(slot) && empty {
        response.request_focus();
        bench.focus_next = None;
    }
    if let (Some(budget), Some(carry)) = (budget.as_mut(), carrying.as_ref())
        && ui.is_rect_visible(rect)
    {
        let own = matches!(&carry.what, Carried::Serving { slot: from, .. } if *from == slot);
        if !own || target {
            let preview = bench.previews.at(budget, view, slot, target).cloned();
            if let Some(preview) = preview {
                paint_preview(ui, rect, &preview, target, by_keys);
            }
        }
    }
    focus_ring(ui, &response, CARD_CORNER);
}

fn paint_empty(ui: &Ui, view: &View<'_>, rect: Rect, slot: Slot, bench: &Bench, lively: bool) {
    let palette = theme::palette(ui);
    let selected = bench.selected == Some(slot);
    let colour = if selected {
        palette.accent
    } else if lively {
        palette.line
    } else {
        palette.hair
    };
    let ground = if selected { palette.card } else { egui::Color32::TRANSPARENT };
    paint_card(ui.painter(), rect, ground, Edge::Dashed, Stroke::new(palette.edge_width(), colour));
    let nobody = view.rotation.eaters_at(slot).is_empty();
    let words = view.rotation.mealtime_name(slot.mealtime);
    let words = if nobody { format!("{words}, nobody at table") } else { words.to_string() };
    ink::put_centre(ui.painter(), rect, ink::lay(ui, &words, Lettering::Small, palette.soft, rect.width() - 16.0, 2));
}

/// What a drop would come to: three lines on the target, a word on the other cells.
fn paint_preview(ui: &Ui, rect: Rect, preview: &Preview, target: bool, by_keys: bool) {
    let palette = theme::palette(ui);
    let painter = ui.painter();
    let width = rect.width() - 28.0;
    match preview {
        Preview::Refused(why) => {
            if !target {
                return;
            }
            paint_card(painter, rect, palette.sunk, Edge::Dashed, Stroke::new(1.5, palette.line));
            let at = ink::put(
                painter,
                rect.min + vec2(14.0, 14.0),
                ink::lay(ui, "Not here", Lettering::Strong, palette.ink, width, 1),
            );
            ink::put(painter, at + vec2(0.0, 4.0), ink::lay(ui, why, Lettering::Small, palette.ink, width, 6));
        }
        Preview::Fits { name, fits, beside, feels, verdict, stop } => {
            let level = if stop.is_some() { crate::app::marks::Level::Stop } else { level_of_verdict(*verdict) };
            let colour = level.colour(palette);
            if !target {
                pill_above(ui, rect, if stop.is_some() { "stop" } else { short(*verdict) }, colour);
                return;
            }
            let ground =
                if *verdict == Verdict::Fine && stop.is_none() { palette.piece_tint(palette.accent) } else { palette.card };
            paint_card(painter, rect, ground, Edge::of(level), Stroke::new(if by_keys { 2.0 } else { 1.5 }, colour));
            let low = rect.height() < 150.0;
            let lay = |words: &str, lettering, colour, rows| ink::lay(ui, words, lettering, colour, width, rows);
            let mut at = rect.min + vec2(14.0, if low { 8.0 } else { 12.0 });
            at = ink::put(painter, at, lay(name, Lettering::Dish, palette.ink, if low { 1 } else { 2 })) + vec2(0.0, 3.0);
            if let Some(stop) = stop {
                // What is unsafe is said alone: a green "fits" beside it would be read first.
                at = ink::put(painter, at, lay("Stop", Lettering::SmallStrong, palette.stop, 1)) + vec2(0.0, 2.0);
                ink::put(painter, at, lay(stop, Lettering::Small, palette.stop, if low { 4 } else { 6 }));
                return;
            }
            at = ink::put(painter, at, lay(fits, Lettering::SmallStrong, palette.accent, if low { 1 } else { 2 }))
                + vec2(0.0, 2.0);
            let beside_colour = if *verdict == Verdict::Fine { palette.soft } else { colour };
            at = ink::put(painter, at, lay(beside, Lettering::Small, beside_colour, 2)) + vec2(0.0, 2.0);
            ink::put(painter, at, lay(feels, Lettering::SmallStrong, palette.ink, 1));
        }
    }
}

fn short(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fine => "fits, fine",
        Verdict::Caution => "getting alike",
        Verdict::Warn => "too alike",
        Verdict::Unknown => "fits",
    }
}

fn pill_above(ui: &Ui, rect: Rect, words: &str, colour: egui::Color32) {
    let palette = theme::palette(ui);
    let galley = ink::lay(ui, words, Lettering::SmallStrong, colour, rect.width(), 1);
    let size = galley.size() + vec2(18.0, 8.0);
    // On the cell's upper edge, where it covers none of the card's words and no link.
    let pill = Rect::from_min_size(pos2(rect.right() - size.x - 10.0, rect.top() + 11.0 - size.y), size);
    ui.painter().rect_filled(pill, size.y / 2.0, palette.card);
    edge(ui.painter(), pill, size.y / 2.0, Edge::Thin, Stroke::new(1.0, colour));
    ink::put_centre(ui.painter(), pill, galley);
}
