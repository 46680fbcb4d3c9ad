//! Eaters: allergens, diets, dislikes, cautions for the vulnerable.

use super::{
    Code, Finding, Severity,
    index::{Index, Made, Sitting, made_from},
    words::{listed, slot_key},
};
use crate::{
    book::{Allergen, Contents as InPot, Diet, Dish, Method, Role, Substance, contents_of, holds_word},
    rotation::{Eater, EaterId, Serving, piece_is},
};

/// A set of allergens.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
struct Allergens(u32);

impl Allergens {
    fn of(list: &[Allergen]) -> Allergens {
        Allergens(list.iter().fold(0, |set, &a| set | 1 << a as u32))
    }

    fn and(self, other: Allergens) -> Allergens {
        Allergens(self.0 | other.0)
    }

    fn shared(self, other: Allergens) -> Allergens {
        Allergens(self.0 & other.0)
    }

    fn but(self, other: Allergens) -> Allergens {
        Allergens(self.0 & !other.0)
    }

    fn is_empty(self) -> bool {
        self.0 == 0
    }

    fn words(self) -> String {
        let held = Allergen::ALL.iter().filter(|&&a| self.0 & (1 << a as u32) != 0);
        listed(&held.map(|a| a.word()).collect::<Vec<_>>())
    }
}

/// What is in the pot: the piece, the dish, and every batch that it is made from.
#[derive(Clone, Copy)]
struct Contents {
    allergens: Allergens,
    diet: Diet,
    /// What the pot holds beside plants.
    holds: InPot,
    /// Whether there is a companion in it of which nobody knows what it is.
    doubt: bool,
    /// The same for the pot without this dish's own company: what a twin still holds when it holds the piece.
    base: (Allergens, Diet, InPot, bool),
}

impl Contents {
    fn of((allergens, diet, holds, doubt): (Allergens, Diet, InPot, bool)) -> Contents {
        Contents { allergens, diet, holds, doubt, base: (allergens, diet, holds, doubt) }
    }
}

/// Says who cannot, may not or does not like to eat what is planned for them.
///
/// Stops: an allergen on its eater's plate, out of the dish, the piece, or anything that the dish is made from; what an eater
/// never eats ([`Eater::never`]); somebody
/// present who may eat of no dish that is meant for them (a spoonful from a bank is no dish). A twin made apart from an
/// allergen's pot is a caution (board, pan and spoon of its own); a twin that is a part of the same pot clears nothing.
/// Warnings: a companion that the book does not know, where its eater's diet would have to be known. Nothing is assumed.
/// Cautions: the same where its eater has an allergy; a dish for others that holds what one at the table is allergic to (board,
/// tray, oil and garnish carry it over); a form, or something in it such as pork, that an eater dislikes; a dish's caution for the vulnerable; somebody present for whom nothing is meant.
/// Notes: a dish's caution for everybody, the piece's own.
pub(super) fn of(index: &Index) -> Vec<Finding> {
    let rotation = index.rotation;
    let contents = contents(index);
    let mut findings = Vec::new();
    for sitting in &index.sittings {
        for serving in &sitting.meal.servings {
            let Some(place) = index.place(serving.batch) else { continue };
            let made = &index.batches[place];
            let Some(dish) = made.dish else { continue };
            for eater in serving.meant_for(&sitting.present) {
                let Some(eater) = rotation.household.eater(eater) else { continue };
                findings.extend(allergy(index, sitting, serving, made, dish, contents[place], eater));
                findings.extend(allergy_unknown(index, sitting, serving, place, contents[place], eater));
                findings.extend(barred(index, sitting, serving, place, contents[place], eater));
            }
            beside_others(index, sitting, serving, made, dish, contents[place], &mut findings);
            beside_twins(index, sitting, serving, made, dish, &mut findings);
        }
        nothing_to_eat(index, sitting, &contents, &mut findings);
    }
    for (place, made) in index.batches.iter().enumerate() {
        if let Some(dish) = made.dish {
            dislikes(index, made, dish, contents[place], &mut findings);
            dish_cautions(index, made, dish, &mut findings);
        }
    }
    piece_cautions(index, &mut findings);
    findings
}

/// The same of a rotation that nobody has looked up yet.
#[cfg(test)]
pub(super) fn diet(rotation: &crate::rotation::Rotation) -> Vec<Finding> {
    of(&Index::new(rotation))
}

