//! The list at the left: search, what narrows it, and the entries.

use super::{
    BookView, Books, Draft,
    dish_draft::DishDraft,
    filter::{Listed, Sort},
    kind_draft::KindDraft,
    shelf_filters,
    words::swatch,
};
use crate::{
    app::{
        action::Action,
        bench::ink,
        files::FileAction,
        marks::{self, Icon},
        sheet::parts,
        theme::{self, CARD_CORNER, Lettering, STEP},
        view::{View, profile_lines, spoken, texture_mark},
        widget::{Button, Edge, Field, IconButton, focus_ring, paint_card, sunk},
    },
    quantity::write_units,
    rotation::capital,
    store::{Entry, EntryId, OwnChange},
};
use egui::{EventFilter, Id, Key, Modifiers, Rect, Role, ScrollArea, Sense, Stroke, Ui, Vec2, WidgetInfo, pos2, vec2};

/// Height of an entry.
const ROW: f32 = 82.0;
/// Height of an entry where there is little room.
const LOW_ROW: f32 = 60.0;
/// Under this height of the list entries are low.
const LOW: f32 = 430.0;
/// Air between entries.
const AIR: f32 = 6.0;
/// The longest a search is let be.
const MOST_SEARCH: usize = 80;
/// Up and down belong to the list while the keyboard is on an entry.
const WALKING: EventFilter = EventFilter { tab: false, horizontal_arrows: false, vertical_arrows: true, escape: false };

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, books: Books<'_>, book_view: &mut BookView, actions: &mut Vec<Action>) {
    sunk(ui).show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        head(ui, view, book_view);
        bring_in_ui(ui, book_view, actions);
        Field::new("Search the book", &mut book_view.filters.search)
            .hint("Search the book")
            .label_hidden()
            .icon(Icon::Search)
            .width(ui.available_width())
            .show(ui);
        if book_view.filters.search.chars().count() > MOST_SEARCH {
            book_view.filters.search = book_view.filters.search.chars().take(MOST_SEARCH).collect();
        }
        shelf_filters::ui(ui, view, &mut book_view.filters);
        let family = &view.rotation.kind.family;
        let listed = Listed::of(book_view.listed.take(), &book_view.filters, view.book, books.own, family);
        count_ui(ui, book_view, listed.entries.len());
        foot(ui, books, actions);
        if listed.entries.is_empty() {
            parts::quiet(ui, empty_words(book_view));
        } else {
            entries_ui(ui, view, books, book_view, &listed);
        }
        book_view.listed = Some(listed);
    });
}

fn head(ui: &mut Ui, view: &View<'_>, book_view: &mut BookView) {
    ui.horizontal(|ui| {
        for (sort, words) in [(Sort::Dishes, "Dishes"), (Sort::Kinds, "Kinds")] {
            if ui.add(Button::tab(words, book_view.filters.sort == sort)).clicked() {
                book_view.filters.sort = sort;
            }
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| new_ui(ui, view, book_view));
    });
}

/// Begins a new entry, while nothing else is being written.
fn new_ui(ui: &mut Ui, view: &View<'_>, book_view: &mut BookView) {
    let kind = &view.rotation.kind;
    let sort = book_view.filters.sort;
    let words = match sort {
        Sort::Dishes => "New dish",
        Sort::Kinds => "New kind",
    };
    let button = ui.add_enabled(book_view.draft.is_none(), Button::plain(words).icon(Icon::Plus));
    if button.on_disabled_hover_text("First keep, or give up, what you are writing.").clicked() {
        book_view.begin(match sort {
            Sort::Dishes => Draft::Dish(Box::new(DishDraft::blank(kind))),
            Sort::Kinds => Draft::Kind(Box::new(KindDraft::blank(kind))),
        });
    }
}

/// A dish can also come out of a saved page.
fn bring_in_ui(ui: &mut Ui, book_view: &BookView, actions: &mut Vec<Action>) {
    if book_view.filters.sort == Sort::Dishes
        && ui.add(Button::quiet("Bring in a recipe…").icon(Icon::ArrowRight).fill_width()).clicked()
    {
        actions.push(Action::File(FileAction::BringIn));
    }
}

