//! What is kept back warm: whether it will be cold in time, by its volume and what it stands in, and what to change if not.

use super::{
    Code, Finding, Severity,
    cooling::{
        Advice, CAVEAT, Chill, Chilled, Place, Round, Spare, Stay, Vessel, advise, advise_with, chill, kept_back, question_of,
        question_of_whole,
    },
    index::{Index, Made},
    words::{grams, listed},
};
use crate::{
    book::Role,
    quantity::{DayNo, Grams},
    rotation::{BatchId, KeptBack, RICE_ON_THE_COUNTER, Rotation},
};
use std::{
    collections::HashMap,
    sync::{Mutex, OnceLock},
};

/// From so much on it is spoken of: a litre. Less is cold in its box before anybody worries (house limit).
const A_LITRE: f64 = 1.0;
/// No litre of what the kitchen knows weighs less than 800 g, and nothing that goes in swells to twice its mass: below so many
/// grams there is no litre of it.
const LIGHTEST: u32 = 400;
/// Less than a quarter of a litre is a plate that stands in the fridge, and no question (house limit).
const A_PLATE: f64 = 0.25;
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
/// reckoned (over 50 kg, say) and what is less than a quarter of a litre is left out.
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
    if litres(&question) < A_PLATE {
        return None;
    }
    let chilled = chill(&question).ok()?;
    let boxes: Vec<Spare> = spare(rotation);
    let ways = if boxes.is_empty() { advise(&question) } else { advise_with(&question, &boxes) };
    let litres = litres(&question);
    Some(Cooling { batch, what, day, litres, question, chilled, ways: ways.unwrap_or_default() })
}

/// The household's own boxes.
pub(super) fn spare(rotation: &Rotation) -> Vec<Spare> {
    rotation.storage.boxes.iter().map(|b| Spare { vessel: Vessel::of_box(b), count: u32::from(b.count) }).collect()
}

fn litres(question: &Chill) -> f64 {
    f64::from(question.grams.get()) / question.food.rho
}

