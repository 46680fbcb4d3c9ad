//! What does the household's patience say of a week: which meals are too alike, for whom, and what runs on?
//!
//! The weeks are made up at the bench for this project; their profiles carry only what a cook would note on a page.

mod support;

use std::sync::Arc;
use tranche::{
    book::{Dish, Profile, Role, Twin},
    judge::{Code, Finding, Pair, RunOf, Severity, Variety, Verdict, feels_like, variety},
    quantity::{DayNo, Portion, State},
    rotation::{Batch, BatchId, Draw, EaterId, MealtimeId, Rotation, Serving, Slot, Source, TwinServing},
};

const LUNCH: u8 = 2;
const SUPPER: u8 = 1;

fn slot(day: i16, mealtime: u8) -> Slot {
    Slot { day: DayNo(day), mealtime: MealtimeId(mealtime) }
}

/// "stewed spiced braise hot purple pork potato": texture, family, method, heat, colour, protein, starch; "-" leaves one out.
fn profile(words: &str) -> Profile {
    let w: Vec<String> = words.split(' ').map(tranche_capital).collect();
    let set = |word: &str| if word == "-" { "[]".to_string() } else { format!("[({word}, 1.0)]") };
    let one = |word: &str| if word == "-" { "None".to_string() } else { format!("Some({word})") };
    let text = format!(
        "(texture: {}, family: {}, method: {}, heat: {}, colour: {}, protein: {}, starch: {})",
        set(&w[0]),
        set(&w[1]),
        set(&w[2]),
        one(&w[3]),
        set(&w[4]),
        one(&w[5]),
        one(&w[6])
    );
    ron::from_str(&text).unwrap_or_else(|e| panic!("{words}: {e}"))
}

fn tranche_capital(word: &str) -> String {
    word[..1].to_uppercase() + &word[1..]
}

fn dish(id: &str, words: &str) -> Arc<Dish> {
    let plain = support::dishes().into_iter().find(|d| d.id.as_str() == "wedges").expect("the test dish");
    let name = tranche_capital(&id.replace('-', " "));
    Arc::new(Dish { id: tranche::book::DishId::new(id).expect("a slug"), name, profile: profile(words), ..(*plain).clone() })
}

/// Serves `grams` of a fresh batch of `dish`.
fn serve(r: &mut Rotation, at: Slot, dish: &Arc<Dish>, grams: u32) -> BatchId {
    let id = r.next_batch_id();
    r.dishes.insert(dish.id.clone(), dish.clone());
    let part = r.kind.parts[1].id.clone();
    let portion = Portion::of(State::Prepared, grams);
    r.batches.push(Batch {
        id,
        dish: dish.id.clone(),
        day: at.day,
        draws: vec![Draw { from: Source::Part(part), portion, cut_on: None }],
    });
    serve_again(r, at, id, grams);
    id
}

fn serve_again(r: &mut Rotation, at: Slot, batch: BatchId, grams: u32) {
    let portion = Portion::of(State::Prepared, grams);
    let serving = Serving { batch, portion, eaters: vec![], twins: vec![] };
    r.meals.entry(at).or_default().servings.push(serving);
}

/// Suppers on these days, each a dish of its own.
fn suppers(meals: &[(i16, &str)]) -> Rotation {
    let mut r = support::plan();
    r.days = 31;
    for (i, (day, words)) in meals.iter().enumerate() {
        serve(&mut r, slot(*day, SUPPER), &dish(&format!("dish-{}", i + 1), words), 200);
    }
    r
}

fn neighbours(meals: &[&str]) -> Rotation {
    let days: Vec<(i16, &str)> = meals.iter().enumerate().map(|(i, w)| (i as i16 + 1, *w)).collect();
    let mut r = suppers(&days);
    r.days = 7;
    r
}

fn verdicts(v: &Variety) -> Vec<Verdict> {
    v.pairs.iter().map(|p| p.verdict).collect()
}

fn run_days(v: &Variety, of: RunOf) -> Vec<i16> {
    v.runs.iter().filter(|r| r.of == of).map(|r| r.ends.day.0).collect()
}

fn texts(findings: &[Finding], code: Code) -> Vec<&str> {
    findings.iter().filter(|f| f.code == code).map(|f| f.text.as_str()).collect()
}

use Verdict::{Caution, Fine, Warn};
use tranche::book::{Family::*, Texture::*};

/// Red cabbage, well planned: slaw, wedges, rolls, pancakes.
const CABBAGE: [&str; 4] = [
    "crisp sharp raw chilled purple fish bread",
    "charred smoky roast hot purple pulses flatbread",
    "stewed tomato braise hot red beef rice",
    "crunchy umami fry hot purple egg none",
];

