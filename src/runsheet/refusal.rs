//! Why there is no sheet, and what to do about it.

use super::{
    couple::Coupled,
    oven::plans,
    page::clock,
    session::Session,
    solve::is_possible,
    work::{Problem, Spot, Why},
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
    /// "hands", "oven", "temperature", "ring", "hold", "fridge", "order", "too-early": each plays a part. Empty where there is nothing to do,
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

/// Finds the cause of an impossible day by lifting one rule after another.
pub(super) fn explain(session: &Session<'_>, c: &Coupled, onlooker: &mut dyn Onlooker) -> Refusal {
    let r = session.rotation;
    let day = r.day_name(session.day);
    if let Some(missing) = missing(session, c) {
        return missing;
    }
    let laid: Vec<Problem> = plans(c).iter().map(|plan| plan.laid_on(c)).collect();
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
    // One oven, several heats?
    let mut one_heat = c.problem.clone();
    for work in &mut one_heat.works {
        work.celsius = Some(0);
    }
    if c.units.len() > 1 && is_possible(&one_heat, onlooker).is_some() {
        let names: Vec<String> =
            c.units.iter().map(|u| format!("{} wants the oven at {} to {}\u{a0}°C", u.name, u.band.1, u.band.2)).collect();
        let sentence = format!("the oven has one heat at a time: {}, and neither can wait for the other", names.join(", "));
        let coolest = c.units.iter().min_by_key(|u| u.band.0).map_or("one of them", |u| &u.name);
        let advice =
            vec![format!("Bake {coolest} earlier and serve it cold or warmed"), "Move one of them to another day".into()];
        return Refusal::because("temperature", sentence, advice);
    }
    let lifts: [(&'static str, Lift); 5] = [
        ("hold", |p| p.links.iter_mut().filter(|l| l.why == Why::Hold).for_each(|l| l.max = None)),
        ("hands", |p| (p.capacities.cooks, p.capacities.space) = (p.capacities.cooks + 3, p.capacities.space + 3)),
        ("ring", |p| p.capacities.rings += 6),
        ("oven", |p| p.capacities.racks += 6),
        ("fridge", |p| p.links.iter_mut().filter(|l| l.why == Why::Fridge).for_each(|l| l.max = None)),
    ];
    let causes: Vec<&'static str> = lifts
        .iter()
        .filter(|(_, lift)| {
            laid.iter().any(|p| {
                let mut lifted = p.clone();
                lift(&mut lifted);
                is_possible(&lifted, onlooker).is_some()
            })
        })
        .map(|(cause, _)| *cause)
        .collect();
    match causes.first() {
        Some(&first) => Refusal { causes: causes.clone(), ..words_for(first, session, c) },
        None => {
            let reason = laid.first().and_then(|p| solve(&p.instance(), onlooker).ok()).and_then(|a| a.impossible);
            let why = reason.as_ref().map_or("the steps cannot be brought into any order".to_string(), |i| i.sentence.clone());
            let causes = reason.map_or(vec!["order"], |i| i.causes.iter().map(|c| c.word()).collect());
            let advice = vec!["Move a dish to another day".into()];
            Refusal { sentence: format!("{day} cannot be cooked: {why}"), advice, causes, nothing: false, earliest: None }
        }
    }
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

fn words_for(cause: &'static str, session: &Session<'_>, c: &Coupled) -> Refusal {
    let day = session.rotation.day_name(session.day);
    let dishes = |why: Why| {
        let mut held: Vec<(String, i64)> = c
            .problem
            .links
            .iter()
            .filter(|l| l.why == why)
            .filter_map(|l| Some((c.problem.works[l.before].dish.clone(), l.max?)))
            .collect();
        held.sort_by_key(|h| (h.1, h.0.clone()));
        held.dedup_by(|a, b| a.0 == b.0);
        held
    };
    let cooks = session.kitchen.cooks;
    let hands = if cooks == 1 { "one pair of hands".to_string() } else { format!("{cooks} pairs of hands") };
    let (sentence, advice) = match cause {
        "hold" => {
            let held: Vec<String> = dishes(Why::Hold).iter().take(4).map(|(d, m)| format!("{d} may stand {m} min")).collect();
            let shortest = dishes(Why::Hold).first().map_or("one of them".into(), |h| h.0.clone());
            (
                format!("{day} cannot be brought to table all at once with {hands}: {}", held.join(", ")),
                vec![
                    format!("Let {shortest} stand a few minutes longer, or serve it as a course of its own"),
                    "Ask a second cook".into(),
                    "Move one of them to another meal".into(),
                ],
            )
        }
        "hands" => (
            format!("{hands} cannot do all that {day} asks at the same moment"),
            vec!["Ask another cook".into(), "Move a dish to another day".into()],
        ),
        "ring" => (
            format!("{} rings are too few for what must stand on them together on {day}", session.kitchen.rings),
            vec!["Move a dish that wants the hob to another day".into(), "Bake or roast one of them".into()],
        ),
        "oven" => (
            format!("{} oven shelves are too few for what must be in the oven together on {day}", session.kitchen.shelves),
            vec!["Bake one of them earlier and warm it".into(), "Make less of it".into()],
        ),
        _ => (
            format!("what is kept back on {day} cannot be in the fridge in time"),
            vec!["Make it without leftovers".into(), "Box it before the meal".into()],
        ),
    };
    Refusal::because(cause, sentence, advice)
}

/// What could be made the day before.
fn ahead(session: &Session<'_>) -> Option<String> {
    let made =
        session.makings.iter().find(|m| m.dish.cooked && m.dish.keeps.0 >= 1 && session.day.0 > 1 && m.batch.draws.len() == 1);
    made.map(|m| format!("Make {} the day before", m.dish.name))
}
