//! `tranche runsheet`: when each step of a day's cooking is done.

use super::{
    Answer, EXIT_GOOD, EXIT_IMPOSSIBLE, Failure, Manner, json, list::sheet_text, misused, plan::read_plan, text::sentence,
};
use crate::{
    lists::Section,
    quantity::{DayNo, read_date, read_time},
    rotation::{MAX_COOKS, Rotation},
    runsheet::{Line, Place, Proposal, Refusal, RunSheet, Wish, clock, prep_ahead, run_sheet, run_sheet_page},
    timeline::Onlooker,
};
use serde_json::{Value, json};
use std::{
    path::PathBuf,
    time::{Duration, Instant},
};

/// What is asked for.
#[derive(clap::Args)]
pub(super) struct RunSheetTask {
    /// The rotation; "-" is standard input
    file: PathBuf,
    /// The day: a weekday, a date such as 2026-12-09, or its number in the plan
    #[arg(long, value_name = "D")]
    day: String,
    /// Nothing begins before this time, HH:MM; without it the kitchen's own hour
    #[arg(long, value_name = "HH:MM")]
    start: Option<String>,
    /// So many cooks, in place of the kitchen's
    #[arg(long, value_name = "N")]
    cooks: Option<u8>,
    /// Propose what may be done on an earlier day, with what it saves
    #[arg(long)]
    ahead: bool,
    /// Seconds for the search
    #[arg(long, value_name = "SECONDS", default_value_t = 20.0)]
    limit: f64,
}

/// The clock that the search itself may not have.
struct Deadline(Instant);

impl Onlooker for Deadline {
    fn stop(&mut self) -> bool {
        Instant::now() >= self.0
    }
}

/// The day of a plan that is meant: a weekday or the beginning of one, a date, or a number.
pub(super) fn read_day(r: &Rotation, text: &str) -> Result<DayNo, Failure> {
    let asked = text.trim().to_lowercase();
    let days: Vec<DayNo> = r.day_numbers().collect();
    let known = || days.iter().map(|d| format!("{} {}", r.weekday(*d), r.date(*d))).collect::<Vec<_>>().join(", ");
    let by_number = asked.strip_prefix("day ").unwrap_or(&asked).parse::<i16>().ok().map(DayNo);
    let matching: Vec<DayNo> = if let Some(day) = by_number {
        days.iter().copied().filter(|d| *d == day).collect()
    } else if asked.starts_with(|c: char| c.is_ascii_digit()) {
        let date = read_date(&asked).map_err(misused)?;
        days.iter().copied().filter(|d| r.date(*d) == date).collect()
    } else {
        let named = |d: &DayNo| {
            let (weekday, name) = (r.weekday(*d).to_lowercase(), r.day_name(*d).to_lowercase());
            name == asked || asked.len() >= 3 && weekday.starts_with(&asked)
        };
        days.iter().copied().filter(named).collect()
    };
    match matching.as_slice() {
        [one] => Ok(*one),
        [] => Err(misused(format!("the plan has no day \"{}\"; it has {}", brief(text), known()))),
        several => {
            let dates: Vec<String> = several.iter().map(|d| r.date(*d).to_string()).collect();
            Err(misused(format!("the plan has more than one {}; name it by its date: {}", brief(text), dates.join(", "))))
        }
    }
}

fn brief(text: &str) -> String {
    text.chars().filter(|c| !c.is_control()).take(40).collect()
}

pub(super) fn runsheet(task: &RunSheetTask, manner: Manner<'_>) -> Result<Answer, Failure> {
    if !(0.0..=1_000_000.0).contains(&task.limit) {
        return Err(misused("--limit takes seconds from 0 to 1000000".into()));
    }
    if task.cooks.is_some_and(|n| !(1..=MAX_COOKS).contains(&n)) {
        return Err(misused(format!("--cooks takes 1 to {MAX_COOKS}")));
    }
    let start = task.start.as_deref().map(read_time).transpose().map_err(misused)?;
    let r = read_plan(&task.file)?;
    let day = read_day(&r, &task.day)?;
    let wish =
        Wish { not_before: start.map(|t| i64::from(t.hour()) * 60 + i64::from(t.minute())), cooks: task.cooks, pace: None };
    let mut deadline = Deadline(Instant::now() + Duration::from_secs_f64(task.limit));
    match run_sheet(&r, day, &wish, &mut deadline) {
        Ok(sheet) => {
            let ahead = task.ahead.then(|| prep_ahead(&r, day, &mut deadline));
            let text = if manner.json {
                let mut value = as_json(&r, &sheet);
                if let Some(ahead) = &ahead {
                    value["ahead"] = ahead.iter().map(|p| proposal_json(&r, p)).collect();
                }
                json::text(&value)
            } else {
                let mut page = run_sheet_page(&r, &sheet, manner.system);
                page.sections.extend(ahead.iter().map(|a| ahead_section(a)));
                sheet_text(&page)
            };
            Ok(Answer { text, code: EXIT_GOOD })
        }
        Err(refusal) => Ok(refused(&r, day, &refusal, manner)),
    }
}

