//! Do a household's habits, its journal and its seasons reach the judges, and are their files read without trust?

#[path = "support/weeks.rs"]
mod weeks;

use jiff::{ToSpan as _, civil::date};
use std::{fs, path::Path, process::Command};
use tranche::{
    book::{Book, DishId, Profile},
    judge::{
        Axis, Chosen, Code, Finding, Habits, Hemisphere, Home, LINE_WARN, Weights, judge, judge_at_home,
        learning::{DishEaten, MAX_ANSWERS, Said, Standing, TwoMeals, observations_of_journal},
        mends_at_home,
    },
    quantity::Days,
    rotation::{EatenMeal, EaterId, Edit, Heard, Rotation, apply, as_eaten},
    store::{Places, load_habits, load_journal, save_habits, save_journal},
};
use weeks::{supper, week};

fn book() -> Book {
    Book::shipped().unwrap_or_else(|e| panic!("{e}"))
}

fn profile(dish: &str) -> Profile {
    book().dish(&DishId::new(dish).expect("a slug")).unwrap_or_else(|| panic!("no {dish}")).profile.clone()
}

/// A dish eaten so many days before the plan begins.
fn before(plan: &Rotation, days: i64, dish: &str, eaters: &[&str]) -> EatenMeal {
    EatenMeal {
        on: plan.first_day.checked_sub(days.days()).expect("a date"),
        mealtime: "supper".into(),
        dish: None,
        name: dish.into(),
        profile: Profile::default(),
        eaters: eaters.iter().map(|e| e.to_string()).collect(),
        eaten: None,
        wasted: None,
        heard: None,
    }
}

fn at_home(eaten: Vec<EatenMeal>) -> Home {
    Home { eaten, ..Home::default() }
}

fn of(findings: &[Finding], code: Code) -> Vec<&Finding> {
    findings.iter().filter(|f| f.code == code).collect()
}

fn pair(earlier: &str, later: &str, gap: i16) -> TwoMeals {
    let eaten = |dish: &str| DishEaten { name: dish.into(), profile: profile(dish) };
    TwoMeals { earlier: eaten(earlier), later: eaten(later), gap: Days(gap) }
}

#[test]
fn a_blank_home_judges_as_no_home_does() {
    for name in ["red-cabbage-mended", "turkey-unhappy", "tomatoes-mended", "celeriac-unhappy"] {
        let plan = week(name);
        let blank = Home::of(&Habits::default(), Vec::new());
        assert_eq!(blank, Home::default());
        assert_eq!(judge_at_home(&plan, &blank), judge(&plan), "{name}");
    }
}

#[test]
fn the_same_dish_within_fourteen_days_is_known_by_name_from_the_journal() {
    let plan = week("red-cabbage-mended");
    let slaw = plan.dish_of(plan.meal(supper(1)).servings[0].batch).expect("a dish").name.clone();
    let told = |days: i64, name: &str| {
        let home = at_home(vec![before(&plan, days, name, &[])]);
        let findings = judge_at_home(&plan, &home).findings;
        of(&findings, Code::SameDish).into_iter().cloned().collect::<Vec<_>>()
    };
    for days in [1, 9, 14] {
        let found = told(days, &slaw.to_uppercase());
        assert_eq!(found.len(), 1, "{days} days before");
        assert_eq!((found[0].meal, found[0].other), (Some(supper(1)), None));
    }
    assert!(told(9, &slaw)[0].text.contains("9 days after Saturday 28 supper, eaten before"), "{}", told(9, &slaw)[0].text);
    assert_eq!(told(15, &slaw), []);
    assert_eq!(told(0, &slaw), [], "what lies within the plan is told by the plan");
    assert_eq!(told(3, "Something else"), []);
    // By id, whatever it was called then.
    let mut other_name = before(&plan, 3, "That slaw", &[]);
    other_name.dish = plan.dish_of(plan.meal(supper(1)).servings[0].batch).map(|d| d.id.clone());
    assert_eq!(of(&judge_at_home(&plan, &at_home(vec![other_name])).findings, Code::SameDish).len(), 1);
}

