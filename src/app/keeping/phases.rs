//! A clock as a bar: solid while it eats well, hatched while it is only safe, a heavy end where it must be eaten; within it how
//! much there is. The same on the bench and on the page of keeping.

use crate::{
    app::theme::Palette,
    judge::{BarOf, ClockBar, Edge, KeptAs},
    quantity::{DayNo, Portion},
    rotation::Rotation,
};
use egui::{Color32, Painter, Rect, Stroke, StrokeKind, pos2};

/// Room between the strokes of the hatching.
const HATCH: f32 = 7.0;
/// Most of the bar's height that what there is may take.
const FILL: f32 = 6.0;
/// The least width of a bar: what is eaten as it is made is still there to see.
const BAR_LEAST: f32 = 10.0;
/// The corner of a bar.
const CORNER: f32 = 5.0;

/// Where a bar is drawn: the days laid out from left to right.
#[derive(Clone, Copy)]
pub struct Days {
    /// The point of the midnight with which `first` begins.
    pub left: f32,
    /// Points from one midnight to the next.
    pub step: f32,
    /// The first day drawn.
    pub first: DayNo,
}

impl Days {
    /// The point of a moment counted in days, as [`Edge::begins`] gives it.
    pub fn x(&self, at: f64) -> f32 {
        self.left + (at - f64::from(self.first.0)) as f32 * self.step
    }

    /// The moment of a point.
    pub fn at(&self, x: f32) -> f64 {
        f64::from((x - self.left) / self.step) + f64::from(self.first.0)
    }
}

/// What colours a bar.
#[derive(Clone, Copy)]
pub struct Inks<'a> {
    /// The palette.
    pub palette: &'a Palette,
    /// The colour of the piece.
    pub piece: Color32,
}

impl Inks<'_> {
    fn ground(&self, state: KeptAs) -> Color32 {
        match state {
            KeptAs::Raw | KeptAs::RawCut => self.palette.piece_tint(self.piece),
            _ => self.palette.sunk,
        }
    }

    fn line(&self, state: KeptAs) -> Color32 {
        match state {
            KeptAs::Raw | KeptAs::RawCut => self.palette.piece_edge(self.piece),
            _ => self.palette.line,
        }
    }
}

/// Whether what there is stands along the foot of a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Inside {
    /// How much there is, and nothing after the last of it.
    Amounts,
    /// The clock alone.
    Nothing,
}

/// Paints one bar within `row` (its left and right are the ends of what is shown).
pub fn paint(painter: &Painter, row: Rect, days: &Days, bar: &ClockBar, inks: Inks<'_>, inside: Inside) {
    let clip = painter.with_clip_rect(row.intersect(painter.clip_rect()));
    let x = |at: f64| days.x(at).clamp(row.left() - 20.0, row.right() + 20.0);
    let (from, safe) = (x(bar.from.begins()), x(bar.safe.ends()));
    let (palette, line) = (inks.palette, inks.line(bar.state));
    // After the last of it only a thread says how long it would have kept.
    let gone = bar.gone().filter(|_| inside == Inside::Amounts).map(|edge| x(edge.ends()));
    let end = gone.map_or(safe, |gone| gone.min(safe)).max(from + BAR_LEAST);
    if end < safe {
        clip.line_segment([pos2(end, row.center().y), pos2(safe, row.center().y)], Stroke::new(1.0, palette.line));
    }
    let rect = Rect::from_x_y_ranges(from..=end, row.y_range());
    let nice = x(bar.nice.ends()).clamp(from, end);
    clip.rect_filled(rect, CORNER, palette.card);
    clip.rect_filled(Rect::from_x_y_ranges(from..=nice, row.y_range()), CORNER, inks.ground(bar.state));
    if end > nice + 1.0 {
        hatch(&clip, Rect::from_x_y_ranges(nice..=end, row.y_range()).shrink(1.0), line.gamma_multiply(0.55));
    }
    if inside == Inside::Amounts {
        amounts(&clip, rect, &x, bar, line);
    }
    if let Some((into, out)) = bar.frozen {
        let cold = Rect::from_x_y_ranges(x(f64::from(into.0) + 0.5)..=x(f64::from(out.0) + 0.5), row.y_range()).intersect(rect);
        clip.rect_filled(cold.shrink(1.0), 2.0, palette.card.gamma_multiply(0.8));
        dotted(&clip, cold, palette.note);
    }
    clip.rect_stroke(rect, CORNER, Stroke::new(palette.edge_width(), line), StrokeKind::Inside);
    // Where it was over before this was made, it says nothing here: the findings do.
    if let Some(tender) = bar.tender.filter(|t| t.ends() > bar.from.begins()) {
        dashed(&clip, x(tender.ends()), row.y_range(), palette.caution);
    }
    // The heavy end: eaten by here.
    if safe < row.right() + 10.0 {
        let colour = if end < safe { palette.soft } else { palette.ink };
        clip.line_segment([pos2(safe - 1.5, rect.top()), pos2(safe - 1.5, rect.bottom())], Stroke::new(3.0, colour));
    }
}

