//! Reading the figures of a case: what stands there, or one sentence on why it is none.

use serde_json::Value;
use std::collections::BTreeMap;

/// The input of a case.
pub(super) struct Fields<'v>(pub &'v Value);

impl<'v> Fields<'v> {
    /// What stands under `key`.
    pub fn get(&self, key: &str) -> Result<&'v Value, String> {
        self.get_any(&[key])
    }

    /// What stands under the first of `keys` that is there.
    pub fn get_any(&self, keys: &[&str]) -> Result<&'v Value, String> {
        self.find(keys).ok_or_else(|| format!("the input has no {}", keys[0]))
    }

    /// The same, where it may be missing.
    pub fn find(&self, keys: &[&str]) -> Option<&'v Value> {
        keys.iter().find_map(|k| self.0.get(k)).filter(|v| !v.is_null())
    }
}

/// A number, or a truth value as 1 and 0.
pub(super) fn number(value: &Value) -> Result<f64, String> {
    match value {
        Value::Bool(b) => Ok(f64::from(u8::from(*b))),
        _ => value.as_f64().filter(|n| n.is_finite()).ok_or_else(|| format!("{} is no number", brief(value))),
    }
}

/// A list of numbers, or a map to numbers in the order of its keys.
pub(super) fn numbers(value: &Value) -> Result<Vec<f64>, String> {
    match value {
        Value::Array(list) => list.iter().map(number).collect(),
        Value::Object(map) => map.values().map(number).collect(),
        other => Err(format!("{} is no list of numbers", brief(other))),
    }
}

/// The number in a cell that may be blank.
pub(super) fn numbers_or_nothing(cell: &Value) -> Result<Vec<f64>, String> {
    if cell.is_null() { Ok(Vec::new()) } else { number(cell).map(|n| vec![n]) }
}

/// Orders of diversity: numbers of 0 or more and "inf".
pub(super) fn orders(value: &Value) -> Result<Vec<f64>, String> {
    let one = |v: &Value| match v.as_str().map(str::to_ascii_lowercase).as_deref() {
        Some("inf" | "infinity" | "+inf") => Ok(f64::INFINITY),
        _ => number(v).and_then(|q| if q >= 0.0 { Ok(q) } else { Err(format!("the order {q} is below 0")) }),
    };
    match value {
        Value::Array(list) => list.iter().map(one).collect(),
        single => one(single).map(|q| vec![q]),
    }
}

/// A set of names with grades over 0 and at most 1.
pub(super) struct Named(pub Vec<(String, f64)>);

impl Named {
    /// A name; a list of names, of `[name, grade]` or of `{value, grade}`; a map from name to grade; null: nothing.
    pub fn of(value: &Value) -> Result<Named, String> {
        let mut set = Vec::new();
        match value {
            Value::Null => {}
            Value::String(name) => set.push((name.clone(), 1.0)),
            Value::Array(list) => {
                for one in list {
                    set.push(match one {
                        Value::String(name) => (name.clone(), 1.0),
                        Value::Array(pair) if pair.len() == 2 => (text(&pair[0])?, number(&pair[1])?),
                        Value::Object(_) => {
                            let fields = Fields(one);
                            let grade = fields.find(&["grade", "weight"]).map_or(Ok(1.0), number)?;
                            (text(fields.get_any(&["value", "name", "tag"])?)?, grade)
                        }
                        other => return Err(format!("{} is no name", brief(other))),
                    });
                }
            }
            Value::Object(map) if map.keys().all(|k| ["main", "accent", "accents"].contains(&k.as_str())) && !map.is_empty() => {
                for (key, value) in map {
                    let grade = if key == "main" { 1.0 } else { 0.5 };
                    set.extend(Named::of(value)?.0.into_iter().map(|(name, g)| (name, g * grade)));
                }
            }
            Value::Object(map) => {
                for (name, grade) in map {
                    set.push((name.clone(), if grade.is_null() { 0.0 } else { number(grade)? }));
                }
            }
            other => return Err(format!("{} is no set of names", brief(other))),
        }
        if let Some((name, grade)) = set.iter().find(|(_, g)| !(0.0..=1.0).contains(g)) {
            return Err(format!("the grade of {} is {grade}; grades lie from 0 to 1", brief(&Value::String(name.clone()))));
        }
        // A name twice counts once, at its highest; grade 0 is not there.
        let mut once: Vec<(String, f64)> = Vec::new();
        for (name, grade) in set.into_iter().filter(|(_, g)| *g > 0.0) {
            match once.iter_mut().find(|(n, _)| *n == name) {
                Some((_, g)) => *g = grade.max(*g),
                None => once.push((name, grade)),
            }
        }
        Ok(Named(once))
    }

    /// A table of partial likeness: `[[name, name, likeness]]`, or a map from name to a map from name to likeness.
    pub fn table(value: Option<&Value>) -> Result<BTreeMap<(String, String), f64>, String> {
        let mut table = BTreeMap::new();
        let mut put = |a: String, b: String, alike: f64| {
            if !(0.0..=1.0).contains(&alike) {
                return Err(format!("a partial likeness is {alike}; they lie from 0 to 1"));
            }
            table.insert((a.clone(), b.clone()), alike);
            table.insert((b, a), alike);
            Ok(())
        };
        match value {
            None => {}
            Some(Value::Array(lines)) => {
                for line in lines {
                    match line.as_array().map(Vec::as_slice) {
                        Some([a, b, alike]) => put(text(a)?, text(b)?, number(alike)?)?,
                        _ => return Err("a line of the partial table is no [name, name, likeness]".into()),
                    }
                }
            }
            Some(Value::Object(map)) => {
                for (a, row) in map {
                    let row = row.as_object().ok_or("a row of the partial table is no map from name to likeness")?;
                    for (b, alike) in row {
                        put(a.clone(), b.clone(), number(alike)?)?;
                    }
                }
            }
            Some(_) => return Err("the partial table is neither a list nor a map".into()),
        }
        Ok(table)
    }
}

fn text(value: &Value) -> Result<String, String> {
    value.as_str().map(str::to_string).ok_or_else(|| format!("{} is no name", brief(value)))
}

/// What stands there, on one line and short.
pub(super) fn brief(value: &Value) -> String {
    let mut said: String = value.to_string().chars().take(40).collect();
    if said.chars().count() == 40 {
        said.push_str("...");
    }
    said
}
