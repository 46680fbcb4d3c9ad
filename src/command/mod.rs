//! The command line: the same engine without the window.
//!
//! Data goes to standard output, what is to be said to standard error. A command answers with an [`Answer`] or a [`Failure`];
//! only [`run`] prints. The same call gives the same bytes.

mod arrange;
mod book;
mod check;
mod cooling;
mod home;
mod json;
mod lab;
mod lab_arrange;
mod list;
mod pairs;
mod plan;
mod print;
mod recipe;
mod report;
mod runsheet;
mod shelf;
mod template;
mod text;
mod timeline;
mod vector_input;
mod vectors;

use crate::{
    judge::{Finding, Severity},
    quantity::System,
    store::StoreError,
};
use clap::{ArgAction, CommandFactory as _, Parser, Subcommand, ValueEnum};
use shelf::Shelf;
use std::{
    ffi::OsString,
    io::{self, ErrorKind, Write},
    path::{Path, PathBuf},
    process::ExitCode,
};

/// Nothing worse than a caution.
const EXIT_GOOD: u8 = 0;
/// A file cannot be read or written, or is invalid.
const EXIT_FAILED: u8 = 1;
/// Wrong usage; clap's own.
const EXIT_USAGE: u8 = 2;
/// A warning speaks.
const EXIT_WARN: u8 = 3;
/// A stop speaks.
const EXIT_STOP: u8 = 4;
/// What was asked for cannot be.
const EXIT_IMPOSSIBLE: u8 = 5;

#[derive(Parser)]
#[command(name = "tranche", version, about = "Plans several days of differing meals around one big perishable piece")]
#[command(
    after_help = "Exit codes: 0 good, 1 a file cannot be read or is invalid, 2 wrong usage, 3 a warning, 4 a stop, 5 impossible."
)]
struct Cli {
    /// The rotation to open in the window; without it the last one, or the demo
    file: Option<PathBuf>,
    /// Answer in JSON
    #[arg(long, global = true)]
    json: bool,
    /// The measures to write and to read bare numbers in
    #[arg(long, global = true, value_enum, default_value_t = Measures::Metric, value_name = "SYSTEM")]
    units: Measures,
    /// Leave the cook's own kinds and dishes out of the book
    #[arg(long, global = true)]
    shipped_only: bool,
    /// Say more on standard error; twice: still more
    #[arg(short, long, global = true, action = ArgAction::Count)]
    verbose: u8,
    /// Ask for files in the window itself, never by the desktop's dialogs
    #[arg(long)]
    built_in_dialogs: bool,
    #[command(subcommand)]
    task: Option<Task>,
}

#[derive(Clone, Copy, ValueEnum)]
enum Measures {
    Metric,
    Us,
    Imperial,
}

#[derive(Subcommand)]
enum Task {
    /// Print what there is to say about a rotation, worst first
    Check {
        /// The rotation; "-" is standard input
        file: PathBuf,
        /// Judge by the usual patience, without this household's habits and journal
        #[arg(long)]
        usual: bool,
    },
    /// Print a rotation whole: balance, meals, keeping, variety and findings
    Report {
        /// The rotation; "-" is standard input
        file: PathBuf,
        /// Judge by the usual patience, without this household's habits and journal
        #[arg(long)]
        usual: bool,
    },
    /// Fill the open meals with the best choice there is, and say whether none is better
    Arrange {
        #[command(flatten)]
        task: arrange::ArrangeTask,
    },
    /// Print a list: what is cut, bought, written on boxes or prepared
    List {
        /// The rotation
        file: PathBuf,
        /// Which list
        sort: list::ListSort,
        #[command(flatten)]
        house: list::House,
    },
    /// Print one day's run sheet: each step with its clock time, hands, ring or oven
    Runsheet {
        #[command(flatten)]
        task: runsheet::RunSheetTask,
    },
    /// Put the lists on paper or into another program's format, by the end of the file's name
    Print {
        #[command(flatten)]
        task: print::PrintTask,
    },
    /// The shape of a rotation, and laying it on another piece
    #[command(subcommand_required = true, arg_required_else_help = true)]
    Template {
        #[command(subcommand)]
        task: template::TemplateTask,
    },
    /// Read a recipe out of a saved page: amounts, minutes, steps, and a first guess at how it eats
    ReadRecipe {
        /// The saved page (HTML or JSON); "-" is standard input
        page: PathBuf,
    },
    /// Try one part of the engine by itself
    #[command(subcommand_required = true, arg_required_else_help = true)]
    Lab {
        #[command(subcommand)]
        task: lab::LabTask,
    },
    /// Look into the catalogue
    #[command(subcommand_required = true, arg_required_else_help = true)]
    Book {
        #[command(subcommand)]
        task: book::BookTask,
    },
}