#[test]
fn a_well_spread_week_draws_no_word() {
    let (v, findings) = variety(&neighbours(&CABBAGE));
    assert_eq!(verdicts(&v), [Fine; 3]);
    assert!(findings.is_empty(), "{findings:?}");
    assert!(v.pairs.iter().all(|p| p.eater.is_none()));
    assert_eq!(v.distinct.meals, 4);
    assert!(v.distinct.feel_like > 3.3, "{}", v.distinct.feel_like);
}

#[test]
fn a_reheated_roll_for_one_is_told_to_that_one_alone() {
    let mut r = neighbours(&CABBAGE);
    r.household.eaters.push(support::eater(3, "Kim"));
    let rolls = r.meal(slot(3, SUPPER)).servings[0].batch;
    serve_again(&mut r, slot(4, LUNCH), rolls, 50);
    r.meals.get_mut(&slot(4, LUNCH)).expect("the lunch").present = Some(vec![EaterId(2)]);
    let (v, findings) = variety(&r);
    assert_eq!(findings.len(), 1, "{findings:?}");
    let only = &findings[0];
    assert_eq!((only.severity, only.code, only.eater), (Severity::Warn, Code::TooAlike, Some(EaterId(2))));
    assert_eq!((only.meal, only.other), (Some(slot(4, LUNCH)), Some(slot(3, SUPPER))));
    assert!(
        only.text
            .starts_with("Thursday lunch is too like Wednesday supper for Ben: Dish 3 again, both stewed, both taste of tomato"),
        "{}",
        only.text
    );
    // Ben's supper is compared with the lunch, the others' with Wednesday's supper.
    let last: Vec<&Pair> = v.pairs.iter().filter(|p| p.second == slot(4, SUPPER)).collect();
    assert_eq!(last.len(), 3);
    for pair in last {
        let first = if pair.eater == Some(EaterId(2)) { slot(4, LUNCH) } else { slot(3, SUPPER) };
        assert_eq!((pair.first, pair.verdict), (first, Fine));
    }
    let meals: Vec<usize> = v.distinct_by_eater.iter().map(|(_, d)| d.meals).collect();
    assert_eq!(meals, [4, 5, 4]);
    assert_eq!(v.distinct.meals, 5);
}

#[test]
fn a_tired_week_is_warned_of_pair_by_pair_and_as_a_run() {
    let (v, findings) = variety(&neighbours(&[
        "stewed spiced braise hot purple pork potato",
        "stewed spiced braise hot purple beef potato",
        "stewed spiced braise hot purple beef rice",
        "crisp sharp raw chilled purple cured bread",
    ]));
    assert_eq!(verdicts(&v), [Warn, Warn, Fine]);
    assert_eq!(run_days(&v, RunOf::Texture(Stewed)), [3]);
    assert_eq!(run_days(&v, RunOf::Family(Spiced)), [3]);
    assert_eq!(run_days(&v, RunOf::HotSoft), [3]);
    assert_eq!(v.runs.len(), 3);
    assert_eq!(texts(&findings, Code::RunTexture), ["Wednesday supper is the third stewed meal running"]);
    assert_eq!(texts(&findings, Code::RunFamily), ["Wednesday supper is the third spiced-flavoured meal running"]);
    assert_eq!(texts(&findings, Code::RunHotSoft), ["Wednesday supper is the third hot and soft meal running"]);
    assert!(v.distinct.feel_like < 2.3, "{}", v.distinct.feel_like);
}

#[test]
fn a_run_of_four_is_said_at_the_third_and_the_fourth() {
    let fish = "flaky herbal bake hot pink none potato";
    let (v, findings) = variety(&neighbours(&[fish, fish, fish, "flaky herbal bake chilled pink none potato"]));
    assert_eq!(verdicts(&v), [Warn; 3]);
    assert_eq!(run_days(&v, RunOf::Texture(Flaky)), [3, 4]);
    assert_eq!(run_days(&v, RunOf::Family(Herbal)), [3, 4]);
    assert_eq!(v.runs.len(), 4);
    assert!(texts(&findings, Code::RunTexture)[1].contains("is the fourth flaky meal running"));
}

#[test]
fn hot_and_soft_runs_over_different_textures() {
    let (v, _) = variety(&neighbours(&[
        "stewed tomato stew hot red - pasta",
        "smooth tomato boil hot red - bread",
        "stewed tomato bake hot red - pasta",
        "stewed tomato stew hot red - pasta",
    ]));
    assert_eq!(run_days(&v, RunOf::HotSoft), [3, 4]);
    assert_eq!(run_days(&v, RunOf::Family(Tomato)), [3, 4]);
    assert!(run_days(&v, RunOf::Texture(Stewed)).is_empty(), "soup between breaks the texture's run");
    assert_eq!(v.pairs[2].verdict, Warn);
}

