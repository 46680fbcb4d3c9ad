//! `tranche lab variety`: cases of the formulas of variety, each reckoned by the program's own functions.
//!
//! A case has an `id`, a `kind`, an `input`, and where somebody reckoned it already `expected` with a `tolerance` and
//! `published` with a `precision`. What is wrong with one case is said of it and stops no other.

use super::vector_input::{Fields, Named, number, numbers, numbers_or_nothing, orders};
use crate::{
    book::Graded,
    judge::{
        cosine, effective_number, gower_combine, hill_number,
        learning::{Case, Prior, estimate},
        ordinal, rao, recovery, single, soft_jaccard,
    },
};
use serde_json::{Map, Value, json};

/// What is compared where a case names no tolerance of its own.
const TOLERANCE: f64 = 1e-9;

/// One case reckoned: `id`, `ok` (null where nothing was expected), `got` (null where it could not be reckoned, with `error`).
pub(super) fn reckon(case: &Value) -> Value {
    let mut out = Map::new();
    out.insert("id".into(), case.get("id").cloned().unwrap_or(Value::Null));
    match got(case) {
        Ok(got) => {
            out.insert("ok".into(), agrees(case, &got));
            out.insert("got".into(), got);
        }
        Err(error) => {
            out.insert("ok".into(), json!(false));
            out.insert("got".into(), Value::Null);
            out.insert("error".into(), json!(error));
        }
    }
    Value::Object(out)
}

fn got(case: &Value) -> Result<Value, String> {
    let kind = case.get("kind").and_then(Value::as_str).ok_or("the case names no kind")?;
    let input = Fields(case.get("input").ok_or("the case has no input")?);
    match kind {
        "gower_matrix" => gower_matrix(&input),
        "gower_combine" => gower_axes(&input),
        "jaccard" | "soft_jaccard" => sets(&input),
        "cosine" => {
            let (u, v) = (numbers(input.get("u")?)?, numbers(input.get("v")?)?);
            same_length("u and v", u.len(), v.len())?;
            Ok(json!({ "similarity": cosine(&u, &v) }))
        }
        "hill" => {
            let counts = shares(input.get_any(&["counts", "weights"])?)?;
            diversity(&input, |q| hill_number(&counts, q))
        }
        "similarity_diversity" => {
            let (p, z) = weighed_matrix(&input, &["similarity", "z"])?;
            diversity(&input, |q| effective_number(&p, &z, q))
        }
        "rao" => {
            let (p, d) = weighed_matrix(&input, &["distance", "d"])?;
            let q = rao(&p, &d);
            Ok(json!({ "rao_q": q, "effective_number": finite(1.0 / (1.0 - q)) }))
        }
        "recovery_kernel" => {
            let half_life = over_nothing("half_life_days", &input)?;
            let gaps = input.get("gap_days")?;
            if let Some(gap) = gaps.as_f64() {
                return Ok(json!({ "weight": recovery(gap, half_life) }));
            }
            let weights: Vec<f64> = numbers(gaps)?.into_iter().map(|gap| recovery(gap, half_life)).collect();
            Ok(json!({ "weight": weights }))
        }
        "attribute_inventory" => {
            let half_life = over_nothing("half_life_days", &input)?;
            let (days, grades) = (numbers(input.get("days")?)?, numbers(input.get_any(&["grade", "grades"])?)?);
            same_length("days and grade", days.len(), grades.len())?;
            let lingers = |i: usize, j: usize| grades[j] * recovery(days[i] - days[j], half_life);
            let piled: Vec<f64> = (0..days.len()).map(|i| grades[i] + (0..i).map(|j| lingers(i, j)).sum::<f64>()).collect();
            Ok(json!({ "inventory": piled }))
        }
        "map_logit" => map_logit(&input),
        other => Err(format!("there is no kind of case called \"{}\"", brief(other))),
    }
}

fn brief(text: &str) -> String {
    text.chars().take(40).flat_map(char::escape_debug).collect()
}

fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

