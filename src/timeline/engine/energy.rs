//! A shared resource over stretches of time: what must be done within one needs no more than the stretch gives.
//!
//! The tasks that can neither start before `a` nor end after `b` must do their work (minutes times amount) between the two.
//! If that is more than the capacity times b - a, nothing fits: the overload check, here by plain counting over all pairs of
//! bounds (Baptiste, Le Pape & Nuijten 2001).

use super::{Clash, Engine, Lit, Need, lower, upper};

/// One task as the check sees it: earliest start, latest end, work, its place among the needs.
pub(super) type Load = (i32, i32, i64, u32);

impl Engine {
    pub(super) fn check_energy(&mut self, id: u32) -> Result<(), Clash> {
        let mut loads = std::mem::take(&mut self.loads);
        loads.clear();
        let resource = &self.resources[id as usize];
        for (k, n) in resource.needs.iter().enumerate() {
            let (first, last) = (self.bound[lower(n.start) as usize], -self.bound[upper(n.start) as usize]);
            loads.push((first, last.saturating_add(n.minutes), i64::from(n.minutes) * i64::from(n.amount), k as u32));
        }
        loads.sort_unstable_by_key(|l| (l.1, l.3));
        let capacity = i64::from(resource.capacity);
        let mut over = None;
        'starts: for &(a, _, _, _) in &loads {
            let mut work = 0;
            for &(first, b, own, _) in &loads {
                if first >= a {
                    work += own;
                    if work > capacity * (i64::from(b) - i64::from(a)) {
                        over = Some((a, b));
                        break 'starts;
                    }
                }
            }
        }
        let outcome = match over {
            None => {
                let idle = &mut self.resources[id as usize].idle;
                *idle = idle.saturating_add(1);
                Ok(())
            }
            Some((a, b)) => {
                self.resources[id as usize].idle = 0;
                self.explain_overload(id, &loads, a, b);
                Err(Clash)
            }
        };
        self.loads = loads;
        outcome
    }

    /// The bounds that force the work between `a` and `b`, without the tasks and minutes that are not needed for it.
    fn explain_overload(&mut self, id: u32, loads: &[Load], a: i32, b: i32) {
        let resource = &self.resources[id as usize];
        let capacity = i64::from(resource.capacity);
        let mut spare = -capacity * (i64::from(b) - i64::from(a)) - 1;
        let mut inside: Vec<(u32, Need, i64)> = Vec::new();
        for &(_, _, work, k) in loads.iter().filter(|l| l.0 >= a && l.1 <= b) {
            let n = resource.needs[k as usize];
            let maker = |l: Lit| self.maker(l).wrapping_add(1);
            let late = maker(Lit::at_least(n.start, a)).max(maker(Lit::at_most(n.start, b - n.minutes)));
            inside.push((late, n, work));
            spare += work;
        }
        inside.sort_by_key(|t| (std::cmp::Reverse(t.0), t.1.start.0));
        inside.retain(|t| {
            let needless = t.2 <= spare;
            if needless {
                spare -= t.2;
            }
            !needless
        });
        // The stretch may be longer by what is still to spare: half at either end.
        let give = (spare / capacity.max(1)).clamp(0, 1 << 20) as i32;
        let (a, b) = (a - give / 2, b + (give - give / 2));
        let mut clash = std::mem::take(&mut self.clash);
        clash.clear();
        for (_, n, _) in inside {
            clash.push(Lit::at_least(n.start, a));
            clash.push(Lit::at_most(n.start, b - n.minutes));
        }
        self.clash = clash;
    }
}
