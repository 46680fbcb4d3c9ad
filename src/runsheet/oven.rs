//! The oven's course through a day: which dishes share which heat, in which order, and the minutes of heating and cooling.
//!
//! An oven has one heat at a time, and changing it takes time. So every way to put the dishes together is tried: groups of
//! dishes that share a heat both can bear, one group after another, with warming from cold before the first and a change
//! between each two. Within a group the search is free.

use super::{
    LineKind,
    couple::Coupled,
    work::{Problem, Spot, Why, Work},
};

/// One making at one heat, without a break that the oven could use for another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Unit {
    /// Position of the making.
    pub making: usize,
    /// Its dish.
    pub name: String,
    /// Best, bearable low, bearable high, in degrees Celsius without a fan.
    pub band: (u16, u16, u16),
}

/// Units that share the oven at one heat.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Group {
    pub units: Vec<usize>,
    pub celsius: i64,
}

/// The groups in their order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct OvenPlan {
    pub groups: Vec<Group>,
}

/// The most plans that are tried.
pub(super) const MOST_PLANS: usize = 80;
/// An oven that nothing needs for so many minutes is switched off in between. Common practice, no source.
pub(super) const OFF_BETWEEN: i64 = 60;
/// Heats are chosen in steps of so many degrees.
const STEP: i64 = 5;

/// Minutes from a cold oven: 10 to a gentle heat, 15 to 190 °C, 20 above. Common practice, no source; ovens differ.
pub(super) fn from_cold(celsius: i64) -> i64 {
    match celsius {
        ..=120 => 10,
        121..=190 => 15,
        _ => 20,
    }
}

/// Minutes from one heat to another: 3 for each 10 °C up; down, the door ajar, 4 for each 10 °C and no more than 20 up to a fall
/// of 80 °C. Common practice, no source.
pub(super) fn change(from: i64, to: i64) -> i64 {
    let tens = |d: i64| (d + 9) / 10;
    if to >= from {
        return tens(to - from) * 3;
    }
    let fall = from - to;
    if fall <= 80 { (tens(fall) * 4).min(20) } else { 20 + tens(fall - 80) * 4 }
}

/// Minutes at `celsius` of what takes `minutes` at its best: a tenth more for each 10 °C below it. Hotter is not counted as
/// faster. Common practice, no source.
pub(super) fn minutes_at(minutes: i64, best: i64, celsius: i64) -> i64 {
    let below = (best - celsius).max(0);
    // Rounded up: minutes * (1 + below / 100).
    (minutes * (100 + below) + 99) / 100
}

/// The heat for some units, if there is one that all can bear: the one that costs the least time, then the nearest to their best.
fn common_heat(units: &[Unit], of: &[usize], baked: &[i64]) -> Option<i64> {
    let low = of.iter().map(|&u| i64::from(units[u].band.1)).max()?;
    let high = of.iter().map(|&u| i64::from(units[u].band.2)).min()?;
    let mut heats: Vec<i64> = of.iter().map(|&u| i64::from(units[u].band.0)).chain([low, high]).collect();
    heats.extend((low..=high).filter(|c| c % STEP == 0));
    heats.retain(|c| (low..=high).contains(c));
    let cost = |c: &i64| {
        let longer: i64 = of.iter().map(|&u| minutes_at(baked[u], i64::from(units[u].band.0), *c)).sum();
        let off: i64 = of.iter().map(|&u| (i64::from(units[u].band.0) - c).abs()).sum();
        (longer, off, *c)
    };
    heats.into_iter().min_by_key(cost)
}

