//! An amount as a recipe gives it: one number, or a range; and the numbers that people write.
//!
//! "1 1/2", "1½", "1-1/2", "3-4", "1,5", "one or two", "half a dozen" all become figures here. What a figure counts
//! (grams, cups, onions) is the business of [`super::Measure`].

use serde::{Serialize, Serializer, ser::SerializeMap};

/// The most that an amount may be; what is larger is no recipe (house limit).
const MOST: f64 = 1_000_000.0;

/// One number, or a range from low to high. Always finite, over 0 and at most a million.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// "3".
    Exact(f64),
    /// "3-4": both ends count, low is below high.
    Range {
        /// The lower end.
        low: f64,
        /// The higher end.
        high: f64,
    },
}

impl Amount {
    /// The amount from `low` to `high`, in whichever order they come; `None` for what is no amount.
    pub fn between(low: f64, high: f64) -> Option<Amount> {
        let sound = |v: f64| v.is_finite() && v > 0.0 && v <= MOST;
        if !sound(low) || !sound(high) {
            return None;
        }
        Some(if low == high { Amount::Exact(low) } else { Amount::Range { low: low.min(high), high: low.max(high) } })
    }

    /// One number; `None` for what is no amount.
    pub fn exact(value: f64) -> Option<Amount> {
        Amount::between(value, value)
    }

    /// The lower end.
    pub fn low(self) -> f64 {
        match self {
            Amount::Exact(v) => v,
            Amount::Range { low, .. } => low,
        }
    }

    /// The higher end.
    pub fn high(self) -> f64 {
        match self {
            Amount::Exact(v) => v,
            Amount::Range { high, .. } => high,
        }
    }

    /// Both ends times `factor`; `None` where that is no amount any more.
    pub fn times(self, factor: f64) -> Option<Amount> {
        Amount::between(self.low() * factor, self.high() * factor)
    }

    /// Both ends with `more` added.
    pub fn plus(self, more: Amount) -> Option<Amount> {
        Amount::between(self.low() + more.low(), self.high() + more.high())
    }
}

/// A number for an exact amount, `{"low": 3, "high": 4}` for a range; four decimals at most.
impl Serialize for Amount {
    fn serialize<S: Serializer>(&self, out: S) -> Result<S::Ok, S::Error> {
        match *self {
            Amount::Exact(v) => tidy(v).serialize(out),
            Amount::Range { low, high } => {
                let mut map = out.serialize_map(Some(2))?;
                map.serialize_entry("low", &tidy(low))?;
                map.serialize_entry("high", &tidy(high))?;
                map.end()
            }
        }
    }
}

/// Four decimals, and a whole number without its ".0".
fn tidy(value: f64) -> serde_json::Number {
    let short = (value * 10_000.0).round() / 10_000.0;
    if short.fract() == 0.0 && short.abs() < 1e9 {
        return serde_json::Number::from(short as i64);
    }
    serde_json::Number::from_f64(short).unwrap_or_else(|| serde_json::Number::from(0))
}

/// What one mark between digits could also have meant: settled once the measure is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Doubt {
    /// "1,500": thousands for grams, but a decimal mark for kilograms.
    CommaBeforeThree,
    /// "1.500": a decimal mark, but thousands for grams.
    PointBeforeThree,
    /// "a few", "several": the number is ours.
    Few(&'static str),
    /// The ends came the wrong way round.
    Turned,
}

/// An amount at the start of `text`, what follows it, and what is doubtful about it.
pub(super) fn read_amount(text: &str) -> Option<(Amount, &str, Option<Doubt>)> {
    if let Some(rest) = strip_word(text, "between")
        && let Some((low, mid, doubt)) = read_number(rest)
        && let Some((high, tail, _)) = joined_by(mid, &["and", "&"]).and_then(read_number)
    {
        return Some((Amount::between(low, high)?, tail, doubt));
    }
    for (words, low, high) in [("a few", 2.0, 4.0), ("few", 2.0, 4.0), ("several", 3.0, 5.0)] {
        if let Some(rest) = strip_word(text, words) {
            return Some((Amount::between(low, high)?, rest, Some(Doubt::Few(words))));
        }
    }
    let (low, rest, doubt) = read_number(text)?;
    match range_mark(rest).and_then(read_number) {
        Some((high, tail, _)) => {
            let turned = (high < low).then_some(Doubt::Turned);
            Some((Amount::between(low, high)?, tail, turned.or(doubt)))
        }
        None => Some((Amount::exact(low)?, rest, doubt)),
    }
}

