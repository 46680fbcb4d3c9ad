//! Portions, masses of a piece and worked sums as published; and the published rows that nothing here is held against, with why.

use std::collections::{BTreeMap, BTreeSet};
use tranche::{
    book::{Book, Dish, Form, Kind, Method, Role, Starch},
    quantity::{AsBought, Grams, PerMille, Prepared, System, read_grams},
};

const SERVINGS: &str = include_str!("published/servings.tsv");
const FIGURES: &str = include_str!("published/book-figures.tsv");
const NOT_HELD: &str = include_str!("published/not-held.tsv");
/// Every table of published rows; what is held stands in one of the first.
const TABLES: [&str; 6] = [
    FIGURES,
    SERVINGS,
    include_str!("published/keeping-and-safety.tsv"),
    include_str!("published/cooling.tsv"),
    include_str!("published/breathing.tsv"),
    NOT_HELD,
];

/// Item and figure of the rows of a table, by their ids.
fn rows(table: &'static str) -> BTreeMap<&'static str, (&'static str, &'static str, &'static str)> {
    let mut lines = table.lines();
    assert!(lines.next().is_some_and(|head| head.starts_with("id\titem\tquantity\tvalue\tunit\tsource\tsection\tconfidence")));
    let row = |line: &'static str| {
        let cells: Vec<&'static str> = line.split('\t').collect();
        assert!(cells.len() >= 8 && ["seen", "memory", "computed"].contains(&cells[7]) && !cells[5].is_empty(), "{line}");
        (cells[0], (cells[1], cells[2], cells[3]))
    };
    lines.map(row).collect()
}

fn figure(rows: &BTreeMap<&str, (&str, &str, &str)>, id: &str) -> f64 {
    rows[id].2.parse().unwrap_or_else(|_| panic!("{id}: {}", rows[id].2))
}

fn book() -> Book {
    Book::shipped().unwrap()
}

fn kind<'b>(book: &'b Book, id: &str) -> &'b Kind {
    book.kinds().find(|k| k.id.as_str() == id).unwrap()
}

/// What is left of the piece as bought after all trim.
fn edible(kind: &Kind) -> f64 {
    1.0 - kind.trim.iter().map(|t| f64::from(t.share.get()) / 1_000.0).sum::<f64>()
}

/// Cooked grams of a typical serving of an adult.
fn cooked_serving(dish: &Dish) -> f64 {
    f64::from(dish.grams.1) * f64::from(dish.yields.get()) / 1_000.0
}

#[test]
fn a_plate_of_fish_or_roast_holds_a_published_serving() {
    let (book, rows) = (book(), rows(SERVINGS));
    let (mut fish, mut roast) = (0, 0);
    for dish in book.dishes().filter(|d| d.role == Role::Meal && d.cooked && d.profile.form == Some(Form::Plate)) {
        let kinds: Vec<&Kind> = book.kinds().map(|k| &**k).filter(|k| dish.suits_kind(k)).collect();
        let of = |families: &[&str]| kinds.iter().all(|k| families.contains(&k.family.as_str())) && !kinds.is_empty();
        if of(&["fish"]) && dish.state == tranche::quantity::State::Prepared {
            // US reference amount of fish, cooked; the portion of the UK NHS, two a week.
            let (least, most) = (figure(&rows, "V012"), figure(&rows, "V049"));
            let got = cooked_serving(dish);
            assert!(least <= got && got <= most, "{}: {got} g cooked against {least} to {most}", dish.id);
            fish += 1;
        }
        if dish.profile.main_method() == Some(Method::Roast) && kinds.iter().all(|k| k.is_cooked_whole()) {
            // US reference amount of poultry, cooked; three ounces of a worked school example.
            let ounces = figure(&rows, "V051") * 28.349_523;
            let least = figure(&rows, "V025").min(ounces);
            assert!(cooked_serving(dish) >= least, "{}: {} g against {least}", dish.id, cooked_serving(dish));
            roast += 1;
        }
    }
    assert!(fish >= 4 && roast >= 2, "{fish} plates of fish, {roast} roasts");
}

