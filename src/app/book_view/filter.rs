//! Which entries of the book are listed.

use crate::{
    book::{Book, Dish, Family, Heat, Kind, Method, Role, Texture},
    store::{Entry, EntryId, OwnBook},
};
use std::sync::Arc;

/// Dishes or kinds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sort {
    /// Dishes.
    #[default]
    Dishes,
    /// Kinds.
    Kinds,
}

/// What was chosen above the list. Everything that is set must hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Filters {
    /// Dishes or kinds.
    pub sort: Sort,
    /// What is typed: every word somewhere in the entry.
    pub search: String,
    /// Only what suits the piece on the bench.
    pub of_piece: bool,
    /// Only with this texture.
    pub texture: Option<Texture>,
    /// Only with this family of flavour.
    pub flavour: Option<Family>,
    /// Only cooked so.
    pub method: Option<Method>,
    /// Only served so warm.
    pub heat: Option<Heat>,
    /// Only for this.
    pub role: Option<Role>,
    /// Only the cook's own.
    pub own: bool,
}

impl Default for Filters {
    fn default() -> Self {
        Filters {
            sort: Sort::Dishes,
            search: String::new(),
            of_piece: true,
            texture: None,
            flavour: None,
            method: None,
            heat: None,
            role: None,
            own: false,
        }
    }
}

impl Filters {
    /// Whether anything narrows the list.
    pub fn narrows(&self) -> bool {
        *self != Filters { sort: self.sort, of_piece: false, ..Filters::default() }
    }

    /// Takes everything off.
    pub fn clear(&mut self) {
        *self = Filters { sort: self.sort, of_piece: false, ..Filters::default() };
    }

    /// The entries that answer, by name. `family` is that of the piece on the bench.
    pub fn list(&self, book: &Book, own: &OwnBook, family: &str) -> Vec<Entry> {
        let mut found: Vec<Entry> = match self.sort {
            Sort::Dishes => book.dishes().filter(|d| self.dish(d, family)).cloned().map(Entry::Dish).collect(),
            Sort::Kinds => book.kinds().filter(|k| self.kind(k, family)).cloned().map(Entry::Kind).collect(),
        };
        if self.own {
            found.retain(|e| own.has(&e.id()));
        }
        found.sort_by_cached_key(|e| e.name().to_lowercase());
        found
    }

    fn dish(&self, dish: &Dish, family: &str) -> bool {
        let p = &dish.profile;
        (!self.of_piece || dish.suits_family(family))
            && self.texture.is_none_or(|t| p.texture.iter().any(|g| g.0 == t))
            && self.flavour.is_none_or(|f| p.family.iter().any(|g| g.0 == f))
            && self.method.is_none_or(|m| p.method.iter().any(|g| g.0 == m))
            && (self.heat.is_none() || p.heat == self.heat)
            && self.role.is_none_or(|r| dish.role == r)
            && answers(&self.search, || dish_words(dish))
    }

    fn kind(&self, kind: &Kind, family: &str) -> bool {
        (!self.of_piece || kind.family == family)
            && answers(&self.search, || {
                let parts = kind.parts.iter().map(|p| p.name.to_lowercase());
                [kind.name.to_lowercase(), kind.family.clone()].into_iter().chain(parts).collect()
            })
    }
}

/// Whether every typed word is somewhere in `words`.
fn answers(search: &str, words: impl FnOnce() -> Vec<String>) -> bool {
    if search.trim().is_empty() {
        return true;
    }
    let words = words();
    search.to_lowercase().split_whitespace().all(|wanted| words.iter().any(|w| w.contains(wanted)))
}

fn dish_words(dish: &Dish) -> Vec<String> {
    let p = &dish.profile;
    let mut words = vec![dish.name.to_lowercase()];
    words.extend(p.texture.iter().map(|g| g.0.word().into()));
    words.extend(p.family.iter().map(|g| g.0.word().into()));
    words.extend(p.method.iter().map(|g| g.0.word().into()));
    words.extend(p.colour.iter().map(|g| g.0.word().into()));
    words.extend(p.heat.map(|x| x.word().into()));
    words.extend(p.form.map(|x| x.word().into()));
    words.extend(p.protein.map(|x| x.word().into()));
    words.extend(p.starch.map(|x| x.word().into()));
    words.extend(dish.families.iter().cloned());
    words.extend(dish.companions.iter().map(|c| c.name.to_lowercase()));
    words
}

/// The word for what a dish is for.
pub fn role_word(role: Role) -> &'static str {
    match role {
        Role::Meal => "a meal",
        Role::Bank => "to keep",
        Role::Component => "made ahead",
    }
}

/// Every role, in the order of a list.
pub const ROLES: [Role; 3] = [Role::Meal, Role::Bank, Role::Component];

/// The list as it was made last, and what it was made from.
pub struct Listed {
    filters: Filters,
    book: Arc<Book>,
    family: String,
    /// The entries.
    pub entries: Vec<Entry>,
}

impl Listed {
    /// The list for these filters: made anew only when they, the book or the piece have changed.
    pub fn of(known: Option<Listed>, filters: &Filters, book: &Arc<Book>, own: &OwnBook, family: &str) -> Listed {
        match known {
            Some(listed) if listed.filters == *filters && Arc::ptr_eq(&listed.book, book) && listed.family == family => listed,
            _ => Listed {
                filters: filters.clone(),
                book: book.clone(),
                family: family.into(),
                entries: filters.list(book, own, family),
            },
        }
    }

    /// The place of an entry in the list.
    pub fn place_of(&self, id: &EntryId) -> Option<usize> {
        self.entries.iter().position(|e| e.id() == *id)
    }
}
