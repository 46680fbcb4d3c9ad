//! How what is kept back of one cooking is boxed up to cool: into what and how many, how deep, lid, counter, water bath.

use super::{BatchId, FoodBox, Rotation, apply::Outcome, apply::refuse};
use serde::{Deserialize, Serialize};

/// The pot, the box and the tray that every kitchen is taken to have, by the names under which a [`Boxing`] finds them; a box of
/// the household's own by one of these names stands before it.
pub const USUAL_VESSELS: [&str; 3] = ["pot", "box", "tray"];
/// How many vessels one cooking is divided between, least and most.
pub const VESSELS_RANGE: (u8, u8) = (1, 20);
/// How deep food is laid, least and most, in millimetres.
pub const DEPTH_RANGE: (u16, u16) = (5, 300);
/// The longest that food is left on the counter first, in minutes: within two hours of leaving the heat it is in the fridge
/// (USDA FSIS, the 2-hour rule).
pub const MAX_ON_THE_COUNTER: u16 = 120;
/// The same for what holds rice: cold within an hour, so no longer than that on the counter (UK Food Standards Agency, rice).
pub const RICE_ON_THE_COUNTER: u16 = 60;
/// How long a water bath lasts, least and most, in minutes.
pub const BATH_RANGE: (u16, u16) = (5, 240);

/// What of a plan is kept back warm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum KeptBack {
    /// The piece that was cooked whole, off its bones.
    Whole,
    /// What of a batch is not eaten on the day of its making.
    Batch(BatchId),
}

/// How much goes into one vessel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Fill {
    /// Divided evenly between so many.
    Into(u8),
    /// No deeper than so many millimetres, in as many as that takes.
    NoDeeper(u16),
}

/// A bath of cold water up to the food's own height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bath {
    /// Whether there is ice in it; without, it is tap water, changed when it gets warm.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub ice: bool,
    /// For how many minutes.
    pub minutes: u16,
    /// Whether the food is stirred every few minutes meanwhile, with the lid off. What does not pour cannot be.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub stirred: bool,
}

/// How one cooking is boxed up, where the cook has said so. What pours has its bath in the pot and goes into its boxes after it;
/// what does not pour goes into its boxes first, and they stand in the bath.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Boxing {
    /// What is boxed.
    pub of: KeptBack,
    /// Into what, by name: a box of the household's own ([`FoodBox`]) or one of [`USUAL_VESSELS`]; nothing: a pot for what pours,
    /// else the largest box.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vessel: Option<String>,
    /// How many, or how deep; nothing: a pot as full as it gets, a box 5 cm deep.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fill: Option<Fill>,
    /// Whether it is covered in the fridge.
    pub lid: bool,
    /// Minutes on the counter before the fridge or the bath.
    pub counter: u16,
    /// A bath of cold water before the fridge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bath: Option<Bath>,
}

impl Boxing {
    /// As the plan takes for granted where nobody says anything: lid on, half an hour on the counter, no bath (house rule).
    pub fn usual(of: KeptBack) -> Boxing {
        Boxing { of, vessel: None, fill: None, lid: true, counter: 30, bath: None }
    }

    /// Whether it says nothing that is not taken for granted.
    pub fn is_usual(&self) -> bool {
        *self == Boxing::usual(self.of)
    }

    /// "2 flat boxes, lids off, straight into the fridge": what the cook has said, as the end of a sentence.
    pub fn words(&self) -> String {
        let mut said = Vec::new();
        let what = self.vessel.as_deref();
        match (self.fill, what) {
            (Some(Fill::Into(1)), _) => said.push(format!("1 {}", what.unwrap_or("vessel"))),
            (Some(Fill::Into(n)), _) => said.push(format!("{n} {}", several(what.unwrap_or("vessel")))),
            (Some(Fill::NoDeeper(mm)), _) => {
                let name = what.map_or(String::new(), |w| format!("{}, ", several(w)));
                said.push(format!("{name}no deeper than {:.1}\u{a0}cm", f64::from(mm) / 10.0));
            }
            (None, Some(what)) => said.push(several(what)),
            (None, None) => {}
        }
        said.push(if self.lid { "covered" } else { "lids off" }.into());
        if let Some(bath) = self.bath {
            let water = if bath.ice { "iced" } else { "cold" };
            let stirred = if bath.stirred { ", stirred" } else { "" };
            said.push(format!("{}\u{a0}min in {water} water{stirred}", bath.minutes));
        }
        said.push(match self.counter {
            0 => "not left on the counter".into(),
            n => format!("{n}\u{a0}min on the counter first"),
        });
        said.join(", ")
    }

