//! Are ingredient lines read as people write them, and exact measures turned into each other as their sources print them?

use proptest::prelude::*;
use std::time::{Duration, Instant};
use tranche::quantity::{
    Amount, Confidence, Density, FAN_LESS, IngredientLine, Kitchen, MAX_GRAMS, MAX_LINE, Measure, System, Temperature, read_date,
    read_grams, read_line, read_oven, read_time, scale, write_amount,
};

const LINES: &str = include_str!("data/ingredient-lines.tsv");
/// The sources stand in the table's own columns: NIST SP 811 and SP 430, Weights and Measures Act 1985, AS 1325, USDA SR 28.
const CONVERSIONS: &str = include_str!("published/conversions.tsv");

fn read(line: &str) -> IngredientLine {
    read_line(line, Kitchen::Metric)
}

fn shown(amount: Option<Amount>) -> String {
    let short = |v: f64| ((v * 1e4).round() / 1e4).to_string();
    match amount {
        None => String::new(),
        Some(Amount::Exact(v)) => short(v),
        Some(Amount::Range { low, high }) => format!("{}-{}", short(low), short(high)),
    }
}

/// The whole table, each cell: run with `--nocapture` for the share.
#[test]
fn every_line_of_the_table_is_read_right() {
    let mut wrong = Vec::new();
    let mut all = 0;
    for row in LINES.lines().skip(1) {
        let cells: Vec<&str> = row.split('\t').collect();
        let [line, quantity, unit, name, note] = cells[..] else { panic!("five cells: {row}") };
        all += 1;
        let l = read(line);
        let found = [shown(l.amount), l.measure.map_or("", Measure::key).to_string(), l.name.clone(), l.note.clone()];
        if found != [quantity, unit, name, note] {
            wrong.push(format!("{line:?}: wanted {:?}, found {found:?}", [quantity, unit, name, note]));
        }
        assert_eq!(l.raw, line.trim());
        assert_eq!(l.amount.is_none(), l.confidence == Confidence::Unread, "{line}");
        assert_eq!(l.because.is_empty(), l.confidence != Confidence::Guessed, "{line}: a guess says why, and only a guess");
    }
    println!("{} of {all} lines read right", all - wrong.len());
    assert!(all >= 200, "{all} lines");
    assert!(wrong.is_empty(), "{} of {all} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

fn published() -> Vec<Vec<&'static str>> {
    CONVERSIONS.lines().skip(1).map(|row| row.split('\t').collect()).collect()
}

fn value(id: &str) -> f64 {
    let rows = published();
    let row = rows.iter().find(|r| r[0] == id).unwrap_or_else(|| panic!("{id} is in the table"));
    row[3].parse().unwrap()
}

/// To the digits that the source prints.
fn close(found: f64, id: &str) {
    let wanted = value(id);
    assert!((found - wanted).abs() <= 1e-9 * wanted.abs().max(1.0) * 5.0, "{id}: {found} for {wanted}");
}

#[test]
fn exact_measures_come_out_as_published() {
    let us = |m: Measure| m.millilitres(Kitchen::Us).unwrap();
    let imperial = |m: Measure| m.millilitres(Kitchen::Imperial).unwrap();
    close(Measure::Pound.grams().unwrap(), "C001");
    for (measure, id) in [
        (Measure::Gallon, "C003"),
        (Measure::Pint, "C005"),
        (Measure::FluidOunce, "C007"),
        (Measure::Tablespoon, "C008"),
        (Measure::Teaspoon, "C009"),
    ] {
        close(us(measure), id);
    }
    for (measure, id) in
        [(Measure::Quart, "C016"), (Measure::Pint, "C017"), (Measure::Cup, "C018"), (Measure::FluidOunce, "C019")]
    {
        close(imperial(measure), id);
    }
    close(Measure::Cup.millilitres(Kitchen::Metric).unwrap(), "C020");
    close(Measure::Tablespoon.millilitres(Kitchen::Metric).unwrap(), "C021");
    close(Measure::Teaspoon.millilitres(Kitchen::Metric).unwrap(), "C023");
    close(Measure::Inch.in_terms_of(Measure::Millimetre, Kitchen::Us).unwrap(), "C010");
    let ratio = |a: Measure, b: Measure| a.in_terms_of(b, Kitchen::Us).unwrap();
    close(ratio(Measure::Tablespoon, Measure::Teaspoon), "C028");
    close(ratio(Measure::Cup, Measure::Tablespoon), "C029");
    close(ratio(Measure::Cup, Measure::Teaspoon), "C030");
    close(ratio(Measure::Cup, Measure::FluidOunce), "C031");
    close(ratio(Measure::FluidOunce, Measure::Tablespoon), "C035");
    // The tablespoon of 20 ml is common Australian practice.
    assert_eq!(Measure::Tablespoon.millilitres(Kitchen::Australian), Some(20.0));
}

#[test]
fn every_published_temperature_comes_out() {
    let mut asked = 0;
    for row in published() {
        if row[2] == "temperature" && row[4] == "degC" {
            let degrees: f64 = row[1].trim_end_matches(" F").parse().unwrap();
            close(Temperature::fahrenheit(degrees).unwrap().in_celsius(), row[0]);
            asked += 1;
        } else if row[2] == "oven_temperature" && row[4] == "degF" {
            let mark = row[1].trim_start_matches("gas mark ");
            let mark = if mark == "1/4" { 0.25 } else { mark.parse().unwrap() };
            let heat = Temperature::gas_mark(mark).unwrap();
            close(heat.in_fahrenheit(), row[0]);
            assert_eq!(heat.in_gas_marks(), Some(mark));
            asked += 1;
        }
    }
    assert!(asked >= 15, "{asked}");
    assert_eq!(-FAN_LESS, value("C072"));
    assert!((read_oven("gas 4").unwrap().temperature.in_celsius() - 176.67).abs() < 0.01);
}

/// Every cup mass that we guess by is the published one (the US cup).
#[test]
fn cups_weigh_what_the_table_says() {
    for (name, id) in [
        ("wholemeal flour", "C074"),
        ("rye flour", "C075"),
        ("cornmeal", "C076"),
        ("granulated sugar", "C077"),
        ("icing sugar", "C078"),
        ("brown sugar", "C079"),
        ("honey", "C080"),
        ("molasses", "C081"),
        ("cocoa powder", "C087"),
        ("olive oil", "C090"),
        ("yoghurt", "C096"),
        ("feta", "C102"),
        ("lentils", "C111"),
        ("red cabbage", "C129"),
        ("celeriac", "C144"),
    ] {
        let l = read_line(&format!("1 cup {name}"), Kitchen::Us);
        let guess = l.guess.unwrap_or_else(|| panic!("{name} has a guess"));
        assert!((guess.grams.low() - value(id)).abs() < 0.01, "{name}: {guess:?}");
        assert!(guess.because.contains("USDA"), "{name}: the ground is said");
        assert_eq!(l.grams, None, "a guess is no weighed mass");
    }
}

#[test]
fn grams_stand_only_where_something_was_weighed() {
    for (line, grams) in [
        ("2 lb 5 oz swede", 1_048.932_4),
        ("2 x 400 g tins beans", 800.0),
        ("200g (7oz) flour", 200.0),
        ("1 cup (200 g) sugar", 200.0),
    ] {
        assert!((read(line).grams.unwrap().low() - grams).abs() < 0.001, "{line}");
    }
    for line in ["250 ml milk", "3 eggs", "1 cup flour", "4 cloves garlic", "thumb of ginger", "salt"] {
        assert_eq!(read(line).grams, None, "{line}");
    }
    let thumb = read("thumb of ginger");
    assert_eq!((thumb.confidence, thumb.guess.unwrap().grams), (Confidence::Guessed, Amount::Exact(15.0)));
}

fn any_line() -> impl Strategy<Value = String> {
    let rows: Vec<String> = LINES.lines().skip(1).filter_map(|r| r.split('\t').next()).map(str::to_string).collect();
    let mutated = (prop::sample::select(rows.clone()), any::<prop::sample::Index>(), any::<char>()).prop_map(|(line, at, c)| {
        let mut chars: Vec<char> = line.chars().collect();
        let at = at.index(chars.len().max(1));
        chars.insert(at.min(chars.len()), c);
        chars.into_iter().collect()
    });
    let spliced = (prop::sample::select(rows.clone()), prop::sample::select(rows)).prop_map(|(a, b)| {
        let half = |s: &str| s.chars().take(s.chars().count() / 2).collect::<String>();
        format!("{}{b}", half(&a))
    });
    prop_oneof![any::<String>(), mutated, spliced, "[0-9.,/ x()½⅓-]{0,40}( (g|ml|cup|tin|oz|lb)){0,3}"]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3_000, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is typed, the reading is finite, keeps the line and says what it guessed.
    #[test]
    fn any_text_is_read_without_harm(line in any_line(), factor in 0.01f64..100.0) {
        let l = read(&line);
        prop_assert!(l.raw.chars().count() <= MAX_LINE);
        if let Some(a) = l.amount {
            prop_assert!(a.low() > 0.0 && a.high() >= a.low() && a.high().is_finite());
            if let Some(s) = scale(a, l.measure, &l.name, factor, Kitchen::Us) {
                prop_assert!(!s.words.is_empty());
            }
        }
        prop_assert_eq!(l.because.is_empty(), l.confidence != Confidence::Guessed);
    }

    /// The same in every kitchen, and what is read can be written.
    #[test]
    fn any_text_is_read_without_harm_in_every_kitchen(
        line in any_line(),
        kitchen in prop::sample::select(vec![Kitchen::Metric, Kitchen::Us, Kitchen::Imperial, Kitchen::Australian]),
    ) {
        let l = read_line(&line, kitchen);
        if let Some(a) = l.amount {
            prop_assert!(!write_amount(a, l.measure, kitchen).is_empty());
        }
        for guessed in l.grams.iter().chain(l.guess.as_ref().map(|g| &g.grams)) {
            prop_assert!(guessed.low() >= 0.0 && guessed.high().is_finite());
        }
        prop_assert!(!l.name.contains('\n') && !l.note.contains('\n'));
    }

    /// A typed mass is one that a piece can have, or is refused in a sentence that fits beside its field.
    #[test]
    fn any_text_is_a_mass_or_is_refused_in_a_sentence(
        text in any_line(),
        system in prop::sample::select(vec![System::Metric, System::Us, System::Imperial]),
        cup in prop::option::of(prop::sample::select(vec![0.0, 1e-300, 70.0, 1e300, f64::NAN, f64::INFINITY])),
    ) {
        match read_grams(&text, system, cup.map(Density)) {
            Ok(grams) => prop_assert!(grams <= MAX_GRAMS, "{grams}"),
            Err(e) => {
                let said = e.to_string();
                prop_assert!(said.chars().count() <= 250 && !said.contains('\n'), "{said:?}");
            }
        }
    }

    #[test]
    fn any_text_is_an_oven_a_date_and_a_time_or_none(text in prop_oneof![any_line(), "[0-9.:/ -]{0,20}( ?(C|F|gas|fan))?"]) {
        if let Some(oven) = read_oven(&text) {
            prop_assert!(oven.temperature.in_celsius().is_finite() && oven.temperature.in_fahrenheit().is_finite());
        }
        for said in [read_date(&text).err(), read_time(&text).err()].into_iter().flatten() {
            prop_assert!(said.chars().count() <= 300 && !said.contains('\n'), "{said:?}");
        }
    }
}

#[test]
fn lines_without_end_are_read_soon() {
    let began = Instant::now();
    for bit in ["(", ")", "1", "1 ", "½", "1/", "2 x ", "g", " or ", ",", "- ", "1 cup ", "e\u{301}", "\u{202e}", "tin of ", "\t"]
    {
        let line = bit.repeat(200_000);
        for kitchen in [Kitchen::Metric, Kitchen::Us, Kitchen::Imperial, Kitchen::Australian] {
            assert!(read_line(&line, kitchen).raw.chars().count() <= MAX_LINE);
        }
        let _ = (read_grams(&line, System::Us, None), read_oven(&line), read_date(&line), read_time(&line));
    }
    assert!(began.elapsed() < Duration::from_secs(10), "{:?}", began.elapsed());
}
