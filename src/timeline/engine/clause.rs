//! Clauses: of these statements at least one is true.

use super::{Clash, Engine, Lit, Reason};

/// One clause; its statements lie in the engine's arena, the two watched ones first.
#[derive(Clone, Copy, Debug)]
pub(super) struct Clause {
    pub start: u32,
    pub len: u32,
    /// Learned from a clash, so it may be thrown away.
    pub learned: bool,
    /// How many decisions it joins: few is good (Audemard & Simon 2009).
    pub joins: u16,
    pub used: f32,
}

/// Clauses that must be looked at when a half reaches `from`: then their watched statements are false.
#[derive(Clone, Debug)]
pub(super) struct Bucket {
    pub from: i32,
    pub list: Vec<Watch>,
}

/// One of them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Watch {
    pub clause: u32,
    /// Another of its statements: if that is true nothing needs doing.
    pub blocker: Lit,
}

impl Engine {
    /// Adds a clause at the root. False: nothing can satisfy it.
    pub fn add_clause(&mut self, lits: &[Lit]) -> bool {
        debug_assert!(self.marks.is_empty());
        if lits.iter().any(|&l| self.is_true(l)) {
            return true;
        }
        let open: Vec<Lit> = lits.iter().copied().filter(|&l| !self.is_false(l)).collect();
        match open[..] {
            [] => false,
            [one] => self.set(one, Reason::Root).is_ok(),
            _ => {
                self.store_clause(&open, false, 0);
                true
            }
        }
    }

    /// Stores a clause of two statements or more and watches its first two.
    pub(super) fn store_clause(&mut self, lits: &[Lit], learned: bool, joins: u16) -> u32 {
        let id = self.clauses.len() as u32;
        let start = self.arena.len() as u32;
        self.arena.extend_from_slice(lits);
        self.clauses.push(Clause { start, len: lits.len() as u32, learned, joins, used: self.clause_step });
        self.watch(lits[0], id, lits[1]);
        self.watch(lits[1], id, lits[0]);
        id
    }

    fn watch(&mut self, lit: Lit, clause: u32, blocker: Lit) {
        let falsifier = lit.not();
        let buckets = &mut self.watches[falsifier.half as usize];
        let at = buckets.partition_point(|b| b.from < falsifier.least);
        if buckets.get(at).is_none_or(|b| b.from != falsifier.least) {
            buckets.insert(at, Bucket { from: falsifier.least, list: Vec::new() });
        }
        buckets[at].list.push(Watch { clause, blocker });
    }

    pub(super) fn lits(&self, clause: u32) -> &[Lit] {
        let c = &self.clauses[clause as usize];
        &self.arena[c.start as usize..(c.start + c.len) as usize]
    }

    /// Looks at the clauses with a watched statement that became false when a half's bound rose from `was` to `bound`.
    pub(super) fn propagate_clauses(&mut self, half: u32, was: i32, bound: i32) -> Result<(), Clash> {
        let mut at = self.watches[half as usize].partition_point(|b| b.from <= was);
        // New buckets of this half can only come behind those that are looked at: what is watched anew is not false.
        while let Some(bucket) = self.watches[half as usize].get_mut(at).filter(|b| b.from <= bound) {
            let falsified = Lit { half, least: bucket.from }.not();
            let mut list = std::mem::take(&mut bucket.list);
            let outcome = self.propagate_watches(falsified, &mut list);
            self.watches[half as usize][at].list = list;
            outcome?;
            at += 1;
        }
        Ok(())
    }

    /// Finds other statements to watch in place of one that became false; where there is none, the last open one is true.
    fn propagate_watches(&mut self, falsified: Lit, list: &mut Vec<Watch>) -> Result<(), Clash> {
        let (mut keep, mut at) = (0, 0);
        let mut outcome = Ok(());
        'watches: while at < list.len() {
            let w = list[at];
            at += 1;
            list[keep] = w;
            keep += 1;
            if outcome.is_err() || self.is_true(w.blocker) {
                continue;
            }
            let Clause { start, len, .. } = self.clauses[w.clause as usize];
            let (start, len) = (start as usize, len as usize);
            if self.arena[start] == falsified {
                self.arena.swap(start, start + 1);
            }
            let first = self.arena[start];
            if first != w.blocker && self.is_true(first) {
                list[keep - 1] = Watch { blocker: first, ..w };
                continue;
            }
            for k in start + 2..start + len {
                let lit = self.arena[k];
                if !self.is_false(lit) {
                    self.arena.swap(start + 1, k);
                    self.watch(lit, w.clause, first);
                    keep -= 1;
                    continue 'watches;
                }
            }
            outcome = self.set(first, Reason::Clause(w.clause));
        }
        list.truncate(keep);
        outcome
    }

    /// Throws away the lesser half of what was learned, and what the root has made true. Only at the root.
    pub(super) fn clean_clauses(&mut self) {
        debug_assert!(self.marks.is_empty());
        let mut order: Vec<u32> = (0..self.clauses.len() as u32)
            .filter(|&c| self.clauses[c as usize].learned && self.clauses[c as usize].joins > 2)
            .collect();
        order.sort_by(|&a, &b| {
            let (a, b) = (&self.clauses[a as usize], &self.clauses[b as usize]);
            a.used.total_cmp(&b.used).then(b.joins.cmp(&a.joins))
        });
        let mut gone = vec![false; self.clauses.len()];
        for &c in &order[..order.len() / 2] {
            gone[c as usize] = true;
        }
        let old = std::mem::take(&mut self.clauses);
        let arena = std::mem::take(&mut self.arena);
        for list in &mut self.watches {
            list.clear();
        }
        for (c, gone) in old.iter().zip(gone) {
            let lits = &arena[c.start as usize..(c.start + c.len) as usize];
            if gone || lits.iter().any(|&l| self.is_true(l)) {
                continue;
            }
            let open: Vec<Lit> = lits.iter().copied().filter(|&l| !self.is_false(l)).collect();
            // After propagation at the root no clause has fewer than two open statements and none true.
            if open.len() >= 2 {
                let id = self.store_clause(&open, c.learned, c.joins);
                self.clauses[id as usize].used = c.used;
            }
        }
    }

    pub(super) fn use_clause(&mut self, clause: u32) {
        let c = &mut self.clauses[clause as usize];
        if !c.learned {
            return;
        }
        c.used += self.clause_step;
        if c.used > 1e20 {
            for c in &mut self.clauses {
                c.used *= 1e-20;
            }
            self.clause_step *= 1e-20;
        }
    }
}
