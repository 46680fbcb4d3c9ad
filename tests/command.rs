//! Does the command line answer as its page says: exit codes, stable keys, one sentence of complaint?

mod fixture;

use serde_json::Value;
use std::{
    ffi::OsStr,
    fs,
    path::{Path, PathBuf},
    process::{Command, Output, Stdio},
};
use tranche::store::{read_rotation, rotation_to_text, save_rotation};

/// A folder that holds everything that the program may touch.
struct Kitchen(tempfile::TempDir);

impl Kitchen {
    fn new() -> Kitchen {
        Kitchen(tempfile::tempdir().unwrap())
    }

    fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tranche"));
        command.current_dir(self.0.path()).env_clear().env("HOME", self.path("home")).stdin(Stdio::null());
        command
    }

    fn run<S: AsRef<OsStr>>(&self, args: impl IntoIterator<Item = S>) -> Output {
        self.command().args(args).output().unwrap()
    }

    /// What is there, with its bytes.
    fn state(&self) -> Vec<(PathBuf, Vec<u8>)> {
        let mut all: Vec<_> = fs::read_dir(self.0.path()).unwrap().map(|e| e.unwrap().path()).collect();
        all.sort();
        all.into_iter().map(|p| (p.clone(), fs::read(&p).unwrap_or_default())).collect()
    }
}

fn week(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(format!("{name}.rotation.ron"))
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).unwrap()
}

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|e| panic!("{e}: {}", text(&output.stdout)))
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().unwrap().keys().map(String::as_str).collect()
}

#[test]
fn the_exit_code_tells_how_grave_it_is() {
    let kitchen = Kitchen::new();
    for (name, code) in [("salmon-mended", 0), ("celeriac-mended", 0), ("celeriac-unhappy", 3), ("red-cabbage-unhappy", 4)] {
        for task in ["check", "report"] {
            let out = kitchen.run([OsStr::new(task), week(name).as_os_str()]);
            assert_eq!(out.status.code(), Some(code), "{task} {name}: {}", text(&out.stderr));
            assert!(out.stderr.is_empty() && !out.stdout.is_empty());
            let again = kitchen.run([OsStr::new(task), week(name).as_os_str()]);
            assert_eq!(again.stdout, out.stdout, "the same call says the same");
        }
    }
    assert_eq!(kitchen.run(["check", "none.rotation.ron"]).status.code(), Some(1));
    for wrong in [&["chekc", "x"][..], &["check"], &["check", "a", "b"], &["--units", "ells", "check", "x"], &["x", "check", "y"]]
    {
        let out = kitchen.run(wrong);
        assert_eq!(out.status.code(), Some(2), "{wrong:?}");
        assert!(out.stdout.is_empty() && !out.stderr.is_empty());
    }
    assert_eq!(kitchen.run(["--version"]).stdout, format!("tranche {}\n", env!("CARGO_PKG_VERSION")).into_bytes());
    assert!(text(&kitchen.run(["--help"]).stdout).contains("report"));
}

#[test]
fn a_word_that_is_neither_command_nor_file_is_named_with_the_nearest_command() {
    let kitchen = Kitchen::new();
    for args in [&["chekc", "plan.rotation.ron"][..], &["chekc"], &["--units", "us", "chekc", "--json"]] {
        let out = kitchen.run(args);
        assert_eq!(out.status.code(), Some(2), "{args:?}");
        let said = text(&out.stderr);
        assert!(said.starts_with("tranche: there is no command chekc (did you mean check?)"), "{args:?}: {said}");
    }
    let said = kitchen.run(["zzzzzz", "a.rotation.ron"]);
    for command in ["check", "report", "template", "book", "read-recipe", "lab"] {
        assert!(text(&said.stderr).contains(command), "{command}: {}", text(&said.stderr));
    }
    // A file of such a name is a file.
    fs::write(kitchen.path("chekc"), "").unwrap();
    assert!(!text(&kitchen.run(["chekc", "x"]).stderr).contains("did you mean check?"));
}

