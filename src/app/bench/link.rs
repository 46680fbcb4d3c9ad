//! Links between neighbouring meals: a bracket under the row with a pill of words; its line says the level too.

use super::{calendar::Grid, hand::named, ink};
use crate::app::{
    theme::{self, Lettering},
    view::{View, level_of_verdict, spoken, verdict_words},
    widget::{Edge, edge, path},
};
use crate::{
    judge::{Pair, Verdict},
    rotation::{EaterId, MealtimeId, Slot},
};
use egui::{Id, Rect, Role, Sense, Stroke, Ui, pos2, vec2};

/// Height of the lane of a row's own links.
const LANE: f32 = 46.0;
/// Height of each further pill under a card.
const FURTHER: f32 = 40.0;
/// Air under a row without links.
const PLAIN: f32 = 14.0;

/// Pairs of two meals with those whom they concern; nobody named: everybody who eats the later one, or the one eater chosen.
fn grouped<'a>(view: &View<'a>) -> Vec<(&'a Pair, Vec<EaterId>)> {
    if let Some(table) = view.table.filter(|t| view.who.is_some() && t.eater == view.who) {
        // The links of one eater need not name that eater.
        return table.links.iter().map(|pair| (pair, Vec::new())).collect();
    }
    let mut out: Vec<(&Pair, Vec<EaterId>)> = Vec::new();
    for pair in &view.judged.variety.pairs {
        match out.iter_mut().find(|(p, _)| p.first == pair.first && p.second == pair.second) {
            Some((_, eaters)) => eaters.extend(pair.eater),
            None => out.push((pair, pair.eater.into_iter().collect())),
        }
    }
    out
}

/// Whether a pair is drawn as a bracket from card to card: both in one row.
fn in_row(pair: &Pair) -> bool {
    pair.first.mealtime == pair.second.mealtime
}

/// Pairs of two meals of one row with the lane each is drawn in: pairs that lie over one another keep apart.
fn lanes<'p, 'v>(own: &'p [(&'v Pair, Vec<EaterId>)]) -> Vec<(usize, &'p (&'v Pair, Vec<EaterId>))> {
    let mut sorted: Vec<&(&Pair, Vec<EaterId>)> = own.iter().filter(|(p, _)| in_row(p)).collect();
    sorted.sort_by_key(|(p, _)| (p.second.day.0 - p.first.day.0, p.first.day));
    let mut taken: Vec<Vec<(i16, i16)>> = Vec::new();
    let mut out = Vec::new();
    for entry in sorted {
        let (from, to) = (entry.0.first.day.0, entry.0.second.day.0);
        let free = |lane: &Vec<(i16, i16)>| lane.iter().all(|(a, b)| to <= *a || *b <= from);
        let lane = taken.iter().position(free).unwrap_or(taken.len());
        if lane == taken.len() {
            taken.push(Vec::new());
        }
        taken[lane].push((from, to));
        out.push((lane, entry));
    }
    out
}

/// The pairs whose later meal is at a mealtime.
fn of_row<'a>(view: &View<'a>, mealtime: MealtimeId) -> Vec<(&'a Pair, Vec<EaterId>)> {
    grouped(view).into_iter().filter(|(p, _)| p.second.mealtime == mealtime).collect()
}

fn lanes_height(own: &[(&Pair, Vec<EaterId>)]) -> f32 {
    let count = lanes(own).iter().map(|(lane, _)| lane + 1).max().unwrap_or(0);
    if count == 0 { 6.0 } else { LANE * count as f32 }
}

/// How high the lanes under a row are together.
pub fn lane_height(view: &View<'_>, mealtime: MealtimeId) -> f32 {
    let own = of_row(view, mealtime);
    if own.is_empty() {
        return PLAIN;
    }
    let mut further: std::collections::BTreeMap<Slot, usize> = Default::default();
    for (pair, _) in own.iter().filter(|(p, _)| !in_row(p)) {
        *further.entry(pair.second).or_default() += 1;
    }
    let most = further.values().copied().max().unwrap_or(0) as f32;
    lanes_height(&own) + most * FURTHER + 8.0
}

/// What a link says: "fine: both hot"; "Bo: too alike: both stewed, both tomato".
fn words(view: &View<'_>, pair: &Pair, eaters: &[EaterId]) -> String {
    let (who, what) = who_and_what(view, pair, eaters);
    format!("{who}{}: {what}", verdict_words(pair.verdict))
}

/// The same with the earlier meal named, the verdict first: "Bo: too alike after Wednesday supper: both stewed".
fn words_after(view: &View<'_>, pair: &Pair, eaters: &[EaterId]) -> String {
    let (who, what) = who_and_what(view, pair, eaters);
    format!("{who}{} after {}: {what}", verdict_words(pair.verdict), view.rotation.slot_name(pair.first))
}

fn who_and_what(view: &View<'_>, pair: &Pair, eaters: &[EaterId]) -> (String, String) {
    let shared: Vec<&str> = pair.shares.iter().filter(|s| s.shared).map(|s| s.words.as_str()).collect();
    let most = if pair.verdict == Verdict::Fine { 1 } else { 2 };
    let what = match shared.as_slice() {
        [] => "nothing shared".to_string(),
        some => some.iter().take(most).copied().collect::<Vec<_>>().join(", "),
    };
    let who: Vec<String> = eaters.iter().map(|e| view.rotation.household.name(*e).chars().take(14).collect()).collect();
    let who = match who.len() {
        0 => String::new(),
        1..=3 => format!("{}: ", who.join(", ")),
        n => format!("{n} eaters: "),
    };
    (who, what)
}

