//! How long until the best arrangement is found and proven, and with how much memory?
//!
//! `cargo bench -p tranche --no-default-features --bench arrange` takes the instances on file; `-- --threads 1 FILE...` takes
//! others, or another number of threads. Each runs in a process of its own, so that its memory is its own. Goals: up to 8
//! slots x 120 dishes with a window of 2 in 0.1 s, 12 x 120 in 1 s, the largest in 30 s and 1 GB. No test waits on these
//! figures: they hang on the machine.

use std::{
    path::{Path, PathBuf},
    process::Command,
    time::Instant,
};
use tranche::arrange::{Instance, Limits, arrange};

/// Tells the process that it is to solve one instance and say so in one line.
const ONE: &str = "--one";

fn main() {
    let mut args: Vec<String> = std::env::args().skip(1).filter(|a| a != "--bench").collect();
    let mut threads = "2".to_string();
    if let Some(at) = args.iter().position(|a| a == "--threads") {
        args.remove(at);
        threads = args.remove(at);
    }
    if args.first().is_some_and(|a| a == ONE) {
        one(Path::new(&args[1]), threads.parse().expect("--threads takes a number"));
        return;
    }
    let mut files: Vec<PathBuf> = args.iter().map(PathBuf::from).collect();
    if files.is_empty() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/arrange");
        files = std::fs::read_dir(folder).expect("the instances are there").map(|e| e.expect("an entry").path()).collect();
        files.sort();
    }
    println!("| instance | status | cost | as known | s | partial arrangements | peak MB |");
    println!("|---|---|---|---|---|---|---|");
    for file in &files {
        let me = std::env::current_exe().expect("this program has a path");
        let done = Command::new(me).args([ONE]).arg(file).args(["--threads", &threads]).output().expect("it starts");
        print!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    }
}

fn one(file: &Path, threads: usize) {
    let text = std::fs::read_to_string(file).expect("the instance can be read");
    let started = Instant::now();
    let instance: Instance = serde_json::from_str(&text).expect("it is an instance");
    let answer = arrange(&instance, Limits { threads, ..Limits::default() }, &mut |_| {});
    let seconds = started.elapsed().as_secs_f64();
    let written: serde_json::Value = serde_json::from_str(&text).expect("it is JSON");
    let known = &written["reference"];
    let agrees = match known["objective"].as_i64() {
        _ if known["status"] == "infeasible" => answer.status.word() == "infeasible",
        Some(cost) => answer.objective == Some(cost) || known["status"] != "optimal",
        None => true,
    };
    println!(
        "| {} | {} | {} | {} | {seconds:.3} | {} | {:.0} |",
        file.file_stem().unwrap_or_default().to_string_lossy(),
        answer.status.word(),
        answer.objective.map_or_else(String::new, |o| o.to_string()),
        if agrees { "yes" } else { "NO" },
        answer.nodes,
        peak_mb(),
    );
}

/// The most memory this process ever held, where the system tells (Linux).
fn peak_mb() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmHWM:"));
    line.and_then(|l| l.trim().strip_suffix(" kB")?.trim().parse::<f64>().ok()).map_or(f64::NAN, |kb| kb / 1_024.0)
}
