//! The sheet of the piece: what it is, what it weighs, what is really in it.

use super::{
    asking::as_sentence,
    frame::{self, Head, Keyboard},
    kinds::Kinds,
    opened::Opened,
    parts,
    typed::{Typed, TypedField},
};
use crate::{
    app::{
        action::Action,
        marks::{self, Icon, Level},
        theme::{self, Lettering, STEP},
        view::View,
        widget::Button,
    },
    book::PartId,
    quantity::{AsBought, Grams, Portion, System, grouped, read_grams, write_grams},
    rotation::{Condition, Edit, Piece, PieceEdit, capital},
};
use egui::{Context, Rect, Sense, Stroke, StrokeKind, Ui, Vec2, pos2, vec2};
use std::collections::BTreeMap;

/// What is typed on the sheet of the piece.
#[derive(Default)]
pub(super) struct PieceSheet {
    title: Typed,
    mass: Typed,
    trim: Typed,
    rotten: Typed,
    parts: BTreeMap<PartId, Typed>,
    opened: Opened,
    kinds: Kinds,
}

/// Draws the sheet.
pub(super) fn ui(ctx: &Context, view: &View<'_>, keyboard: &mut Keyboard, sheet: &mut PieceSheet, actions: &mut Vec<Action>) {
    let kind = capital(&view.rotation.kind.name);
    let head =
        Head { title: "The piece", under: &kind, name: "piece", width: 480.0, edits: true, holds_answers: false, fills_in: true };
    let body = |ui: &mut Ui, sheet: &mut PieceSheet, actions: &mut Vec<Action>| {
        balance_ui(ui, view);
        parts::section(ui, "What was weighed");
        weights_ui(ui, view, sheet, actions);
        parts::section(ui, "What it is");
        kind_ui(ui, view, sheet, actions);
        ui.add_space(STEP);
        condition_ui(ui, view, actions);
        ui.add_space(STEP);
        sheet.opened.show(ui, view, actions);
        ui.add_space(STEP);
        title_ui(ui, view, sheet, actions);
        if !view.rotation.kind.hazards.is_empty() {
            parts::section(ui, "Mind");
            for hazard in &view.rotation.kind.hazards {
                parts::remark(ui, Level::Caution, hazard);
            }
        }
    };
    frame::show(ctx, &head, keyboard, sheet, actions, body, None::<fn(&mut Ui, &mut PieceSheet, &mut Vec<Action>)>);
}

/// The balance of the piece in words: "1,800 g = 300 trim + 1,500 usable: 300 outer leaves, 800 middle, 400 heart".
pub(super) fn balance_words(view: &View<'_>) -> String {
    let r = view.rotation;
    let mass = |grams: u32| match view.system {
        System::Metric => grouped(grams),
        _ => write_grams(grams, view.system),
    };
    let lost = if r.kind.is_cooked_whole() { "trim and cooking loss" } else { "trim" };
    let mut words = format!("{} = {} {lost}", view.grams(r.piece.mass.get()), mass(r.piece.trim_total().get()));
    if !r.piece.rotten.is_zero() {
        words += &format!(" + {} rotten", mass(r.piece.rotten.get()));
    }
    words += &format!(" + {} usable: ", mass(r.piece.usable_total(r.kind.portioned).get()));
    let named = r.piece.parts.iter().map(|p| {
        let name = r.kind.part(&p.part).map_or(p.part.as_str(), |k| k.name.as_str());
        format!("{} {name}", mass(p.usable.get()))
    });
    words + &named.collect::<Vec<_>>().join(", ")
}

