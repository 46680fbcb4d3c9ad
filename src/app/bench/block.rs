//! The piece drawn to scale as a block: its parts side by side, in each the shares in the order they will be eaten,
//! what is free left pale. Shares are dragged to meals; their right edges are pulled for more or less.

use super::{
    Bench, hand,
    hand::OnClick,
    ink::{lay, put},
    kind_colour,
};
use crate::{
    app::{
        action::Action,
        carry::{Carried, Held},
        theme::{self, FIELD_CORNER, Lettering, Palette},
        view::{View, spoken},
        widget::{Edge, edge, focus_ring},
    },
    book::Role as DishRole,
    judge::{PartBalance, Share, ShareUse},
    quantity::{DayNo, Portion},
    rotation::{Edit, Slot},
};
use egui::{Color32, CursorIcon, Id, Rect, Role, Sense, Stroke, Ui, Vec2, pos2, vec2};

/// Height of the shares.
const HEIGHT: f32 = 80.0;
/// Height of the shares in a low window.
const LOW_HEIGHT: f32 = 58.0;
/// A window lower than this is low.
const LOW_WINDOW: f32 = 760.0;
/// Height of the brackets with the parts' names.
const BRACKETS: f32 = 32.0;
/// Air between shares.
const AIR: f32 = 3.0;
/// Air between parts.
const PART_AIR: f32 = 8.0;
/// The narrowest a share is drawn, however little it is: it must be hit.
const LEAST: f32 = 28.0;
/// Width of the edge that is pulled.
const EDGE: f32 = 10.0;
/// A pulled edge stops at whole steps of grams.
const SNAP: f32 = 10.0;

/// One thing drawn in the row.
struct Place<'a> {
    part: &'a PartBalance,
    share: Option<&'a Share>,
    grams: u32,
    rect: Rect,
}

pub fn ui(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    let low = ui.ctx().content_rect().height() < LOW_WINDOW;
    let height = if low { LOW_HEIGHT } else { HEIGHT };
    let size = vec2(ui.available_width(), height + BRACKETS);
    let (area, _) = ui.allocate_exact_size(size, Sense::hover());
    bench.over_block = ui.rect_contains_pointer(area);
    let row = Rect::from_min_size(area.min, vec2(area.width(), height));
    let (places, per_gram) = places(view, row);
    for place in &places {
        match place.share {
            Some(share) => share_ui(ui, view, bench, place, share, per_gram, actions),
            None => free_ui(ui, view, bench, place, actions),
        }
    }
    for part in &view.judged.balance.parts {
        bracket(ui, view, part, &places, row);
    }
    take_off_hint(ui, view, bench, row);
}

/// Where everything stands: to scale, but nothing narrower than can be hit.
fn places<'a>(view: &View<'a>, row: Rect) -> (Vec<Place<'a>>, f32) {
    let parts = &view.judged.balance.parts;
    let mut items: Vec<(&PartBalance, Option<&Share>, u32, bool)> = Vec::new();
    for part in parts {
        let before = items.len();
        items.extend(part.shares.iter().map(|s| (part, Some(s), s.grams, false)));
        if part.free > 0 {
            items.push((part, None, part.free as u32, false));
        }
        if let Some(last) = items.get_mut(before..).and_then(|own| own.last_mut()) {
            last.3 = true;
        }
    }
    let air: f32 = items.iter().map(|i| if i.3 { PART_AIR } else { AIR }).sum::<f32>() - PART_AIR;
    let room = (row.width() - air.max(0.0)).max(1.0);
    // Small things get their least width; the rest share what is left to scale.
    let total: f32 = items.iter().map(|i| i.2 as f32).sum();
    let mut scale = if total > 0.0 { room / total } else { 0.0 };
    for _ in 0..4 {
        let small: Vec<f32> = items.iter().map(|i| i.2 as f32).filter(|g| g * scale < LEAST).collect();
        let rest = total - small.iter().sum::<f32>();
        if rest <= 0.0 {
            break;
        }
        scale = ((room - LEAST * small.len() as f32) / rest).max(0.0);
    }
    let least = if items.is_empty() { LEAST } else { LEAST.min(room / items.len() as f32) };
    let mut x = row.left();
    let mut out = Vec::with_capacity(items.len());
    for (part, share, grams, ends_part) in items {
        let width = (grams as f32 * scale).max(least);
        out.push(Place { part, share, grams, rect: Rect::from_min_size(pos2(x, row.top()), vec2(width, row.height())) });
        x += width + if ends_part { PART_AIR } else { AIR };
    }
    (out, scale)
}

