//! What this household minds in its meals: on the sheet of the household, but kept beside all plans.

use super::parts;
use crate::{
    app::{
        action::Action,
        hearth::{HabitChange, said_words},
        marks::Icon,
        theme::STEP,
        view::View,
        widget::{Button, IconButton},
    },
    judge::{Axis, HALF_LIFE_DAYS, Hemisphere},
};
use egui::Ui;

/// The half-lives offered, in days, with their words.
const LINGERS: [(f64, &str); 4] =
    [(1.0, "a day"), (HALF_LIFE_DAYS, "a day and a half, as usual"), (2.0, "two days"), (3.0, "three days")];

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let (habits, learned) = (view.hearth.habits(), view.hearth.learned());
    parts::quiet(
        ui,
        "Kept on this machine for every plan. Say on the page of likeness which meals were too alike, and which fine.",
    );
    parts::chips_label(ui, "A likeness has half faded after (no paper gives a figure for whole dinners)");
    let now = habits.half_life.unwrap_or(HALF_LIFE_DAYS);
    parts::flow(ui, |ui| {
        for (days, words) in LINGERS {
            if parts::choice(ui, words, &format!("Likeness fades in {words}"), (now - days).abs() < 1e-9) {
                let set = (days != HALF_LIFE_DAYS).then_some(days);
                actions.push(Action::Habit(HabitChange::HalfLife(set)));
            }
        }
    });
    parts::chips_label(ui, "What matters most, in this order; press one to put it first");
    let order = view.hearth.order();
    parts::flow(ui, |ui| {
        for axis in &order {
            if parts::choice(ui, axis.word(), &format!("Put {} first", axis.word()), order.first() == Some(axis)) {
                actions.push(Action::Habit(HabitChange::First(*axis)));
            }
        }
    });
    if order != Axis::ALL && ui.add(Button::plain("The usual order").icon(Icon::Undo)).clicked() {
        actions.push(Action::Habit(HabitChange::UsualOrder));
    }
    parts::chips_label(ui, "Seasons: a word about cold plates in frost and an evening at the oven in the heat");
    parts::flow(ui, |ui| {
        let places = [
            (None, "say nothing"),
            (Some(Hemisphere::Northern), "north of the equator"),
            (Some(Hemisphere::Southern), "south of it"),
        ];
        for (place, words) in places {
            if parts::choice(ui, words, &format!("Seasons: {words}"), habits.hemisphere == place) {
                actions.push(Action::Habit(HabitChange::Hemisphere(place)));
            }
        }
    });
    ui.add_space(STEP);
    parts::plain(ui, learned.standing_words());
    for says in learned.says() {
        let answers = crate::quantity::write_units(habits.answers.len(), "answer", "answers");
        parts::plain(ui, format!("{} ({answers}).", crate::rotation::capital(&says)));
    }
    answers_ui(ui, view, actions);
}

fn answers_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    let answers = &view.hearth.habits().answers;
    if answers.is_empty() {
        return;
    }
    for answer in answers.iter().rev() {
        ui.horizontal(|ui| {
            let words = said_words(&answer.said);
            if ui.add(IconButton::new(Icon::Close, &format!("Take back: {words}"))).clicked() {
                actions.push(Action::Habit(HabitChange::TakeBack(answer.id)));
            }
            parts::quiet(ui, format!("{}: {words}", answer.on));
        });
    }
    if ui.add(Button::quiet("Forget all answers")).clicked() {
        actions.push(Action::Habit(HabitChange::ForgetAnswers));
    }
}
