//! How warm the middle is over the hours, with the marks that it must be under.

use crate::{
    app::{
        bench::ink,
        marks::{self, Level},
        theme::{self, Lettering, Palette},
        view::spoken,
    },
    judge::{Cooling, cooling::Point},
};
use egui::{Rect, Role, Sense, Shape, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};

/// Room for the degrees at the left and the hours below.
const LEFT: f32 = 40.0;
const BELOW: f32 = 22.0;
/// Hours that are drawn at least.
const HOURS: f64 = 7.0;
/// Hours that are drawn at most.
const MOST_HOURS: f64 = 13.0;

/// Draws the curve of one cooking in a rectangle of this size.
pub(super) fn ui(ui: &mut Ui, cooling: &Cooling, wide: f32, high: f32) {
    let palette = theme::palette(ui);
    let (whole, response) = ui.allocate_exact_size(vec2(wide, high), Sense::hover());
    let said = spoken(&format!("Curve of {}: {}", cooling.what, cooling.chilled.verdict()));
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &said));
    if !ui.is_rect_visible(whole) {
        return;
    }
    let rect = Rect::from_min_max(whole.min + vec2(LEFT, 6.0), whole.max - vec2(8.0, BELOW));
    let chilled = &cooling.chilled;
    let hottest = chilled.curve.iter().map(|p| p.warmest_c).fold(60.0, f64::max);
    let coldest = chilled.curve.iter().map(|p| p.mean_c).fold(0.0, f64::min).max(-20.0);
    let slowest = chilled.stages.iter().filter_map(|s| s.took).fold(0.0, f64::max) / 60.0;
    let allowed = chilled.stages.iter().map(|s| s.stage.within).fold(0.0, f64::max) / 60.0;
    let begins = chilled.clock_starts / 60.0;
    let hours = (slowest.max(allowed) + begins + 0.6).clamp(HOURS, MOST_HOURS);
    let x = |minutes: f64| rect.left() + (minutes / 60.0 / hours) as f32 * rect.width();
    let y = |c: f64| rect.bottom() - ((c - coldest) / (hottest - coldest)) as f32 * rect.height();
    grid(ui, rect, &x, &y, hours, hottest);
    // What stands over a mark when its time is up is too warm: the ground says where that would be.
    let painter = ui.painter();
    for outcome in &chilled.stages {
        let stage = outcome.stage;
        let corner = pos2(x(chilled.clock_starts + stage.within), y(stage.to_c));
        let level = if outcome.passes() { Level::Fine } else { Level::Caution };
        let colour = level.colour(palette);
        let too_warm = Rect::from_min_max(pos2(corner.x, rect.top()), pos2(rect.right(), corner.y));
        painter.rect_filled(too_warm, 0.0, colour.gamma_multiply(0.09));
        painter.line_segment([corner, pos2(rect.right(), corner.y)], Stroke::new(1.0, colour.gamma_multiply(0.7)));
        painter.line_segment([pos2(corner.x, rect.top()), corner], Stroke::new(1.0, colour.gamma_multiply(0.7)));
    }
    let clip = painter.with_clip_rect(rect.expand(1.0).intersect(painter.clip_rect()));
    line(&clip, &chilled.curve, |p| pos2(x(p.minutes), y(p.mean_c)), Stroke::new(1.5, palette.soft.gamma_multiply(0.8)));
    line(&clip, &chilled.curve, |p| pos2(x(p.minutes), y(p.warmest_c)), Stroke::new(2.5, palette.ink));
    for outcome in &chilled.stages {
        stage_words(ui, rect, outcome, pos2(x(chilled.clock_starts + outcome.stage.within), y(outcome.stage.to_c)), palette);
    }
    painter.rect_stroke(rect, 4.0, Stroke::new(1.0, palette.line), StrokeKind::Outside);
    response.on_hover_ui_at_pointer(|ui| {
        let pointer = ui.ctx().pointer_latest_pos().map(|p| f64::from((p.x - rect.left()) / rect.width()) * hours * 60.0);
        if let Some(point) = pointer.and_then(|at| near(&chilled.curve, at)) {
            ui.label(format!(
                "{:.0}\u{a0}min off the heat: {:.0}\u{a0}°C in the middle, {:.0}\u{a0}°C stirred together",
                point.minutes, point.warmest_c, point.mean_c
            ));
        }
    });
}

