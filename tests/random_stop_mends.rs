//! Does every mend that is offered for a stop of a random plan take the stop away and make nothing worse, by the judges and by the
//! second reading of the rules? And has every sort of stop its mends?
//!
//! The plans are those of the independent checker, with what can go wrong at the table and in the larder beside: diets, vows, opened
//! packs, more cut than there is. So many stops of each sort are asked, and no more: a trial judges a whole plan.

#![allow(dead_code)]

mod walker;

use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
};
use tranche::{
    book::{Allergen, Book, Care, Companion, CompanionMeasure, Diet, Dish, DishId, Heat, Profile, Role},
    judge::{Code, Finding, Mend, Severity, judge, mends_for},
    quantity::{Days, Grams, Portion, Units},
    rotation::{Eater, EaterId, Edit, Rotation, ServeFrom, apply, validate},
};
use walker::{
    Plate, Wrong,
    plans::{Dice, plan, speaks_of},
    walk,
};

/// Stops asked of each sort, at most.
const ASKED: usize = 40;
/// Plans thrown together, at most.
const PLANS: u64 = 2_500;
/// The same for weeks of the shipped book: many more dishes are tried there.
const BOOK_ASKED: usize = 24;
const BOOK_PLANS: u64 = 400;
/// Every sort of stop there is.
const SORTS: [Code; 12] = [
    Code::RawTooOld,
    Code::CutTooOld,
    Code::CookedTooOld,
    Code::BeforeMade,
    Code::Reheated,
    Code::PowerCut,
    Code::Frozen,
    Code::OverAllotted,
    Code::Allergy,
    Code::NothingToEat,
    Code::Barred,
    Code::CompanionTooOld,
];

fn passata() -> Companion {
    Companion {
        name: "passata".into(),
        per_unit: 0.0,
        per_batch: 100.0,
        measure: CompanionMeasure::G,
        pack: Some(700.0),
        opened_days: Some(Days(2)),
        pack_word: Some("jar".into()),
    }
}

/// What can be wrong beside the food's age.
fn spice(dice: &mut Dice, plan: &mut Rotation) {
    for dish in plan.dishes.values_mut() {
        let dish = Arc::make_mut(dish);
        dish.families = vec!["brassica".into()];
        if dish.role == Role::Meal {
            dish.grams = (20, 200, 3_000);
        }
        if dish.role != Role::Bank && dice.in_100(30) {
            dish.companions.push(passata());
        }
    }
    let kind = Arc::make_mut(&mut plan.kind);
    if kind.animal {
        kind.diet = Diet::Everything;
    }
    for eater in &mut plan.household.eaters {
        if dice.in_100(8) {
            eater.diet = Diet::Vegetarian;
        }
        if dice.in_100(8) {
            eater.dislikes = vec!["never milk".into()];
        }
    }
    if dice.in_100(15) {
        let quarter = plan.piece.parts[1].usable.get() / 4;
        let moved = |p: &Portion, grams: u32| Portion::of(p.state(), grams);
        let (from, to) = (plan.piece.parts[1].usable, plan.piece.parts[0].usable);
        plan.piece.parts[1].usable = moved(&from, from.get() - quarter);
        plan.piece.parts[0].usable = moved(&to, to.get() + quarter);
    }
}

/// The dishes of the plan, and three that suit everybody.
fn shelf(plan: &Rotation) -> Book {
    let known: Vec<DishId> = plan.dishes.keys().cloned().collect();
    let (_, like) = plan.dishes.iter().next().unwrap();
    let careful = |id: &str, heat: Heat, role: Role| Dish {
        id: DishId::new(id).unwrap(),
        name: format!("Careful {id}"),
        role,
        from: known.clone(),
        profile: Profile { heat: Some(heat), ..Profile::default() },
        grams: if role == Role::Meal { (20, 200, 3_000) } else { (0, 0, 0) },
        cut: None,
        cooked: true,
        boiled_through: true,
        keeps: Days(if role == Role::Bank { 14 } else { 3 }),
        companions: vec![],
        allergens: vec![],
        twins: vec![],
        ..(**like).clone()
    };
    let more = [
        careful("pot", Heat::Hot, Role::Meal),
        careful("plate", Heat::Chilled, Role::Meal),
        careful("jar", Heat::Chilled, Role::Bank),
    ];
    Book::of([(*plan.kind).clone()], plan.dishes.values().map(|d| (**d).clone()).chain(more))
}

fn stops(all: &[Finding]) -> Vec<&Finding> {
    all.iter().filter(|f| f.severity == Severity::Stop).collect()
}

/// How many stops of each code, batch and eater.
fn counted(all: &[Finding]) -> BTreeMap<(Code, Option<u32>, Option<EaterId>), usize> {
    let mut counts = BTreeMap::new();
    for f in stops(all) {
        *counts.entry((f.code, f.batch.map(|b| b.0), f.eater)).or_default() += 1;
    }
    counts
}

