//! Which line of a recipe is the piece, of which kind of the book it is, and how much of it there is for one.
//!
//! Names decide: the words of a kind in the recipe's name and in its lines. It is a guess that the cook looks through. A mass
//! is taken as it stands in the line, in the state that the line's words speak for; where they speak for none, it is open.

use super::{
    ReadRecipe,
    heads::{Heads, middle},
    words::{position_of, stem, stems},
};
use crate::{
    book::{Book, Kind, KindId},
    quantity::{IngredientLine, Kitchen, Measure, MeasureSort, State, grouped, read_line},
};

/// A guess at what the piece is.
#[derive(Clone, Debug, PartialEq)]
pub struct PieceGuess {
    /// Of this kind.
    pub kind: KindId,
    /// It is this line, from 0.
    pub line: usize,
    /// What speaks for it, in words.
    pub because: String,
    score: f64,
}

/// Other names of kinds that the book ships: plain kitchen English of either side of the sea.
const ALSO: &[(&str, &[&str])] = &[
    ("aubergines", &["eggplant"]),
    ("beetroot", &["beet"]),
    ("big-loaf", &["bread", "sourdough"]),
    ("butternut-squash", &["butternut", "squash"]),
    ("chard", &["swiss chard"]),
    ("courgettes", &["zucchini"]),
    ("fresh-curd", &["quark", "ricotta"]),
    ("honeydew-melon", &["honeydew"]),
    ("savoy-cabbage", &["savoy"]),
    ("swede", &["rutabaga"]),
    ("sweet-peppers", &["bell pepper", "red pepper", "green pepper", "yellow pepper"]),
    ("white-cabbage", &["green cabbage", "cabbage"]),
];
/// Words in the names of kinds that name no food.
const NO_FOOD: [&str; 13] =
    ["roast", "boiled", "side", "of", "whole", "big", "fresh", "joint", "leg", "shoulder", "on", "its", "date"];
/// What comes of a food but is not it: "tomato purée", "turkey stock", "cider vinegar".
const NOT_IT_BEHIND: [&str; 22] = [
    "stock", "broth", "powder", "puree", "purée", "paste", "vinegar", "sauce", "juice", "oil", "seed", "soup", "ketchup", "skin",
    "passata", "crumb", "jam", "chutney", "syrup", "roe", "roll", "cider",
];
/// What makes another thing of it: "coconut milk", "dried tomatoes".
const NOT_IT_BEFORE: [&str; 12] =
    ["coconut", "oat", "almond", "soy", "soya", "rice", "evaporated", "condensed", "powdered", "dried", "sundried", "pickled"];
/// What is in every second recipe without being its piece.
const EVERYWHERE: [&str; 4] = ["onions", "big-loaf", "milk-on-its-date", "tomatoes"];
/// Words for what is cooked before the recipe begins.
const COOKED: [&str; 13] = [
    "cooked",
    "roast",
    "roasted",
    "boiled",
    "leftover",
    "leftovers",
    "cold",
    "poached",
    "steamed",
    "grilled",
    "baked",
    "smoked",
    "braised",
];
/// Words for what is trimmed or cut.
const READY: [&str; 21] = [
    "shredded",
    "sliced",
    "peeled",
    "trimmed",
    "diced",
    "chopped",
    "grated",
    "cubed",
    "prepared",
    "cleaned",
    "halved",
    "quartered",
    "deseeded",
    "cored",
    "skinless",
    "boneless",
    "filleted",
    "fillet",
    "fillets",
    "florets",
    "shaved",
];
/// Words right behind the thing that say the same: "salmon fillet".
const READY_BEHIND: [&str; 5] = ["fillet", "fillets", "florets", "cubes", "wedges"];
/// From here on the best guess is offered.
const ENOUGH: f64 = 4.0;

/// The names under which a kind stands in recipes, as stems.
fn names_of(kind: &Kind) -> Vec<Vec<String>> {
    let own = kind.name.split(" and ").map(|part| {
        let words = stems(part);
        let food: Vec<String> = words.iter().filter(|w| !NO_FOOD.contains(&w.as_str())).cloned().collect();
        if food.is_empty() { words } else { food }
    });
    let also = ALSO.iter().filter(|(id, _)| *id == kind.id.as_str()).flat_map(|(_, names)| names.iter().map(|n| stems(n)));
    own.chain(also).filter(|name| !name.is_empty()).collect()
}

