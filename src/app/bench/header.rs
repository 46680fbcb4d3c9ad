//! The head of the bench: what is planned, and the few things that open over it.

use super::{Frame, ink};
use crate::app::{
    SettingChange, Settings,
    action::Action,
    book_view::Page,
    files,
    marks::Icon,
    sheet::Sheet,
    theme::{self, Lettering, Look},
    view::{View, spoken},
    widget::{Button, IconButton},
};
use crate::{
    quantity::{DayNo, System},
    rotation::month_name,
};
use egui::{Align, Id, Label, Layout, ScrollArea, Ui, vec2};

/// Height of the head.
const HEIGHT: f32 = 36.0;
/// How wide the head's buttons are taken to be before they have been drawn once.
const GUESS: f32 = 720.0;
/// Under this width the sheets of the plan are in a menu.
const ALL_SHEETS: f32 = 1420.0;
/// Sizes offered in the menu, in percent.
const ZOOMS: [u32; 6] = [80, 100, 110, 125, 150, 200];

pub fn ui(ui: &mut Ui, frame: &Frame<'_>, actions: &mut Vec<Action>) {
    ui.horizontal(|ui| {
        ui.set_min_height(HEIGHT);
        let palette = theme::palette(ui);
        let room = ui.available_width() + 2.0 * f32::from(super::MARGIN);
        // The buttons stand at the right but come in reading order, for Tab: their width is known from the frame before.
        let key = Id::unique("width of the head's buttons");
        let buttons = ui.data(|d| d.get_temp::<f32>(key)).unwrap_or(GUESS);
        let left = (ui.available_width() - buttons - 8.0).max(60.0);
        ui.allocate_ui_with_layout(vec2(left, HEIGHT), Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(left);
            let view = &frame.view;
            ui.add(Label::new(Lettering::Title.text(view.rotation.heading()).color(palette.ink)).truncate());
            // Whole or not at all: half a name says nothing.
            let fits = |words: &String| {
                let galley = ink::lay(ui, words, Lettering::Body, palette.soft, f32::INFINITY, 1);
                galley.size().x <= ui.available_width()
            };
            if let Some(words) = window_words(view).iter().find(|words| fits(words)) {
                ui.add(Label::new(Lettering::Body.text(words).color(palette.soft)).extend());
            }
        });
        let start = ui.cursor().left();
        right(ui, frame, room, actions);
        let width = ui.min_rect().right() - start;
        if (width - buttons).abs() > 0.5 {
            ui.data_mut(|d| d.insert_temp(key, width));
            ui.ctx().request_repaint();
        }
    });
}

/// What opens over the bench.
const SHEETS: [(Sheet, &str); 3] = [(Sheet::Piece, "Piece"), (Sheet::Household, "Household"), (Sheet::Days, "Days")];

fn right(ui: &mut Ui, frame: &Frame<'_>, room: f32, actions: &mut Vec<Action>) {
    ui.spacing_mut().item_spacing.x = 4.0;
    for (page, words) in Page::ALL {
        if ui.add(Button::tab(words, frame.page == page)).clicked() {
            actions.push(Action::Turn(page));
        }
    }
    ui.add_space(8.0);
    // Where it is narrow, the bar of drawers has it; whoever has begun finds it in the menu of files.
    if room >= super::NARROW && files::are_of_the_demo(&frame.view.rotation.household) {
        start_button(ui, actions);
    }
    if room >= ALL_SHEETS {
        for (sheet, words) in SHEETS {
            if ui.add(Button::plain(words)).clicked() {
                actions.push(Action::Open(sheet));
            }
        }
    } else {
        ui.menu_button(Lettering::Body.text("Plan"), |ui| {
            for (sheet, words) in SHEETS {
                if ui.add(Button::plain(words).fill_width()).clicked() {
                    actions.push(Action::Open(sheet));
                    ui.close();
                }
            }
        });
    }
    ui.add_space(8.0);
    files::menu_ui(ui, frame.files, actions);
    look_menu(ui, frame, actions);
    ui.add_space(8.0);
    // The book and the journal have an undo of their own.
    if frame.page == Page::Journal {
        if step_button(ui, Icon::Undo, "Undo", frame.view.hearth.journal_step(), "Ctrl+Z") {
            actions.push(Action::JournalBack);
        }
        step_button(ui, Icon::Redo, "Redo", None, "Ctrl+Shift+Z");
        return;
    }
    let on_bench = frame.page != Page::Book;
    let undo = frame.history.undo_words().filter(|_| on_bench).map(|words| frame.view.said(words));
    if step_button(ui, Icon::Undo, "Undo", undo.as_deref(), "Ctrl+Z") {
        actions.push(Action::Undo);
    }
    let redo = frame.history.redo_words().filter(|_| on_bench).map(|words| frame.view.said(words));
    if step_button(ui, Icon::Redo, "Redo", redo.as_deref(), "Ctrl+Shift+Z") {
        actions.push(Action::Redo);
    }
}

/// Undo or redo, with what it would do.
fn step_button(ui: &mut Ui, icon: Icon, verb: &str, words: Option<&str>, keys: &str) -> bool {
    let name = spoken(&format!("{verb}: {}", words.unwrap_or("nothing")));
    let hint = format!("{name} ({keys})");
    ui.add_enabled_ui(words.is_some(), |ui| ui.add(IconButton::new(icon, &name).hint(&hint))).inner.clicked()
}

/// One click to a piece of one's own.
pub fn start_button(ui: &mut Ui, actions: &mut Vec<Action>) {
    if ui.add(Button::plain("Your own piece").name("Start with your own piece").icon(Icon::Plus)).clicked() {
        actions.push(Action::File(files::FileAction::New));
    }
}

fn look_menu(ui: &mut Ui, frame: &Frame<'_>, actions: &mut Vec<Action>) {
    let settings = frame.settings;
    let own = ui.visuals().widgets.clone();
    let most = ui.ctx().content_rect().height() - 80.0;
    ui.menu_button(Lettering::Body.text("View"), |ui| {
        // A menu takes the edges off its widgets; the rounds and boxes here need theirs.
        ui.visuals_mut().widgets = own;
        ScrollArea::vertical().max_height(most).show(ui, |ui| look_entries(ui, settings, actions));
    });
}

fn look_entries(ui: &mut Ui, settings: Settings, actions: &mut Vec<Action>) {
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
    for (system, words) in [(System::Metric, "Grams"), (System::Us, "Ounces and US cups"), (System::Imperial, "Ounces, imperial")]
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
}

/// "Mon 7 – Thu 10 December · Asta, Bo, Kim".
/// The days and the people, the longest first.
fn window_words(view: &View<'_>) -> [String; 3] {
    let r = view.rotation;
    let (first, last) = (r.date(DayNo::FIRST), r.date(r.last_day()));
    let day = |date: jiff::civil::Date, with_month: bool| {
        let short = &r.weekday(DayNo(((date - r.first_day).get_days() + 1) as i16))[..3];
        let month = if with_month { format!(" {}", month_name(date)) } else { String::new() };
        format!("{short}\u{a0}{}{month}", date.day())
    };
    let days = if first == last {
        day(first, true)
    } else {
        format!("{} – {}", day(first, first.month() != last.month()), day(last, true))
    };
    let people: Vec<&str> = r.household.eaters.iter().map(|e| e.name.as_str()).collect();
    let number = if people.len() == 1 { "1 eater".into() } else { format!("{} eaters", people.len()) };
    let names = if people.len() > 6 { number.clone() } else { people.join(", ") };
    [format!("{days} · {names}"), format!("{days} · {number}"), days]
}
