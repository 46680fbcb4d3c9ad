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
            "wheat",
            "wheatgerm",
            "spelt",
            "durum",
            "farro",
            "emmer",
            "einkorn",
            "kamut",
            "freekeh",
            "seitan",
            "panko",
            "crouton",
            "croutons",
            "macaroni",
            "penne",
            "fusilli",
            "rigatoni",
            "orzo",
            "linguine",
            "tagliatelle",
            "fettuccine",
            "farfalle",
            "vermicelli",
            "lasagne",
            "lasagna",
            "gnocchi",
            "ravioli",
            "tortellini",
            "ramen",
            "udon",
            "soba",
            "naan",
            "pitta",
            "pita",
            "ciabatta",
            "baguette",
            "focaccia",
            "brioche",
            "croissant",
            "croissants",
            "buns",
            "bagel",
            "bagels",
            "tortilla",
            "tortillas",
            "batter",
            "filo",
            "phyllo",
            "chapati",
            "chapatis",
            "roti",
            "matzo",
            "biscuit",
            "biscuits",
            "cracker",
            "crackers",
            "cake",
            "pancakes",
            "waffles",
            "shoyu",
            "teriyaki",
            "hoisin",
            "worcestershire",
            "worcester",
        ],
    ),
    (
        Allergen::OtherGluten,
        &[
            "barley",
            "rye",
            "oats",
            "oat",
            "crispbread",
            "oatmeal",
            "porridge",
            "muesli",
            "granola",
            "malt",
            "malted",
            "beer",
            "ale",
            "stout",
            "lager",
            "triticale",
            "worcestershire",
            "worcester",
        ],
    ),
    (
        Allergen::Crustacean,
        &[
            "prawn",
            "prawns",
            "shrimp",
            "shrimps",
            "crab",
            "crabmeat",
            "crabs",
            "lobster",
            "crayfish",
            "langoustine",
            "langoustines",
            "scampi",
            "krill",
            "shellfish",
        ],
    ),
    (
        Allergen::Egg,
        &[
            "egg",
            "eggs",
            "mayonnaise",
            "mayo",
            "aioli",
            "meringue",
            "meringues",
            "albumen",
            "custard",
            "hollandaise",
            "omelette",
            "quiche",
            "frittata",
        ],
    ),
    (
        Allergen::Fish,
        &[
            "fish",
            "mackerel",
            "herring",
            "salmon",
            "haddock",
            "cod",
            "trout",
            "tuna",
            "anchovy",
            "anchovies",
            "sardine",
            "sardines",
            "pilchards",
            "kipper",
            "kippers",
            "sprats",
            "bass",
            "bream",
            "hake",
            "halibut",
            "plaice",
            "sole",
            "pollock",
            "coley",
            "eel",
            "monkfish",
            "swordfish",
            "roe",
            "caviar",
            "bonito",
            "dashi",
            "surimi",
            "lox",
            "gravlax",
            "fishcakes",
            "worcestershire",
            "worcester",
        ],
    ),
    (Allergen::Peanut, &["peanut", "peanuts", "groundnut", "groundnuts", "satay", "arachis"]),
    (
        Allergen::Soya,
        &[
            "soy", "soya", "soja", "miso", "tofu", "tempeh", "soybean", "soybeans", "edamame", "shoyu", "tamari", "teriyaki",
            "hoisin", "natto", "okara",
        ],
    ),
    (
        Allergen::Milk,
        &[
            "milk",
            "butter",
            "cream",
            "yoghurt",
            "yogurt",
            "cheese",
            "halloumi",
            "curd",
            "curds",
            "ghee",
            "whey",
            "casein",
            "lactose",
            "buttermilk",
            "kefir",
            "quark",
            "skyr",
            "ricotta",
            "mascarpone",
            "mozzarella",
            "parmesan",
            "cheddar",
            "feta",
            "brie",
            "camembert",
            "gouda",
            "gruyère",
            "gruyere",
            "emmental",
            "edam",
            "stilton",
            "gorgonzola",
            "roquefort",
            "pecorino",
            "manchego",
            "paneer",
            "labneh",
            "crème",
            "creme",
            "fraîche",
            "fraiche",
            "custard",
            "béchamel",
            "bechamel",
            "tzatziki",
            "raita",
            "lassi",
            "pesto",
            "fudge",
        ],
    ),
    (
        Allergen::Nuts,
        &[
            "nut",
            "nuts",
            "hazelnut",
            "hazelnuts",
            "walnut",
            "walnuts",
            "almond",
            "almonds",
            "cashew",
            "cashews",
            "pecan",
            "pecans",
            "pistachio",
            "pistachios",
            "macadamia",
            "macadamias",
            "filberts",
            "cobnuts",
            "praline",
            "marzipan",
            "frangipane",
            "nougat",
            "gianduja",
            "dukkah",
            "pesto",
        ],
    ),
    (Allergen::Celery, &["celery", "celeriac", "bouillon"]),
    (Allergen::Mustard, &["mustard", "dijon", "piccalilli", "remoulade", "rémoulade"]),
    (
        Allergen::Sesame,
        &["sesame", "tahini", "tahina", "hummus", "houmous", "halva", "halvah", "zaatar", "atar", "dukkah", "gomasio", "hoisin"],
    ),
    (Allergen::Sulphite, &["wine", "sherry", "marsala", "madeira", "vermouth", "prosecco", "champagne", "cider"]),
    (Allergen::Lupin, &["lupin", "lupins", "lupine", "lupini"]),
    (
        Allergen::Mollusc,
        &[
            "mussel",
            "mussels",
            "squid",
            "calamari",
            "oyster",
            "oysters",
            "clam",
            "clams",
            "octopus",
            "scallop",
            "scallops",
            "cockles",
            "whelks",
            "winkles",
            "cuttlefish",
            "snails",
            "shellfish",
        ],
    ),
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
