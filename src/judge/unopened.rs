//! How long a piece keeps that nobody has opened yet, by its kind, where it lies, and the condition it is in.

use crate::{book::Kind, rotation::Condition};

/// How long an unopened piece keeps in one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WholeKeeps<'k> {
    /// Where: "cold store, 0 °C and damp, late kinds", "fridge".
    pub place: &'k str,
    /// Days from the day it came in: by the least it should be looked over, by the most be opened.
    pub days: (u16, u16),
    /// Where the figure for a sound piece comes from.
    pub source: &'k str,
    /// Why it is shorter than for a sound piece; nothing where it is not.
    pub because: Option<&'static str>,
}

/// A soft spot spreads within days, whatever the piece is (common practice, no source).
const SOFT_SPOT_DAYS: u16 = 2;

/// How long an unopened piece keeps, place by place as the book has them.
///
/// The book's figures are for sound pieces. A bruised one keeps half as long; a wounded one is open already and keeps no longer
/// than the weakest of its parts does raw; one with a soft spot goes first, in two days (all common practice, no source). A piece
/// that is cooked whole counts raw here: wounds do not matter to a joint, but its time is short anyway.
pub fn whole_keeping(kind: &Kind, condition: Condition) -> Vec<WholeKeeps<'_>> {
    let weakest = kind.parts.iter().map(|p| p.raw_days.0.max(0).unsigned_abs()).min().unwrap_or(0);
    let opened = if kind.is_cooked_whole() { u16::MAX } else { weakest.max(1) };
    let shortened = |days: u16| match condition {
        Condition::Sound => days,
        Condition::Bruised => (days / 2).max(days.min(1)),
        Condition::Wounded => days.min(opened),
        Condition::SoftSpot => days.min(SOFT_SPOT_DAYS),
    };
    let why = match condition {
        Condition::Sound => "",
        Condition::Bruised => "bruised: half as long (practice)",
        Condition::Wounded => "wounded: no longer than once it is opened (practice)",
        Condition::SoftSpot => "a soft spot spreads: use it first (practice)",
    };
    let keeps = |w: &'_ crate::book::WholeKeeping| (shortened(w.days.0), shortened(w.days.1));
    let line = |w| {
        let days = keeps(w);
        WholeKeeps { place: &w.place, days, source: &w.source, because: (days != w.days).then_some(why) }
    };
    kind.whole.iter().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, KindId};

    #[test]
    fn a_worse_condition_never_keeps_longer_and_every_kind_has_a_figure_with_its_ground() {
        let book = Book::shipped().unwrap();
        for kind in book.kinds() {
            let by = |c| whole_keeping(kind, c);
            let sound = by(Condition::Sound);
            assert!(!sound.is_empty() && sound.iter().all(|w| !w.source.is_empty() && w.because.is_none()), "{}", kind.id);
            for worse in [Condition::Bruised, Condition::Wounded, Condition::SoftSpot] {
                for (a, b) in sound.iter().zip(by(worse)) {
                    assert!(b.days.0 <= a.days.0 && b.days.1 <= a.days.1 && b.days.0 <= b.days.1, "{}: {worse:?}", kind.id);
                    assert_eq!(b.because.is_some(), b.days != a.days, "{}: {worse:?}", kind.id);
                }
            }
        }
    }

    #[test]
    fn a_wounded_cabbage_is_open_already_and_a_soft_spot_goes_first() {
        let book = Book::shipped().unwrap();
        let cabbage = book.kind(&KindId::new("red-cabbage").unwrap()).unwrap();
        let fridge = |c| whole_keeping(cabbage, c).into_iter().find(|w| w.place == "fridge").unwrap().days;
        assert_eq!(fridge(Condition::Sound), (7, 14));
        assert_eq!(fridge(Condition::Bruised), (3, 7));
        assert_eq!(fridge(Condition::Wounded), (5, 5));
        assert_eq!(fridge(Condition::SoftSpot), (2, 2));
    }
}
