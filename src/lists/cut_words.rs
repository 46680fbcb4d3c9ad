//! How a dish wants its piece cut, found in the words of its steps: the book tells it there and nowhere else.

use crate::{
    book::{CutForm, Dish, Kind},
    quantity::System,
};

/// Words by which the steps call the piece, beside its own name and those of its parts.
const PIECE_WORDS: &[&str] =
    &["piece", "pieces", "fruit", "fish", "meat", "root", "head", "leaves", "florets", "pods", "loaf", "heart", "it"];
/// Words for cutting.
const KNIFE_WORDS: &[&str] = &[
    "cut", "slice", "shred", "dice", "cube", "chop", "grate", "halve", "quarter", "shave", "tear", "break", "trim", "peel",
    "carve", "pull", "flake", "square", "pare", "draw", "mince", "crumble",
];

/// The size of a cut, in tenths of a millimetre: from least to most, mostly one figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CutSize {
    /// The least.
    pub least: u32,
    /// The most.
    pub most: u32,
}

impl CutSize {
    /// "2 mm", "2 to 3 cm"; inches to the sixteenth elsewhere: "⅛ in" is written "1/8 in".
    pub fn said(self, system: System) -> String {
        let (figures, sign): (fn(u32) -> String, &str) = match system {
            System::Metric if self.most < 100 => (|n| decimal(n, 10), "mm"),
            System::Metric => (|n| decimal(n, 100), "cm"),
            _ => (inches, "in"),
        };
        let (least, most) = (figures(self.least), figures(self.most));
        if least == most { format!("{most}\u{a0}{sign}") } else { format!("{least} to {most}\u{a0}{sign}") }
    }
}

/// `n` of `unit` with at most two decimals.
fn decimal(n: u32, unit: u32) -> String {
    let text = format!("{:.2}", f64::from(n) / f64::from(unit));
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// Tenths of a millimetre as inches to the sixteenth (an inch is 25.4 mm, exact: NIST SP 811, Appendix B).
fn inches(tenths: u32) -> String {
    let sixteenths = ((f64::from(tenths) / 254.0 * 16.0).round() as u32).max(1);
    let (whole, rest) = (sixteenths / 16, sixteenths % 16);
    let shift = rest.trailing_zeros();
    match (whole, rest) {
        (whole, 0) => whole.to_string(),
        (0, _) => format!("{}/{}", rest >> shift, 16 >> shift),
        (whole, _) => format!("{whole}\u{a0}{}/{}", rest >> shift, 16 >> shift),
    }
}

/// The sentence of a dish's steps that tells how its piece is cut, and the size named there.
///
/// It is the first that cuts, names the piece (or the form that the book gives) and does not speak of a companion alone.
/// Nothing where the steps do not say.
pub fn how_cut<'d>(dish: &'d Dish, kind: &Kind) -> (Option<&'d str>, Option<CutSize>) {
    let of_other = |words: &[String]| dish.companions.iter().any(|c| words_of(&c.name).any(|w| names(words, &w)));
    let mut by_form = None;
    for step in &dish.steps {
        // What the step measures of the piece; a size that belongs to the potatoes alone does not count.
        let size = || {
            clauses(&step.text).find_map(|clause| {
                let words: Vec<String> = words_of(clause).collect();
                let apart = of_other(&words) && !words.iter().any(|w| is_piece(w, kind));
                size_in(clause).filter(|_| !apart)
            })
        };
        for clause in clauses(&step.text) {
            let words: Vec<String> = words_of(clause).collect();
            let cuts = words.iter().any(|w| KNIFE_WORDS.contains(&w.as_str()));
            if cuts && words.iter().any(|w| is_piece(w, kind)) {
                return (Some(&step.text), size());
            }
            let in_form = (cuts || size_in(clause).is_some()) && dish.cut.is_some_and(|form| shows(form, &words));
            if by_form.is_none() && in_form && !of_other(&words) {
                by_form = Some((Some(step.text.as_str()), size()));
            }
        }
    }
    by_form.unwrap_or((None, None))
}

/// The clauses of a sentence, and what is joined by "and the".
fn clauses(text: &str) -> impl Iterator<Item = &str> {
    text.split([',', ';', '.', '(', ')'])
        .flat_map(|c| c.split(" and the "))
        .flat_map(|c| c.split(" the potato"))
        .filter(|c| !c.is_empty())
}

fn words_of(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|c: char| !c.is_alphabetic()).filter(|w| w.len() > 1).map(str::to_lowercase)
}

fn names(words: &[String], name: &str) -> bool {
    words.iter().any(|w| same_word(w, name))
}

/// Whether two words are one, or one the plural of the other.
pub(crate) fn same_word(a: &str, b: &str) -> bool {
    let plural = |one: &str, many: &str| many.strip_prefix(one).is_some_and(|end| matches!(end, "" | "s" | "es"));
    plural(a, b) || plural(b, a)
}

fn is_piece(word: &str, kind: &Kind) -> bool {
    let parts = kind.parts.iter().flat_map(|p| words_of(&p.name)).filter(|w| w.len() > 3);
    let own = words_of(&kind.name).filter(|w| w.len() > 3);
    PIECE_WORDS.contains(&word) || parts.chain(own).any(|w| same_word(&w, word))
}

