//! A saved page as a tree, or a JSON file as text: decoded, and refused by what it is.
//!
//! The page is parsed by a real HTML parser, a few kilobytes at a time; after each bite its depth is looked at, since a page
//! of open tags without end costs the parser time that grows with the square of their number.

use html5ever::{
    ParseOpts, driver,
    tendril::{StrTendril, TendrilSink},
};
use scraper::{ElementRef, Html, HtmlTreeSink};
use std::time::{Duration, Instant};

/// The deepest nesting that is read; real pages stay under 100 (house limit).
pub const MAX_DEPTH: usize = 1_000;
/// How much is parsed between two looks at the depth.
const BITE: usize = 4_096;
/// The longest that parsing may take; a page of 8 MiB takes a few seconds even unoptimised (house limit).
const PATIENCE: Duration = Duration::from_secs(20);

/// Why a file holds no recipe for us. Each sentence goes behind the file's name.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoRecipe {
    /// Zero bytes in it.
    #[error("is no text: it has a zero byte at byte {0}; save the page as HTML or JSON")]
    NotText(usize),
    /// No tags and no JSON.
    #[error("is neither an HTML page nor JSON: save the recipe's page as HTML and name that")]
    NotHtml,
    /// Tags within tags within tags.
    #[error("is nested more than {MAX_DEPTH} tags deep, which no page needs: save the page again")]
    TooDeep,
    /// The parser runs on and on.
    #[error("takes too long to read: save the page of the one recipe, without its scripts")]
    TooSlow,
    /// A .json file that is none.
    #[error("is broken JSON ({0}): save it again")]
    BrokenJson(String),
    /// A page without one.
    #[error("holds no recipe: neither its JSON-LD nor its microdata names a schema.org Recipe{0}")]
    None(String),
    /// A recipe without anything in it.
    #[error("names the recipe \"{0}\" but lists neither ingredients nor steps: save the recipe's own page")]
    Hollow(String),
}

/// What the bytes are.
pub(super) enum Page {
    /// A JSON text.
    Json(String),
    /// A page.
    Html(Box<Html>),
}

/// The page in `bytes`.
pub(super) fn page(bytes: &[u8]) -> Result<Page, NoRecipe> {
    let text = decode(bytes)?;
    let start = text.trim_start();
    if start.starts_with(['{', '[']) {
        return Ok(Page::Json(text));
    }
    if !looks_like_html(&text) {
        return Err(NoRecipe::NotHtml);
    }
    parse(&text).map(|html| Page::Html(Box::new(html)))
}

/// Whether there is one tag in it that a page has.
fn looks_like_html(text: &str) -> bool {
    const TAGS: [&str; 14] =
        ["!doctype", "html", "head", "body", "script", "div", "meta", "article", "section", "main", "p", "span", "ul", "b"];
    text.match_indices('<').any(|(at, _)| {
        let rest = &text[at + 1..];
        let end = rest.find(|c: char| !(c.is_ascii_alphanumeric() || c == '!')).unwrap_or(rest.len()).min(12);
        TAGS.iter().any(|t| rest.get(..end).is_some_and(|r| r.eq_ignore_ascii_case(t)))
    })
}

/// UTF-8, UTF-16 with its mark, or else Windows-1252, which old pages are saved in.
fn decode(bytes: &[u8]) -> Result<String, NoRecipe> {
    let wide = |order: fn([u8; 2]) -> u16| {
        let (pairs, _) = bytes[2..].as_chunks::<2>();
        String::from_utf16_lossy(&pairs.iter().map(|p| order(*p)).collect::<Vec<_>>())
    };
    let text = match bytes {
        [0xFF, 0xFE, ..] => wide(u16::from_le_bytes),
        [0xFE, 0xFF, ..] => wide(u16::from_be_bytes),
        _ => match std::str::from_utf8(bytes) {
            Ok(text) => text.strip_prefix('\u{feff}').unwrap_or(text).to_string(),
            Err(_) => bytes.iter().map(|b| windows_1252(*b)).collect(),
        },
    };
    match text.find('\0') {
        Some(at) => Err(NoRecipe::NotText(at)),
        None => Ok(text),
    }
}

fn windows_1252(byte: u8) -> char {
    const HIGH: [char; 32] = [
        '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}', '‘', '’', '“',
        '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
    ];
    match byte {
        0x80..=0x9F => HIGH[usize::from(byte - 0x80)],
        _ => char::from(byte),
    }
}

fn parse(text: &str) -> Result<Html, NoRecipe> {
    let mut parser = driver::parse_document(HtmlTreeSink::new(Html::new_document()), ParseOpts::default());
    let began = Instant::now();
    let mut rest = text;
    while !rest.is_empty() {
        let mut end = BITE.min(rest.len());
        while !rest.is_char_boundary(end) {
            end += 1;
        }
        let (bite, after) = rest.split_at(end);
        parser.process(StrTendril::from_slice(bite));
        rest = after;
        let depth = {
            let tree = &parser.tokenizer.sink.sink.0.borrow().tree;
            tree.nodes().next_back().map_or(0, |last| last.ancestors().take(MAX_DEPTH + 1).count())
        };
        if depth > MAX_DEPTH {
            return Err(NoRecipe::TooDeep);
        }
        if began.elapsed() > PATIENCE {
            return Err(NoRecipe::TooSlow);
        }
    }
    Ok(parser.finish())
}

/// Every element of the page, in the order of the document's making.
pub(super) fn elements(html: &Html) -> impl Iterator<Item = ElementRef<'_>> {
    html.tree.nodes().filter_map(ElementRef::wrap)
}

/// The texts of all `script` elements that hold JSON-LD.
pub(super) fn json_blocks(html: &Html) -> Vec<String> {
    elements(html)
        .filter(|e| e.value().name() == "script")
        .filter(|e| {
            e.attr("type")
                .is_some_and(|t| t.split(';').next().is_some_and(|t| t.trim().eq_ignore_ascii_case("application/ld+json")))
        })
        .map(|e| e.text().collect())
        .collect()
}
