//! The one big perishable thing, with what is really in it.

use crate::{
    book::{Kind, PartId},
    quantity::{AsBought, DayNo, Grams, Portion, State},
};
use serde::{Deserialize, Serialize};

/// What shape the piece is in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Condition {
    /// Nothing wrong with it.
    #[default]
    Sound,
    /// Pressed, but whole.
    Bruised,
    /// Cut, split or pecked.
    Wounded,
    /// Softening somewhere.
    SoftSpot,
}

/// A named loss: "stump and core, 210 g".
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TrimLine {
    /// What is lost.
    pub name: String,
    /// How much of the mass as bought.
    pub grams: Grams<AsBought>,
}

/// The loss that holds what was given away.
pub(crate) const GIVEN_AWAY: &str = "given away";

/// What one part holds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartMass {
    /// Which part of the kind.
    pub part: PartId,
    /// What can be divided, in the state the kind is portioned in.
    pub usable: Portion,
    /// Whether this was weighed; else it is the book's guess and follows the other figures.
    #[serde(default)]
    pub weighed: bool,
}

/// The piece on the bench. Its mass as bought is always the sum of its trim, what is rotten and its parts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Piece {
    /// Mass as bought.
    pub mass: Grams<AsBought>,
    /// The day its clock started: first cut, or bought, picked, roasted, as the kind says.
    pub opened: DayNo,
    /// Its condition.
    #[serde(default)]
    pub condition: Condition,
    /// What is lost before it is divided.
    pub trim: Vec<TrimLine>,
    /// Whether the trim was weighed.
    #[serde(default)]
    pub trim_weighed: bool,
    /// Found rotten and thrown away.
    #[serde(default)]
    pub rotten: Grams<AsBought>,
    /// The parts, in the kind's order.
    pub parts: Vec<PartMass>,
}

impl Default for Grams<AsBought> {
    fn default() -> Self {
        Grams::ZERO
    }
}

impl Piece {
    /// A piece of `kind` as the book guesses it: trim and parts by their shares, closed to the gram.
    pub fn guessed(kind: &Kind, mass: Grams<AsBought>, opened: DayNo) -> Piece {
        let shares: Vec<u32> = kind
            .trim
            .iter()
            .map(|t| u32::from(t.share.get()))
            .chain(kind.parts.iter().map(|p| u32::from(p.share.get())))
            .collect();
        let split = divide(mass.get(), &shares);
        let (trim, parts) = split.split_at(kind.trim.len());
        Piece {
            mass,
            opened,
            condition: Condition::Sound,
            trim: kind.trim.iter().zip(trim).map(|(t, &g)| TrimLine { name: t.name.clone(), grams: Grams::clamped(g) }).collect(),
            trim_weighed: false,
            rotten: Grams::ZERO,
            parts: kind
                .parts
                .iter()
                .zip(parts)
                .map(|(p, &g)| PartMass { part: p.id.clone(), usable: Portion::of(kind.portioned, g), weighed: false })
                .collect(),
        }
    }

    /// All that is trimmed away, with what was given away.
    pub fn trim_total(&self) -> Grams<AsBought> {
        Grams::clamped(self.trim.iter().map(|t| t.grams.get()).fold(0, u32::saturating_add))
    }

    /// What of the loss was good food that others eat.
    pub fn given_away(&self) -> Grams<AsBought> {
        let given = self.trim.iter().filter(|t| t.name == GIVEN_AWAY);
        Grams::clamped(given.map(|t| t.grams.get()).fold(0, u32::saturating_add))
    }

    /// All that can be divided.
    pub fn usable_total(&self, state: State) -> Portion {
        Portion::of(state, self.parts.iter().map(|p| p.usable.get()).fold(0, u32::saturating_add))
    }

    /// The part with this id.
    pub fn part(&self, id: &PartId) -> Option<&PartMass> {
        self.parts.iter().find(|p| p.part == *id)
    }
}

/// Divides `total` by `shares` so that the pieces add up to it exactly: largest remainders first, the earlier one on a tie.
/// With no share at all the first place takes everything.
pub(crate) fn divide(total: u32, shares: &[u32]) -> Vec<u32> {
    if shares.is_empty() {
        return Vec::new();
    }
    let sum: u64 = shares.iter().map(|&s| u64::from(s)).sum();
    if sum == 0 {
        let mut all = vec![0; shares.len()];
        all[0] = total;
        return all;
    }
    let exact: Vec<u64> = shares.iter().map(|&s| u64::from(total) * u64::from(s)).collect();
    let mut out: Vec<u32> = exact.iter().map(|e| (e / sum) as u32).collect();
    let mut left = total - out.iter().sum::<u32>();
    let mut order: Vec<usize> = (0..shares.len()).collect();
    order.sort_by_key(|&i| (std::cmp::Reverse(exact[i] % sum), i));
    for i in order {
        if left == 0 {
            break;
        }
        out[i] += 1;
        left -= 1;
    }
    out
}

/// Shares a count of whole things out among eaters by their size: five rolls for 1.0, 1.0 and 0.6 go 2 + 2 + 1.
pub fn share_out_whole(count: u32, sizes: &[u32]) -> Vec<u32> {
    divide(count, sizes)
}

#[cfg(test)]
mod tests {
    use super::divide;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..Default::default() })]
        #[test]
        fn a_division_loses_no_gram(total in 0u32..200_000, shares in prop::collection::vec(0u32..2_000, 1..12)) {
            let out = divide(total, &shares);
            prop_assert_eq!(out.iter().sum::<u32>(), total);
            let sum: u64 = shares.iter().map(|&s| u64::from(s)).sum();
            if sum > 0 {
                for (got, share) in out.iter().zip(&shares) {
                    let exact = f64::from(total) * f64::from(*share) / sum as f64;
                    prop_assert!((f64::from(*got) - exact).abs() < 1.0);
                }
            }
        }
    }
}
