//! The judges: pure functions from a rotation to figures and findings.
//!
//! No judge changes anything, reads a clock or a file. [`judge`] runs them all once per document revision.

mod balance;
mod bars;
#[cfg(test)]
mod boundaries;
mod care;
mod chilling;
mod clock;
mod cold;
mod companions;
pub mod cooling;
mod diet;
mod diversity;
mod finding;
mod frost;
mod habits;
mod index;
mod keeping;
mod kernel;
mod kitchen_words;
pub mod learning;
mod likeness;
mod likeness_words;
mod mend;
mod needs;
mod partial;
mod plates;
mod portions;
mod runs;
mod season;
mod seats;
mod shape;
pub mod spoilage;
mod table;
#[cfg(test)]
pub(crate) mod test_support;
mod unopened;
mod unwelcome;
mod variety;
mod words;

pub use balance::{Balance, PartBalance, Share, ShareUse, Stock, balance};
pub use bars::{BarOf, ClockBar, Edge, FrozenFood, KeptAs, clock_bars, freezer_quality};
pub use chilling::{Cooling, coolings};
pub(crate) use companions::SCRAPED;
pub use companions::{PackLeft, packs_left};
pub use diversity::{DistinctMeals, UNRELATED, counted_likeness, effective_number, hill_number, rao};
pub use finding::{Code, Finding, Severity};
pub use habits::{Chosen, HALF_LIFE_RANGE, Habits, Home};
pub use keeping::{KeepingLine, KeepingState, keeping};
pub use kernel::{HALF_LIFE_DAYS, Kernel, fading, inventory, recovery};
pub use likeness::{
    Axis, AxisShare, Gower, LINE_CAUTION, LINE_WARN, Likeness, Lines, Verdict, Weights, axes_alike, cosine, gower_combine,
    likeness, likeness_whole, likeness_with, ordinal, single, soft_jaccard,
};
pub use mend::{Mend, mends_at_home, mends_for};
pub use needs::{CompanionNeed, CompanionUse, companion_needs};
pub use partial::Partial;
pub(crate) use plates::Plates;
pub(crate) use runs::{LINE_RUN, attributes};
pub use season::{Hemisphere, Season};
pub use seats::{Helping, Plated, Seat, table_of_eaters};
pub use table::{LikenessTable, TableMeal};
pub use unopened::{WholeKeeps, whole_keeping};
pub use unwelcome::{NOT_SOON_DAYS, Refusal, refusal};
pub use variety::{Pair, Patience, Run, RunOf, SAME_DISH_DAYS, Variety, feels_like, variety, variety_at_home, variety_with};

use crate::rotation::Rotation;

/// All that the judges have to say about one revision of a rotation.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// The mass balance.
    pub balance: Balance,
    /// One line for each batch and part: until when it keeps.
    pub keeping: Vec<KeepingLine>,
    /// Likeness of meals, runs, and how many different meals it feels like.
    pub variety: Variety,
    /// What there is to say, worst first.
    pub findings: Vec<Finding>,
}

/// Runs every judge, by the usual patience.
pub fn judge(rotation: &Rotation) -> Judgement {
    judge_at_home(rotation, &Home::default())
}

/// Runs every judge, by what is known of a home.
pub fn judge_at_home(rotation: &Rotation, home: &Home) -> Judgement {
    let (balance, mut findings) = balance::balance(rotation);
    let (keeping, more) = keeping::keeping(rotation);
    findings.extend(more);
    let (variety, more) = variety::variety_at_home(rotation, home);
    findings.extend(more);
    findings.extend(diet::diet(rotation));
    findings.extend(care::care(rotation));
    findings.extend(companions::companions(rotation));
    findings.extend(shape::shape(rotation));
    findings.extend(chilling::chilling(rotation));
    findings.extend(kitchen_words::kitchen_words(rotation));
    finding::settle(&mut findings, rotation);
    Judgement { balance, keeping, variety, findings }
}
