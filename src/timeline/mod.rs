//! t
#![allow(missing_docs, dead_code)]
pub mod engine;
mod instance;
mod mirror;
mod model;
mod chance;
mod fluid;
mod relax;
mod span;
mod sum;
mod watch;
pub use instance::*;
pub use watch::*;
pub mod scratch {
    use super::*;
    pub fn run(x: &Instance) -> (i32, i32, u64, u64) {
        let m = mirror::Mirror::of(x, &relax::Rules::all(x.dishes.len()));
        let Some(mut model) = model::Model::of(&m) else { return (-1, -1, 0, 0) };
        struct Clock(std::time::Instant, f64);
        impl Onlooker for Clock { fn stop(&mut self) -> bool { self.0.elapsed().as_secs_f64() > self.1 }
          fn news(&mut self, n: &News) { if std::env::var("NEWS").is_ok() { eprintln!("  {:.3} {n:?}", self.0.elapsed().as_secs_f64()) } } }
        let limit: f64 = std::env::var("LIMIT").ok().and_then(|s| s.parse().ok()).unwrap_or(10.0);
        let mut clock = Clock(std::time::Instant::now(), limit);
        let base: i64 = x.tasks.iter().map(|t| x.dishes[t.dish].serve).sum::<i64>() - i64::from(m.horizon) * m.jobs.len() as i64 + x.tasks.iter().map(|t| t.minutes).sum::<i64>();
        let mut w = watch::Watch::new(&mut clock, base);
        let span::Span::Known { best: Some(best), bound, starts } = span::least_span(&mut model, &mut w, 0) else { return (-2, -2, 0, 0) };
        if std::env::var("SPAN").is_ok() || best != bound { return (best, bound, model.engine.clashes, model.engine.propagations) }
        let t0 = std::time::Instant::now();
        let s = sum::least_sum(&mut model, &m, &mut w, best, starts);
        eprintln!("   {} sum {} bound {}  {:.3}s", if s.best == s.bound { "OK" } else { "--" }, s.best + base, s.bound + base, t0.elapsed().as_secs_f64());
        (best, best, w.clashes, 0)
    }
}
