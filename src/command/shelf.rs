//! The book that a command works with: the shipped one with the cook's own entries laid over it.

use super::Failure;
use crate::{
    book::Book,
    store::{OwnBook, Places},
};
use std::cell::OnceCell;

/// The books of this machine and this person. The own one is read when a command first asks for it, and once.
#[derive(Default)]
pub(super) struct Shelf {
    shipped_only: bool,
    own: OnceCell<OwnBook>,
}

impl Shelf {
    /// The shelf of the person who calls; with `shipped_only` as if they had no entry of their own.
    pub(super) fn new(shipped_only: bool) -> Shelf {
        Shelf { shipped_only, own: OnceCell::new() }
    }

    /// The cook's own entries. Where nobody has a home there are none.
    pub(super) fn own(&self) -> &OwnBook {
        self.own.get_or_init(|| match Places::of_this_machine() {
            Ok(places) if !self.shipped_only => OwnBook::load(&places),
            _ => OwnBook::default(),
        })
    }

    /// The shipped book with the own entries laid over it; an own one hides the shipped one of its id.
    pub(super) fn book(&self) -> Result<Book, Failure> {
        Ok(Book::shipped()?.extended_by(self.own().book()))
    }

    /// A sentence for each own file that was asked for and could not be read. They stop nothing.
    pub(super) fn troubles(&self) -> Vec<String> {
        self.own.get().map(|own| own.troubles().iter().map(ToString::to_string).collect()).unwrap_or_default()
    }
}
