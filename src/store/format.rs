//! The rotation file: what stands in it and in which order.

use super::{
    Fingerprint, StoreError,
    atomic::write_whole,
    layout::lay_out,
    limits,
    parse::{Reader, Sort, from_ron, read_versioned},
    read::{read_text, text_of},
    source::{Head, head, line_of},
};
use crate::{
    book::{Dish, Kind},
    quantity::DayNo,
    rotation::{
        Batch, EaterId, Fridge, Household, Invalid, Kitchen, Meal, Mealtime, MealtimeId, Overruled, Piece, Rotation, Serving,
        Slot, Storage, validate,
    },
};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use std::{
    collections::{BTreeMap, BTreeSet},
    ffi::OsString,
    fmt::Display,
    path::{Path, PathBuf},
    sync::Arc,
};

/// The version that is written.
pub const ROTATION_VERSION: u32 = 1;
/// What the name of a rotation file ends in.
pub const ROTATION_SUFFIX: &str = ".rotation.ron";

/// Every version that is read, oldest first. An older one is one line here: its number, and a reader that makes the present form of it.
const READERS: &[(u32, Reader<RotationFile>)] = &[(1, from_ron)];

/// The fields of a rotation file in their order.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RotationFile {
    version: u32,
    #[serde(default)]
    title: String,
    #[serde(deserialize_with = "crate::quantity::date_in_file")]
    first_day: Date,
    days: u16,
    mealtimes: Vec<Mealtime>,
    kind: Arc<Kind>,
    piece: Piece,
    household: Household,
    /// Left out while it is as it should be, so that the files of older programs and ours are the same.
    #[serde(default, skip_serializing_if = "Fridge::is_usual")]
    fridge: Fridge,
    /// Left out like the fridge.
    #[serde(default, skip_serializing_if = "Kitchen::is_usual")]
    kitchen: Kitchen,
    /// The same: left out where nobody has said anything.
    #[serde(default, skip_serializing_if = "Storage::is_usual")]
    storage: Storage,
    /// By id.
    dishes: Vec<Arc<Dish>>,
    batches: Vec<Batch>,
    /// In the order of time.
    meals: Vec<MealLine>,
    #[serde(default)]
    overruled: Vec<Overruled>,
}

/// A meal with its slot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct MealLine {
    day: DayNo,
    mealtime: MealtimeId,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    present: Option<Vec<EaterId>>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    servings: Vec<Serving>,
}

/// A rotation read from a file.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The plan.
    pub rotation: Rotation,
    /// What was on disk, for [`super::check_unchanged`].
    pub fingerprint: Fingerprint,
    /// The version of the file, where it was an older one; [`save_rotation`] will keep the original beside it.
    pub migrated_from: Option<u32>,
}

/// Reads a rotation file.
pub fn read_rotation(path: &Path) -> Result<Loaded, StoreError> {
    let (text, fingerprint) = read_text(path)?;
    let (rotation, version) = parse(path, &text)?;
    Ok(Loaded { rotation, fingerprint, migrated_from: (version < ROTATION_VERSION).then_some(version) })
}

/// Reads a rotation out of `text`; `name` stands for the file in what is said of it.
pub fn rotation_from_text(name: &Path, text: &str) -> Result<Rotation, StoreError> {
    parse(name, text).map(|(rotation, _)| rotation)
}

/// Reads a rotation out of the bytes of a file that lies elsewhere; `name` stands for the file in what is said of it.
pub fn rotation_from_bytes(name: &Path, bytes: &[u8]) -> Result<Rotation, StoreError> {
    rotation_from_text(name, text_of(name, bytes)?)
}

fn parse(path: &Path, text: &str) -> Result<(Rotation, u32), StoreError> {
    let (file, version) = read_versioned(path, text, Sort::Plan, READERS)?;
    let rotation = file.into_rotation().map_err(|e| locate(path, text, &e))?;
    Ok((rotation, version))
}

/// The error with the line on which its cause stands.
pub(super) fn locate(path: &Path, text: &str, error: &Invalid) -> StoreError {
    StoreError::Invalid { path: path.into(), line: line_of(text, &error.near), what: error.what.clone() }
}

/// A rotation as the text of its file: the same rotation always gives the same bytes.
pub fn rotation_to_text(rotation: &Rotation) -> String {
    write_ron(&RotationFile::of(rotation))
}

/// Writes a rotation to `path`, whole or not at all. The original of an older version is kept first, as NAME.bak.
///
/// It writes over whatever is there: ask [`super::check_unchanged`] or the person before.
pub fn save_rotation(path: &Path, rotation: &Rotation) -> Result<Fingerprint, StoreError> {
    if let Err(e) = limits::check(rotation) {
        return Err(StoreError::Invalid { path: path.into(), line: None, what: e.what });
    }
    keep_original(path, ROTATION_VERSION)?;
    write_whole(path, rotation_to_text(rotation).as_bytes())
}

