//! The drawings on buttons, and the small signs on cards.

use egui::{Color32, Painter, Rect, Shape};

use super::pen::Pen;

/// What a button does or a small sign means, as a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Icon {
    /// Three lines: the menu.
    Menu,
    /// A cross: put away.
    Close,
    /// More of it, or a new one.
    Plus,
    /// Less of it.
    Minus,
    /// An arrow turning back.
    Undo,
    /// An arrow turning forward.
    Redo,
    /// A looking glass.
    Search,
    /// Six dots: take hold here.
    Grip,
    /// A padlock: stays where it is.
    Lock,
    /// A lunch box.
    Box,
    /// A jar: the bank.
    Jar,
    /// A pan with steam over it: a component kept for later.
    Pan,
    /// A clock.
    Clock,
    /// Head and shoulders.
    Person,
    /// To the left.
    ArrowLeft,
    /// To the right.
    ArrowRight,
    /// A pencil: change the words.
    Pencil,
    /// A bin: take away.
    Bin,
    /// A tick.
    Tick,
    /// Folds open.
    ChevronDown,
    /// Folds shut.
    ChevronUp,
    /// Three dots: what else can be done.
    More,
}

impl Icon {
    /// Every icon.
    pub const ALL: [Self; 22] = [
        Self::Menu,
        Self::Close,
        Self::Plus,
        Self::Minus,
        Self::Undo,
        Self::Redo,
        Self::Search,
        Self::Grip,
        Self::Lock,
        Self::Box,
        Self::Jar,
        Self::Pan,
        Self::Clock,
        Self::Person,
        Self::ArrowLeft,
        Self::ArrowRight,
        Self::Pencil,
        Self::Bin,
        Self::Tick,
        Self::ChevronDown,
        Self::ChevronUp,
        Self::More,
    ];
}

/// Paints an icon in the largest square in the middle of `rect`.
pub fn icon(painter: &Painter, rect: Rect, icon: Icon, colour: Color32) {
    painter.extend(icon_shapes(rect, icon, colour, painter.pixels_per_point()));
}

