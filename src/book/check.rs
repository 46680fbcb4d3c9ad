//! Proves every reference, range and unit of the catalogue.

mod packs;
mod words;

pub(crate) use words::{allergens_of, contents_by_words};

use super::{Allergen, Book, Companion, Diet, Dish, Graded, Kind, Place, Role, StepPlace, contents_of};
use crate::quantity::Days;
use std::collections::BTreeSet;

/// Which part of an entry a fault is about, so that it can be said beside what was written there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[allow(missing_docs)] // Each is the plain name of a part of an entry.
pub enum About {
    #[default]
    Name,
    Families,
    Parts,
    MadeFrom,
    Diet,
    Grams,
    Yield,
    Keeping,
    Oven,
    Minutes,
    Leftover,
    Profile,
    Steps,
    Companions,
    Allergens,
    Twins,
    Cautions,
    Sources,
    Mass,
    Colour,
    Shares,
    /// What is lost in cooking.
    Yields,
    /// What a cup of it weighs.
    Cups,
    /// How long raw cut forms keep.
    CutForms,
    /// How long the unopened piece keeps.
    Whole,
    StandIns,
    Hazards,
    /// The mass of a whole unit.
    Unit,
    /// Forms that some dislike.
    Forms,
    /// Whatever else.
    Other,
}

/// Something wrong with a catalogue entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckFault {
    /// The entry's id.
    pub entry: String,
    /// Which part of the entry it is about.
    pub about: About,
    /// What is wrong, in one sentence.
    pub what: String,
    /// The file and line it stands in; nothing for an entry made in the program.
    pub place: Option<Place>,
}

impl std::fmt::Display for CheckFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(place) = &self.place {
            write!(f, "{place}: ")?;
        }
        write!(f, "{}: {}", self.entry, self.what)
    }
}

impl std::error::Error for CheckFault {}

/// Every fault of the book, kinds before dishes and each in the order of its ids, then what is bought in two ways; none for a
/// sound one.
pub fn check_book(book: &Book) -> Vec<CheckFault> {
    let kinds = book.kinds().flat_map(|kind| faults_of_kind(book, kind));
    let dishes = book.dishes().flat_map(|dish| faults_of_dish(book, dish));
    let packs = packs::faults(book).into_iter().map(|(id, what)| CheckFault {
        entry: id.to_string(),
        about: About::Companions,
        what: sentence(&what),
        place: book.dish_place(&id).cloned(),
    });
    kinds.chain(dishes).chain(book.dishes().flat_map(|dish| doubts(book, dish))).chain(packs).collect()
}

/// What nobody knows of the company of a dish and of its twins. It hinders nobody from keeping the dish: it is said wherever
/// somebody would have to know.
fn doubts(book: &Book, dish: &Dish) -> Vec<CheckFault> {
    let own = dish.fare().doubt().map(|doubt| (About::Companions, doubt));
    let twins = dish.twins.iter().filter_map(|t| Some((About::Twins, format!("the twin \"{}\": {}", t.name, t.fare().doubt()?))));
    let fault = |(about, what): (About, String)| CheckFault {
        entry: dish.id.to_string(),
        about,
        what: sentence(&what),
        place: book.dish_place(&dish.id).cloned(),
    };
    own.into_iter().chain(twins).map(fault).collect()
}

/// Every fault of one kind as it would stand in `book`, whether or not it does yet.
pub fn faults_of_kind(book: &Book, kind: &Kind) -> Vec<CheckFault> {
    let place = book.kind_place(&kind.id);
    let mut said = Said::default();
    check_kind(book, kind, place, &mut said);
    said.into_faults(kind.id.as_str(), place).collect()
}

/// Every fault of one dish as it would stand in `book`, whether or not it does yet.
pub fn faults_of_dish(book: &Book, dish: &Dish) -> Vec<CheckFault> {
    let mut said = Said::default();
    check_dish(book, dish, &mut said);
    said.into_faults(dish.id.as_str(), book.dish_place(&dish.id)).collect()
}

/// The allergens that the plain name of an ingredient gives away; labels have the last word.
pub fn allergens_named_in(name: &str) -> Vec<Allergen> {
    words::allergens_of(name)
}

/// The longest that is said of one fault, in characters: what it quotes may have no end.
const MAX_SENTENCE: usize = 300;