#[test]
fn grams_below_nothing_and_days_that_are_none_are_refused_in_a_sentence() {
    let kitchen = Kitchen::new();
    let file = week("red-cabbage-mended");
    kitchen.run([OsStr::new("template"), OsStr::new("make"), file.as_os_str(), OsStr::new("-o"), OsStr::new("t.template.ron")]);
    let fit = |more: &[&str]| {
        let args = ["template", "fit", "t.template.ron", "--kind", "celeriac"];
        let out = kitchen.run(args.iter().chain(more));
        assert_eq!(out.status.code(), Some(2), "{more:?}");
        text(&out.stderr).to_string()
    };
    let said = fit(&["--grams", "-5"]);
    assert_eq!(said, "tranche: --grams: \"-5\" is below nothing: type a mass, such as 350 g or 12 oz\n");
    let said = fit(&["--grams", "900", "--first-day", "soon"]);
    assert!(said.contains("soon is not a date: write it as 2026-12-07"), "{said}");
}

#[test]
fn families_are_listed_by_names_that_fit_all_that_is_in_them() {
    let kitchen = Kitchen::new();
    let out = kitchen.run(["book", "list"]);
    let line = |id: &str| text(&out.stdout).lines().find(|l| l.trim_start().starts_with(id)).unwrap().to_string();
    assert!(line("roast-beef-joint ").ends_with("roast poultry and meat"), "{}", line("roast-beef-joint "));
    assert!(line("roast-pork-shoulder ").ends_with("ham and pork"));
    let list = json(&kitchen.run(["book", "list", "--json"]));
    let beef = list["kinds"].as_array().unwrap().iter().find(|k| k["id"] == "roast-beef-joint").unwrap();
    assert_eq!(beef["family"], "roast", "beef is no poultry");
}

#[test]
fn what_is_overruled_does_not_count() {
    let kitchen = Kitchen::new();
    let mut plan = read_rotation(&week("celeriac-unhappy")).unwrap().rotation;
    let warned = tranche::judge::judge(&plan).findings;
    plan.overruled = warned
        .iter()
        .filter(|f| f.may_overrule())
        .map(|f| tranche::rotation::Overruled { finding: f.key.clone(), reason: "birthday request".into() })
        .collect();
    save_rotation(&kitchen.path("a.rotation.ron"), &plan).unwrap();
    let out = kitchen.run(["check", "a.rotation.ron", "--json"]);
    assert_eq!(out.status.code(), Some(0));
    let said = json(&out);
    let overruled = said["findings"].as_array().unwrap().iter().filter(|f| f["overruled"] == "birthday request");
    assert_eq!(overruled.count(), plan.overruled.len());
    assert!(text(&kitchen.run(["check", "a.rotation.ron"]).stdout).contains("Overruled (birthday request): "));
}

#[test]
fn a_report_in_json_has_its_keys() {
    let kitchen = Kitchen::new();
    let out = kitchen.run([OsStr::new("report"), week("red-cabbage-mended").as_os_str(), OsStr::new("--json")]);
    let said = json(&out);
    assert_eq!(
        keys(&said),
        ["balance", "clocks", "cooling", "eaters", "findings", "keeping", "meals", "packs", "unopened", "variety"]
    );
    let balance = &said["balance"];
    let names =
        ["allotted_g", "as_bought_g", "banked_g", "given_away_g", "parts", "rotten_g", "trim_g", "unallocated_g", "usable_g"];
    assert_eq!(keys(balance), names);
    let grams = |k: &str| balance[k].as_i64().unwrap();
    assert_eq!((grams("as_bought_g"), grams("trim_g"), grams("usable_g"), grams("unallocated_g")), (1_800, 300, 1_500, 0));
    assert_eq!(keys(&balance["parts"][0]), ["allotted_g", "name", "usable_g"]);
    let meals = said["meals"].as_array().unwrap();
    assert_eq!(keys(&meals[0]), ["cooked_g", "date", "day", "dish", "eaters", "grams", "mealtime", "state", "weekday"]);
    let boxed = meals.iter().find(|m| m["mealtime"] == "lunch").unwrap();
    assert_eq!((&boxed["weekday"], &boxed["eaters"], &boxed["grams"]), (&"Thursday".into(), &vec!["Bo"].into(), &50.into()));
    assert_eq!(boxed["state"], "Prepared");
    let days: Vec<i64> = meals.iter().map(|m| m["day"].as_i64().unwrap()).collect();
    assert!(days.is_sorted(), "{days:?}");
    assert_eq!(keys(&said["variety"]), ["feels_like", "meals", "pairs", "runs"]);
    for pair in said["variety"]["pairs"].as_array().unwrap() {
        assert!(["warn", "caution", "fine", "unknown"].contains(&pair["verdict"].as_str().unwrap()));
        let likeness = pair["likeness"].as_f64().unwrap() * 1_000.0;
        assert!((likeness - likeness.round()).abs() < 1e-6, "three decimals");
        assert!(pair["shared"].is_array() && pair["first"].as_str().unwrap().contains(' '));
    }
    let severities = ["stop", "warn", "caution", "note"];
    for f in said["findings"].as_array().unwrap() {
        assert!(severities.contains(&f["severity"].as_str().unwrap()) && f["code"].is_string() && f["text"].is_string());
        assert!(f["mends"].as_array().unwrap().iter().all(|m| keys(m) == ["cost", "words"]));
    }
    let bo = said["findings"].as_array().unwrap().iter().find(|f| f["code"] == "likeness").unwrap();
    assert_eq!((&bo["meal"], &bo["eater"]), (&"Thursday lunch".into(), &"Bo".into()));
}

