//! The program's own way to name a file: a field for the path, what lies in the folder, the folders used last.

use super::{
    Purpose, Reply,
    question::{buttons, dialog, say, shown},
    work::Entry,
};
use crate::app::{
    marks::Icon,
    theme::{self, Lettering, SMALL_STEP, STEP},
    widget::{Button, Field},
};
use egui::{Context, Id, Key, Label, ScrollArea, Ui, text::CCursor, text::CCursorRange, text_edit::TextEditState};
use std::path::{MAIN_SEPARATOR, Path, PathBuf};

/// The most names that are listed at once; typing narrows them.
const MAX_SHOWN: usize = 200;

/// A box that is open.
pub(super) struct PathBox {
    pub purpose: Purpose,
    /// What is wrong with the path, in one sentence.
    pub error: Option<String>,
    /// A file of this name is there: overwrite it?
    pub over: Option<PathBuf>,
    /// Something is being read or written.
    pub busy: bool,
    text: String,
    /// The folder that a bare name belongs to.
    base: PathBuf,
    home: Option<PathBuf>,
    recent: Vec<PathBuf>,
    listed: Option<Listed>,
    asked: Option<PathBuf>,
    /// The text was not typed but put there: the cursor goes to its end, the name selected from this character on.
    put: Option<usize>,
    /// What was put there before the name: a path typed right after it takes its place.
    before: String,
}

struct Listed {
    folder: PathBuf,
    entries: Result<Vec<Entry>, String>,
}

impl PathBox {
    /// A box that begins in `base`, with a name for what is saved. `recent` are folders used last.
    pub fn new(purpose: Purpose, base: PathBuf, name: &str, recent: Vec<PathBuf>, home: Option<PathBuf>) -> PathBox {
        let mut text = base.display().to_string();
        if !text.ends_with(MAIN_SEPARATOR) {
            text.push(MAIN_SEPARATOR);
        }
        let put = Some(text.chars().count());
        let before = text.clone();
        text.push_str(name);
        PathBox {
            purpose,
            error: None,
            over: None,
            busy: false,
            text,
            base,
            home,
            recent,
            listed: None,
            asked: None,
            put,
            before,
        }
    }

    /// The folder to list next, if what is typed lies in another one than before.
    pub fn wants(&mut self) -> Option<PathBuf> {
        let (folder, _) = self.folder_and_name();
        if self.asked.as_ref() == Some(&folder) {
            return None;
        }
        self.asked = Some(folder.clone());
        Some(folder)
    }

    /// A folder was listed.
    pub fn listed(&mut self, folder: PathBuf, entries: Result<Vec<Entry>, String>) {
        if self.asked.as_ref() == Some(&folder) {
            self.listed = Some(Listed { folder, entries });
        }
    }

    /// Goes into a folder.
    pub fn enter(&mut self, folder: &Path) {
        self.text = folder.display().to_string();
        if !self.text.ends_with(MAIN_SEPARATOR) {
            self.text.push(MAIN_SEPARATOR);
        }
        self.before = self.text.clone();
        self.put = Some(self.text.chars().count());
        (self.error, self.over) = (None, None);
    }

    /// The file that is named, with its suffix where something is to be written.
    fn path(&self) -> PathBuf {
        let path = self.whole(self.text.trim());
        if self.purpose.saves() { self.purpose.with_ending(path) } else { path }
    }

    fn whole(&self, typed: &str) -> PathBuf {
        match (typed.strip_prefix('~'), &self.home) {
            (Some(rest), Some(home)) if rest.is_empty() || rest.starts_with(['/', MAIN_SEPARATOR]) => {
                home.join(rest.trim_start_matches(['/', MAIN_SEPARATOR]))
            }
            _ => self.base.join(typed),
        }
    }

    /// What is typed as a folder and the beginning of a name in it.
    fn folder_and_name(&self) -> (PathBuf, String) {
        let typed = self.text.trim_start();
        match typed.rfind(['/', MAIN_SEPARATOR]) {
            Some(at) => (self.whole(&typed[..=at]), typed[at + 1..].to_string()),
            None if typed == "~" => (self.whole("~"), String::new()),
            None => (self.base.clone(), typed.to_string()),
        }
    }

    /// Draws the box; `fresh` until the keyboard is in its field.
    pub fn ui(&mut self, ctx: &Context, fresh: &mut bool) -> Option<Reply> {
        if self.over.is_some() {
            return self.overwrite_ui(ctx, fresh);
        }
        dialog(ctx, self.purpose.title(), 620.0, Reply::Cancel, |ui| {
            let entered = self.field_ui(ui, fresh);
            self.recent_ui(ui);
            self.names_ui(ui);
            let word = self.purpose.verb();
            let mut not_fresh = false;
            let pressed = ui.add_enabled_ui(!self.busy, |ui| {
                buttons(ui, &mut not_fresh, &[(word, Reply::Path(PathBuf::new())), ("Cancel", Reply::Cancel)])
            });
            match pressed.inner {
                Some(Reply::Path(_)) => self.confirm(),
                None if entered && !self.busy => self.confirm(),
                other => other,
            }
        })
    }

