//! What the steps of a dish do with a companion before it is cooked: chop the onion, grate the cheese, rinse the rice.

use super::cut_words::same_word;
use crate::book::Dish;

/// Work that can be done before the cooking: the verb, and the word it leaves behind ("chopped onion").
const WORK: &[(&str, &str)] = &[
    ("chop", "chopped"),
    ("slice", "sliced"),
    ("dice", "diced"),
    ("cube", "cubed"),
    ("grate", "grated"),
    ("shred", "shredded"),
    ("peel", "peeled"),
    ("crush", "crushed"),
    ("halve", "halved"),
    ("quarter", "quartered"),
    ("shave", "shaved"),
    ("pick", "picked"),
    ("stone", "stoned"),
    ("trim", "trimmed"),
    ("top", "topped"),
    ("string", "stringed"),
    ("wash", "washed"),
    ("rinse", "rinsed"),
    ("drain", "drained"),
    ("soak", "soaked"),
    ("toast", "toasted"),
    ("crumble", "crumbled"),
    ("tear", "torn"),
    ("cut", "cut"),
];

/// Words that begin another sort of work: what follows them is not prepared any more.
const OTHER_WORK: &[&str] = &[
    "add", "bake", "bind", "blend", "boil", "brush", "bring", "brown", "char", "cook", "cover", "crack", "dress", "fill", "fold",
    "fry", "heat", "lay", "leave", "let", "melt", "mix", "pack", "pour", "put", "roast", "rub", "salt", "scatter", "serve",
    "set", "simmer", "soften", "spoon", "spread", "steam", "stew", "stir", "sweat", "taste", "toss", "turn", "warm", "whisk",
    "work", "beat",
];

/// Words behind which something else than the thing worked on is named: "grate the ginger into soy sauce", "the cut faces with oil".
const APART: &[&str] =
    &["into", "in", "with", "to", "on", "over", "round", "through", "for", "from", "at", "of", "under", "against"];

/// The verb for what a dish does with `companion` by hand, if its steps say.
pub(crate) fn work_on(dish: &Dish, companion: &str) -> Option<&'static str> {
    let name = companion.rsplit(' ').next().unwrap_or(companion).to_lowercase();
    dish.steps.iter().filter(|s| s.hands).find_map(|step| {
        let mut verb: Option<&'static str> = None;
        let (mut before, mut apart): (Option<&'static str>, bool) = (None, false);
        for word in step.text.split(|c: char| !c.is_alphabetic()).filter(|w| !w.is_empty()) {
            let word = word.to_lowercase();
            if same_word(&word, &name) {
                if let Some(found) = before.or(verb) {
                    return Some(found);
                }
            } else if let Some((work, _)) = WORK.iter().find(|w| w.0 == word && !apart) {
                verb = Some(work);
            } else if OTHER_WORK.contains(&word.as_str()) || APART.contains(&word.as_str()) {
                verb = None;
            }
            apart = APART.contains(&word.as_str());
            before = WORK.iter().find(|w| w.1 == word && w.1 != w.0).map(|w| w.0);
        }
        None
    })
}

/// Whole days that a companion keeps once it is prepared, boxed in the cold; nothing: it is prepared when it is wanted.
///
/// Common practice, no source: what browns (apple, pear, potato), weeps (cucumber, tomato) or wilts (leaves, herbs) is not done
/// ahead; onions and roots are.
pub(super) fn keeps_prepared(companion: &str, work: &str) -> Option<u16> {
    if matches!(work, "wash" | "rinse" | "drain" | "soak") {
        return None;
    }
    match companion {
        "onion" | "spring onion" | "leeks" | "carrots" | "celery" | "fennel" | "sweet pepper" | "white cabbage" => Some(2),
        "garlic" | "ginger" | "parsley" | "green beans" => Some(1),
        "hard cheese" | "feta cheese" => Some(3),
        "almonds" | "hazelnuts" | "walnuts" | "sunflower seed" | "sesame seed" | "cumin" | "coriander seed" => Some(7),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, DishId};

    #[test]
    fn the_steps_tell_what_is_done_with_each() {
        let book = Book::shipped().unwrap();
        for (dish, companion, work) in [
            ("leaf-rolls-beef-rice-tomato", "onion", Some("chop")),
            ("leaf-rolls-beef-rice-tomato", "garlic", Some("chop")),
            ("leaf-rolls-beef-rice-tomato", "rice", Some("rinse")),
            ("leaf-rolls-beef-rice-tomato", "passata", None),
            ("coconut-lime-curry", "ginger", Some("slice")),
            ("coconut-lime-curry", "greens", Some("shred")),
            ("crisp-shred-pancakes-ginger-soy", "ginger", Some("grate")),
            ("crisp-shred-pancakes-ginger-soy", "flour", None),
            ("sharp-slaw-pear-mustard", "dill", Some("chop")),
            ("charred-wedges-cumin-yoghurt", "chickpeas", Some("drain")),
            ("charred-wedges-cumin-yoghurt", "oil", None),
            ("crisp-shred-pancakes-ginger-soy", "soy sauce", None),
            ("sharp-slaw-pear-mustard", "rye bread", None),
            ("sharp-slaw-pear-mustard", "pear", Some("cut")),
            ("seared-loin-lemon-potatoes", "green beans", Some("top")),
        ] {
            let dish = book.dish(&DishId::new(dish).unwrap()).unwrap();
            assert_eq!(work_on(dish, companion), work, "{}: {companion}", dish.id);
        }
    }
}
