//! The small files that the program keeps for itself: a broken one never stops it, and is never lost.

use super::{
    StoreError,
    atomic::write_whole,
    error::io_words,
    format::write_ron,
    parse::{Reader, Sort, read_versioned},
    read::read_text,
    source::line_of,
};
use crate::rotation::Invalid;
use serde::Serialize;
use std::{
    ffi::OsString,
    fs,
    path::{Path, PathBuf},
};

/// A file of the program's own that could not be used; a copy was put aside.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{error}; Tranche goes on without it{}", if kept.is_some() { ", and a copy is kept as .broken beside it" } else { "" })]
pub struct Aside {
    /// What is wrong with it.
    pub error: StoreError,
    /// Where the copy lies, if one could be made.
    pub kept: Option<PathBuf>,
}

/// Reads a small file: nothing where there is none, a note where it is broken.
pub(super) fn read_small<T>(path: &Path, what: &'static str, readers: &[(u32, Reader<T>)]) -> (Option<T>, Option<Aside>) {
    let read = read_text(path).and_then(|(text, _)| read_versioned(path, &text, Sort::Own(what), readers));
    match read {
        Ok((value, _)) => (Some(value), None),
        Err(StoreError::Missing { .. }) => (None, None),
        Err(error) => (None, Some(put_aside(path, error))),
    }
}

/// The same for a file whose values are checked beyond their shape; what is wrong with them is told with its line.
pub(super) fn read_checked<T>(
    path: &Path,
    what: &'static str,
    readers: &[(u32, Reader<T>)],
    check: impl Fn(&T) -> Result<(), Invalid>,
) -> (Option<T>, Option<Aside>) {
    let read = read_text(path).and_then(|(text, _)| {
        let (value, _) = read_versioned(path, &text, Sort::Own(what), readers)?;
        let wrong = |e: Invalid| StoreError::Invalid { path: path.into(), line: line_of(&text, &e.near), what: e.what };
        check(&value).map_err(wrong).map(|()| value)
    });
    match read {
        Ok(value) => (Some(value), None),
        Err(StoreError::Missing { .. }) => (None, None),
        Err(error) => (None, Some(put_aside(path, error))),
    }
}

/// Copies a file that cannot be used to NAME.broken.
pub(super) fn put_aside(path: &Path, error: StoreError) -> Aside {
    let mut name = OsString::from(path);
    name.push(".broken");
    let kept = PathBuf::from(name);
    // A folder or a pipe of this name is nothing to copy.
    let copied = fs::metadata(path).is_ok_and(|m| m.is_file()) && fs::copy(path, &kept).is_ok();
    Aside { error, kept: copied.then_some(kept) }
}

/// Writes a small file whole, and its folder first where there is none.
pub(super) fn write_small<T: Serialize>(path: &Path, value: &T) -> Result<(), StoreError> {
    make_folder(path.parent().unwrap_or(Path::new(".")))?;
    write_whole(path, write_ron(value).as_bytes()).map(|_| ())
}

/// Makes a folder of the program's own, for this person alone (XDG Base Directory Specification 0.8: mode 0700).
pub(super) fn make_folder(folder: &Path) -> Result<(), StoreError> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(folder).map_err(|e| StoreError::NotWritten { path: folder.into(), why: io_words(&e) })
}
