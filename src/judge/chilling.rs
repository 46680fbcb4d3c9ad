//! What is kept back warm: whether it will be cold in time, by its volume and what it stands in, and what to change if not.

use super::{
    Code, Finding, Severity,
    cooling::{Advice, CAVEAT, Chill, Chilled, Spare, Vessel, advise, advise_with, chill, question_of, question_of_whole},
    index::Index,
    words::grams,
};
use crate::{
    book::Role,
    quantity::{DayNo, Grams},
    rotation::{BatchId, Rotation},
};
use std::{
    collections::HashMap,
    sync::{Mutex, OnceLock},
};

/// From so much on it is spoken of: a litre. Less is cold in its box before anybody worries (house limit).
const A_LITRE: f64 = 1.0;
/// Amounts are rounded up to so many grams before they are reckoned: more takes longer, so this errs on the safe side.
const STEP: u32 = 100;
/// The most answers that are remembered.
const REMEMBERED: usize = 256;

/// How what is kept back of one cooking cools: for a small drawing, and for the words beside it.
#[derive(Clone, Debug, PartialEq)]
pub struct Cooling {
    /// The batch; nothing for the piece that was cooked whole.
    pub batch: Option<BatchId>,
    /// What it is.
    pub what: String,
    /// The day of its making.
    pub day: DayNo,
    /// How many litres are kept back.
    pub litres: f64,
    /// What was asked: the food, what it stands in, where, and the rule.
    pub question: Chill,
    /// What comes of it: the curve and the stages of the rule.
    pub chilled: Chilled,
    /// Ways to have it cold in time, the least bother first; none where it is, or where nothing that is tried helps.
    pub ways: Vec<Advice>,
}

impl Cooling {
    /// Whether it is cold in time.
    pub fn passes(&self) -> bool {
        self.chilled.passes()
    }

    /// Said wherever these figures are shown.
    pub fn caveat(&self) -> &'static str {
        CAVEAT
    }
}

/// How everything cools that the plan keeps back warm, in the order of the making; the piece cooked whole first. What cannot be
/// reckoned (over 50 kg, say) is left out.
pub fn coolings(rotation: &Rotation) -> Vec<Cooling> {
    let mut all: Vec<Cooling> = Vec::new();
    if let Some(question) = question_of_whole(rotation) {
        let what = format!("{}, off the bone", rotation.kind.name);
        all.extend(cooling(rotation, None, what, rotation.piece.opened, question));
    }
    let mut batches: Vec<_> = rotation.batches.iter().collect();
    batches.sort_by_key(|b| (b.day, b.id));
    for batch in batches {
        let (Some(question), Some(dish)) = (question_of(rotation, batch.id), rotation.dishes.get(&batch.dish)) else { continue };
        all.extend(cooling(rotation, Some(batch.id), dish.name.clone(), batch.day, question));
    }
    all
}

fn cooling(rotation: &Rotation, batch: Option<BatchId>, what: String, day: DayNo, question: Chill) -> Option<Cooling> {
    let chilled = chill(&question).ok()?;
    let boxes: Vec<Spare> = spare(rotation);
    let ways = if boxes.is_empty() { advise(&question) } else { advise_with(&question, &boxes) };
    let litres = litres(&question);
    Some(Cooling { batch, what, day, litres, question, chilled, ways: ways.unwrap_or_default() })
}

/// The household's own boxes.
fn spare(rotation: &Rotation) -> Vec<Spare> {
    rotation.storage.boxes.iter().map(|b| Spare { vessel: Vessel::of_box(b), count: u32::from(b.count) }).collect()
}

fn litres(question: &Chill) -> f64 {
    f64::from(question.grams.get()) / question.food.rho
}

