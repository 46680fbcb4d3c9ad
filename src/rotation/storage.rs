//! What this kitchen has to keep food in beside the fridge: boxes, a freezer if there is one, a rule for cooling of its own.

use super::{BatchId, Boxing, KeptBack, Rotation, apply::Outcome, apply::refuse, validate::is_good_name};
use crate::{
    book::PartId,
    quantity::{DayNo, Days},
};
use jiff::civil::Time;
use serde::{Deserialize, Serialize};

/// The most sorts of boxes, and the most of one sort.
pub const MAX_BOXES: usize = 20;
/// A box's sides in millimetres, least and most.
pub const BOX_RANGE: (u16, u16) = (20, 600);
/// How cold a household's own rule may ask food to be, in degrees Celsius.
pub const COOL_TO_RANGE: (f64, f64) = (3.0, 60.0);
/// Minutes within which a household's own rule may ask for it.
pub const COOL_WITHIN_RANGE: (u16, u16) = (10, 1_440);
/// The most things that a freezer holds for one plan.
pub const MAX_FROZEN: usize = 200;

/// What the kitchen keeps food in. A household that says nothing has a fridge, a pot and the usual boxes, and no freezer.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Storage {
    /// When on its day the piece was opened, bought or taken from the heat; nothing: some time on that day.
    #[serde(default, skip_serializing_if = "Option::is_none", deserialize_with = "crate::quantity::time_in_file")]
    pub opened_at: Option<Time>,
    /// Boxes, pots and trays that cooked food is cooled in; none named: the usual ones.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub boxes: Vec<FoodBox>,
    /// A rule of the household's own for cooling, beside the published one; it can only be stricter, for both must be kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cooling: Option<CoolTo>,
    /// Whether there is a freezer, at -18 °C or colder. Off unless somebody says so: the house plans without one.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub freezer: bool,
    /// What lies in the freezer, and when.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub frozen: Vec<FrozenStay>,
    /// How what is kept back is boxed up to cool, where it is not as usual; one entry for each thing at most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub boxed: Vec<Boxing>,
}

/// A sort of box that cooked food is cooled in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FoodBox {
    /// What one is called, lower case: "flat box".
    pub name: String,
    /// Length, width and height within, in millimetres.
    pub size_mm: (u16, u16, u16),
    /// Whether it is of metal, which holds no heat up.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub metal: bool,
    /// How many there are.
    pub count: u8,
}

impl FoodBox {
    /// What several of a vessel are called: "flat boxes".
    pub fn several(one: &str) -> String {
        match one.strip_suffix("box") {
            Some(rest) => format!("{rest}boxes"),
            None if one.ends_with('s') => one.to_string(),
            None => format!("{one}s"),
        }
    }
}

/// A household's own rule: so cold within so many minutes of coming down to 57 °C.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CoolTo {
    /// How cold, in degrees Celsius.
    pub to_c: f64,
    /// Within how many minutes.
    pub within: u16,
}

/// What is frozen.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Frozen {
    /// What is left of a batch at the end of the day on which it goes in.
    Batch(BatchId),
    /// What a batch draws from a part, raw, until the batch is made.
    Draw(BatchId, PartId),
}

impl Frozen {
    /// The batch that it belongs to.
    pub fn batch(&self) -> BatchId {
        match self {
            Frozen::Batch(id) | Frozen::Draw(id, _) => *id,
        }
    }
}

/// A stay in the freezer.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FrozenStay {
    /// What.
    pub what: Frozen,
    /// The day on which it goes in.
    pub from: DayNo,
    /// The day on which it has thawed in the fridge and may be used; it is put there the day before.
    pub to: DayNo,
}

impl FrozenStay {
    /// Days for which its clock stands still.
    pub fn days(&self) -> Days {
        self.to.since(self.from)
    }
}

impl Storage {
    /// Whether nothing is known of it that the house does not take for granted.
    pub fn is_usual(&self) -> bool {
        *self == Storage::default()
    }

    /// The stay of a thing in the freezer.
    pub fn stay(&self, what: &Frozen) -> Option<&FrozenStay> {
        self.frozen.iter().find(|f| f.what == *what)
    }

    /// How a thing is boxed up, where somebody has said so.
    pub fn boxing(&self, of: KeptBack) -> Option<&Boxing> {
        self.boxed.iter().find(|b| b.of == of)
    }

    /// What cannot be, in one sentence.
    pub(super) fn fault(&self, r: &Rotation) -> Option<String> {
        if let Some(fault) = things_fault(&self.boxes, self.cooling) {
            return Some(fault);
        }
        if !self.freezer && !self.frozen.is_empty() {
            return Some("something is frozen, but the kitchen has no freezer: say that it has one".into());
        }
        if self.frozen.len() > MAX_FROZEN {
            return Some(format!("{} things are frozen; {MAX_FROZEN} is the most", self.frozen.len()));
        }
        for (i, stay) in self.frozen.iter().enumerate() {
            if self.frozen[..i].iter().any(|f| f.what == stay.what) {
                return Some("something is frozen twice: food is not frozen again once it has thawed".into());
            }
            if let Some(fault) = stay.fault(r) {
                return Some(fault);
            }
        }
        for (i, boxing) in self.boxed.iter().enumerate() {
            if self.boxed[..i].iter().any(|b| b.of == boxing.of) {
                return Some("something is boxed up in two ways: say one".into());
            }
            if let Some(fault) = boxing.fault(r) {
                return Some(fault);
            }
        }
        None
    }
}

