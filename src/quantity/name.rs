//! What is left of an ingredient line once its amount is read: the name, and the note behind it.

use super::{Kitchen, Measure, MeasureSort, amount::strip_word, measured::second};

/// Name, note and what else stood there.
pub(super) struct Rest {
    pub(super) name: String,
    pub(super) note: String,
    /// The same amount in other measures.
    pub(super) also: Vec<String>,
    /// A measure that stands behind the name: "4 garlic cloves".
    pub(super) measure: Option<Measure>,
}

/// Words before a number that say how nearly it is meant.
const ABOUT: [&str; 22] = [
    "approximately",
    "approx.",
    "approx",
    "about",
    "around",
    "roughly",
    "circa",
    "ca.",
    "ca",
    "c.",
    "up to",
    "at least",
    "scant",
    "heaped",
    "heaping",
    "generous",
    "a generous",
    "a good",
    "good",
    "a scant",
    "a heaped",
    "just under",
];

/// `text` without such a word at its start; the word goes to the notes.
pub(super) fn strip_about<'a>(text: &'a str, notes: &mut Vec<String>) -> &'a str {
    let mut text = text;
    if let Some(rest) = text.strip_prefix(['~', '≈']) {
        notes.push("about".into());
        text = rest.trim_start();
    }
    for word in ABOUT {
        if let Some(rest) = strip_word(text, word)
            && !rest.is_empty()
            && (!word.starts_with("a ") && !matches!(word, "good" | "generous")
                || Measure::at_start(rest).is_some()
                || starts_number(rest))
        {
            // "a generous pinch" keeps its "one": the measure reads it.
            notes.push(word.trim_start_matches("a ").trim_end_matches('.').to_string());
            return rest;
        }
    }
    text
}

fn starts_number(text: &str) -> bool {
    super::amount::read_number(text).is_some()
}

/// Words that begin a note though no comma stands before them.
const NOTE_STARTS: [&str; 32] = [
    "to taste",
    "to serve",
    "to garnish",
    "to finish",
    "to decorate",
    "to glaze",
    "to dust",
    "to sprinkle",
    "to drizzle",
    "to season",
    "to cover",
    "to grease",
    "for frying",
    "for serving",
    "for garnish",
    "for dusting",
    "for greasing",
    "for brushing",
    "for drizzling",
    "for sprinkling",
    "for the",
    "for deep-frying",
    "for rolling",
    "for glazing",
    "as needed",
    "as required",
    "plus extra",
    "plus more",
    "or to taste",
    "or more to taste",
    "at room temperature",
    "if needed",
];

/// Splits `rest` into name and note; `before` are notes that were found already.
pub(super) fn split_rest(rest: &str, before: &[String], measure: Option<Measure>, kitchen: Kitchen) -> Rest {
    let mut notes: Vec<String> = before.to_vec();
    let mut also = Vec::new();
    let outside = take_brackets(rest, &mut notes, &mut also, kitchen);
    let outside = outside.trim().trim_start_matches([',', ';', ':']).trim();
    let (mut name, note) = match split_at_note(outside) {
        Some((name, note)) => (name, Some(note)),
        None => (outside, None),
    };
    name = strip_word(name, "of").unwrap_or(name).trim();
    let mut tail = String::new();
    let lower = name.to_lowercase();
    let begun = NOTE_STARTS.iter().filter_map(|w| find_words(&lower, w)).min().filter(|_| lower.len() == name.len());
    if let Some(at) = begun {
        tail = name[at..].trim().to_string();
        name = name[..at].trim_end_matches([' ', ',', '-', '–']);
    }
    // "fresh yeast or 5 g dried": another amount of another thing.
    if let Some(at) = name.find(" or ").filter(|at| second(&name[at + 4..], kitchen).is_some()) {
        tail = if tail.is_empty() { name[at + 1..].to_string() } else { format!("{}; {tail}", &name[at + 1..]) };
        name = &name[..at];
    }
    if let Some(stripped) = name.strip_suffix(" optional") {
        name = stripped.trim_end();
        tail = "optional".into();
    }
    let note = note.map(|n| n.trim().trim_matches([',', ';']).trim().to_string());
    notes.extend([tail].into_iter().chain(note).filter(|n| !n.is_empty()));
    let (name, found) = match measure {
        None => trailing_measure(name),
        Some(_) => (name, None),
    };
    Rest { name: name.trim_end_matches([':', ',', ' ']).to_string(), note: notes.join("; "), also, measure: found }
}

