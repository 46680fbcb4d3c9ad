//! Derived figures: reckoned once for each revision of the plan, mends on a worker.

use crate::{
    book::Book,
    judge::{Judgement, Mend, judge, mends_for},
    rotation::Rotation,
};
use std::sync::{
    Arc,
    atomic::{AtomicBool, Ordering},
    mpsc,
};

/// What is known of the plan at one revision.
pub struct Judged {
    revision: u64,
    judgement: Judgement,
    mends: Vec<Vec<Mend>>,
    looking: Option<Looking>,
}

struct Looking {
    stop: Arc<AtomicBool>,
    found: mpsc::Receiver<Vec<Vec<Mend>>>,
}

impl Drop for Looking {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

impl Judged {
    /// Judges `rotation` and begins to look for mends.
    pub fn new(rotation: &Arc<Rotation>, book: &Arc<Book>, revision: u64, ctx: &egui::Context) -> Judged {
        let judgement = judge(rotation);
        let looking = look_for_mends(rotation.clone(), book.clone(), &judgement, ctx.clone());
        Judged { revision, judgement, mends: Vec::new(), looking }
    }

    /// The revision that this is about.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// What the judges say.
    pub fn judgement(&self) -> &Judgement {
        &self.judgement
    }

    /// Mends in the findings' order; empty until the worker is done.
    pub fn mends(&self) -> &[Vec<Mend>] {
        &self.mends
    }

    /// Takes what the worker has found since.
    pub fn poll(&mut self) {
        if let Some(looking) = &self.looking
            && let Ok(found) = looking.found.try_recv()
        {
            self.mends = found;
            self.looking = None;
        }
    }
}

/// Tries mends on a worker: dozens of plans are judged for each finding, too much for a frame of a long plan.
fn look_for_mends(rotation: Arc<Rotation>, book: Arc<Book>, judgement: &Judgement, ctx: egui::Context) -> Option<Looking> {
    let findings = judgement.findings.clone();
    if findings.is_empty() {
        return None;
    }
    let stop = Arc::new(AtomicBool::new(false));
    let (send, found) = mpsc::channel();
    let stopped = stop.clone();
    std::thread::spawn(move || {
        let mut all = Vec::with_capacity(findings.len());
        for finding in &findings {
            if stopped.load(Ordering::Relaxed) {
                return;
            }
            all.push(if finding.speaks() { mends_for(&rotation, &book, finding) } else { Vec::new() });
        }
        if send.send(all).is_ok() {
            ctx.request_repaint();
        }
    });
    Some(Looking { stop, found })
}
