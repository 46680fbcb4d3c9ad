//! Filling the open meals: the best arrangement there is, what holds it back, and a few that really differ, each one press away.
//!
//! The search runs on a worker; what it has found so far is shown and may be taken at any time.

use super::{
    action::Action,
    bench::{self, Frame},
    book_view::Page,
    marks::Level,
    sheet::parts,
    theme::{self, Lettering, STEP},
    view::View,
    widget::{Button, Card},
};
use crate::{
    arrange::{Arrangement, open_meals},
    rotation::{Slot, capital},
};
use egui::{Frame as Ground, Margin, ScrollArea, Ui};
use seek::{Answered, Seek, Told};
use std::collections::BTreeSet;

mod seek;

/// What the page remembers between frames.
#[derive(Default)]
pub struct FillView {
    /// The meals that are to be filled; nothing: those of the main mealtime.
    meals: Option<BTreeSet<Slot>>,
    /// Whether neighbouring meals may be too alike.
    may_be_alike: bool,
    /// Whether the next frame begins to look: the page was just opened, or something else is asked.
    begin: bool,
    seek: Option<Seek>,
    /// The revision that the answer is about.
    of: Option<u64>,
    so_far: Option<Arrangement>,
    answer: Option<Answered>,
}

impl FillView {
    /// Another plan: nothing of the old one is shown.
    pub fn plan_replaced(&mut self) {
        *self = FillView::default();
    }

    /// The page is opened: what waits is looked for at once.
    pub fn opened(&mut self) {
        self.begin = true;
    }

    /// Whether a further press of the button could find more than is shown.
    fn may_find_more(&self) -> bool {
        match &self.answer {
            None | Some(Answered::Stopped) => self.seek.is_none(),
            Some(Answered::Filled { best, .. }) => !best.proven,
            Some(Answered::NothingOpen | Answered::Impossible(_)) => false,
        }
    }

    fn forget(&mut self) {
        (self.seek, self.of, self.so_far, self.answer) = (None, None, None, None);
    }

    /// The meals that are asked for: of those that wait for a dish.
    fn asked(&self, view: &View<'_>) -> (Vec<Slot>, BTreeSet<Slot>) {
        let open = open_meals(view.rotation);
        let main = view.rotation.mealtimes.last().map(|m| m.id);
        let at_main: BTreeSet<Slot> = open.iter().copied().filter(|s| Some(s.mealtime) == main).collect();
        let usual = if at_main.is_empty() { open.iter().copied().collect() } else { at_main };
        let asked = self.meals.clone().unwrap_or(usual);
        let asked = asked.into_iter().filter(|s| open.contains(s)).collect();
        (open, asked)
    }

    fn poll(&mut self) {
        let Some(seek) = &self.seek else { return };
        for told in seek.told() {
            match told {
                Told::SoFar(best) => self.so_far = Some(*best),
                Told::Answer(answer) => self.answer = Some(*answer),
            }
        }
        if self.answer.is_some() {
            self.seek = None;
        }
    }
}

/// Whether any meal waits for a dish.
pub(super) fn has_open_meals(view: &View<'_>) -> bool {
    !open_meals(view.rotation).is_empty()
}

/// Draws the page.
pub fn ui(ui: &mut Ui, frame: Frame<'_>, fill: &mut FillView, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let margin = bench::MARGIN;
    bench::around(ui, &frame, actions);
    let view = frame.view;
    if fill.of.is_some_and(|of| of != view.revision) {
        fill.forget();
    }
    fill.poll();
    let middle = Ground::new().fill(palette.paper).inner_margin(Margin { left: margin, right: margin, top: 0, bottom: 16 });
    egui::CentralPanel::default().frame(middle).show(ui, |ui| {
        Card::new().room(20).show(ui, |ui| {
            ui.set_min_size(ui.available_size());
            ui.horizontal(|ui| {
                ui.label(Lettering::Head.text("Fill the open meals").color(palette.ink));
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    if ui.add(Button::quiet("Back to the bench")).clicked() {
                        actions.push(Action::Turn(Page::Bench));
                    }
                });
            });
            let (open, asked) = fill.asked(&view);
            if open.is_empty() {
                parts::plain(ui, "No meal waits for a dish. Take one off its meal, and it can be filled anew.");
                return;
            }
            wishes_ui(ui, &view, fill, &open, &asked);
            ui.add_space(STEP);
            ScrollArea::vertical().id_salt("arrangements").auto_shrink(false).show(ui, |ui| {
                ui.spacing_mut().item_spacing.y = STEP;
                answer_ui(ui, &view, fill, actions);
            });
        });
    });
}

