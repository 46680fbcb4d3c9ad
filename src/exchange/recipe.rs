//! A recipe as it was read out of a page: the texts, the amounts in them, and a first guess at how it eats.

use super::{
    duration::minutes,
    found::Found,
    jsonld,
    markup::MAX_TEXT,
    microdata,
    page::{NoRecipe, Page, json_blocks, page},
    propose::{Proposed, propose},
};
use crate::{
    book::{Allergen, allergens_of},
    quantity::{Confidence, IngredientLine, Kitchen, MAX_LINE, read_line},
};

/// Where in the page it stood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// schema.org in JSON-LD.
    JsonLd,
    /// schema.org in microdata.
    Microdata,
}

impl Source {
    /// The word in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Source::JsonLd => "json-ld",
            Source::Microdata => "microdata",
        }
    }
}

/// How long it takes, in minutes, as far as the page says.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Minutes {
    /// Preparing.
    pub prep: Option<u32>,
    /// Cooking.
    pub cook: Option<u32>,
    /// From beginning to end; never reckoned from the others, for waits may lie between.
    pub total: Option<u32>,
}

/// A recipe out of a page.
#[derive(Clone, Debug)]
pub struct ReadRecipe {
    /// Where it stood.
    pub source: Source,
    /// Its name; empty if it has none.
    pub name: String,
    /// What it makes, as it stands: "4 servings".
    pub yields: Option<String>,
    /// How long it takes.
    pub minutes: Minutes,
    /// Its ingredients, line by line.
    pub ingredients: Vec<IngredientLine>,
    /// Its steps in order.
    pub steps: Vec<String>,
    /// Names of groups of steps, each with the number of its first step, from 0.
    pub sections: Vec<(usize, String)>,
    /// How it may eat. A proposal from words, for the cook to look through.
    pub proposed: Proposed,
    /// Allergens that the ingredients' names give away, with the line that does. Never a promise that there are no others.
    pub allergens: Vec<(Allergen, String)>,
    /// What stood there and was not read.
    pub unread: Vec<String>,
}

/// The recipe in a saved page or a JSON file; of several the first that has ingredients or steps, the others named as unread.
pub fn read_recipe(bytes: &[u8], kitchen: Kitchen) -> Result<ReadRecipe, NoRecipe> {
    let Gathered { source, all, mut unread } = gather(bytes)?;
    let at = all.iter().position(|f| !f.is_hollow()).unwrap_or_default();
    for (i, other) in all.iter().enumerate() {
        if i != at && !other.name.is_empty() && other.name != all[at].name && unread.len() < 40 {
            unread.push(format!("another recipe on the page: {}", other.name));
        }
    }
    match all.into_iter().nth(at) {
        Some(found) => Ok(finish(source, found, unread, kitchen)),
        None => Err(NoRecipe::None(String::new())),
    }
}

/// Every recipe in a saved page or a JSON file that has ingredients or steps, in the page's order; at least one. What stands
/// there twice is taken once, and what has only a name is among what was not read.
pub fn read_recipes(bytes: &[u8], kitchen: Kitchen) -> Result<Vec<ReadRecipe>, NoRecipe> {
    let Gathered { source, all, mut unread } = gather(bytes)?;
    for hollow in all.iter().filter(|f| f.is_hollow() && !f.name.is_empty()) {
        if unread.len() < 40 && !all.iter().any(|f| !f.is_hollow() && f.name == hollow.name) {
            unread.push(format!("another recipe on the page, of which only the name stands there: {}", hollow.name));
        }
    }
    let mut once: Vec<Found> = Vec::new();
    for found in all.into_iter().filter(|f| !f.is_hollow()) {
        let same = |f: &Found| f.name == found.name && f.ingredients == found.ingredients && f.steps == found.steps;
        if !once.iter().any(same) {
            once.push(found);
        }
    }
    Ok(once.into_iter().map(|found| finish(source, found, unread.clone(), kitchen)).collect())
}

/// What a page holds: at least one recipe that is not hollow.
struct Gathered {
    source: Source,
    all: Vec<Found>,
    unread: Vec<String>,
}

fn gather(bytes: &[u8]) -> Result<Gathered, NoRecipe> {
    let (source, all, mut unread) = match page(bytes)? {
        Page::Json(text) => {
            let value = jsonld::parse(&text).map_err(NoRecipe::BrokenJson)?;
            (Source::JsonLd, jsonld::recipes(&value).into_iter().take(50).map(jsonld::read).collect::<Vec<_>>(), Vec::new())
        }
        Page::Html(html) => {
            let mut unread = Vec::new();
            let mut all = Vec::new();
            for (i, block) in json_blocks(&html).into_iter().take(200).enumerate() {
                match jsonld::parse(&block) {
                    Ok(value) => all.extend(jsonld::recipes(&value).into_iter().take(50).map(jsonld::read)),
                    Err(why) => unread.push(format!("JSON-LD block {} is broken ({why})", i + 1)),
                }
                if all.len() >= 50 {
                    break;
                }
            }
            if all.iter().any(|f| !f.is_hollow()) {
                (Source::JsonLd, all, unread)
            } else {
                let mut second = microdata::recipes(&html);
                second.extend(all);
                (Source::Microdata, second, unread)
            }
        }
    };
    if all.iter().all(Found::is_hollow) {
        return Err(match all.into_iter().find(|f| !f.name.is_empty()) {
            Some(hollow) => NoRecipe::Hollow(hollow.name.chars().take(80).collect()),
            None => NoRecipe::None(unread.first().map_or_else(String::new, |u| format!("; {u}"))),
        });
    }
    unread.truncate(20);
    Ok(Gathered { source, all, unread })
}