#[test]
fn what_was_eaten_the_evening_before_counts_for_those_who_ate_it() {
    let plan = week("red-cabbage-mended");
    let mut slaw = before(&plan, 1, "Another slaw", &["kim "]);
    slaw.profile = plan.dish_of(plan.meal(supper(1)).servings[0].batch).expect("a dish").profile.clone();
    let findings = judge_at_home(&plan, &at_home(vec![slaw.clone()])).findings;
    let found: Vec<&Finding> = of(&findings, Code::TooAlike).into_iter().filter(|f| f.meal == Some(supper(1))).collect();
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].eater, found[0].other), (Some(EaterId(3)), None));
    assert!(found[0].text.starts_with("Monday supper is too like Sunday 6 supper, eaten before for Kim"), "{}", found[0].text);
    // A week away it has faded.
    slaw.on = plan.first_day.checked_sub(7.days()).expect("a date");
    let findings = judge_at_home(&plan, &at_home(vec![slaw])).findings;
    assert!(of(&findings, Code::TooAlike).iter().all(|f| f.meal != Some(supper(1))));
    // The count of meals is that of the plan.
    let (with, without) = (judge_at_home(&plan, &at_home(vec![before(&plan, 1, "Soup", &[])])), judge(&plan));
    assert_eq!(with.variety.distinct, without.variety.distinct);
    assert_eq!(with.variety.distinct_by_eater, without.variety.distinct_by_eater);
    assert_eq!(with.variety.pairs, without.variety.pairs);
}

#[test]
fn a_run_begun_before_the_plan_goes_on_into_it() {
    let plan = week("red-cabbage-unhappy");
    let runs = |home: &Home| judge_at_home(&plan, home).variety.runs;
    let first = |runs: &[tranche::judge::Run]| runs.iter().map(|r| plan.time_rank(r.ends)).min();
    assert_eq!(first(&runs(&Home::default())).map(|r| r.0.0), Some(3));
    let mut braise = before(&plan, 1, "Braise", &[]);
    braise.profile = plan.dish_of(plan.meal(supper(1)).servings[0].batch).expect("a dish").profile.clone();
    let with = runs(&at_home(vec![braise.clone()]));
    assert_eq!(first(&with).map(|r| r.0.0), Some(2), "Sunday, Monday, Tuesday: {with:?}");
    assert!(with.iter().all(|r| r.ends.day.0 >= 1), "no run ends before the plan");
    let away = at_home(vec![EatenMeal { eaters: vec!["Nobody of ours".into()], ..braise }]);
    assert_eq!(runs(&away), runs(&Home::default()));
}

#[test]
fn mends_know_what_was_eaten_before() {
    let plan = week("red-cabbage-mended");
    let slaw = plan.dish_of(plan.meal(supper(1)).servings[0].batch).expect("a dish").clone();
    let home = at_home(vec![EatenMeal { profile: slaw.profile.clone(), ..before(&plan, 1, &slaw.name, &[]) }]);
    let findings = judge_at_home(&plan, &home).findings;
    let finding = findings.iter().find(|f| f.code == Code::TooAlike && f.speaks()).expect("slaw after slaw");
    let mends = mends_at_home(&plan, &book(), finding, &home);
    assert!(!mends.is_empty());
    for mend in mends {
        let after = judge_at_home(&apply(&plan, &mend.edit).expect("it applies").rotation, &home).findings;
        assert!(after.iter().all(|f| f.key != finding.key || !f.speaks()), "{}", mend.words);
    }
}

#[test]
fn what_a_plan_served_can_be_written_down_as_eaten() {
    let plan = week("red-cabbage-mended");
    let eaten = as_eaten(&plan, supper(4));
    let names: Vec<&str> = eaten.iter().map(|m| m.name.as_str()).collect();
    assert_eq!(names.len(), 2, "pancakes and the pickle: {names:?}");
    assert_eq!(eaten[0].on, date(2026, 12, 10));
    assert_eq!(eaten[0].eaters, ["Asta", "Bo", "Kim"]);
    assert_eq!(as_eaten(&plan, weeks::lunch(1)), []);
}

