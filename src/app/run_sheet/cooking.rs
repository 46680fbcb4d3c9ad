//! The session as it goes on: what to do now and what comes next in large letters, lines ticked off, the rest arranged anew.

use super::{RunSheetView, lanes, lines, seek::Anew};
use crate::{
    app::{
        action::Action,
        hearth::TickChange,
        marks::Level,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::View,
        widget::{Button, Card},
    },
    quantity::DayNo,
    runsheet::{KeptChange, Line, LineKind, Progress, RunSheet, Running, clock},
};
use egui::{ScrollArea, Ui};
use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
    time::Duration,
};

/// Minutes that one press adds to what takes longer.
pub(super) const MORE: i64 = 5;

/// Said where the session that was begun cannot be taken up as it was.
const CHANGED: &str = "The day's cooking has been changed since you began: this is the sheet as it is planned now. What you \
                       ticked off and it still has is done; arrange the rest from now.";

/// A session that was begun.
pub(super) struct Cooking {
    pub sheet: Arc<RunSheet>,
    /// The revision of the plan that the sheet was made for.
    revision: u64,
    pub done: BTreeSet<usize>,
    /// Minutes by which a line takes longer than the sheet says.
    pub late: BTreeMap<usize, i64>,
    /// What was said of the last arranging.
    says: Vec<String>,
    anew: Option<Anew>,
}

impl Cooking {
    /// With what was ticked off before and as it was arranged last, in this window or in one that was closed or crashed.
    pub fn begin(sheet: Arc<RunSheet>, view: &View<'_>, (ctx, now): (&egui::Context, i64), actions: &mut Vec<Action>) -> Cooking {
        let kept = view.hearth.cooking(view.rotation).and_then(|k| k.day(sheet.day)).and_then(|d| d.session.as_ref());
        let (mut late, mut says) = (BTreeMap::new(), Vec::new());
        let mut now_sheet = sheet.clone();
        match kept.map(|k| (k, sheet.resumed(k))) {
            Some((kept, Some(resumed))) => {
                (now_sheet, late) = (Arc::new(resumed.sheet), resumed.late);
                says.clone_from(&kept.says);
            }
            Some((kept, None)) => {
                late = sheet.still_late(kept);
                says.push(CHANGED.into());
            }
            None => {}
        }
        let sheet = now_sheet;
        let ticked = |l: &&Line| view.hearth.is_ticked(view.rotation, &sheet.key(l));
        let done = sheet.lines.iter().filter(ticked).map(|l| l.id).collect();
        let mut cooking = Cooking { sheet, revision: view.revision, done, late, says, anew: None };
        // The window closed before what takes longer was arranged.
        if cooking.late.keys().any(|id| cooking.sheet.lines.iter().any(|l| l.id == *id && cooking.runs(l, now))) {
            cooking.anew = Some(Anew::begin(cooking.sheet.clone(), cooking.progress(now), ctx));
        }
        cooking.keep(actions);
        cooking
    }

    /// Asks for it to be kept as it stands.
    fn keep(&self, actions: &mut Vec<Action>) {
        let kept = self.sheet.kept(&self.late, &self.says);
        actions.push(Action::Cooking(Box::new(KeptChange::Session(self.sheet.day, Some(Box::new(kept))))));
    }

    /// What is at the moment in hand or on the fire.
    pub fn runs(&self, line: &Line, now: i64) -> bool {
        let to = line.to + self.late.get(&line.id).copied().unwrap_or(0);
        line.from <= now && now < to && !self.done.contains(&line.id)
    }

    /// How far the kitchen is, for arranging the rest anew.
    fn progress(&self, now: i64) -> Progress {
        let running = |l: &&Line| self.runs(l, now);
        let running = self.sheet.lines.iter().filter(|l| is_work(l)).filter(running);
        let running = running.map(|l| Running { line: l.id, late: self.late.get(&l.id).copied().unwrap_or(0) }).collect();
        // Washing up is a proposal and no step.
        let step = |id: &usize| self.sheet.lines.iter().any(|l| l.id == *id && l.kind != LineKind::WashUp);
        Progress { now, done: self.done.iter().copied().filter(step).collect(), running, ..Progress::default() }
    }

