//! Is what is printed read back by other people's readers, word for word, and is nothing overwritten unasked?

#[path = "support/weeks.rs"]
mod weeks;

use html5ever::tokenizer::{BufferQueue, Token, TokenSink, TokenSinkResult, Tokenizer, TokenizerOpts};
use icalendar::{Calendar, CalendarDateTime, Component as _, DatePerhapsTime};
use std::{
    cell::RefCell,
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
    process::{Command, Output, Stdio},
    sync::Arc,
};
use tranche::{
    book::Book,
    exchange::print::{Format, calendar, print_sheets},
    lists::{
        Cupboard, Sheet, box_labels, cut_list, cut_sheet, label_sheet, prep_list, prep_sheet, shopping_list, shopping_sheet,
        week_sheet,
    },
    quantity::System,
    rotation::Rotation,
    runsheet::{RunSheet, Wish, clock, run_sheet, run_sheet_page},
};
use weeks::week;

const WEEKS: [&str; 5] = ["red-cabbage-mended", "salmon-mended", "turkey-mended", "tomatoes-mended", "celeriac-mended"];

fn sheets(r: &Rotation) -> Vec<Sheet> {
    let shopping = shopping_list(r, &Cupboard::default(), &Book::shipped().unwrap());
    let labels = box_labels(r);
    vec![
        week_sheet(r, &labels, System::Metric),
        cut_sheet(r, &cut_list(r), System::Metric),
        shopping_sheet(r, &shopping, System::Metric),
        label_sheet(r, &labels, System::Metric),
        prep_sheet(r, &prep_list(r), System::Metric),
    ]
    .into_iter()
    .chain(run_sheets(r).iter().map(|s| run_sheet_page(r, s, System::Metric)))
    .collect()
}

fn run_sheets(r: &Rotation) -> Vec<RunSheet> {
    r.day_numbers().filter_map(|day| run_sheet(r, day, &Wish::default(), &mut ()).ok()).collect()
}

/// A week whose names are full of marks that formats give a meaning to.
fn wild() -> Rotation {
    let mut r = week("red-cabbage-mended");
    r.title = "=SUM(A1);\\, <b>\"Bo's\"</b> & |pipe| \u{1F96C} Ω".into();
    r.household.eaters[1].name = "Bo <script>alert(1)</script>, \"; DROP".into();
    for dish in r.dishes.values_mut() {
        let marked = format!("{} <i>*_&amp;;,\\n|", dish.name);
        Arc::make_mut(dish).name = marked;
    }
    r
}

/// Every word of the sheets in one order: all cells, cards and sentences.
fn words(sheets: &[Sheet]) -> Vec<String> {
    let mut out = Vec::new();
    for s in sheets {
        out.extend([s.title.clone(), s.subtitle.clone()]);
        for section in &s.sections {
            if !section.heading.is_empty() {
                out.push(section.heading.clone());
            }
            out.extend(section.lead.clone());
            out.extend(section.table.iter().flat_map(|t| t.head.iter().chain(t.rows.iter().flatten())).cloned());
            out.extend(section.cards.iter().flat_map(|c| std::iter::once(&c.title).chain(&c.lines)).cloned());
            out.extend(section.notes.clone());
        }
    }
    out.retain(|w| !w.is_empty());
    out
}

fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn html_says_every_word_and_holds_no_mark_of_a_name() {
    for r in WEEKS.map(week).into_iter().chain([wild()]) {
        let sheets = sheets(&r);
        let text = String::from_utf8(print_sheets(&sheets, Format::Html).unwrap()).unwrap();
        let page = scraper::Html::parse_document(&text);
        assert_eq!(complaints(&text), [""; 0]);
        let said: Vec<String> = page
            .select(&scraper::Selector::parse("h1, h2, p, th, td, li, .card").unwrap())
            .flat_map(|e| e.text().map(plain).collect::<Vec<_>>())
            .filter(|t| !t.is_empty())
            .collect();
        assert_eq!(said, words(&sheets).iter().map(|w| plain(w)).collect::<Vec<_>>());
        let none = |css: &str| page.select(&scraper::Selector::parse(css).unwrap()).count() == 0;
        assert!(none("script, img, link, i, [onclick], [href], [src]"), "nothing runs and nothing is fetched");
        assert!(!text.contains("http://") && !text.contains("https://"));
    }
}

