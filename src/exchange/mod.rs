//! Everything foreign: what other people's programs wrote, read without trust.
//!
//! A recipe page is read offline and without running anything in it. What stands there is kept as it stands; what is read into
//! it (amounts, minutes) says how sure it is; what is only proposed (how the dish eats) says why; and what was not read is
//! listed.

// A recipe proposed as a dish.
mod company;
mod heads;
mod making;
mod piece;
mod proposal;
mod words;

// What a page says.
mod duration;
mod file;
mod found;
mod jsonld;
mod markup;
mod microdata;
mod page;
mod parse;
pub mod print;
mod propose;
mod propose_words;
mod recipe;

pub use file::{MAX_FOREIGN_BYTES, ReadFailure, read_bytes_of};
pub use page::NoRecipe;
pub use parse::{MAX_ATTRIBUTES, MAX_DEPTH, MAX_NODES};
pub use propose::{Proposed, Reasoned};
pub use recipe::{Minutes, ReadRecipe, Source, read_recipe, read_recipes};

pub use company::{ProposedCompanion, left_out};
pub use heads::{Heads, heads_of};
pub use making::{ProposedStep, place_word};
pub use piece::{ForOne, PieceGuess, PieceMass, for_one, guess_pieces, line_of, piece_mass};
pub use proposal::{Chosen, DishProposal, propose_dish};
