//! What the commands know of this household: its habits and its journal.

use crate::{
    judge::Home,
    store::{Places, load_habits, load_journal},
};

/// The home of this machine's household, and what may be said of what it taught; the usual one where that is asked for, or
/// where this machine has no place for such files. A broken file is told of and left out.
pub(super) fn home(usual: bool) -> (Home, Vec<String>) {
    let Some(places) = (!usual).then(Places::of_this_machine).and_then(Result::ok) else {
        return (Home::default(), Vec::new());
    };
    let (habits, no_habits) = load_habits(&places);
    let (eaten, no_journal) = load_journal(&places);
    for aside in no_habits.iter().chain(&no_journal) {
        tracing::warn!("{aside}");
    }
    let learned = habits.learned(&eaten);
    let home = Home { patience: habits.patience(&learned), hemisphere: habits.hemisphere, eaten };
    (home, learned.says())
}
