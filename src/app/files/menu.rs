//! The File menu.

use super::{FileAction, Files, question::shown};
use crate::app::{
    action::Action,
    marks::Icon,
    theme::{self, Lettering},
    widget::{Button, IconButton},
};
use egui::{Button as Plain, Popup, Ui, containers::menu::SubMenuButton};
use std::path::Path;

/// Draws the button of the File menu, and the menu while it is open.
pub fn menu_ui(ui: &mut Ui, files: &Files, actions: &mut Vec<Action>) {
    let mut wanted = Vec::new();
    let opened = ui.menu_button(Lettering::Body.text("File"), |ui| {
        ui.set_min_width(260.0);
        entries_ui(ui, files, &mut wanted);
        if !wanted.is_empty() {
            ui.close();
        }
    });
    // Looked at when the menu opens: a stick may have been put in or pulled.
    if opened.response.clicked() && Popup::is_any_open(ui.ctx()) {
        wanted.push(FileAction::LookAtRecent);
    }
    actions.extend(wanted.into_iter().map(Action::File));
}

fn entries_ui(ui: &mut Ui, files: &Files, wanted: &mut Vec<FileAction>) {
    let free = !files.is_asking();
    let mut entry = |ui: &mut Ui, words: &str, keys: &str, can: bool, action: FileAction| {
        let keys = Lettering::Small.text(keys).color(theme::palette(ui).soft);
        if ui.add_enabled(can, Plain::new(Lettering::Body.text(words)).shortcut_text(keys)).clicked() {
            wanted.push(action);
        }
    };
    let ctrl = if cfg!(target_os = "macos") { "Cmd" } else { "Ctrl" };
    entry(ui, "New…", &format!("{ctrl}+N"), true, FileAction::New);
    entry(ui, "Open…", &format!("{ctrl}+O"), free, FileAction::Open);
    let mut from_recent = Vec::new();
    SubMenuButton::new(Lettering::Body.text("Open recent")).ui(ui, |ui| recent_ui(ui, files, &mut from_recent));
    entry(ui, "Open by path…", &format!("{ctrl}+L"), free, FileAction::OpenByPath);
    ui.separator();
    entry(ui, "Save", &format!("{ctrl}+S"), true, FileAction::Save);
    entry(ui, "Save as…", &format!("{ctrl}+Shift+S"), free, FileAction::SaveAs);
    ui.separator();
    entry(ui, "Keep the shape…", "", free, FileAction::KeepShape);
    entry(ui, "Lay a shape…", "", free, FileAction::LayShape);
    ui.separator();
    entry(ui, "Print…", &format!("{ctrl}+P"), free, FileAction::Print);
    ui.separator();
    entry(ui, "Bring in a recipe…", "", free, FileAction::BringIn);
    ui.separator();
    entry(ui, "Demo", "", true, FileAction::OpenDemo);
    entry(ui, "Quit", &format!("{ctrl}+Q"), true, FileAction::Quit);
    wanted.append(&mut from_recent);
}

fn recent_ui(ui: &mut Ui, files: &Files, wanted: &mut Vec<FileAction>) {
    let palette = theme::palette(ui);
    ui.set_min_width(280.0);
    if files.recent().is_empty() {
        ui.label(Lettering::Body.text("No files yet").color(palette.soft));
        return;
    }
    for (path, there) in files.recent() {
        ui.horizontal(|ui| {
            let name = shown(path);
            let forget = format!("Forget {name}");
            if ui.add(IconButton::new(Icon::Close, &forget)).clicked() {
                wanted.push(FileAction::ForgetRecent(path.clone()));
            }
            let folder = path.parent().map(Path::display).map(|f| f.to_string()).unwrap_or_default();
            let (detail, spoken) = if *there {
                (folder.clone(), format!("{name}, in {folder}"))
            } else {
                (format!("not there: {folder}"), format!("{name}, not there"))
            };
            let button = Button::plain(&name).detail(&detail).name(&spoken);
            if ui.add_enabled_ui(*there, |ui| ui.add(button)).inner.clicked() {
                wanted.push(FileAction::OpenPath(path.clone()));
            }
        });
    }
    ui.separator();
    if ui.add(Plain::new(Lettering::Body.text("Forget them all"))).clicked() {
        wanted.push(FileAction::ForgetAllRecent);
    }
}
