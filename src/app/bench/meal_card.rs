//! A meal on the calendar: its dish with how it eats, its grams, who eats it, and what is served beside it.

use super::{Bench, hand, hand::OnClick, ink, kind_colour};
use crate::{
    app::{
        action::Action,
        carry::Carried,
        marks::{self, Icon},
        theme::{self, CARD_CORNER, FIELD_CORNER, Lettering},
        view::{View, level_of, profile_lines, texture_mark},
        widget::{Edge, focus_ring, paint_card},
    },
    book::Dish,
    judge::{Code, Severity},
    quantity::Units,
    rotation::{EaterId, Serving, Slot},
};
use egui::{Id, PointerButton, Rect, Role, Sense, Stroke, Ui, pos2, vec2};

/// Room inside the card.
const ROOM: f32 = 14.0;
/// Height of a meal with one dish.
const HEIGHT: f32 = 168.0;
/// Height of each further dish.
const BESIDE: f32 = 26.0;
/// Height of a meal with one dish in a low window.
const DENSE_HEIGHT: f32 = 128.0;
/// Height of an empty row.
const EMPTY: f32 = 124.0;
/// Height of an empty row in a low window.
const DENSE_EMPTY: f32 = 112.0;

/// How high a meal wants to be; `dense` in a low window.
pub fn height(view: &View<'_>, slot: Slot, dense: bool) -> f32 {
    match view.rotation.meal(slot).servings.len() {
        0 if dense => DENSE_EMPTY,
        0 => EMPTY,
        n => (if dense { DENSE_HEIGHT } else { HEIGHT }) + BESIDE * (n as f32 - 1.0),
    }
}

/// What a screen reader is told of the cell: "Thursday supper, empty".
pub fn cell_name(view: &View<'_>, slot: Slot) -> String {
    let name = view.rotation.slot_name(slot);
    match view.main_serving(slot) {
        None => format!("{name}, empty"),
        Some((serving, dish)) => format!("{name}, {}, {}{}", dish.name, view.portion(serving.portion), level_words(view, slot)),
    }
}

/// The gravest that is said of a meal, if it is more than a note.
fn worst_at(view: &View<'_>, slot: Slot) -> Option<Severity> {
    let own = view.judged.findings.iter().filter(|f| f.speaks() && f.meal == Some(slot));
    own.map(|f| f.severity).min().filter(|s| *s < Severity::Note)
}

/// ", warning" for a screen reader, or nothing.
fn level_words(view: &View<'_>, slot: Slot) -> String {
    worst_at(view, slot).map_or_else(String::new, |s| format!(", {}", s.word().to_lowercase()))
}

/// "A B K": initials of those who eat, short enough for a card.
fn initials(view: &View<'_>, eaters: &[EaterId]) -> String {
    if eaters.len() > 5 {
        return format!("{} at table", eaters.len());
    }
    let names: Vec<&str> = eaters.iter().map(|e| view.rotation.household.name(*e)).collect();
    if let [only] = names.as_slice() {
        return only.chars().take(10).collect();
    }
    let first = |n: usize| names.iter().map(|name| name.chars().take(n).collect::<String>()).collect::<Vec<_>>();
    let short = first(1);
    let unique: std::collections::BTreeSet<&String> = short.iter().collect();
    if unique.len() == names.len() { short.join(" ") } else { first(2).join(" ") }
}

/// "5 rolls" and how they are shared out: "2 + 2 + 1".
fn count_words(view: &View<'_>, serving: &Serving, dish: &Dish, eaters: &[EaterId]) -> Option<(String, String)> {
    let (word, each) = dish.unit.as_ref()?;
    let count = (serving.portion.get() + each / 2).checked_div(*each)?;
    let word = if count == 1 { word.clone() } else { format!("{word}s") };
    let units: Vec<u32> =
        eaters.iter().map(|e| view.rotation.household.eater(*e).map_or(Units::ADULT, |e| e.units).hundredths()).collect();
    let shares = crate::rotation::share_out_whole(count, &units);
    let shared = if shares.len() > 1 && shares.len() < 6 {
        shares.iter().map(u32::to_string).collect::<Vec<_>>().join(" + ")
    } else {
        String::new()
    };
    Some((format!("{count} {word}"), shared))
}

/// Draws what a meal serves; true if it was clicked.
pub fn ui(ui: &mut Ui, view: &View<'_>, rect: Rect, slot: Slot, bench: &mut Bench, actions: &mut Vec<Action>) -> bool {
    let Some((main, dish)) = view.main_serving(slot).map(|(s, d)| (s.clone(), d.clone())) else { return false };
    let others: Vec<Serving> = view.rotation.meal(slot).servings.iter().filter(|s| s.batch != main.batch).cloned().collect();
    let mut clicked = card_ui(ui, view, rect, slot, &main, &dish, others.len(), bench, actions);
    let top = rect.bottom() - ROOM / 2.0 - BESIDE * others.len() as f32;
    for (i, serving) in others.iter().enumerate() {
        let row = Rect::from_min_size(pos2(rect.left() + 6.0, top + BESIDE * i as f32), vec2(rect.width() - 12.0, BESIDE - 2.0));
        clicked |= beside_ui(ui, view, row, slot, serving, bench, actions);
    }
    clicked
}

