//! Learning from a clash: the clause that would have prevented it, and how far to go back.
//!
//! The statements that clash are traced back, latest first, each replaced by its reasons, until only one of the last level is
//! left (the first unique implication point: Marques-Silva & Sakallah 1999). Since statements are bounds, a reason is always
//! asked for the weakest bound that is needed, so that what is learned speaks of more schedules than the one that failed.

use super::{Engine, Lit, Reason, trail::ROOT};

/// Not needed.
const NONE: i32 = i32::MIN;

/// What a clash needs of each half, while it is traced back.
#[derive(Clone, Debug, Default)]
pub(super) struct Needs {
    /// By half: the bound that is needed.
    least: Vec<i32>,
    /// By half: the entry that made it.
    at: Vec<u32>,
    /// Halves that were ever needed, some twice.
    touched: Vec<u32>,
    /// What was found redundant or not, by entry, in this analysis.
    shown: Vec<(u32, i32, bool)>,
    stamp: u32,
    levels: Vec<u32>,
}

impl Needs {
    pub(super) fn grow(&mut self) {
        self.least.push(NONE);
        self.at.push(ROOT);
    }
}

impl Engine {
    /// The reasons of a statement made by an entry whose bound was `full`, for the bound in `lit` (the same or weaker).
    pub(super) fn explain(&self, reason: Reason, lit: Lit, full: i32, index: u32, into: &mut Vec<Lit>) {
        debug_assert!(lit.least <= full);
        match reason {
            Reason::Decision | Reason::Root => {}
            Reason::Clause(c) => into.extend(self.lits(c)[1..].iter().map(|l| l.not())),
            Reason::Edge(e) => {
                let e = self.edges[e as usize];
                into.push(Lit { half: e.from, least: lit.least - e.by });
                if e.when != Lit::TRUE {
                    into.push(e.when);
                }
            }
            Reason::Kept { start, len } => into.extend_from_slice(&self.kept[start as usize..(start + len) as usize]),
            Reason::Linear(l) => self.explain_linear(l, lit, index, into),
        }
    }

    /// Adds one statement to the needs. Returns how many more of the level that begins at entry `begin` there are now.
    fn need(&mut self, lit: Lit, begin: u32) -> i32 {
        debug_assert!(self.is_true(lit));
        let half = lit.half as usize;
        if self.root[half] >= lit.least || self.needs.least[half] >= lit.least {
            return 0;
        }
        let at = self.maker(lit);
        if at == ROOT {
            return 0;
        }
        let had = self.needs.least[half] != NONE && self.needs.at[half] >= begin;
        if self.needs.least[half] == NONE {
            self.needs.touched.push(lit.half);
        }
        self.needs.least[half] = lit.least;
        self.needs.at[half] = at;
        i32::from(at >= begin) - i32::from(had)
    }

    /// Learns from `self.clash`, goes back and asserts. False: the clash needs no decision, so nothing satisfies the whole.
    pub(super) fn learn(&mut self) -> bool {
        let clash = std::mem::take(&mut self.clash);
        let level = clash.iter().map(|&l| self.level_of(l)).max().unwrap_or(0);
        self.back_to(level);
        if level == 0 {
            self.clash = clash;
            return false;
        }
        let begin = self.marks[level as usize - 1].0;
        let mut open: i32 = clash.iter().map(|&l| self.need(l, begin)).sum();
        self.clash = clash;
        let mut reasons = std::mem::take(&mut self.reasons_room);
        let mut index = self.trail.len() as u32;
        let unique = loop {
            index -= 1;
            let e = self.trail[index as usize];
            let half = e.half as usize;
            if self.needs.least[half] == NONE || self.needs.at[half] != index {
                continue;
            }
            let lit = Lit { half: e.half, least: self.needs.least[half] };
            self.activity.bump(lit);
            if open == 1 {
                break lit;
            }
            self.needs.least[half] = NONE;
            open -= 1;
            if let Reason::Clause(c) = e.reason {
                self.use_clause(c);
            }
            reasons.clear();
            self.explain(e.reason, lit, e.least, index, &mut reasons);
            for &l in &reasons {
                open += self.need(l, begin);
            }
        };
        self.reasons_room = reasons;
        let learned = self.learned_clause(unique);
        let back = learned.get(1).map_or(0, |l| self.level_of(l.not()));
        let joins = self.count_levels(&learned);
        for half in std::mem::take(&mut self.needs.touched) {
            self.needs.least[half as usize] = NONE;
        }
        self.back_to(back);
        let outcome = if learned.len() == 1 {
            self.set(learned[0], Reason::Root)
        } else {
            let id = self.store_clause(&learned, true, joins);
            self.learned += 1;
            self.set(learned[0], Reason::Clause(id))
        };
        self.activity.decay();
        self.clause_step *= 1.001;
        // The statement was decided or implied above `back`, so below it is open; a root clash alone can refuse it.
        outcome.is_ok()
    }

