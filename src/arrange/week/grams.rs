//! Who gets how many grams of which source: a small flow, exact to the gram.

/// What one meal wants, in the grams of its sources.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Want {
    pub least: u32,
    pub typical: u32,
    pub most: u32,
    /// Grams of one whole piece of it; 1 where it is not counted in pieces.
    pub step: u32,
    /// The sources that it may take from, best first.
    pub from: Vec<usize>,
}

/// A flow of grams from sources to meals.
struct Flow<'a> {
    wants: &'a [Want],
    /// Grams that meal i takes of source j.
    taken: Vec<Vec<u32>>,
    /// What each source has left.
    left: Vec<u32>,
}

impl Flow<'_> {
    fn total(&self, i: usize) -> u32 {
        self.taken[i].iter().sum()
    }

    fn take(&mut self, i: usize, j: usize, grams: u32) {
        self.taken[i][j] += grams;
        self.left[j] -= grams;
    }

    /// Raises meals to `caps`, taking only from sources that `may_give`, as far as it goes. Grams of other meals change their
    /// source where that helps; no meal gets less. With `swaps`, grams of a source that may not give are put back instead.
    fn raise(&mut self, caps: &[u32], may_give: &dyn Fn(usize) -> bool, swaps: bool) {
        // The easy way first, which keeps to the best source of each.
        for (i, &cap) in caps.iter().enumerate() {
            for &j in &self.wants[i].from {
                if may_give(j) {
                    let grams = cap.saturating_sub(self.total(i)).min(self.left[j]);
                    self.take(i, j, grams);
                }
            }
        }
        while self.raise_by_a_way(caps, may_give, swaps) {}
    }

    /// One augmenting way, breadth first (Edmonds and Karp 1972).
    fn raise_by_a_way(&mut self, caps: &[u32], may_give: &dyn Fn(usize) -> bool, swaps: bool) -> bool {
        let (n, m) = (self.left.len(), self.wants.len());
        // How source j was reached: the meal that gives some of it up. How meal i was reached: the source.
        let mut gave: Vec<Option<Option<usize>>> = vec![None; n];
        let mut fed: Vec<Option<usize>> = vec![None; m];
        let mut queue: std::collections::VecDeque<usize> = (0..n).filter(|&j| may_give(j) && self.left[j] > 0).collect();
        queue.iter().for_each(|&j| gave[j] = Some(None));
        while let Some(j) = queue.pop_front() {
            if swaps && !may_give(j) {
                self.push(j, None, &gave, &fed, caps);
                return true;
            }
            for i in 0..m {
                if fed[i].is_some() || !self.wants[i].from.contains(&j) {
                    continue;
                }
                fed[i] = Some(j);
                if self.total(i) < caps[i] {
                    self.push(j, Some(i), &gave, &fed, caps);
                    return true;
                }
                for (k, gives) in gave.iter_mut().enumerate() {
                    if gives.is_none() && self.taken[i][k] > 0 {
                        *gives = Some(Some(i));
                        queue.push_back(k);
                    }
                }
            }
        }
        false
    }

    /// Pushes grams along the way that ends at meal `to`, fed by `last`; or that ends with grams put back into `last`.
    fn push(&mut self, last: usize, to: Option<usize>, gave: &[Option<Option<usize>>], fed: &[Option<usize>], caps: &[u32]) {
        // Steps from the end: (meal, source it takes more of), and between them (meal, source it gives back).
        let mut steps: Vec<(usize, usize, bool)> = Vec::new();
        let mut most = u32::MAX;
        if let Some(i) = to {
            steps.push((i, last, true));
            most = caps[i] - self.total(i);
        }
        let mut j = last;
        while let Some(Some(i)) = gave[j] {
            most = most.min(self.taken[i][j]);
            steps.push((i, j, false));
            let Some(before) = fed[i] else { return };
            steps.push((i, before, true));
            j = before;
        }
        most = most.min(self.left[j]);
        for &(i, source, more) in &steps {
            if more { self.taken[i][source] += most } else { self.taken[i][source] -= most }
        }
        self.left[j] -= most;
        if to.is_none() {
            self.left[last] += most;
        }
    }
}

