//! Does the diet of a dish follow from its company, and is what nobody knows said and never assumed?

use serde_json::Value;
use std::{fs, path::Path, process::Command, sync::Arc};
use tranche::{
    book::{Book, Companion, Diet, Dish, Substance, check_book, contents_of},
    store::{Entry, EntryId, OwnBook, OwnChange, Places, read_rotation},
};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn shipped(id: &str) -> Dish {
    let book = Book::shipped().unwrap();
    (**book.dishes().find(|d| d.id.as_str() == id).unwrap()).clone()
}

/// `dish` as a file would have it, with `companion` added and `diet` stated.
fn written(dish: &Dish, companion: Option<&str>, diet: Option<&str>) -> Result<Dish, ron::error::SpannedError> {
    let mut dish = dish.clone();
    let plain = Companion { name: String::new(), ..dish.companions[0].clone() };
    dish.companions.extend(companion.map(|name| Companion { name: name.into(), ..plain }));
    let typed = ron::to_string(&dish).unwrap();
    let stated = diet.map_or_else(String::new, |d| format!("diet:{d},"));
    let text = typed.replacen(&format!("diet:{:?},", dish.diet), &stated, 1);
    ron::from_str(&text)
}

/// Once every flag was typed, dish by dish, and each list of allergens. What follows from the companions is the same.
#[test]
fn what_follows_is_what_was_typed_by_hand_before() {
    let book = Book::shipped().unwrap();
    let mut asked = 0;
    for row in include_str!("data/older/typed-diets.tsv").lines().skip(1) {
        let cells: Vec<&str> = row.split('\t').collect();
        let Some(dish) = book.dishes().find(|d| d.id.as_str() == cells[0]) else { continue };
        let allergens: Vec<String> = dish.allergens.iter().map(|a| format!("{a:?}")).collect();
        assert_eq!(
            (format!("{:?}", dish.diet), allergens.join(" ")),
            (cells[1].to_string(), cells[2].to_string()),
            "{}",
            cells[0]
        );
        asked += 1;
    }
    assert!(asked >= 150, "{asked}");
}

#[test]
fn no_shipped_dish_types_what_follows_and_every_name_is_known() {
    for entry in fs::read_dir(root().join("assets/book/dishes")).unwrap() {
        let text = fs::read_to_string(entry.unwrap().path()).unwrap();
        // A twin states its diet, deeper in.
        assert!(!text.contains("\n        diet:"), "a dish of the book states a diet that its companions do not need");
    }
    let book = Book::shipped().unwrap();
    for dish in book.dishes() {
        for c in dish.companions.iter().chain(dish.twins.iter().flat_map(|t| &t.companions)) {
            assert!(contents_of(&c.name).is_some(), "{} in {}", c.name, dish.id);
        }
    }
    for kind in book.kinds() {
        let known = contents_of(&kind.name).unwrap_or_else(|| panic!("{} is known", kind.name));
        assert_eq!((known.diet(), known.allergens()), (kind.diet, kind.allergens.clone()), "{}", kind.name);
        assert_eq!(kind.animal, !Diet::Vegetarian.may_eat(known.diet()), "{}", kind.name);
    }
}

#[test]
fn each_companion_loosens_every_dish_as_far_as_it_must() {
    let book = Book::shipped().unwrap();
    for dish in book.dishes().filter(|d| !d.companions.is_empty()) {
        for (name, most) in [
            ("bacon", Diet::Everything),
            ("leaf gelatine", Diet::Everything),
            ("anchovies", Diet::Pescatarian),
            ("prawns", Diet::Pescatarian),
            ("double cream", Diet::Vegetarian),
            ("honey", Diet::Vegetarian),
            ("egg", Diet::Vegetarian),
            ("dill", Diet::Vegan),
            ("red wine", Diet::Vegan),
        ] {
            // Whatever is stated, "Vegan" above all.
            for stated in [None, Some("Vegan"), Some("Vegetarian"), Some("Pescatarian"), Some("Everything")] {
                let read = written(dish, Some(name), stated).unwrap();
                assert!(!most.may_eat(read.diet) || read.diet == most, "{} with {name} is {:?}", dish.id, read.diet);
                assert!(!read.diet.may_eat(Diet::Everything) || read.diet == Diet::Everything);
                assert_eq!(read.diet, read.fare().diet, "nothing is left to settle");
            }
        }
    }
}

#[test]
fn a_stated_diet_restricts_and_never_loosens() {
    let cake = shipped("sharp-slaw-pear-mustard");
    assert_eq!(cake.diet, Diet::Pescatarian, "there is mackerel in it");
    for (stated, read) in [
        (None, Diet::Pescatarian),
        (Some("Vegan"), Diet::Pescatarian),
        (Some("Vegetarian"), Diet::Pescatarian),
        (Some("Pescatarian"), Diet::Pescatarian),
        (Some("Everything"), Diet::Everything),
    ] {
        assert_eq!(written(&cake, None, stated).unwrap().diet, read, "{stated:?}");
    }
    // A twin is bound by its own company, too.
    let mut with_twin = shipped("seared-loin-lemon-potatoes");
    assert_eq!(with_twin.twins[0].diet, Diet::Vegetarian);
    with_twin.twins[0].companions[0].name = "bacon".into();
    assert_eq!(written(&with_twin, None, None).unwrap().twins[0].diet, Diet::Everything);
    // What is in no companion is stated and stays.
    let pickle = shipped("quick-vinegar-pickle");
    assert!(pickle.allergens.iter().any(|a| a.word() == "sulphite"));
}

