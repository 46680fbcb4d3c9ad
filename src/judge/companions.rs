//! Opened packs: what is left of them and until when they keep.

use super::Finding;
use crate::rotation::Rotation;

/// Says which opened packs are used too late and which are not used up.
pub(super) fn companions(_rotation: &Rotation) -> Vec<Finding> {
    unimplemented!("being written")
}
