//! Reading a file's text, whatever somebody points at.

use super::{Fingerprint, StoreError, error::io_words};
use std::{
    fs::{self, File},
    io::{ErrorKind, Read as _},
    path::Path,
};

/// The most that is read of any file: 16 MiB, hundreds of times the longest rotation (house limit, common practice).
pub const MAX_FILE_BYTES: u32 = 16 * 1024 * 1024;

/// The text of a file and its fingerprint. A byte-order mark at the start is left off.
pub(super) fn read_text(path: &Path) -> Result<(String, Fingerprint), StoreError> {
    let bytes = read_bytes(path)?;
    let print = Fingerprint::of(&bytes);
    text_of(path, &bytes).map(|text| (text.to_string(), print))
}

/// The text that `bytes` are, of at most [`MAX_FILE_BYTES`]; `path` stands for them in what is said of it.
pub(super) fn text_of<'b>(path: &Path, bytes: &'b [u8]) -> Result<&'b str, StoreError> {
    if bytes.len() > MAX_FILE_BYTES as usize {
        return Err(StoreError::TooLarge { path: path.into(), cap: MAX_FILE_BYTES });
    }
    if bytes.is_empty() {
        return Err(StoreError::Empty { path: path.into() });
    }
    let line_of = |end: usize| 1 + bytes[..end].iter().filter(|&&b| b == b'\n').count();
    if let Some(zero) = bytes.iter().position(|&b| b == 0) {
        return Err(StoreError::NotText { path: path.into(), line: line_of(zero) });
    }
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.strip_prefix('\u{feff}').unwrap_or(text)),
        Err(e) => Err(StoreError::NotText { path: path.into(), line: line_of(e.valid_up_to()) }),
    }
}

/// The bytes of a plain file of at most [`MAX_FILE_BYTES`].
pub(super) fn read_bytes(path: &Path) -> Result<Vec<u8>, StoreError> {
    let unreadable = |e: std::io::Error| match e.kind() {
        ErrorKind::NotFound => StoreError::Missing { path: path.into() },
        _ => StoreError::Unreadable { path: path.into(), why: io_words(&e) },
    };
    // Looked at before it is opened: opening a pipe would wait for its writer.
    let about = fs::metadata(path).map_err(unreadable)?;
    if about.is_dir() {
        return Err(StoreError::Folder { path: path.into() });
    }
    if !about.is_file() {
        return Err(StoreError::NotPlain { path: path.into() });
    }
    let too_large = || StoreError::TooLarge { path: path.into(), cap: MAX_FILE_BYTES };
    if about.len() > u64::from(MAX_FILE_BYTES) {
        return Err(too_large());
    }
    let mut bytes = Vec::with_capacity(about.len() as usize);
    // The limit holds for a file that grows meanwhile, too.
    File::open(path).and_then(|f| f.take(u64::from(MAX_FILE_BYTES) + 1).read_to_end(&mut bytes)).map_err(unreadable)?;
    if bytes.len() > MAX_FILE_BYTES as usize {
        return Err(too_large());
    }
    Ok(bytes)
}
