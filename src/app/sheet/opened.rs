//! The day the piece's clock started: on the sheet of the piece and on that of the days.

use super::{asking::Asking, dates::long_date, parts};
use crate::{
    app::{
        action::Action,
        marks::Icon,
        theme::{self, Lettering},
        view::View,
        widget::IconButton,
    },
    quantity::{DayNo, Days},
    rotation::{Edit, PieceEdit, capital},
};
use egui::Ui;

/// The earliest day that can be set here: two months before the window, longer than any opened piece keeps.
const EARLIEST: DayNo = DayNo(-60);

/// The day, with what was refused last.
#[derive(Default)]
pub(super) struct Opened {
    asking: Asking<()>,
}

impl Opened {
    /// Shows the day with a step to either side.
    pub fn show(&mut self, ui: &mut Ui, view: &View<'_>, actions: &mut Vec<Action>) {
        let palette = theme::palette(ui);
        let day = view.rotation.piece.opened;
        let started = capital(&view.rotation.kind.clock_starts);
        parts::quiet(ui, format!("{started} on"));
        ui.horizontal(|ui| {
            let earlier = format!("{started} a day earlier");
            if ui.add(IconButton::new(Icon::ArrowLeft, &earlier).framed().side(theme::TALL_TARGET)).clicked() && day > EARLIEST {
                self.ask(view, day.plus(Days(-1)), actions);
            }
            ui.label(Lettering::Strong.text(self::words(view, day)).color(palette.ink));
            let later = format!("{started} a day later");
            if ui.add(IconButton::new(Icon::ArrowRight, &later).framed().side(theme::TALL_TARGET)).clicked() {
                self.ask(view, day.plus(Days(1)), actions);
            }
        });
        self.asking.say(ui, view, &());
    }

    fn ask(&mut self, view: &View<'_>, day: DayNo, actions: &mut Vec<Action>) {
        self.asking.ask(view, (), Edit::Piece(PieceEdit::Opened(day)), actions);
    }
}

/// "Monday 7 December, the first day".
fn words(view: &View<'_>, day: DayNo) -> String {
    let date = long_date(view.rotation.date(day));
    match day.0 {
        1 => format!("{date}, the first day"),
        0 => format!("{date}, the day before"),
        n if n < 0 => format!("{date}, {} days before", 1 - i32::from(n)),
        n => format!("{date}, day {n}"),
    }
}
