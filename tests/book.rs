//! Is the shipped book sound, and is every sort of broken entry caught?

use std::collections::BTreeSet;
use tranche::book::{
    Allergen, Book, CheckFault, Companion, CompanionMeasure, Diet, Dish, Graded, Kind, Leftover, Method, Role, StepPlace,
    Texture, check_book,
};
use tranche::quantity::{Days, PerMille};

fn shipped() -> Book {
    Book::shipped().unwrap()
}

#[test]
fn the_shipped_book_has_no_fault() {
    let faults = check_book(&shipped());
    let said: Vec<String> = faults.iter().map(CheckFault::to_string).collect();
    assert!(said.is_empty(), "{}", said.join("\n"));
}

#[test]
fn each_kind_has_a_shelf_of_different_textures_a_bank_where_one_is_outlined_and_something_raw() {
    let book = shipped();
    for (kind, least_dishes, least_textures, bank) in [
        ("red-cabbage", 12, 6, true),
        ("celeriac", 12, 6, true),
        ("salmon-side", 11, 6, true),
        ("roast-turkey", 10, 5, false),
        ("tomatoes", 12, 6, true),
        ("white-cabbage", 30, 8, true),
        ("swede", 24, 8, true),
        ("butternut-squash", 12, 7, true),
        ("onions", 9, 5, true),
        ("courgettes", 20, 7, true),
        ("chard", 14, 7, false),
        // Fruit, roast meat, ham, whole fish, bread and dairy gluts.
        ("apples", 12, 7, true),
        ("watermelon", 8, 6, true),
        ("roast-chicken", 15, 8, false),
        ("boiled-ham", 11, 7, false),
        ("whole-hake", 17, 8, true),
        ("big-loaf", 9, 7, true),
        ("milk-on-its-date", 10, 7, false),
    ] {
        let kind = book.kinds().find(|k| k.id.as_str() == kind).unwrap();
        let dishes: Vec<_> = book.dishes_for(kind).collect();
        let mut textures: Vec<_> = dishes.iter().filter_map(|d| d.profile.main_texture()).collect();
        textures.sort();
        textures.dedup();
        assert!(dishes.len() >= least_dishes, "{}: {} dishes", kind.name, dishes.len());
        assert!(textures.len() >= least_textures, "{}: {textures:?}", kind.name);
        assert_eq!(dishes.iter().any(|d| d.role == Role::Bank), bank, "{}", kind.name);
    }
}

/// The main textures of the meals among `dishes`, each once.
fn main_textures<'a>(dishes: impl Iterator<Item = &'a std::sync::Arc<Dish>>) -> BTreeSet<Texture> {
    dishes.filter(|d| d.role == Role::Meal).filter_map(|d| d.profile.main_texture()).collect()
}

/// Four meals that differ in the mouth need five dishes to choose from: a template of any shape must find its like.
#[test]
fn each_family_with_a_kind_has_meals_of_five_main_textures() {
    let book = shipped();
    let families: BTreeSet<&str> = book.kinds().map(|k| k.family.as_str()).collect();
    for family in families {
        let textures = main_textures(book.dishes().filter(|d| d.suits_family(family)));
        assert!(textures.len() >= 5, "{family}: {textures:?}");
    }
}

/// The same for a single piece: of the dishes of its family only those that want a part it has, or a component made of it.
#[test]
fn each_kind_has_meals_of_five_main_textures_for_the_parts_it_has() {
    let book = shipped();
    for kind in book.kinds() {
        let of_a_part = |d: &Dish| kind.parts.iter().any(|p| d.suits_part(&p.id));
        let by_component =
            |d: &Dish| d.from.iter().filter_map(|id| book.dish(id)).any(|c| c.role == Role::Component && of_a_part(c));
        let textures = main_textures(book.dishes_for(kind).filter(|d| of_a_part(d) || by_component(d)));
        assert!(textures.len() >= 5, "{}: {textures:?}", kind.name);
        for part in &kind.parts {
            let uses = book.dishes_for(kind).filter(|d| d.suits_part(&part.id)).count();
            assert!(uses >= 1, "{}, {}: nothing is made of it", kind.name, part.name);
        }
    }
}

