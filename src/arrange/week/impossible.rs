//! Why the meals cannot be filled: the smallest set of wishes that cannot all hold, and what to do about each.

use super::{
    Question, Wishes,
    board::Board,
    question::{Clock, solve},
    start::{Any, any, start},
};
use crate::{
    arrange::answer::Limits,
    book::{Diet, Dish, DishId, Role},
    judge::Home,
    quantity::{DayNo, Days},
    rotation::{EaterId, Edit, Rotation, Slot, apply},
};
use std::{collections::BTreeMap, sync::Arc};

/// Something that was asked, or that the house holds to, and that stands in the way together with others.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Asked {
    /// That this meal is filled.
    Meal(Slot),
    /// That what is planned for this meal stays.
    Fixed(Slot),
    /// The minutes of a day.
    Minutes(DayNo),
    /// That the oven stays cold on a day.
    ColdOven(DayNo),
    /// What an eater may not eat, by diet or allergy.
    Diet(EaterId),
    /// That nothing is eaten past its last day.
    Keeping,
    /// That plates are no smaller than the dishes are good for.
    Plates,
    /// That no dish comes back within fourteen days.
    NoRepeat,
    /// That no two meals are too alike and nothing runs on.
    Unlike,
    /// Dishes that are not wanted, or were once too often.
    Unwanted,
}

/// Why there is no arrangement.
#[derive(Clone, Debug)]
pub struct Impossible {
    /// Wishes that cannot all hold, in the order of [`Asked`].
    pub wishes: Vec<Asked>,
    /// Whether each is needed: give up any one of them, and the meals can be filled.
    pub smallest: bool,
    /// Each in words, with what to do about it; in the same order.
    pub words: Vec<(String, String)>,
}

impl Impossible {
    /// The whole in a sentence: "these cannot all hold: ... and ...".
    pub fn says(&self) -> String {
        let words: Vec<&str> = self.words.iter().map(|w| w.0.as_str()).collect();
        let list = match words.as_slice() {
            [] => return "The meals cannot be filled: the book has no dish for this piece.".into(),
            [one] => return format!("This cannot hold: {one}."),
            [most @ .., last] => format!("{} and {last}", most.join(", ")),
        };
        let end = if self.smallest { " Give up any one of them and the meals can be filled." } else { "" };
        format!("These cannot all hold: {list}.{end}")
    }
}

/// How long the smallest reason is looked for where nobody says (house limit).
const MOST_SECONDS: f64 = 20.0;

/// What the question holds to, as it can be given up piece by piece.
#[derive(Clone)]
struct Held {
    plan: Rotation,
    dishes: BTreeMap<DishId, Arc<Dish>>,
    wishes: Wishes,
}

/// A deletion filter (Chinneck and Dravnieks 1991, from memory): gives up one wish after another as long as the rest still
/// cannot hold.
pub(super) fn why_not(question: &Question<'_>, limits: Limits<'_>) -> Impossible {
    let board = &question.board;
    // That nothing fits is proven already; the smallest reason may take its time, but not for ever.
    let clock = Clock::new(Limits { seconds: limits.seconds.or(Some(MOST_SECONDS)), ..limits });
    let mut held = Held::of(question);
    let all = held.all(board.home);
    let mut smallest = true;
    let mut kept = Vec::new();
    for asked in all {
        let trial = held.without(&asked);
        match trial.can_be_filled(board.home, &clock) {
            Any::None => held = trial,
            Any::Found(_) => kept.push(asked),
            Any::Unknown => {
                smallest = false;
                kept.push(asked);
            }
        }
    }
    // Giving up one wish can make another needless after all (a diet given up is one more plate to fill), so each is asked
    // again beside those that stayed.
    while let Some(needless) = kept.iter().position(|a| held.without(a).can_be_filled(board.home, &clock) == Any::None) {
        held = held.without(&kept.remove(needless));
    }
    kept.sort();
    let words = kept.iter().map(|a| (a.words(&board.plan, &board.wishes), a.loosen(&board.plan))).collect();
    Impossible { wishes: kept, smallest, words }
}

impl Question<'_> {
    /// All that the question holds to and that could be given up.
    pub fn wishes(&self) -> Vec<Asked> {
        Held::of(self).all(self.board.home)
    }

    /// Whether the meals could be filled with these wishes given up; nothing where time was up. For checking a reason.
    pub fn could_be_without(&self, given_up: &[Asked], limits: Limits<'_>) -> Option<bool> {
        let clock = Clock::new(limits);
        let held = given_up.iter().fold(Held::of(self), |held, asked| held.without(asked));
        match held.can_be_filled(self.board.home, &clock) {
            Any::Found(_) => Some(true),
            Any::None => Some(false),
            Any::Unknown => None,
        }
    }
}

