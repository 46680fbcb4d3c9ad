//! Words of caution that every cook should hear once, at the line where they matter, whoever wrote the dish: said where the dish
//! does not say it itself, once a batch, or once a plan where they are about buying and not about cooking.

use super::{
    Code, Finding, Severity,
    clock::{Clocks, is_hot},
    index::{Index, Made},
    sight::Sight,
};
use crate::{
    book::{Diet, Dish, Role},
    rotation::Slot,
};

/// Garlic and herbs under oil keep so many days in the fridge.
const UNDER_OIL_DAYS: i16 = 4;

/// A batch as the words look at it.
struct Cooking<'a> {
    index: &'a Index<'a>,
    made: &'a Made<'a>,
    dish: &'a Dish,
    clocks: &'a Clocks,
    /// The names of its company, in small letters.
    names: Vec<String>,
}

/// What a word is about, and the meal at which it is said where that is not the first.
type About = (String, Option<Slot>);

/// One thing to say.
struct Word {
    /// Its part of the name of a finding.
    key: &'static str,
    /// A caution of the dish, or a hazard of the piece, that holds one of these words has said it already.
    said_by: &'static [&'static str],
    /// Whether it is said once in the whole plan.
    once: bool,
    /// What it is about, and the meal at which it is said where that is not the first.
    finds: fn(&Cooking) -> Option<About>,
    text: &'static str,
    source: &'static str,
}

const WORDS: &[Word] = &[
    Word {
        key: "rice",
        said_by: &["rice"],
        once: false,
        finds: |c| (c.dish.cooked && c.dish.holds_rice()).then(|| ("rice".into(), None)),
        text: "in the fridge within an hour of leaving the heat, eaten by the next day, reheated once and steaming right through",
        source: "UK Food Standards Agency, leftovers: rice",
    },
    Word {
        key: "beans",
        said_by: &["boil"],
        once: true,
        finds: |c| {
            let raw = |name: &str, pack: Option<&str>| {
                let bean = name.contains("kidney bean") || name.contains("dried") && name.contains("bean");
                bean && !name.contains("tinned") && !matches!(pack, Some("tin" | "can" | "jar" | "carton"))
            };
            let found = c.dish.companions.iter().find(|b| raw(&b.name.to_lowercase(), b.pack_word.as_deref()))?;
            Some((found.name.clone(), None))
        },
        text: "dried ones are soaked, then boiled hard for ten minutes before they simmer; a slow pot alone leaves them poisonous",
        source: "US FDA, Bad Bug Book: phytohaemagglutinin; from memory",
    },
    Word {
        key: "potato",
        said_by: &["green"],
        once: true,
        finds: |c| c.company(&["potato"], &["sweet", "starch", "flour"]),
        text: "green or bitter potatoes go out; sprouts are cut away deep",
        source: "UK Food Standards Agency; from memory",
    },
    Word {
        key: "rhubarb",
        said_by: &["leaf", "leaves"],
        once: true,
        finds: |c| c.company(&["rhubarb"], &[]),
        text: "the stalks alone: the leaves are poisonous",
        source: "practice",
    },
    Word {
        key: "bitter",
        said_by: &["bitter"],
        once: true,
        finds: |c| c.company(&["courgette", "cucumber", "squash", "pumpkin", "melon"], &["seed"]),
        text: "taste a raw crumb first: bitter means out with it, and cooking does not help",
        source: "practice; BfR on cucurbitacins, from memory",
    },
    Word {
        key: "knife",
        said_by: &["flat face"],
        once: true,
        finds: |c| c.company(&["swede", "butternut squash", "pumpkin", "celeriac"], &["seed"]),
        text: "cut a flat face first, damp cloth under the board; four to six minutes in a hot oven soften a rind; never twist a stuck blade",
        source: "practice",
    },
    Word {
        key: "under-oil",
        said_by: &["oil"],
        once: false,
        finds: |c| {
            let name = c.dish.name.to_lowercase();
            let under_oil = [" in oil", "under oil", "confit", "pesto", "garlic oil"].iter().any(|w| name.contains(w));
            let garlic = c.company(&["garlic", "basil", "herbs", "rosemary", "thyme", "chilli"], &[]);
            garlic.filter(|_| under_oil && !c.made.is_bank())
        },
        text: "garlic and herbs under oil stay in the fridge, four days at the most: without air and acid they can grow botulism",
        source: "US CDC and USDA extension on garlic in oil; from memory",
    },
    Word {
        key: "raw-fish",
        said_by: &["farmed", "frozen"],
        once: false,
        finds: |c| {
            let kind = &c.index.rotation.kind;
            let raw = kind.animal && kind.diet == Diet::Pescatarian && !c.clocks.cooked;
            raw.then(|| (format!("raw {}", kind.name), None))
        },
        text: "farmed fish or fish that was frozen before; it comes last on the board, and board, knife and hands are washed after it",
        source: "FDA Food Code 3-402.11; from memory",
    },
    Word {
        key: "reheat",
        said_by: &["reheat", "warmed", "warm it"],
        once: false,
        finds: |c| {
            let later = |place: &usize| Some(c.index.sittings[*place].slot).filter(|s| s.day > c.made.batch.day);
            let slot = c.made.servings.iter().find_map(|(place, _)| later(place))?;
            let warm = is_hot(c.dish) && c.clocks.cooked && !c.made.is_bank();
            warm.then(|| ("warmed up".into(), Some(slot)))
        },
        text: "once only, 75\u{a0}°C in the middle and steaming right through; a spoon of liquid to what is dry, broth at a full boil",
        source: "UK Food Standards Agency: 75\u{a0}°C for 30 s; common practice",
    },
];

