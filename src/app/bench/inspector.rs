//! What is served at the selected meal: its grams to type, who eats it, and what can be done with it by plain clicks.

use super::{Bench, GramsField, fits};
use crate::{
    app::{
        action::Action,
        book_view::Page,
        carry::Carried,
        marks::Icon,
        theme::{self, Lettering, TALL_TARGET},
        view::{View, spoken},
        widget::{Button, Card, Chip, Field, IconButton},
    },
    quantity::{read_grams, write_grams},
    rotation::{Edit, Serving, Slot},
};
use egui::Ui;
use std::sync::Arc;

/// Grams that one press of plus or minus changes.
const STEP: u32 = 10;

pub fn ui(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    let Some(slot) = bench.selected else { return };
    let palette = theme::palette(ui);
    let r = view.rotation;
    let main = view.main_serving(slot).map(|(s, d)| (s.clone(), d.clone()));
    Card::new().fill_width().room(12.0).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 6.0;
        ui.horizontal(|ui| {
            ui.add(egui::Label::new(Lettering::SmallStrong.text(r.slot_name(slot)).color(palette.soft)).truncate());
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if ui.add(IconButton::new(Icon::Close, &format!("Close {}", r.slot_name(slot))).hint("Close")).clicked() {
                    actions.push(Action::Select(None));
                }
            });
        });
        if let Some((serving, dish)) = &main {
            ui.add(egui::Label::new(Lettering::Dish.text(dish.name.as_str()).color(palette.ink)).wrap());
            grams(ui, view, bench, slot, serving, actions);
        }
        who(ui, view, slot, actions);
        if let Some((serving, dish)) = &main {
            twins(ui, view, slot, serving, dish, actions);
            buttons(ui, slot, serving, actions);
            making(ui, view, serving, dish);
        }
        let carrying = bench.carry.is_some();
        fits::ui(ui, view, &mut bench.fits, slot, carrying, actions);
    });
    ui.add_space(8.0);
}

/// The grams: typed as people write them, or stepped by ten.
fn grams(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, slot: Slot, serving: &Serving, actions: &mut Vec<Action>) {
    let shown = spoken(&write_grams(serving.portion.get(), view.system));
    let own = bench.grams.as_ref().is_some_and(|g| g.slot == slot && g.batch == serving.batch);
    if !own {
        bench.grams = Some(GramsField { slot, batch: serving.batch, text: shown.clone(), error: None });
    }
    let dish_name = view.rotation.dish_of(serving.batch).map_or(String::new(), |d| d.name.clone());
    let mut to = None;
    ui.horizontal(|ui| {
        ui.set_min_height(TALL_TARGET);
        let less = IconButton::new(Icon::Minus, "10 g less").hint("10 g less").side(TALL_TARGET).framed();
        if ui.add(less).clicked() {
            to = Some(serving.portion.get().saturating_sub(1) / STEP * STEP);
        }
        if let Some(field) = &mut bench.grams {
            let label = format!("Grams of {dish_name}");
            let response = Field::new(&label, &mut field.text).label_hidden().width(104.0).show(ui);
            let typed = typed_edit(view, slot, serving, &field.text);
            if response.changed() {
                // Only said while it is typed: half a figure is nobody's wish.
                field.error = typed.as_ref().err().cloned();
            }
            if response.lost_focus() {
                if ui.input(|i| i.key_pressed(egui::Key::Escape)) || field.text.trim() == shown {
                    field.text = shown.clone();
                    field.error = None;
                } else {
                    match typed {
                        Ok(edit) => {
                            field.error = None;
                            actions.push(Action::Edit(edit));
                        }
                        Err(why) => {
                            actions.push(Action::Say(format!("Not done: {why}")));
                            field.error = Some(why);
                        }
                    }
                }
            } else if !response.has_focus() && field.error.is_none() && field.text != shown {
                field.text = shown.clone();
            }
        }
        let more = IconButton::new(Icon::Plus, "10 g more").hint("10 g more").side(TALL_TARGET).framed();
        if ui.add(more).clicked() {
            to = Some((serving.portion.get() / STEP + 1) * STEP);
        }
    });
    if let Some(error) = bench.grams.as_ref().and_then(|g| g.error.as_deref()) {
        let palette = theme::palette(ui);
        ui.add(egui::Label::new(Lettering::Small.text(error).color(palette.stop)).wrap());
    }
    if let Some(grams) = to {
        actions.push(Action::Edit(Edit::SetServing { slot, batch: serving.batch, portion: serving.portion.with(grams.max(1)) }));
        bench.grams = None;
    }
}

