//! Exact search: when to do every kitchen step of one day.
//!
//! Some dishes are to be on the table at their minutes. Each step needs hands, a rack of the oven at a temperature, rings, an
//! appliance, a place; steps wait for one another; a finished dish may stand only so long. Wanted is the day that begins as
//! late as possible (the least *span*), and of those the one in which everything is done as late as possible (the least
//! *sum*), with a proof that there is none better, or with the reason why there is none at all.
//!
//! How it is done: the day is seen in a [`mirror`], where it is the resource-constrained project problem. The [`engine`] learns
//! from every failure why it failed. [`span`] closes in on the least makespan from both sides, [`sum`] then on the least sum,
//! helped by the bound of [`fluid`] and by looking [`nearby`]. [`cause`] says why not. Nothing here reads a clock or a file;
//! an [`Onlooker`] may stop the search.
//!
//! Terms and positions in literature: Hartmann & Briskorn 2022 survey the problem; Schutt, Feydt, Stuckey & Wallace 2011 the
//! method.

mod answer;
mod cause;
mod chance;
mod engine;
mod fluid;
mod instance;
mod mirror;
mod model;
mod nearby;
mod relax;
mod solve;
mod span;
mod sum;
mod twins;
mod watch;

pub use answer::{Answer, Status};
pub use cause::{Cause, Impossible};
pub use instance::{
    Capacities, Instance, InstanceError, MAX_MINUTE, MAX_PRECEDENCES, MAX_TASKS, Oven, Precedence, Serving, Task,
};
pub use solve::{solve, solve_without_reason};
pub use watch::{News, Onlooker};
