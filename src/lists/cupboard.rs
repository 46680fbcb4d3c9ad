//! What is in the house before anything is bought, and what grows behind it.

use super::CompanionAmount;
use crate::book::CompanionMeasure;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// What the house holds. Companions are known by their name and measure, as the dishes have them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cupboard {
    /// What stands there.
    #[serde(default)]
    pub items: Vec<CupboardItem>,
    /// What grows in the garden, by the names of companions or kinds: picked, not bought.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub garden: Vec<String>,
}

/// One thing in the cupboard.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CupboardItem {
    /// What it is, as the dishes call it: "onion".
    pub name: String,
    /// How much, in `measure`; nothing: always enough of it (salt, oil).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amount: Option<f64>,
    /// What it is measured in.
    #[serde(default)]
    pub measure: CompanionMeasure,
    /// The last day on which it may be used, if it is open or short of life.
    #[serde(default, skip_serializing_if = "Option::is_none", deserialize_with = "date")]
    pub use_by: Option<Date>,
}

/// A date of a file that may be missing, refused in a cook's words.
fn date<'de, D: serde::Deserializer<'de>>(from: D) -> Result<Option<Date>, D::Error> {
    let text = Option::<String>::deserialize(from)?;
    text.map(|t| crate::quantity::read_date(&t)).transpose().map_err(serde::de::Error::custom)
}

impl CupboardItem {
    /// Whether it is the companion of this name and measure; neither capitals nor spaces around it make another.
    pub fn is(&self, name: &str, measure: CompanionMeasure) -> bool {
        self.measure == measure && self.name.trim().to_lowercase() == name.to_lowercase()
    }
}

impl Cupboard {
    /// Says that there is always enough of a companion, or that there is not; what is counted of it stays counted.
    pub fn set_enough(&mut self, name: &str, measure: CompanionMeasure, enough: bool) {
        self.items.retain(|i| i.amount.is_some() || !i.is(name, measure));
        if enough {
            self.items.push(CupboardItem { name: name.into(), amount: None, measure, use_by: None });
        }
    }

    /// Whether a companion or a kind of this name grows in the garden.
    pub fn grows(&self, name: &str) -> bool {
        self.garden.iter().any(|g| g.trim().to_lowercase() == name.to_lowercase())
    }

    /// The names of what is counted in the house and has to be eaten by this day: what an arranged week should use up.
    pub fn due_by(&self, last: Date) -> BTreeSet<String> {
        let is_due = |i: &&CupboardItem| i.amount.is_some_and(|a| a > 0.0) && i.use_by.is_some_and(|until| until <= last);
        self.items.iter().filter(is_due).map(|i| i.name.clone()).collect()
    }

    /// What there is of a companion, the shortest-lived first.
    pub(super) fn stock_of(&self, name: &str, measure: CompanionMeasure) -> Stock {
        let mut of_it: Vec<&CupboardItem> = self.items.iter().filter(|i| i.is(name, measure)).collect();
        of_it.sort_by_key(|i| i.use_by.unwrap_or(Date::MAX));
        let line = |i: &&CupboardItem| (i.use_by, i.amount.map(|a| CompanionAmount::of(a, measure).thousandths));
        Stock(of_it.iter().map(line).collect())
    }
}

/// What is left of one companion in the house: until when, and thousandths of it; nothing: always enough.
pub(super) struct Stock(Vec<(Option<Date>, Option<u64>)>);

impl Stock {
    /// Takes up to `wanted` thousandths on `day`; gives what there was.
    pub fn take(&mut self, day: Date, wanted: u64) -> u64 {
        let mut missing = wanted;
        for (_, left) in self.0.iter_mut().filter(|i| i.0.is_none_or(|last| day <= last)) {
            let took = left.map_or(missing, |l| l.min(missing));
            missing -= took;
            *left = left.map(|l| l - took);
        }
        wanted - missing
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn item(name: &str, amount: Option<f64>, use_by: Option<Date>) -> CupboardItem {
        CupboardItem { name: name.into(), amount, measure: CompanionMeasure::G, use_by }
    }

    #[test]
    fn the_shortest_lived_goes_first_and_nothing_past_its_day() {
        let (monday, friday) = (date(2026, 12, 7), date(2026, 12, 11));
        let cupboard = Cupboard {
            items: vec![item("rice", Some(300.0), None), item("Rice ", Some(100.0), Some(monday)), item("salt", None, None)],
            garden: vec!["Parsley".into()],
        };
        let mut rice = cupboard.stock_of("rice", CompanionMeasure::G);
        assert_eq!(rice.take(monday, 50_000), 50_000);
        // Of the first bag 50 g are left, but on Friday they are past their day.
        assert_eq!(rice.take(friday, 350_000), 300_000);
        assert_eq!(rice.take(monday, 80_000), 50_000);
        assert_eq!(cupboard.stock_of("salt", CompanionMeasure::G).take(friday, 9_000_000), 9_000_000);
        assert_eq!(cupboard.stock_of("rice", CompanionMeasure::Ml).take(monday, 1), 0);
        assert!(cupboard.grows("parsley") && !cupboard.grows("dill"));
    }
}
