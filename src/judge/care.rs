//! What those who must be taken special care of had better not eat, by what is in a dish: said once a batch and eater, where
//! the dish does not say it itself.
//!
//! Each rule names its ground. They are the usual advice of public health bodies, from memory where it says so; a doctor's or
//! midwife's word goes before it, and local advice may be stricter.

use super::{
    Code, Finding, Severity,
    clock::{Clocks, is_hot},
    index::{Index, Made, Sitting, made_from},
    sight::Sight,
};
use crate::{
    book::{Care, Companion, CutForm, Diet, Dish, Role, Substance, contents_of},
    quantity::Units,
    rotation::{Eater, Serving},
};
use std::borrow::Cow;

/// Everybody who must be taken care of.
const ALL: &[Care] = Care::ALL;
const OLD_WEAK_EXPECTING: &[Care] = &[Care::Pregnant, Care::Elderly, Care::Unwell];
/// Below this many hundredths of an adult's plate an eater may be a child (the house's portion units: 0.6 for six to ten).
const A_CHILDS_PLATE: u32 = 70;

/// What comes onto a plate.
struct Plate<'a> {
    index: &'a Index<'a>,
    dish: &'a Dish,
    companions: &'a [Companion],
    /// What was beside the piece in all that the dish is made from, and whether that came hot to its table.
    before: &'a [(&'a Companion, bool)],
    /// Whether it comes hot to the table, steaming right through.
    hot: bool,
    /// Whether the piece is on it, and the days since it was cooked; nothing for what is raw.
    piece: Option<Option<i16>>,
    /// Whether it is the dish and no twin of it.
    is_the_dish: bool,
}

/// One piece of advice.
struct Rule {
    /// Its part of the name of a finding.
    key: &'static str,
    for_whom: &'static [Care],
    /// A dish whose own caution for these eaters holds one of these words has said it already.
    said_by: &'static [&'static str],
    /// Whether a caution for everybody may have said it, too. Where its words also mean other things ("taste a raw crumb"), not.
    by_all: bool,
    /// What in the plate it is about; nothing where it is not about this plate.
    finds: fn(&Plate) -> Option<String>,
    advice: &'static str,
    source: &'static str,
}

