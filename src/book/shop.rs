//! Where a companion is bought, and how long it may lie in the house before it is first used.

/// Where something is bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shop {
    /// Vegetables, fruit and fresh herbs.
    Greengrocer,
    /// Meat and cured meat.
    Butcher,
    /// Fish and shellfish.
    Fishmonger,
    /// Milk, cheese and eggs; tofu lies beside them.
    Dairy,
    /// Bread.
    Baker,
    /// What keeps on a shelf: tins, grains, spices, oil.
    Grocer,
    /// Frozen goods.
    Freezer,
    /// Nobody said: a companion of the cook's own.
    Elsewhere,
}

impl Shop {
    /// Every one, in the order of a round through the shops that ends with what must stay cold.
    pub const ALL: &'static [Shop] = &[
        Shop::Grocer,
        Shop::Baker,
        Shop::Greengrocer,
        Shop::Butcher,
        Shop::Dairy,
        Shop::Fishmonger,
        Shop::Freezer,
        Shop::Elsewhere,
    ];

    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            Shop::Greengrocer => "greengrocer",
            Shop::Butcher => "butcher",
            Shop::Fishmonger => "fishmonger",
            Shop::Dairy => "dairy and eggs",
            Shop::Baker => "baker",
            Shop::Grocer => "dry goods",
            Shop::Freezer => "frozen",
            Shop::Elsewhere => "elsewhere",
        }
    }
}

/// Where a companion comes from and how many days before its first use it may be bought, unopened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stocking {
    /// Where from.
    pub shop: Shop,
    /// Days that it may lie unopened; 0 is bought on the day of its use.
    pub ahead: u16,
}

/// What keeps as long as any plan.
const ON_THE_SHELF: u16 = 365;

/// Each row: the shop, days ahead, names. All common practice, no source; a date on the pack has the last word.
const TABLE: &[(Shop, u16, &[&str])] = &[
    (Shop::Fishmonger, 0, &["white fish fillet", "prawns", "cooked prawns"]),
    (Shop::Fishmonger, 2, &["smoked haddock"]),
    (Shop::Fishmonger, 5, &["smoked mackerel"]),
    (Shop::Butcher, 1, &["beef mince", "pork mince", "lamb mince", "beef meatballs", "chicken thigh"]),
    (Shop::Butcher, 2, &["stewing beef", "pork strips", "pork loin steaks", "diced lamb", "pork sausages", "baked ham"]),
    (Shop::Butcher, 7, &["bacon", "cured ham", "suet"]),
    (
        Shop::Greengrocer,
        2,
        &[
            "basil",
            "coriander",
            "dill",
            "mint",
            "parsley",
            "loose parsley",
            "sage",
            "thyme",
            "lettuce",
            "greens",
            "mushrooms",
            "peas",
        ],
    ),
    (
        Shop::Greengrocer,
        4,
        &["cucumber", "sweet pepper", "spring onion", "radishes", "green beans", "fennel", "celery", "pear", "plums"],
    ),
    (Shop::Greengrocer, 7, &["leeks", "horseradish root"]),
    (
        Shop::Greengrocer,
        14,
        &["onion", "garlic", "ginger", "potatoes", "carrots", "beetroot", "lemon", "lime", "apples", "white cabbage"],
    ),
    (Shop::Dairy, 4, &["milk", "cream", "soured cream"]),
    (Shop::Dairy, 7, &["yoghurt", "fresh cheese", "mozzarella cheese"]),
    (Shop::Dairy, 14, &["egg", "butter", "feta cheese", "blue cheese", "halloumi", "hard cheese", "tofu", "pastry"]),
    (Shop::Baker, 1, &["bread"]),
    (Shop::Baker, 3, &["rye bread", "flatbreads"]),
    (
        Shop::Grocer,
        ON_THE_SHELF,
        &[
            "agar",
            "allspice",
            "almonds",
            "anchovies",
            "barley",
            "bay leaf",
            "black beans",
            "bone broth",
            "breadcrumbs",
            "capers",
            "caraway",
            "chickpeas",
            "chopped tomatoes",
            "chutney",
            "cinnamon",
            "clove",
            "coconut milk",
            "coriander seed",
            "corn tortillas",
            "cornflour",
            "cornmeal",
            "couscous",
            "crispbread",
            "cumin",
            "curry powder",
            "dates",
            "dried apricots",
            "dried chilli",
            "dried mushrooms",
            "egg noodles",
            "fennel seed",
            "flour",
            "gherkins",
            "glass noodles",
            "gram flour",
            "hazelnuts",
            "horseradish",
            "lentils",
            "maize tortillas",
            "mild curry powder",
            "miso",
            "mustard",
            "mustard seed",
            "nutmeg",
            "oats",
            "oil",
            "olives",
            "passata",
            "peppercorns",
            "pickled herring",
            "raisins",
            "red lentils",
            "rice",
            "rice noodles",
            "salt",
            "sauerkraut",
            "semolina",
            "sesame seed",
            "short pasta",
            "smoked paprika",
            "soy sauce",
            "spaghetti",
            "split peas",
            "sugar",
            "sunflower seed",
            "tahini",
            "tamarind paste",
            "turmeric",
            "vegetable shortening",
            "vegetable stock",
            "vinegar",
            "walnuts",
            "white beans",
            "wraps",
        ],
    ),
    (Shop::Freezer, 60, &["frozen peas"]),
];

