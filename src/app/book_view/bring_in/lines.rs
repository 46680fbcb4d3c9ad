//! The ingredients of a recipe as they were read, line by line, and what each is to the dish.

use super::{brief, choices::Choices};
use crate::{
    app::{
        bench::ink,
        book_view::words::{named, number, section},
        sheet::parts,
        theme::{self, Lettering, SMALL_STEP, STEP},
        view::View,
    },
    exchange::{DishProposal, ProposedCompanion, ReadRecipe, left_out},
    quantity::{Confidence, IngredientLine, write_amount},
};
use egui::{Label, Sense, Stroke, Ui, vec2};

/// How wide amounts are.
const AMOUNT: f32 = 96.0;
/// How wide the three chips are.
const CHIPS: f32 = 196.0;
/// The most that is shown of a text.
const MOST: usize = 300;

/// What a line is to the dish.
#[derive(Clone, Copy, PartialEq)]
enum Part {
    Piece,
    Beside,
    Out,
}

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, recipe: &ReadRecipe, choices: &mut Choices, proposal: Option<&DishProposal>) {
    section(ui, "What it needs");
    if recipe.ingredients.is_empty() {
        parts::quiet(ui, "The page lists no ingredients.");
    }
    let mut pressed = None;
    for (at, line) in recipe.ingredients.iter().enumerate() {
        let now = match choices.line {
            Some(piece) if piece == at => Part::Piece,
            _ if choices.left_out.contains(&at) => Part::Out,
            _ => Part::Beside,
        };
        let companion = proposal.and_then(|p| p.companions.iter().find(|c| c.line == at));
        ui.push_id(("line", at), |ui| {
            if let Some(part) = line_ui(ui, view, at, line, now, companion) {
                pressed = Some((at, part));
            }
        });
    }
    match pressed {
        Some((at, Part::Piece)) => choices.choose_line(Some(at), recipe),
        Some((at, part)) => choices.leave_out(at, part == Part::Out, recipe),
        None => {}
    }
}

fn line_ui(
    ui: &mut Ui,
    view: &View<'_>,
    at: usize,
    line: &IngredientLine,
    now: Part,
    companion: Option<&ProposedCompanion>,
) -> Option<Part> {
    let palette = theme::palette(ui);
    let top = ui.cursor().min;
    let width = ui.available_width();
    ui.painter().hline(top.x..=top.x + width, top.y, Stroke::new(palette.edge_width(), palette.hair));
    ui.add_space(SMALL_STEP);
    let mut pressed = None;
    ui.horizontal_top(|ui| {
        let amount = line.amount.map_or_else(|| "no amount".into(), |a| write_amount(a, line.measure, view.system.into()));
        let colour = if line.amount.is_some() { palette.ink } else { palette.soft };
        let words = ink::lay(ui, &amount, Lettering::Strong, colour, AMOUNT, 2);
        let (rect, response) = ui.allocate_exact_size(vec2(AMOUNT, words.size().y.max(22.0)), Sense::hover());
        ink::put(ui.painter(), rect.min + vec2(0.0, 2.0), words);
        named(ui, &response, &format!("Line {}: {amount}, {}", at + 1, brief(&line.name, MOST)));
        ui.vertical(|ui| {
            ui.set_width((width - AMOUNT - CHIPS - 2.0 * STEP).max(120.0));
            ui.spacing_mut().item_spacing.y = 2.0;
            let name = if line.name.is_empty() { &line.raw } else { &line.name };
            let mut said = brief(name, MOST);
            if !line.note.is_empty() {
                said = format!("{said}, {}", brief(&line.note, MOST));
            }
            ui.add(Label::new(Lettering::Body.text(said).color(palette.ink)).wrap());
            details(view, line, now, companion).into_iter().for_each(|words| {
                parts::quiet(ui, words);
            });
        });
        ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = 6.0;
            for (part, word, name) in [
                (Part::Piece, "piece", format!("Line {} is the piece", at + 1)),
                (Part::Beside, "beside it", format!("Line {} goes beside it", at + 1)),
                (Part::Out, "out", format!("Line {} is left out", at + 1)),
            ] {
                if parts::choice(ui, word, &name, now == part) && now != part {
                    pressed = Some(part);
                }
            }
        });
    });
    ui.add_space(SMALL_STEP);
    pressed
}

/// Whether what is shown of a line is the line itself.
fn reads_as_it_stands(view: &View<'_>, line: &IngredientLine) -> bool {
    let bare = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect::<String>();
    let amount = line.amount.map_or_else(String::new, |a| write_amount(a, line.measure, view.system.into()));
    bare(&line.raw) == bare(&format!("{amount}{}{}", line.name, line.note))
}

/// The quiet lines under an ingredient: how it was read, and what comes of it for one.
fn details(view: &View<'_>, line: &IngredientLine, now: Part, companion: Option<&ProposedCompanion>) -> Vec<String> {
    let mut out = Vec::new();
    if !reads_as_it_stands(view, line) {
        out.push(format!("As it stands: {}", brief(&line.raw, MOST)));
    }
    if let Some(grams) = line.grams
        && line.measure.is_none_or(|m| m.grams().is_none())
    {
        out.push(format!("Grams in the line: {}", write_amount(grams, Some(crate::quantity::Measure::Gram), view.system.into())));
    }
    match line.confidence {
        Confidence::Guessed => out.push(format!("Guessed: {}", line.because.join("; "))),
        Confidence::Unread => out.push("No amount was read.".into()),
        Confidence::Certain => {}
    }
    match (now, companion) {
        (Part::Beside, Some(c)) => {
            out.push(match (c.per_unit, &c.open) {
                (Some(amount), _) => {
                    let grounds = if c.because.is_empty() { String::new() } else { format!(" ({})", c.because.join("; ")) };
                    let pack = c.pack.map_or(String::new(), |p| {
                        let word = c.pack_word.as_deref().unwrap_or("pack");
                        format!(", a {word} is {}{}", number(p), c.measure.sign())
                    });
                    format!("For one: {}{} of {}{pack}{grounds}", number(amount), c.measure.sign(), c.name)
                }
                (None, Some(why)) => format!("For one: left open, {why}"),
                (None, None) => "For one: left open".into(),
            });
        }
        (Part::Out, _) => {
            let why = left_out(line).map_or(String::new(), |why| format!(": {why}"));
            out.push(format!("Not among what the dish needs{why}; its allergens are still looked at."));
        }
        (Part::Piece, _) => out.push("This is the piece.".into()),
        (Part::Beside, None) => {}
    }
    out
}
