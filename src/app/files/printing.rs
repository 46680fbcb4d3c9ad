//! What goes on paper from the window: the same pages as the command line's.

use super::work::Refused;
use crate::{
    book::Book,
    exchange::print::{Format, calendar, print_sheets},
    lists::{Cupboard, box_labels, cut_list, cut_sheet, label_sheet, shopping_list, shopping_sheet, week_sheet},
    quantity::System,
    rotation::Rotation,
    runsheet::{Wish, refusal_page, run_sheet, run_sheet_page},
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
}

struct Deadline(Instant);

impl Onlooker for Deadline {
    fn stop(&mut self) -> bool {
        Instant::now() >= self.0
    }
}

impl Printable {
    /// Writes week, cut list, run sheets, shopping list and labels in the format that the end of the name asks for.
    pub(super) fn write(&self, path: &Path) -> Result<(), Refused> {
        let failed = |why: String| Refused::Failed(StoreError::NotWritten { path: path.into(), why });
        let format = Format::of(path).ok_or_else(|| failed(format!("the name must end in {}", Format::ENDS)))?;
        let (plan, system) = (&*self.plan, self.system);
        let labels = box_labels(plan);
        let sought =
            plan.day_numbers().map(|day| (day, run_sheet(plan, day, &Wish::default(), &mut Deadline(Instant::now() + PATIENCE))));
        let bytes = if format == Format::Calendar {
            let sessions: Vec<_> = sought.filter_map(|(_, found)| found.ok()).collect();
            calendar(plan, &labels, &sessions, system).into_bytes()
        } else {
            let mut sheets = vec![week_sheet(plan, &labels, system), cut_sheet(plan, &cut_list(plan), system)];
            for (day, found) in sought {
                match found {
                    Ok(sheet) => sheets.push(run_sheet_page(plan, &sheet, system)),
                    Err(refusal) if !refusal.nothing => sheets.push(refusal_page(plan, day, &refusal)),
                    Err(_) => {}
                }
            }
            sheets.push(shopping_sheet(plan, &shopping_list(plan, &self.cupboard, &self.book), system));
            sheets.push(label_sheet(plan, &labels, system));
            print_sheets(&sheets, format).map_err(|e| failed(e.to_string()))?
        };
        write_whole(path, &bytes).map(|_| ()).map_err(Refused::Failed)
    }
}