fn contents(index: &Index) -> Vec<Contents> {
    let kind = &index.rotation.kind;
    // A piece of a kind that the book does not know is what its kind says.
    // What its name says, a kind of the cook's own may have left unsaid.
    let named = contents_of(&kind.name).unwrap_or_default();
    let allergens = Allergens::of(&kind.allergens).and(Allergens::of(&named.allergens()));
    let piece = (allergens, kind.diet, named, false);
    let mut all = vec![Contents::of(piece); index.batches.len()];
    for &place in &index.order {
        let made = &index.batches[place];
        let sources = made.sources.iter().map(|&s| &all[s]);
        let base = sources.fold(piece, |a, b| (a.0.and(b.allergens), a.1.with(b.diet), a.2.and(b.holds), a.3 || b.doubt));
        all[place] = Contents::of(base);
        if let Some(dish) = made.dish {
            let fare = dish.fare();
            all[place].allergens = base.0.and(Allergens::of(&fare.allergens));
            all[place].diet = base.1.with(fare.diet);
            all[place].holds = base.2.and(fare.contents);
            all[place].doubt = base.3 || !fare.unknown.is_empty();
        }
    }
    all
}

fn allergy(
    index: &Index,
    sitting: &Sitting,
    serving: &Serving,
    made: &Made,
    dish: &Dish,
    contents: Contents,
    eater: &Eater,
) -> Option<Finding> {
    let allergies = Allergens::of(&eater.allergies);
    let meal = index.rotation.slot_name(sitting.slot);
    let (name, what) = (&eater.name, &dish.name);
    let in_pot = contents.allergens.shared(allergies);
    let (severity, text) = match serving.twin_of(eater.id, dish) {
        None if in_pot.is_empty() => return None,
        None => (Severity::Stop, format!("{meal}, {what}: {} for {name}", in_pot.words())),
        Some(twin) => {
            let own = Allergens::of(&twin.fare().allergens);
            let held = if twin.holds_piece { own.and(contents.base.0) } else { own }.shared(allergies);
            let beside = in_pot.but(held);
            if !held.is_empty() {
                (Severity::Stop, format!("{meal}, {} beside {what}: {} for {name}", twin.name, held.words()))
            } else if beside.is_empty() {
                return None;
            } else if twin.holds_piece {
                let text = format!("{meal}, {} for {name} is out of the same pot as {what}, with {}", twin.name, beside.words());
                (Severity::Stop, text)
            } else {
                let text = format!(
                    "{meal}, {} for {name}: {what} holds {}; use {} of its own",
                    twin.name,
                    beside.words(),
                    kept_apart(dish)
                );
                (Severity::Caution, text)
            }
        }
    };
    // A board of its own is another matter than the allergen itself: where a twin takes the stop away, this word stays.
    let matter = if severity == Severity::Stop { "" } else { "/apart" };
    let about = format!("{}/{}/{}{matter}", made.key(), slot_key(sitting.slot), eater.id.0);
    let finding = Finding::new(severity, Code::Allergy, about, text);
    Some(finding.at(sitting.slot).of(made.batch.id).for_eater(eater.id))
}

/// What must be a thing of its own so that nothing is carried over: by how the dish is cooked (allergens stay in oil and on trays).
fn kept_apart(dish: &Dish) -> &'static str {
    match dish.profile.method.first().map(|m| m.0) {
        Some(Method::Fry) => "a board, a pan with fresh oil and a spoon",
        Some(Method::Roast | Method::Bake | Method::Grill) => "a board, a tray and a spoon",
        _ => "a board, a pan and a spoon",
    }
}

/// A dish for others alone that holds what somebody at the same table must not have: nothing of it may reach their plate.
fn beside_others(
    index: &Index,
    sitting: &Sitting,
    serving: &Serving,
    made: &Made,
    dish: &Dish,
    contents: Contents,
    findings: &mut Vec<Finding>,
) {
    if serving.eaters.is_empty() || serving.meant_for(&sitting.present).is_empty() {
        return;
    }
    for id in sitting.present.iter().filter(|id| !serving.eaters.contains(id)) {
        let Some(eater) = index.rotation.household.eater(*id) else { continue };
        let held = contents.allergens.shared(Allergens::of(&eater.allergies));
        if held.is_empty() {
            continue;
        }
        let meal = index.rotation.slot_name(sitting.slot);
        let text = format!(
            "{meal}, {}: it is for others and holds {}; for {}'s plate use {} of its own, and no garnish from it",
            dish.name,
            held.words(),
            eater.name,
            kept_apart(dish)
        );
        let about = format!("{}/{}/{}/beside", made.key(), slot_key(sitting.slot), id.0);
        let finding = Finding::new(Severity::Caution, Code::Allergy, about, text);
        findings.push(finding.at(sitting.slot).of(made.batch.id).for_eater(*id));
    }
}

