//! How alike two dishes eat, 0 to 1, with the part that each axis plays.
//!
//! The big ingredient is in every meal and is no axis: nobody complains of it as such, only of sameness in the mouth and on
//! the plate. Likeness is Gower's general coefficient with weights (Gower 1971, Biometrics 27:857): an axis that is unknown
//! for one of the two is left out and the rest is weighed anew. It is no metric.

use super::{likeness_words, partial::Partial};
use crate::book::{Graded, Heat, Profile, Protein, Starch};
use serde::{Deserialize, Serialize};

/// Pairs at or over this are too alike.
pub const LINE_WARN: f64 = 0.60;
/// Pairs at or over this, and below [`LINE_WARN`], are getting alike.
pub const LINE_CAUTION: f64 = 0.42;
/// So much below a line still counts as on it: sums of shares come out a little under in the last digit.
const ON_THE_LINE: f64 = 1e-9;

/// The nine axes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
#[allow(missing_docs)] // The words of the profile.
pub enum Axis {
    Texture,
    Family,
    Colour,
    Method,
    Form,
    Taste,
    Heat,
    Protein,
    Starch,
}

impl Axis {
    /// Every axis, the weightiest first.
    pub const ALL: [Axis; 9] = [
        Axis::Texture,
        Axis::Family,
        Axis::Colour,
        Axis::Method,
        Axis::Form,
        Axis::Taste,
        Axis::Heat,
        Axis::Protein,
        Axis::Starch,
    ];

    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            Axis::Texture => "texture",
            Axis::Family => "flavour",
            Axis::Colour => "colour",
            Axis::Method => "method",
            Axis::Form => "form",
            Axis::Taste => "taste",
            Axis::Heat => "heat",
            Axis::Protein => "protein",
            Axis::Starch => "starch",
        }
    }
}

/// How much each axis weighs, in the order of [`Axis::ALL`]. Only their proportions matter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights(pub [f64; 9]);

impl Default for Weights {
    /// Our own judgement; the order is how often an axis causes a scene at a household's table (common practice, no source).
    fn default() -> Self {
        Weights([0.22, 0.16, 0.12, 0.10, 0.10, 0.08, 0.08, 0.07, 0.07])
    }
}

/// What one axis adds to a likeness.
#[derive(Clone, Debug, PartialEq)]
pub struct AxisShare {
    /// The axis.
    pub axis: Axis,
    /// Likeness on this axis alone, 0 to 1.
    pub alike: f64,
    /// Its share of the whole; all shares add up to the whole.
    pub share: f64,
    /// "both stewed", "stewed beside creamy"; in a cook's words.
    pub words: String,
    /// Whether the main values are the same, so that it counts as shared; never for taste, which is no heading of a cook's.
    pub shared: bool,
}

/// How alike two profiles are.
#[derive(Clone, Debug, PartialEq)]
pub struct Likeness {
    /// 0 to 1; nothing where no axis is known for both.
    pub whole: Option<f64>,
    /// The known axes, largest share first.
    pub shares: Vec<AxisShare>,
}

/// What a household would say of a pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// Too alike.
    Warn,
    /// Getting alike.
    Caution,
    /// Fine.
    Fine,
    /// Not enough described.
    Unknown,
}

/// The two lines of a household's patience.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lines {
    /// Pairs at or over this are too alike.
    pub warn: f64,
    /// Pairs at or over this, and below the other, are getting alike.
    pub caution: f64,
}

impl Default for Lines {
    fn default() -> Lines {
        Lines { warn: LINE_WARN, caution: LINE_CAUTION }
    }
}

impl Lines {
    /// Lines about a household's own `warn`; that of the caution keeps its proportion to it.
    pub fn around(warn: f64) -> Lines {
        if warn == LINE_WARN { Lines::default() } else { Lines { warn, caution: warn * (LINE_CAUTION / LINE_WARN) } }
    }

