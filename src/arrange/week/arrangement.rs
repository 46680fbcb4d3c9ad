//! An arrangement as the cook sees it: what is served when, what it costs in plain words, the one edit that does it.

use super::{
    board::{Board, LOST_GRAM},
    choice::Route,
};
use crate::{
    book::Dish,
    judge::{Judgement, judge_at_home},
    quantity::{DayNo, Portion, System, write_grams, write_units},
    rotation::{Edit, Rotation, Slot},
};
use std::{collections::BTreeMap, sync::Arc};

/// One whole arrangement of the meals asked for, with the figures of the judges.
#[derive(Clone, Debug)]
pub struct Arrangement {
    /// The meals, in the order of time.
    pub meals: Vec<Filled>,
    /// The plan with them.
    pub plan: Rotation,
    /// What the judges say of that plan.
    pub judgement: Judgement,
    /// What it costs in the unit of the search: a million is two next-door meals wholly alike for everybody.
    pub cost: Cost,
    /// What is put by for want of a meal: dish, day, grams.
    pub put_by: Vec<(Arc<Dish>, DayNo, u32)>,
    /// Minutes of cooking of each day on which something is made, what stood before included, what is put by left out.
    pub minutes: BTreeMap<DayNo, u32>,
    /// The choices behind it.
    pub(super) chosen: Vec<usize>,
}

/// One meal filled.
#[derive(Clone, Debug)]
pub struct Filled {
    /// The meal.
    pub slot: Slot,
    /// What is served.
    pub dish: Arc<Dish>,
    /// How much of it, as it is counted.
    pub portion: Portion,
    /// What it is made of, in words: "middle", "Roast base of Monday", "what is left of Charred wedges".
    pub from: String,
    /// The most that anybody feels of another meal in it, 0 to 1; nothing where too little is described.
    pub most_alike: Option<f64>,
}

/// The parts of a cost, in millionths of two next-door meals wholly alike.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Cost {
    /// Likeness, dislikes, cautions, companions not used up.
    pub taste: i64,
    /// Of that what is not likeness.
    pub minded: i64,
    /// Grams left over.
    pub waste: i64,
    /// Grams left over, as a mass.
    pub lost: u32,
}

impl Cost {
    /// All of it.
    pub fn total(&self) -> i64 {
        self.taste + self.waste
    }
}

impl Arrangement {
    /// The arrangement behind `chosen`, which the gate let pass.
    pub(super) fn of(board: &Board, chosen: &[usize]) -> Option<Arrangement> {
        let grams = board.grams(chosen)?;
        let plan = board.laid(chosen, &grams);
        let judgement = judge_at_home(&plan, board.home);
        let all: Vec<(usize, &super::choice::Choice)> = chosen.iter().map(|&c| (c, &board.choices[c])).collect();
        let meals = chosen
            .iter()
            .zip(&grams.taken)
            .map(|(&number, taken)| {
                let choice = &board.choices[number];
                let slot = board.slots[choice.at];
                let serving =
                    plan.meal(slot).servings.iter().find(|s| plan.dish_of(s.batch).is_some_and(|d| d.id == choice.dish.id));
                let portion = serving.map_or(Portion::of(plan.kind.portioned, 0), |s| s.portion);
                Filled {
                    slot,
                    dish: choice.dish.clone(),
                    portion,
                    from: from_words(board, &choice.route, taken),
                    most_alike: board.tastes.worst(number, choice, &all),
                }
            })
            .collect();
        let (lost, _) = board.lost(&grams);
        let waste = 1_000 * LOST_GRAM * i64::from(lost);
        let minded = 1_000 * chosen.iter().map(|&c| board.choices[c].own).sum::<i64>();
        let cost = Cost { taste: 1_000 * board.taste(chosen)?, minded, waste, lost };
        let put_by = grams.put_by.iter().map(|p| (p.dish.clone(), p.day, p.draws.iter().map(|d| d.1).sum())).collect();
        let mut minutes: BTreeMap<DayNo, u32> = BTreeMap::new();
        for batch in &board.plan.batches {
            if let Some(dish) = board.plan.dish_of(batch.id).filter(|d| d.role != crate::book::Role::Bank) {
                *minutes.entry(batch.day).or_default() += u32::from(dish.minutes.1);
            }
        }
        for (day, more) in chosen.iter().flat_map(|&c| &board.choices[c].minutes) {
            *minutes.entry(*day).or_default() += more;
        }
        Some(Arrangement { meals, plan, judgement, cost, put_by, minutes, chosen: chosen.to_vec() })
    }

