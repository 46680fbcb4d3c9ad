//! What to buy, pick and take from the cupboard: every companion summed over the plan, rounded up to packs, by trip and shop.

use super::{CompanionAmount, Cupboard, errand, packs};
use crate::{
    book::{Allergen, Book, Dish, Role, Shop, stocking_of},
    judge::{CompanionNeed, companion_needs},
    quantity::{AsBought, DayNo, Days, Grams},
    rotation::{BatchId, Rotation, Slot},
};
use std::collections::BTreeSet;

/// The whole list.
#[derive(Clone, Debug, PartialEq)]
pub struct ShoppingList {
    /// The piece, unless it is in the house already.
    pub piece: Option<PieceLine>,
    /// Each companion, by trip, shop and name; what costs no errand comes last.
    pub lines: Vec<ShoppingLine>,
    /// The days on which somebody goes shopping: as few as the keeping allows.
    pub trips: Vec<DayNo>,
    /// Every allergen that comes into the house with it, in the order of the law.
    pub allergens: Vec<Allergen>,
}

/// The piece on the list.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceLine {
    /// What it is.
    pub name: String,
    /// Its mass as bought.
    pub mass: Grams<AsBought>,
    /// Where it comes from.
    pub source: Where,
    /// When it is fetched.
    pub errand: Errand,
}

/// Where something on the list comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Where {
    /// A shop.
    Shop(Shop),
    /// The garden: picked, not bought, and nothing over.
    Garden,
    /// The cupboard holds all that is needed.
    House,
}

impl Where {
    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            Where::Shop(shop) => shop.word(),
            Where::Garden => "garden",
            Where::House => "in the house",
        }
    }
}

/// When something is fetched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Errand {
    /// The first day on which it may be fetched and still be good unopened for its first use.
    pub not_before: DayNo,
    /// The last day that is soon enough: the day before its first use, or the day itself for fish.
    pub by: DayNo,
    /// The day of the trip that it is put on.
    pub trip: DayNo,
}

/// One companion. `in_house + bought + short = need + left + scraped`, to the thousandth.
#[derive(Clone, Debug, PartialEq)]
pub struct ShoppingLine {
    /// What it is called.
    pub name: String,
    /// What of it goes into which dish, in the order of the making.
    pub uses: Vec<CompanionFor>,
    /// All of that together.
    pub need: CompanionAmount,
    /// What the cupboard gives towards it.
    pub in_house: CompanionAmount,
    /// What is bought or picked.
    pub bought: CompanionAmount,
    /// That in packs, where it is sold so.
    pub packs: Option<Packs>,
    /// What is over in the end.
    pub left: CompanionAmount,
    /// What is not bought for: under a hundredth of a pack is scraped together.
    pub short: CompanionAmount,
    /// What clings to packs that are emptied: under a hundredth of each.
    pub scraped: CompanionAmount,
    /// Where it comes from.
    pub source: Where,
    /// When it is fetched; nothing for what is in the house.
    pub errand: Option<Errand>,
    /// The last pack that is opened: when, and until when what is over of it may be used.
    pub opened: Option<Opened>,
    /// Dishes of the book that would use what is over, best first, at most three.
    pub would_use: Vec<String>,
}

/// Packs of one size.
#[derive(Clone, Debug, PartialEq)]
pub struct Packs {
    /// How many.
    pub count: u32,
    /// What one holds.
    pub size: CompanionAmount,
    /// What one is called: "pot".
    pub word: String,
}

/// An opened pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Opened {
    /// The day it is opened.
    pub on: DayNo,
    /// The last day on which it may be used.
    pub use_by: DayNo,
}

/// What one batch takes of a companion.
#[derive(Clone, Debug, PartialEq)]
pub struct CompanionFor {
    /// The batch.
    pub batch: BatchId,
    /// Its dish.
    pub dish: String,
    /// The day of its making.
    pub day: DayNo,
    /// The first meal that eats of it, if any.
    pub meal: Option<Slot>,
    /// How much.
    pub amount: CompanionAmount,
}