    /// The verdict on a likeness, faded or not.
    pub fn verdict(&self, likeness: Option<f64>) -> Verdict {
        match likeness {
            None => Verdict::Unknown,
            Some(s) if s >= self.warn - ON_THE_LINE => Verdict::Warn,
            Some(s) if s >= self.caution - ON_THE_LINE => Verdict::Caution,
            Some(_) => Verdict::Fine,
        }
    }
}

impl Verdict {
    /// The verdict of the usual lines on a likeness, faded or not.
    pub fn of(likeness: Option<f64>) -> Verdict {
        Lines::default().verdict(likeness)
    }

    /// The words for a person: "too alike", "getting alike", "fine", "not enough described".
    pub fn words(self) -> &'static str {
        match self {
            Verdict::Warn => "too alike",
            Verdict::Caution => "getting alike",
            Verdict::Fine => "fine",
            Verdict::Unknown => "not enough described",
        }
    }
}

/// Likeness of two profiles with the default weights.
pub fn likeness(a: &Profile, b: &Profile) -> Likeness {
    likeness_with(&Weights::default(), a, b)
}

/// Likeness of two profiles with a household's own weights.
pub fn likeness_with(weights: &Weights, a: &Profile, b: &Profile) -> Likeness {
    let alike = axes_alike(a, b);
    let whole = gower_combine(&alike, &weights.0);
    let known = Axis::ALL.iter().zip(alike).zip(whole.shares);
    let mut shares: Vec<AxisShare> = known
        .filter_map(|((&axis, alike), share)| {
            let (words, shared) = likeness_words::describe(axis, a, b);
            Some(AxisShare { axis, alike: alike?, share: share?, words, shared })
        })
        .collect();
    shares.sort_by(|x, y| y.share.total_cmp(&x.share).then(x.axis.cmp(&y.axis)));
    Likeness { whole: whole.whole, shares }
}

/// The whole alone, without the words: for judging many pairs.
pub fn likeness_whole(weights: &Weights, a: &Profile, b: &Profile) -> Option<f64> {
    gower_whole(&axes_alike(a, b), &weights.0)
}

/// Likeness on each axis, 0 to 1 or unknown, in the order of [`Axis::ALL`].
pub fn axes_alike(a: &Profile, b: &Profile) -> [Option<f64>; 9] {
    [
        described(&a.texture, &b.texture),
        described(&a.family, &b.family),
        described(&a.colour, &b.colour),
        described(&a.method, &b.method),
        single(a.form, b.form, None, Partial::partial),
        a.taste.zip(b.taste).and_then(|(x, y)| cosine(&x.vector(), &y.vector())),
        a.heat.zip(b.heat).map(|(x, y)| ordinal(f64::from(x.rank()), f64::from(y.rank()), f64::from(Heat::Hot.rank()))),
        single(a.protein, b.protein, Some(Protein::None), Partial::partial),
        single(a.starch, b.starch, Some(Starch::None), Partial::partial),
    ]
}

/// Likeness of two graded sets of a profile, where an empty one says that nobody has described it, not that there is nothing.
fn described<T: Partial>(a: &[Graded<T>], b: &[Graded<T>]) -> Option<f64> {
    let said = |set: &[Graded<T>]| set.iter().any(|g| g.1 > 0.0);
    (said(a) && said(b)).then(|| soft_jaccard(a, b, Partial::partial)).flatten()
}

