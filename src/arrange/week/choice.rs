//! One way to fill one meal: a dish, where its grams come from, who eats it.

use super::build::{Laid, lay};
use super::grams::Want;
use crate::{
    book::{Dish, DishId, PartId, Role},
    judge::{Code, Finding, Home, SAME_DISH_DAYS, Severity, judge_at_home},
    quantity::{DayNo, State},
    rotation::{BatchId, EaterId, FindingKey, Heard, Rotation, Serving, Slot, Source, eaten_by},
};
use jiff::Unit;
use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
};

/// What a form that somebody at the table dislikes costs where everybody dislikes it, in thousandths (our own judgement: less
/// than a next-door meal that is getting alike).
const DISLIKED: i64 = 400;
/// What any other caution about the meal costs (our own judgement).
const CAUTIONED: i64 = 100;
/// What using up a companion that is on hand is worth, all of it (our own judgement: it breaks ties between like dishes).
const USED_UP: i64 = 60;

/// How a dish comes to its grams.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Route {
    /// Made of the piece on the day of the meal.
    Fresh,
    /// Made of a component, which is made of the piece on this day.
    Component(Arc<Dish>, DayNo),
    /// Made of what is left of the dish of another choice, an earlier meal's.
    Of(usize),
    /// A second serving from the batch of another choice, an earlier meal's.
    Again(usize),
    /// Made of a batch that the plan has already, or a further serving of it.
    Batch(BatchId),
}

/// See the module. Its number is its place in the list of all choices.
#[derive(Clone, Debug)]
pub(super) struct Choice {
    /// The place of its meal among those asked for.
    pub at: usize,
    pub dish: Arc<Dish>,
    pub route: Route,
    /// Who eats the piece in it.
    pub eaters: Vec<EaterId>,
    /// What it wants, in grams of its sources. A choice made of another takes from the sources of that one.
    pub want: Want,
    /// Minutes that it takes, by day.
    pub minutes: Vec<(DayNo, u32)>,
    /// Cost of its own in thousandths, likeness left out: dislikes, cautions, companions not used up.
    pub own: i64,
}

/// Where grams may come from: a part of the piece, or what an existing batch has left.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Supply {
    pub from: Source,
    pub grams: u32,
    /// The state in which grams leave it.
    pub state: State,
}

/// All that is looked up while choices are made.
pub(super) struct Maker<'a> {
    pub plan: &'a Rotation,
    pub home: &'a Home,
    pub slots: &'a [Slot],
    pub supplies: &'a [Supply],
    /// Every dish that may be thought of, by id.
    pub dishes: &'a BTreeMap<DishId, Arc<Dish>>,
    pub wishes: &'a super::Wishes,
    /// The stops and warnings that the plan has before anything is filled.
    pub before: &'a BTreeSet<FindingKey>,
}

/// Why a dish cannot fill a meal: the first thing that the judges would say.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Barred {
    pub dish: Arc<Dish>,
    pub why: String,
}

/// The grave findings of a plan that speak, by key; what is left over is counted apart.
pub(super) fn grave(findings: &[Finding], wishes: &super::Wishes) -> Vec<Finding> {
    let counts = |f: &&Finding| {
        let alike = matches!(f.code, Code::TooAlike | Code::RunTexture | Code::RunFamily | Code::RunHotSoft);
        f.speaks()
            && matches!(f.severity, Severity::Stop | Severity::Warn)
            && f.code != Code::Unallocated
            && !(alike && wishes.may_be_alike)
    };
    findings.iter().filter(counts).cloned().collect()
}

