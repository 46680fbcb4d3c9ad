//! The bench: the piece above, the calendar in the middle, dishes on one side, findings on the other, one line below.

mod block;
pub(super) mod bottom;
mod calendar;
mod clocks;
mod findings;
mod fits;
pub(super) mod hand;
pub(super) mod header;
pub(super) mod ink;
mod inspector;
mod link;
mod meal_card;
mod shelf;

use super::{
    action::Action,
    book_view::Page,
    carry::{Carry, Held, Offer, Previews},
    desk::Settings,
    files::Files,
    theme::{self, STEP},
    view::View,
};
use crate::{
    book::DishId,
    rotation::{BatchId, FindingKey, GestureId, History, Rotation, Slot},
};
use egui::{Color32, FocusDirection, Frame as Ground, Id, Key, Margin, Modifiers, Panel, Ui};
use std::sync::Arc;

/// Under this width the shelf and the findings fold into drawers.
const NARROW: f32 = 1150.0;
/// Width of the dish shelf.
const SHELF_WIDTH: f32 = 280.0;
/// Width of the findings.
const FINDINGS_WIDTH: f32 = 312.0;
/// Room at the window's edges.
pub(super) const MARGIN: i8 = 24;

/// Under what it is remembered that the page is to have the keyboard.
const INTO_THE_PAGE: &str = "the keyboard goes into the page";

/// Which drawer is open in a narrow window.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Drawer {
    #[default]
    None,
    Shelf,
    Findings,
}

/// What the bench remembers between frames that is neither plan nor drawing: selection, hand, drawers.
#[derive(Default)]
pub struct Bench {
    /// The selected meal.
    pub selected: Option<Slot>,
    /// The dish chosen on the shelf.
    pub chosen: Option<DishId>,
    /// What is in the hand.
    pub carry: Option<Carry>,
    /// What is typed in the shelf's search.
    pub search: String,
    previews: Previews,
    reason: Option<Reason>,
    drawer: Drawer,
    /// The cell under the pointer, found anew each frame.
    under_pointer: Option<(Slot, egui::Rect)>,
    /// Whether the pointer is over the block, where a meal can be taken off.
    over_block: bool,
    /// The cell that takes the keyboard in the next frame.
    focus_next: Option<Slot>,
    /// The cell to bring into view.
    scroll_to: Option<Slot>,
    /// What is typed for a serving's grams.
    grams: Option<GramsField>,
    offers: Option<Offers>,
    fits: fits::Fits,
    gesture: u64,
    /// Whether the window is so low that meals are drawn closer.
    dense: bool,
}

/// What the shelf offers for one meal at one revision.
struct Offers {
    revision: u64,
    slot: Slot,
    offers: Arc<[Offer]>,
}

/// Why a finding is left be, as it is being typed.
struct Reason {
    key: FindingKey,
    text: String,
    /// Whether the field has just been opened and wants the keyboard.
    fresh: bool,
}

/// What is typed for one serving, as long as the field has the keyboard.
struct GramsField {
    slot: Slot,
    batch: BatchId,
    text: String,
    error: Option<String>,
}

impl Bench {
    /// In the next frame the selected meal has the keyboard, or the first of the calendar.
    pub fn keyboard_to_the_calendar(&mut self, rotation: &Rotation) {
        self.focus_next = self.selected.or_else(|| rotation.slots().next());
    }

    /// Selects a meal, or none.
    pub fn select(&mut self, slot: Option<Slot>) {
        if self.selected != slot {
            self.grams = None;
        }
        self.selected = slot;
    }

    /// Selects the meal at which something was put down; the keyboard goes on from there if it carried.
    pub fn put_down_at(&mut self, slot: Slot, held: Held) {
        self.select(Some(slot));
        if matches!(held, Held::Keys(_)) {
            self.focus_next = Some(slot);
        }
    }

