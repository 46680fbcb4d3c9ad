//! The window: what the person sees and touches.
//!
//! Nothing outside this room knows of egui. A view draws from a borrowed plan ([`view::View`]) and hands back
//! [`action::Action`]s; the [`Desk`] performs them in one place after drawing.
//!
//! The look of it all lives in three places that know no food at all: [`theme`] (colours, lettering, spacing), [`marks`]
//! (every small drawing) and [`widget`] (buttons, cards, fields).

pub mod action;
mod alike;
pub mod bench;
pub mod book_view;
pub mod carry;
mod desk;
pub mod files;
mod fill;
pub mod hearth;
mod journal;
mod judged;
mod keeping;
mod lists;
pub mod marks;
mod run_sheet;
pub mod sheet;
pub mod theme;
pub mod view;
pub mod widget;

pub use desk::{Desk, SettingChange, Settings};

use std::path::PathBuf;

/// How the window is started.
#[derive(Clone, Debug, Default)]
pub struct Start {
    /// The rotation to open; nothing: the last one, or the demo.
    pub file: Option<PathBuf>,
    /// Use the program's own path box instead of the system's file dialogs.
    pub built_in_dialogs: bool,
    /// Where the program keeps its own files; nothing: where the platform has such.
    pub places: Option<crate::store::Places>,
}

/// The application's id: the desktop's name for its windows.
pub const APP_ID: &str = "io.github.tranche.Tranche";

struct Window {
    desk: Desk,
    /// When the program was asked for its window, until its first frame is drawn.
    asked: Option<std::time::Instant>,
}

impl eframe::App for Window {
    fn logic(&mut self, ctx: &egui::Context, _frame: &mut eframe::Frame) {
        self.desk.logic(ctx);
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.desk.ui(ui);
        if let Some(asked) = self.asked.take() {
            tracing::info!("first frame drawn {} ms after the window was asked for", asked.elapsed().as_millis());
        }
    }
}

/// Opens the window and stays until it is closed. The error is one sentence for a person.
pub fn run(start: Start) -> Result<(), String> {
    let asked = Some(std::time::Instant::now());
    let viewport = egui::ViewportBuilder::default()
        .with_app_id(APP_ID)
        .with_title("Tranche")
        .with_inner_size([1440.0, 900.0])
        .with_min_inner_size([720.0, 520.0]);
    let options = eframe::NativeOptions { viewport, persist_window: false, ..Default::default() };
    eframe::run_native(
        APP_ID,
        options,
        Box::new(move |cc| {
            let mut desk = Desk::open(start, &cc.egui_ctx);
            desk.dress(&cc.egui_ctx);
            desk.ask_over(rfd::AsyncFileDialog::new().set_parent(cc));
            Ok(Box::new(Window { desk, asked }))
        }),
    )
    .map_err(|e| {
        // What the libraries say of themselves is for the log, not for a person.
        tracing::info!("no window: {e}");
        "no window could be opened: there is no display, or a library of the desktop is missing (on Debian: libgl1 \
         libxkbcommon-x11-0 libxcursor1 libxi6); `tranche check` and `tranche report` work without one"
            .to_string()
    })
}
