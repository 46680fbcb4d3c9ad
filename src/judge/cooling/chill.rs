//! The kitchen's question: will what is kept back be cold in time?

use super::{
    block::{Block, Phase},
    body::{CoolingError, within},
    food::Food,
    rule::{Rule, Stage},
    vessel::{Climate, Place, Vessel},
};
use crate::quantity::{Cooked, Grams};
use std::fmt;

/// Said wherever these figures are shown.
pub const CAVEAT: &str = "A reckoning for guidance: local codes prevail, and a probe thermometer in the middle decides.";

/// A stay in one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Stay {
    /// Where.
    pub place: Place,
    /// How many minutes; the last stay has no end, whatever stands here.
    pub minutes: f64,
    /// Whether it is stirred every few minutes.
    pub stirred: bool,
    /// Into what, and how many of them, it is put at the start of this stay; nothing: it stays in what it is in.
    pub into: Option<(Vessel, u32)>,
}

impl Stay {
    /// A stay without stirring.
    pub fn new(place: Place, minutes: f64) -> Stay {
        Stay { place, minutes, stirred: false, into: None }
    }
}

/// What is to be cooled, in what, where, and by which rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Chill {
    /// What it is.
    pub food: Food,
    /// How much of it in all, 1 g to 50 kg.
    pub grams: Grams<Cooked>,
    /// How warm it is when the heat is turned off, in degrees Celsius: up to 130.
    pub start_c: f64,
    /// What it is in at first.
    pub vessel: Vessel,
    /// Into how many of them it is divided, evenly: 1 to 100.
    pub count: u32,
    /// Whether they are covered.
    pub lid: bool,
    /// Where they stand, one after the other; the last has no end.
    pub stays: Vec<Stay>,
    /// How warm the kitchen is.
    pub climate: Climate,
    /// The rule that it is to pass.
    pub rule: Rule,
}

/// Why that cannot be reckoned.
#[derive(Clone, Debug, PartialEq)]
pub enum ChillError {
    /// A figure lies outside its range.
    Figure(CoolingError),
    /// It does not go in: depth that it would stand at and height of the vessel, in cm.
    Overfull {
        /// The vessel.
        vessel: String,
        /// How deep it would stand.
        depth_cm: f64,
        /// How high the vessel is.
        height_cm: f64,
    },
    /// It stands nowhere.
    Nowhere,
}

impl fmt::Display for ChillError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ChillError::Figure(e) => e.fmt(f),
            ChillError::Overfull { vessel, depth_cm, height_cm } => {
                write!(
                    f,
                    "it would stand {depth_cm:.0} cm deep in a {vessel} of {height_cm:.0} cm: take more of them or larger ones"
                )
            }
            ChillError::Nowhere => f.write_str("say where it stands: on the counter, in cold water, in the fridge"),
        }
    }
}

impl std::error::Error for ChillError {}

impl From<CoolingError> for ChillError {
    fn from(e: CoolingError) -> ChillError {
        ChillError::Figure(e)
    }
}

/// One point of the curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Minutes since the heat was turned off.
    pub minutes: f64,
    /// The warmest of it.
    pub warmest_c: f64,
    /// All of it, stirred.
    pub mean_c: f64,
}

/// How one stage of the rule went.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageOutcome {
    /// The stage.
    pub stage: Stage,
    /// Minutes that it took by the rule's clock; nothing where it is not there in three times what is allowed.
    pub took: Option<f64>,
    /// How warm the warmest is when the stage ends.
    pub at_end_c: f64,
}

impl StageOutcome {
    /// Whether it was there in time.
    pub fn passes(&self) -> bool {
        self.took.is_some_and(|t| t <= self.stage.within)
    }
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Chilled {
    /// How deep it stands in the last of its vessels, in cm.
    pub depth_cm: f64,
    /// The curve, a few dozen points.
    pub curve: Vec<Point>,
    /// When the rule's clock starts, in minutes since the heat was turned off.
    pub clock_starts: f64,
    /// Stage by stage.
    pub stages: Vec<StageOutcome>,
    /// How warm it is where it stands last: it never gets colder than that.
    pub around_c: f64,
    /// Whether some of it falls below -1 °C, where food begins to freeze.
    pub freezes: bool,
}

impl Chilled {
    /// Whether it passes the rule: every stage in time, and no warmer afterwards where it stands.
    pub fn passes(&self) -> bool {
        self.stages.iter().all(StageOutcome::passes) && !self.warms_again()
    }

    /// Whether the place where it stands last is warmer than the rule's last stage: a bath made it cold, and the fridge does not keep it so.
    fn warms_again(&self) -> bool {
        self.stages.iter().any(|s| self.around_c > s.stage.to_c)
    }

