//! The shape of the plan: the right part for the dish, raw before cooked.

use super::{
    Code, Finding, Severity,
    clock::Clocks,
    index::{Index, Made},
    sight::Sight,
    words::{grams, slot_key},
};
use crate::{
    book::{Dish, KindPart, PartId, Role},
    rotation::Source,
};
use std::collections::HashMap;

/// With fewer meals than this there is no order to speak of (house rule).
const MEALS_FOR_AN_ORDER: usize = 3;

/// Says which dishes are fed the wrong part (a warning, with how much of the right one is free) and whether the only raw dish
/// of three meals or more stands last (a note: raw and delicate comes first).
pub(super) fn of(sight: &Sight) -> Vec<Finding> {
    let Sight { index, clocks, .. } = sight;
    let rotation = index.rotation;
    let mut free: HashMap<&PartId, i64> = rotation.piece.parts.iter().map(|p| (&p.part, i64::from(p.usable.get()))).collect();
    for draw in rotation.batches.iter().flat_map(|b| &b.draws) {
        if let Source::Part(part) = &draw.from
            && let Some(free) = free.get_mut(part)
        {
            *free -= i64::from(draw.portion.get());
        }
    }
    let mut findings = Vec::new();
    for made in &index.batches {
        if let Some(dish) = made.dish {
            wrong_parts(index, made, dish, &free, &mut findings);
        }
    }
    findings.extend(raw_last(index, clocks));
    findings
}

/// The same of a rotation that nobody has looked up yet.
#[cfg(test)]
pub(super) fn shape(rotation: &crate::rotation::Rotation) -> Vec<Finding> {
    of(&Sight::of(rotation))
}

fn wrong_parts(index: &Index, made: &Made, dish: &Dish, free: &HashMap<&PartId, i64>, findings: &mut Vec<Finding>) {
    let kind = &index.rotation.kind;
    // A dish may name parts of several kinds; where it names none of this one it has nothing to say here.
    let wanted: Vec<&KindPart> = dish.parts.iter().filter_map(|p| kind.part(p)).collect();
    let free_of = |part: &KindPart| free.get(&part.id).copied().unwrap_or(0).clamp(0, i64::from(u32::MAX)) as u32;
    for draw in &made.batch.draws {
        let Source::Part(part) = &draw.from else { continue };
        let Some(&best) = wanted.first() else { return };
        if dish.suits_part(part) {
            continue;
        }
        let drawn = draw.portion.get();
        let wants = wanted.iter().copied().find(|p| free_of(p) >= drawn).unwrap_or(best);
        let link = if free_of(wants) >= drawn { "and" } else { "but" };
        let name = kind.part(part).map_or(part.as_str(), |p| p.name.as_str());
        let text = format!(
            "{}: {} wants the {}, {link} {} of it is free: {} of {name} is a poor stand-in",
            index.where_made(made),
            dish.name,
            wants.name,
            grams(free_of(wants)),
            grams(drawn),
        );
        let finding = Finding::new(Severity::Warn, Code::WrongPart, format!("{}/{part}", made.key()), text).of(made.batch.id);
        findings.push(match index.first_meal(made) {
            Some(slot) => finding.at(slot),
            None => finding,
        });
    }
}

fn raw_last(index: &Index, clocks: &[Option<Clocks>]) -> Option<Finding> {
    if index.sittings.len() < MEALS_FOR_AN_ORDER {
        return None;
    }
    // What was cooked before is no longer raw for being served cold.
    let raw =
        index.batches.iter().zip(clocks).filter(|(made, clocks)| {
            made.dish.is_some_and(|d| d.role == Role::Meal) && clocks.as_ref().is_some_and(|c| !c.cooked)
        });
    let mut served = raw.flat_map(|(made, _)| made.servings.iter().map(move |s| (s.0, made)));
    let (sitting, made) = served.next()?;
    if served.next().is_some() || sitting + 1 != index.sittings.len() {
        return None;
    }
    let slot = index.sittings[sitting].slot;
    let text = format!(
        "{}: {} is the only raw dish and stands last; raw and delicate comes first",
        index.rotation.slot_name(slot),
        made.name()
    );
    let about = format!("{}/{}", made.key(), slot_key(slot));
    Some(Finding::new(Severity::Note, Code::RawLast, about, text).at(slot).of(made.batch.id))
}

#[cfg(test)]
mod tests {
    use super::super::test_support::{Plan, bank, component, dish, part_id, raw_dish, said, supper};
    use super::*;

    fn wants(parts: &[&str], dish: Dish) -> Dish {
        Dish { parts: parts.iter().map(|p| part_id(p)).collect(), ..dish }
    }

    #[test]
    fn a_dish_fed_the_wrong_part_says_which_it_wants_and_what_is_free_of_it() {
        let mut plan = Plan::cabbage(4);
        plan.batch(1, bank("pickle"), &[("heart", 400)]);
        plan.cook(supper(1), wants(&["heart"], raw_dish("sharp-slaw")), "middle", 260);
        let texts = [
            "Warning part: Monday supper: Sharp slaw wants the heart, but 0 g of it is free: 260 g of middle is a poor stand-in",
        ];
        assert_eq!(said(&shape(&plan.rotation)), texts);

        let mut plan = Plan::cabbage(4);
        plan.batch(2, wants(&["outer", "middle"], component("braise")), &[("heart", 400)]);
        let texts =
            ["Warning part: Tuesday: Braise wants the middle, and 800 g of it is free: 400 g of heart is a poor stand-in"];
        assert_eq!(said(&shape(&plan.rotation)), texts);
    }

    #[test]
    fn a_dish_without_a_wish_or_with_wishes_of_another_kind_takes_any_part() {
        let mut plan = Plan::cabbage(4);
        plan.cook(supper(1), dish("braise"), "heart", 400);
        plan.cook(supper(2), wants(&["loin", "tail"], dish("bake")), "middle", 400);
        plan.cook(supper(3), wants(&["loin", "outer"], dish("rolls")), "outer", 300);
        assert_eq!(said(&shape(&plan.rotation)), [""; 0]);
    }

    #[test]
    fn the_only_raw_dish_at_the_end_is_hinted_at() {
        let text =
            "Note order-raw-last: Wednesday supper: Slaw is the only raw dish and stands last; raw and delicate comes first";
        // Whether each supper is raw.
        for (week, hint) in [
            (vec![false, false, true], true),
            (vec![false, true], false),
            (vec![true, false, true], false),
            (vec![true, false, false], false),
            (vec![false, false, false], false),
        ] {
            let mut plan = Plan::cabbage(4);
            for (i, raw) in week.iter().enumerate() {
                let made = if *raw { raw_dish("slaw") } else { dish("braise") };
                plan.cook(supper(i as i16 + 1), made, "middle", 200);
            }
            assert_eq!(said(&shape(&plan.rotation)), if hint { vec![text] } else { vec![] }, "{week:?}");
        }
    }

    #[test]
    fn cold_flakes_of_cooked_fish_are_not_a_raw_dish() {
        let mut plan = Plan::cabbage(4);
        plan.cook(supper(1), dish("seared"), "heart", 200);
        plan.cook(supper(2), dish("curry"), "middle", 200);
        let poached = plan.batch(2, component("poached"), &[("outer", 300)]);
        let flakes = plan.batch_from(3, raw_dish("flakes"), poached, 300);
        plan.serve(supper(3), flakes, 300);
        assert_eq!(said(&shape(&plan.rotation)), [""; 0]);
    }
}
