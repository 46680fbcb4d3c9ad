//! The run sheet of a day: lanes for hands, rings and oven over the clock, the lines beside them, and the session as it goes on.
//!
//! The sheet is sought on a worker, which can be stopped. While cooking, a press ticks a line off, five minutes are added to
//! what takes longer, and what is left is arranged anew from now.

use super::{
    action::Action,
    bench::{self, Frame},
    sheet::{Sheet, parts},
    theme::{self, Lettering, STEP},
    view::View,
    widget::{Button, Card},
};
use crate::{
    quantity::DayNo,
    runsheet::{Refusal, RunSheet, Wish, clock},
};
use cooking::Cooking;
use egui::{Frame as Ground, Margin, ScrollArea, Ui};
use seek::Seek;
use std::sync::Arc;

mod cooking;
mod lanes;
mod lines;
mod seek;

/// What is known of one day at one revision.
struct Known {
    day: DayNo,
    revision: u64,
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
}

impl RunSheetView {
    /// Another plan: nothing of the old one is shown.
    pub fn plan_replaced(&mut self) {
        *self = RunSheetView::default();
    }

    /// The sheet of `day` at this revision, sought on a worker if need be.
    fn know(&mut self, ui: &Ui, view: &View<'_>, day: DayNo) {
        let is = |d: DayNo, revision: u64| d == day && revision == view.revision;
        if let Some(seek) = &self.seek {
            if !is(seek.day, seek.revision) {
                self.seek = None;
            } else if let Some(found) = seek.taken() {
                self.known = Some(Known { day, revision: view.revision, found });
                self.seek = None;
            }
        }
        if self.seek.is_none() && !self.known.as_ref().is_some_and(|k| is(k.day, k.revision)) {
            self.seek = Some(Seek::begin(view.rotation.clone(), day, view.revision, Wish::default(), ui.ctx()));
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
            page.know(ui, &view, day);
            let known = page.known.as_ref().filter(|k| k.day == day && k.revision == view.revision);
            match known.map(|k| k.found.clone()) {
                Some(Ok(sheet)) => sheet_ui(ui, &view, page, &sheet, actions),
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
    let day = page.day.filter(|d| days.contains(d)).or(days.first().copied())?;
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

fn sheet_ui(ui: &mut Ui, view: &View<'_>, page: &mut RunSheetView, sheet: &Arc<RunSheet>, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    ui.horizontal(|ui| {
        let meals: Vec<String> = sheet.meals.iter().map(|m| format!("{} at {}", m.name, clock(m.at))).collect();
        let meals = if meals.is_empty() { "nothing served".to_string() } else { meals.join(", ") };
        let words = format!("Begin at {}, {meals}", clock(sheet.summary.start));
        ui.label(Lettering::Figure.text(words).color(palette.ink));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            if ui.add(Button::primary("Start cooking")).clicked() {
                page.cooking = Some(Cooking::begin(sheet.clone(), view.revision));
                actions.push(Action::Say("Cooking: tick off what is done".into()));
            }
        });
    });
    for sentence in &sheet.summary.sentences {
        parts::quiet(ui, view.said(sentence));
    }
    ui.add_space(STEP);
    lanes::ui(ui, view, sheet, None, &mut page.chosen);
    ui.add_space(STEP);
    ScrollArea::vertical().id_salt(("lines", sheet.day.0)).auto_shrink(false).show(ui, |ui| {
        for line in &sheet.lines {
            lines::ui(ui, view, sheet, line, None, &mut page.chosen);
        }
        for later in &sheet.later {
            parts::quiet(ui, format!("On a later day, {later}"));
        }
    });
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
