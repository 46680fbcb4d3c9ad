//! Work that two dishes share is done once: all the onions chopped in one go.

use super::{
    LineKind,
    couple::Coupled,
    session::Session,
    work::{Board, Problem, Spot, Why, Work},
};
use crate::{lists::work_on, quantity::System};

/// Of the shorter of two shared pieces of work this part is saved: one board, one knife, one peeler out. Common practice, no
/// source.
const SAVED: f64 = 0.25;

/// The same session with shared work done at once; nothing where no two dishes share any.
pub(super) fn merged(session: &Session<'_>, c: &Coupled) -> Option<Coupled> {
    let pairs = shared(session, &c.problem);
    if pairs.is_empty() {
        return None;
    }
    let mut p = c.problem.clone();
    let mut gone = vec![false; p.works.len()];
    for (a, b, name) in pairs {
        // An earlier pair may have tied these two.
        if p.reach(a)[b] || p.reach(b)[a] {
            continue;
        }
        let other = p.works[b].clone();
        let saved = (p.works[a].minutes.min(other.minutes) as f64 * SAVED).floor() as i64;
        let of = |batch| session.makings.iter().find(|m| Some(m.batch.id) == batch);
        let verb = of(p.works[a].batch).and_then(|m| work_on(m.dish, &name)).unwrap_or("prepare");
        let work = &mut p.works[a];
        let amount = |w: &super::work::Work| {
            let said = w.companions.iter().find(|c| c.0 == name).map(|c| c.1.said(System::Metric)).unwrap_or_default();
            format!("{said} for {}", w.dish)
        };
        let note = format!("{verb} all the {name} at once: {}, {}", amount(work), amount(&other));
        work.minutes = work.minutes + other.minutes - saved;
        work.what = format!("{} And for {}: {}", work.what, other.dish, other.what);
        work.steps.extend(other.steps);
        for (companion, amount) in other.companions {
            match work.companions.iter_mut().find(|c| c.0 == companion && c.1.measure == amount.measure) {
                Some(known) => known.1 = known.1.with(known.1.thousandths + amount.thousandths),
                None => work.companions.push((companion, amount)),
            }
        }
        work.portions.extend(other.portions);
        work.cautions.extend(other.cautions);
        work.note = Some(work.note.take().map_or_else(|| note.clone(), |n| format!("{n}; {note}")));
        work.board = Board::Clean;
        let (mine, theirs) = (work.target, other.target);
        if p.targets[theirs].serve < p.targets[mine].serve {
            p.works[a].target = theirs;
        }
        gone[b] = true;
        let links = std::mem::take(&mut p.links);
        for mut l in links {
            l.before = if l.before == b { a } else { l.before };
            l.after = if l.after == b { a } else { l.after };
            if l.before != l.after {
                let why: Why = l.why;
                p.link(l.before, l.after, l.min, l.max, why);
            }
        }
    }
    if gone.iter().all(|g| !g) {
        return None;
    }
    let place: Vec<usize> = (0..gone.len()).map(|w| w - gone[..w].iter().filter(|g| **g).count()).collect();
    let mut kept = gone.iter();
    p.works.retain(|_| !kept.next().copied().unwrap_or(false));
    for l in &mut p.links {
        (l.before, l.after) = (place[l.before], place[l.after]);
    }
    Some(Coupled { problem: p, units: c.units.clone(), later: c.later.clone() })
}

/// Shared work: the same done to the same companion for two dishes, as positions of works.
fn shared(session: &Session<'_>, p: &Problem) -> Vec<(usize, usize, String)> {
    let mut found: Vec<(usize, usize, String)> = Vec::new();
    let mut taken = vec![false; p.works.len()];
    let of = |w: &Work| w.batch.and_then(|b| session.makings.iter().find(|m| m.batch.id == b));
    for a in 0..p.works.len() {
        for b in a + 1..p.works.len() {
            let (x, y) = (&p.works[a], &p.works[b]);
            let both = [x, y]
                .iter()
                .all(|w| w.kind == LineKind::Step && w.hands == 1 && w.spot == Spot::Bench && w.board == Board::Clean);
            if !both || x.batch == y.batch || taken[a] || taken[b] || x.appliance.is_some() || y.appliance.is_some() {
                continue;
            }
            let (Some(m), Some(n)) = (of(x), of(y)) else { continue };
            let same = x.companions.iter().find(|(name, amount)| {
                let work = work_on(m.dish, name);
                work.is_some()
                    && work == work_on(n.dish, name)
                    && y.companions.iter().any(|c| c.0 == *name && c.1.measure == amount.measure)
            });
            // Done at once, neither may have to wait for what the other makes.
            if let Some((name, _)) = same
                && !p.reach(a)[b]
                && !p.reach(b)[a]
            {
                (taken[a], taken[b]) = (true, true);
                found.push((a, b, name.clone()));
            }
        }
    }
    found
}
