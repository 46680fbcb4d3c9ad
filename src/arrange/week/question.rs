//! Asking, and what is answered.

use super::{
    Arrangement, Wishes,
    board::Board,
    impossible::{Impossible, why_not},
    others::Differs,
    start::{Any, start},
};
use crate::{
    arrange::{
        answer::{Limits, Status},
        solve::arrange_gated,
        watch::Gate,
    },
    book::Book,
    judge::Home,
    rotation::{Rotation, Slot},
};
use std::{sync::atomic::Ordering, time::Instant};

/// A question laid out once, to be asked for the best, for others that differ, and for what stands in the way.
///
/// Laying it out tries every dish at every meal with the judges, some ten milliseconds for a week. It can be sent to a worker.
pub struct Question<'a> {
    pub(super) board: Board<'a>,
    pub(super) book: &'a Book,
}

/// News on the way.
#[derive(Debug)]
pub struct News {
    /// The best so far.
    pub best: Arrangement,
    /// No arrangement costs less than this, in the unit of [`super::Cost`].
    pub bound: i64,
}

/// What is answered.
#[derive(Debug)]
pub enum Outcome {
    /// No meal waits for a dish.
    NothingOpen,
    /// The meals can be filled.
    Filled(Box<Best>),
    /// They cannot, proven, and why.
    Impossible(Impossible),
    /// Time or hand stopped it before anything was found.
    Stopped,
}

/// The best that was found, and how much is claimed of it.
#[derive(Debug)]
pub struct Best {
    /// The arrangement.
    pub arrangement: Arrangement,
    /// No arrangement costs less than this; equal to its cost where it is proven best.
    pub bound: i64,
    /// Whether it is proven that none is better.
    pub proven: bool,
    /// Whether more than a twentieth of the piece is left over, because no arrangement leaves less than that.
    pub wasteful: bool,
}

impl Best {
    /// How much is claimed, in a sentence.
    pub fn says(&self) -> String {
        if self.proven {
            return "The best there is: none is better, proven.".into();
        }
        let (cost, bound) = (self.arrangement.cost.total(), self.bound.max(0));
        let gap = if cost > 0 { 100 * (cost - bound) / cost } else { 0 };
        format!("The best so far: a better one may exist, by {gap}\u{a0}% of its cost at the most.")
    }
}

impl<'a> Question<'a> {
    /// Lays the question out. Nothing is searched yet.
    pub fn new(plan: &Rotation, book: &'a Book, home: &'a Home, wishes: &Wishes) -> Question<'a> {
        Question { board: Board::new(plan.clone(), book, home, wishes), book }
    }

    /// The meals asked for, in the order of time.
    pub fn meals(&self) -> &[Slot] {
        &self.board.slots
    }

    /// The best arrangement, as far as `limits` let it come; each better one on the way goes to `news`.
    pub fn best(&mut self, limits: Limits<'_>, news: &mut dyn FnMut(News)) -> Outcome {
        if self.board.slots.is_empty() {
            return Outcome::NothingOpen;
        }
        let clock = Clock::new(limits);
        let mut first = start(&self.board, &self.board, &|| clock.is_over());
        if first == Any::None && !self.board.may_waste {
            self.board.allow_waste();
            first = start(&self.board, &self.board, &|| clock.is_over());
        }
        match first {
            Any::Unknown => Outcome::Stopped,
            Any::None => Outcome::Impossible(why_not(self, clock.left())),
            Any::Found(first) => match solve(&self.board, &self.board, &first, clock.left(), news) {
                Some((arrangement, bound, proven)) => {
                    Outcome::Filled(Box::new(Best { arrangement, bound, proven, wasteful: self.board.may_waste }))
                }
                None => Outcome::Stopped,
            },
        }
    }

    /// Up to `count` arrangements that really differ from `best` and from each other, each the best of those that do, so in the
    /// order of cost. An arrangement differs from another if at least a third of its meals have a dish that the other does not
    /// serve at all, of another main texture or seasoning than the other has at that meal. The flag says whether each is proven
    /// to be the best that differs so.
    pub fn others(&self, best: &Arrangement, count: usize, limits: Limits<'_>) -> Vec<(Arrangement, bool)> {
        let clock = Clock::new(limits);
        let mut out: Vec<(Arrangement, bool)> = Vec::new();
        while out.len() < count && !clock.is_over() {
            let known: Vec<&[usize]> =
                std::iter::once(&best.chosen).chain(out.iter().map(|(a, _)| &a.chosen)).map(Vec::as_slice).collect();
            let gate = Differs::new(&self.board, known);
            let Any::Found(first) = start(&self.board, &gate, &|| clock.is_over()) else { break };
            let Some((next, _, proven)) = solve(&self.board, &gate, &first, clock.left(), &mut |_| {}) else { break };
            out.push((next, proven));
        }
        out.sort_by_key(|(a, _)| a.cost.total());
        out
    }
}

/// The best that passes `gate`, with its bound and whether it is proven.
pub(super) fn solve(
    board: &Board,
    gate: &dyn Gate,
    first: &[usize],
    limits: Limits<'_>,
    news: &mut dyn FnMut(News),
) -> Option<(Arrangement, i64, bool)> {
    let instance = board.instance();
    let answer = arrange_gated(&instance, gate, first, limits, &mut |p| {
        if let Some((_, chosen)) = p.best
            && let Some(best) = Arrangement::of(board, chosen)
        {
            news(News { best, bound: p.bound });
        }
    });
    let arrangement = Arrangement::of(board, &answer.assignment?)?;
    Some((arrangement, answer.bound.unwrap_or(0), answer.status == Status::Optimal))
}

/// What is left of the limits.
pub(super) struct Clock<'l> {
    started: Instant,
    limits: Limits<'l>,
}

impl<'l> Clock<'l> {
    pub(super) fn new(limits: Limits<'l>) -> Clock<'l> {
        Clock { started: Instant::now(), limits }
    }

    pub(super) fn is_over(&self) -> bool {
        self.limits.seconds.is_some_and(|s| self.started.elapsed().as_secs_f64() >= s)
            || self.limits.cancel.is_some_and(|c| c.load(Ordering::Relaxed))
    }

    pub(super) fn left(&self) -> Limits<'l> {
        let seconds = self.limits.seconds.map(|s| (s - self.started.elapsed().as_secs_f64()).max(0.0));
        Limits { seconds, ..self.limits }
    }
}
