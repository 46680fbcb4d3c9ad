//! The sheet of the calendar: when it begins, its days, its mealtimes.

use super::{
    asking::Asking,
    dates::{long_date, read_date, short_date, write_date},
    frame::{self, Head, Keyboard},
    mealtimes::Mealtimes,
    opened::Opened,
    parts,
    typed::{Typed, TypedField},
};
use crate::{
    app::{
        action::Action,
        marks::Icon,
        theme::{self, Lettering, STEP},
        view::View,
        widget::{Button, IconButton},
    },
    quantity::{DayNo, write_units},
    rotation::Edit,
};
use egui::{Align, Context, Layout, Ui, vec2};
use jiff::ToSpan as _;

/// What is typed on the sheet of the days.
#[derive(Default)]
pub(super) struct DaysSheet {
    first: Typed,
    asking: Asking<Place>,
    mealtimes: Mealtimes,
    opened: Opened,
}

/// Where something was pressed.
#[derive(PartialEq)]
enum Place {
    First,
    Day(DayNo),
    Another,
}

/// Draws the sheet.
pub(super) fn ui(ctx: &Context, view: &View<'_>, keyboard: &mut Keyboard, sheet: &mut DaysSheet, actions: &mut Vec<Action>) {
    let r = view.rotation;
    let last = short_date(r.date(r.last_day()));
    let under = match r.days {
        1 => last,
        days => format!("{days} days, {} to {last}", short_date(r.first_day)),
    };
    let head = Head {
        title: "Days and mealtimes",
        under: &under,
        name: "days",
        width: 480.0,
        edits: true,
        holds_answers: false,
        fills_in: true,
    };
    let body = |ui: &mut Ui, sheet: &mut DaysSheet, actions: &mut Vec<Action>| {
        parts::section(ui, "The first day");
        first_day_ui(ui, view, sheet, actions);
        parts::section(ui, "The piece");
        sheet.opened.show(ui, view, actions);
        parts::section(ui, "Mealtimes of every day");
        sheet.mealtimes.show(ui, view, actions);
        parts::section(ui, "The days");
        days_ui(ui, view, sheet, actions);
    };
    frame::show(ctx, &head, keyboard, sheet, actions, body, None::<fn(&mut Ui, &mut DaysSheet, &mut Vec<Action>)>);
}

fn first_day_ui(ui: &mut Ui, view: &View<'_>, sheet: &mut DaysSheet, actions: &mut Vec<Action>) {
    let first = view.rotation.first_day;
    let read = |text: &str, _: bool| read_date(text, first).map(Edit::SetFirstDay);
    let shown = write_date(first);
    let spec = TypedField { label: "Begins on", hint: "7 Dec 2026", width: 180.0, label_hidden: false, shown, read: &read };
    parts::steady(ui, "first", |ui| sheet.first.show(ui, view, spec, actions));
    parts::flow(ui, |ui| {
        for (sign, words, days) in [
            ("−1 week", "a week earlier", -7),
            ("−1 day", "a day earlier", -1),
            ("+1 day", "a day later", 1),
            ("+1 week", "a week later", 7),
        ] {
            let name = format!("Begin {words}");
            if ui.add(Button::quiet(sign).name(&name)).clicked() {
                match first.checked_add(days.days()) {
                    Ok(date) => {
                        sheet.asking.ask(view, Place::First, Edit::SetFirstDay(date), actions);
                    }
                    Err(_) => sheet.asking.refuse(view, Place::First, "The calendar ends here.".into()),
                }
            }
        }
    });
    sheet.asking.say(ui, view, &Place::First);
    parts::quiet(ui, "Everything planned moves along with the first day.");
}

fn days_ui(ui: &mut Ui, view: &View<'_>, sheet: &mut DaysSheet, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    for day in r.day_numbers() {
        let meals = r.meals.iter().filter(|(slot, meal)| slot.day == day && !meal.servings.is_empty()).count();
        let made = r.batches.iter().filter(|b| b.day == day).count();
        let planned = match (meals, made) {
            (0, 0) => "nothing planned".to_string(),
            (0, made) => format!("{} made", write_units(made, "dish", "dishes")),
            (meals, _) => format!("{} planned", write_units(meals, "meal", "meals")),
        };
        ui.push_id(day, |ui| {
            ui.allocate_ui_with_layout(
                vec2(ui.available_width(), theme::TALL_TARGET),
                Layout::left_to_right(Align::Center),
                |ui| {
                    ui.label(Lettering::Body.text(long_date(r.date(day))).color(palette.ink));
                    ui.label(Lettering::Small.text(planned).color(palette.soft));
                    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                        let name = format!("Take {} out", long_date(r.date(day)));
                        if ui.add(IconButton::new(Icon::Bin, &name).side(theme::TALL_TARGET)).clicked() {
                            sheet.asking.ask(view, Place::Day(day), Edit::RemoveDay(day), actions);
                        }
                    });
                },
            );
            sheet.asking.say(ui, view, &Place::Day(day));
        });
    }
    ui.add_space(STEP / 2.0);
    let next = long_date(r.date(DayNo(r.last_day().0.saturating_add(1))));
    if ui.add(Button::quiet(&format!("Add {next}")).icon(Icon::Plus)).clicked() {
        sheet.asking.ask(view, Place::Another, Edit::AddDay, actions);
    }
    sheet.asking.say(ui, view, &Place::Another);
}