/// Draws the links of a row in the lanes that begin at `top`.
pub fn ui(ui: &Ui, view: &View<'_>, grid: &Grid, row: usize, top: f32) {
    let Some(mealtime) = view.rotation.mealtimes.get(row).map(|m| m.id) else { return };
    let own = of_row(view, mealtime);
    // The outer lanes first, so that their legs pass behind the pills of the inner ones.
    for (lane, (pair, eaters)) in lanes(&own).into_iter().rev() {
        bracket(ui, view, grid, row, (top, lane), pair, eaters);
    }
    let under = top + lanes_height(&own);
    let mut further: std::collections::BTreeMap<Slot, usize> = Default::default();
    for (pair, eaters) in own.iter().filter(|(p, _)| !in_row(p)) {
        let place = further.entry(pair.second).or_default();
        let y = under + *place as f32 * FURTHER;
        *place += 1;
        below(ui, view, grid, row, y, pair, eaters);
    }
}

fn bracket(ui: &Ui, view: &View<'_>, grid: &Grid, row: usize, (top, lane): (f32, usize), pair: &Pair, eaters: &[EaterId]) {
    let palette = theme::palette(ui);
    let level = level_of_verdict(pair.verdict);
    let colour = level.colour(palette);
    let (a, b) = (grid.cell(pair.first.day, row), grid.cell(pair.second.day, row));
    // Two links meet at a card; each keeps a little to its own side.
    let aside = 6.0 + 8.0 * lane as f32;
    let (left, right) = (a.center().x + aside, b.center().x - aside);
    let y = top + 22.0 + LANE * lane as f32;
    let points = [pos2(left, top + 2.0), pos2(left, y), pos2(right, y), pos2(right, top + 2.0)];
    path(ui.painter(), &points, manner(pair.verdict), Stroke::new(1.5, colour));
    let room = (right - left - 12.0).max(90.0);
    pill(ui, view, pos2((left + right) / 2.0, y), room, pair, &words(view, pair, eaters), eaters);
}

/// A pair that crosses rows: its pill hangs under the later card and names the earlier meal.
fn below(ui: &Ui, view: &View<'_>, grid: &Grid, row: usize, y: f32, pair: &Pair, eaters: &[EaterId]) {
    let palette = theme::palette(ui);
    let cell = grid.cell(pair.second.day, row);
    let colour = level_of_verdict(pair.verdict).colour(palette);
    let said = words_after(view, pair, eaters);
    let stem = [pos2(cell.center().x, y - 4.0), pos2(cell.center().x, y + 4.0)];
    path(ui.painter(), &stem, manner(pair.verdict), Stroke::new(1.5, colour));
    pill(ui, view, pos2(cell.center().x, y + 20.0), cell.width() + 8.0, pair, &said, eaters);
}

fn manner(verdict: Verdict) -> Edge {
    Edge::of(level_of_verdict(verdict))
}

fn pill(ui: &Ui, view: &View<'_>, middle: egui::Pos2, room: f32, pair: &Pair, said: &str, eaters: &[EaterId]) {
    let palette = theme::palette(ui);
    let level = level_of_verdict(pair.verdict);
    let colour = level.colour(palette);
    let galley = ink::lay(ui, said, Lettering::SmallStrong, colour, room - 20.0, 2);
    let size = galley.size() + vec2(20.0, 8.0);
    let rect = Rect::from_center_size(middle, size);
    let corner = (size.y / 2.0).min(13.0);
    ui.painter().rect_filled(rect, corner, palette.card);
    edge(ui.painter(), rect, corner, manner(pair.verdict), Stroke::new(1.2, colour));
    ink::put_centre(ui.painter(), rect, galley);
    let salt = (pair.first.day.0, pair.first.mealtime.0, pair.second.day.0, pair.second.mealtime.0);
    let response = ui.interact(rect, Id::unique(("link", salt)), Sense::hover());
    let r = view.rotation;
    let name = format!("{} to {}: {}", r.slot_name(pair.first), r.slot_name(pair.second), words(view, pair, eaters));
    named(ui, &response, Role::Label, &spoken(&name));
    response.on_hover_ui(|ui| explain(ui, view, pair));
}

/// The arithmetic of a likeness, axis by axis: the shares add up to the whole.
fn explain(ui: &mut Ui, view: &View<'_>, pair: &Pair) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    ui.label(Lettering::Strong.text(format!("{} and {}", r.slot_name(pair.first), r.slot_name(pair.second))));
    for share in pair.shares.iter().filter(|s| s.share >= 0.005) {
        ui.label(Lettering::Small.text(format!("{:.2}  {}", share.share, share.words)).color(palette.ink));
    }
    if let Some(whole) = pair.likeness {
        let faded = match pair.felt {
            Some(felt) if (felt - whole).abs() > 0.005 => format!(", {felt:.2} after the days between"),
            _ => String::new(),
        };
        ui.label(Lettering::SmallStrong.text(format!("{whole:.2}  in all{faded}")).color(palette.ink));
    }
    ui.label(Lettering::Small.text("0.42 and over is getting alike, 0.60 and over too alike.").color(palette.soft));
}
