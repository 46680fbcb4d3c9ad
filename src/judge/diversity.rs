//! How many different meals a rotation feels like.

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

/// Similarity-sensitive diversity of order `q` of shares `p` under the similarity matrix `z` (Leinster & Cobbold 2012, Ecology 93:477).
pub fn effective_number(_p: &[f64], _z: &[Vec<f64>], _q: f64) -> f64 {
    unimplemented!("being written")
}
