//! Reading and writing the program's own files.
//!
//! A rotation is one RON text, `NAME.rotation.ron`; see [`read_rotation`] and [`save_rotation`]. Every file is written whole or
//! not at all ([`write_whole`]), read with a cap on its size, and refused in one sentence that names file, line and remedy
//! ([`StoreError`]). Nothing here reads a clock: times come from the caller.

mod aside;
mod atomic;
mod cupboard;
mod equipment;
mod error;
mod format;
mod habits;
mod household;
mod journal;
mod layout;
mod limits;
mod own_book;
mod parse;
mod places;
mod read;
mod recent;
mod recovery;
mod settings;
mod source;
mod template;
mod ticks;

pub use aside::Aside;
pub use atomic::{Fingerprint, check_unchanged, fingerprint, write_whole};
pub use cupboard::{load_cupboard, read_cupboard, save_cupboard};
pub use equipment::{load_equipment, save_equipment};
pub use error::StoreError;
pub use format::{
    Loaded, ROTATION_SUFFIX, ROTATION_VERSION, read_rotation, rotation_from_bytes, rotation_from_text, rotation_to_text,
    save_rotation,
};
pub use habits::{load_habits, save_habits};
pub use household::{load_household, save_household};
pub use journal::{MAX_JOURNAL, load_journal, save_journal};
pub use own_book::{Entry, EntryId, OwnBook, OwnChange};
pub(crate) use parse::nearest;
pub use places::Places;
pub use read::MAX_FILE_BYTES;
pub use recent::{MAX_RECENT, Recent, RecentFile};
pub use recovery::{RecoveryStore, Remnant, Snapshot, plan_id};
pub use settings::{Look, Scale, Settings};
pub use template::{TEMPLATE_SUFFIX, read_template, save_template, template_to_text};
pub use ticks::{load_ticks, save_ticks};
