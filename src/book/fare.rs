//! Who may eat a dish, by what is in its company.
//!
//! Nobody types a diet: each companion's name says what it is (`assets/book/companions.ron`), and the dish follows. A dish or a
//! twin may only be stricter than its company ("Vegan" is no restriction), never looser. A name that the book does not know
//! leaves the diet unknown, and that is said; a cook can write behind such a name what it is: "gran's stock (beef, celery)".

use super::{Allergen, BookError, Companion, Contents, Diet, Dish, Substance, Twin, check::contents_by_words};
use serde::Deserialize;
use std::{
    borrow::Cow,
    collections::HashMap,
    hash::{BuildHasherDefault, Hasher},
    sync::OnceLock,
};

/// Where the names stand.
const FILE: &str = "companions.ron";
const TEXT: &str = include_str!("../../assets/book/companions.ron");

/// Names of things that hold the same.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Group {
    #[serde(default)]
    holds: Vec<Substance>,
    #[serde(default)]
    allergens: Vec<Allergen>,
    names: Vec<String>,
}

type Names = HashMap<String, Contents, BuildHasherDefault<Quick>>;

/// The hash FNV-1a of 64 bits (Fowler, Noll and Vo): names are short, come from our own table, and are looked up often.
#[derive(Clone, Copy)]
pub(super) struct Quick(u64);

impl Default for Quick {
    fn default() -> Quick {
        Quick(0xcbf2_9ce4_8422_2325)
    }
}

impl Hasher for Quick {
    fn write(&mut self, bytes: &[u8]) {
        self.0 = bytes.iter().fold(self.0, |hash, b| (hash ^ u64::from(*b)).wrapping_mul(0x0100_0000_01b3));
    }

    fn finish(&self) -> u64 {
        self.0
    }
}

/// Every name that the book knows, read once.
pub(super) fn names() -> &'static Result<Names, BookError> {
    static NAMES: OnceLock<Result<Names, BookError>> = OnceLock::new();
    NAMES.get_or_init(|| read_names(FILE, TEXT))
}

fn read_names(file: &str, text: &str) -> Result<Names, BookError> {
    let groups: Vec<Group> = super::catalogue::parse(file, text)?;
    let mut names = Names::default();
    for group in groups {
        let contents = Contents::of(&group.holds, &group.allergens);
        for name in group.names {
            let place = || super::Place { file: file.to_string(), line: 1 };
            if names.insert(name.clone(), contents).is_some() {
                return Err(BookError::Twice { id: name, first: place(), second: place() });
            }
        }
    }
    Ok(names)
}

/// Words before a name that do not change what it is.
const BESIDE_THE_POINT: &[&str] = &[
    "fresh", "dried", "dry", "frozen", "tinned", "canned", "chopped", "sliced", "diced", "grated", "ground", "minced", "crushed",
    "cooked", "boiled", "roast", "roasted", "toasted", "smoked", "raw", "ripe", "large", "small", "medium", "big", "baby",
    "young", "whole", "plain", "unsalted", "salted", "organic", "good", "extra", "virgin", "strong", "fine", "coarse", "hot",
    "cold", "red", "green", "yellow", "brown", "black",
];

/// What a thing of this name holds, as far as the book or the brackets behind the name say; nothing if it is not known.
///
/// Capitals, an s at the end and words such as "fresh" or "chopped" make no other name. In brackets stand names that are known,
/// or a word of [`Substance`], [`Allergen`] or "vegan".
pub fn contents_of(name: &str) -> Option<Contents> {
    let Ok(names) = names() else { return None };
    // Nearly always: as the book writes it.
    if let Some(known) = names.get(name) {
        return Some(*known);
    }
    let lower = name.to_lowercase();
    let lower = lower.trim();
    match lower.strip_suffix(')').and_then(|l| l.split_once('(')) {
        None => known_name(names, lower),
        Some((base, said)) => {
            let mut contents = known_name(names, base).unwrap_or_else(|| contents_by_words(base));
            for item in said.split([',', ';', '/', '&']).map(str::trim).filter(|i| !i.is_empty()) {
                contents = contents.and(known_name(names, item).or_else(|| said_word(item))?);
            }
            (!said.trim().is_empty()).then_some(contents)
        }
    }
}