/// The shapes of an icon; `pixels` is pixels per point.
pub fn icon_shapes(rect: Rect, icon: Icon, colour: Color32, pixels: f32) -> Vec<Shape> {
    let mut pen = Pen::new(rect, colour, pixels);
    match icon {
        Icon::Menu => {
            for y in [6.0, 12.0, 18.0] {
                pen.line(&[(3.5, y), (20.5, y)]);
            }
        }
        Icon::Close => {
            pen.line(&[(5.5, 5.5), (18.5, 18.5)]).line(&[(18.5, 5.5), (5.5, 18.5)]);
        }
        Icon::Plus => {
            pen.line(&[(12.0, 4.5), (12.0, 19.5)]).line(&[(4.5, 12.0), (19.5, 12.0)]);
        }
        Icon::Minus => {
            pen.line(&[(4.5, 12.0), (19.5, 12.0)]);
        }
        Icon::Undo => {
            pen.line(&[(8.5, 4.0), (4.0, 8.5), (8.5, 13.0)])
                .line(&[(4.0, 8.5), (14.5, 8.5)])
                .arc((14.5, 14.0), 5.5, -0.25, 0.25)
                .line(&[(14.5, 19.5), (9.0, 19.5)]);
        }
        Icon::Redo => {
            pen.line(&[(15.5, 4.0), (20.0, 8.5), (15.5, 13.0)])
                .line(&[(20.0, 8.5), (9.5, 8.5)])
                .arc((9.5, 14.0), 5.5, 0.25, 0.75)
                .line(&[(9.5, 19.5), (15.0, 19.5)]);
        }
        Icon::Search => {
            pen.ring(10.5, 10.5, 6.5).line(&[(15.5, 15.5), (20.5, 20.5)]);
        }
        Icon::Grip => {
            for x in [9.0, 15.0] {
                for y in [5.5, 12.0, 18.5] {
                    pen.dot(x, y, 1.6);
                }
            }
        }
        Icon::Lock => {
            pen.round_box((5.0, 10.5), (19.0, 21.0), 2.5)
                .arc((12.0, 7.5), 4.0, 0.5, 1.0)
                .line(&[(8.0, 7.5), (8.0, 10.5)])
                .line(&[(16.0, 7.5), (16.0, 10.5)]);
        }
        Icon::Box => {
            pen.round_box((2.0, 5.0), (22.0, 10.5), 2.0)
                .line(&[(4.0, 10.5), (4.0, 17.0)])
                .line(&[(20.0, 10.5), (20.0, 17.0)])
                .arc((7.0, 17.0), 3.0, 0.25, 0.5)
                .arc((17.0, 17.0), 3.0, 0.0, 0.25)
                .line(&[(7.0, 20.0), (17.0, 20.0)])
                .line(&[(9.5, 14.0), (14.5, 14.0)]);
        }
        Icon::Jar => {
            pen.round_box((6.0, 2.5), (18.0, 6.5), 1.5).round_box((4.5, 6.5), (19.5, 21.5), 4.0);
            pen.line(&[(4.5, 12.0), (19.5, 12.0)]);
        }
        Icon::Pan => {
            pen.line(&[(1.5, 10.5), (22.5, 10.5)])
                .line(&[(2.5, 10.5), (2.5, 17.0)])
                .line(&[(14.0, 10.5), (14.0, 17.0)])
                .arc((5.0, 17.0), 2.5, 0.25, 0.5)
                .arc((11.5, 17.0), 2.5, 0.0, 0.25)
                .line(&[(5.0, 19.5), (11.5, 19.5)])
                .line(&[(5.5, 3.5), (5.5, 7.0)])
                .line(&[(11.0, 3.5), (11.0, 7.0)]);
        }
        Icon::Clock => {
            pen.ring(12.0, 12.0, 9.5).line(&[(12.0, 6.5), (12.0, 12.0), (16.0, 14.5)]);
        }
        Icon::Person => {
            pen.ring(12.0, 7.5, 4.2).curve([(3.5, 21.0), (4.0, 12.8), (20.0, 12.8), (20.5, 21.0)]);
        }
        Icon::ArrowLeft => {
            pen.line(&[(4.0, 12.0), (20.0, 12.0)]).line(&[(10.5, 5.5), (4.0, 12.0), (10.5, 18.5)]);
        }
        Icon::ArrowRight => {
            pen.line(&[(4.0, 12.0), (20.0, 12.0)]).line(&[(13.5, 5.5), (20.0, 12.0), (13.5, 18.5)]);
        }
        Icon::Pencil => {
            pen.outline(&[(4.0, 20.0), (5.0, 15.5), (16.5, 4.0), (20.0, 7.5), (8.5, 19.0)]).line(&[(13.5, 7.0), (17.0, 10.5)]);
        }
        Icon::Bin => {
            pen.line(&[(3.5, 6.5), (20.5, 6.5)])
                .line(&[(9.0, 6.5), (9.5, 3.0), (14.5, 3.0), (15.0, 6.5)])
                .line(&[(5.5, 6.5), (6.8, 21.0), (17.2, 21.0), (18.5, 6.5)])
                .line(&[(10.0, 10.5), (10.0, 17.0)])
                .line(&[(14.0, 10.5), (14.0, 17.0)]);
        }
        Icon::Tick => {
            pen.line(&[(4.5, 12.5), (9.5, 17.5), (19.5, 6.5)]);
        }
        Icon::ChevronDown => {
            pen.line(&[(5.5, 9.0), (12.0, 15.5), (18.5, 9.0)]);
        }
        Icon::ChevronUp => {
            pen.line(&[(5.5, 15.0), (12.0, 8.5), (18.5, 15.0)]);
        }
        Icon::More => {
            pen.dot(5.0, 12.0, 1.8).dot(12.0, 12.0, 1.8).dot(19.0, 12.0, 1.8);
        }
    }
    pen.finish()
}
