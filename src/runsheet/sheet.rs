//! The sheet as values: lines with clock times, each with its ring, shelf and cook.

use super::{
    cautions,
    couple::{AT_TABLE, PAN_WAITS, WARM_STANDS},
    session::Session,
    solve::Best,
    summary::{Summary, summarise},
    work::{Problem, Spot, Why},
};
use crate::{
    lists::CompanionAmount,
    quantity::{DayNo, Portion},
    rotation::{BatchId, Kitchen},
};
use serde::{Deserialize, Serialize};

/// What a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum LineKind {
    /// A step of a dish, or the same step of two.
    Step,
    /// The oven warms up from cold, empty.
    OvenOn,
    /// The oven goes to another heat, empty.
    OvenTo,
    /// Something comes out of the oven.
    TakeOut,
    /// Board and knife are washed after raw food.
    Wash,
    /// Somebody's twin of a dish.
    Twin,
    /// Something made before is warmed, or brought to the table cold.
    Warm,
    /// What is kept goes into the fridge.
    Box,
    /// Plates are filled.
    ServeUp,
    /// People sit at table.
    Sit,
    /// Hands are free for the dishes. A proposal: nothing waits for it.
    WashUp,
}

impl LineKind {
    /// As it stands in JSON.
    pub fn word(self) -> &'static str {
        match self {
            LineKind::Step => "step",
            LineKind::OvenOn => "oven-on",
            LineKind::OvenTo => "oven-to",
            LineKind::TakeOut => "take-out",
            LineKind::Wash => "wash",
            LineKind::Twin => "twin",
            LineKind::Warm => "warm",
            LineKind::Box => "box",
            LineKind::ServeUp => "serve-up",
            LineKind::Sit => "sit",
            LineKind::WashUp => "wash-up",
        }
    }
}

/// A step of a batch: its position in the dish.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepRef {
    /// The batch.
    pub batch: BatchId,
    /// From 0, in the dish's order.
    pub step: usize,
}

/// Something to beware of, said on the line where it matters.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineCaution {
    /// One sentence.
    pub text: String,
    /// Where it comes from: a published source, or "practice".
    pub source: String,
}

impl LineCaution {
    /// For food that is warmed again.
    pub(super) fn reheat() -> LineCaution {
        LineCaution {
            text: "Once only, steaming right through: 75\u{a0}°C or more in the middle.".into(),
            source: "UK Food Standards Agency, safer food guidance: reheating".into(),
        }
    }
}

/// Where a line happens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Place {
    /// At the bench.
    Bench,
    /// On this ring, from 1.
    Ring(u8),
    /// In the oven.
    Oven {
        /// What it is set to, in degrees Celsius: 20 less where it blows.
        set_to: i64,
        /// The heat without a fan.
        celsius: i64,
        /// Whether it blows.
        fan: bool,
        /// Shelves from the top, from 1; none while it stands empty.
        shelves: Vec<u8>,
    },
    /// In the fridge.
    Fridge,
    /// Nothing is done: it rests, soaks, cools.
    Waiting,
    /// At table.
    Table,
}

/// One line of the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Its number on this sheet; [`super::replan`] is told by it what is done.
    pub id: usize,
    /// What it is.
    pub kind: LineKind,
    /// Minute of the day at which it begins; past midnight it goes on counting.
    pub from: i64,
    /// Minute at which it is done.
    pub to: i64,
    /// Whether it takes a cook's hands.
    pub hands: bool,
    /// Which cook, from 1; nothing where no hands are needed or all sit.
    pub cook: Option<u8>,
    /// Where.
    pub place: Place,
    /// What is done.
    pub what: String,
    /// For which dish, or what it is about.
    pub dish: String,
    /// For which batch.
    pub batch: Option<BatchId>,
    /// Steps of the book that it does.
    pub steps: Vec<StepRef>,
    /// Companions that come to it first here, with all of their amounts.
    pub companions: Vec<(String, CompanionAmount)>,
    /// What of the piece, or of what was made, comes to it.
    pub portions: Vec<(String, Portion)>,
    /// What to beware of.
    pub cautions: Vec<LineCaution>,
    /// Why it is done so: shared heat, shared work.
    pub note: Option<String>,
}

impl Line {
    /// How long it takes.
    pub fn minutes(&self) -> i64 {
        self.to - self.from
    }
}

/// What is proven of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Proof {
    /// No later start is possible, and nothing in it can be done later.
    Best,
    /// No later start is possible.
    LatestStart,
    /// The search was stopped: the best so far.
    SoFar,
    /// Some of it was moved by hand since.
    ByHand,
}

impl Proof {
    /// As it stands in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Proof::Best => "best",
            Proof::LatestStart => "latest-start",
            Proof::SoFar => "so-far",
            Proof::ByHand => "by-hand",
        }
    }
}

/// When people sit down.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetMeal {
    /// "Wednesday supper".
    pub name: String,
    /// Minute of the day.
    pub at: i64,
    /// Whether the plan gives no time and this one is the usual one for its name.
    pub guessed: bool,
}

