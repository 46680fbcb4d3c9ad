//! How a recipe is made: its instructions as steps, with minutes where they state them, and a guess at hands and place.

use crate::{
    book::StepPlace,
    quantity::{Measure, OvenSetting, read_oven},
};

/// An instruction as a step of the dish.
#[derive(Clone, Debug, PartialEq)]
pub struct ProposedStep {
    /// What to do, as the recipe has it.
    pub text: String,
    /// Minutes, where the text states them.
    pub minutes: Option<u16>,
    /// Whether it takes the cook's hands. Proposed.
    pub hands: bool,
    /// Where it happens. Proposed.
    pub place: StepPlace,
    /// What was taken on what ground; each a few words.
    pub because: Vec<String>,
}

/// Words for what goes on without hands.
const WAITING: [&str; 24] = [
    "bake",
    "roast",
    "simmer",
    "leave",
    "rest",
    "stand",
    "chill",
    "marinate",
    "marinade",
    "cool",
    "braise",
    "soak",
    "prove",
    "rise",
    "refrigerate",
    "freeze",
    "infuse",
    "stew",
    "overnight",
    "steam",
    "preheat",
    "boil",
    "poach",
    "steep",
];
/// Words for what hands do.
const BUSY: [&str; 44] = [
    "chop", "slice", "shred", "peel", "grate", "dice", "cut", "mix", "whisk", "beat", "stir", "knead", "roll", "fold", "blend",
    "toss", "fry", "saute", "sauté", "turn", "spread", "layer", "fill", "shape", "crush", "mash", "rub", "squeeze", "trim",
    "core", "wash", "rinse", "combine", "sprinkle", "season", "arrange", "serve", "melt", "brush", "coat", "soften", "brown",
    "add", "spoon",
];
/// Words for the place, the surest first.
const PLACES: [(StepPlace, &[&str]); 3] = [
    (StepPlace::Fridge, &["fridge", "refrigerate", "refrigerator", "chill"]),
    (StepPlace::Oven, &["bake", "roast", "oven", "preheat"]),
    (
        StepPlace::Ring,
        &[
            "fry", "simmer", "boil", "saute", "sauté", "braise", "stew", "melt", "soften", "saucepan", "pan", "pot", "wok",
            "frying", "poach", "steam", "cook", "heat", "brown", "skillet", "reduce", "blanch", "wilt", "toast",
        ],
    ),
];
/// From so many minutes on nobody stands over a pot that simmers.
const LONG: u16 = 8;

fn words(text: &str) -> Vec<String> {
    text.to_lowercase().split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_string).collect()
}

/// An instruction as a step.
pub(super) fn step_of(text: &str) -> ProposedStep {
    let words = words(text);
    let mut because = Vec::new();
    let minutes = stated_minutes(text, &mut because);
    let first = |list: &[&'static str]| words.iter().find_map(|w| list.iter().find(|l| **l == w.as_str()).copied());
    let heats_only = words.first().is_some_and(|w| w == "preheat")
        || (words.first().is_some_and(|w| w == "heat") && words.iter().take(3).any(|w| w == "oven") && words.len() <= 14);
    let found = PLACES.iter().find_map(|(place, list)| first(list).map(|word| (*place, word)));
    let (place, word) = match found {
        // What only lights the oven is done by hand, at the bench.
        _ if heats_only => (StepPlace::Bench, Some("heat the oven")),
        Some((place, word)) => (place, Some(word)),
        None => (StepPlace::Bench, None),
    };
    because.push(match word {
        Some(word) => format!("{}: \"{word}\"", place_word(place)),
        None => format!("{}: nothing speaks for another place", place_word(place)),
    });
    let (waits, works) = (first(&WAITING), first(&BUSY));
    let hands = match (waits, works) {
        _ if heats_only => true,
        (Some(_), None) => minutes.is_some_and(|m| m < LONG),
        (Some(_), Some(_)) => minutes.is_none_or(|m| m < LONG),
        (None, _) => true,
    };
    because.push(match (hands, waits, works) {
        (false, Some(word), _) => format!("hands free: \"{word}\""),
        (true, _, Some(word)) => format!("hands busy: \"{word}\""),
        (true, Some(_), None) if !heats_only => "hands busy: it is short".into(),
        _ => "hands busy: nothing speaks for waiting".into(),
    });
    ProposedStep { text: text.trim().to_string(), minutes, hands, place, because }
}

/// The word for a place.
pub fn place_word(place: StepPlace) -> &'static str {
    match place {
        StepPlace::Bench => "bench",
        StepPlace::Ring => "ring",
        StepPlace::Oven => "oven",
        StepPlace::Fridge => "fridge",
    }
}