impl Cooking<'_> {
    /// The first companion whose name holds one of these words and none of those.
    fn company(&self, words: &[&str], but: &[&str]) -> Option<About> {
        let is_it = |name: &&String| words.iter().any(|w| name.contains(w)) && !but.iter().any(|w| name.contains(w));
        self.names.iter().find(is_it).map(|name| (name.clone(), None))
    }
}

/// Says each word where it matters: a note; a caution for what is kept under oil for longer than it may be.
pub(super) fn of(sight: &Sight) -> Vec<Finding> {
    let Sight { index, clocks: all, .. } = sight;
    let rotation = index.rotation;
    let mut order: Vec<usize> = (0..index.batches.len()).collect();
    order.sort_by_key(|&i| {
        let made = &index.batches[i];
        (made.batch.day, made.servings.first().map_or(usize::MAX, |s| s.0), made.batch.id)
    });
    let hazards = rotation.kind.hazards.join(" ").to_lowercase();
    let mut once: Vec<&str> = Vec::new();
    let mut findings = Vec::new();
    for place in order {
        let made = &index.batches[place];
        let (Some(dish), Some(clocks)) = (made.dish, &all[place]) else { continue };
        let names = dish.companions.iter().map(|c| c.name.to_lowercase()).collect();
        let cooking = Cooking { index, made, dish, clocks, names };
        let own: String = dish.cautions.iter().map(|c| c.text.to_lowercase() + " ").collect();
        for word in WORDS {
            let said = |text: &str| word.said_by.iter().any(|w| text.contains(w));
            // What is said of the piece is said of it alone; the words about buying need not be said twice.
            if said(&own) || (word.once && (once.contains(&word.key) || said(&hazards))) {
                continue;
            }
            let Some((what, slot)) = (word.finds)(&cooking) else { continue };
            if word.once {
                once.push(word.key);
            }
            let slot = slot.or_else(|| index.first_meal(made));
            let place = slot.map_or_else(|| index.where_made(made), |s| rotation.slot_name(s));
            let text = format!("{place}, {}: {what}: {} ({})", dish.name, word.text, word.source);
            let too_long = word.key == "under-oil" && dish.keeps.0 > UNDER_OIL_DAYS && dish.role != Role::Bank;
            let severity = if too_long { Severity::Caution } else { Severity::Note };
            let about = if word.once { word.key.to_string() } else { format!("{}/{}", made.key(), word.key) };
            let finding = Finding::new(severity, Code::Advice, about, text).of(made.batch.id);
            findings.push(match slot {
                Some(slot) => finding.at(slot),
                None => finding,
            });
        }
    }
    findings
}

/// The same of a rotation that nobody has looked up yet.
#[cfg(test)]
fn kitchen_words(rotation: &crate::rotation::Rotation) -> Vec<Finding> {
    of(&Sight::of(rotation))
}

#[cfg(test)]
mod tests {
    use super::super::test_support::{Plan, dish, pack, raw_dish, supper};
    use super::*;
    use crate::{
        book::{Caution, Heat, Profile},
        quantity::Days,
    };

    fn with(names: &[&str], dish: Dish) -> Dish {
        Dish { companions: names.iter().map(|n| pack(n, 10.0, 0.0, 100.0, 5, "bag")).collect(), ..dish }
    }

