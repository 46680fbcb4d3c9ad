//! The day as lanes over the clock: hands, each ring, the oven with its heat, the fridge, what only waits.
//!
//! A block too short for its words shows the number of its line instead; the lines beside have the same numbers, and the words
//! stand whole in what is shown on hovering. A block may be drawn along its lane, or pushed by the arrow keys, within its slack.

use super::lines::{names_dish, number};
use crate::{
    app::{
        bench::ink,
        theme::{self, Lettering, Palette, mix},
        view::{View, spoken},
    },
    runsheet::{Line, LineKind, Place, RunSheet, clock, place_words},
};
use egui::{
    Color32, EventFilter, Key, Modifiers, Rect, Response, Role, ScrollArea, Sense, Stroke, StrokeKind, Ui, WidgetInfo, pos2, vec2,
};

/// Height of a lane, and of the clock over them.
const LANE: f32 = 30.0;
const CLOCK: f32 = 20.0;
/// Room for the names of the lanes.
const NAMES: f32 = 92.0;
/// The fewest and the most points for a minute.
const MINUTE: (f32, f32) = (2.4, 9.0);

/// Words need so many points at the least; with less room the number of the line stands in their place.
const WORDS: f32 = 60.0;
/// Minutes of one press of an arrow key, and with Shift.
const PUSH: (i64, i64) = (1, 5);

/// A hand that moves blocks.
#[derive(Default)]
pub(super) struct Hand {
    /// The line that is held, and how far it is pulled, in points.
    pull: Option<(usize, f32)>,
    /// What is asked for in this frame: this line, from this minute.
    pub asked: Option<(usize, i64)>,
}

/// A lane.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Lane {
    Cook(u8),
    Ring(u8),
    Oven(u8),
    Waiting(u8),
}

pub(super) fn ui(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &RunSheet,
    now: Option<i64>,
    chosen: &mut Option<usize>,
    mut hand: Option<&mut Hand>,
) {
    let palette = theme::palette(ui);
    let lanes = lanes(sheet);
    let ends = sheet.lines.iter().map(|l| l.to).max().unwrap_or(60);
    let begins = sheet.lines.iter().map(|l| l.from).min().unwrap_or(0);
    // Whole quarters of an hour at both ends.
    let (from, to) = (begins.div_euclid(15) * 15, (ends + 14).div_euclid(15) * 15);
    let minutes = (to - from).max(15) as f32;
    let room = ui.available_width() - NAMES;
    let minute = (room / minutes).clamp(MINUTE.0, MINUTE.1);
    let high = CLOCK + lanes.len() as f32 * LANE;
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        let (names, _) = ui.allocate_exact_size(vec2(NAMES, high), Sense::hover());
        for (i, (lane, _)) in lanes.iter().enumerate() {
            let words = name(*lane, sheet);
            let galley = ink::lay(ui, &words, Lettering::Small, palette.soft, NAMES - 8.0, 1);
            let y = names.top() + CLOCK + (i as f32 + 0.5) * LANE - galley.size().y / 2.0;
            ink::put(ui.painter(), pos2(names.left(), y), galley);
        }
        ScrollArea::horizontal().id_salt("lanes").auto_shrink([false, true]).show(ui, |ui| {
            let (rect, _) = ui.allocate_exact_size(vec2(minutes * minute, high), Sense::hover());
            let x = |at: i64| rect.left() + (at - from) as f32 * minute;
            ruler(ui, rect, (from, to), minute, palette);
            for (i, (lane, lines)) in lanes.iter().enumerate() {
                let top = rect.top() + CLOCK + i as f32 * LANE;
                ui.painter().hline(rect.x_range(), top + LANE, Stroke::new(1.0, palette.hair));
                for line in lines {
                    let block = Rect::from_min_max(
                        pos2(x(line.from), top + 3.0),
                        pos2(x(line.to).max(x(line.from) + 3.0), top + LANE - 3.0),
                    );
                    let response = block_ui(ui, view, sheet, (*lane, line), block, chosen, hand.as_deref());
                    if let Some(hand) = hand.as_deref_mut()
                        && sheet.can_move(line.id)
                    {
                        move_ui(ui, sheet, line, (block, minute), &response, hand);
                    }
                }
            }
            for meal in &sheet.meals {
                ui.painter().vline(x(meal.at), rect.y_range(), Stroke::new(2.0, palette.accent));
            }
            if let Some(now) = now.filter(|n| (from..=to).contains(n)) {
                ui.painter().vline(x(now), rect.y_range(), Stroke::new(2.0, palette.stop));
                let words = ink::lay(ui, "now", Lettering::SmallStrong, palette.stop, 40.0, 1);
                ink::put(ui.painter(), pos2(x(now) + 4.0, rect.top()), words);
            }
        });
    });
}

