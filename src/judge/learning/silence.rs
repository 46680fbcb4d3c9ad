//! What a journal tells: verdicts, and meals eaten without a word.

use super::{Answer, Features, Observation};
use crate::{
    judge::{Kernel, Weights},
    rotation::{EatenMeal, Heard},
};
use jiff::Unit;

/// Meals further apart than this say nothing of each other (our own judgement; by then likeness has all but faded).
const TELLS_DAYS: i32 = 7;

/// Observations from what was really eaten: each dish beside the last one of another meal that shares an eater with it.
///
/// Without a word it is a quarter of a "fine", but not where somebody gave an answer about it: `answers` are heard on their own,
/// and are known again by the day and the dish. Meals that nobody would have again tell nothing of likeness.
pub fn observations_of_journal(meals: &[EatenMeal], answers: &[Answer], base: &Weights, kernel: &Kernel) -> Vec<Observation> {
    let mut order: Vec<&EatenMeal> = meals.iter().collect();
    // Stable: dishes of one day stay in the order in which they were written.
    order.sort_by_key(|m| m.on);
    let answered = |m: &EatenMeal| {
        answers.iter().any(|a| {
            let days = m.on.until((Unit::Day, a.on)).map_or(i32::MAX, |s| s.get_days());
            (0..=1).contains(&days) && a.said.pairs().any(|p| p.later.name == m.name)
        })
    };
    let mut out = Vec::new();
    for (i, later) in order.iter().enumerate() {
        let shared =
            |m: &&&EatenMeal| later.eaters.is_empty() || m.eaters.is_empty() || later.eaters.iter().any(|e| m.eaten_by(e));
        let other_meal = |m: &&&EatenMeal| (m.on, &m.mealtime) != (later.on, &later.mealtime);
        let Some(earlier) = order[..i].iter().rev().find(|m| other_meal(m) && shared(m)) else { continue };
        let Ok(span) = earlier.on.until((Unit::Day, later.on)) else { continue };
        let gap = span.get_days();
        if gap > TELLS_DAYS || answered(later) {
            continue;
        }
        let gap = crate::quantity::Days(i16::try_from(gap).unwrap_or(i16::MAX));
        let Some(x) = Features::of(&earlier.profile, &later.profile, gap, base, kernel) else { continue };
        out.extend(match later.heard {
            None => Some(Observation::silent(x)),
            Some(Heard::Again | Heard::Fine) => Some(Observation::said(x, false)),
            Some(Heard::TooAlike) => Some(Observation::said(x, true)),
            Some(Heard::NotSoon | Heard::NotAgain) => None,
        });
    }
    out
}