/// A sample of the hatching with its edge.
pub fn hatched(painter: &Painter, rect: Rect, colour: Color32) {
    hatch(painter, rect.shrink(1.0), colour);
    painter.rect_stroke(rect, 3.0, Stroke::new(1.0, colour), StrokeKind::Inside);
}

/// A sample of what lies frozen.
pub fn dotted(painter: &Painter, rect: Rect, colour: Color32) {
    for at in dots(rect) {
        painter.circle_filled(at, 1.2, colour);
    }
}

/// An upright line of dashes.
pub fn dashed(painter: &Painter, x: f32, y: egui::Rangef, colour: Color32) {
    let mut top = y.min + 2.0;
    while top < y.max - 2.0 {
        painter.line_segment([pos2(x, top), pos2(x, (top + 3.0).min(y.max - 2.0))], Stroke::new(2.0, colour));
        top += 5.0;
    }
}

fn hatch(painter: &Painter, rect: Rect, colour: Color32) {
    let painter = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    let mut x = rect.left() - rect.height();
    while x < rect.right() {
        painter.line_segment([pos2(x, rect.bottom()), pos2(x + rect.height(), rect.top())], Stroke::new(1.0, colour));
        x += HATCH;
    }
}

fn dots(rect: Rect) -> impl Iterator<Item = egui::Pos2> {
    let count = (rect.width() / 6.0).max(0.0) as usize;
    (0..count).flat_map(move |i| {
        let x = rect.left() + 4.0 + 6.0 * i as f32;
        [pos2(x, rect.center().y - 4.0), pos2(x + 3.0, rect.center().y + 4.0)]
    })
}

/// A line along the foot, as high as its share of what there was.
fn amounts(painter: &Painter, rect: Rect, x: &impl Fn(f64) -> f32, bar: &ClockBar, colour: Color32) {
    let most = bar.steps.iter().map(|(_, left)| left.get()).max().unwrap_or(0);
    if most == 0 {
        return;
    }
    for (i, (edge, left)) in bar.steps.iter().enumerate() {
        let begins = x(if i == 0 { edge.begins() } else { edge.ends() }).max(rect.left());
        let ends = bar.steps.get(i + 1).map_or(rect.right(), |(next, _)| x(next.ends())).min(rect.right());
        if left.is_zero() || ends <= begins {
            continue;
        }
        let high = (FILL * left.get() as f32 / most as f32).max(1.5);
        let stripe = Rect::from_min_max(pos2(begins, rect.bottom() - high), pos2(ends, rect.bottom()));
        painter.rect_filled(stripe, 0.0, colour);
    }
}

/// How much there is at a moment; nothing for a pack, and before it begins.
pub fn held_at(bar: &ClockBar, at: f64) -> Option<Portion> {
    // What is taken at no known hour is there until that day is over.
    let taken = bar.steps.iter().skip(1).rev().find(|(edge, _)| edge.ends() <= at);
    taken.or_else(|| bar.steps.first().filter(|(edge, _)| edge.begins() <= at)).map(|(_, left)| *left)
}

/// "Wednesday", "Friday 12:00".
pub fn edge_words(rotation: &Rotation, edge: Edge) -> String {
    match edge.at {
        Some(at) => format!("{} {:02}:{:02}", rotation.day_name(edge.day), at.hour(), at.minute()),
        None => rotation.day_name(edge.day),
    }
}

/// The same for a column: "Wed", "Fri 12:00", with the day of the month where weekdays come round again.
pub fn short_words(rotation: &Rotation, edge: Edge) -> String {
    let day = short_day(rotation, edge.day);
    match edge.at {
        Some(at) => format!("{day} {:02}:{:02}", at.hour(), at.minute()),
        None => day,
    }
}

/// "Wed", or "Wed 9".
pub fn short_day(rotation: &Rotation, day: DayNo) -> String {
    let name = rotation.day_name(day);
    let rest = name.split_once(' ').map_or(String::new(), |(_, date)| format!(" {date}"));
    format!("{}{rest}", rotation.weekday(day).chars().take(3).collect::<String>())
}

/// In what state and in what it is kept: "raw, wrapped"; "opened carton".
pub fn kept_words(bar: &ClockBar) -> String {
    match (&bar.of, bar.state) {
        (BarOf::Pack(_), _) => bar.container.clone(),
        _ => format!("{}, {}", bar.state.word(), bar.container),
    }
}
