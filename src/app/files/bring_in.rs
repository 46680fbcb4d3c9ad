//! Recipes from saved pages: read beside the worker, handed to the dish book.

use super::{
    Answer, Files, Purpose,
    flow::nothing_kept,
    question::{Offer, Question, shown},
    work::Done,
};
use crate::{
    exchange::{ReadRecipe, read_bytes_of, read_recipes},
    quantity::{Kitchen, write_units},
};
use std::path::{Path, PathBuf};

/// What the names of saved pages end in, in small letters.
pub(super) const PAGE_ENDINGS: &[&str] = &[".html", ".htm", ".xhtml", ".json", ".jsonld"];

/// What was read of a page: at least one recipe.
#[derive(Clone, Debug)]
pub struct Brought {
    /// The page's file name.
    pub from: String,
    /// Its recipes, in the page's order.
    pub recipes: Vec<ReadRecipe>,
}

/// Why a page was not read.
#[derive(Debug)]
pub(super) enum NotRead {
    /// It is a folder.
    Folder,
    /// For this reason, in a sentence without its full stop.
    Because(String),
}

/// Whether a file of this name is a saved page.
pub(super) fn is_page(path: &Path) -> bool {
    let name = path.file_name().map(|n| n.to_string_lossy().to_lowercase()).unwrap_or_default();
    PAGE_ENDINGS.iter().any(|ending| name.ends_with(ending))
}

/// Reads a page. Looks at the disk.
fn read(path: &Path, kitchen: Kitchen) -> Result<Vec<ReadRecipe>, NotRead> {
    if path.is_dir() {
        return Err(NotRead::Folder);
    }
    let bytes = read_bytes_of(path).map_err(|e| NotRead::Because(e.to_string()))?;
    read_recipes(&bytes, kitchen).map_err(|e| NotRead::Because(format!("{} {e}", shown(path))))
}

impl Files {
    /// Reads a saved page for the dish book, beside the worker.
    pub(super) fn read_page(&mut self, path: PathBuf) -> Answer {
        if self.worker.is_none() {
            return nothing_kept();
        }
        let say = format!("Reading {}…", shown(&path));
        self.reading = Some(path.clone());
        let kitchen = self.kitchen;
        self.look(move || {
            let result = read(&path, kitchen);
            Done::PageRead { path, result }
        });
        Answer::say(say)
    }

    /// A page was read.
    pub(super) fn page_read(&mut self, path: &Path, recipes: Vec<ReadRecipe>) -> Answer {
        if matches!(&self.question, Some(Question::Path(path_box)) if matches!(path_box.purpose, Purpose::BringIn)) {
            self.question = None;
            // The keyboard goes to the recipe, not back to where it was.
            self.back_to = None;
        }
        self.page_folder = path.parent().map(Path::to_path_buf);
        let from = shown(path);
        let say = match recipes.as_slice() {
            [one] => {
                let unread = match one.unread.len() {
                    0 => "all of it read".into(),
                    n => format!("{} not read", write_units(n, "thing", "things")),
                };
                let ingredients = write_units(one.ingredients.len(), "ingredient", "ingredients");
                format!("From {from}: {ingredients}, {}, {unread}", write_units(one.steps.len(), "step", "steps"))
            }
            several => format!("{} are on {from}: choose one", write_units(several.len(), "recipe", "recipes")),
        };
        Answer { brought: Some(Brought { from, recipes }), ..Answer::say(say) }
    }

    /// A page was not read: said where the person is, and nothing is changed.
    pub(super) fn page_not_read(&mut self, path: &Path, why: NotRead) -> Answer {
        let from_box = matches!(&self.question, Some(Question::Path(path_box)) if path_box.busy);
        let words = match why {
            NotRead::Folder if from_box => {
                if let Some(Question::Path(path_box)) = &mut self.question {
                    path_box.busy = false;
                    path_box.enter(path);
                }
                return Answer::default();
            }
            NotRead::Folder => format!("{} is a folder: bring in the page's own file", shown(path)),
            NotRead::Because(words) => words,
        };
        let say = Answer::say(format!("Not brought in: {words}"));
        match &mut self.question {
            Some(Question::Path(path_box)) if from_box => {
                path_box.busy = false;
                path_box.error = Some(format!("{words}."));
                self.fresh = true;
            }
            _ => {
                let title = "This page was not brought in".into();
                let words = format!("{words}.\n\nNothing was changed.");
                self.put_question(Question::Trouble { title, words, offer: Offer::BringIn });
            }
        }
        say
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_page_is_known_by_the_end_of_its_name() {
        for (name, page) in [
            ("soup.html", true),
            ("Soup.HTM", true),
            ("recipe.json", true),
            ("week.rotation.ron", false),
            ("html", false),
            ("soup.html.ron", false),
        ] {
            assert_eq!(is_page(Path::new(name)), page, "{name}");
        }
    }
}
