//! A run sheet read beside its plan by somebody who knows kitchens and not the program: every rule is looked up anew in the
//! dishes and in the lines, and nothing of the coupling is shared.

use std::collections::BTreeMap;
use tranche::{
    book::{Dish, Heat, Role, StepPlace},
    quantity::State,
    rotation::{Batch, BatchId, Rotation, Source},
    runsheet::{Line, LineKind, Place, RunSheet},
};

/// Companions that are raw flesh when they come to the board.
const RAW: &[&str] = &[
    "beef mince",
    "pork mince",
    "lamb mince",
    "white fish fillet",
    "chicken thigh",
    "stewing beef",
    "pork strips",
    "pork loin steaks",
    "diced lamb",
];
/// Words of raw flesh in a step, and of a knife.
const FLESH: &[&str] = &["fish", "beef", "pork", "lamb", "chicken", "mince"];
const KNIFE: &[&str] = &["cut", "slice", "shred", "chop", "dice", "grate", "peel", "halve"];

fn says(text: &str, words: &[&str]) -> bool {
    text.to_lowercase().split(|c: char| !c.is_alphabetic()).any(|w| words.iter().any(|k| w == *k || w == format!("{k}s")))
}

/// Lines of the sheet with the rule that one of them breaks.
pub struct Reader<'a> {
    plan: &'a Rotation,
    sheet: &'a RunSheet,
    begin: i64,
}

type Verdict = Result<(), String>;

fn rule(holds: bool, what: impl FnOnce() -> String) -> Verdict {
    if holds { Ok(()) } else { Err(what()) }
}

fn overlap(a: &Line, b: &Line) -> bool {
    a.from < b.to && b.from < a.to
}

/// Checks everything.
pub fn check(plan: &Rotation, sheet: &RunSheet, begin: i64) -> Verdict {
    let r = Reader { plan, sheet, begin };
    r.clock()?;
    r.hands()?;
    r.seats()?;
    r.oven()?;
    r.steps()?;
    r.board()?;
    r.table()?;
    r.fridge()?;
    r.twins()?;
    r.makings_of_makings()
}

