//! Box labels: what is in it, since when, until when it may be eaten, for whom, what it can do to whom, and whether it may be warmed.

use super::{CutDay, Into, cut_list};
use crate::{
    book::{Allergen, Dish, Heat, PartId, Role},
    judge::{KeepingLine, KeepingState, keeping},
    quantity::{DayNo, Days, Portion, State},
    rotation::{Batch, BatchId, EaterId, Moment, Rotation, Slot, Source, eaten_by},
};
use jiff::civil::Time;
use std::collections::BTreeSet;

/// One box, jar or wrapped rest.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxLabel {
    /// What is in it: "Leaf rolls", "outer leaves and middle, uncut".
    pub what: String,
    /// What sort of thing it is.
    pub holds: Holds,
    /// The batch it comes from or waits for, if any.
    pub batch: Option<BatchId>,
    /// How much.
    pub grams: Portion,
    /// The day on which it was cut, cooked or made.
    pub since: DayNo,
    /// The last day on which it is safe.
    pub eat_by: DayNo,
    /// The last minute of that day, where its clock counts in hours and the day is not a whole one.
    pub until: Option<Time>,
    /// The last day on which it eats well, where that is sooner.
    pub nice_by: Option<DayNo>,
    /// The last day for those who must be taken special care of, where that is sooner, with their names.
    pub tender: Option<(DayNo, Vec<String>)>,
    /// What it is kept for.
    pub kept_for: KeptFor,
    /// Every allergen in it, in the order of the law.
    pub allergens: Vec<Allergen>,
    /// Whether it may be warmed.
    pub warming: Warming,
}

/// What sort of thing a box holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// What is uncut of the piece, wrapped.
    Rest,
    /// Cut raw, waiting for its making.
    Cut,
    /// Made but raw: a slaw.
    Made,
    /// Cooked.
    Cooked,
    /// Something that outlives the window.
    Jar,
}

impl Holds {
    /// The word before the day: "cut Monday".
    pub fn since_word(self) -> &'static str {
        match self {
            Holds::Rest | Holds::Cut => "cut",
            Holds::Made | Holds::Jar => "made",
            Holds::Cooked => "cooked",
        }
    }
}

/// What a box is kept for.
#[derive(Clone, Debug, PartialEq)]
pub enum KeptFor {
    /// One meal, and who eats it there; nobody named: all who usually sit down.
    Meal {
        /// The meal.
        slot: Slot,
        /// Their names.
        eaters: Vec<String>,
    },
    /// A dish that is made later.
    Dish {
        /// The day of its making.
        day: DayNo,
        /// Its name.
        name: String,
    },
    /// Whatever the plan takes of it; with no meal yet for what is left over.
    Open,
}

/// Whether it may be warmed: once in all, steaming hot (common kitchen rule; the plan's judges hold to it, too).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Warming {
    /// It is raw.
    Raw,
    /// It is eaten cold.
    Cold,
    /// Once.
    Once,
    /// It has been warmed before.
    NotAgain,
}

impl Warming {
    /// For the label. 75 °C in the middle is the house's figure for reheating (common practice in European kitchens).
    pub fn words(self) -> &'static str {
        match self {
            Warming::Raw => "raw",
            Warming::Cold => "eat cold",
            Warming::Once => "reheat once, 75\u{a0}°C in the middle",
            Warming::NotAgain => "warmed before: do not reheat again",
        }
    }
}

/// Less than this sticks to the tray and fills no box (as in the mass balance).
const CRUMBS: u32 = 5;