    /// Opens the field for the reason to overrule a finding.
    pub fn ask_reason(&mut self, key: FindingKey) {
        self.reason = Some(Reason { key, text: String::new(), fresh: true });
    }

    /// Forgets what was offered from the book as it was.
    pub fn book_changed(&mut self) {
        self.offers = None;
        self.fits = fits::Fits::default();
        self.previews = Previews::default();
    }

    /// Forgets what no longer is in the plan.
    pub fn plan_changed(&mut self, rotation: &Rotation) {
        self.selected = self.selected.filter(|s| rotation.has_slot(*s));
        if self.grams.as_ref().is_some_and(|g| rotation.meal(g.slot).serving(g.batch).is_none()) {
            self.grams = None;
        }
    }

    /// A number for a fresh gesture.
    fn next_gesture(&mut self) -> GestureId {
        self.gesture += 1;
        GestureId(self.gesture)
    }

    /// The offers for a meal, ranked once for each revision.
    fn offers_for(&mut self, view: &View<'_>, slot: Slot) -> Arc<[Offer]> {
        let key = (view.revision, slot);
        match &self.offers {
            Some(known) if (known.revision, known.slot) == key => known.offers.clone(),
            _ => {
                let offers: Arc<[Offer]> = super::carry::offers(view, slot).into();
                self.offers = Some(Offers { revision: view.revision, slot, offers: offers.clone() });
                offers
            }
        }
    }

    /// The meal that the shelf is about: the selected one; else, while something is free, the first empty one (suppers, the
    /// last mealtime of the day, before others); else the one that most wants mending; else the first.
    fn shelf_slot(&self, view: &View<'_>) -> Option<Slot> {
        let r = view.rotation;
        let main = r.mealtimes.last().map(|m| m.id);
        let open = |s: &Slot| r.meal(*s).servings.is_empty() && !r.eaters_at(*s).is_empty();
        let free = view.judged.balance.unallocated > 0;
        let empty = || r.slots().filter(|_| free).filter(open).min_by_key(|s| Some(s.mealtime) != main);
        let worst = || view.judged.findings.iter().filter(|f| f.speaks()).find_map(|f| f.meal);
        self.selected.or_else(empty).or_else(worst).or_else(|| r.slots().next())
    }
}

/// What one frame of the bench is drawn from.
#[derive(Clone, Copy)]
pub struct Frame<'a> {
    /// The plan and all that is known of it.
    pub view: View<'a>,
    /// Its history, for undo's words.
    pub history: &'a History,
    /// The settings.
    pub settings: Settings,
    /// Files, for the recent ones.
    pub files: &'a Files,
    /// What happened last.
    pub live: &'a str,
    /// Whether a sheet or a question lies over the bench.
    pub modal: bool,
    /// Which page is open.
    pub page: Page,
}

/// The head and the bottom line, which are the same around every page, so that nothing moves when the page is turned.
pub(super) fn around(ui: &mut Ui, frame: &Frame<'_>, actions: &mut Vec<Action>) {
    let palette = theme::palette(ui);
    let head = Ground::new().fill(palette.paper).inner_margin(Margin { left: MARGIN, right: MARGIN, top: 12, bottom: 8 });
    Panel::top("head").frame(head).resizable(false).show_separator_line(false).show(ui, |ui| header::ui(ui, frame, actions));
    let line = Ground::new().fill(palette.card).inner_margin(Margin::symmetric(MARGIN, 8));
    let below = Panel::bottom("line").frame(line).resizable(false).show_separator_line(false);
    below.show(ui, |ui| bottom::ui(ui, frame, actions));
    if frame.page != Page::Bench && !frame.modal {
        let turned = ui.ctx().data_mut(|d| d.remove_temp::<bool>(Id::unique(INTO_THE_PAGE))).is_some();
        if turned || ui.input_mut(|i| i.consume_key(Modifiers::NONE, Key::F6)) {
            // Whatever comes next and wants the keyboard is the first thing on the page.
            ui.memory_mut(|m| {
                m.stop_text_input();
                m.move_focus(FocusDirection::Next);
            });
        }
    }
}

