//! The window: what the person sees and touches.
//!
//! Nothing outside this room knows of egui. A view here draws from a borrowed plan and hands
//! back edits; it changes nothing itself.
//!
//! The look of it all lives in three places that know no food at all: [`theme`] (colours,
//! lettering, spacing), [`marks`] (every small drawing) and [`widget`] (buttons, cards, fields).

pub mod marks;
pub mod theme;
pub mod widget;