    /// The clause from the needs, the unique statement first and the latest other one second, without what others imply.
    fn learned_clause(&mut self, unique: Lit) -> Vec<Lit> {
        self.needs.stamp += 1;
        self.needs.shown.resize(self.trail.len(), (0, 0, false));
        let mut halves = self.needs.touched.clone();
        halves.sort_unstable();
        halves.dedup();
        let mut learned = vec![unique.not()];
        for half in halves {
            let least = self.needs.least[half as usize];
            if least == NONE || half == unique.half {
                continue;
            }
            let lit = Lit { half, least };
            if !self.is_redundant(lit, self.needs.at[half as usize], 0) {
                self.activity.bump(lit);
                learned.push(lit.not());
            }
        }
        if let Some(latest) = (1..learned.len()).max_by_key(|&k| (self.level_of(learned[k].not()), std::cmp::Reverse(k))) {
            learned.swap(1, latest);
        }
        learned
    }

    /// Whether a needed statement follows from the other needs (Sörensson & Biere 2009).
    fn is_redundant(&mut self, lit: Lit, at: u32, depth: u32) -> bool {
        let (stamp, least, good) = self.needs.shown[at as usize];
        if stamp == self.needs.stamp && ((good && lit.least <= least) || (!good && lit.least >= least)) {
            return good;
        }
        let e = self.trail[at as usize];
        let good = if matches!(e.reason, Reason::Decision) || depth > 24 {
            false
        } else {
            let mut reasons = Vec::new();
            self.explain(e.reason, lit, e.least, at, &mut reasons);
            reasons.into_iter().all(|r| {
                if self.root[r.half as usize] >= r.least {
                    return true;
                }
                let maker = self.maker(r);
                if maker == ROOT {
                    return true;
                }
                // A need of the same half that is at least as strong, and older than the entry in question.
                let need = self.needs.least[r.half as usize];
                if need >= r.least && self.needs.at[r.half as usize] < at {
                    return true;
                }
                self.is_redundant(r, maker, depth + 1)
            })
        };
        self.needs.shown[at as usize] = (self.needs.stamp, lit.least, good);
        good
    }

    fn count_levels(&mut self, lits: &[Lit]) -> u16 {
        let mut levels = std::mem::take(&mut self.needs.levels);
        levels.clear();
        levels.extend(lits.iter().map(|l| self.level_of(l.not())));
        levels.sort_unstable();
        levels.dedup();
        let count = levels.len().min(usize::from(u16::MAX)) as u16;
        self.needs.levels = levels;
        count
    }

    /// Which assumptions made `lit` true: put into `self.core`.
    pub(super) fn trace_to_assumptions(&mut self, lit: Lit) {
        self.core.clear();
        let mut reasons = Vec::new();
        self.need(lit, 0);
        for index in (0..self.trail.len() as u32).rev() {
            let e = self.trail[index as usize];
            let half = e.half as usize;
            if self.needs.least[half] == NONE || self.needs.at[half] != index {
                continue;
            }
            let lit = Lit { half: e.half, least: self.needs.least[half] };
            self.needs.least[half] = NONE;
            if matches!(e.reason, Reason::Decision) {
                self.core.push(Lit { half: e.half, least: e.least });
                continue;
            }
            reasons.clear();
            self.explain(e.reason, lit, e.least, index, &mut reasons);
            for &l in &reasons {
                self.need(l, 0);
            }
        }
        for half in std::mem::take(&mut self.needs.touched) {
            self.needs.least[half as usize] = NONE;
        }
    }
}
