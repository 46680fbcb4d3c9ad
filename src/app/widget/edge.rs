//! Edges that tell levels apart without colour: thin, heavy, dashed, double.

use egui::{Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, pos2, vec2};

use crate::app::marks::Level;

/// Length of a dash, in points.
const DASH: f32 = 6.0;
/// Room between dashes, in points.
const GAP: f32 = 4.0;

/// How an edge or a connecting line is drawn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Edge {
    /// No edge.
    None,
    /// One line of the width given.
    #[default]
    Thin,
    /// One line, twice as heavy.
    Thick,
    /// Dashes, half as heavy again.
    Dashed,
    /// Two lines with air between.
    Double,
}

impl Edge {
    /// The edge that belongs to a level: double, heavy, dashed, thin for finding levels worst
    /// first, and thin for what is fine, whose pill and tick set it apart.
    pub const fn of(level: Level) -> Self {
        match level {
            Level::Stop => Self::Double,
            Level::Warn => Self::Thick,
            Level::Caution => Self::Dashed,
            Level::Note | Level::Fine => Self::Thin,
        }
    }
}

/// Paints an edge just inside `rect`, with rounded corners.
///
/// `line` is the width and colour of a thin edge; heavier ones are made from it.
pub fn edge(painter: &Painter, rect: Rect, corner: f32, edge: Edge, line: Stroke) {
    if !painter.clip_rect().intersects(rect) {
        return;
    }
    let whole = |rect: Rect, corner: f32, width: f32| {
        painter.rect_stroke(rect, corner, Stroke::new(width, line.color), StrokeKind::Inside);
    };
    match edge {
        Edge::None => {}
        Edge::Thin => whole(rect, corner, line.width),
        Edge::Thick => whole(rect, corner, line.width * 2.0),
        Edge::Double => {
            let inset = line.width * 3.0;
            whole(rect, corner, line.width);
            whole(rect.shrink(inset), (corner - inset).max(0.0), line.width);
        }
        Edge::Dashed => {
            let stroke = Stroke::new(line.width * 1.5, line.color);
            let around = outline(rect.shrink(stroke.width / 2.0), corner);
            painter.extend(dashes(&around, stroke, true));
        }
    }
}

/// Paints a line through points in the manner of an edge: brackets and links between meals.
pub fn path(painter: &Painter, points: &[Pos2], edge: Edge, line: Stroke) {
    let plain = |points: Vec<Pos2>, width: f32| {
        painter.add(Shape::line(points, Stroke::new(width, line.color)));
    };
    match edge {
        Edge::None => {}
        Edge::Thin => plain(points.to_vec(), line.width),
        Edge::Thick => plain(points.to_vec(), line.width * 2.0),
        Edge::Double => {
            for side in [-1.25, 1.25] {
                plain(beside(points, side * line.width), line.width);
            }
        }
        Edge::Dashed => {
            let stroke = Stroke::new(line.width * 1.5, line.color);
            painter.extend(dashes(points, stroke, false));
        }
    }
}

/// The outline of a rounded rectangle, closed on itself, beginning at the middle of the top.
fn outline(rect: Rect, corner: f32) -> Vec<Pos2> {
    let radius = corner.min(rect.width() / 2.0).min(rect.height() / 2.0);
    let quarter = 8;
    let start = pos2(rect.center().x, rect.top());
    let mut points = vec![start];
    for (x, y, from) in [
        (rect.right() - radius, rect.top() + radius, 0.75),
        (rect.right() - radius, rect.bottom() - radius, 0.0),
        (rect.left() + radius, rect.bottom() - radius, 0.25),
        (rect.left() + radius, rect.top() + radius, 0.5),
    ] {
        for step in 0..=quarter {
            let turn = from + 0.25 * step as f32 / quarter as f32;
            points.push(pos2(x, y) + radius * Vec2::angled(turn * std::f32::consts::TAU));
        }
    }
    points.push(start);
    points
}

