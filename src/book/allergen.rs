//! Allergens and diets.

use serde::{Deserialize, Serialize};

/// The fourteen of Regulation (EU) No 1169/2011, Annex II, with cereals and nuts as one each.
///
/// The nine of the US (FALCPA 2004 with the FASTER Act 2021: milk, egg, fish, crustacean shellfish, tree nuts, wheat,
/// peanuts, soybeans, sesame) are contained in them; wheat is named apart since the US list has wheat alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[allow(missing_docs)] // Each is its own plain word; see `word`.
pub enum Allergen {
    Wheat,
    OtherGluten,
    Crustacean,
    Egg,
    Fish,
    Peanut,
    Soya,
    Milk,
    Nuts,
    Celery,
    Mustard,
    Sesame,
    Sulphite,
    Lupin,
    Mollusc,
}

impl Allergen {
    /// Every one, in the order of the Annex.
    pub const ALL: &'static [Allergen] = &[
        Allergen::Wheat,
        Allergen::OtherGluten,
        Allergen::Crustacean,
        Allergen::Egg,
        Allergen::Fish,
        Allergen::Peanut,
        Allergen::Soya,
        Allergen::Milk,
        Allergen::Nuts,
        Allergen::Celery,
        Allergen::Mustard,
        Allergen::Sesame,
        Allergen::Sulphite,
        Allergen::Lupin,
        Allergen::Mollusc,
    ];

    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            Allergen::Wheat => "wheat",
            Allergen::OtherGluten => "barley, rye or oats",
            Allergen::Crustacean => "crustaceans",
            Allergen::Egg => "egg",
            Allergen::Fish => "fish",
            Allergen::Peanut => "peanuts",
            Allergen::Soya => "soya",
            Allergen::Milk => "milk",
            Allergen::Nuts => "nuts",
            Allergen::Celery => "celery",
            Allergen::Mustard => "mustard",
            Allergen::Sesame => "sesame",
            Allergen::Sulphite => "sulphite",
            Allergen::Lupin => "lupin",
            Allergen::Mollusc => "molluscs",
        }
    }
}

/// What an eater eats by choice or faith.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Diet {
    /// Everything.
    #[default]
    Everything,
    /// No meat, but fish.
    Pescatarian,
    /// No meat and no fish.
    Vegetarian,
    /// Nothing from animals.
    Vegan,
}

impl Diet {
    /// Every one.
    pub const ALL: &'static [Diet] = &[Diet::Everything, Diet::Pescatarian, Diet::Vegetarian, Diet::Vegan];

    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            Diet::Everything => "everything",
            Diet::Pescatarian => "fish but no meat",
            Diet::Vegetarian => "vegetarian",
            Diet::Vegan => "vegan",
        }
    }

    /// The diet of a plate with this and that on it: those may eat of it who may eat both.
    #[must_use]
    pub fn with(self, other: Diet) -> Diet {
        if self.may_eat(other) { self } else { other }
    }

    /// Whether an eater of this diet may eat what suits `dish`: a vegan dish suits everybody, one for everything only those who eat everything.
    pub fn may_eat(self, dish: Diet) -> bool {
        dish as u8 >= self as u8
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stricter_dish_suits_a_looser_eater_only() {
        assert!(Diet::Everything.may_eat(Diet::Vegan));
        assert!(Diet::Vegetarian.may_eat(Diet::Vegetarian));
        assert!(!Diet::Vegetarian.may_eat(Diet::Pescatarian));
        assert!(!Diet::Vegan.may_eat(Diet::Vegetarian));
        assert_eq!(Diet::Vegan.with(Diet::Pescatarian), Diet::Pescatarian);
        assert_eq!(Diet::Everything.with(Diet::Vegetarian), Diet::Everything);
    }
}
