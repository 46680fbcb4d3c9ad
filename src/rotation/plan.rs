//! The whole plan: piece, household, days, meals, batches.

use super::{
    Batch, BatchId, Eater, EaterId, Fridge, Household, Kitchen, Meal, Mealtime, MealtimeId, Piece, Serving, Slot, Source, Storage,
};
use crate::{
    book::{Dish, DishId, Kind, PartId},
    quantity::{AsBought, DayNo, Days, Grams, Portion, Units},
};
use jiff::{ToSpan as _, civil::Date};
use serde::{Deserialize, Serialize};
use std::{collections::BTreeMap, sync::Arc};

/// The longest window, in days.
pub const MAX_DAYS: u16 = 62;
/// The most mealtimes a day may have.
pub const MAX_MEALTIMES: usize = 8;

/// Names one finding so that overruling it silences just that one: its code and all that it is about.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct FindingKey(pub String);

/// A warning that the cook has overruled.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Overruled {
    /// Which finding.
    pub finding: FindingKey,
    /// Why: "birthday request".
    pub reason: String,
}

/// The whole plan around one piece. It carries a copy of its kind and of every dish it uses, so that it opens anywhere.
#[derive(Clone, Debug, PartialEq)]
pub struct Rotation {
    /// What the cook calls it; empty: the kind's name.
    pub title: String,
    /// The calendar date of day 1.
    pub first_day: Date,
    /// How many days the window has, 1 to [`MAX_DAYS`].
    pub days: u16,
    /// The mealtimes of every day, in the order of the day, 1 to [`MAX_MEALTIMES`].
    pub mealtimes: Vec<Mealtime>,
    /// The kind of the piece.
    pub kind: Arc<Kind>,
    /// The piece.
    pub piece: Piece,
    /// Who eats.
    pub household: Household,
    /// How cold the fridge really is.
    pub fridge: Fridge,
    /// What a session may use.
    pub kitchen: Kitchen,
    /// What else food is kept and cooled in.
    pub storage: Storage,
    /// Every dish that a batch makes.
    pub dishes: BTreeMap<DishId, Arc<Dish>>,
    /// The cookings, by number.
    pub batches: Vec<Batch>,
    /// The meals that are not blank.
    pub meals: BTreeMap<Slot, Meal>,
    /// What the cook has overruled.
    pub overruled: Vec<Overruled>,
}

impl Rotation {
    /// An empty window around a fresh piece opened on day 1, with one mealtime: supper.
    pub fn start(kind: Arc<Kind>, mass: Grams<AsBought>, first_day: Date, days: u16, eaters: Vec<Eater>) -> Rotation {
        let piece = Piece::guessed(&kind, mass, DayNo::FIRST);
        Rotation {
            title: String::new(),
            first_day,
            days: days.clamp(1, MAX_DAYS),
            mealtimes: vec![Mealtime { id: MealtimeId(1), name: "supper".into(), at: jiff::civil::Time::new(18, 30, 0, 0).ok() }],
            kind,
            piece,
            household: Household { eaters },
            fridge: Fridge::default(),
            kitchen: Kitchen::default(),
            storage: Storage::default(),
            dishes: BTreeMap::new(),
            batches: Vec::new(),
            meals: BTreeMap::new(),
            overruled: Vec::new(),
        }
    }

    /// What to call it on a title line: the cook's title, or the kind's name with a capital.
    pub fn heading(&self) -> String {
        if self.title.is_empty() { capital(&self.kind.name) } else { self.title.clone() }
    }

    /// The days of the window, in order.
    pub fn day_numbers(&self) -> impl DoubleEndedIterator<Item = DayNo> + use<> {
        (1..=self.days as i16).map(DayNo)
    }

    /// The last day of the window.
    pub fn last_day(&self) -> DayNo {
        DayNo(self.days as i16)
    }

