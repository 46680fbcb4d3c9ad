//! Edits of who eats.

use super::{
    Eater, EaterId, Edit, Rotation, Slot,
    apply::{Outcome, refuse},
    validate::is_good_name,
};

pub(super) fn carry_out(r: &mut Rotation, edit: &Edit) -> Outcome {
    match edit {
        Edit::AddEater(eater) => {
            let name = good_name(r, &eater.name, None)?;
            let id = r.household.next_id();
            r.household.eaters.push(Eater { id, name: name.clone(), ..eater.clone() });
            Ok(format!("Add {name}"))
        }
        Edit::SetEater(eater) => {
            let name = good_name(r, &eater.name, Some(eater.id))?;
            let Some(old) = r.household.eaters.iter_mut().find(|e| e.id == eater.id) else {
                return refuse("that eater is not in the household");
            };
            let words = if old.name == name { format!("Change {name}") } else { format!("Call {} {name}", old.name) };
            *old = Eater { name, ..eater.clone() };
            Ok(words)
        }
        Edit::RemoveEater(id) => remove(r, *id),
        Edit::SetPresent { slot, eater, present } => set_present(r, *slot, *eater, *present),
        _ => refuse("that is no change of the household"),
    }
}

fn good_name(r: &Rotation, name: &str, but: Option<EaterId>) -> Result<String, super::Refusal> {
    let name = name.trim();
    if !is_good_name(name) {
        return refuse("give the eater a name");
    }
    if r.household.eaters.iter().any(|e| Some(e.id) != but && e.name.to_lowercase() == name.to_lowercase()) {
        return refuse(format!("there is somebody called {name} already: names must differ"));
    }
    Ok(name.to_string())
}

fn remove(r: &mut Rotation, id: EaterId) -> Outcome {
    let Some(eater) = r.household.eater(id) else {
        return refuse("that eater is not in the household");
    };
    if r.household.eaters.len() == 1 {
        return refuse(format!("{} is the only one who eats: add somebody else first", eater.name));
    }
    let name = eater.name.clone();
    r.household.eaters.retain(|e| e.id != id);
    for meal in r.meals.values_mut() {
        if let Some(present) = &mut meal.present {
            present.retain(|e| *e != id);
        }
        for serving in &mut meal.servings {
            let for_all = serving.eaters.is_empty();
            serving.eaters.retain(|e| *e != id);
            serving.twins.retain(|t| t.eater != id);
            if !for_all && serving.eaters.is_empty() {
                return refuse(format!("a serving is meant for {name} alone: give it to somebody else first"));
            }
        }
    }
    Ok(format!("Take {name} out of the household"))
}

fn set_present(r: &mut Rotation, slot: Slot, eater: EaterId, present: bool) -> Outcome {
    if !r.has_slot(slot) {
        return refuse("that meal is outside the calendar");
    }
    if r.household.eater(eater).is_none() {
        return refuse("that eater is not in the household");
    }
    let mut sitting = r.eaters_at(slot);
    sitting.retain(|e| *e != eater);
    if present {
        sitting.push(eater);
    }
    // In the household's order, so that the same people are the same value.
    let sitting: Vec<EaterId> = r.household.eaters.iter().map(|e| e.id).filter(|id| sitting.contains(id)).collect();
    let usual: Vec<EaterId> = r.household.usual().collect();
    let name = r.household.name(eater).to_string();
    let at = r.slot_name(slot);
    r.meals.entry(slot).or_default().present = (sitting != usual).then_some(sitting);
    Ok(if present { format!("{name} sits down at {at}") } else { format!("{name} is away at {at}") })
}
