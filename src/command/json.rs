//! What `--json` prints. The keys are stable; DEVELOPERS.md tells them.

use crate::{
    judge::{Balance, Finding, KeepingLine, KeepingState, Mend, RunOf, Variety},
    quantity::Portion,
    rotation::Rotation,
};
use serde_json::{Map, Value, json};

/// A value as indented text with an end of line.
pub(super) fn text(value: &Value) -> String {
    // Pretty printing to a string fails only for maps with keys that are no text; ours are words.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}

/// `number` to three decimals; nothing for what nobody can say.
pub(super) fn rounded(number: Option<f64>) -> Value {
    number.filter(|n| n.is_finite()).map_or(Value::Null, |n| json!((n * 1_000.0).round() / 1_000.0))
}

pub(super) fn state_word(portion: Portion) -> &'static str {
    match portion {
        Portion::Prepared(_) => "Prepared",
        Portion::Cooked(_) => "Cooked",
    }
}

pub(super) fn balance(b: &Balance) -> Value {
    let parts = b.parts.iter().map(|p| json!({ "name": p.name, "usable_g": p.usable.get(), "allotted_g": p.drawn }));
    json!({
        "as_bought_g": b.as_bought,
        "trim_g": b.trim,
        "rotten_g": b.rotten,
        "usable_g": b.usable,
        "allotted_g": b.allotted,
        "banked_g": b.banked,
        "unallocated_g": b.unallocated,
        "parts": parts.collect::<Vec<_>>(),
    })
}

/// One object a serving, in the order of time.
pub(super) fn meals(r: &Rotation) -> Value {
    super::report::servings(r)
        .map(|s| {
            json!({
                "day": s.slot.day.0,
                "date": r.date(s.slot.day).to_string(),
                "weekday": r.weekday(s.slot.day),
                "mealtime": r.mealtime_name(s.slot.mealtime),
                "dish": s.dish.name,
                "eaters": s.eaters,
                "grams": s.portion.get(),
                "state": state_word(s.portion),
                "cooked_g": s.cooked,
            })
        })
        .collect()
}

pub(super) fn keeping(r: &Rotation, lines: &[KeepingLine]) -> Value {
    lines
        .iter()
        .map(|l| {
            let (state, part, batch) = match &l.state {
                KeepingState::Raw(part) => ("raw", Some(part.as_str()), None),
                KeepingState::Made(id) => ("made", None, Some(id.0)),
                KeepingState::Cooked(id) => ("cooked", None, Some(id.0)),
                KeepingState::CookedWhole => ("cooked-whole", None, None),
            };
            let mut line = Map::new();
            line.insert("what".into(), json!(l.what));
            line.insert("state".into(), json!(state));
            line.extend(part.map(|p| ("part".into(), json!(p))));
            line.extend(batch.map(|b| ("batch".into(), json!(b))));
            line.insert("since".into(), json!(l.since.0));
            line.insert("since_date".into(), json!(r.date(l.since).to_string()));
            line.insert("limit_days".into(), json!(l.limit.0));
            line.insert("last_day".into(), json!(l.last_day.0));
            line.insert("last_date".into(), json!(r.date(l.last_day).to_string()));
            line.insert("last_use".into(), json!(l.last_use.map(|d| d.0)));
            line.insert("because".into(), json!(l.because));
            Value::Object(line)
        })
        .collect()
}

pub(super) fn variety(r: &Rotation, v: &Variety) -> Value {
    let pairs = v.pairs.iter().map(|p| {
        let mut pair = Map::new();
        pair.insert("first".into(), json!(r.slot_name(p.first)));
        pair.insert("second".into(), json!(r.slot_name(p.second)));
        pair.extend(p.eater.map(|e| ("eater".into(), json!(r.household.name(e)))));
        pair.insert("likeness".into(), rounded(p.likeness));
        pair.insert("felt".into(), rounded(p.felt));
        pair.insert("verdict".into(), json!(p.verdict));
        let shared: Vec<&str> = p.shares.iter().filter(|s| s.shared).map(|s| s.words.as_str()).collect();
        pair.insert("shared".into(), json!(shared));
        Value::Object(pair)
    });
    let runs = v.runs.iter().map(|run| {
        let (of, word) = run_words(run.of);
        let eaters: Vec<&str> = run.eaters.iter().map(|e| r.household.name(*e)).collect();
        json!({ "of": of, "word": word, "meal": r.slot_name(run.ends), "eaters": eaters, "inventory": rounded(Some(run.inventory)) })
    });
    json!({
        "pairs": pairs.collect::<Vec<_>>(),
        "runs": runs.collect::<Vec<_>>(),
        "meals": v.distinct.meals,
        "feels_like": rounded(Some(v.distinct.feel_like)),
    })
}

/// What runs, and its word.
pub(super) fn run_words(of: RunOf) -> (&'static str, &'static str) {
    match of {
        RunOf::Texture(t) => ("texture", t.word()),
        RunOf::Family(f) => ("family", f.word()),
        RunOf::HotSoft => ("hot-soft", "hot and soft"),
    }
}

pub(super) fn findings(r: &Rotation, findings: &[(&Finding, Vec<Mend>)]) -> Value {
    findings
        .iter()
        .map(|(f, mends)| {
            let mut finding = Map::new();
            finding.insert("severity".into(), json!(f.severity));
            finding.insert("code".into(), json!(f.code.as_str()));
            finding.extend(f.meal.map(|s| ("meal".into(), json!(r.slot_name(s)))));
            finding.extend(f.other.map(|s| ("other".into(), json!(r.slot_name(s)))));
            finding.extend(f.eater.map(|e| ("eater".into(), json!(r.household.name(e)))));
            finding.insert("text".into(), json!(f.text));
            let mends: Vec<Value> = mends.iter().map(|m| json!({ "words": m.words, "cost": m.cost })).collect();
            finding.insert("mends".into(), json!(mends));
            finding.extend(f.overruled.as_ref().map(|reason| ("overruled".into(), json!(reason))));
            Value::Object(finding)
        })
        .collect()
}
