//! Start with your own piece: which, how heavy, how many days, who eats.

use super::{
    asking::as_sentence,
    dates::{long_date, read_date, write_date},
    frame::{self, Head, Keyboard},
    kinds::Kinds,
    parts,
    start_eaters::{StartEaters, me},
    typed::select_all,
};
use crate::{
    app::{
        action::Action,
        files::{FileAction, are_of_the_demo},
        marks::Level,
        theme::STEP,
        view::View,
        widget::{Button, Field, Stepper},
    },
    book::{Kind, Role},
    quantity::{AsBought, DayNo, Grams, Units, read_grams, write_units},
    rotation::{Household, MAX_DAYS, Mealtime, MealtimeId, Piece, Rotation, weekday_name},
};
use egui::{Context, Key, Modifiers, Response, Ui};
use jiff::{
    ToSpan as _,
    civil::{Date, Weekday},
};
use std::sync::Arc;

/// Days that a fresh plan has unless somebody says otherwise: what a household bears of one piece (common practice, no source).
const USUAL_DAYS: f64 = 4.0;

/// The answers so far.
pub(super) struct StartSheet {
    kind: Option<Arc<Kind>>,
    kinds: Kinds,
    /// What is typed; nothing: the kind's usual mass.
    mass: Option<String>,
    days: f64,
    today: Date,
    first: Date,
    first_typed: Option<String>,
    lunch: bool,
    eaters: StartEaters,
    /// The button was pressed: what is missing is said.
    pressed: bool,
}

impl StartSheet {
    /// A fresh sheet; whoever eats of `rotation` is offered again.
    pub fn new(rotation: &Rotation, today: Date) -> StartSheet {
        StartSheet {
            kind: None,
            kinds: Kinds::open(),
            mass: None,
            days: USUAL_DAYS,
            today,
            first: today,
            first_typed: None,
            lunch: false,
            eaters: if are_of_the_demo(&rotation.household) {
                StartEaters::new(&me())
            } else {
                StartEaters::new(&rotation.household)
            },
            pressed: false,
        }
    }

    /// The same, with `household` offered in place of whoever eats of the plan on the bench.
    pub fn offer(&mut self, household: &Household) {
        self.eaters = StartEaters::new(household);
    }

    fn grams(&self, view: &View<'_>, kind: &Kind) -> Result<Grams<AsBought>, String> {
        let grams = match &self.mass {
            None => kind.mass.1,
            Some(text) => read_grams(text, view.system, kind.cup).map_err(|e| as_sentence(&e.to_string()))?,
        };
        if grams == 0 {
            return Err("A piece of 0 g cannot be divided: type what it weighs.".into());
        }
        Grams::new(grams).map_err(|e| as_sentence(&e.to_string()))
    }

    fn first_day(&self) -> Result<Date, String> {
        self.first_typed.as_ref().map_or(Ok(self.first), |text| read_date(text, self.today))
    }

    /// The plan that the answers make, once they are all there.
    fn begin(&self, view: &View<'_>) -> Option<Rotation> {
        let kind = self.kind.clone()?;
        let mass = self.grams(view, &kind).ok()?;
        let first = self.first_day().ok()?;
        let eaters = self.eaters.chosen();
        if eaters.is_empty() {
            return None;
        }
        let mut rotation = Rotation::start(kind, mass, first, self.days as u16, eaters);
        if self.lunch {
            let at = jiff::civil::Time::new(12, 30, 0, 0).ok();
            rotation.mealtimes.insert(0, Mealtime { id: MealtimeId(2), name: "lunch".into(), at });
        }
        Some(rotation)
    }
}

