//! Reading a mass that somebody typed: "350 g", "1.2 kg", "12 oz", "2 lb 5 oz", "1 1/2 cups" where the kind has a density.

use super::{MAX_GRAMS, System, write_grams, writing::GRAMS_PER_OUNCE};
use serde::{Deserialize, Serialize};

/// Millilitres in a US cup, 16 US tablespoons, exact from the US gallon of 231 cubic inches (NIST SP 811, Appendix B).
const ML_PER_US_CUP: f64 = 236.588_236_5;
/// Millilitres in a metric cup (common practice, no source).
const ML_PER_METRIC_CUP: f64 = 250.0;
/// Millilitres in an imperial cup: half an imperial pint of 568.26125 ml (UK Weights and Measures Act 1985).
const ML_PER_IMPERIAL_CUP: f64 = 284.130_625;

/// How heavy a cup of the cut form is: grams in a US cup of 236.588 ml, level and unpacked.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Density(pub f64);

/// Why a typed mass was not understood.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ReadError {
    /// Nothing was typed.
    #[error("type a mass, such as 350 g or 12 oz")]
    Empty,
    /// No number stands where one should.
    #[error("\"{0}\" has no number in it: type a mass, such as 350 g or 12 oz")]
    NoNumber(String),
    /// A minus sign stands before it.
    #[error("\"{0}\" is below nothing: type a mass, such as 350 g or 12 oz")]
    BelowNothing(String),
    /// The word behind the number is no measure.
    #[error("\"{0}\" is not a measure: use g, kg, oz, lb or cups")]
    NoSuchUnit(String),
    /// Cups were typed and nobody knows what a cup of this weighs.
    #[error("nobody has weighed a cup of this yet: type grams or ounces")]
    NoDensity,
    /// More than a figure may be.
    #[error("{0} is more than the {most} that a figure may be", most = write_grams(MAX_GRAMS, System::Metric))]
    TooMuch(String),
}

/// What was typed or pasted, as it fits into a sentence.
fn shown(text: &str) -> String {
    const MOST: usize = 40;
    let plain = |c: char| if c.is_control() { ' ' } else { c };
    let short: String = text.chars().take(MOST).map(plain).collect();
    if text.chars().nth(MOST).is_some() { format!("{short}…") } else { short }
}

/// Reads a typed mass to whole grams. A bare number counts in `system`'s everyday unit: grams, or ounces.
pub fn read_grams(text: &str, system: System, cup: Option<Density>) -> Result<u32, ReadError> {
    let text = text.trim();
    if text.is_empty() {
        return Err(ReadError::Empty);
    }
    if text.starts_with(['-', '\u{2212}']) && text.contains(|c: char| c.is_ascii_digit()) {
        return Err(ReadError::BelowNothing(shown(text)));
    }
    let mut rest = text;
    let mut grams = 0.0;
    let mut read_any = false;
    while !rest.trim_start().is_empty() {
        let (amount, after) = read_number(rest.trim_start()).ok_or_else(|| ReadError::NoNumber(shown(rest.trim())))?;
        let after = after.trim_start();
        let word_end = after.find(|c: char| c.is_ascii_digit() || c.is_whitespace() || c == ',').unwrap_or(after.len());
        let (word, tail) = after.split_at(word_end);
        grams += amount * grams_in(word.trim_end_matches('.'), system, cup)?;
        rest = tail.trim_start().strip_prefix(',').unwrap_or(tail);
        rest = rest.trim_start().strip_prefix("and ").unwrap_or(rest);
        read_any = true;
    }
    if !read_any {
        return Err(ReadError::NoNumber(shown(text)));
    }
    let whole = grams.round();
    if !(0.0..=f64::from(MAX_GRAMS)).contains(&whole) {
        return Err(ReadError::TooMuch(shown(text)));
    }
    Ok(whole as u32)
}

fn grams_in(word: &str, system: System, cup: Option<Density>) -> Result<f64, ReadError> {
    let per_cup = |ml: f64| cup.map(|d| d.0 * ml / ML_PER_US_CUP).ok_or(ReadError::NoDensity);
    match word.to_lowercase().as_str() {
        "" if system == System::Metric => Ok(1.0),
        "" => Ok(GRAMS_PER_OUNCE),
        "g" | "gr" | "gram" | "grams" | "gramme" | "grammes" => Ok(1.0),
        "kg" | "kilo" | "kilos" | "kilogram" | "kilograms" => Ok(1_000.0),
        "oz" | "ounce" | "ounces" => Ok(GRAMS_PER_OUNCE),
        "lb" | "lbs" | "pound" | "pounds" => Ok(16.0 * GRAMS_PER_OUNCE),
        "cup" | "cups" => per_cup(match system {
            System::Metric => ML_PER_METRIC_CUP,
            System::Us => ML_PER_US_CUP,
            System::Imperial => ML_PER_IMPERIAL_CUP,
        }),
        _ => Err(ReadError::NoSuchUnit(shown(word))),
    }
}

