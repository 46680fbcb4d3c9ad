//! The rules of food safety derived once more, apart from the program's judges: a walk over every plate.
//!
//! It follows one mouthful from the part it was cut from through every batch that it went into to the eater's plate, and
//! asks on the way what a careful cook would. Nothing here calls the judges. Where a rule leaves room, this takes the plain
//! reading and the judges may be stricter; they may never be looser.

pub mod plans;

use std::collections::BTreeSet;
use tranche::{
    book::{Allergen, Dish, Heat, Role},
    rotation::{Batch, BatchId, EaterId, Frozen, Meal, Rotation, Serving, Slot, Source},
};

/// What is wrong with a plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wrong {
    /// Eaten past its safe limit.
    TooOld,
    /// Made of what was past its limit already.
    MadeTooLate,
    /// Past the limit of somebody vulnerable.
    TooOldForTheVulnerable,
    /// Eaten before it is made.
    BeforeMade,
    /// Warmed up more than once.
    WarmedTwice,
    /// It lay in a fridge without power all through a cut of over four hours.
    PowerCut,
    /// It is used, or eaten, while it lies in the freezer.
    StillFrozen,
    /// It went into the freezer a second time.
    FrozenTwice,
    /// It holds what the eater is allergic to.
    Allergen(Allergen),
}

/// A plate with something wrong.
#[derive(Clone, Debug)]
pub struct Plate {
    pub slot: Slot,
    pub batch: BatchId,
    pub eater: EaterId,
    pub wrong: Wrong,
}

/// Something that runs out: counted from a day, so many days, whether cooking ends it.
#[derive(Clone, Copy)]
struct Runs {
    from: i16,
    days: i16,
    raw: bool,
    /// Whether one day less holds for the vulnerable.
    cooked_food: bool,
    /// The minute at which it starts, where that is known: then a day is 24 hours.
    start: Option<i64>,
    /// Days that it stood still in the freezer.
    paused: i16,
}

impl Runs {
    fn is_out(&self, day: i16, minute: Option<i64>, less: i16) -> bool {
        let days = (self.days - less).max(0).min(self.days);
        // A limit of no days is the day itself.
        match (self.start.filter(|_| days > 0), minute) {
            (Some(start), Some(now)) => now - start > (i64::from(days) + i64::from(self.paused)) * 1_440,
            _ => day - self.from - self.paused > days,
        }
    }

    /// What is left of it, a day at most, for raw food that goes into the freezer on one day and has thawed on another.
    fn thawed(self, stay: Option<(i16, i16)>) -> Runs {
        match stay {
            Some((f, t)) if self.from <= f && f - self.from <= self.days => {
                Runs { from: t, days: (self.days - (f - self.from)).min(1), start: None, ..self }
            }
            _ => self,
        }
    }
}

/// In on the first day, thawed on the second: what is left of a batch, or what it draws from a part.
fn stay_of(r: &Rotation, what: &Frozen) -> Option<(i16, i16)> {
    r.storage.frozen.iter().find(|f| f.what == *what).map(|f| (f.from.0, f.to.0))
}

/// The minute of a mealtime of a day.
fn minute(r: &Rotation, slot: Slot) -> Option<i64> {
    let at = r.mealtimes.iter().find(|m| m.id == slot.mealtime)?.at?;
    Some(i64::from(slot.day.0) * 1_440 + i64::from(at.hour()) * 60 + i64::from(at.minute()))
}

/// The minute at which a batch is made, as far as a meal of its day tells.
fn made_minute(r: &Rotation, batch: &Batch) -> Option<i64> {
    let eats = |meal: &Meal| meal.servings.iter().any(|s| s.batch == batch.id);
    r.meals.iter().filter(|(slot, meal)| slot.day == batch.day && eats(meal)).filter_map(|(slot, _)| minute(r, *slot)).min()
}

/// A mouthful on its way.
#[derive(Clone)]
struct Mouthful {
    runs: Vec<Runs>,
    cooked: bool,
    /// The day of its first cooking or of the last batch, from which warming it again counts.
    last_day: i16,
    warmed: u32,
    /// Whether it was past its limit when something was made of it.
    late: bool,
    /// Days on which it went into the fridge as something perishable.
    perishable_since: Option<i16>,
    lost: bool,
    /// Whether it has thawed, and has not been cooked for the first time since.
    thawed: bool,
    still_frozen: bool,
    twice: bool,
}

fn dish<'r>(r: &'r Rotation, batch: &Batch) -> &'r Dish {
    &r.dishes[&batch.dish]
}

fn is_hot(dish: &Dish) -> bool {
    matches!(dish.profile.heat, Some(Heat::Warm | Heat::Hot))
}

/// A limit in a fridge that runs warm: divided by how much faster Listeria grows than at 5 °C, the broken day left off
/// (FDA/FSIS 2003: the square of T + 1.18 over 6.18).
fn kept(r: &Rotation, days: i16) -> i16 {
    match r.fridge.runs_at {
        Some(c) if c > 5.0 && days > 0 => (f64::from(days) / ((c + 1.18) / 6.18).powi(2) + 1e-9).floor() as i16,
        _ => days,
    }
}

