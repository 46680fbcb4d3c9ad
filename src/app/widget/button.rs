//! Buttons: the one that matters, quiet ones, mends, tabs, and drawings one can press.

use egui::{
    Color32, Rect, Response, Role, Sense, Stroke, StrokeKind, TextWrapMode, Ui, Vec2, Widget, WidgetInfo, WidgetText, pos2, vec2,
};

use crate::app::marks::{self, Icon};
use crate::app::theme::{self, FIELD_CORNER, Lettering, Palette, STEP, TALL_TARGET, TARGET, mix};

use super::focus_ring;

#[derive(Clone, Copy, PartialEq, Eq)]
enum Manner {
    Primary,
    Quiet,
    Mend,
    Plain,
    Tab,
}

/// A button with words on it.
#[must_use = "a button is shown with `ui.add`"]
pub struct Button<'a> {
    words: &'a str,
    manner: Manner,
    detail: Option<&'a str>,
    icon: Option<Icon>,
    name: Option<&'a str>,
    selected: Option<bool>,
    fill_width: bool,
}

impl<'a> Button<'a> {
    const fn new(words: &'a str, manner: Manner) -> Self {
        Self { words, manner, detail: None, icon: None, name: None, selected: None, fill_width: false }
    }

    /// The one button of a view that matters most.
    pub const fn primary(words: &'a str) -> Self {
        Self::new(words, Manner::Primary)
    }

    /// Any other button.
    pub const fn quiet(words: &'a str) -> Self {
        Self::new(words, Manner::Quiet)
    }

    /// A mend of a finding, 34 points high; [`detail`](Self::detail) says what it changes.
    pub const fn mend(words: &'a str) -> Self {
        Self::new(words, Manner::Mend)
    }

    /// Words that can be pressed, with no edge until the hand is over them.
    pub const fn plain(words: &'a str) -> Self {
        Self::new(words, Manner::Plain)
    }

    /// One of a row of views, underlined while it is the one shown.
    pub const fn tab(words: &'a str, selected: bool) -> Self {
        let mut tab = Self::new(words, Manner::Tab);
        tab.selected = Some(selected);
        tab
    }

    /// A second, quieter line: what pressing it changes.
    pub const fn detail(mut self, detail: &'a str) -> Self {
        self.detail = Some(detail);
        self
    }

    /// A drawing before the words.
    pub const fn icon(mut self, icon: Icon) -> Self {
        self.icon = Some(icon);
        self
    }

    /// What a screen reader says instead of the bare words.
    pub const fn name(mut self, name: &'a str) -> Self {
        self.name = Some(name);
        self
    }

    /// Marks it as one that stays pressed, and whether it is.
    pub const fn selected(mut self, selected: bool) -> Self {
        self.selected = Some(selected);
        self
    }

    /// As wide as the room there is.
    pub const fn fill_width(mut self) -> Self {
        self.fill_width = true;
        self
    }

    fn height(&self) -> f32 {
        match self.manner {
            Manner::Primary | Manner::Quiet | Manner::Mend => TALL_TARGET,
            Manner::Plain | Manner::Tab => TARGET,
        }
    }

    fn room(&self) -> f32 {
        match self.manner {
            Manner::Primary | Manner::Quiet | Manner::Mend => 14.0,
            Manner::Plain | Manner::Tab => STEP,
        }
    }

    fn lettering(&self) -> Lettering {
        match self.manner {
            Manner::Mend => Lettering::SmallStrong,
            // A tab is measured as if chosen, so that choosing it moves nothing.
            Manner::Primary | Manner::Tab => Lettering::Strong,
            Manner::Quiet | Manner::Plain => Lettering::Body,
        }
    }
}

/// Ground, edge and text of a button in its present state.
struct Dress {
    ground: Color32,
    edge: Stroke,
    ink: Color32,
}

fn dress(palette: &Palette, manner: Manner, selected: bool, response: &Response) -> Dress {
    let pressed = response.is_pointer_button_down_on();
    let depth = match (pressed, response.hovered()) {
        (true, _) => 2.0,
        (false, true) => 1.0,
        (false, false) => 0.0,
    };
    let width = palette.edge_width();
    match manner {
        Manner::Primary => {
            let ground = mix(palette.accent, palette.ink, 0.12 * depth);
            Dress { ground, edge: Stroke::NONE, ink: palette.text_on(ground) }
        }
        Manner::Quiet | Manner::Mend => {
            let rest = if manner == Manner::Mend { palette.paper } else { palette.card };
            let ground = if selected { palette.piece_tint(palette.accent) } else { mix(rest, palette.sunk, 0.5 * depth) };
            let colour = if selected {
                palette.accent
            } else if depth > 0.0 {
                palette.ink
            } else {
                palette.line
            };
            Dress { ground, edge: Stroke::new(width, colour), ink: palette.ink }
        }
        Manner::Plain | Manner::Tab => Dress {
            ground: if depth > 0.0 { mix(palette.paper, palette.sunk, 0.5 * depth) } else { Color32::TRANSPARENT },
            edge: Stroke::NONE,
            ink: if selected || depth > 0.0 || manner == Manner::Plain { palette.ink } else { palette.soft },
        },
    }
}

