//! Schedules near a good one: most tasks stay, a few are set free.

use super::{
    chance::Chance,
    engine::{Lit, Outcome},
    mirror::Mirror,
    model::Model,
};

/// Clashes that one neighbourhood may cost.
const EFFORT: u64 = 150;
/// How many tasks are free at first.
const FREE: usize = 8;

/// Large neighbourhood search (Shaw 1998): chooses what to set free, and how much, by how it went.
#[derive(Clone, Debug)]
pub(super) struct Nearby {
    chance: Chance,
    tasks: usize,
    free: usize,
}

impl Nearby {
    pub fn new(tasks: usize, chance: Chance) -> Nearby {
        Nearby { chance, tasks, free: FREE.min(tasks) }
    }

    pub fn effort(&self) -> u64 {
        EFFORT
    }

    /// More freedom where it was refuted cheaply, less where the effort did not suffice.
    pub fn learn(&mut self, outcome: Outcome, cost: u64) {
        match outcome {
            Outcome::Refuted if cost < EFFORT / 4 => self.free = (self.free + 1).min(self.tasks),
            Outcome::Stopped => self.free = self.free.saturating_sub(1).max(4),
            _ => {}
        }
    }

    /// What stays as it is in `starts`. Tasks that stay may at most end earlier in the mirror: the sum must fall.
    pub fn keep(&mut self, mirror: &Mirror, model: &Model, starts: &[i32]) -> Vec<Lit> {
        let loose = match self.chance.below(3) {
            0 => self.stretch(starts),
            1 => self.groups(|j, _| {
                let after = mirror.gaps.iter().filter(|g| g.first == j).map(|g| g.then);
                after.chain(mirror.gaps.iter().filter(|g| g.then == j).map(|g| g.first)).collect()
            }),
            _ => self.groups(|j, n| (0..n).filter(|&k| k != j && (starts[k] - starts[j]).abs() < 20).take(2).collect()),
        };
        let earlier = [Some(0), Some(10), None][self.chance.below(3) as usize];
        let mut kept = Vec::new();
        for j in (0..starts.len()).filter(|&j| !loose[j]) {
            kept.push(Lit::at_most(model.starts[j], starts[j]));
            kept.extend(earlier.map(|e| Lit::at_least(model.starts[j], starts[j] - e)));
        }
        kept
    }

    /// Tasks that follow one another in time.
    fn stretch(&mut self, starts: &[i32]) -> Vec<bool> {
        let mut order: Vec<usize> = (0..self.tasks).collect();
        order.sort_by_key(|&j| (starts[j], j));
        let from = self.chance.below((self.tasks + 1 - self.free) as u32) as usize;
        let mut loose = vec![false; self.tasks];
        for &j in order.iter().skip(from).take(self.free) {
            loose[j] = true;
        }
        loose
    }

    /// Tasks by chance, each with its company.
    fn groups(&mut self, company: impl Fn(usize, usize) -> Vec<usize>) -> Vec<bool> {
        let mut loose = vec![false; self.tasks];
        let (mut count, mut tries) = (0, 0);
        while count < self.free && tries < 10 * self.tasks {
            tries += 1;
            let j = self.chance.below(self.tasks as u32) as usize;
            for k in [j].into_iter().chain(company(j, self.tasks)) {
                count += usize::from(!std::mem::replace(&mut loose[k], true));
            }
        }
        loose
    }
}
