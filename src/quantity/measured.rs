//! The amount of an ingredient line: where it stands, what it counts, and what may follow it.
//!
//! A number is followed by a measure, a pack with its size, a second measure to add ("2 lb 5 oz"), the same in other
//! measures ("200 g / 7 oz") or the higher end of a range. It may also stand at the end ("Butter 100 g"), or not be written at
//! all ("pinch of salt").

use super::{
    Amount, Kitchen, Measure, MeasureSort, PackSize,
    amount::{Doubt, range_mark, read_amount, strip_word},
};

/// An amount with what it counts, and the text that is left for name and note.
#[derive(Debug)]
pub(super) struct Measured {
    pub(super) amount: Amount,
    pub(super) measure: Option<Measure>,
    pub(super) pack: Option<PackSize>,
    pub(super) notes: Vec<String>,
    pub(super) also: Vec<String>,
    pub(super) because: Vec<String>,
    pub(super) rest: String,
}

impl Measured {
    fn plain(amount: Amount, measure: Option<Measure>, rest: &str) -> Measured {
        let (pack, rest) = (None, rest.to_string());
        Measured { amount, measure, pack, notes: Vec::new(), also: Vec::new(), because: Vec::new(), rest }
    }
}

/// An amount at the start of the line.
pub(super) fn leading(text: &str, kitchen: Kitchen) -> Option<Measured> {
    let (amount, rest, doubt) = read_amount(text)?;
    // "7-Up", "5-spice": the number is part of a name.
    if rest.strip_prefix('-').is_some_and(|t| t.starts_with(char::is_alphabetic) && Measure::at_start(t).is_none()) {
        return None;
    }
    let rest = rest.trim_start();
    if let Some(m) = times(amount, rest, kitchen).or_else(|| sized_pack(amount, rest, kitchen)) {
        return Some(m);
    }
    let mut m = measured(amount, rest);
    m.settle(doubt);
    m.go_on(kitchen);
    Some(m)
}

/// "2 x 400 g tins", "3 × 2".
fn times(count: Amount, rest: &str, kitchen: Kitchen) -> Option<Measured> {
    let after = rest.strip_prefix(['x', 'X', '×', '*'])?;
    let Some((each, tail, doubt)) = read_amount(after.trim_start()) else {
        // "2 x onions": the sign counts.
        return after.starts_with(' ').then(|| Measured::plain(count, None, after.trim_start()));
    };
    let mut one = measured(each, tail.trim_start());
    one.settle(doubt);
    let Some(measure) = one.measure.filter(|u| u.grams().is_some() || u.millilitres(kitchen).is_some()) else {
        let amount = Amount::between(count.low() * each.low(), count.high() * each.high())?;
        return Some(Measured { amount, ..one });
    };
    pack_of(count, one.amount, measure, one.rest.trim_start(), one.because)
}

/// "2 400 g tins", "2 (14 oz) cans", "1 400-ml tin".
fn sized_pack(count: Amount, rest: &str, kitchen: Kitchen) -> Option<Measured> {
    let (inside, bracketed) = match rest.strip_prefix('(') {
        Some(inner) => (inner, true),
        None => (rest, false),
    };
    let inside = strip_word(inside, "about").unwrap_or(inside);
    if !inside.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let (each, tail, doubt) = read_amount(inside)?;
    let mut one = measured(each, tail.trim_start());
    one.settle(doubt);
    let measure = one.measure.filter(|u| u.grams().is_some() || u.millilitres(kitchen).is_some())?;
    let mut rest = one.rest.as_str();
    if bracketed {
        let close = rest.find(')')?;
        // "2 (7 oz/200 g) fillets": the other way to say it is left out.
        rest = rest[close + 1..].trim_start();
    }
    pack_of(count, one.amount, measure, rest, one.because)
}

fn pack_of(count: Amount, each: Amount, measure: Measure, rest: &str, because: Vec<String>) -> Option<Measured> {
    let rest = rest.trim_start();
    let rest = rest.strip_prefix('-').unwrap_or(rest);
    let (word, rest) = match Measure::at_start(rest) {
        Some((word, tail)) if matches!(word.sort(), MeasureSort::Pack | MeasureSort::Piece) => (Some(word), tail),
        _ => (None, rest),
    };
    let amount = Amount::between(count.low() * each.low(), count.high() * each.high())?;
    let pack = Some(PackSize { count, each, measure, word });
    Some(Measured { pack, because, ..Measured::plain(amount, Some(measure), of(rest)) })
}

/// `rest` without an "of" before the name.
fn of(rest: &str) -> &str {
    let rest = rest.trim_start();
    let rest = strip_word(rest, "of").unwrap_or(rest);
    strip_word(rest, "the").unwrap_or(rest)
}

/// Words that may stand between a number and its measure, and go to the note.
const BEFORE_MEASURE: [&str; 17] = [
    "heaped", "heaping", "level", "scant", "rounded", "generous", "good", "large", "small", "big", "little", "medium", "thin",
    "thick", "packed", "fat", "short",
];