/// Somebody else's twin that holds what one at the same table must not have, and whose own plate does not.
fn beside_twins(index: &Index, sitting: &Sitting, serving: &Serving, made: &Made, dish: &Dish, findings: &mut Vec<Finding>) {
    for twin_of in serving.twins.iter().filter(|t| sitting.present.contains(&t.eater)) {
        let Some(twin) = dish.twins.iter().find(|t| t.name == twin_of.twin) else { continue };
        let others = sitting.present.iter().filter(|id| **id != twin_of.eater);
        let allergic = others.filter_map(|id| index.rotation.household.eater(*id)).filter(|e| !e.allergies.is_empty());
        for eater in allergic {
            let held = Allergens::of(&twin.fare().allergens).shared(Allergens::of(&eater.allergies));
            let own = serving.twins.iter().any(|t| t.eater == eater.id && t.twin == twin.name);
            // A dish that holds it as well is a stop, or is told of already.
            let in_dish = Allergens::of(&dish.fare().allergens);
            if own || held.but(in_dish).is_empty() {
                continue;
            }
            let meal = index.rotation.slot_name(sitting.slot);
            let text = format!(
                "{meal}, {}: it is for {} and holds {}; for {}'s plate use {} of its own",
                twin.name,
                index.rotation.household.name(twin_of.eater),
                held.words(),
                eater.name,
                kept_apart(dish)
            );
            let about = format!("{}/{}/{}/twin-{}", made.key(), slot_key(sitting.slot), eater.id.0, twin_of.eater.0);
            let finding = Finding::new(Severity::Caution, Code::Allergy, about, text);
            findings.push(finding.at(sitting.slot).of(made.batch.id).for_eater(eater.id));
        }
    }
}

/// What somebody never eats, by faith or vow or in recovery: a stop, and a warning where nobody knows whether it is in there.
fn barred(
    index: &Index,
    sitting: &Sitting,
    serving: &Serving,
    place: usize,
    contents: Contents,
    eater: &Eater,
) -> Option<Finding> {
    let made = &index.batches[place];
    let dish = made.dish?;
    let never: Vec<String> = eater.never().collect();
    if never.is_empty() {
        return None;
    }
    let twin = serving.twin_of(eater.id, dish);
    let (own, in_pot) = match twin {
        None => (true, Some((contents.holds, contents.allergens))),
        Some(twin) => (false, twin.holds_piece.then_some((contents.base.2, contents.base.0))),
    };
    let rotation = index.rotation;
    let is_in = |word: &str| {
        let named = match twin {
            None => dish.holds_word(word),
            Some(twin) => twin.holds_word(word),
        };
        // Of what it is made from, the names of the company are gone; what it holds is known.
        let from = || {
            made_from(index, made.sources.to_vec()).into_iter().any(|s| index.batches[s].dish.is_some_and(|d| d.holds_word(word)))
        };
        named
            || in_pot.is_some_and(|(holds, allergens)| {
                holds_word(holds, word) || allergens.words() == word || from() || piece_is(rotation, word)
            })
    };
    let held: Vec<&str> = never.iter().map(String::as_str).filter(|w| is_in(w)).collect();
    let meal = rotation.slot_name(sitting.slot);
    let what = twin.filter(|_| !own).map_or(dish.name.as_str(), |t| t.name.as_str());
    let (severity, about, text) = if !held.is_empty() {
        let text = format!("{meal}, {what}: {} never eats {}", eater.name, listed(&held));
        (Severity::Stop, "", text)
    } else if is_in_doubt(contents, dish, serving, eater.id) {
        let doubt = doubt_of(index, place, serving, eater.id)?;
        let text = format!("{meal}, {what}: nobody knows whether it holds {}, for {}; {doubt}", listed(&never), eater.name);
        (Severity::Warn, "/unknown", text)
    } else {
        return None;
    };
    let about = format!("{}/{}/{}{about}", made.key(), slot_key(sitting.slot), eater.id.0);
    Some(Finding::new(severity, Code::Barred, about, text).at(sitting.slot).of(made.batch.id).for_eater(eater.id))
}

