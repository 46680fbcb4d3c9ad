//! A first whole arrangement that passes the gate: by growing the cheapest beginnings, and where that finds none by trying all.

use super::{board::Board, tastes::NOT_BOTH};
use crate::arrange::watch::Gate;

/// How many beginnings are kept at each meal.
const WIDE: usize = 96;
/// How many whole arrangements are shown to the judges before all are tried.
const SHOWN: usize = 200;
/// After so many beginnings nobody can say whether there is an arrangement (house limit).
const MOST_TRIALS: u64 = 400_000;

/// What came of looking for any arrangement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Any {
    /// This one.
    Found(Vec<usize>),
    /// There is none, proven.
    None,
    /// Time or trials were up.
    Unknown,
}

/// A good arrangement soon, bettered by single changes; or any there is.
pub(super) fn start(board: &Board, gate: &dyn Gate, over: &dyn Fn() -> bool) -> Any {
    let mut found = grow(board, gate, over);
    if found.is_none() {
        match any(board, gate, over) {
            Any::Found(chosen) => found = gate.cost(&chosen).map(|cost| (cost, chosen)),
            other => return other,
        }
    }
    match found {
        Some((cost, chosen)) => Any::Found(better(board, gate, cost, chosen, over)),
        None => Any::Unknown,
    }
}

/// The cheapest beginnings, meal by meal; of the whole ones the cheapest that passes.
fn grow(board: &Board, gate: &dyn Gate, over: &dyn Fn() -> bool) -> Option<(i64, Vec<usize>)> {
    let mut front: Vec<(i64, Vec<usize>)> = vec![(0, Vec::new())];
    for list in &board.of_slot {
        let mut next: Vec<(i64, Vec<usize>)> = Vec::new();
        for (cost, begun) in &front {
            for &c in list {
                let more: i64 = board.own[c] + begun.iter().map(|&b| board.pair(b, c)).sum::<i64>();
                if more < i64::from(NOT_BOTH) {
                    let mut longer = begun.clone();
                    longer.push(c);
                    next.push((cost + more, longer));
                }
            }
        }
        next.sort();
        let mut kept = Vec::with_capacity(WIDE);
        for one in next {
            if kept.len() >= WIDE || over() {
                break;
            }
            if gate.may_begin(&one.1) {
                kept.push(one);
            }
        }
        front = kept;
    }
    let mut best: Option<(i64, Vec<usize>)> = None;
    for (least, chosen) in front.into_iter().take(SHOWN) {
        if best.as_ref().is_some_and(|(cost, _)| 1_000 * least >= *cost) || over() {
            break;
        }
        if let Some(cost) = gate.cost(&chosen)
            && best.as_ref().is_none_or(|(c, _)| cost < *c)
        {
            best = Some((cost, chosen));
        }
    }
    best
}

/// Changes one meal, or swaps the dishes of two, as long as that is cheaper.
fn better(board: &Board, gate: &dyn Gate, cost: i64, chosen: Vec<usize>, over: &dyn Fn() -> bool) -> Vec<usize> {
    let (mut cost, mut best) = (cost, chosen);
    loop {
        let mut trials: Vec<(i64, Vec<usize>)> = Vec::new();
        let mut consider = |trial: Vec<usize>| {
            if let Some(taste) = board.taste(&trial)
                && 1_000 * taste < cost
            {
                trials.push((taste, trial));
            }
        };
        for (at, list) in board.of_slot.iter().enumerate() {
            for &c in list.iter().filter(|c| **c != best[at]) {
                let mut trial = best.clone();
                trial[at] = c;
                consider(trial);
            }
            for other in 0..at {
                let same = |at: usize, as_of: usize| {
                    board.of_slot[at].iter().copied().find(|&c| {
                        let (x, y) = (&board.choices[c], &board.choices[best[as_of]]);
                        x.dish.id == y.dish.id && std::mem::discriminant(&x.route) == std::mem::discriminant(&y.route)
                    })
                };
                if let (Some(x), Some(y)) = (same(at, other), same(other, at)) {
                    let mut trial = best.clone();
                    (trial[at], trial[other]) = (x, y);
                    consider(trial);
                }
            }
        }
        trials.sort();
        let found = trials.into_iter().take(SHOWN).take_while(|_| !over()).find_map(|(_, trial)| {
            let new = gate.cost(&trial)?;
            (new < cost).then_some((new, trial))
        });
        match found {
            Some((new, trial)) => (cost, best) = (new, trial),
            None => return best,
        }
    }
}

