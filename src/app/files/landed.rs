//! What comes back: from the worker, and from the desktop's dialogs.

use super::{
    Answer, Doc, Files, Purpose, Saving,
    begin::opened_words,
    dialog::Heard,
    left,
    path_box::PathBox,
    printing::Printable,
    question::{Offer, Question, shown},
    work::{Done, Job, Over, Refused, Taken},
};
use crate::{
    rotation::{History, Template},
    store::{Fingerprint, Loaded, Remnant, StoreError},
};
use egui::Context;
use std::{path::PathBuf, sync::Arc};

impl Files {
    /// Takes up what has come since. At most one thing changes the desk in a frame.
    pub(super) fn landed(&mut self, ctx: &Context, history: &History) -> Answer {
        // A dialog is heard when no question is open: its answer may ask one.
        if self.question.is_none()
            && let Some(heard) = self.waiting.as_ref().and_then(|w| w.heard())
            && let Some(waiting) = self.waiting.take()
        {
            ctx.request_repaint();
            return self.heard(heard, waiting.purpose, history);
        }
        let mut said = None;
        while let Some(done) = self.worker.as_ref().and_then(|w| w.done()) {
            ctx.request_repaint();
            let answer = self.take_up(done, history, ctx);
            let moves = answer.replace.is_some() || answer.saved.is_some() || answer.open.is_some();
            if moves || answer.own.is_some() || answer.brought.is_some() {
                return answer;
            }
            said = answer.say.or(said);
        }
        Answer { say: said, ..Answer::default() }
    }

    fn heard(&mut self, heard: Heard, purpose: Purpose, history: &History) -> Answer {
        match heard {
            Heard::Path(named) => {
                // The dialog has asked about the name that was typed, not about a longer one.
                let path = if purpose.saves() { purpose.with_ending(named.clone()) } else { named.clone() };
                let over = if path == named { Over::Anything } else { Over::Nothing };
                self.path_named(purpose, path, over, history)
            }
            Heard::Cancelled => {
                self.let_go = None;
                Answer::default()
            }
            Heard::NoDialog => {
                self.path_box_only = true;
                self.ask_in_window(purpose, history)
            }
        }
    }

    fn take_up(&mut self, done: Done, history: &History, ctx: &Context) -> Answer {
        match done {
            Done::Saved { result } => match self.saving.pop_front() {
                Some(saving) => self.saved(saving, result, history, ctx),
                None => Answer::default(),
            },
            Done::Read { asked, path, result } => {
                if self.reading.as_ref() != Some(&asked) {
                    // The person has turned to something else.
                    return Answer::default();
                }
                self.reading = None;
                match *result {
                    Ok(loaded) => self.opened(path, loaded, history),
                    Err(error) => self.not_opened("This file was not opened", &path, &error),
                }
            }
            Done::ShapeKept { path, result } => self.shape_kept(path, result),
            Done::Printed { path, what, result } => self.printed(path, what, result),
            Done::ShapeRead { path, result } => {
                if self.reading.as_ref() != Some(&path) {
                    return Answer::default();
                }
                self.reading = None;
                match *result {
                    Ok(template) => self.shape_read(template),
                    Err(error) => self.not_opened("This shape was not opened", &path, &error),
                }
            }
            Done::PageRead { path, result } => {
                if self.reading.as_ref() != Some(&path) {
                    return Answer::default();
                }
                self.reading = None;
                match result {
                    Ok(recipes) => self.page_read(&path, recipes),
                    Err(why) => self.page_not_read(&path, why),
                }
            }
            Done::Compared { path, result } if self.doc.path.as_ref() == Some(&path) && !history.is_changed() => match result {
                Ok(()) => Answer::say(format!("{} is saved already", shown(&path))),
                // The file is gone: what was on disk is written there anew.
                Err(StoreError::Missing { .. }) => self.write(path, Over::Nothing, false, None, history),
                Err(StoreError::ChangedOnDisk { .. }) => {
                    let say = format!("{} was changed by another program", shown(&path));
                    self.put_question(Question::ChangedOutside { path });
                    Answer::say(say)
                }
                Err(error) => Answer::say(format!("The file cannot be looked at: {error}")),
            },
            // Something else has been done meanwhile.
            Done::Compared { .. } => Answer::default(),
            Done::Listed { folder, entries } => {
                if let Some(Question::Path(path_box)) = &mut self.question {
                    path_box.listed(folder, entries);
                }
                Answer::default()
            }
            Done::RecentSeen(seen) => {
                self.seen = seen;
                Answer::default()
            }
            Done::LeftBehind(remnants) => {
                self.left = remnants;
                self.fresh = true;
                left::words(&self.left).map_or_else(Answer::default, Answer::say)
            }
            Done::Taken { remnant, result } => self.taken(*remnant, result),
            Done::Own { change, result } => Answer { own: Some((change, result)), ..Answer::default() },
            Done::Trouble(words) if words != self.trouble => {
                self.trouble = words.clone();
                Answer::say(words)
            }
            Done::Trouble(_) => Answer::default(),
        }
    }

