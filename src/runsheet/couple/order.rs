//! What ties the steps of a dish to one another, to what is made of it, and to the table.

use super::{Ctx, HOT_STANDS, KEPT_WARM, PAN_WAITS, TAKE_OUT, WARM_STANDS, blank, paced};
use crate::{
    book::{Dish, Heat, Step, StepPlace, Texture},
    lists::same_word,
    runsheet::{LineKind, session::Making, words, work::Why},
};

/// How long a crunchy dish may stand before it is served. Common practice, no source.
const CRUNCHY_STANDS: i64 = 5;
/// A rest of a joint may be drawn out by so much.
const REST_WAITS: i64 = 20;
/// Where there is no other way what is done stands so long in its pan under a lid: the UK Food Standards Agency's two hours for hot
/// food that is not kept at 63 °C, once. With rice no longer than what is kept warm.
const OFF_THE_HEAT: i64 = 120;
/// A habit of so many minutes may give way; a shorter one is no habit but how the thing is done: the pan stays on its ring.
const MAY_GIVE_WAY: i64 = 10;
/// What is put into such a wait may stand so long before.
const BEFORE_LONG_WAIT: i64 = 30;

impl Ctx<'_, '_> {
    /// Ties the steps of a making to one another and to its meal.
    pub(super) fn order(&mut self, m: usize, preds: &[Vec<usize>]) {
        let making = &self.session.makings[m];
        let steps = &making.dish.steps;
        let works = self.by_step[m].clone();
        let followers = |q: usize| {
            let works = &works;
            (0..steps.len()).filter(move |&k| preds[k].contains(&q) && works_at(works, k).is_some())
        };
        let mut taken_out: Vec<Option<usize>> = vec![None; steps.len()];
        for q in 0..steps.len() {
            let Some(before) = works[q] else { continue };
            let baked = steps[q].place == StepPlace::Oven && !steps[q].hands;
            let by_hand = followers(q).any(|k| steps[k].hands);
            // Where the next step may not be ready in time, somebody takes it out for its own sake, and it stands.
            let by_hand = by_hand && !self.eased;
            let alone =
                followers(q).any(|k| !steps[k].hands && steps[k].place != StepPlace::Oven) || followers(q).next().is_none();
            if baked && (alone || !by_hand) && !followers(q).any(|k| !steps[k].hands && steps[k].place == StepPlace::Oven) {
                let what = format!("Take it out of the oven: {}", words::brief(&making.dish.name).to_lowercase());
                let mut out = blank(
                    LineKind::TakeOut,
                    &making.dish.name,
                    what,
                    paced(TAKE_OUT.0 as f64, self.session.kitchen.pace),
                    self.p.works[before].target,
                );
                out.batch = Some(making.batch.id);
                let out = self.p.add(out);
                self.p.link(before, out, 0, Some(TAKE_OUT.1), Why::Heat);
                taken_out[q] = Some(out);
            }
        }
        let mut ends = Vec::new();
        for q in 0..steps.len() {
            let Some(before) = works[q] else { continue };
            for k in followers(q) {
                let Some(after) = works[k] else { continue };
                // A wait begins the moment that what it follows is done.
                let waits = !steps[k].hands && matches!(steps[k].place, StepPlace::Bench | StepPlace::Fridge);
                let at_once = (waits && preds[k].len() == 1).then_some(0);
                match taken_out[q] {
                    Some(out) => {
                        let wait = steps[q].may_wait.map(i64::from);
                        let stands = (self.eased && wait.is_none() && steps[k].hands).then_some(KEPT_WARM);
                        let why = if stands.is_some() { Why::Fresh } else { Why::Order };
                        self.p.link(out, after, 0, at_once.or(wait).or(stands), why);
                    }
                    None => {
                        let target_changes = self.p.works[before].target != self.p.works[after].target;
                        let by_rule = wait_after(steps, q, k);
                        let mut max =
                            at_once.or(by_rule).or(target_changes.then_some(BEFORE_LONG_WAIT).filter(|_| steps[q].hands));
                        let mut why = Why::Order;
                        // What the book says holds; what is only our habit may give way.
                        if at_once.is_none() && by_rule.is_some() && steps[q].may_wait.is_none() {
                            if steps[q].place == StepPlace::Ring {
                                why = Why::Pan;
                            }
                            let habit = by_rule.is_some_and(|m| m >= MAY_GIVE_WAY) && steps[q].place != StepPlace::Oven;
                            if self.eased && habit {
                                let most = if words::has_rice(making.dish) { KEPT_WARM } else { OFF_THE_HEAT };
                                (max, why) = (max.map(|m| m.max(most)), Why::Pan);
                            }
                        }
                        self.p.link(before, after, 0, max, why);
                    }
                }
            }
            if followers(q).next().is_none() {
                ends.push((taken_out[q].unwrap_or(before), q));
            }
            if steps[q].text.to_lowercase().contains("within the hour")
                && let Some(k) = (q + 1..steps.len()).find(|&k| steps[k].place == StepPlace::Oven)
                && let Some(after) = works[k]
            {
                self.p.link(before, after, 0, Some(60), Why::Fridge);
            }
        }
        if let Some(serve) = making.sitting.and_then(|k| self.serve_up[k]) {
            for &(end, q) in &ends {
                let why = if steps[q].may_wait.is_some() { Why::Hold } else { Why::Fresh };
                self.p.link(end, serve, 0, stands_before_serving(making, &steps[q]), why);
            }
        }
        self.ends.push(ends.into_iter().map(|e| e.0).collect());
    }