const RULES: &[Rule] = &[
    Rule {
        key: "honey",
        for_whom: &[Care::UnderFive],
        said_by: &["honey"],
        by_all: true,
        finds: |p| p.companion(|c| contents_of(&c.name).is_some_and(|known| known.holds(Substance::Honey))),
        advice: "none for a child under one year",
        source: "UK NHS, foods to avoid giving babies; from memory",
    },
    Rule {
        key: "alcohol",
        for_whom: &[Care::UnderFive, Care::Pregnant],
        said_by: &["alcohol", "wine", "flamb"],
        by_all: true,
        finds: |p| p.companion(|c| contents_of(&c.name).is_some_and(|known| known.holds(Substance::Alcohol))),
        advice: "cooking does not take all of the alcohol away; make this plate without it",
        source: "USDA Table of Nutrient Retention Factors: 5 to 85 % is left; from memory",
    },
    Rule {
        key: "liver",
        for_whom: &[Care::Pregnant],
        said_by: &["liver"],
        by_all: false,
        finds: |p| p.companion(|c| has(&c.name, &["liver", "pâté", "pate", "foie gras", "haggis"])),
        advice: "no liver and no pâté: too much vitamin A for a child not yet born, and listeria in the pâté",
        source: "UK NHS, foods to avoid in pregnancy; from memory",
    },
    Rule {
        key: "big-fish",
        for_whom: &[Care::Pregnant, Care::UnderFive],
        said_by: &["mercury"],
        by_all: false,
        finds: |p| p.companion(|c| has(&c.name, &["swordfish", "shark", "marlin"])),
        advice: "none of these fish: they hold much mercury",
        source: "UK NHS, fish and shellfish; from memory",
    },
    Rule {
        key: "raw-shellfish",
        for_whom: ALL,
        said_by: &["oyster"],
        by_all: false,
        finds: |p| p.unheated(|c| has(&c.name, &["oyster"]) && !has(&c.name, &["sauce", "mushroom", "smoked"])),
        advice: "no raw shellfish; cook them through",
        source: "UK NHS, foods to avoid in pregnancy; from memory",
    },
    Rule {
        key: "sprouts",
        for_whom: ALL,
        said_by: &["sprout"],
        by_all: false,
        finds: |p| p.unheated(|c| has(&c.name, &["bean sprouts", "beansprouts", "alfalfa", "sprouted"])),
        advice: "no raw sprouts; cook them steaming hot or leave them off",
        source: "FDA and UK FSA on sprouted seeds; from memory",
    },
    Rule {
        key: "soft-cheese",
        for_whom: ALL,
        said_by: &["cheese"],
        by_all: false,
        finds: |p| p.unheated(|c| has(&c.name, SOFT_CHEESES)),
        advice: "no mould-ripened or blue soft cheese unless it is cooked steaming hot",
        source: "UK NHS, foods to avoid in pregnancy; from memory",
    },
    Rule {
        key: "cured-fish",
        for_whom: OLD_WEAK_EXPECTING,
        said_by: &["smoked", "raw-cured", "cured fish"],
        by_all: false,
        finds: |p| p.unheated(|c| has(&c.name, CURED_FISH)),
        advice: "no cured or cold-smoked fish unless it is cooked steaming hot",
        source: "UK FSA and Food Standards Scotland on listeria in ready-to-eat smoked fish, 2023; from memory",
    },
    Rule {
        key: "raw-fish",
        for_whom: ALL,
        said_by: &["raw"],
        by_all: false,
        finds: |p| {
            let kind = &p.index.rotation.kind;
            (kind.animal && kind.diet == Diet::Pescatarian && p.piece == Some(None)).then(|| format!("raw {}", kind.name))
        },
        advice: "no raw fish; cook this plate through",
        source: "UK NHS, foods to avoid in pregnancy; from memory",
    },
    Rule {
        key: "raw-meat",
        for_whom: ALL,
        said_by: &["raw", "crisp"],
        by_all: false,
        finds: |p| p.unheated(|c| has(&c.name, CURED_MEATS)),
        advice: "cured meat is raw meat; cook it for this plate or leave it off",
        source: "UK NHS, foods to avoid in pregnancy; from memory",
    },
    Rule {
        key: "cold-meat",
        for_whom: ALL,
        said_by: &["cold"],
        by_all: true,
        finds: |p| {
            let kind = &p.index.rotation.kind;
            let age = p.piece.flatten().filter(|age| kind.animal && !p.hot && *age > 1)?;
            Some(format!("cold {}, {age} days after it was cooked", kind.name))
        },
        advice: "unheated cold cuts no later than the day after; warm this plate through",
        source: "house rule; after advice on listeria of USDA FSIS, from memory",
    },
    Rule {
        key: "soft-egg",
        for_whom: ALL,
        said_by: &["egg"],
        by_all: true,
        finds: |p| {
            let names = std::iter::once(&p.dish.name).chain(&p.dish.forms);
            let soft = |n: &&String| has(n, &["fried egg", "poached egg", "soft egg", "runny", "soft-boiled", "raw egg"]);
            names.into_iter().find(soft).map(|_| "egg that may be soft".into())
        },
        advice: "cook the egg firm, white and yolk, unless it is certified against salmonella",
        source: "UK FSA; USDA FSIS; from memory",
    },
    Rule {
        key: "choking",
        for_whom: &[Care::UnderFive],
        said_by: &["choke", "nuts", "grate", "small", "thin", "shred"],
        by_all: false,
        finds: |p| {
            let fine = |c: &Companion| has(&c.name, &["ground ", "butter", "flour", "oil", "paste", "extract", "milk"]);
            let round = |c: &&Companion| has(&c.name, ROUND) && (!fine(c) || has(&c.name, &["ground nuts"]));
            let raw = |c: &&Companion| !p.dish.cooked && has(&c.name, HARD);
            let beside = p.companions.iter().find(|c| round(c) || raw(c)).or(p.before.iter().map(|b| b.0).find(round));
            let beside = beside.map(|c| c.name.clone());
            beside.or_else(|| p.hard_pieces())
        },
        advice: "whole round or hard raw pieces choke the smallest; quarter, grate or grind them",
        source: "UK NHS, Food Standards Agency on choking in under-fives; from memory",
    },
];

