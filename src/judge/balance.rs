//! The mass balance: as bought = trim + rotten + in meals + banked + unallocated, to the gram.

use super::{
    Code, Finding, Severity,
    index::{Index, Made, Rank},
    portions,
    words::{grams, is_much, listed, percent},
};
use crate::{
    book::{PartId, Role},
    quantity::Portion,
    rotation::{BatchId, Rotation, Slot, Source},
};
use std::collections::HashMap;

/// A leftover of a batch below this many grams is what sticks to the tray and is not spoken of (common practice, no source).
const CRUMBS: u32 = 5;

/// Where every gram of the piece is.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    /// Mass as bought.
    pub as_bought: u32,
    /// Trimmed away (for a piece cooked whole: bone and cooking loss), with what was given away.
    pub trim: u32,
    /// What of that was good food that others eat.
    pub given_away: u32,
    /// Thrown away as rotten.
    pub rotten: u32,
    /// What can be divided.
    pub usable: u32,
    /// Drawn by batches that are eaten, components included.
    pub allotted: u32,
    /// Drawn by banks.
    pub banked: u32,
    /// What no batch has drawn; negative where more is drawn than is there.
    pub unallocated: i64,
    /// Each part, in the kind's order.
    pub parts: Vec<PartBalance>,
    /// Each batch: what it made and where that goes.
    pub stocks: Vec<Stock>,
}

/// One part's balance.
#[derive(Clone, Debug, PartialEq)]
pub struct PartBalance {
    /// Which part.
    pub part: PartId,
    /// What a cook calls it.
    pub name: String,
    /// What it holds.
    pub usable: Portion,
    /// What batches draw from it.
    pub drawn: u32,
    /// What is free; negative where more is drawn than is there.
    pub free: i64,
    /// How the drawn grams are shared out, in the order they are eaten.
    pub shares: Vec<Share>,
}

/// A share of a part: what one meal, one bank or one component takes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Share {
    /// The batch.
    pub batch: BatchId,
    /// What it is for.
    pub used: ShareUse,
    /// Grams in the part's state.
    pub grams: u32,
}

/// What a share of a part is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShareUse {
    /// Eaten at a meal.
    Meal(Slot),
    /// Goes into a bank.
    Bank,
    /// Kept for later dishes.
    Component,
    /// In a batch that no meal has taken yet.
    Unserved,
}

/// What a batch made and where that goes.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// The batch.
    pub batch: BatchId,
    /// What went in.
    pub pool: Portion,
    /// What came out, in thousandths of a gram (yields do not come out whole).
    pub cooked_mg: u64,
    /// What meals take, in the pool's state.
    pub served: u32,
    /// What later batches take, cooked.
    pub passed_on: u32,
    /// What is left, cooked, whole grams.
    pub left: u32,
}

/// Reckons the balance and says what is over, what has no home, and whose plate is too small or too full.
///
/// Findings: a part of which more is planned than there is (stop); what no batch has drawn, all parts in one finding (a
/// warning over 5 % of what is usable, else a note); what of a batch no meal and no later batch takes, and what is served
/// where nobody eats it (the same line; under 5 g it is silent); a main serving outside what its dish is good for (caution).
pub fn balance(rotation: &Rotation) -> (Balance, Vec<Finding>) {
    of(&Index::new(rotation))
}

/// The same of a rotation that is looked up already.
pub(super) fn of(index: &Index) -> (Balance, Vec<Finding>) {
    let balance = weigh(index);
    let mut findings = Vec::new();
    parts_over_or_left(index, &balance, &mut findings);
    stocks_left(index, &balance, &mut findings);
    portions::portions(index, &mut findings);
    (balance, findings)
}

