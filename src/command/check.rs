//! `tranche check`: what there is to say about a rotation.

use super::{Answer, Failure, Manner, exit_for, home::home, json, plan::read_plan, text};
use crate::{
    book::Book,
    judge::{Finding, Home, Mend, Severity, judge_at_home, mends_at_home},
    quantity::{System, said_in},
    rotation::Rotation,
};
use std::{fmt::Write as _, path::Path};

pub(super) fn check(file: &Path, usual: bool, manner: Manner<'_>) -> Result<Answer, Failure> {
    let rotation = read_plan(file)?;
    let book = manner.shelf.book()?;
    let home = home(usual).0;
    let findings = judge_at_home(&rotation, &home).findings;
    let mended = with_mends(&rotation, &book, &findings, &home);
    let text = if manner.json {
        json::text(&serde_json::json!({ "findings": json::findings(&rotation, &mended) }))
    } else {
        let mut out = String::new();
        write_findings(&mut out, &rotation, &mended, manner.system);
        out
    };
    Ok(Answer { text, code: exit_for(&findings) })
}

/// Each finding with its mends; what is overruled needs none.
pub(super) fn with_mends<'f>(
    rotation: &Rotation,
    book: &Book,
    findings: &'f [Finding],
    home: &Home,
) -> Vec<(&'f Finding, Vec<Mend>)> {
    findings.iter().map(|f| (f, if f.speaks() { mends_at_home(rotation, book, f, home) } else { Vec::new() })).collect()
}

/// One paragraph a finding: what, where, and what would mend it.
pub(super) fn write_findings(out: &mut String, rotation: &Rotation, findings: &[(&Finding, Vec<Mend>)], system: System) {
    if findings.is_empty() {
        out.push_str("Nothing to say: all is well.\n");
        return;
    }
    for (f, mends) in findings {
        // Most say the meal themselves.
        let place = f.meal.map(|s| rotation.slot_name(s)).filter(|name| !f.text.contains(name.as_str()));
        let place = place.map(|name| format!("{name}: ")).unwrap_or_default();
        // A writer that is a string cannot fail.
        let _ = match &f.overruled {
            Some(reason) => writeln!(out, "Overruled ({reason}): {place}{}", text::sentence(&said_in(&f.text, system))),
            None => writeln!(out, "{}: {place}{}", f.severity.word(), text::sentence(&said_in(&f.text, system))),
        };
        for m in mends {
            let words = said_in(&m.words, system);
            let _ = match m.cost.as_str() {
                "" => writeln!(out, "    Mend: {words}"),
                cost => writeln!(out, "    Mend: {words} ({})", said_in(cost, system)),
            };
        }
    }
}

/// "1 stop, 2 warnings, 1 overruled".
pub(super) fn count_words(findings: &[Finding]) -> String {
    let of = |s: Severity| findings.iter().filter(|f| f.speaks() && f.severity == s).count();
    let counts = [
        (of(Severity::Stop), "stop", "stops"),
        (of(Severity::Warn), "warning", "warnings"),
        (of(Severity::Caution), "caution", "cautions"),
        (of(Severity::Note), "note", "notes"),
        (findings.iter().filter(|f| !f.speaks()).count(), "overruled", "overruled"),
    ];
    let said = counts.iter().filter(|c| c.0 > 0).map(|c| crate::quantity::write_units(c.0, c.1, c.2));
    let said: Vec<String> = said.collect();
    if said.is_empty() { "nothing to say".into() } else { said.join(", ") }
}