fn known_name(names: &Names, name: &str) -> Option<Contents> {
    let mut words: Vec<&str> = name.split(|c: char| c.is_whitespace() || c == '-').filter(|w| !w.is_empty()).collect();
    loop {
        let name = words.join(" ");
        let one = |n: &str| names.get(n).copied();
        let by_number = || {
            let single = name.strip_suffix("es").and_then(one).or_else(|| name.strip_suffix('s').and_then(one));
            single.or_else(|| one(&format!("{name}s"))).or_else(|| one(&format!("{name}es")))
        };
        if let Some(known) = one(&name).or_else(by_number) {
            return Some(known);
        }
        if words.len() < 2 || !BESIDE_THE_POINT.contains(&words[0]) {
            return None;
        }
        words.remove(0);
    }
}

fn said_word(word: &str) -> Option<Contents> {
    let substance = Substance::ALL.iter().find(|s| s.word() == word).map(|s| Contents::of(&[*s], &[]));
    let allergen = || Allergen::ALL.iter().find(|a| a.word() == word).map(|a| Contents::of(&[], &[*a]));
    let plants = || ["vegan", "plant", "plants"].contains(&word).then(Contents::default);
    substance.or_else(allergen).or_else(plants)
}

/// What is known of who may eat a dish or a twin, by its own company; the piece comes to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fare {
    /// What its company holds, as far as it is known.
    pub contents: Contents,
    /// Its allergens: those of its company and those that it states beside.
    pub allergens: Vec<Allergen>,
    /// The strictest diet that may eat it as far as is known: what its company leaves, or a stricter one that it states.
    pub diet: Diet,
    /// Companions of which nobody knows what they are.
    pub unknown: Vec<String>,
}

impl Fare {
    fn of(companions: &[Companion], allergens: &[Allergen], stated: Diet) -> Fare {
        let mut contents = Contents::default();
        let mut unknown = Vec::new();
        for c in companions {
            contents = contents.and(contents_of(&c.name).unwrap_or_else(|| {
                unknown.push(c.name.clone());
                // What a name gives away is known, though not the rest.
                contents_by_words(&c.name)
            }));
        }
        let allergens = contents.and(Contents::of(&[], allergens)).allergens();
        Fare { contents, allergens, diet: stated.with(contents.diet()), unknown }
    }

    /// Whether an eater of this diet may eat it; nothing where nobody knows.
    pub fn suits(&self, eater: Diet) -> Option<bool> {
        if !eater.may_eat(self.diet) {
            Some(false)
        } else if eater == Diet::Everything || self.unknown.is_empty() {
            Some(true)
        } else {
            None
        }
    }

    /// What is unknown and what to do about it, in one sentence; nothing where all is known.
    pub fn doubt(&self) -> Option<String> {
        let first = self.unknown.first()?;
        let all = self.unknown.join(" and ");
        Some(format!(
            "the book does not know what {all} is: write it in brackets behind the name, such as \"{first} (beef, celery)\" or \"{first} (vegan)\""
        ))
    }
}

impl Dish {
    /// Who may eat it, by its own company.
    pub fn fare(&self) -> Fare {
        Fare::of(&self.companions, &self.allergens, self.diet)
    }

    /// Whether an eater of this diet can be promised that they may eat it, the piece aside: where nobody knows what a companion is,
    /// only those who eat everything.
    pub fn surely_suits(&self, eater: Diet) -> bool {
        surely_suits(&self.companions, self.diet, eater)
    }

    /// Whether its company holds what this word names: a substance ("pork"), an allergen ("milk"), a companion or a form.
    pub fn holds_word(&self, word: &str) -> bool {
        self.forms.iter().any(|f| is_named(f, word)) || company_holds(&self.companions, &self.allergens, word)
    }

    /// Makes the diet and the allergens those that the company leaves: stricter ones that are stated stay.
    pub fn settle(&mut self) {
        let fare = self.fare();
        (self.diet, self.allergens) = (fare.diet, fare.allergens);
        for twin in &mut self.twins {
            let fare = twin.fare();
            (twin.diet, twin.allergens) = (fare.diet, fare.allergens);
        }
    }
}

