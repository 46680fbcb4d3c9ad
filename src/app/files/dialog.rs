//! The desktop's file dialog: begun on the window's thread, awaited on another.
//!
//! A desktop without one answers at once with nothing, as a cancelled one does (7 to 11 ms without portal and zenity, measured
//! with rfd 0.17.2 on Debian 12); a sick portal never answers. Both lead to the [`PathBox`](super::path_box::PathBox).

use super::{Purpose, bring_in::PAGE_ENDINGS, path_box::with_suffix};
use crate::store::{ROTATION_SUFFIX, TEMPLATE_SUFFIX};
use egui::Context;
use std::{
    future::Future,
    path::PathBuf,
    pin::Pin,
    sync::mpsc::{self, Receiver, TryRecvError},
    thread,
    time::{Duration, Instant},
};

/// Nobody cancels a dialog faster than this.
const NO_DIALOG: Duration = Duration::from_millis(300);
/// From here on the path box is offered.
const SLOW: Duration = Duration::from_secs(3);

/// What a dialog is asked for.
pub(super) struct Wanted {
    pub title: &'static str,
    pub save: bool,
    /// What sort of files, in words.
    pub sort: &'static str,
    pub endings: &'static [&'static str],
    pub folder: PathBuf,
    pub name: String,
}

/// A dialog that will be answered.
pub(super) type Answering = Pin<Box<dyn Future<Output = Option<PathBuf>> + Send>>;
/// Opens dialogs.
pub(super) type Asker = Box<dyn Fn(&Wanted) -> Answering>;

impl Purpose {
    /// The title of the dialog or box.
    pub(super) fn title(&self) -> &'static str {
        match self {
            Purpose::Open => "Open a plan",
            Purpose::SaveAs { .. } => "Save the plan as",
            Purpose::KeepShape => "Keep the shape as",
            Purpose::LayShape => "Lay a shape",
            Purpose::BringIn => "Bring in a recipe",
            Purpose::Print(_) => "Print the week and its lists to",
        }
    }

    /// The word on the button that does it.
    pub(super) fn verb(&self) -> &'static str {
        match self {
            Purpose::Open | Purpose::LayShape => "Open",
            Purpose::SaveAs { .. } | Purpose::KeepShape => "Save",
            Purpose::BringIn => "Bring in",
            Purpose::Print(_) => "Write",
        }
    }

    /// The sort of its files, for the desktop's dialog.
    pub(super) fn sort(&self) -> &'static str {
        match self {
            Purpose::Open | Purpose::SaveAs { .. } => "Plans",
            Purpose::KeepShape | Purpose::LayShape => "Shapes",
            Purpose::BringIn => "Saved recipe pages",
            Purpose::Print(_) => "PDF, HTML, Markdown, calendar, CSV, SVG, PNG",
        }
    }

    /// Whether something is to be written.
    pub(super) fn saves(&self) -> bool {
        matches!(self, Purpose::SaveAs { .. } | Purpose::KeepShape | Purpose::Print(_))
    }

    /// What the names of its files end in, the first for what is written.
    pub(super) fn endings(&self) -> &'static [&'static str] {
        match self {
            Purpose::Open | Purpose::SaveAs { .. } => &[ROTATION_SUFFIX],
            Purpose::KeepShape | Purpose::LayShape => &[TEMPLATE_SUFFIX],
            Purpose::BringIn => PAGE_ENDINGS,
            Purpose::Print(_) => &[".pdf", ".html", ".md", ".ics", ".csv", ".svg", ".png"],
        }
    }

    /// A path that is written to, with an ending that its format is known by.
    pub(super) fn with_ending(&self, path: PathBuf) -> PathBuf {
        let name = path.file_name().map(|n| n.to_string_lossy().to_ascii_lowercase()).unwrap_or_default();
        let known = self.endings().len() > 1 && self.endings().iter().any(|e| name.ends_with(e));
        if known { path } else { with_suffix(path, self.suffix()) }
    }

    /// What the name of a file that is written ends in.
    pub(super) fn suffix(&self) -> &'static str {
        self.endings()[0]
    }
}

