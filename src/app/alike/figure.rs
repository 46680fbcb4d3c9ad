//! The one figure of the rotation, taken apart.

use crate::{
    app::{
        action::Action,
        bench::ink,
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::View,
    },
    judge::LikenessTable,
};
use egui::{Rect, Sense, Ui, pos2, vec2};

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, table: &LikenessTable, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    ui.spacing_mut().item_spacing.y = STEP / 2.0;
    super::who::chips(ui, view, actions);
    ui.label(Lettering::Figure.text(words(view, table)).color(palette.ink));
    if table.distinct.meals == 0 {
        parts::quiet(ui, "Nothing to count yet.");
        return;
    }
    ui.add_space(STEP / 2.0);
    ui.label(Lettering::SmallStrong.text("What each meal adds").color(palette.ink));
    let most = table.meals.iter().map(|m| m.adds).fold(1.0, f64::max);
    for meal in &table.meals {
        let when = view.rotation.slot_name(meal.slot);
        let said = if meal.counted { signed(meal.adds) } else { "not enough described".into() };
        bar(ui, &format!("{when}: {}", meal.dish), &said, meal.adds / most);
    }
    if table.distinct.meals > 1 {
        let head = Lettering::Small.text("Counted in other ways").color(palette.soft);
        egui::CollapsingHeader::new(head).id_salt("other orders").show(ui, |ui| {
            let (things, repeats) = (table.feel_like(0.0), table.feel_like(2.0));
            parts::quiet(ui, format!("{things:.1} if only different things count, however often each comes (order 0)"));
            parts::quiet(ui, format!("{repeats:.1} if what comes often weighs more: 1 over the average likeness (order 2)"));
        });
    }
    if table.meals.iter().any(|m| m.counted && m.adds < -0.05) {
        parts::quiet(ui, "A meal under 0 only makes the others feel more of the same.");
    }
}

/// How the figure is reckoned, for those who want to know.
pub(super) fn how(ui: &mut Ui) {
    parts::quiet(
        ui,
        "How the figure is reckoned: meals that share nothing count in full, two of the same count as one, what unrelated \
         dinners share anyway is left out, and the order does not matter. It is the similarity-sensitive diversity of order 1 \
         (Leinster & Cobbold 2012, Ecology 93:477). What is like what, and by how much, is our own judgement: read it to one \
         decimal and no further.",
    );
}

/// "4 meals that feel like 3.3".
pub(super) fn words(view: &View<'_>, table: &LikenessTable) -> String {
    let d = &table.distinct;
    let whose = view.who.map(|e| format!("{}: ", view.rotation.household.name(e))).unwrap_or_default();
    match d.meals {
        0 => format!("{whose}no meal yet"),
        1 => format!("{whose}1 meal"),
        n => format!("{whose}{n} meals that feel like {:.1}", d.feel_like),
    }
}

/// One line with its figure at the right, over a bar as long as its part of the most.
pub(super) fn bar(ui: &mut Ui, words: &str, figure: &str, part: f64) -> egui::Response {
    let palette = theme::palette(ui);
    let width = ui.available_width();
    let number = ink::lay(ui, figure, Lettering::SmallStrong, palette.ink, width * 0.5, 1);
    let line = ink::lay(ui, words, Lettering::Small, palette.ink, width - number.size().x - 12.0, 1);
    let high = line.size().y.max(number.size().y);
    let (rect, response) = ui.allocate_exact_size(vec2(width, high + 9.0), Sense::hover());
    crate::app::bench::hand::named(ui, &response, egui::Role::Label, &format!("{words}: {figure}"));
    ink::put_right(ui.painter(), Rect::from_min_size(rect.min, vec2(width, high)), number);
    let cut = line.elided;
    ink::put(ui.painter(), rect.min, line);
    let track = Rect::from_min_max(pos2(rect.left(), rect.bottom() - 6.0), pos2(rect.right(), rect.bottom() - 2.0));
    ui.painter().rect_filled(track, 2.0, palette.sunk);
    let full = track.width() * (part.clamp(0.0, 1.0) as f32);
    if full >= 1.0 {
        ui.painter().rect_filled(Rect::from_min_size(track.min, vec2(full, track.height())), 2.0, palette.accent);
    }
    if cut { response.on_hover_text(words) } else { response }
}

/// "+0.9", "−0.1", and 0.0 without a sign.
fn signed(value: f64) -> String {
    let words = format!("{:.1}", value.abs());
    match words.as_str() {
        "0.0" => words,
        _ if value < 0.0 => format!("−{words}"),
        _ => format!("+{words}"),
    }
}
