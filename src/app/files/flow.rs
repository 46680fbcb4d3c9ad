//! From a wish to the disk: what is asked on the way, and what is handed to the worker.

use super::{
    Answer, Doc, DraftWish, Files, Next, Purpose, Reply, Saving, begin,
    dialog::{Waiting, Wanted},
    path_box::{PathBox, with_suffix},
    question::{Question, shown},
    work::{Done, Job, Over},
};
use crate::{
    app::sheet::Sheet,
    rotation::{History, Rotation},
    store::{StoreError, check_unchanged, fingerprint, read_rotation, read_template},
};
use egui::{Context, ViewportCommand};
use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

/// The most folders that the path box offers.
const MAX_FOLDERS: usize = 5;

impl Files {
    /// Whether the plan may leave the desk: it is saved, or the person has just given its changes up.
    pub(super) fn may_leave(&self, history: &History) -> bool {
        let given_up = self.let_go.as_ref().is_some_and(|plan| Arc::ptr_eq(plan, history.now()));
        self.worker.is_none() || given_up || !history.is_changed()
    }

    /// Goes on with `next`, asking first where unsaved changes would be lost.
    pub(super) fn leave(&mut self, next: Next, history: &History, ctx: &Context) -> Answer {
        if matches!(next, Next::Close)
            && let Some(draft) = self.draft.clone()
        {
            self.put_question(Question::Draft { draft, closes: true });
            return Answer::default();
        }
        if let Some(saving) = self.saving.back_mut()
            && Arc::ptr_eq(&saving.rotation, history.now())
        {
            // It is being saved just now; if that fails, nothing follows.
            saving.then = Some(next);
            return Answer::default();
        }
        if self.may_leave(history) {
            return self.go(next, history, ctx);
        }
        self.put_question(Question::Unsaved { next, heading: history.now().heading() });
        Answer::default()
    }

    /// Goes on with `next`: nothing is lost by it any more.
    pub(super) fn go(&mut self, next: Next, history: &History, ctx: &Context) -> Answer {
        match next {
            Next::New => Answer { open: Some(Sheet::Start), ..Answer::default() },
            Next::Begin(mut fresh) => {
                let equipment = self.usual_equipment(history.now());
                equipment.furnish(&mut fresh);
                self.keep_equipment(equipment);
                self.household = Some(fresh.household.clone());
                self.give(Job::Household(fresh.household.clone()));
                let say = format!("A fresh plan: {}", fresh.heading());
                self.replace(fresh_history(*fresh), Doc::default(), say)
            }
            Next::Open => self.ask(Purpose::Open, history, ctx),
            Next::ByPath => self.ask_in_window(Purpose::Open, history),
            Next::Path(path) => self.read(path),
            Next::Demo => {
                let book = crate::book::Book::shipped().unwrap_or_default();
                self.replace(History::new(begin::demo(&book)), Doc::default(), "This is the demo".into())
            }
            Next::Restore => {
                if !self.left.is_empty() {
                    let remnant = self.left.remove(0);
                    self.give(Job::Take(Box::new(remnant)));
                }
                Answer::default()
            }
            Next::Close => {
                self.closing = true;
                ctx.send_viewport_cmd(ViewportCommand::Close);
                Answer::default()
            }
        }
    }

    /// Puts another plan on the desk.
    pub(super) fn replace(&mut self, history: History, doc: Doc, say: String) -> Answer {
        if let Some(plan) = self.autosave.forget() {
            self.give(Job::Drop { plan });
        }
        self.doc = doc;
        self.let_go = None;
        self.reading = None;
        Answer { replace: Some(history), say: Some(say), ..Answer::default() }
    }

    /// Saves the plan where it was saved last, or asks where.
    pub(super) fn save(&mut self, history: &History, then: Option<Next>, ctx: &Context) -> Answer {
        let Some(path) = self.doc.path.clone() else {
            return self.ask(Purpose::SaveAs { then }, history, ctx);
        };
        if self.worker.is_none() {
            return nothing_kept();
        }
        if then.is_none()
            && !history.is_changed()
            && self.saving.is_empty()
            && let Some(was) = self.doc.fingerprint
        {
            self.look(move || {
                let result = check_unchanged(&path, &was).and_then(|()| fingerprint(&path).map(|_| ()));
                Done::Compared { path, result }
            });
            return Answer::default();
        }
        // A file of which nothing is known must not be there.
        let over = self.doc.fingerprint.map_or(Over::Nothing, Over::Known);
        self.write(path, over, false, then, history)
    }

    /// Hands the plan to the worker.
    pub(super) fn write(&mut self, path: PathBuf, over: Over, asked: bool, then: Option<Next>, history: &History) -> Answer {
        let rotation = history.now().clone();
        self.give(Job::Save { path: path.clone(), rotation: rotation.clone(), over });
        let say = format!("Saving {}…", shown(&path));
        self.saving.push_back(Saving { rotation, path, asked, then });
        Answer::say(say)
    }