    /// The one edit that fills the meals.
    pub fn edit(&self) -> Edit {
        Edit::Replace { with: Box::new(self.plan.clone()), words: self.words() }
    }

    /// What the edit does: "Arrange 3 meals", "Arrange Thursday supper".
    pub fn words(&self) -> String {
        match self.meals.as_slice() {
            [one] => format!("Arrange {}", self.plan.slot_name(one.slot)),
            many => format!("Arrange {}", write_units(many.len(), "meal", "meals")),
        }
    }

    /// Whether another arrangement fills some meal otherwise.
    pub fn chosen_differs(&self, other: &Arrangement) -> bool {
        self.chosen != other.chosen
    }

    /// How many different meals the plan feels like, and how many it has.
    pub fn feels_like(&self) -> (f64, usize) {
        let distinct = &self.judgement.variety.distinct;
        (distinct.feel_like, distinct.meals)
    }

    /// What it costs in a cook's words: "feels like 3.6 of 4, nothing left over", and beside another arrangement what is
    /// dearer or cheaper in it: "20 min more on Thursday".
    pub fn costs(&self, beside: Option<&Arrangement>) -> String {
        let (felt, meals) = self.feels_like();
        let mut words = vec![format!("feels like {felt:.1} of {meals}")];
        if let Some(worst) = self.meals.iter().filter_map(|m| m.most_alike).reduce(f64::max) {
            words.push(format!("two meals at most {:.0}\u{a0}% alike", 100.0 * worst));
        }
        if let Some(other) = beside {
            let days: std::collections::BTreeSet<DayNo> = self.minutes.keys().chain(other.minutes.keys()).copied().collect();
            for day in days {
                let of = |a: &Arrangement| a.minutes.get(&day).copied().unwrap_or(0);
                let (new, old) = (of(self), of(other));
                if new != old {
                    let how = if new > old { "more" } else { "less" };
                    words.push(format!("{}\u{a0}min {how} on {}", new.abs_diff(old), self.plan.day_name(day)));
                }
            }
        }
        words.push(match self.cost.lost {
            0 => "nothing left over".into(),
            lost => format!("{} left over", write_grams(lost, System::Metric)),
        });
        if let Some(why) = beside.and_then(|best| self.is_dearer_than(best)) {
            words.push(why);
        }
        for (dish, day, grams) in &self.put_by {
            let grams = write_grams(*grams, System::Metric);
            words.push(format!("{grams} put by as {} on {}", dish.name, self.plan.day_name(*day)));
        }
        words.join(", ")
    }
}

impl Arrangement {
    /// Why another arrangement is the better one though this one feels like more different meals: what is weighed beside that.
    fn is_dearer_than(&self, best: &Arrangement) -> Option<String> {
        let tenths = |a: &Arrangement| (10.0 * a.feels_like().0).round() as i64;
        if tenths(self) <= tenths(best) || self.cost.total() <= best.cost.total() {
            return None;
        }
        let parts = [
            (
                "likeness, by the days between and who eats both",
                self.cost.taste - self.cost.minded,
                best.cost.taste - best.cost.minded,
            ),
            ("dislikes, cautions and what is not used up", self.cost.minded, best.cost.minded),
            ("what is left over", self.cost.waste, best.cost.waste),
        ];
        let told: Vec<String> = parts
            .iter()
            .filter(|(_, here, there)| here != there)
            .map(|(what, here, there)| format!("{what} {:.2} against {:.2}", *here as f64 / 1e6, *there as f64 / 1e6))
            .collect();
        Some(format!("the best still weighs less: {} (1 is two neighbouring meals wholly alike)", told.join("; ")))
    }
}

fn from_words(board: &Board, route: &Route, taken: &[u32]) -> String {
    let parts = || {
        let names: Vec<&str> = board
            .supplies
            .iter()
            .zip(taken)
            .filter(|(_, g)| **g > 0)
            .filter_map(|(s, _)| match &s.from {
                crate::rotation::Source::Part(id) => board.plan.kind.part(id).map(|p| p.name.as_str()),
                crate::rotation::Source::Batch(_) => None,
            })
            .collect();
        names.join(" and ")
    };
    match route {
        Route::Fresh => parts(),
        Route::Component(dish, day) => format!("{} of {}, from {}", dish.name, board.plan.day_name(*day), parts()),
        Route::Of(source) => format!("what is left of {}", board.choices[*source].dish.name),
        Route::Again(source) => {
            format!("what is left from {}", board.plan.slot_name(board.slots[board.choices[*source].at]))
        }
        Route::Batch(id) => {
            let name = board.plan.dish_of(*id).map_or_else(String::new, |d| d.name.clone());
            format!("{name}, made already")
        }
    }
}
