//! Are files read and written so that nothing is lost, whatever is in them?

mod fixture;

use fixture::{dishes, plan, slot};
use proptest::prelude::*;
use std::{
    fs,
    path::{Path, PathBuf},
    sync::Arc,
};
use tranche::{
    quantity::{DayNo, Grams},
    rotation::{EaterId, Edit, FindingKey, Frozen, FrozenStay, Kitchen, PieceEdit, Rotation, ServeFrom, Storage, apply},
    store::{
        MAX_FILE_BYTES, Places, Recent, RecoveryStore, Scale, Settings, StoreError, check_unchanged, load_household, plan_id,
        read_rotation, rotation_from_text, rotation_to_text, save_household, save_rotation, write_whole,
    },
};

fn read(text: &str) -> Result<Rotation, StoreError> {
    rotation_from_text(Path::new("plan.rotation.ron"), text)
}

/// Some edit; many are refused, which is fine.
fn edit() -> impl Strategy<Value = Edit> {
    let place = || (1i16..7, 1u8..3).prop_map(|(d, m)| slot(d, m));
    prop_oneof![
        "\\PC{0,40}".prop_map(Edit::SetTitle),
        (0usize..5, place(), prop::option::of(1u32..400)).prop_map(|(i, slot, grams)| Edit::Serve {
            dish: Arc::new(dishes()[i].clone()),
            from: ServeFrom::BestPart,
            slot,
            portion: grams.map(fixture::prepared),
        }),
        (place(), place()).prop_map(|(a, b)| Edit::SwapMeals(a, b)),
        (place(), 1u16..4, any::<bool>()).prop_map(|(slot, e, present)| Edit::SetPresent { slot, eater: EaterId(e), present }),
        (0u32..5_000).prop_map(|g| Edit::Piece(PieceEdit::Mass(Grams::clamped(g)))),
        (0u32..400)
            .prop_map(|g| Edit::Piece(PieceEdit::GiveAway(tranche::book::PartId::new("middle").unwrap(), fixture::prepared(g)))),
        (1u32..6, -2i16..6).prop_map(|(b, d)| Edit::SetBatchDay { batch: tranche::rotation::BatchId(b), day: DayNo(d) }),
        (any::<bool>(), 0i8..24).prop_map(|(freezer, hour)| {
            let opened_at = freezer.then(|| jiff::civil::time(hour, 0, 0, 0));
            Edit::SetStorage(Storage { freezer, opened_at, ..Storage::default() })
        }),
        (1u32..6, 0i16..6, 1i16..9).prop_map(|(b, from, to)| {
            let what = Frozen::Batch(tranche::rotation::BatchId(b));
            Edit::Freeze(FrozenStay { what, from: DayNo(from), to: DayNo(to) })
        }),
        Just(Edit::AddDay),
        (1u8..7, 0u8..9, any::<bool>()).prop_map(|(cooks, rings, fan)| Edit::SetKitchen(Kitchen {
            cooks,
            rings,
            fan,
            ..Kitchen::default()
        })),
        "\\PC{0,40}".prop_map(|reason| Edit::Overrule { finding: FindingKey("likeness/a/b".into()), reason }),
        "\\PC{1,20}".prop_map(|n| Edit::AddEater(fixture::eater(0, &n, 125))),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn what_is_saved_is_what_is_read(edits in prop::collection::vec(edit(), 0..25)) {
        let mut plan = plan();
        for edit in edits {
            if let Ok(done) = apply(&plan, &edit) {
                plan = done.rotation;
            }
        }
        let text = rotation_to_text(&plan);
        let back = read(&text).map_err(|e| TestCaseError::fail(format!("{e}\n{text}")))?;
        prop_assert_eq!(&back, &plan);
        prop_assert_eq!(rotation_to_text(&back), text);
    }

    #[test]
    fn a_plan_with_any_number_in_it_is_judged_or_refused(
        which in any::<prop::sample::Index>(),
        number in prop_oneof![-40_000i64..40_000, any::<i32>().prop_map(i64::from), 0i64..10],
    ) {
        let text = rotation_to_text(&plan());
        let digit = |c: char| c.is_ascii_digit();
        let starts: Vec<usize> = text
            .match_indices(digit)
            .map(|(i, _)| i)
            .filter(|&i| i == 0 || !text[..i].ends_with(digit))
            .collect();
        let at = starts[which.index(starts.len())];
        let end = at + text[at..].find(|c| !digit(c)).unwrap();
        if let Ok(plan) = read(&format!("{}{number}{}", &text[..at], &text[end..])) {
            tranche::judge::judge(&plan);
            let template = tranche::rotation::Template::of(&plan);
            template.check().map_err(|e| TestCaseError::fail(e.what))?;
        }
    }

    #[test]
    fn a_plan_with_one_byte_changed_is_read_or_refused(at in any::<prop::sample::Index>(), byte in 0u8..128) {
        let mut bytes = rotation_to_text(&plan()).into_bytes();
        let at = at.index(bytes.len());
        bytes[at] = byte;
        if let Ok(text) = String::from_utf8(bytes)
            && let Err(e) = read(&text)
        {
            prop_assert!(e.to_string().starts_with("plan.rotation.ron"), "{}", e);
        }
    }
}

#[test]
fn the_file_reads_well() {
    let text = rotation_to_text(&plan());
    assert!(
        text.starts_with("(\n    version: 1,\n    title: \"The cabbage week\",\n    first_day: \"2026-03-09\",\n    days: 4,\n")
    );
    let keys: Vec<&str> = text.lines().filter(|l| l.starts_with("    ") && !l.starts_with("     ")).collect();
    let keys: Vec<&str> = keys.iter().filter_map(|l| l.trim().split_once(": ").map(|(k, _)| k)).collect();
    let order = "version title first_day days mealtimes kind piece household dishes batches meals overruled";
    assert_eq!(keys.join(" "), order);
    assert!(text.contains("\n        (day: 1, mealtime: 1, servings: [(batch: 1, portion: Prepared(330))]),\n"), "{text}");
    assert!(text.lines().all(|l| l.chars().count() <= 130), "a line is too wide");
    let dishes: Vec<&str> = text.lines().filter(|l| l.starts_with("            id: ")).collect();
    assert!(dishes.is_sorted(), "{dishes:?}");
}

/// The text of a plan with `from` put in place of the first `to`, and what must be said of it.
const SPOILT: &[(&str, &str, &str)] = &[
    ("version: 1,", "version: 7,", "line 2: written by a newer Tranche (version 7); this one reads up to 1"),
    ("version: 1,", "version: 0,", "line 2: there is no version 0"),
    ("version: 1,", "", "line 3: this does not begin with"),
    ("mass: 1800", "mass: -5", "column 16: -5 is not a number of grams: write a whole number from 0 to 200000"),
    ("mass: 1800", "mass: 999999", "999999 is not a number of grams"),
    ("Prepared(330)", "Prepared(-330)", "-330 is not a number of grams"),
    ("dish: \"charred-wedges\"", "dish: \"burnt\"", "batch 4 makes the dish \"burnt\", which the file does not hold"),
    ("opened: 1", "opend: 1", "there is no field \"opend\" here; did you mean \"opened\"?"),
    ("    days: 4,\n", "", "the field \"days\" is missing"),
    ("days: 4,", "days: 4, days: 4,", "line 5, column 14: the field \"days\" stands twice"),
    ("days: 4,", "days: 99999999,", "line 5, column 11: this number is too large"),
    ("days: 4,", "days: 400,", "line 5: 400 days are planned"),
    ("days: 4,", "days: four,", "line 5, column 11: a whole number should stand here"),
    ("condition: Sound", "condition: Soundy", "there is no word \"Soundy\" here; did you mean \"Sound\"?"),
    ("(Crunchy, 1.0)", "(Crunchy, NaN)", "a grade of texture is NaN; write a number from 0 to 1"),
    ("(Crunchy, 1.0)", "(Crunchy, inf)", "a grade of texture is inf"),
    ("per_unit: 0.5", "per_unit: -0.5", "the amount of a companion is -0.5"),
    ("per_unit: 0.5", "per_unit: NaN", "the amount of a companion is NaN"),
    ("units: 0.6", "units: NaN", "NaN is not a portion unit"),
    ("(id: 4, dish", "(id: 2, dish", "the batch 2 stands twice"),
    ("(id: 3, name: \"Kim\"", "(id: 1, name: \"Kim\"", "the eater 1 stands twice"),
    ("(id: 1, name: \"supper\"", "(id: 2, name: \"supper\"", "the mealtime 2 stands twice"),
    ("id: \"pickle\"", "id: \"braise\"", "the dish braise stands twice"),
    ("(day: 2, mealtime: 1", "(day: 1, mealtime: 1", "mealtime 1 of day 1 stands twice"),
    ("\"The cabbage week\"", "\"The \\u{7} week\"", "line 3: the title has the control character U+0007"),
    ("\"Kim\"", "\"K\\u{1b}[31mim\"", "the name of an eater has the control character U+001B"),
    ("id: \"red-cabbage\"", "id: \"../../etc\"", "cannot be the id of a kind"),
    ("    ],\n)\n", "    ],\n) more", "something stands behind the end"),
];

#[test]
fn every_sort_of_spoilt_file_is_refused_in_one_sentence_with_its_line() {
    let text = rotation_to_text(&plan());
    for (from, to, said) in SPOILT {
        let spoilt = text.replacen(from, to, 1);
        assert_ne!(spoilt, text, "{from} is not in the text");
        let error = read(&spoilt).expect_err(to).to_string();
        assert!(error.contains(said), "{to}:\n  {error}\n  should say: {said}");
        let line = error.strip_prefix("plan.rotation.ron, line ").expect("the file and the line come first");
        let line: usize = line.split([',', ':']).next().unwrap().parse().unwrap();
        let lines: Vec<&str> = spoilt.lines().collect();
        let (new, gone) = (to.trim().lines().last().unwrap_or(""), to.is_empty());
        assert!(gone || lines[line - 1].contains(new), "{to}: line {line} is {:?}\n  {error}", lines[line - 1]);
        assert!(!error.contains('\n') && error.chars().count() < 260, "{error}");
    }
    // Said where the batch stands, not where it is served.
    let more = text.replace("(batch: 1, portion: Prepared(330)", "(batch: 1, portion: Prepared(331)");
    let said = read(&more).unwrap_err().to_string();
    let line = 1 + text[..text.find("(id: 1, dish: \"slaw\"").unwrap()].matches('\n').count();
    assert!(
        said.contains(&format!("line {line}: 331\u{a0}g of Lime slaw is served, but only 330\u{a0}g goes into it")),
        "{said}"
    );
    let long = text.replace("\"Kim\"", &format!("\"{}\"", "K".repeat(201)));
    assert!(read(&long).unwrap_err().to_string().contains("201 characters long; 200 is the most"));
    let deep = text.replace("dishes: [", &format!("dishes: [{}", "[".repeat(5_000)));
    assert!(read(&deep).unwrap_err().to_string().contains("line 50, column "), "{}", read(&deep).unwrap_err());
    let deep = format!("(version: 1, title: {}", "(".repeat(100_000));
    assert!(read(&deep).is_err());
}

#[test]
fn a_file_cut_off_anywhere_is_refused_with_its_line() {
    let text = rotation_to_text(&plan());
    let end = text.trim_end().len();
    for cut in (0..end).filter(|&c| text.is_char_boundary(c)) {
        let error = read(&text[..cut]).expect_err("half a plan was taken for a whole one").to_string();
        assert!(error.starts_with("plan.rotation.ron, line "), "{error}");
    }
}

#[test]
fn whatever_is_no_plan_is_refused_by_what_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let make = |name: &str, bytes: &[u8]| {
        fs::write(at(name), bytes).unwrap();
        at(name)
    };
    let said = |path: &PathBuf| read_rotation(path).unwrap_err().to_string();
    assert!(said(&at("none")).ends_with("none: there is no such file; check the name"));
    assert!(said(&folder.path().to_path_buf()).contains("this is a folder"));
    assert!(said(&make("empty", b"")).contains("the file is empty"));
    assert!(said(&make("binary", b"(version: 1,\n\x00\x01")).contains("line 2: this is no text"));
    assert!(said(&make("latin", b"(version: 1,\ntitle: \"caf\xe9\"")).contains("line 2: this is no text"));
    assert!(said(&make("blank", b" \n\n")).contains("line 3: this does not begin with"));
    let big = at("big");
    fs::File::create(&big).unwrap().set_len(50 * 1024 * 1024).unwrap();
    assert!(said(&big).contains("over 16,777,216 bytes"));
    let below = make("below", &vec![b' '; MAX_FILE_BYTES as usize]);
    assert!(said(&below).contains("does not begin with"));
}

