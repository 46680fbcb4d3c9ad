//! In which order, and from which end, the portions are cut: so that the largest rest with the fewest faces goes back.
//!
//! What is cut on which day the plan says; cutting earlier than a dish needs only opens faces. Two things are left to choose.
//!
//! *From which end of its part a portion comes.* A part is always worked from one end, since a second end only adds faces, so
//! there are two ways for each part. The choice with the fewest faces in the fridge, each counted for every night that it lies
//! there, is taken; of those the one whose largest rest is heaviest over the nights; of those the ends that come first. Up to
//! [`ALL_WAYS`] parts every choice is tried, beyond that single changes are made as long as one is better.
//!
//! *Which part of a day's cutting comes first.* The rest of the day is the same whatever the order, but on the way to it fewer
//! faces and a larger block are handier and safer under the knife. Portions of one part follow one another. The order with the
//! fewest faces summed over the cuts is taken, then the one with the heaviest rests, found over the sets of parts already cut.

use super::block::{Block, End};
use crate::book::PartId;
use std::collections::BTreeMap;

/// Up to so many parts every choice of ends is tried.
const ALL_WAYS: usize = 10;
/// Up to so many parts on one day every order is weighed; more are cut in the order of the block.
const ALL_ORDERS: usize = 10;

/// What is cut on one day: the night count behind it, and grams by part in the order of the block.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct DayCuts {
    /// Nights until the next cutting or the end of the plan.
    pub nights: u32,
    /// Each portion, by part.
    pub portions: Vec<(PartId, u32)>,
}

/// From which end each part is worked.
pub(super) type Ends = BTreeMap<PartId, End>;

/// The worse of two choices of ends is the greater.
type Cost = (u64, std::cmp::Reverse<u64>);