    /// "21 °C after 1 h 40 min (2 h allowed), 5 °C after 5 h 10 min (6 h allowed)".
    pub fn figures(&self) -> String {
        let stage = |s: &StageOutcome| match s.took {
            Some(t) => format!("{:.0}\u{a0}°C after {} ({} allowed)", s.stage.to_c, span(t), span(s.stage.within)),
            None if self.around_c >= s.stage.to_c => {
                format!("{:.0}\u{a0}°C never ({} allowed)", s.stage.to_c, span(s.stage.within))
            }
            None => format!(
                "{:.0}\u{a0}°C not within {} ({} allowed)",
                s.stage.to_c,
                span(3.0 * s.stage.within),
                span(s.stage.within)
            ),
        };
        self.stages.iter().map(stage).collect::<Vec<_>>().join(", ")
    }

    /// The verdict in one sentence: yes, or the first stage that is missed.
    pub fn verdict(&self) -> String {
        match self.stages.iter().find(|s| !s.passes()) {
            None if self.warms_again() => {
                format!(
                    "Cold in time, but not for long: it stands at {:.0}\u{a0}°C afterwards ({}).",
                    self.around_c,
                    self.figures()
                )
            }
            None => format!("Cold in time: {}.", self.figures()),
            Some(s) => {
                let still = format!("still {:.0}\u{a0}°C in the middle after {}", s.at_end_c, span(s.stage.within));
                let later = match s.took {
                    Some(t) => format!("it takes {}", span(t)),
                    None if self.around_c >= s.stage.to_c => {
                        format!("it never gets there, with {:.0}\u{a0}°C around it", self.around_c)
                    }
                    None => format!("it takes more than {}", span(3.0 * s.stage.within)),
                };
                format!("Not cold in time: {still}, where {:.0}\u{a0}°C is allowed; {later}.", s.stage.to_c)
            }
        }
    }
}

/// "1 h 40 min", "50 min", "2 h": whole minutes, rounded up.
pub(super) fn span(minutes: f64) -> String {
    let whole = minutes.max(0.0).ceil() as u64;
    match (whole / 60, whole % 60) {
        (0, m) => format!("{m}\u{a0}min"),
        (h, 0) => format!("{h}\u{a0}h"),
        (h, m) => format!("{h}\u{a0}h {m}\u{a0}min"),
    }
}

/// Reckons how it cools: the curve, and the rule stage by stage.
///
/// The rule is asked of the warmest point. Conduction alone carries heat inside, unless it is stirred; no lid is lifted and
/// nothing evaporates, so it cools rather sooner than this says.
pub fn chill(question: &Chill) -> Result<Chilled, ChillError> {
    run(question, false)
}

/// Whether it passes, given up at the first stage that it misses.
pub(super) fn passing(question: &Chill) -> Result<Option<Chilled>, ChillError> {
    let chilled = run(question, true)?;
    Ok(Some(chilled).filter(Chilled::passes))
}

/// Minutes between looks, while the clock runs short and afterwards.
const LOOK_EARLY: f64 = 4.0;
const LOOK_LATE: f64 = 12.0;
/// About as many points as a curve is drawn with.
const POINTS: usize = 48;

fn run(q: &Chill, give_up: bool) -> Result<Chilled, ChillError> {
    checked(q)?;
    let food = &q.food;
    let mut vessel = &q.vessel;
    let mut depth = depth_in(q, vessel, q.count)?;
    let mut block = Block::new(vessel.round, depth, food.k, food.rho * food.cp, q.start_c);
    let mut points = vec![Point { minutes: 0.0, warmest_c: q.start_c, mean_c: q.start_c }];
    let mut clock = if q.start_c <= q.rule.from_c { Some(0.0) } else { None };
    let mut coldest = q.start_c;
    // Three times what the rule allows, and a start that is as slow: past that nobody waits.
    let end = 6.0 * q.rule.end();
    let mut now = 0.0;
    'stays: for (i, stay) in q.stays.iter().enumerate() {
        let until = if i + 1 == q.stays.len() { end } else { (now + stay.minutes).min(end) };
        if let Some((new, count)) = &stay.into {
            // Pouring evens out what pours; what lies in lumps may be as warm as it was in the middle.
            let c = if food.stirs { block.mean() } else { block.warmest() };
            (vessel, depth) = (new, depth_in(q, new, *count)?);
            block = Block::new(vessel.round, depth, food.k, food.rho * food.cp, c);
        }
        let phase = Phase {
            seconds: 60.0 * (until - now),
            around_c: stay.place.around_c(&q.climate),
            faces: stay.place.faces(vessel, q.lid, stay.stirred),
            stirred: stay.stirred && food.stirs,
        };
        block.enter(&phase);
        if phase.stirred {
            // Stirring evens it out at once; the curve shows it.
            points.push(Point { minutes: now, warmest_c: block.warmest(), mean_c: block.mean() });
        }
        while now < until {
            let step = (if now < 150.0 { LOOK_EARLY } else { LOOK_LATE }).min(until - now);
            block.advance(60.0 * step);
            now += step;
            let upright = block.upright();
            coldest = upright.iter().copied().fold(coldest, f64::min);
            points.push(Point { minutes: now, warmest_c: upright.into_iter().fold(f64::MIN, f64::max), mean_c: block.mean() });
            if clock.is_none() {
                clock = crossing(&points, q.rule.from_c);
            }
            let Some(start) = clock else { continue };
            let warmest = points.last().map_or(q.start_c, |p| p.warmest_c);
            let missed = q.rule.stages.iter().any(|s| now - start > s.within && warmest > s.to_c);
            let over = now - start > 3.0 * q.rule.end();
            // In a freezer the question is also how far it goes.
            let cold = warmest <= q.rule.coldest() && stay.place != Place::Freezer;
            if cold || over || (give_up && missed) {
                break 'stays;
            }
        }
    }
    let clock_starts = clock.unwrap_or(end);
    let stages = q.rule.stages.iter().map(|&stage| StageOutcome {
        stage,
        took: crossing(&points, stage.to_c).map(|m| (m - clock_starts).max(0.0)),
        at_end_c: height(&points, clock_starts + stage.within),
    });
    let around_c = q.stays.last().map_or(q.start_c, |s| s.place.around_c(&q.climate));
    Ok(Chilled {
        depth_cm: 100.0 * depth,
        stages: stages.collect(),
        curve: thinned(&points),
        clock_starts,
        around_c,
        freezes: coldest < -1.0,
    })
}