/// A wish that costs something: what would be gained by giving it up.
#[derive(Clone, Debug)]
pub struct Binding {
    /// The wish.
    pub asked: Asked,
    /// How much cheaper the best arrangement would be without it, in the unit of [`super::Cost`].
    pub gain: i64,
    /// How many different meals the plan would then feel like.
    pub feels_like: f64,
    /// In words: "nothing past its last day: without it the week would feel like 3.9".
    pub words: String,
}

impl Question<'_> {
    /// The wishes that hold `best` back, what would gain most first: each is given up alone and the question asked again.
    /// Meals are not given up, for fewer meals are another question. What was not asked to the end within `limits` is left out.
    pub fn binds(&self, best: &super::Arrangement, limits: Limits<'_>) -> Vec<Binding> {
        let clock = Clock::new(limits);
        let held = Held::of(self);
        let mut out = Vec::new();
        for asked in held.all(self.board.home).into_iter().filter(|a| !matches!(a, Asked::Meal(_) | Asked::Fixed(_))) {
            let other = held.without(&asked);
            let mut board = Board::of_dishes(other.plan, &other.dishes, self.board.home, &other.wishes);
            if board.slots != self.board.slots {
                continue;
            }
            if self.board.may_waste {
                board.allow_waste();
            }
            let Any::Found(first) = start(&board, &board, &|| clock.is_over()) else { continue };
            let Some((there, _, true)) = solve(&board, &board, &first, clock.left(), &mut |_| {}) else { continue };
            let gain = best.cost.total() - there.cost.total();
            if gain > 0 {
                let feels_like = there.feels_like().0;
                let words = format!(
                    "{}: without it the plan would feel like {feels_like:.1} of {}",
                    asked.words(&self.board.plan, &self.board.wishes),
                    there.feels_like().1
                );
                out.push(Binding { asked, gain, feels_like, words });
            }
        }
        out.sort_by_key(|b| (std::cmp::Reverse(b.gain), b.asked.clone()));
        out
    }
}

impl Held {
    fn of(question: &Question<'_>) -> Held {
        let board = &question.board;
        let kind = &board.plan.kind;
        let mut dishes: BTreeMap<DishId, Arc<Dish>> = question.book.dishes_for(kind).map(|d| (d.id.clone(), d.clone())).collect();
        let own = board.plan.dishes.values().filter(|d| d.suits_kind(kind));
        dishes.extend(own.map(|d| (d.id.clone(), d.clone())));
        let wishes = Wishes { meals: Some(board.slots.clone()), ..board.wishes.clone() };
        Held { plan: board.plan.clone(), dishes, wishes }
    }

    /// All that could be given up, what nobody would give up gladly last: a set keeps what is tried last.
    fn all(&self, home: &Home) -> Vec<Asked> {
        let mut all = vec![Asked::Unwanted, Asked::NoRepeat, Asked::Unlike, Asked::Plates, Asked::Keeping];
        if self.wishes.without.is_empty() && home.eaten.iter().all(|m| m.heard.is_none()) {
            all.retain(|a| *a != Asked::Unwanted);
        }
        let limited = |e: &&crate::rotation::Eater| e.diet != Diet::Everything || !e.allergies.is_empty();
        all.extend(self.plan.household.eaters.iter().filter(limited).map(|e| Asked::Diet(e.id)));
        all.extend(self.wishes.no_oven.iter().map(|d| Asked::ColdOven(*d)));
        all.extend(self.wishes.minutes.keys().map(|d| Asked::Minutes(*d)));
        all.extend(self.plan.slots().filter(|s| !self.plan.meal(*s).servings.is_empty()).map(Asked::Fixed));
        all.extend(self.wishes.meals.iter().flatten().map(|s| Asked::Meal(*s)));
        all
    }

