//! Do the figures of the shipped book agree with the published ones, or say why not?
//!
//! The published figures stand in `published/book-figures.tsv`, each with its source; those that nobody had the page open
//! for are marked `memory` there and are said so here. Run with `--nocapture` for the whole list.
//!
//! Tolerances, our own choice: yields are averages, so 5 points of percent where the row speaks of the same thing, 10 where
//! it speaks of a near one (cod for hake); cups 10 %; a keeping time never over the published one, of a range the upper end.
//! What lies outside is a fault, unless the entry has a source line "differs from …: because …" that names source and figure.

use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
};
use tranche::book::{Book, CutForm, Form, Heat, Kind, Method, Role, Starch};

const FIGURES: &str = include_str!("published/book-figures.tsv");

/// One published figure.
struct Row {
    item: &'static str,
    quantity: &'static str,
    low: f64,
    high: f64,
    source: &'static str,
    section: &'static str,
    from_memory: bool,
}

fn rows() -> BTreeMap<&'static str, Row> {
    let mut lines = FIGURES.lines();
    assert_eq!(lines.next(), Some("id\titem\tquantity\tvalue\tunit\tsource\tsection\tconfidence"));
    let mut all = BTreeMap::new();
    for line in lines {
        let cells: Vec<&'static str> = line.split('\t').collect();
        let [id, item, quantity, value, _, source, section, confidence] = cells[..] else { panic!("{line}: not eight cells") };
        assert!(["seen", "memory", "computed"].contains(&confidence), "{line}");
        let (low, high) = value.split_once('-').unwrap_or((value, value));
        let (low, high) = (low.parse().unwrap(), high.parse().unwrap());
        let row = Row { item, quantity, low, high, source, section, from_memory: confidence == "memory" };
        assert!(all.insert(id, row).is_none(), "{id} stands twice");
    }
    all
}

impl Row {
    /// What a source line must call the source by.
    fn mark(&self) -> String {
        if let Some((_, from)) = self.section.split_once("NDB ") {
            return format!("NDB {}", from.chars().take_while(char::is_ascii_digit).collect::<String>());
        }
        let marks = [
            ("Handbook 66, 1954", "Handbook 66, 1954"),
            ("Handbook 66", "Handbook 66"),
            ("Food Buying Guide", "Food Buying Guide"),
            ("Armed Forces", "Armed Forces Recipe Service"),
            ("Bakery", "Bakery and Business Math"),
        ];
        let found = marks.iter().find(|(in_source, _)| self.source.contains(in_source));
        found.map_or(self.source, |(_, mark)| mark).to_string()
    }

