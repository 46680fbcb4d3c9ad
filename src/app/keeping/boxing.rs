//! How one cooking is boxed up, in the cook's hands: into what, how many, lid, counter, bath. Each press is one edit.

use crate::{
    app::{
        action::Action,
        marks::Icon,
        sheet::parts,
        theme::{self, Lettering},
        view::View,
        widget::{Button, IconButton},
    },
    judge::Cooling,
    rotation::{Bath, Boxing, Edit, Fill, KeptBack, USUAL_VESSELS, VESSELS_RANGE, apply},
};
use egui::Ui;

/// Minutes on the counter that are offered.
const COUNTER: [u16; 4] = [0, 15, 30, 60];
/// Baths that are offered: with ice or not, for so many minutes.
const BATHS: [(bool, u16); 4] = [(false, 30), (false, 60), (true, 15), (true, 30)];

/// What of the plan a curve is about.
pub(super) fn kept_back(cooling: &Cooling) -> KeptBack {
    cooling.batch.map_or(KeptBack::Whole, KeptBack::Batch)
}

/// Asks for this way of boxing up, or says why it cannot be.
pub(super) fn ask(view: &View<'_>, boxing: Boxing, actions: &mut Vec<Action>) {
    let edit = Edit::BoxUp(boxing);
    match apply(view.rotation, &edit) {
        Ok(_) => actions.push(Action::Edit(edit)),
        Err(refusal) => actions.push(Action::Say(format!("Not done: {}", refusal.0))),
    }
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, cooling: &Cooling, actions: &mut Vec<Action>) {
    let of = kept_back(cooling);
    let r = view.rotation;
    let now = r.storage.boxing(of).cloned().unwrap_or_else(|| Boxing::usual(of));
    let what = &cooling.what;
    let mut next = None;
    parts::chips_label(ui, "Into");
    parts::flow(ui, |ui| {
        let own = r.storage.boxes.iter().map(|b| b.name.as_str());
        let usual = USUAL_VESSELS.into_iter().filter(|u| r.storage.boxes.iter().all(|b| b.name != *u));
        for vessel in own.chain(usual) {
            let chosen = cooling.question.vessel.one == vessel;
            if parts::choice(ui, vessel, &format!("{what} goes into: {vessel}"), chosen) && !chosen {
                next = Some(Boxing { vessel: Some(vessel.into()), fill: None, ..now.clone() });
            }
        }
    });
    let count = last_count(cooling);
    ui.horizontal(|ui| {
        let into = |n: u32| Some(Boxing { fill: Some(Fill::Into(n.clamp(1, u32::from(VESSELS_RANGE.1)) as u8)), ..now.clone() });
        let fewer = format!("{what} goes into one less");
        if ui.add_enabled(count > 1, IconButton::new(Icon::Minus, &fewer).hint("One less").framed()).clicked() {
            next = into(count - 1);
        }
        ui.label(Lettering::Strong.text(count.to_string()).color(theme::palette(ui).ink));
        let more = format!("{what} goes into one more");
        if ui.add(IconButton::new(Icon::Plus, &more).hint("One more").framed()).clicked() {
            next = into(count + 1);
        }
        let each = format!("of them, {:.1}\u{a0}cm deep", cooling.chilled.depth_cm);
        parts::quiet(ui, each);
    });
    parts::flow(ui, |ui| {
        for (lid, words) in [(true, "covered"), (false, "lid off until it is cold")] {
            if parts::choice(ui, words, &format!("{what} is {words}"), now.lid == lid) && now.lid != lid {
                next = Some(Boxing { lid, ..now.clone() });
            }
        }
    });
    parts::chips_label(ui, "On the counter first");
    parts::flow(ui, |ui| {
        for counter in COUNTER {
            let words = if counter == 0 { "not at all".to_string() } else { format!("{counter} min") };
            if parts::choice(ui, &words, &format!("{what} stands on the counter: {words}"), now.counter == counter)
                && now.counter != counter
            {
                next = Some(Boxing { counter, ..now.clone() });
            }
        }
    });
    parts::chips_label(ui, "Then in a bath");
    parts::flow(ui, |ui| {
        if parts::choice(ui, "none", &format!("{what} has no bath"), now.bath.is_none()) && now.bath.is_some() {
            next = Some(Boxing { bath: None, ..now.clone() });
        }
        for (ice, minutes) in BATHS {
            let words = format!("{minutes} min in {} water", if ice { "iced" } else { "cold" });
            let chosen = now.bath.is_some_and(|b| (b.ice, b.minutes) == (ice, minutes));
            if parts::choice(ui, &words, &format!("{what} stands {words}"), chosen) && !chosen {
                let stirred = now.bath.is_some_and(|b| b.stirred);
                next = Some(Boxing { bath: Some(Bath { ice, minutes, stirred }), ..now.clone() });
            }
        }
        if let Some(bath) = now.bath.filter(|_| cooling.question.food.stirs) {
            let name = format!("{what} is stirred in its bath");
            if parts::choice(ui, "stirred every 5 minutes", &name, bath.stirred) {
                next = Some(Boxing { bath: Some(Bath { stirred: !bath.stirred, ..bath }), ..now.clone() });
            }
        }
    });
    if !now.is_usual() {
        let name = format!("{what} as usual");
        if ui.add(Button::mend("As usual").name(&name)).clicked() {
            actions.push(Action::Edit(Edit::BoxAsUsual(of)));
        }
    }
    if let Some(boxing) = next {
        ask(view, boxing, actions);
    }
}

/// In how many it lies at last.
fn last_count(cooling: &Cooling) -> u32 {
    let q = &cooling.question;
    q.stays.iter().rev().find_map(|s| s.into.as_ref()).map_or(q.count, |(_, count)| *count)
}
