//! A dish as it is being written: what stands in the fields, whether or not it makes sense yet.

use super::{
    company_draft::{CompanionDraft, StepDraft},
    figure::{days, degrees, grams, minutes, or_nothing, shown, thousandths},
    fresh_dish_id,
    twin_draft::{CautionDraft, TwinDraft},
};
use crate::{
    book::{Book, CheckFault, Diet, Dish, DishId, Kind, Leftover, Profile, Role, faults_of_dish},
    quantity::{Days, PerMille, State},
};
use serde::{Deserialize, Serialize};

/// A dish as it is being written.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct DishDraft {
    pub name: String,
    /// What is chosen rather than typed, and what the fields do not show.
    pub rest: Dish,
    /// Least, typical, most.
    pub grams: [String; 3],
    pub yields: String,
    pub keeps: String,
    pub nice: String,
    /// Hands, in all.
    pub minutes: [String; 2],
    /// Best, bearable low, bearable high; all empty without an oven.
    pub oven: [String; 3],
    pub companions: Vec<CompanionDraft>,
    pub steps: Vec<StepDraft>,
    /// A whole unit of it and its grams: both empty where it comes in none.
    pub unit: [String; 2],
    /// Forms that some dislike, one a line.
    pub forms: String,
    pub twins: Vec<TwinDraft>,
    pub cautions: Vec<CautionDraft>,
    /// One a line.
    pub sources: String,
    /// Whether it is to have an id of its own beside the shipped dish that it was made of.
    pub beside: bool,
    /// Whether its id is one of the shipped book.
    pub covers: bool,
    /// Whether it is the cook's own already.
    pub own: bool,
    /// Whether it was begun empty.
    pub fresh: bool,
    /// What its leftovers are turned into, also while another use of them is chosen.
    pub turned: Vec<DishId>,
}

/// What has come of a draft.
pub(super) struct Checked<T> {
    /// The entry, if every field can be read.
    pub entry: Option<T>,
    /// What the book has against it.
    pub faults: Vec<CheckFault>,
}

impl<T> Checked<T> {
    /// The entry, if it is sound.
    pub fn sound(self) -> Option<T> {
        self.entry.filter(|_| self.faults.is_empty())
    }
}

impl DishDraft {
    /// A draft of a dish; `covers`: its id is a shipped one.
    pub fn of(dish: &Dish, own: bool, covers: bool) -> DishDraft {
        let texts = |(a, b, c): (u32, u32, u32)| [a, b, c].map(|g| g.to_string());
        DishDraft {
            name: dish.name.clone(),
            grams: texts(dish.grams),
            yields: dish.yields.get().to_string(),
            keeps: dish.keeps.0.to_string(),
            nice: shown(dish.nice_days.map(|d| d.0)),
            minutes: [dish.minutes.0.to_string(), dish.minutes.1.to_string()],
            oven: dish.oven.map_or_else(Default::default, |(a, b, c)| [a, b, c].map(|d| d.to_string())),
            companions: dish.companions.iter().map(CompanionDraft::of).collect(),
            steps: dish.steps.iter().map(StepDraft::of).collect(),
            unit: dish.unit.as_ref().map_or_else(Default::default, |(word, grams)| [word.clone(), grams.to_string()]),
            forms: dish.forms.join("\n"),
            twins: dish.twins.iter().map(TwinDraft::of).collect(),
            cautions: dish.cautions.iter().map(CautionDraft::of).collect(),
            sources: dish.sources.join("\n"),
            beside: false,
            covers,
            own,
            fresh: false,
            turned: if let Leftover::Turned(into) = &dish.leftover { into.clone() } else { Vec::new() },
            rest: dish.clone(),
        }
    }

    /// An empty draft of a dish for pieces of a kind.
    pub fn blank(kind: &Kind) -> DishDraft {
        #[expect(clippy::expect_used, reason = "a constant that is a slug")]
        let id = DishId::new("new").expect("a slug");
        let dish = Dish {
            id,
            name: String::new(),
            role: Role::Meal,
            families: vec![kind.family.clone()],
            parts: Vec::new(),
            from: Vec::new(),
            profile: Profile::default(),
            state: if kind.is_cooked_whole() { State::Cooked } else { State::Prepared },
            grams: (0, 0, 0),
            cut: None,
            yields: PerMille::ALL,
            cooked: true,
            boiled_through: false,
            keeps: Days(2),
            nice_days: None,
            leftover: Leftover::AsIs,
            unit: None,
            companions: Vec::new(),
            allergens: Vec::new(),
            diet: kind.diet,
            forms: Vec::new(),
            twins: Vec::new(),
            cautions: Vec::new(),
            minutes: (0, 0),
            oven: None,
            steps: Vec::new(),
            sources: vec!["my own".into()],
        };
        DishDraft {
            fresh: true,
            grams: Default::default(),
            minutes: Default::default(),
            steps: vec![StepDraft::blank()],
            ..DishDraft::of(&dish, false, false)
        }
    }

    /// Whether it will have an id of its own.
    pub fn stands_alone(&self) -> bool {
        self.fresh || self.beside
    }

