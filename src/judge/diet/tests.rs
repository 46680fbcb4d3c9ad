//! Who may not, cannot or will not eat what is planned.

use super::*;
use crate::book::{Care, Caution, Twin};
use crate::judge::test_support::{Plan, bank, component, dish, said, supper};

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

/// Celeriac is celery.
fn celeriac() -> Plan {
    let mut kind = crate::judge::test_support::kind("celeriac", &[("centre", 4)]);
    kind.allergens = vec![Allergen::Celery];
    Plan::around(kind, &[600], 4)
}

#[test]
fn an_allergen_stops_whether_the_dish_the_piece_or_a_component_carries_it() {
    let mut plan = celeriac();
    let tor = plan.allergic("Tor", Allergen::Celery);
    plan.with_eater(tor, |e| e.allergies.push(Allergen::Milk));
    plan.cook(supper(1), dish("mash"), "centre", 100);
    let sauce = plan.batch(1, Dish { allergens: vec![Allergen::Milk], ..component("sauce") }, &[("centre", 100)]);
    let bake = plan.batch_from(2, dish("bake"), sauce, 100);
    plan.serve(supper(2), bake, 100);
    let want =
        ["Stop allergy: Monday supper, Mash: celery for Tor", "Stop allergy: Tuesday supper, Bake: milk and celery for Tor"];
    assert_eq!(said(&diet(&plan.rotation)), want);
    plan.present(supper(1), &[]);
    plan.present(supper(2), &[]);
    assert_eq!(said(&diet(&plan.rotation)), [""; 0], "an eater who is away eats nothing");
}

#[test]
fn somebody_elses_twin_is_kept_from_the_plate_of_one_who_must_not_have_what_is_in_it() {
    let mut plan = Plan::cabbage(3);
    let ada = plan.eater("Ada", 100);
    let tor = plan.allergic("Tor", Allergen::Nuts);
    let nuts = Twin { allergens: vec![Allergen::Nuts], ..twin("nut crumble", false) };
    let bake = plan.cook(supper(1), Dish { twins: vec![nuts], ..dish("bake") }, "middle", 200);
    assert_eq!(said(&diet(&plan.rotation)), [""; 0]);
    plan.twin(supper(1), bake, ada, "nut crumble");
    let want = "Caution allergy: Monday supper, nut crumble: it is for Ada and holds nuts; for Tor's plate use a board, a pan and a spoon \
                of its own";
    assert_eq!(said(&diet(&plan.rotation)), [want]);
    plan.twin(supper(1), bake, tor, "nut crumble");
    let all = said(&diet(&plan.rotation));
    assert_eq!(all, ["Stop allergy: Monday supper, nut crumble beside Bake: nuts for Tor"]);
}

#[test]
fn a_plain_half_of_the_same_dish_clears_nothing_and_a_twin_made_apart_needs_its_own_board() {
    for (name, holds, allergens, want) in [
        (
            "potato bake",
            false,
            vec![],
            "Caution allergy: Monday supper, potato bake for Tor: Bake holds celery; use a board, a pan and a spoon of its own",
        ),
        ("plain half", true, vec![], "Stop allergy: Monday supper, plain half beside Bake: celery for Tor"),
        ("celery salad", false, vec![Allergen::Celery], "Stop allergy: Monday supper, celery salad beside Bake: celery for Tor"),
    ] {
        let mut plan = celeriac();
        let tor = plan.allergic("Tor", Allergen::Celery);
        let bake =
            plan.cook(supper(1), Dish { twins: vec![Twin { allergens, ..twin(name, holds) }], ..dish("bake") }, "centre", 200);
        plan.twin(supper(1), bake, tor, name);
        assert_eq!(said(&diet(&plan.rotation)), [want]);
    }
    // The dish's own milk, and a half without it out of the same oven dish.
    let mut plan = Plan::cabbage(2);
    let nils = plan.allergic("Nils", Allergen::Milk);
    let half = Dish { allergens: vec![Allergen::Milk], twins: vec![twin("plain half", true)], ..dish("bake") };
    let bake = plan.cook(supper(1), half, "middle", 200);
    plan.twin(supper(1), bake, nils, "plain half");
    let want = ["Stop allergy: Monday supper, plain half for Nils is out of the same pot as Bake, with milk"];
    assert_eq!(said(&diet(&plan.rotation)), want);
}