#[test]
fn two_cold_suppers_in_frost_draw_a_caution_where_the_household_lives() {
    let mut plan = week("tomatoes-mended");
    let told = |plan: &Rotation, hemisphere| {
        let home = Home { hemisphere, ..Home::default() };
        let findings = judge_at_home(plan, &home).findings;
        let of = |code| of(&findings, code).into_iter().map(|f| (f.meal, f.text.clone())).collect::<Vec<_>>();
        (of(Code::ColdInFrost), of(Code::OvenInHeat))
    };
    // Bread salad and chilled soup follow each other; sauce and eggs need the oven.
    let (cold, oven) = told(&plan, Some(Hemisphere::Northern));
    assert_eq!(cold, [], "August");
    assert_eq!(oven.len(), 2, "{oven:?}");
    assert!(oven[1].1.starts_with("Tuesday needs the oven for"), "{oven:?}");
    assert_eq!(told(&plan, None), (vec![], vec![]));
    let (cold, oven) = told(&plan, Some(Hemisphere::Southern));
    assert_eq!((cold.len(), oven.len()), (1, 0), "August is winter there");
    plan.first_day = date(2026, 11, 21);
    let (cold, oven) = told(&plan, Some(Hemisphere::Northern));
    assert_eq!(cold.len(), 1, "{cold:?}");
    assert_eq!(cold[0].0, Some(supper(3)));
    assert_eq!(cold[0].1, "Monday supper is cold and so was Sunday lunch, and this is November");
    assert_eq!(oven, []);
}

#[test]
fn a_season_can_be_overruled_with_a_reason_and_taken_back() {
    let plan = week("tomatoes-mended");
    let home = Home { hemisphere: Some(Hemisphere::Northern), ..Home::default() };
    let speaks =
        |plan: &Rotation| of(&judge_at_home(plan, &home).findings, Code::OvenInHeat).iter().filter(|f| f.speaks()).count();
    let key = of(&judge_at_home(&plan, &home).findings, Code::OvenInHeat)[0].key.clone();
    let left =
        apply(&plan, &Edit::Overrule { finding: key.clone(), reason: "the cellar kitchen is cool".into() }).expect("a reason");
    assert_eq!((speaks(&plan), speaks(&left.rotation)), (2, 1));
    let back = apply(&left.rotation, &Edit::TakeBackOverrule(key)).expect("taken back");
    assert_eq!(speaks(&back.rotation), 2);
}

#[test]
fn answers_move_the_line_and_each_can_be_taken_back() {
    let mut habits = Habits::default();
    let dishes: Vec<String> = book().dishes().map(|d| d.id.to_string()).collect();
    // A household that minds nothing: pairs that the usual line calls too alike are all fine.
    let mut ids = Vec::new();
    for dish in dishes.iter().step_by(9).take(12) {
        ids.push(habits.answer(date(2026, 11, 1), Said::Fine(pair(dish, dish, 1))));
    }
    let learned = habits.learned(&[]);
    assert_eq!(learned.standing, Standing::Learned);
    let patient = habits.patience(&learned);
    assert!(patient.lines.warn > LINE_WARN, "{:?}", patient.lines);
    assert!(learned.says().contains(&"you bear a little more likeness than most".to_string()), "{:?}", learned.says());
    let one = habits.clone();
    let more = habits.answer(date(2026, 11, 2), Said::TooAlike(pair(&dishes[0], &dishes[1], 1)));
    assert!(habits.take_back(more) && !habits.take_back(more));
    assert_eq!(habits.learned(&[]), one.learned(&[]));
    for id in ids {
        assert!(habits.take_back(id));
    }
    assert_eq!(Home::of(&habits, Vec::new()), Home::default());
}

