//! How hot an oven is: degrees Celsius, degrees Fahrenheit, gas marks, and the same oven with its fan on.

use super::{
    Measure,
    amount::{range_mark, read_number, strip_word},
};

/// What a fan takes off the degrees Celsius for the same heat: 20 (typical in UK oven charts; makers vary from 10 to 20).
pub const FAN_LESS: f64 = 20.0;

/// How far two ways to say one heat may lie apart before we say so: charts round to 10 degrees either way.
const CHARTS_AGREE: f64 = 15.0;

/// A temperature. Kept in degrees Celsius, from absolute zero up.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Temperature(f64);

impl Temperature {
    /// `degrees` Celsius; `None` below absolute zero and over 2000.
    pub fn celsius(degrees: f64) -> Option<Temperature> {
        (-273.15..=2_000.0).contains(&degrees).then_some(Temperature(degrees))
    }

    /// `degrees` Fahrenheit, exact: C = (F - 32) x 5/9 (NIST SP 811, B.8).
    pub fn fahrenheit(degrees: f64) -> Option<Temperature> {
        Temperature::celsius((degrees - 32.0) * 5.0 / 9.0)
    }

    /// A gas mark from 1 to 10, or a half, or a quarter: 275 °F at mark 1, 25 °F more for each mark; 250 °F at a half, 225 °F
    /// at a quarter (the conventional UK scale; cookers differ from it).
    pub fn gas_mark(mark: f64) -> Option<Temperature> {
        let degrees = if mark == 0.25 {
            225.0
        } else if mark == 0.5 {
            250.0
        } else if (1.0..=10.0).contains(&mark) && mark.fract() == 0.0 {
            250.0 + 25.0 * mark
        } else {
            return None;
        };
        Temperature::fahrenheit(degrees)
    }

    /// In degrees Celsius.
    pub fn in_celsius(self) -> f64 {
        self.0
    }

    /// In degrees Fahrenheit.
    pub fn in_fahrenheit(self) -> f64 {
        self.0 * 9.0 / 5.0 + 32.0
    }

    /// The nearest gas mark, within half a mark; `None` where no mark is near.
    pub fn in_gas_marks(self) -> Option<f64> {
        let marks = [0.25, 0.5].into_iter().chain((1..=10).map(f64::from));
        let off = |m: &f64| Temperature::gas_mark(*m).map_or(f64::MAX, |t| (t.0 - self.0).abs());
        marks.min_by(|a, b| off(a).total_cmp(&off(b))).filter(|m| off(m) <= 7.0)
    }
}

/// An oven as a recipe gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct OvenSetting {
    /// The number that stands first.
    pub value: f64,
    /// The higher end, where a range is given.
    pub up_to: Option<f64>,
    /// What it counts: [`Measure::Celsius`], [`Measure::Fahrenheit`] or [`Measure::GasMark`].
    pub scale: Measure,
    /// The same in degrees Celsius, for an oven without a fan.
    pub temperature: Temperature,
    /// Degrees Celsius with the fan on, where the line gives them.
    pub fan: Option<f64>,
    /// The other ways in which it is said, as they stand.
    pub others: Vec<String>,
    /// Where the ways to say it do not agree, or a number was read without its scale.
    pub doubt: Option<String>,
}

/// One way to say it, and what follows.
struct Said<'a> {
    value: f64,
    up_to: Option<f64>,
    scale: Measure,
    fan: bool,
    bare: bool,
    rest: &'a str,
}

/// Reads a line that is an oven setting and nothing else: "gas 6", "180 C / 350 F / gas 4 (fan 160)".
pub fn read_oven(text: &str) -> Option<OvenSetting> {
    let mut rest = text.trim();
    for word in ["preheat the oven to", "oven temperature:", "oven at", "oven to", "oven:", "oven"] {
        if let Some(after) = rest.get(..word.len()).filter(|h| h.eq_ignore_ascii_case(word)).map(|_| &rest[word.len()..]) {
            rest = after.trim_start();
            break;
        }
    }
    let mut all = Vec::new();
    let mut others = Vec::new();
    loop {
        rest = rest.trim_start_matches([' ', '/', '(', ')', ',', ';', '.', '|', '=']);
        rest = strip_word(rest, "or").unwrap_or(rest);
        if rest.is_empty() {
            break;
        }
        let said = one(rest)?;
        if said.bare && all.is_empty() {
            return None;
        }
        let words = rest[..rest.len() - said.rest.len()].trim().to_string();
        if !all.is_empty() {
            others.push(words);
        }
        rest = said.rest;
        all.push(said);
        if all.len() > 8 {
            return None;
        }
    }
    let fan = all.iter().find(|s| s.fan).map(|s| s.value);
    let first = all.iter().find(|s| !s.fan).or(all.first())?;
    let plain = |s: &Said<'_>| {
        let t = heat(s.value, s.scale)?;
        if s.fan { Temperature::celsius(t.in_celsius() + FAN_LESS) } else { Some(t) }
    };
    let temperature = plain(first)?;
    let mut doubt =
        all.iter().filter_map(plain).find(|t| (t.in_celsius() - temperature.in_celsius()).abs() > CHARTS_AGREE).map(|t| {
            format!("it is said in two ways that differ: {:.0} °C and {:.0} °C", temperature.in_celsius(), t.in_celsius())
        });
    if first.fan && doubt.is_none() {
        doubt = Some(format!("only the fan's heat is given; without a fan it is taken as {FAN_LESS} °C more"));
    }
    Some(OvenSetting { value: first.value, up_to: first.up_to, scale: first.scale, temperature, fan, others, doubt })
}

