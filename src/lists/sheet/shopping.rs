//! The shopping list in words.

use super::{Section, Sheet, listed};
use crate::{
    lists::{ShoppingLine, ShoppingList, Where},
    quantity::{DayNo, System, write_grams},
    rotation::{Rotation, capital},
};

/// The shopping list as a page: a section for each trip and shop, what is over, what the house gives.
pub fn shopping_sheet(rotation: &Rotation, list: &ShoppingList, system: System) -> Sheet {
    let mut sheet = Sheet::of(rotation, "Shopping and harvest");
    for &trip in &list.trips {
        let mut places: Vec<Where> = Vec::new();
        let piece = list.piece.as_ref().filter(|p| p.errand.trip == trip);
        let on_trip = || list.lines.iter().filter(move |l| l.errand.is_some_and(|e| e.trip == trip));
        for place in piece.map(|p| p.source).into_iter().chain(on_trip().map(|l| l.source)) {
            if !places.contains(&place) {
                places.push(place);
            }
        }
        for place in places {
            let of_piece = piece.filter(|p| p.source == place).map(|p| {
                let when = (p.errand.not_before != p.errand.by).then(|| span(rotation, p.errand.not_before, p.errand.by));
                [capital(&p.name), write_grams(p.mass.get(), system), String::new(), "the piece".into(), when.unwrap_or_default()]
            });
            let lines = on_trip().filter(|l| l.source == place).map(|l| row(rotation, l, system));
            let rows = of_piece.into_iter().chain(lines).collect();
            let head = ["what", "get", "needed", "for", "keep in mind"];
            let verb = if place == Where::Garden { "from the" } else { "" };
            let heading = format!("{}: {verb} {}", rotation.day_name(trip), place.word()).replace(":  ", ": ");
            sheet.sections.push(Section::headed(heading).with_table(head, &[1, 2], rows));
        }
    }
    let over: Vec<_> = list.lines.iter().filter(|l| !l.left.is_crumb()).map(|l| over(rotation, l, system)).collect();
    let mut rest = Section::headed("Over in the end").with_table(["what", "over", "until", "would go into"], &[1], over);
    let spoils: Vec<String> = list.spoils().into_iter().map(|(l, _)| l.name.clone()).collect();
    if spoils.len() > 1 {
        rest.lead.push(format!("Opened, and thrown away unless something uses it: {}.", listed(&spoils)));
    }
    sheet.sections.push(rest);
    let house = list.lines.iter().filter(|l| !l.in_house.is_zero()).map(|l| [capital(&l.name), l.in_house.said(system)]);
    sheet.sections.push(Section::headed("From the cupboard").with_table(["what", "take"], &[1], house.collect()));
    let mut last = Section::headed("Allergens that come in");
    let allergens: Vec<String> = list.allergens.iter().map(|a| a.word().to_string()).collect();
    last.lead.push(if allergens.is_empty() {
        "None of the fourteen.".into()
    } else {
        format!("{}.", capital(&listed(&allergens)))
    });
    sheet.sections.push(last);
    sheet.sections.retain(|s| s.table.is_some() || !s.lead.is_empty());
    sheet
}

fn span(rotation: &Rotation, from: DayNo, to: DayNo) -> String {
    if to.since(from).0 > 7 {
        format!("fetch by {}", rotation.day_name(to))
    } else {
        format!("fetch {} to {}", rotation.day_name(from), rotation.day_name(to))
    }
}

fn row(rotation: &Rotation, line: &ShoppingLine, system: System) -> [String; 5] {
    let get = match &line.packs {
        Some(p) => format!("{} {} of {}", p.count, plural(&p.word, p.count), p.size.said(system)),
        None => line.bought.said(system),
    };
    let need = line.need.said(system);
    let need = if need == line.bought.said(system) { String::new() } else { need };
    let uses: Vec<String> = line
        .uses
        .iter()
        .map(|u| {
            let when = u.meal.filter(|m| m.day == u.day).map_or_else(|| rotation.day_name(u.day), |m| rotation.slot_name(m));
            if line.uses.len() > 1 { format!("{when} {}", u.amount.said(system)) } else { when }
        })
        .collect();
    let use_by = line.opened.map(|o| format!("opened {}, use by {}", rotation.day_name(o.on), rotation.day_name(o.use_by)));
    [capital(&line.name), get, need, uses.join(", "), use_by.unwrap_or_default()]
}

fn over(rotation: &Rotation, line: &ShoppingLine, system: System) -> [String; 4] {
    let until = match line.opened {
        Some(o) => rotation.day_name(o.use_by),
        None => "keeps".into(),
    };
    [capital(&line.name), line.left.said(system), until, line.would_use.join("; ")]
}

fn plural(word: &str, count: u32) -> String {
    match word {
        w if count == 1 => w.into(),
        w if w.ends_with("ch") || w.ends_with("sh") || w.ends_with('x') => format!("{w}es"),
        w => format!("{w}s"),
    }
}
