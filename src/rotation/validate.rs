//! What must hold of every rotation, whoever wrote it.

use super::Rotation;

/// Why a rotation cannot be one.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{what}")]
pub struct Invalid {
    /// One sentence: what is wrong and what to do.
    pub what: String,
    /// Text to look for in a file to find the line, outermost first: `["batches", "id: 7", "dish: \"x\""]`.
    pub near: Vec<String>,
}

/// Checks every reference and sum.
pub fn validate(_rotation: &Rotation) -> Result<(), Invalid> {
    unimplemented!("being written")
}