/// Draws the sheet.
pub(super) fn ui(ctx: &Context, view: &View<'_>, keyboard: &mut Keyboard, sheet: &mut StartSheet, actions: &mut Vec<Action>) {
    let head = Head {
        title: "Start with your own piece",
        under: "Four answers, and it lies on the bench.",
        name: "start",
        width: 560.0,
        edits: false,
        holds_answers: true,
        fills_in: true,
    };
    let ctrl_enter = ctx.input_mut(|i| i.consume_key(Modifiers::COMMAND, Key::Enter));
    let mut begin = ctrl_enter;
    let mut cancel = false;
    let kinds: Vec<Arc<Kind>> = view.book.kinds().cloned().collect();
    if sheet.kind.is_none() {
        let same = kinds.iter().find(|k| k.id == view.rotation.kind.id).or(kinds.first());
        sheet.kind = same.cloned().or_else(|| Some(view.rotation.kind.clone()));
    }
    let mut entered = false;
    let body = |ui: &mut Ui, sheet: &mut StartSheet, _: &mut Vec<Action>| {
        parts::section(ui, "Which piece is it?");
        if let Some(chosen) = sheet.kind.clone()
            && let Some(kind) = sheet.kinds.show(ui, kinds.iter(), &chosen)
        {
            // The mass of another kind says nothing of this one.
            if kind.id != chosen.id {
                sheet.mass = None;
            }
            sheet.kind = Some(kind);
        }
        parts::section(ui, "How heavy is it?");
        entered |= mass_ui(ui, view, sheet);
        parts::section(ui, "How many days, from when?");
        entered |= days_ui(ui, sheet);
        parts::section(ui, "Who eats?");
        sheet.eaters.show(ui);
        if sheet.pressed && sheet.eaters.chosen().is_empty() {
            parts::remark(ui, Level::Stop, "Nobody eats yet: choose somebody, or add a name.");
        }
    };
    let mut demo = false;
    let mut pressed = false;
    let foot = |ui: &mut Ui, _: &mut StartSheet, _: &mut Vec<Action>| {
        ui.horizontal(|ui| {
            pressed = ui.add(Button::primary("Put it on the bench")).on_hover_text("Ctrl+Enter").clicked();
            demo = ui.add(Button::quiet("Look at the demo first")).clicked();
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                cancel = ui.add(Button::plain("Cancel")).clicked();
            });
        });
    };
    frame::show(ctx, &head, keyboard, sheet, actions, body, Some(foot));
    begin |= pressed || entered;
    if begin {
        match sheet.begin(view) {
            Some(rotation) => actions.push(Action::File(FileAction::Begin(Box::new(rotation)))),
            None => sheet.pressed = true,
        }
    } else if demo {
        actions.push(Action::File(FileAction::OpenDemo));
    } else if cancel {
        keyboard.leave(ctx);
    }
}

/// Whether Enter was pressed in a field that has been filled in.
fn entered(ui: &Ui, response: &Response) -> bool {
    response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter))
}

fn mass_ui(ui: &mut Ui, view: &View<'_>, sheet: &mut StartSheet) -> bool {
    let Some(kind) = sheet.kind.clone() else { return false };
    let mut text = sheet.mass.clone().unwrap_or_else(|| view.grams(kind.mass.1));
    let grams = sheet.grams(view, &kind);
    let hint = if view.system == crate::quantity::System::Metric { "1.8 kg" } else { "4 lb" };
    let label = "Mass as bought";
    let response = parts::steady(ui, "mass", |ui| {
        let wrong = grams.as_ref().err().map(String::as_str);
        Field::new(label, &mut text).hint(hint).width(160.0).error(wrong).show(ui)
    });
    if response.gained_focus() {
        select_all(ui, &response, &text);
    }
    if response.changed() {
        sheet.mass = Some(text);
    }
    if let Ok(grams) = grams {
        parts::plain(ui, outlook(view, &kind, grams, sheet));
        let (least, _, most) = kind.mass;
        if !(least..=most).contains(&grams.get()) {
            let usual = format!("Usually one weighs {} to {}.", view.grams(least), view.grams(most));
            parts::quiet(ui, usual);
        }
    }
    entered(ui, &response)
}

