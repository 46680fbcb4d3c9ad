//! What a page says of a recipe, as texts; nothing read into it yet.

/// The most ingredients or steps that are kept (house limit).
pub(super) const MAX_ITEMS: usize = 300;
/// The most things that are said to be unread (house limit).
const MAX_UNREAD: usize = 100;

/// The texts of one recipe.
#[derive(Clone, Debug, Default)]
pub(super) struct Found {
    pub(super) name: String,
    pub(super) yields: Vec<String>,
    pub(super) prep: Option<String>,
    pub(super) cook: Option<String>,
    pub(super) total: Option<String>,
    pub(super) ingredients: Vec<String>,
    pub(super) steps: Vec<String>,
    /// Names of sections with the number of the step that each begins with, from 0.
    pub(super) sections: Vec<(usize, String)>,
    /// What stood there and was not read.
    pub(super) unread: Vec<String>,
    left_out: [usize; 2],
}

impl Found {
    /// Whether there is anything to cook from.
    pub(super) fn is_hollow(&self) -> bool {
        self.ingredients.is_empty() && self.steps.is_empty()
    }

    pub(super) fn add_ingredient(&mut self, text: String) {
        put(&mut self.ingredients, text, &mut self.left_out[0]);
    }

    pub(super) fn add_step(&mut self, text: String) {
        put(&mut self.steps, text, &mut self.left_out[1]);
    }

    pub(super) fn add_unread(&mut self, what: String) {
        if self.unread.len() < MAX_UNREAD {
            self.unread.push(what);
        }
    }

    /// Says how much was over the limits.
    pub(super) fn close(&mut self) {
        for (over, what) in [(self.left_out[0], "ingredients"), (self.left_out[1], "steps")] {
            if over > 0 {
                self.add_unread(format!("{over} more {what}: {MAX_ITEMS} are the most that are kept"));
            }
        }
    }
}

fn put(list: &mut Vec<String>, text: String, left_out: &mut usize) {
    if text.is_empty() {
        return;
    }
    if list.len() < MAX_ITEMS { list.push(text) } else { *left_out += 1 }
}
