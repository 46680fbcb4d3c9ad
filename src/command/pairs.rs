//! `tranche lab likeness`: how alike two dishes are that are given by their tags alone.

use super::vector_input::{Fields, Named, brief, number, numbers};
use crate::{
    book::{Colour, Family, Form, Graded, Heat, Method, Profile, Protein, Starch, Texture},
    judge::{Axis, Verdict, Weights, axes_alike, cosine, gower_combine},
};
use serde_json::{Map, Value, json};
use std::fmt::Debug;

/// What stands beside the tags and is no axis.
const NOT_TAGS: [&str; 12] =
    ["id", "name", "title", "dish", "note", "notes", "comment", "source", "piece", "ingredient", "description", "meal"];

/// One pair: `id`, `likeness` or null, `verdict` in words, `shares` by axis or null each, `error` where it cannot be read,
/// `ignored` what is no axis.
pub(super) fn compare(pair: &Value, weights: &Weights) -> Value {
    let mut out = Map::new();
    out.insert("id".into(), pair.get("id").cloned().unwrap_or(Value::Null));
    match both(pair) {
        Ok((a, b)) => {
            let mut alike = axes_alike(&a.profile, &b.profile);
            alike[5] = a.taste.zip(b.taste).and_then(|(u, v)| cosine(&u, &v));
            let found = gower_combine(&alike, &weights.0);
            let shares: Map<String, Value> =
                Axis::ALL.iter().map(|a| key(*a)).zip(found.shares.iter().map(|s| json!(s))).collect();
            out.insert("likeness".into(), json!(found.whole));
            out.insert("verdict".into(), json!(Verdict::of(found.whole).words()));
            out.insert("shares".into(), Value::Object(shares));
            let mut ignored = a.ignored;
            ignored.extend(b.ignored.into_iter().filter(|k| !ignored.contains(k)).collect::<Vec<_>>());
            if !ignored.is_empty() {
                out.insert("ignored".into(), json!(ignored));
            }
        }
        Err(error) => {
            out.insert("likeness".into(), Value::Null);
            out.insert("verdict".into(), Value::Null);
            out.insert("shares".into(), Value::Null);
            out.insert("error".into(), json!(error));
        }
    }
    Value::Object(out)
}

/// The stable key of an axis.
pub(super) fn key(axis: Axis) -> String {
    format!("{axis:?}").to_lowercase()
}

/// Weights by axis; those not named weigh as usual.
pub(super) fn weights(value: Option<&Value>) -> Result<Weights, String> {
    let mut weights = Weights::default();
    let Some(map) = value.filter(|v| !v.is_null()) else { return Ok(weights) };
    let map = map.as_object().ok_or("weights is no map from axis to number")?;
    for (name, weight) in map {
        let place = axis_of(name).ok_or_else(|| format!("there is no axis {}", brief(&json!(name))))?;
        let weight = number(weight)?;
        if weight < 0.0 {
            return Err(format!("the weight of {} is {weight}; none may be below 0", key(place)));
        }
        weights.0[place as usize] = weight;
    }
    Ok(weights)
}

/// A dish as its tags have it; taste apart, since it may be finer than whole grades here.
#[derive(Default)]
struct Tagged {
    profile: Profile,
    taste: Option<[f64; 6]>,
    ignored: Vec<String>,
}

fn both(pair: &Value) -> Result<(Tagged, Tagged), String> {
    let pair = Fields(pair);
    let read = |keys: &[&str]| tagged(pair.get_any(keys)?).map_err(|e| format!("{}: {e}", keys[0]));
    Ok((read(&["a", "first", "earlier"])?, read(&["b", "second", "later"])?))
}

fn tagged(value: &Value) -> Result<Tagged, String> {
    let mut dish = Tagged::default();
    read_tags(value, &mut dish)?;
    Ok(dish)
}

fn read_tags(value: &Value, dish: &mut Tagged) -> Result<(), String> {
    let map = value.as_object().ok_or_else(|| format!("{} is no map of tags", brief(value)))?;
    for (name, value) in map {
        let plain = plain(name);
        match axis_of(name) {
            _ if ["tags", "profile", "axes", "company"].contains(&plain.as_str()) && value.is_object() => read_tags(value, dish)?,
            Some(axis) => read_axis(axis, value, dish).map_err(|e| format!("{}: {e}", key(axis)))?,
            None if NOT_TAGS.contains(&plain.as_str()) => {}
            None => dish.ignored.push(name.chars().take(40).collect()),
        }
    }
    Ok(())
}