impl Twin {
    /// Who may eat it, by its own company; what it shares with the dish it leaves out where its diet asks for that.
    pub fn fare(&self) -> Fare {
        Fare::of(&self.companions, &self.allergens, self.diet)
    }

    /// Whether its own company holds what this word names, as [`Dish::holds_word`].
    pub fn holds_word(&self, word: &str) -> bool {
        company_holds(&self.companions, &self.allergens, word)
    }

    /// Whether an eater of this diet can be promised that they may eat it, as [`Dish::surely_suits`].
    pub fn surely_suits(&self, eater: Diet) -> bool {
        surely_suits(&self.companions, self.diet, eater)
    }
}

fn company_holds(companions: &[Companion], allergens: &[Allergen], word: &str) -> bool {
    let by_name = |c: &Companion| {
        let contents = contents_of(&c.name).unwrap_or_else(|| contents_by_words(&c.name));
        is_named(&c.name, word) || holds_word(contents, word)
    };
    let stated = Contents::of(&[], allergens);
    holds_word(stated, word) || companions.iter().any(by_name)
}

/// Words of people for several substances or allergens, or for one under another name.
const MEANT: &[(&str, &[Substance], &[Allergen])] = &[
    ("meat", &[Substance::Beef, Substance::Pork, Substance::Poultry, Substance::Meat], &[]),
    ("dairy", &[Substance::Milk], &[Allergen::Milk]),
    ("lactose", &[Substance::Milk], &[Allergen::Milk]),
    ("shellfish", &[Substance::Crustacean, Substance::Mollusc], &[Allergen::Crustacean, Allergen::Mollusc]),
    (
        "seafood",
        &[Substance::Fish, Substance::Crustacean, Substance::Mollusc],
        &[Allergen::Fish, Allergen::Crustacean, Allergen::Mollusc],
    ),
    ("gluten", &[], &[Allergen::Wheat, Allergen::OtherGluten]),
    ("tree nut", &[], &[Allergen::Nuts]),
    ("soy", &[], &[Allergen::Soya]),
    ("sulfite", &[], &[Allergen::Sulphite]),
    ("booze", &[Substance::Alcohol], &[]),
    ("gelatin", &[Substance::Gelatine], &[]),
];

/// One of several: "eggs" is "egg", "anchovies" is "anchovy", "tomatoes" is "tomato".
fn single(word: &str) -> Cow<'_, str> {
    match word.strip_suffix("ies") {
        Some(stem) if stem.len() > 2 => Cow::Owned(format!("{stem}y")),
        _ => Cow::Borrowed(word.strip_suffix("oes").map_or_else(
            || word.strip_suffix('s').filter(|s| s.len() > 1 && !s.ends_with('s')).unwrap_or(word),
            |stem| &word[..stem.len() + 1],
        )),
    }
}

/// Whether something of these contents holds what a word names, in the singular or the plural. Meat is beef, pork, poultry and any
/// other; dairy, shellfish, seafood and gluten are what people mean by them.
pub fn holds_word(contents: Contents, word: &str) -> bool {
    let word = single(word);
    let meant = MEANT.iter().filter(|(m, ..)| *m == word);
    let mut meant = meant.map(|(_, substances, allergens)| {
        substances.iter().any(|s| contents.holds(*s)) || allergens.iter().any(|a| contents.carries(*a))
    });
    meant.any(|held| held)
        || Substance::ALL.iter().any(|s| single(s.word()) == word && contents.holds(*s))
        || Allergen::ALL.iter().any(|a| single(a.word()) == word && contents.carries(*a))
}

/// Whether a name says that it is what a word names: "cured ham" is ham and "red wine" is wine; "red wine vinegar" is no wine, and
/// "coconut milk" no milk, for they do not hold what wine and milk hold.
pub fn is_named(name: &str, word: &str) -> bool {
    let lower = |s: &str| s.to_lowercase();
    let (name, word) = (lower(name), lower(word));
    if name == word {
        return true;
    }
    let words = |s: &str| -> Vec<String> {
        s.split(|c: char| !c.is_alphabetic()).filter(|w| !w.is_empty()).map(|w| single(w).into_owned()).collect()
    };
    let (all, wanted) = (words(&name), words(&word));
    if wanted.is_empty() || !all.windows(wanted.len()).any(|w| w == wanted.as_slice()) {
        return false;
    }
    let held = contents_of(&name).unwrap_or_else(|| contents_by_words(&name));
    contents_of(&word).is_none_or(|asked| held.and(asked) == held)
}

