//! How long until a day's schedule is found and proven?
//!
//! `cargo bench -p tranche --no-default-features --bench timeline [-- SECONDS [NAME...]]` prints a line an instance: the time
//! until the span was proven, until the sum was, and what was reached in SECONDS (10 without) where it was not. Goals: the span
//! in 0.2 s up to 40 tasks; the published projects in a minute each. No test waits on these figures: they hang on the machine.

#[path = "../kitchen/mod.rs"]
mod kitchen;

use serde_json::Value;
use std::time::{Duration, Instant};
use tranche::timeline::{Instance, News, Onlooker, solve};

struct Clock {
    began: Instant,
    limit: Duration,
    /// When the span was proven.
    span: Option<Duration>,
}

impl Onlooker for Clock {
    fn stop(&mut self) -> bool {
        self.began.elapsed() > self.limit
    }

    fn news(&mut self, news: &News) {
        if news.span == Some(news.span_bound) {
            self.span.get_or_insert(self.began.elapsed());
        }
    }
}

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|w| !w.starts_with('-')).collect();
    let seconds: f64 = words.first().and_then(|w| w.parse().ok()).unwrap_or(10.0);
    let wanted = |name: &str| words.len() < 2 || words[1..].iter().any(|w| name.contains(w.as_str()));
    println!(
        "{:<20} {:>5} {:>12} {:>9} {:>9} {:>13} {:>10} {:>8}",
        "instance", "tasks", "status", "span", "span ms", "sum", "all ms", "nodes"
    );
    for folder in ["timeline", "psplib"] {
        for (name, text) in kitchen::instances(folder).into_iter().filter(|(name, _)| wanted(name)) {
            let mut clock = Clock { began: Instant::now(), limit: Duration::from_secs_f64(seconds), span: None };
            let instance = Instance::from_json(&text).expect("the project's own file reads");
            let answer = solve(&instance, &mut clock).expect("its figures are sound");
            let all = clock.began.elapsed();
            let value: Value = serde_json::from_str(&text).expect("it was read before");
            let bounded = |best: Option<i64>, bound: Option<i64>| match (best, bound) {
                (Some(best), Some(bound)) if bound < best => format!("{bound}..{best}"),
                (best, _) => best.map_or_else(|| "-".into(), |b| b.to_string()),
            };
            let ms = |t: Duration| format!("{:.2}", t.as_secs_f64() * 1e3);
            let reference = value["reference"]["span"].as_i64();
            let differs = if reference.is_some() && answer.span != reference { "  span differs from the reference" } else { "" };
            println!(
                "{name:<20} {:>5} {:>12} {:>9} {:>9} {:>13} {:>10} {:>8}{differs}",
                instance.tasks.len(),
                answer.status.word(),
                bounded(answer.span, answer.span_bound),
                clock.span.map_or_else(|| "-".into(), ms),
                bounded(answer.sum, answer.sum_bound),
                ms(all),
                answer.nodes,
            );
        }
    }
}
