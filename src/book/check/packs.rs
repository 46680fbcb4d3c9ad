//! Whether one thing has one pack: a shopping list adds up what is called the same.

use super::super::{Book, Companion, CompanionMeasure, DishId};
use crate::quantity::Days;
use std::collections::BTreeMap;

/// How a companion is bought.
#[derive(Clone, Copy, PartialEq)]
struct Bought<'b> {
    measure: CompanionMeasure,
    pack: Option<f64>,
    opened_days: Option<Days>,
    word: Option<&'b str>,
}

impl Bought<'_> {
    fn of(c: &Companion) -> Bought<'_> {
        Bought { measure: c.measure, pack: c.pack, opened_days: c.opened_days, word: c.pack_word.as_deref() }
    }

    fn words(self) -> String {
        let keeps = self.opened_days.map(|d| format!(" that keeps {d} once opened")).unwrap_or_default();
        match self.pack {
            Some(pack) => format!("in a {} of {pack}{}{keeps}", self.word.unwrap_or("pack"), self.measure.sign()),
            None => format!("loose{}{keeps}", if self.measure == CompanionMeasure::Count { ", by the piece" } else { "" }),
        }
    }
}

/// Each dish that buys a companion otherwise than most dishes do, with what to say of it.
///
/// A companion that is sold in another form is another companion, with a name that says so: "frozen peas", "dill in a pot".
pub(super) fn faults(book: &Book) -> Vec<(DishId, String)> {
    let mut uses: BTreeMap<&str, Vec<(&DishId, Bought<'_>)>> = BTreeMap::new();
    for dish in book.dishes() {
        for c in dish.companions.iter().chain(dish.twins.iter().flat_map(|t| &t.companions)) {
            uses.entry(&c.name).or_default().push((&dish.id, Bought::of(c)));
        }
    }
    let mut faults = Vec::new();
    for (name, uses) in uses {
        let count = |bought: Bought<'_>| uses.iter().filter(|u| u.1 == bought).count();
        // Of two that are as common the first by id has it.
        let Some(usual) = uses.iter().rev().max_by_key(|u| count(u.1)) else { continue };
        for (id, bought) in uses.iter().filter(|u| u.1 != usual.1) {
            let what = format!(
                "{name} is bought {} here and {} in {}: make them one, or give the other form a name of its own",
                bought.words(),
                usual.1.words(),
                usual.0
            );
            faults.push(((*id).clone(), what));
        }
    }
    faults
}
