//! Laying a shape on another piece: which dish of the book each cooking becomes, and where there is none.

use super::{
    Batch, BatchId, BatchShape, Draw, Household, Invalid, Rotation, Serving, Slot, SlotShape, Source, Template,
    piece::divide,
    serve,
    template_clock::{Clock, clock_of},
    validate,
};
use crate::{
    book::{Book, Dish, DishId, Kind, KindId, PartId, Role, Texture, minutes_words},
    quantity::{AsBought, DayNo, Grams, Portion},
};
use jiff::civil::Date;
use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
};

/// A shape laid on a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// What became of each meal, in the order of time; what is made ahead and eaten at none stands at the end.
    pub slots: Vec<SlotFit>,
    /// The plan; it passes [`validate`].
    pub rotation: Rotation,
}

/// What became of one meal, or of something made ahead.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotFit {
    /// The meal; nothing for what is made ahead.
    pub slot: Option<Slot>,
    /// When it is made.
    pub day: DayNo,
    /// The number of the cooking, in the shape as in the plan.
    pub batch: BatchId,
    /// What became of it.
    pub outcome: FitOutcome,
}

/// What became of a place in a shape.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FitOutcome {
    /// The same dish, or one of the same texture, seasoning and method.
    Kept {
        /// The dish.
        dish: DishId,
    },
    /// Another dish.
    Swapped {
        /// The dish.
        dish: DishId,
        /// In words: "stewed, tomato, stewed in sauce in place of charred, spiced, roast".
        why: String,
    },
    /// Nothing can stand here.
    Impossible {
        /// One sentence.
        why: String,
    },
}

/// A cooking with a dish.
struct Placed {
    dish: Arc<Dish>,
    clock: Clock,
    outcome: FitOutcome,
    /// The meals for which it keeps long enough.
    meals: Vec<SlotShape>,
    /// Thousandths of it that are kept back from all meals.
    kept_back: u32,
    /// Grams to be drawn from the piece.
    grams: u32,
}

/// What the choice of a dish for one cooking comes to.
type Choice = Result<Placed, String>;

/// Lays `template` on a piece of `kind` that weighs `mass` as bought and is opened on day 1.
///
/// Only dishes that suit the kind's family are looked at. The best one keeps for all its meals, is the same dish, or eats the
/// same, or is nearest in texture. Shares of the usable piece become grams without a gram lost: what has no place stays free.
///
/// # Errors
/// Where the shape does not hold together, or the piece or household cannot be one: no mass, nobody to eat.
pub fn fit(
    template: &Template,
    book: &Book,
    kind: Arc<Kind>,
    mass: Grams<AsBought>,
    household: Household,
    first_day: Date,
) -> Result<Fit, Invalid> {
    template.check()?;
    let mut rotation = Rotation::start(kind, mass, first_day, template.days, household.eaters);
    rotation.mealtimes = template.mealtimes.clone();
    let order = template.order().unwrap_or_default();
    let mut choices = choose_all(template, book, &rotation, &order);
    share_out(template, &rotation, &mut choices);
    draw_parts(template, &mut rotation, &mut choices);
    draw_batches_and_serve(template, &mut rotation, &mut choices, &order);
    validate(&rotation)?;
    Ok(Fit { slots: outcomes(template, &choices), rotation })
}

/// What a cooking by this dish's main method takes longer, or less, on a piece of `kind` than on the kind that the shape was
/// made from: "roast 10 min longer than with red cabbage".
///
/// The minutes are those of the book's entry for the kind of the shape. Nothing where that does not name `kind` as a stand-in,
/// where it says nothing of the method, or where the method takes as long.
pub fn time_change(template: &Template, book: &Book, kind: &KindId, dish: &Dish) -> Option<String> {
    let method = dish.profile.main_method()?;
    let by = book.kind(&template.made_from.kind)?.stand_in(kind)?.minutes_by(method).filter(|by| *by != 0)?;
    Some(format!("{} {} than with {}", method.word(), minutes_words(by), template.made_from.name))
}

type Choices = BTreeMap<u32, Choice>;

fn choose_all(template: &Template, book: &Book, rotation: &Rotation, order: &[usize]) -> Choices {
    let dishes: Vec<&Arc<Dish>> = book.dishes_for(&rotation.kind).collect();
    // A dish that a place was made from is kept for that place.
    let hinted: BTreeSet<&DishId> = template.batches.iter().filter_map(|b| b.dish.as_ref()).collect();
    let mut used = BTreeSet::new();
    let mut choices = Choices::new();
    for &i in order {
        let shape = &template.batches[i];
        let choice = choose(template, shape, &dishes, rotation, &choices, |d| used.contains(d) || hinted.contains(d));
        if let Ok(placed) = &choice {
            used.insert(placed.dish.id.clone());
        }
        choices.insert(shape.number, choice);
    }
    choices
}

