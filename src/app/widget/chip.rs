//! A pill of words: what a link says, what a dish is like, a filter that can be chosen.

use egui::{Color32, Response, Role, Sense, Stroke, TextWrapMode, Ui, Widget, WidgetInfo, WidgetText, vec2};

use crate::app::marks::Level;
use crate::app::theme::{self, Lettering, STEP, TARGET};

use super::edge::{Edge, edge};
use super::focus_ring;

/// A pill of words.
#[must_use = "a chip is shown with `ui.add`"]
pub struct Chip<'a> {
    words: &'a str,
    level: Option<Level>,
    colour: Option<Color32>,
    selected: Option<bool>,
    name: Option<&'a str>,
}

impl<'a> Chip<'a> {
    /// Quiet words with an edge around them.
    pub const fn new(words: &'a str) -> Self {
        Self { words, level: None, colour: None, selected: None, name: None }
    }

    /// In the colour and edge of a level.
    pub const fn level(mut self, level: Level) -> Self {
        self.level = Some(level);
        self
    }

    /// On a wash of a colour: a bar of the piece, a kept component.
    pub const fn colour(mut self, colour: Color32) -> Self {
        self.colour = Some(colour);
        self
    }

    /// One that can be pressed, and whether it is chosen.
    pub const fn selected(mut self, selected: bool) -> Self {
        self.selected = Some(selected);
        self
    }

    /// What a screen reader says instead of the bare words.
    pub const fn name(mut self, name: &'a str) -> Self {
        self.name = Some(name);
        self
    }
}

impl Widget for Chip<'_> {
    fn ui(self, ui: &mut Ui) -> Response {
        const ROOM: f32 = 10.0;
        const HEIGHT: f32 = 24.0;
        let palette = theme::palette(ui);
        let chosen = self.selected == Some(true);
        let lettering = if self.level.is_some() || chosen { Lettering::SmallStrong } else { Lettering::Small };
        let most = (ui.available_width() - 2.0 * ROOM).max(3.0 * STEP);
        let words =
            WidgetText::from(lettering.text(self.words)).into_galley(ui, Some(TextWrapMode::Truncate), most, lettering.style());
        let sense = if self.selected.is_some() { Sense::click() } else { Sense::hover() };
        // A double edge needs the room of a target to leave its words free.
        let height = if self.selected.is_some() || self.level == Some(Level::Stop) { TARGET } else { HEIGHT };
        let cut = words.elided;
        // One digit alone would be too narrow to hit.
        let width = (words.size().x + 2.0 * ROOM).max(if self.selected.is_some() { TARGET } else { 0.0 });
        let (rect, response) = ui.allocate_exact_size(vec2(width, height), sense);

        response.widget_info(|| {
            let name = self.name.unwrap_or(self.words);
            match self.selected {
                Some(selected) => WidgetInfo::selected(Role::Button, ui.is_enabled(), selected, name),
                None => WidgetInfo::labeled(Role::Label, ui.is_enabled(), name),
            }
        });

        if ui.is_rect_visible(rect) {
            let width = palette.edge_width();
            let (ground, ink, line, manner) = match (self.level, self.colour, chosen) {
                (Some(level), _, _) => {
                    let colour = level.colour(palette);
                    let width = if palette.high_contrast { 1.5 } else { 1.25 };
                    (palette.card, colour, Stroke::new(width, colour), Edge::of(level))
                }
                (None, Some(colour), _) => {
                    (palette.piece_tint(colour), palette.ink, Stroke::new(width, palette.piece_edge(colour)), Edge::Thin)
                }
                (None, None, true) => {
                    (palette.piece_tint(palette.accent), palette.ink, Stroke::new(width, palette.accent), Edge::Thick)
                }
                (None, None, false) => (
                    palette.card,
                    if response.hovered() && self.selected.is_some() { palette.ink } else { palette.soft },
                    Stroke::new(width, palette.line),
                    Edge::Thin,
                ),
            };
            let corner = height / 2.0;
            ui.painter().rect_filled(rect, corner, ground);
            edge(ui.painter(), rect, corner, manner, line);
            let at = rect.center() - words.size() / 2.0;
            ui.painter().galley(at, words, ink);
            // A byte holds every height a chip can have.
            focus_ring(ui, &response, corner as u8);
        }
        if cut { response.on_hover_text(self.words) } else { response }
    }
}
