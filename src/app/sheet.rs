//! Sheets: what lies over the bench for a moment - the piece, the household, the days, a shape, a fresh start.
//!
//! A sheet stands at the right, the bench dimmed beside it. What is pressed on it goes into the plan at once, what is typed once it is done, and both can be undone;
//! only the sheet that begins a plan afresh holds its answers until its button is pressed.

use super::{action::Action, files::Chosen, view::View};
use crate::rotation::{Household, Rotation, Template};
pub(super) use dates::long_date;
use egui::Context;
use jiff::civil::Date;
use std::sync::Arc;

mod about;
mod asking;
mod boxes;
mod dates;
mod days;
mod eater;
mod frame;
mod household;
mod keys;
mod kinds;
mod kitchen;
mod mealtimes;
mod minds;
mod newcomer;
mod opened;
mod paper;
pub(super) mod parts;
mod piece;
mod presence;
mod shape;
mod start;
mod start_eaters;
mod typed;

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
    /// What goes on paper.
    Paper,
}

/// A sheet that is open, with what was typed into it.
pub struct OpenSheet {
    /// Which.
    pub which: Sheet,
    keyboard: frame::Keyboard,
    content: Content,
}

/// What each sheet keeps from frame to frame.
enum Content {
    Piece(Box<piece::PieceSheet>),
    Household(Box<household::HouseholdSheet>),
    Days(Box<days::DaysSheet>),
    Start(Box<start::StartSheet>),
    Shape(Box<shape::ShapeSheet>),
    About(about::AboutSheet),
    Keys,
    Paper(paper::PaperSheet),
}

impl OpenSheet {
    /// Opens a sheet about `rotation`.
    pub fn new(which: Sheet, rotation: &Arc<Rotation>) -> OpenSheet {
        OpenSheet::on(which, rotation, jiff::ZonedDateTime::now().date())
    }

    /// Opens a sheet about `rotation` as if it were `today`, which only a fresh start asks for.
    pub fn on(which: Sheet, rotation: &Arc<Rotation>, today: Date) -> OpenSheet {
        let content = match which {
            Sheet::Piece => Content::Piece(Box::default()),
            Sheet::Household => Content::Household(Box::default()),
            Sheet::Days => Content::Days(Box::default()),
            Sheet::Start => Content::Start(Box::new(start::StartSheet::new(rotation, today))),
            Sheet::Shape => Content::Shape(Box::default()),
            Sheet::About => Content::About(about::AboutSheet::default()),
            Sheet::Keys => Content::Keys,
            Sheet::Paper => Content::Paper(paper::PaperSheet::default()),
        };
        OpenSheet { which, keyboard: frame::Keyboard::default(), content }
    }

    /// The same with the shape that it is to lay; only [`Sheet::Shape`] asks for one.
    pub fn with_template(mut self, template: Arc<Template>) -> OpenSheet {
        if let Content::Shape(sheet) = &mut self.content {
            sheet.template = Some(template);
        }
        self
    }

    /// The same with what was printed last; only [`Sheet::Paper`] asks for it.
    pub fn with_chosen(mut self, chosen: &Chosen) -> OpenSheet {
        if let Content::Paper(sheet) = &mut self.content {
            // Days left out were of that time.
            sheet.chosen = Chosen { without: Vec::new(), ..chosen.clone() };
        }
        self
    }

    /// The same with who usually eats; only [`Sheet::Start`] asks for them.
    pub fn with_household(mut self, household: Option<&Household>) -> OpenSheet {
        if let (Content::Start(sheet), Some(household)) = (&mut self.content, household) {
            sheet.offer(household);
        }
        self
    }
}

/// Draws the open sheet.
pub fn ui(ctx: &Context, view: &View<'_>, open: &mut OpenSheet, actions: &mut Vec<Action>) {
    let keyboard = &mut open.keyboard;
    if keyboard.leaves(ctx) {
        actions.push(Action::CloseSheet);
        return;
    }
    match &mut open.content {
        Content::Piece(sheet) => piece::ui(ctx, view, keyboard, sheet, actions),
        Content::Household(sheet) => household::ui(ctx, view, keyboard, sheet, actions),
        Content::Days(sheet) => days::ui(ctx, view, keyboard, sheet, actions),
        Content::Start(sheet) => start::ui(ctx, view, keyboard, sheet, actions),
        Content::Shape(sheet) => shape::ui(ctx, view, keyboard, sheet, actions),
        Content::About(sheet) => about::ui(ctx, keyboard, sheet, actions),
        Content::Keys => keys::ui(ctx, keyboard, actions),
        Content::Paper(sheet) => paper::ui(ctx, view, keyboard, sheet, actions),
    }
}
