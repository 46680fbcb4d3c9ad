//! Files from the window: new, open, save, recent, closing, recovery.
//!
//! Nothing here waits for the disk: [`work`] writes and reads on threads of its own and what came of it is taken up in
//! [`Files::logic`]. Whatever would lose unsaved work asks first, in the window itself.

use super::{
    action::Action,
    book_view::Unkept,
    desk::Settings,
    hearth::Hearth,
    sheet::Sheet,
    view::{View, spoken},
};
use crate::{
    book::Book,
    quantity::Kitchen,
    rotation::{Equipment, History, Household, Rotation, Template},
    store::{Fingerprint, OwnBook, OwnChange, Recent, Remnant, StoreError},
};
use egui::{Context, Id, Key, KeyboardShortcut, Modifiers, ViewportCommand};
use std::{
    collections::VecDeque,
    path::PathBuf,
    sync::Arc,
    time::{Duration, Instant},
};

mod autosave;
mod begin;
mod bring_in;
mod dialog;
mod flow;
mod keep;
mod landed;
mod left;
mod menu;
mod path_box;
mod printing;
mod question;
mod work;

pub(super) use begin::are_of_the_demo;
pub use bring_in::Brought;
pub use menu::menu_ui;
pub use printing::{Chosen, Printable};

use autosave::{Autosave, Step};
use question::Question;
use work::{Job, Worker};

/// What the person wants done with files.
#[derive(Clone, Debug)]
pub enum FileAction {
    /// Begin afresh: "start with your own piece".
    New,
    /// Take this plan as a fresh, unsaved one.
    Begin(Box<Rotation>),
    /// Ask for a file and open it.
    Open,
    /// Ask for a path in the window itself and open it.
    OpenByPath,
    /// Open this file.
    OpenPath(PathBuf),
    /// Open the demo.
    OpenDemo,
    /// Save where it was saved last, or ask.
    Save,
    /// Ask where, then save.
    SaveAs,
    /// Keep the shape as a template: ask where.
    KeepShape,
    /// Ask for a template and lay it on a piece.
    LayShape,
    /// Ask for a saved page and bring the recipe in it into the dish book.
    BringIn,
    /// Bring in the recipe of this saved page.
    BringInPath(PathBuf),
    /// Put the week and its lists on paper or into a foreign format: ask where.
    Print,
    /// Take a file out of the recent ones.
    ForgetRecent(PathBuf),
    /// Take all files out of the recent ones.
    ForgetAllRecent,
    /// Look which of the recent files are there.
    LookAtRecent,
    /// Close the window, asking first where something is unsaved.
    Quit,
    /// Leave what is being written in the dish book, asking first.
    LeaveDraft,
    /// The answer to a question that lies over the bench.
    Reply(Reply),
}

/// An answer to a question of the files.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reply {
    /// Save the changes first.
    Save,
    /// Give the changes up.
    Discard,
    /// Do nothing.
    Cancel,
    /// Write over what is there.
    Overwrite,
    /// Save in another place.
    SaveAs,
    /// Save under another name: back to the path box.
    AnotherName,
    /// Open another file.
    OpenOther,
    /// Bring in another page.
    OtherPage,
    /// Read the plan's own file again.
    OpenAgain,
    /// The path that was named in the path box.
    Path(PathBuf),
    /// Bring the unsaved plan that a crashed run left back.
    Restore,
    /// Throw it away.
    ThrowAway,
    /// Ask again at the next start.
    Later,
    /// Name the file in the window instead of the desktop's dialog.
    UseBox,
}

/// What came of a file action.
#[derive(Default)]
pub struct Answer {
    /// Another plan is on the desk.
    pub replace: Option<History>,
    /// This plan is now on disk.
    pub saved: Option<Arc<Rotation>>,
    /// A sheet to open.
    pub open: Option<Sheet>,
    /// The shape that [`Sheet::Shape`] is about.
    pub template: Option<Arc<Template>>,
    /// What is to become of what is being written in the dish book.
    pub draft: Option<DraftWish>,
    /// What was done to the own book, and the book as it is now, or why nothing was done.
    pub own: Option<(OwnChange, Result<OwnBook, StoreError>)>,
    /// The recipes of a page, for the dish book.
    pub brought: Option<Brought>,
    /// What to say.
    pub say: Option<String>,
}

