//! What choices of a few slots cost beside each other, in steps of 16 bits.
//!
//! Where every slot touches every other, all costs can be told of pairs: what a choice costs by itself is shared out evenly
//! among its pairs with the choices of each other slot. So a part of the slots holds its share of it, and parts can be added
//! up: see [`super::parts`].
//!
//! First half of what a choice must pay beside every choice of another slot, whatever that is, is moved into the choice (soft
//! arc consistency, Schiex 2000, from memory), so that it is shared out too.
//!
//! Sums are whole numbers of 16 bits, rounded down in steps chosen so that everything of interest fits: a bound is never
//! above the truth.

use super::table::Table;

/// A step too dear to be of interest; twice it still fits into 16 bits.
pub(super) const DEAR: i16 = 16_000;
/// The most steps that lie between the first bound and the best known.
const ROOM: i64 = 15_000;
/// So many choices are added at once by the processor: rows are as long as a multiple of it.
const LANES: usize = 8;

/// See the module.
pub(super) struct Costs {
    pub slots: usize,
    /// What every arrangement costs at least, in the unit of the table.
    pub base: i64,
    /// The cost of one step.
    pub step: i64,
    /// How many choices each slot really has; its rows may be longer.
    pub choices: Vec<usize>,
    /// Steps of every choice of each slot by itself: none where there are pairs, and [`DEAR`] in what makes the row longer.
    pub own: Vec<Vec<i16>>,
    /// Steps of a choice of one slot (row) beside those of another, `slots` times `slots` of them.
    beside: Vec<Vec<i16>>,
}

impl Costs {
    /// The costs of the candidates of `table`, where only what costs less than `below` is of interest.
    pub(super) fn new(table: &Table, below: i64) -> Costs {
        let m = table.slots;
        let lists = &table.candidates;
        let mut own: Vec<Vec<i64>> = lists.iter().map(|l| l.iter().map(|&d| table.dish(d).cost).collect()).collect();
        let mut pairs: Vec<Vec<i64>> = vec![Vec::new(); m * m];
        for s in 0..m {
            for r in s + 1..m {
                let weight = table.weight(r - s);
                let mut square: Vec<i64> =
                    lists[s].iter().flat_map(|&a| lists[r].iter().map(move |&b| weight * table.like(a, b))).collect();
                let width = lists[r].len();
                // Half of what a choice of the one slot must pay goes there, then all to the other, then the rest.
                to_rows(&mut square, width, &mut own[s], 2);
                to_columns(&mut square, width, &mut own[r]);
                to_rows(&mut square, width, &mut own[s], 1);
                pairs[s * m + r] = square;
            }
        }
        let mut base = 0;
        for list in &mut own {
            let least = list.iter().copied().min().unwrap_or(0);
            base += least;
            list.iter_mut().for_each(|v| *v -= least);
        }
        let step = ((below - base).max(1) / ROOM + 1).max(1);
        let steps = |v: i64| i16::try_from((v / step).min(i64::from(DEAR))).unwrap_or(DEAR);
        // The share of its pair with the `nth` of the others in what a choice costs by itself.
        let others = m.saturating_sub(1).max(1) as i64;
        let share = |v: i64, nth: usize| v / others + i64::from((nth as i64) < v % others);
        let mut costs = Costs {
            slots: m,
            base,
            step,
            choices: lists.iter().map(Vec::len).collect(),
            own: Vec::with_capacity(m),
            beside: vec![Vec::new(); m * m],
        };
        for list in &own {
            let mut row: Vec<i16> = list.iter().map(|&v| if m == 1 { steps(v) } else { 0 }).collect();
            row.resize(list.len().next_multiple_of(LANES), DEAR);
            costs.own.push(row);
        }
        for s in 0..m {
            for r in s + 1..m {
                let width = lists[r].len();
                let shared = |a: usize, b: usize| share(own[s][a], r - 1) + share(own[r][b], s);
                costs.fill(s, r, &|a, b| steps(pairs[s * m + r][a * width + b] + shared(a, b)));
            }
        }
        costs
    }

    /// Fills the rows of two slots for each other.
    fn fill(&mut self, s: usize, r: usize, cost: &dyn Fn(usize, usize) -> i16) {
        let (high, wide) = (self.wide(s), self.wide(r));
        let (mut rows, mut columns) = (vec![DEAR; self.choices[s] * wide], vec![DEAR; self.choices[r] * high]);
        for a in 0..self.choices[s] {
            for b in 0..self.choices[r] {
                let v = cost(a, b);
                rows[a * wide + b] = v;
                columns[b * high + a] = v;
            }
        }
        self.beside[s * self.slots + r] = rows;
        self.beside[r * self.slots + s] = columns;
    }

    /// How long the rows of a slot are.
    pub(super) fn wide(&self, s: usize) -> usize {
        self.own[s].len()
    }

    /// Steps of a choice of slot `s` beside each of slot `r`.
    pub(super) fn row(&self, s: usize, choice: usize, r: usize) -> &[i16] {
        let wide = self.wide(r);
        &self.beside[s * self.slots + r][choice * wide..(choice + 1) * wide]
    }