/// "About 1,500 g usable for 3 eaters: enough for about 3 suppers."
fn outlook(view: &View<'_>, kind: &Kind, mass: Grams<AsBought>, sheet: &StartSheet) -> String {
    let usable = Piece::guessed(kind, mass, DayNo::FIRST).usable_total(kind.portioned).get();
    let eaters = sheet.eaters.chosen();
    let units: Units = eaters.iter().filter(|e| !e.guest).map(|e| e.units).sum();
    // A guess is said in round figures.
    let round = if usable < 500 { usable } else { (usable + 25) / 50 * 50 };
    let usable_words = format!("About {} usable for {}", view.grams(round), write_units(eaters.len(), "eater", "eaters"));
    let suppers = typical_grams(view, kind).map(|grams| units.times(grams)).filter(|grams| *grams > 0);
    match suppers {
        Some(grams) => {
            let suppers = ((usable + grams / 2) / grams).max(1) as usize;
            let enough = write_units(suppers, "supper", "suppers");
            format!("{usable_words}: enough for about {enough}.")
        }
        None => format!("{usable_words}."),
    }
}

/// The middle one of the typical grams of the dishes that suit a kind, for an adult.
fn typical_grams(view: &View<'_>, kind: &Kind) -> Option<u32> {
    let suiting = view.book.dishes_for(kind).filter(|d| d.role == Role::Meal && d.state == kind.portioned);
    let mut grams: Vec<u32> = suiting.map(|d| d.grams.1).filter(|g| *g > 0).collect();
    grams.sort_unstable();
    grams.get(grams.len() / 2).copied()
}

fn days_ui(ui: &mut Ui, sheet: &mut StartSheet) -> bool {
    let mut done = false;
    ui.horizontal_top(|ui| {
        Stepper::new("Days", &mut sheet.days).bounds(1.0..=f64::from(MAX_DAYS)).show(ui);
        ui.add_space(STEP);
        let mut text = sheet.first_typed.clone().unwrap_or_else(|| write_date(sheet.first));
        let read = sheet.first_day();
        let response = parts::steady(ui, "first", |ui| {
            let wrong = read.as_ref().err().map(String::as_str);
            Field::new("First day", &mut text).hint("7 Dec 2026").width(170.0).error(wrong).show(ui)
        });
        if response.gained_focus() {
            select_all(ui, &response, &text);
        }
        if response.changed() {
            sheet.first_typed = Some(text);
        }
        if response.lost_focus()
            && let Ok(first) = read
        {
            sheet.first = first;
            sheet.first_typed = None;
        }
        done = entered(ui, &response);
    });
    parts::flow(ui, |ui| {
        for (words, date) in suggestions(sheet.today) {
            if parts::choice(ui, &words, &words, sheet.first_day() == Ok(date)) {
                sheet.first = date;
                sheet.first_typed = None;
            }
        }
    });
    if let Ok(first) = sheet.first_day() {
        let last = first.checked_add((sheet.days as i64 - 1).days()).unwrap_or(Date::MAX);
        let span = if last == first { long_date(first) } else { format!("{} to {}", long_date(first), long_date(last)) };
        parts::quiet(ui, span);
    }
    parts::flow(ui, |ui| {
        for (lunch, words) in [(false, "supper only"), (true, "lunch and supper")] {
            if parts::choice(ui, words, words, sheet.lunch == lunch) {
                sheet.lunch = lunch;
            }
        }
    });
    done
}

/// Today, tomorrow, and the next Monday where it is neither.
fn suggestions(today: Date) -> Vec<(String, Date)> {
    let mut out = vec![("today".to_string(), today)];
    if let Ok(tomorrow) = today.tomorrow() {
        out.push((format!("tomorrow, {}", weekday_name(tomorrow)), tomorrow));
    }
    if let Ok(monday) = today.nth_weekday(1, Weekday::Monday)
        && out.iter().all(|(_, date)| *date != monday)
    {
        out.push((format!("next Monday, {}", monday.day()), monday));
    }
    out
}
