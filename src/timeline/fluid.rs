//! A lower bound for the sum of starts, from tasks that flow like water.

use super::mirror::{Mirror, RESOURCES};

/// Multipliers that make the bound strong, and the bound.
#[derive(Clone, Debug)]
pub(super) struct Relaxed {
    pub bound: f64,
    /// By gap.
    price: Vec<f64>,
    /// By resource, by its jobs: the share of the job's weight that the resource carries.
    share: Vec<Vec<f64>>,
}

#[derive(Clone, Debug)]
pub(super) struct Pool {
    pub jobs: Vec<usize>,
    /// By job of the pool: minutes times amount.
    pub work: Vec<f64>,
    pub capacity: f64,
}

pub(super) struct Fluid {
    pub pools: Vec<Pool>,
    pub gaps: Vec<(usize, usize, f64)>,
    pub minutes: Vec<f64>,
    /// pools of job
    home: Vec<Option<(usize, usize)>>,
}

impl Fluid {
    pub fn of(m: &Mirror) -> Fluid {
        let n = m.jobs.len();
        let mut pools = Vec::new();
        for r in 0..RESOURCES {
            let jobs: Vec<usize> = (0..n).filter(|&j| m.jobs[j].needs[r] > 0).collect();
            if jobs.len() > 1 {
                let work = jobs.iter().map(|&j| f64::from(m.jobs[j].needs[r]) * f64::from(m.jobs[j].minutes)).collect();
                pools.push(Pool { jobs, work, capacity: f64::from(m.capacities[r]) });
            }
        }
        let kinds = m.jobs.iter().filter_map(|j| j.appliance).max().map_or(0, |a| a + 1);
        for a in 0..kinds {
            let jobs: Vec<usize> = (0..n).filter(|&j| m.jobs[j].appliance == Some(a)).collect();
            if jobs.len() > 1 {
                let work = jobs.iter().map(|&j| f64::from(m.jobs[j].minutes)).collect();
                pools.push(Pool { jobs, work, capacity: 1.0 });
            }
        }
        let mut home = vec![None; n];
        for (p, pool) in pools.iter().enumerate() {
            for (k, &j) in pool.jobs.iter().enumerate() {
                if home[j].is_none() {
                    home[j] = Some((p, k));
                }
            }
        }
        let gaps = m.gaps.iter().map(|g| (g.first, g.then, f64::from(g.by))).collect();
        Fluid { pools, gaps, minutes: m.jobs.iter().map(|j| f64::from(j.minutes)).collect(), home }
    }

    /// start times (mean-busy) of the pool for weights
    fn pour(&self, pool: &Pool, low: &[f64], weight: &[f64], starts: &mut [f64]) -> f64 {
        let k = pool.jobs.len();
        let mut order: Vec<usize> = (0..k).collect();
        order.sort_by(|&a, &b| low[pool.jobs[a]].total_cmp(&low[pool.jobs[b]]));
        let mut rank: Vec<usize> = (0..k).collect();
        rank.sort_by(|&a, &b| (weight[b] / pool.work[b]).total_cmp(&(weight[a] / pool.work[a])));
        let mut place = vec![0; k];
        for (i, &j) in rank.iter().enumerate() {
            place[j] = i;
        }
        let mut left = pool.work.clone();
        let mut moment = vec![0.0; k];
        let mut heap = std::collections::BinaryHeap::new();
        let mut next = 0;
        let mut t = 0.0;
        loop {
            if heap.is_empty() {
                if next == k {
                    break;
                }
                t = f64::max(t, low[pool.jobs[order[next]]]);
            }
            while next < k && low[pool.jobs[order[next]]] <= t {
                heap.push(std::cmp::Reverse(place[order[next]]));
                next += 1;
            }
            let Some(&std::cmp::Reverse(top)) = heap.peek() else { continue };
            let j = rank[top];
            let done = t + left[j] / pool.capacity;
            let until = if next < k { low[pool.jobs[order[next]]].min(done) } else { done };
            moment[j] += (until * until - t * t) / 2.0 * pool.capacity;
            if until >= done {
                heap.pop();
                left[j] = 0.0;
            } else {
                left[j] -= (until - t) * pool.capacity;
            }
            t = until;
        }
        let mut total = 0.0;
        for i in 0..k {
            starts[i] = moment[i] / pool.work[i] - self.minutes[pool.jobs[i]] / 2.0;
            total += weight[i] * starts[i];
        }
        total
    }