/// The axis of a name, also of those that cooks use.
fn axis_of(name: &str) -> Option<Axis> {
    Some(match plain(name).as_str() {
        "texture" | "textures" | "mouthfeel" => Axis::Texture,
        "family" | "families" | "flavour" | "flavor" | "flavourfamily" | "flavorfamily" | "aroma" | "seasoning" => Axis::Family,
        "colour" | "color" | "colours" | "colors" | "look" => Axis::Colour,
        "method" | "methods" | "cookingmethod" => Axis::Method,
        "form" | "shape" => Axis::Form,
        "taste" | "tastes" => Axis::Taste,
        "heat" | "temperature" | "hotcold" => Axis::Heat,
        "protein" => Axis::Protein,
        "starch" => Axis::Starch,
        _ => return None,
    })
}

/// Small letters and digits alone: "Crisp-raw" and "crisp raw" are one.
fn plain(text: &str) -> String {
    let letters = text.chars().flat_map(char::to_lowercase);
    letters.map(|c| if c == 'é' { 'e' } else { c }).filter(|c| c.is_alphanumeric()).collect()
}

/// Words of blank cells.
fn is_blank(value: &Value) -> bool {
    value.is_null() || value.as_str().is_some_and(|t| ["", "unknown", "blank"].contains(&plain(t).as_str()))
}

fn read_axis(axis: Axis, value: &Value, dish: &mut Tagged) -> Result<(), String> {
    if is_blank(value) {
        return Ok(());
    }
    let p = &mut dish.profile;
    match axis {
        Axis::Texture => p.texture = graded(value, texture)?,
        Axis::Family => p.family = graded(value, family)?,
        Axis::Colour => p.colour = graded(value, colour)?,
        Axis::Method => p.method = graded(value, method)?,
        Axis::Form => p.form = main(value, |w| word(w, Form::ALL, &[("onaplate", Form::Plate), ("patties", Form::Patty)]))?,
        Axis::Taste => dish.taste = taste(value)?,
        Axis::Heat => p.heat = heat(value)?,
        Axis::Protein => p.protein = main(value, protein)?,
        Axis::Starch => p.starch = main(value, starch)?,
    }
    Ok(())
}

fn graded<T: Copy + PartialEq>(value: &Value, read: impl Fn(&str) -> Option<T>) -> Result<Vec<Graded<T>>, String> {
    let mut out: Vec<Graded<T>> = Vec::new();
    for (name, grade) in Named::of(value)?.0 {
        if is_blank(&Value::String(name.clone())) {
            continue;
        }
        let value = read(&name).ok_or_else(|| no_word(&name))?;
        // Two names of one value count once, at the higher grade.
        match out.iter_mut().find(|g| g.0 == value) {
            Some(g) => g.1 = g.1.max(grade),
            None => out.push(Graded(value, grade)),
        }
    }
    Ok(out)
}

/// The value of the highest grade, the first on a tie.
fn main<T: Copy + PartialEq>(value: &Value, read: impl Fn(&str) -> Option<T>) -> Result<Option<T>, String> {
    let all = graded(value, read)?;
    let most = all.iter().map(|g| g.1).fold(0.0, f64::max);
    Ok(all.iter().find(|g| g.1 == most).map(|g| g.0))
}

fn no_word(name: &str) -> String {
    format!("there is no value {}", brief(&json!(name)))
}

/// The value whose own name or word this is, or one of `other` names in plain letters.
fn word<T: Copy + Debug>(name: &str, all: &[T], other: &[(&str, T)]) -> Option<T> {
    let name = plain(name);
    let own = all.iter().copied().find(|v| plain(&format!("{v:?}")) == name);
    own.or_else(|| other.iter().find(|(n, _)| *n == name).map(|(_, v)| *v))
}

fn texture(name: &str) -> Option<Texture> {
    let other = [
        ("crispraw", Texture::Crisp),
        ("crunchyfried", Texture::Crunchy),
        ("charredtender", Texture::Charred),
        ("tenderbite", Texture::Tender),
        ("softstewed", Texture::Stewed),
        ("soft", Texture::Stewed),
    ];
    word(name, Texture::ALL, &other)
}