impl ShoppingLine {
    /// What is over of an opened pack, as a share of one; nothing where nothing is opened, or nothing but a crumb is over.
    pub fn share_over(&self) -> Option<f64> {
        let size = self.packs.as_ref().map(|p| p.size.as_f64()).filter(|s| *s > 0.0)?;
        self.opened.filter(|_| !self.left.is_crumb())?;
        Some((self.left.as_f64() / size).min(1.0))
    }
}

impl ShoppingList {
    /// What is bought and, once opened, is thrown away unless something else uses it: the largest share of its pack first.
    pub fn spoils(&self) -> Vec<(&ShoppingLine, f64)> {
        let mut lines: Vec<(&ShoppingLine, f64)> = self.lines.iter().filter_map(|l| Some((l, l.share_over()?))).collect();
        lines.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.name.cmp(&b.0.name)));
        lines
    }
}

/// Makes the list. `cupboard` is what the house holds, `book` is where uses for what is over are sought.
pub fn shopping_list(rotation: &Rotation, cupboard: &Cupboard, book: &Book) -> ShoppingList {
    let mut lines: Vec<ShoppingLine> =
        companion_needs(rotation).iter().map(|need| line(rotation, cupboard, book, need)).collect();
    let mut piece = errand::of_piece(rotation, cupboard);
    let trips = {
        let of_lines = lines.iter_mut().filter_map(|l| l.errand.as_mut());
        errand::plan_trips(of_lines.chain(piece.as_mut().map(|p| &mut p.errand)))
    };
    lines.sort_by(|a, b| {
        let key = |l: &ShoppingLine| (l.errand.is_none(), l.errand.map(|e| e.trip), l.source == Where::Garden, round(l.source));
        (key(a), &a.name).cmp(&(key(b), &b.name))
    });
    ShoppingList { piece, lines, trips, allergens: allergens(rotation) }
}

/// Where a shop stands in the round.
pub(super) fn round(source: Where) -> usize {
    match source {
        Where::Shop(shop) => Shop::ALL.iter().position(|s| *s == shop).unwrap_or(usize::MAX),
        Where::Garden | Where::House => usize::MAX,
    }
}

fn line(rotation: &Rotation, cupboard: &Cupboard, book: &Book, need: &CompanionNeed) -> ShoppingLine {
    let uses: Vec<CompanionFor> = need
        .uses
        .iter()
        .map(|u| CompanionFor {
            batch: u.batch,
            dish: rotation.dish_of(u.batch).map_or_else(String::new, |d| d.name.clone()),
            day: u.day,
            meal: rotation.servings_of(u.batch).first().map(|s| s.0),
            amount: CompanionAmount::of(u.amount, need.measure),
        })
        .collect();
    let picked = cupboard.grows(need.name);
    let filled = packs::fill(rotation, need, &uses, cupboard.stock_of(need.name, need.measure), picked);
    let stocking = stocking_of(need.name);
    let source = match () {
        () if filled.bought.is_zero() => Where::House,
        () if picked => Where::Garden,
        () => Where::Shop(stocking.shop),
    };
    let first = filled.first_bought.filter(|_| source != Where::House);
    let errand = first.map(|day| match source {
        // What grows is picked when it is wanted.
        Where::Garden => errand::on(day, 1),
        _ => errand::on(day, stocking.ahead),
    });
    let spoken = !filled.left.is_crumb() && source != Where::Garden;
    let would_use = if spoken { would_use(rotation, book, need) } else { Vec::new() };
    let total = uses.iter().map(|u| u.amount.thousandths).fold(0, u64::saturating_add);
    ShoppingLine {
        name: need.name.to_string(),
        need: CompanionAmount::nothing(need.measure).with(total),
        uses,
        in_house: filled.in_house,
        bought: filled.bought,
        packs: filled.packs,
        left: filled.left,
        short: filled.short,
        scraped: filled.scraped,
        source,
        errand,
        opened: filled.opened,
        would_use,
    }
}

