//! The desk: the plan in hand, what is known of it, and the one place where actions are performed.

use super::{
    Start,
    action::Action,
    alike::{self, AlikeView},
    bench::{self, Bench},
    book_view::{self, BookView, Page},
    carry::{Carried, Carry, Held, drop_edit},
    files::{Answer, Chosen, DraftWish, FileAction, Files, Printable},
    fill::{self, FillView},
    hearth::Hearth,
    journal::{self, JournalView},
    judged::Judged,
    keeping::{self, KeepingView},
    lists::{self, ListsView},
    run_sheet::{self, RunSheetView},
    sheet::{self, OpenSheet},
    theme::{self, Look},
    view::View,
    widget,
};
use crate::{
    book::Book,
    quantity::System,
    rotation::{EaterId, Edit, Equipment, History, Rotation, Slot, apply},
    store::{OwnBook, OwnChange, StoreError},
};
use egui::{Context, Key, KeyboardShortcut, Modifiers, Ui};
use std::sync::Arc;

/// What the person has set: how the window looks and which measures it speaks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// Light, dark, high contrast.
    pub look: Look,
    /// Metric, US or imperial.
    pub system: System,
    /// How large everything is; 1 is the desktop's own size.
    pub zoom: f32,
    /// No settling, no animation.
    pub reduce_motion: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Settings { look: Look::System, system: System::Metric, zoom: 1.0, reduce_motion: false }
    }
}

/// One setting changed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SettingChange {
    /// Another look.
    Look(Look),
    /// Other measures.
    System(System),
    /// Another size.
    Zoom(f32),
    /// With or without motion.
    ReduceMotion(bool),
}

/// The whole state of the window.
pub struct Desk {
    history: History,
    /// The book as it is shipped.
    shipped: Arc<Book>,
    /// The cook's own entries.
    own: OwnBook,
    /// The shipped book with the own one laid over it.
    book: Arc<Book>,
    judged: Option<Judged>,
    page: Page,
    bench: Bench,
    book_view: BookView,
    alike: AlikeView,
    journal: JournalView,
    lists: ListsView,
    keeping: KeepingView,
    run_sheet: RunSheetView,
    fill: FillView,
    who: Option<EaterId>,
    hearth: Hearth,
    sheet: Option<OpenSheet>,
    /// What was printed last.
    paper: Chosen,
    files: Files,
    /// The window closes once what is being written in the dish book is kept.
    close_when_kept: bool,
    settings: Settings,
    dressed: Option<Settings>,
    live: String,
}

const UNDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Z);
const REDO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::Z);
const REDO_TOO: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Y);

impl Desk {
    /// A desk with `rotation` on it, that keeps nothing on disk of its own accord: for tests and for the demo.
    pub fn new(rotation: Rotation, book: Arc<Book>) -> Desk {
        Desk {
            history: History::new(rotation),
            shipped: book.clone(),
            own: OwnBook::default(),
            book,
            judged: None,
            page: Page::Bench,
            bench: Bench::default(),
            book_view: BookView::default(),
            alike: AlikeView::default(),
            journal: JournalView::default(),
            lists: ListsView::default(),
            keeping: KeepingView::default(),
            run_sheet: RunSheetView::default(),
            fill: FillView::default(),
            who: None,
            hearth: Hearth::default(),
            sheet: None,
            paper: Chosen::default(),
            files: Files::detached(),
            close_when_kept: false,
            settings: Settings::default(),
            dressed: None,
            live: String::new(),
        }
    }

    /// The desk of the program: settings read, the file of `start` opened, or the last one, or the demo.
    pub fn open(start: Start, ctx: &Context) -> Desk {
        let opened = Files::open(start, ctx);
        let mut desk = Desk::new(opened.rotation, opened.book);
        desk.lay_over(opened.own);
        desk.hearth = opened.hearth;
        desk.files = opened.files;
        desk.settings = opened.settings;
        desk.live = opened.say;
        if !opened.on_disk {
            desk.history.mark_unsaved();
        }
        desk
    }

    /// Opens the desktop's file dialogs over this window.
    pub fn ask_over(&mut self, parent: rfd::AsyncFileDialog) {
        self.files.ask_over(parent);
    }

    /// The files of the window.
    pub fn files(&self) -> &Files {
        &self.files
    }