/// Takes what stands in brackets out of `rest`: an amount in other measures, or a note.
fn take_brackets(rest: &str, notes: &mut Vec<String>, also: &mut Vec<String>, kitchen: Kitchen) -> String {
    let mut outside = String::with_capacity(rest.len());
    let mut inside = String::new();
    let mut depth = 0usize;
    let mut put = |inside: &mut String| {
        let text = inside.trim().to_string();
        inside.clear();
        if text.is_empty() {
            return;
        }
        let bare = strip_word(&text, "about")
            .or_else(|| strip_word(&text, "approx"))
            .unwrap_or(&text)
            .trim_start_matches(['~', '.', ' ']);
        match second(bare, kitchen) {
            Some((_, _, tail)) if only_measures(tail, kitchen) => also.push(text),
            _ => notes.push(text),
        }
    };
    for c in rest.chars() {
        match c {
            '(' | '[' => {
                depth += 1;
                if depth > 1 {
                    inside.push(c);
                }
            }
            ')' | ']' if depth > 0 => {
                depth -= 1;
                if depth == 0 {
                    put(&mut inside);
                    outside.push(' ');
                } else {
                    inside.push(c);
                }
            }
            ')' | ']' => outside.push(' '),
            _ if depth > 0 => inside.push(c),
            _ => outside.push(c),
        }
    }
    put(&mut inside);
    let words: Vec<&str> = outside.split(' ').filter(|w| !w.is_empty()).collect();
    words.join(" ").replace(" ,", ",").replace(" ;", ";")
}

/// Whether nothing but further amounts follows: "7 oz / 1 cup".
fn only_measures(tail: &str, kitchen: Kitchen) -> bool {
    let mut tail = tail;
    for _ in 0..4 {
        tail = tail.trim_start_matches([' ', '/', ',', ';', '|', '.']);
        if tail.is_empty() {
            return true;
        }
        match second(tail, kitchen) {
            Some((_, _, after)) => tail = after,
            None => return false,
        }
    }
    false
}

/// Words that only go before a name: a comma behind them parts nothing ("skinless, boneless chicken thighs").
const ONLY_BEFORE: [&str; 22] = [
    "large",
    "small",
    "medium",
    "big",
    "fresh",
    "ripe",
    "raw",
    "lean",
    "thick",
    "thin",
    "frozen",
    "dried",
    "skinless",
    "boneless",
    "skin-on",
    "bone-in",
    "free-range",
    "organic",
    "unsalted",
    "unsweetened",
    "firm",
    "plump",
];

/// The name before the first comma, semicolon or dash between blanks, and the note behind it.
fn split_at_note(text: &str) -> Option<(&str, &str)> {
    let mut from = 0;
    loop {
        let mut best: Option<(usize, usize)> = None;
        for mark in [", ", "; ", " - ", " – ", " — ", ","] {
            if let Some(at) = text[from..].find(mark).map(|at| from + at)
                && best.is_none_or(|b| at < b.0)
            {
                best = Some((at, mark.len()));
            }
        }
        let (at, long) = best?;
        let (before, after) = (&text[..at], &text[at + long..]);
        let mut words = text[from..at].split([' ', ',']).filter(|w| !w.is_empty()).peekable();
        let goes_on = text[at..].starts_with(", ") && words.peek().is_some() && !after.trim().is_empty();
        if !(goes_on && words.all(|w| ONLY_BEFORE.contains(&w.to_lowercase().as_str()))) {
            return Some((before, after));
        }
        from = at + long;
    }
}

/// Where `words` stand in `text` with blanks around them, not at the very start.
fn find_words(text: &str, words: &str) -> Option<usize> {
    let at = text.find(&format!(" {words}"))?;
    let end = at + 1 + words.len();
    text[end..].chars().next().is_none_or(|c| !c.is_alphanumeric()).then_some(at)
}

/// "garlic cloves", "thyme sprigs", "bacon rashers": the measure behind the name.
fn trailing_measure(name: &str) -> (&str, Option<Measure>) {
    let Some((head, last)) = name.rsplit_once(' ') else {
        return (name, None);
    };
    let celery = head.to_lowercase().ends_with("celery");
    match Measure::from_word(last) {
        Some(m @ (Measure::Clove | Measure::Sprig | Measure::Rasher | Measure::Stalk)) => (head, Some(m)),
        Some(m @ (Measure::Stick | Measure::Rib)) if celery => (head, Some(m)),
        Some(m @ Measure::Slice) => (head, Some(m)),
        Some(m) if m.sort() == MeasureSort::Vague && m == Measure::Handful => (head, Some(m)),
        _ => (name, None),
    }
}
