//! Every meal beside every other: the table that the one figure of a rotation is reckoned from.

use super::{
    DistinctMeals, Likeness, Pair, Patience, Verdict,
    diversity::count_meals,
    learning::{DishEaten, TwoMeals},
    likeness::likeness_with,
    plates::{Plate, Plates},
};
use crate::{
    book::Profile,
    quantity::Days,
    rotation::{BatchId, EaterId, Rotation, Slot},
};

/// The meals of one eater, or of the household, compared two by two.
///
/// A meal stands for its main dish with the piece; an eater's twin stands in for it where it changes what is eaten. The table
/// knows no order but that of time, and is symmetric: [`LikenessTable::likeness`] of (i, j) and of (j, i) are the same.
#[derive(Clone, Debug, PartialEq)]
pub struct LikenessTable {
    /// Whose meals these are; nobody named: the household's.
    pub eater: Option<EaterId>,
    /// The meals in the order of time.
    pub meals: Vec<TableMeal>,
    /// How many different meals they feel like.
    pub distinct: DistinctMeals,
    /// Every two consecutive meals, as the links of this eater alone.
    pub links: Vec<Pair>,
    profiles: Vec<Profile>,
    likeness: Vec<Option<f64>>,
    patience: Patience,
}

/// One meal of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct TableMeal {
    /// When.
    pub slot: Slot,
    /// From which cooking.
    pub batch: BatchId,
    /// The dish's name.
    pub dish: String,
    /// What it adds to the figure: with it, less without it. Under 0 where it only makes the others seem more of the same.
    pub adds: f64,
    /// Whether enough is said of how it eats to be counted.
    pub counted: bool,
}

impl LikenessTable {
    /// Compares all meals with the piece: of one eater, or the main dish of each meal for the household.
    pub fn of(rotation: &Rotation, patience: &Patience, eater: Option<EaterId>) -> LikenessTable {
        let plates = Plates::of(rotation, &patience.weights, &[]);
        let list: &[Plate] = match eater {
            None => &plates.meals,
            Some(id) => plates.lists.iter().find(|(who, _)| who.contains(&id)).map_or(&[], |(_, list)| list),
        };
        let n = list.len();
        let alike = |i: usize, j: usize| plates.likeness(i, j);
        let mut counts = plates.counts(list);
        let (distinct, left_out) = count_meals(&counts, alike, 1.0);
        let mut meals = Vec::with_capacity(n);
        for plate in list {
            counts[plate.kind] -= 1;
            let without = count_meals(&counts, alike, 1.0).0.feel_like;
            counts[plate.kind] += 1;
            let counted = !left_out.contains(&plate.kind);
            meals.push(TableMeal {
                slot: plate.slot,
                batch: plate.batch,
                dish: plates.kinds[plate.kind].name.to_string(),
                adds: if counted { distinct.feel_like - without } else { 0.0 },
                counted,
            });
        }
        let likeness = list.iter().flat_map(|a| list.iter().map(|b| plates.likeness(a.kind, b.kind))).collect();
        let profiles = list.iter().map(|p| plates.kinds[p.kind].profile.clone().into_owned()).collect();
        let links = Vec::new();
        let mut table = LikenessTable { eater, meals, distinct, links, profiles, likeness, patience: patience.clone() };
        table.links = (1..n).filter_map(|j| table.pair(j - 1, j)).collect();
        table
    }

    /// Likeness of two meals by their places, before any fading; nothing where too little is described.
    pub fn likeness(&self, i: usize, j: usize) -> Option<f64> {
        self.likeness.get(i * self.meals.len() + j).copied().flatten()
    }

    /// How much of it is still felt at the later of the two: likeness faded with the days between.
    pub fn felt(&self, i: usize, j: usize) -> Option<f64> {
        let gap = self.days_between(i, j)?;
        self.likeness(i, j).map(|s| s * self.patience.kernel.after(gap))
    }

    /// What these meals feel like at another order than the headline's 1: at 0 different things are counted however often they
    /// come, at 2 what comes often weighs more (Leinster & Cobbold 2012, Ecology 93:477).
    pub fn feel_like(&self, q: f64) -> f64 {
        count_meals(&vec![1; self.meals.len()], |i, j| self.likeness(i, j), q).0.feel_like
    }

    /// Days from the earlier to the later.
    pub fn days_between(&self, i: usize, j: usize) -> Option<i16> {
        let (a, b) = (self.meals.get(i)?, self.meals.get(j)?);
        Some(b.slot.day.since(a.slot.day).0.abs())
    }

    /// What the household would say of the two at the later one.
    pub fn verdict(&self, i: usize, j: usize) -> Verdict {
        self.patience.lines.verdict(self.felt(i, j))
    }