/// What stands behind a mark of a range: "-4", " – 4", " to 4", " or 4".
pub(super) fn range_mark(rest: &str) -> Option<&str> {
    if let Some(after) = joined_by(rest, &["to", "or", "bis"]) {
        return Some(after);
    }
    let near = rest.trim_start();
    for mark in ['-', '\u{2010}', '\u{2011}', '\u{2012}', '–', '—', '−', '~'] {
        if let Some(after) = near.strip_prefix(mark) {
            return Some(after.trim_start());
        }
    }
    None
}

/// What stands behind one of `words`, whether blanks or hyphens join it on: "1 to 2", "5-to-6", "1 -or- 2".
fn joined_by<'a>(rest: &'a str, words: &[&str]) -> Option<&'a str> {
    let loose = |text: &'a str| {
        let text = text.trim_start();
        text.strip_prefix('-').unwrap_or(text).trim_start()
    };
    words.iter().find_map(|word| strip_word(loose(rest), word)).map(loose)
}

/// `text` without `word` at its start, if a blank or the end follows; small or capital letters are one.
pub(super) fn strip_word<'a>(text: &'a str, word: &str) -> Option<&'a str> {
    let head = text.get(..word.len())?;
    let rest = &text[word.len()..];
    if !head.eq_ignore_ascii_case(word) || rest.starts_with(|c: char| c.is_alphanumeric() || c == '\'' || c == '’') {
        return None;
    }
    Some(rest.trim_start())
}

const WORDS: [(&str, f64); 26] = [
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("four", 4.0),
    ("five", 5.0),
    ("six", 6.0),
    ("seven", 7.0),
    ("eight", 8.0),
    ("nine", 9.0),
    ("ten", 10.0),
    ("eleven", 11.0),
    ("twelve", 12.0),
    ("fifteen", 15.0),
    ("sixteen", 16.0),
    ("eighteen", 18.0),
    ("twenty", 20.0),
    ("twenty-four", 24.0),
    ("thirty", 30.0),
    ("forty", 40.0),
    ("fifty", 50.0),
    ("sixty", 60.0),
    ("seventy", 70.0),
    ("eighty", 80.0),
    ("ninety", 90.0),
    ("hundred", 100.0),
    ("a couple of", 2.0),
];

/// One number at the start of `text`, in digits or words.
pub(super) fn read_number(text: &str) -> Option<(f64, &str, Option<Doubt>)> {
    let text = text.trim_start();
    if text.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == ',' || sign(c).is_some()) {
        return read_digits(text);
    }
    read_words(text).map(|(value, rest)| (value, rest, None))
}

/// A number word at the start; "half-fat" and "one-pot" begin with none, "one-inch" does.
fn read_words(text: &str) -> Option<(f64, &str)> {
    let (value, rest) = any_words(text)?;
    if let Some(after) = rest.strip_prefix('-')
        && after.starts_with(char::is_alphabetic)
        && super::Measure::at_start(after).is_none()
    {
        return None;
    }
    Some((value, rest))
}

