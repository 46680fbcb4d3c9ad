//! Eaters: allergens, diets, dislikes, cautions for the vulnerable.

use super::Finding;
use crate::rotation::Rotation;

/// Says who cannot, may not or does not like to eat what is planned for them.
pub(super) fn diet(_rotation: &Rotation) -> Vec<Finding> {
    unimplemented!("being written")
}