/// Tries all, meal by meal; what can no longer stand at a later meal is left out at once.
pub(super) fn any(board: &Board, gate: &dyn Gate, over: &dyn Fn() -> bool) -> Any {
    let mut trials = 0;
    let lists: Vec<Vec<usize>> = board.of_slot.clone();
    if lists.iter().any(Vec::is_empty) || too_few_dishes(board) {
        return Any::None;
    }
    match go(board, gate, &mut Vec::new(), &lists, &mut trials, over) {
        Some(chosen) => Any::Found(chosen),
        None if trials >= MOST_TRIALS || over() => Any::Unknown,
        None => Any::None,
    }
}

fn go(
    board: &Board,
    gate: &dyn Gate,
    begun: &mut Vec<usize>,
    lists: &[Vec<usize>],
    trials: &mut u64,
    over: &dyn Fn() -> bool,
) -> Option<Vec<usize>> {
    let at = begun.len();
    if at == lists.len() {
        return gate.cost(begun).map(|_| begun.clone());
    }
    // Those first that take the least, so that what there is goes far.
    let mut order = lists[at].clone();
    order.sort_by_key(|&c| (board.choices[c].want.least, c));
    for c in order {
        *trials += 1;
        if *trials >= MOST_TRIALS || over() {
            return None;
        }
        begun.push(c);
        if gate.may_begin(begun) {
            let mut left = lists.to_vec();
            for list in left.iter_mut().skip(at + 1) {
                list.retain(|&d| board.pair(c, d) < i64::from(NOT_BOTH));
            }
            let open = left.iter().skip(at + 1).all(|l| !l.is_empty());
            if open
                && least_of_all(board, begun, &left)
                && let Some(found) = go(board, gate, begun, &left, trials, over)
            {
                return Some(found);
            }
        }
        begun.pop();
    }
    None
}

/// Whether what is begun and the least that later meals can take is no more than there is.
fn least_of_all(board: &Board, begun: &[usize], lists: &[Vec<usize>]) -> bool {
    let least = |c: &usize| u64::from(board.choices[*c].want.least);
    let later = lists.iter().skip(begun.len()).map(|l| l.iter().map(least).min().unwrap_or(0));
    let have: u64 = board.supplies.iter().map(|s| u64::from(s.grams)).sum();
    begun.iter().map(least).chain(later).sum::<u64>() <= have
}

/// Whether some eater has more meals within a fortnight than there are dishes for them, where no dish may come back.
fn too_few_dishes(board: &Board) -> bool {
    if board.wishes.may_come_again {
        return false;
    }
    let eaters: std::collections::BTreeSet<_> = board.choices.iter().flat_map(|c| c.eaters.iter().copied()).collect();
    eaters.into_iter().any(|eater| {
        (0..board.slots.len()).any(|first| {
            let near = |slot: &crate::rotation::Slot| slot.day.since(board.slots[first].day).0 <= crate::judge::SAME_DISH_DAYS;
            let window: Vec<usize> = (first..board.slots.len()).take_while(|&s| near(&board.slots[s])).collect();
            !all_served(board, &window, eater)
        })
    })
}

/// Whether the meals of `window` can have a dish each so that `eater` meets none of them twice (augmenting ways; Kuhn 1955).
fn all_served(board: &Board, window: &[usize], eater: crate::rotation::EaterId) -> bool {
    // A second serving of a batch, and a dish that the eater has nothing of, may stand beside any other.
    let free = |c: usize| {
        let choice = &board.choices[c];
        matches!(choice.route, super::choice::Route::Again(_)) || !choice.eaters.contains(&eater)
    };
    let mut held: std::collections::BTreeMap<&str, usize> = std::collections::BTreeMap::new();
    for &slot in window {
        if board.of_slot[slot].iter().any(|&c| free(c)) {
            continue;
        }
        let mut seen = std::collections::BTreeSet::new();
        let mut from: std::collections::BTreeMap<usize, (usize, &str)> = std::collections::BTreeMap::new();
        let mut queue = std::collections::VecDeque::from([slot]);
        let mut end = None;
        while let Some(at) = queue.pop_front() {
            for &c in &board.of_slot[at] {
                let dish = board.choices[c].dish.id.as_str();
                if !seen.insert(dish) {
                    continue;
                }
                match held.get(dish) {
                    None => {
                        end = Some((at, dish));
                        break;
                    }
                    Some(&other) => {
                        from.insert(other, (at, dish));
                        queue.push_back(other);
                    }
                }
            }
            if end.is_some() {
                break;
            }
        }
        let Some((mut at, mut dish)) = end else { return false };
        loop {
            held.insert(dish, at);
            match from.get(&at) {
                // The meal before takes the dish that this one gave up.
                Some(&(before, given)) => (at, dish) = (before, given),
                None => break,
            }
        }
    }
    true
}
