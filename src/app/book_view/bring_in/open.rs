//! What could not be read, what is left open, who may eat it; and how it may eat, axis by axis.

use super::brief;
use crate::{
    app::{
        book_view::words::{fact_with, section},
        marks::Level,
        sheet::parts,
        theme::{self, Lettering, SMALL_STEP},
        widget::Card,
    },
    book::Care,
    exchange::{DishProposal, Proposed, ReadRecipe, Reasoned},
};
use egui::{Label, Margin, Ui};

/// The most that is shown of a text of the page.
const MOST: usize = 200;

pub(super) fn ui(ui: &mut Ui, recipe: &ReadRecipe, proposal: Option<&DishProposal>) {
    block(ui, "Not read", |ui| {
        if recipe.unread.is_empty() {
            parts::remark(ui, Level::Fine, "Every line of the recipe was read.");
        }
        for what in &recipe.unread {
            parts::remark(ui, Level::Caution, &brief(what, MOST));
        }
    });
    let Some(proposal) = proposal else { return };
    block(ui, "Left open for you", |ui| {
        if proposal.open.is_empty() {
            parts::quiet(ui, "Nothing; what is proposed still wants your look.");
        }
        for what in &proposal.open {
            parts::remark(ui, Level::Note, what);
        }
    });
    block(ui, "Who may eat it", |ui| {
        parts::remark(
            ui,
            Level::Warn,
            "Read every label: a page does not name all that is in what you buy. These are only what the names give away.",
        );
        if proposal.allergens.is_empty() {
            parts::quiet(ui, "No name gives an allergen away. That is no promise that there is none.");
        }
        for (allergen, line) in &proposal.allergens {
            parts::plain(ui, format!("{}: {}", crate::rotation::capital(allergen.word()), brief(line, MOST)));
        }
        parts::quiet(ui, format!("Diet, by the names alone: {}.", proposal.diet.word()));
    });
    if !proposal.cautions.is_empty() {
        block(ui, "Cautions, proposed", |ui| {
            for caution in &proposal.cautions {
                let whom: Vec<&str> = caution.for_whom.iter().map(|c| c.word()).collect();
                let all = caution.for_whom.is_empty() || caution.for_whom.len() == Care::ALL.len();
                let whom = if all { String::new() } else { format!("For {}: ", whom.join(", ")) };
                parts::remark(ui, Level::Caution, &format!("{whom}{}", caution.text));
                parts::quiet(ui, format!("Source: {}", caution.source));
            }
        });
    }
}

fn block(ui: &mut Ui, head: &str, add: impl FnOnce(&mut Ui)) {
    ui.add_space(SMALL_STEP);
    Card::new().room(Margin::symmetric(14, 10)).fill_width().show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 6.0;
        let palette = theme::palette(ui);
        ui.add(Label::new(Lettering::Head.text(head).color(palette.ink)).wrap());
        add(ui);
    });
}

/// How it may eat, each axis with its ground; and the figures that the book or the page give.
pub(super) fn eats_ui(ui: &mut Ui, recipe: &ReadRecipe, proposal: Option<&DishProposal>) {
    section(ui, "How it may eat");
    parts::quiet(ui, "Proposed from its words, the piece left aside; what nothing speaks for is left open.");
    axes(ui, proposal.map_or(&recipe.proposed, |p| &p.eats));
    let Some(p) = proposal else { return };
    axis(ui, "Cut into", &p.cut, |c| c.word().to_string());
    if p.oven.is_some() {
        axis(ui, "Oven", &p.oven, |d| format!("{d}\u{a0}°C"));
    }
    axis(ui, "Keeps", &p.keeps, |d| d.to_string());
    axis(ui, "Hands", &p.hands, |m| format!("{m}\u{a0}min"));
    axis(ui, "In all", &p.total, |m| format!("{m}\u{a0}min"));
    let cooked = Some(p.cooked.clone());
    axis(ui, "Stove", &cooked, |c| if *c { "cooked through".into() } else { "not cooked through".into() });
}

fn axes(ui: &mut Ui, p: &Proposed) {
    axis(ui, "Texture", &p.texture, |v| v.word().to_string());
    axis(ui, "Flavour", &p.family, |v| v.word().to_string());
    axis(ui, "Cooked", &p.method, |v| v.word().to_string());
    axis(ui, "Served", &p.heat, |v| v.word().to_string());
    axis(ui, "Looks like", &p.form, |v| v.word().to_string());
    axis(ui, "Protein", &p.protein, |v| v.word().to_string());
    axis(ui, "Starch", &p.starch, |v| v.word().to_string());
}

fn axis<T>(ui: &mut Ui, title: &str, value: &Option<Reasoned<T>>, word: impl Fn(&T) -> String) {
    fact_with(ui, title, |ui| match value {
        Some(reasoned) => {
            let palette = theme::palette(ui);
            ui.add(Label::new(Lettering::Strong.text(word(&reasoned.value)).color(palette.ink)).wrap());
            parts::quiet(ui, format!("proposed: {}", brief(&reasoned.because, MOST)));
        }
        None => {
            parts::quiet(ui, "left open: nothing speaks for it");
        }
    });
}
