//! Tasks and dishes that are the same but for their name: one order of them is enough.

use super::mirror::{Gap, Job, Mirror};
use std::collections::BTreeMap;

/// Pairs of tasks of which the first may be taken to start no later.
///
/// Two tasks of one dish with the same needs and the same gaps can change places in any schedule; so can two whole dishes
/// whose tasks are pairwise alike and tied to nothing else. Ordering the first task of each of the dishes, and alike tasks
/// within a dish, cuts off only copies.
pub(super) fn twins(mirror: &Mirror) -> Vec<(usize, usize)> {
    let n = mirror.jobs.len();
    let mut ties: Vec<Vec<(bool, usize, i32)>> = vec![Vec::new(); n];
    for g in &mirror.gaps {
        ties[g.first].push((true, g.then, g.by));
        ties[g.then].push((false, g.first, g.by));
    }
    for list in &mut ties {
        list.sort_unstable();
    }
    let mut alike = BTreeMap::new();
    for (j, job) in mirror.jobs.iter().enumerate() {
        alike.entry((job.dish, key(job), ties[j].clone())).or_insert_with(Vec::new).push(j);
    }
    let mut pairs: Vec<(usize, usize)> = alike.values().flat_map(|same| same.windows(2).map(|w| (w[0], w[1]))).collect();

    let dishes = mirror.jobs.iter().map(|j| j.dish + 1).max().unwrap_or(0);
    let mut members: Vec<Vec<usize>> = vec![Vec::new(); dishes];
    let mut place = vec![0; n];
    for (j, job) in mirror.jobs.iter().enumerate() {
        place[j] = members[job.dish].len();
        members[job.dish].push(j);
    }
    let mut own: Vec<Vec<(usize, usize, i32)>> = vec![Vec::new(); dishes];
    let mut alone = vec![true; dishes];
    for &Gap { first, then, by } in &mirror.gaps {
        let (a, b) = (mirror.jobs[first].dish, mirror.jobs[then].dish);
        if a == b {
            own[a].push((place[first], place[then], by));
        } else {
            (alone[a], alone[b]) = (false, false);
        }
    }
    let mut hold = vec![None; dishes];
    for h in &mirror.holds {
        if let Some(&j) = h.jobs.first() {
            hold[mirror.jobs[j].dish] = Some(h.latest);
        }
    }
    let mut alike = BTreeMap::new();
    for d in (0..dishes).filter(|&d| alone[d] && !members[d].is_empty()) {
        own[d].sort_unstable();
        let keys: Vec<_> = members[d].iter().map(|&j| key(&mirror.jobs[j])).collect();
        alike.entry((keys, std::mem::take(&mut own[d]), hold[d])).or_insert_with(Vec::new).push(members[d][0]);
    }
    pairs.extend(alike.values().flat_map(|same| same.windows(2).map(|w| (w[0], w[1]))));
    pairs
}

type Key = (i32, i32, i32, [i32; 4], Option<u32>, Option<(i64, i64)>);

fn key(job: &Job) -> Key {
    (job.minutes, job.release, job.latest, job.needs, job.appliance, job.oven)
}