/// Whether everything can be reckoned with.
fn checked(q: &Chill) -> Result<(), ChillError> {
    q.food.clone().checked()?;
    within("the amount", f64::from(q.grams.get()), (1.0, 50_000.0), "g")?;
    within("the temperature at the start", q.start_c, (-10.0, 130.0), "°C")?;
    within("the temperature of the room", q.climate.room_c, (0.0, 45.0), "°C")?;
    within("the temperature of the fridge", q.climate.fridge_c, (-2.0, 15.0), "°C")?;
    within("the temperature of the tap water", q.climate.tap_c, (0.0, 30.0), "°C")?;
    for stage in &q.rule.stages {
        within("the rule's temperature", stage.to_c, (-10.0, 130.0), "°C")?;
        within("the rule's time", stage.within, (1.0, 2_880.0), "min")?;
    }
    within("the start of the rule's clock", q.rule.from_c, (-10.0, 130.0), "°C")?;
    for stay in &q.stays {
        within("a stay", stay.minutes, (0.0, 2_880.0), "min")?;
    }
    if q.stays.is_empty() || q.rule.stages.is_empty() {
        return Err(ChillError::Nowhere);
    }
    depth_in(q, &q.vessel, q.count)?;
    for (vessel, count) in q.stays.iter().filter_map(|s| s.into.as_ref()) {
        depth_in(q, vessel, *count)?;
    }
    Ok(())
}

/// How deep it stands in so many of these, in metres.
fn depth_in(q: &Chill, vessel: &Vessel, count: u32) -> Result<f64, ChillError> {
    within("the number of vessels", f64::from(count), (1.0, 100.0), "")?;
    within("the height of the vessel", vessel.height_m, (0.005, 1.0), "m")?;
    within("the area of the vessel", vessel.round.area(), (0.001, 1.0), "m2")?;
    within("the rim of the vessel", vessel.round.rim(), (0.1, 8.0), "m")?;
    let depth = vessel.depth_m(f64::from(q.grams.get()) / 1_000.0 / q.food.rho / f64::from(count));
    if depth > vessel.height_m {
        let (depth_cm, height_cm) = (100.0 * depth, 100.0 * vessel.height_m);
        return Err(ChillError::Overfull { vessel: vessel.one.clone(), depth_cm, height_cm });
    }
    // A film a tenth of a millimetre deep is as good as none, and no wider than it must be for the reckoning.
    Ok(depth.max(1e-4))
}

/// When the warmest comes down to `c` for good, between two looks by a straight line.
fn crossing(points: &[Point], c: f64) -> Option<f64> {
    let first = points.first()?;
    if points.last()?.warmest_c > c {
        return None;
    }
    let after = points.iter().rposition(|p| p.warmest_c > c).map_or(0, |i| i + 1);
    let Some(before) = after.checked_sub(1) else { return Some(first.minutes) };
    let (a, b) = (&points[before], &points[after]);
    Some(a.minutes + (b.minutes - a.minutes) * (a.warmest_c - c) / (a.warmest_c - b.warmest_c))
}

/// How warm the warmest is at a time; past the end of the curve its last height.
fn height(points: &[Point], minutes: f64) -> f64 {
    let after = points.iter().position(|p| p.minutes >= minutes);
    match after {
        Some(0) => points[0].warmest_c,
        Some(i) => {
            let (a, b) = (&points[i - 1], &points[i]);
            let share = if b.minutes > a.minutes { (minutes - a.minutes) / (b.minutes - a.minutes) } else { 1.0 };
            a.warmest_c + (b.warmest_c - a.warmest_c) * share
        }
        None => points.last().map_or(f64::NAN, |p| p.warmest_c),
    }
}

/// Every so many-th point, the last one always.
fn thinned(points: &[Point]) -> Vec<Point> {
    let stride = points.len().div_ceil(POINTS).max(1);
    let last = points.len().saturating_sub(1);
    points.iter().enumerate().filter(|(i, _)| i.is_multiple_of(stride) || *i == last).map(|(_, p)| *p).collect()
}