fn finish(source: Source, mut f: Found, mut unread: Vec<String>, kitchen: Kitchen) -> ReadRecipe {
    f.close();
    unread.append(&mut f.unread);
    let mut time = |text: &Option<String>, what: &str| {
        let text = text.as_ref().filter(|t| !t.is_empty())?;
        let read = minutes(text);
        if read.is_none() {
            unread.push(format!("{what}: {}", text.chars().take(80).collect::<String>()));
        }
        read
    };
    let minutes = Minutes {
        prep: time(&f.prep, "time to prepare"),
        cook: time(&f.cook, "time to cook"),
        total: time(&f.total, "time in all"),
    };
    let mut ingredients = Vec::with_capacity(f.ingredients.len());
    for line in &f.ingredients {
        if line.chars().count() > MAX_LINE {
            let start: String = line.chars().take(60).collect();
            unread.push(format!("an ingredient longer than {MAX_LINE} characters: {start}..."));
            continue;
        }
        let read = read_line(line, kitchen);
        if read.confidence == Confidence::Unread {
            unread.push(format!("no amount: {line}"));
        }
        ingredients.push(read);
    }
    for step in &mut f.steps {
        if step.chars().count() > MAX_TEXT {
            let start: String = step.chars().take(60).collect();
            unread.push(format!("the end of a step longer than {MAX_TEXT} characters: {start}..."));
            *step = step.chars().take(MAX_TEXT).collect();
        }
    }
    if f.name.is_empty() {
        unread.push("the name: there is none".into());
    }
    if ingredients.is_empty() {
        unread.push("the ingredients: there are none".into());
    }
    if f.steps.is_empty() {
        unread.push("the steps: there are none".into());
    }
    let proposed = propose(&f.name, &ingredients, &f.steps);
    let allergens = noticed(&ingredients);
    // The fullest of what it says: "4" beside "4 servings".
    let yields = f.yields.into_iter().max_by_key(|y| y.chars().count());
    ReadRecipe {
        source,
        name: f.name,
        yields,
        minutes,
        ingredients,
        steps: f.steps,
        sections: f.sections,
        proposed,
        allergens,
        unread,
    }
}

/// Further names that hold an allergen, beside those that the book's own check knows.
const ALSO: &[(Allergen, &[&str])] = &[
    (
        Allergen::Wheat,
        &[
            "wheat",
            "spelt",
            "tortilla",
            "tortillas",
            "pitta",
            "naan",
            "macaroni",
            "lasagne",
            "baguette",
            "seitan",
            "filo",
            "panko",
        ],
    ),
    (
        Allergen::Milk,
        &[
            "parmesan",
            "cheddar",
            "feta",
            "mozzarella",
            "ricotta",
            "mascarpone",
            "yogurt",
            "buttermilk",
            "ghee",
            "crème",
            "quark",
            "paneer",
            "gruyère",
            "gruyere",
            "brie",
            "stilton",
        ],
    ),
    (Allergen::Nuts, &["almond", "walnut", "hazelnut", "cashew", "pecan", "pistachio", "macadamia", "praline", "marzipan"]),
    (Allergen::Mollusc, &["mussel", "oyster", "clam", "octopus", "scallop", "scallops"]),
    (Allergen::Crustacean, &["crayfish", "langoustine", "langoustines"]),
    (Allergen::Sulphite, &["wine", "vinegar", "cider", "sultanas", "raisins", "apricots"]),
    (Allergen::Wheat, &["soy"]),
    (Allergen::Fish, &["worcestershire"]),
    (Allergen::Soya, &["edamame"]),
    (Allergen::Egg, &["mayo", "aioli", "meringue"]),
    (Allergen::Celery, &["stock", "bouillon"]),
];

/// Names in which such a word is harmless: butter beans hold no butter.
const HARMLESS: &[&str] =
    &["butter bean", "butterbean", "cream of tartar", "buckwheat", "oyster mushroom", "cocoa butter", "coconut cream"];

/// The allergens that the lines give away, each with the first line that does.
pub(super) fn noticed<'a>(ingredients: impl IntoIterator<Item = &'a IngredientLine>) -> Vec<(Allergen, String)> {
    let mut found: Vec<(Allergen, String)> = Vec::new();
    for line in ingredients {
        let mut name = line.raw.to_lowercase();
        for harmless in HARMLESS {
            name = name.replace(harmless, "");
        }
        let words: Vec<&str> = name.split(|c: char| !c.is_alphabetic()).collect();
        let also = ALSO.iter().filter(|(_, list)| words.iter().any(|w| list.contains(w))).map(|(a, _)| *a);
        for allergen in allergens_of(&name).into_iter().chain(also) {
            if found.iter().all(|(a, _)| *a != allergen) {
                found.push((allergen, line.raw.clone()));
            }
        }
    }
    found.sort_by_key(|(a, _)| *a);
    found
}
