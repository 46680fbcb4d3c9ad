//! The prep list in words.

use super::{Section, Sheet};
use crate::{
    lists::{PrepDay, PrepTask},
    quantity::{System, write_grams},
    rotation::{Rotation, capital},
};

/// The prep list as a page, a section a day.
pub fn prep_sheet(rotation: &Rotation, days: &[PrepDay], system: System) -> Sheet {
    let mut sheet = Sheet::of(rotation, "Prep list");
    sheet.sections = days.iter().map(|d| day(rotation, d, system)).collect();
    if days.is_empty() {
        let mut section = Section::default();
        section.lead.push("Nothing is planned yet.".into());
        sheet.sections.push(section);
    }
    sheet
}

fn day(rotation: &Rotation, day: &PrepDay, system: System) -> Section {
    let cuts = day.cuts.iter().map(|c| {
        let form = c.form.map_or("portion", |f| f.word());
        let size = c.size.map(|s| format!(", {}", s.said(system))).unwrap_or_default();
        let grams = write_grams(c.portion.get(), system);
        let early = c.not_before.filter(|d| *d < day.day).map(|d| from(rotation, d)).unwrap_or_default();
        [format!("{}: {form}{size}", capital(&c.part_name)), grams, c.dish.clone(), early]
    });
    let tasks = day.tasks.iter().map(|t| task(rotation, t, system));
    let head = ["do", "how much", "for", "ahead"];
    let mut section = Section::headed(rotation.day_name(day.day)).with_table(head, &[1], cuts.chain(tasks).collect());
    section.notes = day
        .ahead
        .iter()
        .map(|a| match a.wanted {
            Some(wanted) => format!("Made today for {}: {}.", rotation.day_name(wanted), a.dish),
            None => format!("Put by today: {}.", a.dish),
        })
        .collect();
    section
}

fn from(rotation: &Rotation, day: crate::quantity::DayNo) -> String {
    format!("from {} on", rotation.day_name(day))
}

fn task(rotation: &Rotation, task: &PrepTask, system: System) -> [String; 4] {
    let shares: Vec<String> = match task.shares.as_slice() {
        [only] => vec![only.dish.clone()],
        many => many.iter().map(|s| format!("{} {}", s.dish, s.amount.said(system))).collect(),
    };
    let ahead = match (task.with, task.may_be_done) {
        (Some(with), _) => format!("with {}'s", rotation.day_name(with)),
        (None, Some(first)) => from(rotation, first),
        (None, None) => String::new(),
    };
    [format!("{} {}", capital(task.work), task.name), task.amount.said(system), shares.join(", "), ahead]
}