const SOFT_CHEESES: &[&str] = &[
    "brie",
    "camembert",
    "blue cheese",
    "cambozola",
    "chèvre",
    "chevre",
    "danish blue",
    "gorgonzola",
    "roquefort",
    "stilton",
    "goat's cheese",
    "goats cheese",
    "queso fresco",
    "taleggio",
    "vacherin",
];
const CURED_FISH: &[&str] = &[
    "smoked salmon",
    "smoked trout",
    "smoked mackerel",
    "smoked fish",
    "smoked eel",
    "smoked halibut",
    "smoked haddock",
    "gravlax",
    "gravadlax",
    "gravad",
    "lox",
    "cured salmon",
    "cured fish",
];
const CURED_MEATS: &[&str] = &[
    "salami",
    "prosciutto",
    "air-dried ham",
    "air dried ham",
    "cured ham",
    "parma ham",
    "serrano",
    "spanish ham",
    "jamon",
    "jamón",
    "speck",
    "chorizo",
    "nduja",
    "coppa",
    "guanciale",
    "bresaola",
    "pancetta",
    "pepperoni",
];
const ROUND: &[&str] = &[
    "grapes",
    "cherries",
    "cherry tomatoes",
    "blueberries",
    "gooseberries",
    "olives",
    "popcorn",
    "marshmallows",
    "jelly cubes",
    "frankfurters",
    "hot dogs",
    "nuts",
    "groundnuts",
    "almonds",
    "hazelnuts",
    "walnuts",
    "pecans",
    "cashews",
    "pistachios",
    "peanuts",
    "macadamias",
];
const HARD: &[&str] = &["carrots", "apples", "apple", "celery", "radishes", "kohlrabi", "turnips", "fennel"];
/// Families whose raw flesh is hard (practice).
const HARD_FAMILIES: &[&str] = &["hard-root", "orchard-fruit"];

/// Whether one of these words begins in a name where a word of it begins: "nuts" is no part of "chestnuts" or "coconuts".
fn has(name: &str, words: &[&str]) -> bool {
    let lower = if name.chars().any(char::is_uppercase) { Cow::Owned(name.to_lowercase()) } else { Cow::Borrowed(name) };
    let mut in_a_word = false;
    lower.char_indices().any(|(at, c)| {
        let begins = !in_a_word;
        in_a_word = c.is_alphabetic();
        begins && words.iter().any(|w| lower[at..].starts_with(w))
    })
}

impl Plate<'_> {
    fn companion(&self, is_it: impl Fn(&Companion) -> bool) -> Option<String> {
        self.companions.iter().chain(self.before.iter().map(|b| b.0)).find(|c| is_it(c)).map(|c| c.name.clone())
    }

    /// The same of what comes cold to the table and did so before; nothing where the plate is hot.
    fn unheated(&self, is_it: impl Fn(&Companion) -> bool) -> Option<String> {
        let before = self.before.iter().filter(|(_, was_hot)| !was_hot).map(|b| b.0);
        let found = self.companions.iter().chain(before).find(|c| is_it(c)).map(|c| c.name.clone());
        found.filter(|_| !self.hot)
    }

    /// The piece itself, raw, in sticks, cubes or the like, where its flesh is hard.
    fn hard_pieces(&self) -> Option<String> {
        let kind = &self.index.rotation.kind;
        let form = self.dish.cut?;
        let whole = matches!(form, CutForm::Sticks | CutForm::Cubes | CutForm::Wedges | CutForm::Slices | CutForm::Pieces);
        let raw = self.piece == Some(None);
        (raw && whole && HARD_FAMILIES.contains(&kind.family.as_str())).then(|| format!("raw {} of {}", form.word(), kind.name))
    }
}

/// Says what those who must be taken care of had better not eat (a caution each, once a batch and eater), and that there is
/// alcohol in what somebody with a child's plate eats (a note: the plan does not know how old they are).
pub(super) fn of(sight: &Sight) -> Vec<Finding> {
    let Sight { index, clocks: all, .. } = sight;
    let eaters = &index.rotation.household.eaters;
    let child = Units::from_hundredths(A_CHILDS_PLATE).unwrap_or(Units::ADULT);
    if eaters.iter().all(|e| e.care.is_empty() && e.units > child) {
        return Vec::new();
    }
    let mut findings = Vec::new();
    for (made, clocks) in index.batches.iter().zip(all) {
        if let Some(dish) = made.dish.filter(|d| d.role != Role::Component) {
            of_batch(index, made, dish, clocks.as_ref(), child, &mut findings);
        }
    }
    findings
}

/// The same of a rotation that nobody has looked up yet.
#[cfg(test)]
fn care(rotation: &crate::rotation::Rotation) -> Vec<Finding> {
    of(&Sight::of(rotation))
}

