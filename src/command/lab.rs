//! `tranche lab`: the engine's workbench, one matter at a time.

use super::{Answer, EXIT_FAILED, EXIT_GOOD, Failure, Manner, json, lab_arrange, misused, pairs, text::Table, timeline, vectors};
use crate::{
    exchange::read_bytes_of,
    quantity::{Amount, IngredientLine, Kitchen, MAX_LINE, Measure, MeasureSort, read_line, scale, write_amount},
};
use serde_json::{Map, Value, json};
use std::path::{Path, PathBuf};

/// The most lines that are read at once (house limit).
const MAX_LINES: usize = 100_000;

#[derive(clap::Subcommand)]
pub(super) enum LabTask {
    /// Read ingredient lines, one a line: how much, of what
    Quantity {
        /// A text file; "-" is standard input
        lines: PathBuf,
        /// Australian spoons: a tablespoon is 20 ml
        #[arg(long)]
        australian: bool,
        /// Also say each line for so many times as much
        #[arg(long, value_name = "FACTOR")]
        times: Option<f64>,
    },
    /// Let bodies cool: when their middle is how warm
    Cooling {
        /// A JSON file { "cases": [...] }; "-" is standard input
        cases: PathBuf,
        /// By the small volumes that take changing surroundings, in place of the exact series
        #[arg(long)]
        volumes: bool,
    },
    /// Reckon cases of the formulas of variety, each by itself
    Variety {
        /// A JSON file {"cases": [{"id", "kind", "input", "expected", "tolerance"}]}; "-" is standard input
        vectors: PathBuf,
    },
    /// Say how alike pairs of dishes are that are given by their tags
    Likeness {
        /// A JSON file {"pairs": [{"id", "a": {tags}, "b": {tags}}]}; "-" is standard input
        pairs: PathBuf,
    },
    /// Fill the slots of an instance with dishes, as well as can be, with proof
    Arrange {
        /// The instance (JSON); "-" is standard input
        instance: PathBuf,
        /// Threads for the heaviest steps; the answer is the same for any number
        #[arg(long, value_name = "N", default_value_t = 2)]
        threads: usize,
        /// Seconds after which it ends with what it has
        #[arg(long, value_name = "SECONDS")]
        limit: Option<f64>,
    },
    /// Schedule one day's kitchen steps as late as possible, with proof
    Timeline {
        /// The instance (JSON); "-" is standard input
        instance: PathBuf,
        /// The most seconds to search
        #[arg(long, value_name = "SECONDS", default_value_t = timeline::SECONDS)]
        limit: f64,
    },
}

pub(super) fn lab(task: &LabTask, manner: Manner<'_>) -> Result<Answer, Failure> {
    match task {
        LabTask::Quantity { lines, australian, times } => {
            let kitchen = if *australian { Kitchen::Australian } else { manner.system.into() };
            if times.is_some_and(|t| !(0.001..=1_000.0).contains(&t)) {
                return Err(misused("--times takes a number from 0.001 to 1000".into()));
            }
            quantity(lines, kitchen, *times, manner.json)
        }
        LabTask::Cooling { cases, volumes } => super::cooling::cooling(cases, *volumes, manner),
        LabTask::Variety { vectors } => variety(vectors, manner.json),
        LabTask::Likeness { pairs } => likeness(pairs, manner.json),
        LabTask::Arrange { instance, threads, limit } => {
            if !(1..=64).contains(threads) {
                return Err(misused("--threads takes a number from 1 to 64".into()));
            }
            if limit.is_some_and(|l| !(0.0..=1e6).contains(&l)) {
                return Err(misused("--limit takes seconds from 0 to 1000000".into()));
            }
            lab_arrange::arrange(instance, *threads, *limit, manner.json)
        }
        LabTask::Timeline { instance, limit } => timeline::timeline(instance, *limit, manner),
    }
}

