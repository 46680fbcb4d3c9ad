//! What the book knows of one sort of piece.

use super::{Allergen, Diet, KindId, Method, PartId};
use crate::quantity::{Days, Density, PerMille, Portion, State};
use serde::{Deserialize, Serialize};

/// One sort of piece: what is in it, how long it keeps, what to beware of.
///
/// All shares are thousandths of the mass as bought. The trim shares and the part shares together make 1000.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kind {
    /// Stable name in files.
    pub id: KindId,
    /// What a cook calls it, lower case: "red cabbage".
    pub name: String,
    /// The family whose dishes suit it: "brassica", "hard-root", "roast"...
    #[serde(deserialize_with = "super::family::one_in_file")]
    pub family: String,
    /// The colour it is drawn in: six hexadecimal digits.
    pub colour: String,
    /// The state its parts are counted in: `Prepared`, or `Cooked` for a piece that is cooked whole before it is divided.
    pub portioned: State,
    /// Usual mass as bought in grams: least, typical, most.
    pub mass: (u32, u32, u32),
    /// What is lost before it can be divided, in order.
    pub trim: Vec<TrimShare>,
    /// All trim together, least and most in thousandths, where pieces differ.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trim_range: Option<(PerMille, PerMille)>,
    /// Its parts, in the order in which the block is drawn.
    pub parts: Vec<KindPart>,
    /// What starts the raw clock: "cut", "bought", "picked", "roasted".
    pub clock_starts: String,
    /// Days that a part keeps after its first full cooking, by the general rule for this food; a dish may keep shorter.
    pub cooked_days: Days,
    /// Days that it eats well after its first full cooking, where that is shorter than it is safe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cooked_nice_days: Option<Days>,
    /// How much cooked comes of what went in, by method.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub yields: Vec<FormYield>,
    /// How long raw cut forms keep, where shorter than the wrapped part.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cut_forms: Vec<CutKeeping>,
    /// How long the unopened piece keeps.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub whole: Vec<WholeKeeping>,
    /// Grams in a US cup of the commonest cut form, so that cups can be typed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cup: Option<Density>,
    /// Grams in a US cup of other cut forms.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cups: Vec<CupMass>,
    /// Allergens that the piece itself carries (celeriac is celery).
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub allergens: Vec<Allergen>,
    /// The strictest diet that may eat it.
    pub diet: Diet,
    /// Whether it is meat, poultry or fish: cooked limits are shortened by a day for the vulnerable.
    #[serde(default)]
    pub animal: bool,
    /// Kinds that can stand in, nearest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub stand_ins: Vec<StandIn>,
    /// What to beware of, said at the right moment.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hazards: Vec<String>,
    /// Where its figures come from.
    pub sources: Vec<String>,
}

/// How much cooked comes of a thousand grams, by one method.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FormYield {
    /// How it is cooked.
    pub method: Method,
    /// Cooked grams for each thousand prepared.
    pub share: PerMille,
    /// Published source, or "practice".
    pub source: String,
}

/// What a level US cup (236.588 ml) of a cut form weighs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CupMass {
    /// The cut form.
    pub form: CutForm,
    /// Grams in the cup.
    pub grams: Density,
    /// Published source, or "practice".
    pub source: String,
}

/// A kind that can take this one's place, and what changes in time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StandIn {
    /// The kind.
    pub kind: KindId,
    /// Minutes more (or less) by method, against this kind.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub minutes: Vec<(Method, i16)>,
}

impl StandIn {
    /// Minutes more (or less, below 0) that a cooking by `method` takes with this kind in the other's place; nothing where the
    /// book does not say that anything changes.
    pub fn minutes_by(&self, method: Method) -> Option<i16> {
        self.minutes.iter().find(|m| m.0 == method).map(|m| m.1)
    }

    /// All that changes in time, in words: "roast 10 min longer, stewed in sauce 5 min less". Empty where nothing does.
    pub fn words(&self) -> String {
        let said = self.minutes.iter().map(|(method, by)| format!("{} {}", method.word(), minutes_words(*by)));
        said.collect::<Vec<_>>().join(", ")
    }
}

