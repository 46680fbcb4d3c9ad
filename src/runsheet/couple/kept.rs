//! What is kept for other days: boxed, and in the fridge within its time.

use super::{Ctx, LONG_WAIT, blank, paced};
use crate::{
    book::Role,
    lists::Holds,
    quantity::Portion,
    rotation::{BatchId, Source},
    runsheet::{
        LineKind,
        couple::{AT_TABLE, FRIDGE_WITHIN},
        words,
        work::{Spot, Why, Work},
    },
};

/// Minutes for boxing and labelling one thing.
const BOX: i64 = 3;
/// Minutes for stripping a bird, a kilogram as bought: 20 for one of 5 kg. Common practice, no source.
const STRIP_PER_KG: f64 = 4.0;

impl Ctx<'_, '_> {
    /// What is kept of a hot dish is in the fridge within its time.
    pub(super) fn keep_back(&mut self) {
        let s = self.session;
        let mut boxes: Vec<(usize, Work, Option<i64>)> = Vec::new();
        for (m, making) in s.makings.iter().enumerate() {
            let limit = if words::has_rice(making.dish) { FRIDGE_WITHIN.1 } else { FRIDGE_WITHIN.0 };
            let hot = |w: &usize| matches!(self.p.works[*w].spot, Spot::Ring | Spot::Oven { .. });
            let all: Vec<usize> = self.by_step[m].iter().flatten().copied().collect();
            let last_hot = all.iter().filter(|w| hot(w)).max_by_key(|w| (self.p.reach(**w).iter().filter(|r| !**r).count(), **w));
            // What was never hot is put away in the same time.
            let Some(&leaves) = last_hot.or(self.ends[m].first()) else { continue };
            // What sets or chills in the fridge is cold in time if it goes in there in time; it is boxed whenever it has set.
            let chills = |w: &usize| self.p.works[*w].spot == Spot::Fridge && *w != leaves;
            let reached = self.p.reach(leaves);
            let cold = all.iter().copied().filter(chills).find(|&w| reached[w]);
            if let Some(cold) = cold {
                self.p.link(leaves, cold, 0, Some(limit), Why::Fridge);
            }
            // Its own step of putting away.
            let away = all.iter().copied().find(|&w| {
                w > leaves
                    && self.p.works[w].steps.iter().any(|r| words::puts_away(&making.dish.steps[r.step]))
                    && self.p.reach(leaves)[w]
            });
            if let Some(away) = away.filter(|_| making.dish.role != Role::Meal) {
                if cold.is_none() {
                    let max = limit - self.p.works[away].minutes;
                    self.p.link(leaves, away, 0, Some(max.max(0)), Why::Fridge);
                }
                continue;
            }
            let Some(kept) = &making.kept else { continue };
            let label = self.label(making.batch.id);
            let what = format!("Box what is kept for {}; {label}into the fridge", kept.purpose);
            let mut work = blank(LineKind::Box, &making.dish.name, what, paced(BOX as f64, s.kitchen.pace), 0);
            work.batch = Some(making.batch.id);
            work.portions = vec![("kept".into(), kept.portion)];
            boxes.push((leaves, work, cold.is_none().then_some(limit)));
        }
        if let Some((leaves, work)) = self.stripping() {
            boxes.push((leaves, work, Some(FRIDGE_WITHIN.0)));
        }
        let after_meal = s.last_at() + if self.serve_up.iter().any(Option::is_some) { AT_TABLE } else { 0 };
        let all: i64 = boxes.iter().map(|b| b.1.minutes).sum();
        for (leaves, mut work, limit) in boxes {
            let sat = s.makings.iter().find(|m| Some(m.batch.id) == work.batch).and_then(|m| m.sitting);
            let by = sat.map_or(after_meal, |k| s.sittings[k].at + AT_TABLE) + all + 8;
            work.target = self.p.target(format!("{}, put away", work.dish), by, None, sat);
            let minutes = work.minutes;
            let boxed = self.p.add(work);
            self.p.link(leaves, boxed, 0, limit.map(|l| (l - minutes).max(0)), Why::Fridge);
            let of_dish = s.makings.iter().position(|m| Some(m.batch.id) == self.p.works[boxed].batch);
            for end in of_dish.map(|m| self.ends[m].clone()).unwrap_or_default() {
                self.p.link(end, boxed, 0, None, Why::Order);
            }
        }
    }

    /// A whole piece that was cooked today is taken off the bone and boxed for later days.
    fn stripping(&self) -> Option<(usize, Work)> {
        let (s, r) = (self.session, self.session.rotation);
        if !r.kind.is_cooked_whole() || r.piece.opened != s.day {
            return None;
        }
        let roast = |w: &&usize| self.p.works[**w].hands == 0 && matches!(self.p.works[**w].spot, Spot::Ring | Spot::Oven { .. });
        let hot =
            s.makings.iter().zip(&self.by_step).filter(|(m, _)| m.batch.draws.iter().any(|d| matches!(d.from, Source::Part(_))));
        let (making, leaves) = hot
            .filter_map(|(m, works)| {
                works.iter().flatten().filter(roast).max_by_key(|w| self.p.works[**w].minutes).map(|w| (m, *w))
            })
            .filter(|(_, w)| self.p.works[*w].minutes >= LONG_WAIT)
            .max_by_key(|(_, w)| self.p.works[*w].minutes)?;
        let later = |part: &crate::book::PartId| {
            let draws = r.batches.iter().filter(|b| b.day > s.day).flat_map(|b| &b.draws);
            draws.filter(|d| d.from == Source::Part(part.clone())).map(|d| d.portion.get()).fold(0, u32::saturating_add)
        };
        let portions: Vec<(String, Portion)> = r
            .kind
            .parts
            .iter()
            .map(|p| (p.name.clone(), Portion::of(r.kind.portioned, later(&p.id))))
            .filter(|p| !p.1.is_zero())
            .collect();
        if portions.is_empty() {
            return None;
        }
        let kilograms = f64::from(r.piece.mass.get()) / 1_000.0;
        let what = format!("Strip the {} into shallow boxes of 5 cm or less, label them; into the fridge", r.kind.name);
        let mut work =
            blank(LineKind::Box, &making.dish.name, what, paced((STRIP_PER_KG * kilograms).max(5.0), s.kitchen.pace), 0);
        work.batch = Some(making.batch.id);
        work.portions = portions;
        Some((leaves, work))
    }

    /// "label \"Leaf rolls, eat by Thursday\", ".
    fn label(&self, batch: BatchId) -> String {
        let s = self.session;
        let found = self.labels.iter().find(|l| l.batch == Some(batch) && l.since == s.day && l.holds != Holds::Cut);
        found.map_or_else(String::new, |l| {
            format!("label it \"{}, {}, eat by {}\"; ", l.what, s.rotation.day_name(s.day), s.rotation.day_name(l.eat_by))
        })
    }
}
