//! Tidying after an edit.