/// A number at the start of `text`: "350", "1,500", "1.5", "1,5", "1/2", "1 1/2", "1½", "¾".
fn read_number(text: &str) -> Option<(f64, &str)> {
    let (whole, mut rest) = read_decimal(text);
    let mut value = whole;
    if let Some(numerator) = whole
        && let Some(after) = rest.strip_prefix('/').or_else(|| rest.strip_prefix('\u{2044}'))
    {
        let (denominator, tail) = read_decimal(after);
        return match denominator {
            Some(d) if d > 0.0 => Some((numerator / d, tail)),
            _ => None,
        };
    }
    let spaced = rest.trim_start();
    if let Some((fraction, tail)) = read_sign_fraction(spaced).or_else(|| whole.and_then(|_| read_slash_fraction(spaced))) {
        value = Some(whole.unwrap_or(0.0) + fraction);
        rest = tail;
    }
    value.map(|v| (v, rest))
}

fn read_sign_fraction(text: &str) -> Option<(f64, &str)> {
    const SIGNS: [(char, f64); 10] = [
        ('¼', 0.25),
        ('½', 0.5),
        ('¾', 0.75),
        ('⅓', 1.0 / 3.0),
        ('⅔', 2.0 / 3.0),
        ('⅛', 0.125),
        ('⅜', 0.375),
        ('⅝', 0.625),
        ('⅞', 0.875),
        ('⅕', 0.2),
    ];
    SIGNS.iter().find_map(|&(sign, value)| text.strip_prefix(sign).map(|rest| (value, rest)))
}

fn read_slash_fraction(text: &str) -> Option<(f64, &str)> {
    let (numerator, after) = read_decimal(text);
    let after = after.strip_prefix('/').or_else(|| after.strip_prefix('\u{2044}'))?;
    let (denominator, tail) = read_decimal(after);
    match (numerator, denominator) {
        (Some(n), Some(d)) if d > 0.0 => Some((n / d, tail)),
        _ => None,
    }
}

/// Digits with at most one decimal mark. A comma before exactly three digits sets thousands apart ("1,500"), else it is a decimal mark.
fn read_decimal(text: &str) -> (Option<f64>, &str) {
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(text.len());
    let (mut digits, _) = text.split_at(end);
    digits = digits.trim_end_matches([',', '.']);
    let rest = &text[digits.len()..];
    let groups: Vec<&str> = digits.split(',').collect();
    let thousands = groups.len() > 1
        && !groups[0].is_empty()
        && groups[0] != "0"
        && groups[1..].iter().all(|g| g.split('.').next().is_some_and(|w| w.len() == 3));
    let plain = if thousands { digits.replace(',', "") } else { digits.replacen(',', ".", 1) };
    (plain.parse::<f64>().ok().filter(|v| v.is_finite()), rest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typed_masses_are_understood() {
        let shreds = Some(Density(90.0));
        for (text, system, grams) in [
            ("350 g", System::Metric, 350),
            ("350", System::Metric, 350),
            ("1,500 g", System::Metric, 1_500),
            ("1.2kg", System::Metric, 1_200),
            ("1,5 kg", System::Metric, 1_500),
            ("12 oz", System::Metric, 340),
            ("12", System::Us, 340),
            ("2 lb 5 oz", System::Us, 1_049),
            ("2 lb, 5 oz", System::Us, 1_049),
            ("½ lb", System::Us, 227),
            ("1 1/2 cups", System::Us, 135),
            ("1½ cups", System::Us, 135),
            ("2 cups", System::Us, 180),
            ("1/2 cup", System::Metric, 48),
            ("0 g", System::Metric, 0),
        ] {
            assert_eq!(read_grams(text, system, shreds), Ok(grams), "{text}");
        }
    }

    #[test]
    fn what_is_no_mass_is_refused_in_words() {
        for text in ["", "lots", "12 stone", "1/0 g", "999999 kg", "-5 g", "5 5 g x", "NaN g", "1e9 kg"] {
            assert!(read_grams(text, System::Metric, None).is_err(), "{text}");
        }
        assert_eq!(read_grams("2 cups", System::Us, None), Err(ReadError::NoDensity));
    }
}
