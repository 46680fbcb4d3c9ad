//! Words for window tests.

#[cfg(feature = "window")]
pub mod sheet_desk;
