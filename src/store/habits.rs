//! The habits of this household, `habits.ron` beside `household.ron`.

use super::{
    Aside, Places, StoreError,
    aside::{read_checked, write_small},
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
    let (file, aside) = read_checked(&path(places), "a habits file", READERS, |file| check(&habits_of(file)));
    (file.as_ref().map(habits_of).unwrap_or_default(), aside)
}

fn habits_of(file: &HabitsFile) -> Habits {
    let HabitsFile { half_life_days, chosen, hemisphere, answers, .. } = file;
    Habits { half_life: *half_life_days, chosen: chosen.clone(), hemisphere: *hemisphere, answers: answers.clone() }
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
    let (least, most) = HALF_LIFE_RANGE;
    if let Some(days) = habits.half_life.filter(|d| !(least..=most).contains(d)) {
        limits::invalid(format!("the half-life is {days} days; write a number from {least} to {most}"), &["half_life_days"])?;
    }
    match &habits.chosen {
        Some(Chosen::Ranking(axes)) => {
            let mut seen = BTreeSet::new();
            if let Some(twice) = axes.iter().find(|a| !seen.insert(**a)) {
                limits::invalid(format!("{} stands twice in the ranking; take one out", twice.word()), &["chosen"])?;
            }
        }
        Some(Chosen::Weights(list)) => {
            let mut seen = BTreeSet::new();
            for (axis, weight) in list {
                let near = ["chosen".to_string(), axis.word().to_string()];
                limits::number(&format!("the weight of {}", axis.word()), *weight, 1_000.0, &near)?;
                if !seen.insert(*axis) {
                    limits::invalid(format!("{} has two weights; take one out", axis.word()), &near)?;
                }
            }
            if !list.is_empty() && habits.base().0.iter().sum::<f64>() <= 0.0 {
                limits::invalid("all weights are 0; give at least one axis some", &["chosen"])?;
            }
        }
        None => {}
    }
    if habits.answers.len() > MAX_ANSWERS {
        limits::invalid(format!("there are {} answers; {MAX_ANSWERS} is the most", habits.answers.len()), &["answers"])?;
    }
    let mut seen = BTreeSet::new();
    for answer in &habits.answers {
        let id = answer.id.0;
        let near = ["answers".to_string(), format!("id: {id}")];
        let at = |e: Invalid| Invalid { near: near.to_vec(), ..e };
        if !seen.insert(id) {
            let twice = ["answers".to_string(), format!("id: {id}"), format!("id: {id}")];
            limits::invalid(format!("the answer {id} stands twice; give the second another id or take it out"), &twice)?;
        }
        for pair in answer.said.pairs() {
            limits::eaten(&format!("answer {id}"), &pair.earlier.name, &pair.earlier.profile).map_err(at)?;
            limits::eaten(&format!("answer {id}"), &pair.later.name, &pair.later.profile).map_err(at)?;
            if !(0..=365).contains(&pair.gap.0) {
                limits::invalid(format!("answer {id} lies {} days apart; write 0 to 365", pair.gap.0), &near)?;
            }
        }
    }
    Ok(())
}