/// What is said on one line, whatever stood in the file.
pub(super) fn sentence(said: &str) -> String {
    let plain = |c: char| if c.is_control() { c.escape_debug().collect() } else { vec![c] };
    let mut short: String = said.chars().take(MAX_SENTENCE).flat_map(plain).collect();
    if said.chars().nth(MAX_SENTENCE).is_some() {
        short.push('…');
    }
    short
}

/// What is wrong with the entry at hand.
#[derive(Default)]
struct Said {
    about: About,
    faults: Vec<(About, String)>,
}

impl Said {
    /// Notes `what` unless `sound`.
    fn unless(&mut self, sound: bool, what: impl FnOnce() -> String) {
        if !sound {
            self.faults.push((self.about, sentence(&what())));
        }
    }

    /// What comes next is about this.
    fn about(&mut self, about: About) {
        self.about = about;
    }

    fn into_faults(self, entry: &str, place: Option<&Place>) -> impl Iterator<Item = CheckFault> {
        let (entry, place) = (entry.to_string(), place.cloned());
        self.faults.into_iter().map(move |(about, what)| CheckFault { entry: entry.clone(), about, what, place: place.clone() })
    }

    fn text(&mut self, what: &str, text: &str) {
        self.unless(!text.trim().is_empty(), || format!("{what} is empty: write it"));
    }

    /// Notes whatever stands more than once among `words`.
    fn twice<'w>(&mut self, what: &str, words: impl Iterator<Item = &'w str>) {
        let mut seen = BTreeSet::new();
        for word in words {
            self.unless(seen.insert(word), || format!("{what} {word} stands twice: take one out"));
        }
    }

    fn days(&mut self, what: &str, days: Days) {
        self.unless(days.0 >= 0, || format!("{what} is {days}: write 0 or more"));
    }

    fn sources(&mut self, sources: &[String]) {
        self.about(About::Sources);
        self.unless(!sources.is_empty(), || "no source is named: name one, or write \"practice\"".to_string());
        sources.iter().for_each(|s| self.text("a source", s));
    }
}

fn check_kind(book: &Book, kind: &Kind, place: Option<&Place>, said: &mut Said) {
    said.text("the name", &kind.name);
    said.about(About::Families);
    said.text("the family", &kind.family);
    said.about(About::Keeping);
    said.text("what starts the clock", &kind.clock_starts);
    said.about(About::Other);
    if let Some(place) = place {
        let stem = place.file.rsplit(['/', '\\']).next().and_then(|f| f.strip_suffix(".ron")).unwrap_or_default();
        said.unless(stem == kind.id.as_str(), || format!("the file is called {stem}.ron: call it {}.ron", kind.id));
    }
    said.about(About::Shares);
    let sum: u32 = kind.trim.iter().map(|t| t.share).chain(kind.parts.iter().map(|p| p.share)).map(|s| u32::from(s.get())).sum();
    said.unless(sum == 1_000, || format!("the shares of trim and parts make {sum}: they must make 1000"));
    said.about(About::Mass);
    let (least, typical, most) = kind.mass;
    said.unless(0 < least && least <= typical && typical <= most, || {
        format!("the mass ({least}, {typical}, {most}) does not rise from least to most")
    });
    said.about(About::Colour);
    said.unless(kind.colour.len() == 6 && kind.colour.bytes().all(|b| b.is_ascii_hexdigit()), || {
        format!("the colour \"{}\" is not six hexadecimal digits", kind.colour)
    });
    said.about(About::Parts);
    said.unless(!kind.parts.is_empty(), || "it has no part: give it at least one".to_string());
    let mut seen = BTreeSet::new();
    for part in &kind.parts {
        said.unless(seen.insert(&part.id), || format!("the part \"{}\" stands twice", part.id));
        said.text("the name of a part", &part.name);
        said.days(&format!("the raw limit of {}", part.name), part.raw_days);
        if let Some((word, mass)) = &part.unit {
            said.text("the word for a whole unit", word);
            said.unless(!mass.is_zero() && mass.state() == kind.portioned, || {
                format!("a {word} of {} must weigh something, in {} grams", part.name, kind.portioned.word())
            });
        }
    }
    said.about(About::Shares);
    kind.trim.iter().for_each(|t| said.text("the name of a trim share", &t.name));
    said.about(About::Keeping);
    said.days("the limit once cooked", kind.cooked_days);
    check_places_and_cuts(kind, said);
    check_cooking(kind, said);
    said.about(About::Shares);
    if let Some((least, most)) = kind.trim_range {
        said.unless(least <= most, || format!("the trim falls from {} to {} thousandths", least.get(), most.get()));
        let all: u32 = kind.trim.iter().map(|t| u32::from(t.share.get())).sum();
        let within = u32::from(least.get()) <= all && all <= u32::from(most.get());
        said.unless(least > most || within, || {
            format!("all trim together is {all} thousandths, which does not lie from {} to {}", least.get(), most.get())
        });
    }
    said.about(About::Keeping);
    if let Some(nice) = kind.cooked_nice_days {
        said.unless(nice <= kind.cooked_days, || format!("it eats well for {nice} but is safe for {} only", kind.cooked_days));
    }
    said.about(About::Parts);
    for part in kind.parts.iter() {
        if let Some(nice) = part.nice_days {
            said.unless(nice <= part.raw_days, || {
                format!("{} eats well for {nice} but is safe for {} only", part.name, part.raw_days)
            });
        }
    }
    check_stand_ins(book, kind, said);
    said.about(About::Hazards);
    kind.hazards.iter().for_each(|h| said.text("a hazard", h));
    check_contents(kind, said);
    said.about(About::Families);
    said.unless(book.dishes_for(kind).next().is_some(), || format!("no dish suits the family \"{}\"", kind.family));
    said.sources(&kind.sources);
}

