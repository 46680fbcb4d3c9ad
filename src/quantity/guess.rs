//! What a cup, a clove or a thumb of something weighs: guesses, each with the ground it stands on.
//!
//! Nothing here is ever taken for a weighed mass. A guess goes beside the line with its words, or not at all.

use super::{Amount, Kitchen, Measure, grouped};

/// Grams that nobody weighed, and why they were taken.
#[derive(Clone, Debug, PartialEq)]
pub struct MassGuess {
    /// Grams.
    pub grams: Amount,
    /// "a clove of garlic is taken as 3 g (USDA SR 28, from memory)".
    pub because: String,
}

/// Millilitres in the US cup that the masses below were weighed in, as their source prints it.
const US_CUP: f64 = 236.588;

const USDA: &str = "USDA Nutrient Database SR 28";
const MEMORY: &str = "USDA Nutrient Database SR 28, from memory";
const PRACTICE: &str = "common practice, no source";

/// Words that must all be in the name, and grams in a US cup: USDA National Nutrient Database, Release 28 (2016), WEIGHT file.
/// The first that fits counts, so the narrower stand before the wider.
const CUPS: &[(&[&str], f64)] = &[
    (&["wholemeal", "flour"], 120.0),
    (&["rye", "flour"], 102.0),
    (&["cornmeal"], 122.0),
    (&["icing", "sugar"], 120.0),
    (&["brown", "sugar"], 220.0),
    (&["granulated", "sugar"], 200.0),
    (&["caster", "sugar"], 200.0),
    (&["white", "sugar"], 200.0),
    (&["honey"], 339.0),
    (&["molasses"], 337.0),
    (&["treacle"], 337.0),
    (&["corn", "syrup"], 341.0),
    (&["cocoa", "powder"], 86.0),
    (&["butter"], 227.2),
    (&["olive", "oil"], 216.0),
    (&["oil"], 218.0),
    (&["mayonnaise"], 220.0),
    (&["sour", "cream"], 230.0),
    (&["soured", "cream"], 230.0),
    (&["yoghurt"], 245.0),
    (&["yogurt"], 245.0),
    (&["grated", "cheddar"], 113.0),
    (&["diced", "cheddar"], 132.0),
    (&["grated", "parmesan"], 100.0),
    (&["parmesan"], 100.0),
    (&["grated", "mozzarella"], 112.0),
    (&["crumbled", "feta"], 150.0),
    (&["feta"], 150.0),
    (&["cooked", "rice"], 158.0),
    (&["brown", "rice"], 185.0),
    (&["rolled", "oats"], 81.0),
    (&["oats"], 81.0),
    (&["bulgur"], 140.0),
    (&["cooked", "quinoa"], 185.0),
    (&["lentils"], 192.0),
    (&["cooked", "chickpeas"], 164.0),
    (&["almonds"], 143.0),
    (&["chopped", "walnuts"], 117.0),
    (&["pumpkin", "seeds"], 129.0),
    (&["tomato", "sauce"], 245.0),
    (&["passata"], 245.0),
    (&["grated", "carrot"], 110.0),
    (&["chopped", "carrot"], 128.0),
    (&["red", "cabbage"], 89.0),
    (&["cauliflower"], 107.0),
    (&["spinach"], 30.0),
    (&["courgette"], 113.0),
    (&["zucchini"], 113.0),
    (&["celeriac"], 156.0),
    (&["swede"], 140.0),
    (&["lemon", "juice"], 244.0),
    (&["chicken", "stock"], 240.0),
];