/// Whether a word belongs to a kind's names.
pub(super) fn is_word_of(kind: &Kind) -> impl Fn(&str) -> bool + use<> {
    let words: Vec<String> = names_of(kind).into_iter().flatten().collect();
    move |word| words.contains(&stem(word))
}

/// The longest of a kind's names among `words` that is the thing itself: where it stands, and how many words it has.
fn named_among(names: &[Vec<String>], words: &[String]) -> Option<(usize, usize)> {
    let found = names.iter().filter_map(|name| {
        let at = position_of(words, name)?;
        let word = |at: Option<usize>| at.and_then(|at| words.get(at)).map_or("", String::as_str);
        let is_it = !NOT_IT_BEHIND.contains(&word(Some(at + name.len()))) && !NOT_IT_BEFORE.contains(&word(at.checked_sub(1)));
        is_it.then_some((at, name.len()))
    });
    found.max_by_key(|(_, len)| *len)
}

/// Which kinds a line names, each by its place in `names`, where it stands and how many words it has. A name within a longer one
/// does not count ("cabbage" in "savoy cabbage"), nor one before another ("plum" in "plum tomatoes"); what is tinned is no piece.
fn kinds_in(line: &IngredientLine, names: &[Vec<Vec<String>>]) -> Vec<(usize, usize)> {
    let tinned = [line.measure, line.pack.and_then(|p| p.word)].into_iter().flatten().any(|m| m.sort() == MeasureSort::Pack);
    if tinned {
        return Vec::new();
    }
    let words = stems(&line.name);
    let all: Vec<(usize, usize, usize)> = names
        .iter()
        .enumerate()
        .filter_map(|(kind, names)| named_among(names, &words).map(|(at, len)| (kind, at, len)))
        .collect();
    let hidden = |&(_, at, len): &(usize, usize, usize)| {
        all.iter().any(|&(_, a, l)| a == at + len || (l > len && a <= at && at + len <= a + l))
    };
    all.iter().filter(|m| !hidden(m)).map(|&(kind, _, len)| (kind, len)).collect()
}

/// Grams of a line to weigh it against the others: as written, or as guessed. Nothing for what nobody knows.
fn rough_grams(line: &IngredientLine) -> Option<f64> {
    line.grams.or(line.guess.as_ref().map(|g| g.grams)).or(line.millilitres).map(middle)
}

/// What may be the piece, the likeliest first: one guess for each kind that the recipe names.
pub fn guess_pieces(recipe: &ReadRecipe, book: &Book) -> Vec<PieceGuess> {
    let kinds: Vec<&Kind> = book.kinds().map(|k| &**k).collect();
    let names: Vec<Vec<Vec<String>>> = kinds.iter().map(|k| names_of(k)).collect();
    let title = stems(&recipe.name);
    let is_cooked = |text: &str| text.to_lowercase().split(|c: char| !c.is_alphabetic()).any(|w| COOKED.contains(&w));
    let title_cooked = is_cooked(&recipe.name);
    let total: f64 = recipe.ingredients.iter().filter_map(rough_grams).sum();
    let mut best: Vec<Option<PieceGuess>> = vec![None; kinds.len()];
    for (at, line) in recipe.ingredients.iter().enumerate() {
        for (k, words) in kinds_in(line, &names) {
            let kind = kinds[k];
            // In a title what is made of it counts too: "tomato soup"; and so does its bare last word: "cabbage".
            let longest = names[k].iter().filter(|n| position_of(&title, n).is_some()).map(Vec::len).max();
            let bare = || names[k].iter().any(|n| n.last().is_some_and(|last| title.contains(last)));
            let mut score = 2.0 * (words as f64 - 1.0);
            score += longest.map_or_else(|| if bare() { 10.0 } else { 0.0 }, |len| 10.0 + len as f64);
            let in_title = longest.is_some() || bare();
            score += if at == 0 { 2.0 } else { 0.0 };
            score += match rough_grams(line) {
                Some(grams) if total > 0.0 => 6.0 * grams / total,
                // One whole head of something is much.
                None if line.measure.is_none() && line.amount.is_some_and(|a| a.high() <= 2.0) => 2.0,
                _ => 0.0,
            };
            score -= if EVERYWHERE.contains(&kind.id.as_str()) { 4.0 } else { 0.0 };
            let raw_of_cooked = kind.is_cooked_whole() && !title_cooked && !is_cooked(&line.raw);
            score -= if raw_of_cooked { 5.0 } else { 0.0 };
            if best[k].as_ref().is_none_or(|b| score > b.score) {
                let brief: String = line.raw.chars().take(60).collect();
                let place = if in_title { "in the recipe's name and in" } else { "in" };
                let mut because = format!("{} stands {place} \"{brief}\"", kind.name);
                if raw_of_cooked {
                    because.push_str(", which does not say that it is cooked");
                }
                best[k] = Some(PieceGuess { kind: kind.id.clone(), line: at, because, score });
            }
        }
    }
    let mut guesses: Vec<PieceGuess> = best.into_iter().flatten().collect();
    guesses.sort_by(|a, b| b.score.total_cmp(&a.score));
    guesses
}