fn count_ui(ui: &mut Ui, book_view: &mut BookView, count: usize) {
    let words = match book_view.filters.sort {
        Sort::Dishes => write_units(count, "dish", "dishes"),
        Sort::Kinds => write_units(count, "kind", "kinds"),
    };
    ui.horizontal(|ui| {
        ui.set_min_height(28.0);
        parts::quiet(ui, words);
        if book_view.filters.narrows() {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if ui.add(Button::plain("Show all")).clicked() {
                    book_view.filters.clear();
                }
            });
        }
    });
}

fn empty_words(book_view: &BookView) -> String {
    let search = book_view.filters.search.trim();
    if book_view.filters.own && search.is_empty() {
        "Nothing of your own yet. Show an entry and press \"Make it my own\", or begin a new one.".into()
    } else if search.is_empty() {
        "Nothing in the book answers to all of this: take something off above.".into()
    } else {
        format!("Nothing answers to \"{search}\": try a texture, a flavour, a method or an ingredient.")
    }
}

/// What was taken away last, to be brought back.
fn foot(ui: &mut Ui, books: Books<'_>, actions: &mut Vec<Action>) {
    let Some(taken) = books.own.last_taken() else { return };
    let name = taken.name().to_string();
    egui::Panel::bottom("book foot").frame(egui::Frame::new()).show_separator_line(false).resizable(false).show(ui, |ui| {
        ui.add_space(STEP);
        ui.horizontal(|ui| {
            let words = format!("Undo: take away {name}");
            if ui.add(IconButton::new(Icon::Undo, &words).hint(&format!("{words} (Ctrl+Z)")).framed()).clicked() {
                actions.push(Action::Own(OwnChange::BringBack));
            }
            let palette = theme::palette(ui);
            let said = Lettering::Small.text(format!("Taken away: {name}")).color(palette.soft);
            ui.add(egui::Label::new(said).truncate());
        });
    });
}

fn row_id(id: &EntryId) -> Id {
    Id::unique(("book entry", id.clone()))
}

fn entries_ui(ui: &mut Ui, view: &View<'_>, books: Books<'_>, book_view: &mut BookView, listed: &Listed) {
    ui.spacing_mut().item_spacing.y = AIR;
    let row = if ui.available_height() < LOW { LOW_ROW } else { ROW };
    let step = row + AIR;
    let mut scroll = ScrollArea::vertical().id_salt(("book entries", book_view.filters.sort as u8)).auto_shrink([false, false]);
    if let Some(id) = book_view.focus_row.take()
        && let Some(place) = listed.place_of(&id)
    {
        // An entry that is not drawn cannot take the keyboard: it is brought into sight first.
        let top = place as f32 * step;
        let at = book_view.scrolled;
        let room = ui.available_height();
        if top < at {
            scroll = scroll.vertical_scroll_offset(top);
        } else if top + row > at + room {
            scroll = scroll.vertical_scroll_offset(top + row - room);
        }
        ui.memory_mut(|m| m.request_focus(row_id(&id)));
    }
    let walk = walked(ui, listed);
    let shown = scroll.show_rows(ui, row, listed.entries.len(), |ui, range| {
        ui.spacing_mut().item_spacing.y = AIR;
        for entry in &listed.entries[range] {
            row_ui(ui, view, books, book_view, entry, row);
        }
    });
    book_view.scrolled = shown.state.clamped_offset().y;
    if let Some(to) = walk {
        book_view.show(to.clone());
        book_view.focus_row = Some(to);
        ui.ctx().request_repaint();
    }
}

/// Where the arrows lead from the entry that has the keyboard.
fn walked(ui: &mut Ui, listed: &Listed) -> Option<EntryId> {
    let focused = ui.memory(|m| m.focused())?;
    let here = listed.entries.iter().position(|e| row_id(&e.id()) == focused)?;
    ui.memory_mut(|m| m.set_focus_lock_filter(focused, WALKING));
    let pressed = |ui: &mut Ui, key| ui.input_mut(|i| i.consume_key(Modifiers::NONE, key));
    let last = listed.entries.len() - 1;
    let to = if pressed(ui, Key::ArrowDown) {
        (here + 1).min(last)
    } else if pressed(ui, Key::ArrowUp) {
        here.saturating_sub(1)
    } else {
        return None;
    };
    (to != here).then(|| listed.entries[to].id())
}

