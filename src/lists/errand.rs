//! When things are fetched: as late as freshness asks, on as few trips as that allows.

use super::{
    Cupboard,
    shopping::{Errand, PieceLine, Where},
};
use crate::{
    book::Shop,
    quantity::{DayNo, Days},
    rotation::Rotation,
};

/// What may lie so long unopened is not worth a later trip (house rule).
const KEEPS: Days = Days(6);

/// The span in which something is fetched that is first used on `day` and may lie `ahead` days unopened.
pub(super) fn on(day: DayNo, ahead: u16) -> Errand {
    let back = |days: u16| DayNo(day.0.saturating_sub(i16::try_from(days).unwrap_or(i16::MAX)));
    let by = back(ahead.min(1));
    Errand { not_before: back(ahead), by, trip: by }
}

/// The piece: nothing where it was opened before the plan began. It is picked or bought on the day its clock starts where that
/// starts with the picking or buying; otherwise at the latest the day before, and no earlier than it keeps whole in the fridge.
pub(super) fn of_piece(rotation: &Rotation, cupboard: &Cupboard) -> Option<PieceLine> {
    let kind = &rotation.kind;
    let opened = rotation.piece.opened;
    if opened < DayNo::FIRST {
        return None;
    }
    let at_once = matches!(kind.clock_starts.as_str(), "picked" | "sorted" | "lifted" | "bought");
    let fridge = kind.whole.iter().filter(|w| w.place.contains("fridge")).map(|w| w.days.0).min();
    let ahead = if at_once { 0 } else { fridge.or(kind.whole.iter().map(|w| w.days.0).min()).unwrap_or(1).max(1) };
    let source = if cupboard.grows(&kind.name) || cupboard.grows(kind.id.as_str()) {
        Where::Garden
    } else {
        Where::Shop(shop_of_family(&kind.family))
    };
    let name = if kind.is_cooked_whole() { format!("{}, bought raw", kind.name) } else { kind.name.clone() };
    Some(PieceLine { name, mass: rotation.piece.mass, source, errand: on(opened, ahead) })
}

/// Where pieces of a family are sold.
fn shop_of_family(family: &str) -> Shop {
    match family {
        "fish" => Shop::Fishmonger,
        "poultry" | "ham" => Shop::Butcher,
        "bread" => Shop::Baker,
        "dairy" => Shop::Dairy,
        "allium" | "brassica" | "hard-root" | "leafy-green" | "melon" | "orchard-fruit" | "summer-vegetable" | "tomato"
        | "winter-squash" => Shop::Greengrocer,
        _ => Shop::Elsewhere,
    }
}

/// Puts every errand on a trip; gives the days of the trips in order.
///
/// Spans of days are stabbed with the fewest points by taking them by their last day and going on that day whenever no trip yet
/// lies in the span (the greedy rule is optimal for intervals).
pub(super) fn plan_trips<'e>(errands: impl Iterator<Item = &'e mut Errand>) -> Vec<DayNo> {
    let mut errands: Vec<&mut Errand> = errands.collect();
    errands.sort_by_key(|e| (e.by, e.not_before));
    let mut trips: Vec<DayNo> = Vec::new();
    for errand in &mut errands {
        // What keeps comes home with the first shopping, what does not as fresh as it can be.
        let mut fits = trips.iter().filter(|t| (errand.not_before..=errand.by).contains(t));
        let fit = if errand.by.since(errand.not_before) >= KEEPS { fits.next() } else { fits.next_back() };
        errand.trip = match fit {
            Some(trip) => *trip,
            None => {
                trips.push(errand.by);
                errand.by
            }
        };
    }
    trips
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn fish_is_bought_on_its_day_and_rice_whenever_somebody_goes() {
        let mut errands = [on(DayNo(1), 365), on(DayNo(4), 2), on(DayNo(4), 0), on(DayNo(3), 365), on(DayNo(2), 4)];
        let trips = plan_trips(errands.iter_mut());
        assert_eq!(trips, [DayNo(0), DayNo(3), DayNo(4)]);
        assert_eq!(errands.map(|e| e.trip.0), [0, 3, 4, 0, 0]);
    }

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        #[test]
        fn every_errand_is_on_a_trip_in_its_span_and_no_trip_can_be_spared(
            wanted in prop::collection::vec((1i16..9, 0u16..6), 1..9),
        ) {
            let mut errands: Vec<Errand> = wanted.iter().map(|(day, ahead)| on(DayNo(*day), *ahead)).collect();
            let trips = plan_trips(errands.iter_mut());
            prop_assert!(errands.iter().all(|e| (e.not_before..=e.by).contains(&e.trip) && trips.contains(&e.trip)));
            prop_assert!(trips.windows(2).all(|w| w[0] < w[1]));
            // Every set of days with a member fewer misses somebody.
            let days: Vec<i16> = (-6..9).collect();
            let fewer = (0u32..1 << days.len()).filter(|set| (set.count_ones() as usize) < trips.len());
            for set in fewer {
                let goes = |day: i16| days.iter().position(|d| *d == day).is_some_and(|i| set >> i & 1 == 1);
                let covered = errands.iter().all(|e| (e.not_before.0..=e.by.0).any(goes));
                prop_assert!(!covered, "{set:b} is enough for {errands:?}");
            }
        }
    }
}
