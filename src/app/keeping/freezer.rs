//! What lies in the freezer and what could, where the kitchen has one: a press puts it in or leaves it out.

use crate::{
    app::{
        action::Action,
        marks::Icon,
        sheet::parts,
        view::{View, spoken},
        widget::{Button, IconButton},
    },
    rotation::{Edit, Frozen, FrozenStay, Rotation, Source, apply},
};
use egui::Ui;

/// What could be frozen in one revision of the plan: each is tried, so it is asked once.
#[derive(Default)]
pub(super) struct Freezable(Option<(u64, Vec<FrozenStay>)>);

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, freezable: &mut Freezable, actions: &mut Vec<Action>) {
    let r = view.rotation;
    if !r.storage.freezer {
        return;
    }
    parts::section(ui, "The freezer");
    for stay in &r.storage.frozen {
        ui.horizontal(|ui| {
            let words = stay_words(r, stay);
            if ui
                .add(IconButton::new(Icon::Close, &spoken(&format!("Keep out of the freezer: {words}"))).hint("Keep it out"))
                .clicked()
            {
                actions.push(Action::Edit(Edit::KeepOut(stay.what.clone())));
            }
            parts::plain(ui, words);
        });
    }
    if freezable.0.as_ref().is_none_or(|(revision, _)| *revision != view.revision) {
        freezable.0 = Some((view.revision, could_be_frozen(r)));
    }
    let could = freezable.0.as_ref().map_or(&[][..], |(_, could)| could);
    if could.is_empty() && r.storage.frozen.is_empty() {
        parts::quiet(ui, "Nothing in this plan waits long enough for it.");
    }
    parts::flow(ui, |ui| {
        for stay in could {
            let words = format!("Freeze {}", stay_words(r, stay));
            if ui.add(Button::mend(&words).name(&spoken(&words))).clicked() {
                actions.push(Action::Edit(Edit::Freeze(stay.clone())));
            }
        }
    });
}

/// "Broth with barley, Sunday to Wednesday"; "breast for Roast, raw, Sunday to Tuesday".
fn stay_words(r: &Rotation, stay: &FrozenStay) -> String {
    let dish = r.dish_of(stay.what.batch()).map_or("", |d| d.name.as_str());
    let what = match &stay.what {
        Frozen::Batch(_) => dish.to_string(),
        Frozen::Draw(_, part) => format!("{} for {dish}, raw", r.kind.part(part).map_or(part.as_str(), |p| p.name.as_str())),
    };
    format!("{what}, {} to {}", r.day_name(stay.from), r.day_name(stay.to))
}

/// What waits for a later day and may be frozen until it: the rest of a batch, and what is drawn raw for a later one.
fn could_be_frozen(r: &Rotation) -> Vec<FrozenStay> {
    let mut could = Vec::new();
    for batch in &r.batches {
        let later = r.slots().filter(|s| s.day > batch.day).find(|s| r.meal(*s).serving(batch.id).is_some());
        could.extend(later.map(|s| FrozenStay { what: Frozen::Batch(batch.id), from: batch.day, to: s.day }));
        for draw in &batch.draws {
            if let Source::Part(part) = &draw.from {
                let what = Frozen::Draw(batch.id, part.clone());
                could.push(FrozenStay { what, from: r.piece.opened, to: batch.day });
            }
        }
    }
    could.retain(|stay| r.storage.stay(&stay.what).is_none() && apply(r, &Edit::Freeze(stay.clone())).is_ok());
    could
}