/// How to answer, and out of which book.
#[derive(Clone, Copy)]
struct Manner<'s> {
    json: bool,
    system: System,
    shelf: &'s Shelf,
}

/// What a command has to say, and its exit code.
struct Answer {
    /// For standard output, whole lines.
    text: String,
    code: u8,
}

/// Why a command did not do its work: one sentence for standard error, and its exit code.
struct Failure {
    sentence: String,
    code: u8,
}

impl From<StoreError> for Failure {
    fn from(error: StoreError) -> Failure {
        Failure { sentence: error.to_string(), code: EXIT_FAILED }
    }
}

impl From<crate::book::BookError> for Failure {
    fn from(error: crate::book::BookError) -> Failure {
        Failure { sentence: format!("the catalogue is broken: {error}"), code: EXIT_FAILED }
    }
}

/// A call that names something that is not there.
fn misused(sentence: String) -> Failure {
    Failure { sentence, code: EXIT_USAGE }
}

/// Reads the arguments (the program's name first), does what they ask for and gives the exit code.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let args: Vec<OsString> = args.into_iter().collect();
    let cli = match Cli::try_parse_from(&args) {
        Ok(cli) => cli,
        Err(said) if said.use_stderr() && no_command(first_word(&args)).is_some() => {
            return complain(&misused(no_command(first_word(&args)).unwrap_or_default()));
        }
        Err(said) => {
            // Help goes to standard output, complaints to standard error; a closed pipe is no trouble.
            let _ = said.print();
            return ExitCode::from(u8::try_from(said.exit_code()).unwrap_or(EXIT_USAGE));
        }
    };
    log_to_stderr(cli.verbose);
    let Some(task) = cli.task else {
        if let Some(sentence) = no_command(cli.file.as_deref().and_then(Path::to_str)) {
            return complain(&misused(sentence));
        }
        return open_window(cli.file, cli.built_in_dialogs);
    };
    let shelf = Shelf::new(cli.shipped_only);
    let manner = Manner {
        json: cli.json,
        system: match cli.units {
            Measures::Metric => System::Metric,
            Measures::Us => System::Us,
            Measures::Imperial => System::Imperial,
        },
        shelf: &shelf,
    };
    let done = match (&cli.file, cli.built_in_dialogs) {
        (Some(file), _) => Err(misused(format!("{} stands before the command; name the file behind it", file.display()))),
        (None, true) => Err(misused("--built-in-dialogs is for the window, not for a command".into())),
        (None, false) => carry_out(&task, manner),
    };
    // An own entry that cannot be read stops nothing, and nobody should miss it unawares.
    shelf.troubles().iter().for_each(|sentence| say(sentence));
    match done {
        Ok(answer) => tell(&answer),
        Err(failure) => complain(&failure),
    }
}

/// The first word that is no option nor the value of one.
fn first_word(args: &[OsString]) -> Option<&str> {
    let mut rest = args.iter().skip(1).filter_map(|a| a.to_str());
    while let Some(word) = rest.next() {
        match word {
            "--units" => _ = rest.next(),
            option if option.starts_with('-') => {}
            word => return Some(word),
        }
    }
    None
}