/// The measure at the start of `rest`, adjectives before it aside.
fn measured(amount: Amount, rest: &str) -> Measured {
    let mut near = rest.strip_prefix('-').unwrap_or(rest);
    let mut adjectives = Vec::new();
    while adjectives.len() < 2
        && let Some((word, tail)) = BEFORE_MEASURE.iter().find_map(|w| strip_word(near, w).map(|t| (*w, t)))
    {
        adjectives.push(word.to_string());
        near = tail;
    }
    match Measure::at_start(near) {
        Some((measure, tail)) if is_meant(measure, amount, &near[..near.len() - tail.len()], tail) => {
            Measured { notes: adjectives, ..Measured::plain(amount, Some(measure), tail) }
        }
        _ => Measured::plain(amount, None, rest),
    }
}

/// Whether a word behind a number is its measure, and not the name: "1 fillet steak", "2 spoon biscuits".
fn is_meant(measure: Measure, amount: Amount, word: &str, tail: &str) -> bool {
    let tail = tail.trim_start();
    let followed = strip_word(tail, "of").is_some();
    let plural = word.trim_end().ends_with('s');
    match measure {
        Measure::Fillet | Measure::Cube | Measure::Strip | Measure::Ball | Measure::Drop | Measure::Rib | Measure::Pot => {
            followed || plural || amount.high() <= 1.0 && measure == Measure::Ball
        }
        _ => !tail.strip_prefix('-').is_some_and(|t| t.starts_with(char::is_alphabetic)),
    }
}

impl Measured {
    /// Settles what one mark between digits meant, now that the measure is known.
    fn settle(&mut self, doubt: Option<Doubt>) {
        let large = matches!(self.measure, Some(Measure::Kilogram | Measure::Litre | Measure::Pound));
        let small = matches!(self.measure, Some(Measure::Gram | Measure::Millilitre));
        let (factor, words) = match doubt {
            Some(Doubt::CommaBeforeThree) if large => (0.001, "the comma before three digits is taken as a decimal mark"),
            Some(Doubt::PointBeforeThree) if small => (1_000.0, "the point before three digits is taken to set thousands apart"),
            Some(Doubt::Few(word)) => {
                let (low, high) = (self.amount.low(), self.amount.high());
                self.because.push(format!("\"{word}\" is taken as {low} to {high}"));
                return;
            }
            Some(Doubt::Turned) => {
                self.because.push("the range runs backwards and was turned round".into());
                return;
            }
            _ => return,
        };
        if let Some(amount) = self.amount.times(factor) {
            self.amount = amount;
            self.because.push(words.into());
        }
    }

    /// What may follow a measure: a pack, a second measure to add, the same in other measures, the higher end of a range.
    fn go_on(&mut self, kitchen: Kitchen) {
        for _ in 0..4 {
            if !self.step(kitchen) {
                break;
            }
        }
        self.rest = of(&self.rest).to_string();
    }

    fn step(&mut self, kitchen: Kitchen) -> bool {
        let Some(measure) = self.measure else { return false };
        let rest = self.rest.clone();
        let near = rest.trim_start();
        if self.pack.is_none() && (measure.grams().is_some() || measure.millilitres(kitchen).is_some()) {
            // "a 400 ml tin", "400 g can of tomatoes", "14.5-ounce can".
            let joined = near.strip_prefix('-').unwrap_or(near);
            if let Some((word, tail)) = Measure::at_start(joined)
                && word.sort() == MeasureSort::Pack
            {
                self.pack = Some(PackSize { count: Amount::Exact(1.0), each: self.amount, measure, word: Some(word) });
                self.rest = tail.to_string();
                return true;
            }
        }
        if measure.sort() == MeasureSort::Pack
            && self.pack.is_none()
            && let Some(inner) = near.strip_prefix('(')
            && let Some((each, unit, tail)) = second(inner, kitchen)
            && let Some(close) = tail.find(')')
            && matches!(tail[..close].trim(), "" | "each")
            && let Some(amount) = Amount::between(self.amount.low() * each.low(), self.amount.high() * each.high())
        {
            // "2 tins (400 g each)", "1 tin (400g)". For several without "each" it is the common reading, and said so.
            if self.amount.high() > 1.0 && tail[..close].trim().is_empty() {
                self.because.push("the size in brackets is taken as that of one".into());
            }
            self.pack = Some(PackSize { count: self.amount, each, measure: unit, word: Some(measure) });
            (self.amount, self.measure) = (amount, Some(unit));
            self.rest = tail[close + 1..].to_string();
            return true;
        }
        // Length of a piece: "5 cm piece of ginger".
        if measure.sort() == MeasureSort::Length {
            let joined = near.strip_prefix('-').unwrap_or(near).trim_start();
            if let Some((Measure::Piece | Measure::Slice | Measure::Stick | Measure::Strip, tail)) = Measure::at_start(joined) {
                self.notes.push(joined[..joined.len() - tail.len()].trim().to_string());
                self.rest = tail.to_string();
                return true;
            }
        }
        let plus = ["and", "plus"].iter().find_map(|w| strip_word(near, w)).or_else(|| near.strip_prefix(['+', '&']));
        let plus = plus.or_else(|| near.strip_prefix(',')).unwrap_or(near).trim_start();
        if let Some((more, unit, tail)) = second(plus, kitchen)
            && unit < measure_or(measure, unit)
            && let Some(factor) = unit.in_terms_of(measure, kitchen).filter(|f| *f < 1.0)
            && let Some(sum) = more.times(factor).and_then(|more| self.amount.plus(more))
        {
            self.amount = sum;
            self.rest = tail.to_string();
            return true;
        }
        if let Some((high, unit, tail)) = range_mark(near).and_then(|r| second(r, kitchen))
            && let Some(factor) = unit.in_terms_of(measure, kitchen)
            && let Amount::Exact(low) = self.amount
            && high.high() * factor > low
            && let Some(range) = Amount::between(low, high.high() * factor)
        {
            self.amount = range;
            self.rest = tail.to_string();
            return true;
        }
        // "200 g / 7 oz", "200g|7oz".
        if let Some(other) = near.strip_prefix(['/', '|'])
            && let Some((_, _, tail)) = second(other.trim_start(), kitchen)
        {
            let other = other.trim_start();
            self.also.push(other[..other.len() - tail.len()].trim().to_string());
            self.rest = tail.to_string();
            return true;
        }
        false
    }
}

