//! Which words speak for which value of a profile: our own judgement, no source.

use crate::book::{Family, Form, Heat, Method, Protein, Starch, Texture};

/// A value and the words that speak for it: "word" (or its plural), "stem*", "two words".
pub(super) struct Rule<T: 'static> {
    pub(super) value: T,
    pub(super) words: &'static [&'static str],
}

const fn rule<T>(value: T, words: &'static [&'static str]) -> Rule<T> {
    Rule { value, words }
}

pub(super) const METHODS: &[Rule<Method>] = &[
    rule(Method::Pickle, &["pickle", "pickled", "pickling", "brine", "ferment*"]),
    rule(Method::Smoke, &["smoke over", "hot smoke", "smoker"]),
    rule(Method::Roast, &["roast", "roasted", "roasting"]),
    rule(Method::Bake, &["bake", "baked", "baking dish", "gratin", "lasagne", "crumble", "pie", "tart", "quiche", "casserole"]),
    rule(Method::Grill, &["grill", "grilled", "griddle", "barbecue*", "broil", "broiled", "char", "charred"]),
    rule(Method::Braise, &["braise", "braised", "braising"]),
    rule(Method::Stew, &["stew", "stewed", "simmer", "simmered", "curry", "ragout", "chilli con"]),
    rule(Method::Blend, &["blend", "blended", "blender", "purée", "puree", "pureed", "liquidise", "liquidiser", "whizz"]),
    rule(Method::Poach, &["poach", "poached", "poaching"]),
    rule(Method::Steam, &["steam", "steamed", "steamer"]),
    rule(Method::Fry, &["deep fry", "fried", "fritter", "shallow fry", "fry"]),
    rule(Method::Saute, &["sauté", "saute", "sautéed", "sauteed", "stir fry", "toss in the pan", "pan fry", "wok", "hash"]),
    rule(Method::Boil, &["boil", "boiled", "boiling"]),
    rule(Method::Raw, &["raw", "slaw", "coleslaw", "ceviche", "carpaccio", "tartare", "salad", "no cook"]),
];

pub(super) const FORMS: &[Rule<Form>] = &[
    rule(Form::Soup, &["soup", "broth", "chowder", "borscht", "bisque", "minestrone"]),
    rule(Form::Salad, &["salad", "slaw", "coleslaw", "tabbouleh"]),
    rule(Form::Pie, &["pie", "tart", "quiche", "galette", "strudel", "pasty"]),
    rule(Form::Bake, &["gratin", "lasagne", "casserole", "crumble", "moussaka", "traybake", "clafoutis", "baking dish"]),
    rule(
        Form::Patty,
        &["patty", "patties", "fritter", "burger", "fishcake", "rösti", "rosti", "croquette", "pancake", "meatball"],
    ),
    rule(Form::Wrap, &["wrap", "taco", "burrito", "enchilada", "spring roll", "cabbage roll", "dolma"]),
    rule(Form::Sandwich, &["sandwich", "toastie", "bruschetta", "on toast", "bap", "panini"]),
    rule(Form::Skewer, &["skewer", "kebab", "satay"]),
    rule(Form::Dip, &["dip", "hummus", "pâté", "pate", "pesto", "salsa", "guacamole"]),
    rule(Form::Mash, &["mash", "mashed", "purée", "puree"]),
    rule(
        Form::Bowl,
        &[
            "curry",
            "stew",
            "risotto",
            "rice bowl",
            "noodle bowl",
            "grain bowl",
            "noodle",
            "ramen",
            "chilli con",
            "pilaf",
            "pilau",
            "stir fry",
            "goulash",
            "tagine",
            "dal",
            "dhal",
        ],
    ),
    rule(Form::Plate, &["steak", "fillet", "wedge", "roast"]),
];

