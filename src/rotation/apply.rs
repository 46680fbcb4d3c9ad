//! The one place where edits are carried out.

use super::{
    Edit, MAX_DAYS, MAX_MEALTIMES, Mealtime, MealtimeId, Rotation, apply_household, apply_meal, apply_piece, boxing, fridge,
    kitchen, settle::settle, storage,
};
use super::{Overruled, Slot, validate::is_good_name, validate::validate};
use crate::quantity::{DayNo, Days};
use jiff::civil::Time;

/// An edit done: the new plan, and what was done in words.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    /// The plan after the edit.
    pub rotation: Rotation,
    /// What was done: "Move Charred wedges to Thursday supper".
    pub words: String,
}

/// Why an edit was refused; the plan stays as it was. One sentence for a person.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Refusal(pub String);

/// What one edit comes to: words for what was done, or a refusal.
pub(super) type Outcome = Result<String, Refusal>;

/// Refuses with a sentence.
pub(super) fn refuse<T>(why: impl Into<String>) -> Result<T, Refusal> {
    Err(Refusal(why.into()))
}

/// Carries out `edit` on a copy of `rotation`, or says why not. The result passes [`validate`], so a refused edit leaves no trace.
pub fn apply(rotation: &Rotation, edit: &Edit) -> Result<Done, Refusal> {
    let mut next = rotation.clone();
    let words = carry_out(&mut next, edit)?;
    settle(&mut next);
    validate(&next).map_err(|i| Refusal(i.what))?;
    Ok(Done { rotation: next, words })
}

fn carry_out(r: &mut Rotation, edit: &Edit) -> Outcome {
    match edit {
        Edit::SetTitle(title) => {
            r.title = title.trim().to_string();
            Ok(if r.title.is_empty() { "Take the title away".into() } else { format!("Call it {}", r.title) })
        }
        Edit::Piece(change) => apply_piece::carry_out(r, change),
        Edit::SetFirstDay(date) => {
            r.first_day = *date;
            Ok(format!("Begin on {} {}", r.weekday(DayNo::FIRST), date))
        }
        Edit::AddDay => add_day(r),
        Edit::RemoveDay(day) => remove_day(r, *day),
        Edit::AddMealtime { name, at } => add_mealtime(r, name, *at),
        Edit::SetMealtime { id, name, at } => set_mealtime(r, *id, name, *at),
        Edit::RemoveMealtime(id) => remove_mealtime(r, *id),
        Edit::AddEater(_) | Edit::SetEater(_) | Edit::RemoveEater(_) | Edit::SetPresent { .. } => {
            apply_household::carry_out(r, edit)
        }
        Edit::SetFridge(fridge) => fridge::set(r, fridge),
        Edit::SetKitchen(kitchen) => kitchen::set(r, *kitchen),
        Edit::SetStorage(storage) => storage::set(r, storage),
        Edit::Freeze(stay) => storage::freeze(r, stay),
        Edit::KeepOut(what) => storage::keep_out(r, what),
        Edit::BoxUp(boxing) => boxing::set(r, boxing),
        Edit::BoxAsUsual(of) => boxing::as_usual(r, *of),
        Edit::Overrule { finding, reason } => {
            if !is_good_name(reason) {
                return refuse("say in a few words why the warning may be left");
            }
            r.overruled.retain(|o| o.finding != *finding);
            r.overruled.push(Overruled { finding: finding.clone(), reason: reason.trim().to_string() });
            Ok(format!("Leave a warning: {}", reason.trim()))
        }
        Edit::TakeBackOverrule(finding) => {
            r.overruled.retain(|o| o.finding != *finding);
            Ok("Let a warning speak again".into())
        }
        Edit::Replace { with, words } => {
            *r = (**with).clone();
            Ok(words.clone())
        }
        Edit::Together { edits, words } => {
            for edit in edits {
                carry_out(r, edit)?;
                settle(r);
            }
            Ok(words.clone())
        }
        _ => apply_meal::carry_out(r, edit),
    }
}

fn add_day(r: &mut Rotation) -> Outcome {
    if r.days >= MAX_DAYS {
        return refuse(format!("the window already has {MAX_DAYS} days, the most it can have"));
    }
    r.days += 1;
    Ok(format!("Add {}", r.weekday(r.last_day())))
}

