//! What could be done on an earlier day, with what it saves and costs; each is taken or left.
//!
//! Where the plan has a word for it, taking it is an edit. Where it has none (a dough that lies over night) both days' run sheets
//! are made as if it were done, until the plan changes or it is given back.

use super::seek::{SeekAhead, Stamp};
use crate::{
    app::{
        action::Action,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::View,
        widget::{Button, Card},
    },
    quantity::DayNo,
    rotation::Rotation,
    runsheet::Proposal,
};
use egui::Ui;
use std::sync::Arc;

/// A proposal that was taken without an edit.
struct Taken {
    day: DayNo,
    on: DayNo,
    words: String,
    plan: Arc<Rotation>,
}

/// What the page remembers of proposals.
#[derive(Default)]
pub(super) struct Ahead {
    /// Whether they are shown.
    open: bool,
    known: Option<(DayNo, Stamp, Vec<Proposal>)>,
    seek: Option<SeekAhead>,
    /// Those that were left, by their words.
    left: Vec<String>,
    /// For this revision of the plan.
    revision: u64,
    taken: Vec<Taken>,
}

impl Ahead {
    /// The plan that sheets are made of, and what they are stamped with.
    pub fn kitchen(&mut self, view: &View<'_>) -> (Arc<Rotation>, Stamp) {
        if self.revision != view.revision {
            self.revision = view.revision;
            self.taken.clear();
        }
        let plan = self.taken.last().map_or_else(|| view.rotation.clone(), |t| t.plan.clone());
        (plan, (view.revision, self.taken.len()))
    }

    fn know(&mut self, ui: &Ui, plan: &Arc<Rotation>, day: DayNo, stamp: Stamp) {
        if let Some(seek) = &self.seek {
            if (seek.day, seek.stamp) != (day, stamp) {
                self.seek = None;
            } else if let Some(found) = seek.taken() {
                self.known = Some((day, stamp, found));
                self.seek = None;
            }
        }
        let is_known = self.known.as_ref().is_some_and(|k| (k.0, k.1) == (day, stamp));
        if self.seek.is_none() && !is_known {
            self.seek = Some(SeekAhead::begin(plan.clone(), day, stamp, ui.ctx()));
        }
    }
}

/// The button that shows them.
pub(super) fn button(ui: &mut Ui, ahead: &mut Ahead) {
    let words = if ahead.open { "Hide what may be done ahead" } else { "What may be done ahead?" };
    if ui.add(Button::quiet(words)).clicked() {
        ahead.open = !ahead.open;
    }
}

/// What was taken for this day or on it, and the proposals where they are shown.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, ahead: &mut Ahead, day: DayNo, actions: &mut Vec<Action>) {
    let r = view.rotation;
    let palette = theme::palette(ui);
    let mut back = false;
    for taken in ahead.taken.iter().filter(|t| t.day == day || t.on == day) {
        parts::remark(ui, crate::app::marks::Level::Note, &format!("Done ahead, for {}: {}", r.day_name(taken.day), taken.words));
        back |= ui.add(Button::quiet("As planned, nothing ahead")).clicked();
    }
    if back {
        ahead.taken.clear();
        actions.push(Action::Say("Nothing is done ahead".into()));
    }
    if !ahead.open {
        return;
    }
    let (plan, stamp) = ahead.kitchen(view);
    ahead.know(ui, &plan, day, stamp);
    let known = ahead.known.as_ref().filter(|k| (k.0, k.1) == (day, stamp));
    let Some((_, _, proposals)) = known else {
        parts::quiet(ui, "Looking for what may be done on an earlier day\u{2026}");
        return;
    };
    let mut take: Option<Proposal> = None;
    let mut leave: Option<String> = None;
    let mut shown = 0;
    for p in proposals.iter().filter(|p| !ahead.left.contains(&p.words)) {
        shown += 1;
        Card::new().room(12).fill_width().show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 4.0;
            ui.add(egui::Label::new(Lettering::Strong.text(view.said(&p.words)).color(palette.ink)).wrap());
            parts::plain(ui, p.figures());
            parts::quiet(ui, view.said(&p.cost));
            ui.horizontal(|ui| {
                if ui.add(Button::plain("Take").name(&format!("Take: {}", view.said(&p.words)))).clicked() {
                    take = Some(p.clone());
                }
                if ui.add(Button::quiet("Leave").name(&format!("Leave: {}", view.said(&p.words)))).clicked() {
                    leave = Some(p.words.clone());
                }
            });
        });
    }
    if shown == 0 {
        parts::quiet(ui, format!("Nothing that saves five minutes or more may be done before {}.", r.day_name(day)));
    }
    ui.add_space(STEP);
    if let Some(words) = leave {
        actions.push(Action::Say(format!("Left: {}", view.said(&words))));
        ahead.left.push(words);
    }
    if let Some(p) = take {
        match p.edit {
            Some(edit) => actions.push(Action::Edit(edit)),
            None => {
                actions.push(Action::Say(format!("Taken: {}", view.said(&p.words))));
                ahead.taken.push(Taken { day, on: p.on, words: p.words, plan: p.kitchen_plan });
            }
        }
    }
}
