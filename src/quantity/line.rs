//! One line of an ingredient list: what is written, read into an amount, a measure, a name and a note.
//!
//! The line itself is kept. What is read from it is either *certain* (every figure stands in the line), *guessed* (a figure
//! is ours, and [`IngredientLine::because`] says which and why), or *unread* (no amount was found in it; the name may still
//! be). A guess is never made without its words.

use super::{
    Amount, Kitchen, MassGuess, Measure, MeasureSort,
    amount::read_amount,
    guess::guess,
    measured::{Measured, leading, second, trailing, vague},
    name::{Rest, split_rest, strip_about},
    temperature::read_oven,
};

/// The longest line that is read, in characters (house limit).
pub const MAX_LINE: usize = 1_000;

/// How sure the reading of a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Confidence {
    /// Every figure stands in the line.
    Certain,
    /// A figure is a guess, and its ground is given.
    Guessed,
    /// No amount was found.
    Unread,
}

impl Confidence {
    /// The word in JSON and on screen.
    pub fn word(self) -> &'static str {
        match self {
            Confidence::Certain => "certain",
            Confidence::Guessed => "guessed",
            Confidence::Unread => "unread",
        }
    }
}

/// Packs as they are bought: "2 x 400 g tins" are 2 of 400 g.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PackSize {
    /// How many.
    pub count: Amount,
    /// What is in one.
    pub each: Amount,
    /// What `each` counts.
    pub measure: Measure,
    /// What it is called, if it is called anything: a tin, a jar.
    pub word: Option<Measure>,
}

/// An ingredient line as it was read.
#[derive(Clone, Debug, PartialEq)]
pub struct IngredientLine {
    /// The line as it stands.
    pub raw: String,
    /// How much; for packs of a known size all of it together (2 x 400 g are 800 g).
    pub amount: Option<Amount>,
    /// What the amount counts; nothing for whole things ("3 eggs").
    pub measure: Option<Measure>,
    /// Packs, where the line counts them with their size.
    pub pack: Option<PackSize>,
    /// Grams as they are written, or reckoned from ounces and pounds.
    pub grams: Option<Amount>,
    /// Millilitres, for what is measured by volume.
    pub millilitres: Option<Amount>,
    /// What it may weigh, where it was not weighed.
    pub guess: Option<MassGuess>,
    /// The same amount in other measures, as it stands: "7oz".
    pub also: Vec<String>,
    /// What it is.
    pub name: String,
    /// What is to be done with it, or how much is meant by it: "finely chopped", "about".
    pub note: String,
    /// How sure this is.
    pub confidence: Confidence,
    /// What was guessed, and why.
    pub because: Vec<String>,
}

/// Reads one line, with the cups and spoons of `kitchen`. Never fails: what is not understood is unread, with its text as the name.
pub fn read_line(line: &str, kitchen: Kitchen) -> IngredientLine {
    let raw: String = line.trim().chars().take(MAX_LINE).collect();
    let clean = clean(&raw);
    if let Some(oven) = oven_line(&raw, &clean) {
        return oven;
    }
    let mut notes: Vec<String> = Vec::new();
    let text = strip_about(&clean, &mut notes);
    let (text, taken) = strip_juice(text);
    notes.extend(taken);
    let text = strip_about(text, &mut notes);
    let measured = leading(text, kitchen).or_else(|| vague(text)).or_else(|| trailing(text, kitchen));
    let Some(m) = measured else {
        let Rest { name, note, also, .. } = split_rest(text, &notes, None, kitchen);
        return IngredientLine { name, note, also, ..unread(raw) };
    };
    finish(raw, m, notes, kitchen)
}

fn unread(raw: String) -> IngredientLine {
    IngredientLine {
        raw,
        amount: None,
        measure: None,
        pack: None,
        grams: None,
        millilitres: None,
        guess: None,
        also: Vec::new(),
        name: String::new(),
        note: String::new(),
        confidence: Confidence::Unread,
        because: Vec::new(),
    }
}

