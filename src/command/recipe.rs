//! `tranche read-recipe`: a recipe out of a saved page.

use super::{Answer, EXIT_FAILED, EXIT_GOOD, Failure, Manner, json, lab::line_json, text::Table, text::heading};
use crate::{
    exchange::{Proposed, ReadRecipe, Reasoned, read_bytes_of, read_recipe},
    quantity::{Kitchen, write_amount},
};
use serde_json::{Map, Value, json};
use std::path::Path;

pub(super) fn recipe(path: &Path, manner: Manner<'_>) -> Result<Answer, Failure> {
    let failed = |sentence: String| Failure { sentence, code: EXIT_FAILED };
    let bytes = read_bytes_of(path).map_err(|e| failed(e.to_string()))?;
    let kitchen = manner.system.into();
    let read = read_recipe(&bytes, kitchen).map_err(|e| failed(format!("{} {e}", path.display())))?;
    let text = if manner.json { json::text(&as_json(&read, kitchen)) } else { as_text(&read, kitchen) };
    Ok(Answer { text, code: EXIT_GOOD })
}

fn as_json(r: &ReadRecipe, kitchen: Kitchen) -> Value {
    let profile: Map<String, Value> = axes(&r.proposed)
        .into_iter()
        .filter_map(|(axis, said)| said.map(|s| (axis.to_string(), json!({ "value": s.value, "because": s.because }))))
        .collect();
    let because: Map<String, Value> = r.allergens.iter().map(|(a, line)| (a.word().to_string(), json!(line))).collect();
    json!({
        "name": r.name,
        "source": r.source.word(),
        "yields": r.yields,
        "minutes": { "prep": r.minutes.prep, "cook": r.minutes.cook, "total": r.minutes.total },
        "ingredients": r.ingredients.iter().map(|l| line_json(l, kitchen, None)).collect::<Vec<_>>(),
        "steps": r.steps,
        "sections": r.sections.iter().map(|(at, name)| json!({ "name": name, "first_step": at })).collect::<Vec<_>>(),
        "profile_proposed": profile,
        "allergens_noticed": r.allergens.iter().map(|(a, _)| a.word()).collect::<Vec<_>>(),
        "allergens_because": because,
        "unread": r.unread,
    })
}

/// A value as its word.
fn worded<T: Copy>(said: &Option<Reasoned<T>>, word: fn(T) -> &'static str) -> Option<Reasoned<&'static str>> {
    said.as_ref().map(|r| Reasoned { value: word(r.value), because: r.because.clone() })
}

fn axes(p: &Proposed) -> [(&'static str, Option<Reasoned<&'static str>>); 7] {
    [
        ("texture", worded(&p.texture, |v| v.word())),
        ("family", worded(&p.family, |v| v.word())),
        ("method", worded(&p.method, |v| v.word())),
        ("heat", worded(&p.heat, |v| v.word())),
        ("form", worded(&p.form, |v| v.word())),
        ("starch", worded(&p.starch, |v| v.word())),
        ("protein", worded(&p.protein, |v| v.word())),
    ]
}

fn as_text(r: &ReadRecipe, kitchen: Kitchen) -> String {
    let mut out = String::new();
    heading(&mut out, if r.name.is_empty() { "A recipe without a name" } else { &r.name });
    let mut table = Table::new(&[]);
    if let Some(yields) = &r.yields {
        table.row(["makes".to_string(), yields.clone()]);
    }
    for (what, minutes) in [("to prepare", r.minutes.prep), ("to cook", r.minutes.cook), ("in all", r.minutes.total)] {
        if let Some(m) = minutes {
            table.row([what.to_string(), format!("{m} min")]);
        }
    }
    table.write(&mut out);
    heading(&mut out, "Ingredients");
    let mut table = Table::new(&[0]);
    for l in &r.ingredients {
        let amount = l.amount.map_or_else(String::new, |a| write_amount(a, l.measure, kitchen));
        let sure = if l.because.is_empty() { String::new() } else { format!("guessed: {}", l.because.join("; ")) };
        table.row([amount, l.name.clone(), l.note.clone(), sure]);
    }
    table.write(&mut out);
    heading(&mut out, "Steps");
    let mut table = Table::new(&[0]);
    for (i, step) in r.steps.iter().enumerate() {
        for (_, name) in r.sections.iter().filter(|(at, _)| *at == i) {
            table.row([String::new(), format!("{name}:")]);
        }
        table.row([format!("{}.", i + 1), step.clone()]);
    }
    table.write(&mut out);
    heading(&mut out, "How it may eat (proposed from its words; look it through)");
    let mut table = Table::new(&[]);
    for (axis, said) in axes(&r.proposed) {
        let (value, because) = said.map_or_else(|| ("not known", String::new()), |s| (s.value, s.because));
        table.row([axis.to_string(), value.to_string(), because]);
    }
    table.write(&mut out);
    heading(&mut out, "Allergens noticed (read every label: there may be others)");
    let mut table = Table::new(&[]);
    for (allergen, line) in &r.allergens {
        table.row([allergen.word().to_string(), line.clone()]);
    }
    table.write(&mut out);
    if !r.unread.is_empty() {
        heading(&mut out, "Not read");
        let mut table = Table::new(&[]);
        r.unread.iter().for_each(|u| table.row([u.clone()]));
        table.write(&mut out);
    }
    out
}
