//! What the window keeps of its own accord: habits, journal, cupboard, ticks, kitchen, settings. Each on the worker.

use super::{Files, Job, begin};
use crate::{
    app::Settings,
    judge::Habits,
    lists::{Cupboard, Ticks},
    rotation::{EatenMeal, Equipment},
    runsheet::KeptCooking,
};

impl Files {
    /// Keeps the household's habits on disk.
    pub fn keep_habits(&self, habits: &Habits) {
        if let Some(worker) = &self.worker {
            worker.give(Job::Habits(Box::new(habits.clone())));
        }
    }

    /// Keeps the journal on disk.
    pub fn keep_journal(&self, eaten: &[EatenMeal]) {
        if let Some(worker) = &self.worker {
            worker.give(Job::Journal(eaten.to_vec()));
        }
    }

    /// Keeps on disk what is in the house.
    pub fn keep_cupboard(&self, cupboard: &Cupboard) {
        if let Some(worker) = &self.worker {
            worker.give(Job::Cupboard(cupboard.clone()));
        }
    }

    /// Keeps on disk what is ticked off and what was settled about the cooking.
    pub fn keep_ticks(&self, ticks: &Ticks, cooking: &KeptCooking) {
        if let Some(worker) = &self.worker {
            worker.give(Job::Ticks(ticks.clone(), Box::new(cooking.clone())));
        }
    }

    /// Keeps what the kitchen has, in memory and on disk, for the next plan.
    pub fn keep_equipment(&mut self, equipment: Equipment) {
        if let Some(worker) = &self.worker {
            worker.give(Job::Equipment(Box::new(equipment.clone())));
        }
        self.equipment = Some(equipment);
    }

    /// Keeps the settings on disk.
    pub fn keep_settings(&mut self, settings: Settings) {
        self.kitchen = settings.system.into();
        if let Some(worker) = &self.worker {
            worker.keep_settings(begin::kept_settings(settings, self.kept_built_in));
        }
    }
}
