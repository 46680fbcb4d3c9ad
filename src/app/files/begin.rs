//! What the window begins with: the file that was named, the last plan, or the demo.

use super::{
    Doc, Files, Opened,
    autosave::Autosave,
    dialog,
    question::{Offer, Question, shown},
    work::{Job, Worker},
};
use crate::app::hearth::Hearth;
use crate::{
    app::{Start, desk::Settings, theme},
    book::{Book, Diet, Kind, KindId, KindPart, PartId},
    quantity::{Days, Grams, PerMille, State, Units},
    rotation::{Eater, EaterId, Household, Rotation},
    store::{self, Loaded, OwnBook, Places, Recent, StoreError, read_rotation, rotation_from_text},
};
use egui::Context;
use std::{
    path::{Path, PathBuf},
    sync::{Arc, OnceLock},
    time::Instant,
};

/// The demo: a red cabbage in four days.
const DEMO: &str = include_str!("../../../assets/demo.rotation.ron");

/// The demo's plan. Without it (only a spoilt build has none) an empty window around the first kind of the book.
pub(super) fn demo(book: &Book) -> Rotation {
    rotation_from_text(Path::new("demo.rotation.ron"), DEMO).unwrap_or_else(|_| empty(book))
}

/// Whether these are the people of the demo, who are nobody's own household.
pub(in crate::app) fn are_of_the_demo(household: &Household) -> bool {
    // Asked in every frame, read once.
    static PEOPLE: OnceLock<Option<Household>> = OnceLock::new();
    let read = || rotation_from_text(Path::new("demo.rotation.ron"), DEMO).ok().map(|demo| demo.household);
    PEOPLE.get_or_init(read).as_ref() == Some(household)
}

fn empty(book: &Book) -> Rotation {
    let kind = book.kinds().next().cloned().or_else(|| plain_kind().map(Arc::new));
    let eater = Eater {
        id: EaterId(1),
        name: "Me".into(),
        units: Units::ADULT,
        guest: false,
        allergies: Vec::new(),
        diet: Diet::default(),
        dislikes: Vec::new(),
        care: Vec::new(),
    };
    #[expect(clippy::expect_used, reason = "the ids and shares of `plain_kind` are constants within their bounds")]
    let kind = kind.expect("a plain kind");
    let mass = Grams::new(kind.mass.1).unwrap_or_default();
    Rotation::start(kind, mass, jiff::ZonedDateTime::now().date(), 4, vec![eater])
}

/// A piece of which nothing is known: one part, no trim.
fn plain_kind() -> Option<Kind> {
    let part = KindPart {
        id: PartId::new("whole")?,
        name: "whole".into(),
        share: PerMille::ALL,
        raw_days: Days(3),
        nice_days: None,
        suits: "anything".into(),
        unit: None,
    };
    Some(Kind {
        id: KindId::new("piece")?,
        name: "piece".into(),
        family: "piece".into(),
        colour: "8A7A5A".into(),
        portioned: State::Prepared,
        mass: (500, 1_500, 5_000),
        trim: Vec::new(),
        trim_range: None,
        parts: vec![part],
        clock_starts: "cut".into(),
        cooked_days: Days(3),
        cooked_nice_days: None,
        yields: Vec::new(),
        cut_forms: Vec::new(),
        whole: Vec::new(),
        cup: None,
        cups: Vec::new(),
        allergens: Vec::new(),
        diet: Diet::default(),
        animal: false,
        stand_ins: Vec::new(),
        hazards: Vec::new(),
        sources: vec!["practice".into()],
    })
}

/// What is read before the first frame, and what there is to say of it.
struct Found {
    loaded: Option<(PathBuf, Loaded)>,
    question: Option<Question>,
    say: String,
}

impl Files {
    /// Reads settings and book, and the file to begin with.
    pub fn open(start: Start, ctx: &Context) -> Opened {
        let mut notes: Vec<String> = Vec::new();
        let places = start.places.map_or_else(Places::of_this_machine, Ok).map_err(|e| notes.push(e.to_string())).ok();
        let (settings, recent) = kept(places.as_ref(), &mut notes);
        let book = Book::shipped().unwrap_or_else(|e| {
            notes.push(format!("The catalogue is broken, so there are no dishes to choose from: {e}"));
            Book::default()
        });
        let own = places.as_ref().map(OwnBook::load).unwrap_or_default();
        notes.extend(own.troubles().iter().map(|t| format!("Not in the dish book: {t}.")));
        let household = places.as_ref().and_then(|places| {
            let (household, aside) = store::load_household(places);
            notes.extend(aside.map(|aside| aside.to_string()));
            household
        });
        let equipment = places.as_ref().and_then(|places| {
            let (equipment, aside) = store::load_equipment(places);
            notes.extend(aside.map(|aside| aside.to_string()));
            equipment
        });
        let hearth = places.as_ref().map_or_else(Hearth::default, |places| {
            let (habits, no_habits) = store::load_habits(places);
            let (eaten, no_journal) = store::load_journal(places);
            let (cupboard, no_cupboard) = store::load_cupboard(places);
            let ((ticks, cooking), no_ticks) = store::load_ticks(places);
            let broken = no_habits.into_iter().chain(no_journal).chain(no_cupboard).chain(no_ticks);
            notes.extend(broken.map(|aside| aside.to_string()));
            Hearth::new(habits, eaten).with_house(cupboard.unwrap_or_default(), ticks).with_cooking(cooking)
        });
        let found = find(start.file, recent.newest());
        let worker = Worker::start(places, own.clone(), ctx);
        let mut files = Files::detached();
        files.worker = Some(worker);
        files.kept_built_in = settings.built_in_dialogs;
        files.path_box_only = start.built_in_dialogs || settings.built_in_dialogs;
        files.recent = recent;
        files.household = household;
        files.equipment = equipment;
        files.kitchen = settings.units.into();
        files.question = found.question;
        files.fresh = true;
        let (rotation, doc) = match found.loaded {
            Some((path, loaded)) => {
                files.recent.note(&path);
                (loaded.rotation, Doc { path: Some(path), fingerprint: Some(loaded.fingerprint) })
            }
            None => (demo(&book), Doc::default()),
        };
        files.doc = doc;
        files.give(Job::Recent(files.recent.clone()));
        notes.push(found.say);
        notes.retain(|n| !n.is_empty());
        Opened {
            hearth,
            rotation,
            on_disk: true,
            book: Arc::new(book),
            own,
            settings: Settings {
                look: look_of(settings.look),
                system: settings.units,
                zoom: f32::from(settings.scale.percent()) / 100.0,
                reduce_motion: settings.reduce_motion,
            },
            files,
            say: notes.join(" "),
        }
    }

