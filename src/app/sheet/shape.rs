//! Laying a kept shape on a piece: what becomes of each meal, before anything is done.

use super::{
    asking::as_sentence,
    frame::{self, Head, Keyboard},
    kinds::Kinds,
    parts,
    typed::select_all,
};
use crate::{
    app::{
        action::Action,
        files::FileAction,
        marks::{self, Level},
        theme::{self, Lettering, STEP},
        view::{View, spoken},
        widget::{Button, Field},
    },
    book::{DishId, Kind},
    quantity::{AsBought, Grams, System, read_grams, write_units},
    rotation::{Edit, Fit, FitOutcome, SlotFit, Template, capital, fit, time_change},
};
use egui::{Context, Key, Rect, Role, Sense, Ui, Vec2, WidgetInfo, pos2, vec2};
use std::sync::Arc;

/// What the sheet of a shape keeps.
#[derive(Default)]
pub(super) struct ShapeSheet {
    /// The shape; nothing until one has been read from a file.
    pub template: Option<Arc<Template>>,
    kind: Option<Arc<Kind>>,
    kinds: Kinds,
    mass: Option<String>,
    known: Option<Known>,
}

/// What the shape comes to, reckoned once for each piece and plan.
struct Known {
    kind: Arc<Kind>,
    mass: Grams<AsBought>,
    revision: u64,
    fit: Result<Fit, String>,
}

impl ShapeSheet {
    fn grams(&self, view: &View<'_>, kind: &Kind) -> Result<Grams<AsBought>, String> {
        let Some(text) = &self.mass else {
            let same = kind.id == view.rotation.kind.id;
            return Ok(if same { view.rotation.piece.mass } else { Grams::clamped(kind.mass.1) });
        };
        let grams = read_grams(text, view.system, kind.cup).map_err(|e| as_sentence(&e.to_string()))?;
        if grams == 0 {
            return Err("A piece of 0 g cannot be divided: type what it weighs.".into());
        }
        Grams::new(grams).map_err(|e| as_sentence(&e.to_string()))
    }

    /// What the shape comes to on the chosen piece.
    fn fit(&mut self, view: &View<'_>, kind: &Arc<Kind>, mass: Grams<AsBought>) -> Option<&Result<Fit, String>> {
        let template = self.template.clone()?;
        let stale = |k: &Known| k.kind.id != kind.id || k.mass != mass || k.revision != view.revision;
        if self.known.as_ref().is_none_or(stale) {
            let r = view.rotation;
            let laid = fit(&template, view.book, kind.clone(), mass, r.household.clone(), r.first_day);
            let fit = laid.map_err(|invalid| as_sentence(&invalid.to_string()));
            self.known = Some(Known { kind: kind.clone(), mass, revision: view.revision, fit });
        }
        self.known.as_ref().map(|k| &k.fit)
    }
}

/// Draws the sheet.
pub(super) fn ui(ctx: &Context, view: &View<'_>, keyboard: &mut Keyboard, sheet: &mut ShapeSheet, actions: &mut Vec<Action>) {
    let under = match &sheet.template {
        Some(t) => format!("{}, made from {}, {}", t.name, t.made_from.name, write_units(t.days.into(), "day", "days")),
        None => "A plan without its grams, to be used again".into(),
    };
    let head = Head {
        title: "Lay a shape on a piece",
        under: &under,
        name: "shape",
        width: 560.0,
        edits: false,
        holds_answers: true,
        fills_in: true,
    };
    let kind = sheet.kind.get_or_insert_with(|| view.rotation.kind.clone()).clone();
    let mass = sheet.grams(view, &kind);
    let ready = mass.as_ref().ok().and_then(|mass| sheet.fit(view, &kind, *mass)).and_then(|fit| fit.as_ref().ok()).cloned();
    let lays = ready.filter(|fit| fit.slots.iter().any(|s| !matches!(s.outcome, FitOutcome::Impossible { .. })));
    let (mut entered, mut pressed, mut cancel) = (false, false, false);
    let body = |ui: &mut Ui, sheet: &mut ShapeSheet, actions: &mut Vec<Action>| {
        if sheet.template.is_none() {
            parts::plain(ui, "A shape says which textures and flavours come on which day and what is cooked once for two meals.");
            parts::plain(ui, "Keep one from a plan you liked (File, Keep the shape), then lay it on another piece here.");
            ui.add_space(STEP);
            if ui.add(Button::primary("Choose a kept shape…")).clicked() {
                actions.push(Action::File(FileAction::LayShape));
            }
            return;
        }
        parts::section(ui, "On which piece?");
        if let Some(chosen) = sheet.kinds.show(ui, view.book.kinds(), &kind) {
            sheet.mass = None;
            sheet.kind = Some(chosen);
        }
        ui.add_space(STEP);
        entered |= mass_ui(ui, view, sheet, &mass);
        parts::section(ui, "What becomes of it");
        if let Ok(mass) = mass {
            let template = sheet.template.clone();
            match sheet.fit(view, &kind, mass) {
                Some(Ok(fit)) => fit_ui(ui, view, template.as_deref(), fit),
                Some(Err(why)) => parts::remark(ui, Level::Stop, why),
                None => {}
            }
        }
    };
    let has_template = sheet.template.is_some();
    let foot = |ui: &mut Ui, _: &mut ShapeSheet, _: &mut Vec<Action>| {
        if has_template {
            parts::quiet(ui, "It takes the place of the plan on the bench. One undo brings that back.");
        }
        ui.horizontal(|ui| {
            if has_template {
                pressed = ui.add_enabled(lays.is_some(), Button::primary("Lay it on the bench")).clicked();
            }
            cancel = ui.add(Button::quiet("Cancel")).clicked();
        });
    };
    frame::show(ctx, &head, keyboard, sheet, actions, body, Some(foot));
    if (entered || pressed)
        && let Some(fit) = lays
        && let Some(template) = &sheet.template
    {
        let words = format!("Lay {} on {}", template.name, kind.name);
        actions.push(Action::Edit(Edit::Replace { with: Box::new(fit.rotation), words }));
        cancel = true;
    }
    if cancel {
        keyboard.leave(ctx);
    }
}

