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
mod sight;
pub mod spoilage;
mod table;
#[cfg(test)]
pub(crate) mod test_support;
mod unopened;
mod unwelcome;
mod variety;
mod words;

pub use balance::{Balance, PartBalance, Share, ShareUse, Stock, balance};
pub use bars::{BarOf, ClockBar, Edge, KeptAs, clock_bars};
pub use chilling::{Cooling, coolings};
pub(crate) use companions::SCRAPED;
pub use companions::{PackLeft, packs_left};
pub use diversity::{DistinctMeals, UNRELATED, counted_likeness, effective_number, hill_number, rao};
pub use finding::{Code, Finding, Severity};
pub use frost::{FrozenFood, freezer_quality};
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
use sight::Sight;

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
    let sight = Sight::of(rotation);
    let (balance, mut findings) = balance::of(&sight.index);
    let (keeping, more) = keeping::of(&sight);
    findings.extend(more);
    let (variety, more) = variety::variety_at_home(rotation, home);
    findings.extend(more);
    findings.extend(diet::of(&sight.index));
    findings.extend(care::of(&sight));
    findings.extend(companions::of(&sight));
    findings.extend(shape::of(&sight));
    findings.extend(chilling::of(&sight.index));
    findings.extend(kitchen_words::of(&sight));
    finding::settle(&mut findings, rotation);
    Judgement { balance, keeping, variety, findings }
}

/// Everything that is said about what one code is about, and nothing else: of the judge that says it alone. The same findings of
/// that code as [`judge_at_home`] has, at a part of the price.
fn findings_about(code: Code, rotation: &Rotation, home: &Home) -> Vec<Finding> {
    let sight = || Sight::of(rotation);
    let index = || index::Index::new(rotation);
    let mut findings = match code {
        Code::OverAllotted | Code::Unallocated | Code::Unserved | Code::ServingSize => balance::of(&index()).1,
        Code::RawTooOld
        | Code::CutTooOld
        | Code::CookedTooOld
        | Code::LastDay
        | Code::BeforeMade
        | Code::Reheated
        | Code::BoiledThrough
        | Code::PowerCut
        | Code::Frozen
        | Code::FrozenLong => keeping::of(&sight()).1,
        Code::TooAlike
        | Code::NotDescribed
        | Code::RunTexture
        | Code::RunFamily
        | Code::RunHotSoft
        | Code::SameDish
        | Code::Unwelcome
        | Code::ColdInFrost
        | Code::OvenInHeat => variety::variety_at_home(rotation, home).1,
        Code::Allergy | Code::NothingToEat | Code::Dislike | Code::DishCaution | Code::Barred | Code::PieceCaution => {
            diet::of(&index())
        }
        Code::Care => care::of(&sight()),
        Code::CompanionTooOld | Code::CompanionLeft | Code::CompanionWaste => companions::of(&sight()),
        Code::WrongPart | Code::RawLast => shape::of(&sight()),
        Code::Cooling => chilling::of(&index()),
        Code::Advice => kitchen_words::of(&sight()),
    };
    finding::settle(&mut findings, rotation);
    findings
}

#[cfg(test)]
mod tests {
    use super::{Code, Finding, Home, findings_about, judge_at_home};
    use crate::store::rotation_from_text;
    use std::{collections::BTreeSet, path::Path};

    /// What one judge says of a code is what all of them say of it, for every code that any of the worked weeks has.
    #[test]
    fn one_judge_says_of_its_codes_what_all_say() {
        let mut seen: BTreeSet<Code> = BTreeSet::new();
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data");
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let Ok(plan) = rotation_from_text(&path, &std::fs::read_to_string(&path).unwrap_or_default()) else { continue };
            let all = judge_at_home(&plan, &Home::default()).findings;
            for code in all.iter().map(|f| f.code).collect::<BTreeSet<_>>() {
                let of = |findings: Vec<Finding>| findings.into_iter().filter(|f| f.code == code).collect::<Vec<_>>();
                assert_eq!(of(findings_about(code, &plan, &Home::default())), of(all.clone()), "{}", path.display());
                seen.insert(code);
            }
        }
        assert!(seen.len() >= 15, "only {seen:?}");
    }
}
