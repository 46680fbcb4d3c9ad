//! Who eats.

use crate::{
    book::{Allergen, Care, Diet},
    quantity::Units,
};
use serde::{Deserialize, Serialize};

/// Stable number of an eater within a rotation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct EaterId(pub u16);

/// Somebody who eats.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Eater {
    /// Stable number in the file.
    pub id: EaterId,
    /// What they are called.
    pub name: String,
    /// How much of an adult's plate they eat.
    pub units: Units,
    /// A guest sits down only where a meal says so.
    #[serde(default)]
    pub guest: bool,
    /// Allergies: never a warning, always a stop.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub allergies: Vec<Allergen>,
    /// What they eat by choice or faith.
    #[serde(default)]
    pub diet: Diet,
    /// Forms they dislike: "raw onion".
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub dislikes: Vec<String>,
    /// Whether they must be taken special care of.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub care: Vec<Care>,
}

/// Everybody who may sit down, in the order they are named.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Household {
    /// The eaters.
    pub eaters: Vec<Eater>,
}

impl Household {
    /// The eater with this number.
    pub fn eater(&self, id: EaterId) -> Option<&Eater> {
        self.eaters.iter().find(|e| e.id == id)
    }

    /// The eater's name, or "somebody" for a number that is not there.
    pub fn name(&self, id: EaterId) -> &str {
        self.eater(id).map_or("somebody", |e| e.name.as_str())
    }

    /// Those who sit down where a meal says nothing: all but the guests.
    pub fn usual(&self) -> impl Iterator<Item = EaterId> + '_ {
        self.eaters.iter().filter(|e| !e.guest).map(|e| e.id)
    }

    /// Portion units of these eaters together.
    pub fn units(&self, ids: impl IntoIterator<Item = EaterId>) -> Units {
        ids.into_iter().filter_map(|id| self.eater(id)).map(|e| e.units).sum()
    }

    /// A number that no eater has yet.
    pub fn next_id(&self) -> EaterId {
        EaterId(self.eaters.iter().map(|e| e.id.0).max().unwrap_or(0).saturating_add(1))
    }
}

impl Eater {
    /// What they never eat, whatever it is in: of their dislikes those that are written with "never" or "no" before them, in
    /// small letters and without it. "never pork", "no alcohol": by faith, by vow, in recovery. No matter of taste, so it stops.
    pub fn never(&self) -> impl Iterator<Item = String> + '_ {
        self.dislikes.iter().filter_map(|d| {
            let lower = d.trim().to_lowercase();
            let rest = lower.strip_prefix("never ").or_else(|| lower.strip_prefix("no "))?;
            Some(rest.trim().to_string()).filter(|r| !r.is_empty())
        })
    }
}
