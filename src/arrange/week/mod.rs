//! From a rotation to the search and back: the open meals filled with the best choice there is.
mod arrangement;
mod board;
mod build;
mod choice;
mod fits;
mod grams;
mod impossible;
mod others;
mod question;
mod start;
mod tastes;
mod wishes;

pub use arrangement::{Arrangement, Cost, Filled};
pub use fits::{Fitting, what_fits};
pub use impossible::{Asked, Binding, Impossible};
pub use question::{Best, News, Outcome, Question};
pub use wishes::{Wishes, open_meals};
