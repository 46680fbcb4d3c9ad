//! A foreign recipe as a dish of one's own: what can be proposed, each thing with its ground, and what is left open, with the reason.
//!
//! Nothing here is a dish yet. What the recipe says is taken over; what its words only hint at is proposed; what it does not
//! say stays open, for a blank asks the cook and a made-up figure does not.

use super::{
    ReadRecipe, Reasoned,
    company::{Pantry, ProposedCompanion, companion_of},
    heads::Heads,
    making::{ProposedStep, oven_of, step_of},
    piece::{ForOne, for_one, is_word_of},
    propose::{Proposed, propose_beside, protein_named_in},
    recipe::noticed,
};
use crate::{
    book::{
        Allergen, Book, Care, Caution, CutForm, Diet, Graded, Kind, Method, Profile, Protein, Starch, StepPlace, diet_named_in,
    },
    quantity::{Days, IngredientLine, PerMille, State},
};

/// The longest name of a dish that is proposed, in letters (house limit).
const MAX_NAME: usize = 120;

/// What the cook has chosen before the proposal is made.
#[derive(Clone, Debug)]
pub struct Chosen<'a> {
    /// What the piece is.
    pub kind: &'a Kind,
    /// Which line it is, from 0; nothing where none is.
    pub line: Option<usize>,
    /// All of it in grams; nothing where that is not known.
    pub mass: Option<u32>,
    /// The state of those grams; nothing where that is not known.
    pub state: Option<State>,
    /// For how many; nothing where that is not known.
    pub heads: Option<&'a Heads>,
    /// Lines that are no companions, from 0.
    pub left_out: &'a [usize],
}

/// A dish as it is proposed.
#[derive(Clone, Debug)]
pub struct DishProposal {
    /// Its name, as the page has it.
    pub name: String,
    /// Grams of the piece for one; or why they are open, in a sentence.
    pub grams: Result<ForOne, String>,
    /// How it eats, the piece itself left aside; each axis with its ground, blank where nothing speaks.
    pub eats: Proposed,
    /// How the piece is cut.
    pub cut: Option<Reasoned<CutForm>>,
    /// Cooked grams from a thousand that go in; nothing where the book has no figure for the kind and the method.
    pub yields: Option<Reasoned<PerMille>>,
    /// Whether the piece is cooked through; where nothing speaks for it, it is not.
    pub cooked: Reasoned<bool>,
    /// Days that it keeps, also for what stands beside it; nothing where the book has no figure.
    pub keeps: Option<Reasoned<Days>>,
    /// Minutes of hands.
    pub hands: Option<Reasoned<u16>>,
    /// Minutes in all.
    pub total: Option<Reasoned<u16>>,
    /// The oven in degrees Celsius, without a fan.
    pub oven: Option<Reasoned<u16>>,
    /// What it needs beside the piece.
    pub companions: Vec<ProposedCompanion>,
    /// Allergens that the names of the lines beside the piece give away, each with the line that does. Never all there are.
    pub allergens: Vec<(Allergen, String)>,
    /// The strictest diet that the names leave possible.
    pub diet: Diet,
    /// How it is made.
    pub steps: Vec<ProposedStep>,
    /// What to say of it, and for whom.
    pub cautions: Vec<Caution>,
    /// What is left open, each a sentence with its reason.
    pub open: Vec<String>,
}

