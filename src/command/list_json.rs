//! The lists as JSON; DEVELOPERS.md tells the keys.

use super::day;
use crate::{
    judge::ShareUse,
    lists::{BoxLabel, CompanionAmount, CutLine, CutList, Errand, Holds, Into, KeptFor, PrepDay, ShoppingList, Warming},
    quantity::Portion,
    rotation::Rotation,
};
use serde_json::{Map, Value, json};

fn grams(portion: Portion) -> Value {
    let state = match portion {
        Portion::Prepared(_) => "Prepared",
        Portion::Cooked(_) => "Cooked",
    };
    json!({ "grams": portion.get(), "state": state })
}

/// An object's fields laid into another.
fn with(mut value: Value, more: Value) -> Value {
    if let (Some(into), Value::Object(more)) = (value.as_object_mut(), more) {
        into.extend(more);
    }
    value
}

fn amount(a: CompanionAmount) -> Value {
    json!((a.as_f64() * 1_000.0).round() / 1_000.0)
}

pub(super) fn cut(r: &Rotation, list: &CutList) -> Value {
    let days = list.days.iter().map(|d| {
        let rests = d.rests.iter().map(|rest| {
            let parts = rest.parts.iter().map(|(id, name, grams)| json!({ "part": id, "name": name, "grams": grams }));
            json!({ "parts": parts.collect::<Vec<_>>(), "grams": rest.grams, "faces": rest.faces })
        });
        let lines: Vec<Value> = d.lines.iter().map(|l| cut_line(r, l)).collect();
        with(day(r, d.day), json!({ "lines": lines, "rests": rests.collect::<Vec<_>>() }))
    });
    let parts = list.parts.iter().map(|p| {
        let (usable, state) = (p.usable.get(), grams(p.usable)["state"].clone());
        json!({ "part": p.part, "name": p.name, "state": state, "usable_g": usable, "cut_g": p.cut, "left_g": p.left })
    });
    let trim = list.trim.iter().map(|t| json!({ "name": t.name, "as_bought_g": t.grams.get(), "to": t.home.word() }));
    json!({
        "days": days.collect::<Vec<_>>(), "parts": parts.collect::<Vec<_>>(), "trim": trim.collect::<Vec<_>>(),
        "cautions": list.cautions, "one_block": !list.loose,
    })
}

fn cut_line(r: &Rotation, l: &CutLine) -> Value {
    let shares = l.shares.iter().map(|s| {
        let used = match s.used {
            ShareUse::Meal(slot) => json!({ "for": "meal", "meal": r.slot_name(slot) }),
            ShareUse::Bank => json!({ "for": "bank" }),
            ShareUse::Component => json!({ "for": "component" }),
            ShareUse::Unserved => json!({ "for": "unserved" }),
        };
        with(used, json!({ "grams": s.grams }))
    });
    let into = match l.into {
        Into::Making => json!({ "into": "making" }),
        Into::Jar => json!({ "into": "jar" }),
        Into::Box { until } => json!({ "into": "box", "until": until.0 }),
    };
    let mut line = Map::new();
    line.insert("batch".into(), json!(l.batch.0));
    line.insert("dish".into(), json!(l.dish));
    line.insert("part".into(), json!(l.part));
    line.insert("part_name".into(), json!(l.part_name));
    line.insert("form".into(), json!(l.form.map(|f| f.word())));
    line.extend(l.size.map(|s| {
        let mm = |tenths: u32| f64::from(tenths) / 10.0;
        ("size_mm".into(), json!([mm(s.least), mm(s.most)]))
    }));
    line.insert("how".into(), json!(l.how));
    line.extend(l.count.as_ref().map(|(n, word)| ("count".into(), json!({ "number": n, "of": word }))));
    line.insert("shares".into(), shares.collect());
    line.insert("not_before".into(), json!(l.not_before.map(|d| d.0)));
    line.insert("too_early".into(), json!(l.too_early));
    line.extend(l.odds.as_ref().map(|o| ("odds".into(), json!({ "least_g": o.least, "most_g": o.most, "into": o.into }))));
    with(with(Value::Object(line), grams(l.portion)), into)
}

fn errand(e: Errand) -> Value {
    json!({ "trip": e.trip.0, "not_before": e.not_before.0, "by": e.by.0 })
}

