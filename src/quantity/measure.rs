//! What an amount counts: grams, cups, cloves, tins; and the exact factors between measures.
//!
//! Sources of the factors: NIST SP 811 (2008), Appendix B, for pound, ounce and US volumes; UK Weights and Measures Act
//! 1985, Schedule 1, for imperial volumes (gallon 4.54609 l); AS 1325-1972 for the metric cup of 250 ml; the Australian
//! tablespoon of 20 ml and the British spoons of 5, 10 and 15 ml are common practice.

use super::{GRAMS_PER_OUNCE, System};

/// Whose cups and spoons are meant.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Kitchen {
    /// Cup 250 ml, tablespoon 15 ml; fluid ounces and pints imperial.
    #[default]
    Metric,
    /// US customary: cup 236.588 ml, tablespoon 14.787 ml.
    Us,
    /// Imperial: cup of half a pint, 284.131 ml; spoons as metric.
    Imperial,
    /// As metric, with a tablespoon of 20 ml.
    Australian,
}

impl From<System> for Kitchen {
    fn from(system: System) -> Kitchen {
        match system {
            System::Metric => Kitchen::Metric,
            System::Us => Kitchen::Us,
            System::Imperial => Kitchen::Imperial,
        }
    }
}

impl Kitchen {
    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            Kitchen::Metric => "metric",
            Kitchen::Us => "US",
            Kitchen::Imperial => "imperial",
            Kitchen::Australian => "Australian",
        }
    }
}

/// What sort of thing a measure is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeasureSort {
    /// It weighs.
    Mass,
    /// It fills.
    Volume,
    /// It is long.
    Length,
    /// It is hot.
    Oven,
    /// Nobody measures it: a pinch, a handful, a thumb.
    Vague,
    /// A natural piece of something: a clove, a slice.
    Piece,
    /// What something is sold in: a tin, a jar.
    Pack,
}

macro_rules! measures {
    ($($variant:ident $sort:ident $key:literal : $($word:literal)*;)+) => {
        /// A measure; a plain count of things ("3 eggs") has none.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[allow(missing_docs)] // Each is its own plain word; see `key`.
        pub enum Measure { $($variant),+ }

        impl Measure {
            /// Every measure.
            pub const ALL: &'static [Measure] = &[$(Measure::$variant),+];

            /// Its short name, the same for ever: "g", "tbsp", "clove".
            pub fn key(self) -> &'static str {
                match self { $(Measure::$variant => $key),+ }
            }

            /// What sort of thing it is.
            pub fn sort(self) -> MeasureSort {
                match self { $(Measure::$variant => MeasureSort::$sort),+ }
            }

            /// Other ways to write it, in small letters.
            fn words(self) -> &'static [&'static str] {
                match self { $(Measure::$variant => &[$key, $($word),*]),+ }
            }
        }
    };
}

