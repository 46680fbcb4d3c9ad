//! The question: slots in the order they are eaten, dishes that may fill them, and how alike the dishes are.
//!
//! Nothing here knows of rotations or the book. An [`Instance`] is plain whole numbers, so that every comparison in the
//! search is exact and the same on every machine.

use serde::Deserialize;

/// The most slots of an instance (house limit; a month of four meals a day thrice over).
pub const MAX_SLOTS: usize = 400;
/// The most dishes of an instance (house limit).
pub const MAX_DISHES: usize = 1_000;
/// The most grams, minutes or uses that a field may name (house limit: a thousand tonnes, two thousand years).
pub const MAX_FIGURE: i64 = 1_000_000_000;
/// The most that all waste together may cost, in the unit of cost (house limit: keeps every sum far inside 63 bits).
pub const MAX_WASTE: i64 = 1_000_000_000_000_000;

/// A dish that may fill a slot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dish {
    /// What people call it.
    pub id: String,
    /// The least grams of the ingredient it takes.
    pub min_g: i64,
    /// The most grams of the ingredient it takes; 0 for a dish without it.
    pub max_g: i64,
    /// Minutes of cooking.
    pub minutes: i64,
    /// How little it is liked, 0 to 1000.
    pub dislike: i64,
    /// The slots it may fill; none named: every slot.
    pub allowed_slots: Option<Vec<usize>>,
    /// How often it may occur in the whole arrangement.
    pub max_uses: i64,
}

/// The whole question. Fields are as the problem states them, all checked: see [`InstanceFault`].
///
/// Read it with `serde`, from JSON or any other form; unknown keys are passed over.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(try_from = "Written")]
pub struct Instance {
    /// A label.
    pub name: String,
    /// The day of each slot; never falls.
    pub slot_days: Vec<usize>,
    /// The dishes; a dish is named by its place here.
    pub dishes: Vec<Dish>,
    /// How alike two dishes are, 0 to 1000: a square, row by row, 1000 on its diagonal. Two dishes apart may be 1000 too.
    likeness: Vec<u16>,
    /// Weight of a pair of slots 1, 2, ... places apart, each 0 to 1000.
    pub gap_weight: Vec<i64>,
    /// Grams of the ingredient on hand.
    pub edible_g: i64,
    /// Cost of a gram left over, in thousands of the unit of cost.
    pub waste_cost_per_g: i64,
    /// Minutes of cooking the cook has on each day.
    pub day_minutes: Vec<i64>,
    /// The last slot that may use the ingredient, none for -1.
    pub last_slot: Option<usize>,
    /// Slots that must hold a certain dish.
    pub fixed: Vec<(usize, usize)>,
}

impl Instance {
    /// An instance of another room of the house: nothing is checked, and a likeness may stand over 1000 for two dishes that
    /// should not stand within one window.
    ///
    /// `likeness` is a square, row by row, symmetric, of the dishes.
    pub(super) fn of_parts(
        slot_days: Vec<usize>,
        dishes: Vec<Dish>,
        likeness: Vec<u16>,
        gaps: usize,
        supply: Supply,
    ) -> Instance {
        debug_assert_eq!(likeness.len(), dishes.len() * dishes.len());
        let last_slot = slot_days.len().checked_sub(1);
        Instance {
            name: String::new(),
            slot_days,
            dishes,
            likeness,
            gap_weight: vec![1_000; gaps.max(1)],
            edible_g: supply.edible_g,
            waste_cost_per_g: supply.waste_cost_per_g,
            day_minutes: supply.day_minutes,
            last_slot,
            fixed: Vec::new(),
        }
    }

    /// How many slots there are to fill.
    pub fn slots(&self) -> usize {
        self.slot_days.len()
    }

    /// How alike dishes `a` and `b` are, 0 to 1000.
    ///
    /// # Panics
    /// Where one of them is no dish of this instance.
    pub fn likeness(&self, a: usize, b: usize) -> i64 {
        i64::from(self.likeness[a * self.dishes.len() + b])
    }

    /// Whether rules 1, 2 and 3 let dish `d` stand in slot `s`: allowed there, without the ingredient after the last slot
    /// for it, and not against a fixed dish.
    pub fn may_stand(&self, s: usize, d: usize) -> bool {
        let dish = &self.dishes[d];
        dish.allowed_slots.as_ref().is_none_or(|slots| slots.contains(&s))
            && (dish.max_g == 0 || self.last_slot.is_some_and(|last| s <= last))
            && self.fixed.iter().all(|&(slot, fixed)| slot != s || fixed == d)
    }
}