fn remove_day(r: &mut Rotation, day: DayNo) -> Outcome {
    if !(1..=r.days as i16).contains(&day.0) {
        return refuse(format!("the window has no day {}", day.0));
    }
    if r.days == 1 {
        return refuse("a rotation needs at least one day");
    }
    let name = r.day_name(day);
    let mut busy: Vec<String> = r.batches.iter().filter(|b| b.day == day).map(|b| super::serve::batch_name(r, b.id)).collect();
    let served = r.meals.iter().filter(|(slot, _)| slot.day == day).flat_map(|(_, meal)| &meal.servings);
    busy.extend(served.map(|s| super::serve::batch_name(r, s.batch)));
    busy.dedup();
    if let Some(first) = busy.first() {
        return refuse(format!("{name} has {first}: move it or take it off first"));
    }
    let earlier = |d: DayNo| if d > day { d.plus(Days(-1)) } else { d };
    for batch in &mut r.batches {
        batch.day = earlier(batch.day);
        for draw in &mut batch.draws {
            draw.cut_on = draw.cut_on.map(earlier);
        }
    }
    for stay in &mut r.storage.frozen {
        (stay.from, stay.to) = (earlier(stay.from), earlier(stay.to));
    }
    let meals = std::mem::take(&mut r.meals);
    r.meals = meals
        .into_iter()
        .filter(|(slot, _)| slot.day != day)
        .map(|(slot, meal)| (Slot { day: earlier(slot.day), mealtime: slot.mealtime }, meal))
        .collect();
    if r.piece.opened > day {
        r.piece.opened = earlier(r.piece.opened);
    }
    // Taking the first day out begins the window a day later: the days that stay keep their dates.
    if day == DayNo::FIRST {
        r.first_day = r.first_day.tomorrow().or_else(|_| refuse("the calendar ends here"))?;
        fridge::begin_a_day_later(&mut r.fridge);
    }
    r.days -= 1;
    Ok(format!("Take {name} out"))
}

fn good_mealtime_name(r: &Rotation, name: &str, but: Option<MealtimeId>) -> Result<String, Refusal> {
    let name = name.trim();
    if !is_good_name(name) || name.chars().count() > 40 {
        return refuse("give the mealtime a short name, such as lunch");
    }
    if r.mealtimes.iter().any(|m| Some(m.id) != but && m.name.to_lowercase() == name.to_lowercase()) {
        return refuse(format!("there is a mealtime called {name} already"));
    }
    Ok(name.to_string())
}

fn add_mealtime(r: &mut Rotation, name: &str, at: Option<Time>) -> Outcome {
    if r.mealtimes.len() >= MAX_MEALTIMES {
        return refuse(format!("a day can have {MAX_MEALTIMES} mealtimes, and has them"));
    }
    let name = good_mealtime_name(r, name, None)?;
    let Some(id) = (1..=u8::MAX).map(MealtimeId).find(|id| r.mealtimes.iter().all(|m| m.id != *id)) else {
        return refuse("there is no room for another mealtime");
    };
    let place = at.and_then(|at| r.mealtimes.iter().position(|m| m.at.is_some_and(|t| t > at))).unwrap_or(r.mealtimes.len());
    r.mealtimes.insert(place, Mealtime { id, name: name.clone(), at });
    Ok(format!("Add {name} to every day"))
}

fn set_mealtime(r: &mut Rotation, id: MealtimeId, name: &str, at: Option<Time>) -> Outcome {
    let name = good_mealtime_name(r, name, Some(id))?;
    let Some(mealtime) = r.mealtimes.iter_mut().find(|m| m.id == id) else {
        return refuse("that mealtime is not there");
    };
    let words = if mealtime.name == name { format!("Set the clock of {name}") } else { format!("Call {} {name}", mealtime.name) };
    mealtime.name = name;
    mealtime.at = at;
    if r.mealtimes.iter().all(|m| m.at.is_some()) {
        r.mealtimes.sort_by_key(|m| m.at);
    }
    Ok(words)
}

fn remove_mealtime(r: &mut Rotation, id: MealtimeId) -> Outcome {
    if r.mealtimes.len() == 1 {
        return refuse("a day needs at least one mealtime");
    }
    if !r.mealtimes.iter().any(|m| m.id == id) {
        return refuse("that mealtime is not there");
    }
    let name = r.mealtime_name(id).to_string();
    let busy = r.meals.iter().find(|(slot, meal)| slot.mealtime == id && !meal.servings.is_empty());
    if let Some((slot, _)) = busy {
        return refuse(format!("{} is served: move it or take it off first", r.slot_name(*slot)));
    }
    r.mealtimes.retain(|m| m.id != id);
    r.meals.retain(|slot, _| slot.mealtime != id);
    Ok(format!("Take {name} out of every day"))
}
