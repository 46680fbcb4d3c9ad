//! Likeness over the rotation: neighbouring meals of each eater, runs, and how many meals it feels like.

use super::{AxisShare, DistinctMeals, Finding, Verdict};
use crate::rotation::{EaterId, Rotation, Slot};

/// What the household's patience has to say.
#[derive(Clone, Debug, PartialEq)]
pub struct Variety {
    /// Every two consecutive meals of one eater; pairs that hold for everybody who eats the later meal stand once, without an eater.
    pub pairs: Vec<Pair>,
    /// Runs of one texture, one family, or hot-and-soft.
    pub runs: Vec<Run>,
    /// For the household: over all meals with the piece, in meals' shares of one each.
    pub distinct: DistinctMeals,
    /// For each eater over the meals that they eat.
    pub distinct_by_eater: Vec<(EaterId, DistinctMeals)>,
}

/// Two consecutive meals of an eater.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// The earlier meal.
    pub first: Slot,
    /// The later meal.
    pub second: Slot,
    /// For whom, if not for everybody who eats the later one.
    pub eater: Option<EaterId>,
    /// Likeness of the two dishes, before any fading; nothing where too little is described.
    pub likeness: Option<f64>,
    /// Likeness after the fading with the days between.
    pub felt: Option<f64>,
    /// What the household would say.
    pub verdict: Verdict,
    /// What each axis adds, largest first.
    pub shares: Vec<AxisShare>,
}

/// What runs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum RunOf {
    /// One texture.
    Texture(crate::book::Texture),
    /// One seasoning family.
    Family(crate::book::Family),
    /// Hot and soft at once.
    HotSoft,
}

/// A run of one thing over meals of an eater.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// What runs.
    pub of: RunOf,
    /// The meal at which it becomes too much.
    pub ends: Slot,
    /// The eaters who feel it.
    pub eaters: Vec<EaterId>,
    /// The inventory it has reached; 2.5 is the line.
    pub inventory: f64,
}

/// Reckons likeness over the rotation.
pub fn variety(_rotation: &Rotation) -> (Variety, Vec<Finding>) {
    unimplemented!("being written")
}