/// What a share is for, in words: "Tuesday supper", "Quick pickle, banked".
fn use_words(view: &View<'_>, share: &Share) -> (String, &'static str) {
    let r = view.rotation;
    let name = r.dish_of(share.batch).map_or("", |d| d.name.as_str());
    match share.used {
        ShareUse::Meal(slot) => (r.slot_name(slot), ""),
        ShareUse::Bank => (name.to_string(), "banked"),
        ShareUse::Component => (name.to_string(), "kept for later"),
        ShareUse::Unserved => (name.to_string(), "no meal yet"),
    }
}

fn start_slot(view: &View<'_>, bench: &Bench) -> Slot {
    bench.shelf_slot(view).unwrap_or(Slot { day: DayNo::FIRST, mealtime: crate::rotation::MealtimeId(1) })
}

fn share_ui(
    ui: &mut Ui,
    view: &View<'_>,
    bench: &mut Bench,
    place: &Place<'_>,
    share: &Share,
    per_gram: f32,
    actions: &mut Vec<Action>,
) {
    let palette = theme::palette(ui);
    let (what, note) = use_words(view, share);
    let salt = match share.used {
        ShareUse::Meal(slot) => (share.batch.0, slot.day.0, slot.mealtime.0),
        _ => (share.batch.0, i16::MIN, 0),
    };
    let id = Id::unique(("share", place.part.part.as_str().to_owned(), salt));
    let response = ui.interact(place.rect, id, Sense::click_and_drag());
    let meal = match share.used {
        ShareUse::Meal(slot) => Some(slot),
        _ => None,
    };
    let comma = if note.is_empty() { String::new() } else { format!(", {note}") };
    let name = format!("{}, {what}{comma}, {}", place.part.name, view.grams(place.grams));
    hand::named(ui, &response, Role::Button, &name);
    let carried = match meal {
        Some(slot) => Carried::Serving { slot, batch: share.batch },
        None => Carried::Batch(share.batch),
    };
    let on_click = if meal.is_some() { OnClick::Selects } else { OnClick::PicksUp };
    let start = meal.unwrap_or_else(|| start_slot(view, bench));
    hand::source(ui, &response, &carried, start, on_click, bench, actions);
    if response.clicked_by(egui::PointerButton::Primary) && meal.is_some() && bench.carry.is_none() {
        actions.push(Action::Select(meal));
    }
    if response.has_focus() && bench.carry.is_none() {
        if let Some(slot) = meal {
            hand::serving_keys(ui, view, slot, share.batch, actions);
        } else if ui.input_mut(|i| i.consume_key(egui::Modifiers::NONE, egui::Key::Delete)) {
            actions.push(Action::Edit(Edit::RemoveBatch(share.batch)));
        }
    }
    let banked = matches!(share.used, ShareUse::Bank);
    let colour = kind_colour(view);
    let ground = if banked {
        egui::lerp(egui::Rgba::from(palette.sunk)..=egui::Rgba::from(palette.hair), 0.3).into()
    } else {
        palette.piece_tint(colour)
    };
    let line = if banked { palette.line } else { palette.piece_edge(colour) };
    let in_hand = bench.carry.as_ref().is_some_and(|c| c.what == carried);
    let selected = meal.is_some() && meal == bench.selected;
    let heavy = selected || in_hand || response.hovered();
    paint_share(
        ui,
        palette,
        place.rect,
        ground,
        Stroke::new(if heavy { 2.0 } else { palette.edge_width() }, line),
        &what,
        note,
        &view.grams(place.grams),
    );
    focus_ring(ui, &response, FIELD_CORNER);
    pull_edge(ui, view, bench, place, share, per_gram, actions);
    response.on_hover_text(name_tip(view, place, share, &what, note));
}

fn name_tip(view: &View<'_>, place: &Place<'_>, share: &Share, what: &str, note: &str) -> String {
    let dish = view.rotation.dish_of(share.batch);
    let name = dish.map_or("", |d| d.name.as_str());
    let head = if name == what { format!("{what} {note}") } else { format!("{what}: {name}") };
    let role = dish.map_or(DishRole::Meal, |d| d.role);
    let hint = if role == DishRole::Meal {
        "Drag to another meal; pull the right edge for more or less."
    } else {
        "Drag to a meal to serve it."
    };
    format!("{head}\n{} of {}\n{hint}", view.grams(place.grams), place.part.name)
}

