//! How far do we read ingredient lines as somebody else labelled them?
//!
//! The lines are the labelled cases in the tests of the Python library ingredient-slicer 1.2.21 (PyPI; MIT licence, beside the
//! table): all 244 that state a quantity, none left out. They are cases that its author thought of, not a sample of what people
//! write, and its labels follow its own rules (a range is its middle, the weight in brackets stands before the cup). So the shares
//! are a measure of agreement and not of who is right. Run with `--nocapture` for the shares and for each disagreement of the
//! half on which the reading is developed; the other half is only counted.

use tranche::quantity::{Amount, IngredientLine, Kitchen, Measure, read_line};

const LABELLED: &str = include_str!("published/labelled-lines.tsv");

struct Row {
    held_out: bool,
    line: &'static str,
    quantity: Option<f64>,
    unit: &'static str,
    food: Option<&'static str>,
}

fn rows() -> Vec<Row> {
    let rows = LABELLED.lines().skip(1).map(|row| {
        let cells: Vec<&str> = row.split('\t').collect();
        Row {
            held_out: cells[1] == "held-out",
            line: cells[2],
            quantity: cells[3].parse().ok(),
            unit: cells[4],
            food: Some(cells[5]).filter(|f| *f != "?" && !f.is_empty()),
        }
    });
    rows.collect()
}

fn middle(amount: Option<Amount>) -> Option<f64> {
    amount.map(|a| f64::midpoint(a.low(), a.high()))
}

/// The label's amounts are rounded to three places.
fn same_quantity(row: &Row, read: &IngredientLine) -> bool {
    match (row.quantity, middle(read.amount)) {
        (None, None) => true,
        (Some(a), Some(b)) => (a - b).abs() < 0.002 * a.max(1.0),
        _ => false,
    }
}

/// A label's unit that is no measure ("apples") says that whole things are counted.
fn same_unit(row: &Row, read: &IngredientLine) -> bool {
    Measure::from_word(row.unit) == read.measure
}

/// Whether each word of the label's food stands in our name, whatever its number.
fn same_name(food: &str, read: &IngredientLine) -> bool {
    let stem = |w: &str| w.to_lowercase().trim_end_matches('s').to_string();
    let ours: Vec<String> = read.name.split(|c: char| !c.is_alphanumeric()).map(stem).collect();
    food.split_whitespace().all(|w| ours.contains(&stem(w)))
}

/// Agreement in thousandths on one half: quantity, unit, name.
fn shares(held_out: bool) -> [usize; 3] {
    let (mut right, mut named) = ([0; 3], 0);
    let half: Vec<Row> = rows().into_iter().filter(|r| r.held_out == held_out).collect();
    for row in &half {
        let read = read_line(row.line, Kitchen::Us);
        let name = row.food.map(|food| same_name(food, &read));
        named += usize::from(name.is_some());
        let agree = [same_quantity(row, &read), same_unit(row, &read), name == Some(true)];
        right.iter_mut().zip(agree).for_each(|(n, yes)| *n += usize::from(yes));
        let agrees = agree[0] && agree[1] && name != Some(false);
        if !(held_out || agrees) {
            let (amount, unit) = (middle(read.amount), read.measure.map(Measure::key));
            println!(
                "{:?}: labelled {:?} {:?} {:?}, read {amount:?} {unit:?} {:?}",
                row.line, row.quantity, row.unit, row.food, read.name
            );
        }
    }
    [right[0] * 1_000 / half.len(), right[1] * 1_000 / half.len(), right[2] * 1_000 / named]
}

#[test]
fn we_agree_with_the_labels_as_far_as_we_did() {
    let (development, held_out) = (shares(false), shares(true));
    println!("thousandths of quantity, unit, name: development {development:?}, held out {held_out:?}");
    assert_eq!(rows().len(), 244);
    // What was measured when the reading was last mended, on the development half alone; before that mending the half held out
    // had 565, 622 and 860. What is left is mostly the labels' own rules: a weight in brackets before the cup, a count in brackets
    // times the amount before it.
    for (now, then) in [(development, [819, 819, 977]), (held_out, [803, 819, 960])] {
        assert!(now.iter().zip(then).all(|(now, then)| *now >= then), "{now:?} where it was {then:?}");
    }
}