#[cfg(unix)]
#[test]
fn pipes_links_and_rights_are_respected() {
    use std::os::unix::fs::{PermissionsExt as _, symlink};
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    assert!(std::process::Command::new("mkfifo").arg(at("pipe")).status().unwrap().success());
    assert!(read_rotation(&at("pipe")).unwrap_err().to_string().contains("this is a pipe, socket or device"));
    assert!(write_whole(&at("pipe"), b"x").is_err());
    assert!(write_whole(&at("no/such/folder"), b"x").unwrap_err().to_string().contains("the folder is not there"));

    fs::create_dir(at("real")).unwrap();
    fs::write(at("real/plan"), "old").unwrap();
    fs::set_permissions(at("real/plan"), fs::Permissions::from_mode(0o640)).unwrap();
    symlink("real/plan", at("link")).unwrap();
    symlink("link", at("chain")).unwrap();
    save_rotation(&at("chain"), &plan()).unwrap();
    assert!(at("chain").symlink_metadata().unwrap().is_symlink() && at("link").symlink_metadata().unwrap().is_symlink());
    assert_eq!(read_rotation(&at("real/plan")).unwrap().rotation, plan());
    assert_eq!(fs::metadata(at("real/plan")).unwrap().permissions().mode() & 0o777, 0o640);
    symlink("real/new", at("dangling")).unwrap();
    write_whole(&at("dangling"), b"x").unwrap();
    assert_eq!(fs::read(at("real/new")).unwrap(), b"x");
    symlink("circle", at("circle")).unwrap();
    assert!(write_whole(&at("circle"), b"x").is_err());

    fs::set_permissions(at("real/plan"), fs::Permissions::from_mode(0o440)).unwrap();
    assert!(save_rotation(&at("real/plan"), &plan()).unwrap_err().to_string().contains("marked read-only"));
    assert_eq!(fs::read_dir(at("real")).unwrap().count(), 2, "no temporary file is left");
}

