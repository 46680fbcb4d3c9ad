//! What food is cooled in, and how cold the household wants it how soon: on the sheet of the household, kept in the plan.

use super::{asking::sentence, parts};
use crate::{
    app::{
        action::Action,
        marks::Icon,
        theme::{self, Lettering, STEP},
        view::View,
        widget::{Button, Field, IconButton},
    },
    rotation::{CoolTo, Edit, FoodBox, Storage, apply},
};
use egui::Ui;

/// What is typed about boxes and the rule.
#[derive(Default)]
pub(super) struct BoxesTyped {
    name: String,
    long: String,
    wide: String,
    high: String,
    metal: bool,
    wrong: Option<String>,
    to_c: String,
    within: String,
    rule_wrong: Option<String>,
}

/// The boxes that are there, a row for one more, and the household's own rule.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, typed: &mut BoxesTyped, actions: &mut Vec<Action>) {
    let storage = &view.rotation.storage;
    if storage.boxes.is_empty() {
        parts::quiet(
            ui,
            "None named: a pot of 24 cm, boxes of 20 × 15 × 10 cm and trays of 32 × 24 × 5 cm are taken for granted.",
        );
    }
    for (place, own) in storage.boxes.iter().enumerate() {
        box_row(ui, view, place, own, actions);
    }
    ui.add_space(STEP);
    new_box(ui, view, typed, actions);
    parts::chips_label(ui, "A stricter rule for cooling, beside 21 °C in 2 h and 5 °C in 6 h (FDA Food Code 2022, 3-501.14)");
    rule(ui, view, typed, actions);
}

/// "Flat box, 20 × 15 × 5 cm, plastic".
fn words(own: &FoodBox) -> String {
    let cm = |mm: u16| {
        let tenth = f64::from(mm) / 10.0;
        if mm.is_multiple_of(10) { format!("{tenth:.0}") } else { format!("{tenth:.1}") }
    };
    let (long, wide, high) = own.size_mm;
    let of = if own.metal { "metal" } else { "plastic or glass" };
    format!("{}, {} × {} × {} cm, {of}", own.name, cm(long), cm(wide), cm(high))
}

fn box_row(ui: &mut Ui, view: &View<'_>, place: usize, own: &FoodBox, actions: &mut Vec<Action>) {
    let set = |change: &dyn Fn(&mut Vec<FoodBox>)| {
        let mut storage = view.rotation.storage.clone();
        change(&mut storage.boxes);
        storage
    };
    let mut next = None;
    ui.horizontal(|ui| {
        if ui.add(IconButton::new(Icon::Close, &format!("Take away the {}", own.name)).hint("Take it away")).clicked() {
            next = Some(set(&|boxes| {
                boxes.remove(place);
            }));
        }
        let fewer = format!("One {} less", own.name);
        if ui.add_enabled(own.count > 1, IconButton::new(Icon::Minus, &fewer).framed()).clicked() {
            next = Some(set(&|boxes| boxes[place].count = own.count.saturating_sub(1)));
        }
        ui.label(Lettering::Strong.text(own.count.to_string()).color(theme::palette(ui).ink));
        if ui.add(IconButton::new(Icon::Plus, &format!("One {} more", own.name)).framed()).clicked() {
            next = Some(set(&|boxes| boxes[place].count = own.count.saturating_add(1)));
        }
        parts::plain(ui, words(own));
    });
    if let Some(storage) = next {
        put(view, storage, actions);
    }
}

/// Asks for the edit, or says why there is none.
fn put(view: &View<'_>, storage: Storage, actions: &mut Vec<Action>) {
    let edit = Edit::SetStorage(storage);
    match apply(view.rotation, &edit) {
        Ok(_) => actions.push(Action::Edit(edit)),
        Err(refusal) => actions.push(Action::Say(format!("Not done: {}", refusal.0))),
    }
}