    /// Takes up what the worker has found.
    fn poll(&mut self, actions: &mut Vec<Action>) {
        let Some(found) = self.anew.as_ref().and_then(Anew::taken) else { return };
        self.anew = None;
        match found {
            Ok(new) => {
                self.says = new.says;
                if self.says.is_empty() {
                    self.says.push("Arranged anew: every time is kept.".into());
                }
                self.sheet = Arc::new(new.sheet);
                self.late.clear();
            }
            Err(refusal) => self.says = vec![format!("Not arranged anew: {}.", refusal.sentence)],
        }
        self.keep(actions);
    }
}

/// The keys of what is ticked off on a sheet.
pub(super) fn ticked(view: &View<'_>, sheet: &RunSheet) -> Vec<String> {
    sheet.lines.iter().map(|l| sheet.key(l)).filter(|key| view.hearth.is_ticked(view.rotation, key)).collect()
}

/// The tick that says that a day's cooking is under way.
pub(super) fn begun(view: &View<'_>, day: DayNo, done: bool) -> TickChange {
    TickChange { key: format!("cooking|{}|begun", day.0), done, words: format!("cooking on {}", view.rotation.day_name(day)) }
}

/// Whether a day's cooking is under way.
pub(super) fn is_begun(view: &View<'_>, day: DayNo) -> bool {
    view.hearth.is_ticked(view.rotation, &begun(view, day, true).key)
}

/// Whether the line is a step of the session, not a proposal for idle hands or the meal itself.
fn is_work(line: &Line) -> bool {
    !matches!(line.kind, LineKind::WashUp | LineKind::Sit)
}

/// The minute of the day, by this machine's clock.
pub(super) fn now() -> i64 {
    let time = jiff::ZonedDateTime::now().time();
    i64::from(time.hour()) * 60 + i64::from(time.minute())
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, page: &mut RunSheetView, actions: &mut Vec<Action>) {
    let now = page.now();
    let Some(cooking) = &mut page.cooking else { return };
    cooking.poll(actions);
    // The line of the clock moves on by the minute; nothing else asks for a frame.
    ui.ctx().request_repaint_after(Duration::from_secs(20));
    let palette = theme::palette(ui);
    let mut leave = false;
    ui.horizontal(|ui| {
        let words = format!("It is {}", clock(now));
        ui.label(Lettering::Figure.text(words).color(palette.ink));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            leave = ui.add(Button::quiet("Leave cooking")).clicked();
            let busy = cooking.anew.is_some();
            let anew = ui.add_enabled_ui(!busy, |ui| ui.add(Button::quiet("Arrange the rest from now"))).inner;
            if anew.clicked() {
                cooking.anew = Some(Anew::begin(cooking.sheet.clone(), cooking.progress(now), ui.ctx()));
            }
            if busy {
                parts::quiet(ui, "arranging…");
            }
        });
    });
    if cooking.revision != view.revision {
        parts::remark(ui, Level::Note, "The plan has been changed since; this is the sheet that you began with.");
    }
    for says in &cooking.says {
        parts::remark(ui, Level::Caution, &view.said(says));
    }
    let mut pressed = next_ui(ui, view, cooking, now);
    ui.add_space(STEP);
    lanes::ui(ui, view, &cooking.sheet.clone(), Some(now), &mut page.chosen, None);
    ui.add_space(STEP);
    let sheet = cooking.sheet.clone();
    ScrollArea::vertical().id_salt("cooking").auto_shrink(false).show(ui, |ui| {
        for line in &sheet.lines {
            let on_line = lines::ui(ui, view, &sheet, line, Some((cooking, now)), &mut page.chosen);
            pressed = pressed.take().or(on_line.map(|what| (line.id, what)));
        }
    });
    if let Some((id, what)) = pressed
        && let Some(line) = sheet.lines.iter().find(|l| l.id == id)
    {
        match what {
            lines::Pressed::Done => {
                // A second press takes the tick away.
                let done = !cooking.done.remove(&line.id);
                if done {
                    cooking.done.insert(line.id);
                }
                let words = view.said(&line.what).into_owned();
                actions.push(Action::Tick(TickChange { key: sheet.key(line), done, words }));
            }
            lines::Pressed::Longer => {
                *cooking.late.entry(line.id).or_insert(0) += MORE;
                cooking.keep(actions);
                cooking.anew = Some(Anew::begin(sheet.clone(), cooking.progress(now), ui.ctx()));
                actions.push(Action::Say(format!("{MORE} minutes more: {}", view.said(&line.what))));
            }
        }
    }
    if leave {
        let day = sheet.day;
        // What was ticked off may be gone on with, and then the sheet is as it was arranged last.
        if cooking.done.is_empty() {
            actions.push(Action::Cooking(Box::new(KeptChange::Session(day, None))));
        }
        page.cooking = None;
        actions.push(Action::Tick(begun(view, day, false)));
        actions.push(Action::Say("Cooking is over".into()));
    }
}