    fn saved(&mut self, saving: Saving, result: Result<Fingerprint, Refused>, history: &History, ctx: &Context) -> Answer {
        let Saving { rotation, path, asked, then } = saving;
        let from_box = asked && self.is_box_busy(|p| matches!(p, Purpose::SaveAs { .. }));
        match result {
            Ok(fingerprint) => {
                if from_box {
                    self.question = None;
                }
                let say = format!("Saved {}", shown(&path));
                self.recent.note(&path);
                self.give(Job::Recent(self.recent.clone()));
                self.doc = Doc { path: Some(path), fingerprint: Some(fingerprint) };
                let mut answer = match then {
                    // Nothing was changed while it was written.
                    Some(next) if Arc::ptr_eq(&rotation, history.now()) => self.go(next, history, ctx),
                    Some(next) => self.leave(next, history, ctx),
                    None => Answer::default(),
                };
                answer.saved = Some(rotation);
                answer.say = answer.say.or(Some(say));
                answer
            }
            Err(Refused::There) if asked => {
                self.offer_overwriting(Purpose::SaveAs { then }, path);
                Answer::default()
            }
            Err(Refused::There | Refused::Changed) => {
                self.put_question(Question::Changed { path, then });
                Answer::say("Not saved: the file was changed by another program")
            }
            Err(Refused::Failed(error)) => self.not_written("The plan was not saved", &error, from_box),
        }
    }

    fn shape_kept(&mut self, path: PathBuf, result: Result<(), Refused>) -> Answer {
        let from_box = self.is_box_busy(|p| matches!(p, Purpose::KeepShape));
        match result {
            Ok(()) => {
                if from_box {
                    self.question = None;
                }
                Answer::say(format!("The shape is kept in {}", shown(&path)))
            }
            Err(Refused::Failed(error)) => self.not_written("The shape was not kept", &error, from_box),
            Err(Refused::There | Refused::Changed) => {
                self.offer_overwriting(Purpose::KeepShape, path);
                Answer::default()
            }
        }
    }

    fn printed(&mut self, path: PathBuf, what: Arc<Printable>, result: Result<(), Refused>) -> Answer {
        let from_box = self.is_box_busy(|p| matches!(p, Purpose::Print(_)));
        match result {
            Ok(()) => {
                if from_box {
                    self.question = None;
                }
                Answer::say(format!("Written for paper: {}", shown(&path)))
            }
            Err(Refused::Failed(error)) => self.not_written("Nothing was put on paper", &error, from_box),
            Err(Refused::There | Refused::Changed) => {
                self.offer_overwriting(Purpose::Print(what), path);
                Answer::default()
            }
        }
    }

