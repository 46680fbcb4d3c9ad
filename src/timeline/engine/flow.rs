//! A lower bound of a weighted sum of starts: the tasks of a pool flow like water.
//!
//! Let tasks be interrupted at will and let one use the whole capacity of the pool at once. Then to serve, at every moment,
//! the released task with the largest weight for its work gives the least weighted sum of *mean busy times* (Goemans 1996;
//! Queyranne 1993), and a task's start is its mean busy time less half of its minutes. Every real schedule is one of these, so
//! nothing real is less. How the weight of a task is shared between pools, and moved along precedences, is for the caller to
//! choose; see `fluid`.

use super::{Clash, Engine, Lit, Number, Reason, lower, upper};

/// Tasks that share one capacity.
#[derive(Clone, Debug)]
pub struct Pool {
    /// Start, minutes, work (minutes times amount), weight; every weight and work is above 0.
    pub tasks: Vec<(Number, f64, f64, f64)>,
    pub capacity: f64,
}

/// `total` >= `constant` + sum of weight x half + the pools' least weighted sums of starts.
#[derive(Clone, Debug)]
pub struct Flow {
    pub pools: Vec<Pool>,
    pub terms: Vec<(u32, f64)>,
    pub constant: f64,
    pub total: Number,
}

/// Room for one evaluation.
#[derive(Clone, Debug, Default)]
pub(super) struct Basin {
    order: Vec<u32>,
    left: Vec<f64>,
    lows: Vec<f64>,
    waiting: Vec<u64>,
}

/// What rounding may take from a bound (every figure is below 10^9, so the true error is below a millionth).
pub const GRAIN: f64 = 1e-3;

impl Pool {
    /// Puts the tasks into the order of urgency: weight for work, falling.
    fn sort(&mut self) {
        self.tasks.sort_by(|a, b| (b.3 * a.2).total_cmp(&(a.3 * b.2)).then(a.0.0.cmp(&b.0.0)));
    }

    /// The least weighted sum of starts when task k is released at `basin.lows[k]`.
    fn least(&self, basin: &mut Basin) -> f64 {
        let Basin { order, left, lows, waiting } = basin;
        let n = self.tasks.len();
        order.clear();
        order.extend(0..n as u32);
        order.sort_unstable_by(|&a, &b| lows[a as usize].total_cmp(&lows[b as usize]));
        left.clear();
        left.extend(self.tasks.iter().map(|t| t.2));
        waiting.clear();
        waiting.resize(n.div_ceil(64), 0);
        let (mut next, mut now, mut total, mut open) = (0, 0.0, 0.0, 0);
        while open > 0 || next < n {
            if open == 0 {
                now = lows[order[next] as usize].max(now);
            }
            while next < n && lows[order[next] as usize] <= now {
                waiting[order[next] as usize / 64] |= 1 << (order[next] % 64);
                open += 1;
                next += 1;
            }
            let Some(word) = waiting.iter().position(|&w| w != 0) else { break };
            let k = word * 64 + waiting[word].trailing_zeros() as usize;
            let (_, _, work, weight) = self.tasks[k];
            let done = now + left[k] / self.capacity;
            let until = if next < n { lows[order[next] as usize].min(done) } else { done };
            // The mean of the moments at which it is worked on, piece by piece.
            let piece = (until - now) * self.capacity;
            total += weight / work * piece * (now + until) / 2.0;
            if until >= done {
                waiting[word] &= !(1 << (k % 64));
                open -= 1;
            } else {
                left[k] -= piece;
            }
            now = until;
        }
        total - self.tasks.iter().map(|t| t.3 * t.1 / 2.0).sum::<f64>()
    }
}

impl Engine {
    /// Says how low `flow.total` can be, in place of the flow before.
    pub fn set_flow(&mut self, mut flow: Flow) {
        for pool in &mut flow.pools {
            pool.sort();
        }
        self.flow = Some(flow);
    }

    pub(super) fn propagate_flow(&mut self) -> Result<(), Clash> {
        let Some(flow) = self.flow.take() else { return Ok(()) };
        let mut basin = std::mem::take(&mut self.basin);
        let outcome = self.flow_bound(&flow, &mut basin);
        self.basin = basin;
        self.flow = Some(flow);
        outcome
    }

    fn flow_bound(&mut self, flow: &Flow, basin: &mut Basin) -> Result<(), Clash> {
        let mut sums = Vec::with_capacity(flow.pools.len());
        let mut value = flow.constant + flow.terms.iter().map(|&(h, w)| w * f64::from(self.bound[h as usize])).sum::<f64>();
        for pool in &flow.pools {
            basin.lows.clear();
            basin.lows.extend(pool.tasks.iter().map(|t| f64::from(self.bound[lower(t.0) as usize])));
            let sum = pool.least(basin);
            sums.push(sum);
            value += sum;
        }
        let most = -self.bound[upper(flow.total) as usize];
        let enough = f64::from(most) + GRAIN;
        if value <= enough {
            return Ok(());
        }
        // Why: the bounds of all that is in it, without those that the excess makes needless; the latest go first.
        let mut excess = value - enough;
        let mut makers: Vec<(u32, u32)> = Vec::new();
        let halves = flow.terms.iter().map(|t| t.0).chain(flow.pools.iter().flat_map(|p| p.tasks.iter().map(|t| lower(t.0))));
        for half in halves {
            if self.bound[half as usize] > self.root[half as usize] {
                makers.push((self.last[half as usize], half));
            }
        }
        makers.sort_unstable_by(|a, b| b.cmp(a));
        makers.dedup();
        let start = self.kept.len() as u32;
        let mut taken: Vec<(u32, i32)> = Vec::new();
        for &(_, half) in &makers {
            let (now, root) = (self.bound[half as usize], self.root[half as usize]);
            let at = |h: u32, taken: &[(u32, i32)], own: i32| {
                if h == half { own } else { taken.iter().find(|t| t.0 == h).map_or(self.bound[h as usize], |t| t.1) }
            };
            // What it costs to fall back to the root.
            let own: f64 = flow.terms.iter().filter(|t| t.0 == half).map(|t| t.1 * f64::from(now - root)).sum();
            let mut cost = own;
            let mut renewed = Vec::new();
            if cost < excess {
                for (p, pool) in flow.pools.iter().enumerate() {
                    if pool.tasks.iter().any(|t| lower(t.0) == half) {
                        basin.lows.clear();
                        basin.lows.extend(pool.tasks.iter().map(|t| f64::from(at(lower(t.0), &taken, root))));
                        let sum = pool.least(basin);
                        cost += sums[p] - sum;
                        renewed.push((p, sum));
                    }
                }
            }
            if cost < excess {
                excess -= cost;
                taken.push((half, root));
                for (p, sum) in renewed {
                    sums[p] = sum;
                }
            } else {
                self.kept.push(Lit { half, least: now });
            }
        }
        let len = self.kept.len() as u32 - start;
        self.set(Lit::at_least(flow.total, most + 1), Reason::Kept { start, len })
    }
}
