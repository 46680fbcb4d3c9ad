//! The estimator: a logistic model that leans on what was believed before, with weights that cannot sink below nothing.
//!
//! It minimises
//!
//! ```text
//! sum_n v_n [ln(1 + e^eta_n) - y_n eta_n] + sum_k (theta_k - prior_k)^2 / (2 sigma^2) + (bias - prior_bias)^2 / (2 sigma_bias^2)
//! ```
//!
//! with `eta = x theta + bias` and `theta >= 0`. The pull towards the prior makes
//! it strictly convex, so that there is one finite answer however few the cases and however well they can be told apart (the
//! idea: Gelman et al. 2008, Ann Appl Stat 2:1360).

use super::bounded::least_of_square;

/// The most Newton steps; a handful is usual.
const MAX_STEPS: usize = 200;
/// A step so small, against the size of what it changes, is none.
const NO_STEP: f64 = 1e-13;

/// One thing observed.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// What speaks for a complaint, one figure a weight.
    pub features: Vec<f64>,
    /// Whether there was a complaint.
    pub complaint: bool,
    /// How much it counts, 0 or more.
    pub weight: f64,
    /// Whether the bias takes part: not where two pairs are compared, for it is the same on both sides and falls out.
    pub biased: bool,
}

/// What was believed before anything was observed, and how firmly.
#[derive(Clone, Debug, PartialEq)]
pub struct Prior {
    /// The weights.
    pub theta: Vec<f64>,
    /// The bias.
    pub bias: f64,
    /// The spread of each weight, over 0.
    pub sigma: f64,
    /// The spread of the bias, over 0.
    pub sigma_bias: f64,
}

/// What is believed now.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    /// The weights, none below 0.
    pub theta: Vec<f64>,
    /// The bias.
    pub bias: f64,
    /// What the sum above comes to.
    pub objective: f64,
}

impl Estimate {
    /// How likely a complaint is held to be, 0 to 1.
    pub fn chance(&self, features: &[f64]) -> f64 {
        logistic(dot(&self.theta, features) + self.bias)
    }
}

/// `1 / (1 + e^-x)`, without overflow.
pub(super) fn logistic(x: f64) -> f64 {
    if x >= 0.0 { 1.0 / (1.0 + (-x).exp()) } else { x.exp() / (1.0 + x.exp()) }
}