fn name(lane: Lane, sheet: &RunSheet) -> String {
    match lane {
        Lane::Cook(n) if sheet.kitchen.cooks > 1 => format!("cook {n}"),
        Lane::Cook(_) => "hands".into(),
        Lane::Ring(n) => format!("ring {n}"),
        Lane::Oven(0) => "oven".into(),
        Lane::Oven(n) => format!("oven, shelf {n}"),
        Lane::Waiting(_) => "waiting".into(),
    }
}

/// The lanes in order, each with its lines; what needs hands at a ring stands in both.
fn lanes(sheet: &RunSheet) -> Vec<(Lane, Vec<&Line>)> {
    let mut lanes: Vec<(Lane, Vec<&Line>)> = Vec::new();
    let mut put = |lane: Lane, line| match lanes.iter_mut().find(|(l, _)| *l == lane) {
        Some((_, lines)) => lines.push(line),
        None => lanes.push((lane, vec![line])),
    };
    // Where waits lie over one another they take rows of their own.
    let mut free: Vec<i64> = Vec::new();
    for line in &sheet.lines {
        if let Some(cook) = line.cook {
            put(Lane::Cook(cook), line);
        }
        match &line.place {
            Place::Ring(n) => put(Lane::Ring(*n), line),
            Place::Oven { shelves, .. } if shelves.is_empty() => put(Lane::Oven(1.min(sheet.kitchen.shelves)), line),
            Place::Oven { shelves, .. } => shelves.iter().for_each(|s| put(Lane::Oven(*s), line)),
            Place::Waiting | Place::Bench | Place::Fridge if line.cook.is_none() && line.kind != LineKind::Sit => {
                let row = free.iter().position(|until| *until <= line.from).unwrap_or(free.len());
                match free.get_mut(row) {
                    Some(until) => *until = line.to,
                    None => free.push(line.to),
                }
                put(Lane::Waiting(u8::try_from(row).unwrap_or(u8::MAX)), line);
            }
            _ => {}
        }
    }
    lanes.sort_by_key(|(lane, _)| *lane);
    lanes
}

fn ruler(ui: &Ui, rect: Rect, (from, to): (i64, i64), minute: f32, palette: &Palette) {
    let step = if 15.0 * minute >= 56.0 {
        15
    } else if 30.0 * minute >= 56.0 {
        30
    } else {
        60
    };
    let mut at = (from + step - 1).div_euclid(step) * step;
    while at <= to {
        let x = rect.left() + (at - from) as f32 * minute;
        ui.painter().vline(x, rect.top() + CLOCK..=rect.bottom(), Stroke::new(1.0, palette.hair));
        let words = ink::lay(ui, &clock(at), Lettering::Small, palette.soft, 60.0, 1);
        let left = (x - words.size().x / 2.0).clamp(rect.left(), rect.right() - words.size().x);
        ink::put(ui.painter(), pos2(left, rect.top()), words);
        at += step;
    }
}

/// The ground of a block: work is solid, fire is warm, waiting is pale.
fn ground(lane: Lane, palette: &Palette) -> Color32 {
    match lane {
        Lane::Cook(_) => mix(palette.card, palette.accent, 0.26),
        Lane::Ring(_) => mix(palette.card, palette.caution, 0.22),
        Lane::Oven(_) => mix(palette.card, palette.warn, 0.24),
        Lane::Waiting(_) => palette.sunk,
    }
}