    /// What cannot be, in one sentence.
    pub(super) fn fault(&self, r: &Rotation) -> Option<String> {
        match self.of {
            KeptBack::Whole if !r.kind.is_cooked_whole() => {
                return Some(format!("{} is not cooked whole: say it of what is made of it", r.kind.name));
            }
            KeptBack::Batch(id) if r.batch(id).is_none() => {
                return Some("a batch is boxed up that is not there".into());
            }
            _ => {}
        }
        if let Some(name) = &self.vessel
            && own_box(r, name).is_none()
            && !USUAL_VESSELS.contains(&name.as_str())
        {
            return Some(format!("this kitchen has no {name}: say what food is cooled in first"));
        }
        let ((fewest, most), (low, high)) = (VESSELS_RANGE, DEPTH_RANGE);
        match self.fill {
            Some(Fill::Into(n)) if !(fewest..=most).contains(&n) => {
                return Some(format!("it cannot be divided between {n} vessels: say {fewest} to {most}"));
            }
            Some(Fill::Into(n)) => {
                let own = self.vessel.as_ref().and_then(|name| own_box(r, name));
                if let Some(own) = own.filter(|b| b.count < n) {
                    return Some(format!("there are {} of the {}, not {n}", own.count, own.name));
                }
            }
            Some(Fill::NoDeeper(mm)) if !(low..=high).contains(&mm) => {
                return Some(format!("food is not laid {mm} mm deep: say {low} to {high}"));
            }
            _ => {}
        }
        if self.counter > MAX_ON_THE_COUNTER {
            return Some(format!(
                "{} minutes on the counter are too many: within {MAX_ON_THE_COUNTER} it is in the fridge or in a bath",
                self.counter
            ));
        }
        let (short, long) = BATH_RANGE;
        let bath = self.bath.filter(|b| !(short..=long).contains(&b.minutes));
        bath.map(|b| format!("a bath of {} minutes is none: say {short} to {long}", b.minutes))
    }
}

fn several(one: &str) -> String {
    FoodBox::several(one)
}

fn own_box<'r>(r: &'r Rotation, name: &str) -> Option<&'r FoodBox> {
    r.storage.boxes.iter().find(|b| b.name == name)
}

/// Says how something is boxed up, in the place of what was said before.
pub(super) fn set(r: &mut Rotation, boxing: &Boxing) -> Outcome {
    let mut boxing = boxing.clone();
    boxing.vessel = boxing.vessel.map(|v| v.trim().to_string()).filter(|v| !v.is_empty());
    if let Some(fault) = boxing.fault(r) {
        return refuse(fault);
    }
    let rice = matches!(boxing.of, KeptBack::Batch(id) if r.dish_of(id).is_some_and(|d| d.holds_rice()));
    if rice && boxing.counter > RICE_ON_THE_COUNTER {
        return refuse(format!(
            "there is rice in it: within {RICE_ON_THE_COUNTER} minutes it is in the fridge or in a bath, not after {}",
            boxing.counter
        ));
    }
    let (what, words) = (what_is_boxed(r, boxing.of), boxing.words());
    r.storage.boxed.retain(|b| b.of != boxing.of);
    r.storage.boxed.push(boxing);
    r.storage.boxed.sort();
    Ok(format!("Box up {what}: {words}"))
}

/// Forgets how something is boxed up.
pub(super) fn as_usual(r: &mut Rotation, of: KeptBack) -> Outcome {
    let before = r.storage.boxed.len();
    r.storage.boxed.retain(|b| b.of != of);
    if r.storage.boxed.len() == before {
        return refuse("that is boxed up as usual already");
    }
    Ok(format!("Box up {} as usual", what_is_boxed(r, of)))
}

fn what_is_boxed(r: &Rotation, of: KeptBack) -> String {
    match of {
        KeptBack::Whole => format!("the {}", r.kind.name),
        KeptBack::Batch(id) => super::serve::batch_name(r, id),
    }
}

/// Drops what is said of batches that are gone and in boxes that are gone, and what says nothing.
pub(super) fn settle(r: &mut Rotation) {
    if r.storage.boxed.is_empty() {
        return;
    }
    let mut boxed = std::mem::take(&mut r.storage.boxed);
    boxed.retain(|b| !b.is_usual() && b.fault(r).is_none());
    boxed.sort();
    r.storage.boxed = boxed;
}
