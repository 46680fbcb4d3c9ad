//! Every schedule of a very small day, tried.

use super::Day;

/// The least span and, at that span, the least sum; none if no schedule is right. Starts are tried late ones first, and a
/// half-made schedule is given up only where it breaks a rule between two steps or cannot be the best any more.
pub fn best(day: &Day) -> Option<(i64, i64)> {
    let mut at = Search { day, starts: Vec::new(), best: None };
    at.place();
    at.best
}

struct Search<'a> {
    day: &'a Day,
    starts: Vec<i64>,
    best: Option<(i64, i64)>,
}

impl Search<'_> {
    fn place(&mut self) {
        let t = self.starts.len();
        let Some(step) = self.day.steps.get(t) else {
            if let Ok(cost) = self.day.check(&self.starts) {
                self.best = Some(self.best.map_or(cost, |b| b.min(cost)));
            }
            return;
        };
        for start in (0..=self.day.dishes[step.dish].0 - step.minutes).rev() {
            self.starts.push(start);
            if self.may_lead_on() {
                self.place();
            }
            self.starts.pop();
        }
    }

    fn may_lead_on(&self) -> bool {
        let placed = self.starts.len();
        let cost = self.partial_cost();
        if self.best.is_some_and(|b| cost.0 > b.0 || (cost.0 == b.0 && cost.1 >= b.1)) {
            return false;
        }
        self.day.lags.iter().filter(|p| p.before < placed && p.after < placed).all(|p| {
            let lag = self.starts[p.after] - self.day.end(&self.starts, p.before);
            lag >= p.min && p.max.is_none_or(|max| lag <= max)
        })
    }

    fn partial_cost(&self) -> (i64, i64) {
        let latest = self.day.dishes.iter().map(|d| d.0).max().unwrap_or(0);
        let span = latest - self.starts.iter().min().copied().unwrap_or(latest);
        (span, self.starts.iter().zip(&self.day.steps).map(|(s, t)| self.day.dishes[t.dish].0 - s).sum())
    }
}