pub(super) fn shopping(r: &Rotation, list: &ShoppingList) -> Value {
    let lines = list.lines.iter().map(|l| {
        let uses = l.uses.iter().map(|u| {
            json!({
                "batch": u.batch.0, "dish": u.dish, "day": u.day.0, "meal": u.meal.map(|m| r.slot_name(m)),
                "amount": amount(u.amount),
            })
        });
        let packs = l.packs.as_ref().map(|p| json!({ "count": p.count, "size": amount(p.size), "word": p.word }));
        json!({
            "name": l.name, "measure": l.need.measure, "from": l.source.word(), "need": amount(l.need),
            "in_house": amount(l.in_house), "get": amount(l.bought), "packs": packs, "left": amount(l.left),
            "short": amount(l.short), "scraped": amount(l.scraped), "errand": l.errand.map(errand),
            "opened": l.opened.map(|o| json!({ "on": o.on.0, "use_by": o.use_by.0 })),
            "share_over": l.share_over().map(|s| (s * 1_000.0).round() / 1_000.0), "would_use": l.would_use, "uses": uses.collect::<Vec<_>>(),
        })
    });
    let piece = list
        .piece
        .as_ref()
        .map(|p| json!({ "name": p.name, "as_bought_g": p.mass.get(), "from": p.source.word(), "errand": errand(p.errand) }));
    let trips: Vec<Value> = list.trips.iter().map(|t| day(r, *t)).collect();
    let allergens: Vec<&str> = list.allergens.iter().map(|a| a.word()).collect();
    let spoils: Vec<&str> = list.spoils().into_iter().map(|(l, _)| l.name.as_str()).collect();
    json!({ "piece": piece, "trips": trips, "spoils": spoils, "lines": lines.collect::<Vec<_>>(), "allergens": allergens })
}

pub(super) fn labels(r: &Rotation, labels: &[BoxLabel]) -> Value {
    let label = |l: &BoxLabel| {
        let kept_for = match &l.kept_for {
            KeptFor::Meal { slot, eaters } => json!({ "meal": r.slot_name(*slot), "eaters": eaters }),
            KeptFor::Dish { day, name } => json!({ "dish": name, "day": day.0 }),
            KeptFor::Open => Value::Null,
        };
        let holds = match l.holds {
            Holds::Rest => "rest",
            Holds::Cut => "cut",
            Holds::Made => "made",
            Holds::Cooked => "cooked",
            Holds::Jar => "jar",
        };
        let warming = match l.warming {
            Warming::Raw => "raw",
            Warming::Cold => "cold",
            Warming::Once => "once",
            Warming::NotAgain => "not-again",
        };
        let allergens: Vec<&str> = l.allergens.iter().map(|a| a.word()).collect();
        let tender = l.tender.as_ref().map(|(d, names)| json!({ "day": d.0, "eaters": names }));
        let more = json!({
            "what": l.what, "holds": holds, "batch": l.batch.map(|b| b.0), "since": l.since.0, "eat_by": l.eat_by.0,
            "eat_by_date": r.date(l.eat_by).to_string(), "best_by": l.nice_by.map(|d| d.0), "tender": tender,
            "kept_for": kept_for, "allergens": allergens, "warming": warming,
        });
        with(more, grams(l.grams))
    };
    json!({ "labels": labels.iter().map(label).collect::<Vec<_>>() })
}

pub(super) fn prep(r: &Rotation, days: &[PrepDay]) -> Value {
    let one = |d: &PrepDay| {
        let tasks = d.tasks.iter().map(|t| {
            let shares = t.shares.iter().map(|s| json!({ "batch": s.batch.0, "dish": s.dish, "amount": amount(s.amount) }));
            json!({
                "work": t.work, "name": t.name, "measure": t.amount.measure, "amount": amount(t.amount),
                "shares": shares.collect::<Vec<_>>(), "may_be_done": t.may_be_done.map(|d| d.0), "with": t.with.map(|d| d.0),
            })
        });
        let ahead = d.ahead.iter().map(|a| json!({ "batch": a.batch.0, "dish": a.dish, "wanted": a.wanted.map(|w| w.0) }));
        let cuts: Vec<Value> = d.cuts.iter().map(|c| cut_line(r, c)).collect();
        let more = json!({ "cuts": cuts, "tasks": tasks.collect::<Vec<_>>(), "ahead": ahead.collect::<Vec<_>>() });
        with(day(r, d.day), more)
    };
    json!({ "days": days.iter().map(one).collect::<Vec<_>>() })
}
