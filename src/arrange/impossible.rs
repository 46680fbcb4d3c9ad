//! Whether there is any arrangement at all: by counting first, by search where counting does not decide.

use super::{
    instance::Instance,
    local::any_filling,
    reason::{Reason, Wish},
    search::search,
    table::{DishNo, Table},
    watch::{Patience, Watch},
};

/// Whether the slots can be filled.
pub(super) enum Filling {
    /// By this, for one.
    Found(Vec<DishNo>),
    /// Proven that not.
    None,
    /// Time was up.
    Unknown,
}

/// A reason that can be counted out, if there is one.
pub(super) fn by_counting(instance: &Instance, table: &Table) -> Option<Reason> {
    if let Some(slot) = table.candidates.iter().position(Vec::is_empty) {
        return Some(Reason::EmptySlot { slot, because: why_empty(instance, slot) });
    }
    if let Some(slots) = crowded(table) {
        let mut near: Vec<DishNo> = slots.iter().flat_map(|&s| table.candidates[s].iter().copied()).collect();
        near.sort_unstable();
        near.dedup();
        let uses = near.iter().map(|&d| i64::from(table.dish(d).uses)).sum();
        return Some(Reason::TooFewUses { slots, uses });
    }
    let all: Vec<usize> = (0..table.slots).collect();
    let least_g = least_filling(table, &all, &|d| table.dish(d).min_g);
    if least_g > table.edible_g {
        return Some(Reason::TooFewGrams { least_g, edible_g: table.edible_g });
    }
    (0..table.day_minutes.len()).find_map(|day| {
        let slots: Vec<usize> = all.iter().copied().filter(|&s| table.day[s] == day).collect();
        let least = least_filling(table, &slots, &|d| table.dish(d).minutes);
        let have = table.day_minutes[day];
        (least > have).then_some(Reason::TooFewMinutes { day, least, have })
    })
}

/// The first rule, in the order of the problem, that leaves no dish for `slot`.
fn why_empty(instance: &Instance, slot: usize) -> &'static str {
    let mut left: Vec<usize> = (0..instance.dishes.len()).collect();
    if left.is_empty() {
        return "there are no dishes";
    }
    let dish = |d: usize| &instance.dishes[d];
    let minutes = instance.day_minutes[instance.slot_days[slot]];
    let rules: [(&'static str, &dyn Fn(usize) -> bool); 5] = [
        ("what is allowed there is fixed otherwise, or not allowed, or takes the ingredient after its last slot", &|d| {
            instance.may_stand(slot, d)
        }),
        ("what may stand there may not be used", &|d| dish(d).max_uses > 0),
        ("what may stand there needs more minutes than its day has", &|d| dish(d).minutes <= minutes),
        ("what may stand there takes more grams than there are", &|d| dish(d).min_g <= instance.edible_g),
        ("every dish is ruled out", &|_| false),
    ];
    for (words, rule) in rules {
        left.retain(|&d| rule(d));
        if left.is_empty() {
            return words;
        }
    }
    "every dish is ruled out"
}

/// Slots that the dishes that may fill them cannot fill for want of uses (Hall's condition), if there are such slots.
fn crowded(table: &Table) -> Option<Vec<usize>> {
    any_filling(table).err()
}

/// The least sum of `cost` over a filling of `slots` that uses no dish too often; the slots can be filled. Cheapest
/// augmenting ways, one slot after another.
fn least_filling(table: &Table, slots: &[usize], cost: &dyn Fn(DishNo) -> i64) -> i64 {
    let mut holds: Vec<Option<DishNo>> = vec![None; slots.len()];
    let mut held: Vec<Vec<usize>> = vec![Vec::new(); table.n()];
    for new in 0..slots.len() {
        // `dear[i]`: least extra cost so that slot i stands empty and all before are filled.
        let mut dear: Vec<Option<i64>> = vec![None; slots.len()];
        let mut from: Vec<Option<(usize, DishNo)>> = vec![None; slots.len()];
        dear[new] = Some(0);
        let mut best: Option<(i64, usize, DishNo)> = None;
        let mut queue = std::collections::VecDeque::from([new]);
        while let Some(i) = queue.pop_front() {
            let Some(so_far) = dear[i] else { continue };
            for &d in &table.candidates[slots[i]] {
                let holders = &held[usize::from(d)];
                if holders.len() < table.dish(d).uses as usize {
                    let with = so_far + cost(d);
                    if best.is_none_or(|b| with < b.0) {
                        best = Some((with, i, d));
                    }
                    continue;
                }
                // The slot that gives it up saves what the other takes on.
                for &j in holders.iter().filter(|&&j| j != i) {
                    if dear[j].is_none_or(|v| so_far < v) {
                        dear[j] = Some(so_far);
                        from[j] = Some((i, d));
                        queue.push_back(j);
                    }
                }
            }
        }
        // Some way exists, since the slots can be filled.
        let Some((_, mut i, mut d)) = best else { return 0 };
        loop {
            if let Some(gone) = holds[i] {
                held[usize::from(gone)].retain(|&j| j != i);
            }
            holds[i] = Some(d);
            held[usize::from(d)].push(i);
            let Some((before, given)) = from[i].filter(|_| i != new) else { break };
            (i, d) = (before, given);
        }
    }
    holds.iter().flatten().map(|&d| cost(d)).sum()
}

