//! What comes off beside the portions, and where it goes: nothing is left lying on the board without a name.

use crate::{
    book::{CutForm, Kind},
    quantity::{AsBought, Grams},
    rotation::{GIVEN_AWAY, TrimLine},
};

/// Where an offcut goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OffcutHome {
    /// Thrown away or composted.
    Bin,
    /// Boiled out: bones, frames, the greens of leeks.
    Stock,
    /// Into something that outlives the window: jelly and vinegar of peel and core.
    Bank,
    /// Gone in the cooking; nothing to put anywhere.
    Gone,
    /// Given to others to eat.
    Away,
}

impl OffcutHome {
    /// The word for a person.
    pub fn word(self) -> &'static str {
        match self {
            OffcutHome::Bin => "bin",
            OffcutHome::Stock => "stock",
            OffcutHome::Bank => "bank",
            OffcutHome::Gone => "gone in the cooking",
            OffcutHome::Away => "given away",
        }
    }

    /// What to do with it, in a few words.
    pub fn advice(self) -> &'static str {
        match self {
            OffcutHome::Bin => "to the bin or the compost",
            OffcutHome::Stock => "into the stock pot the same day, or cold and boiled out the next",
            OffcutHome::Bank => "put by: jelly, vinegar or syrup",
            OffcutHome::Gone => "what runs out is kept for gravy",
            OffcutHome::Away => "to a neighbour while it is fresh",
        }
    }
}

/// One line of trim with its home.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offcut {
    /// What it is.
    pub name: String,
    /// How much of the mass as bought.
    pub grams: Grams<AsBought>,
    /// Where it goes.
    pub home: OffcutHome,
}

/// Odd ends of a portion that was cut even: in its grams already.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Odds {
    /// About so much at least, in the portion's state.
    pub least: u32,
    /// About so much at most.
    pub most: u32,
    /// The dish that is glad of them, made on the same day or the next; nothing: they are cooked beside the even ones.
    pub into: Option<String>,
}

/// Even cutting leaves so much in a hundred as odd ends, least and most (common practice, no source).
const ODD_ENDS: (u32, u32) = (5, 10);

/// Whether a form is cut even, so that ends are left.
pub(super) fn leaves_odds(form: CutForm) -> bool {
    matches!(form, CutForm::Cubes | CutForm::Slices | CutForm::Sticks)
}

/// Whether a form takes ends of any shape.
pub(super) fn takes_odds(form: CutForm) -> bool {
    matches!(form, CutForm::Grated | CutForm::Pieces | CutForm::Shreds)
}

/// About what even cutting leaves of `grams`.
pub(super) fn odds_of(grams: u32, into: Option<String>) -> Odds {
    let share = |hundredths: u32| (u64::from(grams) * u64::from(hundredths) / 100) as u32;
    Odds { least: share(ODD_ENDS.0), most: share(ODD_ENDS.1), into }
}

/// The home of a line of trim, by what it is called (common practice, no source).
///
/// Bones, frames, fins and skins of animals are boiled out. So are the greens, skins and scrapings of onions, leeks and the
/// mild roots; those of cabbages turn a stock bitter and go out. Peel and core of orchard fruit make jelly. All else goes out,
/// and so does anything called bad, ragged or rotten.
pub(super) fn home_of(trim: &TrimLine, kind: &Kind) -> OffcutHome {
    if trim.name == GIVEN_AWAY {
        return OffcutHome::Away;
    }
    let words: Vec<String> = trim.name.to_lowercase().split(|c: char| !c.is_alphabetic()).map(str::to_string).collect();
    let any = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    if any(&["loss", "clings", "drains", "juice"]) {
        return OffcutHome::Gone;
    }
    if kind.animal && any(&["bone", "bones", "frame", "fins", "fin", "head", "skin", "gristle", "rind", "carcass", "shells"]) {
        return OffcutHome::Stock;
    }
    if any(&["bad", "rotten", "wounds", "split", "splits", "stones", "wasp", "tangle"]) {
        return OffcutHome::Bin;
    }
    match kind.family.as_str() {
        "allium" if any(&["leaves", "skin", "sheath", "tops", "greens"]) => OffcutHome::Stock,
        "hard-root" if any(&["scrapings", "tops"]) && !any(&["stub"]) => OffcutHome::Stock,
        "orchard-fruit" if any(&["peel", "core"]) => OffcutHome::Bank,
        _ => OffcutHome::Bin,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::book::Book;

    #[test]
    fn every_trim_of_the_book_has_the_home_a_cook_gives_it() {
        let book = Book::shipped().unwrap();
        let mut homes = std::collections::BTreeMap::new();
        for kind in book.kinds() {
            for t in &kind.trim {
                let line = TrimLine { name: t.name.clone(), grams: Grams::clamped(100) };
                homes.insert((kind.id.as_str(), t.name.as_str()), home_of(&line, kind));
            }
        }
        for (kind, trim, home) in [
            ("red-cabbage", "stump and core", OffcutHome::Bin),
            ("salmon-side", "pin bones and fin edge", OffcutHome::Stock),
            ("salmon-side", "skin off tail and belly", OffcutHome::Stock),
            ("roast-turkey", "cooking loss", OffcutHome::Gone),
            ("roast-turkey", "bone, skin and gristle", OffcutHome::Stock),
            ("celeriac", "peel and root tangle", OffcutHome::Bin),
            ("carrots", "tops, tails and scrapings", OffcutHome::Stock),
            ("apples", "eaters: core and stem", OffcutHome::Bank),
            ("apples", "windfalls: wounds, peel and core", OffcutHome::Bin),
            ("whole-hake", "head, fins and frame", OffcutHome::Stock),
        ] {
            assert_eq!(homes.get(&(kind, trim)), Some(&home), "{kind}: {trim}");
        }
        // Nothing of a kind without bones is boiled for its bones.
        let wrong: Vec<_> = homes.iter().filter(|(k, h)| **h == OffcutHome::Gone && k.1.contains("bone")).collect();
        assert!(wrong.is_empty(), "{wrong:?}");
    }

    #[test]
    fn even_cubes_leave_five_to_ten_in_a_hundred() {
        assert_eq!(odds_of(400, None), Odds { least: 20, most: 40, into: None });
    }
}
