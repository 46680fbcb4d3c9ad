//! The habits of this household, `habits.ron` beside `household.ron`.

use super::{
    Aside, Places, StoreError,
    aside::{put_aside, read_small, write_small},
    limits,
    parse::{Reader, from_ron},
};
use crate::{
    judge::{
        Chosen, HALF_LIFE_RANGE, Habits, Hemisphere,
        learning::{Answer, MAX_ANSWERS},
    },
    rotation::Invalid,
};
use serde::{Deserialize, Serialize};
use std::{collections::BTreeSet, path::PathBuf};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HabitsFile {
    version: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    half_life_days: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    chosen: Option<Chosen>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    hemisphere: Option<Hemisphere>,
    #[serde(default)]
    answers: Vec<Answer>,
}

const VERSION: u32 = 1;
const READERS: &[(u32, Reader<HabitsFile>)] = &[(1, from_ron)];

fn path(places: &Places) -> PathBuf {
    places.data.join("habits.ron")
}

/// The habits of this household, blank where none were saved; a note if their file is broken.
pub fn load_habits(places: &Places) -> (Habits, Option<Aside>) {
    let path = path(places);
    let (file, aside) = read_small(&path, "a habits file", READERS);
    let Some(HabitsFile { half_life_days, chosen, hemisphere, answers, .. }) = file else { return (Habits::default(), aside) };
    let habits = Habits { half_life: half_life_days, chosen, hemisphere, answers };
    match check(&habits) {
        Ok(()) => (habits, None),
        Err(e) => {
            let error = StoreError::Invalid { path: path.clone(), line: None, what: e.what };
            (Habits::default(), Some(put_aside(&path, error)))
        }
    }
}

/// Keeps the habits of this household.
pub fn save_habits(places: &Places, habits: &Habits) -> Result<(), StoreError> {
    let path = path(places);
    if let Err(e) = check(habits) {
        return Err(StoreError::Invalid { path, line: None, what: e.what });
    }
    let Habits { half_life, chosen, hemisphere, answers } = habits.clone();
    write_small(&path, &HabitsFile { version: VERSION, half_life_days: half_life, chosen, hemisphere, answers })
}

fn check(habits: &Habits) -> Result<(), Invalid> {
    let near: [&str; 0] = [];
    let (least, most) = HALF_LIFE_RANGE;
    if let Some(days) = habits.half_life.filter(|d| !(least..=most).contains(d)) {
        limits::invalid(format!("the half-life is {days} days; write a number from {least} to {most}"), &near)?;
    }
    match &habits.chosen {
        Some(Chosen::Ranking(axes)) => {
            let mut seen = BTreeSet::new();
            if let Some(twice) = axes.iter().find(|a| !seen.insert(**a)) {
                limits::invalid(format!("{} stands twice in the ranking; take one out", twice.word()), &near)?;
            }
        }
        Some(Chosen::Weights(list)) => {
            let mut seen = BTreeSet::new();
            for (axis, weight) in list {
                limits::number(&format!("the weight of {}", axis.word()), *weight, 1_000.0, &near)?;
                if !seen.insert(*axis) {
                    limits::invalid(format!("{} has two weights; take one out", axis.word()), &near)?;
                }
            }
            if !list.is_empty() && habits.base().0.iter().sum::<f64>() <= 0.0 {
                limits::invalid("all weights are 0; give at least one axis some", &near)?;
            }
        }
        None => {}
    }
    if habits.answers.len() > MAX_ANSWERS {
        limits::invalid(format!("there are {} answers; {MAX_ANSWERS} is the most", habits.answers.len()), &near)?;
    }
    let mut seen = BTreeSet::new();
    for answer in &habits.answers {
        let id = answer.id.0;
        if !seen.insert(id) {
            limits::invalid(format!("the answer {id} stands twice; give the second another id or take it out"), &near)?;
        }
        for pair in answer.said.pairs() {
            limits::eaten(&format!("answer {id}"), &pair.earlier.name, &pair.earlier.profile)?;
            limits::eaten(&format!("answer {id}"), &pair.later.name, &pair.later.profile)?;
            if !(0..=365).contains(&pair.gap.0) {
                limits::invalid(format!("answer {id} lies {} days apart; write 0 to 365", pair.gap.0), &near)?;
            }
        }
    }
    Ok(())
}