    /// The named file; a name that is empty is told of.
    fn confirm(&mut self) -> Option<Reply> {
        let (folder, name) = self.folder_and_name();
        if name.trim().is_empty() {
            self.error = Some("Type the name of a file, or choose one below.".into());
            self.asked = None;
            self.enter_keeping_error(&folder);
            return None;
        }
        self.error = None;
        Some(Reply::Path(self.path()))
    }

    fn enter_keeping_error(&mut self, folder: &Path) {
        let error = self.error.take();
        self.enter(folder);
        self.error = error;
    }

    fn overwrite_ui(&mut self, ctx: &Context, fresh: &mut bool) -> Option<Reply> {
        let name = self.over.as_deref().map(shown).unwrap_or_default();
        dialog(ctx, "The name is taken", 460.0, Reply::AnotherName, |ui| {
            say(ui, &format!("There is a file “{name}” already. Overwriting it loses what is in it."));
            buttons(ui, fresh, &[("Another name", Reply::AnotherName), ("Overwrite", Reply::Overwrite)])
        })
    }

    /// The field; whether Enter was pressed in it.
    fn field_ui(&mut self, ui: &mut Ui, fresh: &mut bool) -> bool {
        let label = if self.purpose.saves() { "Path of the file to write" } else { "Path of the file" };
        let response = Field::new(label, &mut self.text).error(self.error.as_deref()).width(f32::INFINITY).show(ui);
        if response.changed() {
            self.error = None;
            self.take_whole_path();
        }
        if let Some(from) = self.put.take() {
            let end = self.text.chars().count();
            select(ui.ctx(), response.id, from, end);
            response.request_focus();
        }
        let entered = response.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
        if *fresh || entered {
            response.request_focus();
            *fresh = *fresh && !response.has_focus();
        }
        entered
    }

    /// A path from the root or from home, typed where the name stood, is the whole path.
    fn take_whole_path(&mut self) {
        let Some(typed) = self.text.strip_prefix(&self.before) else { return };
        let from_home = typed == "~" || typed.starts_with("~/");
        if from_home || typed.starts_with(['/', MAIN_SEPARATOR]) || Path::new(typed).is_absolute() {
            self.text = typed.to_string();
            self.put = Some(self.text.chars().count());
        }
    }

    /// The folders that were used last.
    fn recent_ui(&mut self, ui: &mut Ui) {
        if self.recent.is_empty() {
            return;
        }
        let mut chosen = None;
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.y = SMALL_STEP;
            ui.label(Lettering::Small.text("Recent folders").color(theme::palette(ui).soft));
            for folder in &self.recent {
                let name = format!("Recent folder {}", folder.display());
                if ui.add(Button::plain(&shown(folder)).name(&name)).on_hover_text(folder.display().to_string()).clicked() {
                    chosen = Some(folder.clone());
                }
            }
        });
        if let Some(folder) = chosen {
            self.enter(&folder);
        }
    }

    /// What lies in the folder and begins as what is typed.
    fn names_ui(&mut self, ui: &mut Ui) {
        let (folder, typed) = self.folder_and_name();
        let palette = theme::palette(ui);
        let mut chosen: Option<(PathBuf, bool)> = None;
        ui.label(Lettering::Small.text(format!("In {}", folder.display())).color(palette.soft));
        ScrollArea::vertical().max_height(220.0).min_scrolled_height(220.0).auto_shrink([false, false]).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            if let Some(above) = folder.parent()
                && ui.add(Button::plain("..").icon(Icon::ChevronUp).name("The folder above").fill_width()).clicked()
            {
                chosen = Some((above.to_path_buf(), true));
            }
            let quiet = |ui: &mut Ui, words: &str| {
                ui.add(Label::new(Lettering::Small.text(words).color(palette.soft)).wrap());
            };
            let entries = match self.listed.as_ref().filter(|l| l.folder == folder).map(|l| &l.entries) {
                None => return quiet(ui, "Looking…"),
                Some(Err(why)) => return quiet(ui, why),
                Some(Ok(entries)) => entries,
            };
            let fitting: Vec<&Entry> = matching(entries, &typed, self.purpose.saves()).collect();
            if fitting.is_empty() {
                let none =
                    format!("No folder and no file ending in {} here that begins so.", self.purpose.endings().join(" or "));
                quiet(ui, &none);
            }
            for entry in fitting.iter().take(MAX_SHOWN) {
                let (words, name) = if entry.folder {
                    (format!("{}{MAIN_SEPARATOR}", entry.name), format!("Folder {}", entry.name))
                } else {
                    (entry.name.clone(), format!("File {}", entry.name))
                };
                let button = Button::plain(&words).name(&name).fill_width();
                if ui.add(button).clicked() {
                    chosen = Some((folder.join(&entry.name), entry.folder));
                }
            }
            if fitting.len() > MAX_SHOWN {
                quiet(ui, &format!("and {} more: type the beginning of the name", fitting.len() - MAX_SHOWN));
            }
        });
        match chosen {
            Some((path, true)) => self.enter(&path),
            Some((path, false)) => {
                self.text = path.display().to_string();
                self.put = Some(self.text.chars().count());
                self.error = None;
            }
            None => ui.add_space(STEP),
        }
    }
}