/// What a tokenizer that follows the standard complains of.
fn complaints(text: &str) -> Vec<String> {
    struct Ear(RefCell<Vec<String>>);
    impl TokenSink for Ear {
        type Handle = ();
        fn process_token(&self, token: Token, _line: u64) -> TokenSinkResult<()> {
            if let Token::ParseError(error) = token {
                self.0.borrow_mut().push(error.into_owned());
            }
            TokenSinkResult::Continue
        }
    }
    let input = BufferQueue::default();
    input.push_back(text.into());
    let tokenizer = Tokenizer::new(Ear(RefCell::default()), TokenizerOpts { exact_errors: true, ..TokenizerOpts::default() });
    let _ = tokenizer.feed(&input);
    tokenizer.end();
    tokenizer.sink.0.into_inner()
}

#[test]
fn the_table_reads_back_cell_for_cell_and_no_cell_is_a_formula() {
    for r in WEEKS.map(week).into_iter().chain([wild()]) {
        let sheets = sheets(&r);
        let bytes = print_sheets(&sheets, Format::Csv).unwrap();
        let mut read = csv::ReaderBuilder::new().has_headers(false).from_reader(bytes.as_slice());
        let records: Vec<csv::StringRecord> = read.records().map(|r| r.unwrap()).collect();
        let lengths: BTreeSet<usize> = records.iter().map(csv::StringRecord::len).collect();
        assert_eq!(lengths.len(), 1, "every record has as many fields");
        let mut rows = Vec::new();
        for s in &sheets {
            for section in &s.sections {
                let mut put = |cells: Vec<String>| rows.push([vec![s.title.clone(), section.heading.clone()], cells].concat());
                section.table.iter().for_each(|t| {
                    put(t.head.clone());
                    t.rows.iter().for_each(|r| put(r.clone()));
                });
                section.cards.iter().for_each(|c| put([vec![c.title.clone()], c.lines.clone()].concat()));
            }
        }
        assert_eq!(records.len(), rows.len());
        for (record, row) in records.iter().zip(&rows) {
            for (i, cell) in record.iter().enumerate() {
                assert!(!cell.starts_with(['=', '+', '@', '\t', '\r']), "{cell}");
                let wanted = row.get(i).map_or("", String::as_str).replace('\u{a0}', " ");
                assert!(cell == wanted || *cell == format!("'{wanted}"), "{cell} for {wanted}");
            }
        }
        assert!(bytes.windows(2).filter(|w| w == b"\r\n").count() >= records.len());
    }
}

#[test]
fn the_calendar_has_every_meal_at_its_hour_and_the_last_day_of_every_box() {
    for r in WEEKS.map(week).into_iter().chain([wild()]) {
        let labels = box_labels(&r);
        let cooking = run_sheets(&r);
        let text = calendar(&r, &labels, &cooking, System::Metric);
        for line in text.split("\r\n") {
            assert!(line.len() <= 75, "{line}");
            assert!(!line.contains(['\n', '\r']));
        }
        assert!(text.ends_with("END:VCALENDAR\r\n"));
        let read: Calendar = text.parse().unwrap();
        let events: Vec<_> = read.components.iter().filter_map(|c| c.as_event()).collect();
        let ids: BTreeSet<_> = events.iter().map(|e| e.get_uid().unwrap()).collect();
        assert_eq!(ids.len(), events.len(), "every entry has an id of its own");
        let of = |kind: &str| events.iter().filter(|e| e.get_uid().unwrap().starts_with(kind)).collect::<Vec<_>>();
        let meals: Vec<_> = r.slots().filter(|s| !r.meal(*s).servings.is_empty()).collect();
        assert_eq!(of("meal-").len(), meals.len());
        for (event, slot) in of("meal-").into_iter().zip(meals) {
            let at = r.mealtimes.iter().find(|m| m.id == slot.mealtime).and_then(|m| m.at).unwrap();
            let Some(DatePerhapsTime::DateTime(CalendarDateTime::Floating(start))) = event.get_start() else {
                panic!("{:?} is no floating time", event.get_start())
            };
            assert_eq!(start.to_string(), format!("{} {at}", r.date(slot.day)));
            let summary = event.get_summary().unwrap();
            for serving in &r.meal(slot).servings {
                assert!(summary.contains(&r.dish_of(serving.batch).unwrap().name), "{summary}");
            }
        }
        assert_eq!(of("cook-").len(), cooking.len());
        for (event, sheet) in of("cook-").into_iter().zip(&cooking) {
            let Some(DatePerhapsTime::DateTime(CalendarDateTime::Floating(start))) = event.get_start() else {
                panic!("{:?} is no floating time", event.get_start())
            };
            assert_eq!(start.to_string(), format!("{} {}:00", r.date(sheet.day), clock(sheet.summary.start)));
            assert!(event.get_description().unwrap().lines().count() > 3);
        }
        let boxes = of("box-");
        assert_eq!(boxes.len(), labels.len());
        for (event, label) in boxes.into_iter().zip(&labels) {
            let Some(DatePerhapsTime::Date(day)) = event.get_start() else { panic!("a last day is a day") };
            assert_eq!(day.to_string(), r.date(label.eat_by).to_string());
            assert_eq!(event.get_summary(), Some(format!("Last day: {}", label.what).as_str()));
        }
        assert_eq!(text.matches("BEGIN:VALARM").count(), labels.len());
        assert_eq!(text, calendar(&r, &labels, &cooking, System::Metric), "the same plan gives the same bytes");
    }
}

