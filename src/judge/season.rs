//! What the season makes of a plan: cold plates in frost, an evening at the oven in the heat.

use super::{
    Code, Finding, Severity,
    plates::{Plate, Plates},
    variety::Whom,
};
use crate::{
    book::{Heat, Profile},
    quantity::DayNo,
    rotation::{Batch, EaterId, Rotation, month_name},
};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Which half of the earth the household lives on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[allow(missing_docs)] // The words themselves.
pub enum Hemisphere {
    Northern,
    Southern,
}

/// What a month is like, as far as a cook minds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Season {
    /// Frost may be about.
    Cold,
    /// A heatwave may be about.
    Hot,
    /// Neither.
    Mild,
}

impl Hemisphere {
    /// The season of a month from 1 to 12: November to February may bring frost, July and August heat, and half a year off
    /// south of the equator (common practice for temperate climates, no source; in the tropics leave it unset).
    pub fn season(self, month: i8) -> Season {
        let northern = match self {
            Hemisphere::Northern => month,
            Hemisphere::Southern => (month + 5) % 12 + 1,
        };
        match northern {
            11 | 12 | 1 | 2 => Season::Cold,
            7 | 8 => Season::Hot,
            _ => Season::Mild,
        }
    }
}

/// Cautions of season; nothing where nobody has said where the household lives.
pub(super) fn season(rotation: &Rotation, plates: &Plates<'_>, hemisphere: Option<Hemisphere>) -> Vec<Finding> {
    let Some(hemisphere) = hemisphere else { return Vec::new() };
    let on = |day: DayNo| hemisphere.season(rotation.date(day).month());
    let mut findings = cold_in_frost(rotation, plates, &on);
    findings.extend(oven_in_heat(rotation, &on));
    findings
}

/// "November".
fn month(rotation: &Rotation, day: DayNo) -> &'static str {
    month_name(rotation.date(day))
}

fn is_cold(profile: &Profile) -> bool {
    profile.heat.is_some_and(|h| h < Heat::Warm)
}

/// Two cold plates running in the cold months, told once for each run at its second plate.
fn cold_in_frost(rotation: &Rotation, plates: &Plates<'_>, on: &dyn Fn(DayNo) -> Season) -> Vec<Finding> {
    let mut runs: BTreeMap<(Plate, Plate), Vec<EaterId>> = BTreeMap::new();
    for (who, list) in &plates.lists {
        let cold = |p: &Plate| is_cold(&plates.kinds[p.kind].profile) && on(p.slot.day) == Season::Cold;
        let neighbours = |a: &Plate, b: &Plate| b.slot.day.since(a.slot.day).0 <= 1;
        for (i, two) in list.windows(2).enumerate() {
            let begins = i.checked_sub(1).is_none_or(|before| !(cold(&list[before]) && neighbours(&list[before], &two[0])));
            if cold(&two[0]) && cold(&two[1]) && neighbours(&two[0], &two[1]) && begins && !two[1].is_past() {
                runs.entry((two[1], two[0])).or_default().extend(who);
            }
        }
    }
    let of_run = |((later, earlier), eaters): ((Plate, Plate), Vec<EaterId>)| {
        let whom = Whom::of(plates, later.order, &eaters);
        let (a, b) = (&plates.kinds[earlier.kind], &plates.kinds[later.kind]);
        let text = format!(
            "{} is cold and so was {}{}, and this is {}",
            rotation.slot_name(later.slot),
            plates.name(rotation, &earlier),
            whom.words(rotation),
            month(rotation, later.slot.day)
        );
        let about = format!("{}>{}{}", a.key(), b.key(), whom.key());
        let finding = Finding::new(Severity::Caution, Code::ColdInFrost, about, text).at(later.slot).of(later.batch);
        whom.mark(plates.beside(finding, &earlier).felt(&eaters))
    };
    runs.into_iter().map(of_run).collect()
}

/// A day of the hot months on which the oven must be lit, told once a day at the first meal that it is lit for.
fn oven_in_heat(rotation: &Rotation, on: &dyn Fn(DayNo) -> Season) -> Vec<Finding> {
    let mut findings = Vec::new();
    for day in rotation.day_numbers().filter(|d| on(*d) == Season::Hot) {
        let baked = |b: &&Batch| b.day == day && rotation.dish_of(b.id).is_some_and(|d| d.oven.is_some());
        let Some(batch) = rotation.batches.iter().find(baked) else { continue };
        let Some(dish) = rotation.dish_of(batch.id) else { continue };
        let text = format!("{} needs the oven for {}, and this is {}", rotation.day_name(day), dish.name, month(rotation, day));
        let mut finding = Finding::new(Severity::Caution, Code::OvenInHeat, dish.id.as_str(), text).of(batch.id);
        if let Some((slot, _)) = rotation.servings_of(batch.id).first() {
            finding = finding.at(*slot);
        }
        findings.push(finding);
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_south_has_its_seasons_half_a_year_off() {
        for month in 1..=12 {
            let opposite = (month + 5) % 12 + 1;
            assert_eq!(Hemisphere::Southern.season(month), Hemisphere::Northern.season(opposite), "{month}");
        }
        assert_eq!(Hemisphere::Northern.season(1), Season::Cold);
        assert_eq!(Hemisphere::Southern.season(1), Season::Hot);
        assert_eq!(Hemisphere::Southern.season(6), Season::Cold);
    }
}
