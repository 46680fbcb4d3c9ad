//! Every sheet over a pale stand-in for the bench, to be looked at.
//!
//! `cargo run -p tranche-window-tests --example sheets -- SHEET [light|dark|contrast|contrast-dark] [WIDTH HEIGHT] [us]`
//! where SHEET is piece, household, days, start, shape, about or keys.

use eframe::egui;
use tranche::app::{
    sheet::Sheet,
    theme::{self, Look},
};
use tranche_window_tests::sheet_desk::{self, SheetDesk};

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
    let mut desk = SheetDesk::new(sheet_desk::plan(), which);
    if words.iter().any(|w| w == "us") {
        desk.system = tranche::quantity::System::Us;
    }
    let options =
        eframe::NativeOptions { viewport: egui::ViewportBuilder::default().with_inner_size(size), ..Default::default() };
    eframe::run_native(
        "Sheets",
        options,
        Box::new(move |cc| {
            theme::install_fonts(&cc.egui_ctx);
            theme::apply(&cc.egui_ctx, look, true);
            Ok(Box::new(Window { desk, which }))
        }),
    )
}

struct Window {
    desk: SheetDesk,
    which: Sheet,
}

impl eframe::App for Window {
    fn ui(&mut self, ui: &mut egui::Ui, _: &mut eframe::Frame) {
        egui::CentralPanel::default().show(ui, |ui| {
            let plan = self.desk.plan();
            ui.label(theme::Lettering::Title.text(plan.heading()));
            ui.label(format!("{:?}", self.desk.history.steps().collect::<Vec<_>>()));
            if ui.button("Open the sheet").clicked() {
                self.desk.open = Some(tranche::app::sheet::OpenSheet::new(self.which, self.desk.history.now()));
            }
        });
        self.desk.frame(ui.ctx());
    }
}