    /// The plan as it is.
    pub fn rotation(&self) -> &Arc<Rotation> {
        self.history.now()
    }

    /// The history of the plan.
    pub fn history(&self) -> &History {
        &self.history
    }

    /// What was said last in the live line.
    pub fn live(&self) -> &str {
        &self.live
    }

    /// The book with the cook's own entries laid over it.
    pub fn book(&self) -> &Arc<Book> {
        &self.book
    }

    /// The cook's own entries.
    pub fn own(&self) -> &OwnBook {
        &self.own
    }

    /// What is in the hand.
    pub fn carry(&self) -> Option<&Carry> {
        self.bench.carry.as_ref()
    }

    /// Takes up what was ticked off and settled before, as the file of ticks keeps it.
    pub fn remember_ticks(&mut self, ticks: crate::lists::Ticks, cooking: crate::runsheet::KeptCooking) {
        let hearth = std::mem::take(&mut self.hearth);
        let cupboard = hearth.cupboard().clone();
        self.hearth = hearth.with_house(cupboard, ticks).with_cooking(cooking);
    }

    /// Lets cooking go by this minute of the day, and no longer by this machine's clock: for tests.
    pub fn go_by_minute(&mut self, minute: i64) {
        self.run_sheet.minute = Some(minute);
    }

    /// What the household has said of its meals.
    pub fn hearth(&self) -> &Hearth {
        &self.hearth
    }

    /// The settings.
    pub fn settings(&self) -> Settings {
        self.settings
    }

    /// Gives the window its fonts and its look. Before the first frame.
    pub fn dress(&mut self, ctx: &Context) {
        theme::install_fonts(ctx);
        widget::tell_places(ctx);
        self.wear(ctx);
    }

    fn wear(&mut self, ctx: &Context) {
        theme::apply(ctx, self.settings.look, self.settings.reduce_motion);
        ctx.set_zoom_factor(self.settings.zoom);
        self.dressed = Some(self.settings);
    }

    /// Before drawing, and also while the window is hidden: jobs, closing, autosave.
    pub fn logic(&mut self, ctx: &Context) {
        let mut actions = Vec::new();
        self.files.tell_draft(self.book_view.unkept(&self.book));
        let answer = self.files.logic(ctx, &self.history, &mut actions);
        self.take(answer, ctx);
        self.perform_all(actions, ctx);
        self.files.set_title(ctx, &self.history);
    }

    /// Draws everything and performs what the person asked for.
    pub fn ui(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        if self.dressed.is_none() {
            // Fonts count from the next frame on: a window that was not dressed before its first frame draws nothing in it.
            self.dress(&ctx);
            ctx.request_repaint();
            return;
        }
        if self.dressed != Some(self.settings) {
            self.wear(&ctx);
            ui.set_style(ctx.global_style());
        }
        let mut actions = Vec::new();
        self.keys(&ctx, &mut actions);
        self.perform_all(std::mem::take(&mut actions), &ctx);
        self.know(&ctx);
        let Some(judged) = &self.judged else { return };
        let view = View {
            rotation: self.history.now(),
            revision: self.history.revision(),
            judged: judged.judgement(),
            mends: judged.mends(),
            book: &self.book,
            system: self.settings.system,
            hearth: &self.hearth,
            who: self.who,
            table: judged.table(self.who),
            clocks: judged.clocks(),
        };
        let modal = self.sheet.is_some() || self.files.asks();
        let (history, files) = (&self.history, &self.files);
        let frame = bench::Frame { view, history, settings: self.settings, files, live: &self.live, modal, page: self.page };
        match self.page {
            Page::Bench => bench::ui(ui, frame, &mut self.bench, &mut actions),
            Page::Likeness => alike::ui(ui, frame, &mut self.alike, &mut actions),
            Page::Keeping => keeping::ui(ui, frame, &mut self.keeping, &mut actions),
            Page::Fill => fill::ui(ui, frame, &mut self.fill, &mut actions),
            Page::RunSheet => run_sheet::ui(ui, frame, &mut self.run_sheet, &mut actions),
            Page::Lists => lists::ui(ui, frame, &mut self.lists, &mut actions),
            Page::Journal => journal::ui(ui, frame, &mut self.journal, &mut actions),
            Page::Book => {
                let books = book_view::Books { shipped: &self.shipped, own: &self.own };
                book_view::ui(ui, frame, books, &mut self.book_view, &mut actions);
            }
        }
        if let Some(open) = &mut self.sheet {
            sheet::ui(&ctx, &view, open, &mut actions);
        }
        self.files.ui(&ctx, &view, &mut actions);
        self.perform_all(actions, &ctx);
    }