fn weigh(index: &Index) -> Balance {
    let rotation = index.rotation;
    let piece = &rotation.piece;
    let places: HashMap<&PartId, usize> = piece.parts.iter().enumerate().map(|(i, p)| (&p.part, i)).collect();
    let mut parts: Vec<PartBalance> = piece
        .parts
        .iter()
        .map(|p| PartBalance {
            part: p.part.clone(),
            name: rotation.kind.part(&p.part).map_or_else(|| p.part.to_string(), |k| k.name.clone()),
            usable: p.usable,
            drawn: 0,
            free: i64::from(p.usable.get()),
            shares: Vec::new(),
        })
        .collect();
    let (mut allotted, mut banked) = (0u32, 0u32);
    let mut shares: Vec<Vec<(Eaten, Share)>> = vec![Vec::new(); parts.len()];
    let first_eaten = first_eaten(index);
    for (place, made) in index.batches.iter().enumerate() {
        let mut columns = Columns::of(made, &places);
        let drawn = columns.drawn_from_parts();
        let total = if made.is_bank() { &mut banked } else { &mut allotted };
        *total = total.saturating_add(drawn);
        for column in &columns.0 {
            if let Some(part) = column.part {
                parts[part].drawn = parts[part].drawn.saturating_add(column.rest);
                parts[part].free -= i64::from(column.rest);
            }
        }
        let mut put = |taken: Vec<(usize, u32)>, eaten: Eaten, used: ShareUse| {
            for (part, grams) in taken.into_iter().filter(|t| t.1 > 0) {
                shares[part].push((eaten, Share { batch: made.batch.id, used, grams }));
            }
        };
        let role = made.dish.map_or(Role::Meal, |d| d.role);
        if role == Role::Meal {
            for (sitting, serving) in &made.servings {
                let sitting = &index.sittings[*sitting];
                put(columns.take(serving.portion.get()), Eaten::At(sitting.rank), ShareUse::Meal(sitting.slot));
            }
            put(columns.take(went_into_passed_on(made)), Eaten::At(first_eaten[place]), ShareUse::Component);
        }
        let (eaten, used) = match role {
            Role::Meal => (Eaten::Unknown, ShareUse::Unserved),
            Role::Bank => (Eaten::Banked, ShareUse::Bank),
            Role::Component => (Eaten::At(first_eaten[place]), ShareUse::Component),
        };
        put(columns.take(u32::MAX), eaten, used);
    }
    for (part, mut shares) in parts.iter_mut().zip(shares) {
        shares.sort_by_key(|s| s.0);
        part.shares = shares.into_iter().map(|s| s.1).collect();
    }
    let usable = piece.usable_total(rotation.kind.portioned).get();
    Balance {
        as_bought: piece.mass.get(),
        trim: piece.trim_total().get(),
        given_away: piece.given_away().get(),
        rotten: piece.rotten.get(),
        usable,
        allotted,
        banked,
        unallocated: i64::from(usable) - i64::from(allotted) - i64::from(banked),
        parts,
        stocks: index.batches.iter().map(stock).collect(),
    }
}

/// When a share is eaten; in this order the shares of a part lie on the block.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Eaten {
    At(Rank),
    Banked,
    Unknown,
}

/// For each batch when something of it, or of what is made from it, first comes to the table; never: after all meals of its day.
fn first_eaten(index: &Index) -> Vec<Rank> {
    let mut first: Vec<Option<Rank>> =
        index.batches.iter().map(|m| m.servings.first().map(|s| index.sittings[s.0].rank)).collect();
    for &place in index.order.iter().rev() {
        let users = index.batches[place].users.iter().filter_map(|&u| first[u]);
        first[place] = users.chain(first[place]).min();
    }
    first.iter().zip(&index.batches).map(|(f, made)| f.unwrap_or((made.batch.day, usize::MAX))).collect()
}

/// What a batch still holds of each of its sources.
struct Columns(Vec<Column>);

struct Column {
    /// Place of the part; nothing for what comes from another batch.
    part: Option<usize>,
    rest: u32,
}

