//! How many different meals a rotation feels like.

/// What unrelated dinners still share ("hot", "brown"): likeness up to here counts as none when meals are counted.
///
/// Our own judgement: about the upper quartile of the pairs that a cook calls fine. Without it every good week reads too low.
pub const UNRELATED: f64 = 0.20;

/// How many meals were counted and how many different ones they feel like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DistinctMeals {
    /// Meals counted: those with enough described.
    pub meals: usize,
    /// Meals left out because nobody has described them.
    pub left_out: usize,
    /// What they feel like, order q = 1; from 1 to `meals`, 0 for none.
    pub feel_like: f64,
}

/// The likeness that counts when meals are counted: 0 up to [`UNRELATED`], 1 for the same, straight between.
pub fn counted_likeness(likeness: f64) -> f64 {
    ((likeness - UNRELATED) / (1.0 - UNRELATED)).clamp(0.0, 1.0)
}

/// Similarity-sensitive diversity of order `q` of shares `p` under the similarity matrix `z` (Leinster & Cobbold 2012, Ecology 93:477).
///
/// With `(Zp)_i = sum_j z_ij p_j` it is `(sum_i p_i (Zp)_i^(q-1))^(1/(1-q))`, its limit `exp(-sum_i p_i ln (Zp)_i)` at q = 1,
/// and `1 / max (Zp)_i` for an infinite `q`; sums run over the shares above 0. `p` need not add up to 1. `z` is square, as
/// long as `p`, from 0 to 1 with 1 on its diagonal; `q` is 0 or more. The result lies between 1 and the number of shares
/// above 0; it is 0 where there is none. It does not depend on the order of the meals.
pub fn effective_number(p: &[f64], z: &[Vec<f64>], q: f64) -> f64 {
    of_order(p, q, |i, j| z[i][j])
}

/// Hill number of order `q` (Hill 1973, Ecology 54:427): [`effective_number`] where nothing is like anything else.
pub fn hill_number(p: &[f64], q: f64) -> f64 {
    of_order(p, q, |i, j| if i == j { 1.0 } else { 0.0 })
}

/// Rao's quadratic entropy `sum_ij d_ij p_i p_j` over all ordered pairs, nothing halved or squared (Rao 1982, Theor Popul
/// Biol 21:24). With `d = 1 - z`, `1 / (1 - rao)` is the [`effective_number`] of order 2.
pub fn rao(p: &[f64], d: &[Vec<f64>]) -> f64 {
    let total: f64 = p.iter().sum();
    if total <= 0.0 {
        return 0.0;
    }
    let pairs = p.iter().enumerate().flat_map(|(i, a)| p.iter().enumerate().map(move |(j, b)| (i, j, a * b)));
    pairs.map(|(i, j, share)| d[i][j] * share).sum::<f64>() / (total * total)
}

fn of_order(p: &[f64], q: f64, z: impl Fn(usize, usize) -> f64) -> f64 {
    let total: f64 = p.iter().filter(|share| **share > 0.0).sum();
    let there: Vec<(usize, f64)> = p.iter().enumerate().filter(|(_, s)| **s > 0.0).map(|(i, s)| (i, s / total)).collect();
    if there.is_empty() {
        return 0.0;
    }
    // How ordinary each meal is: the likeness to it of a meal taken at random.
    let ordinary: Vec<f64> = there.iter().map(|(i, _)| there.iter().map(|(j, share)| z(*i, *j) * share).sum()).collect();
    let highest = || ordinary.iter().copied().fold(0.0, f64::max);
    if q == f64::INFINITY {
        return 1.0 / highest();
    }
    let logs = there.iter().zip(&ordinary).map(|((_, share), o)| (*share, o.ln()));
    let beyond = q - 1.0;
    if beyond.abs() < 1e-9 {
        return (-logs.map(|(share, log)| share * log).sum::<f64>()).exp();
    }
    if beyond.abs() < 0.1 {
        // Near 1 the sum is 1 and a little, which the plain formula would round away before dividing by that little.
        let little: f64 = logs.map(|(share, log)| share * (beyond * log).exp_m1()).sum();
        return (-little.ln_1p() / beyond).exp();
    }
    // In logarithms, the largest set apart: high orders would otherwise sink below the smallest number.
    let terms: Vec<f64> = logs.map(|(share, log)| share.ln() + beyond * log).collect();
    let top = terms.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let log_sum = top + terms.iter().map(|t| (t - top).exp()).sum::<f64>().ln();
    (-log_sum / beyond).exp()
}

/// Counts meals: `counts` of each plate, and the likeness of any two plates (of one with itself too), nothing where too
/// little is described. Returns the figure of order `q` and the plates that had to be left out, by index.
pub(super) fn count_meals(
    counts: &[usize],
    likeness: impl Fn(usize, usize) -> Option<f64>,
    q: f64,
) -> (DistinctMeals, Vec<usize>) {
    let mut kept: Vec<usize> = (0..counts.len()).filter(|i| counts[*i] > 0).collect();
    let mut left_out: Vec<usize> = kept.iter().copied().filter(|i| likeness(*i, *i).is_none()).collect();
    kept.retain(|i| !left_out.contains(i));
    // Two plates with no axis in common cannot both be counted: the one with the most such partners goes, the later on a tie.
    loop {
        let strangers = |i: usize| kept.iter().filter(|j| likeness(i, **j).is_none()).map(|j| counts[*j]).sum::<usize>();
        let worst = kept.iter().copied().map(|i| (strangers(i), i)).max();
        match worst {
            Some((n, i)) if n > 0 => {
                kept.retain(|k| *k != i);
                left_out.push(i);
            }
            _ => break,
        }
    }
    let shares: Vec<f64> = kept.iter().map(|i| counts[*i] as f64).collect();
    let alike = |i: usize, j: usize| if i == j { 1.0 } else { likeness(kept[i], kept[j]).map_or(0.0, counted_likeness) };
    let meals = kept.iter().map(|i| counts[*i]).sum();
    let out = left_out.iter().map(|i| counts[*i]).sum();
    (DistinctMeals { meals, left_out: out, feel_like: of_order(&shares, q, alike) }, left_out)
}
