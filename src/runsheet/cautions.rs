//! What to beware of, put on the line where it matters and said once.

use super::{
    session::Session,
    sheet::{Line, LineCaution, LineKind, Place},
    words,
    work::{Board, Problem},
};
use crate::book::Care;

/// Words by which a hazard of the kind is known to be about knife and board.
const KNIFE: &[&str] = &["knife", "blade", "flat face", "flat foot", "cloth", "cut a"];
/// And by which it belongs to putting away.
const AWAY: &[&str] = &["fridge", "two hours", "shallow", "chill", "cool"];

fn said(text: impl Into<String>, source: &str) -> LineCaution {
    LineCaution { text: text.into(), source: source.into() }
}

/// Puts every caution of the day on its line.
pub(super) fn put(session: &Session<'_>, problem: &Problem, lines: &mut [Line]) {
    let mut put = Put { lines, problem, said: Vec::new() };
    put.already();
    put.of_kind(session);
    put.of_dishes(session);
    put.of_the_kitchen();
}

struct Put<'l> {
    lines: &'l mut [Line],
    problem: &'l Problem,
    said: Vec<String>,
}

impl Put<'_> {
    /// A caution that stands on several lines stays on the first.
    fn already(&mut self) {
        for line in self.lines.iter_mut() {
            line.cautions.retain(|c| {
                let fresh = !self.said.contains(&c.text);
                if fresh {
                    self.said.push(c.text.clone());
                }
                fresh
            });
        }
    }

    /// Puts it on the first line that fits, if it was not said before and some line does.
    fn on(&mut self, caution: LineCaution, fits: impl Fn(&Line) -> bool) -> bool {
        if self.said.contains(&caution.text) {
            return true;
        }
        let Some(line) = self.lines.iter_mut().find(|l| fits(l)) else { return false };
        self.said.push(caution.text.clone());
        line.cautions.push(caution);
        true
    }

    fn of_kind(&mut self, session: &Session<'_>) {
        let kind = &session.rotation.kind;
        let source = "the book, on this kind";
        for hazard in &kind.hazards {
            let lower = hazard.to_lowercase();
            let about = |list: &[&str]| list.iter().any(|w| lower.contains(w));
            if lower.contains("eaten raw") && session.makings.iter().all(|m| m.dish.cooked) {
                continue;
            }
            let of_piece = |l: &Line| l.kind == LineKind::Step && !l.portions.is_empty();
            if about(KNIFE) {
                self.on(said(hazard, source), |l| of_piece(l) && l.hands && words::cuts(&l.what));
            } else if about(AWAY) {
                self.on(said(hazard, source), |l| l.kind == LineKind::Box || l.hands && l.what.to_lowercase().contains("fridge"));
            } else {
                self.on(said(hazard, source), of_piece);
            }
        }
    }

    fn of_dishes(&mut self, session: &Session<'_>) {
        for making in &session.makings {
            let eaters = session.sittings.iter().flat_map(|s| &s.eaters);
            let cares: Vec<Care> =
                eaters.filter_map(|e| session.rotation.household.eater(*e)).flat_map(|e| e.care.clone()).collect();
            for caution in &making.dish.cautions {
                if !caution.for_whom.is_empty() && !caution.for_whom.iter().any(|c| cares.contains(c)) {
                    continue;
                }
                let batch = Some(making.batch.id);
                let key: Vec<String> = words::words(&caution.text).into_iter().filter(|w| w.len() > 3).collect();
                let of_dish = |l: &Line| l.batch == batch && l.kind != LineKind::TakeOut;
                let text = said(&caution.text, &caution.source);
                let lower = caution.text.to_lowercase();
                if lower.contains("fridge") && self.on(text.clone(), |l| of_dish(l) && l.kind == LineKind::Box) {
                    continue;
                }
                if let Some(first) = key.first()
                    && self.on(text.clone(), |l| of_dish(l) && words::words(&l.what).contains(first))
                {
                    continue;
                }
                // The line that shares most words with it, or the dish's first.
                let shared = |l: &Line| words::words(&l.what).iter().filter(|w| key.contains(w)).count();
                let most = self.lines.iter().filter(|l| of_dish(l)).map(shared).max().unwrap_or(0);
                self.on(text, |l| of_dish(l) && shared(l) == most);
            }
        }
    }

    /// Heat and raw food. Common practice where no source is named.
    fn of_the_kitchen(&mut self) {
        let has = |l: &Line, list: &[&str]| {
            let lower = l.what.to_lowercase();
            list.iter().any(|w| lower.contains(w))
        };
        self.on(said("Never leave hot fat alone; lid at hand, no water into it.", "practice"), |l| {
            has(l, &["oil two fingers", "finger of oil", "deep"]) && l.place != Place::Bench && has(l, &["fry"])
        });
        self.on(said("Stand back and use dry cloths: steam and tray burn.", "practice"), |l| l.kind == LineKind::TakeOut);
        let problem = self.problem;
        let raw = |l: &Line| problem.works.get(l.id).is_some_and(|w| matches!(w.board, Board::Raw { .. }));
        let source = "UK Food Standards Agency: avoiding cross-contamination";
        self.on(said("Raw: nothing else comes on this board until it is washed.", source), raw);
        self.on(said("Use a vented lid or let it cool first: hot soup bursts out of a closed blender.", "practice"), |l| {
            l.kind == LineKind::Step && has(l, &["blend"]) && has(l, &["soup", "smooth"]) && l.hands
        });
    }
}
