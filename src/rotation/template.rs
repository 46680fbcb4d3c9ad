//! Templates: the shape of a rotation, to be laid on another piece.
//!
//! A shape says which textures, flavours and methods come on which day, what is cooked once for two meals, and what share of
//! the piece each takes. It holds no grams and no recipe; the dish it was made from is only a hint.

use super::{BatchId, Invalid, MAX_DAYS, MAX_MEALTIMES, Mealtime, MealtimeId, Rotation, Slot, Source, piece::divide};
use crate::{
    book::{Dish, DishId, Family, Heat, KindId, Method, Role, Texture},
    quantity::{DayNo, PerMille},
};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// The most cookings that a shape may have.
const MAX_SHAPES: usize = 500;

/// The shape of a rotation.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// What the cook calls it.
    pub name: String,
    /// The kind it was made from.
    pub made_from: MadeFrom,
    /// How many days it has, 1 to [`MAX_DAYS`].
    pub days: u16,
    /// The mealtimes of every day, 1 to [`MAX_MEALTIMES`].
    pub mealtimes: Vec<Mealtime>,
    /// The cookings: those for meals and those made ahead.
    pub batches: Vec<BatchShape>,
    /// What each meal takes from which cooking, in the order of time. Two meals of one cooking share its number.
    pub slots: Vec<SlotShape>,
}

/// The kind that a shape was made from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MadeFrom {
    /// Its id.
    pub kind: KindId,
    /// What a cook calls it.
    pub name: String,
    /// Its family.
    #[serde(deserialize_with = "crate::book::family_in_file")]
    pub family: String,
}

/// How a cooking eats, what it takes, what it is made from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BatchShape {
    /// Its number within the shape.
    pub number: u32,
    /// When it is made.
    pub day: DayNo,
    /// A meal, a bank or a component.
    #[serde(default)]
    pub role: Role,
    /// Main texture.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub texture: Option<Texture>,
    /// Main seasoning family.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub family: Option<Family>,
    /// Main method.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<Method>,
    /// How warm it is served.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat: Option<Heat>,
    /// The dish it was made from: kept where it still fits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dish: Option<DishId>,
    /// Thousandths of the usable piece that it takes from the piece itself.
    pub share: PerMille,
    /// Cookings that it is made from.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub from: Vec<Link>,
}

/// A cooking made from another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Link {
    /// The number of the other.
    pub batch: u32,
    /// Thousandths of what the other leaves to later cookings.
    pub share: PerMille,
}

/// What a meal takes from a cooking.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SlotShape {
    /// The day.
    pub day: DayNo,
    /// The mealtime.
    pub mealtime: MealtimeId,
    /// The number of the cooking.
    pub batch: u32,
    /// Thousandths of the cooking.
    pub share: PerMille,
}

impl SlotShape {
    /// The cell of the calendar.
    pub fn slot(&self) -> Slot {
        Slot { day: self.day, mealtime: self.mealtime }
    }
}

impl BatchShape {
    fn of(number: u32, day: DayNo, dish: Option<&Dish>) -> BatchShape {
        let profile = dish.map(|d| &d.profile);
        BatchShape {
            number,
            day,
            role: dish.map_or(Role::Meal, |d| d.role),
            texture: profile.and_then(|p| p.main_texture()),
            family: profile.and_then(|p| p.main_family()),
            method: profile.and_then(|p| p.main_method()),
            heat: profile.and_then(|p| p.heat),
            dish: dish.map(|d| d.id.clone()),
            share: per_mille(0),
            from: Vec::new(),
        }
    }

    /// "charred, spiced, roast".
    pub fn words(&self) -> String {
        let words = [self.texture.map(|t| t.word()), self.family.map(|f| f.word()), self.method.map(|m| m.word())];
        let words: Vec<&str> = words.into_iter().flatten().collect();
        if words.is_empty() { "something nobody has described".into() } else { words.join(", ") }
    }
}

