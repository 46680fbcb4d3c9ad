//! Does every mend of sameness that is offered for a random plan cure its finding and bring nothing as bad?
//!
//! Plans are thrown together from the shipped book by a fixed seed. What a finding of sameness means is reckoned here anew,
//! from the plates themselves; how bad a plan is, by counting what the judges say.

#[path = "support/chance.rs"]
mod chance;
#[path = "support/sameness.rs"]
mod sameness;

use chance::Chance;
use sameness::sameness;
use std::{
    sync::Arc,
    time::{Duration, Instant},
};
use tranche::{
    book::{Book, Dish, Kind, Role},
    judge::{Code, Finding, Severity, judge, mends_for},
    quantity::{Grams, Units},
    rotation::{Eater, EaterId, Edit, Mealtime, MealtimeId, Rotation, ServeFrom, apply},
};

const PLANS: usize = 500;

fn eater(id: u16, hundredths: u32) -> Eater {
    Eater {
        id: EaterId(id),
        name: format!("Eater {id}"),
        units: Units::from_hundredths(hundredths).expect("a portion unit"),
        guest: false,
        allergies: vec![],
        diet: Default::default(),
        dislikes: vec![],
        care: vec![],
    }
}

/// Two to four days around some piece, dishes as they fall, some people away, some dishes twice.
fn any_plan(book: &Book, chance: &mut Chance) -> Rotation {
    let kinds: Vec<&Arc<Kind>> = book.kinds().collect();
    loop {
        let kind = kinds[chance.below(kinds.len())].clone();
        let dishes: Vec<&Arc<Dish>> = book.dishes_for(&kind).filter(|d| d.role == Role::Meal).collect();
        if dishes.is_empty() {
            continue;
        }
        // A shelf of a few: so the same ones, and their like, come again.
        let shelf: Vec<&Arc<Dish>> = (0..2 + chance.below(5)).map(|_| dishes[chance.below(dishes.len())]).collect();
        let eaters = (1..=1 + chance.below(3) as u16).map(|id| eater(id, [100, 60, 120][chance.below(3)])).collect();
        let mass = Grams::clamped(kind.mass.1 * (1 + chance.below(3) as u32));
        let first = jiff::civil::date(2026, 1 + chance.below(12) as i8, 1 + chance.below(28) as i8);
        let mut plan = Rotation::start(kind.clone(), mass, first, 2 + chance.below(3) as u16, eaters);
        if chance.below(6) == 0 {
            let lunch = Mealtime { id: MealtimeId(2), name: "lunch".into(), at: "12:30".parse().ok() };
            plan.mealtimes.insert(0, lunch);
        }
        for slot in plan.slots().collect::<Vec<_>>() {
            for id in plan.household.eaters.iter().map(|e| e.id).collect::<Vec<_>>() {
                if chance.below(8) == 0 {
                    let away = Edit::SetPresent { slot, eater: id, present: false };
                    plan = apply(&plan, &away).map_or(plan.clone(), |done| done.rotation);
                }
            }
            let edit = match (chance.below(8), plan.batches.last().map(|b| b.id)) {
                (0, _) => continue,
                (1, Some(batch)) => Edit::ServeAgain { batch, slot, portion: None },
                _ => {
                    let dish = shelf[chance.below(shelf.len())].clone();
                    Edit::Serve { dish, from: ServeFrom::BestPart, slot, portion: None }
                }
            };
            // Where there is not enough left the meal stays open.
            if let Ok(done) = apply(&plan, &edit) {
                plan = done.rotation;
            }
        }
        if plan.meals.values().filter(|m| !m.servings.is_empty()).count() >= 2 {
            return plan;
        }
    }
}

fn of_sameness(code: Code) -> bool {
    matches!(code, Code::TooAlike | Code::RunTexture | Code::RunFamily | Code::RunHotSoft | Code::SameDish)
}

/// How many findings speak that are as grave as `least` or graver.
fn as_grave(all: &[Finding], least: Severity) -> usize {
    all.iter().filter(|f| f.speaks() && f.severity <= least).count()
}

/// What comes of one plan: mends tried, and what was wrong with any.
fn ask(plan: &Rotation, book: &Book) -> (usize, usize, Vec<String>) {
    let before = judge(plan).findings;
    let troubles = sameness(plan);
    let (mut findings, mut mends, mut wrong) = (0, 0, Vec::new());
    for finding in before.iter().filter(|f| f.speaks() && of_sameness(f.code)) {
        findings += 1;
        let at = (finding.meal.expect("a meal"), finding.other.expect("an earlier meal"));
        let whose =
            |t: &&sameness::Trouble| t.code == finding.code && (t.later, t.earlier) == at && finding.felt_by.contains(&t.eater);
        let mine: Vec<_> = troubles.iter().filter(whose).cloned().collect();
        // One texture and another may run between the same two meals.
        if mine.is_empty() || finding.felt_by.iter().any(|e| mine.iter().all(|t| t.eater != *e)) {
            wrong.push(format!("nothing of the kind is reckoned here: {}", finding.text));
        }
        for mend in mends_for(plan, book, finding) {
            mends += 1;
            let said = format!("{} [{}]: {}", finding.text, finding.key.0, mend.words);
            let done = match apply(plan, &mend.edit) {
                Ok(done) => done.rotation,
                Err(e) => {
                    wrong.push(format!("cannot be done ({e}): {said}"));
                    continue;
                }
            };
            let (after, left) = (judge(&done).findings, sameness(&done));
            for trouble in &mine {
                let same = |all: &[sameness::Trouble]| all.iter().filter(|t| t.same_cause(trouble)).count();
                if same(&left) >= same(&troubles) {
                    wrong.push(format!("is still felt ({trouble:?}): {said}"));
                }
            }
            for severity in [Severity::Stop, Severity::Warn, Severity::Caution].into_iter().filter(|s| *s <= finding.severity) {
                let (old, new) = (as_grave(&before, severity), as_grave(&after, severity));
                if new > old || (severity == finding.severity && new == old) {
                    wrong.push(format!("{new} of {severity:?} or worse after {old}: {said}"));
                }
            }
        }
    }
    (findings, mends, wrong)
}

#[test]
fn mends_of_sameness_cure_and_do_no_harm_in_five_hundred_random_plans() {
    let book = Book::shipped().unwrap_or_else(|e| panic!("{e}"));
    let began = Instant::now();
    // Two at a time: the plans have nothing to do with each other.
    let half = |start: u64| {
        let mut sums = (0, 0, Vec::new());
        for plan in 0..PLANS / 2 {
            let mut chance = Chance(start + plan as u64 * 2);
            let (findings, mends, wrong) = ask(&any_plan(&book, &mut chance), &book);
            sums.0 += findings;
            sums.1 += mends;
            sums.2.extend(wrong.into_iter().map(|w| format!("plan {}: {w}", start + plan as u64 * 2)));
        }
        sums
    };
    let (even, odd) = std::thread::scope(|s| {
        let other = s.spawn(|| half(1));
        (half(0), other.join().expect("no panic"))
    });
    let (findings, mends) = (even.0 + odd.0, even.1 + odd.1);
    let wrong: Vec<String> = even.2.into_iter().chain(odd.2).collect();
    let took: Duration = began.elapsed();
    println!(
        "{PLANS} plans, {findings} findings of sameness, {mends} mends tried in {:.0} s, {} wrong",
        took.as_secs_f64(),
        wrong.len()
    );
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong[..wrong.len().min(30)].join("\n"));
    assert!(findings > PLANS && mends > PLANS, "{findings} findings and {mends} mends are too few to ask");
}
