//! The frame of every sheet: a card at the right over a dimmed bench, with a title, a way out and, where it needs one, a foot.

use crate::app::{
    action::Action,
    marks::Icon,
    theme::{self, Lettering, STEP},
    widget::IconButton,
};
use egui::{
    Align, Area, Color32, Context, FocusDirection, Frame, Id, Key, KeyboardShortcut, Layout, Margin, Modal, Modifiers, Panel,
    Rect, ScrollArea, Shadow, Stroke, Ui, UiBuilder, pos2, vec2,
};

/// Room between the sheet's edge and what is on it, in points.
const ROOM: i8 = 24;

/// What stands at the head of a sheet.
pub(super) struct Head<'a> {
    /// The title.
    pub title: &'a str,
    /// A quiet line under it.
    pub under: &'a str,
    /// What the sheet is called in "Close the ... sheet".
    pub name: &'a str,
    /// How wide the sheet would like to be, in points.
    pub width: f32,
    /// Whether it changes the plan at once, so that undo belongs on it.
    pub edits: bool,
    /// Whether something typed would be lost: then a click beside the sheet does not close it.
    pub holds_answers: bool,
    /// Whether there is something to fill in, where the keyboard goes first.
    pub fills_in: bool,
}

/// Where the keyboard came from and where it was last, and how high the foot is.
#[derive(Default)]
pub(super) struct Keyboard {
    foot: f32,
    entered: bool,
    came_from: Option<Id>,
    leaving: Leaving,
    last: Option<Id>,
}

/// How far a sheet has gone.
#[derive(Clone, Copy, Default, PartialEq, Eq)]
enum Leaving {
    #[default]
    Stays,
    /// The person is done with it.
    Asked,
    /// It is drawn once more, so that a field can hand on what was typed into it.
    LastLook,
}

const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
const REDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);

/// Draws a sheet around `body`, with `foot` always in sight below it; asks to close when the person is done.
pub(super) fn show<T>(
    ctx: &Context,
    head: &Head<'_>,
    keyboard: &mut Keyboard,
    state: &mut T,
    actions: &mut Vec<Action>,
    body: impl FnOnce(&mut Ui, &mut T, &mut Vec<Action>),
    foot: Option<impl FnOnce(&mut Ui, &mut T, &mut Vec<Action>)>,
) {
    let palette = theme::palette_in(ctx);
    let screen = ctx.content_rect();
    let width = head.width.min(screen.width() - 32.0);
    let place = Rect::from_min_max(pos2(screen.right() - width, screen.top()), screen.max);
    let area: Area = Modal::default_area(Id::unique("sheet"))
        .anchor(egui::Align2::LEFT_TOP, vec2(place.left() - screen.left(), 0.0))
        .constrain(false)
        .fade_in(false)
        .accessible_name(head.title);
    let dim = if palette.dark { Color32::from_black_alpha(110) } else { Color32::from_rgba_unmultiplied(42, 37, 31, 48) };
    let frame = Frame::new().fill(palette.card).shadow(Shadow {
        offset: [-4, 0],
        blur: 28,
        spread: 0,
        color: Color32::from_black_alpha(if palette.high_contrast { 0 } else { 40 }),
    });
    let mut close = false;
    let mut wants_undo = false;
    let shown = Modal::new(Id::unique("sheet")).area(area).frame(frame).backdrop_color(dim).show(ctx, |ui| {
        ui.set_min_size(place.size());
        ui.set_max_size(place.size());
        ui.painter().vline(place.left() + 0.5, place.y_range(), Stroke::new(palette.edge_width(), palette.line));
        if !head.fills_in {
            keyboard.enter(ui);
        }
        Panel::top("sheet head").frame(Frame::new().inner_margin(Margin { left: ROOM, right: ROOM, top: 20, bottom: 12 })).show(
            ui,
            |ui| {
                ui.horizontal(|ui| {
                    ui.vertical(|ui| {
                        ui.spacing_mut().item_spacing.y = 0.0;
                        ui.set_max_width(ui.available_width() - 3.0 * 36.0);
                        ui.label(Lettering::Title.text(head.title).color(palette.ink));
                        ui.label(Lettering::Small.text(head.under).color(palette.soft));
                    });
                    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                        let name = format!("Close the {} sheet", head.name);
                        close |= ui.add(IconButton::new(Icon::Close, &name).hint("Close (Esc)").side(32.0)).clicked();
                        if head.edits {
                            let undo = IconButton::new(Icon::Undo, "Undo the last change").hint("Undo the last change (Ctrl+Z)");
                            wants_undo |= ui.add(undo.side(32.0)).clicked();
                        }
                    });
                });
            },
        );
        if head.fills_in {
            keyboard.enter(ui);
        }
        // The foot stands at the bottom but comes after the body for the keyboard, so its height is that of the frame before.
        let rest = ui.available_rect_before_wrap();
        let above = if foot.is_some() { keyboard.foot } else { 0.0 };
        let middle = Rect::from_min_max(rest.min, pos2(rest.right(), (rest.bottom() - above).max(rest.top())));
        ui.scope_builder(UiBuilder::new().max_rect(middle), |ui| {
            ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
                Frame::new().inner_margin(Margin { left: ROOM, right: ROOM, top: 16, bottom: 24 }).show(ui, |ui| {
                    ui.set_max_width(width - 2.0 * f32::from(ROOM));
                    body(ui, state, actions);
                    keyboard.keep_in_sight(ui);
                });
            });
        });
        if let Some(foot) = foot {
            let bottom = Rect::from_min_max(pos2(rest.left(), middle.bottom()), rest.max);
            let line = Stroke::new(palette.edge_width(), palette.hair);
            ui.painter().hline(place.x_range(), bottom.top(), line);
            let margin = Margin { left: ROOM, right: ROOM, top: 14, bottom: 18 };
            let drawn = ui.scope_builder(UiBuilder::new().max_rect(bottom), |ui| {
                Frame::new().inner_margin(margin).show(ui, |ui| foot(ui, state, actions)).response.rect.height()
            });
            if (drawn.inner - keyboard.foot).abs() > 0.5 {
                keyboard.foot = drawn.inner;
                ctx.request_repaint();
            }
        }
    });
    if head.edits && !ctx.text_edit_focused() {
        ctx.input_mut(|input| {
            if input.consume_shortcut(&REDO) || input.consume_shortcut(&REDO_TOO) {
                actions.push(Action::Redo);
            } else if input.consume_shortcut(&UNDO) {
                wants_undo = true;
            }
        });
    }
    if wants_undo {
        actions.push(Action::Undo);
    }
    let beside = shown.backdrop_response.clicked();
    let escape = shown.is_top_modal && !shown.any_popup_open && ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape));
    if close || escape || (beside && !head.holds_answers) {
        keyboard.leave(ctx);
    }
}

