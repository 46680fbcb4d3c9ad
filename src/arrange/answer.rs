//! What the search gives back, and how it may be bounded and watched.

use super::reason::Reason;
use std::sync::atomic::AtomicBool;

/// How far a search may go. The answer is the same for any number of threads, unless time or hand cut it short.
#[derive(Clone, Copy, Debug, Default)]
pub struct Limits<'a> {
    /// Threads for the heaviest steps; 0 counts as 1.
    pub threads: usize,
    /// Seconds after which it ends with what it has; none: when it is done.
    pub seconds: Option<f64>,
    /// Ends the search soon after it turns true.
    pub cancel: Option<&'a AtomicBool>,
}

/// How much an answer claims.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// The arrangement is the best there is, proven.
    Optimal,
    /// There is none, proven.
    Infeasible,
    /// The arrangement keeps all rules; a better one may exist.
    Feasible,
    /// Nothing was found and nothing proven in the time.
    Unknown,
}

impl Status {
    /// The word for files and people.
    pub fn word(self) -> &'static str {
        match self {
            Status::Optimal => "optimal",
            Status::Infeasible => "infeasible",
            Status::Feasible => "feasible",
            Status::Unknown => "unknown",
        }
    }
}

/// The outcome of a search.
#[derive(Clone, Debug)]
pub struct Answer {
    /// What is claimed.
    pub status: Status,
    /// Cost of the arrangement.
    pub objective: Option<i64>,
    /// No arrangement costs less. Nothing where there is none.
    pub bound: Option<i64>,
    /// A dish for every slot.
    pub assignment: Option<Vec<usize>>,
    /// Why there is none.
    pub reason: Option<Reason>,
    /// Arrangements of the first slots that were grown, a measure of the work.
    pub nodes: u64,
}

/// News on the way.
#[derive(Clone, Debug)]
pub struct Progress<'a> {
    /// The best arrangement so far and its cost.
    pub best: Option<(i64, &'a [usize])>,
    /// No arrangement costs less than this.
    pub bound: i64,
}