/// Every plan worth trying, the fewest changes first.
pub(super) fn plans(c: &Coupled) -> Vec<OvenPlan> {
    let n = c.units.len();
    if n == 0 {
        return vec![OvenPlan::default()];
    }
    let in_unit = |w: &Work| match w.spot {
        Spot::Oven { unit } => Some(unit),
        _ => None,
    };
    let mut baked = vec![0; n];
    let mut before = vec![vec![false; n]; n];
    for (w, work) in c.problem.works.iter().enumerate() {
        let Some(u) = in_unit(work) else { continue };
        baked[u] += work.minutes;
        for (v, reached) in c.problem.reach(w).into_iter().enumerate() {
            if let Some(later) = in_unit(&c.problem.works[v]).filter(|l| reached && *l != u) {
                before[u][later] = true;
            }
        }
    }
    let mut found = Vec::new();
    grow(&c.units, &baked, &before, &mut Vec::new(), (0..n).collect(), &mut found);
    let extra = |p: &OvenPlan| {
        let longer =
            p.groups.iter().flat_map(|g| g.units.iter().map(|&u| minutes_at(baked[u], i64::from(c.units[u].band.0), g.celsius)));
        let changes: i64 = p.groups.windows(2).map(|w| change(w[0].celsius, w[1].celsius)).sum();
        (p.groups.len(), longer.sum::<i64>() + changes)
    };
    found.sort_by_key(extra);
    found.truncate(MOST_PLANS);
    found
}

fn grow(units: &[Unit], baked: &[i64], before: &[Vec<bool>], done: &mut Vec<Group>, left: Vec<usize>, found: &mut Vec<OvenPlan>) {
    if left.is_empty() {
        found.push(OvenPlan { groups: done.clone() });
        return;
    }
    // A session with so many heats is beyond trying everything; the first few thousand hold the sensible ones.
    if found.len() > 4_000 || left.len() > 12 {
        return;
    }
    for set in 1_u32..1 << left.len() {
        let chosen: Vec<usize> = (0..left.len()).filter(|k| set & 1 << k != 0).map(|k| left[k]).collect();
        let rest: Vec<usize> = left.iter().copied().filter(|u| !chosen.contains(u)).collect();
        if chosen.iter().any(|&u| rest.iter().any(|&r| before[r][u])) {
            continue;
        }
        let Some(celsius) = common_heat(units, &chosen, baked) else { continue };
        // Two neighbours at one heat are one group.
        if done.last().is_some_and(|g| g.celsius == celsius) {
            continue;
        }
        done.push(Group { units: chosen, celsius });
        grow(units, baked, before, done, rest, found);
        done.pop();
    }
}

impl OvenPlan {
    /// The problem with this course of the oven: heats, longer minutes, warming and changes.
    pub(super) fn laid_on(&self, c: &Coupled) -> Problem {
        let mut p = c.problem.clone();
        let mut previous: Option<(usize, &Group)> = None;
        for group in &self.groups {
            let users: Vec<usize> = (0..c.problem.works.len())
                .filter(|&w| matches!(p.works[w].spot, Spot::Oven { unit } if group.units.contains(&unit)))
                .collect();
            for &w in &users {
                let Spot::Oven { unit } = p.works[w].spot else { continue };
                let best = i64::from(c.units[unit].band.0);
                let work = &mut p.works[w];
                work.celsius = Some(group.celsius);
                if work.hands == 0 {
                    work.minutes = minutes_at(work.minutes, best, group.celsius);
                }
                if let Some(said) = sharing(c, group, unit) {
                    work.note = Some(work.note.take().map_or_else(|| said.clone(), |n| format!("{n}; {said}")));
                }
            }
            // Whatever is latest of what the group is for.
            let target = users.iter().map(|&w| p.works[w].target).max_by_key(|&t| p.targets[t].serve).unwrap_or(0);
            let (kind, minutes) = match previous {
                None => (LineKind::OvenOn, from_cold(group.celsius)),
                Some((_, before)) => (LineKind::OvenTo, change(before.celsius, group.celsius)),
            };
            let mut heat = oven_work(kind, previous.map(|(_, g)| g.celsius), group.celsius, minutes, target);
            heat.spot = Spot::Oven { unit: group.units[0] };
            let at = p.add(heat);
            if let Some((_, before)) = previous {
                let earlier: Vec<usize> = (0..c.problem.works.len())
                    .filter(|&w| matches!(p.works[w].spot, Spot::Oven { unit } if before.units.contains(&unit)))
                    .collect();
                for w in earlier {
                    p.link(w, at, 0, None, Why::Heat);
                }
            }
            for &w in &users {
                p.link(at, w, 0, None, Why::Heat);
            }
            previous = Some((at, group));
        }
        p.loosen_pans();
        p
    }
}