/// Says of each cooking of which a litre or more is kept back whether it will be cold in time: a caution with what to change
/// where not, a note where it will; of a piece cooked whole always a note, for it is told before anybody has chosen a box.
pub(super) fn chilling(rotation: &Rotation) -> Vec<Finding> {
    let mut findings = Vec::new();
    let mut index = None;
    if let Some(question) = question_of_whole(rotation).filter(|q| litres(q) >= A_LITRE)
        && let Some(told) = told(rotation, &question)
    {
        let day = rotation.day_name(rotation.piece.opened);
        let text = format!("{day}, {}: {} kept back{}", rotation.kind.name, grams(question.grams.get()), told.words);
        findings.push(Finding::new(Severity::Note, Code::Cooling, format!("{}/whole", rotation.kind.id), text));
    }
    for batch in &rotation.batches {
        let cooked = rotation.dishes.get(&batch.dish).filter(|d| d.cooked && d.role != Role::Bank);
        let (Some(dish), Some(question)) = (cooked, question_of(rotation, batch.id).filter(|q| litres(q) >= A_LITRE)) else {
            continue;
        };
        let Some(told) = told(rotation, &question) else { continue };
        let index = index.get_or_insert_with(|| Index::new(rotation));
        let Some(made) = index.made(batch.id) else { continue };
        let place = index.where_made(made);
        let text = format!("{place}, {}: {} kept back{}", dish.name, grams(question.grams.get()), told.words);
        let severity = if told.passes { Severity::Note } else { Severity::Caution };
        let finding = Finding::new(severity, Code::Cooling, made.key(), text).of(batch.id);
        findings.push(match index.first_meal(made) {
            Some(slot) => finding.at(slot),
            None => finding,
        });
    }
    findings
}

/// What is said of a question, without its grams.
#[derive(Clone, Debug)]
struct Told {
    words: String,
    passes: bool,
}

/// The answer, reckoned once for each question. Reckoning takes some milliseconds and a plan is judged many times with the same
/// pots, so answers are remembered; the same question has the same answer, whoever asked it first.
fn told(rotation: &Rotation, question: &Chill) -> Option<Told> {
    static KNOWN: OnceLock<Mutex<HashMap<String, Option<Told>>>> = OnceLock::new();
    let rounded = Chill { grams: Grams::clamped(question.grams.get().div_ceil(STEP) * STEP), ..question.clone() };
    let boxes = spare(rotation);
    let key = format!("{rounded:?} {boxes:?}");
    let known = KNOWN.get_or_init(Mutex::default);
    // A lock that somebody died with holds whole answers all the same.
    if let Some(told) = known.lock().unwrap_or_else(|e| e.into_inner()).get(&key) {
        return told.clone();
    }
    let answer = reckoned(&rounded, &boxes);
    let mut known = known.lock().unwrap_or_else(|e| e.into_inner());
    if known.len() >= REMEMBERED {
        known.clear();
    }
    known.insert(key, answer.clone());
    answer
}

fn reckoned(question: &Chill, boxes: &[Spare]) -> Option<Told> {
    let chilled = chill(question).ok()?;
    let what = if question.count == 1 { &question.vessel.one } else { &question.vessel.several };
    let stands = format!(", {:.1}\u{a0}cm deep in {} {what}", chilled.depth_cm, question.count);
    if chilled.passes() {
        return Some(Told { words: format!("{stands}: cold in time, {}", chilled.figures()), passes: true });
    }
    let verdict = chilled.verdict();
    let verdict = verdict.trim_end_matches('.');
    let verdict = verdict.strip_prefix("Not cold in time: ").unwrap_or(verdict);
    let ways = if boxes.is_empty() { advise(question) } else { advise_with(question, boxes) };
    let way = ways.ok().and_then(|ways| ways.into_iter().next());
    let way = way.map_or("eat more of it on the day".into(), |w| uncapitalised(w.words.trim_end_matches('.')));
    let words = format!("{stands}: not cold in time, {verdict} ({}); {way}", question.rule.source);
    Some(Told { words, passes: false })
}