/// A companion that nobody knows, for one who must know.
fn allergy_unknown(
    index: &Index,
    sitting: &Sitting,
    serving: &Serving,
    place: usize,
    contents: Contents,
    eater: &Eater,
) -> Option<Finding> {
    let made = &index.batches[place];
    let dish = made.dish?;
    if eater.allergies.is_empty() || !is_in_doubt(contents, dish, serving, eater.id) {
        return None;
    }
    let (meal, what) = (index.rotation.slot_name(sitting.slot), &dish.name);
    let held = Allergens::of(&eater.allergies).words();
    let doubt = doubt_of(index, place, serving, eater.id)?;
    let text = format!("{meal}, {what}: nobody knows whether {} can eat it, who must have no {held}; {doubt}", eater.name);
    let about = format!("{}/{}/{}/unknown", made.key(), slot_key(sitting.slot), eater.id.0);
    let finding = Finding::new(Severity::Caution, Code::Allergy, about, text);
    Some(finding.at(sitting.slot).of(made.batch.id).for_eater(eater.id))
}

/// Whether there is a companion on the eater's plate that nobody knows.
fn is_in_doubt(contents: Contents, dish: &Dish, serving: &Serving, eater: EaterId) -> bool {
    match serving.twin_of(eater, dish) {
        None => contents.doubt,
        Some(twin) => !twin.fare().unknown.is_empty() || twin.holds_piece && contents.base.3,
    }
}

/// What is unknown of the eater's plate: in the twin, in the dish, or in what the dish is made from.
fn doubt_of(index: &Index, place: usize, serving: &Serving, eater: EaterId) -> Option<String> {
    let dish = index.batches[place].dish?;
    let own = match serving.twin_of(eater, dish) {
        Some(twin) => twin.fare().doubt(),
        None => dish.fare().doubt(),
    };
    let mut seen = vec![place];
    let mut open = index.batches[place].sources.to_vec();
    own.or_else(|| {
        while let Some(source) = open.pop() {
            if seen.contains(&source) {
                continue;
            }
            seen.push(source);
            if let Some(doubt) = index.batches[source].dish.and_then(|d| d.fare().doubt()) {
                return Some(doubt);
            }
            open.extend(&index.batches[source].sources);
        }
        None
    })
}

fn nothing_to_eat(index: &Index, sitting: &Sitting, contents: &[Contents], findings: &mut Vec<Finding>) {
    let servings: Vec<(usize, &Dish, &Serving)> = sitting
        .meal
        .servings
        .iter()
        .filter_map(|s| index.place(s.batch).and_then(|place| Some((place, index.batches[place].dish?, s))))
        .collect();
    let dishes: Vec<_> = servings.iter().copied().filter(|(_, dish, _)| dish.role != Role::Bank).collect();
    // A meal of nothing but a bank is judged by it.
    let dishes = if dishes.is_empty() { servings } else { dishes };
    if dishes.is_empty() {
        return;
    }
    for &id in &sitting.present {
        let Some(eater) = index.rotation.household.eater(id) else { continue };
        let meant: Vec<_> = dishes.iter().copied().filter(|(_, _, s)| s.eaters.is_empty() || s.eaters.contains(&id)).collect();
        let meal = index.rotation.slot_name(sitting.slot);
        let (severity, text) = if meant.is_empty() {
            (Severity::Caution, format!("{meal}: nothing is meant for {}, who sits down", eater.name))
        } else {
            let may_eat =
                |(place, dish, s): &(usize, &Dish, &Serving)| eater.diet.may_eat(diet_of(contents[*place], dish, s, id));
            let known = |(place, dish, s): &(usize, &Dish, &Serving)| {
                eater.diet == Diet::Everything || !is_in_doubt(contents[*place], dish, s, id)
            };
            let suiting: Vec<_> = meant.into_iter().filter(may_eat).collect();
            if suiting.iter().any(known) {
                continue;
            }
            let doubt = suiting.iter().find_map(|(place, dish, s)| Some((dish, doubt_of(index, *place, s, id)?)));
            match doubt {
                Some((dish, doubt)) => {
                    let diet = eater.diet.word();
                    let text = format!("{meal}, {}: nobody knows whether {} may eat it ({diet}); {doubt}", dish.name, eater.name);
                    (Severity::Warn, text)
                }
                None => (Severity::Stop, format!("{} has no dish at {meal}: {}", eater.name, eater.diet.word())),
            }
        };
        let about = format!("{}/{}", slot_key(sitting.slot), id.0);
        findings.push(Finding::new(severity, Code::NothingToEat, about, text).at(sitting.slot).for_eater(id));
    }
}

fn diet_of(contents: Contents, dish: &Dish, serving: &Serving, eater: EaterId) -> Diet {
    match serving.twin_of(eater, dish) {
        None => contents.diet,
        Some(twin) if twin.holds_piece => twin.fare().diet.with(contents.base.1),
        Some(twin) => twin.fare().diet,
    }
}

