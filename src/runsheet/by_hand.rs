//! One step moved by hand, all others held where they are.
//!
//! A step may stand anywhere that breaks no rule of the sheet: after what it follows and within its waits, before the table,
//! while hands, rings, shelves, board, appliance and the oven's heat are free. Where it may not stand, the first rule in the way
//! is said with its times.

use super::{
    LineKind, RunSheet,
    page::clock,
    sheet::{Parts, Proof, build, lines_of},
    words::brief,
    work::{Board, Problem, Spot, Work},
};

/// The furthest that a step is looked for, in minutes.
const FURTHEST: i64 = 24 * 60;

impl RunSheet {
    /// Whether a line may be moved by hand: not the table, not serving up, not the proposals to wash up.
    pub fn can_move(&self, line: usize) -> bool {
        self.problem.works.get(line).is_some_and(|w| !matches!(w.kind, LineKind::Sit | LineKind::ServeUp | LineKind::WashUp))
            && self.lines.iter().any(|l| l.id == line && l.kind != LineKind::WashUp)
    }

    /// From when to when a line may begin, around where it stands, everything else staying: minutes of the day.
    pub fn slack(&self, line: usize) -> (i64, i64) {
        let Some(&now) = self.starts.get(line).filter(|_| self.can_move(line)) else { return (0, 0) };
        let free = |at: i64| self.in_the_way(line, at).is_none();
        let reach = |step: i64| (1..=FURTHEST).take_while(|k| free(now + k * step)).last().map_or(now, |k| now + k * step);
        (reach(-1), reach(1))
    }

    /// The sheet with one line beginning at another minute, all others as they are.
    ///
    /// # Errors
    /// A sentence that says what is in the way, where the step cannot stand there.
    pub fn with_moved(&self, line: usize, from: i64) -> Result<RunSheet, String> {
        if !self.can_move(line) {
            return Err("This line cannot be moved: it goes by the table".into());
        }
        if let Some(why) = self.in_the_way(line, from) {
            return Err(format!("{} stays at {}: {why}", quoted(&self.problem.works[line]), clock(self.starts[line])));
        }
        let mut starts = self.starts.clone();
        starts[line] = from;
        Ok(self.standing_at(starts))
    }

    /// The sheet with several lines moved at once; none where one of them may not stand there beside the others.
    pub(super) fn with_all_moved(&self, moves: &[(usize, i64)]) -> Option<RunSheet> {
        let mut moved = self.clone();
        for &(line, from) in moves {
            if !self.can_move(line) {
                return None;
            }
            *moved.starts.get_mut(line)? = from;
        }
        let fits = moves.iter().all(|&(line, from)| moved.in_the_way(line, from).is_none());
        fits.then(|| self.standing_at(moved.starts))
    }

    /// The sheet with its steps at these minutes.
    fn standing_at(&self, starts: Vec<i64>) -> RunSheet {
        let mut lines = lines_of(&self.problem, &starts, &self.kitchen, &[]);
        for new in &mut lines {
            if let Some(old) = self.lines.iter().find(|l| l.id == new.id && l.kind != LineKind::WashUp) {
                new.cautions.clone_from(&old.cautions);
                new.note.clone_from(&old.note);
            }
        }
        let parts = Parts {
            day: self.day,
            meals: self.meals.clone(),
            lines,
            later: self.later.clone(),
            proof: Proof::ByHand,
            nodes: self.nodes,
            kitchen: self.kitchen,
            now: None,
            meals_at: self.meals_at.clone(),
        };
        build(parts, self.problem.clone(), starts)
    }

