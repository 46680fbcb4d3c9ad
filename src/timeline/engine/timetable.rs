//! A shared resource: at every minute the running tasks together need no more than there is.
//!
//! Time-table reasoning. A task that starts between 10 and 14 and lasts 9 minutes certainly runs from 14 to 19, its *core*.
//! The cores of all tasks added up are a profile that no schedule goes below. Where the profile is too high, there is none;
//! where it leaves too little room for another task, that task must start after or end before. The reason given names one
//! minute and only the tasks whose cores cover it (pointwise explanation: Schutt, Feydt, Stuckey & Wallace 2011).

use super::{Clash, Engine, Lit, Number, Reason, lower, upper};

/// How many steps of one minute's reason are taken before a stretch is passed at once.
const STEPS: i32 = 4;

/// See [`Resource::wants_energy`]: checks in vain, and which of them is still made.
const PATIENCE: u32 = 1_000;
const NOW_AND_THEN: u32 = 16;

/// One task's need of a resource.
#[derive(Clone, Copy, Debug)]
pub struct Need {
    pub start: Number,
    pub minutes: i32,
    pub amount: i32,
}

#[derive(Clone, Debug)]
pub(super) struct Resource {
    pub needs: Vec<Need>,
    pub capacity: i32,
    /// To be looked at again.
    pub stale: bool,
    /// Its tasks exclude each other pairwise by other rules, so only its energy counts.
    pub clique: bool,
    /// Checks of its energy since the last that found too much, and all.
    pub idle: u32,
    pub checks: u32,
}

impl Resource {
    /// Where counting energy has long found nothing, it is done now and then only.
    fn wants_energy(&mut self) -> bool {
        self.checks = self.checks.wrapping_add(1);
        self.idle < PATIENCE || self.checks.is_multiple_of(NOW_AND_THEN)
    }
}

/// A stretch [from, to) over which the profile has one height.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    from: i32,
    to: i32,
    height: i32,
}

/// Room for the profile, kept between calls.
#[derive(Clone, Debug, Default)]
pub(super) struct Profile {
    changes: Vec<(i32, i32)>,
    stretches: Vec<Stretch>,
}

impl Engine {
    pub fn add_resource(&mut self, needs: Vec<Need>, capacity: i32) {
        self.add_shared(needs, capacity, false);
    }

    /// Tasks that are told elsewhere to exclude each other pairwise.
    pub fn add_clique(&mut self, needs: Vec<Need>) {
        self.add_shared(needs, 1, true);
    }

    fn add_shared(&mut self, needs: Vec<Need>, capacity: i32, clique: bool) {
        let id = self.resources.len() as u32;
        for n in &needs {
            self.users[lower(n.start) as usize].push(id);
            self.users[upper(n.start) as usize].push(id);
        }
        self.resources.push(Resource { needs, capacity, stale: true, clique, idle: 0, checks: 0 });
    }

    pub(super) fn propagate_resource(&mut self, id: u32) -> Result<(), Clash> {
        if self.resources[id as usize].wants_energy() {
            self.check_energy(id)?;
        }
        if self.resources[id as usize].clique {
            return Ok(());
        }
        let needs = std::mem::take(&mut self.resources[id as usize].needs);
        let mut profile = std::mem::take(&mut self.profile);
        let capacity = self.resources[id as usize].capacity;
        let outcome = self.timetable(&needs, capacity, &mut profile);
        self.profile = profile;
        self.resources[id as usize].needs = needs;
        outcome
    }

    fn timetable(&mut self, needs: &[Need], capacity: i32, profile: &mut Profile) -> Result<(), Clash> {
        let Profile { changes, stretches } = profile;
        changes.clear();
        for n in needs {
            let (first, last) = (self.bound[lower(n.start) as usize], -self.bound[upper(n.start) as usize]);
            if last < first + n.minutes {
                changes.push((last, n.amount));
                changes.push((first + n.minutes, -n.amount));
            }
        }
        if changes.is_empty() {
            return Ok(());
        }
        changes.sort_unstable();
        stretches.clear();
        let (mut height, mut from) = (0, changes[0].0);
        for &(at, change) in changes.iter() {
            if at > from {
                if height > 0 {
                    if height > capacity {
                        let minute = from + (at - 1 - from) / 2;
                        let mut clash = std::mem::take(&mut self.clash);
                        clash.clear();
                        self.crowd(needs, (minute, minute), capacity + 1, None, &mut clash);
                        self.clash = clash;
                        return Err(Clash);
                    }
                    stretches.push(Stretch { from, to: at, height });
                }
                from = at;
            }
            height += change;
        }
        let highest = stretches.iter().map(|s| s.height).max().unwrap_or(0);
        for (k, n) in needs.iter().enumerate() {
            if highest + n.amount <= capacity {
                continue;
            }
            self.push_later(needs, k, capacity, stretches)?;
            self.push_earlier(needs, k, capacity, stretches)?;
        }
        Ok(())
    }

