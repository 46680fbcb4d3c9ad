//! Words painted into rectangles that were already asked for: blocks, cards, cells.

use crate::app::theme::Lettering;
use egui::{Color32, Galley, Painter, Pos2, Rect, Ui, text::LayoutJob, text::TextFormat, vec2};
use std::sync::Arc;

/// Lays words out no wider than `width`, in at most `rows` rows; what does not fit ends in an ellipsis.
pub fn lay(ui: &Ui, words: &str, lettering: Lettering, colour: Color32, width: f32, rows: usize) -> Arc<Galley> {
    lay_after(ui, words, lettering, colour, width, rows, 0.0)
}

/// The same with the first line set in by `indent`, for a mark that stands before it.
pub fn lay_after(
    ui: &Ui,
    words: &str,
    lettering: Lettering,
    colour: Color32,
    width: f32,
    rows: usize,
    indent: f32,
) -> Arc<Galley> {
    let mut job = LayoutJob::default();
    job.append(words, indent, TextFormat::simple(lettering.font(), colour));
    job.wrap.max_width = width.max(1.0);
    job.wrap.max_rows = rows;
    // A single word that is too long is cut rather than spilled.
    job.wrap.break_anywhere = rows == 1;
    ui.painter().layout_job(job)
}

/// Paints one line or more at `at` and returns the point below it.
pub fn put(painter: &Painter, at: Pos2, galley: Arc<Galley>) -> Pos2 {
    let below = at + vec2(0.0, galley.size().y);
    painter.galley(at, galley, Color32::PLACEHOLDER);
    below
}

/// Paints words with their right end at the right of `rect`, level with its middle; returns their width.
pub fn put_right(painter: &Painter, rect: Rect, galley: Arc<Galley>) -> f32 {
    let size = galley.size();
    painter.galley(egui::pos2(rect.right() - size.x, rect.center().y - size.y / 2.0), galley, Color32::PLACEHOLDER);
    size.x
}

/// Paints words in the middle of `rect`.
pub fn put_centre(painter: &Painter, rect: Rect, galley: Arc<Galley>) {
    painter.galley(rect.center() - galley.size() / 2.0, galley, Color32::PLACEHOLDER);
}
