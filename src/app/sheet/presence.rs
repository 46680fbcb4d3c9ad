//! Who sits down at which meal: a row for each eater, a column for each meal.

use super::parts;
use crate::{
    app::{
        action::Action,
        marks::{self, Icon},
        theme::{self, FIELD_CORNER, Lettering, mix},
        view::{View, spoken},
        widget::focus_ring,
    },
    rotation::{Eater, EaterId, Edit, Slot},
};
use egui::{Align2, Rect, Role, ScrollArea, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, pos2, vec2};

const ROW: f32 = 34.0;
const CELL: f32 = 30.0;
const HEAD: f32 = 44.0;

/// Draws the table.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    let slots: Vec<(Slot, Vec<EaterId>)> = r.slots().map(|slot| (slot, r.eaters_at(slot))).collect();
    let column = column_width(ui, view);
    parts::quiet(ui, "Ticked: sits down and is counted. A guest sits down only where ticked.");
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing = Vec2::ZERO;
        names_ui(ui, view);
        ScrollArea::horizontal().id_salt("presence").auto_shrink([false, true]).show(ui, |ui| {
            ui.vertical(|ui| {
                heads_ui(ui, view, column);
                for eater in &r.household.eaters {
                    ui.push_id(eater.id, |ui| {
                        ui.horizontal(|ui| {
                            for (slot, sitting) in &slots {
                                let here = sitting.contains(&eater.id);
                                if cell_ui(ui, view, eater, *slot, here, column) {
                                    let edit = Edit::SetPresent { slot: *slot, eater: eater.id, present: !here };
                                    actions.push(Action::Edit(edit));
                                }
                            }
                        });
                    });
                }
                let (rect, _) = ui.allocate_exact_size(vec2(column * slots.len() as f32, ROW), Sense::hover());
                for (place, (_, sitting)) in slots.iter().enumerate() {
                    let at = pos2(rect.left() + column * (place as f32 + 0.5), rect.center().y);
                    let units = r.household.units(sitting.iter().copied()).to_string();
                    ui.painter().text(at, Align2::CENTER_CENTER, units, Lettering::SmallStrong.font(), palette.ink);
                }
            });
        });
    });
}

/// As wide as the longest name of a mealtime, within reason.
fn column_width(ui: &Ui, view: &View<'_>) -> f32 {
    let widest = view.rotation.mealtimes.iter().map(|m| {
        let words = ui.painter().layout_no_wrap(m.name.clone(), Lettering::Small.font(), theme::palette(ui).soft);
        words.size().x
    });
    (widest.fold(0.0, f32::max) + 10.0).clamp(42.0, 96.0)
}

/// The names at the left, which stay while the meals scroll.
fn names_ui(ui: &mut Ui, view: &View<'_>) {
    const MOST: f32 = 120.0;
    let palette = theme::palette(ui);
    let eaters = &view.rotation.household.eaters;
    let names: Vec<_> = eaters
        .iter()
        .map(|e| {
            let mut job = egui::text::LayoutJob::simple_singleline(e.name.clone(), Lettering::Body.font(), palette.ink);
            job.wrap = egui::text::TextWrapping::truncate_at_width(MOST);
            ui.painter().layout_job(job)
        })
        .collect();
    let width = names.iter().map(|n| n.size().x).fold(60.0, f32::max) + 12.0;
    let height = HEAD + ROW * (eaters.len() + 1) as f32;
    let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    let middle = |row: usize| rect.top() + HEAD + ROW * (row as f32 + 0.5);
    for (row, name) in names.into_iter().enumerate() {
        let at = pos2(rect.left(), middle(row) - name.size().y / 2.0);
        ui.painter().galley(at, name, palette.ink);
    }
    let at = pos2(rect.left(), middle(eaters.len()));
    ui.painter().text(at, Align2::LEFT_CENTER, "portions", Lettering::Small.font(), palette.soft);
}

/// Days over mealtimes.
fn heads_ui(ui: &mut Ui, view: &View<'_>, column: f32) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    let across = r.mealtimes.len() as f32 * column;
    let (rect, _) = ui.allocate_exact_size(vec2(across * f32::from(r.days), HEAD), Sense::hover());
    for (index, day) in r.day_numbers().enumerate() {
        let left = rect.left() + across * index as f32;
        let words = format!("{} {}", &r.weekday(day)[..3], r.date(day).day());
        let (at, align) = (pos2(left + across / 2.0, rect.top() + 11.0), Align2::CENTER_CENTER);
        ui.painter().text(at, align, words, Lettering::SmallStrong.font(), palette.ink);
        for (place, mealtime) in r.mealtimes.iter().enumerate() {
            let middle = left + column * (place as f32 + 0.5);
            let mut job = egui::text::LayoutJob::simple_singleline(mealtime.name.clone(), Lettering::Small.font(), palette.soft);
            job.wrap = egui::text::TextWrapping::truncate_at_width(column - 6.0);
            let words = ui.painter().layout_job(job);
            ui.painter().galley(pos2(middle - words.size().x / 2.0, rect.top() + 22.0), words, palette.soft);
        }
        if index > 0 {
            let line = Stroke::new(palette.edge_width(), palette.hair);
            let down = ROW * (r.household.eaters.len() + 1) as f32;
            ui.painter().vline(left, rect.top() + 4.0..=rect.bottom() + down, line);
        }
    }
}

/// One box to tick; whether it was pressed.
fn cell_ui(ui: &mut Ui, view: &View<'_>, eater: &Eater, slot: Slot, here: bool, column: f32) -> bool {
    let palette = theme::palette(ui);
    let (room, _) = ui.allocate_exact_size(vec2(column, ROW), Sense::hover());
    let rect = Rect::from_center_size(room.center(), Vec2::splat(CELL));
    let id = ui.make_persistent_id((slot.day.0, slot.mealtime.0));
    let response = ui.interact(rect, id, Sense::click());
    let name = format!("{} at {}", eater.name, view.rotation.slot_name(slot));
    response.widget_info(|| WidgetInfo::selected(Role::CheckBox, ui.is_enabled(), here, spoken(&name)));
    if ui.is_rect_visible(rect) {
        let hovered = response.hovered();
        let ground = match (here, hovered) {
            (true, _) => palette.piece_tint(palette.accent),
            (false, true) => mix(palette.card, palette.sunk, 0.5),
            (false, false) => palette.card,
        };
        let colour = match (here, hovered) {
            (true, _) => palette.accent,
            (false, true) => palette.ink,
            (false, false) => palette.line,
        };
        let line = Stroke::new(palette.edge_width(), colour);
        ui.painter().rect(rect, f32::from(FIELD_CORNER), ground, line, StrokeKind::Inside);
        if here {
            marks::icon(ui.painter(), rect.shrink(7.0), Icon::Tick, palette.accent);
        }
        focus_ring(ui, &response, FIELD_CORNER);
    }
    response.on_hover_text(name).clicked()
}
