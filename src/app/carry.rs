//! What is in the hand, where it may go, and what would come of it.
//!
//! Dragging, clicking and the keyboard share one way: something is [`Carried`], every cell can say what a drop there would
//! come to ([`Preview`]), and a drop becomes one edit ([`drop_edit`]). Only the manner of holding differs.

use super::view::View;
use crate::{
    book::{Dish, DishId, PartId, Role},
    judge::{Judgement, Verdict, judge_at_home, likeness_with},
    quantity::Portion,
    rotation::{
        BatchId, EaterId, Edit, Rotation, ServeFrom, Slot, Source, apply, best_source, cannot_eat, most_for, suggested_portion,
        typical_at,
    },
};
use std::{
    collections::{HashMap, hash_map::Entry},
    sync::Arc,
    time::{Duration, Instant},
};

/// Something picked up.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Carried {
    /// Free grams of a part, pinched off the block.
    Part(PartId),
    /// A dish from the shelf.
    Dish(DishId),
    /// What a meal serves from a batch.
    Serving {
        /// The meal.
        slot: Slot,
        /// The batch.
        batch: BatchId,
    },
    /// A batch that no meal has (all of): a bank, a component, a leftover.
    Batch(BatchId),
}

/// How it is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Held {
    /// By the pressed pointer; it drops on release.
    Drag,
    /// Picked up by a click: the next click puts it down.
    Click,
    /// By the keyboard, over this meal.
    Keys(Slot),
}

/// Something in the hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Carry {
    /// What.
    pub what: Carried,
    /// How.
    pub held: Held,
    /// Whether a further serving is meant: the batch stays where it is served, too.
    pub again: bool,
}

impl Carried {
    /// The words on the chip that follows the hand: "280 g of middle".
    pub fn words(&self, view: &View<'_>) -> String {
        let r = view.rotation;
        match self {
            Carried::Part(part) => {
                let name = r.kind.part(part).map_or("it", |p| p.name.as_str());
                format!("{} of {name}", view.portion(most_for(r, &Source::Part(part.clone()))))
            }
            Carried::Dish(id) => view.book.dish(id).map_or_else(|| id.to_string(), |d| d.name.clone()),
            Carried::Serving { slot, batch } => {
                let name = r.dish_of(*batch).map_or("that", |d| d.name.as_str());
                let grams = r.meal(*slot).serving(*batch).map_or(0, |s| s.portion.get());
                format!("{} of {name}", view.grams(grams))
            }
            Carried::Batch(batch) => r.dish_of(*batch).map_or_else(|| "that".into(), |d| d.name.clone()),
        }
    }
}

/// The dishes that a shelf may offer for a meal, the least alike to their neighbours first.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// The dish.
    pub dish: Arc<Dish>,
    /// The highest likeness to a neighbouring meal, faded by the days between; nothing where there is none to compare.
    pub alike: Option<f64>,
    /// What the household would say.
    pub verdict: Verdict,
    /// The neighbour it is most like.
    pub like: Option<Slot>,
    /// Whether something of the piece is free for it.
    pub has_grams: bool,
    /// Whether what it would be made of is a part that suits it.
    pub suits_part: bool,
    /// The meal that serves it already.
    pub served: Option<Slot>,
    /// Those at that meal who must not eat it, or may not and have no twin of it.
    pub not_for: Vec<EaterId>,
    /// Typical grams for that meal.
    pub grams: u32,
}

/// The nearest meals with a dish before and after `slot`, leaving `but` out.
fn neighbours(view: &View<'_>, slot: Slot, but: Option<Slot>) -> Vec<(Slot, Arc<Dish>)> {
    let r = view.rotation;
    let here = r.time_rank(slot);
    let mut before = None;
    let mut after = None;
    for other in r.slots().filter(|s| Some(*s) != but && *s != slot) {
        let Some((_, dish)) = view.main_serving(other) else { continue };
        if dish.role != Role::Meal {
            continue;
        }
        if r.time_rank(other) < here {
            before = Some((other, dish.clone()));
        } else if after.is_none() {
            after = Some((other, dish.clone()));
        }
    }
    before.into_iter().chain(after).collect()
}

