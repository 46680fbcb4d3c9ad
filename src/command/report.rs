//! `tranche report`: a rotation whole.

use super::{
    Answer, Failure, Manner,
    book::{whole_json, write_whole},
    check::{count_words, with_mends, write_findings},
    exit_for,
    home::home,
    json,
    plan::read_plan,
    text::{Table, heading, sentence},
};
use crate::{
    book::Dish,
    judge::{
        Balance, Cooling, Judgement, KeepingLine, Variety, Verdict, cooling::CAVEAT, coolings, judge_at_home, packs_left,
        table_of_eaters,
    },
    quantity::{DayNo, Portion, System, said_in, write_grams, write_units},
    rotation::{Rotation, Slot},
};
use std::{fmt::Write as _, path::Path};

pub(super) fn report(file: &Path, usual: bool, manner: Manner<'_>) -> Result<Answer, Failure> {
    let rotation = read_plan(file)?;
    let book = manner.shelf.book()?;
    let (home, says) = home(usual);
    let judged = judge_at_home(&rotation, &home);
    let mended = with_mends(&rotation, &book, &judged.findings, &home);
    let text = if manner.json {
        json::text(&serde_json::json!({
            "balance": json::balance(&judged.balance),
            "meals": json::meals(&rotation),
            "eaters": json::eaters(&rotation),
            "clocks": json::clocks(&rotation),
            "unopened": whole_json(&rotation.kind),
            "packs": json::packs(&rotation),
            "cooling": json::cooling(&coolings(&rotation)),
            "keeping": json::keeping(&rotation, &judged.keeping),
            "variety": json::variety(&rotation, &judged.variety),
            "findings": json::findings(&rotation, &mended),
        }))
    } else {
        let mut out = whole(&rotation, &judged, manner.system);
        for said in says {
            let _ = writeln!(out, "  {}", sentence(&said));
        }
        heading(&mut out, &format!("Findings: {}", count_words(&judged.findings)));
        write_findings(&mut out, &rotation, &mended, manner.system);
        out
    };
    Ok(Answer { text, code: exit_for(&judged.findings) })
}

/// What one meal takes from one batch.
pub(super) struct Served<'r> {
    pub(super) slot: Slot,
    pub(super) dish: &'r Dish,
    /// Those who eat the piece in it.
    pub(super) eaters: Vec<&'r str>,
    pub(super) portion: Portion,
    /// Cooked grams of it.
    pub(super) cooked: u32,
}

/// Every serving in the order of time.
pub(super) fn servings(r: &Rotation) -> impl Iterator<Item = Served<'_>> {
    let at = |slot: Slot| r.meal(slot).servings.iter().map(move |s| (slot, s));
    r.slots().flat_map(at).filter_map(|(slot, s)| {
        let batch = r.batch(s.batch)?;
        let dish = r.dishes.get(&batch.dish)?;
        let eaters = s.eaten_by(&r.eaters_at(slot), dish);
        Some(Served {
            slot,
            dish,
            eaters: eaters.into_iter().map(|e| r.household.name(e)).collect(),
            portion: s.portion,
            cooked: batch.cooked(s.portion, dish).get(),
        })
    })
}

fn whole(r: &Rotation, judged: &Judgement, system: System) -> String {
    let mut out = String::new();
    let (first, days) = (r.date(DayNo::FIRST), write_units(usize::from(r.days), "day", "days"));
    let eaters = write_units(r.household.eaters.len(), "eater", "eaters");
    let mass = write_grams(r.piece.mass.get(), system);
    let _ = writeln!(
        out,
        "{}\n{}, {mass} as bought; {days} from {} {first}; {eaters}",
        r.heading(),
        crate::rotation::capital(&r.kind.name),
        r.weekday(DayNo::FIRST)
    );
    write_balance(&mut out, &judged.balance, system);
    write_meals(&mut out, r, system);
    write_eaters(&mut out, r, system);
    write_keeping(&mut out, r, &judged.keeping);
    if !r.kind.whole.is_empty() {
        heading(&mut out, &format!("Another {} unopened", r.kind.name));
        write_whole(&mut out, &r.kind);
    }
    write_packs(&mut out, r, system);
    write_cooling(&mut out, r, &coolings(r));
    write_variety(&mut out, r, &judged.variety);
    out
}

fn signed(grams: i64, system: System) -> String {
    let mass = write_grams(u32::try_from(grams.unsigned_abs()).unwrap_or(u32::MAX), system);
    if grams < 0 { format!("-{mass}") } else { mass }
}

fn write_balance(out: &mut String, b: &Balance, system: System) {
    heading(out, "Balance");
    let mut table = Table::new(&[1]);
    for (what, grams) in [
        ("as bought", i64::from(b.as_bought)),
        ("trim", b.trim.into()),
        ("rotten", b.rotten.into()),
        ("usable", b.usable.into()),
        ("in meals", b.allotted.into()),
        ("banked", b.banked.into()),
        ("free", b.unallocated),
    ] {
        table.row([what.into(), signed(grams, system)]);
    }
    table.write(out);
    heading(out, "Parts");
    let mut table = Table::new(&[1, 2, 3]);
    table.row(["part".into(), "usable".into(), "allotted".into(), "free".into()]);
    for p in &b.parts {
        table.row([p.name.clone(), write_grams(p.usable.get(), system), write_grams(p.drawn, system), signed(p.free, system)]);
    }
    table.write(out);
}