impl Columns {
    fn of(made: &Made, places: &HashMap<&PartId, usize>) -> Columns {
        let column = |draw: &crate::rotation::Draw| Column {
            part: match &draw.from {
                Source::Part(part) => places.get(part).copied(),
                Source::Batch(_) => None,
            },
            rest: draw.portion.get(),
        };
        Columns(made.batch.draws.iter().map(column).collect())
    }

    fn drawn_from_parts(&self) -> u32 {
        self.0.iter().filter(|c| c.part.is_some()).map(|c| c.rest).fold(0, u32::saturating_add)
    }

    /// Takes `grams` out of the pot, or what is left of it: as much of each source as its share in the pot, to the gram.
    fn take(&mut self, grams: u32) -> Vec<(usize, u32)> {
        let total: u64 = self.0.iter().map(|c| u64::from(c.rest)).sum();
        let grams = u64::from(grams).min(total);
        if grams == 0 {
            return Vec::new();
        }
        let exact: Vec<u64> = self.0.iter().map(|c| u64::from(c.rest) * grams).collect();
        let mut took: Vec<u64> = exact.iter().map(|e| e / total).collect();
        let mut order: Vec<usize> = (0..took.len()).collect();
        order.sort_by_key(|&i| (std::cmp::Reverse(exact[i] % total), i));
        // The broken grams add up to fewer whole ones than there are sources with a broken gram, so no source gives more than it has.
        let broken = (grams - took.iter().sum::<u64>()) as usize;
        for &i in order.iter().take(broken) {
            took[i] += 1;
        }
        let mut out = Vec::with_capacity(took.len());
        for (column, took) in self.0.iter_mut().zip(took) {
            column.rest -= took as u32;
            out.extend(column.part.map(|part| (part, took as u32)));
        }
        out
    }
}

/// What later batches take, reckoned back into what went in; a broken gram counts as taken.
fn went_into_passed_on(made: &Made) -> u32 {
    let yields = made.dish.map_or(0, |d| u64::from(d.yields.get()));
    let back = (u64::from(made.passed_on) * 1_000).div_ceil(yields.max(1));
    back.min(u64::from(u32::MAX)) as u32
}

fn stock(made: &Made) -> Stock {
    let pool = made.batch.pool();
    let yields = made.dish.map_or(0, |d| u64::from(d.yields.get()));
    let unserved = u64::from(pool.get().saturating_sub(made.served));
    Stock {
        batch: made.batch.id,
        pool,
        cooked_mg: u64::from(pool.get()) * yields,
        served: made.served,
        passed_on: made.passed_on,
        left: (unserved * yields / 1_000).saturating_sub(u64::from(made.passed_on)).min(u64::from(u32::MAX)) as u32,
    }
}

/// A warning where it is much of what is usable, else a note.
pub(super) fn by_mass(lost: u32, usable: u32) -> Severity {
    if is_much(lost, usable) { Severity::Warn } else { Severity::Note }
}

fn parts_over_or_left(index: &Index, balance: &Balance, findings: &mut Vec<Finding>) {
    for part in balance.parts.iter().filter(|p| p.free < 0) {
        let over = part.free.unsigned_abs().min(u64::from(u32::MAX)) as u32;
        let text = format!("{}: {} more is planned than there is", part.name, grams(over));
        findings.push(Finding::new(Severity::Stop, Code::OverAllotted, part.part.as_str(), text));
    }
    // What one part has over is no cure for another that is short, so only the free parts count here.
    let free: Vec<&PartBalance> = balance.parts.iter().filter(|p| p.free > 0).collect();
    let left = free.iter().map(|p| p.free).sum::<i64>().clamp(0, i64::from(u32::MAX)) as u32;
    if left == 0 {
        return;
    }
    let each: Vec<String> = match free.as_slice() {
        [one] => vec![one.name.clone()],
        many => many.iter().map(|p| format!("{} {}", grams(p.free.min(i64::from(u32::MAX)) as u32), p.name)).collect(),
    };
    let about: Vec<&str> = free.iter().map(|p| p.part.as_str()).collect();
    let text = format!(
        "{} ({} of what is usable) has no meal by {}: {}",
        grams(left),
        percent(left, balance.usable),
        index.rotation.day_name(index.rotation.last_day()),
        listed(&each)
    );
    findings.push(Finding::new(by_mass(left, balance.usable), Code::Unallocated, about.join("+"), text));
}

