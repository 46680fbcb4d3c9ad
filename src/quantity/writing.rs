//! Printing masses the way the household reads them.

use serde::{Deserialize, Serialize};

/// Grams in one avoirdupois ounce, exact by the international yard and pound agreement of 1959 (NIST SP 811, Appendix B).
pub const GRAMS_PER_OUNCE: f64 = 28.349_523_125;

/// Which measures a household reads.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum System {
    /// Grams.
    #[default]
    Metric,
    /// Ounces and pounds, US cups.
    Us,
    /// Ounces and pounds, imperial volumes.
    Imperial,
}

/// A whole number with thousands set apart: 1800 becomes "1,800".
pub fn grouped(number: u32) -> String {
    let digits = number.to_string();
    let mut out = String::with_capacity(digits.len() + digits.len() / 3);
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(c);
    }
    out
}

/// A mass for a person: "1,500 g", or "3 lb 5 oz" and "9 ¼ oz" to the quarter ounce. A no-break space ties number and unit.
pub fn write_grams(grams: u32, system: System) -> String {
    if system == System::Metric {
        return format!("{}\u{a0}g", grouped(grams));
    }
    let quarters = (f64::from(grams) / GRAMS_PER_OUNCE * 4.0).round() as u32;
    let (pounds, quarters) = (quarters / 64, quarters % 64);
    let ounces = write_quarters(quarters);
    match (pounds, quarters) {
        (0, _) => format!("{ounces}\u{a0}oz"),
        (_, 0) => format!("{pounds}\u{a0}lb"),
        _ => format!("{pounds}\u{a0}lb {ounces}\u{a0}oz"),
    }
}

fn write_quarters(quarters: u32) -> String {
    let fraction = ["", "¼", "½", "¾"][(quarters % 4) as usize];
    match (quarters / 4, fraction) {
        (whole, "") => whole.to_string(),
        (0, fraction) => fraction.to_string(),
        (whole, fraction) => format!("{whole}\u{a0}{fraction}"),
    }
}

/// A count of things with its word: "1 day", "3 days".
pub fn write_units(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn masses_read_as_people_say_them() {
        for (grams, system, said) in [
            (1_500, System::Metric, "1,500\u{a0}g"),
            (0, System::Metric, "0\u{a0}g"),
            (454, System::Us, "1\u{a0}lb"),
            (1_500, System::Us, "3\u{a0}lb 5\u{a0}oz"),
            (260, System::Imperial, "9\u{a0}¼\u{a0}oz"),
            (7, System::Us, "¼\u{a0}oz"),
            (1_234_567, System::Metric, "1,234,567\u{a0}g"),
        ] {
            assert_eq!(write_grams(grams, system), said);
        }
    }
}