/// Whether these words show the form.
fn shows(form: CutForm, words: &[String]) -> bool {
    let of_form: &[&str] = match form {
        CutForm::Whole => &["whole"],
        CutForm::Wedges => &["wedge", "wedges", "moons", "quarter"],
        CutForm::Slices => &["slice", "slices", "slabs", "rounds", "rings", "ribbons", "shave", "layers"],
        CutForm::Cubes => &["cube", "cubes", "dice"],
        CutForm::Sticks => &["stick", "sticks", "batons", "fingers", "strips", "matchsticks"],
        CutForm::Shreds => &["shred", "shreds", "strips", "ribbons"],
        CutForm::Grated => &["grate", "crumble"],
        CutForm::Leaves => &["leaf", "leaves"],
        CutForm::Florets => &["floret", "florets", "bites"],
        CutForm::Halves => &["halve", "halves"],
        CutForm::Pieces => &["pieces", "chunks", "bites", "flakes", "roughly", "small", "chop"],
    };
    words.iter().any(|w| of_form.contains(&w.as_str()))
}

/// The first measure of length in `text`: "2 mm", "1.5 cm", "2 to 3 cm".
fn size_in(text: &str) -> Option<CutSize> {
    let words: Vec<&str> = text.split([' ', '\u{a0}']).filter(|w| !w.is_empty()).collect();
    let at = words.iter().position(|w| matches!(w.trim_matches(|c: char| !c.is_alphanumeric()), "mm" | "cm"))?;
    let scale = if words[at].contains("mm") { 10.0 } else { 100.0 };
    let figure = |i: Option<usize>| {
        let number: f64 = words.get(i?)?.parse().ok()?;
        (0.01..=1_000.0).contains(&number).then(|| (number * scale).round() as u32)
    };
    let most = figure(at.checked_sub(1))?;
    let ranged = at >= 3 && words[at - 2] == "to";
    let least = if ranged { figure(at.checked_sub(3)).unwrap_or(most) } else { most };
    Some(CutSize { least: least.min(most), most })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::{Book, DishId, KindId};

    fn how(kind: &str, dish: &str) -> (String, String) {
        let book = Book::shipped().unwrap();
        let (kind, dish) = (book.kind(&KindId::new(kind).unwrap()).unwrap(), book.dish(&DishId::new(dish).unwrap()).unwrap());
        let (text, size) = how_cut(dish, kind);
        let text = text.unwrap_or("").chars().take(24).collect();
        (text, size.map_or(String::new(), |s| s.said(System::Metric).replace('\u{a0}', " ")))
    }

    #[test]
    fn the_steps_tell_how_and_how_small() {
        for (kind, dish, text, size) in [
            ("red-cabbage", "sharp-slaw-pear-mustard", "Halve the heart, cut out", "2 mm"),
            ("red-cabbage", "charred-wedges-cumin-yoghurt", "Cut the middle into four", ""),
            ("red-cabbage", "crisp-shred-pancakes-ginger-soy", "Shred the cabbage 3 mm t", "3 mm"),
            ("red-cabbage", "cabbage-potato-dry-curry", "Cut the cabbage into str", ""),
            ("salmon-side", "coconut-lime-curry", "Cut the fish into cubes ", "3 cm"),
            ("roast-turkey", "thigh-potato-hash-egg", "Cut the thigh meat into ", ""),
            ("celeriac", "mustard-matchsticks", "Square off the piece on ", "2 mm"),
            ("celeriac", "miso-roast-slices-mushrooms", "Square off a face, cut s", "2 cm"),
            ("celeriac", "cream-bake-beans", "Slice root and potato 3 ", "3 mm"),
            ("celeriac", "grated-fried-cakes-herring", "Grate coarsely, salt and", ""),
            ("tomatoes", "crumbed-fried-turning-slices", "Cut slices of 1 cm, salt", "1 cm"),
            ("tomatoes", "roast-sauce-base", "Cut splits and bad shoul", ""),
            ("cauliflower", "dry-potato-curry", "Break or cut the piece i", "3 cm"),
        ] {
            assert_eq!(how(kind, dish), (text.to_string(), size.to_string()), "{dish}");
        }
    }

    #[test]
    fn a_size_reads_as_the_household_measures() {
        let size = |least, most| CutSize { least, most };
        for (size, metric, us) in [
            (size(20, 20), "2 mm", "1/16 in"),
            (size(300, 300), "3 cm", "1 3/16 in"),
            (size(100, 150), "1 to 1.5 cm", "3/8 to 9/16 in"),
            (size(254, 254), "2.54 cm", "1 in"),
        ] {
            assert_eq!(size.said(System::Metric).replace('\u{a0}', " "), metric);
            assert_eq!(size.said(System::Us).replace('\u{a0}', " "), us);
        }
        assert_eq!(size_in("Cut 2 to 3 cm away"), Some(size(200, 300)));
        for none in ["a finger thick", "mm", "of cm", "-3 cm"] {
            assert_eq!(size_in(none), None, "{none}");
        }
    }
}
