//! The question laid out: meals, choices, what they cost together, what there is to share out; and the judges at the gate.

use super::{
    Wishes,
    build::{Laid, PutBy, lay},
    choice::{Barred, Choice, Maker, Route, Supply, grave},
    grams::{Want, share},
    room::Room,
    tastes::{NOT_BOTH, Tastes, comes_back},
    twins::twins,
};
use crate::{
    arrange::{
        instance::{self, Instance},
        watch::{Gate, Twin},
    },
    book::{Book, Dish, DishId, Role},
    judge::{Finding, Home, judge_at_home},
    quantity::{DayNo, State},
    rotation::{FindingKey, Rotation, Slot, Source},
};
use std::{
    cell::RefCell,
    collections::{BTreeMap, BTreeSet, HashMap},
    sync::Arc,
};

/// What a gram left over costs, in thousands of the unit: 330 g lost weigh like two next-door meals wholly alike (our own
/// judgement).
pub(super) const LOST_GRAM: i64 = 3;
/// Fewer grams than this are no jar: they are eaten, or left (house limit).
const JAR: u32 = 60;
/// More than one part in so many of what is usable must not be left over, where that can be helped.
const LOST_ONE_IN: u32 = 20;

/// See the module.
pub(super) struct Board<'a> {
    /// The plan with its open meals.
    pub plan: Rotation,
    pub home: &'a Home,
    pub wishes: Wishes,
    pub slots: Vec<Slot>,
    pub choices: Vec<Choice>,
    /// The choices of each meal.
    pub of_slot: Vec<Vec<usize>>,
    /// The dishes that cannot fill each meal, and why.
    pub barred: Vec<Vec<Barred>>,
    pub supplies: Vec<Supply>,
    /// How each source may be put by.
    jars: Vec<Option<(Arc<Dish>, DayNo)>>,
    /// Minutes left of the days that have a limit.
    pub room: BTreeMap<DayNo, i64>,
    /// The same minutes and the grams of the sources, as they are asked of beginnings.
    scope: Room,
    pub tastes: Tastes,
    before: BTreeSet<FindingKey>,
    /// Cost of each choice alone, in thousandths.
    pub own: Vec<i64>,
    /// Cost of two choices together, in thousandths, or [`NOT_BOTH`]. Square.
    pairs: Vec<u16>,
    /// Whether more than a twentieth may be left over.
    pub may_waste: bool,
    /// What whole arrangements were found to be.
    known: RefCell<HashMap<Vec<usize>, Option<i64>>>,
}

/// An arrangement with its grams.
pub(super) struct Grams {
    /// Of each chosen dish, of each source.
    pub taken: Vec<Vec<u32>>,
    pub put_by: Vec<PutBy>,
    /// What is left of each source after that.
    pub left: Vec<u32>,
}

