//! The cut list: what comes off the piece on which day, in the order of the knife, for whom, into what; and what goes back uncut.

use super::{
    block::{Block, Rest},
    cut_words::{CutSize, how_cut},
    offcut::{self, Odds, Offcut},
    order::{DayCuts, best_ends, best_order, end_of},
};
use crate::{
    book::{CutForm, Dish, PartId, Role},
    judge::{Share, ShareUse, balance},
    quantity::{DayNo, Days, Portion},
    rotation::{Batch, BatchId, Draw, Rotation, Source},
};
use std::collections::BTreeMap;

/// The whole list.
#[derive(Clone, Debug, PartialEq)]
pub struct CutList {
    /// The days on which something is cut, in order.
    pub days: Vec<CutDay>,
    /// What of each part is cut and what is left, in the kind's order.
    pub parts: Vec<PartSum>,
    /// What is trimmed away before, each with its home.
    pub trim: Vec<Offcut>,
    /// What to beware of with knife and board, said once.
    pub cautions: Vec<String>,
    /// Whether the piece is a picking of many things, or was cooked whole and taken apart: there is no block to keep whole.
    pub loose: bool,
}

/// One day's cutting.
#[derive(Clone, Debug, PartialEq)]
pub struct CutDay {
    /// The day.
    pub day: DayNo,
    /// Each cut, in the order of the knife.
    pub lines: Vec<CutLine>,
    /// What goes back uncut when all is done, each wrapped by itself.
    pub rests: Vec<Rest>,
}

/// One portion that comes off.
#[derive(Clone, Debug, PartialEq)]
pub struct CutLine {
    /// For which batch.
    pub batch: BatchId,
    /// The dish it is for.
    pub dish: String,
    /// From which part.
    pub part: PartId,
    /// What a cook calls the part.
    pub part_name: String,
    /// The form, where the dish names one.
    pub form: Option<CutForm>,
    /// The dish's own sentence about it.
    pub how: Option<String>,
    /// The size named there.
    pub size: Option<CutSize>,
    /// How much, in the state of the part.
    pub portion: Portion,
    /// How many natural wholes that is (6 leaves), where the part comes in such.
    pub count: Option<(u32, String)>,
    /// What it is for; the grams add up to the portion, but for what no meal takes.
    pub shares: Vec<CutShare>,
    /// Where it goes from the board.
    pub into: Into,
    /// The first day on which it may be cut for the day of its making, where the cut form keeps a shorter time than the part.
    pub not_before: Option<DayNo>,
    /// Whether the plan has it cut before that.
    pub too_early: bool,
    /// Odd ends that even cutting leaves of it.
    pub odds: Option<Odds>,
}

/// What a portion, or some of it, is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutShare {
    /// A meal, a bank, a component.
    pub used: ShareUse,
    /// How much of the portion.
    pub grams: u32,
}

/// Where a portion goes from the board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Into {
    /// Straight into what is made of it that day.
    Making,
    /// Straight into the jar of something that outlives the window.
    Jar,
    /// Into a box in the cold until it is made.
    Box {
        /// The day of the making.
        until: DayNo,
    },
}

/// One part, to the gram: usable = cut + left.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartSum {
    /// Which part.
    pub part: PartId,
    /// What a cook calls it.
    pub name: String,
    /// What it holds.
    pub usable: Portion,
    /// What the list cuts from it.
    pub cut: u32,
    /// What is left; negative where more is planned than there is.
    pub left: i64,
}

/// Words by which a hazard of the kind is known to be about knife and board.
const KNIFE_HAZARDS: &[&str] = &["knife", "blade", "board", "flat face", "flat foot", "cloth"];