/// Dishes that would use a companion: those of the piece's kind that are not planned before those that are, then those of any
/// other kind; the quickest first.
fn would_use(rotation: &Rotation, book: &Book, need: &CompanionNeed) -> Vec<String> {
    let holds = |d: &Dish| d.companions.iter().any(|c| c.name == need.name && c.measure == need.measure);
    let mut found: Vec<_> = book.dishes().filter(|d| d.role == Role::Meal && holds(d)).collect();
    found.sort_by_key(|d| (!d.suits_kind(&rotation.kind), rotation.dishes.contains_key(&d.id), d.minutes.0, d.id.clone()));
    found.into_iter().take(3).map(|d| d.name.clone()).collect()
}

/// The allergens of the piece, of every dish that is made and of every twin that is served.
fn allergens(rotation: &Rotation) -> Vec<Allergen> {
    let mut all: BTreeSet<Allergen> = rotation.kind.allergens.iter().copied().collect();
    for batch in &rotation.batches {
        let Some(dish) = rotation.dishes.get(&batch.dish) else { continue };
        all.extend(&dish.allergens);
        let served = rotation.servings_of(batch.id);
        let twins = served.iter().flat_map(|(_, s)| &s.twins);
        all.extend(twins.filter_map(|t| dish.twins.iter().find(|d| d.name == t.twin)).flat_map(|t| &t.allergens));
    }
    all.into_iter().collect()
}

