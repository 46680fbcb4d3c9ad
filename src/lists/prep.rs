//! The prep list: day by day what the hands do before the cooking, done once for every dish that wants it.

use super::{
    CompanionAmount, CutLine, cut_list,
    prep_words::{keeps_prepared, work_on},
};
use crate::{
    book::Role,
    judge::companion_needs,
    quantity::DayNo,
    rotation::{BatchId, Rotation},
};
use std::collections::BTreeMap;

/// One day's preparing.
#[derive(Clone, Debug, PartialEq)]
pub struct PrepDay {
    /// The day.
    pub day: DayNo,
    /// The piece, in the order of the knife.
    pub cuts: Vec<CutLine>,
    /// Companions, what is shared by most dishes first.
    pub tasks: Vec<PrepTask>,
    /// What is made that day for another day.
    pub ahead: Vec<MadeAhead>,
}

/// One piece of work on one companion.
#[derive(Clone, Debug, PartialEq)]
pub struct PrepTask {
    /// The verb: "chop".
    pub work: &'static str,
    /// The companion.
    pub name: String,
    /// All of it together.
    pub amount: CompanionAmount,
    /// What of it is for which dish; they add up to the amount.
    pub shares: Vec<PrepShare>,
    /// The first day of the plan on which it may be done for this one, where it keeps prepared.
    pub may_be_done: Option<DayNo>,
    /// An earlier day of those on which the same work is done anyway: do both at once.
    pub with: Option<DayNo>,
}

/// What one dish takes of what is prepared.
#[derive(Clone, Debug, PartialEq)]
pub struct PrepShare {
    /// The batch.
    pub batch: BatchId,
    /// Its dish.
    pub dish: String,
    /// How much.
    pub amount: CompanionAmount,
}

/// A batch that is made on one day for another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MadeAhead {
    /// The batch.
    pub batch: BatchId,
    /// Its dish.
    pub dish: String,
    /// The first later day on which it is eaten or gone on with; nothing for what is only put by.
    pub wanted: Option<DayNo>,
}

/// Makes the list: every day on which something is cut, prepared or made ahead, in order.
pub fn prep_list(rotation: &Rotation) -> Vec<PrepDay> {
    let mut days: BTreeMap<DayNo, PrepDay> = BTreeMap::new();
    let fresh = |day: DayNo| PrepDay { day, cuts: Vec::new(), tasks: Vec::new(), ahead: Vec::new() };
    for cut in cut_list(rotation).days {
        days.entry(cut.day).or_insert_with(|| fresh(cut.day)).cuts = cut.lines;
    }
    for need in companion_needs(rotation) {
        for used in &need.uses {
            let Some(dish) = rotation.dish_of(used.batch) else { continue };
            let Some(work) = work_on(dish, need.name) else { continue };
            let share =
                PrepShare { batch: used.batch, dish: dish.name.clone(), amount: CompanionAmount::of(used.amount, need.measure) };
            let tasks = &mut days.entry(used.day).or_insert_with(|| fresh(used.day)).tasks;
            match tasks.iter_mut().find(|t| t.work == work && t.name == need.name && t.amount.measure == need.measure) {
                Some(task) => {
                    task.amount = task.amount.with(task.amount.thousandths.saturating_add(share.amount.thousandths));
                    task.shares.push(share);
                }
                None => tasks.push(PrepTask {
                    work,
                    name: need.name.to_string(),
                    amount: share.amount,
                    shares: vec![share],
                    may_be_done: keeps_prepared(need.name, work)
                        .map(|keeps| DayNo(used.day.0.saturating_sub_unsigned(keeps)).max(DayNo::FIRST))
                        .filter(|first| *first < used.day),
                    with: None,
                }),
            }
        }
    }
    for batch in &rotation.batches {
        let Some(dish) = rotation.dishes.get(&batch.dish) else { continue };
        let served = rotation.servings_of(batch.id).into_iter().map(|(slot, _)| slot.day);
        let used = rotation.batches.iter().filter(|b| b.draws_on(batch.id)).map(|b| b.day);
        let wanted = served.chain(used).filter(|d| *d > batch.day).min();
        if wanted.is_some() || dish.role == Role::Bank {
            let ahead = &mut days.entry(batch.day).or_insert_with(|| fresh(batch.day)).ahead;
            ahead.push(MadeAhead { batch: batch.id, dish: dish.name.clone(), wanted });
        }
    }
    let mut list: Vec<PrepDay> = days.into_values().collect();
    find_company(&mut list);
    for day in &mut list {
        day.tasks.sort_by(|a, b| (b.shares.len(), a.work, &a.name).cmp(&(a.shares.len(), b.work, &b.name)));
    }
    list
}