/// A dish of `chosen.kind` out of a recipe.
pub fn propose_dish(recipe: &ReadRecipe, chosen: &Chosen<'_>, book: &Book) -> DishProposal {
    let beside = || recipe.ingredients.iter().enumerate().filter(|(at, _)| chosen.line != Some(*at));
    let mut open = Vec::new();
    let name: String = recipe.name.chars().filter(|c| !c.is_control()).take(MAX_NAME).collect();
    if name.is_empty() {
        open.push("Its name: the page gives none.".into());
    } else if recipe.name.chars().count() > MAX_NAME {
        open.push(format!("The end of its name: {MAX_NAME} letters are the most that are kept."));
    }
    let grams = for_one(chosen.mass, chosen.state, chosen.heads, chosen.kind);
    if let Err(why) = &grams {
        open.push(format!("Grams of the piece for one. {why}"));
    }
    let eats = propose_beside(&recipe.name, beside().map(|(_, l)| l), &recipe.steps, &is_word_of(chosen.kind));
    let piece = chosen.line.and_then(|at| recipe.ingredients.get(at));
    let method = eats.method.as_ref().map(|m| m.value);
    let steps: Vec<ProposedStep> = recipe.steps.iter().map(|s| step_of(s)).collect();
    let heated = steps.iter().any(|s| matches!(s.place, StepPlace::Ring | StepPlace::Oven));
    let cooked = cooked_of(method, chosen.state, heated);
    let cut = cut_of(piece, &recipe.steps);
    let yields = yields_of(chosen.kind, method, cooked.value);
    if yields.is_none() {
        open.push("What is left of 1,000 grams when it is cooked: the book has no figure for this kind cooked so.".into());
    }
    let keeps = keeps_of(chosen.kind, cooked.value, cut.as_ref().map(|c| c.value), &eats);
    if keeps.is_none() {
        open.push("How long it keeps: the book has no figure for this kind raw and cut so.".into());
    }
    let (hands, total) = minutes_of(recipe, &mut open);
    let oven = oven_of(recipe.steps.iter().map(String::as_str).chain(recipe.ingredients.iter().map(|l| l.raw.as_str())))
        .map(|(value, because)| Reasoned { value, because });
    let pantry = Pantry::of(book);
    let companions: Vec<ProposedCompanion> = beside()
        .filter(|(at, _)| !chosen.left_out.contains(at))
        .map(|(at, line)| companion_of(at, line, chosen.heads, &pantry))
        .collect();
    open.extend(companions.iter().filter_map(|c| {
        let why = c.open.as_ref()?;
        Some(format!("How much {} for one: {why}.", c.name))
    }));
    let untimed: Vec<String> =
        steps.iter().enumerate().filter(|(_, s)| s.minutes.is_none()).map(|(at, _)| (at + 1).to_string()).collect();
    if !untimed.is_empty() {
        let which = if untimed.len() == 1 { "step" } else { "steps" };
        open.push(format!("Minutes of {which} {}: the text states none.", untimed.join(", ")));
    }
    let allergens = noticed(beside().map(|(_, l)| l));
    let diet = diet_of(chosen.kind, beside().map(|(_, l)| l), &allergens);
    let cautions = cautions_of(recipe, chosen, &eats, &allergens);
    DishProposal {
        name,
        grams,
        eats,
        cut,
        yields,
        cooked,
        keeps,
        hands,
        total,
        oven,
        companions,
        allergens,
        diet,
        steps,
        cautions,
        open,
    }
}

impl DishProposal {
    /// The proposed profile, blank where nothing speaks.
    pub fn profile(&self) -> Profile {
        fn one<T: Copy>(axis: &Option<Reasoned<T>>) -> Vec<Graded<T>> {
            axis.iter().map(|r| Graded(r.value, 1.0)).collect()
        }
        let e = &self.eats;
        Profile {
            texture: one(&e.texture),
            family: one(&e.family),
            method: one(&e.method),
            heat: e.heat.as_ref().map(|r| r.value),
            form: e.form.as_ref().map(|r| r.value),
            protein: e.protein.as_ref().map(|r| r.value),
            starch: e.starch.as_ref().map(|r| r.value),
            ..Profile::default()
        }
    }
}

/// A dish that is wrongly said to be cooked through stops the raw clock: what is not sure is not.
fn cooked_of(method: Option<Method>, state: Option<State>, heated: bool) -> Reasoned<bool> {
    let (value, because) = match (method, state) {
        (_, Some(State::Cooked)) => (true, "it is cooked before the recipe begins".to_string()),
        (Some(Method::Raw | Method::Pickle | Method::Smoke), _) => {
            (false, "nothing says that it is heated through, so the raw piece's clock runs on".to_string())
        }
        (Some(Method::Blend), _) if !heated => {
            (false, "it is blended, and no step heats it, so the raw piece's clock runs on".to_string())
        }
        (Some(method), _) => (true, format!("it is {}", method.word())),
        (None, _) => (false, "no way of cooking is named, so the raw piece's clock runs on".to_string()),
    };
    Reasoned { value, because }
}

