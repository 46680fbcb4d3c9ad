//! What every view draws from: the plan, what the judges say of it, the book. Borrowed, never changed.

use super::{
    hearth::Hearth,
    marks::{Level, TextureMark},
};
use crate::{
    book::{Book, Dish, Texture},
    judge::{ClockBar, Judgement, LikenessTable, Mend, Severity, Verdict},
    quantity::{Portion, System, said_in, write_grams},
    rotation::{EaterId, Rotation, Serving, Slot},
};
use std::sync::Arc;

/// The plan at one revision, with all that is known of it.
#[derive(Clone, Copy)]
pub struct View<'a> {
    /// The plan.
    pub rotation: &'a Arc<Rotation>,
    /// Its revision: rises with every change.
    pub revision: u64,
    /// What the judges say.
    pub judged: &'a Judgement,
    /// Mends of each finding, in the findings' order; empty until they are found.
    pub mends: &'a [Vec<Mend>],
    /// The book.
    pub book: &'a Arc<Book>,
    /// The measures that the household reads.
    pub system: System,
    /// What the household has said of its meals.
    pub hearth: &'a Hearth,
    /// Whose meals the links and the figure are about; nobody named: everybody's.
    pub who: Option<EaterId>,
    /// Their meals compared, where one eater is chosen or the page of likeness is open.
    pub table: Option<&'a LikenessTable>,
    /// Every clock as a bar.
    pub clocks: &'a [ClockBar],
}

impl View<'_> {
    /// A mass for the eye: "520 g", its unit tied to it.
    pub fn grams(&self, grams: u32) -> String {
        write_grams(grams, self.system)
    }

    /// Words of the judges or of an edit, their masses in the household's measures.
    pub fn said<'t>(&self, words: &'t str) -> std::borrow::Cow<'t, str> {
        said_in(words, self.system)
    }

    /// A portion for the eye.
    pub fn portion(&self, portion: Portion) -> String {
        self.grams(portion.get())
    }

    /// The main serving of a meal (the one of most grams) with its dish.
    pub fn main_serving(&self, slot: Slot) -> Option<(&Serving, &Arc<Dish>)> {
        let servings = &self.rotation.meal(slot).servings;
        let main = servings.iter().rev().max_by_key(|s| s.portion.get())?;
        Some((main, self.rotation.dish_of(main.batch)?))
    }
}

/// Words for a screen reader and for tests from outside: plain spaces in place of no-break ones.
pub fn spoken(words: &str) -> String {
    words.replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ")
}

/// The level of a severity.
pub fn level_of(severity: Severity) -> Level {
    match severity {
        Severity::Stop => Level::Stop,
        Severity::Warn => Level::Warn,
        Severity::Caution => Level::Caution,
        Severity::Note => Level::Note,
    }
}

/// The level of a verdict on two meals.
pub fn level_of_verdict(verdict: Verdict) -> Level {
    match verdict {
        Verdict::Warn => Level::Warn,
        Verdict::Caution => Level::Caution,
        Verdict::Fine => Level::Fine,
        Verdict::Unknown => Level::Note,
    }
}

/// What a household would say of a pair, in words.
pub fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Warn => "too alike",
        Verdict::Caution => "getting alike",
        Verdict::Fine => "fine",
        Verdict::Unknown => "not enough described",
    }
}

/// The mark of a texture.
pub fn texture_mark(texture: Texture) -> TextureMark {
    match texture {
        Texture::Crisp => TextureMark::Crisp,
        Texture::Crunchy => TextureMark::Crunchy,
        Texture::Charred => TextureMark::Charred,
        Texture::Tender => TextureMark::Tender,
        Texture::Flaky => TextureMark::Flaky,
        Texture::Chewy => TextureMark::Chewy,
        Texture::Stewed => TextureMark::Stewed,
        Texture::Creamy => TextureMark::Creamy,
        Texture::Smooth => TextureMark::Smooth,
        Texture::Set => TextureMark::Set,
        Texture::Crumbly => TextureMark::Crumbly,
        Texture::Brothy => TextureMark::Brothy,
    }
}

/// The two quiet lines of a profile: "crisp · sharp" and "raw, cold · mackerel, rye".
pub fn profile_lines(dish: &Dish) -> (String, String) {
    let p = &dish.profile;
    let first: Vec<&str> =
        [p.main_texture().map(|t| t.word()), p.main_family().map(|f| f.word())].into_iter().flatten().collect();
    let how: Vec<&str> = [p.main_method().map(|m| m.word()), p.heat.map(|h| h.word())].into_iter().flatten().collect();
    let none = |word: &str| word.starts_with("no ");
    let company: Vec<&str> =
        [p.protein.map(|x| x.word()), p.starch.map(|x| x.word())].into_iter().flatten().filter(|w| !none(w)).collect();
    let second = [how.join(", "), company.join(", ")].into_iter().filter(|s| !s.is_empty()).collect::<Vec<_>>().join(" · ");
    (first.join(" · "), second)
}
