//! The bottom line: where the grams are, what just happened, and how many different meals it feels like.

use super::{Frame, hand::named};
use crate::app::{
    action::Action,
    alike,
    book_view::Page,
    theme::{self, Lettering},
    view::{View, spoken},
};
use egui::{Align, Layout, Role, Sense, Ui, accesskit};

pub fn ui(ui: &mut Ui, frame: &Frame<'_>, actions: &mut Vec<Action>) {
    let view = &frame.view;
    ui.horizontal(|ui| {
        ui.set_min_height(34.0);
        balance(ui, view);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            feels(ui, frame, actions);
            alike::who::menu(ui, view, actions);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| live(ui, &view.said(frame.live)));
        });
    });
}

fn balance(ui: &mut Ui, view: &View<'_>) {
    let palette = theme::palette(ui);
    let b = &view.judged.balance;
    let left = match b.unallocated {
        0 => "all has a home".to_string(),
        free if free > 0 => format!("free {}", view.grams(free as u32)),
        over => format!("{} too much planned", view.grams(over.unsigned_abs() as u32)),
    };
    let colour = match b.unallocated {
        over if over < 0 => palette.stop,
        _ => palette.accent,
    };
    let mut parts = vec![
        (format!("usable {}", view.grams(b.usable)), Lettering::Strong, palette.ink),
        (format!("in meals {}", view.grams(b.allotted)), Lettering::Body, palette.ink),
    ];
    if b.banked > 0 {
        parts.push((format!("banked {}", view.grams(b.banked)), Lettering::Body, palette.ink));
    }
    parts.push((left, Lettering::Strong, colour));
    let said: Vec<&str> = parts.iter().map(|p| p.0.as_str()).collect();
    let said = said.join(", ");
    // One name for the whole line; the words themselves are only painted.
    let galleys: Vec<_> =
        parts.iter().map(|(words, lettering, colour)| super::ink::lay(ui, words, *lettering, *colour, 400.0, 1)).collect();
    let width: f32 = galleys.iter().map(|g| g.size().x + 22.0).sum();
    let (rect, response) = ui.allocate_exact_size(egui::vec2(width, 28.0), Sense::hover());
    named(ui, &response, Role::Label, &said);
    let mut x = rect.left();
    for galley in galleys {
        let at = egui::pos2(x, rect.center().y - galley.size().y / 2.0);
        x += galley.size().x + 22.0;
        super::ink::put(ui.painter(), at, galley);
    }
    let trim = format!("{} as bought, {} trimmed away", view.grams(b.as_bought), view.grams(b.trim));
    let rotten = if b.rotten > 0 { format!(", {} rotten", view.grams(b.rotten)) } else { String::new() };
    response.on_hover_text(trim + &rotten);
}

/// How many meals it feels like, for the eater chosen; a click explains it.
fn feels(ui: &mut Ui, frame: &Frame<'_>, actions: &mut Vec<Action>) {
    let view = &frame.view;
    let variety = &view.judged.variety;
    let of = |who| variety.distinct_by_eater.iter().find(|(id, _)| *id == who).map(|(_, d)| d);
    let d = view.who.and_then(of).unwrap_or(&variety.distinct);
    let words = match d.meals {
        0 => "no meal yet".to_string(),
        1 => "1 meal".to_string(),
        n => format!("{n} meals that feel like {:.1}", d.feel_like),
    };
    let response = figure_button(ui, &words);
    if response.clicked() {
        let to = if frame.page == Page::Likeness { Page::Bench } else { Page::Likeness };
        actions.push(Action::Turn(to));
    }
    let mut tip = "How many truly different meals these feel like, reckoned from how alike they are in texture, flavour, colour, method, form, taste, warmth and company. Click to see how.".to_string();
    for (eater, own) in &variety.distinct_by_eater {
        if own.meals > 0 {
            tip +=
                &format!("\n{}: {} meals that feel like {:.1}", view.rotation.household.name(*eater), own.meals, own.feel_like);
        }
    }
    if d.left_out > 0 {
        tip += &format!("\n{} left out: not enough described.", d.left_out);
    }
    response.on_hover_text(tip);
}

/// The figure as a word to click: underlined while the pointer or the keyboard is on it.
fn figure_button(ui: &mut Ui, words: &str) -> egui::Response {
    let palette = theme::palette(ui);
    let galley = super::ink::lay(ui, words, Lettering::Figure, palette.ink, 420.0, 1);
    let (rect, response) = ui.allocate_exact_size(galley.size() + egui::vec2(8.0, 4.0), Sense::click());
    named(ui, &response, Role::Button, words);
    let at = rect.center() - galley.size() / 2.0;
    let below = super::ink::put(ui.painter(), at, galley).y;
    let lit = response.hovered() || response.has_focus();
    let line = egui::Stroke::new(1.0, if lit { palette.accent } else { palette.hair });
    ui.painter().hline(rect.shrink2(egui::vec2(4.0, 0.0)).x_range(), below - 1.0, line);
    crate::app::widget::focus_ring(ui, &response, 6);
    response
}

/// What just happened, said once and politely.
fn live(ui: &mut Ui, words: &str) {
    if words.is_empty() {
        return;
    }
    let palette = theme::palette(ui);
    let refused = words.starts_with("Not done");
    let colour = if refused { palette.stop } else { palette.soft };
    let galley = super::ink::lay(ui, words, Lettering::Small, colour, ui.available_width() - 16.0, 2);
    let (rect, response) = ui.allocate_exact_size(galley.size(), Sense::hover());
    super::ink::put(ui.painter(), rect.min, galley);
    named(ui, &response, Role::Status, &spoken(words));
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_live(accesskit::Live::Polite));
}
