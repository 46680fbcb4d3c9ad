//! Are open meals filled with the best that there is, is every claim true, and is what cannot be told why?
//!
//! The worked weeks are those of `tests/data`, with their meals taken off. `-- --nocapture` prints each beside the week made
//! by hand. Small random plans are filled anew by trying everything, through the judges and rules written down here again.

#[path = "support/mod.rs"]
mod support;
#[path = "support/weeks.rs"]
mod weeks;

use std::{collections::BTreeSet, sync::atomic::AtomicBool, time::Instant};
use tranche::{
    arrange::{Arrangement, Best, Fitting, Limits, Outcome, Question, Wishes, open_meals, what_fits},
    book::Book,
    judge::{Code, Home, LikenessTable, Patience, Severity, judge},
    lists::{Cupboard, CupboardItem},
    quantity::DayNo,
    rotation::{Edit, Rotation, Slot, apply},
};
use weeks::week;

/// The worked weeks, each with the meals that stay as they are: the feast is over when the rest of the bird is planned.
const WEEKS: [(&str, &[(i16, u8)]); 5] = [
    ("red-cabbage-mended", &[]),
    ("salmon-mended", &[]),
    ("turkey-mended", &[(1, 2)]),
    ("tomatoes-mended", &[]),
    ("celeriac-mended", &[]),
];

/// The plan with every meal taken off but those that stay, and all that is made for none; and the meals taken off.
fn opened(plan: &Rotation, stays: &[(i16, u8)]) -> (Rotation, Vec<Slot>) {
    let mut open = plan.clone();
    open.overruled.clear();
    let mut meals = Vec::new();
    for slot in plan.slots() {
        if !plan.meal(slot).servings.is_empty() && !stays.contains(&(slot.day.0, slot.mealtime.0)) {
            open.meals.get_mut(&slot).expect("it has servings").servings.clear();
            meals.push(slot);
        }
    }
    let kept: BTreeSet<_> = open.meals.values().flat_map(|m| &m.servings).map(|s| s.batch).collect();
    open.batches.retain(|b| kept.contains(&b.id));
    let open = apply(&open, &Edit::SetTitle("Opened".into())).expect("an open plan stands").rotation;
    (open, meals)
}

fn best_of(question: &mut Question<'_>) -> Best {
    match question.best(Limits::default(), &mut |_| {}) {
        Outcome::Filled(best) => *best,
        other => panic!("not filled: {other:?}"),
    }
}

fn worst_felt(plan: &Rotation) -> f64 {
    let table = LikenessTable::of(plan, &Patience::default(), None);
    table.most_alike().and_then(|(i, j)| table.felt(i, j)).unwrap_or(0.0)
}

fn dishes(a: &Arrangement) -> Vec<String> {
    a.meals.iter().map(|m| format!("{}: {} {}", a.plan.slot_name(m.slot), m.dish.name, m.portion.get())).collect()
}

#[test]
fn a_worked_week_filled_anew_is_no_worse_than_by_hand() {
    let book = Book::shipped().expect("the shipped book reads");
    let home = Home::default();
    for (name, stays) in WEEKS {
        let by_hand = week(name);
        let (open, meals) = opened(&by_hand, stays);
        let wishes = Wishes { meals: Some(meals.clone()), ..Wishes::default() };
        let started = Instant::now();
        let mut question = Question::new(&open, &book, &home, &wishes);
        let laid_out = started.elapsed();
        let best = best_of(&mut question);
        println!(
            "\n{name}: {:.3} s, {:.3} s of it laying out; {}",
            started.elapsed().as_secs_f64(),
            laid_out.as_secs_f64(),
            best.says()
        );
        let done = apply(&open, &best.arrangement.edit()).unwrap_or_else(|e| panic!("{name}: {e}")).rotation;
        assert_eq!(done, best.arrangement.plan, "{name}: the edit gives the plan that was judged");
        let judged = judge(&done);
        let grave = judged.findings.iter().filter(|f| matches!(f.severity, Severity::Stop | Severity::Warn));
        assert_eq!(grave.map(|f| f.text.as_str()).collect::<Vec<_>>(), [""; 0], "{name}");
        assert!(best.proven && !best.wasteful, "{name}");
        let hand = judge(&by_hand);
        let (new, old) = (&judged.variety.distinct, &hand.variety.distinct);
        for (title, plan, figure, worst) in
            [("by hand", &by_hand, old, worst_felt(&by_hand)), ("arranged", &done, new, worst_felt(&done))]
        {
            println!("  {title}: feels like {:.2} of {}, worst pair {worst:.3}", figure.feel_like, figure.meals);
            for slot in plan.slots() {
                for s in &plan.meal(slot).servings {
                    println!("    {}: {} {} g", plan.slot_name(slot), plan.dish_of(s.batch).unwrap().name, s.portion.get());
                }
            }
        }
        println!("  {}", best.arrangement.costs(None));
        assert!(
            new.meals >= meals.len() && new.feel_like >= old.feel_like - 1e-9,
            "{name}: {} under {}",
            new.feel_like,
            old.feel_like
        );
        assert!(worst_felt(&done) <= worst_felt(&by_hand) + 1e-9, "{name}: a worse pair than by hand");
    }
}

