//! How alike two dishes eat, 0 to 1, with the part that each axis plays.

use crate::book::Profile;
use serde::Serialize;

/// Pairs at or over this are too alike.
pub const LINE_WARN: f64 = 0.60;
/// Pairs at or over this, and below [`LINE_WARN`], are getting alike.
pub const LINE_CAUTION: f64 = 0.42;

/// The nine axes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
#[allow(missing_docs)] // The words of the profile.
pub enum Axis {
    Texture,
    Family,
    Colour,
    Method,
    Form,
    Taste,
    Heat,
    Protein,
    Starch,
}

/// What one axis adds to a likeness.
#[derive(Clone, Debug, PartialEq)]
pub struct AxisShare {
    /// The axis.
    pub axis: Axis,
    /// Likeness on this axis alone, 0 to 1.
    pub alike: f64,
    /// Its share of the whole; all shares add up to the whole.
    pub share: f64,
    /// "both stewed", "stewed and creamy"; in a cook's words.
    pub words: String,
    /// Whether the main values are the same (for taste: close to it), so that it counts as shared.
    pub shared: bool,
}

/// How alike two profiles are.
#[derive(Clone, Debug, PartialEq)]
pub struct Likeness {
    /// 0 to 1; nothing where no axis is known for both.
    pub whole: Option<f64>,
    /// The known axes, largest share first.
    pub shares: Vec<AxisShare>,
}

/// What a household would say of a pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// Too alike.
    Warn,
    /// Getting alike.
    Caution,
    /// Fine.
    Fine,
    /// Not enough described.
    Unknown,
}

/// Likeness of two profiles with the default weights.
pub fn likeness(_a: &Profile, _b: &Profile) -> Likeness {
    unimplemented!("being written")
}

impl Verdict {
    /// The verdict on a felt likeness.
    pub fn of(felt: f64) -> Verdict {
        if felt >= LINE_WARN {
            Verdict::Warn
        } else if felt >= LINE_CAUTION {
            Verdict::Caution
        } else {
            Verdict::Fine
        }
    }
}