/// A label for everything that is put away to be eaten or made on a later day, in the order in which it is put away.
///
/// Boxed are: what is uncut of a block after its first cutting, part by part where it was cooked whole; what is cut before
/// the day of its making; each serving on a later day than its making; each share that goes into a dish of a later day; the jar
/// of each bank; and what of a batch has no meal. `eat_by` is the day that the judges know, never another.
pub fn box_labels(rotation: &Rotation) -> Vec<BoxLabel> {
    let lines = keeping(rotation).0;
    let maker = Maker { rotation, lines: &lines };
    let cuts = cut_list(rotation);
    let mut labels = Vec::new();
    if !cuts.loose || rotation.kind.is_cooked_whole() {
        labels.extend(cuts.days.first().into_iter().flat_map(|day| maker.rests(day)));
    }
    for day in &cuts.days {
        labels.extend(maker.cut_boxes(day));
    }
    for batch in &rotation.batches {
        if let Some(dish) = rotation.dishes.get(&batch.dish) {
            maker.batch(batch, dish, &mut labels);
        }
    }
    labels.sort_by_key(|l| l.since);
    labels
}

struct Maker<'r> {
    rotation: &'r Rotation,
    lines: &'r [KeepingLine],
}

impl Maker<'_> {
    fn line_of_part(&self, part: &PartId) -> Option<&KeepingLine> {
        self.lines.iter().find(|l| match &l.state {
            KeepingState::Raw(id) => id == part,
            KeepingState::CookedWhole => true,
            _ => false,
        })
    }

    fn line_of_batch(&self, id: BatchId) -> Option<&KeepingLine> {
        self.lines.iter().find(|l| matches!(l.state, KeepingState::Made(b) | KeepingState::Cooked(b) if b == id))
    }

    fn rests(&self, day: &CutDay) -> Vec<BoxLabel> {
        let r = self.rotation;
        let kind = &r.kind;
        let whole = kind.is_cooked_whole();
        let label = |rest: &super::Rest| {
            let of_parts: Vec<&KeepingLine> = rest.parts.iter().filter_map(|p| self.line_of_part(&p.0)).collect();
            let eat_by = of_parts.iter().map(|l| l.last_day).min()?;
            let until = of_parts.iter().filter_map(|l| hour_on(eat_by, l.until)).min();
            let parts = rest.parts.iter().filter_map(|p| kind.part(&p.0));
            let nice = match whole {
                true => kind.cooked_nice_days,
                false => parts.filter_map(|p| p.nice_days).min(),
            };
            let names: Vec<&str> = rest.parts.iter().map(|p| p.1.as_str()).collect();
            Some(BoxLabel {
                what: format!("{}, {}{}", kind.name, names.join(" and "), if whole { "" } else { ", uncut" }),
                holds: if whole { Holds::Cooked } else { Holds::Rest },
                batch: None,
                grams: Portion::of(kind.portioned, rest.grams),
                since: if whole { r.piece.opened } else { day.day },
                eat_by,
                until,
                nice_by: sooner(nice.map(|n| r.piece.opened.plus(n)), eat_by),
                tender: self.tender(of_parts.first().copied(), &everybody(r)),
                kept_for: KeptFor::Open,
                allergens: kind.allergens.clone(),
                warming: if whole { Warming::Once } else { Warming::Raw },
            })
        };
        // What is left on the plan's last day is a finding, not a box; a rest put back before it is.
        day.rests.iter().filter(|_| day.day < r.last_day()).filter_map(label).collect()
    }

    fn cut_boxes(&self, day: &CutDay) -> Vec<BoxLabel> {
        let r = self.rotation;
        let boxed = day.lines.iter().filter_map(|l| match l.into {
            Into::Box { until } => Some((l, until)),
            Into::Making | Into::Jar => None,
        });
        let label = |(line, until): (&super::CutLine, DayNo)| {
            let raw = self.line_of_part(&line.part)?;
            let part = raw.last_day;
            let cut = line.form.and_then(|f| r.kind.cut_days(f)).map(|keeps| day.day.plus(keeps));
            let eat_by = cut.map_or(part, |c| c.min(part));
            let form = line.form.map_or("cut", |f| f.word());
            Some(BoxLabel {
                what: format!("{} {}, {form}", r.kind.name, line.part_name),
                holds: Holds::Cut,
                batch: Some(line.batch),
                grams: line.portion,
                since: day.day,
                eat_by,
                until: hour_on(eat_by, raw.until),
                nice_by: None,
                tender: None,
                kept_for: KeptFor::Dish { day: until, name: line.dish.clone() },
                allergens: r.kind.allergens.clone(),
                warming: if r.kind.is_cooked_whole() { Warming::Once } else { Warming::Raw },
            })
        };
        boxed.filter_map(label).collect()
    }

    fn batch(&self, batch: &Batch, dish: &Dish, labels: &mut Vec<BoxLabel>) {
        let r = self.rotation;
        let Some(line) = self.line_of_batch(batch.id) else { return };
        let cooked = matches!(line.state, KeepingState::Cooked(_));
        let hot = dish.profile.heat.is_some_and(|h| h >= Heat::Warm);
        let warming = |hot: bool| match (cooked, hot, line.reheated) {
            (false, _, _) => Warming::Raw,
            (true, false, _) => Warming::Cold,
            (true, true, 0) => Warming::Once,
            (true, true, _) => Warming::NotAgain,
        };
        let nice = dish.nice_days.map(|n| batch.day.plus(n));
        let base = BoxLabel {
            what: dish.name.clone(),
            holds: if cooked { Holds::Cooked } else { Holds::Made },
            batch: Some(batch.id),
            grams: Portion::of(State::Cooked, 0),
            since: batch.day,
            eat_by: line.last_day,
            until: hour_on(line.last_day, line.until),
            nice_by: sooner(nice, line.last_day),
            tender: None,
            kept_for: KeptFor::Open,
            allergens: self.allergens(batch, dish),
            warming: warming(hot),
        };
        let grams = |g: u32| if cooked { Portion::of(State::Cooked, g) } else { Portion::of(batch.state(), g) };
        if dish.role == Role::Bank {
            let all = batch.cooked(batch.pool(), dish).get();
            labels.push(BoxLabel { holds: Holds::Jar, grams: grams(all), warming: Warming::Cold, ..base });
            return;
        }
        for (slot, serving) in r.servings_of(batch.id).into_iter().filter(|(slot, _)| slot.day > batch.day) {
            let eaters = eaten_by(r, serving, &r.eaters_at(slot));
            labels.push(BoxLabel {
                grams: grams(batch.cooked(serving.portion, dish).get()),
                tender: self.tender(Some(line), &eaters),
                kept_for: KeptFor::Meal { slot, eaters: if eaters == everybody(r) { Vec::new() } else { names(r, &eaters) } },
                ..base.clone()
            });
        }
        for user in r.batches.iter().filter(|b| b.day > batch.day) {
            let Some(made) = r.dishes.get(&user.dish) else { continue };
            for draw in user.draws.iter().filter(|d| d.from == Source::Batch(batch.id)) {
                let eaters: Vec<EaterId> =
                    r.servings_of(user.id).iter().flat_map(|(slot, s)| eaten_by(r, s, &r.eaters_at(*slot))).collect();
                labels.push(BoxLabel {
                    grams: draw.portion,
                    tender: self.tender(Some(line), &eaters),
                    kept_for: KeptFor::Dish { day: user.day, name: made.name.clone() },
                    warming: warming(made.profile.heat.is_some_and(|h| h >= Heat::Warm)),
                    ..base.clone()
                });
            }
        }
        let left = r.left_cooked(batch);
        if left >= CRUMBS {
            labels.push(BoxLabel { grams: grams(left), tender: self.tender(Some(line), &everybody(r)), ..base });
        }
    }

    /// The shorter day of those among `eaters` who need it, with their names.
    fn tender(&self, line: Option<&KeepingLine>, eaters: &[EaterId]) -> Option<(DayNo, Vec<String>)> {
        let last = line?.tender_last?;
        let cared: Vec<EaterId> = eaters
            .iter()
            .copied()
            .filter(|id| self.rotation.household.eater(*id).is_some_and(|e| !e.care.is_empty()))
            .collect::<BTreeSet<_>>()
            .into_iter()
            .collect();
        (!cared.is_empty()).then(|| (last, names(self.rotation, &cared)))
    }

    /// All that is in the pot: the piece's, the dish's, and those of what it is made from.
    fn allergens(&self, batch: &Batch, dish: &Dish) -> Vec<Allergen> {
        let r = self.rotation;
        let mut all: BTreeSet<Allergen> = r.kind.allergens.iter().chain(&dish.allergens).copied().collect();
        let mut open = vec![batch];
        let mut seen = BTreeSet::from([batch.id]);
        while let Some(next) = open.pop() {
            for draw in &next.draws {
                let Source::Batch(id) = draw.from else { continue };
                if let Some(source) = r.batch(id).filter(|_| seen.insert(id)) {
                    all.extend(r.dishes.get(&source.dish).into_iter().flat_map(|d| &d.allergens));
                    open.push(source);
                }
            }
        }
        all.into_iter().collect()
    }
}