/// The best end for each part that is cut.
pub(super) fn best_ends(block: &Block, days: &[DayCuts]) -> Ends {
    let mut parts: Vec<&PartId> = Vec::new();
    for (part, _) in days.iter().flat_map(|d| &d.portions) {
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
    let ends_of = |way: u32| -> Ends {
        let end = |i: usize| if way >> i & 1 == 0 { End::Low } else { End::High };
        parts.iter().enumerate().map(|(i, p)| ((*p).clone(), end(i))).collect()
    };
    if parts.len() <= ALL_WAYS {
        let best = (0..1u32 << parts.len()).map(|way| (cost(block, days, &ends_of(way)), way)).min();
        return best.map(|(_, way)| ends_of(way)).unwrap_or_default();
    }
    let mut ends: Ends = parts.iter().map(|p| ((*p).clone(), End::Low)).collect();
    let mut least = cost(block, days, &ends);
    loop {
        let turned = |part: &PartId| {
            let mut other = ends.clone();
            other.entry(part.clone()).and_modify(|e| *e = if *e == End::Low { End::High } else { End::Low });
            (cost(block, days, &other), other)
        };
        let Some((better, other)) = parts.iter().map(|p| turned(p)).min_by(|a, b| a.0.cmp(&b.0)) else { return ends };
        if better >= least {
            return ends;
        }
        (least, ends) = (better, other);
    }
}

/// Faces and mass over the nights.
fn cost(block: &Block, days: &[DayCuts], ends: &Ends) -> Cost {
    let mut block = block.clone();
    let (mut faces, mut mass) = (0, 0);
    for day in days {
        for (part, grams) in &day.portions {
            block.cut(part, end_of(ends, part), *grams);
        }
        faces += u64::from(block.faces()) * u64::from(day.nights);
        mass += u64::from(block.largest()) * u64::from(day.nights);
    }
    (faces, std::cmp::Reverse(mass))
}

/// The end that a part is worked from.
pub(super) fn end_of(ends: &Ends, part: &PartId) -> End {
    ends.get(part).copied().unwrap_or(End::Low)
}

/// The order in which the parts of one day are cut.
pub(super) fn best_order(block: &Block, portions: &[(PartId, u32)], ends: &Ends) -> Vec<PartId> {
    let mut groups: Vec<(PartId, Vec<u32>)> = Vec::new();
    for (part, grams) in portions {
        match groups.iter_mut().find(|g| g.0 == *part) {
            Some(group) => group.1.push(*grams),
            None => groups.push((part.clone(), vec![*grams])),
        }
    }
    if groups.len() > ALL_ORDERS {
        return groups.into_iter().map(|g| g.0).collect();
    }
    // For each set of parts already cut: the least cost of a way to it and the part that was cut last.
    let sets = 1usize << groups.len();
    let mut best: Vec<Option<(Cost, usize)>> = vec![None; sets];
    best[0] = Some(((0, std::cmp::Reverse(0)), 0));
    for set in 0..sets {
        let Some((so_far, _)) = best[set] else { continue };
        let mut lies = block.clone();
        for (i, group) in groups.iter().enumerate().filter(|(i, _)| set >> i & 1 == 1) {
            group.1.iter().for_each(|g| _ = lies.cut(&groups[i].0, end_of(ends, &groups[i].0), *g));
        }
        for (i, group) in groups.iter().enumerate().filter(|(i, _)| set >> i & 1 == 0) {
            let mut after = lies.clone();
            let (mut faces, mut mass) = (so_far.0, so_far.1.0);
            for grams in &group.1 {
                after.cut(&group.0, end_of(ends, &group.0), *grams);
                faces += u64::from(after.faces());
                mass += u64::from(after.largest());
            }
            let cost = (faces, std::cmp::Reverse(mass));
            let next = &mut best[set | 1 << i];
            if next.is_none_or(|n| cost < n.0) {
                *next = Some((cost, i));
            }
        }
    }
    let mut order = Vec::new();
    let mut set = sets - 1;
    while set != 0 {
        let Some((_, last)) = best[set] else { break };
        order.push(groups[last].0.clone());
        set &= !(1 << last);
    }
    order.reverse();
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::test_support::{Plan, part_id};
    use proptest::prelude::*;

    const NAMES: [&str; 4] = ["a", "b", "c", "d"];

    fn row(grams: [u32; 4]) -> Block {
        let parts: Vec<_> = NAMES.iter().zip(grams).map(|(n, g)| (*n, g, 5)).collect();
        Block::whole(&Plan::of("root", &parts, 5).rotation)
    }

    fn day(nights: u32, portions: &[(usize, u32)]) -> DayCuts {
        DayCuts { nights, portions: portions.iter().map(|(p, g)| (part_id(NAMES[*p]), *g)).collect() }
    }

    #[test]
    fn the_second_cut_moves_the_face_of_the_first_and_makes_none() {
        // The last part goes first, then half of the one before it: cut from the face that is there.
        let days = [day(1, &[(3, 400)]), day(1, &[(2, 200)])];
        let ends = best_ends(&row([300, 300, 400, 400]), &days);
        assert_eq!(ends[&part_id("c")], End::High);
        let mut block = row([300, 300, 400, 400]);
        days.iter().flat_map(|d| &d.portions).for_each(|(p, g)| _ = block.cut(p, ends[p], *g));
        assert_eq!((block.faces(), block.largest(), block.rests().len()), (1, 800, 1));
    }

    #[test]
    fn of_one_days_parts_the_outermost_is_cut_first() {
        let block = row([300, 300, 400, 400]);
        let cuts = day(1, &[(2, 400), (3, 400)]);
        let ends = best_ends(&block, std::slice::from_ref(&cuts));
        assert_eq!(best_order(&block, &cuts.portions, &ends), [part_id("d"), part_id("c")]);
    }

    /// Every end for every single portion, not one for each part.
    fn least_faces(block: &Block, days: &[DayCuts]) -> u64 {
        let portions: usize = days.iter().map(|d| d.portions.len()).sum();
        let of_way = |way: u32| {
            let (mut block, mut faces, mut n) = (block.clone(), 0u64, 0);
            for day in days {
                for (part, grams) in &day.portions {
                    block.cut(part, if way >> n & 1 == 0 { End::Low } else { End::High }, *grams);
                    n += 1;
                }
                faces += u64::from(block.faces()) * u64::from(day.nights);
            }
            faces
        };
        (0..1u32 << portions).map(of_way).min().unwrap_or(0)
    }

    fn permutations(of: &[PartId]) -> Vec<Vec<PartId>> {
        if of.len() < 2 {
            return vec![of.to_vec()];
        }
        let with_first = |i: usize| {
            let rest: Vec<PartId> = of.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, p)| p.clone()).collect();
            permutations(&rest).into_iter().map(move |mut p| {
                p.insert(0, of[i].clone());
                p
            })
        };
        (0..of.len()).flat_map(with_first).collect()
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        #[test]
        fn no_other_ends_leave_fewer_faces_over_the_nights(
            grams in prop::array::uniform4(0u32..400),
            days in prop::collection::vec((1u32..4, prop::collection::vec((0usize..4, 1u32..300), 1..4)), 1..4),
        ) {
            let block = row(grams);
            let days: Vec<DayCuts> = days.iter().map(|(nights, p)| day(*nights, p)).collect();
            let ends = best_ends(&block, &days);
            prop_assert_eq!(cost(&block, &days, &ends).0, least_faces(&block, &days));
        }

        #[test]
        fn no_other_order_of_a_days_parts_shows_fewer_faces_on_the_way(
            grams in prop::array::uniform4(1u32..400),
            portions in prop::collection::vec((0usize..4, 1u32..300), 1..6),
        ) {
            let block = row(grams);
            let cuts = day(1, &portions);
            let ends = best_ends(&block, std::slice::from_ref(&cuts));
            let faces = |order: &[PartId]| {
                let mut block = block.clone();
                let mut sum = 0;
                for part in order {
                    for (_, grams) in cuts.portions.iter().filter(|c| c.0 == *part) {
                        block.cut(part, end_of(&ends, part), *grams);
                        sum += block.faces();
                    }
                }
                sum
            };
            let ours = best_order(&block, &cuts.portions, &ends);
            let least = permutations(&ours).iter().map(|p| faces(p)).min();
            prop_assert_eq!(Some(faces(&ours)), least);
        }
    }
}
