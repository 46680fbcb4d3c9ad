//! What no file may hold, whatever else it says: names of no end, characters that are none, numbers that are none, numbers twice.

use crate::{
    book::{Companion, Dish, Graded, Kind, Profile},
    lists::Cupboard,
    rotation::{Eater, Equipment, Invalid, Rotation, Template},
};
use std::{collections::BTreeSet, fmt::Display};

/// The longest name, in characters (house limit, common practice).
const MAX_NAME: usize = 200;
/// The longest sentence or note, in characters (house limit, common practice).
const MAX_TEXT: usize = 4_000;

/// Refuses texts and numbers that a plan cannot have.
pub(super) fn check(plan: &Rotation) -> Result<(), Invalid> {
    name("the title", &plan.title, &["title"])?;
    for m in &plan.mealtimes {
        name("the name of a mealtime", &m.name, &["mealtimes", &format!("id: {}", m.id.0)])?;
    }
    kind(&plan.kind)?;
    for t in &plan.piece.trim {
        name("the name of a trim", &t.name, &["piece", "trim"])?;
    }
    household(&plan.household.eaters)?;
    plan.dishes.values().try_for_each(|d| dish(d))?;
    for s in plan.meals.values().flat_map(|m| &m.servings) {
        s.twins.iter().try_for_each(|t| name("the name of a twin", &t.twin, &["meals"]))?;
    }
    for o in &plan.overruled {
        text("the key of an overruled finding", &o.finding.0, &["overruled"])?;
        text("the reason for an overruled finding", &o.reason, &["overruled"])?;
    }
    Ok(())
}

/// The same for what a shape says.
pub(super) fn template(shape: &Template) -> Result<(), Invalid> {
    name("the name of the template", &shape.name, &["name"])?;
    name("the name of the kind", &shape.made_from.name, &["made_from", "name"])?;
    name("the family of the kind", &shape.made_from.family, &["made_from", "family"])?;
    for m in &shape.mealtimes {
        name("the name of a mealtime", &m.name, &["mealtimes", &format!("id: {}", m.id.0)])?;
    }
    Ok(())
}

/// The same for what a kitchen has.
pub(super) fn equipment(has: &Equipment) -> Result<(), Invalid> {
    has.boxes.iter().try_for_each(|b| name("the name of a box", &b.name, &["boxes", &format!("name: {:?}", b.name)]))?;
    has.fault().map_or(Ok(()), |fault| invalid::<&str>(fault, &[]))
}

/// The same for those who eat: each with a name, a number of their own and a readable text.
pub(super) fn household(eaters: &[Eater]) -> Result<(), Invalid> {
    let mut seen = BTreeSet::new();
    for e in eaters {
        if !seen.insert(e.id) {
            let near = format!("id: {}", e.id.0);
            invalid(
                format!("the eater {} stands twice; give the second another id or take it out", e.id.0),
                &["eaters", &near, &near],
            )?;
        }
        let near = ["eaters".to_string(), format!("id: {}", e.id.0)];
        name("the name of an eater", &e.name, &near)?;
        e.dislikes.iter().try_for_each(|d| name("a dislike", d, &near))?;
    }
    Ok(())
}

/// The same for what is in the house.
pub(super) fn cupboard(cupboard: &Cupboard) -> Result<(), Invalid> {
    for i in &cupboard.items {
        let near = ["items".to_string(), format!("name: \"{}\"", i.name)];
        name("the name of something in the cupboard", &i.name, &near)?;
        i.amount.iter().try_for_each(|a| number("an amount in the cupboard", *a, 1e6, &near))?;
    }
    cupboard.garden.iter().try_for_each(|g| name("the name of something in the garden", g, &["garden"]))
}

/// The same for what a kind says.
pub(super) fn kind(kind: &Kind) -> Result<(), Invalid> {
    let near = |inner: &str| ["kind".to_string(), inner.to_string()];
    name("the name of the kind", &kind.name, &near("name"))?;
    name("the family of the kind", &kind.family, &near("family"))?;
    name("the colour of the kind", &kind.colour, &near("colour"))?;
    name("what starts the clock", &kind.clock_starts, &near("clock_starts"))?;
    kind.trim.iter().try_for_each(|t| name("the name of a trim", &t.name, &near("trim")))?;
    for p in &kind.parts {
        let near = near(&format!("id: \"{}\"", p.id));
        name("the name of a part", &p.name, &near)?;
        text("what a part suits", &p.suits, &near)?;
        p.unit.iter().try_for_each(|u| name("the name of a unit", &u.0, &near))?;
    }
    for w in &kind.whole {
        name("a place to keep it", &w.place, &near("whole"))?;
        name("a source", &w.source, &near("whole"))?;
    }
    if let Some(cup) = kind.cup {
        number("the grams in a cup", cup.0, 1e6, &near("cup"))?;
    }
    kind.hazards.iter().try_for_each(|h| text("a hazard", h, &near("hazards")))?;
    kind.sources.iter().try_for_each(|s| name("a source", s, &near("sources")))
}

