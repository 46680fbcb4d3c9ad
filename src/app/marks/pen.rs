//! A pen that draws on a grid of 24 by 24, whatever the size on the screen.

use egui::epaint::{CubicBezierShape, PathStroke};
use egui::{Color32, Pos2, Rect, Shape, Stroke, pos2};

/// Sides of the grid all marks are drawn on.
const GRID: f32 = 24.0;

/// Width of an ordinary line on the grid.
const LINE: f32 = 2.0;

/// Lines drawn on the grid, gathered as shapes of the screen.
///
/// Ends and corners are round. Upright and level lines are laid on whole pixels, so that they are
/// as sharp at 1.25 and 1.5 pixels a point as at 1 and 2.
pub(super) struct Pen {
    shapes: Vec<Shape>,
    corner: Pos2,
    scale: f32,
    width: f32,
    colour: Color32,
    pixels: f32,
}

impl Pen {
    /// A pen for the largest square in the middle of `rect`; `pixels` is pixels per point.
    pub(super) fn new(rect: Rect, colour: Color32, pixels: f32) -> Self {
        let side = rect.width().min(rect.height()).max(0.0);
        let corner = rect.center() - egui::Vec2::splat(side / 2.0);
        let snap = |v: f32| (v * pixels).round() / pixels;
        let mut pen = Self {
            shapes: Vec::new(),
            corner: pos2(snap(corner.x), snap(corner.y)),
            scale: side / GRID,
            width: 0.0,
            colour,
            pixels,
        };
        pen.weight(1.0);
        pen
    }

    /// Draws on with lines `times` the ordinary width.
    pub(super) fn weight(&mut self, times: f32) -> &mut Self {
        // Whole pixels, so that upright and level lines have sharp flanks; never none.
        let across = (LINE * times * self.scale * self.pixels).round().max(1.0);
        self.width = across / self.pixels;
        self
    }

    /// A line through points, with round ends and corners.
    pub(super) fn line(&mut self, points: &[(f32, f32)]) -> &mut Self {
        let points = self.place(points);
        self.stroke(points, false)
    }

    /// A closed line through points, with round corners.
    pub(super) fn outline(&mut self, points: &[(f32, f32)]) -> &mut Self {
        let points = self.place(points);
        self.stroke(points, true)
    }

    /// One cubic curve from the first to the last point, drawn toward the two between.
    pub(super) fn curve(&mut self, points: [(f32, f32); 4]) -> &mut Self {
        let [a, b, c, d] = points.map(|(x, y)| self.at(x, y));
        self.shapes.push(Shape::CubicBezier(CubicBezierShape {
            points: [a, b, c, d],
            closed: false,
            fill: Color32::TRANSPARENT,
            stroke: PathStroke::new(self.width, self.colour),
        }));
        self.round_off(a);
        self.round_off(d);
        self
    }

    /// A part of a circle, from one angle to another; in turns, 0 to the right, clockwise.
    pub(super) fn arc(&mut self, middle: (f32, f32), radius: f32, from: f32, to: f32) -> &mut Self {
        let steps = 24;
        let points: Vec<Pos2> = (0..=steps)
            .map(|step| {
                let turn = from + (to - from) * step as f32 / steps as f32;
                let (sin, cos) = (turn * std::f32::consts::TAU).sin_cos();
                self.at(middle.0 + radius * cos, middle.1 + radius * sin)
            })
            .collect();
        if let (Some(&first), Some(&last)) = (points.first(), points.last()) {
            self.round_off(first);
            self.round_off(last);
        }
        self.shapes.push(Shape::line(points, Stroke::new(self.width, self.colour)));
        self
    }

    /// A circle.
    pub(super) fn ring(&mut self, x: f32, y: f32, radius: f32) -> &mut Self {
        self.shapes.push(Shape::circle_stroke(self.at(x, y), radius * self.scale, Stroke::new(self.width, self.colour)));
        self
    }

    /// A filled dot.
    pub(super) fn dot(&mut self, x: f32, y: f32, radius: f32) -> &mut Self {
        self.shapes.push(Shape::circle_filled(
            self.at(x, y),
            // Under a pixel across a dot fades away.
            (radius * self.scale).max(0.75),
            self.colour,
        ));
        self
    }

    /// A rectangle with rounded corners, given by two opposite corners.
    pub(super) fn round_box(&mut self, from: (f32, f32), to: (f32, f32), radius: f32) -> &mut Self {
        let rect = Rect::from_two_pos(self.sharp(self.at(from.0, from.1)), self.sharp(self.at(to.0, to.1)));
        let radius = (radius * self.scale).min(rect.width().min(rect.height()) / 2.0);
        let mut points = Vec::new();
        let quarter = 6;
        for (x, y, start) in [
            (rect.right() - radius, rect.top() + radius, 0.75),
            (rect.right() - radius, rect.bottom() - radius, 0.0),
            (rect.left() + radius, rect.bottom() - radius, 0.25),
            (rect.left() + radius, rect.top() + radius, 0.5),
        ] {
            for step in 0..=quarter {
                let turn = start + 0.25 * step as f32 / quarter as f32;
                let (sin, cos) = (turn * std::f32::consts::TAU).sin_cos();
                points.push(pos2(x + radius * cos, y + radius * sin));
            }
        }
        self.shapes.push(Shape::closed_line(points, Stroke::new(self.width, self.colour)));
        self
    }

    /// What was drawn.
    pub(super) fn finish(self) -> Vec<Shape> {
        self.shapes
    }

    fn at(&self, x: f32, y: f32) -> Pos2 {
        self.corner + egui::vec2(x, y) * self.scale
    }

    fn place(&self, points: &[(f32, f32)]) -> Vec<Pos2> {
        let mut placed: Vec<Pos2> = points.iter().map(|&(x, y)| self.at(x, y)).collect();
        if let [a, b] = placed.as_mut_slice() {
            if a.x == b.x {
                let x = self.sharp(*a).x;
                (a.x, b.x) = (x, x);
            }
            if a.y == b.y {
                let y = self.sharp(*a).y;
                (a.y, b.y) = (y, y);
            }
        }
        placed
    }

    /// The nearest point a line of this width can run through with sharp flanks: a pixel's middle
    /// for an odd number of pixels, its edge for an even one.
    fn sharp(&self, point: Pos2) -> Pos2 {
        let across = (self.width * self.pixels).round() as i64;
        let shift = if across % 2 == 1 { 0.5 } else { 0.0 };
        let snap = |v: f32| ((v * self.pixels - shift).round() + shift) / self.pixels;
        pos2(snap(point.x), snap(point.y))
    }

    fn stroke(&mut self, points: Vec<Pos2>, closed: bool) -> &mut Self {
        for &point in &points {
            self.round_off(point);
        }
        let stroke = Stroke::new(self.width, self.colour);
        self.shapes.push(if closed { Shape::closed_line(points, stroke) } else { Shape::line(points, stroke) });
        self
    }

    fn round_off(&mut self, point: Pos2) {
        self.shapes.push(Shape::circle_filled(point, self.width / 2.0, self.colour));
    }
}