/// Looks for any arrangement: the one of the least grams, with likeness left out. Stops at the first that fits.
pub(super) fn fill(table: &Table, threads: usize, patience: Patience<'_>) -> Filling {
    let mut plain = table.clone();
    plain.gap = vec![0];
    plain.waste = 0;
    plain.dishes.iter_mut().for_each(|d| d.cost = 1_000 * d.min_g);
    if any_filling(&plain).is_err() {
        return Filling::None;
    }
    let mut watch = Watch::new(patience, 1_000 * table.edible_g + 1, 0, None);
    watch.any_will_do = true;
    search(&plain, threads, &mut watch);
    match watch.best {
        Some(dishes) => Filling::Found(dishes),
        None if watch.is_closed() => Filling::None,
        None => Filling::Unknown,
    }
}

/// Gives up one wish after another as long as the rest still cannot hold (a deletion filter; Chinneck and Dravnieks 1991,
/// from memory). `instance` is known to have no arrangement.
pub(super) fn by_deleting(instance: &Instance, threads: usize, patience: Patience<'_>) -> Reason {
    let mut kept = instance.clone();
    let mut smallest = true;
    let mut still_none = |trial: &Instance| {
        let table = Table::new(trial);
        if by_counting(trial, &table).is_some() {
            return true;
        }
        match fill(&table, threads, patience) {
            Filling::None => true,
            Filling::Found(_) => false,
            Filling::Unknown => {
                smallest = false;
                false
            }
        }
    };
    // Whole families first, which settles most dishes at once.
    let families: [&dyn Fn(&Wish) -> bool; 4] =
        [&|w| matches!(w, Wish::Allowed(_)), &|w| matches!(w, Wish::Uses(_)), &|w| matches!(w, Wish::Fixed(..)), &|w| {
            matches!(w, Wish::Minutes(_))
        }];
    for family in families {
        let some: Vec<Wish> = wishes(&kept).into_iter().filter(|w| family(w)).collect();
        let trial = without(&kept, &some);
        if !some.is_empty() && still_none(&trial) {
            kept = trial;
        }
    }
    for wish in wishes(&kept) {
        let trial = without(&kept, &[wish]);
        if still_none(&trial) {
            kept = trial;
        }
    }
    Reason::Together { wishes: wishes(&kept), smallest }
}

/// What `instance` asks that could be given up.
fn wishes(instance: &Instance) -> Vec<Wish> {
    let m = instance.slots();
    let mut out = Vec::new();
    if instance.dishes.iter().any(|d| d.min_g > 0) {
        out.push(Wish::Grams);
    }
    if instance.last_slot.is_none_or(|l| l + 1 < m) {
        out.push(Wish::LastSlot);
    }
    let slowest = instance.dishes.iter().map(|d| d.minutes).max().unwrap_or(0).saturating_mul(m as i64);
    let tight = |&d: &usize| instance.day_minutes[d] < slowest && instance.slot_days.contains(&d);
    out.extend((0..instance.day_minutes.len()).filter(tight).map(Wish::Minutes));
    out.extend(instance.fixed.iter().map(|&(s, d)| Wish::Fixed(s, d)));
    let dishes = || instance.dishes.iter().enumerate();
    out.extend(dishes().filter(|(_, d)| d.allowed_slots.is_some()).map(|(i, _)| Wish::Allowed(i)));
    out.extend(dishes().filter(|(_, d)| d.max_uses < m as i64).map(|(i, _)| Wish::Uses(i)));
    out
}

/// `instance` with some wishes given up.
fn without(instance: &Instance, gone: &[Wish]) -> Instance {
    let mut left = instance.clone();
    let m = left.slots();
    let slowest = left.dishes.iter().map(|d| d.minutes).max().unwrap_or(0).saturating_mul(m as i64);
    for wish in gone {
        match *wish {
            Wish::Grams => left.dishes.iter_mut().for_each(|d| d.min_g = 0),
            Wish::LastSlot => left.last_slot = Some(m - 1),
            Wish::Minutes(day) => left.day_minutes[day] = slowest,
            Wish::Fixed(slot, dish) => left.fixed.retain(|&f| f != (slot, dish)),
            Wish::Allowed(dish) => left.dishes[dish].allowed_slots = None,
            Wish::Uses(dish) => left.dishes[dish].max_uses = m as i64,
        }
    }
    left
}