pub(super) const TEXTURES: &[Rule<Texture>] = &[
    rule(Texture::Smooth, &["smooth", "velvety", "purée", "puree"]),
    rule(Texture::Brothy, &["broth", "brothy", "consommé"]),
    rule(Texture::Crunchy, &["crunchy", "crunch", "crispy", "fritter", "breaded", "schnitzel"]),
    rule(Texture::Crisp, &["slaw", "coleslaw", "raw", "crisp salad"]),
    rule(Texture::Charred, &["charred", "char", "blackened", "caramelised", "caramelized"]),
    rule(Texture::Flaky, &["flaky", "flake", "flaked", "pie", "puff pastry", "filo"]),
    rule(Texture::Creamy, &["creamy", "gratin", "risotto", "mash", "mashed", "carbonara"]),
    rule(Texture::Set, &["quiche", "frittata", "custard", "terrine", "flan", "set"]),
    rule(Texture::Stewed, &["stew", "stewed", "curry", "braise", "braised", "goulash", "tagine", "casserole"]),
    rule(Texture::Crumbly, &["crumble", "crumbly", "crumb topping"]),
    rule(Texture::Chewy, &["chewy", "dried", "jerky"]),
    rule(Texture::Tender, &["tender"]),
];

pub(super) const HEATS: &[Rule<Heat>] = &[
    rule(Heat::Chilled, &["serve cold", "serve chilled", "chilled", "cold", "gazpacho", "ice cold"]),
    rule(Heat::Room, &["room temperature", "serve cool"]),
    rule(Heat::Warm, &["serve warm", "warm", "lukewarm"]),
    rule(Heat::Hot, &["serve hot", "piping hot", "serve immediately", "serve at once", "steaming"]),
];

pub(super) const FAMILIES: &[Rule<Family>] = &[
    rule(Family::Curry, &["curry", "masala", "turmeric", "madras", "korma", "dal", "dhal", "garam", "cardamom", "fenugreek"]),
    rule(Family::Chilli, &["chilli", "chili", "chile", "jalapeño", "jalapeno", "harissa", "cayenne", "sriracha", "gochujang"]),
    rule(
        Family::Umami,
        &["soy", "miso", "fish sauce", "oyster sauce", "teriyaki", "anchovy", "anchovies", "dashi", "tamari", "nori"],
    ),
    rule(Family::Mustard, &["mustard", "horseradish", "wasabi"]),
    rule(Family::Smoky, &["smoked", "smoky", "chipotle", "bacon", "barbecue", "chorizo"]),
    rule(
        Family::Cheesy,
        &["cheese", "cheddar", "parmesan", "gruyère", "gruyere", "mozzarella", "feta", "halloumi", "cheesy", "stilton"],
    ),
    rule(Family::Tomato, &["tomato", "tomatoe", "passata", "ketchup", "marinara", "ragù"]),
    rule(Family::Spiced, &["cinnamon", "allspice", "clove", "nutmeg", "star anise", "ras", "juniper", "ginger", "cumin"]),
    rule(Family::Sharp, &["vinegar", "lemon", "lime", "caper", "pickle", "pickled", "gherkin", "sour"]),
    rule(
        Family::Herbal,
        &["parsley", "basil", "dill", "mint", "coriander", "thyme", "rosemary", "tarragon", "oregano", "herb", "chive", "pesto"],
    ),
    rule(Family::Sweet, &["honey", "maple", "sugar", "jam", "chocolate", "vanilla", "syrup", "sweet"]),
    rule(Family::Mild, &["cream", "butter", "milk", "crème"]),
];