impl Maker<'_> {
    /// Every choice for every meal, and for each meal the dishes that are barred from it.
    pub(super) fn all(&self) -> (Vec<Choice>, Vec<Vec<Barred>>) {
        let mut choices = Vec::new();
        let mut barred = Vec::new();
        for at in 0..self.slots.len() {
            let mut out = Vec::new();
            for dish in self.dishes.values().filter(|d| d.role == Role::Meal) {
                match self.for_meal(at, dish, &choices) {
                    Ok(found) => choices.extend(found),
                    Err(why) => out.push(Barred { dish: dish.clone(), why }),
                }
            }
            barred.push(out);
        }
        (choices, barred)
    }

    /// The choices of one dish for one meal, or why there is none.
    fn for_meal(&self, at: usize, dish: &Arc<Dish>, earlier: &[Choice]) -> Result<Vec<Choice>, String> {
        self.wanted(at, dish)?;
        let mut found = Vec::new();
        let mut why = None;
        let mut offer = |choice: Result<Option<Choice>, String>| match choice {
            Ok(choice) => found.extend(choice),
            Err(reason) => why = why.take().or(Some(reason)),
        };
        if dish.state == self.plan.kind.portioned {
            let suits = |p: &PartId| self.suits_part(dish, p);
            offer(self.cut_fresh(at, dish, Route::Fresh, dish.yields.get(), false, &suits));
        } else {
            for component in dish.from.iter().filter_map(|id| self.dishes.get(id)) {
                if component.role == Role::Component && component.state == self.plan.kind.portioned {
                    for choice in self.of_component(at, dish, component) {
                        offer(choice);
                    }
                }
            }
            for (number, source) in earlier.iter().enumerate() {
                let is_left = source.route == Route::Fresh && dish.from.contains(&source.dish.id);
                if source.at < at && is_left && source.dish.leftover != crate::book::Leftover::No {
                    offer(self.of_choice(at, dish, Route::Of(number), source));
                }
            }
        }
        for (number, source) in earlier.iter().enumerate() {
            let again = source.route == Route::Fresh && source.dish.id == dish.id && source.dish.leftover.is_as_is();
            if source.at < at && again && self.slots[source.at].day < self.slots[at].day {
                offer(self.of_choice(at, dish, Route::Again(number), source));
            }
        }
        for (place, supply) in self.supplies.iter().enumerate() {
            if let Source::Batch(id) = supply.from {
                offer(self.of_batch(at, dish, id, place));
            }
        }
        if found.is_empty() {
            return Err(why.unwrap_or_else(|| format!("nothing that {} could be made from is there by then", dish.name)));
        }
        Ok(found)
    }

    /// Whether the dish is wanted at all, and may come now.
    fn wanted(&self, at: usize, dish: &Dish) -> Result<(), String> {
        let day = self.slots[at].day;
        if self.wishes.without.contains(&dish.id) {
            return Err("it is not wanted this time".into());
        }
        if dish.grams == (0, 0, 0) {
            return Err("the book says no amounts for it".into());
        }
        if dish.oven.is_some() && self.wishes.no_oven.contains(&day) {
            return Err(format!("the oven stays cold on {}", self.plan.day_name(day)));
        }
        let last_word = self.home.eaten.iter().filter(|m| m.heard.is_some() && m.is_dish(&dish.id, &dish.name));
        if !self.wishes.mind_no_verdicts && last_word.max_by_key(|m| m.on).is_some_and(|m| m.heard == Some(Heard::NotAgain)) {
            return Err("somebody said: not this one again".into());
        }
        if self.wishes.may_come_again {
            return Ok(());
        }
        let date = self.plan.date(day);
        let present = self.plan.eaters_at(self.slots[at]);
        let recent = self.home.eaten.iter().find(|m| {
            let days = m.on.until((Unit::Day, date)).map_or(i32::MAX, |s| s.get_days());
            (0..=i32::from(SAME_DISH_DAYS)).contains(&days)
                && m.on < self.plan.first_day
                && m.is_dish(&dish.id, &dish.name)
                && present.iter().any(|e| m.eaten_by(self.plan.household.name(*e)))
        });
        if let Some(meal) = recent {
            return Err(format!("it was eaten on {}, and the same dish is left alone for {SAME_DISH_DAYS} days", meal.on));
        }
        let near = |slot: &Slot| slot.day.since(day).0.abs() <= SAME_DISH_DAYS;
        let fixed = self.plan.meals.iter().filter(|(slot, _)| near(slot)).find(|(slot, meal)| {
            let served = meal.servings.iter().any(|s| self.plan.dish_of(s.batch).is_some_and(|d| d.id == dish.id));
            served && self.plan.eaters_at(**slot).iter().any(|e| present.contains(e))
        });
        match fixed {
            Some((slot, _)) => Err(format!("it is served at {} already", self.plan.slot_name(*slot))),
            None => Ok(()),
        }
    }

    fn suits_part(&self, dish: &Dish, part: &PartId) -> bool {
        let names_one = dish.parts.iter().any(|p| self.plan.kind.part(p).is_some());
        !names_one || dish.suits_part(part)
    }

    /// Who eats the piece in it, and its least, typical and most grams in its own state.
    fn plates(&self, at: usize, dish: &Dish) -> Option<(Vec<EaterId>, (u32, u32, u32))> {
        let present = self.plan.eaters_at(self.slots[at]);
        // Asked of a plan that makes the dish, since what is in the pot decides.
        let laid = [Laid::probe(self.slots[at], dish)];
        let made = lay(self.plan, &laid, &[]);
        let serving: Serving = made.meal(self.slots[at]).servings.first()?.clone();
        let eaters = eaten_by(&made, &serving, &present);
        let units = self.plan.household.units(eaters.iter().copied());
        let (least, typical, most) = (units.times(dish.grams.0).max(1), units.times(dish.grams.1), units.times(dish.grams.2));
        let most = most.max(least);
        (!eaters.is_empty() && units.hundredths() > 0).then(|| (eaters, (least, typical.clamp(least, most), most)))
    }

    /// A choice of what is cut fresh from the parts that `suits` allows and that the judges let pass. `yields` turns grams of
    /// the piece into grams of the dish's state where `turned`.
    fn cut_fresh(
        &self,
        at: usize,
        dish: &Arc<Dish>,
        route: Route,
        yields: u16,
        turned: bool,
        suits: &dyn Fn(&PartId) -> bool,
    ) -> Result<Option<Choice>, String> {
        let Some((eaters, grams)) = self.plates(at, dish) else {
            return Err(self.nobody(at, dish));
        };
        let step = dish.unit.as_ref().map_or(1, |u| u.1).max(1);
        let (least, typical, most) = if turned { before_yield(grams, yields)? } else { grams };
        let pieces = if turned { None } else { in_pieces(least, most, step) };
        let (least, most, step) = pieces.map_or((least, most, 1), |(a, b)| (a, b, step));
        let mut from = Vec::new();
        let mut why = None;
        let mut cautions = None;
        for part in dish_parts_first(self.supplies, dish) {
            let Source::Part(id) = &self.supplies[part].from else { continue };
            if !suits(id) {
                continue;
            }
            let laid = [Laid::of(self.slots[at], dish, &route, &[(self.supplies[part].from.clone(), least)])];
            match self.try_out(&laid) {
                Ok(found) => {
                    from.push(part);
                    cautions = cautions.or(Some(found));
                }
                Err(reason) => why = why.or(Some(reason)),
            }
        }
        let Some(cautions) = cautions else {
            return Err(why.unwrap_or_else(|| "no part of this piece suits it".into()));
        };
        let want = Want { least, typical: typical.clamp(least, most), most, step, from };
        let day = self.slots[at].day;
        let mut minutes = vec![(day, u32::from(dish.minutes.1))];
        if let Route::Component(component, made) = &route {
            minutes.push((*made, u32::from(component.minutes.1)));
        }
        Ok(Some(self.choice(at, dish, route, eaters, want, minutes, &cautions)))
    }

    /// Choices of a dish made of a component: made on the last day on which it may be, and on earlier ones where that lets it
    /// be made of more parts.
    fn of_component(&self, at: usize, dish: &Arc<Dish>, component: &Arc<Dish>) -> Vec<Result<Option<Choice>, String>> {
        let mut out = Vec::new();
        let mut known: Vec<usize> = Vec::new();
        let mut day = self.slots[at].day;
        let first = self.slots.first().map_or(day, |s| s.day).max(self.plan.piece.opened);
        while day >= first {
            if !(component.oven.is_some() && self.wishes.no_oven.contains(&day)) {
                let suits = |p: &PartId| self.suits_part(component, p);
                let route = Route::Component(component.clone(), day);
                let choice = self.cut_fresh(at, dish, route, component.yields.get(), true, &suits);
                let adds = match &choice {
                    Ok(Some(c)) => c.want.from.iter().any(|p| !known.contains(p)),
                    _ => out.is_empty(),
                };
                if let Ok(Some(c)) = &choice {
                    known.extend(&c.want.from);
                }
                if adds {
                    out.push(choice);
                }
            }
            day = day.plus(crate::quantity::Days(-1));
        }
        out
    }

    /// A choice made of what is left of an earlier one, or a second serving of it.
    fn of_choice(&self, at: usize, dish: &Arc<Dish>, route: Route, source: &Choice) -> Result<Option<Choice>, String> {
        let Some((eaters, grams)) = self.plates(at, dish) else {
            return Err(self.nobody(at, dish));
        };
        let turned = matches!(route, Route::Of(_));
        let (least, typical, most) = if turned { before_yield(grams, source.dish.yields.get())? } else { grams };
        let Some(&part) = source.want.from.first() else { return Ok(None) };
        let from = [(self.supplies[part].from.clone(), source.want.least)];
        let first = Laid::of(self.slots[source.at], &source.dish, &Route::Fresh, &from);
        let then = Laid::of(self.slots[at], dish, &route, &[(self.supplies[part].from.clone(), least)]).made_of(0);
        let cautions = self.try_out(&[first, then])?;
        let minutes = if turned { vec![(self.slots[at].day, u32::from(dish.minutes.1))] } else { Vec::new() };
        let want = Want { least, typical: typical.clamp(least, most), most, step: 1, from: source.want.from.clone() };
        Ok(Some(self.choice(at, dish, route, eaters, want, minutes, &cautions)))
    }

    /// A choice made of what a batch of the plan has left, or a further serving of it.
    fn of_batch(&self, at: usize, dish: &Arc<Dish>, id: BatchId, place: usize) -> Result<Option<Choice>, String> {
        let Some(batch) = self.plan.batch(id) else { return Ok(None) };
        let day = self.slots[at].day;
        let supply = &self.supplies[place];
        let again = batch.dish == dish.id;
        if batch.day > day || !(again || dish.from.contains(&batch.dish)) || dish.state != supply.state {
            return Ok(None);
        }
        let Some((eaters, (least, typical, most))) = self.plates(at, dish) else { return Err(self.nobody(at, dish)) };
        let route = Route::Batch(id);
        let laid = [Laid::of(self.slots[at], dish, &route, &[(supply.from.clone(), least.min(supply.grams))])];
        let cautions = self.try_out(&laid)?;
        let minutes = if again { Vec::new() } else { vec![(day, u32::from(dish.minutes.1))] };
        let want = Want { least, typical, most, step: 1, from: vec![place] };
        Ok(Some(self.choice(at, dish, route, eaters, want, minutes, &cautions)))
    }

    fn nobody(&self, at: usize, dish: &Dish) -> String {
        format!("nobody at {} may eat {}", self.plan.slot_name(self.slots[at]), dish.name)
    }

    /// The cautions that come with what is laid, or the first stop or warning that it would bring.
    fn try_out(&self, laid: &[Laid]) -> Result<Vec<Finding>, String> {
        let made = lay(self.plan, laid, &[]);
        let findings = judge_at_home(&made, self.home).findings;
        let mends_itself = |f: &Finding| {
            // How full the parts are is counted exactly elsewhere; a pack may be emptied by a meal that is still to come.
            matches!(f.code, Code::OverAllotted | Code::Unserved | Code::CompanionTooOld)
        };
        let worst = grave(&findings, self.wishes);
        if let Some(f) = worst.iter().find(|f| !self.before.contains(&f.key) && !mends_itself(f)) {
            return Err(f.text.clone());
        }
        Ok(findings.into_iter().filter(|f| f.severity == Severity::Caution && f.speaks()).collect())
    }

    #[allow(clippy::too_many_arguments)]
    fn choice(
        &self,
        at: usize,
        dish: &Arc<Dish>,
        route: Route,
        eaters: Vec<EaterId>,
        want: Want,
        minutes: Vec<(DayNo, u32)>,
        cautions: &[Finding],
    ) -> Choice {
        let slot = self.slots[at];
        let present = self.plan.eaters_at(slot).len().max(1) as i64;
        let mut own = 0;
        for caution in cautions.iter().filter(|f| f.meal == Some(slot)) {
            own += match caution.code {
                Code::Dislike => DISLIKED / present,
                Code::DishCaution | Code::Allergy | Code::BoiledThrough | Code::ColdInFrost | Code::OvenInHeat => CAUTIONED,
                _ => 0,
            };
        }
        let uses =
            self.wishes.use_up.iter().filter(|name| dish.companions.iter().any(|c| is_named(&c.name, name))).count() as i64;
        own += USED_UP * (self.wishes.use_up.len() as i64 - uses).max(0);
        Choice { at, dish: dish.clone(), route, eaters, want, minutes, own: own.min(1_000) }
    }
}