/// Makes the list.
///
/// A portion is cut on the day that its draw names, or else on the day of the making: as late as the plan allows. The order
/// within a day and the end of the part are chosen as `order` explains; nothing is changed by it but the way of the knife.
pub fn cut_list(rotation: &Rotation) -> CutList {
    let shares = balance(rotation).0.parts;
    let mut days: BTreeMap<DayNo, Vec<CutLine>> = BTreeMap::new();
    for batch in &rotation.batches {
        let Some(dish) = rotation.dishes.get(&batch.dish) else { continue };
        for draw in &batch.draws {
            let Source::Part(part) = &draw.from else { continue };
            let of_part = shares.iter().filter(|p| p.part == *part).flat_map(|p| &p.shares);
            let line = line(rotation, batch, dish, draw, part, of_part.filter(|s| s.batch == batch.id));
            days.entry(draw.cut_on.unwrap_or(batch.day)).or_default().push(line);
        }
    }
    let mut block = Block::whole(rotation);
    let loose = block.is_loose();
    let days = in_order(rotation, &mut block, days);
    let sum = |part: &PartId| {
        let lines = days.iter().flat_map(|d| &d.lines).filter(|l| l.part == *part);
        lines.map(|l| l.portion.get()).fold(0, u32::saturating_add)
    };
    let parts = rotation.piece.parts.iter().map(|p| PartSum {
        part: p.part.clone(),
        name: part_name(rotation, &p.part),
        usable: p.usable,
        cut: sum(&p.part),
        left: i64::from(p.usable.get()) - i64::from(sum(&p.part)),
    });
    let parts = parts.collect();
    let about_knives = |h: &&String| KNIFE_HAZARDS.iter().any(|w| h.to_lowercase().contains(w));
    CutList {
        parts,
        trim: rotation
            .piece
            .trim
            .iter()
            .map(|t| Offcut { name: t.name.clone(), grams: t.grams, home: offcut::home_of(t, &rotation.kind) })
            .collect(),
        cautions: if days.is_empty() { Vec::new() } else { rotation.kind.hazards.iter().filter(about_knives).cloned().collect() },
        days: with_odds(days, loose, rotation.kind.animal),
        loose,
    }
}

pub(super) fn part_name(rotation: &Rotation, part: &PartId) -> String {
    rotation.kind.part(part).map_or_else(|| part.to_string(), |p| p.name.clone())
}

fn line<'s>(
    rotation: &Rotation,
    batch: &Batch,
    dish: &Dish,
    draw: &Draw,
    part: &PartId,
    shares: impl Iterator<Item = &'s Share>,
) -> CutLine {
    let kind = &rotation.kind;
    let (how, size) = how_cut(dish, kind);
    let cut_on = draw.cut_on.unwrap_or(batch.day);
    let first = |keeps: Days| DayNo(batch.day.0.saturating_sub(keeps.0)).max(rotation.piece.opened);
    let not_before = dish.cut.and_then(|f| kind.cut_days(f)).map(first);
    let unit = kind.part(part).and_then(|p| p.unit.as_ref()).filter(|u| !u.1.is_zero());
    CutLine {
        batch: batch.id,
        dish: dish.name.clone(),
        part: part.clone(),
        part_name: part_name(rotation, part),
        form: dish.cut,
        how: how.map(str::to_string),
        size,
        portion: draw.portion,
        count: unit.map(|(word, each)| ((draw.portion.get() + each.get() / 2) / each.get(), word.clone())),
        shares: shares.map(|s| CutShare { used: s.used, grams: s.grams }).collect(),
        into: match dish.role {
            _ if cut_on < batch.day => Into::Box { until: batch.day },
            Role::Bank => Into::Jar,
            Role::Meal | Role::Component => Into::Making,
        },
        not_before,
        too_early: not_before.is_some_and(|first| cut_on < first),
        odds: None,
    }
}

/// Puts each day's lines in the order of the knife and says what is left behind it.
fn in_order(rotation: &Rotation, block: &mut Block, days: BTreeMap<DayNo, Vec<CutLine>>) -> Vec<CutDay> {
    let dates: Vec<DayNo> = days.keys().copied().collect();
    let next = |i: usize| dates.get(i + 1).copied().unwrap_or_else(|| rotation.last_day());
    let cuts: Vec<DayCuts> = days
        .values()
        .enumerate()
        .map(|(i, lines)| DayCuts {
            nights: next(i).since(dates[i]).0.max(1) as u32,
            portions: lines.iter().map(|l| (l.part.clone(), l.portion.get())).collect(),
        })
        .collect();
    let ends = best_ends(block, &cuts);
    let mut out = Vec::new();
    for ((day, mut lines), cuts) in days.into_iter().zip(&cuts) {
        let order = best_order(block, &cuts.portions, &ends);
        let place = |part: &PartId| order.iter().position(|p| p == part);
        lines.sort_by_key(|l| (place(&l.part), first_eaten(rotation, l), l.batch));
        for line in &lines {
            block.cut(&line.part, end_of(&ends, &line.part), line.portion.get());
        }
        out.push(CutDay { day, lines, rests: block.rests() });
    }
    out
}

