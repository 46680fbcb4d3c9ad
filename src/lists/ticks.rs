//! Lines of lists that are done: bought, cut, boxed.

use crate::rotation::Rotation;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// The most plans whose ticks are remembered, and the most lines of one (house limits).
const MOST_PLANS: usize = 40;
const MOST_LINES: usize = 2_000;

/// What is ticked off, plan by plan, the plan that was ticked last at the end.
///
/// A line is known by its words: if what is to be bought changes, so does its line, and the tick that was for less is gone.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ticks(Vec<(String, BTreeSet<String>)>);

impl Ticks {
    /// What a plan is known by: what it is about and when it begins.
    pub(crate) fn plan(rotation: &Rotation) -> String {
        format!("{} from {}", rotation.heading(), rotation.first_day)
    }

    /// Whether this line of this plan's lists is done.
    pub fn has(&self, rotation: &Rotation, line: &str) -> bool {
        let plan = Ticks::plan(rotation);
        self.0.iter().any(|(p, lines)| *p == plan && lines.contains(line))
    }

    /// Ticks a line off, or takes its tick away.
    pub fn set(&mut self, rotation: &Rotation, line: &str, done: bool) {
        let plan = Ticks::plan(rotation);
        let place = self.0.iter().position(|(p, _)| *p == plan);
        let mut lines = place.map(|i| self.0.remove(i).1).unwrap_or_default();
        if done && lines.len() < MOST_LINES {
            lines.insert(line.to_string());
        } else {
            lines.remove(line);
        }
        if !lines.is_empty() {
            self.0.push((plan, lines));
        }
        let over = self.0.len().saturating_sub(MOST_PLANS);
        self.0.drain(..over);
    }

    /// The ticks as a file may hold them: no more than are remembered.
    #[must_use]
    pub fn within_limits(mut self) -> Ticks {
        let over = self.0.len().saturating_sub(MOST_PLANS);
        self.0.drain(..over);
        for (_, lines) in &mut self.0 {
            *lines = std::mem::take(lines).into_iter().take(MOST_LINES).collect();
        }
        self
    }
}
