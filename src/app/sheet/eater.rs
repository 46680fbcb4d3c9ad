//! One eater of the household: folded to a line, or unfolded to be changed.

use super::{
    asking::Asking,
    parts,
    typed::{Typed, TypedField},
};
use crate::{
    app::{
        action::Action,
        marks::{self, Icon},
        theme::{self, CARD_CORNER, Lettering, SMALL_STEP, mix},
        view::View,
        widget::{Button, Card, Stepper, focus_ring},
    },
    book::{Allergen, Care, Diet},
    quantity::Units,
    rotation::{Eater, EaterId, Edit},
};
use egui::{Rect, Role, Sense, Stroke, StrokeKind, TextWrapMode, Ui, Vec2, WidgetInfo, WidgetText, pos2, vec2};

/// The usual sizes, in hundredths of an adult's plate (common practice, no source).
const SIZES: [(&str, u32); 5] = [("adult", 100), ("teenager", 120), ("child", 60), ("toddler", 40), ("elder", 80)];

/// How many forms are offered beside the dislikes.
const MOST_FORMS: usize = 8;

/// An unfolded card, with what is typed on it.
pub(super) struct EaterCard {
    id: EaterId,
    name: Typed,
    dislikes: Typed,
    asking: Asking<()>,
}

impl EaterCard {
    /// A card about somebody.
    pub fn new(id: EaterId) -> EaterCard {
        EaterCard { id, name: Typed::default(), dislikes: Typed::default(), asking: Asking::default() }
    }

    /// About whom.
    pub fn id(&self) -> EaterId {
        self.id
    }
}

/// "1.0 · vegetarian · no mustard, no celery · guest".
fn line(eater: &Eater) -> String {
    let size = SIZES.iter().find(|(_, h)| *h == eater.units.hundredths());
    let mut said = vec![size.map_or_else(|| eater.units.to_string(), |(word, _)| format!("{word}, {}", eater.units))];
    if eater.guest {
        said.push("guest".into());
    }
    if eater.diet != Diet::Everything {
        said.push(eater.diet.word().into());
    }
    if !eater.allergies.is_empty() {
        let words: Vec<&str> = eater.allergies.iter().map(|a| a.word()).collect();
        said.push(format!("allergic to {}", words.join(", ")));
    }
    if !eater.dislikes.is_empty() {
        said.push(format!("dislikes {}", eater.dislikes.join(", ")));
    }
    said.extend(eater.care.iter().map(|c| c.word().to_string()));
    said.join(" · ")
}

/// The folded card; whether it was pressed.
pub(super) fn folded_ui(ui: &mut Ui, eater: &Eater) -> bool {
    const ROOM: f32 = 14.0;
    let palette = theme::palette(ui);
    let words = line(eater);
    let width = ui.available_width();
    let most = width - 2.0 * ROOM - 28.0;
    let quiet =
        WidgetText::from(Lettering::Small.text(&words)).into_galley(ui, Some(TextWrapMode::Wrap), most, Lettering::Small.style());
    let name = WidgetText::from(Lettering::Dish.text(&eater.name));
    let name = name.into_galley(ui, Some(TextWrapMode::Truncate), most, Lettering::Dish.style());
    let (rect, response) = ui.allocate_exact_size(vec2(width, name.size().y + quiet.size().y + 22.0), Sense::click());
    response.widget_info(|| {
        WidgetInfo::labeled(Role::Button, ui.is_enabled(), crate::app::view::spoken(&format!("Change {}: {words}", eater.name)))
    });
    if ui.is_rect_visible(rect) {
        let hovered = response.hovered();
        let ground = if hovered { mix(palette.card, palette.sunk, 0.5) } else { palette.card };
        let line = Stroke::new(palette.edge_width(), if hovered { palette.ink } else { palette.line });
        ui.painter().rect(rect, f32::from(CARD_CORNER), ground, line, StrokeKind::Inside);
        ui.painter().galley(rect.min + vec2(ROOM, 10.0), name.clone(), palette.ink);
        ui.painter().galley(rect.min + vec2(ROOM, 12.0 + name.size().y), quiet, palette.soft);
        let mark = Rect::from_center_size(pos2(rect.right() - 22.0, rect.center().y), Vec2::splat(16.0));
        marks::icon(ui.painter(), mark, Icon::Pencil, palette.soft);
        focus_ring(ui, &response, CARD_CORNER);
    }
    response.clicked()
}

/// The usual sizes as chips.
pub(super) fn sizes_ui(ui: &mut Ui, now: Units, mut choose: impl FnMut(Units)) {
    parts::flow(ui, |ui| {
        for (word, hundredths) in SIZES {
            let Some(size) = Units::from_hundredths(hundredths) else { continue };
            if parts::choice(ui, &format!("{word} {size}"), &format!("{word} {size}"), size == now) {
                choose(size);
            }
        }
    });
}

