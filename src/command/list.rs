//! `tranche list`: what is cut, bought, written on boxes and prepared.

use super::{
    Answer, EXIT_GOOD, Failure, Manner, json, misused,
    plan::read_plan,
    text::{Table, heading},
};
use crate::{
    lists::{
        Cupboard, Sheet, box_labels, cut_list, cut_sheet, label_sheet, prep_list, prep_sheet, shopping_list, shopping_sheet,
    },
    rotation::Rotation,
    store::{Places, load_cupboard, read_cupboard},
};
use clap::ValueEnum;
use serde_json::Value;
use std::path::{Path, PathBuf};

#[path = "list_json.rs"]
mod list_json;

/// Which list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum ListSort {
    /// What comes off the piece on which day, in the order of the knife
    Cut,
    /// What to buy, pick and take from the cupboard
    Shopping,
    /// A label for everything that is put away
    Labels,
    /// What is prepared by day, done once for all dishes that want it
    Prep,
}

/// What is in the house.
#[derive(clap::Args)]
pub(super) struct House {
    /// A cupboard file; without it the cupboard that is kept for this kitchen
    #[arg(long, value_name = "CUPBOARD")]
    pub(super) cupboard: Option<PathBuf>,
    /// As if there were nothing in the house
    #[arg(long, conflicts_with = "cupboard")]
    pub(super) empty_cupboard: bool,
}

impl House {
    /// The cupboard that is meant.
    pub(super) fn open(&self) -> Result<Cupboard, Failure> {
        if self.empty_cupboard {
            return Ok(Cupboard::default());
        }
        if let Some(path) = &self.cupboard {
            return Ok(read_cupboard(path)?);
        }
        let Ok(places) = Places::of_this_machine() else { return Ok(Cupboard::default()) };
        let (kept, aside) = load_cupboard(&places);
        if let Some(aside) = aside {
            tracing::warn!("{aside}");
        }
        Ok(kept.unwrap_or_default())
    }
}

pub(super) fn list(file: &Path, sort: ListSort, house: &House, manner: Manner<'_>) -> Result<Answer, Failure> {
    if sort != ListSort::Shopping && (house.cupboard.is_some() || house.empty_cupboard) {
        return Err(misused("only the shopping list looks into the cupboard; leave the option out".into()));
    }
    let r = read_plan(file)?;
    let (sheet, value) = match sort {
        ListSort::Cut => {
            let list = cut_list(&r);
            (cut_sheet(&r, &list, manner.system), list_json::cut(&r, &list))
        }
        ListSort::Shopping => {
            let list = shopping_list(&r, &house.open()?, &manner.shelf.book()?);
            (shopping_sheet(&r, &list, manner.system), list_json::shopping(&r, &list))
        }
        ListSort::Labels => {
            let labels = box_labels(&r);
            (label_sheet(&r, &labels, manner.system), list_json::labels(&r, &labels))
        }
        ListSort::Prep => {
            let days = prep_list(&r);
            (prep_sheet(&r, &days, manner.system), list_json::prep(&r, &days))
        }
    };
    Ok(Answer { text: answer(&sheet, &value, manner), code: EXIT_GOOD })
}

fn answer(sheet: &Sheet, value: &Value, manner: Manner<'_>) -> String {
    if manner.json { json::text(value) } else { sheet_text(sheet) }
}

/// A page for a terminal.
pub(super) fn sheet_text(sheet: &Sheet) -> String {
    let mut out = format!("{}\n{}\n", sheet.title, sheet.subtitle);
    for section in &sheet.sections {
        if section.heading.is_empty() {
            out.push('\n');
        } else {
            heading(&mut out, &section.heading);
        }
        section.lead.iter().for_each(|l| out.push_str(&format!("  {l}\n")));
        if let Some(table) = &section.table {
            let mut text = Table::new(table.right);
            text.row_of(table.head.clone());
            table.rows.iter().for_each(|r| text.row_of(r.clone()));
            text.write(&mut out);
        }
        for (i, card) in section.cards.iter().enumerate() {
            let gap = if i == 0 { "" } else { "\n" };
            out.push_str(&format!("{gap}  {}\n", card.title));
            card.lines.iter().for_each(|l| out.push_str(&format!("    {l}\n")));
        }
        section.notes.iter().for_each(|n| out.push_str(&format!("  {n}\n")));
    }
    out
}

/// A day with its date: the keys that all lists share.
fn day(r: &Rotation, day: crate::quantity::DayNo) -> Value {
    serde_json::json!({ "day": day.0, "date": r.date(day).to_string(), "weekday": r.weekday(day) })
}
