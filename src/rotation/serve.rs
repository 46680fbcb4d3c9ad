//! How much to serve: what a dish is good for and what there is.

use super::{Rotation, Slot, Source};
use crate::{book::Dish, quantity::Portion};

/// The typical portion of `dish` for those who sit down at `slot`, cut to what `source` has free.
pub fn suggested_portion(_rotation: &Rotation, _dish: &Dish, _source: &Source, _slot: Slot) -> Portion {
    unimplemented!("being written")
}

/// The most that `source` has free.
pub fn most_for(_rotation: &Rotation, _source: &Source) -> Portion {
    unimplemented!("being written")
}
