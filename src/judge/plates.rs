//! Who eats what of the piece, and when: the ground on which variety is judged.

use super::{
    Finding, SAME_DISH_DAYS,
    likeness::{Weights, likeness_whole},
};
use crate::{
    book::{Dish, DishId, Profile, Protein, Role},
    quantity::DayNo,
    rotation::{BatchId, EatenMeal, EaterId, MealtimeId, Rotation, Serving, Slot, eaten_by},
};
use jiff::Unit;
use std::{
    borrow::Cow,
    collections::{BTreeMap, BTreeSet},
};

/// A meal as one eater has it: its main dish with the piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Plate {
    /// Its place in the order of time.
    pub order: usize,
    /// The meal.
    pub slot: Slot,
    /// Where the dish comes from.
    pub batch: BatchId,
    /// How it eats: an index into [`Plates::kinds`].
    pub kind: usize,
}

impl Plate {
    /// Whether it was eaten before the plan begins.
    pub fn is_past(&self) -> bool {
        self.slot.day < DayNo::FIRST
    }
}

/// A dish as it eats, with the protein of a twin in the place of its own.
pub(crate) struct PlateKind<'r> {
    pub id: Option<&'r DishId>,
    pub name: &'r str,
    pub profile: Cow<'r, Profile>,
}

impl PlateKind<'_> {
    /// What stands for it in the key of a finding.
    pub fn key(&self) -> Cow<'_, str> {
        match self.id {
            Some(id) => Cow::Borrowed(id.as_str()),
            // The signs that part a key in two must not come from a name.
            None => Cow::Owned(self.name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect()),
        }
    }

    /// Whether both are one dish, by id or by name.
    pub fn is_same_dish(&self, other: &PlateKind<'_>) -> bool {
        match (self.id, other.id) {
            (Some(a), Some(b)) if a == b => true,
            (Some(_), Some(_)) => false,
            _ => self.name.trim().to_lowercase() == other.name.trim().to_lowercase(),
        }
    }
}

/// Every plate of a rotation.
pub(crate) struct Plates<'r> {
    /// The different dishes eaten.
    pub kinds: Vec<PlateKind<'r>>,
    /// Each eater's plates in the order of time, by the order of the household; eaters who have just the same stand together.
    pub lists: Vec<(Vec<EaterId>, Vec<Plate>)>,
    /// The main dish of each meal of the plan at which anybody eats the piece.
    pub meals: Vec<Plate>,
    /// What was eaten shortly before the plan, in the order of time.
    past: Vec<&'r EatenMeal>,
    /// How many eat the piece at each place in the order of time.
    pub eating: BTreeMap<usize, usize>,
    likeness: Vec<Option<f64>>,
}

impl<'r> Plates<'r> {
    /// The plates of a plan; before them those of what was `eaten`, as far back as it is minded.
    pub fn of(rotation: &'r Rotation, weights: &Weights, eaten: &'r [EatenMeal]) -> Plates<'r> {
        let mut plates = Plates {
            kinds: Vec::new(),
            lists: Vec::new(),
            meals: Vec::new(),
            past: Vec::new(),
            eating: BTreeMap::new(),
            likeness: Vec::new(),
        };
        let before = plates.eaten_before(rotation, eaten);
        let first = plates.past.len();
        let mut known: BTreeMap<(&DishId, Option<Protein>), usize> = BTreeMap::new();
        // A batch is asked for at every plate: its number is sooner compared than the name of its dish.
        let mut of_batch: BTreeMap<(BatchId, Option<Protein>), usize> = BTreeMap::new();
        let mut eaten: BTreeMap<EaterId, Vec<Plate>> = before;
        for (order, slot) in rotation.slots().enumerate().map(|(order, slot)| (first + order, slot)) {
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
                let kind = *of_batch.entry((serving.batch, protein)).or_insert_with(|| {
                    *known.entry((&dish.id, protein)).or_insert_with(|| {
                        let mut profile = Cow::Borrowed(&dish.profile);
                        if protein.is_some() {
                            profile.to_mut().protein = protein;
                        }
                        plates.kinds.push(PlateKind { id: Some(&dish.id), name: &dish.name, profile });
                        plates.kinds.len() - 1
                    })
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

    /// The plates of each eater before day 1, by name; `past` and `kinds` are filled with what they point at.
    fn eaten_before(&mut self, rotation: &Rotation, eaten: &'r [EatenMeal]) -> BTreeMap<EaterId, Vec<Plate>> {
        let days_before = |m: &EatenMeal| m.on.until((Unit::Day, rotation.first_day)).map_or(0, |s| s.get_days());
        let minded = 1..=i32::from(SAME_DISH_DAYS);
        let mut past: Vec<(i32, &EatenMeal)> =
            eaten.iter().map(|m| (days_before(m), m)).filter(|(days, _)| minded.contains(days)).collect();
        // Stable: what was eaten on one day stays in the order in which it was written down.
        past.sort_by_key(|(days, _)| std::cmp::Reverse(*days));
        let mut lists: BTreeMap<EaterId, Vec<Plate>> = BTreeMap::new();
        for (order, (days, meal)) in past.into_iter().enumerate() {
            let same = |k: &PlateKind<'_>| k.id == meal.dish.as_ref() && k.name == meal.name && *k.profile == meal.profile;
            let kind = self.kinds.iter().position(same).unwrap_or_else(|| {
                let kind = PlateKind { id: meal.dish.as_ref(), name: &meal.name, profile: Cow::Borrowed(&meal.profile) };
                self.kinds.push(kind);
                self.kinds.len() - 1
            });
            // At most two weeks, so it is a small number; batches of the plan count from 1.
            let day = DayNo(1 - i16::try_from(days).unwrap_or(SAME_DISH_DAYS));
            let batch = BatchId(u32::MAX - u32::try_from(order).unwrap_or(0));
            let plate = Plate { order, slot: Slot { day, mealtime: MealtimeId(0) }, batch, kind };
            self.past.push(meal);
            for eater in rotation.household.eaters.iter().filter(|e| meal.eaten_by(&e.name)) {
                let list = lists.entry(eater.id).or_default();
                // Of two dishes at one meal the larger is its main one, the first on a tie.
                let size = |p: &Plate| self.past[p.order].eaten.map_or(0, |e| e.get());
                let at_once = |p: &&mut Plate| {
                    let other = self.past[p.order];
                    (other.on, &other.mealtime) == (meal.on, &meal.mealtime)
                };
                match list.last_mut().filter(at_once) {
                    Some(last) if size(last) >= size(&plate) => {}
                    Some(last) => *last = plate,
                    None => list.push(plate),
                }
            }
        }
        lists
    }

    /// How many meals were eaten before the plan, which come first in the order of time.
    pub fn past(&self) -> usize {
        self.past.len()
    }

    /// What a meal is called: "Thursday supper", or of what was eaten before "Sunday 6 supper, eaten before".
    pub fn name(&self, rotation: &Rotation, plate: &Plate) -> String {
        match self.past.get(plate.order) {
            Some(meal) if plate.is_past() => format!("{} {}, eaten before", rotation.day_name(plate.slot.day), meal.mealtime),
            _ => rotation.slot_name(plate.slot),
        }
    }

    /// The finding with its earlier meal, where that is one of the plan.
    pub fn beside(&self, finding: Finding, earlier: &Plate) -> Finding {
        if earlier.is_past() { finding } else { finding.beside(earlier.slot) }
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
        self.lists.iter().filter(|(_, list)| list.iter().any(|p| !p.is_past())).map(|(who, _)| who.len()).sum()
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
