//! The worker: everything that touches the disk while the window is open.
//!
//! What is written is written by one thread, in the order it was asked for; what is read is read beside it, so that a slow
//! folder never holds a save back. Each answer comes by one channel and wakes the window.

use super::bring_in::NotRead;
use super::printing::Printable;
use crate::{
    exchange::ReadRecipe,
    judge::Habits,
    lists::{Cupboard, Ticks},
    rotation::{EatenMeal, Equipment, Household, Rotation, Template},
    runsheet::KeptCooking,
    store::{
        Fingerprint, Loaded, OwnBook, OwnChange, Places, Recent, RecoveryStore, Remnant, Settings, StoreError, check_unchanged,
        fingerprint, save_cupboard, save_equipment, save_habits, save_household, save_journal, save_rotation, save_template,
        save_ticks,
    },
};
use egui::Context;
use jiff::Timestamp;
use std::{
    path::{Path, PathBuf},
    sync::{
        Arc, Mutex, PoisonError,
        mpsc::{self, Receiver, Sender},
    },
    thread,
    time::Duration,
};

/// What may be written over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Over {
    /// Nothing: the name must be free.
    Nothing,
    /// The file as it was when it was read or written last.
    Known(Fingerprint),
    /// Whatever is there: the person said so.
    Anything,
}

/// Why nothing was written.
#[derive(Debug)]
pub(super) enum Refused {
    /// There is a file of that name.
    There,
    /// Another program has written there since.
    Changed,
    /// It cannot be done.
    Failed(StoreError),
}

/// Something to write.
pub(super) enum Job {
    /// A plan to its file.
    Save { path: PathBuf, rotation: Arc<Rotation>, over: Over },
    /// The shape of a plan to a template file.
    KeepShape { path: PathBuf, rotation: Arc<Rotation>, over: Over },
    /// Paper, or a foreign format.
    Print { path: PathBuf, what: Arc<Printable>, over: Over },
    /// The settings that lie in the slot.
    Settings,
    /// The recent files.
    Recent(Recent),
    /// Who eats, for the next fresh plan.
    Household(Household),
    /// What the kitchen has, for the next fresh plan.
    Equipment(Box<Equipment>),
    /// What the household has said of its meals.
    Habits(Box<Habits>),
    /// What is in the house.
    Cupboard(Cupboard),
    /// What is ticked off on lists.
    Ticks(Ticks, Box<KeptCooking>),
    /// What was eaten.
    Journal(Vec<EatenMeal>),
    /// Unsaved work.
    Snapshot { plan: String, file: Option<PathBuf>, at: Timestamp, rotation: Arc<Rotation> },
    /// Unsaved work is no longer unsaved, or given up.
    Drop { plan: String },
    /// What a crashed run left comes to the desk.
    Take(Box<Remnant>),
    /// What a crashed run left is thrown away.
    ThrowAway(Box<Remnant>),
    /// Something is done to the own book.
    Own(OwnChange),
    /// The window closes as it should.
    Close,
}

/// One name in a folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Entry {
    pub name: String,
    pub folder: bool,
}

/// What came of it.
pub(super) enum Done {
    /// The plan that was handed over first of those not yet answered.
    Saved {
        result: Result<Fingerprint, Refused>,
    },
    ShapeKept {
        path: PathBuf,
        result: Result<(), Refused>,
    },
    /// `path` is what was asked for, or that with its suffix.
    Read {
        asked: PathBuf,
        path: PathBuf,
        result: Box<Result<Loaded, StoreError>>,
    },
    Printed {
        path: PathBuf,
        what: Arc<Printable>,
        result: Result<(), Refused>,
    },
    ShapeRead {
        path: PathBuf,
        result: Box<Result<Template, StoreError>>,
    },
    /// The recipes of a saved page.
    PageRead {
        path: PathBuf,
        result: Result<Vec<ReadRecipe>, NotRead>,
    },
    /// The plan's file beside what was read or written there last.
    Compared {
        path: PathBuf,
        result: Result<(), StoreError>,
    },
    Listed {
        folder: PathBuf,
        entries: Result<Vec<Entry>, String>,
    },
    RecentSeen(Vec<(PathBuf, bool)>),
    LeftBehind(Vec<Remnant>),
    Taken {
        remnant: Box<Remnant>,
        result: Result<Taken, StoreError>,
    },
    /// The own book as it is now, or why nothing was done to it.
    Own {
        change: OwnChange,
        result: Result<OwnBook, StoreError>,
    },
    /// Something of the program's own could not be kept: one sentence.
    Trouble(String),
}