/// Copies a file that was written by a version before `now` to NAME.bak, or NAME.bak2 and so on where there is one already.
pub(super) fn keep_original(path: &Path, now: u32) -> Result<(), StoreError> {
    // What cannot be read as text is no older version of anything.
    let Ok((text, _)) = read_text(path) else { return Ok(()) };
    match head(&text) {
        Head::Version { found, .. } if found < u64::from(now) => {}
        _ => return Ok(()),
    }
    let named = |n: u32| {
        let mut name = OsString::from(path);
        name.push(if n == 1 { ".bak".to_string() } else { format!(".bak{n}") });
        PathBuf::from(name)
    };
    // A file that was migrated a hundred times has older troubles.
    let free = (1..100).map(named).find(|p| !p.exists()).unwrap_or_else(|| named(100));
    write_whole(&free, text.as_bytes()).map(|_| ())
}

/// Any of the program's own types as the text of its file.
pub(super) fn write_ron<T: Serialize>(value: &T) -> String {
    // Writing to a string fails only for types that RON has no form for; ours are plain fields, lists and words.
    lay_out(&ron::to_string(value).unwrap_or_default())
}

impl RotationFile {
    pub(super) fn of(plan: &Rotation) -> RotationFile {
        let mut meals: Vec<_> = plan.meals.iter().collect();
        meals.sort_by_key(|(slot, _)| (plan.time_rank(**slot), slot.mealtime));
        let meals = meals.into_iter().map(|(slot, meal)| MealLine {
            day: slot.day,
            mealtime: slot.mealtime,
            present: meal.present.clone(),
            servings: meal.servings.clone(),
        });
        RotationFile {
            version: ROTATION_VERSION,
            title: plan.title.clone(),
            first_day: plan.first_day,
            days: plan.days,
            mealtimes: plan.mealtimes.clone(),
            kind: plan.kind.clone(),
            piece: plan.piece.clone(),
            household: plan.household.clone(),
            fridge: plan.fridge.clone(),
            kitchen: plan.kitchen,
            storage: plan.storage.clone(),
            dishes: plan.dishes.values().cloned().collect(),
            batches: plan.batches.clone(),
            meals: meals.collect(),
            overruled: plan.overruled.clone(),
        }
    }

    /// The rotation, if everything in it stands once and holds together.
    pub(super) fn into_rotation(self) -> Result<Rotation, Invalid> {
        once("dishes", "the dish", self.dishes.iter().map(|d| (&d.id, format!("id: \"{}\"", d.id))))?;
        once("mealtimes", "the mealtime", self.mealtimes.iter().map(|m| (m.id.0, format!("id: {}", m.id.0))))?;
        once("batches", "the batch", self.batches.iter().map(|b| (b.id.0, format!("id: {}", b.id.0))))?;
        let mut meals = BTreeMap::new();
        for line in self.meals {
            let slot = Slot { day: line.day, mealtime: line.mealtime };
            let meal = Meal { present: line.present, servings: line.servings };
            if meals.insert(slot, meal).is_some() {
                let at = format!("day: {}, mealtime: {}", slot.day.0, slot.mealtime.0);
                let what = format!("mealtime {} of {} stands twice; make one meal of them", slot.mealtime.0, slot.day);
                limits::invalid(what, &["meals".to_string(), at.clone(), at])?;
            }
        }
        let rotation = Rotation {
            title: self.title,
            first_day: self.first_day,
            days: self.days,
            mealtimes: self.mealtimes,
            kind: self.kind,
            piece: self.piece,
            household: self.household,
            fridge: self.fridge,
            kitchen: self.kitchen,
            storage: self.storage,
            dishes: self.dishes.into_iter().map(|d| (d.id.clone(), d)).collect(),
            batches: self.batches,
            meals,
            overruled: self.overruled,
        };
        limits::check(&rotation)?;
        validate(&rotation)?;
        Ok(rotation)
    }
}

/// Refuses a list in which an id stands twice, pointing at the second.
fn once<I: Ord + Display>(list: &str, what: &str, ids: impl Iterator<Item = (I, String)>) -> Result<(), Invalid> {
    let mut seen = BTreeSet::new();
    for (id, near) in ids {
        let words = format!("{what} {id} stands twice; give the second another id or take it out");
        if !seen.insert(id) {
            return limits::invalid(words, &[list.to_string(), near.clone(), near]);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::keep_original;

    #[test]
    fn the_original_of_an_older_version_is_kept_once_for_each_time() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("a.rotation.ron");
        let bak = |end: &str| folder.path().join(format!("a.rotation.ron{end}"));
        std::fs::write(&path, "(version: 1, rest: \"old\")").unwrap();
        keep_original(&path, 1).unwrap();
        assert!(!bak(".bak").exists(), "nothing is kept of the present version");
        keep_original(&path, 2).unwrap();
        keep_original(&path, 2).unwrap();
        assert_eq!(std::fs::read_to_string(bak(".bak")).unwrap(), "(version: 1, rest: \"old\")");
        assert!(bak(".bak2").exists());
    }
}