fn stocks_left(index: &Index, balance: &Balance, findings: &mut Vec<Finding>) {
    for (made, stock) in index.batches.iter().zip(&balance.stocks) {
        let Some(dish) = made.dish.filter(|d| d.role != Role::Bank) else { continue };
        // A component, and what is left of a dish after something was made of it, is weighed as it lies in its box.
        let (left, cooked) = if dish.role == Role::Meal && made.passed_on == 0 {
            (stock.pool.get().saturating_sub(stock.served), "")
        } else {
            (stock.left, " cooked")
        };
        if left < CRUMBS {
            continue;
        }
        let last = index.rotation.day_name(index.rotation.last_day());
        let text = format!("{}: {}{cooked} has no meal by {last}", dish.name, grams(left));
        findings.push(Finding::new(by_mass(left, balance.usable), Code::Unserved, made.key(), text).of(made.batch.id));
    }
}

#[cfg(test)]
mod tests {
    use super::super::test_support::{Plan, bank, component, dish, lunch, plain, raw_dish, said, supper};
    use super::*;
    use crate::book::Dish;
    use crate::quantity::{PerMille, State};
    use proptest::prelude::*;

    /// The worked red cabbage: 1,800 g of which 300 g is trim, nothing left over.
    fn cabbage_week() -> Plan {
        let mut plan = Plan::cabbage(4);
        plan.cook(supper(1), raw_dish("slaw"), "heart", 260);
        let pickle = plan.batch(1, bank("pickle"), &[("heart", 140)]);
        plan.cook(supper(2), dish("wedges"), "middle", 520);
        let rolls = plan.batch(3, dish("leaf-rolls"), &[("outer", 300)]);
        plan.serve(supper(3), rolls, 250);
        plan.serve(lunch(4), rolls, 50);
        plan.cook(supper(4), dish("pancakes"), "middle", 280);
        plan.serve(supper(4), pickle, 104);
        plan
    }

    fn shares(part: &PartBalance) -> Vec<(ShareUse, u32)> {
        part.shares.iter().map(|s| (s.used, s.grams)).collect()
    }

    #[test]
    fn the_cabbage_week_closes_to_the_gram() {
        let (b, findings) = balance(&cabbage_week().rotation);
        assert_eq!((b.as_bought, b.trim, b.rotten, b.usable), (1_800, 300, 0, 1_500));
        assert_eq!((b.allotted, b.banked, b.unallocated), (1_360, 140, 0));
        assert_eq!(said(&findings), [""; 0]);
        assert_eq!(shares(&b.parts[0]), [(ShareUse::Meal(supper(3)), 250), (ShareUse::Meal(lunch(4)), 50)]);
        assert_eq!(shares(&b.parts[1]), [(ShareUse::Meal(supper(2)), 520), (ShareUse::Meal(supper(4)), 280)]);
        assert_eq!(shares(&b.parts[2]), [(ShareUse::Meal(supper(1)), 260), (ShareUse::Bank, 140)]);
        assert_eq!(b.stocks[1].left, 36, "the jar after Thursday");
    }

    #[test]
    fn what_has_no_meal_is_named_with_its_parts() {
        let mut salmon = Plan::of("salmon", &[("loin", 480, 1), ("belly", 380, 1), ("tail", 400, 1)], 3);
        salmon.eater("Dag", 320);
        salmon.cook(supper(1), dish("seared"), "loin", 480);
        salmon.cook(supper(2), dish("curry"), "belly", 352);
        salmon.cook(supper(2), dish("poached"), "tail", 400);
        let (b, findings) = balance(&salmon.rotation);
        assert_eq!(b.unallocated, 28);
        let text = "Note balance-left: 28 g (2.2 % of what is usable) has no meal by Wednesday: belly";
        assert_eq!(said(&findings), [text]);

        let bare = Plan::cabbage(4);
        let text = "Warning balance-left: 1,500 g (100 % of what is usable) has no meal by Thursday: \
                    300 g outer, 800 g middle and 400 g heart";
        assert_eq!(said(&balance(&bare.rotation).1), [text]);
    }