#[test]
fn the_open_supper_of_the_cabbage_week_is_the_only_question() {
    let plan = week("red-cabbage-open");
    assert_eq!(open_meals(&plan), [Slot { day: DayNo(4), mealtime: tranche::rotation::MealtimeId(1) }]);
    let (book, home) = (Book::shipped().expect("reads"), Home::default());
    let mut question = Question::new(&plan, &book, &home, &Wishes::default());
    let best = best_of(&mut question);
    let done = apply(&plan, &best.arrangement.edit()).expect("it applies");
    assert!(done.words.contains("Thursday supper"), "{}", done.words);
    // The 280 g of the middle that are free go to it; the batches that stood are as they were.
    assert_eq!(best.arrangement.cost.lost, 0);
    for batch in &plan.batches {
        assert_eq!(done.rotation.batch(batch.id), Some(batch));
    }
}

#[test]
fn what_fits_best_at_one_meal_is_what_the_search_would_put_there() {
    let (book, home) = (Book::shipped().expect("reads"), Home::default());
    let plan = week("red-cabbage-open");
    let supper = open_meals(&plan)[0];
    let ranking = what_fits(&plan, &book, &home, &Wishes::default(), supper);
    let best = best_of(&mut Question::new(&plan, &book, &home, &Wishes::default())).arrangement;
    let first = &ranking[0];
    assert_eq!(first.cost.map(|c| c.total()), Some(best.cost.total()), "{}", first.dish.name);
    // Cheapest first, those that cannot stand last and with a reason.
    let costs: Vec<Option<i64>> = ranking.iter().map(|f| f.cost.map(|c| c.total())).collect();
    let fitting: Vec<i64> = costs.iter().flatten().copied().collect();
    assert!(fitting.is_sorted() && costs[..fitting.len()].iter().all(Option::is_some));
    assert!(ranking.iter().all(|f| !f.why.is_empty() && f.cost.is_some() == f.plan.is_some()));
    for f in ranking.iter().filter_map(|f| f.plan.as_ref()) {
        let grave = judge(f).findings.into_iter().filter(|f| f.speaks() && matches!(f.severity, Severity::Stop | Severity::Warn));
        assert_eq!(grave.filter(|f| f.code != Code::Unallocated).map(|f| f.text).collect::<Vec<_>>(), [""; 0]);
    }
}