    fn without(&self, asked: &Asked) -> Held {
        let mut held = self.clone();
        match asked {
            Asked::Meal(slot) => {
                if let Some(meals) = &mut held.wishes.meals {
                    meals.retain(|s| s != slot);
                }
            }
            Asked::Fixed(slot) => take_off(&mut held.plan, *slot),
            Asked::Minutes(day) => _ = held.wishes.minutes.remove(day),
            Asked::ColdOven(day) => _ = held.wishes.no_oven.remove(day),
            Asked::Diet(id) => {
                if let Some(eater) = held.plan.household.eaters.iter_mut().find(|e| e.id == *id) {
                    eater.diet = Diet::Everything;
                    eater.allergies.clear();
                }
            }
            Asked::Keeping => held.keeps_for_ever(),
            Asked::Plates => held.change_dishes(|d| d.grams.0 = d.grams.0.min(1)),
            Asked::NoRepeat => held.wishes.may_come_again = true,
            Asked::Unlike => held.wishes.may_be_alike = true,
            Asked::Unwanted => {
                held.wishes.without.clear();
                held.wishes.mind_no_verdicts = true;
            }
        }
        held
    }

    fn change_dishes(&mut self, change: impl Fn(&mut Dish)) {
        for dish in self.dishes.values_mut().chain(self.plan.dishes.values_mut()) {
            let mut new = (**dish).clone();
            change(&mut new);
            *dish = Arc::new(new);
        }
    }

    fn keeps_for_ever(&mut self) {
        const LONG: Days = Days(200);
        let mut kind = (*self.plan.kind).clone();
        kind.parts.iter_mut().for_each(|p| p.raw_days = LONG);
        kind.cooked_days = LONG;
        kind.cut_forms.clear();
        self.plan.kind = Arc::new(kind);
        self.plan.fridge = crate::rotation::Fridge::default();
        self.change_dishes(|d| {
            if d.role != Role::Bank {
                d.keeps = LONG;
                // Rice would end it all the same.
                d.companions.retain(|c| !c.is_rice());
            }
            let twins = d.twins.iter_mut().flat_map(|t| &mut t.companions);
            d.companions.iter_mut().chain(twins).for_each(|c| c.opened_days = None);
        });
    }

    fn can_be_filled(&self, home: &Home, clock: &Clock<'_>) -> Any {
        let mut board = Board::of_dishes(self.plan.clone(), &self.dishes, home, &self.wishes);
        board.allow_waste();
        if board.slots.is_empty() {
            return Any::Found(Vec::new());
        }
        any(&board, &board, &|| clock.is_over())
    }
}

/// Takes what is served off a meal, as the cook would. What something else is made from stays: then the wish changes nothing.
fn take_off(plan: &mut Rotation, slot: Slot) {
    for serving in plan.meal(slot).servings.clone() {
        if let Ok(done) = apply(plan, &Edit::RemoveServing { slot, batch: serving.batch }) {
            *plan = done.rotation;
        }
    }
}

impl Asked {
    /// The wish in words: "Thursday supper", "30 min on Friday".
    pub fn words(&self, plan: &Rotation, wishes: &Wishes) -> String {
        match self {
            Asked::Meal(slot) => format!("a dish at {}", plan.slot_name(*slot)),
            Asked::Fixed(slot) => format!("what is planned for {}", plan.slot_name(*slot)),
            Asked::Minutes(day) => {
                format!("{}\u{a0}min on {}", wishes.minutes.get(day).copied().unwrap_or(0), plan.day_name(*day))
            }
            Asked::ColdOven(day) => format!("a cold oven on {}", plan.day_name(*day)),
            Asked::Diet(id) => format!("what {} may not eat", plan.household.name(*id)),
            Asked::Keeping => "nothing past its last day".into(),
            Asked::Plates => format!("plates as large as the dishes want, of the {} there is", plan.kind.name),
            Asked::NoRepeat => "no dish twice within fourteen days".into(),
            Asked::Unlike => "no two meals too alike".into(),
            Asked::Unwanted => "the dishes that are not wanted".into(),
        }
    }

    /// What to do about it.
    pub fn loosen(&self, plan: &Rotation) -> String {
        match self {
            Asked::Meal(slot) => format!("leave {} for something else", plan.slot_name(*slot)),
            Asked::Fixed(slot) => format!("take what is planned off {}", plan.slot_name(*slot)),
            Asked::Minutes(day) => format!("find more minutes on {}", plan.day_name(*day)),
            Asked::ColdOven(day) => format!("light the oven on {}", plan.day_name(*day)),
            Asked::Diet(id) => format!("cook {} something else, and say who sits down", plan.household.name(*id)),
            Asked::Keeping => "eat it on an earlier day; a limit of safety is never stretched".into(),
            Asked::Plates => "serve less of it to more meals, or ask for fewer meals".into(),
            Asked::NoRepeat => "let a dish come back".into(),
            Asked::Unlike => "let two meals be alike".into(),
            Asked::Unwanted => "let one of those dishes come".into(),
        }
    }
}
