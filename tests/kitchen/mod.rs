//! A day's problem read apart from the program, a checker of schedules, and the instances with their known answers.
//!
//! Nothing here shares code with the search: an error there cannot hide here.

#![allow(dead_code, reason = "each test takes what it needs")]

pub mod brute;
pub mod made;

use serde_json::Value;
use std::{fs, path::Path};

pub struct Step {
    pub dish: usize,
    pub minutes: i64,
    /// Cooks, racks, rings, space.
    pub needs: [i64; 4],
    pub appliance: Option<String>,
    pub oven: Option<(i64, i64)>,
}

pub struct Lag {
    pub before: usize,
    pub after: usize,
    pub min: i64,
    pub max: Option<i64>,
}

pub struct Day {
    /// Serving minute, longest standing.
    pub dishes: Vec<(i64, Option<i64>)>,
    pub steps: Vec<Step>,
    pub lags: Vec<Lag>,
    pub capacities: [i64; 4],
}

impl Day {
    pub fn of(v: &Value) -> Day {
        let list = |key: &str| v[key].as_array().cloned().unwrap_or_default();
        let number = |v: &Value| v.as_i64().unwrap_or(0);
        let place = |v: &Value| v.as_u64().unwrap() as usize;
        let step = |t: &Value| Step {
            dish: place(&t["dish"]),
            minutes: number(&t["minutes"]),
            needs: [number(&t["hands"]), number(&t["oven"]["racks"]), number(&t["rings"]), number(&t["space"])],
            appliance: t["appliance"].as_str().map(String::from),
            oven: t["oven"].is_object().then(|| (number(&t["oven"]["temp_min"]), number(&t["oven"]["temp_max"]))),
        };
        let lag = |p: &Value| Lag {
            before: place(&p["before"]),
            after: place(&p["after"]),
            min: number(&p["min_lag"]),
            max: p["max_lag"].as_i64(),
        };
        let c = &v["capacities"];
        Day {
            dishes: list("dishes").iter().map(|d| (number(&d["serve"]), d["hold_max"].as_i64())).collect(),
            steps: list("tasks").iter().map(step).collect(),
            lags: list("precedence").iter().map(lag).collect(),
            capacities: [number(&c["cooks"]), number(&c["racks"]), number(&c["rings"]), number(&c["space"])],
        }
    }

    pub fn end(&self, starts: &[i64], t: usize) -> i64 {
        starts[t] + self.steps[t].minutes
    }

    /// The span and the sum of a schedule, or the rule that it breaks.
    pub fn check(&self, starts: &[i64]) -> Result<(i64, i64), String> {
        if starts.len() != self.steps.len() {
            return Err(format!("{} starts for {} steps", starts.len(), self.steps.len()));
        }
        for (t, &s) in starts.iter().enumerate() {
            if s < 0 {
                return Err(format!("step {t} starts at {s}"));
            }
        }
        for p in &self.lags {
            let lag = starts[p.after] - self.end(starts, p.before);
            if lag < p.min || p.max.is_some_and(|max| lag > max) {
                return Err(format!("{} after {} by {lag}, allowed {} to {:?}", p.after, p.before, p.min, p.max));
            }
        }
        // Needs change only where a step starts.
        for &minute in starts {
            let running: Vec<usize> =
                (0..starts.len()).filter(|&t| starts[t] <= minute && minute < self.end(starts, t)).collect();
            for r in 0..4 {
                let needed: i64 = running.iter().map(|&t| self.steps[t].needs[r]).sum();
                if needed > self.capacities[r] {
                    return Err(format!("{needed} of resource {r} at minute {minute}, there are {}", self.capacities[r]));
                }
            }
            for (k, &a) in running.iter().enumerate() {
                for &b in &running[k + 1..] {
                    let (x, y) = (&self.steps[a], &self.steps[b]);
                    if x.appliance.is_some() && x.appliance == y.appliance {
                        return Err(format!("{a} and {b} share {:?} at minute {minute}", x.appliance));
                    }
                    if let (Some(p), Some(q)) = (x.oven, y.oven)
                        && p.0.max(q.0) > p.1.min(q.1)
                    {
                        return Err(format!("{a} and {b} share an oven at {p:?} and {q:?} at minute {minute}"));
                    }
                }
            }
        }
        for (d, &(serve, hold)) in self.dishes.iter().enumerate() {
            let last = (0..starts.len()).filter(|&t| self.steps[t].dish == d).map(|t| self.end(starts, t)).max();
            let last = last.ok_or_else(|| format!("dish {d} has no step"))?;
            if last > serve || hold.is_some_and(|h| last < serve - h) {
                return Err(format!("dish {d} is ready at {last}, served at {serve}, may stand {hold:?}"));
            }
        }
        let latest = self.dishes.iter().map(|d| d.0).max().unwrap_or(0);
        let span = latest - starts.iter().min().copied().unwrap_or(latest);
        let sum = starts.iter().zip(&self.steps).map(|(s, t)| self.dishes[t.dish].0 - s).sum();
        Ok((span, sum))
    }
}

/// The instances of a folder of `tests/data` with their text, in the order of their names.
pub fn instances(folder: &str) -> Vec<(String, String)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(folder);
    let mut all: Vec<(String, String)> = fs::read_dir(path)
        .unwrap()
        .map(|e| e.unwrap().path())
        .filter(|p| p.extension().is_some_and(|e| e == "json"))
        .map(|p| (p.file_stem().unwrap().to_string_lossy().into_owned(), fs::read_to_string(&p).unwrap()))
        .collect();
    all.sort();
    all
}