/// What the person wants done with what is being written in the dish book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DraftWish {
    /// Keep it, and then close the window if that was on the way.
    Save {
        /// Whether the window is to close.
        then_close: bool,
    },
    /// Give it up.
    ThrowAway,
    /// Write on.
    GoOn,
}

impl Answer {
    fn say(words: impl Into<String>) -> Answer {
        Answer { say: Some(words.into()), ..Answer::default() }
    }
}

/// What the program begins with.
pub struct Opened {
    /// The plan.
    pub rotation: Rotation,
    /// Whether it is on disk as it is.
    pub on_disk: bool,
    /// The book as it is shipped.
    pub book: Arc<Book>,
    /// The cook's own.
    pub own: OwnBook,
    /// The settings.
    pub settings: Settings,
    /// What the household has said of its meals.
    pub hearth: Hearth,
    /// Files from here on.
    pub files: Files,
    /// What to say first.
    pub say: String,
}

/// Where the plan on the desk belongs.
#[derive(Clone, Debug, Default)]
struct Doc {
    /// Its file; none for a fresh plan and for the demo.
    path: Option<PathBuf>,
    /// What is there, as far as is known.
    fingerprint: Option<Fingerprint>,
}

/// What goes on once unsaved changes are saved or given up.
#[derive(Clone, Debug)]
enum Next {
    New,
    Begin(Box<Rotation>),
    Open,
    ByPath,
    Path(PathBuf),
    Demo,
    Restore,
    Close,
}

impl Next {
    /// The beginning of "... loses them."
    fn loses(&self) -> &'static str {
        match self {
            Next::Close => "Closing without saving",
            Next::New | Next::Begin(_) => "Starting afresh without saving",
            Next::Open | Next::ByPath | Next::Path(_) | Next::Demo => "Opening another plan without saving",
            Next::Restore => "Bringing the other plan back without saving",
        }
    }
}

/// What a path is asked for.
#[derive(Clone, Debug)]
enum Purpose {
    Open,
    SaveAs {
        then: Option<Next>,
    },
    KeepShape,
    LayShape,
    BringIn,
    /// Put these on paper.
    Print(Arc<Printable>),
}

/// A plan that is being written.
struct Saving {
    rotation: Arc<Rotation>,
    path: PathBuf,
    /// Whether the place was asked for, rather than known.
    asked: bool,
    then: Option<Next>,
}

/// Files of the window.
pub struct Files {
    /// None: nothing is kept.
    worker: Option<Worker>,
    asker: dialog::Asker,
    /// The desktop's dialogs are not wanted, or there are none.
    path_box_only: bool,
    /// What the settings file says of that.
    kept_built_in: bool,
    doc: Doc,
    recent: Recent,
    /// Who ate of the plan that was begun last.
    household: Option<Household>,
    equipment: Option<Equipment>,
    /// Whose cups and spoons foreign recipes are read with.
    kitchen: Kitchen,
    /// Where the page lay that was brought in last.
    page_folder: Option<PathBuf>,
    seen: Vec<(PathBuf, bool)>,
    question: Option<Question>,
    /// The keyboard is not yet in the question or band.
    fresh: bool,
    /// Whether a question was drawn in the last frame.
    asked: bool,
    /// Where the keyboard was before.
    back_to: Option<Id>,
    waiting: Option<dialog::Waiting>,
    /// In the order in which they were handed to the worker.
    saving: VecDeque<Saving>,
    /// The file that is being read for the desk, if any.
    reading: Option<PathBuf>,
    /// The plan whose changes the person has given up for what comes next.
    let_go: Option<Arc<Rotation>>,
    /// What is being written in the dish book and would be lost.
    draft: Option<Unkept>,
    autosave: Autosave,
    left: Vec<Remnant>,
    /// What could not be kept, as it was said last.
    trouble: String,
    /// Save in the next frame, when a field has taken what was typed; then the keyboard goes back there.
    save_soon: Option<Id>,
    title: String,
    /// The window may close.
    closing: bool,
    began: Instant,
}

