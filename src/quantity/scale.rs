//! More or less of a line, in amounts that a cook can measure.
//!
//! A kitchen has quarters of cups, thirds and eighths, scales that show grams, and whole eggs. What falls between is said
//! with "about"; what does not divide (eggs, tins) is said both ways, one fewer and one more.

use super::{Amount, GRAMS_PER_OUNCE, Kitchen, Measure, MeasureSort, System, grouped, write_grams};

/// What a scaled line comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Scaled {
    /// The amount to the last decimal.
    pub amount: Amount,
    /// What it counts.
    pub measure: Option<Measure>,
    /// What a cook measures: "about 3/4 cup", "180 g", "1 ½".
    pub words: String,
    /// How to come by it where it does not divide: "take 1 or 2: a half of an egg is 25 g of it beaten".
    pub how: Option<String>,
}

/// `amount` of `measure` of `name`, `factor` times over; `None` where the factor makes no amount of it.
pub fn scale(amount: Amount, measure: Option<Measure>, name: &str, factor: f64, kitchen: Kitchen) -> Option<Scaled> {
    let scaled = amount.times(factor)?;
    Some(Scaled {
        amount: scaled,
        measure,
        words: write_amount(scaled, measure, kitchen),
        how: whole_ways(scaled, measure, name),
    })
}

/// An amount for a cook: both ends of a range, each as one measures it.
pub fn write_amount(amount: Amount, measure: Option<Measure>, kitchen: Kitchen) -> String {
    match amount {
        Amount::Exact(v) => one(v, measure, kitchen),
        Amount::Range { low, high } => {
            let (a, b) = (one(low, measure, kitchen), one(high, measure, kitchen));
            let blank = |c: char| c == ' ' || c == '\u{a0}';
            let once = |s: &str| s.matches(blank).count() == 1;
            match (a.rsplit_once(blank), b.rsplit_once(blank)) {
                _ if a == b => a,
                // "2 to 3 lb", "1 to 2 cups"; but "2 lb to 2 lb 5 oz".
                (Some((number, sign)), Some((_, other)))
                    if once(&a) && once(&b) && other.chars().next() == sign.chars().next() =>
                {
                    format!("{number} to {b}")
                }
                _ => format!("{a} to {b}"),
            }
        }
    }
}

fn one(value: f64, measure: Option<Measure>, kitchen: Kitchen) -> String {
    let Some(measure) = measure else {
        return quarters(value);
    };
    if let Some(grams) = measure.grams() {
        return mass(value * grams, measure);
    }
    match measure {
        Measure::Millilitre | Measure::Centilitre | Measure::Decilitre | Measure::Litre => {
            millilitres(value * measure.millilitres(kitchen).unwrap_or(1.0))
        }
        Measure::Celsius | Measure::Fahrenheit => format!("{value:.0}\u{a0}°{}", measure.key()),
        Measure::GasMark => format!("gas mark {}", quarters(value)),
        Measure::Cup | Measure::Tablespoon | Measure::Teaspoon => spoons(value, measure, kitchen),
        _ => format!("{} {}", quarters(value), measure.said(value)),
    }
}

/// Grams as a scale shows them: tenths under 5, whole ones under 50, then to 5, over a kilogram to 10; pounds and ounces to a quarter.
fn mass(grams: f64, measure: Measure) -> String {
    if matches!(measure, Measure::Ounce | Measure::Pound) {
        let quarter = GRAMS_PER_OUNCE / 4.0;
        if grams < quarter {
            return format!("under ¼\u{a0}oz ({}\u{a0}g)", (grams * 10.0).round() / 10.0);
        }
        return write_grams(grams.round().clamp(0.0, 4e9) as u32, System::Us);
    }
    metric(grams, "g")
}

fn millilitres(value: f64) -> String {
    if value >= 1_000.0 {
        let litres = (value / 10.0).round() / 100.0;
        return format!("{litres}\u{a0}l");
    }
    metric(value, "ml")
}

fn metric(value: f64, sign: &str) -> String {
    if value < 5.0 {
        return format!("{}\u{a0}{sign}", (value * 10.0).round() / 10.0);
    }
    let step = match value {
        v if v < 50.0 => 1.0,
        v if v < 1_000.0 => 5.0,
        _ => 10.0,
    };
    let round = (value / step).round() * step;
    format!("{}\u{a0}{sign}", grouped(round.clamp(0.0, 4e9) as u32))
}

/// The parts of a cup that a set of measures has.
const CUP_PARTS: [(f64, &str); 6] =
    [(0.0, ""), (0.25, "1/4"), (1.0 / 3.0, "1/3"), (0.5, "1/2"), (2.0 / 3.0, "2/3"), (0.75, "3/4")];
/// The parts of a spoon.
const SPOON_PARTS: [(f64, &str); 5] = [(0.0, ""), (0.25, "1/4"), (0.5, "1/2"), (0.75, "3/4"), (0.125, "1/8")];

/// Cups, spoons: stepped down to the smaller measure where the larger has no mark, stepped up never.
fn spoons(value: f64, measure: Measure, kitchen: Kitchen) -> String {
    let smaller = match measure {
        Measure::Cup if value < 0.22 => Some(Measure::Tablespoon),
        Measure::Tablespoon if value < 0.5 => Some(Measure::Teaspoon),
        _ => None,
    };
    if let Some(smaller) = smaller
        && let Some(factor) = measure.in_terms_of(smaller, kitchen)
    {
        return spoons(value * factor, smaller, kitchen);
    }
    if measure == Measure::Teaspoon && value < 0.1 {
        return "a pinch".into();
    }
    let parts: &[(f64, &str)] = if measure == Measure::Cup { &CUP_PARTS } else { &SPOON_PARTS };
    let (shown, words) = nearest(value, parts);
    let about = if (shown - value).abs() > 0.02 * value { "about " } else { "" };
    format!("{about}{words} {}", measure.said(shown))
}

