//! Undo and redo: labelled snapshots of the whole plan.

use super::Rotation;
use std::sync::Arc;

/// Edits of one gesture (one drag of an edge, one field's typing) carry one id and make one step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct GestureId(pub u64);

#[derive(Clone, Debug)]
struct Step {
    words: String,
    rotation: Arc<Rotation>,
    gesture: Option<GestureId>,
}

/// The plan as it is, with every step that led here and every step taken back.
#[derive(Clone, Debug)]
pub struct History {
    now: Arc<Rotation>,
    revision: u64,
    past: Vec<Step>,
    future: Vec<Step>,
    saved: Option<Arc<Rotation>>,
}

/// Steps kept before the oldest is forgotten.
const MAX_STEPS: usize = 2_000;

impl History {
    /// A history that begins with `rotation`, as saved.
    pub fn new(rotation: Rotation) -> History {
        let now = Arc::new(rotation);
        History { saved: Some(now.clone()), now, revision: 0, past: Vec::new(), future: Vec::new() }
    }

    /// The plan as it is.
    pub fn now(&self) -> &Arc<Rotation> {
        &self.now
    }

    /// Rises with every change of the plan, undo and redo among them: derived figures are reckoned once for each.
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Takes `rotation` as the next state. A step of the same gesture as the last one is merged with it.
    pub fn push(&mut self, rotation: Rotation, words: impl Into<String>, gesture: Option<GestureId>) {
        if rotation == *self.now {
            return;
        }
        let before = std::mem::replace(&mut self.now, Arc::new(rotation));
        self.revision += 1;
        self.future.clear();
        let words = words.into();
        if let Some(last) = self.past.last_mut()
            && gesture.is_some()
            && last.gesture == gesture
        {
            last.words = words;
            // A gesture that ends where it began leaves no step behind.
            if last.rotation == self.now {
                self.past.pop();
            }
            return;
        }
        self.past.push(Step { words, rotation: before, gesture });
        if self.past.len() > MAX_STEPS {
            self.past.remove(0);
        }
    }

    /// Takes the last step back and says which it was.
    pub fn undo(&mut self) -> Option<String> {
        let step = self.past.pop()?;
        let after = std::mem::replace(&mut self.now, step.rotation);
        self.revision += 1;
        self.future.push(Step { words: step.words.clone(), rotation: after, gesture: None });
        Some(step.words)
    }

    /// Does the step that was taken back last again and says which it is.
    pub fn redo(&mut self) -> Option<String> {
        let step = self.future.pop()?;
        let before = std::mem::replace(&mut self.now, step.rotation);
        self.revision += 1;
        self.past.push(Step { words: step.words.clone(), rotation: before, gesture: None });
        Some(step.words)
    }

    /// What undo would take back.
    pub fn undo_words(&self) -> Option<&str> {
        self.past.last().map(|s| s.words.as_str())
    }

    /// What redo would do.
    pub fn redo_words(&self) -> Option<&str> {
        self.future.last().map(|s| s.words.as_str())
    }

    /// Every step that led here, oldest first.
    pub fn steps(&self) -> impl Iterator<Item = &str> {
        self.past.iter().map(|s| s.words.as_str())
    }

    /// Whether the plan differs from what was last saved.
    pub fn is_changed(&self) -> bool {
        self.saved.as_ref().is_none_or(|s| !Arc::ptr_eq(s, &self.now) && **s != *self.now)
    }

    /// Notes that `rotation` has been saved.
    pub fn mark_saved(&mut self, rotation: Arc<Rotation>) {
        self.saved = Some(rotation);
    }

    /// Notes that nothing of this is on disk: a recovered plan, a fresh one.
    pub fn mark_unsaved(&mut self) {
        self.saved = None;
    }
}
