//! What one answer tells about the weights.

use super::estimate::Case;
use crate::judge::{Kernel, Weights, likeness::axes_alike};
use crate::{book::Profile, quantity::Days};

/// How much a meal eaten without a word counts beside a said answer. Our own judgement: silence is no praise, but a model that
/// hears complaints alone comes to find everything alike.
pub const SILENT: f64 = 0.25;

/// What speaks for a complaint about two meals, one figure an axis: likeness on it, faded by the days between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Features(pub [f64; 9]);

impl Features {
    /// Of likeness by axis and a fading from 0 to 1; nothing where no axis is known for both.
    ///
    /// Where an axis is blank the others are scaled up by the weights `base`, those that stood before anything was learned: so
    /// the model stays linear in what it learns, and `10 base` times the features is ten times the felt likeness.
    pub fn of_axes(alike: &[Option<f64>; 9], fading: f64, base: &Weights) -> Option<Features> {
        let all: f64 = base.0.iter().sum();
        let known: f64 = base.0.iter().zip(alike).filter(|(_, s)| s.is_some()).map(|(w, _)| w).sum();
        if known <= 0.0 {
            return None;
        }
        // Exactly 1 where nothing is blank.
        let scale = if alike.iter().all(Option::is_some) { fading } else { fading * all / known };
        Some(Features(alike.map(|s| s.map_or(0.0, |s| s * scale))))
    }

    /// Of two dishes eaten `gap` days apart.
    pub fn of(earlier: &Profile, later: &Profile, gap: Days, base: &Weights, kernel: &Kernel) -> Option<Features> {
        Features::of_axes(&axes_alike(earlier, later), kernel.after(gap.0), base)
    }
}

/// One thing that a household has let be known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observation {
    features: Features,
    complaint: bool,
    weight: f64,
    compared: bool,
}

impl Observation {
    /// Said of a pair of meals: too alike, or fine.
    pub fn said(features: Features, too_alike: bool) -> Observation {
        Observation { features, complaint: too_alike, weight: 1.0, compared: false }
    }

    /// Eaten without a word, which is a quarter of a "fine" ([`SILENT`]).
    pub fn silent(features: Features) -> Observation {
        Observation { weight: SILENT, ..Observation::said(features, false) }
    }

    /// Said of two pairs of meals: the first was the more alike (the form of Bradley & Terry 1952, Biometrika 39:324).
    pub fn more_alike(more: Features, less: Features) -> Observation {
        let mut features = more;
        features.0.iter_mut().zip(less.0).for_each(|(m, l)| *m -= l);
        Observation { features, complaint: true, weight: 1.0, compared: true }
    }

    pub(super) fn case(&self) -> Case {
        Case { features: self.features.0.to_vec(), complaint: self.complaint, weight: self.weight, biased: !self.compared }
    }
}
