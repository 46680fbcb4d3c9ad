//! What the cook chooses before a recipe becomes a dish: the piece, its line, its mass, for how many.

use crate::{
    app::{
        book_view::{figure, words::section},
        marks::Level,
        sheet::parts,
        theme::{self, Lettering},
        view::View,
        widget::{Chip, Field},
    },
    book::{Book, Kind, KindId},
    exchange::{
        Chosen, DishProposal, Heads, PieceGuess, ReadRecipe, guess_pieces, heads_of, left_out, line_of, piece_mass, propose_dish,
    },
    quantity::{Amount, State},
};
use egui::{Popup, PopupCloseBehavior, ScrollArea, Ui};
use std::sync::Arc;

/// The most guesses that are offered.
const MOST_GUESSES: usize = 4;

/// What is chosen for one recipe.
pub(super) struct Choices {
    guesses: Vec<PieceGuess>,
    kind: Option<Arc<Kind>>,
    /// Whether the kind is still the program's guess.
    guessed: bool,
    pub(super) line: Option<usize>,
    /// For how many, as typed.
    heads: String,
    /// What the page says of that.
    page_heads: Result<Heads, String>,
    /// As it was put into the field.
    page_text: String,
    /// All of the piece in grams, as typed.
    mass: String,
    state: Option<State>,
    /// What speaks for mass and state.
    because: Vec<String>,
    pub(super) left_out: Vec<usize>,
    /// What comes of it all; thrown away when something is chosen.
    proposal: Option<Arc<DishProposal>>,
}

/// A count as it is typed: "6", "4-6".
fn typed(count: Amount) -> String {
    if count.low() < count.high() { format!("{}-{}", count.low(), count.high()) } else { count.low().to_string() }
}

impl Choices {
    /// The program's guesses for a recipe.
    pub fn of(recipe: &ReadRecipe, book: &Book) -> Choices {
        let guesses = guess_pieces(recipe, book);
        let page_heads = heads_of(recipe.yields.as_deref());
        let page_text = page_heads.as_ref().map_or_else(|_| String::new(), |h| typed(h.count));
        let out = (0..recipe.ingredients.len()).filter(|at| left_out(&recipe.ingredients[*at]).is_some()).collect();
        let mut this = Choices {
            kind: None,
            guessed: false,
            line: None,
            heads: page_text.clone(),
            page_heads,
            page_text,
            mass: String::new(),
            state: None,
            because: Vec::new(),
            left_out: out,
            proposal: None,
            guesses,
        };
        if let Some(best) = this.guesses.first().filter(|g| g.is_likely()) {
            let (id, line) = (best.kind.clone(), best.line);
            this.choose_kind(&id, Some(line), recipe, book);
            this.guessed = true;
        }
        this
    }

    /// Whether it is known what the piece is.
    pub fn has_kind(&self) -> bool {
        self.kind.is_some()
    }

    /// The kind of the piece.
    pub fn kind(&self) -> Option<&Kind> {
        self.kind.as_deref()
    }

    fn choose_kind(&mut self, id: &KindId, line: Option<usize>, recipe: &ReadRecipe, book: &Book) {
        self.kind = book.kind(id).cloned();
        self.guessed = false;
        self.choose_line(line, recipe);
    }

    /// Takes a line for the piece, or none, with what it says of the mass.
    pub fn choose_line(&mut self, line: Option<usize>, recipe: &ReadRecipe) {
        self.proposal = None;
        self.line = line;
        let read = line.and_then(|at| recipe.ingredients.get(at)).zip(self.kind.as_deref());
        let said = read.map(|(line, kind)| piece_mass(line, kind)).unwrap_or_default();
        self.mass = figure::shown(said.grams);
        self.state = said.state;
        self.because = said.because;
        if let Some(at) = line {
            self.left_out.retain(|out| *out != at);
        }
    }

    /// Takes a line out of what the dish needs, or puts it back.
    pub fn leave_out(&mut self, at: usize, out: bool, recipe: &ReadRecipe) {
        if self.line == Some(at) {
            self.choose_line(None, recipe);
        }
        self.left_out.retain(|x| *x != at);
        if out {
            self.left_out.push(at);
        }
        self.proposal = None;
    }

    /// For how many, where that is known.
    pub fn heads(&self) -> Option<f64> {
        self.heads_now().ok().map(|h| h.middle())
    }

    fn heads_now(&self) -> Result<Heads, String> {
        if self.heads.trim() == self.page_text {
            return self.page_heads.clone();
        }
        heads_of(Some(self.heads.trim())).map_err(|_| "Type for how many it is: 4, or 4-6.".to_string())
    }

    /// What comes of the choices; nothing without a kind.
    pub fn proposal(&mut self, recipe: &ReadRecipe, book: &Book) -> Option<Arc<DishProposal>> {
        let kind = self.kind.clone()?;
        if self.proposal.is_none() {
            let heads = self.heads_now().ok();
            let chosen = Chosen {
                kind: &kind,
                line: self.line,
                mass: figure::grams(&self.mass).ok(),
                state: self.state,
                heads: heads.as_ref(),
                left_out: &self.left_out,
            };
            self.proposal = Some(Arc::new(propose_dish(recipe, &chosen, book)));
        }
        self.proposal.clone()
    }
}