#[test]
fn no_more_answers_are_kept_than_can_be_read_back() {
    let (folder, mut habits) = (tempfile::tempdir().unwrap(), Habits::default());
    let any = pair("fruit-crumble", "fruit-crumble", 1);
    let first = habits.answer(date(2026, 1, 1), Said::Fine(any.clone()));
    for _ in 0..MAX_ANSWERS {
        habits.answer(date(2026, 1, 1), Said::Fine(any.clone()));
    }
    assert!(habits.answers.len() == MAX_ANSWERS && habits.answers.iter().all(|a| a.id != first));
    let places = Places::under(folder.path());
    save_habits(&places, &habits).expect("it is written");
    assert_eq!(load_habits(&places), (habits, None));
}

#[test]
fn a_ranking_gives_each_axis_the_usual_weight_of_its_place() {
    let chosen = Chosen::Ranking(vec![Axis::Starch, Axis::Colour]);
    let weights = chosen.weights();
    assert_eq!(weights.0[Axis::Starch as usize], 0.22);
    assert_eq!(weights.0[Axis::Colour as usize], 0.16);
    assert_eq!(weights.0[Axis::Texture as usize], 0.12);
    assert_eq!(Chosen::Ranking(vec![]).weights(), Weights::default());
    assert_eq!(Chosen::Weights(Axis::ALL.map(|a| (a, 0.0)).to_vec()).weights(), Weights::default(), "nothing is no choice");
    let habits = Habits { chosen: Some(chosen), ..Habits::default() };
    assert_eq!(habits.patience(&habits.learned(&[])).weights, weights);
}

#[test]
fn silence_is_heard_once_there_are_answers_and_never_beside_one() {
    let plan = week("red-cabbage-mended");
    let eaten =
        |days: i64, dish: &str, heard| EatenMeal { profile: profile(dish), heard, ..before(&plan, days, dish, &["Asta"]) };
    let journal = vec![
        eaten(5, "fruit-crumble", None),
        eaten(4, "dry-potato-curry", None),
        eaten(3, "fruit-crumble", Some(Heard::TooAlike)),
        eaten(2, "dry-potato-curry", Some(Heard::NotAgain)),
    ];
    let (base, kernel) = (Weights::default(), Habits::default().kernel());
    assert_eq!(observations_of_journal(&journal, &[], &base, &kernel).len(), 2, "one silence, one complaint");
    let mut habits = Habits::default();
    assert_eq!(habits.learned(&journal).observations, 0, "silence alone teaches nothing");
    habits.answer(journal[1].on, Said::Fine(pair("fruit-crumble", "dry-potato-curry", 1)));
    assert_eq!(habits.learned(&journal).observations, 2, "the answer, and the complaint; not the silence that was answered");
    let strangers = vec![journal[0].clone(), EatenMeal { eaters: vec!["Bo".into()], ..journal[1].clone() }];
    assert_eq!(observations_of_journal(&strangers, &[], &base, &kernel), [], "nobody ate both");
}

#[test]
fn habits_and_journal_come_back_as_they_were() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    assert_eq!((load_habits(&places), load_journal(&places)), ((Habits::default(), None), (vec![], None)));
    let mut habits = Habits {
        half_life: Some(2.5),
        chosen: Some(Chosen::Weights(vec![(Axis::Colour, 0.4), (Axis::Heat, 0.0)])),
        hemisphere: Some(Hemisphere::Southern),
        answers: vec![],
    };
    habits.answer(date(2026, 2, 28), Said::TooAlike(pair("fruit-crumble", "dry-potato-curry", 0)));
    let (more, less) = (pair("fruit-crumble", "fruit-crumble", 1), pair("dry-potato-curry", "fruit-crumble", 3));
    habits.answer(date(2026, 3, 1), Said::MoreAlike(more.into(), less.into()));
    save_habits(&places, &habits).expect("it is written");
    assert_eq!(load_habits(&places), (habits.clone(), None));
    let text = fs::read_to_string(places.data.join("habits.ron")).unwrap();
    assert!(text.starts_with("(\n    version: 1,\n    half_life_days: Some(2.5),"), "{text}");
    let plan = week("red-cabbage-mended");
    let mut journal: Vec<EatenMeal> = plan.slots().flat_map(|s| as_eaten(&plan, s)).collect();
    journal[0].heard = Some(Heard::Again);
    journal[1].wasted = journal[1].eaten;
    save_journal(&places, &journal).expect("it is written");
    assert_eq!(load_journal(&places), (journal, None));
    assert_eq!(habits.answers[0].said.words(), "fruit-crumble, then dry-potato-curry on the same day: too alike");
}

