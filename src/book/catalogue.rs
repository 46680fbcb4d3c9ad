//! The shipped catalogue and the cook's own, looked up by id.

use super::{Diet, Dish, DishId, Kind, KindId, check::sentence};
use std::{
    collections::{BTreeMap, btree_map::Entry},
    sync::{Arc, OnceLock},
};

/// Every kind and dish that can be chosen from.
///
/// Catalogue files are RON: one kind a file under a folder `kinds`, a list of dishes a file under a folder `dishes`.
#[derive(Clone, Debug, Default)]
pub struct Book {
    kinds: BTreeMap<KindId, Arc<Kind>>,
    dishes: BTreeMap<DishId, Arc<Dish>>,
    kind_places: BTreeMap<KindId, Place>,
    dish_places: BTreeMap<DishId, Place>,
}

/// Where an entry stands, so that a wrong one can be found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The file's name, with its folder: `kinds/celeriac.ron`.
    pub file: String,
    /// The line of the entry's id, counted from 1.
    pub line: usize,
}

impl Place {
    /// The place of the first entry called `id` in a text; its first line if it is laid out in a way of its own.
    pub fn of(file: &str, text: &str, id: &str) -> Place {
        place_of(file, text, id, 0)
    }
}

impl std::fmt::Display for Place {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}, line {}", self.file, self.line)
    }
}

/// Why a catalogue file was refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum BookError {
    /// The text is not what a catalogue file holds.
    #[error("{file}, line {line}, column {column}: {what}")]
    Unreadable {
        /// The file's name.
        file: String,
        /// The line, counted from 1.
        line: usize,
        /// The column, counted from 1.
        column: usize,
        /// What is wrong there.
        what: String,
    },
    /// Two entries of one set of files carry the same id.
    #[error("{second}: \"{id}\" stands already in {first}; give one of the two another id")]
    Twice {
        /// The id.
        id: String,
        /// Where it stands first.
        first: Place,
        /// Where it stands again.
        second: Place,
    },
    /// The file lies neither under `kinds` nor under `dishes`.
    #[error("{file}: put it in a folder named kinds or dishes, so that it is clear what it holds")]
    NoFolder {
        /// The file's name.
        file: String,
    },
}

macro_rules! shipped {
    ($($name:literal),+ $(,)?) => { &[$(($name, include_str!(concat!("../../assets/book/", $name)))),+] };
}

/// The catalogue's files, carried in the program itself.
const SHIPPED: &[(&str, &str)] = shipped![
    "kinds/celeriac.ron",
    "kinds/red-cabbage.ron",
    "kinds/roast-turkey.ron",
    "kinds/salmon-side.ron",
    "kinds/tomatoes.ron",
    "dishes/brassica.ron",
    "dishes/fish.ron",
    "dishes/hard-root.ron",
    "dishes/poultry.ron",
    "dishes/tomato.ron",
    // Vegetables.
    "kinds/white-cabbage.ron",
    "kinds/savoy-cabbage.ron",
    "kinds/cauliflower.ron",
    "kinds/swede.ron",
    "kinds/beetroot.ron",
    "kinds/parsnips.ron",
    "kinds/carrots.ron",
    "kinds/turnips.ron",
    "kinds/pumpkin.ron",
    "kinds/butternut-squash.ron",
    "kinds/leeks.ron",
    "kinds/onions.ron",
    "kinds/courgettes.ron",
    "kinds/aubergines.ron",
    "kinds/sweet-peppers.ron",
    "kinds/runner-beans.ron",
    "kinds/chard.ron",
    "kinds/spinach.ron",
    "kinds/kale.ron",
    "dishes/winter-squash.ron",
    "dishes/allium.ron",
    "dishes/summer-vegetable.ron",
    "dishes/leafy-green.ron",
    // Fruit, roast meat, ham, whole fish, bread and dairy gluts.
    "kinds/apples.ron",
    "kinds/big-loaf.ron",
    "kinds/boiled-ham.ron",
    "kinds/fresh-curd.ron",
    "kinds/honeydew-melon.ron",
    "kinds/milk-on-its-date.ron",
    "kinds/pears.ron",
    "kinds/plums.ron",
    "kinds/roast-beef-joint.ron",
    "kinds/roast-chicken.ron",
    "kinds/roast-goose.ron",
    "kinds/roast-lamb-leg.ron",
    "kinds/roast-pork-shoulder.ron",
    "kinds/watermelon.ron",
    "kinds/whole-hake.ron",
    "kinds/whole-trout.ron",
    "dishes/bread.ron",
    "dishes/dairy.ron",
    "dishes/ham.ron",
    "dishes/melon.ron",
    "dishes/orchard-fruit.ron",
    "dishes/roast-meat.ron",
    "dishes/whole-fish.ron",
];

