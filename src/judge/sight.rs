//! A rotation as all judges look at it: looked up once, its fridge asked once, its clocks reckoned once.

use super::{
    clock::{Clocks, clocks},
    cold::Cold,
    index::Index,
};
use crate::rotation::Rotation;

/// What several judges need of one revision.
pub(super) struct Sight<'a> {
    pub index: Index<'a>,
    pub cold: Cold<'a>,
    /// The clocks of every batch, by its place in the index; nothing where the dish is not there.
    pub clocks: Vec<Option<Clocks>>,
}

impl<'a> Sight<'a> {
    pub fn of(rotation: &'a Rotation) -> Sight<'a> {
        let index = Index::new(rotation);
        let cold = Cold::of(rotation);
        let clocks = clocks(&index, &cold);
        Sight { index, cold, clocks }
    }
}
