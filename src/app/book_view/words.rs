//! Small things that the pages of the dish book are made of.

use crate::{
    app::{
        bench::ink,
        marks,
        sheet::parts,
        theme::{self, Lettering, Palette, SMALL_STEP, STEP},
        view::{spoken, texture_mark},
    },
    book::{Graded, Texture},
};
use egui::{Color32, Painter, Rect, Role, Sense, Stroke, StrokeKind, Ui, Vec2, WidgetInfo, vec2};

/// How wide the column of words is at most: longer lines are hard to read.
pub(super) const COLUMN: f32 = 760.0;
/// How wide the heads of facts are.
const FACT_HEAD: f32 = 132.0;

/// The head of a section.
pub(super) fn section(ui: &mut Ui, words: &str) {
    ui.add_space(1.5 * STEP);
    ui.label(Lettering::Head.text(words).color(theme::palette(ui).ink));
    ui.add_space(SMALL_STEP);
}

/// A fact with its head at the left: "Keeps  3 days". Nothing for no words.
pub(super) fn fact(ui: &mut Ui, head: &str, words: impl Into<String>) {
    let words = words.into();
    if words.is_empty() {
        return;
    }
    fact_with(ui, head, |ui| {
        parts::plain(ui, words);
    });
}

/// A fact whose words are more than words.
pub(super) fn fact_with(ui: &mut Ui, head: &str, add: impl FnOnce(&mut Ui)) {
    ui.horizontal_top(|ui| {
        let palette = theme::palette(ui);
        let (rect, response) = ui.allocate_exact_size(vec2(FACT_HEAD, 20.0), Sense::hover());
        let words = ink::lay(ui, head, Lettering::Small, palette.soft, rect.width(), 1);
        ink::put(ui.painter(), rect.min + vec2(0.0, 2.0), words);
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, head));
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = SMALL_STEP;
            add(ui);
        });
    });
}

/// A texture's mark and word.
pub(super) fn texture_ui(ui: &mut Ui, texture: &Graded<Texture>) {
    const MARK: f32 = 22.0;
    let palette = theme::palette(ui);
    let word = graded_word(texture.0.word(), texture.1);
    let words = ink::lay(ui, &word, Lettering::Strong, palette.ink, 160.0, 1);
    let (rect, response) = ui.allocate_exact_size(vec2(MARK + STEP + words.size().x + STEP, 26.0), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &word));
    let mark = Rect::from_center_size(rect.left_center() + vec2(MARK / 2.0, 0.0), Vec2::splat(MARK));
    marks::texture(ui.painter(), mark, texture_mark(texture.0), palette.accent);
    let at = rect.left_center() + vec2(MARK + STEP, -words.size().y / 2.0);
    ink::put(ui.painter(), at, words);
}

/// "crisp", or "a little crisp" for an accent.
pub(super) fn graded_word(word: &str, grade: f64) -> String {
    if grade > 0.5 { word.into() } else { format!("a little {word}") }
}

/// A small square of a kind's colour.
pub(super) fn swatch(painter: &Painter, palette: &Palette, rect: Rect, colour: Color32) {
    painter.rect(rect, 5.0, colour, Stroke::new(palette.edge_width(), palette.piece_edge(colour)), StrokeKind::Inside);
}

/// A number as one writes it: "1.5", "80", never more than two places.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// A widget that is one thing to a screen reader.
pub(super) fn named(ui: &Ui, response: &egui::Response, words: &str) {
    response.widget_info(|| WidgetInfo::labeled(Role::Label, ui.is_enabled(), spoken(words)));
}

/// A field of several lines with a little air before it.
pub(super) fn said_field<R>(ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> R {
    ui.add_space(SMALL_STEP);
    add(ui)
}
