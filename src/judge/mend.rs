//! Mends: ready edits that cure a finding, tried by the judges before they are offered.
//!
//! For each sort of finding the files below think of edits that a cook would try; every one is carried out on a copy and
//! judged, and only those are offered that cure without doing harm.

mod boxes;
mod candidate;
mod clock;
mod cost;
mod leave_out;
mod mass;
mod packs;
mod parts;
mod people;
mod rest;
mod taste;

use super::{Code, Finding, Home, Judgement, Severity, clock::is_hot, findings_about, judge_at_home};
use crate::{
    book::Book,
    rotation::{EaterId, Edit, Rotation, apply},
};
use candidate::{Candidate, Loses};
use std::collections::BTreeMap;

/// The most edits that are tried for one finding, so that the answer comes at once.
const MAX_TRIALS: usize = 60;
/// The most mends that are offered.
const MAX_MENDS: usize = 3;
/// The most other dishes that are tried for food that comes too late.
const OTHER_DISHES: usize = 6;

/// A ready edit that cures a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Mend {
    /// What it does, short enough for a button: "Fold 28 g into the curry".
    pub words: String,
    /// What it costs or changes, in plain words: "curry becomes 119 g for an adult instead of 110 g".
    pub cost: String,
    /// The edit.
    pub edit: Edit,
}

/// Up to three mends of `finding`, best first. Each was applied to a copy and judged: it removes the finding and adds none as grave.
/// A rest of an opened pack is mended where at least half of it is used and all packs together leave less.
///
/// Nothing for a finding that is overruled or no longer there. At most 60 edits are tried, each judged in full.
pub fn mends_for(rotation: &Rotation, book: &Book, finding: &Finding) -> Vec<Mend> {
    mends_at_home(rotation, book, finding, &Home::default())
}

/// The same, judged by what is known of a home; `finding` should come of the same.
pub fn mends_at_home(rotation: &Rotation, book: &Book, finding: &Finding, home: &Home) -> Vec<Mend> {
    let shelf = Shelf { book, home };
    let alone = |r: &Rotation| findings_about(finding.code, r, home);
    let whole = |r: &Rotation| Judged::from(judge_at_home(r, home));
    choose(rotation, candidates(rotation, &shelf, finding), finding, &Judges { whole: &whole, alone: &alone })
}

/// Where other dishes are looked for, and by whose taste.
#[derive(Clone, Copy)]
struct Shelf<'a> {
    book: &'a Book,
    home: &'a Home,
}

