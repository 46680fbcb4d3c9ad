//! The table of eaters: who eats what at each meal, how much of it, and why somebody's plate is another.

use super::{index::Index, words::listed};
use crate::{
    book::{Dish, Twin},
    quantity::{Cooked, Grams, Portion},
    rotation::{BatchId, Eater, EaterId, Rotation, Serving, Slot, divide, piece_is, share_out_whole},
};

/// One place at the table of one meal at which something is served.
#[derive(Clone, Debug, PartialEq)]
pub struct Seat<'r> {
    /// The meal.
    pub slot: Slot,
    /// Who.
    pub eater: EaterId,
    /// Their name.
    pub name: &'r str,
    /// Whether they sit down; guests who are not asked have no seat.
    pub sits: bool,
    /// What is on their plate, in the order in which it is served; nothing where they are away or nothing is meant for them.
    pub helpings: Vec<Helping<'r>>,
}

/// What one serving puts on one plate.
#[derive(Clone, Debug, PartialEq)]
pub struct Helping<'r> {
    /// The batch it comes from.
    pub batch: BatchId,
    /// The dish that is served.
    pub dish: &'r str,
    /// What this eater has of it.
    pub what: Plated<'r>,
    /// How much of the piece, in the state in which the serving is counted; nothing of it where a twin leaves the piece out.
    pub portion: Portion,
    /// The same, cooked, whole grams; nothing where it is eaten raw.
    pub cooked: Option<Grams<Cooked>>,
    /// Whole units where the dish comes in such: 2 rolls.
    pub count: Option<(u32, &'r str)>,
    /// Whether it was made on an earlier day and comes out of its box.
    pub boxed: bool,
    /// Why this eater's plate is another: "vegetarian", "milk", "dislikes raw onion"; empty where it is like the others'.
    pub why: Vec<String>,
}

/// What an eater has of a dish.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plated<'r> {
    /// The dish, like the others.
    Dish,
    /// A twin that leaves the piece out: made before the meat or fish goes in, with a pan and a spoon of its own.
    Twin(&'r str),
    /// A twin that still holds the piece: the plain corner of the same tray.
    Corner(&'r str),
}

impl Seat<'_> {
    /// What is said of this place in one line, without the name: "away", "nothing is meant for them", or the plates.
    pub fn words(&self) -> String {
        if !self.sits {
            return "away".into();
        }
        if self.helpings.is_empty() {
            return "nothing".into();
        }
        listed(&self.helpings.iter().map(Helping::words).collect::<Vec<_>>())
    }
}

impl Helping<'_> {
    /// The name of what is on the plate: the dish, or the twin in its place.
    pub fn name(&self) -> &str {
        match self.what {
            Plated::Dish => self.dish,
            Plated::Twin(name) | Plated::Corner(name) => name,
        }
    }

    /// What it is in a few words: "Leaf rolls", "seared halloumi in place of Seared loin", "plain half, out of the same dish as
    /// Bake"; "boxed" behind it where it comes out of its box.
    pub fn words(&self) -> String {
        let what = match self.what {
            Plated::Dish => self.dish.to_string(),
            Plated::Twin(name) => format!("{name} in place of {}", self.dish),
            Plated::Corner(name) => format!("{name}, out of the same dish as {}", self.dish),
        };
        if self.boxed { format!("{what}, boxed") } else { what }
    }
}

/// The table of eaters: one seat for each of the household at each meal at which something is served, in the order of time and
/// of the household; and one for each guest who is asked.
///
/// A serving's grams are shared out by portion units among those who eat the piece in it, to the gram: the shares of one serving
/// add up to it. Whole units are shared out whole, the largest remainder first.
pub fn table_of_eaters(rotation: &Rotation) -> Vec<Seat<'_>> {
    let index = Index::new(rotation);
    let mut seats = Vec::new();
    for sitting in &index.sittings {
        let mut helpings: Vec<(EaterId, Helping)> = Vec::new();
        for serving in &sitting.meal.servings {
            helpings.extend(shared_out(rotation, sitting.slot, serving, &sitting.present));
        }
        for eater in &rotation.household.eaters {
            let sits = sitting.present.contains(&eater.id);
            if eater.guest && !sits {
                continue;
            }
            let own = helpings.iter().filter(|(id, _)| *id == eater.id).map(|(_, h)| h.clone()).collect();
            seats.push(Seat { slot: sitting.slot, eater: eater.id, name: &eater.name, sits, helpings: own });
        }
    }
    seats
}