/// One name is one thing: vinegar in millilitres here and in grams there would stand twice on the shopping list.
/// The shopping list adds up what is called the same, so it must be the same thing in the same pack.
#[test]
fn a_companion_is_bought_in_one_way_in_the_whole_book_and_another_way_is_told() {
    type Change = fn(&mut Companion);
    let slaw = "sharp-slaw-pear-mustard";
    let changes: [(&str, Change); 4] = [
        ("in a pot of 250\u{a0}g that keeps 5 days once opened here and in a pot of 300\u{a0}g", |c| c.pack = Some(250.0)),
        ("in a tub of 300", |c| c.pack_word = Some("tub".into())),
        ("that keeps 9 days", |c| c.opened_days = Some(Days(9))),
        ("in a pot of 300\u{a0}ml", |c| c.measure = CompanionMeasure::Ml),
    ];
    for (says, change) in changes {
        let faults = with_dish(slaw, |d| change(d.companions.iter_mut().find(|c| c.name == "yoghurt").unwrap()));
        let told: Vec<&CheckFault> = faults.iter().filter(|f| f.what.starts_with("yoghurt is bought")).collect();
        assert!(told.len() == 1 && told[0].entry == slaw && told[0].what.contains(says), "{says}: {faults:?}");
    }
    // Another form has another name, and then it may be bought as it is sold.
    let faults = with_dish(slaw, |d| {
        let yoghurt = d.companions.iter_mut().find(|c| c.name == "yoghurt").unwrap();
        (yoghurt.name, yoghurt.pack) = ("drinking yoghurt".into(), Some(500.0));
    });
    assert!(!faults.iter().any(|f| f.what.contains("is bought")), "{faults:?}");
}

/// What a left-over is turned into must be in the book, and eat otherwise than what was left.
#[test]
fn a_leftover_is_turned_into_a_dish_of_another_texture() {
    let book = shipped();
    for dish in book.dishes() {
        let Leftover::Turned(into) = &dish.leftover else { continue };
        for id in into {
            let next = book.dish(id).unwrap_or_else(|| panic!("{}: no dish {id}", dish.id));
            assert!(next.from.contains(&dish.id), "{id} is not made from {}", dish.id);
            let component = dish.role == Role::Component;
            assert!(component || next.profile.main_texture() != dish.profile.main_texture(), "{} into {id}", dish.id);
        }
    }
}

#[test]
fn no_dish_is_said_to_eat_well_for_longer_than_it_keeps() {
    for dish in shipped().dishes() {
        assert!(dish.nice_days.is_none_or(|nice| nice <= dish.keeps), "{}", dish.id);
    }
}

#[test]
fn every_shipped_dish_is_wholly_described() {
    for dish in shipped().dishes() {
        let p = &dish.profile;
        let whole = !p.texture.is_empty()
            && !p.family.is_empty()
            && !p.method.is_empty()
            && !p.colour.is_empty()
            && p.taste.is_some()
            && p.heat.is_some()
            && p.form.is_some()
            && p.starch.is_some()
            && p.protein.is_some();
        assert!(whole, "{}", dish.id);
    }
}

/// The pieces at hand, with the minutes of hands summed up: what the steps say and what the head says must not drift apart.
#[test]
fn the_hands_of_the_steps_add_up_to_the_hands_of_the_dish() {
    for dish in shipped().dishes() {
        let hands: u16 = dish.steps.iter().filter(|s| s.hands).map(|s| s.minutes).sum();
        assert_eq!(hands, dish.minutes.0, "{}", dish.id);
    }
}

/// A book with one entry spoilt; everything else as shipped.
fn with_dish(id: &str, spoil: impl FnOnce(&mut Dish)) -> Vec<CheckFault> {
    let book = shipped();
    let mut dish = (**book.dishes().find(|d| d.id.as_str() == id).unwrap()).clone();
    spoil(&mut dish);
    check_book(&book.extended_by(Book::of([], [dish])))
}

fn with_kind(id: &str, spoil: impl FnOnce(&mut Kind)) -> Vec<CheckFault> {
    let book = shipped();
    let mut kind = (**book.kinds().find(|k| k.id.as_str() == id).unwrap()).clone();
    spoil(&mut kind);
    check_book(&book.extended_by(Book::of([kind], [])))
}

