//! What is kept back warm: a curve for each cooking, whether it is cold in time, and what to do otherwise.

use super::{boxing, curve, seek::Seek};
use crate::{
    app::{
        action::Action,
        marks::Level,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::{View, spoken},
        widget::{Button, Card},
    },
    judge::{
        Cooling,
        cooling::{Advice, Chill, Place, boxing_of},
    },
    rotation::{KeptBack, capital},
};
use egui::Ui;
use std::{collections::BTreeSet, sync::Arc};

/// Width and height of a curve.
const CURVE: (f32, f32) = (440.0, 216.0);
/// In a narrow window.
const NARROW_CURVE: f32 = 340.0;
/// Under this width it is one.
const NARROW: f32 = 900.0;

/// What is known of the cooking of one revision.
#[derive(Default)]
pub(super) struct Pots {
    seek: Option<Seek>,
    /// What is shown while that of a later revision is still reckoned.
    last: Option<Arc<Vec<Cooling>>>,
    /// What is being boxed up another way.
    open: BTreeSet<KeptBack>,
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, pots: &mut Pots, actions: &mut Vec<Action>) {
    if pots.seek.as_ref().is_none_or(|s| s.revision() != view.revision) {
        pots.seek = Some(Seek::begin(view.rotation.clone(), view.revision, ui.ctx()));
    }
    if let Some(found) = pots.seek.as_mut().and_then(Seek::found) {
        pots.last = Some(found);
    }
    let Some(found) = pots.last.clone() else {
        parts::quiet(ui, "Reckoning how it cools…");
        return;
    };
    if found.is_empty() {
        parts::plain(
            ui,
            "Nothing is kept back warm: what is cooked is eaten on its day, or there is less than a quarter of a litre of it.",
        );
        parts::quiet(ui, "Cook a dish for two meals, and how its pot gets cold is drawn here.");
        return;
    }
    for cooling in found.iter() {
        pot_ui(ui, view, cooling, &mut pots.open, actions);
        ui.add_space(STEP);
    }
    if let Some(first) = found.first() {
        parts::quiet(
            ui,
            format!(
                "The rule: {} ({}). {} The heat is reckoned through the food by conduction, in small volumes, with still or moving air, water \
                 or ice around it; what is not known (draughts, steam, how full the fridge is) is taken on the slow side.",
                first.question.rule.name,
                first.question.rule.source,
                first.caveat()
            ),
        );
    }
}

/// A way that passes, to take at once.
fn way_ui(ui: &mut Ui, view: &View<'_>, cooling: &Cooling, way: &Advice, actions: &mut Vec<Action>) {
    let boxing = boxing_of(view.rotation, boxing::kept_back(cooling), &way.changed);
    ui.horizontal_top(|ui| {
        if let Some(boxing) = boxing
            && ui.add(Button::mend("Do it so").name(&spoken(&format!("Do it so: {}", way.words)))).clicked()
        {
            boxing::ask(view, boxing, actions);
        }
        ui.vertical(|ui| {
            // Level with the words of the button.
            ui.add_space(STEP);
            parts::plain(ui, way.words.as_str());
        });
    });
}

fn pot_ui(ui: &mut Ui, view: &View<'_>, cooling: &Cooling, open: &mut BTreeSet<KeptBack>, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let level = if cooling.passes() { Level::Fine } else { Level::Caution };
    Card::new().ground(palette.card).room(16).fill_width().show(ui, |ui| {
        let wide = if ui.available_width() < NARROW { NARROW_CURVE } else { CURVE.0 };
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 24.0;
            ui.vertical(|ui| curve::ui(ui, cooling, wide, CURVE.1));
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing = egui::vec2(8.0, 6.0);
                let head = format!("{}, {}", view.rotation.day_name(cooling.day), cooling.what);
                ui.add(egui::Label::new(Lettering::Dish.text(head).color(palette.ink)).wrap());
                parts::quiet(ui, how_words(view, cooling));
                parts::remark(ui, level, &cooling.chilled.verdict());
                for way in &cooling.ways {
                    way_ui(ui, view, cooling, way, actions);
                }
                if cooling.chilled.freezes {
                    parts::remark(ui, Level::Note, "Its edge freezes: take it out of the freezer before that.");
                }
                let of = boxing::kept_back(cooling);
                let shown = open.contains(&of);
                let (words, name) = match shown {
                    true => ("Done with that", format!("Done with boxing up {}", cooling.what)),
                    false => ("Box it up another way", format!("Box up {} another way", cooling.what)),
                };
                if ui.add(Button::mend(words).name(&name)).clicked() {
                    if shown {
                        open.remove(&of);
                    } else {
                        open.insert(of);
                    }
                }
                if shown {
                    boxing::ui(ui, view, cooling, actions);
                }
            });
        });
    });
}

/// "1.1 l kept back, in 1 box 3.5 cm deep, covered; 30 min on the counter, then in the fridge at 4 °C."
fn how_words(view: &View<'_>, cooling: &Cooling) -> String {
    let q: &Chill = &cooling.question;
    let vessel = if q.count == 1 { &q.vessel.one } else { &q.vessel.several };
    let lid = if q.lid { "covered" } else { "lid off" };
    let stays: Vec<String> = q
        .stays
        .iter()
        .map(|s| {
            let time = if s.minutes > 0.0 { format!("{:.0}\u{a0}min ", s.minutes) } else { String::new() };
            let stirred = if s.stirred { ", stirred" } else { "" };
            let warm = match s.place {
                Place::Fridge | Place::FanFridge => format!(" at {:.0}\u{a0}°C", q.climate.fridge_c),
                _ => String::new(),
            };
            let into =
                s.into.as_ref().map_or(String::new(), |(v, n)| format!("in {n} {} ", if *n == 1 { &v.one } else { &v.several }));
            format!("{into}{time}{}{warm}{stirred}", s.place.words())
        })
        .collect();
    capital(&format!(
        "{:.1}\u{a0}l kept back ({}), in {} {vessel} {:.1}\u{a0}cm deep, {lid}; {}.",
        cooling.litres,
        view.grams(q.grams.get()),
        q.count,
        cooling.chilled.depth_cm,
        stays.join(", then ")
    ))
}
