//! When unsaved work is put by, so that a crash loses less than five seconds of it.

use crate::rotation::{History, Rotation};
use std::sync::Arc;

/// A pause of this many seconds, and the work is put by.
const QUIET: f64 = 2.0;
/// Without a pause it is put by this many seconds after the first change.
const AT_MOST: f64 = 4.0;

/// What is known of unsaved work.
#[derive(Default)]
pub(super) struct Autosave {
    /// The plan as it was seen last, and when it came.
    seen: Option<(Arc<Rotation>, f64)>,
    /// When the first change came that is not put by.
    since: Option<f64>,
    /// What is put by, and under which name.
    kept: Option<(String, Arc<Rotation>)>,
}

/// What is to be done about unsaved work now.
#[derive(Debug, PartialEq)]
pub(super) enum Step {
    /// Nothing, and nothing later.
    Rest,
    /// Look again in so many seconds.
    Wait(f64),
    /// Put the plan by; a name under which it was put by before is to be dropped.
    Keep { drop: Option<String> },
    /// It is saved: what was put by under this name goes.
    Drop(String),
}

impl Autosave {
    /// What to do at second `now`; `plan` is the name of what is unsaved.
    pub fn step(&mut self, history: &History, plan: &str, now: f64) -> Step {
        let current = history.now();
        if !history.is_changed() {
            (self.seen, self.since) = (None, None);
            return self.kept.take().map_or(Step::Rest, |(name, _)| Step::Drop(name));
        }
        if self.seen.as_ref().is_none_or(|(seen, _)| !Arc::ptr_eq(seen, current)) {
            self.seen = Some((current.clone(), now));
            self.since.get_or_insert(now);
        }
        if self.kept.as_ref().is_some_and(|(_, kept)| Arc::ptr_eq(kept, current)) {
            self.since = None;
            return Step::Rest;
        }
        let changed = self.seen.as_ref().map_or(now, |(_, at)| *at);
        let due = (changed + QUIET).min(*self.since.get_or_insert(now) + AT_MOST);
        if now < due {
            return Step::Wait(due - now);
        }
        self.since = None;
        let before = self.kept.replace((plan.to_string(), current.clone()));
        Step::Keep { drop: before.map(|(name, _)| name).filter(|name| name != plan) }
    }

    /// Another plan is on the desk: what was put by of the one before it is given up.
    pub fn forget(&mut self) -> Option<String> {
        std::mem::take(self).kept.map(|(name, _)| name)
    }

    /// `rotation` came from what was put by under `name`.
    pub fn adopt(&mut self, name: String, rotation: Arc<Rotation>) {
        *self = Autosave { kept: Some((name, rotation)), ..Autosave::default() };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{app::files::begin::demo, book::Book};

    fn change(history: &mut History, title: &str) {
        let rotation = Rotation { title: title.into(), ..(**history.now()).clone() };
        history.push(rotation, "Rename", None);
    }

    #[test]
    fn work_is_put_by_in_a_pause_and_at_the_latest_after_four_seconds() {
        let mut history = History::new(demo(&Book::default()));
        let mut autosave = Autosave::default();
        assert_eq!(autosave.step(&history, "a", 0.0), Step::Rest, "nothing changed, nothing to wait for");
        change(&mut history, "x");
        assert_eq!(autosave.step(&history, "a", 1.0), Step::Wait(2.0));
        assert_eq!(autosave.step(&history, "a", 3.0), Step::Keep { drop: None });
        assert_eq!(autosave.step(&history, "a", 3.1), Step::Rest, "it is put by");
        for tenth in 0..40 {
            change(&mut history, &format!("{tenth}"));
            assert!(matches!(autosave.step(&history, "a", 10.0 + f64::from(tenth) / 10.0), Step::Wait(_)), "{tenth}");
        }
        change(&mut history, "y");
        assert_eq!(autosave.step(&history, "b", 14.0), Step::Keep { drop: Some("a".into()) });
        let now = history.now().clone();
        history.mark_saved(now);
        assert_eq!(autosave.step(&history, "b", 14.1), Step::Drop("b".into()));
        assert_eq!(autosave.step(&history, "b", 14.2), Step::Rest);
    }
}