#[test]
fn markdown_has_as_many_cells_in_every_row_as_its_table_has_columns() {
    for r in WEEKS.map(week).into_iter().chain([wild()]) {
        let sheets = sheets(&r);
        let text = String::from_utf8(print_sheets(&sheets, Format::Markdown).unwrap()).unwrap();
        let bars = |line: &str| line.replace("\\|", "").matches('|').count();
        let mut rows = text.lines().filter(|l| l.starts_with('|'));
        for table in sheets.iter().flat_map(|s| &s.sections).filter_map(|s| s.table.as_ref()) {
            for _ in 0..table.rows.len() + 2 {
                assert_eq!(rows.next().map(bars), Some(table.head.len() + 1));
            }
        }
        assert_eq!(rows.next(), None);
        assert!(!text.contains("<script") && !text.contains("<i>"));
    }
}

#[test]
fn the_drawing_is_well_formed_and_the_picture_has_every_page() {
    let r = wild();
    let text = String::from_utf8(print_sheets(&sheets(&r), Format::Svg).unwrap()).unwrap();
    // A strict reader of XML refuses any mark that was left.
    let drawing = resvg::usvg::roxmltree::Document::parse(&text).unwrap();
    let pages = drawing.root_element().children().filter(|n| n.has_tag_name("g")).count();
    assert!(pages >= 5, "each list begins a page");
    let said: String = drawing.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
    assert!(said.contains("<script>alert(1)</script>"), "a name stands as it is");

    let picture = print_sheets(&sheets(&r), Format::Png).unwrap();
    let drawn = resvg::tiny_skia::Pixmap::decode_png(&picture).unwrap();
    assert_eq!((drawn.width(), drawn.height()), (1_191, (841.89 * 2.0 * pages as f32).ceil() as u32));
    let dark = drawn.pixels().iter().filter(|p| p.red() < 100).count();
    assert!(dark > 10_000, "the letters are there: {dark}");
    assert!(drawn.pixels().iter().all(|p| p.red() == p.green() && p.green() == p.blue()), "black and white");
}

#[test]
fn the_pdf_gives_its_words_back() {
    for name in WEEKS {
        let sheets = sheets(&week(name));
        let bytes = print_sheets(&sheets, Format::Pdf).unwrap();
        assert!(bytes.starts_with(b"%PDF-1."));
        assert_eq!(bytes, print_sheets(&sheets, Format::Pdf).unwrap(), "the same plan gives the same bytes");
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("week.pdf");
        fs::write(&file, &bytes).unwrap();
        let Ok(read) = Command::new("pdftotext").arg(&file).arg("-").output() else {
            println!("pdftotext is not here: the words of the PDF were not read back");
            return;
        };
        assert!(read.status.success());
        let letters = |t: &str| t.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        let said = letters(std::str::from_utf8(&read.stdout).unwrap());
        for sheet in &sheets {
            assert!(said.contains(&letters(&sheet.title)), "{name}: {}", sheet.title);
            for card in sheet.sections.iter().flat_map(|s| &s.cards) {
                assert!(said.contains(&letters(&card.title)), "{name}: {}", card.title);
            }
            for cell in sheet.sections.iter().filter_map(|s| s.table.as_ref()).flat_map(|t| t.rows.iter().map(|r| &r[0])) {
                assert!(said.contains(&letters(cell)), "{name}: {cell}");
            }
        }
    }
}

/// A folder that holds everything that the program may touch.
struct Kitchen(tempfile::TempDir);

impl Kitchen {
    fn run(&self, args: &[&str]) -> Output {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tranche"));
        command.current_dir(self.0.path()).env_clear().env("HOME", self.0.path().join("home")).stdin(Stdio::null());
        command.args(args).output().unwrap()
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }
}

fn file() -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/red-cabbage-mended.rotation.ron").display().to_string()
}

