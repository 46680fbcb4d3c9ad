//! The table of eaters: a row for each meal, a column for everybody, and in each place what is on that plate.

use crate::{
    app::{
        bench::ink,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::{View, spoken},
    },
    judge::{Helping, Seat, table_of_eaters},
    rotation::Slot,
};
use egui::{Galley, Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};
use std::sync::Arc;

/// Room for the name of a meal.
const MEALS: f32 = 150.0;
/// The least and the most room for a plate.
const PLATE: (f32, f32) = (150.0, 300.0);
/// Room within a place.
const ROOM: f32 = 8.0;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>) {
    let r = view.rotation;
    let seats = table_of_eaters(r);
    if seats.is_empty() {
        parts::plain(ui, "No meal is planned yet. Plan some on the bench, and each plate stands here.");
        return;
    }
    let people: Vec<_> = r.household.eaters.iter().filter(|e| seats.iter().any(|s| s.eater == e.id)).collect();
    let mut slots: Vec<Slot> = seats.iter().map(|s| s.slot).collect();
    slots.dedup();
    let plate = ((ui.available_width() - MEALS - 12.0) / people.len().max(1) as f32).clamp(PLATE.0, PLATE.1);
    let palette = theme::palette(ui);
    egui::ScrollArea::horizontal().id_salt("plates").auto_shrink([false, true]).show(ui, |ui| {
        let wide = MEALS + plate * people.len() as f32;
        let (head, _) = ui.allocate_exact_size(vec2(wide, 26.0), Sense::hover());
        for (i, eater) in people.iter().enumerate() {
            let at = pos2(head.left() + MEALS + plate * i as f32 + ROOM, head.top() + 3.0);
            ink::put(ui.painter(), at, ink::lay(ui, &eater.name, Lettering::Head, palette.ink, plate - 2.0 * ROOM, 1));
        }
        for slot in slots {
            let row: Vec<Option<&Seat>> =
                people.iter().map(|e| seats.iter().find(|s| s.slot == slot && s.eater == e.id)).collect();
            row_ui(ui, view, slot, &row, plate, wide);
        }
    });
    ui.add_space(STEP);
    parts::quiet(
        ui,
        "Grams of the piece, as it is weighed for the dish. A twin that leaves the piece out is made first, with a pan and a spoon \
         of its own. An allergy is a matter for its label and for a doctor's advice, not for this table alone.",
    );
}

fn row_ui(ui: &mut Ui, view: &View<'_>, slot: Slot, row: &[Option<&Seat>], plate: f32, wide: f32) {
    let palette = theme::palette(ui);
    let inner = plate - 2.0 * ROOM;
    let places: Vec<Vec<Arc<Galley>>> = row.iter().map(|seat| lines(ui, view, *seat, inner)).collect();
    let tall = |lines: &Vec<Arc<Galley>>| lines.iter().map(|g| g.size().y + 1.0).sum::<f32>();
    let high = places.iter().map(tall).fold(20.0, f32::max) + 2.0 * ROOM;
    let (rect, _) = ui.allocate_exact_size(vec2(wide, high), Sense::hover());
    ui.painter().hline(rect.x_range(), rect.top(), Stroke::new(1.0, palette.hair));
    let name = ink::lay(ui, &view.rotation.slot_name(slot), Lettering::Strong, palette.ink, MEALS - ROOM, 2);
    ink::put(ui.painter(), rect.min + vec2(0.0, ROOM), name);
    for (i, (seat, lines)) in row.iter().zip(places).enumerate() {
        let left = rect.left() + MEALS + plate * i as f32;
        let place = Rect::from_min_max(pos2(left, rect.top()), pos2(left + plate, rect.bottom()));
        if let Some(seat) = seat {
            let response = ui.interact(place, ui.scope_id().with(("seat", slot.day.0, slot.mealtime.0, i)), Sense::hover());
            let words = spoken(&format!("{}, {}: {}", view.rotation.slot_name(slot), seat.name, seat_words(view, seat)));
            response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &words));
            if seat.helpings.iter().any(|h| !h.why.is_empty()) {
                ui.painter().rect_filled(place.shrink(2.0), 6.0, palette.sunk);
            }
        }
        let mut at = pos2(left + ROOM, rect.top() + ROOM);
        for line in lines {
            at = ink::put(ui.painter(), at, line) + vec2(0.0, 1.0);
        }
    }
}

/// How much of it: "180 g", "2 rolls, 100 g"; nothing where a twin leaves the piece out.
fn much(view: &View<'_>, helping: &Helping) -> String {
    let count = helping.count.filter(|(n, _)| *n > 0).map(|(n, unit)| {
        let s = if n == 1 || unit.ends_with('s') { "" } else { "s" };
        format!("{n} {unit}{s}")
    });
    let grams = (!helping.portion.is_zero()).then(|| view.portion(helping.portion));
    count.into_iter().chain(grams).collect::<Vec<_>>().join(", ")
}

fn seat_words(view: &View<'_>, seat: &Seat) -> String {
    let helping = |h: &Helping| {
        let why = if h.why.is_empty() { String::new() } else { format!(" ({})", h.why.join(", ")) };
        let much = much(view, h);
        let comma = if much.is_empty() { "" } else { ", " };
        format!("{}{comma}{much}{why}", h.words())
    };
    match seat.helpings.as_slice() {
        [] => seat.words(),
        helpings => helpings.iter().map(helping).collect::<Vec<_>>().join("; "),
    }
}

fn lines(ui: &Ui, view: &View<'_>, seat: Option<&Seat>, width: f32) -> Vec<Arc<Galley>> {
    let palette = theme::palette(ui);
    let small = |words: &str, rows| ink::lay(ui, words, Lettering::Small, palette.soft, width, rows);
    let Some(seat) = seat else { return Vec::new() };
    if seat.helpings.is_empty() {
        let words = if seat.sits { "nothing is meant for them" } else { "away" };
        return vec![small(words, 2)];
    }
    let mut lines = Vec::new();
    for helping in &seat.helpings {
        lines.push(ink::lay(ui, helping.name(), Lettering::Dish, palette.ink, width, 4));
        let much = much(view, helping);
        let boxed = if helping.boxed { "boxed" } else { "" };
        let second = [much.as_str(), boxed].into_iter().filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" · ");
        if !second.is_empty() {
            lines.push(ink::lay(ui, &second, Lettering::Body, palette.ink, width, 1));
        }
        if !helping.why.is_empty() {
            lines.push(small(&format!("because: {}", helping.why.join(", ")), 3));
        }
    }
    lines
}
