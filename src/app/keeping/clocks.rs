//! Every clock of the plan under one another over its days: what is raw, what is cut, what is cooked, what is opened.

use super::phases::{self, Days, Inks, Inside, edge_words, held_at, kept_words, short_day, short_words};
use crate::{
    app::{
        bench::{ink, kind_colour},
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::{View, spoken},
        widget::focus_ring,
    },
    judge::{BarOf, ClockBar, KeptAs},
    quantity::DayNo,
};
use egui::{Rect, Role, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2};
use jiff::civil::Time;

/// Room for what a row is about, and for when it ends.
const NAMES: f32 = 236.0;
const ENDS: f32 = 168.0;
/// The same in a narrow window.
const NARROW_NAMES: f32 = 176.0;
const NARROW_ENDS: f32 = 132.0;
/// Under this width the columns of words are narrower.
const NARROW: f32 = 1100.0;
/// Height of the names of the days, of a row, and of the bar in it.
const HEAD: f32 = 24.0;
const ROW: f32 = 46.0;
const BAR: f32 = 26.0;
/// Days after the window that are drawn at most: what keeps for a year needs no such long table.
const BEYOND: i16 = 3;
/// The narrowest that a day is drawn.
const LEAST_DAY: f32 = 44.0;

pub(super) fn ui(ui: &mut Ui, view: &View<'_>) {
    let r = view.rotation;
    if view.clocks.is_empty() {
        parts::plain(ui, "Nothing is opened yet. Say what the piece weighs on the sheet Piece, and its clocks begin here.");
        return;
    }
    legend(ui, view);
    let all = ui.available_width();
    let (names, ends) = if all < NARROW { (NARROW_NAMES, NARROW_ENDS) } else { (NAMES, ENDS) };
    let first = view.clocks.iter().map(|b| b.from.day).min().unwrap_or(DayNo::FIRST).min(DayNo::FIRST);
    let first = DayNo(first.0.max(1 - BEYOND));
    let last = view.clocks.iter().map(|b| b.safe.day).max().unwrap_or(r.last_day()).max(r.last_day());
    let last = DayNo(last.0.min(r.last_day().0 + BEYOND));
    let count = f32::from(last.0 - first.0 + 1);
    let step = ((all - names - ends - 24.0) / count).max(LEAST_DAY);
    egui::ScrollArea::horizontal().id_salt("clocks").auto_shrink([false, true]).show(ui, |ui| {
        let (head, _) = ui.allocate_exact_size(vec2(names + ends + 24.0 + step * count, HEAD), Sense::hover());
        let days = Days { left: head.left() + names, step, first };
        day_heads(ui, view, head, &days, last);
        let mut bars: Vec<&ClockBar> = view.clocks.iter().collect();
        bars.sort_by_key(|bar| HEADINGS.iter().position(|h| *h == heading(bar)));
        let mut group = None;
        for bar in bars {
            let own = heading(bar);
            if group != Some(own) {
                group = Some(own);
                let (place, _) = ui.allocate_exact_size(vec2(head.width(), 28.0), Sense::hover());
                let words = ink::lay(ui, own, Lettering::Head, theme::palette(ui).ink, place.width(), 1);
                ink::put(ui.painter(), pos2(place.left(), place.bottom() - words.size().y - 2.0), words);
            }
            row_ui(ui, view, bar, &days, last, ends);
        }
    });
    ui.add_space(STEP);
    parts::quiet(
        ui,
        "Days after the opening or the making, in a fridge at 5 °C or colder; the shortest life of what is in a dish counts, what \
         goes into it included. Guidance: local codes, labels and licensed advice prevail.",
    );
}

/// The headings in order.
const HEADINGS: [&str; 4] = ["The piece", "What is cut and made", "Put by", "Opened packs"];

/// Under which heading a bar stands.
fn heading(bar: &ClockBar) -> &'static str {
    match (&bar.of, bar.state) {
        (BarOf::Part(_), _) => HEADINGS[0],
        (_, KeptAs::Banked) => HEADINGS[2],
        (BarOf::Pack(_), _) => HEADINGS[3],
        _ => HEADINGS[1],
    }
}

