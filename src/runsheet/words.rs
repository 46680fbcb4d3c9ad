//! What the words of a step tell about its doing: knife, raw food, washing, a heat of its own, minutes by the kilogram.
//!
//! The book says these things in its sentences and nowhere else, so that a cook reads and writes one text. What is not found
//! here is taken as not said.

use crate::{
    book::{Dish, Step, StepPlace, Substance, contents_of},
    lists::same_word,
};

/// Words for work with a knife, a peeler or a grater.
const KNIFE: &[&str] = &[
    "cut", "slice", "shred", "dice", "cube", "chop", "grate", "halve", "quarter", "shave", "trim", "peel", "carve", "pare",
    "mince", "square", "core", "hollow", "score", "string", "top", "stone", "break", "strip", "pick",
];

/// Meat, poultry and fish by the words that steps use for them.
const ANIMAL: &[&str] = &[
    "fish", "beef", "pork", "lamb", "chicken", "mince", "prawns", "turkey", "salmon", "bird", "meat", "fillet", "loin", "tail",
    "belly", "joint", "rind", "hake", "trout", "goose", "mussels", "squid", "head", "frame",
];

/// Companions of animals that are cured, smoked or cooked when they are bought, or no flesh at all: no raw board.
const NOT_RAW: &[&str] = &[
    "smoked",
    "cured",
    "ham",
    "bacon",
    "anchovies",
    "anchovy",
    "stock",
    "broth",
    "pickled",
    "cooked",
    "sauce",
    "dripping",
    "suet",
    "lard",
    "fat",
    "corned",
    "salami",
    "chorizo",
    "prosciutto",
    "speck",
    "pastrami",
    "sausages",
    "paste",
    "roe",
    "haggis",
    "kipper",
];

/// The words of a text, in lower case.
pub(super) fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphabetic()).filter(|w| !w.is_empty()).map(str::to_lowercase).collect()
}

fn has(text: &str, list: &[&str]) -> bool {
    words(text).iter().any(|w| list.iter().any(|l| same_word(l, w)))
}

/// Whether the step is done with a blade.
pub(super) fn cuts(text: &str) -> bool {
    has(text, KNIFE)
}

/// How a step washes up after raw food.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Washing {
    /// It is that alone, or begins with it.
    First,
    /// It handles the raw food and washes at its end.
    Last,
}

/// Whether the step itself washes board, sink or hands.
pub(super) fn washing(text: &str) -> Option<Washing> {
    let lower = text.to_lowercase();
    let at = lower.find("wash ").filter(|at| {
        let clause: String = lower[*at..].chars().take_while(|c| !matches!(c, ';' | '.')).collect();
        ["board", "sink", "knife"].iter().any(|w| clause.contains(w))
    })?;
    Some(if at == 0 { Washing::First } else { Washing::Last })
}

/// Whether a companion is raw flesh.
fn is_raw_flesh(name: &str) -> bool {
    use Substance::{Beef, Crustacean, Fish, Meat, Mollusc, Pork, Poultry};
    let flesh = [Beef, Pork, Poultry, Meat, Fish, Crustacean, Mollusc];
    !has(name, NOT_RAW) && contents_of(name).is_some_and(|c| flesh.iter().any(|s| c.holds(*s)))
}

/// What of a dish is raw flesh when it comes to the board.
#[derive(Clone, Debug, Default)]
pub(super) struct RawFlesh {
    piece: bool,
    names: Vec<String>,
}

impl RawFlesh {
    /// Of `dish`; `piece`: the piece itself is raw meat, poultry or fish.
    pub(super) fn of(dish: &Dish, piece: bool) -> RawFlesh {
        let companions = dish.companions.iter().filter(|c| is_raw_flesh(&c.name));
        let names = companions.flat_map(|c| words(&c.name)).filter(|w| w.len() > 3 && has(w, ANIMAL)).collect();
        RawFlesh { piece, names }
    }

    /// Whether a step has it in the hands.
    pub(super) fn in_hands(&self, text: &str) -> bool {
        if sets_apart(text) {
            return false;
        }
        let text_words = words(text);
        let named = |name: &String| text_words.iter().any(|w| same_word(name, w));
        text_words.iter().any(|w| w == "raw") && has(text, ANIMAL)
            || self.names.iter().any(named)
            || self.piece && (has(text, ANIMAL) || text_words.iter().any(|w| w == "piece" || w == "pieces"))
    }
}

/// The heat that an oven step names for itself, in degrees Celsius; cores and custards lie below 100.
pub(super) fn heat_of(step: &Step) -> Option<u16> {
    if step.place != StepPlace::Oven {
        return None;
    }
    let before: Vec<&str> = step.text.split("°C").collect();
    let (_, heads) = before.split_last()?;
    heads.iter().filter_map(|head| last_number(head)).find_map(|n| u16::try_from(n).ok().filter(|n| (100..=300).contains(n)))
}

fn last_number(text: &str) -> Option<u64> {
    let text = text.trim_end_matches([' ', '\u{a0}']);
    let digits = text.len() - text.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    text[text.len() - digits..].parse().ok()
}