#[test]
fn each_sort_of_broken_dish_is_caught() {
    type Spoil = fn(&mut Dish);
    let sorts: &[(&str, Spoil)] = &[
        ("the name is empty", |d| d.name = " ".into()),
        ("it suits no family", |d| d.families.clear()),
        ("no kind is of the family \"moss\"", |d| d.families.push("moss".into())),
        ("has a part \"wing\"", |d| d.parts.push(tranche::book::PartId::new("wing").unwrap())),
        ("is no other dish of the book", |d| d.from.push(tranche::book::DishId::new("nowhere").unwrap())),
        ("is no other dish of the book", |d| d.from.push(d.id.clone())),
        ("do not rise", |d| d.grams = (200, 160, 250)),
        ("do not rise", |d| d.grams = (0, 160, 250)),
        ("it yields nothing", |d| d.yields = PerMille::new(0).unwrap()),
        ("limit once made", |d| d.keeps = Days(-1)),
        ("a wedge weighs nothing", |d| d.unit = Some(("wedge".into(), 0))),
        ("does not lie between", |d| d.oven = Some((180, 200, 230))),
        ("no temperature is given", |d| d.oven = None),
        ("minutes of hands do not fit", |d| d.minutes = (50, 40)),
        ("grade 0", |d| d.profile.texture[0].1 = 0.0),
        ("grade 1.5", |d| d.profile.texture[0].1 = 1.5),
        ("grade NaN", |d| d.profile.colour[0].1 = f64::NAN),
        ("stands twice", |d| d.profile.texture = vec![Graded(Texture::Crisp, 1.0), Graded(Texture::Crisp, 0.5)]),
        ("a taste of 4 is over 3", |d| d.profile.taste.as_mut().unwrap().rich = 4),
        ("it has no step", |d| d.steps.clear()),
        ("a step is empty", |d| d.steps[0].text.clear()),
        ("waits for step 100, and there is none", |d| d.steps[1].after = vec![99]),
        ("in a circle", |d| d.steps[1].after = vec![2]),
        ("more than the dish in all", |d| d.steps[0].minutes = 900),
        ("is not a number from 0", |d| d.companions[0].per_unit = f64::NAN),
        ("is not a number from 0", |d| d.companions[0].per_batch = -1.0),
        ("no amount of", |d| (d.companions[0].per_unit, d.companions[0].per_batch) = (0.0, 0.0)),
        ("holds nothing", |d| d.companions[0].pack = Some(0.0)),
        ("the limit of opened", |d| d.companions[0].opened_days = Some(Days(-2))),
        ("milk is not among its allergens", |d| d.allergens.retain(|a| *a != Allergen::Milk)),
        ("cannot be vegan", |d| d.diet = Diet::Vegan),
        ("cannot be vegetarian", |d| d.companions[0].name = "smoked bacon".into()),
        ("a caution is empty", |d| {
            d.cautions.push(tranche::book::Caution { for_whom: vec![], text: String::new(), source: "practice".into() })
        }),
        ("the source of a caution is empty", |d| {
            d.cautions.push(tranche::book::Caution { for_whom: vec![], text: "Mind.".into(), source: String::new() })
        }),
        ("no source is named", |d| d.sources.clear()),
    ];
    for (what, spoil) in sorts {
        let faults = with_dish("charred-wedges-cumin-yoghurt", spoil);
        assert!(faults.iter().any(|f| f.what.contains(what)), "{what}: {faults:?}");
    }
    let faults = with_dish("seared-loin-lemon-potatoes", |d| d.diet = Diet::Vegetarian);
    assert!(faults.iter().any(|f| f.what.contains("no piece that it suits is")), "{faults:?}");
    let faults = with_dish("seared-loin-lemon-potatoes", |d| d.twins[0].allergens.clear());
    assert!(faults.iter().any(|f| f.what.contains("milk is not among")), "{faults:?}");
    let faults = with_dish("torn-bread-raw-tomato-salad", |d| d.forms.clear());
    assert!(faults.iter().any(|f| f.what.contains("goes without \"raw tomato\"")), "{faults:?}");
    let faults = with_dish("poached-tail", |d| d.grams = (70, 100, 130));
    assert!(faults.iter().any(|f| f.what.contains("all 0 for a component")), "{faults:?}");
    let faults = with_dish("quick-vinegar-pickle", |d| d.steps[0].place = StepPlace::Oven);
    assert!(faults.iter().any(|f| f.what.contains("no temperature is given")), "{faults:?}");
}