#[test]
fn every_format_is_written_and_none_over_another_unasked() {
    let kitchen = Kitchen(tempfile::tempdir().unwrap());
    for (end, starts) in [
        ("pdf", &b"%PDF"[..]),
        ("html", b"<!DOCTYPE html>"),
        ("md", b"# "),
        ("ics", b"BEGIN:VCALENDAR"),
        ("csv", b"Red cabbage"),
        ("svg", b"<svg "),
        ("png", b"\x89PNG"),
    ] {
        let out = format!("week.{end}");
        let done = kitchen.run(&["print", &file(), "-o", &out]);
        assert_eq!(done.status.code(), Some(0), "{end}: {}", String::from_utf8_lossy(&done.stderr));
        assert!(fs::read(kitchen.path(&out)).unwrap().starts_with(starts), "{end}");
        fs::write(kitchen.path(&out), "mine").unwrap();
        let again = kitchen.run(&["print", &file(), "-o", &out]);
        assert_eq!(again.status.code(), Some(1), "{end}");
        assert!(String::from_utf8_lossy(&again.stderr).contains("--force"));
        assert_eq!(fs::read(kitchen.path(&out)).unwrap(), b"mine");
        assert_eq!(kitchen.run(&["print", &file(), "-o", &out, "--force"]).status.code(), Some(0));
    }
    for wrong in
        [&["-o", "week.docx"][..], &["-o", "week"], &[], &["-o", "a.ics", "--only", "cut"], &["-o", "a.md", "--only", "x"]]
    {
        let done = kitchen.run(&[&["print", &file()][..], wrong].concat());
        assert_eq!(done.status.code(), Some(2), "{wrong:?}");
        assert!(done.stdout.is_empty() && !done.stderr.is_empty());
    }
    let only = kitchen.run(&["print", &file(), "-o", "a.md", "--only", "cut,prep,runsheet", "--units", "us", "--json"]);
    assert_eq!(only.status.code(), Some(0));
    let text = fs::read_to_string(kitchen.path("a.md")).unwrap();
    assert!(
        text.starts_with("# Cut list")
            && text.contains("# Prep list")
            && text.contains("# Run sheet, Wednesday")
            && !text.contains("# Shopping")
            && text.contains("oz")
    );
}

#[test]
fn the_lists_are_told_with_stable_keys() {
    let kitchen = Kitchen(tempfile::tempdir().unwrap());
    let keys = |value: &serde_json::Value| value.as_object().unwrap().keys().cloned().collect::<Vec<_>>();
    for (sort, top) in [
        ("cut", &["cautions", "days", "one_block", "parts", "trim"][..]),
        ("shopping", &["allergens", "lines", "piece", "spoils", "trips"]),
        ("labels", &["labels"]),
        ("prep", &["days"]),
    ] {
        let done = kitchen.run(&["list", &file(), sort, "--json"]);
        assert_eq!(done.status.code(), Some(0), "{}", String::from_utf8_lossy(&done.stderr));
        let value: serde_json::Value = serde_json::from_slice(&done.stdout).unwrap();
        let mut found = keys(&value);
        found.sort();
        assert_eq!(found, top);
        let text = kitchen.run(&["list", &file(), sort, "--units", "us"]);
        assert_eq!(text.status.code(), Some(0));
        assert!(String::from_utf8_lossy(&text.stdout).contains("oz"), "{sort}");
    }
    // What is in the house is not bought.
    let cupboard = kitchen.path("home/.local/share/tranche/cupboard.ron");
    fs::create_dir_all(cupboard.parent().unwrap()).unwrap();
    fs::write(&cupboard, "(version: 1, cupboard: (items: [(name: \"rice\"), (name: \"onion\", amount: Some(50.0))]))").unwrap();
    let need = |args: &[&str], name: &str| {
        let done = kitchen.run(&[&["list", &file(), "shopping", "--json"][..], args].concat());
        let value: serde_json::Value = serde_json::from_slice(&done.stdout).unwrap();
        let line = value["lines"].as_array().unwrap().iter().find(|l| l["name"] == name).unwrap().clone();
        (line["from"].as_str().unwrap().to_string(), line["get"].as_f64().unwrap())
    };
    assert_eq!(need(&[], "rice"), ("in the house".into(), 0.0));
    assert_eq!(need(&[], "onion"), ("greengrocer".into(), 70.0));
    assert_eq!(need(&["--empty-cupboard"], "onion"), ("greengrocer".into(), 120.0));
    assert_eq!(kitchen.run(&["list", &file(), "cut", "--empty-cupboard"]).status.code(), Some(2));
    assert_eq!(kitchen.run(&["list", &file(), "shopping", "--cupboard", "none.ron"]).status.code(), Some(1));
    assert_eq!(kitchen.run(&["list", &file(), "menu"]).status.code(), Some(2));
}
