//! Why there is no sheet, and what to do about it.

use super::{
    couple::Coupled,
    oven::{MOST_PLANS, plans},
    page::clock,
    session::Session,
    solve::{is_impossible, is_possible},
    work::{Link, Problem, Spot, Why},
};
use crate::{
    quantity::DayNo,
    rotation::Rotation,
    timeline::{Onlooker, solve},
};

/// Why a day has no run sheet.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{sentence}")]
pub struct Refusal {
    /// One sentence that names the cause with its figures.
    pub sentence: String,
    /// What to do, the likeliest first.
    pub advice: Vec<String>,
    /// "hands", "oven", "temperature", "ring", "hold", "wait", "fridge", "order", "too-early": each plays a part. Empty where there is nothing to do,
    /// or where nothing is proven.
    pub causes: Vec<&'static str>,
    /// Nothing is cooked or served that day.
    pub nothing: bool,
    /// Where only the hour is wrong: the first at which everybody could sit down, for the first meal, as a minute of the day.
    pub earliest: Option<i64>,
}

impl Refusal {
    fn because(cause: &'static str, sentence: String, advice: Vec<String>) -> Refusal {
        Refusal { sentence, advice, causes: vec![cause], nothing: false, earliest: None }
    }

    pub(super) fn nothing(r: &Rotation, day: DayNo) -> Refusal {
        let sentence = format!("nothing is cooked or served on {}", r.day_name(day));
        Refusal { sentence, advice: Vec::new(), causes: Vec::new(), nothing: true, earliest: None }
    }

    pub(super) fn stopped(r: &Rotation, day: DayNo) -> Refusal {
        let sentence =
            format!("no way through {} was found in the time allowed, and none is proven to be missing", r.day_name(day));
        let advice = vec!["Allow more time, or move a dish to another day".into()];
        Refusal { sentence, advice, causes: Vec::new(), nothing: false, earliest: None }
    }
}

/// A way to lift a rule, to see whether it is what makes a day impossible.
type Lift = fn(&mut Problem);

/// Finds the cause of an impossible day by lifting one rule after another. `c` is the most that was tried, `before` what was tried
/// before it: where only the hour is wrong, whichever comes soonest counts.
pub(super) fn explain(session: &Session<'_>, before: &[Coupled], c: &Coupled, onlooker: &mut dyn Onlooker) -> Refusal {
    let r = session.rotation;
    let day = r.day_name(session.day);
    if let Some(missing) = missing(session, c) {
        return missing;
    }
    let all = before.iter().chain([c]);
    let laid: Vec<Problem> = all.flat_map(|c| plans(c).into_iter().map(|plan| plan.laid_on(c))).collect();
    // Too early?
    let start = laid.iter().filter_map(|p| is_possible(p, onlooker)).max();
    if let Some(start) = start.filter(|s| *s < session.begin) {
        let late = session.begin - start;
        let first = session.sittings.iter().find(|s| s.served);
        let (name, at) = first.map_or((day.clone(), session.last_at()), |s| (s.name.clone(), s.at));
        let sentence = format!(
            "{name} at {} is too early: cooking would have to begin at {}, and nothing begins before {}",
            clock(at),
            clock(start),
            clock(session.begin)
        );
        let mut advice =
            vec![format!("Sit down {late} min later, at {}", clock(at + late)), format!("Begin at {}", clock(start))];
        advice.extend(ahead(session));
        return Refusal { earliest: Some(at + late), ..Refusal::because("too-early", sentence, advice) };
    }
    // Only those dishes that cannot be together: the others have no part in it.
    let c = &smallest(session, c, onlooker);
    let laid: Vec<Problem> = plans(c).iter().map(|plan| plan.laid_on(c)).collect();
    // One oven, several heats?
    let mut one_heat = c.problem.clone();
    for work in &mut one_heat.works {
        work.celsius = Some(0);
    }
    if c.units.len() > 1 && is_possible(&one_heat, onlooker).is_some() {
        return too_many_heats(c);
    }
    let mut possible = |lift: &dyn Fn(&mut Problem)| {
        laid.iter().any(|p| {
            let mut lifted = p.clone();
            lift(&mut lifted);
            is_possible(&lifted, onlooker).is_some()
        })
    };
    let causes: Vec<&'static str> = LIFTS.iter().filter(|(_, lift)| possible(lift)).map(|(cause, _)| *cause).collect();
    match causes.first() {
        Some(&first) => {
            // Of the waits, those of which one alone would be enough.
            let why = |l: &Link| {
                matches!((first, l.why), ("hold", Why::Hold) | ("fridge", Why::Fridge)) || first == "wait" && is_wait(l)
            };
            let single: Vec<Link> = c
                .problem
                .links
                .iter()
                .filter(|l| l.max.is_some() && why(l))
                .filter(|l| {
                    possible(&|p| {
                        p.links.iter_mut().filter(|m| (m.before, m.after) == (l.before, l.after)).for_each(|m| m.max = None)
                    })
                })
                .copied()
                .collect();
            Refusal { causes: causes.clone(), ..words_for(&causes, &single, session, c) }
        }
        None => {
            let reason = laid.first().and_then(|p| solve(&p.instance(), onlooker).ok()).and_then(|a| a.impossible);
            let why = reason.as_ref().map_or("the steps cannot be brought into any order".to_string(), |i| i.sentence.clone());
            let causes = reason.map_or(vec!["order"], |i| i.causes.iter().map(|c| c.word()).collect());
            let advice = vec!["Move a dish to another day".into()];
            Refusal { sentence: format!("{day} cannot be cooked: {why}"), advice, causes, nothing: false, earliest: None }
        }
    }
}