/// Last words of a name that give its shop away, for companions that the table does not hold.
const BY_LAST_WORD: &[(Shop, u16, &[&str])] = &[
    (Shop::Fishmonger, 0, &["fish", "fillet", "fillets", "salmon", "trout", "cod", "mussels", "squid"]),
    (Shop::Butcher, 1, &["mince", "beef", "pork", "lamb", "chicken", "veal", "liver", "sausages", "ham"]),
    (Shop::Dairy, 7, &["cheese", "milk", "cream", "butter", "eggs", "curd", "quark"]),
    (Shop::Baker, 1, &["bread", "rolls", "baguette", "loaf"]),
    (
        Shop::Greengrocer,
        4,
        &[
            "cabbage",
            "onion",
            "onions",
            "tomatoes",
            "beans",
            "herbs",
            "leaves",
            "spinach",
            "peppers",
            "courgette",
            "salad",
            "lemons",
        ],
    ),
    (
        Shop::Grocer,
        ON_THE_SHELF,
        &["flour", "seed", "seeds", "oil", "sauce", "paste", "powder", "noodles", "pasta", "rice", "stock"],
    ),
];

/// Where a companion is bought, by its name: as the table has it, or by its last word; else nobody knows, and it is bought
/// within two days of its use.
pub fn stocking_of(name: &str) -> Stocking {
    let lower = name.to_lowercase();
    let last = lower.rsplit(' ').next().unwrap_or_default();
    let row = |table: &[(Shop, u16, &[&str])], word: &str| {
        table.iter().find(|row| row.2.contains(&word)).map(|row| Stocking { shop: row.0, ahead: row.1 })
    };
    row(TABLE, &lower).or_else(|| row(BY_LAST_WORD, last)).unwrap_or(Stocking { shop: Shop::Elsewhere, ahead: 2 })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::Book;

    #[test]
    fn every_companion_of_the_book_has_its_shop_once() {
        let book = Book::shipped().unwrap();
        let twins = book.dishes().flat_map(|d| d.twins.iter().flat_map(|t| &t.companions));
        for c in book.dishes().flat_map(|d| &d.companions).chain(twins) {
            let rows = TABLE.iter().filter(|row| row.2.contains(&c.name.as_str())).count();
            assert_eq!(rows, 1, "{}", c.name);
        }
    }

    #[test]
    fn a_cooks_own_companion_is_known_by_its_last_word_or_not_at_all() {
        for (name, shop, ahead) in [
            ("Rye bread", Shop::Baker, 3),
            ("venison mince", Shop::Butcher, 1),
            ("chestnut flour", Shop::Grocer, ON_THE_SHELF),
            ("wild garlic pesto", Shop::Elsewhere, 2),
            ("", Shop::Elsewhere, 2),
        ] {
            assert_eq!(stocking_of(name), Stocking { shop, ahead }, "{name}");
        }
    }
}
