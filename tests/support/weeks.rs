//! Reading the worked weeks and asking what is said of them.
#![allow(dead_code)]

use std::path::Path;
use tranche::{
    judge::{Code, Severity, judge},
    quantity::DayNo,
    rotation::{BatchId, Edit, MealtimeId, Rotation, Slot, apply},
    store::read_rotation,
};

/// Supper on this day; every file numbers it 1.
pub fn supper(day: i16) -> Slot {
    Slot { day: DayNo(day), mealtime: MealtimeId(1) }
}

/// Lunch on this day; every file numbers it 2.
pub fn lunch(day: i16) -> Slot {
    Slot { day: DayNo(day), mealtime: MealtimeId(2) }
}

/// The rotation in `tests/data/NAME.rotation.ron`.
pub fn week(name: &str) -> Rotation {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/data/{name}.rotation.ron"));
    read_rotation(&path).unwrap_or_else(|e| panic!("{e}")).rotation
}

/// The batch that makes this dish.
pub fn batch(plan: &Rotation, dish: &str) -> BatchId {
    plan.batches.iter().find(|b| b.dish.as_str() == dish).unwrap_or_else(|| panic!("no batch of {dish}")).id
}

/// The plan after these edits.
pub fn done(plan: &Rotation, edits: &[Edit]) -> Rotation {
    edits.iter().fold(plan.clone(), |plan, edit| apply(&plan, edit).unwrap_or_else(|e| panic!("{e}")).rotation)
}

/// Everything of one severity that speaks: its code, and at which meal as (day, mealtime).
pub fn spoken(plan: &Rotation, severity: Severity) -> Vec<(Code, Option<Slot>)> {
    let mut found: Vec<_> =
        judge(plan).findings.iter().filter(|f| f.severity == severity && f.speaks()).map(|f| (f.code, f.meal)).collect();
    found.sort();
    found
}

/// The list in order.
pub fn sorted<T: Ord>(mut list: Vec<T>) -> Vec<T> {
    list.sort();
    list
}

/// The sentences of all findings of this code, a line each.
pub fn text_of(plan: &Rotation, code: Code) -> String {
    let texts: Vec<String> =
        judge(plan).findings.iter().filter(|f| f.code == code).map(|f| f.text.replace('\u{a0}', " ")).collect();
    texts.join("\n")
}