#[test]
fn each_sort_of_broken_kind_is_caught() {
    type Spoil = fn(&mut Kind);
    let sorts: &[(&str, Spoil)] = &[
        ("the name is empty", |k| k.name.clear()),
        ("they must make 1000", |k| k.trim[0].share = PerMille::new(51).unwrap()),
        ("does not rise from least", |k| k.mass = (900, 600, 3_000)),
        ("not six hexadecimal digits", |k| k.colour = "7a2e5".into()),
        ("not six hexadecimal digits", |k| k.colour = "7a2e5g".into()),
        ("it has no part", |k| k.parts.clear()),
        ("stands twice", |k| k.parts[1].id = k.parts[0].id.clone()),
        ("the raw limit of", |k| k.parts[0].raw_days = Days(-1)),
        ("must weigh something", |k| {
            k.parts[0].unit = Some(("leaf".into(), tranche::quantity::Portion::of(tranche::quantity::State::Cooked, 50)))
        }),
        ("the limit once cooked", |k| k.cooked_days = Days(-1)),
        ("the limit of shreds", |k| k.cut_forms[0].days = Days(-1)),
        ("fall from", |k| k.whole[0].days = (9, 3)),
        ("does not lie from 10 to 20", |k| k.trim_range = PerMille::new(10).zip(PerMille::new(20))),
        ("what comes of it roast stands twice", |k| k.yields.push(k.yields[0].clone())),
        ("stands twice", |k| k.cut_forms.extend([k.cut_forms[0]])),
        ("the keeping in", |k| k.whole.push(k.whole[0].clone())),
        ("the time", |k| k.stand_ins[0].minutes = vec![(Method::Roast, 5), (Method::Roast, 10)]),
        ("the stand-in", |k| k.stand_ins.push(k.stand_ins[0].clone())),
        ("a hazard is empty", |k| k.hazards.push(" ".into())),
        ("is no mass", |k| k.cup = Some(tranche::quantity::Density(f64::INFINITY))),
        ("is no other kind", |k| k.stand_ins = vec![stand_in("moonfruit")]),
        ("is no other kind", |k| k.stand_ins = vec![stand_in(k.id.as_str())]),
        ("no dish suits the family", |k| k.family = "moss".into()),
        ("no source is named", |k| k.sources.clear()),
    ];
    for (what, spoil) in sorts {
        let faults = with_kind("red-cabbage", spoil);
        assert!(faults.iter().any(|f| f.what.contains(what)), "{what}: {faults:?}");
    }
}

#[test]
fn a_wrong_entry_names_its_file_and_line() {
    // One kind and one dish: the rest of the book, which they name, is left out with the names.
    let kind = include_str!("../assets/book/kinds/celeriac.ron").replace("share: 250", "share: 251");
    let (before, after) = kind.split_once("    stand_ins: [\n").unwrap();
    let kind = format!("{before}{}", after.split_once("\n    ],\n").unwrap().1);
    let dishes = include_str!("../assets/book/dishes/hard-root.ron").replacen("grams: (60, 90, 120)", "grams: (60, 190, 120)", 1);
    let dishes = format!("{}\n    ),\n]\n", dishes.split_once("\n    ),\n").unwrap().0);
    let book = Book::read(&[("own/kinds/celery-root.ron", kind.as_str()), ("own/dishes/roots.ron", dishes.as_str())]).unwrap();
    let said: Vec<String> = check_book(&book).iter().map(CheckFault::to_string).collect();
    assert_eq!(
        said,
        [
            "own/kinds/celery-root.ron, line 3: celeriac: the file is called celery-root.ron: call it celeriac.ron",
            "own/kinds/celery-root.ron, line 3: celeriac: the shares of trim and parts make 1001: they must make 1000",
            "own/dishes/roots.ron, line 5: mustard-matchsticks: the grams (60, 190, 120) do not rise from over 0 (all 0 for a component)",
        ]
    );
}

fn stand_in(kind: &str) -> tranche::book::StandIn {
    tranche::book::StandIn { kind: tranche::book::KindId::new(kind).unwrap(), minutes: Vec::new() }
}
