//! Every sheet over the bench of a worked week, to be looked at.
//!
//! `cargo run -p tranche-window-tests --example sheets -- SHEET [light|dark|contrast|contrast-dark] [WIDTH HEIGHT] [us]`
//! where SHEET is piece, household, days, start, shape, about or keys.

use eframe::egui;
use std::sync::Arc;
use tranche::{
    app::{
        Desk, SettingChange,
        action::Action,
        sheet::{self, OpenSheet, Sheet},
        theme::Look,
        view::View,
    },
    book::Book,
    judge::judge,
    quantity::System,
    rotation::Template,
};
use tranche_window_tests::week;

fn main() -> eframe::Result {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let which = match words.first().map(String::as_str) {
        Some("household") => Sheet::Household,
        Some("days") => Sheet::Days,
        Some("start") => Sheet::Start,
        Some("shape") => Sheet::Shape,
        Some("about") => Sheet::About,
        Some("keys") => Sheet::Keys,
        _ => Sheet::Piece,
    };
    let look = match words.get(1).map(String::as_str) {
        Some("dark") => Look::Dark,
        Some("contrast") => Look::HighContrastLight,
        Some("contrast-dark") => Look::HighContrastDark,
        _ => Look::Light,
    };
    let size: Vec<f32> = words.iter().skip(2).filter_map(|w| w.parse().ok()).collect();
    let size = if let [width, height] = size[..] { [width, height] } else { [1440.0, 900.0] };
    let us = words.iter().any(|w| w == "us");
    let options =
        eframe::NativeOptions { viewport: egui::ViewportBuilder::default().with_inner_size(size), ..Default::default() };
    eframe::run_native(
        "Sheets",
        options,
        Box::new(move |cc| {
            let ctx = &cc.egui_ctx;
            let mut desk = Desk::new(week("red-cabbage-mended"), Arc::new(Book::shipped().expect("the shipped book reads")));
            desk.perform(Action::Setting(SettingChange::Look(look)), ctx);
            if us {
                desk.perform(Action::Setting(SettingChange::System(System::Us)), ctx);
            }
            desk.dress(ctx);
            let shape = (which == Sheet::Shape).then(|| Shape::of(&desk));
            if shape.is_none() {
                desk.perform(Action::Open(which), ctx);
            }
            Ok(Box::new(Window { desk, shape }))
        }),
    )
}

struct Window {
    desk: Desk,
    shape: Option<Shape>,
}

/// The sheet of a shape, opened without a file: the week's own shape.
struct Shape {
    open: OpenSheet,
    book: Arc<Book>,
}

impl Shape {
    fn of(desk: &Desk) -> Shape {
        let book = Arc::new(Book::shipped().expect("the shipped book reads"));
        let template = Template::of(desk.rotation());
        Shape { open: OpenSheet::new(Sheet::Shape, desk.rotation()).with_template(Arc::new(template)), book }
    }
}

impl eframe::App for Window {
    fn ui(&mut self, ui: &mut egui::Ui, _: &mut eframe::Frame) {
        self.desk.logic(ui.ctx());
        self.desk.ui(ui);
        let Some(shape) = &mut self.shape else { return };
        let judged = judge(self.desk.rotation());
        let view = View {
            rotation: self.desk.rotation(),
            revision: self.desk.history().revision(),
            judged: &judged,
            mends: &[],
            book: &shape.book,
            system: self.desk.settings().system,
            hearth: self.desk.hearth(),
            who: None,
            table: None,
            clocks: &[],
        };
        let mut actions = Vec::new();
        sheet::ui(ui.ctx(), &view, &mut shape.open, &mut actions);
        for action in actions {
            if matches!(action, Action::CloseSheet) {
                self.shape = None;
            }
            self.desk.perform(action, ui.ctx());
        }
    }
}
