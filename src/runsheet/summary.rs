//! What there is to say of a whole sheet: hands, oven, the long chain, where the hands are free.

use super::{
    oven::OFF_BETWEEN,
    page::clock,
    sheet::{Line, LineKind, Proof, SheetMeal},
    words::brief_within,
    work::{Problem, Spot},
};

/// Figures and words about a sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Summary {
    /// Minute of the day at which the first thing is done.
    pub start: i64,
    /// Minutes from there to the last sit-down of the day, or to the end where nobody sits down.
    pub span: i64,
    /// Minutes of work for hands, washing up and all.
    pub hands_minutes: i64,
    /// Minutes that the oven is on.
    pub oven_minutes: i64,
    /// Numbers of the lines that follow hard upon one another from the start to the table.
    pub chain: Vec<usize>,
    /// What of the chain binds: minutes of hands, oven, ring, waiting; the most first.
    pub binds: Vec<(&'static str, i64)>,
    /// The longest stretch in which nobody's hands are needed: from, to.
    pub free: Option<(i64, i64)>,
    /// All of it in sentences.
    pub sentences: Vec<String>,
}

/// Works of the chain that a sentence names.
const NAMED: usize = 5;

pub(super) fn summarise(
    lines: &[Line],
    meals: &[SheetMeal],
    p: &Problem,
    starts: &[i64],
    proof: Proof,
    now: Option<i64>,
) -> Summary {
    let work = |l: &&Line| l.kind != LineKind::Sit;
    let start = lines.iter().filter(work).map(|l| l.from).min().unwrap_or(0);
    let end = lines.iter().filter(work).map(|l| l.to).max().unwrap_or(start);
    let last_sit = meals.iter().map(|m| m.at).max();
    let hands_minutes = lines.iter().filter(|l| l.hands).map(Line::minutes).sum();
    let chain = chain(p, starts, now.unwrap_or(i64::MIN));
    let mut binds = [("hands", 0), ("the oven", 0), ("the hob", 0), ("waiting", 0)];
    for &w in &chain {
        let work = &p.works[w];
        let k = match work.spot {
            _ if work.hands > 0 => 0,
            Spot::Oven { .. } => 1,
            Spot::Ring => 2,
            _ => 3,
        };
        binds[k].1 += work.minutes;
    }
    let mut binds: Vec<_> = binds.into_iter().filter(|b| b.1 > 0).collect();
    binds.sort_by_key(|b| std::cmp::Reverse(b.1));
    let free = free(lines, last_sit.unwrap_or(end));
    let mut summary = Summary {
        start,
        span: last_sit.unwrap_or(end).max(start) - start,
        hands_minutes,
        oven_minutes: oven_on(lines).iter().map(|(a, b)| b - a).sum(),
        chain,
        binds,
        free,
        sentences: Vec::new(),
    };
    summary.sentences = sentences(&summary, meals, p, starts, proof);
    summary
}

/// The stretches in which the oven is on.
fn oven_on(lines: &[Line]) -> Vec<(i64, i64)> {
    let mut used: Vec<(i64, i64)> =
        lines.iter().filter(|l| matches!(l.place, super::Place::Oven { .. })).map(|l| (l.from, l.to)).collect();
    used.sort_unstable();
    let mut on: Vec<(i64, i64)> = Vec::new();
    for (from, to) in used {
        match on.last_mut() {
            Some(last) if from - last.1 < OFF_BETWEEN => last.1 = last.1.max(to),
            _ => on.push((from, to)),
        }
    }
    on
}

