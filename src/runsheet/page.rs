//! The run sheet in words: for a terminal, and at arm's length on paper.

use super::{Line, LineKind, Place, Refusal, RunSheet};
use crate::{
    lists::{Section, Sheet, SheetTable},
    quantity::{DayNo, System, Temperature, said_in, write_grams},
    rotation::{Rotation, capital},
};

/// A minute of the day as the clock shows it; past midnight it begins again.
pub fn clock(minute: i64) -> String {
    let of_day = minute.rem_euclid(1_440);
    format!("{:02}:{:02}", of_day / 60, of_day % 60)
}

/// The sheet as a page, at arm's length type.
pub fn run_sheet_page(rotation: &Rotation, sheet: &RunSheet, system: System) -> Sheet {
    let meals: Vec<String> = sheet.meals.iter().map(|m| format!("{} at {}", m.name, clock(m.at))).collect();
    let title = format!("Run sheet, {}", rotation.day_name(sheet.day));
    let about = if meals.is_empty() { format!("nothing served; {}", rotation.date(sheet.day)) } else { meals.join("; ") };
    let mut section = Section { lead: sheet.summary.sentences.clone(), ..Section::default() };
    let rows = sheet.lines.iter().map(|l| {
        let hands = match l.cook {
            Some(cook) if sheet.kitchen.cooks > 1 => format!("cook {cook}"),
            Some(_) => "yes".to_string(),
            None => "–".to_string(),
        };
        vec![clock(l.from), clock(l.to), hands, place_words(&l.place, sheet, system), what_words(l, system)]
    });
    section.table = Some(SheetTable {
        head: ["from", "to", "hands", "where", "what"].map(String::from).into(),
        right: &[],
        rows: rows.collect(),
    });
    section.notes = sheet.later.iter().map(|l| format!("On a later day, {l}")).collect();
    let subtitle = format!("{}: {about}. {}.", rotation.heading(), capital(&sheet.kitchen.words()));
    Sheet { title, subtitle, sections: vec![section], at_arms_length: true }
}

/// A page that says why a day has no run sheet.
pub fn refusal_page(rotation: &Rotation, day: DayNo, refusal: &Refusal) -> Sheet {
    let lead = vec![format!("Impossible: {}.", refusal.sentence)];
    let section = Section { lead, notes: refusal.advice.iter().map(|a| format!("{a}.")).collect(), ..Section::default() };
    let title = format!("Run sheet, {}", rotation.day_name(day));
    Sheet { title, subtitle: rotation.heading(), sections: vec![section], at_arms_length: true }
}

/// "ring 2", "oven 180 °C, upper shelf".
pub fn place_words(place: &Place, sheet: &RunSheet, system: System) -> String {
    match place {
        Place::Bench => "bench".into(),
        Place::Ring(n) => format!("ring {n}"),
        Place::Fridge => "fridge".into(),
        Place::Waiting => "waiting".into(),
        Place::Table => "table".into(),
        Place::Oven { set_to, fan, shelves, .. } => {
            let shelf = shelf_words(shelves, sheet.kitchen.shelves);
            format!("oven {}{}{shelf}", heat(*set_to, system), if *fan { " fan" } else { ", no fan" })
        }
    }
}

fn heat(celsius: i64, system: System) -> String {
    let of = Temperature::celsius(celsius as f64);
    match (system, of) {
        (System::Us, Some(t)) => format!("{}\u{a0}°F", (t.in_fahrenheit() / 5.0).round() * 5.0),
        (System::Imperial, Some(t)) => match t.in_gas_marks() {
            Some(mark) => format!("gas {mark}, {celsius}\u{a0}°C"),
            None => format!("{celsius}\u{a0}°C"),
        },
        _ => format!("{celsius}\u{a0}°C"),
    }
}

fn shelf_words(shelves: &[u8], has: u8) -> String {
    let name = |n: u8| match (n, has) {
        (_, 1) => String::new(),
        (1, _) => "upper shelf".to_string(),
        (n, has) if n == has => "lower shelf".to_string(),
        (n, _) => format!("shelf {n}"),
    };
    match shelves {
        [] => String::new(),
        [one] if has > 1 => format!(", {}", name(*one)),
        [_] => String::new(),
        all if all.len() == usize::from(has) && has == 2 => ", both shelves, swap half-way".into(),
        all => format!(", {} shelves, swap half-way", all.len()),
    }
}

fn what_words(line: &Line, system: System) -> String {
    let mut out = line.what.trim_end_matches('.').to_string();
    if line.kind == LineKind::Step {
        out = said_in(&out, system).into_owned();
    }
    let mut amounts: Vec<String> = line.portions.iter().map(|(n, p)| format!("{n} {}", write_grams(p.get(), system))).collect();
    amounts.extend(line.companions.iter().filter(|c| !c.1.is_crumb()).map(|(n, a)| format!("{n} {}", a.said(system))));
    if !amounts.is_empty() {
        out.push_str(&format!(" ({})", amounts.join(", ")));
    }
    out.push('.');
    if let Some(note) = &line.note {
        out.push_str(&format!(" {}.", capital(note)));
    }
    for caution in &line.cautions {
        out.push_str(&format!(" CAREFUL: {}", caution.text));
        if caution.source != "practice" && !caution.source.starts_with("the book") {
            out.push_str(&format!(" [{}]", caution.source));
        }
    }
    out
}
