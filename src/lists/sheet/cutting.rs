//! The cut list in words.

use super::{Section, Sheet, mass};
use crate::{
    judge::ShareUse,
    lists::{CutDay, CutLine, CutList, Into, Rest},
    quantity::{System, write_grams, write_range, write_units},
    rotation::{Rotation, capital},
};

/// The cut list as a page: day by day in the order of the knife, what goes back, what is trimmed, what each part comes to.
pub fn cut_sheet(rotation: &Rotation, list: &CutList, system: System) -> Sheet {
    let mut sheet = Sheet::of(rotation, "Cut list");
    let mut days: Vec<Section> = list.days.iter().map(|d| day(rotation, list, d, system)).collect();
    match days.first_mut() {
        Some(first) => first.lead = list.cautions.clone(),
        None => {
            let mut empty = Section::headed("Nothing is cut yet");
            empty.lead.push("No dish draws on the piece.".into());
            days.push(empty);
        }
    }
    sheet.sections.extend(days);
    let trim = list
        .trim
        .iter()
        .map(|t| [t.name.clone(), write_grams(t.grams.get(), system), t.home.word().into(), t.home.advice().into()]);
    sheet.sections.push(Section::headed("Trim").with_table(["what", "as bought", "to", "how"], &[1], trim.collect()));
    let parts = list.parts.iter().map(|p| {
        let left = write_grams(u32::try_from(p.left.unsigned_abs()).unwrap_or(u32::MAX), system);
        let left = if p.left < 0 { format!("{left} too little") } else { left };
        [p.name.clone(), mass(p.usable, system), write_grams(p.cut, system), left]
    });
    sheet.sections.push(Section::headed("Parts").with_table(["part", "holds", "cut", "left"], &[1, 2, 3], parts.collect()));
    sheet.sections.retain(|s| s.table.is_some() || !s.lead.is_empty());
    sheet
}

fn day(rotation: &Rotation, list: &CutList, day: &CutDay, system: System) -> Section {
    let rows = day.lines.iter().enumerate().map(|(i, l)| row(rotation, i + 1, l, system)).collect();
    let head = ["", "part", "cut", "grams", "for", "into"];
    let mut section = Section::headed(rotation.day_name(day.day)).with_table(head, &[0, 3], rows);
    for line in &day.lines {
        let how = line.how.as_ref().map(|how| format!("{}: {how}", line.dish));
        section.notes.extend(how.filter(|how| !section.notes.contains(how)));
        if line.too_early {
            let form = line.form.map_or("cut", |f| f.word());
            let first = line.not_before.map(|d| rotation.day_name(d)).unwrap_or_default();
            section.notes.push(format!("{}: {form} would lie too long; cut them no earlier than {first}.", line.dish));
        }
    }
    section.notes.extend(odds(day, system));
    if !day.rests.is_empty() {
        let rests: Vec<String> = day.rests.iter().map(|r| rest(list, r, system)).collect();
        let verb = if list.loose { "Left" } else { "Back in its wrap" };
        section.notes.push(format!("{verb}: {}.", rests.join("; ")));
    } else {
        section.notes.push("Nothing is left uncut.".into());
    }
    section
}

/// What each batch's even cutting leaves, all its parts together.
fn odds(day: &CutDay, system: System) -> Vec<String> {
    let mut of_batches: Vec<(&CutLine, u32, u32)> = Vec::new();
    for line in &day.lines {
        let Some(odds) = &line.odds else { continue };
        match of_batches.iter_mut().find(|b| b.0.batch == line.batch) {
            Some(batch) => (batch.1, batch.2) = (batch.1 + odds.least, batch.2 + odds.most),
            None => of_batches.push((line, odds.least, odds.most)),
        }
    }
    let said = |(line, least, most): &(&CutLine, u32, u32)| {
        let home = line.odds.as_ref().and_then(|o| o.into.as_ref());
        let home = home.map_or("they stay with the even ones".into(), |d| format!("they are welcome in {d}"));
        format!("{}: about {} of odd ends; {home}.", line.dish, write_range(*least, *most, system))
    };
    of_batches.iter().filter(|b| b.2 > 0).map(said).collect()
}

fn row(rotation: &Rotation, number: usize, line: &CutLine, system: System) -> [String; 6] {
    let mut cut = line.form.map_or("as it comes", |f| f.word()).to_string();
    if let Some(size) = line.size {
        cut = format!("{cut}, {}", size.said(system));
    }
    let mut grams = mass(line.portion, system);
    if let Some((count, word)) = &line.count {
        grams = format!("{grams} ({})", write_units(*count as usize, word, &plural(word)));
    }
    let shares: Vec<String> = line
        .shares
        .iter()
        .map(|s| {
            let used = match s.used {
                ShareUse::Meal(slot) => rotation.slot_name(slot),
                ShareUse::Bank => "to keep".into(),
                ShareUse::Component => "kept for later dishes".into(),
                ShareUse::Unserved => "no meal yet".into(),
            };
            if line.shares.len() > 1 { format!("{used} {}", write_grams(s.grams, system)) } else { used }
        })
        .collect();
    let into = match line.into {
        Into::Making => "the making".into(),
        Into::Jar => "its jar".into(),
        Into::Box { until } => format!("a box until {}", rotation.day_name(until)),
    };
    [number.to_string(), line.part_name.clone(), cut, grams, format!("{}: {}", line.dish, shares.join(", ")), into]
}

fn rest(list: &CutList, rest: &Rest, system: System) -> String {
    let names: Vec<&str> = rest.parts.iter().map(|p| p.1.as_str()).collect();
    let mass = write_grams(rest.grams, system);
    let faces = match (list.loose, rest.faces) {
        (true, _) => String::new(),
        (false, 0) => ", no cut face".into(),
        (false, n) => format!(", {}", write_units(n as usize, "cut face", "cut faces")),
    };
    format!("{} {mass}{faces}", capital(&names.join(" and ")))
}

fn plural(word: &str) -> String {
    match word {
        "leaf" => "leaves".into(),
        "loaf" => "loaves".into(),
        w if w.ends_with("ch") || w.ends_with("sh") || w.ends_with('x') => format!("{w}es"),
        w => format!("{w}s"),
    }
}
