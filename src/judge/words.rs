//! Turns of phrase that the judges share.

use crate::{
    quantity::{Days, System, write_grams},
    rotation::Slot,
};

/// More than this share of what is usable, one in so many, is food lost and not crumbs: 5 % (house rule, common practice).
const LOST_ONE_IN: u64 = 20;

/// Whether `grams` are over 5 % of `usable`.
pub(super) fn is_much(grams: u32, usable: u32) -> bool {
    u64::from(grams) * LOST_ONE_IN > u64::from(usable)
}

/// "1,500 g".
pub(super) fn grams(grams: u32) -> String {
    write_grams(grams, System::Metric)
}

/// "2.2 %", to the tenth, without a trailing nought.
pub(super) fn percent(part: u32, whole: u32) -> String {
    let tenths = (u64::from(part) * 1_000 + u64::from(whole) / 2).checked_div(u64::from(whole)).unwrap_or(0);
    match (tenths / 10, tenths % 10) {
        (0, 0) if part > 0 => "under 0.1\u{a0}%".into(),
        (whole, 0) => format!("{whole}\u{a0}%"),
        (whole, tenth) => format!("{whole}.{tenth}\u{a0}%"),
    }
}

/// "leek", "leek and barley", "leek, barley and mint".
pub(super) fn listed<T: AsRef<str>>(items: &[T]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_string(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", first.join(", "), last.as_ref())
        }
    }
}

/// "3 days against 2".
pub(super) fn against(age: Days, limit: Days) -> String {
    format!("{age} against {}", limit.0.max(0))
}

/// A slot's part of the name of a finding.
pub(super) fn slot_key(slot: Slot) -> String {
    format!("{}.{}", slot.day.0, slot.mealtime.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_read_as_the_cook_says_them() {
        for (part, whole, said) in
            [(28, 1_260, "2.2 %"), (72, 2_000, "3.6 %"), (75, 1_500, "5 %"), (1, 5_520, "under 0.1 %"), (0, 0, "0 %")]
        {
            assert_eq!(percent(part, whole).replace('\u{a0}', " "), said);
        }
    }

    #[test]
    fn five_in_a_hundred_is_not_yet_much() {
        assert!(!is_much(75, 1_500));
        assert!(is_much(76, 1_500));
    }
}