pub(super) const STARCHES: &[Rule<Starch>] = &[
    rule(Starch::Pasta, &["pasta", "spaghetti", "penne", "macaroni", "lasagne", "tagliatelle", "orzo", "linguine", "gnocchi"]),
    rule(Starch::Noodles, &["noodle", "ramen", "udon", "soba", "vermicelli"]),
    rule(Starch::Rice, &["rice", "risotto", "arborio", "basmati"]),
    rule(Starch::Flatbread, &["tortilla", "pitta", "naan", "chapati", "flatbread", "taco", "wrap"]),
    rule(Starch::Pastry, &["pastry", "filo", "strudel"]),
    rule(Starch::Dumpling, &["dumpling", "gyoza", "pierogi", "spätzle"]),
    rule(Starch::Maize, &["polenta", "cornmeal", "maize", "grits"]),
    rule(Starch::Grain, &["barley", "bulgur", "quinoa", "couscous", "farro", "spelt", "freekeh", "buckwheat"]),
    rule(Starch::Potato, &["potato", "potatoe"]),
    rule(Starch::Bread, &["bread", "toast", "baguette", "sourdough", "bun", "ciabatta", "crouton"]),
    rule(Starch::Root, &["parsnip", "celeriac", "swede", "turnip", "sweet potato"]),
];

pub(super) const PROTEINS: &[Rule<Protein>] = &[
    rule(Protein::Beef, &["beef", "steak", "brisket", "veal", "oxtail"]),
    rule(Protein::Pork, &["pork"]),
    rule(Protein::Lamb, &["lamb", "mutton", "hogget"]),
    rule(Protein::Poultry, &["chicken breast", "chicken thigh", "chicken leg", "chicken", "turkey", "duck", "goose"]),
    rule(Protein::Game, &["venison", "pheasant", "rabbit", "boar", "partridge"]),
    rule(Protein::Fish, &["fish", "salmon", "cod", "haddock", "hake", "trout", "mackerel", "tuna", "herring", "sardine"]),
    rule(Protein::Shellfish, &["prawn", "shrimp", "crab", "lobster", "mussel", "clam", "squid", "scallop"]),
    rule(Protein::Cured, &["bacon", "ham", "chorizo", "pancetta", "salami", "prosciutto", "sausage", "lardon"]),
    rule(Protein::Soy, &["tofu", "tempeh", "edamame"]),
    rule(Protein::Pulses, &["chickpea", "lentil", "bean", "butterbean", "dal"]),
    rule(Protein::Egg, &["egg"]),
    rule(Protein::Cheese, &["cheese", "halloumi", "paneer", "feta", "ricotta", "mozzarella", "cheddar", "gruyère", "gruyere"]),
    rule(Protein::Nuts, &["nut", "walnut", "almond", "cashew", "hazelnut", "peanut", "pistachio"]),
];

/// How warm a method is usually served, where the recipe does not say.
pub(super) fn heat_of(method: Method) -> Option<Heat> {
    match method {
        Method::Raw | Method::Pickle => Some(Heat::Room),
        Method::Smoke | Method::Blend | Method::Poach => None,
        _ => Some(Heat::Hot),
    }
}

/// The texture that a form and a method usually come to, and why.
pub(super) fn texture_of(method: Option<Method>, form: Option<Form>) -> Option<(Texture, String)> {
    let by_form = match (form, method) {
        (Some(Form::Soup), Some(Method::Blend)) => Some((Texture::Smooth, "a blended soup is smooth")),
        (Some(Form::Soup), _) => Some((Texture::Brothy, "a soup with pieces is brothy")),
        (Some(Form::Mash), _) => Some((Texture::Creamy, "a mash is creamy")),
        (Some(Form::Dip), Some(Method::Blend)) => Some((Texture::Smooth, "a blended dip is smooth")),
        (Some(Form::Salad), Some(Method::Raw) | None) => Some((Texture::Crisp, "a raw salad is crisp")),
        _ => None,
    };
    let by_method = || {
        Some(match method? {
            Method::Raw | Method::Pickle => (Texture::Crisp, "what is not heated stays crisp"),
            Method::Roast | Method::Boil | Method::Steam => (Texture::Tender, "it is cooked till tender"),
            Method::Stew | Method::Braise => (Texture::Stewed, "it is cooked in its sauce"),
            Method::Grill => (Texture::Charred, "it is grilled"),
            Method::Fry => (Texture::Crunchy, "it is fried"),
            _ => return None,
        })
    };
    by_form.or_else(by_method).map(|(t, because)| (t, because.to_string()))
}