    /// The dish, where every figure can be read.
    fn dish(&self, book: &Book) -> Option<Dish> {
        let name = self.name.trim();
        let id = if self.stands_alone() { fresh_dish_id(name, book)? } else { self.rest.id.clone() };
        let three = |texts: &[String; 3]| -> Option<(u32, u32, u32)> {
            Some((grams(&texts[0]).ok()?, grams(&texts[1]).ok()?, grams(&texts[2]).ok()?))
        };
        let component = self.rest.role == Role::Component;
        // What others are made from is the dish that has its id.
        let leftover = match &self.rest.leftover {
            Leftover::Turned(_) if self.stands_alone() => Leftover::Turned(Vec::new()),
            other => other.clone(),
        };
        Some(Dish {
            id,
            name: name.into(),
            grams: if component { (0, 0, 0) } else { three(&self.grams)? },
            yields: thousandths(&self.yields).ok()?,
            keeps: days(&self.keeps).ok()?,
            nice_days: or_nothing(&self.nice, days).ok()?,
            minutes: (minutes(&self.minutes[0]).ok()?, minutes(&self.minutes[1]).ok()?),
            oven: self.oven()?,
            unit: self.unit()?,
            companions: self.companions.iter().map(CompanionDraft::companion).collect::<Option<_>>()?,
            forms: lines(&self.forms),
            twins: self.twins.iter().map(TwinDraft::twin).collect::<Option<_>>()?,
            cautions: self.cautions.iter().map(CautionDraft::caution).collect(),
            steps: self.steps.iter().map(StepDraft::step).collect::<Option<_>>()?,
            leftover,
            sources: lines(&self.sources),
            ..self.rest.clone()
        })
    }

    /// Nothing where it cannot be read, none where it comes in no whole units.
    fn unit(&self) -> Option<Option<(String, u32)>> {
        let [word, mass] = &self.unit;
        if self.has_no_unit() {
            return Some(None);
        }
        Some(Some((word.trim().into(), grams(mass).ok()?)))
    }

    /// Whether nothing is said of whole units.
    pub fn has_no_unit(&self) -> bool {
        self.unit.iter().all(|t| t.trim().is_empty())
    }

    /// Nothing where it cannot be read, none where there is no oven.
    fn oven(&self) -> Option<Option<(u16, u16, u16)>> {
        if self.oven.iter().all(|t| t.trim().is_empty()) {
            return Some(None);
        }
        let best = degrees(&self.oven[0]).ok()?;
        let or_best = |text: &String| or_nothing(text, degrees).ok().map(|d| d.unwrap_or(best));
        Some(Some((best, or_best(&self.oven[1])?, or_best(&self.oven[2])?)))
    }

    /// The dish and what the book has against it.
    pub fn check(&self, book: &Book) -> Checked<Dish> {
        let entry = self.dish(book);
        let faults = entry.as_ref().map_or_else(Vec::new, |dish| faults_of_dish(book, dish));
        Checked { entry, faults }
    }

    /// The diet that the dish can have by its pieces: the strictest of those that suit.
    pub fn loosest_diet(&self, book: &Book) -> Diet {
        let kinds = book.kinds().filter(|k| self.rest.suits_family(&k.family));
        kinds.map(|k| k.diet).max_by_key(|d| *d as u8).unwrap_or(Diet::Vegan)
    }
}

/// The lines of a text that say something.
pub(super) fn lines(text: &str) -> Vec<String> {
    text.lines().map(str::trim).filter(|l| !l.is_empty()).map(str::to_string).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_draft_of_every_shipped_dish_is_the_dish_again() {
        let book = Book::shipped().unwrap();
        for dish in book.dishes() {
            let checked = DishDraft::of(dish, false, true).check(&book);
            assert_eq!(checked.entry.as_ref(), Some(&**dish), "{}", dish.id);
            assert_eq!(checked.faults, [], "{}", dish.id);
        }
    }

    #[test]
    fn a_dish_beside_the_shipped_one_has_an_id_of_its_own_and_is_sound() {
        let book = Book::shipped().unwrap();
        for dish in book.dishes() {
            let mut draft = DishDraft::of(dish, false, true);
            draft.beside = true;
            let sound = draft.check(&book).sound();
            assert!(sound.is_some_and(|d| book.dish(&d.id).is_none()), "{}", dish.id);
        }
    }

    #[test]
    fn a_blank_draft_is_not_sound_until_it_says_what_a_dish_must() {
        let book = Book::shipped().unwrap();
        let kind = book.kinds().find(|k| k.id.as_str() == "celeriac").unwrap();
        let mut draft = DishDraft::blank(kind);
        assert!(draft.check(&book).sound().is_none());
        draft.name = "Celeriac chips".into();
        draft.grams = ["80", "120", "160"].map(String::from);
        draft.minutes = ["10", "40"].map(String::from);
        assert!(draft.check(&book).sound().is_none(), "its step says nothing");
        draft.steps[0].text = "Cut sticks and roast them.".into();
        assert_eq!(draft.check(&book).faults, []);
        assert!(draft.check(&book).sound().is_some_and(|d| d.id.as_str() == "celeriac-chips"));
    }
}
