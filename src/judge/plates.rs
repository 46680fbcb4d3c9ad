//! Who eats what of the piece, and when: the ground on which variety is judged.

use super::likeness::{Weights, likeness_whole};
use crate::{
    book::{Dish, DishId, Profile, Protein, Role},
    rotation::{BatchId, EaterId, Rotation, Serving, Slot, eaten_by},
};
use std::{
    borrow::Cow,
    collections::{BTreeMap, BTreeSet},
};

/// A meal as one eater has it: its main dish with the piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Plate {
    /// Its place in the order of time.
    pub order: usize,
    /// The meal.
    pub slot: Slot,
    /// Where the dish comes from.
    pub batch: BatchId,
    /// How it eats: an index into [`Plates::kinds`].
    pub kind: usize,
}

/// A dish as it eats, with the protein of a twin in the place of its own.
pub(super) struct PlateKind<'r> {
    pub dish: &'r Dish,
    pub profile: Cow<'r, Profile>,
}

/// Every plate of a rotation.
pub(super) struct Plates<'r> {
    /// The different dishes eaten.
    pub kinds: Vec<PlateKind<'r>>,
    /// Each eater's plates in the order of time, by the order of the household; eaters who have just the same stand together.
    pub lists: Vec<(Vec<EaterId>, Vec<Plate>)>,
    /// The main dish of each meal at which anybody eats the piece.
    pub meals: Vec<Plate>,
    /// How many eat the piece at each place in the order of time.
    pub eating: BTreeMap<usize, usize>,
    likeness: Vec<Option<f64>>,
}

impl<'r> Plates<'r> {
    pub fn of(rotation: &'r Rotation, weights: &Weights) -> Plates<'r> {
        let mut plates =
            Plates { kinds: Vec::new(), lists: Vec::new(), meals: Vec::new(), eating: BTreeMap::new(), likeness: Vec::new() };
        let mut known: BTreeMap<(&DishId, Option<Protein>), usize> = BTreeMap::new();
        let mut eaten: BTreeMap<EaterId, Vec<Plate>> = BTreeMap::new();
        for (order, slot) in rotation.slots().enumerate() {
            let Some(meal) = rotation.meals.get(&slot) else { continue };
            let present = meal.eaters(&rotation.household);
            let served: Vec<(&Serving, &Dish, Vec<EaterId>)> = meal
                .servings
                .iter()
                .filter_map(|s| {
                    let dish: &Dish = rotation.dish_of(s.batch)?;
                    Some((s, dish, eaten_by(rotation, s, &present)))
                })
                .collect();
            let mut plate = |serving: &Serving, dish: &'r Dish, protein: Option<Protein>| {
                let kind = *known.entry((&dish.id, protein)).or_insert_with(|| {
                    let mut profile = Cow::Borrowed(&dish.profile);
                    if protein.is_some() {
                        profile.to_mut().protein = protein;
                    }
                    plates.kinds.push(PlateKind { dish, profile });
                    plates.kinds.len() - 1
                });
                Plate { order, slot, batch: serving.batch, kind }
            };
            let anybody = main_of(served.iter().filter(|(_, _, who)| !who.is_empty()));
            if let Some((serving, dish, _)) = anybody {
                plates.meals.push(plate(serving, dish, None));
            }
            let who: BTreeSet<EaterId> = served.iter().flat_map(|(_, _, who)| who.iter().copied()).collect();
            for eater in &who {
                if let Some((serving, dish, _)) = main_of(served.iter().filter(|(_, _, who)| who.contains(eater))) {
                    let protein =
                        serving.twin_of(*eater, dish).and_then(|t| t.protein).filter(|p| dish.profile.protein != Some(*p));
                    let plate = plate(serving, dish, protein);
                    eaten.entry(*eater).or_default().push(plate);
                }
            }
            if !who.is_empty() {
                plates.eating.insert(order, who.len());
            }
        }
        for eater in &rotation.household.eaters {
            let list = eaten.remove(&eater.id).unwrap_or_default();
            match plates.lists.iter_mut().find(|(_, known)| *known == list) {
                Some((who, _)) => who.push(eater.id),
                None => plates.lists.push((vec![eater.id], list)),
            }
        }
        plates.compare(weights);
        plates
    }

    fn compare(&mut self, weights: &Weights) {
        let n = self.kinds.len();
        self.likeness = vec![None; n * n];
        for i in 0..n {
            for j in i..n {
                let alike = likeness_whole(weights, &self.kinds[i].profile, &self.kinds[j].profile);
                self.likeness[i * n + j] = alike;
                self.likeness[j * n + i] = alike;
            }
        }
    }

    /// Likeness of two kinds of plate.
    pub fn likeness(&self, a: usize, b: usize) -> Option<f64> {
        self.likeness[a * self.kinds.len() + b]
    }

    /// How many of these plates are of each kind.
    pub fn counts(&self, list: &[Plate]) -> Vec<usize> {
        let mut counts = vec![0; self.kinds.len()];
        for plate in list {
            counts[plate.kind] += 1;
        }
        counts
    }

    /// Whether `eaters` are all who eat the piece at this place in the order of time.
    pub fn is_everybody(&self, order: usize, eaters: &[EaterId]) -> bool {
        self.eating.get(&order) == Some(&eaters.len())
    }

    /// How many eaters have the piece at any meal at all.
    pub fn eaters(&self) -> usize {
        self.lists.iter().filter(|(_, list)| !list.is_empty()).map(|(who, _)| who.len()).sum()
    }
}

/// The main dish: the serving of most grams, the first on a tie; a spoonful from a bank only where there is nothing else.
fn main_of<'a, 'r: 'a>(
    served: impl Iterator<Item = &'a (&'a Serving, &'r Dish, Vec<EaterId>)>,
) -> Option<&'a (&'a Serving, &'r Dish, Vec<EaterId>)> {
    let mut best: Option<&'a (&'a Serving, &'r Dish, Vec<EaterId>)> = None;
    let weight = |s: &(&Serving, &Dish, Vec<EaterId>)| (s.1.role != Role::Bank, s.0.portion.get());
    for s in served {
        if best.is_none_or(|b| weight(s) > weight(b)) {
            best = Some(s);
        }
    }
    best
}