/// A remnant that is now this run's.
pub(super) struct Taken {
    /// The name that its snapshot goes by.
    pub plan: String,
    /// Its file as it is, where nobody has written there since the snapshot was made.
    pub fingerprint: Option<Fingerprint>,
}

/// The worker's side of the window.
pub(super) struct Worker {
    jobs: Option<Sender<Job>>,
    done: Receiver<Done>,
    tell: Sender<Done>,
    settings: Arc<Mutex<Option<Settings>>>,
    finished: Receiver<()>,
    ctx: Context,
}

/// How long the window waits at its end for the last write: far longer than any healthy disk needs.
const LAST_WRITE: Duration = Duration::from_secs(5);

impl Worker {
    /// Starts the worker. It first looks for what crashed runs have left.
    pub fn start(places: Option<Places>, own: OwnBook, ctx: &Context) -> Worker {
        let (jobs, todo) = mpsc::channel();
        let (tell, done) = mpsc::channel();
        let (finish, finished) = mpsc::channel();
        let settings = Arc::new(Mutex::new(None));
        let hand =
            Hand { places, tell: tell.clone(), ctx: ctx.clone(), settings: settings.clone(), recovery: None, written: None, own };
        let started = thread::Builder::new().name("files".into()).spawn(move || {
            hand.work(&todo);
            // Nobody listens any more if the window did not wait.
            let _ = finish.send(());
        });
        if let Err(e) = started {
            let _ =
                tell.send(Done::Trouble(format!("Nothing can be saved: the system gives no thread ({e}); close something else")));
        }
        Worker { jobs: Some(jobs), done, tell, settings, finished, ctx: ctx.clone() }
    }

    /// Hands a job over. Without a worker the window has already said that nothing can be saved.
    pub fn give(&self, job: Job) {
        if let Some(jobs) = &self.jobs {
            let _ = jobs.send(job);
        }
    }

    /// Keeps these settings; of many in a row only the last are written.
    pub fn keep_settings(&self, settings: Settings) {
        *self.settings.lock().unwrap_or_else(PoisonError::into_inner) = Some(settings);
        self.give(Job::Settings);
    }

    /// Reads something beside the worker.
    pub fn look(&self, read: impl FnOnce() -> Done + Send + 'static) {
        let (tell, ctx) = (self.tell.clone(), self.ctx.clone());
        let looking = thread::Builder::new().name("reading".into()).spawn(move || {
            let _ = tell.send(read());
            ctx.request_repaint();
        });
        if let Err(e) = looking {
            let _ = self.tell.send(Done::Trouble(format!("Not read: the system gives no thread ({e}); close something else")));
        }
    }

    /// What has been done since.
    pub fn done(&self) -> Option<Done> {
        self.done.try_recv().ok()
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.jobs = None;
        let _ = self.finished.recv_timeout(LAST_WRITE);
    }
}

/// The working thread's own.
struct Hand {
    places: Option<Places>,
    tell: Sender<Done>,
    ctx: Context,
    settings: Arc<Mutex<Option<Settings>>>,
    recovery: Option<RecoveryStore>,
    /// What was written last, and where.
    written: Option<(PathBuf, Fingerprint)>,
    /// The own book as it is on disk.
    own: OwnBook,
}

