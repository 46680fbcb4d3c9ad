//! The journal of this household: what was really eaten, `journal.ron` in the data folder.

use super::{
    Aside, Places, StoreError,
    aside::{read_checked, write_small},
    limits,
    parse::{Reader, from_ron},
};
use crate::rotation::{EatenMeal, Invalid};
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

/// The most meals that are kept (house limit): over ten years of three a day.
pub const MAX_JOURNAL: usize = 12_000;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct JournalFile {
    version: u32,
    meals: Vec<EatenMeal>,
}

const VERSION: u32 = 1;
const READERS: &[(u32, Reader<JournalFile>)] = &[(1, from_ron)];

fn path(places: &Places) -> PathBuf {
    places.data.join("journal.ron")
}

/// The journal, by day; empty where none was kept; a note if its file is broken.
pub fn load_journal(places: &Places) -> (Vec<EatenMeal>, Option<Aside>) {
    let (file, aside) = read_checked(&path(places), "a journal", READERS, |f| check(&f.meals));
    (file.map_or_else(Vec::new, |f| by_day(f.meals)), aside)
}

/// Keeps the journal, by day.
pub fn save_journal(places: &Places, meals: &[EatenMeal]) -> Result<(), StoreError> {
    let path = path(places);
    if let Err(e) = check(meals) {
        return Err(StoreError::Invalid { path, line: None, what: e.what });
    }
    write_small(&path, &JournalFile { version: VERSION, meals: by_day(meals.to_vec()) })
}

/// Stable: what was written down for one day stays in its order.
fn by_day(mut meals: Vec<EatenMeal>) -> Vec<EatenMeal> {
    meals.sort_by_key(|m| m.on);
    meals
}

fn check(meals: &[EatenMeal]) -> Result<(), Invalid> {
    if meals.len() > MAX_JOURNAL {
        limits::invalid(format!("there are {} meals; {MAX_JOURNAL} is the most", meals.len()), &["meals"])?;
    }
    for meal in meals {
        let what = format!("the meal of {}", meal.on);
        // Two meals of one day are told apart by what was eaten.
        let near = ["meals".to_string(), format!("on: \"{}\"", meal.on), format!("name: \"{}\"", meal.name)];
        limits::eaten(&what, &meal.name, &meal.profile).map_err(|e| Invalid { near: near.to_vec(), ..e })?;
        limits::name(&format!("the mealtime in {what}"), &meal.mealtime, &near)?;
        meal.eaters.iter().try_for_each(|e| limits::name(&format!("an eater in {what}"), e, &near))?;
    }
    Ok(())
}