/// How the piece is cut: by the words of its line, else by those of the first step that cuts.
fn cut_of(piece: Option<&IngredientLine>, steps: &[String]) -> Option<Reasoned<CutForm>> {
    const CUTS: [(CutForm, &[&str]); 9] = [
        (CutForm::Shreds, &["shredded", "shred"]),
        (CutForm::Grated, &["grated", "grate"]),
        (CutForm::Wedges, &["wedges"]),
        (CutForm::Sticks, &["sticks", "batons", "julienne", "matchsticks"]),
        (CutForm::Florets, &["florets"]),
        (CutForm::Cubes, &["cubes", "cubed", "diced", "dice"]),
        (CutForm::Slices, &["slices", "sliced", "slice"]),
        (CutForm::Halves, &["halved", "halves"]),
        (CutForm::Pieces, &["chopped", "chunks", "pieces"]),
    ];
    let in_text = |text: &str| {
        let lower = text.to_lowercase();
        let words: Vec<&str> = lower.split(|c: char| !c.is_alphabetic()).collect();
        CUTS.iter().find_map(|(form, list)| list.iter().find(|w| words.contains(w)).map(|w| (*form, *w)))
    };
    let in_line = piece.and_then(|l| in_text(&l.raw)).map(|(value, word)| (value, format!("\"{word}\" stands in its line")));
    let in_steps = || {
        let (value, word) = steps.iter().take(2).find_map(|s| in_text(s))?;
        Some((value, format!("\"{word}\" stands in the first steps")))
    };
    in_line.or_else(in_steps).map(|(value, because)| Reasoned { value, because })
}

fn yields_of(kind: &Kind, method: Option<Method>, cooked: bool) -> Option<Reasoned<PerMille>> {
    if !cooked {
        return Some(Reasoned { value: PerMille::ALL, because: "raw, nothing is lost".into() });
    }
    if kind.is_cooked_whole() {
        return Some(Reasoned { value: PerMille::ALL, because: format!("the book counts {} cooked already", kind.name) });
    }
    let known = kind.yields.iter().find(|y| Some(y.method) == method)?;
    Some(Reasoned { value: known.share, because: format!("the book's figure for {} {}", kind.name, known.method.word()) })
}

/// The book's limit for the kind; shorter for what stands beside it, as the book's own dishes have it.
fn keeps_of(kind: &Kind, cooked: bool, cut: Option<CutForm>, eats: &Proposed) -> Option<Reasoned<Days>> {
    const WITH_RICE_OR_FISH: Days = Days(1);
    let (value, because) = if cooked {
        (kind.cooked_days, format!("the book's limit for cooked {}", kind.name))
    } else {
        let cut = cut?;
        (kind.cut_days(cut)?, format!("the book's limit for raw {} in {}", kind.name, cut.word()))
    };
    let beside = match (eats.starch.as_ref().map(|s| s.value), eats.protein.as_ref().map(|p| p.value)) {
        (Some(Starch::Rice), _) => Some("rice"),
        (_, Some(Protein::Fish | Protein::Shellfish)) => Some("fish"),
        _ => None,
    };
    Some(match beside.filter(|_| value > WITH_RICE_OR_FISH) {
        Some(word) => Reasoned { value: WITH_RICE_OR_FISH, because: format!("with {word} the book's dishes keep no longer") },
        None => Reasoned { value, because },
    })
}

