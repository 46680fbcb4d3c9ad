//! A worker that seeks a run sheet, or what is left of one from now.

use crate::{
    quantity::DayNo,
    rotation::Rotation,
    runsheet::{Progress, Proposal, Refusal, Replanned, RunSheet, Wish, prep_ahead, replan, run_sheet},
    timeline::Onlooker,
};
use std::{
    sync::{
        Arc,
        atomic::{AtomicBool, Ordering},
        mpsc,
    },
    thread,
};

/// Stops where the page says so, or where nobody waits any more.
struct Flag(Arc<AtomicBool>);

impl Onlooker for Flag {
    fn stop(&mut self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// One search on a thread of its own.
struct Search<T> {
    stop: Arc<AtomicBool>,
    found: mpsc::Receiver<T>,
}

impl<T: Send + 'static> Search<T> {
    fn begin(ctx: &egui::Context, seek: impl FnOnce(&mut dyn Onlooker) -> T + Send + 'static) -> Search<T> {
        let stop = Arc::new(AtomicBool::new(false));
        let (send, found) = mpsc::channel();
        let (flag, ctx) = (stop.clone(), ctx.clone());
        thread::spawn(move || {
            // Nobody waiting any more is no harm.
            let _ = send.send(seek(&mut Flag(flag)));
            ctx.request_repaint();
        });
        Search { stop, found }
    }
}

impl<T> Drop for Search<T> {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// What a sheet was made for: the plan's revision, and how much of it is done ahead.
pub(super) type Stamp = (u64, usize);

/// The search for what may be done ahead of a day.
pub(super) struct SeekAhead {
    pub day: DayNo,
    pub stamp: Stamp,
    search: Search<Vec<Proposal>>,
}

impl SeekAhead {
    pub fn begin(rotation: Arc<Rotation>, day: DayNo, stamp: Stamp, ctx: &egui::Context) -> SeekAhead {
        let search = Search::begin(ctx, move |onlooker| prep_ahead(&rotation, day, onlooker));
        SeekAhead { day, stamp, search }
    }

    /// What was found, once.
    pub fn taken(&self) -> Option<Vec<Proposal>> {
        self.search.found.try_recv().ok()
    }
}

/// The search for a day's sheet.
pub(super) struct Seek {
    pub day: DayNo,
    pub stamp: Stamp,
    search: Search<Result<Arc<RunSheet>, Refusal>>,
}

impl Seek {
    pub fn begin(rotation: Arc<Rotation>, day: DayNo, stamp: Stamp, wish: Wish, ctx: &egui::Context) -> Seek {
        let search = Search::begin(ctx, move |onlooker| run_sheet(&rotation, day, &wish, onlooker).map(Arc::new));
        Seek { day, stamp, search }
    }

    /// What was found, once.
    pub fn taken(&self) -> Option<Result<Arc<RunSheet>, Refusal>> {
        self.search.found.try_recv().ok()
    }

    /// Comes to an end with the best so far.
    pub fn stop(&self) {
        self.search.stop.store(true, Ordering::Relaxed);
    }
}

/// The search for what is left of a sheet from now.
pub(super) struct Anew(Search<Result<Replanned, Refusal>>);

impl Anew {
    pub fn begin(sheet: Arc<RunSheet>, progress: Progress, ctx: &egui::Context) -> Anew {
        Anew(Search::begin(ctx, move |onlooker| replan(&sheet, &progress, onlooker)))
    }

    pub fn taken(&self) -> Option<Result<Replanned, Refusal>> {
        self.0.found.try_recv().ok()
    }
}