/// Every way from the piece into a batch, as it stands when the batch is made.
fn mouthfuls(r: &Rotation, batch: &Batch) -> Vec<Mouthful> {
    let mut all = Vec::new();
    for draw in &batch.draws {
        match &draw.from {
            Source::Part(part) => {
                let part = r.kind.parts.iter().find(|p| p.id == *part).unwrap();
                let opened = r.piece.opened.0;
                let whole = r.kind.is_cooked_whole();
                let mut m = Mouthful {
                    runs: Vec::new(),
                    cooked: whole,
                    last_day: opened,
                    warmed: 0,
                    late: false,
                    perishable_since: (whole || r.kind.animal).then_some(opened),
                    lost: false,
                    thawed: false,
                    still_frozen: false,
                    twice: false,
                };
                let start =
                    r.storage.opened_at.map(|at| i64::from(opened) * 1_440 + i64::from(at.hour()) * 60 + i64::from(at.minute()));
                let stay = stay_of(r, &Frozen::Draw(batch.id, part.id.clone()));
                m.thawed = stay.is_some();
                let runs = |from, days, raw| Runs { from, days, raw, cooked_food: !raw, start: None, paused: 0 };
                if whole {
                    m.runs.push(Runs { start, ..runs(opened, kept(r, r.kind.cooked_days.0), false) });
                } else {
                    m.runs.push(Runs { start, ..runs(opened, kept(r, part.raw_days.0), true) }.thawed(stay));
                    let form = dish(r, batch).cut;
                    if let Some(cut) = r.kind.cut_forms.iter().find(|c| Some(c.form) == form) {
                        let from = draw.cut_on.map_or(batch.day.0, |d| d.0);
                        // Cut for a meal of the same day it counts from that meal on.
                        let start = made_minute(r, batch).filter(|_| from == batch.day.0);
                        m.runs.push(Runs { start, ..runs(from, kept(r, cut.days.0), true) }.thawed(stay));
                    }
                }
                all.push(made_into(r, m, batch, false, stay));
            }
            Source::Batch(id) => {
                let source = r.batches.iter().find(|b| b.id == *id).unwrap();
                let from_bank = dish(r, source).role == Role::Bank;
                let stay = stay_of(r, &Frozen::Batch(*id));
                for mut m in mouthfuls(r, source) {
                    m.come_out(stay, batch.day.0);
                    all.push(made_into(r, m, batch, from_bank, stay));
                }
            }
        }
    }
    all
}

impl Mouthful {
    /// What a stay in the freezer has done to it by a day: it lies there still, or what ran has stood still.
    fn come_out(&mut self, stay: Option<(i16, i16)>, day: i16) {
        let Some((f, t)) = stay else { return };
        self.still_frozen |= f < day && day < t;
        if day >= t {
            self.thawed = true;
            // What had run out before it was frozen gains nothing.
            self.runs.iter_mut().filter(|c| !c.is_out(f, None, 0)).for_each(|c| c.paused += t - f);
        }
    }
}

/// What becomes of a mouthful when it goes into a batch; `stay` is the one it comes from.
fn made_into(r: &Rotation, mut m: Mouthful, batch: &Batch, from_bank: bool, stay: Option<(i16, i16)>) -> Mouthful {
    let (made, day) = (dish(r, batch), batch.day.0);
    // All that is raw must still be good when it is used; what is cooked must be, too.
    let now = made_minute(r, batch);
    m.late |= m.runs.iter().any(|c| c.is_out(day, now, 0));
    m.lost |= m.perishable_since.is_some_and(|since| lay_through_a_cut(r, since, day, stay));
    if made.cooked && !m.cooked {
        m.thawed = false;
    }
    m.twice |= m.thawed && stay_of(r, &Frozen::Batch(batch.id)).is_some();
    if m.cooked && !from_bank && is_hot(made) && day > m.last_day {
        m.warmed += 1;
    }
    let bank = made.role == Role::Bank;
    if bank {
        // Preserved: what went in raw counts no more.
        m.runs.retain(|c| !c.raw);
        m.warmed = 0;
        m.perishable_since = None;
    } else {
        m.perishable_since = Some(day);
    }
    if made.cooked && !m.cooked {
        m.runs.retain(|c| !c.raw);
        if !bank {
            let days = kept(r, r.kind.cooked_days.0);
            m.runs.push(Runs { from: day, days, raw: false, cooked_food: true, start: now, paused: 0 });
        }
    }
    m.cooked |= made.cooked;
    let keeps = if bank { made.keeps.0 } else { kept(r, made.keeps.0) };
    let raw = !m.cooked && !bank;
    // What is put by counts by whole days; all else from the first meal of its day, where that has an hour.
    let start = now.filter(|_| !bank);
    m.runs.push(Runs { from: day, days: keeps, raw, cooked_food: m.cooked, start, paused: 0 });
    m.last_day = day;
    m
}