impl Hand {
    fn work(mut self, todo: &Receiver<Job>) {
        if let Some(places) = &self.places {
            match RecoveryStore::open(places, std::process::id()) {
                Ok(store) => {
                    let left = store.left_behind();
                    self.recovery = Some(store);
                    if !left.is_empty() {
                        self.say(Done::LeftBehind(left));
                    }
                }
                Err(e) => self.trouble("Unsaved work cannot be kept safe from a crash", &e),
            }
        }
        while let Ok(job) = todo.recv() {
            self.perform(job);
        }
    }

    fn save(&mut self, path: &Path, rotation: &Rotation, over: Over) -> Result<Fingerprint, Refused> {
        match over {
            Over::Anything => {}
            Over::Known(was) => {
                // The window may not yet have heard of the save before this one.
                let own = self.written.as_ref().filter(|(at, _)| at == path).map(|(_, print)| *print);
                let known = check_unchanged(path, &was).or_else(|e| own.map_or(Err(e), |print| check_unchanged(path, &print)));
                match known {
                    Err(StoreError::ChangedOnDisk { .. }) => return Err(Refused::Changed),
                    other => other.map_err(Refused::Failed)?,
                }
            }
            // Whatever else is the matter with the place is said by the writing itself.
            Over::Nothing if path.is_file() => return Err(Refused::There),
            Over::Nothing => {}
        }
        let print = save_rotation(path, rotation).map_err(Refused::Failed)?;
        self.written = Some((path.into(), print));
        Ok(print)
    }

    fn say(&self, done: Done) {
        let _ = self.tell.send(done);
        self.ctx.request_repaint();
    }

    fn trouble(&self, what: &str, error: &StoreError) {
        self.say(Done::Trouble(format!("{what}: {error}")));
    }

    fn perform(&mut self, job: Job) {
        match job {
            Job::Save { path, rotation, over } => {
                let result = self.save(&path, &rotation, over);
                self.say(Done::Saved { result });
            }
            Job::KeepShape { path, rotation, over } => {
                let result = if over != Over::Anything && path.is_file() {
                    Err(Refused::There)
                } else {
                    save_template(&path, &Template::of(&rotation)).map(|_| ()).map_err(Refused::Failed)
                };
                self.say(Done::ShapeKept { path, result });
            }
            Job::Print { path, what, over } => {
                let result = if over != Over::Anything && path.is_file() { Err(Refused::There) } else { what.write(&path) };
                self.say(Done::Printed { path, what, result });
            }
            Job::Settings => {
                let settings = self.settings.lock().unwrap_or_else(PoisonError::into_inner).take();
                if let (Some(settings), Some(places)) = (settings, &self.places)
                    && let Err(e) = settings.save(places)
                {
                    self.trouble("The settings are not kept", &e);
                }
            }
            Job::Recent(recent) => {
                if let Some(places) = &self.places
                    && let Err(e) = recent.save(places)
                {
                    self.trouble("The recent files are not kept", &e);
                }
                self.say(Done::RecentSeen(seen(&recent)));
            }
            Job::Household(household) => {
                if let Some(places) = &self.places
                    && let Err(e) = save_household(places, &household)
                {
                    self.trouble("The household is not kept for the next plan", &e);
                }
            }
            Job::Equipment(equipment) => {
                if let Some(places) = &self.places
                    && let Err(e) = save_equipment(places, &equipment)
                {
                    self.trouble("What the kitchen has is not kept for the next plan", &e);
                }
            }
            Job::Habits(habits) => {
                if let Some(places) = &self.places
                    && let Err(e) = save_habits(places, &habits)
                {
                    self.trouble("What the household minds is not kept", &e);
                }
            }
            Job::Cupboard(cupboard) => {
                if let Some(places) = &self.places
                    && let Err(e) = save_cupboard(places, &cupboard)
                {
                    self.trouble("What is in the house is not kept", &e);
                }
            }
            Job::Ticks(ticks, cooking) => {
                if let Some(places) = &self.places
                    && let Err(e) = save_ticks(places, &ticks, &cooking)
                {
                    self.trouble("What is ticked off is not kept", &e);
                }
            }
            Job::Journal(eaten) => {
                if let Some(places) = &self.places
                    && let Err(e) = save_journal(places, &eaten)
                {
                    self.trouble("The journal is not kept", &e);
                }
            }
            Job::Snapshot { plan, file, at, rotation } => {
                if let Some(store) = &self.recovery
                    && let Err(e) = store.keep(&plan, file.as_deref(), at, &rotation)
                {
                    self.trouble("Unsaved work is not kept safe from a crash", &e);
                }
            }
            Job::Drop { plan } => {
                if let Some(store) = &self.recovery
                    && let Err(e) = store.drop_plan(&plan)
                {
                    self.trouble("What was kept of unsaved work stays behind", &e);
                }
            }
            Job::Take(remnant) => {
                if let Some(store) = &self.recovery {
                    let result = store.take(&remnant).map(|plan| Taken { plan, fingerprint: untouched(&remnant) });
                    self.say(Done::Taken { remnant, result });
                }
            }
            Job::ThrowAway(remnant) => {
                if let Some(store) = &self.recovery
                    && let Err(e) = store.discard(&remnant)
                {
                    self.trouble("The unsaved plan stays behind", &e);
                }
            }
            Job::Own(change) => {
                let result = self.own.perform(&change).map(|()| self.own.clone());
                self.say(Done::Own { change, result });
            }
            Job::Close => {
                if let Some(store) = self.recovery.take()
                    && let Err(e) = store.close()
                {
                    self.trouble("What was kept of unsaved work stays behind", &e);
                }
            }
        }
    }
}

