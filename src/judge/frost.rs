//! The freezer: it stops a clock, and once thawed what was left of it runs on.
//!
//! Frozen at -18 °C food keeps as long as you like; only its quality goes (US FoodSafety.gov, Cold Food Storage Chart). Thawed in
//! the fridge it goes on ageing from where it stopped, and what thaws raw is cooked within a day: USDA FSIS, The Big Thaw, gives
//! fish, poultry and minced meat a day or two after thawing in the fridge and joints three to five (from memory); the house takes
//! the shortest for all. What has thawed is not frozen again (common practice; USDA FSIS allows it for what thawed in the fridge).
//! Food that was past its limit when it went in gains nothing.
//!
//! Thawing happens in the fridge over the night before; nothing here thaws on the counter.

use super::{clock::Clock, cold::Cold, cooling::food_of};
use crate::{
    book::{Diet, PartId},
    quantity::{DayNo, Days},
    rotation::{Batch, BatchId, Frozen, FrozenStay, Rotation},
};

/// Days within which thawed raw food is cooked.
pub(super) const THAWED_RAW: Days = Days(1);

/// The stay of what is left of a batch.
pub(super) fn of_batch(rotation: &Rotation, batch: BatchId) -> Option<&FrozenStay> {
    let frozen = &rotation.storage.frozen;
    frozen.iter().find(|f| f.what == Frozen::Batch(batch))
}

/// The stay of what a batch draws from a part.
pub(super) fn of_draw<'r>(rotation: &'r Rotation, batch: &Batch, part: &PartId) -> Option<&'r FrozenStay> {
    let is_it = |f: &&FrozenStay| matches!(&f.what, Frozen::Draw(id, p) if *id == batch.id && p == part);
    rotation.storage.frozen.iter().find(is_it)
}

/// The clock of food by the day on which it is used: as it was until it has thawed, put off by its days in the freezer from then on.
pub(super) fn at(clock: Clock, stay: Option<&FrozenStay>, day: DayNo) -> Clock {
    match stay {
        Some(stay) if day >= stay.to && stay.from <= clock.last() => clock.after_frost(stay.days()),
        _ => clock,
    }
}

/// The clock of what went in raw: what was left of it, a day at most, from its thawing on.
pub(super) fn thawed_raw(cold: &Cold, raw: Clock, stay: Option<&FrozenStay>) -> Clock {
    let Some(stay) = stay.filter(|s| s.from <= raw.last()) else { return raw };
    let left = raw.last().since(stay.from).min(THAWED_RAW);
    Clock { thawed: true, ..cold.clock(stay.to, left, raw.reason) }
}

/// Days that food keeps its quality at -18 °C, by what it is; least and most. Safety is not limited there.
///
/// US FoodSafety.gov, Cold Food Storage Chart: soups and stews 2 to 3 months, cooked meat and poultry 2 to 6, cooked ham 1 to 2, raw
/// fatty fish 2 to 3, raw poultry in pieces 9 months, roasts 4 to 12.
pub fn freezer_quality(what: FrozenFood) -> (Days, Days) {
    let (least, most) = match what {
        FrozenFood::SoupOrStew => (60, 90),
        FrozenFood::CookedMeat => (60, 180),
        FrozenFood::CookedHam => (30, 60),
        FrozenFood::RawFattyFish => (60, 90),
        FrozenFood::RawPoultryPieces => (270, 270),
        FrozenFood::RawRoast => (120, 365),
    };
    (Days(least), Days(most))
}

/// Food by how long its quality lasts in the freezer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs)] // Plain kitchen words.
pub enum FrozenFood {
    SoupOrStew,
    CookedMeat,
    CookedHam,
    RawFattyFish,
    RawPoultryPieces,
    RawRoast,
}

/// For how many days what lies frozen is as good as fresh: the least of what is published for its sort. What has no figure of its
/// own there, cooked vegetables and raw ones, is taken like soup (house rule).
pub(super) fn nice_for(rotation: &Rotation, stay: &FrozenStay) -> Days {
    let kind = &rotation.kind;
    let fish = kind.diet == Diet::Pescatarian;
    let stirs = || rotation.dish_of(stay.what.batch()).is_some_and(|d| food_of(d, kind).stirs);
    let food = match &stay.what {
        Frozen::Draw(..) if kind.animal && fish => FrozenFood::RawFattyFish,
        Frozen::Draw(..) if kind.animal => FrozenFood::RawRoast,
        Frozen::Batch(_) if kind.family.as_str() == "ham" => FrozenFood::CookedHam,
        Frozen::Batch(_) if kind.animal && !fish && !stirs() => FrozenFood::CookedMeat,
        _ => FrozenFood::SoupOrStew,
    };
    freezer_quality(food).0
}
