//! How low the sum of starts can be: the multipliers for tasks that flow.
//!
//! The engine's flow bound treats each resource by itself. What ties them together is priced (Lagrange multipliers): a task's
//! weight in the sum is shared between the resources that it needs, and weight is moved from a task to its predecessors for
//! what the precedence between them adds. Any prices give a bound; good ones come from subgradient steps, each towards what
//! the last flow got wrong (Held, Wolfe & Crowder 1974).

use super::{
    engine::{Flow, GRAIN, Number, Pool, lower, upper},
    mirror::{Mirror, RESOURCES},
    model::Model,
};

/// Rounds without a better bound before the step shrinks, and how much it may shrink.
const PATIENCE: u32 = 20;
const LEAST_STEP: f64 = 1e-4;
const ROUNDS: usize = 2_000;

/// One resource, or one appliance, with the tasks that need it.
#[derive(Clone, Debug)]
struct Shared {
    jobs: Vec<usize>,
    work: Vec<f64>,
    capacity: f64,
}

/// Prices, and the bound that they give.
#[derive(Clone, Debug)]
struct Prices {
    bound: f64,
    /// By gap.
    gap: Vec<f64>,
    /// By resource and its tasks: the weight that it carries.
    share: Vec<Vec<f64>>,
}

/// The problem as far as it flows.
#[derive(Clone, Debug)]
pub(super) struct Fluid {
    shared: Vec<Shared>,
    /// First, then, by how much.
    gaps: Vec<(usize, usize, f64)>,
    minutes: Vec<f64>,
    /// By task: the resource that carries the weight which the others leave, and its place there.
    home: Vec<Option<(usize, usize)>>,
    low: Vec<f64>,
    high: Vec<f64>,
}

/// One flow under given prices.
struct Poured {
    bound: f64,
    /// By task: its start where its home (or, without one, its bound) puts it.
    at: Vec<f64>,
    /// By resource and its tasks.
    starts: Vec<Vec<f64>>,
}

impl Fluid {
    /// None: the day is too long for its sums to be exact enough.
    pub fn of(mirror: &Mirror, model: &Model) -> Option<Fluid> {
        let n = mirror.jobs.len();
        let high: Vec<f64> = model.starts.iter().map(|&s| f64::from(model.engine.high(s))).collect();
        if high.iter().sum::<f64>() > 1e8 {
            return None;
        }
        let mut shared = Vec::new();
        for r in 0..RESOURCES {
            let jobs: Vec<usize> = (0..n).filter(|&j| mirror.jobs[j].needs[r] > 0).collect();
            let work = jobs.iter().map(|&j| f64::from(mirror.jobs[j].needs[r]) * f64::from(mirror.jobs[j].minutes)).collect();
            shared.push(Shared { jobs, work, capacity: f64::from(mirror.capacities[r]) });
        }
        let appliances = mirror.jobs.iter().filter_map(|j| j.appliance).max().map_or(0, |a| a + 1);
        for a in 0..appliances {
            let jobs: Vec<usize> = (0..n).filter(|&j| mirror.jobs[j].appliance == Some(a)).collect();
            let work = jobs.iter().map(|&j| f64::from(mirror.jobs[j].minutes)).collect();
            shared.push(Shared { jobs, work, capacity: 1.0 });
        }
        shared.retain(|s| s.jobs.len() > 1);
        let mut home = vec![None; n];
        for (p, s) in shared.iter().enumerate() {
            for (k, &j) in s.jobs.iter().enumerate() {
                home[j].get_or_insert((p, k));
            }
        }
        let gaps = mirror.gaps.iter().map(|g| (g.first, g.then, f64::from(g.by))).collect();
        let minutes = mirror.jobs.iter().map(|j| f64::from(j.minutes)).collect();
        let low = model.starts.iter().map(|&s| f64::from(model.engine.low(s))).collect();
        Some(Fluid { shared, gaps, minutes, home, low, high })
    }

    /// The best bound found, as a flow for the engine, whose `total` counts from `base`; and the bound itself as a whole sum.
    /// `target` is a sum that some schedule has.
    pub fn bound(&self, model: &Model, total: Number, base: i64, target: i64) -> (Flow, i64) {
        let prices = self.priced(target as f64);
        (self.flow(model, &prices, total, base as f64), (prices.bound - GRAIN).ceil() as i64)
    }

    fn is_home(&self, j: usize, p: usize, k: usize) -> bool {
        self.home[j] == Some((p, k))
    }

    /// Every task's weight after the gaps have moved theirs, and what they add by themselves.
    fn weights(&self, gap: &[f64]) -> (Vec<f64>, f64) {
        let mut weight = vec![1.0; self.low.len()];
        let mut added = 0.0;
        for (&(first, then, by), price) in self.gaps.iter().zip(gap) {
            weight[first] += price;
            weight[then] -= price;
            added += price * by;
        }
        (weight, added)
    }

    fn pour(&self, gap: &[f64], share: &mut [Vec<f64>]) -> Poured {
        let (mut rest, mut bound) = self.weights(gap);
        for (p, s) in self.shared.iter().enumerate() {
            for (k, &j) in s.jobs.iter().enumerate() {
                if !self.is_home(j, p, k) {
                    rest[j] -= share[p][k];
                }
            }
        }
        let mut at = vec![0.0; rest.len()];
        for (j, &rest) in rest.iter().enumerate() {
            let home = self.home[j];
            if let Some((p, k)) = home {
                share[p][k] = rest.max(0.0);
            }
            if home.is_none() || rest < 0.0 {
                at[j] = if rest < 0.0 { self.high[j] } else { self.low[j] };
                bound += rest * at[j];
            }
        }
        let mut starts = Vec::with_capacity(self.shared.len());
        for (p, s) in self.shared.iter().enumerate() {
            let (sum, list) = self.serve(s, &share[p]);
            bound += sum;
            for (k, &j) in s.jobs.iter().enumerate() {
                if self.is_home(j, p, k) && rest[j] >= 0.0 {
                    at[j] = list[k];
                }
            }
            starts.push(list);
        }
        Poured { bound, at, starts }
    }

