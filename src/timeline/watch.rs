//! Who looks on: may end the search, and hears of every better schedule.

use super::{
    engine::{Engine, Lit, Manner, Outcome},
    model::Model,
};

/// What the caller lends the search: the one impure thing about it.
pub trait Onlooker {
    /// Whether to stop now. Asked often; it may look at a clock or at a flag.
    fn stop(&mut self) -> bool {
        false
    }

    /// Hears of progress.
    fn news(&mut self, _news: &News) {}
}

/// Nobody: the search runs to its end.
impl Onlooker for () {}

/// How far the search is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct News {
    /// The least span found so far.
    pub span: Option<i64>,
    /// No schedule has a lesser one.
    pub span_bound: i64,
    /// The least sum found so far at the least span, once that is proven.
    pub sum: Option<i64>,
    /// No schedule of that span has a lesser one.
    pub sum_bound: Option<i64>,
}

/// The onlooker with what the search must remember for it.
pub(super) struct Watch<'a> {
    onlooker: &'a mut dyn Onlooker,
    stopped: bool,
    last: Option<News>,
    /// What the mirror's sum of starts lacks to the real one.
    pub offset: i64,
    /// Clashes over all engines.
    pub clashes: u64,
}

impl<'a> Watch<'a> {
    pub fn new(onlooker: &'a mut dyn Onlooker, offset: i64) -> Watch<'a> {
        Watch { onlooker, stopped: false, last: None, offset, clashes: 0 }
    }

    pub fn stopped(&mut self) -> bool {
        self.stopped = self.stopped || self.onlooker.stop();
        self.stopped
    }

    pub fn span(&mut self, best: Option<i32>, bound: i32) {
        self.tell(News { span: best.map(i64::from), span_bound: i64::from(bound), sum: None, sum_bound: None });
    }

    /// The sums are of mirrored starts.
    pub fn sum(&mut self, span: i32, sum: i64, bound: i64) {
        let (sum, sum_bound) = (Some(sum + self.offset), Some(bound + self.offset));
        self.tell(News { span: Some(i64::from(span)), span_bound: i64::from(span), sum, sum_bound });
    }

    fn tell(&mut self, news: News) {
        if self.last != Some(news) {
            self.last = Some(news);
            self.onlooker.news(&news);
        }
    }

    pub fn search(&mut self, model: &mut Model, assumed: &[Lit], clashes: u64, manner: Manner) -> Outcome {
        self.search_engine(&mut model.engine, assumed, clashes, manner)
    }

    pub fn search_engine(&mut self, engine: &mut Engine, assumed: &[Lit], clashes: u64, manner: Manner) -> Outcome {
        let before = engine.clashes;
        let outcome = engine.search(assumed, clashes, manner, &mut || self.stopped());
        self.clashes += engine.clashes - before;
        outcome
    }
}
