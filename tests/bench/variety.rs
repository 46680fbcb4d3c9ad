//! How long do likeness, findings by a household's own patience, and learning take?
//!
//! `cargo bench -p tranche --no-default-features --bench variety`

#[path = "../support/chance.rs"]
mod chance;
#[allow(dead_code)]
mod month;

use chance::Chance;
use divan::{Bencher, black_box};
use jiff::civil::date;
use std::path::Path;
use tranche::{
    book::{Book, Profile},
    judge::{
        Habits, Home, Kernel, Weights, judge_at_home,
        learning::{DishEaten, Features, Observation, Said, TwoMeals, learn},
        likeness,
    },
    quantity::Days,
    rotation::{EatenMeal, Edit, Rotation, apply},
    store::rotation_from_text,
};

fn main() {
    divan::main();
}

fn book() -> Book {
    Book::shipped().expect("the shipped book")
}

/// As many profiles as asked for, those of the book again and again.
fn profiles(n: usize) -> Vec<Profile> {
    let all: Vec<Profile> = book().dishes().map(|d| d.profile.clone()).collect();
    (0..n).map(|i| all[i % all.len()].clone()).collect()
}

/// Every pair of 300 dishes, with shares and words.
#[divan::bench]
fn likeness_matrix_of_300_dishes(bencher: Bencher) {
    let dishes = profiles(300);
    bencher.bench_local(|| {
        let mut sum = 0.0;
        for (i, a) in dishes.iter().enumerate() {
            for b in &dishes[i..] {
                sum += likeness(black_box(a), b).whole.unwrap_or(0.0);
            }
        }
        sum
    });
}

/// The same, likeness by axis alone.
#[divan::bench]
fn likeness_matrix_of_300_dishes_without_words(bencher: Bencher) {
    let (dishes, base, kernel) = (profiles(300), Weights::default(), Kernel::default());
    bencher.bench_local(|| {
        let pairs = dishes.iter().enumerate().flat_map(|(i, a)| dishes[i..].iter().map(move |b| (a, b)));
        pairs.filter_map(|(a, b)| Features::of(black_box(a), b, Days(1), &base, &kernel)).map(|x| x.0[0]).sum::<f64>()
    });
}

fn demo() -> Rotation {
    let text = include_str!("../../assets/demo.rotation.ron");
    rotation_from_text(Path::new("demo"), text).expect("the demo")
}

/// A home with 30 answers and two weeks of suppers in its journal.
fn home(plan: &Rotation) -> Home {
    let all: Vec<_> = book().dishes().cloned().collect();
    let mut habits = Habits::default();
    let eaten = |i: usize| DishEaten { name: all[i].name.clone(), profile: all[i].profile.clone() };
    for i in 0..30 {
        let pair = TwoMeals { earlier: eaten(i), later: eaten(i + 2), gap: Days(1) };
        habits.answer(date(2026, 1, 1), if i % 3 == 0 { Said::TooAlike(pair) } else { Said::Fine(pair) });
    }
    let mut day = plan.first_day;
    let journal = (0..14).map(|i| {
        day = day.yesterday().expect("a date");
        let dish = &all[i * 3];
        EatenMeal {
            on: day,
            mealtime: "supper".into(),
            dish: Some(dish.id.clone()),
            name: dish.name.clone(),
            profile: dish.profile.clone(),
            eaters: vec![],
            eaten: None,
            wasted: None,
            heard: None,
        }
    });
    Home::of(&habits, journal.collect())
}

/// All findings of the demo after one edit, at a home that has answered and keeps a journal.
#[divan::bench]
fn findings_after_one_edit_at_home(bencher: Bencher) {
    let plan = demo();
    let home = home(&plan);
    let served: Vec<_> = plan.slots().filter(|s| !plan.meal(*s).servings.is_empty()).collect();
    let edit = Edit::SwapMeals(served[0], served[1]);
    bencher.bench_local(|| {
        let done = apply(black_box(&plan), &edit).expect("it applies").rotation;
        judge_at_home(&done, &home).findings.len()
    });
}

/// All findings of the month of 31 days at the same home.
#[divan::bench]
fn findings_of_a_month_at_home(bencher: Bencher) {
    let (plan, _) = month::month(&book());
    let home = home(&plan);
    bencher.bench_local(|| judge_at_home(black_box(&plan), &home).findings.len());
}

fn answers(n: usize) -> Vec<Observation> {
    let (profiles, mut chance) = (profiles(200), Chance(4));
    let (base, kernel) = (Weights::default(), Kernel::default());
    let mut out = Vec::new();
    while out.len() < n {
        let (a, b) = (&profiles[chance.below(200)], &profiles[chance.below(200)]);
        out.extend(Features::of(a, b, Days(1), &base, &kernel).map(|x| Observation::said(x, chance.below(3) == 0)));
    }
    out
}

/// Weights and line from so many answers, each left out in turn as well.
#[divan::bench(args = [10, 100, 500])]
fn learning_from_answers(bencher: Bencher, n: usize) {
    let answers = answers(n);
    bencher.bench_local(|| learn(&Weights::default(), black_box(&answers)).weights());
}

/// The fit alone.
#[divan::bench]
fn one_fit_of_100_answers(bencher: Bencher) {
    use tranche::judge::learning::{Case, Prior, estimate};
    let mut chance = Chance(9);
    let cases: Vec<Case> = (0..100)
        .map(|_| Case {
            features: (0..9).map(|_| chance.share()).collect(),
            complaint: chance.below(3) == 0,
            weight: 1.0,
            biased: true,
        })
        .collect();
    let prior = Prior { theta: Weights::default().0.map(|w| 10.0 * w).to_vec(), bias: -6.0, sigma: 0.5, sigma_bias: 0.5 };
    bencher.bench_local(|| estimate(black_box(&cases), &prior).bias);
}
