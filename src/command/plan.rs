//! The rotation that a command is about: a file, or standard input.

use super::{EXIT_FAILED, Failure};
use crate::{
    rotation::Rotation,
    store::{MAX_FILE_BYTES, read_rotation, rotation_from_bytes},
};
use std::{
    io::{self, Read as _},
    path::Path,
};

/// What standard input is called in what is said of it.
const STANDARD_INPUT: &str = "standard input";

/// The rotation in `file`; "-" is standard input.
pub(super) fn read_plan(file: &Path) -> Result<Rotation, Failure> {
    if file != Path::new("-") {
        return Ok(read_rotation(file)?.rotation);
    }
    let mut bytes = Vec::new();
    // One byte over the limit is enough to know that it is over.
    let read = io::stdin().lock().take(u64::from(MAX_FILE_BYTES) + 1).read_to_end(&mut bytes);
    read.map_err(|e| Failure { sentence: format!("{STANDARD_INPUT} cannot be read: {e}"), code: EXIT_FAILED })?;
    Ok(rotation_from_bytes(Path::new(STANDARD_INPUT), &bytes)?)
}
