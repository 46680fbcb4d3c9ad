//! Whatever stands in a file of the book, shipped or own: is it read, or refused by file and line, without harm?

use proptest::{prelude::*, sample::Index};
use std::{
    fs,
    path::{Path, PathBuf},
    sync::{Arc, OnceLock},
};
use tranche::{
    book::{Book, CheckFault, Dish, DishId, Kind, KindId, check_book, coverage, entries_without_source},
    judge::{judge, mends_for},
    quantity::Grams,
    rotation::{Rotation, Template, fit},
    store::{Entry, EntryId, OwnBook, OwnChange, Places, read_rotation},
};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The shipped files, by the names that they have in the program.
fn shipped_files() -> Vec<(String, String)> {
    let mut files = Vec::new();
    for folder in ["kinds", "dishes"] {
        for entry in fs::read_dir(root().join("assets/book").join(folder)).unwrap() {
            let path = entry.unwrap().path();
            let name = format!("{folder}/{}", path.file_name().unwrap().to_str().unwrap());
            files.push((name, fs::read_to_string(path).unwrap()));
        }
    }
    files.sort();
    assert!(files.len() >= 50);
    files
}

/// How a text is spoilt.
#[derive(Clone, Debug)]
enum Spoil {
    Cut(Index),
    Put(Index, String),
    TakeOut(Index, u8),
    Double(Index, u8),
    /// Another number in place of one that stands there.
    Number(Index, String),
    /// Another of its words in place of one that stands there.
    Word(Index, Index),
}

fn spoil() -> impl Strategy<Value = Spoil> {
    let bit = prop_oneof![
        any::<char>().prop_map(String::from),
        prop::sample::select(vec![
            "(",
            ")",
            "[",
            "]",
            "{",
            "\"",
            ",",
            ":",
            "/*",
            "//",
            "\\",
            "\0",
            "\u{feff}",
            "r#\"",
            "#![enable()]"
        ])
        .prop_map(String::from),
        prop::sample::select(vec!["(", "[", "{", "/*", "Some("]).prop_map(|open| open.repeat(20_000)),
    ];
    prop_oneof![
        any::<Index>().prop_map(Spoil::Cut),
        (any::<Index>(), bit).prop_map(|(at, text)| Spoil::Put(at, text)),
        (any::<Index>(), any::<u8>()).prop_map(|(at, n)| Spoil::TakeOut(at, n)),
        (any::<Index>(), any::<u8>()).prop_map(|(at, n)| Spoil::Double(at, n)),
        (any::<Index>(), number()).prop_map(|(at, n)| Spoil::Number(at, n)),
        (any::<Index>(), any::<Index>()).prop_map(|(at, with)| Spoil::Word(at, with)),
    ]
}

fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        prop::sample::select(vec![
            "0",
            "1",
            "-1",
            "255",
            "256",
            "1000",
            "1001",
            "32767",
            "-32768",
            "65535",
            "65536",
            "100000",
            "2147483647",
            "4294967295",
            "4294967296",
            "1e6",
            "1e-300",
            "1e400",
            "-0.0",
            "NaN",
            "inf",
            "-inf",
            "0.1",
            "0x7fff",
            "1_000",
            "99999999999999999999",
        ])
        .prop_map(String::from),
        (-70_000i64..70_000).prop_map(|n| n.to_string()),
    ]
}

/// The stretches of `text` whose characters all satisfy `is_in`.
fn stretches(text: &str, is_in: fn(char) -> bool) -> Vec<(usize, usize)> {
    let starts = text.char_indices().filter(|&(i, c)| is_in(c) && !text[..i].ends_with(is_in));
    starts.map(|(i, _)| (i, i + text[i..].find(|c| !is_in(c)).unwrap_or(text.len() - i))).collect()
}