/// The same for what a dish says.
pub(super) fn dish(dish: &Dish) -> Result<(), Invalid> {
    let near = ["dishes".to_string(), format!("id: \"{}\"", dish.id)];
    name("the name of a dish", &dish.name, &near)?;
    dish.families.iter().try_for_each(|f| name("a family", f, &near))?;
    dish.forms.iter().try_for_each(|f| name("a form", f, &near))?;
    dish.sources.iter().try_for_each(|s| name("a source", s, &near))?;
    dish.unit.iter().try_for_each(|u| name("the name of a unit", &u.0, &near))?;
    dish.steps.iter().try_for_each(|s| text("a step", &s.text, &near))?;
    for c in &dish.cautions {
        text("a caution", &c.text, &near)?;
        name("a source", &c.source, &near)?;
    }
    companions(&dish.companions, &near)?;
    for t in &dish.twins {
        name("the name of a twin", &t.name, &near)?;
        t.without_forms.iter().try_for_each(|f| name("a form", f, &near))?;
        companions(&t.companions, &near)?;
    }
    profile(&dish.profile, &near)
}

fn profile(p: &Profile, near: &[String]) -> Result<(), Invalid> {
    grades("texture", &p.texture, near)?;
    grades("family", &p.family, near)?;
    grades("method", &p.method, near)?;
    grades("colour", &p.colour, near)
}

/// The same for a dish as it was eaten; `what` says where it stands.
pub(super) fn eaten(what: &str, dish: &str, eats: &Profile) -> Result<(), Invalid> {
    let said = |e: Invalid| Invalid { what: format!("{what}: {}", e.what), near: e.near };
    name("the name of a dish", dish, &[] as &[&str]).map_err(said)?;
    profile(eats, &[]).map_err(said)?;
    match eats.taste.and_then(|t| t.vector().into_iter().find(|g| *g > 3.0)) {
        Some(grade) => invalid(format!("{what}: a grade of taste is {grade}; they lie from 0 to 3"), &[] as &[&str]),
        None => Ok(()),
    }
}

fn companions(companions: &[Companion], near: &[String]) -> Result<(), Invalid> {
    for c in companions {
        let near: Vec<String> = near.iter().cloned().chain(["companions:".into(), format!("name: \"{}\"", c.name)]).collect();
        let near = near.as_slice();
        name("the name of a companion", &c.name, near)?;
        number("the amount of a companion", c.per_unit, 1e6, near)?;
        number("the amount of a companion", c.per_batch, 1e6, near)?;
        c.pack.iter().try_for_each(|p| number("the pack of a companion", *p, 1e6, near))?;
        c.pack_word.iter().try_for_each(|w| name("the word for a pack", w, near))?;
    }
    Ok(())
}

fn grades<T>(axis: &str, set: &[Graded<T>], near: &[String]) -> Result<(), Invalid> {
    let near: Vec<String> = near.iter().cloned().chain(["profile:".into(), format!("{axis}:")]).collect();
    set.iter().try_for_each(|g| number(&format!("a grade of {axis}"), g.1, 1.0, &near))
}

pub(super) fn number<S: AsRef<str>>(what: &str, value: f64, most: f64, near: &[S]) -> Result<(), Invalid> {
    if (0.0..=most).contains(&value) {
        return Ok(());
    }
    invalid(format!("{what} is {value}; write a number from 0 to {most}"), near)
}

pub(super) fn name<S: AsRef<str>>(what: &str, value: &str, near: &[S]) -> Result<(), Invalid> {
    sound(what, value, MAX_NAME, |_| false, near)
}

fn text<S: AsRef<str>>(what: &str, value: &str, near: &[S]) -> Result<(), Invalid> {
    sound(what, value, MAX_TEXT, |c| c == '\n' || c == '\t', near)
}

fn sound<S: AsRef<str>>(what: &str, value: &str, most: usize, allowed: fn(char) -> bool, near: &[S]) -> Result<(), Invalid> {
    let long = value.chars().count();
    if long > most {
        return invalid(format!("{what} is {long} characters long; {most} is the most"), near);
    }
    match value.chars().find(|&c| c.is_control() && !allowed(c)) {
        Some(c) => invalid(format!("{what} has the control character U+{:04X} in it; take it out", u32::from(c)), near),
        None => Ok(()),
    }
}

pub(super) fn invalid<S: AsRef<str>>(what: impl Display, near: &[S]) -> Result<(), Invalid> {
    Err(Invalid { what: what.to_string(), near: near.iter().map(|n| n.as_ref().to_string()).collect() })
}
