//! What the kitchen has to cook on and to keep food in: on the sheet of the household, kept in the plan.

use super::{
    asking::sentence,
    parts,
    typed::{Typed, TypedField},
};
use crate::{
    app::{
        action::Action,
        marks::Icon,
        theme::{self, Lettering, STEP},
        view::View,
        widget::{Button, Field, IconButton},
    },
    quantity::{DayNo, read_time},
    rotation::{Edit, Fridge, Kitchen, Moment, PowerCut, Storage, apply},
};
use egui::Ui;
use jiff::civil::Time;

/// What is typed about the kitchen.
#[derive(Default)]
pub(super) struct KitchenTyped {
    opens: Typed,
    closes: Typed,
    opened_at: Typed,
    cut_day: Option<DayNo>,
    cut_from: String,
    cut_to: String,
    cut_wrong: Option<String>,
}

/// Paces offered, in hundredths of the book's, with their words.
const PACES: [(u16, &str); 5] =
    [(60, "much slower"), (80, "slower"), (100, "as the book says"), (125, "faster"), (150, "much faster")];
/// Temperatures of the fridge offered; nothing: as limits take it.
const COLD: [(Option<f64>, &str); 5] =
    [(None, "5 °C or colder"), (Some(6.0), "6 °C"), (Some(7.0), "7 °C"), (Some(8.0), "8 °C"), (Some(10.0), "10 °C")];

/// Hands, fire and hours.
pub(super) fn cooking_ui(ui: &mut Ui, view: &View<'_>, typed: &mut KitchenTyped, actions: &mut Vec<Action>) {
    let now = view.rotation.kitchen;
    let mut set = |next: Kitchen| actions.push(Action::Edit(Edit::SetKitchen(next)));
    numbers(ui, "Cooks", ("cook", "cooks"), 1..=4, now.cooks, |n| set(Kitchen { cooks: n, ..now }));
    numbers(ui, "Rings of the hob", ("ring", "rings"), 0..=6, now.rings, |n| set(Kitchen { rings: n, ..now }));
    numbers(ui, "Shelves of the oven", ("shelf", "shelves"), 0..=3, now.shelves, |n| set(Kitchen { shelves: n, ..now }));
    parts::chips_label(ui, "The oven");
    parts::flow(ui, |ui| {
        for (fan, words) in [(false, "without a fan"), (true, "with a fan: set 20 °C lower")] {
            if parts::choice(ui, words, &format!("The oven is {words}"), now.fan == fan) && now.fan != fan {
                set(Kitchen { fan, ..now });
            }
        }
    });
    parts::chips_label(ui, "Hands work");
    parts::flow(ui, |ui| {
        for (pace, words) in PACES {
            if parts::choice(ui, words, &format!("Hands work {words}"), now.pace == pace) && now.pace != pace {
                set(Kitchen { pace, ..now });
            }
        }
    });
    ui.add_space(STEP);
    ui.horizontal(|ui| {
        let read = |text: &str, closes: bool| -> Result<Edit, String> {
            let at = read_time(text).map_err(|e| e.to_string())?;
            let next = if closes { Kitchen { closes: at, ..now } } else { Kitchen { opens: at, ..now } };
            let edit = Edit::SetKitchen(next);
            apply(view.rotation, &edit).map(|_| edit).map_err(|refusal| sentence(&refusal))
        };
        let field = |label: &'static str, shown: Time, read| TypedField {
            label,
            hint: "HH:MM",
            width: 110.0,
            label_hidden: false,
            shown: clock(shown),
            read,
        };
        let opens = |text: &str, _: bool| read(text, false);
        let closes = |text: &str, _: bool| read(text, true);
        typed.opens.show(ui, view, field("Begin no sooner than", now.opens, &opens), actions);
        ui.add_space(2.0 * STEP);
        typed.closes.show(ui, view, field("All in the fridge by", now.closes, &closes), actions);
    });
}

