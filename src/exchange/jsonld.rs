//! schema.org/Recipe in JSON-LD, in the many shapes that pages give it.

use super::{
    found::Found,
    markup::{lines, plain},
};
use serde_json::{Map, Value};

/// How deep a recipe may lie within its JSON (house limit).
const MAX_NEST: usize = 16;
/// How deep instructions may be nested: list, section, step, direction.
const MAX_STEPS_NEST: usize = 4;
/// How many values are looked at (house limit).
const MAX_VALUES: usize = 200_000;

/// A JSON value out of a script: as it stands, or with what people wrap around it taken away.
pub(super) fn parse(text: &str) -> Result<Value, String> {
    let first = match serde_json::from_str(text) {
        Ok(value) => return Ok(value),
        Err(e) => e.to_string(),
    };
    serde_json::from_str(&mended(text)).map_err(|_| first)
}

/// Without `<!-- -->`, CDATA, comments and raw control characters within strings: all of which pages have and JSON has not.
fn mended(text: &str) -> String {
    let mut text = text.trim();
    for (open, close) in [("<!--", "-->"), ("//<![CDATA[", "//]]>"), ("/*<![CDATA[*/", "/*]]>*/"), ("<![CDATA[", "]]>")] {
        text = text.strip_prefix(open).unwrap_or(text).trim();
        text = text.strip_suffix(close).unwrap_or(text).trim();
    }
    let text = text.trim_end_matches(';');
    let mut out = String::with_capacity(text.len());
    let mut chars = text.chars().peekable();
    let (mut quoted, mut escaped) = (false, false);
    while let Some(c) = chars.next() {
        if quoted {
            out.push(if c.is_control() { ' ' } else { c });
            quoted = c != '"' || escaped;
            escaped = c == '\\' && !escaped;
            continue;
        }
        match (c, chars.peek()) {
            ('/', Some('/')) => {
                for skipped in chars.by_ref() {
                    if skipped == '\n' {
                        break;
                    }
                }
            }
            ('/', Some('*')) => {
                chars.next();
                let mut before = ' ';
                for skipped in chars.by_ref() {
                    if before == '*' && skipped == '/' {
                        break;
                    }
                    before = skipped;
                }
            }
            _ => {
                quoted = c == '"';
                out.push(c);
            }
        }
    }
    out
}

/// Every recipe within `value`, in order.
pub(super) fn recipes(value: &Value) -> Vec<&Map<String, Value>> {
    let mut found = Vec::new();
    let mut left = MAX_VALUES;
    search(value, 0, &mut left, &mut found);
    found
}

fn search<'a>(value: &'a Value, depth: usize, left: &mut usize, found: &mut Vec<&'a Map<String, Value>>) {
    if depth > MAX_NEST || *left == 0 {
        return;
    }
    *left -= 1;
    match value {
        Value::Array(list) => list.iter().for_each(|v| search(v, depth + 1, left, found)),
        Value::Object(map) if is_a(map, "Recipe") => found.push(map),
        Value::Object(map) => map.values().filter(|v| !v.is_string()).for_each(|v| search(v, depth + 1, left, found)),
        _ => {}
    }
}

/// Whether the object's `@type`, a text or a list, names `class`.
fn is_a(map: &Map<String, Value>, class: &str) -> bool {
    let named = |t: &Value| t.as_str().is_some_and(|t| t.rsplit(['/', ':', '#']).next() == Some(class));
    match map.get("@type").or_else(|| map.get("type")) {
        Some(Value::Array(list)) => list.iter().take(20).any(named),
        Some(one) => named(one),
        None => false,
    }
}

/// The texts of a recipe.
pub(super) fn read(map: &Map<String, Value>) -> Found {
    let mut f = Found::default();
    let get = |keys: &[&str]| keys.iter().find_map(|k| map.get(*k)).filter(|v| !v.is_null());
    f.name = get(&["name", "headline"]).and_then(|v| texts(v).into_iter().next()).unwrap_or_default();
    f.yields = get(&["recipeYield", "yield"]).map(texts).unwrap_or_default();
    for (keys, slot) in [("prepTime", 0), ("cookTime", 1), ("totalTime", 2)] {
        let Some(value) = get(&[keys]) else { continue };
        let text = texts(value).into_iter().next();
        if text.is_none() {
            f.add_unread(format!("{keys}: {}", short(value)));
        }
        match slot {
            0 => f.prep = text,
            1 => f.cook = text,
            _ => f.total = text,
        }
    }
    if let Some(value) = get(&["recipeIngredient", "ingredients"]) {
        ingredients(value, &mut f, 0);
    }
    if let Some(value) = get(&["recipeInstructions", "instructions", "step"]) {
        steps(value, &mut f, 0);
    }
    f
}