/// Minutes of a step that goes by the mass of the piece: "20 minutes a kilogram and 80 more", or "this for 3 kg" of `minutes`.
///
/// `grams` is the piece as bought. None where the step says no such thing.
pub(super) fn by_mass(text: &str, minutes: u16, grams: u32) -> Option<i64> {
    let kilograms = f64::from(grams) / 1_000.0;
    let round = |m: f64| (m.round() as i64).max(1);
    let lower = text.to_lowercase();
    if let Some((head, tail)) = lower.split_once(" minutes a kilogram") {
        let each = last_number(head)? as f64;
        let more: String = tail.chars().skip_while(|c| !c.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
        let more = if tail.trim_start().starts_with("and") { more.parse().unwrap_or(0.0) } else { 0.0 };
        return Some(round(each * kilograms + more));
    }
    let (_, tail) = lower.split_once("this for ")?;
    let (figure, _) = tail.split_once(" kg")?;
    let meant: f64 = figure.trim().parse().ok().filter(|k: &f64| (0.1..=50.0).contains(k))?;
    Some(round(f64::from(minutes) * kilograms / meant))
}

/// Whether what stands on the ring may stand on when it is done: under its lid, in its pan, off the heat.
pub(super) fn stands(text: &str) -> bool {
    has(text, &["rice", "barley", "stand", "lid", "lentils", "broth", "stock", "soup"])
}

/// Whether a step puts food away cold, by place or by its words.
pub(super) fn puts_away(step: &Step) -> bool {
    step.hands && (step.place == StepPlace::Fridge || has(&step.text, &["fridge", "box", "tubs"]))
}

/// Whether a step sets something apart before the meat or fish goes in.
pub(super) fn sets_apart(text: &str) -> bool {
    let lower = text.to_lowercase();
    lower.contains("without fish") || lower.contains("without meat") || lower.contains("ladle off") || lower.contains("set apart")
}

/// Whether rice is in it.
pub(super) fn has_rice(dish: &Dish) -> bool {
    dish.companions.iter().any(|c| words(&c.name).last().is_some_and(|w| w == "rice"))
}

/// The first clause, for a name in another sentence: "Bake until the middle is at 75 °C or more".
pub(super) fn brief(text: &str) -> String {
    let cut = text.find([';', ':', ',', '.']).unwrap_or(text.len());
    text[..cut].trim().to_string()
}

/// The same with a small letter in front, for the middle of a sentence.
pub(super) fn brief_within(text: &str) -> String {
    let brief = brief(text);
    let mut letters = brief.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, DishId};

    fn dish(id: &str) -> std::sync::Arc<Dish> {
        Book::shipped().unwrap().dish(&DishId::new(id).unwrap()).unwrap().clone()
    }

    #[test]
    fn raw_food_is_known_by_the_words() {
        for (id, piece, raw) in [
            ("leaf-rolls-beef-rice-tomato", false, vec![4]),
            ("coconut-lime-curry", true, vec![0, 7]),
            ("poached-tail", true, vec![]),
            ("steamed-leaf-fish-parcels", false, vec![3, 5]),
            ("sharp-slaw-pear-mustard", false, vec![]),
            ("braised-greens-peas-ham", false, vec![]),
            ("plain-roast-gravy", false, vec![1]),
        ] {
            let dish = dish(id);
            let flesh = RawFlesh::of(&dish, piece);
            let found: Vec<usize> = (0..dish.steps.len()).filter(|&k| flesh.in_hands(&dish.steps[k].text)).collect();
            assert_eq!(found, raw, "{id}");
        }
        let curry = dish("coconut-lime-curry");
        assert_eq!(washing(&curry.steps[0].text), Some(Washing::Last));
        assert_eq!(washing(&dish("steamed-leaf-fish-parcels").steps[5].text), Some(Washing::First));
        assert_eq!(washing("Wash the leaves thrice, shred them."), None);
    }

    #[test]
    fn minutes_go_by_the_kilogram_where_the_step_says_so() {
        let roast = "Roast: 20 minutes a kilogram and 80 more for a bird of 5 kg; baste twice.";
        assert_eq!(by_mass(roast, 180, 5_000), Some(180));
        assert_eq!(by_mass(roast, 180, 7_000), Some(220));
        let ham = "Simmer, never boil, 45 minutes a kilogram and 20 more, this for 2.2 kg; 68 °C or more in the middle.";
        assert_eq!(by_mass(ham, 120, 3_000), Some(155));
        assert_eq!(by_mass("Roast until a fork turns in it, about 90 °C in the middle; this for 3 kg.", 220, 4_500), Some(330));
        assert_eq!(by_mass("Roast.", 20, 4_500), None);
    }

    #[test]
    fn a_step_may_name_a_heat_of_its_own() {
        let own = |id: &str| dish(id).steps.iter().filter_map(heat_of).collect::<Vec<_>>();
        assert_eq!(own("plain-roast-gravy"), [200]);
        assert_eq!(own("roast-shoulder-crackling"), [220]);
        assert_eq!(own("leaf-rolls-beef-rice-tomato"), Vec::<u16>::new());
    }
}