fn family(name: &str) -> Option<Family> {
    let other = [
        ("herbfresh", Family::Herbal),
        ("tomatoherb", Family::Tomato),
        ("smokysavoury", Family::Smoky),
        ("smokysavory", Family::Smoky),
        ("saltyumami", Family::Umami),
        ("currywarm", Family::Curry),
        ("sweetspiced", Family::Spiced),
        ("mustardpungent", Family::Mustard),
        ("creamymild", Family::Mild),
        ("sweetplain", Family::Sweet),
        ("chili", Family::Chilli),
    ];
    word(name, Family::ALL, &other)
}

fn colour(name: &str) -> Option<Colour> {
    word(name, Colour::ALL, &[])
}

fn method(name: &str) -> Option<Method> {
    if let Some(own) = Method::from_word(name) {
        return Some(own);
    }
    let other = [
        ("pickled", Method::Pickle),
        ("boiled", Method::Boil),
        ("poached", Method::Poach),
        ("steamed", Method::Steam),
        ("stewed", Method::Stew),
        ("braised", Method::Braise),
        ("baked", Method::Bake),
        ("roasted", Method::Roast),
        ("grilled", Method::Grill),
        ("smoked", Method::Smoke),
        ("sauteed", Method::Saute),
        ("fried", Method::Fry),
        ("blended", Method::Blend),
    ];
    word(name, Method::ALL, &other)
}

fn protein(name: &str) -> Option<Protein> {
    word(
        name,
        Protein::ALL,
        &[("pulse", Protein::Pulses), ("nut", Protein::Nuts), ("eggs", Protein::Egg), ("noprotein", Protein::None)],
    )
}

fn starch(name: &str) -> Option<Starch> {
    word(name, Starch::ALL, &[("noodle", Starch::Noodles), ("potatoes", Starch::Potato), ("nostarch", Starch::None)])
}

/// A word, or the place on the scale from 0 for chilled to 3 for hot.
fn heat(value: &Value) -> Result<Option<Heat>, String> {
    if let Some(rank) = value.as_f64() {
        let found = Heat::ALL.iter().copied().find(|h| f64::from(h.rank()) == rank);
        return found.map(Some).ok_or_else(|| format!("{rank} is no heat; it is 0, 1, 2 or 3"));
    }
    let other = [
        ("cold", Heat::Chilled),
        ("roomtemperature", Heat::Room),
        ("roomwarmth", Heat::Room),
        ("atroomwarmth", Heat::Room),
        ("ambient", Heat::Room),
    ];
    main(value, |w| word(w, Heat::ALL, &other))
}

/// A map from taste to grade or the list in the order sweet, sour, bitter, umami, hot, rich; salt is no axis.
fn taste(value: &Value) -> Result<Option<[f64; 6]>, String> {
    const ORDER: [&str; 6] = ["sweet", "sour", "bitter", "umami", "hot", "rich"];
    let mut out = [0.0; 6];
    match value {
        Value::Array(list) if list.len() == 6 && list.iter().all(Value::is_number) => {
            out.iter_mut().zip(numbers(value)?).for_each(|(to, grade)| *to = grade);
        }
        Value::Object(map) => {
            for (name, grade) in map {
                let grade = if grade.is_null() { 0.0 } else { number(grade)? };
                match (ORDER.iter().position(|t| *t == plain(name)), plain(name).as_str()) {
                    (Some(i), _) => out[i] = grade,
                    (None, "salt" | "salty") => {}
                    (None, "fat" | "fatty") => out[5] = grade,
                    (None, "pungent" | "burn" | "spicy") => out[4] = grade,
                    (None, "savoury" | "savory") => out[3] = grade,
                    (None, _) => return Err(no_word(name)),
                }
            }
        }
        Value::Array(_) | Value::String(_) => {
            for (name, grade) in Named::of(value)?.0 {
                let place = ORDER.iter().position(|t| *t == plain(&name)).ok_or_else(|| no_word(&name))?;
                out[place] = grade;
            }
        }
        other => return Err(format!("{} is no taste", brief(other))),
    }
    match out.iter().find(|g| !(0.0..=3.0).contains(*g)) {
        Some(g) => Err(format!("a grade of taste is {g}; they lie from 0 to 3")),
        None => Ok(Some(out)),
    }
}
