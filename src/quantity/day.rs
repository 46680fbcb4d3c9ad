//! Days counted in the plan: day 1 is the first day of the window.

use serde::{Deserialize, Serialize};
use std::fmt;

/// A day of the plan; 1 is the first day of the window, 0 and below lie before it (a piece may have been opened earlier).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct DayNo(pub i16);

impl DayNo {
    /// The first day of the window.
    pub const FIRST: DayNo = DayNo(1);

    /// Whole calendar days from `start` to this day; the age of something that began on `start`.
    pub fn since(self, start: DayNo) -> Days {
        Days(self.0.saturating_sub(start.0))
    }

    /// The day that lies `days` later.
    pub fn plus(self, days: Days) -> DayNo {
        DayNo(self.0.saturating_add(days.0))
    }
}

impl fmt::Display for DayNo {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "day {}", self.0)
    }
}

/// A count of whole calendar days: an age, or a keeping limit.
///
/// A limit of 3 lets food be eaten while its age is 3 or less: cut on day 1, last eaten on day 4.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Days(pub i16);

impl fmt::Display for Days {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} day{}", self.0, if self.0 == 1 { "" } else { "s" })
    }
}