fn same_length(what: &str, a: usize, b: usize) -> Result<(), String> {
    if a == b { Ok(()) } else { Err(format!("{what} are of different length: {a} and {b}")) }
}

fn over_nothing(key: &str, input: &Fields<'_>) -> Result<f64, String> {
    let value = number(input.get(key)?)?;
    if value > 0.0 { Ok(value) } else { Err(format!("{key} is {value}; it must be over 0")) }
}

fn shares(value: &Value) -> Result<Vec<f64>, String> {
    let shares = numbers(value)?;
    match shares.iter().find(|s| **s < 0.0) {
        Some(s) => Err(format!("a share is {s}; none may be below 0")),
        None => Ok(shares),
    }
}

fn weighed_matrix(input: &Fields<'_>, names: &[&str]) -> Result<(Vec<f64>, Vec<Vec<f64>>), String> {
    let rows = input.get_any(names)?.as_array().ok_or_else(|| format!("{} is no list of rows", names[0]))?;
    let matrix: Vec<Vec<f64>> = rows.iter().map(numbers).collect::<Result<_, _>>()?;
    let p = match input.find(&["weights", "p"]) {
        Some(p) => shares(p)?,
        None => vec![1.0; matrix.len()],
    };
    same_length("weights and rows", p.len(), matrix.len())?;
    matrix.iter().try_for_each(|row| same_length("weights and a row", p.len(), row.len()))?;
    Ok((p, matrix))
}

fn diversity(input: &Fields<'_>, of_order: impl Fn(f64) -> f64) -> Result<Value, String> {
    let list: Vec<Option<f64>> = match input.find(&["orders", "order", "q"]) {
        Some(q) => orders(q)?.into_iter().map(|q| finite(of_order(q))).collect(),
        None => vec![finite(of_order(1.0))],
    };
    Ok(json!({ "diversity": list }))
}

/// One column of a table of traits.
enum Column {
    /// A quantity, with the width of its scale.
    Number(f64),
    /// A name, alike if equal.
    Name,
    /// There or not; what both lack is not compared.
    There,
}

fn gower_matrix(input: &Fields<'_>) -> Result<Value, String> {
    let rows: Vec<&Vec<Value>> = input
        .get("rows")?
        .as_array()
        .ok_or("rows is no list")?
        .iter()
        .map(|r| r.as_array().ok_or("a row is no list"))
        .collect::<Result<_, _>>()?;
    let columns = input.get("columns")?.as_array().ok_or("columns is no list")?;
    rows.iter().try_for_each(|r| same_length("columns and a row", columns.len(), r.len()))?;
    let columns: Vec<Column> = columns.iter().enumerate().map(|(k, c)| column(c, k, &rows)).collect::<Result<_, _>>()?;
    let weights = match input.find(&["weights"]) {
        Some(w) => shares(w)?,
        None => vec![1.0; columns.len()],
    };
    same_length("columns and weights", columns.len(), weights.len())?;
    let mut distance = Vec::with_capacity(rows.len());
    for a in &rows {
        let mut line = Vec::with_capacity(rows.len());
        for b in &rows {
            let alike: Vec<Option<f64>> =
                columns.iter().enumerate().map(|(k, c)| c.alike(&a[k], &b[k])).collect::<Result<_, _>>()?;
            line.push(gower_combine(&alike, &weights).whole.map(|s| 1.0 - s));
        }
        distance.push(line);
    }
    Ok(json!({ "distance": distance }))
}

fn column(value: &Value, k: usize, rows: &[&Vec<Value>]) -> Result<Column, String> {
    let sort = value.get("type").and_then(Value::as_str).or(value.as_str()).unwrap_or("nothing");
    match sort {
        "number" | "numeric" | "ordinal" => {
            let range = match value.get("range") {
                None | Some(Value::Null) => {
                    let known: Vec<f64> = rows.iter().map(|r| numbers_or_nothing(&r[k])).collect::<Result<Vec<_>, _>>()?.concat();
                    let ends = known.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, m), v| (l.min(*v), m.max(*v)));
                    if known.is_empty() { 0.0 } else { ends.1 - ends.0 }
                }
                Some(Value::Array(ends)) if ends.len() == 2 => number(&ends[1])? - number(&ends[0])?,
                Some(width) => number(width)?,
            };
            Ok(Column::Number(range))
        }
        "name" | "nominal" | "category" | "factor" => Ok(Column::Name),
        "asym" | "asymmetric" | "presence" => Ok(Column::There),
        other => Err(format!("there is no type of column called \"{}\"; there are number, name and asym", brief(other))),
    }
}

