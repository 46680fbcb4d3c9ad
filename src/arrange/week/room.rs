//! Minutes and grams, laid out so that they can be asked of very many beginnings.

use super::{choice::Choice, grams::Want};
use crate::quantity::DayNo;
use std::collections::BTreeMap;

/// How many sources a subset may be made of at the most when minima are counted (house limit: 2^10 subsets).
const MOST_SOURCES: usize = 10;

/// See the module.
pub(super) struct Room {
    /// Minutes left of each day that has a limit, and what each choice takes of them.
    minutes: Vec<(i64, Vec<u32>)>,
    /// The sources that each choice may take from, one bit each, and its least grams; no bits where one of them is not told
    /// apart.
    wants: Vec<(usize, u64)>,
    /// The grams of every set of sources.
    holds: Vec<u64>,
    /// The grams of all sources.
    all: u64,
}

impl Room {
    /// `have` are the grams of the sources, `limits` the minutes left of the days that have a limit.
    pub(super) fn new(choices: &[Choice], have: &[u32], limits: &BTreeMap<DayNo, i64>) -> Room {
        let on = |day: DayNo, c: &Choice| c.minutes.iter().filter(|m| m.0 == day).map(|m| m.1).sum();
        let minutes = limits.iter().map(|(day, left)| (*left, choices.iter().map(|c| on(*day, c)).collect())).collect();
        Room { minutes, ..Room::of_grams(choices.iter().map(|c| &c.want), have) }
    }

    /// The same without any limit of minutes.
    pub(super) fn of_grams<'w>(wants: impl Iterator<Item = &'w Want>, have: &[u32]) -> Room {
        let told = have.len().min(MOST_SOURCES);
        let set = |want: &Want| {
            let is_told = want.from.iter().all(|&j| j < told);
            if is_told { want.from.iter().fold(0, |set, &j| set | 1 << j) } else { 0 }
        };
        let in_set = |set: usize| (0..told).filter(|j| set & (1 << j) != 0).map(|j| u64::from(have[j])).sum();
        Room {
            minutes: Vec::new(),
            wants: wants.map(|w| (set(w), u64::from(w.least))).collect(),
            holds: (0..1_usize << told).map(in_set).collect(),
            all: have.iter().map(|&h| u64::from(h)).sum(),
        }
    }

    /// Whether the minutes of the days and what there is to eat hold these choices, if no more come. For every set of sources,
    /// what can only be had from it must be no more than it holds (Hall 1935, for whole grams). With more than [`MOST_SOURCES`]
    /// sources only the first are told apart: then a yes is a perhaps.
    pub(super) fn is_for(&self, chosen: &[usize]) -> bool {
        let is_time = |(left, each): &(i64, Vec<u32>)| chosen.iter().map(|&c| i64::from(each[c])).sum::<i64>() <= *left;
        if !self.minutes.iter().all(is_time) || chosen.iter().map(|&c| self.wants[c].1).sum::<u64>() > self.all {
            return false;
        }
        self.holds.iter().enumerate().skip(1).all(|(set, holds)| {
            let only_there = |c: &&usize| self.wants[**c].0 != 0 && self.wants[**c].0 & !set == 0;
            chosen.iter().filter(only_there).map(|&c| self.wants[c].1).sum::<u64>() <= *holds
        })
    }
}