/// Times that are said without a figure, the longer before those that they hold.
const IN_WORDS: [(&str, &str); 7] = [
    ("three quarters of an hour", "45 minutes"),
    ("an hour and a half", "90 minutes"),
    ("one and a half hours", "90 minutes"),
    ("a quarter of an hour", "15 minutes"),
    ("quarter of an hour", "15 minutes"),
    ("half an hour", "30 minutes"),
    ("a minute or two", "2 minutes"),
];

/// The longest step that is taken: a week.
const MOST_MINUTES: f64 = 10_080.0;

/// The minutes that a text states, all its times together; of a range the longer. "Every 5 minutes" is how often, not how long.
fn stated_minutes(text: &str, because: &mut Vec<String>) -> Option<u16> {
    let mut lower = text.to_lowercase();
    for (words, figures) in IN_WORDS {
        lower = lower.replace(words, figures);
    }
    let tokens = tokens(&lower);
    let mut total = 0.0;
    let mut said: Vec<String> = Vec::new();
    let mut sides = false;
    let (mut last, mut before): (f64, Option<usize>) = (0.0, None);
    let mut at = 0;
    while at < tokens.len() {
        let Some(value) = number(&tokens[at]) else {
            at += 1;
            continue;
        };
        // "25 to 30", "25-30": the longer.
        let (mut value, mut next) = (value, at + 1);
        let ranged = tokens.get(next).is_some_and(|t| is_range_mark(t));
        if ranged && let Some(higher) = tokens.get(next + 1).and_then(|t| number(t)) {
            (value, next) = (higher.max(value), next + 2);
        } else if let Some(part) = tokens.get(next).and_then(|t| number(t)).filter(|p| *p < 1.0) {
            // "1 1/2 hours".
            (value, next) = (value + part, next + 1);
        }
        let unit = tokens.get(next).and_then(|t| unit_minutes(t));
        let Some(unit) = unit else {
            at = next.max(at + 1);
            continue;
        };
        let often = at > 0 && matches!(tokens[at - 1].as_str(), "every" | "each");
        if !often {
            let now = value * unit;
            // "45 minutes to 1 hour" is one time, the longer.
            let one_time = before.is_some_and(|end| at == end + 2 && is_range_mark(&tokens[end + 1]));
            total = if one_time { total - last + now.max(last) } else { total + now };
            last = if one_time { now.max(last) } else { now };
            before = Some(next);
            said.push(tokens[at..=next].join(" "));
            let after: Vec<&str> = tokens[next + 1..].iter().take(3).map(String::as_str).collect();
            sides |= matches!(
                after.as_slice(),
                ["per", "side", ..] | ["a", "side", ..] | ["each", "side", ..] | ["on", "each", "side", ..]
            );
        }
        at = next + 1;
    }
    if said.is_empty() || total <= 0.0 || total > MOST_MINUTES {
        return None;
    }
    let mut words = format!("minutes: \"{}\"", said.join("\" and \""));
    if sides {
        total *= 2.0;
        words.push_str(", on both sides");
    }
    because.push(words);
    Some(total.min(MOST_MINUTES).ceil() as u16)
}

