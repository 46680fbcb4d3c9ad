//! The dish book: every dish and kind to look at, and the cook's own to write.
//!
//! At the left a list that can be narrowed, at the right the entry that is shown, or the one that is being written. What is
//! written is checked at every letter and kept only when it is sound; shipped entries are never changed, only covered by own ones.

use super::{
    action::Action,
    bench::{self, Frame},
    files::Brought,
    theme::{self, STEP},
};
use crate::{
    book::{Book, DishId, KindId},
    store::{Entry, EntryId, OwnBook, OwnChange},
};
use egui::{Frame as Ground, Margin, Panel, Ui};
use std::sync::Arc;

mod bring_in;
mod cautions;
mod company;
mod company_draft;
mod dish;
mod dish_draft;
mod eating;
mod edit;
mod edit_dish;
mod edit_keeping;
mod edit_kind;
mod edit_parts;
mod edit_yields;
mod figure;
mod filter;
mod fold;
mod kind;
mod kind_draft;
mod kind_rows;
mod list;
mod made_from;
mod making;
mod page;
mod picker;
mod shelf_filters;
mod stand_ins;
mod trail;
mod twin_draft;
mod twins;
mod who;
mod words;

use bring_in::BringIn;
use dish_draft::DishDraft;
use filter::{Filters, Listed};
use fold::Folds;
use kind_draft::KindDraft;
use trail::Trail;

/// Which page of the window is open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Page {
    /// The bench.
    #[default]
    Bench,
    /// How alike the meals are.
    Likeness,
    /// Clocks, cooling, and who eats what.
    Keeping,
    /// The open meals filled. No tab: the bench leads to it.
    Fill,
    /// When each step of a day's cooking is done.
    RunSheet,
    /// What to buy, to cut, to label, to prepare.
    Lists,
    /// The dish book.
    Book,
    /// What was really eaten.
    Journal,
}

impl Page {
    /// All, with what their tabs say.
    pub const ALL: [(Page, &str); 7] = [
        (Page::Bench, "Bench"),
        (Page::Likeness, "Likeness"),
        (Page::Keeping, "Keeping"),
        (Page::RunSheet, "Run sheet"),
        (Page::Lists, "Lists"),
        (Page::Book, "Dish book"),
        (Page::Journal, "Journal"),
    ];
}

/// Width of the list in windows from the given width on; the last for all narrower ones.
const LIST_WIDTHS: [(f32, f32); 3] = [(1150.0, 348.0), (900.0, 300.0), (0.0, 240.0)];

/// The book in its two layers.
#[derive(Clone, Copy)]
pub struct Books<'a> {
    /// As it is shipped.
    pub shipped: &'a Arc<Book>,
    /// The cook's own.
    pub own: &'a OwnBook,
}

impl Books<'_> {
    /// Whether an entry is the cook's own.
    fn is_own(&self, id: &EntryId) -> bool {
        self.own.has(id)
    }

    /// Whether an own entry stands in place of a shipped one.
    fn covers(&self, id: &EntryId) -> bool {
        self.own.has(id) && id.find(self.shipped).is_some()
    }
}

/// An entry that is being written.
#[derive(Clone, Debug, PartialEq)]
enum Draft {
    Dish(Box<DishDraft>),
    Kind(Box<KindDraft>),
}

impl Draft {
    fn bare_name(&self) -> &str {
        match self {
            Draft::Dish(draft) => draft.name.trim(),
            Draft::Kind(draft) => draft.name.trim(),
        }
    }

    /// What it is called so far.
    fn name(&self) -> &str {
        if self.has_name() { self.bare_name() } else { "the new entry" }
    }

    /// Whether it is called anything yet.
    fn has_name(&self) -> bool {
        !self.bare_name().is_empty()
    }

    /// The entry, if it can be kept as it stands.
    fn sound(&self, book: &Book) -> Option<Entry> {
        match self {
            Draft::Dish(draft) => draft.check(book).sound().map(|d| Entry::Dish(Arc::new(d))),
            Draft::Kind(draft) => draft.check(book).sound().map(|k| Entry::Kind(Arc::new(k))),
        }
    }
}

/// An entry that is being written and would be lost if nobody asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unkept {
    /// What it is called so far.
    pub name: String,
    /// Whether it can be kept as it stands.
    pub sound: bool,
}

