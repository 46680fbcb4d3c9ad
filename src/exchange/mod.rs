//! Everything foreign: what other people's programs wrote, read without trust.
//!
//! A recipe page is read offline and without running anything in it. What stands there is kept as it stands; what is read into
//! it (amounts, minutes) says how sure it is; what is only proposed (how the dish eats) says why; and what was not read is
//! listed.

mod duration;
mod file;
mod found;
mod jsonld;
mod markup;
mod microdata;
mod page;
pub mod print;
mod propose;
mod propose_words;
mod recipe;

pub use file::{MAX_FOREIGN_BYTES, ReadFailure, read_bytes_of};
pub use page::{MAX_DEPTH, NoRecipe};
pub use propose::{Proposed, Reasoned};
pub use recipe::{Minutes, ReadRecipe, Source, read_recipe};
