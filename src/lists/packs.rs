//! Filling what a companion is needed for: from the house first, then from packs in the order in which they are opened.

use super::{
    CompanionAmount,
    cupboard::Stock,
    shopping::{CompanionFor, Opened, Packs, opened},
};
use crate::{
    judge::{CompanionNeed, SCRAPED},
    quantity::DayNo,
    rotation::Rotation,
};

/// How a need is filled.
pub(super) struct Filled {
    pub in_house: CompanionAmount,
    pub bought: CompanionAmount,
    pub packs: Option<Packs>,
    pub left: CompanionAmount,
    pub short: CompanionAmount,
    pub scraped: CompanionAmount,
    /// The last pack that is opened.
    pub opened: Option<Opened>,
    /// The day of the first use of what is bought.
    pub first_bought: Option<DayNo>,
}

/// Fills the uses in their order. A pack is opened when the one before is empty, as the judge of companions reckons; under a
/// hundredth of a pack none is bought, and as little in an opened one counts as scraped out.
///
/// What is sold loose is bought to the next whole gram, millilitre or thing; what is picked, too, packs or not.
pub(super) fn fill(rotation: &Rotation, need: &CompanionNeed, uses: &[CompanionFor], mut stock: Stock, picked: bool) -> Filled {
    let nothing = CompanionAmount::nothing(need.measure);
    let size = need.pack.filter(|_| !picked).map(|p| CompanionAmount::of(p, need.measure)).filter(|p| !p.is_zero());
    let (mut house, mut wanted, mut short, mut count) = (0u64, 0u64, 0u64, 0u64);
    let (mut in_pack, mut scraped, mut on, mut first) = (0u64, 0u64, None, None);
    for used in uses {
        let took = stock.take(rotation.date(used.day), used.amount.thousandths);
        house = house.saturating_add(took);
        let mut missing = used.amount.thousandths - took;
        wanted = wanted.saturating_add(missing);
        if missing == 0 {
            continue;
        }
        let Some(size) = size.map(|s| s.thousandths) else {
            first = first.or(Some(used.day));
            continue;
        };
        let from_pack = missing.min(in_pack);
        missing -= from_pack;
        in_pack -= from_pack;
        let scrape = size as f64 * SCRAPED;
        if missing as f64 >= scrape {
            let more = ((missing as f64 / size as f64 - SCRAPED).ceil().max(1.0)) as u64;
            count = count.saturating_add(more);
            let holds = more.saturating_mul(size);
            short = short.saturating_add(missing.saturating_sub(holds));
            in_pack = holds.saturating_sub(missing);
            (first, on) = (first.or(Some(used.day)), Some(used.day));
        } else {
            short = short.saturating_add(missing);
        }
        if (in_pack as f64) < scrape {
            scraped += std::mem::take(&mut in_pack);
        }
    }
    let bought = match size {
        Some(size) => nothing.with(count.saturating_mul(size.thousandths)),
        None => nothing.with(wanted).rounded_up(),
    };
    let left = bought.thousandths.saturating_add(short).saturating_sub(wanted.saturating_add(scraped));
    let word = need.pack_word.unwrap_or("pack").to_string();
    let count = u32::try_from(count).unwrap_or(u32::MAX);
    Filled {
        in_house: nothing.with(house),
        bought,
        packs: size.filter(|_| count > 0).map(|size| Packs { count, size, word }),
        left: nothing.with(left),
        short: nothing.with(short),
        scraped: nothing.with(scraped),
        opened: on.zip(need.opened_days).map(|(on, keeps)| opened(on, keeps)),
        first_bought: first,
    }
}

#[cfg(test)]
mod tests {
    use crate::{
        book::Dish,
        judge::{
            judge,
            test_support::{Plan, dish, pack, supper},
        },
        lists::Cupboard,
    };
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        /// The list and the judge must not tell the cook two different leftovers.
        #[test]
        fn what_is_left_is_what_the_judge_says(first in 1u32..900, second in 1u32..900, size in 50u32..400) {
            let mut plan = Plan::cabbage(4);
            for (day, grams) in [(1, first), (2, second)] {
                let milk = pack("milk", 0.0, f64::from(grams), f64::from(size), 3, "bottle");
                plan.cook(supper(day), Dish { companions: vec![milk], ..dish(&format!("d{day}")) }, "middle", 50);
            }
            let list = crate::lists::shopping_list(&plan.rotation, &Cupboard::default(), &crate::book::Book::default());
            let left = list.lines[0].left;
            let said = judge(&plan.rotation).findings.into_iter().find(|f| f.code == crate::judge::Code::CompanionLeft);
            match said {
                Some(f) => prop_assert!(f.text.contains(&format!("{} of", left.said(Default::default()))), "{} {left:?}", f.text),
                None => prop_assert!(left.is_zero(), "{left:?}"),
            }
        }
    }
}
