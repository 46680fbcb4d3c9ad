//! The bytes of a foreign file, or of standard input.

use std::{
    fs::{self, File},
    io::{ErrorKind, Read},
    path::{Path, PathBuf},
};

/// The most that is read of a foreign file: 8 MiB (house limit; a saved page without its pictures is a tenth of that).
pub const MAX_FOREIGN_BYTES: usize = 8 * 1024 * 1024;

/// Why a foreign file was not read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadFailure {
    /// There is none of that name.
    #[error("{0} is not there: check the name")]
    Missing(PathBuf),
    /// It is a folder, a pipe or a device.
    #[error("{0} is no plain file: save the page as one file and name that")]
    NotPlain(PathBuf),
    /// More than [`MAX_FOREIGN_BYTES`].
    #[error("{0} is larger than 8 MiB, which is the most that is read: save the page without its pictures")]
    TooLarge(PathBuf),
    /// It has no bytes.
    #[error("{0} is empty: save the page again")]
    Empty(PathBuf),
    /// The system refuses it.
    #[error("{path} cannot be read ({why})")]
    Unreadable {
        /// Which file.
        path: PathBuf,
        /// What the system says.
        why: String,
    },
}

/// The bytes of the file at `path`; "-" is standard input. Never more than [`MAX_FOREIGN_BYTES`], never nothing.
pub fn read_bytes_of(path: &Path) -> Result<Vec<u8>, ReadFailure> {
    let name = || path.to_path_buf();
    let unreadable = |e: std::io::Error| match e.kind() {
        ErrorKind::NotFound => ReadFailure::Missing(name()),
        kind => ReadFailure::Unreadable { path: name(), why: kind.to_string() },
    };
    let bytes = if path == Path::new("-") {
        capped(std::io::stdin().lock()).map_err(unreadable)?
    } else {
        // Looked at before it is opened: opening a pipe would wait for its writer.
        let about = fs::metadata(path).map_err(unreadable)?;
        if !about.is_file() {
            return Err(ReadFailure::NotPlain(name()));
        }
        if about.len() > MAX_FOREIGN_BYTES as u64 {
            return Err(ReadFailure::TooLarge(name()));
        }
        File::open(path).and_then(capped).map_err(unreadable)?
    };
    match bytes.len() {
        0 => Err(ReadFailure::Empty(name())),
        n if n > MAX_FOREIGN_BYTES => Err(ReadFailure::TooLarge(name())),
        _ => Ok(bytes),
    }
}

/// At most one byte over the limit: enough to know that it is over.
fn capped(from: impl Read) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    from.take(MAX_FOREIGN_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}