#[test]
fn a_rest_between_softens_and_two_clear() {
    let stew = "stewed mild stew hot white none rice";
    let curry = "stewed curry stew hot yellow none rice";
    let verdict = |gap: i16| variety(&suppers(&[(1, stew), (1 + gap, curry)])).0.pairs[0].verdict;
    assert_eq!(verdict(1), Warn);
    assert_ne!(verdict(2), Warn);
    assert_eq!(verdict(3), Fine);
    // Three stewed meals with a rest between are no run.
    let (v, _) = variety(&suppers(&[(1, stew), (2, curry), (4, stew)]));
    assert!(v.runs.is_empty(), "{:?}", v.runs);
}

#[test]
fn an_eater_who_was_away_compares_with_what_they_ate() {
    let stew = "stewed mild stew hot white none rice";
    let mut r = neighbours(&[stew, "stewed mild boil hot white none rice"]);
    r.meals.get_mut(&slot(1, SUPPER)).expect("the meal").present = Some(vec![EaterId(1)]);
    let (v, findings) = variety(&r);
    assert_eq!(v.pairs.len(), 1);
    assert_eq!(v.pairs[0].eater, Some(EaterId(1)), "it does not hold for Ben, who eats the later meal");
    assert_eq!(findings.len(), 1);
    assert!(findings[0].text.contains("for Ann: both stewed"), "{}", findings[0].text);
}

#[test]
fn a_twin_without_the_piece_is_a_rest() {
    let stew = "stewed mild stew hot white none rice";
    let mut r = support::plan();
    let mut with_twin = (*dish("fish-stew", stew)).clone();
    with_twin.twins = vec![Twin {
        name: "tofu".into(),
        holds_piece: false,
        diet: Default::default(),
        allergens: vec![],
        protein: None,
        without_forms: vec![],
        companions: vec![],
    }];
    let first = serve(&mut r, slot(1, SUPPER), &Arc::new(with_twin), 200);
    serve(&mut r, slot(2, SUPPER), &dish("other-stew", stew), 200);
    r.meals.get_mut(&slot(1, SUPPER)).expect("the meal").servings[0].twins =
        vec![TwinServing { eater: EaterId(2), twin: "tofu".into() }];
    let (v, findings) = variety(&r);
    assert_eq!(v.pairs.iter().map(|p| p.eater).collect::<Vec<_>>(), [Some(EaterId(1))]);
    assert_eq!(findings[0].eater, Some(EaterId(1)));
    assert_eq!(r.meal(slot(1, SUPPER)).servings[0].batch, first);
}

#[test]
fn the_main_dish_is_the_one_of_most_grams_and_a_bank_only_where_there_is_nothing_else() {
    let mut r = support::plan();
    let stew = dish("stew", "stewed mild stew hot white none rice");
    let slaw = dish("slaw-a", "crisp sharp raw chilled purple fish bread");
    let pickle =
        Arc::new(Dish { role: Role::Bank, ..(*dish("pickle-a", "crisp sharp pickle chilled purple none none")).clone() });
    serve(&mut r, slot(1, SUPPER), &stew, 200);
    serve(&mut r, slot(1, SUPPER), &slaw, 60);
    serve(&mut r, slot(2, SUPPER), &pickle, 400);
    serve(&mut r, slot(2, SUPPER), &stew, 100);
    let (v, _) = variety(&r);
    assert_eq!(v.pairs[0].likeness, Some(1.0), "stew against stew, by neither slaw nor pickle");
    let mut r = support::plan();
    serve(&mut r, slot(1, SUPPER), &pickle, 100);
    assert_eq!(variety(&r).0.distinct.meals, 1);
}

#[test]
fn the_same_dish_comes_back_by_name_within_two_weeks() {
    let stew = dish("stew", "stewed mild stew hot white none rice");
    let again = |gap: i16, fresh: bool| {
        let mut r = suppers(&[]);
        let first = serve(&mut r, slot(1, SUPPER), &stew, 200);
        if fresh {
            serve(&mut r, slot(1 + gap, SUPPER), &stew, 200);
        } else {
            serve_again(&mut r, slot(1 + gap, SUPPER), first, 100);
        }
        variety(&r).1
    };
    let findings = again(10, true);
    assert_eq!(findings.len(), 1);
    assert_eq!((findings[0].code, findings[0].severity), (Code::SameDish, Severity::Caution));
    assert_eq!(findings[0].text, "Thursday 17 supper is Stew again, 10 days after Monday 7 supper");
    assert_eq!(again(14, true).len(), 1);
    assert!(again(15, true).is_empty());
    assert!(again(10, false).is_empty(), "a second serving is no fresh cooking");
    let near = again(1, true);
    assert_eq!(near.iter().map(|f| f.code).collect::<Vec<_>>(), [Code::TooAlike], "said once, as too alike");
}