    /// Every cell of the calendar in the order of time.
    pub fn slots(&self) -> impl Iterator<Item = Slot> + '_ {
        self.day_numbers().flat_map(|day| self.mealtimes.iter().map(move |m| Slot { day, mealtime: m.id }))
    }

    /// Where a slot stands in time, for comparing; slots outside the calendar come last.
    pub fn time_rank(&self, slot: Slot) -> (DayNo, usize) {
        let place = self.mealtimes.iter().position(|m| m.id == slot.mealtime);
        (slot.day, place.unwrap_or(usize::MAX))
    }

    /// Whether the slot lies in the calendar.
    pub fn has_slot(&self, slot: Slot) -> bool {
        (1..=self.days as i16).contains(&slot.day.0) && self.mealtimes.iter().any(|m| m.id == slot.mealtime)
    }

    /// The date of a day. Days beyond the calendar's end give its last date.
    pub fn date(&self, day: DayNo) -> Date {
        let days = i64::from(day.0) - 1;
        self.first_day.checked_add(days.days()).unwrap_or(if days < 0 { Date::MIN } else { Date::MAX })
    }

    /// "Thursday".
    pub fn weekday(&self, day: DayNo) -> &'static str {
        weekday_name(self.date(day))
    }

    /// "supper", or "meal" for a number that is not there.
    pub fn mealtime_name(&self, id: MealtimeId) -> &str {
        self.mealtimes.iter().find(|m| m.id == id).map_or("meal", |m| m.name.as_str())
    }

    /// "Thursday supper". In windows over a week the date is added: "Thursday 10 supper".
    pub fn slot_name(&self, slot: Slot) -> String {
        format!("{} {}", self.day_name(slot.day), self.mealtime_name(slot.mealtime))
    }

    /// "Thursday"; in windows over a week, and for days that lie beyond the first week, "Thursday 17", unique for a month.
    pub fn day_name(&self, day: DayNo) -> String {
        if self.days > 7 || !(1..=7).contains(&day.0) {
            format!("{} {}", self.weekday(day), self.date(day).day())
        } else {
            self.weekday(day).to_string()
        }
    }

    /// The meal of a slot; blank where nobody has said anything.
    pub fn meal(&self, slot: Slot) -> &Meal {
        static BLANK: Meal = Meal { present: None, servings: Vec::new() };
        self.meals.get(&slot).unwrap_or(&BLANK)
    }

    /// Who sits down at a meal.
    pub fn eaters_at(&self, slot: Slot) -> Vec<EaterId> {
        self.meal(slot).eaters(&self.household)
    }

    /// Portion units that sit down at a meal.
    pub fn units_at(&self, slot: Slot) -> Units {
        self.household.units(self.eaters_at(slot))
    }

    /// The batch with this number.
    pub fn batch(&self, id: BatchId) -> Option<&Batch> {
        self.batches.iter().find(|b| b.id == id)
    }

    /// The dish that a batch makes.
    pub fn dish_of(&self, batch: BatchId) -> Option<&Arc<Dish>> {
        self.batch(batch).and_then(|b| self.dishes.get(&b.dish))
    }

    /// A number that no batch has yet.
    pub fn next_batch_id(&self) -> BatchId {
        BatchId(self.batches.iter().map(|b| b.id.0).max().unwrap_or(0).saturating_add(1))
    }

    /// Every serving from `batch`, in the order of time.
    pub fn servings_of(&self, batch: BatchId) -> Vec<(Slot, &Serving)> {
        let mut found: Vec<_> = self.meals.iter().filter_map(|(slot, meal)| meal.serving(batch).map(|s| (*slot, s))).collect();
        found.sort_by_key(|(slot, _)| self.time_rank(*slot));
        found
    }

    /// Grams of a batch that meals take, in the batch's state.
    pub fn served_from(&self, batch: BatchId) -> u32 {
        self.meals.values().filter_map(|m| m.serving(batch)).map(|s| s.portion.get()).fold(0, u32::saturating_add)
    }

    /// Grams of a part that batches draw.
    pub fn drawn_from_part(&self, part: &PartId) -> u32 {
        self.draws_from(&Source::Part(part.clone()))
    }

    /// Grams, cooked, that later batches draw from `batch`.
    pub fn drawn_from_batch(&self, batch: BatchId) -> u32 {
        self.draws_from(&Source::Batch(batch))
    }

    fn draws_from(&self, source: &Source) -> u32 {
        let draws = self.batches.iter().flat_map(|b| &b.draws).filter(|d| d.from == *source);
        draws.map(|d| d.portion.get()).fold(0, u32::saturating_add)
    }

    /// Grams of a part that no batch has drawn yet; negative where more is drawn than is there.
    pub fn free_in_part(&self, part: &PartId) -> i64 {
        let usable = self.piece.part(part).map_or(0, |p| p.usable.get());
        i64::from(usable) - i64::from(self.drawn_from_part(part))
    }

    /// Grams of a batch that no meal has taken, in the batch's state.
    pub fn unserved(&self, batch: &Batch) -> Portion {
        batch.pool().with(batch.pool().get().saturating_sub(self.served_from(batch.id)))
    }

    /// Cooked grams of a batch that neither a meal nor a later batch has taken.
    pub fn left_cooked(&self, batch: &Batch) -> u32 {
        let cooked = match self.dishes.get(&batch.dish) {
            Some(dish) => batch.cooked(self.unserved(batch), dish).get(),
            None => 0,
        };
        cooked.saturating_sub(self.drawn_from_batch(batch.id))
    }

    /// Days of the window from the day the piece was opened to `day`.
    pub fn raw_age(&self, day: DayNo) -> Days {
        day.since(self.piece.opened)
    }
}

/// The English name of a date's weekday.
pub(crate) fn weekday_name(date: Date) -> &'static str {
    use jiff::civil::Weekday::*;
    match date.weekday() {
        Monday => "Monday",
        Tuesday => "Tuesday",
        Wednesday => "Wednesday",
        Thursday => "Thursday",
        Friday => "Friday",
        Saturday => "Saturday",
        Sunday => "Sunday",
    }
}

/// The English names of the months.
pub(crate) const MONTHS: [&str; 12] =
    ["January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"];

/// The English name of a date's month.
pub(crate) fn month_name(date: Date) -> &'static str {
    // A month is 1 to 12.
    MONTHS[usize::try_from(date.month() - 1).unwrap_or(0) % 12]
}

/// `text` with its first letter a capital.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