#[test]
fn a_bird_comes_out_of_the_oven_as_the_raw_and_the_cooked_amount_have_it() {
    let (book, rows) = (book(), rows(SERVINGS));
    let ratio = figure(&rows, "V025") / figure(&rows, "V026");
    assert!((ratio - figure(&rows, "V033")).abs() < 1e-5);
    for bird in ["roast-chicken", "roast-turkey"] {
        let roast = kind(&book, bird).yields.iter().find(|y| y.method == Method::Roast).unwrap();
        let ours = f64::from(roast.share.get()) / 1_000.0;
        assert!((ours - ratio).abs() <= 0.05, "{bird}: {ours} against {ratio}");
    }
}

#[test]
fn a_pound_of_turkey_a_head_feeds_a_plate_of_the_roast() {
    let (book, rows) = (book(), rows(SERVINGS));
    let a_head = figure(&rows, "V050") * 453.592_37 * edible(kind(&book, "roast-turkey"));
    let plate = book.dishes().find(|d| d.id.as_str() == "plain-roast-gravy").unwrap();
    assert!(a_head >= cooked_serving(plate), "{a_head} g against {}", cooked_serving(plate));
}

#[test]
fn a_meal_of_vegetables_is_a_published_portion_or_more() {
    let (book, rows) = (book(), rows(SERVINGS));
    let portion = figure(&rows, "V034");
    assert_eq!(portion * figure(&rows, "V037"), figure(&rows, "V047"));
    let mut asked = 0;
    for dish in book.dishes().filter(|d| d.role == Role::Meal && d.state == tranche::quantity::State::Prepared) {
        let kinds: Vec<&Kind> = book.kinds().map(|k| &**k).filter(|k| dish.suits_kind(k)).collect();
        let vegetable = |k: &&Kind| !k.animal && !["bread", "dairy"].contains(&k.family.as_str());
        // Raw leaves are counted by the bowl.
        let leaves = !dish.cooked && kinds.iter().any(|k| k.family.as_str() == "leafy-green")
            || dish.id.as_str().starts_with("leaf-salad");
        if kinds.is_empty() || !kinds.iter().all(vegetable) || leaves {
            continue;
        }
        assert!(f64::from(dish.grams.1) >= portion, "{}: {} g against {portion}", dish.id, dish.grams.1);
        asked += 1;
    }
    assert!(asked > 60, "{asked}");
}

#[test]
fn potatoes_are_the_starch_of_a_plate_and_none_of_its_vegetables() {
    let (book, rows) = (book(), rows(SERVINGS));
    assert_eq!(rows["V046"].2, "0");
    let mut asked = 0;
    for dish in book.dishes().filter(|d| d.companions.iter().any(|c| c.name == "potatoes" && c.per_unit >= 150.0)) {
        assert_eq!(dish.profile.starch, Some(Starch::Potato), "{}", dish.id);
        asked += 1;
    }
    assert!(asked > 5, "{asked}");
}

#[test]
fn a_published_piece_is_one_that_the_book_takes() {
    let (book, rows) = (book(), rows(FIGURES));
    let mut asked = BTreeSet::new();
    for (id, row) in
        [("red-cabbage", "Y215"), ("white-cabbage", "Y216"), ("cauliflower", "Y217"), ("cauliflower", "Y218"), ("swede", "Y219")]
    {
        let (kind, grams) = (kind(&book, id), figure(&rows, row));
        let (least, most) = (f64::from(kind.mass.0) * edible(kind), f64::from(kind.mass.2) * edible(kind));
        assert!(least <= grams && grams <= most, "{id}: {least} to {most} edible against {grams} of {}", rows[row].0);
        asked.insert(row);
    }
    // Of a glut the piece is many: one of them is the unit.
    let one = kind(&book, "courgettes").parts.iter().find_map(|p| p.unit.as_ref()).unwrap();
    let (ours, grams) = (f64::from(one.1.get()), figure(&rows, "Y221"));
    assert!((ours / grams - 1.0).abs() <= 0.1, "a courgette of {ours} g against {grams}");
    asked.insert("Y221");
    let all: BTreeSet<&str> = rows.iter().filter(|(_, r)| r.1 == "edible_mass_per_piece").map(|(id, _)| *id).collect();
    assert_eq!(asked, all);
}

