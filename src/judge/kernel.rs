//! How likeness fades with the days between two meals.