    /// The weighted sum of starts when the most urgent released task is always served, and the starts.
    fn serve(&self, s: &Shared, weight: &[f64]) -> (f64, Vec<f64>) {
        let n = s.jobs.len();
        let mut order: Vec<usize> = (0..n).collect();
        order.sort_by(|&a, &b| self.low[s.jobs[a]].total_cmp(&self.low[s.jobs[b]]));
        let mut left = s.work.clone();
        let mut moment = vec![0.0; n];
        let mut open: Vec<usize> = Vec::new();
        let (mut next, mut now) = (0, 0.0_f64);
        while !open.is_empty() || next < n {
            if open.is_empty() {
                now = now.max(self.low[s.jobs[order[next]]]);
            }
            while next < n && self.low[s.jobs[order[next]]] <= now {
                open.push(order[next]);
                next += 1;
            }
            let urgent = |&a: &usize, &b: &usize| (weight[a] * s.work[b]).total_cmp(&(weight[b] * s.work[a])).then(b.cmp(&a));
            let Some(k) = open.iter().copied().max_by(urgent) else { break };
            let done = now + left[k] / s.capacity;
            let until = if next < n { self.low[s.jobs[order[next]]].min(done) } else { done };
            moment[k] += (until - now) * s.capacity * (now + until) / 2.0;
            if until >= done {
                open.retain(|&o| o != k);
            } else {
                left[k] -= (until - now) * s.capacity;
            }
            now = until;
        }
        let starts: Vec<f64> = (0..n).map(|k| moment[k] / s.work[k] - self.minutes[s.jobs[k]] / 2.0).collect();
        (starts.iter().zip(weight).map(|(s, w)| s * w).sum(), starts)
    }

    fn priced(&self, target: f64) -> Prices {
        let carries =
            |p: usize, s: &Shared| (0..s.jobs.len()).map(|k| f64::from(u8::from(self.is_home(s.jobs[k], p, k)))).collect();
        let share: Vec<Vec<f64>> = self.shared.iter().enumerate().map(|(p, s)| carries(p, s)).collect();
        let mut now = Prices { bound: f64::NEG_INFINITY, gap: vec![0.0; self.gaps.len()], share };
        let mut best = now.clone();
        let (mut scale, mut waited) = (1.0, 0);
        for _ in 0..ROUNDS {
            let poured = self.pour(&now.gap, &mut now.share);
            if poured.bound > best.bound + 1e-6 {
                best = Prices { bound: poured.bound, ..now.clone() };
                waited = 0;
            } else {
                waited += 1;
                if waited >= PATIENCE {
                    (waited, scale) = (0, scale / 1.5);
                    if scale < LEAST_STEP {
                        break;
                    }
                    now = best.clone();
                }
            }
            if !self.step(&mut now, &poured, scale * (target - poured.bound).max(1.0)) {
                break;
            }
        }
        best
    }

    /// Prices go up where the flow broke a rule and down where it had room. False: it broke none.
    fn step(&self, now: &mut Prices, poured: &Poured, length: f64) -> bool {
        // A price of nothing cannot go down.
        let wrong = |price: f64, by: f64| if price <= 0.0 && by < 0.0 { 0.0 } else { by };
        let gap: Vec<f64> = self
            .gaps
            .iter()
            .zip(&now.gap)
            .map(|(&(first, then, by), &price)| wrong(price, poured.at[first] + by - poured.at[then]))
            .collect();
        let mut share = poured.starts.clone();
        for (p, s) in self.shared.iter().enumerate() {
            for (k, &j) in s.jobs.iter().enumerate() {
                let by = poured.starts[p][k] - poured.at[j];
                share[p][k] = if self.is_home(j, p, k) { 0.0 } else { wrong(now.share[p][k], by) };
            }
        }
        let norm: f64 = gap.iter().chain(share.iter().flatten()).map(|d| d * d).sum();
        if norm < 1e-9 {
            return false;
        }
        let move_by = |price: &mut f64, d: &f64| *price = (*price + length / norm * d).max(0.0);
        now.gap.iter_mut().zip(&gap).for_each(|(p, d)| move_by(p, d));
        now.share.iter_mut().flatten().zip(share.iter().flatten()).filter(|(_, d)| **d != 0.0).for_each(|(p, d)| move_by(p, d));
        true
    }

    fn flow(&self, model: &Model, prices: &Prices, total: Number, base: f64) -> Flow {
        let (mut rest, added) = self.weights(&prices.gap);
        let mut pools = Vec::new();
        for (s, share) in self.shared.iter().zip(&prices.share) {
            let mut tasks = Vec::new();
            for (k, &j) in s.jobs.iter().enumerate() {
                if share[k] > 0.0 {
                    rest[j] -= share[k];
                    tasks.push((model.starts[j], self.minutes[j], s.work[k], share[k]));
                }
            }
            if !tasks.is_empty() {
                pools.push(Pool { tasks, capacity: s.capacity });
            }
        }
        // What is left of a weight rests on the task's own bound: the lower one, or, below nothing, the upper one.
        let half = |j: usize, w: f64| if w > 0.0 { (lower(model.starts[j]), w) } else { (upper(model.starts[j]), -w) };
        let terms = rest.iter().enumerate().filter(|(_, w)| **w != 0.0).map(|(j, &w)| half(j, w)).collect();
        Flow { pools, terms, constant: added - base, total }
    }
}
