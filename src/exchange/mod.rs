//! Everything foreign: what other people's programs wrote, read without trust.

mod file;

pub use file::{MAX_FOREIGN_BYTES, ReadFailure, read_bytes_of};