/// One caution a batch and eater, at the first meal where it is felt: for forms, and for what is in it (pork, alcohol), which some
/// leave out by faith.
fn dislikes(index: &Index, made: &Made, dish: &Dish, contents: Contents, findings: &mut Vec<Finding>) {
    if dish.forms.is_empty() && contents.holds == InPot::default() {
        return;
    }
    let mut told: Vec<EaterId> = Vec::new();
    for (place, serving) in &made.servings {
        let sitting = &index.sittings[*place];
        for id in serving.meant_for(&sitting.present) {
            let Some(eater) = index.rotation.household.eater(id).filter(|e| !e.dislikes.is_empty()) else { continue };
            let cured = serving.twin_of(id, dish).map_or(&[][..], |t| &t.without_forms);
            let forms = dish.forms.iter().filter(|f| !cured.contains(f) && eater.dislikes.iter().any(|d| is_same(d, f)));
            let plate = match serving.twin_of(id, dish) {
                None => contents.holds,
                Some(twin) if twin.holds_piece => contents.base.2.and(twin.fare().contents),
                Some(twin) => twin.fare().contents,
            };
            let held = Substance::ALL.iter().filter(|s| plate.holds(**s)).map(|s| s.word());
            let held = held.filter(|word| eater.dislikes.iter().any(|d| is_same(d, word)));
            let forms: Vec<&str> = forms.map(String::as_str).chain(held).collect();
            if forms.is_empty() || told.contains(&id) {
                continue;
            }
            told.push(id);
            let meal = index.rotation.slot_name(sitting.slot);
            let text = format!("{meal}, {}: {} dislikes {}", dish.name, eater.name, listed(&forms));
            let finding = Finding::new(Severity::Caution, Code::Dislike, format!("{}/{}", made.key(), id.0), text);
            findings.push(finding.at(sitting.slot).of(made.batch.id).for_eater(id));
        }
    }
}

/// Dislikes are typed by people: neither capitals nor spaces around them make another word.
fn is_same(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

/// A dish's cautions for everybody once a batch; those for the vulnerable once a batch and eater, unless a twin takes its place.
fn dish_cautions(index: &Index, made: &Made, dish: &Dish, findings: &mut Vec<Finding>) {
    for (i, caution) in dish.cautions.iter().enumerate() {
        let about = format!("{}/{i}", made.key());
        if caution.for_whom.is_empty() {
            let text = format!("{}, {}: {}", index.where_made(made), dish.name, caution.text);
            let finding = Finding::new(Severity::Note, Code::DishCaution, about, text).of(made.batch.id);
            findings.push(match index.first_meal(made) {
                Some(slot) => finding.at(slot),
                None => finding,
            });
            continue;
        }
        let mut told: Vec<EaterId> = Vec::new();
        for (place, serving) in &made.servings {
            let sitting = &index.sittings[*place];
            for id in serving.meant_for(&sitting.present) {
                let Some(eater) = index.rotation.household.eater(id) else { continue };
                let concerned = caution.for_whom.iter().any(|c| eater.care.contains(c));
                if !concerned || told.contains(&id) || serving.twin_of(id, dish).is_some() {
                    continue;
                }
                told.push(id);
                let meal = index.rotation.slot_name(sitting.slot);
                let text = format!("{meal}, {}, for {}: {}", dish.name, eater.name, caution.text);
                let finding = Finding::new(Severity::Caution, Code::DishCaution, format!("{about}/{}", id.0), text);
                findings.push(finding.at(sitting.slot).of(made.batch.id).for_eater(id));
            }
        }
    }
}

/// What to beware of in the piece, said where it is first cut: at the first batch by day.
fn piece_cautions(index: &Index, findings: &mut Vec<Finding>) {
    let first = index.batches.iter().min_by_key(|m| {
        let served = m.servings.first().map(|s| s.0);
        (m.batch.day, served.is_none(), served, m.batch.id)
    });
    let Some(first) = first else { return };
    for (i, hazard) in index.rotation.kind.hazards.iter().enumerate() {
        let text = format!("{}: {hazard}", index.where_made(first));
        let about = format!("{}/{i}", index.rotation.kind.id);
        let finding = Finding::new(Severity::Note, Code::PieceCaution, about, text).of(first.batch.id);
        findings.push(match index.first_meal(first) {
            Some(slot) => finding.at(slot),
            None => finding,
        });
    }
}

#[cfg(test)]
mod tests;