/// The nearest whole number with one of `parts`, and its words.
fn nearest(value: f64, parts: &[(f64, &str)]) -> (f64, String) {
    let whole = value.floor();
    let ends = parts.iter().map(|(p, w)| (whole + p, *w)).chain([(whole + 1.0, "")]);
    let usable = ends.filter(|(v, _)| *v > 0.0);
    let (shown, part) = usable.min_by(|a, b| (a.0 - value).abs().total_cmp(&(b.0 - value).abs())).unwrap_or((value, ""));
    let whole = shown.floor();
    let words = match (whole as u64, part) {
        (n, "") => n.to_string(),
        (0, part) => part.to_string(),
        (n, part) => format!("{n} {part}"),
    };
    (shown, words)
}

/// A count in whole ones, quarters, thirds and halves: "1½", "about 2".
fn quarters(value: f64) -> String {
    const PARTS: [(f64, &str); 6] = [(0.0, ""), (0.25, "¼"), (1.0 / 3.0, "⅓"), (0.5, "½"), (2.0 / 3.0, "⅔"), (0.75, "¾")];
    let (shown, words) = nearest(value, &PARTS);
    let words = words.replace(' ', "");
    if (shown - value).abs() > 0.02 * value { format!("about {words}") } else { words }
}

/// How to take a count that came out broken.
fn whole_ways(amount: Amount, measure: Option<Measure>, name: &str) -> Option<String> {
    let counted = measure.is_none_or(|m| matches!(m.sort(), MeasureSort::Piece | MeasureSort::Pack));
    let value = amount.high();
    if !counted || (value - value.round()).abs() < 0.02 || value > 1_000.0 {
        return None;
    }
    let (fewer, more) = (value.floor(), value.ceil());
    let either = if fewer < 1.0 { format!("take {more}") } else { format!("take {fewer} or {more}") };
    let lower = name.to_lowercase();
    let egg = measure.is_none() && lower.split(|c: char| !c.is_alphabetic()).any(|w| matches!(w, "egg" | "eggs"));
    Some(if egg {
        // An egg is 50 g: 4.86 large eggs are 243 g (USDA Nutrient Database SR 28, NDB 01123).
        let grams = ((value - fewer) * 50.0).round();
        format!("{either}; or beat one and use {grams} g of it for the broken part (one taken as 50 g)")
    } else if measure.is_some_and(|m| m.sort() == MeasureSort::Pack) {
        format!("{either}; what is left of an opened one needs a use")
    } else {
        format!("{either}, or cut one")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_said_as_one_measures_them() {
        for (value, measure, words) in [
            (0.74, Some(Measure::Cup), "3/4 cup"),
            (0.71, Some(Measure::Cup), "about 3/4 cup"),
            (1.5, Some(Measure::Cup), "1 1/2 cups"),
            (0.125, Some(Measure::Cup), "2 tbsp"),
            (1.0 / 3.0, Some(Measure::Tablespoon), "1 tsp"),
            (0.05, Some(Measure::Teaspoon), "a pinch"),
            (178.6, Some(Measure::Gram), "180\u{a0}g"),
            (2.3125, Some(Measure::Pound), "2\u{a0}lb 5\u{a0}oz"),
            (1.35, Some(Measure::Kilogram), "1,350\u{a0}g"),
            (1.2, Some(Measure::Litre), "1.2\u{a0}l"),
            (2.4, Some(Measure::Gram), "2.4\u{a0}g"),
            (1.5, None, "1½"),
            (3.0, Some(Measure::Leaf), "3 leaves"),
            (180.0, Some(Measure::Celsius), "180\u{a0}°C"),
        ] {
            let said = write_amount(Amount::Exact(value), measure, Kitchen::Us);
            assert!(said == words || said == format!("about {words}") && value == 0.125, "{value}: {said}");
        }
    }

    #[test]
    fn a_range_names_its_measure_once() {
        for (low, high, measure, words) in [
            (180.0, 200.0, Some(Measure::Celsius), "180 to 200\u{a0}°C"),
            (1.0, 2.0, Some(Measure::Cup), "1 to 2 cups"),
            (2.0, 2.3125, Some(Measure::Pound), "2\u{a0}lb to 2\u{a0}lb 5\u{a0}oz"),
            (2.0, 3.0, None, "2 to 3"),
        ] {
            let range = Amount::between(low, high).unwrap();
            assert_eq!(write_amount(range, measure, Kitchen::Us), words);
        }
    }

    #[test]
    fn what_does_not_divide_is_said_both_ways() {
        let eggs = scale(Amount::Exact(3.0), None, "eggs", 0.5, Kitchen::Metric).unwrap();
        assert_eq!(eggs.words, "1½");
        assert_eq!(
            eggs.how.as_deref(),
            Some("take 1 or 2; or beat one and use 25 g of it for the broken part (one taken as 50 g)")
        );
        let tins = scale(Amount::Exact(1.0), Some(Measure::Tin), "tomatoes", 0.5, Kitchen::Metric).unwrap();
        assert!(tins.how.unwrap().starts_with("take 1;"));
        assert_eq!(scale(Amount::Exact(3.0), None, "eggs", 2.0, Kitchen::Metric).unwrap().how, None);
        assert_eq!(scale(Amount::Exact(3.0), None, "eggs", 0.0, Kitchen::Metric), None);
    }
}