/// The texts in a value: itself, its members, or what an object calls its text.
fn texts(value: &Value) -> Vec<String> {
    match value {
        Value::String(s) => Some(plain(s)).filter(|s| !s.is_empty()).into_iter().collect(),
        Value::Number(n) => vec![n.to_string()],
        Value::Array(list) => list.iter().take(20).filter(|v| !v.is_array()).flat_map(texts).collect(),
        Value::Object(map) => {
            let inner = ["@value", "text", "name", "value"].iter().find_map(|k| map.get(*k)).filter(|v| !v.is_object());
            inner.filter(|v| !v.is_array()).map(texts).unwrap_or_default()
        }
        _ => Vec::new(),
    }
}

fn ingredients(value: &Value, f: &mut Found, depth: usize) {
    match value {
        Value::String(s) => lines(s).into_iter().for_each(|l| f.add_ingredient(l)),
        Value::Array(list) if depth < 3 => list.iter().for_each(|v| ingredients(v, f, depth + 1)),
        Value::Object(map) => match map.get("itemListElement").or_else(|| map.get("recipeIngredient")).filter(|_| depth < 3) {
            Some(inner) => ingredients(inner, f, depth + 1),
            None => {
                let said = texts(value);
                if said.is_empty() {
                    f.add_unread(format!("ingredient: {}", short(value)));
                }
                said.into_iter().for_each(|t| f.add_ingredient(t));
            }
        },
        Value::Null => {}
        other => f.add_unread(format!("ingredient: {}", short(other))),
    }
}

fn steps(value: &Value, f: &mut Found, depth: usize) {
    match value {
        Value::String(s) => lines(s).into_iter().for_each(|l| f.add_step(bare_number(l))),
        Value::Null => {}
        // A list alone is no level: lists within lists count with their sections.
        Value::Array(list) if depth <= 2 * MAX_STEPS_NEST => list.iter().for_each(|v| steps(v, f, depth + 1)),
        Value::Object(map) if depth <= 2 * MAX_STEPS_NEST => step_object(map, value, f, depth),
        other => f.add_unread(format!("steps nested more than {MAX_STEPS_NEST} deep, or of no known shape: {}", short(other))),
    }
}

fn step_object(map: &Map<String, Value>, value: &Value, f: &mut Found, depth: usize) {
    let inner = ["itemListElement", "steps", "step", "item"].iter().find_map(|k| map.get(*k)).filter(|v| !v.is_null());
    let own = |key: &str| map.get(key).and_then(Value::as_str).map(lines).unwrap_or_default();
    if let Some(inner) = inner {
        let name = plain(map.get("name").and_then(Value::as_str).unwrap_or_default());
        if is_a(map, "HowToSection") && !name.is_empty() && f.sections.len() < 50 {
            f.sections.push((f.steps.len(), name));
        }
        own("text").into_iter().for_each(|l| f.add_step(l));
        return steps(inner, f, depth + 1);
    }
    let (text, name) = (own("text"), own("name"));
    let said = if text.is_empty() { if name.is_empty() { own("description") } else { name } } else { text };
    if said.is_empty() {
        f.add_unread(format!("step: {}", short(value)));
    }
    said.into_iter().for_each(|l| f.add_step(bare_number(l)));
}

/// "1. Chop" and "Step 2: Fry" without their number.
fn bare_number(line: String) -> String {
    let rest = line.strip_prefix("Step ").unwrap_or(&line);
    let after = rest.trim_start_matches(|c: char| c.is_ascii_digit());
    let marked = after.strip_prefix([')', ':']).or_else(|| after.strip_prefix(". "));
    match marked {
        Some(text) if after.len() < rest.len() && rest.len() - after.len() <= 2 && !text.trim().is_empty() => {
            text.trim().to_string()
        }
        _ => line,
    }
}

/// A value for a person: its first characters.
fn short(value: &Value) -> String {
    let kind = match value {
        Value::Array(list) => return format!("a list of {}", list.len()),
        Value::Object(map) => {
            return format!(
                "an object of {}",
                map.keys().take(5).cloned().collect::<Vec<_>>().join(", ").chars().take(80).collect::<String>()
            );
        }
        other => other.to_string(),
    };
    kind.chars().take(80).collect()
}