    /// Asks in the path box whether to write over `path`.
    fn offer_overwriting(&mut self, purpose: Purpose, path: PathBuf) {
        let same = |p: &Purpose| std::mem::discriminant(p) == std::mem::discriminant(&purpose);
        if !self.is_box_busy(same) {
            let folder = path.parent().map(PathBuf::from).unwrap_or_default();
            let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
            let home = etcetera::home_dir().ok();
            self.question = Some(Question::Path(Box::new(PathBox::new(purpose, folder, &name, Vec::new(), home))));
        }
        if let Some(Question::Path(path_box)) = &mut self.question {
            path_box.busy = false;
            path_box.over = Some(path);
        }
        self.fresh = true;
    }

    fn not_written(&mut self, title: &str, error: &StoreError, from_box: bool) -> Answer {
        match &mut self.question {
            Some(Question::Path(path_box)) if from_box => {
                path_box.busy = false;
                path_box.error = Some(format!("{error}."));
                self.fresh = true;
            }
            _ => {
                let words = format!("{error}.\n\nYour plan is still here.");
                self.put_question(Question::Trouble { title: title.into(), words, offer: Offer::SaveAs });
            }
        }
        Answer::say(format!("Not saved: {error}"))
    }

    fn opened(&mut self, path: PathBuf, loaded: Loaded, history: &History) -> Answer {
        if !self.may_leave(history) {
            // Something was changed while it was read.
            let heading = history.now().heading();
            self.put_question(Question::Unsaved { next: super::Next::Path(path), heading });
            return Answer::default();
        }
        if matches!(&self.question, Some(Question::Path(_))) {
            self.question = None;
        }
        self.recent.note(&path);
        self.give(Job::Recent(self.recent.clone()));
        let say = opened_words(&path, &loaded);
        let doc = Doc { path: Some(path), fingerprint: Some(loaded.fingerprint) };
        self.replace(History::new(loaded.rotation), doc, say)
    }

    fn not_opened(&mut self, title: &str, path: &std::path::Path, error: &StoreError) -> Answer {
        let say = Answer::say(format!("Not opened: {error}"));
        match &mut self.question {
            Some(Question::Path(path_box)) if path_box.busy => {
                path_box.busy = false;
                if matches!(error, StoreError::Folder { .. }) {
                    path_box.enter(path);
                } else {
                    path_box.error = Some(format!("{error}."));
                    self.fresh = true;
                }
            }
            _ => {
                let words = format!("{error}.\n\nNothing was changed.");
                self.put_question(Question::Trouble { title: title.into(), words, offer: Offer::Open });
            }
        }
        say
    }

    fn shape_read(&mut self, template: Template) -> Answer {
        if matches!(&self.question, Some(Question::Path(_))) {
            self.question = None;
        }
        let say = Some(format!("The shape “{}”", template.name));
        Answer { open: Some(crate::app::sheet::Sheet::Shape), template: Some(Arc::new(template)), say, ..Answer::default() }
    }

    fn taken(&mut self, remnant: Remnant, result: Result<Taken, StoreError>) -> Answer {
        match (result, remnant.content) {
            (Ok(taken), Ok(snapshot)) => {
                let say = format!("Back again, not yet saved: {}", snapshot.rotation.heading());
                let mut history = History::new(snapshot.rotation);
                history.mark_unsaved();
                let doc = Doc { path: snapshot.file, fingerprint: taken.fingerprint };
                let current = history.now().clone();
                let answer = self.replace(history, doc, say);
                self.autosave.adopt(taken.plan, current);
                answer
            }
            (Err(error), _) | (_, Err(error)) => Answer::say(format!("Not brought back: {error}")),
        }
    }

    fn is_box_busy(&self, is: impl Fn(&Purpose) -> bool) -> bool {
        matches!(&self.question, Some(Question::Path(path_box)) if path_box.busy && is(&path_box.purpose))
    }
}