impl<'a> Board<'a> {
    /// Lays the question out. `plan` is the plan as it stands, `book` what may be cooked.
    pub(super) fn new(plan: Rotation, book: &Book, home: &'a Home, wishes: &Wishes) -> Board<'a> {
        let mut dishes: BTreeMap<DishId, Arc<Dish>> = book.dishes_for(&plan.kind).map(|d| (d.id.clone(), d.clone())).collect();
        // The plan's own copy of a dish is the one that it would serve.
        let own = plan.dishes.values().filter(|d| d.suits_kind(&plan.kind));
        dishes.extend(own.map(|d| (d.id.clone(), d.clone())));
        Board::of_dishes(plan, &dishes, home, wishes)
    }

    pub(super) fn of_dishes(plan: Rotation, dishes: &BTreeMap<DishId, Arc<Dish>>, home: &'a Home, wishes: &Wishes) -> Board<'a> {
        let slots = wishes.slots(&plan);
        let supplies = supplies(&plan, dishes);
        let before = grave(&judge_at_home(&plan, home).findings, wishes).into_iter().map(|f| f.key).collect();
        let maker = Maker { plan: &plan, home, slots: &slots, supplies: &supplies, dishes, wishes, before: &before };
        let (choices, barred) = maker.all();
        let mut of_slot = vec![Vec::new(); slots.len()];
        for (number, choice) in choices.iter().enumerate() {
            of_slot[choice.at].push(number);
        }
        let tastes = Tastes::new(&plan, home, wishes, &slots, &choices);
        let own = choices.iter().enumerate().map(|(n, c)| c.own + tastes.with_standing(n, c)).collect();
        let room: BTreeMap<DayNo, i64> =
            wishes.minutes.iter().map(|(day, have)| (*day, i64::from(*have) - minutes_on(&plan, *day))).collect();
        let have: Vec<u32> = supplies.iter().map(|s| s.grams).collect();
        let scope = Room::new(&choices, &have, &room);
        let jars = jars(&plan, dishes, &supplies, slots.first().map(|s| s.day), home, &before);
        let mut board = Board {
            plan,
            home,
            wishes: wishes.clone(),
            slots,
            choices,
            of_slot,
            barred,
            supplies,
            jars,
            room,
            scope,
            tastes,
            before,
            own,
            pairs: Vec::new(),
            may_waste: false,
            known: RefCell::new(HashMap::new()),
        };
        board.pairs = board.all_pairs();
        board
    }

    fn all_pairs(&self) -> Vec<u16> {
        let n = self.choices.len();
        let mut pairs = vec![0; n * n];
        let overruled = self.plan.overruled.iter().any(|o| o.finding.0.starts_with("likeness/"));
        for a in 0..n {
            for b in a + 1..n {
                let (x, y) = ((a, &self.choices[a]), (b, &self.choices[b]));
                if x.1.at == y.1.at {
                    continue;
                }
                let cost = self.tastes.between(x, y);
                // A pair that nobody feels any more stays 0, so that the search need not remember it; the gate asks again.
                let minded = !self.wishes.may_be_alike && !overruled && self.tastes.too_alike(x, y);
                let back = !self.wishes.may_come_again && comes_back(x, y, &self.slots);
                let clash = minded || (back && cost > 0) || !self.is_linked(x, y);
                pairs[a * n + b] = if clash { NOT_BOTH } else { cost };
                pairs[b * n + a] = pairs[a * n + b];
            }
        }
        pairs
    }

    /// Whether a choice that is made of another, at the meal of `x` or `y`, is made of just that one.
    fn is_linked(&self, (a, x): (usize, &Choice), (b, y): (usize, &Choice)) -> bool {
        let fits = |of: &Choice, number: usize, at: usize| match of.route {
            Route::Of(source) | Route::Again(source) => self.choices[source].at != at || source == number,
            _ => true,
        };
        fits(y, a, x.at) && fits(x, b, y.at)
    }

    /// What two choices for different meals cost together, in thousandths; [`NOT_BOTH`] or more where they may not both stand.
    pub(super) fn pair(&self, a: usize, b: usize) -> i64 {
        i64::from(self.pairs[a * self.choices.len() + b])
    }

    /// The question as an instance: every choice is a dish for one slot only.
    pub(super) fn instance(&self) -> Instance {
        let days: Vec<DayNo> = {
            let mut days: Vec<DayNo> = self.slots.iter().map(|s| s.day).collect();
            days.dedup();
            days
        };
        let day_of = |slot: &Slot| days.iter().position(|d| *d == slot.day).unwrap_or(0);
        let dishes = self.choices.iter().enumerate().map(|(number, c)| instance::Dish {
            id: c.dish.id.to_string(),
            min_g: i64::from(c.want.least),
            max_g: i64::from(c.want.most),
            minutes: c.minutes.iter().filter(|m| m.0 == self.slots[c.at].day).map(|m| i64::from(m.1)).sum(),
            dislike: self.own[number],
            allowed_slots: Some(vec![c.at]),
            max_uses: 1,
        });
        let apart = |a: usize, b: usize| self.choices[b].at.saturating_sub(self.choices[a].at);
        let n = self.choices.len();
        let window = (0..n)
            .flat_map(|a| (a + 1..n).map(move |b| (a, b)))
            .filter(|&(a, b)| self.pairs[a * n + b] > 0)
            .map(|(a, b)| apart(a, b))
            .max()
            .unwrap_or(1);
        let mut likeness = self.pairs.clone();
        (0..n).for_each(|i| likeness[i * n + i] = 1_000);
        // What can be put by is not lost, so that only without a jar the grams left over bound the cost from below.
        let no_jar = self.jars.iter().all(Option::is_none);
        let supply = instance::Supply {
            edible_g: self.supplies.iter().map(|s| i64::from(s.grams)).sum(),
            waste_cost_per_g: if no_jar { LOST_GRAM } else { 0 },
            day_minutes: days.iter().map(|d| self.room.get(d).map_or(instance::MAX_FIGURE, |left| (*left).max(0))).collect(),
        };
        Instance::of_parts(self.slots.iter().map(day_of).collect(), dishes.collect(), likeness, window, supply)
    }

    /// What each choice wants, those made of another out of the sources of that one.
    fn wants(&self, chosen: &[usize]) -> Vec<Want> {
        chosen.iter().map(|&c| self.choices[c].want.clone()).collect()
    }

    /// The grams of a whole arrangement by the rule, or nothing where the least does not fit.
    pub(super) fn grams(&self, chosen: &[usize]) -> Option<Grams> {
        let have: Vec<u32> = self.supplies.iter().map(|s| s.grams).collect();
        let jar: Vec<bool> = self.jars.iter().map(Option::is_some).collect();
        let taken = share(&self.wants(chosen), &have, &jar, JAR)?;
        let mut left = have;
        for row in &taken {
            row.iter().zip(&mut left).for_each(|(g, l)| *l -= g);
        }
        let mut put_by: Vec<PutBy> = Vec::new();
        for (place, supply) in self.supplies.iter().enumerate() {
            let Some((dish, day)) = &self.jars[place] else { continue };
            if left[place] > 0 {
                match put_by.iter_mut().find(|p| p.dish.id == dish.id && p.day == *day) {
                    Some(jar) => jar.draws.push((supply.from.clone(), left[place])),
                    None => put_by.push(PutBy { dish: dish.clone(), day: *day, draws: vec![(supply.from.clone(), left[place])] }),
                }
            }
        }
        put_by.retain(|jar| jar.draws.iter().map(|d| d.1).sum::<u32>() >= JAR);
        for (place, supply) in self.supplies.iter().enumerate() {
            if put_by.iter().any(|jar| jar.draws.iter().any(|d| d.0 == supply.from)) {
                left[place] = 0;
            }
        }
        Some(Grams { taken, put_by, left })
    }

    /// The plan with a whole arrangement laid in.
    pub(super) fn laid(&self, chosen: &[usize], grams: &Grams) -> Rotation {
        let mut laid = Vec::with_capacity(chosen.len());
        for (place, &number) in chosen.iter().enumerate() {
            let choice = &self.choices[number];
            let draws: Vec<(Source, u32)> = self
                .supplies
                .iter()
                .zip(&grams.taken[place])
                .filter(|(_, g)| **g > 0)
                .map(|(s, g)| (s.from.clone(), *g))
                .collect();
            let one = Laid::of(self.slots[choice.at], &choice.dish, &choice.route, &draws);
            laid.push(match choice.route {
                Route::Of(source) | Route::Again(source) => match chosen.iter().position(|c| *c == source) {
                    Some(of) => one.made_of(of),
                    None => one,
                },
                _ => one,
            });
        }
        lay(&self.plan, &laid, &grams.put_by)
    }

    /// Stops and warnings of `made` that the plan did not have before, but for what is left over.
    pub(super) fn new_troubles(&self, made: &Rotation) -> Vec<Finding> {
        let found = grave(&judge_at_home(made, self.home).findings, &self.wishes);
        found.into_iter().filter(|f| !self.before.contains(&f.key)).collect()
    }

    /// Likeness, dislikes and cautions of an arrangement, in thousandths; nothing where two may not both stand.
    pub(super) fn taste(&self, chosen: &[usize]) -> Option<i64> {
        let mut sum = 0;
        for (i, &a) in chosen.iter().enumerate() {
            sum += self.own[a];
            for &b in &chosen[..i] {
                let pair = self.pair(b, a);
                if pair >= i64::from(NOT_BOTH) {
                    return None;
                }
                sum += pair;
            }
        }
        Some(sum)
    }

    /// What an arrangement costs, all rules minded.
    fn reckon(&self, chosen: &[usize]) -> Option<i64> {
        let taste = self.taste(chosen)?;
        if !(1..=chosen.len()).all(|n| self.may_begin(&chosen[..n])) {
            return None;
        }
        let grams = self.grams(chosen)?;
        let lost: u32 = grams.left.iter().sum();
        let usable = self.plan.piece.usable_total(self.plan.kind.portioned).get();
        if !self.may_waste && u64::from(lost) * u64::from(LOST_ONE_IN) > u64::from(usable) {
            return None;
        }
        if !self.new_troubles(&self.laid(chosen, &grams)).is_empty() {
            return None;
        }
        Some(1_000 * taste + 1_000 * LOST_GRAM * i64::from(lost))
    }

    /// Grams left over and put by.
    pub(super) fn lost(&self, grams: &Grams) -> (u32, u32) {
        let put_by = grams.put_by.iter().flat_map(|p| &p.draws).map(|d| d.1).sum();
        (grams.left.iter().sum(), put_by)
    }

    /// Forgets what arrangements were found to be, for another rule.
    pub(super) fn allow_waste(&mut self) {
        self.may_waste = true;
        self.known.borrow_mut().clear();
    }
}

impl Gate for Board<'_> {
    fn may_begin(&self, chosen: &[usize]) -> bool {
        let Some((&last, before)) = chosen.split_last() else { return true };
        let new = &self.choices[last];
        for &c in before {
            if self.pair(c, last) >= i64::from(NOT_BOTH) {
                return false;
            }
            let (x, y) = ((c, &self.choices[c]), (last, new));
            if !self.wishes.may_come_again && comes_back(x, y, &self.slots) {
                return false;
            }
        }
        if let Route::Of(source) | Route::Again(source) = new.route
            && !before.contains(&source)
        {
            return false;
        }
        self.scope.is_for(chosen) && !self.tastes.runs_on(chosen, &self.choices)
    }

    fn may_stand(&self, chosen: &[usize]) -> bool {
        // What runs on only runs further with a meal more, and no less when neighbours of one day swap theirs.
        self.scope.is_for(chosen) && !self.tastes.anything_runs_on(chosen)
    }

    fn twins(&self) -> Vec<Twin> {
        twins(self)
    }

    fn cost(&self, chosen: &[usize]) -> Option<i64> {
        if let Some(known) = self.known.borrow().get(chosen) {
            return *known;
        }
        let cost = self.reckon(chosen);
        self.known.borrow_mut().insert(chosen.to_vec(), cost);
        cost
    }
}

/// Minutes that what stands takes on a day.
fn minutes_on(plan: &Rotation, day: DayNo) -> i64 {
    let made = plan.batches.iter().filter(|b| b.day == day).filter_map(|b| plan.dish_of(b.id));
    made.filter(|d| d.role != Role::Bank).map(|d| i64::from(d.minutes.1)).sum()
}

/// What there is to share out: what is free of each part, and what batches of the plan have left.
fn supplies(plan: &Rotation, dishes: &BTreeMap<DishId, Arc<Dish>>) -> Vec<Supply> {
    let mut out: Vec<Supply> = plan
        .piece
        .parts
        .iter()
        .map(|p| Supply {
            from: Source::Part(p.part.clone()),
            grams: u32::try_from(plan.free_in_part(&p.part).max(0)).unwrap_or(u32::MAX),
            state: plan.kind.portioned,
        })
        .collect();
    for batch in &plan.batches {
        let Some(dish) = plan.dishes.get(&batch.dish).filter(|d| d.role != Role::Bank) else { continue };
        let is_made_into = dishes.values().any(|d| d.from.contains(&batch.dish));
        let (grams, state) = if dish.role == Role::Component || is_made_into {
            (plan.left_cooked(batch), State::Cooked)
        } else {
            (plan.unserved(batch).get(), batch.state())
        };
        if grams > 0 {
            out.push(Supply { from: Source::Batch(batch.id), grams, state });
        }
    }
    out
}

/// For each source the dish that puts it by, and the day of its making: the first day on which a meal is asked for, or the
/// last before it on which the judges let it be made.
fn jars(
    plan: &Rotation,
    dishes: &BTreeMap<DishId, Arc<Dish>>,
    supplies: &[Supply],
    first: Option<DayNo>,
    home: &Home,
    before: &BTreeSet<FindingKey>,
) -> Vec<Option<(Arc<Dish>, DayNo)>> {
    let mut banks: Vec<&Arc<Dish>> = dishes.values().filter(|d| d.role == Role::Bank && d.state == plan.kind.portioned).collect();
    banks.sort_by_key(|d| d.id.clone());
    let wishes = Wishes::default();
    let jar = |supply: &Supply| {
        let Source::Part(part) = &supply.from else { return None };
        let mut fitting: Vec<(usize, &Arc<Dish>)> = banks
            .iter()
            .filter(|d| d.suits_part(part))
            .map(|d| (d.parts.iter().position(|p| p == part).unwrap_or(usize::MAX), *d))
            .collect();
        fitting.sort_by_key(|(rank, d)| (*rank, d.id.clone()));
        let mut day = first?;
        while day >= plan.piece.opened {
            for (_, dish) in &fitting {
                let jar = PutBy { dish: (*dish).clone(), day, draws: vec![(supply.from.clone(), supply.grams.max(1))] };
                let made = lay(plan, &[], &[jar]);
                let findings = grave(&judge_at_home(&made, home).findings, &wishes);
                if findings.iter().all(|f| before.contains(&f.key)) {
                    return Some(((*dish).clone(), day));
                }
            }
            day = day.plus(crate::quantity::Days(-1));
        }
        None
    };
    supplies.iter().map(|s| if s.grams == 0 { None } else { jar(s) }).collect()
}
