//! Printing masses the way the household reads them.

use serde::{Deserialize, Serialize};
use std::borrow::Cow;

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

/// A span of masses: "70 to 130 g", or "2 ½ oz to 4 ½ oz". No-break spaces tie it, so that [`said_in`] knows it for one.
pub fn write_range(least: u32, most: u32, system: System) -> String {
    match system {
        System::Metric => format!("{}{TO}{}", grouped(least), write_grams(most, system)),
        _ => format!("{} to {}", write_grams(least, system), write_grams(most, system)),
    }
}

/// What ties the two figures of a span.
const TO: &str = "\u{a0}to\u{a0}";
/// What a figure of grams ends in.
const SIGN: &str = "\u{a0}g";

/// A sentence in the measures that the household reads.
///
/// The judges and the edits speak in grams, each figure tied to its unit by a no-break space as [`write_grams`] and
/// [`write_range`] tie it; every such figure is written anew, and nothing else is touched. Metric text stays as it is.
pub fn said_in(text: &str, system: System) -> Cow<'_, str> {
    if system == System::Metric || !text.contains(SIGN) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    let mut rest = text;
    while let Some(at) = rest.find(SIGN) {
        let (before, behind) = (&rest[..at], &rest[at + SIGN.len()..]);
        let whole_word = !behind.starts_with(|c: char| c.is_alphanumeric());
        match figure_at_end(before).filter(|_| whole_word) {
            Some((head, most)) => match head.strip_suffix(TO).and_then(figure_at_end) {
                Some((head, least)) => out.extend([head, &write_range(least, most, system)]),
                None => out.extend([head, &write_grams(most, system)]),
            },
            None => out.extend([before, SIGN]),
        }
        rest = behind;
    }
    out.push_str(rest);
    Cow::Owned(out)
}

/// The figure that `text` ends in ("1,500"), and what stands before it; none of a decimal, of which it would be but a piece.
fn figure_at_end(text: &str) -> Option<(&str, u32)> {
    let head = text.trim_end_matches(|c: char| c.is_ascii_digit() || c == ',');
    let figure = text[head.len()..].trim_start_matches(',');
    let head = &text[..text.len() - figure.len()];
    let number = figure.replace(',', "").parse().ok()?;
    (!head.ends_with(|c: char| c == '.' || c.is_alphanumeric())).then_some((head, number))
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

    #[test]
    fn a_sentence_in_grams_is_said_in_ounces_and_nothing_else_of_it_changes() {
        for (text, said) in [
            ("1,500\u{a0}g (100\u{a0}%) has no meal by Thursday", "3\u{a0}lb 5\u{a0}oz (100\u{a0}%) has no meal by Thursday"),
            ("Fold 28\u{a0}g in; 454\u{a0}g, 260\u{a0}g", "Fold 1\u{a0}oz in; 1\u{a0}lb, 9\u{a0}¼\u{a0}oz"),
            ("70\u{a0}to\u{a0}130\u{a0}g is right", "2\u{a0}½\u{a0}oz to 4\u{a0}½\u{a0}oz is right"),
            ("2,454\u{a0}g", "5\u{a0}lb 6\u{a0}½\u{a0}oz"),
            ("eggs, 454\u{a0}g", "eggs, 1\u{a0}lb"),
            ("no figure\u{a0}g, 5\u{a0}glasses, 1.5\u{a0}g, 12 g", "no figure\u{a0}g, 5\u{a0}glasses, 1.5\u{a0}g, 12 g"),
            ("99999999999999\u{a0}g", "99999999999999\u{a0}g"),
            ("", ""),
        ] {
            assert_eq!(said_in(text, System::Us), said);
            assert_eq!(said_in(text, System::Metric), text);
        }
        for grams in [0, 7, 1_000, 1_234_567] {
            assert_eq!(said_in(&write_grams(grams, System::Metric), System::Imperial), write_grams(grams, System::Imperial));
        }
    }
}