fn heat(value: f64, scale: Measure) -> Option<Temperature> {
    match scale {
        Measure::Celsius => Temperature::celsius(value),
        Measure::Fahrenheit => Temperature::fahrenheit(value),
        _ => Temperature::gas_mark(value),
    }
}

fn one(text: &str) -> Option<Said<'_>> {
    for words in ["gas mark", "gasmark", "gas", "mark", "regulo"] {
        if let Some(after) = strip_word(text, words) {
            let (value, rest, _) = read_number(after)?;
            let (up_to, rest) = higher(rest, value);
            heat(value, Measure::GasMark)?;
            return Some(Said { value, up_to, scale: Measure::GasMark, fan: false, bare: false, rest: after_scale(rest) });
        }
    }
    let led = ["fan oven", "fan-assisted", "fan forced", "fan", "convection"].iter().find_map(|w| strip_word(text, w));
    let (below, start) = match text.strip_prefix(['-', '−']) {
        Some(after) => (-1.0, after),
        None => (1.0, led.unwrap_or(text)),
    };
    let (value, rest, _) = read_number(start)?;
    let (up_to, rest) = higher(rest, value);
    let value = value * below;
    let near = rest.trim_start();
    let marked = near.strip_prefix(['°', 'º', '˚']).or_else(|| strip_word(near, "degrees")).or_else(|| strip_word(near, "deg"));
    let near = marked.unwrap_or(near).trim_start();
    let scale = [
        ("celsius", Measure::Celsius),
        ("centigrade", Measure::Celsius),
        ("c", Measure::Celsius),
        ("fahrenheit", Measure::Fahrenheit),
        ("f", Measure::Fahrenheit),
    ]
    .into_iter()
    .find_map(|(word, scale)| strip_word(near, word).map(|rest| (scale, rest)));
    // A small "c" without a sign of degrees is a cup: "2 c flour".
    let hot = marked.is_some() || value.abs() >= 30.0 || led.is_some();
    let (scale, rest, bare) = match scale {
        Some((scale, rest)) if hot => (scale, rest, false),
        None if led.is_some() => (Measure::Celsius, near, false),
        _ => return None,
    };
    heat(value, scale)?;
    let trailing = strip_word(rest.trim_start(), "fan").or_else(|| strip_word(rest.trim_start(), "convection"));
    let rest = after_scale(trailing.unwrap_or(rest));
    Some(Said { value, up_to, scale, fan: led.is_some() || trailing.is_some(), bare, rest })
}

/// "4-5": the higher end behind a mark of a range.
fn higher(rest: &str, low: f64) -> (Option<f64>, &str) {
    match range_mark(rest).and_then(read_number) {
        Some((high, tail, _)) if high > low => (Some(high), tail),
        _ => (None, rest),
    }
}

fn after_scale(rest: &str) -> &str {
    strip_word(rest.trim_start(), "oven").unwrap_or(rest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ovens_are_read_in_every_dialect() {
        for (text, value, scale, celsius, fan) in [
            ("gas 6", 6.0, Measure::GasMark, 204.4, None),
            ("Gas mark ½", 0.5, Measure::GasMark, 121.1, None),
            ("180 C / 350 F / gas 4 (fan 160)", 180.0, Measure::Celsius, 180.0, Some(160.0)),
            ("180°C (160°C fan) gas 4", 180.0, Measure::Celsius, 180.0, Some(160.0)),
            ("350 degrees F", 350.0, Measure::Fahrenheit, 176.7, None),
            ("Oven 200 °C", 200.0, Measure::Celsius, 200.0, None),
            ("-40 F", -40.0, Measure::Fahrenheit, -40.0, None),
        ] {
            let oven = read_oven(text).unwrap_or_else(|| panic!("{text}"));
            assert_eq!((oven.value, oven.scale, oven.fan), (value, scale, fan), "{text}");
            assert!((oven.temperature.in_celsius() - celsius).abs() < 0.06, "{text}: {:?}", oven.temperature);
            assert_eq!(oven.doubt, None, "{text}");
        }
    }

    #[test]
    fn what_is_no_oven_is_left_alone() {
        for text in ["2 c flour", "1 C sugar", "180 g flour", "gas 11", "", "gas", "fan", "500 f"] {
            let oven = read_oven(text);
            assert!(oven.is_none() || text == "500 f", "{text}: {oven:?}");
        }
    }

    #[test]
    fn two_ways_that_differ_are_told() {
        assert!(read_oven("180 C / 400 F").unwrap().doubt.unwrap().contains("204"));
        assert!(read_oven("fan 160").unwrap().doubt.unwrap().contains("fan"));
    }
}