#[test]
fn an_unknown_companion_leaves_the_diet_unknown_and_brackets_say_what_it_is() {
    let book = Book::shipped().unwrap();
    let plain = book.dishes().find(|d| d.diet == Diet::Vegan && d.twins.is_empty() && d.companions.len() > 2).unwrap();
    let with = |name: &str| written(plain, Some(name), None).unwrap();
    let unknown = with("gran's paste");
    let fare = unknown.fare();
    assert_eq!(fare.unknown, ["gran's paste"]);
    assert_eq!((fare.suits(Diet::Vegan), fare.suits(Diet::Vegetarian), fare.suits(Diet::Everything)), (None, None, Some(true)));
    assert_eq!(unknown.sure_diet(), Diet::Everything, "nobody else may be promised anything");
    let doubt = fare.doubt().unwrap();
    assert!(doubt.contains("does not know what gran's paste is") && doubt.contains("(vegan)"), "{doubt}");
    // So much a name gives away: it can be no better.
    assert_eq!(with("gran's ham paste").fare().suits(Diet::Pescatarian), Some(false));
    for (name, diet, held) in [
        ("gran's paste (vegan)", Diet::Vegan, None),
        ("gran's paste (soya, celery)", Diet::Vegan, None),
        ("gran's paste (pork)", Diet::Everything, Some(Substance::Pork)),
        ("gran's paste (red wine, double cream)", Diet::Vegetarian, Some(Substance::Alcohol)),
    ] {
        let read = with(name);
        assert_eq!((read.diet, read.fare().unknown.len()), (diet, 0), "{name}");
        assert!(held.is_none_or(|s| read.fare().contents.holds(s)), "{name}");
    }
    // It is said in the check of a whole book, and hinders nobody from keeping the dish.
    let faults = check_book(&book.clone().extended_by(Book::of([], [unknown.clone()])));
    assert!(faults.len() == 1 && faults[0].what.contains("does not know what gran's paste is"), "{faults:?}");
    assert_eq!(tranche::book::faults_of_dish(&book, &unknown), []);
}

#[test]
fn what_is_kept_in_the_program_is_settled_as_its_file_is() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    let mut own = OwnBook::load(&places);
    let mut dish = shipped("charred-wedges-cumin-yoghurt");
    let plain = dish.companions[0].clone();
    dish.companions.push(Companion { name: "bacon".into(), ..plain });
    dish.diet = Diet::Vegan;
    let id = EntryId::Dish(dish.id.clone());
    own.perform(&OwnChange::Keep(Entry::Dish(Arc::new(dish)))).unwrap();
    let again = OwnBook::load(&places);
    for book in [own.book(), again.book()] {
        let Some(Entry::Dish(kept)) = id.find(&book) else { panic!("it is kept") };
        assert_eq!(kept.diet, Diet::Everything);
    }
    assert!(own.entries().eq(again.entries()));
}

#[test]
fn the_command_shows_what_a_dish_holds_and_what_nobody_knows() {
    let folder = tempfile::tempdir().unwrap();
    let tranche = |args: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tranche"));
        let out = command.args(args).env("XDG_DATA_HOME", folder.path()).output().unwrap();
        (out.status.code(), String::from_utf8(out.stdout).unwrap())
    };
    let (_, text) = tranche(&["book", "show", "slaw-with-ham"]);
    assert!(text.contains("Diet: everything") && text.contains("Beside the piece: pork"), "{text}");
    let (_, text) = tranche(&["book", "show", "slaw-with-ham", "--json"]);
    let said: Value = serde_json::from_str(&text).unwrap();
    assert_eq!((&said["holds"], &said["unknown_companions"]), (&serde_json::json!(["pork"]), &serde_json::json!([])));
    assert_eq!((&said["dish"]["diet"], &said["dish"]["allergens"]), (&"Everything".into(), &serde_json::json!(["Wheat"])));

    let places = Places { data: folder.path().join("tranche"), ..Places::under(folder.path()) };
    let mut mine = shipped("slaw-with-ham");
    mine.companions[0] = Companion { name: "gran's roll".into(), ..mine.companions[0].clone() };
    mine.diet = Diet::Vegan;
    OwnBook::load(&places).perform(&OwnChange::Keep(Entry::Dish(Arc::new(mine)))).unwrap();
    let (code, text) = tranche(&["book", "show", "slaw-with-ham"]);
    assert!(
        code == Some(0) && text.contains("vegan at the most") && text.contains("does not know what gran's roll is"),
        "{text}"
    );
    let (code, text) = tranche(&["book", "check"]);
    assert!(code == Some(1) && text.contains("does not know what gran's roll is"), "{text}");
}

#[test]
fn a_week_of_typed_flags_opens_as_it_was() {
    let path = root().join("tests/data/older/turkey-before-roast.rotation.ron");
    let text = fs::read_to_string(&path).unwrap();
    let typed: Vec<&str> = text.lines().filter_map(|l| l.strip_prefix("            diet: ")).collect();
    let plan = read_rotation(&path).unwrap().rotation;
    let read: Vec<String> = plan.dishes.values().map(|d| format!("{:?},", d.diet)).collect();
    assert_eq!(read, typed);
}
