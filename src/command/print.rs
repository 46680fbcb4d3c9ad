//! `tranche print`: paper and foreign formats, by the end of the file's name.

use super::{Answer, EXIT_GOOD, Failure, Manner, json, list::House, misused, plan::read_plan, template::may_write};
use crate::{
    exchange::print::{Format, PrintError, calendar, print_sheets},
    lists::{
        Sheet, box_labels, cut_list, cut_sheet, label_sheet, prep_list, prep_sheet, shopping_list, shopping_sheet, week_sheet,
    },
    rotation::Rotation,
    runsheet::{RunSheet, Wish, refusal_page, run_sheet, run_sheet_page},
    store::write_whole,
};
use clap::ValueEnum;
use std::path::{Path, PathBuf};

/// Which lists are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Part {
    /// The meals, and until when each box keeps
    Week,
    /// A page for each day on which something is cooked: every step with its clock time
    Runsheet,
    /// What comes off the piece on which day
    Cut,
    /// What to buy and pick
    Shopping,
    /// A card for everything that is put away
    Labels,
    /// What is prepared by day
    Prep,
}

impl Part {
    /// What goes on the fridge door where nobody says.
    const USUAL: &[Part] = &[Part::Week, Part::Runsheet, Part::Cut, Part::Shopping, Part::Labels];

    fn word(self) -> &'static str {
        match self {
            Part::Week => "week",
            Part::Runsheet => "runsheet",
            Part::Cut => "cut",
            Part::Shopping => "shopping",
            Part::Labels => "labels",
            Part::Prep => "prep",
        }
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
    only: Vec<Part>,
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
    let (parts, bytes) = match format {
        Format::Calendar => (Vec::new(), calendar(&r, &box_labels(&r), &sessions(&r), manner.system).into_bytes()),
        _ => {
            let parts = if task.only.is_empty() { Part::USUAL.to_vec() } else { task.only.clone() };
            let sheets = parts.iter().map(|p| sheets(&r, *p, &task.house, manner)).collect::<Result<Vec<_>, _>>()?;
            (parts, print_sheets(&sheets.concat(), format)?)
        }
    };
    write_whole(out, &bytes)?;
    let words: Vec<&str> = parts.iter().map(|p| p.word()).collect();
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

/// The run sheet of every day that has one.
fn sessions(r: &Rotation) -> Vec<RunSheet> {
    r.day_numbers().filter_map(|day| run_sheet(r, day, &Wish::default(), &mut ()).ok()).collect()
}

/// A run sheet for every day on which something is done, or the reason why there is none.
fn run_sheets(r: &Rotation, manner: Manner<'_>) -> Vec<Sheet> {
    let page = |day| match run_sheet(r, day, &Wish::default(), &mut ()) {
        Ok(sheet) => Some(run_sheet_page(r, &sheet, manner.system)),
        Err(refusal) => (!refusal.nothing).then(|| refusal_page(r, day, &refusal)),
    };
    r.day_numbers().filter_map(page).collect()
}

fn sheets(r: &Rotation, part: Part, house: &House, manner: Manner<'_>) -> Result<Vec<Sheet>, Failure> {
    if part == Part::Runsheet {
        return Ok(run_sheets(r, manner));
    }
    Ok(vec![sheet(r, part, house, manner)?])
}

fn sheet(r: &Rotation, part: Part, house: &House, manner: Manner<'_>) -> Result<Sheet, Failure> {
    let system = manner.system;
    Ok(match part {
        Part::Runsheet => Sheet::default(),
        Part::Week => week_sheet(r, &box_labels(r), system),
        Part::Cut => cut_sheet(r, &cut_list(r), system),
        Part::Shopping => shopping_sheet(r, &shopping_list(r, &house.open()?, &manner.shelf.book()?), system),
        Part::Labels => label_sheet(r, &box_labels(r), system),
        Part::Prep => prep_sheet(r, &prep_list(r), system),
    })
}

/// A path on one line.
fn shown(path: &Path) -> String {
    path.display().to_string().chars().map(|c| if c.is_control() { '?' } else { c }).collect()
}
