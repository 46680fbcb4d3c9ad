//! A weighted sum of halves that must not exceed a limit.

use super::{Clash, Engine, Lit, Reason};

/// Sum of weight x half <= limit, weights above 0.
#[derive(Clone, Debug)]
pub(super) struct Linear {
    pub terms: Vec<(u32, i32)>,
    pub limit: i64,
    pub stale: bool,
}

impl Engine {
    /// Sum of weight x half <= `limit`. Weights are above 0.
    pub fn add_linear(&mut self, terms: Vec<(u32, i32)>, limit: i64) -> usize {
        let id = self.linears.len() as u32;
        for &(half, _) in &terms {
            self.summed[half as usize].push(id);
        }
        self.linears.push(Linear { terms, limit, stale: true });
        id as usize
    }

    pub(super) fn propagate_linear(&mut self, id: u32) -> Result<(), Clash> {
        let terms = std::mem::take(&mut self.linears[id as usize].terms);
        let limit = self.linears[id as usize].limit;
        let outcome = self.linear(id, &terms, limit);
        self.linears[id as usize].terms = terms;
        outcome
    }

    fn linear(&mut self, id: u32, terms: &[(u32, i32)], limit: i64) -> Result<(), Clash> {
        let least: i64 = terms.iter().map(|&(h, w)| i64::from(self.bound[h as usize]) * i64::from(w)).sum();
        let slack = limit - least;
        if slack < 0 {
            let mut clash = std::mem::take(&mut self.clash);
            clash.clear();
            self.thin_out(terms, None, -slack - 1, self.trail.len() as u32, &mut clash);
            self.clash = clash;
            return Err(Clash);
        }
        for &(half, weight) in terms {
            let (low, high) = (self.bound[half as usize], -self.bound[half as usize ^ 1]);
            let room = slack / i64::from(weight);
            if i64::from(high) - i64::from(low) > room {
                let most = low + room as i32;
                self.set(Lit { half: half ^ 1, least: -most }, Reason::Linear(id))?;
            }
        }
        Ok(())
    }

    /// Why `lit`, an upper bound of one term, follows: the lower bounds of the others, as weak as the limit allows.
    pub(super) fn explain_linear(&self, id: u32, lit: Lit, index: u32, into: &mut Vec<Lit>) {
        let Linear { terms, limit, .. } = &self.linears[id as usize];
        let half = lit.half ^ 1;
        // Were the term one more than its upper bound, the others would go past the limit by `over` + 1.
        let beyond = i64::from(1 - lit.least);
        let mut total = 0;
        for &(h, w) in terms {
            total += i64::from(w) * if h == half { beyond } else { i64::from(self.bound_before(h, index)) };
        }
        self.thin_out(terms, Some(half), total - limit - 1, index, into);
    }

    /// The terms' lower bounds as of entry `index`, weakened by `spare` altogether: whole terms first, the latest made first.
    fn thin_out(&self, terms: &[(u32, i32)], but: Option<u32>, mut spare: i64, index: u32, into: &mut Vec<Lit>) {
        let begin = into.len();
        let mut makers = Vec::with_capacity(terms.len());
        for &(half, weight) in terms {
            if Some(half) == but {
                continue;
            }
            let (least, root) = (self.bound_before(half, index), self.root[half as usize]);
            if least > root {
                makers.push((self.maker(Lit { half, least }), half, weight, least, root));
            }
        }
        makers.sort_unstable_by(|a, b| b.cmp(a));
        for &(_, half, weight, least, root) in &makers {
            let cost = i64::from(least - root) * i64::from(weight);
            if cost <= spare {
                spare -= cost;
            } else {
                into.push(Lit { half, least });
            }
        }
        // What is left goes to one term that is still there.
        for lit in &mut into[begin..] {
            let weight = terms.iter().find(|t| t.0 == lit.half).map_or(1, |t| t.1);
            let give = spare / i64::from(weight);
            if give > 0 {
                lit.least -= give as i32;
                spare -= give * i64::from(weight);
            }
        }
    }
}
