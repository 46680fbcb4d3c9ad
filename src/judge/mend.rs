//! Mends: ready edits that cure a finding, tried by the judges before they are offered.

use super::Finding;
use crate::{
    book::Book,
    rotation::{Edit, Rotation},
};

/// A ready edit that cures a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// What it does, short enough for a button: "Fold 28 g into the curry".
    pub words: String,
    /// What it costs or changes, in plain words: "curry becomes 119 g a head".
    pub cost: String,
    /// The edit.
    pub edit: Edit,
}

/// Up to three mends of `finding`, best first. Each was applied to a copy and judged: it removes the finding and adds none as grave.
pub fn mends_for(_rotation: &Rotation, _book: &Book, _finding: &Finding) -> Vec<Mend> {
    unimplemented!("being written")
}
