//! The page at the right: the entry that is shown, and what can be done with it.

use super::{BookView, Books, dish, draft_of, kind, words::COLUMN};
use crate::{
    app::{
        action::Action,
        carry::Carried,
        marks::{Icon, Level},
        sheet::parts,
        theme::{self, Lettering, STEP},
        view::View,
        widget::{Button, Card},
    },
    rotation::capital,
    store::{Entry, EntryId, OwnChange},
};
use egui::{Margin, ScrollArea, Ui};

pub(super) fn ui(ui: &mut Ui, view: &View<'_>, books: Books<'_>, book_view: &mut BookView, actions: &mut Vec<Action>) {
    waiting_draft(ui, view, book_view, actions);
    let shown = book_view.shown.as_ref().and_then(|id| id.find(view.book));
    let Some(entry) = shown else {
        nothing_shown(ui, books);
        return;
    };
    Card::new().room(Margin { left: 24, right: 12, top: 20, bottom: 12 }).show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        head(ui, view, books, book_view, &entry, actions);
        if let Some(why) = &book_view.refused {
            parts::remark(ui, Level::Stop, &format!("Not done: {why}"));
        }
        let mut scroll = ScrollArea::vertical().id_salt("entry").auto_shrink(false);
        if std::mem::take(&mut book_view.turned) {
            scroll = scroll.vertical_scroll_offset(0.0);
        }
        scroll.show(ui, |ui| {
            ui.set_max_width(COLUMN.min(ui.available_width() - 12.0));
            ui.spacing_mut().item_spacing.y = 6.0;
            let turned_to = match &entry {
                Entry::Dish(dish) => dish::ui(ui, view, dish),
                Entry::Kind(kind) => kind::ui(ui, view, kind),
            };
            ui.add_space(2.0 * STEP);
            if let Some(id) = turned_to {
                book_view.show(id);
            }
        });
    });
}

/// What stands at the right before an entry is chosen, and what could not be read.
fn nothing_shown(ui: &mut Ui, books: Books<'_>) {
    Card::new().room(24).show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        ui.set_max_width(COLUMN.min(ui.available_width() - 12.0));
        let palette = theme::palette(ui);
        ui.label(Lettering::Title.text("Dish book").color(palette.ink));
        let own = match books.own.entries().count() {
            0 => "None of it is your own yet.".to_string(),
            1 => "One entry is your own.".to_string(),
            n => format!("{n} entries are your own."),
        };
        parts::plain(
            ui,
            format!(
                "{} dishes of {} kinds. {own} Choose one at the left to see how it eats, what it needs and how it is made; make \
                 it your own to change it. What the book brings along is never changed. A recipe from a saved page becomes a dish of \
                 your own by \"Bring in a recipe…\", or dropped on this window.",
                books.shipped.dishes().count(),
                books.shipped.kinds().count()
            ),
        );
        if !books.own.troubles().is_empty() {
            ui.add_space(STEP);
            parts::plain(ui, "Not in the book, and left as it is:");
            for trouble in books.own.troubles() {
                parts::remark(ui, Level::Warn, &trouble.to_string());
            }
        }
    });
}

/// The strip that asks what is to become of what is being written while something else is looked at.
fn waiting_draft(ui: &mut Ui, view: &View<'_>, book_view: &mut BookView, actions: &mut Vec<Action>) {
    let Some(draft) = &book_view.draft else { return };
    let (name, sound) = (draft.name().to_string(), draft.sound(view.book).is_some());
    Card::new().room(Margin::symmetric(14, 8)).fill_width().show(ui, |ui| {
        let palette = theme::palette(ui);
        let said = Lettering::Body.text(format!("Not kept yet: {name}")).color(palette.ink);
        ui.add(egui::Label::new(said).truncate());
        ui.horizontal(|ui| {
            if ui.add(Button::quiet("Go on editing").icon(Icon::Pencil)).clicked() {
                book_view.go_on();
            }
            let save = ui.add_enabled(sound && !book_view.keeping, Button::quiet("Save").name(&format!("Save {name}")));
            if save.on_disabled_hover_text("Not yet: go on editing to see what is to be mended.").clicked() {
                actions.extend(book_view.keep(view.book).map(Action::Own));
            }
            let away = format!("Throw away the changes to {name}");
            let away = Button::plain("Throw away").name(&away);
            if ui.add_enabled(!book_view.keeping, away).clicked() {
                book_view.give_up();
                actions.push(Action::Say(format!("Thrown away: the changes to {name}")));
            }
        });
    });
}

fn head(ui: &mut Ui, view: &View<'_>, books: Books<'_>, book_view: &mut BookView, entry: &Entry, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let title = match entry {
        Entry::Dish(dish) => dish.name.clone(),
        Entry::Kind(kind) => capital(&kind.name),
    };
    ui.add(egui::Label::new(Lettering::Title.text(title).color(palette.ink)).wrap());
    parts::quiet(ui, whose_words(books, entry));
    ui.add_space(2.0);
    buttons(ui, view, books, book_view, entry, actions);
    ui.add_space(2.0);
    let line = ui.available_rect_before_wrap();
    ui.painter().hline(line.left()..=line.right() - 12.0, line.top(), egui::Stroke::new(palette.edge_width(), palette.hair));
    ui.add_space(2.0);
}

/// Whose entry it is.
fn whose_words(books: Books<'_>, entry: &Entry) -> String {
    let id = entry.id();
    let sort = match entry {
        Entry::Dish(_) => "dish",
        Entry::Kind(_) => "kind",
    };
    match (books.is_own(&id), books.covers(&id)) {
        (true, true) => {
            format!("Your own {sort}, in place of the book's; take yours away and the book's comes back.")
        }
        (true, false) => format!("Your own {sort}."),
        _ => format!("A {sort} of the book."),
    }
}

fn buttons(ui: &mut Ui, view: &View<'_>, books: Books<'_>, book_view: &mut BookView, entry: &Entry, actions: &mut Vec<Action>) {
    ui.horizontal_wrapped(|ui| {
        if let Entry::Dish(dish) = entry {
            let suits = dish.suits_family(&view.rotation.kind.family);
            let serve = ui.add_enabled(suits, Button::primary("Serve it at…"));
            let serve =
                serve.on_disabled_hover_text(format!("It is not made of {}, which is on the bench.", view.rotation.kind.name));
            if serve.clicked() {
                actions.push(Action::PickUp(Carried::Dish(dish.id.clone())));
            }
        }
        let own = books.is_own(&entry.id());
        let free = book_view.draft.is_none();
        let words = if own { "Change" } else { "Make it my own" };
        let write = ui.add_enabled(free, Button::quiet(words).icon(Icon::Pencil));
        let write = write.on_disabled_hover_text("First keep, or give up, what you are writing.");
        if write.clicked() {
            book_view.begin(draft_of(entry, books));
        }
        if own && free && ui.add(Button::quiet("Take away").icon(Icon::Bin)).clicked() {
            take_away(entry.id(), book_view, actions);
        }
        if let Entry::Dish(dish) = entry
            && !dish.suits_family(&view.rotation.kind.family)
        {
            parts::quiet(ui, format!("Not made of {}.", view.rotation.kind.name));
        }
    });
}

fn take_away(id: EntryId, book_view: &mut BookView, actions: &mut Vec<Action>) {
    book_view.refused = None;
    actions.push(Action::Own(OwnChange::TakeAway(id)));
}