#[test]
fn the_report_says_who_eats_what_how_much_and_why() {
    let kitchen = Kitchen::new();
    let report = |name: &str| json(&kitchen.run([OsStr::new("report"), week(name).as_os_str(), OsStr::new("--json")]));
    let seats = |said: &serde_json::Value, meal: &str| -> Vec<serde_json::Value> {
        said["eaters"].as_array().unwrap().iter().filter(|s| s["meal"] == meal).cloned().collect()
    };
    let cabbage = report("red-cabbage-mended");
    let rolls: Vec<_> = seats(&cabbage, "Wednesday supper").iter().map(|s| s["helpings"][0]["count"]["number"].clone()).collect();
    assert_eq!(rolls, [2, 2, 1]);
    let lunch = seats(&cabbage, "Thursday lunch");
    let bo = lunch.iter().find(|s| s["eater"] == "Bo").unwrap();
    assert_eq!((&bo["helpings"][0]["boxed"], &bo["helpings"][0]["grams"]), (&true.into(), &50.into()));
    assert!(lunch.iter().filter(|s| s["eater"] != "Bo").all(|s| s["sits"] == false && s["helpings"] == serde_json::json!([])));
    let salmon = report("salmon-mended");
    let friday = seats(&salmon, "Friday supper");
    let grams: i64 = friday.iter().map(|s| s["helpings"][0]["grams"].as_i64().unwrap()).sum();
    assert_eq!(grams, 480);
    let gro = &friday.iter().find(|s| s["eater"] == "Gro").unwrap()["helpings"][0];
    assert_eq!((&gro["what"], &gro["grams"], &gro["why"]), (&"twin".into(), &0.into(), &serde_json::json!(["vegetarian"])));
    let out = kitchen.run([OsStr::new("report"), week("salmon-mended").as_os_str()]);
    let said = text(&out.stdout);
    let line = said.lines().find(|l| l.contains("Gro") && l.contains("in place of")).unwrap_or_else(|| panic!("{said}"));
    assert!(said.contains("Who eats what") && line.contains("vegetarian"), "{line}");
    // A clock for every part, batch and opened pack, none that ends before it begins.
    for bar in cabbage["clocks"].as_array().unwrap() {
        assert!(bar["from"]["day"].as_i64() <= bar["safe"]["day"].as_i64(), "{bar}");
        assert!(bar["nice"]["day"].as_i64() <= bar["safe"]["day"].as_i64(), "{bar}");
    }
    assert!(cabbage["clocks"].as_array().unwrap().iter().any(|b| b["pack"] == "yoghurt"));
    assert_eq!(keys(&cabbage["unopened"]), ["bruised", "soft-spot", "sound", "wounded"]);
}

