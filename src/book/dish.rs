//! A dish: what is made of the piece, how it eats, what it needs beside it, how long it keeps.

use super::{Allergen, CutForm, Diet, DishId, PartId, Profile, Protein};
use crate::quantity::{Days, PerMille, State};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// What a dish is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Role {
    /// Eaten as the piece's part of a meal.
    #[default]
    Meal,
    /// A form that outlives the window: vinegar pickle, chutney, dried. Meals may still draw a spoonful.
    Bank,
    /// Made ahead and kept for later dishes: a sauce base, a poached tail.
    Component,
}

/// What can be done with what is left of a dish.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum Leftover {
    /// It may be served again as it is.
    #[default]
    AsIs,
    /// Only turned into something of another texture: dish ids, where the book has them.
    Turned(Vec<DishId>),
    /// It is eaten at once or not at all.
    No,
}

impl Leftover {
    /// Whether it may be served again as it is.
    pub fn is_as_is(&self) -> bool {
        *self == Leftover::AsIs
    }
}

/// A dish of the book.
///
/// Read from a file it is [settled](Dish::settle): its diet and its allergens are at least those of its company.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, remote = "Self")]
pub struct Dish {
    /// Stable name in files.
    pub id: DishId,
    /// What a cook calls it: "Charred wedges, cumin yoghurt".
    pub name: String,
    /// What it is for.
    #[serde(default)]
    pub role: Role,
    /// Families of kinds that it suits, best first.
    #[serde(deserialize_with = "super::family::all_in_file")]
    pub families: Vec<String>,
    /// Parts that it suits, best first; part ids may be of several kinds. Empty: any part.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartId>,
    /// Components (dish ids) that it may be made from instead of raw parts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub from: Vec<DishId>,
    /// How it eats.
    pub profile: Profile,
    /// The state its grams are counted in.
    pub state: State,
    /// Grams of the piece for one portion unit: least, typical, most, in `state`. All 0 for components.
    pub grams: (u32, u32, u32),
    /// How it is cut.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut: Option<CutForm>,
    /// Cooked grams for each thousand that went in.
    #[serde(rename = "yield")]
    pub yields: PerMille,
    /// Whether it is cooked through. A raw dish leaves the raw clock running.
    pub cooked: bool,
    /// Whether the piece is brought to a full boil in it: for the vulnerable this counts where a cold slice does not.
    #[serde(default)]
    pub boiled_through: bool,
    /// Days it keeps after making.
    pub keeps: Days,
    /// Days it eats well after making, where that is shorter than it is safe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nice_days: Option<Days>,
    /// What can be done with what is left of it.
    #[serde(default, skip_serializing_if = "Leftover::is_as_is")]
    pub leftover: Leftover,
    /// A whole unit of the finished dish with its grams of the piece: ("roll", 50).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<(String, u32)>,
    /// Other ingredients.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub companions: Vec<Companion>,
    /// Allergens of the dish with its company, the piece's own left out. In a file stand those that its companions do not bring.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub allergens: Vec<Allergen>,
    /// The strictest diet that may eat it, company included. In a file it may only restrict what the companions leave; without it
    /// nothing is restricted.
    #[serde(default = "unrestricted")]
    pub diet: Diet,
    /// Forms that some eaters dislike: "raw onion", "raw tomato".
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub forms: Vec<String>,
    /// The same plate without the piece or otherwise made, for one who eats differently.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub twins: Vec<Twin>,
    /// What to say of it, and for whom.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
    /// Minutes of hands and minutes in all, for four.
    pub minutes: (u16, u16),
    /// Oven: best, bearable low, bearable high in degrees Celsius, not fan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oven: Option<(u16, u16, u16)>,
    /// How it is made, in order.
    pub steps: Vec<Step>,
    /// Where its figures come from: source ids, or "practice".
    pub sources: Vec<String>,
}

fn unrestricted() -> Diet {
    Diet::Vegan
}

impl Serialize for Dish {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        Dish::serialize(self, to)
    }
}

impl<'de> Deserialize<'de> for Dish {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Dish, D::Error> {
        let mut dish = Dish::deserialize(from)?;
        dish.settle();
        Ok(dish)
    }
}

impl Companion {
    /// Whether it is boiled grains of rice.
    pub fn is_rice(&self) -> bool {
        let has = |name: &str| name.contains("rice") && !NO_RICE.iter().any(|w| name.contains(w));
        // Names are lower case as a rule; a cook's own may not be.
        if self.name.chars().any(char::is_uppercase) { has(&self.name.to_lowercase()) } else { has(&self.name) }
    }
}

/// How long cooked rice keeps.
const RICE_KEEPS: Days = Days(1);
/// What has the word in its name and is no rice.
const NO_RICE: &[&str] = &[
    "vinegar",
    "flour",
    "noodle",
    "paper",
    "wine",
    "starch",
    "cake",
    "cracker",
    "oil",
    "milk",
    "syrup",
    "cauliflower",
    "licorice",
];

impl Dish {
    /// Whether the dish suits `part`.
    pub fn suits_part(&self, part: &PartId) -> bool {
        self.parts.is_empty() || self.parts.contains(part)
    }

