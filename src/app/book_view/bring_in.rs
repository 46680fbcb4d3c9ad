//! Bringing in a recipe: what was read of a page beside what was not, and what may be made of it.
//!
//! Nothing is kept here. What the cook makes of the recipe is handed to the editor as a new own dish, and kept or given up there.

use super::BookView;
use crate::{
    app::{
        action::Action,
        files::{Brought, FileAction},
        marks::{Icon, Level},
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::View,
        widget::{Button, Card},
    },
    book::Book,
    exchange::ReadRecipe,
    quantity::write_units,
};
use egui::{Frame, Label, Margin, Panel, Rect, ScrollArea, Stroke, Ui, vec2};

mod choices;
mod draft;
mod lines;
mod open;
mod steps;

use choices::Choices;

/// From this width on what was not read stands beside what was.
const TWO_COLUMNS: f32 = 800.0;
/// The part of the width that what was read takes, and the air between.
const READ_PART: f32 = 0.64;
const BETWEEN: f32 = 24.0;
/// How wide a recipe of several is at most.
const CHOICE: f32 = 480.0;

/// The recipes of one page, and what the cook has chosen so far.
pub(super) struct BringIn {
    from: String,
    recipes: Vec<ReadRecipe>,
    /// Which recipe, with what is chosen for it.
    chosen: Option<(usize, Choices)>,
    /// The dish that was made of it is being written.
    handed_over: bool,
    /// The keyboard is not yet here.
    fresh: bool,
}

impl BringIn {
    pub fn new(brought: Brought, book: &Book) -> BringIn {
        let mut this = BringIn { from: brought.from, recipes: brought.recipes, chosen: None, handed_over: false, fresh: true };
        if this.recipes.len() == 1 {
            this.choose(0, book);
        }
        this
    }

    /// Whether the dish that was made of it is being written.
    pub fn is_handed_over(&self) -> bool {
        self.handed_over
    }

    /// The dish that was made of it is given up.
    pub fn take_back(&mut self) {
        self.handed_over = false;
        self.fresh = true;
    }

    fn choose(&mut self, at: usize, book: &Book) {
        self.chosen = self.recipes.get(at).map(|recipe| (at, Choices::of(recipe, book)));
        self.fresh = true;
    }
}

/// What the person wants with the page.
enum Wish {
    Make,
    Leave,
    Another,
    Choose(usize),
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, book_view: &mut BookView, actions: &mut Vec<Action>) {
    let turned = std::mem::take(&mut book_view.turned);
    let waiting = book_view.draft.as_ref().map(|d| d.name().to_string());
    let Some(bring) = &mut book_view.brought else { return };
    let mut wish = None;
    Card::new().room(Margin { left: 24, right: 12, top: 20, bottom: 14 }).show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        head(ui, bring);
        let foot = Panel::bottom("bringing foot")
            .frame(Frame::new().inner_margin(Margin { left: 0, right: 12, top: 10, bottom: 0 }))
            .resizable(false)
            .show_separator_line(false)
            .show(ui, |ui| wish = foot(ui, bring, waiting.as_deref(), actions));
        let foot = foot.response.rect;
        match &mut bring.chosen {
            None => scrolled(ui, "recipes of the page", turned, foot, |ui| {
                wish = choose_ui(ui, &bring.recipes, &mut bring.fresh).or(wish.take());
            }),
            Some((at, choices)) => {
                if let Some(recipe) = bring.recipes.get(*at) {
                    recipe_ui(ui, view, recipe, choices, turned, foot);
                }
            }
        }
    });
    match wish {
        Some(Wish::Choose(at)) => {
            bring.choose(at, view.book);
            book_view.turned = true;
            if let Some(recipe) = bring.recipes.get(at) {
                actions.push(Action::Say(format!("{}: nothing is kept yet", brief(&recipe_name(recipe), 60))));
            }
        }
        Some(Wish::Another) => {
            bring.chosen = None;
            bring.fresh = true;
            book_view.turned = true;
        }
        Some(Wish::Leave) => {
            book_view.brought = None;
            book_view.turned = true;
            actions.push(Action::Say("The recipe is left; nothing was kept".into()));
        }
        Some(Wish::Make) => make(book_view, view, actions),
        None => {}
    }
}

