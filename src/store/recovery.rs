//! Unsaved work, kept so that a crash loses little.
//!
//! While a plan has unsaved changes the window writes snapshots of it; they go when it is saved or given up. Every running
//! Tranche holds a lock on a file of its own, which the system lets go however it ends: a snapshot whose lock is free was
//! left by a run that ended badly.

use super::{
    Fingerprint, Places, StoreError,
    aside::make_folder,
    atomic::{lock_is_free, write_whole},
    error::io_words,
    format::{RotationFile, locate, write_ron},
    parse::{Reader, Sort, from_ron, read_versioned},
    read::read_text,
};
use crate::rotation::Rotation;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use std::{
    fs::{self, File},
    io,
    path::{Path, PathBuf},
};

const SUFFIX: &str = ".recovery.ron";
const LOCK_SUFFIX: &str = ".lock";

/// Where the unsaved work of this run is kept, and that of earlier ones found.
#[derive(Debug)]
pub struct RecoveryStore {
    folder: PathBuf,
    pid: u32,
    /// What tells this run's files from others': its process number, with a count where that is taken.
    run: String,
    /// Held for as long as the program runs.
    _lock: File,
}

/// Unsaved work as it was last kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Snapshot {
    /// The file that the plan was opened from, if it had one.
    pub file: Option<PathBuf>,
    /// When it was kept.
    pub at: Timestamp,
    /// The plan.
    pub rotation: Rotation,
}

/// A snapshot left by a run that ended badly.
#[derive(Clone, Debug, PartialEq)]
pub struct Remnant {
    /// The snapshot's own file.
    pub path: PathBuf,
    /// Which plan it is of; see [`plan_id`].
    pub plan: String,
    /// What is in it, or why that cannot be read.
    pub content: Result<Snapshot, StoreError>,
}

/// Raised whenever the form of a rotation is.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SnapshotFile {
    version: u32,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    file: Option<String>,
    at: Timestamp,
    pid: u32,
    rotation: RotationFile,
}

const READERS: &[(u32, Reader<SnapshotFile>)] = &[(1, from_ron)];

/// A short name for the plan that is kept in `file`; all plans without a file share one.
pub fn plan_id(file: Option<&Path>) -> String {
    file.map_or_else(
        || "unsaved".into(),
        |p| {
            format!(
                "{:016x}",
                Fingerprint::of(std::path::absolute(p).unwrap_or_else(|_| p.into()).as_os_str().as_encoded_bytes()).hash()
            )
        },
    )
}

impl RecoveryStore {
    /// Makes this run known, so that others leave its snapshots alone.
    pub fn open(places: &Places, pid: u32) -> Result<RecoveryStore, StoreError> {
        let folder = places.state.join("recovery");
        make_folder(&folder)?;
        for count in 1..=1_000 {
            let run = if count == 1 { pid.to_string() } else { format!("{pid}x{count}") };
            let path = folder.join(format!("{run}{LOCK_SUFFIX}"));
            let failed = |e: io::Error| StoreError::NotWritten { path: path.clone(), why: io_words(&e) };
            let lock = File::options().create(true).append(true).open(&path).map_err(failed)?;
            // Taken: by a run in another container. Gone: swept by another run just now. Snapshots there: of a dead run of the
            // same number, which must not pass for ours.
            if lock_is_free(&lock) && path.exists() && snapshots(&folder).all(|s| s.run != run) {
                let store = RecoveryStore { folder, pid, run, _lock: lock };
                store.sweep_locks();
                return Ok(store);
            }
        }
        Err(StoreError::NotWritten { path: folder, why: "too many programs keep unsaved work there".into() })
    }

    /// Keeps `rotation` as the unsaved work on `plan`, in place of what was kept of it before.
    pub fn keep(&self, plan: &str, file: Option<&Path>, at: Timestamp, rotation: &Rotation) -> Result<(), StoreError> {
        let snapshot = SnapshotFile {
            version: 1,
            // A name that is not Unicode cannot stand in the file: the plan comes back as one without a file.
            file: file.and_then(Path::to_str).map(str::to_string),
            at,
            pid: self.pid,
            rotation: RotationFile::of(rotation),
        };
        write_whole(&self.path(plan), write_ron(&snapshot).as_bytes()).map(|_| ())
    }

    /// Drops what is kept of `plan`: it was saved, or the person gave it up.
    pub fn drop_plan(&self, plan: &str) -> Result<(), StoreError> {
        remove(&self.path(plan))
    }

