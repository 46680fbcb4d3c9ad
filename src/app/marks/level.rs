//! The marks of how grave a finding is.

use egui::{Color32, Painter, Rect, Shape};

use super::pen::Pen;
use crate::app::theme::Palette;

/// How grave a thing said on the screen is, worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Level {
    /// Unsafe, an allergy, or impossible: an octagon.
    Stop,
    /// Should be changed: a triangle.
    Warn,
    /// Worth a thought: a diamond.
    Caution,
    /// Good to know: a circle with an i.
    Note,
    /// All is well: a pill with a tick.
    Fine,
}

impl Level {
    /// Every level, worst first.
    pub const ALL: [Self; 5] = [Self::Stop, Self::Warn, Self::Caution, Self::Note, Self::Fine];

    /// The word that stands beside its mark.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stop => "Stop",
            Self::Warn => "Warning",
            Self::Caution => "Caution",
            Self::Note => "Note",
            Self::Fine => "Fine",
        }
    }

    /// Its colour, good for text and edges on every ground of the palette.
    pub const fn colour(self, palette: &Palette) -> Color32 {
        match self {
            Self::Stop => palette.stop,
            Self::Warn => palette.warn,
            Self::Caution => palette.caution,
            Self::Note => palette.note,
            Self::Fine => palette.fine,
        }
    }
}

/// Paints a level's mark in the largest square in the middle of `rect`.
pub fn level(painter: &Painter, rect: Rect, level: Level, colour: Color32) {
    painter.extend(level_shapes(rect, level, colour, painter.pixels_per_point()));
}

/// The shapes of a level's mark; `pixels` is pixels per point.
pub fn level_shapes(rect: Rect, level: Level, colour: Color32, pixels: f32) -> Vec<Shape> {
    let mut pen = Pen::new(rect, colour, pixels);
    match level {
        Level::Stop => {
            // A regular octagon, 20 across its flats, and a bar across it.
            let (near, far) = (2.0, 22.0);
            let cut = 20.0 / (2.0 + std::f32::consts::SQRT_2);
            pen.outline(&[
                (near + cut, near),
                (far - cut, near),
                (far, near + cut),
                (far, far - cut),
                (far - cut, far),
                (near + cut, far),
                (near, far - cut),
                (near, near + cut),
            ])
            .weight(1.4)
            .line(&[(7.5, 12.0), (16.5, 12.0)]);
        }
        Level::Warn => {
            pen.outline(&[(12.0, 2.5), (22.0, 20.5), (2.0, 20.5)]).line(&[(12.0, 9.0), (12.0, 14.0)]).dot(12.0, 17.3, 1.3);
        }
        Level::Caution => {
            pen.outline(&[(12.0, 1.5), (22.5, 12.0), (12.0, 22.5), (1.5, 12.0)]).dot(12.0, 12.0, 2.2);
        }
        Level::Note => {
            pen.ring(12.0, 12.0, 10.0).line(&[(12.0, 11.0), (12.0, 17.0)]).dot(12.0, 7.4, 1.3);
        }
        Level::Fine => {
            pen.round_box((1.5, 5.0), (22.5, 19.0), 7.0).line(&[(8.0, 12.2), (11.0, 15.0), (16.2, 9.2)]);
        }
    }
    pen.finish()
}
