//! What goes on paper from the window: the same pages as the command line's.

use super::work::Refused;
use crate::{
    book::Book,
    exchange::print::{Format, calendar, print_sheets},
    lists::{Cupboard, Sheet, box_labels, cut_list, cut_sheet, label_sheet, shopping_list, shopping_sheet, week_sheet},
    quantity::System,
    rotation::Rotation,
    store::{StoreError, write_whole},
};
use std::path::Path;

/// The week, the cut list, the shopping list and the labels of a plan, and its calendar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printable {
    sheets: Vec<Sheet>,
    calendar: String,
}

impl Printable {
    /// Everything of a plan that is printed where nobody says what.
    pub fn of(plan: &Rotation, cupboard: &Cupboard, book: &Book, system: System) -> Printable {
        let labels = box_labels(plan);
        let sheets = vec![
            week_sheet(plan, &labels, system),
            cut_sheet(plan, &cut_list(plan), system),
            shopping_sheet(plan, &shopping_list(plan, cupboard, book), system),
            label_sheet(plan, &labels, system),
        ];
        Printable { sheets, calendar: calendar(plan, &labels, system) }
    }

    /// Writes it whole, in the format that the end of the name asks for.
    pub(super) fn write(&self, path: &Path) -> Result<(), Refused> {
        let failed = |why: String| Refused::Failed(StoreError::NotWritten { path: path.into(), why });
        let format = Format::of(path).ok_or_else(|| failed(format!("the name must end in {}", Format::ENDS)))?;
        let bytes = match format {
            Format::Calendar => self.calendar.clone().into_bytes(),
            _ => print_sheets(&self.sheets, format).map_err(|e| failed(e.to_string()))?,
        };
        write_whole(path, &bytes).map(|_| ()).map_err(Refused::Failed)
    }
}