/// What there is to fill the slots of an instance with.
pub(super) struct Supply {
    pub edible_g: i64,
    pub waste_cost_per_g: i64,
    pub day_minutes: Vec<i64>,
}

/// Why an instance is refused: what, where, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum InstanceFault {
    /// No slot at all.
    #[error("slots is empty: name at least one")]
    NoSlots,
    /// More than the house takes.
    #[error("{what} has {count} entries; {most} is the most")]
    TooMany {
        /// Which list.
        what: &'static str,
        /// How many.
        count: usize,
        /// The limit.
        most: usize,
    },
    /// A number outside its range.
    #[error("{place} is {value}; it must lie between {least} and {most}")]
    OutOfRange {
        /// Which field of which entry.
        place: String,
        /// What stands there.
        value: i64,
        /// The least that is right.
        least: i64,
        /// The most that is right.
        most: i64,
    },
    /// A dish's minimum above its maximum.
    #[error("dish {dish} has min_g {min_g} above max_g {max_g}")]
    MinAboveMax {
        /// Which dish.
        dish: usize,
        /// Its minimum.
        min_g: i64,
        /// Its maximum.
        max_g: i64,
    },
    /// Days that run backwards.
    #[error("slot {slot} lies on day {day}, before the day of the slot before it: list the slots in the order of eating")]
    DayFalls {
        /// Which slot.
        slot: usize,
        /// Its day.
        day: i64,
    },
    /// The triangle of likenesses has a row too many, too few, too long or too short.
    #[error("similarity_upper {place} has {found} entries; it must have {wanted}")]
    Triangle {
        /// "itself" or "row 3".
        place: String,
        /// How many there are.
        found: usize,
        /// How many there should be.
        wanted: usize,
    },
    /// No gap weight at all.
    #[error("gap_weight is empty: name at least the weight of next-door slots")]
    NoGaps,
    /// All waste together could cost too much for exact sums.
    #[error("waste_cost_per_g {cost} times edible_g {edible_g} is too large: times 1000 it may be {MAX_WASTE} at most")]
    WasteTooDear {
        /// Cost of a gram.
        cost: i64,
        /// Grams on hand.
        edible_g: i64,
    },
}

/// An instance as it is written.
#[derive(Deserialize)]
struct Written {
    #[serde(default)]
    name: String,
    slots: Vec<WrittenSlot>,
    dishes: Vec<WrittenDish>,
    similarity_upper: Vec<Vec<i64>>,
    gap_weight: Vec<i64>,
    edible_g: i64,
    waste_cost_per_g: i64,
    day_minutes: Vec<i64>,
    last_slot: i64,
    #[serde(default)]
    fixed: Vec<WrittenFixed>,
}

#[derive(Deserialize)]
struct WrittenSlot {
    day: i64,
}

#[derive(Deserialize)]
struct WrittenFixed {
    slot: i64,
    dish: i64,
}

#[derive(Deserialize)]
struct WrittenDish {
    #[serde(default)]
    id: String,
    min_g: i64,
    max_g: i64,
    minutes: i64,
    dislike: i64,
    #[serde(default)]
    allowed_slots: Option<Vec<i64>>,
    max_uses: i64,
}

/// `value` if it lies between `least` and `most`.
fn within(value: i64, least: i64, most: i64, place: impl FnOnce() -> String) -> Result<i64, InstanceFault> {
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(InstanceFault::OutOfRange { place: place(), value, least, most })
    }
}

/// `value` as an index below `count`.
fn index(value: i64, count: usize, place: impl FnOnce() -> String) -> Result<usize, InstanceFault> {
    let most = i64::try_from(count).unwrap_or(i64::MAX) - 1;
    within(value, 0, most, place).map(|v| usize::try_from(v).unwrap_or(0))
}

fn at_most(what: &'static str, count: usize, most: usize) -> Result<(), InstanceFault> {
    if count > most { Err(InstanceFault::TooMany { what, count, most }) } else { Ok(()) }
}

impl TryFrom<Written> for Instance {
    type Error = InstanceFault;

