//! What the shelf of each family offers by texture and heat, and where it has holes.

use super::{Book, Heat, Role, Texture};
use std::collections::BTreeMap;

/// The meals of one family, counted by how they eat: variety within a week needs several textures at several heats.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FamilyCoverage {
    /// The family: "brassica".
    pub family: String,
    /// Its dishes of every role.
    pub dishes: usize,
    /// Its dishes that are meals.
    pub meals: usize,
    /// Meals by main texture and heat. A meal whose texture or heat nobody has described is in none.
    cells: BTreeMap<(Texture, Heat), usize>,
}

/// The coverage of every family that has a kind, by the family's name.
///
/// A dish that suits several families counts in each.
pub fn coverage(book: &Book) -> Vec<FamilyCoverage> {
    let mut families: Vec<&str> = book.kinds().map(|k| k.family.as_str()).collect();
    families.sort_unstable();
    families.dedup();
    families.into_iter().map(|family| of_family(book, family)).collect()
}

fn of_family(book: &Book, family: &str) -> FamilyCoverage {
    let mut all = FamilyCoverage { family: family.to_string(), dishes: 0, meals: 0, cells: BTreeMap::new() };
    for dish in book.dishes().filter(|d| d.suits_family(family)) {
        all.dishes += 1;
        if dish.role != Role::Meal {
            continue;
        }
        all.meals += 1;
        if let (Some(texture), Some(heat)) = (dish.profile.main_texture(), dish.profile.heat) {
            *all.cells.entry((texture, heat)).or_default() += 1;
        }
    }
    all
}

impl FamilyCoverage {
    /// How many meals have this main texture at this heat.
    pub fn at(&self, texture: Texture, heat: Heat) -> usize {
        self.cells.get(&(texture, heat)).copied().unwrap_or(0)
    }

    /// How many main textures its meals have.
    pub fn textures(&self) -> usize {
        Texture::ALL.len() - self.bare_textures().len()
    }

    /// The textures that no meal has as its main one.
    pub fn bare_textures(&self) -> Vec<Texture> {
        Texture::ALL.iter().copied().filter(|t| Heat::ALL.iter().all(|h| self.at(*t, *h) == 0)).collect()
    }

    /// The heats at which no meal is served.
    pub fn bare_heats(&self) -> Vec<Heat> {
        Heat::ALL.iter().copied().filter(|h| Texture::ALL.iter().all(|t| self.at(*t, *h) == 0)).collect()
    }
}

/// How many kinds and dishes name no source at all; 0 in a sound book.
pub fn entries_without_source(book: &Book) -> usize {
    let none = |sources: &[String]| sources.iter().all(|s| s.trim().is_empty());
    book.kinds().filter(|k| none(&k.sources)).count() + book.dishes().filter(|d| none(&d.sources)).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_meal_is_counted_once_in_each_family_and_a_bank_in_no_cell() {
        let book = Book::shipped().unwrap();
        let before = coverage(&book);
        let brassica = before.iter().find(|c| c.family == "brassica").unwrap();
        let mut own = book.dishes().find(|d| d.suits_family("brassica") && d.role == Role::Meal).map(|d| (**d).clone()).unwrap();
        let (texture, heat) = (own.profile.main_texture().unwrap(), own.profile.heat.unwrap());
        own.id = super::super::DishId::new("one-more").unwrap();
        own.families = vec!["brassica".into()];
        let mut bank = own.clone();
        bank.id = super::super::DishId::new("one-more-bank").unwrap();
        bank.role = Role::Bank;
        let after = coverage(&book.extended_by(Book::of([], [own, bank])));
        let more = after.iter().find(|c| c.family == "brassica").unwrap();
        assert_eq!((more.dishes, more.meals), (brassica.dishes + 2, brassica.meals + 1));
        assert_eq!(more.at(texture, heat), brassica.at(texture, heat) + 1);
        assert!(before.iter().zip(&after).all(|(b, a)| b.family == "brassica" || a == b));
    }

    #[test]
    fn an_empty_shelf_is_all_holes_and_a_blank_source_is_none() {
        let book = Book::shipped().unwrap();
        let mut kind = (**book.kinds().next().unwrap()).clone();
        kind.sources = vec![" ".into()];
        let bare = Book::of([kind], []);
        let only = &coverage(&bare)[0];
        assert_eq!((only.dishes, only.textures()), (0, 0));
        assert_eq!((only.bare_textures().len(), only.bare_heats().len()), (Texture::ALL.len(), Heat::ALL.len()));
        assert_eq!((entries_without_source(&bare), entries_without_source(&book)), (1, 0));
    }
}
