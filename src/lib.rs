//! map