/// A shelf is the book to all who do not ask for the taste.
impl std::ops::Deref for Shelf<'_> {
    type Target = Book;

    fn deref(&self) -> &Book {
        self.book
    }
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
fn candidates(rotation: &Rotation, book: &Shelf<'_>, finding: &Finding) -> Vec<Candidate> {
    match finding.code {
        Code::TooAlike
        | Code::RunTexture
        | Code::RunFamily
        | Code::RunHotSoft
        | Code::SameDish
        | Code::Unwelcome
        | Code::ColdInFrost
        | Code::OvenInHeat => taste::candidates(rotation, book, finding),
        Code::Unallocated => {
            let mut all = rest::homes_for_the_rest(rotation, book);
            // Crumbs are not worth the errand.
            all.extend(rest::given_away(rotation, None).filter(|_| finding.severity == Severity::Warn));
            all
        }
        Code::Unserved => mass::uses_of_a_batch(rotation, finding),
        Code::OverAllotted => mass::less_of_a_part(rotation),
        Code::ServingSize => mass::a_fitting_serving(rotation, finding),
        Code::WrongPart => parts::a_fitting_part(rotation, finding),
        // A part that nobody uses in time has no batch.
        Code::RawTooOld if finding.batch.is_none() => rest::cooked_in_time(rotation, book, finding),
        Code::RawTooOld | Code::CutTooOld | Code::CookedTooOld | Code::BeforeMade => {
            let mut all = clock::candidates(rotation, finding);
            all.extend(people::candidates(rotation, book, finding));
            all.extend(another_dish(rotation, book, finding));
            if matches!(finding.code, Code::RawTooOld | Code::CutTooOld) {
                all.extend(clock::before_it_goes_off(rotation, book, finding));
            }
            all.extend(leave_out::left_out(rotation, finding));
            all
        }
        Code::Reheated => {
            let mut all = clock::warmed_once(rotation, finding);
            all.extend(cold_dishes(rotation, book, finding));
            all.extend(leave_out::left_out(rotation, finding));
            all
        }
        Code::CompanionTooOld => {
            let mut all = clock::earlier_meals(rotation, finding);
            all.extend(clock::earlier_makings(rotation, finding));
            all.extend(another_dish(rotation, book, finding));
            all.extend(leave_out::left_out(rotation, finding));
            all
        }
        Code::BoiledThrough => {
            let mut all = clock::earlier_meals(rotation, finding);
            all.extend(people::candidates(rotation, book, finding));
            all
        }
        Code::PowerCut => {
            let mut all = clock::earlier_meals(rotation, finding);
            all.extend(clock::afresh(rotation, finding));
            all.extend(clock::after_the_cut(rotation, finding));
            all.extend(leave_out::left_out(rotation, finding));
            all
        }
        Code::Frozen => {
            let mut all = clock::out_of_the_freezer(rotation, finding);
            all.extend(clock::later_meals(rotation, finding));
            all.extend(another_dish(rotation, book, finding));
            all.extend(leave_out::left_out(rotation, finding));
            all
        }
        Code::FrozenLong => clock::shorter_in_the_freezer(rotation, finding),
        Code::RawLast => clock::earlier_meals(rotation, finding),
        Code::LastDay => clock::candidates(rotation, finding),
        Code::CompanionLeft | Code::CompanionWaste => packs::uses_of_the_rest(rotation, book, finding),
        Code::Allergy | Code::NothingToEat | Code::Barred | Code::Dislike | Code::DishCaution | Code::Care => {
            people::candidates(rotation, book, finding)
        }
        Code::Cooling if finding.severity < Severity::Note => {
            let mut all = boxes::otherwise_boxed(rotation, finding);
            all.extend(mass::more_on_the_day(rotation, finding));
            all
        }
        Code::NotDescribed | Code::PieceCaution | Code::Cooling | Code::Advice => Vec::new(),
    }
}

/// Another dish in the place of the one that a finding is about.
fn another_dish(rotation: &Rotation, book: &Shelf<'_>, finding: &Finding) -> Vec<Candidate> {
    let dishes = match finding.meal.zip(finding.batch) {
        Some((slot, batch)) => taste::dishes(rotation, book, slot, batch, OTHER_DISHES),
        None => Vec::new(),
    };
    dishes.into_iter().map(|c| c.losing(Loses::ADish)).collect()
}

/// Another dish that comes cold to the table, so that nothing is warmed up for it.
fn cold_dishes(rotation: &Rotation, book: &Shelf<'_>, finding: &Finding) -> Vec<Candidate> {
    match finding.meal.zip(finding.batch) {
        Some((slot, batch)) => taste::dishes_that(rotation, book, slot, batch, OTHER_DISHES, &|d| !is_hot(d)),
        None => Vec::new(),
    }
}

/// A trial that cured.
struct Cured {
    mend: Mend,
    /// The plan that it leads to.
    leads_to: Rotation,
    sort: candidate::Sort,
    /// Mends that keep what was planned stand before all that do not.
    rank: (Loses, Badness, u32),
    /// Whether it was tried for want of anything else.
    last: bool,
}

/// Stops, warnings and cautions that still speak. Notes are good to know and weigh nothing.
type Badness = (usize, usize, usize);

fn badness(findings: &[Finding]) -> Badness {
    // To keep a board and a pan apart is what a twin asks for, and no reason to send somebody away instead.
    let apart = |f: &Finding| f.code == Code::Allergy && f.severity == Severity::Caution && !f.key.0.ends_with("/unknown");
    let count = |severity: Severity| findings.iter().filter(|f| f.speaks() && f.severity == severity && !apart(f)).count();
    (count(Severity::Stop), count(Severity::Warn), count(Severity::Caution))
}

/// How many speak that are as grave as `finding` or graver.
fn as_grave(all: &[Finding], finding: &Finding) -> usize {
    all.iter().filter(|f| f.speaks() && f.severity <= finding.severity && !is_standing_advice(f, finding)).count()
}

