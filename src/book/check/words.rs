//! What the plain name of an ingredient gives away: "rye bread" holds rye and wheat, and no vegetarian eats bacon.
//!
//! It is a net under the catalogue's own lists, not a source for them: labels have the last word.

use super::super::{Allergen, Contents, Substance};

/// Words that name an allergen.
const ALLERGEN_WORDS: &[(Allergen, &[&str])] = &[
    (
        Allergen::Wheat,
        &[
            "flour",
            "bread",
            "toast",
            "breadcrumbs",
            "crumbs",
            "flatbread",
            "flatbreads",
            "wraps",
            "rolls",
            "spaghetti",
            "pasta",
            "noodles",
            "couscous",
            "bulgur",
            "semolina",
            "pastry",
        ],
    ),
    (Allergen::OtherGluten, &["barley", "rye", "oats", "oat", "crispbread"]),
    (Allergen::Crustacean, &["prawn", "prawns", "shrimp", "shrimps", "crab", "lobster"]),
    (Allergen::Egg, &["egg", "eggs", "mayonnaise"]),
    (Allergen::Fish, &["fish", "mackerel", "herring", "salmon", "haddock", "cod", "trout", "tuna", "anchovy", "anchovies"]),
    (Allergen::Peanut, &["peanut", "peanuts"]),
    (Allergen::Soya, &["soy", "soya", "miso", "tofu", "tempeh"]),
    (Allergen::Milk, &["milk", "butter", "cream", "yoghurt", "cheese", "halloumi", "curd"]),
    (Allergen::Nuts, &["nuts", "hazelnuts", "walnuts", "almonds", "cashews", "pecans", "pistachios"]),
    (Allergen::Celery, &["celery", "celeriac"]),
    (Allergen::Mustard, &["mustard"]),
    (Allergen::Sesame, &["sesame", "tahini"]),
    (Allergen::Lupin, &["lupin"]),
    (Allergen::Mollusc, &["mussels", "squid", "oysters", "clams"]),
];

/// Words before the last one that take the allergen of the last one away: coconut milk, rice noodles, cocoa butter.
const HARMLESS_BEFORE: &[&str] =
    &["coconut", "oat", "almond", "rice", "glass", "corn", "maize", "buckwheat", "gram", "chickpea", "cocoa", "peanut"];
/// Allergens that such a word can take away.
const TAKEN_AWAY: &[Allergen] = &[Allergen::Wheat, Allergen::Milk];

/// Meat, of no pescatarian's plate.
const MEAT: &[&str] = &[
    "beef",
    "pork",
    "ham",
    "bacon",
    "lamb",
    "veal",
    "chicken",
    "turkey",
    "duck",
    "goose",
    "sausage",
    "sausages",
    "meatballs",
    "mince",
    "lard",
    "suet",
];
/// Of skins and bones.
const GELATINE: &[&str] = &["gelatine", "gelatin"];
/// From animals, of no vegan's plate, where no allergen says so already.
const HONEY: &[&str] = &["honey"];
/// Milk by a name that does not say so.
const GHEE: &[&str] = &["ghee"];

/// The allergens that the name gives away.
pub(crate) fn allergens_of(name: &str) -> Vec<Allergen> {
    let words: Vec<String> = name.to_lowercase().split(|c: char| !c.is_alphabetic()).map(str::to_string).collect();
    let harmless = words.iter().any(|w| HARMLESS_BEFORE.contains(&w.as_str()));
    let named = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    ALLERGEN_WORDS.iter().filter(|(a, list)| named(list) && !(harmless && TAKEN_AWAY.contains(a))).map(|(a, _)| *a).collect()
}

/// What the name gives away: never all of it, but so much is sure.
pub(crate) fn contents_by_words(name: &str) -> Contents {
    let lower = name.to_lowercase();
    let named = |list: &[&str]| lower.split(|c: char| !c.is_alphabetic()).any(|w| list.contains(&w));
    let allergens = allergens_of(name);
    let by_allergen = [
        (Allergen::Fish, Substance::Fish),
        (Allergen::Crustacean, Substance::Crustacean),
        (Allergen::Mollusc, Substance::Mollusc),
        (Allergen::Milk, Substance::Milk),
        (Allergen::Egg, Substance::Egg),
    ];
    let mut held: Vec<Substance> = by_allergen.iter().filter(|(a, _)| allergens.contains(a)).map(|(_, s)| *s).collect();
    held.extend(named(MEAT).then_some(Substance::Meat));
    held.extend(named(GELATINE).then_some(Substance::Gelatine));
    held.extend(named(HONEY).then_some(Substance::Honey));
    held.extend(named(GHEE).then_some(Substance::Milk));
    Contents::of(&held, &allergens)
}

#[cfg(test)]
mod tests {
    use super::super::super::Diet;
    use super::*;

    #[test]
    fn a_name_gives_away_what_is_in_it() {
        for (name, allergens, diet) in [
            ("rye bread", &[Allergen::Wheat, Allergen::OtherGluten][..], Diet::Vegan),
            ("coconut milk", &[], Diet::Vegan),
            ("glass noodles", &[], Diet::Vegan),
            ("egg noodles", &[Allergen::Wheat, Allergen::Egg], Diet::Vegetarian),
            ("smoked mackerel", &[Allergen::Fish], Diet::Pescatarian),
            ("soured cream", &[Allergen::Milk], Diet::Vegetarian),
            ("soy sauce", &[Allergen::Soya], Diet::Vegan),
            ("cornflour", &[], Diet::Vegan),
            ("beef mince", &[], Diet::Everything),
        ] {
            assert_eq!((allergens_of(name), contents_by_words(name).diet()), (allergens.to_vec(), diet), "{name}");
        }
    }
}