/// In the next frame the first thing of the page has the keyboard.
pub(super) fn keyboard_to_the_page(ctx: &egui::Context) {
    ctx.data_mut(|d| d.insert_temp(Id::unique(INTO_THE_PAGE), true));
}

/// Draws the bench.
pub fn ui(ui: &mut Ui, frame: Frame<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    let view = frame.view;
    bench.under_pointer = None;
    bench.over_block = false;
    if !frame.modal {
        hand::keys(ui, &view, bench, actions);
    }
    let palette = theme::palette(ui);
    let paper = Ground::new().fill(palette.paper);
    around(ui, &frame, actions);
    let top = paper.inner_margin(Margin { left: MARGIN, right: MARGIN, top: 0, bottom: 8 });
    Panel::top("block")
        .frame(top)
        .resizable(false)
        .show_separator_line(false)
        .show(ui, |ui| block::ui(ui, &view, bench, actions));

    let narrow = ui.available_width() < NARROW;
    if narrow {
        let bar = paper.inner_margin(Margin { left: MARGIN, right: MARGIN, top: 0, bottom: 8 });
        Panel::top("drawers")
            .frame(bar)
            .resizable(false)
            .show_separator_line(false)
            .show(ui, |ui| drawer_buttons(ui, &view, bench, actions));
    }
    let side = |left: i8, right: i8| paper.inner_margin(Margin { left, right, top: 0, bottom: 16 });
    if !narrow || bench.drawer == Drawer::Shelf {
        Panel::left("shelf")
            .frame(side(MARGIN, 0))
            .resizable(false)
            .show_separator_line(false)
            .exact_size(SHELF_WIDTH + f32::from(MARGIN))
            .show(ui, |ui| shelf::ui(ui, &view, bench, actions));
    }
    if !narrow || bench.drawer == Drawer::Findings {
        Panel::right("findings")
            .frame(side(0, MARGIN))
            .resizable(false)
            .show_separator_line(false)
            .exact_size(FINDINGS_WIDTH + f32::from(MARGIN))
            .show(ui, |ui| findings::ui(ui, &view, bench, actions));
    }
    let beside = if narrow { MARGIN } else { 16 };
    let middle = paper.inner_margin(Margin { left: beside, right: 16, top: 0, bottom: 8 });
    egui::CentralPanel::default().frame(middle).show(ui, |ui| calendar::ui(ui, &view, bench, actions));
    if !frame.modal {
        hand::pointer(ui, &view, bench, actions);
    }
}

fn drawer_buttons(ui: &mut Ui, view: &View<'_>, bench: &mut Bench, actions: &mut Vec<Action>) {
    use super::widget::Button;
    ui.horizontal(|ui| {
        let said = findings::count_words(view);
        let mend = if said.is_empty() { "What to mend".to_string() } else { format!("What to mend: {said}") };
        for (drawer, words) in [(Drawer::Shelf, "Dishes".to_string()), (Drawer::Findings, mend)] {
            let open = bench.drawer == drawer;
            if ui.add(Button::quiet(&words).selected(open)).clicked() {
                bench.drawer = if open { Drawer::None } else { drawer };
            }
            ui.add_space(STEP / 2.0);
        }
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| header::start_button(ui, actions));
    });
}

/// The colour that a kind is drawn in; a quiet brown where its six digits do not read.
pub(super) fn kind_colour(view: &View<'_>) -> Color32 {
    let digits = &view.rotation.kind.colour;
    let channel = |at: usize| digits.get(at..at + 2).and_then(|two| u8::from_str_radix(two, 16).ok());
    match (channel(0), channel(2), channel(4)) {
        (Some(r), Some(g), Some(b)) => Color32::from_rgb(r, g, b),
        _ => Color32::from_rgb(0x8C, 0x70, 0x55),
    }
}