/// A change in time, in words: "10 min longer", "5 min less".
pub fn minutes_words(by: i16) -> String {
    let much = by.unsigned_abs();
    match by {
        0 => "as long".into(),
        1.. => format!("{much}\u{a0}min longer"),
        _ => format!("{much}\u{a0}min less"),
    }
}

/// A named share that is lost: "stump and core", 117 thousandths.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrimShare {
    /// What is lost.
    pub name: String,
    /// Thousandths of the mass as bought.
    pub share: PerMille,
}

/// A region of the piece with a character of its own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KindPart {
    /// Stable name in files, unique within the kind.
    pub id: PartId,
    /// What a cook calls it: "outer leaves".
    pub name: String,
    /// Thousandths of the mass as bought that this part gives, counted in the kind's `portioned` state.
    pub share: PerMille,
    /// Days that the wrapped, uncut part keeps raw after the clock started. Without meaning for a kind cooked whole.
    pub raw_days: Days,
    /// Days that it eats well raw, where that is shorter than it is safe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub nice_days: Option<Days>,
    /// What it is good for, in words.
    pub suits: String,
    /// The mass of one natural whole unit (a leaf, a floret), if it comes in such.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<(String, Portion)>,
}

/// A cut form that keeps shorter than the wrapped part.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CutKeeping {
    /// The form.
    pub form: CutForm,
    /// Days from the cut to the meal, raw.
    pub days: Days,
}

/// How a piece is cut for a dish.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[allow(missing_docs)] // Plain kitchen words.
pub enum CutForm {
    Whole,
    Wedges,
    Slices,
    Cubes,
    Sticks,
    Shreds,
    Grated,
    Leaves,
    Florets,
    Halves,
    Pieces,
}

impl CutForm {
    /// Every one.
    pub const ALL: &'static [CutForm] = &[
        CutForm::Whole,
        CutForm::Wedges,
        CutForm::Slices,
        CutForm::Cubes,
        CutForm::Sticks,
        CutForm::Shreds,
        CutForm::Grated,
        CutForm::Leaves,
        CutForm::Florets,
        CutForm::Halves,
        CutForm::Pieces,
    ];

    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            CutForm::Whole => "whole",
            CutForm::Wedges => "wedges",
            CutForm::Slices => "slices",
            CutForm::Cubes => "cubes",
            CutForm::Sticks => "sticks",
            CutForm::Shreds => "shreds",
            CutForm::Grated => "grated",
            CutForm::Leaves => "leaves",
            CutForm::Florets => "florets",
            CutForm::Halves => "halves",
            CutForm::Pieces => "pieces",
        }
    }
}

/// How long the unopened piece keeps in one place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WholeKeeping {
    /// Where: "cool store 0-5 C", "fridge".
    pub place: String,
    /// Days, least and most.
    pub days: (u16, u16),
    /// Source id or "practice".
    pub source: String,
}

impl Kind {
    /// The part with this id.
    pub fn part(&self, id: &PartId) -> Option<&KindPart> {
        self.parts.iter().find(|p| p.id == *id)
    }

    /// Days that a raw cut form keeps from the cut to the meal, where the book gives a limit of its own.
    pub fn cut_days(&self, form: CutForm) -> Option<Days> {
        self.cut_forms.iter().find(|c| c.form == form).map(|c| c.days)
    }

    /// How another kind stands in for this one, where the book says that it can.
    pub fn stand_in(&self, other: &KindId) -> Option<&StandIn> {
        self.stand_ins.iter().find(|s| s.kind == *other)
    }

    /// Whether the piece is cooked whole before it is divided.
    pub fn is_cooked_whole(&self) -> bool {
        self.portioned == State::Cooked
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stand_in_says_by_method_what_changes_in_time() {
        let id = KindId::new("swede").expect("a slug");
        let swede = StandIn { kind: id, minutes: vec![(Method::Roast, 10), (Method::Stew, -5)] };
        assert_eq!(swede.minutes_by(Method::Roast), Some(10));
        assert_eq!(swede.minutes_by(Method::Raw), None);
        assert_eq!(swede.words(), "roast 10\u{a0}min longer, stewed in sauce 5\u{a0}min less");
    }
}