measures! {
    Milligram Mass "mg": "milligram" "milligrams";
    Gram Mass "g": "gr" "gm" "gms" "grs" "gram" "grams" "gramme" "grammes" "gramm";
    Kilogram Mass "kg": "kgs" "kilo" "kilos" "kilogram" "kilograms" "kilogramme" "kilogrammes";
    Ounce Mass "oz": "ozs" "ounce" "ounces";
    Pound Mass "lb": "lbs" "pound" "pounds";
    Millilitre Volume "ml": "mls" "millilitre" "millilitres" "milliliter" "milliliters";
    Centilitre Volume "cl": "centilitre" "centilitres" "centiliter" "centiliters";
    Decilitre Volume "dl": "decilitre" "decilitres" "deciliter" "deciliters";
    Litre Volume "l": "ltr" "ltrs" "litre" "litres" "liter" "liters";
    Teaspoon Volume "tsp": "tsps" "teasp" "teaspoon" "teaspoons" "teaspoonful" "teaspoonfuls" "tl";
    Dessertspoon Volume "dsp": "dstsp" "dessertspoon" "dessertspoons" "dessertspoonful" "dessertspoonfuls";
    Tablespoon Volume "tbsp": "tbsps" "tbs" "tbl" "tblsp" "tblspn" "tablespoon" "tablespoons" "tablespoonful" "tablespoonfuls" "el";
    FluidOunce Volume "fl oz": "floz" "fl. oz" "fl.oz" "fl ozs" "fluid oz" "fluid ounce" "fluid ounces" "fl ounce" "fl ounces";
    Cup Volume "cup": "cups" "c" "cupful" "cupfuls";
    Pint Volume "pint": "pints" "pt" "pts";
    Quart Volume "quart": "quarts" "qt" "qts";
    Gallon Volume "gallon": "gallons" "gal" "gals";
    Millimetre Length "mm": "millimetre" "millimetres" "millimeter" "millimeters";
    Centimetre Length "cm": "cms" "centimetre" "centimetres" "centimeter" "centimeters";
    Inch Length "inch": "inches" "in" "\"" "″";
    Celsius Oven "C": ;
    Fahrenheit Oven "F": ;
    GasMark Oven "gas": ;
    Pinch Vague "pinch": "pinches" "prise" "prisen";
    Dash Vague "dash": "dashes";
    Drop Vague "drop": "drops";
    Splash Vague "splash": "splashes";
    Drizzle Vague "drizzle": "drizzles";
    Glug Vague "glug": "glugs";
    Handful Vague "handful": "handfuls" "handsful";
    Thumb Vague "thumb": "thumbs" "thumb-sized piece" "thumb-size piece" "thumb-sized pieces" "thumb sized piece" "thumbnail-sized piece";
    Knob Vague "knob": "knobs";
    Scoop Vague "scoop": "scoops";
    Dollop Vague "dollop": "dollops";
    Spoonful Vague "spoonful": "spoonfuls" "spoon" "spoons";
    Clove Piece "clove": "cloves";
    Slice Piece "slice": "slices";
    Piece Piece "piece": "pieces" "pc" "pcs" "chunk" "chunks";
    Sprig Piece "sprig": "sprigs";
    Leaf Piece "leaf": "leaves";
    Stalk Piece "stalk": "stalks";
    Stick Piece "stick": "sticks";
    Rib Piece "rib": "ribs";
    Rasher Piece "rasher": "rashers";
    Head Piece "head": "heads";
    Bulb Piece "bulb": "bulbs";
    Ear Piece "ear": "ears";
    Bunch Piece "bunch": "bunches";
    Wedge Piece "wedge": "wedges";
    Sheet Piece "sheet": "sheets";
    Ball Piece "ball": "balls";
    Cube Piece "cube": "cubes";
    Strip Piece "strip": "strips";
    Fillet Piece "fillet": "fillets";
    Loaf Piece "loaf": "loaves";
    Tin Pack "tin": "tins" "can" "cans";
    Jar Pack "jar": "jars";
    Packet Pack "packet": "packets" "pack" "packs" "package" "packages" "pkg" "pkgs" "pkt" "sachet" "sachets" "pouch" "pouches";
    Carton Pack "carton": "cartons" "tetrapak" "brick" "bricks";
    Bottle Pack "bottle": "bottles";
    Bag Pack "bag": "bags";
    Pot Pack "pot": "pots" "tub" "tubs" "container" "containers";
    Box Pack "box": "boxes" "punnet" "punnets" "tray" "trays";
    Block Pack "block": "blocks";
    Tube Pack "tube": "tubes";
}

impl Measure {
    /// The measure whose word `word` is. "T" and "t", as US cards have them, are told apart by their size.
    pub fn from_word(word: &str) -> Option<Measure> {
        match word {
            "T" | "Tb" | "TB" => return Some(Measure::Tablespoon),
            "t" => return Some(Measure::Teaspoon),
            _ => {}
        }
        let lower = word.to_lowercase();
        Measure::ALL.iter().copied().find(|m| m.sort() != MeasureSort::Oven && m.words().contains(&lower.as_str()))
    }

