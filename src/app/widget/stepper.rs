//! A number with less and more beside it, that can be typed too.

use std::ops::RangeInclusive;

use egui::accesskit::{Action, ActionData, Role};
use egui::text::{CCursor, CCursorRange};
use egui::text_edit::TextEditState;
use egui::{
    Align2, Frame, Id, Key, Margin, Modifiers, Rect, Response, Sense, Stroke, StrokeKind, TextEdit, Ui, Vec2, WidgetInfo, pos2,
    vec2,
};

use crate::app::marks::{self, Icon};
use crate::app::theme::{self, FIELD_CORNER, Lettering, RING, SMALL_STEP, STEP, TALL_TARGET, mix};

use super::field::error_ui;

/// A number between two bounds, with a button for less, a button for more, and a field to type in.
///
/// Typing counts when it is done, with Enter or by going elsewhere, so that one typed number is one
/// change; Escape takes it back. What cannot be read as a number, or lies outside the bounds, is
/// said in words under it and changes nothing. The arrow keys up and down step while typing.
#[must_use = "a stepper is shown with `show`"]
pub struct Stepper<'a> {
    label: &'a str,
    value: &'a mut f64,
    bounds: RangeInclusive<f64>,
    step: f64,
    unit: &'a str,
    width: f32,
    label_hidden: bool,
    read: fn(&str) -> Option<f64>,
    write: fn(f64) -> String,
}

/// What is being typed, kept from frame to frame while it is not yet a number.
#[derive(Clone, Default)]
struct Typing {
    text: Option<String>,
    error: Option<String>,
}

impl<'a> Stepper<'a> {
    /// A stepper for `value`, named by `label`, in whole steps from nought up.
    pub fn new(label: &'a str, value: &'a mut f64) -> Self {
        Self {
            label,
            value,
            bounds: 0.0..=f64::INFINITY,
            step: 1.0,
            unit: "",
            width: 148.0,
            label_hidden: false,
            read: read_number,
            write: write_number,
        }
    }

    /// The least and the most it may be.
    pub fn bounds(mut self, bounds: RangeInclusive<f64>) -> Self {
        self.bounds = bounds;
        self
    }

    /// How much one press changes it.
    pub const fn step(mut self, step: f64) -> Self {
        self.step = step;
        self
    }

    /// The unit shown behind it.
    pub const fn unit(mut self, unit: &'a str) -> Self {
        self.unit = unit;
        self
    }

    /// Its width in points, buttons and all.
    pub const fn width(mut self, width: f32) -> Self {
        self.width = width;
        self
    }

    /// Shows no label over it; a screen reader is still told.
    pub const fn label_hidden(mut self) -> Self {
        self.label_hidden = true;
        self
    }

    /// How it is read and written, where plain numbers will not do (fractions, a clock time).
    pub const fn written(mut self, read: fn(&str) -> Option<f64>, write: fn(f64) -> String) -> Self {
        self.read = read;
        self.write = write;
        self
    }

