//! The dish shelf: what could be served at the meal it is about, the least alike to its neighbours first.

use super::{Bench, hand, hand::OnClick, ink, inspector, kind_colour};
use crate::{
    app::{
        action::Action,
        book_view::Page,
        carry::{Carried, Offer},
        fill::has_open_meals,
        marks::{self, Icon},
        theme::{self, CARD_CORNER, Lettering},
        view::{View, level_of_verdict, texture_mark},
        widget::{Button, Edge, Field, focus_ring, paint_card, sunk},
    },
    book::{Dish, Role as DishRole},
    judge::Verdict,
    rotation::Slot,
};
use egui::{Id, Rect, Role, ScrollArea, Sense, Stroke, Ui, pos2, vec2};

/// Height of an entry.
const ENTRY: f32 = 102.0;
/// Room that the scroll bar takes.
const SCROLL_BAR: f32 = 10.0;
/// Air between entries.
const AIR: f32 = 8.0;
/// The longest a search is let be.
const MOST_SEARCH: usize = 80;

pub fn ui(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    let Some(slot) = bench.shelf_slot(view) else { return };
    sunk(ui).show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        let palette = theme::palette(ui);
        inspector::ui(ui, view, bench, actions);
        let title = format!("Dishes for {}", view.rotation.slot_name(slot));
        ui.add(egui::Label::new(Lettering::Head.text(title).color(palette.ink)).wrap());
        Field::new("Search dishes", &mut bench.search)
            .hint("Search dishes")
            .label_hidden()
            .icon(Icon::Search)
            .width(ui.available_width() - SCROLL_BAR)
            .show(ui);
        if bench.search.chars().count() > MOST_SEARCH {
            bench.search = bench.search.chars().take(MOST_SEARCH).collect();
        }
        if bench.search.is_empty() && has_open_meals(view) {
            // As wide as the entries below.
            let width = ui.available_width() - SCROLL_BAR;
            let fill = Button::quiet("Fill the open meals…").name("Fill the open meals").fill_width();
            let pressed = ui.allocate_ui(vec2(width, 0.0), |ui| ui.add(fill).clicked()).inner;
            if pressed {
                actions.push(Action::Turn(Page::Fill));
            }
        }
        let offers = bench.offers_for(view, slot);
        let wanted: Vec<&Offer> = offers.iter().filter(|o| matches_search(&o.dish, &bench.search)).collect();
        if wanted.is_empty() {
            let words = if bench.search.trim().is_empty() {
                format!("The book has no dish for {} yet.", view.rotation.kind.name)
            } else {
                format!("No dish answers to \"{}\": try a texture, a flavour or a method.", bench.search.trim())
            };
            ui.label(Lettering::Small.text(words).color(palette.soft));
            return;
        }
        let least = offers
            .iter()
            .filter(|o| {
                o.has_grams && o.not_for.is_empty() && o.served.is_none() && o.suits_part && o.dish.role == DishRole::Meal
            })
            .map(|o| o.dish.id.clone())
            .next();
        ScrollArea::vertical().id_salt("dishes").auto_shrink([false, false]).show_rows(ui, ENTRY, wanted.len(), |ui, range| {
            ui.spacing_mut().item_spacing.y = AIR;
            for offer in &wanted[range] {
                entry_ui(ui, view, slot, offer, least.as_ref() == Some(&offer.dish.id), bench, actions);
            }
        });
    });
}

/// Whether a dish answers to what is typed: every word somewhere in its name, textures, flavours, methods, company or needs.
fn matches_search(dish: &Dish, search: &str) -> bool {
    let p = &dish.profile;
    let mut words: Vec<String> = vec![dish.name.to_lowercase()];
    words.extend(p.texture.iter().map(|g| g.0.word().to_string()));
    words.extend(p.family.iter().map(|g| g.0.word().to_string()));
    words.extend(p.method.iter().map(|g| g.0.word().to_string()));
    words.extend(p.colour.iter().map(|g| g.0.word().to_string()));
    words.extend(p.heat.map(|h| h.word().to_string()));
    words.extend(p.form.map(|f| f.word().to_string()));
    words.extend(p.protein.map(|x| x.word().to_string()));
    words.extend(p.starch.map(|x| x.word().to_string()));
    words.extend(dish.companions.iter().map(|c| c.name.to_lowercase()));
    search.to_lowercase().split_whitespace().all(|wanted| words.iter().any(|w| w.contains(wanted)))
}

/// "crunchy · umami · fried, hot".
fn quiet_line(dish: &Dish) -> String {
    let p = &dish.profile;
    let how: Vec<&str> = [p.main_method().map(|m| m.word()), p.heat.map(|h| h.word())].into_iter().flatten().collect();
    let first: Vec<&str> =
        [p.main_texture().map(|t| t.word()), p.main_family().map(|f| f.word())].into_iter().flatten().collect();
    first.into_iter().map(str::to_string).chain((!how.is_empty()).then(|| how.join(", "))).collect::<Vec<_>>().join(" · ")
}