    fn know(&mut self, ctx: &Context) {
        let revision = self.history.revision();
        match &mut self.judged {
            Some(judged) if judged.revision() == revision => judged.poll(),
            _ => self.judged = Some(Judged::new(self.history.now(), &self.book, self.hearth.home(), revision, ctx)),
        }
        let rotation = self.history.now();
        // One who has left the household has no meals to look at.
        self.who = self.who.filter(|id| rotation.household.eaters.iter().any(|e| e.id == *id));
        if let Some(judged) = &mut self.judged
            && (self.who.is_some() || self.page == Page::Likeness)
        {
            judged.compare(rotation, self.who);
        }
    }

    fn keys(&self, ctx: &Context, actions: &mut Vec<Action>) {
        // A text field in focus has an undo of its own.
        if ctx.text_edit_focused() || self.sheet.is_some() || self.files.asks() {
            return;
        }
        // What is being written has steps of its own.
        if self.page == Page::Book && self.book_view.is_writing() {
            return;
        }
        ctx.input_mut(|input| {
            if input.consume_shortcut(&REDO) || input.consume_shortcut(&REDO_TOO) {
                if self.page != Page::Journal {
                    actions.push(Action::Redo);
                }
            } else if input.consume_shortcut(&UNDO) {
                // In the dish book the last thing done is the last thing taken away.
                let in_book = self.page == Page::Book && self.own.last_taken().is_some();
                actions.push(match self.page {
                    Page::Journal => Action::JournalBack,
                    _ if in_book => Action::Own(OwnChange::BringBack),
                    _ => Action::Undo,
                });
            }
        });
    }

    fn perform_all(&mut self, actions: Vec<Action>, ctx: &Context) {
        for action in actions {
            self.perform(action, ctx);
            ctx.request_repaint();
        }
    }