fn everybody(r: &Rotation) -> Vec<EaterId> {
    r.household.usual().collect()
}

fn names(r: &Rotation, eaters: &[EaterId]) -> Vec<String> {
    eaters.iter().map(|e| r.household.name(*e).to_string()).collect()
}

/// `nice` where it comes before `safe`.
fn sooner(nice: Option<DayNo>, safe: DayNo) -> Option<DayNo> {
    nice.filter(|n| *n < safe)
}

/// The time of a moment on the last day; nothing where the day is a whole one.
fn hour_on(day: DayNo, until: Option<Moment>) -> Option<Time> {
    until.filter(|m| m.day == day && (m.at.hour(), m.at.minute()) != (23, 59)).map(|m| m.at)
}

impl BoxLabel {
    /// The hour at which the last day ends, as the end of a date: ", 14:00"; nothing where the day is a whole one.
    pub fn until_words(&self) -> String {
        self.until.map_or_else(String::new, |at| format!(", {:02}:{:02}", at.hour(), at.minute()))
    }

    /// How long it keeps from the day on its label.
    pub fn keeps(&self) -> Days {
        self.eat_by.since(self.since)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        book::{CutForm, Profile},
        judge::test_support::{Plan, bank, component, dish, lunch, raw_dish, supper},
    };
    use proptest::prelude::*;