/// Says of each cooking of which a litre or more is kept back whether it will be cold in time: a caution with what to change
/// where not, a note where it will; of a piece cooked whole a note, for it is told before anybody has chosen a box, until somebody
/// has.
pub(super) fn of(index: &Index) -> Vec<Finding> {
    let rotation = index.rotation;
    let mut findings = Vec::new();
    if let Some(question) = question_of_whole(rotation).filter(|q| litres(q) >= A_LITRE)
        && let Some(told) = told(rotation, &question)
    {
        let day = rotation.day_name(rotation.piece.opened);
        let text = format!("{day}, {}: {} kept back{}", rotation.kind.name, grams(question.grams.get()), told.words);
        // Once the cook has said how it is boxed up, it is held to that.
        let said = rotation.storage.boxing(KeptBack::Whole).is_some();
        let severity = if said && !told.passes { Severity::Caution } else { Severity::Note };
        findings.push(Finding::new(severity, Code::Cooling, format!("{}/whole", rotation.kind.id), text));
    }
    for made in &index.batches {
        let batch = made.batch;
        findings.extend(rice_left_out(index, made));
        // Most of it is eaten at once: a look at the grams spares the reckoning.
        let today = made.servings.iter().filter(|(place, _)| index.sittings[*place].slot.day == batch.day);
        let eaten: u32 = today.map(|(_, s)| s.portion.get()).fold(0, u32::saturating_add);
        if batch.pool().get().saturating_sub(eaten) < LIGHTEST {
            continue;
        }
        let cooked = made.dish.filter(|d| d.cooked && d.role != Role::Bank);
        let (Some(dish), Some(question)) = (cooked, question_of(rotation, batch.id).filter(|q| litres(q) >= A_LITRE)) else {
            continue;
        };
        let Some(told) = told(rotation, &question) else { continue };
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

/// Rice that stands on the counter for longer than its hour, as a file may say that another dish did before.
fn rice_left_out(index: &Index, made: &Made) -> Option<Finding> {
    let rotation = index.rotation;
    let boxing = rotation.storage.boxing(KeptBack::Batch(made.batch.id)).filter(|b| b.counter > RICE_ON_THE_COUNTER)?;
    let dish = made.dish.filter(|d| d.holds_rice())?;
    kept_back(rotation, made.batch.id)?;
    let text = format!(
        "{}, {}: {} min on the counter, and there is rice in it: it is in the fridge within {RICE_ON_THE_COUNTER} (UK Food Standards \
         Agency, rice)",
        index.where_made(made),
        dish.name,
        boxing.counter
    );
    let finding = Finding::new(Severity::Caution, Code::Cooling, format!("{}/rice", made.key()), text).of(made.batch.id);
    Some(match index.first_meal(made) {
        Some(slot) => finding.at(slot),
        None => finding,
    })
}

/// The same of a rotation that nobody has looked up yet.
#[cfg(test)]
fn chilling(rotation: &Rotation) -> Vec<Finding> {
    of(&Index::new(rotation))
}

/// What is said of a question, without its grams.
struct Told {
    words: String,
    passes: bool,
}

/// The verdict by depth: of one food in one vessel in one place a layer cools the later the deeper it is, so there is a depth up to
/// which it is in time. That depth is reckoned once and remembered; the amount of a plan then only says how deep it stands. What
/// is poured over on its way is reckoned as it is, and remembered too.
fn told(rotation: &Rotation, question: &Chill) -> Option<Told> {
    let volume = litres(question) / 1_000.0;
    let poured = question.stays.iter().find_map(|s| s.into.as_ref());
    let (vessel, count) = poured.map_or((&question.vessel, question.count), |(v, n)| (v, *n));
    let depth = vessel.depth_m(volume / f64::from(count));
    let exactly = || remembered(question, &|q| chill(q).ok().map(|c| f64::from(u8::from(c.passes())))).map(|n| n > 0.5);
    let in_time = match (poured, deepest(question)) {
        (None, Some(limit)) if depth <= limit => true,
        // That depth is rounded down to the millimetre.
        (None, Some(limit)) if depth > limit + 0.001 => false,
        (None, None) => return None,
        _ => exactly()?,
    };
    let what = if count == 1 { &vessel.one } else { &vessel.several };
    let stands = format!(", {:.1}\u{a0}cm deep in {count} {what}", 100.0 * depth);
    // Boxes that nobody has cool nothing.
    let own = rotation.storage.boxes.iter().find(|b| b.name == vessel.one && u32::from(b.count) < count);
    if let Some(own) = own {
        let there_are = if own.count == 1 { "there is 1".into() } else { format!("there are {}", own.count) };
        let words = format!("{stands}, of which {there_are}: not all of it goes in; name more boxes or keep back less");
        return Some(Told { words, passes: false });
    }
    if in_time {
        return Some(Told { words: format!("{stands}: cold in time"), passes: true });
    }
    let stages = question.rule.stages.iter().map(|s| format!("{:.0}\u{a0}°C within {}", s.to_c, span(s.within)));
    let rule = format!("{} ({})", listed(&stages.collect::<Vec<_>>()), question.rule.source);
    let way = divided(rotation, question, volume).unwrap_or_else(|| {
        let warm = question.climate.fridge_c;
        match question.rule.stages.iter().any(|s| s.to_c <= warm) {
            true => format!("a fridge at {warm:.0}\u{a0}°C never gets it so cold"),
            false => "keep back less, or cool it in a sink of ice water first".into(),
        }
    });
    Some(Told { words: format!("{stands}: not cold in time, which is {rule}; {way}"), passes: false })
}

/// "2 h", "90 min".
fn span(minutes: f64) -> String {
    let whole = minutes.round() as u64;
    if whole.is_multiple_of(60) { format!("{}\u{a0}h", whole / 60) } else { format!("{whole}\u{a0}min") }
}

/// Divided between boxes that this kitchen has, without lids and straight into the fridge: fewest boxes first.
fn divided(rotation: &Rotation, question: &Chill, volume: f64) -> Option<String> {
    let mut boxes = spare(rotation);
    if boxes.is_empty() {
        boxes.push(Spare { vessel: Vessel::storage_box(), count: MOST_BOXES });
    }
    let ways = boxes.iter().filter_map(|spare| {
        let stays = vec![Stay::new(Place::Fridge, 0.0)];
        let open = Chill { vessel: spare.vessel.clone(), count: 1, lid: false, stays, ..question.clone() };
        // Rounded down to the half centimetre, as people measure.
        let deep = (deepest(&open)?.min(0.75 * spare.vessel.height_m) * 200.0).floor() / 200.0;
        let count = (volume / (spare.vessel.round.area() * deep)).ceil();
        (deep > 0.0 && count <= f64::from(spare.count)).then_some((count as u32, deep, spare))
    });
    let (count, deep, spare) = ways.min_by_key(|(count, ..)| *count)?;
    let what = if count == 1 { &spare.vessel.one } else { &spare.vessel.several };
    let verb = if count == 1 { "put it into" } else { "divide it between" };
    Some(format!("{verb} {count} {what} no more than {:.1}\u{a0}cm deep, lids off, straight into the fridge", 100.0 * deep))
}

/// The most boxes that anybody fills.
const MOST_BOXES: u32 = 12;

/// How deep, in metres, this food may stand in this vessel and place and be cold in time; 0 where no depth is. To a millimetre,
/// on the safe side. Nothing where it cannot be reckoned.
fn deepest(question: &Chill) -> Option<f64> {
    // A place that is warmer than the rule asks for gets nothing so cold.
    let warm = question.stays.last().is_some_and(|s| s.place == Place::Fridge)
        && question.rule.stages.iter().any(|s| s.to_c <= question.climate.fridge_c);
    if warm {
        return Some(0.0);
    }
    let mut one = question.clone();
    (one.count, one.grams) = (1, Grams::clamped(1));
    remembered(&one, &searched)
}

/// The answer to a question, reckoned once and remembered.
fn remembered(question: &Chill, answer: &dyn Fn(&Chill) -> Option<f64>) -> Option<f64> {
    static KNOWN: OnceLock<Mutex<HashMap<Vec<u64>, Option<f64>>>> = OnceLock::new();
    let key = fingerprint(question);
    let known = KNOWN.get_or_init(Mutex::default);
    // A lock that somebody died with holds whole answers all the same.
    if let Some(found) = known.lock().unwrap_or_else(|e| e.into_inner()).get(&key) {
        return *found;
    }
    let found = answer(question);
    let mut known = known.lock().unwrap_or_else(|e| e.into_inner());
    if known.len() >= REMEMBERED {
        known.clear();
    }
    known.insert(key, found);
    found
}

/// Everything that an answer depends on, as numbers; names are not among it.
fn fingerprint(q: &Chill) -> Vec<u64> {
    let mut key = vec![q.grams.get().into(), q.count.into(), u64::from(q.food.stirs) + 2 * u64::from(q.lid)];
    let mut figure = |n: f64| key.push(n.to_bits());
    [q.food.k, q.food.rho, q.food.cp, q.start_c, q.climate.room_c, q.climate.fridge_c, q.climate.tap_c, q.rule.from_c]
        .into_iter()
        .for_each(&mut figure);
    for stage in &q.rule.stages {
        figure(stage.to_c);
        figure(stage.within);
    }
    let poured = q.stays.iter().filter_map(|s| s.into.as_ref());
    for (vessel, count) in poured.chain([&(q.vessel.clone(), q.count)]) {
        let (length, width) = match vessel.round {
            Round::Circle(d) => (d, 0.0),
            Round::Rectangle(l, w) => (l, w),
        };
        [length, width, vessel.height_m, f64::from(*count), f64::from(vessel.wall as u8)].into_iter().for_each(&mut figure);
    }
    for stay in &q.stays {
        [f64::from(stay.place as u8), stay.minutes, f64::from(u8::from(stay.stirred))].into_iter().for_each(&mut figure);
        figure(f64::from(u8::from(stay.into.is_some())));
    }
    key
}

fn searched(one: &Chill) -> Option<f64> {
    let passes = |mm: u32| {
        let litres = one.vessel.round.area() * f64::from(mm);
        let grams = (litres * one.food.rho).round().max(1.0) as u32;
        chill(&Chill { grams: Grams::clamped(grams), ..one.clone() }).map(|c| c.passes())
    };
    // Whole millimetres below the rim.
    let (mut good, mut bad) = (0, (950.0 * one.vessel.height_m) as u32);
    if passes(bad).ok()? {
        return Some(f64::from(bad) / 1_000.0);
    }
    while bad - good > 1 {
        let middle = (good + bad) / 2;
        if passes(middle).ok()? { good = middle } else { bad = middle }
    }
    Some(f64::from(good) / 1_000.0)
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
        let rule = "in 1 pot: not cold in time, which is 21 °C within 2 h and 5 °C within 6 h (FDA Food Code 2022, 3-501.14); ";
        assert!(said.contains(rule) && said.contains("boxes no more than "), "{said}");
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

    /// The verdict by depth is the one that the whole reckoning gives, and what is advised passes.
    #[test]
    fn the_quick_verdict_is_that_of_the_curve() {
        for grams in [1_300, 1_700, 2_400, 4_000] {
            let plan = pot(grams);
            let one = &coolings(&plan.rotation)[0];
            let told = &chilling(&plan.rotation)[0];
            assert_eq!(told.severity == Severity::Note, one.passes(), "{grams}: {}", told.text);
            if let Some(depth) = told.text.split("no more than ").nth(1) {
                let cm: f64 = depth.split('\u{a0}').next().unwrap().parse().unwrap();
                let vessel = Vessel::storage_box();
                let g = (vessel.round.area() * cm / 100.0 * one.question.food.rho * 1_000.0) as u32;
                let stays = vec![Stay::new(Place::Fridge, 0.0)];
                let changed = Chill { grams: Grams::clamped(g), vessel, count: 1, lid: false, stays, ..one.question.clone() };
                assert!(chill(&changed).unwrap().passes(), "{}", told.text);
            }
        }
    }

    #[test]
    fn a_fridge_that_is_too_warm_is_told_of() {
        let mut plan = pot(3_200);
        plan.rotation.fridge.runs_at = Some(8.0);
        let said = plain(&chilling(&plan.rotation)[0].text);
        assert!(said.ends_with("a fridge at 8 °C never gets it so cold"), "{said}");
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
