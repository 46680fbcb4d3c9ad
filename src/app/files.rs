//! Files from the window: new, open, save, recent, closing, recovery.

use super::{Start, action::Action, desk::Settings, sheet::Sheet, view::View};
use crate::{
    book::Book,
    rotation::{History, Rotation},
};
use egui::Context;
use std::{path::PathBuf, sync::Arc};

/// What the person wants done with files.
#[derive(Clone, Debug)]
pub enum FileAction {
    /// Begin afresh: "start with your own piece".
    New,
    /// Take this plan as a fresh, unsaved one.
    Begin(Box<Rotation>),
    /// Ask for a file and open it.
    Open,
    /// Open this file.
    OpenPath(PathBuf),
    /// Open the demo.
    OpenDemo,
    /// Save where it was saved last, or ask.
    Save,
    /// Ask where, then save.
    SaveAs,
    /// Keep the shape as a template: ask where.
    KeepShape,
    /// Ask for a template and lay it on a piece.
    LayShape,
    /// Take a file out of the recent ones.
    ForgetRecent(PathBuf),
    /// Close the window, asking first where something is unsaved.
    Quit,
}

/// What came of a file action.
#[derive(Default)]
pub struct Answer {
    /// Another plan is on the desk.
    pub replace: Option<History>,
    /// This plan is now on disk.
    pub saved: Option<Arc<Rotation>>,
    /// A sheet to open.
    pub open: Option<Sheet>,
    /// What to say.
    pub say: Option<String>,
}

/// What the program begins with.
pub struct Opened {
    /// The plan.
    pub rotation: Rotation,
    /// Whether it is on disk as it is.
    pub on_disk: bool,
    /// The book.
    pub book: Arc<Book>,
    /// The settings.
    pub settings: Settings,
    /// Files from here on.
    pub files: Files,
    /// What to say first.
    pub say: String,
}

/// Files of the window.
pub struct Files {}

impl Files {
    /// Files that touch no disk: for tests.
    pub fn detached() -> Files {
        Files {}
    }

    /// Reads settings and book, and the file to begin with.
    pub fn open(_start: Start, _ctx: &Context) -> Opened {
        unimplemented!("being written")
    }

    /// Whether a question lies over the bench.
    pub fn asks(&self) -> bool {
        false
    }

    /// Recent files with whether each is there.
    pub fn recent(&self) -> &[(PathBuf, bool)] {
        &[]
    }

    /// Jobs, close requests, autosave.
    pub fn logic(&mut self, _ctx: &Context, _history: &History, _actions: &mut Vec<Action>) {}

    /// Keeps the window's title: "*Red cabbage - Tranche".
    pub fn set_title(&mut self, _ctx: &Context, _history: &History) {}

    /// Draws the question that lies over the bench, if any.
    pub fn ui(&mut self, _ctx: &Context, _view: &View<'_>, _actions: &mut Vec<Action>) {}

    /// Performs a file action, or begins it.
    pub fn perform(&mut self, _action: FileAction, _history: &History, _ctx: &Context) -> Answer {
        Answer::default()
    }

    /// Keeps the settings on disk.
    pub fn keep_settings(&mut self, _settings: Settings) {}
}

/// The File menu.
pub fn menu_ui(_ui: &mut egui::Ui, _files: &Files, _actions: &mut Vec<Action>) {}
