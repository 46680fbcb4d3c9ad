//! `tranche lab`: the engine's workbench, one matter at a time.

use super::{Answer, EXIT_FAILED, EXIT_GOOD, Failure, Manner, json, misused, text::Table, timeline};
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
    /// Schedule one day's kitchen steps as late as possible, with proof
    Timeline {
        /// The instance (JSON); "-" is standard input
        instance: PathBuf,
        /// The most seconds to search
        #[arg(long, value_name = "SECONDS", default_value_t = timeline::SECONDS)]
        limit: f64,
    },
}

pub(super) fn lab(task: &LabTask, manner: Manner) -> Result<Answer, Failure> {
    match task {
        LabTask::Quantity { lines, australian, times } => {
            let kitchen = if *australian { Kitchen::Australian } else { manner.system.into() };
            if times.is_some_and(|t| !(0.001..=1_000.0).contains(&t)) {
                return Err(misused("--times takes a number from 0.001 to 1000".into()));
            }
            quantity(lines, kitchen, *times, manner.json)
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