/// How many plates of each sort of wrong, for each eater.
fn wrongs<'p>(plates: impl IntoIterator<Item = &'p Plate>) -> BTreeMap<(EaterId, Wrong), usize> {
    let mut counts = BTreeMap::new();
    plates.into_iter().for_each(|p| *counts.entry((p.eater, p.wrong)).or_default() += 1);
    counts
}

/// What is wrong with a mend.
fn harm(before: &Rotation, judged: &[Finding], stop: &Finding, mend: &Mend) -> Option<String> {
    let after = match apply(before, &mend.edit) {
        Ok(done) => done.rotation,
        Err(e) => return Some(format!("cannot be done: {e}")),
    };
    if let Err(e) = validate(&after) {
        return Some(format!("leads to a plan that cannot be: {}", e.what));
    }
    let found = judge(&after).findings;
    if stops(&found).len() >= stops(judged).len() {
        return Some(format!("{} stops after {}", stops(&found).len(), stops(judged).len()));
    }
    // Of the same batch and eater there may be as many as before, told of another meal; never one more, nor one of another sort.
    let old = counted(judged);
    for (what, n) in counted(&found) {
        let had = old.get(&what).copied().unwrap_or(0);
        // A part that is cooked afresh is another batch; that it is late again would be no cure.
        if n > had {
            return Some(format!("{n} stops of {what:?} after {had}"));
        }
    }
    // A warning of sameness may come apart in two when somebody leaves the table, or be felt by one more: that is no new one.
    let warned = |all: &[Finding]| -> (usize, usize) {
        let felt: Vec<usize> =
            all.iter().filter(|f| f.severity == Severity::Warn && f.speaks()).map(|f| f.felt_by.len().max(1)).collect();
        (felt.len(), felt.iter().sum())
    };
    let ((old, old_felt), (new, new_felt)) = (warned(judged), warned(&found));
    if new > old && new_felt > old_felt && !mend.cost.contains("but warning: ") {
        return Some("warns of something more and says nothing of it".into());
    }
    // The second reading.
    let (bad, left) = (walk(before), walk(&after));
    if let Some(plate) = left.iter().find(|p| !stops(&found).iter().any(|s| speaks_of(&after, p, s))) {
        return Some(format!("{plate:?} is stopped by nobody"));
    }
    let others: Vec<&Finding> = stops(judged).into_iter().filter(|s| !std::ptr::eq(*s, stop)).collect();
    let cured = bad.iter().filter(|p| speaks_of(before, p, stop) && !others.iter().any(|s| speaks_of(before, p, s)));
    let (old, new, cured) = (wrongs(&bad), wrongs(&left), wrongs(cured));
    for (what, n) in &cured {
        let (had, has) = (old[what], new.get(what).copied().unwrap_or(0));
        if has + n > had {
            return Some(format!("{what:?}: {has} plates after {had}, of which {n} were to be cured"));
        }
    }
    None
}

/// What came of the stops of one sort.
#[derive(Default, Debug)]
struct Told {
    asked: usize,
    mended: usize,
    mends: usize,
    without: Vec<String>,
}

/// A plan with the book that its mends are looked for in.
type Thrown = (Rotation, Book);

fn ask(
    seeds: impl Iterator<Item = u64>,
    most: usize,
    sorts: &[Code],
    throw: &dyn Fn(u64) -> Thrown,
) -> (BTreeMap<Code, Told>, Vec<String>) {
    let mut told: BTreeMap<Code, Told> = BTreeMap::new();
    let mut wrong = Vec::new();
    for seed in seeds {
        if sorts.iter().all(|c| told.get(c).is_some_and(|t| t.asked >= most)) {
            break;
        }
        let (before, book) = throw(seed);
        validate(&before).unwrap_or_else(|e| panic!("plan {seed}: {}", e.what));
        let judged = judge(&before).findings;
        let mut seen = BTreeSet::new();
        for stop in stops(&judged) {
            let entry = told.entry(stop.code).or_default();
            // One of each sort in a plan.
            if entry.asked >= most || !seen.insert(stop.code) {
                continue;
            }
            entry.asked += 1;
            let mends = mends_for(&before, &book, stop);
            entry.mended += usize::from(!mends.is_empty());
            entry.mends += mends.len();
            if mends.is_empty() {
                entry.without.push(format!("plan {seed}: {} [{}]", stop.text, stop.key.0));
            }
            for mend in &mends {
                if let Some(harm) = harm(&before, &judged, stop, mend) {
                    wrong.push(format!("plan {seed}, {} [{}]: {} ({}): {harm}", stop.text, stop.key.0, mend.words, mend.cost));
                }
            }
        }
    }
    (told, wrong)
}