/// One helping for each of those for whom the serving is meant.
fn shared_out<'r>(rotation: &'r Rotation, slot: Slot, serving: &'r Serving, present: &[EaterId]) -> Vec<(EaterId, Helping<'r>)> {
    let Some((batch, dish)) = rotation.batch(serving.batch).and_then(|b| Some((b, &**rotation.dishes.get(&b.dish)?))) else {
        return Vec::new();
    };
    let eating = crate::rotation::eaten_by(rotation, serving, present);
    let sizes: Vec<u32> = eating.iter().map(|id| rotation.household.eater(*id).map_or(0, |e| e.units.hundredths())).collect();
    let grams = divide(serving.portion.get(), &sizes);
    let unit = dish.unit.as_ref().filter(|(_, each)| *each > 0);
    let counts = unit.map(|(_, each)| share_out_whole((serving.portion.get() + each / 2) / each, &sizes));
    let helping = |id: EaterId| {
        let eater = rotation.household.eater(id)?;
        let twin = serving.twin_of(id, dish);
        let place = eating.iter().position(|e| *e == id);
        let portion = serving.portion.with(place.map_or(0, |p| grams[p]));
        let count = place.and_then(|p| Some((counts.as_ref()?[p], unit?.0.as_str())));
        let what = match twin {
            None => Plated::Dish,
            Some(twin) if twin.holds_piece => Plated::Corner(&twin.name),
            Some(twin) => Plated::Twin(&twin.name),
        };
        let cooked = (dish.cooked || rotation.kind.is_cooked_whole()).then(|| batch.cooked(portion, dish));
        let why = twin.map_or_else(Vec::new, |t| reasons(rotation, dish, t, eater));
        let boxed = slot.day > batch.day && !matches!(what, Plated::Twin(_));
        Some((id, Helping { batch: serving.batch, dish: &dish.name, what, portion, cooked, count, boxed, why }))
    };
    serving.meant_for(present).into_iter().filter_map(helping).collect()
}

/// What bars the dish for an eater, or what they dislike in it, and a twin leaves out; where nothing does, it is their choice.
fn reasons(rotation: &Rotation, dish: &Dish, twin: &Twin, eater: &Eater) -> Vec<String> {
    let mut why = Vec::new();
    if !dish.surely_suits(eater.diet) || !eater.diet.may_eat(rotation.kind.diet) {
        why.push(eater.diet.word().to_string());
    }
    let carried = dish.allergens.iter().chain(&rotation.kind.allergens);
    let mut barred: Vec<&str> = carried.filter(|a| eater.allergies.contains(a)).map(|a| a.word()).collect();
    barred.dedup();
    why.extend(barred.into_iter().map(|a| format!("no {a}")));
    why.extend(eater.never().filter(|w| dish.holds_word(w) || piece_is(rotation, w)).map(|w| format!("never {w}")));
    let forms = twin.without_forms.iter().filter(|f| eater.dislikes.iter().any(|d| d.trim().to_lowercase() == f.to_lowercase()));
    why.extend(forms.map(|f| format!("dislikes {f}")));
    let cared = dish.cautions.iter().flat_map(|c| &c.for_whom).filter(|c| eater.care.contains(c));
    let mut cared: Vec<&str> = cared.map(|c| c.word()).collect();
    cared.sort_unstable();
    cared.dedup();
    why.extend(cared.into_iter().map(str::to_string));
    if why.is_empty() {
        why.push("by choice".into());
    }
    why
}