/// The mass; whether Enter was pressed in it.
fn mass_ui(ui: &mut Ui, view: &View<'_>, sheet: &mut ShapeSheet, mass: &Result<Grams<AsBought>, String>) -> bool {
    let shown = mass.as_ref().map(|m| view.grams(m.get())).unwrap_or_default();
    let mut text = sheet.mass.clone().unwrap_or(shown);
    let hint = if view.system == System::Metric { "1.8 kg" } else { "4 lb" };
    let field = Field::new("Mass as bought", &mut text).hint(hint).width(160.0);
    let response = parts::steady(ui, "mass", |ui| field.error(mass.as_ref().err().map(String::as_str)).show(ui));
    if response.gained_focus() {
        select_all(ui, &response, &text);
    }
    if response.changed() {
        sheet.mass = Some(text);
    }
    response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter))
}

fn fit_ui(ui: &mut Ui, view: &View<'_>, template: Option<&Template>, fit: &Fit) {
    let count = |is: fn(&FitOutcome) -> bool| fit.slots.iter().filter(|s| is(&s.outcome)).count();
    let kept = count(|o| matches!(o, FitOutcome::Kept { .. }));
    let swapped = count(|o| matches!(o, FitOutcome::Swapped { .. }));
    let lost = count(|o| matches!(o, FitOutcome::Impossible { .. }));
    parts::plain(ui, format!("{kept} kept, {swapped} swapped, {lost} impossible"));
    ui.add_space(STEP / 2.0);
    for slot in &fit.slots {
        slot_ui(ui, view, template, fit, slot);
    }
    let free: i64 = fit.rotation.piece.parts.iter().map(|p| fit.rotation.free_in_part(&p.part).max(0)).sum();
    if free > 0 {
        let free = view.grams(free.min(i64::from(u32::MAX)) as u32);
        parts::remark(ui, Level::Note, &format!("{free} of the piece would stay free."));
    }
}

/// One meal: where, what becomes of it, why, and what takes longer or less than on the piece that the shape is of.
fn slot_ui(ui: &mut Ui, view: &View<'_>, template: Option<&Template>, fit: &Fit, slot: &SlotFit) {
    const LEFT: f32 = 178.0;
    let palette = theme::palette(ui);
    let r = &fit.rotation;
    let place = match slot.slot {
        Some(at) => r.slot_name(at),
        None => format!("{}, made ahead", r.day_name(slot.day)),
    };
    let named = |id: &DishId| r.dishes.get(id).or_else(|| view.book.dish(id)).map_or_else(|| id.to_string(), |d| d.name.clone());
    let (level, word, dish, why) = match &slot.outcome {
        FitOutcome::Kept { dish } => (Level::Fine, "kept", Some(dish), None),
        FitOutcome::Swapped { dish, why } => (Level::Caution, "swapped", Some(dish), Some(as_sentence(why))),
        FitOutcome::Impossible { why } => (Level::Warn, "impossible", None, Some(as_sentence(why))),
    };
    let cooked = dish.and_then(|id| r.dishes.get(id).or_else(|| view.book.dish(id)));
    let time = template.zip(cooked).and_then(|(t, dish)| time_change(t, view.book, &r.kind.id, dish));
    let dish = dish.map(named);
    let why = [why, time.map(|t| as_sentence(&t))].into_iter().flatten().collect::<Vec<_>>().join(" ");
    let why = (!why.is_empty()).then_some(why);
    let colour = level.colour(palette);
    let lay = |words: &str, lettering: Lettering, ink| {
        ui.painter().layout(words.to_owned(), lettering.font(), ink, ui.available_width() - LEFT)
    };
    let dish_words = dish.as_deref().map(|d| lay(d, Lettering::Dish, palette.ink));
    let why_words = why.as_deref().map(|w| lay(w, Lettering::Small, palette.soft));
    let height = [&dish_words, &why_words].into_iter().flatten().map(|g| g.size().y).sum::<f32>().max(36.0) + 10.0;
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    response.widget_info(|| {
        let said: Vec<&str> = [dish.as_deref(), why.as_deref()].into_iter().flatten().collect();
        WidgetInfo::labeled(Role::Label, true, spoken(&format!("{place}, {word}: {}", said.join(", "))))
    });
    let painter = ui.painter();
    painter.text(rect.min, egui::Align2::LEFT_TOP, capital(&place), Lettering::Strong.font(), palette.ink);
    let mark = Rect::from_min_size(pos2(rect.left(), rect.top() + 20.0), Vec2::splat(15.0));
    marks::level(painter, mark, level, colour);
    let at = pos2(mark.right() + 6.0, mark.center().y);
    painter.text(at, egui::Align2::LEFT_CENTER, word, Lettering::SmallStrong.font(), colour);
    let mut top = rect.top() - 1.0;
    for words in [dish_words, why_words].into_iter().flatten() {
        let next = top + words.size().y;
        painter.galley(pos2(rect.left() + LEFT, top), words, palette.ink);
        top = next;
    }
}
