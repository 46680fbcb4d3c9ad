//! The fridge: how cold it really is, and when it was without power.

use super::{Rotation, apply::Outcome, apply::refuse};
use crate::quantity::{DayNo, Days};
use jiff::civil::Time;
use serde::{Deserialize, Deserializer, Serialize, de};

/// The most power cuts that one plan remembers.
pub const MAX_CUTS: usize = 50;
/// What a fridge may run at, in degrees Celsius; what is warmer is a larder.
pub const FRIDGE_RANGE: (f64, f64) = (-2.0, 15.0);
/// The longest power cut, in days.
const LONGEST_CUT: i16 = 31;

/// A time on a day of the plan, by the clock on the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Moment {
    /// The day.
    pub day: DayNo,
    /// The time, as HH:MM.
    #[serde(deserialize_with = "time")]
    pub at: Time,
}

fn time<'de, D: Deserializer<'de>>(from: D) -> Result<Time, D::Error> {
    crate::quantity::read_time(&String::deserialize(from)?).map_err(de::Error::custom)
}

impl Moment {
    /// Minutes since the midnight before day 0; the days of a clock change count 24 hours like every other.
    pub fn minutes(self) -> i64 {
        i64::from(self.day.0) * 1_440 + i64::from(self.at.hour()) * 60 + i64::from(self.at.minute())
    }

    /// "Tuesday 14:00".
    pub fn words(self, rotation: &Rotation) -> String {
        format!("{} {:02}:{:02}", rotation.day_name(self.day), self.at.hour(), self.at.minute())
    }
}

/// A time without power.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PowerCut {
    /// From when.
    pub from: Moment,
    /// Until when.
    pub to: Moment,
}

impl PowerCut {
    /// How many minutes it lasted.
    pub fn minutes(&self) -> i64 {
        self.to.minutes() - self.from.minutes()
    }

    /// "Tuesday 14:00 to 20:00", the day said again where it is another.
    pub fn words(&self, rotation: &Rotation) -> String {
        let to = self.to.words(rotation);
        let to = if self.to.day == self.from.day { to.rsplit(' ').next().unwrap_or_default().to_string() } else { to };
        format!("{} to {to}", self.from.words(rotation))
    }
}

/// The fridge that the food is kept in.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fridge {
    /// What it runs at in degrees Celsius, where somebody has put a thermometer in; nothing: 5 or colder, as limits take it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub runs_at: Option<f64>,
    /// When it was without power, in the order of time.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cuts: Vec<PowerCut>,
}

impl Fridge {
    /// Whether nothing is known of it that limits do not take for granted.
    pub fn is_usual(&self) -> bool {
        *self == Fridge::default()
    }

    /// What cannot be, in one sentence.
    pub(super) fn fault(&self) -> Option<String> {
        if let Some(fault) = self.runs_at.and_then(degrees_fault) {
            return Some(fault);
        }
        if self.cuts.len() > MAX_CUTS {
            return Some(format!("{} power cuts are named; {MAX_CUTS} is the most", self.cuts.len()));
        }
        for cut in &self.cuts {
            if cut.to <= cut.from {
                return Some("a power cut ends before it begins".into());
            }
            if cut.to.day.since(cut.from.day).0 > LONGEST_CUT {
                return Some(format!("a power cut lasts longer than {LONGEST_CUT} days"));
            }
        }
        self.cuts.windows(2).any(|w| w[1].from < w[0].to).then(|| "two power cuts run into each other; make one of them".into())
    }
}

/// Why no fridge runs at so many degrees Celsius, if none does.
pub(super) fn degrees_fault(c: f64) -> Option<String> {
    let (low, high) = FRIDGE_RANGE;
    (!(low..=high).contains(&c)).then(|| format!("a fridge that runs at {c} °C is none: say {low} to {high}"))
}