/// Where the unopened piece keeps, and how long raw cut forms do.
fn check_places_and_cuts(kind: &Kind, said: &mut Said) {
    said.about(About::CutForms);
    kind.cut_forms.iter().for_each(|c| said.days(&format!("the limit of {}", c.form.word()), c.days));
    said.twice("the limit of", kind.cut_forms.iter().map(|c| c.form.word()));
    said.about(About::Whole);
    for whole in &kind.whole {
        said.text("where the unopened piece keeps", &whole.place);
        said.unless(whole.days.0 <= whole.days.1, || {
            format!("the days in {} fall from {} to {}", whole.place, whole.days.0, whole.days.1)
        });
        said.text("the source of a keeping figure", &whole.source);
    }
    said.twice("the keeping in", kind.whole.iter().map(|w| w.place.as_str()));
}

/// What a cup of it weighs, and what is left of it by method.
fn check_cooking(kind: &Kind, said: &mut Said) {
    said.about(About::Cups);
    if let Some(cup) = kind.cup {
        said.unless(cup.0.is_finite() && cup.0 > 0.0, || format!("a cup of {} g is no mass", cup.0));
    }
    for cup in &kind.cups {
        said.unless(cup.grams.0.is_finite() && cup.grams.0 > 0.0, || format!("a cup of {} g is no mass", cup.grams.0));
        said.text("the source of a cup's mass", &cup.source);
    }
    said.twice("a cup of", kind.cups.iter().map(|c| c.form.word()));
    said.about(About::Yields);
    for form in &kind.yields {
        said.unless(form.share.get() > 0, || format!("nothing is left of it {}", form.method.word()));
        said.text("the source of a yield", &form.source);
    }
    said.twice("what comes of it", kind.yields.iter().map(|y| y.method.word()));
}

/// Other kinds of the book, each once, and what changes in time by each method once.
fn check_stand_ins(book: &Book, kind: &Kind, said: &mut Said) {
    said.about(About::StandIns);
    for stand_in in &kind.stand_ins {
        let id = &stand_in.kind;
        said.unless(*id != kind.id && book.kind(id).is_some(), || format!("the stand-in \"{id}\" is no other kind of the book"));
        said.twice(&format!("with {id}, the time"), stand_in.minutes.iter().map(|m| m.0.word()));
    }
    said.twice("the stand-in", kind.stand_ins.iter().map(|s| s.kind.as_str()));
}

/// A kind whose name is known is not said to be less than that.
fn check_contents(kind: &Kind, said: &mut Said) {
    let Some(contents) = contents_of(&kind.name) else { return };
    said.about(About::Allergens);
    for allergen in contents.allergens() {
        said.unless(kind.allergens.contains(&allergen), || {
            format!("{} is not among the allergens of {}", allergen.word(), kind.name)
        });
    }
    said.about(About::Diet);
    said.unless(contents.diet().with(kind.diet) == kind.diet, || format!("{} cannot be {}", kind.name, kind.diet.word()));
}