fn near(curve: &[Point], minutes: f64) -> Option<Point> {
    let after = curve.iter().position(|p| p.minutes >= minutes)?;
    let (b, a) = (curve[after], curve[after.saturating_sub(1)]);
    let share = if b.minutes > a.minutes { (minutes - a.minutes) / (b.minutes - a.minutes) } else { 0.0 };
    let between = |from: f64, to: f64| from + share.clamp(0.0, 1.0) * (to - from);
    let minutes = minutes.max(0.0);
    Some(Point { minutes, warmest_c: between(a.warmest_c, b.warmest_c), mean_c: between(a.mean_c, b.mean_c) })
}

fn line(painter: &egui::Painter, curve: &[Point], at: impl Fn(&Point) -> egui::Pos2, stroke: Stroke) {
    painter.add(Shape::line(curve.iter().map(at).collect(), stroke));
}

fn grid(ui: &Ui, rect: Rect, x: &impl Fn(f64) -> f32, y: &impl Fn(f64) -> f32, hours: f64, hottest: f64) {
    let palette = theme::palette(ui);
    let painter = ui.painter();
    painter.rect_filled(rect, 4.0, palette.paper);
    let mut c = 0.0;
    while c <= hottest {
        painter.hline(rect.x_range(), y(c), Stroke::new(1.0, palette.hair));
        let words = ink::lay(ui, &format!("{c:.0}°"), Lettering::Small, palette.soft, LEFT, 1);
        ink::put(painter, pos2(rect.left() - words.size().x - 6.0, y(c) - words.size().y / 2.0), words);
        c += 20.0;
    }
    let every = if hours > 9.0 { 2 } else { 1 };
    for hour in (0..=hours.floor() as u32).step_by(every) {
        let at = x(60.0 * f64::from(hour));
        painter.vline(at, rect.y_range(), Stroke::new(1.0, palette.hair));
        let words = format!("{hour} h");
        let words = ink::lay(ui, &words, Lettering::Small, palette.soft, 100.0, 1);
        let left = (at - words.size().x / 2.0).clamp(rect.left(), rect.right() - words.size().x);
        ink::put(painter, pos2(left, rect.bottom() + 4.0), words);
    }
}

/// A mark of the rule: how cold by then, kept or missed.
fn stage_words(ui: &Ui, rect: Rect, outcome: &crate::judge::cooling::StageOutcome, corner: egui::Pos2, palette: &Palette) {
    let level = if outcome.passes() { Level::Fine } else { Level::Caution };
    let colour = level.colour(palette);
    let painter = ui.painter();
    let mark = Rect::from_center_size(corner, vec2(16.0, 16.0));
    painter.circle_filled(corner, 10.0, palette.card);
    marks::level(painter, mark, level, colour);
    let words = format!("{:.0} °C in {}", outcome.stage.to_c, hours_words(outcome.stage.within));
    let galley = ink::lay(ui, &words, Lettering::SmallStrong, colour, 200.0, 1);
    let size = galley.size();
    let left = if corner.x + 14.0 + size.x > rect.right() { corner.x - 14.0 - size.x } else { corner.x + 14.0 };
    let at = pos2(left, (corner.y - size.y - 4.0).max(rect.top()));
    painter.rect_filled(Rect::from_min_size(at, size).expand2(vec2(3.0, 0.0)), 3.0, palette.paper.gamma_multiply(0.85));
    ink::put(painter, at, galley);
}

fn hours_words(minutes: f64) -> String {
    let whole = minutes.round().max(0.0) as u32;
    match (whole / 60, whole % 60) {
        (0, m) => format!("{m} min"),
        (h, 0) => format!("{h} h"),
        (h, m) => format!("{h} h {m}"),
    }
}