    /// Moves a task's earliest start past the stretches that leave no room for it.
    fn push_later(&mut self, needs: &[Need], k: usize, capacity: i32, stretches: &[Stretch]) -> Result<(), Clash> {
        let n = needs[k];
        let mut first = self.bound[lower(n.start) as usize];
        let last = -self.bound[upper(n.start) as usize];
        if first == last {
            return Ok(());
        }
        let begin = stretches.partition_point(|s| s.to <= first);
        for s in &stretches[begin..] {
            if s.from >= first + n.minutes || s.from >= last {
                break;
            }
            if s.to <= first || s.height + n.amount <= capacity {
                continue;
            }
            while first < s.to {
                // One minute at a time is the weakest reason; past a few steps the whole rest of the stretch is taken at once.
                let minute = (s.to - 1).min(first + n.minutes - 1);
                let until = if (s.to - 1 - minute) / n.minutes < STEPS { minute } else { s.to - 1 };
                let own = Lit::at_least(n.start, minute - n.minutes + 1);
                let reason = self.keep_crowd(needs, (minute, until), capacity + 1 - n.amount, k, own);
                self.set(Lit::at_least(n.start, until + 1), reason)?;
                first = until + 1;
            }
        }
        Ok(())
    }

    /// The same in the other direction: the task must end before them.
    fn push_earlier(&mut self, needs: &[Need], k: usize, capacity: i32, stretches: &[Stretch]) -> Result<(), Clash> {
        let n = needs[k];
        let first = self.bound[lower(n.start) as usize];
        let mut last = -self.bound[upper(n.start) as usize];
        if first == last {
            return Ok(());
        }
        let end = stretches.partition_point(|s| s.from < last + n.minutes);
        for s in stretches[..end].iter().rev() {
            if s.to <= last || s.to <= first + n.minutes {
                break;
            }
            if s.from >= last + n.minutes || s.height + n.amount <= capacity {
                continue;
            }
            while last + n.minutes > s.from {
                let minute = s.from.max(last);
                let since = if (minute - s.from) / n.minutes < STEPS { minute } else { s.from };
                let reason = self.keep_crowd(needs, (since, minute), capacity + 1 - n.amount, k, Lit::at_most(n.start, minute));
                self.set(Lit::at_most(n.start, since - n.minutes), reason)?;
                last = since - n.minutes;
            }
        }
        Ok(())
    }

    fn keep_crowd(&mut self, needs: &[Need], minutes: (i32, i32), enough: i32, but: usize, own: Lit) -> Reason {
        let mut kept = std::mem::take(&mut self.kept);
        let start = kept.len() as u32;
        self.crowd(needs, minutes, enough, Some(but), &mut kept);
        kept.push(own);
        let len = kept.len() as u32 - start;
        self.kept = kept;
        Reason::Kept { start, len }
    }

    /// Statements that make tasks needing `enough` together run from the first to the last of these minutes: no more tasks
    /// than it takes.
    fn crowd(&mut self, needs: &[Need], (first, last): (i32, i32), enough: i32, but: Option<usize>, into: &mut Vec<Lit>) {
        let mut there = std::mem::take(&mut self.crowd_room);
        there.clear();
        let mut sum = 0;
        for (k, n) in needs.iter().enumerate() {
            if Some(k) == but {
                continue;
            }
            let (a, b) = (Lit::at_most(n.start, first), Lit::at_least(n.start, last - n.minutes + 1));
            if self.is_true(a) && self.is_true(b) {
                // The latest makers go first when somebody can be spared.
                let (a, b) = (self.maker(a).wrapping_add(1), self.maker(b).wrapping_add(1));
                there.push((a.max(b), k as u32));
                sum += n.amount;
            }
        }
        there.sort_unstable();
        while let Some(spare) = there.iter().rposition(|&(_, k)| sum - needs[k as usize].amount >= enough) {
            sum -= needs[there[spare].1 as usize].amount;
            there.remove(spare);
        }
        for &(_, k) in &there {
            let n = &needs[k as usize];
            for lit in [Lit::at_most(n.start, first), Lit::at_least(n.start, last - n.minutes + 1)] {
                if self.root[lit.half as usize] < lit.least {
                    into.push(lit);
                }
            }
        }
        self.crowd_room = there;
    }
}
