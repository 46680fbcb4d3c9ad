//! How warm food cools: heat conducted through a body and carried off at its surface.
//!
//! Two ways stand side by side and check each other. [`series`] sums the exact eigenfunctions of a slab, a long cylinder or a
//! sphere in surroundings that stay as they are; [`Volumes`] marches small volumes through time and takes what the series
//! cannot: faces that differ, surroundings that change. A finite box or drum is the product of its directions, see [`Block`].
//!
//! Two figures rule a body: the Biot number `Bi = h L / k`, how hard it is for heat to reach the surface against leaving it,
//! and the Fourier number `Fo = k t / (rho cp L^2)`, the time in units of the body. `L` is the half thickness of a slab, the
//! radius of a cylinder or sphere. Below a Biot number of 0.1 the body is as warm inside as outside and cools like stirred
//! water (Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, on the lumped capacitance method).
//!
//! All of this is conduction alone with a surface coefficient that stays the same: no lid is lifted, nothing is stirred and
//! nothing evaporates unless it is said, so times are rather too long than too short. They are guidance: local codes prevail,
//! and a probe thermometer decides.

mod advice;
mod bessel;
mod block;
mod body;
mod chill;
mod food;
mod kept;
mod rule;
mod series;
mod vessel;
mod volumes;

pub use advice::{Advice, Spare, advise, advise_with};
pub use block::{Block, Faces, Phase, Round};
pub use body::{Body, CoolingError, Shape};
pub use chill::{CAVEAT, Chill, ChillError, Chilled, Point, StageOutcome, Stay, chill};
pub use food::{Food, Surety};
pub use kept::{boxing_of, food_of, kept_back, kept_whole, question_of, question_of_whole};
pub use rule::{Rule, Stage};
pub use series::{Mode, Series, centre_c, modes, seconds_to};
pub use vessel::{Climate, Place, Vessel, Wall};
pub use volumes::{Face, Volumes, centre_c_by_volumes, centres_c_by_volumes, seconds_to_by_volumes, seconds_to_each_by_volumes};
