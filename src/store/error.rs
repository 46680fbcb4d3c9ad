//! What can go wrong with a file, each in one sentence: what, where, what to do.

use crate::quantity::grouped;
use std::{fmt, io, path::PathBuf};

/// Why a file was not read or written. Its text is one sentence for a person, beginning with the file's name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum StoreError {
    /// Nothing has this name.
    #[error("{}: there is no such file; check the name", Shown(path))]
    Missing {
        /// The file.
        path: PathBuf,
    },
    /// A folder has this name.
    #[error("{}: this is a folder; name a file", Shown(path))]
    Folder {
        /// The folder.
        path: PathBuf,
    },
    /// A pipe, socket or device has this name.
    #[error("{}: this is a pipe, socket or device; name a plain file", Shown(path))]
    NotPlain {
        /// The file.
        path: PathBuf,
    },
    /// More bytes than such a file ever has.
    #[error("{}: the file has over {} bytes, more than a file of Tranche ever has; it is probably something else", Shown(path), grouped(*cap))]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// The most that is read, in bytes.
        cap: u32,
    },
    /// The system would not let it be read.
    #[error("{}: cannot be read: {why}", Shown(path))]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// The system's reason, in words.
        why: String,
    },
    /// No byte in it.
    #[error("{}: the file is empty; take another, or start a new one", Shown(path))]
    Empty {
        /// The file.
        path: PathBuf,
    },
    /// Bytes that are no text.
    #[error("{}, line {line}: this is no text; the file is broken there, or not one of Tranche's", Shown(path))]
    NotText {
        /// The file.
        path: PathBuf,
        /// The first line that is no text, counted from 1.
        line: usize,
    },
    /// Written by a later Tranche.
    #[error(
        "{}, line {line}: written by a newer Tranche (version {found}); this one reads up to {newest}, so open it with the newer program",
        Shown(path)
    )]
    Newer {
        /// The file.
        path: PathBuf,
        /// Where the version stands.
        line: usize,
        /// The version that it names.
        found: u64,
        /// The newest version that this program reads.
        newest: u32,
    },
    /// A version that there never was.
    #[error(
        "{}, line {line}: there is no version {found}; put \"version: {newest}\" if the rest of the file is written so",
        Shown(path)
    )]
    NoSuchVersion {
        /// The file.
        path: PathBuf,
        /// Where the version stands.
        line: usize,
        /// The version that it names.
        found: u64,
        /// The newest version that this program reads.
        newest: u32,
    },
    /// No version at the start.
    #[error(
        "{}, line {line}: this does not begin with \"(version: {newest},\" as {what} does; it is not one, or its first line is lost",
        Shown(path)
    )]
    NoVersion {
        /// The file.
        path: PathBuf,
        /// Where the version should stand.
        line: usize,
        /// The newest version that this program reads.
        newest: u32,
        /// What the file should be: "a rotation file".
        what: &'static str,
    },
    /// Text that is not what such a file holds.
    #[error("{}, line {line}, column {column}: {what}", Shown(path))]
    Malformed {
        /// The file.
        path: PathBuf,
        /// The line, counted from 1.
        line: usize,
        /// The column in characters, counted from 1.
        column: usize,
        /// What is wrong there and what to do.
        what: String,
    },
    /// Well written, but not possible.
    #[error("{}{}: {what}", Shown(path), Line(*line))]
    Invalid {
        /// The file.
        path: PathBuf,
        /// The line, where it was found.
        line: Option<usize>,
        /// What is wrong and what to do.
        what: String,
    },
    /// The system would not let it be written.
    #[error("{}: cannot be saved: {why}; what was there is untouched", Shown(path))]
    NotWritten {
        /// The file.
        path: PathBuf,
        /// The system's reason, in words.
        why: String,
    },
    /// Marked so that nobody writes over it.
    #[error("{}: the file is marked read-only; save under another name, or take the mark off", Shown(path))]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// The name is taken and nobody said that it may be overwritten.
    #[error("{}: there is a file of this name already; give another name, or --force to write over it", Shown(path))]
    AlreadyThere {
        /// The file.
        path: PathBuf,
    },
    /// Another program has written since it was read.
    #[error(
        "{}: the file was changed on disk by another program since it was opened; save under another name, or read it again",
        Shown(path)
    )]
    ChangedOnDisk {
        /// The file.
        path: PathBuf,
    },
    /// The platform does not say where files of the program go.
    #[error("no home folder is known, so settings and unsaved work have no place; set HOME")]
    NoHome,
}

/// A path on one line, whatever characters are in its name.
struct Shown<'p>(&'p PathBuf);

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for c in self.0.display().to_string().chars() {
            if c.is_control() { write!(f, "{}", c.escape_debug())? } else { write!(f, "{c}")? }
        }
        Ok(())
    }
}

struct Line(Option<usize>);

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.map_or(Ok(()), |line| write!(f, ", line {line}"))
    }
}

/// The system's error in words.
pub(super) fn io_words(error: &io::Error) -> String {
    use io::ErrorKind::*;
    match error.kind() {
        NotFound => "the folder is not there".into(),
        PermissionDenied => "you are not allowed to".into(),
        StorageFull => "the disk is full".into(),
        QuotaExceeded => "your share of the disk is used up".into(),
        ReadOnlyFilesystem => "the disk is read-only".into(),
        NotADirectory => "a part of its path is a file, not a folder".into(),
        InvalidFilename => "the name is too long or has a character that the disk does not take".into(),
        _ => error.to_string(),
    }
}