#[test]
fn what_the_cupboard_must_be_rid_of_draws_the_dishes_that_use_it() {
    let (book, home) = (Book::shipped().expect("reads"), Home::default());
    let plan = week("red-cabbage-open");
    let supper = open_meals(&plan)[0];
    let last = plan.date(plan.last_day());
    let item = |name: &str, amount: Option<f64>, use_by: Option<jiff::civil::Date>| CupboardItem {
        name: name.into(),
        amount,
        measure: tranche::book::CompanionMeasure::G,
        use_by,
    };
    // Two companions that some dish for that supper takes and another does not.
    let fitting = || what_fits(&plan, &book, &home, &Wishes::default(), supper).into_iter().filter(|f| f.cost.is_some());
    let takes = |f: &Fitting, name: &str| f.dish.companions.iter().any(|c| c.name == name);
    let names: BTreeSet<String> = fitting().flat_map(|f| f.dish.companions.clone()).map(|c| c.name).collect();
    let is_divided = |name: &String| fitting().any(|f| takes(&f, name)) && fitting().any(|f| !takes(&f, name));
    let mut divided = names.into_iter().filter(is_divided);
    let (one, other) = (divided.next().expect("one"), divided.next().expect("another"));
    // On the last day of the plan at the latest; not what keeps longer, is used up, always there, or says no day.
    let written = format!(" {} ", one.to_uppercase());
    let items = vec![
        item(&written, Some(300.0), Some(last)),
        item(&other, Some(100.0), last.yesterday().ok()),
        item("white beans", Some(80.0), last.tomorrow().ok()),
        item("tahini", Some(0.0), Some(last)),
        item("cumin", None, Some(last)),
        item("potatoes", Some(900.0), None),
    ];
    let use_up = Cupboard { items, ..Cupboard::default() }.due_by(last);
    assert_eq!(use_up, BTreeSet::from([written, other.clone()]));
    // 60,000 for each of them that a dish leaves on the shelf, and nothing else is reckoned otherwise.
    let wishes = Wishes { use_up, ..Wishes::default() };
    let costs = |wishes: &Wishes| -> Vec<(String, i64, i64)> {
        let all = what_fits(&plan, &book, &home, wishes, supper).into_iter();
        let told = all.filter_map(|f| {
            let left = [&one, &other].into_iter().filter(|name| !takes(&f, name)).count();
            Some((f.dish.id.to_string(), f.cost?.total(), 60_000 * left as i64))
        });
        let mut told: Vec<_> = told.collect();
        told.sort();
        told
    };
    let (plain, drawn) = (costs(&Wishes::default()), costs(&wishes));
    let expected: Vec<_> = plain.iter().map(|(dish, cost, left)| (dish.clone(), cost + left, *left)).collect();
    assert_eq!(drawn, expected);
    // What is searched for is the cheapest by that reckoning.
    let best = best_of(&mut Question::new(&plan, &book, &home, &wishes)).arrangement;
    assert_eq!(Some(best.cost.total()), expected.iter().map(|d| d.1).min());
}

#[test]
fn an_arrangement_that_feels_like_more_meals_says_why_the_best_still_weighs_less() {
    let (book, home) = (Book::shipped().expect("reads"), Home::default());
    let (open, meals) = opened(&week("red-cabbage-mended"), &[]);
    let wishes = Wishes { meals: Some(meals), ..Wishes::default() };
    let best = best_of(&mut Question::new(&open, &book, &home, &wishes)).arrangement;
    let felt = (best.feels_like().0 * 10.0).round() / 10.0;
    let with = |more: f64, taste: i64, minded: i64, waste: i64| {
        let mut other = best.clone();
        other.judgement.variety.distinct.feel_like = felt + more;
        other.cost.taste += taste;
        other.cost.minded += minded;
        other.cost.waste += waste;
        other
    };
    let says = |other: &Arrangement| other.costs(Some(&best)).contains("the best still weighs less");
    // It feels like more, and something is dearer in it: that is named with both figures, what is the same is not.
    let likeness = (best.cost.taste - best.cost.minded) as f64 / 1e6;
    let other = with(0.3, 250_000, 0, 0);
    let sentence = format!(
        "the best still weighs less: likeness, by the days between and who eats both {:.2} against {likeness:.2} \
         (1 is two neighbouring meals wholly alike)",
        likeness + 0.25
    );
    assert!(other.costs(Some(&best)).contains(&sentence), "{} has not {sentence}", other.costs(Some(&best)));
    let other = with(0.3, 100_000, 100_000, 300_000).costs(Some(&best));
    assert!(other.contains("dislikes, cautions and what is not used up ") && other.contains("; what is left over "), "{other}");
    assert!(!other.contains("who eats both"), "{other}");
    // Where it feels like no more, costs no more, or stands beside nothing, there is nothing to explain.
    assert!(!says(&with(0.0, 250_000, 0, 0)) && !says(&with(-0.3, 250_000, 0, 0)) && !says(&with(0.3, 0, 0, 0)));
    assert!(!with(0.3, 250_000, 0, 0).costs(None).contains("weighs less"));
}