    /// Whether it suits a kind of `family`.
    pub fn suits_family(&self, family: &str) -> bool {
        let family = super::family_now(family);
        self.families.iter().any(|f| super::family_now(f) == family)
    }

    /// Whether it can be made of `kind`: its family suits, and so does one of its parts, or a component.
    pub fn suits_kind(&self, kind: &super::Kind) -> bool {
        let has_part = self.parts.is_empty() || self.parts.iter().any(|p| kind.part(p).is_some());
        self.suits_family(&kind.family) && (has_part || !self.from.is_empty())
    }

    /// Whether rice is eaten in it: boiled grains, no flour, noodle or vinegar of rice.
    pub fn holds_rice(&self) -> bool {
        self.companions.iter().any(Companion::is_rice)
    }

    /// How long it keeps once it is made: as it says, and where rice is in it no longer than a day (UK Food Standards Agency,
    /// leftovers: rice). What is put by keeps as it says.
    pub fn keeps_safely(&self) -> Days {
        if self.role != Role::Bank && self.keeps > RICE_KEEPS && self.holds_rice() { RICE_KEEPS } else { self.keeps }
    }

    /// Typical grams of the piece for `units` eaters, in the dish's state.
    pub fn typical_for(&self, units: crate::quantity::Units) -> u32 {
        units.times(self.grams.1)
    }
}

/// Another ingredient of a dish.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Companion {
    /// What it is called, lower case; the same name everywhere is the same thing.
    pub name: String,
    /// Amount for one portion unit, in `measure`. Finite and not below 0.
    #[serde(default)]
    pub per_unit: f64,
    /// Amount for the whole batch whatever its size, in `measure`, beside `per_unit`.
    #[serde(default)]
    pub per_batch: f64,
    /// What it is measured in.
    #[serde(default)]
    pub measure: CompanionMeasure,
    /// Pack as sold, in `measure`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pack: Option<f64>,
    /// Days that an opened pack keeps; nothing for what keeps as long as the plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opened_days: Option<Days>,
    /// What the pack is called: "pot", "bunch", "tin".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pack_word: Option<String>,
}

/// What a companion is measured in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum CompanionMeasure {
    /// Grams.
    #[default]
    G,
    /// Millilitres.
    Ml,
    /// A count of whole things.
    Count,
}

impl CompanionMeasure {
    /// The sign behind the number; nothing for a count.
    pub fn sign(self) -> &'static str {
        match self {
            CompanionMeasure::G => "\u{a0}g",
            CompanionMeasure::Ml => "\u{a0}ml",
            CompanionMeasure::Count => "",
        }
    }
}

/// The same plate for one who eats otherwise: made before the meat or fish goes in, with a pan and a spoon of its own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Twin {
    /// What it is: "seared halloumi".
    pub name: String,
    /// Whether it still holds the piece (softened tomato on toast) or stands in for it (tofu for salmon).
    pub holds_piece: bool,
    /// The strictest diet that may eat it: of the dish's company it shares what this diet may eat, and its own may not be looser.
    pub diet: Diet,
    /// Its allergens, in place of the dish's.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub allergens: Vec<Allergen>,
    /// Its protein.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub protein: Option<Protein>,
    /// Forms that it no longer has: a cure for dislikes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub without_forms: Vec<String>,
    /// What it needs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub companions: Vec<Companion>,
}

/// Who must be taken care of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Care {
    /// Expecting a child.
    Pregnant,
    /// Old and frail.
    Elderly,
    /// Under five years.
    UnderFive,
    /// Ill or with weak defences.
    Unwell,
}

impl Care {
    /// Every one.
    pub const ALL: &'static [Care] = &[Care::Pregnant, Care::Elderly, Care::UnderFive, Care::Unwell];

    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            Care::Pregnant => "pregnant",
            Care::Elderly => "elderly",
            Care::UnderFive => "under five",
            Care::Unwell => "unwell",
        }
    }
}

/// A sentence to say when the dish is planned, for everybody or for those named.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// Whom it concerns; empty: everybody.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub for_whom: Vec<Care>,
    /// One sentence.
    pub text: String,
    /// Source id or "practice".
    pub source: String,
}

/// One step of the making.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// What to do, in the imperative.
    pub text: String,
    /// Minutes, for four portions.
    pub minutes: u16,
    /// Whether it takes the cook's hands.
    pub hands: bool,
    /// Where it happens.
    #[serde(default)]
    pub place: StepPlace,
    /// Numbers (from 0) of the steps that must be done before; empty: the step before it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub after: Vec<usize>,
    /// Oven shelves that it takes, for a step in the oven.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shelves: Option<u8>,
    /// An appliance that it needs: "blender".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub appliance: Option<String>,
    /// Minutes it may wait once done; nothing: as long as you like.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub may_wait: Option<u16>,
}

/// Where a step happens.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum StepPlace {
    /// The bench.
    #[default]
    Bench,
    /// A ring of the hob.
    Ring,
    /// The oven at the dish's temperature.
    Oven,
    /// The fridge.
    Fridge,
}
