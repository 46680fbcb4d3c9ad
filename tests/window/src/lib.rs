//! Words for window tests.