impl Column {
    fn alike(&self, a: &Value, b: &Value) -> Result<Option<f64>, String> {
        if a.is_null() || b.is_null() {
            return Ok(None);
        }
        let same = |x: &Value, y: &Value| f64::from(u8::from(x == y || x.as_f64().zip(y.as_f64()).is_some_and(|(x, y)| x == y)));
        match self {
            Column::Number(range) => Ok(Some(ordinal(number(a)?, number(b)?, *range))),
            Column::Name => Ok(Some(same(a, b))),
            Column::There => {
                let there = |v: &Value| v.as_bool().map_or_else(|| number(v).map(|n| n != 0.0), Ok);
                Ok(single(Some(there(a)?), Some(there(b)?), Some(false), |x, y| f64::from(u8::from(x == y))))
            }
        }
    }
}

fn gower_axes(input: &Fields<'_>) -> Result<Value, String> {
    let axes = input.get("axis_similarity")?.as_object().ok_or("axis_similarity is no map from axis to number")?;
    let weights = input.find(&["weights"]);
    let alike: Vec<Option<f64>> =
        axes.values().map(|s| if s.is_null() { Ok(None) } else { number(s).map(Some) }).collect::<Result<_, _>>()?;
    let weigh = |axis: &String| match weights {
        Some(w) => w.get(axis).ok_or_else(|| format!("the axis {} has no weight", brief(axis))).and_then(number),
        None => Ok(1.0),
    };
    let weights: Vec<f64> = axes.keys().map(weigh).collect::<Result<_, _>>()?;
    if let Some(w) = weights.iter().find(|w| **w < 0.0) {
        return Err(format!("a weight is {w}; none may be below 0"));
    }
    let found = gower_combine(&alike, &weights);
    let shares: Map<String, Value> = axes.keys().cloned().zip(found.shares.iter().map(|s| json!(s))).collect();
    Ok(json!({ "similarity": found.whole, "contribution": shares }))
}

fn sets(input: &Fields<'_>) -> Result<Value, String> {
    let (a, b) = (Named::of(input.get("a")?)?, Named::of(input.get("b")?)?);
    let table = Named::table(input.find(&["partial", "table"]))?;
    let graded = |set: &Named| -> Vec<(String, f64)> { set.0.clone() };
    let (a, b) = (graded(&a), graded(&b));
    let lend = |set: &'_ [(String, f64)]| -> Vec<Graded<usize>> {
        set.iter().enumerate().map(|(i, (_, grade))| Graded(i, *grade)).collect()
    };
    // Names by their place: those of `b` behind those of `a`.
    let mut right = lend(&b);
    right.iter_mut().for_each(|g| g.0 += a.len());
    let name = |i: usize| if i < a.len() { a[i].0.as_str() } else { b[i - a.len()].0.as_str() };
    let partial = |x: usize, y: usize| {
        let (x, y) = (name(x), name(y));
        if x == y { 1.0 } else { table.get(&(x.to_string(), y.to_string())).copied().unwrap_or(0.0) }
    };
    Ok(json!({ "similarity": soft_jaccard(&lend(&a), &right, partial) }))
}