/// Works that follow hard upon one another, by an order or by something that both need, from the first start towards a table.
fn chain(p: &Problem, starts: &[i64], since: i64) -> Vec<usize> {
    let n = p.works.len();
    let end = |w: usize| starts[w] + p.works[w].minutes;
    let is_table = |w: usize| p.works[w].kind == LineKind::ServeUp;
    let counts = |w: &usize| p.works[*w].kind != LineKind::Sit && end(*w) > since;
    let Some(first) = (0..n).filter(counts).min_by_key(|&w| (starts[w], w)) else { return Vec::new() };
    let follows = |w: usize, v: usize| {
        let by_order = p.links.iter().any(|l| l.before == w && l.after == v && starts[v] == end(w) + l.min);
        let (a, b) = (&p.works[w], &p.works[v]);
        let by_need = starts[v] == end(w)
            && (a.hands > 0 && b.hands > 0
                || a.racks > 0 && b.racks > 0
                || a.spot == Spot::Ring && b.spot == Spot::Ring
                || a.appliance.is_some() && a.appliance == b.appliance);
        (by_order, by_need)
    };
    // By the clock backwards: how many minutes of a chain to the table hang on each, orders before needs.
    let mut order: Vec<usize> = (0..n).filter(counts).collect();
    order.sort_by_key(|&w| std::cmp::Reverse((starts[w], w)));
    let mut best: Vec<(bool, i64, Option<usize>)> = vec![(false, 0, None); n];
    for &w in &order {
        let mut mine = (is_table(w), p.works[w].minutes, None);
        for &v in &order {
            let (by_order, by_need) = follows(w, v);
            if !(by_order || by_need) || starts[v] <= starts[w] {
                continue;
            }
            let (table, minutes, _) = best[v];
            let through = (table, minutes + p.works[w].minutes + i64::from(by_order), Some(v));
            if (through.0, through.1) > (mine.0, mine.1) && !is_table(w) {
                mine = through;
            }
        }
        best[w] = mine;
    }
    // Among those that start first, the one whose chain reaches furthest.
    let first = (0..n)
        .filter(|w| counts(w) && starts[*w] == starts[first])
        .max_by_key(|&w| (best[w].0, best[w].1, std::cmp::Reverse(w)))
        .unwrap_or(first);
    let mut chain = vec![first];
    while let Some(next) = chain.last().and_then(|w| best[*w].2) {
        chain.push(next);
    }
    chain
}

/// The longest stretch between the first work and the last sit-down in which no hands are needed.
fn free(lines: &[Line], until: i64) -> Option<(i64, i64)> {
    let mut busy: Vec<(i64, i64)> = lines
        .iter()
        .filter(|l| (l.hands && l.kind != LineKind::WashUp) || l.kind == LineKind::Sit)
        .map(|l| (l.from, l.to))
        .collect();
    busy.sort_unstable();
    let mut longest: Option<(i64, i64)> = None;
    let mut done = busy.first()?.1;
    for (from, to) in busy {
        if from > done && done < until && longest.is_none_or(|(a, b)| b - a < from - done) {
            longest = Some((done, from));
        }
        done = done.max(to);
    }
    longest.filter(|(a, b)| b - a >= 5)
}

fn sentences(s: &Summary, meals: &[SheetMeal], p: &Problem, starts: &[i64], proof: Proof) -> Vec<String> {
    let mut said = Vec::new();
    let oven = if s.oven_minutes == 0 { "oven not used".to_string() } else { format!("oven on {} min", s.oven_minutes) };
    said.push(format!("Start at {}: hands {} min, {oven}.", clock(s.start), s.hands_minutes));
    let table = s.chain.last().is_some_and(|w| p.works[*w].kind == LineKind::ServeUp);
    if s.chain.len() > 1 {
        let mut named: Vec<usize> = s.chain.iter().copied().filter(|w| p.works[*w].kind != LineKind::ServeUp).collect();
        named.sort_by_key(|&w| std::cmp::Reverse(p.works[w].minutes));
        named.truncate(NAMED);
        let links: Vec<String> = s
            .chain
            .iter()
            .filter(|w| named.contains(w))
            .map(|&w| format!("{} {} min", brief_within(&p.works[w].what), p.works[w].minutes))
            .collect();
        let end = s.chain.last().map_or(s.start, |&w| starts[w] + p.works[w].minutes);
        let slips = match table && !meals.is_empty() {
            true => "if the start slips, so does the table".to_string(),
            false => format!("if the start slips, so does its end at {}", clock(end)),
        };
        said.push(format!("No minute is to spare on the long chain: {slips}. It runs {}.", links.join(", then ")));
        let binds: Vec<String> = s.binds.iter().map(|(what, minutes)| format!("{what} {minutes} min")).collect();
        said.push(format!("What binds: {}.", binds.join(", ")));
    }
    if let Some((from, to)) = s.free {
        said.push(format!("Hands are free {} to {} ({} min).", clock(from), clock(to), to - from));
    }
    for meal in meals.iter().filter(|m| m.guessed) {
        said.push(format!("The plan gives no time for {}; {} is taken.", meal.name, clock(meal.at)));
    }
    said.push(match proof {
        Proof::Best => "Proven: nothing can be begun or done later.".into(),
        Proof::LatestStart => "Proven: cooking cannot begin later; some steps within it might.".into(),
        Proof::SoFar => "The best found so far; the search was cut short.".into(),
        Proof::ByHand => "Some steps were moved by hand; every rule is kept.".into(),
    });
    said
}
