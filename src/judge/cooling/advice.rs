//! What to change so that it is cold in time: a search over what a cook can do, the least of it first.

use super::{
    chill::{Chill, ChillError, Chilled, Stay, passing, span},
    vessel::{Place, Vessel},
};

/// A way that passes.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// What to do and what comes of it, in one sentence.
    pub words: String,
    /// How much of a bother it is: about minutes of hands and things to wash up (our estimate).
    pub bother: f64,
    /// The whole question as it then stands.
    pub changed: Chill,
    /// What comes of it.
    pub chilled: Chilled,
}

/// One thing to change, in the order in which it is done.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Change {
    /// Straight away instead of on the counter first.
    Straight,
    /// Lids off until it is cold.
    Uncover,
    /// A bath of so many minutes.
    Bath { ice: bool, minutes: f64, stirred: bool },
    /// Into the boxes of this place in the kitchen, no deeper than so many centimetres: what pours, after its bath.
    Divide { into: usize, deep_cm: f64 },
}

/// What a kitchen has to divide food into.
#[derive(Clone, Debug, PartialEq)]
pub struct Spare {
    /// One of them.
    pub vessel: Vessel,
    /// How many there are.
    pub count: u32,
}

/// Depths that are tried, in centimetres, the deepest first.
const DEPTHS_CM: [f64; 5] = [7.0, 5.0, 4.0, 2.5, 1.5];

/// What a kitchen has that says nothing of it: storage boxes and roasting trays.
fn usual() -> [Spare; 2] {
    [Vessel::storage_box(), Vessel::tray()].map(|vessel| Spare { vessel, count: MOST_VESSELS })
}

/// The most vessels that anybody would divide a pot into.
const MOST_VESSELS: u32 = 12;
/// The most ways that are told.
const MOST_WAYS: usize = 3;

/// Ways that pass the rule, least bother first, each of a kind of its own; none where it passes as it is or where nothing
/// that is tried helps.
pub fn advise(question: &Chill) -> Result<Vec<Advice>, ChillError> {
    advise_with(question, &usual())
}

/// The same for a kitchen that has these to divide it into, and no others.
pub fn advise_with(question: &Chill, kitchen: &[Spare]) -> Result<Vec<Advice>, ChillError> {
    if passing(question)?.is_some() {
        return Ok(Vec::new());
    }
    let mut ways: Vec<(f64, Vec<Change>, Chill)> = candidates(question, kitchen)
        .into_iter()
        .filter_map(|changes| changed(question, kitchen, &changes).map(|(chill, bother)| (bother, changes, chill)))
        .collect();
    ways.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut found: Vec<(Vec<Change>, Advice)> = Vec::new();
    for (bother, changes, chill) in ways {
        // What does more than a way that is told already tells nothing new.
        if found.iter().any(|(told, _)| told.iter().all(|t| changes.iter().any(|c| is_kind(t, c)))) {
            continue;
        }
        let Ok(Some(chilled)) = passing(&chill) else { continue };
        let words = format!("{}: {}.", told(&changes, &chill, &chilled), chilled.figures());
        found.push((changes, Advice { words, bother, changed: chill, chilled }));
        if found.len() == MOST_WAYS {
            break;
        }
    }
    Ok(found.into_iter().map(|(_, advice)| advice).collect())
}

fn is_kind(a: &Change, b: &Change) -> bool {
    match (a, b) {
        (Change::Divide { .. }, Change::Divide { .. }) => true,
        // With ice, or stirred, it is still a bath.
        (Change::Bath { .. }, Change::Bath { .. }) => true,
        _ => a == b,
    }
}

fn candidates(q: &Chill, kitchen: &[Spare]) -> Vec<Vec<Change>> {
    let mut divisions = vec![None];
    for (into, spare) in kitchen.iter().enumerate() {
        let height = 100.0 * spare.vessel.height_m;
        // Trays that hold no more than that are for thin layers.
        let depths = DEPTHS_CM.into_iter().filter(|d| *d <= 0.75 * height);
        divisions.extend(depths.map(|deep_cm| Some(Change::Divide { into, deep_cm })));
    }
    let mut baths = vec![None];
    for ice in [false, true] {
        for minutes in [15.0, 30.0, 60.0] {
            baths.push(Some(Change::Bath { ice, minutes, stirred: false }));
            if q.food.stirs {
                baths.push(Some(Change::Bath { ice, minutes, stirred: true }));
            }
        }
    }
    let waits = q.stays.len() > 1 && q.stays.first().is_some_and(|s| s.place == Place::Counter);
    let straights = if waits { vec![None, Some(Change::Straight)] } else { vec![None] };
    let lids = if q.lid { vec![None, Some(Change::Uncover)] } else { vec![None] };
    let mut all = Vec::new();
    for division in &divisions {
        for straight in &straights {
            for lid in &lids {
                for bath in &baths {
                    all.push([*straight, *lid, *bath, *division].into_iter().flatten().collect());
                }
            }
        }
    }
    all.retain(|changes: &Vec<Change>| !changes.is_empty());
    all
}

