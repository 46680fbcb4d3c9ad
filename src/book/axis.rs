//! The words a dish is described by, one list an axis.
//!
//! Grounds: textures after the classes of Szczesniak 1963 (J Food Sci 28:385) and ISO 5492/11036, in twelve household
//! words of our choosing; methods by the textbook classes of moist, dry, dry-with-fat, combined and no heat; the other
//! lists are our own judgement.

use serde::{Deserialize, Serialize};

macro_rules! axis {
    ($(#[$doc:meta])* $name:ident { $($value:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum $name {
            $(#[doc = concat!("In words: ", $word, ".")] $value),+
        }

        impl $name {
            /// Every value, in the order of the list.
            pub const ALL: &'static [$name] = &[$($name::$value),+];

            /// The word for a person.
            pub fn word(self) -> &'static str {
                match self { $($name::$value => $word),+ }
            }

            /// The value whose word this is, if any.
            pub fn from_word(word: &str) -> Option<$name> {
                Self::ALL.iter().copied().find(|v| v.word() == word)
            }
        }
    };
}

axis!(/// How it feels in the mouth.
Texture {
    Crisp = "crisp", Crunchy = "crunchy", Charred = "charred", Tender = "tender", Flaky = "flaky", Chewy = "chewy",
    Stewed = "stewed", Creamy = "creamy", Smooth = "smooth", Set = "set", Crumbly = "crumbly", Brothy = "brothy",
});

axis!(/// The seasoning family: what it tastes of once the piece itself is left aside.
Family {
    Sharp = "sharp", Herbal = "herbal", Tomato = "tomato", Smoky = "smoky", Umami = "umami", Curry = "curry",
    Spiced = "spiced", Mustard = "mustard", Mild = "mild", Cheesy = "cheesy", Sweet = "sweet", Chilli = "chilli",
});

axis!(/// How it was cooked.
Method {
    Raw = "raw", Pickle = "pickled", Boil = "boiled", Poach = "poached", Steam = "steamed", Stew = "stewed in sauce",
    Braise = "braised", Bake = "baked", Roast = "roast", Grill = "grilled", Smoke = "smoked", Saute = "pan-tossed",
    Fry = "fried", Blend = "blended",
});

axis!(/// How warm it is served, from cold to hot.
    Heat { Chilled = "cold", Room = "at room warmth", Warm = "warm", Hot = "hot" });

axis!(/// What it looks like on the table.
Form {
    Soup = "soup", Bowl = "bowl", Salad = "salad", Bake = "bake", Pie = "pie", Patty = "patty", Wrap = "wrap",
    Plate = "plate", Mash = "mash", Sandwich = "sandwich", Skewer = "skewer", Dip = "dip",
});

axis!(/// The colour that meets the eye.
Colour {
    White = "white", Yellow = "yellow", Orange = "orange", Red = "red", Pink = "pink", Purple = "purple",
    Green = "green", Brown = "brown", Black = "black",
});

axis!(/// The starch that shares the plate. `None` says that there is none, which is not the same as unknown.
Starch {
    Potato = "potato", Rice = "rice", Pasta = "pasta", Noodles = "noodles", Bread = "bread", Flatbread = "flatbread",
    Pastry = "pastry", Grain = "grain", Maize = "maize", Dumpling = "dumpling", Root = "root", None = "no starch",
});

axis!(/// The protein that shares the plate. The piece itself never counts; `None` says that there is no other.
Protein {
    Beef = "beef", Pork = "pork", Lamb = "lamb", Poultry = "poultry", Game = "game", Fish = "fish",
    Shellfish = "shellfish", Egg = "egg", Cheese = "cheese", Pulses = "pulses", Soy = "soy", Nuts = "nuts",
    Cured = "cured meat", None = "no protein",
});

impl Heat {
    /// 0 for cold to 3 for hot: heat is ordinal.
    pub fn rank(self) -> u8 {
        self as u8
    }
}

impl Texture {
    /// Soft in the mouth: stewed, creamy, smooth or set. Three soft hot meals running draw a complaint.
    pub fn is_soft(self) -> bool {
        matches!(self, Texture::Stewed | Texture::Creamy | Texture::Smooth | Texture::Set)
    }
}
