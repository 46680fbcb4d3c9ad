//! What a node remembers of dishes past its window: how often some of them stood before, as long as what came since keeps
//! them in mind.
//!
//! The cheapest way at the best prices likes to go round in circles, a b c a b c a b c, each dish oftener than it may. To
//! remember every dish would be the whole problem; so a dish is remembered only through those dishes between whose uses it
//! was seen to come once too often.
//!
//! Sources, from memory: Baldacci, Mingozzi and Roberti, "New route relaxation and pricing strategies for the vehicle
//! routing problem" (2011), for memories that neighbours keep; Roberti and Mingozzi (2014) for letting them grow by the
//! circles that are met.

use super::table::{DishNo, Table};
use std::collections::BTreeMap;

/// Which dishes are remembered, and by which.
#[derive(Clone)]
pub(super) struct Memory {
    /// Where the count of each dish stands in the state: first bit and how many bits; none for dishes not remembered.
    place: Vec<Option<(u32, u32)>>,
    /// The bits that each dish leaves standing.
    keep: Vec<u64>,
    /// How many bits are taken.
    bits: u32,
}

impl Memory {
    pub(super) fn none(table: &Table) -> Memory {
        Memory { place: vec![None; table.n()], keep: vec![0; table.n()], bits: 0 }
    }

    /// The state after `d` stood, from the state before; none where `d` has been used up.
    pub(super) fn after(&self, table: &Table, state: u64, d: DishNo) -> Option<u64> {
        let i = usize::from(d);
        let mut state = state;
        if let Some((first, bits)) = self.place[i] {
            let count = (state >> first) & ((1 << bits) - 1);
            if count >= u64::from(table.dish(d).uses) {
                return None;
            }
            state += 1 << first;
        }
        Some(state & self.keep[i])
    }

    /// Remembers more, so that the circles seen in `ways` cannot be gone again; the commonest circles first, about `most`
    /// pairs of dishes. Gives whether anything was added.
    pub(super) fn learn(&mut self, table: &Table, ways: &[Vec<DishNo>], longest: usize, most: usize) -> bool {
        let mut seen: BTreeMap<(DishNo, DishNo), usize> = BTreeMap::new();
        for way in ways {
            for (dish, from, to) in circles(table, way, longest) {
                let mut between: Vec<DishNo> = way[from..to].to_vec();
                between.sort_unstable();
                between.dedup();
                for by in between.into_iter().filter(|&by| !self.keeps(by, dish)) {
                    *seen.entry((dish, by)).or_default() += 1;
                }
            }
        }
        let mut common: Vec<((DishNo, DishNo), usize)> = seen.into_iter().collect();
        common.sort_by_key(|&(pair, count)| (std::cmp::Reverse(count), pair));
        let mut added = 0;
        for ((dish, by), _) in common {
            if added >= most {
                break;
            }
            if self.remember(table, dish, by) {
                added += 1;
            }
        }
        added > 0
    }

    /// Whether `dish` is remembered through `by`.
    fn keeps(&self, by: DishNo, dish: DishNo) -> bool {
        self.place[usize::from(dish)].is_some_and(|(first, _)| self.keep[usize::from(by)] >> first & 1 == 1)
    }

    /// Has `dish` remembered through `by`; not where no bit is free.
    fn remember(&mut self, table: &Table, dish: DishNo, by: DishNo) -> bool {
        let i = usize::from(dish);
        let (first, bits) = match self.place[i] {
            Some(place) => place,
            None => {
                let bits = u32::BITS - table.dish(dish).uses.leading_zeros();
                if self.bits + bits > u64::BITS - 1 {
                    return false;
                }
                let place = (self.bits, bits);
                self.bits += bits;
                self.place[i] = Some(place);
                self.keep[i] |= ((1 << bits) - 1) << place.0;
                place
            }
        };
        self.keep[usize::from(by)] |= ((1 << bits) - 1) << first;
        true
    }
}

/// The shortest stretches of `way`, no longer than `longest`, in which a dish stands once too often: the dish, its first
/// slot, its last one.
fn circles(table: &Table, way: &[DishNo], longest: usize) -> Vec<(DishNo, usize, usize)> {
    let mut out = Vec::new();
    for (to, &d) in way.iter().enumerate() {
        let uses = table.dish(d).uses as usize;
        let mut before = (0..to).rev().filter(|&s| way[s] == d);
        if let Some(from) = before.nth(uses - 1)
            && to - from <= longest
        {
            out.push((d, from, to));
        }
    }
    out
}