#[test]
fn a_broken_file_is_told_in_one_sentence_and_kept() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    fs::create_dir_all(&places.data).unwrap();
    let answer = |id: u32, gap: &str, grade: &str| {
        let dish = format!("(name: \"a\", profile: (texture: [(Crisp, {grade})]))");
        format!("(id: {id}, on: \"2026-01-01\", said: Fine((earlier: {dish}, later: {dish}, gap: {gap})))")
    };
    let good = answer(1, "1", "1.0");
    for (text, says) in [
        ("(version: 1, half_life_days: Some(9.0))".to_string(), "from 1 to 3"),
        ("(version: 1, half_life_days: Some(NaN))".into(), "from 1 to 3"),
        ("(version: 1, chosen: Some(Ranking([texture, texture])))".into(), "twice"),
        ("(version: 1, chosen: Some(Weights([(colour, -1.0)])))".into(), "weight of colour"),
        ("(version: 1, chosen: Some(Weights([(colour, inf)])))".into(), "weight of colour"),
        ("(version: 1, chosen: Some(Ranking([smell])))".into(), "line 1"),
        (format!("(version: 1, answers: [{good}, {good}])"), "twice"),
        (format!("(version: 1, answers: [{}])", answer(1, "-3", "1.0")), "0 to 365"),
        (format!("(version: 1, answers: [{}])", answer(1, "1", "7.5")), "grade of texture"),
        (format!("(version: 1, answers: [{}])", answer(1, "70000", "1.0")), "line 1"),
        ("(version: 1, answers: [], spy: true)".into(), "spy"),
        ("(version: 9)".into(), "newer"),
        ("(answers: [])".into(), "version"),
        ("(version: 1, answers: [".into(), "line 1"),
        ("\u{0}".into(), "no text"),
        ("((((((((".into(), "version"),
    ] {
        let path = places.data.join("habits.ron");
        fs::write(&path, &text).unwrap();
        let (habits, aside) = load_habits(&places);
        assert_eq!(habits, Habits::default(), "{text}");
        let aside = aside.unwrap_or_else(|| panic!("{text} was taken"));
        let said = aside.to_string();
        assert!(said.contains(says) && said.lines().count() == 1, "{text}: {said}");
        assert_eq!(fs::read_to_string(aside.kept.expect("a copy")).unwrap(), text);
        assert_eq!(fs::read_to_string(&path).unwrap(), text, "it stays where it was");
    }
    let meal = |more: &str| format!("(version: 1, meals: [(on: \"2026-01-01\", mealtime: \"supper\", name: \"a\"{more})])");
    for (text, says) in [
        (meal(", taste: 3"), "taste"),
        (meal(", profile: (taste: Some((sweet: 200)))"), "grade of taste"),
        (meal(", eaten: Some(Cooked(-5))"), "line 1"),
        (meal(", heard: Some(Yum)"), "Yum"),
        (meal("").replace("2026-01-01", "2026-02-30"), "not a date"),
        (meal("").replace("\"a\"", "\"a\\u{7}\""), "control character"),
    ] {
        fs::write(places.data.join("journal.ron"), &text).unwrap();
        let (journal, aside) = load_journal(&places);
        let said = aside.unwrap_or_else(|| panic!("{text} was taken")).to_string();
        assert!(journal.is_empty() && said.contains(says) && said.lines().count() == 1, "{text}: {said}");
    }
    fs::write(places.data.join("journal.ron"), meal("")).unwrap();
    assert_eq!(load_journal(&places).0.len(), 1, "the plain one is good");
}