/// The unfolded card; whether it is to be folded.
pub(super) fn card_ui(ui: &mut Ui, view: &View<'_>, eater: &Eater, card: &mut EaterCard, actions: &mut Vec<Action>) -> bool {
    let accent = theme::palette(ui).accent;
    let mut fold = false;
    Card::new().colour(accent).fill_width().show(ui, |ui| {
        fold = name_ui(ui, view, eater, card, actions);
        let mut next = eater.clone();
        size_ui(ui, &mut next);
        parts::chips_label(ui, "Sits down");
        parts::flow(ui, |ui| {
            for (guest, words) in [(false, "at every meal"), (true, "as a guest, where ticked below")] {
                if parts::choice(ui, words, words, eater.guest == guest) {
                    next.guest = guest;
                }
            }
        });
        parts::chips_label(ui, "Eats");
        parts::flow(ui, |ui| {
            for diet in Diet::ALL {
                if parts::choice(ui, diet.word(), diet.word(), eater.diet == *diet) {
                    next.diet = *diet;
                }
            }
        });
        parts::chips_label(ui, "Allergic to");
        parts::flow(ui, |ui| {
            for allergen in Allergen::ALL {
                let has = eater.allergies.contains(allergen);
                if parts::choice(ui, allergen.word(), &format!("allergic to {}", allergen.word()), has) {
                    toggle(&mut next.allergies, *allergen, Allergen::ALL);
                }
            }
        });
        parts::chips_label(ui, "Take special care");
        parts::flow(ui, |ui| {
            for care in Care::ALL {
                if parts::choice(ui, care.word(), care.word(), eater.care.contains(care)) {
                    toggle(&mut next.care, *care, Care::ALL);
                }
            }
        });
        dislikes_ui(ui, view, eater, card, &mut next, actions);
        if next != *eater {
            actions.push(Action::Edit(Edit::SetEater(next)));
        }
        ui.add_space(SMALL_STEP);
        let out = format!("Take {} out", eater.name);
        if ui.add(Button::quiet(&out).icon(Icon::Bin)).clicked() {
            card.asking.ask(view, (), Edit::RemoveEater(eater.id), actions);
        }
        card.asking.say(ui, view, &());
    });
    fold
}

fn name_ui(ui: &mut Ui, view: &View<'_>, eater: &Eater, card: &mut EaterCard, actions: &mut Vec<Action>) -> bool {
    let read = |text: &str, _: bool| Ok(Edit::SetEater(Eater { name: text.to_string(), ..eater.clone() }));
    let shown = eater.name.clone();
    let spec = TypedField { label: "Name", hint: "", width: 240.0, label_hidden: false, shown, read: &read };
    let mut fold = false;
    ui.horizontal_top(|ui| {
        ui.vertical(|ui| {
            ui.set_width(ui.available_width() - 96.0);
            parts::steady(ui, (eater.id.0, "name"), |ui| card.name.show(ui, view, spec, actions));
        });
        ui.with_layout(egui::Layout::right_to_left(egui::Align::TOP), |ui| {
            let name = format!("Fold the card of {}", eater.name);
            fold = ui.add(Button::plain("Done").name(&name).icon(Icon::ChevronUp)).clicked();
        });
    });
    fold
}

fn size_ui(ui: &mut Ui, next: &mut Eater) {
    ui.add_space(SMALL_STEP);
    let mut size = next.units.as_f64();
    let least = f64::from(Units::MIN_HUNDREDTHS) / 100.0;
    let most = f64::from(Units::MAX_HUNDREDTHS) / 100.0;
    let stepper = Stepper::new("How much, in adult portions", &mut size).bounds(least..=most).step(0.1);
    if stepper.show(ui).changed()
        && let Some(units) = Units::from_hundredths((size * 100.0).round() as u32)
    {
        next.units = units;
    }
    sizes_ui(ui, next.units, |size| next.units = size);
}

fn dislikes_ui(ui: &mut Ui, view: &View<'_>, eater: &Eater, card: &mut EaterCard, next: &mut Eater, actions: &mut Vec<Action>) {
    let read = |text: &str, _: bool| Ok(Edit::SetEater(Eater { dislikes: read_list(text), ..eater.clone() }));
    let shown = eater.dislikes.join(", ");
    let hint = "such as raw onion, soft egg";
    let spec = TypedField {
        label: "Dislikes, with commas between",
        hint,
        width: f32::INFINITY,
        label_hidden: false,
        shown,
        read: &read,
    };
    parts::steady(ui, (eater.id.0, "dislikes"), |ui| card.dislikes.show(ui, view, spec, actions));
    let dishes = view.rotation.dishes.values().chain(view.book.dishes_for(&view.rotation.kind));
    let mut forms: Vec<&String> = dishes.flat_map(|d| &d.forms).filter(|f| !eater.dislikes.contains(f)).collect();
    forms.sort();
    forms.dedup();
    if forms.is_empty() {
        return;
    }
    parts::flow(ui, |ui| {
        for form in forms.into_iter().take(MOST_FORMS) {
            if parts::choice(ui, &format!("+ {form}"), &format!("dislikes {form}"), false) {
                next.dislikes.push(form.clone());
            }
        }
    });
}

/// Words between commas, each once.
fn read_list(text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for word in text.split(',').map(|w| w.split_whitespace().collect::<Vec<_>>().join(" ")) {
        if !word.is_empty() && !out.contains(&word) {
            out.push(word);
        }
    }
    out
}

/// Puts `item` in or out, in the order of `all`, so that the same choices are the same value.
fn toggle<T: Copy + PartialEq>(list: &mut Vec<T>, item: T, all: &[T]) {
    if list.contains(&item) {
        list.retain(|x| *x != item);
    } else {
        list.push(item);
        let place = |x: &T| all.iter().position(|y| y == x);
        list.sort_by_key(place);
    }
}
