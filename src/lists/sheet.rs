//! A list as words in a plain page: headings, tables and cards, in the measures of the household.
//!
//! The command line prints it, and every paper format is made from it, so that all of them say the same. Nothing is told by
//! colour, and days are days of the week.

mod cutting;
mod labelling;
mod prepping;
mod shopping;
mod week;

pub use cutting::cut_sheet;
pub use labelling::label_sheet;
pub use prepping::prep_sheet;
pub use shopping::shopping_sheet;
pub use week::week_sheet;

use crate::{
    quantity::{DayNo, Portion, System, write_grams},
    rotation::Rotation,
};

/// A page or more.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    /// What it is: "Cut list".
    pub title: String,
    /// Of what: "Red cabbage in four days, from Monday 2026-12-07".
    pub subtitle: String,
    /// Its sections, in order.
    pub sections: Vec<Section>,
    /// Whether it is read from where the hands work: larger letters on paper.
    pub at_arms_length: bool,
}

/// A section under its heading.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Section {
    /// What stands over it; may be empty.
    pub heading: String,
    /// Sentences before the table.
    pub lead: Vec<String>,
    /// The table, if it has one.
    pub table: Option<SheetTable>,
    /// Cards to cut out: labels.
    pub cards: Vec<Card>,
    /// Sentences behind it.
    pub notes: Vec<String>,
}

/// Rows of text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetTable {
    /// Names of the columns.
    pub head: Vec<String>,
    /// Which columns hold figures and stand to the right.
    pub right: &'static [usize],
    /// Each row has as many cells as the head.
    pub rows: Vec<Vec<String>>,
}

/// A card to cut out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Card {
    /// Large, on top.
    pub title: String,
    /// Below.
    pub lines: Vec<String>,
}

impl Section {
    fn headed(heading: impl Into<String>) -> Section {
        Section { heading: heading.into(), ..Section::default() }
    }

    fn with_table<const N: usize>(mut self, head: [&str; N], right: &'static [usize], rows: Vec<[String; N]>) -> Section {
        if !rows.is_empty() {
            let head = head.map(String::from).into();
            self.table = Some(SheetTable { head, right, rows: rows.into_iter().map(Vec::from).collect() });
        }
        self
    }
}

impl Sheet {
    fn of(rotation: &Rotation, title: &str) -> Sheet {
        let first = DayNo::FIRST;
        let subtitle = format!("{}, from {} {}", rotation.heading(), rotation.weekday(first), rotation.date(first));
        Sheet { title: title.into(), subtitle, sections: Vec::new(), at_arms_length: false }
    }
}

/// "520 g raw", "364 g cooked".
fn mass(portion: Portion, system: System) -> String {
    let state = match portion {
        Portion::Prepared(_) => "raw",
        Portion::Cooked(_) => "cooked",
    };
    format!("{} {state}", write_grams(portion.get(), system))
}

/// "leek", "leek and barley", "leek, barley and mint".
fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
