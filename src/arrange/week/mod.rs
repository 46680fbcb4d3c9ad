//! From a rotation to the search and back: the open meals filled with the best choice there is.
//!
//! [`Question`] lays a rotation out; [`Question::best`] fills its meals, [`Question::others`] gives arrangements that really
//! differ, [`Question::binds`] says what holds the best back, [`what_fits`] ranks the dishes for one meal. Each takes
//! [`super::Limits`] and can be stopped; every answer is one undoable edit with the judges' word on it.
//!
//! # What is claimed
//! "None is better" is true of this model, and of nothing wider.
//!
//! **A choice** (`choice`) for a meal is a dish with one way to its grams: cut *fresh* on the day from parts that suit it; of a
//! *component*, made on the last day on which the judges allow it (earlier where that adds a part); *of* what is left of a
//! fresh dish of an earlier open meal; *again*, a second serving of such a dish on a later day; or of a *batch* that the plan
//! has and that has something left. Twins go to those who need them, as by [`crate::rotation::Edit::Serve`]. Batches that stand
//! are neither enlarged nor changed, and what everybody at the meal cannot eat is no choice.
//!
//! **Rules.** The judges find no stop and no warning that the plan did not have before (what is left over is counted apart).
//! No dish comes back to the same eater within fourteen days, the journal's and those that stand included, nor one of which
//! somebody's last word was "not again". The minutes of a day hold every dish made on it with its whole time, a component once
//! for each meal that it is made for; what is put by is not counted. Grams: each meal gets from the least to the most that its
//! dish wants for those who eat it, in whole grams and, of fresh dishes with a unit, in whole units where some number of them
//! lies between; parts and batches give no more than they have. What is over is put by where the book has a way for that part
//! and it comes to 60 g. No more than a twentieth of what is usable is left over, unless no arrangement leaves less: then
//! that rule falls, and [`Best::wasteful`] says so. Which grams go where within these limits is not searched but follows a fixed
//! rule (`grams`) that loses the fewest.
//!
//! **Cost**, in millionths of two next-door meals wholly alike for everybody who sits down to any of the meals asked for:
//! - for two meals, likeness times the fading by days ([`crate::judge::Kernel`]), as long as a tenth of it is felt, summed over
//!   those who eat both, whether open, standing or eaten before; 0.2 where too little is described to tell;
//! - 400,000 for a form that all at the table dislike, by head; 100,000 for any other caution about the meal;
//! - up to 60,000 for each companion on hand that a meal does not use up;
//! - 3,000 for each gram left over.
//!
//! Each pair and each choice is rounded to thousandths first, so that sums are whole numbers. Weights beside the fading are
//! our own judgement; no source.
//!
//! # How it is found
//! The board (`board`) turns every choice into a dish of an [`super::Instance`] that may stand in one slot only, with the cost
//! of each pair as its likeness, and more than any likeness where two may not both stand. A search of [`super`] runs on
//! that with the board at its *gate*: up to nine meals by `mesh`, which fills them one by one and grows neighbours of one day
//! that may swap (`twins`) only one way round; more of them slot by slot through the graph, up to fourteen with a bound from
//! parts of them. Beginnings are refused for what no later meal can mend (minutes, minima that do not fit the parts by Hall's
//! condition, what runs on), and a whole arrangement counts only once the judges have let the very plan pass. Since every real
//! cost is at least the instance's, and nothing is dropped but by such bounds and refusals, the search ends with a proof.
mod arrangement;
mod board;
mod build;
mod choice;
mod fits;
mod grams;
mod impossible;
mod lingering;
mod others;
mod question;
mod room;
mod start;
mod tastes;
#[cfg(test)]
mod trying;
mod twins;
mod wishes;

pub use arrangement::{Arrangement, Cost, Filled};
pub use fits::{Fitting, what_fits};
pub use impossible::{Asked, Binding, Impossible};
pub use question::{Best, News, Outcome, Question};
pub use wishes::{Wishes, open_meals};