/// What is said of an offer at its foot.
fn remark(view: &View<'_>, slot: Slot, offer: &Offer, least: bool) -> (String, Verdict) {
    if offer.dish.role == DishRole::Bank {
        return ("keeps for later".into(), Verdict::Unknown);
    }
    if offer.dish.role == DishRole::Component {
        return ("made ahead".into(), Verdict::Unknown);
    }
    if !offer.has_grams {
        return ("nothing free for it".into(), Verdict::Unknown);
    }
    if !offer.not_for.is_empty() {
        let names: Vec<&str> = offer.not_for.iter().map(|e| view.rotation.household.name(*e)).collect();
        return (format!("not for {}", names.join(", ")), Verdict::Warn);
    }
    if let Some(served) = offer.served {
        let place = if served == slot { "here now".into() } else { format!("on {} already", view.rotation.day_name(served.day)) };
        return (place, Verdict::Unknown);
    }
    if !offer.suits_part {
        let wanted = offer.dish.parts.iter().filter_map(|p| view.rotation.kind.part(p)).map(|p| p.name.as_str()).next();
        return (wanted.map_or("another part".into(), |part| format!("wants {part}")), Verdict::Unknown);
    }
    let words = match (offer.verdict, offer.like) {
        (Verdict::Warn | Verdict::Caution, Some(like)) => format!("like {}", view.rotation.day_name(like.day)),
        _ if least => "least alike".into(),
        _ => "fine".into(),
    };
    (words, offer.verdict)
}

fn entry_ui(ui: &mut Ui, view: &View<'_>, slot: Slot, offer: &Offer, least: bool, bench: &mut Bench, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let dish = &offer.dish;
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), ENTRY));
    let id = Id::unique(("dish", dish.id.as_str().to_owned()));
    let response = ui.interact(rect, id, Sense::click_and_drag());
    let (said, verdict) = remark(view, slot, offer, least);
    let name = format!("{}, dish, {}, {}, {said}", dish.name, quiet_line(dish), view.grams(offer.grams));
    hand::named(ui, &response, Role::Button, &name);
    let carried = Carried::Dish(dish.id.clone());
    if response.clicked() {
        bench.chosen = Some(dish.id.clone());
    }
    hand::source(ui, &response, &carried, slot, OnClick::PicksUp, bench, actions);
    if !ui.is_rect_visible(rect) {
        return;
    }
    let in_hand = bench.carry.as_ref().is_some_and(|c| c.what == carried);
    let chosen = bench.chosen.as_ref() == Some(&dish.id);
    let line = match () {
        () if in_hand || chosen => Stroke::new(2.0, palette.accent),
        () if response.hovered() => Stroke::new(palette.edge_width(), palette.ink),
        () => Stroke::new(palette.edge_width(), palette.hair),
    };
    let ground =
        if offer.has_grams || dish.role != DishRole::Meal { palette.card } else { theme::mix(palette.card, palette.sunk, 0.6) };
    paint_card(ui.painter(), rect, ground, Edge::Thin, line);
    let inside = rect.shrink(12.0);
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let mut indent = 0.0;
    if let Some(texture) = dish.profile.main_texture() {
        let mark = Rect::from_min_size(inside.min + vec2(0.0, 1.0), vec2(18.0, 18.0));
        marks::texture(&painter, mark, texture_mark(texture), palette.piece_edge(kind_colour(view)));
        indent = 26.0;
    }
    let at =
        ink::put(&painter, inside.min, ink::lay_after(ui, &dish.name, Lettering::Dish, palette.ink, inside.width(), 2, indent));
    ink::put(
        &painter,
        pos2(inside.left(), at.y + 3.0),
        ink::lay(ui, &quiet_line(dish), Lettering::Small, palette.soft, inside.width(), 1),
    );
    let foot = Rect::from_min_max(pos2(inside.left(), inside.bottom() - 16.0), inside.max);
    let colour = if verdict == Verdict::Unknown { palette.soft } else { level_of_verdict(verdict).colour(palette) };
    let taken = ink::put_right(&painter, foot, ink::lay(ui, &said, Lettering::SmallStrong, colour, foot.width() * 0.6, 1));
    let grams = if offer.grams > 0 {
        format!("{} · {} min", view.grams(offer.grams), dish.minutes.1)
    } else {
        format!("{} min", dish.minutes.1)
    };
    let words = ink::lay(ui, &grams, Lettering::Small, palette.ink, foot.width() - taken - 6.0, 1);
    ink::put(&painter, pos2(foot.left(), foot.center().y - words.size().y / 2.0), words);
    focus_ring(ui, &response, CARD_CORNER);
    let parts: Vec<&str> = dish.parts.iter().filter_map(|p| view.rotation.kind.part(p)).map(|p| p.name.as_str()).collect();
    let from = if parts.is_empty() { String::new() } else { format!("\nMade of {}.", parts.join(" or ")) };
    let needs: Vec<&str> = dish.companions.iter().map(|c| c.name.as_str()).collect();
    let needs = if needs.is_empty() { String::new() } else { format!("\nNeeds {}.", needs.join(", ")) };
    response.on_hover_cursor(egui::CursorIcon::Grab).on_hover_text(format!(
        "{}{from}{needs}\n{} min of hands, {} in all. Drag to a meal, or click and then click a meal.",
        dish.name, dish.minutes.0, dish.minutes.1
    ));
}