    /// Shows it. The response is that of the number and is `changed` when the value is.
    pub fn show(self, ui: &mut Ui) -> Response {
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = SMALL_STEP;
            if !self.label_hidden {
                let palette = theme::palette(ui);
                ui.label(Lettering::Small.text(self.label).color(palette.soft));
            }
            self.number_ui(ui)
        })
        .inner
    }

    fn number_ui(mut self, ui: &mut Ui) -> Response {
        let palette = theme::palette(ui);
        let before = *self.value;
        let size = vec2(self.width, TALL_TARGET);
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        let id = ui.make_persistent_id(("stepper", self.label));
        let mut typing: Typing = ui.data(|data| data.get_temp(id)).unwrap_or_default();

        let width = palette.edge_width();
        ui.painter().rect(rect, f32::from(FIELD_CORNER), palette.card, Stroke::new(width, palette.line), StrokeKind::Inside);
        let side = Vec2::splat(TALL_TARGET);
        let less = Rect::from_min_size(rect.min, side);
        let more = Rect::from_min_size(pos2(rect.right() - side.x, rect.top()), side);
        let middle = Rect::from_min_max(less.right_top(), more.left_bottom());

        if self.press_ui(ui, less, Icon::Minus, "less", *self.bounds.start()) {
            self.change_by(-1.0);
            typing = Typing::default();
        }
        let mut response = self.typed_ui(ui, middle, id, &mut typing);
        if self.press_ui(ui, more, Icon::Plus, "more", *self.bounds.end()) {
            self.change_by(1.0);
            typing = Typing::default();
        }
        for x in [less.right(), more.left()] {
            ui.painter().vline(x, rect.shrink(STEP).y_range(), Stroke::new(width, palette.hair));
        }
        let ring = if response.has_focus() {
            Some(Stroke::new(RING, palette.focus))
        } else if typing.error.is_some() {
            Some(Stroke::new(2.0 * width, palette.stop))
        } else {
            None
        };
        if let Some(ring) = ring {
            ui.painter().rect_stroke(rect, f32::from(FIELD_CORNER), ring, StrokeKind::Inside);
        }
        if let Some(error) = &typing.error {
            error_ui(ui, error);
        }
        if *self.value != before {
            response.mark_changed();
        }
        self.tell_screen_reader(ui, &response, typing.error.as_deref());
        ui.data_mut(|data| data.insert_temp(id, typing));
        response
    }

    /// One of the two buttons; whether it was pressed.
    fn press_ui(&self, ui: &mut Ui, rect: Rect, icon: Icon, word: &str, end: f64) -> bool {
        let palette = theme::palette(ui);
        let can = ui.is_enabled() && *self.value != end;
        let id = ui.make_persistent_id(("stepper", self.label, word));
        let sense = if can { Sense::click() } else { Sense::hover() };
        let response = ui.interact(rect, id, sense);
        response.widget_info(|| WidgetInfo::labeled(Role::Button, can, format!("{}, {word}", self.label)));
        let inside = rect.shrink(3.0);
        if can && (response.hovered() || response.has_focus()) {
            let depth = if response.is_pointer_button_down_on() { 1.0 } else { 0.6 };
            let ground = mix(palette.card, palette.sunk, depth);
            ui.painter().rect_filled(inside, 6.0, ground);
        }
        let colour = if can { palette.ink } else { palette.line };
        let drawing = Rect::from_center_size(rect.center(), Vec2::splat(14.0));
        marks::icon(ui.painter(), drawing, icon, colour);
        if response.has_focus() {
            ui.painter().rect_stroke(inside, 6.0, Stroke::new(RING, palette.focus), StrokeKind::Inside);
        }
        response.clicked()
    }

    /// The field in the middle.
    fn typed_ui(&mut self, ui: &mut Ui, rect: Rect, id: Id, typing: &mut Typing) -> Response {
        let palette = theme::palette(ui);
        let field = id.with("text");
        let focused = ui.memory(|memory| memory.has_focus(field));
        if focused {
            let steps = ui.input_mut(|input| {
                input.count_and_consume_key(Modifiers::NONE, Key::ArrowUp) as f64
                    - input.count_and_consume_key(Modifiers::NONE, Key::ArrowDown) as f64
            });
            if steps != 0.0 {
                self.change_by(steps);
                *typing = Typing::default();
            }
        }
        self.obey_screen_reader(ui, field, typing);

        let mut text = match &typing.text {
            Some(text) => text.clone(),
            // The unit stands aside while one types.
            None if focused => (self.write)(*self.value),
            None => self.with_unit(*self.value),
        };
        let edit = TextEdit::singleline(&mut text)
            .id(field)
            .frame(Frame::new().inner_margin(Margin::symmetric(4, 7)))
            .font(Lettering::Strong.style())
            .text_color(palette.ink)
            .align(Align2::CENTER_CENTER)
            .desired_width(rect.width() - 8.0)
            .min_size(rect.size());
        let response = ui.put(rect, edit);

        if response.gained_focus() {
            select_all(ui, field, &(self.write)(*self.value));
        }
        if response.changed() {
            typing.text = Some(text);
            typing.error = None;
        }
        if response.lost_focus() {
            let taken_back = ui.input(|input| input.key_pressed(Key::Escape));
            if taken_back {
                *typing = Typing::default();
            } else if let Some(text) = &typing.text {
                match self.understand(text) {
                    Ok(value) => {
                        *self.value = value;
                        *typing = Typing::default();
                    }
                    Err(error) => typing.error = Some(error),
                }
            }
        }
        response
    }

    fn understand(&self, text: &str) -> Result<f64, String> {
        let bare = text.trim();
        let bare = bare.strip_suffix(self.unit).unwrap_or(bare).trim();
        let Some(value) = (self.read)(bare) else {
            return Err(format!("“{bare}” is not a number; type one like {}.", self.example()));
        };
        let (least, most) = (*self.bounds.start(), *self.bounds.end());
        if value < least {
            Err(format!("The least is {}.", self.with_unit(least)))
        } else if value > most {
            Err(format!("The most is {}.", self.with_unit(most)))
        } else {
            Ok(value)
        }
    }

    fn example(&self) -> String {
        self.with_unit(*self.value)
    }

    fn with_unit(&self, value: f64) -> String {
        let number = (self.write)(value);
        if self.unit.is_empty() { number } else { format!("{number}\u{a0}{}", self.unit) }
    }

    fn change_by(&mut self, steps: f64) {
        self.set_within(*self.value + steps * self.step);
    }

    /// Sets the value, moved into its bounds; the least wins where the bounds contradict.
    fn set_within(&mut self, wanted: f64) {
        *self.value = wanted.min(*self.bounds.end()).max(*self.bounds.start());
    }

    fn obey_screen_reader(&mut self, ui: &Ui, field: Id, typing: &mut Typing) {
        let (steps, set) = ui.input(|input| {
            let steps = input.num_accesskit_action_requests(field, Action::Increment) as f64
                - input.num_accesskit_action_requests(field, Action::Decrement) as f64;
            let set = input
                .accesskit_action_requests(field, Action::SetValue)
                .filter_map(|request| match request.data {
                    Some(ActionData::NumericValue(value)) => Some(value),
                    _ => None,
                })
                .last();
            (steps, set)
        });
        if let Some(value) = set {
            self.set_within(value);
            *typing = Typing::default();
        }
        if steps != 0.0 {
            self.change_by(steps);
            *typing = Typing::default();
        }
    }

    fn tell_screen_reader(&self, ui: &Ui, response: &Response, error: Option<&str>) {
        let (least, most) = (*self.bounds.start(), *self.bounds.end());
        let written = self.with_unit(*self.value);
        // Asked before: inside the closure below the context is locked.
        let focused = response.has_focus();
        ui.ctx().accesskit_node_builder(response.id, |node| {
            node.set_role(Role::SpinButton);
            node.set_label(self.label);
            node.set_numeric_value(*self.value);
            node.set_numeric_value_step(self.step);
            if least.is_finite() {
                node.set_min_numeric_value(least);
            }
            if most.is_finite() {
                node.set_max_numeric_value(most);
            }
            node.add_action(Action::SetValue);
            if *self.value < most {
                node.add_action(Action::Increment);
            }
            if *self.value > least {
                node.add_action(Action::Decrement);
            }
            if !focused {
                node.set_value(written);
            }
            if let Some(error) = error {
                node.set_invalid(egui::accesskit::Invalid::True);
                node.set_description(error);
            }
        });
    }
}

