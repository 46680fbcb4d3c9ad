//! Sections that fold to a line, so that a page of many fields stays calm.

use super::figure::unread;
use crate::app::{
    bench::ink,
    marks::{self, Icon, Level},
    sheet::parts,
    theme::{self, FIELD_CORNER, Lettering, SMALL_STEP, STEP},
    widget::{Button, focus_ring},
};
use crate::quantity::write_units;
use egui::{Rect, Role, Sense, Stroke, Ui, Vec2, WidgetInfo, pos2, vec2};
use std::collections::{BTreeMap, BTreeSet};

/// Height of a section's line.
const LINE: f32 = 40.0;

/// Which sections are open, where the person has said so.
#[derive(Default)]
pub(super) struct Folds {
    said: BTreeMap<&'static str, bool>,
    /// All open, or all shut, but for those that were pressed since.
    all: Option<bool>,
    /// Sections with something in them that cannot be read: they stay open.
    unread: BTreeSet<&'static str>,
}

/// A section: what it is called, and what is in it.
pub(super) struct Section {
    /// Its name, unique on the page.
    pub title: &'static str,
    /// One line of what is in it, said while it is shut.
    pub summary: String,
    /// Whether it begins open.
    pub open: bool,
    /// How much of it the book does not take.
    pub faults: usize,
}

impl Folds {
    fn is_open(&mut self, section: &Section) -> bool {
        if section.faults > 0 || self.unread.contains(section.title) {
            // What is wrong is never out of sight, and does not go out of sight under the hand that mends it.
            self.said.insert(section.title, true);
        }
        self.said.get(section.title).copied().or(self.all).unwrap_or(section.open)
    }

    /// Draws a section, and what is in it where it is open.
    pub fn show(&mut self, ui: &mut Ui, section: Section, body: impl FnOnce(&mut Ui)) {
        let open = self.is_open(&section);
        if line_ui(ui, &section, open) {
            self.said.insert(section.title, !open);
        }
        if open {
            let before = unread(ui);
            parts::steady(ui, section.title, |ui| {
                body(ui);
                ui.add_space(STEP);
            });
            if unread(ui) > before {
                self.unread.insert(section.title);
            } else {
                self.unread.remove(section.title);
            }
        }
    }

    /// Opens or shuts everything.
    pub fn all_ui(&mut self, ui: &mut Ui) {
        ui.add_space(SMALL_STEP);
        ui.horizontal(|ui| {
            for (open, words) in [(true, "Unfold all"), (false, "Fold all")] {
                if ui.add(Button::quiet(words)).clicked() {
                    self.said.clear();
                    self.all = Some(open);
                }
            }
        });
    }
}

/// The line of a section; whether it was pressed.
fn line_ui(ui: &mut Ui, section: &Section, open: bool) -> bool {
    ui.add_space(SMALL_STEP);
    let palette = theme::palette(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), LINE), Sense::click());
    let faults = match section.faults {
        0 => String::new(),
        n => format!("{} to mend", write_units(n, "thing", "things")),
    };
    let summary = if open { "" } else { section.summary.as_str() };
    response.widget_info(|| {
        let said: Vec<&str> = [section.title, summary, &faults].into_iter().filter(|s| !s.is_empty()).collect();
        WidgetInfo::labeled(Role::Button, ui.is_enabled(), said.join(": "))
    });
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_expanded(open));
    if ui.is_rect_visible(rect) {
        let painter = ui.painter();
        painter.hline(rect.x_range(), rect.top(), Stroke::new(palette.edge_width(), palette.hair));
        if response.hovered() {
            painter.rect_filled(rect.shrink2(vec2(0.0, 2.0)), f32::from(FIELD_CORNER), palette.sunk);
        }
        let icon = if open { Icon::ChevronUp } else { Icon::ChevronDown };
        let mark = Rect::from_center_size(pos2(rect.left() + 10.0, rect.center().y), Vec2::splat(14.0));
        marks::icon(painter, mark, icon, palette.soft);
        let title = ink::lay(ui, section.title, Lettering::Head, palette.ink, rect.width() - 30.0, 1);
        let (wide, high) = (title.size().x, title.size().y);
        let base = rect.center().y + high / 2.0;
        ink::put(painter, pos2(mark.right() + STEP, base - high), title);
        let mut left = mark.right() + STEP + wide + 2.0 * STEP;
        if !faults.is_empty() {
            let place = Rect::from_center_size(pos2(left + 8.0, rect.center().y), Vec2::splat(16.0));
            marks::level(painter, place, Level::Stop, palette.stop);
            let words = ink::lay(ui, &faults, Lettering::Small, palette.stop, (rect.right() - place.right()).max(0.0), 1);
            left = place.right() + 6.0 + words.size().x + 2.0 * STEP;
            ink::put(painter, pos2(place.right() + 6.0, rect.center().y - words.size().y / 2.0), words);
        }
        let room = rect.right() - left - STEP;
        if room > 40.0 && !summary.is_empty() {
            let words = ink::lay(ui, summary, Lettering::Small, palette.soft, room, 1);
            ink::put(painter, pos2(left, rect.center().y - words.size().y / 2.0 + 1.0), words);
        }
        focus_ring(ui, &response, FIELD_CORNER);
    }
    response.on_hover_cursor(egui::CursorIcon::PointingHand).clicked()
}

/// The first few of `words`, and how many more there are: "cumin, yoghurt and 3 more"; `none` for nothing.
pub(super) fn some(words: impl Iterator<Item = impl AsRef<str>>, none: &str) -> String {
    const SAID: usize = 3;
    let words: Vec<String> = words.map(|w| w.as_ref().trim().to_string()).filter(|w| !w.is_empty()).collect();
    match words.len() {
        0 => none.into(),
        n if n <= SAID => words.join(", "),
        n => format!("{} and {} more", words[..SAID].join(", "), n - SAID),
    }
}

#[cfg(test)]
mod tests {
    use super::some;

    #[test]
    fn a_summary_says_a_few_and_counts_the_rest() {
        assert_eq!(some([""; 2].iter(), "none"), "none");
        assert_eq!(some(["a", " ", "b"].iter(), "none"), "a, b");
        assert_eq!(some(["a", "b", "c", "d", "e"].iter(), "none"), "a, b, c and 2 more");
    }
}