    /// What runs that ended badly have left, newest first, the unreadable last.
    pub fn left_behind(&self) -> Vec<Remnant> {
        let dead = snapshots(&self.folder).filter(|s| s.run != self.run && is_dead(&self.folder, &s.run));
        let mut found: Vec<Remnant> = dead.map(|s| Remnant { content: read(&s.path), path: s.path, plan: s.plan }).collect();
        found.sort_by_cached_key(|r| (std::cmp::Reverse(r.content.as_ref().ok().map(|s| s.at)), r.path.clone()));
        found
    }

    /// Takes a remnant over: it is now this run's own snapshot, under the name that is given back, so that a second crash
    /// does not lose it. Another run that takes it first makes this fail.
    pub fn take(&self, remnant: &Remnant) -> Result<String, StoreError> {
        let mut plan = remnant.plan.clone();
        for count in 2.. {
            if !self.path(&plan).exists() {
                break;
            }
            plan = format!("{}x{count}", remnant.plan);
        }
        match fs::rename(&remnant.path, self.path(&plan)) {
            Ok(()) => Ok(plan),
            Err(e) if e.kind() == io::ErrorKind::NotFound => Err(StoreError::Missing { path: remnant.path.clone() }),
            Err(e) => Err(StoreError::NotWritten { path: remnant.path.clone(), why: io_words(&e) }),
        }
    }

    /// Throws a remnant away.
    pub fn discard(&self, remnant: &Remnant) -> Result<(), StoreError> {
        remove(&remnant.path)
    }

    /// A clean exit: nothing of this run is left behind.
    pub fn close(self) -> Result<(), StoreError> {
        let own = snapshots(&self.folder).filter(|s| s.run == self.run).map(|s| remove(&s.path));
        let removed = own.fold(Ok(()), Result::and);
        self.sweep_locks();
        // The lock itself goes with `self`.
        removed.and(remove(&self.folder.join(format!("{}{LOCK_SUFFIX}", self.run))))
    }

    fn path(&self, plan: &str) -> PathBuf {
        self.folder.join(format!("{plan}-{}{SUFFIX}", self.run))
    }

    /// Removes the locks of dead runs that left no snapshot.
    fn sweep_locks(&self) {
        for entry in fs::read_dir(&self.folder).into_iter().flatten().flatten() {
            let name = entry.file_name();
            let Some(run) = name.to_str().and_then(|n| n.strip_suffix(LOCK_SUFFIX)) else { continue };
            if run != self.run
                && let Ok(file) = File::open(entry.path())
                && lock_is_free(&file)
                && snapshots(&self.folder).all(|s| s.run != run)
            {
                // Removed while the lock is held, so that a run that starts now sees that its file is gone.
                let _ = fs::remove_file(entry.path());
            }
        }
    }
}

/// A snapshot's file by its name: PLAN-RUN.recovery.ron.
struct Found {
    path: PathBuf,
    plan: String,
    run: String,
}

fn snapshots(folder: &Path) -> impl Iterator<Item = Found> {
    fs::read_dir(folder).into_iter().flatten().flatten().filter_map(|entry| {
        let name = entry.file_name();
        let (plan, run) = name.to_str()?.strip_suffix(SUFFIX)?.rsplit_once('-')?;
        Some(Found { path: entry.path(), plan: plan.into(), run: run.into() })
    })
}

/// Whether nobody holds the lock of `run`.
fn is_dead(folder: &Path, run: &str) -> bool {
    match File::open(folder.join(format!("{run}{LOCK_SUFFIX}"))) {
        Ok(file) => lock_is_free(&file),
        Err(e) => e.kind() == io::ErrorKind::NotFound,
    }
}

fn read(path: &Path) -> Result<Snapshot, StoreError> {
    let (text, _) = read_text(path)?;
    let (file, _) = read_versioned(path, &text, Sort::Own("a snapshot of unsaved work"), READERS)?;
    let rotation = file.rotation.into_rotation().map_err(|e| locate(path, &text, &e))?;
    Ok(Snapshot { file: file.file.map(PathBuf::from), at: file.at, rotation })
}

fn remove(path: &Path) -> Result<(), StoreError> {
    match fs::remove_file(path) {
        Err(e) if e.kind() != io::ErrorKind::NotFound => {
            Err(StoreError::NotWritten { path: path.into(), why: format!("it cannot be removed: {}", io_words(&e)) })
        }
        _ => Ok(()),
    }
}