fn ahead_section(proposals: &[Proposal]) -> Section {
    let mut section = Section { heading: "On an earlier day".into(), ..Section::default() };
    if proposals.is_empty() {
        section.lead.push("Nothing that would save five minutes.".into());
    }
    section.notes = proposals.iter().map(Proposal::says).collect();
    section
}

fn proposal_json(r: &Rotation, p: &Proposal) -> Value {
    json!({
        "words": p.words,
        "on": day_json(r, p.on),
        "saves_hands_minutes": p.saves_hands,
        "saves_oven_minutes": p.saves_oven,
        "later_start_minutes": p.later_start,
        "cost": p.cost,
    })
}

fn refused(r: &Rotation, day: DayNo, refusal: &Refusal, manner: Manner<'_>) -> Answer {
    let code = if refusal.nothing { EXIT_GOOD } else { EXIT_IMPOSSIBLE };
    let text = if manner.json {
        json::text(&json!({
            "day": day_json(r, day),
            "status": if refusal.nothing { "nothing" } else if refusal.causes.is_empty() { "unknown" } else { "impossible" },
            "reason": refusal.sentence,
            "causes": refusal.causes,
            "advice": refusal.advice,
            "earliest": refusal.earliest.map(clock),
        }))
    } else {
        let head = if refusal.nothing { "" } else { "Impossible: " };
        let mut out = format!("{head}{}\n", sentence(&refusal.sentence));
        refusal.advice.iter().for_each(|a| out.push_str(&format!("  - {}\n", sentence(a))));
        out
    };
    Answer { text, code }
}

fn day_json(r: &Rotation, day: DayNo) -> Value {
    json!({ "day": day.0, "date": r.date(day).to_string(), "weekday": r.weekday(day) })
}

fn as_json(r: &Rotation, sheet: &RunSheet) -> Value {
    let s = &sheet.summary;
    json!({
        "day": day_json(r, sheet.day),
        "status": sheet.proof.word(),
        "meals": sheet.meals.iter().map(|m| json!({ "meal": m.name, "at": clock(m.at), "at_minute": m.at, "guessed": m.guessed })).collect::<Vec<_>>(),
        "kitchen": {
            "cooks": sheet.kitchen.cooks, "rings": sheet.kitchen.rings, "shelves": sheet.kitchen.shelves, "fan": sheet.kitchen.fan, "pace": sheet.kitchen.pace,
        },
        "lines": sheet.lines.iter().map(line_json).collect::<Vec<_>>(),
        "start": clock(s.start),
        "start_minute": s.start,
        "span_minutes": s.span,
        "hands_minutes": s.hands_minutes,
        "oven_minutes": s.oven_minutes,
        "chain": s.chain,
        "binds": s.binds.iter().map(|(what, minutes)| json!({ "what": what, "minutes": minutes })).collect::<Vec<_>>(),
        "free": s.free.map(|(from, to)| json!({ "from": clock(from), "to": clock(to), "minutes": to - from })),
        "says": s.sentences,
        "later": sheet.later,
        "nodes": sheet.nodes,
    })
}

fn line_json(l: &Line) -> Value {
    json!({
        "id": l.id,
        "kind": l.kind.word(),
        "from": clock(l.from),
        "to": clock(l.to),
        "from_minute": l.from,
        "minutes": l.minutes(),
        "hands": l.hands,
        "cook": l.cook,
        "place": place_json(&l.place),
        "what": l.what,
        "dish": l.dish,
        "batch": l.batch.map(|b| b.0),
        "steps": l.steps.iter().map(|s| json!({ "batch": s.batch.0, "step": s.step })).collect::<Vec<_>>(),
        "companions": l.companions.iter().map(|(name, a)| json!({ "name": name, "amount": a.as_f64(), "measure": format!("{:?}", a.measure) })).collect::<Vec<_>>(),
        "portions": l.portions.iter().map(|(name, p)| json!({ "name": name, "grams": p.get(), "state": format!("{:?}", p.state()) })).collect::<Vec<_>>(),
        "cautions": l.cautions.iter().map(|c| json!({ "text": c.text, "source": c.source })).collect::<Vec<_>>(),
        "note": l.note,
    })
}

fn place_json(place: &Place) -> Value {
    match place {
        Place::Bench => json!({ "at": "bench" }),
        Place::Ring(n) => json!({ "at": "ring", "ring": n }),
        Place::Fridge => json!({ "at": "fridge" }),
        Place::Waiting => json!({ "at": "waiting" }),
        Place::Table => json!({ "at": "table" }),
        Place::Oven { set_to, celsius, fan, shelves } => {
            json!({ "at": "oven", "set_to_c": set_to, "without_fan_c": celsius, "fan": fan, "shelves": shelves })
        }
    }
}