    /// Reads a file for the desk, beside the worker. A name without its suffix is looked for with it.
    pub(super) fn read(&mut self, path: PathBuf) -> Answer {
        if self.worker.is_none() {
            return nothing_kept();
        }
        let say = format!("Opening {}…", shown(&path));
        self.reading = Some(path.clone());
        self.look(move || {
            let mut result = read_rotation(&path);
            let mut at = path.clone();
            if matches!(result, Err(StoreError::Missing { .. })) {
                let longer = with_suffix(path.clone(), Purpose::Open.suffix());
                if longer.is_file() {
                    result = read_rotation(&longer);
                    at = longer;
                }
            }
            Done::Read { asked: path, path: at, result: Box::new(result) }
        });
        Answer::say(say)
    }

    /// Asks for a path by the desktop's dialog, or in the window where there is none.
    pub(super) fn ask(&mut self, purpose: Purpose, history: &History, ctx: &Context) -> Answer {
        if self.worker.is_none() {
            return nothing_kept();
        }
        if self.waiting.is_some() {
            return Answer::say("The file dialog is open already");
        }
        if self.path_box_only {
            return self.ask_in_window(purpose, history);
        }
        let wanted = Wanted {
            title: purpose.title(),
            save: purpose.saves(),
            sort: purpose.sort(),
            endings: purpose.endings(),
            folder: self.folder(&purpose),
            name: self.proposed_name(&purpose, history),
        };
        self.waiting = Some(Waiting::begin(&self.asker, &wanted, purpose, ctx));
        Answer::default()
    }

    /// Asks for a path in the window.
    pub(super) fn ask_in_window(&mut self, purpose: Purpose, history: &History) -> Answer {
        if self.worker.is_none() {
            return nothing_kept();
        }
        let name = if purpose.saves() { self.proposed_name(&purpose, history) } else { String::new() };
        let mut folders: Vec<PathBuf> = Vec::new();
        for folder in self.seen.iter().filter_map(|(path, _)| path.parent()) {
            if folders.len() < MAX_FOLDERS && !folders.iter().any(|f| f == folder) {
                folders.push(folder.to_path_buf());
            }
        }
        let home = etcetera::home_dir().ok();
        let begin_in = self.folder(&purpose);
        self.put_question(Question::Path(Box::new(PathBox::new(purpose, begin_in, &name, folders, home))));
        Answer::default()
    }

    /// A path was named. `over` is what may be written over there.
    pub(super) fn path_named(&mut self, purpose: Purpose, path: PathBuf, over: Over, history: &History) -> Answer {
        match purpose {
            Purpose::Open => self.read(path),
            Purpose::SaveAs { then } => self.write(path, over, true, then, history),
            Purpose::KeepShape => {
                let say = format!("Keeping the shape in {}…", shown(&path));
                self.give(Job::KeepShape { path, rotation: history.now().clone(), over });
                Answer::say(say)
            }
            Purpose::LayShape => {
                self.reading = Some(path.clone());
                self.look(move || {
                    let result = Box::new(read_template(&path));
                    Done::ShapeRead { path, result }
                });
                Answer::default()
            }
            Purpose::BringIn => self.read_page(path),
            Purpose::Print(what) => {
                let say = format!("Writing {}…", shown(&path));
                self.give(Job::Print { path, what, over });
                Answer::say(say)
            }
        }
    }

    /// Takes the answer to a question.
    pub(super) fn reply(&mut self, reply: Reply, history: &History, ctx: &Context) -> Answer {
        match reply {
            Reply::Restore => return self.leave(Next::Restore, history, ctx),
            Reply::ThrowAway => {
                if !self.left.is_empty() {
                    let remnant = self.left.remove(0);
                    self.give(Job::ThrowAway(Box::new(remnant)));
                }
                return Answer::say("The unsaved plan is thrown away");
            }
            Reply::Later => {
                self.left.clear();
                return Answer::say("It will be offered again at the next start");
            }
            Reply::UseBox => {
                // A desktop that does not answer once is not asked again.
                self.path_box_only = true;
                return match self.waiting.take() {
                    Some(waiting) => self.ask_in_window(waiting.purpose, history),
                    None => Answer::default(),
                };
            }
            _ => {}
        }
        match (self.question.take(), reply) {
            (Some(Question::Unsaved { next, .. }), Reply::Save) => self.save(history, Some(next), ctx),
            (Some(Question::Unsaved { next, .. }), Reply::Discard) => {
                self.let_go = Some(history.now().clone());
                self.go(next, history, ctx)
            }
            (Some(Question::Draft { closes, .. }), Reply::Save) => {
                Answer { draft: Some(DraftWish::Save { then_close: closes }), ..Answer::default() }
            }
            (Some(Question::Draft { closes, .. }), Reply::Discard) => {
                self.draft = None;
                let answer = if closes { self.leave(Next::Close, history, ctx) } else { Answer::default() };
                Answer { draft: Some(DraftWish::ThrowAway), ..answer }
            }
            (Some(Question::Draft { .. }), _) => Answer { draft: Some(DraftWish::GoOn), ..Answer::default() },
            (Some(Question::Changed { path, then }), Reply::Overwrite) => self.write(path, Over::Anything, true, then, history),
            (Some(Question::Changed { then, .. }), Reply::SaveAs) => self.ask(Purpose::SaveAs { then }, history, ctx),
            (Some(Question::ChangedOutside { path }), Reply::Overwrite) => self.write(path, Over::Anything, true, None, history),
            (Some(Question::ChangedOutside { path }), Reply::OpenAgain) => self.leave(Next::Path(path), history, ctx),
            (Some(Question::Trouble { .. }), Reply::SaveAs) => self.ask(Purpose::SaveAs { then: None }, history, ctx),
            (Some(Question::Trouble { .. }), Reply::OtherPage) => self.ask(Purpose::BringIn, history, ctx),
            (Some(Question::Trouble { .. }), Reply::OpenOther) => self.leave(Next::Open, history, ctx),
            (Some(Question::Path(path_box)), reply) => self.box_reply(path_box, reply, history),
            _ => {
                self.let_go = None;
                Answer::default()
            }
        }
    }