#[test]
fn measures_are_those_asked_for() {
    let kitchen = Kitchen::new();
    let said = |units: &str| {
        let file = week("red-cabbage-mended");
        let out = kitchen.run([OsStr::new("report"), file.as_os_str(), OsStr::new("--units"), OsStr::new(units)]);
        text(&out.stdout).replace('\u{a0}', " ")
    };
    assert!(said("metric").contains("1,800 g as bought"));
    assert!(said("us").contains("3 lb 15 ½ oz as bought"), "{}", said("us"));
    let imperial = said("imperial");
    assert!(!imperial.contains(" g ") && !imperial.contains(" g,") && imperial.contains(" oz"), "{imperial}");
    // What the judges and their mends say, too.
    let open = |units: &str| {
        let out =
            kitchen.run([OsStr::new("check"), week("red-cabbage-open").as_os_str(), OsStr::new("--units"), OsStr::new(units)]);
        text(&out.stdout).replace('\u{a0}', " ")
    };
    assert!(open("metric").contains("280 g (18.7 %") && open("metric").contains("Thursday supper, 280 g"), "{}", open("metric"));
    assert!(open("us").contains("10 oz (18.7 %") && open("us").contains("Thursday supper, 10 oz"), "{}", open("us"));
    // An answer for a program stays in grams.
    let args = ["check", "--json", "--units", "us"].map(OsStr::new);
    let out = kitchen.run(args.into_iter().chain([week("red-cabbage-open").as_os_str()]));
    assert!(text(&out.stdout).replace('\u{a0}', " ").contains("280 g (18.7 %"));
}

#[test]
fn a_spoilt_file_is_refused_through_the_program_and_nothing_is_written() {
    let kitchen = Kitchen::new();
    let file = kitchen.path("plan.rotation.ron");
    let whole = rotation_to_text(&fixture::plan());
    let refused = |bytes: &[u8], name: &str| {
        fs::write(&file, bytes).unwrap();
        let before = kitchen.state();
        let out = kitchen.run(["check", "plan.rotation.ron"]);
        assert_eq!(out.status.code(), Some(1), "{name}: {}", text(&out.stderr));
        let said = text(&out.stderr);
        assert!(out.stdout.is_empty() && said.starts_with("tranche: plan.rotation.ron"), "{name}: {said}");
        assert_eq!(said.trim_end().lines().count(), 1, "{name}: {said}");
        assert!(!said.contains('\u{1b}'), "{name} sends commands to the terminal");
        assert!(kitchen.state() == before, "{name}: something was written");
        said.to_string()
    };
    for cut in (0..whole.trim_end().len()).step_by(64) {
        let said = refused(&whole.as_bytes()[..cut], &format!("cut at {cut}"));
        assert!(cut == 0 || said.contains(", line "), "{said}");
    }
    refused(b"\x7fELF\0\0", "binary");
    refused(whole.replace("version: 1", "version: 12").as_bytes(), "newer");
    refused(whole.replace("Prepared(330)", "Prepared(-330)").as_bytes(), "negative grams");
    refused(whole.replace("dish: \"slaw\"", "dish: \"soup-of-stones\"").as_bytes(), "unknown dish");
    refused(whole.replace("(Crunchy, 1.0)", "(Crunchy, NaN)").as_bytes(), "not a number");
    refused(whole.replace("dishes: [", &format!("dishes: [{}", "(".repeat(100_000))).as_bytes(), "deep");
    refused(whole.replace("Kim", "\\u{1b}[2J").as_bytes(), "control characters");
    refused(whole.replace("Kim", "\u{1b}[2J").as_bytes(), "bare control characters");
    refused(whole.replace("title:", "\u{1b}[2J:").as_bytes(), "control characters in a field");
    let big = fs::File::create(&file).unwrap();
    big.set_len(50 * 1024 * 1024).unwrap();
    let out = kitchen.run(["report", "plan.rotation.ron"]);
    assert!(out.status.code() == Some(1) && text(&out.stderr).contains("16,777,216 bytes"));
}