/// Words, numbers and dashes.
fn tokens(text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut now = String::new();
    let kind = |c: char| match c {
        c if c.is_numeric() || matches!(c, '.' | '/' | ',') => 1,
        c if c.is_alphabetic() => 2,
        '-' | '–' | '—' => 3,
        _ => 0,
    };
    let mut last = 0;
    for c in text.chars() {
        let k = kind(c);
        if k != last && !now.is_empty() {
            out.push(std::mem::take(&mut now));
        }
        if k != 0 {
            now.push(c);
        }
        last = k;
    }
    if !now.is_empty() {
        out.push(now);
    }
    // "30." at the end of a sentence is 30.
    out.into_iter().map(|t| t.trim_matches(|c| c == '.' || c == ',').to_string()).filter(|t| !t.is_empty() && t != "/").collect()
}

fn is_range_mark(token: &str) -> bool {
    matches!(token, "-" | "–" | "—" | "to" | "or")
}

fn number(token: &str) -> Option<f64> {
    let told = match token {
        "half" | "½" => Some(0.5),
        "¼" => Some(0.25),
        "¾" => Some(0.75),
        "a" | "an" | "one" => Some(1.0),
        "two" => Some(2.0),
        "three" => Some(3.0),
        "four" => Some(4.0),
        "five" => Some(5.0),
        "six" => Some(6.0),
        "eight" => Some(8.0),
        "ten" => Some(10.0),
        _ => None,
    };
    let over = || {
        let (over, under) = token.split_once('/')?;
        let (over, under): (f64, f64) = (over.parse().ok()?, under.parse().ok()?);
        (under > 0.0).then_some(over / under)
    };
    let mixed = || {
        let whole: String = token.chars().take_while(char::is_ascii_digit).collect();
        // "1½"; without figures before it the sign alone has been looked at above.
        let part = token.strip_prefix(whole.as_str()).filter(|r| !whole.is_empty() && r.chars().count() == 1)?;
        let part = number(part).filter(|p| *p < 1.0)?;
        Some(whole.parse::<f64>().ok()? + part)
    };
    let plain = || token.parse::<f64>().ok();
    told.or_else(plain).or_else(over).or_else(mixed).filter(|v| v.is_finite() && *v > 0.0)
}

fn unit_minutes(token: &str) -> Option<f64> {
    match token {
        "min" | "mins" | "minute" | "minutes" => Some(1.0),
        "h" | "hr" | "hrs" | "hour" | "hours" => Some(60.0),
        "sec" | "secs" | "second" | "seconds" => Some(1.0 / 60.0),
        _ => None,
    }
}

/// The oven's heat in degrees Celsius without a fan, and how it was read: the first that a step about an oven gives.
pub(super) fn oven_of<'a>(texts: impl IntoIterator<Item = &'a str>) -> Option<(u16, String)> {
    texts.into_iter().find_map(|text| {
        let lower = text.to_lowercase();
        let about = ["oven", "bake", "roast", "gas mark"].iter().any(|w| lower.contains(w)) && !lower.contains(" oil to");
        if !about {
            return None;
        }
        let words: Vec<&str> = text.split_whitespace().take(200).collect();
        (0..words.len()).filter(|at| starts_heat(words[*at])).find_map(|at| {
            (1..=9.min(words.len() - at)).rev().find_map(|len| {
                let said = words[at..at + len].join(" ");
                let said = said.trim_end_matches(['.', ',', ';', ':']);
                let oven = read_oven(said)?;
                let degrees = oven.temperature.in_celsius().round();
                // Under 80 it is the heat within the meat, over 300 no kitchen's oven.
                (80.0..=300.0).contains(&degrees).then(|| (tidy(degrees, oven.scale), oven_words(said, &oven)))
            })
        })
    })
}

fn starts_heat(word: &str) -> bool {
    let word = word.trim_start_matches('(');
    word.starts_with(|c: char| c.is_ascii_digit()) || word.eq_ignore_ascii_case("gas")
}