impl Widget for Button<'_> {
    fn ui(self, ui: &mut Ui) -> Response {
        const ICON: f32 = 16.0;
        const LEAST_LINE: f32 = 112.0;
        let palette = theme::palette(ui);
        let before = self.icon.map_or(0.0, |_| ICON + STEP);
        let room = self.room();
        // Only mends are long enough to be broken, and never inside a word.
        let wrap = if self.manner == Manner::Mend { TextWrapMode::Wrap } else { TextWrapMode::Extend };
        let most = (ui.available_width() - 2.0 * room - before).max(LEAST_LINE);
        let lay = |ui: &Ui, lettering: Lettering, words: &str| {
            WidgetText::from(lettering.text(words)).into_galley(ui, Some(wrap), most, lettering.style())
        };
        let words = lay(ui, self.lettering(), self.words);
        let detail = self.detail.map(|detail| lay(ui, Lettering::Small, detail));
        let text = detail
            .as_ref()
            .map_or(words.size(), |detail| vec2(words.size().x.max(detail.size().x), words.size().y + 2.0 + detail.size().y));
        let mut size = vec2(text.x + before + 2.0 * room, (text.y + 2.0 * STEP).max(self.height()));
        if text.y + STEP <= self.height() {
            size.y = self.height();
        }
        if self.fill_width {
            size.x = size.x.max(ui.available_width());
        }

        let (rect, response) = ui.allocate_exact_size(size, Sense::click());

        response.widget_info(|| {
            let name = self.name.unwrap_or(self.words);
            match self.selected {
                Some(selected) => WidgetInfo::selected(Role::Button, ui.is_enabled(), selected, name),
                None => WidgetInfo::labeled(Role::Button, ui.is_enabled(), name),
            }
        });

        if ui.is_rect_visible(rect) {
            let selected = self.selected.unwrap_or(false);
            let dress = dress(palette, self.manner, selected, &response);
            let painter = ui.painter();
            painter.rect(rect, f32::from(FIELD_CORNER), dress.ground, dress.edge, StrokeKind::Inside);
            let centred = !self.fill_width && self.detail.is_none();
            let left = if centred { rect.center().x - (text.x + before) / 2.0 } else { rect.left() + room };
            if let Some(icon) = self.icon {
                let middle = pos2(left + ICON / 2.0, rect.center().y);
                marks::icon(painter, Rect::from_center_size(middle, Vec2::splat(ICON)), icon, dress.ink);
            }
            let at = pos2(left + before, rect.center().y - text.y / 2.0);
            let under = at + vec2(0.0, words.size().y + 2.0);
            if self.manner == Manner::Tab {
                paint_tab_words(ui, rect, &self, dress.ink, selected);
            } else {
                painter.galley(at, words, dress.ink);
            }
            if let Some(detail) = detail {
                painter.galley(under, detail, palette.soft);
            }
            focus_ring(ui, &response, FIELD_CORNER);
        }
        response
    }
}

/// A tab's words, heavier and underlined while it is the one shown.
fn paint_tab_words(ui: &Ui, rect: Rect, tab: &Button<'_>, ink: Color32, selected: bool) {
    let lettering = if selected { Lettering::Strong } else { Lettering::Body };
    let painter = ui.painter();
    painter.text(rect.center(), egui::Align2::CENTER_CENTER, tab.words, lettering.font(), ink);
    if selected {
        let line = Rect::from_min_max(pos2(rect.left() + STEP, rect.bottom()), pos2(rect.right() - STEP, rect.bottom() + 3.0));
        painter.rect_filled(line, 1.5, theme::palette(ui).accent);
    }
}

/// A drawing one can press, at least 28 points square, with a name for a screen reader and a
/// pointer that rests on it.
#[must_use = "a button is shown with `ui.add`"]
pub struct IconButton<'a> {
    icon: Icon,
    name: &'a str,
    hint: Option<&'a str>,
    side: f32,
    selected: Option<bool>,
    framed: bool,
}

impl<'a> IconButton<'a> {
    /// A button with only a drawing on it. `name` says what it does ("Undo move slaw").
    pub const fn new(icon: Icon, name: &'a str) -> Self {
        Self { icon, name, hint: None, side: TARGET, selected: None, framed: false }
    }

    /// What the tooltip says instead of the name, with the keys for example.
    pub const fn hint(mut self, hint: &'a str) -> Self {
        self.hint = Some(hint);
        self
    }

    /// Its side in points; never under 28.
    pub const fn side(mut self, side: f32) -> Self {
        self.side = if side < TARGET { TARGET } else { side };
        self
    }

    /// Marks it as one that stays pressed, and whether it is.
    pub const fn selected(mut self, selected: bool) -> Self {
        self.selected = Some(selected);
        self
    }

    /// Gives it an edge at rest.
    pub const fn framed(mut self) -> Self {
        self.framed = true;
        self
    }
}

impl Widget for IconButton<'_> {
    fn ui(self, ui: &mut Ui) -> Response {
        let palette = theme::palette(ui);
        let (rect, response) = ui.allocate_exact_size(Vec2::splat(self.side), Sense::click());
        response.widget_info(|| match self.selected {
            Some(selected) => WidgetInfo::selected(Role::Button, ui.is_enabled(), selected, self.name),
            None => WidgetInfo::labeled(Role::Button, ui.is_enabled(), self.name),
        });
        if ui.is_rect_visible(rect) {
            let manner = if self.framed { Manner::Quiet } else { Manner::Plain };
            let selected = self.selected.unwrap_or(false);
            let dress = dress(palette, manner, selected, &response);
            let ground = if selected { palette.piece_tint(palette.accent) } else { dress.ground };
            ui.painter().rect(rect, f32::from(FIELD_CORNER), ground, dress.edge, StrokeKind::Inside);
            let drawing = Rect::from_center_size(rect.center(), Vec2::splat(16.0));
            marks::icon(ui.painter(), drawing, self.icon, dress.ink);
            focus_ring(ui, &response, FIELD_CORNER);
        }
        response.on_hover_text(self.hint.unwrap_or(self.name))
    }
}