/// Puts the fridge of a plan right, in the order of time.
pub(super) fn set(r: &mut Rotation, fridge: &Fridge) -> Outcome {
    let mut fridge = fridge.clone();
    fridge.cuts.sort();
    fridge.cuts.dedup();
    if let Some(fault) = fridge.fault() {
        return refuse(fault);
    }
    let new: Vec<PowerCut> = fridge.cuts.iter().filter(|c| !r.fridge.cuts.contains(c)).copied().collect();
    let words = match (fridge.runs_at, new.first()) {
        (runs_at, _) if runs_at != r.fridge.runs_at => match runs_at {
            Some(c) => format!("The fridge runs at {c}\u{a0}°C"),
            None => "The fridge is cold as it should be".into(),
        },
        (_, Some(cut)) => format!("No power {}", cut.words(r)),
        (_, None) if fridge.cuts.len() < r.fridge.cuts.len() => "Take back a power cut".into(),
        _ => "Leave the fridge as it is".into(),
    };
    r.fridge = fridge;
    Ok(words)
}

/// Counts the days of the fridge from a window that begins a day later. A power cut is a thing of the calendar and not of the
/// plan: it keeps its date whatever day is taken out.
pub(super) fn begin_a_day_later(fridge: &mut Fridge) {
    for cut in &mut fridge.cuts {
        cut.from.day = cut.from.day.plus(Days(-1));
        cut.to.day = cut.to.day.plus(Days(-1));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        judge::test_support::Plan,
        rotation::{Edit, apply},
    };
    use jiff::civil::time as clock;

    fn moment(day: i16, hour: i8) -> Moment {
        Moment { day: DayNo(day), at: clock(hour, 0, 0, 0) }
    }

    fn cut(from: (i16, i8), to: (i16, i8)) -> PowerCut {
        PowerCut { from: moment(from.0, from.1), to: moment(to.0, to.1) }
    }

    #[test]
    fn the_fridge_is_set_in_words_and_only_to_what_can_be() {
        let plan = Plan::cabbage(4);
        let set = |fridge: Fridge| apply(&plan.rotation, &Edit::SetFridge(fridge)).map(|d| d.words.replace('\u{a0}', " "));
        assert_eq!(set(Fridge { runs_at: Some(8.0), cuts: vec![] }).unwrap(), "The fridge runs at 8 °C");
        let cuts = vec![cut((3, 1), (3, 2)), cut((2, 14), (2, 20))];
        assert_eq!(set(Fridge { runs_at: None, cuts }).unwrap(), "No power Tuesday 14:00 to 20:00");
        assert_eq!(
            set(Fridge { runs_at: None, cuts: vec![cut((2, 22), (3, 6))] }).unwrap(),
            "No power Tuesday 22:00 to Wednesday 06:00"
        );
        for (fridge, why) in [
            (Fridge { runs_at: Some(30.0), cuts: vec![] }, "a fridge that runs at 30 °C is none: say -2 to 15"),
            (Fridge { runs_at: Some(f64::NAN), cuts: vec![] }, "a fridge that runs at NaN °C is none: say -2 to 15"),
            (Fridge { runs_at: None, cuts: vec![cut((2, 14), (2, 14))] }, "a power cut ends before it begins"),
            (Fridge { runs_at: None, cuts: vec![cut((2, 1), (40, 1))] }, "a power cut lasts longer than 31 days"),
            (
                Fridge { runs_at: None, cuts: vec![cut((2, 1), (2, 9)), cut((2, 8), (2, 10))] },
                "two power cuts run into each other; make one of them",
            ),
        ] {
            assert_eq!(set(fridge).unwrap_err().0, why);
        }
    }

    #[test]
    fn a_power_cut_keeps_its_date_whatever_day_is_taken_out() {
        let mut plan = Plan::cabbage(4);
        plan.rotation.fridge.cuts = vec![cut((1, 9), (1, 10)), cut((3, 5), (4, 6))];
        let dates = |r: &Rotation| r.fridge.cuts.iter().map(|c| (r.date(c.from.day), r.date(c.to.day))).collect::<Vec<_>>();
        for day in 1..=4 {
            let done = apply(&plan.rotation, &Edit::RemoveDay(DayNo(day))).unwrap().rotation;
            assert_eq!(dates(&done), dates(&plan.rotation), "day {day} taken out");
        }
    }
}