/// The grams that each meal takes of each source, or nothing where the minima do not fit.
///
/// First every meal gets its least. Then what cannot be put by is eaten up, as far as the dishes take it, raised evenly from
/// the typical amounts to the most; then the other meals get their typical amount. What is put by (`jar` says of a source
/// whether it can be, once it is `jar_least` grams) stays. Last, what is counted in pieces is rounded down to whole ones.
pub(super) fn share(wants: &[Want], have: &[u32], jar: &[bool], jar_least: u32) -> Option<Vec<Vec<u32>>> {
    let mut flow = Flow { wants, taken: vec![vec![0; have.len()]; wants.len()], left: have.to_vec() };
    let least: Vec<u32> = wants.iter().map(|w| w.least).collect();
    flow.raise(&least, &|_| true, false);
    if (0..wants.len()).any(|i| flow.total(i) < least[i]) {
        return None;
    }
    let typical: Vec<u32> = wants.iter().map(|w| w.typical).collect();
    let most: Vec<u32> = wants.iter().map(|w| w.most).collect();
    let lost = |j: usize| !jar[j];
    flow.raise(&typical, &lost, true);
    flow.raise(&typical, &|_| true, false);
    const STEPS: u32 = 8;
    let part_way = |k: u32| -> Vec<u32> { wants.iter().map(|w| w.typical + (w.most - w.typical) * k / STEPS).collect() };
    for k in 1..=STEPS {
        flow.raise(&part_way(k), &lost, true);
    }
    // Too little for a jar is better eaten.
    let scraps: Vec<bool> = (0..have.len()).map(|j| jar[j] && flow.left[j] < jar_least).collect();
    if scraps.contains(&true) {
        flow.raise(&most, &|j| scraps[j], false);
    }
    for (i, want) in wants.iter().enumerate().filter(|(_, w)| w.step > 1) {
        let mut over = flow.total(i) % want.step;
        if flow.total(i) - over < want.least {
            continue;
        }
        for &j in want.from.iter().rev() {
            let back = over.min(flow.taken[i][j]);
            flow.taken[i][j] -= back;
            flow.left[j] += back;
            over -= back;
        }
    }
    Some(flow.taken)
}

#[cfg(test)]
mod tests {
    use super::{super::room::Room, *};
    use proptest::prelude::*;

    fn want(least: u32, typical: u32, most: u32, from: &[usize]) -> Want {
        Want { least, typical, most, step: 1, from: from.to_vec() }
    }

    /// Whether some split in steps gives every meal between its least and its most, and the most grams taken of `lost` sources.
    fn best_by_trying(wants: &[Want], have: &[u32], jar: &[bool], unit: u32) -> Option<u32> {
        fn go(wants: &[Want], have: &mut Vec<u32>, jar: &[bool], unit: u32) -> Option<u32> {
            let Some((first, rest)) = wants.split_first() else { return Some(0) };
            let mut best = None;
            let mut ways = vec![(0_u32, Vec::<u32>::new())];
            for &j in &first.from {
                let mut more = Vec::new();
                for (total, way) in &ways {
                    let mut grams = 0;
                    while grams <= have[j] && total + grams <= first.most {
                        let mut longer = way.clone();
                        longer.push(grams);
                        more.push((total + grams, longer));
                        grams += unit;
                    }
                }
                ways = more;
            }
            for (total, way) in ways {
                if total < first.least {
                    continue;
                }
                for (g, &j) in way.iter().zip(&first.from) {
                    have[j] -= g;
                }
                if let Some(more) = go(rest, have, jar, unit) {
                    let own: u32 = way.iter().zip(&first.from).filter(|(_, j)| !jar[**j]).map(|(g, _)| g).sum();
                    best = best.max(Some(own + more));
                }
                for (g, &j) in way.iter().zip(&first.from) {
                    have[j] += g;
                }
            }
            best
        }
        go(wants, &mut have.to_vec(), jar, unit)
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, cases: 300, ..Default::default() })]
        #[test]
        fn grams_are_shared_wherever_they_can_be_and_none_is_lost_that_could_be_eaten(
            meals in prop::collection::vec((0_u32..4, 0_u32..3, 0_u32..3, 1_usize..8), 1..4),
            have in prop::collection::vec(0_u32..6, 3),
            jar in prop::collection::vec(any::<bool>(), 3),
        ) {
            let wants: Vec<Want> = meals
                .iter()
                .map(|&(a, b, c, set)| {
                    let from: Vec<usize> = (0..3).filter(|j| set & (1 << j) != 0).collect();
                    want(a, a + b, a + b + c, &from)
                })
                .collect();
            let tried = best_by_trying(&wants, &have, &jar, 1);
            let shared = share(&wants, &have, &jar, 0);
            let everyone: Vec<usize> = (0..wants.len()).collect();
            prop_assert_eq!(Room::of_grams(wants.iter(), &have).is_for(&everyone), tried.is_some());
            prop_assert_eq!(shared.is_some(), tried.is_some());
            if let Some(taken) = shared {
                for (want, row) in wants.iter().zip(&taken) {
                    let total: u32 = row.iter().sum();
                    prop_assert!((want.least..=want.most).contains(&total));
                    prop_assert!(row.iter().enumerate().all(|(j, &g)| g == 0 || want.from.contains(&j)));
                }
                for (j, &h) in have.iter().enumerate() {
                    prop_assert!(taken.iter().map(|row| row[j]).sum::<u32>() <= h);
                }
                let eaten: u32 = taken.iter().flatten().enumerate().filter(|(k, _)| !jar[k % 3]).map(|(_, g)| g).sum();
                prop_assert_eq!(Some(eaten), tried);
            }
        }
    }

    #[test]
    fn plates_are_raised_evenly_and_whole_pieces_stay_whole() {
        let wants = [want(100, 150, 200, &[0]), want(100, 150, 200, &[0])];
        let taken = share(&wants, &[380], &[false], 0).expect("fits");
        assert!(taken.iter().all(|row| (180..=200).contains(&row[0])), "{taken:?}");
        let rolls = [Want { step: 50, ..want(200, 260, 330, &[0]) }];
        assert_eq!(share(&rolls, &[320], &[false], 0), Some(vec![vec![300]]));
    }
}
