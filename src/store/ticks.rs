//! What is ticked off on lists, and what was settled by hand about the cooking, `ticks.ron` in the state folder: lost with no
//! more harm than a second look at the shelf and the sheet.

use super::{
    Aside, Places, StoreError,
    aside::{read_small, write_small},
    parse::{Reader, from_ron},
};
use crate::{lists::Ticks, runsheet::KeptCooking};
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct TicksFile {
    version: u32,
    ticks: Ticks,
    #[serde(default, skip_serializing_if = "KeptCooking::is_empty")]
    cooking: KeptCooking,
}

const READERS: &[(u32, Reader<TicksFile>)] = &[(1, from_ron)];

fn path(places: &Places) -> PathBuf {
    places.state.join("ticks.ron")
}

/// What was ticked off and settled; nothing where none was kept; a note if the file is broken.
pub fn load_ticks(places: &Places) -> ((Ticks, KeptCooking), Option<Aside>) {
    let (file, aside) = read_small(&path(places), "a file of ticks", READERS);
    (file.map(|f| (f.ticks.within_limits(), f.cooking.within_limits())).unwrap_or_default(), aside)
}

/// Keeps what is ticked off and settled.
pub fn save_ticks(places: &Places, ticks: &Ticks, cooking: &KeptCooking) -> Result<(), StoreError> {
    write_small(&path(places), &TicksFile { version: 1, ticks: ticks.clone(), cooking: cooking.clone() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_come_back_and_a_broken_file_stops_nothing() {
        let folder = tempfile::tempdir().expect("a folder");
        let places = Places::under(folder.path());
        let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/assets/demo.rotation.ron")).expect("the demo");
        let plan = crate::store::rotation_from_text(std::path::Path::new("demo"), &text).expect("the demo reads");
        let mut ticks = Ticks::default();
        ticks.set(&plan, "Shopping|Dill", true);
        ticks.set(&plan, "Shopping|Cream", true);
        ticks.set(&plan, "Shopping|Dill", false);
        save_ticks(&places, &ticks, &KeptCooking::default()).expect("kept");
        let ((back, _), aside) = load_ticks(&places);
        assert_eq!((back.clone(), aside), (ticks, None));
        assert!(back.has(&plan, "Shopping|Cream") && !back.has(&plan, "Shopping|Dill"));
        let mut later = plan.clone();
        later.first_day = later.first_day.tomorrow().expect("a date");
        assert!(!back.has(&later, "Shopping|Cream"), "another week is bought anew");
        std::fs::write(places.state.join("ticks.ron"), "(version: 1, ticks: 3)").expect("written");
        let (none, aside) = load_ticks(&places);
        assert!(none == <(Ticks, KeptCooking)>::default() && aside.is_some());
    }
}