    #[test]
    fn five_in_a_hundred_left_is_a_note_and_a_gram_more_a_warning() {
        for (grams, severity) in [(725, Severity::Note), (724, Severity::Warn)] {
            let mut plan = Plan::cabbage(4);
            plan.cook(supper(1), dish("a"), "outer", 300);
            plan.cook(supper(2), dish("b"), "middle", grams);
            plan.cook(supper(3), dish("c"), "heart", 400);
            let (_, findings) = balance(&plan.rotation);
            assert_eq!(findings.iter().map(|f| f.severity).collect::<Vec<_>>(), [severity], "{grams}");
        }
    }

    #[test]
    fn more_than_there_is_stops_and_another_parts_plenty_is_still_without_a_home() {
        let mut plan = Plan::cabbage(4);
        plan.cook(supper(1), dish("a"), "middle", 840);
        plan.cook(supper(2), dish("b"), "outer", 260);
        plan.cook(supper(3), dish("c"), "heart", 400);
        let (b, findings) = balance(&plan.rotation);
        assert_eq!((b.unallocated, b.parts[1].free), (0, -40));
        let texts = [
            "Stop balance-over: middle: 40 g more is planned than there is",
            "Note balance-left: 40 g (2.7 % of what is usable) has no meal by Thursday: outer",
        ];
        assert_eq!(said(&findings), texts);
    }

    #[test]
    fn a_batch_not_eaten_up_is_told_and_crumbs_are_not() {
        for (served, want) in [
            (250, vec!["Note balance-unserved: Leaf rolls: 50 g has no meal by Thursday"]),
            (200, vec!["Warning balance-unserved: Leaf rolls: 100 g has no meal by Thursday"]),
            (296, vec![]),
            (295, vec!["Note balance-unserved: Leaf rolls: 5 g has no meal by Thursday"]),
        ] {
            let mut plan = Plan::cabbage(4);
            let rolls = plan.batch(3, dish("leaf-rolls"), &[("outer", 300)]);
            plan.serve(supper(3), rolls, served);
            let said = said(&balance(&plan.rotation).1);
            let of_rolls: Vec<_> = said.iter().filter(|s| s.contains("rolls")).collect();
            assert_eq!(of_rolls, want.iter().collect::<Vec<_>>(), "{served}");
        }
    }

    /// The tomato sauce: 1,530 g at a yield of 0.55 makes 841.5 g, two tubs of 420 g; the rest sticks to the tray.
    #[test]
    fn a_component_is_shared_out_and_its_broken_gram_stays_on_the_tray() {
        let sauce = Dish { yields: PerMille::new(550).unwrap(), ..component("sauce") };
        let mut plan = Plan::of("tomato", &[("split", 1_530, 1)], 5);
        plan.eater("Mia", 320);
        let tubs = plan.batch(1, sauce, &[("split", 1_530)]);
        for (day, name) in [(1, "pasta"), (4, "eggs")] {
            let made = plan.batch_from(day, Dish { state: State::Cooked, ..dish(name) }, tubs, 420);
            plan.serve(supper(day), made, 420);
        }
        let (b, findings) = balance(&plan.rotation);
        assert_eq!(b.stocks[0].cooked_mg, 841_500);
        assert_eq!((b.stocks[0].passed_on, b.stocks[0].left), (840, 1));
        assert_eq!(shares(&b.parts[0]), [(ShareUse::Component, 1_530)]);
        assert_eq!(said(&findings), [""; 0]);

        plan.rotation.batches.pop();
        plan.rotation.meals.remove(&supper(4));
        let (_, findings) = balance(&plan.rotation);
        assert_eq!(said(&findings), ["Warning balance-unserved: Sauce: 421 g cooked has no meal by Friday"]);
    }

