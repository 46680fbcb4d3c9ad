//! The week on one page: what is eaten when, who has what instead, and until when each box keeps.

use super::{Section, Sheet, labelling::eat_by, listed, mass};
use crate::{
    lists::{BoxLabel, KeptFor},
    quantity::{Portion, System, write_grams},
    rotation::{Rotation, Serving, Slot, capital},
};

/// The sheet for the fridge door.
pub fn week_sheet(rotation: &Rotation, labels: &[BoxLabel], system: System) -> Sheet {
    let mut sheet = Sheet::of(rotation, &rotation.heading());
    let first = crate::quantity::DayNo::FIRST;
    sheet.subtitle = format!(
        "{}, {} as bought; from {} {}",
        capital(&rotation.kind.name),
        write_grams(rotation.piece.mass.get(), system),
        rotation.weekday(first),
        rotation.date(first)
    );
    let rows = rotation.slots().flat_map(|slot| meal_rows(rotation, slot, system)).collect();
    let head = ["meal", "at", "dish", "grams", "who"];
    let mut meals = Section::headed("Meals").with_table(head, &[3], rows);
    if meals.table.is_none() {
        meals.lead.push("No meal is planned yet.".into());
    }
    sheet.sections.push(meals);
    let boxes = labels.iter().map(|l| {
        let kept = match &l.kept_for {
            KeptFor::Meal { slot, .. } => rotation.slot_name(*slot),
            KeptFor::Dish { day, name } => format!("{name}, {}", rotation.day_name(*day)),
            KeptFor::Open => String::new(),
        };
        let tender = l.tender.as_ref().map(|(d, names)| format!("; {} by {}", listed(names), rotation.day_name(*d)));
        [capital(&l.what), mass(l.grams, system), format!("{}{}", eat_by(rotation, l), tender.unwrap_or_default()), kept]
    });
    sheet.sections.push(Section::headed("In boxes").with_table(["what", "how much", "until", "for"], &[1], boxes.collect()));
    sheet.sections.retain(|s| s.table.is_some() || !s.lead.is_empty());
    sheet
}

fn meal_rows(rotation: &Rotation, slot: Slot, system: System) -> Vec<[String; 5]> {
    let present = rotation.eaters_at(slot);
    let at = rotation.mealtimes.iter().find(|m| m.id == slot.mealtime).and_then(|m| m.at);
    let at = at.map(|t| format!("{:02}:{:02}", t.hour(), t.minute())).unwrap_or_default();
    let row = |serving: &Serving| {
        let batch = rotation.batch(serving.batch)?;
        let dish = rotation.dishes.get(&batch.dish)?;
        let grams = match serving.portion {
            Portion::Prepared(_) if dish.cooked => Portion::Cooked(batch.cooked(serving.portion, dish)),
            as_it_is => as_it_is,
        };
        Some([rotation.slot_name(slot), at.clone(), dish.name.clone(), mass(grams, system), who(rotation, serving, &present)])
    };
    rotation.meal(slot).servings.iter().filter_map(row).collect()
}

/// "everybody", "Bo", "everybody; Gro: seared halloumi".
fn who(rotation: &Rotation, serving: &Serving, present: &[crate::rotation::EaterId]) -> String {
    let meant = serving.meant_for(present);
    let usual: Vec<_> = rotation.household.usual().collect();
    let twin = |id| serving.twins.iter().find(|t| t.eater == id);
    let plain: Vec<String> =
        meant.iter().filter(|id| twin(**id).is_none()).map(|id| rotation.household.name(*id).to_string()).collect();
    let mut said = if meant == usual && plain.len() == meant.len() { "everybody".to_string() } else { listed(&plain) };
    for id in &meant {
        if let Some(twin) = twin(*id) {
            said.push_str(&format!("; {}: {}", rotation.household.name(*id), twin.twin));
        }
    }
    said.trim_start_matches("; ").to_string()
}
