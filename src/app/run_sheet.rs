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
    runsheet::{KeptChange, KeptMove, Refusal, RunSheet, Wish, clock},
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
    by_hand: Option<ByHand>,
    ahead: ahead::Ahead,
    /// The minute of the day that cooking goes by; nothing: this machine's clock.
    pub minute: Option<i64>,
}

/// A day's sheet with the steps that were moved by hand, as they are kept.
struct ByHand {
    arranged: Arc<RunSheet>,
    moves: Vec<KeptMove>,
    sheet: Arc<RunSheet>,
    /// Moves that no longer fit.
    lost: Vec<KeptMove>,
}

impl RunSheetView {
    /// Another plan: nothing of the old one is shown.
    pub fn plan_replaced(&mut self) {
        *self = RunSheetView { minute: self.minute, ..RunSheetView::default() };
    }

    /// The minute of the day.
    fn now(&self) -> i64 {
        self.minute.unwrap_or_else(cooking::now)
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

    /// The day's sheet with its steps where a hand has put them, in this window or in one before it.
    fn by_hand(&mut self, view: &View<'_>, arranged: &Arc<RunSheet>, actions: &mut Vec<Action>) -> Arc<RunSheet> {
        let moves = view.hearth.cooking(view.rotation).map_or(&[][..], |kept| kept.moves(arranged.day));
        let is_known = self.by_hand.as_ref().is_some_and(|b| Arc::ptr_eq(&b.arranged, arranged) && b.moves == moves);
        if !is_known {
            let (sheet, lost) = arranged.with_moves(moves);
            if !lost.is_empty() {
                actions.push(Action::Say(lost_words(&lost)));
            }
            self.by_hand = Some(ByHand { arranged: arranged.clone(), moves: moves.to_vec(), sheet: Arc::new(sheet), lost });
        }
        self.by_hand.as_ref().map_or_else(|| arranged.clone(), |b| b.sheet.clone())
    }

    /// Moves that no longer fit the sheet that is shown.
    fn lost(&self) -> &[KeptMove] {
        self.by_hand.as_ref().map_or(&[], |b| &b.lost)
    }

    /// Does what the hand has asked for on the lanes.
    fn moved(&mut self, view: &View<'_>, sheet: &RunSheet, arranged: &RunSheet, actions: &mut Vec<Action>) {
        let Some((line, from)) = self.hand.asked.take() else { return };
        match sheet.with_moved(line, from) {
            Ok(new) => {
                let Some(now) = new.lines.iter().find(|l| l.id == line) else { return };
                let words = format!("{} to {}: {}", clock(now.from), clock(now.to), view.said(&now.what));
                let key = new.key(now);
                let kept = view.hearth.cooking(view.rotation).map_or(&[][..], |kept| kept.moves(sheet.day));
                let lost = self.lost();
                let mut moves: Vec<KeptMove> = kept.iter().filter(|m| m.line != key && !lost.contains(m)).cloned().collect();
                // Where it was arranged to be it needs no hand to hold it.
                if arranged.lines.iter().any(|l| l.id == line && l.from != now.from) {
                    moves.push(KeptMove { line: key, from: now.from });
                }
                self.chosen = Some(line);
                actions.push(Action::Cooking(Box::new(KeptChange::Moves(sheet.day, moves))));
                actions.push(Action::Say(format!("Moved, {words}")));
            }
            Err(why) => actions.push(Action::Say(format!("Not moved. {why}"))),
        }
    }
}

/// What is said of steps that were moved by hand and stand as arranged again.
fn lost_words(lost: &[KeptMove]) -> String {
    let named: Vec<String> = lost.iter().map(|m| format!("{} from {}", m.words(), clock(m.from))).collect();
    let stand = if lost.len() == 1 {
        "A step that you moved no longer fits and stands"
    } else {
        "Steps that you moved no longer fit and stand"
    };
    format!("{stand} as arranged: {}", named.join("; "))
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
            let (plan, stamp) = page.ahead.kitchen(&view, actions);
            page.know(ui, &plan, day, stamp);
            let known = page.known.as_ref().filter(|k| (k.day, k.stamp) == (day, stamp));
            match known.map(|k| k.found.clone()) {
                // Cooking that was begun before the window closed goes on.
                Some(Ok(sheet)) if cooking::is_begun(&view, day) => {
                    page.day = Some(day);
                    let sheet = page.by_hand(&view, &sheet, actions);
                    page.cooking = Some(Cooking::begin(sheet, &view, (ui.ctx(), page.now()), actions));
                    cooking::ui(ui, &view, page, actions);
                }
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

fn sheet_ui(ui: &mut Ui, view: &View<'_>, page: &mut RunSheetView, arranged: &Arc<RunSheet>, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let day = arranged.day;
    let sheet = &page.by_hand(view, arranged, actions);
    let is_moved = page.by_hand.as_ref().is_some_and(|b| !b.moves.is_empty());
    ui.horizontal(|ui| {
        let meals: Vec<String> = sheet.meals.iter().map(|m| format!("{} at {}", m.name, clock(m.at))).collect();
        let meals = if meals.is_empty() { "nothing served".to_string() } else { meals.join(", ") };
        let words = format!("Begin at {}, {meals}", clock(sheet.summary.start));
        ui.label(Lettering::Figure.text(words).color(palette.ink));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let ticked = cooking::ticked(view, sheet);
            let words = if ticked.is_empty() { "Start cooking" } else { "Go on cooking" };
            if ui.add(Button::primary(words)).clicked() {
                page.cooking = Some(Cooking::begin(sheet.clone(), view, (ui.ctx(), page.now()), actions));
                actions.push(Action::Tick(cooking::begun(view, day, true)));
                actions.push(Action::Say("Cooking: tick off what is done".into()));
            }
            if !ticked.is_empty() && ui.add(Button::quiet("Untick all")).clicked() {
                actions.extend(ticked.into_iter().map(|key| Action::Tick(TickChange { key, done: false, words: String::new() })));
                actions.push(Action::Cooking(Box::new(KeptChange::Session(day, None))));
                actions.push(Action::Say("Nothing is ticked off any more".into()));
            }
            if is_moved && ui.add(Button::quiet("As arranged")).clicked() {
                actions.push(Action::Cooking(Box::new(KeptChange::Moves(day, Vec::new()))));
                actions.push(Action::Say("Every step stands again as it was arranged".into()));
            }
        });
    });
    ScrollArea::vertical().id_salt(("sheet", day.0)).auto_shrink(false).show(ui, |ui| {
        if !page.lost().is_empty() {
            parts::remark(ui, super::marks::Level::Note, &format!("{}.", view.said(&lost_words(page.lost()))));
        }
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
    page.moved(view, sheet, arranged, actions);
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
