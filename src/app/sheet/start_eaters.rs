//! Who eats of a piece that is about to be put on the bench.

use super::{newcomer::Newcomer, parts};
use crate::rotation::{Eater, EaterId, Household};
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

    /// Names as chips, and a way to add one.
    pub fn show(&mut self, ui: &mut Ui) {
        parts::flow(ui, |ui| {
            for (eater, chosen) in &mut self.offered {
                let guest = if eater.guest { ", guest" } else { "" };
                let words = format!("{} {}{guest}", eater.name, eater.units);
                if parts::choice(ui, &words, &words, *chosen) {
                    *chosen = !*chosen;
                }
            }
            if !self.adding && parts::choice(ui, "+ somebody else", "add somebody else", false) {
                self.adding = true;
            }
        });
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
