//! Where the program's own files lie: the platform's folders.

use super::StoreError;
use etcetera::base_strategy::{BaseStrategy as _, choose_native_strategy};
use std::path::{Path, PathBuf};

/// The program's folder in each of the platform's places; what is not there is made when something is first written.
///
/// On Linux they follow the XDG Base Directory Specification 0.8, by which a relative value in a variable is ignored; on
/// macOS and Windows they are the system's own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Places {
    /// Settings.
    pub config: PathBuf,
    /// What the cook owns: the household, own dishes.
    pub data: PathBuf,
    /// What may be lost without grief: recent files, and the unsaved work of a run that ended badly.
    pub state: PathBuf,
}

/// The program's folder in each place.
const APP: &str = "tranche";

impl Places {
    /// The places of this machine and this person, from the environment.
    pub fn of_this_machine() -> Result<Places, StoreError> {
        let base = choose_native_strategy().map_err(|_| StoreError::NoHome)?;
        // Windows and macOS know no place for state. Windows keeps local data and caches in one folder, macOS all data.
        let local = if cfg!(windows) { base.cache_dir() } else { base.data_dir() };
        Ok(Places {
            config: base.config_dir().join(APP),
            data: base.data_dir().join(APP),
            state: base.state_dir().unwrap_or(local).join(APP),
        })
    }

    /// All places under one folder: for tests, and for a program carried on a stick.
    pub fn under(root: &Path) -> Places {
        Places { config: root.join("config"), data: root.join("data"), state: root.join("state") }
    }
}