fn quantity(path: &Path, kitchen: Kitchen, times: Option<f64>, as_json: bool) -> Result<Answer, Failure> {
    let failed = |sentence: String| Failure { sentence, code: EXIT_FAILED };
    let bytes = read_bytes_of(path).map_err(|e| failed(e.to_string()))?;
    let text = String::from_utf8(bytes).map_err(|e| {
        failed(format!("{} is no text at byte {}: save it as UTF-8", path.display(), e.utf8_error().valid_up_to()))
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
    let lines: Vec<&str> = text.lines().filter(|l| !l.trim().is_empty()).collect();
    if lines.len() > MAX_LINES {
        return Err(failed(format!("{} has {} lines; {MAX_LINES} is the most", path.display(), lines.len())));
    }
    if let Some(long) = lines.iter().find(|l| l.chars().count() > MAX_LINE) {
        let start: String = long.chars().take(40).collect();
        return Err(failed(format!("{} has a line longer than {MAX_LINE} characters: \"{start}...\"", path.display())));
    }
    let read: Vec<IngredientLine> = lines.iter().map(|l| read_line(l, kitchen)).collect();
    if as_json {
        let list: Value = read.iter().map(|l| line_json(l, kitchen, times)).collect();
        return Ok(Answer { text: json::text(&list), code: EXIT_GOOD });
    }
    let mut table = Table::new(&[0]);
    for l in &read {
        let mut words = l.amount.map_or_else(String::new, |a| write_amount(a, l.measure, kitchen));
        if let (Some(factor), Some(amount)) = (times, l.amount) {
            words = scale(amount, l.measure, &l.name, factor, kitchen).map_or(words, |s| s.words);
        }
        let because = l.because.join("; ");
        table.row([words, l.name.clone(), l.note.clone(), l.confidence.word().to_string(), because]);
    }
    let mut out = String::new();
    table.write(&mut out);
    Ok(Answer { text: out, code: EXIT_GOOD })
}

/// The JSON of a file, and the list in it that is called `name` (or the file itself, where it is a list).
fn list_in(path: &Path, name: &str) -> Result<(Value, Vec<Value>), Failure> {
    let failed = |sentence: String| Failure { sentence, code: EXIT_FAILED };
    let bytes = read_bytes_of(path).map_err(|e| failed(e.to_string()))?;
    let bytes = bytes.strip_prefix("\u{feff}".as_bytes()).unwrap_or(&bytes);
    let mut whole: Value = serde_json::from_slice(bytes).map_err(|e| {
        failed(format!("{}, line {}, column {}: this is no JSON ({e}); mend it there", path.display(), e.line(), e.column()))
    })?;
    let found = match &mut whole {
        Value::Array(list) => Some(std::mem::take(list)),
        Value::Object(map) => map.get_mut(name).and_then(Value::as_array_mut).map(std::mem::take),
        _ => None,
    };
    let list = found.ok_or_else(|| failed(format!("{} has no list \"{name}\"; put the {name} into one", path.display())))?;
    Ok((whole, list))
}

fn variety(path: &Path, as_json: bool) -> Result<Answer, Failure> {
    let (_, cases) = list_in(path, "cases")?;
    let done: Vec<Value> = cases.iter().map(vectors::reckon).collect();
    if as_json {
        return Ok(Answer { text: json::text(&Value::Array(done)), code: EXIT_GOOD });
    }
    let mut table = Table::new(&[]);
    let said = |v: &Value| v.as_str().map_or_else(|| v.to_string(), str::to_string);
    for (case, done) in cases.iter().zip(&done) {
        let word = match done["ok"] {
            Value::Bool(true) => "agrees",
            Value::Null => "reckoned",
            _ => "differs",
        };
        let what = done.get("error").map_or_else(|| done["got"].to_string(), said);
        table.row([said(&done["id"]), said(&case["kind"]), word.into(), what]);
    }
    let mut out = String::new();
    table.write(&mut out);
    let agree = done.iter().filter(|d| d["ok"] == true).count();
    out.push_str(&format!("{agree} of {} agree\n", done.len()));
    Ok(Answer { text: out, code: EXIT_GOOD })
}

fn likeness(path: &Path, as_json: bool) -> Result<Answer, Failure> {
    let (whole, list) = list_in(path, "pairs")?;
    let weights = pairs::weights(whole.get("weights"))
        .map_err(|e| Failure { sentence: format!("{}: weights: {e}", path.display()), code: EXIT_FAILED })?;
    let done: Vec<Value> = list.iter().map(|pair| pairs::compare(pair, &weights)).collect();
    if as_json {
        return Ok(Answer { text: json::text(&Value::Array(done)), code: EXIT_GOOD });
    }
    let mut table = Table::new(&[1]);
    let said = |v: &Value| v.as_str().map_or_else(|| v.to_string(), str::to_string);
    for d in &done {
        let figure = d["likeness"].as_f64().map_or_else(|| "?".into(), |l| format!("{l:.3}"));
        table.row([said(&d["id"]), figure, d.get("error").map_or_else(|| said(&d["verdict"]), said)]);
    }
    let mut out = String::new();
    table.write(&mut out);
    Ok(Answer { text: out, code: EXIT_GOOD })
}

/// One line's reading. Keys that do not apply are left out, but `quantity` and `unit` always stand.
pub(super) fn line_json(l: &IngredientLine, kitchen: Kitchen, times: Option<f64>) -> Value {
    let mut out = Map::new();
    out.insert("line".into(), json!(l.raw));
    out.insert("quantity".into(), json!(l.amount));
    out.insert("unit".into(), json!(l.measure.map(Measure::key)));
    // A vague measure has no grams but the guess, and the line says so by its confidence.
    let vague = l.measure.is_some_and(|m| m.sort() == MeasureSort::Vague);
    let guessed = l.guess.as_ref().filter(|_| vague).map(|g| g.grams);
    out.extend(l.grams.or(guessed).map(|g| ("grams".into(), figure(g))));
    out.extend(l.millilitres.map(|ml| ("ml".into(), figure(ml))));
    out.extend(l.pack.map(|p| {
        let pack = json!({ "count": p.count, "each": p.each, "unit": p.measure.key(), "word": p.word.map(Measure::key) });
        ("pack".into(), pack)
    }));
    out.insert("name".into(), json!(l.name));
    out.insert("note".into(), json!(l.note));
    if !l.also.is_empty() {
        out.insert("also".into(), json!(l.also));
    }
    out.insert("confidence".into(), json!(l.confidence.word()));
    if !l.because.is_empty() {
        out.insert("because".into(), json!(l.because));
    }
    out.extend(l.guess.as_ref().map(|g| ("grams_guess".into(), json!({ "grams": figure(g.grams), "because": g.because }))));
    if let (Some(factor), Some(amount)) = (times, l.amount)
        && let Some(s) = scale(amount, l.measure, &l.name, factor, kitchen)
    {
        out.insert("scaled".into(), json!({ "quantity": s.amount, "words": s.words, "how": s.how }));
    }
    Value::Object(out)
}

/// Grams or millilitres to a thousandth, a range as a range.
fn figure(amount: Amount) -> Value {
    let short = |v: f64| (v * 1_000.0).round() / 1_000.0;
    Amount::between(short(amount.low()), short(amount.high())).map_or_else(|| json!(amount), |a| json!(a))
}
