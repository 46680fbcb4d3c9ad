//! Partial likeness between unequal values of an axis.
