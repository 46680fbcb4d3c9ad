//! A line of the sheet: its times, where, what, and what to beware of; while cooking, a tick and five minutes more.

use super::cooking::{Cooking, MORE};
use crate::{
    app::{
        bench::ink,
        lists::tick,
        marks::Level,
        sheet::parts,
        theme::{self, Lettering},
        view::{View, spoken},
        widget::{Button, focus_ring},
    },
    quantity::write_grams,
    runsheet::{Line, LineKind, Place, RunSheet, clock, place_words},
};
use egui::{Rect, Role, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

/// What was pressed on a line.
pub(super) enum Pressed {
    /// It is done, or not done after all.
    Done,
    /// It takes longer.
    Longer,
}

/// Room for times and place before the words.
const TIMES: f32 = 104.0;
const PLACE: f32 = 168.0;
/// And for the number that short blocks of the lanes carry.
const NUMBER: f32 = 26.0;

pub(super) fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &RunSheet,
    line: &Line,
    cooking: Option<(&Cooking, i64)>,
    chosen: &mut Option<usize>,
) -> Option<Pressed> {
    let palette = theme::palette(ui);
    let done = cooking.is_some_and(|(c, _)| c.done.contains(&line.id));
    let runs = cooking.is_some_and(|(c, now)| c.runs(line, now));
    let mut pressed = None;
    let words = what(view, sheet, line);
    let place = place_words(&line.place, sheet, view.system);
    let place = match line.cook {
        Some(cook) if sheet.kitchen.cooks > 1 => format!("{place}, cook {cook}"),
        Some(_) if !matches!(line.place, Place::Bench) => format!("{place}, hands"),
        _ => place,
    };
    let colour = if done { palette.soft } else { palette.ink };
    let buttons = if cooking.is_some() && !done { 96.0 } else { 8.0 };
    let wide = ui.available_width();
    let indent = NUMBER + if cooking.is_some() { 28.0 } else { 0.0 };
    let room = (wide - indent - TIMES - PLACE - buttons).max(120.0);
    let (times, at) = (format!("{}–{}", clock(line.from), clock(line.to)), &place);
    let times = ink::lay(ui, &times, Lettering::Strong, colour, TIMES - 8.0, 1);
    let at = ink::lay(ui, at, Lettering::Small, palette.soft, PLACE - 12.0, 2);
    let lettering = if line.hands { Lettering::Body } else { Lettering::Small };
    let said = ink::lay(ui, &words, lettering, colour, room, usize::MAX);
    let high = times.size().y.max(at.size().y).max(said.size().y) + 12.0;
    let (rect, response) = ui.allocate_exact_size(vec2(wide, high), Sense::click());
    let name = spoken(&format!("{} to {}, {place}: {words}", clock(line.from), clock(line.to)));
    let named = match cooking {
        Some(_) => WidgetInfo::selected(Role::CheckBox, true, done, &name),
        None => WidgetInfo::labeled(Role::Button, true, &name),
    };
    response.widget_info(|| named.clone());
    if *chosen == Some(line.id) || response.hovered() || runs {
        let ground = if runs { theme::mix(palette.card, palette.accent, 0.14) } else { palette.sunk };
        ui.painter().rect_filled(rect, 4.0, ground);
    }
    ui.painter().hline(rect.x_range(), rect.bottom() - 0.5, Stroke::new(1.0, palette.hair));
    let top = rect.top() + 6.0;
    let left = rect.left() + indent;
    if cooking.is_some() {
        tick(ui, pos2(rect.left() + 12.0, top + 9.0), done);
    }
    let number = ink::lay(ui, &number(sheet, line), Lettering::Small, palette.soft, NUMBER, 1);
    ink::put(ui.painter(), pos2(left - number.size().x - 4.0, top + 1.0), number);
    ink::put(ui.painter(), pos2(left + 4.0, top), times);
    ink::put(ui.painter(), pos2(left + TIMES, top + 1.0), at);
    ink::put(ui.painter(), pos2(left + TIMES + PLACE, top), said);
    if done {
        let y = top + 8.0;
        ui.painter().hline(left + 4.0..=left + TIMES - 16.0, y, Stroke::new(1.5, palette.soft));
    }
    focus_ring(ui, &response, 4);
    if response.clicked() {
        *chosen = Some(line.id);
        if cooking.is_some() {
            pressed = Some(Pressed::Done);
        }
    }
    if runs {
        let place = Rect::from_min_size(pos2(rect.right() - 88.0, rect.top() + 4.0), vec2(84.0, 28.0));
        let more = format!("+{MORE} min");
        let name = format!("{MORE} minutes more for {}", view.said(&line.what));
        if ui.put(place, Button::quiet(&more).name(&name)).clicked() {
            pressed = Some(Pressed::Longer);
        }
    }
    for caution in &line.cautions {
        ui.horizontal(|ui| {
            ui.add_space(indent + TIMES + PLACE);
            ui.vertical(|ui| parts::remark(ui, Level::Caution, &view.said(&caution.text)));
        })
        .response
        .on_hover_text(caution.source.as_str());
    }
    pressed
}

/// The number of a line on the sheet, from 1 by the clock.
pub(super) fn number(sheet: &RunSheet, line: &Line) -> String {
    let place = sheet.lines.iter().position(|l| l.id == line.id && l.kind == line.kind);
    place.map_or_else(String::new, |at| (at + 1).to_string())
}

/// Whether a line says for which dish it is: not where the day makes one alone, nor where it is about oven, sink or table and its
/// words say so.
pub(super) fn names_dish(sheet: &RunSheet, line: &Line) -> bool {
    let others = sheet.lines.iter().filter(|l| l.batch.is_some()).any(|l| l.batch != line.batch);
    let says_so = matches!(line.kind, LineKind::OvenOn | LineKind::OvenTo | LineKind::Wash | LineKind::WashUp | LineKind::Sit);
    !line.dish.is_empty() && !says_so && (others || line.batch.is_none())
}

/// "Charred wedges: slice (heart 520 g, onion 120 g)".
fn what(view: &View<'_>, sheet: &RunSheet, line: &Line) -> String {
    let said = view.said(line.what.trim_end_matches('.'));
    let mut words = if names_dish(sheet, line) { format!("{}: {said}", line.dish) } else { said.into_owned() };
    let mut amounts: Vec<String> =
        line.portions.iter().map(|(n, p)| format!("{n} {}", write_grams(p.get(), view.system))).collect();
    let companions = line.companions.iter().filter(|c| !c.1.is_crumb());
    amounts.extend(companions.map(|(n, a)| format!("{n} {}", a.said(view.system))));
    if !amounts.is_empty() {
        words.push_str(&format!(" ({})", amounts.join(", ")));
    }
    if let Some(note) = &line.note {
        words.push_str(&format!(". {}", crate::rotation::capital(note)));
    }
    words
}
