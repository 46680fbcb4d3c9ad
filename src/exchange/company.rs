//! What a recipe needs beside the piece: its other lines as companions, with the amount for one.
//!
//! An amount is divided only where it can be measured again. "A pinch" and "oil for frying" come without one, with the reason.

use super::{
    heads::{Heads, middle},
    words::stems,
};
use crate::{
    book::{Book, Companion, CompanionMeasure},
    quantity::{Days, IngredientLine, Measure, MeasureSort},
};
use std::collections::HashMap;

/// A line of the recipe as a companion of the dish.
#[derive(Clone, Debug, PartialEq)]
pub struct ProposedCompanion {
    /// Which line of the recipe it is, from 0.
    pub line: usize,
    /// Its name; the book's own where the book has it.
    pub name: String,
    /// Amount for one, in `measure`; nothing where that is open.
    pub per_unit: Option<f64>,
    /// What it is measured in.
    pub measure: CompanionMeasure,
    /// A pack as sold, in `measure`; nothing where that is not known.
    pub pack: Option<f64>,
    /// What the pack is called.
    pub pack_word: Option<String>,
    /// Days that an opened pack keeps.
    pub opened_days: Option<Days>,
    /// What was taken on what ground; each a few words.
    pub because: Vec<String>,
    /// Why the amount is open, in a few words.
    pub open: Option<String>,
}

/// Why a line is no companion unless the cook says so; nothing for one that is.
pub fn left_out(line: &IngredientLine) -> Option<&'static str> {
    let name = line.name.trim().to_lowercase();
    if line.measure.is_some_and(|m| m.sort() == MeasureSort::Oven) {
        return Some("it is the oven's heat");
    }
    if line.raw.trim_end().ends_with(':') || (line.amount.is_none() && name.starts_with("for the ")) {
        return Some("it is a heading");
    }
    let words = stems(&name);
    let all = |list: &[&str]| !words.is_empty() && words.iter().all(|w| list.contains(&w.as_str()));
    if all(&["water", "cold", "boiling", "hot", "warm", "ice", "iced", "tepid", "tap"])
        && words.iter().any(|w| w == "water" || w == "ice")
    {
        return Some("water comes from the tap");
    }
    const SEASONING: [&str; 12] =
        ["salt", "pepper", "and", "sea", "black", "white", "ground", "freshly", "seasoning", "to", "taste", "flaky"];
    if line.amount.is_none() && all(&SEASONING) {
        return Some("it is seasoning without an amount");
    }
    None
}

/// The companions of the book by the stems of their names.
pub(super) struct Pantry<'b>(HashMap<Vec<String>, &'b Companion>);

impl<'b> Pantry<'b> {
    pub(super) fn of(book: &'b Book) -> Pantry<'b> {
        let mut known: HashMap<Vec<String>, &Companion> = HashMap::new();
        for companion in book.dishes().flat_map(|d| &d.companions) {
            let slot = known.entry(stems(&companion.name)).or_insert(companion);
            if slot.pack.is_none() && companion.pack.is_some() {
                *slot = companion;
            }
        }
        Pantry(known)
    }

    fn find(&self, name: &str) -> Option<&'b Companion> {
        self.0.get(&stems(name)).copied()
    }
}

/// A line as a companion.
pub(super) fn companion_of(at: usize, line: &IngredientLine, heads: Option<&Heads>, pantry: &Pantry<'_>) -> ProposedCompanion {
    let known = pantry.find(&line.name);
    let mut because = Vec::new();
    let mut name = known.map_or_else(|| line.name.trim().to_lowercase(), |k| k.name.clone());
    if name.is_empty() {
        name = line.raw.trim().to_lowercase().chars().take(60).collect();
    }
    name.retain(|c| !c.is_control());
    let (measure, total) = measured(line, known, &mut name, &mut because);
    let (per_unit, open) = match (total, heads) {
        (Err(why), _) => (None, Some(why)),
        (Ok(_), None) => (None, Some("for how many it is is not known".to_string())),
        (Ok(total), Some(heads)) => (Some(tidy(total / heads.middle())), None),
    };
    let (pack, pack_word, opened_days) = pack_of(line, known, measure, &mut because);
    ProposedCompanion { line: at, name, per_unit, measure, pack, pack_word, opened_days, because, open }
}