/// Likeness of two graded sets, 0 to 1, where unequal values may be partly alike; nothing where both are empty.
///
/// With `m = 1/2 [sum_a max_b T min(g_a, g_b) + sum_b max_a T min(g_a, g_b)]` and `G` the sums of grades it is
/// `m / (G_A + G_B - m)`. With no partial likeness and grades of 1 that is the index of Jaccard 1912 (New Phytol 11:37),
/// with any grades the sum of least over the sum of most. Grades are taken as from 0 to 1.
pub fn soft_jaccard<T: Copy>(a: &[Graded<T>], b: &[Graded<T>], partial: impl Fn(T, T) -> f64) -> Option<f64> {
    let grade = |g: &Graded<T>| if g.1.is_nan() { 0.0 } else { g.1.clamp(0.0, 1.0) };
    let matched = |x: &[Graded<T>], y: &[Graded<T>]| -> f64 {
        let best = |g: &Graded<T>| y.iter().map(|h| partial(g.0, h.0) * grade(g).min(grade(h))).fold(0.0, f64::max);
        x.iter().map(best).sum()
    };
    let (all_a, all_b) = (a.iter().map(grade).sum::<f64>(), b.iter().map(grade).sum::<f64>());
    if all_a <= 0.0 && all_b <= 0.0 {
        return None;
    }
    let m = 0.5 * (matched(a, b) + matched(b, a));
    Some(m / (all_a + all_b - m))
}

/// Cosine of two vectors of graded tastes, 0 to 1: their direction, not their strength. Both nothing: unknown; one: 0.
pub fn cosine(u: &[f64], v: &[f64]) -> Option<f64> {
    let dot = |x: &[f64], y: &[f64]| x.iter().zip(y).map(|(a, b)| a * b).sum::<f64>();
    let (uu, vv) = (dot(u, u), dot(v, v));
    if uu == 0.0 && vv == 0.0 {
        return None;
    }
    if uu == 0.0 || vv == 0.0 {
        return Some(0.0);
    }
    // The root of the product, so that a vector with itself gives 1 to the last bit.
    Some((dot(u, v) / (uu * vv).sqrt()).clamp(0.0, 1.0))
}

/// Likeness of two places on a scale of the width `range`, 0 to 1 (Gower's rule for quantities). A scale without width: 1.
///
/// The range is that of the scale and not of the meals at hand: a cold salad added must not change how alike two others are.
pub fn ordinal(a: f64, b: f64, range: f64) -> f64 {
    if range <= 0.0 { 1.0 } else { (1.0 - (a - b).abs() / range).clamp(0.0, 1.0) }
}

/// Likeness of two single values, 0 to 1; nothing where one is unknown, or both are `absent`: what both lack is no likeness
/// (Gower 1971).
pub fn single<T: Copy + PartialEq>(a: Option<T>, b: Option<T>, absent: Option<T>, partial: impl Fn(T, T) -> f64) -> Option<f64> {
    let (a, b) = (a?, b?);
    if Some(a) == absent && Some(b) == absent {
        return None;
    }
    Some(partial(a, b))
}

/// A whole likeness with what each axis adds to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Gower {
    /// 0 to 1; nothing where no axis is known.
    pub whole: Option<f64>,
    /// `w s / sum of w` over the known axes; these add up to the whole.
    pub shares: Vec<Option<f64>>,
}

/// Gower's general coefficient with weights: `sum w s / sum w` over the axes that are known.
///
/// Weights are 0 or more; where those of all known axes are 0, nothing is known.
pub fn gower_combine(similarities: &[Option<f64>], weights: &[f64]) -> Gower {
    let Some(total) = known_weight(similarities, weights) else {
        return Gower { whole: None, shares: vec![None; similarities.len()] };
    };
    let shares = similarities.iter().zip(weights).map(|(s, w)| s.map(|s| w * s / total)).collect();
    Gower { whole: gower_whole(similarities, weights), shares }
}

fn gower_whole(similarities: &[Option<f64>], weights: &[f64]) -> Option<f64> {
    let total = known_weight(similarities, weights)?;
    let sum: f64 = similarities.iter().zip(weights).filter_map(|(s, w)| s.map(|s| w * s)).sum();
    Some((sum / total).min(1.0))
}

fn known_weight(similarities: &[Option<f64>], weights: &[f64]) -> Option<f64> {
    let total: f64 = similarities.iter().zip(weights).filter(|(s, _)| s.is_some()).map(|(_, w)| *w).sum();
    (total > 0.0).then_some(total)
}
