//! Bounds as they tighten, in order, with the reason of each; and how they are taken back.

use super::{Clash, Engine, Lit, Reason};

/// No entry: the bound holds from the root, before any decision.
pub(super) const ROOT: u32 = u32::MAX;

/// One tightened bound.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entry {
    pub half: u32,
    /// The bound from now on.
    pub least: i32,
    /// The bound before.
    pub was: i32,
    /// The entry that made the bound before, or [`ROOT`].
    pub earlier: u32,
    /// How many decisions stand above it.
    pub level: u32,
    pub reason: Reason,
}

impl Engine {
    pub fn is_true(&self, lit: Lit) -> bool {
        self.bound[lit.half as usize] >= lit.least
    }

    pub fn is_false(&self, lit: Lit) -> bool {
        self.is_true(lit.not())
    }

    pub(super) fn level(&self) -> u32 {
        self.marks.len() as u32
    }

    /// Makes a statement true for a reason. A statement that is already true changes nothing; one that is false is a clash,
    /// and `self.clash` then holds what cannot stand together.
    pub(super) fn set(&mut self, lit: Lit, reason: Reason) -> Result<(), Clash> {
        let half = lit.half as usize;
        let was = self.bound[half];
        if was >= lit.least {
            return Ok(());
        }
        let other = self.bound[half ^ 1];
        if other >= 1 - lit.least {
            // The weakest form that still clashes: one step past the opposite bound.
            let meets = Lit { half: lit.half, least: 1 - other };
            let mut clash = std::mem::take(&mut self.clash);
            clash.clear();
            self.explain(reason, meets, lit.least, self.trail.len() as u32, &mut clash);
            clash.push(Lit { half: lit.half ^ 1, least: other });
            self.clash = clash;
            return Err(Clash);
        }
        let index = self.trail.len() as u32;
        let entry = Entry { half: lit.half, least: lit.least, was, earlier: self.last[half], level: self.level(), reason };
        self.bound[half] = lit.least;
        self.last[half] = index;
        self.trail.push(entry);
        Ok(())
    }

    /// Opens a level with a statement that is taken for true.
    pub(super) fn decide(&mut self, lit: Lit) {
        self.marks.push((self.trail.len() as u32, self.kept.len() as u32, self.parked.len() as u32));
        self.parked.extend(self.to_park.take());
        // An undecided statement never clashes.
        let _ = self.set(lit, Reason::Decision);
    }

    /// Takes back every level above `level`.
    pub(super) fn back_to(&mut self, level: u32) {
        while self.level() > level {
            let Some((trail, kept, parked)) = self.marks.pop() else { return };
            while self.trail.len() > trail as usize {
                let Some(e) = self.trail.pop() else { break };
                self.bound[e.half as usize] = e.was;
                self.last[e.half as usize] = e.earlier;
            }
            self.kept.truncate(kept as usize);
            for id in self.parked.drain(parked as usize..) {
                self.activity.put_back(id);
            }
        }
        self.head = self.head.min(self.trail.len());
    }

    /// At the root: what holds now holds for good, so its history can go.
    pub(super) fn forget_history(&mut self) {
        debug_assert!(self.marks.is_empty());
        for e in self.trail.drain(..) {
            self.last[e.half as usize] = ROOT;
        }
        self.kept.clear();
        self.head = 0;
        self.root.clone_from(&self.bound);
    }

    /// The entry that first made a true statement true, or [`ROOT`].
    pub(super) fn maker(&self, lit: Lit) -> u32 {
        let mut at = self.last[lit.half as usize];
        while at != ROOT {
            let e = &self.trail[at as usize];
            if e.was < lit.least {
                return at;
            }
            at = e.earlier;
        }
        ROOT
    }

    /// A half's bound just before entry `index` was made.
    pub(super) fn bound_before(&self, half: u32, index: u32) -> i32 {
        let mut at = self.last[half as usize];
        let mut bound = self.bound[half as usize];
        while at != ROOT && at >= index {
            let e = &self.trail[at as usize];
            bound = e.was;
            at = e.earlier;
        }
        bound
    }

    /// The level at which a true statement became true.
    pub(super) fn level_of(&self, lit: Lit) -> u32 {
        match self.maker(lit) {
            ROOT => 0,
            at => self.trail[at as usize].level,
        }
    }
}