/// The edit that a typed mass comes to, or why there is none.
fn typed_edit(view: &View<'_>, slot: Slot, serving: &Serving, text: &str) -> Result<Edit, String> {
    let grams = read_grams(text, view.system, view.rotation.kind.cup).map_err(|why| why.to_string())?;
    if grams == 0 {
        return Err("0 g is no serving: take it off instead".into());
    }
    let edit = Edit::SetServing { slot, batch: serving.batch, portion: serving.portion.with(grams) };
    crate::rotation::apply(view.rotation, &edit).map(|_| edit).map_err(|refusal| refusal.0)
}

/// Who sits down: a pill each, pressed in or out.
fn who(ui: &mut Ui, view: &View<'_>, slot: Slot, actions: &mut Vec<Action>) {
    let r = view.rotation;
    let present = r.eaters_at(slot);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = egui::vec2(4.0, 4.0);
        for eater in &r.household.eaters {
            let here = present.contains(&eater.id);
            let name = format!("{} {} at {}", eater.name, if here { "sits down" } else { "is away" }, r.slot_name(slot));
            if ui.add(Chip::new(&eater.name).selected(here).name(&name)).clicked() {
                actions.push(Action::Edit(Edit::SetPresent { slot, eater: eater.id, present: !here }));
            }
        }
    });
}

/// Twins of the dish, for those at the table who eat otherwise.
fn twins(ui: &mut Ui, view: &View<'_>, slot: Slot, serving: &Serving, dish: &Arc<crate::book::Dish>, actions: &mut Vec<Action>) {
    if dish.twins.is_empty() {
        return;
    }
    let r = view.rotation;
    let palette = theme::palette(ui);
    for eater in r.eaters_at(slot) {
        let now = serving.twins.iter().find(|t| t.eater == eater).map(|t| t.twin.as_str());
        let name = r.household.name(eater);
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing = egui::vec2(4.0, 4.0);
            ui.label(Lettering::Small.text(format!("{name}:")).color(palette.soft));
            for twin in &dish.twins {
                let chosen = now == Some(twin.name.as_str());
                let said = format!("{name} gets {}", twin.name);
                if ui.add(Chip::new(&twin.name).selected(chosen).name(&said)).clicked() {
                    let twin = (!chosen).then(|| twin.name.clone());
                    actions.push(Action::Edit(Edit::SetTwin { slot, batch: serving.batch, eater, twin }));
                }
            }
        });
    }
}

/// The plain-click way to everything that a drag does.
fn buttons(ui: &mut Ui, slot: Slot, serving: &Serving, actions: &mut Vec<Action>) {
    let carried = Carried::Serving { slot, batch: serving.batch };
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = egui::vec2(6.0, 6.0);
        if ui.add(Button::mend("Move").name("Pick it up to move it")).clicked() {
            actions.push(Action::PickUp(carried.clone()));
        }
        if ui.add(Button::mend("Again").name("Pick up a further serving of it")).clicked() {
            actions.push(Action::PickUpAgain(carried.clone()));
        }
        if ui.add(Button::mend("Take off").name("Take it off the meal")).clicked() {
            actions.push(Action::Edit(Edit::RemoveServing { slot, batch: serving.batch }));
        }
        if ui.add(Button::mend("How it keeps").name("How long it keeps, how it cools, who eats it")).clicked() {
            actions.push(Action::Turn(Page::Keeping));
        }
    });
}

/// How it is made, to cook from.
fn making(ui: &mut Ui, view: &View<'_>, serving: &Serving, dish: &crate::book::Dish) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    let Some(batch) = r.batch(serving.batch) else { return };
    egui::CollapsingHeader::new(Lettering::Small.text("How it is made")).id_salt(("making", serving.batch.0)).show(ui, |ui| {
        let small = |words: String| Lettering::Small.text(words).color(palette.soft);
        ui.label(small(format!("Made on {}, keeps {} after.", r.day_name(batch.day), dish.keeps)));
        if let Some((best, low, high)) = dish.oven {
            ui.label(small(format!("Oven {best} °C ({low} to {high}), not fan: 20 less with a fan.")));
        }
        for (i, step) in dish.steps.iter().enumerate() {
            ui.label(small(format!("{}. {} ({} min)", i + 1, step.text, step.minutes)));
        }
        let needs: Vec<&str> = dish.companions.iter().map(|c| c.name.as_str()).collect();
        if !needs.is_empty() {
            ui.label(small(format!("With {}.", needs.join(", "))));
        }
    });
}
