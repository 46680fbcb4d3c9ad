//! What `--json` prints. The keys are stable; DEVELOPERS.md tells them.

use crate::{
    judge::{
        Balance, BarOf, Cooling, Edge, Finding, Helping, KeepingLine, KeepingState, KeptAs, Mend, Plated, RunOf, Variety,
        clock_bars, packs_left, table_of_eaters,
    },
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
        "given_away_g": b.given_away,
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

/// One object a place at the table, in the order of time and of the household.
pub(super) fn eaters(r: &Rotation) -> Value {
    let helping = |h: &Helping| {
        let mut said = Map::new();
        said.insert("batch".into(), json!(h.batch.0));
        said.insert("dish".into(), json!(h.dish));
        let (what, twin) = match h.what {
            Plated::Dish => ("dish", None),
            Plated::Twin(name) => ("twin", Some(name)),
            Plated::Corner(name) => ("corner", Some(name)),
        };
        said.insert("what".into(), json!(what));
        said.extend(twin.map(|t| ("twin".into(), json!(t))));
        said.insert("grams".into(), json!(h.portion.get()));
        said.insert("state".into(), json!(state_word(h.portion)));
        said.extend(h.cooked.map(|g| ("cooked_g".into(), json!(g.get()))));
        said.extend(h.count.map(|(n, unit)| ("count".into(), json!({ "number": n, "of": unit }))));
        said.insert("boxed".into(), json!(h.boxed));
        said.insert("why".into(), json!(h.why));
        Value::Object(said)
    };
    table_of_eaters(r)
        .iter()
        .map(|s| {
            json!({
                "meal": r.slot_name(s.slot),
                "day": s.slot.day.0,
                "eater": s.name,
                "sits": s.sits,
                "helpings": s.helpings.iter().map(helping).collect::<Vec<_>>(),
            })
        })
        .collect()
}

/// Every clock as a bar.
pub(super) fn clocks(r: &Rotation) -> Value {
    let edge = |e: Edge| json!({ "day": e.day.0, "date": r.date(e.day).to_string(), "at": e.at.map(clock_time) });
    clock_bars(r)
        .iter()
        .map(|b| {
            let steps = b.steps.iter().filter(|_| b.state != KeptAs::Companion);
            let steps = steps.map(|(e, left)| json!({ "from": edge(*e), "grams": left.get(), "state": state_word(*left) }));
            let mut bar = Map::new();
            bar.insert("what".into(), json!(b.what));
            let (part, batch, pack) = match &b.of {
                BarOf::Part(part) => (Some(part.as_str()), None, None),
                BarOf::Draw(batch, part) => (Some(part.as_str()), Some(batch.0), None),
                BarOf::Batch(batch) => (None, Some(batch.0), None),
                BarOf::Pack(name) => (None, None, Some(name.as_str())),
            };
            bar.extend(part.map(|p| ("part".into(), json!(p))));
            bar.extend(batch.map(|b| ("batch".into(), json!(b))));
            bar.extend(pack.map(|p| ("pack".into(), json!(p))));
            bar.insert("kept_as".into(), json!(b.state.word()));
            bar.insert("container".into(), json!(b.container));
            bar.insert("from".into(), edge(b.from));
            bar.insert("nice".into(), edge(b.nice));
            bar.insert("safe".into(), edge(b.safe));
            bar.extend(b.tender.map(|t| ("tender".into(), edge(t))));
            bar.insert("gone".into(), b.gone().map_or(Value::Null, edge));
            bar.insert("steps".into(), steps.collect());
            bar.extend(b.frozen.map(|(from, to)| ("frozen".into(), json!({ "from": from.0, "to": to.0 }))));
            bar.extend(b.frozen_nice.map(|day| ("frozen_nice".into(), json!(day.0))));
            bar.insert("reheated".into(), json!(b.reheated));
            Value::Object(bar)
        })
        .collect()
}

/// "12:30".
fn clock_time(at: jiff::civil::Time) -> String {
    format!("{:02}:{:02}", at.hour(), at.minute())
}

/// How what is kept back warm cools; the curve in minutes since the heat was turned off and degrees Celsius.
pub(super) fn cooling(all: &[Cooling]) -> Value {
    let tenth = |n: f64| rounded(Some((n * 10.0).round() / 10.0));
    all.iter()
        .map(|c| {
            let curve = c.chilled.curve.iter().map(|p| json!([tenth(p.minutes), tenth(p.warmest_c), tenth(p.mean_c)]));
            let stages = c.chilled.stages.iter().map(|s| {
                json!({ "to_c": s.stage.to_c, "within_min": s.stage.within, "took_min": s.took.map(tenth), "passes": s.passes() })
            });
            let stays = c.question.stays.iter().map(|s| {
                let minutes = Some(s.minutes).filter(|m| *m > 0.0);
                json!({ "place": s.place.words(), "minutes": minutes, "stirred": s.stirred })
            });
            json!({
                "batch": c.batch.map(|b| b.0),
                "what": c.what,
                "day": c.day.0,
                "litres": rounded(Some(c.litres)),
                "food": c.question.food.name,
                "vessel": c.question.vessel.one,
                "count": c.question.count,
                "depth_cm": tenth(c.chilled.depth_cm),
                "lid": c.question.lid,
                "stays": stays.collect::<Vec<_>>(),
                "rule": c.question.rule.source,
                "passes": c.passes(),
                "verdict": c.chilled.verdict(),
                "stages": stages.collect::<Vec<_>>(),
                "curve": curve.collect::<Vec<_>>(),
                "ways": c.ways.iter().map(|w| w.words.as_str()).collect::<Vec<_>>(),
                "caveat": c.caveat(),
            })
        })
        .collect()
}

/// Packs that are opened and not used up.
pub(super) fn packs(r: &Rotation) -> Value {
    packs_left(r)
        .iter()
        .map(|p| {
            json!({
                "name": p.name,
                "measure": p.measure,
                "pack": p.pack,
                "word": p.word,
                "left": rounded(Some(p.left)),
                "opened": p.opened.0,
                "last_use": p.last_use.0,
                "use_by": p.use_by.0,
                "use_by_date": r.date(p.use_by).to_string(),
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
