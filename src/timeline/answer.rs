//! What the search answers.

use super::cause::Impossible;

/// How much is proven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Status {
    /// Both the span and, at that span, the sum are the least.
    Optimal,
    /// The span is the least; the sum may not be.
    SpanOptimal,
    /// A schedule, stopped before the span was proven.
    Feasible,
    /// Proven: there is no schedule.
    Infeasible,
    /// Stopped before a schedule was found.
    Unknown,
}

impl Status {
    /// As it stands in files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Status::Optimal => "optimal",
            Status::SpanOptimal => "span_optimal",
            Status::Feasible => "feasible",
            Status::Infeasible => "infeasible",
            Status::Unknown => "unknown",
        }
    }
}

/// A day's schedule and what is proven of it. Times are minutes from the start of the day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// How much is proven.
    pub status: Status,
    /// From the first start to the last sit-down.
    pub span: Option<i64>,
    /// No schedule has a lesser span.
    pub span_bound: Option<i64>,
    /// Over all tasks: from its start to its dish's serving.
    pub sum: Option<i64>,
    /// No schedule of this span has a lesser sum; known only where the span is proven.
    pub sum_bound: Option<i64>,
    /// By task: the minute it starts.
    pub starts: Option<Vec<i64>>,
    /// Where there is no schedule: why.
    pub impossible: Option<Impossible>,
    /// Clashes that the search learned from.
    pub nodes: u64,
}

impl Answer {
    pub(super) fn without_schedule(status: Status, nodes: u64) -> Answer {
        let (span, span_bound, sum, sum_bound, starts, impossible) = (None, None, None, None, None, None);
        Answer { status, span, span_bound, sum, sum_bound, starts, impossible, nodes }
    }
}
