//! map

#[cfg(feature = "window")]
pub mod app;
