//! The run sheet of a day: lanes for hands, rings and oven over the clock, the lines beside them, and the session as it goes on.
//!
//! The sheet is sought on a worker, which can be stopped. While cooking, a press ticks a line off, five minutes are added to
//! what takes longer, and what is left is arranged anew from now.

use super::{
    action::Action,
    bench::{self, Frame},
    hearth::TickChange,
    sheet::{Sheet, parts},
    theme::{self, Lettering, STEP},
    view::View,
    widget::{Button, Card},
};
use crate::{
    quantity::DayNo,
    rotation::Rotation,
    runsheet::{Refusal, RunSheet, Wish, clock},
};
use cooking::Cooking;
use egui::{Frame as Ground, Margin, ScrollArea, Ui};
use seek::{Seek, Stamp};
use std::sync::Arc;

mod ahead;
mod cooking;
mod lanes;
mod lines;
mod seek;

/// What is known of one day of one kitchen's plan.
struct Known {
    day: DayNo,
    stamp: Stamp,
    found: Result<Arc<RunSheet>, Refusal>,
}

/// What the page remembers between frames.
#[derive(Default)]
pub struct RunSheetView {
    /// The day that was chosen; else the first on which something is cooked.
    day: Option<DayNo>,
    known: Option<Known>,
    seek: Option<Seek>,
    cooking: Option<Cooking>,
    /// The line that is looked at, by its number.
    chosen: Option<usize>,
    hand: lanes::Hand,
    /// Sheets of which steps were moved by hand.
    by_hand: Vec<ByHand>,
    ahead: ahead::Ahead,
}

/// A day's sheet as it was moved by hand.
struct ByHand {
    day: DayNo,
    stamp: Stamp,
    sheet: Arc<RunSheet>,
}

impl RunSheetView {
    /// Another plan: nothing of the old one is shown.
    pub fn plan_replaced(&mut self) {
        *self = RunSheetView::default();
    }

    /// The sheets that were moved by hand, as they are for this revision of the plan: paper shows what the window shows.
    pub fn by_hand(&self, revision: u64) -> Vec<Arc<RunSheet>> {
        self.by_hand.iter().filter(|b| b.stamp == (revision, 0)).map(|b| b.sheet.clone()).collect()
    }

    /// The sheet of `day` of this kitchen's plan, sought on a worker if need be.
    fn know(&mut self, ui: &Ui, plan: &Arc<Rotation>, day: DayNo, stamp: Stamp) {
        if let Some(seek) = &self.seek {
            if (seek.day, seek.stamp) != (day, stamp) {
                self.seek = None;
            } else if let Some(found) = seek.taken() {
                self.known = Some(Known { day, stamp, found });
                self.seek = None;
            }
        }
        if self.seek.is_none() && self.known.as_ref().is_none_or(|k| (k.day, k.stamp) != (day, stamp)) {
            self.seek = Some(Seek::begin(plan.clone(), day, stamp, Wish::default(), ui.ctx()));
        }
    }

    /// Does what the hand has asked for on the lanes.
    fn moved(&mut self, view: &View<'_>, sheet: &RunSheet, day: DayNo, stamp: Stamp, actions: &mut Vec<Action>) {
        let Some((line, from)) = self.hand.asked.take() else { return };
        match sheet.with_moved(line, from) {
            Ok(new) => {
                let words = new
                    .lines
                    .iter()
                    .find(|l| l.id == line)
                    .map_or_else(String::new, |l| format!("{} to {}: {}", clock(l.from), clock(l.to), view.said(&l.what)));
                self.by_hand.retain(|b| b.day != day && b.stamp == stamp);
                self.by_hand.push(ByHand { day, stamp, sheet: Arc::new(new) });
                self.chosen = Some(line);
                actions.push(Action::Say(format!("Moved, {words}")));
            }
            Err(why) => actions.push(Action::Say(format!("Not moved. {why}"))),
        }
    }
}

/// Draws the page.
pub fn ui(ui: &mut Ui, frame: Frame<'_>, page: &mut RunSheetView, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let margin = bench::MARGIN;
    bench::around(ui, &frame, actions);
    let view = frame.view;
    let middle = Ground::new().fill(palette.paper).inner_margin(Margin { left: margin, right: margin, top: 0, bottom: 16 });
    egui::CentralPanel::default().frame(middle).show(ui, |ui| {
        Card::new().room(20).show(ui, |ui| {
            ui.set_min_size(ui.available_size());
            if page.cooking.is_some() {
                cooking::ui(ui, &view, page, actions);
                return;
            }
            let Some(day) = days_ui(ui, &view, page, actions) else {
                ui.add_space(STEP);
                parts::plain(ui, "Nothing is cooked yet. Plan some meals on the bench, and each day gets its run sheet.");
                return;
            };
            let (plan, stamp) = page.ahead.kitchen(&view);
            page.know(ui, &plan, day, stamp);
            let known = page.known.as_ref().filter(|k| (k.day, k.stamp) == (day, stamp));
            match known.map(|k| k.found.clone()) {
                // Cooking that was begun before the window closed goes on.
                Some(Ok(sheet)) if cooking::is_begun(&view, day) => {
                    page.day = Some(day);
                    page.cooking = Some(Cooking::begin(sheet, &view));
                    cooking::ui(ui, &view, page, actions);
                }
                Some(Ok(sheet)) => sheet_ui(ui, &view, page, &sheet, stamp, actions),
                Some(Err(refusal)) => refusal_ui(ui, &refusal),
                None => seeking_ui(ui, page),
            }
        });
    });
}

