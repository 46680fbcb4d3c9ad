//! Which kind of piece: one line once it is chosen, else a field to search in over a list in families.

use super::parts;
use crate::{
    app::{
        marks::Icon,
        theme::{SMALL_STEP, STEP},
        widget::{Button, Field},
    },
    book::{Kind, KindId},
    rotation::capital,
};
use egui::{Event, EventFilter, Id, Key, Rect, ScrollArea, Ui, vec2};
use std::sync::Arc;

/// How high the list is before it scrolls, in points: so much that the other questions of a start stay in a window 900 high.
const LIST: f32 = 168.0;
/// The height of a kind in the list.
const ROW: f32 = 34.0;

/// The choice of a kind, folded to a line or open.
#[derive(Default)]
pub(super) struct Kinds {
    open: bool,
    search: String,
    /// The kind that the keyboard is at: the list is one stop of the Tab key.
    at: Option<KindId>,
    /// The keyboard goes to the field, or back to the line, in the next frame.
    enter: bool,
    fold: bool,
}

impl Kinds {
    /// A choice that begins open.
    pub fn open() -> Kinds {
        Kinds { open: true, ..Kinds::default() }
    }

    /// Shows the choice; the kind that was chosen now, be it the same again.
    pub fn show<'k>(&mut self, ui: &mut Ui, kinds: impl Iterator<Item = &'k Arc<Kind>>, chosen: &Kind) -> Option<Arc<Kind>> {
        parts::steady(ui, "kinds", |ui| {
            if !self.open {
                self.line_ui(ui, chosen);
                return None;
            }
            let picked = self.open_ui(ui, sorted(kinds), chosen);
            if picked.is_some() {
                *self = Kinds { fold: true, ..Kinds::default() };
            }
            picked
        })
    }

    /// "Red cabbage", and beside it a way to another.
    fn line_ui(&mut self, ui: &mut Ui, chosen: &Kind) {
        ui.horizontal(|ui| {
            let own = parts::kind_button(ui, chosen, true, vec2(260.0_f32.min(ui.available_width() - 140.0), 40.0));
            let other = ui.add(Button::quiet("Another kind"));
            if std::mem::take(&mut self.fold) {
                other.request_focus();
            }
            if own.clicked() || other.clicked() {
                (self.open, self.enter, self.at) = (true, true, None);
            }
        });
    }

    fn open_ui(&mut self, ui: &mut Ui, kinds: Vec<Arc<Kind>>, chosen: &Kind) -> Option<Arc<Kind>> {
        let field = Field::new("Search kinds", &mut self.search).hint("Search kinds").icon(Icon::Search).label_hidden();
        let field = field.width(f32::INFINITY).show(ui);
        if std::mem::take(&mut self.enter) {
            field.request_focus();
        }
        let wanted = self.search.trim().to_lowercase();
        let fitting: Vec<Arc<Kind>> = kinds
            .into_iter()
            .filter(|k| k.name.to_lowercase().contains(&wanted) || family_words(k).to_lowercase().contains(&wanted))
            .collect();
        if field.changed() {
            self.at = None;
        }
        let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if entered
            && !wanted.is_empty()
            && let Some(first) = fitting.first()
        {
            return Some(first.clone());
        }
        // The keyboard arrives at the kind that is chosen, else at the first.
        let found = |id: &KindId| fitting.iter().position(|k| k.id == *id);
        let at = self.at.as_ref().and_then(found).or_else(|| found(&chosen.id)).unwrap_or(0);
        let down = field.has_focus() && ui.input(|i| i.key_pressed(Key::ArrowDown));
        if fitting.is_empty() {
            parts::quiet(ui, "No kind is called so: try another word, or choose the one it is most like.");
            return None;
        }
        ui.add_space(SMALL_STEP);
        self.list_ui(ui, &fitting, chosen, at, down)
    }

    /// The kinds that fit, in families, in columns.
    fn list_ui(&mut self, ui: &mut Ui, kinds: &[Arc<Kind>], chosen: &Kind, at: usize, down: bool) -> Option<Arc<Kind>> {
        let mut picked = None;
        let base = ui.make_persistent_id("kind");
        let id = |kind: &Kind| base.with(kind.id.as_str());
        ScrollArea::vertical().id_salt("kinds").max_height(LIST).min_scrolled_height(LIST).auto_shrink([false, true]).show(
            ui,
            |ui| {
                let width = ui.available_width() - STEP;
                let across = if width >= 420.0 { 3 } else { 2 };
                let wide = ((width - (across - 1) as f32 * SMALL_STEP) / across as f32).floor();
                let mut rects: Vec<Rect> = Vec::with_capacity(kinds.len());
                let mut first = 0;
                ui.spacing_mut().item_spacing = vec2(SMALL_STEP, SMALL_STEP);
                for family in kinds.chunk_by(|a, b| a.family == b.family) {
                    parts::quiet(ui, family.first().map(|k| family_words(k)).unwrap_or_default());
                    let lines = family.len().div_ceil(across);
                    let height = lines as f32 * (ROW + SMALL_STEP) - SMALL_STEP;
                    let (block, _) = ui.allocate_exact_size(vec2(width, height), egui::Sense::hover());
                    for (place, kind) in family.iter().enumerate() {
                        let (column, line) = ((place % across) as f32, (place / across) as f32);
                        let corner = block.min + vec2(column * (wide + SMALL_STEP), line * (ROW + SMALL_STEP));
                        let rect = Rect::from_min_size(corner, vec2(wide, ROW));
                        // Only one of them takes the keyboard by Tab.
                        let sense = if first + place == at { egui::Sense::click() } else { egui::Sense::CLICK };
                        let response = ui.interact(rect, id(kind), sense);
                        parts::kind_face(ui, &response, kind, kind.id == chosen.id);
                        if response.clicked() {
                            picked = Some(kind.clone());
                        }
                        rects.push(rect);
                    }
                    first += family.len();
                }
                if let Some(next) = walk(ui, kinds, &rects, at, id(&kinds[at]), down) {
                    self.at = Some(kinds[next].id.clone());
                    ui.memory_mut(|m| m.request_focus(id(&kinds[next])));
                    ui.scroll_to_rect(rects[next].expand(STEP), None);
                }
            },
        );
        picked
    }
}