fn legend(ui: &mut Ui, view: &View<'_>) {
    let palette = theme::palette(ui);
    let tender = view.clocks.iter().any(|b| b.tender.is_some());
    let frozen = view.clocks.iter().any(|b| b.frozen.is_some());
    let soft = |ui: &mut Ui, words: &str| {
        ui.label(Lettering::Small.text(words).color(palette.soft));
        ui.add_space(STEP);
    };
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 4.0);
        let swatch = |ui: &mut Ui| ui.allocate_exact_size(vec2(26.0, 14.0), Sense::hover()).0;
        let rect = swatch(ui);
        ui.painter().rect(rect, 3.0, palette.sunk, Stroke::new(1.0, palette.line), StrokeKind::Inside);
        soft(ui, "eats well");
        let rect = swatch(ui);
        phases::hatched(ui.painter(), rect, palette.line);
        soft(ui, "safe, no longer at its best");
        let rect = swatch(ui);
        ui.painter().line_segment([rect.center_top(), rect.center_bottom()], Stroke::new(3.0, palette.ink));
        soft(ui, "eaten by here");
        if tender {
            let rect = swatch(ui);
            phases::dashed(ui.painter(), rect.center().x, rect.y_range(), palette.caution);
            soft(ui, "sooner for the very young, the elderly, the pregnant and the unwell");
        }
        if frozen {
            let rect = swatch(ui);
            phases::dotted(ui.painter(), rect, palette.note);
            soft(ui, "in the freezer");
        }
    });
    ui.add_space(STEP);
}

fn day_heads(ui: &Ui, view: &View<'_>, head: Rect, days: &Days, last: DayNo) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    for day in (days.first.0..=last.0).map(DayNo) {
        let inside = DayNo::FIRST <= day && day <= r.last_day();
        let words = if days.step > 92.0 { r.day_name(day) } else { short_day(r, day) };
        let (lettering, colour) = if inside { (Lettering::SmallStrong, palette.ink) } else { (Lettering::Small, palette.soft) };
        let galley = ink::lay(ui, &words, lettering, colour, days.step - 8.0, 1);
        ink::put(ui.painter(), pos2(days.x(f64::from(day.0)) + 5.0, head.top() + 4.0), galley);
    }
}

/// The words of a row, whole: for a screen reader.
fn said(view: &View<'_>, bar: &ClockBar) -> String {
    let r = view.rotation;
    let mut words = format!("{}, {}: since {}", bar.what, kept_words(bar), edge_words(r, bar.from));
    if bar.nice != bar.safe && bar.nice.ends() > bar.from.begins() {
        words.push_str(&format!(", eats well to {}", edge_words(r, bar.nice)));
    }
    words.push_str(&format!(", safe to {}", edge_words(r, bar.safe)));
    if let Some(tender) = bar.tender {
        words.push_str(&format!(", for those to be careful of to {}", edge_words(r, tender)));
    }
    if let Some((into, out)) = bar.frozen {
        words.push_str(&format!(", in the freezer from {} to {}", r.day_name(into), r.day_name(out)));
    }
    if bar.reheated > 0 {
        words.push_str(", warmed up once before");
    }
    for (i, (edge, left)) in bar.steps.iter().enumerate() {
        let much = if left.is_zero() { "nothing left".to_string() } else { view.portion(*left) };
        let since = if i == 0 { String::new() } else { format!(" from {}", edge_words(r, *edge)) };
        words.push_str(&format!("{} {much}{since}", if i == 0 { ";" } else { "," }));
    }
    spoken(&words)
}

/// What holds at one moment, for the pointer.
fn at_words(view: &View<'_>, bar: &ClockBar, at: f64) -> String {
    let r = view.rotation;
    let day = DayNo(at.floor() as i16);
    let minutes = ((at - at.floor()) * 1_440.0) as i32 / 30 * 30;
    let clock = Time::new((minutes / 60) as i8, (minutes % 60) as i8, 0, 0).ok();
    let when = edge_words(r, crate::judge::Edge { day, at: clock });
    let frozen = bar.frozen.is_some_and(|(into, out)| into <= day && day < out);
    let phase = match () {
        () if at < bar.from.begins() => "not yet",
        () if frozen => "in the freezer",
        () if at > bar.safe.ends() => "no longer to be eaten",
        () if at > bar.nice.ends() => "safe, no longer at its best",
        () => "eats well",
    };
    let much = match held_at(bar, at) {
        Some(left) if left.is_zero() => "nothing left".to_string(),
        Some(left) => format!("{} {}", view.portion(left), kept_words(bar)),
        None => kept_words(bar),
    };
    format!("{when}: {much}; {phase}")
}