/// It eats well no longer than it keeps, and what is left of it turns only into what is made from it.
fn check_leftover(book: &Book, dish: &Dish, said: &mut Said) {
    said.about(About::Keeping);
    if let Some(nice) = dish.nice_days {
        said.unless(nice <= dish.keeps, || format!("it eats well for {nice} but keeps {} only", dish.keeps));
    }
    said.about(About::Leftover);
    if let super::Leftover::Turned(into) = &dish.leftover {
        for id in into {
            let made_from_it = book.dish(id).is_some_and(|d| d.from.contains(&dish.id));
            said.unless(made_from_it, || format!("\"{id}\", into which it is turned, is not made from it"));
        }
    }
}

fn check_dish(book: &Book, dish: &Dish, said: &mut Said) {
    said.about(About::Name);
    said.text("the name", &dish.name);
    check_references(book, dish, said);
    check_figures(dish, said);
    check_leftover(book, dish, said);
    said.about(About::Profile);
    check_profile(dish, said);
    said.about(About::Steps);
    check_steps(dish, said);
    check_company(None, &dish.companions, &dish.allergens, dish.diet, said);
    let mut seen = BTreeSet::new();
    said.about(About::Twins);
    for twin in &dish.twins {
        said.text("the name of a twin", &twin.name);
        said.unless(seen.insert(&twin.name), || format!("the twin \"{}\" stands twice", twin.name));
        check_company(Some(&twin.name), &twin.companions, &twin.allergens, twin.diet, said);
        for form in &twin.without_forms {
            said.unless(dish.forms.contains(form), || {
                format!("the twin \"{}\" goes without \"{form}\", which the dish does not have", twin.name)
            });
        }
    }
    said.about(About::Cautions);
    for caution in &dish.cautions {
        said.text("a caution", &caution.text);
        said.text("the source of a caution", &caution.source);
    }
    said.about(About::Forms);
    dish.forms.iter().for_each(|f| said.text("a form", f));
    said.sources(&dish.sources);
}

fn check_references(book: &Book, dish: &Dish, said: &mut Said) {
    said.about(About::Families);
    said.unless(!dish.families.is_empty(), || "it suits no family: name one".to_string());
    for family in &dish.families {
        said.unless(book.kinds().any(|k| k.family == *family), || format!("no kind is of the family \"{family}\""));
    }
    said.about(About::Parts);
    let kinds = || book.kinds().filter(|k| dish.suits_family(&k.family));
    for part in &dish.parts {
        said.unless(kinds().any(|k| k.part(part).is_some()), || format!("no kind that it suits has a part \"{part}\""));
    }
    said.about(About::MadeFrom);
    for id in &dish.from {
        let made = book.dish(id).is_some_and(|d| *id != dish.id && d.families.iter().any(|f| dish.suits_family(f)));
        said.unless(made, || format!("\"{id}\", of which it is made, is no other dish of the book in its families"));
    }
    said.about(About::Diet);
    // A dish with the piece in it cannot suit a stricter diet than the piece itself does.
    if let Some(loosest) = kinds().map(|k| k.diet as u8).max() {
        said.unless(dish.diet as u8 <= loosest, || {
            format!("it is said to be {}, and no piece that it suits is", dish.diet.word())
        });
    }
}

fn check_figures(dish: &Dish, said: &mut Said) {
    said.about(About::Grams);
    let (least, typical, most) = dish.grams;
    let sound = match dish.role {
        Role::Component => dish.grams == (0, 0, 0),
        Role::Meal | Role::Bank => 0 < least && least <= typical && typical <= most,
    };
    said.unless(sound, || format!("the grams ({least}, {typical}, {most}) do not rise from over 0 (all 0 for a component)"));
    said.about(About::Yield);
    said.unless(dish.yields.get() > 0, || "it yields nothing".to_string());
    said.about(About::Keeping);
    said.days("the limit once made", dish.keeps);
    said.about(About::Unit);
    if let Some((word, grams)) = &dish.unit {
        said.text("the word for a whole unit", word);
        said.unless(*grams > 0, || format!("a {word} weighs nothing"));
    }
    said.about(About::Oven);
    if let Some((best, low, high)) = dish.oven {
        said.unless(low <= best && best <= high && low > 0, || {
            format!("the oven's best {best} does not lie between {low} and {high}")
        });
    }
    said.unless(dish.oven.is_some() || dish.steps.iter().all(|s| s.place != StepPlace::Oven), || {
        "a step is in the oven, and no temperature is given".to_string()
    });
    said.about(About::Minutes);
    let (hands, total) = dish.minutes;
    said.unless(hands <= total && total > 0, || format!("{hands} minutes of hands do not fit in {total} in all"));
}

