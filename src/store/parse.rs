//! From RON text to the program's types, with ron's complaints said in a cook's words.

use super::{
    StoreError,
    source::{Head, head, top_fields},
};
use ron::error::{Error as Ron, SpannedError};
use serde::de::DeserializeOwned;
use std::path::Path;

/// What a file is wanted to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sort {
    /// A rotation.
    Plan,
    /// A template.
    Shape,
    /// One of the program's own, which nobody opens by hand.
    Own(&'static str),
}

/// Fields that only the one and only the other has, whatever the file is called.
const OF_A_PLAN: [&str; 4] = ["first_day", "piece", "household", "meals"];
const OF_A_SHAPE: [&str; 2] = ["made_from", "slots"];

impl Sort {
    fn file(self) -> &'static str {
        match self {
            Sort::Plan => "a rotation file",
            Sort::Shape => "a template file",
            Sort::Own(what) => what,
        }
    }

    /// What to say where `text` is plainly the other sort.
    fn mistaken(self, text: &str) -> Option<&'static str> {
        let fields = top_fields(text);
        let has = |of: &[&str]| of.iter().any(|f| fields.contains(f));
        match self {
            Sort::Plan if has(&OF_A_SHAPE) && !has(&OF_A_PLAN) => {
                Some("this is a shape, not a plan: in the window use File, Lay a shape; on the command line `template fit`")
            }
            Sort::Shape if has(&OF_A_PLAN) && !has(&OF_A_SHAPE) => Some(
                "this is a plan, not a shape: in the window use File, Open; on the command line `template make` makes a shape of it",
            ),
            _ => None,
        }
    }
}

/// Reads `text` as one version writes it.
pub(super) type Reader<T> = fn(&str) -> Result<T, SpannedError>;

/// Reads `text` by the reader of its version; `readers` stand oldest first, each with the version that it reads. Gives the version too.
pub(super) fn read_versioned<T>(
    path: &Path,
    text: &str,
    sort: Sort,
    readers: &[(u32, Reader<T>)],
) -> Result<(T, u32), StoreError> {
    let newest = readers.last().map_or(0, |r| r.0);
    let (found, line) = match head(text) {
        Head::Version { found, line } => (found, line),
        Head::Other { line } => return Err(StoreError::NoVersion { path: path.into(), line, newest, what: sort.file() }),
    };
    if found > u64::from(newest) {
        return Err(StoreError::Newer { path: path.into(), line, found, newest });
    }
    let Some((version, reader)) = readers.iter().find(|r| u64::from(r.0) == found) else {
        return Err(StoreError::NoSuchVersion { path: path.into(), line, found, newest });
    };
    let read = reader(text).map_err(|e| match sort.mistaken(text) {
        Some(what) => StoreError::Invalid { path: path.into(), line: None, what: what.into() },
        None => malformed(path, text, &e),
    })?;
    Ok((read, *version))
}

/// Reads `text` as it stands, with ron's limit on the depth of brackets.
pub(super) fn from_ron<T: DeserializeOwned>(text: &str) -> Result<T, SpannedError> {
    ron::Options::default().from_str(text)
}

fn malformed(path: &Path, text: &str, error: &SpannedError) -> StoreError {
    // A field that is missing is missed at the closing bracket; everything else where the reading stopped.
    let at = error.span.start;
    StoreError::Malformed { path: path.into(), line: at.line, column: at.col, what: words(&error.code, text) }
}

/// What is wrong and what to do, in words.
fn words(error: &Ron, text: &str) -> String {
    match error {
        Ron::Message(said) => said.clone(),
        Ron::Eof => "the text ends in the middle; the rest of the file is lost, so take a copy of it".into(),
        Ron::ExpectedStringEnd => "a text in quotation marks does not end; put the closing \"".into(),
        Ron::UnclosedBlockComment => "a comment does not end; put the closing */".into(),
        Ron::ExpectedArray => "a list in [ ] should stand here".into(),
        Ron::ExpectedArrayEnd => "a list does not end here; put a ] or a comma".into(),
        Ron::ExpectedComma => "a comma is missing here".into(),
        Ron::ExpectedBoolean => "true or false should stand here".into(),
        Ron::ExpectedInteger | Ron::InvalidIntegerDigit { .. } => "a whole number should stand here".into(),
        Ron::ExpectedFloat => "a number should stand here".into(),
        Ron::IntegerOutOfBounds => "this number is too large or below what may stand here".into(),
        Ron::ExpectedString => "a text in quotation marks should stand here".into(),
        Ron::ExpectedOption => "Some(...) or None should stand here".into(),
        Ron::ExpectedOptionEnd | Ron::ExpectedStructLikeEnd => "a bracket does not end here; put a ) or a comma".into(),
        Ron::ExpectedStructLike | Ron::ExpectedNamedStructLike(_) | Ron::ExpectedDifferentStructName { .. } => {
            "a group in ( ) should stand here".into()
        }
        Ron::ExpectedMapColon => "a colon is missing here".into(),
        Ron::ExpectedIdentifier => "the name of a field or a word should stand here".into(),
        Ron::TrailingCharacters => "something stands behind the end of the plan; take it out".into(),
        Ron::ExceededRecursionLimit => "brackets stand too deep in one another; no file of Tranche is written so".into(),
        Ron::UnexpectedChar(c) => format!("the character {c:?} cannot stand here; take it out"),
        Ron::NoSuchStructField { expected, found, .. } => unknown("field", found, expected),
        Ron::NoSuchEnumVariant { expected, found, .. } => unknown("word", found, expected),
        Ron::MissingStructField { field, .. } => {
            format!("the field \"{field}\" is missing in the group that ends here; put it in")
        }
        Ron::DuplicateStructField { field, .. } => format!("the field \"{field}\" stands twice; take one out"),
        Ron::InvalidValueForType { expected, found } => format!("{} should stand here, not {}", brief(expected), brief(found)),
        Ron::ExpectedDifferentLength { expected, found } => format!("{} should stand here, not {found}", brief(expected)),
        other => {
            let said = other.to_string();
            if text.trim().is_empty() {
                "there is nothing in the file".into()
            } else {
                format!("{}; mend or undo this", brief(&said))
            }
        }
    }
}

fn unknown(sort: &str, found: &str, expected: &[&str]) -> String {
    match (nearest(found, expected), expected) {
        (Some(near), _) => format!("there is no {sort} \"{}\" here; did you mean \"{near}\"?", brief(found)),
        (None, []) => format!("there is no {sort} \"{}\" here; take it out", brief(found)),
        (None, _) => format!("there is no {sort} \"{}\" here; there may be {}", brief(found), expected.join(", ")),
    }
}

/// The one of `known` that somebody who wrote `word` will have meant, if any is near enough.
pub(crate) fn nearest<'k>(word: &str, known: &[&'k str]) -> Option<&'k str> {
    let near = known.iter().map(|k| (distance(word, k), *k)).min();
    near.filter(|(d, _)| *d <= 2.max(word.chars().count() / 3)).map(|(_, k)| k)
}

/// At most 80 characters, on one line.
fn brief(text: &str) -> String {
    text.chars().take(80).flat_map(|c| if c.is_control() { c.escape_debug().collect::<Vec<_>>() } else { vec![c] }).collect()
}

/// How many letters must be put, taken or changed to make one word of the other (Levenshtein 1966).
fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().take(60).collect();
    let mut row: Vec<usize> = (0..=a.len()).collect();
    for (i, cb) in b.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, ca) in a.iter().enumerate() {
            let changed = diagonal + usize::from(*ca != cb);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(diagonal + 1).min(row[j] + 1);
        }
    }
    row[a.len()]
}