/// The days on which something is cooked or served, as tabs; the chosen one.
fn days_ui(ui: &mut Ui, view: &View<'_>, page: &mut RunSheetView, actions: &mut Vec<Action>) -> Option<DayNo> {
    let r = view.rotation;
    let busy = |day: &DayNo| {
        let cooked = r.batches.iter().any(|b| b.day == *day);
        cooked || r.slots().any(|s| s.day == *day && !r.meal(s).servings.is_empty())
    };
    let days: Vec<DayNo> = r.day_numbers().filter(busy).collect();
    let begun = || days.iter().find(|d| cooking::is_begun(view, **d)).or(days.first()).copied();
    let day = page.day.filter(|d| days.contains(d)).or_else(begun)?;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = egui::vec2(4.0, 4.0);
        for d in &days {
            let name = format!("Run sheet of {}", r.day_name(*d));
            if ui.add(Button::tab(&r.day_name(*d), *d == day).name(&name)).clicked() {
                page.day = Some(*d);
                page.chosen = None;
            }
        }
        ui.add_space(STEP);
        if ui.add(Button::plain("Kitchen and hours")).clicked() {
            actions.push(Action::Open(Sheet::Household));
        }
    });
    ui.add_space(STEP);
    Some(day)
}

fn sheet_ui(
    ui: &mut Ui,
    view: &View<'_>,
    page: &mut RunSheetView,
    arranged: &Arc<RunSheet>,
    stamp: Stamp,
    actions: &mut Vec<Action>,
) {
    let palette = theme::palette(ui);
    let day = arranged.day;
    let moved = page.by_hand.iter().find(|b| b.day == day && b.stamp == stamp).map(|b| b.sheet.clone());
    let is_moved = moved.is_some();
    let sheet = &moved.unwrap_or_else(|| arranged.clone());
    ui.horizontal(|ui| {
        let meals: Vec<String> = sheet.meals.iter().map(|m| format!("{} at {}", m.name, clock(m.at))).collect();
        let meals = if meals.is_empty() { "nothing served".to_string() } else { meals.join(", ") };
        let words = format!("Begin at {}, {meals}", clock(sheet.summary.start));
        ui.label(Lettering::Figure.text(words).color(palette.ink));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let ticked = cooking::ticked(view, sheet);
            let words = if ticked.is_empty() { "Start cooking" } else { "Go on cooking" };
            if ui.add(Button::primary(words)).clicked() {
                page.cooking = Some(Cooking::begin(sheet.clone(), view));
                actions.push(Action::Tick(cooking::begun(view, day, true)));
                actions.push(Action::Say("Cooking: tick off what is done".into()));
            }
            if !ticked.is_empty() && ui.add(Button::quiet("Untick all")).clicked() {
                actions.extend(ticked.into_iter().map(|key| Action::Tick(TickChange { key, done: false, words: String::new() })));
                actions.push(Action::Say("Nothing is ticked off any more".into()));
            }
            if is_moved && ui.add(Button::quiet("As arranged")).clicked() {
                page.by_hand.retain(|b| b.day != day);
                actions.push(Action::Say("Every step stands again as it was arranged".into()));
            }
        });
    });
    ScrollArea::vertical().id_salt(("sheet", day.0)).auto_shrink(false).show(ui, |ui| {
        for sentence in &sheet.summary.sentences {
            parts::quiet(ui, view.said(sentence));
        }
        ahead::button(ui, &mut page.ahead);
        ahead::ui(ui, view, &mut page.ahead, day, actions);
        ui.add_space(STEP);
        lanes::ui(ui, view, sheet, None, &mut page.chosen, Some(&mut page.hand));
        ui.add_space(STEP);
        for line in &sheet.lines {
            lines::ui(ui, view, sheet, line, None, &mut page.chosen);
        }
        for later in &sheet.later {
            parts::quiet(ui, format!("On a later day, {later}"));
        }
    });
    page.moved(view, &sheet.clone(), day, stamp, actions);
}

fn refusal_ui(ui: &mut Ui, refusal: &Refusal) {
    if refusal.nothing {
        parts::plain(ui, format!("{}.", crate::rotation::capital(&refusal.sentence)));
        return;
    }
    parts::remark(ui, super::marks::Level::Stop, &format!("Impossible: {}.", refusal.sentence));
    for advice in &refusal.advice {
        parts::plain(ui, format!("{advice}."));
    }
}

fn seeking_ui(ui: &mut Ui, page: &mut RunSheetView) {
    ui.horizontal(|ui| {
        parts::plain(ui, "Looking for the latest start that is possible\u{2026}");
        if ui.add(Button::quiet("Stop with the best so far")).clicked()
            && let Some(seek) = &page.seek
        {
            seek.stop();
        }
    });
}