#[test]
fn other_arrangements_really_differ_and_come_in_the_order_of_cost() {
    let (book, home) = (Book::shipped().expect("reads"), Home::default());
    for (name, stays) in WEEKS {
        let (open, meals) = opened(&week(name), stays);
        let wishes = Wishes { meals: Some(meals.clone()), ..Wishes::default() };
        let mut question = Question::new(&open, &book, &home, &wishes);
        let best = best_of(&mut question).arrangement;
        let others = question.others(&best, 3, Limits::default());
        assert!(!others.is_empty(), "{name}: nothing else");
        let all: Vec<&Arrangement> = std::iter::once(&best).chain(others.iter().map(|(a, _)| a)).collect();
        assert!(all.is_sorted_by_key(|a| a.cost.total()), "{name}");
        for (i, a) in all.iter().enumerate() {
            println!("{name}: {}: {:?}", a.costs((i > 0).then_some(&best)), dishes(a));
            assert!(judge(&a.plan).findings.iter().all(|f| !matches!(f.severity, Severity::Stop | Severity::Warn)), "{name}");
            for b in &all[..i] {
                let served: BTreeSet<_> = b.meals.iter().map(|m| &m.dish.id).collect();
                let new = a.meals.iter().zip(&b.meals).filter(|(x, y)| {
                    let (p, q) = (&x.dish.profile, &y.dish.profile);
                    !served.contains(&x.dish.id) && (p.main_texture(), p.main_family()) != (q.main_texture(), q.main_family())
                });
                assert!(3 * new.count() >= meals.len(), "{name}: {:?} beside {:?}", dishes(a), dishes(b));
            }
        }
    }
}

#[test]
fn the_same_question_has_the_same_answer_whatever_the_threads() {
    let (book, home) = (Book::shipped().expect("reads"), Home::default());
    let (open, meals) = opened(&week("celeriac-mended"), &[]);
    let wishes = Wishes { meals: Some(meals), ..Wishes::default() };
    let answers: Vec<Rotation> = [1, 1, 4]
        .into_iter()
        .map(|threads| {
            let mut question = Question::new(&open, &book, &home, &wishes);
            match question.best(Limits { threads, ..Limits::default() }, &mut |_| {}) {
                Outcome::Filled(best) => best.arrangement.plan,
                other => panic!("{other:?}"),
            }
        })
        .collect();
    assert!(answers.windows(2).all(|w| w[0] == w[1]));
}

#[test]
fn a_search_that_is_stopped_gives_the_best_so_far_and_claims_no_more() {
    let (book, home) = (Book::shipped().expect("reads"), Home::default());
    let (open, meals) = opened(&week("tomatoes-mended"), &[]);
    let wishes = Wishes { meals: Some(meals), ..Wishes::default() };
    // Stopped before it begins.
    let stop = AtomicBool::new(true);
    let limits = Limits { cancel: Some(&stop), ..Limits::default() };
    let mut question = Question::new(&open, &book, &home, &wishes);
    assert!(matches!(question.best(limits, &mut |_| {}), Outcome::Stopped));
    // Stopped at the first news.
    let stop = AtomicBool::new(false);
    let limits = Limits { cancel: Some(&stop), ..Limits::default() };
    let mut news = Vec::new();
    let outcome = question.best(limits, &mut |n| {
        stop.store(true, std::sync::atomic::Ordering::Relaxed);
        news.push((n.best.cost.total(), n.bound));
    });
    let Outcome::Filled(best) = outcome else { panic!("{outcome:?}") };
    assert!(!news.is_empty() && best.bound <= best.arrangement.cost.total());
    let whole = best_of(&mut question);
    assert!(whole.proven && whole.arrangement.cost.total() <= best.arrangement.cost.total());
    assert!(best.bound <= whole.arrangement.cost.total(), "a bound that holds");
    if best.arrangement.cost.total() > whole.arrangement.cost.total() {
        assert!(!best.proven);
    }
}

#[test]
fn a_wish_that_costs_something_is_named_and_giving_it_up_gains_just_that() {
    let (book, home) = (Book::shipped().expect("reads"), Home::default());
    let (open, meals) = opened(&week("red-cabbage-mended"), &[]);
    let free = Wishes { meals: Some(meals.clone()), ..Wishes::default() };
    let without = best_of(&mut Question::new(&open, &book, &home, &free)).arrangement;
    // A minute less than the best supper of Tuesday takes.
    let minutes = without.minutes[&DayNo(2)] - 1;
    let wishes = Wishes { minutes: [(DayNo(2), minutes)].into(), ..free };
    let mut question = Question::new(&open, &book, &home, &wishes);
    let best = best_of(&mut question).arrangement;
    assert!(best.minutes[&DayNo(2)] <= minutes);
    let binds = question.binds(&best, Limits::default());
    let gain = best.cost.total() - without.cost.total();
    let found = binds.iter().find(|b| matches!(b.asked, tranche::arrange::Asked::Minutes(DayNo(2))));
    assert_eq!(found.map(|b| b.gain), (gain > 0).then_some(gain));
    assert!(binds.is_sorted_by_key(|b| std::cmp::Reverse(b.gain)));
}

