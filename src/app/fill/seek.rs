//! The worker that fills the meals.

use crate::{
    app::view::View,
    arrange::{Arrangement, Best, Binding, Impossible, Limits, Outcome, Question, Wishes},
    rotation::Slot,
};
use std::{
    sync::{
        Arc,
        atomic::{AtomicBool, Ordering},
        mpsc,
    },
    thread,
};

/// The most arrangements that are shown beside the best.
const OTHERS: usize = 3;
/// Seconds for the best, and for all that is said beside it; whatever is found by then is shown, and how far it is proven.
const FOR_THE_BEST: f64 = 60.0;
const FOR_THE_REST: f64 = 10.0;

/// What came of it.
pub(super) enum Answered {
    NothingOpen,
    Stopped,
    Impossible(Impossible),
    Filled { best: Box<Best>, others: Vec<(Arrangement, bool)>, binds: Vec<Binding> },
}

/// News from the worker.
pub(super) enum Told {
    SoFar(Box<Arrangement>),
    Answer(Box<Answered>),
}

/// A search on a thread of its own.
pub(super) struct Seek {
    stop: Arc<AtomicBool>,
    found: mpsc::Receiver<Told>,
}

impl Drop for Seek {
    fn drop(&mut self) {
        self.stop();
    }
}

impl Seek {
    pub fn begin(view: &View<'_>, meals: Vec<Slot>, may_be_alike: bool, ctx: &egui::Context) -> Seek {
        let stop = Arc::new(AtomicBool::new(false));
        let (send, found) = mpsc::channel();
        let (plan, book, home) = (view.rotation.clone(), view.book.clone(), view.hearth.home().clone());
        let (flag, ctx) = (stop.clone(), ctx.clone());
        let use_up = view.hearth.cupboard().due_by(view.rotation.date(view.rotation.last_day()));
        thread::spawn(move || {
            let wishes = Wishes { meals: Some(meals), may_be_alike, use_up, ..Wishes::default() };
            let mut question = Question::new(&plan, &book, &home, &wishes);
            let within = |seconds: f64| Limits { threads: 1, seconds: Some(seconds), cancel: Some(&flag) };
            // Nobody waiting any more is no harm.
            let outcome = question.best(within(FOR_THE_BEST), &mut |news| {
                let _ = send.send(Told::SoFar(Box::new(news.best)));
                ctx.request_repaint();
            });
            let answer = match outcome {
                Outcome::NothingOpen => Answered::NothingOpen,
                Outcome::Stopped => Answered::Stopped,
                Outcome::Impossible(why) => Answered::Impossible(why),
                Outcome::Filled(best) => {
                    let others = question.others(&best.arrangement, OTHERS, within(FOR_THE_REST));
                    let binds = question.binds(&best.arrangement, within(FOR_THE_REST));
                    Answered::Filled { best, others, binds }
                }
            };
            let _ = send.send(Told::Answer(Box::new(answer)));
            ctx.request_repaint();
        });
        Seek { stop, found }
    }

    /// What was told since.
    pub fn told(&self) -> Vec<Told> {
        self.found.try_iter().collect()
    }

    /// Comes to an end with the best so far.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}