/// Hands the recipe to the editor as a new dish.
fn make(book_view: &mut BookView, view: &View<'_>, actions: &mut Vec<Action>) {
    let Some(bring) = &mut book_view.brought else { return };
    let made = bring.chosen.as_mut().and_then(|(at, choices)| {
        let recipe = bring.recipes.get(*at)?;
        draft::draft_of(recipe, choices, &bring.from, view.book)
    });
    let Some(made) = made else { return };
    bring.handed_over = true;
    actions.push(Action::Say(format!("{} is being written as a dish of your own: look it through and save it", made.name)));
    book_view.begin(super::Draft::Dish(Box::new(made)));
}

/// What a dish that was brought in needs before it is kept, over its fields.
pub(super) fn reminder_ui(ui: &mut Ui, book_view: &BookView) {
    let Some(bring) = book_view.brought.as_ref().filter(|b| b.handed_over) else { return };
    Card::new().room(Margin::symmetric(14, 8)).fill_width().show(ui, |ui| {
        let words = format!(
            "Brought in from {}. All of it is proposed until you have looked it through, and the allergens must be read on the \
             labels: names do not tell everything. Cancel leads back to the recipe.",
            bring.from
        );
        parts::remark(ui, Level::Caution, &words);
    });
}

fn recipe_name(recipe: &ReadRecipe) -> String {
    if recipe.name.is_empty() { "A recipe without a name".into() } else { recipe.name.clone() }
}

fn head(ui: &mut Ui, bring: &BringIn) {
    let palette = theme::palette(ui);
    let chosen = bring.chosen.as_ref().and_then(|(at, _)| bring.recipes.get(*at));
    let title = chosen.map_or_else(|| "Which recipe of the page?".into(), |r| brief(&recipe_name(r), 120));
    ui.add(Label::new(Lettering::Title.text(title).color(palette.ink)).truncate());
    let mut said = vec![format!("From {}", bring.from)];
    if let Some(recipe) = chosen {
        said.push(
            recipe.yields.as_ref().map_or_else(|| "how much it makes is not said".into(), |y| format!("makes: {}", brief(y, 60))),
        );
        let m = recipe.minutes;
        for (minutes, what) in [(m.prep, "to prepare"), (m.cook, "to cook"), (m.total, "in all")] {
            said.extend(minutes.map(|n| format!("{n}\u{a0}min {what}")));
        }
        if (m.prep, m.cook, m.total) == (None, None, None) {
            said.push("how long it takes is not said".into());
        }
    }
    parts::quiet(ui, said.join(" · "));
    ui.add_space(2.0);
    let line = ui.available_rect_before_wrap();
    let across = line.left()..=line.right() - 12.0;
    ui.painter().hline(across, line.top(), Stroke::new(palette.edge_width(), palette.hair));
    ui.add_space(2.0);
}

/// The first letters of a foreign text.
fn brief(text: &str, most: usize) -> String {
    if text.chars().count() <= most { text.to_string() } else { text.chars().take(most).collect::<String>() + "…" }
}

fn foot(ui: &mut Ui, bring: &mut BringIn, waiting: Option<&str>, actions: &mut Vec<Action>) -> Option<Wish> {
    let mut wish = None;
    let palette = theme::palette(ui);
    let line = ui.max_rect();
    ui.painter().hline(line.x_range(), line.top() - 10.0, Stroke::new(palette.edge_width(), palette.hair));
    // The ring of the keyboard stands outside what has it.
    ui.set_clip_rect(ui.clip_rect().expand(theme::RING + 2.0));
    ui.horizontal_wrapped(|ui| {
        let kind = bring.chosen.as_ref().is_some_and(|(_, c)| c.has_kind());
        if bring.chosen.is_some() {
            let make = ui.add_enabled(kind && waiting.is_none(), Button::primary("Make it my dish"));
            if bring.fresh && kind && waiting.is_none() {
                make.request_focus();
                bring.fresh = !make.has_focus();
            }
            if make.clicked() {
                wish = Some(Wish::Make);
            }
            if bring.recipes.len() > 1 && ui.add(Button::quiet("Another of this page")).clicked() {
                wish = Some(Wish::Another);
            }
        }
        if ui.add(Button::quiet("Another page…")).clicked() {
            actions.push(Action::File(FileAction::BringIn));
        }
        if ui.add(Button::quiet("Leave it")).clicked() {
            wish = Some(Wish::Leave);
        }
        ui.add_space(STEP);
        let words = match (waiting, bring.chosen.is_some(), kind) {
            (Some(name), ..) => {
                format!("First keep, or give up, what you are writing ({name}): leave this and it is there again.")
            }
            (None, false, _) => "Nothing is kept yet.".into(),
            (None, true, false) => "Choose of which kind of piece it is a dish.".into(),
            (None, true, true) => "Nothing is kept until you save it in the next step.".into(),
        };
        parts::quiet(ui, words);
    });
    wish
}

