//! Every small drawing of the window, painted from lines: no icon font, no pictures.
//!
//! Three sets: [`TextureMark`] says how a dish bites, [`Level`] how grave a finding is, [`Icon`]
//! what a button does. A mark always stands beside its word or carries a name for a screen reader;
//! alone it only reminds. Levels differ in outline, so they read without colour.
//!
//! All are drawn on a grid of 24 by 24 that is fitted into whatever square they are given; 16 to
//! 24 points suits them.

mod icon;
mod level;
mod pen;
mod texture;

pub use icon::{Icon, icon, icon_shapes};
pub use level::{Level, level, level_shapes};
pub use texture::{TextureMark, texture, texture_shapes};