/// "17 lb 2 oz at 0.511": as the program reads a mass and takes a share of it.
#[test]
fn worked_sums_of_kitchens_come_out_as_printed() {
    let rows = rows(FIGURES);
    let pounds = |grams: u32| f64::from(grams) / 453.592_37;
    let read = |text: &str| read_grams(text, System::Us, None).unwrap_or_else(|e| panic!("{text}: {e:?}"));
    let mut asked = 0;
    for (id, (item, quantity, value)) in rows.iter().filter(|(_, r)| r.0.starts_with("worked: ")) {
        let (mass, share) = item.rsplit_once(", ").unwrap().1.split_once(" at ").unwrap();
        let share: f64 = match share.strip_prefix("1/") {
            Some(factor) => 1.0 / factor.parse::<f64>().unwrap(),
            None => share.parse().unwrap(),
        };
        let thousandths = PerMille::new((share * 1_000.0).round() as u16).unwrap();
        let left = |bought: u32| Grams::<AsBought>::new(bought).unwrap().yielding::<Prepared>(thousandths).get();
        let printed: f64 = value.parse().unwrap();
        match *quantity {
            "ep_mass" => assert!((pounds(left(read(mass))) - printed).abs() < 0.015, "{id}: {}", pounds(left(read(mass)))),
            "servings" => {
                let ounces = pounds(left(read(mass))) * 16.0;
                assert_eq!((ounces / 3.0).floor(), printed, "{id}: {ounces} oz");
            }
            // What must be bought is what leaves as much as is wanted, to the printed hundredth of a pound.
            "ap_needed" => {
                let bought = read(&format!("{value} lb"));
                assert!((pounds(left(bought)) - pounds(read(mass))).abs() < 0.015, "{id}: {}", pounds(left(bought)));
            }
            other => panic!("{id}: {other}"),
        }
        asked += 1;
    }
    assert_eq!(asked, 8);
}

#[test]
fn a_row_that_nothing_is_held_against_says_why_and_the_reason_stands() {
    let book = book();
    let (mut seen, mut told) = (BTreeSet::new(), 0);
    for line in NOT_HELD.lines().skip(1) {
        let cells: Vec<&str> = line.split('\t').collect();
        let [id, item, _, _, _, _, _, _, absent, why] = cells[..] else { panic!("{line}: not ten cells") };
        assert!(seen.insert(id) && !why.is_empty(), "{line}");
        if absent == "-" {
            continue;
        }
        // A kind of that name would have to be compared with the row.
        let word = |k: &Kind| format!("{} {}", k.id, k.name).to_lowercase();
        let there =
            book.kinds().find(|k| word(k).split([' ', '-']).any(|w| w.trim_end_matches('s') == absent.trim_end_matches('s')));
        assert!(there.is_none(), "{id} {item}: the book has {} now; compare it", there.unwrap().id);
        told += 1;
    }
    assert!(told >= 50, "{told}");
}

#[test]
fn no_row_stands_in_two_tables_with_two_figures() {
    let mut all: BTreeMap<&str, (&str, &str)> = BTreeMap::new();
    let mut held = BTreeSet::new();
    for table in TABLES {
        for (id, (_, quantity, value)) in rows(table) {
            let known = all.insert(id, (quantity, value));
            assert!(known.is_none_or(|k| k == (quantity, value)), "{id}: {known:?} and {value}");
            if table == NOT_HELD {
                assert!(!held.contains(id), "{id} is held, and said not to be");
            } else {
                held.insert(id);
            }
        }
    }
    assert!(all.len() > 650, "{}", all.len());
}
