//! What this household has said of its meals, what follows from it, and the changes a person can make to it.

use crate::{
    book::CompanionMeasure,
    judge::{
        Axis, Chosen, Habits, Hemisphere, Home, Verdict,
        learning::{Answer, AnswerId, Learned, Said, TwoMeals},
    },
    lists::{Cupboard, Ticks},
    rotation::{EatenMeal, JournalChange, Rotation, capital, journal_after},
    runsheet::{KeptChange, KeptCooking, KeptPlan},
};
use jiff::civil::Date;
use std::sync::Arc;

/// The most steps in the journal that can be taken back.
const MOST_STEPS: usize = 100;

/// The habits of the household and its journal, with what the judges make of them: reckoned once for each change.
pub struct Hearth {
    habits: Habits,
    eaten: Vec<EatenMeal>,
    /// The journal as it was before each change of this sitting, with what was done, the last one last.
    steps: Vec<(String, Vec<EatenMeal>)>,
    cupboard: Cupboard,
    ticks: Ticks,
    cooking: KeptCooking,
    house_revision: u64,
    learned: Learned,
    home: Arc<Home>,
}

impl Default for Hearth {
    fn default() -> Self {
        Hearth::new(Habits::default(), Vec::new())
    }
}

/// A companion of which there is always enough in the house, or no longer.
#[derive(Clone, Debug, PartialEq)]
pub struct HouseChange {
    /// The companion, as the dishes call it.
    pub name: String,
    /// What it is measured in.
    pub measure: CompanionMeasure,
    /// Whether there is always enough of it.
    pub enough: bool,
}

/// A line of a list ticked off, or no longer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TickChange {
    /// What the line is known by.
    pub key: String,
    /// Whether it is done.
    pub done: bool,
    /// The line in words.
    pub words: String,
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
        Hearth {
            habits,
            eaten,
            steps: Vec::new(),
            cupboard: Cupboard::default(),
            ticks: Ticks::default(),
            cooking: KeptCooking::default(),
            house_revision: 0,
            learned,
            home: Arc::new(home),
        }
    }

    /// The habits, as they are kept.
    pub fn habits(&self) -> &Habits {
        &self.habits
    }

    /// The same with what is in the house and what is ticked off.
    #[must_use]
    pub fn with_house(self, cupboard: Cupboard, ticks: Ticks) -> Hearth {
        Hearth { cupboard, ticks, ..self }
    }

    /// The same with what was settled by hand about the cooking.
    #[must_use]
    pub fn with_cooking(self, cooking: KeptCooking) -> Hearth {
        Hearth { cooking, ..self }
    }

    /// What is in the house.
    pub fn cupboard(&self) -> &Cupboard {
        &self.cupboard
    }

    /// Rises with each change to what is in the house.
    pub fn house_revision(&self) -> u64 {
        self.house_revision
    }

    /// What is ticked off on lists.
    pub fn ticks(&self) -> &Ticks {
        &self.ticks
    }

    /// What was settled by hand about the cooking of every plan.
    pub fn all_cooking(&self) -> &KeptCooking {
        &self.cooking
    }

    /// And of this one.
    pub fn cooking(&self, rotation: &Rotation) -> Option<&KeptPlan> {
        self.cooking.of(rotation)
    }

    /// Keeps what was settled by hand about this plan's cooking.
    pub fn keep_cooking(&mut self, rotation: &Rotation, change: KeptChange) {
        self.cooking.change(rotation, change);
    }

    /// Whether a line of the plan's lists is ticked off.
    pub fn is_ticked(&self, rotation: &Rotation, line: &str) -> bool {
        self.ticks.has(rotation, line)
    }

    /// Changes what is in the house; what was done in words.
    pub fn change_house(&mut self, change: &HouseChange) -> String {
        self.cupboard.set_enough(&change.name, change.measure, change.enough);
        self.house_revision += 1;
        match change.enough {
            true => format!("{} comes from the house, and is not bought", capital(&change.name)),
            false => format!("{} is bought again", capital(&change.name)),
        }
    }

    /// Ticks a line off, or takes its tick away; what was done in words.
    pub fn tick(&mut self, rotation: &Rotation, change: &TickChange) -> String {
        self.ticks.set(rotation, &change.key, change.done);
        format!("{}: {}", if change.done { "Done" } else { "Still to do" }, change.words)
    }

    /// The journal, by day.
    pub fn eaten(&self) -> &[EatenMeal] {
        &self.eaten
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
        (self.with(habits, self.eaten.clone(), self.steps.clone()), words)
    }

    fn with(&self, habits: Habits, eaten: Vec<EatenMeal>, steps: Vec<(String, Vec<EatenMeal>)>) -> Hearth {
        let (cupboard, ticks, cooking) = (self.cupboard.clone(), self.ticks.clone(), self.cooking.clone());
        Hearth { steps, cupboard, ticks, cooking, house_revision: self.house_revision, ..Hearth::new(habits, eaten) }
    }

    /// The hearth after changes to its journal, which make one step, with what was done in words; or why it cannot be done.
    pub fn journalled(&self, changes: &[JournalChange]) -> Result<(Hearth, String), String> {
        let (mut eaten, mut words) = (self.eaten.clone(), String::new());
        for change in changes {
            (eaten, words) = journal_after(&eaten, change)?;
        }
        // Stable: the lines of one day stay in the order in which they were written.
        eaten.sort_by_key(|m| m.on);
        let mut steps = self.steps.clone();
        steps.push((words.clone(), self.eaten.clone()));
        let over = steps.len().saturating_sub(MOST_STEPS);
        steps.drain(..over);
        Ok((self.with(self.habits.clone(), eaten, steps), words))
    }

    /// What the last step in the journal did.
    pub fn journal_step(&self) -> Option<&str> {
        self.steps.last().map(|(words, _)| words.as_str())
    }

    /// The hearth before the last step in the journal.
    pub fn journal_back(&self) -> Option<(Hearth, String)> {
        let mut steps = self.steps.clone();
        let (words, eaten) = steps.pop()?;
        Some((self.with(self.habits.clone(), eaten, steps), words))
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
