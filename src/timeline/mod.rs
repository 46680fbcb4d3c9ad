//! t
#![allow(missing_docs, dead_code)]
pub mod engine;
mod instance;
mod mirror;
mod model;
mod relax;
mod span;
mod watch;
pub use watch::*;
pub use instance::*;
pub mod scratch {
    use super::*;
    use super::engine::*;
    pub fn run(x: &Instance) -> (i32, i32, u64, u64) {
        let m = mirror::Mirror::of(x, &relax::Rules::all(x.dishes.len()));
        let Some(mut model) = model::Model::of(&m) else { return (-1, -1, 0, 0) };
        struct Clock(std::time::Instant, f64);
        impl Onlooker for Clock { fn stop(&mut self) -> bool { self.0.elapsed().as_secs_f64() > self.1 } }
        let limit: f64 = std::env::var("LIMIT").ok().and_then(|s| s.parse().ok()).unwrap_or(10.0);
        let mut clock = Clock(std::time::Instant::now(), limit);
        let mut w = watch::Watch::new(&mut clock, 0);
        let span::Span::Known { best: Some(best), bound, .. } = span::least_span(&mut model, &mut w, 0) else { return (-2, -2, 0, 0) };
        if std::env::var("SPAN").is_ok() || best != bound { return (best, bound, model.engine.clashes, model.engine.propagations) }
        let (c0, t0) = (model.engine.clashes, std::time::Instant::now());
        let terms = model.sum_terms();
        // fresh
        let mut model = model::Model::of(&m).unwrap();
        model.engine.assert(Lit::at_most(model.end, best));
        let e = &mut model.engine;
        let low: i64 = model.starts.iter().map(|&s| i64::from(e.low(s))).sum();
        let sum = e.add_linear(terms.clone(), 1 << 40);
        let off: i64 = m.jobs.iter().map(|j| -i64::from(j.release) + i64::from(j.minutes)).sum();
        let _ = off;
        let mut ub = i64::MAX;
        let man = match std::env::var("MAN").as_deref() { Ok("a") => Manner::Active, _ => Manner::Both };
        let base: i64 = x.tasks.iter().map(|t| x.dishes[t.dish].serve).sum::<i64>() - i64::from(m.horizon) * m.jobs.len() as i64 + x.tasks.iter().map(|t| t.minutes).sum::<i64>();
        loop {
            match e.search(&[], u64::MAX, man, &mut || t0.elapsed().as_secs_f64() > limit) {
                Outcome::Found => {
                    ub = model.starts.iter().map(|&s| i64::from(e.values[s.0 as usize])).sum();
                    e.limit(sum, ub - 1);
                }
                o => { eprintln!("   {:?} sum {} rootlow {} clashes {} {:.3}s (span clashes {c0})", o, ub + base, low + base, e.clashes, t0.elapsed().as_secs_f64()); break }
            }
        }
        (best, best, c0, 0)
    }
}