    fn hot(dish: Dish) -> Dish {
        Dish { profile: Profile { heat: Some(Heat::Hot), ..Profile::default() }, ..dish }
    }

    fn cabbage() -> Plan {
        let mut plan = Plan::cabbage(4);
        plan.cook(supper(1), raw_dish("slaw"), "heart", 260);
        plan.batch(1, bank("pickle"), &[("heart", 140)]);
        plan.cook(supper(2), dish("wedges"), "middle", 520);
        let rolls = Dish { keeps: Days(1), allergens: vec![Allergen::Wheat], ..hot(dish("rolls")) };
        let rolls = plan.batch(3, rolls, &[("outer", 300)]);
        plan.serve(supper(3), rolls, 250);
        plan.serve(lunch(4), rolls, 50);
        let bo = plan.rotation.household.eaters[1].id;
        plan.present(lunch(4), &[bo]);
        plan
    }

    #[test]
    fn the_sixth_roll_is_labelled_for_bo_by_thursday() {
        let labels = box_labels(&cabbage().rotation);
        let said: Vec<_> = labels.iter().map(|l| (l.what.as_str(), l.grams.get(), l.since.0, l.eat_by.0, l.warming)).collect();
        assert_eq!(
            said,
            [
                ("red cabbage, outer and middle, uncut", 1_100, 1, 6, Warming::Raw),
                ("Pickle", 140, 1, 11, Warming::Cold),
                ("Rolls", 50, 3, 4, Warming::Once),
            ]
        );
        assert_eq!(labels[2].kept_for, KeptFor::Meal { slot: lunch(4), eaters: vec!["Bo".into()] });
        assert_eq!(labels[2].allergens, [Allergen::Wheat]);
    }

