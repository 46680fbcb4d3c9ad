//! t
#![allow(missing_docs, dead_code)]
pub mod engine;
mod instance;
mod mirror;
mod model;
mod relax;
pub use instance::*;
pub mod scratch {
    use super::*;
    use super::engine::*;
    pub fn run(x: &Instance) -> (i32, i32, u64, u64) {
        let m = mirror::Mirror::of(x, &relax::Rules::all(x.dishes.len()));
        let Some(mut model) = model::Model::of(&m) else { return (-1, -1, 0, 0) };
        let mut best = i32::MAX;
        loop {
            let e = &mut model.engine;
            if best == i32::MAX {
                match e.search(&[], u64::MAX, Manner::Both, &mut || false) {
                    Outcome::Found => best = e.values[model.end.0 as usize],
                    _ => return (-2, -2, e.clashes, e.propagations),
                }
            }
            let low = e.low(model.end);
            if low >= best { return (best, low, e.clashes, e.propagations) }
            match e.search(&[Lit::at_most(model.end, low)], 100000, Manner::Both, &mut || false) {
                Outcome::Found => best = e.values[model.end.0 as usize],
                Outcome::Refuted => { if !e.assert(Lit::at_least(model.end, low + 1)) { return (best, best, e.clashes, e.propagations) } }
                Outcome::Stopped => return (best, low, e.clashes, e.propagations),
            }
        }
    }
}