impl Template {
    /// The shape of `rotation`.
    pub fn of(rotation: &Rotation) -> Template {
        let taken = |id: BatchId| {
            rotation.batch(id).map_or(0, |b| {
                let from_piece = b.draws.iter().filter(|d| matches!(d.from, Source::Part(_)));
                from_piece.map(|d| d.portion.get()).fold(0, u32::saturating_add)
            })
        };
        let usable = rotation.piece.usable_total(rotation.kind.portioned).get();
        let shares = thousandths(usable, &rotation.batches.iter().map(|b| taken(b.id)).collect::<Vec<_>>());
        let mut batches: Vec<BatchShape> = Vec::new();
        for (b, share) in rotation.batches.iter().zip(shares) {
            let dish = rotation.dishes.get(&b.dish).map(|d| &**d);
            batches.push(BatchShape { share, ..BatchShape::of(b.id.0, b.day, dish) });
        }
        let mut slots = Vec::new();
        for b in &rotation.batches {
            let servings = rotation.servings_of(b.id);
            let shares = thousandths(b.pool().get(), &servings.iter().map(|(_, s)| s.portion.get()).collect::<Vec<_>>());
            for ((slot, _), share) in servings.into_iter().zip(shares) {
                slots.push(SlotShape { day: slot.day, mealtime: slot.mealtime, batch: b.id.0, share });
            }
            let later: Vec<(usize, u32)> = rotation
                .batches
                .iter()
                .enumerate()
                .filter_map(|(i, user)| {
                    let draw = user.draws.iter().find(|d| d.from == Source::Batch(b.id))?;
                    Some((i, draw.portion.get()))
                })
                .collect();
            let left = rotation.dishes.get(&b.dish).map_or(0, |d| b.cooked(rotation.unserved(b), d).get());
            let shares = thousandths(left, &later.iter().map(|(_, grams)| *grams).collect::<Vec<_>>());
            for ((user, _), share) in later.into_iter().zip(shares) {
                batches[user].from.push(Link { batch: b.id.0, share });
            }
        }
        slots.sort_by_key(|s| (rotation.time_rank(s.slot()), s.batch));
        Template {
            name: rotation.heading(),
            made_from: MadeFrom {
                kind: rotation.kind.id.clone(),
                name: rotation.kind.name.clone(),
                family: rotation.kind.family.clone(),
            },
            days: rotation.days,
            mealtimes: rotation.mealtimes.clone(),
            batches,
            slots,
        }
    }

    /// The cooking of this number.
    pub fn batch(&self, number: u32) -> Option<&BatchShape> {
        self.batches.iter().find(|b| b.number == number)
    }

    /// What of a cooking is eaten when, in the order of time.
    pub fn slots_of(&self, number: u32) -> Vec<&SlotShape> {
        let mut found: Vec<&SlotShape> = self.slots.iter().filter(|s| s.batch == number).collect();
        found.sort_by_key(|s| self.time_rank(s));
        found
    }

    pub(super) fn time_rank(&self, s: &SlotShape) -> (DayNo, usize) {
        (s.day, self.mealtimes.iter().position(|m| m.id == s.mealtime).unwrap_or(usize::MAX))
    }

    /// Places of the cookings so that each stands behind those that it is made from, else by day and number; nothing where
    /// they run in a circle.
    pub(super) fn order(&self) -> Option<Vec<usize>> {
        let place: BTreeMap<u32, usize> = self.batches.iter().enumerate().map(|(i, b)| (b.number, i)).collect();
        let mut waiting: Vec<usize> = (0..self.batches.len()).collect();
        waiting.sort_by_key(|&i| (self.batches[i].day, self.batches[i].number));
        let (mut order, mut done) = (Vec::new(), BTreeSet::new());
        while !waiting.is_empty() {
            let ready = |i: &usize| self.batches[*i].from.iter().all(|l| place.get(&l.batch).is_none_or(|p| done.contains(p)));
            let next = waiting.iter().position(ready)?;
            let next = waiting.remove(next);
            done.insert(next);
            order.push(next);
        }
        Some(order)
    }

