//! `tranche lab timeline`: one day's kitchen steps, as late as possible, with proof.

use super::{Answer, EXIT_FAILED, EXIT_GOOD, EXIT_IMPOSSIBLE, Failure, Manner, json, misused, text::Table, text::sentence};
use crate::{
    exchange::read_bytes_of,
    timeline::{self, Instance, News, Onlooker, Status, solve},
};
use serde_json::{Map, json};
use std::{
    fmt::Write as _,
    path::Path,
    time::{Duration, Instant},
};

/// Seconds that a search may take unless told otherwise.
pub(super) const SECONDS: f64 = 60.0;

/// The clock that the search itself may not have: when to stop, and when the span was first known to be the least.
struct Deadline {
    began: Instant,
    until: Instant,
    span_after: Option<f64>,
}

impl Onlooker for Deadline {
    fn stop(&mut self) -> bool {
        Instant::now() >= self.until
    }

    fn news(&mut self, news: &News) {
        if self.span_after.is_none() && news.span == Some(news.span_bound) {
            self.span_after = Some(self.began.elapsed().as_secs_f64());
        }
    }
}

pub(super) fn timeline(path: &Path, limit: f64, manner: Manner) -> Result<Answer, Failure> {
    if !(0.0..=1_000_000.0).contains(&limit) {
        return Err(misused("--limit takes seconds from 0 to 1000000".into()));
    }
    let failed = |sentence: String| Failure { sentence, code: EXIT_FAILED };
    let named = |what: &dyn std::fmt::Display| failed(format!("{}: {what}", path.display()));
    let began = Instant::now();
    let bytes = read_bytes_of(path).map_err(|e| failed(e.to_string()))?;
    let text = String::from_utf8(bytes)
        .map_err(|e| named(&format!("it is no text at byte {}: save it as UTF-8", e.utf8_error().valid_up_to())))?;
    let instance = Instance::from_json(text.strip_prefix('\u{feff}').unwrap_or(&text)).map_err(|e| named(&e))?;
    let until = began + Duration::from_secs_f64(limit);
    let mut deadline = Deadline { began, until, span_after: None };
    let answer = solve(&instance, &mut deadline).map_err(|e| named(&e))?;
    let seconds = began.elapsed().as_secs_f64();
    let code = if answer.status == Status::Infeasible { EXIT_IMPOSSIBLE } else { EXIT_GOOD };
    let text = if manner.json { as_json(&answer, seconds, deadline.span_after) } else { as_text(&instance, &answer, seconds) };
    Ok(Answer { text, code })
}

fn as_json(answer: &timeline::Answer, seconds: f64, span_after: Option<f64>) -> String {
    let mut out = Map::new();
    out.insert("status".into(), json!(answer.status.word()));
    out.insert("span".into(), json!(answer.span));
    out.insert("span_bound".into(), json!(answer.span_bound));
    out.insert("sum".into(), json!(answer.sum));
    out.insert("sum_bound".into(), json!(answer.sum_bound));
    out.insert("starts".into(), json!(answer.starts));
    let to_microseconds = |s: f64| (s * 1e6).round() / 1e6;
    out.insert("seconds".into(), json!(to_microseconds(seconds)));
    out.insert("span_seconds".into(), json!(span_after.map(to_microseconds)));
    out.insert("nodes".into(), json!(answer.nodes));
    if let Some(impossible) = &answer.impossible {
        out.insert("reason".into(), json!(impossible.sentence));
        out.insert("causes".into(), json!(impossible.causes.iter().map(|c| c.word()).collect::<Vec<_>>()));
    }
    json::text(&out.into())
}

fn as_text(instance: &Instance, answer: &timeline::Answer, seconds: f64) -> String {
    let mut out = String::new();
    let figure = |f: Option<i64>| f.map_or_else(|| "?".to_string(), |f| f.to_string());
    let (span, sum) = (figure(answer.span), figure(answer.sum));
    let said = match answer.status {
        Status::Optimal => format!("The day takes {span} minutes, the waits add up to {sum}; no schedule is better."),
        Status::SpanOptimal => {
            let bound = figure(answer.sum_bound);
            format!(
                "The day takes {span} minutes, and none takes less. The waits add up to {sum}, and never to less than {bound}."
            )
        }
        Status::Feasible => {
            let bound = figure(answer.span_bound);
            format!("The day takes {span} minutes; none takes less than {bound}. There was no time to look further.")
        }
        Status::Infeasible => {
            let why = answer.impossible.as_ref().map_or("", |i| &i.sentence);
            format!("Impossible: {}", sentence(why))
        }
        Status::Unknown => "No schedule was found in the time allowed, nor a reason why there is none.".to_string(),
    };
    out.push_str(&said);
    out.push('\n');
    if let Some(starts) = &answer.starts {
        let mut order: Vec<usize> = (0..starts.len()).collect();
        order.sort_by_key(|&t| (starts[t], t));
        let mut table = Table::new(&[0, 1]);
        for t in order {
            let task = &instance.tasks[t];
            let mut needs = Vec::new();
            needs.extend((task.hands > 0).then(|| format!("hands {}", task.hands)));
            needs.extend(task.oven.map(|o| format!("oven {} to {} °C, racks {}", o.temp_min, o.temp_max, o.racks)));
            needs.extend((task.rings > 0).then(|| format!("rings {}", task.rings)));
            needs.extend(task.appliance.clone());
            needs.extend((task.space > 0).then(|| format!("space {}", task.space)));
            let name = |s: String| s.trim_matches('"').to_string();
            let dish = name(instance.dish_name(task.dish));
            let end = starts[t] + task.minutes;
            table.row([starts[t].to_string(), end.to_string(), name(instance.task_name(t)), dish, needs.join(", ")]);
        }
        table.write(&mut out);
    }
    let _ = writeln!(out, "{} nodes, {seconds:.3} s", answer.nodes);
    out
}
