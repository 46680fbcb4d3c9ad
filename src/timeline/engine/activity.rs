//! Which statement to decide next: the one most often met in recent clashes (VSIDS: Moskewicz et al. 2001).

use super::Lit;
use std::collections::HashMap;

const NOWHERE: u32 = u32::MAX;

/// Scores of the statements that clashes have met, in a heap with the highest on top.
///
/// Only what was met has a score; the rest of the many thousand possible statements does not exist here. A statement and its
/// opposite share one score and are kept as "x is at most".
#[derive(Clone, Debug, Default)]
pub(super) struct Activity {
    known: HashMap<(u32, i32), u32>,
    lits: Vec<Lit>,
    score: Vec<f64>,
    heap: Vec<u32>,
    place: Vec<u32>,
    step: f64,
}

impl Activity {
    pub fn new() -> Activity {
        Activity { step: 1.0, ..Activity::default() }
    }

    pub fn bump(&mut self, lit: Lit) {
        let lit = if lit.half & 1 == 1 { lit } else { lit.not() };
        let next = self.lits.len() as u32;
        let id = *self.known.entry((lit.half, lit.least)).or_insert(next);
        if id == next {
            self.lits.push(lit);
            self.score.push(0.0);
            self.place.push(NOWHERE);
            self.put_back(id);
        }
        self.score[id as usize] += self.step;
        if self.score[id as usize] > 1e100 {
            for s in &mut self.score {
                *s *= 1e-100;
            }
            self.step *= 1e-100;
        }
        if self.place[id as usize] != NOWHERE {
            self.rise(self.place[id as usize] as usize);
        }
    }

    pub fn decay(&mut self) {
        self.step /= 0.95;
    }

    pub fn put_back(&mut self, id: u32) {
        if self.place[id as usize] == NOWHERE {
            self.place[id as usize] = self.heap.len() as u32;
            self.heap.push(id);
            self.rise(self.heap.len() - 1);
        }
    }

    /// Takes the highest away.
    pub fn pop(&mut self) -> Option<(u32, Lit)> {
        let top = *self.heap.first()?;
        let last = self.heap.pop()?;
        self.place[top as usize] = NOWHERE;
        if last != top {
            self.heap[0] = last;
            self.place[last as usize] = 0;
            self.sink(0);
        }
        Some((top, self.lits[top as usize]))
    }

    fn above(&self, a: u32, b: u32) -> bool {
        let (x, y) = (self.score[a as usize], self.score[b as usize]);
        x > y || (x == y && a < b)
    }

    fn swap(&mut self, i: usize, j: usize) {
        self.heap.swap(i, j);
        self.place[self.heap[i] as usize] = i as u32;
        self.place[self.heap[j] as usize] = j as u32;
    }

    fn rise(&mut self, mut i: usize) {
        while i > 0 && self.above(self.heap[i], self.heap[(i - 1) / 2]) {
            self.swap(i, (i - 1) / 2);
            i = (i - 1) / 2;
        }
    }

    fn sink(&mut self, mut i: usize) {
        loop {
            let mut best = i;
            for child in [2 * i + 1, 2 * i + 2] {
                if child < self.heap.len() && self.above(self.heap[child], self.heap[best]) {
                    best = child;
                }
            }
            if best == i {
                return;
            }
            self.swap(i, best);
            i = best;
        }
    }
}
