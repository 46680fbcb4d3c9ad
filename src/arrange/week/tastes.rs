//! What plates do to each other: how alike they are felt to be, whether the household would complain, what runs on.

use super::{
    Wishes,
    choice::{Choice, Route},
    lingering::Lingering,
};
use crate::{
    book::{DishId, Profile, Protein},
    judge::{Home, LINE_RUN, Plates, RunOf, SAME_DISH_DAYS, UNRELATED, Verdict, attributes, inventory, likeness_whole},
    quantity::DayNo,
    rotation::{EaterId, Rotation, Slot, fitting_twins},
};
use std::collections::BTreeMap;

/// Likeness counts between meals as long as so much of it is still felt: five days at the usual half-life (our own judgement;
/// a week hardly counts at all).
const FELT: f64 = 0.1;
/// Stands for "not both": more than any likeness, so that the search keeps clear of it.
pub(super) const NOT_BOTH: u16 = 8_000;

/// A plate that stands already: of the plan, or eaten before it.
struct Standing {
    /// Where it stands in time: the day, then the place in the plan's order; what was eaten before comes first.
    when: (DayNo, usize),
    kind: usize,
}

/// See the module.
pub(super) struct Tastes {
    /// How each dish eats, with the protein of a twin in the place of its own.
    profiles: Vec<Profile>,
    /// Runs that each may be part of, with its grade.
    runs: Vec<Vec<(RunOf, f64)>>,
    /// Likeness of any two, square; unknown where too little is described.
    alike: Vec<Option<f64>>,
    /// What stands of each eater, in the order of time.
    standing: BTreeMap<EaterId, Vec<Standing>>,
    /// For each choice what each of its eaters has on the plate.
    plates: Vec<Vec<(EaterId, usize)>>,
    /// Where each meal asked for stands in time.
    when: Vec<(DayNo, usize)>,
    /// How many eaters sit down at any of the meals asked for: the whole of which a likeness is a share.
    table: usize,
    home: Home,
    runs_are_minded: bool,
    lingering: Lingering,
}

impl Tastes {
    pub(super) fn new(plan: &Rotation, home: &Home, wishes: &Wishes, slots: &[Slot], choices: &[Choice]) -> Tastes {
        let mut profiles: Vec<Profile> = Vec::new();
        let mut known: BTreeMap<(&DishId, Option<Protein>), usize> = BTreeMap::new();
        let mut plates = Vec::with_capacity(choices.len());
        for choice in choices {
            let dish = &choice.dish;
            let twins = fitting_twins(plan, dish, &plan.eaters_at(slots[choice.at]));
            let mut own = Vec::with_capacity(choice.eaters.len());
            for eater in &choice.eaters {
                let twin = twins.iter().find(|t| t.eater == *eater).and_then(|t| dish.twins.iter().find(|d| d.name == t.twin));
                let protein = twin.and_then(|t| t.protein).filter(|p| dish.profile.protein != Some(*p));
                let kind = *known.entry((&dish.id, protein)).or_insert_with(|| {
                    profiles.push(Profile { protein: protein.or(dish.profile.protein), ..dish.profile.clone() });
                    profiles.len() - 1
                });
                own.push((*eater, kind));
            }
            plates.push(own);
        }
        let judged = Plates::of(plan, &home.patience.weights, &home.eaten);
        let first = profiles.len();
        profiles.extend(judged.kinds.iter().map(|k| k.profile.clone().into_owned()));
        let mut standing: BTreeMap<EaterId, Vec<Standing>> = BTreeMap::new();
        for (who, list) in &judged.lists {
            for eater in who {
                let plates = list.iter().map(|p| Standing { when: (p.slot.day, p.order), kind: first + p.kind });
                standing.insert(*eater, plates.collect());
            }
        }
        // The plates of the plan are numbered behind those that were eaten before.
        let past = judged.past();
        let order: BTreeMap<Slot, usize> = plan.slots().enumerate().map(|(i, s)| (s, past + i)).collect();
        let when: Vec<(DayNo, usize)> = slots.iter().map(|s| (s.day, order.get(s).copied().unwrap_or(usize::MAX))).collect();
        let n = profiles.len();
        let mut alike = vec![None; n * n];
        for i in 0..n {
            for j in i..n {
                let both = likeness_whole(&home.patience.weights, &profiles[i], &profiles[j]);
                alike[i * n + j] = both;
                alike[j * n + i] = both;
            }
        }
        let grades = |p: &Profile| {
            let mut found: BTreeMap<RunOf, f64> = BTreeMap::new();
            attributes(p).for_each(|of| _ = found.insert(of, of.grade(p)));
            found.into_iter().filter(|(_, g)| *g > 0.0).collect()
        };
        let runs: Vec<Vec<(RunOf, f64)>> = profiles.iter().map(grades).collect();
        let mut sitting: Vec<EaterId> = slots.iter().flat_map(|s| plan.eaters_at(*s)).collect();
        sitting.sort_unstable();
        sitting.dedup();
        // A run that somebody overruled may go on; what its name will be only the judges know.
        let overruled = plan.overruled.iter().any(|o| o.finding.0.starts_with("run-"));
        let stands = standing.iter().map(|(who, list)| (*who, list.iter().map(|p| (p.when, p.kind)).collect())).collect();
        let lingering = Lingering::new(home.patience.kernel.clone(), choices, &plates, &stands, &runs, &when);
        Tastes {
            profiles,
            runs,
            alike,
            standing,
            plates,
            when,
            table: sitting.len().max(1),
            home: home.clone(),
            runs_are_minded: !wishes.may_be_alike && !overruled,
            lingering,
        }
    }

    fn alike(&self, a: usize, b: usize) -> Option<f64> {
        self.alike[a * self.profiles.len() + b]
    }

