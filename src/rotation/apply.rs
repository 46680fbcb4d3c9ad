//! The one place where edits are carried out.

use super::{Edit, Rotation};

/// An edit done: the new plan, and what was done in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    /// The plan after the edit.
    pub rotation: Rotation,
    /// What was done: "Move Charred wedges to Thursday supper".
    pub words: String,
}

/// Why an edit was refused; the plan stays as it was. One sentence for a person.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Refusal(pub String);

/// Carries out `edit` on a copy of `rotation`, or says why not.
pub fn apply(_rotation: &Rotation, _edit: &Edit) -> Result<Done, Refusal> {
    unimplemented!("being written")
}