    /// The first rule that a line breaks if it begins at `from`, in words.
    fn in_the_way(&self, line: usize, from: i64) -> Option<String> {
        let p = &self.problem;
        let work = &p.works[line];
        let to = from + work.minutes;
        let end = |w: usize| self.starts[w] + p.works[w].minutes;
        if from < p.begin {
            return Some(format!("nothing begins before {}", clock(p.begin)));
        }
        for l in &p.links {
            if l.after == line && from < end(l.before) + l.min {
                return Some(format!("{} ends at {}", quoted(&p.works[l.before]), clock(end(l.before))));
            }
            if l.before == line && to + l.min > self.starts[l.after] {
                return Some(format!("{} begins at {}", quoted(&p.works[l.after]), clock(self.starts[l.after])));
            }
            if let Some(max) = l.max {
                let (gap, other) = match line {
                    _ if l.after == line => (from - end(l.before), l.before),
                    _ if l.before == line => (self.starts[l.after] - to, l.after),
                    _ => continue,
                };
                if gap > max {
                    let words =
                        if max == 0 { "follows at once on it".to_string() } else { format!("may wait {max} min for it at most") };
                    let other = quoted(&p.works[other]);
                    return Some(match l.before == line {
                        true if max == 0 => format!("{other} {words}"),
                        true => format!("it may wait {max} min for {other} at most"),
                        false if max == 0 => format!("it follows at once on {other}"),
                        false => format!("{other} {words}"),
                    });
                }
            }
        }
        let target = &p.targets[work.target];
        if to > target.serve {
            return Some(format!("it must be done by {}, for {}", clock(target.serve), target.name));
        }
        self.taken(p, line, from, to)
    }

    /// Hands, rings, shelves, board, appliance and heat at every minute of a stretch.
    fn taken(&self, p: &Problem, line: usize, from: i64, to: i64) -> Option<String> {
        let work = &p.works[line];
        let beside: Vec<usize> = (0..p.works.len())
            .filter(|&w| w != line && self.starts[w] < to && self.starts[w] + p.works[w].minutes > from)
            .collect();
        let appliance = beside.iter().find(|&&w| work.appliance.is_some() && p.works[w].appliance == work.appliance);
        if let Some(&w) = appliance {
            return Some(format!("{} has the {}", quoted(&p.works[w]), work.appliance.as_deref().unwrap_or_default()));
        }
        let oven = |w: &Work| matches!(w.spot, Spot::Oven { .. });
        let heats = |w: &Work| matches!(w.kind, LineKind::OvenOn | LineKind::OvenTo);
        if let Some(&w) = beside.iter().find(|&&w| {
            let other = &p.works[w];
            oven(work) && oven(other) && (work.celsius != other.celsius || heats(work) || heats(other))
        }) {
            return Some(format!(
                "the oven is taken by {} until {}",
                quoted(&p.works[w]),
                clock(self.starts[w] + p.works[w].minutes)
            ));
        }
        let boards = p.capacities.space;
        let space = |w: &Work| match w.board {
            Board::None => 0,
            Board::Clean => 1,
            Board::Raw { .. } | Board::Wash => boards,
        };
        type Need<'n> = &'n dyn Fn(&Work) -> i64;
        let needs: [(Need<'_>, i64, &str); 4] = [
            (&|w: &Work| w.hands, p.capacities.cooks, "the hands are taken by"),
            (&|w: &Work| i64::from(w.spot == Spot::Ring), p.capacities.rings, "every ring is taken, one of them by"),
            (&|w: &Work| if oven(w) { w.racks } else { 0 }, p.capacities.racks, "the oven's shelves are taken by"),
            (&space, boards, "the board is taken by"),
        ];
        for (need, has, words) in needs {
            if need(work) == 0 {
                continue;
            }
            // What is taken only grows where something begins.
            let moments = beside.iter().map(|&w| self.starts[w].max(from));
            for at in moments {
                let there = |w: &&usize| {
                    self.starts[**w] <= at && self.starts[**w] + p.works[**w].minutes > at && need(&p.works[**w]) > 0
                };
                let all: i64 = beside.iter().filter(there).map(|&w| need(&p.works[w])).sum();
                if all + need(work) > has
                    && let Some(&w) = beside.iter().find(there)
                {
                    return Some(format!("{words} {} at {}", quoted(&p.works[w]), clock(at)));
                }
            }
        }
        None
    }
}

fn quoted(work: &Work) -> String {
    format!("\u{201c}{}\u{201d}", brief(&work.what))
}
