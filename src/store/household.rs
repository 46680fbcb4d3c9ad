//! The household of this kitchen, offered to every fresh rotation.

use super::{
    Aside, Places, StoreError,
    aside::{put_aside, read_small, write_small},
    limits,
    parse::{Reader, from_ron},
};
use crate::rotation::{Eater, Household};
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct HouseholdFile {
    version: u32,
    eaters: Vec<Eater>,
}

const READERS: &[(u32, Reader<HouseholdFile>)] = &[(1, from_ron)];

fn path(places: &Places) -> PathBuf {
    places.data.join("household.ron")
}

/// The household that was saved last, if any; a note if its file is broken.
pub fn load_household(places: &Places) -> (Option<Household>, Option<Aside>) {
    let path = path(places);
    let (file, aside) = read_small(&path, "a household file", READERS);
    let Some(file) = file else { return (None, aside) };
    match limits::household(&file.eaters) {
        Ok(()) => (Some(Household { eaters: file.eaters }), None),
        Err(e) => {
            let error = StoreError::Invalid { path: path.clone(), line: None, what: e.what };
            (None, Some(put_aside(&path, error)))
        }
    }
}

/// Keeps a household for the next fresh rotation.
pub fn save_household(places: &Places, household: &Household) -> Result<(), StoreError> {
    write_small(&path(places), &HouseholdFile { version: 1, eaters: household.eaters.clone() })
}