fn finish(raw: String, m: Measured, mut notes: Vec<String>, kitchen: Kitchen) -> IngredientLine {
    notes.extend(m.notes);
    let left = split_rest(&m.rest, &notes, m.measure, kitchen);
    let (mut measure, mut name) = (m.measure, left.name);
    // "4 cloves", "2 heads": with nothing behind it the word is the thing itself.
    if name.is_empty()
        && m.pack.is_none()
        && let Some(thing) = measure.filter(|w| matches!(w.sort(), MeasureSort::Piece | MeasureSort::Pack))
    {
        name = thing.said(m.amount.high());
        measure = None;
    }
    if measure.is_none() && m.pack.is_none() {
        measure = left.measure;
    }
    let also: Vec<String> = m.also.into_iter().chain(left.also).collect();
    // "1 cup (200 g) sugar", "1 chicken (1.5 kg)": a mass beside a volume, or beside one thing, is the mass of all of it.
    let of_all = millilitres_of(m.amount, measure, kitchen).is_some() || m.amount == Amount::Exact(1.0);
    let beside = || also.iter().filter(|_| of_all).find_map(|text| mass_in(text, kitchen));
    let grams = measure.and_then(Measure::grams).and_then(|g| m.amount.times(g)).or_else(beside);
    let millilitres = millilitres_of(m.amount, measure, kitchen);
    let guess = if grams.is_none() { guess(m.amount, measure, &name, kitchen) } else { None };
    let mut because = m.because;
    let vague = measure.is_some_and(|u| u.sort() == MeasureSort::Vague);
    if vague && because.is_empty() {
        let word = measure.map_or("", Measure::key);
        because.push(match &guess {
            Some(g) => g.because.clone(),
            None => format!("nobody measures a {word}; it is not turned into grams"),
        });
    } else if let Some(g) = guess.as_ref().filter(|_| vague) {
        because.push(g.because.clone());
    }
    let confidence = if because.is_empty() { Confidence::Certain } else { Confidence::Guessed };
    IngredientLine {
        raw,
        amount: Some(m.amount),
        measure,
        pack: m.pack,
        grams,
        millilitres,
        guess,
        also,
        name,
        note: left.note,
        confidence,
        because,
    }
}

fn millilitres_of(amount: Amount, measure: Option<Measure>, kitchen: Kitchen) -> Option<Amount> {
    measure.and_then(|u| u.millilitres(kitchen)).and_then(|ml| amount.times(ml))
}

/// The mass in a text like "about 150 g".
fn mass_in(text: &str, kitchen: Kitchen) -> Option<Amount> {
    let bare = strip_about(text, &mut Vec::new());
    let (amount, measure, _) = second(bare, kitchen)?;
    measure.grams().and_then(|g| amount.times(g))
}

fn oven_line(raw: &str, clean: &str) -> Option<IngredientLine> {
    let oven = read_oven(clean)?;
    let amount = Amount::between(oven.value, oven.up_to.unwrap_or(oven.value))?;
    let confidence = if oven.doubt.is_some() { Confidence::Guessed } else { Confidence::Certain };
    let note = oven.others.join("; ");
    Some(IngredientLine {
        amount: Some(amount),
        measure: Some(oven.scale),
        name: "oven".into(),
        note,
        confidence,
        because: oven.doubt.into_iter().collect(),
        ..unread(raw.to_string())
    })
}

/// One kind of blank, no bullets, no doubled blanks.
fn clean(raw: &str) -> String {
    let spaced: String = raw
        .chars()
        .map(|c| if c.is_whitespace() || c.is_control() || matches!(c, '\u{200b}' | '\u{feff}' | '\u{ad}') { ' ' } else { c })
        .collect();
    let joined = spaced.split(' ').filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ");
    let bare = joined.trim_start_matches(['•', '·', '*', '-', '–', '—', '▢', '□', '☐', '‣', '▪', '+', ' ']);
    // "-40 F" and "- 2 eggs" differ by their blank.
    let below_zero =
        joined.strip_prefix('-').is_some_and(|r| r.starts_with(|c: char| c.is_ascii_digit()) && read_oven(&joined).is_some());
    if below_zero { joined } else { bare.trim_end_matches(['.', ' ']).to_string() }
}

/// "juice of 2 lemons", "grated zest and juice of 1 orange": what is taken of it, apart from the rest.
fn strip_juice(text: &str) -> (&str, Option<String>) {
    const PARTS: [&str; 8] = ["juice", "zest", "rind", "peel", "seeds", "leaves", "pulp", "flesh"];
    const BETWEEN: [&str; 12] =
        ["grated", "finely", "the", "and", "&", "freshly", "squeezed", "fresh", "pared", "a", "plus", "strained"];
    let Some(at) = text.find(" of ").filter(|at| *at < 60) else {
        return (text, None);
    };
    let (head, tail) = (&text[..at], text[at + 4..].trim_start());
    let lower = head.to_lowercase();
    let mut any = false;
    for word in lower.split([' ', ',', '/']).filter(|w| !w.is_empty()) {
        let part = PARTS.contains(&word);
        any |= part;
        if !part && !BETWEEN.contains(&word) {
            return (text, None);
        }
    }
    if any && read_amount(tail).is_some() { (tail, Some(head.to_string())) } else { (text, None) }
}