/// Whether a cooking takes from the piece itself. A raw piece is never mixed with what was cooked before.
fn draws_parts(shape: &BatchShape, kind: &Kind) -> bool {
    shape.share.get() > 0 && (shape.from.is_empty() || kind.is_cooked_whole())
}

fn choose(
    template: &Template,
    shape: &BatchShape,
    dishes: &[&Arc<Dish>],
    rotation: &Rotation,
    done: &Choices,
    spoken_for: impl Fn(&DishId) -> bool,
) -> Choice {
    let kind = &rotation.kind;
    let mut sources: Vec<&Placed> = Vec::new();
    for link in &shape.from {
        match done.get(&link.batch) {
            Some(Ok(placed)) => sources.push(placed),
            _ => return Err(format!("what it is made from, batch {}, has no place", link.batch)),
        }
    }
    let suits = |d: &&&Arc<Dish>| {
        d.role == shape.role
            && (!draws_parts(shape, kind) || d.state == kind.portioned)
            && sources.iter().all(|s| d.from.contains(&s.dish.id))
    };
    let fitting: Vec<&Arc<Dish>> = dishes.iter().filter(suits).copied().collect();
    if fitting.is_empty() {
        let what = match shape.role {
            Role::Meal => "dish",
            Role::Bank => "way to put it by",
            Role::Component => "component",
        };
        let from: Vec<&str> = sources.iter().map(|s| s.dish.name.as_str()).collect();
        let from = if from.is_empty() { String::new() } else { format!(" made from {}", from.join(" and ")) };
        return Err(format!("the book has no {what} for {}{from}", kind.name));
    }
    let meals = template.slots_of(shape.number);
    let users: Vec<&BatchShape> = template.batches.iter().filter(|b| b.from.iter().any(|l| l.batch == shape.number)).collect();
    let needed_until = users.iter().map(|u| u.day).max();
    let kept_back = 1_000u32.saturating_sub(meals.iter().map(|m| u32::from(m.share.get())).sum());
    let mut best: Option<(_, Placed)> = None;
    let mut refused: Option<(_, String)> = None;
    for dish in fitting {
        let taken = spoken_for(&dish.id) && shape.dish.as_ref() != Some(&dish.id);
        let rank = (taken, !suits_table(rotation, dish), unlikeness(shape, dish));
        if let Some(why) = allergy(rotation, dish) {
            keep_least(&mut refused, rank, why);
            continue;
        }
        let clock = match clock_of(rotation, shape, dish, &sources.iter().map(|s| &s.clock).collect::<Vec<_>>()) {
            Ok(clock) => clock,
            Err(why) => {
                keep_least(&mut refused, rank, why);
                continue;
            }
        };
        let in_time: Vec<SlotShape> = meals.iter().filter(|m| clock.allows(m.day)).map(|m| **m).collect();
        let too_short = needed_until.is_some_and(|day| day > clock.last);
        if (in_time.is_empty() && !meals.is_empty()) || too_short {
            let day = meals.first().map(|m| m.day).into_iter().chain(needed_until).max().unwrap_or(shape.day);
            keep_least(&mut refused, rank, clock.why_not(rotation, dish, day));
            continue;
        }
        let serves_users = users.iter().all(|u| dishes.iter().any(|d| d.role == u.role && d.from.contains(&dish.id)));
        let key = (meals.len() - in_time.len(), !serves_users, rank, dish.profile.heat != shape.heat, dish.id.clone());
        if best.as_ref().is_none_or(|(k, _)| key < *k) {
            let outcome = outcome_of(shape, dish);
            best = Some((key, Placed { dish: dish.clone(), clock, outcome, meals: in_time, kept_back, grams: 0 }));
        }
    }
    match (best, refused) {
        (Some((_, placed)), _) => Ok(placed),
        (None, Some((_, why))) => Err(why),
        (None, None) => Err(format!("the book has no dish for {}", kind.name)),
    }
}

/// Who of those who usually sit down must not eat of it. What the piece itself carries no choice of dish can mend.
fn allergy(rotation: &Rotation, dish: &Dish) -> Option<String> {
    rotation.household.eaters.iter().filter(|e| !e.guest).find_map(|e| {
        let allergen = dish.allergens.iter().find(|a| e.allergies.contains(a))?;
        Some(format!("{} has {} in it, which {} must not eat", dish.name, allergen.word(), e.name))
    })
}