/// What cannot be of a household's boxes and its own rule for cooling, in one sentence.
pub(super) fn things_fault(boxes: &[FoodBox], cooling: Option<CoolTo>) -> Option<String> {
    if boxes.len() > MAX_BOXES {
        return Some(format!("{} sorts of boxes are named; {MAX_BOXES} is the most", boxes.len()));
    }
    for b in boxes {
        let (low, high) = BOX_RANGE;
        let (l, w, h) = b.size_mm;
        if !is_good_name(&b.name) {
            return Some("a box has no name that can be read".into());
        }
        if [l, w, h].iter().any(|side| !(low..=high).contains(side)) {
            return Some(format!("a {} of {l} by {w} by {h} mm is none: say {low} to {high} mm a side", b.name));
        }
        if b.count == 0 || usize::from(b.count) > MAX_BOXES {
            return Some(format!("{} of the {} are named; say 1 to {MAX_BOXES}", b.count, b.name));
        }
    }
    if let Some(rule) = cooling {
        let ((cold, warm), (short, long)) = (COOL_TO_RANGE, COOL_WITHIN_RANGE);
        if !(cold..=warm).contains(&rule.to_c) || !(short..=long).contains(&rule.within) {
            return Some(format!(
                "a rule of {} °C within {} minutes is none: say {cold} to {warm} °C within {short} to {long} minutes",
                rule.to_c, rule.within
            ));
        }
    }
    None
}

impl FrozenStay {
    fn fault(&self, r: &Rotation) -> Option<String> {
        let Some((batch, dish)) = r.batch(self.what.batch()).and_then(|b| Some((b, r.dishes.get(&b.dish)?))) else {
            return Some("something is frozen of a batch that is not there".into());
        };
        if self.to <= self.from {
            return Some(format!(
                "{} goes into the freezer on {} and must have thawed on a later day",
                dish.name,
                r.day_name(self.from)
            ));
        }
        match &self.what {
            Frozen::Batch(_) if self.from < batch.day => {
                Some(format!("{} is made on {} and cannot be frozen before", dish.name, r.day_name(batch.day)))
            }
            Frozen::Batch(_) => None,
            Frozen::Draw(_, part) => {
                let draw = batch.draws.iter().find(|d| d.from == super::Source::Part(part.clone()));
                if draw.is_none() {
                    return Some(format!("{} takes nothing of {part}, which is said to be frozen for it", dish.name));
                }
                if r.kind.is_cooked_whole() {
                    return Some(format!("{} is cooked already: freeze what is made of it", r.kind.name));
                }
                if self.from < r.piece.opened || self.to > batch.day {
                    return Some(format!(
                        "what is frozen for {} goes in no earlier than {} and has thawed by {}, when it is made",
                        dish.name,
                        r.day_name(r.piece.opened),
                        r.day_name(batch.day)
                    ));
                }
                None
            }
        }
    }
}

/// Puts the storage of a plan right.
pub(super) fn set(r: &mut Rotation, storage: &Storage) -> Outcome {
    let mut storage = storage.clone();
    storage.frozen.sort();
    let old = &r.storage;
    let words = if storage.freezer != old.freezer {
        if storage.freezer { "The kitchen has a freezer" } else { "The kitchen has no freezer" }.to_string()
    } else if storage.opened_at != old.opened_at {
        match storage.opened_at {
            Some(at) => format!("The piece is {} at {:02}:{:02}", r.kind.clock_starts, at.hour(), at.minute()),
            None => "The piece is opened some time on its day".into(),
        }
    } else if storage.cooling != old.cooling {
        match storage.cooling {
            Some(rule) => format!("Cool to {}\u{a0}°C within {} minutes", rule.to_c, rule.within),
            None => "Cool by the published rule".into(),
        }
    } else if storage.boxes != old.boxes {
        "Say what food is cooled in".into()
    } else {
        "Say what is frozen".into()
    };
    if !storage.freezer {
        storage.frozen.clear();
    }
    r.storage = storage;
    // A box that is gone takes along what was to go into it.
    super::boxing::settle(r);
    match r.storage.fault(r) {
        Some(fault) => refuse(fault),
        None => Ok(words),
    }
}

/// Puts something into the freezer.
pub(super) fn freeze(r: &mut Rotation, stay: &FrozenStay) -> Outcome {
    if !r.storage.freezer {
        return refuse("this kitchen has no freezer: say that it has one first");
    }
    if r.storage.stay(&stay.what).is_some() {
        return refuse("that is frozen already, and food is not frozen again once it has thawed");
    }
    if let Some(fault) = stay.fault(r) {
        return refuse(fault);
    }
    r.storage.frozen.push(stay.clone());
    r.storage.frozen.sort();
    let name = super::serve::batch_name(r, stay.what.batch());
    let what = match &stay.what {
        Frozen::Batch(_) => name,
        Frozen::Draw(_, part) => {
            format!("the {} for {name}", super::serve::source_name(r, &super::Source::Part(part.clone())))
        }
    };
    Ok(format!("Freeze {what} on {}, thawed by {}", r.day_name(stay.from), r.day_name(stay.to)))
}

/// Leaves something in the fridge that was to be frozen.
pub(super) fn keep_out(r: &mut Rotation, what: &Frozen) -> Outcome {
    let before = r.storage.frozen.len();
    r.storage.frozen.retain(|f| f.what != *what);
    if r.storage.frozen.len() == before {
        return refuse("that is not in the freezer");
    }
    Ok(format!("Do not freeze {}", super::serve::batch_name(r, what.batch())))
}

/// Drops what no longer is: stays of batches that are gone, or that have moved past them, and how such were boxed up.
pub(super) fn settle(r: &mut Rotation) {
    super::boxing::settle(r);
    if r.storage.frozen.is_empty() {
        return;
    }
    let mut frozen = std::mem::take(&mut r.storage.frozen);
    frozen.retain(|f| f.fault(r).is_none());
    frozen.sort();
    r.storage.frozen = frozen;
}