#[allow(clippy::too_many_arguments)] // A picture of one share: each is one line or colour of it.
fn paint_share(ui: &Ui, palette: &Palette, rect: Rect, ground: Color32, line: Stroke, what: &str, note: &str, grams: &str) {
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    painter.rect_filled(rect, f32::from(FIELD_CORNER), ground);
    edge(&painter, rect, f32::from(FIELD_CORNER), Edge::Thin, line);
    let inside = rect.shrink2(vec2(12.0, if rect.height() < HEIGHT { 9.0 } else { 12.0 }));
    if inside.width() < 34.0 {
        narrow_words(ui, &painter, rect, grams);
        return;
    }
    let at = put(&painter, inside.min, lay(ui, what, Lettering::Strong, palette.ink, inside.width(), 1));
    let second = if note.is_empty() { grams.to_string() } else { format!("{grams} · {note}") };
    put(&painter, at + vec2(0.0, 3.0), lay(ui, &second, Lettering::Body, palette.soft, inside.width(), 1));
}

/// Too narrow for words: only the grams, and those only if they fit.
fn narrow_words(ui: &Ui, painter: &egui::Painter, rect: Rect, grams: &str) {
    let number: String = grams.chars().take_while(|c| c.is_ascii_digit() || *c == ',').collect();
    let galley = lay(ui, &number, Lettering::Small, theme::palette(ui).soft, 200.0, 1);
    if galley.size().x <= rect.width() - 4.0 {
        super::ink::put_centre(painter, rect, galley);
    }
}

/// The right edge of a meal's share: pulled for more or less, in whole steps; one pull is one step of the history.
fn pull_edge(
    ui: &mut Ui,
    view: &View<'_>,
    bench: &mut Bench,
    place: &Place<'_>,
    share: &Share,
    per_gram: f32,
    actions: &mut Vec<Action>,
) {
    let ShareUse::Meal(slot) = share.used else { return };
    if per_gram <= 0.0 || place.rect.width() < LEAST + 1.0 {
        return;
    }
    let rect = Rect::from_min_max(pos2(place.rect.right() - EDGE, place.rect.top()), place.rect.right_bottom());
    let id = Id::unique(("pull", place.part.part.as_str().to_owned(), share.batch.0, slot.day.0, slot.mealtime.0));
    let response = ui.interact(rect, id, Sense::drag()).on_hover_cursor(CursorIcon::ResizeHorizontal);
    hand::named(ui, &response, Role::Splitter, &format!("edge of {}, {}", place.part.name, view.rotation.slot_name(slot)));
    let Some(serving) = view.rotation.meal(slot).serving(share.batch) else { return };
    let key = id.with("from");
    if response.drag_started() {
        let from = ui.input(|i| i.pointer.press_origin()).map_or(rect.center().x, |p| p.x);
        let gesture = bench.next_gesture();
        ui.data_mut(|d| d.insert_temp(key, (from, serving.portion.get(), per_gram, gesture.0)));
    }
    if response.dragged()
        && let Some((from, grams, scale, gesture)) = ui.data(|d| d.get_temp::<(f32, u32, f32, u64)>(key))
        && let Some(pointer) = ui.input(|i| i.pointer.latest_pos())
    {
        let wanted = grams as f32 + (pointer.x - from) / scale;
        let to = ((wanted / SNAP).round() * SNAP).max(SNAP) as u32;
        let most = grams_within_reach(view, serving.portion, share);
        let to = to.min(most);
        if to != serving.portion.get() {
            let edit = Edit::SetServing { slot, batch: share.batch, portion: serving.portion.with(to) };
            actions.push(Action::Pull(edit, crate::rotation::GestureId(gesture)));
        }
    }
    if response.hovered() || response.dragged() {
        let palette = theme::palette(ui);
        let x = rect.center().x;
        for dx in [-1.5, 1.5] {
            let ends = [pos2(x + dx, rect.center().y - 9.0), pos2(x + dx, rect.center().y + 9.0)];
            ui.painter().line_segment(ends, Stroke::new(1.5, palette.ink));
        }
    }
}

/// The most that a serving can grow to: what it has, what its batch has left, what its sources have free.
fn grams_within_reach(view: &View<'_>, now: Portion, share: &Share) -> u32 {
    let r = view.rotation;
    let Some(batch) = r.batch(share.batch) else { return now.get() };
    let free: u32 = batch.draws.iter().map(|d| crate::rotation::most_for(r, &d.from).get()).sum();
    now.get() + r.unserved(batch).get() + free
}