    #[test]
    fn a_pot_of_two_parts_gives_each_meal_of_both() {
        let mut plan = Plan::turkey(4);
        let roast = plan.batch(1, dish("roast"), &[("breast", 588), ("thigh", 300)]);
        plan.serve(lunch(1), roast, 600);
        plan.serve(supper(1), roast, 288);
        let (b, _) = balance(&plan.rotation);
        assert_eq!(shares(&b.parts[0]), [(ShareUse::Meal(lunch(1)), 397), (ShareUse::Meal(supper(1)), 191)]);
        assert_eq!(shares(&b.parts[1]), [(ShareUse::Meal(lunch(1)), 203), (ShareUse::Meal(supper(1)), 97)]);
    }

    #[test]
    fn only_the_main_serving_is_measured_against_its_dish() {
        let sized = |id: &str| Dish { grams: (90, 110, 140), ..dish(id) };
        // 2.6 units: 90 for an adult is 234 g, 140 is 364 g.
        for (served, want) in [
            (233, Some("Monday supper, Curry: 89 g for an adult; 90 to 140 g is right")),
            (234, None),
            (364, None),
            (365, Some("Monday supper, Curry: 141 g for an adult; 90 to 140 g is right")),
        ] {
            let mut plan = Plan::cabbage(4);
            plan.cook(supper(1), sized("curry"), "middle", served);
            plan.cook(supper(1), Dish { role: Role::Bank, ..sized("pickle") }, "heart", 40);
            plan.cook(supper(1), sized("side"), "outer", 50);
            let (_, findings) = balance(&plan.rotation);
            let sizes: Vec<_> = findings.iter().filter(|f| f.code == Code::ServingSize).map(|f| plain(&f.text)).collect();
            assert_eq!(sizes, want.into_iter().collect::<Vec<_>>(), "{served}");
        }
    }

    #[test]
    fn somebody_on_a_dish_of_their_own_has_a_main_serving_of_their_own() {
        let mut plan = Plan::cabbage(4);
        let kim = plan.rotation.household.eaters[2].id;
        let big = plan.batch(1, Dish { grams: (50, 100, 300), ..dish("big") }, &[("middle", 400)]);
        let small = plan.batch(1, Dish { grams: (90, 110, 140), ..dish("small") }, &[("heart", 30)]);
        let others = [plan.rotation.household.eaters[0].id, plan.rotation.household.eaters[1].id];
        plan.serve(supper(1), big, 400).eaters = others.to_vec();
        plan.serve(supper(1), small, 30).eaters = vec![kim];
        let (_, findings) = balance(&plan.rotation);
        let sizes: Vec<_> = findings.iter().filter(|f| f.code == Code::ServingSize).map(|f| plain(&f.text)).collect();
        assert_eq!(sizes, ["Monday supper, Small: 50 g for an adult; 90 to 140 g is right"]);
    }

    #[test]
    fn food_on_a_table_where_nobody_sits_is_lost() {
        let mut plan = Plan::cabbage(4);
        plan.cook(supper(1), dish("soup"), "middle", 800);
        plan.present(supper(1), &[]);
        let (_, findings) = balance(&plan.rotation);
        assert!(said(&findings).contains(&"Warning balance-unserved: Monday supper: nobody eats the 800 g of Soup".to_string()));
    }

    /// (role, day, grams from each of three parts, grams from the batch before, thousandths served at two meals)
    type Cooking = (u8, i16, [u32; 3], u32, [u32; 2]);

