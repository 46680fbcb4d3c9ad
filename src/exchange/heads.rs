//! For how many a recipe is, out of what it says it makes: "6 servings", "serves 4 to 6", "4".
//!
//! Only people and portions count. "8 pancakes" feeds nobody knows how many, and is said to be open.

use crate::quantity::Amount;

/// The most that a recipe may feed (house limit).
const MOST: f64 = 200.0;

/// For how many a recipe is.
#[derive(Clone, Debug, PartialEq)]
pub struct Heads {
    /// How many, or from how many to how many.
    pub count: Amount,
    /// Whether the page says in words that people or portions are meant.
    pub certain: bool,
    /// What was read, in words.
    pub because: String,
}

impl Heads {
    /// One figure to reckon with: the middle of a range.
    pub fn middle(&self) -> f64 {
        middle(self.count)
    }
}

/// The middle of an amount.
pub(super) fn middle(amount: Amount) -> f64 {
    f64::midpoint(amount.low(), amount.high())
}

/// Words before the figure.
const BEFORE: [&str; 5] = ["serves", "serve", "feeds", "feed", "for"];
/// Words behind the figure.
const BEHIND: [&str; 17] = [
    "servings",
    "serving",
    "people",
    "persons",
    "person",
    "portions",
    "portion",
    "helpings",
    "helping",
    "eaters",
    "adults",
    "heads",
    "portionen",
    "personen",
    "personnes",
    "personas",
    "porzioni",
];
/// Words that say nothing of what is counted. "Makes" is none of them: "makes 12" may be fritters.
const EMPTY: [&str; 7] = ["about", "approx", "approximately", "ca", "to", "or", "around"];
/// Numbers in words.
const NUMBERS: [&str; 12] = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/// For how many `yields` is; else the reason why that is open, in one sentence.
pub fn heads_of(yields: Option<&str>) -> Result<Heads, String> {
    let Some(yields) = yields.map(str::trim).filter(|y| !y.is_empty()) else {
        return Err("The page does not say for how many it is.".into());
    };
    let brief: String = yields.chars().take(60).collect();
    let open = || format!("The page says \"{brief}\", and not for how many that is.");
    let lower = yields.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).take(40).collect();
    let number = |at: usize| -> Option<f64> {
        let word = words.get(at)?;
        let told = NUMBERS.iter().position(|n| n == word).map(|n| n as f64 + 1.0);
        word.parse::<u32>().ok().map(f64::from).or(told).filter(|n| (1.0..=MOST).contains(n))
    };
    let counted = (0..words.len()).find(|at| {
        let behind = BEHIND.contains(&words[*at]) && *at > 0 && number(*at - 1).is_some();
        behind || (BEFORE.contains(&words[*at]) && number(*at + 1).is_some())
    });
    let (last, certain) = match counted {
        Some(at) if BEFORE.contains(&words[at]) => {
            let to = usize::from(matches!(words.get(at + 2), Some(&("to" | "or"))));
            let more = at + 2 + to;
            (if number(more).is_some() && words.get(more + 1).is_none_or(|w| BEHIND.contains(w)) { more } else { at + 1 }, true)
        }
        Some(at) => (at - 1, true),
        None if words.iter().enumerate().all(|(at, w)| number(at).is_some() || EMPTY.contains(w)) => {
            match (0..words.len()).rev().find(|at| number(*at).is_some()) {
                Some(at) => (at, false),
                None => return Err(open()),
            }
        }
        None => return Err(open()),
    };
    let Some(high) = number(last) else { return Err(open()) };
    // "4-6" and "4 to 6" are ranges; "4.5" and "1/2" are not.
    let gap = if last >= 2 && matches!(words[last - 1], "to" | "or") { 2 } else { 1 };
    let dashed = lower.contains(['-', '–', '—', '−']) || gap == 2;
    let low = last.checked_sub(gap).and_then(number).filter(|low| dashed && *low < high).unwrap_or(high);
    let Some(count) = Amount::between(low, high) else { return Err(open()) };
    let because = match (certain, count) {
        (true, Amount::Exact(_)) => format!("the page says \"{brief}\""),
        (true, Amount::Range { .. }) => format!("the page says \"{brief}\"; the middle is taken"),
        (false, _) => format!("the page says \"{brief}\", which is taken for portions"),
    };
    Ok(Heads { count, certain: certain && matches!(count, Amount::Exact(_)), because })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn people_and_portions_are_counted_and_nothing_else_is() {
        for (text, count, certain) in [
            ("6 servings", (6.0, 6.0), true),
            ("Serves 4", (4.0, 4.0), true),
            ("Serves 4-6", (4.0, 6.0), false),
            ("serves 4 to 6 people", (4.0, 6.0), false),
            ("4–6 portions", (4.0, 6.0), false),
            ("2 people", (2.0, 2.0), true),
            ("Serves four", (4.0, 4.0), true),
            ("Makes 12 rolls, serves 4", (4.0, 4.0), true),
            ("4", (4.0, 4.0), false),
            ("about 4", (4.0, 4.0), false),
            ("für 4 Personen", (4.0, 4.0), true),
            ("6 servings (1 cup each)", (6.0, 6.0), true),
        ] {
            let heads = heads_of(Some(text)).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert_eq!((heads.count.low(), heads.count.high(), heads.certain), (count.0, count.1, certain), "{text}");
        }
        for text in
            ["Makes 12", "8 pancakes", "1 loaf", "a lot", "0 servings", "servings: 99999", "1 kg", "", "-", "½ jar", "24 x 2 cm"]
        {
            assert!(heads_of(Some(text)).is_err(), "{text}: {:?}", heads_of(Some(text)));
        }
        assert!(heads_of(None).unwrap_err().contains("does not say"));
    }
}