impl PieceGuess {
    /// Whether enough speaks for it to offer it as the best guess.
    pub fn is_likely(&self) -> bool {
        self.score >= ENOUGH
    }
}

/// The line that is likeliest a piece of `kind`, if any names it.
pub fn line_of(recipe: &ReadRecipe, book: &Book, kind: &KindId) -> Option<usize> {
    guess_pieces(recipe, book).into_iter().find(|g| g.kind == *kind).map(|g| g.line)
}

/// What a line says of the piece's mass.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PieceMass {
    /// Grams; nothing where no mass stands in the line.
    pub grams: Option<u32>,
    /// The state in which they were weighed; nothing where the line does not say.
    pub state: Option<State>,
    /// What was taken on what ground, and why something is open; each a sentence.
    pub because: Vec<String>,
}

/// The mass of the piece in its line, and its state.
pub fn piece_mass(line: &IngredientLine, kind: &Kind) -> PieceMass {
    let mut because = Vec::new();
    let grams = mass_in(line, kind, &mut because);
    let state = state_in(line, kind, &mut because);
    PieceMass { grams, state, because }
}

fn mass_in(line: &IngredientLine, kind: &Kind, because: &mut Vec<String>) -> Option<u32> {
    let whole = |grams: f64| (grams.round() >= 1.0).then_some(grams.round() as u32);
    if let Some(grams) = line.grams {
        if grams.low() < grams.high() {
            because.push(format!("It is {} to {} g; the middle is taken.", grams.low().round(), grams.high().round()));
        }
        return whole(middle(grams));
    }
    if let Some(guess) = &line.guess {
        because.push(format!("It was not weighed: {}.", guess.because));
        return whole(middle(guess.grams));
    }
    if let (Some(ml), Some(cup)) = (line.millilitres, kind.cup) {
        /// Millilitres in the US cup that kinds' cups are weighed in.
        const US_CUP: f64 = 236.588;
        because
            .push(format!("It was measured by volume: a US cup of {} is taken as {} g, as the book has it.", kind.name, cup.0));
        return whole(middle(ml) / US_CUP * cup.0);
    }
    if let (Some(count), Some(each)) = (line.amount, each_of(line)) {
        because.push(format!("{} of {} g each.", middle(count), each.round()));
        return whole(middle(count) * each);
    }
    let (_, typical, _) = kind.mass;
    let one = line.amount.is_some_and(|a| a.high() == 1.0) && !kind.name.ends_with('s');
    because.push(match (line.amount, line.measure) {
        (None, _) => "No amount stands in its line: weigh yours and type the grams.".into(),
        (Some(_), None | Some(Measure::Head)) if one => format!(
            "Its line counts it and gives no mass: weigh yours. The book's usual {} is {} g as bought.",
            kind.name,
            grouped(typical)
        ),
        (Some(_), None | Some(Measure::Head)) => "Its line counts it and gives no mass: weigh yours.".into(),
        (Some(_), Some(measure)) => format!("Its line gives it by the {}, which is no mass: weigh yours.", measure.key()),
    });
    None
}

/// Grams of one, where the line counts them and says what each weighs: "2 fillets (about 150 g each)".
fn each_of(line: &IngredientLine) -> Option<f64> {
    let counts = line.measure.is_none_or(|m| m.sort() == MeasureSort::Piece);
    let texts = line.also.iter().flat_map(|t| t.split(';')).chain(line.note.split([';', ',']));
    texts.filter(|t| counts && t.to_lowercase().split_whitespace().any(|w| w == "each")).find_map(|text| {
        let bare = text.to_lowercase().replace("each", "");
        read_line(bare.trim(), Kitchen::Metric).grams.map(middle)
    })
}