/// Whether there is a cut of over four hours that begins on a day after `since` and ends on a day before `until`: whatever the
/// hours of cooking and eating were, the food lay through it. What lies in a freezer, from the day after it went in to the day
/// before it is put into the fridge to thaw, stands a day of it.
fn lay_through_a_cut(r: &Rotation, since: i16, until: i16, stay: Option<(i16, i16)>) -> bool {
    r.fridge.cuts.iter().any(|cut| {
        let minutes =
            (i64::from(cut.to.day.0 - cut.from.day.0)) * 1_440 + i64::from(cut.to.at.hour()) * 60 + i64::from(cut.to.at.minute())
                - i64::from(cut.from.at.hour()) * 60
                - i64::from(cut.from.at.minute());
        let frozen = stay.is_some_and(|(f, t)| cut.from.day.0 > f && cut.to.day.0 < t - 1);
        let safe = if frozen { 24 * 60 } else { 240 };
        minutes > safe && cut.from.day.0 > since && cut.to.day.0 < until
    })
}

/// Everything that anybody's plate of this serving holds.
fn allergens(r: &Rotation, batch: &Batch, with_own_dish: bool, seen: &mut BTreeSet<BatchId>) -> BTreeSet<Allergen> {
    let mut all: BTreeSet<Allergen> = r.kind.allergens.iter().copied().collect();
    if with_own_dish {
        all.extend(&dish(r, batch).allergens);
    }
    for draw in &batch.draws {
        if let Source::Batch(id) = draw.from
            && seen.insert(id)
        {
            let source = r.batches.iter().find(|b| b.id == id).unwrap();
            all.extend(allergens(r, source, true, seen));
        }
    }
    all
}

/// Walks over every plate of a valid rotation.
pub fn walk(r: &Rotation) -> Vec<Plate> {
    let mut plates = Vec::new();
    for (slot, meal) in &r.meals {
        let sitting: Vec<EaterId> = match &meal.present {
            Some(present) => present.clone(),
            None => r.household.eaters.iter().filter(|e| !e.guest).map(|e| e.id).collect(),
        };
        for serving in &meal.servings {
            for &eater in &sitting {
                if serving.eaters.is_empty() || serving.eaters.contains(&eater) {
                    plate(r, *slot, serving, eater, &mut plates);
                }
            }
        }
    }
    plates
}

fn plate(r: &Rotation, slot: Slot, serving: &Serving, id: EaterId, plates: &mut Vec<Plate>) {
    let eater = r.household.eaters.iter().find(|e| e.id == id).unwrap();
    let batch = r.batches.iter().find(|b| b.id == serving.batch).unwrap();
    let made = dish(r, batch);
    let twin = serving.twins.iter().find(|t| t.eater == id).map(|t| made.twins.iter().find(|x| x.name == t.twin).unwrap());
    let mut say = |wrong| plates.push(Plate { slot, batch: batch.id, eater: id, wrong });
    let on_plate = match twin {
        None => allergens(r, batch, true, &mut BTreeSet::new()),
        Some(twin) => {
            let mut held: BTreeSet<Allergen> = twin.allergens.iter().copied().collect();
            if twin.holds_piece {
                held.extend(allergens(r, batch, false, &mut BTreeSet::new()));
            }
            held
        }
    };
    for allergen in eater.allergies.iter().filter(|a| on_plate.contains(a)) {
        say(Wrong::Allergen(*allergen));
    }
    if twin.is_some_and(|t| !t.holds_piece) {
        return;
    }
    let day = slot.day.0;
    if day < batch.day.0 {
        return say(Wrong::BeforeMade);
    }
    let stay = stay_of(r, &Frozen::Batch(batch.id));
    let mut all = mouthfuls(r, batch);
    all.iter_mut().for_each(|m| m.come_out(stay, day));
    if all.iter().any(|m| m.twice) {
        say(Wrong::FrozenTwice);
    }
    if all.iter().any(|m| m.still_frozen) {
        return say(Wrong::StillFrozen);
    }
    let now = minute(r, slot);
    if all.iter().any(|m| m.late) {
        say(Wrong::MadeTooLate);
    }
    if all.iter().any(|m| m.runs.iter().any(|c| c.is_out(day, now, 0))) {
        say(Wrong::TooOld);
    }
    let excused = made.boiled_through && day == batch.day.0;
    if !eater.care.is_empty() && r.kind.animal && !excused {
        let past = |m: &Mouthful| m.cooked && m.runs.iter().any(|c| c.cooked_food && c.is_out(day, now, 1));
        if all.iter().any(past) {
            say(Wrong::TooOldForTheVulnerable);
        }
    }
    let again = u32::from(is_hot(made) && made.role != Role::Bank && day > batch.day.0);
    if all.iter().any(|m| m.cooked && m.warmed + again > 1) {
        say(Wrong::WarmedTwice);
    }
    if all.iter().any(|m| m.lost || m.perishable_since.is_some_and(|since| lay_through_a_cut(r, since, day, stay))) {
        say(Wrong::PowerCut);
    }
}