/// What a card answers to a hand: picked up by drag or key, selected by click.
#[allow(clippy::too_many_arguments)] // One card is drawn from all that a frame knows.
fn card_ui(
    ui: &mut Ui,
    view: &View<'_>,
    rect: Rect,
    slot: Slot,
    serving: &Serving,
    dish: &Dish,
    others: usize,
    bench: &mut Bench,
    actions: &mut Vec<Action>,
) -> bool {
    let palette = theme::palette(ui);
    let r = view.rotation;
    let id = Id::unique(("card", slot.day.0, slot.mealtime.0));
    let response = ui.interact(rect, id, Sense::click_and_drag());
    let eaters = crate::rotation::eaten_by(r, serving, &r.eaters_at(slot));
    let names: Vec<&str> = eaters.iter().map(|e| r.household.name(*e)).collect();
    let (first, second) = profile_lines(dish);
    let name = format!(
        "{}, {}, {}, {first} · {second}, for {}{}",
        dish.name,
        view.portion(serving.portion),
        r.slot_name(slot),
        names.join(", "),
        level_words(view, slot)
    );
    hand::named(ui, &response, Role::Button, &name);
    let carried = Carried::Serving { slot, batch: serving.batch };
    hand::source(ui, &response, &carried, slot, OnClick::Selects, bench, actions);
    let clicked = response.clicked_by(PointerButton::Primary);
    if clicked && bench.carry.is_none() {
        response.request_focus();
        actions.push(Action::Select(Some(slot)));
    }
    if response.double_clicked() && bench.carry.is_none() {
        actions.push(Action::PickUp(carried.clone()));
    }
    if bench.focus_next == Some(slot) {
        response.request_focus();
        bench.focus_next = None;
    }
    if response.has_focus() && bench.carry.is_none() {
        hand::serving_keys(ui, view, slot, serving.batch, actions);
    }
    if !ui.is_rect_visible(rect) {
        return clicked;
    }
    let worst = worst_at(view, slot);
    let in_hand = bench.carry.as_ref().is_some_and(|c| c.what == carried);
    let selected = bench.selected == Some(slot);
    let (manner, line) = match worst {
        Some(severity @ (Severity::Stop | Severity::Warn)) => (Edge::of(level_of(severity)), level_of(severity).colour(palette)),
        _ if selected => (Edge::Thick, palette.accent),
        _ if response.hovered() => (Edge::Thin, palette.ink),
        _ => (Edge::Thin, palette.line),
    };
    let ground = if in_hand { palette.sunk } else { palette.card };
    paint_card(ui.painter(), rect, ground, manner, Stroke::new(palette.edge_width(), line));
    if selected && matches!(worst, Some(Severity::Stop | Severity::Warn)) {
        let inner = Stroke::new(2.0, palette.accent);
        ui.painter().rect_stroke(rect.expand(3.0), f32::from(CARD_CORNER) + 3.0, inner, egui::StrokeKind::Inside);
    }
    paint_words(ui, view, rect, slot, serving, dish, &eaters, others, bench.dense);
    if let Some(severity) = worst {
        let level = level_of(severity);
        // On the card's edge, where it covers none of its words.
        let mark = Rect::from_min_size(pos2(rect.right() - 32.0, rect.top() - 9.0), vec2(18.0, 18.0));
        ui.painter().rect_filled(mark.expand(3.0), 8.0, palette.paper);
        marks::level(ui.painter(), mark, level, level.colour(palette));
    }
    focus_ring(ui, &response, CARD_CORNER);
    response.on_hover_cursor(egui::CursorIcon::Grab);
    clicked
}