fn new_box(ui: &mut Ui, view: &View<'_>, typed: &mut BoxesTyped, actions: &mut Vec<Action>) {
    let mut add = false;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = egui::vec2(STEP, STEP);
        Field::new("Box, called", &mut typed.name).hint("flat box").width(130.0).show(ui);
        for (label, text) in [("Length, cm", &mut typed.long), ("Width, cm", &mut typed.wide), ("Height, cm", &mut typed.high)] {
            Field::new(label, text).width(86.0).show(ui);
        }
    });
    parts::flow(ui, |ui| {
        for (metal, words) in [(false, "plastic or glass"), (true, "metal")] {
            if parts::choice(ui, words, &format!("The box is of {words}"), typed.metal == metal) {
                typed.metal = metal;
            }
        }
        add = ui.add(Button::quiet("Add the box")).clicked();
    });
    if add {
        match read_box(typed).and_then(|own| {
            let mut storage = view.rotation.storage.clone();
            storage.boxes.push(own);
            let edit = Edit::SetStorage(storage);
            apply(view.rotation, &edit).map(|_| edit).map_err(|refusal| sentence(&refusal))
        }) {
            Ok(edit) => {
                actions.push(Action::Edit(edit));
                *typed = BoxesTyped { to_c: typed.to_c.clone(), within: typed.within.clone(), ..BoxesTyped::default() };
            }
            Err(why) => typed.wrong = Some(why),
        }
    }
    said(ui, typed.wrong.as_deref());
}

fn said(ui: &mut Ui, wrong: Option<&str>) {
    if let Some(wrong) = wrong {
        ui.add(egui::Label::new(Lettering::Small.text(wrong).color(theme::palette(ui).stop)).wrap());
    }
}

/// A number as people write it, with a point or a comma.
fn number(text: &str, what: &str) -> Result<f64, String> {
    let read = text.trim().replace(',', ".").parse::<f64>().ok().filter(|n| n.is_finite() && n.abs() < 1e6);
    read.ok_or_else(|| format!("{what} is a number, like 20 or 7.5"))
}

fn read_box(typed: &BoxesTyped) -> Result<FoodBox, String> {
    let name = match typed.name.trim() {
        "" => return Err("Say what the box is called".into()),
        name => name.to_lowercase(),
    };
    let mm = |text: &str, what: &str| -> Result<u16, String> {
        let cm = number(text, what)?;
        // What is out of bounds is refused by the plan, in its own words.
        Ok((10.0 * cm).round().clamp(0.0, f64::from(u16::MAX)) as u16)
    };
    let size_mm = (mm(&typed.long, "The length")?, mm(&typed.wide, "The width")?, mm(&typed.high, "The height")?);
    Ok(FoodBox { name, size_mm, metal: typed.metal, count: 1 })
}

fn rule(ui: &mut Ui, view: &View<'_>, typed: &mut BoxesTyped, actions: &mut Vec<Action>) {
    let storage = &view.rotation.storage;
    if let Some(own) = storage.cooling {
        ui.horizontal(|ui| {
            if ui.add(IconButton::new(Icon::Close, "No rule for cooling of our own").hint("Take it away")).clicked() {
                put(view, Storage { cooling: None, ..storage.clone() }, actions);
            }
            parts::plain(ui, format!("{} °C within {} min of coming down to 57 °C", own.to_c, own.within));
        });
        return;
    }
    let mut set = false;
    ui.horizontal(|ui| {
        Field::new("As cold as, °C", &mut typed.to_c).hint("8").width(110.0).show(ui);
        Field::new("Within, minutes", &mut typed.within).hint("90").width(110.0).show(ui);
        ui.vertical(|ui| {
            ui.add_space(20.0);
            set = ui.add(Button::quiet("Keep this rule")).clicked();
        });
    });
    if set {
        let read = || -> Result<Edit, String> {
            let to_c = number(&typed.to_c, "How cold")?;
            let within = number(&typed.within, "The time in minutes")?.round().clamp(0.0, f64::from(u16::MAX)) as u16;
            let edit = Edit::SetStorage(Storage { cooling: Some(CoolTo { to_c, within }), ..storage.clone() });
            apply(view.rotation, &edit).map(|_| edit).map_err(|refusal| sentence(&refusal))
        };
        match read() {
            Ok(edit) => {
                actions.push(Action::Edit(edit));
                typed.rule_wrong = None;
            }
            Err(why) => typed.rule_wrong = Some(why),
        }
    }
    said(ui, typed.rule_wrong.as_deref());
}