/// One day's run sheet.
#[derive(Clone, Debug)]
pub struct RunSheet {
    /// The day.
    pub day: DayNo,
    /// The meals at which something is served.
    pub meals: Vec<SheetMeal>,
    /// The lines, by the clock.
    pub lines: Vec<Line>,
    /// Figures and words about the whole.
    pub summary: Summary,
    /// Steps that fall on a later day.
    pub later: Vec<String>,
    /// What is proven.
    pub proof: Proof,
    /// Clashes that the search learned from.
    pub nodes: u64,
    /// The kitchen that it is for.
    pub kitchen: Kitchen,
    pub(super) problem: Problem,
    /// By work: the minute at which it starts.
    pub(super) starts: Vec<i64>,
    /// By meal: its sitting's place in the day, and its minute.
    pub(super) meals_at: Vec<(usize, i64)>,
    /// The minute at which it was arranged anew, where it was.
    pub(super) arranged_at: Option<i64>,
}

/// The sheet of a schedule.
pub(super) fn lay_out(session: &Session<'_>, best: Best, later: Vec<String>) -> RunSheet {
    let meals = session.sittings.iter().filter(|s| s.served);
    let meals = meals.map(|s| SheetMeal { name: s.name.clone(), at: s.at, guessed: s.guessed }).collect();
    let proof = match (best.latest_start, best.all_late) {
        (true, true) => Proof::Best,
        (true, false) => Proof::LatestStart,
        _ => Proof::SoFar,
    };
    let mut lines = lines_of(&best.problem, &best.starts, &session.kitchen, &[]);
    keep_warm(&best.problem, &best.starts, &mut lines);
    cautions::put(session, &best.problem, &mut lines);
    let meals_at = session.sittings.iter().enumerate().filter(|(_, s)| s.served).map(|(k, s)| (k, s.at)).collect();
    let (day, nodes, kitchen) = (session.day, best.nodes, session.kitchen);
    let parts = Parts { day, meals, lines, later, proof, nodes, kitchen, now: None, meals_at };
    build(parts, best.problem, best.starts)
}

/// Says of what stands longer than it should that it is kept warm.
fn keep_warm(p: &Problem, starts: &[i64], lines: &mut [Line]) {
    for link in p.links.iter().filter(|l| matches!(l.why, Why::Fresh | Why::Pan)) {
        let stands = starts[link.after] - starts[link.before] - p.works[link.before].minutes;
        let usual = if link.why == Why::Pan { PAN_WAITS.1 } else { WARM_STANDS };
        // What is cooled on purpose, or waits as its dish has it, is no hot food.
        let cooled = super::words::words(&p.works[link.before].what).iter().any(|w| w == "cool" || w == "cold");
        if stands <= usual || link.max.is_none() || cooled {
            continue;
        }
        let Some(line) = lines.iter_mut().find(|l| l.id == link.before) else { continue };
        let note = format!("then stands {stands} min: keep it warm under a lid");
        line.note = Some(line.note.take().map_or_else(|| note.clone(), |n| format!("{n}; {note}")));
        line.cautions.push(LineCaution {
            text: "What is kept hot is kept at 63\u{a0}°C or more.".into(),
            source: "UK Food Standards Agency: hot holding".into(),
        });
    }
}

/// What a sheet is built of beside its schedule.
pub(super) struct Parts {
    pub day: DayNo,
    pub meals: Vec<SheetMeal>,
    pub lines: Vec<Line>,
    pub later: Vec<String>,
    pub proof: Proof,
    pub nodes: u64,
    pub kitchen: Kitchen,
    /// Washing-up is not proposed before this minute.
    pub now: Option<i64>,
    pub meals_at: Vec<(usize, i64)>,
}

pub(super) fn build(parts: Parts, problem: Problem, starts: Vec<i64>) -> RunSheet {
    let Parts { day, meals, mut lines, later, proof, nodes, kitchen, now, meals_at } = parts;
    lines.extend(washing_up(&lines, &meals, now));
    lines.sort_by_key(|l| (l.from, l.kind == LineKind::WashUp, !l.hands, l.to, l.id));
    let summary = summarise(&lines, &meals, &problem, &starts, proof, now);
    RunSheet { day, meals, lines, summary, later, proof, nodes, kitchen, problem, starts, meals_at, arranged_at: now }
}

