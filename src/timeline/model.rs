//! The mirrored problem told to the engine.

use super::{
    engine::{Engine, Lit, Need, Number},
    mirror::{Mirror, RESOURCES},
    twins::twins,
};

/// The engine with the problem in it, and which of its numbers mean what.
#[derive(Clone, Debug)]
pub(super) struct Model {
    pub engine: Engine,
    /// By task: its mirrored start.
    pub starts: Vec<Number>,
    /// The makespan: no task ends after it.
    pub end: Number,
    /// By task: how long it takes.
    pub minutes: Vec<i32>,
}

impl Model {
    /// None: already the first conclusions show that there is no schedule.
    pub fn of(mirror: &Mirror) -> Option<Model> {
        let mut engine = Engine::new();
        let jobs = &mirror.jobs;
        let starts: Vec<Number> = jobs.iter().map(|j| engine.decided(j.release, j.latest)).collect();
        let last = jobs.iter().map(|j| j.latest.saturating_add(j.minutes)).max().unwrap_or(0);
        let end = engine.decided(0, last.max(0));
        for (j, &s) in jobs.iter().zip(&starts) {
            engine.add_difference(s, end, j.minutes, Lit::TRUE);
        }
        for g in &mirror.gaps {
            engine.add_difference(starts[g.first], starts[g.then], g.by, Lit::TRUE);
        }
        let mut possible = true;
        for h in &mirror.holds {
            let any: Vec<Lit> = h.jobs.iter().map(|&j| Lit::at_most(starts[j], h.latest)).collect();
            possible &= engine.add_clause(&any);
        }
        for r in 0..RESOURCES {
            let needs: Vec<Need> = jobs
                .iter()
                .zip(&starts)
                .filter(|(j, _)| j.needs[r] > 0)
                .map(|(j, &start)| Need { start, minutes: j.minutes, amount: j.needs[r] })
                .collect();
            possible &= needs.iter().all(|n| n.amount <= mirror.capacities[r]);
            // What could all run at once needs no watching.
            if needs.iter().map(|n| i64::from(n.amount)).sum::<i64>() > i64::from(mirror.capacities[r]) {
                engine.add_resource(needs, mirror.capacities[r]);
            }
        }
        for (a, b) in twins(mirror) {
            engine.add_difference(starts[a], starts[b], 0, Lit::TRUE);
        }
        if !possible || !engine.begin() {
            return None;
        }
        let distance = mirror.distances();
        for a in 0..jobs.len() {
            for b in a + 1..jobs.len() {
                if !mirror.excludes(a, b) {
                    continue;
                }
                // An order that would close a circle with the lags is none.
                let (mut low, mut high) = (0, 1);
                if let Some(distance) = &distance {
                    high -= i32::from(distance[b][a].is_some_and(|d| d + i64::from(jobs[a].minutes) > 0));
                    low += i32::from(distance[a][b].is_some_and(|d| d + i64::from(jobs[b].minutes) > 0));
                }
                let first = engine.number(low, high);
                engine.add_difference(starts[a], starts[b], jobs[a].minutes, Lit::at_least(first, 1));
                engine.add_difference(starts[b], starts[a], jobs[b].minutes, Lit::at_most(first, 0));
            }
        }
        for clique in mirror.cliques() {
            let need = |&j: &usize| Need { start: starts[j], minutes: jobs[j].minutes, amount: 1 };
            engine.add_clique(clique.iter().map(need).collect());
        }
        let minutes = jobs.iter().map(|j| j.minutes).collect();
        engine.begin().then_some(Model { engine, starts, end, minutes })
    }

    /// The mirrored starts that the last search found.
    pub fn found(&self) -> Vec<i32> {
        self.starts.iter().map(|&s| self.engine.value(s)).collect()
    }

    /// When the last task of a schedule ends.
    pub fn makespan(&self, starts: &[i32]) -> i32 {
        starts.iter().zip(&self.minutes).map(|(s, m)| s + m).max().unwrap_or(0)
    }
}