/// The last day on which a pack opened on `on` may be used.
pub(super) fn opened(on: DayNo, keeps: Days) -> Opened {
    Opened { on, use_by: on.plus(keeps) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        book::{Companion, CompanionMeasure},
        judge::test_support::{Plan, dish, pack, supper},
        lists::CupboardItem,
    };
    use proptest::prelude::*;

    fn with(companions: Vec<Companion>, id: &str) -> Dish {
        Dish { companions, ..dish(id) }
    }

    fn loose(name: &str, per_batch: f64, measure: CompanionMeasure) -> Companion {
        Companion { name: name.into(), per_unit: 0.0, per_batch, measure, pack: None, opened_days: None, pack_word: None }
    }

    fn have(name: &str, amount: Option<f64>) -> CupboardItem {
        CupboardItem { name: name.into(), amount, measure: CompanionMeasure::G, use_by: None }
    }

    fn list(plan: &Plan, items: Vec<CupboardItem>, garden: &[&str]) -> ShoppingList {
        let cupboard = Cupboard { items, garden: garden.iter().map(|g| g.to_string()).collect() };
        shopping_list(&plan.rotation, &cupboard, &Book::shipped().unwrap())
    }

    fn of<'l>(list: &'l ShoppingList, name: &str) -> &'l ShoppingLine {
        list.lines.iter().find(|l| l.name == name).unwrap()
    }

    #[test]
    fn what_is_over_of_a_pack_is_named_with_its_day_and_a_use() {
        let mut plan = Plan::cabbage(4);
        plan.cook(supper(1), with(vec![pack("yoghurt", 0.0, 40.0, 300.0, 5, "pot")], "slaw"), "heart", 260);
        plan.cook(supper(2), with(vec![pack("yoghurt", 50.0, 0.0, 300.0, 5, "pot")], "wedges"), "middle", 520);
        let list = list(&plan, vec![], &[]);
        let yoghurt = of(&list, "yoghurt");
        assert_eq!(yoghurt.packs.as_ref().map(|p| (p.count, p.word.as_str())), Some((1, "pot")));
        assert_eq!((yoghurt.need.as_f64(), yoghurt.left.as_f64()), (170.0, 130.0));
        assert_eq!(yoghurt.opened, Some(Opened { on: DayNo(1), use_by: DayNo(6) }));
        assert_eq!(yoghurt.would_use.len(), 3);
        let spoils: Vec<_> = list.spoils().into_iter().map(|(l, share)| (l.name.as_str(), (share * 300.0).round())).collect();
        assert_eq!(spoils, [("yoghurt", 130.0)]);
        assert_eq!(yoghurt.source, Where::Shop(Shop::Dairy));
        assert_eq!(yoghurt.uses.iter().map(|u| u.meal).collect::<Vec<_>>(), [Some(supper(1)), Some(supper(2))]);
    }

    #[test]
    fn the_cupboard_comes_first_and_what_it_holds_whole_is_not_bought() {
        let mut plan = Plan::cabbage(2);
        let needs = vec![loose("rice", 400.0, CompanionMeasure::G), loose("salt", 8.0, CompanionMeasure::G)];
        plan.cook(supper(1), with(needs, "a"), "heart", 100);
        let list = list(&plan, vec![have("rice", Some(150.0)), have("salt", None)], &[]);
        let (rice, salt) = (of(&list, "rice"), of(&list, "salt"));
        assert_eq!((rice.in_house.as_f64(), rice.bought.as_f64()), (150.0, 250.0));
        assert_eq!((salt.source, salt.errand), (Where::House, None));
        assert_eq!(list.lines.last().map(|l| l.name.as_str()), Some("salt"));
    }

    #[test]
    fn what_grows_is_picked_to_the_gram_the_day_before() {
        let mut plan = Plan::cabbage(4);
        plan.cook(supper(3), with(vec![pack("parsley", 0.0, 12.0, 30.0, 4, "bunch")], "a"), "heart", 100);
        let list = list(&plan, vec![], &["parsley", "red cabbage"]);
        let parsley = of(&list, "parsley");
        assert_eq!((parsley.source, parsley.bought.as_f64(), &parsley.packs), (Where::Garden, 12.0, &None));
        assert_eq!(parsley.errand.map(|e| (e.not_before, e.by)), Some((DayNo(2), DayNo(2))));
        assert_eq!(list.piece.as_ref().map(|p| p.source), Some(Where::Garden));
    }

    #[test]
    fn half_an_egg_is_bought_whole() {
        let mut plan = Plan::cabbage(2);
        plan.cook(supper(1), with(vec![loose("egg", 2.4, CompanionMeasure::Count)], "a"), "heart", 100);
        let list = list(&plan, vec![], &[]);
        assert_eq!((of(&list, "egg").bought.as_f64(), of(&list, "egg").left.as_f64()), (3.0, 0.6));
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        #[test]
        fn what_comes_in_goes_out_or_is_left(
            uses in prop::collection::vec((1i16..7, 0u32..4_000, 0u8..3), 1..8),
            size in prop::option::of(1u32..600),
            house in prop::option::of(prop::option::of(0u32..500)),
            grown in any::<bool>(),
        ) {
            let mut plan = Plan::cabbage(7);
            for (i, &(day, tenths, measure)) in uses.iter().enumerate() {
                let measure = [CompanionMeasure::G, CompanionMeasure::Ml, CompanionMeasure::Count][usize::from(measure)];
                let mut thing = loose("thing", f64::from(tenths) / 10.0, measure);
                thing.pack = size.map(f64::from);
                thing.opened_days = size.map(|_| Days(3));
                plan.cook(supper(day), with(vec![thing], &format!("d{i}")), "middle", 50);
            }
            let items = house.map(|amount| have("thing", amount.map(f64::from))).into_iter().collect();
            let list = list(&plan, items, if grown { &["thing"] } else { &[] });
            for l in &list.lines {
                let sum: u64 = l.uses.iter().map(|u| u.amount.thousandths).sum();
                prop_assert_eq!(sum, l.need.thousandths);
                let came = l.in_house.thousandths + l.bought.thousandths + l.short.thousandths;
                prop_assert_eq!(came, l.need.thousandths + l.left.thousandths + l.scraped.thousandths, "{:?}", l);
                let crumbs = size.map_or(0.0, |s| f64::from(s) * 0.01 * uses.len() as f64);
                prop_assert!(l.short.as_f64() <= crumbs && l.scraped.as_f64() <= crumbs);
                if let Some(p) = &l.packs {
                    prop_assert_eq!(u64::from(p.count) * p.size.thousandths, l.bought.thousandths);
                }
                if let Some(e) = l.errand {
                    prop_assert!(e.not_before <= e.trip && e.trip <= e.by && list.trips.contains(&e.trip));
                }
            }
        }
    }
}
