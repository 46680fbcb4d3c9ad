//! The cook's own kinds and dishes: one file an entry, in the data folder, laid over the shipped book.
//!
//! `book/kinds/ID.ron` and `book/dishes/ID.ron` each hold one entry, so that a broken one costs nothing but itself: it is told
//! of, left as it is, never written over, and all others are read. What is taken away goes to `book/away`, where it stays.

use super::{
    Fingerprint, Places, StoreError,
    aside::make_folder,
    atomic::{check_unchanged, write_whole},
    error::io_words,
    format::write_ron,
    limits,
    parse::{Reader, Sort, from_ron, read_versioned},
    read::read_text,
    source::line_of,
};
use crate::book::{Book, Dish, DishId, Kind, KindId, Place};
use serde::{Deserialize, Serialize};
use std::{
    collections::{BTreeMap, btree_map::Entry as Slot},
    fs,
    io::ErrorKind,
    path::{Path, PathBuf},
    sync::Arc,
};

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct KindFile {
    version: u32,
    kind: Arc<Kind>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct DishFile {
    version: u32,
    dish: Arc<Dish>,
}

const KIND_READERS: &[(u32, Reader<KindFile>)] = &[(1, from_ron)];
const DISH_READERS: &[(u32, Reader<DishFile>)] = &[(1, from_ron)];

/// An entry of the book: a dish or a kind.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// A dish.
    Dish(Arc<Dish>),
    /// A kind.
    Kind(Arc<Kind>),
}

/// What an entry is called in files.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum EntryId {
    /// A dish's id.
    Dish(DishId),
    /// A kind's id.
    Kind(KindId),
}

impl Entry {
    /// Its id.
    pub fn id(&self) -> EntryId {
        match self {
            Entry::Dish(dish) => EntryId::Dish(dish.id.clone()),
            Entry::Kind(kind) => EntryId::Kind(kind.id.clone()),
        }
    }

    /// What a cook calls it.
    pub fn name(&self) -> &str {
        match self {
            Entry::Dish(dish) => &dish.name,
            Entry::Kind(kind) => &kind.name,
        }
    }

    /// As it will be read again: a dish with the diet and the allergens that its company leaves.
    fn settled(&self) -> Entry {
        match self {
            Entry::Dish(dish) => {
                let mut dish = dish.clone();
                Arc::make_mut(&mut dish).settle();
                Entry::Dish(dish)
            }
            Entry::Kind(kind) => Entry::Kind(kind.clone()),
        }
    }

    /// As its file has it.
    fn text(&self) -> String {
        match self {
            Entry::Dish(dish) => write_ron(&DishFile { version: 1, dish: dish.clone() }),
            Entry::Kind(kind) => write_ron(&KindFile { version: 1, kind: kind.clone() }),
        }
    }
}

impl EntryId {
    /// The id as text.
    pub fn as_str(&self) -> &str {
        match self {
            EntryId::Dish(id) => id.as_str(),
            EntryId::Kind(id) => id.as_str(),
        }
    }

    /// The entry of a book that has this id.
    pub fn find(&self, book: &Book) -> Option<Entry> {
        match self {
            EntryId::Dish(id) => book.dish(id).cloned().map(Entry::Dish),
            EntryId::Kind(id) => book.kind(id).cloned().map(Entry::Kind),
        }
    }

    fn folder(&self) -> &'static str {
        match self {
            EntryId::Dish(_) => DISHES,
            EntryId::Kind(_) => KINDS,
        }
    }
}

/// What is done to the own book.
#[derive(Clone, Debug, PartialEq)]
pub enum OwnChange {
    /// Keep an entry, in place of the own one with its id.
    Keep(Entry),
    /// Take an own entry away.
    TakeAway(EntryId),
    /// Bring back what was taken away last.
    BringBack,
}

const KINDS: &str = "kinds";
const DISHES: &str = "dishes";
const AWAY: &str = "away";

/// An own entry and the file that it stands in.
#[derive(Clone, Debug)]
struct Kept {
    entry: Entry,
    file: Option<(PathBuf, Fingerprint)>,
    place: Option<Place>,
}