/// Whether `f` is what is said of a dish or a piece whenever it is planned: beside the rest of a pack it is no harm, for every dish
/// that would use it has some.
fn is_standing_advice(f: &Finding, finding: &Finding) -> bool {
    finding.code == Code::CompanionLeft
        && f.severity == Severity::Note
        && matches!(f.code, Code::DishCaution | Code::PieceCaution | Code::Advice | Code::Cooling)
}

/// Who is asked about a trial.
struct Judges<'j> {
    /// All of them.
    whole: &'j dyn Fn(&Rotation) -> Judged,
    /// The one that says what the finding says: most trials do not cure, and it knows that alone.
    alone: &'j dyn Fn(&Rotation) -> Vec<Finding>,
}

fn choose(rotation: &Rotation, candidates: Vec<Candidate>, finding: &Finding, judges: &Judges<'_>) -> Vec<Mend> {
    if !finding.speaks() || candidates.is_empty() {
        return Vec::new();
    }
    // Rests of packs are weighed against each other: to use one up another may be opened.
    let of_packs = matches!(finding.code, Code::CompanionLeft | Code::CompanionWaste);
    let before = (judges.whole)(rotation);
    let mut cured: Vec<Cured> = Vec::new();
    let (last, likely): (Vec<Candidate>, Vec<Candidate>) = candidates.into_iter().partition(|c| c.last);
    for candidate in likely.into_iter().take(MAX_TRIALS).chain(last) {
        if candidate.last && cured.iter().any(|c| !c.last) {
            break;
        }
        let Ok(done) = apply(rotation, &candidate.edit) else { continue };
        let uses_up = of_packs && packs::uses_up(rotation, &done.rotation, finding);
        let no_cure = if of_packs { !uses_up } else { !cures(&before.findings, &(judges.alone)(&done.rotation), finding) };
        if no_cure {
            continue;
        }
        let after = (judges.whole)(&done.rotation);
        let raised = raised(&before.findings, &after.findings, finding);
        let may_be = |f: &Finding| is_standing_advice(f, finding) || uses_up && f.code == Code::CompanionLeft;
        let harm = raised.iter().any(|f| f.severity <= finding.severity && !may_be(f));
        // What was one finding may come apart in two that nobody felt anew; the plan is then no better.
        let better = as_grave(&after.findings, finding) < as_grave(&before.findings, finding);
        if harm || !(uses_up || better) {
            continue;
        }
        let cost = cost::words((rotation, &before), (&done.rotation, &after), &raised, finding);
        let words = candidate.words.unwrap_or(done.words);
        let rank = (candidate.loses, badness(&after.findings), candidate.size);
        cured.push(Cured {
            mend: Mend { words, cost, edit: candidate.edit },
            leads_to: done.rotation,
            sort: candidate.sort,
            rank,
            last: candidate.last,
        });
    }
    // Stable: among equals the likelier comes first.
    cured.sort_by_key(|c| c.rank);
    pick(without_doubles(cured))
}

/// Of mends that lead to the same plan, or that nobody could tell apart by what they say, the best alone.
fn without_doubles(cured: Vec<Cured>) -> Vec<Cured> {
    let mut kept: Vec<Cured> = Vec::with_capacity(cured.len());
    for c in cured {
        let same = |k: &Cured| (&k.mend.words, &k.mend.cost) == (&c.mend.words, &c.mend.cost) || k.leads_to == c.leads_to;
        if !kept.iter().any(same) {
            kept.push(c);
        }
    }
    kept
}

