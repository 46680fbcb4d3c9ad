//! `tranche print`: paper and foreign formats, by the end of the file's name.

use super::{Answer, EXIT_GOOD, Failure, Manner, json, list::House, misused, plan::read_plan, template::may_write};
use crate::{
    book::Book,
    exchange::print::{Format, Paper, PrintError, PrintedList},
    lists::Cupboard,
    runsheet::KeptPlan,
    store::write_whole,
};
use clap::{ValueEnum, builder::PossibleValue};
use std::path::{Path, PathBuf};

impl ValueEnum for PrintedList {
    fn value_variants<'a>() -> &'a [PrintedList] {
        &PrintedList::ALL
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.word()).help(self.about()))
    }
}

/// What is asked for.
#[derive(clap::Args)]
pub(super) struct PrintTask {
    /// The rotation
    file: PathBuf,
    /// Where it goes; the end of the name says how: pdf, html, md, ics, csv, svg, png
    #[arg(short, long, value_name = "OUT")]
    output: PathBuf,
    /// Only these lists; without it week, runsheet, cut, shopping and labels
    #[arg(long, value_enum, value_delimiter = ',', value_name = "LIST")]
    only: Vec<PrintedList>,
    #[command(flatten)]
    house: House,
    /// Write over a file that is there
    #[arg(long)]
    force: bool,
}

impl From<PrintError> for Failure {
    fn from(error: PrintError) -> Failure {
        Failure { sentence: error.to_string(), code: super::EXIT_FAILED }
    }
}

pub(super) fn print(task: &PrintTask, manner: Manner<'_>) -> Result<Answer, Failure> {
    let out = &task.output;
    let Some(format) = Format::of(out) else {
        return Err(misused(format!("{}: the name must end in {}", out.display(), Format::ENDS)));
    };
    if format == Format::Calendar && !task.only.is_empty() {
        return Err(misused("a calendar holds meals and last days, no lists; leave --only out".into()));
    }
    may_write(out, task.force)?;
    let r = read_plan(&task.file)?;
    let lists = match (format, task.only.is_empty()) {
        (Format::Calendar, _) => Vec::new(),
        (_, true) => PrintedList::USUAL.to_vec(),
        (_, false) => task.only.clone(),
    };
    // Only the shopping list looks into cupboard and book, and only for it can they be at fault.
    let (cupboard, book) = match lists.contains(&PrintedList::Shopping) {
        true => (task.house.open()?, manner.shelf.book()?),
        false => (Cupboard::default(), Book::default()),
    };
    let onlooker: &dyn Fn() -> Box<dyn crate::timeline::Onlooker> = &|| Box::new(());
    // What was settled in the window is the window's.
    let settled = KeptPlan::default();
    let paper =
        Paper { plan: &r, cupboard: &cupboard, book: &book, system: manner.system, days: None, settled: &settled, onlooker };
    let bytes = paper.print(&lists, format)?;
    write_whole(out, &bytes)?;
    let words: Vec<&str> = lists.iter().map(|p| p.word()).collect();
    let text = if manner.json {
        json::text(&serde_json::json!({ "written": out, "lists": words, "bytes": bytes.len() }))
    } else {
        match words.is_empty() {
            true => format!("{} is written: the meals, the cooking, and the last day of every box\n", shown(out)),
            false => format!("{} is written: {}\n", shown(out), words.join(", ")),
        }
    };
    Ok(Answer { text, code: EXIT_GOOD })
}

/// A path on one line.
fn shown(path: &Path) -> String {
    path.display().to_string().chars().map(|c| if c.is_control() { '?' } else { c }).collect()
}
