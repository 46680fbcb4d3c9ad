//! The freezer: it stops a clock, and once thawed what was left of it runs on.
//!
//! Frozen at -18 °C food keeps as long as you like; only its quality goes (US FoodSafety.gov, Cold Food Storage Chart). Thawed in
//! the fridge it goes on ageing from where it stopped, and what thaws raw is cooked within a day: USDA FSIS, The Big Thaw, gives
//! fish, poultry and minced meat a day or two after thawing in the fridge and joints three to five (from memory); the house takes
//! the shortest for all. What has thawed is not frozen again (common practice; USDA FSIS allows it for what thawed in the fridge).
//! Food that was past its limit when it went in gains nothing.
//!
//! Thawing happens in the fridge over the night before; nothing here thaws on the counter.

use super::{clock::Clock, cold::Cold};
use crate::{
    book::PartId,
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