    /// The figure as a source line must write it.
    fn figure(&self, unit: Unit) -> String {
        match unit {
            Unit::Share => format!("{:.0} %", self.low * 100.0),
            Unit::Days => format!("{:.0} days", self.high),
            Unit::Grams => format!("{:.0} g", self.low),
        }
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Unit {
    Share,
    Days,
    Grams,
}

/// Which figure of a kind is meant.
#[derive(Clone, Copy, Debug)]
enum Figure {
    /// What is left after all trim, of the piece as bought.
    Edible,
    /// These parts together, of the piece as bought.
    Parts(&'static [&'static str]),
    /// The part of one grade and the trim at this place, which belongs to it: what is left of the grade.
    Grade(&'static str, usize),
    /// What is left after the first trim alone: the cooking loss of a piece cooked whole.
    AfterFirst,
    /// What is left after the second trim, of what the first left.
    AfterSecond,
    Yield(Method),
    /// The longest any of its parts keeps raw.
    Raw,
    RawPart(&'static str),
    /// The longest that a raw cut form keeps; for a kind cut open at the start, its raw parts too.
    Cut,
    Cooked,
    /// The most days in the place that begins so.
    Whole(&'static str),
    Cup,
    CupOf(CutForm),
}
use Figure::{AfterFirst, AfterSecond, Cooked, Cup, CupOf, Cut, Edible, Grade, Parts, Raw, RawPart, Whole, Yield};

fn unit(figure: Figure) -> Unit {
    match figure {
        Edible | Parts(_) | Grade(..) | AfterFirst | AfterSecond | Yield(_) => Unit::Share,
        Raw | RawPart(_) | Cut | Cooked | Whole(_) => Unit::Days,
        Cup | CupOf(_) => Unit::Grams,
    }
}

fn value(kind: &Kind, figure: Figure) -> Option<f64> {
    let part = |id: &str| kind.parts.iter().find(|p| p.id.as_str() == id);
    let share = |id: &str| part(id).map(|p| f64::from(p.share.get()) / 1_000.0);
    let trim = |i: usize| kind.trim.get(i).map(|t| f64::from(t.share.get()) / 1_000.0);
    let days = |days: tranche::quantity::Days| f64::from(days.0);
    match figure {
        Edible => Some(1.0 - (0..kind.trim.len()).filter_map(trim).sum::<f64>()),
        Parts(ids) => ids.iter().map(|id| share(id)).sum(),
        Grade(id, i) => Some(share(id)? / (share(id)? + trim(i)?)),
        AfterFirst => Some(1.0 - trim(0)?),
        AfterSecond => Some(1.0 - trim(1)? / (1.0 - trim(0)?)),
        Yield(method) => kind.yields.iter().find(|y| y.method == method).map(|y| f64::from(y.share.get()) / 1_000.0),
        Raw => kind.parts.iter().map(|p| days(p.raw_days)).reduce(f64::max),
        RawPart(id) => part(id).map(|p| days(p.raw_days)),
        Cut => {
            let opened = kind.parts.iter().filter(|_| kind.clock_starts == "cut").map(|p| days(p.raw_days));
            kind.cut_forms.iter().map(|c| days(c.days)).chain(opened).reduce(f64::max)
        }
        Cooked => Some(days(kind.cooked_days)),
        Whole(place) => kind.whole.iter().find(|w| w.place.starts_with(place)).map(|w| f64::from(w.days.1)),
        Cup => kind.cup.map(|c| c.0),
        CupOf(form) => kind.cups.iter().find(|c| c.form == form).map(|c| c.grams.0),
    }
}

/// How near the published row speaks of the same thing.
#[derive(Clone, Copy, PartialEq)]
enum Of {
    Same,
    Near,
}
use Of::{Near, Same};

/// Shares: what is left of the piece, and what cooked comes of it.
const SHARES: &[(&str, Figure, &str, Of)] = &[
    ("red-cabbage", Edible, "Y008", Same),
    ("red-cabbage", Edible, "Y105", Same),
    ("white-cabbage", Edible, "Y007", Same),
    ("white-cabbage", Edible, "Y064", Same),
    // Leaves trimmed, core kept.
    ("red-cabbage", AfterFirst, "Y063", Near),
    ("white-cabbage", AfterFirst, "Y063", Near),
    ("savoy-cabbage", Edible, "Y007", Near),
    ("cauliflower", Edible, "Y066", Same),
    ("cauliflower", Edible, "Y107", Same),
    ("cauliflower", Edible, "Y093", Same),
    ("cauliflower", Yield(Method::Boil), "B002", Same),
    ("celeriac", Edible, "Y011", Same),
    ("beetroot", Edible, "Y086", Same),
    ("beetroot", Edible, "Y012", Same),
    ("carrots", Edible, "Y013", Same),
    ("carrots", Edible, "Y106", Same),
    ("carrots", Yield(Method::Boil), "Y178", Same),
    ("swede", Edible, "Y014", Same),
    ("swede", Edible, "Y116", Same),
    ("parsnips", Edible, "Y027", Same),
    ("turnips", Edible, "Y123", Same),
    ("butternut-squash", Edible, "Y002", Same),
    ("pumpkin", Edible, "Y006", Same),
    ("pumpkin", Edible, "Y121", Near),
    // All winter squashes together.
    ("pumpkin", Edible, "Y005", Near),
    ("butternut-squash", Edible, "Y005", Near),
    ("courgettes", Edible, "Y020", Same),
    ("courgettes", Edible, "Y094", Same),
    ("courgettes", Edible, "Y117", Same),
    ("courgettes", Yield(Method::Boil), "B003", Same),
    ("aubergines", Edible, "Y021", Same),
    ("aubergines", Edible, "Y070", Same),
    ("aubergines", Edible, "Y111", Same),
    ("aubergines", Edible, "Y182", Same),
    ("aubergines", Yield(Method::Boil), "B001", Same),
    ("sweet-peppers", Edible, "Y033", Same),
    ("sweet-peppers", Edible, "Y076", Same),
    ("spinach", Edible, "Y025", Same),
    ("kale", Edible, "Y026", Same),
    ("kale", Edible, "Y072", Same),
    ("onions", Edible, "Y073", Same),
    ("onions", Edible, "Y113", Same),
    ("onions", Yield(Method::Boil), "B004", Same),
    ("honeydew-melon", Parts(&["heart", "near-rind"]), "Y042", Same),
    ("watermelon", Parts(&["heart", "near-rind"]), "Y127", Same),
    ("watermelon", Parts(&["heart", "near-rind"]), "Y082", Same),
    ("apples", Grade("eaters", 0), "Y035", Same),
    ("apples", Grade("cookers", 1), "Y085", Same),
    ("pears", Grade("ripe", 0), "Y037", Same),
    ("pears", Grade("firm", 1), "Y078", Same),
    ("pears", Grade("firm", 1), "Y095", Same),
    ("plums", AfterFirst, "Y081", Same),
    ("roast-chicken", Edible, "Y150", Same),
    ("roast-chicken", AfterFirst, "Y197", Same),
    ("roast-chicken", Yield(Method::Roast), "Y131", Same),
    ("roast-chicken", Yield(Method::Stew), "Y132", Same),
    ("roast-chicken", Edible, "B010", Same),
    // With the skin, and an old hen.
    ("roast-chicken", Yield(Method::Stew), "Y130", Near),
    ("roast-chicken", Yield(Method::Stew), "Y133", Near),
    ("roast-turkey", Edible, "Y152", Same),
    ("roast-turkey", Edible, "B008", Same),
    ("roast-turkey", Yield(Method::Roast), "Y139", Same),
    // The breast's loss for the whole bird; leg and wing for the breast.
    ("roast-turkey", Edible, "B011", Near),
    ("roast-turkey", Yield(Method::Roast), "Y140", Near),
    ("roast-turkey", Yield(Method::Roast), "Y141", Near),
    ("roast-goose", Edible, "B007", Same),
    ("roast-goose", Yield(Method::Roast), "Y138", Same),
    // Duck for goose.
    ("roast-goose", Yield(Method::Roast), "Y136", Near),
    ("roast-beef-joint", AfterFirst, "Y145", Same),
    ("roast-beef-joint", Yield(Method::Roast), "Y145", Same),
    ("roast-beef-joint", Yield(Method::Roast), "Y146", Same),
    ("roast-beef-joint", Yield(Method::Braise), "Y148", Same),
    // Brisket for arm.
    ("roast-beef-joint", Yield(Method::Braise), "Y163", Near),
    ("roast-lamb-leg", Edible, "Y158", Same),
    ("roast-lamb-leg", Edible, "Y159", Same),
    // Shoulder, braised, for roast leg.
    ("roast-lamb-leg", Edible, "Y161", Near),
    ("roast-pork-shoulder", Edible, "Y154", Same),
    // An arm joint has more bone and rind than a blade.
    ("roast-pork-shoulder", Edible, "Y155", Near),
    // Loin for shoulder.
    ("roast-pork-shoulder", Yield(Method::Braise), "Y142", Near),
    // Shoulder roll, roast, for boiled leg.
    ("boiled-ham", Yield(Method::Boil), "Y164", Near),
    ("boiled-ham", AfterSecond, "Y053", Same),
    ("salmon-side", Yield(Method::Bake), "Y171", Same),
    ("salmon-side", Yield(Method::Poach), "Y173", Same),
    // Salmon for trout, cod and pollock for hake.
    ("whole-trout", Edible, "B005", Near),
    ("whole-trout", Yield(Method::Bake), "Y175", Same),
    ("whole-trout", Yield(Method::Poach), "Y173", Near),
    ("whole-hake", Edible, "B006", Near),
    ("whole-hake", Yield(Method::Bake), "Y170", Near),
    ("whole-hake", Yield(Method::Bake), "Y176", Near),
];

/// Rows that are made of two published ones: the first over, or times, the second.
const MADE_OF: &[(&str, &str, Sum, &str)] = &[
    ("B001", "Y112", Sum::Over, "Y111"),
    ("B002", "Y108", Sum::Over, "Y107"),
    ("B003", "Y118", Sum::Over, "Y117"),
    ("B004", "Y098", Sum::Over, "Y113"),
    // Shares of the whole fish: of the gutted one is filleted the one over the other.
    ("B005", "Y183", Sum::Over, "Y185"),
    ("B006", "Y187", Sum::Over, "Y189"),
    ("B010", "Y048", Sum::Times, "Y131"),
    ("B011", "Y051", Sum::Times, "Y139"),
];

#[derive(Clone, Copy)]
enum Sum {
    Over,
    Times,
}

/// What `published_rest.rs` asks.
const ASKED_THERE: &[&str] = &["edible_mass_per_piece", "ap_needed", "ep_mass", "servings"];

/// How long it keeps. Handbook 66 and UC Davis speak of commercial rooms, so they bound the best store of the book and no more.
const KEEPING: &[(&str, Figure, &str, Of)] = &[
    ("red-cabbage", Cut, "K068", Same),
    ("red-cabbage", Whole("cold store"), "K078", Same),
    ("red-cabbage", Whole("cold store"), "K112", Same),
    ("red-cabbage", Whole("cold store"), "K106", Same),
    ("red-cabbage", Whole("fridge"), "K132", Same),
    ("white-cabbage", Cut, "K068", Same),
    ("white-cabbage", Whole("cold store"), "K078", Same),
    ("white-cabbage", Whole("cold store"), "K112", Same),
    ("white-cabbage", Whole("cold store"), "K106", Same),
    ("white-cabbage", Whole("fridge"), "K132", Same),
    ("savoy-cabbage", Cut, "K068", Same),
    ("savoy-cabbage", Whole("cold store"), "K111", Same),
    ("savoy-cabbage", Whole("fridge"), "K132", Same),
    ("cauliflower", Cut, "K067", Near),
    ("cauliflower", Whole("cold store"), "K080", Same),
    ("celeriac", Cut, "K067", Same),
    ("swede", Cut, "K067", Same),
    ("swede", Whole("cold store"), "K091", Same),
    ("beetroot", Cut, "K067", Same),
    ("beetroot", Whole("with tops"), "K075", Same),
    ("carrots", Cut, "K067", Same),
    ("carrots", Raw, "K079", Same),
    ("carrots", Whole("cold store"), "K079", Same),
    ("parsnips", Cut, "K067", Same),
    ("turnips", Cut, "K067", Same),
    ("turnips", Raw, "K087", Same),
    ("turnips", Whole("cold store"), "K087", Same),
    ("butternut-squash", Cut, "K068", Same),
    ("butternut-squash", Whole("cool and dry"), "K134", Same),
    ("pumpkin", Cut, "K068", Same),
    ("pumpkin", Whole("cool and dry"), "K134", Same),
    ("leeks", Raw, "K107", Same),
    ("leeks", Whole("cold store"), "K107", Same),
    ("onions", Cut, "K067", Near),
    ("onions", Raw, "K108", Same),
    ("onions", Whole("cool"), "K108", Same),
    ("courgettes", RawPart("young"), "K098", Same),
    ("courgettes", RawPart("marrow"), "K098", Same),
    ("courgettes", Whole("cool, 7"), "K098", Same),
    ("sweet-peppers", Raw, "K104", Same),
    ("sweet-peppers", Whole("cool"), "K104", Same),
    ("sweet-peppers", Whole("fridge"), "K104", Same),
    ("chard", Cut, "K049", Same),
    ("spinach", Cut, "K049", Same),
    ("spinach", Raw, "K097", Same),
    ("spinach", Whole("cold store"), "K097", Same),
    ("kale", Cut, "K049", Same),
    ("tomatoes", Cut, "K048", Same),
    ("tomatoes", RawPart("ripe"), "K099", Same),
    ("tomatoes", RawPart("turning"), "K100", Same),
    ("tomatoes", Whole("cool room"), "K099", Same),
    ("honeydew-melon", Cut, "K047", Same),
    ("honeydew-melon", Whole("cool room"), "K102", Same),
    ("watermelon", Cut, "K047", Same),
    ("watermelon", Whole("cool room"), "K101", Same),
    ("apples", Raw, "K110", Same),
    ("apples", Whole("cold store"), "K110", Same),
    ("roast-chicken", Whole("raw"), "K019", Same),
    ("roast-turkey", Whole("raw"), "K019", Same),
    ("roast-turkey", Cooked, "K056", Same),
    ("roast-goose", Whole("raw"), "K019", Near),
    ("roast-beef-joint", Whole("raw"), "K010", Same),
    ("roast-lamb-leg", Whole("raw"), "K010", Same),
    ("roast-pork-shoulder", Whole("raw"), "K010", Same),
    ("boiled-ham", Whole("raw"), "K013", Same),
    ("boiled-ham", Cooked, "K012", Same),
    ("boiled-ham", Cooked, "K016", Same),
    ("boiled-ham", Raw, "K016", Same),
    ("salmon-side", Raw, "K021", Same),
    ("salmon-side", Whole("fridge"), "K021", Same),
    ("whole-trout", Raw, "K021", Same),
    ("whole-trout", Whole("fridge"), "K021", Same),
    ("whole-hake", Raw, "K022", Same),
    ("whole-hake", Whole("fridge"), "K022", Same),
    ("milk-on-its-date", Raw, "K035", Same),
    // Soured milk in a tub, for curd in one.
    ("fresh-curd", Raw, "K064", Near),
];

/// Grams in a US cup, level.
const CUPS: &[(&str, Figure, &str, Of)] = &[
    ("red-cabbage", Cup, "C129", Same),
    ("red-cabbage", CupOf(CutForm::Pieces), "C129", Same),
    ("white-cabbage", Cup, "C129", Near),
    ("cauliflower", Cup, "C134", Same),
    ("cauliflower", CupOf(CutForm::Pieces), "C134", Same),
    ("celeriac", Cup, "C144", Same),
    ("celeriac", CupOf(CutForm::Pieces), "C144", Same),
    ("swede", Cup, "C143", Same),
    ("swede", CupOf(CutForm::Cubes), "C143", Same),
    ("carrots", Cup, "C126", Same),
    ("carrots", CupOf(CutForm::Pieces), "C126", Same),
    ("carrots", CupOf(CutForm::Grated), "C127", Same),
    ("beetroot", CupOf(CutForm::Grated), "C127", Near),
    ("butternut-squash", Cup, "C130", Same),
    ("butternut-squash", CupOf(CutForm::Cubes), "C130", Same),
    ("pumpkin", Cup, "C132", Same),
    ("pumpkin", CupOf(CutForm::Cubes), "C132", Same),
    ("courgettes", Cup, "C140", Same),
    ("courgettes", CupOf(CutForm::Slices), "C140", Same),
    ("aubergines", Cup, "C142", Same),
    ("aubergines", CupOf(CutForm::Cubes), "C142", Same),
    ("spinach", Cup, "C136", Same),
    ("spinach", CupOf(CutForm::Leaves), "C136", Same),
    ("apples", Cup, "C147", Same),
    ("apples", CupOf(CutForm::Pieces), "C147", Same),
    ("watermelon", Cup, "C148", Same),
    ("watermelon", CupOf(CutForm::Cubes), "C148", Same),
    ("roast-chicken", Cup, "C150", Same),
    ("roast-chicken", CupOf(CutForm::Cubes), "C150", Same),
    ("roast-turkey", CupOf(CutForm::Cubes), "C150", Near),
    ("roast-goose", CupOf(CutForm::Cubes), "C150", Near),
    ("roast-beef-joint", CupOf(CutForm::Cubes), "C150", Near),
    ("roast-lamb-leg", CupOf(CutForm::Cubes), "C150", Near),
    ("roast-pork-shoulder", CupOf(CutForm::Cubes), "C150", Near),
    ("boiled-ham", CupOf(CutForm::Cubes), "C150", Near),
    ("fresh-curd", CupOf(CutForm::Cubes), "C099", Near),
];

/// Kinds of which no published row speaks.
const UNSPOKEN: &[&str] = &["big-loaf"];

fn agrees(unit: Unit, of: Of, ours: f64, row: &Row) -> bool {
    let off = (row.low - ours).max(ours - row.high).max(0.0);
    match unit {
        Unit::Share => off <= if of == Same { 0.05 } else { 0.10 } + 1e-9,
        Unit::Days => ours <= row.high,
        Unit::Grams => off <= 0.10 * row.low,
    }
}

/// What was found, to be told at the end.
#[derive(Default)]
struct Told {
    lines: Vec<String>,
    agreeing: usize,
    from_memory: usize,
    /// Entry and source line of each difference that has its reason.
    reasons: Vec<(String, String)>,
    faults: Vec<String>,
}

impl Told {
    fn compare(&mut self, kind: &Kind, figure: Figure, (id, row): (&str, &Row), of: Of) {
        let unit = unit(figure);
        let Some(ours) = value(kind, figure) else {
            return self.faults.push(format!("{}: it has no {figure:?}, so {id} says nothing of it", kind.id));
        };
        let number = |n: f64| if unit == Unit::Share { format!("{:.1} %", n * 100.0) } else { format!("{n}") };
        let near = if of == Near { ", a near thing" } else { "" };
        let memory = if row.from_memory { ", FROM MEMORY" } else { "" };
        let published = if row.low < row.high { format!("{} to {}", number(row.low), number(row.high)) } else { number(row.low) };
        let line = format!(
            "{} {figure:?} {}; {id} {} {}: {published}{near}{memory} [{}, {}]",
            kind.id,
            number(ours),
            row.item,
            row.quantity,
            row.source,
            row.section
        );
        self.from_memory += usize::from(row.from_memory);
        if agrees(unit, of, ours, row) {
            self.agreeing += 1;
            return self.lines.push(format!("agrees   {line}"));
        }
        let (mark, wanted) = (row.mark(), row.figure(unit));
        let reason = |s: &&String| {
            s.strip_prefix("differs from ")
                .and_then(|s| s.split_once(": because "))
                .is_some_and(|(what, why)| what.contains(&mark) && what.contains(&wanted) && !why.trim().is_empty())
        };
        match kind.sources.iter().find(reason) {
            Some(said) => {
                self.lines.push(format!("DIFFERS  {line}\n           {said}"));
                self.reasons.push((kind.id.to_string(), said.clone()));
            }
            None => self.faults.push(format!("{line}\n  no source line \"differs from … {mark} … {wanted} …: because …\"")),
        }
    }
}

#[test]
fn each_figure_of_the_book_agrees_with_the_published_one_or_says_why_not() {
    let (book, rows) = (Book::shipped().unwrap(), rows());
    let kinds: BTreeMap<&str, &Arc<Kind>> = book.kinds().map(|k| (k.id.as_str(), k)).collect();
    let mut told = Told::default();
    let mut seen = BTreeSet::new();
    for (kind, figure, row, of) in [SHARES, KEEPING, CUPS].concat() {
        seen.insert(kind);
        told.compare(kinds[kind], figure, (row, &rows[row]), of);
    }
    // The general rules for what is cooked: fish, other animals, and dishes of vegetables as a soup or stew.
    for (id, kind) in kinds.iter().filter(|(id, _)| **id != "big-loaf" && **id != "fresh-curd") {
        seen.insert(id);
        let rules: &[&str] = match (kind.family.as_str(), kind.animal) {
            ("fish", _) => &["K033"],
            (_, true) => &["K025"],
            (_, false) => &["K024", "K055"],
        };
        rules.iter().for_each(|row| told.compare(kind, Cooked, (row, &rows[row]), Same));
    }
    told.lines.sort();
    told.lines.iter().for_each(|l| println!("{l}"));
    let differing = told.reasons.len();
    println!(
        "{} checks made, {} agreeing, {differing} differing with a reason; {} against a figure from memory",
        told.agreeing + differing + told.faults.len(),
        told.agreeing,
        told.from_memory
    );
    assert!(told.faults.is_empty(), "{}", told.faults.join("\n"));
    // A reason for a difference that is none any more misleads.
    for kind in kinds.values() {
        for said in kind.sources.iter().filter(|s| s.starts_with("differs from ")) {
            assert!(told.reasons.contains(&(kind.id.to_string(), said.clone())), "{}: nothing differs: {said}", kind.id);
        }
    }
    let unspoken: Vec<&str> = kinds.keys().filter(|k| !seen.contains(*k)).copied().collect();
    assert_eq!(unspoken, UNSPOKEN);
    let used: BTreeSet<&str> = [SHARES, KEEPING, CUPS].concat().iter().map(|c| c.2).collect();
    let by_rule = ["K024", "K025", "K033", "K051", "K054", "K055"];
    let made_of: BTreeSet<&str> = MADE_OF.iter().flat_map(|m| [m.1, m.3]).collect();
    let there = |r: &str| ASKED_THERE.contains(&rows[r].quantity);
    let idle: Vec<_> =
        rows.keys().filter(|r| !used.contains(*r) && !by_rule.contains(r) && !made_of.contains(*r) && !there(r)).collect();
    assert!(idle.is_empty(), "rows that nothing is compared with: {idle:?}");
}

#[test]
fn rows_that_are_made_of_two_published_ones_are_what_these_come_to() {
    let rows = rows();
    for &(row, first, sum, second) in MADE_OF {
        let (a, b) = (rows[first].low, rows[second].low);
        let made = match sum {
            Sum::Over => a / b,
            Sum::Times => a * b,
        };
        assert!((made - rows[row].low).abs() < 1e-3, "{row}: {made} against {}", rows[row].low);
    }
}

/// Salads of what was cooked keep two days, what holds rice one: the shortest published times for these.
#[test]
fn meals_eaten_cold_and_meals_of_rice_keep_no_longer_than_the_shortest_published_time() {
    let (book, rows) = (Book::shipped().unwrap(), rows());
    let (cold, rice) = (&rows["K054"], &rows["K051"]);
    let mut checks = 0;
    for dish in book.dishes().filter(|d| d.role == Role::Meal) {
        let is_cold = dish.profile.heat.is_some_and(|h| h <= Heat::Room) || dish.profile.form == Some(Form::Salad);
        for (row, applies) in [(cold, is_cold), (rice, dish.profile.starch == Some(Starch::Rice))] {
            let keeps = f64::from(dish.keeps.0);
            assert!(!applies || keeps <= row.high, "{}: {keeps} days; {} {}: {}", dish.id, row.source, row.item, row.high);
            checks += usize::from(applies);
        }
    }
    println!("{checks} dishes checked, all agreeing: {} ({}); {} ({})", cold.item, cold.source, rice.item, rice.source);
    assert!(checks >= 30, "{checks}");
}
