//! The sheet of the household: who eats, and who sits down when.

use super::{
    asking::sentence,
    boxes::{self, BoxesTyped},
    eater::{self, EaterCard},
    frame::{self, Head, Keyboard},
    kitchen::{self, KitchenTyped},
    minds,
    newcomer::Newcomer,
    parts, presence,
};
use crate::{
    app::{action::Action, theme::STEP, view::View},
    quantity::Units,
    rotation::{Edit, apply},
};
use egui::{Context, Ui};

/// What is typed on the sheet of the household.
#[derive(Default)]
pub(super) struct HouseholdSheet {
    unfolded: Option<EaterCard>,
    newcomer: Newcomer,
    kitchen: KitchenTyped,
    boxes: BoxesTyped,
}

/// Draws the sheet.
pub(super) fn ui(ctx: &Context, view: &View<'_>, keyboard: &mut Keyboard, sheet: &mut HouseholdSheet, actions: &mut Vec<Action>) {
    let eaters = &view.rotation.household.eaters;
    let units: Units = eaters.iter().filter(|e| !e.guest).map(|e| e.units).sum();
    let usual = eaters.iter().filter(|e| !e.guest).count();
    let under = format!("{} at every meal, {units} adult portions", crate::quantity::write_units(usual, "eater", "eaters"));
    let head = Head {
        title: "Household and kitchen",
        under: &under,
        name: "household",
        width: 560.0,
        edits: true,
        holds_answers: false,
        fills_in: true,
    };
    let body = |ui: &mut Ui, sheet: &mut HouseholdSheet, actions: &mut Vec<Action>| {
        for eater in eaters {
            ui.push_id(eater.id, |ui| {
                let open = sheet.unfolded.as_mut().filter(|card| card.id() == eater.id);
                match open {
                    Some(card) => {
                        if eater::card_ui(ui, view, eater, card, actions) {
                            sheet.unfolded = None;
                        }
                    }
                    None => {
                        if eater::folded_ui(ui, eater) {
                            sheet.unfolded = Some(EaterCard::new(eater.id));
                        }
                    }
                }
            });
        }
        ui.add_space(STEP);
        ui.push_id("newcomer", |ui| {
            if let Some(added) = sheet.newcomer.show(ui, "Add somebody") {
                let edit = Edit::AddEater(added);
                match apply(view.rotation, &edit) {
                    Ok(_) => {
                        sheet.newcomer = Newcomer::default();
                        actions.push(Action::Edit(edit));
                    }
                    Err(refusal) => sheet.newcomer.refuse(sentence(&refusal)),
                }
            }
        });
        parts::section(ui, "Who sits down when");
        presence::ui(ui, view, actions);
        parts::section(ui, "The kitchen");
        kitchen::cooking_ui(ui, view, &mut sheet.kitchen, actions);
        parts::section(ui, "Fridge and freezer");
        kitchen::keeping_ui(ui, view, &mut sheet.kitchen, actions);
        parts::section(ui, "What food is cooled in");
        parts::steady(ui, "boxes", |ui| boxes::ui(ui, view, &mut sheet.boxes, actions));
        parts::section(ui, "What this household minds");
        minds::ui(ui, view, actions);
    };
    frame::show(ctx, &head, keyboard, sheet, actions, body, None::<fn(&mut Ui, &mut HouseholdSheet, &mut Vec<Action>)>);
}
