//! Questions over the bench, drawn by the program itself: a desktop without dialogs must not lock anybody in.

use super::{FileAction, Next, Reply, path_box::PathBox};
use crate::app::{
    action::Action,
    book_view::Unkept,
    theme::{Lettering, STEP, TALL_TARGET},
    widget::Button,
};
use egui::{Align, Context, Frame, Id, Label, Layout, Modal, Role, Ui, vec2};
use std::path::{Path, PathBuf};

/// What is asked or told.
pub(super) enum Question {
    /// The plan has changes that are not saved, and something else comes.
    Unsaved { next: Next, heading: String },
    /// What is being written in the dish book has changes that are not saved; whether the window closes after it.
    Draft { draft: Unkept, closes: bool },
    /// Saving would write over what another program wrote.
    Changed { path: PathBuf, then: Option<Next> },
    /// Nothing was changed here, but another program has written to the plan's file.
    ChangedOutside { path: PathBuf },
    /// Something was not done.
    Trouble { title: String, words: String, offer: Offer },
    /// Where a file is, or is to be.
    Path(Box<PathBox>),
}

/// What is offered beside taking note.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Offer {
    /// Another file.
    Open,
    /// Another place to save to.
    SaveAs,
    /// Another page with a recipe.
    BringIn,
}

/// Draws the question. `fresh` stays set until the keyboard is in it.
pub(super) fn ui(ctx: &Context, question: &mut Question, fresh: &mut bool, actions: &mut Vec<Action>) {
    let reply = match question {
        Question::Unsaved { next, heading } => unsaved_ui(ctx, next, heading, fresh),
        Question::Draft { draft, closes } => draft_ui(ctx, draft, *closes, fresh),
        Question::Changed { path, .. } => changed_ui(ctx, path, fresh),
        Question::ChangedOutside { path } => changed_outside_ui(ctx, path, fresh),
        Question::Trouble { title, words, offer } => trouble_ui(ctx, title, words, *offer, fresh),
        Question::Path(path_box) => path_box.ui(ctx, fresh),
    };
    actions.extend(reply.map(|reply| Action::File(FileAction::Reply(reply))));
}

/// A window over the bench with a title; Escape or a click beside it gives `cancel`.
pub(super) fn dialog(
    ctx: &Context,
    title: &str,
    width: f32,
    cancel: Reply,
    add: impl FnOnce(&mut Ui) -> Option<Reply>,
) -> Option<Reply> {
    let id = Id::unique("files question");
    let frame = Frame::popup(&ctx.global_style()).inner_margin(20);
    let area = Modal::default_area(id).role(Role::AlertDialog).accessible_name(title);
    let room = ctx.content_rect().width() - 6.0 * STEP;
    let modal = Modal::new(id).area(area).frame(frame).show(ctx, |ui| {
        ui.set_width(width.min(room));
        ui.add(Label::new(Lettering::Title.text(title)).wrap());
        ui.add_space(STEP);
        add(ui)
    });
    if modal.inner.is_none() && modal.should_close() { Some(cancel) } else { modal.inner }
}

/// A paragraph.
pub(super) fn say(ui: &mut Ui, words: &str) {
    ui.add(Label::new(Lettering::Body.text(words)).wrap());
}

/// The buttons of a question, the one that matters last and on the right, where the hand goes; the keyboard begins on it.
pub(super) fn buttons(ui: &mut Ui, fresh: &mut bool, choices: &[(&str, Reply)]) -> Option<Reply> {
    let mut chosen = None;
    ui.add_space(2.0 * STEP);
    // One line high: a layout of its own would stand in the middle of all the height that the window has.
    let line = vec2(ui.available_width(), TALL_TARGET);
    ui.allocate_ui_with_layout(line, Layout::right_to_left(Align::Center), |ui| {
        for (place, (words, reply)) in choices.iter().enumerate() {
            let button = if place == 0 { Button::primary(words) } else { Button::quiet(words) };
            let response = ui.add(button);
            if place == 0 && *fresh {
                response.request_focus();
                // The first pass only measures; the focus is asked for until it is there.
                *fresh = !response.has_focus();
            }
            if response.clicked() {
                chosen = Some(reply.clone());
            }
        }
    });
    chosen
}

fn unsaved_ui(ctx: &Context, next: &Next, heading: &str, fresh: &mut bool) -> Option<Reply> {
    dialog(ctx, "Unsaved changes", 440.0, Reply::Cancel, |ui| {
        say(ui, &format!("“{heading}” has changes that are not saved. {} loses them.", next.loses()));
        buttons(ui, fresh, &[("Save", Reply::Save), ("Discard", Reply::Discard), ("Cancel", Reply::Cancel)])
    })
}

fn draft_ui(ctx: &Context, draft: &Unkept, closes: bool, fresh: &mut bool) -> Option<Reply> {
    dialog(ctx, "Not kept in the dish book", 460.0, Reply::Cancel, |ui| {
        let what = if closes { "Closing the window without saving" } else { "Leaving it without saving" };
        say(ui, &format!("“{}” has changes that are not saved. {what} loses them.", draft.name));
        let (save, away, on) = (("Save", Reply::Save), ("Throw away", Reply::Discard), ("Go on editing", Reply::Cancel));
        if draft.sound {
            return buttons(ui, fresh, &[save, away, on]);
        }
        say(ui, "It cannot be saved as it stands: go on editing to see what is to be mended.");
        buttons(ui, fresh, &[on, away])
    })
}

fn changed_ui(ctx: &Context, path: &Path, fresh: &mut bool) -> Option<Reply> {
    dialog(ctx, "Changed by another program", 460.0, Reply::Cancel, |ui| {
        let name = shown(path);
        say(
            ui,
            &format!(
                "“{name}” was changed on disk by another program since it was opened here. Overwriting it loses that change."
            ),
        );
        buttons(ui, fresh, &[("Save as…", Reply::SaveAs), ("Overwrite", Reply::Overwrite), ("Cancel", Reply::Cancel)])
    })
}

fn changed_outside_ui(ctx: &Context, path: &Path, fresh: &mut bool) -> Option<Reply> {
    dialog(ctx, "Changed by another program", 460.0, Reply::Cancel, |ui| {
        let name = shown(path);
        say(ui, &format!("Nothing was changed here, but “{name}” was changed on disk by another program since it was read."));
        buttons(ui, fresh, &[("Open it again", Reply::OpenAgain), ("Save over it", Reply::Overwrite), ("Cancel", Reply::Cancel)])
    })
}

fn trouble_ui(ctx: &Context, title: &str, words: &str, offer: Offer, fresh: &mut bool) -> Option<Reply> {
    dialog(ctx, title, 480.0, Reply::Cancel, |ui| {
        say(ui, words);
        match offer {
            Offer::Open => buttons(ui, fresh, &[("Open another…", Reply::OpenOther), ("Close", Reply::Cancel)]),
            Offer::SaveAs => buttons(ui, fresh, &[("Save as…", Reply::SaveAs), ("Close", Reply::Cancel)]),
            Offer::BringIn => buttons(ui, fresh, &[("Another page…", Reply::OtherPage), ("Close", Reply::Cancel)]),
        }
    })
}

/// A file's name for a sentence, control characters written out.
pub(super) fn shown(path: &Path) -> String {
    let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
    name.chars().map(|c| if c.is_control() { c.escape_debug().to_string() } else { c.to_string() }).collect()
}