const NEW: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::N);
const OPEN: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::O);
const BY_PATH: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::L);
const PRINT: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::P);
const SAVE: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::S);
const SAVE_AS: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND.plus(Modifiers::SHIFT), Key::S);
const QUIT: KeyboardShortcut = KeyboardShortcut::new(Modifiers::COMMAND, Key::Q);

impl Files {
    /// Opens the desktop's dialogs over this window.
    pub fn ask_over(&mut self, parent: rfd::AsyncFileDialog) {
        self.asker = dialog::system(parent);
    }

    /// Whether a question lies over the bench.
    pub fn asks(&self) -> bool {
        self.question.is_some()
    }

    /// Whether a path is being asked for, in the window or by the desktop: one at a time.
    pub fn is_asking(&self) -> bool {
        self.question.is_some() || self.waiting.is_some()
    }

    /// Recent files with whether each is there.
    pub fn recent(&self) -> &[(PathBuf, bool)] {
        &self.seen
    }

    /// Who eats of a plan that is to be begun while `rotation` is on the bench: those who eat of that, unless it has the
    /// demo's people; then whoever was kept, if anybody was.
    pub fn usual_household(&self, rotation: &Rotation) -> Option<&Household> {
        if begin::are_of_the_demo(&rotation.household) { self.household.as_ref() } else { None }
    }

    /// What the kitchen of such a plan has, by the same rule.
    pub(super) fn usual_equipment(&self, rotation: &Rotation) -> Equipment {
        let of_the_demo = begin::are_of_the_demo(&rotation.household);
        self.equipment.clone().filter(|_| of_the_demo).unwrap_or_else(|| Equipment::of(rotation))
    }

    /// The file of the plan on the desk.
    pub fn path(&self) -> Option<&std::path::Path> {
        self.doc.path.as_deref()
    }

    /// Jobs, close requests, keys, autosave: before drawing, and also while the window is hidden.
    pub fn logic(&mut self, ctx: &Context, history: &History, actions: &mut Vec<Action>) -> Answer {
        self.close_request(ctx, history);
        self.keys(ctx, actions);
        let answer = self.landed(ctx, history);
        self.look_around();
        // What has landed counts from the next frame on.
        if answer.replace.is_none() && answer.saved.is_none() {
            self.put_by(ctx, history);
        } else {
            ctx.request_repaint();
        }
        answer
    }

