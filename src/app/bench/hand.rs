//! The hand: picking up, carrying and putting down, alike by drag, by click and by key.

use super::Bench;
use crate::app::{
    action::Action,
    carry::{Carried, Carry, Held, Preview},
    theme::{self, FIELD_CORNER, Lettering},
    view::{View, spoken},
};
use crate::rotation::{Edit, Rotation, Slot};
use egui::{EventFilter, Id, Key, LayerId, Modifiers, Order, PointerButton, Response, Ui, vec2};

/// Arrows and Escape belong to the hand while it carries something.
const HOLDING: EventFilter = EventFilter { tab: false, horizontal_arrows: true, vertical_arrows: true, escape: true };

/// What a click on a source of things means.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum OnClick {
    /// It is picked up.
    PicksUp,
    /// It is only selected; the caller says how.
    Selects,
}

/// Lets a widget be picked up: by dragging it, by Enter or Space on it, and by a click where that is how it answers.
pub fn source(
    ui: &Ui,
    response: &Response,
    what: &Carried,
    start: Slot,
    on_click: OnClick,
    bench: &mut Bench,
    actions: &mut Vec<Action>,
) {
    if response.drag_started_by(PointerButton::Primary) || is_flung(ui, response, bench) {
        bench.carry = Some(Carry { what: what.clone(), held: Held::Drag, again: false });
        return;
    }
    let by_key = response.clicked() && !response.clicked_by(PointerButton::Primary);
    if by_key && bench.carry.is_none() {
        actions.push(Action::PickUp(what.clone()));
        actions.push(Action::HoldByKeys(start));
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, HOLDING));
    } else if response.clicked_by(PointerButton::Primary) && on_click == OnClick::PicksUp && bench.carry.is_none() {
        actions.push(Action::PickUp(what.clone()));
    }
}

/// Whether it was pressed and pulled away within one frame: a slow machine or a quick hand. What is dragged is then looked for
/// where the pointer has got to, and found to be nothing; it is known by where it was pressed.
fn is_flung(ui: &Ui, response: &Response, bench: &Bench) -> bool {
    // The edges of a share are pulled, not carried.
    const EDGE: f32 = 10.0;
    let (from, to) = ui.input(|i| {
        let pressed = i.pointer.primary_pressed() && i.pointer.primary_down();
        (i.pointer.press_origin().filter(|_| pressed), i.pointer.latest_pos())
    });
    let (Some(from), Some(to)) = (from, to) else { return false };
    let within = response.interact_rect.shrink2(vec2(EDGE, 0.0)).contains(from) && !response.rect.contains(to);
    within && bench.carry.is_none() && ui.ctx().dragged_id().is_none() && ui.ctx().layer_id_at(from) == Some(response.layer_id)
}

/// Keys while something is carried, and on a focused card or share. Before drawing, so that no widget takes them first.
pub fn keys(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    if ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::F6)) {
        // Straight to the calendar: it comes last by Tab.
        bench.keyboard_to_the_calendar(view.rotation);
    }
    let Some(carry) = bench.carry.clone() else { return };
    if let Some(focused) = ui.memory(|m| m.focused()) {
        ui.memory_mut(|m| m.set_focus_lock_filter(focused, HOLDING));
    }
    let pressed = |ui: &mut Ui, key: Key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    if pressed(ui, Key::Escape) {
        ui.ctx().stop_dragging();
        actions.push(Action::LetGo);
        return;
    }
    if carry.held == Held::Drag {
        return;
    }
    if pressed(ui, Key::Delete) || pressed(ui, Key::Backspace) {
        actions.push(Action::TakeOff);
        return;
    }
    let at = match carry.held {
        Held::Keys(at) => at,
        _ => bench
            .shelf_slot(view)
            .unwrap_or(Slot { day: crate::quantity::DayNo::FIRST, mealtime: crate::rotation::MealtimeId(1) }),
    };
    let mut to = at;
    for (key, days, rows) in [(Key::ArrowLeft, -1, 0), (Key::ArrowRight, 1, 0), (Key::ArrowUp, 0, -1), (Key::ArrowDown, 0, 1)] {
        if pressed(ui, key) {
            to = step(view.rotation, to, days, rows);
        }
    }
    if to != at {
        bench.carry = Some(Carry { held: Held::Keys(to), ..carry });
        bench.scroll_to = Some(to);
        actions.push(Action::Say(over_words(view, bench, to)));
        return;
    }
    if let Held::Keys(at) = carry.held {
        let again = ui.input_mut(|i| i.consume_key(Modifiers::COMMAND, Key::Enter));
        if again || pressed(ui, Key::Enter) || pressed(ui, Key::Space) {
            actions.push(Action::PutDown { slot: at, again: again || carry.again });
        }
    }
}

