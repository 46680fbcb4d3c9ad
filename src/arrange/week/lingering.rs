//! What runs on, laid out so that it can be asked of very many beginnings.

use super::choice::Choice;
use crate::{
    judge::{Kernel, LINE_RUN, RunOf, inventory},
    quantity::DayNo,
    rotation::EaterId,
};
use std::collections::BTreeMap;

/// So much below the line sums of grades in another order may still come to it.
const ROUNDING: f64 = 1e-6;

/// Where a meal stands in time: the day, then the place in the plan's order.
type When = (DayNo, usize);
/// Meals of one thread with how strongly each has it.
type Grades<At> = Vec<(At, f64)>;

/// See the module.
pub(super) struct Lingering {
    kernel: Kernel,
    /// For each thread (a texture, a seasoning or the like as one eater meets it, or several eaters who meet it alike) what
    /// stands of it, in the order of time.
    standing: Vec<Grades<When>>,
    /// The sums of those grades.
    sums: Vec<f64>,
    /// The threads that each choice goes on with, and how strongly.
    of: Vec<Grades<usize>>,
    /// Where each choice stands in time.
    when: Vec<When>,
}

impl Lingering {
    /// `plates` says for each choice what each eater has of it and `standing` what stands of each eater, by kind of plate;
    /// `runs` what each kind has; `when` where each meal stands in time.
    pub(super) fn new(
        kernel: Kernel,
        choices: &[Choice],
        plates: &[Vec<(EaterId, usize)>],
        standing: &BTreeMap<EaterId, Vec<(When, usize)>>,
        runs: &[Vec<(RunOf, f64)>],
        when: &[When],
    ) -> Lingering {
        let mut threads: BTreeMap<(EaterId, RunOf), Grades<usize>> = BTreeMap::new();
        for (number, own) in plates.iter().enumerate() {
            for (eater, kind) in own {
                for (of, grade) in &runs[*kind] {
                    threads.entry((*eater, *of)).or_default().push((number, *grade));
                }
            }
        }
        let mut out = Lingering {
            kernel,
            standing: Vec::new(),
            sums: Vec::new(),
            of: vec![Vec::new(); choices.len()],
            when: choices.iter().map(|c| when[c.at]).collect(),
        };
        let mut known: Vec<(Grades<usize>, Grades<When>)> = Vec::new();
        for ((eater, of), laid) in threads {
            let grade = |kind: usize| runs[kind].iter().find(|(o, _)| *o == of).map(|(_, g)| *g);
            let all = standing.get(&eater).into_iter().flatten();
            let stands: Grades<When> = all.filter_map(|(when, kind)| Some((*when, grade(*kind)?))).collect();
            // Who eats the same meets the same.
            if known.iter().any(|(l, s)| *l == laid && *s == stands) {
                continue;
            }
            for (number, grade) in &laid {
                out.of[*number].push((out.sums.len(), *grade));
            }
            out.sums.push(stands.iter().map(|s| s.1).sum());
            out.standing.push(stands.clone());
            known.push((laid, stands));
        }
        out
    }

    /// Whether any of `chosen`, in the order of time, makes something run on: at its own meal, or at one behind it.
    pub(super) fn any_runs_on(&self, chosen: &[usize]) -> bool {
        let mut sums = self.sums.clone();
        let mut is_near = false;
        for &number in chosen {
            for &(thread, grade) in &self.of[number] {
                sums[thread] += grade;
                // Nothing lingers more than in full.
                is_near |= sums[thread] >= LINE_RUN - ROUNDING;
            }
        }
        is_near && (0..sums.len()).any(|thread| sums[thread] >= LINE_RUN - ROUNDING && self.runs_on(thread, chosen))
    }

    fn runs_on(&self, thread: usize, chosen: &[usize]) -> bool {
        let grade = |n: usize| self.of[n].iter().find(|(t, _)| *t == thread).map(|(_, g)| *g);
        let laid = || chosen.iter().filter_map(|&n| Some((self.when[n], grade(n)?)));
        // What stands before the first meal with it is none of ours.
        let Some((first, _)) = laid().next() else { return false };
        let mut meals: Grades<When> = self.standing[thread].iter().copied().chain(laid()).collect();
        meals.sort_by_key(|m| m.0);
        let days: Vec<(i16, f64)> = meals.iter().map(|((day, _), g)| (day.0, *g)).collect();
        meals.iter().zip(inventory(&self.kernel, &days)).any(|((when, _), reached)| *when >= first && reached >= LINE_RUN)
    }
}