/// The best three, few of one sort while there are others: three other dishes are less of a choice than one and a swap.
fn pick(cured: Vec<Cured>) -> Vec<Mend> {
    let mut taken: Vec<(usize, Mend)> = Vec::new();
    let mut spare: Vec<(usize, Mend)> = Vec::new();
    let mut of_sort: BTreeMap<candidate::Sort, usize> = BTreeMap::new();
    for (place, c) in cured.into_iter().enumerate() {
        let n = of_sort.entry(c.sort).or_default();
        if *n < c.sort.most() && taken.len() < MAX_MENDS {
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

/// The key without what may change while the trouble stays: the number that tells two of one cause apart (with the first of
/// them cured, the second takes its key), and in matters of taste the eaters (with one of them away, the others still feel it).
fn cause(finding: &Finding) -> &str {
    let key = finding.key.0.split('#').next().unwrap_or_default();
    match key.rsplit_once('/') {
        Some((rest, ids))
            if of_taste(finding.code)
                && rest.contains('/')
                && ids.split('+').all(|id| !id.is_empty() && id.bytes().all(|b| b.is_ascii_digit())) =>
        {
            rest
        }
        _ => key,
    }
}

/// Those who feel a finding, one by one; nobody in particular where it is no matter of taste.
fn feelers(finding: &Finding) -> impl Iterator<Item = Option<EaterId>> {
    let nobody = finding.felt_by.is_empty().then_some(None);
    finding.felt_by.iter().map(|e| Some(*e)).chain(nobody)
}

/// Whether fewer findings of the cause speak than before, for each of those who felt it: two that became one because the same
/// eaters now feel both are no cure.
fn cures(old: &[Finding], new: &[Finding], finding: &Finding) -> bool {
    let own = cause(finding);
    let of_cause = |all: &[Finding]| -> Vec<Option<EaterId>> {
        let mine = all.iter().filter(|f| f.code == finding.code && f.speaks() && cause(f) == own);
        mine.flat_map(feelers).collect()
    };
    let (before, after) = (of_cause(old), of_cause(new));
    let count = |all: &[Option<EaterId>], who| all.iter().filter(|w| **w == who).count();
    // Crumbs of what was much are a note, and so is that a pot is cold in time now; none the worse for being told.
    let only_crumbs = |f: &Finding| {
        let told = f.code == Code::Unallocated || f.code == Code::Cooling && cause(f) == own;
        told && f.code == finding.code && f.severity > finding.severity
    };
    feelers(finding).all(|who| count(&after, who) < count(&before, who)) || new.iter().any(|f| f.speaks() && only_crumbs(f))
}

/// A finding, and one who feels it.
type Felt<'f> = (Option<EaterId>, &'f Finding);

/// What speaks now and did not before, or is felt by somebody who did not feel it before. A finding that only changes its name
/// is not among them: the same of the same batch and eater, at another meal because the batch has moved. That goodwill is
/// never for the finding that was to be cured.
fn raised<'n>(old: &[Finding], new: &'n [Finding], finding: &Finding) -> Vec<&'n Finding> {
    let mut before: BTreeMap<(&str, Severity), Vec<Felt<'_>>> = BTreeMap::new();
    for f in old.iter().filter(|f| f.speaks()) {
        before.entry((cause(f), f.severity)).or_default().extend(feelers(f).map(|who| (who, f)));
    }
    let mut unknown: Vec<&Finding> = Vec::new();
    for f in new.iter().filter(|f| f.speaks()) {
        let Some(known) = before.get_mut(&(cause(f), f.severity)) else {
            unknown.push(f);
            continue;
        };
        let mut anew = false;
        for who in feelers(f) {
            match known.iter().rposition(|(w, _)| *w == who) {
                Some(place) => _ = known.remove(place),
                None => anew = true,
            }
        }
        if anew {
            unknown.push(f);
        }
    }
    let gone = before.into_values().flatten().map(|(_, f)| f);
    let mut gone: Vec<&Finding> = gone.filter(|f| cause(f) != cause(finding) && !of_taste(f.code)).collect();
    unknown.retain(|f| {
        let same =
            |g: &&Finding| f.batch.is_some() && (g.code, g.severity, g.batch, g.eater) == (f.code, f.severity, f.batch, f.eater);
        match gone.iter().position(same) {
            Some(i) => {
                gone.swap_remove(i);
                false
            }
            None => true,
        }
    });
    unknown
}

fn of_taste(code: Code) -> bool {
    matches!(
        code,
        Code::TooAlike
            | Code::RunTexture
            | Code::RunFamily
            | Code::RunHotSoft
            | Code::SameDish
            | Code::Unwelcome
            | Code::ColdInFrost
    )
}

#[cfg(test)]
mod tests;