/// The most that a dish would be felt to be like a neighbour, by the household's own patience.
fn felt(view: &View<'_>, dish: &Dish, slot: Slot, but: Option<Slot>) -> Option<(f64, Slot)> {
    let patience = &view.hearth.home().patience;
    let mut worst: Option<(f64, Slot)> = None;
    for (other, neighbour) in neighbours(view, slot, but) {
        if let Some(whole) = likeness_with(&patience.weights, &dish.profile, &neighbour.profile).whole {
            let felt = whole * patience.kernel.after(slot.day.0 - other.day.0);
            if worst.is_none_or(|(w, _)| felt > w) {
                worst = Some((felt, other));
            }
        }
    }
    worst
}

/// All dishes of the book that suit the kind, as offers for `slot`, best first: those that can be had of a part that suits
/// them, that everybody there may eat, that are not planned yet, that do not repeat a neighbour; then the least alike to
/// anything else in the plan.
pub fn offers(view: &View<'_>, slot: Slot) -> Vec<Offer> {
    let r = view.rotation;
    let planned: Vec<Arc<Dish>> =
        r.slots().filter(|s| *s != slot).filter_map(|s| view.main_serving(s)).map(|(_, d)| d.clone()).collect();
    let mut out: Vec<(Rank, Offer)> = view.book.dishes_for(&r.kind).map(|dish| offer(view, slot, dish, &planned)).collect();
    out.sort_by(|(a, x), (b, y)| a.cmp(b).then_with(|| x.dish.name.cmp(&y.dish.name)));
    out.into_iter().map(|(_, offer)| offer).collect()
}

/// What an offer is sorted by, the lesser the better; likenesses in thousandths.
type Rank = (bool, bool, bool, bool, bool, u8, u32, u32);

fn offer(view: &View<'_>, slot: Slot, dish: &Arc<Dish>, planned: &[Arc<Dish>]) -> (Rank, Offer) {
    let r = view.rotation;
    let is_meal = dish.role == Role::Meal;
    let worst = is_meal.then(|| felt(view, dish, slot, Some(slot))).flatten();
    let verdict = worst.map_or(Verdict::Fine, |(alike, _)| view.hearth.home().patience.lines.verdict(Some(alike)));
    // At a meal that is served already the dish would take over what stands there.
    let here =
        view.main_serving(slot).filter(|(s, d)| d.role == Role::Meal && s.portion.state() == dish.state && dish.from.is_empty());
    let source = source_for(r, dish, slot);
    let suits = |source: &Source| match source {
        Source::Part(part) => dish.suits_part(part),
        Source::Batch(_) => true,
    };
    let suits_here = here.and_then(|(s, _)| r.batch(s.batch)).is_some_and(|b| b.draws.iter().all(|d| suits(&d.from)));
    let makes = |s: &Slot| r.meal(*s).servings.iter().any(|x| r.batch(x.batch).is_some_and(|b| b.dish == dish.id));
    let offer = Offer {
        dish: dish.clone(),
        alike: worst.map(|w| w.0),
        verdict,
        like: worst.map(|w| w.1),
        has_grams: here.is_some() || source.is_some(),
        suits_part: suits_here || source.as_ref().is_some_and(suits),
        grams: typical_at(r, dish, slot),
        served: Some(slot).filter(makes).or_else(|| r.slots().find(makes)),
        not_for: r.eaters_at(slot).into_iter().filter(|e| cannot_eat(r, dish, *e)).collect(),
    };
    let weights = &view.hearth.home().patience.weights;
    let anywhere =
        planned.iter().filter_map(|other| likeness_with(weights, &dish.profile, &other.profile).whole).fold(0.0, f64::max);
    let thousandths = |alike: f64| (alike * 1_000.0) as u32;
    let rank = (
        !is_meal,
        !offer.has_grams,
        !offer.not_for.is_empty(),
        !offer.suits_part,
        offer.served.is_some(),
        match verdict {
            Verdict::Fine => 0,
            Verdict::Unknown => 1,
            Verdict::Caution => 2,
            Verdict::Warn => 3,
        },
        thousandths(anywhere),
        thousandths(offer.alike.unwrap_or(0.0)),
    );
    (rank, offer)
}