    pub fn improve(&self, low: &[f64], high: &[f64], target: f64, rounds: usize, from: Option<Relaxed>) -> Relaxed {
        let n = low.len();
        let mut best = from.unwrap_or_else(|| Relaxed {
            bound: f64::NEG_INFINITY,
            price: vec![0.0; self.gaps.len()],
            share: self.pools.iter().enumerate().map(|(p, pool)| pool.jobs.iter().map(|&j| if self.home[j].map(|h| h.0) == Some(p) { 1.0 } else { 0.0 }).collect()).collect(),
        });
        let (mut price, mut share) = (best.price.clone(), best.share.clone());
        let mut alpha = 1.0;
        let mut since = 0;
        let mut starts: Vec<Vec<f64>> = self.pools.iter().map(|p| vec![0.0; p.jobs.len()]).collect();
        for _ in 0..rounds {
            let mut c = vec![1.0; n];
            let mut value = 0.0;
            for (g, &(a, b, by)) in self.gaps.iter().enumerate() {
                c[a] += price[g];
                c[b] -= price[g];
                value += price[g] * by;
            }
            // the home pool carries what the others leave
            let mut rest = c.clone();
            for (p, pool) in self.pools.iter().enumerate() {
                for (k, &j) in pool.jobs.iter().enumerate() {
                    if self.home[j] != Some((p, k)) {
                        rest[j] -= share[p][k];
                    }
                }
            }
            let mut at = vec![0.0; n];
            for j in 0..n {
                match self.home[j] {
                    Some((p, k)) if rest[j] >= 0.0 => share[p][k] = rest[j],
                    h => {
                        if let Some((p, k)) = h { share[p][k] = 0.0; }
                        at[j] = if rest[j] >= 0.0 { low[j] } else { high[j] };
                        value += rest[j] * at[j];
                    }
                }
            }
            for (p, pool) in self.pools.iter().enumerate() {
                value += self.pour(pool, low, &share[p], &mut starts[p]);
            }
            for j in 0..n {
                if let Some((p, k)) = self.home[j] && rest[j] >= 0.0 {
                    at[j] = starts[p][k];
                }
            }
            if value > best.bound + 1e-6 {
                best = Relaxed { bound: value, price: price.clone(), share: share.clone() };
                since = 0;
            } else {
                since += 1;
                if since >= 20 {
                    since = 0;
                    alpha /= 1.5;
                    if alpha < 1e-4 { break; }
                    price.clone_from(&best.price);
                    share.clone_from(&best.share);
                }
            }
            // subgradient
            let mut norm = 0.0;
            let gp: Vec<f64> = self.gaps.iter().enumerate().map(|(g, &(a, b, by))| {
                let d = at[a] + by - at[b];
                let d = if price[g] <= 0.0 && d < 0.0 { 0.0 } else { d };
                norm += d * d;
                d
            }).collect();
            let gs: Vec<Vec<f64>> = self.pools.iter().enumerate().map(|(p, pool)| pool.jobs.iter().enumerate().map(|(k, &j)| {
                if self.home[j] == Some((p, k)) { return 0.0; }
                let d = starts[p][k] - at[j];
                let d = if share[p][k] <= 0.0 && d < 0.0 { 0.0 } else { d };
                norm += d * d;
                d
            }).collect()).collect();
            if norm < 1e-9 { break; }
            let step = alpha * (target - value).max(1.0) / norm;
            for (x, d) in price.iter_mut().zip(&gp) { *x = (*x + step * d).max(0.0); }
            for (sh, d) in share.iter_mut().zip(&gs) {
                for (x, d) in sh.iter_mut().zip(d) { if *d != 0.0 { *x = (*x + step * d).max(0.0); } }
            }
        }
        best
    }

    pub fn flow(&self, model: &super::model::Model, relaxed: &Relaxed, total: super::engine::Number, base: f64) -> super::engine::Flow {
        use super::engine::*;
        let n = self.minutes.len();
        let mut c = vec![1.0; n];
        let mut constant = -base;
        for (g, &(a, b, by)) in self.gaps.iter().enumerate() {
            c[a] += relaxed.price[g];
            c[b] -= relaxed.price[g];
            constant += relaxed.price[g] * by;
        }
        for (p, pool) in self.pools.iter().enumerate() {
            for (k, &j) in pool.jobs.iter().enumerate() {
                c[j] -= relaxed.share[p][k];
            }
        }
        let pools = self.pools.iter().enumerate().map(|(p, pool)| Pool {
            tasks: pool.jobs.iter().enumerate().filter(|&(k, _)| relaxed.share[p][k] > 1e-9).map(|(k, &j)| (model.starts[j], self.minutes[j], pool.work[k], relaxed.share[p][k])).collect(),
            capacity: pool.capacity,
        }).filter(|p| !p.tasks.is_empty()).collect();
        let terms = (0..n).filter(|&j| c[j].abs() > 1e-9).map(|j| if c[j] > 0.0 { (lower(model.starts[j]), c[j]) } else { (upper(model.starts[j]), -c[j]) }).collect();
        Flow { pools, terms, constant, total }
    }
}