/// A block takes part in dragging and takes the keyboard; its name is what its line says.
fn block_ui(
    ui: &mut Ui,
    view: &View<'_>,
    sheet: &RunSheet,
    (lane, line): (Lane, &Line),
    block: Rect,
    chosen: &mut Option<usize>,
    hand: Option<&Hand>,
) -> Response {
    let palette = theme::palette(ui);
    let id = ui.scope_id().with(("block", format!("{lane:?}"), line.id));
    let moves = hand.is_some() && sheet.can_move(line.id);
    let response = ui.interact(block, id, if moves { Sense::click_and_drag() } else { Sense::click() });
    let place = place_words(&line.place, sheet, view.system);
    let words = if names_dish(sheet, line) { format!("{}: {}", line.dish, line.what) } else { line.what.clone() };
    let said = spoken(&format!("{} to {}, {place}, {}", clock(line.from), clock(line.to), view.said(&words)));
    response.widget_info(|| WidgetInfo::labeled(if moves { Role::Button } else { Role::Label }, true, &said));
    let held = hand.and_then(|h| h.pull).is_some_and(|(held, _)| held == line.id);
    let is_chosen = *chosen == Some(line.id) || response.has_focus() || held;
    let stroke = if is_chosen { Stroke::new(2.0, palette.focus) } else { Stroke::new(1.0, palette.line) };
    let dashed = line.kind == LineKind::WashUp;
    let fill = if dashed { palette.card } else { ground(lane, palette) };
    ui.painter().rect(block, 4.0, fill, stroke, StrokeKind::Inside);
    let heat = match &line.place {
        Place::Oven { set_to, .. } if matches!(lane, Lane::Oven(_)) => format!("{set_to}° "),
        _ => String::new(),
    };
    let painter = ui.painter().with_clip_rect(block);
    let room = block.width() - 8.0;
    let whole = ink::lay(ui, &format!("{heat}{}", view.said(&words)), Lettering::Small, palette.ink, f32::INFINITY, 1);
    if whole.size().x <= room || room >= WORDS {
        let galley = ink::lay(ui, &format!("{heat}{}", view.said(&words)), Lettering::Small, palette.ink, room, 1);
        ink::put(&painter, pos2(block.left() + 4.0, block.center().y - galley.size().y / 2.0), galley);
    } else {
        let galley = ink::lay(ui, &number(sheet, line), Lettering::SmallStrong, palette.ink, f32::INFINITY, 1);
        if galley.size().x <= block.width() {
            ink::put_centre(&painter, block, galley);
        }
    }
    if response.clicked() {
        *chosen = Some(line.id);
        response.request_focus();
    }
    if response.hovered() && !held {
        let slack = moves.then(|| sheet.slack(line.id)).map(|(early, late)| match early == late {
            true => "It cannot be moved: nothing is to spare around it.".to_string(),
            false => format!("It may begin from {} to {}: draw it, or push it with the arrow keys.", clock(early), clock(late)),
        });
        let words = format!("{}. {}. {}", number(sheet, line), said.trim_end_matches('.'), slack.unwrap_or_default());
        return response.on_hover_text(words);
    }
    response
}

/// Moves a block: drawn along its lane, or pushed by the arrow keys while it has the keyboard.
fn move_ui(ui: &Ui, sheet: &RunSheet, line: &Line, (block, minute): (Rect, f32), response: &Response, hand: &mut Hand) {
    let palette = theme::palette(ui);
    if response.drag_started() {
        hand.pull = Some((line.id, 0.0));
    }
    if response.dragged()
        && let Some((held, by)) = &mut hand.pull
        && *held == line.id
    {
        *by += response.drag_delta().x;
    }
    if let Some((held, by)) = hand.pull
        && held == line.id
        && (response.dragged() || response.drag_stopped())
    {
        let to = line.from + (by / minute).round() as i64;
        if response.drag_stopped() {
            hand.pull = None;
            if to != line.from {
                hand.asked = Some((line.id, to));
            }
        } else {
            // Where it would stand: whole where it may, broken where it may not, and the minute in figures.
            let fits = to == line.from || sheet.with_moved(line.id, to).is_ok();
            let ghost = block.translate(vec2((to - line.from) as f32 * minute, 0.0));
            let colour = if fits { palette.focus } else { palette.stop };
            ui.painter().rect_stroke(ghost, 4.0, Stroke::new(2.0, colour), StrokeKind::Inside);
            if !fits {
                let cross = [ghost.left_top(), ghost.right_bottom()];
                ui.painter().line_segment(cross, Stroke::new(2.0, colour));
            }
            let words = ink::lay(ui, &clock(to), Lettering::SmallStrong, colour, f32::INFINITY, 1);
            ink::put(ui.painter(), pos2(ghost.left(), ghost.top() - 15.0), words);
        }
    }
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|m| m.set_focus_lock_filter(response.id, filter));
        let by = ui.input_mut(|i| {
            let mut pressed = |held, key| i64::from(i.consume_key(held, key));
            let far = pressed(Modifiers::SHIFT, Key::ArrowRight) - pressed(Modifiers::SHIFT, Key::ArrowLeft);
            let near = pressed(Modifiers::NONE, Key::ArrowRight) - pressed(Modifiers::NONE, Key::ArrowLeft);
            far * PUSH.1 + near * PUSH.0
        });
        if by != 0 {
            hand.asked = Some((line.id, line.from + by));
        }
    }
}
