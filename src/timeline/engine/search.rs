//! Decide, propagate, learn, go back, begin anew.

use super::{Clash, Engine, Entry, Lit, Number, Reason, lower, upper};

/// How a search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Every number has a value; it is in [`Engine::values`].
    Found,
    /// Nothing satisfies the whole together with the assumptions in [`Engine::core`]; if that is empty, nothing at all.
    Refuted,
    /// The effort was used up.
    Stopped,
}

/// How a search chooses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Manner {
    /// What recent clashes were about, with the value of the last schedule. What is left goes by the clock: the open number with
    /// the least lower bound takes it.
    Active,
    /// By the clock alone until the first restart, then so ("hot start" in Schutt et al. 2011).
    Both,
}

/// The longest trail (house limit). A kitchen's has some thousand entries.
const MOST_ENTRIES: usize = 2_000_000;

impl Engine {
    /// Everything that follows.
    pub(super) fn propagate(&mut self) -> Result<(), Clash> {
        loop {
            while self.head < self.trail.len() {
                if self.trail.len() > MOST_ENTRIES {
                    // Bounds that push each other minute by minute over a long day; nothing is concluded from it.
                    self.swamped = true;
                    return Ok(());
                }
                let Entry { half, was, least, .. } = self.trail[self.head];
                let index = self.head as u32;
                self.head += 1;
                self.propagate_clauses(half, was, least)?;
                if self.last[half as usize] != index {
                    // A later entry of the same half is still to come and says more.
                    continue;
                }
                for &r in &self.users[half as usize] {
                    self.resources[r as usize].stale = true;
                }
                for &l in &self.summed[half as usize] {
                    self.linears[l as usize].stale = true;
                }
                self.propagations += 1;
                self.propagate_edges(half)?;
            }
            let count = self.trail.len();
            for id in 0..self.linears.len() {
                if std::mem::take(&mut self.linears[id].stale) {
                    self.propagate_linear(id as u32)?;
                }
            }
            if self.trail.len() > count {
                continue;
            }
            for id in 0..self.resources.len() {
                if std::mem::take(&mut self.resources[id].stale) {
                    self.propagate_resource(id as u32)?;
                    if self.trail.len() > count {
                        break;
                    }
                }
            }
            if self.trail.len() == count {
                self.propagate_flow()?;
                if self.trail.len() == count {
                    return Ok(());
                }
            }
        }
    }

    /// Propagates at the root. False: nothing satisfies the whole.
    pub fn settle(&mut self) -> bool {
        self.back_to(0);
        if self.propagate().is_err() {
            self.dead = true;
            return false;
        }
        if self.swamped {
            return true;
        }
        self.forget_history();
        true
    }

    /// Says for good that a statement is true. False: nothing satisfies the whole.
    pub fn assert(&mut self, lit: Lit) -> bool {
        self.back_to(0);
        if self.dead || self.set(lit, Reason::Root).is_err() {
            self.dead = true;
            return false;
        }
        self.settle()
    }

    /// Searches for values under assumptions, for at most `clashes` clashes; `stop` is asked now and then.
    pub fn search(&mut self, assumptions: &[Lit], clashes: u64, manner: Manner, stop: &mut dyn FnMut() -> bool) -> Outcome {
        self.core.clear();
        if self.swamped {
            return Outcome::Stopped;
        }
        if self.dead || !self.settle() {
            self.dead = true;
            return Outcome::Refuted;
        }
        let until = self.clashes.saturating_add(clashes);
        let mut round = 0;
        let mut rest = self.clashes + self.round_length(round);
        let mut asked = 0_u32;
        loop {
            if self.propagate().is_err() {
                self.clashes += 1;
                if !self.learn() {
                    self.dead = true;
                    self.core.clear();
                    return Outcome::Refuted;
                }
                if self.clashes >= until {
                    self.back_to(0);
                    return Outcome::Stopped;
                }
                continue;
            }
            if self.swamped {
                self.back_to(0);
                return Outcome::Stopped;
            }
            asked += 1;
            if asked.is_multiple_of(256) && stop() {
                self.back_to(0);
                return Outcome::Stopped;
            }
            if self.level() == 0 {
                self.forget_history();
            }
            if self.clashes >= rest {
                round += 1;
                rest = self.clashes + self.round_length(round);
                self.back_to(0);
                if self.learned > self.keep_learned && self.settle() {
                    self.clean_clauses();
                    self.learned = self.clauses.iter().filter(|c| c.learned).count();
                    self.keep_learned = self.keep_learned.max(self.learned * 3 / 2) + 200;
                }
                continue;
            }
            if let Some(&a) = assumptions.get(self.level() as usize) {
                if self.is_false(a) {
                    self.trace_to_assumptions(a.not());
                    self.core.push(a);
                    self.back_to(0);
                    return Outcome::Refuted;
                }
                self.decide(a);
                continue;
            }
            let active = match manner {
                Manner::Active => true,
                Manner::Both => round > 0,
            };
            match self.choose(active) {
                Some(lit) => self.decide(lit),
                None => {
                    self.values = (0..self.bound.len() / 2).map(|x| self.bound[2 * x]).collect();
                    self.back_to(0);
                    return Outcome::Found;
                }
            }
        }
    }

    /// Clashes until the next restart: Luby's sequence (1993) times a hundred.
    fn round_length(&self, round: u64) -> u64 {
        let mut at = round + 1;
        loop {
            let bits = 64 - at.leading_zeros();
            if at == (1 << bits) - 1 {
                return 100 << (bits - 1);
            }
            at -= (1 << (bits - 1)) - 1;
        }
    }

    fn choose(&mut self, active: bool) -> Option<Lit> {
        while active && let Some((id, lit)) = self.activity.pop() {
            let open = !self.is_true(lit) && !self.is_false(lit);
            // Comes back when this level, or the one that the decision opens, is taken back.
            if open {
                let yes = self.values.get(lit.number().0 as usize).is_none_or(|&v| v <= -lit.least);
                self.to_park = Some(id);
                return Some(if yes { lit } else { lit.not() });
            }
            if self.level() > 0 {
                self.parked.push(id);
            }
        }
        let early = self
            .numbers
            .iter()
            .filter(|&&x| !self.is_fixed(x))
            .min_by_key(|&&x| (self.bound[lower(x) as usize], -self.bound[upper(x) as usize]));
        early.map(|&x| Lit::at_most(x, self.bound[lower(x) as usize]))
    }

    pub fn is_fixed(&self, x: Number) -> bool {
        self.bound[lower(x) as usize] == -self.bound[upper(x) as usize]
    }
}
