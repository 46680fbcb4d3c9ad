//! Cards, and the sunk shelves they lie in.

use egui::{
    Color32, CornerRadius, Frame, InnerResponse, Margin, Painter, Rect, Response, Role, Sense, Stroke, Ui, Vec2, WidgetInfo,
};

use crate::app::marks::{self, Level};
use crate::app::theme::{self, CARD_CORNER, CARD_ROOM, Lettering, Palette, STEP};

use super::edge::{Edge, edge};

/// A card that lies on the paper, with whatever is put in it.
#[derive(Clone, Copy, Debug, Default)]
#[must_use = "a card is shown with `show`"]
pub struct Card {
    edge: Edge,
    colour: Option<Color32>,
    ground: Option<Color32>,
    room: Option<Margin>,
    fill_width: bool,
}

impl Card {
    /// An ordinary card.
    pub fn new() -> Self {
        Self::default()
    }

    /// A card that carries a finding, with the edge of its level.
    pub fn of(level: Level, palette: &Palette) -> Self {
        Self { edge: Edge::of(level), colour: Some(level.colour(palette)), ..Self::default() }
    }

    /// How its edge is drawn.
    pub const fn edge(mut self, edge: Edge) -> Self {
        self.edge = edge;
        self
    }

    /// The colour of its edge.
    pub const fn colour(mut self, colour: Color32) -> Self {
        self.colour = Some(colour);
        self
    }

    /// The colour of its ground.
    pub const fn ground(mut self, ground: Color32) -> Self {
        self.ground = Some(ground);
        self
    }

    /// Room between edge and contents, 14 points unless said otherwise.
    pub fn room(mut self, room: impl Into<Margin>) -> Self {
        self.room = Some(room.into());
        self
    }

    /// As wide as the room there is.
    pub const fn fill_width(mut self) -> Self {
        self.fill_width = true;
        self
    }

    /// Shows the card around its contents.
    pub fn show<R>(self, ui: &mut Ui, add: impl FnOnce(&mut Ui) -> R) -> InnerResponse<R> {
        let palette = theme::palette(ui);
        let shown = Frame::new()
            .fill(self.ground.unwrap_or(palette.card))
            .corner_radius(CornerRadius::same(CARD_CORNER))
            .inner_margin(self.room.unwrap_or(Margin::same(CARD_ROOM)))
            .show(ui, |ui| {
                if self.fill_width {
                    ui.set_min_width(ui.available_width());
                }
                add(ui)
            });
        let line = Stroke::new(palette.edge_width(), self.colour.unwrap_or(palette.line));
        edge(ui.painter(), shown.response.rect, f32::from(CARD_CORNER), self.edge, line);
        shown
    }
}

/// Paints a bare card into a rectangle that was already asked for: cells and cards of the calendar.
pub fn paint_card(painter: &Painter, rect: Rect, ground: Color32, manner: Edge, line: Stroke) {
    painter.rect_filled(rect, f32::from(CARD_CORNER), ground);
    edge(painter, rect, f32::from(CARD_CORNER), manner, line);
}

/// A shelf let into the paper: the frame of the dishes and of the findings.
pub fn sunk(ui: &Ui) -> Frame {
    Frame::new()
        .fill(theme::palette(ui).sunk)
        .corner_radius(CornerRadius::same(CARD_CORNER))
        .inner_margin(Margin::same(CARD_ROOM))
}

/// A level's mark and word, as the head of a finding.
pub fn level_head(ui: &mut Ui, level: Level) -> Response {
    const MARK: f32 = 20.0;
    let palette = theme::palette(ui);
    let colour = level.colour(palette);
    let words = ui.painter().layout_no_wrap(level.word().to_owned(), Lettering::SmallStrong.font(), colour);
    let size = Vec2::new(MARK + STEP + words.size().x, MARK.max(words.size().y));
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, ui.is_enabled(), level.word()));
    if ui.is_rect_visible(rect) {
        let mark = Rect::from_min_size(egui::pos2(rect.left(), rect.center().y - MARK / 2.0), Vec2::splat(MARK));
        marks::level(ui.painter(), mark, level, colour);
        let at = egui::pos2(mark.right() + STEP, rect.center().y - words.size().y / 2.0);
        ui.painter().galley(at, words, colour);
    }
    response
}
