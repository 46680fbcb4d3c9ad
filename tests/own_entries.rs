//! Do the commands know the cook's own kinds and dishes, say which file is broken, and go on without it?

#![cfg(target_os = "linux")]

use serde_json::Value;
use std::{
    fs,
    io::Write as _,
    path::{Path, PathBuf},
    process::{Command, Output, Stdio},
    sync::Arc,
};
use tranche::{
    book::{Book, Dish, DishId, Kind, KindId},
    store::{Entry, OwnBook, OwnChange, Places},
};

/// A cook with a data folder of their own, and nothing else of this machine's.
struct Cook(tempfile::TempDir);

impl Cook {
    fn new() -> Cook {
        Cook(tempfile::tempdir().unwrap())
    }

    fn data(&self) -> PathBuf {
        self.0.path().join("data")
    }

    fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tranche"));
        command.args(args).current_dir(self.0.path()).env_clear();
        command.env("XDG_DATA_HOME", self.data()).env("HOME", self.0.path().join("home"));
        command
    }

    fn run(&self, args: &[&str]) -> Output {
        self.command(args).stdin(Stdio::null()).output().unwrap()
    }

    fn given(&self, args: &[&str], input: &[u8]) -> Output {
        let mut command = self.command(args);
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().unwrap();
        let mut pipe = child.stdin.take().unwrap();
        // Who is refused before the end may close the pipe.
        let _ = pipe.write_all(input);
        drop(pipe);
        child.wait_with_output().unwrap()
    }

    fn keep(&self, entry: Entry) {
        let places = Places { data: self.data().join("tranche"), ..Places::under(self.0.path()) };
        OwnBook::load(&places).perform(&OwnChange::Keep(entry)).unwrap();
    }

    /// A dish's file that breaks off, and the start of what is said of it.
    fn keep_a_broken_one(&self) -> String {
        let folder = self.data().join("tranche/book/dishes");
        fs::create_dir_all(&folder).unwrap();
        fs::write(folder.join("spoilt.ron"), "(version: 1,\ndish: (\nnam: \"x\"))").unwrap();
        format!("tranche: {}, line 3, column ", folder.join("spoilt.ron").display())
    }
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).unwrap()
}

fn week(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(format!("{name}.rotation.ron"));
    path.to_str().unwrap().to_string()
}

/// A dish that the mends of the unhappy cabbage week propose, under another name.
fn own_slabs() -> (String, Arc<Dish>) {
    let book = Book::shipped().unwrap();
    let dish = book.dishes().find(|d| d.name.starts_with("Roast slabs with a sesame")).unwrap();
    (dish.name.clone(), Arc::new(Dish { name: "Grandmother's slabs".into(), ..(**dish).clone() }))
}

fn own_kind() -> Arc<Kind> {
    let book = Book::shipped().unwrap();
    let celeriac = book.kind(&KindId::new("celeriac").unwrap()).unwrap();
    Arc::new(Kind { id: KindId::new("garden-root").unwrap(), name: "garden root".into(), ..(**celeriac).clone() })
}

#[test]
fn mends_of_check_and_report_come_out_of_the_own_book_first() {
    let cook = Cook::new();
    let (shipped, own) = own_slabs();
    let file = week("red-cabbage-unhappy");
    let said = |args: &[&str]| {
        let out = cook.run(args);
        assert!(out.status.code() == Some(4) && out.stderr.is_empty(), "{}", text(&out.stderr));
        text(&out.stdout).to_string()
    };
    let before = said(&["check", &file]);
    assert!(before.contains(&shipped));
    cook.keep(Entry::Dish(own.clone()));
    for task in ["check", "report"] {
        for manner in [&[][..], &["--json"]] {
            let args = [&[task, file.as_str()][..], manner].concat();
            let with = said(&args);
            assert!(with.contains(&own.name) && !with.contains(&shipped), "{args:?}: the own dish hides the shipped one");
            let without = said(&[&args[..], &["--shipped-only"]].concat());
            assert!(without.contains(&shipped) && !without.contains(&own.name), "{args:?}");
        }
    }
    assert_eq!(said(&["--shipped-only", "check", &file]), before);
}

#[test]
fn a_shape_is_laid_on_an_own_kind_and_takes_own_dishes() {
    let cook = Cook::new();
    cook.keep(Entry::Kind(own_kind()));
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/demo.rotation.ron");
    let made = cook.run(&["template", "make", demo.to_str().unwrap(), "-o", "t.template.ron"]);
    assert_eq!(made.status.code(), Some(0), "{}", text(&made.stderr));
    let args = ["template", "fit", "t.template.ron", "--kind", "garden-root", "--grams", "1.3kg", "--json"];
    let fit = || cook.run(&args);
    let out = fit();
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let laid: Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(laid["kind"], "garden-root");
    let chosen = laid["slots"].as_array().unwrap().iter().find_map(|s| s["dish"].as_str()).unwrap().to_string();
    let book = Book::shipped().unwrap();
    let dish = book.dishes().find(|d| d.name == chosen).unwrap();
    cook.keep(Entry::Dish(Arc::new(Dish { name: "My way with it".into(), ..(**dish).clone() })));
    let again = fit();
    assert!(text(&again.stdout).contains("My way with it") && !text(&again.stdout).contains(&chosen));
    let without = cook.run(&[&args[..], &["--shipped-only"]].concat());
    assert_eq!(without.status.code(), Some(2), "the shipped book has no such kind");
    assert!(text(&without.stderr).contains("the book has no kind \"garden-root\""), "{}", text(&without.stderr));
}

