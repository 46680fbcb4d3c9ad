//! A plan's pages: which lists there are to print, and each made from the plan, the one place where paper is put together.

use super::{Format, PrintError, calendar, print_sheets};
use crate::{
    book::Book,
    lists::{
        Cupboard, Sheet, box_labels, cut_list, cut_sheet, label_sheet, prep_list, prep_sheet, shopping_list, shopping_sheet,
        week_sheet,
    },
    quantity::{DayNo, System},
    rotation::Rotation,
    runsheet::{KeptPlan, RunSheet, Wish, refusal_page, run_sheet, run_sheet_page},
    timeline::Onlooker,
};

/// A list of the plan that may be printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PrintedList {
    /// The meals, and until when each box keeps.
    Week,
    /// A page for each day on which something is cooked.
    RunSheets,
    /// What comes off the piece on which day.
    Cut,
    /// What to buy and pick.
    Shopping,
    /// A card for everything that is put away.
    Labels,
    /// What is prepared by day.
    Prep,
}

impl PrintedList {
    /// All, in the order in which they are printed.
    pub const ALL: [PrintedList; 6] = [
        PrintedList::Week,
        PrintedList::RunSheets,
        PrintedList::Cut,
        PrintedList::Shopping,
        PrintedList::Labels,
        PrintedList::Prep,
    ];
    /// What goes on the fridge door where nobody says.
    pub const USUAL: [PrintedList; 5] =
        [PrintedList::Week, PrintedList::RunSheets, PrintedList::Cut, PrintedList::Shopping, PrintedList::Labels];

    /// As the command line has it.
    pub fn word(self) -> &'static str {
        match self {
            PrintedList::Week => "week",
            PrintedList::RunSheets => "runsheet",
            PrintedList::Cut => "cut",
            PrintedList::Shopping => "shopping",
            PrintedList::Labels => "labels",
            PrintedList::Prep => "prep",
        }
    }

    /// For people.
    pub fn title(self) -> &'static str {
        match self {
            PrintedList::Week => "The week",
            PrintedList::RunSheets => "Run sheets",
            PrintedList::Cut => "Cut list",
            PrintedList::Shopping => "Shopping list",
            PrintedList::Labels => "Box labels",
            PrintedList::Prep => "Prep list",
        }
    }

    /// What it is for, in one line.
    pub fn about(self) -> &'static str {
        match self {
            PrintedList::Week => "The meals, and until when each box keeps",
            PrintedList::RunSheets => "A page for each day on which something is cooked: every step with its clock time",
            PrintedList::Cut => "What comes off the piece on which day",
            PrintedList::Shopping => "What to buy and pick",
            PrintedList::Labels => "A card for everything that is put away",
            PrintedList::Prep => "What is prepared by day",
        }
    }
}

/// A plan with what its pages are reckoned from.
#[derive(Clone, Copy)]
pub struct Paper<'a> {
    /// The plan.
    pub plan: &'a Rotation,
    /// What is in the house; the shopping list alone asks.
    pub cupboard: &'a Cupboard,
    /// Where uses for what is over are looked for; the shopping list alone asks.
    pub book: &'a Book,
    /// The measures.
    pub system: System,
    /// Only the run sheets of these days; nothing: of all.
    pub days: Option<&'a [DayNo]>,
    /// What was settled by hand about its cooking: run sheets stand as it says.
    pub settled: &'a KeptPlan,
    /// Lends each search for a run sheet somebody who may stop it; what was found by then is printed and says so.
    pub onlooker: &'a dyn Fn() -> Box<dyn Onlooker>,
}

impl Paper<'_> {
    /// The lists in a format. A calendar holds meals, cooking and last days instead, whatever the lists.
    ///
    /// # Errors
    /// More pages than a picture holds, or what a library could not do.
    pub fn print(&self, lists: &[PrintedList], format: Format) -> Result<Vec<u8>, PrintError> {
        if format == Format::Calendar {
            let found = self.sought().filter_map(|(_, found)| found.ok());
            return Ok(calendar(self.plan, &box_labels(self.plan), &found.collect::<Vec<_>>(), self.system).into_bytes());
        }
        let sheets: Vec<Sheet> = lists.iter().flat_map(|list| self.pages(*list)).collect();
        print_sheets(&sheets, format)
    }

    /// The pages of one list: none where there are none to make.
    pub fn pages(&self, list: PrintedList) -> Vec<Sheet> {
        let (r, system) = (self.plan, self.system);
        match list {
            PrintedList::Week => vec![week_sheet(r, &box_labels(r), system)],
            PrintedList::RunSheets => self
                .sought()
                .filter_map(|(day, found)| match found {
                    Ok(sheet) => Some(run_sheet_page(r, &sheet, system)),
                    // A day that cannot be cooked says so; a day without work has no page.
                    Err(refusal) => (!refusal.nothing).then(|| refusal_page(r, day, &refusal)),
                })
                .collect(),
            PrintedList::Cut => vec![cut_sheet(r, &cut_list(r), system)],
            PrintedList::Shopping => vec![shopping_sheet(r, &shopping_list(r, self.cupboard, self.book), system)],
            PrintedList::Labels => vec![label_sheet(r, &box_labels(r), system)],
            PrintedList::Prep => vec![prep_sheet(r, &prep_list(r), system)],
        }
    }

    fn sought(&self) -> impl Iterator<Item = (DayNo, Result<RunSheet, crate::runsheet::Refusal>)> {
        let wanted = self.plan.day_numbers().filter(|day| self.days.is_none_or(|days| days.contains(day)));
        let kitchen = self.settled.done_ahead(self.plan).plan;
        wanted.map(move |day| {
            let plan = kitchen.as_deref().unwrap_or(self.plan);
            let found = run_sheet(plan, day, &Wish::default(), &mut *(self.onlooker)());
            (day, found.map(|sheet| sheet.with_moves(self.settled.moves(day)).0))
        })
    }
}