    fn week(cookings: &[Cooking]) -> Plan {
        let mut plan = Plan::cabbage(7);
        plan.allergic("Jon", crate::book::Allergen::Sesame);
        let mut before = None;
        for (i, &(role, day, parts, from_before, served)) in cookings.iter().enumerate() {
            let id = format!("d{i}");
            let dish = match role {
                0 => bank(&id),
                1 => component(&id),
                _ => {
                    let allergens = vec![crate::book::Allergen::Sesame];
                    let parts = vec![super::super::test_support::part_id("heart")];
                    Dish { yields: PerMille::new(700).unwrap(), allergens, parts, grams: (90, 100, 110), ..dish(&id) }
                }
            };
            let draws: Vec<_> = ["outer", "middle", "heart"].into_iter().zip(parts).filter(|d| d.1 > 0).collect();
            let batch = plan.batch(day, dish, &draws);
            if let Some(source) = before.filter(|_| from_before > 0) {
                plan.draw_batch(batch, source, from_before);
            }
            let pool = plan.batch_mut(batch).pool().get();
            for (at, share) in served.into_iter().enumerate().filter(|s| s.1 > 0 && role != 1) {
                plan.serve(supper((day + at as i16).min(7)), batch, pool * share / 1_000);
            }
            before = Some(batch);
        }
        plan
    }

    fn cookings() -> impl Strategy<Value = Vec<Cooking>> {
        let cooking = (0u8..4, 1i16..7, prop::array::uniform3(0u32..300), 0u32..40, prop::array::uniform2(0u32..500));
        prop::collection::vec(cooking, 0..12)
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        #[test]
        fn every_gram_is_somewhere_once(cookings in cookings()) {
            let plan = week(&cookings);
            let (b, _) = balance(&plan.rotation);
            let drawn = i64::from(b.allotted) + i64::from(b.banked);
            prop_assert_eq!(i64::from(b.as_bought), i64::from(b.trim) + i64::from(b.rotten) + drawn + b.unallocated);
            prop_assert_eq!(b.parts.iter().map(|p| i64::from(p.drawn)).sum::<i64>(), drawn);
            for part in &b.parts {
                prop_assert_eq!(part.shares.iter().map(|s| s.grams).sum::<u32>(), part.drawn);
                prop_assert_eq!(part.free, i64::from(part.usable.get()) - i64::from(part.drawn));
                prop_assert!(part.shares.iter().all(|s| s.grams > 0));
                let meals: Vec<_> = part.shares.iter().filter_map(|s| match s.used {
                    ShareUse::Meal(slot) => Some(plan.rotation.time_rank(slot)),
                    _ => None,
                }).collect();
                prop_assert!(meals.is_sorted());
            }
        }

        #[test]
        fn a_meals_shares_make_its_serving(cookings in cookings()) {
            let plan = week(&cookings);
            let (b, _) = balance(&plan.rotation);
            for batch in &plan.rotation.batches {
                let raw_only = batch.draws.iter().all(|d| matches!(d.from, Source::Part(_)));
                if !raw_only || plan.rotation.dish_of(batch.id).unwrap().role != Role::Meal {
                    continue;
                }
                for (slot, serving) in plan.rotation.servings_of(batch.id) {
                    let shares = b.parts.iter().flat_map(|p| &p.shares);
                    let here = shares.filter(|s| s.batch == batch.id && s.used == ShareUse::Meal(slot));
                    prop_assert_eq!(here.map(|s| s.grams).sum::<u32>(), serving.portion.get());
                }
            }
        }

        #[test]
        fn no_two_findings_share_a_name(cookings in cookings()) {
            let plan = week(&cookings);
            let mut keys: Vec<_> = balance(&plan.rotation).1.into_iter().map(|f| f.key.0).collect();
            keys.extend(super::super::keeping(&plan.rotation).1.into_iter().map(|f| f.key.0));
            keys.extend(super::super::diet::diet(&plan.rotation).into_iter().map(|f| f.key.0));
            keys.extend(super::super::shape::shape(&plan.rotation).into_iter().map(|f| f.key.0));
            let all = keys.len();
            keys.sort();
            keys.dedup();
            prop_assert_eq!(keys.len(), all);
        }
    }
}
