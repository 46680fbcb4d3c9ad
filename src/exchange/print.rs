//! Paper and foreign formats: from the pages of `lists` to bytes that other programs read.
//!
//! Every format is made from the same [`Sheet`]s, so none says more or less than another; the calendar alone is made from the
//! plan and its run sheets. Nothing here reads a clock or a file, and the same plan gives the same bytes.

mod calendar;
mod csv;
mod fonts;
mod html;
mod layout;
mod markdown;
mod pages;
mod pdf;
mod plan;
mod png;
mod svg;

pub use calendar::calendar;
pub use plan::{Paper, PrintedList};

use crate::lists::Sheet;
use std::path::Path;

/// A format, known by the end of a file's name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Portable Document Format, A4.
    Pdf,
    /// One page of HTML with its look inside, for black and white paper.
    Html,
    /// Markdown with tables as GitHub's flavour has them.
    Markdown,
    /// iCalendar (RFC 5545).
    Calendar,
    /// Comma-separated values (RFC 4180).
    Csv,
    /// A drawing of the pages, one below the other.
    Svg,
    /// A picture of the pages, one below the other.
    Png,
}

impl Format {
    /// The format that the end of the name asks for.
    pub fn of(path: &Path) -> Option<Format> {
        let end = path.extension()?.to_str()?.to_ascii_lowercase();
        Some(match end.as_str() {
            "pdf" => Format::Pdf,
            "html" | "htm" => Format::Html,
            "md" => Format::Markdown,
            "ics" => Format::Calendar,
            "csv" => Format::Csv,
            "svg" => Format::Svg,
            "png" => Format::Png,
            _ => return None,
        })
    }

    /// The ends that are known, for what is said of others.
    pub const ENDS: &'static str = "pdf, html, md, ics, csv, svg or png";
}

/// Why paper could not be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PrintError {
    /// More pages than one picture can hold.
    #[error("{pages} pages are too many for one picture; {most} is the most, so write a PDF or fewer lists")]
    TooLong {
        /// How many there are.
        pages: usize,
        /// The most.
        most: usize,
    },
    /// A library gave up.
    #[error("the {what} could not be made: {why}")]
    Failed {
        /// Which format.
        what: &'static str,
        /// The library's reason.
        why: String,
    },
}

/// The sheets in a format. The calendar is made by [`calendar`], not of sheets; asked for it here there is nothing in it.
pub fn print_sheets(sheets: &[Sheet], format: Format) -> Result<Vec<u8>, PrintError> {
    Ok(match format {
        Format::Html => html::html(sheets).into_bytes(),
        Format::Markdown => markdown::markdown(sheets).into_bytes(),
        Format::Csv => csv::csv(sheets)?,
        Format::Svg => svg::svg(&pages::pages(sheets), svg::Lettering::Carried).into_bytes(),
        Format::Pdf => pdf::pdf(sheets, &pages::pages(sheets))?,
        Format::Png => png::png(&pages::pages(sheets))?,
        Format::Calendar => Vec::new(),
    })
}
