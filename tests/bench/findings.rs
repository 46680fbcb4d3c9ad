//! How long until everything is said of a plan after one edit, and until it is read or written?
//!
//! `cargo bench --bench findings`. Goals: under 1 ms for the demo of four days, under 10 ms for the month. No test waits
//! on these figures: they hang on the machine.

mod month;

use divan::{Bencher, black_box};
use std::{fmt, path::Path};
use tranche::{
    book::Book,
    judge::{judge, mends_for},
    quantity::DayNo,
    rotation::{Edit, MealtimeId, Rotation, Slot, apply},
    store::{rotation_from_text, rotation_to_text},
};

/// The demo, as the program ships it.
const DEMO: &str = include_str!("../../assets/demo.rotation.ron");
/// A draft of the same week in which nearly everything is wrong.
const UNHAPPY: &str = include_str!("../data/red-cabbage-unhappy.rotation.ron");

fn main() {
    for which in PLANS {
        let plan = which.plan().0;
        let servings: usize = plan.meals.values().map(|m| m.servings.len()).sum();
        println!(
            "{which}: {} days, {} mealtimes, {} eaters, {} batches, {servings} servings, {} findings",
            plan.days,
            plan.mealtimes.len(),
            plan.household.eaters.len(),
            plan.batches.len(),
            judge(&plan).findings.len(),
        );
    }
    divan::main();
}

#[derive(Clone, Copy)]
enum Which {
    Demo,
    Unhappy,
    Month,
}

const PLANS: [Which; 3] = [Which::Demo, Which::Unhappy, Which::Month];

impl fmt::Display for Which {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Which::Demo => "demo",
            Which::Unhappy => "unhappy",
            Which::Month => "month",
        })
    }
}

impl Which {
    fn plan(self) -> (Rotation, Book) {
        let book = Book::shipped().expect("the shipped book reads");
        let read = |text| rotation_from_text(Path::new("bench"), text).expect("the project's own file reads");
        let plan = match self {
            Which::Demo => read(DEMO),
            Which::Unhappy => read(UNHAPPY),
            Which::Month => month::month(&book).0,
        };
        (plan, book)
    }

    /// Two suppers change places: the edit that asks most of the judges of likeness and keeping.
    fn swap(self) -> Edit {
        let supper = |day| Slot { day: DayNo(day), mealtime: MealtimeId(if matches!(self, Which::Month) { 4 } else { 1 }) };
        Edit::SwapMeals(supper(2), supper(3))
    }
}

/// The goal's own figure: the edit is carried out and checked, and every judge speaks.
#[divan::bench(args = PLANS)]
fn edit_then_all_findings(bencher: Bencher, which: Which) {
    let (plan, edit) = (which.plan().0, which.swap());
    bencher.bench_local(|| judge(&apply(black_box(&plan), black_box(&edit)).expect("the swap is allowed").rotation));
}

/// The judges alone.
#[divan::bench(args = PLANS)]
fn all_findings(bencher: Bencher, which: Which) {
    let plan = which.plan().0;
    bencher.bench_local(|| judge(black_box(&plan)));
}

/// The edit alone: a copy, the change, the check of every reference and sum.
#[divan::bench(args = PLANS)]
fn edit(bencher: Bencher, which: Which) {
    let (plan, edit) = (which.plan().0, which.swap());
    bencher.bench_local(|| apply(black_box(&plan), black_box(&edit)));
}

/// Every mend of every finding: dozens of edits for each, all tried and judged. The window does this beside the drawing.
#[divan::bench(args = [Which::Demo, Which::Unhappy])]
fn mends_of_all_findings(bencher: Bencher, which: Which) {
    let (plan, book) = which.plan();
    let findings = judge(&plan).findings;
    bencher.bench_local(|| findings.iter().map(|f| mends_for(black_box(&plan), &book, f).len()).sum::<usize>());
}

/// The mends of what stands first among the findings.
#[divan::bench(args = [Which::Unhappy, Which::Month], max_time = 10)]
fn mends_of_the_worst_finding(bencher: Bencher, which: Which) {
    let (plan, book) = which.plan();
    let findings = judge(&plan).findings;
    let worst = findings.first().expect("something is wrong with it");
    bencher.bench_local(|| mends_for(black_box(&plan), &book, worst));
}

/// From the text of a file to a checked plan.
#[divan::bench(args = PLANS)]
fn load_text(bencher: Bencher, which: Which) {
    let text = rotation_to_text(&which.plan().0);
    bencher.bench_local(|| rotation_from_text(Path::new("bench"), black_box(&text)).expect("what was written is read"));
}

/// From a plan to the text of its file.
#[divan::bench(args = PLANS)]
fn save_text(bencher: Bencher, which: Which) {
    let plan = which.plan().0;
    bencher.bench_local(|| rotation_to_text(black_box(&plan)));
}