#[test]
fn a_change_by_another_program_is_seen() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.rotation.ron");
    let saved = save_rotation(&path, &plan()).unwrap();
    assert_eq!(read_rotation(&path).unwrap().fingerprint, saved);
    check_unchanged(&path, &saved).unwrap();
    // As long as before, and perhaps within the same tick of the disk's clock.
    let other = rotation_to_text(&plan()).replace("cabbage week", "cabbage Week");
    fs::write(&path, &other).unwrap();
    assert_eq!(check_unchanged(&path, &saved), Err(StoreError::ChangedOnDisk { path: path.clone() }));
    fs::write(&path, rotation_to_text(&plan())).unwrap();
    check_unchanged(&path, &saved).expect("the same bytes are the same file");
    fs::remove_file(&path).unwrap();
    check_unchanged(&path, &saved).expect("nothing is there to be destroyed");
}

#[test]
fn a_byte_order_mark_and_the_other_end_of_line_are_read() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.rotation.ron");
    fs::write(&path, format!("\u{feff}{}", rotation_to_text(&plan()).replace('\n', "\r\n"))).unwrap();
    assert_eq!(read_rotation(&path).unwrap().rotation, plan());
}

#[test]
fn what_could_not_be_read_back_is_not_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.rotation.ron");
    let mut bad = plan();
    bad.title = "a\u{0}b".into();
    assert!(save_rotation(&path, &bad).unwrap_err().to_string().contains("control character U+0000"));
    assert!(!path.exists());
}