/// What the dish book remembers between frames.
#[derive(Default)]
pub struct BookView {
    filters: Filters,
    shown: Option<EntryId>,
    draft: Option<Draft>,
    /// The steps of the draft.
    trail: Option<Trail>,
    /// Which sections of the draft are open.
    folds: Folds,
    /// Something else is looked at while a draft waits.
    looking: bool,
    /// The draft has been handed over to be kept.
    keeping: bool,
    /// Why it was not.
    refused: Option<String>,
    listed: Option<Listed>,
    /// The entry of the list that takes the keyboard in the next frame.
    focus_row: Option<EntryId>,
    /// How far the list is scrolled.
    scrolled: f32,
    /// Another entry is shown than in the last frame: from its top.
    turned: bool,
    /// The editor comes into sight: from its top.
    opened: bool,
    /// A recipe that is being brought in.
    brought: Option<BringIn>,
}

impl BookView {
    /// Shows an entry.
    fn show(&mut self, id: EntryId) {
        self.turned |= self.shown.as_ref() != Some(&id);
        if self.draft.is_some() && !self.is_changed() && !self.keeping {
            // Nothing was written: nothing waits.
            self.give_up();
        }
        self.looking = self.draft.is_some();
        if !self.keeping {
            self.refused = None;
        }
        self.shown = Some(id);
    }

    /// Begins to write.
    fn begin(&mut self, draft: Draft) {
        self.trail = Some(Trail::new(&draft));
        self.folds = Folds::default();
        self.draft = Some(draft);
        self.looking = false;
        self.keeping = false;
        self.refused = None;
        self.opened = true;
    }

    /// Whether the draft has anything in it that would be lost.
    fn is_changed(&self) -> bool {
        let (Some(draft), Some(trail)) = (&self.draft, &self.trail) else { return false };
        // What was made of a recipe was not in the book before: it is new as it stands.
        trail.is_changed(draft) || self.brought.as_ref().is_some_and(BringIn::is_handed_over)
    }

    /// Whether the keyboard's undo belongs to what is being written.
    pub fn is_writing(&self) -> bool {
        self.draft.is_some() && !self.looking && !self.previews()
    }

    /// What would be lost if the window closed now.
    pub fn unkept(&self, book: &Book) -> Option<Unkept> {
        let draft = self.draft.as_ref().filter(|_| self.is_changed())?;
        Some(Unkept { name: draft.name().to_string(), sound: draft.sound(book).is_some() })
    }

    /// Hands the draft over to be kept, if it is sound.
    pub fn keep(&mut self, book: &Book) -> Option<OwnChange> {
        let entry = self.draft.as_ref().filter(|_| !self.keeping)?.sound(book)?;
        self.keeping = true;
        self.refused = None;
        Some(OwnChange::Keep(entry))
    }

    /// Brings what is being written back into sight.
    pub fn go_on(&mut self) {
        self.looking = false;
        // A recipe that lay over it can be read again.
        self.brought = self.brought.take().filter(BringIn::is_handed_over);
    }

    /// Shows the recipes of a page, to make one of them a dish.
    pub fn bring_in(&mut self, brought: Brought, book: &Book) {
        // A dish of an earlier page that is being written goes on being written.
        self.brought = Some(BringIn::new(brought, book));
        self.turned = true;
    }

    /// Whether the recipe is looked at, rather than the dish that was made of it.
    fn previews(&self) -> bool {
        self.brought.as_ref().is_some_and(|b| !b.is_handed_over())
    }

    /// Lets the draft go. Where it was made of a recipe, that is shown again.
    pub fn give_up(&mut self) {
        if let Some(brought) = &mut self.brought {
            brought.take_back();
        }
        self.draft = None;
        self.trail = None;
        self.looking = false;
        self.keeping = false;
        self.refused = None;
        self.turned = true;
    }

    /// Something was done to the own book.
    pub fn done(&mut self, change: &OwnChange, book: &Book) {
        match change {
            OwnChange::Keep(entry) => {
                if self.keeping {
                    self.brought = self.brought.take().filter(|b| !b.is_handed_over());
                    self.give_up();
                }
                self.shown = Some(entry.id());
                self.turned = true;
            }
            OwnChange::TakeAway(id) if id.find(book).is_none() && self.shown.as_ref() == Some(id) => {
                self.shown = None;
                self.turned = true;
            }
            OwnChange::TakeAway(_) | OwnChange::BringBack => {}
        }
    }

    /// Something was not done to the own book.
    pub fn refused(&mut self, change: &OwnChange, why: String) {
        if matches!(change, OwnChange::Keep(_)) {
            self.keeping = false;
        }
        self.refused = Some(why);
    }
}