fn free_ui(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, place: &Place<'_>, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let id = Id::unique(("free", place.part.part.as_str().to_owned()));
    let response = ui.interact(place.rect, id, Sense::click_and_drag()).on_hover_cursor(CursorIcon::Grab);
    let grams = view.grams(place.grams);
    hand::named(ui, &response, Role::Button, &format!("{}, free, {grams}", place.part.name));
    let carried = Carried::Part(place.part.part.clone());
    let start = start_slot(view, bench);
    hand::source(ui, &response, &carried, start, OnClick::PicksUp, bench, actions);
    let in_hand = bench.carry.as_ref().is_some_and(|c| c.what == carried);
    let painter = ui.painter().with_clip_rect(place.rect.intersect(ui.clip_rect()));
    painter.rect_filled(place.rect, f32::from(FIELD_CORNER), palette.card);
    let line = if in_hand || response.hovered() { palette.piece_edge(kind_colour(view)) } else { palette.line };
    edge(&painter, place.rect, f32::from(FIELD_CORNER), Edge::Dashed, Stroke::new(palette.edge_width(), line));
    let inside = place.rect.shrink2(vec2(12.0, if place.rect.height() < HEIGHT { 9.0 } else { 12.0 }));
    if inside.width() >= 34.0 {
        let at = put(&painter, inside.min, lay(ui, "free", Lettering::Strong, palette.ink, inside.width(), 1));
        let at = put(&painter, at + vec2(0.0, 2.0), lay(ui, &grams, Lettering::Body, palette.soft, inside.width(), 1));
        if inside.width() > 90.0 && place.rect.height() >= HEIGHT {
            put(&painter, at + vec2(0.0, 1.0), lay(ui, "drag from here", Lettering::Small, palette.soft, inside.width(), 1));
        }
    } else {
        narrow_words(ui, &painter, place.rect, &grams);
    }
    focus_ring(ui, &response, FIELD_CORNER);
    let suits = view.rotation.kind.part(&place.part.part).map_or("", |p| p.suits.as_str());
    response.on_hover_text(format!("{grams} of {} free. Good for: {suits}", place.part.name));
}

/// The bracket under a part, with its name and what it holds.
fn bracket(ui: &Ui, view: &View<'_>, part: &PartBalance, places: &[Place<'_>], row: Rect) {
    let palette = theme::palette(ui);
    let own: Vec<Rect> = places.iter().filter(|p| p.part.part == part.part).map(|p| p.rect).collect();
    let (Some(first), Some(last)) = (own.first(), own.last()) else { return };
    let (left, right) = (first.left() + 1.0, last.right() - 1.0);
    let (top, bottom) = (row.bottom() + 4.0, row.bottom() + 10.0);
    let points = vec![pos2(left, top), pos2(left, bottom), pos2(right, bottom), pos2(right, top)];
    ui.painter().add(egui::Shape::line(points, Stroke::new(1.0, palette.line)));
    let over =
        if part.free < 0 { format!(", {} too much planned", view.grams(part.free.unsigned_abs() as u32)) } else { String::new() };
    let words = format!("{}, {}{over}", part.name, view.portion(part.usable));
    let colour = if part.free < 0 { palette.stop } else { palette.soft };
    let mut galley = lay(ui, &words, Lettering::Small, colour, f32::INFINITY, 1);
    if galley.size().x > right - left && part.free >= 0 {
        // The shares above say the grams: the name is what must be read here.
        galley = lay(ui, &part.name, Lettering::Small, colour, (right - left).max(60.0), 1);
    }
    let rect = Rect::from_min_size(pos2(left, bottom + 2.0), Vec2::new(right - left, 18.0));
    super::ink::put_centre(ui.painter(), rect, galley);
}

/// While a meal is dragged over the block: it can be taken off here.
fn take_off_hint(ui: &Ui, view: &View<'_>, bench: &Bench, row: Rect) {
    let Some(carry) = &bench.carry else { return };
    if carry.held != Held::Drag || !bench.over_block || !matches!(carry.what, Carried::Serving { .. }) {
        return;
    }
    let palette = theme::palette(ui);
    ui.painter().rect_filled(row, f32::from(FIELD_CORNER), palette.card.gamma_multiply(0.88));
    edge(ui.painter(), row, f32::from(FIELD_CORNER), Edge::Dashed, Stroke::new(1.5, palette.ink));
    let words = spoken(&format!("Let go here to take {} off", carry.what.words(view)));
    super::ink::put_centre(ui.painter(), row, lay(ui, &words, Lettering::Strong, palette.ink, row.width(), 1));
}