/// When the first of a line comes to the table; what no meal eats comes last.
fn first_eaten(rotation: &Rotation, line: &CutLine) -> (DayNo, usize) {
    let meals = line.shares.iter().filter_map(|s| match s.used {
        ShareUse::Meal(slot) => Some(rotation.time_rank(slot)),
        _ => None,
    });
    meals.min().unwrap_or((DayNo(i16::MAX), usize::MAX))
}

/// Names a home for the odd ends of what is cut even: a dish of the same day or the next that takes any shape.
fn with_odds(mut days: Vec<CutDay>, loose: bool, animal: bool) -> Vec<CutDay> {
    if loose {
        return days;
    }
    let takers: Vec<(DayNo, BatchId, String)> = days
        .iter()
        .flat_map(|d| d.lines.iter().filter(|l| l.form.is_some_and(offcut::takes_odds)).map(|l| (d.day, l.batch, l.dish.clone())))
        .collect();
    for day in &mut days {
        // A fillet falls into portions without ends.
        let even = |form| offcut::leaves_odds(form) && !(animal && form == CutForm::Slices);
        for line in day.lines.iter_mut().filter(|l| l.form.is_some_and(even)) {
            let taker = takers.iter().find(|t| (day.day.0..=day.day.0.saturating_add(1)).contains(&t.0.0) && t.1 != line.batch);
            line.odds = Some(offcut::odds_of(line.portion.get(), taker.map(|t| t.2.clone())));
        }
    }
    days
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::test_support::{Plan, bank, dish, lunch, part_id, raw_dish, supper};
    use proptest::prelude::*;

    fn cabbage() -> Plan {
        let mut plan = Plan::cabbage(4);
        let shreds = |d: Dish| Dish { cut: Some(CutForm::Shreds), ..d };
        plan.cook(supper(1), shreds(raw_dish("slaw")), "heart", 260);
        plan.batch(1, shreds(bank("pickle")), &[("heart", 140)]);
        plan.cook(supper(2), dish("wedges"), "middle", 520);
        let rolls = plan.batch(3, dish("rolls"), &[("outer", 300)]);
        plan.serve(supper(3), rolls, 250);
        plan.serve(lunch(4), rolls, 50);
        plan.cook(supper(4), shreds(dish("pancakes")), "middle", 280);
        plan
    }

    #[test]
    fn the_head_goes_back_in_one_piece_with_one_face() {
        let list = cut_list(&cabbage().rotation);
        let rests: Vec<_> = list.days.iter().map(|d| d.rests.iter().map(|r| (r.grams, r.faces)).collect::<Vec<_>>()).collect();
        assert_eq!(rests, [vec![(1_100, 1)], vec![(580, 1)], vec![(280, 2)], vec![]]);
    }

    #[test]
    fn each_line_says_for_what_and_into_what() {
        let mut plan = cabbage();
        let pancakes = plan.rotation.batches.last().unwrap().id;
        plan.cut_on(pancakes, 3);
        let list = cut_list(&plan.rotation);
        let said: Vec<_> =
            list.days.iter().flat_map(|d| d.lines.iter().map(move |l| (d.day.0, l.dish.as_str(), l.into))).collect();
        assert_eq!(
            said,
            [
                (1, "Slaw", Into::Making),
                (1, "Pickle", Into::Jar),
                (2, "Wedges", Into::Making),
                (3, "Pancakes", Into::Box { until: DayNo(4) }),
                (3, "Rolls", Into::Making),
            ]
        );
        let rolls = &list.days[2].lines[1];
        assert_eq!(rolls.shares.iter().map(|s| s.grams).collect::<Vec<_>>(), [250, 50]);
    }

    #[test]
    fn what_is_cut_before_its_form_keeps_is_marked() {
        for (cut_on, early) in [(1, true), (2, false), (4, false)] {
            let mut plan = cabbage();
            let pancakes = plan.rotation.batches.last().unwrap().id;
            plan.cut_on(pancakes, cut_on);
            let list = cut_list(&plan.rotation);
            let line = list.days.iter().flat_map(|d| &d.lines).find(|l| l.batch == pancakes).unwrap();
            assert_eq!((line.not_before, line.too_early), (Some(DayNo(2)), early), "{cut_on}");
        }
    }

    #[test]
    fn knife_cautions_are_said_once_and_only_where_something_is_cut() {
        let mut plan = Plan::cabbage(2);
        let kind = std::sync::Arc::make_mut(&mut plan.rotation.kind);
        kind.hazards = vec!["Mould: cut 2 cm clear.".into(), "Hard: a damp cloth under the board.".into()];
        assert!(cut_list(&plan.rotation).cautions.is_empty());
        plan.cook(supper(1), dish("a"), "heart", 100);
        plan.cook(supper(2), dish("b"), "heart", 100);
        assert_eq!(cut_list(&plan.rotation).cautions, ["Hard: a damp cloth under the board."]);
    }

    #[test]
    fn odd_ends_find_a_dish_that_takes_them() {
        let mut plan = Plan::cabbage(4);
        let of = |form, id: &str| Dish { cut: Some(form), ..dish(id) };
        plan.cook(supper(1), of(CutForm::Cubes, "curry"), "middle", 400);
        plan.cook(supper(2), of(CutForm::Grated, "cakes"), "heart", 200);
        plan.cook(supper(3), of(CutForm::Slices, "steaks"), "middle", 200);
        let odds: Vec<_> = cut_list(&plan.rotation).days.iter().flat_map(|d| &d.lines).map(|l| l.odds.clone()).collect();
        let first = Odds { least: 20, most: 40, into: Some("Cakes".into()) };
        assert_eq!(odds, [Some(first), None, Some(Odds { least: 10, most: 20, into: None })]);
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        #[test]
        fn every_gram_of_a_part_is_cut_once_or_left(
            cuts in prop::collection::vec((1i16..6, 0usize..3, 1u32..400, 0i16..3), 0..9),
        ) {
            let mut plan = Plan::cabbage(7);
            for (i, &(day, part, grams, earlier)) in cuts.iter().enumerate() {
                let name = ["outer", "middle", "heart"][part];
                let batch = plan.cook(supper(day), dish(&format!("d{i}")), name, grams);
                plan.cut_on(batch, (day - earlier).max(1));
            }
            let r = &plan.rotation;
            let list = cut_list(r);
            for part in &list.parts {
                prop_assert_eq!(part.cut, r.drawn_from_part(&part.part));
                prop_assert_eq!(i64::from(part.usable.get()), i64::from(part.cut) + part.left);
                prop_assert_eq!(part.left, r.free_in_part(&part.part));
            }
            let whole: i64 = list.parts.iter().map(|p| i64::from(p.cut) + p.left).sum();
            let trim: i64 = list.trim.iter().map(|t| i64::from(t.grams.get())).sum();
            prop_assert_eq!(whole + trim, i64::from(r.piece.mass.get()));
            for line in list.days.iter().flat_map(|d| &d.lines) {
                prop_assert_eq!(line.shares.iter().map(|s| s.grams).sum::<u32>(), line.portion.get());
            }
            prop_assert!(list.days.windows(2).all(|w| w[0].day < w[1].day));
            // What is left on the last day is what no batch has drawn.
            if let Some(last) = list.days.last() {
                let left: i64 = list.parts.iter().map(|p| p.left.max(0)).sum();
                prop_assert_eq!(i64::from(last.rests.iter().map(|r| r.grams).sum::<u32>()), left);
            }
        }
    }

    #[test]
    fn a_limit_of_no_days_means_the_day_itself() {
        let mut plan = Plan::cabbage(2);
        std::sync::Arc::make_mut(&mut plan.rotation.kind).cut_forms[0].days = Days(0);
        plan.cook(supper(2), Dish { cut: Some(CutForm::Shreds), ..dish("a") }, "heart", 100);
        let list = cut_list(&plan.rotation);
        assert_eq!(list.days[0].lines[0].not_before, Some(DayNo(2)));
        assert_eq!(list.days[0].lines[0].part, part_id("heart"));
    }
}
