//! A table of a list whose rows tick off: the whole row is the target, since hands are wet.

use crate::{
    app::{
        action::Action,
        bench::ink,
        hearth::TickChange,
        theme::{self, Lettering, TARGET},
        view::{View, spoken},
        widget::focus_ring,
    },
    lists::SheetTable,
};
use egui::{Galley, Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};
use std::sync::Arc;

/// Room for the tick before a row.
const TICK: f32 = 32.0;
/// Room between columns.
const GAP: f32 = 16.0;
/// Room over and under the words of a row.
const ROOM: f32 = 6.0;

/// What a row is known by, so that a tick stays with its line while the list around it changes.
pub(super) fn key(title: &str, heading: &str, row: &[String]) -> String {
    format!("{title}|{heading}|{}", spoken(&row.join("|")))
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, title: &str, heading: &str, table: &SheetTable, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let table = &without_empty_columns(table);
    let right = &table.right[..];
    let widths = widths(ui, table, ui.available_width() - TICK);
    let lay = |ui: &Ui, words: &str, at: usize, lettering, colour| -> Arc<Galley> {
        ink::lay(ui, words, lettering, colour, widths[at], usize::MAX)
    };
    let head: Vec<Arc<Galley>> =
        table.head.iter().enumerate().map(|(i, w)| lay(ui, w, i, Lettering::Small, palette.soft)).collect();
    let high = head.iter().map(|g| g.size().y).fold(0.0, f32::max);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), high + 4.0), Sense::hover());
    paint_row(ui, rect, 0.0, &widths, right, head);
    for row in &table.rows {
        let key = key(title, heading, row);
        let done = view.hearth.is_ticked(view.rotation, &key);
        let colour = if done { palette.soft } else { palette.ink };
        let cells: Vec<Arc<Galley>> = row
            .iter()
            .enumerate()
            .take(widths.len())
            .map(|(i, w)| lay(ui, w, i, if i == 0 && !done { Lettering::Strong } else { Lettering::Body }, colour))
            .collect();
        let high = cells.iter().map(|g| g.size().y).fold(0.0, f32::max).max(TARGET - 2.0 * ROOM) + 2.0 * ROOM;
        let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), high), Sense::click());
        let said = spoken(&row.iter().filter(|c| !c.is_empty()).cloned().collect::<Vec<_>>().join(", "));
        response.widget_info(|| WidgetInfo::selected(Role::CheckBox, true, done, &said));
        if response.hovered() {
            ui.painter().rect_filled(rect, 4.0, palette.sunk);
        }
        ui.painter().hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(1.0, palette.hair));
        tick(ui, pos2(rect.left() + 12.0, rect.top() + ROOM + 9.0), done);
        paint_row(ui, rect, ROOM, &widths, right, cells);
        focus_ring(ui, &response, 4);
        if response.clicked() {
            actions.push(Action::Tick(TickChange { key, done: !done, words: said }));
        }
    }
}

fn paint_row(ui: &Ui, rect: Rect, down: f32, widths: &[f32], right: &[usize], cells: Vec<Arc<Galley>>) {
    let mut x = rect.left() + TICK;
    for (i, cell) in cells.into_iter().enumerate() {
        let in_by = if right.contains(&i) { (widths[i] - cell.size().x).max(0.0) } else { 0.0 };
        ink::put(ui.painter(), pos2(x + in_by, rect.top() + down), cell);
        x += widths[i] + GAP;
    }
}

/// A box, with a tick in it once done.
pub(in crate::app) fn tick(ui: &Ui, centre: egui::Pos2, done: bool) {
    let palette = theme::palette(ui);
    let square = Rect::from_center_size(centre, vec2(16.0, 16.0));
    let colour = if done { palette.accent } else { palette.soft };
    ui.painter().rect_stroke(square, 3.0, Stroke::new(1.5, colour), egui::StrokeKind::Inside);
    if done {
        let at = |x: f32, y: f32| square.min + vec2(x, y);
        let stroke = Stroke::new(2.0, colour);
        ui.painter().line_segment([at(3.5, 8.5), at(6.8, 11.8)], stroke);
        ui.painter().line_segment([at(6.8, 11.8), at(12.5, 4.5)], stroke);
    }
}

/// The columns that say something in some row.
struct Said {
    head: Vec<String>,
    right: Vec<usize>,
    rows: Vec<Vec<String>>,
}

fn without_empty_columns(table: &SheetTable) -> Said {
    let says = |i: &usize| table.rows.iter().any(|r| r.get(*i).is_some_and(|c| !c.is_empty()));
    let kept: Vec<usize> = (0..table.head.len()).filter(says).collect();
    let pick = |cells: &[String]| kept.iter().filter_map(|i| cells.get(*i).cloned()).collect();
    let right = kept.iter().enumerate().filter(|(_, i)| table.right.contains(i)).map(|(at, _)| at).collect();
    Said { head: pick(&table.head), right, rows: table.rows.iter().map(|r| pick(r)).collect() }
}

/// Columns as wide as their words where all have room, else the widest give way in proportion.
fn widths(ui: &Ui, table: &Said, room: f32) -> Vec<f32> {
    let natural: Vec<f32> = (0..table.head.len())
        .map(|i| {
            let cells = table.rows.iter().filter_map(|r| r.get(i)).map(String::as_str);
            let wide =
                |words: &str| ink::lay(ui, words, Lettering::Strong, egui::Color32::PLACEHOLDER, f32::INFINITY, 1).size().x;
            cells.chain([table.head[i].as_str()]).map(wide).fold(24.0, f32::max).ceil() + 1.0
        })
        .collect();
    let room = room - GAP * natural.len().saturating_sub(1) as f32;
    let mut widths = natural.clone();
    // The largest share that a column may have, lowered until all fit.
    let mut most = room;
    while widths.iter().sum::<f32>() > room && most > 40.0 {
        most *= 0.96;
        widths = natural.iter().map(|w| w.min(most)).collect();
    }
    // What is over goes to the last column but the page is not stretched for its own sake.
    widths
}