    /// Performs one action. Views only ask; this is where it happens.
    pub fn perform(&mut self, action: Action, ctx: &Context) {
        match action {
            Action::Edit(edit) => self.edit(&edit, None),
            Action::Pull(edit, gesture) => self.edit(&edit, Some(gesture)),
            Action::Turn(page) => {
                // The page of filling has no tab that would go on having the keyboard.
                if (page == Page::Fill || self.page == Page::Fill) && !ctx.input(|i| i.pointer.any_released()) {
                    match page {
                        Page::Bench => self.bench.keyboard_to_the_calendar(self.history.now()),
                        _ => bench::keyboard_to_the_page(ctx),
                    }
                }
                self.turn(page);
            }
            Action::Own(change) => {
                let answer = self.files.change_own(change, &self.own);
                self.take(answer, ctx);
            }
            Action::Undo => {
                let before = self.history.now().clone();
                match self.history.undo() {
                    Some(words) => self.after_change(&before, format!("Undone: {words}")),
                    None => self.live = "There is nothing to undo".into(),
                }
            }
            Action::Redo => {
                let before = self.history.now().clone();
                match self.history.redo() {
                    Some(words) => self.after_change(&before, format!("Done again: {words}")),
                    None => self.live = "There is nothing to do again".into(),
                }
            }
            Action::Print(chosen) => {
                self.paper = chosen.clone();
                let what = Printable {
                    plan: self.history.now().clone(),
                    cupboard: self.hearth.cupboard().clone(),
                    book: self.book.clone(),
                    system: self.settings.system,
                    chosen,
                    settled: self.hearth.cooking(self.history.now()).cloned().unwrap_or_default(),
                };
                let answer = self.files.print(what, &self.history, ctx);
                self.take(answer, ctx);
            }
            Action::File(file) => {
                let answer = self.files.perform(file, &self.history, ctx);
                self.take(answer, ctx);
            }
            Action::Open(which) => {
                let rotation = self.history.now();
                self.sheet = Some(
                    OpenSheet::new(which, rotation).with_household(self.files.usual_household(rotation)).with_chosen(&self.paper),
                );
            }
            Action::CloseSheet => self.sheet = None,
            Action::Habit(change) => {
                let (hearth, words) = self.hearth.changed(&change);
                self.hearth = hearth;
                self.files.keep_habits(self.hearth.habits());
                self.live = words;
                // The judges go by it.
                self.judged = None;
                self.bench.book_changed();
            }
            Action::House(change) => {
                self.live = self.hearth.change_house(&change);
                self.files.keep_cupboard(self.hearth.cupboard());
            }
            Action::Tick(change) => {
                self.live = self.hearth.tick(self.history.now(), &change);
                self.files.keep_ticks(self.hearth.ticks(), self.hearth.all_cooking());
            }
            Action::Cooking(change) => {
                self.hearth.keep_cooking(self.history.now(), *change);
                self.files.keep_ticks(self.hearth.ticks(), self.hearth.all_cooking());
            }
            Action::Journal(changes) => match self.hearth.journalled(&changes) {
                Ok(after) => self.journal_changed(after),
                Err(why) => self.live = format!("Not done: {why}"),
            },
            Action::JournalBack => match self.hearth.journal_back() {
                Some((hearth, words)) => self.journal_changed((hearth, format!("Undone: {words}"))),
                None => self.live = "There is nothing to undo".into(),
            },
            Action::Eater(who) => {
                self.who = who;
                let name = who.map_or("everybody", |e| self.history.now().household.name(e));
                self.live = format!("The links and the figure are those of {name}");
            }
            Action::Select(slot) => self.bench.select(slot),
            Action::PickUp(what) => self.pick_up(what, false),
            Action::PickUpAgain(what) => self.pick_up(what, true),
            Action::HoldByKeys(slot) => {
                if let Some(carry) = &mut self.bench.carry {
                    carry.held = Held::Keys(slot);
                }
            }
            Action::PutDown { slot, again } => self.put_down(slot, again),
            Action::LetGo => {
                if self.bench.carry.take().is_some() {
                    self.live = "Put back where it was".into();
                }
            }
            Action::TakeOff => self.take_off(),
            Action::AskReason(key) => self.bench.ask_reason(key),
            Action::Say(words) => self.live = words,
            Action::Setting(change) => {
                match change {
                    SettingChange::Look(look) => self.settings.look = look,
                    SettingChange::System(system) => self.settings.system = system,
                    SettingChange::Zoom(zoom) => self.settings.zoom = zoom.clamp(0.5, 2.0),
                    SettingChange::ReduceMotion(reduce) => self.settings.reduce_motion = reduce,
                }
                self.files.keep_settings(self.settings);
            }
        }
    }

    fn journal_changed(&mut self, (hearth, words): (Hearth, String)) {
        self.hearth = hearth;
        self.files.keep_journal(self.hearth.eaten());
        self.live = words;
        // The judges go by it.
        self.judged = None;
        self.bench.book_changed();
    }

    /// Takes what came of a file action.
    fn take(&mut self, answer: Answer, ctx: &Context) {
        // The plan that is saved is the one before another comes.
        if let Some(saved) = answer.saved {
            self.history.mark_saved(saved);
        }
        if let Some(fresh) = answer.replace {
            self.history = fresh;
            self.judged = None;
            self.bench = Bench::default();
            self.lists.plan_replaced();
            self.run_sheet.plan_replaced();
            self.keeping.plan_replaced();
            self.fill.plan_replaced();
            self.page = Page::Bench;
            self.sheet = None;
        }
        if let Some(sheet) = answer.open {
            let rotation = self.history.now();
            let open =
                OpenSheet::new(sheet, rotation).with_household(self.files.usual_household(rotation)).with_chosen(&self.paper);
            self.sheet = Some(match answer.template {
                Some(template) => open.with_template(template),
                None => open,
            });
        }
        if let Some(brought) = answer.brought {
            self.turn(Page::Book);
            self.book_view.bring_in(brought, &self.book);
        }
        if let Some((change, result)) = answer.own {
            self.own_changed(&change, result, ctx);
        }
        if let Some(say) = answer.say {
            self.live = say;
        }
        if let Some(wish) = answer.draft {
            self.settle_draft(wish, ctx);
        }
    }

    /// Does what the person wants with what is being written in the dish book.
    fn settle_draft(&mut self, wish: DraftWish, ctx: &Context) {
        match wish {
            DraftWish::Save { then_close } => {
                if let Some(change) = self.book_view.keep(&self.book) {
                    self.close_when_kept = then_close;
                    self.perform(Action::Own(change), ctx);
                }
            }
            DraftWish::ThrowAway => self.book_view.give_up(),
            DraftWish::GoOn => {
                self.turn(Page::Book);
                self.book_view.go_on();
            }
        }
    }