fn uncapitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::super::test_support::{Plan, dish, plain, supper};
    use super::*;
    use crate::{
        book::{Dish, Graded, Profile, Texture},
        rotation::{CoolTo, FoodBox},
    };

    fn stew(id: &str) -> Dish {
        Dish { profile: Profile { texture: vec![Graded(Texture::Stewed, 1.0)], ..Profile::default() }, ..dish(id) }
    }

    /// So many grams of stew are made on Monday and 200 g of them eaten.
    fn pot(grams: u32) -> Plan {
        let mut plan = Plan::of("swede", &[("all", 6_000, 5)], 4);
        plan.eater("Ada", 100);
        let batch = plan.batch(1, stew("stew"), &[("all", grams)]);
        plan.serve(supper(1), batch, 200);
        plan.serve(supper(2), batch, grams - 200);
        plan
    }

    #[test]
    fn a_big_pot_is_told_once_with_what_to_change_and_a_small_one_not_at_all() {
        assert_eq!(chilling(&pot(1_000).rotation), [], "0.8 kg is no pot to worry about");
        let found = chilling(&pot(3_200).rotation);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].severity, Severity::Caution);
        let said = plain(&found[0].text);
        assert!(said.starts_with("Monday supper, Stew: 3,000 g kept back, 6."), "{said}");
        assert!(
            said.contains("in 1 pot: not cold in time, still ") && said.contains("(FDA Food Code 2022, 3-501.14); "),
            "{said}"
        );
        assert!(said.contains("box") || said.contains("water"), "{said}");
    }

    #[test]
    fn the_value_for_the_drawing_has_a_falling_curve_and_ways_that_pass() {
        let all = coolings(&pot(3_200).rotation);
        let [one] = all.as_slice() else { panic!("{all:?}") };
        assert!(!one.passes() && (2.5..3.3).contains(&one.litres));
        assert!(one.chilled.curve.windows(2).all(|w| w[1].warmest_c <= w[0].warmest_c + 1e-6 && w[1].minutes >= w[0].minutes));
        assert!(!one.ways.is_empty() && one.ways.iter().all(|w| w.chilled.passes()), "{:?}", one.ways);
    }

    #[test]
    fn the_households_own_boxes_are_used_and_no_more_than_it_has() {
        let mut plan = pot(3_200);
        let flat = FoodBox { name: "flat box".into(), size_mm: (300, 200, 60), metal: true, count: 3 };
        plan.rotation.storage.boxes = vec![flat];
        for way in &coolings(&plan.rotation)[0].ways {
            let later = way.changed.stays.iter().find_map(|s| s.into.as_ref());
            let (vessel, count) = later.map_or((&way.changed.vessel, way.changed.count), |(v, n)| (v, *n));
            assert!(vessel.one == "pot" || vessel.one == "flat box" && count <= 3, "{}", way.words);
        }
        let said = plain(&chilling(&plan.rotation)[0].text);
        assert!(!said.contains("tray"), "{said}");
    }

    #[test]
    fn a_stricter_rule_of_the_household_is_asked_beside_the_published_one() {
        let passes = |rule: Option<CoolTo>| {
            let mut plan = pot(1_500);
            plan.rotation.storage.cooling = rule;
            let flat = FoodBox { name: "flat box".into(), size_mm: (300, 200, 60), metal: true, count: 3 };
            plan.rotation.storage.boxes = vec![flat];
            plan.rotation.dishes.values_mut().for_each(|d| std::sync::Arc::make_mut(d).profile = Profile::default());
            coolings(&plan.rotation)[0].passes()
        };
        let usual = passes(None);
        assert!(!passes(Some(CoolTo { to_c: 8.0, within: 20 })));
        assert_eq!(passes(Some(CoolTo { to_c: 60.0, within: 1_440 })), usual, "a looser rule loosens nothing");
    }

    #[test]
    fn a_bird_off_the_bone_is_noted_and_never_warned_of() {
        let plan = Plan::turkey(4);
        let found = chilling(&plan.rotation);
        assert_eq!(found.iter().map(|f| (f.severity, f.batch)).collect::<Vec<_>>(), [(Severity::Note, None)]);
        assert!(plain(&found[0].text).starts_with("Sunday, turkey: 2,000 g kept back, "), "{}", found[0].text);
    }

    #[test]
    fn the_same_question_has_the_same_answer_and_is_reckoned_once() {
        let plan = pot(2_900);
        let first = chilling(&plan.rotation);
        let started = std::time::Instant::now();
        for _ in 0..200 {
            assert_eq!(chilling(&plan.rotation), first);
        }
        assert!(started.elapsed().as_millis() < 2_000, "{:?}", started.elapsed());
    }
}