fn state_in(line: &IngredientLine, kind: &Kind, because: &mut Vec<String>) -> Option<State> {
    let lower = line.raw.to_lowercase();
    let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).collect();
    let thing = named_among(&names_of(kind), &stems(&line.raw)).map_or(words.len(), |(at, len)| at + len);
    let before = |list: &[&'static str]| list.iter().find(|w| words.iter().take(thing).any(|x| x == *w)).copied();
    if let Some(word) = before(&COOKED) {
        because.push(format!("\"{word}\" stands in its line: the grams are taken as cooked."));
        return Some(State::Cooked);
    }
    if kind.is_cooked_whole() {
        if line.measure.is_none() && line.amount.is_some_and(|a| a.high() <= 2.0) {
            because.push("It is a whole one: the grams are taken as bought.".into());
            return Some(State::AsBought);
        }
        because.push(format!("The book counts {} cooked, and the line does not say whether its grams are: choose.", kind.name));
        return None;
    }
    let behind = words.get(thing).and_then(|next| READY_BEHIND.iter().find(|w| *w == next).copied());
    if let Some(word) = before(&READY).or(behind) {
        because.push(format!(
            "\"{word}\" stands with its name in its line: the grams are taken as prepared (common practice in writing recipes, no source)."
        ));
        return Some(State::Prepared);
    }
    because.push(
        "Nothing before it in its line says that it was trimmed: the grams are taken as bought (common practice in writing recipes, \
         no source)."
            .into(),
    );
    Some(State::AsBought)
}

/// Grams of the piece for one, in a state.
#[derive(Clone, Debug, PartialEq)]
pub struct ForOne {
    /// Least, typical, most.
    pub grams: (u32, u32, u32),
    /// What they are counted in: prepared or cooked, as the book counts the kind; never as bought.
    pub state: State,
    /// How they were reckoned; each a sentence.
    pub because: Vec<String>,
}

/// Grams of the piece for one, out of the mass of all of it; else the reason why they are open.
pub fn for_one(mass: Option<u32>, state: Option<State>, heads: Option<&Heads>, kind: &Kind) -> Result<ForOne, String> {
    let mass = mass.ok_or("The mass of the piece is not known.")?;
    let state = state.ok_or("It is not known whether the grams are as bought, prepared or cooked.")?;
    let heads = heads.ok_or("For how many it is is not known.")?;
    let mut because = Vec::new();
    let (usable, state) = match state {
        State::AsBought => {
            let share: u32 = kind.parts.iter().map(|p| u32::from(p.share.get())).sum();
            let usable = f64::from(mass) * f64::from(share) / 1_000.0;
            because.push(format!(
                "Of {} g as bought the book counts {share} in 1,000 {}: {} g.",
                grouped(mass),
                kind.portioned.word(),
                grouped(usable.round() as u32)
            ));
            (usable, kind.portioned)
        }
        State::Prepared if kind.is_cooked_whole() => {
            return Err(format!("The book counts {} cooked, and these grams are raw: weigh it cooked.", kind.name));
        }
        other => (f64::from(mass), other),
    };
    let each = |heads: f64| tidy(usable / heads);
    let typical = each(heads.middle());
    let (least, most) = if heads.count.low() < heads.count.high() {
        because.push("Least and most are those of the most and the fewest that it feeds.".into());
        (each(heads.count.high()), each(heads.count.low()))
    } else {
        because.push("Least and most are proposed: a quarter less and more, as most dishes of the book bear it.".into());
        (tidy(usable / heads.middle() * 0.75), tidy(usable / heads.middle() * 1.25))
    };
    if least == 0 || typical > crate::quantity::MAX_GRAMS / 2 {
        return Err(format!("{} g for {} make no portion.", grouped(mass), heads.middle()));
    }
    Ok(ForOne { grams: (least.min(typical), typical, most.max(typical)), state, because })
}

/// To a figure that a scale shows: whole grams under 50, then to 5.
fn tidy(grams: f64) -> u32 {
    if grams < 50.0 { grams.round() as u32 } else { (grams / 5.0).round() as u32 * 5 }
}