// Asked for each eater of each serving, many times a judgement: the cheap answers come first.
fn surely_suits(companions: &[Companion], stated: Diet, eater: Diet) -> bool {
    let suits = |c: &Companion| contents_of(&c.name).is_some_and(|known| eater.may_eat(known.diet()));
    eater == Diet::Everything || eater.may_eat(stated) && companions.iter().all(suits)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_known_by_what_they_are_and_never_by_guess() {
        for (name, diet, allergens) in [
            ("double cream", Diet::Vegetarian, &[Allergen::Milk][..]),
            ("Fresh Dill", Diet::Vegan, &[]),
            ("chopped onions", Diet::Vegan, &[]),
            ("coconut milk", Diet::Vegan, &[]),
            ("smoked bacon", Diet::Everything, &[]),
            ("leaf gelatine", Diet::Everything, &[]),
            ("honey", Diet::Vegetarian, &[]),
            ("soy sauce", Diet::Vegan, &[Allergen::Wheat, Allergen::Soya]),
            ("gran's stock (beef, celery)", Diet::Everything, &[Allergen::Celery]),
            ("house paste (vegan)", Diet::Vegan, &[]),
            ("house paste (soya, fish)", Diet::Pescatarian, &[Allergen::Fish, Allergen::Soya]),
            // Brackets add and never take away.
            ("butter (vegan)", Diet::Vegetarian, &[Allergen::Milk]),
        ] {
            let known = contents_of(name).unwrap_or_else(|| panic!("{name} is known"));
            assert_eq!((known.diet(), known.allergens()), (diet, allergens.to_vec()), "{name}");
        }
        for name in ["gran's stock", "stock", "xyzzy", "", "house paste (secret)", "house paste ()", "almond butter biscuits"] {
            assert_eq!(contents_of(name), None, "{name}");
        }
    }

    #[test]
    fn faith_can_ask_for_pork_alcohol_gelatine_and_rennet() {
        for (name, held) in [
            ("bacon", Substance::Pork),
            ("red wine", Substance::Alcohol),
            ("leaf gelatine", Substance::Gelatine),
            ("parmesan", Substance::Rennet),
            ("beef mince", Substance::Beef),
        ] {
            assert!(contents_of(name).is_some_and(|c| c.holds(held)), "{name}");
        }
    }

    #[test]
    fn a_vow_is_meant_as_people_say_it() {
        for (name, word, held) in [
            ("egg noodles", "eggs", true),
            ("cured ham", "ham", true),
            ("ham stock", "hams", true),
            ("red wine", "wine", true),
            ("red wine vinegar", "wine", false),
            ("coconut milk", "milk", false),
            ("coconut milk", "dairy", false),
            ("soured cream", "dairy", true),
            ("peanut butter", "butter", false),
            ("prawns", "shellfish", true),
            ("mussels", "seafood", true),
            ("anchovies", "anchovy", true),
            ("breadcrumbs", "gluten", true),
            ("rolled oats", "gluten", true),
            ("walnuts", "nut", true),
            ("spring onion", "onions", true),
            ("tomatoes", "tomato", true),
            ("tofu", "soy", true),
            ("chicken stock", "chicken", true),
            ("eggplant", "egg", false),
            ("hamburger buns", "ham", false),
        ] {
            let contents = contents_of(name).unwrap_or_else(|| contents_by_words(name));
            assert_eq!(is_named(name, word) || holds_word(contents, word), held, "{name}, never {word}");
        }
    }

    #[test]
    fn a_table_that_says_one_name_twice_is_refused() {
        let twice = "[(names: [\"dill\"]), (holds: [Milk], names: [\"dill\"])]";
        assert!(matches!(read_names("x", twice), Err(BookError::Twice { .. })));
    }
}
