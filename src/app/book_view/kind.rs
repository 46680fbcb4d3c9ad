//! A kind as it is shown.

use super::{
    dish::{diet_words, sources},
    words::{fact, fact_with, named, section},
};
use crate::{
    app::{
        bench::ink,
        marks::Level,
        sheet::parts,
        theme::{self, FIELD_CORNER, Lettering, STEP},
        view::View,
        widget::Button,
    },
    book::Kind,
    quantity::write_units,
    rotation::capital,
    store::EntryId,
};
use egui::{Rect, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

/// Height of the block.
const BLOCK: f32 = 44.0;

/// Draws the kind; gives the entry that the person turned to from it.
pub(super) fn ui(ui: &mut Ui, view: &View<'_>, kind: &Kind) -> Option<EntryId> {
    section(ui, "What is in it");
    block(ui, &lots(kind), parts::kind_colour(kind));
    let (least, typical, most) = kind.mass;
    fact(ui, "As bought", format!("mostly {}; from {} to {}", view.grams(typical), view.grams(least), view.grams(most)));
    for part in &kind.parts {
        let raw = if kind.is_cooked_whole() { String::new() } else { format!(", raw it keeps {}", part.raw_days) };
        let nice = part.nice_days.map_or(String::new(), |n| format!(" and eats well for {n}"));
        let unit = part.unit.as_ref().map_or(String::new(), |(word, mass)| format!("; one {word} {}", view.portion(*mass)));
        fact(ui, &capital(&part.name), format!("{}{raw}{nice}{unit}. For {}.", share(part.share.get()), part.suits));
    }
    let trim: Vec<String> = kind.trim.iter().map(|t| format!("{} {}", t.name, share(t.share.get()))).collect();
    let range =
        kind.trim_range.map_or(String::new(), |(a, b)| format!("; all trim from {} to {}", share(a.get()), share(b.get())));
    if !trim.is_empty() {
        fact(ui, "Trimmed away", trim.join(", ") + &range);
    }
    keeping(ui, kind);
    cooking(ui, kind);
    section(ui, "Who may eat it");
    fact(ui, "Diet", diet_words(kind.diet));
    let allergens: Vec<&str> = kind.allergens.iter().map(|a| a.word()).collect();
    fact(ui, "Allergens", if allergens.is_empty() { "none".into() } else { allergens.join(", ") });
    if !kind.hazards.is_empty() {
        section(ui, "Beware");
        kind.hazards.iter().for_each(|h| parts::remark(ui, Level::Caution, h));
    }
    let turned = stand_ins(ui, view, kind);
    fact(ui, "Family", dishes_words(view, kind));
    sources(ui, &kind.sources);
    turned
}

fn dishes_words(view: &View<'_>, kind: &Kind) -> String {
    format!("{}; {} of the book suit it", kind.family, write_units(view.book.dishes_for(kind).count(), "dish", "dishes"))
}

fn keeping(ui: &mut Ui, kind: &Kind) {
    section(ui, "How long it keeps");
    for whole in &kind.whole {
        let (least, most) = whole.days;
        let days = if least == most { format!("{least} days") } else { format!("{least} to {most} days") };
        fact(ui, "Unopened", format!("{}: {days}", whole.place));
    }
    fact(ui, "The clock starts", format!("when it is {}", kind.clock_starts));
    let cut: Vec<String> = kind.cut_forms.iter().map(|c| format!("{} {}", c.form.word(), c.days)).collect();
    fact(ui, "Cut and raw", cut.join(", "));
    let nice = kind.cooked_nice_days.map_or(String::new(), |n| format!(", eats well for {n}"));
    fact(ui, "Cooked", format!("{}{nice}", kind.cooked_days));
}

fn cooking(ui: &mut Ui, kind: &Kind) {
    if kind.yields.is_empty() && kind.cups.is_empty() && kind.cup.is_none() {
        return;
    }
    section(ui, "What comes of it");
    let yields: Vec<String> = kind.yields.iter().map(|y| format!("{} {}", y.method.word(), share(y.share.get()))).collect();
    fact(ui, "Cooked from raw", yields.join(", "));
    let grams = |g: f64| format!("{}\u{a0}g", super::words::number(g));
    let mut cups: Vec<String> = kind.cups.iter().map(|c| format!("{} {}", c.form.word(), grams(c.grams.0))).collect();
    if cups.is_empty() {
        cups.extend(kind.cup.map(|c| grams(c.0)));
    }
    fact(ui, "A US cup", cups.join(", "));
}

/// Which kinds can take its place, nearest first, and what each changes in time.
fn stand_ins(ui: &mut Ui, view: &View<'_>, kind: &Kind) -> Option<EntryId> {
    let mut turned = None;
    section(ui, "In its place");
    if !kind.stand_ins.is_empty() {
        fact_with(ui, "Can stand in", |ui| {
            for stand_in in &kind.stand_ins {
                ui.horizontal_wrapped(|ui| {
                    let name = view.book.kind(&stand_in.kind).map_or(stand_in.kind.as_str(), |k| k.name.as_str());
                    if ui.add(Button::quiet(name).name(&format!("Show {name}"))).clicked() {
                        turned = Some(EntryId::Kind(stand_in.kind.clone()));
                    }
                    let times = stand_in.words();
                    parts::quiet(ui, if times.is_empty() { "no change in time".into() } else { times });
                });
            }
        });
    }
    turned
}

/// "11.7 %".
pub(super) fn share(per_mille: u16) -> String {
    match per_mille % 10 {
        0 => format!("{}\u{a0}%", per_mille / 10),
        tenth => format!("{}.{tenth}\u{a0}%", per_mille / 10),
    }
}

/// One stretch of the block.
pub(super) struct Lot {
    /// What it is called.
    pub name: String,
    /// Thousandths of the mass as bought.
    pub share: u16,
    /// Whether it is lost.
    pub trim: bool,
}

/// Parts, then trim.
fn lots(kind: &Kind) -> Vec<Lot> {
    let parts = kind.parts.iter().map(|p| Lot { name: p.name.clone(), share: p.share.get(), trim: false });
    let trim = kind.trim.iter().map(|t| Lot { name: t.name.clone(), share: t.share.get(), trim: true });
    parts.chain(trim).collect()
}

/// The piece to scale: parts in its colour, trim dashed and pale. One thing to a screen reader.
pub(super) fn block(ui: &mut Ui, lots: &[Lot], colour: egui::Color32) {
    let palette = theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), BLOCK + 22.0), Sense::hover());
    let said: Vec<String> = lots.iter().map(|l| format!("{} {}", l.name, share(l.share))).collect();
    named(ui, &response, &format!("As bought: {}", said.join(", ")));
    let sum: f32 = lots.iter().map(|l| f32::from(l.share)).sum();
    if sum <= 0.0 || !ui.is_rect_visible(rect) {
        return;
    }
    let gap = 3.0;
    let room = rect.width() - gap * (lots.len().saturating_sub(1)) as f32;
    let mut left = rect.left();
    for lot in lots {
        let width = room * f32::from(lot.share) / sum;
        let place = Rect::from_min_size(pos2(left, rect.top()), vec2(width, BLOCK));
        left += width + gap;
        let (ground, line) = if lot.trim {
            (palette.card, Stroke::new(palette.edge_width(), palette.line))
        } else {
            (palette.piece_tint(colour), Stroke::new(palette.edge_width(), palette.piece_edge(colour)))
        };
        ui.painter().rect_filled(place, f32::from(FIELD_CORNER), ground);
        if lot.trim {
            crate::app::widget::edge(ui.painter(), place, f32::from(FIELD_CORNER), crate::app::widget::Edge::Dashed, line);
        } else {
            ui.painter().rect_stroke(place, f32::from(FIELD_CORNER), line, StrokeKind::Inside);
        }
        let ink_colour = if lot.trim { palette.soft } else { palette.ink };
        let words = ink::lay(ui, &share(lot.share), Lettering::SmallStrong, ink_colour, width - STEP, 1);
        if words.size().x + 4.0 <= width {
            ink::put_centre(ui.painter(), place, words);
        }
        let under = Rect::from_min_size(pos2(place.left(), place.bottom() + 4.0), vec2(width, 18.0));
        if width > 44.0 {
            ink::put_centre(ui.painter(), under, ink::lay(ui, &lot.name, Lettering::Small, palette.soft, width, 1));
        }
    }
}