/// The recipes of a page that has several.
fn choose_ui(ui: &mut Ui, recipes: &[ReadRecipe], fresh: &mut bool) -> Option<Wish> {
    let mut wish = None;
    ui.add_space(STEP);
    for (at, recipe) in recipes.iter().enumerate() {
        let detail = format!(
            "{}, {}",
            write_units(recipe.ingredients.len(), "ingredient", "ingredients"),
            write_units(recipe.steps.len(), "step", "steps")
        );
        let name = brief(&recipe_name(recipe), 120);
        let spoken = format!("{name}, {detail}");
        let width = ui.available_width().min(CHOICE);
        let button = Button::mend(&name).detail(&detail).icon(Icon::ArrowRight).name(&spoken).fill_width();
        let response = ui.scope(|ui| {
            ui.set_max_width(width);
            ui.add(button)
        });
        let response = response.inner;
        if at == 0 && *fresh {
            response.request_focus();
            *fresh = !response.has_focus();
        }
        if response.clicked() {
            wish = Some(Wish::Choose(at));
        }
    }
    wish
}

/// A column that scrolls by itself; what the keyboard comes to in it is scrolled into sight, what it comes to in the foot is there.
fn scrolled(ui: &mut Ui, salt: &str, turned: bool, foot: Rect, add: impl FnOnce(&mut Ui)) {
    let mut scroll = ScrollArea::vertical().id_salt(salt).auto_shrink(false);
    if turned {
        scroll = scroll.vertical_scroll_offset(0.0);
    }
    scroll.show(ui, |ui| {
        ui.set_max_width(ui.available_width() - 12.0);
        ui.spacing_mut().item_spacing = vec2(STEP, 6.0);
        add(ui);
        let focused = ui.memory(|m| m.focused()).and_then(|id| ui.ctx().read_response(id));
        if focused.is_none_or(|r| !foot.contains(r.rect.center())) {
            super::edit::keep_in_sight(ui);
        }
        ui.add_space(3.0 * STEP);
    });
}

fn recipe_ui(ui: &mut Ui, view: &View<'_>, recipe: &ReadRecipe, choices: &mut Choices, turned: bool, foot: Rect) {
    let whole = ui.available_width();
    if whole < TWO_COLUMNS {
        scrolled(ui, "recipe", turned, foot, |ui| {
            choices::ui(ui, view, recipe, choices);
            let proposal = choices.proposal(recipe, view.book);
            open::ui(ui, recipe, proposal.as_deref());
            read_ui(ui, recipe, choices, view);
        });
        return;
    }
    let left = ((whole - BETWEEN) * READ_PART).floor();
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = BETWEEN;
        ui.vertical(|ui| {
            ui.set_width(left);
            scrolled(ui, "recipe", turned, foot, |ui| {
                choices::ui(ui, view, recipe, choices);
                read_ui(ui, recipe, choices, view);
            });
        });
        // What was not read stays in sight whatever of the recipe is looked at.
        ui.vertical(|ui| {
            ui.set_width(whole - BETWEEN - left);
            scrolled(ui, "not read", turned, foot, |ui| {
                let proposal = choices.proposal(recipe, view.book);
                open::ui(ui, recipe, proposal.as_deref());
            });
        });
    });
}

fn read_ui(ui: &mut Ui, recipe: &ReadRecipe, choices: &mut Choices, view: &View<'_>) {
    let proposal = choices.proposal(recipe, view.book);
    lines::ui(ui, view, recipe, choices, proposal.as_deref());
    steps::ui(ui, recipe, choices.heads(), proposal.as_deref());
    open::eats_ui(ui, recipe, proposal.as_deref());
}