/// The cell next to `slot` in a direction; the same at the calendar's edge.
fn step(r: &Rotation, slot: Slot, days: i16, rows: isize) -> Slot {
    let place = r.mealtimes.iter().position(|m| m.id == slot.mealtime).unwrap_or(0);
    let row = place.saturating_add_signed(rows).min(r.mealtimes.len().saturating_sub(1));
    let day = (slot.day.0 + days).clamp(1, r.days as i16);
    Slot { day: crate::quantity::DayNo(day), mealtime: r.mealtimes.get(row).map_or(slot.mealtime, |m| m.id) }
}

/// What a drop at `slot` would come to, said for the keyboard.
fn over_words(view: &View<'_>, bench: &mut Bench, slot: Slot) -> String {
    let name = view.rotation.slot_name(slot);
    let Some(carry) = bench.carry.clone() else { return name };
    let mut budget = bench.previews.begin(view, &carry.what, carry.again, bench.chosen.as_ref());
    match bench.previews.at(&mut budget, view, slot, true) {
        Some(Preview::Refused(why)) => format!("{name}: no, {why}"),
        Some(Preview::Fits { fits, beside, feels, stop, .. }) => {
            let stop = stop.as_ref().map(|s| format!("; stop: {s}")).unwrap_or_default();
            format!("{name}: {fits}; {beside}; {feels}{stop}")
        }
        None => name,
    }
}

/// After drawing: the chip that follows the pointer, and the drop when it is let go.
pub fn pointer(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    let Some(carry) = bench.carry.clone() else { return };
    if matches!(carry.held, Held::Keys(_)) {
        return;
    }
    chip(ui, view, &carry, bench.under_pointer.map(|(_, cell)| cell));
    if carry.held != Held::Drag {
        return;
    }
    let (released, command) = ui.input(|i| (i.pointer.any_released() || !i.pointer.any_down(), i.modifiers.command));
    if !released {
        return;
    }
    let takes_off = bench.over_block && matches!(carry.what, Carried::Serving { .. });
    match bench.under_pointer {
        Some((slot, _)) => actions.push(Action::PutDown { slot, again: command || carry.again }),
        None if takes_off => actions.push(Action::TakeOff),
        None => actions.push(Action::LetGo),
    }
}

/// A small solid chip that follows the pointer, under the cell that it is over, so that it never covers that cell's words.
fn chip(ui: &Ui, view: &View<'_>, carry: &Carry, cell: Option<egui::Rect>) {
    let Some(at) = ui.input(|i| i.pointer.latest_pos()) else { return };
    ui.ctx().set_cursor_icon(egui::CursorIcon::Grabbing);
    let palette = theme::palette(ui);
    let (fill, ink) = palette.piece_solid(super::kind_colour(view));
    let painter = ui.ctx().layer_painter(LayerId::new(Order::Tooltip, Id::unique("in the hand")));
    let galley = super::ink::lay(ui, &carry.what.words(view), Lettering::SmallStrong, ink, 220.0, 1);
    let top = cell.map_or(at.y + 18.0, |cell| (cell.bottom() + 10.0).max(at.y + 18.0));
    let rect = egui::Rect::from_min_size(egui::pos2(at.x + 14.0, top), galley.size() + vec2(24.0, 14.0));
    let screen = ui.ctx().content_rect();
    let rect = rect.translate(vec2((screen.right() - 4.0 - rect.right()).min(0.0), 0.0));
    painter.rect_filled(rect, f32::from(FIELD_CORNER), fill);
    super::ink::put_centre(&painter, rect, galley);
}

/// Keys on a focused serving: Delete takes it off, + and - change its grams.
pub fn serving_keys(ui: &mut Ui, view: &View<'_>, slot: Slot, batch: crate::rotation::BatchId, actions: &mut Vec<Action>) {
    let Some(serving) = view.rotation.meal(slot).serving(batch) else { return };
    let grams = serving.portion.get();
    ui.input_mut(|i| {
        if i.consume_key(Modifiers::NONE, Key::Delete) || i.consume_key(Modifiers::NONE, Key::Backspace) {
            actions.push(Action::Edit(Edit::RemoveServing { slot, batch }));
        }
        let more = i.consume_key(Modifiers::NONE, Key::Plus)
            || i.consume_key(Modifiers::SHIFT, Key::Plus)
            || i.consume_key(Modifiers::NONE, Key::Equals);
        let less = i.consume_key(Modifiers::NONE, Key::Minus);
        if more || less {
            let to = if more { (grams / 10 + 1) * 10 } else { grams.saturating_sub(1) / 10 * 10 };
            actions.push(Action::Edit(Edit::SetServing { slot, batch, portion: serving.portion.with(to.max(1)) }));
        }
    });
}

/// A widget's name for a screen reader, set by its words.
pub fn named(ui: &Ui, response: &Response, role: egui::Role, words: &str) {
    response.widget_info(|| egui::WidgetInfo::labeled(role, ui.is_enabled(), spoken(words)));
}
