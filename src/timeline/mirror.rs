//! The day seen in a mirror: time runs from the last sit-down backwards.
//!
//! "Start cooking as late as possible" is then "be done as early as possible", the classical project problem: a task's mirrored
//! start is the largest serving minute less its end, releases come from serving times, and the span is the makespan. Both
//! criteria fall as mirrored starts fall, so that left-justified schedules, and all that is known of them, apply.

use super::{instance::Instance, relax::Rules};

/// The shared resources, in this order.
pub(super) const RESOURCES: usize = 4;

/// A task in the mirror.
#[derive(Clone, Debug)]
pub(super) struct Job {
    pub minutes: i32,
    /// The mirrored start is at least this: its dish is served then.
    pub release: i32,
    /// And at most this: the day begins there.
    pub latest: i32,
    /// Cooks, racks, rings, space.
    pub needs: [i32; RESOURCES],
    pub appliance: Option<u32>,
    pub oven: Option<(i64, i64)>,
}

/// start of `then` >= start of `first` + `by`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Gap {
    pub first: usize,
    pub then: usize,
    pub by: i32,
}

/// Of these tasks one starts at `latest` or before: the dish would stand too long otherwise.
#[derive(Clone, Debug)]
pub(super) struct Hold {
    pub jobs: Vec<usize>,
    pub latest: i32,
}

/// The mirrored problem.
#[derive(Clone, Debug)]
pub(super) struct Mirror {
    /// The largest serving minute: the mirror's plane.
    pub horizon: i32,
    pub jobs: Vec<Job>,
    pub gaps: Vec<Gap>,
    pub holds: Vec<Hold>,
    pub capacities: [i32; RESOURCES],
}

impl Mirror {
    /// Mirrors an instance that was checked, with the rules that are to hold.
    pub(super) fn of(instance: &Instance, rules: &Rules) -> Mirror {
        let horizon = instance.dishes.iter().map(|d| d.serve).max().unwrap_or(0).max(0) as i32;
        // A day without a beginning: twice as long, and more than long enough for everything after one another.
        let work: i64 = instance.tasks.iter().map(|t| t.minutes.min(i64::from(horizon))).sum();
        let waits: i64 = instance.precedence.iter().map(|p| p.min_lag.min(i64::from(horizon))).sum();
        let far = if rules.beginning { horizon } else { (i64::from(horizon) + work + waits).min(1_000_000_000) as i32 };
        let cap = |v: i64| v.min(1_000_000_000) as i32;
        let mut names: Vec<&str> = Vec::new();
        let jobs = instance.tasks.iter().map(|t| {
            let appliance = t.appliance.as_deref().filter(|_| rules.appliances).map(|a| {
                names.iter().position(|n| *n == a).unwrap_or_else(|| {
                    names.push(a);
                    names.len() - 1
                }) as u32
            });
            let needs = [t.hands, t.oven.map_or(0, |o| o.racks), t.rings, t.space];
            Job {
                minutes: cap(t.minutes),
                release: (i64::from(horizon) - instance.dishes[t.dish].serve).min(1_000_000_000) as i32,
                latest: (i64::from(far) - t.minutes).max(-1) as i32,
                needs: std::array::from_fn(|r| if rules.resources[r] { needs[r].min(1_000_000) as i32 } else { 0 }),
                appliance,
                oven: t.oven.filter(|_| rules.temperature).map(|o| (o.temp_min, o.temp_max)),
            }
        });
        let jobs: Vec<Job> = jobs.collect();
        let mut gaps = Vec::new();
        for p in &instance.precedence {
            let length = instance.tasks[p.after].minutes;
            gaps.push(Gap { first: p.after, then: p.before, by: cap(length.saturating_add(p.min_lag)) });
            if let Some(max) = p.max_lag.filter(|_| rules.windows) {
                gaps.push(Gap { first: p.before, then: p.after, by: -cap(length.saturating_add(max)) });
            }
        }
        gaps.sort_unstable();
        gaps.dedup();
        let holds = instance.dishes.iter().enumerate().filter_map(|(d, dish)| {
            let hold = dish.hold_max.filter(|_| rules.holds.get(d).copied().unwrap_or(true))?;
            let latest = (i64::from(horizon) - dish.serve).saturating_add(hold).min(1_000_000_000) as i32;
            let jobs = (0..instance.tasks.len()).filter(|&t| instance.tasks[t].dish == d).collect();
            Some(Hold { jobs, latest })
        });
        let holds = holds.collect();
        let c = &instance.capacities;
        let capacities = [c.cooks, c.racks, c.rings, c.space].map(|v| v.min(1_000_000) as i32);
        Mirror { horizon, jobs, gaps, holds, capacities }
    }

    /// Whether two tasks can never run at the same time.
    pub(super) fn excludes(&self, a: usize, b: usize) -> bool {
        let (a, b) = (&self.jobs[a], &self.jobs[b]);
        let ovens_differ = match (a.oven, b.oven) {
            (Some(x), Some(y)) => x.0.max(y.0) > x.1.min(y.1),
            _ => false,
        };
        let crowded = (0..RESOURCES).any(|r| a.needs[r] > 0 && b.needs[r] > 0 && a.needs[r] + b.needs[r] > self.capacities[r]);
        ovens_differ || crowded || (a.appliance.is_some() && a.appliance == b.appliance)
    }
}