fn write_meals(out: &mut String, r: &Rotation, system: System) {
    heading(out, "Meals");
    let mut table = Table::new(&[2]);
    for s in servings(r) {
        let cooked = match s.portion {
            Portion::Prepared(_) if s.dish.cooked => format!("cooked {}", write_grams(s.cooked, system)),
            _ => String::new(),
        };
        table.row([
            r.slot_name(s.slot),
            s.dish.name.clone(),
            write_grams(s.portion.get(), system),
            s.portion.state().word().into(),
            cooked,
            s.eaters.join(", "),
        ]);
    }
    if servings(r).next().is_none() {
        out.push_str("  None is planned yet.\n");
    }
    table.write(out);
}

/// Who eats what: one row a place at the table, the meal said once.
fn write_eaters(out: &mut String, r: &Rotation, system: System) {
    let seats = table_of_eaters(r);
    if seats.is_empty() {
        return;
    }
    heading(out, "Who eats what");
    let mut table = Table::new(&[3]);
    let mut last = None;
    for seat in &seats {
        let meal = if last == Some(seat.slot) { String::new() } else { r.slot_name(seat.slot) };
        last = Some(seat.slot);
        if seat.helpings.is_empty() {
            table.row([meal, seat.name.into(), seat.words(), String::new(), String::new(), String::new()]);
            continue;
        }
        for (i, h) in seat.helpings.iter().enumerate() {
            let (meal, name) = if i == 0 { (meal.clone(), seat.name) } else { (String::new(), "") };
            let grams = if h.portion.is_zero() { String::new() } else { write_grams(h.portion.get(), system) };
            let count = h.count.map(|(n, unit)| format!("{n} {unit}{}", if n == 1 || unit.ends_with('s') { "" } else { "s" }));
            table.row([meal, name.into(), h.words(), grams, count.unwrap_or_default(), h.why.join(", ")]);
        }
    }
    table.write(out);
}

/// What is left of opened packs, where anything is.
fn write_packs(out: &mut String, r: &Rotation, system: System) {
    let left = packs_left(r);
    if left.is_empty() {
        return;
    }
    heading(out, "Opened packs");
    let mut table = Table::new(&[]);
    for pack in &left {
        table.row([
            pack.name.into(),
            said_in(&pack.words(), system).into_owned(),
            format!("opened {}", day(r, pack.opened)),
            format!("use by {}", day(r, pack.use_by)),
        ]);
    }
    table.write(out);
}

/// How what is kept back warm cools, and what to change where it is not cold in time.
fn write_cooling(out: &mut String, r: &Rotation, all: &[Cooling]) {
    if all.is_empty() {
        return;
    }
    heading(out, "Cooling what is kept back");
    for c in all {
        let (vessel, n) = (&c.question.vessel, c.question.count);
        let what = if n == 1 { &vessel.one } else { &vessel.several };
        let (when, litres, deep) = (day(r, c.day), c.litres, c.chilled.depth_cm);
        let _ = writeln!(out, "  {when}, {}: {litres:.1}\u{a0}l in {n} {what}, {deep:.1}\u{a0}cm deep", c.what);
        let _ = writeln!(out, "    {}", c.chilled.verdict());
        for way in &c.ways {
            let _ = writeln!(out, "    Or: {}", way.words);
        }
    }
    let _ = writeln!(out, "  {CAVEAT}");
}

fn write_keeping(out: &mut String, r: &Rotation, lines: &[KeepingLine]) {
    heading(out, "Keeping");
    let mut table = Table::new(&[2]);
    for l in lines {
        let used = l.last_use.map_or("not used".into(), |d| format!("last used {}", day(r, d)));
        table.row([
            l.what.clone(),
            format!("from {}", day(r, l.since)),
            l.limit.to_string(),
            format!("until {}", day(r, l.last_day)),
            used,
            l.because.clone(),
        ]);
    }
    table.write(out);
}

/// The weekday within the window, with the date outside it, where weekdays come twice.
fn day(r: &Rotation, day: DayNo) -> String {
    if (1..=r.days as i16).contains(&day.0) { r.day_name(day) } else { format!("{} {}", r.weekday(day), r.date(day)) }
}

fn write_variety(out: &mut String, r: &Rotation, v: &Variety) {
    heading(out, "Variety");
    let mut table = Table::new(&[1]);
    for p in &v.pairs {
        let who = p.eater.map(|e| format!(" for {}", r.household.name(e))).unwrap_or_default();
        let shared: Vec<&str> = p.shares.iter().filter(|s| s.shared).map(|s| s.words.as_str()).collect();
        let verdict = match p.verdict {
            Verdict::Warn => "too alike",
            Verdict::Caution => "getting alike",
            Verdict::Fine => "fine",
            Verdict::Unknown => "not described",
        };
        table.row([
            format!("{} to {}{who}", r.slot_name(p.first), r.slot_name(p.second)),
            p.likeness.map_or("?".into(), |l| format!("{l:.3}")),
            verdict.into(),
            shared.join(", "),
        ]);
    }
    table.write(out);
    for run in &v.runs {
        let names: Vec<&str> = run.eaters.iter().map(|e| r.household.name(*e)).collect();
        let said = format!("{} runs on until {} for {}", json::run_words(run.of).1, r.slot_name(run.ends), names.join(", "));
        let _ = writeln!(out, "  {}", sentence(&said));
    }
    let d = &v.distinct;
    let _ = writeln!(out, "  {} that feel like {:.1}", write_units(d.meals, "meal", "meals"), d.feel_like);
}
