//! Mends: ready edits that cure a finding, tried by the judges before they are offered.
//!
//! For each sort of finding the files below think of edits that a cook would try; every one is carried out on a copy and
//! judged, and only those are offered that cure without doing harm.

mod candidate;
mod clock;
mod cost;
mod mass;
mod people;
mod taste;

use super::{Code, Finding, Judgement, Severity, judge};
use crate::{
    book::Book,
    rotation::{Edit, Rotation, apply},
};
use candidate::Candidate;
use std::collections::BTreeMap;

/// The most edits that are tried for one finding, so that the answer comes at once.
const MAX_TRIALS: usize = 60;
/// The most mends that are offered.
const MAX_MENDS: usize = 3;
/// The most mends of one sort among them, while there are others: three other dishes are less of a choice than one and a swap.
const MAX_OF_A_SORT: usize = 2;

/// A ready edit that cures a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// What it does, short enough for a button: "Fold 28 g into the curry".
    pub words: String,
    /// What it costs or changes, in plain words: "curry becomes 119 g a head".
    pub cost: String,
    /// The edit.
    pub edit: Edit,
}

/// Up to three mends of `finding`, best first. Each was applied to a copy and judged: it removes the finding and adds none as grave.
///
/// Nothing for a finding that is overruled or no longer there. At most 60 edits are tried, each judged in full.
pub fn mends_for(rotation: &Rotation, book: &Book, finding: &Finding) -> Vec<Mend> {
    choose(rotation, candidates(rotation, book, finding), finding, &|r| Judged::from(judge(r)))
}

/// What the judges say of one trial, as far as mends need it.
#[derive(Clone, Debug)]
struct Judged {
    findings: Vec<Finding>,
    feel_like: f64,
}

impl From<Judgement> for Judged {
    fn from(judgement: Judgement) -> Judged {
        Judged { feel_like: judgement.variety.distinct.feel_like, findings: judgement.findings }
    }
}

/// The edits to try for a finding, likeliest first.
fn candidates(rotation: &Rotation, book: &Book, finding: &Finding) -> Vec<Candidate> {
    match finding.code {
        Code::TooAlike | Code::RunTexture | Code::RunFamily | Code::RunHotSoft | Code::SameDish => {
            taste::candidates(rotation, book, finding)
        }
        Code::Unallocated => mass::homes_for_the_rest(rotation, book),
        Code::Unserved => mass::uses_of_a_batch(rotation, finding),
        Code::OverAllotted => mass::less_of_a_part(rotation),
        Code::ServingSize => mass::a_fitting_serving(rotation, finding),
        Code::WrongPart => mass::a_fitting_part(rotation, finding),
        Code::RawTooOld | Code::CutTooOld | Code::CookedTooOld | Code::BeforeMade => {
            let mut all = clock::candidates(rotation, finding);
            all.extend(people::candidates(rotation, book, finding));
            all
        }
        Code::CompanionTooOld | Code::RawLast => clock::earlier_meals(rotation, finding),
        Code::Allergy | Code::NothingToEat | Code::Dislike | Code::DishCaution | Code::BoiledThrough => {
            people::candidates(rotation, book, finding)
        }
        Code::LastDay | Code::Reheated | Code::NotDescribed | Code::PieceCaution | Code::CompanionLeft => Vec::new(),
    }
}

/// A trial that cured.
struct Cured {
    mend: Mend,
    sort: candidate::Sort,
    rank: (Badness, u32),
}

/// Stops, warnings and cautions that still speak. Notes are good to know and weigh nothing.
type Badness = (usize, usize, usize);

fn badness(findings: &[Finding]) -> Badness {
    let count = |severity: Severity| findings.iter().filter(|f| f.speaks() && f.severity == severity).count();
    (count(Severity::Stop), count(Severity::Warn), count(Severity::Caution))
}

fn choose(rotation: &Rotation, candidates: Vec<Candidate>, finding: &Finding, judges: &dyn Fn(&Rotation) -> Judged) -> Vec<Mend> {
    if !finding.speaks() || candidates.is_empty() {
        return Vec::new();
    }
    let before = judges(rotation);
    let old = speaking(&before.findings);
    let mut cured: Vec<Cured> = Vec::new();
    for candidate in candidates.into_iter().take(MAX_TRIALS) {
        let Ok(done) = apply(rotation, &candidate.edit) else { continue };
        let after = judges(&done.rotation);
        let new = speaking(&after.findings);
        if !cures(&old, &new, finding) || does_harm(&old, &new, finding.severity) {
            continue;
        }
        let cost = cost::words(rotation, &before, &done.rotation, &after, finding);
        let words = candidate.words.unwrap_or(done.words);
        let rank = (badness(&after.findings), candidate.size);
        cured.push(Cured { mend: Mend { words, cost, edit: candidate.edit }, sort: candidate.sort, rank });
    }
    // Stable: among equals the likelier comes first.
    cured.sort_by_key(|c| c.rank);
    pick(cured)
}

/// The best three, at most two of a sort while there are others.
fn pick(cured: Vec<Cured>) -> Vec<Mend> {
    let mut taken: Vec<(usize, Mend)> = Vec::new();
    let mut spare: Vec<(usize, Mend)> = Vec::new();
    let mut of_sort: BTreeMap<candidate::Sort, usize> = BTreeMap::new();
    for (place, c) in cured.into_iter().enumerate() {
        let n = of_sort.entry(c.sort).or_default();
        if *n < MAX_OF_A_SORT && taken.len() < MAX_MENDS {
            *n += 1;
            taken.push((place, c.mend));
        } else {
            spare.push((place, c.mend));
        }
    }
    let room = MAX_MENDS.saturating_sub(taken.len());
    taken.extend(spare.into_iter().take(room));
    taken.sort_by_key(|(place, _)| *place);
    taken.into_iter().map(|(_, mend)| mend).collect()
}

/// How many findings of one cause speak, and how gravely. The number that tells two of one cause apart is left off: with the
/// first of them cured, the second takes its key.
fn speaking(findings: &[Finding]) -> BTreeMap<(&str, Severity), usize> {
    let mut counts = BTreeMap::new();
    for f in findings.iter().filter(|f| f.speaks()) {
        *counts.entry((cause(f), f.severity)).or_default() += 1;
    }
    counts
}

fn cause(finding: &Finding) -> &str {
    finding.key.0.split('#').next().unwrap_or_default()
}

fn cures(old: &BTreeMap<(&str, Severity), usize>, new: &BTreeMap<(&str, Severity), usize>, finding: &Finding) -> bool {
    let of_cause = |all: &BTreeMap<(&str, Severity), usize>| -> usize {
        all.iter().filter(|((key, _), _)| *key == cause(finding)).map(|(_, n)| *n).sum()
    };
    of_cause(new) < of_cause(old)
}

fn does_harm(old: &BTreeMap<(&str, Severity), usize>, new: &BTreeMap<(&str, Severity), usize>, severity: Severity) -> bool {
    new.iter().any(|(key, n)| key.1 <= severity && old.get(key).is_none_or(|before| n > before))
}

#[cfg(test)]
mod tests;