#[test]
fn a_shape_is_made_and_laid_and_nothing_is_overwritten_unasked() {
    let kitchen = Kitchen::new();
    let make = |more: &[&str]| {
        let file = week("red-cabbage-mended");
        let args = ["template", "make", file.to_str().unwrap(), "-o", "t.template.ron"];
        kitchen.run(args.iter().chain(more))
    };
    assert_eq!(make(&[]).status.code(), Some(0));
    let again = make(&[]);
    assert_eq!(again.status.code(), Some(1));
    assert!(text(&again.stderr).contains("--force"), "{}", text(&again.stderr));
    assert_eq!(make(&["--force", "--json"]).status.code(), Some(0));

    let lay = |more: &[&str]| {
        let args = ["template", "fit", "t.template.ron", "--first-day", "2026-05-04", "--grams", "1.4kg", "--json"];
        kitchen.run(args.iter().chain(more))
    };
    let out = lay(&["--kind", "celeriac", "-o", "new.rotation.ron"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let said = json(&out);
    assert_eq!(keys(&said), ["kind", "slots", "unallocated_g"]);
    assert_eq!(keys(&said["slots"][0]), ["batch", "day", "dish", "grams", "meal", "outcome", "why"]);
    let plan = read_rotation(&kitchen.path("new.rotation.ron")).unwrap().rotation;
    assert_eq!((plan.kind.name.as_str(), plan.piece.mass.get()), ("celeriac", 1_400));
    assert_eq!(lay(&["--kind", "celeriac", "-o", "new.rotation.ron"]).status.code(), Some(1));
    let fish = json(&lay(&["--kind", "side of salmon"]));
    let late = fish["slots"].as_array().unwrap().iter().find(|s| s["meal"] == "Wednesday supper").unwrap();
    assert!(late["outcome"] == "impossible" && late["why"].as_str().unwrap().contains("keeps 1 day raw"), "{late}");
    for wrong in
        [&["--kind", "turnip"][..], &["--kind", "celeriac", "--grams", "-5"], &["--kind", "celeriac", "--first-day", "soon"]]
    {
        assert_eq!(lay(wrong).status.code(), Some(2), "{wrong:?}");
    }
    assert_eq!(kitchen.state().len(), 2, "nothing but what was asked for");
}

#[test]
fn the_book_is_listed_shown_and_sound() {
    let kitchen = Kitchen::new();
    let list = json(&kitchen.run(["book", "list", "--json"]));
    let (kinds, dishes) = (list["kinds"].as_array().unwrap(), list["dishes"].as_array().unwrap());
    assert!(kinds.len() >= 5 && dishes.len() >= 50);
    for entry in kinds.iter().chain(dishes) {
        let id = entry["id"].as_str().unwrap();
        let name = entry["name"].as_str().unwrap().to_lowercase();
        if kinds.contains(entry) || id.len() % 5 == 0 {
            let out = kitchen.run(["book", "show", id]);
            assert!(text(&out.stdout).to_lowercase().contains(&name), "{id}");
        }
    }
    let check = kitchen.run(["book", "check"]);
    assert_eq!(check.status.code(), Some(0), "{}", text(&check.stdout));
    let none = kitchen.run(["book", "show", "stone\u{1b}soup"]);
    assert!(none.status.code() == Some(2) && !text(&none.stderr).contains('\u{1b}'));
}

#[cfg(target_os = "linux")]
#[test]
fn own_entries_are_listed_marked_and_told_of_when_broken() {
    let kitchen = Kitchen::new();
    let dishes = kitchen.path("home/.local/share/tranche/book/dishes");
    fs::create_dir_all(&dishes).unwrap();
    let shipped = text(&kitchen.run(["book", "show", "sharp-slaw-pear-mustard"]).stdout).to_string();
    assert!(!shipped.contains("your own"));
    let book = tranche::book::Book::shipped().unwrap();
    let slaw = book.dishes().find(|d| d.id.as_str() == "sharp-slaw-pear-mustard").unwrap();
    let mine = tranche::book::Dish { name: "My slaw".into(), ..(**slaw).clone() };
    let written = format!("(version: 1, dish: {})", ron::to_string(&mine).unwrap());
    fs::write(dishes.join("sharp-slaw-pear-mustard.ron"), &written).unwrap();
    fs::write(dishes.join("spoilt.ron"), "(version: 1,\ndish: (\nnam: \"x\"))").unwrap();
    let list = json(&kitchen.run(["book", "list", "--json"]));
    let own: Vec<&Value> = list["dishes"].as_array().unwrap().iter().filter(|d| d["own"] == true).collect();
    assert!(own.len() == 1 && own[0]["name"] == "My slaw", "{own:?}");
    assert!(list["not_read"][0].as_str().unwrap().contains("spoilt.ron, line 3"), "{}", list["not_read"]);
    assert!(text(&kitchen.run(["book", "list"]).stderr).contains("spoilt.ron, line 3"));
    let shown = kitchen.run(["book", "show", "sharp-slaw-pear-mustard"]);
    assert!(text(&shown.stdout).contains("My slaw (sharp-slaw-pear-mustard, your own)"), "{}", text(&shown.stdout));
    let check = kitchen.run(["book", "check"]);
    assert_eq!(check.status.code(), Some(1), "a file that cannot be read is a fault");
    fs::remove_file(dishes.join("spoilt.ron")).unwrap();
    assert_eq!(kitchen.run(["book", "check"]).status.code(), Some(0));
    assert_eq!(fs::read_to_string(dishes.join("sharp-slaw-pear-mustard.ron")).unwrap(), written, "reading changes nothing");
}

#[cfg(unix)]
#[test]
fn a_closed_pipe_and_a_full_disk_are_no_panic() {
    let kitchen = Kitchen::new();
    let mut child = kitchen.command().args(["book", "list"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    let out = child.wait_with_output().unwrap();
    assert!(out.status.code() == Some(0) && out.stderr.is_empty(), "{}", text(&out.stderr));
    if let Ok(full) = fs::File::options().write(true).open("/dev/full") {
        let out = kitchen.command().args(["book", "list"]).stdout(full).output().unwrap();
        assert!(out.status.code() == Some(1) && text(&out.stderr).contains("standard output"), "{}", text(&out.stderr));
    }
}

#[cfg(unix)]
#[test]
fn a_name_that_is_no_unicode_is_opened() {
    use std::os::unix::ffi::OsStrExt as _;
    let kitchen = Kitchen::new();
    let name = OsStr::from_bytes(b"caf\xe9.rotation.ron");
    fs::copy(week("salmon-mended"), kitchen.0.path().join(name)).unwrap();
    assert_eq!(kitchen.run([OsStr::new("check"), name]).status.code(), Some(0));
}

#[test]
fn a_run_sheet_has_stable_keys_and_ends_with_five_where_there_is_none() {
    let kitchen = Kitchen::new();
    let file = week("red-cabbage-mended");
    let of = |rest: &[&str]| {
        let mut args: Vec<&OsStr> = vec!["runsheet".as_ref(), file.as_os_str()];
        args.extend(rest.iter().map(OsStr::new));
        kitchen.run(args)
    };
    let out = of(&["--day", "wed", "--json"]);
    assert_eq!(out.status.code(), Some(0), "{}", text(&out.stderr));
    let sheet = json(&out);
    assert_eq!(
        keys(&sheet),
        [
            "binds",
            "chain",
            "day",
            "free",
            "hands_minutes",
            "kitchen",
            "later",
            "lines",
            "meals",
            "nodes",
            "oven_minutes",
            "says",
            "span_minutes",
            "start",
            "start_minute",
            "status"
        ]
    );
    assert!(sheet["status"] == "best" && sheet["start"] == "17:00" && sheet["span_minutes"] == 110, "{sheet}");
    assert_eq!(out.stdout, of(&["--day", "3", "--json"]).stdout, "a weekday, its number: the same bytes");
    // The table at ten to seven cannot wait for a start at six.
    let late = of(&["--day", "wed", "--start", "18:00", "--json"]);
    assert_eq!(late.status.code(), Some(5));
    let refusal = json(&late);
    assert_eq!(keys(&refusal), ["advice", "causes", "day", "earliest", "reason", "status"]);
    assert!(refusal["status"] == "impossible" && refusal["causes"][0] == "too-early", "{refusal}");
    for (wrong, code) in [(&["--day", "someday"][..], 2), (&[][..], 2), (&["--day", "31"][..], 2)] {
        let out = of(wrong);
        assert!(out.status.code() == Some(code) && out.stdout.is_empty(), "{wrong:?}: {:?}", out.status);
        assert!(!out.stderr.is_empty());
    }
}