    /// Keeps the window's title: "*Red cabbage – Tranche".
    pub fn set_title(&mut self, ctx: &Context, history: &History) {
        let mark = if history.is_changed() { "*" } else { "" };
        let title = spoken(&format!("{mark}{} – Tranche", history.now().heading()));
        if title != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    /// Draws the question that lies over the bench, if any.
    pub fn ui(&mut self, ctx: &Context, _view: &View<'_>, actions: &mut Vec<Action>) {
        if self.question.is_some() != self.asked {
            self.asked = self.question.is_some();
            if self.asked {
                self.back_to = ctx.memory(|m| m.focused());
            } else if let Some(id) = self.back_to.take() {
                ctx.memory_mut(|m| m.request_focus(id));
            }
        }
        match &mut self.question {
            Some(question) => question::ui(ctx, question, &mut self.fresh, actions),
            None if self.waiting.as_ref().is_some_and(dialog::Waiting::is_slow) => left::slow_ui(ctx, actions),
            None => left::left_ui(ctx, &self.left, &mut self.fresh, actions),
        }
    }

    /// Tells what is being written in the dish book and would be lost if the window closed.
    pub fn tell_draft(&mut self, draft: Option<Unkept>) {
        if draft.is_none() && matches!(self.question, Some(Question::Draft { .. })) {
            // It was kept meanwhile.
            self.question = None;
        }
        self.draft = draft;
    }

    /// Performs a file action, or begins it.
    pub fn perform(&mut self, action: FileAction, history: &History, ctx: &Context) -> Answer {
        if !matches!(action, FileAction::Begin(_) | FileAction::Reply(_)) {
            self.let_go = None;
        }
        match action {
            FileAction::New => self.leave(Next::New, history, ctx),
            FileAction::Begin(fresh) => self.leave(Next::Begin(fresh), history, ctx),
            FileAction::Open => self.leave(Next::Open, history, ctx),
            FileAction::OpenByPath => self.leave(Next::ByPath, history, ctx),
            FileAction::OpenPath(path) => self.leave(Next::Path(path), history, ctx),
            FileAction::OpenDemo => self.leave(Next::Demo, history, ctx),
            FileAction::Quit => self.leave(Next::Close, history, ctx),
            FileAction::LeaveDraft => {
                if let Some(draft) = self.draft.clone() {
                    self.put_question(Question::Draft { draft, closes: false });
                }
                Answer::default()
            }
            FileAction::Save => self.save(history, None, ctx),
            FileAction::SaveAs => self.ask(Purpose::SaveAs { then: None }, history, ctx),
            FileAction::KeepShape => self.ask(Purpose::KeepShape, history, ctx),
            FileAction::LayShape => self.ask(Purpose::LayShape, history, ctx),
            // What is chosen there comes back by `print`.
            FileAction::Print => Answer { open: Some(Sheet::Paper), ..Answer::default() },
            FileAction::BringIn => self.ask(Purpose::BringIn, history, ctx),
            FileAction::BringInPath(path) => self.read_page(path),
            FileAction::ForgetRecent(path) => {
                self.recent.remove(&path);
                self.seen.retain(|(seen, _)| *seen != path);
                self.give(Job::Recent(self.recent.clone()));
                Answer::say(format!("{} is forgotten; the file itself stays", question::shown(&path)))
            }
            FileAction::ForgetAllRecent => {
                self.recent.clear();
                self.seen.clear();
                self.give(Job::Recent(self.recent.clone()));
                Answer::say("The recent files are forgotten; the files themselves stay")
            }
            FileAction::LookAtRecent => {
                let recent = self.recent.clone();
                self.look(move || work::Done::RecentSeen(work::seen(&recent)));
                Answer::default()
            }
            FileAction::Reply(reply) => self.reply(reply, history, ctx),
        }
    }

    /// Does something to the own book: on disk by the worker, else in mind at once.
    pub fn change_own(&mut self, change: OwnChange, own: &OwnBook) -> Answer {
        if self.worker.is_some() {
            self.give(Job::Own(change));
            return Answer::default();
        }
        let mut now = own.clone();
        let result = now.perform(&change).map(|()| now);
        Answer { own: Some((change, result)), ..Answer::default() }
    }

    /// Asks where to, then writes `what` there, by the end of the name.
    pub fn print(&mut self, what: Printable, history: &History, ctx: &Context) -> Answer {
        self.ask(Purpose::Print(Arc::new(what)), history, ctx)
    }

    /// Asks before the window closes over unsaved changes.
    fn close_request(&mut self, ctx: &Context, history: &History) {
        let asked = ctx.input(|i| i.viewport().close_requested());
        if !asked || self.closing || self.worker.is_none() {
            return;
        }
        if !history.is_changed() && self.saving.is_empty() && self.draft.is_none() {
            self.closing = true;
            return;
        }
        ctx.send_viewport_cmd(ViewportCommand::CancelClose);
        ctx.send_viewport_cmd(ViewportCommand::Minimized(false));
        ctx.send_viewport_cmd(ViewportCommand::Focus);
        let asked =
            matches!(self.question, Some(Question::Unsaved { next: Next::Close, .. } | Question::Draft { closes: true, .. }));
        if !asked {
            self.let_go = None;
            self.leave(Next::Close, history, ctx);
            ctx.request_repaint();
        }
    }

    /// The keys of the File menu, and files dropped onto the window.
    fn keys(&mut self, ctx: &Context, actions: &mut Vec<Action>) {
        if let Some(field) = self.save_soon.take() {
            actions.push(Action::File(FileAction::Save));
            ctx.memory_mut(|m| m.request_focus(field));
        }
        let dropped = ctx.input_mut(|i| std::mem::take(&mut i.raw.dropped_files));
        if self.question.is_some() {
            return;
        }
        let pressed = ctx.input_mut(|i| {
            // The longer one first: the shorter one would take it.
            [
                (SAVE_AS, FileAction::SaveAs),
                (SAVE, FileAction::Save),
                (NEW, FileAction::New),
                (OPEN, FileAction::Open),
                (BY_PATH, FileAction::OpenByPath),
                (PRINT, FileAction::Print),
                (QUIT, FileAction::Quit),
            ]
            .into_iter()
            .filter_map(|(keys, action)| i.consume_shortcut(&keys).then_some(action))
            .next()
        });
        match (pressed, ctx.memory(|m| m.focused())) {
            (Some(FileAction::Save), Some(field)) if ctx.text_edit_focused() => {
                // A field takes what was typed when the keyboard leaves it.
                ctx.memory_mut(|m| m.surrender_focus(field));
                self.save_soon = Some(field);
                ctx.request_repaint();
            }
            (Some(action), _) => actions.push(Action::File(action)),
            (None, _) => {
                let path = dropped.into_iter().map(|file| file.path().to_path_buf()).next();
                actions.extend(path.map(|path| {
                    let is_page = bring_in::is_page(&path);
                    Action::File(if is_page { FileAction::BringInPath(path) } else { FileAction::OpenPath(path) })
                }));
            }
        }
    }

    /// Lists the folder that the path box is about.
    fn look_around(&mut self) {
        if let Some(Question::Path(path_box)) = &mut self.question
            && let Some(folder) = path_box.wants()
        {
            let endings = path_box.purpose.endings();
            self.look(move || {
                let entries = work::list(&folder, endings);
                work::Done::Listed { folder, entries }
            });
        }
    }

    /// Puts unsaved work by where a crash does not reach it.
    fn put_by(&mut self, ctx: &Context, history: &History) {
        if self.worker.is_none() || self.closing {
            return;
        }
        let file = self.doc.path.clone();
        let plan = crate::store::plan_id(file.as_deref());
        // The window's own clock stands still while it is hidden, the machine's in a test.
        let now = ctx.input(|i| i.time).max(self.began.elapsed().as_secs_f64());
        match self.autosave.step(history, &plan, now) {
            Step::Rest => {}
            Step::Wait(seconds) => ctx.request_repaint_after(Duration::from_secs_f64(seconds)),
            Step::Drop(plan) => self.give(Job::Drop { plan }),
            Step::Keep { drop } => {
                let rotation = history.now().clone();
                self.give(Job::Snapshot { plan, file, at: jiff::Timestamp::now(), rotation });
                if let Some(plan) = drop {
                    self.give(Job::Drop { plan });
                }
            }
        }
    }

    fn give(&self, job: Job) {
        if let Some(worker) = &self.worker {
            worker.give(job);
        }
    }

    fn look(&self, read: impl FnOnce() -> work::Done + Send + 'static) {
        if let Some(worker) = &self.worker {
            worker.look(read);
        }
    }

    fn put_question(&mut self, question: Question) {
        self.question = Some(question);
        self.fresh = true;
    }
}

impl Drop for Files {
    fn drop(&mut self) {
        // Only a window that was closed as it should leaves nothing behind; the worker then finishes before it goes.
        if self.closing {
            self.give(Job::Close);
        }
    }
}