/// The remnant's file, if it was written last before the snapshot was made.
fn untouched(remnant: &Remnant) -> Option<Fingerprint> {
    let snapshot = remnant.content.as_ref().ok()?;
    let file = snapshot.file.as_ref()?;
    let written = Timestamp::try_from(std::fs::metadata(file).ok()?.modified().ok()?).ok()?;
    if written <= snapshot.at { fingerprint(file).ok() } else { None }
}

/// Recent files with whether each is there. Looks at the disk.
pub(super) fn seen(recent: &Recent) -> Vec<(PathBuf, bool)> {
    recent.files().into_iter().map(|file| (file.path, !file.missing)).collect()
}

/// The most names of a folder that are shown.
const MAX_ENTRIES: usize = 2_000;

/// Folders, and files whose names end in one of `endings`, by name. Names that cannot be typed are left out.
pub(super) fn list(folder: &Path, endings: &[&str]) -> Result<Vec<Entry>, String> {
    let names = std::fs::read_dir(folder).map_err(|e| match e.kind() {
        std::io::ErrorKind::NotFound => "There is no such folder".to_string(),
        std::io::ErrorKind::PermissionDenied => "You are not allowed to look into this folder".to_string(),
        std::io::ErrorKind::NotADirectory => "This is a file, not a folder".to_string(),
        _ => format!("This folder cannot be read: {e}"),
    })?;
    let mut entries: Vec<Entry> = names
        .flatten()
        .filter_map(|found| {
            let name = found.file_name().into_string().ok().filter(|n| !n.chars().any(char::is_control))?;
            // Looked at through links, so that a link to a folder is one.
            let folder = found.path().is_dir();
            let lower = name.to_lowercase();
            (folder || endings.iter().any(|e| lower.ends_with(e))).then_some(Entry { name, folder })
        })
        .take(MAX_ENTRIES)
        .collect();
    entries.sort_by_cached_key(|e| (!e.folder, e.name.to_lowercase()));
    Ok(entries)
}