    /// Files that touch no disk: for tests.
    pub fn detached() -> Files {
        Files {
            worker: None,
            asker: dialog::system(rfd::AsyncFileDialog::new()),
            path_box_only: false,
            kept_built_in: false,
            doc: Doc::default(),
            recent: Recent::default(),
            household: None,
            equipment: None,
            kitchen: Default::default(),
            page_folder: None,
            seen: Vec::new(),
            question: None,
            fresh: false,
            asked: false,
            back_to: None,
            waiting: None,
            saving: Default::default(),
            reading: None,
            let_go: None,
            draft: None,
            autosave: Autosave::default(),
            left: Vec::new(),
            trouble: String::new(),
            save_soon: None,
            title: String::new(),
            closing: false,
            began: Instant::now(),
        }
    }
}

/// Settings and recent files as they were kept, or the defaults with a note of why.
fn kept(places: Option<&Places>, notes: &mut Vec<String>) -> (store::Settings, Recent) {
    let Some(places) = places else { return Default::default() };
    let (settings, no_settings) = store::Settings::load(places);
    let (recent, no_recent) = Recent::load(places);
    notes.extend([no_settings, no_recent].into_iter().flatten().map(|aside| aside.to_string()));
    (settings, recent)
}

/// The file that was named, else the last one.
fn find(named: Option<PathBuf>, last: Option<&Path>) -> Found {
    if let Some(path) = named {
        // The place where the program was started is not where it may be later.
        let path = std::path::absolute(&path).unwrap_or(path);
        return match read_rotation(&path) {
            Ok(loaded) => found(path, loaded),
            Err(e) => Found {
                loaded: None,
                say: format!("Not opened: {e}"),
                question: Some(Question::Trouble {
                    title: "This file was not opened".into(),
                    words: format!("{e}.\n\nThe demo is on the bench instead; nothing was written."),
                    offer: Offer::Open,
                }),
            },
        };
    }
    match last.map(|path| (path, read_rotation(path))) {
        Some((path, Ok(loaded))) => found(path.to_path_buf(), loaded),
        Some((path, Err(StoreError::Missing { .. }))) => {
            nothing(format!("The last plan, {}, is no longer there; this is the demo", shown(path)))
        }
        Some((_, Err(e))) => nothing(format!("The last plan was not opened, this is the demo: {e}")),
        None => nothing("This is the demo; start with your own piece when you like".into()),
    }
}

fn found(path: PathBuf, loaded: Loaded) -> Found {
    let say = opened_words(&path, &loaded);
    Found { loaded: Some((path, loaded)), question: None, say }
}

fn nothing(say: String) -> Found {
    Found { loaded: None, question: None, say }
}

/// What to say of a file that was opened.
pub(super) fn opened_words(path: &Path, loaded: &Loaded) -> String {
    let name = shown(path);
    match loaded.migrated_from {
        Some(version) => format!("Opened {name}, written as version {version}; saving keeps the original beside it as .bak"),
        None => format!("Opened {name}"),
    }
}

/// The store's look as the window's.
fn look_of(look: store::Look) -> theme::Look {
    match look {
        store::Look::System => theme::Look::System,
        store::Look::Light => theme::Look::Light,
        store::Look::Dark => theme::Look::Dark,
        store::Look::HighContrast => theme::Look::HighContrast,
        store::Look::HighContrastLight => theme::Look::HighContrastLight,
        store::Look::HighContrastDark => theme::Look::HighContrastDark,
    }
}

/// The window's look as the store's.
fn kept_look(look: theme::Look) -> store::Look {
    match look {
        theme::Look::System => store::Look::System,
        theme::Look::Light => store::Look::Light,
        theme::Look::Dark => store::Look::Dark,
        theme::Look::HighContrast => store::Look::HighContrast,
        theme::Look::HighContrastLight => store::Look::HighContrastLight,
        theme::Look::HighContrastDark => store::Look::HighContrastDark,
    }
}

/// The window's settings as they are kept.
pub(super) fn kept_settings(settings: Settings, built_in_dialogs: bool) -> store::Settings {
    store::Settings {
        look: kept_look(settings.look),
        units: settings.system,
        scale: store::Scale::of((settings.zoom * 100.0).round() as u16),
        reduce_motion: settings.reduce_motion,
        built_in_dialogs,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_demo_reads_and_an_empty_book_is_no_trouble() {
        rotation_from_text(Path::new("demo"), DEMO).expect("the demo reads");
        assert!(crate::rotation::validate(&empty(&Book::default())).is_ok());
    }

    #[test]
    fn settings_come_back_as_they_were_kept() {
        for look in theme::Look::ALL {
            assert_eq!(look_of(kept_look(look)), look);
        }
    }
}