/// The cabbage week with every lunch and supper asked for, a piece three times as large, and so many dishes in the book: the
/// shipped ones of its family, and further ones that each eat like one of them but for texture and seasoning.
fn large(dishes: usize) -> (Rotation, Book, Wishes) {
    use tranche::book::{Dish, DishId, Family, Graded, Texture};
    let mut plan = opened(&week("red-cabbage-mended"), &[]).0;
    for part in &mut plan.piece.parts {
        part.usable = part.usable.with(part.usable.get() * 3);
    }
    plan.piece.mass = tranche::quantity::Grams::new(plan.piece.mass.get() + 3_000).expect("grams");
    plan.meals.clear();
    let plan = apply(&plan, &Edit::SetTitle("Large".into())).expect("it stands").rotation;
    let shipped = Book::shipped().expect("reads");
    let own: Vec<Dish> = shipped.dishes_for(&plan.kind).map(|d| (**d).clone()).collect();
    let mut all = own.clone();
    for n in 0..dishes.saturating_sub(own.len()) {
        let mut dish = own[n % own.len()].clone();
        dish.id = DishId::new(&format!("own-{n}")).expect("a slug");
        dish.name = format!("Own {n}");
        dish.profile.texture = vec![Graded(Texture::ALL[(7 * n + 3) % Texture::ALL.len()], 1.0)];
        dish.profile.family = vec![Graded(Family::ALL[(5 * n + 1) % Family::ALL.len()], 1.0)];
        all.push(dish);
    }
    let kinds: Vec<_> = shipped.kinds().map(|k| (**k).clone()).collect();
    let meals = plan.slots().collect();
    (plan, Book::of(kinds, all), Wishes { meals: Some(meals), ..Wishes::default() })
}

#[test]
fn lunch_and_supper_of_two_days_are_proven() {
    let (plan, book, mut wishes) = large(0);
    wishes.meals.as_mut().expect("they are named").truncate(4);
    let home = Home::default();
    let best = best_of(&mut Question::new(&plan, &book, &home, &wishes));
    assert!(best.proven && best.bound == best.arrangement.cost.total());
}

/// How it grows: `cargo test --release --test arrange_week -- --ignored --nocapture`.
#[test]
#[ignore = "a measurement, for release builds"]
fn how_long_a_large_book_takes() {
    let home = Home::default();
    for (dishes, most) in [(0, 60.0), (60, 60.0), (120, 5.0), (120, 60.0)] {
        let (plan, book, wishes) = large(dishes);
        let started = Instant::now();
        let mut question = Question::new(&plan, &book, &home, &wishes);
        let laid_out = started.elapsed().as_secs_f64();
        let limits = Limits { threads: 1, seconds: Some(most), ..Limits::default() };
        let outcome = question.best(limits, &mut |_| {});
        let Outcome::Filled(best) = outcome else { panic!("{outcome:?}") };
        println!(
            "8 meals of {} dishes: {:.3} s, {laid_out:.3} s of it laying out; {} {}",
            book.dishes_for(&plan.kind).count(),
            started.elapsed().as_secs_f64(),
            best.says(),
            best.arrangement.costs(None)
        );
    }
    let book = Book::shipped().expect("reads");
    let plan = week("red-cabbage-open");
    let meal = open_meals(&plan)[0];
    let mut times: Vec<f64> = (0..20)
        .map(|_| {
            let started = Instant::now();
            let found = what_fits(&plan, &book, &home, &Wishes::default(), meal);
            assert!(found.len() > 10);
            1e3 * started.elapsed().as_secs_f64()
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("what fits at one meal: median {:.2} ms, slowest {:.2} ms", times[10], times[19]);
    // A month of suppers from one cabbage cannot be.
    let mut month = plan.clone();
    month.days = 31;
    let meals: Vec<Slot> = month.slots().filter(|s| s.mealtime.0 == 1 && month.meal(*s).servings.is_empty()).collect();
    let started = Instant::now();
    let outcome = Question::new(&month, &book, &home, &Wishes { meals: Some(meals), ..Wishes::default() })
        .best(Limits::default(), &mut |_| {});
    let Outcome::Impossible(why) = outcome else { panic!("{outcome:?}") };
    println!("a month: {:.2} s; {} smallest: {}", started.elapsed().as_secs_f64(), why.says(), why.smallest);
}