    /// How much of a likeness is felt so many days apart, and whether it counts.
    fn felt(&self, a: DayNo, b: DayNo) -> Option<f64> {
        let weight = self.home.patience.kernel.after(b.since(a).0);
        (weight >= FELT).then_some(weight)
    }

    /// What likeness to the plates that stand already costs a choice, in thousandths.
    pub(super) fn with_standing(&self, number: usize, choice: &Choice) -> i64 {
        let day = self.when[choice.at].0;
        let mut sum = 0.0;
        for (eater, kind) in &self.plates[number] {
            for plate in self.standing.get(eater).into_iter().flatten() {
                let Some(weight) = self.felt(plate.when.0, day) else { continue };
                sum += weight * self.alike(plate.kind, *kind).unwrap_or(UNRELATED);
            }
        }
        (1_000.0 * sum / self.table as f64).round() as i64
    }

    /// What two choices for different meals cost by likeness, in thousandths; nothing where nobody feels any of it.
    pub(super) fn between(&self, (a, x): (usize, &Choice), (b, y): (usize, &Choice)) -> u16 {
        let Some(weight) = self.felt(self.when[x.at].0, self.when[y.at].0) else { return 0 };
        let mut sum = 0.0;
        for (eater, kind) in &self.plates[a] {
            if let Some((_, other)) = self.plates[b].iter().find(|(e, _)| e == eater) {
                sum += self.alike(*kind, *other).unwrap_or(UNRELATED);
            }
        }
        (1_000.0 * weight * sum / self.table as f64).round().clamp(0.0, 1_000.0) as u16
    }

    /// Whether somebody who eats both would say that they are too alike.
    pub(super) fn too_alike(&self, (a, x): (usize, &Choice), (b, y): (usize, &Choice)) -> bool {
        let weight = self.home.patience.kernel.after(self.when[y.at].0.since(self.when[x.at].0).0);
        self.plates[a].iter().any(|(eater, kind)| {
            let other = self.plates[b].iter().find(|(e, _)| e == eater);
            other.is_some_and(|(_, other)| {
                self.home.patience.lines.verdict(self.alike(*kind, *other).map(|s| s * weight)) == Verdict::Warn
            })
        })
    }

    /// The most that any eater feels of any earlier or later plate in this choice: likeness faded with the days.
    pub(super) fn worst(&self, number: usize, choice: &Choice, others: &[(usize, &Choice)]) -> Option<f64> {
        let day = self.when[choice.at].0;
        let kernel = &self.home.patience.kernel;
        let mut worst: Option<f64> = None;
        for (eater, kind) in &self.plates[number] {
            let standing = self.standing.get(eater).into_iter().flatten().map(|p| (p.when.0, p.kind));
            let laid = others.iter().filter(|(_, c)| c.at != choice.at).filter_map(|(n, c)| {
                let (_, kind) = self.plates[*n].iter().find(|(e, _)| e == eater)?;
                Some((self.when[c.at].0, *kind))
            });
            for (other_day, other) in standing.chain(laid) {
                if let Some(s) = self.alike(*kind, other) {
                    let felt = s * kernel.after(day.since(other_day).0);
                    worst = Some(worst.map_or(felt, |w: f64| w.max(felt)));
                }
            }
        }
        worst
    }

    /// Whether the last of `chosen` makes something run on for somebody: at its own meal, or at one that stands behind it.
    pub(super) fn runs_on(&self, chosen: &[usize], choices: &[Choice]) -> bool {
        let Some((&last, before)) = chosen.split_last() else { return false };
        if !self.runs_are_minded {
            return false;
        }
        let kernel = &self.home.patience.kernel;
        let at = self.when[choices[last].at];
        self.plates[last].iter().any(|(eater, kind)| {
            self.runs[*kind].iter().any(|(of, grade)| {
                let grade_of = |kind: usize| self.runs[kind].iter().find(|(o, _)| o == of).map(|(_, g)| *g);
                let mut meals: Vec<((DayNo, usize), f64)> = Vec::new();
                let standing = self.standing.get(eater).into_iter().flatten();
                meals.extend(standing.filter_map(|p| Some((p.when, grade_of(p.kind)?))));
                for &number in before {
                    let plate = self.plates[number].iter().find(|(e, _)| e == eater);
                    meals.extend(plate.and_then(|(_, k)| Some((self.when[choices[number].at], grade_of(*k)?))));
                }
                meals.push((at, *grade));
                meals.sort_by_key(|m| m.0);
                let days: Vec<(i16, f64)> = meals.iter().map(|((day, _), g)| (day.0, *g)).collect();
                let reached = inventory(kernel, &days);
                meals.iter().zip(reached).any(|((when, _), reached)| *when >= at && reached >= LINE_RUN)
            })
        })
    }
}

impl Tastes {
    /// Whether any of `chosen`, in the order of time, makes something run on: [`Tastes::runs_on`] of every beginning of them,
    /// asked at once.
    pub(super) fn anything_runs_on(&self, chosen: &[usize]) -> bool {
        self.runs_are_minded && self.lingering.any_runs_on(chosen)
    }
}

/// Whether two choices for different meals are one dish come back too soon, to somebody who has both. A second serving of one
/// batch is another matter.
pub(super) fn comes_back((a, x): (usize, &Choice), (b, y): (usize, &Choice), slots: &[Slot]) -> bool {
    let one_batch = y.route == Route::Again(a) || x.route == Route::Again(b);
    let near = slots[y.at].day.since(slots[x.at].day).0.abs() <= SAME_DISH_DAYS;
    x.dish.id == y.dish.id && near && !one_batch && x.eaters.iter().any(|e| y.eaters.contains(e))
}