#[cfg(test)]
mod tests {
    use super::super::test_support::{Plan, dish, lunch, supper};
    use super::*;
    use crate::book::Diet;

    fn twin(name: &str, holds_piece: bool) -> Twin {
        Twin {
            name: name.into(),
            holds_piece,
            diet: Diet::Vegetarian,
            allergens: Vec::new(),
            protein: None,
            without_forms: vec!["raw tomato".into()],
            companions: Vec::new(),
        }
    }

    #[test]
    fn rolls_are_shared_out_whole_and_grams_to_the_gram() {
        let mut plan = Plan::cabbage(4);
        let rolls = plan.batch(3, Dish { unit: Some(("roll".into(), 50)), ..dish("rolls") }, &[("outer", 300)]);
        plan.serve(supper(3), rolls, 250);
        plan.serve(lunch(4), rolls, 50);
        plan.present(lunch(4), &[EaterId(2)]);
        let seats = table_of_eaters(&plan.rotation);
        let told: Vec<_> = seats
            .iter()
            .map(|s| {
                let of = s.helpings.first().map(|h| (h.portion.get(), h.count.map(|c| c.0), h.boxed));
                (s.name, s.sits, of, s.words())
            })
            .collect();
        let line = |name, sits, of, words: &str| (name, sits, of, words.to_string());
        assert_eq!(
            told,
            [
                line("Asta", true, Some((96, Some(2), false)), "Rolls"),
                line("Bo", true, Some((96, Some(2), false)), "Rolls"),
                line("Kim", true, Some((58, Some(1), false)), "Rolls"),
                line("Asta", false, None, "away"),
                line("Bo", true, Some((50, Some(1), true)), "Rolls, boxed"),
                line("Kim", false, None, "away"),
            ]
        );
    }

    #[test]
    fn who_eats_otherwise_is_told_with_the_reason() {
        let mut plan = Plan::cabbage(2);
        let gro = plan.eater("Gro", 100);
        plan.with_eater(gro, |e| e.diet = Diet::Vegetarian);
        plan.with_eater(EaterId(3), |e| e.dislikes = vec!["Raw tomato".into()]);
        let meat =
            Dish { diet: Diet::Everything, twins: vec![twin("halloumi", false), twin("softened half", true)], ..dish("seared") };
        let batch = plan.cook(supper(1), meat, "middle", 260);
        plan.twin(supper(1), batch, gro, "halloumi");
        plan.twin(supper(1), batch, EaterId(3), "softened half");
        let guest = plan.eater("Leo", 100);
        plan.with_eater(guest, |e| e.guest = true);
        let seats = table_of_eaters(&plan.rotation);
        let of = |name: &str| seats.iter().find(|s| s.name == name).map(|s| &s.helpings[0]);
        let (gro, kim) = (of("Gro").unwrap(), of("Kim").unwrap());
        assert_eq!((gro.what, gro.portion.get(), &gro.why[..]), (Plated::Twin("halloumi"), 0, &["vegetarian".to_string()][..]));
        assert_eq!((kim.what, kim.portion.get()), (Plated::Corner("softened half"), 60));
        assert_eq!(kim.why, ["dislikes raw tomato"]);
        assert_eq!(gro.words(), "halloumi in place of Seared");
        assert!(of("Leo").is_none(), "a guest who is not asked has no seat");
        let all: u32 = seats.iter().flat_map(|s| &s.helpings).map(|h| h.portion.get()).sum();
        assert_eq!(all, 260);
    }

    #[test]
    fn one_for_whom_nothing_is_meant_sits_before_an_empty_plate() {
        let mut plan = Plan::cabbage(2);
        let batch = plan.cook(supper(1), dish("wedges"), "middle", 200);
        plan.meal_mut(supper(1)).servings[0].eaters = vec![EaterId(1)];
        let seats = table_of_eaters(&plan.rotation);
        assert_eq!(seats.iter().map(|s| s.words()).collect::<Vec<_>>(), ["Wedges", "nothing", "nothing"]);
        assert_eq!(seats[0].helpings[0].batch, batch);
    }
}
