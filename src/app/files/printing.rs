//! What goes on paper from the window: the same pages as the command line's, those that were chosen.

use super::work::Refused;
use crate::{
    book::Book,
    exchange::print::{Format, Paper, PrintedList},
    lists::Cupboard,
    quantity::{DayNo, System},
    rotation::Rotation,
    runsheet::KeptPlan,
    store::{StoreError, write_whole},
    timeline::Onlooker,
};
use std::{
    path::Path,
    sync::Arc,
    time::{Duration, Instant},
};

/// How long a run sheet may be sought for paper; the best so far is printed then, and says so.
const PATIENCE: Duration = Duration::from_secs(5);

/// Which lists go on paper, and the run sheets of which days.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// In the order in which they are printed.
    pub lists: Vec<PrintedList>,
    /// Days whose run sheet is left out.
    pub without: Vec<DayNo>,
}

impl Default for Chosen {
    fn default() -> Chosen {
        Chosen { lists: PrintedList::USUAL.to_vec(), without: Vec::new() }
    }
}

impl Chosen {
    /// Takes a list up or leaves it out; the order stays that of print.
    pub fn turn(&mut self, list: PrintedList) {
        let has = self.lists.contains(&list);
        self.lists = PrintedList::ALL.into_iter().filter(|l| if *l == list { !has } else { self.lists.contains(l) }).collect();
    }

    /// The same for a day's run sheet.
    pub fn turn_day(&mut self, day: DayNo) {
        match self.without.iter().position(|d| *d == day) {
            Some(at) => {
                self.without.remove(at);
            }
            None => self.without.push(day),
        }
    }
}

/// A plan with what its pages are reckoned from.
#[derive(Clone, Debug)]
pub struct Printable {
    /// The plan.
    pub plan: Arc<Rotation>,
    /// What is in the house.
    pub cupboard: Cupboard,
    /// Where uses for what is over are looked for.
    pub book: Arc<Book>,
    /// The household's measures.
    pub system: System,
    /// What of it.
    pub chosen: Chosen,
    /// What was settled by hand about its cooking.
    pub settled: KeptPlan,
}

struct Deadline(Instant);

impl Onlooker for Deadline {
    fn stop(&mut self) -> bool {
        Instant::now() >= self.0
    }
}

impl Printable {
    /// Writes what was chosen in the format that the end of the name asks for; a calendar is always whole.
    pub(super) fn write(&self, path: &Path) -> Result<(), Refused> {
        let failed = |why: String| Refused::Failed(StoreError::NotWritten { path: path.into(), why });
        let format = Format::of(path).ok_or_else(|| failed(format!("the name must end in {}", Format::ENDS)))?;
        let days: Vec<DayNo> = self.plan.day_numbers().filter(|d| !self.chosen.without.contains(d)).collect();
        let days = (format != Format::Calendar).then_some(&days[..]);
        let onlooker: &dyn Fn() -> Box<dyn Onlooker> = &|| Box::new(Deadline(Instant::now() + PATIENCE));
        let (cupboard, book) = (&self.cupboard, &*self.book);
        let paper = Paper { plan: &self.plan, cupboard, book, system: self.system, days, settled: &self.settled, onlooker };
        let bytes = paper.print(&self.chosen.lists, format).map_err(|e| failed(e.to_string()))?;
        write_whole(path, &bytes).map(|_| ()).map_err(Refused::Failed)
    }
}