#[test]
fn moving_both_meals_together_keeps_an_overruled_warning_silent() {
    let stew = "stewed mild stew hot white none rice";
    let key = |days: [i16; 2]| variety(&suppers(&[(days[0], stew), (days[1], stew)])).1[0].key.clone();
    assert_eq!(key([1, 2]), key([5, 6]));
    assert_eq!(key([1, 2]).0, "likeness/dish-1>dish-2");
    // The same two dishes once more in another week are another cause.
    let mut r = suppers(&[(1, stew), (2, stew)]);
    let dishes: Vec<Arc<Dish>> = r.dishes.values().cloned().collect();
    serve(&mut r, slot(20, SUPPER), &dishes[0], 200);
    serve(&mut r, slot(21, SUPPER), &dishes[1], 200);
    let keys: Vec<String> = variety(&r).1.iter().filter(|f| f.code == Code::TooAlike).map(|f| f.key.0.clone()).collect();
    assert_eq!(keys, ["likeness/dish-1>dish-2", "likeness/dish-1>dish-2#2"]);
}

#[test]
fn what_nobody_described_is_left_out_and_said() {
    let r = neighbours(&[CABBAGE[0], "- - - - - - -", CABBAGE[2]]);
    let (v, findings) = variety(&r);
    assert_eq!((v.distinct.meals, v.distinct.left_out), (2, 1));
    assert_eq!(verdicts(&v), [Verdict::Unknown; 2]);
    assert_eq!(findings.len(), 1);
    assert_eq!((findings[0].code, findings[0].severity), (Code::NotDescribed, Severity::Note));
    assert_eq!(findings[0].text, "Tuesday supper: too little is said of how Dish 2 eats to compare it with other meals");
}

#[test]
fn an_empty_plan_has_nothing_to_say() {
    let (v, findings) = variety(&support::plan());
    assert!(v.pairs.is_empty() && v.runs.is_empty() && findings.is_empty());
    assert_eq!((v.distinct.meals, v.distinct.feel_like), (0, 0.0));
    assert_eq!(feels_like(&support::plan(), 0.0).meals, 0);
}

#[test]
fn the_order_of_days_changes_warnings_and_never_the_count() {
    let stew = "stewed mild stew hot white none rice";
    let (near, far) = (neighbours(&[stew, stew, CABBAGE[0]]), neighbours(&[stew, CABBAGE[0], stew]));
    let (a, b) = (variety(&near).0, variety(&far).0);
    assert!((a.distinct.feel_like - b.distinct.feel_like).abs() < 1e-12);
    assert_ne!(verdicts(&a), verdicts(&b));
    assert!(feels_like(&near, 0.0).feel_like >= a.distinct.feel_like - 1e-12);
}

#[test]
fn getting_alike_is_a_caution_in_words() {
    let (v, findings) =
        variety(&neighbours(&["crisp sharp raw chilled red none bread", "smooth sharp blend chilled red egg none"]));
    assert_eq!(verdicts(&v), [Caution]);
    assert_eq!(findings[0].severity, Severity::Caution);
    assert_eq!(findings[0].text, "Tuesday supper is getting like Monday supper: both sharp in flavour, both red, both cold");
}

#[test]
fn a_month_of_four_meals_a_day_for_eight_is_judged_at_once() {
    // The goal for all findings together is 10 ms with the optimiser on; this asks a generous bound of one judge without it.
    let mut r = support::plan();
    r.days = 31;
    r.mealtimes.push(tranche::rotation::Mealtime { id: MealtimeId(3), name: "breakfast".into(), at: None });
    r.mealtimes.push(tranche::rotation::Mealtime { id: MealtimeId(4), name: "tea".into(), at: None });
    r.household.eaters = (1..=8).map(|i| support::eater(i, &format!("Eater {i}"))).collect();
    let words = ["crisp", "stewed", "charred", "smooth", "flaky", "crunchy"];
    let mut n = 0;
    for day in 1..=31 {
        for mealtime in 1..=4 {
            n += 1;
            let spec = format!("{} {} bake hot red fish rice", words[n % 6], ["sharp", "mild", "curry", "smoky"][n % 4]);
            serve(&mut r, slot(day, mealtime), &dish(&format!("dish-{n}"), &spec), 20);
            // Everybody is away somewhere, so that no two eaters have the same list.
            let away = EaterId((n % 9) as u16);
            let present = (1..=8).map(EaterId).filter(|e| *e != away).collect();
            r.meals.get_mut(&slot(day, mealtime)).expect("just served").present = Some(present);
        }
    }
    let started = std::time::Instant::now();
    let (v, findings) = variety(&r);
    let took = started.elapsed();
    assert_eq!(v.distinct.meals, 124);
    assert!(!findings.is_empty());
    println!("{} findings, {} pairs in {took:?}", findings.len(), v.pairs.len());
    assert!(took.as_millis() < 500, "{took:?}");
}