#[test]
fn recent_files_are_ten_newest_first_and_tell_which_are_gone() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    let there = folder.path().join("there");
    fs::write(&there, "").unwrap();
    let (mut recent, note) = Recent::load(&places);
    assert!(recent.files().is_empty() && note.is_none());
    for i in 0..12 {
        recent.note(&folder.path().join(format!("gone {i}")));
    }
    recent.note(&there);
    recent.note(&folder.path().join("gone 5"));
    recent.save(&places).unwrap();
    let (back, _) = Recent::load(&places);
    let files = back.files();
    assert_eq!(files.len(), 10);
    assert!(files[0].path.ends_with("gone 5") && files[0].missing && files[1].path == there && !files[1].missing);
    assert_eq!(files.iter().filter(|f| f.path.ends_with("gone 5")).count(), 1);
}

#[test]
fn a_broken_file_of_the_programs_own_stops_nothing_and_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    let set = Settings { scale: Scale::of(150), reduce_motion: true, ..Settings::default() };
    set.save(&places).unwrap();
    assert_eq!(Settings::load(&places), (set, None));
    fs::write(places.config.join("settings.ron"), "(version: 1, look: Pink)").unwrap();
    let (settings, note) = Settings::load(&places);
    let note = note.expect("it says so");
    assert_eq!(settings, Settings::default());
    assert!(note.to_string().contains("line 1") && note.to_string().contains("goes on without it"), "{note}");
    assert_eq!(fs::read_to_string(note.kept.unwrap()).unwrap(), "(version: 1, look: Pink)");
    fs::write(places.config.join("settings.ron"), "(version: 1, scale: 9000)").unwrap();
    assert_eq!(Settings::load(&places).0.scale.percent(), 200);
    fs::create_dir_all(&places.state).unwrap();
    fs::write(places.state.join("recent.ron"), "(version: 99, files: [])").unwrap();
    assert!(Recent::load(&places).1.unwrap().to_string().contains("newer Tranche"));
}

