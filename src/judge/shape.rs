//! The shape of the plan: the right part for the dish, raw before cooked.

use super::Finding;
use crate::rotation::Rotation;

/// Says which dishes are fed the wrong part and where the order of dishes is the wrong way round.
pub(super) fn shape(_rotation: &Rotation) -> Vec<Finding> {
    unimplemented!("being written")
}