/// What to say of a word that stands where a command or a file should and is neither: a name of letters that no file has.
fn no_command(word: Option<&str>) -> Option<String> {
    let word = word.filter(|w| !w.is_empty() && w.len() < 40 && w.chars().all(|c| c.is_alphabetic() || c == '-'))?;
    let command = Cli::command();
    let known: Vec<&str> = command.get_subcommands().map(|c| c.get_name()).chain(["help"]).collect();
    if known.contains(&word) || Path::new(word).exists() {
        return None;
    }
    Some(match crate::store::nearest(word, &known) {
        Some(near) => format!("there is no command {word} (did you mean {near}?), and no file of that name"),
        None => format!("there is no command {word}, and no file of that name; the commands are {}", known.join(", ")),
    })
}

fn carry_out(task: &Task, manner: Manner<'_>) -> Result<Answer, Failure> {
    match task {
        Task::Check { file, usual } => check::check(file, *usual, manner),
        Task::Report { file, usual } => report::report(file, *usual, manner),
        Task::Arrange { task } => arrange::arrange(task, manner),
        Task::List { file, sort, house } => list::list(file, *sort, house, manner),
        Task::Runsheet { task } => runsheet::runsheet(task, manner),
        Task::Print { task } => print::print(task, manner),
        Task::Template { task } => template::template(task, manner),
        Task::ReadRecipe { page } => recipe::recipe(page, manner),
        Task::Lab { task } => lab::lab(task, manner),
        Task::Book { task } => book::book(task, manner),
    }
}

/// Opens the window on `file`, or on the last rotation, or on the demo.
#[cfg(feature = "window")]
fn open_window(file: Option<PathBuf>, built_in_dialogs: bool) -> ExitCode {
    match crate::app::run(crate::app::Start { file, built_in_dialogs, places: None }) {
        Ok(()) => ExitCode::SUCCESS,
        Err(sentence) => complain(&Failure { sentence, code: EXIT_FAILED }),
    }
}

/// Says that there is no window in this build.
#[cfg(not(feature = "window"))]
fn open_window(_file: Option<PathBuf>, _built_in_dialogs: bool) -> ExitCode {
    complain(&misused("this Tranche has no window, only commands: see --help".into()))
}

fn tell(answer: &Answer) -> ExitCode {
    let mut out = io::stdout().lock();
    match out.write_all(answer.text.as_bytes()).and_then(|()| out.flush()) {
        Err(e) if e.kind() != ErrorKind::BrokenPipe => {
            complain(&Failure { sentence: format!("standard output cannot be written: {e}"), code: EXIT_FAILED })
        }
        // Who closes the pipe early has read enough.
        _ => ExitCode::from(answer.code),
    }
}

fn complain(failure: &Failure) -> ExitCode {
    say(&failure.sentence);
    ExitCode::from(failure.code)
}

fn say(sentence: &str) {
    let _ = writeln!(io::stderr().lock(), "tranche: {sentence}");
}

fn log_to_stderr(verbose: u8) {
    use tracing_subscriber::EnvFilter;
    let level = ["warn", "info", "debug"][usize::from(verbose.min(2))];
    let filter = EnvFilter::try_from_env("TRANCHE_LOG").unwrap_or_else(|_| EnvFilter::new(level));
    // A second call in one process (tests) keeps the first log.
    let _ = tracing_subscriber::fmt().with_env_filter(filter).with_writer(io::stderr).try_init();
}

/// The exit code of what still speaks.
fn exit_for(findings: &[Finding]) -> u8 {
    match findings.iter().filter(|f| f.speaks()).map(|f| f.severity).min() {
        Some(Severity::Stop) => EXIT_STOP,
        Some(Severity::Warn) => EXIT_WARN,
        _ => EXIT_GOOD,
    }
}
