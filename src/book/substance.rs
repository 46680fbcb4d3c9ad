//! What food is, as far as somebody may not or will not eat it: by diet, by faith, by allergy.

use super::{Allergen, Diet};
use serde::{Deserialize, Serialize};

macro_rules! substances {
    ($($(#[$doc:meta])* $name:ident = $word:literal, $diet:ident, [$($allergen:ident),*];)+) => {
        /// Something that a companion or a piece holds and that plants do not. What holds none of them is of plants and minerals.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub enum Substance { $($(#[$doc])* $name),+ }

        impl Substance {
            /// Every one.
            pub const ALL: &'static [Substance] = &[$(Substance::$name),+];

            /// The word for a person.
            pub fn word(self) -> &'static str {
                match self { $(Substance::$name => $word),+ }
            }

            /// The strictest diet that may eat what holds it.
            pub fn diet(self) -> Diet {
                match self { $(Substance::$name => Diet::$diet),+ }
            }

            /// The allergens that it always brings.
            fn allergens(self) -> &'static [Allergen] {
                match self { $(Substance::$name => &[$(Allergen::$allergen),*]),+ }
            }
        }
    };
}

substances! {
    /// Beef and veal.
    Beef = "beef", Everything, [];
    /// Pork, and what is made of it: ham, bacon, lard, most sausages.
    Pork = "pork", Everything, [];
    /// Birds.
    Poultry = "poultry", Everything, [];
    /// Any other meat, or meat that is not named.
    Meat = "meat", Everything, [];
    /// Fish, roe, and sauces of fish.
    Fish = "fish", Pescatarian, [Fish];
    /// Prawns, crabs.
    Crustacean = "crustaceans", Pescatarian, [Crustacean];
    /// Mussels, squid.
    Mollusc = "molluscs", Pescatarian, [Mollusc];
    /// Eggs.
    Egg = "egg", Vegetarian, [Egg];
    /// Milk and all that is made of it.
    Milk = "milk", Vegetarian, [Milk];
    /// Honey.
    Honey = "honey", Vegetarian, [];
    /// Gelatine, of skins and bones.
    Gelatine = "gelatine", Everything, [];
    /// Cheese that is often curdled with the rennet of calves. Most vegetarians eat cheese, and some take care which; the diet
    /// does not bar it, the word is there for those who ask.
    Rennet = "rennet", Vegetarian, [];
    /// Wine, beer, spirits; cooking does not take all of it away.
    Alcohol = "alcohol", Vegan, [];
}

/// What is in something: substances and allergens, as sets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Contents {
    substances: u16,
    allergens: u32,
}

impl Contents {
    /// These substances with the allergens that they bring, and these allergens beside.
    pub fn of(substances: &[Substance], allergens: &[Allergen]) -> Contents {
        let held = substances.iter().fold(0, |set, &s| set | 1 << s as u16);
        let brought = substances.iter().flat_map(|s| s.allergens()).chain(allergens);
        Contents { substances: held, allergens: brought.fold(0, |set, &a| set | 1 << a as u32) }
    }

    /// Both together.
    #[must_use]
    pub fn and(self, other: Contents) -> Contents {
        Contents { substances: self.substances | other.substances, allergens: self.allergens | other.allergens }
    }

    /// Whether it holds this.
    pub fn holds(self, substance: Substance) -> bool {
        self.substances & 1 << substance as u16 != 0
    }

    /// Whether it carries this allergen.
    pub fn carries(self, allergen: Allergen) -> bool {
        self.allergens & 1 << allergen as u32 != 0
    }

    /// What it holds, in the order of [`Substance::ALL`].
    pub fn substances(self) -> Vec<Substance> {
        Substance::ALL.iter().copied().filter(|&s| self.holds(s)).collect()
    }

    /// The allergens that it carries, in the order of [`Allergen::ALL`].
    pub fn allergens(self) -> Vec<Allergen> {
        Allergen::ALL.iter().copied().filter(|&a| self.carries(a)).collect()
    }

    /// The strictest diet that may eat it.
    pub fn diet(self) -> Diet {
        Substance::ALL.iter().filter(|&&s| self.holds(s)).fold(Diet::Vegan, |diet, s| diet.with(s.diet()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_in_it_says_who_may_eat_it() {
        for (held, diet, allergens) in [
            (&[][..], Diet::Vegan, &[][..]),
            (&[Substance::Alcohol], Diet::Vegan, &[]),
            (&[Substance::Milk, Substance::Rennet], Diet::Vegetarian, &[Allergen::Milk]),
            (&[Substance::Fish, Substance::Egg], Diet::Pescatarian, &[Allergen::Egg, Allergen::Fish]),
            (&[Substance::Gelatine], Diet::Everything, &[]),
            (&[Substance::Pork, Substance::Fish], Diet::Everything, &[Allergen::Fish]),
        ] {
            let contents = Contents::of(held, &[]);
            assert_eq!((contents.diet(), contents.allergens()), (diet, allergens.to_vec()), "{held:?}");
            assert_eq!(contents.substances(), held);
        }
        assert_eq!(Contents::of(&[], &[Allergen::Celery]).allergens(), [Allergen::Celery]);
    }
}