fn any_words(text: &str) -> Option<(f64, &str)> {
    for (words, value) in [
        ("half a dozen", 6.0),
        ("a half dozen", 6.0),
        ("half dozen", 6.0),
        ("a dozen", 12.0),
        ("one dozen", 12.0),
        ("dozen", 12.0),
        ("a couple of", 2.0),
        ("a couple", 2.0),
        ("couple of", 2.0),
        ("three quarters of a", 0.75),
        ("three quarters", 0.75),
        ("three-quarters", 0.75),
        ("two thirds of a", 2.0 / 3.0),
        ("two thirds", 2.0 / 3.0),
        ("two-thirds", 2.0 / 3.0),
        ("one third", 1.0 / 3.0),
        ("a third of a", 1.0 / 3.0),
        ("a quarter of a", 0.25),
        ("a quarter", 0.25),
        ("one quarter", 0.25),
        ("quarter of a", 0.25),
        ("quarter", 0.25),
        ("one half", 0.5),
        ("half of a", 0.5),
        ("half of an", 0.5),
        ("half an", 0.5),
        ("half a", 0.5),
        ("a half", 0.5),
        ("half", 0.5),
    ] {
        if let Some(rest) = strip_word(text, words) {
            return Some((value, rest));
        }
    }
    for (word, value) in WORDS.iter().rev() {
        if let Some(rest) = strip_word(text, word) {
            let (mut value, mut rest) = (*value, rest);
            if let Some((more, after)) = ones_behind(value, rest) {
                (value, rest) = (value + more, after);
            }
            if let Some(after) = strip_word(rest, "dozen") {
                (value, rest) = (value * 12.0, after);
            }
            for (tail, more) in [
                ("and a half", 0.5),
                ("and a quarter", 0.25),
                ("and three quarters", 0.75),
                ("and a third", 1.0 / 3.0),
                ("and one third", 1.0 / 3.0),
                ("and two thirds", 2.0 / 3.0),
            ] {
                if let Some(after) = strip_word(rest, tail) {
                    return Some((value + more, after));
                }
            }
            return Some((value, rest));
        }
    }
    // "a" and "an" count one; "a." or "a-" is no number.
    let one = strip_word(text, "an").or_else(|| strip_word(text, "a"))?;
    let gap = text.len() - one.len();
    text[..gap].ends_with(' ').then_some((1.0, one))
}

/// The ones behind a word for tens: "twenty-two", "thirty six", but not "twenty two-inch pieces".
fn ones_behind(tens: f64, rest: &str) -> Option<(f64, &str)> {
    if !(20.0..100.0).contains(&tens) || tens % 10.0 != 0.0 {
        return None;
    }
    let joined = rest.strip_prefix('-');
    let (word, value) = WORDS[..9].iter().find(|(word, _)| strip_word(joined.unwrap_or(rest), word).is_some())?;
    let after = strip_word(joined.unwrap_or(rest), word)?;
    let of_a_size = joined.is_none() && after.starts_with('-');
    (!of_a_size).then_some((*value, after))
}

/// The value of a fraction sign.
fn sign(c: char) -> Option<f64> {
    Some(match c {
        '¼' => 0.25,
        '½' => 0.5,
        '¾' => 0.75,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅕' => 0.2,
        '⅖' => 0.4,
        '⅗' => 0.6,
        '⅘' => 0.8,
        '⅙' => 1.0 / 6.0,
        '⅚' => 5.0 / 6.0,
        '⅐' => 1.0 / 7.0,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        '⅑' => 1.0 / 9.0,
        '⅒' => 0.1,
        _ => return None,
    })
}

fn read_digits(text: &str) -> Option<(f64, &str, Option<Doubt>)> {
    if let Some((value, rest)) = signed(text) {
        return Some((value, rest, None));
    }
    let (first, rest, doubt) = decimal(text)?;
    if let Some((denominator, tail)) = slash(rest) {
        return (denominator > 0.0).then_some((first / denominator, tail, None));
    }
    let near = rest.trim_start();
    let joined = near.strip_prefix(['-', '–']).map(str::trim_start);
    let and = strip_word(near, "and").or_else(|| near.strip_prefix('&').map(str::trim_start));
    for part in [Some(near), joined, and].into_iter().flatten() {
        // "1½", "1 ½"; "1 1/2" and "1-1/2", where the fraction is a true one: "2 3/4" but not "2 4/2".
        if let Some((more, tail)) = signed(part) {
            return Some((first + more, tail, None));
        }
        if let Some((n, after, None)) = decimal(part)
            && let Some((d, tail)) = slash(after)
            && n < d
            && n.fract() == 0.0
            && first.fract() == 0.0
        {
            return Some((first + n / d, tail, None));
        }
    }
    for (tail, more) in [("and a half", 0.5), ("and a quarter", 0.25)] {
        if let Some(after) = strip_word(near, tail) {
            return Some((first + more, after, None));
        }
    }
    if let Some(after) = strip_word(near, "dozen") {
        return Some((first * 12.0, after, None));
    }
    Some((first, rest, doubt))
}

fn signed(text: &str) -> Option<(f64, &str)> {
    let c = text.chars().next()?;
    sign(c).map(|v| (v, &text[c.len_utf8()..]))
}