/// To a mark that an oven has; what is reckoned from another scale to tens, as charts do.
fn tidy(degrees: f64, scale: Measure) -> u16 {
    let step = if scale == Measure::Celsius { 5.0 } else { 10.0 };
    ((degrees / step).round() * step) as u16
}

fn oven_words(said: &str, oven: &OvenSetting) -> String {
    match &oven.doubt {
        Some(doubt) => format!("\"{said}\": {doubt}"),
        None => format!("\"{said}\""),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn minutes(text: &str) -> Option<u16> {
        stated_minutes(text, &mut Vec::new())
    }

    #[test]
    fn minutes_are_taken_where_they_stand_and_nowhere_else() {
        for (text, found) in [
            ("Add everything else, cover, and braise gently for 1 hour 20 minutes.", Some(80)),
            ("Soften for 10 minutes.", Some(10)),
            ("Bake 25-30 mins until golden.", Some(30)),
            ("Bake for 25 to 30 minutes.", Some(30)),
            ("Roast for 45 minutes to 1 hour, then rest for 10 minutes.", Some(70)),
            ("Fry for 5 minutes, then simmer for 20 minutes.", Some(25)),
            ("Simmer for 1½ hours.", Some(90)),
            ("Simmer for 1 1/2 hours.", Some(90)),
            ("Leave for half an hour.", Some(30)),
            ("Leave for an hour.", Some(60)),
            ("Leave for an hour and a half.", Some(90)),
            ("Leave for a quarter of an hour.", Some(15)),
            ("Sear for 30 seconds.", Some(1)),
            ("Fry 3 minutes per side.", Some(6)),
            ("Fry 3 minutes on each side.", Some(6)),
            ("Roast for 40 minutes, turning every 10 minutes.", Some(40)),
            ("Leave overnight.", None),
            ("Cut 6 apples into 8 wedges.", None),
            ("Heat the oven to 200 C.", None),
            ("Serve hot.", None),
            ("Leave for 99999 hours.", None),
            ("", None),
        ] {
            assert_eq!(minutes(text), found, "{text}");
        }
    }

    #[test]
    fn hands_and_place_are_proposed_from_words() {
        for (text, hands, place) in [
            ("Heat the oven to 200 C.", true, StepPlace::Bench),
            ("Roast the squash for 40 minutes.", false, StepPlace::Oven),
            ("Melt the butter in a heavy pot and soften the cabbage for 10 minutes.", true, StepPlace::Ring),
            ("Add everything else, cover, and braise gently for 1 hour 20 minutes.", false, StepPlace::Ring),
            ("Chill for 2 hours.", false, StepPlace::Fridge),
            ("Shred the cabbage finely.", true, StepPlace::Bench),
            ("Rest for 10 minutes.", false, StepPlace::Bench),
            ("Boil the florets for 3 minutes.", true, StepPlace::Ring),
            ("Cook for 1 minute more.", true, StepPlace::Ring),
        ] {
            let step = step_of(text);
            assert_eq!((step.hands, step.place), (hands, place), "{text}: {:?}", step.because);
            assert!(step.because.len() >= 2, "each says why");
        }
    }

    #[test]
    fn the_ovens_heat_is_found_and_other_heats_are_not() {
        for (text, found) in [
            ("Heat the oven to 200 C.", Some(200)),
            ("Preheat the oven to 180C/160C fan/gas 4 and line a tin.", Some(180)),
            ("Preheat oven to 400 F.", Some(200)),
            ("Bake at gas mark 6 for 20 minutes.", Some(200)),
            ("Roast at 200°C until the thermometer says 74 °C.", Some(200)),
            ("Roast until the thermometer says 74 °C.", None),
            ("Simmer at 90 C.", None),
            ("Bake for 20 minutes.", None),
        ] {
            assert_eq!(oven_of([text]).map(|o| o.0), found, "{text}");
        }
    }
}