/// The quiet line under an entry's name.
fn quiet_line(view: &View<'_>, entry: &Entry) -> String {
    match entry {
        Entry::Dish(dish) => {
            let (first, second) = profile_lines(dish);
            let how = second.split(" · ").next().unwrap_or_default().to_string();
            let time = format!("{}\u{a0}min", dish.minutes.1);
            [first, how, time].into_iter().filter(|s| !s.is_empty()).collect::<Vec<_>>().join(" · ")
        }
        Entry::Kind(kind) => {
            format!("{} · {} to {}", kind.family, view.grams(kind.mass.0), view.grams(kind.mass.2))
        }
    }
}

fn row_ui(ui: &mut Ui, view: &View<'_>, books: Books<'_>, book_view: &mut BookView, entry: &Entry, height: f32) {
    let palette = theme::palette(ui);
    let id = entry.id();
    let (_, rect) = ui.allocate_space(vec2(ui.available_width(), height));
    let response = ui.interact(rect, row_id(&id), Sense::click());
    let shown = !book_view.looking && book_view.draft.is_some();
    let chosen = !shown && book_view.shown.as_ref() == Some(&id);
    let own = match (books.is_own(&id), books.covers(&id)) {
        (true, true) => ", your own, in place of the book's",
        (true, false) => ", your own",
        _ => "",
    };
    let (sort, title) = match entry {
        Entry::Dish(dish) => ("dish", dish.name.clone()),
        Entry::Kind(kind) => ("kind", capital(&kind.name)),
    };
    let line = quiet_line(view, entry);
    let name = format!("{title}, {sort}, {line}{own}");
    response.widget_info(|| WidgetInfo::selected(Role::Button, ui.is_enabled(), chosen, spoken(&name)));
    if response.clicked() {
        book_view.show(id.clone());
    }
    if !ui.is_rect_visible(rect) {
        return;
    }
    let edge = match () {
        () if chosen => Stroke::new(2.0, palette.accent),
        () if response.hovered() => Stroke::new(palette.edge_width(), palette.ink),
        () => Stroke::new(palette.edge_width(), palette.hair),
    };
    paint_card(ui.painter(), rect, palette.card, Edge::Thin, edge);
    let inside = rect.shrink2(vec2(12.0, 10.0));
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let mark = Rect::from_center_size(pos2(inside.left() + 9.0, rect.center().y), Vec2::splat(18.0));
    match entry {
        Entry::Dish(dish) => {
            if let Some(texture) = dish.profile.main_texture() {
                marks::texture(&painter, mark, texture_mark(texture), palette.ink);
            }
        }
        Entry::Kind(kind) => swatch(&painter, palette, mark, parts::kind_colour(kind)),
    }
    let left = inside.left() + 28.0;
    let mut right = inside.right();
    if books.is_own(&id) {
        let head = Rect::from_min_max(inside.min, pos2(inside.right(), inside.top() + 20.0));
        right -= ink::put_right(&painter, head, ink::lay(ui, "own", Lettering::SmallStrong, palette.accent, 60.0, 1)) + 8.0;
    }
    let rows = if height < ROW { 1 } else { 2 };
    let words = ink::lay(ui, &title, Lettering::Dish, palette.ink, right - left, rows);
    let quiet = ink::lay(ui, &line, Lettering::Small, palette.soft, inside.right() - left, 1);
    let top = rect.center().y - (words.size().y + 1.0 + quiet.size().y) / 2.0;
    let below = ink::put(&painter, pos2(left, top), words);
    ink::put(&painter, pos2(left, below.y + 1.0), quiet);
    focus_ring(ui, &response, CARD_CORNER);
    response.on_hover_text(title);
}