impl Reader<'_> {
    fn lines(&self) -> &[Line] {
        &self.sheet.lines
    }

    fn made(&self) -> impl Iterator<Item = (&Batch, &Dish)> {
        self.plan.batches.iter().filter(|b| b.day == self.sheet.day).map(|b| (b, &*self.plan.dishes[&b.dish]))
    }

    fn of_step(&self, batch: BatchId, step: usize) -> Option<&Line> {
        self.lines().iter().find(|l| l.steps.iter().any(|s| s.batch == batch && s.step == step))
    }

    fn clock(&self) -> Verdict {
        for l in self.lines() {
            rule(l.from < l.to && l.from >= self.begin, || format!("{} runs from {} to {}", l.what, l.from, l.to))?;
        }
        rule(self.lines().windows(2).all(|w| w[0].from <= w[1].from), || "the lines are not by the clock".into())
    }

    fn hands(&self) -> Verdict {
        let cooks = usize::from(self.sheet.kitchen.cooks);
        for l in self.lines() {
            let busy: Vec<&Line> = self.lines().iter().filter(|o| o.hands && o.from <= l.from && l.from < o.to).collect();
            let sitting = self.lines().iter().any(|o| o.kind == LineKind::Sit && o.from <= l.from && l.from < o.to);
            rule(busy.len() <= if sitting { 0 } else { cooks }, || {
                format!("{} things for {cooks} cooks at {}, sitting: {sitting}", busy.len(), l.from)
            })?;
            let mut who: Vec<_> = busy.iter().map(|b| b.cook).collect();
            who.sort_unstable();
            who.dedup();
            rule(
                who.len() == busy.len() && who.iter().all(|c| c.is_some_and(|c| (1..=cooks).contains(&usize::from(c)))),
                || format!("cooks {who:?} at {}", l.from),
            )?;
        }
        Ok(())
    }

    fn seats(&self) -> Verdict {
        for (k, a) in self.lines().iter().enumerate() {
            if let Place::Ring(n) = a.place {
                rule((1..=self.sheet.kitchen.rings).contains(&n), || format!("ring {n} of {}", self.sheet.kitchen.rings))?;
            }
            for b in &self.lines()[k + 1..] {
                if !overlap(a, b) {
                    continue;
                }
                match (&a.place, &b.place) {
                    (Place::Ring(x), Place::Ring(y)) => {
                        rule(x != y, || format!("two pans on ring {x} at {}: {} and {}", b.from, a.what, b.what))?
                    }
                    (Place::Oven { shelves: x, celsius: p, .. }, Place::Oven { shelves: y, celsius: q, .. }) => {
                        rule(x.iter().all(|s| !y.contains(s)), || format!("two dishes on a shelf at {}", b.from))?;
                        rule(p == q, || format!("the oven at {p} and {q} at once, {}", b.from))?;
                    }
                    _ => {}
                }
                let appliance = |l: &Line| {
                    l.steps.iter().find_map(|s| {
                        let dish = self.plan.dish_of(s.batch)?;
                        dish.steps[s.step].appliance.clone()
                    })
                };
                rule(appliance(a).is_none() || appliance(a) != appliance(b), || {
                    format!("one {:?} used twice at {}", appliance(a), b.from)
                })?;
            }
        }
        Ok(())
    }

    /// Heats within what each dish bears, warmed and changed in time, nothing in it while it changes.
    fn oven(&self) -> Verdict {
        let mut inside: Vec<(&Line, i64)> = Vec::new();
        let mut heating: Vec<(&Line, i64)> = Vec::new();
        for l in self.lines() {
            let Place::Oven { set_to, celsius, fan, shelves } = &l.place else { continue };
            rule(*fan == self.sheet.kitchen.fan && *set_to == if *fan { celsius - 20 } else { *celsius }, || {
                format!("set to {set_to} for {celsius}")
            })?;
            match l.kind {
                LineKind::OvenOn | LineKind::OvenTo => heating.push((l, *celsius)),
                _ => {
                    rule(!shelves.is_empty() && shelves.iter().all(|s| (1..=self.sheet.kitchen.shelves).contains(s)), || {
                        format!("shelves {shelves:?}")
                    })?;
                    for s in &l.steps {
                        let dish = self.plan.dish_of(s.batch).ok_or("no dish")?;
                        let text = &dish.steps[s.step].text;
                        let own: Option<i64> = text.split("°C").next().and_then(|h| {
                            let h = h.trim_end_matches([' ', '\u{a0}']);
                            h[h.rfind(|c: char| !c.is_ascii_digit())
                                .map_or(0, |i| i + h[i..].chars().next().map_or(1, char::len_utf8))..]
                                .parse()
                                .ok()
                        });
                        let own = own.filter(|c| text.contains("°C") && *c >= 100);
                        let (low, high) = match (own, dish.oven) {
                            (Some(c), _) => (c - 10, c + 10),
                            (None, Some((_, low, high))) => (i64::from(low), i64::from(high)),
                            (None, None) => return Err(format!("{} has no oven", dish.id)),
                        };
                        rule((low..=high).contains(celsius), || format!("{} at {celsius}, it bears {low} to {high}", dish.id))?;
                    }
                    inside.push((l, *celsius));
                }
            }
        }
        inside.sort_by_key(|(l, _)| l.from);
        heating.sort_by_key(|(l, _)| l.from);
        for (h, _) in &heating {
            rule(inside.iter().all(|(l, _)| !overlap(l, h)), || format!("food in the oven while it changes at {}", h.from))?;
        }
        let mut hot: Option<i64> = None;
        let mut out_at = i64::MIN;
        for (l, celsius) in &inside {
            // An oven that nobody has needed for an hour is off and cold.
            let used = heating.iter().filter(|(h, _)| h.to <= l.from && h.kind == LineKind::OvenTo).map(|(h, _)| h.from);
            let since = used.filter(|from| *from >= out_at).min().unwrap_or(l.from);
            let before = hot.filter(|_| since - out_at < 60);
            let ready = heating.iter().rfind(|(h, c)| h.to <= l.from && c == celsius && h.from >= out_at);
            if before != Some(*celsius) {
                let (h, _) = ready.ok_or_else(|| format!("{} goes in at {celsius} and nobody made the oven so", l.what))?;
                let least = match before {
                    None if *celsius >= 200 => 20,
                    None if *celsius > 120 => 15,
                    None => 10,
                    Some(before) if before < *celsius => (celsius - before) / 5,
                    Some(before) if (50..=80).contains(&(before - celsius)) => 20,
                    Some(before) => (before - celsius) / 5,
                };
                rule(h.minutes() >= least, || format!("{} min for the oven from {before:?} to {celsius}", h.minutes()))?;
                rule((h.kind == LineKind::OvenOn) == before.is_none(), || {
                    format!("\"{}\" at {}, and the oven was at {before:?}", h.what, h.from)
                })?;
            }
            hot = Some(*celsius);
            out_at = out_at.max(l.to);
        }
        Ok(())
    }

    /// Each step once, in its order, where and by whom the book says, for as long as it says.
    fn steps(&self) -> Verdict {
        let mut times: BTreeMap<(BatchId, usize), usize> = BTreeMap::new();
        for s in self.lines().iter().flat_map(|l| &l.steps) {
            *times.entry((s.batch, s.step)).or_default() += 1;
        }
        for (batch, dish) in self.made() {
            for (k, step) in dish.steps.iter().enumerate() {
                let later = self.sheet.later.iter().any(|l| l.contains(&step.text));
                let count = times.get(&(batch.id, k)).copied().unwrap_or(0);
                rule(count == usize::from(!later), || format!("step {k} of {} stands {count} times", dish.id))?;
                if later {
                    continue;
                }
                let line = self.of_step(batch.id, k).unwrap();
                rule(line.hands == step.hands, || format!("hands of step {k} of {}", dish.id))?;
                let place = match step.place {
                    StepPlace::Ring => matches!(line.place, Place::Ring(_)),
                    StepPlace::Oven => matches!(line.place, Place::Oven { .. }),
                    StepPlace::Fridge if !step.hands => line.place == Place::Fridge,
                    _ => matches!(line.place, Place::Bench | Place::Waiting),
                };
                rule(place, || format!("step {k} of {} is at {:?}", dish.id, line.place))?;
                let by_mass = step.text.contains("kilogram") || step.text.contains("this for");
                rule(step.hands || by_mass || line.minutes() >= i64::from(step.minutes), || {
                    format!("step {k} of {} takes {}, the book says {}", dish.id, line.minutes(), step.minutes)
                })?;
                let before: Vec<usize> =
                    if step.after.is_empty() { k.checked_sub(1).into_iter().collect() } else { step.after.clone() };
                for q in before {
                    let Some(first) = self.of_step(batch.id, q) else { continue };
                    rule(first.to <= line.from, || {
                        format!("{}: step {k} at {} before step {q} ends at {}", dish.id, line.from, first.to)
                    })?;
                    if let Some(wait) = dish.steps[q].may_wait {
                        // Taking it out of the oven comes between.
                        let wait = i64::from(wait) + if dish.steps[q].place == StepPlace::Oven { 4 } else { 0 };
                        rule(line.from - first.to <= wait, || format!("{}: step {q} waits {}", dish.id, line.from - first.to))?;
                    }
                    if dish.steps[q].place == StepPlace::Oven && !dish.steps[q].hands {
                        let out = self.lines().iter().any(|l| {
                            l.hands && l.batch == Some(batch.id) && (0..=2).contains(&(l.from - first.to))
                                || l.from == first.to && l.steps == line.steps
                        });
                        rule(out, || format!("{}: nobody takes step {q} out of the oven at {}", dish.id, first.to))?;
                    }
                }
            }
        }
        Ok(())
    }

    /// After raw food nothing clean comes on a board before it is washed.
    fn board(&self) -> Verdict {
        let piece = self.plan.kind.animal && self.plan.kind.portioned == State::Prepared;
        let raw = |l: &Line| {
            l.hands
                && l.place == Place::Bench
                && l.steps.iter().any(|s| {
                    let (Some(batch), Some(dish)) = (self.plan.batch(s.batch), self.plan.dish_of(s.batch)) else { return false };
                    let text = &dish.steps[s.step].text;
                    let from_part = batch.draws.iter().any(|d| matches!(d.from, Source::Part(_)));
                    let bought = dish
                        .companions
                        .iter()
                        .filter(|c| RAW.contains(&c.name.as_str()))
                        .any(|c| says(text, &c.name.split(' ').filter(|w| FLESH.contains(w)).collect::<Vec<_>>()));
                    bought || piece && from_part && says(text, &["fish"]) && says(text, KNIFE) && !text.contains("without fish")
                })
        };
        let washes = |l: &Line| {
            l.kind == LineKind::Wash || l.hands && l.what.to_lowercase().contains("wash") && says(&l.what, &["board", "sink"])
        };
        for a in self.lines().iter().filter(|l| raw(l)) {
            for b in self.lines().iter().filter(|b| b.from >= a.from && b.id != a.id) {
                let clean = b.kind == LineKind::Step
                    && b.hands
                    && b.place == Place::Bench
                    && says(&b.what, KNIFE)
                    && !raw(b)
                    && !washes(b);
                let washed = washes(a) && b.from >= a.to
                    || self.lines().iter().any(|w| washes(w) && w.kind != LineKind::WashUp && w.from >= a.to && w.to <= b.from);
                rule(!clean || washed, || {
                    format!("\"{}\" at {} after raw \"{}\" at {} without washing", b.what, b.from, a.what, a.from)
                })?;
            }
        }
        Ok(())
    }

    /// Everything is ready when it is served, and not too long before.
    fn table(&self) -> Verdict {
        for meal in &self.sheet.meals {
            let serve = self.lines().iter().find(|l| l.kind == LineKind::ServeUp && l.to == meal.at);
            let serve = serve.ok_or_else(|| format!("nobody serves up for {}", meal.name))?;
            let sits = self.lines().iter().any(|l| l.kind == LineKind::Sit && l.from == meal.at);
            rule(sits, || format!("nobody sits down to {}", meal.name))?;
            let slot = self.plan.slots().find(|s| self.plan.slot_name(*s) == meal.name).ok_or("no such meal")?;
            let people = self.plan.eaters_at(slot).len() as i64;
            rule(serve.minutes() <= 2 * (people + 2), || format!("serving up for {people} takes {}", serve.minutes()))?;
            for (batch, dish) in self.made() {
                let earlier = self
                    .plan
                    .servings_of(batch.id)
                    .iter()
                    .any(|(s, _)| s.day == slot.day && self.plan.time_rank(*s) < self.plan.time_rank(slot));
                if self.plan.meal(slot).serving(batch.id).is_none() || earlier {
                    continue;
                }
                let last = (0..dish.steps.len()).filter_map(|k| self.of_step(batch.id, k)).map(|l| l.to).max();
                let last = last.ok_or_else(|| format!("{} is not made", dish.id))?;
                rule(last <= serve.from, || format!("{} is ready at {last}, served up at {}", dish.id, serve.from))?;
                let step = dish.steps.last().unwrap();
                // Where there is no other way a dish is kept warm for up to an hour, and its line says so.
                let warm = self
                    .lines()
                    .iter()
                    .any(|l| l.batch == Some(batch.id) && l.note.as_deref().is_some_and(|n| n.contains("keep it warm")));
                let hold =
                    step.may_wait.map(i64::from).or((dish.profile.heat == Some(Heat::Hot)).then_some(if warm { 65 } else { 25 }));
                // Out of the oven in between.
                let hold = hold.map(|h| h + if step.place == StepPlace::Oven { 5 } else { 0 });
                rule(hold.is_none_or(|h| serve.from - last <= h), || {
                    format!("{} stands from {last} to {}, {hold:?} is the most", dish.id, serve.from)
                })?;
            }
        }
        Ok(())
    }

    /// What is kept is in the fridge within its time.
    fn fridge(&self) -> Verdict {
        for (batch, dish) in self.made() {
            let hot = (0..dish.steps.len())
                .filter_map(|k| self.of_step(batch.id, k))
                .filter(|l| matches!(l.place, Place::Ring(_) | Place::Oven { .. }));
            let Some(left) = hot.map(|l| l.to).max() else { continue };
            let rice = dish.companions.iter().any(|c| c.name == "rice");
            let limit = if rice { 60 } else { 120 };
            // What goes into the fridge to set is cold in time by that, and boxed when it has set.
            let sets = self
                .lines()
                .iter()
                .any(|l| l.batch == Some(batch.id) && l.place == Place::Fridge && l.from >= left && l.from - left <= limit);
            let later = self.plan.servings_of(batch.id).iter().any(|(s, _)| s.day > batch.day);
            let boxed: Vec<&Line> =
                self.lines().iter().filter(|l| l.kind == LineKind::Box && l.batch == Some(batch.id)).collect();
            if later && dish.role == Role::Meal {
                rule(!boxed.is_empty(), || format!("nobody boxes what is kept of {}", dish.id))?;
                rule(sets || boxed.iter().any(|l| l.to - left <= limit), || {
                    format!("{} is boxed {} min after the heat", dish.id, boxed[0].to - left)
                })?;
            }
            if dish.role == Role::Component && self.sheet.later.is_empty() {
                let away = (0..dish.steps.len())
                    .filter_map(|k| self.of_step(batch.id, k))
                    .filter(|l| l.what.contains("fridge") || l.what.contains("chill"));
                rule(sets || away.clone().next().is_none() || away.clone().any(|l| l.to - left <= 120), || {
                    format!("{} is away too late", dish.id)
                })?;
            }
        }
        Ok(())
    }

    /// Twins are begun before meat or fish goes into the pan.
    fn twins(&self) -> Verdict {
        for (batch, dish) in self.made() {
            let wanted: usize =
                self.plan.servings_of(batch.id).iter().filter(|(s, _)| s.day == batch.day).map(|(_, s)| s.twins.len()).sum();
            let twins: Vec<&Line> =
                self.lines().iter().filter(|l| l.kind == LineKind::Twin && l.batch == Some(batch.id)).collect();
            rule(wanted == 0 || !twins.is_empty(), || format!("the twin of {} is not made", dish.id))?;
            let fish_in =
                dish.steps.iter().position(|s| s.hands && s.place == StepPlace::Ring && says(&s.text, &["fish", "loin"]));
            if let (Some(first), Some(line)) = (twins.first(), fish_in.and_then(|k| self.of_step(batch.id, k))) {
                rule(first.to <= line.from, || {
                    format!("the twin of {} is begun at {}, the fish goes in at {}", dish.id, first.from, line.from)
                })?;
            }
        }
        Ok(())
    }

    /// A dish that is made of another of the day waits for it.
    fn makings_of_makings(&self) -> Verdict {
        for (batch, dish) in self.made() {
            for from in batch.draws.iter().filter_map(|d| match d.from {
                Source::Batch(id) => self.plan.batch(id).filter(|b| b.day == batch.day),
                Source::Part(_) => None,
            }) {
                let source = self.plan.dish_of(from.id).ok_or("no dish")?;
                let last = |b: BatchId, n: usize| (0..n).filter_map(|k| self.of_step(b, k)).map(|l| l.to).max().unwrap_or(0);
                let (made, used) = (last(from.id, source.steps.len()), last(batch.id, dish.steps.len()));
                rule(made <= used, || format!("{} is done at {used}, what it is made of at {made}", dish.id))?;
            }
        }
        Ok(())
    }
}
