//! Differences: one number is at least another plus so much, always or while a statement holds.
//!
//! Every precedence, window, release and ordered pair is of this form. A pair of tasks that must not overlap is two of them
//! under opposite statements "the first goes before".

use super::{Clash, Engine, Lit, Number, Reason, lower, upper};

/// half `to` >= half `from` + `by`, while `when` is true.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    pub from: u32,
    pub to: u32,
    pub by: i32,
    pub when: Lit,
}

impl Engine {
    /// y >= x + `by` while `when` holds.
    pub fn add_difference(&mut self, x: Number, y: Number, by: i32, when: Lit) {
        for (from, to) in [(lower(x), lower(y)), (upper(y), upper(x))] {
            let id = self.edges.len() as u32;
            self.edges.push(Edge { from, to, by, when });
            self.out[from as usize].push(id);
            if when != Lit::TRUE {
                self.woken[when.half as usize].push(id);
            }
        }
    }

    /// All edges, once, at the start.
    pub(super) fn propagate_all_edges(&mut self) -> Result<(), Clash> {
        (0..self.edges.len() as u32).try_for_each(|id| self.propagate_edge(id))
    }

    /// The edges that a tightened half may push.
    pub(super) fn propagate_edges(&mut self, half: u32) -> Result<(), Clash> {
        for k in 0..self.out[half as usize].len() {
            self.propagate_edge(self.out[half as usize][k])?;
        }
        for k in 0..self.woken[half as usize].len() {
            self.propagate_edge(self.woken[half as usize][k])?;
        }
        Ok(())
    }

    fn propagate_edge(&mut self, id: u32) -> Result<(), Clash> {
        let Edge { from, to, by, when } = self.edges[id as usize];
        let pushed = self.bound[from as usize] + by;
        if pushed <= self.bound[to as usize] {
            return Ok(());
        }
        if self.is_true(when) {
            return self.set(Lit { half: to, least: pushed }, Reason::Edge(id));
        }
        let most = -self.bound[to as usize ^ 1];
        if pushed > most && !self.is_false(when) {
            // Beyond what is left for `to`: so the statement is false.
            let start = self.kept.len() as u32;
            self.kept.push(Lit { half: from, least: most + 1 - by });
            self.kept.push(Lit { half: to ^ 1, least: -most });
            return self.set(when.not(), Reason::Kept { start, len: 2 });
        }
        Ok(())
    }
}
