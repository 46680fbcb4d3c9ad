//! Pieces of work and what ties them: a session as the search is asked about it.

use super::{LineKind, StepRef};
use crate::{
    lists::CompanionAmount,
    quantity::Portion,
    rotation::BatchId,
    timeline::{Capacities, Instance, Oven, Precedence, Serving, Task},
};

/// Where a piece of work stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Spot {
    Bench,
    Ring,
    /// In the oven, at this heat without a fan; which unit of the oven plan it belongs to.
    Oven {
        unit: usize,
    },
    Fridge,
    Table,
}

/// What it does on the board.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Board {
    #[default]
    None,
    /// Vegetables, bread, cooked food.
    Clean,
    /// Raw meat, poultry or fish; `washed`: it washes up at its end.
    Raw { washed: bool },
    /// Washing after raw food.
    Wash,
}

/// One piece of work, never interrupted.
#[derive(Clone, Debug)]
pub(super) struct Work {
    pub kind: LineKind,
    pub batch: Option<BatchId>,
    /// The dish, or what it is about.
    pub dish: String,
    /// In the imperative.
    pub what: String,
    /// Steps of the book that it does.
    pub steps: Vec<StepRef>,
    pub minutes: i64,
    /// How many pairs of hands.
    pub hands: i64,
    pub spot: Spot,
    pub racks: i64,
    pub appliance: Option<String>,
    pub board: Board,
    /// Position of its [`Target`].
    pub target: usize,
    pub companions: Vec<(String, CompanionAmount)>,
    pub portions: Vec<(String, Portion)>,
    pub cautions: Vec<super::LineCaution>,
    /// Why it is done so: shared work, a second lot.
    pub note: Option<String>,
    /// Its heat without a fan, once the oven plan is made.
    pub celsius: Option<i64>,
}

/// Why one piece of work follows another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Why {
    Order,
    /// The dish may stand so long: the book says so.
    Hold,
    /// It is best within so long: our habit, where the book says nothing.
    Fresh,
    /// Kept-back food must be cold in time.
    Fridge,
    /// Washing follows raw food at once.
    Board,
    /// A pan waits for the next step: our habit, where the book says nothing.
    Pan,
    /// Heating, cooling.
    Heat,
}

/// `after` starts from `min` to `max` minutes after `before` has ended.
#[derive(Clone, Copy, Debug)]
pub(super) struct Link {
    pub before: usize,
    pub after: usize,
    pub min: i64,
    pub max: Option<i64>,
    pub why: Why,
}

/// By when something is done.
#[derive(Clone, Debug)]
pub(super) struct Target {
    pub name: String,
    /// Minute of the day.
    pub serve: i64,
    /// It ends exactly then, or so many minutes before.
    pub hold: Option<i64>,
    /// The sitting that it moves with; nothing: what is put away for other days.
    pub sitting: Option<usize>,
}

/// All of it. Minutes are those of the day; the search counts from `begin`.
#[derive(Clone, Debug, Default)]
pub(super) struct Problem {
    pub works: Vec<Work>,
    pub links: Vec<Link>,
    pub targets: Vec<Target>,
    pub capacities: Capacities,
    pub begin: i64,
}

impl Problem {
    pub(super) fn add(&mut self, work: Work) -> usize {
        self.works.push(work);
        self.works.len() - 1
    }

    pub(super) fn link(&mut self, before: usize, after: usize, min: i64, max: Option<i64>, why: Why) {
        match self.links.iter_mut().find(|l| l.before == before && l.after == after) {
            Some(link) => {
                link.min = link.min.max(min);
                link.max = match (link.max, max) {
                    (Some(a), Some(b)) => Some(a.min(b)),
                    (a, b) => a.or(b),
                };
                link.max = link.max.map(|m| m.max(link.min));
            }
            None => self.links.push(Link { before, after, min, max, why }),
        }
    }