/// What stays measured by volume though its mass could be reckoned.
const FLUID: [&str; 14] = [
    "oil", "milk", "cream", "stock", "broth", "water", "juice", "vinegar", "wine", "sauce", "syrup", "honey", "yoghurt", "yogurt",
];

/// All of it in the measure that fits; or why that is open.
fn measured(
    line: &IngredientLine,
    known: Option<&Companion>,
    name: &mut String,
    because: &mut Vec<String>,
) -> (CompanionMeasure, Result<f64, String>) {
    use CompanionMeasure::{Count, G, Ml};
    let in_book = known.map(|k| k.measure);
    let mut take = |amount: crate::quantity::Amount| {
        if amount.low() < amount.high() {
            because.push("the middle of its range".into());
        }
        Ok(middle(amount))
    };
    if let Some(grams) = line.grams {
        return (G, take(grams));
    }
    let weighs = || line.guess.as_ref().filter(|_| in_book == Some(G));
    if let Some(ml) = line.millilitres {
        let solid = in_book.is_none() && !stems(name).iter().any(|w| FLUID.contains(&w.as_str()));
        return match line.guess.as_ref().filter(|_| in_book == Some(G) || solid) {
            Some(guess) => {
                let taken = take(guess.grams);
                because.push(guess.because.clone());
                (G, taken)
            }
            None => (Ml, take(ml)),
        };
    }
    let Some(amount) = line.amount else {
        return (in_book.unwrap_or_default(), Err("no amount stands in its line".into()));
    };
    if let Some(guess) = weighs() {
        let taken = take(guess.grams);
        because.push(guess.because.clone());
        return (G, taken);
    }
    match line.measure {
        None => (Count, take(amount)),
        Some(measure) => match measure.sort() {
            MeasureSort::Piece => {
                if known.is_none() {
                    *name = format!("{name} {}", measure.said(1.0));
                }
                (Count, take(amount))
            }
            MeasureSort::Pack => {
                *name = format!("{} of {name}", measure.said(1.0));
                (Count, take(amount))
            }
            _ => (in_book.unwrap_or_default(), Err(format!("nobody measures a {}", measure.said(1.0)))),
        },
    }
}

/// The pack: as the line gives it, else as the book has it for what is called the same.
fn pack_of(
    line: &IngredientLine,
    known: Option<&Companion>,
    measure: CompanionMeasure,
    because: &mut Vec<String>,
) -> (Option<f64>, Option<String>, Option<Days>) {
    let known = known.filter(|k| k.measure == measure);
    let opened = known.and_then(|k| k.opened_days);
    if let Some(pack) = &line.pack {
        let factor = match measure {
            CompanionMeasure::G => pack.measure.grams(),
            CompanionMeasure::Ml if pack.measure == Measure::Millilitre => Some(1.0),
            _ => None,
        };
        if let Some(each) = factor.map(|f| middle(pack.each) * f) {
            if opened.is_some() {
                because.push("opened days as the book has them".into());
            }
            return (Some(tidy(each)), pack.word.map(|w| w.said(1.0).to_string()), opened);
        }
    }
    match known.filter(|k| k.pack.is_some() || k.opened_days.is_some()) {
        Some(k) => {
            because.push("its pack as the book has it".into());
            (k.pack, k.pack_word.clone(), opened)
        }
        None => (None, None, None),
    }
}

/// To a figure that can be measured: whole over 20, tenths over 2, hundredths below.
fn tidy(amount: f64) -> f64 {
    let step = match amount {
        a if a >= 20.0 => 1.0,
        a if a >= 2.0 => 10.0,
        _ => 100.0,
    };
    ((amount * step).round() / step).max(0.01)
}