    /// Takes what was said in the path box, which stays until it is done.
    fn box_reply(&mut self, mut path_box: Box<PathBox>, reply: Reply, history: &History) -> Answer {
        let purpose = path_box.purpose.clone();
        let answer = match reply {
            Reply::Path(path) => {
                path_box.busy = true;
                self.path_named(purpose, path, Over::Nothing, history)
            }
            Reply::Overwrite => match path_box.over.take() {
                Some(path) => {
                    path_box.busy = true;
                    self.path_named(purpose, path, Over::Anything, history)
                }
                None => Answer::default(),
            },
            Reply::AnotherName => {
                path_box.over = None;
                self.fresh = true;
                Answer::default()
            }
            _ => {
                self.let_go = None;
                self.reading = None;
                // What is being written is written, but nothing comes after it.
                if path_box.busy
                    && let Some(saving) = self.saving.back_mut()
                {
                    saving.then = None;
                }
                return Answer::default();
            }
        };
        self.question = Some(Question::Path(path_box));
        answer
    }

    /// The folder to begin in: for a page that of the last page; else that of the plan, else that of the last one, else home.
    fn folder(&self, purpose: &Purpose) -> PathBuf {
        if let (Purpose::BringIn, Some(folder)) = (purpose, &self.page_folder) {
            return folder.clone();
        }
        let near = self.doc.path.as_deref().or_else(|| self.recent.newest()).and_then(Path::parent);
        near.map(Path::to_path_buf).or_else(|| etcetera::home_dir().ok()).unwrap_or_else(|| PathBuf::from("."))
    }

    /// A name for what is to be written: that of the plan's file, else one made of its heading.
    fn proposed_name(&self, purpose: &Purpose, history: &History) -> String {
        let known = self.doc.path.as_deref().and_then(Path::file_name).and_then(|n| n.to_str());
        let stem = known.map(|name| name.strip_suffix(Purpose::Open.suffix()).unwrap_or(name).to_string());
        format!("{}{}", stem.unwrap_or_else(|| name_for(&history.now().heading())), purpose.suffix())
    }
}

/// A history of a plan that is on no disk yet.
fn fresh_history(rotation: Rotation) -> History {
    let mut history = History::new(rotation);
    history.mark_unsaved();
    history
}

pub(super) fn nothing_kept() -> Answer {
    Answer::say("This window keeps nothing on disk")
}

/// The longest name that is proposed, in characters: whole with its suffix on every common disk.
const MAX_NAME: usize = 60;

/// A file's name made of a heading: "red cabbage in four days".
fn name_for(heading: &str) -> String {
    let plain = |c: char| if c.is_alphanumeric() || matches!(c, ' ' | '-' | '_' | '.') { c } else { '-' };
    let name: String = heading.to_lowercase().chars().map(plain).take(MAX_NAME).collect();
    let name = name.trim_matches(|c: char| c == ' ' || c == '.' || c == '-');
    if name.is_empty() { "plan".into() } else { name.to_string() }
}

#[cfg(test)]
mod tests {
    use super::name_for;

    #[test]
    fn a_heading_makes_a_name_that_every_disk_takes() {
        for (heading, name) in [
            ("Red cabbage in four days", "red cabbage in four days"),
            ("../..", "plan"),
            ("a/b:c?", "a-b-c"),
            ("Rotkohl für Jürgen", "rotkohl für jürgen"),
            ("", "plan"),
        ] {
            assert_eq!(name_for(heading), name, "{heading:?}");
        }
    }
}