/// The lines of a schedule, each with its ring, shelves and cook. What is done or runs stands in `known` and stays where it is.
pub(super) fn lines_of(p: &Problem, starts: &[i64], kitchen: &Kitchen, known: &[Line]) -> Vec<Line> {
    let mut order: Vec<usize> = (0..p.works.len()).collect();
    order.sort_by_key(|&w| (starts[w], w));
    let mut rings = Seats::new(usize::from(kitchen.rings));
    let mut shelves = Seats::new(usize::from(kitchen.shelves));
    let mut cooks = Seats::new(usize::from(kitchen.cooks));
    let mut lines = Vec::new();
    for line in known {
        let whose = line.batch.map(|b| b.0);
        match &line.place {
            Place::Ring(n) => rings.keep(&[*n], line.to, whose),
            Place::Oven { shelves: on, .. } => shelves.keep(on, line.to, whose),
            _ => {}
        }
        cooks.keep(line.cook.as_slice(), line.to, whose);
        lines.push(line.clone());
    }
    for w in order.into_iter().filter(|w| known.iter().all(|l| l.id != *w)) {
        let work = &p.works[w];
        let (from, to) = (starts[w], starts[w] + work.minutes);
        let whose = work.batch.map(|b| b.0);
        let place = match work.spot {
            Spot::Bench if work.hands == 0 => Place::Waiting,
            Spot::Bench => Place::Bench,
            Spot::Ring => Place::Ring(rings.take(from, to, 1, whose).first().copied().unwrap_or(1)),
            Spot::Fridge if work.hands > 0 => Place::Bench,
            Spot::Fridge => Place::Fridge,
            Spot::Table => Place::Table,
            Spot::Oven { .. } => {
                let celsius = work.celsius.unwrap_or(0);
                let set_to = if kitchen.fan { celsius - crate::quantity::FAN_LESS as i64 } else { celsius };
                let shelves = shelves.take(from, to, work.racks.max(0) as usize, whose);
                Place::Oven { set_to, celsius, fan: kitchen.fan, shelves }
            }
        };
        let all = work.kind == super::LineKind::Sit;
        // Whoever did the last of a dish goes on with it.
        let cook = if work.hands > 0 && !all { cooks.take(from, to, 1, whose).first().copied() } else { None };
        lines.push(Line {
            id: w,
            kind: work.kind,
            from,
            to,
            hands: work.hands > 0 && !all,
            cook,
            place,
            what: work.what.clone(),
            dish: work.dish.clone(),
            batch: work.batch,
            steps: work.steps.clone(),
            companions: work.companions.clone(),
            portions: work.portions.clone(),
            cautions: work.cautions.clone(),
            note: work.note.clone(),
        });
    }
    lines
}

/// Rings, shelves, cooks: who has which until when.
///
/// Stretches are given out in the order in which they begin, so that as many are enough as ever overlap.
struct Seats {
    until: Vec<i64>,
    last: Vec<Option<u32>>,
}

impl Seats {
    fn new(count: usize) -> Seats {
        Seats { until: vec![i64::MIN; count], last: vec![None; count] }
    }

    /// Says that these, from 1, are taken.
    fn keep(&mut self, which: &[u8], to: i64, whose: Option<u32>) {
        for n in which {
            let k = usize::from(*n).wrapping_sub(1);
            if let (Some(until), Some(last)) = (self.until.get_mut(k), self.last.get_mut(k)) {
                *until = (*until).max(to);
                *last = whose;
            }
        }
    }

    /// `count` of them from 1: first those that the same batch had last, then the lowest.
    fn take(&mut self, from: i64, to: i64, count: usize, whose: Option<u32>) -> Vec<u8> {
        let mut free: Vec<usize> = (0..self.until.len()).filter(|&k| self.until[k] <= from).collect();
        free.sort_by_key(|&k| (whose.is_none() || self.last[k] != whose, k));
        free.truncate(count);
        free.sort_unstable();
        for &k in &free {
            self.until[k] = to;
            self.last[k] = whose;
        }
        free.iter().map(|&k| k as u8 + 1).collect()
    }
}

/// Waits shorter than this are left alone, longer ones get no more than the second figure of washing up. Common practice.
const WASH_UP: (i64, i64) = (8, 10);
/// There is nothing to wash before so many minutes of hands, and of all hands' work about a fifth comes back as washing up.
const WORK_BEFORE: i64 = 10;
const SHARE: i64 = 5;

/// Washing up where the first cook's hands are free between other work.
fn washing_up(lines: &[Line], meals: &[SheetMeal], now: Option<i64>) -> Vec<Line> {
    let mut busy: Vec<(i64, i64)> =
        lines.iter().filter(|l| l.cook == Some(1) || l.kind == LineKind::Sit).map(|l| (l.from, l.to)).collect();
    busy.sort_unstable();
    let hands: i64 = lines.iter().filter(|l| l.hands).map(Line::minutes).sum();
    let last = meals.iter().map(|m| m.at + AT_TABLE).max().unwrap_or(i64::MAX);
    let mut left = hands / SHARE;
    let (mut done, mut until) = (0, None::<i64>);
    let mut found = Vec::new();
    for (from, to) in busy {
        if let Some(free) = until.map(|u| u.max(now.unwrap_or(u)))
            && from - free >= WASH_UP.0
            && done >= WORK_BEFORE
            && left >= WASH_UP.0 / 2
            && free < last
        {
            let minutes = (from - free).min(WASH_UP.1).min(left);
            left -= minutes;
            found.push(Line {
                id: lines.len() + found.len(),
                kind: LineKind::WashUp,
                from: free,
                to: free + minutes,
                hands: true,
                cook: Some(1),
                place: Place::Bench,
                what: "Wash up what has been used so far".into(),
                dish: "washing up".into(),
                batch: None,
                steps: Vec::new(),
                companions: Vec::new(),
                portions: Vec::new(),
                cautions: Vec::new(),
                note: None,
            });
        }
        done += to - from;
        until = Some(until.map_or(to, |u| u.max(to)));
    }
    found
}