fn of_batch(index: &Index, made: &Made, dish: &Dish, clocks: Option<&Clocks>, child: Units, findings: &mut Vec<Finding>) {
    let mut told = Vec::new();
    // What is found in the dish itself is the same at every meal and for everybody; only the age of cold meat is not.
    let mut known: Vec<Option<Option<String>>> = vec![None; RULES.len()];
    let before: Vec<(&Companion, bool)> = made_from(index, made.sources.to_vec())
        .into_iter()
        .filter_map(|s| index.batches[s].dish)
        .flat_map(|d| d.companions.iter().map(|c| (c, is_hot(d))))
        .collect();
    let cautions: Vec<(&[Care], String)> = dish.cautions.iter().map(|c| (c.for_whom.as_slice(), c.text.to_lowercase())).collect();
    for (place, serving) in &made.servings {
        let sitting = &index.sittings[*place];
        for id in serving.meant_for(&sitting.present) {
            let Some(eater) = index.rotation.household.eater(id) else { continue };
            if eater.care.is_empty() && eater.units > child {
                continue;
            }
            let plate = plate((index, dish, &before), clocks, sitting, serving, eater);
            for (rule, known) in RULES.iter().zip(&mut known) {
                let cared = rule.for_whom.iter().find(|c| eater.care.contains(c));
                let may_be_a_child = rule.key == "alcohol" && eater.care.is_empty() && eater.units <= child;
                if (cared.is_none() && !may_be_a_child)
                    || told.contains(&(id, rule.key))
                    || says_it_itself(&cautions, rule, eater)
                {
                    continue;
                }
                let of_the_dish = plate.is_the_dish && rule.key != "cold-meat";
                let what = match of_the_dish {
                    true => known.get_or_insert_with(|| (rule.finds)(&plate)).clone(),
                    false => (rule.finds)(&plate),
                };
                let Some(what) = what else { continue };
                told.push((id, rule.key));
                let meal = index.rotation.slot_name(sitting.slot);
                let care = cared.map_or("if a child", |c| c.word());
                let text =
                    format!("{meal}, {}, for {} ({care}): {what}: {} ({})", dish.name, eater.name, rule.advice, rule.source);
                let about = format!("{}/{}/{}", made.key(), rule.key, id.0);
                let severity = if cared.is_some() { Severity::Caution } else { Severity::Note };
                findings.push(Finding::new(severity, Code::Care, about, text).at(sitting.slot).of(made.batch.id).for_eater(id));
            }
        }
    }
}

/// Whether a caution of the dish for this eater speaks of the matter already: nothing is said twice.
fn says_it_itself(cautions: &[(&[Care], String)], rule: &Rule, eater: &Eater) -> bool {
    cautions.iter().any(|(for_whom, text)| {
        let concerns = for_whom.iter().any(|w| eater.care.contains(w));
        (concerns || for_whom.is_empty() && rule.by_all) && rule.said_by.iter().any(|w| text.contains(w))
    })
}

