//! Tranche: several days of differing meals around one big perishable piece.
//!
//! The map of the house. Data flows one way: files to [`book`] and [`rotation`], from there to the [`judge`]s, from there to
//! findings and to the screen; the screen answers with edits, and only edits change a rotation.

#![forbid(unsafe_code)]
#![warn(missing_docs)]

#[cfg(feature = "window")]
pub mod app;
pub mod arrange;
pub mod book;
pub mod command;
pub mod exchange;
pub mod judge;
pub mod lists;
pub mod quantity;
pub mod rotation;
pub mod runsheet;
pub mod store;
pub mod timeline;