/// What is lifted, one after the other. The first that helps gives the sentence.
const LIFTS: [(&str, Lift); 6] = [
    ("hold", |p| p.links.iter_mut().filter(|l| l.why == Why::Hold).for_each(|l| l.max = None)),
    ("fridge", |p| p.links.iter_mut().filter(|l| l.why == Why::Fridge).for_each(|l| l.max = None)),
    ("wait", |p| p.links.iter_mut().filter(|l| is_wait(l)).for_each(|l| l.max = None)),
    ("hands", |p| (p.capacities.cooks, p.capacities.space) = (p.capacities.cooks + 3, p.capacities.space + 3)),
    ("ring", |p| p.capacities.rings += 6),
    ("oven", |p| p.capacities.racks += 6),
];

/// A longest wait between two steps, not to the table and not for the fridge. What goes on at once is no wait.
fn is_wait(l: &Link) -> bool {
    matches!(l.why, Why::Order | Why::Pan | Why::Fresh) && l.max.is_some_and(|m| m > 0)
}

/// As few of the day's batches as are impossible together: each is left out in turn, and stays out where it had no part in it
/// (the deletion filter of Chinneck & Dravnieks 1991).
fn smallest(session: &Session<'_>, c: &Coupled, onlooker: &mut dyn Onlooker) -> Coupled {
    let mut kept = c.clone();
    let batches = session.makings.iter().map(|m| m.batch.id).chain(session.again.iter().map(|a| a.batch.id));
    let mut batches: Vec<_> = batches.collect();
    batches.sort_unstable();
    batches.dedup();
    for batch in batches {
        let without = kept.without(batch);
        let all = plans(&without);
        if all.len() < MOST_PLANS && all.iter().all(|plan| is_impossible(&plan.laid_on(&without), onlooker)) {
            kept = without;
        }
    }
    kept
}

/// "A", "A and B", "A, B and C".
fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The dishes of a problem, in order and once.
fn dishes(c: &Coupled) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for w in c.problem.works.iter().filter(|w| w.batch.is_some()) {
        if !names.contains(&w.dish) {
            names.push(w.dish.clone());
        }
    }
    names
}

fn too_many_heats(c: &Coupled) -> Refusal {
    let mut wants: Vec<(String, Vec<String>)> = Vec::new();
    for u in &c.units {
        let heat = format!("{} to {}\u{a0}°C", u.band.1, u.band.2);
        match wants.iter_mut().find(|w| w.0 == u.name) {
            Some(known) if known.1.contains(&heat) => {}
            Some(known) => known.1.push(heat),
            None => wants.push((u.name.clone(), vec![heat])),
        }
    }
    let names: Vec<String> =
        wants.iter().map(|(name, heats)| format!("{name} wants the oven at {}", heats.join(", then at "))).collect();
    let end = if wants.len() > 1 { "and neither can wait for the other" } else { "and it cannot wait so long between" };
    let sentence = format!("the oven has one heat at a time: {}, {end}", names.join(", "));
    let coolest = c.units.iter().min_by_key(|u| u.band.0).map_or("one of them", |u| &u.name);
    let advice = vec![format!("Bake {coolest} earlier and serve it cold or warmed"), "Move one of them to another day".into()];
    Refusal::because("temperature", sentence, advice)
}

/// A ring or an oven that there is not.
fn missing(session: &Session<'_>, c: &Coupled) -> Option<Refusal> {
    let k = session.kitchen;
    let needs = |ring: bool| {
        c.problem.works.iter().find(|w| if ring { w.spot == Spot::Ring } else { matches!(w.spot, Spot::Oven { .. }) })
    };
    if let Some(w) = needs(true).filter(|_| k.rings == 0) {
        let sentence = format!("{} needs a ring (\"{}\") and the kitchen has none", w.dish, super::words::brief(&w.what));
        return Some(Refusal::because(
            "ring",
            sentence,
            vec!["Plan a dish that needs no ring".into(), "Say in the kitchen's settings how many rings there are".into()],
        ));
    }
    if let Some(w) = needs(false).filter(|_| k.shelves == 0) {
        let sentence = format!("{} needs an oven (\"{}\") and the kitchen has none", w.dish, super::words::brief(&w.what));
        return Some(Refusal::because(
            "oven",
            sentence,
            vec!["Plan a dish that needs no oven".into(), "Say in the kitchen's settings how many shelves the oven has".into()],
        ));
    }
    None
}