#[test]
fn the_book_lists_shows_and_checks_own_entries_unless_only_the_shipped_ones_are_asked_for() {
    let cook = Cook::new();
    let (_, own) = own_slabs();
    cook.keep(Entry::Dish(Arc::new(Dish { id: DishId::new("own-slabs").unwrap(), sources: Vec::new(), ..(*own).clone() })));
    cook.keep(Entry::Kind(own_kind()));
    let list = cook.run(&["book", "list"]);
    let listed = text(&list.stdout);
    assert!(listed.contains("own-slabs") && listed.contains("garden-root"), "{listed}");
    assert_eq!(cook.run(&["book", "show", "garden-root"]).status.code(), Some(0));
    let check = cook.run(&["book", "check"]);
    assert_eq!(check.status.code(), Some(1), "an own dish without a source is a fault");
    assert!(text(&check.stdout).contains("own-slabs: no source is named"), "{}", text(&check.stdout));
    for (args, code) in [(&["book", "list"][..], 0), (&["book", "check"], 0), (&["book", "show", "garden-root"], 2)] {
        let out = cook.run(&[args, &["--shipped-only"]].concat());
        assert_eq!(out.status.code(), Some(code), "{args:?}");
        assert!(!text(&out.stdout).contains("own-slabs"), "{args:?}");
    }
}

#[test]
fn a_broken_own_file_is_told_of_in_one_sentence_and_stops_nothing() {
    let cook = Cook::new();
    let (_, own) = own_slabs();
    cook.keep(Entry::Dish(own.clone()));
    let file = week("red-cabbage-unhappy");
    let calls: [(&[&str], i32); 6] = [
        (&["check", &file], 4),
        (&["report", &file, "--json"], 4),
        (&["book", "list"], 0),
        (&["book", "list", "--json"], 0),
        (&["book", "show", own.id.as_str()], 0),
        (&["book", "check"], 1),
    ];
    let before: Vec<Output> = calls.iter().map(|(args, _)| cook.run(args)).collect();
    let told = cook.keep_a_broken_one();
    for ((args, code), before) in calls.iter().zip(before) {
        let out = cook.run(args);
        assert_eq!(out.status.code(), Some(*code), "{args:?}");
        let said = text(&out.stderr);
        assert!(said.starts_with(&told) && said.lines().count() == 1, "{args:?}: {said}");
        if args[0] != "book" {
            assert_eq!(out.stdout, before.stdout, "{args:?}: all others are read");
        }
        let only = cook.run(&[args, &["--shipped-only"][..]].concat());
        assert!(only.stderr.is_empty(), "{args:?}: {}", text(&only.stderr));
    }
    // What asks for no book is not bothered with it.
    let lines = cook.given(&["lab", "quantity", "-"], b"2 onions\n");
    assert!(lines.status.code() == Some(0) && lines.stderr.is_empty());
}

#[test]
fn a_rotation_comes_from_standard_input_as_from_its_file() {
    let cook = Cook::new();
    for name in ["red-cabbage-unhappy", "salmon-mended"] {
        let file = week(name);
        let bytes = fs::read(&file).unwrap();
        for task in ["check", "report"] {
            let (named, piped) = (cook.run(&[task, &file]), cook.given(&[task, "-"], &bytes));
            assert_eq!(
                (piped.status, &piped.stdout, &piped.stderr),
                (named.status, &named.stdout, &named.stderr),
                "{task} {name}"
            );
        }
    }
    let text_of = |input: &[u8]| {
        let out = cook.given(&["check", "-"], input);
        assert!(out.status.code() == Some(1) && out.stdout.is_empty());
        let said = text(&out.stderr).to_string();
        assert_eq!(said.lines().count(), 1, "{said}");
        said
    };
    assert!(text_of(b"").starts_with("tranche: standard input: the file is empty"));
    assert!(text_of(b"(version: 1,\n tittle: \"x\")").starts_with("tranche: standard input, line 2, column "));
    assert!(text_of(b"(version: 99)").contains("newer Tranche"));
    assert!(text_of(b"\n\xff").contains("standard input, line 2: this is no text"));
    assert!(text_of(&vec![b' '; 17 << 20]).contains("16,777,216 bytes"));
    assert_eq!(fs::read_dir(cook.0.path()).unwrap().count(), 0, "nothing is written");
}
