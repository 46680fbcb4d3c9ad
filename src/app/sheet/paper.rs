//! What goes on paper: which lists, and the run sheets of which days.

use super::{
    frame::{self, Head, Keyboard},
    parts,
};
use crate::{
    app::{
        action::Action,
        files::Chosen,
        theme::{self, Lettering, STEP},
        view::View,
        widget::Button,
    },
    exchange::print::PrintedList,
    quantity::DayNo,
};
use egui::{Context, Ui};

/// What the sheet keeps: what is chosen so far.
#[derive(Default)]
pub(super) struct PaperSheet {
    pub chosen: Chosen,
}

/// Draws the sheet.
pub(super) fn ui(ctx: &Context, view: &View<'_>, keyboard: &mut Keyboard, sheet: &mut PaperSheet, actions: &mut Vec<Action>) {
    let head = Head {
        title: "Print",
        under: "For the fridge door and the stove. Black ink is enough.",
        name: "print",
        width: 520.0,
        edits: false,
        holds_answers: true,
        fills_in: false,
    };
    let r = view.rotation;
    let cooked = |day: &DayNo| {
        let made = r.batches.iter().any(|b| b.day == *day);
        made || r.slots().any(|s| s.day == *day && !r.meal(s).servings.is_empty())
    };
    let days: Vec<DayNo> = r.day_numbers().filter(cooked).collect();
    let body = |ui: &mut Ui, sheet: &mut PaperSheet, _: &mut Vec<Action>| {
        parts::section(ui, "Which lists?");
        for list in PrintedList::ALL {
            let has = sheet.chosen.lists.contains(&list);
            ui.horizontal(|ui| {
                if parts::choice(ui, list.title(), &format!("Print: {}", list.title()), has) {
                    sheet.chosen.turn(list);
                }
            });
            parts::quiet(ui, format!("{}.", list.about()));
            if list == PrintedList::RunSheets && has && days.len() > 1 {
                parts::flow(ui, |ui| {
                    for day in &days {
                        let name = format!("Print the run sheet of {}", r.day_name(*day));
                        if parts::choice(ui, &r.day_name(*day), &name, !sheet.chosen.without.contains(day)) {
                            sheet.chosen.turn_day(*day);
                        }
                    }
                });
            }
            ui.add_space(STEP / 2.0);
        }
    };
    let (mut writes, mut cancel) = (false, false);
    let foot = |ui: &mut Ui, sheet: &mut PaperSheet, _: &mut Vec<Action>| {
        let palette = theme::palette(ui);
        let nothing = sheet.chosen.lists.is_empty();
        let words = match nothing {
            true => "Choose at least one list.",
            false => {
                "The end of the name says how: pdf, html, md, csv, svg, png. A calendar (ics) holds the days instead of lists."
            }
        };
        ui.add(egui::Label::new(Lettering::Small.text(words).color(palette.soft)).wrap());
        ui.horizontal(|ui| {
            writes = ui.add_enabled(!nothing, Button::primary("Write to a file…")).clicked();
            cancel = ui.add(Button::quiet("Cancel")).clicked();
        });
    };
    frame::show(ctx, &head, keyboard, sheet, actions, body, Some(foot));
    if writes {
        actions.push(Action::Print(sheet.chosen.clone()));
    }
    if writes || cancel {
        keyboard.leave(ctx);
    }
}