#[test]
fn check_and_report_go_by_the_household_unless_told_not_to() {
    let folder = tempfile::tempdir().unwrap();
    let data = folder.path().join("data");
    let places = Places { config: folder.path().join("c"), data: data.join("tranche"), state: folder.path().join("s") };
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/red-cabbage-mended.rotation.ron");
    let run = |args: &[&str]| {
        let out = Command::new(env!("CARGO_BIN_EXE_tranche"))
            .env_clear()
            .env("HOME", folder.path())
            .env("XDG_DATA_HOME", &data)
            .arg(args[0])
            .arg(&file)
            .args(&args[1..])
            .output()
            .unwrap();
        (String::from_utf8(out.stdout).unwrap(), String::from_utf8(out.stderr).unwrap(), out.status.code())
    };
    let usual = run(&["check"]);
    assert_eq!(usual, run(&["check", "--usual"]));
    let plan = week("red-cabbage-mended");
    let eaten = EatenMeal { profile: profile("sharp-slaw-pear-mustard"), ..before(&plan, 1, "Slaw", &[]) };
    save_journal(&places, &[eaten]).expect("it is written");
    let with = run(&["check"]);
    assert!(with.0.contains("too like Sunday 6 supper, eaten before") && with.2 == Some(3), "{with:?}");
    assert!(run(&["report", "--json"]).0.contains("eaten before"));
    assert_eq!(run(&["check", "--usual"]), usual);
    fs::write(places.data.join("habits.ron"), "(version: 1, half_life_days: Some(99.0))").unwrap();
    let broken = run(&["check"]);
    assert!(broken.1.contains("habits.ron") && broken.1.contains("from 1 to 3"), "{broken:?}");
    assert_eq!((broken.0, broken.2), (with.0, with.2), "it goes on without them");
}

#[test]
fn not_soon_holds_six_weeks_not_again_for_good_and_a_kinder_word_lifts_it() {
    let plan = week("red-cabbage-mended");
    let dish = plan.dish_of(plan.meal(supper(1)).servings[0].batch).expect("a dish").name.clone();
    let said = |days: i64, heard: Heard| EatenMeal { heard: Some(heard), ..before(&plan, days, &dish, &["Kim"]) };
    let told = |eaten: Vec<EatenMeal>| -> Vec<Finding> {
        let findings = judge_at_home(&plan, &at_home(eaten)).findings;
        findings.into_iter().filter(|f| f.code == Code::Unwelcome).collect()
    };
    assert!(told(vec![said(43, Heard::NotSoon)]).is_empty(), "six weeks are over");
    let soon = told(vec![said(42, Heard::NotSoon)]);
    assert_eq!((soon.len(), soon[0].severity), (1, tranche::judge::Severity::Caution));
    assert_eq!(soon[0].eater.map(|e| plan.household.name(e)), Some("Kim"), "the others may have it");
    let never = told(vec![said(400, Heard::NotAgain)]);
    assert_eq!((never.len(), never[0].severity), (1, tranche::judge::Severity::Warn));
    assert!(never[0].text.contains("Kim said \u{201c}not again\u{201d} on"), "{}", never[0].text);
    assert!(told(vec![said(40, Heard::NotAgain), said(20, Heard::Again)]).is_empty(), "a kinder word lifts it");
    let silent = EatenMeal { heard: None, ..said(20, Heard::Again) };
    assert_eq!(told(vec![said(40, Heard::NotAgain), silent]).len(), 1, "eating it without a word does not");
    let stranger = EatenMeal { eaters: vec!["Nobody here".into()], ..said(20, Heard::NotAgain) };
    assert!(told(vec![stranger]).is_empty());
}

#[test]
fn what_is_said_of_a_meal_of_the_plan_counts_for_later_meals_not_for_itself() {
    let mut plan = week("red-cabbage-mended");
    let slot = supper(1);
    let serving = plan.meal(slot).servings[0].clone();
    let heard: Vec<EatenMeal> =
        as_eaten(&plan, slot).into_iter().map(|m| EatenMeal { heard: Some(Heard::NotSoon), ..m }).collect();
    let told = |plan: &Rotation| {
        let findings = judge_at_home(plan, &at_home(heard.clone())).findings;
        findings.iter().filter(|f| f.code == Code::Unwelcome).map(|f| f.meal).collect::<Vec<_>>()
    };
    assert!(told(&plan).is_empty(), "{:?}", told(&plan));
    let later = supper(2);
    plan.meals.entry(later).or_default().servings = vec![serving];
    assert_eq!(told(&plan), [Some(later)]);
}