fn plate<'a>(
    (index, dish, before): (&'a Index<'a>, &'a Dish, &'a [(&'a Companion, bool)]),
    clocks: Option<&Clocks>,
    sitting: &Sitting,
    serving: &Serving,
    eater: &Eater,
) -> Plate<'a> {
    let twin = serving.twin_of(eater.id, dish);
    let (companions, holds_piece) = match twin {
        None => (&dish.companions[..], true),
        Some(twin) => (&twin.companions[..], twin.holds_piece),
    };
    // Cooked food counts from its cooking, whatever cold plate it was made into since.
    let age = |c: &Clocks| c.cooked.then(|| sitting.slot.day.since(c.cooked_on).0);
    let piece = holds_piece.then(|| clocks.and_then(age));
    let before = if holds_piece { before } else { &[] };
    Plate { index, dish, companions, before, hot: is_hot(dish), piece, is_the_dish: twin.is_none() }
}

#[cfg(test)]
mod tests {
    use super::super::test_support::{Plan, component, dish, pack, raw_dish, said, supper};
    use super::*;
    use crate::book::{Caution, Heat, Profile};

    fn with(names: &[&str], dish: Dish) -> Dish {
        Dish { companions: names.iter().map(|n| pack(n, 10.0, 0.0, 100.0, 5, "pot")).collect(), ..dish }
    }

    fn hot(dish: Dish) -> Dish {
        Dish { profile: Profile { heat: Some(Heat::Hot), ..Profile::default() }, ..dish }
    }

    /// What is said of a dish of cabbage on Monday for one eater of this care.
    fn told(care: &[Care], dish: Dish) -> Vec<String> {
        let mut plan = Plan::cabbage(2);
        plan.rotation.household.eaters.truncate(1);
        plan.with_eater(crate::rotation::EaterId(1), |e| e.care = care.to_vec());
        plan.cook(supper(1), dish, "middle", 200);
        let found = super::care(&plan.rotation);
        found.iter().map(|f| f.key.0.split('/').nth(3).unwrap().to_string()).collect()
    }

    #[test]
    fn each_rule_speaks_to_those_it_concerns_and_to_nobody_else() {
        for (names, dish, care, key) in [
            (&["honey"][..], dish("cake"), Care::UnderFive, "honey"),
            (&["red wine"], hot(dish("braise")), Care::Pregnant, "alcohol"),
            (&["bean sprouts"], raw_dish("salad"), Care::Unwell, "sprouts"),
            (&["blue cheese"], raw_dish("salad"), Care::Elderly, "soft-cheese"),
            (&["smoked salmon"], raw_dish("salad"), Care::Pregnant, "cured-fish"),
            (&["salami"], raw_dish("salad"), Care::Pregnant, "raw-meat"),
            (&["grapes"], hot(dish("bake")), Care::UnderFive, "choking"),
            (&["hazelnuts"], dish("bake"), Care::UnderFive, "choking"),
            (&["carrots"], raw_dish("slaw"), Care::UnderFive, "choking"),
            (&["groundnuts"], dish("sauce"), Care::UnderFive, "choking"),
            (&["marshmallows"], dish("sauce"), Care::UnderFive, "choking"),
            (&["chicken livers"], hot(dish("pan")), Care::Pregnant, "liver"),
            (&["mushroom pâté"], dish("toast"), Care::Pregnant, "liver"),
            (&["swordfish"], hot(dish("pan")), Care::UnderFive, "big-fish"),
            (&["oysters"], raw_dish("plate"), Care::Elderly, "raw-shellfish"),
            (&["beansprouts"], raw_dish("salad"), Care::Pregnant, "sprouts"),
            (&["cured ham"], raw_dish("plate"), Care::Pregnant, "raw-meat"),
            (&["lox"], raw_dish("plate"), Care::Unwell, "cured-fish"),
            (&["chèvre"], raw_dish("salad"), Care::Pregnant, "soft-cheese"),
        ] {
            assert_eq!(told(&[care], with(names, dish.clone())), [key], "{names:?}");
            assert_eq!(told(&[], with(names, dish.clone())), [""; 0], "{names:?} for a grown eater");
        }
    }

    #[test]
    fn what_is_made_safe_is_not_spoken_of() {
        for (names, dish) in [
            (&["blue cheese"][..], hot(dish("gratin"))),
            (&["smoked salmon"], hot(dish("pie"))),
            (&["bean sprouts"], hot(dish("stir-fry"))),
            (&["ground almonds"], dish("cake")),
            (&["peanut butter"], dish("sauce")),
            (&["chestnuts"], dish("stuffing")),
            (&["coconut milk"], dish("curry")),
            (&["carrots"], dish("stew")),
            (&["brussels sprouts"], raw_dish("slaw")),
            (&["oyster sauce"], dish("sauce")),
            (&["ground almonds", "almond extract"], dish("cake")),
        ] {
            assert_eq!(told(Care::ALL, with(names, dish)), [""; 0], "{names:?}");
        }
    }

    #[test]
    fn a_dish_that_says_it_itself_is_not_spoken_over() {
        let caution = Caution {
            for_whom: vec![Care::UnderFive],
            text: "Grind the nuts: whole nuts choke.".into(),
            source: "practice".into(),
        };
        let bake = Dish { cautions: vec![caution], ..with(&["hazelnuts"], dish("bake")) };
        assert_eq!(told(&[Care::UnderFive], bake), [""; 0]);
    }

    #[test]
    fn what_went_into_it_before_is_on_the_plate_too() {
        let pregnant = |first: Dish, then: Dish| {
            let mut plan = Plan::cabbage(3);
            plan.rotation.household.eaters.truncate(1);
            plan.with_eater(crate::rotation::EaterId(1), |e| e.care = vec![Care::Pregnant, Care::UnderFive]);
            let first = plan.batch(1, first, &[("middle", 400)]);
            let second = plan.batch_from(1, component("base"), first, 200);
            let third = plan.batch_from(2, then, second, 100);
            plan.serve(supper(2), third, 100);
            let found = super::care(&plan.rotation);
            found.iter().map(|f| f.key.0.split('/').nth(3).unwrap().to_string()).collect::<Vec<_>>()
        };
        assert_eq!(pregnant(with(&["red wine"], component("braise")), hot(dish("pie"))), ["alcohol"]);
        assert_eq!(pregnant(with(&["hazelnuts"], component("braise")), hot(dish("pie"))), ["choking"]);
        assert_eq!(pregnant(with(&["blue cheese"], component("dip")), raw_dish("plate")), ["soft-cheese"]);
        // What was cooked through with it is safe when it is cold again; raw carrots are no longer raw.
        assert_eq!(pregnant(with(&["blue cheese", "carrots"], hot(component("bake"))), raw_dish("plate")), [""; 0]);
    }

    #[test]
    fn a_word_for_everybody_about_something_else_hides_nothing() {
        let crumb = Caution { for_whom: vec![], text: "Taste a raw crumb of it first.".into(), source: "practice".into() };
        let plate = Dish { cautions: vec![crumb], ..with(&["salami"], raw_dish("plate")) };
        assert_eq!(told(&[Care::Pregnant], plate), ["raw-meat"]);
        let apart = Caution { for_whom: vec![Care::UnderFive], text: "Cut it small.".into(), source: "practice".into() };
        let plate = Dish { cautions: vec![apart], ..with(&["salami"], raw_dish("plate")) };
        assert_eq!(told(&[Care::Pregnant], plate), ["raw-meat"], "said to the youngest alone");
    }

    #[test]
    fn cold_meat_is_for_the_day_after_and_no_later() {
        let week = |day: i16, warm: bool| {
            let mut plan = Plan::turkey(4);
            let plate = if warm { hot(dish("hash")) } else { dish("cold-plate") };
            plan.cook(supper(day), plate, "breast", 200);
            said(&super::care(&plan.rotation))
        };
        assert_eq!(week(2, false), [""; 0]);
        let want = "Caution care: Tuesday supper, Cold plate, for Grandmother (elderly): cold turkey, 2 days after it was cooked: \
                    unheated cold cuts no later than the day after; warm this plate through (house rule; after advice on \
                    listeria of USDA FSIS, from memory)";
        assert_eq!(week(3, false), [want]);
        assert_eq!(week(3, true), [""; 0]);
    }

    #[test]
    fn raw_fish_and_hard_raw_sticks_of_the_piece_itself_are_minded() {
        let mut kind = super::super::test_support::kind("salmon", &[("loin", 2)]);
        (kind.animal, kind.diet) = (true, Diet::Pescatarian);
        let mut plan = Plan::around(kind, &[480], 3);
        let dag = plan.eater("Dag", 100);
        plan.with_eater(dag, |e| e.care = vec![Care::Pregnant]);
        plan.cook(supper(1), raw_dish("tartare"), "loin", 100);
        let poached = plan.batch(1, component("poached"), &[("loin", 200)]);
        let flakes = plan.batch_from(2, raw_dish("flakes"), poached, 100);
        plan.serve(supper(2), flakes, 100);
        let told = super::care(&plan.rotation);
        assert_eq!(told.iter().map(|f| f.key.0.as_str()).collect::<Vec<_>>(), ["care/tartare/1/raw-fish/1"]);

        let mut kind = super::super::test_support::kind("swede", &[("centre", 4)]);
        kind.family = "hard-root".into();
        let mut plan = Plan::around(kind, &[480], 3);
        let kid = plan.eater("Kid", 40);
        plan.with_eater(kid, |e| e.care = vec![Care::UnderFive]);
        plan.cook(supper(1), Dish { cut: Some(CutForm::Sticks), ..raw_dish("sticks") }, "centre", 100);
        plan.cook(supper(2), Dish { cut: Some(CutForm::Grated), ..raw_dish("grated") }, "centre", 100);
        plan.cook(supper(3), Dish { cut: Some(CutForm::Cubes), ..dish("cubes") }, "centre", 100);
        let told = super::care(&plan.rotation);
        assert_eq!(told.iter().map(|f| f.key.0.as_str()).collect::<Vec<_>>(), ["care/sticks/1/choking/1"]);
    }

    #[test]
    fn alcohol_for_a_childs_plate_is_a_note() {
        let mut plan = Plan::cabbage(2);
        plan.cook(supper(1), with(&["red wine"], hot(dish("braise"))), "middle", 200);
        let told = super::care(&plan.rotation);
        assert_eq!(
            told.iter().map(|f| (f.severity, f.eater)).collect::<Vec<_>>(),
            [(Severity::Note, Some(crate::rotation::EaterId(3)))]
        );
    }
}
