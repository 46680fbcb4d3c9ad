//! What could be done on an earlier day, with what it saves and costs; each is taken or left.
//!
//! Where the plan has a word for it, taking it is an edit. Where it has none (a dough that lies over night) both days' run sheets
//! are made as if it were done, until it is given back or the plan no longer has what it is about. What was taken and left is
//! kept beside the ticks.

use super::seek::{SeekAhead, Stamp};
use crate::{
    app::{
        action::Action,
        marks::Level,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::View,
        widget::{Button, Card},
    },
    quantity::DayNo,
    rotation::Rotation,
    runsheet::{DoneAhead, KeptChange, Proposal, TakenAhead},
};
use egui::Ui;
use std::sync::Arc;

/// What the page remembers of proposals.
#[derive(Default)]
pub(super) struct Ahead {
    /// Whether they are shown.
    open: bool,
    known: Option<(DayNo, Stamp, Vec<Proposal>)>,
    seek: Option<SeekAhead>,
    /// What is done ahead, for this revision of the plan and for what was taken.
    done: Option<(u64, Vec<TakenAhead>, DoneAhead)>,
    /// How often that has changed.
    changes: usize,
}

impl Ahead {
    /// The plan that sheets are made of, and what they are stamped with.
    pub fn kitchen(&mut self, view: &View<'_>, actions: &mut Vec<Action>) -> (Arc<Rotation>, Stamp) {
        let kept = view.hearth.cooking(view.rotation);
        let taken = kept.map_or(&[][..], |k| &k.ahead);
        if self.done.as_ref().is_none_or(|(revision, of, _)| (*revision, &of[..]) != (view.revision, taken)) {
            let done = kept.map(|k| k.done_ahead(view.rotation)).unwrap_or_default();
            if !done.lost.is_empty() {
                actions.push(Action::Say(format!("No longer done ahead, since the plan has changed: {}", words(&done.lost))));
            }
            self.done = Some((view.revision, taken.to_vec(), done));
            self.changes += 1;
        }
        let plan = self.done.as_ref().and_then(|(_, _, done)| done.plan.clone());
        (plan.unwrap_or_else(|| view.rotation.clone()), (view.revision, self.changes))
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

fn words(taken: &[TakenAhead]) -> String {
    taken.iter().map(|t| t.words.as_str()).collect::<Vec<_>>().join(" ")
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
    let (plan, stamp) = ahead.kitchen(view, actions);
    let mut back = false;
    if let Some((_, _, done)) = &ahead.done {
        for t in done.taken.iter().filter(|t| t.day == day || t.on == day) {
            parts::remark(ui, Level::Note, &format!("Done ahead, for {}: {}", r.day_name(t.day), view.said(&t.words)));
            back |= ui.add(Button::quiet("As planned, nothing ahead")).clicked();
        }
        for t in done.lost.iter().filter(|t| t.day == day || t.on == day) {
            let words = format!("No longer done ahead, since the plan has changed: {}", view.said(&t.words));
            parts::remark(ui, Level::Note, &words);
        }
    }
    if back {
        actions.push(Action::Cooking(Box::new(KeptChange::Ahead(Vec::new()))));
        actions.push(Action::Say("Nothing is done ahead".into()));
    }
    if !ahead.open {
        return;
    }
    ahead.know(ui, &plan, day, stamp);
    let known = ahead.known.as_ref().filter(|k| (k.0, k.1) == (day, stamp));
    let Some((_, _, proposals)) = known else {
        parts::quiet(ui, "Looking for what may be done on an earlier day\u{2026}");
        return;
    };
    let mut take: Option<Proposal> = None;
    let mut leave: Option<String> = None;
    let mut shown = 0;
    let kept = view.hearth.cooking(r);
    for p in proposals.iter().filter(|p| kept.is_none_or(|k| !k.left.contains(&p.words))) {
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
        actions.push(Action::Cooking(Box::new(KeptChange::Left(words))));
    }
    if let Some(p) = take {
        if let Some(edit) = p.edit {
            actions.push(Action::Edit(edit));
        }
        if let Some(taken) = p.ahead {
            actions.push(Action::Say(format!("Taken: {}", view.said(&p.words))));
            // What can no longer be done is let go with it.
            let still = ahead.done.as_ref().map_or(&[][..], |(_, _, done)| &done.taken);
            let all = still.iter().cloned().chain([taken]).collect();
            actions.push(Action::Cooking(Box::new(KeptChange::Ahead(all))));
        }
    }
}