/// Where a dish would be taken from at `slot`.
fn source_for(r: &Rotation, dish: &Dish, slot: Slot) -> Option<Source> {
    best_source(r, dish, slot.day, typical_at(r, dish, slot))
}

/// The dish that free grams of `part` would become at `slot`: the chosen one if it suits, else the best offer that does.
fn dish_for_part(view: &View<'_>, part: &PartId, slot: Slot, chosen: Option<&DishId>) -> Option<Arc<Dish>> {
    let r = view.rotation;
    let suits = |d: &Dish| d.role == Role::Meal && d.state == r.kind.portioned && d.suits_family(&r.kind.family);
    if let Some(dish) = chosen.and_then(|id| view.book.dish(id))
        && suits(dish)
    {
        return Some(dish.clone());
    }
    let used: Vec<&DishId> = r.batches.iter().map(|b| &b.dish).collect();
    let mut fitting: Vec<Offer> = offers(view, slot).into_iter().filter(|o| suits(&o.dish)).collect();
    fitting.sort_by_key(|o| {
        (!o.not_for.is_empty(), o.dish.parts.is_empty() || !o.dish.suits_part(part), used.contains(&&o.dish.id))
    });
    fitting.into_iter().map(|o| o.dish).next()
}

/// The edit that a drop of `what` at `slot` comes to, or why there is none. `again` asks for a further serving.
pub fn drop_edit(view: &View<'_>, what: &Carried, slot: Slot, again: bool, chosen: Option<&DishId>) -> Result<Edit, String> {
    let r = view.rotation;
    match what {
        Carried::Part(part) => drop_part(view, part, slot, chosen),
        Carried::Dish(id) => match view.book.dish(id) {
            Some(dish) => drop_dish(view, dish, slot, again),
            None => Err("the book has no such dish any more".into()),
        },
        Carried::Serving { slot: from, batch } if again => {
            if *from == slot {
                return Err("it is served there already".into());
            }
            Ok(Edit::ServeAgain { batch: *batch, slot, portion: None })
        }
        Carried::Serving { slot: from, .. } if *from == slot => Err("this is where it was".into()),
        Carried::Serving { slot: from, batch } => {
            let only_banks = r.meal(slot).servings.iter().all(|s| r.dish_of(s.batch).is_some_and(|d| d.role == Role::Bank));
            let alone = r.meal(*from).servings.len() == 1 || r.dish_of(*batch).is_some_and(|d| d.role == Role::Meal);
            if r.meal(slot).servings.is_empty() || only_banks || !alone {
                Ok(Edit::MoveServing { from: *from, batch: *batch, to: slot })
            } else {
                Ok(Edit::SwapMeals(*from, slot))
            }
        }
        Carried::Batch(id) => drop_batch(view, *id, slot),
    }
}

fn drop_part(view: &View<'_>, part: &PartId, slot: Slot, chosen: Option<&DishId>) -> Result<Edit, String> {
    let r = view.rotation;
    let source = Source::Part(part.clone());
    let main = view.main_serving(slot).filter(|(_, dish)| dish.role == Role::Meal);
    if let Some((serving, dish)) = main {
        let free = most_for(r, &source).get();
        let units = r.household.units(crate::rotation::eaten_by(r, serving, &r.eaters_at(slot)));
        let room = units.times(dish.grams.2).saturating_sub(serving.portion.get());
        if free == 0 {
            return Err("nothing of it is free".into());
        }
        if room == 0 {
            return Err(format!("{} is full: {} for an adult is the most", dish.name, view.grams(dish.grams.2)));
        }
        let portion = serving.portion.with(free.min(room));
        return Ok(Edit::TopUp { slot, batch: serving.batch, part: part.clone(), portion });
    }
    let Some(dish) = dish_for_part(view, part, slot, chosen) else {
        return Err("the book has no dish for it".into());
    };
    let portion = suggested_portion(r, &dish, &source, slot);
    Ok(Edit::Serve { dish, from: ServeFrom::Source(source), slot, portion: Some(portion) })
}

