//! The day seen in a mirror: time runs from the last sit-down backwards.
//!
//! "Start cooking as late as possible" is then "be done as early as possible", the classical project problem: a task's mirrored
//! start is the largest serving minute less its end, releases come from serving times, and the span is the makespan. Both
//! criteria fall as mirrored starts fall, so that left-justified schedules, and all that is known of them, apply.

use super::{instance::Instance, relax::Rules};

/// The shared resources, in this order.
pub(super) const RESOURCES: usize = 4;

/// The most sets of tasks that are watched for their sum of minutes (house limit).
pub(super) const CLIQUES: usize = 6;

/// A task in the mirror.
#[derive(Clone, Debug)]
pub(super) struct Job {
    pub dish: usize,
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
                dish: t.dish,
                minutes: cap(t.minutes),
                release: i64::from(horizon).saturating_sub(instance.dishes[t.dish].serve).min(1_000_000_000) as i32,
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
            let latest = i64::from(horizon).saturating_sub(dish.serve).saturating_add(hold).min(1_000_000_000) as i32;
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

    /// Sets of tasks of which no two can run at the same time, the longest first from each task on; at most [`CLIQUES`].
    ///
    /// Found greedily: each task in turn gathers, longest first, whatever excludes all that it has. Sets that one unary
    /// resource explains by itself are among them.
    pub(super) fn cliques(&self) -> Vec<Vec<usize>> {
        let n = self.jobs.len();
        let excludes: Vec<Vec<bool>> = (0..n).map(|a| (0..n).map(|b| a != b && self.excludes(a, b)).collect()).collect();
        let mut longest: Vec<usize> = (0..n).collect();
        longest.sort_by_key(|&j| (std::cmp::Reverse(self.jobs[j].minutes), j));
        let mut all: Vec<Vec<usize>> = Vec::new();
        for &seed in &longest {
            let mut clique = vec![seed];
            for &j in &longest {
                if clique.iter().all(|&k| excludes[j][k]) {
                    clique.push(j);
                }
            }
            clique.sort_unstable();
            if clique.len() > 2 && !all.contains(&clique) {
                all.push(clique);
            }
        }
        all.sort_by_key(|c| std::cmp::Reverse(c.iter().map(|&j| i64::from(self.jobs[j].minutes)).sum::<i64>()));
        all.truncate(CLIQUES);
        all
    }

    /// Tasks whose gaps form a circle that no schedule satisfies; none if there is no such circle.
    ///
    /// Longest paths from everywhere at once (Bellman 1958): if they still grow after as many rounds as there are tasks, there
    /// is one, and following the last growth backwards leads into it.
    pub(super) fn circle(&self) -> Option<Vec<usize>> {
        let n = self.jobs.len();
        let mut reach = vec![0_i64; n];
        let mut by = vec![None; n];
        let mut grew = None;
        for _ in 0..=n {
            grew = None;
            for g in &self.gaps {
                let pushed = reach[g.first] + i64::from(g.by);
                if pushed > reach[g.then] {
                    reach[g.then] = pushed;
                    by[g.then] = Some(g.first);
                    grew = Some(g.then);
                }
            }
            grew?;
        }
        let mut at = grew?;
        for _ in 0..n {
            at = by[at]?;
        }
        let (begin, mut circle) = (at, Vec::new());
        loop {
            circle.push(at);
            at = by[at]?;
            if at == begin || circle.len() > n {
                circle.reverse();
                return Some(circle);
            }
        }
    }

    /// By two tasks: how much later the second starts at least, by the gaps alone, and none where they say nothing. Only
    /// worked out where some gap has a longest wait, since without one no order can close a circle unseen.
    ///
    /// Floyd 1962; there is no circle, so longest paths exist.
    pub(super) fn distances(&self) -> Option<Vec<Vec<Option<i64>>>> {
        if self.gaps.iter().all(|g| g.by > 0) {
            return None;
        }
        let n = self.jobs.len();
        let mut far = vec![vec![None; n]; n];
        for g in &self.gaps {
            let d: &mut Option<i64> = &mut far[g.first][g.then];
            *d = (*d).max(Some(i64::from(g.by)));
        }
        for k in 0..n {
            let through = far[k].clone();
            for row in &mut far {
                let Some(to) = row[k] else { continue };
                for (d, on) in row.iter_mut().zip(&through) {
                    if let Some(on) = on {
                        *d = (*d).max(Some(to + on));
                    }
                }
            }
        }
        Some(far)
    }

    /// A lower bound of the makespan by work alone: the tasks of a resource that start at `a` or later and leave at least `q`
    /// minutes of the day after their end need their work done in between.
    pub(super) fn work_bound(&self) -> i32 {
        let n = self.jobs.len();
        let (mut head, mut tail): (Vec<i64>, Vec<i64>) = (self.jobs.iter().map(|j| i64::from(j.release)).collect(), vec![0; n]);
        // At most n rounds, since there is no circle.
        for _ in 0..n {
            let mut grew = false;
            for g in &self.gaps {
                let by = i64::from(g.by);
                let (h, t) = (
                    head[g.first] + by,
                    tail[g.then] + by + i64::from(self.jobs[g.then].minutes) - i64::from(self.jobs[g.first].minutes),
                );
                grew |= h > head[g.then] || t > tail[g.first];
                head[g.then] = head[g.then].max(h);
                tail[g.first] = tail[g.first].max(t);
            }
            if !grew {
                break;
            }
        }
        let mut bound = 0;
        for r in 0..RESOURCES {
            let mut users: Vec<usize> = (0..n).filter(|&j| self.jobs[j].needs[r] > 0).collect();
            let capacity = i64::from(self.capacities[r].max(1));
            users.sort_by_key(|&j| std::cmp::Reverse(head[j]));
            let mut tails: Vec<i64> = users.iter().map(|&j| tail[j]).collect();
            tails.sort_unstable();
            tails.dedup();
            for q in tails {
                let mut work = 0;
                for &j in users.iter().filter(|&&j| tail[j] >= q) {
                    work += i64::from(self.jobs[j].minutes) * i64::from(self.jobs[j].needs[r]);
                    bound = bound.max(head[j] + (work + capacity - 1) / capacity + q);
                }
            }
        }
        bound.min(i64::from(i32::MAX / 2)) as i32
    }
}