/// Whether everybody who usually sits down eats it, or has a twin of it.
fn suits_table(rotation: &Rotation, dish: &Dish) -> bool {
    let usual: Vec<_> = rotation.household.usual().collect();
    let twins = serve::fitting_twins(rotation, dish, &usual);
    usual.iter().filter_map(|id| rotation.household.eater(*id)).all(|e| {
        let eats = e.diet.may_eat(dish.sure_diet()) && e.diet.may_eat(rotation.kind.diet);
        eats || twins.iter().any(|t| t.eater == e.id)
    })
}

fn keep_least<K: Ord>(kept: &mut Option<(K, String)>, key: K, why: String) {
    if kept.as_ref().is_none_or(|(k, _)| key < *k) {
        *kept = Some((key, why));
    }
}

/// How far a dish is from a shape: 0 the same dish, 1 the same texture, seasoning and method, 2 one of the two others, 3 the
/// texture alone, from 4 on how far the textures are apart.
fn unlikeness(shape: &BatchShape, dish: &Dish) -> u8 {
    if shape.dish.as_ref() == Some(&dish.id) {
        return 0;
    }
    let p = &dish.profile;
    let (Some(wanted), Some(texture)) = (shape.texture, p.main_texture()) else { return 9 };
    if wanted != texture {
        return 4 + texture_gap(wanted, texture);
    }
    let same = u8::from(shape.family == p.main_family()) + u8::from(shape.method == p.main_method());
    3 - same
}

/// How far two textures are apart, 0 to 3: crisp things, things with a bite, stews, smooth things; neighbours are nearer
/// (our own judgement).
fn texture_gap(a: Texture, b: Texture) -> u8 {
    let group = |t: Texture| match t {
        Texture::Crisp | Texture::Crunchy | Texture::Crumbly => 0u8,
        Texture::Charred | Texture::Tender | Texture::Chewy | Texture::Flaky => 1,
        Texture::Stewed | Texture::Brothy => 2,
        Texture::Creamy | Texture::Smooth | Texture::Set => 3,
    };
    group(a).abs_diff(group(b))
}

fn outcome_of(shape: &BatchShape, dish: &Dish) -> FitOutcome {
    if unlikeness(shape, dish) <= 1 {
        return FitOutcome::Kept { dish: dish.id.clone() };
    }
    let p = &dish.profile;
    let (texture, family, method) = (p.main_texture(), p.main_family(), p.main_method());
    let now = BatchShape { texture, family, method, ..shape.clone() };
    FitOutcome::Swapped { dish: dish.id.clone(), why: format!("{} in place of {}", now.words(), shape.words()) }
}

/// Turns shares of the usable piece into grams that add up to it with what is left.
fn share_out(template: &Template, rotation: &Rotation, choices: &mut Choices) {
    let kind = &rotation.kind;
    let usable = rotation.piece.usable_total(kind.portioned).get();
    let share = |b: &BatchShape| if draws_parts(b, kind) { u32::from(b.share.get()) } else { 0 };
    let grams = portions(usable, template.batches.iter().map(share));
    for (shape, grams) in template.batches.iter().zip(grams) {
        let Some(Ok(placed)) = choices.get_mut(&shape.number) else { continue };
        // A meal that fell away takes its grams with it.
        let meals = template.slots_of(shape.number);
        let each = portions(grams, meals.iter().map(|m| u32::from(m.share.get())));
        let lost = meals.iter().zip(each).filter(|(m, _)| !placed.meals.contains(m)).map(|(_, g)| g).sum::<u32>();
        placed.grams = grams - lost;
    }
}

/// `whole` divided by thousandths; what is missing to 1000 stays undivided.
fn portions(whole: u32, shares: impl Iterator<Item = u32>) -> Vec<u32> {
    let mut shares: Vec<u32> = shares.collect();
    let asked = shares.len();
    shares.push(1_000u32.saturating_sub(shares.iter().sum()));
    let mut grams = divide(whole, &shares);
    grams.truncate(asked);
    grams
}

impl Placed {
    /// The parts that keep until it is last eaten.
    fn parts(&self, rotation: &Rotation) -> impl Iterator<Item = &PartId> {
        let eaten = self.meals.iter().map(|m| m.day).max().unwrap_or(self.clock.made);
        self.clock.parts_until(rotation, eaten)
    }
}

