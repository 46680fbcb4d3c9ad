//! The kitchen: how many hands, rings and shelves a session has, and how fast its cook is.

use super::{
    Rotation,
    apply::{Outcome, refuse},
};
use jiff::civil::Time;
use serde::{Deserialize, Deserializer, Serialize, de};

/// The most cooks that work at once.
pub const MAX_COOKS: u8 = 6;
/// The most rings a hob has.
pub const MAX_RINGS: u8 = 8;
/// The most shelves that an oven takes.
pub const MAX_SHELVES: u8 = 4;
/// How fast a cook may be, in hundredths of the book's pace.
pub const PACE_RANGE: (u16, u16) = (25, 400);

/// What a session may use, and between which hours.
///
/// The blank kitchen is the one that the worked weeks were reckoned in: one cook at the book's pace, three rings, one oven of
/// two shelves without a fan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Kitchen {
    /// People who cook; any of them may do any step.
    pub cooks: u8,
    /// Rings of the hob; 0 where there is none.
    pub rings: u8,
    /// Shelves of the one oven; 0 where there is none.
    pub shelves: u8,
    /// Whether the oven blows: it is then set 20 °C lower for the same heat.
    pub fan: bool,
    /// How fast the hands are, in hundredths of the book's pace: 80 takes a quarter longer.
    pub pace: u16,
    /// Nothing is begun before, as HH:MM.
    #[serde(deserialize_with = "time")]
    pub opens: Time,
    /// What is made for another day is in the fridge by then, as HH:MM, or an hour and a half after the last sit-down.
    #[serde(deserialize_with = "time")]
    pub closes: Time,
}

fn time<'de, D: Deserializer<'de>>(from: D) -> Result<Time, D::Error> {
    crate::quantity::read_time(&String::deserialize(from)?).map_err(de::Error::custom)
}

impl Default for Kitchen {
    fn default() -> Kitchen {
        let (opens, closes) = (Time::constant(6, 0, 0, 0), Time::constant(21, 0, 0, 0));
        Kitchen { cooks: 1, rings: 3, shelves: 2, fan: false, pace: 100, opens, closes }
    }
}

impl Kitchen {
    /// Whether it is the blank one.
    pub fn is_usual(&self) -> bool {
        *self == Kitchen::default()
    }

    /// What cannot be, in one sentence.
    pub(super) fn fault(&self) -> Option<String> {
        let (slow, fast) = PACE_RANGE;
        if !(1..=MAX_COOKS).contains(&self.cooks) {
            return Some(format!("{} cooks are named; say 1 to {MAX_COOKS}", self.cooks));
        }
        if self.rings > MAX_RINGS {
            return Some(format!("{} rings are named; {MAX_RINGS} is the most", self.rings));
        }
        if self.shelves > MAX_SHELVES {
            return Some(format!("{} shelves are named; {MAX_SHELVES} is the most", self.shelves));
        }
        if !(slow..=fast).contains(&self.pace) {
            return Some(format!("a pace of {} is none; say {slow} to {fast}, 100 being the book's", self.pace));
        }
        (self.closes <= self.opens).then(|| "the kitchen closes before it opens".into())
    }

    /// "1 cook, 3 rings, an oven of 2 shelves without a fan".
    pub fn words(&self) -> String {
        let counted = |n: u8, one: &str| if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") };
        let oven = match (self.shelves, self.fan) {
            (0, _) => "no oven".to_string(),
            (n, true) => format!("a fan oven of {}", counted(n, "shelf").replace("shelfs", "shelves")),
            (n, false) => format!("an oven of {} without a fan", counted(n, "shelf").replace("shelfs", "shelves")),
        };
        let rings = if self.rings == 0 { "no ring".to_string() } else { counted(self.rings, "ring") };
        let pace = if self.pace == 100 { String::new() } else { format!(", hands at {} % of the book's pace", self.pace) };
        format!("{}, {rings}, {oven}{pace}", counted(self.cooks, "cook"))
    }
}

/// Puts the kitchen of a plan right.
pub(super) fn set(r: &mut Rotation, kitchen: Kitchen) -> Outcome {
    if let Some(fault) = kitchen.fault() {
        return refuse(fault);
    }
    let words =
        if kitchen == r.kitchen { "Leave the kitchen as it is".into() } else { format!("The kitchen has {}", kitchen.words()) };
    r.kitchen = kitchen;
    Ok(words)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        judge::test_support::Plan,
        rotation::{Edit, apply},
        store::{rotation_from_text, rotation_to_text},
    };
    use std::path::Path;

    #[test]
    fn the_kitchen_is_set_in_words_and_only_to_what_can_be() {
        let plan = Plan::cabbage(3);
        let set = |kitchen: Kitchen| apply(&plan.rotation, &Edit::SetKitchen(kitchen));
        let two = Kitchen { cooks: 2, fan: true, shelves: 1, pace: 80, ..Kitchen::default() };
        let done = set(two).unwrap();
        assert_eq!(done.words, "The kitchen has 2 cooks, 3 rings, a fan oven of 1 shelf, hands at 80 % of the book's pace");
        let text = rotation_to_text(&done.rotation);
        assert_eq!(rotation_from_text(Path::new("plan"), &text).unwrap(), done.rotation, "it stays in the file");
        assert!(!rotation_to_text(&plan.rotation).contains("kitchen"), "the usual one is not written");
        let usual = Kitchen::default();
        for wrong in [
            Kitchen { cooks: 0, ..usual },
            Kitchen { cooks: 7, ..usual },
            Kitchen { rings: 9, ..usual },
            Kitchen { shelves: 5, ..usual },
            Kitchen { pace: 24, ..usual },
            Kitchen { pace: 401, ..usual },
            Kitchen { closes: usual.opens, ..usual },
        ] {
            assert!(set(wrong).is_err(), "{wrong:?}");
        }
    }
}
