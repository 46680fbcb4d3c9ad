//! A worker that reckons how everything cools: hundreds of small marches through time, too much for a frame.

use crate::{
    judge::{Cooling, coolings},
    rotation::Rotation,
};
use std::{
    sync::{Arc, mpsc},
    thread,
};

/// What a revision's cooking cools like, or the wait for it.
pub(super) struct Seek {
    revision: u64,
    waiting: mpsc::Receiver<Vec<Cooling>>,
    found: Option<Arc<Vec<Cooling>>>,
}

impl Seek {
    pub(super) fn begin(rotation: Arc<Rotation>, revision: u64, ctx: &egui::Context) -> Seek {
        let (send, waiting) = mpsc::channel();
        let ctx = ctx.clone();
        thread::spawn(move || {
            // Nobody waiting any more is no harm.
            let _ = send.send(coolings(&rotation));
            ctx.request_repaint();
        });
        Seek { revision, waiting, found: None }
    }

    /// The revision that it is about.
    pub(super) fn revision(&self) -> u64 {
        self.revision
    }

    /// What was found; nothing yet.
    pub(super) fn found(&mut self) -> Option<Arc<Vec<Cooling>>> {
        if self.found.is_none() {
            self.found = self.waiting.try_recv().ok().map(Arc::new);
        }
        self.found.clone()
    }
}
