//! Portion units (how big an eater is) and shares per thousand.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use std::fmt;

/// How much of an adult's plate somebody eats: 1.0 is one adult, a teenager 1.2, a child 0.6 (common practice, no source).
///
/// Kept in hundredths, from 0.05 to 20.00, so that sums are exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Units(u32);

impl Units {
    /// One adult.
    pub const ADULT: Units = Units(100);
    /// Nobody.
    pub const NONE: Units = Units(0);
    /// The smallest unit an eater may have, in hundredths.
    pub const MIN_HUNDREDTHS: u32 = 5;
    /// The largest unit an eater may have, in hundredths.
    pub const MAX_HUNDREDTHS: u32 = 2_000;

    /// Hundredths of an adult; `None` outside 5..=2000.
    pub fn from_hundredths(hundredths: u32) -> Option<Units> {
        (Self::MIN_HUNDREDTHS..=Self::MAX_HUNDREDTHS).contains(&hundredths).then_some(Units(hundredths))
    }

    /// In hundredths of an adult.
    pub fn hundredths(self) -> u32 {
        self.0
    }

    /// As a plain number, for reckoning with book figures.
    pub fn as_f64(self) -> f64 {
        f64::from(self.0) / 100.0
    }

    /// `grams_per_unit` for this many units, to the nearest gram.
    pub fn times(self, grams_per_unit: u32) -> u32 {
        ((u64::from(grams_per_unit) * u64::from(self.0) + 50) / 100).min(u64::from(u32::MAX)) as u32
    }
}

impl std::iter::Sum for Units {
    fn sum<I: Iterator<Item = Units>>(iter: I) -> Units {
        Units(iter.map(|u| u.0).fold(0, u32::saturating_add))
    }
}

impl fmt::Display for Units {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, rest) = (self.0 / 100, self.0 % 100);
        if rest % 10 == 0 { write!(f, "{whole}.{}", rest / 10) } else { write!(f, "{whole}.{rest:02}") }
    }
}

impl Serialize for Units {
    fn serialize<Z: Serializer>(&self, out: Z) -> Result<Z::Ok, Z::Error> {
        out.serialize_f64(self.as_f64())
    }
}

impl<'de> Deserialize<'de> for Units {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let units = f64::deserialize(from)?;
        let hundredths = (units * 100.0).round();
        if units.is_finite()
            && (hundredths - units * 100.0).abs() < 1e-6
            && (0.0..=1e6).contains(&hundredths)
            && let Some(fit) = Units::from_hundredths(hundredths as u32)
        {
            return Ok(fit);
        }
        Err(de::Error::custom(format!("{units} is not a portion unit: write 1.0 for an adult, anything from 0.05 to 20.0")))
    }
}

/// A share in thousandths, 0 to 2000 (pasta and rice gain weight in the pot, so a yield may pass 1000).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(transparent)]
pub struct PerMille(u16);

impl PerMille {
    /// All of it.
    pub const ALL: PerMille = PerMille(1_000);
    /// The most a share may be.
    pub const MAX: u16 = 2_000;

    /// `thousandths`; `None` over 2000.
    pub fn new(thousandths: u16) -> Option<PerMille> {
        (thousandths <= Self::MAX).then_some(PerMille(thousandths))
    }

    /// In thousandths.
    pub fn get(self) -> u16 {
        self.0
    }
}

impl<'de> Deserialize<'de> for PerMille {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let share = i64::deserialize(from)?;
        let fit = u16::try_from(share).ok().and_then(PerMille::new);
        fit.ok_or_else(|| de::Error::custom(format!("{share} is not a share: write thousandths from 0 to {}", Self::MAX)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_add_exactly_and_read_as_people_write_them() {
        let table: Units = [100, 100, 60].into_iter().filter_map(Units::from_hundredths).sum();
        assert_eq!(table.to_string(), "2.6");
        assert_eq!(table.times(200), 520);
        assert_eq!(ron::from_str::<Units>("1.25").unwrap().to_string(), "1.25");
        for wrong in ["0.0", "-1.0", "1.234", "NaN", "inf", "1e9"] {
            assert!(ron::from_str::<Units>(wrong).is_err(), "{wrong}");
        }
    }
}
