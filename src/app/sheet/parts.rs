//! Small things that several sheets are made of.

use crate::{
    app::{
        marks::{self, Icon, Level},
        theme::{self, FIELD_CORNER, Lettering, SMALL_STEP, STEP, mix},
        widget::{Button, Chip, focus_ring},
    },
    book::Kind,
};
use egui::{
    Color32, Rect, Response, Role, Sense, Stroke, StrokeKind, TextWrapMode, Ui, UiBuilder, Vec2, WidgetInfo, WidgetText, pos2,
    vec2,
};

/// The head of a section, with air above it unless it comes first.
pub(in crate::app) fn section(ui: &mut Ui, words: &str) {
    if ui.min_rect().height() > 1.0 {
        ui.add_space(2.0 * STEP);
    }
    ui.label(Lettering::Head.text(words).color(theme::palette(ui).ink));
    ui.add_space(SMALL_STEP);
}

/// Quiet words that wrap.
pub(in crate::app) fn quiet(ui: &mut Ui, words: impl Into<String>) -> Response {
    let colour = theme::palette(ui).soft;
    ui.add(egui::Label::new(Lettering::Small.text(words).color(colour)).wrap())
}

/// Plain words that wrap.
pub(in crate::app) fn plain(ui: &mut Ui, words: impl Into<String>) -> Response {
    let colour = theme::palette(ui).ink;
    ui.add(egui::Label::new(Lettering::Body.text(words).color(colour)).wrap())
}

/// A sentence with the mark of its level before it.
pub(in crate::app) fn remark(ui: &mut Ui, level: Level, words: &str) {
    let palette = theme::palette(ui);
    let colour = level.colour(palette);
    ui.horizontal_top(|ui| {
        let (place, _) = ui.allocate_exact_size(Vec2::splat(16.0), Sense::hover());
        marks::level(ui.painter(), place.translate(vec2(0.0, 1.0)), level, colour);
        let ink = if level <= Level::Warn { colour } else { palette.soft };
        ui.add(egui::Label::new(Lettering::Small.text(words).color(ink)).wrap());
    });
}

/// A quiet label over chips.
pub(in crate::app) fn chips_label(ui: &mut Ui, words: &str) {
    ui.add_space(SMALL_STEP);
    quiet(ui, words);
}

/// A chip that can be chosen; whether it was pressed.
pub(in crate::app) fn choice(ui: &mut Ui, words: &str, name: &str, chosen: bool) -> bool {
    ui.add(Chip::new(words).name(name).selected(chosen)).clicked()
}

/// The tabs of a page, one of them open; `page` stands before the words in their names.
pub(in crate::app) fn tabs<T: Copy + PartialEq>(ui: &mut Ui, page: &str, all: &[(T, &str)], open: &mut T) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = SMALL_STEP;
        for (which, words) in all {
            if ui.add(Button::tab(words, *open == *which).name(&format!("{page}: {words}"))).clicked() {
                *open = *which;
            }
        }
    });
}

/// A place for what is typed into, known by `salt` alone: whatever comes or goes above it, the keyboard stays in it.
pub(in crate::app) fn steady<R>(ui: &mut Ui, salt: impl std::hash::Hash + std::fmt::Debug, add: impl FnOnce(&mut Ui) -> R) -> R {
    let id = ui.make_persistent_id(("steady", salt));
    ui.scope_builder(UiBuilder::new().scope_id(id), add).inner
}

/// Chips that flow over as many lines as they need.
pub(in crate::app) fn flow(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = vec2(6.0, 6.0);
        add(ui);
    });
}

/// The colour that a kind is drawn in; six hexadecimal digits in the book.
pub(in crate::app) fn kind_colour(kind: &Kind) -> Color32 {
    match u32::from_str_radix(&kind.colour, 16) {
        Ok(rgb) => {
            let [_, r, g, b] = rgb.to_be_bytes();
            Color32::from_rgb(r, g, b)
        }
        Err(_) => Color32::GRAY,
    }
}

/// A big button for a kind: its colour and its name.
pub(in crate::app) fn kind_button(ui: &mut Ui, kind: &Kind, chosen: bool, size: Vec2) -> Response {
    let (_, response) = ui.allocate_exact_size(size, Sense::click());
    kind_face(ui, &response, kind, chosen);
    response
}

/// The face of a button for a kind, and what a screen reader is told of it.
pub(super) fn kind_face(ui: &Ui, response: &Response, kind: &Kind, chosen: bool) {
    let palette = theme::palette(ui);
    let colour = kind_colour(kind);
    let name = crate::rotation::capital(&kind.name);
    let rect = response.rect;
    response.widget_info(|| WidgetInfo::selected(Role::Button, ui.is_enabled(), chosen, &name));
    if ui.is_rect_visible(rect) {
        let ground = match (chosen, response.hovered()) {
            (true, _) => palette.piece_tint(colour),
            (false, true) => mix(palette.card, palette.sunk, 0.5),
            (false, false) => palette.card,
        };
        let line = if chosen {
            Stroke::new(2.0 * palette.edge_width(), palette.piece_edge(colour))
        } else {
            Stroke::new(palette.edge_width(), if response.hovered() { palette.ink } else { palette.line })
        };
        let painter = ui.painter();
        painter.rect(rect, f32::from(FIELD_CORNER), ground, line, StrokeKind::Inside);
        let swatch = Rect::from_center_size(pos2(rect.left() + 22.0, rect.center().y), Vec2::splat(22.0));
        painter.rect(swatch, 6.0, colour, Stroke::new(palette.edge_width(), palette.piece_edge(colour)), StrokeKind::Inside);
        if chosen {
            marks::icon(painter, swatch.shrink(4.0), Icon::Tick, black_or_white_on(colour));
        }
        let lettering = if chosen { Lettering::Strong } else { Lettering::Body };
        let words = WidgetText::from(lettering.text(&name)).into_galley(
            ui,
            Some(TextWrapMode::Truncate),
            rect.right() - swatch.right() - 20.0,
            lettering.style(),
        );
        painter.galley(pos2(swatch.right() + 10.0, rect.center().y - words.size().y / 2.0), words, palette.ink);
        focus_ring(ui, response, FIELD_CORNER);
    }
}

/// Black or white, whichever reads better on a colour.
fn black_or_white_on(ground: Color32) -> Color32 {
    let (black, white) = (Color32::BLACK, Color32::WHITE);
    if theme::contrast(white, ground) >= theme::contrast(black, ground) { white } else { black }
}