impl Book {
    /// A book of these entries; a later entry shadows an earlier one with its id.
    pub fn of(kinds: impl IntoIterator<Item = Kind>, dishes: impl IntoIterator<Item = Dish>) -> Book {
        let kinds = kinds.into_iter().map(|k| (k.id.clone(), Arc::new(k))).collect();
        let dishes = dishes.into_iter().map(|d| (d.id.clone(), Arc::new(d))).collect();
        Book { kinds, dishes, ..Book::default() }
    }

    /// The catalogue that the program ships. It is read once; further calls share its entries.
    pub fn shipped() -> Result<Book, BookError> {
        static READ: OnceLock<Result<Book, BookError>> = OnceLock::new();
        READ.get_or_init(|| {
            super::fare::names().as_ref().map_err(Clone::clone)?;
            Book::read(SHIPPED)
        })
        .clone()
    }

    /// A book read from files given as name and text. A name's folder, `kinds` or `dishes`, says what it holds.
    ///
    /// Refused with file, line and column where a text cannot be read, and where an id stands twice.
    pub fn read<N: AsRef<str>, T: AsRef<str>>(files: &[(N, T)]) -> Result<Book, BookError> {
        let mut book = Book::default();
        for (name, text) in files {
            let (name, text) = (name.as_ref(), text.as_ref());
            match folder(name) {
                Some("kinds") => {
                    let kind: Kind = parse(name, text)?;
                    let place = place_of(name, text, kind.id.as_str(), 0);
                    note(&mut book.kind_places, kind.id.clone(), place)?;
                    book.kinds.insert(kind.id.clone(), Arc::new(kind));
                }
                Some("dishes") => {
                    let dishes: Vec<Dish> = parse(name, text)?;
                    let mut seen: BTreeMap<DishId, usize> = BTreeMap::new();
                    for dish in dishes {
                        let before = seen.entry(dish.id.clone()).or_default();
                        let place = place_of(name, text, dish.id.as_str(), *before);
                        *before += 1;
                        note(&mut book.dish_places, dish.id.clone(), place)?;
                        book.dishes.insert(dish.id.clone(), Arc::new(dish));
                    }
                }
                _ => return Err(BookError::NoFolder { file: name.to_string() }),
            }
        }
        book.with_pieces();
        Ok(book)
    }

    /// No dish suits a stricter diet than a piece that it can be made of.
    fn with_pieces(&mut self) {
        let mut strictest: BTreeMap<&str, Diet> = BTreeMap::new();
        for kind in self.kinds.values() {
            let diet = strictest.entry(&kind.family).or_insert(kind.diet);
            *diet = if diet.with(kind.diet) == *diet { kind.diet } else { *diet };
        }
        for dish in self.dishes.values_mut() {
            let pieces = dish.families.iter().filter_map(|f| strictest.get(f.as_str()).copied());
            let Some(piece) = pieces.reduce(|a, b| if a.with(b) == a { b } else { a }) else { continue };
            let diet = dish.diet.with(piece);
            if diet != dish.diet {
                Arc::make_mut(dish).diet = diet;
            }
        }
    }

    /// This book with the entries of another, the cook's own, laid over it: an entry with a known id shadows the known one.
    #[must_use]
    pub fn extended_by(mut self, own: Book) -> Book {
        // A shadowed entry must not keep the place of the one it hides.
        self.kind_places.retain(|id, _| !own.kinds.contains_key(id));
        self.dish_places.retain(|id, _| !own.dishes.contains_key(id));
        self.kinds.extend(own.kinds);
        self.dishes.extend(own.dishes);
        self.kind_places.extend(own.kind_places);
        self.dish_places.extend(own.dish_places);
        self
    }

    /// Puts a kind in, over one that has its id; `place` is where it was read from, if anywhere.
    pub fn put_kind(&mut self, kind: Arc<Kind>, place: Option<Place>) {
        self.kind_places.remove(&kind.id);
        self.kind_places.extend(place.map(|p| (kind.id.clone(), p)));
        self.kinds.insert(kind.id.clone(), kind);
    }

    /// Puts a dish in, over one that has its id; `place` is where it was read from, if anywhere.
    pub fn put_dish(&mut self, dish: Arc<Dish>, place: Option<Place>) {
        self.dish_places.remove(&dish.id);
        self.dish_places.extend(place.map(|p| (dish.id.clone(), p)));
        self.dishes.insert(dish.id.clone(), dish);
    }

    /// The kind with this id.
    pub fn kind(&self, id: &KindId) -> Option<&Arc<Kind>> {
        self.kinds.get(id)
    }