    fn turn(&mut self, page: Page) {
        // A hand that turns a page holds nothing.
        self.bench.carry = None;
        self.page = page;
        if page == Page::Fill {
            self.fill.opened();
        }
    }

    /// Lays the own book over the shipped one.
    fn lay_over(&mut self, own: OwnBook) {
        self.book = Arc::new((*self.shipped).clone().extended_by(own.book()));
        self.own = own;
        // Mends and offers come from the book.
        self.judged = None;
        self.bench.book_changed();
    }

    fn own_changed(&mut self, change: &OwnChange, result: Result<OwnBook, StoreError>, ctx: &Context) {
        let close = matches!(change, OwnChange::Keep(_)) && std::mem::take(&mut self.close_when_kept) && result.is_ok();
        match result {
            Ok(own) => {
                self.live = match change {
                    OwnChange::Keep(entry) => format!("Kept in your book: {}", entry.name()),
                    OwnChange::TakeAway(_) => {
                        format!("Taken away: {}", own.last_taken().map_or("nothing", |e| e.name()))
                    }
                    OwnChange::BringBack => {
                        format!("Brought back: {}", self.own.last_taken().map_or("nothing", |e| e.name()))
                    }
                };
                self.lay_over(own);
                self.book_view.done(change, &self.book);
            }
            Err(why) => {
                self.live = format!("Not done: {why}");
                self.book_view.refused(change, why.to_string());
            }
        }
        if close {
            self.files.tell_draft(self.book_view.unkept(&self.book));
            self.perform(Action::File(FileAction::Quit), ctx);
        }
    }

    fn edit(&mut self, edit: &Edit, gesture: Option<crate::rotation::GestureId>) {
        match apply(self.history.now(), edit) {
            Ok(done) => {
                let (before, words) = (self.history.now().clone(), done.words.clone());
                self.history.push(done.rotation, done.words, gesture);
                self.after_change(&before, words);
            }
            Err(refusal) => self.live = format!("Not done: {refusal}"),
        }
    }

    fn after_change(&mut self, before: &Rotation, words: String) {
        self.live = words;
        // What a cook says of the kitchen holds for the next piece too.
        let has = Equipment::of(self.history.now());
        if !has.is_that_of(before) {
            self.files.keep_equipment(has);
        }
        self.bench.plan_changed(self.history.now());
    }

    fn with_view<T>(&self, ask: impl FnOnce(&View<'_>) -> T) -> Option<T> {
        let judged = self.judged.as_ref()?;
        let view = View {
            rotation: self.history.now(),
            revision: self.history.revision(),
            judged: judged.judgement(),
            mends: &[],
            book: &self.book,
            system: self.settings.system,
            hearth: &self.hearth,
            who: self.who,
            table: None,
            clocks: &[],
        };
        Some(ask(&view))
    }

    fn pick_up(&mut self, what: Carried, again: bool) {
        self.page = Page::Bench;
        let words = self.with_view(|view| what.words(view)).unwrap_or_default();
        self.live = format!("{words} is in your hand: choose a meal and press Enter or click, or Escape to put it back");
        self.bench.carry = Some(Carry { what, held: Held::Click, again });
    }

    fn put_down(&mut self, slot: Slot, again: bool) {
        let Some(carry) = self.bench.carry.take() else { return };
        let chosen = self.bench.chosen.clone();
        let edit = self.with_view(|view| drop_edit(view, &carry.what, slot, again, chosen.as_ref()));
        match edit {
            Some(Ok(edit)) => {
                self.edit(&edit, None);
                self.bench.put_down_at(slot, carry.held);
            }
            Some(Err(why)) => self.live = format!("Not done: {why}"),
            None => {}
        }
    }

    fn take_off(&mut self) {
        let Some(carry) = self.bench.carry.take() else { return };
        match carry.what {
            Carried::Serving { slot, batch } => self.edit(&Edit::RemoveServing { slot, batch }, None),
            Carried::Batch(batch) => self.edit(&Edit::RemoveBatch(batch), None),
            Carried::Part(_) | Carried::Dish(_) => self.live = "Put back where it was".into(),
        }
    }
}