    /// Checks every reference and sum of a shape that somebody may have written by hand.
    pub fn check(&self) -> Result<(), Invalid> {
        let bad = |what: String, near: &[String]| Err(Invalid { what, near: near.to_vec() });
        if !(1..=MAX_DAYS).contains(&self.days) {
            return bad(format!("{} days are planned; a shape has 1 to {MAX_DAYS}", self.days), &["days:".into()]);
        }
        let named: BTreeSet<MealtimeId> = self.mealtimes.iter().map(|m| m.id).collect();
        if !(1..=MAX_MEALTIMES).contains(&self.mealtimes.len()) || named.len() != self.mealtimes.len() {
            let what = format!("a day has 1 to {MAX_MEALTIMES} mealtimes, each with a number of its own");
            return bad(what, &["mealtimes:".into()]);
        }
        if self.batches.len() > MAX_SHAPES {
            return bad(format!("a shape has at most {MAX_SHAPES} batches"), &["batches:".into()]);
        }
        let mut seen = BTreeSet::new();
        for b in &self.batches {
            let near = ["batches:".to_string(), format!("number: {}", b.number)];
            if !seen.insert(b.number) {
                return bad(format!("the batch {} stands twice; give the second another number", b.number), &near);
            }
            if b.day > DayNo(self.days as i16) {
                return bad(format!("batch {} is made on {}, after the last day", b.number, b.day), &near);
            }
            for link in &b.from {
                match self.batch(link.batch) {
                    None => {
                        return bad(format!("batch {} is made from batch {}, which is not there", b.number, link.batch), &near);
                    }
                    Some(source) if source.day > b.day => {
                        return bad(format!("batch {} is made from batch {}, which is made later", b.number, link.batch), &near);
                    }
                    Some(_) => {}
                }
            }
        }
        if self.order().is_none() {
            return bad("the batches are made from each other in a circle; take one link out".into(), &["batches:".into()]);
        }
        let mut cells = BTreeSet::new();
        for s in &self.slots {
            let near = ["slots:".to_string(), format!("day: {}", s.day.0), format!("batch: {}", s.batch)];
            if !(1..=self.days as i16).contains(&s.day.0) || !named.contains(&s.mealtime) {
                return bad(format!("a meal stands at {}, mealtime {}, outside the calendar", s.day, s.mealtime.0), &near);
            }
            match self.batch(s.batch) {
                None => return bad(format!("a meal is served from batch {}, which is not there", s.batch), &near),
                Some(b) if b.role == Role::Component => {
                    return bad(format!("batch {} is a component and cannot be served as it is", s.batch), &near);
                }
                Some(_) => {}
            }
            if !cells.insert((s.slot(), s.batch)) {
                return bad(format!("one meal is served twice from batch {}; give it once", s.batch), &near);
            }
        }
        self.check_sums()
    }

    fn check_sums(&self) -> Result<(), Invalid> {
        let over =
            |what: String, near: String| Err(Invalid { what: format!("{what} add up to more than 1000"), near: vec![near] });
        let sum = |shares: &mut dyn Iterator<Item = PerMille>| shares.map(|s| u32::from(s.get())).sum::<u32>() > 1_000;
        if sum(&mut self.batches.iter().map(|b| b.share)) {
            return over("the shares of the batches".into(), "batches:".into());
        }
        for b in &self.batches {
            let number = b.number;
            if sum(&mut self.slots.iter().filter(|s| s.batch == number).map(|s| s.share)) {
                return over(format!("the shares of the meals from batch {number}"), "slots:".into());
            }
            if sum(&mut self.batches.iter().flat_map(|u| &u.from).filter(|l| l.batch == number).map(|l| l.share)) {
                return over(format!("the shares of what is made from batch {number}"), format!("number: {number}"));
            }
        }
        Ok(())
    }
}

/// A share known to lie in range.
pub(super) fn per_mille(thousandths: u32) -> PerMille {
    PerMille::new(thousandths.min(1_000) as u16).unwrap_or(PerMille::ALL)
}

/// What each of `takes` is of `whole`, in thousandths; what is left over counts, too, so that the shares with it make 1000.
fn thousandths(whole: u32, takes: &[u32]) -> Vec<PerMille> {
    let taken = takes.iter().copied().fold(0, u32::saturating_add);
    if taken == 0 {
        return takes.iter().map(|_| per_mille(0)).collect();
    }
    let mut all = takes.to_vec();
    all.push(whole.saturating_sub(taken));
    divide(1_000, &all).into_iter().take(takes.len()).map(per_mille).collect()
}