#[test]
fn what_is_for_others_alone_must_not_reach_the_plate_of_one_who_is_allergic() {
    let mut plan = celeriac();
    let rut = plan.eater("Rut", 100);
    let tor = plan.allergic("Tor", Allergen::Celery);
    let profile = |method| crate::book::Profile { method: vec![crate::book::Graded(method, 1.0)], ..Default::default() };
    plan.cook(supper(1), Dish { profile: profile(Method::Fry), ..dish("cakes") }, "centre", 100);
    plan.meal_mut(supper(1)).servings[0].eaters = vec![rut];
    let told = said(&diet(&plan.rotation));
    let want = "Caution allergy: Monday supper, Cakes: it is for others and holds celery; for Tor's plate use a board, a pan with \
                fresh oil and a spoon of its own, and no garnish from it";
    assert!(told.contains(&want.to_string()), "{told:?}");
    plan.present(supper(1), &[rut]);
    assert_eq!(said(&diet(&plan.rotation)), [""; 0]);
    let _ = tor;
}

#[test]
fn what_somebody_never_eats_stops_wherever_it_hides() {
    let mut plan = Plan::cabbage(4);
    plan.rotation.household.eaters.truncate(1);
    let sam = plan.eater("Sam", 100);
    plan.with_eater(sam, |e| e.dislikes = vec!["Never pork".into(), "no alcohol".into(), "raw onion".into()]);
    plan.cook(supper(1), with_company("braise", &["red wine"]), "middle", 200);
    let stock = plan.batch(1, with_company("stock", &["bacon"]), &[("outer", 100)]);
    let soup = plan.batch_from(2, dish("soup"), stock, 80);
    plan.serve(supper(2), soup, 80);
    plan.cook(supper(3), with_company("bake", &["house paste"]), "middle", 200);
    let apart = Dish { twins: vec![twin("plain cakes", false)], ..with_company("cakes", &["pork mince"]) };
    let batch = plan.cook(supper(4), apart, "middle", 200);
    plan.twin(supper(4), batch, sam, "plain cakes");
    let told = said(&diet(&plan.rotation));
    assert_eq!(
        &told[..2],
        ["Stop barred: Monday supper, Braise: Sam never eats alcohol", "Stop barred: Tuesday supper, Soup: Sam never eats pork",]
    );
    assert!(
        told[2].starts_with("Warning barred: Wednesday supper, Bake: nobody knows whether it holds pork and alcohol"),
        "{told:?}"
    );
    assert_eq!(told.len(), 3, "{told:?}");
}

#[test]
fn nobody_else_is_told_of_an_allergy() {
    let mut plan = celeriac();
    plan.eater("Rut", 100);
    plan.allergic("Jon", Allergen::Sesame);
    plan.cook(supper(1), dish("mash"), "centre", 100);
    assert_eq!(said(&diet(&plan.rotation)), [""; 0]);
}

#[test]
fn somebody_who_may_eat_of_nothing_stops_the_meal() {
    let salmon = || {
        let mut kind = crate::judge::test_support::kind("salmon", &[("loin", 1)]);
        kind.diet = Diet::Pescatarian;
        let mut plan = Plan::around(kind, &[480], 3);
        plan.eater("Dag", 100);
        let gro = plan.eater("Gro", 100);
        plan.with_eater(gro, |e| e.diet = Diet::Vegetarian);
        (plan, gro)
    };
    let none = "Stop diet: Gro has no dish at Monday supper: vegetarian";
    let (mut plan, gro) = salmon();
    let seared =
        plan.cook(supper(1), Dish { twins: vec![twin("halloumi", false), twin("salmon", true)], ..dish("seared") }, "loin", 300);
    assert_eq!(said(&diet(&plan.rotation)), [none]);
    plan.twin(supper(1), seared, gro, "salmon");
    assert_eq!(said(&diet(&plan.rotation)), [none], "a twin that holds the fish is fish");
    plan.meal_mut(supper(1)).servings[0].twins.clear();
    plan.twin(supper(1), seared, gro, "halloumi");
    assert_eq!(said(&diet(&plan.rotation)), [""; 0]);
    plan.meal_mut(supper(1)).servings[0].twins.clear();
    let dag = plan.rotation.household.eaters[0].id;
    plan.meal_mut(supper(1)).servings[0].eaters = vec![dag];
    assert_eq!(said(&diet(&plan.rotation)), ["Caution diet: Monday supper: nothing is meant for Gro, who sits down"]);
}