/// What is asked, and the button that asks.
fn wishes_ui(ui: &mut Ui, view: &View<'_>, fill: &mut FillView, open: &[Slot], asked: &BTreeSet<Slot>) {
    parts::quiet(ui, "Which meals? What is planned already stays as it is.");
    let mut changed = None;
    parts::flow(ui, |ui| {
        for slot in open {
            let words = view.rotation.slot_name(*slot);
            let chosen = asked.contains(slot);
            if parts::choice(ui, &words, &format!("Fill {words}"), chosen) {
                let mut next = asked.clone();
                if !next.remove(slot) {
                    next.insert(*slot);
                }
                changed = Some(next);
            }
        }
        let name = "Neighbours may be too alike";
        if parts::choice(ui, "neighbours may be too alike", name, fill.may_be_alike) {
            fill.may_be_alike = !fill.may_be_alike;
            changed = Some(asked.clone());
        }
    });
    if let Some(meals) = changed {
        fill.meals = Some(meals);
        fill.forget();
        fill.begin = true;
        // It begins in the next frame, with what is asked now.
        ui.ctx().request_repaint();
        return;
    }
    ui.add_space(STEP / 2.0);
    ui.horizontal(|ui| {
        if fill.seek.is_some() {
            parts::plain(ui, "Looking for the best\u{2026}");
            if ui.add(Button::quiet("Stop")).clicked()
                && let Some(seek) = &fill.seek
            {
                seek.stop();
            }
        } else if asked.is_empty() {
            fill.begin = false;
            parts::plain(ui, "No meal is chosen.");
        } else if (std::mem::take(&mut fill.begin) && fill.answer.is_none())
            || (fill.may_find_more() && ui.add(Button::primary("Find the best")).clicked())
        {
            fill.forget();
            fill.of = Some(view.revision);
            let meals = asked.iter().copied().collect();
            fill.seek = Some(Seek::begin(view, meals, fill.may_be_alike, ui.ctx()));
        }
    });
}

fn answer_ui(ui: &mut Ui, view: &View<'_>, fill: &FillView, actions: &mut Vec<Action>) {
    match &fill.answer {
        None => {
            if let Some(best) = &fill.so_far {
                arrangement_ui(ui, view, "The best so far", best, None, actions);
            }
        }
        Some(Answered::NothingOpen) => {
            parts::plain(ui, "No meal waits for a dish.");
        }
        Some(Answered::Stopped) => {
            parts::plain(ui, "Stopped before anything was found, and nothing is proven.");
        }
        Some(Answered::Impossible(why)) => {
            parts::remark(ui, Level::Stop, "These meals cannot be filled, proven.");
            parts::plain(ui, view.said(&why.says()));
            for (wish, loosen) in &why.words {
                parts::plain(ui, format!("{}: {}", capital(&view.said(wish)), view.said(loosen)));
            }
        }
        Some(Answered::Filled { best, others, binds }) => {
            arrangement_ui(ui, view, &best.says(), &best.arrangement, None, actions);
            if best.wasteful {
                parts::remark(ui, Level::Caution, "More than a twentieth of the piece is left over: nothing leaves less.");
            }
            for bind in binds {
                parts::quiet(ui, format!("{}.", capital(&view.said(&bind.words)).trim_end_matches('.')));
            }
            for (other, proven) in others {
                let head = if *proven { "Or, really different" } else { "Or, really different (the best of its sort so far)" };
                arrangement_ui(ui, view, head, other, Some(&best.arrangement), actions);
            }
        }
    }
}

/// One arrangement as a preview: its meals, what it costs, and the press that takes it.
fn arrangement_ui(
    ui: &mut Ui,
    view: &View<'_>,
    head: &str,
    arrangement: &Arrangement,
    beside: Option<&Arrangement>,
    actions: &mut Vec<Action>,
) {
    let palette = theme::palette(ui);
    Card::new().room(16).fill_width().show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 4.0;
        ui.horizontal(|ui| {
            let width = (ui.available_width() - 140.0).max(120.0);
            ui.vertical(|ui| {
                ui.set_width(width);
                ui.add(egui::Label::new(Lettering::Strong.text(head).color(palette.ink)).wrap());
                let costs = capital(&view.said(&arrangement.costs(beside)));
                ui.add(egui::Label::new(Lettering::Small.text(format!("{costs}.")).color(palette.soft)).wrap());
            });
            ui.with_layout(egui::Layout::right_to_left(egui::Align::TOP), |ui| {
                let name = format!(
                    "Take this: {}",
                    arrangement.meals.iter().map(|m| m.dish.name.as_str()).collect::<Vec<_>>().join(", ")
                );
                if ui.add(Button::mend("Take this").name(&name)).clicked() {
                    actions.push(Action::Edit(arrangement.edit()));
                    actions.push(Action::Turn(Page::Bench));
                }
            });
        });
        ui.add_space(4.0);
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing = egui::vec2(10.0, 10.0);
            for meal in &arrangement.meals {
                let ground = Ground::new()
                    .fill(palette.paper)
                    .stroke(egui::Stroke::new(1.0, palette.hair))
                    .corner_radius(6)
                    .inner_margin(10);
                ground.show(ui, |ui| {
                    ui.set_width(210.0);
                    ui.vertical(|ui| {
                        ui.spacing_mut().item_spacing.y = 2.0;
                        let when = arrangement.plan.slot_name(meal.slot);
                        ui.label(Lettering::SmallStrong.text(when).color(palette.soft));
                        ui.add(egui::Label::new(Lettering::Dish.text(meal.dish.name.as_str()).color(palette.ink)).wrap());
                        let alike =
                            meal.most_alike.map(|s| format!(" · at most {:.0}\u{a0}% alike", 100.0 * s)).unwrap_or_default();
                        let words = format!("{} of {}{alike}", view.portion(meal.portion), view.said(&meal.from));
                        ui.add(egui::Label::new(Lettering::Small.text(words).color(palette.soft)).wrap());
                    });
                });
            }
        });
    });
}