/// Names that begin as what is typed, whatever its case; hidden ones only if a dot is typed. While saving all files are
/// shown once a name is proposed, so that one can see what is there.
fn matching<'a>(entries: &'a [Entry], typed: &str, saving: bool) -> impl Iterator<Item = &'a Entry> {
    let typed = typed.trim().to_lowercase();
    let any = entries.iter().any(|e| e.name.to_lowercase().starts_with(&typed));
    let hidden = typed.starts_with('.');
    entries.iter().filter(move |e| {
        let name = e.name.to_lowercase();
        (hidden || !name.starts_with('.')) && (name.starts_with(&typed) || (saving && !any))
    })
}

/// `path` with `suffix` at the end of its name, in place of the last part of it that is there already.
pub(super) fn with_suffix(path: PathBuf, suffix: &str) -> PathBuf {
    let Some(name) = path.file_name().and_then(|n| n.to_str()) else { return path };
    if name.ends_with(suffix) && name.len() > suffix.len() {
        return path;
    }
    // "plan.ron" was meant as "plan.rotation.ron".
    let bare = name.strip_suffix(".ron").filter(|b| !b.is_empty()).unwrap_or(name);
    path.with_file_name(format!("{bare}{suffix}"))
}

fn select(ctx: &Context, field: Id, from: usize, to: usize) {
    let mut state = TextEditState::load(ctx, field).unwrap_or_default();
    state.cursor.set_char_range(Some(CCursorRange::two(CCursor::new(from), CCursor::new(to))));
    state.store(ctx, field);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn a_box(typed: &str, purpose: Purpose) -> PathBox {
        let mut b = PathBox::new(purpose, "/home/ann/plans".into(), "", Vec::new(), Some("/home/ann".into()));
        b.text = typed.into();
        b
    }

    #[cfg(unix)]
    #[test]
    fn what_is_typed_is_a_path_from_where_one_is() {
        for (typed, meant) in [
            ("a.rotation.ron", "/home/ann/plans/a.rotation.ron"),
            ("/srv/a.rotation.ron", "/srv/a.rotation.ron"),
            ("~/a.rotation.ron", "/home/ann/a.rotation.ron"),
            ("~x/a.rotation.ron", "/home/ann/plans/~x/a.rotation.ron"),
            ("  a b.rotation.ron ", "/home/ann/plans/a b.rotation.ron"),
        ] {
            assert_eq!(a_box(typed, Purpose::Open).path(), PathBuf::from(meant), "{typed:?}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_path_typed_where_the_name_stands_takes_the_place_of_all() {
        for (typed, left) in
            [("/srv/a", "/srv/a"), ("~", "~"), ("~/a", "~/a"), ("~a", "/home/ann/plans/~a"), ("a/b", "/home/ann/plans/a/b")]
        {
            let mut b = PathBox::new(Purpose::Open, "/home/ann/plans".into(), "", Vec::new(), None);
            b.text.push_str(typed);
            b.take_whole_path();
            assert_eq!(b.text, left, "{typed:?}");
        }
    }

    #[test]
    fn a_name_gets_the_suffix_it_lacks() {
        for (typed, written) in [
            ("cabbage", "cabbage.rotation.ron"),
            ("cabbage.ron", "cabbage.rotation.ron"),
            ("cabbage.rotation.ron", "cabbage.rotation.ron"),
            ("week 2.5", "week 2.5.rotation.ron"),
            (".rotation.ron", ".rotation.rotation.ron"),
        ] {
            assert_eq!(with_suffix(typed.into(), ".rotation.ron"), PathBuf::from(written), "{typed:?}");
        }
    }

    #[test]
    fn the_list_narrows_as_one_types() {
        let names = ["Plans", ".hidden", "cabbage.rotation.ron", "celeriac.rotation.ron"];
        let entries: Vec<Entry> = names.iter().map(|n| Entry { name: (*n).into(), folder: *n == "Plans" }).collect();
        let shown = |typed: &str| matching(&entries, typed, false).map(|e| e.name.as_str()).collect::<Vec<_>>();
        assert_eq!(shown(""), ["Plans", "cabbage.rotation.ron", "celeriac.rotation.ron"]);
        assert_eq!(shown("CE"), ["celeriac.rotation.ron"]);
        assert_eq!(shown("."), [".hidden"]);
        assert!(shown("x").is_empty());
    }
}