fn spoilt(text: &str, how: &Spoil) -> String {
    let place = |at: &Index, more: usize| {
        let mut at = (at.index(text.len() + 1) + more).min(text.len());
        while !text.is_char_boundary(at) {
            at += 1;
        }
        at
    };
    let replaced = |(from, to): (usize, usize), by: &str| format!("{}{by}{}", &text[..from], &text[to..]);
    match how {
        Spoil::Cut(at) => text[..place(at, 0)].to_string(),
        Spoil::Put(at, what) => replaced((place(at, 0), place(at, 0)), what),
        Spoil::TakeOut(at, n) => replaced((place(at, 0), place(at, usize::from(*n))), ""),
        Spoil::Double(at, n) => {
            let (from, to) = (place(at, 0), place(at, usize::from(*n)));
            replaced((to, to), &text[from..to])
        }
        Spoil::Number(at, by) => {
            let all = stretches(text, |c| c.is_ascii_digit() || c == '.');
            if all.is_empty() { by.clone() } else { replaced(all[at.index(all.len())], by) }
        }
        Spoil::Word(at, with) => {
            let all = stretches(text, |c| c.is_ascii_alphanumeric() || c == '_' || c == '-');
            if all.is_empty() {
                return String::new();
            }
            let (from, to) = all[with.index(all.len())];
            replaced(all[at.index(all.len())], &text[from..to])
        }
    }
}

/// Whether `said` begins with the file's name and a line that the file has, and is one line of a length for people.
fn names_file_and_line(said: &str, file: &str, text: &str) -> Result<(), String> {
    let fail = |why: &str| Err(format!("{why}: {said:?}"));
    let Some(rest) = said.strip_prefix(file) else { return fail("it does not begin with the file") };
    if said.contains('\n') || said.contains('\u{1b}') || said.chars().count() > file.chars().count() + 400 {
        return fail("it is no sentence");
    }
    let line = rest.strip_prefix(", line ").and_then(|r| r.split([',', ':']).next()).and_then(|n| n.parse::<usize>().ok());
    match line {
        Some(line) if (1..=text.split('\n').count().max(1)).contains(&line) => Ok(()),
        Some(_) => fail("the file has no such line"),
        None => fail("it names no line"),
    }
}

/// Looks at a book in every way that a catalogue is looked at.
fn look_through(book: &Book) -> Vec<CheckFault> {
    coverage(book);
    entries_without_source(book);
    assert!(book.kinds().all(|k| book.dishes_for(k).count() <= book.dishes().count()));
    check_book(book)
}

fn harmless(file: &str, text: &str) -> Result<(), String> {
    match Book::read(&[(file, text)]) {
        Err(e) => names_file_and_line(&e.to_string(), file, text),
        Ok(own) => {
            let book = Book::shipped().unwrap().extended_by(own.clone());
            for fault in look_through(&book) {
                let place = fault.place.as_ref().ok_or_else(|| format!("no place: {fault}"))?;
                // A kind that others stand in for may have gone with its family.
                if place.file == file {
                    names_file_and_line(&fault.to_string(), file, text)?;
                }
            }
            Ok(())
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_spoilt_file_of_the_book_is_read_or_refused_by_file_and_line(
        which in any::<Index>(),
        how in prop::collection::vec(spoil(), 1..3),
    ) {
        let files = shipped_files();
        let (file, text) = &files[which.index(files.len())];
        let text = how.iter().fold(text.clone(), |text, how| spoilt(&text, how));
        harmless(file, &text).map_err(TestCaseError::fail)?;
    }

    #[test]
    fn any_text_at_all_is_read_or_refused_by_file_and_line(
        folder in prop::sample::select(vec!["kinds", "dishes"]),
        text in prop_oneof![any::<String>(), "[\\[\\](){}\",:/*a-z0-9.# \n]{0,200}"],
    ) {
        harmless(&format!("{folder}/any.ron"), &text).map_err(TestCaseError::fail)?;
    }
}

#[test]
fn every_file_of_the_book_cut_off_anywhere_is_refused_by_file_and_line() {
    for (file, text) in shipped_files() {
        let end = text.trim_end().len();
        let step = (end / 40).max(1);
        for cut in (0..end).step_by(step).filter(|&cut| text.is_char_boundary(cut)) {
            let said = Book::read(&[(&file, &text[..cut])]).unwrap_err().to_string();
            names_file_and_line(&said, &file, &text[..cut]).unwrap();
        }
    }
}

fn shipped_dish() -> Arc<Dish> {
    let book = Book::shipped().unwrap();
    book.dishes().find(|d| d.name.starts_with("Roast slabs with a sesame")).unwrap().clone()
}

fn shipped_kind() -> Arc<Kind> {
    Book::shipped().unwrap().kind(&KindId::new("red-cabbage").unwrap()).unwrap().clone()
}

/// An own dish and an own kind: the names and the texts of their files, as the program writes them.
fn own_files() -> &'static [(PathBuf, String); 2] {
    static WRITTEN: OnceLock<[(PathBuf, String); 2]> = OnceLock::new();
    WRITTEN.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let places = Places::under(folder.path());
        let mut own = OwnBook::load(&places);
        for entry in [Entry::Dish(shipped_dish()), Entry::Kind(shipped_kind())] {
            own.perform(&OwnChange::Keep(entry)).unwrap();
        }
        [format!("dishes/{}.ron", shipped_dish().id), "kinds/red-cabbage.ron".into()]
            .map(|name| (PathBuf::from(&name), fs::read_to_string(places.data.join("book").join(name)).unwrap()))
    })
}

