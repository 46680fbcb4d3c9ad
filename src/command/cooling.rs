//! `tranche lab cooling`: bodies that cool, many at once.

use super::{Answer, EXIT_FAILED, EXIT_GOOD, Failure, Manner, json, text::Table};
use crate::{
    exchange::read_bytes_of,
    judge::cooling::{self, Body, Series, Shape},
};
use serde::Deserialize;
use serde_json::{Value, json};
use std::path::Path;

/// The most cases, and the most temperatures or times of one, that are read at once (house limit).
const MAX_CASES: usize = 100_000;
/// The longest time that is asked for: thirty million years, for those who want to see the end.
const MAX_SECONDS: f64 = 1e15;

#[derive(Deserialize)]
struct Sheet {
    cases: Vec<Value>,
}

/// One case but for its `id`, which is read apart, so that a faulty case still has its name.
#[derive(Deserialize)]
struct Case {
    shape: String,
    half_thickness_m: f64,
    k: f64,
    rho: f64,
    cp: f64,
    h: f64,
    start_c: f64,
    around_c: f64,
    #[serde(default)]
    to_c: Vec<f64>,
    #[serde(default)]
    at_s: Vec<f64>,
}

struct Cooled {
    seconds_to: Vec<Option<f64>>,
    centre_c: Vec<f64>,
}

pub(super) fn cooling(path: &Path, by_volumes: bool, manner: Manner) -> Result<Answer, Failure> {
    let failed = |sentence: String| Failure { sentence, code: EXIT_FAILED };
    let bytes = read_bytes_of(path).map_err(|e| failed(e.to_string()))?;
    let sheet: Sheet = serde_json::from_slice(&bytes)
        .map_err(|e| failed(format!("{} is no sheet of cooling cases: {e}; write {{\"cases\": [...]}}", path.display())))?;
    if sheet.cases.len() > MAX_CASES {
        return Err(failed(format!("{} has {} cases; {MAX_CASES} is the most", path.display(), sheet.cases.len())));
    }
    let done: Vec<(Value, Result<Cooled, String>)> =
        sheet.cases.into_iter().map(|case| (case["id"].clone(), cooled(case, by_volumes))).collect();
    let text = if manner.json {
        let list = done.into_iter().map(|(id, cooled)| match cooled {
            Ok(c) => json!({ "id": id, "seconds_to": c.seconds_to, "centre_c": c.centre_c }),
            Err(error) => json!({ "id": id, "error": error }),
        });
        json::text(&list.collect())
    } else {
        words(&done)
    };
    Ok(Answer { text, code: EXIT_GOOD })
}

fn cooled(case: Value, by_volumes: bool) -> Result<Cooled, String> {
    let case = Case::deserialize(case).map_err(|e| e.to_string())?;
    let shape = Shape::named(&case.shape)
        .ok_or_else(|| format!("the shape \"{}\" is not known: slab, cylinder or sphere", case.shape.escape_debug()))?;
    if case.to_c.len().max(case.at_s.len()) > MAX_CASES {
        return Err(format!("it asks for more than {MAX_CASES} temperatures or times"));
    }
    let Case { half_thickness_m, k, rho, cp, h, start_c, around_c, .. } = case;
    let body = Body { shape, half_thickness_m, k, rho, cp, h, start_c, around_c }.checked().map_err(|e| e.to_string())?;
    if let Some(time) = case.at_s.iter().find(|s| !(0.0..=MAX_SECONDS).contains(*s)) {
        return Err(format!("a time is {time}; it goes from 0 to {MAX_SECONDS} s"));
    }
    if by_volumes {
        return Ok(Cooled {
            seconds_to: cooling::seconds_to_each_by_volumes(&body, &case.to_c),
            centre_c: cooling::centres_c_by_volumes(&body, &case.at_s),
        });
    }
    let series = Series::new(&body);
    Ok(Cooled {
        seconds_to: case.to_c.iter().map(|&c| series.seconds_to(c)).collect(),
        centre_c: case.at_s.iter().map(|&s| series.centre_c(s)).collect(),
    })
}

fn words(done: &[(Value, Result<Cooled, String>)]) -> String {
    let mut table = Table::new(&[]);
    for (id, cooled) in done {
        let id = id.as_str().map_or_else(|| id.to_string(), str::to_string);
        match cooled {
            Ok(c) => {
                let times: Vec<String> =
                    c.seconds_to.iter().map(|s| s.map_or_else(|| "never".into(), |s| format!("{s:.0} s"))).collect();
                let heights: Vec<String> = c.centre_c.iter().map(|c| format!("{c:.2} °C")).collect();
                table.row([id, times.join(", "), heights.join(", ")]);
            }
            Err(error) => table.row([id, error.clone(), String::new()]),
        }
    }
    let mut out = String::new();
    table.write(&mut out);
    out
}