    #[test]
    fn a_tub_for_a_later_dish_is_warmed_once_and_not_a_second_time() {
        let mut plan = Plan::cabbage(5);
        let sauce = plan.batch(1, component("sauce"), &[("middle", 400)]);
        let pie = plan.batch_from(2, hot(dish("pie")), sauce, 200);
        plan.serve(supper(2), pie, 150);
        plan.serve(lunch(3), pie, 50);
        let labels = box_labels(&plan.rotation);
        let of = |what: &str| labels.iter().filter(|l| l.what == what).map(|l| (l.grams.get(), l.warming)).collect::<Vec<_>>();
        assert_eq!(of("Sauce"), [(200, Warming::Once), (200, Warming::Cold)]);
        assert_eq!(of("Pie"), [(50, Warming::NotAgain)]);
    }

    #[test]
    fn a_bird_is_boxed_by_parts_with_grandmothers_day() {
        let mut plan = Plan::turkey(4);
        let roast = plan.batch(1, dish("roast"), &[("breast", 588), ("thigh", 300)]);
        plan.serve(lunch(1), roast, 888);
        let labels = box_labels(&plan.rotation);
        let said: Vec<_> = labels.iter().map(|l| (l.grams.get(), l.eat_by.0)).collect();
        assert_eq!(said, [(562, 4), (400, 4), (150, 4)]);
        assert!(labels.iter().all(|l| l.tender == Some((DayNo(3), vec!["Grandmother".into()]))));
    }

    #[test]
    fn shreds_cut_a_day_ahead_keep_as_long_as_shreds() {
        let mut plan = Plan::cabbage(4);
        let slaw = plan.cook(supper(2), Dish { cut: Some(CutForm::Shreds), ..raw_dish("slaw") }, "heart", 200);
        plan.cut_on(slaw, 1);
        let labels = box_labels(&plan.rotation);
        let shreds = labels.iter().find(|l| l.holds == Holds::Cut).unwrap();
        assert_eq!((shreds.what.as_str(), shreds.since.0, shreds.eat_by.0), ("red cabbage heart, shreds", 1, 3));
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        #[test]
        fn no_box_is_without_its_day_and_all_that_is_put_away_is_in_one(
            cookings in prop::collection::vec((0u8..4, 1i16..6, 20u32..150, 0u32..1_000), 1..7),
        ) {
            let mut plan = Plan::cabbage(7);
            let mut before = None;
            for (i, &(role, day, grams, served)) in cookings.iter().enumerate() {
                let id = format!("d{i}");
                let made = match role { 0 => bank(&id), 1 => component(&id), 2 => raw_dish(&id), _ => hot(dish(&id)) };
                let eaten = role > 1;
                let batch = plan.batch(day, made, &[("middle", grams)]);
                if let (Some(source), true) = (before, role == 3) {
                    plan.batch_mut(batch).day = DayNo(6);
                    plan.draw_batch(batch, source, 10);
                }
                if eaten {
                    plan.serve(supper(7), batch, grams * served / 1_000);
                }
                before = (role == 1).then_some(batch);
            }
            let r = &plan.rotation;
            let lines = keeping(r).0;
            let labels = box_labels(r);
            for l in labels.iter().filter(|l| l.holds != Holds::Rest) {
                let id = l.batch.unwrap();
                let line = lines.iter().find(|k| matches!(k.state, KeepingState::Made(b) | KeepingState::Cooked(b) if b == id));
                prop_assert_eq!(Some(l.eat_by), line.map(|k| k.last_day));
                prop_assert!(l.nice_by.is_none_or(|n| n < l.eat_by) && !l.what.is_empty());
            }
            for batch in &r.batches {
                let later = r.servings_of(batch.id).iter().filter(|s| s.0.day > batch.day).count();
                let labelled = labels.iter().filter(|l| l.batch == Some(batch.id)).count();
                prop_assert!(labelled >= later.min(1));
            }
        }
    }
}