/// A data folder with both, and the paths of their files.
fn kitchen() -> (tempfile::TempDir, Places, [PathBuf; 2]) {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    let paths = own_files().each_ref().map(|(name, text)| {
        let path = places.data.join("book").join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, text).unwrap();
        path
    });
    (folder, places, paths)
}

/// Reads an own book of which the file at `which` holds `bytes`.
fn own_of(which: usize, spoil: impl Fn(&str) -> Vec<u8>) -> Result<Book, String> {
    let (_folder, places, paths) = kitchen();
    let bytes = spoil(&fs::read_to_string(&paths[which]).unwrap());
    fs::write(&paths[which], &bytes).unwrap();
    let own = OwnBook::load(&places);
    let left = match which {
        0 => EntryId::Kind(shipped_kind().id.clone()),
        _ => EntryId::Dish(shipped_dish().id.clone()),
    };
    if !own.has(&left) {
        return Err("the sound entry is lost".into());
    }
    if own.troubles().len() + own.entries().count() != 2 {
        return Err(format!("neither read nor told of: {:?}", own.troubles()));
    }
    for trouble in own.troubles() {
        let said = trouble.to_string();
        // Of an empty file there is no line to name.
        if !said.contains("the file is empty") {
            names_file_and_line(&said, paths[which].to_str().unwrap(), &String::from_utf8_lossy(&bytes))?;
        }
    }
    if fs::read(&paths[which]).unwrap() != bytes {
        return Err("the file was written to".into());
    }
    Ok(own.book())
}

/// Does everything with a book that the program does.
fn use_all(book: Book) -> Result<(), String> {
    let book = Book::shipped().unwrap().extended_by(book);
    look_through(&book);
    let plan = read_rotation(&root().join("tests/data/red-cabbage-unhappy.rotation.ron")).unwrap().rotation;
    let findings = judge(&plan).findings;
    for finding in findings.iter().filter(|f| f.speaks()).take(3) {
        for mend in mends_for(&plan, &book, finding) {
            tranche::rotation::apply(&plan, &mend.edit).map_err(|e| format!("a mend that cannot be done: {e}"))?;
        }
    }
    let kind = book.kind(&KindId::new("red-cabbage").unwrap()).unwrap();
    let first = jiff::civil::date(2026, 5, 4);
    let laid = fit(&Template::of(&plan), &book, kind.clone(), Grams::new(1_800).unwrap(), plan.household.clone(), first);
    if let Ok(laid) = laid {
        judge(&laid.rotation);
    }
    // As a plan carries it.
    let id: DishId = shipped_dish().id.clone();
    let mut carries: Rotation = plan.clone();
    if let Some(dish) = book.dish(&id) {
        carries.dishes.values_mut().for_each(|d| *d = Arc::new(Dish { id: d.id.clone(), ..(**dish).clone() }));
        if tranche::rotation::validate(&carries).is_ok() {
            judge(&carries);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_spoilt_own_file_costs_nothing_but_itself(which in 0usize..2, how in prop::collection::vec(spoil(), 1..3)) {
        let spoil = |text: &str| how.iter().fold(text.to_string(), |text, how| spoilt(&text, how)).into_bytes();
        own_of(which, spoil).map_err(TestCaseError::fail)?;
    }

    #[test]
    fn any_bytes_in_an_own_file_cost_nothing_but_itself(which in 0usize..2, bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        own_of(which, |_| bytes.clone()).map_err(TestCaseError::fail)?;
    }

    #[test]
    fn an_own_entry_with_any_number_in_it_is_refused_or_used_without_harm(which in 0usize..2, at in any::<Index>(), by in number()) {
        let book = own_of(which, |text| spoilt(text, &Spoil::Number(at, by.clone())).into_bytes());
        use_all(book.map_err(TestCaseError::fail)?).map_err(TestCaseError::fail)?;
    }
}