/// Draws what is to be chosen.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, recipe: &ReadRecipe, choices: &mut Choices) {
    section(ui, "Of which piece is it a dish?");
    kinds_ui(ui, view, recipe, choices);
    if choices.kind.is_none() {
        return;
    }
    figures_ui(ui, choices);
    grams_ui(ui, view, recipe, choices);
}

fn kinds_ui(ui: &mut Ui, view: &View<'_>, recipe: &ReadRecipe, choices: &mut Choices) {
    let mut offered: Vec<KindId> = choices.guesses.iter().take(MOST_GUESSES).map(|g| g.kind.clone()).collect();
    for more in [Some(&view.rotation.kind.id), choices.kind.as_ref().map(|k| &k.id)].into_iter().flatten() {
        if !offered.contains(more) && view.book.kind(more).is_some() {
            offered.push(more.clone());
        }
    }
    let mut pressed = None;
    parts::flow(ui, |ui| {
        for id in &offered {
            let Some(kind) = view.book.kind(id) else { continue };
            let chosen = choices.kind.as_ref().is_some_and(|k| k.id == *id);
            if parts::choice(ui, &kind.name, &format!("Piece: {}", kind.name), chosen) {
                pressed = Some(id.clone());
            }
        }
        let other = ui.add(Chip::new("another kind…").name("Piece: another kind").selected(false));
        Popup::menu(&other).close_behavior(PopupCloseBehavior::CloseOnClick).show(|ui| {
            ui.set_min_width(230.0);
            ScrollArea::vertical().max_height(380.0).show(ui, |ui| {
                let mut all: Vec<&Arc<Kind>> = view.book.kinds().collect();
                all.sort_by(|a, b| a.name.cmp(&b.name));
                for kind in all {
                    let chosen = choices.kind.as_ref().is_some_and(|k| k.id == kind.id);
                    if ui.radio(chosen, Lettering::Body.text(&kind.name)).clicked() {
                        pressed = Some(kind.id.clone());
                    }
                }
            });
        });
    });
    if let Some(id) = pressed {
        let line = line_of(recipe, view.book, &id).or(choices.line);
        choices.choose_kind(&id, line, recipe, view.book);
    }
    let words = match (&choices.kind, choices.guessed) {
        (Some(_), true) => {
            let because = choices.guesses.first().map_or("", |g| &g.because);
            format!("Best guess, not sure: {because}.")
        }
        (Some(_), false) => "Chosen by you.".into(),
        (None, _) if choices.guesses.is_empty() => "Nothing in the recipe is called as a kind of the book is: choose one.".into(),
        (None, _) => "Too little speaks for any of these to guess: choose one.".into(),
    };
    parts::quiet(ui, words);
}

fn figures_ui(ui: &mut Ui, choices: &mut Choices) {
    ui.horizontal_wrapped(|ui| {
        let told = |text: &str, why: Option<String>| why.filter(|_| !text.trim().is_empty());
        let wrong = told(&choices.heads, choices.heads_now().err());
        figure::break_row(ui, 120.0);
        let heads = Field::new("For how many", &mut choices.heads).width(120.0).error(wrong.as_deref()).show(ui);
        let wrong = told(&choices.mass, figure::grams(&choices.mass).err());
        figure::break_row(ui, 170.0);
        let mass = Field::new("All of the piece, in grams", &mut choices.mass).width(170.0).error(wrong.as_deref()).show(ui);
        if heads.changed() || mass.changed() {
            choices.proposal = None;
        }
        figure::break_row(ui, 250.0);
        ui.vertical(|ui| {
            parts::quiet(ui, "These grams are");
            parts::flow(ui, |ui| {
                for state in [State::AsBought, State::Prepared, State::Cooked] {
                    let chosen = choices.state == Some(state);
                    if parts::choice(ui, state.word(), &format!("Grams {}", state.word()), chosen) {
                        choices.state = if chosen { None } else { Some(state) };
                        choices.proposal = None;
                    }
                }
            });
        });
    });
}

fn grams_ui(ui: &mut Ui, view: &View<'_>, recipe: &ReadRecipe, choices: &mut Choices) {
    let heads = choices.heads_now();
    let Some(proposal) = choices.proposal(recipe, view.book) else { return };
    match &proposal.grams {
        Ok(one) => {
            let (least, typical, most) = one.grams;
            let words = format!(
                "For one: {} {}, from {} to {}",
                view.grams(typical),
                one.state.word(),
                view.grams(least),
                view.grams(most)
            );
            let palette = theme::palette(ui);
            ui.add(egui::Label::new(Lettering::Strong.text(words).color(palette.ink)).wrap());
            one.because.iter().for_each(|b| {
                parts::quiet(ui, view.said(b));
            });
        }
        Err(why) => parts::remark(ui, Level::Note, &format!("Grams for one are left open. {why}")),
    }
    if choices.line.is_none() {
        parts::remark(ui, Level::Note, "No line is the piece: choose one below, or type how much of it there is.");
    }
    for because in &choices.because {
        parts::quiet(ui, view.said(because));
    }
    match heads {
        Ok(heads) if !heads.certain => {
            parts::quiet(ui, format!("For how many: {}.", heads.because));
        }
        Err(why) if choices.heads.trim().is_empty() => {
            parts::quiet(ui, why);
        }
        _ => {}
    }
}
