//! What is in the house, kept beside the household.

use super::{
    Aside, Places, StoreError,
    aside::{put_aside, read_small, write_small},
    limits,
    parse::{Reader, Sort, from_ron, read_versioned},
    read::read_text,
};
use crate::lists::Cupboard;
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CupboardFile {
    version: u32,
    cupboard: Cupboard,
}

const READERS: &[(u32, Reader<CupboardFile>)] = &[(1, from_ron)];
const WHAT: &str = "a cupboard file";

/// Where the cupboard of this kitchen is kept.
fn path(places: &Places) -> PathBuf {
    places.data.join("cupboard.ron")
}

/// The cupboard of this kitchen, if one was kept; a note if its file is broken.
pub fn load_cupboard(places: &Places) -> (Option<Cupboard>, Option<Aside>) {
    let path = path(places);
    let (file, aside) = read_small(&path, WHAT, READERS);
    let Some(file) = file else { return (None, aside) };
    match limits::cupboard(&file.cupboard) {
        Ok(()) => (Some(file.cupboard), None),
        Err(e) => {
            let error = StoreError::Invalid { path: path.clone(), line: None, what: e.what };
            (None, Some(put_aside(&path, error)))
        }
    }
}

/// Keeps the cupboard of this kitchen.
pub fn save_cupboard(places: &Places, cupboard: &Cupboard) -> Result<(), StoreError> {
    let path = path(places);
    limits::cupboard(cupboard).map_err(|e| StoreError::Invalid { path: path.clone(), line: None, what: e.what })?;
    write_small(&path, &CupboardFile { version: 1, cupboard: cupboard.clone() })
}

/// Reads a cupboard that somebody names.
pub fn read_cupboard(path: &Path) -> Result<Cupboard, StoreError> {
    let (text, _) = read_text(path)?;
    let cupboard = read_versioned(path, &text, Sort::Own(WHAT), READERS)?.0.cupboard;
    limits::cupboard(&cupboard).map_err(|e| super::format::locate(path, &text, &e))?;
    Ok(cupboard)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{book::CompanionMeasure, lists::CupboardItem};

    fn places() -> (tempfile::TempDir, Places) {
        let folder = tempfile::tempdir().unwrap();
        let places = Places::under(folder.path());
        (folder, places)
    }

    #[test]
    fn a_kept_cupboard_is_read_back() {
        let (_folder, places) = places();
        assert_eq!(load_cupboard(&places), (None, None));
        let cupboard = Cupboard {
            items: vec![
                CupboardItem {
                    name: "cream".into(),
                    amount: Some(150.5),
                    measure: CompanionMeasure::Ml,
                    use_by: Some(jiff::civil::date(2026, 12, 9)),
                },
                CupboardItem { name: "salt".into(), amount: None, measure: CompanionMeasure::G, use_by: None },
            ],
            garden: vec!["parsley".into()],
        };
        save_cupboard(&places, &cupboard).unwrap();
        assert_eq!(load_cupboard(&places), (Some(cupboard.clone()), None));
        assert_eq!(read_cupboard(&path(&places)), Ok(cupboard));
    }

    #[test]
    fn a_wrong_cupboard_is_refused_with_its_line_and_put_aside() {
        let (_folder, places) = places();
        for (body, said) in [
            ("items: [\n(name: \"rice\", amount: Some(-1.0))]", "from 0 to 1000000"),
            ("items: [\n(name: \"rice\", amuont: Some(1.0))]", "did you mean \"amount\""),
            ("items: [\n(name: \"\\u{1b}[2J\")]", "control character"),
            ("items: [\n(name: \"rice\", use_by: Some(\"soon\"))]", "is not a date"),
        ] {
            std::fs::create_dir_all(&places.data).unwrap();
            std::fs::write(path(&places), format!("(version: 1, cupboard: ({body}))")).unwrap();
            let error = read_cupboard(&path(&places)).unwrap_err().to_string();
            assert!(error.contains(said) && error.contains(", line "), "{error}");
            let (none, aside) = load_cupboard(&places);
            assert!(none.is_none() && aside.is_some_and(|a| a.kept.is_some()));
        }
    }
}