    /// All rows of slot `s` beside slot `r`.
    pub(super) fn square(&self, s: usize, r: usize) -> &[i16] {
        &self.beside[s * self.slots + r]
    }

    /// For each choice of each slot one that costs no more beside anything, itself if there is none better.
    pub(super) fn better(&self) -> Vec<Vec<usize>> {
        (0..self.slots)
            .map(|s| {
                let is_no_dearer = |a: usize, b: usize| {
                    (0..self.slots)
                        .filter(|&r| r != s)
                        .all(|r| self.row(s, a, r).iter().zip(self.row(s, b, r)).all(|(x, y)| x <= y))
                };
                let mut kept: Vec<usize> = Vec::new();
                let mut instead: Vec<usize> = (0..self.choices[s]).collect();
                for b in 0..self.choices[s] {
                    match kept.iter().find(|&&a| is_no_dearer(a, b)) {
                        Some(&a) => instead[b] = a,
                        None => {
                            for a in kept.extract_if(.., |a| is_no_dearer(b, *a)) {
                                instead.iter_mut().filter(|i| **i == a).for_each(|i| *i = b);
                            }
                            kept.push(b);
                        }
                    }
                }
                instead
            })
            .collect()
    }

    /// The same with only these choices of each slot.
    pub(super) fn only(&self, kept: &[Vec<usize>]) -> Costs {
        let own = kept.iter().zip(&self.own).map(|(list, own)| {
            let mut row: Vec<i16> = list.iter().map(|&a| own[a]).collect();
            row.resize(list.len().next_multiple_of(LANES), DEAR);
            row
        });
        let mut costs = Costs {
            own: own.collect(),
            choices: kept.iter().map(Vec::len).collect(),
            beside: vec![Vec::new(); self.beside.len()],
            ..*self
        };
        for s in 0..self.slots {
            for r in s + 1..self.slots {
                costs.fill(s, r, &|a, b| self.row(s, kept[s][a], r)[kept[r][b]]);
            }
        }
        costs
    }
}

/// A choice as it is tried: what all costs at least with it, what it costs beside what stands, its place.
pub(super) type Choice = (i16, i16, u16);

/// `out[k] = a[k] + b[k]`, and the least of them.
#[inline]
pub(super) fn add(out: &mut [i16], a: &[i16], b: &[i16]) -> i16 {
    let n = out.len();
    let (a, b) = (&a[..n], &b[..n]);
    let mut least = i16::MAX;
    for k in 0..n {
        let sum = a[k].saturating_add(b[k]);
        out[k] = sum;
        least = least.min(sum);
    }
    least
}

/// The least of the sums of two rows of one length.
#[inline]
pub(super) fn least_sum(a: &[i16], b: &[i16]) -> i16 {
    let b = &b[..a.len()];
    let mut least = i16::MAX;
    for k in 0..a.len() {
        least = least.min(a[k].saturating_add(b[k]));
    }
    least
}

/// How many sums of two rows of one length are under `limit`.
#[inline]
pub(super) fn count_under(a: &[i16], b: &[i16], limit: i16) -> usize {
    let b = &b[..a.len()];
    let mut all = 0;
    let mut from = 0;
    // Counted in 16 bits too, as long as they hold it.
    while from < a.len() {
        let to = (from + LANES * 256).min(a.len());
        let mut count = 0_u16;
        for k in from..to {
            count += u16::from(a[k].saturating_add(b[k]) < limit);
        }
        all += usize::from(count);
        from = to;
    }
    all
}

/// The choices of which the sum of two rows of one length is under `limit`, which is no more than [`DEAR`].
#[inline]
pub(super) fn under_limit(out: &mut Vec<Choice>, steps: &[i16], with: &[i16], limit: i16) {
    let mut from = 0;
    for (steps, with) in steps.as_chunks::<LANES>().0.iter().zip(with.as_chunks::<LANES>().0) {
        // Most are over it: looked at together first.
        let mut sums = [0; LANES];
        let mut least = i16::MAX;
        for k in 0..LANES {
            sums[k] = steps[k].saturating_add(with[k]);
            least = least.min(sums[k]);
        }
        if least < limit {
            for k in 0..LANES {
                if sums[k] < limit {
                    out.push((sums[k], steps[k], from + k as u16));
                }
            }
        }
        from += LANES as u16;
    }
}

/// Moves the least of each row, divided, into `own`.
fn to_rows(square: &mut [i64], width: usize, own: &mut [i64], divided: i64) {
    for (row, own) in square.chunks_mut(width).zip(own) {
        let least = row.iter().copied().min().unwrap_or(0) / divided;
        *own += least;
        row.iter_mut().for_each(|v| *v -= least);
    }
}

/// Moves the least of each column into `own`.
fn to_columns(square: &mut [i64], width: usize, own: &mut [i64]) {
    for (column, own) in own.iter_mut().enumerate() {
        let least = square.chunks(width).map(|row| row[column]).min().unwrap_or(0);
        *own += least;
        square.chunks_mut(width).for_each(|row| row[column] -= least);
    }
}