fn minutes_of(recipe: &ReadRecipe, open: &mut Vec<String>) -> (Option<Reasoned<u16>>, Option<Reasoned<u16>>) {
    const MOST: u32 = 10_080;
    let m = recipe.minutes;
    let said = |minutes: Option<u32>, because: &str| {
        minutes.filter(|n| *n > 0 && *n <= MOST).map(|n| Reasoned { value: n as u16, because: because.to_string() })
    };
    let both = m.prep.zip(m.cook).map(|(p, c)| p.saturating_add(c));
    let total =
        said(m.total, "the page's time in all").or_else(|| said(both, "the page's times to prepare and to cook together"));
    let most = total.as_ref().map(|t| t.value);
    let hands = said(m.prep, "the page's time to prepare").filter(|h| most.is_some_and(|t| h.value <= t));
    if hands.is_none() {
        open.push("Minutes of hands: the page does not say how long it takes to prepare.".into());
    }
    if total.is_none() {
        open.push("Minutes in all: the page does not say how long it takes.".into());
    }
    (hands, total)
}

fn diet_of<'a>(kind: &Kind, lines: impl Iterator<Item = &'a IngredientLine>, allergens: &[(Allergen, String)]) -> Diet {
    let has = |some: &[Allergen]| allergens.iter().any(|(a, _)| some.contains(a));
    let mut diet = kind.diet;
    let mut at_least = |d: Diet| {
        if (d as u8) < diet as u8 {
            diet = d;
        }
    };
    if has(&[Allergen::Milk, Allergen::Egg]) {
        at_least(Diet::Vegetarian);
    }
    if has(&[Allergen::Fish, Allergen::Crustacean, Allergen::Mollusc]) {
        at_least(Diet::Pescatarian);
    }
    for line in lines {
        at_least(diet_named_in(&line.name));
        match protein_named_in(&line.name) {
            Some(Protein::Beef | Protein::Pork | Protein::Lamb | Protein::Poultry | Protein::Game | Protein::Cured) => {
                at_least(Diet::Everything);
            }
            Some(Protein::Fish | Protein::Shellfish) => at_least(Diet::Pescatarian),
            Some(Protein::Egg | Protein::Cheese) => at_least(Diet::Vegetarian),
            _ => {}
        }
    }
    diet
}

/// Cautions that names give rise to, in the words and with the sources of the book's own dishes.
fn cautions_of(recipe: &ReadRecipe, chosen: &Chosen<'_>, eats: &Proposed, allergens: &[(Allergen, String)]) -> Vec<Caution> {
    let weak = || vec![Care::Pregnant, Care::Elderly, Care::UnderFive, Care::Unwell];
    let named = |words: &[&str]| {
        recipe.ingredients.iter().any(|l| {
            let lower = l.name.to_lowercase();
            lower.split(|c: char| !c.is_alphabetic()).any(|w| words.contains(&w))
        })
    };
    let has = |a: Allergen| allergens.iter().any(|(x, _)| *x == a);
    let mut cautions = Vec::new();
    let mut say = |for_whom: Vec<Care>, text: &str, source: &str| {
        cautions.push(Caution { for_whom, text: text.into(), source: source.into() });
    };
    if eats.starch.as_ref().is_some_and(|s| s.value == Starch::Rice) {
        say(
            Vec::new(),
            "Rice in it: in the fridge within an hour of leaving the heat, eaten by the next day, reheated once and steaming right \
             through.",
            "UK Food Standards Agency, leftovers: rice",
        );
    }
    if has(Allergen::Egg) && named(&["egg", "eggs"]) {
        let source = "practice, after general advice on runny egg for vulnerable groups";
        say(weak(), "Cook the eggs firm for these eaters.", source);
    }
    let raw = matches!(eats.method.as_ref().map(|m| m.value), Some(Method::Raw | Method::Pickle));
    if chosen.kind.animal && raw && chosen.state != Some(State::Cooked) {
        say(
            weak(),
            "Raw meat and raw fish are not for these eaters.",
            "practice, after general advice on raw food for vulnerable groups",
        );
    }
    if named(&["chilli", "chillies", "chili", "chile", "harissa", "cayenne", "jalapeno", "jalapeño"]) {
        say(vec![Care::UnderFive], "Take the small eater's share out before the chilli goes in.", "practice");
    }
    if has(Allergen::Nuts) || has(Allergen::Peanut) {
        say(vec![Care::UnderFive], "Grind the nuts for the smallest: whole nuts choke.", "practice");
    }
    cautions
}
