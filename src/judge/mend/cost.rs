//! What a mend costs or changes, in plain words.

use super::{Judged, candidate::say};
use crate::{
    judge::{Code, Finding, Severity},
    rotation::{BatchId, Rotation, Slot, eaten_by},
};

/// The most changed servings that are named.
const MAX_SERVINGS: usize = 2;

/// One line: plates that grow or shrink, grams that find or lose a home, what the week feels like, what else is raised or
/// settled. "nothing else changes" if there is none of it.
pub(super) fn words(
    (before, said): (&Rotation, &Judged),
    (after, says): (&Rotation, &Judged),
    raised: &[&Finding],
    finding: &Finding,
) -> String {
    let mut clauses = servings(before, after);
    clauses.extend(homes(before, after, finding));
    clauses.extend(feeling(said, says));
    clauses.extend(others(said, says, raised, finding));
    if clauses.is_empty() { "nothing else changes".into() } else { clauses.join("; ") }
}

/// The same dish at the same meal in another size, per adult.
fn servings(before: &Rotation, after: &Rotation) -> Vec<String> {
    let mut out = Vec::new();
    for slot in after.slots() {
        for serving in &after.meal(slot).servings {
            let Some(old) = size(before, slot, serving.batch) else { continue };
            let Some(new) = size(after, slot, serving.batch) else { continue };
            let same_dish = before.batch(serving.batch).map(|b| &b.dish) == after.batch(serving.batch).map(|b| &b.dish);
            if let (true, Some(dish)) = (same_dish && old != new, after.dish_of(serving.batch)) {
                out.push(format!("{} becomes {} for an adult instead of {}", dish.name, say(new), say(old)));
            }
        }
    }
    let more = out.len().saturating_sub(MAX_SERVINGS);
    out.truncate(MAX_SERVINGS);
    if more > 0 {
        out.push(format!("{more} more {} in size", if more == 1 { "plate changes" } else { "plates change" }));
    }
    out
}

/// Grams of a serving for one adult's plate.
fn size(rotation: &Rotation, slot: Slot, batch: BatchId) -> Option<u32> {
    let serving = rotation.meal(slot).serving(batch)?;
    let units = rotation.household.units(eaten_by(rotation, serving, &rotation.eaters_at(slot))).hundredths();
    (units > 0).then(|| ((u64::from(serving.portion.get()) * 100 + u64::from(units) / 2) / u64::from(units)) as u32)
}

fn without_home(rotation: &Rotation) -> u32 {
    let free = rotation.piece.parts.iter().map(|p| rotation.free_in_part(&p.part).max(0)).sum::<i64>();
    free.min(i64::from(u32::MAX)) as u32
}

fn homes(before: &Rotation, after: &Rotation, finding: &Finding) -> Option<String> {
    let (old, new) = (without_home(before), without_home(after));
    if new > old {
        Some(format!("{} more without a home", say(new - old)))
    } else if old > new && finding.code != Code::Unallocated {
        Some(format!("{} more find a home", say(old - new)))
    } else {
        None
    }
}

/// What the week feels like, to the one decimal that the figure is good for.
fn feeling(said: &Judged, says: &Judged) -> Option<String> {
    let tenths = |d: f64| (d * 10.0).round() as i64;
    let (old, new) = (tenths(said.feel_like), tenths(says.feel_like));
    let write = |t: i64| format!("{}.{}", t / 10, t % 10);
    (old != new && old > 0).then(|| format!("the meals feel like {} instead of {}", write(new), write(old)))
}

/// What the mend raises on balance, and what it settles besides. A trouble that only changes its name is neither.
fn others(said: &Judged, says: &Judged, raised: &[&Finding], finding: &Finding) -> Vec<String> {
    let count = |judged: &Judged, severity| judged.findings.iter().filter(|f| f.speaks() && f.severity == severity).count();
    let mut out = Vec::new();
    let mut settled = 0;
    for severity in [Severity::Stop, Severity::Warn, Severity::Caution, Severity::Note] {
        let own = usize::from(finding.severity == severity);
        let (old, new) = (count(said, severity).saturating_sub(own), count(says, severity));
        if new > old {
            let first = raised.iter().find(|f| f.severity == severity && !is_standing_advice(f));
            // Notes are good to know: one is told, the others stand in the list.
            let more = if new - old > 1 && severity != Severity::Note {
                format!(" (and {} more)", new - old - 1)
            } else {
                String::new()
            };
            let but = if severity == Severity::Note { "" } else { "but " };
            out.extend(first.map(|f| format!("{but}{}: {}{more}", severity.word().to_lowercase(), brief(f))));
        } else if severity != Severity::Note {
            settled += old - new;
        }
    }
    if settled > 0 {
        out.push(format!("settles {settled} more"));
    }
    out
}

/// A finding short enough for a button: of two meals too alike, which they are; the axes stand in the list.
fn brief(finding: &Finding) -> &str {
    let text = finding.text.trim_end_matches('.');
    match finding.code {
        Code::TooAlike => text.split(": ").next().unwrap_or(text),
        _ => text,
    }
}

/// What is said of a dish or a piece whenever it is planned is no price of a mend.
fn is_standing_advice(finding: &Finding) -> bool {
    finding.severity == Severity::Note
        && matches!(finding.code, Code::DishCaution | Code::PieceCaution | Code::Advice | Code::Cooling)
}
