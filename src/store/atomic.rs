//! Writing a file whole or not at all.

use super::{StoreError, error::io_words, read::read_bytes};
use std::{
    ffi::OsString,
    fs::{self, File, Permissions, TryLockError},
    io::{self, ErrorKind, Write as _},
    path::{Path, PathBuf},
};
use tempfile::NamedTempFile;

/// What is on disk: enough to tell whether another program has written there since.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fingerprint {
    /// Length in bytes.
    len: u64,
    /// FNV-1a of the content, 64 bits (Fowler, Noll and Vo; RFC 9923).
    hash: u64,
}

impl Fingerprint {
    /// The fingerprint of these bytes.
    pub fn of(bytes: &[u8]) -> Fingerprint {
        let hash = bytes.iter().fold(0xcbf2_9ce4_8422_2325, |h: u64, &b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3));
        Fingerprint { len: bytes.len() as u64, hash }
    }

    /// The hash alone: a short name for a content.
    pub(super) fn hash(self) -> u64 {
        self.hash
    }
}

/// The fingerprint of the file as it is now.
pub fn fingerprint(path: &Path) -> Result<Fingerprint, StoreError> {
    read_bytes(path).map(|bytes| Fingerprint::of(&bytes))
}

/// Refuses with [`StoreError::ChangedOnDisk`] if the file is no longer what it was. A file that is gone passes: writing it
/// anew destroys nothing.
pub fn check_unchanged(path: &Path, was: &Fingerprint) -> Result<(), StoreError> {
    match fingerprint(path) {
        Ok(now) if now == *was => Ok(()),
        Ok(_) | Err(StoreError::TooLarge { .. }) => Err(StoreError::ChangedOnDisk { path: path.into() }),
        Err(StoreError::Missing { .. }) => Ok(()),
        Err(other) => Err(other),
    }
}

/// What the name of a half-written file ends in.
const TEMP_SUFFIX: &str = ".tranche-tmp";

/// Writes `bytes` to `path` so that at every instant the file holds either all of the old or all of the new content.
///
/// A symbolic link is followed and stays; the old file's mode bits are kept; what a killed save left behind is swept away.
/// Other hard links to the old file keep the old content.
pub fn write_whole(path: &Path, bytes: &[u8]) -> Result<Fingerprint, StoreError> {
    let failed = |e: io::Error| StoreError::NotWritten { path: path.into(), why: io_words(&e) };
    let target = follow_links(path).map_err(failed)?;
    let kept_mode = match fs::metadata(&target) {
        Ok(old) if old.is_dir() => return Err(StoreError::Folder { path: path.into() }),
        Ok(old) if !old.is_file() => return Err(StoreError::NotPlain { path: path.into() }),
        Ok(old) if old.permissions().readonly() => return Err(StoreError::ReadOnly { path: path.into() }),
        Ok(old) => Some(old.permissions()),
        Err(e) if e.kind() == ErrorKind::NotFound => None,
        Err(e) => return Err(failed(e)),
    };
    let (folder, prefix) = temp_place(&target).ok_or_else(|| StoreError::Folder { path: path.into() })?;
    sweep(folder, &prefix);
    let mut result = replace(&target, folder, &prefix, bytes, kept_mode.clone());
    if matches!(&result, Err(e) if e.kind() == ErrorKind::NotFound) && folder.is_dir() {
        // Another process swept our temporary file in the instant before it was locked.
        result = replace(&target, folder, &prefix, bytes, kept_mode);
    }
    result.map_err(failed)?;
    Ok(Fingerprint::of(bytes))
}

fn replace(target: &Path, folder: &Path, prefix: &OsString, bytes: &[u8], mode: Option<Permissions>) -> io::Result<()> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(prefix).suffix(TEMP_SUFFIX);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        // As the person's umask has it, like any file that they make.
        builder.permissions(Permissions::from_mode(0o666));
    }
    let mut temp: NamedTempFile = builder.tempfile_in(folder)?;
    // Held until the file is closed; a file system without locks just keeps its litter.
    let _ = temp.as_file().try_lock();
    if let Some(mode) = mode {
        temp.as_file().set_permissions(mode)?;
    }
    temp.write_all(bytes)?;
    temp.as_file().sync_all()?;
    temp.persist(target).map_err(|e| e.error)?;
    sync_folder(folder)
}

/// Makes the new name last through a power cut.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> io::Result<()> {
    // A folder that may be written but not listed cannot be opened; the rename is done all the same.
    let Ok(open) = File::open(folder) else { return Ok(()) };
    match open.sync_all() {
        Err(e) if matches!(e.kind(), ErrorKind::InvalidInput | ErrorKind::Unsupported) => Ok(()),
        done => done,
    }
}

#[cfg(not(unix))]
fn sync_folder(_: &Path) -> io::Result<()> {
    Ok(())
}

/// The folder of `target` and how the names of its temporary files begin; nothing for a path that ends in no name.
fn temp_place(target: &Path) -> Option<(&Path, OsString)> {
    let mut prefix = OsString::from(".");
    prefix.push(target.file_name()?);
    prefix.push(".");
    let folder = target.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    Some((folder, prefix))
}

/// Removes temporary files of `target` whose writers are dead: a living one holds a lock.
fn sweep(folder: &Path, prefix: &OsString) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let name = entry.file_name();
        let name = name.as_encoded_bytes();
        if name.starts_with(prefix.as_encoded_bytes())
            && name.ends_with(TEMP_SUFFIX.as_bytes())
            && entry.file_type().is_ok_and(|t| t.is_file())
            && let Ok(file) = File::open(entry.path())
            && lock_is_free(&file)
        {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Whether nobody holds the lock on `file`. Where locks do not work the answer is no: better litter than loss.
pub(super) fn lock_is_free(file: &File) -> bool {
    !matches!(file.try_lock(), Err(TryLockError::WouldBlock | TryLockError::Error(_)))
}

/// The most links that are followed one after another; the usual limit of Linux (path_resolution(7)).
const MAX_LINKS: usize = 40;

/// Where a chain of symbolic links ends, whether or not something is there.
fn follow_links(path: &Path) -> io::Result<PathBuf> {
    let mut at = path.to_path_buf();
    for _ in 0..MAX_LINKS {
        match fs::symlink_metadata(&at) {
            Ok(about) if about.is_symlink() => {
                let next = fs::read_link(&at)?;
                at = at.parent().map_or_else(|| next.clone(), |p| p.join(&next));
            }
            Ok(_) => return Ok(at),
            Err(e) if e.kind() == ErrorKind::NotFound => return Ok(at),
            Err(e) => return Err(e),
        }
    }
    Err(io::Error::other("its links run in a circle"))
}