/// Cuts the parts: those who can take the fewest parts choose first.
fn draw_parts(template: &Template, rotation: &mut Rotation, choices: &mut Choices) {
    let kind = rotation.kind.clone();
    let mut queue: Vec<(usize, DayNo, u32)> = Vec::new();
    for shape in template.batches.iter().filter(|b| draws_parts(b, &kind)) {
        if let Some(Ok(placed)) = choices.get(&shape.number) {
            let keeping: Vec<&PartId> = placed.parts(rotation).collect();
            let own = keeping.iter().filter(|p| placed.dish.suits_part(p)).count();
            // A dish that suits no part of this kind was written for another's: it may take any.
            let suited = if own > 0 { own } else { keeping.len() };
            queue.push((suited, placed.clock.made, shape.number));
        }
    }
    queue.sort_unstable();
    for (_, day, number) in queue {
        let Some(Ok(placed)) = choices.get(&number) else { continue };
        let draws = cut(rotation, placed);
        let (got, wanted) = (draws.iter().map(|d| d.portion.get()).sum::<u32>(), placed.grams);
        // Half a share still makes the meal; a mouthful is another one.
        if got == 0 || got < wanted / 2 {
            let name = &rotation.kind.name;
            let why = match got {
                0 => format!("nothing that keeps until then is left of the {name}"),
                _ => format!(
                    "only {} that keeps until then is left of the {name}, of the {} that it wants",
                    super::apply_meal::say(got),
                    super::apply_meal::say(wanted)
                ),
            };
            choices.insert(number, Err(why));
            continue;
        }
        let dish = placed.dish.clone();
        rotation.batches.push(Batch { id: BatchId(number), dish: dish.id.clone(), day, draws });
        rotation.dishes.insert(dish.id.clone(), dish);
    }
}

/// What one cooking takes: the dish's own parts first, then others; of both those that go off soonest, so that what keeps is
/// left to later meals.
fn cut(rotation: &Rotation, placed: &Placed) -> Vec<Draw> {
    let free = |p: &PartId| u32::try_from(rotation.free_in_part(p)).unwrap_or(0);
    let keeps = |p: &PartId| rotation.kind.part(p).map(|k| k.raw_days);
    let (mut own, mut others): (Vec<&PartId>, Vec<&PartId>) = placed.parts(rotation).partition(|p| placed.dish.suits_part(p));
    own.sort_by_key(|p| (keeps(p), placed.dish.parts.iter().position(|q| q == *p)));
    others.sort_by_key(|p| (keeps(p), std::cmp::Reverse(free(p))));
    let mut wanted = placed.grams;
    let mut draws = Vec::new();
    for part in own.into_iter().chain(others) {
        let grams = wanted.min(free(part));
        if grams > 0 {
            wanted -= grams;
            let portion = Portion::of(rotation.kind.portioned, grams);
            draws.push(Draw { from: Source::Part(part.clone()), portion, cut_on: None });
        }
    }
    draws
}

fn draw_batches_and_serve(template: &Template, rotation: &mut Rotation, choices: &mut Choices, order: &[usize]) {
    for &i in order {
        let shape = &template.batches[i];
        if let Some(why) = draw_batches(template, shape, rotation, choices) {
            rotation.batches.retain(|b| b.id.0 != shape.number);
            choices.insert(shape.number, Err(why));
            continue;
        }
        let Some(Ok(placed)) = choices.get_mut(&shape.number) else { continue };
        if !serve_meals(shape.number, rotation, placed) {
            rotation.batches.retain(|b| b.id.0 != shape.number);
            choices.insert(shape.number, Err("too little of the piece comes to it to be served".into()));
        }
    }
    drop_idle_components(template, rotation, choices);
    rotation.batches.sort_by_key(|b| b.id);
    let made: BTreeSet<DishId> = rotation.batches.iter().map(|b| b.dish.clone()).collect();
    rotation.dishes.retain(|id, _| made.contains(id));
}

/// A component of which nothing is made any more is not made either; what that leaves idle goes, too.
fn drop_idle_components(template: &Template, rotation: &mut Rotation, choices: &mut Choices) {
    let idle = |r: &Rotation| {
        let component = |b: &&Batch| template.batch(b.id.0).is_some_and(|s| s.role == Role::Component);
        let used = |b: &Batch| r.batches.iter().any(|u| u.draws_on(b.id));
        r.batches.iter().filter(component).find(|b| !used(b)).map(|b| b.id)
    };
    while let Some(id) = idle(rotation) {
        rotation.batches.retain(|b| b.id != id);
        choices.insert(id.0, Err("nothing that is made from it has a place".into()));
    }
}

