//! A first profile for a foreign recipe, proposed from its words; each value with the words that speak for it.
//!
//! It is a proposal: the cook looks it through before the dish is taken into the book. An axis for which nothing speaks is
//! left blank, for a blank is never read as likeness, and a wrong value is.

use super::propose_words::{FAMILIES, FORMS, HEATS, METHODS, PROTEINS, Rule, STARCHES, TEXTURES, heat_of, texture_of};
use crate::{
    book::{Family, Form, Heat, Method, Protein, Starch, Texture},
    quantity::{IngredientLine, Measure},
};

/// A value and what speaks for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reasoned<T> {
    /// What is proposed.
    pub value: T,
    /// Why, in words.
    pub because: String,
}

/// A proposed profile; an axis for which nothing speaks is blank.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[allow(missing_docs)] // The axes of `book::Profile`.
pub struct Proposed {
    pub texture: Option<Reasoned<Texture>>,
    pub family: Option<Reasoned<Family>>,
    pub method: Option<Reasoned<Method>>,
    pub heat: Option<Reasoned<Heat>>,
    pub form: Option<Reasoned<Form>>,
    pub starch: Option<Reasoned<Starch>>,
    pub protein: Option<Reasoned<Protein>>,
}

/// The words of a recipe by place.
struct Words {
    name: Vec<String>,
    ingredients: Vec<String>,
    steps: Vec<String>,
}

/// The most words of a place that are weighed (house limit; long recipes have some hundreds).
const MOST_WORDS: usize = 4_000;

/// How much a place counts for an axis: name, ingredients, steps.
type Weights = [u32; 3];

pub(super) fn propose(name: &str, ingredients: &[IngredientLine], steps: &[String]) -> Proposed {
    let aside = |r: Reasoned<Protein>| Reasoned { because: format!("{}, unless that is the piece itself", r.because), ..r };
    let whole = propose_beside(name, ingredients.iter(), steps, &|_| false);
    Proposed { protein: whole.protein.map(aside), ..whole }
}

/// The same with the piece itself left aside: its line is not among `ingredients`, and words that are `of_piece` do not speak.
pub(super) fn propose_beside<'a>(
    name: &str,
    ingredients: impl Iterator<Item = &'a IngredientLine>,
    steps: &[String],
    of_piece: &dyn Fn(&str) -> bool,
) -> Proposed {
    let split = |text: &str| split(text).into_iter().filter(|w| !of_piece(w)).collect::<Vec<_>>();
    let words = Words {
        name: split(name),
        // A pinch of cloves makes no dish spiced.
        ingredients: ingredients
            .filter(|i| !matches!(i.measure, Some(Measure::Pinch | Measure::Dash | Measure::Drop)))
            .flat_map(|i| split(&i.name))
            .take(MOST_WORDS)
            .collect(),
        steps: steps.iter().flat_map(|s| split(s)).take(MOST_WORDS).collect(),
    };
    let method = best(METHODS, &words, [6, 0, 2]);
    let form = best(FORMS, &words, [6, 0, 1]);
    let heat = best(HEATS, &words, [6, 0, 3]).or_else(|| {
        let m = method.as_ref()?;
        Some(Reasoned { value: heat_of(m.value)?, because: format!("what is {} is usually served so", m.value.word()) })
    });
    let texture = best(TEXTURES, &words, [6, 0, 1]).or_else(|| {
        let (method, form) = (method.as_ref().map(|m| m.value), form.as_ref().map(|f| f.value));
        let (value, because) = texture_of(method, form)?;
        Some(Reasoned { value, because })
    });
    Proposed {
        texture,
        family: best(FAMILIES, &words, [6, 2, 0]),
        method,
        heat,
        form,
        starch: best(STARCHES, &words, [4, 2, 1]),
        protein: best(PROTEINS, &words, [4, 2, 0]),
    }
}

/// The protein that a text names first of all, if any.
pub(super) fn protein_named_in(text: &str) -> Option<Protein> {
    let list = split(text);
    PROTEINS.iter().find(|rule| (0..list.len()).any(|i| rule.words.iter().any(|w| speaks(w, &list, i)))).map(|rule| rule.value)
}

fn split(text: &str) -> Vec<String> {
    text.to_lowercase().split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_string).collect()
}

/// The value that most speaks for, with the first word of the heaviest place; the earlier rule wins a tie.
fn best<T: Copy>(rules: &[Rule<T>], words: &Words, weights: Weights) -> Option<Reasoned<T>> {
    let places = [(&words.name, "the name"), (&words.ingredients, "the ingredients"), (&words.steps, "the steps")];
    let mut top: Option<(u32, Reasoned<T>)> = None;
    for rule in rules {
        let mut score = 0;
        let mut because: Option<String> = None;
        for ((list, place), weight) in places.iter().zip(weights) {
            if weight == 0 {
                continue;
            }
            let mut seen = 0;
            for (i, word) in list.iter().enumerate() {
                let Some(hit) = rule.words.iter().find(|w| speaks(w, list, i)) else { continue };
                seen += 1;
                because.get_or_insert_with(|| {
                    format!("\"{}\" stands in {place}", if hit.contains(' ') { hit } else { word.as_str() })
                });
            }
            // A word said five times is no surer than one said three times.
            score += weight * seen.min(3);
        }
        if let Some(because) = because
            && top.as_ref().is_none_or(|(most, _)| score > *most)
        {
            top = Some((score, Reasoned { value: rule.value, because }));
        }
    }
    top.map(|(_, reasoned)| reasoned)
}

/// Whether `pattern` stands at `i`: a word, a beginning ("roast*"), or two words ("soy sauce").
fn speaks(pattern: &str, list: &[String], i: usize) -> bool {
    for (at, part) in (i..).zip(pattern.split(' ')) {
        let Some(word) = list.get(at) else { return false };
        let fits = match part.strip_suffix('*') {
            Some(stem) => word.starts_with(stem),
            None => word == part || word.strip_suffix("es") == Some(part) || word.strip_suffix('s') == Some(part),
        };
        if !fits {
            return false;
        }
    }
    true
}