/// The cook's own kinds and dishes. A copy is cheap.
#[derive(Clone, Debug, Default)]
pub struct OwnBook {
    /// None: nothing is kept on disk.
    root: Option<PathBuf>,
    entries: BTreeMap<EntryId, Kept>,
    troubles: Vec<StoreError>,
    away: Vec<Kept>,
}

impl OwnBook {
    /// Reads every own entry. What cannot be read is told of by [`OwnBook::troubles`] and left as it is.
    pub fn load(places: &Places) -> OwnBook {
        let root = places.data.join("book");
        let mut own = OwnBook { root: Some(root.clone()), ..OwnBook::default() };
        for folder in [KINDS, DISHES] {
            for path in own.files_in(&root.join(folder)) {
                match read_entry(&path, folder) {
                    Ok(kept) => own.take_in(path, kept),
                    Err(error) => own.troubles.push(error),
                }
            }
        }
        own
    }

    /// The files that may be entries, by name.
    fn files_in(&mut self, folder: &Path) -> Vec<PathBuf> {
        match fs::read_dir(folder) {
            Ok(names) => {
                let mut paths: Vec<PathBuf> = names.flatten().map(|n| n.path()).collect();
                paths.retain(|p| p.extension().is_some_and(|e| e == "ron") && !is_hidden(p));
                paths.sort();
                paths
            }
            Err(e) if e.kind() == ErrorKind::NotFound => Vec::new(),
            Err(e) => {
                self.troubles.push(StoreError::Unreadable { path: folder.into(), why: io_words(&e) });
                Vec::new()
            }
        }
    }

    fn take_in(&mut self, path: PathBuf, kept: Kept) {
        match self.entries.entry(kept.entry.id()) {
            Slot::Vacant(free) => {
                free.insert(kept);
            }
            Slot::Occupied(first) => {
                let first = first.get().place.as_ref().map_or_else(String::new, |p| format!(" in {}", p.file));
                let what = format!(
                    "\"{}\" stands already{first}, which counts; give one of the two another id",
                    kept.entry.id().as_str()
                );
                self.troubles.push(StoreError::Invalid { path, line: kept.place.map(|p| p.line), what });
            }
        }
    }

    /// What could not be read, each in one sentence with its file and line.
    pub fn troubles(&self) -> &[StoreError] {
        &self.troubles
    }

    /// Every own entry: dishes, then kinds, each by id.
    pub fn entries(&self) -> impl Iterator<Item = &Entry> {
        self.entries.values().map(|k| &k.entry)
    }

    /// Whether an entry is the cook's own.
    pub fn has(&self, id: &EntryId) -> bool {
        self.entries.contains_key(id)
    }

    /// What was taken away last, and can be brought back.
    pub fn last_taken(&self) -> Option<&Entry> {
        self.away.last().map(|k| &k.entry)
    }

    /// The own entries as a book, to be laid over the shipped one.
    pub fn book(&self) -> Book {
        let mut book = Book::default();
        for kept in self.entries.values() {
            match &kept.entry {
                Entry::Dish(dish) => book.put_dish(dish.clone(), kept.place.clone()),
                Entry::Kind(kind) => book.put_kind(kind.clone(), kept.place.clone()),
            }
        }
        book
    }

    /// Does one thing, on disk first: if that fails nothing has changed.
    pub fn perform(&mut self, change: &OwnChange) -> Result<(), StoreError> {
        match change {
            OwnChange::Keep(entry) => self.keep(entry),
            OwnChange::TakeAway(id) => self.take_away(id),
            OwnChange::BringBack => self.bring_back(),
        }
    }