/// Draws the dish book.
pub fn ui(ui: &mut Ui, frame: Frame<'_>, books: Books<'_>, book_view: &mut BookView, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let margin = bench::MARGIN;
    let paper = Ground::new().fill(palette.paper);
    bench::around(ui, &frame, actions);
    if book_view.previews() {
        let whole = paper.inner_margin(Margin { left: margin, right: margin, top: 0, bottom: 16 });
        egui::CentralPanel::default().frame(whole).show(ui, |ui| bring_in::ui(ui, &frame.view, book_view, actions));
        return;
    }
    let whole = ui.available_width();
    let width = LIST_WIDTHS.iter().find(|w| whole >= w.0).map_or(240.0, |w| w.1);
    Panel::left("entries")
        .frame(paper.inner_margin(Margin { left: margin, right: 0, top: 0, bottom: 16 }))
        .resizable(false)
        .show_separator_line(false)
        .exact_size(width + f32::from(margin))
        .show(ui, |ui| list::ui(ui, &frame.view, books, book_view, actions));
    let middle = paper.inner_margin(Margin { left: 16, right: margin, top: 0, bottom: 16 });
    egui::CentralPanel::default().frame(middle).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = STEP;
        match (&book_view.draft, book_view.looking) {
            (Some(_), false) => {
                bring_in::reminder_ui(ui, book_view);
                edit::ui(ui, &frame.view, frame.modal, book_view, actions);
            }
            _ => page::ui(ui, &frame.view, books, book_view, actions),
        }
    });
}

/// An id for a new entry, made of its name: free in the book.
fn fresh_id(name: &str, is_taken: impl Fn(&str) -> bool) -> String {
    let mut slug = String::new();
    for c in name.to_lowercase().chars() {
        match c {
            'a'..='z' | '0'..='9' => slug.push(c),
            'ä' | 'á' | 'à' | 'â' | 'å' | 'æ' => slug.push('a'),
            'ö' | 'ó' | 'ô' | 'ø' | 'œ' => slug.push('o'),
            'ü' | 'ú' | 'ù' | 'û' => slug.push('u'),
            'é' | 'è' | 'ê' | 'ë' => slug.push('e'),
            'í' | 'î' | 'ï' => slug.push('i'),
            'ß' => slug.push('s'),
            'ç' => slug.push('c'),
            'ñ' => slug.push('n'),
            _ if slug.is_empty() || slug.ends_with('-') => {}
            _ => slug.push('-'),
        }
    }
    // Room for a number behind it: an id has at most 60 letters.
    slug.truncate(52);
    let slug = slug.trim_end_matches('-');
    let slug = if slug.is_empty() { "own" } else { slug };
    let numbered = (2u32..).map(|n| format!("{slug}-{n}"));
    std::iter::once(slug.to_string()).chain(numbered).find(|id| !is_taken(id)).unwrap_or_else(|| slug.to_string())
}

/// A free id for a dish of this name.
fn fresh_dish_id(name: &str, book: &Book) -> Option<DishId> {
    DishId::new(&fresh_id(name, |id| DishId::new(id).is_none_or(|id| book.dish(&id).is_some())))
}

/// A free id for a kind of this name.
fn fresh_kind_id(name: &str, book: &Book) -> Option<KindId> {
    KindId::new(&fresh_id(name, |id| KindId::new(id).is_none_or(|id| book.kind(&id).is_some())))
}

/// A draft of an entry that is in the book.
fn draft_of(entry: &Entry, books: Books<'_>) -> Draft {
    let covers = entry.id().find(books.shipped).is_some();
    match entry {
        Entry::Dish(dish) => Draft::Dish(Box::new(DishDraft::of(dish, books.is_own(&entry.id()), covers))),
        Entry::Kind(kind) => Draft::Kind(Box::new(KindDraft::of(kind, books.is_own(&entry.id()), covers))),
    }
}

#[cfg(test)]
mod tests {
    use super::fresh_id;
    use crate::book::is_slug;

    #[test]
    fn a_name_makes_an_id_that_is_free_and_plain() {
        let taken = |id: &str| matches!(id, "my-slaw" | "my-slaw-2");
        for (name, id) in [
            ("My slaw", "my-slaw-3"),
            ("Rotkohl für Jürgen", "rotkohl-fur-jurgen"),
            ("  --  ", "own"),
            ("../../etc", "etc"),
            ("煮物", "own"),
            ("slaw -- with 2 pears!", "slaw-with-2-pears"),
        ] {
            assert_eq!(fresh_id(name, taken), id, "{name}");
            assert!(is_slug(&fresh_id(name, taken)));
        }
        assert!(is_slug(&fresh_id(&"very long ".repeat(40), |id| !id.ends_with('7'))));
    }
}