    /// The dish with this id.
    pub fn dish(&self, id: &DishId) -> Option<&Arc<Dish>> {
        self.dishes.get(id)
    }

    /// Where the kind was read from; nothing for one that was made in the program.
    pub fn kind_place(&self, id: &KindId) -> Option<&Place> {
        self.kind_places.get(id)
    }

    /// Where the dish was read from; nothing for one that was made in the program.
    pub fn dish_place(&self, id: &DishId) -> Option<&Place> {
        self.dish_places.get(id)
    }

    /// All kinds, by id.
    pub fn kinds(&self) -> impl Iterator<Item = &Arc<Kind>> {
        self.kinds.values()
    }

    /// All dishes, by id.
    pub fn dishes(&self) -> impl Iterator<Item = &Arc<Dish>> {
        self.dishes.values()
    }

    /// The dishes that suit `kind`, by id.
    pub fn dishes_for<'a>(&'a self, kind: &'a Kind) -> impl Iterator<Item = &'a Arc<Dish>> {
        self.dishes.values().filter(|d| d.suits_kind(kind))
    }
}

/// The name of the folder a file lies in, by either slash.
fn folder(name: &str) -> Option<&str> {
    let mut steps = name.rsplit(['/', '\\']);
    steps.next();
    steps.next()
}

pub(super) fn parse<T: serde::de::DeserializeOwned>(file: &str, text: &str) -> Result<T, BookError> {
    ron::from_str(text).map_err(|e| BookError::Unreadable {
        file: file.to_string(),
        line: e.span.start.line,
        column: e.span.start.col,
        what: sentence(&e.code.to_string()),
    })
}

/// The line of the `nth` entry called `id`; the first line if its text is laid out in a way of its own.
fn place_of(file: &str, text: &str, id: &str, nth: usize) -> Place {
    let wanted = format!("\"{id}\"");
    let is_it = |line: &str| {
        line.trim_start_matches(['(', ' ', '\t']).strip_prefix("id:").is_some_and(|r| r.trim_start().starts_with(&wanted))
    };
    let line = text.lines().enumerate().filter(|(_, l)| is_it(l)).nth(nth).map_or(1, |(i, _)| i + 1);
    Place { file: file.to_string(), line }
}

fn note<Id: Ord + ToString>(places: &mut BTreeMap<Id, Place>, id: Id, second: Place) -> Result<(), BookError> {
    match places.entry(id) {
        Entry::Occupied(first) => Err(BookError::Twice { id: first.key().to_string(), first: first.get().clone(), second }),
        Entry::Vacant(free) => {
            free.insert(second);
            Ok(())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shipped_book_is_read_with_the_line_of_every_entry() {
        let book = Book::shipped().unwrap();
        for dish in book.dishes() {
            let place = book.dish_place(&dish.id).unwrap();
            let text = SHIPPED.iter().find(|f| f.0 == place.file).unwrap().1;
            let line = text.lines().nth(place.line - 1).unwrap();
            assert!(line.contains(&format!("\"{}\"", dish.id)), "{place}: {line}");
        }
        assert_eq!(book.kinds().count(), SHIPPED.iter().filter(|f| folder(f.0) == Some("kinds")).count());
    }

    #[test]
    fn an_unreadable_file_is_refused_by_line_and_column() {
        let text = "[\n    (\n        id: \"Not a slug\",\n    ),\n]\n";
        let said = Book::read(&[("own/dishes/mine.ron", text)]).unwrap_err().to_string();
        assert!(said.starts_with("own/dishes/mine.ron, line 3, column "), "{said}");
        assert!(said.contains("lower-case letters"), "{said}");
    }

    #[test]
    fn an_id_that_stands_twice_is_refused_with_both_places() {
        let (name, text) = *SHIPPED.iter().find(|f| f.0 == "dishes/brassica.ron").unwrap();
        let said = Book::read(&[(name, text), ("own/dishes/again.ron", text)]).unwrap_err().to_string();
        assert!(said.contains("own/dishes/again.ron, line 5") && said.contains("dishes/brassica.ron, line 5"), "{said}");
    }

    #[test]
    fn the_cooks_own_dish_shadows_the_shipped_one() {
        let shipped = Book::shipped().unwrap();
        let count = shipped.dishes().count();
        let mut own = (**shipped.dishes().next().unwrap()).clone();
        own.name = "My way".into();
        let id = own.id.clone();
        let book = shipped.extended_by(Book::of([], [own]));
        assert_eq!(book.dish(&id).unwrap().name, "My way");
        assert_eq!(book.dishes().count(), count);
        assert_eq!(book.dish_place(&id), None);
    }
}