/// The piece as a bar to scale, and its balance in words.
fn balance_ui(ui: &mut Ui, view: &View<'_>) {
    let palette = theme::palette(ui);
    let r = view.rotation;
    let colour = parts::kind_colour(&r.kind);
    let whole = r.piece.mass.get().max(1) as f32;
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 28.0), Sense::hover());
    let edge = Stroke::new(palette.edge_width(), palette.piece_edge(colour));
    let lost = Stroke::new(palette.edge_width(), palette.line);
    let losses = r.piece.trim.iter().map(|t| t.grams.get()).chain([r.piece.rotten.get()]).map(|g| (g, palette.sunk, lost));
    let usable = r.piece.parts.iter().map(|p| (p.usable.get(), palette.piece_tint(colour), edge));
    let mut left = rect.left();
    for (grams, ground, line) in losses.chain(usable).filter(|(grams, ..)| *grams > 0) {
        let right = (left + rect.width() * grams as f32 / whole).min(rect.right());
        let block = Rect::from_min_max(pos2(left, rect.top()), pos2((right - 2.0).max(left + 1.0), rect.bottom()));
        ui.painter().rect(block, 4.0, ground, line, StrokeKind::Inside);
        left = right;
    }
    // Two lines are kept, so that a longer balance does not push the fields below from under the hand.
    let words = parts::plain(ui, balance_words(view));
    ui.add_space((2.0 * Lettering::Body.size() * 1.4 - words.rect.height()).max(0.0));
}

/// That meals take more than there is: under what was weighed, where it pushes no field about.
fn over_ui(ui: &mut Ui, view: &View<'_>) {
    let r = view.rotation;
    let over: i64 = r.piece.parts.iter().map(|p| (-r.free_in_part(&p.part)).max(0)).sum();
    if over > 0 {
        let over = view.grams(over.min(i64::from(u32::MAX)) as u32);
        parts::remark(ui, Level::Stop, &format!("Meals take {over} more than there is: make some of them smaller."));
    }
}

/// One row: what it is and how it is known at the left, the field at the right.
fn row_ui(ui: &mut Ui, name: &str, known: Option<bool>, more: &str, add: impl FnOnce(&mut Ui)) {
    const LEFT: f32 = 248.0;
    let palette = theme::palette(ui);
    parts::steady(ui, name, |ui| {
        ui.horizontal_top(|ui| {
            ui.allocate_ui(vec2(LEFT, theme::TALL_TARGET), |ui| {
                ui.set_width(LEFT);
                ui.vertical(|ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    if more.is_empty() && known.is_none() {
                        ui.add_space(STEP);
                    }
                    ui.label(Lettering::Body.text(name).color(palette.ink));
                    ui.horizontal_wrapped(|ui| {
                        ui.spacing_mut().item_spacing = vec2(4.0, 0.0);
                        match known {
                            Some(true) => {
                                let (place, _) = ui.allocate_exact_size(Vec2::splat(13.0), Sense::hover());
                                marks::icon(ui.painter(), place, Icon::Tick, palette.accent);
                                ui.label(Lettering::SmallStrong.text("weighed").color(palette.accent));
                            }
                            Some(false) => {
                                ui.label(Lettering::Small.text("guessed").color(palette.soft));
                            }
                            None => {}
                        }
                        if !more.is_empty() {
                            let joined = if known.is_some() { format!("· {more}") } else { more.to_owned() };
                            ui.label(Lettering::Small.text(joined).color(palette.soft));
                        }
                    });
                });
            });
            ui.vertical(add);
        });
        ui.add_space(4.0);
    });
}