/// Two at a time: the plans have nothing to do with each other.
fn by_two(plans: u64, most: usize, sorts: &[Code], throw: &(dyn Fn(u64) -> Thrown + Sync)) -> BTreeMap<Code, Told> {
    let half = |first: u64| ask((first..plans).step_by(2), most / 2, sorts, throw);
    let (mut told, mut wrong) = std::thread::scope(|s| {
        let other = s.spawn(|| half(1));
        let (mut told, mut wrong) = half(0);
        let (more, bad) = other.join().expect("no panic");
        wrong.extend(bad);
        for (code, t) in more {
            let sum = told.entry(code).or_default();
            sum.asked += t.asked;
            sum.mended += t.mended;
            sum.mends += t.mends;
            sum.without.extend(t.without);
        }
        (told, wrong)
    });
    for (code, t) in &mut told {
        println!("{code:?}: {} stops asked, {} mended, {} mends", t.asked, t.mended, t.mends);
        t.without.truncate(8);
        t.without.iter().for_each(|w| println!("    without: {w}"));
    }
    wrong.sort();
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong[..wrong.len().min(20)].join("\n"));
    told
}

#[test]
fn mends_of_stops_cure_and_do_no_harm_in_random_plans_and_every_sort_has_some() {
    let throw = |seed: u64| {
        let dice = &mut Dice::new(seed);
        let mut thrown = plan(dice);
        spice(dice, &mut thrown);
        let book = shelf(&thrown);
        (thrown, book)
    };
    let told = by_two(PLANS, ASKED, &SORTS, &throw);
    for code in SORTS {
        let t = &told[&code];
        assert!(t.asked >= 12, "{code:?}: only {} asked", t.asked);
        // Most have one: of food that is lost to a power cut, and of parts cut up twice over, not quite all.
        assert!(t.mended * 10 >= t.asked * 8, "{code:?}: {} of {} have a mend", t.mended, t.asked);
    }
}

/// A week around a piece of the shipped book, its dishes as they fall, with people of all sorts at the table.
fn of_the_book(book: &Book, seed: u64) -> Option<Rotation> {
    let mut dice = Dice::new(seed);
    let kinds: Vec<_> = book.kinds().cloned().collect();
    let kind = dice.one(&kinds);
    let dishes: Vec<_> = book.dishes_for(&kind).filter(|d| d.role == Role::Meal).cloned().collect();
    if dishes.is_empty() {
        return None;
    }
    let eaters = (1..=2 + dice.below(2) as u16).map(|id| {
        let mut eater = Eater {
            id: EaterId(id),
            name: format!("Eater {id}"),
            units: Units::ADULT,
            guest: false,
            allergies: vec![],
            diet: Diet::Everything,
            dislikes: vec![],
            care: vec![],
        };
        match dice.below(8) {
            0 => eater.allergies = vec![dice.one(Allergen::ALL), dice.one(&[Allergen::Milk, Allergen::Wheat, Allergen::Egg])],
            1 => eater.diet = dice.one(&[Diet::Pescatarian, Diet::Vegetarian, Diet::Vegan]),
            2 => eater.care = vec![dice.one(Care::ALL)],
            3 => eater.dislikes = vec![dice.one(&["never pork", "no alcohol", "never egg"]).into()],
            _ => {}
        }
        eater
    });
    let eaters = eaters.collect();
    let mass = Grams::clamped(kind.mass.1 * (1 + dice.below(2) as u32));
    let mut thrown = Rotation::start(kind.clone(), mass, jiff::civil::date(2026, 3, 2), 4 + dice.below(4) as u16, eaters);
    for slot in thrown.slots().collect::<Vec<_>>() {
        let edit = match (dice.below(5), thrown.batches.first().map(|b| b.id)) {
            (0, _) => continue,
            (1, Some(batch)) => Edit::ServeAgain { batch, slot, portion: None },
            _ => Edit::Serve { dish: dice.one(&dishes), from: ServeFrom::BestPart, slot, portion: None },
        };
        if let Ok(done) = apply(&thrown, &edit) {
            thrown = done.rotation;
        }
    }
    Some(thrown)
}

#[test]
fn stops_of_weeks_of_the_shipped_book_have_mends_that_cure() {
    let book = Book::shipped().unwrap_or_else(|e| panic!("{e}"));
    let sorts = [Code::RawTooOld, Code::CookedTooOld, Code::Allergy, Code::NothingToEat, Code::Barred];
    let throw = |seed: u64| {
        let thrown = (0..).find_map(|more: u64| of_the_book(&book, seed + more * 100_000)).expect("a kind with dishes");
        (thrown, book.clone())
    };
    let told = by_two(BOOK_PLANS, BOOK_ASKED, &sorts, &throw);
    for code in sorts {
        let t = &told[&code];
        assert!(t.asked >= 8, "{code:?}: only {} asked", t.asked);
        assert!(t.mended * 10 >= t.asked * 9, "{code:?}: {} of {} have a mend", t.mended, t.asked);
    }
}