/// Fridge, freezer, and the hour of the opening.
pub(super) fn keeping_ui(ui: &mut Ui, view: &View<'_>, typed: &mut KitchenTyped, actions: &mut Vec<Action>) {
    let r = view.rotation;
    parts::chips_label(
        ui,
        "The fridge runs at (put a thermometer in; a warm one shortens what keeps, a cold one lengthens nothing)",
    );
    parts::flow(ui, |ui| {
        for (runs_at, words) in COLD {
            if parts::choice(ui, words, &format!("The fridge runs at {words}"), r.fridge.runs_at == runs_at) {
                actions.push(Action::Edit(Edit::SetFridge(Fridge { runs_at, ..r.fridge.clone() })));
            }
        }
    });
    for cut in &r.fridge.cuts {
        ui.horizontal(|ui| {
            let words = cut.words(r);
            if ui.add(IconButton::new(Icon::Close, &format!("There was power {words}"))).clicked() {
                let cuts = r.fridge.cuts.iter().filter(|c| *c != cut).copied().collect();
                actions.push(Action::Edit(Edit::SetFridge(Fridge { cuts, ..r.fridge.clone() })));
            }
            parts::quiet(ui, format!("Without power {words}"));
        });
    }
    cut_ui(ui, view, typed, actions);
    parts::chips_label(ui, "A freezer");
    parts::flow(ui, |ui| {
        for (freezer, words) in [(false, "none"), (true, "at −18 °C or colder")] {
            if parts::choice(ui, words, &format!("The freezer: {words}"), r.storage.freezer == freezer)
                && r.storage.freezer != freezer
            {
                let edit = Edit::SetStorage(Storage { freezer, ..r.storage.clone() });
                match apply(r, &edit) {
                    Ok(_) => actions.push(Action::Edit(edit)),
                    Err(refusal) => actions.push(Action::Say(format!("Not done: {}", refusal.0))),
                }
            }
        }
    });
    ui.add_space(STEP);
    let read = |text: &str, _: bool| -> Result<Edit, String> {
        let opened_at = match text.trim() {
            "" => None,
            text => Some(read_time(text).map_err(|e| e.to_string())?),
        };
        let edit = Edit::SetStorage(Storage { opened_at, ..r.storage.clone() });
        apply(r, &edit).map(|_| edit).map_err(|refusal| sentence(&refusal))
    };
    let field = TypedField {
        label: "The piece was opened, or bought, at (for clocks in hours)",
        hint: "some time that day",
        width: 160.0,
        label_hidden: false,
        shown: r.storage.opened_at.map(clock).unwrap_or_default(),
        read: &read,
    };
    typed.opened_at.show(ui, view, field, actions);
}

/// A time without power, noted.
fn cut_ui(ui: &mut Ui, view: &View<'_>, typed: &mut KitchenTyped, actions: &mut Vec<Action>) {
    let r = view.rotation;
    parts::chips_label(ui, "The fridge was without power on");
    parts::flow(ui, |ui| {
        for day in r.day_numbers() {
            let name = format!("Without power on {}", r.day_name(day));
            if parts::choice(ui, &r.day_name(day), &name, typed.cut_day == Some(day)) {
                typed.cut_day = if typed.cut_day == Some(day) { None } else { Some(day) };
            }
        }
    });
    let Some(day) = typed.cut_day else { return };
    let mut noted = false;
    ui.horizontal(|ui| {
        Field::new("From", &mut typed.cut_from).hint("14:00").width(90.0).show(ui);
        Field::new("Until", &mut typed.cut_to).hint("20:00").width(90.0).show(ui);
        noted = ui.add(Button::quiet("Note the power cut")).clicked();
    });
    if noted {
        match cut_edit(view, day, &typed.cut_from, &typed.cut_to) {
            Ok(edit) => {
                actions.push(Action::Edit(edit));
                (typed.cut_day, typed.cut_wrong) = (None, None);
            }
            Err(why) => typed.cut_wrong = Some(why),
        }
    }
    if let Some(wrong) = &typed.cut_wrong {
        ui.add(egui::Label::new(Lettering::Small.text(wrong.as_str()).color(theme::palette(ui).stop)).wrap());
    }
}

/// An end that is not after the beginning lies on the next day.
fn cut_edit(view: &View<'_>, day: DayNo, from: &str, to: &str) -> Result<Edit, String> {
    let read = |text: &str| read_time(text).map_err(|e| e.to_string());
    let (from, to) = (read(from)?, read(to)?);
    let until = if to > from { day } else { DayNo(day.0 + 1) };
    let cut = PowerCut { from: Moment { day, at: from }, to: Moment { day: until, at: to } };
    let mut fridge = view.rotation.fridge.clone();
    fridge.cuts.push(cut);
    fridge.cuts.sort();
    let edit = Edit::SetFridge(fridge);
    apply(view.rotation, &edit).map(|_| edit).map_err(|refusal| sentence(&refusal))
}

fn numbers(
    ui: &mut Ui,
    label: &str,
    (one, many): (&str, &str),
    range: std::ops::RangeInclusive<u8>,
    now: u8,
    mut set: impl FnMut(u8),
) {
    parts::chips_label(ui, label);
    parts::flow(ui, |ui| {
        for n in range {
            if parts::choice(ui, &n.to_string(), &format!("The kitchen has {n} {}", if n == 1 { one } else { many }), now == n)
                && now != n
            {
                set(n);
            }
        }
    });
}

fn clock(at: Time) -> String {
    format!("{:02}:{:02}", at.hour(), at.minute())
}
