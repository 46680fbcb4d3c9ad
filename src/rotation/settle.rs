//! Tidying after an edit, so that equal plans are equal values.

use super::Rotation;
use std::collections::BTreeSet;

/// Drops what says nothing: blank meals, dishes that no batch makes, stays in the freezer of what is gone. Batches go by number.
pub(super) fn settle(rotation: &mut Rotation) {
    for meal in rotation.meals.values_mut() {
        meal.servings.retain(|s| !s.portion.is_zero());
    }
    rotation.meals.retain(|_, meal| !meal.is_blank());
    for batch in &mut rotation.batches {
        batch.draws.retain(|d| !d.portion.is_zero());
    }
    rotation.batches.sort_by_key(|b| b.id);
    let used: BTreeSet<_> = rotation.batches.iter().map(|b| &b.dish).collect();
    rotation.dishes.retain(|id, _| used.contains(id));
    super::storage::settle(rotation);
}