fn check_profile(dish: &Dish, said: &mut Said) {
    let p = &dish.profile;
    check_grades("texture", &p.texture, said);
    check_grades("family", &p.family, said);
    check_grades("method", &p.method, said);
    check_grades("colour", &p.colour, said);
    if let Some(taste) = &p.taste {
        let most = [taste.sweet, taste.sour, taste.bitter, taste.umami, taste.hot, taste.rich].into_iter().max().unwrap_or(0);
        said.unless(most <= 3, || format!("a taste of {most} is over 3"));
    }
}

fn check_grades<T: Copy + Ord + std::fmt::Debug>(axis: &str, set: &[Graded<T>], said: &mut Said) {
    let mut seen = BTreeSet::new();
    for Graded(value, grade) in set {
        said.unless(*grade > 0.0 && *grade <= 1.0, || format!("the {axis} {value:?} has the grade {grade}: write over 0 to 1"));
        said.unless(seen.insert(*value), || format!("the {axis} {value:?} stands twice"));
    }
}

fn check_steps(dish: &Dish, said: &mut Said) {
    said.unless(!dish.steps.is_empty(), || "it has no step: say how it is made".to_string());
    for (i, step) in dish.steps.iter().enumerate() {
        said.text("a step", &step.text);
        said.unless(step.minutes <= dish.minutes.1, || {
            format!("{} takes {} minutes, more than the dish in all", step_words(i, &step.text), step.minutes)
        });
        for &before in &step.after {
            said.unless(before < dish.steps.len(), || {
                format!("{} waits for step {}, and there is none", step_words(i, &step.text), before + 1)
            });
        }
    }
    said.unless(!waits_in_a_circle(dish), || "its steps wait for each other in a circle".to_string());
}

/// A step by its place, counted as people count, and its first words.
fn step_words(at: usize, text: &str) -> String {
    let first: Vec<&str> = text.split_whitespace().take(4).collect();
    format!("step {} (\"{}…\")", at + 1, first.join(" "))
}

/// Whether some step waits, over others, for itself.
fn waits_in_a_circle(dish: &Dish) -> bool {
    let count = dish.steps.len();
    let before = |i: usize| -> Vec<usize> {
        match dish.steps[i].after.as_slice() {
            [] => i.checked_sub(1).into_iter().collect(),
            some => some.iter().copied().filter(|&b| b < count).collect(),
        }
    };
    // Take away what waits for nothing that is left; what cannot be taken away waits in a circle.
    let mut left: BTreeSet<usize> = (0..count).collect();
    while let Some(free) = left.iter().copied().find(|&i| before(i).iter().all(|b| !left.contains(b))) {
        left.remove(&free);
    }
    !left.is_empty()
}

fn check_company(twin: Option<&str>, companions: &[Companion], allergens: &[Allergen], diet: Diet, said: &mut Said) {
    let who = twin.map_or_else(|| "it".to_string(), |name| format!("the twin \"{name}\""));
    let about = |about| if twin.is_some() { About::Twins } else { about };
    for c in companions {
        said.about(about(About::Companions));
        said.text("the name of a companion", &c.name);
        let sound = |x: f64| x.is_finite() && x >= 0.0;
        said.unless(sound(c.per_unit) && sound(c.per_batch), || format!("the amount of {} is not a number from 0", c.name));
        let named = !c.name.trim().is_empty();
        said.unless(!named || c.per_unit > 0.0 || c.per_batch > 0.0, || format!("no amount of {} is given", c.name));
        said.unless(c.pack.is_none_or(|p| p.is_finite() && p > 0.0), || format!("a pack of {} holds nothing", c.name));
        c.opened_days.iter().for_each(|&d| said.days(&format!("the limit of opened {}", c.name), d));
        said.about(about(About::Allergens));
        let contents = contents_of(&c.name).unwrap_or_else(|| contents_by_words(&c.name));
        for allergen in contents.allergens() {
            said.unless(allergens.contains(&allergen), || {
                format!("{who} has {}, and {} is not among its allergens", c.name, allergen.word())
            });
        }
        said.about(about(About::Diet));
        let allowed = contents.diet();
        said.unless(diet as u8 <= allowed as u8, || format!("{who} has {} and cannot be {}", c.name, diet.word()));
    }
}

/// The strictest diet that the plain name of an ingredient leaves possible; labels have the last word.
pub fn diet_named_in(name: &str) -> Diet {
    contents_of(name).unwrap_or_else(|| contents_by_words(name)).diet()
}