/// The words for what was found: `single` are waits of which one alone, if it were longer, would be enough.
fn words_for(causes: &[&'static str], single: &[Link], session: &Session<'_>, c: &Coupled) -> Refusal {
    let day = session.rotation.day_name(session.day);
    let k = session.kitchen;
    let p = &c.problem;
    let hands = if k.cooks == 1 { "one pair of hands".to_string() } else { format!("{} pairs of hands", k.cooks) };
    let rings = if k.rings == 1 { "one ring".to_string() } else { format!("{} rings", k.rings) };
    let shelves = if k.shelves == 1 { "one oven shelf".to_string() } else { format!("{} oven shelves", k.shelves) };
    let with: Vec<String> = [("hands", &hands), ("ring", &rings), ("oven", &shelves)]
        .into_iter()
        .filter(|(cause, _)| causes.contains(cause))
        .map(|(_, words)| words.clone())
        .collect();
    let with = if with.is_empty() { ", however many hands there are".to_string() } else { format!(" with {}", listed(&with)) };
    let names = dishes(c);
    let (who, one) = (listed(&names), names.len() == 1);
    let mut advice: Vec<String> = Vec::new();
    if causes.contains(&"hands") {
        advice.push(if k.cooks == 1 { "Ask a second cook".into() } else { "Ask another cook".into() });
    }
    let cause = causes.first().copied().unwrap_or("order");
    let sentence = match cause {
        "hold" => {
            let mut held: Vec<(String, i64)> = p
                .links
                .iter()
                .filter(|l| l.why == Why::Hold)
                .filter_map(|l| Some((p.works[l.before].dish.clone(), l.max?)))
                .collect();
            held.sort_by_key(|h| (h.1, h.0.clone()));
            held.dedup_by(|a, b| a.0 == b.0);
            let said: Vec<String> = held.iter().take(4).map(|(d, m)| format!("{d} may stand {m} min")).collect();
            if let Some(l) = single.iter().max_by_key(|l| l.max) {
                advice.push(format!(
                    "Let {} stand a few minutes longer, or serve it as a course of its own",
                    p.works[l.before].dish
                ));
            }
            match one {
                true => format!("{who} cannot come to table as it should on {day}{with}: {}", said.join(", ")),
                false => format!("{who} cannot be brought to table all at once on {day}{with}: {}", said.join(", ")),
            }
        }
        "fridge" => {
            let kept = single.first().or(p.links.iter().find(|l| l.why == Why::Fridge));
            let (dish, minutes) = kept
                .map_or((who.clone(), 120), |l| (p.works[l.before].dish.clone(), l.max.unwrap_or(0) + p.works[l.after].minutes));
            advice.push("Make it without leftovers".into());
            format!(
                "what is kept of {dish} must be in the fridge {minutes} min after it leaves the heat, and that cannot be on {day}{with}"
            )
        }
        "wait" => {
            let steps: Vec<String> = single
                .iter()
                .take(3)
                .map(|l| {
                    let (before, after) =
                        (super::words::brief(&p.works[l.before].what), super::words::brief(&p.works[l.after].what));
                    format!("after \"{before}\" no more than {} min may pass before \"{after}\"", l.max.unwrap_or(0))
                })
                .collect();
            let steps =
                if steps.is_empty() { "their steps may not wait as long as they must".to_string() } else { steps.join(", and ") };
            format!("{who} cannot be cooked on {day}{with}: {steps}")
        }
        "hands" => format!("{hands} cannot do all that {who} {} at the same moment on {day}", if one { "asks" } else { "ask" }),
        "ring" => {
            advice.push("Bake or roast one of them".into());
            format!(
                "{rings} {} too few for what must stand on the hob together on {day}: {who}",
                if k.rings == 1 { "is" } else { "are" }
            )
        }
        _ => {
            advice.extend(["Bake one of them earlier and warm it".into(), "Make less of it".into()]);
            format!(
                "{shelves} {} too few for what must be in the oven together on {day}: {who}",
                if k.shelves == 1 { "is" } else { "are" }
            )
        }
    };
    advice.push(if one { format!("Move {who} to another day") } else { "Move one of them to another meal or day".into() });
    Refusal::because(cause, sentence, advice)
}

/// What could be made the day before.
fn ahead(session: &Session<'_>) -> Option<String> {
    let made =
        session.makings.iter().find(|m| m.dish.cooked && m.dish.keeps.0 >= 1 && session.day.0 > 1 && m.batch.draws.len() == 1);
    made.map(|m| format!("Make {} the day before", m.dish.name))
}
