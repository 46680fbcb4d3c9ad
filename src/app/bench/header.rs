//! The head of the bench: what is planned, and the few things that open over it.

use super::Frame;
use crate::app::{
    SettingChange,
    action::Action,
    book_view::Page,
    files,
    marks::Icon,
    sheet::Sheet,
    theme::{self, Lettering, Look},
    view::View,
    widget::{Button, IconButton},
};
use crate::quantity::{DayNo, System};
use egui::{Align, Layout, Ui};

/// Sizes offered in the menu, in percent.
const ZOOMS: [u32; 6] = [80, 100, 110, 125, 150, 200];

pub fn ui(ui: &mut Ui, frame: &Frame<'_>, actions: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        ui.set_min_height(36.0);
        let palette = theme::palette(ui);
        let narrow = ui.available_width() < super::NARROW - 2.0 * f32::from(super::MARGIN);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            right(ui, frame, narrow, actions);
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let view = &frame.view;
                ui.add(egui::Label::new(Lettering::Title.text(view.rotation.heading()).color(palette.ink)).truncate());
                let words = window_words(view);
                ui.add(egui::Label::new(Lettering::Body.text(words).color(palette.soft)).truncate());
            });
        });
    });
}

fn right(ui: &mut Ui, frame: &Frame<'_>, narrow: bool, actions: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.x = 4.0;
    let on_bench = frame.page == Page::Bench;
    let redo = frame.history.redo_words().map_or("Redo: nothing".to_string(), |w| format!("Redo: {w}"));
    let undo = frame.history.undo_words().map_or("Undo: nothing".to_string(), |w| format!("Undo: {w}"));
    let redo_button = ui.add_enabled_ui(on_bench && frame.history.redo_words().is_some(), |ui| {
        ui.add(IconButton::new(Icon::Redo, &redo).hint(&format!("{redo} (Ctrl+Shift+Z)")))
    });
    if redo_button.inner.clicked() {
        actions.push(Action::Redo);
    }
    let undo_button = ui.add_enabled_ui(on_bench && frame.history.undo_words().is_some(), |ui| {
        ui.add(IconButton::new(Icon::Undo, &undo).hint(&format!("{undo} (Ctrl+Z)")))
    });
    if undo_button.inner.clicked() {
        actions.push(Action::Undo);
    }
    ui.add_space(8.0);
    look_menu(ui, frame, actions);
    files::menu_ui(ui, frame.files, actions);
    ui.add_space(8.0);
    for (sheet, words) in [(Sheet::Days, "Days"), (Sheet::Household, "Household"), (Sheet::Piece, "Piece")] {
        if ui.add(Button::plain(words)).clicked() {
            actions.push(Action::Open(sheet));
        }
    }
    if !narrow {
        start_button(ui, actions);
    }
    ui.add_space(8.0);
    for (page, words) in [(Page::Book, "Dish book"), (Page::Bench, "Bench")] {
        if ui.add(Button::tab(words, frame.page == page)).clicked() {
            actions.push(Action::Turn(page));
        }
    }
    ui.add_space(8.0);
}

/// One click to a piece of one's own.
pub fn start_button(ui: &mut Ui, actions: &mut Vec<Action>) {
    if ui.add(Button::plain("Start with your own piece").icon(Icon::Plus)).clicked() {
        actions.push(Action::File(files::FileAction::New));
    }
}

fn look_menu(ui: &mut Ui, frame: &Frame<'_>, actions: &mut Vec<Action>) {
    let settings = frame.settings;
    ui.menu_button(Lettering::Body.text("View"), |ui| {
        let palette = theme::palette(ui);
        let head = |ui: &mut Ui, words: &str| {
            ui.label(Lettering::SmallStrong.text(words).color(palette.soft));
        };
        head(ui, "Look");
        for look in Look::ALL {
            if ui.radio(settings.look == look, look.words()).clicked() {
                actions.push(Action::Setting(SettingChange::Look(look)));
            }
        }
        ui.separator();
        head(ui, "Measures");
        for (system, words) in
            [(System::Metric, "Grams"), (System::Us, "Ounces and US cups"), (System::Imperial, "Ounces, imperial")]
        {
            if ui.radio(settings.system == system, words).clicked() {
                actions.push(Action::Setting(SettingChange::System(system)));
            }
        }
        ui.separator();
        head(ui, "Size");
        ui.horizontal_wrapped(|ui| {
            for percent in ZOOMS {
                let here = (settings.zoom * 100.0).round() as u32 == percent;
                if ui.add(Button::quiet(&format!("{percent} %")).selected(here)).clicked() {
                    actions.push(Action::Setting(SettingChange::Zoom(percent as f32 / 100.0)));
                }
            }
        });
        let mut reduce = settings.reduce_motion;
        if ui.checkbox(&mut reduce, "Reduce motion").changed() {
            actions.push(Action::Setting(SettingChange::ReduceMotion(reduce)));
        }
        ui.separator();
        for (sheet, words) in [(Sheet::Keys, "Keys"), (Sheet::About, "About Tranche, and cautions")] {
            if ui.add(Button::plain(words).fill_width()).clicked() {
                actions.push(Action::Open(sheet));
                ui.close();
            }
        }
    });
}

/// "Mon 7 – Thu 10 December · Asta, Bo, Kim".
fn window_words(view: &View<'_>) -> String {
    let r = view.rotation;
    let (first, last) = (r.date(DayNo::FIRST), r.date(r.last_day()));
    let day = |date: jiff::civil::Date, with_month: bool| {
        let short = &r.weekday(DayNo(((date - r.first_day).get_days() + 1) as i16))[..3];
        let month = if with_month { format!(" {}", month_name(date.month())) } else { String::new() };
        format!("{short}\u{a0}{}{month}", date.day())
    };
    let days = if first == last {
        day(first, true)
    } else {
        format!("{} – {}", day(first, first.month() != last.month()), day(last, true))
    };
    let people: Vec<&str> = r.household.eaters.iter().map(|e| e.name.as_str()).collect();
    let people = if people.len() > 6 { format!("{} eaters", people.len()) } else { people.join(", ") };
    format!("{days} · {people}")
}

/// The English name of a month.
pub fn month_name(month: i8) -> &'static str {
    const NAMES: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    NAMES.get((month - 1).clamp(0, 11) as usize).copied().unwrap_or("")
}