    pub(super) fn target(&mut self, name: impl Into<String>, serve: i64, hold: Option<i64>, sitting: Option<usize>) -> usize {
        self.targets.push(Target { name: name.into(), serve, hold, sitting });
        self.targets.len() - 1
    }

    /// Every work that comes after `from` by links, itself included.
    pub(super) fn reach(&self, from: usize) -> Vec<bool> {
        let mut seen = vec![false; self.works.len()];
        let mut open = vec![from];
        while let Some(at) = open.pop() {
            if !std::mem::replace(&mut seen[at], true) {
                open.extend(self.links.iter().filter(|l| l.before == at).map(|l| l.after));
            }
        }
        seen
    }

    /// Whether the waits contradict one another: some circle of them asks for more time than it leaves.
    ///
    /// Longest paths from everywhere at once (Bellman 1958): with a circle they still grow after as many rounds as there are works.
    fn has_circle(&self) -> bool {
        let n = self.works.len();
        let mut reach = vec![0_i64; n];
        for _ in 0..=n {
            let mut grew = false;
            for l in &self.links {
                let minutes = self.works[l.before].minutes;
                let on = reach[l.before] + minutes + l.min;
                if on > reach[l.after] {
                    (reach[l.after], grew) = (on, true);
                }
                if let Some(max) = l.max {
                    let back = reach[l.after] - minutes - max;
                    if back > reach[l.before] {
                        (reach[l.before], grew) = (back, true);
                    }
                }
            }
            if !grew {
                return false;
            }
        }
        true
    }

    /// Lets pans wait as long as they must where our habit contradicts the order of the steps.
    pub(super) fn loosen_pans(&mut self) {
        if !self.has_circle() {
            return;
        }
        let ours: Vec<(usize, Option<i64>)> =
            (0..self.links.len()).filter(|&l| self.links[l].why == Why::Pan).map(|l| (l, self.links[l].max)).collect();
        for (l, _) in &ours {
            self.links[*l].max = None;
        }
        if self.has_circle() {
            // They were not to blame.
            ours.into_iter().for_each(|(l, max)| self.links[l].max = max);
            return;
        }
        // As many as possible hold again.
        for (l, max) in ours {
            self.links[l].max = max;
            if self.has_circle() {
                self.links[l].max = None;
            }
        }
    }

    /// As the search is asked.
    pub(super) fn instance(&self) -> Instance {
        // A target that nobody works for would be refused.
        let used: Vec<usize> = (0..self.targets.len()).filter(|&t| self.works.iter().any(|w| w.target == t)).collect();
        let place = |t: usize| used.iter().position(|&u| u == t).unwrap_or(0);
        let boards = self.capacities.space;
        let task = |w: &Work| Task {
            id: super::words::brief(&w.what),
            dish: place(w.target),
            minutes: w.minutes,
            hands: w.hands,
            oven: match w.spot {
                Spot::Oven { .. } if w.racks > 0 => {
                    let celsius = w.celsius.unwrap_or(0);
                    Some(Oven { temp_min: celsius, temp_max: celsius, racks: w.racks })
                }
                _ => None,
            },
            rings: i64::from(w.spot == Spot::Ring),
            appliance: w.appliance.clone(),
            space: match w.board {
                Board::None => 0,
                Board::Clean => 1,
                Board::Raw { .. } | Board::Wash => boards,
            },
        };
        Instance {
            name: String::new(),
            dishes: used
                .iter()
                .map(|&t| {
                    let t = &self.targets[t];
                    Serving { id: t.name.clone(), serve: t.serve - self.begin, hold_max: t.hold }
                })
                .collect(),
            tasks: self.works.iter().map(task).collect(),
            precedence: self
                .links
                .iter()
                .map(|l| Precedence { before: l.before, after: l.after, min_lag: l.min, max_lag: l.max })
                .collect(),
            capacities: self.capacities,
        }
    }
}
