//! What this household has said of its meals, what follows from it, and the changes a person can make to it.

use crate::{
    judge::{
        Axis, Chosen, Habits, Hemisphere, Home, Verdict,
        learning::{Answer, AnswerId, Learned, Said, TwoMeals},
    },
    rotation::EatenMeal,
};
use jiff::civil::Date;
use std::sync::Arc;

/// The habits of the household and its journal, with what the judges make of them: reckoned once for each change.
pub struct Hearth {
    habits: Habits,
    eaten: Vec<EatenMeal>,
    learned: Learned,
    home: Arc<Home>,
}

impl Default for Hearth {
    fn default() -> Self {
        Hearth::new(Habits::default(), Vec::new())
    }
}

/// One change to the habits.
#[derive(Clone, Debug, PartialEq)]
pub enum HabitChange {
    /// Something was said of two meals.
    Said(Date, Box<Said>),
    /// An answer is taken back.
    TakeBack(AnswerId),
    /// All answers are forgotten.
    ForgetAnswers,
    /// How many days it takes until likeness has halved; nothing: the usual.
    HalfLife(Option<f64>),
    /// Where the seasons fall; nothing: no word of seasons.
    Hemisphere(Option<Hemisphere>),
    /// This axis matters most.
    First(Axis),
    /// The axes in their usual order.
    UsualOrder,
}

impl Hearth {
    /// What follows from habits and a journal.
    pub fn new(habits: Habits, eaten: Vec<EatenMeal>) -> Hearth {
        let learned = habits.learned(&eaten);
        let home = Home { patience: habits.patience(&learned), hemisphere: habits.hemisphere, eaten: eaten.clone() };
        Hearth { habits, eaten, learned, home: Arc::new(home) }
    }

    /// The habits, as they are kept.
    pub fn habits(&self) -> &Habits {
        &self.habits
    }

    /// What the answers come to.
    pub fn learned(&self) -> &Learned {
        &self.learned
    }

    /// What the judges know beside the plan.
    pub fn home(&self) -> &Arc<Home> {
        &self.home
    }

    /// The axes, what matters most first, as chosen by hand or as usual.
    pub fn order(&self) -> Vec<Axis> {
        let weights = self.habits.base();
        let mut order = Axis::ALL.to_vec();
        order.sort_by(|a, b| weights.0[*b as usize].total_cmp(&weights.0[*a as usize]));
        order
    }

    /// The latest answer on two dishes so many days apart, whichever way it went.
    pub fn answer_on(&self, two: &TwoMeals) -> Option<&Answer> {
        self.habits.answers.iter().rev().find(|a| match &a.said {
            Said::TooAlike(said) | Said::Fine(said) => said == two,
            Said::MoreAlike(..) => false,
        })
    }

    /// The hearth after a change, with what was done in words.
    pub fn changed(&self, change: &HabitChange) -> (Hearth, String) {
        let mut habits = self.habits.clone();
        let words = match change {
            HabitChange::Said(on, said) => {
                let words = said_words(said);
                habits.answer(*on, (**said).clone());
                format!("Noted: {words}")
            }
            HabitChange::TakeBack(id) => {
                let known = habits.answers.iter().find(|a| a.id == *id).map(|a| said_words(&a.said));
                habits.take_back(*id);
                known.map_or_else(|| "There is no such answer".into(), |words| format!("Taken back: {words}"))
            }
            HabitChange::ForgetAnswers => {
                habits.answers.clear();
                "All answers are forgotten: the usual weights stand".into()
            }
            HabitChange::HalfLife(days) => {
                habits.half_life = *days;
                "How long a likeness lingers is set".into()
            }
            HabitChange::Hemisphere(where_at) => {
                habits.hemisphere = *where_at;
                "Where the seasons fall is set".into()
            }
            HabitChange::First(axis) => {
                let mut order = self.order();
                order.retain(|a| a != axis);
                order.insert(0, *axis);
                habits.chosen = (order != Axis::ALL).then_some(Chosen::Ranking(order));
                format!("What matters most here: {}", axis.word())
            }
            HabitChange::UsualOrder => {
                habits.chosen = None;
                "What matters most is as usual again".into()
            }
        };
        (Hearth::new(habits, self.eaten.clone()), words)
    }
}

/// "Charred wedges and Crisp shred pancakes, 1 day apart: too alike".
pub fn said_words(said: &Said) -> String {
    let two = |t: &TwoMeals| {
        let days = match t.gap.0 {
            0 => "the same day".to_string(),
            n => format!("{} apart", crate::quantity::write_units(usize::try_from(n).unwrap_or(0), "day", "days")),
        };
        format!("{} and {}, {days}", t.earlier.name, t.later.name)
    };
    match said {
        Said::TooAlike(t) => format!("{}: {}", two(t), Verdict::Warn.words()),
        Said::Fine(t) => format!("{}: {}", two(t), Verdict::Fine.words()),
        Said::MoreAlike(more, less) => format!("{} are more alike than {}", two(more), two(less)),
    }
}
