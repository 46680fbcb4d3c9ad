//! A line or a few lines of text to fill in, with its label, and its error in words beside it.

use egui::{Align2, CursorIcon, Frame, Margin, Rect, Response, Stroke, StrokeKind, TextEdit, Ui, Vec2, pos2, vec2};

use crate::app::marks::{self, Icon, Level};
use crate::app::theme::{self, FIELD_CORNER, Lettering, RING, SMALL_STEP, STEP, TALL_TARGET};

/// A text field with a label over it.
///
/// When something is wrong the field says what, in words, to its right where there is room and
/// under it where there is none; the frame turns heavy too, but never only that.
#[must_use = "a field is shown with `show`"]
pub struct Field<'a> {
    label: &'a str,
    text: &'a mut String,
    hint: &'a str,
    error: Option<&'a str>,
    icon: Option<Icon>,
    label_hidden: bool,
    name: Option<&'a str>,
    width: f32,
    rows: usize,
}

impl<'a> Field<'a> {
    /// A field for `text`, named by `label`.
    pub const fn new(label: &'a str, text: &'a mut String) -> Self {
        Self { label, text, hint: "", error: None, icon: None, label_hidden: false, name: None, width: 240.0, rows: 1 }
    }

    /// Quiet words shown while it is empty.
    pub const fn hint(mut self, hint: &'a str) -> Self {
        self.hint = hint;
        self
    }

    /// What is wrong with it and what to do, in one sentence; `None` when all is well.
    pub const fn error(mut self, error: Option<&'a str>) -> Self {
        self.error = error;
        self
    }

    /// A drawing at its beginning, a looking glass for example.
    pub const fn icon(mut self, icon: Icon) -> Self {
        self.icon = Some(icon);
        self
    }

    /// Shows no label over it; a screen reader is still told.
    pub const fn label_hidden(mut self) -> Self {
        self.label_hidden = true;
        self
    }

    /// What a screen reader says instead of the bare label, where several fields have the same one.
    pub const fn name(mut self, name: &'a str) -> Self {
        self.name = Some(name);
        self
    }

    /// Its width in points, [`f32::INFINITY`] for all there is.
    pub const fn width(mut self, width: f32) -> Self {
        self.width = width;
        self
    }

    /// How many lines are shown; more than one makes it a field of several lines.
    pub const fn rows(mut self, rows: usize) -> Self {
        self.rows = rows;
        self
    }

    /// Shows it; the response is that of the text itself.
    pub fn show(self, ui: &mut Ui) -> Response {
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = SMALL_STEP;
            let label = (!self.label_hidden).then(|| {
                let palette = theme::palette(ui);
                ui.label(Lettering::Small.text(self.label).color(palette.soft))
            });
            let (label, name) = (label.filter(|_| self.name.is_none()), self.name.unwrap_or(self.label));
            let error = self.error;
            let response = self.text_ui(ui);
            let response = match label {
                Some(label) => response.labelled_by(label.id),
                None => response.accessible_name(name),
            };
            if let Some(error) = error {
                ui.ctx().accesskit_node_builder(response.id, |node| {
                    node.set_invalid(egui::accesskit::Invalid::True);
                    node.set_description(error);
                });
            }
            response
        })
        .inner
    }

    fn text_ui(self, ui: &mut Ui) -> Response {
        const ICON: f32 = 16.0;
        let palette = theme::palette(ui);
        let whole = ui.available_width();
        let width = self.width.min(whole);
        // Fixed before the error finds its place, so that typing goes on when one appears.
        let id = ui.auto_id_with("text");
        let before = self.icon.map_or(0.0, |_| ICON + STEP);
        let (side, above) = (12.0, 7.0);
        let frame = Frame::new().fill(palette.card).corner_radius(f32::from(FIELD_CORNER)).inner_margin(Margin {
            // Both are small whole numbers of points.
            left: (side + before) as i8,
            right: side as i8,
            top: above as i8,
            bottom: above as i8,
        });
        let edit = if self.rows > 1 {
            TextEdit::multiline(self.text).desired_rows(self.rows)
        } else {
            TextEdit::singleline(self.text).align(Align2::LEFT_CENTER)
        };
        let edit = edit
            .id(id)
            .frame(frame)
            .font(Lettering::Body.style())
            .text_color(palette.ink)
            .hint_text(Lettering::Small.text(self.hint).color(palette.soft))
            .desired_width(width)
            .min_size(vec2(0.0, TALL_TARGET));

        let add = |ui: &mut Ui| {
            let response = ui.add(edit).on_hover_cursor(CursorIcon::Text);
            paint_field_edge(ui, &response, self.error.is_some());
            if let Some(icon) = self.icon {
                let middle = pos2(response.rect.left() + side + ICON / 2.0, response.rect.top() + TALL_TARGET / 2.0);
                let place = Rect::from_center_size(middle, Vec2::splat(ICON));
                marks::icon(ui.painter(), place, icon, palette.soft);
            }
            response
        };
        match self.error {
            None => add(ui),
            Some(error) if whole - width >= error_width(ui, error) => {
                ui.horizontal(|ui| {
                    let response = add(ui);
                    ui.vertical(|ui| {
                        ui.spacing_mut().item_spacing.y = 0.0;
                        ui.add_space((TALL_TARGET - ERROR_MARK) / 2.0);
                        error_ui(ui, error);
                    });
                    response
                })
                .inner
            }
            Some(error) => {
                let response = add(ui);
                error_ui(ui, error);
                response
            }
        }
    }
}

/// Side of the mark before an error, in points.
const ERROR_MARK: f32 = 16.0;

fn error_width(ui: &Ui, error: &str) -> f32 {
    let words = ui.painter().layout_no_wrap(error.to_owned(), Lettering::Small.font(), theme::palette(ui).stop);
    words.size().x + ERROR_MARK + 3.0 * STEP
}

/// One sentence about what is wrong, with its mark.
pub(super) fn error_ui(ui: &mut Ui, error: &str) {
    let colour = theme::palette(ui).stop;
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 6.0;
        let (place, _) = ui.allocate_exact_size(Vec2::splat(ERROR_MARK), egui::Sense::hover());
        marks::level(ui.painter(), place, Level::Stop, colour);
        ui.add(egui::Label::new(Lettering::Small.text(error).color(colour)).wrap());
    });
}

/// The edge of anything one types into.
pub(super) fn paint_field_edge(ui: &Ui, response: &Response, wrong: bool) {
    let palette = theme::palette(ui);
    let width = palette.edge_width();
    let line = if response.has_focus() {
        Stroke::new(RING, palette.focus)
    } else if wrong {
        Stroke::new(2.0 * width, palette.stop)
    } else if response.hovered() {
        Stroke::new(width, palette.ink)
    } else {
        Stroke::new(width, palette.line)
    };
    ui.painter().rect_stroke(response.rect, f32::from(FIELD_CORNER), line, StrokeKind::Inside);
}