/// What is to be done now and next, readable from the stove, with buttons for wet hands; which line was pressed, and how.
fn next_ui(ui: &mut Ui, view: &View<'_>, cooking: &Cooking, now: i64) -> Option<(usize, lines::Pressed)> {
    /// Room that the buttons take at the right.
    const BUTTONS: f32 = 190.0;
    let palette = theme::palette(ui);
    let open = |l: &&Line| l.kind != LineKind::WashUp && !cooking.done.contains(&l.id);
    let of_hands: Vec<&Line> = cooking.sheet.lines.iter().filter(open).filter(|l| l.hands || l.kind == LineKind::Sit).collect();
    let at_once = of_hands.iter().find(|l| l.from <= now);
    let next = of_hands.iter().find(|l| l.from > now);
    let mut pressed = None;
    ui.add_space(STEP);
    Card::new().room(16).fill_width().show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 4.0;
        for (head, line) in [("Now", at_once), ("Next", next)] {
            let Some(line) = line else { continue };
            let when = if head == "Now" { format!("until {}", clock(line.to)) } else { format!("at {}", clock(line.from)) };
            let said = view.said(&line.what);
            let words = if lines::names_dish(&cooking.sheet, line) { format!("{}: {said}", line.dish) } else { said.to_string() };
            let lettering = if head == "Now" { Lettering::Title } else { Lettering::Figure };
            // Whoever is ahead of the clock ticks off the next.
            let first = head == "Now" || at_once.is_none();
            ui.horizontal_top(|ui| {
                let room = ui.available_width() - if first { BUTTONS } else { 0.0 };
                ui.vertical(|ui| {
                    ui.set_width(room.max(120.0));
                    ui.label(Lettering::SmallStrong.text(format!("{head}, {when}")).color(palette.soft));
                    ui.add(egui::Label::new(lettering.text(words).color(palette.ink)).wrap());
                });
                if !first {
                    return;
                }
                ui.with_layout(egui::Layout::right_to_left(egui::Align::TOP), |ui| {
                    let name = format!("{head} done: {said}");
                    if ui.add(Button::primary("Done").name(&name)).clicked() {
                        pressed = Some((line.id, lines::Pressed::Done));
                    }
                    if cooking.runs(line, now) {
                        let more = format!("+{MORE} min");
                        let name = format!("{MORE} minutes more now: {said}");
                        if ui.add(Button::quiet(&more).name(&name)).clicked() {
                            pressed = Some((line.id, lines::Pressed::Longer));
                        }
                    }
                });
            });
        }
        if at_once.is_none() && next.is_none() {
            ui.label(Lettering::Title.text("All is done").color(palette.ink));
        }
    });
    pressed
}
