//! The steps of a draft: every change can be taken back, and one knows whether there is any.

use super::{Draft, dish_draft::DishDraft, kind_draft::KindDraft};
use egui::Id;

/// The most steps that are remembered.
const MOST: usize = 200;

/// What was written so far, step by step. Typing in one field is one step.
pub(super) struct Trail {
    /// As it was begun.
    first: Draft,
    /// As it was seen last.
    seen: Draft,
    past: Vec<Draft>,
    future: Vec<Draft>,
    /// The field that was typed in last.
    typing: Option<Id>,
}

impl Trail {
    pub fn new(draft: &Draft) -> Trail {
        Trail { first: draft.clone(), seen: draft.clone(), past: Vec::new(), future: Vec::new(), typing: None }
    }

    /// Whether anything was written since it was begun.
    pub fn is_changed(&self, draft: &Draft) -> bool {
        self.first != *draft
    }

    /// Looks what has changed since the last frame; `field` is the text field that has the keyboard.
    pub fn note(&mut self, draft: &Draft, field: Option<Id>) {
        if *draft == self.seen {
            return;
        }
        if field.is_none() || field != self.typing {
            self.past.push(std::mem::replace(&mut self.seen, draft.clone()));
            if self.past.len() > MOST {
                self.past.remove(0);
            }
        } else {
            self.seen = draft.clone();
        }
        self.typing = field;
        self.future.clear();
    }

    /// What taking the last step back does, in words.
    pub fn back_words(&self) -> Option<String> {
        let before = self.past.last()?;
        Some(gone(before, &self.seen).map_or_else(|| "Take back the last change".into(), |what| format!("Put back {what}")))
    }

    /// Whether something was taken back that can be done again.
    pub fn has_future(&self) -> bool {
        !self.future.is_empty()
    }

    /// Takes the last step back.
    pub fn back(&mut self, draft: &mut Draft) {
        if let Some(before) = self.past.pop() {
            self.future.push(std::mem::replace(draft, before));
            self.seen = draft.clone();
            self.typing = None;
        }
    }

    /// Does it again.
    pub fn forth(&mut self, draft: &mut Draft) {
        if let Some(after) = self.future.pop() {
            self.past.push(std::mem::replace(draft, after));
            self.seen = draft.clone();
            self.typing = None;
        }
    }
}

/// What stood in one draft and is out of the next, if a row was taken out.
fn gone(before: &Draft, after: &Draft) -> Option<String> {
    match (before, after) {
        (Draft::Dish(a), Draft::Dish(b)) => gone_of_dish(a, b),
        (Draft::Kind(a), Draft::Kind(b)) => gone_of_kind(a, b),
        _ => None,
    }
}

fn gone_of_dish(a: &DishDraft, b: &DishDraft) -> Option<String> {
    let twin = |at: usize| a.twins.get(at).zip(b.twins.get(at));
    let of_twin = || {
        (0..a.twins.len()).find_map(|at| {
            let (was, is) = twin(at)?;
            missing(&was.companions, &is.companions, "ingredient", |c| &c.name)
        })
    };
    missing(&a.companions, &b.companions, "ingredient", |c| &c.name)
        .or_else(|| missing(&a.steps, &b.steps, "step", |_| ""))
        .or_else(|| missing(&a.twins, &b.twins, "twin", |t| &t.name))
        .or_else(|| missing(&a.cautions, &b.cautions, "caution", |_| ""))
        .or_else(of_twin)
}

fn gone_of_kind(a: &KindDraft, b: &KindDraft) -> Option<String> {
    missing(&a.parts, &b.parts, "part", |p| &p.name)
        .or_else(|| missing(&a.trim, &b.trim, "loss", |t| &t.name))
        .or_else(|| missing(&a.yields, &b.yields, "yield", |y| y.method.word()))
        .or_else(|| missing(&a.cups, &b.cups, "cup", |c| c.form.word()))
        .or_else(|| missing(&a.cut_forms, &b.cut_forms, "cut form", |c| c.form.word()))
        .or_else(|| missing(&a.whole, &b.whole, "place", |w| &w.place))
        .or_else(|| missing(&a.stand_ins, &b.stand_ins, "stand-in", |s| s.kind.as_str()))
}

/// The name of the row that is missing from `after`, or its sort and number where it has none.
fn missing<T: PartialEq>(before: &[T], after: &[T], sort: &str, name: impl Fn(&T) -> &str) -> Option<String> {
    if after.len() >= before.len() {
        return None;
    }
    let at = (0..before.len()).find(|&i| after.get(i) != before.get(i))?;
    let name = name(before.get(at)?).trim();
    Some(if name.is_empty() { format!("{sort} {}", at + 1) } else { name.to_string() })
}