/// Cuts a line into dashes that bend with it, stretched a little so that they come out even.
fn dashes(points: &[Pos2], stroke: Stroke, closed: bool) -> Vec<Shape> {
    let whole: f32 = points.windows(2).map(|ends| ends[0].distance(ends[1])).sum();
    if whole <= DASH {
        return vec![Shape::line(points.to_vec(), stroke)];
    }
    // A closed line holds as many gaps as dashes, an open one begins and ends with a dash.
    let spare = if closed { 0.0 } else { GAP };
    let count = ((whole + spare) / (DASH + GAP)).round().max(1.0);
    let stretch = (whole + spare) / (count * (DASH + GAP));
    let (dash, period) = (DASH * stretch, (DASH + GAP) * stretch);
    (0..count as usize)
        .map(|index| {
            let from = index as f32 * period;
            Shape::line(between(points, from, from + dash), stroke)
        })
        .collect()
}

/// The stretch of a line between two lengths along it.
fn between(points: &[Pos2], from: f32, to: f32) -> Vec<Pos2> {
    let mut along = 0.0;
    let mut stretch = Vec::new();
    for ends in points.windows(2) {
        let (a, b) = (ends[0], ends[1]);
        let length = a.distance(b);
        if length > 0.0 && along + length > from && along < to {
            if stretch.is_empty() {
                stretch.push(a.lerp(b, ((from - along) / length).max(0.0)));
            }
            stretch.push(a.lerp(b, ((to - along) / length).min(1.0)));
        }
        along += length;
    }
    stretch
}

/// The line that runs beside another at a distance, to its right as one walks it.
fn beside(points: &[Pos2], distance: f32) -> Vec<Pos2> {
    let normal = |a: Pos2, b: Pos2| {
        let along = (b - a).normalized();
        vec2(-along.y, along.x)
    };
    (0..points.len())
        .map(|index| {
            let before = (index > 0).then(|| normal(points[index - 1], points[index]));
            let after = (index + 1 < points.len()).then(|| normal(points[index], points[index + 1]));
            let shift = match (before, after) {
                (Some(one), Some(other)) => {
                    // Mitre: both parallel lines meet at the corner.
                    let sum = one + other;
                    let square = sum.length_sq();
                    if square > 0.1 { sum * (2.0 / square) } else { one }
                }
                (Some(one), None) | (None, Some(one)) => one,
                (None, None) => Vec2::ZERO,
            };
            points[index] + shift * distance
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dashes_of_a_closed_line_come_out_even_and_cover_their_share() {
        let around = outline(Rect::from_min_size(Pos2::ZERO, vec2(203.0, 97.0)), 12.0);
        let whole: f32 = around.windows(2).map(|e| e[0].distance(e[1])).sum();
        let drawn: Vec<f32> = dashes(&around, Stroke::new(1.0, egui::Color32::BLACK), true)
            .into_iter()
            .map(|shape| match shape {
                Shape::Path(path) => path.points.windows(2).map(|e| e[0].distance(e[1])).sum(),
                other => panic!("a dash is a line, not {other:?}"),
            })
            .collect();
        let total: f32 = drawn.iter().sum();
        assert!((total / whole - DASH / (DASH + GAP)).abs() < 0.01, "{total} of {whole}");
        for dash in &drawn {
            assert!((dash - drawn[0]).abs() < 0.05, "{dash} beside {}", drawn[0]);
        }
    }

    #[test]
    fn the_two_lines_of_a_double_path_keep_their_distance_round_a_corner() {
        let corner = [pos2(0.0, 0.0), pos2(0.0, 10.0), pos2(10.0, 10.0)];
        let left = beside(&corner, -2.0);
        let right = beside(&corner, 2.0);
        assert_eq!(left, [pos2(2.0, 0.0), pos2(2.0, 8.0), pos2(10.0, 8.0)]);
        assert_eq!(right, [pos2(-2.0, 0.0), pos2(-2.0, 12.0), pos2(10.0, 12.0)]);
    }
}
