//! Derived figures: reckoned once for each revision of the plan, mends on a worker.

use crate::{
    book::Book,
    judge::{ClockBar, Home, Judgement, LikenessTable, Mend, clock_bars, judge_at_home, mends_at_home},
    rotation::{EaterId, Rotation},
};
use std::sync::{
    Arc,
    atomic::{AtomicBool, Ordering},
    mpsc,
};

/// What is known of the plan at one revision.
pub struct Judged {
    revision: u64,
    home: Arc<Home>,
    judgement: Judgement,
    mends: Vec<Vec<Mend>>,
    looking: Option<Looking>,
    /// Meals compared, for those who were asked about.
    tables: Vec<LikenessTable>,
    clocks: Vec<ClockBar>,
}

struct Looking {
    stop: Arc<AtomicBool>,
    found: mpsc::Receiver<(usize, Vec<Mend>)>,
}

impl Drop for Looking {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl Judged {
    /// Judges `rotation` and begins to look for mends.
    pub fn new(rotation: &Arc<Rotation>, book: &Arc<Book>, home: &Arc<Home>, revision: u64, ctx: &egui::Context) -> Judged {
        let judgement = judge_at_home(rotation, home);
        let looking = look_for_mends(rotation.clone(), book.clone(), home.clone(), &judgement, ctx.clone());
        let mends = vec![Vec::new(); judgement.findings.len()];
        Judged { revision, home: home.clone(), judgement, mends, looking, tables: Vec::new(), clocks: clock_bars(rotation) }
    }

    /// The revision that this is about.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// What the judges say.
    pub fn judgement(&self) -> &Judgement {
        &self.judgement
    }

    /// Mends in the findings' order; empty where none are found, or none yet.
    pub fn mends(&self) -> &[Vec<Mend>] {
        &self.mends
    }

    /// Every clock as a bar.
    pub fn clocks(&self) -> &[ClockBar] {
        &self.clocks
    }

    /// Compares the meals of one eater, or of everybody, unless that has been done at this revision.
    pub fn compare(&mut self, rotation: &Rotation, who: Option<EaterId>) {
        if self.table(who).is_none() {
            self.tables.push(LikenessTable::of(rotation, &self.home.patience, who));
        }
    }

    /// The meals of one eater, or of everybody, compared.
    pub fn table(&self, who: Option<EaterId>) -> Option<&LikenessTable> {
        self.tables.iter().find(|t| t.eater == who)
    }

    /// Takes what the worker has found since.
    pub fn poll(&mut self) {
        let Some(looking) = &self.looking else { return };
        for (place, found) in looking.found.try_iter() {
            if let Some(mends) = self.mends.get_mut(place) {
                *mends = found;
            }
        }
    }
}

/// Tries mends on a worker: dozens of plans are judged for each finding, too much for a frame of a long plan.
fn look_for_mends(
    rotation: Arc<Rotation>,
    book: Arc<Book>,
    home: Arc<Home>,
    judgement: &Judgement,
    ctx: egui::Context,
) -> Option<Looking> {
    let findings = judgement.findings.clone();
    if findings.is_empty() {
        return None;
    }
    let stop = Arc::new(AtomicBool::new(false));
    let (send, found) = mpsc::channel();
    let stopped = stop.clone();
    std::thread::spawn(move || {
        // Worst first, as they are listed: what matters most has its mends first.
        for (place, finding) in findings.iter().enumerate().filter(|(_, f)| f.speaks()) {
            if stopped.load(Ordering::Relaxed) {
                return;
            }
            let found = mends_at_home(&rotation, &book, finding, &home);
            if !found.is_empty() && send.send((place, found)).is_ok() {
                ctx.request_repaint();
            }
        }
    });
    Some(Looking { stop, found })
}