/// Where the arrows, Home, End or a letter lead from `at`; `down` comes from the field above.
fn walk(ui: &Ui, kinds: &[Arc<Kind>], rects: &[Rect], at: usize, id: Id, down: bool) -> Option<usize> {
    if down {
        return Some(at);
    }
    if !ui.memory(|m| m.has_focus(id)) {
        return None;
    }
    let arrows = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|m| m.set_focus_lock_filter(id, arrows));
    let last = kinds.len() - 1;
    let here = rects[at];
    // Of the nearest line to that side the one that is most nearly above or below.
    let beside = |forth: bool| {
        let ahead = |r: &Rect| if forth { r.top() - here.top() } else { here.top() - r.top() };
        let near = |r: &Rect| ahead(r) + (r.left() - here.left()).abs() / 1_000.0;
        let on = rects.iter().enumerate().filter(|(_, r)| ahead(r) > 1.0);
        on.min_by(|a, b| near(a.1).total_cmp(&near(b.1))).map(|(place, _)| place)
    };
    let (keys, letter) = ui.input(|i| {
        let pressed = |key| i.key_pressed(key);
        let to = if pressed(Key::ArrowRight) {
            Some((at + 1).min(last))
        } else if pressed(Key::ArrowLeft) {
            Some(at.saturating_sub(1))
        } else if pressed(Key::ArrowDown) {
            beside(true)
        } else if pressed(Key::ArrowUp) {
            beside(false)
        } else if pressed(Key::Home) {
            Some(0)
        } else if pressed(Key::End) {
            Some(last)
        } else {
            None
        };
        let typed = i.events.iter().find_map(|e| if let Event::Text(t) = e { t.chars().next() } else { None });
        (to, typed.filter(|c| c.is_alphabetic()))
    });
    let begins = |place: &usize| {
        let first = kinds[*place].name.chars().next();
        letter.is_some_and(|l| first.is_some_and(|f| f.to_lowercase().eq(l.to_lowercase())))
    };
    // The next one of that letter, round the end.
    keys.or_else(|| (at + 1..kinds.len()).chain(0..=at).find(begins))
}

/// Kinds by family, then by name.
fn sorted<'k>(kinds: impl Iterator<Item = &'k Arc<Kind>>) -> Vec<Arc<Kind>> {
    let mut kinds: Vec<Arc<Kind>> = kinds.cloned().collect();
    kinds.sort_by_cached_key(|k| (k.family.clone(), k.name.to_lowercase()));
    kinds
}

/// "Hard root".
fn family_words(kind: &Kind) -> String {
    capital(&kind.family.replace('-', " "))
}
