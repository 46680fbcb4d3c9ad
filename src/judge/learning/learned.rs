//! What a household's answers come to: weights, the line of its patience, and whether they are to be trusted yet.

use super::{
    Estimate, Features, Observation, Prior,
    estimate::{Case, dot, estimate, estimate_near, log_loss},
};
use crate::judge::{LINE_WARN, Lines, Weights};
use std::cmp::Ordering;

/// Likeness times this is what weighs for or against a complaint (our own judgement, tried in simulation).
pub(super) const STEEPNESS: f64 = 10.0;
/// How far weights and line may be expected to lie from the usual. Our own judgement: in simulation best or near best up to
/// ten answers; half of it gains less, four times of it does harm below ten.
const SPREAD: f64 = 0.5;
/// Where a household's own line may lie: beyond, a few answers would silence all or nothing.
pub const LINE_RANGE: (f64, f64) = (0.45, 0.75);

/// Whether what was learned is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Nobody has said anything yet.
    NothingSaid,
    /// There are answers, but each is foretold by the others no better than by the usual weights: those stay.
    Kept,
    /// The answers foretell each other better than the usual weights do.
    Learned,
}

/// What was learned from a household's answers.
#[derive(Clone, Debug, PartialEq)]
pub struct Learned {
    /// Whether it is used.
    pub standing: Standing,
    /// How many observations it rests on.
    pub observations: usize,
    /// Cost of foretelling each answer from the others, and from the usual weights alone: nats an answer, lower is better.
    pub left_out_loss: Option<(f64, f64)>,
    base: Weights,
    prior: Prior,
    found: Estimate,
}

/// Learns from observations, leaning on the weights `base`. Their order makes no difference; without any, `base` stays to the
/// last bit.
pub fn learn(base: &Weights, observations: &[Observation]) -> Learned {
    let prior = prior(base);
    let mut cases: Vec<Case> = observations.iter().map(Observation::case).collect();
    // Sums of floating numbers depend on their order; in one order they cannot.
    cases.sort_by(by_what_they_say);
    let found = estimate(&cases, &prior);
    let left_out_loss = left_out(&cases, &prior, &found);
    let standing = match left_out_loss {
        None => Standing::NothingSaid,
        Some((own, usual)) if own < usual => Standing::Learned,
        Some(_) => Standing::Kept,
    };
    Learned { standing, observations: cases.len(), left_out_loss, base: *base, prior, found }
}

fn prior(base: &Weights) -> Prior {
    let total: f64 = base.0.iter().sum();
    // Weights without a sum would be none; whoever reads them sees to that, and the usual ones stand in.
    let base = if total > 0.0 && total.is_finite() { base.0.map(|w| w / total) } else { Weights::default().0 };
    Prior { theta: base.map(|w| STEEPNESS * w).to_vec(), bias: -STEEPNESS * LINE_WARN, sigma: SPREAD, sigma_bias: SPREAD }
}

fn by_what_they_say(a: &Case, b: &Case) -> Ordering {
    let features = a.features.iter().zip(&b.features).map(|(x, y)| x.total_cmp(y)).find(|o| o.is_ne());
    a.complaint
        .cmp(&b.complaint)
        .then(a.biased.cmp(&b.biased))
        .then(a.weight.total_cmp(&b.weight))
        .then(features.unwrap_or(Ordering::Equal))
}

/// Each case foretold by all others, and by the prior alone: mean costs by weight.
fn left_out(cases: &[Case], prior: &Prior, all: &Estimate) -> Option<(f64, f64)> {
    let weight: f64 = cases.iter().map(|c| c.weight).sum();
    if weight <= 0.0 {
        return None;
    }
    let cost = |case: &Case, theta: &[f64], bias: f64| {
        let bias = if case.biased { bias } else { 0.0 };
        case.weight * log_loss(dot(&case.features, theta) + bias, case.complaint)
    };
    let (mut own, mut usual) = (0.0, 0.0);
    let mut others: Vec<Case> = cases.to_vec();
    for (i, case) in cases.iter().enumerate() {
        // Weight 0 is as good as not there, and spares a copy of all others.
        others[i].weight = 0.0;
        let without = estimate_near(&others, prior, all);
        others[i].weight = case.weight;
        own += cost(case, &without.theta, without.bias);
        usual += cost(case, &prior.theta, prior.bias);
    }
    Some((own / weight, usual / weight))
}

impl Learned {
    /// The weights to judge with: the learned ones where they are to be trusted, else those that stood before.
    pub fn weights(&self) -> Weights {
        let total: f64 = self.found.theta.iter().sum();
        if self.standing != Standing::Learned || total <= 0.0 {
            return self.base;
        }
        let mut weights = self.base;
        weights.0.iter_mut().zip(&self.found.theta).for_each(|(w, t)| *w = t / total);
        weights
    }

    /// The lines to judge with: where the household is as likely to complain as not, within [`LINE_RANGE`].
    pub fn lines(&self) -> Lines {
        let total: f64 = self.found.theta.iter().sum();
        if self.standing != Standing::Learned || total <= 0.0 {
            return Lines::default();
        }
        Lines::around((-self.found.bias / total).clamp(LINE_RANGE.0, LINE_RANGE.1))
    }

    /// How likely this household is held to complain of a pair, 0 to 1, by its answers alone (trusted or not).
    pub fn chance_of_complaint(&self, pair: &Features) -> f64 {
        self.found.chance(&pair.0)
    }

    /// How far each axis has moved, in the order of [`crate::judge::Axis::ALL`], and the patience with likeness as such.
    pub(super) fn moved(&self) -> ([f64; 9], f64) {
        let mut moved = [0.0; 9];
        moved.iter_mut().enumerate().for_each(|(i, m)| *m = self.found.theta[i] - self.prior.theta[i]);
        (moved, self.prior.bias - self.found.bias)
    }

    /// The weights as the answers alone have them, trusted or not; for looking at, not for judging.
    pub fn weights_untrusted(&self) -> Weights {
        Learned { standing: Standing::Learned, ..self.clone() }.weights()
    }

    /// The line as the answers alone have it.
    pub fn lines_untrusted(&self) -> Lines {
        Learned { standing: Standing::Learned, ..self.clone() }.lines()
    }
}