    fn try_from(w: Written) -> Result<Instance, InstanceFault> {
        let (m, n) = (w.slots.len(), w.dishes.len());
        if m == 0 {
            return Err(InstanceFault::NoSlots);
        }
        at_most("slots", m, MAX_SLOTS)?;
        at_most("dishes", n, MAX_DISHES)?;
        at_most("gap_weight", w.gap_weight.len(), MAX_FIGURE as usize)?;
        let mut slot_days = Vec::with_capacity(m);
        for (s, slot) in w.slots.iter().enumerate() {
            let day = index(slot.day, w.day_minutes.len(), || format!("the day of slot {s}"))?;
            if slot_days.last().is_some_and(|&before| day < before) {
                return Err(InstanceFault::DayFalls { slot: s, day: slot.day });
            }
            slot_days.push(day);
        }
        for (day, &minutes) in w.day_minutes.iter().enumerate() {
            within(minutes, 0, MAX_FIGURE, || format!("day_minutes of day {day}"))?;
        }
        let dishes = w.dishes.into_iter().enumerate().map(|(d, dish)| dish.checked(d, m)).collect::<Result<Vec<_>, _>>()?;
        let likeness = square(&w.similarity_upper, n)?;
        if w.gap_weight.is_empty() {
            return Err(InstanceFault::NoGaps);
        }
        for (k, &weight) in w.gap_weight.iter().enumerate() {
            within(weight, 0, 1_000, || format!("gap_weight {}", k + 1))?;
        }
        within(w.edible_g, 0, MAX_FIGURE, || "edible_g".into())?;
        within(w.waste_cost_per_g, 0, MAX_WASTE, || "waste_cost_per_g".into())?;
        if w.waste_cost_per_g.checked_mul(w.edible_g).and_then(|c| c.checked_mul(1_000)).is_none_or(|c| c > MAX_WASTE) {
            return Err(InstanceFault::WasteTooDear { cost: w.waste_cost_per_g, edible_g: w.edible_g });
        }
        let top = i64::try_from(m).unwrap_or(i64::MAX) - 1;
        let last = within(w.last_slot, -1, top, || "last_slot".into())?;
        let mut fixed = Vec::with_capacity(w.fixed.len());
        for (i, f) in w.fixed.iter().enumerate() {
            let slot = index(f.slot, m, || format!("the slot of fixed {i}"))?;
            fixed.push((slot, index(f.dish, n, || format!("the dish of fixed {i}"))?));
        }
        Ok(Instance {
            name: w.name,
            slot_days,
            dishes,
            likeness,
            gap_weight: w.gap_weight,
            edible_g: w.edible_g,
            waste_cost_per_g: w.waste_cost_per_g,
            day_minutes: w.day_minutes,
            last_slot: usize::try_from(last).ok(),
            fixed,
        })
    }
}

impl WrittenDish {
    /// This dish, number `d`, for `m` slots.
    fn checked(self, d: usize, m: usize) -> Result<Dish, InstanceFault> {
        let figure = |value, most, name| within(value, 0, most, || format!("{name} of dish {d}"));
        figure(self.min_g, MAX_FIGURE, "min_g")?;
        figure(self.max_g, MAX_FIGURE, "max_g")?;
        figure(self.minutes, MAX_FIGURE, "minutes")?;
        figure(self.dislike, 1_000, "dislike")?;
        figure(self.max_uses, i64::MAX, "max_uses")?;
        if self.min_g > self.max_g {
            return Err(InstanceFault::MinAboveMax { dish: d, min_g: self.min_g, max_g: self.max_g });
        }
        let allowed_slots = match self.allowed_slots {
            None => None,
            Some(slots) => Some(
                slots.into_iter().map(|s| index(s, m, || format!("an allowed slot of dish {d}"))).collect::<Result<_, _>>()?,
            ),
        };
        Ok(Dish {
            id: self.id,
            min_g: self.min_g,
            max_g: self.max_g,
            minutes: self.minutes,
            dislike: self.dislike,
            allowed_slots,
            max_uses: self.max_uses,
        })
    }
}

/// The square of likenesses out of its upper triangle.
fn square(upper: &[Vec<i64>], n: usize) -> Result<Vec<u16>, InstanceFault> {
    if upper.len() != n {
        return Err(InstanceFault::Triangle { place: "itself".into(), found: upper.len(), wanted: n });
    }
    let mut likeness = vec![1_000_u16; n * n];
    for (i, row) in upper.iter().enumerate() {
        if row.len() != n - 1 - i {
            return Err(InstanceFault::Triangle { place: format!("row {i}"), found: row.len(), wanted: n - 1 - i });
        }
        for (k, &value) in row.iter().enumerate() {
            let j = i + 1 + k;
            let value = within(value, 0, 1_000, || format!("the similarity of dishes {i} and {j}"))?;
            let value = u16::try_from(value).unwrap_or(1_000);
            likeness[i * n + j] = value;
            likeness[j * n + i] = value;
        }
    }
    Ok(likeness)
}