/// Whether a companion goes by this name, however it is written.
fn is_named(companion: &str, name: &str) -> bool {
    companion.trim().to_lowercase() == name.trim().to_lowercase()
}

/// Places of the parts, those that the dish names first and in its order.
fn dish_parts_first(supplies: &[Supply], dish: &Dish) -> Vec<usize> {
    let mut places: Vec<usize> = (0..supplies.len()).filter(|&i| matches!(supplies[i].from, Source::Part(_))).collect();
    let rank = |i: &usize| match &supplies[*i].from {
        Source::Part(id) => dish.parts.iter().position(|p| p == id).unwrap_or(usize::MAX),
        Source::Batch(_) => usize::MAX,
    };
    places.sort_by_key(|i| (rank(i), *i));
    places
}

/// Grams of the piece that come to these cooked grams: the fewest that give the least, the most that give no more than the most.
fn before_yield((least, typical, most): (u32, u32, u32), yields: u16) -> Result<(u32, u32, u32), String> {
    let y = u64::from(yields);
    if y == 0 {
        return Err("nothing is left of it by cooking".into());
    }
    let up = |g: u32| (u64::from(g) * 1_000).div_ceil(y).min(u64::from(u32::MAX)) as u32;
    let down = |g: u32| (((u64::from(g) + 1) * 1_000 - 1) / y).min(u64::from(u32::MAX)) as u32;
    let (least, typical, most) = (up(least), up(typical), down(most));
    if least > most {
        return Err("its grams do not come out whole".into());
    }
    Ok((least, typical.clamp(least, most), most))
}

/// Least and most as whole pieces of `step` grams, where some number of them lies between.
fn in_pieces(least: u32, most: u32, step: u32) -> Option<(u32, u32)> {
    let (low, high) = (least.div_ceil(step) * step, most / step * step);
    (step > 1 && low <= high && low > 0).then_some((low, high))
}