/// The desktop's own dialogs, over `parent`'s window.
pub(super) fn system(parent: rfd::AsyncFileDialog) -> Asker {
    Box::new(move |wanted| {
        // macOS makes a type of the extension, which must be a plain one.
        let plain = |ending: &'static str| {
            let whole = ending.trim_start_matches('.');
            if cfg!(target_os = "macos") { whole.rsplit('.').next().unwrap_or(whole) } else { whole }
        };
        let extensions: Vec<&str> = wanted.endings.iter().map(|e| plain(e)).collect();
        let dialog = parent
            .clone()
            .set_title(wanted.title)
            .set_directory(&wanted.folder)
            .add_filter(wanted.sort, &extensions)
            .add_filter("All files", &["*"]);
        if wanted.save {
            let asked = dialog.set_file_name(&wanted.name).save_file();
            Box::pin(async { asked.await.map(PathBuf::from) })
        } else {
            let asked = dialog.pick_file();
            Box::pin(async { asked.await.map(PathBuf::from) })
        }
    })
}

/// A dialog that is open.
pub(super) struct Waiting {
    pub purpose: Purpose,
    began: Instant,
    answer: Receiver<(Option<PathBuf>, Duration)>,
}

/// What came of a dialog.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Heard {
    /// A file was chosen.
    Path(PathBuf),
    /// The person thought better of it.
    Cancelled,
    /// There is no dialog on this desktop.
    NoDialog,
}

impl Waiting {
    /// Opens a dialog.
    pub fn begin(asker: &Asker, wanted: &Wanted, purpose: Purpose, ctx: &Context) -> Waiting {
        let began = Instant::now();
        let (send, answer) = mpsc::channel();
        let asked = asker(wanted);
        let wake = ctx.clone();
        // Without a thread the sender is gone at once, which is heard as no dialog.
        let _ = thread::Builder::new().name("file dialog".into()).spawn(move || {
            let path = pollster::block_on(asked);
            let _ = send.send((path, began.elapsed()));
            wake.request_repaint();
        });
        ctx.request_repaint_after(SLOW);
        Waiting { purpose, began, answer }
    }

    /// What came of it, if anything has.
    pub fn heard(&self) -> Option<Heard> {
        match self.answer.try_recv() {
            Ok((Some(path), _)) => Some(Heard::Path(path)),
            Ok((None, after)) if after < NO_DIALOG => Some(Heard::NoDialog),
            Ok((None, _)) => Some(Heard::Cancelled),
            Err(TryRecvError::Disconnected) => Some(Heard::NoDialog),
            Err(TryRecvError::Empty) => None,
        }
    }

    /// Whether the person should be offered another way.
    pub fn is_slow(&self) -> bool {
        self.began.elapsed() >= SLOW
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wanted() -> Wanted {
        Wanted {
            title: "Open a plan",
            save: false,
            sort: "Plans",
            endings: &[ROTATION_SUFFIX],
            folder: PathBuf::from("."),
            name: String::new(),
        }
    }

    /// Asks a desktop that answers `path` after a while.
    fn ask(path: Option<&'static str>, after: Duration) -> Heard {
        let asker: Asker = Box::new(move |_| {
            Box::pin(async move {
                thread::sleep(after);
                path.map(PathBuf::from)
            })
        });
        let waiting = Waiting::begin(&asker, &wanted(), Purpose::Open, &Context::default());
        loop {
            if let Some(heard) = waiting.heard() {
                return heard;
            }
            thread::sleep(Duration::from_millis(5));
        }
    }

    #[test]
    fn nothing_at_once_means_that_there_is_no_dialog() {
        assert_eq!(ask(None, Duration::from_millis(10)), Heard::NoDialog);
        assert_eq!(ask(None, NO_DIALOG), Heard::Cancelled);
        assert_eq!(ask(Some("a.rotation.ron"), Duration::ZERO), Heard::Path("a.rotation.ron".into()));
    }
}