/// A measure (nothing: a count of whole ones), words that must all be in the name, grams of one, the ground.
const ONES: &[(Option<Measure>, &[&str], f64, &str)] = &[
    (Some(Measure::Clove), &["garlic"], 3.0, MEMORY),
    (Some(Measure::Stick), &["butter"], 113.398_092_5, "a US stick is a quarter pound"),
    (Some(Measure::Thumb), &["ginger"], 15.0, PRACTICE),
    (Some(Measure::Thumb), &["turmeric"], 15.0, PRACTICE),
    (Some(Measure::Thumb), &["galangal"], 15.0, PRACTICE),
    (Some(Measure::Knob), &["butter"], 15.0, PRACTICE),
    (Some(Measure::Knob), &["ginger"], 15.0, PRACTICE),
    (Some(Measure::Pinch), &["salt"], 0.4, "a sixteenth of a teaspoon; common practice, no source"),
    (Some(Measure::Handful), &["nuts"], 30.0, PRACTICE),
    (Some(Measure::Handful), &["spinach"], 30.0, PRACTICE),
    (Some(Measure::Handful), &["parsley"], 15.0, PRACTICE),
    (Some(Measure::Handful), &["coriander"], 15.0, PRACTICE),
    (Some(Measure::Handful), &["basil"], 15.0, PRACTICE),
    (Some(Measure::Handful), &["mint"], 15.0, PRACTICE),
    (Some(Measure::Handful), &[], 25.0, PRACTICE),
    (Some(Measure::Bunch), &["parsley"], 30.0, PRACTICE),
    (Some(Measure::Bunch), &["coriander"], 30.0, PRACTICE),
    (Some(Measure::Bunch), &["dill"], 25.0, PRACTICE),
    (Some(Measure::Stick), &["celery"], 40.0, MEMORY),
    (Some(Measure::Stalk), &["celery"], 40.0, MEMORY),
    (Some(Measure::Teaspoon), &["salt"], 6.0, USDA),
    (Some(Measure::Teaspoon), &["baking", "powder"], 4.6, USDA),
    (None, &["spring", "onion"], 15.0, MEMORY),
    (None, &["large", "onion"], 150.0, MEMORY),
    (None, &["small", "onion"], 70.0, MEMORY),
    (None, &["onion"], 110.0, MEMORY),
    (None, &["egg", "yolk"], 17.0, MEMORY),
    (None, &["egg", "white"], 33.0, MEMORY),
    (None, &["egg"], 50.0, "USDA Nutrient Database SR 28: 4.86 large eggs are 243 g"),
    (None, &["carrot"], 61.0, MEMORY),
];

/// Names in which a word above means another thing.
const NOT_THESE: &[&str] =
    &["noodle", "powder", "sauce", "stock", "pasta", "aubergine", "eggplant", "peanut butter", "seed", "plant"];

/// What the measure of `name` weighs, if anybody would guess.
pub(super) fn guess(amount: Amount, measure: Option<Measure>, name: &str, kitchen: Kitchen) -> Option<MassGuess> {
    let words: Vec<String> = name.to_lowercase().split(|c: char| !c.is_alphabetic()).map(str::to_string).collect();
    let has = |wanted: &str| {
        words.iter().any(|w| w == wanted || w.strip_suffix("es") == Some(wanted) || w.strip_suffix('s') == Some(wanted))
    };
    let all = |wanted: &[&str]| wanted.iter().all(|w| has(w));
    let lower = name.to_lowercase();
    let other_thing = NOT_THESE.iter().any(|n| lower.contains(n) && !matches!(measure, Some(Measure::Teaspoon)));
    if let Some((_, wanted, each, ground)) = ONES.iter().find(|(m, wanted, ..)| *m == measure && all(wanted))
        && !(measure.is_none() && other_thing)
    {
        let what = match measure {
            Some(m) if wanted.is_empty() => format!("a {}", m.key()),
            Some(m) => format!("a {} of {}", m.key(), wanted.join(" ")),
            None => format!("one {}", wanted.join(" ")),
        };
        return said(amount, *each, &what, ground);
    }
    let measure = measure?;
    let millilitres = measure.millilitres(kitchen)?;
    let (wanted, cup) = CUPS.iter().find(|(wanted, _)| all(wanted))?;
    let another = [("butter", "peanut"), ("oats", "milk")].iter().any(|(w, with)| wanted.contains(w) && lower.contains(with));
    let each = cup * millilitres / US_CUP;
    if another {
        return None;
    }
    said(amount, each, &format!("a {} {} of {}", kitchen.word(), measure.key(), wanted.join(" ")), USDA)
}

fn said(amount: Amount, each: f64, what: &str, ground: &str) -> Option<MassGuess> {
    let shown = if each < 10.0 { format!("{}", (each * 10.0).round() / 10.0) } else { grouped(each.round() as u32) };
    let grams = amount.times(each)?;
    Some(MassGuess { grams, because: format!("{what} is taken as {shown} g ({ground})") })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_guess_says_its_ground_and_nobody_guesses_at_what_is_unknown() {
        let one = Amount::Exact(1.0);
        let cup = guess(one, Some(Measure::Cup), "honey", Kitchen::Us).unwrap();
        assert!((cup.grams.low() - 339.0).abs() < 0.01 && cup.because.contains("US cup of honey"), "{cup:?}");
        let eggs = guess(Amount::Exact(3.0), None, "large eggs", Kitchen::Metric).unwrap();
        assert_eq!(eggs.grams, Amount::Exact(150.0));
        for (measure, name) in
            [(Some(Measure::Cup), "stardust"), (None, "egg noodles"), (None, "eggplant"), (Some(Measure::Pinch), "saffron")]
        {
            assert_eq!(guess(one, measure, name, Kitchen::Metric), None, "{name}");
        }
    }
}
