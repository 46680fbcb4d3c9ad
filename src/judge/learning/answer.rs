//! What a household said of pairs of meals, each answer by itself, so that any can be taken back.

use super::{Features, Observation};
use crate::{
    book::Profile,
    judge::{Kernel, Weights},
    quantity::Days,
};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// The most answers that are kept (house limit): a year of one a day and more.
pub const MAX_ANSWERS: usize = 500;

/// Stable number of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct AnswerId(pub u32);

/// A dish as it was eaten, with a copy of its profile: the book may change.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DishEaten {
    /// What it is called.
    pub name: String,
    /// How it ate.
    pub profile: Profile,
}

/// Two meals of the same eaters, and the days between.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TwoMeals {
    /// The earlier.
    pub earlier: DishEaten,
    /// The later.
    pub later: DishEaten,
    /// Days from the one to the other; 0 for the same day.
    pub gap: Days,
}

/// What was said.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Said {
    /// "Too alike."
    TooAlike(TwoMeals),
    /// "Fine."
    Fine(TwoMeals),
    /// "The first two were more alike than the others."
    MoreAlike(Box<TwoMeals>, Box<TwoMeals>),
}

/// One answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Answer {
    /// Its number.
    pub id: AnswerId,
    /// When it was given.
    #[serde(deserialize_with = "crate::quantity::date_in_file")]
    pub on: Date,
    /// What was said.
    pub said: Said,
}

impl TwoMeals {
    /// What speaks for a complaint about them; nothing where too little is described.
    pub fn features(&self, base: &Weights, kernel: &Kernel) -> Option<Features> {
        Features::of(&self.earlier.profile, &self.later.profile, self.gap, base, kernel)
    }
}

impl Said {
    /// The meals that it is about.
    pub fn pairs(&self) -> impl Iterator<Item = &TwoMeals> {
        let (first, second) = match self {
            Said::TooAlike(pair) | Said::Fine(pair) => (pair, None),
            Said::MoreAlike(more, less) => (&**more, Some(&**less)),
        };
        std::iter::once(first).chain(second)
    }

    /// What it tells about the weights; nothing where too little is described.
    pub fn observation(&self, base: &Weights, kernel: &Kernel) -> Option<Observation> {
        Some(match self {
            Said::TooAlike(pair) => Observation::said(pair.features(base, kernel)?, true),
            Said::Fine(pair) => Observation::said(pair.features(base, kernel)?, false),
            Said::MoreAlike(more, less) => Observation::more_alike(more.features(base, kernel)?, less.features(base, kernel)?),
        })
    }

    /// The answer in a line: "Braise, then Leaf rolls the day after: too alike".
    pub fn words(&self) -> String {
        match self {
            Said::TooAlike(pair) => format!("{}: too alike", pair.words()),
            Said::Fine(pair) => format!("{}: fine", pair.words()),
            Said::MoreAlike(more, less) => format!("{}: more alike than {}", more.words(), less.words()),
        }
    }
}

impl TwoMeals {
    fn words(&self) -> String {
        let when = match self.gap.0 {
            0 => "on the same day".to_string(),
            1 => "the day after".to_string(),
            n => format!("{n} days after"),
        };
        format!("{}, then {} {when}", self.earlier.name, self.later.name)
    }
}