    /// What a making gives to others of the day comes before the step that takes it.
    pub(super) fn components(&mut self, m: usize) {
        let making = &self.session.makings[m];
        let name = words::words(&making.dish.name);
        for &user in &making.feeds {
            let steps = &self.session.makings[user].dish.steps;
            let takes = |s: &Step| {
                let said = words::words(&s.text);
                said.iter().any(|w| {
                    w.len() > 3 && name.iter().any(|n| same_word(n, w)) || ["piece", "fish", "meat", "curd"].contains(&w.as_str())
                })
            };
            let at = steps.iter().position(takes).unwrap_or(0);
            let Some(after) = self.by_step[user].get(at).copied().flatten() else { continue };
            for end in self.ends[m].clone() {
                self.p.link(end, after, 0, None, Why::Order);
            }
        }
    }
}

fn works_at(works: &[Option<usize>], k: usize) -> Option<usize> {
    works.get(k).copied().flatten()
}

/// The steps that come right before one. Numbers that name no step are passed over.
pub(super) fn predecessors(steps: &[Step], k: usize) -> Vec<usize> {
    if steps[k].after.is_empty() {
        return k.checked_sub(1).into_iter().collect();
    }
    let mut all: Vec<usize> = steps[k].after.iter().copied().filter(|&q| q < steps.len()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// Whether nothing follows but waits that take neither hands nor heat: it cools in its jar, it chills.
pub(super) fn is_last_wait(dish: &Dish, k: usize) -> bool {
    dish.steps[k..].iter().all(|s| !s.hands && matches!(s.place, StepPlace::Bench | StepPlace::Fridge))
}

/// The longest wait between two steps of a dish, where there is one.
fn wait_after(steps: &[Step], q: usize, k: usize) -> Option<i64> {
    use StepPlace::{Bench, Oven, Ring};
    let (before, after) = (&steps[q], &steps[k]);
    if let Some(wait) = before.may_wait {
        return Some(i64::from(wait));
    }
    let next = k == q + 1 && after.after.is_empty();
    match (before.hands, before.place, after.hands, after.place) {
        // The pan stays on its ring, the tray in its oven.
        (true, Ring, false, Ring) | (true, Oven, false, Oven) if next => Some(0),
        (true, Ring, true, Bench) if after.text.to_lowercase().contains("boiling hot") => Some(1),
        (true, Ring, true, _) if next => Some(PAN_WAITS.1),
        (false, Oven, _, _) => Some(TAKE_OUT.1),
        (false, Ring, _, _) if words::stands(&before.text) => Some(PAN_WAITS.1),
        (false, Ring, _, _) => Some(PAN_WAITS.0),
        (false, Bench, true, _) if words::words(&before.text).iter().any(|w| w == "rest") => Some(REST_WAITS),
        _ => None,
    }
}

/// How long a dish may stand after its last step.
fn stands_before_serving(making: &Making<'_>, last: &Step) -> Option<i64> {
    if let Some(wait) = last.may_wait {
        return Some(i64::from(wait));
    }
    let crunchy = making.dish.profile.texture.first().is_some_and(|t| t.0 == Texture::Crunchy);
    match making.dish.profile.heat {
        Some(Heat::Hot) if crunchy => Some(CRUNCHY_STANDS),
        Some(Heat::Hot) => Some(HOT_STANDS),
        Some(Heat::Warm) => Some(WARM_STANDS),
        _ => None,
    }
}
