//! A household's habits: what it said of meals, how long it remembers them, what it chose by hand, where it lives.

use super::{
    Axis, HALF_LIFE_DAYS, Kernel, Patience, Weights,
    learning::{Answer, AnswerId, Learned, MAX_ANSWERS, Observation, Said, learn, observations_of_journal},
    season::Hemisphere,
};
use crate::rotation::EatenMeal;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// The half-lives that a household may choose, in days. Our own judgement: cooks' hand rule (one rest halves, two clear) lies
/// near 1; no paper gives a figure for whole dinners.
pub const HALF_LIFE_RANGE: (f64, f64) = (1.0, 3.0);

/// Weights that a household chose by hand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Chosen {
    /// Axes, what matters most first. Those left out follow in the usual order; each takes the usual weight of its place.
    Ranking(Vec<Axis>),
    /// A weight for each axis named; the others keep the usual. Only proportions matter.
    Weights(Vec<(Axis, f64)>),
}

impl Chosen {
    /// The weights.
    pub fn weights(&self) -> Weights {
        let usual = Weights::default();
        let mut weights = usual;
        match self {
            Chosen::Ranking(first) => {
                let rest = Axis::ALL.into_iter().filter(|a| !first.contains(a));
                let order: Vec<Axis> = first.iter().copied().chain(rest).collect();
                // The usual weights fall in the order of the axes.
                for (axis, weight) in order.into_iter().zip(usual.0) {
                    weights.0[axis as usize] = weight;
                }
            }
            Chosen::Weights(list) => {
                for (axis, weight) in list.iter().filter(|(_, w)| w.is_finite() && *w >= 0.0) {
                    weights.0[*axis as usize] = *weight;
                }
            }
        }
        if weights.0.iter().sum::<f64>() > 0.0 { weights } else { usual }
    }
}

/// The habits of one household, as they are kept.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Habits {
    /// Days in which lingering likeness halves, within [`HALF_LIFE_RANGE`]; nothing: [`HALF_LIFE_DAYS`].
    pub half_life: Option<f64>,
    /// Weights chosen by hand; what is learned leans on them.
    pub chosen: Option<Chosen>,
    /// Where the seasons fall; nothing: no word is said of seasons.
    pub hemisphere: Option<Hemisphere>,
    /// What was said of meals, in the order in which it was said.
    pub answers: Vec<Answer>,
}

impl Habits {
    /// How likeness fades for this household.
    pub fn kernel(&self) -> Kernel {
        Kernel::new(self.half_life.map_or(HALF_LIFE_DAYS, |h| h.clamp(HALF_LIFE_RANGE.0, HALF_LIFE_RANGE.1)))
    }

    /// The weights before anything is learned.
    pub fn base(&self) -> Weights {
        self.chosen.as_ref().map_or_else(Weights::default, Chosen::weights)
    }

    /// What the answers come to, with what a journal tells beside.
    pub fn learned(&self, eaten: &[EatenMeal]) -> Learned {
        let (base, kernel) = (self.base(), self.kernel());
        let mut observations: Vec<Observation> = self.answers.iter().filter_map(|a| a.said.observation(&base, &kernel)).collect();
        // Silence alone would only teach that all is well.
        if !observations.is_empty() {
            let mut told = observations_of_journal(eaten, &self.answers, &base, &kernel);
            // The latest are kept: they tell how it is now.
            let room = MAX_ANSWERS.saturating_sub(observations.len());
            observations.extend(told.split_off(told.len().saturating_sub(room)));
        }
        learn(&base, &observations)
    }

    /// What the judges go by. Without any habit it is the usual patience, to the last bit.
    pub fn patience(&self, learned: &Learned) -> Patience {
        Patience { weights: learned.weights(), kernel: self.kernel(), lines: learned.lines() }
    }

    /// Adds an answer and gives its number. Beyond [`MAX_ANSWERS`] the oldest goes.
    pub fn answer(&mut self, on: Date, said: Said) -> AnswerId {
        if self.answers.len() >= MAX_ANSWERS {
            self.answers.remove(0);
        }
        let id = AnswerId(self.answers.iter().map(|a| a.id.0).max().unwrap_or(0).saturating_add(1));
        self.answers.push(Answer { id, on, said });
        id
    }

    /// Takes an answer back; whether there was one.
    pub fn take_back(&mut self, id: AnswerId) -> bool {
        let before = self.answers.len();
        self.answers.retain(|a| a.id != id);
        self.answers.len() < before
    }
}

/// What the judges know beside the plan. The blank one is the usual household that ate nothing before and lives nowhere.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Home {
    /// What it minds, and for how long.
    pub patience: Patience,
    /// Where the seasons fall, if that is known.
    pub hemisphere: Option<Hemisphere>,
    /// What was really eaten; only what lies shortly before the plan is looked at.
    pub eaten: Vec<EatenMeal>,
}

impl Home {
    /// The home of a household with these habits and this journal.
    pub fn of(habits: &Habits, eaten: Vec<EatenMeal>) -> Home {
        let learned = habits.learned(&eaten);
        Home { patience: habits.patience(&learned), hemisphere: habits.hemisphere, eaten }
    }
}