/// Draws on the cookings that this one is made from; says why where that comes to nothing.
fn draw_batches(template: &Template, shape: &BatchShape, rotation: &mut Rotation, choices: &Choices) -> Option<String> {
    let Some(Ok(placed)) = choices.get(&shape.number) else { return None };
    for link in &shape.from {
        let Some(Ok(source)) = choices.get(&link.batch) else {
            return Some(format!("what it is made from, batch {}, has no place", link.batch));
        };
        let made = rotation.batch(BatchId(link.batch))?;
        let left = made.cooked(rotation.unserved(made), &source.dish).get();
        let users = || template.batches.iter().flat_map(|b| b.from.iter().map(move |l| (b.number, l)));
        let sharers: Vec<(u32, u32)> =
            users().filter(|(_, l)| l.batch == link.batch).map(|(n, l)| (n, u32::from(l.share.get()))).collect();
        let each = portions(left, sharers.iter().map(|s| s.1));
        let grams = sharers.iter().zip(each).find(|(s, _)| s.0 == shape.number).map_or(0, |(_, g)| g);
        if grams == 0 {
            return Some(format!("nothing of {} is left for it", source.dish.name));
        }
        let draw =
            Draw { from: Source::Batch(BatchId(link.batch)), portion: Portion::Cooked(Grams::clamped(grams)), cut_on: None };
        match rotation.batches.iter_mut().find(|b| b.id.0 == shape.number) {
            Some(batch) => batch.draws.push(draw),
            None => {
                let (id, dish) = (BatchId(shape.number), placed.dish.clone());
                rotation.batches.push(Batch { id, dish: dish.id.clone(), day: placed.clock.made, draws: vec![draw] });
                rotation.dishes.insert(dish.id.clone(), dish);
            }
        }
    }
    match rotation.batch(BatchId(shape.number)) {
        Some(_) => None,
        None => Some("it takes nothing of the piece".into()),
    }
}

/// Puts the servings on the table; false where none comes to a gram.
fn serve_meals(number: u32, rotation: &mut Rotation, placed: &mut Placed) -> bool {
    let Some(pool) = rotation.batch(BatchId(number)).map(Batch::pool) else { return false };
    // The meals that stayed share what went in as they did before, with the same part kept back.
    let shares: Vec<u32> = placed.meals.iter().map(|m| u32::from(m.share.get())).collect();
    let mut weights = shares;
    weights.push(placed.kept_back);
    let each = divide(pool.get(), &weights);
    let had_meals = !placed.meals.is_empty();
    let mut meals = Vec::new();
    for (meal, grams) in placed.meals.iter().zip(each) {
        if grams == 0 {
            continue;
        }
        let twins = serve::fitting_twins(rotation, &placed.dish, &rotation.eaters_at(meal.slot()));
        let serving = Serving { batch: BatchId(number), portion: pool.with(grams), eaters: Vec::new(), twins };
        rotation.meals.entry(meal.slot()).or_default().servings.push(serving);
        meals.push(*meal);
    }
    placed.meals = meals;
    !had_meals || !placed.meals.is_empty()
}

fn outcomes(template: &Template, choices: &Choices) -> Vec<SlotFit> {
    let mut slots: Vec<&SlotShape> = template.slots.iter().collect();
    slots.sort_by_key(|s| (template.time_rank(s), s.batch));
    let of = |number: u32, meal: Option<&SlotShape>| match choices.get(&number) {
        Some(Ok(placed)) if meal.is_none_or(|m| placed.meals.contains(m)) => placed.outcome.clone(),
        Some(Ok(placed)) => FitOutcome::Impossible { why: format!("{} does not keep until then", placed.dish.name) },
        Some(Err(why)) => FitOutcome::Impossible { why: why.clone() },
        None => FitOutcome::Impossible { why: "the shape does not say what it is".into() },
    };
    let day = |number: u32| template.batch(number).map_or(DayNo::FIRST, |b| b.day.max(DayNo::FIRST));
    let at_meals = slots.into_iter().map(|s| SlotFit {
        slot: Some(s.slot()),
        day: day(s.batch),
        batch: BatchId(s.batch),
        outcome: of(s.batch, Some(s)),
    });
    let ahead = template.batches.iter().filter(|b| template.slots_of(b.number).is_empty()).map(|b| SlotFit {
        slot: None,
        day: day(b.number),
        batch: BatchId(b.number),
        outcome: of(b.number, None),
    });
    at_meals.chain(ahead).collect()
}
