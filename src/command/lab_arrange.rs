//! `tranche lab arrange`: an instance of the arrange problem, solved.

use super::{Answer, EXIT_FAILED, EXIT_GOOD, EXIT_IMPOSSIBLE, Failure, json, text::Table};
use crate::{
    arrange::{self, Instance, Limits, Status},
    exchange::{ReadFailure, read_bytes_of},
};
use serde_json::json;
use std::{path::Path, time::Instant};

pub(super) fn arrange(path: &Path, threads: usize, limit: Option<f64>, as_json: bool) -> Result<Answer, Failure> {
    let instance = read(path)?;
    let started = Instant::now();
    let answer = arrange::arrange(&instance, Limits { threads, seconds: limit, cancel: None }, &mut |_| {});
    let seconds = started.elapsed().as_secs_f64();
    let code = if answer.status == Status::Infeasible { EXIT_IMPOSSIBLE } else { EXIT_GOOD };
    let text = if as_json {
        json::text(&json!({
            "status": answer.status.word(),
            "objective": answer.objective,
            "bound": answer.bound,
            "assignment": answer.assignment,
            "reason": answer.reason.as_ref().map(ToString::to_string),
            "seconds": (seconds * 1e6).round() / 1e6,
            "nodes": answer.nodes,
        }))
    } else {
        in_words(&instance, &answer, seconds)
    };
    Ok(Answer { text, code })
}

fn read(path: &Path) -> Result<Instance, Failure> {
    let failed = |sentence: String| Failure { sentence, code: EXIT_FAILED };
    let name = path.display();
    let bytes = read_bytes_of(path).map_err(|e| {
        failed(match e {
            ReadFailure::NotPlain(_) => format!("{name} is no plain file: name an instance in JSON"),
            ReadFailure::TooLarge(_) => format!("{name} is larger than 8 MiB, which is the most that is read"),
            ReadFailure::Empty(_) => format!("{name} is empty: name an instance in JSON"),
            other => other.to_string(),
        })
    })?;
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(&bytes);
    serde_json::from_slice(text).map_err(|e| {
        let place = if e.line() == 0 { String::new() } else { format!(" (line {}, column {})", e.line(), e.column()) };
        let what = e.to_string();
        // The place stands at the end of the library's sentence; ours has it once.
        let what = what.split(" at line ").next().unwrap_or(&what);
        failed(format!("{name} is no instance of the arrange problem{place}: {what}"))
    })
}

fn in_words(instance: &Instance, answer: &arrange::Answer, seconds: f64) -> String {
    let mut out = match answer.status {
        Status::Optimal => "The best arrangement, proven.\n".to_string(),
        Status::Feasible => "An arrangement; a better one may exist.\n".to_string(),
        Status::Infeasible => "There is no arrangement, proven.\n".to_string(),
        Status::Unknown => "Nothing was found in the time, and nothing proven.\n".to_string(),
    };
    if let Some(reason) = &answer.reason {
        out += &super::text::sentence(&reason.to_string());
        out.push('\n');
    }
    if let Some(assignment) = &answer.assignment {
        let mut table = Table::new(&[0, 1, 3]);
        for (slot, &dish) in assignment.iter().enumerate() {
            let known = &instance.dishes[dish];
            let grams = if known.max_g == 0 { "without".into() } else { format!("{} to {} g", known.min_g, known.max_g) };
            let day = format!("day {}", instance.slot_days[slot]);
            table.row([format!("slot {slot}"), day, known.id.clone(), grams, format!("{} min", known.minutes)]);
        }
        table.write(&mut out);
    }
    if let Some(cost) = answer.objective {
        out += &format!("Cost {cost}, at least {}.\n", answer.bound.unwrap_or(0));
    }
    out += &format!("{seconds:.3} s, {} partial arrangements.\n", answer.nodes);
    out
}
