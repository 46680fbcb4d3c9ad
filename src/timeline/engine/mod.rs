//! A small solver for whole numbers under differences, shared resources, clauses and sums, by lazy clause generation.
//!
//! The method (Ohrimenko, Stuckey & Codish 2009; for scheduling Schutt, Feydt, Stuckey & Wallace 2011): numbers are kept as
//! bounds. Rules tighten bounds and can say why. When bounds clash, the reasons are traced back to a new clause over bounds,
//! so that no part of the search fails twice for the same cause. Unlike a classical clause solver there is no table of
//! statements: clauses speak of bounds directly.

mod activity;
mod clause;
mod difference;
mod energy;
mod flow;
mod learn;
mod linear;
mod literal;
mod search;
mod timetable;
mod trail;

pub(super) use flow::GRAIN;
pub use flow::{Flow, Pool};
pub use literal::{Lit, Number, lower, upper};
pub use search::{Manner, Outcome};
pub use timetable::Need;

use activity::Activity;
use clause::{Bucket, Clause};
use difference::Edge;
use flow::Basin;
use learn::Needs;
use linear::Linear;
use timetable::{Profile, Resource};
use trail::{Entry, ROOT};

/// Bounds that cannot stand together; the engine holds which.
#[derive(Clone, Copy, Debug)]
struct Clash;

/// Why a bound holds.
#[derive(Clone, Copy, Debug)]
enum Reason {
    /// It was tried.
    Decision,
    /// It holds without any decision.
    Root,
    Clause(u32),
    Edge(u32),
    Linear(u32),
    /// The reasons lie in the engine's store.
    Kept {
        start: u32,
        len: u32,
    },
}

/// The solver and all that it knows.
#[derive(Clone, Debug)]
pub struct Engine {
    /// By half: its bound now, its bound at the root, the entry that made it.
    bound: Vec<i32>,
    root: Vec<i32>,
    last: Vec<u32>,
    trail: Vec<Entry>,
    /// By level: how long the trail, the store of reasons and the parked statements were when it began.
    marks: Vec<(u32, u32, u32)>,
    kept: Vec<Lit>,
    /// The first entry whose consequences were not looked for.
    head: usize,
    arena: Vec<Lit>,
    clauses: Vec<Clause>,
    /// By half: what is watched there, by rising bounds.
    watches: Vec<Vec<Bucket>>,
    edges: Vec<Edge>,
    /// By half: edges that begin there, and edges that hold under a statement of it.
    out: Vec<Vec<u32>>,
    woken: Vec<Vec<u32>>,
    resources: Vec<Resource>,
    users: Vec<Vec<u32>>,
    linears: Vec<Linear>,
    summed: Vec<Vec<u32>>,
    /// The numbers to decide when nothing else is left, in this order where bounds are equal.
    numbers: Vec<Number>,
    activity: Activity,
    /// Statements that were decided when they were looked at, to be put back with their levels.
    parked: Vec<u32>,
    to_park: Option<u32>,
    clash: Vec<Lit>,
    needs: Needs,
    profile: Profile,
    loads: Vec<energy::Load>,
    flow: Option<Flow>,
    basin: Basin,
    crowd_room: Vec<(u32, u32)>,
    reasons_room: Vec<Lit>,
    clause_step: f32,
    learned: usize,
    keep_learned: usize,
    dead: bool,
    /// Propagation does not come to an end in any reasonable time; every search stops at once.
    pub swamped: bool,
    /// By number: its value in the last schedule found or handed in.
    pub values: Vec<i32>,
    /// The assumptions that were refuted together.
    pub core: Vec<Lit>,
    pub clashes: u64,
    pub propagations: u64,
}

impl Engine {
    pub fn new() -> Engine {
        let mut engine = Engine {
            bound: Vec::new(),
            root: Vec::new(),
            last: Vec::new(),
            trail: Vec::new(),
            marks: Vec::new(),
            kept: Vec::new(),
            head: 0,
            arena: Vec::new(),
            clauses: Vec::new(),
            watches: Vec::new(),
            edges: Vec::new(),
            out: Vec::new(),
            woken: Vec::new(),
            resources: Vec::new(),
            users: Vec::new(),
            linears: Vec::new(),
            summed: Vec::new(),
            numbers: Vec::new(),
            activity: Activity::new(),
            parked: Vec::new(),
            to_park: None,
            clash: Vec::new(),
            needs: Needs::default(),
            profile: Profile::default(),
            loads: Vec::new(),
            flow: None,
            basin: Basin::default(),
            crowd_room: Vec::new(),
            reasons_room: Vec::new(),
            clause_step: 1.0,
            learned: 0,
            keep_learned: 4_000,
            dead: false,
            swamped: false,
            values: Vec::new(),
            core: Vec::new(),
            clashes: 0,
            propagations: 0,
        };
        engine.number(0, 0);
        engine
    }

    /// A new number between two bounds.
    pub fn number(&mut self, low: i32, high: i32) -> Number {
        let x = Number((self.bound.len() / 2) as u32);
        for bound in [low, -high] {
            self.bound.push(bound);
            self.root.push(bound);
            self.last.push(ROOT);
            self.watches.push(Vec::new());
            self.out.push(Vec::new());
            self.woken.push(Vec::new());
            self.users.push(Vec::new());
            self.summed.push(Vec::new());
            self.needs.grow();
        }
        if low > high {
            self.dead = true;
        }
        x
    }

    /// A number that the search must fix.
    pub fn decided(&mut self, low: i32, high: i32) -> Number {
        let x = self.number(low, high);
        self.numbers.push(x);
        x
    }

    /// Draws every first conclusion. False: nothing satisfies the whole.
    pub fn begin(&mut self) -> bool {
        if self.dead || self.propagate_all_edges().is_err() {
            self.dead = true;
            return false;
        }
        self.settle()
    }

    /// A number's value in the last schedule found.
    pub fn value(&self, x: Number) -> i32 {
        self.values.get(x.0 as usize).copied().unwrap_or(0)
    }

    pub fn low(&self, x: Number) -> i32 {
        self.root[lower(x) as usize]
    }

    pub fn high(&self, x: Number) -> i32 {
        -self.root[upper(x) as usize]
    }
}