/// `ln(1 + e^eta) - y eta`: what a case costs, in nats, without overflow.
pub(super) fn log_loss(eta: f64, complaint: bool) -> f64 {
    let towards = if complaint { -eta } else { eta };
    towards.max(0.0) + (-towards.abs()).exp().ln_1p()
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// The belief that fits prior and cases best. Without cases it is the prior, to the last bit.
///
/// Newton steps, each to the lowest point of the local paraboloid within the bounds, shortened until the sum really falls.
/// Every case has as many features as the prior has weights; what is missing counts as 0.
pub fn estimate(cases: &[Case], prior: &Prior) -> Estimate {
    let start: Vec<f64> = prior.theta.iter().map(|t| t.max(0.0)).chain([prior.bias]).collect();
    estimate_from(cases, prior, start)
}

/// The same, begun at an earlier belief; the answer does not depend on it but in the last digits.
pub(super) fn estimate_near(cases: &[Case], prior: &Prior, near: &Estimate) -> Estimate {
    estimate_from(cases, prior, near.theta.iter().copied().chain([near.bias]).collect())
}

fn estimate_from(cases: &[Case], prior: &Prior, mut z: Vec<f64>) -> Estimate {
    let weights = prior.theta.len();
    let mut value = objective(cases, prior, &z);
    for _ in 0..MAX_STEPS {
        let (gradient, hessian) = slope(cases, prior, &z);
        let lowest = least_of_square(&hessian, &gradient, &z, weights);
        let way: Vec<f64> = lowest.iter().zip(&z).map(|(to, from)| to - from).collect();
        let small = way.iter().zip(&z).all(|(w, at)| w.abs() <= NO_STEP * (1.0 + at.abs()));
        if small {
            break;
        }
        let falls = dot(&gradient, &way);
        // From where the sum no longer changes in its last digits, the paraboloid knows better.
        if -falls <= 1e-15 * (1.0 + value.abs()) {
            z = lowest;
            break;
        }
        let mut share = 1.0;
        let next = loop {
            let tried: Vec<f64> = z.iter().zip(&way).map(|(at, w)| at + share * w).collect();
            let reached = objective(cases, prior, &tried);
            if reached <= value + 1e-4 * share * falls {
                break Some((tried, reached));
            }
            share /= 2.0;
            if share < 1e-12 {
                break None;
            }
        };
        let Some((tried, reached)) = next else { break };
        (z, value) = (tried, reached);
    }
    // Sums of shares may come out a hair below the bound.
    z.iter_mut().take(weights).for_each(|t| *t = t.max(0.0));
    let objective = objective(cases, prior, &z);
    let bias = z.pop().unwrap_or(prior.bias);
    Estimate { theta: z, bias, objective }
}

fn eta(case: &Case, z: &[f64], weights: usize) -> f64 {
    dot(&case.features, &z[..weights]) + if case.biased { z[weights] } else { 0.0 }
}

fn objective(cases: &[Case], prior: &Prior, z: &[f64]) -> f64 {
    let k = prior.theta.len();
    let told: f64 = cases.iter().map(|c| c.weight * log_loss(eta(c, z, k), c.complaint)).sum();
    let moved: f64 = prior.theta.iter().zip(z).map(|(p, t)| (t - p).powi(2)).sum();
    told + moved / (2.0 * prior.sigma.powi(2)) + (z[k] - prior.bias).powi(2) / (2.0 * prior.sigma_bias.powi(2))
}

/// First and second derivatives.
fn slope(cases: &[Case], prior: &Prior, z: &[f64]) -> (Vec<f64>, Vec<Vec<f64>>) {
    let k = prior.theta.len();
    let firm = |i: usize| if i < k { prior.sigma.powi(-2) } else { prior.sigma_bias.powi(-2) };
    let believed = |i: usize| if i < k { prior.theta[i] } else { prior.bias };
    let mut gradient: Vec<f64> = (0..=k).map(|i| (z[i] - believed(i)) * firm(i)).collect();
    let mut hessian = vec![vec![0.0; k + 1]; k + 1];
    for (i, row) in hessian.iter_mut().enumerate() {
        row[i] = firm(i);
    }
    let mut x = vec![0.0; k + 1];
    for case in cases {
        x[..k].iter_mut().enumerate().for_each(|(i, to)| *to = case.features.get(i).copied().unwrap_or(0.0));
        x[k] = f64::from(u8::from(case.biased));
        let p = logistic(eta(case, z, k));
        let (off, bend) = (case.weight * (p - f64::from(u8::from(case.complaint))), case.weight * p * (1.0 - p));
        for (i, xi) in x.iter().enumerate().filter(|(_, xi)| **xi != 0.0) {
            gradient[i] += off * xi;
            hessian[i].iter_mut().zip(&x).for_each(|(h, xj)| *h += bend * xi * xj);
        }
    }
    (gradient, hessian)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn prior() -> Prior {
        Prior { theta: vec![2.2, 1.6, 1.2], bias: -3.0, sigma: 0.5, sigma_bias: 0.5 }
    }

    fn case(features: [f64; 3], complaint: bool) -> Case {
        Case { features: features.to_vec(), complaint, weight: 1.0, biased: true }
    }

    /// The sum at every corner of a small box around the answer is higher than at the answer, or the corner is out of bounds.
    fn is_lowest(cases: &[Case], prior: &Prior, found: &Estimate) {
        let z: Vec<f64> = found.theta.iter().copied().chain([found.bias]).collect();
        for i in 0..z.len() {
            for by in [-1e-3, 1e-3] {
                let mut beside = z.clone();
                beside[i] += by;
                let allowed = i == found.theta.len() || beside[i] >= 0.0;
                assert!(!allowed || objective(cases, prior, &beside) > found.objective, "{i} by {by}: {found:?}");
            }
        }
    }

    #[test]
    fn nothing_observed_leaves_everything_as_it_was() {
        let found = estimate(&[], &prior());
        assert_eq!((found.theta, found.bias, found.objective), (prior().theta, prior().bias, 0.0));
    }

    #[test]
    fn all_complaints_and_none_stay_finite_and_lowest() {
        for complaint in [true, false] {
            for n in [1, 10, 1_000] {
                let cases: Vec<Case> = (0..n).map(|i| case([1.0, 0.2, (i % 7) as f64 / 7.0], complaint)).collect();
                let found = estimate(&cases, &prior());
                assert!(found.theta.iter().all(|t| t.is_finite() && *t >= 0.0) && found.bias.is_finite());
                is_lowest(&cases, &prior(), &found);
            }
        }
    }

    #[test]
    fn wild_figures_still_find_the_lowest_point() {
        let cases: Vec<Case> = (0..40).map(|i| case([900.0, -40.0 * (i % 3) as f64, 0.001], i % 2 == 0)).collect();
        let wide = Prior { sigma: 100.0, sigma_bias: 0.01, ..prior() };
        is_lowest(&cases, &wide, &estimate(&cases, &wide));
    }

    #[test]
    fn a_comparison_moves_weights_and_not_the_bias() {
        let compared = Case { biased: false, ..case([0.8, -0.8, 0.0], true) };
        let found = estimate(&[compared], &prior());
        assert_eq!(found.bias, prior().bias);
        assert!(found.theta[0] > 2.2 && found.theta[1] < 1.6 && found.theta[2] == 1.2);
    }

    #[test]
    fn where_it_begins_makes_no_difference() {
        let cases: Vec<Case> = (0..12).map(|i| case([(i % 5) as f64 / 5.0, (i % 3) as f64 / 3.0, 0.4], i % 4 == 0)).collect();
        let found = estimate(&cases, &prior());
        let far = Estimate { theta: vec![0.0, 9.0, 3.0], bias: 5.0, objective: 0.0 };
        let again = estimate_near(&cases, &prior(), &far);
        let apart =
            found.theta.iter().zip(&again.theta).map(|(a, b)| (a - b).abs()).fold((found.bias - again.bias).abs(), f64::max);
        assert!(apart < 1e-9, "{apart}");
    }
}