#[test]
fn a_spoonful_from_a_bank_is_no_dish_and_one_dish_of_two_is_enough() {
    let mut plan = Plan::cabbage(3);
    let gro = plan.eater("Gro", 100);
    plan.with_eater(gro, |e| e.diet = Diet::Vegetarian);
    plan.cook(supper(1), Dish { diet: Diet::Everything, ..dish("rolls") }, "outer", 300);
    plan.cook(supper(1), bank("pickle"), "heart", 40);
    assert_eq!(said(&diet(&plan.rotation)), ["Stop diet: Gro has no dish at Monday supper: vegetarian"]);
    plan.cook(supper(1), dish("wedges"), "middle", 300);
    assert_eq!(said(&diet(&plan.rotation)), [""; 0]);
}

#[test]
fn meat_in_a_component_is_meat_in_the_dish() {
    let mut plan = Plan::cabbage(3);
    let gro = plan.eater("Gro", 100);
    plan.with_eater(gro, |e| e.diet = Diet::Vegan);
    let stock = plan.batch(1, Dish { diet: Diet::Everything, ..component("stock") }, &[("outer", 300)]);
    let soup = plan.batch_from(2, dish("soup"), stock, 200);
    plan.serve(supper(2), soup, 200);
    assert_eq!(said(&diet(&plan.rotation)), ["Stop diet: Gro has no dish at Tuesday supper: vegan"]);
}

#[test]
fn a_dislike_is_told_once_a_batch_and_cured_by_form() {
    let salad = Dish { forms: vec!["raw tomato".into()], twins: vec![twin("softened on toast", true)], ..dish("salad") };
    let mut plan = Plan::cabbage(3);
    let pia = plan.eater("Pia", 60);
    plan.with_eater(pia, |e| e.dislikes = vec![" Raw Tomato".into()]);
    let batch = plan.batch(1, salad, &[("middle", 400)]);
    plan.serve(supper(1), batch, 200);
    plan.serve(supper(2), batch, 200);
    assert_eq!(said(&diet(&plan.rotation)), ["Caution dislike: Monday supper, Salad: Pia dislikes raw tomato"]);
    plan.twin(supper(1), batch, pia, "softened on toast");
    assert_eq!(said(&diet(&plan.rotation)), ["Caution dislike: Tuesday supper, Salad: Pia dislikes raw tomato"]);
    plan.twin(supper(2), batch, pia, "softened on toast");
    assert_eq!(said(&diet(&plan.rotation)), [""; 0]);
}

#[test]
fn cautions_are_said_once_and_to_whom_they_concern() {
    let caution = |for_whom: Vec<Care>, text: &str| Caution { for_whom, text: text.into(), source: "practice".into() };
    let hash = Dish {
        cautions: vec![caution(vec![], "The fat spits."), caution(vec![Care::Elderly, Care::Pregnant], "Fry the egg hard.")],
        twins: vec![twin("hash, egg hard", true)],
        ..dish("hash")
    };
    let mut plan = Plan::turkey(4);
    let batch = plan.batch(2, hash, &[("thigh", 400)]);
    plan.serve(supper(2), batch, 200);
    plan.serve(supper(3), batch, 200);
    let note = "Note dish-caution: Monday supper, Hash: The fat spits.";
    assert_eq!(
        said(&diet(&plan.rotation)),
        [note, "Caution dish-caution: Monday supper, Hash, for Grandmother: Fry the egg hard."]
    );
    let granny = plan.rotation.household.eaters[1].id;
    plan.twin(supper(2), batch, granny, "hash, egg hard");
    plan.twin(supper(3), batch, granny, "hash, egg hard");
    assert_eq!(said(&diet(&plan.rotation)), [note]);
}

fn with_company(id: &str, names: &[&str]) -> Dish {
    let companions = names.iter().map(|n| crate::judge::test_support::pack(n, 10.0, 0.0, 100.0, 5, "pot")).collect();
    Dish { companions, ..dish(id) }
}