/// Names for each task the earliest day on which the same work is done anyway and early enough.
fn find_company(list: &mut [PrepDay]) {
    let done: Vec<(DayNo, &'static str, String)> =
        list.iter().flat_map(|d| d.tasks.iter().map(|t| (d.day, t.work, t.name.clone()))).collect();
    for day in list {
        for task in &mut day.tasks {
            let Some(first) = task.may_be_done else { continue };
            let same = |d: &&(DayNo, &str, String)| d.1 == task.work && d.2 == task.name && (first.0..day.day.0).contains(&d.0.0);
            task.with = done.iter().find(same).map(|d| d.0);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        book::{Companion, Dish, Step, StepPlace},
        judge::test_support::{Plan, bank, dish, lunch, supper},
    };

    fn onions(id: &str, grams: f64, step: &str) -> Dish {
        let onion = Companion {
            name: "onion".into(),
            per_unit: 0.0,
            per_batch: grams,
            measure: Default::default(),
            pack: None,
            opened_days: None,
            pack_word: None,
        };
        let step = Step {
            text: step.into(),
            minutes: 5,
            hands: true,
            place: StepPlace::Bench,
            after: vec![],
            shelves: None,
            appliance: None,
            may_wait: None,
        };
        Dish { companions: vec![onion], steps: vec![step], ..dish(id) }
    }

    #[test]
    fn onions_for_two_dishes_of_a_day_are_chopped_once() {
        let mut plan = Plan::cabbage(4);
        plan.cook(lunch(1), onions("a", 120.0, "Chop the onion."), "heart", 100);
        plan.cook(supper(1), onions("b", 80.0, "Chop onion and garlic fine."), "heart", 100);
        plan.cook(supper(1), onions("c", 50.0, "Slice the onion."), "heart", 50);
        plan.cook(supper(2), onions("d", 30.0, "Chop the onion."), "middle", 50);
        plan.cook(supper(4), onions("e", 30.0, "Fry it."), "middle", 50);
        let list = prep_list(&plan.rotation);
        let monday: Vec<_> = list[0].tasks.iter().map(|t| (t.work, t.amount.as_f64(), t.shares.len())).collect();
        assert_eq!(monday, [("chop", 200.0, 2), ("slice", 50.0, 1)]);
        assert_eq!((list[1].tasks[0].may_be_done, list[1].tasks[0].with), (Some(DayNo(1)), Some(DayNo(1))));
        assert_eq!(list.iter().map(|d| d.day.0).collect::<Vec<_>>(), [1, 2, 4]);
        assert!(list[2].tasks.is_empty() && list[2].cuts.len() == 1, "nothing is chopped that nobody says to chop");
    }

    #[test]
    fn what_is_made_for_another_day_is_told() {
        let mut plan = Plan::cabbage(4);
        let stew = plan.cook(supper(1), dish("stew"), "middle", 200);
        plan.serve(lunch(3), stew, 50);
        plan.batch(2, bank("pickle"), &[("heart", 100)]);
        let ahead: Vec<_> = prep_list(&plan.rotation)
            .into_iter()
            .flat_map(|d| d.ahead.into_iter().map(move |a| (d.day.0, a.dish, a.wanted.map(|w| w.0))))
            .collect();
        assert_eq!(ahead, [(1, "Stew".to_string(), Some(3)), (2, "Pickle".to_string(), None)]);
    }

    #[test]
    fn shares_make_the_amount_and_nothing_is_prepared_that_is_not_needed() {
        let mut plan = Plan::cabbage(3);
        plan.cook(supper(1), onions("a", 33.3, "Chop the onion."), "heart", 100);
        plan.cook(lunch(1), onions("b", 66.6, "Take chopped onion."), "heart", 100);
        for task in prep_list(&plan.rotation).iter().flat_map(|d| &d.tasks) {
            assert_eq!(task.shares.iter().map(|s| s.amount.thousandths).sum::<u64>(), task.amount.thousandths);
            assert_eq!(task.amount.as_f64(), 99.9);
        }
    }
}