    fn keep(&mut self, entry: &Entry) -> Result<(), StoreError> {
        let entry = &entry.settled();
        let id = entry.id();
        let text = entry.text();
        let named = PathBuf::from(format!("{}/{}.ron", id.folder(), id.as_str()));
        within_limits(entry, self.root.as_ref().map_or_else(|| named.clone(), |root| root.join(&named)), &text)?;
        let known = self.entries.get(&id).and_then(|k| k.file.clone());
        let (file, place) = match (&self.root, known) {
            (None, _) => (None, None),
            (Some(root), known) => {
                let path = match known {
                    Some((path, print)) => {
                        check_unchanged(&path, &print)?;
                        path
                    }
                    None => {
                        let path = root.join(id.folder()).join(format!("{}.ron", id.as_str()));
                        refuse_if_there(&path)?;
                        make_folder(&root.join(id.folder()))?;
                        path
                    }
                };
                let print = write_whole(&path, text.as_bytes())?;
                let place = Place::of(&shown(&path, id.folder()), &text, id.as_str());
                (Some((path, print)), Some(place))
            }
        };
        self.entries.insert(id, Kept { entry: entry.clone(), file, place });
        Ok(())
    }

    fn take_away(&mut self, id: &EntryId) -> Result<(), StoreError> {
        let Some(kept) = self.entries.get(id) else { return Ok(()) };
        if let (Some(root), Some((path, print))) = (&self.root, &kept.file) {
            check_unchanged(path, print)?;
            make_folder(&root.join(AWAY))?;
            match fs::rename(path, away_path(root, id)) {
                Err(e) if e.kind() != ErrorKind::NotFound => {
                    return Err(StoreError::NotWritten { path: path.clone(), why: io_words(&e) });
                }
                _ => {}
            }
        }
        self.away.extend(self.entries.remove(id));
        Ok(())
    }

    fn bring_back(&mut self) -> Result<(), StoreError> {
        let Some(kept) = self.away.last().cloned() else { return Ok(()) };
        let id = kept.entry.id();
        // Written anew rather than moved back: the copy that is away stays until the entry is whole again.
        self.keep(&kept.entry)?;
        self.away.pop();
        if let Some(root) = &self.root {
            // A copy that cannot be removed does no harm where it lies.
            let _ = fs::remove_file(away_path(root, &id));
        }
        Ok(())
    }
}

fn away_path(root: &Path, id: &EntryId) -> PathBuf {
    root.join(AWAY).join(format!("{}-{}.ron", id.folder(), id.as_str()))
}

/// A file that was not read as an entry is never written over.
fn refuse_if_there(path: &Path) -> Result<(), StoreError> {
    if fs::symlink_metadata(path).is_err() {
        return Ok(());
    }
    let what = "a file of this name is there that could not be read as an entry; mend it or move it away, then start again";
    Err(StoreError::Invalid { path: path.into(), line: None, what: what.into() })
}

fn read_entry(path: &Path, folder: &str) -> Result<Kept, StoreError> {
    let (text, print) = read_text(path)?;
    let entry = if folder == KINDS {
        Entry::Kind(read_versioned(path, &text, Sort::Own("a kind's file"), KIND_READERS)?.0.kind)
    } else {
        Entry::Dish(read_versioned(path, &text, Sort::Own("a dish's file"), DISH_READERS)?.0.dish)
    };
    within_limits(&entry, path.into(), &text)?;
    let place = Place::of(&shown(path, folder), &text, entry.id().as_str());
    Ok(Kept { entry, file: Some((path.into(), print)), place: Some(place) })
}

/// Refuses what no rotation file may hold: a plan carries its dishes, and must open again.
fn within_limits(entry: &Entry, path: PathBuf, text: &str) -> Result<(), StoreError> {
    let checked = match entry {
        Entry::Dish(dish) => limits::dish(dish),
        Entry::Kind(kind) => limits::kind(kind),
    };
    // The first of what is near is the place in a rotation file.
    checked.map_err(|e| StoreError::Invalid { path, line: line_of(text, e.near.get(1..).unwrap_or_default()), what: e.what })
}

/// "kinds/celeriac.ron": a file's name with its folder.
fn shown(path: &Path, folder: &str) -> String {
    let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
    format!("{folder}/{name}")
}

fn is_hidden(path: &Path) -> bool {
    path.file_name().is_some_and(|n| n.as_encoded_bytes().starts_with(b"."))
}

#[cfg(test)]
#[path = "own_book_tests.rs"]
mod tests;