    /// The arithmetic of one likeness, axis by axis.
    pub fn shares(&self, i: usize, j: usize) -> Option<Likeness> {
        let (a, b) = (self.profiles.get(i)?, self.profiles.get(j)?);
        Some(likeness_with(&self.patience.weights, a, b))
    }

    /// Two meals as a pair, the earlier first.
    pub fn pair(&self, i: usize, j: usize) -> Option<Pair> {
        let (i, j) = (i.min(j), i.max(j));
        let known = self.shares(i, j)?;
        Some(Pair {
            first: self.meals[i].slot,
            second: self.meals[j].slot,
            eater: self.eater,
            likeness: known.whole,
            felt: self.felt(i, j),
            verdict: self.verdict(i, j),
            shares: known.shares,
        })
    }

    /// Two meals as an answer of the household keeps them: names, profiles, days between; the earlier first.
    pub fn two_meals(&self, i: usize, j: usize) -> Option<TwoMeals> {
        let (i, j) = (i.min(j), i.max(j));
        let eaten = |k: usize| {
            let (meal, profile) = (self.meals.get(k)?, self.profiles.get(k)?);
            Some(DishEaten { name: meal.dish.clone(), profile: profile.clone() })
        };
        Some(TwoMeals { earlier: eaten(i)?, later: eaten(j)?, gap: Days(self.days_between(i, j)?) })
    }

    /// The two meals that are felt to be most alike, if any two can be compared; the earlier two on a tie.
    pub fn most_alike(&self) -> Option<(usize, usize)> {
        let n = self.meals.len();
        let pairs = (1..n).flat_map(|j| (0..j).map(move |i| (i, j)));
        let mut best: Option<(f64, (usize, usize))> = None;
        for (i, j) in pairs {
            if let Some(felt) = self.felt(i, j)
                && best.is_none_or(|(most, _)| felt > most + 1e-12)
            {
                best = Some((felt, (i, j)));
            }
        }
        best.map(|(_, pair)| pair)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{judge::variety, store::rotation_from_text};
    use std::path::Path;

    fn demo() -> Rotation {
        let text = include_str!("../../assets/demo.rotation.ron");
        rotation_from_text(Path::new("demo.rotation.ron"), text).expect("the demo is sound")
    }

    #[test]
    fn the_table_says_what_the_links_and_the_figure_say() {
        let r = demo();
        let (known, _) = variety(&r);
        let table = LikenessTable::of(&r, &Patience::default(), None);
        assert_eq!(table.distinct, known.distinct);
        assert!(table.meals.len() >= 3, "the demo has meals to compare");
        for (eater, distinct) in &known.distinct_by_eater {
            let own = LikenessTable::of(&r, &Patience::default(), Some(*eater));
            assert_eq!(own.distinct, *distinct);
            for link in &own.links {
                let same = known
                    .pairs
                    .iter()
                    .find(|p| (p.first, p.second) == (link.first, link.second) && p.eater.is_none_or(|e| e == *eater));
                let same = same.expect("each consecutive pair of an eater is a link of the rotation");
                assert_eq!((same.likeness, same.felt, same.verdict), (link.likeness, link.felt, link.verdict));
            }
        }
    }

    #[test]
    fn it_is_symmetric_and_one_on_its_diagonal() {
        let table = LikenessTable::of(&demo(), &Patience::default(), None);
        for i in 0..table.meals.len() {
            assert!(table.likeness(i, i).is_none_or(|s| (s - 1.0).abs() < 1e-12));
            for j in 0..table.meals.len() {
                assert_eq!(table.likeness(i, j), table.likeness(j, i));
                assert_eq!(table.felt(i, j), table.felt(j, i));
            }
        }
    }

    #[test]
    fn what_a_meal_adds_is_the_figure_less_the_figure_without_it() {
        let r = demo();
        let table = LikenessTable::of(&r, &Patience::default(), None);
        let gone = table.meals[0].slot;
        let mut without = r.clone();
        without.meals.get_mut(&gone).expect("the meal is there").servings.clear();
        let figure = variety(&without).0.distinct.feel_like;
        assert!((table.distinct.feel_like - figure - table.meals[0].adds).abs() < 1e-9);
    }

    #[test]
    fn an_eater_who_has_nothing_has_an_empty_table() {
        let table = LikenessTable::of(&demo(), &Patience::default(), Some(EaterId(999)));
        assert!(table.meals.is_empty() && table.most_alike().is_none() && table.links.is_empty());
        assert_eq!(table.likeness(0, 1), None);
        assert_eq!(table.verdict(3, 4), Verdict::Unknown);
    }
}