#[test]
fn a_dish_that_somebody_never_wants_again_is_mended_by_another_dish_or_meal() {
    let plan = week("red-cabbage-mended");
    let dish = plan.dish_of(plan.meal(supper(1)).servings[0].batch).expect("a dish").name.clone();
    let home = at_home(vec![EatenMeal { heard: Some(Heard::NotAgain), ..before(&plan, 90, &dish, &[]) }]);
    let findings = judge_at_home(&plan, &home).findings;
    let finding = of(&findings, Code::Unwelcome)[0].clone();
    let mends = mends_at_home(&plan, &book(), &finding, &home);
    assert!(!mends.is_empty(), "{finding:?}");
    for mend in mends {
        let after = judge_at_home(&apply(&plan, &mend.edit).expect("it was tried").rotation, &home).findings;
        assert!(of(&after, Code::Unwelcome).is_empty(), "{}: {after:?}", mend.words);
    }
}

#[test]
fn a_wrong_value_is_told_with_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    fs::create_dir_all(&places.data).unwrap();
    let dish = "(name: \"a\", profile: (texture: [(Crisp, 1.0)]))";
    let answer = |id: u32, gap: i32| {
        format!("  (id: {id}, on: \"2026-01-01\", said: Fine((earlier: {dish},\n   later: {dish}, gap: {gap}))),\n")
    };
    for (text, line) in [
        ("(version: 1,\n half_life_days: Some(9.0))".to_string(), "line 2"),
        ("(version: 1,\n chosen: Some(Weights([\n  (texture, 1.0),\n  (colour, -1.0)])))".into(), "line 4"),
        (format!("(version: 1,\n answers: [\n{}{}])", answer(1, 1), answer(2, 999)), "line 5"),
        (format!("(version: 1,\n answers: [\n{}{}])", answer(1, 1), answer(1, 1)), "line 5"),
    ] {
        fs::write(places.data.join("habits.ron"), &text).unwrap();
        let said = load_habits(&places).1.expect("wrong").to_string();
        assert!(said.contains(line), "{text}: {said}");
    }
    let meal = |name: &str, on: &str| format!("  (on: \"{on}\", mealtime: \"supper\",\n   name: \"{name}\"),\n");
    let text = format!("(version: 1,\n meals: [\n{}{}])", meal("a", "2026-01-01"), meal("b\\u{7}", "2026-01-02"));
    fs::write(places.data.join("journal.ron"), text).unwrap();
    let said = load_journal(&places).1.expect("wrong").to_string();
    assert!(said.contains("line 5"), "{said}");
}

#[test]
fn other_dishes_are_offered_by_this_household_s_taste_and_never_what_somebody_refused() {
    let plan = week("red-cabbage-unhappy");
    let finding = |home: &Home| {
        let findings = judge_at_home(&plan, home).findings;
        findings.into_iter().find(|f| f.code == Code::TooAlike && f.speaks()).expect("it is unhappy")
    };
    let offered = |home: &Home| -> Vec<DishId> {
        let mends = mends_at_home(&plan, &book(), &finding(home), home);
        mends
            .into_iter()
            .filter_map(|m| if let Edit::ChangeDish { dish, .. } = m.edit { Some(dish.id.clone()) } else { None })
            .collect()
    };
    let usual = offered(&Home::default());
    let first = usual.first().expect("another dish mends it").clone();
    let name = book().dish(&first).expect("of the book").name.clone();
    let refused = EatenMeal { dish: Some(first.clone()), heard: Some(Heard::NotAgain), ..before(&plan, 60, &name, &[]) };
    let after = offered(&at_home(vec![refused]));
    assert!(!after.contains(&first), "{after:?}");
    assert!(!after.is_empty(), "there are others");
}