#[allow(clippy::too_many_arguments)] // One card is drawn from all that a frame knows.
fn paint_words(
    ui: &Ui,
    view: &View<'_>,
    rect: Rect,
    slot: Slot,
    serving: &Serving,
    dish: &Dish,
    eaters: &[EaterId],
    others: usize,
    dense: bool,
) {
    let palette = theme::palette(ui);
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let inside = rect.shrink(ROOM);
    let colour = palette.piece_edge(kind_colour(view));
    let mut indent = 0.0;
    if let Some(texture) = dish.profile.main_texture() {
        let mark = Rect::from_min_size(inside.min + vec2(0.0, 1.0), vec2(18.0, 18.0));
        marks::texture(&painter, mark, texture_mark(texture), colour);
        indent = 26.0;
    }
    let mut at = inside.min;
    let name = ink::lay_after(ui, &dish.name, Lettering::Dish, palette.ink, inside.width(), if dense { 2 } else { 3 }, indent);
    // A name of three lines leaves one line for the company.
    let company_rows = if name.rows.len() > 2 { 1 } else { 2 };
    at = ink::put(&painter, at, name);
    let (first, second) = profile_lines(dish);
    at = pos2(inside.left(), at.y + 5.0);
    if dense {
        // No room for the company here: the shelf and the hover have it.
        let how = second.split(" · ").next().unwrap_or("");
        let both = format!("{first} · {how}");
        ink::put(&painter, at, ink::lay(ui, &both, Lettering::Small, palette.soft, inside.width(), 1));
    } else {
        at = ink::put(&painter, at, ink::lay(ui, &first, Lettering::Small, palette.soft, inside.width(), 1));
        let company = ink::lay(ui, &second, Lettering::Small, palette.soft, inside.width(), company_rows);
        ink::put(&painter, at + vec2(0.0, 1.0), company);
    }

    // Grams and who eats stand at the foot, where the eye finds them in a row.
    let foot = rect.bottom() - ROOM - super::meal_card::BESIDE * others as f32;
    let count = count_words(view, serving, dish, eaters);
    let quiet = foot_words(view, slot, serving, count.as_ref().map(|c| c.1.as_str()).unwrap_or(""));
    let quiet_height = if quiet.is_empty() { 0.0 } else { 17.0 };
    let line = Rect::from_min_max(pos2(inside.left(), foot - 20.0 - quiet_height), pos2(inside.right(), foot - quiet_height));
    let grams = match &count {
        Some((count, _)) => format!("{} · {count}", view.portion(serving.portion)),
        None => view.portion(serving.portion),
    };
    let who = initials(view, eaters);
    let taken = ink::put_right(&painter, line, ink::lay(ui, &who, Lettering::Small, palette.soft, line.width() / 2.0, 1));
    let words = ink::lay(ui, &grams, Lettering::Strong, palette.ink, line.width() - taken - 8.0, 1);
    let middle = pos2(line.left(), line.center().y - words.size().y / 2.0);
    ink::put(&painter, middle, words);
    if !quiet.is_empty() {
        ink::put(
            &painter,
            pos2(inside.left(), foot - 16.0),
            ink::lay(ui, &quiet, Lettering::Small, palette.soft, inside.width(), 1),
        );
    }
}

/// The quiet line at the foot: shares of whole units, twins, the last day.
fn foot_words(view: &View<'_>, slot: Slot, serving: &Serving, shared: &str) -> String {
    let r = view.rotation;
    let mut words = Vec::new();
    if !shared.is_empty() {
        words.push(shared.to_string());
    }
    let stops = worst_at(view, slot) == Some(Severity::Stop);
    if !stops
        && view.judged.findings.iter().any(|f| f.code == Code::LastDay && f.meal == Some(slot) && f.batch == Some(serving.batch))
    {
        words.push("last day today".into());
    }
    words.extend(serving.twins.iter().map(|t| format!("{}: {}", r.household.name(t.eater), t.twin)));
    words.join(" · ")
}

/// A further dish of the meal: a spoonful of the pickle beside the pancakes.
fn beside_ui(
    ui: &mut Ui,
    view: &View<'_>,
    rect: Rect,
    slot: Slot,
    serving: &Serving,
    bench: &mut Bench,
    actions: &mut Vec<Action>,
) -> bool {
    let palette = theme::palette(ui);
    let Some(dish) = view.rotation.dish_of(serving.batch).cloned() else { return false };
    let id = Id::unique(("beside", slot.day.0, slot.mealtime.0, serving.batch.0));
    let response = ui.interact(rect, id, Sense::click_and_drag());
    let grams = view.portion(serving.portion);
    let name = format!("{}, {grams}, beside, {}", dish.name, view.rotation.slot_name(slot));
    hand::named(ui, &response, Role::Button, &name);
    let carried = Carried::Serving { slot, batch: serving.batch };
    hand::source(ui, &response, &carried, slot, OnClick::Selects, bench, actions);
    let clicked = response.clicked_by(PointerButton::Primary);
    if clicked && bench.carry.is_none() {
        actions.push(Action::Select(Some(slot)));
    }
    if response.has_focus() && bench.carry.is_none() {
        hand::serving_keys(ui, view, slot, serving.batch, actions);
    }
    if response.hovered() {
        ui.painter().rect_filled(rect, f32::from(FIELD_CORNER), palette.sunk);
    }
    let mark = Rect::from_center_size(pos2(rect.left() + 14.0, rect.center().y), vec2(14.0, 14.0));
    let icon = if dish.role == crate::book::Role::Bank { Icon::Jar } else { Icon::Plus };
    marks::icon(ui.painter(), mark, icon, palette.soft);
    let taken =
        ink::put_right(ui.painter(), rect.shrink2(vec2(8.0, 0.0)), ink::lay(ui, &grams, Lettering::Small, palette.ink, 90.0, 1));
    let words = ink::lay(ui, &dish.name, Lettering::Small, palette.ink, rect.width() - 40.0 - taken, 1);
    let at = pos2(rect.left() + 26.0, rect.center().y - words.size().y / 2.0);
    ink::put(ui.painter(), at, words);
    focus_ring(ui, &response, FIELD_CORNER);
    clicked
}