fn drop_dish(view: &View<'_>, dish: &Arc<Dish>, slot: Slot, again: bool) -> Result<Edit, String> {
    let r = view.rotation;
    if dish.role != Role::Meal {
        // A bank is filled from what is free, and what stands ready of it is served.
        let ready = r
            .batches
            .iter()
            .find(|b| b.dish == dish.id && dish.role == Role::Bank && b.day <= slot.day && !r.unserved(b).is_zero());
        if let Some(batch) = ready
            && !r.meal(slot).servings.is_empty()
        {
            return Ok(Edit::ServeAgain { batch: batch.id, slot, portion: None });
        }
        let source = source_for(r, dish, slot).ok_or_else(|| format!("nothing of the {} is free for it", r.kind.name))?;
        let portion = most_for(r, &source);
        return Ok(Edit::MakeAhead { dish: dish.clone(), day: slot.day, source, portion });
    }
    let main = view.main_serving(slot).filter(|(_, d)| d.role == Role::Meal);
    match main {
        Some((serving, _)) if !again => Ok(Edit::ChangeDish { batch: serving.batch, dish: dish.clone() }),
        _ => Ok(Edit::Serve { dish: dish.clone(), from: ServeFrom::BestPart, slot, portion: None }),
    }
}

fn drop_batch(view: &View<'_>, id: BatchId, slot: Slot) -> Result<Edit, String> {
    let r = view.rotation;
    let Some(made) = r.dish_of(id) else {
        return Err("it is not there any more".into());
    };
    if made.role != Role::Component {
        return Ok(Edit::ServeAgain { batch: id, slot, portion: None });
    }
    let made_id = made.id.clone();
    let dish = offers(view, slot).into_iter().map(|o| o.dish).find(|d| d.from.contains(&made_id));
    let Some(dish) = dish else {
        return Err(format!("the book has no dish made from {}", made.name));
    };
    Ok(Edit::Serve { dish, from: ServeFrom::Source(Source::Batch(id)), slot, portion: None })
}

/// What would come of a drop, in words for the cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Preview {
    /// It fits.
    Fits {
        /// The dish that would stand there.
        name: String,
        /// "fits: 280 g of 280 g free".
        fits: String,
        /// "fine after Wednesday supper: both hot".
        beside: String,
        /// "feels like 3.7 → 4.0 of 4".
        feels: String,
        /// What the household would say of the neighbours.
        verdict: Verdict,
        /// A stop that the drop would raise.
        stop: Option<String>,
    },
    /// It does not, and why.
    Refused(String),
}

/// Reckons what a drop would come to: applies the edit to a copy and asks the judges.
pub fn preview(view: &View<'_>, what: &Carried, slot: Slot, again: bool, chosen: Option<&DishId>) -> Preview {
    let edit = match drop_edit(view, what, slot, again, chosen) {
        Ok(edit) => edit,
        Err(why) => return Preview::Refused(why),
    };
    let done = match apply(view.rotation, &edit) {
        Ok(done) => done,
        Err(refusal) => return Preview::Refused(refusal.0),
    };
    let after = judge_at_home(&done.rotation, view.hearth.home());
    let next = Arc::new(done.rotation);
    let next_view = View { rotation: &next, judged: &after, ..*view };
    let name = next_view.main_serving(slot).map(|(_, d)| d.name.clone()).unwrap_or_default();
    let grams = next_view.main_serving(slot).map_or(0, |(s, _)| s.portion.get());
    let free_before = view.judged.balance.unallocated.max(0) as u32;
    let fits = match &edit {
        Edit::Serve { from: ServeFrom::Source(source), .. } => {
            format!("fits: {} of {} free", view.grams(grams), view.portion(most_for(view.rotation, source)))
        }
        Edit::Serve { .. } | Edit::TopUp { .. } => format!("fits: {} of {} free", view.grams(grams), view.grams(free_before)),
        Edit::SwapMeals(from, _) => format!("swaps with {}", view.rotation.slot_name(*from)),
        Edit::MakeAhead { portion, .. } => format!("makes it of {}", view.portion(*portion)),
        Edit::ChangeDish { .. } => format!("instead: {}", view.grams(grams)),
        _ => format!("fits: {}", view.grams(grams)),
    };
    let (beside, verdict) = beside_words(&next_view, &after, slot);
    let (a, b) = (&view.judged.variety.distinct, &after.variety.distinct);
    let feels = match (a.meals, b.meals) {
        (_, 0) => String::new(),
        (0, n) => format!("feels like {:.1} of {n}", b.feel_like),
        (_, n) => format!("feels like {:.1} → {:.1} of {n}", a.feel_like, b.feel_like),
    };
    let stop = after
        .findings
        .iter()
        .find(|f| f.severity == crate::judge::Severity::Stop && !view.judged.findings.iter().any(|old| old.key == f.key))
        .map(|f| without_place(&f.text, &view.rotation.slot_name(slot)));
    Preview::Fits { name, fits, beside, feels, verdict, stop }
}

