//! The window's own widgets.
//!
//! Each follows the same four steps: decide a size, ask for the room and the hand, say who it is
//! to a screen reader, paint. What the keyboard is on wears the same ring everywhere
//! ([`focus_ring`]).

use egui::{Response, Stroke, StrokeKind, Ui};

use super::theme;

mod button;
mod card;
mod chip;
mod edge;
mod field;
mod places;
mod stepper;

pub use button::{Button, IconButton};
pub use card::{Card, level_head, paint_card, sunk};
pub use chip::Chip;
pub use edge::{Edge, edge, path};
pub use field::Field;
pub use places::tell_places;
pub use stepper::Stepper;

/// Paints the ring of the keyboard around a widget that has it, just outside its edge.
pub fn focus_ring(ui: &Ui, response: &Response, corner: u8) {
    if response.has_focus() {
        let palette = theme::palette(ui);
        // A hair of paper between, so that the ring stands off a filled button too.
        ui.painter().rect_stroke(response.rect, f32::from(corner), Stroke::new(1.0, palette.paper), StrokeKind::Inside);
        ui.painter().rect_stroke(
            response.rect.expand(theme::RING),
            f32::from(corner) + theme::RING,
            Stroke::new(theme::RING, palette.focus),
            StrokeKind::Inside,
        );
    }
}
