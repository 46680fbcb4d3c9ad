//! Learning a household's patience from what it said of pairs of meals.
//!
//! A few answers move the usual weights a little, many move them further; the mathematics is that of [`estimate`]. Everything
//! here is pure: the same answers give the same weights, to the last bit and in whatever order they came, and an answer taken
//! back leaves no trace.

mod answer;
mod bounded;
mod estimate;
mod learned;
mod observation;
mod silence;
mod words;

pub use answer::{Answer, AnswerId, DishEaten, MAX_ANSWERS, Said, TwoMeals};
pub use estimate::{Case, Estimate, Prior, estimate};
pub use learned::{LINE_RANGE, Learned, Standing, learn};
pub use observation::{Features, Observation, SILENT};
pub use silence::observations_of_journal;