/// A finding without the meal and dish that the hand is over anyway: "tail block raw 2 days against 1".
fn without_place(text: &str, place: &str) -> String {
    match text.split_once(": ") {
        Some((before, after)) if before.starts_with(place) => after.to_string(),
        _ => text.to_string(),
    }
}

/// The worst link of a meal to its neighbours, in words.
fn beside_words(view: &View<'_>, after: &Judgement, slot: Slot) -> (String, Verdict) {
    let worst = after.variety.pairs.iter().filter(|p| p.first == slot || p.second == slot).max_by(|a, b| {
        let felt = |p: &crate::judge::Pair| p.felt.unwrap_or(0.0);
        felt(a).total_cmp(&felt(b))
    });
    match worst {
        None => ("no neighbour to compare".into(), Verdict::Fine),
        Some(pair) => {
            let (word, other) = if pair.second == slot { ("after", pair.first) } else { ("before", pair.second) };
            let shared: Vec<&str> = pair.shares.iter().filter(|s| s.shared).map(|s| s.words.as_str()).take(2).collect();
            let what = if shared.is_empty() { "nothing shared".into() } else { shared.join(", ") };
            (
                format!("{} {word} {}: {what}", super::view::verdict_words(pair.verdict), view.rotation.slot_name(other)),
                pair.verdict,
            )
        }
    }
}

/// Previews of one carrying, reckoned as they are needed and kept until the plan or the hand changes.
#[derive(Default)]
pub struct Previews {
    key: Option<(u64, Carried, bool, Option<DishId>)>,
    known: HashMap<Slot, Preview>,
}

/// How long one frame may spend on previews; the rest follows in the next frames.
const BUDGET: Duration = Duration::from_millis(4);

impl Previews {
    /// Takes up a carrying; forgets what was known of another one.
    pub fn begin(&mut self, view: &View<'_>, what: &Carried, again: bool, chosen: Option<&DishId>) -> PreviewBudget {
        let key = Some((view.revision, what.clone(), again, chosen.cloned()));
        if self.key != key {
            self.key = key;
            self.known.clear();
        }
        PreviewBudget { until: Instant::now() + BUDGET, short: false }
    }

    /// The preview at `slot`; nothing yet where this frame's time is spent. A `wanted` one is reckoned at once.
    pub fn at(&mut self, budget: &mut PreviewBudget, view: &View<'_>, slot: Slot, wanted: bool) -> Option<&Preview> {
        let (_, what, again, chosen) = self.key.clone()?;
        match self.known.entry(slot) {
            Entry::Occupied(known) => Some(known.into_mut()),
            Entry::Vacant(_) if !wanted && Instant::now() >= budget.until => {
                budget.short = true;
                None
            }
            Entry::Vacant(place) => Some(place.insert(preview(view, &what, slot, again, chosen.as_ref()))),
        }
    }
}

/// This frame's time for previews.
pub struct PreviewBudget {
    until: Instant,
    /// Whether some previews had to wait: another frame is wanted.
    pub short: bool,
}

/// The most that can be pinched off a part.
pub fn free_portion(view: &View<'_>, part: &PartId) -> Portion {
    most_for(view.rotation, &Source::Part(part.clone()))
}