#[test]
fn the_household_is_kept_for_the_next_rotation() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    assert_eq!(load_household(&places), (None, None));
    save_household(&places, &plan().household).unwrap();
    assert_eq!(load_household(&places).0, Some(plan().household));
}

fn at(second: i64) -> jiff::Timestamp {
    jiff::Timestamp::from_second(second).unwrap()
}

#[test]
fn unsaved_work_of_a_run_that_ended_badly_is_offered_and_of_a_living_one_is_not() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    let file = folder.path().join("a.rotation.ron");
    let (first, second) = (plan_id(Some(&file)), plan_id(None));
    assert_ne!(first, second);
    let mut later = plan();
    later.title = "Later".into();

    let crashed = RecoveryStore::open(&places, 100).unwrap();
    crashed.keep(&first, Some(&file), at(1_000), &later).unwrap();
    crashed.keep(&first, Some(&file), at(2_000), &plan()).unwrap();
    crashed.keep(&second, None, at(3_000), &later).unwrap();
    let living = RecoveryStore::open(&places, 200).unwrap();
    living.keep(&second, None, at(9_000), &plan()).unwrap();
    assert!(living.left_behind().is_empty(), "the first still runs");

    // The system lets the lock go, however a process ends.
    drop(crashed);
    // A new process of the same number must not take the dead one's work for its own.
    let next = RecoveryStore::open(&places, 100).unwrap();
    let left = next.left_behind();
    assert_eq!(left.len(), 2);
    let newest = left[0].content.as_ref().unwrap();
    assert_eq!((newest.at, &newest.rotation, &newest.file), (at(3_000), &later, &None));
    let oldest = left[1].content.as_ref().unwrap();
    assert_eq!((oldest.at, &oldest.rotation, oldest.file.as_ref()), (at(2_000), &plan(), Some(&file)));

    let taken = next.take(&left[1]).unwrap();
    assert!(living.take(&left[1]).is_err(), "two windows cannot take the same work");
    next.discard(&left[0]).unwrap();
    assert!(living.left_behind().is_empty());
    next.drop_plan(&taken).unwrap();
    next.close().unwrap();
    living.close().unwrap();
    assert_eq!(fs::read_dir(places.state.join("recovery")).unwrap().count(), 0, "a clean exit leaves nothing");
}