    fn said(plan: &Plan) -> Vec<(Severity, String)> {
        kitchen_words(&plan.rotation).into_iter().map(|f| (f.severity, f.key.0)).collect()
    }

    #[test]
    fn each_word_is_said_where_it_matters_and_nowhere_else() {
        for (name, dish, key) in [
            ("rice", dish("pilaf"), "advice/pilaf/1/rice"),
            ("dried kidney beans", dish("chilli"), "advice/beans"),
            ("potatoes", dish("hash"), "advice/potato"),
            ("rhubarb", dish("crumble"), "advice/rhubarb"),
            ("courgettes", dish("gratin"), "advice/bitter"),
            ("swede", dish("mash"), "advice/knife"),
        ] {
            let mut plan = Plan::cabbage(3);
            plan.cook(supper(1), with(&[name], dish), "middle", 200);
            assert_eq!(said(&plan), [(Severity::Note, key.to_string())], "{name}");
        }
        for name in ["rice vinegar", "rice noodles", "sweet potato", "potato starch", "pumpkin seed", "butter beans", "carrots"] {
            let mut plan = Plan::cabbage(3);
            plan.cook(supper(1), with(&[name], dish("stew")), "middle", 200);
            assert_eq!(said(&plan), [], "{name}");
        }
        let mut tin = with(&["kidney beans"], dish("chilli"));
        tin.companions[0].pack_word = Some("tin".into());
        let mut plan = Plan::cabbage(3);
        plan.cook(supper(1), tin, "middle", 200);
        assert_eq!(said(&plan), [], "tinned beans are boiled");
    }

    #[test]
    fn nothing_is_said_twice() {
        let mut plan = Plan::cabbage(3);
        plan.cook(supper(1), with(&["potatoes", "rice"], dish("a")), "middle", 200);
        plan.cook(supper(2), with(&["potatoes", "rice"], dish("b")), "middle", 200);
        let keys: Vec<String> = said(&plan).into_iter().map(|s| s.1).collect();
        assert_eq!(keys, ["advice/a/1/rice", "advice/potato", "advice/b/2/rice"]);
        let own = Caution { for_whom: vec![], text: "Rice in it: cold within an hour.".into(), source: "practice".into() };
        let mut plan = Plan::cabbage(3);
        plan.cook(supper(1), Dish { cautions: vec![own], ..with(&["rice"], dish("a")) }, "middle", 200);
        assert_eq!(said(&plan), []);
    }

    #[test]
    fn what_is_warmed_up_is_told_of_at_the_meal_that_warms_it() {
        let mut plan = Plan::cabbage(4);
        let hot = Dish { profile: Profile { heat: Some(Heat::Hot), ..Profile::default() }, ..dish("stew") };
        let stew = plan.batch(1, hot, &[("middle", 600)]);
        for day in 1..=3 {
            plan.serve(supper(day), stew, 200);
        }
        let found = kitchen_words(&plan.rotation);
        assert_eq!(
            found.iter().map(|f| (f.key.0.as_str(), f.meal)).collect::<Vec<_>>(),
            [("advice/stew/1/reheat", Some(supper(2)))]
        );
        assert!(found[0].text.contains("once only, 75\u{a0}°C"), "{}", found[0].text);
    }

    #[test]
    fn raw_fish_and_garlic_under_oil_are_told_of() {
        let mut kind = super::super::test_support::kind("salmon", &[("loin", 2)]);
        (kind.animal, kind.diet) = (true, Diet::Pescatarian);
        let mut plan = Plan::around(kind, &[480], 3);
        plan.eater("Dag", 100);
        plan.cook(supper(1), raw_dish("tartare"), "loin", 100);
        plan.cook(supper(2), dish("seared"), "loin", 100);
        assert_eq!(said(&plan), [(Severity::Note, "advice/tartare/1/raw-fish".to_string())]);
        let mut plan = Plan::cabbage(3);
        let confit = Dish { name: "Cabbage confit".into(), keeps: Days(7), ..with(&["garlic"], dish("confit")) };
        plan.cook(supper(1), confit.clone(), "middle", 200);
        assert_eq!(said(&plan), [(Severity::Caution, "advice/confit/1/under-oil".to_string())]);
        let mut plan = Plan::cabbage(3);
        plan.cook(supper(1), Dish { keeps: Days(4), ..confit }, "middle", 200);
        assert_eq!(said(&plan)[0].0, Severity::Note);
    }
}
