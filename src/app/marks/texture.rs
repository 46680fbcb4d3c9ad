//! Twelve line drawings for the twelve textures.

use egui::{Color32, Painter, Rect, Shape};

use super::pen::Pen;

/// How a dish bites, as a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TextureMark {
    /// A zigzag.
    Crisp,
    /// A zigzag with crumbs.
    Crunchy,
    /// Slanted bars.
    Charred,
    /// A rounded square.
    Tender,
    /// Lines set off from one another.
    Flaky,
    /// A loop.
    Chewy,
    /// Bubbles.
    Stewed,
    /// A swell.
    Creamy,
    /// A flat line.
    Smooth,
    /// A turned-out mould.
    Set,
    /// A scatter of crumbs.
    Crumbly,
    /// A double wave.
    Brothy,
}

impl TextureMark {
    /// Every texture.
    pub const ALL: [Self; 12] = [
        Self::Crisp,
        Self::Crunchy,
        Self::Charred,
        Self::Tender,
        Self::Flaky,
        Self::Chewy,
        Self::Stewed,
        Self::Creamy,
        Self::Smooth,
        Self::Set,
        Self::Crumbly,
        Self::Brothy,
    ];

    /// Its word, which stands beside it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Crisp => "crisp",
            Self::Crunchy => "crunchy",
            Self::Charred => "charred",
            Self::Tender => "tender",
            Self::Flaky => "flaky",
            Self::Chewy => "chewy",
            Self::Stewed => "stewed",
            Self::Creamy => "creamy",
            Self::Smooth => "smooth",
            Self::Set => "set",
            Self::Crumbly => "crumbly",
            Self::Brothy => "brothy",
        }
    }
}

/// Paints a texture's mark in the largest square in the middle of `rect`.
pub fn texture(painter: &Painter, rect: Rect, mark: TextureMark, colour: Color32) {
    painter.extend(texture_shapes(rect, mark, colour, painter.pixels_per_point()));
}

/// The shapes of a texture's mark; `pixels` is pixels per point.
pub fn texture_shapes(rect: Rect, mark: TextureMark, colour: Color32, pixels: f32) -> Vec<Shape> {
    let mut pen = Pen::new(rect, colour, pixels);
    match mark {
        TextureMark::Crisp => {
            pen.line(&[(2.5, 17.5), (7.25, 6.5), (12.0, 17.5), (16.75, 6.5), (21.5, 17.5)]);
        }
        TextureMark::Crunchy => {
            pen.line(&[(2.5, 20.0), (7.25, 11.0), (12.0, 20.0), (16.75, 11.0), (21.5, 20.0)])
                .dot(7.25, 5.0, 1.7)
                .dot(12.0, 9.5, 1.7)
                .dot(16.75, 5.0, 1.7);
        }
        TextureMark::Charred => {
            pen.weight(1.5)
                .line(&[(4.0, 19.5), (8.0, 4.5)])
                .line(&[(10.0, 19.5), (14.0, 4.5)])
                .line(&[(16.0, 19.5), (20.0, 4.5)]);
        }
        TextureMark::Tender => {
            pen.round_box((4.5, 4.5), (19.5, 19.5), 6.0);
        }
        TextureMark::Flaky => {
            pen.line(&[(2.5, 5.0), (14.5, 5.0)])
                .line(&[(7.0, 9.7), (21.5, 9.7)])
                .line(&[(2.5, 14.3), (16.0, 14.3)])
                .line(&[(8.5, 19.0), (21.5, 19.0)]);
        }
        TextureMark::Chewy => {
            pen.curve([(2.5, 19.5), (44.0, -1.5), (-20.0, -1.5), (21.5, 19.5)]);
        }
        TextureMark::Stewed => {
            pen.ring(7.5, 13.0, 4.5).ring(17.0, 8.0, 3.2).ring(16.5, 17.5, 2.8);
        }
        TextureMark::Creamy => {
            pen.curve([(2.5, 15.0), (6.0, 4.0), (10.0, 4.0), (12.0, 12.0)]).curve([
                (12.0, 12.0),
                (14.0, 20.0),
                (18.0, 20.0),
                (21.5, 9.0),
            ]);
        }
        TextureMark::Smooth => {
            pen.line(&[(2.5, 12.0), (21.5, 12.0)]);
        }
        TextureMark::Set => {
            pen.outline(&[(7.5, 6.0), (16.5, 6.0), (20.0, 18.5), (4.0, 18.5)]);
        }
        TextureMark::Crumbly => {
            pen.dot(5.0, 8.0, 2.0)
                .dot(11.5, 5.0, 1.5)
                .dot(18.5, 7.0, 2.2)
                .dot(9.5, 12.5, 2.2)
                .dot(15.5, 13.0, 1.6)
                .dot(4.5, 17.0, 1.5)
                .dot(11.5, 19.5, 1.8)
                .dot(19.0, 18.0, 2.2);
        }
        TextureMark::Brothy => {
            for y in [8.5, 15.5] {
                pen.curve([(2.5, y), (5.0, y - 5.0), (9.5, y - 5.0), (12.0, y)]).curve([
                    (12.0, y),
                    (14.5, y + 5.0),
                    (19.0, y + 5.0),
                    (21.5, y),
                ]);
            }
        }
    }
    pen.finish()
}