fn weights_ui(ui: &mut Ui, view: &View<'_>, sheet: &mut PieceSheet, actions: &mut Vec<Action>) {
    let r = view.rotation;
    let field =
        |ui: &mut Ui, typed: &mut Typed, label: &str, grams: u32, make: &dyn Fn(u32) -> Edit, actions: &mut Vec<Action>| {
            let read = |text: &str, _: bool| {
                let grams = read_grams(text, view.system, r.kind.cup).map_err(|e| as_sentence(&e.to_string()))?;
                Ok(make(grams))
            };
            let hint = if view.system == System::Metric { "1.8 kg" } else { "4 lb" };
            let shown = view.grams(grams);
            let spec = TypedField { label, hint, width: 148.0, label_hidden: true, shown, read: &read };
            typed.show(ui, view, spec, actions);
        };
    let piece = |change: PieceEdit| Edit::Piece(change);
    let bought = |grams: u32| Grams::<AsBought>::clamped(grams);
    row_ui(ui, "Mass as bought", None, "", |ui| {
        let make = |g| piece(PieceEdit::Mass(bought(g)));
        field(ui, &mut sheet.mass, "Mass as bought", r.piece.mass.get(), &make, actions);
    });
    let lost = if r.kind.is_cooked_whole() { "Trim and cooking loss" } else { "Trim" };
    let lines = r.piece.trim.iter().map(|t| t.name.as_str()).collect::<Vec<_>>().join(", ");
    let lines = if lines.eq_ignore_ascii_case(lost) { String::new() } else { lines };
    row_ui(ui, lost, Some(r.piece.trim_weighed), &lines, |ui| {
        let make = |g| piece(PieceEdit::Trim(bought(g)));
        field(ui, &mut sheet.trim, lost, r.piece.trim_total().get(), &make, actions);
    });
    row_ui(ui, "Rotten, thrown away", None, "", |ui| {
        let make = |g| piece(PieceEdit::Rotten(bought(g)));
        field(ui, &mut sheet.rotten, "Rotten, thrown away", r.piece.rotten.get(), &make, actions);
    });
    for part in &r.piece.parts {
        let Some(known) = r.kind.part(&part.part) else { continue };
        let name = capital(&known.name);
        row_ui(ui, &name, Some(part.weighed), &known.suits, |ui| {
            let typed = sheet.parts.entry(part.part.clone()).or_default();
            let make = |g| piece(PieceEdit::Part(part.part.clone(), Portion::of(r.kind.portioned, g)));
            field(ui, typed, &name, part.usable.get(), &make, actions);
        });
    }
    over_ui(ui, view);
    if r.piece.trim_weighed || r.piece.parts.iter().any(|p| p.weighed) {
        let again = Button::quiet("Back to the book's guess").icon(Icon::Undo);
        if ui.add(again).on_hover_text("Trim and parts follow the whole mass again").clicked() {
            actions.push(Action::Edit(guess_again(view)));
        }
    }
}

/// Trim and parts as the book guesses them; what is rotten stays thrown away.
fn guess_again(view: &View<'_>) -> Edit {
    let mut next = (**view.rotation).clone();
    let old = &view.rotation.piece;
    next.piece = Piece { condition: old.condition, ..Piece::guessed(&next.kind, old.mass, old.opened) };
    let words = "Guess trim and parts again".to_string();
    let guessed = Edit::Replace { with: Box::new(next), words: words.clone() };
    Edit::Together { edits: vec![guessed, Edit::Piece(PieceEdit::Rotten(old.rotten))], words }
}

fn kind_ui(ui: &mut Ui, view: &View<'_>, sheet: &mut PieceSheet, actions: &mut Vec<Action>) {
    let r = view.rotation;
    if !r.batches.is_empty() {
        let dishes = crate::quantity::write_units(r.batches.len(), "dish", "dishes");
        parts::kind_button(ui, &r.kind, true, vec2(ui.available_width().min(260.0), 52.0));
        parts::quiet(
            ui,
            format!(
                "The kind stays as it is while {dishes} take from the piece: take them off first, or lay the shape of this plan \
                 on another piece."
            ),
        );
        return;
    }
    if let Some(kind) = sheet.kinds.show(ui, view.book.kinds(), &r.kind)
        && kind.id != r.kind.id
    {
        actions.push(Action::Edit(Edit::Piece(PieceEdit::Kind(kind))));
    }
}

fn condition_ui(ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
    parts::chips_label(ui, "Condition");
    let now = view.rotation.piece.condition;
    parts::flow(ui, |ui| {
        for (condition, words) in [
            (Condition::Sound, "sound"),
            (Condition::Bruised, "bruised"),
            (Condition::Wounded, "cut or split"),
            (Condition::SoftSpot, "a soft spot"),
        ] {
            if parts::choice(ui, words, words, now == condition) && now != condition {
                actions.push(Action::Edit(Edit::Piece(PieceEdit::Condition(condition))));
            }
        }
    });
}

fn title_ui(ui: &mut Ui, view: &View<'_>, sheet: &mut PieceSheet, actions: &mut Vec<Action>) {
    let hint = capital(&view.rotation.kind.name);
    let read = |text: &str, _: bool| Ok(Edit::SetTitle(text.to_string()));
    let shown = view.rotation.title.clone();
    let spec = TypedField {
        label: "What you call this plan",
        hint: &hint,
        width: f32::INFINITY,
        label_hidden: false,
        shown,
        read: &read,
    };
    parts::steady(ui, "title", |ui| sheet.title.show(ui, view, spec, actions));
}