#[test]
fn meat_is_meat_whatever_the_dish_says_of_itself() {
    let mut plan = Plan::cabbage(3);
    let gro = plan.eater("Gro", 100);
    plan.with_eater(gro, |e| e.diet = Diet::Vegetarian);
    let claims = Dish { diet: Diet::Vegan, ..with_company("soup", &["onion", "bacon"]) };
    plan.cook(supper(1), claims, "middle", 200);
    assert_eq!(said(&diet(&plan.rotation)), ["Stop diet: Gro has no dish at Monday supper: vegetarian"]);
}

#[test]
fn a_companion_that_nobody_knows_is_said_to_those_who_must_know_and_to_nobody_else() {
    let mut plan = Plan::cabbage(3);
    let gro = plan.eater("Gro", 100);
    let soup = plan.batch(1, with_company("soup", &["gran's paste"]), &[("middle", 300)]);
    let bake = plan.batch_from(2, dish("bake"), soup, 200);
    plan.serve(supper(2), bake, 200);
    assert_eq!(said(&diet(&plan.rotation)), [""; 0], "who eats everything eats it");
    plan.with_eater(gro, |e| e.diet = Diet::Vegetarian);
    let said_of = |plan: &Plan| said(&diet(&plan.rotation));
    let warned = said_of(&plan);
    let want = "Warning diet: Tuesday supper, Bake: nobody knows whether Gro may eat it (vegetarian); the book does not know \
                what gran's paste is";
    assert!(warned.len() == 1 && warned[0].starts_with(want), "{warned:?}");
    plan.with_eater(gro, |e| (e.diet, e.allergies) = (Diet::Everything, vec![Allergen::Milk]));
    let cautioned = said_of(&plan);
    let want = "Caution allergy: Tuesday supper, Bake: nobody knows whether Gro can eat it, who must have no milk; the book";
    assert!(cautioned.len() == 1 && cautioned[0].starts_with(want), "{cautioned:?}");
    // Another dish that is known is enough for the diet.
    plan.with_eater(gro, |e| (e.diet, e.allergies) = (Diet::Vegetarian, vec![]));
    plan.cook(supper(2), with_company("wedges", &["onion"]), "heart", 100);
    assert_eq!(said_of(&plan), [""; 0]);
}

#[test]
fn who_leaves_out_pork_or_alcohol_is_told_of_it_in_company_and_piece() {
    let mut plan = Plan::cabbage(3);
    let sam = plan.eater("Sam", 100);
    plan.with_eater(sam, |e| e.dislikes = vec!["Pork".into(), "alcohol".into()]);
    plan.cook(supper(1), with_company("braise", &["red wine", "bacon"]), "middle", 200);
    plan.cook(supper(2), with_company("wedges", &["beef mince"]), "heart", 100);
    assert_eq!(said(&diet(&plan.rotation)), ["Caution dislike: Monday supper, Braise: Sam dislikes pork and alcohol"]);
    let mut kind = crate::judge::test_support::kind("ham", &[("slices", 4)]);
    kind.name = "boiled ham".into();
    let mut plan = Plan::around(kind, &[600], 4);
    let sam = plan.eater("Sam", 100);
    plan.with_eater(sam, |e| e.dislikes = vec!["pork".into()]);
    plan.cook(supper(1), dish("plate"), "slices", 200);
    assert_eq!(said(&diet(&plan.rotation)), ["Caution dislike: Monday supper, Plate: Sam dislikes pork"]);
}

#[test]
fn the_piece_is_warned_of_where_it_is_first_cut() {
    let mut kind = crate::judge::test_support::kind("swede", &[("centre", 4)]);
    kind.hazards = vec!["Damp cloth under the board.".into()];
    let mut plan = Plan::around(kind, &[600], 4);
    plan.eater("Rut", 100);
    assert_eq!(said(&diet(&plan.rotation)), [""; 0], "nothing is cut yet");
    plan.cook(supper(3), dish("late"), "centre", 100);
    plan.cook(supper(2), dish("early"), "centre", 100);
    assert_eq!(said(&diet(&plan.rotation)), ["Note piece-caution: Tuesday supper: Damp cloth under the board."]);
}
