//! What was really eaten, which is not always what was planned.

use super::{Rotation, Slot, eaten_by};
use crate::{
    book::{DishId, Profile},
    quantity::Portion,
};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// What somebody said of a meal once it was eaten.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Heard {
    /// Gladly again.
    Again,
    /// Fine.
    Fine,
    /// Too like what came before.
    TooAlike,
    /// Not for a while, whatever came before.
    NotSoon,
    /// Not this one again, whatever came before.
    NotAgain,
}

impl Heard {
    /// All, the kindest first.
    pub const ALL: [Heard; 5] = [Heard::Again, Heard::Fine, Heard::TooAlike, Heard::NotSoon, Heard::NotAgain];

    /// What the household says: "gladly again".
    pub fn words(self) -> &'static str {
        match self {
            Heard::Again => "gladly again",
            Heard::Fine => "fine",
            Heard::TooAlike => "too alike",
            Heard::NotSoon => "not soon",
            Heard::NotAgain => "not again",
        }
    }
}

/// One dish of one meal as it was eaten.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EatenMeal {
    /// The day.
    #[serde(deserialize_with = "crate::quantity::date_in_file")]
    pub on: Date,
    /// The mealtime, lower case: "supper".
    pub mealtime: String,
    /// The dish's id in the book, where it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dish: Option<DishId>,
    /// What it is called.
    pub name: String,
    /// How it ate.
    #[serde(default)]
    pub profile: Profile,
    /// Who ate it, by name, since numbers change from plan to plan; empty: everybody.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub eaters: Vec<String>,
    /// How much of the piece went on the plates.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub eaten: Option<Portion>,
    /// How much of it was thrown away.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wasted: Option<Portion>,
    /// What was said of it; nothing: it was eaten without a word.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heard: Option<Heard>,
}

impl EatenMeal {
    /// Whether somebody of this name ate it.
    pub fn eaten_by(&self, name: &str) -> bool {
        let same = |n: &String| n.trim().to_lowercase() == name.trim().to_lowercase();
        self.eaters.is_empty() || self.eaters.iter().any(same)
    }

    /// Whether it is the dish of this id or name.
    pub fn is_dish(&self, id: &DishId, name: &str) -> bool {
        self.dish.as_ref() == Some(id) || self.name.trim().to_lowercase() == name.trim().to_lowercase()
    }
}

/// What a meal of a plan comes to if it is eaten as it stands: one entry a dish that anybody eats the piece in.
pub fn as_eaten(rotation: &Rotation, slot: Slot) -> Vec<EatenMeal> {
    let present = rotation.eaters_at(slot);
    let servings = rotation.meal(slot).servings.iter();
    servings
        .filter_map(|serving| {
            let dish = rotation.dish_of(serving.batch)?;
            let eaters = eaten_by(rotation, serving, &present);
            (!eaters.is_empty()).then(|| EatenMeal {
                on: rotation.date(slot.day),
                mealtime: rotation.mealtime_name(slot.mealtime).to_string(),
                dish: Some(dish.id.clone()),
                name: dish.name.clone(),
                profile: dish.profile.clone(),
                eaters: eaters.into_iter().map(|e| rotation.household.name(e).to_string()).collect(),
                eaten: Some(serving.portion),
                wasted: None,
                heard: None,
            })
        })
        .collect()
}
