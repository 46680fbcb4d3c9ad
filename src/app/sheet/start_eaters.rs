//! Who eats of a piece that is about to be put on the bench.

use super::{newcomer::Newcomer, parts};
use crate::{
    quantity::Units,
    rotation::{Eater, EaterId, Household, capital},
};
use egui::Ui;

/// Those who are offered, with whether they are chosen.
pub(super) struct StartEaters {
    offered: Vec<(Eater, bool)>,
    newcomer: Newcomer,
    adding: bool,
}

impl StartEaters {
    /// Everybody of `household`; guests are offered, not chosen.
    pub fn new(household: &Household) -> StartEaters {
        let offered = household.eaters.iter().map(|e| (e.clone(), !e.guest)).collect();
        StartEaters { offered, newcomer: Newcomer::default(), adding: false }
    }

    /// Those chosen, numbered afresh.
    pub fn chosen(&self) -> Vec<Eater> {
        let chosen = self.offered.iter().filter(|(_, chosen)| *chosen);
        chosen.zip(1..=u16::MAX).map(|((eater, _), id)| Eater { id: EaterId(id), ..eater.clone() }).collect()
    }

    /// One more of a size, under a name that is free: "Adult 2", "Child 1".
    fn add_one(&mut self, word: &str, units: Units) {
        let word = capital(word);
        let same = self.offered.iter().filter(|(e, _)| e.units == units).count();
        let names = (same + 1..).map(|n| format!("{word} {n}"));
        let free = |name: &String| self.offered.iter().all(|(e, _)| !e.name.eq_ignore_ascii_case(name));
        if let Some(name) = names.into_iter().find(free) {
            self.offered.push((Eater { name, units, ..plain() }, true));
        }
    }

    /// Names as chips, and a way to add one.
    pub fn show(&mut self, ui: &mut Ui) {
        let mut added = None;
        parts::flow(ui, |ui| {
            for (eater, chosen) in &mut self.offered {
                let guest = if eater.guest { ", guest" } else { "" };
                let words = format!("{} {}{guest}", eater.name, eater.units);
                if parts::choice(ui, &words, &words, *chosen) {
                    *chosen = !*chosen;
                }
            }
            for (word, size) in [("adult", Units::ADULT), ("child", child())] {
                if parts::choice(ui, &format!("+ {word}"), &format!("add one {word}"), false) {
                    added = Some((word, size));
                }
            }
            if !self.adding && parts::choice(ui, "+ somebody else", "add somebody else", false) {
                self.adding = true;
            }
        });
        if let Some((word, size)) = added {
            self.add_one(word, size);
        }
        if !self.adding && !self.offered.is_empty() {
            return;
        }
        ui.push_id("newcomer", |ui| {
            let Some(added) = self.newcomer.show(ui, "Add somebody") else { return };
            let taken = self.offered.iter().any(|(e, _)| e.name.to_lowercase() == added.name.to_lowercase());
            if taken {
                self.newcomer.refuse(format!("There is somebody called {} already: names must differ.", added.name));
            } else {
                self.offered.push((added, true));
                self.newcomer = Newcomer::default();
            }
        });
    }
}

/// A child's plate against an adult's (common practice, no source).
fn child() -> Units {
    Units::from_hundredths(60).unwrap_or(Units::ADULT)
}

/// Somebody of whom nothing is known.
fn plain() -> Eater {
    Eater {
        id: EaterId(0),
        name: String::new(),
        units: Units::ADULT,
        guest: false,
        allergies: Vec::new(),
        diet: Default::default(),
        dislikes: Vec::new(),
        care: Vec::new(),
    }
}

/// One adult, of whom nothing else is known: where no household was kept.
pub(super) fn me() -> Household {
    Household { eaters: vec![Eater { id: EaterId(1), name: "Me".into(), ..plain() }] }
}