/// Chooses the whole text, so that the first key replaces it.
fn select_all(ui: &Ui, field: Id, text: &str) {
    let mut state = TextEditState::load(ui.ctx(), field).unwrap_or_default();
    state.cursor.set_char_range(Some(CCursorRange::two(CCursor::new(0), CCursor::new(text.chars().count()))));
    state.store(ui.ctx(), field);
}

/// Reads a number as people type it: `1,500` and `1 500` are fifteen hundred, `1,5` and `1.5` one
/// and a half. A comma before exactly three last digits parts thousands.
fn read_number(text: &str) -> Option<f64> {
    let bare: String = text.chars().filter(|c| !c.is_whitespace()).map(|c| if c == '−' { '-' } else { c }).collect();
    let bare = match bare.rsplit_once(',') {
        Some((whole, last)) if last.len() == 3 && !whole.is_empty() && !bare.contains('.') => {
            format!("{}{last}", whole.replace(',', ""))
        }
        Some((whole, last)) if last.contains('.') => format!("{}{last}", whole.replace(',', "")),
        Some((whole, last)) if !whole.contains(',') => format!("{whole}.{last}"),
        Some(_) => return None,
        None => bare,
    };
    // "inf" and "nan" are numbers to the language, not to a cook.
    let plain = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+');
    if bare.chars().all(plain) { bare.parse().ok() } else { None }
}

/// Writes a number with at most two decimals and commas between thousands.
fn write_number(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    let plain = format!("{rounded}");
    let (sign, plain) = match plain.strip_prefix('-') {
        Some(rest) => ("−", rest),
        None => ("", plain.as_str()),
    };
    let (whole, decimals) = match plain.split_once('.') {
        Some((whole, decimals)) => (whole, format!(".{decimals}")),
        None => (plain, String::new()),
    };
    let mut grouped = String::new();
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index) % 3 == 0 {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    format!("{sign}{grouped}{decimals}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_people_type_them() {
        for (typed, meant) in [
            ("520", Some(520.0)),
            ("1,500", Some(1500.0)),
            ("1 500", Some(1500.0)),
            ("12,345,678", Some(12_345_678.0)),
            ("1,5", Some(1.5)),
            ("1.5", Some(1.5)),
            ("1,500.5", Some(1500.5)),
            ("a pinch", None),
            ("inf", None),
            ("", None),
            ("1,2,3", None),
        ] {
            assert_eq!(read_number(typed), meant, "{typed:?}");
        }
    }

    #[test]
    fn what_is_written_is_read_back() {
        for value in [-3.0, 0.0, 7.0, 52.5, 999.0, 1000.0, 1500.0, 1_234_567.25] {
            let written = write_number(value);
            assert_eq!(read_number(&written), Some(value), "{written}");
        }
        assert_eq!(write_number(1500.0), "1,500");
    }
}