/// The order of measures is no matter here; only that they differ.
fn measure_or(measure: Measure, unit: Measure) -> Measure {
    if measure == unit { unit } else { Measure::Tube }
}

/// An amount with a measure of mass, volume or length, and what follows.
pub(super) fn second(text: &str, kitchen: Kitchen) -> Option<(Amount, Measure, &str)> {
    let (amount, rest, _) = read_amount(text)?;
    let rest = rest.trim_start();
    let (measure, tail) = Measure::at_start(rest.strip_prefix('-').unwrap_or(rest))?;
    let counts = measure.grams().is_some() || measure.millilitres(kitchen).is_some() || measure.sort() == MeasureSort::Length;
    counts.then_some((amount, measure, tail))
}

/// "pinch of salt", "thumb of ginger", "large knob of butter": one, though nobody wrote a number.
pub(super) fn vague(text: &str) -> Option<Measured> {
    let mut m = measured(Amount::Exact(1.0), text);
    let measure = m.measure?;
    let rest = m.rest.trim_start();
    let named = strip_word(rest, "of").is_some();
    // Not the single letters: "c" and "l" begin too many names.
    let spoon = matches!(measure, Measure::Teaspoon | Measure::Dessertspoon | Measure::Tablespoon | Measure::Cup)
        && text.split([' ', '.']).all(|w| w.len() > 1);
    let word = spoon
        || matches!(measure.sort(), MeasureSort::Vague)
        || named && matches!(measure.sort(), MeasureSort::Piece | MeasureSort::Pack);
    if !word || rest.is_empty() {
        return None;
    }
    m.rest = of(rest).to_string();
    m.because.push(format!("no number is written; it is taken as one {}", measure.key()));
    Some(m)
}

/// "Butter 100 g", "Eggs: 3", "flour - 200g", "onions x 2": the amount at the end.
pub(super) fn trailing(text: &str, kitchen: Kitchen) -> Option<Measured> {
    for (at, _) in text.match_indices([' ', ':', ',', '(']) {
        let (head, tail) = (text[..at].trim_end(), text[at + 1..].trim_start());
        let led = head.ends_with([':', '-', '–', '—', '=', 'x', '×']) || text[at..].starts_with(':');
        let tail = tail.strip_prefix(['-', '–', '—', '=', '×', ':']).map_or(tail, str::trim_start);
        let (tail, led) = match strip_word(tail, "x") {
            Some(after) => (after, true),
            None => (tail, led || !text[at + 1..].trim_start().starts_with(tail)),
        };
        if head.is_empty() || !tail.starts_with(|c: char| c.is_ascii_digit() || "¼½¾⅓⅔⅛".contains(c)) {
            continue;
        }
        let Some(mut m) = leading(tail, kitchen) else { continue };
        let bracketed = text[at..].starts_with('(') && m.rest.starts_with(')');
        let left = m.rest.trim().trim_start_matches(')').trim_end_matches(')').trim();
        let ends = left.is_empty() || left.starts_with([',', '(', ';']);
        if !ends || m.measure.is_none() && m.pack.is_none() && !led && !bracketed && !left.is_empty() {
            continue;
        }
        if m.measure.is_none() && !led {
            m.because.push("the number at the end is taken as a count".into());
        }
        let name = head.trim_end_matches([':', '-', '–', '—', '=', ',', '×', '(', ' ']);
        let name = name.strip_suffix(" x").unwrap_or(name);
        m.rest = if left.is_empty() {
            name.to_string()
        } else {
            format!("{name}{}{left}", if left.starts_with('(') { " " } else { "" })
        };
        return Some(m);
    }
    None
}
