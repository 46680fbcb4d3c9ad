//! What a dish needs and how it is made, as they are being written.

use super::figure::{amount, days, minutes, or_nothing, shelves, shown, shown_amount};
use crate::book::{Companion, CompanionMeasure, Step, StepPlace};
use serde::{Deserialize, Serialize};

/// A companion as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct CompanionDraft {
    pub name: String,
    pub per_unit: String,
    pub per_batch: String,
    pub measure: CompanionMeasure,
    pub pack: String,
    pub pack_word: String,
    pub opened: String,
}

impl CompanionDraft {
    pub fn blank() -> CompanionDraft {
        CompanionDraft {
            name: String::new(),
            per_unit: String::new(),
            per_batch: String::new(),
            measure: CompanionMeasure::G,
            pack: String::new(),
            pack_word: String::new(),
            opened: String::new(),
        }
    }

    pub fn of(c: &Companion) -> CompanionDraft {
        CompanionDraft {
            name: c.name.clone(),
            per_unit: shown_amount(c.per_unit),
            per_batch: shown_amount(c.per_batch),
            measure: c.measure,
            pack: shown(c.pack),
            pack_word: c.pack_word.clone().unwrap_or_default(),
            opened: shown(c.opened_days.map(|d| d.0)),
        }
    }

    /// The companion, where every figure can be read.
    pub fn companion(&self) -> Option<Companion> {
        let word = self.pack_word.trim();
        Some(Companion {
            name: self.name.trim().to_lowercase(),
            per_unit: amount(&self.per_unit).ok()?,
            per_batch: amount(&self.per_batch).ok()?,
            measure: self.measure,
            pack: or_nothing(&self.pack, amount).ok()?,
            opened_days: or_nothing(&self.opened, days).ok()?,
            pack_word: (!word.is_empty()).then(|| word.to_string()),
        })
    }
}

/// A step as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct StepDraft {
    pub text: String,
    pub minutes: String,
    pub hands: bool,
    pub place: StepPlace,
    /// Steps that must be done before, by their places from 0, in their order; none: the one before it.
    pub after: Vec<usize>,
    /// Oven shelves; only of weight in the oven.
    pub shelves: String,
    /// Nothing for a step that needs none.
    pub appliance: String,
    /// Minutes; nothing: as long as you like.
    pub may_wait: String,
}

impl StepDraft {
    pub fn blank() -> StepDraft {
        StepDraft::of(&Step {
            text: String::new(),
            minutes: 5,
            hands: true,
            place: StepPlace::Bench,
            after: Vec::new(),
            shelves: None,
            appliance: None,
            may_wait: None,
        })
    }

    pub fn of(step: &Step) -> StepDraft {
        StepDraft {
            text: step.text.clone(),
            minutes: step.minutes.to_string(),
            hands: step.hands,
            place: step.place,
            after: step.after.clone(),
            shelves: shown(step.shelves),
            appliance: step.appliance.clone().unwrap_or_default(),
            may_wait: shown(step.may_wait),
        }
    }

    /// The step, where its figures can be read.
    pub fn step(&self) -> Option<Step> {
        let appliance = self.appliance.trim();
        let shelves = if self.place == StepPlace::Oven { or_nothing(&self.shelves, shelves).ok()? } else { None };
        Some(Step {
            text: self.text.trim().into(),
            minutes: minutes(&self.minutes).ok()?,
            hands: self.hands,
            place: self.place,
            after: self.after.clone(),
            shelves,
            appliance: (!appliance.is_empty()).then(|| appliance.to_string()),
            may_wait: or_nothing(&self.may_wait, minutes).ok()?,
        })
    }

    /// Lets it wait for the step at this place, or no longer.
    pub fn toggle_after(&mut self, place: usize) {
        match self.after.iter().position(|a| *a == place) {
            Some(at) => {
                self.after.remove(at);
            }
            None => {
                self.after.push(place);
                self.after.sort_unstable();
            }
        }
    }
}

/// Takes a step out; what waited for it waits for nothing of it any more.
pub(super) fn take_out(steps: &mut Vec<StepDraft>, at: usize) {
    steps.remove(at);
    for step in steps {
        step.after.retain(|a| *a != at);
        step.after.iter_mut().filter(|a| **a > at).for_each(|a| *a -= 1);
    }
}

/// Changes the places of two steps; others go on waiting for the same ones.
pub(super) fn change_places(steps: &mut [StepDraft], one: usize, other: usize) {
    steps.swap(one, other);
    for step in steps {
        for a in &mut step.after {
            *a = match *a {
                at if at == one => other,
                at if at == other => one,
                at => at,
            };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steps(after: &[&[usize]]) -> Vec<StepDraft> {
        let step = |(i, after): (usize, &&[usize])| {
            let mut step = StepDraft::blank();
            step.text = i.to_string();
            step.after = after.to_vec();
            step
        };
        after.iter().enumerate().map(step).collect()
    }

    /// Each step's text with the texts of those that it waits for.
    fn waits(steps: &[StepDraft]) -> Vec<(String, Vec<String>)> {
        let texts = |s: &StepDraft| s.after.iter().map(|&a| steps[a].text.clone()).collect();
        steps.iter().map(|s| (s.text.clone(), texts(s))).collect()
    }

    #[test]
    fn moved_steps_go_on_waiting_for_the_same_ones() {
        let mut some = steps(&[&[], &[0], &[0, 1], &[2]]);
        let mut before = waits(&some);
        change_places(&mut some, 1, 2);
        let mut after = waits(&some);
        before.sort();
        after.sort();
        assert_eq!(after, before);
    }

    #[test]
    fn nothing_waits_for_a_step_that_was_taken_out() {
        let mut some = steps(&[&[], &[0], &[0, 1], &[2]]);
        take_out(&mut some, 1);
        assert_eq!(waits(&some), [("0".into(), vec![]), ("2".into(), vec!["0".into()]), ("3".into(), vec!["2".into()])]);
    }
}