    /// A measure at the start of `text`, and what follows. Longer words win: "fl oz" before "f".
    pub(super) fn at_start(text: &str) -> Option<(Measure, &str)> {
        const ODD: [(&str, Measure); 9] = [
            ("fl. oz.", Measure::FluidOunce),
            ("fl. oz", Measure::FluidOunce),
            ("fl.oz.", Measure::FluidOunce),
            ("fl oz", Measure::FluidOunce),
            ("fluid ounces", Measure::FluidOunce),
            ("fluid ounce", Measure::FluidOunce),
            ("fl ounces", Measure::FluidOunce),
            ("thumb sized piece", Measure::Thumb),
            ("fluid oz", Measure::FluidOunce),
        ];
        for (words, measure) in ODD {
            if let Some(rest) = super::amount::strip_word(text, words) {
                return Some((measure, rest.strip_prefix('.').unwrap_or(rest)));
            }
        }
        for words in ["thumb-sized piece", "thumb-size piece", "thumbnail-sized piece", "thumb-sized pieces"] {
            if let Some(rest) = super::amount::strip_word(text, words) {
                return Some((Measure::Thumb, rest));
            }
        }
        if let Some(rest) = text.strip_prefix(['"', '″', '”']) {
            return Some((Measure::Inch, rest));
        }
        let end = text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len());
        let (word, rest) = text.split_at(end);
        let measure = Measure::from_word(word)?;
        // "c's" and "g2" are no measures.
        if rest.starts_with(|c: char| c.is_alphanumeric() || c == '\'' || c == '’') {
            return None;
        }
        Some((measure, rest.strip_prefix('.').unwrap_or(rest)))
    }

    /// Grams in one of a measure of mass, exact; nothing for what does not weigh.
    pub fn grams(self) -> Option<f64> {
        Some(match self {
            Measure::Milligram => 0.001,
            Measure::Gram => 1.0,
            Measure::Kilogram => 1_000.0,
            Measure::Ounce => GRAMS_PER_OUNCE,
            Measure::Pound => 16.0 * GRAMS_PER_OUNCE,
            _ => return None,
        })
    }

    /// Millilitres in one of a measure of volume, exact; nothing for what does not fill.
    pub fn millilitres(self, kitchen: Kitchen) -> Option<f64> {
        /// US teaspoon: a 768th of the gallon of 231 cubic inches.
        const US_TEASPOON: f64 = 4.928_921_593_75;
        /// Imperial fluid ounce: a 160th of the gallon of 4.54609 l.
        const IMPERIAL_OUNCE: f64 = 28.413_062_5;
        let us = kitchen == Kitchen::Us;
        Some(match self {
            Measure::Millilitre => 1.0,
            Measure::Centilitre => 10.0,
            Measure::Decilitre => 100.0,
            Measure::Litre => 1_000.0,
            Measure::Teaspoon if us => US_TEASPOON,
            Measure::Teaspoon => 5.0,
            Measure::Dessertspoon if us => 2.0 * US_TEASPOON,
            Measure::Dessertspoon => 10.0,
            Measure::Tablespoon => match kitchen {
                Kitchen::Us => 3.0 * US_TEASPOON,
                Kitchen::Australian => 20.0,
                Kitchen::Metric | Kitchen::Imperial => 15.0,
            },
            Measure::FluidOunce if us => 6.0 * US_TEASPOON,
            Measure::FluidOunce => IMPERIAL_OUNCE,
            Measure::Cup => match kitchen {
                Kitchen::Us => 48.0 * US_TEASPOON,
                Kitchen::Imperial => 10.0 * IMPERIAL_OUNCE,
                Kitchen::Metric | Kitchen::Australian => 250.0,
            },
            Measure::Pint if us => 96.0 * US_TEASPOON,
            Measure::Pint => 20.0 * IMPERIAL_OUNCE,
            Measure::Quart if us => 192.0 * US_TEASPOON,
            Measure::Quart => 40.0 * IMPERIAL_OUNCE,
            Measure::Gallon if us => 768.0 * US_TEASPOON,
            Measure::Gallon => 160.0 * IMPERIAL_OUNCE,
            _ => return None,
        })
    }

    /// How many of `other` make one of this: "lb" holds 16 "oz". Nothing where they measure different things.
    pub fn in_terms_of(self, other: Measure, kitchen: Kitchen) -> Option<f64> {
        if self == other {
            return Some(1.0);
        }
        match (self.grams(), other.grams(), self.millilitres(kitchen), other.millilitres(kitchen)) {
            (Some(a), Some(b), _, _) | (_, _, Some(a), Some(b)) => Some(a / b),
            _ => match (self.millimetres(), other.millimetres()) {
                (Some(a), Some(b)) => Some(a / b),
                _ => None,
            },
        }
    }

    fn millimetres(self) -> Option<f64> {
        Some(match self {
            Measure::Millimetre => 1.0,
            Measure::Centimetre => 10.0,
            Measure::Inch => 25.4,
            _ => return None,
        })
    }

    /// The word behind `amount` of it: "cups", "g", "cloves".
    pub fn said(self, amount: f64) -> String {
        let key = self.key();
        let counted = matches!(self.sort(), MeasureSort::Piece | MeasureSort::Pack | MeasureSort::Vague)
            || matches!(self, Measure::Cup | Measure::Pint | Measure::Quart | Measure::Gallon);
        if !counted || amount <= 1.0 {
            return key.to_string();
        }
        match self {
            Measure::Leaf => "leaves".into(),
            Measure::Loaf => "loaves".into(),
            _ if key.ends_with("ch") || key.ends_with("sh") || key.ends_with('x') => format!("{key}es"),
            _ => format!("{key}s"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_names_two_measures() {
        let mut seen = std::collections::BTreeMap::new();
        for m in Measure::ALL {
            for word in m.words() {
                assert_eq!(seen.insert(word.to_string(), *m), None, "{word}");
            }
        }
    }

    #[test]
    fn a_large_and_a_small_t_differ() {
        assert_eq!(Measure::from_word("T"), Some(Measure::Tablespoon));
        assert_eq!(Measure::from_word("t"), Some(Measure::Teaspoon));
        assert_eq!(Measure::at_start("fl. oz. cream").map(|m| m.0), Some(Measure::FluidOunce));
        assert_eq!(Measure::at_start("green beans"), None);
    }
}