/// The question with these changes and how much of a bother they are; nothing where they change nothing or cannot be done.
fn changed(q: &Chill, kitchen: &[Spare], changes: &[Change]) -> Option<(Chill, f64)> {
    let mut chill = q.clone();
    let mut bother = 0.0;
    for change in changes {
        match *change {
            Change::Straight => {
                bother += 0.5;
                chill.stays.remove(0);
            }
            Change::Uncover => {
                bother += 1.0;
                chill.lid = false;
            }
            Change::Bath { ice, minutes, stirred } => {
                let place = if ice { Place::IceWater } else { Place::ColdWater };
                // Setting it up, changing the water or finding the ice, a stir every five minutes.
                bother += 4.0 + minutes / 15.0 + if ice { 4.0 } else { 0.0 } + if stirred { minutes / 5.0 } else { 0.0 };
                let counter = chill.stays.len() > 1 && chill.stays[0].place == Place::Counter;
                let bath = Stay { stirred, ..Stay::new(place, minutes) };
                chill.stays.insert(usize::from(counter), bath);
            }
            Change::Divide { into, deep_cm } => {
                let spare = kitchen.get(into)?;
                let vessel = spare.vessel.clone();
                let flat = vessel.height_m <= 0.05;
                let volume = f64::from(q.grams.get()) / 1_000.0 / q.food.rho;
                let each = vessel.round.area() * deep_cm / 100.0;
                let count = (volume / each).ceil().max(1.0) as u32;
                let now = q.vessel.depth_m(volume / f64::from(q.count));
                let pours_later = q.food.stirs && changes.iter().any(|c| matches!(c, Change::Bath { .. }));
                // No shallower than it is, or more boxes than a fridge takes.
                if count > MOST_VESSELS.min(spare.count) || vessel.depth_m(volume / f64::from(count)) >= 0.95 * now {
                    return None;
                }
                bother += 3.0 + 1.5 * f64::from(count) + if flat { 2.0 * f64::from(count) } else { 0.0 };
                if pours_later {
                    let bath = chill.stays.iter().position(|s| s.place == Place::ColdWater || s.place == Place::IceWater);
                    chill.stays.get_mut(bath.map_or(0, |b| b + 1))?.into = Some((vessel, count));
                } else {
                    // Lumps go into their boxes first, and each box takes a place in the sink.
                    let bathed = changes.iter().any(|c| matches!(c, Change::Bath { .. }));
                    bother += if bathed { 2.0 * f64::from(count) } else { 0.0 };
                    (chill.vessel, chill.count) = (vessel, count);
                }
            }
        }
    }
    // A bath is stirred with the lid off anyway; covered food cannot be.
    let stirs_covered = chill.lid && chill.stays.iter().any(|s| s.stirred);
    (!stirs_covered && chill != *q).then_some((chill, bother))
}

fn told(changes: &[Change], chill: &Chill, chilled: &Chilled) -> String {
    let mut parts = Vec::new();
    for change in changes {
        parts.push(match *change {
            Change::Divide { .. } => {
                let later = chill.stays.iter().find_map(|s| s.into.as_ref());
                let (vessel, n) = later.map_or((&chill.vessel, chill.count), |(v, n)| (v, *n));
                let what = if n == 1 { &vessel.one } else { &vessel.several };
                let then = if later.is_some() { "then " } else { "" };
                let verb = if n == 1 { "put it into" } else { "divide it between" };
                format!("{then}{verb} {n} {what}, {:.1}\u{a0}cm deep", chilled.depth_cm)
            }
            Change::Straight if changes.iter().any(|c| matches!(c, Change::Bath { .. })) => {
                "do not let it stand on the counter first".into()
            }
            Change::Straight => {
                let place = chill.stays.first().map_or(Place::Fridge, |s| s.place);
                format!("do not let it stand on the counter first but set it {} at once", place.words())
            }
            Change::Uncover => "leave the lid off until it is cold".into(),
            Change::Bath { ice, minutes, stirred } => {
                let place = if ice { Place::IceWater } else { Place::ColdWater };
                let stir = if stirred { ", stirring every 5 minutes" } else { "" };
                format!("stand it {} for {}{stir}", place.words(), span(minutes))
            }
        });
    }
    let text = match parts.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    };
    crate::rotation::capital(&text)
}