/// Where nothing has needed the oven for so long it was switched off, and is warmed once more from cold: on the same heat again,
/// or on the next. Warming takes no hands and the oven stands empty then, so nothing else moves.
pub(super) fn warm_again(p: &mut Problem, starts: &mut Vec<i64>) {
    let mut order: Vec<usize> = (0..p.works.len()).filter(|&w| matches!(p.works[w].spot, Spot::Oven { .. })).collect();
    order.sort_by_key(|&w| (starts[w], w));
    let Some(&first) = order.first() else { return };
    let mut until = starts[first] + p.works[first].minutes;
    let mut used: Vec<usize> = vec![first];
    for &w in &order[1..] {
        let (from, to) = (starts[w], starts[w] + p.works[w].minutes);
        if from - until >= OFF_BETWEEN {
            let Spot::Oven { unit } = p.works[w].spot else { continue };
            let celsius = p.works[w].celsius.unwrap_or(0);
            let minutes = from_cold(celsius);
            if p.works[w].kind == LineKind::OvenTo {
                let anew = oven_work(LineKind::OvenOn, None, celsius, minutes, p.works[w].target);
                p.works[w] = Work { spot: Spot::Oven { unit }, ..anew };
                starts[w] = to - minutes;
            } else {
                let mut heat = oven_work(LineKind::OvenOn, None, celsius, minutes, p.works[w].target);
                heat.spot = Spot::Oven { unit };
                let at = p.add(heat);
                starts.push(from - minutes);
                for &earlier in &used {
                    p.link(earlier, at, 0, None, Why::Heat);
                }
                for &later in order.iter().filter(|v| starts[**v] >= from) {
                    p.link(at, later, 0, None, Why::Heat);
                }
            }
        }
        until = until.max(to);
        used.push(w);
    }
}

fn sharing(c: &Coupled, group: &Group, unit: usize) -> Option<String> {
    let own = &c.units[unit];
    let others: Vec<&str> =
        group.units.iter().filter(|&&u| c.units[u].making != own.making).map(|&u| c.units[u].name.as_str()).collect();
    let off = group.celsius - i64::from(own.band.0);
    let longer = if off < 0 { format!(", {}\u{a0}°C under its best and so a little longer", -off) } else { String::new() };
    (!others.is_empty()).then(|| format!("shares the heat with {}{longer}", others.join(" and ")))
}

fn oven_work(kind: LineKind, from: Option<i64>, celsius: i64, minutes: i64, target: usize) -> Work {
    let what = match from {
        None => "Oven on, from cold".to_string(),
        Some(from) if from > celsius => "Oven down, the door ajar, empty".to_string(),
        Some(_) => "Oven up, empty".to_string(),
    };
    Work {
        kind,
        batch: None,
        dish: "oven".into(),
        what,
        steps: Vec::new(),
        minutes: minutes.max(1),
        hands: 0,
        spot: Spot::Bench,
        racks: 0,
        appliance: None,
        board: super::work::Board::None,
        target,
        companions: Vec::new(),
        portions: Vec::new(),
        cautions: Vec::new(),
        note: None,
        celsius: Some(celsius),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heating_and_cooling_take_their_minutes() {
        assert_eq!((from_cold(100), from_cold(180), from_cold(190), from_cold(200), from_cold(220)), (10, 15, 15, 20, 20));
        assert_eq!((change(180, 200), change(190, 190), change(180, 185)), (6, 0, 3));
        assert_eq!((change(180, 100), change(180, 130), change(200, 190), change(220, 100)), (20, 20, 4, 36));
        assert_eq!((minutes_at(50, 200, 190), minutes_at(45, 200, 190), minutes_at(50, 180, 190)), (55, 50, 50));
    }

    #[test]
    fn two_dishes_share_where_both_can_bear_it() {
        let unit = |best, low, high| Unit { making: 0, name: String::new(), band: (best, low, high) };
        let units = [unit(200, 190, 210), unit(180, 170, 190), unit(150, 140, 155)];
        assert_eq!(common_heat(&units, &[0, 1], &[50, 35, 60]), Some(190));
        assert_eq!(common_heat(&units, &[0, 2], &[50, 35, 60]), None);
        assert_eq!(common_heat(&units, &[0], &[50, 35, 60]), Some(200));
    }
}