fn map_logit(input: &Fields<'_>) -> Result<Value, String> {
    let rows = input.get("features")?.as_array().ok_or("features is no list of rows")?;
    let features: Vec<Vec<f64>> = rows.iter().map(numbers).collect::<Result<_, _>>()?;
    let complaints: Vec<f64> = numbers(input.get("complaint")?)?;
    let weights = match input.find(&["case_weight", "case_weights"]) {
        Some(w) => shares(w)?,
        None => vec![1.0; features.len()],
    };
    same_length("features and complaint", features.len(), complaints.len())?;
    same_length("features and case_weight", features.len(), weights.len())?;
    if let Some(y) = complaints.iter().find(|y| **y != 0.0 && **y != 1.0) {
        return Err(format!("a complaint is {y}; write 1 or 0"));
    }
    let theta = numbers(input.get("prior_theta")?)?;
    features.iter().try_for_each(|row| same_length("prior_theta and a row of features", theta.len(), row.len()))?;
    let sigma = over_nothing("sigma", input)?;
    let sigma_bias = if input.find(&["sigma_bias"]).is_some() { over_nothing("sigma_bias", input)? } else { sigma };
    let prior = Prior { theta, bias: number(input.get("prior_bias")?)?, sigma, sigma_bias };
    let cases: Vec<Case> = features
        .into_iter()
        .zip(complaints.into_iter().zip(weights))
        .map(|(features, (y, weight))| Case { features, complaint: y == 1.0, weight, biased: true })
        .collect();
    let found = estimate(&cases, &prior);
    Ok(json!({ "theta": found.theta, "bias": found.bias, "objective": found.objective }))
}

/// Whether `got` is what was expected and published; null where nothing was.
fn agrees(case: &Value, got: &Value) -> Value {
    let tolerance = case.get("tolerance").and_then(Value::as_f64).unwrap_or(TOLERANCE);
    let expected = case.get("expected").filter(|e| !e.is_null());
    let published = case.get("published").filter(|p| p.is_object());
    if expected.is_none() && published.is_none() {
        return Value::Null;
    }
    let as_expected = expected.is_none_or(|e| near(e, got, tolerance));
    json!(as_expected && published.is_none_or(|p| as_printed(case, p, got)))
}

/// Every figure of `expected` stands in `got` and is no further off than `by`.
fn near(expected: &Value, got: &Value, by: f64) -> bool {
    match (expected, got) {
        (Value::Object(e), Value::Object(g)) => e.iter().all(|(k, e)| g.get(k).is_some_and(|g| near(e, g, by))),
        (Value::Array(e), Value::Array(g)) => e.len() == g.len() && e.iter().zip(g).all(|(e, g)| near(e, g, by)),
        _ => match (expected.as_f64(), got.as_f64()) {
            (Some(e), Some(g)) => (e - g).abs() <= by,
            _ => expected == got,
        },
    }
}

/// The same for figures printed elsewhere, which may be the other side of ours: a distance, a logarithm, other orders.
fn as_printed(case: &Value, published: &Value, got: &Value) -> bool {
    let precision = published.get("precision").and_then(Value::as_f64).unwrap_or(TOLERANCE);
    let of = |key: &str| got.get(key).and_then(Value::as_f64);
    let mut input = case.get("input").cloned().unwrap_or(Value::Null);
    let mut of_orders = |q: &Value| -> Option<Value> {
        input.as_object_mut()?.insert("orders".into(), q.clone());
        self::got(&json!({ "kind": case.get("kind"), "input": input })).ok()?.get("diversity").cloned()
    };
    let Some(printed) = published.as_object() else { return true };
    printed.iter().all(|(key, value)| match key.as_str() {
        "precision" | "where" | "orders" | "note" => true,
        "distance" if got.get("distance").is_none() => of("similarity").is_some_and(|s| near(value, &json!(1.0 - s), precision)),
        "log_of_order_1" => of_orders(&json!([1]))
            .and_then(|d| d.get(0).and_then(Value::as_f64))
            .is_some_and(|d| near(value, &json!(d.ln()), precision)),
        "diversity" => {
            let orders = published.get("orders").cloned();
            let found = orders.map_or_else(|| got.get("diversity").cloned(), |q| of_orders(&q));
            found.is_some_and(|d| near(value, &d, precision))
        }
        other => got.get(other).is_none_or(|g| near(value, g, precision)),
    })
}
