//! An amount of a companion in its measure, exact to the thousandth so that sums close.

use crate::{
    book::CompanionMeasure,
    quantity::{Amount, Kitchen, Measure, System, grouped, write_amount, write_grams},
};

/// So much of a companion: grams, millilitres, or a count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CompanionAmount {
    /// Thousandths of the measure.
    pub thousandths: u64,
    /// What it is measured in.
    pub measure: CompanionMeasure,
}

/// The most that an amount is reckoned with, in thousandths: a million.
const MOST: f64 = 1e9;

impl CompanionAmount {
    /// `amount` to the nearest thousandth; what is no number or below nothing is nothing, over a million is a million.
    pub fn of(amount: f64, measure: CompanionMeasure) -> CompanionAmount {
        let thousandths = (amount * 1_000.0).round();
        let thousandths = if thousandths > 0.0 { thousandths.min(MOST) as u64 } else { 0 };
        CompanionAmount { thousandths, measure }
    }

    /// Nothing, in this measure.
    pub fn nothing(measure: CompanionMeasure) -> CompanionAmount {
        CompanionAmount { thousandths: 0, measure }
    }

    /// The same measure with other thousandths.
    #[must_use]
    pub fn with(self, thousandths: u64) -> CompanionAmount {
        CompanionAmount { thousandths, ..self }
    }

    /// As a plain number.
    pub fn as_f64(self) -> f64 {
        self.thousandths as f64 / 1_000.0
    }

    /// Whether it is nothing.
    pub fn is_zero(self) -> bool {
        self.thousandths == 0
    }

    /// Whether it is too little to speak of: under a gram or millilitre, under half a thing.
    pub fn is_crumb(self) -> bool {
        self.thousandths < if self.measure == CompanionMeasure::Count { 500 } else { 1_000 }
    }

    /// Up to the next whole gram, millilitre or thing.
    #[must_use]
    pub fn rounded_up(self) -> CompanionAmount {
        self.with(self.thousandths.div_ceil(1_000) * 1_000)
    }

    /// As people measure it: "1,200 g", "135 ml", "2.5"; ounces, cups and spoons elsewhere.
    pub fn said(self, system: System) -> String {
        let whole = (self.thousandths + 500) / 1_000;
        let number = grouped(u32::try_from(whole).unwrap_or(u32::MAX));
        match (self.measure, system) {
            (CompanionMeasure::Count, _) => {
                let tenths = (self.thousandths + 50) / 100;
                match tenths % 10 {
                    0 => grouped(u32::try_from(tenths / 10).unwrap_or(u32::MAX)),
                    tenth => format!("{}.{tenth}", grouped(u32::try_from(tenths / 10).unwrap_or(u32::MAX))),
                }
            }
            (CompanionMeasure::G, System::Metric) | (CompanionMeasure::Ml, System::Metric) if whole == 0 && !self.is_zero() => {
                format!("under 1{}", self.measure.sign())
            }
            (CompanionMeasure::G | CompanionMeasure::Ml, System::Metric) => format!("{number}{}", self.measure.sign()),
            (CompanionMeasure::G, _) => write_grams(u32::try_from(whole).unwrap_or(u32::MAX), system),
            (CompanionMeasure::Ml, _) => {
                let kitchen = Kitchen::from(system);
                let cups = Measure::Millilitre.in_terms_of(Measure::Cup, kitchen).map(|cup| self.as_f64() * cup);
                match cups.and_then(Amount::exact) {
                    Some(cups) => write_amount(cups, Some(Measure::Cup), kitchen),
                    None => format!("{number}{}", self.measure.sign()),
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use CompanionMeasure::{Count, G, Ml};

    #[test]
    fn amounts_read_as_people_measure() {
        for (amount, measure, metric, us) in [
            (1_200.0, G, "1,200 g", "2 lb 10 ¼ oz"),
            (0.3, G, "under 1 g", "0 oz"),
            (0.0, Ml, "0 ml", "0 ml"),
            (2.5, Count, "2.5", "2.5"),
            (11.0, Count, "11", "11"),
            (236.6, Ml, "237 ml", "1 cup"),
        ] {
            let amount = CompanionAmount::of(amount, measure);
            assert_eq!(amount.said(System::Metric).replace('\u{a0}', " "), metric);
            assert_eq!(amount.said(System::Us).replace('\u{a0}', " "), us);
        }
    }

    #[test]
    fn what_is_no_amount_is_nothing() {
        for wrong in [f64::NAN, f64::NEG_INFINITY, -1.0, 0.0] {
            assert!(CompanionAmount::of(wrong, G).is_zero());
        }
        assert_eq!(CompanionAmount::of(f64::INFINITY, G).as_f64(), 1e6);
        assert_eq!(CompanionAmount::of(2.2, Count).rounded_up().as_f64(), 3.0);
    }
}