impl Keyboard {
    /// Takes the keyboard from wherever it was to the next thing that is drawn, once.
    fn enter(&mut self, ui: &Ui) {
        // While the sheet is only measured nothing on it can take the keyboard.
        if self.entered || ui.is_sizing_pass() {
            return;
        }
        self.entered = true;
        ui.memory_mut(|memory| {
            self.came_from = memory.focused();
            memory.stop_text_input();
            memory.move_focus(FocusDirection::Next);
        });
    }

    /// The person is done: the sheet goes with the next frame.
    pub(super) fn leave(&mut self, ctx: &Context) {
        if self.leaving == Leaving::Stays {
            self.leaving = Leaving::Asked;
        }
        ctx.request_repaint();
    }

    /// Whether the sheet is to go now; gives the keyboard back to where it was before the sheet came.
    ///
    /// What lies under a sheet cannot take the keyboard while the sheet was there in the frame before, hence the frame between.
    pub(super) fn leaves(&mut self, ctx: &Context) -> bool {
        match self.leaving {
            Leaving::Stays => false,
            Leaving::Asked if ctx.text_edit_focused() => {
                self.leaving = Leaving::LastLook;
                ctx.memory_mut(|memory| memory.stop_text_input());
                ctx.request_repaint();
                false
            }
            Leaving::Asked | Leaving::LastLook => {
                match self.came_from {
                    Some(id) => ctx.memory_mut(|memory| memory.request_focus(id)),
                    None => ctx.memory_mut(|memory| memory.stop_text_input()),
                }
                true
            }
        }
    }

    /// Scrolls what the keyboard has come to into sight.
    fn keep_in_sight(&mut self, ui: &Ui) {
        let now = ui.memory(|memory| memory.focused());
        if now == self.last {
            return;
        }
        self.last = now;
        if let Some(response) = now.and_then(|id| ui.ctx().read_response(id))
            && response.layer_id == ui.layer_id()
            && ui.min_rect().contains(response.rect.center())
        {
            ui.scroll_to_rect(response.rect.expand(STEP), None);
        }
    }
}
