//! The files that were open last.

use super::{
    Aside, Places, StoreError,
    aside::{read_small, write_small},
    parse::{Reader, from_ron},
};
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};

/// The most files that are remembered.
pub const MAX_RECENT: usize = 10;

/// The files that were open last, newest first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recent {
    files: Vec<PathBuf>,
}

/// One remembered file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecentFile {
    /// Where it lies.
    pub path: PathBuf,
    /// Whether it lies there no longer.
    pub missing: bool,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct RecentList {
    version: u32,
    files: Vec<String>,
}

const READERS: &[(u32, Reader<RecentList>)] = &[(1, from_ron)];

impl Recent {
    /// The list as it was saved; an empty one, with a note, if it is broken.
    pub fn load(places: &Places) -> (Recent, Option<Aside>) {
        let (list, aside) = read_small(&Recent::path(places), "a list of recent files", READERS);
        let files = list.map_or_else(Vec::new, |l| l.files.into_iter().take(MAX_RECENT).map(PathBuf::from).collect());
        (Recent { files }, aside)
    }

    /// Puts a file first that was opened or saved.
    pub fn note(&mut self, path: &Path) {
        // Without a working folder the path is kept as it is.
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
        self.files.retain(|p| *p != path);
        self.files.insert(0, path);
        self.files.truncate(MAX_RECENT);
    }

    /// Takes a file off the list.
    pub fn remove(&mut self, path: &Path) {
        self.files.retain(|p| p != path);
    }

    /// Takes every file off the list.
    pub fn clear(&mut self) {
        self.files.clear();
    }

    /// The file that was open last, whether or not it is still there.
    pub fn newest(&self) -> Option<&Path> {
        self.files.first().map(PathBuf::as_path)
    }

    /// Every file, newest first, with those marked that are no longer there. Looks at the disk.
    pub fn files(&self) -> Vec<RecentFile> {
        self.files.iter().map(|p| RecentFile { path: p.clone(), missing: !p.is_file() }).collect()
    }

    /// Saves the list. A name that is not Unicode cannot stand in the file and is left out.
    pub fn save(&self, places: &Places) -> Result<(), StoreError> {
        let files = self.files.iter().filter_map(|p| p.to_str().map(str::to_string)).collect();
        write_small(&Recent::path(places), &RecentList { version: 1, files })
    }

    fn path(places: &Places) -> PathBuf {
        places.state.join("recent.ron")
    }
}