#[test]
fn a_taken_snapshot_survives_a_second_crash_and_a_broken_one_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let places = Places::under(folder.path());
    let first = RecoveryStore::open(&places, 1).unwrap();
    first.keep("unsaved", None, at(5), &plan()).unwrap();
    drop(first);
    let second = RecoveryStore::open(&places, 2).unwrap();
    second.take(&second.left_behind()[0]).unwrap();
    drop(second);
    fs::write(places.state.join("recovery/unsaved-77.recovery.ron"), "(version: 1, file").unwrap();
    let third = RecoveryStore::open(&places, 3).unwrap();
    let left = third.left_behind();
    assert_eq!(left.len(), 2);
    assert_eq!(left[0].content.as_ref().unwrap().rotation, plan());
    assert!(left[1].content.as_ref().unwrap_err().to_string().contains("unsaved-77.recovery.ron, line 1"));
}

#[test]
fn a_shape_opened_as_a_plan_is_named_for_what_it_is_whatever_its_name() {
    let folder = tempfile::tempdir().unwrap();
    let (plan_path, shape_path) = (folder.path().join("a.ron"), folder.path().join("b.ron"));
    let plan = plan();
    save_rotation(&plan_path, &plan).unwrap();
    tranche::store::save_template(&shape_path, &tranche::rotation::Template::of(&plan)).unwrap();
    let said = read_rotation(&shape_path).unwrap_err().to_string();
    let want = "this is a shape, not a plan: in the window use File, Lay a shape; on the command line `template fit`";
    assert!(said.ends_with(want), "{said}");
    let said = tranche::store::read_template(&plan_path).unwrap_err().to_string();
    let want =
        "this is a plan, not a shape: in the window use File, Open; on the command line `template make` makes a shape of it";
    assert!(said.ends_with(want), "{said}");
    // A plan with a field astray is still a plan, and its own fault is told.
    let text = rotation_to_text(&plan).replacen("days: ", "made_from: 1, days: ", 1);
    let said = read(&text).unwrap_err().to_string();
    assert!(said.contains("there is no field \"made_from\""), "{said}");
}

#[test]
fn a_bad_date_or_time_is_told_in_plain_words_with_its_line() {
    let text = rotation_to_text(&plan());
    for (from, to, said) in [
        ("2026-03-09", "2026-13-40", "2026-13-40 is not a date: write it as 2026-12-07"),
        ("2026-03-09", "-9999-01-01", "-9999-01-01 is not a date: write it as 2026-12-07"),
        ("18:30:00", "25:30", "25:30 is not a time of day: write it as 18:30"),
    ] {
        let spoilt = text.replacen(from, to, 1);
        assert_ne!(spoilt, text, "{from} is not in the text");
        let complaint = read(&spoilt).unwrap_err().to_string();
        assert!(complaint.ends_with(said) && complaint.contains(", line "), "{complaint}");
    }
}