/// The denominator behind a stroke: "/2", "⁄2", " / 2" not (that sets alternatives apart).
fn slash(rest: &str) -> Option<(f64, &str)> {
    let after = rest.strip_prefix(['/', '\u{2044}', '\u{2215}'])?;
    let end = after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len());
    let denominator: f64 = after[..end].parse().ok()?;
    // "200/220": a stroke between two measures, no fraction that anybody measures.
    (denominator <= 16.0).then_some((denominator, &after[end..]))
}

/// Digits with at most one decimal mark. A comma before exactly three digits sets thousands apart, else it is a decimal mark.
fn decimal(text: &str) -> Option<(f64, &str, Option<Doubt>)> {
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(text.len());
    let digits = text[..end].trim_end_matches(['.', ',']);
    let rest = &text[digits.len()..];
    if !digits.contains(|c: char| c.is_ascii_digit()) || digits.len() > 16 {
        return None;
    }
    let groups: Vec<&str> = digits.split(',').collect();
    let whole = !groups[0].is_empty() && groups[0] != "0" && groups[0].len() <= 3;
    let thousands = groups.len() > 1 && whole && groups[1..].iter().all(|g| g.split('.').next().is_some_and(|w| w.len() == 3));
    let plain = if thousands { digits.replace(',', "") } else { digits.replace(',', ".") };
    let doubt = match digits.split_once('.') {
        _ if thousands && groups.len() == 2 && !digits.contains('.') => Some(Doubt::CommaBeforeThree),
        Some((w, t)) if t.len() == 3 && !digits.contains(',') && !w.is_empty() && !w.starts_with('0') && w.len() <= 3 => {
            Some(Doubt::PointBeforeThree)
        }
        _ => None,
    };
    // "1.500,5" and the like have two marks and fail here.
    plain.parse::<f64>().ok().filter(|v| v.is_finite()).map(|v| (v, rest, doubt))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_people_write_them() {
        for (text, value, rest) in [
            ("1 1/2 cups", 1.5, " cups"),
            ("1½", 1.5, ""),
            ("1 ½ kg", 1.5, " kg"),
            ("1-1/2 c", 1.5, " c"),
            ("1\u{2044}2", 0.5, ""),
            ("1,5 kg", 1.5, " kg"),
            ("1,500 g", 1_500.0, " g"),
            ("0,500 l", 0.5, " l"),
            ("1,234,500 g", 1_234_500.0, " g"),
            (".5 l", 0.5, " l"),
            ("1 and 1/2", 1.5, ""),
            ("one and a half", 1.5, ""),
            ("half a dozen eggs", 6.0, "eggs"),
            ("two dozen", 24.0, ""),
            ("a lemon", 1.0, "lemon"),
            ("an egg", 1.0, "egg"),
            ("twenty-four prawns", 24.0, "prawns"),
            ("twenty-two eggs", 22.0, "eggs"),
            ("thirty six eggs", 36.0, "eggs"),
            ("twenty two-inch pieces", 20.0, "two-inch pieces"),
            ("two and two thirds cups", 2.0 + 2.0 / 3.0, "cups"),
        ] {
            let (found, tail, _) = read_number(text).unwrap();
            assert!((found - value).abs() < 1e-9, "{text}: {found}");
            assert_eq!(tail, rest, "{text}");
        }
        for text in ["apple", "1/0", "", "oneself", "android", "a", "1.2.3", ",", "99999999999999999999 g"] {
            assert!(read_number(text).is_none(), "{text}");
        }
    }

    #[test]
    fn ranges_are_read_whichever_mark_joins_them() {
        for (text, low, high) in [
            ("3-4 tbsp", 3.0, 4.0),
            ("3 – 4", 3.0, 4.0),
            ("3 to 4", 3.0, 4.0),
            ("one or two", 1.0, 2.0),
            ("1½-2", 1.5, 2.0),
            ("1/2-3/4 cup", 0.5, 0.75),
            ("between 2 and 3", 2.0, 3.0),
            ("between 2 & 3", 2.0, 3.0),
            ("between 1-and-4", 1.0, 4.0),
            ("5-to-6", 5.0, 6.0),
            ("1 1/2 -or- 2 1/2", 1.5, 2.5),
            ("4-3", 3.0, 4.0),
        ] {
            let (amount, _, _) = read_amount(text).unwrap();
            assert_eq!((amount.low(), amount.high()), (low, high), "{text}");
        }
    }
}