fn row_ui(ui: &mut Ui, view: &View<'_>, bar: &ClockBar, days: &Days, last: DayNo, ends: f32) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    let chart_right = days.x(f64::from(last.0) + 1.0);
    let (rect, response) = ui
        .allocate_exact_size(vec2(chart_right - days.left + (days.left - ui.cursor().left()) + ends + 24.0, ROW), Sense::click());
    let words = said(view, bar);
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &words));
    if !ui.is_rect_visible(rect) {
        return;
    }
    let painter = ui.painter();
    painter.hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(1.0, palette.hair));
    for day in days.first.0..=last.0 + 1 {
        let inside = (1..=r.last_day().0 + 1).contains(&day);
        let colour = if inside { palette.hair } else { palette.hair.gamma_multiply(0.5) };
        painter.vline(days.x(f64::from(day)), rect.y_range(), Stroke::new(1.0, colour));
    }
    let width = days.left - rect.left() - 16.0;
    let name = ink::lay(ui, &bar.what, Lettering::Strong, palette.ink, width, 1);
    let at = ink::put(painter, rect.min + vec2(0.0, 4.0), name);
    ink::put(painter, at, ink::lay(ui, &kept_words(bar), Lettering::Small, palette.soft, width, 1));

    let chart = Rect::from_min_max(pos2(days.left, rect.center().y - BAR / 2.0), pos2(chart_right, rect.center().y + BAR / 2.0));
    let inks = Inks { palette, piece: kind_colour(view) };
    phases::paint(painter, chart, days, bar, inks, Inside::Amounts);
    grams(ui, view, bar, days, chart);

    let column = pos2(chart_right + 14.0, rect.top() + 4.0);
    let safe = format!("safe to {}", short_words(r, bar.safe));
    let at = ink::put(painter, column, ink::lay(ui, &safe, Lettering::SmallStrong, palette.ink, ends, 1));
    // What is used up while it eats well needs no word of that.
    let second = match bar.gone() {
        Some(gone) if gone.begins() <= bar.nice.ends() => Some(format!("used up {}", short_words(r, gone))),
        _ if bar.nice.ends() < bar.safe.ends() && bar.nice.ends() > bar.from.begins() => {
            Some(format!("eats well to {}", short_words(r, bar.nice)))
        }
        gone => gone.map(|gone| format!("used up {}", short_words(r, gone))),
    };
    if let Some(words) = second {
        ink::put(painter, at + vec2(0.0, 1.0), ink::lay(ui, &words, Lettering::Small, palette.soft, ends, 1));
    }
    focus_ring(ui, &response, 4);
    response.on_hover_ui_at_pointer(|ui| {
        let pointer = ui.ctx().pointer_latest_pos().map(|p| p.x).filter(|x| (chart.left()..=chart.right()).contains(x));
        let words = pointer.map_or_else(|| words.clone(), |x| spoken(&at_words(view, bar, days.at(x))));
        ui.label(words);
    });
}

/// How much there is, written where it changes and there is room.
fn grams(ui: &Ui, view: &View<'_>, bar: &ClockBar, days: &Days, chart: Rect) {
    let palette = theme::palette(ui);
    let painter = ui.painter().with_clip_rect(chart.intersect(ui.clip_rect()));
    let end = days.x(bar.safe.ends()).min(chart.right());
    for (i, (edge, left)) in bar.steps.iter().enumerate() {
        let begins = days.x(if i == 0 { edge.begins() } else { edge.ends() }).max(chart.left()) + 6.0;
        let ends = bar.steps.get(i + 1).map_or(end, |(next, _)| days.x(next.ends())).min(end);
        if left.is_zero() {
            continue;
        }
        let galley = ink::lay(ui, &view.portion(*left), Lettering::Small, palette.ink, f32::INFINITY, 1);
        if galley.size().x + 6.0 > ends - begins {
            continue;
        }
        let place = Rect::from_min_size(pos2(begins - 2.0, chart.center().y - galley.size().y / 2.0 - 2.0), galley.size());
        // Under words the hatching would make them hard to read.
        painter.rect_filled(place.expand2(vec2(2.0, -1.0)), 3.0, palette.card.gamma_multiply(0.7));
        ink::put(&painter, place.min, galley);
    }
}
