//! Sheets: what lies over the bench for a moment - the piece, the household, the days, a shape, a fresh start.

use super::{action::Action, view::View};
use crate::rotation::Rotation;
use egui::Context;
use std::sync::Arc;

/// Which sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sheet {
    /// The piece: kind, mass, weighed trim and parts, when it was opened.
    Piece,
    /// The household: who eats, how much, what not.
    Household,
    /// The calendar: first day, days, mealtimes.
    Days,
    /// Start with your own piece: four answers.
    Start,
    /// Lay a kept shape on a piece.
    Shape,
    /// About the program: cautions, licences.
    About,
    /// The keys.
    Keys,
}

/// A sheet that is open, with what was typed into it.
pub struct OpenSheet {
    /// Which.
    pub which: Sheet,
}

impl OpenSheet {
    /// Opens a sheet about `rotation`.
    pub fn new(which: Sheet, _rotation: &Arc<Rotation>) -> OpenSheet {
        OpenSheet { which }
    }
}

/// Draws the open sheet.
pub fn ui(_ctx: &Context, _view: &View<'_>, _open: &mut OpenSheet, _actions: &mut Vec<Action>) {}
